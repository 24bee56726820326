//! What the grower wants to eat each week.

use crate::units::Amount;

/// So much of something, every week of its season.
#[derive(Debug, Clone)]
pub struct Want {
    /// Its name, unique in the garden.
    pub name: String,
    /// Keys of the crops that serve it; at least one.
    pub from_crops: Vec<String>,
    /// How much a week; more than nothing.
    pub each_week: Amount,
    /// From which to which day of the year it is wanted; always if absent. The first may lie
    /// later in the year than the last: then the season spans the turn of the year.
    pub season: Option<(YearDay, YearDay)>,
    /// How much it counts against other wants; 1 is usual. Kept in thousandths.
    pub importance_milli: u32,
}

pub use crate::week::YearDay;
