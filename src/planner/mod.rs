//! From a garden to stays: the problem, its search and its checker.
pub mod build;
pub mod bundle;
pub mod ceiling;
pub mod checker;
pub mod cost;
pub mod effort;
pub mod model;
pub mod pair;
pub mod path;
pub mod prices;
pub mod problem;
pub mod search;
pub mod solution;
pub mod solve;
pub mod state;
pub mod watch;
