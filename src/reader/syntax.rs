//! What the YAML library refuses, in a grower's words.

use crate::reader::diagnostic::{Diagnostic, Position, ReadError};
use crate::reader::source::Source;
use crate::reader::tree::{self, Node, TreeFault};

/// Deeper nesting than any garden has.
const MAX_NESTING: usize = 60;
/// More brackets than any garden has.
const MAX_BRACKETS: usize = 10_000;
/// More named parts (`&`) than any garden has.
const MAX_ANCHORS: usize = 1000;

/// Reads a file's text as a tree of values.
pub(crate) fn parse(source: &Source) -> Result<Node, ReadError> {
    if let Some(diagnostic) = exceeds_limits(source) {
        return Err(ReadError::single(diagnostic));
    }
    tree::parse(&source.text).map_err(|fault| ReadError::single(explain(&fault, source)))
}

/// Tells of a text that the YAML library would take minutes over: its work grows with the square
/// of nested brackets and of named parts.
fn exceeds_limits(source: &Source) -> Option<Diagnostic> {
    let text = source.text.as_str();
    if let Some(position) = position_too_deep(text) {
        let diagnostic = Diagnostic::for_file(
            &source.name,
            "brackets inside brackets, far too deep",
            "a garden needs three or four levels at the most",
        );
        return Some(diagnostic.at(position, text));
    }
    if text.matches('&').count() > MAX_ANCHORS {
        return Some(too_many_values(source));
    }
    if text.matches(['[', '{']).count() > MAX_BRACKETS {
        return Some(Diagnostic::for_file(
            &source.name,
            format!("`{}` has more brackets than any garden", source.name),
            "is this the file that you meant?",
        ));
    }
    None
}

/// Where the brackets are nested deeper than any garden needs. Brackets in texts and comments
/// are counted too, which is no harm: nobody opens sixty and closes none.
fn position_too_deep(text: &str) -> Option<Position> {
    let mut depth = 0usize;
    for (index, line) in text.lines().enumerate() {
        for (column, character) in line.chars().enumerate() {
            match character {
                '[' | '{' => depth += 1,
                ']' | '}' => depth = depth.saturating_sub(1),
                _ => {}
            }
            if depth > MAX_NESTING {
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

fn explain(fault: &TreeFault, source: &Source) -> Diagnostic {
    let (name, text) = (source.name.as_str(), source.text.as_str());
    let error = match fault {
        TreeFault::TooManyValues => return too_many_values(source),
        TreeFault::Library(error) => error,
    };
    let said = error.to_string();
    if said.starts_with("repetition limit") {
        return too_many_values(source);
    }
    if said.contains("more than one document") {
        return multiple_documents(source);
    }
    let tab = position_of_tab(text);
    if let Some(position) = tab {
        return Diagnostic::for_file(
            name,
            format!("line {} is indented with a tab", position.line),
            "use blanks for the indentation, never the tab key; two for each level are usual",
        )
        .at(position, text)
        .with_label("a tab");
    }
    let explained = explain_library_error(&said);
    let diagnostic = Diagnostic::for_file(name, explained.message, explained.help);
    let opening = explained
        .at_opening
        .then(|| position_of_opening(&said, text))
        .flatten();
    match opening.or_else(|| tree::position_of(error, text)) {
        Some(position) => diagnostic.at(position, text).with_label(explained.label),
        None => diagnostic,
    }
}

/// Where the thing begins that the YAML library could not finish. It tells that only in its
/// words: "..., while scanning a quoted scalar at line 1 column 9".
fn position_of_opening(said: &str, text: &str) -> Option<Position> {
    let (_, place) = said.rsplit_once(" at line ")?;
    let (line, column) = place.split_once(" column ")?;
    said.contains(", while").then_some(())?;
    tree::position_at(line.parse().ok()?, column.parse().ok()?, text)
}

fn too_many_values(source: &Source) -> Diagnostic {
    let (holds, help) = if source.text.contains(['&', '*']) {
        (
            "unfolds to",
            "it repeats parts of itself (with `&` and `*`) over and over; write it out plainly",
        )
    } else {
        ("holds", "is this the file that you meant?")
    };
    Diagnostic::for_file(
        &source.name,
        format!("`{}` {holds} more values than any garden has", source.name),
        help,
    )
}

fn multiple_documents(source: &Source) -> Diagnostic {
    let diagnostic = Diagnostic::for_file(
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
fn position_of_tab(text: &str) -> Option<Position> {
    text.lines().enumerate().find_map(|(index, line)| {
        let indentation = line.find(|c| c != ' ' && c != '\t').unwrap_or(0);
        line[..indentation].find('\t').map(|column| Position {
            line: index + 1,
            column: column + 1,
            width: 1,
        })
    })
}

/// What the YAML library said, in other words.
struct Explanation {
    message: String,
    label: &'static str,
    help: &'static str,
    /// Whether to mark where the unfinished thing begins, not where its lack was seen.
    at_opening: bool,
}

/// The first explanation that fits counts, so the telling ones stand before the general ones.
fn explain_library_error(said: &str) -> Explanation {
    let fitting = EXPLANATIONS.iter().find(|e| said.contains(e.pattern));
    fitting.map_or_else(
        || Explanation {
            message: format!(
                "this is not YAML: {}",
                said.split(" at line").next().unwrap_or(said)
            ),
            label: "",
            help: "write `key: value` lines, indented with blanks",
            at_opening: false,
        },
        |e| Explanation {
            message: e.message.to_owned(),
            label: e.label,
            help: e.help,
            at_opening: e.at_opening,
        },
    )
}

struct KnownError {
    pattern: &'static str,
    message: &'static str,
    label: &'static str,
    help: &'static str,
    at_opening: bool,
}

const EXPLANATIONS: &[KnownError] = &[
    KnownError {
        pattern: "mapping values are not allowed",
        message: "a `:` stands where none can be",
        label: "this `:`",
        help: "is the line before it indented alike? a text with `: ` inside needs quotation marks around it",
        at_opening: false,
    },
    KnownError {
        pattern: "unknown anchor",
        message: "this repeats a part that has no name yet",
        label: "nothing above is named so with `&`",
        help: "name the part first with `&name`, then repeat it with `*name`",
        at_opening: false,
    },
    KnownError {
        pattern: "did not find expected ',' or '}'",
        message: "this `{` is not closed, or a comma is missing behind it",
        label: "",
        help: "write groups as `{ holds: 120 l, never_below: 50 % }`",
        at_opening: true,
    },
    KnownError {
        pattern: "did not find expected ',' or ']'",
        message: "this `[` is not closed, or a comma is missing behind it",
        label: "",
        help: "write lists as `[wed, sat]`",
        at_opening: true,
    },
    KnownError {
        pattern: "found unexpected end of stream",
        message: "this quotation mark is not closed",
        label: "",
        help: "put the second quotation mark behind the text",
        at_opening: true,
    },
    KnownError {
        pattern: "did not find expected key",
        message: "this line does not fit the lines above it",
        label: "a key is due here",
        help: "keys that belong together begin in the same column, and each has its `:`",
        at_opening: false,
    },
    KnownError {
        pattern: "did not find expected '-' indicator",
        message: "this line does not fit the list above it",
        label: "a `-` is due here",
        help: "the items of a list begin in the same column, each with a `-`",
        at_opening: false,
    },
    KnownError {
        pattern: "block sequence entries are not allowed",
        message: "a list cannot begin here",
        label: "this `-`",
        help: "begin the list on a line of its own below its key",
        at_opening: false,
    },
    KnownError {
        pattern: "could not find expected ':'",
        message: "this line has no `:` behind its key",
        label: "",
        help: "write `key: value`, with a blank behind the `:`",
        at_opening: true,
    },
    KnownError {
        pattern: "cannot start any token",
        message: "a value cannot begin with this character",
        label: "this one",
        help: "put the value in quotation marks",
        at_opening: false,
    },
    KnownError {
        pattern: "control characters are not allowed",
        message: "there is an invisible control character in the file",
        label: "about here",
        help: "delete it; is this the file that you meant?",
        at_opening: false,
    },
    KnownError {
        pattern: "unknown escape character",
        message: "a backslash in double quotation marks has a meaning of its own",
        label: "this one",
        help: "use single quotation marks, or write the backslash twice",
        at_opening: false,
    },
    KnownError {
        pattern: "recursion limit",
        message: "groups inside groups, far too deep",
        label: "",
        help: "a garden needs three or four levels at the most",
        at_opening: false,
    },
];
