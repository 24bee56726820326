//! Which limit binds in a short week: each is made the only one, and then loosened.

use crate::problems::{Shape, invented};
use rstest::rstest;
use steadyleaf::planner::effort::Effort;
use steadyleaf::planner::explain::bottleneck::{Limit, bottlenecks};
use steadyleaf::planner::monitor::Monitor;
use steadyleaf::planner::problem::model::Model;
use steadyleaf::planner::problem::{CleanTask, Problem, StandingPlant, StayEnd};
use steadyleaf::planner::search::state::State;
use steadyleaf::planner::solve::solve;

/// The limits of the short weeks of a plan, by want and week.
fn limits(problem: &Problem) -> Vec<(usize, usize, Limit)> {
    let solution = solve(problem, Effort::Normal, 2, &Monitor::unwatched()).solution;
    let model = Model::new(problem);
    let limits = bottlenecks(&mut State::from_solution(&model, &solution));
    let cells = model.want_weeks.iter().zip(limits);
    cells
        .filter_map(|(cell, limit)| Some((cell.want, cell.week, limit?)))
        .collect()
}

/// Single holes far from each other, of which much is wanted: nothing but holes is lacking.
const ROOMY: Shape = Shape {
    tubes: 8,
    holes: 1,
    crops: 1,
    weeks: 30,
    tail: 6,
    spread_mm: 180,
    level: 150,
    cells: 60,
    cleans: false,
    between_mm: None,
    apart: false,
};

fn few_cells() -> Problem {
    invented(Shape { cells: 2, ..ROOMY })
}

/// Plants twice as wide as the distance between holes.
fn wide() -> Problem {
    invented(Shape {
        tubes: 1,
        holes: 8,
        spread_mm: 320,
        ..ROOMY
    })
}

/// All is scrubbed on one day, and little is wanted but in the weeks after it.
fn scrubbed() -> Problem {
    let mut problem = invented(Shape { level: 80, ..ROOMY });
    let day = problem.workdays[30];
    problem.cleans = (0..8)
        .map(|tube| CleanTask {
            tube,
            days: [day, day],
        })
        .collect();
    let week = day as usize / 7;
    for (n, target) in problem.wants[0].target_milli.iter_mut().enumerate() {
        *target = if (week + 1..week + 3).contains(&n) {
            8_000
        } else {
            0
        };
    }
    problem
}

/// Two wants for the same holes, of which the first matters five times as much.
fn two_wants() -> Problem {
    let mut problem = invented(Shape {
        crops: 2,
        level: 250,
        ..ROOMY
    });
    problem.wants[0].weight_milli = 3_000;
    problem.wants[1].weight_milli = 600;
    problem
}

/// Two wants that cannot share a solution, of which the first matters most and needs few holes.
fn two_solutions() -> Problem {
    let mut problem = invented(Shape {
        crops: 2,
        level: 60,
        apart: true,
        ..ROOMY
    });
    problem.wants[0].weight_milli = 3_000;
    problem
}

/// Nobody is there for four weeks in the middle.
fn away() -> Problem {
    let mut problem = invented(ROOMY);
    let away = 80..108;
    problem.workdays.retain(|d| !away.contains(d));
    for batch in &mut problem.kinds[0].batches {
        batch.ends.retain(|e| !away.contains(&e.day));
    }
    problem.kinds[0].batches.retain(|b| {
        let sown_then = u32::try_from(b.sow).is_ok_and(|sow| away.contains(&sow));
        !away.contains(&b.transplant) && !sown_then && !b.ends.is_empty()
    });
    for (week, target) in problem.wants[0].target_milli.iter_mut().enumerate() {
        let week = week as u32;
        let batches = &problem.kinds[0].batches;
        let possible = batches
            .iter()
            .any(|b| b.ends.iter().any(|e| e.day / 7 == week));
        if !possible {
            *target = 0;
        }
    }
    problem
}

/// Only what is set out on the first workday of each second week grows from week 10 to 16.
fn short_season() -> Problem {
    let mut problem = invented(ROOMY);
    problem.kinds[0]
        .batches
        .retain(|b| !(70..112).contains(&b.transplant) || b.transplant % 14 == 2);
    problem
}

#[rstest]
#[case::holes(invented(ROOMY), 0, Limit::Holes)]
#[case::nursery(few_cells(), 0, Limit::Nursery)]
#[case::space(wide(), 0, Limit::Space)]
#[case::cleaning(scrubbed(), 0, Limit::Cleaning)]
#[case::solution(two_solutions(), 1, Limit::Solution)]
#[case::another_want(two_wants(), 1, Limit::AnotherWant)]
fn most_short_weeks_are_short_for_it(
    #[case] problem: Problem,
    #[case] want: usize,
    #[case] limit: Limit,
) {
    let limits = limits(&problem);
    let of_want: Vec<_> = limits.iter().filter(|l| l.0 == want).collect();
    let so_many = of_want.iter().filter(|l| l.2 == limit).count();
    println!("{so_many} of {}: {limits:?}", of_want.len());
    assert!(so_many > 0 && so_many * 10 >= of_want.len() * 6);
}

/// What hinders for some weeks only shows in these.
#[rstest]
#[case::absence(away(), Limit::Absence, 16..23)]
#[case::season(short_season(), Limit::Season, 11..23)]
fn weeks_around_a_hindrance_are_short_for_it(
    #[case] problem: Problem,
    #[case] limit: Limit,
    #[case] weeks: std::ops::Range<usize>,
) {
    let limits = limits(&problem);
    println!("{limits:?}");
    let hindered: Vec<usize> = limits
        .iter()
        .filter(|l| l.2 == limit)
        .map(|l| l.1)
        .collect();
    assert!(!hindered.is_empty());
    assert!(hindered.iter().all(|w| weeks.contains(w)), "{hindered:?}");
}

/// With enough of everything there is nothing to tell.
#[test]
fn nothing_binds_where_all_is_met() {
    let problem = invented(Shape { level: 50, ..ROOMY });
    assert_eq!(limits(&problem), []);
}

/// From the first day on as much is wanted as later, and nothing stands yet: what is sown today is
/// set out two weeks on, and in winter takes five weeks more. A plant set out today would be ripe
/// two weeks sooner than that.
#[test]
fn weeks_that_no_seed_reaches_any_more_are_too_near() {
    let mut problem = invented(Shape {
        weeks: 12,
        level: 60,
        ..ROOMY
    });
    let batches = &problem.kinds[0].batches;
    let takes = batches[0].ends[0].day - batches[0].transplant;
    let first = batches.iter().flat_map(|b| &b.ends).map(|e| e.day).min();
    let (set_out_now, first) = ((problem.workdays[0] + takes) as usize / 7, first.unwrap());
    let sown_now = first as usize / 7;
    assert_eq!((set_out_now, sown_now), (5, 7));
    let target = &mut problem.wants[0].target_milli;
    let each = target[sown_now];
    target[..sown_now].fill(each);
    let limits = limits(&problem);
    let of_week = |week: usize| limits.iter().find(|l| l.1 == week).map(|l| l.2);
    for week in 0..sown_now {
        let right = if week < set_out_now {
            Limit::TooLate
        } else {
            Limit::TooLateToSow
        };
        assert_eq!(of_week(week), Some(right), "{week}: {limits:?}");
    }
    let later = limits.iter().filter(|l| l.1 >= sown_now);
    let late = [Limit::TooLate, Limit::TooLateToSow, Limit::Season];
    assert!(
        later.clone().all(|l| !late.contains(&l.2)),
        "{:?}",
        later.collect::<Vec<_>>()
    );
}

/// Where all holes are taken until then, no bought plant would find one.
#[test]
fn a_bought_plant_needs_a_hole() {
    let mut problem = invented(Shape {
        weeks: 12,
        level: 60,
        ..ROOMY
    });
    let each = *problem.wants[0].target_milli.iter().max().unwrap();
    problem.wants[0].target_milli[..7].fill(each);
    problem.standing = (0..problem.holes.len())
        .map(|hole| StandingPlant {
            hole,
            crop: "crop-0".into(),
            want: 0,
            once: true,
            radius_mm: vec![vec![90; 50]],
            canopies: vec![0],
            ends: vec![StayEnd {
                day: 49,
                yields: Vec::new(),
            }],
        })
        .collect();
    let limits = limits(&problem);
    let near = limits.iter().filter(|l| l.1 < 7);
    assert_eq!(near.clone().count(), 7);
    assert!(near.clone().all(|l| l.2 == Limit::TooLate), "{limits:?}");
}
