//! Seed in the house, and the days on which to have more: before the first sowing, and again
//! before it has lost its life or runs out.

use std::collections::BTreeMap;

use chrono::{Days, NaiveDate};
use serde::{Deserialize, Serialize};

use crate::diary::DiaryState;
use crate::garden::Garden;
use crate::nature::seed;
use crate::plan::Plan;
use crate::plan::sowings::PlannedSowing;

/// Seed of one crop that comes into the house at once; or cuttings or plugs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SeedLot {
    /// The crop's key.
    pub crop: String,
    /// The day on which it was to be had; absent for what the garden states.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub ordered: Option<NaiveDate>,
    /// How many.
    pub count: u64,
    /// Of these, left on the plan's first morning.
    pub left: u64,
    /// The last day on which it is good; absent for what is bought when it is needed.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub keeps_until: Option<NaiveDate>,
}

impl SeedLot {
    /// Whether it is there on a day, and still good.
    fn is_viable_on(&self, day: NaiveDate) -> bool {
        self.ordered.is_none_or(|ordered| ordered <= day)
            && self.keeps_until.is_none_or(|until| day <= until)
    }
}

/// Seed of one crop to have, for the sowings of one seed's life.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SeedOrder<'p> {
    /// The workday on which to see to it.
    pub day: NaiveDate,
    /// The crop's key.
    pub crop: &'p str,
    /// How many, besides those in the house.
    pub seeds: u64,
    /// Sowings that they are for.
    pub sowings: usize,
    /// The last of these.
    pub until: NaiveDate,
    viable_until: Option<NaiveDate>,
}

/// A later order is told so many days before the sowing that needs it.
const ORDER_LEAD_DAYS: u64 = 14;

/// Days in a year, near enough for the life of seed.
const DAYS_PER_YEAR: f64 = 365.0;

/// What the garden states.
#[must_use]
pub(super) fn stated_lots(garden: &Garden) -> Vec<SeedLot> {
    let lots = garden.seeds.iter().map(|seeds| SeedLot {
        crop: seeds.crop.clone(),
        ordered: None,
        count: seeds.count.into(),
        left: seeds.count.into(),
        keeps_until: (seeds.best_before)
            .or_else(|| viable_until(garden, &seeds.crop, garden.start)),
    });
    lots.collect()
}

/// What is in the house on a morning: what the garden states and what was to be had by then, without
/// what was sown by the diary. The garden's cards are those of its file.
pub(super) fn lots_in_stock(
    garden: &Garden,
    state: &DiaryState,
    former: Option<&Plan>,
    today: NaiveDate,
) -> Vec<SeedLot> {
    let mut lots = stated_lots(garden);
    if let Some(former) = former {
        let ordered = former.seed.iter().filter(|lot| lot.ordered.is_some());
        lots.extend(ordered.map(|lot| SeedLot {
            left: lot.count,
            ..lot.clone()
        }));
        let as_told = former.with_calibrated_crops(garden);
        let sown = crate::plan::sowings::planned_sowings(former, &as_told);
        let orders = seed_orders(former, &as_told, &sown).into_iter();
        lots.extend(orders.filter(|o| o.day < today).map(|order| SeedLot {
            crop: order.crop.to_owned(),
            ordered: Some(order.day),
            count: order.seeds,
            left: order.seeds,
            keeps_until: order.viable_until,
        }));
    }
    let sowings = state.sowings.iter().filter(|s| !s.on_hand && s.on <= today);
    for sowing in sowings {
        if let Some(card) = garden.crop(&sowing.crop) {
            let seeds = u64::from(sowing.cells) * u64::from(seed::cell_sowing(&card.seed).seeds);
            take_seed(&mut lots, &sowing.crop, sowing.on, seeds);
        }
    }
    lots
}

/// Takes seed for a sowing, what goes off first before the rest; how much was lacking.
fn take_seed(lots: &mut [SeedLot], crop: &str, day: NaiveDate, seeds: u64) -> u64 {
    let mut good: Vec<&mut SeedLot> = lots
        .iter_mut()
        .filter(|lot| lot.crop == crop && lot.is_viable_on(day))
        .collect();
    good.sort_by_key(|lot| lot.keeps_until.unwrap_or(NaiveDate::MAX));
    good.into_iter().fold(seeds, |lacking, lot| {
        let taken = lacking.min(lot.left);
        lot.left -= taken;
        lacking - taken
    })
}

/// What a plan's sowings need beyond what is in the house, and when to see to it: by crop, then
/// day. What the garden's cards do not know is left out.
#[must_use]
pub fn seed_orders<'p>(
    plan: &Plan,
    garden: &Garden,
    sown: &[PlannedSowing<'p>],
) -> Vec<SeedOrder<'p>> {
    let workdays: Vec<NaiveDate> = plan
        .start
        .iter_days()
        .take_while(|day| *day <= plan.last)
        .filter(|day| garden.rhythm.is_workday(*day))
        .collect();
    let mut orders = Vec::new();
    for (crop, lacking) in missing_seed(plan, sown) {
        // What was ordered before is in the house, and more is only told of when it is needed.
        let is_new = !(plan.seed.iter()).any(|lot| lot.crop == crop && lot.ordered.is_some());
        for (life, part) in split_by_viability(garden, crop, &lacking)
            .into_iter()
            .enumerate()
        {
            let first = part[0].0;
            let Some(day) = order_day(&workdays, plan.start, is_new && life == 0, first) else {
                continue;
            };
            orders.push(SeedOrder {
                day,
                crop,
                seeds: part.iter().map(|(_, seeds)| seeds).sum(),
                sowings: part.len(),
                until: part[part.len() - 1].0,
                viable_until: viable_until(garden, crop, first),
            });
        }
    }
    orders
}

/// Days of sowing and the seeds that are lacking for each, by crop.
#[must_use]
pub fn missing_seed<'p>(
    plan: &Plan,
    sown: &[PlannedSowing<'p>],
) -> BTreeMap<&'p str, Vec<(NaiveDate, u64)>> {
    let mut lots = plan.seed.clone();
    let mut crops: BTreeMap<&str, Vec<(NaiveDate, u64)>> = BTreeMap::new();
    for sown in sown {
        let Some(sowing) = sown.sowing else { continue };
        let seeds = take_seed(&mut lots, sown.crop, sown.day, sowing.seeds().into());
        if seeds > 0 {
            crops.entry(sown.crop).or_default().push((sown.day, seeds));
        }
    }
    crops
}

/// The last day on which seed is good that is fresh on a day; none for what does not keep.
fn viable_until(garden: &Garden, crop: &str, fresh: NaiveDate) -> Option<NaiveDate> {
    let keeps = garden.crop(crop)?.seed.seed_viability?.get() * DAYS_PER_YEAR;
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    fresh.checked_add_days(Days::new(keeps as u64))
}

/// The sowings of a crop, parted so that no part is longer than its seed keeps.
fn split_by_viability<'s>(
    garden: &Garden,
    crop: &str,
    sowings: &'s [(NaiveDate, u64)],
) -> Vec<&'s [(NaiveDate, u64)]> {
    let mut parts = Vec::new();
    let mut rest = sowings;
    while let Some((first, _)) = rest.first() {
        let until = viable_until(garden, crop, *first);
        let good = rest.partition_point(|(day, _)| until.is_none_or(|until| *day <= until));
        let (part, later) = rest.split_at(good.max(1));
        parts.push(part);
        rest = later;
    }
    parts
}

/// The workday on which to see to the seed of a sowing: the first of the plan for the first
/// seed of a crop that is sown within a year, a while ahead for what comes later.
fn order_day(
    workdays: &[NaiveDate],
    start: NaiveDate,
    first_seed: bool,
    sowing: NaiveDate,
) -> Option<NaiveDate> {
    let first = workdays.first().copied();
    #[allow(clippy::cast_precision_loss)]
    let soon = (sowing - start).num_days() as f64 <= DAYS_PER_YEAR;
    if first_seed && soon {
        return first;
    }
    let ahead = sowing.checked_sub_days(Days::new(ORDER_LEAD_DAYS))?;
    let after = workdays.partition_point(|day| *day <= ahead);
    after.checked_sub(1).map(|at| workdays[at]).or(first)
}
