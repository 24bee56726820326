//! The search: construct hole by hole, then take out and put back until nothing improves.

pub(crate) mod destroy;
pub(crate) mod incumbent;
pub(crate) mod operator_weights;
pub mod pair;
pub mod path;
pub(crate) mod repair;
pub mod state;
use std::cmp::Ordering;

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

use crate::planner::effort::Effort;
use crate::planner::monitor::Monitor;
use crate::planner::problem::model::{ArcId, Model, as_u32};
use crate::planner::problem::solution::FractionalSolution;
use crate::planner::problem::solution::Solution;
use crate::planner::search::destroy::MoveRecord;
use crate::planner::search::incumbent::Incumbent;
use crate::planner::search::operator_weights::{MoveOutcome, OperatorWeights};
use crate::planner::search::pair::{HoleOptions, Workspace};
use crate::planner::search::path::PathFinder;
use crate::planner::search::state::State;

/// A good solution of a problem: the same one for the same problem, effort and seed, on every
/// machine.
#[must_use]
pub fn search(model: &Model<'_>, effort: Effort, seed: u64) -> Solution {
    let mut search = Search::new(model, seed);
    search.construct();
    search.improve(effort.moves(model.problem), T_START, &Monitor::unwatched());
    search.solution()
}

/// Differences in cost that the acceptance starts and ends with, as parts of what a harvest
/// missed costs: from nothing, near a good plan, and when it is to settle.
pub const T_START: f64 = 0.8;
/// See [`T_START`].
pub const T_RESTART: f64 = 0.3;
const T_END: f64 = 0.005;
/// Where crops cannot share a solution, one start in so many is with any that can, not the best.
const RANDOM_SET_ODDS: u32 = 3;
/// Moves between two looks at whether to stop.
const MOVES_PER_REPORT: usize = 256;

/// A search under way.
pub struct Search<'m> {
    state: State<'m>,
    incumbent: Incumbent,
    finder: PathFinder,
    rng: Pcg64Mcg,
    /// The paths that the current move changes, as they were.
    replaced_paths: Vec<(usize, Vec<ArcId>)>,
    moved_cleans: Vec<(usize, u32)>,
    /// What the current move is.
    move_record: MoveRecord,
    /// Which parts are taken out, and in which ways they are filled.
    destroy_weights: OperatorWeights<7>,
    repair_weights: OperatorWeights<3>,
    path: Vec<ArcId>,
    hole_options: [HoleOptions; 2],
    workspace: Workspace,
    joint_path: pair::JointPath,
    /// The mean length of a stay of each crop that has any.
    mean_stay_days: Vec<u32>,
    /// What a harvest missed costs, on average.
    mean_shortage_cost: f64,
}

/// The index of the largest.
fn index_of_max(numbers: &[f64]) -> usize {
    let by_size = |a: &usize, b: &usize| numbers[*a].total_cmp(&numbers[*b]);
    (0..numbers.len()).rev().max_by(by_size).unwrap_or(0)
}

fn mean_stay_days(model: &Model<'_>) -> Vec<u32> {
    let mut sums = vec![(0u64, 0u64); model.crops.len()];
    for arc in model.classes.iter().flat_map(|c| &c.arcs) {
        let (days, count) = &mut sums[arc.crop as usize];
        *days += u64::from(arc.removal - arc.transplant);
        *count += 1;
    }
    sums.into_iter()
        .filter_map(|(days, count)| days.checked_div(count))
        .map(|mean| u32::try_from(mean).unwrap_or(u32::MAX).max(7))
        .collect()
}

/// What a harvest missed costs where nothing else is short, in thousandths: the mean over
/// want-weeks.
fn mean_shortage_cost(model: &Model<'_>) -> f64 {
    let wants = &model.problem.wants;
    let costs: Vec<i64> = (0..)
        .zip(&model.want_weeks)
        .filter(|(_, cell)| cell.target > 0)
        .map(|(n, cell)| {
            let one_less = cell.target - wants[cell.want].harvest_milli;
            model.want_week_cost(n, one_less.max(0))
        })
        .collect();
    costs.iter().sum::<i64>() as f64 / costs.len().max(1) as f64
}

impl<'m> Search<'m> {
    /// A search that has planted nothing yet.
    #[must_use]
    pub fn new(model: &'m Model<'m>, seed: u64) -> Self {
        Self::resume(State::empty(model), seed)
    }

    /// A search that begins with what is planned.
    #[must_use]
    pub fn resume(state: State<'m>, seed: u64) -> Self {
        Self {
            mean_stay_days: mean_stay_days(state.model),
            mean_shortage_cost: mean_shortage_cost(state.model),
            incumbent: Incumbent::of(&state),
            finder: PathFinder::default(),
            rng: Pcg64Mcg::seed_from_u64(seed),
            replaced_paths: Vec::new(),
            moved_cleans: Vec::new(),
            move_record: MoveRecord::default(),
            destroy_weights: OperatorWeights::new(destroy::initial_weights(state.model)),
            state,
            repair_weights: OperatorWeights::new(repair::REPAIR_WEIGHTS),
            path: Vec::new(),
            hole_options: Default::default(),
            workspace: Workspace::default(),
            joint_path: pair::JointPath::default(),
        }
    }

    /// The cost of the best solution found.
    #[must_use]
    pub const fn cost(&self) -> i64 {
        self.incumbent.cost
    }

    /// The best solution found.
    #[must_use]
    pub fn solution(self) -> Solution {
        self.into_state().solution()
    }

    /// The state of the best solution found.
    #[must_use]
    pub fn into_state(mut self) -> State<'m> {
        self.incumbent.restore(&mut self.state);
        self.state
    }

    /// Plants hole by hole; where not all crops can share a loop's solution, with those that do
    /// best together there, or now and then with others.
    pub fn construct(&mut self) {
        let model = self.state.model;
        let company = &model.compatible_sets;
        if company.len() < 2 {
            let holes: Vec<usize> = (0..self.state.paths.len()).collect();
            self.construct_holes(&holes);
        } else {
            for holes in &model.loops {
                let any = self.rng.random_range(0..company.len());
                if self.rng.random_ratio(1, RANDOM_SET_ODDS) {
                    self.construct_from_crops(holes, &company[any]);
                } else {
                    self.construct_best_set(holes, company);
                }
            }
        }
        self.incumbent = Incumbent::of(&self.state);
    }

    /// Plants a loop's holes with those crops that do best there: the first of the cheapest.
    fn construct_best_set(&mut self, holes: &[usize], company: &[Vec<u32>]) {
        let mut cheapest = i64::MAX;
        let mut best: Vec<(usize, Vec<ArcId>)> = Vec::new();
        for crops in company {
            self.construct_from_crops(holes, crops);
            if self.state.cost() < cheapest {
                cheapest = self.state.cost();
                let paths = holes
                    .iter()
                    .map(|&hole| (hole, self.state.paths[hole].clone()));
                best = paths.collect();
            }
        }
        self.state.restore(&best);
    }

    /// Plants holes with nothing but some crops.
    fn construct_from_crops(&mut self, holes: &[usize], crops: &[u32]) {
        for &hole in holes {
            self.state.remove(hole, 0, u32::MAX, false);
        }
        self.restrict_crops_to(crops);
        self.construct_holes(holes);
        self.finder.excluded_crops.clear();
    }

    /// Plants nothing but some crops until the bar is lifted.
    fn restrict_crops_to(&mut self, crops: &[u32]) {
        let all = 0..as_u32(self.state.model.crops.len());
        self.finder.excluded_crops.clear();
        self.finder
            .excluded_crops
            .extend(all.map(|crop| !crops.contains(&crop)));
    }

    /// Plants holes one by one.
    fn construct_holes(&mut self, holes: &[usize]) {
        // Every other hole first: those between then fill the gaps in stage.
        for &hole in holes
            .iter()
            .step_by(2)
            .chain(holes.iter().skip(1).step_by(2))
        {
            self.repair_hole(hole, 0, u32::MAX, true);
        }
    }

    /// Plants the plans of pairs that come near the ceiling, a tube's pairs alike where they
    /// can be, then fills what is left.
    pub fn construct_from_fractional(&mut self, mix: &[FractionalSolution]) {
        let tube_of = |hole: usize| self.state.model.problem.holes[hole].tube;
        let mut planted: Vec<(usize, &[ArcId])> = Vec::new();
        for group in mix.iter().filter(|g| !g.plans.is_empty()) {
            let mut left: Vec<f64> = group.plans.iter().map(|p| p.1).collect();
            let mut chosen = 0;
            for (n, sides) in group.sets.iter().enumerate() {
                if n == 0 || tube_of(sides[0][0]) != tube_of(group.sets[n - 1][0][0]) {
                    chosen = index_of_max(&left);
                }
                left[chosen] -= 1.0;
                for (holes, stays) in sides.iter().zip(&group.plans[chosen].0) {
                    planted.extend(holes.iter().map(|&hole| (hole, stays.as_slice())));
                }
            }
        }
        for (hole, stays) in planted {
            for &arc in stays {
                if self.state.is_feasible(hole, arc) {
                    self.state.insert(hole, &[arc]);
                }
            }
        }
        self.incumbent = Incumbent::of(&self.state);
    }

    /// Takes out and puts back, so many times, or until told to stop. It is as warm at the
    /// beginning as a part of what a harvest missed costs.
    pub fn improve(&mut self, moves: usize, start_temperature: f64, watch: &Monitor<'_>) {
        let cooling = libm::pow(T_END / start_temperature, 1.0 / moves.max(1) as f64);
        let mut temperature = start_temperature * self.mean_shortage_cost;
        for n in 0..moves {
            if n % MOVES_PER_REPORT == 0 && watch.report_progress(n, moves, self.incumbent.cost) {
                break;
            }
            let (before, best) = (self.state.cost(), self.incumbent.cost);
            self.try_move();
            let worse = self.state.cost() - before;
            let threshold = -temperature * libm::log(self.rng.random_range(1e-9..1.0));
            let is_accepted = (worse as f64) <= threshold;
            if is_accepted {
                let changed = self.replaced_paths.iter().map(|t| t.0);
                self.incumbent.update(&self.state, changed);
            } else {
                self.undo();
            }
            self.record_outcome(match worse.cmp(&0) {
                _ if self.incumbent.cost < best => MoveOutcome::Best,
                Ordering::Less => MoveOutcome::Better,
                Ordering::Greater if is_accepted => MoveOutcome::Accepted,
                _ => MoveOutcome::Nothing,
            });
            temperature *= cooling;
        }
    }

    /// Notes how the move went, so that what does well is drawn more often.
    fn record_outcome(&mut self, outcome: MoveOutcome) {
        let MoveRecord {
            destroy: part,
            repair: way,
            work,
        } = self.move_record;
        self.destroy_weights.record(part, work, outcome);
        if let Some(way) = way {
            self.repair_weights.record(way, work, outcome);
        }
    }
}
