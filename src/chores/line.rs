//! A line of a chore's details, and how it is told where there is little room.

use crate::chores::holes::{self, HolePlace};
use crate::chores::words::ChoreText;

/// A line for paper, and its like for a screen.
#[derive(Debug, Clone)]
pub(super) struct DetailLine {
    pub(super) full: String,
    pub(super) short: String,
}

impl DetailLine {
    /// What `say` makes of the holes: of every one of them, and of as much as a screen takes.
    pub(super) fn from_holes(
        holes: &[HolePlace<'_>],
        words: ChoreText,
        say: impl Fn(&str) -> String,
    ) -> Self {
        Self {
            full: say(&holes::list_all(holes)),
            short: say(&holes::list_short(holes, words)),
        }
    }
}

impl From<String> for DetailLine {
    fn from(line: String) -> Self {
        Self {
            short: line.clone(),
            full: line,
        }
    }
}
