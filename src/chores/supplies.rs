//! What a plan uses up: seeds, cups and fillings of the tanks.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde::Serialize;

use super::scene::Scene;
use super::{solution, sow};
use crate::garden::Garden;
use crate::plan::Plan;

/// What the shown weeks use up.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Supplies {
    /// Seed of each crop that is sown, by key.
    pub seeds: Vec<SeedSupply>,
    /// Cups of growing medium that are sown.
    pub cups: usize,
    /// How often each loop's tank is filled with fresh solution, in the garden's order.
    pub fillings: Vec<usize>,
}

/// Seed of one crop.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SeedSupply {
    /// The crop's key.
    pub crop: String,
    /// Seeds to have in the house, over all sowings; absent where the garden has no card of it.
    pub seeds: Option<u64>,
    /// Cups to sow.
    pub cups: usize,
    /// First and last day of sowing.
    pub sown: (NaiveDate, NaiveDate),
}

/// What the shown weeks of a plan use up.
#[must_use]
pub fn supplies(plan: &Plan, garden: &Garden) -> Supplies {
    let scene = Scene::new(plan, garden);
    let mut crops: BTreeMap<&str, SeedSupply> = BTreeMap::new();
    for (day, batches) in sow::sowings(&scene) {
        for ((crop, _), cups) in batches {
            let seeds = sow::sowing(&scene, crop, cups.len()).map(|s| u64::from(s.seeds()));
            let supply = crops.entry(crop).or_insert_with(|| SeedSupply {
                crop: crop.to_owned(),
                seeds: Some(0),
                cups: 0,
                sown: (day, day),
            });
            supply.seeds = supply.seeds.zip(seeds).map(|(sum, more)| sum + more);
            supply.cups += cups.len();
            supply.sown.1 = day;
        }
    }
    let mut fillings = vec![0; garden.loops.len()];
    for filling in solution::fillings(&scene) {
        fillings[filling.r#loop] += 1;
    }
    Supplies {
        cups: crops.values().map(|supply| supply.cups).sum(),
        seeds: crops.into_values().collect(),
        fillings,
    }
}
