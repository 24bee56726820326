//! The diary: what really happened, in a file of one line an entry that only ever grows.
//!
//! [`Entry`] is one thing that happened, `line` writes and reads it, `file` keeps the file, and
//! [`DiaryState`] is what stands where after it all.

pub(crate) mod check;
pub(crate) mod entry;
pub mod file;
pub(crate) mod limits;
pub(crate) mod line;
pub(crate) mod request;
pub(crate) mod state;
pub use check::{check_entries, replay};
pub use entry::{Entry, Event, ExpectedHarvest};
pub use file::Diary;
pub use limits::check_day;
pub use line::DiaryFault;
pub use request::{InvalidRequest, RecordRequest};
pub use state::{
    DiaryState, ImpossibleEvent, NurserySowing, PlantRecord, Reading, ReassignedSowing,
    RecordedHarvest, RecordedTopUp, RemovalReason, RemovedPlant,
};
