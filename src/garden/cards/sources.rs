//! The `sources` of a crop card: each number in it has one.

use crate::reader::decode::{KeyedValue, suggestion_text};
use crate::reader::suggestion::shorten;
use crate::reader::tree::{Node, NodeValue};

/// Groups of a card that hold numbers.
const GROUPS: [&str; 10] = [
    "harvest",
    "nursery",
    "hole",
    "temperature",
    "light",
    "bolts",
    "size",
    "solution",
    "seed",
    "coefficient",
];

/// A place in a card by its dotted key, and what to mark there.
pub(super) struct CardKey {
    path: String,
    at: usize,
    is_number: bool,
}

/// All keys of a card's numbers and of the groups above them, in the order of the card.
pub(super) fn card_keys(group: KeyedValue<'_>) -> Vec<CardKey> {
    let mut spots = Vec::new();
    if GROUPS.contains(&group.key) {
        spots.push(CardKey {
            path: group.key.to_owned(),
            at: group.marker(),
            is_number: false,
        });
        collect_keys(group.node, group.key, &mut spots);
    }
    spots
}

fn collect_keys(node: &Node, path: &str, spots: &mut Vec<CardKey>) {
    match &node.value {
        NodeValue::Mapping(pairs) => {
            for (key, value) in pairs {
                let path = format!("{path}.{}", key.text);
                if !matches!(
                    value.value,
                    NodeValue::Integer(_) | NodeValue::Float(_) | NodeValue::Text(_)
                ) {
                    spots.push(CardKey {
                        path: path.clone(),
                        at: key.id,
                        is_number: false,
                    });
                }
                collect_keys(value, &path, spots);
            }
        }
        NodeValue::Sequence(items) => items
            .iter()
            .for_each(|item| collect_keys(item, path, spots)),
        other => spots.push(CardKey {
            path: path.to_owned(),
            at: node.id,
            is_number: is_number(other),
        }),
    }
}

fn is_number(value: &NodeValue) -> bool {
    match value {
        NodeValue::Integer(_) | NodeValue::Float(_) => true,
        NodeValue::Text(text) => {
            text.starts_with(|c: char| c.is_ascii_digit() || "+-.".contains(c))
        }
        _ => false,
    }
}

/// Reads the sources and tells of numbers that have none and of sources of nothing.
pub(super) fn read(entry: KeyedValue<'_>, spots: &[CardKey]) -> Option<Vec<(String, String)>> {
    let entries = entry.entries("sources: { nursery: common practice }")?;
    let sources: Vec<(String, String)> = entries
        .iter()
        .filter_map(|e| one_source(*e, spots))
        .collect();
    for spot in spots.iter().filter(|spot| spot.is_number) {
        let covered = entries.iter().any(|e| covers(e.key, &spot.path));
        if !covered {
            entry.faults.report(
                spot.at,
                format!("`{}` has no source", spot.path),
                "where does this number come from?",
                format!(
                    "add it below `sources`, `{}: common practice` if nobody has published it",
                    spot.path
                ),
            );
        }
    }
    Some(sources)
}

/// A source of a key is one of all that stands below it.
fn covers(source: &str, path: &str) -> bool {
    path.strip_prefix(source)
        .is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
}

fn one_source(entry: KeyedValue<'_>, spots: &[CardKey]) -> Option<(String, String)> {
    if !spots.iter().any(|spot| spot.path == entry.key) {
        entry.faults.report(
            entry.key_marker(),
            format!("`{}` is the source of nothing in this card", shorten(entry.key)),
            suggestion_text(entry.key, spots.iter().map(|spot| spot.path.as_str())),
            "sources go by the dotted key of a number, such as `size.spread`, or of a group above it",
        );
        return None;
    }
    let text = entry.text()?;
    if text.is_empty() {
        return entry.reject(
            format!("the source of `{}` is empty", entry.key),
            "",
            "name the source, or say `common practice`",
        );
    }
    Some((entry.key.to_owned(), text.to_owned()))
}
