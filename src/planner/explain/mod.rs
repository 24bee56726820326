//! Why a plan cannot give more, and what would help.

pub mod advice;
pub mod bottleneck;
