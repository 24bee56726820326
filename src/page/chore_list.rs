//! Chores week by week, as the pages show them.

use chrono::{Days, NaiveDate};

use crate::chores::Chore;
use crate::messages::words::Texts;
use crate::week::monday;

/// The chores of a week.
#[derive(Debug)]
pub(super) struct WeekPart {
    pub(super) name: String,
    pub(super) dates: String,
    pub(crate) count: String,
    /// Its Monday, as days from the plan's start.
    pub(super) from: i64,
    /// It is the one to begin with.
    pub(super) open: bool,
    pub(super) days: Vec<DayPart>,
}

/// The chores of a day.
#[derive(Debug)]
pub(super) struct DayPart {
    pub(super) name: String,
    pub(super) chores: Vec<ChoreItem>,
}

/// One chore.
#[derive(Debug)]
pub(super) struct ChoreItem {
    /// The day and the kind: there is one of a kind on a day.
    pub(super) id: String,
    pub(super) summary: String,
    pub(super) lines: Vec<String>,
}

/// Every week that has chores; the one that holds `open` is open.
pub(super) fn weeks(
    chores: &[Chore],
    start: NaiveDate,
    open: NaiveDate,
    words: &Texts,
) -> Vec<WeekPart> {
    chores
        .chunk_by(|a, b| monday(a.day) == monday(b.day))
        .map(|week| {
            let from = monday(week[0].day);
            WeekPart {
                name: words.with("week-name", &[("week", &iso_week(from))]),
                dates: dates(from, words),
                count: words.count("things", week.len()),
                from: (from - start).num_days(),
                open: from == monday(open),
                days: days(week, words),
            }
        })
        .collect()
}

fn iso_week(day: NaiveDate) -> String {
    use chrono::Datelike;
    day.iso_week().week().to_string()
}

/// From Monday to Sunday.
pub(super) fn dates(monday: NaiveDate, words: &Texts) -> String {
    let sunday = monday + Days::new(6);
    words.with(
        "span-told",
        &[
            ("from", &words.short_day(monday)),
            (
                "to",
                &format!("{} {}", words.short_day(sunday), year(sunday)),
            ),
        ],
    )
}

fn year(day: NaiveDate) -> i32 {
    use chrono::Datelike;
    day.year()
}

/// Day by day.
pub(super) fn days(chores: &[Chore], words: &Texts) -> Vec<DayPart> {
    chores
        .chunk_by(|a, b| a.day == b.day)
        .map(|day| DayPart {
            name: words.day(day[0].day),
            chores: day.iter().map(item).collect(),
        })
        .collect()
}

fn item(chore: &Chore) -> ChoreItem {
    ChoreItem {
        id: format!("{}-{}", chore.day, chore.kind.key()),
        summary: chore.summary.clone(),
        lines: chore.details.clone(),
    }
}
