//! The plan as pages to look at: the report, which shows everything, and the week's sheet, which
//! hangs beside the rig.
//!
//! A page is one file that needs no other and asks nothing of any network: its style, its script
//! and the plan's data are in it, and its own security policy lets nothing else run. Pictures are
//! SVG, drawn from the rig's geometry. What stays the same over the year is drawn here; what
//! changes with the day shown is drawn by `templates/report.js` from the data in the page.
//!
//! Every word on the pages is in the catalogues of `src/text/catalogues/`, every name that the grower chose is escaped by the
//! templates.

pub(crate) mod air;
pub(crate) mod chore_list;
pub(crate) mod crop_styles;
pub(crate) mod data;
pub(crate) mod findings;
pub(crate) mod harvests;
pub(crate) mod lines;
pub(crate) mod log;
pub(crate) mod paper;
pub(crate) mod policy;
pub(crate) mod report;
pub(crate) mod rig;
pub(crate) mod script;
pub(crate) mod sheet;
pub(crate) mod supplies;
pub(crate) mod water;
pub use report::report;
pub use sheet::{file_name as sheet_name, sheet};

/// What the pages say of their maker, in a `meta` element.
const GENERATOR: &str = concat!(
    "<meta name=\"generator\" content=\"",
    env!("CARGO_PKG_NAME"),
    " "
);
/// The maker's mark stands at the head of a page.
const MAX_HEAD_CHARACTERS: usize = 1000;

/// Whether a text is a page made here, in whatever version.
#[must_use]
pub fn is_ours(text: &str) -> bool {
    let head = text
        .char_indices()
        .nth(MAX_HEAD_CHARACTERS)
        .map_or(text, |(at, _)| &text[..at]);
    head.starts_with("<!doctype html>") && head.contains(GENERATOR)
}
