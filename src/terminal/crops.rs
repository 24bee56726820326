//! The crop cards: all in a table, or one with its year in a garden.

use crate::garden::crop::Crop;
use crate::summary::card::{Fact, facts, in_short};
use crate::summary::season::{Outcome, Reason, Transplant, Year};
use crate::terminal::WIDTH;
use crate::terminal::table::{Side, columns, folded, padded, shortened, width};
use crate::terminal::words::{faint, list, strong};
use crate::units::Units;

const MONTHS: [&str; 12] = [
    "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
];

/// All cards, a line each.
#[must_use]
pub fn crops(cards: &[Crop], units: Units) -> String {
    let heading = ["crop", "habit", "days", "a plant gives", "spread", "called"];
    let mut rows = vec![heading.map(str::to_owned).to_vec()];
    rows.extend(cards.iter().map(|card| {
        let short = in_short(card, units);
        let days = [short.nursery, short.hole].map(|d| d.replace(" days", ""));
        vec![
            short.key,
            short.habit.to_owned(),
            days.join(" + "),
            short.gives,
            short.spread,
            short.called,
        ]
    }));
    let sides = [
        Side::Left,
        Side::Left,
        Side::Right,
        Side::Left,
        Side::Right,
        Side::Left,
    ];
    let table: String = columns(&sides, &rows)
        .lines()
        .map(|line| format!("{}\n", shortened(line, WIDTH)))
        .collect();
    format!(
        "{table}\nDays: in the nursery + in the hole until ripe, at the card's own temperature and\n\
         light. `steadyleaf crops CROP` tells the days that it takes in your garden.\n"
    )
}

/// One card: its numbers with their sources, its notes, and its `years` in a garden, if any.
#[must_use]
pub fn crop(card: &Crop, units: Units, years: &[Year]) -> String {
    let facts = facts(card, units);
    let mut text = format!(
        "{}, {} ({})\n\n{}",
        strong(&card.key),
        card.called,
        card.botanical,
        numbers(&facts)
    );
    text.push_str(&format!("\n{}\n", strong("Notes")));
    text.push_str(&folded("  summer: ", "    ", &card.summer, WIDTH));
    text.push_str(&folded("  winter: ", "    ", &card.winter, WIDTH));
    for year in years {
        text.push('\n');
        text.push_str(&strip(year));
    }
    text
}

/// Facts line by line, each with the number of its source, then the sources.
fn numbers(facts: &[Fact]) -> String {
    let labels = facts.iter().map(|fact| width(fact.what)).max().unwrap_or(0);
    let beneath = " ".repeat(labels + 4);
    let mut sources: Vec<&str> = Vec::new();
    let mut text = String::new();
    for fact in facts {
        let label = format!("  {}  ", padded(fact.what, Side::Left, labels));
        let mark = fact.source.as_deref().map_or_else(String::new, |source| {
            format!(" [{}]", number_of(source, &mut sources))
        });
        let value = format!("{}{mark}", fact.value);
        text.push_str(&folded(&label, &beneath, &value, WIDTH));
    }
    if !sources.is_empty() {
        text.push_str(&format!("\n{}\n", strong("Sources")));
    }
    for (at, source) in sources.iter().enumerate() {
        let label = format!("  [{}] ", at + 1);
        text.push_str(&folded(&label, "      ", source, WIDTH));
    }
    text
}

/// The number of a source, counted from 1 in the order in which they come.
fn number_of<'a>(source: &'a str, sources: &mut Vec<&'a str>) -> usize {
    if let Some(at) = sources.iter().position(|&s| s == source) {
        return at + 1;
    }
    sources.push(source);
    sources.len()
}

/// The year, a line a month: what comes of a transplant on each of its days.
fn strip(year: &Year) -> String {
    let days: Vec<String> = year
        .transplants
        .iter()
        .take(3)
        .map(|t| t.day.format("%-d").to_string())
        .collect();
    let title = format!(
        "In {}, transplanted on the {}:",
        list(&year.banks),
        ordinals(&days)
    );
    let per_month = days.len();
    let mut rows = vec![heading(&days)];
    rows.extend(
        year.transplants
            .chunks(per_month)
            .zip(MONTHS)
            .map(|(days, month)| month_row(month, days)),
    );
    let sides = [
        Side::Left,
        Side::Right,
        Side::Right,
        Side::Right,
        Side::Left,
    ];
    let mut text = format!("{}\n{}", strong(&title), columns(&sides, &rows));
    text.push_str(&faint(&key(year)));
    text.push('\n');
    text
}

fn ordinals(days: &[String]) -> String {
    let said: Vec<String> = days
        .iter()
        .map(|day| match day.as_str() {
            "1" | "21" => format!("{day}st"),
            other => format!("{other}th"),
        })
        .collect();
    list(&said)
}

fn heading(days: &[String]) -> Vec<String> {
    let mut row = vec![String::new()];
    row.extend(days.iter().cloned());
    row.push("heat until ripe".to_owned());
    row
}

fn month_row(month: &str, days: &[Transplant]) -> Vec<String> {
    let mut row = vec![format!("  {month}")];
    row.extend(days.iter().map(|t| match t.outcome {
        Outcome::Ripens { days, .. } => format!("{days} d"),
        Outcome::Fails(why) => letter(why).to_owned(),
    }));
    let heat: Vec<String> = days
        .iter()
        .filter_map(|t| match t.outcome {
            Outcome::Ripens { degree_days, .. } => Some(format!("{degree_days:.0}")),
            Outcome::Fails(_) => None,
        })
        .collect();
    if !heat.is_empty() {
        row.push(format!("{} degree days", heat.join(", ")));
    }
    row
}

const fn letter(why: Reason) -> &'static str {
    match why {
        Reason::TooCold => "C",
        Reason::TooHot => "H",
        Reason::Bolts => "B",
        Reason::TooDark => "D",
        Reason::NotInTime => "L",
        Reason::NobodyThere => "N",
    }
}

const fn told(why: Reason) -> &'static str {
    match why {
        Reason::TooCold => "too cold",
        Reason::TooHot => "too hot",
        Reason::Bolts => "bolts",
        Reason::TooDark => "too dark",
        Reason::NotInTime => "not ripe within two years",
        Reason::NobodyThere => "spoils before anybody is there",
    }
}

/// What the letters and numbers mean, as far as they occur.
fn key(year: &Year) -> String {
    let mut reasons: Vec<Reason> = year
        .transplants
        .iter()
        .filter_map(|t| match t.outcome {
            Outcome::Fails(why) => Some(why),
            Outcome::Ripens { .. } => None,
        })
        .collect();
    reasons.sort_unstable();
    reasons.dedup();
    let letters = reasons
        .into_iter()
        .map(|why| format!("{} {}", letter(why), told(why)));
    let parts: Vec<String> = std::iter::once("  d: days until ripe".to_owned())
        .chain(letters)
        .collect();
    parts.join("   ")
}
