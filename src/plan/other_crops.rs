//! Crops that could serve a want as well: of a family with one of its own.

use crate::garden::Garden;
use crate::garden::crop::{Crop, HarvestHabit};
use crate::plan::{ExcludedWeek, Plan, WantOutcome, WeekOutcome};

use crate::planner::build::{self, PlanningState};
use crate::planner::explain::advice::CandidateChange;
use crate::planner::problem::{Batch, Demand, Problem};
use crate::units::Measure;

/// So many weeks without a crop in season are worth looking for one.
const MIN_OUT_OF_SEASON_WEEKS: usize = 4;
/// So many crops are tried at the most: each is a plan made again.
const MAX_CROPS_TRIED: usize = 4;

/// Whether none of a want's crops is in season for weeks.
fn is_out_of_season(want: &WantOutcome) -> bool {
    let out = |w: &&WeekOutcome| w.not_counted == Some(ExcludedWeek::OutOfSeason);
    want.weeks.iter().filter(out).count() >= MIN_OUT_OF_SEASON_WEEKS
}

/// The garden with another crop for a want that needs it, once for each of the crops that could
/// fill most, with its problem.
pub fn alternative_problems(
    garden: &Garden,
    setting: &PlanningState,
    plan: &Plan,
) -> Vec<(CandidateChange, Problem)> {
    let mut tried = Vec::new();
    for (n, outcome) in plan.wants.iter().enumerate() {
        if !outcome.is_short() && !is_out_of_season(outcome) {
            continue;
        }
        for crop in candidates(garden, n) {
            let problem = build::build_from(&with_crop(garden, n, crop), setting).problem;
            let fills = fillable_shortage(&problem, n, &crop.key, outcome);
            let change = CandidateChange::Crop {
                want: n,
                crop: crop.key.clone(),
            };
            tried.push((fills, change, problem));
        }
    }
    tried.retain(|t| t.0 > 0);
    tried.sort_by_key(|t| -t.0);
    tried.truncate(MAX_CROPS_TRIED);
    tried.into_iter().map(|(_, c, p)| (c, p)).collect()
}

/// Crops of a family with one of a want's own, which are eaten much alike; taken whole where it
/// is wanted in heads.
fn candidates(garden: &Garden, want: usize) -> Vec<&Crop> {
    let want = &garden.wants[want];
    let own = want.from_crops.iter().filter_map(|key| garden.crop(key));
    let families: Vec<&str> = own.filter_map(Crop::family).collect();
    let in_heads = want.each_week.measure() == Measure::Heads;
    let all = garden.all_crops();
    all.filter(|crop| !want.from_crops.contains(&crop.key))
        .filter(|crop| crop.family().is_some_and(|f| families.contains(&f)))
        .filter(|crop| !in_heads || matches!(crop.harvest, HarvestHabit::Head { .. }))
        .collect()
}

/// The garden, one of its wants taking another crop too.
fn with_crop(garden: &Garden, want: usize, crop: &Crop) -> Garden {
    let mut garden = garden.clone().with_crops(|key| key == crop.key);
    garden.wants[want].from_crops.push(crop.key.clone());
    garden
}

/// How much is lacking over the weeks in which a crop could be harvested, in thousandths of a
/// harvest.
fn fillable_shortage(problem: &Problem, want: usize, crop: &str, outcome: &WantOutcome) -> i64 {
    let of_crop = |b: &&Batch| b.crop == crop && b.want == want;
    let batches = problem.kinds.iter().flat_map(|k| &k.batches);
    let mut ripe = vec![false; outcome.weeks.len()];
    for end in batches.filter(of_crop).flat_map(|b| &b.ends) {
        for given in &end.yields {
            if let Some(week) = ripe.get_mut(given.week as usize) {
                *week = true;
            }
        }
    }
    let Demand {
        target_milli,
        harvest_milli,
        ..
    } = &problem.wants[want];
    let weeks = outcome.weeks.iter().zip(target_milli).zip(ripe);
    let lacking = weeks
        .filter(|(_, is_ripe)| *is_ripe)
        .map(|((week, &target), _)| (target - milli(week.delivered)).max(0));
    lacking.sum::<i64>() * 1000 / harvest_milli
}

/// Units as thousandths.
#[allow(clippy::cast_possible_truncation)]
fn milli(units: f64) -> i64 {
    (units * 1000.0).round() as i64
}
