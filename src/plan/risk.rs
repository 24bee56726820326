//! What chance does to a plan: many seasons of it, drawn at random, with the grower keeping to it.
//!
//! In every season
//! - each cell sown comes up and lives with the card's chance (as corrected by the diary); the
//!   cells are those that the sowing chore asks for, or more. Holes for which none is left stay
//!   empty, the ones planted last first;
//! - each crop is faster or slower than it is taken to be for the whole season, by a factor whose
//!   logarithm is normal with standard deviation [`PACE_PRIOR_SD`], or what the diary leaves of it;
//! - each month is warmer or colder than the climate's mean by a normal number of kelvins with
//!   standard deviation [`WEATHER_SD_KELVIN`], half of it carried on from the month before; none of
//!   it reaches plants under lamps;
//! - each plant in a hole dies before its first harvest with chance [`PRIOR_DEATH_RATE`], or what the diary
//!   makes of it.
//!
//! The weather changes the pace alone: no frost or heat beyond the climate's means spoils a plant
//! or sends it to seed.
//!
//! The grower's rules: a harvest is taken on its planned day if it is ripe, else on the first
//! workday on which it is; what is planted next waits for the hole, for at most
//! [`MAX_SEEDLING_WAIT_DAYS`] days, and is given up then. What was ripe early is taken on its planned day
//! (it keeps until then: the plan has seen to that). A hole left empty stays so until its next
//! planting. What the first week had been given before the plan's start is part of what it gets.

use std::collections::BTreeMap;

use chrono::{Datelike, Days, NaiveDate};
use rand::{Rng, RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use serde::Serialize;

use crate::garden::Garden;
use crate::garden::crop::Crop;
use crate::garden::holes;
use crate::garden::place::Cover;
use crate::nature::air::{DayConditions, DiurnalProfile, growing_conditions};
use crate::nature::growth::GrowthTable;
use crate::nature::seed;
use crate::nature::statistics::wilson_interval;
use crate::plan::calibration::{Calibration, PACE_PRIOR_SD, PRIOR_DEATH_RATE};
use crate::plan::sowings::planned_sowings;
use crate::plan::{Plan, Stay, WantOutcome};
use crate::units::Share;

/// How far monthly means of temperature lie from their own long-term mean \[K\] (our assumption,
/// from memory: 1 to 2 K in the middle latitudes).
pub const WEATHER_SD_KELVIN: f64 = 1.5;
/// Days for which a seedling may wait for its hole (common practice, no published source).
pub const MAX_SEEDLING_WAIT_DAYS: i64 = 10;
/// Spare cells that are tried, for each sowing of a crop.
pub const SPARE_CELLS_PER_SOWING: u32 = 2;

/// The risk of a plan.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Risk {
    /// Seasons drawn.
    pub seasons: u32,
    /// Each want, week by week.
    pub wants: Vec<WantRisk>,
    /// What spare seedlings would buy, the most first.
    pub spares: Vec<SpareSeedlings>,
}

/// The risk of a want.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WantRisk {
    /// The want's name.
    pub want: String,
    /// Mean share of the wanted amount that is met, each week at most wholly.
    pub met: f64,
    /// The share that is met at least in nine seasons of ten.
    pub met_in_nine_of_ten: f64,
    /// Week by week, those that count.
    pub weeks: Vec<WeekRisk>,
}

/// The risk of a want in a week.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct WeekRisk {
    /// The week's Monday.
    pub monday: NaiveDate,
    /// The plan gives all that is wanted: chance alone keeps it from being met.
    pub planned: bool,
    /// Chance that all that the plan gives then, and no more than is wanted, is harvested.
    pub as_planned: f64,
    /// Chance that all that is wanted is.
    pub met: f64,
    /// Wilson's 95 % interval of that chance, as far as so many seasons tell it.
    pub between: (f64, f64),
}

/// What spare seedlings of a crop would buy.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SpareSeedlings {
    /// The crop's key.
    pub crop: String,
    /// More cells in each of its sowings.
    pub cells: u32,
    /// Sowings.
    pub sowings: u32,
    /// More of the wanted amounts met, summed over the wants \[weeks' worth a season\].
    pub weeks: f64,
}

/// The risk of a plan, from so many seasons drawn with a seed: the same for the same seed, on
/// every machine. `garden` has its cards corrected by what was learned.
#[must_use]
pub fn simulate_risk(
    garden: &Garden,
    plan: &Plan,
    calibrations: &[Calibration],
    seasons: u32,
    seed: u64,
) -> Risk {
    let simulation = Simulation::new(garden, plan, calibrations);
    let base = simulation.simulate_seasons(seasons, seed, None);
    let wants = (0..plan.wants.len())
        .map(|w| simulation.want_risk(w, &base))
        .collect();
    let mut spares: Vec<SpareSeedlings> = simulation
        .sowings_by_crop()
        .into_iter()
        .map(|(crop, sowings)| {
            let with = simulation.simulate_seasons(seasons, seed, Some(crop));
            SpareSeedlings {
                crop: crop.to_owned(),
                cells: SPARE_CELLS_PER_SOWING,
                sowings,
                weeks: simulation.mean_filled_weeks(&with) - simulation.mean_filled_weeks(&base),
            }
        })
        .collect();
    spares.sort_by(|a, b| b.weeks.total_cmp(&a.weeks).then(a.crop.cmp(&b.crop)));
    Risk {
        seasons,
        wants,
        spares,
    }
}

/// What one season gives: by want, then by week of the plan, in the want's unit.
type SeasonSupply = Vec<Vec<f64>>;

struct Simulation<'a> {
    garden: &'a Garden,
    plan: &'a Plan,
    /// Standard deviation of the logarithm of each crop's pace.
    pace_sds: BTreeMap<&'a str, f64>,
    /// Chance that a plant of a crop dies before its first harvest, where anything is known of it.
    death_rates: BTreeMap<&'a str, f64>,
    banks: BTreeMap<String, usize>,
    bank_lights: Vec<Share>,
    /// The air of each bank as the climate has it, from `first` on.
    air: Vec<Vec<DayConditions>>,
    first: NaiveDate,
    is_workday: Vec<bool>,
    batches: Vec<SowingBatch<'a>>,
    /// The stays of each hole, by transplant, with their places among the plan's.
    holes: Vec<Vec<(usize, &'a Stay)>>,
    /// What each want has had in its first week before the plan's start.
    initial_supply: Vec<f64>,
}

impl<'a> Simulation<'a> {
    fn new(garden: &'a Garden, plan: &'a Plan, calibrations: &'a [Calibration]) -> Self {
        let transplants = plan.stays.iter().map(|s| s.transplant);
        let first = transplants.min().unwrap_or(plan.start).min(plan.start);
        let removals = plan.stays.iter().map(|s| s.removal);
        let last = removals.max().unwrap_or(plan.last).max(plan.last) + Days::new(60);
        let days = usize::try_from((last - first).num_days()).unwrap_or(1);
        let bank_lights: Vec<Share> = garden
            .loops
            .iter()
            .flat_map(|l| l.banks.iter().map(|b| b.light_share))
            .collect();
        let place = &garden.place;
        let mut holes: BTreeMap<&str, Vec<(usize, &Stay)>> = BTreeMap::new();
        for (n, stay) in plan.stays.iter().enumerate().filter(|(_, s)| !s.for_seed) {
            holes.entry(&stay.hole).or_default().push((n, stay));
        }
        Self {
            garden,
            plan,
            pace_sds: garden
                .crops
                .iter()
                .map(|c| {
                    let known = calibrations.iter().find(|l| l.crop == c.key);
                    (c.key.as_str(), known.map_or(PACE_PRIOR_SD, |l| l.pace.sd))
                })
                .collect(),
            death_rates: calibrations
                .iter()
                .map(|l| (l.crop.as_str(), 1.0 - l.plant_survival.mean()))
                .collect(),
            banks: holes::layout(garden)
                .holes
                .into_iter()
                .map(|h| (h.id, h.bank))
                .collect(),
            air: bank_lights
                .iter()
                .map(|&light| growing_conditions(place, &place.cover, light, first, days))
                .collect(),
            bank_lights,
            first,
            is_workday: first
                .iter_days()
                .take(days)
                .map(|d| garden.rhythm.is_workday(d))
                .collect(),
            batches: sowing_batches(plan, garden),
            holes: holes.into_values().collect(),
            initial_supply: plan
                .wants
                .iter()
                .map(|w| already_harvested(plan, w))
                .collect(),
        }
    }

    fn sowings_by_crop(&self) -> BTreeMap<&'a str, u32> {
        let mut sowings: BTreeMap<&str, u32> = BTreeMap::new();
        for batch in &self.batches {
            *sowings.entry(batch.crop).or_default() += 1;
        }
        sowings
    }

    fn simulate_seasons(
        &self,
        seasons: u32,
        seed: u64,
        spares_of: Option<&str>,
    ) -> Vec<SeasonSupply> {
        (0..seasons)
            .map(|n| self.simulate_season(seed.wrapping_add(u64::from(n)), spares_of))
            .collect()
    }

    fn simulate_season(&self, seed: u64, spares_of: Option<&str>) -> SeasonSupply {
        // Each part of life has chances of its own, so that a spare seedling changes nothing else.
        let draws = |part: u64| Pcg64Mcg::seed_from_u64(seed ^ (part << 48));
        let weather = self.draw_anomalies(&mut draws(1));
        let growth = self.draw_growth_tables(&mut draws(2), &weather);
        let missing = self.draw_missing_seedlings(&mut draws(3), spares_of);
        let mut fates = draws(4);
        let dies: Vec<bool> = self
            .plan
            .stays
            .iter()
            .map(|stay| {
                fates.random_bool(
                    self.death_rates
                        .get(stay.crop.as_str())
                        .map_or(PRIOR_DEATH_RATE, |d| *d),
                )
            })
            .collect();
        let mut outcome: SeasonSupply = self
            .plan
            .wants
            .iter()
            .map(|w| vec![0.0; w.weeks.len()])
            .collect();
        for (weeks, had) in outcome.iter_mut().zip(&self.initial_supply) {
            weeks.iter_mut().take(1).for_each(|first| *first = *had);
        }
        for hole in &self.holes {
            self.simulate_hole(hole, &growth, &missing, &dies, &mut outcome);
        }
        outcome
    }

    /// How much warmer than the climate each day is \[K\].
    fn draw_anomalies(&self, random: &mut Pcg64Mcg) -> Vec<f64> {
        let days = self.first.iter_days().take(self.is_workday.len());
        if matches!(self.garden.place.cover, Cover::Indoors { .. }) {
            return vec![0.0; self.is_workday.len()];
        }
        let mut months = monthly_anomalies(random);
        let mut month = None;
        let mut now = 0.0;
        days.map(|day| {
            if month != Some(day.month()) {
                month = Some(day.month());
                now = months.next().unwrap_or(now);
            }
            now
        })
        .collect()
    }

    /// Every crop in every bank's air of the season, and how many times as long it needs.
    fn draw_growth_tables(
        &self,
        random: &mut Pcg64Mcg,
        weather: &[f64],
    ) -> BTreeMap<(&'a str, usize), (GrowthTable<'a>, f64)> {
        let paces: Vec<f64> = self
            .garden
            .crops
            .iter()
            .map(|c| libm::exp(self.pace_sds[c.key.as_str()] * standard_normal(random)))
            .collect();
        let mut growth = BTreeMap::new();
        for bank in 0..self.bank_lights.len() {
            let air: Vec<DayConditions> = self.air[bank]
                .iter()
                .zip(weather)
                .map(|(day, more)| with_anomaly(day, *more))
                .collect();
            for (crop, &pace) in self.garden.crops.iter().zip(&paces) {
                let of_crop = GrowthTable::new(crop, &air);
                growth.insert((crop.key.as_str(), bank), (of_crop, pace));
            }
        }
        growth
    }

    /// For each stay, whether there is no seedling for it.
    fn draw_missing_seedlings(&self, random: &mut Pcg64Mcg, spares_of: Option<&str>) -> Vec<bool> {
        let mut missing = vec![false; self.plan.stays.len()];
        for &SowingBatch {
            crop,
            cells,
            ref stays,
        } in &self.batches
        {
            let Some(card) = self.garden.crop(crop) else {
                continue;
            };
            let chance = seed::cell_sowing(&card.seed).chance;
            // Spares are drawn whether they are sown or not, so that nothing else changes.
            let draws: Vec<bool> = (0..cells + SPARE_CELLS_PER_SOWING)
                .map(|_| random.random_bool(chance))
                .collect();
            let spares = if spares_of == Some(crop) {
                SPARE_CELLS_PER_SOWING
            } else {
                0
            };
            let sown = &draws[..(cells + spares) as usize];
            let up = sown.iter().filter(|&&up| up).count();
            for &stay in stays.iter().skip(up) {
                missing[stay] = true;
            }
        }
        missing
    }

    /// One hole's season.
    fn simulate_hole(
        &self,
        hole: &[(usize, &'a Stay)],
        growth: &BTreeMap<(&'a str, usize), (GrowthTable<'a>, f64)>,
        missing: &[bool],
        dies: &[bool],
        outcome: &mut SeasonSupply,
    ) {
        let mut free_from = self.first;
        for &(n, stay) in hole {
            let planted = stay.transplant.max(free_from);
            let waits = (planted - stay.transplant).num_days();
            if missing[n] || waits > MAX_SEEDLING_WAIT_DAYS {
                continue;
            }
            let planted = self.next_workday(planted);
            if dies[n] && !stay.stands {
                continue;
            }
            let bank = self.banks.get(&stay.hole).copied().unwrap_or(0);
            let Some((growth, pace)) = growth.get(&(stay.crop.as_str(), bank)) else {
                continue;
            };
            let Some(crop) = self.garden.crop(&stay.crop) else {
                continue;
            };
            let late = self.delay_days(stay, crop, growth, *pace, planted);
            let mut last = planted;
            for harvest in &stay.harvests {
                let day = self.next_workday(harvest.day + Days::new(late));
                self.add_harvest(stay, day, harvest.amount, outcome);
                last = day;
            }
            free_from = last.max(stay.removal);
        }
    }

    /// By how many days the first harvest comes after its planned day, and with it all others.
    fn delay_days(
        &self,
        stay: &Stay,
        crop: &Crop,
        growth: &GrowthTable<'_>,
        pace: f64,
        planted: NaiveDate,
    ) -> u64 {
        let Some(first) = stay.harvests.first() else {
            return 0;
        };
        let (from, to) = (self.day_index(planted), self.day_index(first.day));
        let needed = crop.hole.days.get() * pace;
        let mut day = to;
        while day < self.is_workday.len() && growth.growth_between(from..day) + 1e-9 < needed {
            day += 1;
        }
        (day - to) as u64
    }

    fn day_index(&self, day: NaiveDate) -> usize {
        usize::try_from((day - self.first).num_days()).unwrap_or(0)
    }

    fn next_workday(&self, day: NaiveDate) -> NaiveDate {
        let from = self.day_index(day);
        let found = (from..self.is_workday.len()).find(|&d| self.is_workday[d]);
        found.map_or(day, |d| self.first + Days::new(d as u64))
    }

    fn add_harvest(&self, stay: &Stay, day: NaiveDate, amount: f64, outcome: &mut SeasonSupply) {
        let Some(want) = self.plan.wants.iter().position(|w| w.want == stay.want) else {
            return;
        };
        let weeks = &self.plan.wants[want].weeks;
        let week = weeks.partition_point(|w| w.monday <= day);
        if let Some(week) = week.checked_sub(1)
            && day < weeks[week].monday + Days::new(7)
        {
            outcome[want][week] += amount;
        }
    }

    fn want_risk(&self, want: usize, outcomes: &[SeasonSupply]) -> WantRisk {
        let about = &self.plan.wants[want];
        let count = u32::try_from(outcomes.len()).unwrap_or(u32::MAX);
        let share = |least: f64, week: usize| {
            let enough = |o: &&SeasonSupply| o[want][week] >= least - 1e-9;
            u32::try_from(outcomes.iter().filter(enough).count()).unwrap_or(u32::MAX)
        };
        let weeks = about
            .weeks
            .iter()
            .enumerate()
            .filter(|(_, w)| w.is_counted())
            .map(|(n, w)| {
                let met = share(w.target, n);
                WeekRisk {
                    monday: w.monday,
                    planned: w.delivered >= w.target,
                    as_planned: f64::from(share(w.delivered.min(w.target), n)) / f64::from(count),
                    met: f64::from(met) / f64::from(count),
                    between: wilson_interval(met, count, 0.95),
                }
            })
            .collect();
        let mut met: Vec<f64> = outcomes.iter().map(|o| self.fill_rate(want, o)).collect();
        met.sort_by(f64::total_cmp);
        #[allow(clippy::cast_precision_loss)]
        let mean = met.iter().sum::<f64>() / met.len().max(1) as f64;
        WantRisk {
            want: about.want.clone(),
            met: mean,
            met_in_nine_of_ten: met.get(met.len() / 10).copied().unwrap_or(0.0),
            weeks,
        }
    }

    /// Share of a want that a season meets, each week at most wholly.
    fn fill_rate(&self, want: usize, outcome: &SeasonSupply) -> f64 {
        let (wanted, met) = self.wanted_and_met(want, outcome);
        if wanted > 0.0 { met / wanted } else { 1.0 }
    }

    fn wanted_and_met(&self, want: usize, outcome: &SeasonSupply) -> (f64, f64) {
        let weeks = self.plan.wants[want].weeks.iter().zip(&outcome[want]);
        weeks.fold((0.0, 0.0), |(wanted, met), (w, &had)| {
            (wanted + w.target, met + had.min(w.target))
        })
    }

    /// Weeks' worth of wants that a season meets, on average.
    fn mean_filled_weeks(&self, outcomes: &[SeasonSupply]) -> f64 {
        let of_season = |o: &SeasonSupply| -> f64 {
            let wants = self.plan.wants.iter().enumerate();
            wants
                .map(|(n, w)| self.wanted_and_met(n, o).1 / w.each_week.max(1e-9))
                .sum()
        };
        #[allow(clippy::cast_precision_loss)]
        let count = outcomes.len().max(1) as f64;
        outcomes.iter().map(of_season).sum::<f64>() / count
    }
}

/// Stays sown together.
struct SowingBatch<'a> {
    crop: &'a str,
    /// Cells sown.
    cells: u32,
    /// Places among the plan's stays.
    stays: Vec<usize>,
}

fn sowing_batches<'a>(plan: &'a Plan, garden: &Garden) -> Vec<SowingBatch<'a>> {
    let sown = planned_sowings(plan, garden).into_iter().map(|s| {
        let cells = s.sowing.map_or(s.cups, |sowing| sowing.cells);
        ((s.day, s.crop, s.transplant), cells)
    });
    let cells: BTreeMap<_, u32> = sown.collect();
    let batches = plan.sowing_batches().into_iter();
    batches
        .map(|(batch, stays)| SowingBatch {
            crop: batch.1,
            cells: cells.get(&batch).copied().unwrap_or_default(),
            stays,
        })
        .collect()
}

/// What a want has had in its first week that no planned harvest gives.
fn already_harvested(plan: &Plan, want: &WantOutcome) -> f64 {
    let Some(first) = want.weeks.first() else {
        return 0.0;
    };
    let stays = plan.stays.iter().filter(|s| s.want == want.want);
    let harvests = stays.flat_map(|s| &s.harvests);
    let of_week = harvests.filter(|h| h.day < first.monday + Days::new(7));
    let planned: f64 = of_week.map(|h| h.amount).sum();
    (first.delivered - planned).max(0.0)
}

/// How much warmer than the climate one month after the other is \[K\], without end. Each, the first
/// like any other, is normal with standard deviation [`WEATHER_SD_KELVIN`].
pub fn monthly_anomalies(random: &mut impl Rng) -> impl Iterator<Item = f64> {
    let first = WEATHER_SD_KELVIN * standard_normal(random);
    std::iter::successors(Some(first), move |before| {
        // Half carried on, and so much new that the spread stays what it is.
        Some(0.5 * before + libm::sqrt(0.75) * WEATHER_SD_KELVIN * standard_normal(random))
    })
}

/// The same day, so many kelvins warmer.
fn with_anomaly(day: &DayConditions, more: f64) -> DayConditions {
    match day.profile {
        DiurnalProfile::Lamps { .. } => *day,
        DiurnalProfile::Sine => DayConditions {
            coldest: day.coldest + more,
            warmest: day.warmest + more,
            ..*day
        },
    }
}

/// A standard normal number (Box and Muller 1958, Annals of Mathematical Statistics 29).
fn standard_normal(random: &mut impl Rng) -> f64 {
    let (u, v): (f64, f64) = (
        random.random_range(1e-12..1.0),
        random.random_range(0.0..1.0),
    );
    libm::sqrt(-2.0 * libm::log(u)) * libm::cos(std::f64::consts::TAU * v)
}
