//! What `plan` prints.

use std::path::PathBuf;

use crate::garden::Garden;
use crate::messages;
use crate::messages::words::Words;
use crate::plan::NotCounted;
use crate::summary::figures::{Stretch, Summary, WantFigures, Week};
use crate::terminal::table::{Side, columns, folded};
use crate::terminal::words::{
    amount, called, count, faint, list, long_date, percent, short_date, strong, warning,
};
use crate::terminal::{WIDTH, water};
use crate::units::Units;

/// Weeks in one row of marks: a year.
const WEEKS_A_ROW: usize = 52;

/// The summary, and the files that were made.
#[must_use]
pub fn summary(summary: &Summary, garden: &Garden, made: &[PathBuf]) -> String {
    let parts = [
        head(summary),
        wants(summary, garden),
        courses(summary),
        turns(summary, garden),
        not_counted(summary),
        shortages(summary, garden.units),
        holes(summary),
        water::water(&summary.water, garden),
        misfits(summary, garden),
        files(made),
    ];
    let parts: Vec<String> = parts.into_iter().filter(|p| !p.is_empty()).collect();
    parts.join("\n")
}

fn head(summary: &Summary) -> String {
    format!(
        "{}\n{} from {} to {}\n",
        strong(&summary.garden),
        count(summary.weeks as usize, "week", "weeks"),
        long_date(summary.start),
        long_date(summary.last),
    )
}

fn wants(summary: &Summary, garden: &Garden) -> String {
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
        Side::Left,
        Side::Right,
        Side::Right,
        Side::Right,
        Side::Right,
    ];
    columns(&sides, &rows)
}

fn courses(summary: &Summary) -> String {
    let mut rows = Vec::new();
    for want in &summary.wants {
        for (row, weeks) in want.course.chunks(WEEKS_A_ROW).enumerate() {
            let name = if row == 0 { want.want.as_str() } else { "" };
            rows.push(vec![name.to_owned(), weeks.iter().map(mark).collect()]);
        }
    }
    let marks = "A mark a week: █ all that is wanted, ▁▂▃▄▅▆▇ a part, _ nothing, · not counted.";
    format!(
        "{}{}\n",
        columns(&[Side::Left, Side::Left], &rows),
        faint(marks)
    )
}

fn mark(week: &Week) -> char {
    const PARTS: [char; 8] = ['▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];
    match week.share {
        None => '·',
        Some(share) if share <= 0.0 => '_',
        Some(share) => {
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            let part = (share * 8.0 + 1e-9).floor() as usize;
            PARTS[part.clamp(1, 8) - 1]
        }
    }
}

fn turns(summary: &Summary, garden: &Garden) -> String {
    let lines: String = summary
        .turns
        .iter()
        .map(|turn| {
            let (from, to) = (called(garden, &turn.from), called(garden, &turn.to));
            let (last, first) = (short_date(turn.last), short_date(turn.first));
            let text = format!(
                "{}: last {from} on {last}, first {to} on {first}.",
                turn.want
            );
            folded("  ", "    ", &text, WIDTH)
        })
        .collect();
    if lines.is_empty() {
        return lines;
    }
    format!("{}\n{lines}", strong("Season turns"))
}

fn not_counted(summary: &Summary) -> String {
    let lines: String = summary.wants.iter().map(not_counted_of).collect();
    if lines.is_empty() {
        return lines;
    }
    format!("{}\n{lines}", strong("Weeks that do not count"))
}

fn not_counted_of(want: &WantFigures) -> String {
    const REASONS: [NotCounted; 5] = [
        NotCounted::BeforeFirstHarvest,
        NotCounted::NotWanted,
        NotCounted::OutOfSeason,
        NotCounted::NobodyThere,
        NotCounted::NobodyToPlant,
    ];
    let lines: String = REASONS
        .into_iter()
        .filter_map(|why| not_counted_line(&want.not_counted, why))
        .collect();
    if lines.is_empty() {
        return lines;
    }
    format!("  {}\n{lines}", want.want)
}

fn not_counted_line(stretches: &[Stretch], why: NotCounted) -> Option<String> {
    let said: Vec<String> = stretches
        .iter()
        .filter(|s| s.why == why)
        .map(|s| {
            let weeks = count(s.weeks, "week", "weeks");
            format!("{weeks} from {}", short_date(s.from))
        })
        .collect();
    let text = format!("{}: {}", list(&said), why_not_counted(why));
    (!said.is_empty()).then(|| folded("    ", "      ", &text, WIDTH))
}

fn why_not_counted(why: NotCounted) -> &'static str {
    match why {
        NotCounted::BeforeFirstHarvest => {
            "nothing sown from the plan's first day on can be ripe yet."
        }
        NotCounted::NotWanted => "you do not want any then.",
        NotCounted::OutOfSeason => "none of its crops can come ripe then.",
        NotCounted::NobodyThere => "nobody is there to harvest.",
        NotCounted::NobodyToPlant => "you are away when it would have to be sown or set out.",
    }
}

fn indented(lines: &[String]) -> String {
    let lines = lines.iter();
    lines
        .map(|line| folded("  ", "    ", line, WIDTH))
        .collect()
}

fn shortages(summary: &Summary, units: Units) -> String {
    let lines = indented(&messages::shortages::shortages(
        summary,
        &Words::english(units),
    ));
    let help = would_help(summary, units);
    match (lines.is_empty(), help.is_empty()) {
        (true, true) => String::new(),
        (true, false) => help.trim_start().to_owned(),
        _ => format!("{}\n{lines}{help}", warning("Not all that is wanted")),
    }
}

fn would_help(summary: &Summary, units: Units) -> String {
    let lines = indented(&messages::shortages::help(summary, &Words::english(units)));
    if lines.is_empty() {
        return lines;
    }
    format!(
        "\n{}\n{lines}",
        strong("What would help, planned again to see")
    )
}

fn holes(summary: &Summary) -> String {
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
            "{} at most {gap:.1} % short of the best that any plan could do.\n",
            strong("How good:")
        ));
    }
    text
}

fn misfits(summary: &Summary, garden: &Garden) -> String {
    if summary.does_not_fit.is_empty() {
        return String::new();
    }
    let words = Words::english(garden.units);
    let misfits = summary.does_not_fit.iter();
    let lines: Vec<String> = misfits
        .map(|misfit| messages::misfits::misfit(misfit, garden, &words))
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
        strong("Made"),
        names.collect::<String>(),
    )
}
