//! When the grower tends the rig, and the intervals that the plan keeps.

use std::cell::RefCell;

use chrono::{NaiveTime, Weekday};

use crate::garden::bounds;
use crate::garden::{Absence, DeepClean, Spacing, WorkSchedule};
use crate::reader::bounds::Bounds;
use crate::reader::decode::{Fields, KeyedValue, collect_all};
use crate::reader::suggestion::list_with_or;
use crate::text::Language;
use crate::units::{Days, Share};

const WEEK: [Weekday; 7] = [
    Weekday::Mon,
    Weekday::Tue,
    Weekday::Wed,
    Weekday::Thu,
    Weekday::Fri,
    Weekday::Sat,
    Weekday::Sun,
];

/// The rhythm where none is stated: Wednesday and Saturday, a deep clean every half year.
pub(super) fn default_schedule() -> WorkSchedule {
    WorkSchedule {
        workdays: vec![Weekday::Wed, Weekday::Sat],
        absences: Vec::new(),
        remind_at: None,
        alarm: None,
        deep_clean: Some(DEFAULT_DEEP_CLEAN),
        solution_change_interval: Days::days(14.0),
    }
}

const DEFAULT_DEEP_CLEAN: DeepClean = DeepClean {
    interval: Days::days(26.0 * 7.0),
    slack: Days::days(4.0 * 7.0),
};

/// The `rhythm` of a garden.
pub(super) fn read(entry: KeyedValue<'_>) -> Option<WorkSchedule> {
    let usual = default_schedule();
    let f = entry.fields("the rhythm", "rhythm: { workdays: [wed, sat] }")?;
    let workdays = f.optional_or("workdays", usual.workdays, workdays);
    let away = f.optional_or("away", usual.absences, away);
    let remind_at = f.optional("remind_at", time_of_day);
    let alarm = f.optional("alarm", |e| e.quantity(&bounds::ALARM));
    let deep_clean = f.optional_or("deep_clean", usual.deep_clean, deep_clean);
    let change_solution = f.optional_or("change_solution", usual.solution_change_interval, |e| {
        whole_days(e, &bounds::CHANGE_SOLUTION)
    });
    f.finish();
    Some(WorkSchedule {
        workdays: workdays?,
        absences: away?,
        remind_at: remind_at?,
        alarm: alarm?,
        deep_clean: deep_clean?,
        solution_change_interval: change_solution?,
    })
}

fn workdays(entry: KeyedValue<'_>) -> Option<Vec<Weekday>> {
    let seen = RefCell::new(Vec::new());
    let mut days = entry.read_each("workdays: [wed, sat]", |e| {
        let day = weekday(e)?;
        if seen.borrow().contains(&day) {
            return e.reject(
                format!("`{}` is in this list twice", e.as_written()),
                "the second time",
                "once is enough",
            );
        }
        seen.borrow_mut().push(day);
        Some(day)
    })?;
    days.sort_by_key(Weekday::num_days_from_monday);
    Some(days)
}

/// A day of the week, in short or in full, in any language of the program.
fn weekday(entry: KeyedValue<'_>) -> Option<Weekday> {
    let others = Language::all().filter(|language| *language != Language::ENGLISH);
    let (mut words, mut short) = (Vec::new(), Vec::new());
    for language in std::iter::once(Language::ENGLISH).chain(others) {
        let names = WEEK.map(|day| (language.weekday_names(day), day));
        let of_language = names.iter().map(|([short, _], _)| short.to_lowercase());
        short.push(of_language.collect::<Vec<_>>());
        words.extend(
            names
                .into_iter()
                .flat_map(|([short, long], day)| [(short.to_lowercase(), day), (long, day)]),
        );
    }
    let short = short
        .iter()
        .map(|days| list_with_or(days.iter().map(String::as_str)));
    let all = format!(
        "it is one of {}",
        short.collect::<Vec<_>>().join(", or of ")
    );
    let words: Vec<(&str, Weekday)> = words
        .iter()
        .map(|(word, day)| (word.as_str(), *day))
        .collect();
    entry.choice_with_help(&words, &all)
}

fn away(entry: KeyedValue<'_>) -> Option<Vec<Absence>> {
    const EXAMPLE: &str = "- { from: 2027-08-02, until: 2027-08-15 }";
    let seen: RefCell<Vec<Absence>> = RefCell::new(Vec::new());
    let items = entry.items_or_empty(EXAMPLE)?.into_iter().map(|e| {
        let absence = absence(e, EXAMPLE)?;
        let other = seen
            .borrow()
            .iter()
            .copied()
            .find(|o| do_overlap(*o, absence));
        if let Some(other) = other {
            return e.reject(
                "two absences overlap",
                format!("already away from {} until {}", other.from, other.until),
                "make one of the two",
            );
        }
        seen.borrow_mut().push(absence);
        Some(absence)
    });
    let mut absences = collect_all(items)?;
    absences.sort_by_key(|a| a.from);
    Some(absences)
}

fn do_overlap(a: Absence, b: Absence) -> bool {
    a.from <= b.until && b.from <= a.until
}

fn absence(entry: KeyedValue<'_>, example: &str) -> Option<Absence> {
    let f = entry.fields("this absence", example)?;
    let from = f.required("from", "from: 2027-08-02", |e| e.date());
    let until = f.required("until", "until: 2027-08-15", |e| e.date());
    let backwards = from.is_some_and(|from| until.is_some_and(|until| until < from));
    if backwards {
        f.reject(
            "until",
            "this absence ends before it begins",
            "earlier than `from`",
            "`from` is the first day away, `until` the last",
        );
    }
    f.finish();
    (!backwards).then_some(())?;
    Some(Absence {
        from: from?,
        until: until?,
    })
}

fn time_of_day(entry: KeyedValue<'_>) -> Option<NaiveTime> {
    const FORM: &str = "write hours and minutes like `\"08:00\"`, up to `\"23:59\"`";
    let text = entry.text_with_help(FORM)?;
    let time = (text.len() == 5)
        .then(|| NaiveTime::parse_from_str(text, "%H:%M").ok())
        .flatten();
    time.or_else(|| {
        entry.reject(
            format!("`{}` is not a time of day", entry.as_written()),
            "",
            FORM,
        )
    })
}

fn deep_clean(entry: KeyedValue<'_>) -> Option<Option<DeepClean>> {
    if !entry.is_group() {
        return entry.choice(&[("none", ())]).map(|()| None);
    }
    let f = entry.fields("deep cleaning", "deep_clean: { every: 26 weeks }")?;
    let every = f.optional_or("every", DEFAULT_DEEP_CLEAN.interval, |e| {
        whole_days(e, &bounds::CLEAN_EVERY)
    });
    // A short interval leaves less to move in than the usual slack.
    let usual_slack = every.map_or(DEFAULT_DEEP_CLEAN.slack, |every| {
        let most = (every.get() / 4.0).floor();
        Days::days(DEFAULT_DEEP_CLEAN.slack.get().min(most))
    });
    let slack = f.optional_or("slack", usual_slack, |e| {
        whole_days(e, &bounds::CLEAN_SLACK)
    });
    if let (Some(every), Some(slack)) = (every, slack)
        && slack.get() * 2.0 >= every.get()
    {
        f.reject(
            "slack",
            "the slack of deep cleaning is too long for its interval",
            "less than half of `every`",
            format!(
                "`every` is {every}: the slack is less than {}",
                Days::days(every.get() / 2.0)
            ),
        );
    }
    f.finish();
    Some(Some(DeepClean {
        interval: every?,
        slack: slack?,
    }))
}

/// A span of days without a part of one.
fn whole_days(entry: KeyedValue<'_>, within: &Bounds<Days>) -> Option<Days> {
    let days: Days = entry.quantity(within)?;
    if days.get().fract() != 0.0 {
        return entry.reject(
            format!("{} is not a whole number of days", entry.as_written()),
            "",
            "the plan goes by whole days",
        );
    }
    Some(days)
}

/// The spacing where none is stated.
pub(super) fn default_spacing() -> Spacing {
    Spacing {
        neighbours_apart: Days::days(7.0),
        crowding: Share::fraction(0.1),
        changeover: Days::days(0.0),
    }
}

/// The `spacing` of a garden.
pub(super) fn spacing(entry: KeyedValue<'_>) -> Option<Spacing> {
    let usual = default_spacing();
    let f = entry.fields("the spacing", "spacing: { neighbours_apart: 7 days }")?;
    let neighbours_apart = f.optional_or("neighbours_apart", usual.neighbours_apart, |e| {
        whole_days(e, &bounds::NEIGHBOURS_APART)
    });
    let crowding = f.optional_or("crowding", usual.crowding, |e| {
        e.quantity(&bounds::CROWDING)
    });
    let changeover = f.optional_or("changeover", usual.changeover, |e| {
        whole_days(e, &bounds::CHANGEOVER)
    });
    f.finish();
    Some(Spacing {
        neighbours_apart: neighbours_apart?,
        crowding: crowding?,
        changeover: changeover?,
    })
}

/// Tells of reminders at a time of day in no time zone.
pub(super) fn check_timezone(top: &Fields<'_>, rhythm: &WorkSchedule) {
    if rhythm.remind_at.is_some() && !top.has_inside("place", "timezone") {
        top.reject(
            "place",
            "reminders at a time of day need the place's time zone",
            "`timezone` is missing here",
            "add it, for instance `timezone: Europe/Madrid`, or leave out `remind_at`",
        );
    }
}
