//! From air and light to ripe plants: one plant's life in a hole.

/// One plant's life in a hole, from transplant on, as far as it may stand.
///
/// Days are indices into the air that it was computed from.
#[derive(Debug, Clone, PartialEq)]
pub struct Life {
    /// Day of transplant.
    pub transplant: usize,
    /// First day on which it is ripe (first cut, first picking).
    pub ripe: usize,
    /// Harvests on workdays, rising: every possible one for what is harvested once, the chain
    /// of cuts or pickings otherwise.
    pub harvests: Vec<Gain>,
    /// Days on which it may be removed, rising, each a harvest's day.
    pub ends: Vec<usize>,
    /// Harvested once: only the harvest on the day of removal counts.
    pub once: bool,
    /// Development at the start of each day from transplant to the last end: 0 at transplant,
    /// 1 ripe. Falls back at a cut.
    pub development: Vec<f64>,
    /// Canopy diameter on the same days [m].
    pub diameter: Vec<f64>,
}

/// What one harvest gives.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gain {
    /// The day.
    pub day: usize,
    /// How much [g].
    pub grams: f64,
}

/// Why a plant set out on a day would come to nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OutOfSeason {
    /// A night colder than it stands.
    TooCold,
    /// An afternoon warmer than it stands.
    TooHot,
    /// It runs to seed before it is ripe.
    Bolts,
    /// Less light than it needs.
    TooDark,
    /// It is not ripe by the last day looked at.
    NotInTime,
    /// It is ripe and spoils before a workday comes.
    NobodyThere,
}
