//! Small problems whose optimum is known: the search finds it, and the ceiling never lies
//! above it.
//!
//! The optimum comes from a search of another kind (every plan of every hole, hole after hole,
//! with nothing but the problem's own words), so that a fault of the search or of the ceiling
//! cannot hide.

use crate::problems::{Shape, invented};
use rstest::rstest;
use steadyleaf::planner::checker::check;
use steadyleaf::planner::effort::Effort;
use steadyleaf::planner::monitor::Monitor;
use steadyleaf::planner::problem::cost;
use steadyleaf::planner::problem::solution::{PlacedStay, Solution};
use steadyleaf::planner::problem::{Demand, NearbyPair, Problem};
use steadyleaf::planner::solve::solve;

/// What a week costs, worked out by hand from the formula of the design: weight * T/u * (100 s +
/// 100 s² + 5 o + 10 o²), where `o` counts from the target or one harvest, whichever is more.
#[rstest]
// Four heads wanted: three are a quarter short, 4 * (25 + 6.25); five a quarter over, 4 * (1.25 +
// 0.625).
#[case::short(1_000, 4_000, 3_000, 125_000)]
#[case::met(1_000, 4_000, 4_000, 0)]
#[case::over(1_000, 4_000, 5_000, 7_500)]
// Five grams wanted of what gives twenty at a cut: one cut is no more than it has to be; two are
// four times the want over it, 0.25 * (20 + 160); none is all short, 0.25 * 200.
#[case::one_cut(20_000, 5_000, 20_000, 0)]
#[case::two_cuts(20_000, 5_000, 40_000, 45_000)]
#[case::no_cut(20_000, 5_000, 0, 50_000)]
#[case::not_counted(1_000, 0, 3_000, 0)]
fn a_week_costs(
    #[case] harvest_milli: i64,
    #[case] target: i64,
    #[case] supply: i64,
    #[case] cost_milli: i64,
) {
    let want = Demand {
        id: "want".into(),
        unit: "g".into(),
        weight_milli: 1_000,
        harvest_milli,
        target_milli: vec![target],
    };
    assert_eq!(cost::week_cost(&want, target, supply), cost_milli);
    // So large that it is reckoned in more bits.
    let want = Demand {
        weight_milli: 1_000_000,
        ..want
    };
    assert_eq!(cost::week_cost(&want, target, supply), 1_000 * cost_milli);
}

/// Every plan of one hole, as stays in time order.
fn plans_of_a_hole(problem: &Problem, hole: usize) -> Vec<Vec<PlacedStay>> {
    fn go(
        problem: &Problem,
        hole: usize,
        from: u32,
        plan: &mut Vec<PlacedStay>,
        all: &mut Vec<Vec<PlacedStay>>,
    ) {
        all.push(plan.clone());
        let batches = &problem.kinds[problem.holes[hole].kind].batches;
        for (b, batch) in batches
            .iter()
            .enumerate()
            .filter(|(_, b)| b.transplant >= from)
        {
            for (e, end) in batch.ends.iter().enumerate() {
                plan.push(PlacedStay {
                    hole,
                    batch: b,
                    end: e,
                });
                go(problem, hole, end.day + problem.changeover, plan, all);
                plan.pop();
            }
        }
    }
    let mut all = Vec::new();
    go(problem, hole, 0, &mut Vec::new(), &mut all);
    all
}

/// The least cost of any plan that the checker passes.
fn optimum(problem: &Problem) -> i64 {
    let plans: Vec<Vec<Vec<PlacedStay>>> = (0..problem.holes.len())
        .map(|h| plans_of_a_hole(problem, h))
        .collect();
    let mut best = i64::MAX;
    let mut solution = Solution::default();
    fn go(
        problem: &Problem,
        plans: &[Vec<Vec<PlacedStay>>],
        hole: usize,
        solution: &mut Solution,
        best: &mut i64,
    ) {
        // With rules broken among the holes so far, no more holes can mend it.
        if !check(problem, solution).is_empty() {
            return;
        }
        if hole == plans.len() {
            *best = (*best).min(solution.cost(problem));
            return;
        }
        for plan in &plans[hole] {
            let before = solution.stays.len();
            solution.stays.extend(plan);
            go(problem, plans, hole + 1, solution, best);
            solution.stays.truncate(before);
        }
    }
    go(problem, &plans, 0, &mut solution, &mut best);
    best
}

/// Sixty small problems: 2 or 3 holes, in a row or a triangle or far from each other, 9 to 13
/// weeks, one or two crops, which can share a solution or not, from little wanted to far too much,
/// wide and narrow, with a large nursery and a tight one.
fn small_problems() -> Vec<Problem> {
    (0..60u32)
        .map(|n| {
            let crops = 1 + (n % 3 == 2) as usize;
            let holes = if crops == 2 { 2 } else { 2 + (n % 2) as usize };
            let is_scattered = crops == 2 && n % 4 == 0;
            let mut problem = invented(Shape {
                tubes: if is_scattered { holes } else { 1 },
                holes: if is_scattered { 1 } else { holes },
                crops,
                weeks: if crops == 2 { 8 } else { 9 + n % 3 },
                tail: 1,
                // In a third of the triangles one plant fills the whole of it.
                spread_mm: 170 + 10 * (n % 6) + if n % 12 == 3 { 120 } else { 0 },
                level: 60 + 60 * i64::from(n % 4),
                cells: 2 + u64::from(n % 5),
                cleans: false,
                between_mm: None,
                apart: n % 2 == 0,
            });
            // Three in a triangle, as around a tower: each beside both others.
            if holes == 3 && n % 4 == 3 {
                let [a, b] = [0, 2];
                let side_by_side = false;
                let pair = NearbyPair {
                    a,
                    b,
                    side_by_side,
                    ..problem.pairs[0]
                };
                problem.pairs.push(pair);
            }
            // Fewer workdays, other weeks and weights: every problem is another.
            problem.neighbours_apart = 3 + n % 9;
            for (k, target) in problem.wants[0].target_milli.iter_mut().enumerate() {
                *target *= 1 + i64::from((n as usize + k).is_multiple_of(3));
            }
            problem.wants[0].weight_milli = 500 + 100 * i64::from(n % 7);
            problem
        })
        .collect()
}

#[test]
fn the_search_finds_it_and_the_ceiling_lies_below() {
    let (mut found, mut all) = (0, 0);
    for (n, problem) in small_problems().iter().enumerate() {
        let best = optimum(problem);
        let solved = solve(problem, Effort::Normal, 1, &Monitor::unwatched());
        let cost = solved.solution.cost(problem);
        assert_eq!(check(problem, &solved.solution), [], "problem {n}");
        assert!(
            solved.lower_bound.bound <= best,
            "problem {n}: ceiling {} above {best}",
            solved.lower_bound.bound
        );
        assert!(cost >= best, "problem {n}: {cost} below the optimum {best}");
        #[allow(clippy::cast_precision_loss)]
        let over = (cost - best) as f64 / best.max(1) as f64;
        assert!(over <= 0.01, "problem {n}: {cost}, optimum {best}");
        all += 1;
        found += usize::from(cost == best);
    }
    println!("{found} of {all} optimal");
    assert!(found * 100 >= all * 95, "{found} of {all}");
}
