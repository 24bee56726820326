//! The gardens of `examples/`, as they are and with more wanted than they can give: cost,
//! ceiling, gap and time of each.
//!
//! Unlike the invented family of `family.rs` these have tubes that are scrubbed twice a year,
//! crops that are cut several times, and towers. `cargo bench --bench gardens`.

mod table;

use std::path::Path;

use steadyleaf::garden::file;
use steadyleaf::planner::build;

const GARDENS: [&str; 4] = [
    "attic-shelf",
    "harbour-wall",
    "lantern-court",
    "mist-hill-towers",
];

/// What is wanted, in percent of what the garden asks for.
const LEVELS: [i64; 3] = [100, 150, 200];

fn main() {
    table::head("garden");
    for garden in GARDENS {
        let path = Path::new("examples").join(garden).join("garden.yaml");
        let loaded = file::read(&path).unwrap_or_else(|refusal| panic!("{garden}: {refusal:?}"));
        for level in LEVELS {
            let mut problem = build::build(&loaded.garden).problem;
            for target in problem.wants.iter_mut().flat_map(|w| &mut w.target_milli) {
                *target = *target * level / 100;
            }
            table::row(&format!("{garden}, {level} %"), &problem);
        }
    }
}
