//! The lower bound on cost: Lagrangian relaxation by a bundle method, which proves how good a plan is.

pub mod block_dp;
pub mod blocks;
pub mod bundle;
pub mod dual;
pub mod lower_bound;
pub mod max_supply;
pub mod packing_cuts;
pub mod prices;
