//! A table of problems: what planning each costs, the ceiling, the gap and the time.

use std::time::Instant;

use steadyleaf::planner::checker::check;
use steadyleaf::planner::effort::Effort;
use steadyleaf::planner::monitor::Monitor;
use steadyleaf::planner::problem::Problem;
use steadyleaf::planner::problem::cost;
use steadyleaf::planner::solve::{SolveResult, solve};

/// Heads the table.
pub fn head(what: &str) {
    println!(
        "{what:<36} {:>12} {:>12} {:>7} {:>9}",
        "cost", "ceiling", "gap %", "time"
    );
}

/// Plans a problem with as many threads as there are, and prints its row; what was found, and
/// the seconds it took.
///
/// # Panics
/// If the plan breaks a rule.
pub fn row(name: &str, problem: &Problem) -> (SolveResult, f64) {
    let threads = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let began = Instant::now();
    let solved = solve(problem, Effort::Normal, threads, &Monitor::unwatched());
    let seconds = began.elapsed().as_secs_f64();
    let broken = check(problem, &solved.solution);
    assert!(broken.is_empty(), "{name}: {broken:?}");
    let (cost, bound) = (solved.solution.cost(problem), solved.lower_bound.bound);
    let gap = cost::gap_percent(cost, bound, cost::empty_plan_cost(problem)).unwrap_or(0.0);
    println!(
        "{name:<36} {:>12.3} {:>12.3} {gap:>7.3} {seconds:>8.2}s",
        cost as f64 / 1000.0,
        bound as f64 / 1000.0,
    );
    (solved, seconds)
}
