//! What a plan uses up: seeds, cups, water and nutrients.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde::Serialize;

use crate::chores::plan_view::PlanView;
use crate::chores::sow;
use crate::garden::Garden;
use crate::garden::crop::Propagation;
use crate::plan::water::LoopWater;
use crate::plan::{Plan, seed_stock};

/// What the shown weeks use up.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Supplies {
    /// Seed of each crop that is sown, by key.
    pub seeds: Vec<SeedSupply>,
    /// Cups of growing medium that are sown.
    pub cups: usize,
    /// Water and nutrients of each loop, in the garden's order.
    pub loops: Vec<WaterSupply>,
}

/// Seed of one crop.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SeedSupply {
    /// The crop's key.
    pub crop: String,
    /// What it is raised from: `seed`, `cutting` or `plug`.
    #[serde(serialize_with = "serialize_start")]
    pub starts: Propagation,
    /// Seeds to have in the house, over all sowings, or cuttings or plugs; absent where the garden has no card of it.
    pub seeds: Option<u64>,
    /// Of these, in the house already.
    pub in_house: u64,
    /// Cups to sow.
    pub cups: usize,
    /// First and last day of sowing.
    pub sown: (NaiveDate, NaiveDate),
}

fn serialize_start<S: serde::Serializer>(
    starts: &Propagation,
    serializer: S,
) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(starts.key_word())
}

/// Water and nutrients of one loop.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WaterSupply {
    /// The loop's name.
    pub r#loop: String,
    /// How often the tank is filled with fresh solution.
    pub fillings: usize,
    /// How often it is topped up.
    pub top_ups: usize,
    /// Water for both \[l\].
    pub litres: f64,
    /// Stock for both \[ml\]; absent where its strength is not stated.
    pub stock_ml: Option<f64>,
}

/// What the shown weeks of a plan use up.
#[must_use]
pub fn supplies(plan: &Plan, garden: &Garden) -> Supplies {
    let view = PlanView::new(plan, garden);
    let lacking = seed_stock::missing_seed(plan, &view.sown);
    let mut crops: BTreeMap<&str, SeedSupply> = BTreeMap::new();
    for sown in &view.sown {
        let seeds = sown.sowing.map(|s| u64::from(s.seeds()));
        let supply = crops.entry(sown.crop).or_insert_with(|| SeedSupply {
            crop: sown.crop.to_owned(),
            starts: sow::starts(&view, sown.crop),
            seeds: Some(0),
            in_house: 0,
            cups: 0,
            sown: (sown.day, sown.day),
        });
        supply.seeds = supply.seeds.zip(seeds).map(|(sum, more)| sum + more);
        supply.cups += sown.cups as usize;
        supply.sown.1 = sown.day;
    }
    for (crop, supply) in &mut crops {
        let lacking = lacking.get(crop).into_iter().flatten();
        let lacking: u64 = lacking.map(|(_, seeds)| seeds).sum();
        supply.in_house = supply.seeds.unwrap_or(0).saturating_sub(lacking);
    }
    Supplies {
        cups: crops.values().map(|supply| supply.cups).sum(),
        seeds: crops.into_values().collect(),
        loops: plan.water.iter().map(loop_supply).collect(),
    }
}

fn loop_supply(water: &LoopWater) -> WaterSupply {
    let filled = water.changes.iter().map(|c| (c.filled, c.stock_ml));
    let topped = water.top_ups.iter().map(|t| (t.litres, t.stock_ml));
    let all: Vec<(f64, Option<f64>)> = filled.chain(topped).collect();
    let stock: Vec<f64> = all.iter().filter_map(|(_, stock)| *stock).collect();
    WaterSupply {
        r#loop: water.r#loop.clone(),
        fillings: water.changes.len(),
        top_ups: water.top_ups.len(),
        litres: all.iter().map(|(litres, _)| litres).sum(),
        stock_ml: (!stock.is_empty()).then(|| stock.iter().sum()),
    }
}
