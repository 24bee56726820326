//! How numbers, days and lists are said.

use anstyle::{AnsiColor, Style};
use chrono::NaiveDate;

pub use crate::messages::words::{amount, crop_name, percent};
use crate::text::Language;

const STRONG: Style = Style::new().bold();
const FAINT: Style = Style::new().dimmed();
const WARNING: Style = AnsiColor::Yellow.on_default();

/// A heading, or the word that matters.
pub fn strong(text: &str) -> String {
    styled(STRONG, text)
}

/// What may be overlooked.
pub fn faint(text: &str) -> String {
    styled(FAINT, text)
}

/// What should not be overlooked.
pub fn warning(text: &str) -> String {
    styled(WARNING, text)
}

fn styled(style: Style, text: &str) -> String {
    format!("{style}{text}{style:#}")
}

/// `Mon 1 Mar 2027`.
pub fn long_date(day: NaiveDate) -> String {
    day.format("%a %-d %b %Y").to_string()
}

/// `1 Mar`.
pub fn short_date(day: NaiveDate) -> String {
    day.format("%-d %b").to_string()
}

/// `1 week`, `3 weeks`.
pub fn count(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}

/// `a`, `a and b`, `a, b and c`.
pub fn list(items: &[String]) -> String {
    Language::ENGLISH.list(items)
}
