//! A file as text, or why it is none.

use std::fs::File;
use std::io::{ErrorKind, Read};
use std::path::Path;

use crate::reader::diagnostic::{Diagnostic, Position, ReadError};

/// A file's name in messages and its text.
#[derive(Debug, Clone)]
pub(crate) struct Source {
    pub(crate) name: String,
    pub(crate) text: String,
}

impl Source {
    /// Reads a file of at most `most_bytes`, never more of it than that.
    pub(crate) fn read(path: &Path, name: &str, max_bytes: u64) -> Result<Self, ReadError> {
        let refuse = |error: std::io::Error| ReadError::single(unreadable_file(name, &error));
        let file = File::open(path).map_err(refuse)?;
        let metadata = file.metadata().map_err(refuse)?;
        if metadata.is_dir() {
            return Err(ReadError::single(Diagnostic::for_file(
                name,
                format!("`{name}` is a folder, not a file"),
                "name the file in it that is meant",
            )));
        }
        if metadata.len() > max_bytes {
            return Err(too_large(name, Some(metadata.len()), max_bytes));
        }
        let mut bytes = Vec::new();
        file.take(max_bytes + 1)
            .read_to_end(&mut bytes)
            .map_err(refuse)?;
        if bytes.len() as u64 > max_bytes {
            return Err(too_large(name, None, max_bytes));
        }
        Self::from_bytes(bytes, name)
    }

    /// Takes bytes as text.
    pub(crate) fn from_bytes(bytes: Vec<u8>, name: &str) -> Result<Self, ReadError> {
        let text = String::from_utf8(bytes).map_err(|error| {
            ReadError::single(not_utf8(
                name,
                error.as_bytes(),
                error.utf8_error().valid_up_to(),
            ))
        })?;
        Ok(Self::from_text(&text, name))
    }

    /// Takes a text, without the mark that some editors put at the very front.
    pub(crate) fn from_text(text: &str, name: &str) -> Self {
        Self {
            name: name.to_owned(),
            text: text.strip_prefix('\u{feff}').unwrap_or(text).to_owned(),
        }
    }
}

pub(crate) fn unreadable_file(name: &str, error: &std::io::Error) -> Diagnostic {
    match error.kind() {
        ErrorKind::NotFound => Diagnostic::for_file(
            name,
            format!("there is no file `{name}`"),
            "check the name and the folder",
        ),
        ErrorKind::PermissionDenied => Diagnostic::for_file(
            name,
            format!("`{name}` may not be read by you"),
            "ask its owner, or change who may read it",
        ),
        _ => Diagnostic::for_file(name, format!("`{name}` cannot be read: {error}"), ""),
    }
}

fn too_large(name: &str, bytes: Option<u64>, max_bytes: u64) -> ReadError {
    let of_size = bytes.map_or_else(String::new, |bytes| format!(" of {}", format_size(bytes)));
    ReadError::single(Diagnostic::for_file(
        name,
        format!("`{name}` is a file{of_size}, too large to read"),
        format!(
            "at most {} is read; is this the file that you meant?",
            format_size(max_bytes)
        ),
    ))
}

/// A size as people say it, in binary kilobytes or megabytes with one decimal, rounded up.
fn format_size(bytes: u64) -> String {
    const MIB: u64 = 1024 * 1024;
    if bytes < MIB {
        return format!("{} KiB", bytes.div_ceil(1024));
    }
    let tenths = bytes.saturating_mul(10).div_ceil(MIB);
    match tenths % 10 {
        0 => format!("{} MiB", tenths / 10),
        rest => format!("{}.{rest} MiB", tenths / 10),
    }
}

fn not_utf8(name: &str, bytes: &[u8], valid: usize) -> Diagnostic {
    const HELP: &str = "save it again in your editor with the encoding UTF-8";
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        return Diagnostic::for_file(name, format!("`{name}` is saved in UTF-16"), HELP);
    }
    // What is well-formed before the fault tells its line; the line is shown with a stand-in
    // character where the fault is.
    let before = String::from_utf8_lossy(&bytes[..valid]).into_owned();
    let line_start = before.rfind('\n').map_or(0, |at| at + 1);
    let position = Position {
        line: before.matches('\n').count() + 1,
        column: before[line_start..].chars().count() + 1,
        width: 1,
    };
    if bytes.contains(&0) {
        return Diagnostic::for_file(
            name,
            format!("`{name}` is not a text file"),
            "is this the file that you meant?",
        );
    }
    let shown = String::from_utf8_lossy(bytes);
    Diagnostic::for_file(
        name,
        format!("line {} has a character that is not UTF-8", position.line),
        HELP,
    )
    .at(position, &shown)
    .with_label("this one")
}
