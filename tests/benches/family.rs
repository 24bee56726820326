//! A family of invented rigs, from 24 to 10,000 holes: cost, ceiling, gap and time of each.
//!
//! `cargo bench --bench family` runs all but the largest; `cargo bench --bench family -- 24 240`
//! those with so many holes, `-- all` everything, `-- tiny` a hundred small ones drawn by lot, most
//! of whose optima a solver can prove. `-- --write DIR 24` also writes the problem files and what
//! was found, for `tests/benches/against_cp_sat.py`.

#[path = "../common/problems.rs"]
mod problems;
mod table;

use std::path::PathBuf;

use problems::{Shape, invented};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use steadyleaf::planner::problem::Problem;
use steadyleaf::planner::solve::SolveResult;

/// The family, with a name each.
fn family() -> Vec<(String, Shape)> {
    let mut family = Vec::new();
    for crops in [1, 2] {
        for spread_mm in [180, 200, 220] {
            for level in [60, 80, 100, 120, 140] {
                let shape = Shape {
                    crops,
                    spread_mm,
                    level,
                    ..Shape::default()
                };
                family.push((
                    format!("24 holes, {crops} crops, {spread_mm} mm, {level} %"),
                    shape,
                ));
            }
        }
    }
    for spread_mm in [240, 280, 320] {
        let shape = Shape {
            tubes: 6,
            crops: 2,
            spread_mm,
            between_mm: Some(180),
            ..Shape::default()
        };
        family.push((format!("36 close holes, 2 crops, {spread_mm} mm"), shape));
    }
    for (tubes, holes, crops) in [(24, 10, 6), (100, 10, 10), (1000, 10, 10), (1000, 10, 12)] {
        let shape = Shape {
            tubes,
            holes,
            crops,
            level: 90,
            cells: (tubes * holes * 2) as u64,
            ..Shape::default()
        };
        family.push((format!("{} holes, {crops} crops", tubes * holes), shape));
    }
    family
}

/// Up to 8 holes and 20 weeks, drawn by lot; always the same.
fn tiny() -> Vec<(String, Shape)> {
    let mut lot = Pcg64Mcg::seed_from_u64(8);
    let mut shapes = Vec::new();
    for n in 1..=100 {
        // Then tubes side by side, with plants that reach across, and crops that cannot share a
        // solution.
        let is_close = (61..=80).contains(&n);
        let apart = n > 80;
        let weeks = lot.random_range(8..=17);
        let tubes = if is_close { 2 } else { lot.random_range(1..=2) };
        let holes = lot.random_range(2..=if is_close { 3 } else { 6 - tubes });
        let shape = Shape {
            tubes,
            holes,
            crops: if apart { 2 } else { lot.random_range(1..=2) },
            weeks,
            tail: lot.random_range(1..=3),
            spread_mm: lot.random_range(if is_close { 200..=340 } else { 160..=230 }),
            level: lot.random_range(50..=150),
            cells: lot.random_range(3..=20),
            cleans: lot.random_ratio(1, 3),
            between_mm: is_close.then(|| lot.random_range(150..=200)),
            apart,
        };
        let holes = shape.tubes * shape.holes;
        let weeks = shape.weeks + shape.tail;
        let close = if is_close { "close " } else { "" };
        let apart = if apart { " apart" } else { "" };
        let name = format!(
            "tiny: {holes} {close}holes, {} crops{apart}, {weeks} weeks, {n}",
            shape.crops
        );
        shapes.push((name, shape));
    }
    shapes
}

fn main() {
    let mut wanted: Vec<usize> = Vec::new();
    let mut folder: Option<PathBuf> = None;
    let (mut all, mut small) = (false, false);
    let mut words = std::env::args().skip(1);
    while let Some(word) = words.next() {
        match word.as_str() {
            "--write" => folder = words.next().map(PathBuf::from),
            "all" => all = true,
            "tiny" => small = true,
            // What cargo itself adds.
            "--bench" => {}
            number => wanted.extend(number.parse::<usize>()),
        }
    }
    table::head("problem");
    let shapes = if small { tiny() } else { family() };
    for (n, (name, shape)) in shapes.into_iter().enumerate() {
        let holes = shape.tubes * shape.holes;
        let chosen = if wanted.is_empty() {
            small || all || holes < 5_000
        } else {
            wanted.contains(&holes)
        };
        if !chosen {
            continue;
        }
        let problem = invented(shape);
        let (solved, seconds) = table::row(&name, &problem);
        if let Some(folder) = &folder {
            write(folder, n, &name, &problem, &solved, seconds);
        }
    }
}

fn write(
    folder: &PathBuf,
    n: usize,
    name: &str,
    problem: &Problem,
    solved: &SolveResult,
    seconds: f64,
) {
    std::fs::create_dir_all(folder).expect("a folder to write to");
    let file = |end: &str| folder.join(format!("{n:02}{end}"));
    let text = serde_json::to_string(problem).expect("a problem is JSON");
    std::fs::write(file(".problem.json"), text).expect("a file to write");
    let told = serde_json::json!({
        "name": name,
        "cost_milli": solved.solution.cost(problem),
        "bound_milli": solved.lower_bound.bound,
        "seconds": seconds,
    });
    std::fs::write(file(".ours.json"), told.to_string()).expect("a file to write");
}
