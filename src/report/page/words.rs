//! Every word of the pages, in one place.
//!
//! Names in braces are filled in.

use chrono::{Datelike, NaiveDate};
use serde::Serialize;

/// The words of one language.
#[derive(Debug)]
pub(super) struct Words {
    pub(super) lang: &'static str,
    pub(super) report_title: &'static str,
    pub(super) skip: &'static str,
    pub(super) contents: &'static str,
    pub(super) glance: &'static str,
    pub(super) map_title: &'static str,
    pub(super) no_script: &'static str,
    pub(super) day_shown: &'static str,
    pub(super) week_back: &'static str,
    pub(super) day_back: &'static str,
    pub(super) play: &'static str,
    pub(super) day_on: &'static str,
    pub(super) week_on: &'static str,
    pub(super) go_to: &'static str,
    pub(super) keys: &'static str,
    pub(super) touch_a_hole: &'static str,
    pub(super) legend_due: &'static str,
    pub(super) legend_empty: &'static str,
    pub(super) legend_clean: &'static str,
    pub(super) to_scale: &'static str,
    pub(super) picture_of: &'static str,
    pub(super) from_above: &'static str,
    pub(super) from_front: &'static str,
    pub(super) unrolled: &'static str,
    pub(super) front: &'static str,
    pub(super) floor: &'static str,
    pub(super) face: &'static str,
    pub(super) chores_title: &'static str,
    pub(super) chores_hint: &'static str,
    pub(super) harvest_title: &'static str,
    pub(super) chart_of: &'static str,
    pub(super) table_of: &'static str,
    pub(super) as_table: &'static str,
    pub(super) week: &'static str,
    pub(super) from_monday: &'static str,
    pub(super) wanted: &'static str,
    pub(super) harvested: &'static str,
    pub(super) remark: &'static str,
    pub(super) key_full: &'static str,
    pub(super) key_short: &'static str,
    pub(super) key_wanted: &'static str,
    pub(super) key_rest: &'static str,
    pub(super) stays_title: &'static str,
    pub(super) stays_hint: &'static str,
    pub(super) key_sow: &'static str,
    pub(super) key_transplant: &'static str,
    pub(super) key_cut: &'static str,
    pub(super) key_harvest: &'static str,
    pub(super) key_clean: &'static str,
    pub(super) stays_in: &'static str,
    pub(super) stays_label: &'static str,
    pub(super) stays_table: &'static str,
    pub(super) year_title: &'static str,
    pub(super) days_title: &'static str,
    pub(super) set_out: &'static str,
    pub(super) days_hint: &'static str,
    pub(super) temperature: &'static str,
    pub(super) light: &'static str,
    pub(super) supplies_title: &'static str,
    pub(super) seed_list: &'static str,
    pub(super) crop: &'static str,
    pub(super) seeds: &'static str,
    pub(super) cups: &'static str,
    pub(super) first_sowing: &'static str,
    pub(super) last_sowing: &'static str,
    pub(super) keeps: &'static str,
    pub(super) findings_title: &'static str,
    pub(super) nothing_found: &'static str,
    pub(super) take_care: &'static str,
    pub(super) notes: &'static str,
    pub(super) nothing_to_do: &'static str,
    pub(super) sheet_names: &'static str,
    pub(super) sheet_care: &'static str,
    pub(super) open_holes: &'static str,
    pub(super) of_holes: &'static str,
    pub(super) a_week: &'static str,
    pub(super) met: &'static str,
    pub(super) holes: &'static str,
    pub(super) leanest: &'static str,
    pub(super) no_week_counts: &'static str,
    pub(super) average_told: &'static str,
    pub(super) bound: &'static str,
    pub(super) not_counted: &'static str,
    pub(super) stretch: &'static str,
    pub(super) one_week: &'static str,
    pub(super) many_weeks: &'static str,
    pub(super) one_thing: &'static str,
    pub(super) many_things: &'static str,
    pub(super) week_name: &'static str,
    pub(super) span_told: &'static str,
    pub(super) mixed: &'static str,
    pub(super) once: &'static str,
    pub(super) times: &'static str,
    pub(super) cups_told: &'static str,
    pub(super) rest_before: &'static str,
    pub(super) rest_not_wanted: &'static str,
    pub(super) rest_out: &'static str,
    pub(super) rest_nobody: &'static str,
    pub(super) too_cold: &'static str,
    pub(super) too_hot: &'static str,
    pub(super) bolts: &'static str,
    pub(super) too_dark: &'static str,
    pub(super) not_in_time: &'static str,
    pub(super) nobody: &'static str,
    pub(super) temperature_told: &'static str,
    pub(super) light_told: &'static str,
    pub(super) made_told: &'static str,
    pub(super) map_on: &'static str,
    pub(super) away_told: &'static str,
    pub(super) more_lines: &'static str,
    pub(super) months: [&'static str; 12],
    pub(super) weekdays: [&'static str; 7],
    /// Those that the page's script needs.
    pub(super) script: Script,
}

/// The words of the page's script.
#[derive(Debug, Serialize)]
pub(super) struct Script {
    pub(super) stands: &'static str,
    pub(super) empty: &'static str,
    pub(super) due: &'static str,
    pub(super) for_want: &'static str,
    pub(super) sown: &'static str,
    pub(super) set: &'static str,
    pub(super) grown: &'static str,
    pub(super) wide: &'static str,
    pub(super) next_harvest: &'static str,
    pub(super) out: &'static str,
    pub(super) then: &'static str,
    pub(super) nothing: &'static str,
    pub(super) since: &'static str,
    pub(super) free: &'static str,
    pub(super) ripe: &'static str,
    pub(super) until_day: &'static str,
    pub(super) play: &'static str,
    pub(super) pause: &'static str,
    pub(super) hole: &'static str,
    pub(super) crop: &'static str,
    pub(super) harvests: &'static str,
    pub(super) on_hand: &'static str,
    pub(super) week: &'static str,
    pub(super) date: &'static str,
    /// Short names, January first.
    pub(super) months: [&'static str; 12],
    /// Short names, Monday first.
    pub(super) weekdays: [&'static str; 7],
}

impl Words {
    /// `Wed 7 Apr 2027`.
    pub(super) fn day(&self, day: NaiveDate) -> String {
        let weekday = self.weekdays[day.weekday().num_days_from_monday() as usize];
        fill(
            self.script.date,
            &[
                ("weekday", weekday),
                ("day", &day.day().to_string()),
                ("month", self.months[day.month0() as usize]),
                ("year", &day.year().to_string()),
            ],
        )
    }

    /// `7 Apr`.
    pub(super) fn short_day(&self, day: NaiveDate) -> String {
        format!("{} {}", day.day(), self.months[day.month0() as usize])
    }

    /// `week 14 of 2027`.
    pub(super) fn iso_week(&self, day: NaiveDate) -> String {
        let week = day.iso_week();
        fill(
            self.script.week,
            &[
                ("week", &week.week().to_string()),
                ("year", &week.year().to_string()),
            ],
        )
    }

    /// One of a thing or so many of it.
    pub(super) fn count(n: usize, one: &str, many: &str) -> String {
        if n == 1 {
            one.to_owned()
        } else {
            fill(many, &[("n", &n.to_string())])
        }
    }
}

/// A text with the names in braces filled in, from left to right, each value taken as it is.
pub(super) fn fill(text: &str, values: &[(&str, &str)]) -> String {
    let mut filled = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('{') {
        let Some((name, after)) = after.split_once('}') else {
            break;
        };
        filled.push_str(before);
        let value = values.iter().find(|(known, _)| *known == name);
        filled.push_str(value.map_or("", |(_, value)| value));
        rest = after;
    }
    filled.push_str(rest);
    filled
}

const MONTHS: [&str; 12] = [
    "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
];
const WEEKDAYS: [&str; 7] = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];

/// English.
pub(super) const ENGLISH: Words = Words {
    lang: "en",
    report_title: "The year's plan",
    skip: "To the map",
    contents: "On this page",
    glance: "At a glance",
    map_title: "What stands where",
    no_script: "Moving through the days needs scripts to be allowed for this page; the picture shows one day.",
    day_shown: "Day shown",
    week_back: "A week back",
    day_back: "A day back",
    play: "Play",
    day_on: "A day on",
    week_on: "A week on",
    go_to: "Go to",
    keys: "On the slider: arrow keys go by days, Page Up and Page Down by weeks. On a hole: arrow keys go to the hole beside.",
    touch_a_hole: "Touch a hole to read what stands in it.",
    legend_due: "harvested this week",
    legend_empty: "empty hole",
    legend_clean: "tube scrubbed that day",
    to_scale: "Drawn to scale: every circle is as wide as the plant is on that day.",
    picture_of: "Picture of",
    from_above: "seen from above",
    from_front: "seen from the front",
    unrolled: "unrolled, face beside face",
    front: "front",
    floor: "the floor is below",
    face: "face",
    chores_title: "What to do",
    chores_hint: "Ticks are kept in this browser only, where it allows that.",
    harvest_title: "What you harvest",
    chart_of: "Chart of",
    table_of: "Table of",
    as_table: "Week by week, as a table",
    week: "Week",
    from_monday: "From Monday",
    wanted: "Wanted",
    harvested: "Harvested",
    remark: "Remark",
    key_full: "a week's harvest, all that is wanted",
    key_short: "a week's harvest, less than is wanted",
    key_wanted: "wanted",
    key_rest: "not counted",
    stays_title: "Who has which hole",
    stays_hint: "A row for every hole, from left to right through the weeks. Touch a place in it to see that day on the map.",
    key_sow: "sown in the nursery",
    key_transplant: "set into the hole",
    key_cut: "cut or picked",
    key_harvest: "last harvest, out",
    key_clean: "tube emptied and scrubbed",
    stays_in: "Stays in",
    stays_label: "The same is in the table below.",
    stays_table: "All stays, as a table",
    year_title: "Light, warmth and days to harvest",
    days_title: "Days from transplant to ripe",
    set_out: "Set out about the 11th of",
    days_hint: "A word instead of a number says why a plant set out then comes to nothing.",
    temperature: "Temperature where the plants stand",
    light: "Light that leaves can use",
    supplies_title: "Seed and supplies",
    seed_list: "Seed to have in the house",
    crop: "Crop",
    seeds: "Seeds",
    cups: "Cups",
    first_sowing: "First sown",
    last_sowing: "Last sown",
    keeps: "Keeps",
    findings_title: "Findings and cautions",
    nothing_found: "Nothing stands in the way: every crop that you want fits this rig.",
    take_care: "Take care",
    notes: "Notes",
    nothing_to_do: "Nothing to do this week.",
    sheet_names: "A hole's name is its tube and its number: deck-2-5 is hole 5 of tube deck-2.",
    sheet_care: "Plugs dry, above the water and behind a residual-current device. Gloves and eye protection for acids, bleach and salts; acid into water, never with bleach; all of it locked away from children. A lid on every tank. Clean hands and tools; throw away what smells or looks wrong. Local codes and licensed people come first.",
    open_holes: "holes in use on average, {most} on the fullest day",
    of_holes: "of {all}",
    a_week: "a week on average; {each} wanted",
    met: "{percent} of it met over the weeks that count",
    holes: "Holes",
    leanest: "The leanest week that counts is {week}, with {amount}.",
    no_week_counts: "No week counts.",
    average_told: "{average} a week on average, of {each} wanted; {percent} is met.",
    bound: "All wants together, the plan is at most {gap} % short of the best that any plan could do.",
    not_counted: "Not counted: {stretches}: {why}",
    stretch: "{weeks} from {day}",
    one_week: "1 week",
    many_weeks: "{n} weeks",
    one_thing: "1 thing to do",
    many_things: "{n} things to do",
    week_name: "Week {week}",
    span_told: "{from} to {to}",
    mixed: "{times} a tank of {volume} filled with fresh solution (loop {loop})",
    once: "Once",
    times: "{n} times",
    cups_told: "{n} cups or plugs of growing medium, spares not counted",
    rest_before: "nothing is ripe yet",
    rest_not_wanted: "not wanted",
    rest_out: "out of season",
    rest_nobody: "nobody there",
    too_cold: "cold",
    too_hot: "hot",
    bolts: "seed",
    too_dark: "dark",
    not_in_time: "late",
    nobody: "away",
    temperature_told: "from {low} on the coldest night to {high} on the warmest afternoon, day and night of the usual year",
    light_told: "from {low} to {high} a day",
    made_told: "Made by {maker} for {garden}. It plans; it does not inspect your rig.",
    map_on: "The rig on {day}",
    away_told: "Away from {from} to {to}.",
    more_lines: "and {n} more lines in the report",
    months: MONTHS,
    weekdays: WEEKDAYS,
    script: Script {
        stands: "{hole}: {crop}, {percent} % grown, {wide} wide, out on {out}",
        empty: "{hole}: empty",
        due: "harvested this week",
        for_want: "for {want}",
        sown: "Sown",
        set: "Set out",
        grown: "Grown",
        wide: "Wide",
        next_harvest: "Next harvest",
        out: "Taken out",
        then: "Then",
        nothing: "nothing planned",
        since: "Before",
        free: "Empty on this day.",
        ripe: "ripe",
        until_day: "on {day}",
        play: "Play",
        pause: "Pause",
        hole: "Hole",
        crop: "Crop",
        harvests: "Harvests",
        on_hand: "a seedling on hand",
        week: "week {week} of {year}",
        date: "{weekday} {day} {month} {year}",
        months: MONTHS,
        weekdays: WEEKDAYS,
    },
};
