//! What the diary teaches of each crop: how fast it is here, how much it gives, how many of its
//! seeds make plants.

use std::collections::BTreeMap;

use chrono::{Days, NaiveDate};

use crate::diary::{Expected, Gone, Plant, Sowing, State, Taken, Why};
use crate::garden::Garden;
use crate::garden::crop::{Crop, Harvest};
use crate::garden::holes::{self, Layout};
use crate::nature::air::air;
use crate::nature::growth::Growth;
use crate::nature::seed;
use crate::nature::statistics::{ShareKnown, Shrunk, shrunk};
use crate::plan::CropSeen;
use crate::plan::attendance::Tended;
use crate::planner::build::{counted_as, in_season, want_of};
use crate::units::{self, Mass, Measure, Share};
use crate::week::monday;

/// How far crops in a rig are from their cards' pace, as a standard deviation of the logarithm
/// (our assumption; no published source).
pub const PACE_SPREAD: f64 = 0.14;
/// How far harvest days of one crop in one rig lie from one another, likewise: two harvest days
/// count as much as the card.
pub const PACE_NOISE: f64 = 0.20;
/// The same of yields: a plant differs more from its neighbour than a rig from its card.
pub const YIELD_SPREAD: f64 = 0.20;
/// See [`YIELD_SPREAD`].
pub const YIELD_NOISE: f64 = 0.35;
/// The card's share of seeds that make plants counts as much as so many cells sown.
pub const CARD_CELLS: f64 = 30.0;
/// Chance that a plant in a hole dies before its first harvest, as long as nothing is known here
/// (common practice, no published source).
pub const DIES: f64 = 0.03;
/// [`DIES`] counts as much as so many plants.
pub const USUAL_PLANTS: f64 = 30.0;
/// A single harvest further from its expectation than this factor says nothing of the crop: it
/// was forgotten, or taken as baby leaves.
const BELIEVED: f64 = 2.0;

/// What is known of a crop here, against its card.
#[derive(Debug, Clone, PartialEq)]
pub struct Learned {
    /// Key of the crop.
    pub crop: String,
    /// Logarithm of how many times as long as its card says it needs.
    pub pace: Shrunk,
    /// By how much later than its pace says it is counted on, as a logarithm: harvests differ, and
    /// one that comes early waits, but one that comes late is missed.
    pub margin: f64,
    /// Logarithm of how many times as much as its card says it gives.
    pub yields: Shrunk,
    /// Share of cells sown of which a cup comes.
    pub survival: ShareKnown,
    /// Cells of sowings of which it was told what came, and how many of their plants died or never
    /// came.
    pub cells: (u32, u32),
    /// Share of plants in holes that live to their first harvest.
    pub living: ShareKnown,
}

impl Learned {
    /// How many times as long as its card says the crop is counted on to need.
    #[must_use]
    pub fn pace(&self) -> f64 {
        rounded(libm::exp(self.pace.mean + self.margin))
    }

    /// How many times as much as its card says the crop gives.
    #[must_use]
    pub fn yields(&self) -> f64 {
        rounded(libm::exp(self.yields.mean))
    }

    /// Share of cells counted on to give a plant for a hole; nothing where no sowing is over.
    #[must_use]
    pub fn survival(&self) -> Option<f64> {
        let told = self.cells.0 > 0;
        told.then(|| rounded(self.survival.mean().clamp(0.05, 1.0)))
    }
}

/// A margin is left of so many of the standard deviations seen, and at the most.
const MARGIN: (f64, f64) = (0.7, 0.06);
/// What deviation is taken for granted, and as many observations as it counts for.
const USUAL_DEVIATION: (f64, f64) = (0.06, 3.0);

/// The margin left for a crop: none as long as nothing of it was late.
fn margin(observed: &[f64]) -> f64 {
    if observed.iter().all(|&y| y <= 0.0) {
        return 0.0;
    }
    #[allow(clippy::cast_precision_loss)]
    let n = observed.len() as f64;
    let mean = observed.iter().sum::<f64>() / n;
    let squares: f64 = observed.iter().map(|y| (y - mean) * (y - mean)).sum();
    let (usual, count) = USUAL_DEVIATION;
    let sd = libm::sqrt((squares + count * usual * usual) / (n - 1.0 + count));
    (sd * MARGIN.0).min(MARGIN.1)
}

/// In whole thousandths, so that what is written in a plan is what it was made with.
fn rounded(factor: f64) -> f64 {
    (factor * 1000.0).round() / 1000.0
}

/// What the diary teaches of every crop of the garden, in the garden's order.
#[must_use]
pub fn learned(garden: &Garden, state: &State, today: NaiveDate) -> Vec<Learned> {
    let seen = Seen::new(garden, state, today);
    let crops = garden.crops.iter();
    crops
        .map(|crop| {
            let cells = cells(state, &crop.key);
            let card = seed::cell(&crop.seed).chance;
            let lost = cells.1;
            let paces = seen.paces(crop);
            Learned {
                crop: crop.key.clone(),
                pace: shrunk(&paces, PACE_NOISE, PACE_SPREAD),
                margin: margin(&paces),
                yields: shrunk(&seen.yields(crop), YIELD_NOISE, YIELD_SPREAD),
                survival: ShareKnown::stated(card, CARD_CELLS).after(cells.0 - lost, cells.0),
                cells,
                living: seen.living(crop),
            }
        })
        .collect()
}

/// What crops are taken for against their cards, those of which nothing was learned left out.
#[must_use]
pub fn seen(learned: &[Learned]) -> Vec<CropSeen> {
    learned
        .iter()
        .map(|l| CropSeen {
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
pub fn corrected(garden: &Garden, seen: &[CropSeen]) -> Garden {
    let mut garden = garden.clone();
    for crop in &mut garden.crops {
        if let Some(seen) = seen.iter().find(|s| s.crop == crop.key) {
            correct(crop, seen);
        }
    }
    garden
}

fn correct(crop: &mut Crop, seen: &CropSeen) {
    let longer = |days: units::Days| units::Days::days(days.get() * seen.pace);
    let more = |mass: Mass| Mass::grams(mass.get() * seen.yields);
    crop.hole.days = longer(crop.hole.days);
    match &mut crop.harvest {
        Harvest::Head { each, .. } => *each = more(*each),
        Harvest::Cut {
            first,
            later,
            between,
            ..
        } => {
            *first = more(*first);
            *later = more(*later);
            *between = longer(*between);
        }
        Harvest::Pick { each_week, .. } => *each_week = more(*each_week),
    }
    // Seedlings that are gone for whatever cause are counted together: as losses after all that
    // came up, or, where fewer are lost than never come up by the card, as seed that did.
    if let Some(chance) = seen.survival {
        let cell = seed::Cell {
            chance,
            ..seed::cell(&crop.seed)
        };
        let survival = seed::each_of(cell, crop.seed.per_cup).clamp(0.05, 1.0);
        let germination = crop.seed.germination.get().max(survival);
        crop.seed.germination = Share::fraction(germination);
        crop.seed.losses = Share::fraction(1.0 - survival / germination);
    }
}

/// Cells of a crop in sowings of which it was told what came: some died, or all of them went into
/// holes; and how many died. Spares that nobody mentions may have come up or not.
fn cells(state: &State, crop: &str) -> (u32, u32) {
    let told = |s: &&Sowing| s.crop == crop && !s.on_hand && (s.lost > 0 || s.left() == 0);
    let sowings = state.sowings.iter().filter(told);
    sowings.fold((0, 0), |(cells, lost), s| (cells + s.cells, lost + s.lost))
}

struct Seen<'a> {
    garden: &'a Garden,
    layout: Layout,
    plants: Vec<(&'a str, &'a Plant)>,
    /// The crop of each plant that was lost before its first harvest.
    lost: Vec<&'a str>,
    today: NaiveDate,
    /// Days on which somebody was there.
    tended: Tended<'a>,
}

impl<'a> Seen<'a> {
    fn new(garden: &'a Garden, state: &'a State, today: NaiveDate) -> Self {
        let gone = state.gone.iter().map(|g| (g.hole.as_str(), &g.plant));
        let stands = state.plants.iter().map(|(hole, p)| (hole.as_str(), p));
        let is_lost = |g: &&Gone| matches!(g.why, Why::Lost(_)) && g.plant.taken.is_empty();
        let lost = state.gone.iter().filter(is_lost);
        Self {
            garden,
            layout: holes::layout(garden),
            lost: lost.map(|g| g.plant.crop.as_str()).collect(),
            plants: gone.chain(stands).collect(),
            today,
            tended: Tended::of(&garden.rhythm, state),
        }
    }

    /// Harvests of a crop's plants, each with the day that the plan had expected: the logarithm of
    /// how many times as long as by the card the plant needed, by day. Plants taken on one day
    /// after one transplant in one light have grown as one and count once. Of what is picked only
    /// the first harvest tells how long it took, of what is cut every one.
    fn paces(&self, crop: &Crop) -> Vec<f64> {
        let mut observed: BTreeMap<([NaiveDate; 3], usize), Pace> = BTreeMap::new();
        let mut grown: BTreeMap<(usize, NaiveDate), Growth<'_>> = BTreeMap::new();
        let lights = self.lights();
        for (hole, plant) in self.of(crop) {
            let Some(hole) = self.layout.holes.iter().find(|h| h.id == hole) else {
                continue;
            };
            let light = lights[hole.bank];
            let first = lights.iter().position(|l| *l == light).unwrap_or(hole.bank);
            for (from, taken, expected) in waits(crop, plant) {
                let growth = grown
                    .entry((first, from))
                    .or_insert_with(|| self.growth(crop, light, from));
                if let Some(pace) = self.pace(growth, from, taken.on, &expected) {
                    observed.insert(([taken.on, from, expected.on], first), pace);
                }
            }
        }
        imputed(observed.into_values())
    }

    /// How much of its time by the card a plant had needed by a harvest.
    fn pace(
        &self,
        growth: &Growth<'_>,
        from: NaiveDate,
        taken: NaiveDate,
        expected: &Expected,
    ) -> Option<Pace> {
        let until =
            |day: NaiveDate| growth.grown(0..usize::try_from((day - from).num_days()).unwrap_or(0));
        let (seen, planned) = (until(taken), until(expected.on));
        if seen <= 0.0 || planned <= 0.0 || !believed(seen / planned) {
            return None;
        }
        let times = |grown: f64| libm::log(grown / planned) + libm::log(expected.pace);
        if taken < expected.on {
            return Some(Pace::Is(times(seen)));
        }
        let before = expected.on.iter_days().take_while(|d| *d < taken);
        let looks = before.filter(|d| self.tended.on(*d));
        Some(match looks.last() {
            Some(unripe) => Pace::Is(times(f64::midpoint(until(unripe), seen))),
            None => Pace::AtMost(times(seen)),
        })
    }

    /// Plants that lived to their first harvest, of those of which it is known whether they did.
    fn living(&self, crop: &Crop) -> ShareKnown {
        let lived = self.of(crop).filter(|(_, p)| !p.taken.is_empty()).count();
        let died = self.lost.iter().filter(|&&of| of == crop.key).count();
        let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        let usual = ShareKnown::stated(1.0 - DIES, USUAL_PLANTS);
        usual.after(count(lived), count(lived + died))
    }

    /// Harvests that were weighed: the logarithm of how many times as much as by the card. Those
    /// of one day count once, by their mean.
    fn yields(&self, crop: &Crop) -> Vec<f64> {
        let mut observed: BTreeMap<NaiveDate, Vec<f64>> = BTreeMap::new();
        for (_, plant) in self.of(crop) {
            for taken in plant.taken.iter().filter(|t| !t.as_planned) {
                let share = yield_of(crop, taken).filter(|&share| believed(share));
                if let Some(share) = share {
                    observed.entry(taken.on).or_default().push(libm::log(share));
                }
            }
        }
        #[allow(clippy::cast_precision_loss)]
        let mean = |of_day: &Vec<f64>| of_day.iter().sum::<f64>() / of_day.len() as f64;
        observed.values().map(mean).collect()
    }

    fn of<'s>(&'s self, crop: &'s Crop) -> impl Iterator<Item = (&'a str, &'a Plant)> + 's {
        let of_crop = |(_, plant): &&(&str, &Plant)| plant.crop == crop.key;
        self.plants.iter().filter(of_crop).copied()
    }

    /// The light of each bank.
    fn lights(&self) -> Vec<Share> {
        let banks = self.garden.loops.iter().flat_map(|l| &l.banks);
        banks.map(|b| b.light).collect()
    }

    /// The crop in the air of a light from a day to a year from today.
    fn growth<'c>(&self, crop: &'c Crop, light: Share, from: NaiveDate) -> Growth<'c> {
        let place = &self.garden.place;
        let last = self.today + Days::new(365);
        let days = usize::try_from((last - from).num_days()).unwrap_or(1);
        Growth::new(crop, &air(place, &place.cover, light, from, days))
    }
}

/// What one harvest tells of a crop's pace, as a logarithm.
#[derive(Debug, Clone, Copy)]
enum Pace {
    /// It was taken before its day, or left unripe when it was due: it became ripe about midway
    /// between then and its harvest.
    Is(f64),
    /// It was ripe when it was due, nobody knows since when.
    AtMost(f64),
}

/// Paces in their order, of those that may have been faster the one that is nearest to what was
/// known before: a plan that leaves some time in hand does not prove itself right by it.
fn imputed(paces: impl Iterator<Item = Pace>) -> Vec<f64> {
    let mut known: Vec<f64> = Vec::new();
    for pace in paces {
        let so_far = shrunk(&known, PACE_NOISE, PACE_SPREAD).mean;
        known.push(match pace {
            Pace::Is(pace) => pace,
            Pace::AtMost(most) => so_far.min(most),
        });
    }
    known
}

/// The harvests of a plant that tell how long it took, where the plan had expected them: since
/// when it had grown for them, and for which day they were expected.
fn waits<'p>(
    crop: &Crop,
    plant: &'p Plant,
) -> impl Iterator<Item = (NaiveDate, &'p Taken, Expected)> {
    let count = match crop.harvest {
        Harvest::Cut { .. } => plant.taken.len(),
        Harvest::Head { .. } | Harvest::Pick { .. } => 1,
    };
    let since = plant.taken.iter().map(|t| t.on);
    let since = std::iter::once(plant.transplanted).chain(since);
    let waits = since.zip(&plant.taken).take(count);
    waits.filter_map(|(from, taken)| Some((from, taken, taken.expected?)))
}

fn believed(share: f64) -> bool {
    (1.0 / BELIEVED..=BELIEVED).contains(&share)
}

/// How many times as much as by the card a harvest gave; nothing where it was not weighed.
fn yield_of(crop: &Crop, taken: &Taken) -> Option<f64> {
    let amount = taken.amount.filter(|a| a.measure() == Measure::Grams)?;
    #[allow(clippy::cast_precision_loss)]
    let grams = amount.milli() as f64 / 1000.0;
    match (crop.harvest, taken.expected) {
        (Harvest::Head { each, .. }, _) => Some(grams / each.get()),
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
pub fn weeks_of_want(
    garden: &Garden,
    state: &State,
    want: usize,
    until: NaiveDate,
) -> Vec<(NaiveDate, i64, i64)> {
    let stated = &garden.wants[want];
    let measure = stated.each_week.measure();
    let mut weeks: BTreeMap<NaiveDate, i64> = BTreeMap::new();
    let gone = state.gone.iter().map(|g| &g.plant);
    let plants = gone.chain(state.plants.values());
    let served = plants.filter(|p| want_of(&garden.wants, p) == Some(want));
    for taken in served.flat_map(|p| &p.taken) {
        *weeks.entry(monday(taken.on)).or_default() += counted_as(measure, taken.amount);
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
                .between
                .is_none_or(|season| days().filter(|d| in_season(*d, season)).count() > 3);
            let harvested = weeks.get(&monday).copied().unwrap_or(0);
            (monday, if wanted { each } else { 0 }, harvested)
        })
        .collect()
}

/// Weeks without a shortage that are taken for granted before anything was harvested.
const GOOD_WEEKS: f64 = 6.0;
/// Targets are raised by at most so much, in steps of so much, in thousandths.
const MOST_RAISED: (i64, i64) = (250, 50);

/// By how much more than is wanted should be planned for, so that what is wanted comes in spite
/// of what goes wrong here: as much as past weeks have lacked of it, weeks in which nobody was
/// there, or put down anything at all, not counted. In thousandths of what is wanted, 1000 at the
/// least.
#[must_use]
pub fn raised_milli(garden: &Garden, state: &State, want: usize, today: NaiveDate) -> i64 {
    let this_week = monday(today);
    let tended = Tended::of(&garden.rhythm, state);
    let weeks = weeks_of_want(garden, state, want, today);
    let counted = weeks
        .iter()
        .filter(|&&(m, wanted, _)| m < this_week && wanted > 0 && tended.in_week(m));
    #[allow(clippy::cast_precision_loss)]
    let (count, met) = counted.fold((0.0, 0.0), |(count, met), &(_, wanted, had)| {
        (count + 1.0, met + wanted.min(had) as f64 / wanted as f64)
    });
    let share = (GOOD_WEEKS + met) / (GOOD_WEEKS + count);
    let (most, step) = MOST_RAISED;
    #[allow(clippy::cast_possible_truncation)]
    let more = ((1.0 / share - 1.0) * 1000.0).round() as i64;
    1000 + ((more + step / 2) / step * step).min(most)
}
