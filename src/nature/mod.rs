//! What sun, air and plants do: pure functions with their sources.
pub mod air;
pub mod growth;
