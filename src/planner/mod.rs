//! From a garden to stays: the problem, its search and its checker.
pub mod bound;
pub mod build;
pub mod checker;
pub mod effort;
pub mod explain;
pub mod monitor;
pub mod parallel;
pub mod problem;
pub mod search;
pub mod solve;
