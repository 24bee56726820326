//! From a tree of values to checked types, collecting everything that is wrong on the way.
//!
//! [`Fields`] is a group of keys, [`Entry`] the value of one of them. A value that is wrong is
//! told to [`FaultCollector`] and reads as `None`; the reading goes on. A reader therefore asks for all
//! its values first and gives up (`?`) only when it puts them together.

pub(crate) mod dates;
pub(crate) mod entry;
pub(crate) mod fields;
pub(crate) mod numbers;
use std::cell::{Cell, RefCell};

use crate::reader::diagnostic::{Diagnostic, ReadError};
use crate::reader::source::Source;
use crate::reader::suggestion::nearest;
use crate::reader::tree;
use crate::units::Units;
pub(crate) use dates::month_name;
pub(crate) use entry::KeyedValue;
pub(crate) use fields::Fields;

/// What is wrong with one value.
struct ValueFault {
    /// The number of the value or key to mark.
    marker: usize,
    message: String,
    label: String,
    help: String,
}

/// Everything found wrong with a file so far.
#[derive(Default)]
pub(crate) struct FaultCollector {
    /// The units in which limits are told.
    pub(crate) units: Cell<Units>,
    values: RefCell<Vec<ValueFault>>,
    files: RefCell<Vec<Diagnostic>>,
}

impl FaultCollector {
    /// Tells of a value; label and help may be empty.
    pub(crate) fn report(
        &self,
        at: usize,
        message: impl Into<String>,
        label: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.values.borrow_mut().push(ValueFault {
            marker: at,
            message: message.into(),
            label: label.into(),
            help: help.into(),
        });
    }

    /// Adds what is wrong with another file.
    pub(crate) fn report_file(&self, diagnostics: impl IntoIterator<Item = Diagnostic>) {
        self.files.borrow_mut().extend(diagnostics);
    }

    /// What was read, if nothing was found wrong.
    pub(crate) fn conclude<T>(self, read: Option<T>, source: &Source) -> Result<T, ReadError> {
        let mut list = self.values.into_inner();
        list.sort_by_key(|finding| finding.marker);
        let untold = list.len().saturating_sub(ReadError::MAX_SHOWN);
        let mut diagnostics: Vec<Diagnostic> = list
            .iter()
            .take(ReadError::MAX_SHOWN)
            .map(|finding| to_diagnostic(finding, source))
            .collect();
        diagnostics.extend(self.files.into_inner());
        match (ReadError::from_diagnostics(diagnostics, untold), read) {
            (None, Some(read)) => Ok(read),
            (Some(refusal), _) => Err(refusal),
            // A reader that gives nothing has told why; this is for the day one forgets.
            (None, None) => Err(ReadError::single(Diagnostic::for_file(
                &source.name,
                format!("`{}` cannot be read as written", source.name),
                "",
            ))),
        }
    }
}

fn to_diagnostic(finding: &ValueFault, source: &Source) -> Diagnostic {
    let diagnostic = Diagnostic::for_file(&source.name, &finding.message, &finding.help);
    match tree::locate(&source.text, finding.marker) {
        Some(position) => diagnostic
            .at(position, &source.text)
            .with_label(&finding.label),
        None => diagnostic,
    }
}

/// "did you mean ...?", or nothing.
pub(crate) fn suggestion_text<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> String {
    did_you_mean(nearest(word, known))
}

/// The question after a word that may have been meant, or nothing.
pub(crate) fn did_you_mean(near: Option<&str>) -> String {
    near.map_or_else(String::new, |near| format!("did you mean `{near}`?"))
}

/// All of them; `None` if one is missing. Unlike `collect`, it looks at every one, so that each
/// can tell what is wrong with it.
pub(crate) fn collect_all<T>(parts: impl IntoIterator<Item = Option<T>>) -> Option<Vec<T>> {
    let parts: Vec<Option<T>> = parts.into_iter().collect();
    parts.into_iter().collect()
}
