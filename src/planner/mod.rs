//! From a garden to stays: the problem, its search and its checker.
pub mod problem;
