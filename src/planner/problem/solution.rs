//! A choice of stays and cleaning days for a problem.

use serde::{Deserialize, Serialize};

use crate::planner::problem::cost;
use crate::planner::problem::model::ArcId;
use crate::planner::problem::{Batch, Problem, StayEnd};

/// A choice of stays and cleaning days.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Solution {
    /// The stays, by hole, then transplant.
    pub stays: Vec<PlacedStay>,
    /// For each of the problem's standing plants, the end chosen.
    pub standing_ends: Vec<usize>,
    /// For each of the problem's cleaning windows, the day chosen.
    pub clean_days: Vec<u32>,
}

/// One stay: a batch of the hole's kind, and one of its ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct PlacedStay {
    /// The hole.
    pub hole: usize,
    /// Index into the batches of the hole's kind.
    pub batch: usize,
    /// Index into the batch's ends.
    pub end: usize,
}

impl PlacedStay {
    /// The batch that it takes.
    #[must_use]
    pub fn batch<'p>(&self, problem: &'p Problem) -> &'p Batch {
        &problem.kinds[problem.holes[self.hole].kind].batches[self.batch]
    }

    /// Its end.
    #[must_use]
    pub fn end<'p>(&self, problem: &'p Problem) -> &'p StayEnd {
        &self.batch(problem).ends[self.end]
    }
}

impl Solution {
    /// What each want gets in each week: `[want][week]`, in thousandths of its unit.
    #[must_use]
    pub fn supply(&self, problem: &Problem) -> Vec<Vec<i64>> {
        let mut supply: Vec<Vec<i64>> = problem
            .wants
            .iter()
            .map(|w| vec![0; w.target_milli.len()])
            .collect();
        let standing = problem
            .standing
            .iter()
            .zip(&self.standing_ends)
            .map(|(s, &end)| (s.want, &s.ends[end]));
        let planted = self
            .stays
            .iter()
            .map(|s| (s.batch(problem).want, s.end(problem)));
        for (want, end) in standing.chain(planted) {
            for y in &end.yields {
                supply[want][y.week as usize] += y.milli;
            }
        }
        supply
    }

    /// What the solution costs, in thousandths.
    #[must_use]
    pub fn cost(&self, problem: &Problem) -> i64 {
        let supply = self.supply(problem);
        let short: i64 = problem
            .wants
            .iter()
            .zip(&supply)
            .flat_map(|(w, s)| {
                w.target_milli
                    .iter()
                    .zip(s)
                    .map(move |(&t, &y)| cost::week_cost(w, t, y))
            })
            .sum();
        short + problem.stay_cost_milli * i64::try_from(self.stays.len()).unwrap_or(i64::MAX)
    }
}

/// Holes planned together: of one side all alike, and next to those of the other; or one hole
/// and nobody; or holes near each other, each a side.
pub type BlockHoles = Vec<Vec<usize>>;

/// Sets of holes that are alike, and plans that suit them.
#[derive(Debug, Clone)]
pub struct FractionalSolution {
    /// The sets, each with its two sides.
    pub sets: Vec<BlockHoles>,
    /// Plans of a set, one for each side, and how many sets would have each.
    pub plans: Vec<(Vec<Vec<ArcId>>, f64)>,
}
