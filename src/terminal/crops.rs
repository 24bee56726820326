//! The crop cards: all in a table, or one with its year in a garden.

use crate::garden::crop::Crop;
use crate::summary::card::{CardFact, card_summary, facts};
use crate::summary::season::{CropYear, FailureReason, TransplantDay, TransplantOutcome};
use crate::terminal::MAX_COLUMNS;
use crate::terminal::table::{Align, align_columns, pad, truncate, width, wrap};
use crate::terminal::words::{faint, list, strong};
use crate::units::Units;

const MONTH_LETTERS: [&str; 12] = [
    "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
];

/// All cards, a line each.
#[must_use]
pub fn render_crops(cards: &[Crop], units: Units) -> String {
    let heading = ["crop", "habit", "days", "a plant gives", "spread", "called"];
    let mut rows = vec![heading.map(str::to_owned).to_vec()];
    rows.extend(cards.iter().map(|card| {
        let short = card_summary(card, units);
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
        Align::Left,
        Align::Left,
        Align::Right,
        Align::Left,
        Align::Right,
        Align::Left,
    ];
    let table: String = align_columns(&sides, &rows)
        .lines()
        .map(|line| format!("{}\n", truncate(line, MAX_COLUMNS)))
        .collect();
    format!(
        "{table}\nDays: in the nursery + in the hole until ripe, at the card's own temperature and\n\
         light. `steadyleaf crops CROP` tells the days that it takes in your garden.\n"
    )
}

/// One card: its numbers with their sources, its notes, and its `years` in a garden, if any.
#[must_use]
pub fn render_card(card: &Crop, units: Units, years: &[CropYear]) -> String {
    let facts = facts(card, units);
    let mut text = format!(
        "{}, {} ({})\n\n{}",
        strong(&card.key),
        card.name,
        card.botanical,
        numbers(&facts)
    );
    text.push_str(&format!("\n{}\n", strong("Notes")));
    text.push_str(&wrap("  summer: ", "    ", &card.summer, MAX_COLUMNS));
    text.push_str(&wrap("  winter: ", "    ", &card.winter, MAX_COLUMNS));
    for year in years {
        text.push('\n');
        text.push_str(&year_strip(year));
    }
    text
}

/// Facts line by line, each with the number of its source, then the sources.
fn numbers(facts: &[CardFact]) -> String {
    let labels = facts.iter().map(|fact| width(fact.what)).max().unwrap_or(0);
    let beneath = " ".repeat(labels + 4);
    let mut sources: Vec<&str> = Vec::new();
    let mut text = String::new();
    for fact in facts {
        let label = format!("  {}  ", pad(fact.what, Align::Left, labels));
        let mark = fact.source.as_deref().map_or_else(String::new, |source| {
            format!(" [{}]", source_number(source, &mut sources))
        });
        let value = format!("{}{mark}", fact.value);
        text.push_str(&wrap(&label, &beneath, &value, MAX_COLUMNS));
    }
    if !sources.is_empty() {
        text.push_str(&format!("\n{}\n", strong("Sources")));
    }
    for (at, source) in sources.iter().enumerate() {
        let label = format!("  [{}] ", at + 1);
        text.push_str(&wrap(&label, "      ", source, MAX_COLUMNS));
    }
    text
}

/// The number of a source, counted from 1 in the order in which they come.
fn source_number<'a>(source: &'a str, sources: &mut Vec<&'a str>) -> usize {
    if let Some(at) = sources.iter().position(|&s| s == source) {
        return at + 1;
    }
    sources.push(source);
    sources.len()
}

/// The year, a line a month: what comes of a transplant on each of its days.
fn year_strip(year: &CropYear) -> String {
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
            .zip(MONTH_LETTERS)
            .map(|(days, month)| month_row(month, days)),
    );
    let sides = [
        Align::Left,
        Align::Right,
        Align::Right,
        Align::Right,
        Align::Left,
    ];
    let mut text = format!("{}\n{}", strong(&title), align_columns(&sides, &rows));
    text.push_str(&faint(&year_legend(year)));
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

fn month_row(month: &str, days: &[TransplantDay]) -> Vec<String> {
    let mut row = vec![format!("  {month}")];
    row.extend(days.iter().map(|t| match t.outcome {
        TransplantOutcome::Ripens { days, .. } => format!("{days} d"),
        TransplantOutcome::Fails(why) => reason_letter(why).to_owned(),
    }));
    let heat: Vec<String> = days
        .iter()
        .filter_map(|t| match t.outcome {
            TransplantOutcome::Ripens { degree_days, .. } => Some(format!("{degree_days:.0}")),
            TransplantOutcome::Fails(_) => None,
        })
        .collect();
    if !heat.is_empty() {
        row.push(format!("{} degree days", heat.join(", ")));
    }
    row
}

const fn reason_letter(why: FailureReason) -> &'static str {
    match why {
        FailureReason::TooCold => "C",
        FailureReason::TooHot => "H",
        FailureReason::Bolts => "B",
        FailureReason::TooDark => "D",
        FailureReason::NotInTime => "L",
        FailureReason::NobodyThere => "N",
    }
}

const fn month_note(why: FailureReason) -> &'static str {
    match why {
        FailureReason::TooCold => "too cold",
        FailureReason::TooHot => "too hot",
        FailureReason::Bolts => "bolts",
        FailureReason::TooDark => "too dark",
        FailureReason::NotInTime => "not ripe within two years",
        FailureReason::NobodyThere => "spoils before anybody is there",
    }
}

/// What the letters and numbers mean, as far as they occur.
fn year_legend(year: &CropYear) -> String {
    let mut reasons: Vec<FailureReason> = year
        .transplants
        .iter()
        .filter_map(|t| match t.outcome {
            TransplantOutcome::Fails(why) => Some(why),
            TransplantOutcome::Ripens { .. } => None,
        })
        .collect();
    reasons.sort_unstable();
    reasons.dedup();
    let letters = reasons
        .into_iter()
        .map(|why| format!("{} {}", reason_letter(why), month_note(why)));
    let parts: Vec<String> = std::iter::once("  d: days until ripe".to_owned())
        .chain(letters)
        .collect();
    parts.join("   ")
}
