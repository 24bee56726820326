//! Weeks from Monday to Sunday, numbered as ISO 8601 does.

use chrono::{Datelike, Days, NaiveDate};

/// The Monday of the week that holds a date.
#[must_use]
pub fn monday(date: NaiveDate) -> NaiveDate {
    date - Days::new(u64::from(date.weekday().num_days_from_monday()))
}

/// How many weeks after the week that holds `start` the week of `date` comes; negative before.
#[must_use]
pub fn index(start: NaiveDate, date: NaiveDate) -> i64 {
    (monday(date) - monday(start)).num_days() / 7
}

/// The month that a week belongs to, such as `2027-02`: that of its Thursday, as ISO 8601 has it
/// with years.
#[must_use]
pub fn month(monday: NaiveDate) -> String {
    let thursday = monday + Days::new(3);
    format!("{}-{:02}", thursday.year(), thursday.month())
}

/// The ISO week of a date, such as `2027-W09`.
#[must_use]
pub fn name(date: NaiveDate) -> String {
    let week = date.iso_week();
    format!("{}-W{:02}", week.year(), week.week())
}

/// A day as people type it in a command: `2027-05-03`.
///
/// # Errors
/// How a day is written.
pub fn parse_date(text: &str) -> Result<NaiveDate, String> {
    text.parse().map_err(|_| {
        "a day is written year-month-day, such as 2027-05-03, and must be in the calendar"
            .to_owned()
    })
}

/// A day of the year, whatever the year.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct YearDay {
    /// 1 to 12.
    pub month: u32,
    /// 1 to 31, one that the month has in a leap year.
    pub day: u32,
}
