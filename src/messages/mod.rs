//! Sentences that page and terminal both tell, each view in its own language.

pub(crate) mod infeasible;
pub(crate) mod rig;
pub(crate) mod shortages;
pub(crate) mod water;
pub(crate) mod words;
