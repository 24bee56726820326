//! The whole of planning: searches begun apart, the best of them, and the ceiling over it.

use super::ceiling::{Ceiling, Climb, Mixed, close};
use super::cost;
use super::effort::Effort;
use super::model::Model;
use super::problem::Problem;
use super::search::{self, Search};
use super::solution::Solution;
use super::watch::Watch;

/// A solved problem.
#[derive(Debug, Clone)]
pub struct Solved {
    /// The best solution found.
    pub solution: Solution,
    /// What no solution can go below.
    pub ceiling: Ceiling,
    /// The work was ended early.
    pub stopped: bool,
}

/// The seed of the first search: any number would do, but always the same.
const SEED: u64 = 0x5ead_11ea;

/// Rounds for a first look at the ceiling, so that the way to it can be told, and plans of
/// pairs are there to begin with.
const GLANCE: usize = 80;

/// The warmth with which a search goes on from such a beginning.
const NEAR: f64 = 20_000.0;

/// Solves a problem. The same problem and effort give the same solution on every machine and
/// with any number of `threads`, unless the watch ends it early.
#[must_use]
pub fn solve(problem: &Problem, effort: Effort, threads: usize, watch: &Watch<'_>) -> Solved {
    let model = Model::new(problem);
    let nothing = cost::of_nothing(problem);
    let mut first = Search::new(&model, SEED);
    first.construct();
    let (cost, first) = (first.cost(), first.solution());
    let mut climb = Climb::new(&model, &first.supply(problem).concat());
    climb.raise(cost, close(problem, cost), GLANCE);
    let glance = climb.ceiling();
    let near = near(problem, nothing - glance.bound);
    let enough = (effort != Effort::Thorough).then_some(glance.bound + near);
    let watch = watch.against(glance.bound, nothing).until(enough);
    let solution = best_of(&model, effort, threads.max(1), &glance.mix, &watch);
    if !watch.is_stopped() {
        let cost = solution.cost(problem);
        climb.raise(cost, close(problem, cost), effort.rounds());
    }
    Solved {
        solution,
        ceiling: climb.ceiling(),
        stopped: watch.is_stopped(),
    }
}

/// So near the ceiling there is little left to look for: a thousandth of what a plan is worth,
/// and less than one harvest missed would cost.
fn near(problem: &Problem, worth: i64) -> i64 {
    let least = problem.wants.iter().map(|w| w.weight_milli).min();
    (worth / 1000).min(least.unwrap_or(0) * 80)
}

/// Runs the searches on as many threads as there are; the first of the cheapest counts,
/// whichever ends first.
fn best_of(
    model: &Model<'_>,
    effort: Effort,
    threads: usize,
    mix: &[Mixed],
    watch: &Watch<'_>,
) -> Solution {
    let moves = effort.moves(model.problem);
    let run = |n: u64| {
        let watch = if n == 0 { *watch } else { watch.silent() };
        let mut search = Search::new(model, SEED + n);
        let warm = if n.is_multiple_of(2) {
            search.construct_from(mix);
            NEAR
        } else {
            search.construct();
            search::WARM
        };
        search.improve(moves, warm, &watch);
        (search.cost(), n, search.solution())
    };
    let numbers: Vec<u64> = (0..effort.starts(model.problem)).collect();
    let share = numbers.len().div_ceil(threads);
    let found = std::thread::scope(|scope| {
        let workers: Vec<_> = numbers
            .chunks(share)
            .map(|mine| scope.spawn(|| mine.iter().map(|&n| run(n)).collect::<Vec<_>>()))
            .collect();
        let found = workers
            .into_iter()
            .map(|w| w.join().expect("a search ends"));
        found.flatten().collect::<Vec<_>>()
    });
    let best = found.into_iter().min_by_key(|f| (f.0, f.1));
    best.map(|f| f.2).unwrap_or_default()
}
