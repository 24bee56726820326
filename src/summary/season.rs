//! When a crop can stand in a garden, and how long it then takes.

use chrono::{Datelike, NaiveDate};
use serde::Serialize;

use crate::garden::Garden;
use crate::garden::crop::Crop;
use crate::garden::rig::Bank;
use crate::nature::air::{self, DayConditions};
use crate::nature::growth::{GrowthTable, Unsuitable};
use crate::nature::temperature::growing_degree_days;
use crate::units::Share;

/// Days of the month looked at.
const DAYS_OF_MONTH: [u32; 3] = [1, 11, 21];
/// Days of air computed: the year shown, and as long as any stay begun in it may last.
const HORIZON_DAYS: usize = 3 * 366;

/// One crop's year in the banks that get the same light.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CropYear {
    /// Names of the banks.
    pub banks: Vec<String>,
    /// Days of transplant through the year, three a month, and what would come of each.
    pub transplants: Vec<TransplantDay>,
}

/// A day of transplant and what would come of it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct TransplantDay {
    /// The day.
    pub day: NaiveDate,
    /// What would come of it.
    pub outcome: TransplantOutcome,
}

/// What comes of a transplant.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum TransplantOutcome {
    /// It ripens.
    Ripens {
        /// Days from transplant until it is ripe.
        days: usize,
        /// Sum of the days' mean temperatures above the crop's base until then \[C d\].
        degree_days: f64,
    },
    /// It comes to nothing.
    Fails(FailureReason),
}

/// Why it comes to nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum FailureReason {
    /// A night colder than it stands.
    TooCold,
    /// An afternoon warmer than it stands.
    TooHot,
    /// It runs to seed before it is ripe.
    Bolts,
    /// Less light than it needs.
    TooDark,
    /// It would not be ripe in time.
    NotInTime,
    /// It would be ripe and spoil before anybody is there.
    NobodyThere,
}

impl From<Unsuitable> for FailureReason {
    fn from(why: Unsuitable) -> Self {
        match why {
            Unsuitable::TooCold => Self::TooCold,
            Unsuitable::TooHot => Self::TooHot,
            Unsuitable::Bolts => Self::Bolts,
            Unsuitable::TooDark => Self::TooDark,
            Unsuitable::NotRipeInTime => Self::NotInTime,
            Unsuitable::NoWorkday => Self::NobodyThere,
        }
    }
}

/// The crop's year, once for each level of light that banks of the garden get. The year is the
/// one in which the garden starts; every day counts as a workday.
#[must_use]
pub fn crop_years(garden: &Garden, crop: &Crop) -> Vec<CropYear> {
    let mut groups: Vec<(Share, Vec<String>)> = Vec::new();
    for bank in garden.loops.iter().flat_map(|l| &l.banks) {
        match groups
            .iter_mut()
            .find(|(light, _)| *light == bank.light_share)
        {
            Some((_, banks)) => banks.push(bank.name.clone()),
            None => groups.push((bank.light_share, vec![bank.name.clone()])),
        }
    }
    groups
        .into_iter()
        .map(|(light, banks)| CropYear {
            banks,
            transplants: transplants(garden, crop, light),
        })
        .collect()
}

fn transplants(garden: &Garden, crop: &Crop, light: Share) -> Vec<TransplantDay> {
    let year = garden.start.year();
    let date = |month, day| NaiveDate::from_ymd_opt(year, month, day).expect("in every year");
    let first = date(1, 1);
    let air = air::growing_conditions(
        &garden.place,
        &garden.place.cover,
        light,
        first,
        HORIZON_DAYS,
    );
    let growth = GrowthTable::new(crop, &air);
    (1..=12)
        .flat_map(|month| DAYS_OF_MONTH.map(|day| date(month, day)))
        .map(|day| TransplantDay {
            day,
            outcome: outcome(&growth, crop, &air, day.ordinal0() as usize),
        })
        .collect()
}

fn outcome(
    growth: &GrowthTable,
    crop: &Crop,
    air: &[DayConditions],
    transplant: usize,
) -> TransplantOutcome {
    match growth.plant_life(transplant, &|_| true) {
        Ok(life) => TransplantOutcome::Ripens {
            days: life.ripe - transplant,
            degree_days: growing_degree_days(
                &air[transplant..life.ripe],
                crop.temperature.base.get(),
            ),
        },
        Err(why) => TransplantOutcome::Fails(why.into()),
    }
}

/// A reason is told if it holds on so large a share of the days, or on more than any other.
const MAIN_REASON_SHARE: f64 = 0.2;

/// Why a crop never ripens in a bank between the garden's first and last day: every reason that
/// holds on a good part of the workdays, the commonest first; nothing if it ripens from some
/// workday on.
#[must_use]
pub fn why_never(garden: &Garden, bank: &Bank, crop: &Crop) -> Vec<FailureReason> {
    let days = garden.weeks as usize * 7;
    let is_workday = |day: usize| {
        let day = chrono::Days::new(day as u64);
        garden.rhythm.is_workday(garden.start + day)
    };
    let air = air::growing_conditions(
        &garden.place,
        &garden.place.cover,
        bank.light_share,
        garden.start,
        days,
    );
    let growth = GrowthTable::new(crop, &air);
    let mut tally = std::collections::BTreeMap::<FailureReason, usize>::new();
    for day in (0..days).filter(|&day| is_workday(day)) {
        match growth.plant_life(day, &is_workday) {
            Ok(_) => return Vec::new(),
            Err(why) => *tally.entry(why.into()).or_default() += 1,
        }
    }
    let mut reasons: Vec<(FailureReason, usize)> = tally.into_iter().collect();
    reasons.sort_by_key(|&(why, count)| (std::cmp::Reverse(count), why));
    let most = reasons.first().map_or(0, |&(_, count)| count);
    let all: usize = reasons.iter().map(|(_, count)| count).sum();
    #[allow(clippy::cast_precision_loss)]
    let told = |count: usize| count == most || count as f64 >= MAIN_REASON_SHARE * all as f64;
    reasons.retain(|&(_, count)| told(count));
    reasons.into_iter().map(|(why, _)| why).collect()
}
