//! The diary: what really happened, in a file of one line an entry that only ever grows.
//!
//! [`Entry`] is one thing that happened, `line` writes and reads it, `file` keeps the file, and
//! [`State`] is what stands where after it all.

mod check;
mod entry;
pub mod file;
mod limits;
mod line;
mod spoken;
mod state;

pub use check::{check, replay};
pub use entry::{Entry, Event, Expected};
pub use file::Diary;
pub use limits::day as check_day;
pub use line::Fault;
pub use spoken::{Misunderstood, Said};
pub use state::{Gone, Impossible, OfOther, Plant, Reading, Sowing, State, Taken, TopUp, Why};
