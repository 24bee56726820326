//! One value and the key before it: texts, words and lists.

use crate::garden::bounds;
use crate::reader::decode::fields::{Fields, report_repeats};
use crate::reader::decode::{FaultCollector, all, suggestion_text};
use crate::reader::suggestion::{any_of, is_same, shortened};
use crate::reader::tree::{Node, Value};

/// A value and the key before it. Items of a list go by their list's key.
#[derive(Clone, Copy)]
pub(crate) struct KeyedValue<'a> {
    pub(crate) key: &'a str,
    pub(super) key_id: usize,
    pub(crate) node: &'a Node,
    pub(crate) findings: &'a FaultCollector,
}

impl<'a> KeyedValue<'a> {
    /// The number of what to mark for this value.
    pub(crate) fn marker(&self) -> usize {
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
        self.findings.report(self.marker(), message, label, help);
        None
    }

    pub(super) fn needs<T>(&self, wanted: &str, help: impl Into<String>) -> Option<T> {
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

    /// `true` or `false`.
    pub(crate) fn boolean(&self) -> Option<bool> {
        match self.node.value {
            Value::Truth(truth) => Some(truth),
            _ => self.needs("`true` or `false`", ""),
        }
    }

    /// One of a few words.
    pub(crate) fn choice<T: Copy + PartialEq>(&self, words: &[(&str, T)]) -> Option<T> {
        // Of several words for the same, the first is enough to offer.
        let is_first = |(word, value): &&(&str, T)| {
            let first = words.iter().find(|(_, other)| other == value);
            first.is_some_and(|(first, _)| first == word)
        };
        let offered = words.iter().filter(is_first).map(|(word, _)| *word);
        self.choice_with_help(words, &format!("it is one of {}", any_of(offered)))
    }

    /// One of a few words, and how all of them are told.
    pub(crate) fn choice_with_help<T: Copy>(&self, words: &[(&str, T)], all: &str) -> Option<T> {
        let Value::Text(text) = &self.node.value else {
            return self.needs("a word", all);
        };
        let found = words.iter().find(|(word, _)| is_same(word, text.trim()));
        match found {
            Some((_, value)) => Some(*value),
            None => self.wrong(
                format!("`{}` cannot be `{}`", self.key, shortened(text)),
                suggestion_text(text, words.iter().map(|(word, _)| *word)),
                all,
            ),
        }
    }

    /// The items of a list, at least one.
    pub(crate) fn items(&self, example: &str) -> Option<Vec<KeyedValue<'a>>> {
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
    pub(crate) fn items_or_none(&self, example: &str) -> Option<Vec<KeyedValue<'a>>> {
        let Value::List(list) = &self.node.value else {
            return self.needs("a list", format!("write it like `{example}`"));
        };
        let items = list.iter().map(|node| KeyedValue {
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
        read: impl FnMut(KeyedValue<'a>) -> Option<T>,
    ) -> Option<Vec<T>> {
        all(self.items(example)?.into_iter().map(read))
    }

    /// Exactly two items, such as least and most.
    pub(crate) fn pair<T>(
        &self,
        example: &str,
        mut read: impl FnMut(KeyedValue<'a>) -> Option<T>,
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
        Some(Fields::of(what, pairs, self.marker(), self.findings))
    }

    /// The entries of a group whose keys may be any words.
    pub(crate) fn entries(&self, example: &str) -> Option<Vec<KeyedValue<'a>>> {
        let Value::Mapping(pairs) = &self.node.value else {
            return self.needs("a group of keys", format!("write it like `{example}`"));
        };
        report_repeats(self.key, pairs, self.findings);
        let entries = pairs.iter().map(|(key, node)| KeyedValue {
            key: &key.text,
            key_id: key.id,
            node,
            findings: self.findings,
        });
        Some(entries.collect())
    }

    /// The number of the key itself, to mark it instead of its value.
    pub(crate) fn key_marker(&self) -> usize {
        self.key_id
    }

    /// Whether the value is a group of keys.
    pub(crate) fn is_group(&self) -> bool {
        matches!(self.node.value, Value::Mapping(_))
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
