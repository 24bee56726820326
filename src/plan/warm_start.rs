//! A former plan carried over to a new day, its holes mended where it no longer fits.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::plan::{Plan, Stay};
use crate::planner::build::{PlanningState, UnitHarvests};
use crate::planner::effort::Effort;
use crate::planner::monitor::Monitor;
use crate::planner::problem::Problem;
use crate::planner::problem::cost;
use crate::planner::problem::model::{Arc, ArcId, Model};
use crate::planner::search::path::{Gap, PathFinder};
use crate::planner::search::state::State;
use crate::planner::search::{Search, T_RESTART};
use crate::planner::solve::SolveResult;

/// Days from today in which the plan is changed only where it must be.
pub const FROZEN_DAYS: u32 = 14;

/// Seed of the improvement.
const SEED: u64 = 0x0d1a_4711;

/// The improvement is one search of so many times a search's moves: still much less than a plan
/// made wholly anew.
const MOVES_FACTOR: usize = 3;

/// An improvement by less than half of what a harvest missed costs changes nothing.
fn min_gain_to_change(problem: &Problem) -> i64 {
    cost::min_shortage_cost(problem) / 2
}

/// What became of a former plan.
pub(super) struct WarmStart<'m> {
    pub(super) state: State<'m>,
    /// By hole: the batches of its stays that are in, as they were or taken on another day.
    pub(super) batches: Vec<Vec<u32>>,
    /// Every stay of it that was still to come is in, as it was, and nothing stands that it did
    /// not know of.
    pub(super) is_complete: bool,
}

/// Carries a plan over, as far as it fits.
pub(super) fn transfer<'m>(
    model: &'m Model<'m>,
    standing_gains: &[Vec<UnitHarvests>],
    former: &Plan,
    setting: &PlanningState,
) -> WarmStart<'m> {
    let mut carrier = Transfer {
        state: State::empty(model),
        today: setting.today,
        holes: model
            .problem
            .holes
            .iter()
            .enumerate()
            .map(|(n, h)| (h.id.as_str(), n))
            .collect(),
        setting,
        is_complete: true,
    };
    carrier.transfer_clean_days(former);
    carrier.transfer_standing(standing_gains, former);
    carrier.transfer_stays(former);
    let state = carrier.state;
    let batches = |hole: usize| {
        let planted = state.stays(hole).filter(|a| !a.stands);
        planted.map(|a| a.batch).collect()
    };
    WarmStart {
        batches: (0..state.paths.len()).map(batches).collect(),
        state,
        is_complete: carrier.is_complete,
    }
}

struct Transfer<'m, 's> {
    state: State<'m>,
    today: NaiveDate,
    holes: BTreeMap<&'m str, usize>,
    setting: &'s PlanningState,
    is_complete: bool,
}

impl Transfer<'_, '_> {
    fn day(&self, date: NaiveDate) -> Option<u32> {
        u32::try_from((date - self.today).num_days()).ok()
    }

    /// Each tube is scrubbed when the plan said; where it said nothing, when the fewest plants
    /// are in the way.
    fn transfer_clean_days(&mut self, former: &Plan) {
        let problem = self.state.model.problem;
        for (n, clean) in problem.cleans.iter().enumerate() {
            let tube = tube_name(&problem.holes, clean.tube);
            let [first, last] = clean.days;
            let empty_from = problem.tube_occupied_until(clean.tube);
            let allowed =
                |d: u32| first.max(empty_from) <= d && d <= last && problem.workdays.contains(&d);
            let said = former
                .cleans
                .iter()
                .filter(|c| Some(c.tube.as_str()) == tube)
                .filter_map(|c| self.day(c.day))
                .find(|&d| allowed(d));
            let in_the_way = |d: u32| {
                let crosses = |s: &&Stay| {
                    s.hole.rsplit_once('-').map(|(t, _)| t) == tube
                        && self.day(s.transplant).unwrap_or(0) < d
                        && self.day(s.removal).is_some_and(|r| d < r)
                };
                former.stays.iter().filter(crosses).count()
            };
            let workdays = problem.workdays.iter().copied();
            let best = || {
                workdays
                    .filter(|&d| allowed(d))
                    .min_by_key(|&d| (in_the_way(d), d))
            };
            if let Some(day) = said.or_else(best) {
                self.state.clean_days[n] = day;
            }
        }
    }

    /// What stands is harvested and taken when the plan said, or else as near to it as can be.
    fn transfer_standing(&mut self, gains: &[Vec<UnitHarvests>], former: &Plan) {
        let model = self.state.model;
        for (stands, gains) in model.problem.standing.iter().zip(gains) {
            let hole = stands.hole;
            let class = model.class(hole);
            let id = &model.problem.holes[hole].id;
            let past = self.setting.standing.iter().find(|s| s.hole == *id);
            let said = past.and_then(|p| former.stay_of(id, &stands.crop, p.transplanted));
            let removal = said.and_then(|s| self.day(s.removal));
            let harvests: Vec<u32> = said
                .iter()
                .flat_map(|s| &s.harvests)
                .filter(|h| past.is_some_and(|p| !p.harvested.contains(&h.day)))
                .filter_map(|h| self.day(h.day))
                .collect();
            let days = |a: ArcId| {
                let gains = &gains[class.arcs[a as usize].end as usize];
                gains.iter().map(|&(day, _)| day)
            };
            self.state.remove(hole, 0, u32::MAX, true);
            let mut ends: Vec<ArcId> = class.standing.clone().collect();
            ends.sort_by_key(|&a| {
                let ends = class.arcs[a as usize].removal;
                let away = ends.abs_diff(removal.unwrap_or(0));
                let unlike = days(a).filter(|d| !harvests.contains(d)).count();
                (away, unlike, ends, a)
            });
            let fits = ends
                .iter()
                .copied()
                .find(|&a| can_add(&self.state, hole, a));
            // What stands stands: if no end suits its neighbours, the first one does.
            let arc = fits.unwrap_or(class.standing.start);
            let as_said = Some(class.arcs[arc as usize].removal) == removal;
            self.is_complete &= as_said && (stands.once || days(arc).eq(harvests));
            self.state.insert(hole, &[arc]);
        }
    }

    fn transfer_stays(&mut self, former: &Plan) {
        for stay in former.stays.iter().filter(|s| !s.for_seed) {
            let Some(transplant) = self.day(stay.transplant) else {
                // It was to stand by now: either it does, or something came between.
                let gone = stay.removal < self.today;
                self.is_complete &= gone || self.is_standing(stay);
                continue;
            };
            if self.is_standing(stay) {
                continue;
            }
            let carried = self
                .holes
                .get(stay.hole.as_str())
                .copied()
                .is_some_and(|hole| self.transfer_stay(hole, stay, transplant));
            self.is_complete &= carried;
        }
    }

    fn is_standing(&self, stay: &Stay) -> bool {
        let standing = &self.setting.standing;
        standing
            .iter()
            .any(|s| stay.matches_plant(&s.hole, &s.crop, s.transplanted))
    }

    /// Puts a stay in as it was, or with the nearest removal; whether it is as it was.
    fn transfer_stay(&mut self, hole: usize, stay: &Stay, transplant: u32) -> bool {
        let model = self.state.model;
        let problem = model.problem;
        let class = model.class(hole);
        let Ok(position) = problem.workdays.binary_search(&transplant) else {
            return false;
        };
        let removal = self.day(stay.removal).unwrap_or(0);
        let mut arcs: Vec<ArcId> = (class.starts[position]..class.starts[position + 1])
            .filter(|&a| self.is_same_stay(hole, &class.arcs[a as usize], stay))
            .collect();
        arcs.sort_by_key(|&a| {
            let arc = &class.arcs[a as usize];
            let same_sowing = stay
                .sow
                .is_some_and(|sow| i64::from(arc.sow) == (sow - self.today).num_days());
            (
                arc.removal.abs_diff(removal),
                !same_sowing,
                arc.lot.is_none(),
                a,
            )
        });
        let Some(arc) = arcs.into_iter().find(|&a| can_add(&self.state, hole, a)) else {
            return false;
        };
        let before = self.state.paths[hole].len();
        self.state.insert(hole, &[arc]);
        self.state.paths[hole].len() > before && class.arcs[arc as usize].removal == removal
    }

    /// Whether a possible stay is the one of the plan: the same plants, from seed yet to be sown
    /// on the same day or from seedlings that are there.
    fn is_same_stay(&self, hole: usize, arc: &Arc, stay: &Stay) -> bool {
        let problem = self.state.model.problem;
        let batch = &problem.kinds[problem.holes[hole].kind].batches[arc.batch as usize];
        let sown_before = stay.on_hand || stay.sow.is_none_or(|sow| sow < self.today);
        let sow = stay.sow.map(|sow| (sow - self.today).num_days());
        batch.crop == stay.crop
            && problem.wants[batch.want].id == stay.want
            && if sown_before {
                arc.lot.is_some()
            } else {
                // Seed that was sown on the very day is among the seedlings by now.
                arc.lot.is_some() && sow == Some(0) || sow == Some(i64::from(arc.sow))
            }
    }
}

/// Whether a stay goes with all that is planned.
fn can_add(state: &State<'_>, hole: usize, arc: ArcId) -> bool {
    let lot = state.model.class(hole).arcs[arc as usize].lot;
    lot.is_none_or(|lot| state.remaining_seedlings(lot) > 0) && state.is_feasible(hole, arc)
}

/// Puts a stay in where it goes with all that is planned; whether it did.
fn add_if_feasible(state: &mut State<'_>, hole: usize, arc: ArcId) -> bool {
    let before = state.paths[hole].len();
    if can_add(state, hole, arc) {
        state.insert(hole, &[arc]);
    }
    state.paths[hole].len() > before
}

fn tube_name(holes: &[crate::planner::problem::Hole], tube: usize) -> Option<&str> {
    let hole = holes.iter().find(|h| h.tube == tube)?;
    hole.id.rsplit_once('-').map(|(tube, _)| tube)
}

/// Fills what is free in every hole by its best path: only with stays sown from day `sown_from`
/// on.
pub(super) fn fill_free_gaps(state: &mut State<'_>, sown_from: i32) {
    state.min_sow_day = sown_from;
    let mut finder = PathFinder::default();
    let holes = state.paths.len();
    for hole in (0..holes).step_by(2).chain((1..holes).step_by(2)) {
        fill_hole(state, &mut finder, hole);
    }
    state.unfreeze();
}

fn fill_hole(state: &mut State<'_>, finder: &mut PathFinder, hole: usize) {
    for gap in free_gaps(state, hole) {
        let mut path = Vec::new();
        finder.best_path(state, hole, gap, false, &mut path);
        state.insert(hole, &path);
    }
}

/// The times in which a hole is free.
fn free_gaps(state: &State<'_>, hole: usize) -> Vec<Gap> {
    let class = state.model.class(hole);
    let end = u32::try_from(state.model.problem.workdays.len()).unwrap_or(u32::MAX);
    let mut gaps = Vec::new();
    let mut from = 0;
    for &a in &state.paths[hole] {
        let arc = &class.arcs[a as usize];
        if !arc.stands && from < arc.from {
            gaps.push(Gap { from, to: arc.from });
        }
        from = arc.to;
    }
    if from < end {
        gaps.push(Gap { from, to: end });
    }
    gaps
}

/// Harvests later what stands or is planned, one after the other, where that is better by enough:
/// what is ripe keeps for a while. Sooner would leave it less time to be late.
pub(super) fn delay_harvests(state: &mut State<'_>) {
    let worth = min_gain_to_change(state.model.problem);
    for hole in 0..state.paths.len() {
        for arc in state.paths[hole].clone() {
            delay_harvest(state, hole, arc, worth);
        }
    }
}

fn delay_harvest(state: &mut State<'_>, hole: usize, arc: ArcId, worth: i64) {
    let class = state.model.class(hole);
    let now = &class.arcs[arc as usize];
    let ways = if now.stands {
        class.standing.clone()
    } else {
        class.starts[now.from as usize]..class.starts[now.from as usize + 1]
    };
    let before = state.paths[hole].clone();
    let others: Vec<ArcId> = before.iter().copied().filter(|&a| a != arc).collect();
    let mut best = (state.cost() - worth + 1, before);
    let later = |&a: &ArcId| {
        let way = &class.arcs[a as usize];
        a != arc && way.batch == now.batch && way.removal >= now.removal
    };
    for way in ways.filter(later) {
        state.restore(&[(hole, others.clone())]);
        if add_if_feasible(state, hole, way) && state.cost() < best.0 {
            best = (state.cost(), state.paths[hole].clone());
        }
    }
    state.restore(&[(hole, best.1)]);
}

/// Days from today in which plants are set out whose weeks the grower has in mind.
const NEAR_HORIZON_DAYS: u32 = 56;

/// What it costs to give up a stay that the grower was told of, or to move it, as one of so many
/// parts of what a harvest missed costs: if it is set out soon, and if later. At four times as much
/// fewer plants move, but holidays cost harvests.
const CHANGE_COST_DIVISORS: (i64, i64) = (8, 40);

fn change_penalty(problem: &Problem, arc: &Arc) -> i64 {
    let (soon, later) = CHANGE_COST_DIVISORS;
    let parts = if arc.transplant < NEAR_HORIZON_DAYS {
        soon
    } else {
        later
    };
    cost::min_shortage_cost(problem) / parts
}

/// The stays of the former plan that are still planned, by hole.
fn change_penalties(state: &State<'_>, batches: &[Vec<u32>]) -> Vec<Vec<(ArcId, i64)>> {
    let of_hole = |(hole, batches): (usize, &Vec<u32>)| {
        let arcs = &state.model.class(hole).arcs;
        let path = state.paths[hole].iter().map(|&a| (a, &arcs[a as usize]));
        let planned = path.filter(|(_, arc)| !arc.stands && batches.contains(&arc.batch));
        planned
            .map(|(a, arc)| (a, change_penalty(state.model.problem, arc)))
            .collect()
    };
    batches.iter().enumerate().map(of_hole).collect()
}

/// Whether what a plan says of later weeks is a promise, or may be turned over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Horizon {
    Penalised,
    Free,
}

/// Searches on from a plan, and takes what is better by enough to change it for; where later weeks
/// are promised, by more than it costs to give up all that it changes of them. Leaves alone what
/// stands, seedlings that are there and what the former plan sows in the coming weeks, and what comes
/// before that in its hole.
pub(super) fn improve<'m>(
    state: State<'m>,
    batches: &[Vec<u32>],
    horizon: Horizon,
    effort: Effort,
    watch: &Monitor<'_>,
) -> State<'m> {
    let problem = state.model.problem;
    let mut open = state.clone();
    let promises = change_penalties(&state, batches);
    open.freeze(|hole, a| {
        let arc = &state.model.class(hole).arcs[a as usize];
        let told = promises[hole].iter().any(|p| p.0 == a);
        arc.stands || arc.lot.is_some() || told && arc.sow < FROZEN_DAYS.cast_signed()
    });
    if horizon == Horizon::Penalised {
        open.set_change_penalties(promises);
    }
    let mut search = Search::resume(open, SEED);
    search.improve(
        MOVES_FACTOR * effort.moves(problem),
        T_RESTART,
        &watch.without_reporting(),
    );
    if state.cost() - search.cost() < min_gain_to_change(problem) {
        return state;
    }
    let mut better = search.into_state();
    better.unfreeze();
    better
}

/// Most days by which a plant is set out sooner than it must be, to have time in hand.
const MAX_SLACK_DAYS: u32 = 7;

/// A solution wholly new, with time in hand.
pub(super) fn with_slack(model: &Model<'_>, solved: SolveResult) -> SolveResult {
    let mut state = State::from_solution(model, &solved.solution);
    add_slack(&mut state, &[]);
    SolveResult {
        solution: state.solution(),
        ..solved
    }
}

/// Sets plants that are taken whole out sooner where their holes are free, and takes them on the
/// same days: what comes a little late is then still in time. Leaves those of some batches alone, by
/// hole.
pub(super) fn add_slack(state: &mut State<'_>, but_for: &[Vec<u32>]) {
    for hole in 0..state.paths.len() {
        let told = but_for.get(hole).map_or(&[][..], Vec::as_slice);
        for arc in state.paths[hole].clone() {
            let batch = state.model.class(hole).arcs[arc as usize].batch;
            if !told.contains(&batch) {
                add_slack_to(state, hole, arc);
            }
        }
    }
}

fn add_slack_to(state: &mut State<'_>, hole: usize, arc: ArcId) {
    let model = state.model;
    let class = model.class(hole);
    let batches = &model.problem.kinds[model.problem.holes[hole].kind].batches;
    let now = &class.arcs[arc as usize];
    if now.stands || now.lot.is_some() || !batches[now.batch as usize].once {
        return;
    }
    let want = batches[now.batch as usize].want;
    let sooner = |a: &ArcId| {
        let other = &class.arcs[*a as usize];
        let batch = &batches[other.batch as usize];
        other.crop == now.crop
            && batch.want == want
            && other.removal == now.removal
            && other.lot.is_none()
            && now.transplant <= other.transplant + MAX_SLACK_DAYS
    };
    let first = class.starts[(now.from as usize).saturating_sub(MAX_SLACK_DAYS as usize)];
    let candidates: Vec<ArcId> = (first..class.starts[now.from as usize])
        .filter(sooner)
        .collect();
    let before = state.paths[hole].clone();
    let without: Vec<ArcId> = before.iter().copied().filter(|&a| a != arc).collect();
    for candidate in candidates {
        state.restore(&[(hole, without.clone())]);
        if add_if_feasible(state, hole, candidate) {
            return;
        }
    }
    state.restore(&[(hole, before)]);
}
