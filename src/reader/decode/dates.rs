//! Days of one year, and of any year.

use chrono::{Datelike, NaiveDate};

use crate::reader::decode::KeyedValue;
use crate::reader::tree::NodeValue;
use crate::week::YearDay;

impl KeyedValue<'_> {
    /// A day of one year, `2027-03-01`.
    pub(crate) fn date(&self) -> Option<NaiveDate> {
        const FORM: &str = "write year, month and day like `2027-03-01`";
        let NodeValue::Text(text) = &self.node.value else {
            return self.reject_type("a date", FORM);
        };
        let Some([year, month, day]) = parse_digits(text, [4, 2, 2]) else {
            return self.reject_type("a date", FORM);
        };
        if !(1970..2200).contains(&year) {
            return self.reject(
                format!("the year {year} is too far away"),
                "",
                "years go from 1970 to 2199",
            );
        }
        #[allow(clippy::cast_possible_wrap)]
        let date = NaiveDate::from_ymd_opt(year as i32, month, day);
        date.or_else(|| self.reject_day(Some(year), month, day))
    }

    /// A day of any year, `05-01`; 29 February is one.
    pub(crate) fn year_day(&self) -> Option<YearDay> {
        const FORM: &str = "write month and day like `05-01`";
        let NodeValue::Text(text) = &self.node.value else {
            return self.reject_type("a day of the year", FORM);
        };
        let Some([month, day]) = parse_digits(text, [2, 2]) else {
            return self.reject_type("a day of the year", FORM);
        };
        match NaiveDate::from_ymd_opt(LEAP_YEAR, month, day) {
            Some(_) => Some(YearDay { month, day }),
            None => self.reject_day(None, month, day),
        }
    }

    fn reject_day<T>(&self, year: Option<u32>, month: u32, day: u32) -> Option<T> {
        let Some(name) = (month as usize).checked_sub(1).and_then(|m| MONTHS.get(m)) else {
            return self.reject(
                format!("there is no month {month:02}"),
                "",
                "months go from 01 to 12; the month stands before the day",
            );
        };
        #[allow(clippy::cast_possible_wrap)]
        let length = days_in_month(year.map_or(LEAP_YEAR, |y| y as i32), month);
        let month = match year {
            Some(year) => format!("{name} {year}"),
            None => (*name).to_owned(),
        };
        self.reject(
            format!("{day} {month} does not exist"),
            format!("{month} has {length} days"),
            "",
        )
    }
}

const LEAP_YEAR: i32 = 2000;

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// The month's name, 1 to 12.
pub(crate) fn month_name(month: u32) -> &'static str {
    MONTHS[(month as usize).clamp(1, 12) - 1]
}

fn days_in_month(year: i32, month: u32) -> u32 {
    (28..=31)
        .rev()
        .find_map(|day| NaiveDate::from_ymd_opt(year, month, day))
        .map_or(31, |last| last.day())
}

/// Numbers of exactly these many digits, with dashes between.
fn parse_digits<const N: usize>(text: &str, lengths: [usize; N]) -> Option<[u32; N]> {
    let parts: Vec<&str> = text.trim().split('-').collect();
    let mut numbers = [0; N];
    if parts.len() != N {
        return None;
    }
    for ((part, length), number) in parts.iter().zip(lengths).zip(&mut numbers) {
        if part.len() != length || !part.bytes().all(|b| b.is_ascii_digit()) {
            return None;
        }
        *number = part.parse().ok()?;
    }
    Some(numbers)
}
