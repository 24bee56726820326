//! What a diary's days and numbers may be: what is beyond would be a slip of the pen, and no use to reckon
//! with. Each says what is wrong and what would be right.

use chrono::{NaiveDate, TimeDelta};

use crate::diary::entry::{Entry, Event};
use crate::diary::state::Impossible;
use crate::garden::Garden;
use crate::garden::bounds::{SEEDLING_DAYS, TANK, WEEKS};
use crate::units::{Conductivity, Mass, Volume};

/// Most EC of a nutrient solution \[mS/cm\].
const EC_RANGE: f64 = 20.0;
/// Most pH.
const PH_RANGE: f64 = 14.0;
/// How far a crop may be from its card, and as far the other way.
const FACTOR_RANGE: f64 = 10.0;
/// Most grams expected of one harvest.
const MAX_PLANNED_GRAMS: f64 = 1.0e6;

/// Whether something can be put down for a day: one of the garden's, or one before on which
/// seedlings that are still good for it could have been sown.
///
/// # Errors
/// Which days it can be put down for.
pub fn day(garden: &Garden, on: NaiveDate) -> Result<(), Impossible> {
    not_before(TimeDelta::days(SEEDLING_DAYS), garden, on)
}

/// Whether all days of a line can be a diary's. It may be older than the garden's `start`, which
/// is moved on when the time that was planned for is over: by as long as can be planned at once.
pub(super) fn days(garden: &Garden, entry: &Entry) -> Result<(), Impossible> {
    let longest = TimeDelta::weeks(WEEKS.most.0.into());
    let mut days = entry.dates_named();
    days.try_for_each(|on| not_before(longest, garden, on))
}

fn not_before(before: TimeDelta, garden: &Garden, on: NaiveDate) -> Result<(), Impossible> {
    let first = garden.start.checked_sub_signed(before);
    let (first, last) = (first.unwrap_or(NaiveDate::MIN), garden.last());
    if first <= on && on <= last {
        Ok(())
    } else {
        Err(Impossible::NotOfGarden { on, first, last })
    }
}

fn within(is_within: bool, otherwise: impl Fn() -> String) -> Result<(), String> {
    is_within.then_some(()).ok_or_else(otherwise)
}

pub(super) fn cells(cells: u32) -> Result<(), String> {
    within(cells > 0, || {
        "no `cells` are nothing to put down".to_owned()
    })
}

pub(super) fn water(amount: Volume) -> Result<(), String> {
    // At once what the largest tank holds.
    let (litres, most) = (amount.get(), TANK.most.get());
    within(litres > 0.0 && litres <= most, || {
        format!("{amount} cannot go into a tank: more than nothing can, and at most {most} l")
    })
}

pub(super) fn ec(ec: Conductivity) -> Result<(), String> {
    within((0.0..=EC_RANGE).contains(&ec.get()), || {
        format!("an EC of {ec} is no nutrient solution's, which is 0 to {EC_RANGE} mS/cm")
    })
}

pub(super) fn ph(ph: f64) -> Result<(), String> {
    within((0.0..=PH_RANGE).contains(&ph), || {
        format!("{ph} is not a pH, which is 0 to {PH_RANGE}")
    })
}

pub(super) fn factor(key: &str, factor: f64) -> Result<(), String> {
    within(
        (1.0 / FACTOR_RANGE..=FACTOR_RANGE).contains(&factor),
        || {
            format!(
                "a `{key}` of {factor} is no crop's, which is {} to {FACTOR_RANGE}",
                1.0 / FACTOR_RANGE
            )
        },
    )
}

pub(super) fn planned(planned: Mass) -> Result<(), String> {
    within((0.0..=MAX_PLANNED_GRAMS).contains(&planned.get()), || {
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
            Self::Sown { cells: n, .. } | Self::SeedlingsLost { cells: n, .. } => cells(*n),
            Self::Harvested {
                expected: Some(expected),
                ..
            } => {
                factor("pace", expected.pace)?;
                factor("yields", expected.yields)?;
                expected.amount.map_or(Ok(()), planned)
            }
            Self::ToppedUp { amount, .. } => water(*amount),
            Self::Read { ec: e, ph: p, .. } => {
                e.map_or(Ok(()), ec)?;
                p.map_or(Ok(()), ph)
            }
            _ => Ok(()),
        }
    }
}
