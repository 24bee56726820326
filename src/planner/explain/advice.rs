//! What would help a rig that cannot give all that is wanted: the same garden with one thing
//! changed is planned again, and the difference told.

use crate::planner::effort::Effort;
use crate::planner::monitor::Monitor;
use crate::planner::parallel::map_in_parallel;
use crate::planner::problem::solution::Solution;
use crate::planner::problem::{Hole, NearbyPair, Problem};
use crate::planner::solve;

/// One thing to change.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum CandidateChange {
    /// One more tube like this one.
    Tube {
        /// Index of the tube.
        like: usize,
        /// Its holes.
        holes: usize,
    },
    /// A nursery half as large again.
    Nursery {
        /// Cells more.
        cells: u64,
    },
    /// Tubes may be scrubbed sooner or later than now.
    Cleaning {
        /// By so many days more.
        days: u32,
    },
    /// Another crop for a want.
    Crop {
        /// Index of the want.
        want: usize,
        /// The crop's name.
        crop: String,
    },
}

/// What a change brings.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Advice {
    /// The change.
    pub change: CandidateChange,
    /// By want: how much more of what is wanted is met over the shown weeks, in thousandths of
    /// its unit; less if negative.
    pub gains_milli: Vec<i64>,
    /// By want: in how many of the shown weeks it is wanted and can be had, so changed.
    pub weeks: Vec<usize>,
}

/// Rigs up to this size are planned again for advice: it has to stay a matter of moments.
const MAX_HOLES: usize = 300;
/// How much further the windows of cleaning are opened, in days.
const EXTRA_CLEAN_SLACK: u32 = 28;

/// Whether a rig is small enough for advice.
#[must_use]
pub fn is_small_enough(problem: &Problem) -> bool {
    problem.holes.len() <= MAX_HOLES
}

/// Changes to the rig and its care that may help, and the problems so changed.
#[must_use]
pub fn candidate_changes(problem: &Problem) -> Vec<(CandidateChange, Problem)> {
    let mut changes = vec![with_added_tube(problem), with_larger_nursery(problem)];
    if !problem.cleans.is_empty() {
        changes.push(with_wider_clean_windows(problem));
    }
    changes
}

/// Which of some changes would help, the most helpful first. They leave the wants in their order
/// and the weeks as they are.
#[must_use]
pub fn rank_changes(
    problem: &Problem,
    changes: Vec<(CandidateChange, Problem)>,
    threads: usize,
    watch: &Monitor<'_>,
) -> Vec<Advice> {
    let watch = watch.without_reporting();
    let all = changes.iter().map(|(_, changed)| changed);
    let all: Vec<&Problem> = std::iter::once(problem).chain(all).collect();
    let met = map_in_parallel(&all, threads, |part| {
        let plan = |problem| solve::solve_without_bound(problem, Effort::Quick, &watch);
        part.iter().map(|p| met_milli(p, &plan(p))).collect()
    });
    let (now, changed) = met.split_first().expect("the problem itself is planned");
    let tried = changes
        .into_iter()
        .zip(changed)
        .map(|((change, changed), then)| {
            let gains_milli = then.iter().zip(now).map(|(then, now)| then - now).collect();
            Advice {
                change,
                gains_milli,
                weeks: counted_weeks(&changed),
            }
        });
    let mut helpful: Vec<Advice> = tried
        .filter(|a| total_gain_harvests(problem, a) > 0)
        .collect();
    helpful.sort_by_key(|a| -total_gain_harvests(problem, a));
    if watch.is_stopped() {
        Vec::new()
    } else {
        helpful
    }
}

/// All gains of an advice together, in whole harvests.
fn total_gain_harvests(problem: &Problem, advice: &Advice) -> i64 {
    let wants = problem.wants.iter().zip(&advice.gains_milli);
    wants.map(|(w, gain)| gain / w.harvest_milli).sum()
}

/// In how many of the shown weeks each want counts.
fn counted_weeks(problem: &Problem) -> Vec<usize> {
    let shown = problem.reported_weeks();
    let counted = |weeks: &[i64]| weeks.iter().take(shown).filter(|&&t| t > 0).count();
    let wants = problem.wants.iter();
    wants.map(|want| counted(&want.target_milli)).collect()
}

/// How much of each want is met over the shown weeks.
fn met_milli(problem: &Problem, solution: &Solution) -> Vec<i64> {
    let shown = problem.reported_weeks();
    let supply = solution.supply(problem);
    let wants = problem.wants.iter().zip(&supply);
    wants
        .map(|(want, supply)| {
            let weeks = want.target_milli.iter().zip(supply).take(shown);
            weeks.map(|(&target, &got)| target.min(got)).sum()
        })
        .collect()
}

/// One more tube like the largest, out of reach of the others.
fn with_added_tube(problem: &Problem) -> (CandidateChange, Problem) {
    let tubes = problem.holes.iter().map(|h| h.tube + 1).max().unwrap_or(0);
    let size = |tube: usize| problem.holes.iter().filter(|h| h.tube == tube).count();
    let like = (0..tubes).rev().max_by_key(|&t| size(t)).unwrap_or(0);
    let old: Vec<usize> = (0..problem.holes.len())
        .filter(|&h| problem.holes[h].tube == like)
        .collect();
    let mut changed = problem.clone();
    let first = changed.holes.len();
    let place = |hole: usize| old.iter().position(|&h| h == hole).map(|n| first + n);
    for &h in &old {
        let hole = &problem.holes[h];
        changed.holes.push(Hole {
            id: format!("{} again", hole.id),
            tube: tubes,
            ..hole.clone()
        });
    }
    for pair in &problem.pairs {
        if let (Some(a), Some(b)) = (place(pair.a), place(pair.b)) {
            changed.pairs.push(NearbyPair { a, b, ..*pair });
        }
    }
    for clean in problem.cleans.iter().filter(|c| c.tube == like) {
        let mut clean = *clean;
        clean.tube = tubes;
        changed.cleans.push(clean);
    }
    let holes = old.len();
    (CandidateChange::Tube { like, holes }, changed)
}

fn with_larger_nursery(problem: &Problem) -> (CandidateChange, Problem) {
    let cells = (problem.nursery_cells_milli / 2000).max(1);
    let mut changed = problem.clone();
    changed.nursery_cells_milli += cells * 1000;
    (CandidateChange::Nursery { cells }, changed)
}

fn with_wider_clean_windows(problem: &Problem) -> (CandidateChange, Problem) {
    let mut changed = problem.clone();
    let last = problem.days + problem.tail - 1;
    for clean in &mut changed.cleans {
        let [from, to] = clean.days;
        clean.days = [
            from.saturating_sub(EXTRA_CLEAN_SLACK),
            (to + EXTRA_CLEAN_SLACK).min(last),
        ];
    }
    (
        CandidateChange::Cleaning {
            days: EXTRA_CLEAN_SLACK,
        },
        changed,
    )
}
