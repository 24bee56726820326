//! The air and light that a plant gets, day by day.

/// One day of air and light where the plant stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DayAir {
    /// Coldest of the day [C].
    pub coldest: f64,
    /// Warmest of the day [C].
    pub warmest: f64,
    /// How the temperature goes between the two.
    pub course: Course,
    /// Photosynthetic light [mol/m2/d].
    pub light: f64,
    /// Time from sunrise to sunset, or under lamps [h].
    pub day_length: f64,
}

/// The course of a day's temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Course {
    /// A sine between coldest and warmest.
    Sine,
    /// `warmest` for so many hours under lamps, `coldest` for the rest.
    Lamps {
        /// Hours of lamp light.
        hours: f64,
    },
}
