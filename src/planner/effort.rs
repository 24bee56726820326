//! How much work planning is: a number of moves, never a time.

use crate::planner::problem::Problem;

/// How much work to do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Effort {
    /// A first look.
    Quick,
    /// The usual.
    #[default]
    Normal,
    /// All the good that more work does.
    Thorough,
}

/// Up to so many hole-years each gets all of its moves; a larger rig's holes get fewer each,
/// as there are more places for a harvest to come from.
const SMALL_HOLE_YEARS: u64 = 50;
/// Moves for a hole and year of the plan: in a small rig, and at least.
const MOVES_PER_HOLE_YEAR: (u64, u64) = (500, 60);
/// So many more at least where all holes are crowded, as there no hole's plan is found without
/// its neighbours' (tried: twice as many gain 0.3 % more of what a plan is worth).
const CROWDED_FACTOR: u64 = 180;
/// Fewer moves than this are not worth a search's beginning.
const MIN_MOVES: u64 = 4_000;

impl Effort {
    /// Moves of one search.
    #[must_use]
    pub fn moves(self, problem: &Problem) -> usize {
        let hole_years = hole_years(problem);
        let crowded = problem.count_crowded_holes() as u64 * CROWDED_FACTOR
            / problem.holes.len().max(1) as u64;
        let each = (MOVES_PER_HOLE_YEAR.0 * SMALL_HOLE_YEARS / hole_years)
            .clamp(MOVES_PER_HOLE_YEAR.1 + crowded, MOVES_PER_HOLE_YEAR.0);
        let moves = (hole_years * each).max(MIN_MOVES);
        let moves = match self {
            Self::Quick => moves / 3,
            Self::Normal => moves,
            Self::Thorough => moves * 8,
        };
        usize::try_from(moves).unwrap_or(usize::MAX)
    }

    /// Searches begun apart, of which the best counts: the smaller the rig, the more two of
    /// them differ, and the less each takes.
    #[must_use]
    pub fn starts(self, problem: &Problem) -> usize {
        let (most, least) = match self {
            Self::Quick => (2, 2),
            Self::Normal => (8, 2),
            Self::Thorough => (16, 4),
        };
        let starts = most * SMALL_HOLE_YEARS / hole_years(problem).max(SMALL_HOLE_YEARS);
        usize::try_from(starts).unwrap_or(usize::MAX).max(least)
    }

    /// How often the ceiling's prices are tried beside the searches, and as often again after them.
    #[must_use]
    pub const fn bound_iterations(self) -> usize {
        match self {
            Self::Quick => 60,
            Self::Normal => 200,
            Self::Thorough => 2_000,
        }
    }
}

fn hole_years(problem: &Problem) -> u64 {
    let days = u64::from(problem.days + problem.tail);
    (problem.holes.len() as u64 * days).div_ceil(365).max(1)
}
