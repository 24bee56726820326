//! The whole of planning: searches begun apart, the best of them, and the ceiling over it.

use crate::planner::bound::lower_bound::{BoundSolver, LowerBound, closed_gap};
use crate::planner::effort::Effort;
use crate::planner::monitor::Monitor;
use crate::planner::parallel::map_in_parallel;
use crate::planner::problem::Problem;
use crate::planner::problem::cost;
use crate::planner::problem::model::Model;
use crate::planner::problem::solution::{FractionalSolution, Solution};
use crate::planner::search::state::State;
use crate::planner::search::{Search, T_RESTART, T_START};

/// A solved problem.
#[derive(Debug, Clone)]
pub struct SolveResult {
    /// The best solution found.
    pub solution: Solution,
    /// What no solution can go below.
    pub lower_bound: LowerBound,
    /// The work was ended early.
    pub stopped: bool,
}

/// The seed of the first search: any number would do, but always the same.
const SEED: u64 = 0x5ead_11ea;

/// A plan to measure the ceiling's first look by takes this part of the moves of a search.
const WARMUP_DIVISOR: usize = 20;

/// Rounds for a first look at the ceiling, so that the way to it can be told, and plans of
/// pairs are there to begin with.
const INITIAL_BOUND_ITERATIONS: usize = 50;

/// Searches apart from each other take this part of their moves.
const DIVERSIFICATION_DIVISOR: usize = 8;

/// Where as much is open, one part of so many of what a plan is worth, and plants keep others out of
/// many holes, the ceiling is looked for more closely.
const CLUSTER_GAP_DIVISOR: i64 = 100;

/// Rounds of searches that begin with the best plan so far, and how many run together.
const SEARCH_ROUNDS: usize = 2;
const PARALLEL_SEARCHES: usize = 2;

/// Solves a problem. The same problem and effort give the same solution on every machine and
/// with any number of `threads`, unless the watch ends it early.
#[must_use]
pub fn solve(
    problem: &Problem,
    effort: Effort,
    threads: usize,
    watch: &Monitor<'_>,
) -> SolveResult {
    solve_model(&Model::new(problem), effort, threads, watch)
}

/// The same of a problem whose model is made already.
#[must_use]
pub fn solve_model(
    model: &Model<'_>,
    effort: Effort,
    threads: usize,
    watch: &Monitor<'_>,
) -> SolveResult {
    let problem = model.problem;
    let (mut best, mut climb, mut searches) = diversified_start(model, effort, threads, watch);
    // The ceiling is raised beside the searches, which are over when they come near it.
    let mut rounds = INITIAL_BOUND_ITERATIONS;
    for round in 0..SEARCH_ROUNDS {
        rounds += effort.bound_iterations() / SEARCH_ROUNDS;
        let aim = best.cost();
        let mut raise = || climb.improve(aim, closed_gap(problem, aim), rounds, watch);
        best = if threads > 1 {
            std::thread::scope(|scope| {
                scope.spawn(raise);
                searches.intensify(best, round)
            })
        } else {
            raise();
            searches.intensify(best, round)
        };
        searches.set_target(problem, climb.bound());
    }
    let cost = best.cost();
    climb.improve(
        cost,
        closed_gap(problem, cost),
        rounds + effort.bound_iterations(),
        watch,
    );
    let mut ceiling = climb.lower_bound();
    let is_far =
        (cost - ceiling.bound) * CLUSTER_GAP_DIVISOR > cost::empty_plan_cost(problem) - cost;
    let is_crowded = problem.count_crowded_holes() > 0;
    if is_far
        && is_crowded
        && !watch.is_stopped()
        && let Some(mut closely) = climb.with_larger_blocks()
    {
        closely.improve(
            cost,
            closed_gap(problem, cost),
            effort.bound_iterations(),
            watch,
        );
        ceiling.bound = closely.bound();
    }
    SolveResult {
        solution: best.solution(),
        lower_bound: ceiling,
        stopped: watch.is_stopped(),
    }
}

/// A good solution of a problem, as [`solve`] finds it on one thread, but for the time that it
/// spends on the ceiling.
#[must_use]
pub fn solve_without_bound(problem: &Problem, effort: Effort, watch: &Monitor<'_>) -> Solution {
    let model = Model::new(problem);
    let (best, _, searches) = diversified_start(&model, effort, 1, watch);
    let rounds = 0..SEARCH_ROUNDS;
    rounds
        .fold(best, |best, round| searches.intensify(best, round))
        .solution()
}

/// The best of searches begun apart, after a first look at the ceiling; the climb to this, and the
/// searches to go on with.
fn diversified_start<'m, 'w>(
    model: &'m Model<'m>,
    effort: Effort,
    threads: usize,
    watch: &Monitor<'w>,
) -> (State<'m>, BoundSolver<'m>, Searches<'w>) {
    let problem = model.problem;
    let mut first = Search::new(model, SEED);
    first.construct();
    first.improve(
        effort.moves(problem) / WARMUP_DIVISOR,
        T_RESTART,
        &watch.without_reporting(),
    );
    let first = first.into_state();
    let cost = first.cost();
    let mut bound_solver = BoundSolver::new(model, &first.solution());
    bound_solver.improve(
        cost,
        closed_gap(problem, cost),
        INITIAL_BOUND_ITERATIONS,
        &watch.without_reporting(),
    );
    let first_bound = bound_solver.lower_bound();
    let mut searches = Searches {
        effort,
        threads: threads.max(1),
        watch: *watch,
    };
    searches.set_target(problem, first_bound.bound);
    (
        searches.diversify(first, &first_bound.fractional),
        bound_solver,
        searches,
    )
}

/// So near the ceiling there is little left to look for: a thousandth of what a plan is worth,
/// and less than one harvest missed would cost.
fn target_gap(problem: &Problem, worth: i64) -> i64 {
    (worth / 1000).min(cost::min_shortage_cost(problem) * 4 / 5)
}

/// The searches of a problem: apart from each other for some of their moves; the rest is spent in
/// [`BOUND_ROUNDS`] of [`PARALLEL_SEARCHES`] searches that go on from the best so far.
struct Searches<'w> {
    effort: Effort,
    threads: usize,
    watch: Monitor<'w>,
}

impl Searches<'_> {
    /// Takes a bound to tell the way to, and to be content near it.
    fn set_target(&mut self, problem: &Problem, bound: i64) {
        let nothing = cost::empty_plan_cost(problem);
        let enough = bound + target_gap(problem, nothing - bound);
        let enough = (self.effort != Effort::Thorough).then_some(enough);
        self.watch = self.watch.with_bound(bound, nothing).stop_at_cost(enough);
    }

    /// Moves of each search apart, and of each that goes on.
    fn moves(&self, problem: &Problem) -> [usize; 2] {
        let all = self.effort.moves(problem);
        let apart = all / DIVERSIFICATION_DIVISOR;
        let starts = self.effort.starts(problem);
        [
            apart,
            (all - apart) * starts / (SEARCH_ROUNDS * PARALLEL_SEARCHES),
        ]
    }

    /// The watch of the `n`th search of some, before which so many moves were made; only the
    /// first is heard.
    fn reporting(&self, n: usize, done: usize, problem: &Problem) -> Monitor<'_> {
        let [apart, each] = self.moves(problem);
        let watch = self
            .watch
            .with_share_of_moves(done, apart + SEARCH_ROUNDS * each);
        if n == 0 {
            watch
        } else {
            watch.without_reporting()
        }
    }

    /// The best of searches begun apart, or the first if none is better.
    fn diversify<'m>(&self, first: State<'m>, mix: &[FractionalSolution]) -> State<'m> {
        let model = first.model;
        let [apart, _] = self.moves(model.problem);
        let starts = self.effort.starts(model.problem);
        let best = run_searches(starts, self.threads, |n| {
            let mut search = Search::new(model, SEED + n as u64);
            let warm = if n.is_multiple_of(2) {
                search.construct_from_fractional(mix);
                T_RESTART
            } else {
                search.construct();
                T_START
            };
            search.improve(apart, warm, &self.reporting(n, 0, model.problem));
            search
        });
        cheaper(first, best)
    }

    /// The best of the searches of one round, which go on from a plan, or that plan.
    fn intensify<'m>(&self, best: State<'m>, round: usize) -> State<'m> {
        let problem = best.model.problem;
        let [apart, each] = self.moves(problem);
        let starts = self.effort.starts(problem);
        let next = run_searches(PARALLEL_SEARCHES, self.threads, |n| {
            let seed = SEED + (starts + round * PARALLEL_SEARCHES + n) as u64;
            let mut search = Search::resume(best.clone(), seed);
            search.improve(
                each,
                T_RESTART,
                &self.reporting(n, apart + round * each, problem),
            );
            search
        });
        cheaper(best, next)
    }
}

fn cheaper<'m>(one: State<'m>, other: State<'m>) -> State<'m> {
    if other.cost() < one.cost() {
        other
    } else {
        one
    }
}

/// Runs so many searches on as many threads as there are; the first of the cheapest counts,
/// whichever ends first.
fn run_searches<'m>(
    count: usize,
    threads: usize,
    run: impl Fn(usize) -> Search<'m> + Sync,
) -> State<'m> {
    let numbers: Vec<usize> = (0..count).collect();
    let found = map_in_parallel(&numbers, threads, |part| {
        part.iter().map(|&n| run(n).into_state()).collect()
    });
    let best = found.into_iter().min_by_key(State::cost);
    best.expect("at least one was run")
}
