//! What the diary teaches of each crop: how fast it is here, how much it gives, how many of its
//! seeds make plants.

use std::collections::BTreeMap;

use chrono::{Days, NaiveDate};

use crate::diary::{
    DiaryState, ExpectedHarvest, NurserySowing, PlantRecord, RecordedHarvest, RemovalReason,
    RemovedPlant,
};
use crate::garden::Garden;
use crate::garden::crop::{Crop, HarvestHabit};
use crate::garden::holes::{self, Layout};
use crate::nature::air::growing_conditions;
use crate::nature::growth::GrowthTable;
use crate::nature::seed;
use crate::nature::statistics::{BetaPosterior, NormalPosterior, normal_posterior};
use crate::plan::CropCalibration;
use crate::plan::attendance::Attendance;
use crate::planner::build::{harvest_in_unit, is_in_season, want_of};
use crate::units::{self, Mass, Measure, Share};
use crate::week::monday;

/// How far crops in a rig are from their cards' pace, as a standard deviation of the logarithm
/// (our assumption; no published source).
pub const PACE_PRIOR_SD: f64 = 0.14;
/// How far harvest days of one crop in one rig lie from one another, likewise: two harvest days
/// count as much as the card.
pub const PACE_NOISE_SD: f64 = 0.20;
/// The same of yields: a plant differs more from its neighbour than a rig from its card.
pub const YIELD_PRIOR_SD: f64 = 0.20;
/// See [`YIELD_PRIOR_SD`].
pub const YIELD_NOISE_SD: f64 = 0.35;
/// The card's share of seeds that make plants counts as much as so many cells sown.
pub const CARD_PSEUDO_CELLS: f64 = 30.0;
/// Chance that a plant in a hole dies before its first harvest, as long as nothing is known here
/// (common practice, no published source).
pub const PRIOR_DEATH_RATE: f64 = 0.03;
/// [`PRIOR_DEATH_RATE`] counts as much as so many plants.
pub const PRIOR_PLANTS: f64 = 30.0;
/// A single harvest further from its expectation than this factor says nothing of the crop: it
/// was forgotten, or taken as baby leaves.
const OUTLIER_FACTOR: f64 = 2.0;

/// What is known of a crop here, against its card.
#[derive(Debug, Clone, PartialEq)]
pub struct Calibration {
    /// Key of the crop.
    pub crop: String,
    /// Logarithm of how many times as long as its card says it needs.
    pub pace: NormalPosterior,
    /// By how much later than its pace says it is counted on, as a logarithm: harvests differ, and
    /// one that comes early waits, but one that comes late is missed.
    pub margin: f64,
    /// Logarithm of how many times as much as its card says it gives.
    pub yields: NormalPosterior,
    /// Share of cells sown of which a cup comes.
    pub cell_survival: BetaPosterior,
    /// Cells of sowings of which it was told what came, and how many of their plants died or never
    /// came.
    pub sown_and_lost_cells: (u32, u32),
    /// Share of plants in holes that live to their first harvest.
    pub plant_survival: BetaPosterior,
}

impl Calibration {
    /// How many times as long as its card says the crop is counted on to need.
    #[must_use]
    pub fn pace(&self) -> f64 {
        round_to_thousandths(libm::exp(self.pace.mean + self.margin))
    }

    /// How many times as much as its card says the crop gives.
    #[must_use]
    pub fn yields(&self) -> f64 {
        round_to_thousandths(libm::exp(self.yields.mean))
    }

    /// Share of cells counted on to give a plant for a hole; nothing where no sowing is over.
    #[must_use]
    pub fn survival(&self) -> Option<f64> {
        let told = self.sown_and_lost_cells.0 > 0;
        told.then(|| round_to_thousandths(self.cell_survival.mean().clamp(0.05, 1.0)))
    }
}

/// A margin is left of so many of the standard deviations seen, and at the most.
const MARGIN_FACTOR_AND_LIMIT: (f64, f64) = (0.7, 0.06);
/// What deviation is taken for granted, and as many observations as it counts for.
const PRIOR_SD_AND_WEIGHT: (f64, f64) = (0.06, 3.0);

/// The margin left for a crop: none as long as nothing of it was late.
fn margin(observed: &[f64]) -> f64 {
    if observed.iter().all(|&y| y <= 0.0) {
        return 0.0;
    }
    #[allow(clippy::cast_precision_loss)]
    let n = observed.len() as f64;
    let mean = observed.iter().sum::<f64>() / n;
    let squares: f64 = observed.iter().map(|y| (y - mean) * (y - mean)).sum();
    let (usual, count) = PRIOR_SD_AND_WEIGHT;
    let sd = libm::sqrt((squares + count * usual * usual) / (n - 1.0 + count));
    (sd * MARGIN_FACTOR_AND_LIMIT.0).min(MARGIN_FACTOR_AND_LIMIT.1)
}

/// In whole thousandths, so that what is written in a plan is what it was made with.
fn round_to_thousandths(factor: f64) -> f64 {
    (factor * 1000.0).round() / 1000.0
}

/// What the diary teaches of every crop of the garden, in the garden's order.
#[must_use]
pub fn calibrate(garden: &Garden, state: &DiaryState, today: NaiveDate) -> Vec<Calibration> {
    let seen = Observations::new(garden, state, today);
    let crops = garden.crops.iter();
    crops
        .map(|crop| {
            let cells = sown_and_lost_cells(state, &crop.key);
            let card = seed::cell_sowing(&crop.seed).chance;
            let lost = cells.1;
            let paces = seen.paces(crop);
            Calibration {
                crop: crop.key.clone(),
                pace: normal_posterior(&paces, PACE_NOISE_SD, PACE_PRIOR_SD),
                margin: margin(&paces),
                yields: normal_posterior(&seen.yields(crop), YIELD_NOISE_SD, YIELD_PRIOR_SD),
                cell_survival: BetaPosterior::from_mean(card, CARD_PSEUDO_CELLS)
                    .updated(cells.0 - lost, cells.0),
                sown_and_lost_cells: cells,
                plant_survival: seen.surviving_plants(crop),
            }
        })
        .collect()
}

/// What crops are taken for against their cards, those of which nothing was learned left out.
#[must_use]
pub fn applied_calibrations(calibrations: &[Calibration]) -> Vec<CropCalibration> {
    calibrations
        .iter()
        .map(|l| CropCalibration {
            crop: l.crop.clone(),
            pace: l.pace(),
            yields: l.yields(),
            survival: l.survival(),
        })
        .filter(|s| s.pace != 1.0 || s.yields != 1.0 || s.survival.is_some())
        .collect()
}

/// The garden with its cards corrected by what was seen: days to harvest and between cuts,
/// yields, and losses of seedlings.
#[must_use]
pub fn calibrated_garden(garden: &Garden, calibrations: &[CropCalibration]) -> Garden {
    let mut garden = garden.clone();
    for crop in &mut garden.crops {
        if let Some(seen) = calibrations.iter().find(|s| s.crop == crop.key) {
            calibrate_card(crop, seen);
        }
    }
    garden
}

fn calibrate_card(crop: &mut Crop, calibration: &CropCalibration) {
    let longer = |days: units::Days| units::Days::days(days.get() * calibration.pace);
    let more = |mass: Mass| Mass::grams(mass.get() * calibration.yields);
    crop.hole.days = longer(crop.hole.days);
    match &mut crop.harvest {
        HarvestHabit::Head { each, .. } => *each = more(*each),
        HarvestHabit::Cut {
            first,
            later,
            regrowth_days: between,
            ..
        } => {
            *first = more(*first);
            *later = more(*later);
            *between = longer(*between);
        }
        HarvestHabit::Pick { each_week, .. } => *each_week = more(*each_week),
    }
    // Seedlings that are gone for whatever cause are counted together: as losses after all that
    // came up, or, where fewer are lost than never come up by the card, as seed that did.
    if let Some(chance) = calibration.survival {
        let cell = seed::CellSowing {
            chance,
            ..seed::cell_sowing(&crop.seed)
        };
        let survival = seed::plant_probability_from_cell(cell, crop.seed.per_cup).clamp(0.05, 1.0);
        let germination = crop.seed.germination.get().max(survival);
        crop.seed.germination = Share::fraction(germination);
        crop.seed.losses = Share::fraction(1.0 - survival / germination);
    }
}

/// Cells of a crop in sowings of which it was told what came: some died, or all of them went into
/// holes; and how many died. Spares that nobody mentions may have come up or not.
fn sown_and_lost_cells(state: &DiaryState, crop: &str) -> (u32, u32) {
    let told =
        |s: &&NurserySowing| s.crop == crop && !s.on_hand && (s.lost > 0 || s.remaining() == 0);
    let sowings = state.sowings.iter().filter(told);
    sowings.fold((0, 0), |(cells, lost), s| (cells + s.cells, lost + s.lost))
}

struct Observations<'a> {
    garden: &'a Garden,
    layout: Layout,
    plants: Vec<(&'a str, &'a PlantRecord)>,
    /// The crop of each plant that was lost before its first harvest.
    lost_crops: Vec<&'a str>,
    today: NaiveDate,
    /// Days on which somebody was there.
    attendance: Attendance<'a>,
}

impl<'a> Observations<'a> {
    fn new(garden: &'a Garden, state: &'a DiaryState, today: NaiveDate) -> Self {
        let gone = state.removed.iter().map(|g| (g.hole.as_str(), &g.plant));
        let stands = state.plants.iter().map(|(hole, p)| (hole.as_str(), p));
        let is_lost = |g: &&RemovedPlant| {
            matches!(g.reason, RemovalReason::Lost(_)) && g.plant.harvests.is_empty()
        };
        let lost = state.removed.iter().filter(is_lost);
        Self {
            garden,
            layout: holes::layout(garden),
            lost_crops: lost.map(|g| g.plant.crop.as_str()).collect(),
            plants: gone.chain(stands).collect(),
            today,
            attendance: Attendance::from_diary(&garden.rhythm, state),
        }
    }

    /// Harvests of a crop's plants, each with the day that the plan had expected: the logarithm of
    /// how many times as long as by the card the plant needed, by day. Plants taken on one day
    /// after one transplant in one light have grown as one and count once. Of what is picked only
    /// the first harvest tells how long it took, of what is cut every one.
    fn paces(&self, crop: &Crop) -> Vec<f64> {
        let mut observed: BTreeMap<([NaiveDate; 3], usize), PaceObservation> = BTreeMap::new();
        let mut grown: BTreeMap<(usize, NaiveDate), GrowthTable<'_>> = BTreeMap::new();
        let lights = self.bank_lights();
        for (hole, plant) in self.plants_of(crop) {
            let Some(hole) = self.layout.holes.iter().find(|h| h.id == hole) else {
                continue;
            };
            let light = lights[hole.bank];
            let first = lights.iter().position(|l| *l == light).unwrap_or(hole.bank);
            for (from, taken, expected) in timed_harvests(crop, plant) {
                let growth = grown
                    .entry((first, from))
                    .or_insert_with(|| self.growth_table(crop, light, from));
                if let Some(pace) = self.observe_pace(growth, from, taken.on, &expected) {
                    observed.insert(([taken.on, from, expected.on], first), pace);
                }
            }
        }
        impute_paces(observed.into_values())
    }

    /// How much of its time by the card a plant had needed by a harvest.
    fn observe_pace(
        &self,
        growth: &GrowthTable<'_>,
        from: NaiveDate,
        taken: NaiveDate,
        expected: &ExpectedHarvest,
    ) -> Option<PaceObservation> {
        let until = |day: NaiveDate| {
            growth.growth_between(0..usize::try_from((day - from).num_days()).unwrap_or(0))
        };
        let (seen, planned) = (until(taken), until(expected.on));
        if seen <= 0.0 || planned <= 0.0 || !is_plausible(seen / planned) {
            return None;
        }
        let times = |grown: f64| libm::log(grown / planned) + libm::log(expected.pace);
        if taken < expected.on {
            return Some(PaceObservation::Exact(times(seen)));
        }
        let before = expected.on.iter_days().take_while(|d| *d < taken);
        let looks = before.filter(|d| self.attendance.is_attended(*d));
        Some(match looks.last() {
            Some(unripe) => PaceObservation::Exact(times(f64::midpoint(until(unripe), seen))),
            None => PaceObservation::UpperBound(times(seen)),
        })
    }

    /// Plants that lived to their first harvest, of those of which it is known whether they did.
    fn surviving_plants(&self, crop: &Crop) -> BetaPosterior {
        let lived = self
            .plants_of(crop)
            .filter(|(_, p)| !p.harvests.is_empty())
            .count();
        let died = self.lost_crops.iter().filter(|&&of| of == crop.key).count();
        let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        let usual = BetaPosterior::from_mean(1.0 - PRIOR_DEATH_RATE, PRIOR_PLANTS);
        usual.updated(count(lived), count(lived + died))
    }

    /// Harvests that were weighed: the logarithm of how many times as much as by the card. Those
    /// of one day count once, by their mean.
    fn yields(&self, crop: &Crop) -> Vec<f64> {
        let mut observed: BTreeMap<NaiveDate, Vec<f64>> = BTreeMap::new();
        for (_, plant) in self.plants_of(crop) {
            for taken in plant.harvests.iter().filter(|t| !t.as_planned) {
                let share = yield_ratio(crop, taken).filter(|&share| is_plausible(share));
                if let Some(share) = share {
                    observed.entry(taken.on).or_default().push(libm::log(share));
                }
            }
        }
        #[allow(clippy::cast_precision_loss)]
        let mean = |of_day: &Vec<f64>| of_day.iter().sum::<f64>() / of_day.len() as f64;
        observed.values().map(mean).collect()
    }

    fn plants_of<'s>(
        &'s self,
        crop: &'s Crop,
    ) -> impl Iterator<Item = (&'a str, &'a PlantRecord)> + 's {
        let of_crop = |(_, plant): &&(&str, &PlantRecord)| plant.crop == crop.key;
        self.plants.iter().filter(of_crop).copied()
    }

    /// The light of each bank.
    fn bank_lights(&self) -> Vec<Share> {
        let banks = self.garden.loops.iter().flat_map(|l| &l.banks);
        banks.map(|b| b.light_share).collect()
    }

    /// The crop in the air of a light from a day to a year from today.
    fn growth_table<'c>(&self, crop: &'c Crop, light: Share, from: NaiveDate) -> GrowthTable<'c> {
        let place = &self.garden.place;
        let last = self.today + Days::new(365);
        let days = usize::try_from((last - from).num_days()).unwrap_or(1);
        GrowthTable::new(
            crop,
            &growing_conditions(place, &place.cover, light, from, days),
        )
    }
}

/// What one harvest tells of a crop's pace, as a logarithm.
#[derive(Debug, Clone, Copy)]
enum PaceObservation {
    /// It was taken before its day, or left unripe when it was due: it became ripe about midway
    /// between then and its harvest.
    Exact(f64),
    /// It was ripe when it was due, nobody knows since when.
    UpperBound(f64),
}

/// Paces in their order, of those that may have been faster the one that is nearest to what was
/// known before: a plan that leaves some time in hand does not prove itself right by it.
fn impute_paces(paces: impl Iterator<Item = PaceObservation>) -> Vec<f64> {
    let mut known: Vec<f64> = Vec::new();
    for pace in paces {
        let so_far = normal_posterior(&known, PACE_NOISE_SD, PACE_PRIOR_SD).mean;
        known.push(match pace {
            PaceObservation::Exact(pace) => pace,
            PaceObservation::UpperBound(most) => so_far.min(most),
        });
    }
    known
}

/// The harvests of a plant that tell how long it took, where the plan had expected them: since
/// when it had grown for them, and for which day they were expected.
fn timed_harvests<'p>(
    crop: &Crop,
    plant: &'p PlantRecord,
) -> impl Iterator<Item = (NaiveDate, &'p RecordedHarvest, ExpectedHarvest)> {
    let count = match crop.harvest {
        HarvestHabit::Cut { .. } => plant.harvests.len(),
        HarvestHabit::Head { .. } | HarvestHabit::Pick { .. } => 1,
    };
    let since = plant.harvests.iter().map(|t| t.on);
    let since = std::iter::once(plant.transplanted).chain(since);
    let waits = since.zip(&plant.harvests).take(count);
    waits.filter_map(|(from, taken)| Some((from, taken, taken.expected?)))
}

fn is_plausible(share: f64) -> bool {
    (1.0 / OUTLIER_FACTOR..=OUTLIER_FACTOR).contains(&share)
}

/// How many times as much as by the card a harvest gave; nothing where it was not weighed.
fn yield_ratio(crop: &Crop, taken: &RecordedHarvest) -> Option<f64> {
    let amount = taken.amount.filter(|a| a.measure() == Measure::Grams)?;
    #[allow(clippy::cast_precision_loss)]
    let grams = amount.milli() as f64 / 1000.0;
    match (crop.harvest, taken.expected) {
        (HarvestHabit::Head { each, .. }, _) => Some(grams / each.get()),
        (_, Some(expected)) => {
            let planned = expected.amount?.get() / expected.yields;
            (planned > 0.0).then(|| grams / planned)
        }
        _ => None,
    }
    .filter(|share| *share > 0.0)
}

/// What a want was given in each week from that of its first harvest up to a day: the week's
/// Monday, what was wanted (nothing out of its season), and what was harvested, in thousandths of
/// its unit.
#[must_use]
pub fn weekly_supply(
    garden: &Garden,
    state: &DiaryState,
    want: usize,
    until: NaiveDate,
) -> Vec<(NaiveDate, i64, i64)> {
    let stated = &garden.wants[want];
    let measure = stated.each_week.measure();
    let mut weeks: BTreeMap<NaiveDate, i64> = BTreeMap::new();
    let gone = state.removed.iter().map(|g| &g.plant);
    let plants = gone.chain(state.plants.values());
    let served = plants.filter(|p| want_of(&garden.wants, p) == Some(want));
    for taken in served.flat_map(|p| &p.harvests) {
        *weeks.entry(monday(taken.on)).or_default() += harvest_in_unit(measure, taken.amount);
    }
    let each = i64::try_from(stated.each_week.milli()).unwrap_or(i64::MAX);
    let first = weeks.keys().next().copied();
    let mondays = first
        .into_iter()
        .flat_map(|first| first.iter_weeks().take_while(move |m| *m <= until));
    mondays
        .map(|monday| {
            let days = || monday.iter_days().take(7);
            let wanted = stated
                .season
                .is_none_or(|season| days().filter(|d| is_in_season(*d, season)).count() > 3);
            let harvested = weeks.get(&monday).copied().unwrap_or(0);
            (monday, if wanted { each } else { 0 }, harvested)
        })
        .collect()
}

/// Weeks without a shortage that are taken for granted before anything was harvested.
const PRIOR_GOOD_WEEKS: f64 = 6.0;
/// Targets are raised by at most so much, in steps of so much, in thousandths.
const SAFETY_LIMIT_AND_STEP_MILLI: (i64, i64) = (250, 50);

/// By how much more than is wanted should be planned for, so that what is wanted comes in spite
/// of what goes wrong here: as much as past weeks have lacked of it, weeks in which nobody was
/// there, or put down anything at all, not counted. In thousandths of what is wanted, 1000 at the
/// least.
#[must_use]
pub fn demand_safety_factor_milli(
    garden: &Garden,
    state: &DiaryState,
    want: usize,
    today: NaiveDate,
) -> i64 {
    let this_week = monday(today);
    let tended = Attendance::from_diary(&garden.rhythm, state);
    let weeks = weekly_supply(garden, state, want, today);
    let counted = weeks
        .iter()
        .filter(|&&(m, wanted, _)| m < this_week && wanted > 0 && tended.is_week_attended(m));
    #[allow(clippy::cast_precision_loss)]
    let (count, met) = counted.fold((0.0, 0.0), |(count, met), &(_, wanted, had)| {
        (count + 1.0, met + wanted.min(had) as f64 / wanted as f64)
    });
    let share = (PRIOR_GOOD_WEEKS + met) / (PRIOR_GOOD_WEEKS + count);
    let (most, step) = SAFETY_LIMIT_AND_STEP_MILLI;
    #[allow(clippy::cast_possible_truncation)]
    let more = ((1.0 / share - 1.0) * 1000.0).round() as i64;
    1000 + ((more + step / 2) / step * step).min(most)
}
