//! Why a command came to nothing.

use std::io;
use std::path::PathBuf;

use chrono::NaiveDate;

use crate::cli::files::WriteError;
use crate::garden::ReadError;
use crate::plan::ReplanError;
use crate::plan::record::RecordError;
use crate::planner::checker::Violation;

/// Why a command came to nothing, as told to the grower.
#[derive(Debug, thiserror::Error)]
pub enum CommandError {
    /// The garden file is not right.
    #[error(transparent)]
    Garden(#[from] ReadError),
    /// The plan found breaks a rule: it is not handed out.
    #[error(
        "the plan that was found breaks a rule of the garden, which is a fault of this program; \
         nothing was written. What is wrong: {0:?}"
    )]
    RuleViolations(Vec<Violation>),
    /// Files cannot be written.
    #[error("{0}; nothing was written")]
    Write(#[from] WriteError),
    /// There is no plan yet.
    #[error("there is no plan at {} yet; make it with `steadyleaf plan`", .0.display())]
    NoPlan(PathBuf),
    /// The plan cannot be read.
    #[error("{} is not a plan that this version reads ({cause}); make it anew with `steadyleaf plan`", path.display())]
    UnreadablePlan {
        /// The plan file.
        path: PathBuf,
        /// What is wrong with it.
        cause: String,
    },
    /// The day asked for is not planned.
    #[error("{day} is not in the plan, which goes from {start} to {last}")]
    NotInPlan {
        /// The day asked for.
        day: NaiveDate,
        /// The plan's first day.
        start: NaiveDate,
        /// Its last day.
        last: NaiveDate,
    },
    /// It would be planned from a day before something in the diary.
    #[error(
        "the diary goes on to {last}, which is after {asked}: plan from {last} or later, or take \
         out of the diary what has not happened"
    )]
    DiaryBeyondDay {
        /// The day asked for.
        asked: NaiveDate,
        /// The last day of the diary.
        last: NaiveDate,
    },
    /// There is no card of that name.
    #[error("there is no crop card `{key}`{hint}; `steadyleaf crops` lists them all")]
    NoCrop {
        /// The word asked for.
        key: String,
        /// `; did you mean ...?`, or nothing.
        hint: String,
    },
    /// A new garden would lie over an old one.
    #[error("{} is there already and is left as it is; choose another folder", .0.display())]
    GardenExists(PathBuf),
    /// A new garden cannot be written.
    #[error("{} cannot be written: {cause}", path.display())]
    WriteGarden {
        /// What was to be written.
        path: PathBuf,
        /// What the system said.
        cause: io::Error,
    },
    /// Nothing was put down in the diary.
    #[error("not recorded: {0}")]
    Record(#[from] RecordError),
    /// The diary cannot be read.
    #[error("{} cannot be read: {cause}", path.display())]
    Diary {
        /// The diary.
        path: PathBuf,
        /// What the system said.
        cause: io::Error,
    },
    /// The day cannot be planned from.
    #[error("{0}; nothing was written")]
    InvalidDay(ReplanError),
    /// Printing failed.
    #[error("the result cannot be printed: {0}")]
    Print(io::Error),
}

impl From<ReplanError> for CommandError {
    fn from(why: ReplanError) -> Self {
        match why {
            ReplanError::RuleBroken(broken) => Self::RuleViolations(broken),
            other => Self::InvalidDay(other),
        }
    }
}

impl From<Vec<Violation>> for CommandError {
    fn from(broken: Vec<Violation>) -> Self {
        Self::RuleViolations(broken)
    }
}
