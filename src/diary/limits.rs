//! What a diary's days and numbers may be: what is beyond would be a slip of the pen, and no use to reckon
//! with. Each says what is wrong and what would be right.

use chrono::{NaiveDate, TimeDelta};

use crate::diary::entry::{Entry, Event};
use crate::diary::state::ImpossibleEvent;
use crate::garden::Garden;
use crate::garden::bounds::{MAX_SEEDLING_DAYS, TANK_CAPACITY, WEEKS};
use crate::units::{Conductivity, Mass, Volume};

/// Most EC of a nutrient solution \[mS/cm\].
const MAX_EC: f64 = 20.0;
/// Most pH.
const MAX_PH: f64 = 14.0;
/// How far a crop may be from its card, and as far the other way.
const MAX_FACTOR: f64 = 10.0;
/// Most grams expected of one harvest.
const MAX_PLANNED_GRAMS: f64 = 1.0e6;

/// Whether something can be put down for a day: one of the garden's, or one before on which
/// seedlings that are still good for it could have been sown.
///
/// # Errors
/// Which days it can be put down for.
pub fn check_day(garden: &Garden, on: NaiveDate) -> Result<(), ImpossibleEvent> {
    check_in_diary(TimeDelta::days(MAX_SEEDLING_DAYS), garden, on)
}

/// Whether all days of a line can be a diary's. It may be older than the garden's `start`, which
/// is moved on when the time that was planned for is over: by as long as can be planned at once.
pub(super) fn check_days(garden: &Garden, entry: &Entry) -> Result<(), ImpossibleEvent> {
    let longest = TimeDelta::weeks(WEEKS.max.0.into());
    let mut days = entry.dates();
    days.try_for_each(|on| check_in_diary(longest, garden, on))
}

fn check_in_diary(
    before: TimeDelta,
    garden: &Garden,
    on: NaiveDate,
) -> Result<(), ImpossibleEvent> {
    let first = garden.start.checked_sub_signed(before);
    let (first, last) = (first.unwrap_or(NaiveDate::MIN), garden.last_day());
    if first <= on && on <= last {
        Ok(())
    } else {
        Err(ImpossibleEvent::OutsideDiary { on, first, last })
    }
}

fn check(is_within: bool, otherwise: impl Fn() -> String) -> Result<(), String> {
    is_within.then_some(()).ok_or_else(otherwise)
}

pub(super) fn check_cells(cells: u32) -> Result<(), String> {
    check(cells > 0, || "no `cells` are nothing to record".to_owned())
}

pub(super) fn check_water(amount: Volume) -> Result<(), String> {
    // At once what the largest tank holds.
    let (litres, most) = (amount.get(), TANK_CAPACITY.max.get());
    check(litres > 0.0 && litres <= most, || {
        format!("{amount} cannot go into a tank: more than nothing can, and at most {most} l")
    })
}

pub(super) fn check_ec(ec: Conductivity) -> Result<(), String> {
    check((0.0..=MAX_EC).contains(&ec.get()), || {
        format!("an EC of {ec} is no nutrient solution's, which is 0 to {MAX_EC} mS/cm")
    })
}

pub(super) fn check_ph(ph: f64) -> Result<(), String> {
    check((0.0..=MAX_PH).contains(&ph), || {
        format!("{ph} is not a pH, which is 0 to {MAX_PH}")
    })
}

pub(super) fn check_factor(key: &str, factor: f64) -> Result<(), String> {
    check((1.0 / MAX_FACTOR..=MAX_FACTOR).contains(&factor), || {
        format!(
            "a `{key}` of {factor} is no crop's, which is {} to {MAX_FACTOR}",
            1.0 / MAX_FACTOR
        )
    })
}

pub(super) fn check_planned(planned: Mass) -> Result<(), String> {
    check((0.0..=MAX_PLANNED_GRAMS).contains(&planned.get()), || {
        format!("{planned} cannot have been planned of one harvest: 0 to {MAX_PLANNED_GRAMS} g can")
    })
}

impl Event {
    /// Looks whether its numbers can be.
    ///
    /// # Errors
    /// The first that cannot, and what it could be.
    pub(super) fn check_limits(&self) -> Result<(), String> {
        match self {
            Self::Sown { cells: n, .. } | Self::SeedlingsLost { cells: n, .. } => check_cells(*n),
            Self::Harvested {
                expected: Some(expected),
                ..
            } => {
                check_factor("pace", expected.pace)?;
                check_factor("yields", expected.yields)?;
                expected.amount.map_or(Ok(()), check_planned)
            }
            Self::ToppedUp { amount, .. } => check_water(*amount),
            Self::Read { ec: e, ph: p, .. } => {
                e.map_or(Ok(()), check_ec)?;
                p.map_or(Ok(()), check_ph)
            }
            _ => Ok(()),
        }
    }
}
