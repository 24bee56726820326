//! The gardens of `examples/`, as they are and with more wanted than they can give: cost,
//! ceiling, gap and time of each.
//!
//! Unlike the invented family of `family.rs` these have tubes that are scrubbed twice a year,
//! crops that are cut several times, and towers. `cargo bench --bench gardens`.

use std::path::Path;
use std::time::Instant;

use steadyleaf::garden::file;
use steadyleaf::planner::checker::check;
use steadyleaf::planner::effort::Effort;
use steadyleaf::planner::solve::solve;
use steadyleaf::planner::watch::Watch;
use steadyleaf::planner::{build, cost};

const GARDENS: [&str; 4] = [
    "attic-shelf",
    "harbour-wall",
    "lantern-court",
    "mist-hill-towers",
];

/// What is wanted, in percent of what the garden asks for.
const LEVELS: [i64; 3] = [100, 150, 200];

fn main() {
    println!(
        "{:<36} {:>12} {:>12} {:>7} {:>9}",
        "garden", "cost", "ceiling", "gap %", "time"
    );
    for garden in GARDENS {
        let path = Path::new("examples").join(garden).join("garden.yaml");
        let loaded = file::read(&path).unwrap_or_else(|refusal| panic!("{garden}: {refusal:?}"));
        for level in LEVELS {
            let mut problem = build::build(&loaded.garden).problem;
            for want in &mut problem.wants {
                for target in &mut want.target_milli {
                    // Whole harvests, as the garden would have it.
                    let harvests = *target * level / 100 / want.harvest_milli;
                    *target = harvests * want.harvest_milli;
                }
            }
            let began = Instant::now();
            let threads = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
            let solved = solve(&problem, Effort::Normal, threads, &Watch::nobody());
            let took = began.elapsed();
            assert!(
                check(&problem, &solved.solution).is_empty(),
                "a rule is broken"
            );
            let cost = solved.solution.cost(&problem);
            let bound = solved.ceiling.bound;
            let gap = cost::gap_percent(cost, bound, cost::of_nothing(&problem)).unwrap_or(0.0);
            println!(
                "{:<36} {:>12.3} {:>12.3} {gap:>7.3} {:>8.2}s",
                format!("{garden}, {level} %"),
                cost as f64 / 1000.0,
                bound as f64 / 1000.0,
                took.as_secs_f64()
            );
        }
    }
}
