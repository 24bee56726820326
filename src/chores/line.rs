//! A line of a chore's details, and how it is told where there is little room.

use crate::chores::holes::{self, Hole};
use crate::chores::words::Words;

/// A line for paper, and its like for a screen.
#[derive(Debug, Clone)]
pub(super) struct Line {
    pub(super) whole: String,
    pub(super) brief: String,
}

impl Line {
    /// What `say` makes of the holes: of every one of them, and of as much as a screen takes.
    pub(super) fn of(holes: &[Hole<'_>], words: Words, say: impl Fn(&str) -> String) -> Self {
        Self {
            whole: say(&holes::every(holes)),
            brief: say(&holes::short(holes, words)),
        }
    }
}

impl From<String> for Line {
    fn from(line: String) -> Self {
        Self {
            brief: line.clone(),
            whole: line,
        }
    }
}
