//! The pages' words, from the catalogue of the garden's language.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};
use serde::Serialize;

use crate::language::{Language, Value};
use crate::quantity::{Measure, Units};
use crate::report::terminal::words::amount;

/// Words of one language, and units to write in.
#[derive(Debug, Clone, Copy)]
pub(super) struct Words {
    language: Language,
    units: Units,
}

/// What the page's script says: a text for each key. Names in braces are filled in there.
#[derive(Debug, Serialize)]
pub(super) struct Script {
    #[serde(flatten)]
    texts: BTreeMap<&'static str, String>,
    /// Short names, January first.
    months: Vec<String>,
    /// Short names, Monday first.
    weekdays: Vec<String>,
}

/// Texts of the script, with what is to be filled in.
const SCRIPT: &[(&str, &[&str])] = &[
    ("stands", &["hole", "crop", "percent", "wide", "out"]),
    ("empty", &["hole"]),
    ("due", &[]),
    ("for-want", &["want"]),
    ("sown", &[]),
    ("set", &[]),
    ("grown", &[]),
    ("wide", &[]),
    ("next-harvest", &[]),
    ("out", &[]),
    ("then", &[]),
    ("nothing", &[]),
    ("free", &[]),
    ("pause", &[]),
    ("hole", &[]),
    ("crop", &[]),
    ("harvests", &[]),
    ("on-hand", &[]),
    ("week", &["week", "year"]),
];

impl Words {
    pub(super) fn new(language: Language, units: Units) -> Self {
        Self { language, units }
    }

    /// The language's code.
    pub(super) fn code(&self) -> &'static str {
        self.language.code()
    }

    /// A text of the pages.
    pub(super) fn t(&self, key: &str) -> String {
        self.with(key, &[])
    }

    /// A text of the pages with its placeholders filled.
    pub(super) fn with(&self, key: &str, values: &[(&str, &str)]) -> String {
        let values = values.iter().map(|&(name, value)| (name, value.into()));
        self.language.text_with(&format!("page-{key}"), values)
    }

    /// A text that tells how many.
    pub(super) fn count(&self, key: &str, n: usize) -> String {
        let values = [("n", Value::from(n))];
        self.language.text_with(&format!("page-{key}"), values)
    }

    /// So much of a want, its unit written as in the plan (`heads` or `g`).
    pub(super) fn amount(&self, number: f64, unit: &str) -> String {
        if unit != Measure::Heads.symbol() {
            return amount(number, unit, self.units);
        }
        let number = (number * 10.0).round() / 10.0;
        let values = [
            ("n", Value::from(number)),
            ("number", number.to_string().into()),
        ];
        self.language.text_with("page-heads", values)
    }

    /// A month's short name; January is 1.
    pub(super) fn month(&self, month: u32) -> String {
        let values = [("month", Value::from(month))];
        self.language.text_with("month-short", values)
    }

    pub(super) fn months(&self) -> Vec<String> {
        (1..=12).map(|month| self.month(month)).collect()
    }

    /// A day of the week's short name; Monday is 1.
    fn weekday(&self, weekday: u32) -> String {
        let values = [("weekday", Value::from(weekday))];
        self.language.text_with("weekday-short", values)
    }

    /// `Wed 7 Apr 2027`.
    pub(super) fn day(&self, day: NaiveDate) -> String {
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
    pub(super) fn short_day(&self, day: NaiveDate) -> String {
        let (number, month) = (day.day().to_string(), self.month(day.month()));
        self.with("short-date", &[("day", &number), ("month", &month)])
    }

    /// `week 14 of 2027`.
    pub(super) fn iso_week(&self, day: NaiveDate) -> String {
        let week = day.iso_week();
        let values = [
            ("week", week.week().to_string().into()),
            ("year", week.year().to_string().into()),
        ];
        self.language.text_with("script-week", values)
    }

    pub(super) fn script(&self) -> Script {
        let left_open = |name: &&'static str| (*name, format!("{{{name}}}").into());
        let text = |&(key, names): &(&'static str, &'static [&'static str])| {
            let values = names.iter().map(left_open);
            (
                key,
                self.language.text_with(&format!("script-{key}"), values),
            )
        };
        let date = ["weekday", "day", "month", "year"];
        let date = self
            .language
            .text_with("page-date", date.iter().map(left_open));
        let mut texts: BTreeMap<&str, String> = SCRIPT.iter().map(text).collect();
        texts.insert("date", date);
        texts.insert("play", self.t("play"));
        Script {
            texts,
            months: self.months(),
            weekdays: (1..=7).map(|weekday| self.weekday(weekday)).collect(),
        }
    }
}
