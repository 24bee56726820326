//! Seed and supplies, as the page lists them.

use super::words::Words;
use crate::chores::Supplies;
use crate::garden::Garden;
use crate::report::terminal::words::called;

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
            seeds: supply.seeds.map_or_else(String::new, |n| n.to_string()),
            cups: supply.cups,
            first: words.day(supply.sown.0),
            last: words.day(supply.sown.1),
            keeps: garden
                .crop(&supply.crop)
                .map_or_else(String::new, |c| c.seed.keeps.to_string()),
        })
        .collect()
}

/// What else is used up, a line each.
pub(super) fn lines(supplies: &Supplies, garden: &Garden, words: &Words) -> Vec<String> {
    let cups = words.with("cups-told", &[("n", &supplies.cups.to_string())]);
    let fillings = garden
        .loops
        .iter()
        .zip(&supplies.fillings)
        .map(|(l, &times)| {
            words.with(
                "mixed",
                &[
                    ("times", &times.to_string()),
                    ("volume", &l.tank.holds.in_units(garden.units)),
                    ("loop", &l.name),
                ],
            )
        });
    std::iter::once(cups).chain(fillings).collect()
}
