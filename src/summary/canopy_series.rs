//! Growing a plan's plants again from the garden, for what a plan does not keep.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::garden::Garden;
use crate::garden::rig::Bank;
use crate::nature::air::{self, DayConditions};
use crate::nature::growth::GrowthTable;
use crate::plan::{Plan, Stay};
use crate::units::Share;

/// Crops in the air of every kind of bank, over all days of a plan's stays.
///
/// Banks that get the same light are of one kind: what grows in one grows likewise in another.
pub(crate) struct CanopySeries<'a> {
    first: NaiveDate,
    /// The kind of each bank of the garden.
    kinds: Vec<usize>,
    /// Every crop of the plan in the air of every kind, by its key.
    growths: BTreeMap<(&'a str, usize), GrowthTable<'a>>,
}

impl<'a> CanopySeries<'a> {
    pub(crate) fn new(plan: &Plan, garden: &'a Garden) -> Self {
        let starts = plan.stays.iter().map(|s| s.transplant);
        let ends = plan.stays.iter().map(|s| s.removal);
        let first = starts.min().unwrap_or(plan.start).min(plan.start);
        let last = ends.max().unwrap_or(plan.last).max(plan.last);
        let days = day_index(first, last) + 1;
        let (lights, kinds) = light_levels(garden);
        let place = &garden.place;
        let airs: Vec<Vec<DayConditions>> = lights
            .iter()
            .map(|&light| air::growing_conditions(place, &place.cover, light, first, days))
            .collect();
        let growths = garden
            .crops
            .iter()
            .filter(|crop| plan.stays.iter().any(|s| s.crop == crop.key))
            .flat_map(|crop| {
                let of_crop = |(kind, air): (usize, &Vec<DayConditions>)| {
                    ((crop.key.as_str(), kind), GrowthTable::new(crop, air))
                };
                airs.iter().enumerate().map(of_crop)
            })
            .collect();
        Self {
            first,
            kinds,
            growths,
        }
    }

    /// The kind of light that a bank gets; banks are counted over the garden.
    pub(crate) fn light_level(&self, bank: usize) -> usize {
        self.kinds[bank]
    }

    /// Development of a stay's plant at the start of each day from transplant to removal: 0 just
    /// set out, 1 ripe, less again after each cut that was made or is planned. Nothing where the
    /// garden has no card of it any more.
    pub(crate) fn development(&self, stay: &Stay, kind: usize) -> Option<Vec<f64>> {
        let at = |day: NaiveDate| day_index(self.first, day);
        let cuts: Vec<usize> = stay.harvest_days().map(at).collect();
        let growth = self.growths.get(&(stay.crop.as_str(), kind))?;
        Some(growth.development_series(at(stay.transplant), at(stay.removal), &cuts))
    }
}

/// The levels of light that banks get, and the level of each bank.
pub(crate) fn light_levels(garden: &Garden) -> (Vec<Share>, Vec<usize>) {
    let mut lights: Vec<Share> = Vec::new();
    let banks = garden.loops.iter().flat_map(|l| &l.banks);
    let kinds = banks
        .map(|bank: &Bank| {
            let known = lights.iter().position(|light| *light == bank.light_share);
            known.unwrap_or_else(|| {
                lights.push(bank.light_share);
                lights.len() - 1
            })
        })
        .collect();
    (lights, kinds)
}

/// How many days `day` comes after `first`; 0 if it does not.
pub(crate) fn day_index(first: NaiveDate, day: NaiveDate) -> usize {
    usize::try_from((day - first).num_days()).unwrap_or(0)
}
