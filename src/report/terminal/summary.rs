//! What `plan` prints.

use std::path::PathBuf;

use chrono::NaiveDate;

use super::table::{Side, columns, folded};
use super::words::{
    amount, called, count, faint, list, long_date, percent, short_date, strong, warning,
};
use super::{WIDTH, water};
use crate::garden::Garden;
use crate::garden::crop::Crop;
use crate::plan::{Change, NotCounted};
use crate::planner::binding::Limit;
use crate::quantity::{Length, Units};
use crate::report::figures::{ShortWeeks, Stretch, Summary, WantFigures, Week};
use crate::report::fit::{Misfit, SolutionPart};
use crate::report::season::Reason;

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
        water::water(&summary.water, garden.units),
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
    const REASONS: [NotCounted; 4] = [
        NotCounted::BeforeFirstHarvest,
        NotCounted::NotWanted,
        NotCounted::OutOfSeason,
        NotCounted::NobodyThere,
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
        NotCounted::BeforeFirstHarvest => "nothing sown since the start can be ripe yet.",
        NotCounted::NotWanted => "you do not want any then.",
        NotCounted::OutOfSeason => "none of its crops can come ripe then.",
        NotCounted::NobodyThere => "nobody is there to harvest.",
    }
}

fn indented(lines: &[String]) -> String {
    let lines = lines.iter();
    lines
        .map(|line| folded("  ", "    ", line, WIDTH))
        .collect()
}

fn shortages(summary: &Summary, units: Units) -> String {
    let lines = indented(&shortage_lines(summary, units));
    let help = would_help(summary, units);
    match (lines.is_empty(), help.is_empty()) {
        (true, true) => String::new(),
        (true, false) => help.trim_start().to_owned(),
        _ => format!("{}\n{lines}{help}", warning("Not all that is wanted")),
    }
}

/// Every want that falls short, and why, in a sentence or two.
pub(in crate::report) fn shortage_lines(summary: &Summary, units: Units) -> Vec<String> {
    summary
        .wants
        .iter()
        .filter(|want| !want.short.is_empty())
        .filter_map(|want| Some((want, want.met?)))
        .map(|(want, met)| {
            let name = &want.want;
            let short = short_weeks(&want.short);
            let mut text = format!("{name}: {} of it is met. {short}", percent(met));
            if let Some(most) = &want.most {
                text.push_str(&format!(
                    " The most this rig could give in {}, were everything else given up for it, is {} a week.",
                    month(&most.month),
                    amount(most.each_week, &want.unit, units),
                ));
            }
            text
        })
        .collect()
}

fn would_help(summary: &Summary, units: Units) -> String {
    let lines = indented(&help_lines(summary, units));
    if lines.is_empty() {
        return lines;
    }
    format!(
        "\n{}\n{lines}",
        strong("What would help, planned again to see")
    )
}

/// The changes that would bring most, each with what it brings.
pub(in crate::report) fn help_lines(summary: &Summary, units: Units) -> Vec<String> {
    summary
        .would_help
        .iter()
        .take(3)
        .map(|help| {
            let gains: Vec<String> = help
                .gains
                .iter()
                .map(|gain| {
                    let unit = summary.wants.iter().find(|w| w.want == gain.want);
                    let each = amount(gain.each_week.abs(), unit.map_or("", |w| &w.unit), units);
                    let way = if gain.each_week < 0.0 { "less" } else { "more" };
                    format!("{each} {way} of {} a week", gain.want)
                })
                .collect();
            format!("{}: {}.", change(&help.change), list(&gains))
        })
        .collect()
}

fn change(change: &Change) -> String {
    match change {
        Change::Tube { like, holes } => {
            format!(
                "one more tube like {like}, of {}",
                count(*holes, "hole", "holes")
            )
        }
        Change::Nursery { cells } => {
            let cells = usize::try_from(*cells).unwrap_or(usize::MAX);
            format!("{} more in the nursery", count(cells, "cell", "cells"))
        }
        Change::Cleaning { days } => {
            format!("tubes scrubbed up to {days} days sooner or later than the garden allows")
        }
        Change::Crop { want, crop } => format!("{crop} as another crop for {want}"),
    }
}

/// A month as people say it, from `2027-02`.
fn month(name: &str) -> String {
    NaiveDate::parse_from_str(&format!("{name}-01"), "%Y-%m-%d")
        .map_or_else(|_| name.to_owned(), |day| day.format("%B %Y").to_string())
}

/// Short weeks and what stands in the way of more in them, as in "in 3 of 8 short weeks all holes
/// are taken; in 5 ...".
fn short_weeks(short: &[ShortWeeks]) -> String {
    let all: usize = short.iter().map(|s| s.weeks).sum();
    let (first, rest) = match short {
        [] => return String::new(),
        [only] => {
            return format!(
                "In {} {}.",
                count(all, "short week", "short weeks"),
                why(only.limit)
            );
        }
        [first, rest @ ..] => (first, rest),
    };
    let rest = rest
        .iter()
        .map(|s| format!("; in {} {}", s.weeks, why(s.limit)));
    format!(
        "In {} of {} {}{}.",
        first.weeks,
        count(all, "short week", "short weeks"),
        why(first.limit),
        rest.collect::<String>()
    )
}

const fn why(limit: Option<Limit>) -> &'static str {
    match limit {
        Some(Limit::Holes) => "all holes are taken",
        Some(Limit::AnotherWant) => "the holes are taken, mostly for other wants",
        Some(Limit::Nursery) => "holes are free, but no cells in the nursery",
        Some(Limit::Space) => "holes are free, but the plants beside leave no room",
        Some(Limit::Cleaning) => "holes are free but for the scrubbing of their tubes",
        Some(Limit::Season) => "the time of year leaves few days to set its plants out",
        Some(Limit::Absence) => "you are away when its plants would have to be sown or set out",
        None => "one plant more would not be worth it",
    }
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
    let lines: String = summary
        .does_not_fit
        .iter()
        .map(|misfit| folded("  ", "    ", &misfit_line(misfit, garden), WIDTH))
        .collect();
    format!("{}\n{lines}", strong("What does not fit"))
}

/// What does not fit, in a sentence.
pub(in crate::report) fn misfit_line(misfit: &Misfit, garden: &Garden) -> String {
    let length = |metres| Length::metres(metres).in_units(garden.units);
    match misfit {
        Misfit::TooTall {
            crop,
            height,
            bank,
            headroom,
            holes,
            of,
        } => {
            let which = if holes == of {
                "none of its holes takes one".to_owned()
            } else {
                format!("{holes} of its {of} holes do not take one")
            };
            format!(
                "{crop} in {bank}: it grows {} tall and there are {} above; {which}.",
                length(*height),
                length(*headroom),
            )
        }
        Misfit::NeverInSeason { crop, bank, why } => {
            format!(
                "{crop} in {bank}: {}.",
                why.map_or("its seedlings are never ready in time", why_never)
            )
        }
        Misfit::NothingFor { want } => {
            format!("{want}: none of its crops can be grown here as the garden stands.")
        }
        Misfit::SolutionsDiffer { crops: (a, b), by } => {
            let differ: Vec<String> = by
                .iter()
                .filter_map(|&part| {
                    Some(format!(
                        "{} and {}",
                        band(garden.crop(a)?, part),
                        band(garden.crop(b)?, part)
                    ))
                })
                .collect();
            format!(
                "{a} and {b}: they ask for {}, so they never stand in one loop together.",
                list(&differ)
            )
        }
    }
}

/// What a crop asks of a solution.
fn band(crop: &Crop, part: SolutionPart) -> String {
    let solution = &crop.solution;
    match part {
        SolutionPart::Ec => format!("EC {}-{}", solution.ec.0.get(), solution.ec.1.get()),
        SolutionPart::Ph => format!("pH {}-{}", solution.ph.0, solution.ph.1),
    }
}

fn why_never(why: Reason) -> &'static str {
    match why {
        Reason::TooCold => "too cold whenever you could plant it",
        Reason::TooHot => "too hot whenever you could plant it",
        Reason::Bolts => "it would run to seed whenever you could plant it",
        Reason::TooDark => "too dark whenever you could plant it",
        Reason::NotInTime => "it would not be ripe before the plan ends",
        Reason::NobodyThere => "it would spoil before anybody is there to take it",
    }
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
