//! A week's chores, day by day.

use chrono::{Datelike, Days, NaiveDate};
use unicode_width::UnicodeWidthStr;

use crate::chores::{Chore, Kind};
use crate::garden::Garden;
use crate::messages::words::Texts;
use crate::terminal::MAX_COLUMNS;
use crate::terminal::table::{Align, pad, wrap, wrap_lines};
use crate::terminal::words::{faint, strong};
use crate::week::monday;

/// The fewest columns for the kinds of work.
const MIN_KIND_COLUMNS: usize = 12;
/// In fewer columns than these the kinds are left out: every summary begins with the work.
const MIN_COLUMNS_WITH_KINDS: usize = 60;

/// Those of the chores that fall in the ISO week of `day`.
#[must_use]
pub fn chores_of_week(chores: Vec<Chore>, day: NaiveDate) -> Vec<Chore> {
    let week = day.iso_week();
    chores
        .into_iter()
        .filter(|chore| chore.day.iso_week() == week)
        .collect()
}

/// The chores of the ISO week of `day`, in the garden's language and at most `wide` columns; `chores` are those of that
/// week.
#[must_use]
pub fn render_week(chores: &[Chore], garden: &Garden, day: NaiveDate, wide: usize) -> String {
    let wide = wide.min(MAX_COLUMNS);
    let monday = monday(day);
    let words = &Texts::new(garden.language, garden.units);
    let title = format!("{}, {}", garden.name, words.iso_week(day));
    let days: String = (0..7)
        .map(|after| render_day(chores, monday + Days::new(after), words, wide))
        .collect();
    let days = if days.is_empty() {
        format!("\n{}\n", words.t("nothing-to-do"))
    } else {
        days
    };
    let head = format!("{}\n{}", strong(&title), absences(garden, monday, words));
    format!("{}{days}", wrap_lines(&head, wide))
}

/// Times when nobody is there, as far as they touch the week.
fn absences(garden: &Garden, monday: NaiveDate, words: &Texts) -> String {
    garden
        .rhythm
        .absences_between(monday, monday + Days::new(6))
        .map(|a| {
            let (from, to) = (words.day(a.from), words.day(a.until));
            let told = words.with("away-told", &[("from", &from), ("to", &to)]);
            format!("{told}\n")
        })
        .collect()
}

fn render_day(chores: &[Chore], day: NaiveDate, words: &Texts, wide: usize) -> String {
    let lines: String = chores
        .iter()
        .filter(|chore| chore.day == day)
        .map(|chore| render_chore(chore, words, wide))
        .collect();
    if lines.is_empty() {
        return lines;
    }
    format!("\n{}\n{lines}", strong(&words.day(day)))
}

fn render_chore(chore: &Chore, words: &Texts, wide: usize) -> String {
    let language = words.language();
    let called = Kind::ALL.map(|kind| kind.name(language).width());
    let kinds = called.into_iter().fold(MIN_KIND_COLUMNS, usize::max);
    let (first, beneath) = if wide < MIN_COLUMNS_WITH_KINDS {
        ("  ".to_owned(), "    ".to_owned())
    } else {
        let kind = pad(&chore.kind.name(language), Align::Left, kinds);
        (format!("  {kind}  "), " ".repeat(2 + kinds + 2))
    };
    let mut text = wrap(&first, &beneath, &chore.summary, wide);
    for line in &chore.details {
        for line in wrap(&beneath, &format!("{beneath}  "), line, wide).lines() {
            text.push_str(&faint(line));
            text.push('\n');
        }
    }
    text
}
