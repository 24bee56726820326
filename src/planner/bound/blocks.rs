//! Holes in small sets that are planned together, and which sets are alike.
//!
//! Neighbours are matched in pairs. A hole left over, as where a tube has an odd number, takes the
//! pairs next to it into a run: one hole, its neighbour, the next, and so on. Where every other
//! hole of a run is alike, these are best planned alike, so that a run is no harder than a pair.
//! Where they are not (something stands in some), each hole is planned with both its
//! neighbours, and counts partly with the one and partly with the other. So do the holes of a
//! triangle.
//!
//! Where plants keep others out of more than one hole, sets of a few holes can be planned together
//! ([`crate::planner::bound::block_dp`]), as far as little enough can stand in them.

use std::borrow::Cow;
use std::collections::BTreeMap;

use crate::planner::bound::block_dp::{JointBlock, MAX_HOLES};
use crate::planner::bound::packing_cuts::LocatedStay;
use crate::planner::problem::model::{ArcId, Model, as_u32};
use crate::planner::problem::solution::{BlockHoles, FractionalSolution};
use crate::planner::search::pair::{self, HoleOptions, JointPath, JointProblem, Workspace};

/// The fewest holes that are more than a pair.
const MIN_CLUSTER_HOLES: usize = 3;
/// The most edges by which it is written down what can stand in sets; half of it for one.
const MAX_EDGES: usize = 2_000_000;

/// How often something counts: so many times one of so many parts.
pub type Multiplicity = (i64, i64);

/// Sets of holes that are alike.
pub(crate) struct Block {
    /// The sets.
    pub sets: Vec<BlockHoles>,
    /// The kind of each side's holes.
    kinds: Vec<usize>,
    /// How often each side counts: for all of its holes, less what counts in other sets.
    multiplicities: Vec<Multiplicity>,
    /// What the first side's stays rule out on the second's, and the other way round.
    conflicts: Vec<u32>,
    clean_windows: Vec<(u32, u32)>,
    /// How the holes of a set are planned together, if they are more than a pair.
    joint: Option<JointBlock>,
}

impl Block {
    /// How many sets there are.
    pub fn count(&self) -> i64 {
        i64::try_from(self.sets.len()).unwrap_or(i64::MAX)
    }

    pub fn to_fractional(&self) -> FractionalSolution {
        FractionalSolution {
            sets: self.sets.clone(),
            plans: Vec::new(),
        }
    }

    /// The stays of a plan of such sets, and how often each counts, of so many sets; of each kind of
    /// hole its class and the kinds of crowded sets that it is in are known.
    pub fn stays<'m>(
        &self,
        model: &'m Model<'m>,
        kinds: &[(usize, u32)],
        plan: &[Vec<ArcId>],
        sets: f64,
    ) -> impl Iterator<Item = (LocatedStay<'m>, f64)> {
        let sides = self.kinds.iter().zip(&self.multiplicities).zip(plan);
        sides.flat_map(move |((&kind, &(times, parts)), stays)| {
            let (class, in_sets) = kinds[kind];
            let arcs = &model.classes[class].arcs;
            let often = sets * times as f64 / parts as f64;
            let stay = move |&a: &ArcId| {
                let arc = &arcs[a as usize];
                (
                    LocatedStay {
                        class,
                        set_kinds: in_sets,
                        arc,
                    },
                    often,
                )
            };
            stays.iter().map(stay)
        })
    }

    /// Plans one of the sets by itself, exactly but for parts of the smallest unit of cost, which
    /// are rounded down; `lanes` are by kind.
    pub fn plan(
        &self,
        model: &Model<'_>,
        lanes: &[HoleOptions],
        space: &mut Workspace,
        best: &mut JointPath,
    ) {
        if let Some(together) = &self.joint {
            let lanes: Vec<&HoleOptions> = self.kinds.iter().map(|&kind| &lanes[kind]).collect();
            return together.plan(&lanes, best);
        }
        let tables = self.conflicts.iter();
        let tables: Vec<_> = tables.map(|&t| &model.conflicts[t as usize]).collect();
        let lanes: Vec<Cow<'_, HoleOptions>> = self
            .kinds
            .iter()
            .zip(&self.multiplicities)
            .map(|(&kind, &often)| match often {
                (1, 1) => Cow::Borrowed(&lanes[kind]),
                _ => Cow::Owned(lanes[kind].scaled(often)),
            })
            .collect();
        let task = JointProblem {
            holes: &lanes.iter().map(AsRef::as_ref).collect::<Vec<_>>(),
            conflicts: &tables,
            clean_windows: &self.clean_windows,
            low: 0,
            high: as_u32(model.problem.workdays.len()),
        };
        pair::solve(&task, space, best);
    }
}

/// Which holes are planned together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum BlockShape {
    /// Neighbours.
    Pairs,
    /// Up to so many, where they are near each other; only with plants for one want, if one is
    /// given.
    Cluster(usize, Option<usize>),
}

/// What groups have in common: the kinds of their holes and how often each counts, what these rule
/// out in each other, and when they are scrubbed.
type BlockKey = (Vec<usize>, Vec<Multiplicity>, Vec<u32>, Vec<(u32, u32)>);

/// What can stand in sets that were looked at; nothing where that is too much to be written down.
type BlockTables = BTreeMap<BlockKey, Option<JointBlock>>;

/// Neighbours in pairs, as [`groups`] tells.
pub(super) fn pair_blocks(model: &Model<'_>, kind_of: &[usize]) -> Vec<Block> {
    build_blocks(model, kind_of, BlockShape::Pairs)
}

/// Holes near each other in sets of up to three, of up to four, and so on, as long as some can be
/// as large, as [`groups`] tells; only with plants for one want, if one is given.
pub(super) fn cluster_blocks<'m>(
    model: &'m Model<'m>,
    kind_of: Vec<usize>,
    want: Option<usize>,
) -> impl Iterator<Item = Vec<Block>> {
    let sets = (MIN_CLUSTER_HOLES..=MAX_HOLES).map(move |most| {
        (
            most,
            build_blocks(model, &kind_of, BlockShape::Cluster(most, want)),
        )
    });
    sets.take_while(|(most, groups)| groups.iter().any(|g| g.kinds.len() == *most))
        .map(|(_, groups)| groups)
}

/// The sets of holes of a problem, alike ones together, given which holes are of one kind: those of
/// a kind are of one class. Every hole counts once in all.
fn build_blocks(model: &Model<'_>, kind_of: &[usize], set: BlockShape) -> Vec<Block> {
    let mut known = BlockTables::new();
    let mut keys: BTreeMap<BlockKey, Vec<BlockHoles>> = BTreeMap::new();
    for (sides, often) in Partition::of(model, kind_of, set, &mut known).sets {
        let key = block_key(model, kind_of, &sides, often);
        keys.entry(key).or_default().push(sides);
    }
    keys.into_iter()
        .map(|(key, mut sets)| {
            let together = known.remove(&key).flatten();
            let (kinds, often, tables, cleans) = key;
            sets.sort_unstable();
            Block {
                sets,
                kinds,
                multiplicities: often,
                conflicts: tables,
                clean_windows: cleans,
                joint: together,
            }
        })
        .collect()
}

fn block_key(
    model: &Model<'_>,
    kind_of: &[usize],
    sides: &BlockHoles,
    often: Vec<Multiplicity>,
) -> BlockKey {
    let first: Vec<usize> = sides.iter().map(|s| s[0]).collect();
    let kinds = first.iter().map(|&h| kind_of[h]).collect();
    let mut found = Vec::new();
    for (n, &b) in first.iter().enumerate() {
        for &a in &first[..n] {
            let both = conflict_tables(model, a, b);
            match both {
                [None, None] if first.len() > 2 => found.extend([u32::MAX; 2]),
                _ => found.extend(both.into_iter().flatten()),
            }
        }
    }
    (kinds, often, found, clean_windows(model, sides))
}

/// What one hole's stays rule out in another, and the other way round.
fn conflict_tables(model: &Model<'_>, a: usize, b: usize) -> [Option<u32>; 2] {
    [model.conflict_table(a, b), model.conflict_table(b, a)]
}

/// Sets in the making.
struct Partition<'m> {
    model: &'m Model<'m>,
    kind_of: &'m [usize],
    /// The neighbours of each hole, the nearest first.
    neighbours: Vec<Vec<usize>>,
    /// The hole that a hole makes a pair with.
    partner: Vec<Option<usize>>,
    /// Whether a hole is in a triangle or a run.
    is_placed: Vec<bool>,
    sets: Vec<(BlockHoles, Vec<Multiplicity>)>,
}

impl<'m> Partition<'m> {
    /// Matches holes with near neighbours, the nearest first; then finds a place for those that
    /// are left.
    fn of(
        model: &'m Model<'m>,
        kind_of: &'m [usize],
        set: BlockShape,
        known: &mut BlockTables,
    ) -> Self {
        let problem = model.problem;
        let mut near: Vec<usize> = (0..problem.pairs.len()).collect();
        near.sort_by_key(|&n| {
            let p = &problem.pairs[n];
            (p.limit_mm, !p.side_by_side, p.a, p.b)
        });
        let count = problem.holes.len();
        let mut sets = Self {
            model,
            kind_of,
            neighbours: vec![Vec::new(); count],
            partner: vec![None; count],
            is_placed: vec![false; count],
            sets: Vec::new(),
        };
        if let BlockShape::Cluster(most, want) = set {
            sets.join_largest(most, want, known);
        }
        let limit = |n: usize| problem.pairs[n].limit_mm;
        for alike in near.chunk_by(|&m, &n| limit(m) == limit(n)) {
            for &n in alike {
                let (a, b) = (problem.pairs[n].a, problem.pairs[n].b);
                sets.neighbours[a].push(b);
                sets.neighbours[b].push(a);
                if sets.is_unassigned(a) && sets.is_unassigned(b) {
                    (sets.partner[a], sets.partner[b]) = (Some(b), Some(a));
                }
            }
            // A triangle of near ones is closer than a pair of the next.
            for &n in alike {
                for hole in [problem.pairs[n].a, problem.pairs[n].b] {
                    if sets.is_unassigned(hole) {
                        sets.join_triangle(hole);
                    }
                }
            }
        }
        for hole in 0..count {
            if sets.is_unassigned(hole) {
                sets.join_run(hole);
            }
        }
        for a in 0..count {
            if let Some(b) = sets.partner[a].filter(|&b| a < b) {
                sets.sets.push((vec![vec![a], vec![b]], vec![(1, 1); 2]));
            }
        }
        sets
    }

    /// Whether a hole has no place yet.
    fn is_unassigned(&self, hole: usize) -> bool {
        self.partner[hole].is_none() && !self.is_placed[hole]
    }

    /// Puts holes that are near each other together, the more the better, as far as what can stand
    /// in them can be written down.
    fn join_largest(&mut self, most: usize, want: Option<usize>, known: &mut BlockTables) {
        let problem = self.model.problem;
        let widest = 2 * problem.max_radius_mm();
        let mut near = vec![Vec::new(); problem.holes.len()];
        let one_loop = |a: usize, b: usize| problem.holes[a].r#loop == problem.holes[b].r#loop;
        for pair in problem.pairs.iter().filter(|p| one_loop(p.a, p.b)) {
            let lacks = widest.saturating_sub(pair.limit_mm);
            near[pair.a].push((pair.b, lacks));
            near[pair.b].push((pair.a, lacks));
        }
        let mut left = Vec::new();
        let mut edges = MAX_EDGES;
        for most in (MIN_CLUSTER_HOLES..=most).rev() {
            let mut is_free: Vec<bool> = self.is_placed.iter().map(|placed| !placed).collect();
            for first in 0..is_free.len() {
                if !is_free[first] {
                    continue;
                }
                let set = grow_cluster(first, most, &near, &is_free);
                if set.len() < most {
                    continue;
                }
                set.iter().for_each(|&hole| is_free[hole] = false);
                left.push(set);
            }
            for set in left.drain(..) {
                let sides: BlockHoles = set.iter().map(|&hole| vec![hole]).collect();
                let often = vec![(1, 1); set.len()];
                let key = block_key(self.model, self.kind_of, &sides, often.clone());
                let cleans = key.3.clone();
                let found = known.entry(key).or_insert_with(|| {
                    let most = edges.min(MAX_EDGES / 2);
                    let found = JointBlock::build(self.model, &set, &cleans, want, most);
                    edges -= found.as_ref().map_or(most, JointBlock::edge_count);
                    found
                });
                if found.is_some() {
                    self.sets.push((sides, often));
                    self.mark_placed(&set);
                }
            }
        }
    }

    /// Makes a triangle with a pair next to a hole, if there is one.
    fn join_triangle(&mut self, hole: usize) {
        if let Some(corners) = self.find_triangle(hole) {
            for n in 0..3 {
                let edge = [corners[n], corners[(n + 1) % 3]];
                self.sets
                    .push((edge.map(|h| vec![h]).into(), vec![(1, 2); 2]));
            }
            self.mark_placed(&corners);
        }
    }

    /// Makes a run with pairs next to a hole that has no partner, or leaves it alone.
    fn join_run(&mut self, hole: usize) {
        let run = self.find_run(hole);
        self.mark_placed(&run);
        let every_other = |first: usize| run.iter().copied().skip(first).step_by(2).collect();
        let [more, fewer] = [run.len().div_ceil(2), run.len() / 2].map(as_i64);
        if run.len() == 1 {
            self.sets.push((vec![run], vec![(1, 1)]));
            return;
        }
        if self.is_alternating(&run) {
            let sides = vec![every_other(0), every_other(1)];
            self.sets.push((sides, vec![(more, 1), (fewer, 1)]));
            return;
        }
        // Where every other hole is one of k + 1 and those between are k, the edges count k, 1,
        // k - 1, 2, ..., 1, k parts of k (k + 1), times k + 1 for the one side and k for the
        // other: then each hole counts once in all, and the sides of each edge are to each other
        // as those of the whole run.
        for (n, edge) in run.windows(2).enumerate() {
            let parts = if n.is_multiple_of(2) {
                fewer - as_i64(n / 2)
            } else {
                as_i64(n / 2) + 1
            };
            let (a, b) = ((parts, fewer), (parts, more));
            let often = if n.is_multiple_of(2) { [a, b] } else { [b, a] };
            let sides = edge.iter().map(|&h| vec![h]).collect();
            self.sets.push((sides, often.into()));
        }
    }

    /// Holes are in a set of their own, not in pairs.
    fn mark_placed(&mut self, holes: &[usize]) {
        for &hole in holes {
            self.partner[hole] = None;
            self.is_placed[hole] = true;
        }
    }

    /// A hole and a pair that are all neighbours.
    fn find_triangle(&self, hole: usize) -> Option<[usize; 3]> {
        let beside = &self.neighbours[hole];
        let mut pairs = beside.iter().filter_map(|&a| Some((a, self.partner[a]?)));
        let (a, b) = pairs.find(|(_, b)| beside.contains(b))?;
        Some([hole, a, b])
    }

    /// A hole, and pairs one after another beside it and each other, in one tube but perhaps for
    /// the first hole.
    fn find_run(&self, hole: usize) -> Vec<usize> {
        let tube = |hole: usize| self.model.problem.holes[hole].tube;
        let mut run = vec![hole];
        let mut last = hole;
        loop {
            let mut pairs = self.neighbours[last]
                .iter()
                .filter_map(|&a| Some((a, self.partner[a]?)))
                .filter(|&(a, b)| tube(a) == tube(b) && !run.contains(&a));
            let next = match run.get(1) {
                None => pairs.min_by_key(|&(a, _)| tube(a) != tube(hole)),
                Some(&first) => pairs.find(|&(a, _)| tube(a) == tube(first)),
            };
            let Some((a, b)) = next else {
                return run;
            };
            run.extend([a, b]);
            last = b;
        }
    }

    /// Whether every other hole of a run is alike, also to its neighbours.
    fn is_alternating(&self, run: &[usize]) -> bool {
        let kind = |n: usize| {
            let (a, b) = (run[n], run[n + 1]);
            let (a, b) = if n.is_multiple_of(2) { (a, b) } else { (b, a) };
            let kinds = [a, b].map(|h| self.kind_of[h]);
            (kinds, conflict_tables(self.model, a, b))
        };
        (1..run.len().saturating_sub(1)).all(|n| kind(n) == kind(0))
    }
}

/// A hole and free ones near it, one after another that with the least room beside those before;
/// of each hole is known which are how near.
fn grow_cluster(
    first: usize,
    most: usize,
    near: &[Vec<(usize, u32)>],
    is_free: &[bool],
) -> Vec<usize> {
    let mut set = vec![first];
    let mut lacking: BTreeMap<usize, u32> = BTreeMap::new();
    while set.len() < most {
        let last = set[set.len() - 1];
        for &(hole, lacks) in near[last].iter().filter(|n| is_free[n.0] && n.1 > 0) {
            *lacking.entry(hole).or_default() += lacks;
        }
        set.iter().for_each(|hole| {
            lacking.remove(hole);
        });
        let next = lacking.iter().rev().max_by_key(|l| l.1);
        let Some((&next, _)) = next else {
            break;
        };
        set.push(next);
    }
    set.sort_unstable();
    set
}

fn as_i64(count: usize) -> i64 {
    i64::try_from(count).unwrap_or(i64::MAX)
}

/// The windows in which holes are scrubbed together, as positions among the workdays: none where
/// they are of different tubes, which need not be scrubbed on one day.
///
/// None either where holes stay empty between stays. Then one hole may be planted again on the
/// day of the scrubbing and the other be emptied on it, and never are both free at one position:
/// leaving the scrubbing out makes the bound looser, not wrong.
fn clean_windows(model: &Model<'_>, sides: &BlockHoles) -> Vec<(u32, u32)> {
    let problem = model.problem;
    let mut tubes = sides.iter().flatten().map(|&h| problem.holes[h].tube);
    let Some(tube) = tubes.next() else {
        return Vec::new();
    };
    if problem.changeover > 0 || tubes.any(|other| other != tube) {
        return Vec::new();
    }
    let mut windows: Vec<(u32, u32)> = model.cleans_of[tube]
        .iter()
        .map(|&c| {
            let [first, last] = problem.cleans[c].days;
            let from = problem.workdays.partition_point(|&d| d < first);
            let to = problem.workdays.partition_point(|&d| d <= last);
            (as_u32(from), as_u32(to.saturating_sub(1)))
        })
        .collect();
    windows.sort_unstable();
    windows
}
