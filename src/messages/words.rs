//! Words in the grower's language, and amounts in the garden's units.

use chrono::{Datelike, NaiveDate};

use crate::garden::Garden;
use crate::text::{Language, Value};
use crate::units::{Amount, Measure, Units, Years};

/// Words of one language, and units to write in.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Texts {
    language: Language,
    units: Units,
}

impl Texts {
    pub(crate) fn new(language: Language, units: Units) -> Self {
        Self { language, units }
    }

    /// What the terminal says.
    pub(crate) fn english(units: Units) -> Self {
        Self::new(Language::ENGLISH, units)
    }

    /// The language's code.
    pub(crate) fn code(&self) -> &'static str {
        self.language.code()
    }

    /// The language.
    pub(crate) fn language(&self) -> Language {
        self.language
    }

    /// The units.
    pub(super) fn units(&self) -> Units {
        self.units
    }

    /// A text with its placeholders filled.
    pub(super) fn translate<'a>(
        &self,
        key: &str,
        values: impl IntoIterator<Item = (&'a str, Value<'a>)>,
    ) -> String {
        self.language.format(key, values)
    }

    /// A text of the pages.
    pub(crate) fn t(&self, key: &str) -> String {
        self.with(key, &[])
    }

    /// A text of the pages with its placeholders filled.
    pub(crate) fn with(&self, key: &str, values: &[(&str, &str)]) -> String {
        let values = values.iter().map(|&(name, value)| (name, value.into()));
        self.language.format(&format!("page-{key}"), values)
    }

    /// A text that tells how many.
    pub(crate) fn count(&self, key: &str, n: usize) -> String {
        let values = [("n", Value::from(n))];
        self.language.format(&format!("page-{key}"), values)
    }

    /// So much of a want, its unit written as in the plan (`heads` or `g`).
    pub(crate) fn amount(&self, number: f64, unit: &str) -> String {
        if unit != Measure::Heads.symbol() {
            return amount(number, unit, self.units);
        }
        let number = (number * 10.0).round() / 10.0;
        let values = [
            ("n", Value::from(number)),
            ("number", number.to_string().into()),
        ];
        self.language.format("page-heads", values)
    }

    /// `6 years`, in tenths where they are none whole.
    pub(crate) fn years(&self, years: Years) -> String {
        let number = (years.get() * 10.0).round() / 10.0;
        let values = [
            ("n", Value::from(number)),
            ("number", number.to_string().into()),
        ];
        self.language.format("page-years", values)
    }

    /// A month's short name; January is 1.
    pub(crate) fn month(&self, month: u32) -> String {
        let values = [("month", Value::from(month))];
        self.language.format("month-short", values)
    }

    pub(crate) fn months(&self) -> Vec<String> {
        (1..=12).map(|month| self.month(month)).collect()
    }

    /// `February 2027`, of a month such as `2027-02`.
    pub(super) fn month_of_year(&self, month: &str) -> String {
        let day = NaiveDate::parse_from_str(&format!("{month}-01"), "%Y-%m-%d");
        day.map_or_else(
            |_| month.to_owned(),
            |day| self.language.month_and_year(day),
        )
    }

    /// A day of the week's short name; Monday is 1.
    pub(crate) fn weekday(&self, weekday: u32) -> String {
        let values = [("weekday", Value::from(weekday))];
        self.language.format("weekday-short", values)
    }

    /// `Wed 7 Apr 2027`.
    pub(crate) fn day(&self, day: NaiveDate) -> String {
        let values = [
            ("weekday", self.weekday(day.weekday().number_from_monday())),
            ("day", day.day().to_string()),
            ("month", self.month(day.month())),
            ("year", day.year().to_string()),
        ];
        let values = values
            .each_ref()
            .map(|(name, value)| (*name, value.as_str()));
        self.with("date", &values)
    }

    /// `7 Apr`.
    pub(crate) fn short_day(&self, day: NaiveDate) -> String {
        let (number, month) = (day.day().to_string(), self.month(day.month()));
        self.with("short-date", &[("day", &number), ("month", &month)])
    }

    /// `week 14 of 2027`.
    pub(crate) fn iso_week(&self, day: NaiveDate) -> String {
        let week = day.iso_week();
        let values = [
            ("week", week.week().to_string().into()),
            ("year", week.year().to_string().into()),
        ];
        self.language.format("script-week", values)
    }
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
    garden.crop(key).map_or(key, |crop| &crop.name)
}
