//! Whether a rig is fit for planting: the acceptance sheet with its leak test and cautions.

use serde::Serialize;

use crate::garden::Garden;
use crate::plumbing::commissioning::{self, LoopReport};
use crate::summary::cautions::cautions;

/// All that is to be looked at before anybody plants.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Acceptance {
    /// The garden's name.
    pub garden: String,
    /// Each loop, judged.
    pub loops: Vec<LoopReport>,
    /// The leak test, step by step.
    pub leak_test: Vec<String>,
    /// Where the work can hurt somebody.
    pub cautions: Vec<String>,
}

/// The acceptance sheet of a garden's rig.
#[must_use]
pub fn acceptance(garden: &Garden) -> Acceptance {
    Acceptance {
        garden: garden.name.clone(),
        loops: commissioning::commissioning_report(garden).loops,
        leak_test: LEAK_TEST.iter().map(|&step| step.to_owned()).collect(),
        cautions: cautions(garden),
    }
}

/// One or two days on plain water find leaks (common practice, no published source).
const LEAK_TEST: [&str; 5] = [
    "Fill the tank with plain water, start the pump, and fill up as the tubes take theirs.",
    "Feel every joint, inlet and drain for drips, and see that each tube gets its share.",
    "Mark the level, let the pump run for one or two days, and look: with a lid on the tank it must stay.",
    "Stop the pump: what runs back must find room in the tank.",
    "Mend what drips, and run it again. Plant only when a whole day stayed dry.",
];
