//! The best plan of three holes near each other, held against every plan there is, and what it makes
//! of the ceiling.

use crate::path::windows;
use crate::problems::{Shape, invented};
use rstest::rstest;
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::file;
use steadyleaf::planner::bound::block_dp::JointBlock;
use steadyleaf::planner::bound::lower_bound::solve_lower_bound;
use steadyleaf::planner::bound::max_supply::MaxSupplyBound;
use steadyleaf::planner::bound::prices::Prices;
use steadyleaf::planner::build;
use steadyleaf::planner::effort::Effort;
use steadyleaf::planner::monitor::Monitor;
use steadyleaf::planner::problem::cost;
use steadyleaf::planner::problem::model::{ArcId, Model};
use steadyleaf::planner::problem::{Problem, StandingPlant, StayEnd, WeekYield};
use steadyleaf::planner::search::pair::{HoleOptions, JointPath};
use steadyleaf::planner::solve::solve;

/// Every plan of a hole, as lists of arcs: what stands in it comes first.
fn every_path(model: &Model<'_>, hole: usize) -> Vec<Vec<ArcId>> {
    fn go_on(model: &Model<'_>, hole: usize, path: &mut Vec<ArcId>, all: &mut Vec<Vec<ArcId>>) {
        all.push(path.clone());
        let class = model.class(hole);
        let from = path.last().map_or(0, |&a| class.arcs[a as usize].to);
        for a in class.starts[from as usize]..*class.starts.last().unwrap() {
            path.push(a);
            go_on(model, hole, path, all);
            path.pop();
        }
    }
    let mut all = Vec::new();
    let standing = model.class(hole).standing.clone();
    if standing.is_empty() {
        go_on(model, hole, &mut Vec::new(), &mut all);
    }
    for arc in standing {
        go_on(model, hole, &mut vec![arc], &mut all);
    }
    all
}

/// A plant that stands in the middle hole, and may come out on either of two days.
fn with_one_standing(mut problem: Problem) -> Problem {
    let end = |day, milli| StayEnd {
        day,
        yields: vec![WeekYield {
            week: day / 7,
            milli,
        }],
    };
    let days = [problem.workdays[2], problem.workdays[4]];
    problem.standing = vec![StandingPlant {
        hole: 1,
        crop: problem.kinds[0].batches[0].crop.clone(),
        want: 0,
        once: true,
        radius_mm: vec![vec![120; days[1] as usize]],
        ends: vec![end(days[0], 1000), end(days[1], 900)],
        canopies: vec![0, 0],
    }];
    problem
}

#[rstest]
#[case::wide(1, 320, false, false)]
#[case::wider(2, 360, false, false)]
#[case::hardly_wide(1, 200, false, false)]
#[case::scrubbed(1, 340, true, false)]
#[case::beside_what_stands(2, 340, false, true)]
fn three_holes(
    #[case] crops: usize,
    #[case] spread_mm: u32,
    #[case] cleans: bool,
    #[case] stands: bool,
) {
    let mut problem = invented(Shape {
        tubes: 1,
        holes: 3,
        crops,
        weeks: if crops == 1 { 11 } else { 9 },
        tail: 1,
        spread_mm,
        cleans,
        ..Shape::default()
    });
    // What two days of removal rule out is left to pairs.
    problem.neighbours_apart = 0;
    if stands {
        problem = with_one_standing(problem);
    }
    let model = Model::new(&problem);
    let windows = windows(&problem);
    let arc = |hole: usize, a: ArcId| &model.class(hole).arcs[a as usize];
    let go_together = |(a, of_a): (usize, &[ArcId]), (b, of_b): (usize, &[ArcId])| {
        let table = model
            .conflict_table(a, b)
            .map(|t| &model.conflicts[t as usize]);
        table.is_none_or(|t| {
            of_a.iter()
                .all(|&x| of_b.iter().all(|&y| !t.rules_out(x, y)))
        })
    };
    let is_scrubbed = |plans: [&[ArcId]; 3]| {
        windows.iter().all(|&(first, last)| {
            (first..=last).any(|n| {
                let day = problem.workdays[n as usize];
                let stays = (0..3).zip(plans);
                let mut stays = stays.flat_map(|(h, plan)| plan.iter().map(move |&a| (h, a)));
                stays.all(|(h, a)| !arc(h, a).stands_over(day))
            })
        })
    };
    let together = JointBlock::build(&model, &[0, 1, 2], &windows, None, usize::MAX).unwrap();
    assert!(
        JointBlock::build(
            &model,
            &[0, 1, 2],
            &windows,
            None,
            together.edge_count() - 1
        )
        .is_none()
    );
    let all = [0, 1, 2].map(|hole| every_path(&model, hole));
    for seed in 1..5i64 {
        let worth = (0..model.items.len() as i64).map(|i| (i * 7919 * seed) % 3_000 - 200);
        let mut prices = Prices::for_items(worth.collect());
        prices.stay_cost = 300;
        let cost = |hole: usize, plan: &[ArcId]| -> i64 {
            let stays = plan.iter();
            stays
                .map(|&a| prices.reduced_cost(model.class(hole), arc(hole, a)))
                .sum()
        };
        let mut best = i64::MAX;
        for a in &all[0] {
            for b in all[1].iter().filter(|b| go_together((0, a), (1, b))) {
                let beside =
                    |c: &&Vec<ArcId>| go_together((0, a), (2, c)) && go_together((1, b), (2, c));
                for c in all[2].iter().filter(beside) {
                    if is_scrubbed([a, b, c]) {
                        best = best.min(cost(0, a) + cost(1, b) + cost(2, c));
                    }
                }
            }
        }
        let lanes = [0, 1, 2].map(|hole| {
            let mut lane = HoleOptions::default();
            prices.options_of(model.class(hole), |_| 0, &mut lane);
            lane
        });
        let mut found = JointPath::default();
        together.plan(&lanes.each_ref(), &mut found);
        assert_eq!(found.cost, best, "seed {seed}");
        let [a, b, c] = &found.stays[..] else {
            panic!("a plan for each hole");
        };
        assert_eq!(cost(0, a) + cost(1, b) + cost(2, c), best);
        assert!(go_together((0, a), (1, b)) && go_together((0, a), (2, c)));
        assert!(go_together((1, b), (2, c)) && is_scrubbed([a, b, c]));
    }
}

const KALE: &str = "\
garden: A tube of kale
start: 2027-03-01
weeks: 40
place:
  latitude: 52
  timezone: Europe/Amsterdam
  cover: { kind: indoors, day: 22 C, night: 18 C, light: 15 mol, hours: 16 }
loops:
  - loop: shelf
    tank: { holds: 60 l }
    banks: [{ bank: shelf, form: level, tubes: 1, length: 2 m, hole_every: 15 cm }]
wants: [{ want: kale, from_crops: [kale], each_week: 400 g }]
rhythm: { workdays: [wed, sat] }
";

/// Planned in pairs, a tube of kale would have a plant coming on beside each that is picked; in
/// truth it keeps others out of two holes on either side for as long as it stands.
#[test]
fn a_tube_of_kale_is_bounded_by_sets() {
    let garden = file::parse(KALE, "garden.yaml", &Cards::built_in()).unwrap();
    let problem = build::build(&garden).problem;
    let solved = solve(&problem, Effort::Quick, 2, &Monitor::unwatched());
    let cost = solved.solution.cost(&problem);
    let model = Model::new(&problem);
    let pairs = solve_lower_bound(&model, &solved.solution, 200).bound;
    let gap = |bound| (cost - bound) as f64 / (cost::empty_plan_cost(&problem) - bound) as f64;
    let (pairs, together) = (gap(pairs), gap(solved.lower_bound.bound));
    println!("{pairs:.4}, together {together:.4}");
    assert!(pairs > 0.1 && (0.0..0.05).contains(&together));
}

/// More is wanted than the tube can give, so that the plan gives about the most there is.
#[test]
fn the_most_of_a_tube_of_kale_is_bounded_by_sets() {
    let garden = file::parse(KALE, "garden.yaml", &Cards::built_in()).unwrap();
    let problem = build::build(&garden).problem;
    let solved = solve(&problem, Effort::Quick, 2, &Monitor::unwatched());
    let got: i64 = solved.solution.supply(&problem)[0].iter().sum();
    let model = Model::new(&problem);
    let most = MaxSupplyBound::new(&model).max_milli(0, 0..model.weeks);
    println!("{got} of {most}");
    assert!(got <= most && most * 100 <= got * 105);
}
