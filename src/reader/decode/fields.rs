//! A group of keys: what is missing from it, what is unknown in it.

use std::cell::RefCell;
use std::collections::BTreeSet;

use crate::reader::decode::{FaultCollector, KeyedValue};
use crate::reader::suggestion::{list_with_and, nearest, shorten};
use crate::reader::tree::{Key, Node, NodeValue};

/// A group of keys. Which keys are known follows from what is asked for.
pub(crate) struct Fields<'a> {
    what: &'static str,
    pairs: &'a [(Key, Node)],
    marker: usize,
    faults: &'a FaultCollector,
    known_keys: RefCell<Vec<&'static str>>,
    missing: RefCell<Vec<(&'static str, String)>>,
    /// Keys that do not belong here and have been told.
    reported_keys: RefCell<Vec<&'static str>>,
}

impl<'a> Fields<'a> {
    pub(super) fn new(
        what: &'static str,
        pairs: &'a [(Key, Node)],
        marker: usize,
        faults: &'a FaultCollector,
    ) -> Self {
        report_duplicate_keys(what, pairs, faults);
        Self {
            what,
            pairs,
            marker,
            faults,
            known_keys: RefCell::new(Vec::new()),
            missing: RefCell::new(Vec::new()),
            reported_keys: RefCell::new(Vec::new()),
        }
    }

    /// The keys of the file's top level.
    pub(crate) fn from_root(
        what: &'static str,
        root: &'a Node,
        findings: &'a FaultCollector,
        example: &str,
    ) -> Option<Self> {
        match &root.value {
            NodeValue::Mapping(pairs) => Some(Self::new(what, pairs, root.id, findings)),
            NodeValue::Null => {
                findings.report(
                    root.id,
                    "the file is empty",
                    "",
                    format!("{what} begins with a line such as `{example}`"),
                );
                None
            }
            other => {
                let is = match other {
                    NodeValue::Text(_) => "plain text",
                    other => other.description(),
                };
                findings.report(
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
    pub(crate) fn faults(&self) -> &'a FaultCollector {
        self.faults
    }

    /// The entry of a key: absent (`None`), or there but empty (`Some(None)`, which is told).
    fn find(&self, key: &'static str) -> Option<Option<KeyedValue<'a>>> {
        self.known_keys.borrow_mut().push(key);
        let (found, node) = self.pairs.iter().find(|(k, _)| k.text == key)?;
        let entry = KeyedValue {
            key: &found.text,
            key_id: found.id,
            node,
            faults: self.faults,
        };
        if matches!(node.value, NodeValue::Null) {
            let told: Option<()> = entry.reject(
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
        read: impl FnOnce(KeyedValue<'a>) -> Option<T>,
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
        read: impl FnOnce(KeyedValue<'a>) -> Option<T>,
    ) -> Option<Option<T>> {
        match self.find(key) {
            None => Some(None),
            Some(found) => found.and_then(read).map(Some),
        }
    }

    /// The value of a key, or its default where the key is absent.
    pub(crate) fn optional_or<T>(
        &self,
        key: &'static str,
        default: T,
        read: impl FnOnce(KeyedValue<'a>) -> Option<T>,
    ) -> Option<T> {
        self.optional(key, read).map(|v| v.unwrap_or(default))
    }

    /// All entries, whatever their keys.
    pub(crate) fn entries(&self) -> Vec<KeyedValue<'a>> {
        let entries = self.pairs.iter().map(|(key, node)| KeyedValue {
            key: &key.text,
            key_id: key.id,
            node,
            faults: self.faults,
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
                && matches!(&node.value, NodeValue::Mapping(inner) if inner.iter().any(|(k, _)| k.text == key))
        })
    }

    /// Tells what is wrong with the value of a key, or with the group if the key is absent.
    pub(crate) fn reject(
        &self,
        key: &str,
        message: impl Into<String>,
        label: impl Into<String>,
        help: impl Into<String>,
    ) {
        let spot = self.pairs.iter().find(|(k, _)| k.text == key);
        let spot = spot.map_or(self.marker, |(key, node)| {
            KeyedValue {
                key: &key.text,
                key_id: key.id,
                node,
                faults: self.faults,
            }
            .marker()
        });
        self.faults.report(spot, message, label, help);
    }

    /// Tells of keys that belong to something else, such as `("faces", "a tower")`, and what to
    /// do about them.
    pub(crate) fn reject_keys_of(&self, keys: &[(&'static str, &str)], help: &str) {
        for (key, owner) in keys {
            let Some((found, _)) = self.pairs.iter().find(|(k, _)| k.text == *key) else {
                continue;
            };
            self.reported_keys.borrow_mut().push(key);
            self.faults.report(
                found.id,
                format!("`{key}` belongs to {owner}, which {} is not", self.what),
                "",
                help,
            );
        }
    }

    /// Makes keys known that are not looked at, as it is unknown what they should be.
    pub(crate) fn accept_keys(&self, keys: &[&'static str]) {
        self.known_keys.borrow_mut().extend(keys);
    }

    /// Tells of every key that nobody asked for, and of every one that is missing. A key
    /// misspelt is told once, not once as unknown and once as missing.
    pub(crate) fn finish(self) {
        let asked = self.known_keys.into_inner();
        let told = self.reported_keys.into_inner();
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
            self.faults.report(
                key.id,
                format!("`{}` is not a key of {}", shorten(&key.text), self.what),
                near.map_or_else(String::new, |near| format!("did you mean `{near}`?")),
                format!("its keys are {}", list_with_and(asked.iter().copied())),
            );
        }
        for (key, example) in self.missing.into_inner() {
            if misspelt.contains(&key) {
                continue;
            }
            self.faults.report(
                self.marker,
                format!("`{key}` is missing from {}", self.what),
                format!("{} needs `{key}`", self.what),
                format!("add it, for instance `{example}`"),
            );
        }
    }
}

/// Tells of keys that are stated more than once.
pub(super) fn report_duplicate_keys(what: &str, pairs: &[(Key, Node)], faults: &FaultCollector) {
    let mut seen = BTreeSet::new();
    for (key, _) in pairs {
        if !seen.insert(key.text.as_str()) {
            faults.report(
                key.id,
                format!("`{}` is stated twice in {what}", shorten(&key.text)),
                "the second time",
                "keep one of the two",
            );
        }
    }
}
