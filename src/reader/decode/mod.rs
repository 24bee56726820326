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

use crate::reader::diagnostic::{Diagnostic, Refusal};
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
    at: usize,
    message: String,
    label: String,
    help: String,
}

/// Everything found wrong with a file so far.
#[derive(Default)]
pub(crate) struct FaultCollector {
    /// The units in which limits are told.
    pub(crate) units: Cell<Units>,
    list: RefCell<Vec<ValueFault>>,
    others: RefCell<Vec<Diagnostic>>,
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
        self.list.borrow_mut().push(ValueFault {
            at,
            message: message.into(),
            label: label.into(),
            help: help.into(),
        });
    }

    /// Adds what is wrong with another file.
    pub(crate) fn report_file(&self, diagnostics: impl IntoIterator<Item = Diagnostic>) {
        self.others.borrow_mut().extend(diagnostics);
    }

    /// What was read, if nothing was found wrong.
    pub(crate) fn conclude<T>(self, read: Option<T>, source: &Source) -> Result<T, Refusal> {
        let mut list = self.list.into_inner();
        list.sort_by_key(|finding| finding.at);
        let untold = list.len().saturating_sub(Refusal::MAX_SHOWN);
        let mut diagnostics: Vec<Diagnostic> = list
            .iter()
            .take(Refusal::MAX_SHOWN)
            .map(|finding| placed(finding, source))
            .collect();
        diagnostics.extend(self.others.into_inner());
        match (Refusal::of(diagnostics, untold), read) {
            (None, Some(read)) => Ok(read),
            (Some(refusal), _) => Err(refusal),
            // A reader that gives nothing has told why; this is for the day one forgets.
            (None, None) => Err(Refusal::single(Diagnostic::of_file(
                &source.name,
                format!("`{}` cannot be read as written", source.name),
                "",
            ))),
        }
    }
}

fn placed(finding: &ValueFault, source: &Source) -> Diagnostic {
    let diagnostic = Diagnostic::of_file(&source.name, &finding.message, &finding.help);
    match tree::locate(&source.text, finding.at) {
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
pub(crate) fn all<T>(parts: impl IntoIterator<Item = Option<T>>) -> Option<Vec<T>> {
    let parts: Vec<Option<T>> = parts.into_iter().collect();
    parts.into_iter().collect()
}
