//! What the YAML library refuses, in a grower's words.

use super::diagnostic::{Diagnostic, Position, Refusal};
use super::source::Source;
use super::tree::{self, Fault, Node};

/// Deeper nesting than any garden has. The YAML library slows down badly on nests of brackets,
/// so they are counted first.
const DEEPEST_BRACKETS: usize = 60;

/// Reads a file's text as a tree of values.
pub(crate) fn read(source: &Source) -> Result<Node, Refusal> {
    if let Some(position) = too_deep(&source.text) {
        return Err(Refusal::one(
            Diagnostic::of_file(
                &source.name,
                "brackets inside brackets, far too deep",
                "a garden needs three or four levels at the most",
            )
            .at(position, &source.text),
        ));
    }
    tree::parse(&source.text).map_err(|fault| Refusal::one(explain(&fault, source)))
}

/// Where the brackets are nested deeper than any garden needs. Brackets in texts and comments
/// are counted too, which is no harm: nobody opens sixty and closes none.
fn too_deep(text: &str) -> Option<Position> {
    let mut depth = 0usize;
    for (index, line) in text.lines().enumerate() {
        for (column, character) in line.chars().enumerate() {
            match character {
                '[' | '{' => depth += 1,
                ']' | '}' => depth = depth.saturating_sub(1),
                _ => {}
            }
            if depth > DEEPEST_BRACKETS {
                return Some(Position {
                    line: index + 1,
                    column: column + 1,
                    width: 1,
                });
            }
        }
    }
    None
}

fn explain(fault: &Fault, source: &Source) -> Diagnostic {
    let (name, text) = (source.name.as_str(), source.text.as_str());
    let error = match fault {
        Fault::TooManyValues => return unfolds(name),
        Fault::Library(error) => error,
    };
    let said = error.to_string();
    if said.starts_with("repetition limit") {
        return unfolds(name);
    }
    if said.contains("more than one document") {
        return second_document(source);
    }
    let tab = tab_in_indentation(text);
    if let Some(position) = tab {
        return Diagnostic::of_file(
            name,
            format!("line {} is indented with a tab", position.line),
            "use blanks for the indentation, never the tab key; two for each level are usual",
        )
        .at(position, text)
        .with_label("a tab");
    }
    let (message, label, help) = in_plain_words(&said);
    let diagnostic = Diagnostic::of_file(name, message, help);
    match tree::position_of(error, text) {
        Some(position) => diagnostic.at(position, text).with_label(label),
        None => diagnostic,
    }
}

fn unfolds(name: &str) -> Diagnostic {
    Diagnostic::of_file(
        name,
        format!("`{name}` unfolds to more values than any garden has"),
        "it repeats parts of itself (with `&` and `*`) over and over; write it out plainly",
    )
}

fn second_document(source: &Source) -> Diagnostic {
    let diagnostic = Diagnostic::of_file(
        &source.name,
        format!("`{}` holds more than one document", source.name),
        "a line of `---` begins a new document; keep each garden in a file of its own",
    );
    match tree::locate_second_document(&source.text) {
        Some(position) => diagnostic
            .at(position, &source.text)
            .with_label("the second one begins here"),
        None => diagnostic,
    }
}

/// The first tab that stands among the blanks at a line's beginning.
fn tab_in_indentation(text: &str) -> Option<Position> {
    text.lines().enumerate().find_map(|(index, line)| {
        let indentation = line.find(|c| c != ' ' && c != '\t').unwrap_or(0);
        line[..indentation].find('\t').map(|column| Position {
            line: index + 1,
            column: column + 1,
            width: 1,
        })
    })
}

/// Message, label and help for what the YAML library said. The first that fits counts, so the
/// telling ones stand before the general ones.
fn in_plain_words(said: &str) -> (String, &'static str, &'static str) {
    const EXPLAINED: &[(&str, &str, &str, &str)] = &[
        (
            "mapping values are not allowed",
            "a `:` stands where none can be",
            "this `:`",
            "is the line before it indented alike? a text with `: ` inside needs quotation marks around it",
        ),
        (
            "unknown anchor",
            "this repeats a part that has no name yet",
            "nothing above is named so with `&`",
            "name the part first with `&name`, then repeat it with `*name`",
        ),
        (
            "did not find expected ',' or '}'",
            "a `{` is not closed, or a comma is missing",
            "a comma or `}` is due before this",
            "write groups as `{ holds: 120 l, never_below: 50 % }`",
        ),
        (
            "did not find expected ',' or ']'",
            "a `[` is not closed, or a comma is missing",
            "a comma or `]` is due before this",
            "write lists as `[wed, sat]`",
        ),
        (
            "found unexpected end of stream",
            "a quotation mark is not closed",
            "the file ends before it is closed",
            "put the second quotation mark behind the text",
        ),
        (
            "did not find expected key",
            "this line does not fit the lines above it",
            "a key is due here",
            "keys that belong together begin in the same column, and each has its `:`",
        ),
        (
            "did not find expected '-' indicator",
            "this line does not fit the list above it",
            "a `-` is due here",
            "the items of a list begin in the same column, each with a `-`",
        ),
        (
            "block sequence entries are not allowed",
            "a list cannot begin here",
            "this `-`",
            "begin the list on a line of its own below its key",
        ),
        (
            "could not find expected ':'",
            "the line above has no `:` behind its key",
            "a `:` is due before this",
            "write `key: value`, with a blank behind the `:`",
        ),
        (
            "cannot start any token",
            "a value cannot begin with this character",
            "this one",
            "put the value in quotation marks",
        ),
        (
            "control characters are not allowed",
            "there is an invisible control character in the file",
            "about here",
            "delete it; is this the file that you meant?",
        ),
        (
            "unknown escape character",
            "a backslash in double quotation marks has a meaning of its own",
            "this one",
            "use single quotation marks, or write the backslash twice",
        ),
        (
            "recursion limit",
            "groups inside groups, far too deep",
            "",
            "a garden needs three or four levels at the most",
        ),
    ];
    EXPLAINED
        .iter()
        .find(|(words, ..)| said.contains(words))
        .map_or_else(
            || {
                let words = said.split(" at ").next().unwrap_or(said);
                let message = format!("this is not YAML: {words}");
                (
                    message,
                    "",
                    "write `key: value` lines, indented with blanks",
                )
            },
            |&(_, message, label, help)| (message.to_owned(), label, help),
        )
}
