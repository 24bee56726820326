//! The ceiling: below every plan, close to the best, and never worse for more to choose from.

use crate::problems::{Shape, invented};
use proptest::prelude::*;
use rstest::rstest;
use steadyleaf::planner::bound::lower_bound::BoundSolver;
use steadyleaf::planner::bound::max_supply::MaxSupplyBound;
use steadyleaf::planner::bound::packing_cuts::{LocatedStay, PackingCuts};
use steadyleaf::planner::checker::check;
use steadyleaf::planner::effort::Effort;
use steadyleaf::planner::monitor::Monitor;
use steadyleaf::planner::problem::cost;
use steadyleaf::planner::problem::model::{Arc, Model};
use steadyleaf::planner::problem::solution::{PlacedStay, Solution};
use steadyleaf::planner::problem::{Hole, NearbyPair, Problem};
use steadyleaf::planner::search::search;
use steadyleaf::planner::solve::solve;

/// The bound after many rounds, aimed at a plan quickly found.
fn bound(problem: &Problem) -> i64 {
    let model = Model::new(problem);
    let plan = search(&model, Effort::Quick, 1);
    let mut climb = BoundSolver::new(&model, &plan);
    climb.improve(plan.cost(problem), 0, 300, &Monitor::unwatched());
    climb.lower_bound().bound
}

fn shapes() -> impl Strategy<Value = Shape> {
    (
        1..3usize,
        2..5usize,
        1..3usize,
        12..24u32,
        160..230u32,
        40..150i64,
        3..30u64,
    )
        .prop_map(
            |(tubes, holes, crops, weeks, spread_mm, level, cells)| Shape {
                tubes,
                holes,
                crops,
                weeks,
                spread_mm,
                level,
                cells,
                ..Shape::default()
            },
        )
}

/// Tubes side by side and close, with plants that may reach across some of them.
fn close_tubes() -> impl Strategy<Value = Shape> {
    (shapes(), 2..5usize, 140..220u32, 200..420u32).prop_map(
        |(shape, tubes, between_mm, spread_mm)| Shape {
            tubes,
            spread_mm,
            between_mm: Some(between_mm),
            ..shape
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, ..ProptestConfig::default() })]

    /// A hole, a nursery cell or a crop more to choose from leaves every old plan possible, so
    /// the least cost of any plan cannot rise. The bound is found by rounds, each of which may
    /// end a little early: two thousandths of the plan's worth are allowed for that.
    #[test]
    fn more_to_choose_from_is_never_worse(shape in shapes()) {
        let problem = invented(shape);
        prop_assume!(!problem.kinds[0].batches.is_empty());
        let before = bound(&problem);
        let allowed = (cost::empty_plan_cost(&problem) - before) / 500 + 2;

        let mut hole = problem.clone();
        let tube = shape.tubes;
        hole.holes.push(Hole { id: "more".into(), tube, ..problem.holes[0].clone() });
        prop_assert!(bound(&hole) <= before + allowed, "a hole more");

        let mut cell = problem.clone();
        cell.nursery_cells_milli += 1000;
        prop_assert!(bound(&cell) <= before + allowed, "a cell more");

        let mut crop = problem.clone();
        let more: Vec<_> = problem.kinds[0].batches.iter().map(|b| {
            let mut other = b.clone();
            other.crop = format!("{}-small", b.crop);
            other.radius_mm.iter_mut().for_each(|r| *r = *r * 4 / 5);
            other
        }).collect();
        crop.kinds[0].batches.extend(more);
        prop_assert!(bound(&crop) <= before + allowed, "a crop more");
    }

    /// Whatever the problem, no plan found lies below the bound, nor gives more of a want in
    /// some weeks than the most that is told.
    #[test]
    fn no_plan_passes_it(shape in prop_oneof![shapes(), close_tubes()], seed: u64, from in 0..20usize) {
        let problem = invented(shape);
        prop_assume!(!problem.kinds[0].batches.is_empty());
        let model = Model::new(&problem);
        let solution = search(&model, Effort::Normal, seed);
        let cost = solution.cost(&problem);
        let supply = solution.supply(&problem);
        prop_assert!(bound(&problem) <= cost);
        let mut climb = BoundSolver::new(&model, &solution);
        climb.improve(cost, 0, 100, &Monitor::unwatched());
        prop_assert!(climb.lower_bound().bound <= cost);
        if let Some(mut closely) = climb.with_larger_blocks() {
            closely.improve(cost, 0, 100, &Monitor::unwatched());
            prop_assert!(closely.bound() <= cost);
        }
        let weeks = from..(from + 4).min(model.weeks);
        let mut most = MaxSupplyBound::new(&model);
        for (want, supply) in supply.iter().enumerate() {
            let got: i64 = supply[weeks.clone()].iter().sum();
            prop_assert!(got <= most.max_milli(want, weeks.clone()));
        }
    }
}

/// The stays of a plan as rules for room take them, each so often.
fn stays<'m>(
    model: &'m Model<'_>,
    crowds: &PackingCuts,
    solution: &Solution,
    often: f64,
) -> Vec<(LocatedStay<'m>, f64)> {
    let stay = |stay: &PlacedStay| {
        let (class, in_sets) = (
            model.class_of[stay.hole],
            crowds.set_kinds_of_hole[stay.hole],
        );
        let is_it =
            |a: &&Arc| !a.stands && (a.batch as usize, a.end as usize) == (stay.batch, stay.end);
        let arc = model.classes[class].arcs.iter().find(is_it);
        let arc = arc.expect("its arc");
        (
            LocatedStay {
                class,
                set_kinds: in_sets,
                arc,
            },
            often,
        )
    };
    solution.stays.iter().map(stay).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    /// No plan that keeps the rules of spacing takes more room than there is.
    #[test]
    fn room_is_enough_for_every_plan(shape in close_tubes(), seed: u64) {
        let problem = invented(shape);
        prop_assume!(!problem.kinds[0].batches.is_empty());
        let model = Model::new(&problem);
        let solution = search(&model, Effort::Quick, seed);
        prop_assert_eq!(check(&problem, &solution), []);
        let mut crowds = PackingCuts::of(&model);
        let stays = stays(&model, &crowds, &solution, 1.0);
        prop_assert!(!crowds.separate(&model, &stays), "{shape:?}");
    }
}

/// Four tubes of six holes 18 cm apart, with plants as wide as two holes.
fn deck() -> Problem {
    invented(Shape {
        level: 100,
        spread_mm: 320,
        between_mm: Some(180),
        ..Shape::default()
    })
}

/// Half as much again in the same holes is more than there is room for.
#[test]
fn room_is_not_enough_for_more_than_a_plan() {
    let problem = deck();
    let model = Model::new(&problem);
    let solution = search(&model, Effort::Quick, 1);
    let mut crowds = PackingCuts::of(&model);
    let stays = stays(&model, &crowds, &solution, 1.5);
    assert!(crowds.separate(&model, &stays));
}

/// The same with plants 26 cm wide from the first day.
fn always_wide(mut problem: Problem) -> Problem {
    for batch in &mut problem.kinds[0].batches {
        batch.radius_mm.fill(130);
    }
    problem
}

/// Of tubes out of each other's reach every other hole can be filled, of close ones one in four.
#[test]
fn the_most_of_a_month_is_what_there_is_room_for() {
    let mut apart = always_wide(deck());
    apart.pairs.retain(|p| p.side_by_side);
    let [close, apart] = [always_wide(deck()), apart].map(|problem| {
        let model = Model::new(&problem);
        MaxSupplyBound::new(&model).max_milli(0, 20..28)
    });
    println!("{close} of {apart}");
    assert!(close * 100 <= apart * 70);
}

/// Of four holes that all crowd each other pairs alone would fill two, where plants are as wide as
/// that all their time: one is filled.
#[test]
fn a_deck_of_wide_plants_is_bounded_by_room() {
    let problem = always_wide(deck());
    let solved = solve(&problem, Effort::Normal, 2, &Monitor::unwatched());
    let cost = solved.solution.cost(&problem);
    let worth = cost::empty_plan_cost(&problem) - solved.lower_bound.bound;
    let gap = (cost - solved.lower_bound.bound) as f64 / worth as f64;
    println!("{cost}, {} of {worth}: {gap:.4}", solved.lower_bound.bound);
    assert!(gap <= 0.01);
}

/// Here prices teach nothing new at the nineteenth trial, as the master is not yet solved. With a
/// cell more the bound can only be lower; it was found to be higher by 0.7 % of the plan's worth.
#[test]
fn a_bound_is_raised_until_the_master_is_solved() {
    let problem = invented(Shape {
        tubes: 2,
        holes: 4,
        crops: 2,
        weeks: 22,
        spread_mm: 217,
        level: 40,
        cells: 6,
        ..Shape::default()
    });
    let mut cell = problem.clone();
    cell.nursery_cells_milli += 1000;
    let (bound, of_more) = (bound(&problem), bound(&cell));
    let worth = cost::empty_plan_cost(&problem) - bound;
    assert!(of_more - bound <= worth / 1000, "{bound} and {of_more}");
}

/// What can be given of one want alone: four weeks in which every hole may be ripe once.
#[test]
fn the_most_of_a_month_is_what_the_holes_hold() {
    let problem = invented(Shape {
        tubes: 1,
        holes: 1,
        ..Shape::default()
    });
    let model = Model::new(&problem);
    // One hole, a stay of about 26 days in late spring: one head in four weeks, or two where
    // one falls at each end.
    let most = MaxSupplyBound::new(&model).max_milli(0, 20..24);
    assert!((1_000..=2_000).contains(&most), "{most}");
    assert_eq!(
        MaxSupplyBound::new(&model).max_milli(0, 0..3),
        0,
        "nothing is ripe so early"
    );
}

/// How near plan and ceiling are on a rig of 24 holes over a year: the design's own measure.
#[rstest]
#[case(60, 180, 0.1)]
#[case(100, 180, 0.3)]
#[case(140, 180, 0.3)]
#[case(80, 200, 0.7)]
#[case(100, 200, 0.7)]
#[case(140, 220, 0.7)]
fn close_on_a_small_rig(#[case] level: i64, #[case] spread_mm: u32, #[case] most: f64) {
    let problem = invented(Shape {
        level,
        spread_mm,
        ..Shape::default()
    });
    let solved = solve(&problem, Effort::Normal, 2, &Monitor::unwatched());
    let cost = solved.solution.cost(&problem);
    let gap = cost::gap_percent(
        cost,
        solved.lower_bound.bound,
        cost::empty_plan_cost(&problem),
    )
    .unwrap();
    println!("{level} %, {spread_mm} mm: {gap:.3} %");
    assert!(gap <= most, "{gap}");
}

/// Tubes with an odd number of holes: their runs are bounded as wholes.
#[rstest]
#[case(8, 3)]
#[case(5, 5)]
#[case(4, 7)]
fn close_where_holes_are_odd(#[case] tubes: usize, #[case] holes: usize) {
    let problem = invented(Shape {
        tubes,
        holes,
        level: 100,
        ..Shape::default()
    });
    let solved = solve(&problem, Effort::Normal, 2, &Monitor::unwatched());
    let cost = solved.solution.cost(&problem);
    let gap = cost::gap_percent(
        cost,
        solved.lower_bound.bound,
        cost::empty_plan_cost(&problem),
    )
    .unwrap();
    println!("{tubes} tubes of {holes}: {gap:.3} %");
    assert!(gap <= 0.5, "{gap}");
}

/// Holes of another kind that can take the same stays make a run uneven. It is bounded by its
/// pairs then, each hole counted partly in two, and no less closely.
#[rstest]
#[case(3)]
#[case(5)]
#[case(7)]
fn an_uneven_run_is_bounded_as_well(#[case] holes: usize) {
    let even = invented(Shape {
        tubes: 2,
        holes,
        weeks: 30,
        level: 100,
        spread_mm: 200,
        ..Shape::default()
    });
    let mut uneven = even.clone();
    uneven.kinds.push(even.kinds[0].clone());
    uneven.holes[0].kind = 1;
    uneven.holes[holes + 2].kind = 1;
    let [even_bound, uneven_bound] = [bound(&even), bound(&uneven)];
    let worth = cost::empty_plan_cost(&even) - even_bound;
    println!("{holes} holes: {even_bound}, {uneven_bound} of {worth}");
    assert!((even_bound - uneven_bound).abs() <= worth / 400);
}

/// Three holes each beside both others, as around a tower, are bounded no worse than three in a
/// row.
#[test]
fn a_triangle_is_bounded_as_well_as_a_row() {
    let row = invented(Shape {
        tubes: 4,
        holes: 3,
        weeks: 30,
        level: 80,
        spread_mm: 200,
        ..Shape::default()
    });
    let mut triangle = row.clone();
    for a in (0..12).step_by(3) {
        let pair = row.pairs[0];
        triangle.pairs.push(NearbyPair {
            a,
            b: a + 2,
            ..pair
        });
    }
    let [of_row, of_triangle] = [bound(&row), bound(&triangle)];
    let worth = cost::empty_plan_cost(&row) - of_row;
    println!("{of_row}, {of_triangle} of {worth}");
    assert!(of_triangle >= of_row - worth / 400);
}

/// The same plan whatever the number of threads.
#[test]
fn threads_change_nothing() {
    let problem = invented(Shape {
        crops: 2,
        cleans: true,
        ..Shape::default()
    });
    let with = |threads| {
        let solved = solve(&problem, Effort::Quick, threads, &Monitor::unwatched());
        (solved.solution, solved.lower_bound.bound)
    };
    let one = with(1);
    assert_eq!(one, with(2));
    let normal = |threads| solve(&problem, Effort::Normal, threads, &Monitor::unwatched()).solution;
    assert_eq!(normal(1), normal(2));
}

/// Ended early, it gives the best so far, and a bound that holds.
#[test]
fn ended_early() {
    use std::sync::atomic::{AtomicBool, Ordering};
    let problem = invented(Shape::default());
    let stop = AtomicBool::new(false);
    let told = |p: steadyleaf::planner::monitor::Progress| {
        if p.done > 1_000 {
            stop.store(true, Ordering::Relaxed);
        }
    };
    let solved = solve(&problem, Effort::Thorough, 1, &Monitor::new(&stop, &told));
    assert!(solved.stopped);
    assert_eq!(
        steadyleaf::planner::checker::check(&problem, &solved.solution),
        []
    );
    let cost = solved.solution.cost(&problem);
    assert!(solved.lower_bound.bound <= cost);
    assert!(
        cost < cost::empty_plan_cost(&problem) / 2,
        "it is a plan worth having"
    );
}
