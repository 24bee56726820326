//! Printing: results to standard output, all else to standard error, colour to terminals only.

use std::io::{self, IsTerminal, Write};

use anstyle::{AnsiColor, Style};
use serde::Serialize;
use terminal_size::{Width, terminal_size};

use crate::cli::error::CommandError;
use crate::terminal::{MAX_COLUMNS, wrap_lines};

const ERROR_STYLE: Style = AnsiColor::Red.on_default().bold();
const NOTE_STYLE: Style = AnsiColor::Cyan.on_default().bold();

/// A result as text.
pub fn result(text: &str) -> Result<(), CommandError> {
    let mut out = anstream::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        // Whoever reads has read enough, as `head` does.
        Err(cause) if cause.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        written => written.map_err(CommandError::Print),
    }
}

/// A view, folded where the terminal is narrower than it is.
pub fn view(text: &str) -> Result<(), CommandError> {
    let wide = columns();
    if wide < MAX_COLUMNS {
        return result(&wrap_lines(text, wide));
    }
    result(text)
}

/// Columns of the terminal; those that views keep to, if this is none.
pub fn columns() -> usize {
    terminal_size().map_or(MAX_COLUMNS, |(Width(wide), _)| wide.into())
}

/// A result as JSON.
pub fn json(value: &impl Serialize) -> Result<(), CommandError> {
    let text = serde_json::to_string_pretty(value).expect("results have nothing JSON lacks");
    result(&format!("{text}\n"))
}

/// Something to know beside the result.
pub fn note(text: &str) {
    anstream::eprintln!("{NOTE_STYLE}note:{NOTE_STYLE:#} {text}");
}

/// What takes a while, to whoever sits before it.
pub fn progress_note(text: &str) {
    if io::stderr().is_terminal() {
        anstream::eprintln!("{text}");
    }
}

/// Why nothing came of it.
pub fn failure(failure: &CommandError) {
    match failure {
        // These show the lines they are about and begin with their own word.
        CommandError::Garden(refusal) => anstream::eprintln!("{}", refusal.render(true)),
        other => anstream::eprintln!("{ERROR_STYLE}error:{ERROR_STYLE:#} {other}"),
    }
}
