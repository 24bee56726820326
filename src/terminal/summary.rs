//! What `plan` prints.

use std::path::PathBuf;

use crate::garden::Garden;
use crate::messages;
use crate::messages::words::Texts;
use crate::plan::ExcludedWeek;
use crate::summary::figures::{ExcludedWeeks, PlanSummary, WantFigures, WeekFigures};
use crate::terminal::table::{Align, align_columns, wrap};
use crate::terminal::words::{
    amount, count, crop_name, faint, list, long_date, percent, short_date, strong, warning,
};
use crate::terminal::{MAX_COLUMNS, water};
use crate::units::Units;

/// Weeks in one row of marks: a year.
const WEEKS_PER_ROW: usize = 52;

/// The summary, and the files that were made.
#[must_use]
pub fn render_summary(summary: &PlanSummary, garden: &Garden, made: &[PathBuf]) -> String {
    let parts = [
        head(summary),
        wants(summary, garden),
        weekly_series(summary),
        changeovers(summary, garden),
        excluded_weeks(summary),
        shortages(summary, garden.units),
        holes(summary),
        water::render_water(&summary.water, garden),
        infeasibilities(summary, garden),
        files(made),
    ];
    let parts: Vec<String> = parts.into_iter().filter(|p| !p.is_empty()).collect();
    parts.join("\n")
}

fn head(summary: &PlanSummary) -> String {
    format!(
        "{}\n{} from {} to {}\n",
        strong(&summary.garden),
        count(summary.weeks as usize, "week", "weeks"),
        long_date(summary.start),
        long_date(summary.last),
    )
}

fn wants(summary: &PlanSummary, garden: &Garden) -> String {
    let heading = ["want", "wanted a week", "on average", "leanest week", "met"];
    let mut rows = vec![heading.map(str::to_owned).to_vec()];
    rows.extend(summary.wants.iter().map(|want| {
        let said = |number| amount(number, &want.unit, garden.units);
        let none = || "-".to_owned();
        vec![
            want.want.clone(),
            said(want.each_week),
            want.average.map_or_else(none, said),
            want.worst.as_ref().map_or_else(none, |worst| {
                format!(
                    "{} from {}",
                    said(worst.delivered),
                    short_date(worst.monday)
                )
            }),
            want.met.map_or_else(none, percent),
        ]
    }));
    let sides = [
        Align::Left,
        Align::Right,
        Align::Right,
        Align::Right,
        Align::Right,
    ];
    align_columns(&sides, &rows)
}

fn weekly_series(summary: &PlanSummary) -> String {
    let mut rows = Vec::new();
    for want in &summary.wants {
        for (row, weeks) in want.course.chunks(WEEKS_PER_ROW).enumerate() {
            let name = if row == 0 { want.want.as_str() } else { "" };
            rows.push(vec![name.to_owned(), weeks.iter().map(mark).collect()]);
        }
    }
    let marks = "A mark a week: █ all that is wanted, ▁▂▃▄▅▆▇ a part, _ nothing, · left out.";
    format!(
        "{}{}\n",
        align_columns(&[Align::Left, Align::Left], &rows),
        faint(marks)
    )
}

fn mark(week: &WeekFigures) -> char {
    const MARK_EIGHTHS: [char; 8] = ['▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];
    match week.share {
        None => '·',
        Some(share) if share <= 0.0 => '_',
        Some(share) => {
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            let part = (share * 8.0 + 1e-9).floor() as usize;
            MARK_EIGHTHS[part.clamp(1, 8) - 1]
        }
    }
}

fn changeovers(summary: &PlanSummary, garden: &Garden) -> String {
    let lines: String = summary
        .turns
        .iter()
        .map(|turn| {
            let (from, to) = (crop_name(garden, &turn.from), crop_name(garden, &turn.to));
            let (last, first) = (short_date(turn.last), short_date(turn.first));
            let text = format!(
                "{}: last {from} on {last}, first {to} on {first}.",
                turn.want
            );
            wrap("  ", "    ", &text, MAX_COLUMNS)
        })
        .collect();
    if lines.is_empty() {
        return lines;
    }
    format!("{}\n{lines}", strong("Crop changeovers"))
}

fn excluded_weeks(summary: &PlanSummary) -> String {
    let lines: String = summary.wants.iter().map(excluded_weeks_of).collect();
    if lines.is_empty() {
        return lines;
    }
    format!("{}\n{lines}", strong("Weeks left out"))
}

fn excluded_weeks_of(want: &WantFigures) -> String {
    const REASONS: [ExcludedWeek; 5] = [
        ExcludedWeek::BeforeFirstHarvest,
        ExcludedWeek::NotWanted,
        ExcludedWeek::OutOfSeason,
        ExcludedWeek::NobodyThere,
        ExcludedWeek::NobodyToPlant,
    ];
    let lines: String = REASONS
        .into_iter()
        .filter_map(|why| excluded_line(&want.not_counted, why))
        .collect();
    if lines.is_empty() {
        return lines;
    }
    format!("  {}\n{lines}", want.want)
}

fn excluded_line(stretches: &[ExcludedWeeks], why: ExcludedWeek) -> Option<String> {
    let said: Vec<String> = stretches
        .iter()
        .filter(|s| s.why == why)
        .map(|s| {
            let weeks = count(s.weeks, "week", "weeks");
            format!("{weeks} from {}", short_date(s.from))
        })
        .collect();
    let text = format!("{}: {}", list(&said), exclusion_reason(why));
    (!said.is_empty()).then(|| wrap("    ", "      ", &text, MAX_COLUMNS))
}

fn exclusion_reason(why: ExcludedWeek) -> &'static str {
    match why {
        ExcludedWeek::BeforeFirstHarvest => {
            "nothing sown from the plan's first day on can be ripe yet."
        }
        ExcludedWeek::NotWanted => "you do not want any then.",
        ExcludedWeek::OutOfSeason => "none of its crops can come ripe then.",
        ExcludedWeek::NobodyThere => "nobody is there to harvest.",
        ExcludedWeek::NobodyToPlant => "you are away when it would have to be sown or set out.",
    }
}

fn indented(lines: &[String]) -> String {
    let lines = lines.iter();
    lines
        .map(|line| wrap("  ", "    ", line, MAX_COLUMNS))
        .collect()
}

fn shortages(summary: &PlanSummary, units: Units) -> String {
    let lines = indented(&messages::shortages::shortages(
        summary,
        &Texts::english(units),
    ));
    let help = advice(summary, units);
    match (lines.is_empty(), help.is_empty()) {
        (true, true) => String::new(),
        (true, false) => help.trim_start().to_owned(),
        _ => format!("{}\n{lines}{help}", warning("Not all that is wanted")),
    }
}

fn advice(summary: &PlanSummary, units: Units) -> String {
    let lines = indented(&messages::shortages::advice(
        summary,
        &Texts::english(units),
    ));
    if lines.is_empty() {
        return lines;
    }
    format!(
        "\n{}\n{lines}",
        strong("What would help, planned again to see")
    )
}

fn holes(summary: &PlanSummary) -> String {
    let holes = summary.holes;
    let mut text = format!(
        "{} {:.0} of {} on average, {} on the fullest day.\n",
        strong("Holes in use:"),
        holes.mean,
        holes.all,
        holes.most,
    );
    if let Some(gap) = summary.gap_percent {
        text.push_str(&format!(
            "{} within {gap:.1} % of the best possible.\n",
            strong("Plan quality:")
        ));
    }
    text
}

fn infeasibilities(summary: &PlanSummary, garden: &Garden) -> String {
    if summary.does_not_fit.is_empty() {
        return String::new();
    }
    let words = Texts::english(garden.units);
    let misfits = summary.does_not_fit.iter();
    let lines: Vec<String> = misfits
        .map(|misfit| messages::infeasible::infeasibility(misfit, garden, &words))
        .collect();
    let lines = indented(&lines);
    format!("{}\n{lines}", strong("What does not fit"))
}

fn files(made: &[PathBuf]) -> String {
    if made.is_empty() {
        return String::new();
    }
    let names = made.iter().map(|path| format!("  {}\n", path.display()));
    format!(
        "{}\n{}\nOpen the .ics file with your calendar app. `steadyleaf week` tells a week's\nchores, `steadyleaf map` draws the rig.\n",
        strong("Files written"),
        names.collect::<String>(),
    )
}
