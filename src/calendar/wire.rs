//! The bytes of the file: content lines, folded (RFC 5545, 3.1).
//!
//! The `icalendar` crate (0.17) writes against the standard in two ways that are set right here:
//! the last part of a folded line may be an octet too long; and alarms and time zones get a
//! DTSTAMP off the clock and a UID at random, neither of which belongs there. And it takes a
//! place among octets for one among characters: where blanks follow upon many characters of
//! several octets it may never have done with folding. So it gets no blanks ([`protect_spaces`]).

use crate::fingerprint::hexadecimal;

/// The longest line [octets], its end not counted.
const MAX_LINE_OCTETS: usize = 75;

/// Stands for a blank in what the crate writes: no text of a calendar holds a control character.
const SPACE_STANDIN: &str = "\u{1}";

/// A text for the crate to write, whose blanks [`normalise`] brings back.
#[must_use]
pub fn protect_spaces(text: &str) -> String {
    text.replace(' ', SPACE_STANDIN)
}

/// The same file with right lines.
#[must_use]
pub fn normalise(file: &str) -> String {
    let mut right = String::with_capacity(file.len() + file.len() / 32);
    let mut within: Vec<String> = Vec::new();
    let file = unfold(file).replace(SPACE_STANDIN, " ");
    for line in file.split_terminator("\r\n") {
        if let Some(component) = line.strip_prefix("BEGIN:") {
            within.push(component.to_owned());
        } else if line.starts_with("END:") {
            within.pop();
        }
        if !is_stray_stamp(line, within.last()) {
            fold_into(&mut right, line);
        }
    }
    right
}

/// A stamp or identity in a component that has none.
fn is_stray_stamp(line: &str, component: Option<&String>) -> bool {
    let stamped = component.is_some_and(|c| matches!(c.as_str(), "VEVENT" | "VTODO"));
    !stamped && (line.starts_with("DTSTAMP:") || line.starts_with("UID:"))
}

/// The file with its folded lines whole again.
#[must_use]
pub fn unfold(file: &str) -> String {
    file.replace("\r\n ", "").replace("\r\n\t", "")
}

/// A content line, folded so that no physical line is longer than 75 octets and no character is
/// split, with its line end.
#[must_use]
pub fn fold(line: &str) -> String {
    let mut right = String::with_capacity(line.len() + line.len() / 32 + 2);
    fold_into(&mut right, line);
    right
}

fn fold_into(right: &mut String, line: &str) {
    let mut rest = line;
    let mut room = MAX_LINE_OCTETS;
    while rest.len() > room {
        let (head, tail) = rest.split_at(floor_char_boundary(rest, room));
        right.push_str(head);
        right.push_str("\r\n ");
        rest = tail;
        // The blank that marks a continuation takes an octet.
        room = MAX_LINE_OCTETS - 1;
    }
    right.push_str(rest);
    right.push_str("\r\n");
}

/// The last border between characters at or before an octet.
fn floor_char_boundary(text: &str, octet: usize) -> usize {
    (0..=octet)
        .rev()
        .find(|i| text.is_char_boundary(*i))
        .unwrap_or(0)
}

/// A hash of what a component says, in hexadecimal digits: of all its content lines but those
/// that tell of changes.
pub(super) fn fingerprint<'a>(lines: impl IntoIterator<Item = &'a str>) -> String {
    let stamps = ["DTSTAMP:", "LAST-MODIFIED:", "SEQUENCE:"];
    let says = |line: &&str| !stamps.iter().any(|stamp| line.starts_with(stamp));
    let lines = lines.into_iter().filter(says);
    let bytes = lines.flat_map(|line| line.bytes().chain([0]));
    hexadecimal(bytes)
}
