//! A week's chores, day by day.

use chrono::{Datelike, Days, NaiveDate};
use unicode_width::UnicodeWidthStr;

use crate::chores::{Chore, Kind};
use crate::garden::Garden;
use crate::messages::words::Words;
use crate::terminal::WIDTH;
use crate::terminal::table::{Side, folded, narrowed, padded};
use crate::terminal::words::{faint, strong};
use crate::week::monday;

/// The fewest columns for the kinds of work.
const KINDS: usize = 12;
/// In fewer columns than these the kinds are left out: every summary begins with the work.
const NARROW: usize = 60;

/// Those of the chores that fall in the ISO week of `day`.
#[must_use]
pub fn of_week(chores: Vec<Chore>, day: NaiveDate) -> Vec<Chore> {
    let week = day.iso_week();
    chores
        .into_iter()
        .filter(|chore| chore.day.iso_week() == week)
        .collect()
}

/// The chores of the ISO week of `day`, in the garden's language and at most `wide` columns; `chores` are those of that
/// week.
#[must_use]
pub fn week(chores: &[Chore], garden: &Garden, day: NaiveDate, wide: usize) -> String {
    let wide = wide.min(WIDTH);
    let monday = monday(day);
    let words = &Words::new(garden.language, garden.units);
    let title = format!("{}, {}", garden.name, words.iso_week(day));
    let days: String = (0..7)
        .map(|after| of_day(chores, monday + Days::new(after), words, wide))
        .collect();
    let days = if days.is_empty() {
        format!("\n{}\n", words.t("nothing-to-do"))
    } else {
        days
    };
    let head = format!("{}\n{}", strong(&title), absences(garden, monday, words));
    format!("{}{days}", narrowed(&head, wide))
}

/// Times when nobody is there, as far as they touch the week.
fn absences(garden: &Garden, monday: NaiveDate, words: &Words) -> String {
    garden
        .rhythm
        .absences(monday, monday + Days::new(6))
        .map(|a| {
            let (from, to) = (words.day(a.from), words.day(a.until));
            let told = words.with("away-told", &[("from", &from), ("to", &to)]);
            format!("{told}\n")
        })
        .collect()
}

fn of_day(chores: &[Chore], day: NaiveDate, words: &Words, wide: usize) -> String {
    let lines: String = chores
        .iter()
        .filter(|chore| chore.day == day)
        .map(|chore| of_chore(chore, words, wide))
        .collect();
    if lines.is_empty() {
        return lines;
    }
    format!("\n{}\n{lines}", strong(&words.day(day)))
}

fn of_chore(chore: &Chore, words: &Words, wide: usize) -> String {
    let language = words.language();
    let called = Kind::ALL.map(|kind| kind.called(language).width());
    let kinds = called.into_iter().fold(KINDS, usize::max);
    let (first, beneath) = if wide < NARROW {
        ("  ".to_owned(), "    ".to_owned())
    } else {
        let kind = padded(&chore.kind.called(language), Side::Left, kinds);
        (format!("  {kind}  "), " ".repeat(2 + kinds + 2))
    };
    let mut text = folded(&first, &beneath, &chore.summary, wide);
    for line in &chore.details {
        for line in folded(&beneath, &format!("{beneath}  "), line, wide).lines() {
            text.push_str(&faint(line));
            text.push('\n');
        }
    }
    text
}
