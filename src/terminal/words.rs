//! How numbers, days and lists are said.

use anstyle::{AnsiColor, Style};
use chrono::NaiveDate;

use crate::garden::Garden;
use crate::text::Language;
use crate::units::{Amount, Measure, Units};

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

/// So much of a want, its unit written as in the plan (`heads` or `g`).
pub fn amount(number: f64, unit: &str, units: Units) -> String {
    let measure = if unit == Measure::Heads.symbol() {
        Measure::Heads
    } else {
        Measure::Grams
    };
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let milli = (number * 1000.0).round().max(0.0) as u64;
    Amount::new(measure, milli).in_units(units)
}

/// `98 %`, rounded down, so that only all of it is told as `100 %`.
pub fn percent(share: f64) -> String {
    format!("{:.0} %", (share * 100.0 + 1e-9).floor())
}

/// What people call a crop, or its key where the garden has no card of it.
pub fn crop_name<'a>(garden: &'a Garden, key: &'a str) -> &'a str {
    garden.crop(key).map_or(key, |crop| &crop.called)
}
