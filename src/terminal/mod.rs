//! The plan and the garden as text for a terminal.
//!
//! Every view is a text of lines, styled with ANSI codes; whoever prints it strips them where
//! colour is not wanted. Nothing is told by colour alone.

pub mod changes;
pub mod check;
pub mod crops;
pub mod diary;
pub mod log;
pub mod map;
pub mod risk;
pub(crate) mod sheet;
pub mod summary;
pub(crate) mod table;
pub(crate) mod water;
pub mod week;
pub(crate) mod words;
pub use table::wrap_lines;

/// Columns that every view keeps to, unless a drawing is told of more.
pub const MAX_COLUMNS: usize = 80;
