//! The languages in which the grower is written to, and their catalogues of words.
//!
//! One file a language in `catalogues/`, in Project Fluent's syntax, built into the program: adding
//! a language is adding a file. The tests see to it that all have the same keys and placeholders,
//! so a text that one language has, every language has.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::LazyLock;

use chrono::{Datelike, NaiveDate, Weekday};
use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource, FluentValue};
use include_dir::{Dir, include_dir};
use unic_langid::LanguageIdentifier;

static FILES: Dir<'static> = include_dir!("$CARGO_MANIFEST_DIR/src/text/catalogues");

static CATALOGUES: LazyLock<BTreeMap<&'static str, Catalogue>> = LazyLock::new(|| {
    let files = FILES.files().filter_map(|file| {
        let code = file.path().file_stem()?.to_str()?;
        Some((code, Catalogue::new(code, file.contents_utf8()?)))
    });
    files.collect()
});

struct Catalogue {
    source: &'static str,
    bundle: FluentBundle<FluentResource>,
}

impl Catalogue {
    /// # Panics
    /// If a file built into the program is not a catalogue; the tests read them all.
    fn new(code: &str, source: &'static str) -> Self {
        let language: LanguageIdentifier = code.parse().expect("a language's code");
        let words = FluentResource::try_new(source.to_owned())
            .unwrap_or_else(|(_, errors)| panic!("catalogues/{code}.ftl: {errors:?}"));
        let mut bundle = FluentBundle::new_concurrent(vec![language]);
        // Marks of direction around every name would be shown by some calendar apps as boxes.
        bundle.set_use_isolating(false);
        bundle
            .add_resource(words)
            .unwrap_or_else(|errors| panic!("catalogues/{code}.ftl: {errors:?}"));
        Self { source, bundle }
    }
}

/// A language that the program writes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Language(&'static str);

impl Default for Language {
    fn default() -> Self {
        Self::ENGLISH
    }
}

/// A name, number or date put into a text. Numbers also choose between singular and plural.
pub type Value<'a> = FluentValue<'a>;

impl Language {
    /// What is written where the garden says nothing else.
    pub const ENGLISH: Self = Self("en");

    /// All languages, in the order of their codes.
    pub fn all() -> impl Iterator<Item = Self> {
        CATALOGUES.keys().map(|code| Self(code))
    }

    /// The language of a code such as `es` (BCP 47).
    #[must_use]
    pub fn from_code(code: &str) -> Option<Self> {
        CATALOGUES.get_key_value(code).map(|(code, _)| Self(code))
    }

    /// Its code, such as `es` (BCP 47).
    #[must_use]
    pub const fn code(self) -> &'static str {
        self.0
    }

    /// The catalogue as it is written, for those who check it.
    #[must_use]
    pub fn source(self) -> &'static str {
        self.catalogue().source
    }

    /// A text without placeholders.
    ///
    /// # Panics
    /// As [`format`](Self::format).
    #[must_use]
    pub fn text(self, key: &str) -> String {
        self.format(key, [])
    }

    /// A text with its placeholders filled: `text_with("count-holes", [("n", 3.into())])`.
    ///
    /// # Panics
    /// If the catalogue has no such key or the text another placeholder: a slip of the program,
    /// which shows itself in every language alike, as all catalogues have the same ones.
    #[must_use]
    pub fn format<'a>(
        self,
        key: &str,
        values: impl IntoIterator<Item = (&'a str, Value<'a>)>,
    ) -> String {
        let bundle = &self.catalogue().bundle;
        let message = bundle.get_message(key).and_then(|m| m.value());
        let message = message.unwrap_or_else(|| panic!("no text `{key}` in {}", self.0));
        let values: FluentArgs = values.into_iter().collect();
        let mut errors = Vec::new();
        let text = bundle.format_pattern(message, Some(&values), &mut errors);
        assert!(errors.is_empty(), "`{key}` in {}: {errors:?}", self.0);
        text.into_owned()
    }

    /// A day as one says it on `today`: with its year only where that is another one.
    #[must_use]
    pub fn date(self, day: NaiveDate, today: NaiveDate) -> String {
        let key = if day.year() == today.year() {
            "date"
        } else {
            "date-with-year"
        };
        self.date_as(key, self.weekday("weekday-short", day.weekday()), day)
    }

    /// A day in full, such as `Monday 1 March 2027`.
    #[must_use]
    pub fn long_date(self, day: NaiveDate) -> String {
        self.date_as(
            "date-long",
            self.weekday("weekday-long", day.weekday()),
            day,
        )
    }

    /// A day without its weekday and year, such as `1 March`.
    #[must_use]
    pub fn day_and_month(self, day: NaiveDate) -> String {
        let month = self.format("month-long", [("month", day.month().into())]);
        let values = [("day", day.day().into()), ("month", month.into())];
        self.format("day-and-month", values)
    }

    /// A month and its year, such as `March 2027`.
    #[must_use]
    pub fn month_and_year(self, day: NaiveDate) -> String {
        let month = self.format("month-long", [("month", day.month().into())]);
        let values = [
            ("month", month.into()),
            ("year", day.year().to_string().into()),
        ];
        self.format("month-and-year", values)
    }

    fn date_as(self, key: &str, weekday: String, day: NaiveDate) -> String {
        let month = self.format("month-long", [("month", day.month().into())]);
        let values = [
            ("weekday", weekday.into()),
            ("day", day.day().into()),
            ("month", month.into()),
            // As text: a year is no number of things.
            ("year", day.year().to_string().into()),
        ];
        self.format(key, values)
    }

    /// What a day of the week is called, in short and in full, such as `Mon` and `Monday`.
    #[must_use]
    pub fn weekday_names(self, day: Weekday) -> [String; 2] {
        ["weekday-short", "weekday-long"].map(|key| self.weekday(key, day))
    }

    fn weekday(self, key: &str, day: Weekday) -> String {
        self.format(key, [("weekday", day.number_from_monday().into())])
    }

    /// `a`, `a and b`, `a, b and c`.
    #[must_use]
    pub fn list(self, items: &[impl AsRef<str>]) -> String {
        let items: Vec<Cow<str>> = items.iter().map(|i| i.as_ref().into()).collect();
        match items.as_slice() {
            [] => String::new(),
            [one] => one.to_string(),
            [first @ .., last] => {
                let values = [
                    ("most", first.join(", ").into()),
                    ("last", (&**last).into()),
                ];
                self.format("list-and", values)
            }
        }
    }

    fn catalogue(self) -> &'static Catalogue {
        &CATALOGUES[self.0]
    }
}
