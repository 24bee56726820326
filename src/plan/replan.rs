//! Planning again on a later day, around what stands by the diary.

use chrono::NaiveDate;

use crate::diary::{self, Diary, Entry, Impossible, State};
use crate::garden::Garden;
use crate::plan::calibration::{self, Learned};
use crate::plan::changes::{self, Change};
use crate::plan::make::{self, Planned};
use crate::plan::warm_start::{self, Later, carry};
use crate::plan::{Plan, diagnose, past_water, seed};
use crate::planner::bound::lower_bound;
use crate::planner::build::{self, Setting};
use crate::planner::checker::Broken;
use crate::planner::effort::Effort;
use crate::planner::monitor::Monitor;
use crate::planner::problem::Problem;
use crate::planner::problem::cost;
use crate::planner::problem::model::Model;
use crate::planner::problem::solution::Solution;
use crate::planner::solve::Solved;

/// Later weeks are turned over, and the coming ones for a plan made wholly anew, only if that costs
/// less by more than this share of what planting nothing would cost: otherwise the grower's weeks
/// would be turned over for a head or two.
pub const WORTH_TURNING_OVER: f64 = 0.01;

/// What a plan is made again from.
#[derive(Debug, Clone, Copy)]
pub struct Around<'a> {
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
    pub anew: bool,
}

/// A plan made again.
#[derive(Debug, Clone)]
pub struct Again {
    /// The plan and what it came from.
    pub planned: Planned,
    /// The garden as the plan took it: see [`Plan::as_taken`].
    pub garden: Garden,
    /// What was learned of each crop.
    pub learned: Vec<Learned>,
    /// What happened, as far as it can have.
    pub state: State,
    /// What moved in the coming two weeks, and why.
    pub changes: Vec<Change>,
    /// Entries of the diary that cannot have happened.
    pub left_out: Vec<(Entry, Impossible)>,
    /// Nothing has happened since the plan so far that it did not say: it stays as it is, to the
    /// byte.
    pub nothing_new: bool,
    /// The diary has work of the plan's first day: what is not planned of it any more was done.
    pub worked: bool,
}

impl Again {
    /// A garden's first plan, when nothing has happened yet.
    #[must_use]
    pub fn first(planned: Planned, garden: Garden) -> Self {
        Self {
            planned,
            state: State::new(&garden),
            garden,
            learned: Vec::new(),
            changes: Vec::new(),
            left_out: Vec::new(),
            nothing_new: false,
            worked: false,
        }
    }
}

/// Why there is no plan.
#[derive(Debug, thiserror::Error)]
pub enum NotAgain {
    /// The garden's weeks are over.
    #[error("the last day planned for is over by {0}; give the garden a later `start`")]
    Over(NaiveDate),
    /// The day is before the garden's first.
    #[error("{today} is before the garden's start, {start}")]
    TooSoon {
        /// The day.
        today: NaiveDate,
        /// The garden's first.
        start: NaiveDate,
    },
    /// The plan found breaks a rule: a fault of this program.
    #[error("the plan breaks a rule")]
    Broken(Vec<Broken>),
}

/// Plans a garden again from a day of it.
///
/// What stands stays. The plan so far is carried over as far as it still fits and its holes are
/// mended; in the coming two weeks it changes only where it must, later only where that gains enough
/// for each plant that moves, or more than [`WORTH_TURNING_OVER`] altogether. A plan made wholly
/// anew takes its place only if it is better by as much again.
///
/// # Errors
/// If the day is not one of the garden's, or the plan found breaks a rule.
pub fn again(around: &Around<'_>, watch: &Monitor<'_>) -> Result<Again, NotAgain> {
    let Around { diary, today, .. } = *around;
    let garden = &around.garden.clone().with_crops_of(diary);
    if today < garden.start {
        let start = garden.start;
        return Err(NotAgain::TooSoon { today, start });
    }
    let (state, left_out) = diary::replay(garden, &diary.entries, today);
    let left_out = left_out.into_iter().map(|(e, why)| (e.clone(), why));
    let left_out: Vec<(Entry, Impossible)> = left_out.collect();
    let learned = calibration::learned(garden, &state, today);
    let seen = calibration::seen(&learned);
    let corrected = calibration::corrected(garden, &seen);
    let setting = Setting::on(&corrected, &state, today).ok_or(NotAgain::Over(today))?;
    let setting = Setting {
        raised_milli: (0..garden.wants.len())
            .map(|want| calibration::raised_milli(garden, &state, want, today))
            .collect(),
        tanks: past_water::found(&corrected, &state, around.former, today),
        ..setting
    };
    let built = build::build_from(&corrected, &setting);
    let former = around
        .former
        .filter(|f| !around.anew && f.garden == garden.name && f.start <= today);
    let nothing_new = former.is_some_and(|f| is_nothing_new(f, around));
    let is_same = former.is_some_and(|f| f.made_from == around.made_from);
    let solved = solved(&built, &setting, (former, is_same), around.effort, watch);
    let mut planned = make::told(&corrected, &setting, built, solved, around.made_from)
        .map_err(NotAgain::Broken)?;
    match former {
        _ if nothing_new => {}
        // What would help is a matter of the rig, not of the weeks that are left.
        Some(former) if is_same => {
            diagnose::bounds(&mut planned);
            planned.plan.would_help.clone_from(&former.would_help);
        }
        _ => diagnose::tell(&mut planned, &corrected, &setting, watch),
    }
    if let Some(former) = former {
        note_overdue(&mut planned.plan, former, &state);
    }
    planned.plan.diary.clone_from(&diary.fingerprint);
    planned.plan.seen = seen;
    planned.plan.seed = seed::in_house(garden, &state, around.former, today);
    if let Some(former) = former.filter(|_| nothing_new) {
        planned.plan = former.clone();
    }
    let changes = former.map_or_else(Vec::new, |former| {
        changes::changes(former, &planned.plan, &state, today)
    });
    let garden = planned.plan.as_taken(garden);
    let worked = diary.entries.iter().any(|e| e.on == planned.plan.start);
    Ok(Again {
        planned,
        worked,
        garden,
        learned,
        state,
        changes,
        left_out,
        nothing_new,
    })
}

/// Whether garden and diary are what they were, and no work was due meanwhile.
fn is_nothing_new(former: &Plan, around: &Around<'_>) -> bool {
    let mut between = former.start.iter_days().take_while(|d| *d < around.today);
    former.made_from == around.made_from
        && former.diary == around.diary.fingerprint
        && !between.any(|d| around.garden.rhythm.is_workday(d))
}

/// Puts down which plants that stand should have given their first harvest by now.
fn note_overdue(plan: &mut Plan, former: &Plan, state: &State) {
    let today = plan.start;
    for stay in plan.stays.iter_mut().filter(|s| s.stands) {
        let Some(plant) = state.plants.get(&stay.hole).filter(|p| p.taken.is_empty()) else {
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
fn solved(
    built: &build::Built,
    setting: &Setting,
    (former, is_same): (Option<&Plan>, bool),
    effort: Effort,
    watch: &Monitor<'_>,
) -> Solved {
    let problem = &built.problem;
    let model = Model::new(problem);
    let fresh = || make::anew(&model, effort, watch);
    let Some(former) = former else {
        return fresh();
    };
    let carried = carry(&model, &built.standing_gains, former, setting);
    let mut state = carried.state;
    if carried.whole && is_same {
        // Only what lies beyond the shown weeks is not in the former plan.
        warm_start::fill(&mut state, problem.days.cast_signed());
        let solution = state.solution();
        return Solved {
            ceiling: lower_bound::over(&model, &solution, effort.rounds()),
            solution,
            stopped: watch.is_stopped(),
        };
    }
    warm_start::fill(&mut state, 0);
    warm_start::retime(&mut state);
    let improve = |state, later| {
        let mut state = warm_start::improve(state, &carried.batches, later, effort, watch);
        warm_start::give_time(&mut state, &carried.batches);
        state
    };
    let mut state = improve(state, Later::Promised);
    let ceiling = lower_bound::over(&model, &state.solution(), effort.rounds());
    #[allow(clippy::cast_precision_loss)]
    let is_worth = |gain: i64| gain as f64 > WORTH_TURNING_OVER * cost::of_nothing(problem) as f64;
    if !is_worth(state.cost() - ceiling.bound) {
        // No other plan would be worth turning over this one for.
        return Solved {
            solution: state.solution(),
            ceiling,
            stopped: watch.is_stopped(),
        };
    }
    let open = improve(state.clone(), Later::Open);
    if is_worth(state.cost() - open.cost()) {
        state = open;
    }
    let mended = state.solution();
    let fresh = fresh();
    let gain = shown_cost(problem, &mended) - shown_cost(problem, &fresh.solution);
    if is_worth(gain) {
        fresh
    } else {
        Solved {
            solution: mended,
            ..fresh
        }
    }
}

/// What a solution costs in the shown weeks alone.
fn shown_cost(problem: &Problem, solution: &Solution) -> i64 {
    let weeks = problem.shown_weeks();
    let supply = solution.supply(problem);
    let short: i64 = problem
        .wants
        .iter()
        .zip(&supply)
        .flat_map(|(want, supply)| {
            let targets = want.target_milli.iter().zip(supply).take(weeks);
            targets.map(move |(&target, &supply)| cost::of_week(want, target, supply))
        })
        .sum();
    let shown = |p: &&crate::planner::problem::solution::Placed| {
        i64::from(p.batch(problem).sow) < i64::from(problem.days)
    };
    let stays = solution.stays.iter().filter(shown).count();
    short + problem.stay_cost_milli * i64::try_from(stays).unwrap_or(i64::MAX)
}
