//! How many seeds to sow, so that enough of them come up.

use statrs::distribution::{Binomial, DiscreteCDF};

use crate::garden::crop::Seed;

/// How certain a grower wants to be that there are plants enough (common practice).
pub const SOWING_CONFIDENCE: f64 = 0.95;

/// A chance that is short of the wanted certainty by no more than this meets it: one seed that
/// comes up with 95 % is certain to 95 %, whatever the rounding.
const ROUNDING_TOLERANCE: f64 = 1.0e-9;

/// Chance that at least `wanted` of `sown` seeds make a plant, each with chance `each`: the upper
/// tail of the binomial distribution.
///
/// # Panics
/// If `each` is not between 0 and 1.
#[must_use]
pub fn probability_of_at_least(wanted: u32, sown: u32, each: f64) -> f64 {
    if wanted == 0 {
        return 1.0;
    }
    if wanted > sown {
        return 0.0;
    }
    let up = Binomial::new(each, u64::from(sown)).expect("a chance lies between 0 and 1");
    up.sf(u64::from(wanted) - 1)
}

/// The fewest seeds of which enough come up with the wanted certainty, where `chance(n)` is the
/// chance with `n` seeds, and there is one (it must rise towards 1).
#[must_use]
pub fn min_seeds(wanted: u32, certainty: f64, chance: impl Fn(u32) -> f64) -> u32 {
    let enough = |n: u32| chance(n) >= certainty - ROUNDING_TOLERANCE;
    (wanted..)
        .find(|&n| enough(n))
        .expect("a chance that rises towards 1 reaches any certainty")
}

/// How many of a cup's plants make a good cup: two thirds, rounded up (common practice, no
/// published source: four coriander plants fill the cup of five).
#[must_use]
pub const fn min_plants_per_cup(per_cup: u32) -> u32 {
    per_cup - per_cup / 3
}

/// What goes into one cell of the nursery.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CellSowing {
    /// Seeds in it.
    pub seeds: u32,
    /// Chance that a good cup comes of it.
    pub chance: f64,
}

/// What goes into one cell, of seed that a card states.
///
/// One plant a cup: one seed a cell. Several: so many seeds that on average all of its plants
/// come (common practice, no published source).
///
/// # Panics
/// If none of the seed comes up or all seedlings are lost.
#[must_use]
pub fn cell_sowing(seed: &Seed) -> CellSowing {
    cell_sowing_for(plant_probability(seed), seed.per_cup)
}

/// Chance that a seed makes a plant in its hole.
#[must_use]
pub fn plant_probability(seed: &Seed) -> f64 {
    seed.germination.get() * (1.0 - seed.losses.get())
}

/// [`cell_sowing`] in plain numbers: `each` is the chance that a seed makes a plant.
///
/// # Panics
/// If `each` is not above 0 and at most 1.
#[must_use]
pub fn cell_sowing_for(each: f64, per_cup: u32) -> CellSowing {
    assert!(each > 0.0 && each <= 1.0, "some of the seed makes plants");
    let seeds = if per_cup <= 1 {
        1
    } else {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let average = libm::ceil(f64::from(per_cup) / each - ROUNDING_TOLERANCE) as u32;
        average
    };
    CellSowing {
        seeds,
        chance: probability_of_at_least(min_plants_per_cup(per_cup), seeds, each),
    }
}

/// The chance that a seed makes a plant, where so many seeds a cell make a good cup with a chance:
/// the inverse of [`cell_sowing_for`], to a millionth.
#[must_use]
pub fn plant_probability_from_cell(cell: CellSowing, per_cup: u32) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    while high - low > 1.0e-6 {
        let middle = 0.5 * (low + high);
        if probability_of_at_least(min_plants_per_cup(per_cup), cell.seeds, middle) < cell.chance {
            low = middle;
        } else {
            high = middle;
        }
    }
    high
}

/// What to sow for so many cups.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CupSowing {
    /// Nursery cells to fill, one for each cup and spares.
    pub cells: u32,
    /// Seeds in each cell.
    pub seeds_per_cell: u32,
}

impl CupSowing {
    /// Seeds altogether.
    #[must_use]
    pub fn seeds(&self) -> u32 {
        self.cells * self.seeds_per_cell
    }
}

/// What to sow so that with [`SOWING_CONFIDENCE`] at least `cups` cells make a good cup.
///
/// # Panics
/// If none of the seed comes up or all seedlings are lost.
#[must_use]
pub fn cup_sowing(seed: &Seed, cups: u32) -> CupSowing {
    cup_sowing_for(plant_probability(seed), seed.per_cup, cups)
}

/// [`cup_sowing`] in plain numbers: `each` is the chance that a seed makes a plant.
///
/// # Panics
/// If `each` is not above 0 and at most 1.
#[must_use]
pub fn cup_sowing_for(each: f64, per_cup: u32, cups: u32) -> CupSowing {
    let cell = cell_sowing_for(each, per_cup);
    let enough = |n| probability_of_at_least(cups, n, cell.chance);
    CupSowing {
        cells: min_seeds(cups, SOWING_CONFIDENCE, enough),
        seeds_per_cell: cell.seeds,
    }
}
