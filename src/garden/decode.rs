//! From a tree of values to checked types, collecting everything that is wrong on the way.
//!
//! [`Fields`] is a group of keys, [`Entry`] the value of one of them. A value that is wrong is
//! told to [`Findings`] and reads as `None`; the reading goes on. A reader therefore asks for all
//! its values first and gives up (`?`) only when it puts them together.

use std::cell::{Cell, RefCell};
use std::collections::BTreeSet;

use chrono::{Datelike, NaiveDate};

use super::bounds::{self, Bounds, Count, Number, Printed};
use super::diagnostic::{Diagnostic, Refusal};
use super::source::Source;
use super::suggestion::{all_of, any_of, nearest, shortened};
use super::tree::{self, Key, Node, Value};
use super::want::YearDay;
use crate::quantity::{ParseError, Quantity, Units};

/// What is wrong with one value.
struct Finding {
    /// The number of the value or key to mark.
    at: usize,
    message: String,
    label: String,
    help: String,
}

/// Everything found wrong with a file so far.
#[derive(Default)]
pub(crate) struct Findings {
    /// The units in which limits are told.
    pub(crate) units: Cell<Units>,
    list: RefCell<Vec<Finding>>,
    others: RefCell<Vec<Diagnostic>>,
}

impl Findings {
    /// Tells of a value; label and help may be empty.
    pub(crate) fn tell(
        &self,
        at: usize,
        message: impl Into<String>,
        label: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.list.borrow_mut().push(Finding {
            at,
            message: message.into(),
            label: label.into(),
            help: help.into(),
        });
    }

    /// Adds what is wrong with another file.
    pub(crate) fn tell_of_other_file(&self, diagnostics: impl IntoIterator<Item = Diagnostic>) {
        self.others.borrow_mut().extend(diagnostics);
    }

    /// What was read, if nothing was found wrong.
    pub(crate) fn conclude<T>(self, read: Option<T>, source: &Source) -> Result<T, Refusal> {
        let mut list = self.list.into_inner();
        list.sort_by_key(|finding| finding.at);
        let untold = list.len().saturating_sub(Refusal::MOST);
        let mut diagnostics: Vec<Diagnostic> = list
            .iter()
            .take(Refusal::MOST)
            .map(|finding| placed(finding, source))
            .collect();
        diagnostics.extend(self.others.into_inner());
        match (Refusal::of(diagnostics, untold), read) {
            (None, Some(read)) => Ok(read),
            (Some(refusal), _) => Err(refusal),
            // A reader that gives nothing has told why; this is for the day one forgets.
            (None, None) => Err(Refusal::one(Diagnostic::of_file(
                &source.name,
                format!("`{}` cannot be read as written", source.name),
                "",
            ))),
        }
    }
}

fn placed(finding: &Finding, source: &Source) -> Diagnostic {
    let diagnostic = Diagnostic::of_file(&source.name, &finding.message, &finding.help);
    match tree::locate(&source.text, finding.at) {
        Some(position) => diagnostic
            .at(position, &source.text)
            .with_label(&finding.label),
        None => diagnostic,
    }
}

/// A value and the key before it. Items of a list go by their list's key.
#[derive(Clone, Copy)]
pub(crate) struct Entry<'a> {
    pub(crate) key: &'a str,
    key_id: usize,
    pub(crate) node: &'a Node,
    pub(crate) findings: &'a Findings,
}

impl<'a> Entry<'a> {
    /// The number of what to mark for this value.
    pub(crate) fn spot(&self) -> usize {
        match &self.node.value {
            Value::Nothing | Value::List(_) => self.key_id,
            Value::Mapping(pairs) => pairs.first().map_or(self.key_id, |(key, _)| key.id),
            _ => self.node.id,
        }
    }

    /// Tells what is wrong with this value.
    pub(crate) fn wrong<T>(
        &self,
        message: impl Into<String>,
        label: impl Into<String>,
        help: impl Into<String>,
    ) -> Option<T> {
        self.findings.tell(self.spot(), message, label, help);
        None
    }

    fn needs<T>(&self, wanted: &str, help: impl Into<String>) -> Option<T> {
        let is = match &self.node.value {
            Value::Text(text) => format!("the text `{}`", shortened(text)),
            Value::Integer(number) => format!("the number {number}"),
            Value::Decimal(number) => format!("the number {number}"),
            Value::Tagged(tag) => format!("a value with the tag `{}`", shortened(tag)),
            other => other.described().to_owned(),
        };
        self.wrong(
            format!("`{}` is {wanted}, not {is}", self.key),
            format!("{wanted} is due here"),
            help,
        )
    }

    /// A text.
    pub(crate) fn text(&self) -> Option<&'a str> {
        match &self.node.value {
            Value::Text(text) => Some(text.trim()),
            Value::Integer(_) | Value::Decimal(_) | Value::Truth(_) => {
                self.needs("a text", "put quotation marks around it to make it a text")
            }
            _ => self.needs("a text", ""),
        }
    }

    /// A text; the help tells how to write it where it is none.
    pub(crate) fn text_or(&self, help: &str) -> Option<&'a str> {
        match &self.node.value {
            Value::Text(text) => Some(text.trim()),
            _ => self.needs("a text", help),
        }
    }

    /// The number, where the value is one without a unit.
    pub(crate) fn bare_number(&self) -> Option<f64> {
        match self.node.value {
            #[allow(clippy::cast_precision_loss)]
            Value::Integer(number) => Some(number as f64),
            Value::Decimal(number) => Some(number),
            _ => None,
        }
    }

    /// A name: a text that is neither empty nor long, without control characters.
    pub(crate) fn name(&self) -> Option<String> {
        let text = self.text()?;
        let length = text.chars().count();
        if text.is_empty() {
            return self.wrong(
                format!("`{}` is an empty name", self.key),
                "a name is due here",
                "",
            );
        }
        if length > bounds::NAME_CHARACTERS {
            let most = bounds::NAME_CHARACTERS;
            return self.wrong(
                format!("this name has {length} characters"),
                format!("at most {most}"),
                "",
            );
        }
        if text.chars().any(char::is_control) {
            return self.wrong(
                "a name cannot hold line breaks, tabs or other control characters",
                "",
                "write it on one line",
            );
        }
        Some(text.to_owned())
    }

    /// A number with its unit, inside its bounds.
    pub(crate) fn quantity<Q: Quantity>(&self, bounds: &Bounds<Q>) -> Option<Q> {
        let written = self.written_quantity()?;
        self.within(bounds, written, &self.raw())
    }

    /// A number with its unit, whatever its size.
    pub(crate) fn written_quantity<Q: Quantity>(&self) -> Option<Q> {
        match &self.node.value {
            Value::Text(text) => match text.parse() {
                Ok(quantity) => Some(quantity),
                Err(error) => self.no_quantity::<Q>(&error),
            },
            Value::Integer(_) | Value::Decimal(_) => {
                let units = Q::units();
                self.no_quantity::<Q>(&ParseError::MissingUnit { units })
            }
            _ => self.needs(
                "a number with its unit",
                format!("write it in {}", any_of(Q::units())),
            ),
        }
    }

    fn no_quantity<Q: Quantity>(&self, error: &ParseError) -> Option<Q> {
        let key = self.key;
        let raw = self.raw();
        let units = error.units();
        let offered = format!("write it in {}", any_of(units.iter().copied()));
        match error {
            ParseError::MissingUnit { .. } => self.wrong(
                format!("`{key}` has a number without its unit"),
                format!("{raw} of what?"),
                offered,
            ),
            ParseError::UnknownUnit { unit, kind, .. } => {
                let unit = shortened(unit);
                self.wrong(format!("`{unit}` is not a unit of {kind}"), "", offered)
            }
            ParseError::NotANumber { .. } => self.wrong(
                format!("`{key}` is a number with its unit, not `{raw}`"),
                "this does not begin with a number",
                offered,
            ),
            ParseError::Comma { .. } => {
                let whole = raw.replace(',', "");
                let tenths = raw.replacen(',', ".", 1).replace(',', "");
                self.wrong(
                    format!("`{raw}` has a comma in its number"),
                    "thousands or tenths?",
                    format!("write `{whole}` or `{tenths}`, whichever is meant"),
                )
            }
            ParseError::OutOfReach { .. } => self.wrong(
                format!("`{key}` cannot be {raw}"),
                if raw.starts_with('-') {
                    "less than nothing"
                } else {
                    "far too much"
                },
                offered,
            ),
        }
    }

    /// A bare whole number inside its bounds.
    pub(crate) fn count(&self, bounds: &Bounds<Count>) -> Option<u32> {
        let meant = match &self.node.value {
            Value::Text(text) => leading_number(text),
            _ => None,
        };
        let meant = meant.unwrap_or_else(|| bounds.least.0.max(1).to_string());
        let example = format!("write `{}: {meant}`", self.key);
        match self.node.value {
            Value::Integer(number) => {
                let inside = number.clamp(0, i128::from(u32::MAX));
                #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
                let count = Count(inside as u32);
                let count = self.within(bounds, count, &self.raw());
                // Below nothing there is no `u32` to compare.
                if number < 0 && count.is_some() {
                    return self.outside(bounds, true, &self.raw());
                }
                count.map(|Count(n)| n)
            }
            Value::Decimal(_) => self.needs("a whole number", ""),
            _ => self.needs(
                "a bare whole number",
                format!("{example}, without unit or quotation marks"),
            ),
        }
    }

    /// A bare number inside its bounds.
    pub(crate) fn number(&self, bounds: &Bounds<Number>) -> Option<f64> {
        let Some(number) = self.bare_number() else {
            let example = bounds.most.0;
            let form = format!(
                "write it like `{}: {example}`, without unit or quotation marks",
                self.key
            );
            return self.needs("a bare number", form);
        };
        self.within(bounds, Number(number), &self.raw())
            .map(|Number(n)| n)
    }

    /// `true` or `false`.
    pub(crate) fn truth(&self) -> Option<bool> {
        match self.node.value {
            Value::Truth(truth) => Some(truth),
            _ => self.needs("`true` or `false`", ""),
        }
    }

    /// One of a few words.
    pub(crate) fn choice<T: Copy + PartialEq>(&self, words: &[(&str, T)]) -> Option<T> {
        let known = || words.iter().map(|(word, _)| *word);
        // Of several words for the same, the first is enough to offer.
        let is_first = |(word, value): &&(&str, T)| {
            let first = words.iter().find(|(_, other)| other == value);
            first.is_some_and(|(first, _)| first == word)
        };
        let offered = words.iter().filter(is_first).map(|(word, _)| *word);
        let all = format!("it is one of {}", any_of(offered));
        let Value::Text(text) = &self.node.value else {
            return self.needs("a word", all);
        };
        let found = words
            .iter()
            .find(|(word, _)| word.eq_ignore_ascii_case(text.trim()));
        match found {
            Some((_, value)) => Some(*value),
            None => self.wrong(
                format!("`{}` cannot be `{}`", self.key, shortened(text)),
                meant(text, known()),
                all,
            ),
        }
    }

    /// A day of one year, `2027-03-01`.
    pub(crate) fn date(&self) -> Option<NaiveDate> {
        const FORM: &str = "write year, month and day like `2027-03-01`";
        let Value::Text(text) = &self.node.value else {
            return self.needs("a date", FORM);
        };
        let Some([year, month, day]) = digits(text, [4, 2, 2]) else {
            return self.needs("a date", FORM);
        };
        if !(1970..2200).contains(&year) {
            return self.wrong(
                format!("the year {year} is too far away"),
                "",
                "years go from 1970 to 2199",
            );
        }
        #[allow(clippy::cast_possible_wrap)]
        let date = NaiveDate::from_ymd_opt(year as i32, month, day);
        date.or_else(|| self.no_such_day(Some(year), month, day))
    }

    /// A day of any year, `05-01`; 29 February is one.
    pub(crate) fn year_day(&self) -> Option<YearDay> {
        const FORM: &str = "write month and day like `05-01`";
        let Value::Text(text) = &self.node.value else {
            return self.needs("a day of the year", FORM);
        };
        let Some([month, day]) = digits(text, [2, 2]) else {
            return self.needs("a day of the year", FORM);
        };
        match NaiveDate::from_ymd_opt(LEAP_YEAR, month, day) {
            Some(_) => Some(YearDay { month, day }),
            None => self.no_such_day(None, month, day),
        }
    }

    fn no_such_day<T>(&self, year: Option<u32>, month: u32, day: u32) -> Option<T> {
        let Some(name) = (month as usize).checked_sub(1).and_then(|m| MONTHS.get(m)) else {
            return self.wrong(
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
        self.wrong(
            format!("{day} {month} does not exist"),
            format!("{month} has {length} days"),
            "",
        )
    }

    /// The items of a list, at least one.
    pub(crate) fn items(&self, example: &str) -> Option<Vec<Entry<'a>>> {
        let items = self.items_or_none(example)?;
        if items.is_empty() {
            return self.wrong(
                format!("`{}` is an empty list", self.key),
                "at least one is needed",
                format!("write it like `{example}`"),
            );
        }
        Some(items)
    }

    /// The items of a list, perhaps none.
    pub(crate) fn items_or_none(&self, example: &str) -> Option<Vec<Entry<'a>>> {
        let Value::List(list) = &self.node.value else {
            return self.needs("a list", format!("write it like `{example}`"));
        };
        let items = list.iter().map(|node| Entry {
            key: self.key,
            key_id: node.id,
            node,
            findings: self.findings,
        });
        Some(items.collect())
    }

    /// All items of a list read alike; `None` if one cannot be.
    pub(crate) fn each<T>(
        &self,
        example: &str,
        read: impl FnMut(Entry<'a>) -> Option<T>,
    ) -> Option<Vec<T>> {
        all(self.items(example)?.into_iter().map(read))
    }

    /// Exactly two items, such as least and most.
    pub(crate) fn pair<T>(
        &self,
        example: &str,
        mut read: impl FnMut(Entry<'a>) -> Option<T>,
    ) -> Option<(T, T)> {
        let items = self.items(example)?;
        let [first, second] = items.as_slice() else {
            return self.wrong(
                format!("`{}` is a list of two, not of {}", self.key, items.len()),
                "",
                format!("write it like `{example}`"),
            );
        };
        let (first, second) = (read(*first), read(*second));
        Some((first?, second?))
    }

    /// A group of keys. `what` is the group in a sentence, "this bank".
    pub(crate) fn fields(&self, what: &'static str, example: &str) -> Option<Fields<'a>> {
        let Value::Mapping(pairs) = &self.node.value else {
            return self.needs("a group of keys", format!("write it like `{example}`"));
        };
        Some(Fields::of(what, pairs, self.spot(), self.findings))
    }

    /// The entries of a group whose keys may be any words.
    pub(crate) fn entries(&self, example: &str) -> Option<Vec<Entry<'a>>> {
        let Value::Mapping(pairs) = &self.node.value else {
            return self.needs("a group of keys", format!("write it like `{example}`"));
        };
        tell_of_repeats(self.key, pairs, self.findings);
        let entries = pairs.iter().map(|(key, node)| Entry {
            key: &key.text,
            key_id: key.id,
            node,
            findings: self.findings,
        });
        Some(entries.collect())
    }

    /// The number of the key itself, to mark it instead of its value.
    pub(crate) fn key_spot(&self) -> usize {
        self.key_id
    }

    /// Whether the value is a group of keys.
    pub(crate) fn is_group(&self) -> bool {
        matches!(self.node.value, Value::Mapping(_))
    }

    /// The value if it lies inside its bounds.
    pub(crate) fn within<T: Printed>(&self, bounds: &Bounds<T>, value: T, raw: &str) -> Option<T> {
        if value >= bounds.least && value <= bounds.most {
            return Some(value);
        }
        self.outside(bounds, value < bounds.least, raw)
    }

    fn outside<T: Printed, U>(&self, bounds: &Bounds<T>, too_small: bool, raw: &str) -> Option<U> {
        let units = self.findings.units.get();
        let (least, most) = (bounds.least.printed(units), bounds.most.printed(units));
        let label = if too_small {
            format!("at least {least}")
        } else {
            format!("at most {most}")
        };
        self.wrong(
            format!("{} cannot be {raw}", bounds.of),
            label,
            format!("it may be from {least} to {most}"),
        )
    }

    /// The value as written, short.
    pub(crate) fn raw(&self) -> String {
        match &self.node.value {
            Value::Text(text) => shortened(text),
            Value::Integer(number) => number.to_string(),
            Value::Decimal(number) => number.to_string(),
            Value::Tagged(tag) => format!("!{}", shortened(tag)),
            other => other.described().to_owned(),
        }
    }
}

/// A group of keys. Which keys are known follows from what is asked for.
pub(crate) struct Fields<'a> {
    what: &'static str,
    pairs: &'a [(Key, Node)],
    at: usize,
    findings: &'a Findings,
    asked: RefCell<Vec<&'static str>>,
    missing: RefCell<Vec<(&'static str, String)>>,
    /// Keys that do not belong here and have been told.
    told: RefCell<Vec<&'static str>>,
}

impl<'a> Fields<'a> {
    fn of(what: &'static str, pairs: &'a [(Key, Node)], at: usize, findings: &'a Findings) -> Self {
        tell_of_repeats(what, pairs, findings);
        Self {
            what,
            pairs,
            at,
            findings,
            asked: RefCell::new(Vec::new()),
            missing: RefCell::new(Vec::new()),
            told: RefCell::new(Vec::new()),
        }
    }

    /// The keys of the file's top level.
    pub(crate) fn of_root(
        what: &'static str,
        root: &'a Node,
        findings: &'a Findings,
        example: &str,
    ) -> Option<Self> {
        match &root.value {
            Value::Mapping(pairs) => Some(Self::of(what, pairs, root.id, findings)),
            Value::Nothing => {
                findings.tell(
                    root.id,
                    "the file is empty",
                    "",
                    format!("{what} begins with a line such as `{example}`"),
                );
                None
            }
            other => {
                let is = match other {
                    Value::Text(_) => "plain text",
                    other => other.described(),
                };
                findings.tell(
                    root.id,
                    format!("{what} is made of lines like `key: value`, and this is {is}"),
                    "",
                    format!("{what} begins with a line such as `{example}`"),
                );
                None
            }
        }
    }

    /// Where to tell what is wrong.
    pub(crate) fn findings(&self) -> &'a Findings {
        self.findings
    }

    /// The entry of a key: absent (`None`), or there but empty (`Some(None)`, which is told).
    fn find(&self, key: &'static str) -> Option<Option<Entry<'a>>> {
        self.asked.borrow_mut().push(key);
        let (found, node) = self.pairs.iter().find(|(k, _)| k.text == key)?;
        let entry = Entry {
            key: &found.text,
            key_id: found.id,
            node,
            findings: self.findings,
        };
        if matches!(node.value, Value::Nothing) {
            let told: Option<()> = entry.wrong(
                format!("`{key}` has no value"),
                "nothing stands behind this key",
                "give it a value, or leave the key out if it may be",
            );
            debug_assert!(told.is_none());
            return Some(None);
        }
        Some(Some(entry))
    }

    /// The value of a key that must be there. The example shows how to write it.
    pub(crate) fn required<T>(
        &self,
        key: &'static str,
        example: &str,
        read: impl FnOnce(Entry<'a>) -> Option<T>,
    ) -> Option<T> {
        if let Some(found) = self.find(key) {
            return found.and_then(read);
        }
        let mut missing = self.missing.borrow_mut();
        missing.push((key, example.to_owned()));
        None
    }

    /// The value of a key that may be absent: `Some(None)` then.
    #[allow(clippy::option_option)]
    pub(crate) fn optional<T>(
        &self,
        key: &'static str,
        read: impl FnOnce(Entry<'a>) -> Option<T>,
    ) -> Option<Option<T>> {
        match self.find(key) {
            None => Some(None),
            Some(found) => found.and_then(read).map(Some),
        }
    }

    /// The value of a key, or its default where the key is absent.
    pub(crate) fn or<T>(
        &self,
        key: &'static str,
        default: T,
        read: impl FnOnce(Entry<'a>) -> Option<T>,
    ) -> Option<T> {
        self.optional(key, read).map(|v| v.unwrap_or(default))
    }

    /// All entries, whatever their keys.
    pub(crate) fn entries(&self) -> Vec<Entry<'a>> {
        let entries = self.pairs.iter().map(|(key, node)| Entry {
            key: &key.text,
            key_id: key.id,
            node,
            findings: self.findings,
        });
        entries.collect()
    }

    /// Whether a key is there.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.pairs.iter().any(|(k, _)| k.text == key)
    }

    /// Whether a key is there inside the group that another key holds.
    pub(crate) fn has_inside(&self, group: &str, key: &str) -> bool {
        self.pairs.iter().any(|(k, node)| {
            k.text == group
                && matches!(&node.value, Value::Mapping(inner) if inner.iter().any(|(k, _)| k.text == key))
        })
    }

    /// Tells what is wrong with the value of a key, or with the group if the key is absent.
    pub(crate) fn wrong(
        &self,
        key: &str,
        message: impl Into<String>,
        label: impl Into<String>,
        help: impl Into<String>,
    ) {
        let spot = self.pairs.iter().find(|(k, _)| k.text == key);
        let spot = spot.map_or(self.at, |(key, node)| {
            Entry {
                key: &key.text,
                key_id: key.id,
                node,
                findings: self.findings,
            }
            .spot()
        });
        self.findings.tell(spot, message, label, help);
    }

    /// Tells of keys that belong to something else, such as `("faces", "a tower")`, and what to
    /// do about them.
    pub(crate) fn foreign(&self, keys: &[(&'static str, &str)], help: &str) {
        for (key, owner) in keys {
            let Some((found, _)) = self.pairs.iter().find(|(k, _)| k.text == *key) else {
                continue;
            };
            self.told.borrow_mut().push(key);
            self.findings.tell(
                found.id,
                format!("`{key}` belongs to {owner}, which {} is not", self.what),
                "",
                help,
            );
        }
    }

    /// Makes keys known that are not looked at, as it is unknown what they should be.
    pub(crate) fn ask(&self, keys: &[&'static str]) {
        self.asked.borrow_mut().extend(keys);
    }

    /// Tells of every key that nobody asked for, and of every one that is missing. A key
    /// misspelt is told once, not once as unknown and once as missing.
    pub(crate) fn finish(self) {
        let asked = self.asked.into_inner();
        let told = self.told.into_inner();
        let mut misspelt = Vec::new();
        for (key, _) in self.pairs {
            let known = |keys: &[&str]| keys.contains(&key.text.as_str());
            if known(&asked) || known(&told) {
                continue;
            }
            let absent = asked
                .iter()
                .copied()
                .filter(|k| !self.pairs.iter().any(|(p, _)| p.text == *k));
            let near = nearest(&key.text, absent);
            misspelt.extend(near);
            self.findings.tell(
                key.id,
                format!("`{}` is not a key of {}", shortened(&key.text), self.what),
                near.map_or_else(String::new, |near| format!("did you mean `{near}`?")),
                format!("its keys are {}", all_of(asked.iter().copied())),
            );
        }
        for (key, example) in self.missing.into_inner() {
            if misspelt.contains(&key) {
                continue;
            }
            self.findings.tell(
                self.at,
                format!("`{key}` is missing from {}", self.what),
                format!("{} needs `{key}`", self.what),
                format!("add it, for instance `{example}`"),
            );
        }
    }
}

fn tell_of_repeats(what: &str, pairs: &[(Key, Node)], findings: &Findings) {
    let mut seen = BTreeSet::new();
    for (key, _) in pairs {
        if !seen.insert(key.text.as_str()) {
            findings.tell(
                key.id,
                format!("`{}` is stated twice in {what}", shortened(&key.text)),
                "the second time",
                "keep one of the two",
            );
        }
    }
}

/// "did you mean ...?", or nothing.
pub(crate) fn meant<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> String {
    nearest(word, known).map_or_else(String::new, |near| format!("did you mean `{near}`?"))
}

/// All of them; `None` if one is missing. Unlike `collect`, it looks at every one, so that each
/// can tell what is wrong with it.
pub(crate) fn all<T>(parts: impl IntoIterator<Item = Option<T>>) -> Option<Vec<T>> {
    let parts: Vec<Option<T>> = parts.into_iter().collect();
    parts.into_iter().collect()
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

/// The digits at a text's beginning.
fn leading_number(text: &str) -> Option<String> {
    let digits: String = text
        .trim()
        .chars()
        .take_while(char::is_ascii_digit)
        .collect();
    (!digits.is_empty()).then_some(digits)
}

/// Numbers of exactly these many digits, with dashes between.
fn digits<const N: usize>(text: &str, lengths: [usize; N]) -> Option<[u32; N]> {
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
