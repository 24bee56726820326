//! Sentences that page and terminal both tell, each view in its own language.

pub(super) mod misfits;
pub(super) mod rig;
pub(super) mod shortages;
pub(super) mod water;
