//! The search: every plan made keeps every rule, whatever the problem; the same problem gives
//! the same plan.

use crate::problems::{Shape, invented};
use proptest::prelude::*;
use rstest::rstest;
use steadyleaf::planner::checker::check;
use steadyleaf::planner::effort::Effort;
use steadyleaf::planner::monitor::Monitor;
use steadyleaf::planner::parallel::map_in_parallel;
use steadyleaf::planner::problem::cost;
use steadyleaf::planner::problem::model::{ArcId, Model};
use steadyleaf::planner::problem::{Problem, SeedlingLot, StandingPlant};
use steadyleaf::planner::search::{Search, T_RESTART, search};
use steadyleaf::planner::solve::solve;

fn shapes() -> impl Strategy<Value = Shape> {
    (
        (1..4usize, 1..6usize, 1..4usize, 8..30u32),
        (150..260u32, 20..160i64, 2..40u64, any::<bool>()),
    )
        .prop_map(
            |((tubes, holes, crops, weeks), (spread_mm, level, cells, cleans))| Shape {
                tubes,
                holes,
                crops,
                weeks,
                spread_mm,
                level,
                cells,
                cleans,
                ..Shape::default()
            },
        )
}

/// Things that only some gardens have: something standing, seedlings on hand, crops that
/// cannot share, days between two plants.
fn burden(problem: &mut Problem, what: u8) {
    if what & 1 == 1 {
        problem.changeover = 3;
    }
    if what & 2 == 2 && problem.wants.len() > 1 {
        problem.apart = vec![("crop-0".into(), "crop-1".into())];
    }
    if what & 4 == 4 {
        problem.lots = vec![SeedlingLot {
            crop: "crop-0".into(),
            count: 3,
        }];
        let on_hand: Vec<_> = problem.kinds[0]
            .batches
            .iter()
            .filter(|b| b.crop == "crop-0" && b.transplant < 20)
            .map(|b| {
                let mut batch = b.clone();
                (batch.sow, batch.lot, batch.cells_milli) = (-10, Some(0), 1000);
                batch
            })
            .collect();
        problem.kinds[0].batches.extend(on_hand);
        problem.kinds[0].batches.sort_by_key(|b| b.transplant);
    }
    let scrubbed_late = problem.cleans.iter().all(|c| c.days[1] > 60);
    if what & 8 == 8 && scrubbed_late {
        let like = problem.kinds[0].batches[0].clone();
        problem.standing = (0..problem.holes.len())
            .step_by(2)
            .map(|hole| StandingPlant {
                hole,
                crop: like.crop.clone(),
                want: like.want,
                once: true,
                radius_mm: vec![like.radius_mm.clone()],
                canopies: vec![0; like.ends.len()],
                ends: like.ends.clone(),
            })
            .collect();
        // What stands was transplanted on day 0.
        for s in &mut problem.standing {
            for end in &mut s.ends {
                end.day -= like.transplant;
                end.day += (problem.workdays[0] + 7 - end.day % 7) % 7;
                for y in &mut end.yields {
                    y.week = end.day / 7;
                }
            }
            s.ends.dedup_by_key(|e| e.day);
            let last = s.ends.last().map_or(0, |e| e.day as usize);
            s.radius_mm[0].resize(last + 1, 70);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, ..ProptestConfig::default() })]

    #[test]
    fn every_plan_keeps_every_rule(shape in shapes(), seed: u64, what in 0..16u8) {
        let mut problem = invented(shape);
        prop_assume!(!problem.kinds[0].batches.is_empty());
        burden(&mut problem, what);
        let solution = search(&Model::new(&problem), Effort::Quick, seed);
        prop_assert_eq!(check(&problem, &solution), vec![]);
        prop_assert!(solution.cost(&problem) <= cost::empty_plan_cost(&problem));
    }

    /// The same of all of planning, which begins with plans that were made for pairs of holes
    /// alone.
    #[test]
    fn all_of_planning_keeps_every_rule(shape in shapes(), what in 0..16u8) {
        let mut problem = invented(shape);
        prop_assume!(!problem.kinds[0].batches.is_empty());
        burden(&mut problem, what);
        let solved = solve(&problem, Effort::Quick, 1, &Monitor::unwatched());
        prop_assert_eq!(check(&problem, &solved.solution), vec![]);
        prop_assert!(solved.lower_bound.bound <= solved.solution.cost(&problem));
    }

    /// A search that goes on from a plan reckons in what it breaks of what was promised: dear
    /// promises are kept whole, cheap ones broken only for more than they cost; what is held stays.
    #[test]
    fn promises_are_paid_for(shape in shapes(), seed: u64, price in 0..400_000i64) {
        let problem = invented(shape);
        prop_assume!(!problem.kinds[0].batches.is_empty());
        let model = Model::new(&problem);
        let mut rough = Search::new(&model, seed);
        rough.construct();
        let before = rough.into_state();
        let dear = cost::empty_plan_cost(&problem) + 1;
        for price in [price, dear] {
            let mut state = before.clone();
            let is_held = |hole: usize, _| hole == 0;
            state.freeze(is_held);
            let priced = |path: &Vec<ArcId>| path.iter().map(|&a| (a, price)).collect();
            state.set_change_penalties(before.paths.iter().map(priced).collect());
            let mut search = Search::resume(state, seed);
            search.improve(2_000, T_RESTART, &Monitor::unwatched());
            let with_broken = search.cost();
            let after = search.into_state();
            let broken = (0..problem.holes.len()).flat_map(|h| {
                let path = &after.paths[h];
                before.paths[h].iter().filter(move |a| !path.contains(a))
            });
            let broken = i64::try_from(broken.count()).unwrap();
            let solution = after.solution();
            prop_assert_eq!(check(&problem, &solution), vec![]);
            prop_assert_eq!(with_broken, solution.cost(&problem) + broken * price);
            prop_assert!(with_broken <= before.cost());
            prop_assert!(before.paths[0].iter().all(|a| after.paths[0].contains(a)));
            prop_assert!(price < dear || broken == 0, "{} broken", broken);
        }
    }
}

#[rstest]
#[case(Shape::default())]
#[case(Shape { crops: 3, cells: 8, cleans: true, ..Shape::default() })]
fn the_same_plan_twice(#[case] shape: Shape) {
    let problem = invented(shape);
    let plan = || search(&Model::new(&problem), Effort::Quick, 7);
    assert_eq!(plan(), plan());
}

/// Parted among more or fewer threads, what work gives stands in the order of its list.
#[rstest]
fn parted_work_keeps_its_order(#[values(0, 1, 2, 3, 9)] threads: usize, #[values(0, 1, 7)] n: u32) {
    let list: Vec<u32> = (0..n).collect();
    let doubled = map_in_parallel(&list, threads, |part| part.iter().map(|n| n * 2).collect());
    assert_eq!(doubled, list.iter().map(|n| n * 2).collect::<Vec<u32>>());
}

/// Where two wants ask for solutions that do not go together, a plan is no dearer than to give one
/// of them up.
#[rstest]
#[case::both_wanted_much(Shape { crops: 2, level: 120, apart: true, ..Shape::default() })]
#[case::three_crops(Shape { crops: 3, level: 90, apart: true, ..Shape::default() })]
#[case::in_single_holes(Shape { tubes: 12, holes: 1, crops: 2, apart: true, ..Shape::default() })]
fn a_loop_is_not_left_to_two_solutions_by_halves(#[case] shape: Shape) {
    let problem = invented(shape);
    let cost = |problem: &Problem| {
        let solved = solve(problem, Effort::Normal, 2, &Monitor::unwatched());
        assert_eq!(check(problem, &solved.solution), []);
        solved.solution.cost(problem)
    };
    let both = cost(&problem);
    for given_up in ["crop-0", "crop-1"] {
        let mut one = problem.clone();
        one.kinds[0].batches.retain(|b| b.crop != given_up);
        one.apart.clear();
        let one = cost(&one);
        // Two searches of one problem differ by as much.
        let nothing = cost::empty_plan_cost(&problem);
        println!("{shape:?}: {both}, without {given_up} {one}, nothing {nothing}");
        assert!(both <= one + (nothing - one) / 100);
    }
}

/// Where the holes give more than enough, every week that counts is met.
#[test]
fn enough_for_all() {
    let problem = invented(Shape {
        level: 60,
        ..Shape::default()
    });
    let solution = search(&Model::new(&problem), Effort::Normal, 1);
    let supply = &solution.supply(&problem)[0];
    for (week, (&target, &got)) in problem.wants[0].target_milli.iter().zip(supply).enumerate() {
        assert!(got >= target, "week {week}: {got} of {target}");
    }
}
