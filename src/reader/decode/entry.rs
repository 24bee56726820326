//! One value and the key before it: texts, words and lists.

use crate::reader::bounds;
use crate::reader::decode::fields::{Fields, report_duplicate_keys};
use crate::reader::decode::{FaultCollector, collect_all, suggestion_text};
use crate::reader::suggestion::{is_same_word, list_with_or, shorten};
use crate::reader::tree::{Node, NodeValue};

/// A value and the key before it. Items of a list go by their list's key.
#[derive(Clone, Copy)]
pub(crate) struct KeyedValue<'a> {
    pub(crate) key: &'a str,
    pub(super) key_id: usize,
    pub(crate) node: &'a Node,
    pub(crate) faults: &'a FaultCollector,
}

impl<'a> KeyedValue<'a> {
    /// The number of what to mark for this value.
    pub(crate) fn marker(&self) -> usize {
        match &self.node.value {
            NodeValue::Null | NodeValue::Sequence(_) => self.key_id,
            NodeValue::Mapping(pairs) => pairs.first().map_or(self.key_id, |(key, _)| key.id),
            _ => self.node.id,
        }
    }

    /// Tells what is wrong with this value.
    pub(crate) fn reject<T>(
        &self,
        message: impl Into<String>,
        label: impl Into<String>,
        help: impl Into<String>,
    ) -> Option<T> {
        self.faults.report(self.marker(), message, label, help);
        None
    }

    pub(super) fn reject_type<T>(&self, wanted: &str, help: impl Into<String>) -> Option<T> {
        let is = match &self.node.value {
            NodeValue::Text(text) => format!("the text `{}`", shorten(text)),
            NodeValue::Integer(number) => format!("the number {number}"),
            NodeValue::Float(number) => format!("the number {number}"),
            NodeValue::Tagged(tag) => format!("a value with the tag `{}`", shorten(tag)),
            other => other.description().to_owned(),
        };
        self.reject(
            format!("`{}` is {wanted}, not {is}", self.key),
            format!("{wanted} is due here"),
            help,
        )
    }

    /// A text.
    pub(crate) fn text(&self) -> Option<&'a str> {
        match &self.node.value {
            NodeValue::Text(text) => Some(text.trim()),
            NodeValue::Integer(_) | NodeValue::Float(_) | NodeValue::Bool(_) => {
                self.reject_type("a text", "put quotation marks around it to make it a text")
            }
            _ => self.reject_type("a text", ""),
        }
    }

    /// A text; the help tells how to write it where it is none.
    pub(crate) fn text_with_help(&self, help: &str) -> Option<&'a str> {
        match &self.node.value {
            NodeValue::Text(text) => Some(text.trim()),
            _ => self.reject_type("a text", help),
        }
    }

    /// A name: a text that is neither empty nor long, without control characters.
    pub(crate) fn name(&self) -> Option<String> {
        let text = self.text()?;
        let length = text.chars().count();
        if text.is_empty() {
            return self.reject(
                format!("`{}` is an empty name", self.key),
                "a name is due here",
                "",
            );
        }
        if length > bounds::MAX_NAME_CHARACTERS {
            let most = bounds::MAX_NAME_CHARACTERS;
            return self.reject(
                format!("this name has {length} characters"),
                format!("at most {most}"),
                "",
            );
        }
        if text.chars().any(char::is_control) {
            return self.reject(
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
            NodeValue::Bool(truth) => Some(truth),
            _ => self.reject_type("`true` or `false`", ""),
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
        self.choice_with_help(words, &format!("it is one of {}", list_with_or(offered)))
    }

    /// One of a few words, and how all of them are told.
    pub(crate) fn choice_with_help<T: Copy>(&self, words: &[(&str, T)], all: &str) -> Option<T> {
        let NodeValue::Text(text) = &self.node.value else {
            return self.reject_type("a word", all);
        };
        let found = words
            .iter()
            .find(|(word, _)| is_same_word(word, text.trim()));
        match found {
            Some((_, value)) => Some(*value),
            None => self.reject(
                format!("`{}` cannot be `{}`", self.key, shorten(text)),
                suggestion_text(text, words.iter().map(|(word, _)| *word)),
                all,
            ),
        }
    }

    /// The items of a list, at least one.
    pub(crate) fn items(&self, example: &str) -> Option<Vec<KeyedValue<'a>>> {
        let items = self.items_or_empty(example)?;
        if items.is_empty() {
            return self.reject(
                format!("`{}` is an empty list", self.key),
                "at least one is needed",
                format!("write it like `{example}`"),
            );
        }
        Some(items)
    }

    /// The items of a list, perhaps none.
    pub(crate) fn items_or_empty(&self, example: &str) -> Option<Vec<KeyedValue<'a>>> {
        let NodeValue::Sequence(list) = &self.node.value else {
            return self.reject_type("a list", format!("write it like `{example}`"));
        };
        let items = list.iter().map(|node| KeyedValue {
            key: self.key,
            key_id: node.id,
            node,
            faults: self.faults,
        });
        Some(items.collect())
    }

    /// All items of a list read alike; `None` if one cannot be.
    pub(crate) fn read_each<T>(
        &self,
        example: &str,
        read: impl FnMut(KeyedValue<'a>) -> Option<T>,
    ) -> Option<Vec<T>> {
        collect_all(self.items(example)?.into_iter().map(read))
    }

    /// Exactly two items, such as least and most.
    pub(crate) fn read_pair<T>(
        &self,
        example: &str,
        mut read: impl FnMut(KeyedValue<'a>) -> Option<T>,
    ) -> Option<(T, T)> {
        let items = self.items(example)?;
        let [first, second] = items.as_slice() else {
            return self.reject(
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
        let NodeValue::Mapping(pairs) = &self.node.value else {
            return self.reject_type("a group of keys", format!("write it like `{example}`"));
        };
        Some(Fields::new(what, pairs, self.marker(), self.faults))
    }

    /// The entries of a group whose keys may be any words.
    pub(crate) fn entries(&self, example: &str) -> Option<Vec<KeyedValue<'a>>> {
        let NodeValue::Mapping(pairs) = &self.node.value else {
            return self.reject_type("a group of keys", format!("write it like `{example}`"));
        };
        report_duplicate_keys(self.key, pairs, self.faults);
        let entries = pairs.iter().map(|(key, node)| KeyedValue {
            key: &key.text,
            key_id: key.id,
            node,
            faults: self.faults,
        });
        Some(entries.collect())
    }

    /// The number of the key itself, to mark it instead of its value.
    pub(crate) fn key_marker(&self) -> usize {
        self.key_id
    }

    /// Whether the value is a group of keys.
    pub(crate) fn is_group(&self) -> bool {
        matches!(self.node.value, NodeValue::Mapping(_))
    }

    /// The value as written, short.
    pub(crate) fn as_written(&self) -> String {
        match &self.node.value {
            NodeValue::Text(text) => shorten(text),
            NodeValue::Integer(number) => number.to_string(),
            NodeValue::Float(number) => number.to_string(),
            NodeValue::Tagged(tag) => format!("!{}", shorten(tag)),
            other => other.description().to_owned(),
        }
    }
}
