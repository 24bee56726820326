//! What page, terminal and JSON have in common to say of plan and garden, before it is prose.

pub mod acceptance;
pub(crate) mod canopy_series;
pub mod card;
pub mod cautions;
pub mod codes;
pub mod figures;
pub mod infeasible;
pub mod log;
pub mod season;
pub mod snapshot;
pub mod water;
