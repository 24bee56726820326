//! Seed and supplies, as the page lists them.

use crate::chores::{SeedSupply, Supplies, WaterSupply};
use crate::garden::Garden;
use crate::garden::crop::Start;
use crate::messages::words::Words;
use crate::terminal::words::called;
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
pub(super) fn seeds(supplies: &Supplies, garden: &Garden, words: &Words) -> Vec<SeedRow> {
    supplies
        .seeds
        .iter()
        .map(|supply| SeedRow {
            crop: called(garden, &supply.crop).to_owned(),
            seeds: supply
                .seeds
                .map_or_else(String::new, |n| number(supply, n, words)),
            cups: supply.cups,
            first: words.day(supply.sown.0),
            last: words.day(supply.sown.1),
            keeps: keeps(supply, garden, words),
        })
        .collect()
}

/// Seeds are counted; what is not seed is named. What is in the house is told besides.
fn number(supply: &SeedSupply, n: u64, words: &Words) -> String {
    let all = match supply.starts {
        Start::Seed => n.to_string(),
        Start::Cutting | Start::Plug => supply.starts.counted(n, words.language()),
    };
    if supply.in_house == 0 {
        return all;
    }
    let there = supply.in_house.to_string();
    words.with("seeds-there", &[("all", &all), ("there", &there)])
}

fn keeps(supply: &SeedSupply, garden: &Garden, words: &Words) -> String {
    match garden.crop(&supply.crop) {
        None => String::new(),
        Some(card) => card
            .seed
            .keeps
            .map_or_else(|| words.t("keeps-not"), |keeps| words.years(keeps)),
    }
}

/// What else is used up, a line each.
pub(super) fn lines(supplies: &Supplies, garden: &Garden, words: &Words) -> Vec<String> {
    let cups = words.with("cups-told", &[("n", &supplies.cups.to_string())]);
    let water = supplies
        .loops
        .iter()
        .map(|supply| of_loop(supply, garden, words));
    std::iter::once(cups).chain(water).collect()
}

fn of_loop(supply: &WaterSupply, garden: &Garden, words: &Words) -> String {
    let litres = |l: f64| Volume::litres(l).poured(garden.units);
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
