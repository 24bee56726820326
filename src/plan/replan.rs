//! Planning again on a later day, around what stands by the diary.

use chrono::NaiveDate;

use crate::diary::{self, Diary, DiaryState, Entry, ImpossibleEvent};
use crate::garden::Garden;
use crate::plan::calibration::{self, Calibration};
use crate::plan::changes::{self, PlanChange};
use crate::plan::plan_garden::{self, Planned};
use crate::plan::warm_start::{self, Horizon, transfer};
use crate::plan::{Plan, diagnose, seed_stock, tank_history};
use crate::planner::bound::lower_bound;
use crate::planner::build::{self, PlanningState};
use crate::planner::checker::Violation;
use crate::planner::effort::Effort;
use crate::planner::monitor::Monitor;
use crate::planner::problem::Problem;
use crate::planner::problem::cost;
use crate::planner::problem::model::Model;
use crate::planner::problem::solution::Solution;
use crate::planner::solve::SolveResult;

/// Later weeks are turned over, and the coming ones for a plan made wholly anew, only if that costs
/// less by more than this share of what planting nothing would cost: otherwise the grower's weeks
/// would be turned over for a head or two.
pub const MIN_GAIN_TO_REPLACE: f64 = 0.01;

/// What a plan is made again from.
#[derive(Debug, Clone, Copy)]
pub struct ReplanInput<'a> {
    /// The garden.
    pub garden: &'a Garden,
    /// What happened in it.
    pub diary: &'a Diary,
    /// The day from which is planned.
    pub today: NaiveDate,
    /// The plan so far, if there is one.
    pub former: Option<&'a Plan>,
    /// The fingerprint of the garden file and cards.
    pub made_from: &'a str,
    /// How much to search.
    pub effort: Effort,
    /// Not to hold on to the plan so far.
    pub fresh: bool,
}

/// A plan made again.
#[derive(Debug, Clone)]
pub struct Replan {
    /// The plan and what it came from.
    pub planned: Planned,
    /// The garden as the plan took it: see [`Plan::with_calibrated_crops`].
    pub garden: Garden,
    /// What was learned of each crop.
    pub calibrations: Vec<Calibration>,
    /// What happened, as far as it can have.
    pub state: DiaryState,
    /// What moved in the coming two weeks, and why.
    pub changes: Vec<PlanChange>,
    /// Entries of the diary that cannot have happened.
    pub rejected_entries: Vec<(Entry, ImpossibleEvent)>,
    /// Nothing has happened since the plan so far that it did not say: it stays as it is, to the
    /// byte.
    pub is_unchanged: bool,
    /// The diary has work of the plan's first day: what is not planned of it any more was done.
    pub has_work_on_first_day: bool,
}

impl Replan {
    /// A garden's first plan, when nothing has happened yet.
    #[must_use]
    pub fn first(planned: Planned, garden: Garden) -> Self {
        Self {
            planned,
            state: DiaryState::new(&garden),
            garden,
            calibrations: Vec::new(),
            changes: Vec::new(),
            rejected_entries: Vec::new(),
            is_unchanged: false,
            has_work_on_first_day: false,
        }
    }
}

/// Why there is no plan.
#[derive(Debug, thiserror::Error)]
pub enum ReplanError {
    /// The garden's weeks are over.
    #[error("the last day planned for is over by {0}; give the garden a later `start`")]
    SeasonOver(NaiveDate),
    /// The day is before the garden's first.
    #[error("{today} is before the garden's start, {start}")]
    BeforeStart {
        /// The day.
        today: NaiveDate,
        /// The garden's first.
        start: NaiveDate,
    },
    /// The plan found breaks a rule: a fault of this program.
    #[error("the plan breaks a rule")]
    RuleBroken(Vec<Violation>),
}

/// Plans a garden again from a day of it.
///
/// What stands stays. The plan so far is carried over as far as it still fits and its holes are
/// mended; in the coming two weeks it changes only where it must, later only where that gains enough
/// for each plant that moves, or more than [`MIN_GAIN_TO_REPLACE`] altogether. A plan made wholly
/// anew takes its place only if it is better by as much again.
///
/// # Errors
/// If the day is not one of the garden's, or the plan found breaks a rule.
pub fn replan(input: &ReplanInput<'_>, watch: &Monitor<'_>) -> Result<Replan, ReplanError> {
    let ReplanInput { diary, today, .. } = *input;
    let garden = &diary.add_crops_to(input.garden.clone());
    if today < garden.start {
        let start = garden.start;
        return Err(ReplanError::BeforeStart { today, start });
    }
    let (state, left_out) = diary::replay(garden, &diary.entries, today);
    let left_out = left_out.into_iter().map(|(e, why)| (e.clone(), why));
    let left_out: Vec<(Entry, ImpossibleEvent)> = left_out.collect();
    let learned = calibration::calibrate(garden, &state, today);
    let seen = calibration::applied_calibrations(&learned);
    let corrected = calibration::calibrated_garden(garden, &seen);
    let setting = PlanningState::from_diary(&corrected, &state, today)
        .ok_or(ReplanError::SeasonOver(today))?;
    let setting = PlanningState {
        demand_safety_factor_milli: (0..garden.wants.len())
            .map(|want| calibration::demand_safety_factor_milli(garden, &state, want, today))
            .collect(),
        tanks: tank_history::initial_tank_states(&corrected, &state, input.former, today),
        ..setting
    };
    let built = build::build_from(&corrected, &setting);
    let former = input
        .former
        .filter(|f| !input.fresh && f.garden == garden.name && f.start <= today);
    let nothing_new = former.is_some_and(|f| is_unchanged(f, input));
    let is_same = former.is_some_and(|f| f.made_from == input.made_from);
    let solved = solve_around(&built, &setting, (former, is_same), input.effort, watch);
    let mut planned =
        plan_garden::plan_of_solution(&corrected, &setting, built, solved, input.made_from)
            .map_err(ReplanError::RuleBroken)?;
    match former {
        _ if nothing_new => {}
        // What would help is a matter of the rig, not of the weeks that are left.
        Some(former) if is_same => {
            diagnose::add_bounds(&mut planned);
            planned.plan.would_help.clone_from(&former.would_help);
        }
        _ => {
            diagnose::add_bounds(&mut planned);
            diagnose::add_advice(&mut planned, &corrected, &setting, watch);
        }
    }
    if let Some(former) = former {
        record_overdue(&mut planned.plan, former, &state);
    }
    planned.plan.diary.clone_from(&diary.fingerprint);
    planned.plan.seen = seen;
    planned.plan.seed = seed_stock::lots_in_stock(garden, &state, input.former, today);
    if let Some(former) = former.filter(|_| nothing_new) {
        planned.plan = former.clone();
    }
    let changes = former.map_or_else(Vec::new, |former| {
        changes::compare_plans(former, &planned.plan, &state, today)
    });
    let garden = planned.plan.with_calibrated_crops(garden);
    let worked = diary.entries.iter().any(|e| e.on == planned.plan.start);
    Ok(Replan {
        planned,
        has_work_on_first_day: worked,
        garden,
        calibrations: learned,
        state,
        changes,
        rejected_entries: left_out,
        is_unchanged: nothing_new,
    })
}

/// Whether garden and diary are what they were, and no work was due meanwhile.
fn is_unchanged(former: &Plan, input: &ReplanInput<'_>) -> bool {
    let mut between = former.start.iter_days().take_while(|d| *d < input.today);
    former.made_from == input.made_from
        && former.diary == input.diary.fingerprint
        && !between.any(|d| input.garden.rhythm.is_workday(d))
}

/// Puts down which plants that stand should have given their first harvest by now.
fn record_overdue(plan: &mut Plan, former: &Plan, state: &DiaryState) {
    let today = plan.start;
    for stay in plan.stays.iter_mut().filter(|s| s.stands) {
        let Some(plant) = state
            .plants
            .get(&stay.hole)
            .filter(|p| p.harvests.is_empty())
        else {
            continue;
        };
        let before = former.stay_of(&stay.hole, &stay.crop, plant.transplanted);
        stay.was_due = before.and_then(|before| {
            let first = before.harvests.first().map(|h| h.day);
            before.was_due.or(first.filter(|&day| day < today))
        });
    }
}

/// `former` is the plan so far, if there is one, and whether it is of the garden as it is now: of
/// another one it may fit as a whole and leave new holes, wants or weeks empty.
fn solve_around(
    built: &build::BuiltProblem,
    setting: &PlanningState,
    (former, is_same): (Option<&Plan>, bool),
    effort: Effort,
    watch: &Monitor<'_>,
) -> SolveResult {
    let problem = &built.problem;
    let model = Model::new(problem);
    let fresh = || plan_garden::solve_from_scratch(&model, effort, watch);
    let Some(former) = former else {
        return fresh();
    };
    let carried = transfer(&model, &built.standing_unit_harvests, former, setting);
    let mut state = carried.state;
    if carried.is_complete && is_same {
        // Only what lies beyond the shown weeks is not in the former plan.
        warm_start::fill_free_gaps(&mut state, problem.days.cast_signed());
        let solution = state.solution();
        return SolveResult {
            lower_bound: lower_bound::solve_lower_bound(
                &model,
                &solution,
                effort.bound_iterations(),
            ),
            solution,
            stopped: watch.is_stopped(),
        };
    }
    warm_start::fill_free_gaps(&mut state, 0);
    warm_start::delay_harvests(&mut state);
    let improve = |state, later| {
        let mut state = warm_start::improve(state, &carried.batches, later, effort, watch);
        warm_start::add_slack(&mut state, &carried.batches);
        state
    };
    let mut state = improve(state, Horizon::Penalised);
    let ceiling =
        lower_bound::solve_lower_bound(&model, &state.solution(), effort.bound_iterations());
    #[allow(clippy::cast_precision_loss)]
    let is_worth =
        |gain: i64| gain as f64 > MIN_GAIN_TO_REPLACE * cost::empty_plan_cost(problem) as f64;
    if !is_worth(state.cost() - ceiling.bound) {
        // No other plan would be worth turning over this one for.
        return SolveResult {
            solution: state.solution(),
            lower_bound: ceiling,
            stopped: watch.is_stopped(),
        };
    }
    let open = improve(state.clone(), Horizon::Free);
    if is_worth(state.cost() - open.cost()) {
        state = open;
    }
    let mended = state.solution();
    let fresh = fresh();
    let gain = reported_cost(problem, &mended) - reported_cost(problem, &fresh.solution);
    if is_worth(gain) {
        fresh
    } else {
        SolveResult {
            solution: mended,
            ..fresh
        }
    }
}

/// What a solution costs in the shown weeks alone.
fn reported_cost(problem: &Problem, solution: &Solution) -> i64 {
    let weeks = problem.reported_weeks();
    let supply = solution.supply(problem);
    let short: i64 = problem
        .wants
        .iter()
        .zip(&supply)
        .flat_map(|(want, supply)| {
            let targets = want.target_milli.iter().zip(supply).take(weeks);
            targets.map(move |(&target, &supply)| cost::week_cost(want, target, supply))
        })
        .sum();
    let shown = |p: &&crate::planner::problem::solution::PlacedStay| {
        i64::from(p.batch(problem).sow) < i64::from(problem.days)
    };
    let stays = solution.stays.iter().filter(shown).count();
    short + problem.stay_cost_milli * i64::try_from(stays).unwrap_or(i64::MAX)
}
