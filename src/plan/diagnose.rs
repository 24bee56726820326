//! What bounds a plan: the most of each want by month, and what would help where it is short.

use std::collections::BTreeMap;

use crate::garden::Garden;
use crate::plan::plan_garden::{self, Planned};
use crate::plan::{AdvisedChange, MaxSupply, Plan, RigChange, WantGain, WantOutcome, other_crops};
use crate::planner::bound::max_supply;
use crate::planner::build::BuiltProblem;
use crate::planner::build::PlanningState;
use crate::planner::explain::advice::{self, Advice};
use crate::planner::explain::bottleneck;
use crate::planner::monitor::Monitor;
use crate::planner::parallel;
use crate::planner::problem::Problem;
use crate::planner::problem::model::Model;
use crate::planner::search::state::State;
use crate::week;

/// A gain of less a week, in units, is not worth telling.
const MIN_WEEKLY_GAIN_REPORTED: f64 = 0.05;

/// Adds to a plan what would help: each change planned again.
pub fn add_advice(
    planned: &mut Planned,
    garden: &Garden,
    setting: &PlanningState,
    watch: &Monitor<'_>,
) {
    let Planned { built, plan, .. } = planned;
    let problem = &built.problem;
    if watch.is_stopped() || !advice::is_small_enough(problem) {
        return;
    }
    let mut changes = other_crops::alternative_problems(garden, setting, plan);
    if plan.wants.iter().any(WantOutcome::is_short) {
        changes.extend(advice::candidate_changes(problem));
    }
    if !changes.is_empty() {
        let advice = advice::rank_changes(problem, changes, plan_garden::threads(), watch);
        let helps = advice.into_iter().map(|a| advised_change(a, built, plan));
        plan.would_help = helps.filter(|h| !h.gains.is_empty()).collect();
    }
}

/// Adds the most of each want by month, and what stands in the way of more in each short week.
pub fn add_bounds(planned: &mut Planned) {
    let Planned {
        built,
        plan,
        solution,
        ..
    } = planned;
    let model = Model::new(&built.problem);
    let limits = bottleneck::bottlenecks(&mut State::from_solution(&model, solution));
    let mut most = max_supplies(&model, plan, &built.harvested_milli).into_iter();
    for (n, want) in plan.wants.iter_mut().enumerate() {
        let months = weeks_by_month(&want.weeks).into_keys().zip(&mut most);
        want.most = months
            .map(|(month, each_week)| MaxSupply { month, each_week })
            .collect();
        for (week, limit) in want.weeks.iter_mut().zip(&limits[n * model.weeks..]) {
            week.limit = limit.filter(|_| week.is_short());
        }
    }
}

/// The most of each want in each of its months, in units a week; with what the week under way has
/// had already.
fn max_supplies(model: &Model<'_>, plan: &Plan, had_milli: &[i64]) -> Vec<f64> {
    let wants = plan.wants.iter().enumerate();
    let asked = wants.flat_map(|(n, want)| {
        let months = weeks_by_month(&want.weeks).into_values();
        months.map(move |weeks| (n, weeks))
    });
    let asked: Vec<_> = asked.collect();
    parallel::map_in_parallel(&asked, plan_garden::threads(), |part| {
        let mut most = max_supply::MaxSupplyBound::new(model);
        let each = part.iter().map(|(n, weeks)| {
            let counted = plan.wants[*n].weeks[weeks.clone()].iter();
            let counted = counted.filter(|w| w.is_counted()).count();
            let had = if weeks.contains(&0) { had_milli[*n] } else { 0 };
            units_per_week(most.max_milli(*n, weeks.clone()) + had, counted)
        });
        each.collect()
    })
}

/// Thousandths over some weeks as units a week.
#[allow(clippy::cast_precision_loss)]
fn units_per_week(milli: i64, weeks: usize) -> f64 {
    // To a thousandth, as all amounts are.
    (milli as f64 / weeks.max(1) as f64).round() / 1000.0
}

/// Months and the weeks that belong to them, from the first that counts to the
/// last; no month of which none does.
fn weeks_by_month(weeks: &[crate::plan::WeekOutcome]) -> BTreeMap<String, std::ops::Range<usize>> {
    let mut months: BTreeMap<String, std::ops::Range<usize>> = BTreeMap::new();
    for (n, week) in weeks.iter().enumerate().filter(|(_, w)| w.is_counted()) {
        let month = week::month(week.monday);
        months.entry(month).or_insert(n..n).end = n + 1;
    }
    months
}

fn advised_change(advice: Advice, built: &BuiltProblem, plan: &Plan) -> AdvisedChange {
    let problem: &Problem = &built.problem;
    let gains = advice.gains_milli.iter().zip(&advice.weeks);
    AdvisedChange {
        change: match advice.change {
            advice::CandidateChange::Tube { like, holes } => RigChange::Tube {
                like: built.layout.tubes[like].name.clone(),
                holes,
            },
            advice::CandidateChange::Nursery { cells } => RigChange::Nursery { cells },
            advice::CandidateChange::Cleaning { days } => RigChange::Cleaning { days },
            advice::CandidateChange::Crop { want, crop } => RigChange::Crop {
                want: plan.wants[want].want.clone(),
                crop,
            },
        },
        gains: problem
            .wants
            .iter()
            .zip(gains)
            .map(|(want, (&gain, &weeks))| WantGain {
                want: want.id.clone(),
                each_week: units_per_week(gain, weeks),
            })
            .filter(|gain| gain.each_week.abs() >= MIN_WEEKLY_GAIN_REPORTED)
            .collect(),
    }
}
