//! What the diary tells so far: harvests against wants, days to harvest against the plan's,
//! losses, water.

use std::collections::BTreeMap;

use chrono::{Days, NaiveDate};
use serde::Serialize;

use crate::diary::{DiaryState, PlantRecord, RecordedTopUp, RemovalReason};
use crate::garden::Garden;
use crate::garden::want::Want;
use crate::nature::statistics::clopper_pearson_interval;
use crate::plan::calibration::{self, Calibration};
use crate::plan::tank_history;
use crate::plan::water::LoopWater;

/// The diary so far.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DiaryLog {
    /// The garden's name.
    pub garden: String,
    /// The last day told of.
    pub until: NaiveDate,
    /// Each want.
    pub wants: Vec<WantSoFar>,
    /// Each crop of which anything was put down.
    pub crops: Vec<CropSoFar>,
    /// Each loop into which water was put, or whose solution was changed or measured.
    pub loops: Vec<LoopSoFar>,
}

/// A want and what it has had.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WantSoFar {
    /// Its name.
    pub want: String,
    /// `heads` or `g`.
    pub unit: String,
    /// Wanted since its first harvest, in the weeks of its season.
    pub wanted: f64,
    /// Harvested.
    pub harvested: f64,
    /// Share of the wanted amount that was met, each week at most wholly; absent before the
    /// first harvest.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub met: Option<f64>,
    /// Week by week from that of the first harvest.
    pub weeks: Vec<WeekSoFar>,
}

/// One want in one week.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct WeekSoFar {
    /// The week's Monday.
    pub monday: NaiveDate,
    /// Wanted; 0 out of its season.
    pub wanted: f64,
    /// Harvested.
    pub harvested: f64,
}

/// A crop and what became of it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CropSoFar {
    /// The crop's key.
    pub crop: String,
    /// Cells sown.
    pub sown: u32,
    /// Of them, lost in the nursery.
    pub lost_in_nursery: u32,
    /// Share of cells whose plants live, in a 95 % interval after Clopper and Pearson; absent
    /// before the first sowing is over.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub come_through: Option<(f64, f64)>,
    /// Plants set out.
    pub set_out: u32,
    /// Of them, lost.
    pub lost: u32,
    /// Of what, where that was said, and how many.
    pub causes: Vec<(Option<String>, u32)>,
    /// Plants of which something was harvested.
    pub harvested: u32,
    /// Mean days from setting out to the first harvest of those that the plan had expected.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub days: Option<f64>,
    /// The same as the plan had expected it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub days_planned: Option<f64>,
    /// How many times as long as its card says it is taken to need.
    pub pace: f64,
    /// How many times as much as its card says it is taken to give.
    pub yields: f64,
}

/// A loop's water.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LoopSoFar {
    /// The loop.
    pub r#loop: String,
    /// Litres put in.
    pub litres: f64,
    /// Times that some was.
    pub times: usize,
    /// Litres a day over the days whose use was topped up: those before each top-up that filled the
    /// tank, back to when it was full before.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub litres_a_day: Option<f64>,
    /// Litres a day that what stood there should have used in the same days, as computed from its
    /// size and the usual year's weather.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub computed_a_day: Option<f64>,
    /// The day on which it was last filled with fresh solution.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub filled: Option<NaiveDate>,
    /// The latest conductivity [mS/cm] and its day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ec: Option<(NaiveDate, f64)>,
    /// The latest pH and its day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ph: Option<(NaiveDate, f64)>,
}

/// What a diary tells up to a day.
#[must_use]
pub fn log(garden: &Garden, state: &DiaryState, until: NaiveDate) -> DiaryLog {
    let plants: Vec<&PlantRecord> = state
        .removed
        .iter()
        .map(|g| &g.plant)
        .chain(state.plants.values())
        .collect();
    let learned = calibration::calibrate(garden, state, until);
    let computed = tank_history::simulate_past_water(
        &calibration::calibrated_garden(garden, &calibration::applied_calibrations(&learned)),
        state,
        until,
    );
    DiaryLog {
        garden: garden.name.clone(),
        until,
        wants: garden
            .wants
            .iter()
            .enumerate()
            .map(|(n, want)| want_so_far(garden, n, want, state, until))
            .collect(),
        crops: learned
            .iter()
            .map(|l| crop_so_far(state, l, &plants))
            .filter(|c| c.sown + c.set_out > 0)
            .collect(),
        loops: garden
            .loops
            .iter()
            .zip(&computed)
            .map(|(l, computed)| loop_so_far(garden.start, state, &l.name, computed))
            .filter(|l| l.times > 0 || l.filled.is_some() || l.ec.is_some() || l.ph.is_some())
            .collect(),
    }
}

#[allow(clippy::cast_precision_loss)]
fn from_milli(milli: i64) -> f64 {
    milli as f64 / 1000.0
}

fn want_so_far(
    garden: &Garden,
    n: usize,
    want: &Want,
    state: &DiaryState,
    until: NaiveDate,
) -> WantSoFar {
    let measure = want.each_week.measure();
    let weeks = calibration::weekly_supply(garden, state, n, until);
    let wanted: i64 = weeks.iter().map(|w| w.1).sum();
    let met: i64 = weeks.iter().map(|w| w.1.min(w.2)).sum();
    WantSoFar {
        want: want.name.clone(),
        unit: measure.symbol().to_owned(),
        wanted: from_milli(wanted),
        harvested: from_milli(weeks.iter().map(|w| w.2).sum()),
        met: (wanted > 0).then(|| from_milli(met) / from_milli(wanted)),
        weeks: weeks
            .into_iter()
            .map(|(monday, wanted, harvested)| WeekSoFar {
                monday,
                wanted: from_milli(wanted),
                harvested: from_milli(harvested),
            })
            .collect(),
    }
}

fn crop_so_far(
    state: &DiaryState,
    calibration: &Calibration,
    plants: &[&PlantRecord],
) -> CropSoFar {
    let crop = &calibration.crop;
    let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    let sowings = state
        .sowings
        .iter()
        .filter(|s| s.crop == *crop && !s.on_hand);
    let (sown, lost_in_nursery) = sowings.fold((0, 0), |(a, b), s| (a + s.cells, b + s.lost));
    let mut causes: BTreeMap<Option<String>, u32> = BTreeMap::new();
    for gone in state.removed.iter().filter(|g| g.plant.crop == *crop) {
        if let RemovalReason::Lost(why) = &gone.reason {
            *causes.entry(why.clone()).or_default() += 1;
        }
    }
    let of_crop = || plants.iter().filter(|p| p.crop == *crop);
    let expected: Vec<(i64, i64)> = of_crop()
        .filter_map(|p| {
            let first = p.harvests.first()?;
            let days = |day: NaiveDate| (day - p.transplanted).num_days();
            Some((days(first.on), days(first.expected?.on)))
        })
        .collect();
    let (cells, dead) = calibration.sown_and_lost_cells;
    CropSoFar {
        crop: crop.clone(),
        sown,
        lost_in_nursery,
        come_through: (cells > 0).then(|| clopper_pearson_interval(cells - dead, cells, 0.95)),
        set_out: count(of_crop().count()),
        lost: causes.values().sum(),
        causes: causes.into_iter().collect(),
        harvested: count(of_crop().filter(|p| !p.harvests.is_empty()).count()),
        days: mean(expected.iter().map(|e| e.0)),
        days_planned: mean(expected.iter().map(|e| e.1)),
        pace: calibration.pace(),
        yields: calibration.yields(),
    }
}

#[allow(clippy::cast_precision_loss)]
fn mean(numbers: impl ExactSizeIterator<Item = i64>) -> Option<f64> {
    let count = numbers.len();
    (count > 0).then(|| numbers.sum::<i64>() as f64 / count as f64)
}

/// A top-up of less than this share of what should have been used since the tank was full has not
/// filled it again (common practice, no published source).
const MIN_FULL_SHARE: f64 = 0.5;

/// From when to when a loop's use was topped up, and the litres: from a day on which the tank was
/// full, after a filling or a top-up, to the next. What was put in between without filling it
/// counts with what filled it at last.
fn topped_up(
    start: NaiveDate,
    state: &DiaryState,
    name: &str,
    computed: &LoopWater,
) -> Vec<([NaiveDate; 2], f64)> {
    let top_ups = state.top_ups.iter().filter(|t| t.r#loop == name);
    let top_ups = top_ups.map(|t| (t.on, Some(t)));
    let refills = state.refills.iter().filter(|(_, l)| l == name);
    let refills = refills.map(|&(on, _)| (on, None));
    let mut works: Vec<(NaiveDate, Option<&RecordedTopUp>)> = top_ups.chain(refills).collect();
    works.sort_by_key(|w| w.0);
    let mut spans = Vec::new();
    let mut full: Option<NaiveDate> = None;
    let mut put_in = 0.0;
    for (on, top_up) in works {
        put_in += top_up.map_or(0.0, |t| t.litres);
        let used = full.and_then(|full| computed.used_between(start, [full, on]));
        let fills =
            |t: &RecordedTopUp| t.full || used.is_none_or(|used| put_in >= MIN_FULL_SHARE * used);
        if !top_up.is_none_or(fills) {
            continue;
        }
        spans.extend(full.zip(top_up).map(|(full, _)| ([full, on], put_in)));
        (full, put_in) = (Some(on), 0.0);
    }
    spans
}

#[allow(clippy::cast_precision_loss)]
fn loop_so_far(
    start: NaiveDate,
    state: &DiaryState,
    name: &str,
    computed: &LoopWater,
) -> LoopSoFar {
    let top_ups: Vec<&RecordedTopUp> = state.top_ups.iter().filter(|t| t.r#loop == name).collect();
    let readings = || state.readings.iter().rev().filter(|r| r.r#loop == name);
    let refills = state.refills.iter().filter(|(_, l)| l == name);
    let seen = topped_up(start, state, name, computed);
    let days: i64 = seen
        .iter()
        .map(|([from, to], _)| (*to - *from).num_days())
        .sum();
    let a_day = |litres: f64| (days > 0).then(|| litres / days as f64);
    let computed: Option<f64> = seen
        .iter()
        .map(|(span, _)| computed.used_between(start, *span))
        .sum();
    LoopSoFar {
        r#loop: name.to_owned(),
        // A sum of nothing would be -0.
        litres: top_ups.iter().fold(0.0, |sum, t| sum + t.litres),
        times: top_ups.len(),
        litres_a_day: a_day(seen.iter().map(|s| s.1).sum()),
        computed_a_day: computed.and_then(a_day),
        filled: refills.map(|&(on, _)| on).max(),
        ec: readings().find_map(|r| Some((r.on, r.ec?.get()))),
        ph: readings().find_map(|r| Some((r.on, r.ph?))),
    }
}

/// The day up to which a diary tells: its last.
#[must_use]
pub fn last_day(entries: &[crate::diary::Entry], garden: &Garden) -> NaiveDate {
    let noted = entries.iter().map(|e| e.on).max();
    noted
        .unwrap_or(garden.start)
        .min(garden.last_day() + Days::new(366))
}
