//! Steadyleaf plans what to sow, where to plant it and when to take it, so that a small
//! home-built rig feeds its grower evenly all year.
//!
//! Data flows one way, in the order of these modules.
pub mod quantity;

pub mod week;

pub mod language;

pub mod garden;

pub mod nature;

pub mod plumbing;

pub mod planner;

pub mod plan;

pub mod chores;

pub mod calendar;

pub mod report;

pub mod output;

pub mod cli;
