//! The checker catches every kind of broken rule: a good plan is spoilt in one way at a time.

use crate::problems::{Shape, invented};
use rstest::rstest;
use steadyleaf::planner::checker::{Violation, check};
use steadyleaf::planner::effort::Effort;
use steadyleaf::planner::problem::model::Model;
use steadyleaf::planner::problem::solution::{PlacedStay, Solution};
use steadyleaf::planner::problem::{Problem, SeedlingLot, StandingPlant};
use steadyleaf::planner::search::search;

fn good() -> (Problem, Solution) {
    let problem = invented(Shape {
        tubes: 2,
        holes: 3,
        crops: 2,
        weeks: 20,
        level: 100,
        cleans: true,
        ..Shape::default()
    });
    let solution = search(&Model::new(&problem), Effort::Quick, 1);
    assert_eq!(check(&problem, &solution), []);
    assert!(solution.stays.len() > 12, "there is something to spoil");
    (problem, solution)
}

/// Two stays of one hole, one after the other.
fn follows(problem: &Problem, solution: &Solution) -> (usize, usize) {
    (1..solution.stays.len())
        .find(|&n| {
            let (a, b) = (&solution.stays[n - 1], &solution.stays[n]);
            a.hole == b.hole && a.end(problem).day == b.batch(problem).transplant
        })
        .map(|n| (n - 1, n))
        .expect("some hole is planted again on the day it is cleared")
}

#[test]
fn two_plants_in_one_hole() {
    let (mut problem, solution) = good();
    follows(&problem, &solution);
    problem.changeover = 1;
    let broken = check(&problem, &solution);
    assert!(
        broken
            .iter()
            .any(|b| matches!(b, Violation::Overlap { .. })),
        "{broken:?}"
    );
}

#[test]
fn canopies_that_do_not_fit() {
    let (mut problem, solution) = good();
    for pair in &mut problem.pairs {
        pair.limit_mm = 75;
    }
    let broken = check(&problem, &solution);
    assert!(
        broken
            .iter()
            .all(|b| matches!(b, Violation::Crowded { .. }))
    );
    assert!(!broken.is_empty());
}

#[test]
fn neighbours_of_one_stage() {
    let (mut problem, solution) = good();
    problem.neighbours_apart = 40;
    let broken = check(&problem, &solution);
    assert!(
        broken
            .iter()
            .all(|b| matches!(b, Violation::SameStage { .. }))
    );
    assert!(!broken.is_empty());
}

#[test]
fn an_overfull_nursery() {
    let (mut problem, solution) = good();
    problem.nursery_cells_milli = 1_169;
    let broken = check(&problem, &solution);
    assert!(
        matches!(broken[..], [Violation::NurseryOverfull { needed_milli, .. }] if needed_milli >= 1_170)
    );
}

#[test]
fn a_day_off() {
    let (mut problem, solution) = good();
    let day = solution.stays[0].batch(&problem).transplant;
    problem.workdays.retain(|&d| d != day);
    let broken = check(&problem, &solution);
    assert!(
        broken
            .iter()
            .all(|b| matches!(b, Violation::NotAWorkday { day: d, .. } if *d == i64::from(day)))
    );
    assert!(!broken.is_empty());
}

#[rstest]
#[case::outside_its_window(|s: &mut Solution, _: &Problem| s.clean_days[0] = 0)]
#[case::off_the_workdays(|s: &mut Solution, p: &Problem| {
    let day = p.cleans[0].days[0];
    s.clean_days[0] = (day..).find(|d| !p.workdays.contains(d)).unwrap();
})]
#[case::something_stands_in_the_tube(|s: &mut Solution, p: &Problem| {
    let [first, last] = p.cleans[0].days;
    let stands = |d: u32| s.stays.iter().any(|x| {
        p.holes[x.hole].tube == 0 && x.batch(p).transplant < d && d < x.end(p).day
    });
    s.clean_days[0] = *p.workdays.iter().find(|&&d| first <= d && d <= last && stands(d)).unwrap();
})]
fn a_tube_not_scrubbed(#[case] spoil: fn(&mut Solution, &Problem)) {
    let (problem, mut solution) = good();
    spoil(&mut solution, &problem);
    let broken = check(&problem, &solution);
    assert!(
        matches!(broken[..], [Violation::InvalidCleaning { tube: 0, .. }]),
        "{broken:?}"
    );
}

#[test]
fn crops_that_cannot_share() {
    let (mut problem, solution) = good();
    problem.apart = vec![("crop-0".into(), "crop-1".into())];
    let broken = check(&problem, &solution);
    assert!(
        matches!(broken[..], [Violation::IncompatibleCrops { .. }]),
        "{broken:?}"
    );
    // In loops of their own they can.
    let (a, b): (Vec<_>, Vec<_>) = solution
        .stays
        .iter()
        .copied()
        .partition(|s| s.batch(&problem).crop == "crop-0");
    for (n, hole) in problem.holes.iter_mut().enumerate() {
        hole.r#loop = n;
    }
    let holes = |s: &[PlacedStay]| {
        s.iter()
            .map(|s| s.hole)
            .collect::<std::collections::BTreeSet<_>>()
    };
    let shared = holes(&a).intersection(&holes(&b)).count();
    assert!(shared > 0, "a hole takes both crops, one after the other");
    assert_eq!(check(&problem, &solution), []);
}

/// Two that stand already can stay as they are; nothing is set out to either.
#[test]
fn crops_that_cannot_share_and_stand_together() {
    let (mut problem, mut solution) = good();
    problem.cleans.clear();
    solution.clean_days.clear();
    problem.apart = vec![("crop-0".into(), "crop-1".into())];
    let set_out = solution.stays.clone();
    let batches = &problem.kinds[0].batches;
    let standing = ["crop-0", "crop-1"].into_iter().enumerate();
    problem.standing = standing
        .map(|(hole, crop)| {
            let batch = batches.iter().find(|b| b.crop == crop).expect("a batch");
            StandingPlant {
                hole,
                crop: batch.crop.clone(),
                want: batch.want,
                once: true,
                radius_mm: vec![vec![10; 200]],
                canopies: vec![0; batch.ends.len()],
                ends: batch.ends.clone(),
            }
        })
        .collect();
    solution.standing_ends = vec![0; 2];
    solution.stays.clear();
    assert_eq!(check(&problem, &solution), []);
    let out = problem.standing.iter().map(|s| s.ends[0].day).min();
    for crop in ["crop-0", "crop-1"] {
        let new = set_out.iter().find(|s| {
            let batch = s.batch(&problem);
            s.hole > 2 && batch.crop == crop && Some(batch.transplant) < out
        });
        solution.stays = vec![*new.expect("a plant set out beside them")];
        let broken = check(&problem, &solution);
        assert!(
            matches!(broken[..], [Violation::IncompatibleCrops { .. }]),
            "{broken:?}"
        );
    }
}

#[test]
fn more_seedlings_than_are_on_hand() {
    let (mut problem, solution) = good();
    problem.lots = vec![SeedlingLot {
        crop: "crop-0".into(),
        count: 2,
    }];
    for batch in &mut problem.kinds[0].batches {
        batch.lot = Some(0);
    }
    let broken = check(&problem, &solution);
    assert!(
        matches!(broken[..], [Violation::LotOverdrawn { .. }]),
        "{broken:?}"
    );
}

#[test]
fn what_stands_already_keeps_its_place() {
    let (mut problem, mut solution) = good();
    let first = solution.stays[0];
    let batch = first.batch(&problem).clone();
    problem.standing = vec![StandingPlant {
        hole: first.hole,
        crop: batch.crop,
        want: batch.want,
        once: true,
        radius_mm: vec![vec![10; 200]],
        canopies: vec![0; batch.ends.len()],
        ends: batch.ends.clone(),
    }];
    solution.standing_ends = vec![0];
    let broken = check(&problem, &solution);
    assert!(
        matches!(&broken[0], Violation::Overlap { hole, .. } if *hole == problem.holes[first.hole].id),
        "{broken:?}"
    );
}

#[rstest]
#[case::hole(|s: &mut Solution| s.stays[0].hole = 99)]
#[case::batch(|s: &mut Solution| s.stays[0].batch = 9_999)]
#[case::removal(|s: &mut Solution| s.stays[0].end = 99)]
#[case::cleaning(|s: &mut Solution| s.clean_days.clear())]
fn names_of_nothing(#[case] spoil: fn(&mut Solution)) {
    let (problem, mut solution) = good();
    spoil(&mut solution);
    assert!(matches!(
        check(&problem, &solution)[..],
        [Violation::InvalidIndex { .. }]
    ));
}
