//! The gardens of `examples/`, as they are and with more wanted than they can give, and decks of
//! close tubes made from one of them: cost, ceiling, gap and time of each.
//!
//! Unlike the invented family of `family.rs` these have tubes that are scrubbed twice a year,
//! crops that are cut several times, towers, and big plants beside small ones.
//! `cargo bench --bench gardens`.

mod table;

use std::path::{Path, PathBuf};

use steadyleaf::garden::Garden;
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::file;
use steadyleaf::planner::build;
use steadyleaf::planner::problem::Problem;

const GARDENS: [&str; 4] = [
    "attic-shelf",
    "harbour-wall",
    "lantern-court",
    "mist-hill-towers",
];

/// What is wanted, in percent of what the garden asks for.
const LEVELS: [i64; 3] = [100, 150, 200];

/// What is grown for the second want in close tubes: big plants beside heads of salad.
const BIG: [(&str, &str); 2] = [
    ("greens", "from_crops: [kale, chard], each_week: 200 g"),
    (
        "peppers",
        "from_crops: [chilli, sweet-pepper], each_week: 100 g",
    ),
];

fn main() {
    table::head("garden");
    for garden in GARDENS {
        let loaded = file::read(&path(garden));
        let loaded = loaded.unwrap_or_else(|refusal| panic!("{garden}: {refusal:?}"));
        for level in LEVELS {
            let problem = wanting(&loaded.garden, level);
            table::row(&format!("{garden}, {level} %"), &problem);
        }
    }
    for (want, crops) in BIG {
        let garden = close(want, crops);
        for level in LEVELS {
            let problem = wanting(&garden, level);
            table::row(&format!("close tubes, {want}, {level} %"), &problem);
        }
    }
}

fn path(garden: &str) -> PathBuf {
    Path::new("examples").join(garden).join("garden.yaml")
}

/// A garden's problem with so many percent wanted of what it asks for.
fn wanting(garden: &Garden, level: i64) -> Problem {
    let mut problem = build::build(garden).problem;
    for target in problem.wants.iter_mut().flat_map(|w| &mut w.target_milli) {
        *target = *target * level / 100;
    }
    problem
}

/// The attic's shelf as a deck of six tubes 18 cm apart, with another second want.
fn close(want: &str, crops: &str) -> Garden {
    let text = std::fs::read_to_string(path("attic-shelf")).expect("an example to read");
    let changed = [
        ("tubes: 4", "tubes: 6".to_owned()),
        ("tube_gap: 30 cm", "tube_gap: 18 cm".to_owned()),
        (
            "want: rocket, from_crops: [rocket], each_week: 60 g",
            format!("want: {want}, {crops}"),
        ),
    ];
    let text = changed.iter().fold(text, |text, (from, to)| {
        assert!(text.contains(from), "{from}");
        text.replace(from, to)
    });
    file::parse(&text, "garden.yaml", &Cards::built_in())
        .unwrap_or_else(|refusal| panic!("{want}: {refusal:?}"))
}
