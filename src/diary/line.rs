//! An entry as a line of text, and back: an item of a YAML list, `- { on: 2027-03-03, ... }`.
//!
//! Each line is read alone, so that a torn one costs nothing but itself.

use std::fmt::Write;

use chrono::NaiveDate;
use serde_yaml::value::{Tag, TaggedValue};
use serde_yaml::{Mapping, Value};

use crate::diary::entry::{Entry, Event, OF};
use crate::reader::suggestion::shorten;

/// A line that is no entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DiaryFault {
    /// Its number, counted from 1.
    pub line: usize,
    /// Why not.
    pub why: String,
}

/// Every entry of a text in its order, and every line that is none.
pub fn parse_all(text: &str) -> (Vec<Entry>, Vec<DiaryFault>) {
    let (mut entries, mut faults) = (Vec::new(), Vec::new());
    for (number, line) in (1..).zip(text.lines()) {
        let line = line.trim_start_matches('\u{feff}').trim();
        if line.is_empty() || line.starts_with('#') {
            continue;
        }
        match parse_line(line) {
            Ok(entry) => entries.push(entry),
            Err(why) => faults.push(DiaryFault { line: number, why }),
        }
    }
    (entries, faults)
}

/// What a line may tell of: the events' names.
const EVENT_NAMES: [&str; 11] = [
    "sown",
    "transplanted",
    "lost",
    "harvested",
    "cleared",
    "topped_up",
    "refilled",
    "read",
    "blocked",
    "unblocked",
    "cleaned",
];

/// Keys of a harvest's line that are one field of the event: what the plan had expected.
const EXPECTATION_KEYS: [&str; 4] = ["expected", "planned", "pace", "yields"];

fn parse_line(line: &str) -> Result<Entry, String> {
    let item = line
        .strip_prefix("- ")
        .ok_or_else(|| format!("`{}` is not one `- {{ ... }}` to the line", shorten(line)))?;
    let misspelt = || format!("`{}` is cut off or misspelt", shorten(item));
    let mut keys: Mapping = serde_yaml::from_str(item).map_err(|_| misspelt())?;
    let on = keys.remove("on").ok_or("it has no day (`on`)")?;
    let on: NaiveDate = serde_yaml::from_value(on).map_err(|_| misspelt())?;
    let as_planned = keys.remove("as_planned").map(serde_yaml::from_value);
    let as_planned = as_planned.transpose().map_err(|_| misspelt())?;
    let mut told = EVENT_NAMES
        .into_iter()
        .filter(|event| keys.contains_key(event));
    let (Some(name), None) = (told.next(), told.next()) else {
        return Err("it does not say one thing that happened".to_owned());
    };
    let event = parse_event(name, keys)?;
    event.check_limits()?;
    Ok(Entry {
        on,
        event,
        as_planned: as_planned.unwrap_or(false),
    })
}

/// The event of a line's keys: each must be one of its own.
fn parse_event(name: &str, mut keys: Mapping) -> Result<Event, String> {
    let of = keys.remove(name).unwrap_or_default();
    keys.insert(OF.into(), of);
    if name == "harvested" && keys.contains_key(EXPECTATION_KEYS[0]) {
        let expectation = EXPECTATION_KEYS
            .iter()
            .filter_map(|key| keys.remove_entry(key));
        let expectation: Mapping = expectation.collect();
        keys.insert(EXPECTATION_KEYS[0].into(), expectation.into());
    }
    let variant = match name {
        "lost" if keys.contains_key("cells") => "seedlings_lost",
        _ => name,
    };
    let event = Value::Tagged(Box::new(TaggedValue {
        tag: Tag::new(variant),
        value: keys.into(),
    }));
    serde_yaml::from_value(event).map_err(|why| explain_serde_error(name, &why.to_string()))
}

/// What the library says of an event's fields, as it is to be said of a line's keys.
fn explain_serde_error(name: &str, why: &str) -> String {
    let key = why.split('`').nth(1).unwrap_or_default();
    if why.starts_with("unknown field") {
        format!("`{key}` is no key of a line that tells what was `{name}`")
    } else if why.starts_with("missing field") {
        format!("it does not say `{key}`")
    } else {
        why.to_owned()
    }
}

/// The line of an entry, with its line break.
pub fn render(entry: &Entry) -> String {
    let event = serde_yaml::to_value(&entry.event).expect("an event is data");
    let Value::Tagged(event) = event else {
        unreachable!("an event with its name");
    };
    let name = event.tag.to_string();
    let name = match name.trim_start_matches('!') {
        "seedlings_lost" => "lost",
        name => name,
    };
    let mut line = format!("- {{ on: {}", entry.on);
    write_keys(&mut line, name, &event.value);
    if entry.as_planned {
        line.push_str(", as_planned: true");
    }
    line.push_str(" }\n");
    line
}

fn write_keys(line: &mut String, name: &str, keys: &Value) {
    for (key, value) in keys.as_mapping().into_iter().flatten() {
        let key = key.as_str().filter(|key| *key != OF).unwrap_or(name);
        let text = match value {
            Value::Mapping(_) => {
                write_keys(line, name, value);
                continue;
            }
            Value::String(text) => quote_yaml(text),
            Value::Bool(truth) => truth.to_string(),
            // As Rust writes a number: 6 rather than 6.0.
            Value::Number(number) => number
                .as_f64()
                .map_or_else(|| number.to_string(), |n| n.to_string()),
            other => unreachable!("{other:?} in an event"),
        };
        let _ = write!(line, ", {key}: {text}");
    }
}

/// A text as YAML reads it back: plain where that is safe, else in quotation marks (every JSON
/// text is one in YAML).
fn quote_yaml(text: &str) -> String {
    const SPECIAL: [&str; 8] = ["true", "false", "null", "yes", "no", "on", "off", "nan"];
    let is_plain = is_quantity(text)
        || text.parse::<NaiveDate>().is_ok()
        || text.starts_with(|c: char| c.is_ascii_alphabetic())
            && text.ends_with(|c: char| c.is_ascii_alphanumeric())
            && text
                .chars()
                .all(|c| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | ' '))
            && !SPECIAL.iter().any(|s| s.eq_ignore_ascii_case(text));
    if is_plain {
        return text.to_owned();
    }
    // What JSON leaves as it is and YAML does not take in a text, or takes for a line's end.
    let is_odd = |c: char| {
        c.is_control()
            || matches!(
                c,
                '\u{2028}' | '\u{2029}' | '\u{feff}' | '\u{fffe}' | '\u{ffff}'
            )
    };
    let quoted = serde_json::to_string(text).expect("a text is JSON");
    let mut safe = String::new();
    for c in quoted.chars() {
        if is_odd(c) {
            let _ = write!(safe, "\\u{:04x}", u32::from(c));
        } else {
            safe.push(c);
        }
    }
    safe
}

/// Whether a text is a number with its unit, such as `14 l`: no other thing in YAML.
fn is_quantity(text: &str) -> bool {
    text.split_once(' ').is_some_and(|(number, unit)| {
        number.starts_with(|c: char| c.is_ascii_digit())
            && number.parse::<f64>().is_ok()
            && unit.chars().all(|c| c.is_ascii_alphabetic() || c == '/')
    })
}
