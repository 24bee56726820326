//! The day from which is planned, and what stands then.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike, NaiveDate};

use crate::diary::{DiaryState, NurserySowing, PlantRecord};
use crate::garden::bounds::MAX_SEEDLING_DAYS;
use crate::garden::want::Want;
use crate::garden::{Garden, SeedlingBatch};
use crate::nature::seed;
use crate::plumbing::tank::TankState;
use crate::units::{Amount, Measure};

/// The day from which is planned, and what stands then.
#[derive(Debug, Clone)]
pub struct PlanningState {
    /// Day 0.
    pub today: NaiveDate,
    /// Days planned and shown.
    pub days: u32,
    /// What stands in holes.
    pub standing: Vec<ExistingPlant>,
    /// What stood in holes, and when it went.
    pub removed: Vec<(ExistingPlant, NaiveDate)>,
    /// Seedlings in the nursery that can be counted on.
    pub seedlings: Vec<SeedlingBatch>,
    /// Holes that cannot be used.
    pub blocked: BTreeSet<String>,
    /// When each tube was last scrubbed.
    pub cleaned: BTreeMap<String, NaiveDate>,
    /// What each want has been given in the week of day 0 before it, in thousandths of its unit.
    pub harvested_milli: Vec<i64>,
    /// What is planned for of each want, in thousandths of what is wanted: more than 1000 where
    /// experience says that some of it will not come.
    pub demand_safety_factor_milli: Vec<i64>,
    /// How each loop's tank is found on the morning of day 0, if something stands in it.
    pub tanks: Vec<TankState>,
}

/// What stands in a hole.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ExistingPlant {
    /// The hole's name.
    pub hole: String,
    /// Key of the crop's card.
    pub crop: String,
    /// Index of the want that it serves.
    pub want: usize,
    /// When it was sown, if known.
    pub sown: Option<NaiveDate>,
    /// When it was set out.
    pub transplanted: NaiveDate,
    /// When something was harvested from it.
    pub harvested: Vec<NaiveDate>,
}

impl PlanningState {
    /// The garden's first day, when nothing stands but the seedlings that it states.
    #[must_use]
    pub fn at_start(garden: &Garden) -> Self {
        Self {
            today: garden.start,
            days: garden.weeks * 7,
            standing: Vec::new(),
            removed: Vec::new(),
            seedlings: garden.seedlings.clone(),
            blocked: BTreeSet::new(),
            cleaned: BTreeMap::new(),
            harvested_milli: vec![0; garden.wants.len()],
            demand_safety_factor_milli: vec![1000; garden.wants.len()],
            tanks: vec![TankState::default(); garden.loops.len()],
        }
    }

    /// A day of the garden, and what stands then by the diary; `None` after the last day planned.
    #[must_use]
    pub fn from_diary(garden: &Garden, state: &DiaryState, today: NaiveDate) -> Option<Self> {
        let gone_by = (today - garden.start).num_days();
        let days = i64::from(garden.weeks) * 7 - gone_by;
        let days = u32::try_from(days).ok().filter(|&days| days > 0)?;
        Some(Self {
            today,
            days,
            standing: state
                .plants
                .iter()
                .map(|(hole, plant)| existing_plant(garden, hole, plant))
                .collect(),
            removed: state
                .removed
                .iter()
                .map(|gone| (existing_plant(garden, &gone.hole, &gone.plant), gone.on))
                .collect(),
            seedlings: usable_seedlings(garden, state, today),
            blocked: state.blocked.clone(),
            cleaned: state.cleaned.clone(),
            harvested_milli: (0..garden.wants.len())
                .map(|want| harvested_this_week(garden, state, today, want))
                .collect(),
            demand_safety_factor_milli: vec![1000; garden.wants.len()],
            tanks: vec![TankState::default(); garden.loops.len()],
        })
    }
}

fn existing_plant(garden: &Garden, hole: &str, plant: &PlantRecord) -> ExistingPlant {
    ExistingPlant {
        hole: hole.to_owned(),
        crop: plant.crop.clone(),
        want: want_of(&garden.wants, plant).unwrap_or(0),
        sown: plant.sown,
        transplanted: plant.transplanted,
        harvested: plant.harvests.iter().map(|t| t.on).collect(),
    }
}

/// The want that a plant serves: the one put down for it, else the first that takes its crop.
#[must_use]
pub fn want_of(wants: &[Want], plant: &PlantRecord) -> Option<usize> {
    let takes = |w: &&Want| w.from_crops.contains(&plant.crop);
    let named = wants
        .iter()
        .position(|w| Some(&w.name) == plant.want.as_ref() && takes(&w));
    named.or_else(|| wants.iter().position(|w| takes(&w)))
}

fn usable_seedlings(garden: &Garden, state: &DiaryState, today: NaiveDate) -> Vec<SeedlingBatch> {
    let recent = |s: &&NurserySowing| (0..=MAX_SEEDLING_DAYS).contains(&(today - s.on).num_days());
    state
        .sowings
        .iter()
        .filter(recent)
        .map(|s| SeedlingBatch {
            crop: s.crop.clone(),
            count: usable_count(garden, s),
            sown: s.on,
        })
        .filter(|s| s.count > 0)
        .collect()
}

/// Seedlings of a sowing that can be counted on: as many as it was sown for, or, where that was
/// not put down, as such a sowing is made for. Its spares are not: nobody says what became of them.
fn usable_count(garden: &Garden, sowing: &NurserySowing) -> u32 {
    if sowing.on_hand {
        return sowing.remaining();
    }
    let cups = sowing
        .cups
        .unwrap_or_else(|| expected_survivors(garden, sowing));
    cups.saturating_sub(sowing.transplanted)
        .min(sowing.remaining())
}

/// The most cups that so many cells are certain enough to make; one at the least.
fn expected_survivors(garden: &Garden, sowing: &NurserySowing) -> u32 {
    let Some(crop) = garden.crop(&sowing.crop) else {
        return sowing.cells;
    };
    let made = |cups: u32| seed::cup_sowing(&crop.seed, cups).cells <= sowing.cells;
    (1..=sowing.cells)
        .take_while(|&cups| made(cups))
        .last()
        .unwrap_or(1)
}

/// What a want has been given in the week of a day, before that day's plan.
fn harvested_this_week(garden: &Garden, state: &DiaryState, today: NaiveDate, want: usize) -> i64 {
    let week = today.iso_week();
    let measure = garden.wants[want].each_week.measure();
    let gone = state.removed.iter().map(|g| &g.plant);
    state
        .plants
        .values()
        .chain(gone)
        .filter(|plant| want_of(&garden.wants, plant) == Some(want))
        .flat_map(|plant| &plant.harvests)
        .filter(|taken| taken.on.iso_week() == week && taken.on <= today)
        .map(|taken| harvest_in_unit(measure, taken.amount))
        .sum()
}

/// A harvest in the unit of its want: one that is wanted in heads counts as one, whatever it
/// weighs.
#[must_use]
pub fn harvest_in_unit(measure: Measure, amount: Option<Amount>) -> i64 {
    match measure {
        Measure::Heads => 1000,
        Measure::Grams => amount
            .filter(|a| a.measure() == Measure::Grams)
            .and_then(|a| i64::try_from(a.milli()).ok())
            .unwrap_or(0),
    }
}
