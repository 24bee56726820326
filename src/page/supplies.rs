//! Seed and supplies, as the page lists them.

use crate::chores::{SeedSupply, Supplies, WaterSupply};
use crate::garden::Garden;
use crate::garden::crop::Propagation;
use crate::messages::words::Texts;
use crate::messages::words::crop_name;
use crate::units::Volume;

/// One crop's seed.
#[derive(Debug)]
pub(super) struct SeedRow {
    pub(super) crop: String,
    pub(super) seeds: String,
    pub(super) cups: usize,
    pub(super) first: String,
    pub(super) last: String,
    pub(super) keeps: String,
}

/// A row for every crop that is sown.
pub(super) fn seeds(supplies: &Supplies, garden: &Garden, words: &Texts) -> Vec<SeedRow> {
    supplies
        .seeds
        .iter()
        .map(|supply| SeedRow {
            crop: crop_name(garden, &supply.crop).to_owned(),
            seeds: supply
                .seeds
                .map_or_else(String::new, |n| number(supply, n, words)),
            cups: supply.cups,
            first: words.day(supply.sown.0),
            last: words.day(supply.sown.1),
            keeps: seed_keeping(supply, garden, words),
        })
        .collect()
}

/// Seeds are counted; what is not seed is named. What is in the house is told besides.
fn number(supply: &SeedSupply, n: u64, words: &Texts) -> String {
    let all = match supply.starts {
        Propagation::Seed => n.to_string(),
        Propagation::Cutting | Propagation::Plug => supply.starts.format_count(n, words.language()),
    };
    if supply.in_house == 0 {
        return all;
    }
    let there = supply.in_house.to_string();
    words.with("seeds-there", &[("all", &all), ("there", &there)])
}

fn seed_keeping(supply: &SeedSupply, garden: &Garden, words: &Texts) -> String {
    match garden.crop(&supply.crop) {
        None => String::new(),
        Some(card) => card
            .seed
            .seed_viability
            .map_or_else(|| words.t("keeps-not"), |keeps| words.years(keeps)),
    }
}

/// What else is used up, a line each.
pub(super) fn lines(supplies: &Supplies, garden: &Garden, words: &Texts) -> Vec<String> {
    let cups = words.with("cups-told", &[("n", &supplies.cups.to_string())]);
    let water = supplies
        .loops
        .iter()
        .map(|supply| loop_line(supply, garden, words));
    std::iter::once(cups).chain(water).collect()
}

fn loop_line(supply: &WaterSupply, garden: &Garden, words: &Texts) -> String {
    let litres = |l: f64| Volume::litres(l).in_measurable_units(garden.units);
    let told = words.with(
        "mixed",
        &[
            ("loop", &supply.r#loop),
            ("fillings", &supply.fillings.to_string()),
            ("top-ups", &supply.top_ups.to_string()),
            ("litres", &litres(supply.litres)),
        ],
    );
    let stock = supply.stock_ml.map_or_else(String::new, |ml| {
        words.with("stock", &[("stock", &litres((ml / 1000.0).max(1.0)))])
    });
    format!("{told} {stock}").trim_end().to_owned()
}
