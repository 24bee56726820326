//! What is wrong with a weather file.

use crate::garden::weather::columns::CsvCell;
use crate::reader::diagnostic::{Diagnostic, Position, ReadError};
use crate::reader::source::Source;

/// What is wrong with a weather file so far.
pub(super) struct Faults<'a> {
    pub(super) source: &'a Source,
    diagnostics: Vec<Diagnostic>,
    /// How many more there are than are told.
    omitted: usize,
}

impl<'a> Faults<'a> {
    pub(super) const fn new(source: &'a Source) -> Self {
        Self {
            source,
            diagnostics: Vec::new(),
            omitted: 0,
        }
    }

    pub(super) const fn is_empty(&self) -> bool {
        self.diagnostics.is_empty()
    }

    /// What was read, if nothing was found wrong.
    pub(super) fn conclude<T>(self, read: Option<T>) -> Result<T, ReadError> {
        match (
            ReadError::from_diagnostics(self.diagnostics, self.omitted),
            read,
        ) {
            (None, Some(read)) => Ok(read),
            (Some(refusal), _) => Err(refusal),
            (None, None) => unreachable!("a weather file is only given up with a reason"),
        }
    }

    /// A fault of the file as a whole.
    pub(super) fn report_file(&mut self, message: impl Into<String>, help: impl Into<String>) {
        self.diagnostics
            .push(Diagnostic::for_file(&self.source.name, message, help));
    }

    /// A fault of a line.
    pub(super) fn report_line(
        &mut self,
        line: usize,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.report_cell(line, None, message, help);
    }

    /// A fault of a cell, or of its line.
    pub(super) fn report_cell(
        &mut self,
        line: usize,
        cell: Option<CsvCell<'_>>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        if self.diagnostics.len() >= ReadError::MAX_SHOWN {
            self.omitted += 1;
            return;
        }
        let content = self.source.text.lines().nth(line - 1).unwrap_or_default();
        let (at, marked) = cell.map_or((0, content), |cell| (cell.at, cell.text));
        let position = Position {
            line,
            column: content[..at].chars().count() + 1,
            width: marked.chars().count().max(1),
        };
        self.diagnostics.push(
            Diagnostic::for_file(&self.source.name, message, help).at(position, &self.source.text),
        );
    }
}
