//! The best plan of one hole, and of two together, held against every plan there is.

use crate::problems::{Shape, invented};
use rstest::rstest;
use steadyleaf::planner::bound::prices::Prices;
use steadyleaf::planner::problem::model::{ArcId, Model};
use steadyleaf::planner::problem::{CleanTask, Problem};
use steadyleaf::planner::search::pair::{HoleOptions, JointPath, JointProblem, Workspace, solve};
use steadyleaf::planner::search::path::{Gap, PathFinder};
use steadyleaf::planner::search::state::State;

/// Every path through a class's arcs, as lists of arcs.
fn every_path(model: &Model<'_>, from: u32, path: &mut Vec<ArcId>, all: &mut Vec<Vec<ArcId>>) {
    all.push(path.clone());
    let class = &model.classes[0];
    for a in class.starts[from as usize]..*class.starts.last().unwrap() {
        path.push(a);
        every_path(model, class.arcs[a as usize].to, path, all);
        path.pop();
    }
}

/// The windows in which tubes are scrubbed, as positions among the workdays.
pub fn windows(problem: &Problem) -> Vec<(u32, u32)> {
    let window = |c: &CleanTask| {
        let inside = |d: u32| c.days[0] <= d && d <= c.days[1];
        let first = problem.workdays.iter().position(|&d| inside(d)).unwrap();
        let last = problem.workdays.iter().rposition(|&d| inside(d)).unwrap();
        (first as u32, last as u32)
    };
    problem.cleans.iter().map(window).collect()
}

#[rstest]
#[case(1, 100, 180)]
#[case(1, 60, 220)]
#[case(2, 100, 200)]
fn one_hole(#[case] crops: usize, #[case] level: i64, #[case] spread_mm: u32) {
    let problem = invented(Shape {
        tubes: 1,
        holes: 2,
        crops,
        weeks: if crops == 1 { 14 } else { 10 },
        tail: 1,
        level: level * 4,
        spread_mm,
        ..Shape::default()
    });
    let model = Model::new(&problem);
    let mut all = Vec::new();
    every_path(&model, 0, &mut Vec::new(), &mut all);
    assert!(all.len() > 20);
    // For whatever the neighbour does: the best found is the best of all that fit.
    let mut finder = PathFinder::default();
    for other in all.iter().step_by(all.len() / 20 + 1) {
        let mut state = State::empty(&model);
        state.insert(1, other);
        let before = state.cost();
        let fits = |path: &[ArcId]| {
            let table = &model.conflicts[model.neighbours[0][0].table as usize];
            path.iter()
                .all(|&a| other.iter().all(|&b| !table.rules_out(b, a)))
        };
        let best = all
            .iter()
            .filter(|p| fits(p))
            .map(|p| {
                let mut tried = state.clone();
                tried.insert(0, p);
                tried.cost() - before
            })
            .min()
            .unwrap();
        let gap = Gap {
            from: 0,
            to: problem.workdays.len() as u32,
        };
        let mut path = Vec::new();
        let found = finder.best_path(&mut state, 0, gap, false, &mut path);
        assert!(fits(&path));
        state.insert(0, &path);
        assert_eq!((found, state.cost() - before), (best, best));
    }
}

#[rstest]
#[case(1, 180, false)]
#[case(1, 220, false)]
#[case(2, 200, false)]
#[case(1, 200, true)]
fn two_holes(#[case] crops: usize, #[case] spread_mm: u32, #[case] cleans: bool) {
    let problem = invented(Shape {
        tubes: 1,
        holes: 2,
        crops,
        weeks: if crops == 1 { 14 } else { 10 },
        tail: 1,
        spread_mm,
        cleans,
        ..Shape::default()
    });
    let model = Model::new(&problem);
    let class = &model.classes[0];
    let table = &model.conflicts[0];
    let mut all = Vec::new();
    every_path(&model, 0, &mut Vec::new(), &mut all);
    let windows = windows(&problem);
    // Prices that differ from week to week, and a nursery that is dear in the middle.
    for seed in 1..6i64 {
        let worth = (0..model.items.len() as i64).map(|i| (i * 7919 * seed) % 3_000 - 200);
        let mut prices = Prices::for_items(worth.collect());
        prices.stay_cost = 300;
        let days: Vec<i32> = (0..(problem.days + problem.tail) as i32).collect();
        let costs: Vec<i64> = days
            .iter()
            .map(|&d| i64::from(d >= 20 && i64::from(d) * seed % 7 < 2))
            .collect();
        prices.set_nursery_prices(&days, &costs);
        let cost = |path: &[ArcId]| -> i64 {
            path.iter()
                .map(|&a| prices.reduced_cost(class, &class.arcs[a as usize]))
                .sum()
        };
        let scrubbed = |a: &[ArcId], b: &[ArcId]| {
            windows.iter().all(|&(first, last)| {
                (first..=last).any(|n| {
                    let day = problem.workdays[n as usize];
                    a.iter().chain(b).all(|&x| {
                        let arc = &class.arcs[x as usize];
                        arc.removal <= day || day <= arc.transplant
                    })
                })
            })
        };
        let fits = |a: &[ArcId], b: &[ArcId]| {
            a.iter().all(|&x| b.iter().all(|&y| !table.rules_out(x, y))) && scrubbed(a, b)
        };
        let best = all
            .iter()
            .flat_map(|a| all.iter().map(move |b| (a, b)))
            .filter(|(a, b)| fits(a, b))
            .map(|(a, b)| cost(a) + cost(b))
            .min()
            .unwrap();
        let mut lane = HoleOptions::default();
        prices.options_of(class, |_| 0, &mut lane);
        let task = JointProblem {
            holes: &[&lane, &lane],
            conflicts: &[table, table],
            clean_windows: &windows,
            low: 0,
            high: problem.workdays.len() as u32,
        };
        let mut found = JointPath::default();
        solve(&task, &mut Workspace::default(), &mut found);
        let [a, b] = &found.stays[..] else {
            panic!("a plan for each hole");
        };
        assert_eq!(found.cost, best, "seed {seed}");
        assert_eq!(
            cost(a) + cost(b),
            best,
            "the stays told are those that cost it"
        );
        assert!(fits(a, b));
    }
}
