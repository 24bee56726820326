//! Plants left to flower for their seed: what room they take from the others.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use crate::garden::holes::{self, Layout};
use crate::garden::{Garden, SeedPlant};
use crate::nature::air::growing_conditions;
use crate::nature::growth::{GrowthTable, HarvestHistory};
use crate::planner::build::{
    ExistingPlant, ON_HAND_CELLS_MILLI, PlanningState, ProblemBuilder, UnitHarvests, day_number,
    incompatible_crop_pairs, millimetres, nursery_cells_milli, whole_days,
};
use crate::planner::problem::{HoleKind, StandingPlant};
use crate::units::{Length, Share};

/// A plant left to flower, from its transplant on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlannedSeedPlant {
    /// Index of its hole.
    pub hole: usize,
    /// Key of the crop's card.
    pub crop: String,
    /// Day of sowing; negative only for a seedling on hand.
    pub sow: i32,
    /// It is a seedling on hand.
    pub on_hand: bool,
    /// Day of transplant.
    pub transplant: u32,
    /// Day on which it is taken out; perhaps beyond the days looked at.
    pub removal: u32,
    /// Nursery cells that it takes, spares included, in thousandths.
    pub(super) cells_milli: u64,
    /// Canopy radius on each day from transplant.
    radius_mm: Vec<u32>,
    /// Crops that cannot share its loop.
    incompatible: Vec<String>,
}

/// A plant that cannot be kept for its seed as the grower states.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnplacedSeedPlant {
    /// What is stated.
    pub plant: SeedPlant,
    /// Why it cannot be.
    pub why: NotKeptReason,
}

/// Why a plant is not kept for its seed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum NotKeptReason {
    /// Its hole is blocked.
    Blocked,
    /// What stands in its hole stands there as long.
    HoleTaken,
    /// No seedling can be ready in time.
    NoSeedling,
}

/// The day on which a plant that stands is taken out for its seed, if the grower keeps it for that:
/// what stands in the hole from the stated day on, and was not set out after its end.
#[must_use]
pub fn seed_plant_removal(
    garden: &Garden,
    stands: &ExistingPlant,
    today: NaiveDate,
) -> Option<NaiveDate> {
    let stated = matching_seed_plant(garden, stands, today)?;
    Some(next_workday(garden, stated.until.max(today)))
}

/// What is stated of a plant that stands, if it is left to flower by a day.
fn matching_seed_plant<'a>(
    garden: &'a Garden,
    stands: &ExistingPlant,
    by: NaiveDate,
) -> Option<&'a SeedPlant> {
    let kept = garden.keep_for_seed.iter();
    let mut kept = kept.filter(|k| k.hole == stands.hole && k.crop == stands.crop);
    kept.find(|k| k.from <= by && stands.transplanted < k.until)
}

fn next_workday(garden: &Garden, day: NaiveDate) -> NaiveDate {
    let mut days = day.iter_days();
    days.find(|d| garden.rhythm.is_workday(*d)).unwrap_or(day)
}

impl PlannedSeedPlant {
    /// Whether it stands at some time from one day to another, or so many days before or after.
    fn is_standing_near(&self, from: u32, to: u32, apart: u32) -> bool {
        from < self.removal + apart && self.transplant < to + apart
    }
}

/// When a seed plant stands in its hole, in days from the one from which is planned.
pub(super) struct FloweringTime {
    /// Index of its hole.
    pub(super) hole: usize,
    /// It stands already.
    pub(super) stands: bool,
    pub(super) from: i64,
    pub(super) until: i64,
}

/// All seed plants: those that are gone, those that stand, and those yet to be set out.
pub(super) fn flowering_times(
    garden: &Garden,
    setting: &PlanningState,
    layout: &Layout,
    kept: &[PlannedSeedPlant],
) -> Vec<FloweringTime> {
    let today = setting.today;
    let one = |stands: &ExistingPlant, gone: Option<NaiveDate>| {
        let by = gone.map_or(Some(today), |day| day.pred_opt())?;
        let from = matching_seed_plant(garden, stands, by)?
            .from
            .max(stands.transplanted);
        let until = gone.or_else(|| seed_plant_removal(garden, stands, today))?;
        Some(FloweringTime {
            hole: layout.holes.iter().position(|h| h.id == stands.hole)?,
            stands: gone.is_none(),
            from: (from - today).num_days(),
            until: (until - today).num_days(),
        })
    };
    let gone = setting.removed.iter();
    let gone = gone.filter_map(|(plant, day)| one(plant, Some(*day)));
    let here = setting.standing.iter().filter_map(|s| one(s, None));
    let to_come = kept.iter().map(|k| FloweringTime {
        hole: k.hole,
        stands: false,
        from: k.transplant.into(),
        until: k.removal.into(),
    });
    gone.chain(here).chain(to_come).collect()
}

/// How a seed plant is in the way of a hole.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct FloweringNeighbour {
    /// Index of the seed plant.
    seed_plant: usize,
    interference: Interference,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Interference {
    /// It stands in the hole, which stays empty for so many days before and after.
    SameHole(u32),
    /// It stands so near that the two radii sum to at most so many millimetres.
    WithinReach(u32),
    /// It stands in the same loop, and some crop cannot share that with it.
    SameLoop,
}

impl ProblemBuilder<'_> {
    /// The seed plants that are yet to be set out, and those that cannot be. Seedlings on hand that
    /// become seed plants are taken out of their lots.
    pub(super) fn plan_seed_plants(
        &mut self,
        layout: &Layout,
        standing: &[StandingPlant],
        changeover: u32,
    ) -> (Vec<PlannedSeedPlant>, Vec<UnplacedSeedPlant>) {
        let (garden, setting, today) = (self.garden, self.setting, self.calendar.start);
        let stands = |k: &SeedPlant| {
            let mut here = setting.standing.iter().filter(|s| s.hole == k.hole);
            here.any(|s| k.from <= today && seed_plant_removal(garden, s, today).is_some())
        };
        let to_come = garden.keep_for_seed.iter();
        let mut to_come: Vec<&SeedPlant> = to_come
            .filter(|k| {
                today < k.until && self.day_index(k.from) < self.calendar.days && !stands(k)
            })
            .collect();
        to_come.sort_by_key(|k| k.from);
        let (mut kept, mut not_kept) = (Vec::new(), Vec::new());
        for plant in to_come {
            let Some(hole) = layout.holes.iter().position(|h| h.id == plant.hole) else {
                continue;
            };
            let there = standing.iter().filter(|s| s.hole == hole);
            let out = there.filter_map(|s| s.ends.iter().map(|end| end.day).min());
            let before = kept.iter().filter(|k: &&PlannedSeedPlant| k.hole == hole);
            let out = out.chain(before.map(|k| k.removal)).max();
            let free = out.map_or(0, |day| day + changeover);
            match self.plan_seed_plant(plant, hole, layout, free as usize) {
                Ok(one) => kept.push(one),
                Err(_) if self.day_index(plant.from) >= self.setting.days as usize => {}
                Err(why) => not_kept.push(UnplacedSeedPlant {
                    plant: plant.clone(),
                    why,
                }),
            }
        }
        (kept, not_kept)
    }

    /// How many days from today a day is; 0 if it is past.
    fn day_index(&self, date: NaiveDate) -> usize {
        usize::try_from((date - self.calendar.start).num_days()).unwrap_or(0)
    }

    /// A seed plant, set out on the first workday of its time for which there is a seedling, or
    /// seed can still be sown, and on which its hole is free.
    fn plan_seed_plant(
        &mut self,
        plant: &SeedPlant,
        hole: usize,
        layout: &Layout,
        free: usize,
    ) -> Result<PlannedSeedPlant, NotKeptReason> {
        let garden = self.garden;
        if self.setting.blocked.contains(&plant.hole) {
            return Err(NotKeptReason::Blocked);
        }
        let (from, until) = (
            self.day_index(plant.from).max(free),
            self.day_index(plant.until),
        );
        if until <= from {
            return Err(NotKeptReason::HoleTaken);
        }
        let crop = garden.crop(&plant.crop).ok_or(NotKeptReason::NoSeedling)?;
        let seedlings = GrowthTable::new(crop, &self.nursery);
        let sown = self.sowing_days(&seedlings);
        let mut lots: Vec<usize> = (0..self.lots.len())
            .filter(|&lot| self.lots[lot].crop == plant.crop)
            .collect();
        // A seedling that is there, the youngest that is ready, or else seed.
        lots.sort_by_key(|&lot| std::cmp::Reverse(self.setting.seedlings[lot].sown));
        let seedling = |day: usize| {
            let mut lots = lots.iter();
            let on_hand = lots
                .find_map(|&lot| Some((self.seedlings_sown_for(&seedlings, lot, day)?, Some(lot))));
            on_hand.or_else(|| Some((i32::try_from(sown[day]?).ok()?, None)))
        };
        let mut workdays = self.calendar.workdays.iter().copied();
        let (transplant, (sow, lot)) = workdays
            .find_map(|day| {
                let is_in_time = from <= day && day < until;
                Some((day, seedling(day).filter(|_| is_in_time)?))
            })
            .ok_or(NotKeptReason::NoSeedling)?;
        let removal = self.day_index(next_workday(garden, plant.until));
        let mut banks = garden.loops.iter().flat_map(|l| &l.banks);
        let bank = banks.nth(layout.holes[hole].bank);
        let light = bank.map_or(Share::fraction(1.0), |b| b.light_share);
        let place = &garden.place;
        let calendar = self.calendar;
        let air = growing_conditions(place, &place.cover, light, calendar.start, calendar.days);
        let past = HarvestHistory {
            transplant,
            harvested: &[],
        };
        let widths = GrowthTable::new(crop, &air).unharvested_canopy(&past, transplant..removal);
        if let Some(lot) = lot {
            self.lots[lot].count -= 1;
        }
        Ok(PlannedSeedPlant {
            hole,
            crop: plant.crop.clone(),
            sow,
            on_hand: lot.is_some(),
            transplant: day_number(transplant),
            removal: day_number(removal),
            cells_milli: lot.map_or_else(|| nursery_cells_milli(crop), |_| ON_HAND_CELLS_MILLI),
            radius_mm: widths.iter().map(|d| millimetres(d / 2.0)).collect(),
            incompatible: incompatible_crop_pairs(garden)
                .into_iter()
                .filter_map(|(a, b)| match (a == plant.crop, b == plant.crop) {
                    (true, _) => Some(b),
                    (_, true) => Some(a),
                    _ => None,
                })
                .collect(),
        })
    }
}

/// Has what stands make way for seed plants that come: out of their holes in time; and what stands
/// near one, or asks for another solution, before it is in the way, or else as soon as it can be.
pub(super) fn make_room(
    standing: &mut [StandingPlant],
    gains: &mut [Vec<UnitHarvests>],
    beside: &[Vec<FloweringNeighbour>],
    kept: &[PlannedSeedPlant],
) {
    for (stands, gains) in standing.iter_mut().zip(gains) {
        let beside = &beside[stands.hole];
        let ends = stands.ends.iter().enumerate();
        // Of each end, its day, whether it is too late for the hole, and whether for others near.
        let ends: Vec<(u32, bool, bool)> = ends
            .map(|(n, end)| {
                let (radius, days) = (stands.radius_of(n), (0, end.day));
                let in_way =
                    |b: &&FloweringNeighbour| is_in_way(&stands.crop, radius, days, b, kept);
                let (mut here, mut near) = (false, false);
                for b in beside.iter().filter(in_way) {
                    let is_inside = matches!(b.interference, Interference::SameHole(_));
                    here |= is_inside;
                    near |= !is_inside;
                }
                (end.day, here, near)
            })
            .collect();
        let in_time = || ends.iter().filter(|(_, here, _)| !here);
        let Some(soonest) = in_time().map(|(day, ..)| *day).min() else {
            continue;
        };
        let is_room = in_time().any(|(.., near)| !near);
        let stays: Vec<bool> = ends
            .iter()
            .map(|&(day, here, near)| !here && if is_room { !near } else { day == soonest })
            .collect();
        // All that is of an end, end by end.
        retain_flagged(&mut stands.ends, &stays);
        retain_flagged(&mut stands.canopies, &stays);
        retain_flagged(gains, &stays);
    }
}

fn retain_flagged<T>(of_ends: &mut Vec<T>, stays: &[bool]) {
    let mut stays = stays.iter();
    of_ends.retain(|_| *stays.next().unwrap_or(&false));
}

/// For each hole, the seed plants in its way.
pub(super) fn flowering_neighbours(
    garden: &Garden,
    layout: &Layout,
    kept: &[PlannedSeedPlant],
) -> Vec<Vec<FloweringNeighbour>> {
    let mut beside = vec![Vec::new(); layout.holes.len()];
    if kept.is_empty() {
        return beside;
    }
    let spread = garden.crops.iter().map(|c| c.size.spread.get());
    let near = holes::neighbour_pairs(layout, Length::metres(spread.fold(0.0, f64::max) * 1.5));
    let slack = 1.0 + garden.spacing.crowding.get();
    let changeover = whole_days(garden.spacing.changeover.get());
    for (n, plant) in kept.iter().enumerate() {
        let mut put = |hole: usize, how| {
            beside[hole].push(FloweringNeighbour {
                seed_plant: n,
                interference: how,
            })
        };
        put(plant.hole, Interference::SameHole(changeover));
        for pair in near
            .iter()
            .filter(|p| p.a == plant.hole || p.b == plant.hole)
        {
            let other = if pair.a == plant.hole { pair.b } else { pair.a };
            let limit = millimetres(pair.distance.get() * slack - 0.000_499);
            put(other, Interference::WithinReach(limit));
        }
        if !plant.incompatible.is_empty() {
            let r#loop = layout.holes[plant.hole].r#loop;
            for (hole, _) in layout
                .holes
                .iter()
                .enumerate()
                .filter(|(_, h)| h.r#loop == r#loop)
            {
                put(hole, Interference::SameLoop);
            }
        }
    }
    beside
}

/// A kind without the stays that seed plants rule out; and what its stays give.
pub(super) fn without_clashes(
    kind: HoleKind,
    gains: Vec<Vec<(u32, i64)>>,
    beside: &[FloweringNeighbour],
    kept: &[PlannedSeedPlant],
) -> (HoleKind, Vec<Vec<(u32, i64)>>) {
    if beside.is_empty() {
        return (kind, gains);
    }
    let (batches, gains) = kind
        .batches
        .into_iter()
        .zip(gains)
        .filter_map(|(mut batch, gains)| {
            let ends = std::mem::take(&mut batch.ends);
            batch.ends = ends
                .into_iter()
                .filter(|end| {
                    let days = (batch.transplant, end.day);
                    let in_way = |b| is_in_way(&batch.crop, &batch.radius_mm, days, b, kept);
                    !beside.iter().any(in_way)
                })
                .collect();
            (!batch.ends.is_empty()).then_some((batch, gains))
        })
        .unzip();
    (HoleKind { batches }, gains)
}

/// Whether a plant that stands from one day to another, so wide on each of these, is in a seed
/// plant's way.
fn is_in_way(
    crop: &String,
    radius: &[u32],
    (from, to): (u32, u32),
    beside: &FloweringNeighbour,
    kept: &[PlannedSeedPlant],
) -> bool {
    let plant = &kept[beside.seed_plant];
    let apart = match beside.interference {
        Interference::SameHole(changeover) => changeover,
        Interference::WithinReach(_) | Interference::SameLoop => 0,
    };
    if !plant.is_standing_near(from, to, apart) {
        return false;
    }
    match beside.interference {
        Interference::SameHole(_) => true,
        Interference::SameLoop => plant.incompatible.contains(crop),
        Interference::WithinReach(limit) => (from.max(plant.transplant)..to.min(plant.removal))
            .any(|day| {
                let at = |radius: &[u32], since: u32| {
                    let last = radius.last().copied().unwrap_or(0);
                    radius.get((day - since) as usize).copied().unwrap_or(last)
                };
                at(radius, from) + at(&plant.radius_mm, plant.transplant) > limit
            }),
    }
}
