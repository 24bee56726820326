//! Sets of holes near each other, and how much fits into one.

use std::collections::{BTreeMap, BTreeSet};

use crate::planner::problem::Problem;

/// The most that two radii \[mm\] may sum to, for each two holes of a set; none for one and itself.
pub type PairLimits = Vec<Vec<Option<u32>>>;

/// Sets alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CliqueShape {
    /// What they look like.
    pub shape: PairLimits,
    /// The holes of each.
    pub sets: Vec<Vec<usize>>,
}

/// Pairs are planned exactly: a set is worth looking at if it has more holes than that.
const MIN_HOLES: usize = 3;
/// What fits into a set is found by trying all there is: sets are kept small.
const MAX_HOLES: usize = 6;

/// Sets of holes that are all near each other, alike ones together: for each distance at which
/// there are any, the holes parted into such sets. Of two distances only the nearer counts where
/// the sets of the further are no larger.
pub fn cliques_by_shape(problem: &Problem) -> Vec<CliqueShape> {
    let limits: BTreeSet<u32> = problem.pairs.iter().map(|p| p.limit_mm).collect();
    let between: BTreeMap<(usize, usize), u32> = problem
        .pairs
        .iter()
        .map(|p| ((p.a, p.b), p.limit_mm))
        .collect();
    let limit = |a: usize, b: usize| between.get(&(a.min(b), a.max(b))).copied();
    let widest = problem.max_radius_mm();
    let mut all = Vec::new();
    let mut fewest = usize::MAX;
    for limit_mm in limits.into_iter().filter(|&l| l < 2 * widest) {
        let sets = clique_partition(problem, limit_mm);
        if sets.len() >= fewest || sets.iter().all(|s| s.len() < MIN_HOLES) {
            continue;
        }
        fewest = sets.len();
        let mut shapes: BTreeMap<PairLimits, Vec<Vec<usize>>> = BTreeMap::new();
        for set in sets.into_iter().filter(|s| s.len() >= MIN_HOLES) {
            let row = |&a: &usize| set.iter().map(|&b| limit(a, b)).collect();
            shapes
                .entry(set.iter().map(row).collect())
                .or_default()
                .push(set);
        }
        let shapes = shapes.into_iter();
        all.extend(shapes.map(|(shape, sets)| CliqueShape { shape, sets }));
    }
    all
}

/// Parts the holes into sets within which two radii may sum to no more than `limit_mm`.
fn clique_partition(problem: &Problem, limit_mm: u32) -> Vec<Vec<usize>> {
    let count = problem.holes.len();
    let mut near: Vec<BTreeSet<usize>> = vec![BTreeSet::new(); count];
    for pair in problem.pairs.iter().filter(|p| p.limit_mm <= limit_mm) {
        near[pair.a].insert(pair.b);
        near[pair.b].insert(pair.a);
    }
    let mut is_left = vec![true; count];
    let mut sets = Vec::new();
    for first in 0..count {
        if !is_left[first] {
            continue;
        }
        let mut set = vec![first];
        let mut common = near[first].clone();
        common.retain(|&hole| is_left[hole]);
        // The next is the one that leaves the most to choose from.
        let most = |common: &BTreeSet<usize>| {
            let left = |&&hole: &&usize| near[hole].intersection(common).count();
            common.iter().rev().max_by_key(left).copied()
        };
        while let Some(next) = most(&common).filter(|_| set.len() < MAX_HOLES) {
            set.push(next);
            common = common.intersection(&near[next]).copied().collect();
        }
        for &hole in &set {
            is_left[hole] = false;
        }
        sets.push(set);
    }
    sets
}

/// From which radius a plant weighs how much, rising: 1 from `small_mm` on, and as much as the
/// holes, its own among them, in which it leaves no room for such a plant.
pub fn coefficients(shape: &PairLimits, small_mm: u32) -> Vec<(u32, i64)> {
    let limits: BTreeSet<u32> = shape.iter().flatten().flatten().copied().collect();
    let holes = shape.len();
    let beyond = limits.into_iter().filter(|&l| l >= 2 * small_mm);
    let beyond = beyond.map(|limit| {
        let shut = |l: &&Option<u32>| l.is_some_and(|l| l <= limit);
        let shut = shape.iter().flatten().filter(shut).count();
        (limit - small_mm + 1, 1 + (shut / holes) as i64)
    });
    std::iter::once((small_mm, 1)).chain(beyond).collect()
}

/// The most that the plants of a set can weigh together on one day.
pub fn rhs(shape: &PairLimits, weights: &[(u32, i64)]) -> i64 {
    max_weight_from(shape, weights, &mut Vec::new())
}

/// The same, from some radii in the first holes on.
fn max_weight_from(shape: &PairLimits, weights: &[(u32, i64)], radii: &mut Vec<u32>) -> i64 {
    let Some(limits) = shape.get(radii.len()) else {
        return 0;
    };
    let mut most = 0;
    for (radius, weight) in std::iter::once(&(0, 0)).chain(weights).copied() {
        let fits = radii.iter().zip(limits).all(|(&other, limit)| {
            other == 0 || radius == 0 || limit.is_none_or(|l| other + radius <= l)
        });
        if fits {
            radii.push(radius);
            most = most.max(weight + max_weight_from(shape, weights, radii));
            radii.pop();
        }
    }
    most
}
