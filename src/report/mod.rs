//! The plan and the garden as people look at them.

pub mod acceptance;
pub mod card;
pub mod cautions;
pub mod codes;
pub mod figures;
pub mod fit;
mod growing;
pub mod log;
pub mod page;
pub mod season;
pub mod standing;
pub mod terminal;
mod told;
pub mod water;
mod words;
