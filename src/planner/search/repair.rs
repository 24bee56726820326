//! Filling holes that were taken out.

use rand::RngExt;

use crate::planner::search::Search;
use crate::planner::search::pair::{self, JointProblem};
use crate::planner::search::path::{Gap, PathFinder};

/// How holes are filled.
#[derive(Debug, Clone, Copy)]
enum Repair {
    Pairwise,
    Alternating,
    Sequential,
}

/// All ways, in their own order.
const REPAIRS: [Repair; 3] = [Repair::Pairwise, Repair::Alternating, Repair::Sequential];
/// How often each is drawn to begin with.
pub(super) const REPAIR_WEIGHTS: [f64; 3] = [4.0, 0.5, 4.0];

/// About what the best path of one hole takes to find, against the joint plan of two.
const WORK_PER_PATH: usize = 2;
const WORK_PER_PAIR: usize = 8;

impl Search<'_> {
    /// Fills the holes that were taken out: two neighbours at a time, a whole stretch in
    /// alternation, or one by one.
    pub(super) fn repair(&mut self, holes: &mut [usize], low: u32, high: u32) {
        let way = match REPAIRS[self.repair_weights.draw(&mut self.rng)] {
            Repair::Pairwise if holes.len() < 2 => Repair::Sequential,
            Repair::Alternating if holes.len() < 3 => Repair::Sequential,
            way => way,
        };
        if holes.len() > 1 {
            self.move_record.repair = Some(way as usize);
        }
        match way {
            Repair::Pairwise => {
                let first = self.rng.random_range(0..2);
                let (before, rest) = holes.split_at(first);
                for pair in rest.chunks(2) {
                    match *pair {
                        [a, b] if self.fill_pair(&[a], &[b], low, high) => {}
                        _ => pair
                            .iter()
                            .for_each(|&h| self.repair_hole(h, low, high, false)),
                    }
                }
                before
                    .iter()
                    .for_each(|&h| self.repair_hole(h, low, high, false));
            }
            Repair::Alternating => {
                let odd: Vec<usize> = holes.iter().copied().step_by(2).collect();
                let even: Vec<usize> = holes.iter().copied().skip(1).step_by(2).collect();
                self.fill_pair(&odd, &even, low, high);
                // All alike is seldom best: each may now change a little.
                self.shuffle(holes);
                for &hole in &*holes {
                    self.state.remove(hole, low, high, false);
                    self.repair_hole(hole, low, high, false);
                }
            }
            Repair::Sequential => {
                self.shuffle(holes);
                let alone = holes.len() == 1;
                for &hole in &*holes {
                    self.repair_hole(hole, low, high, alone);
                }
            }
        }
    }

    fn shuffle(&mut self, holes: &mut [usize]) {
        for n in (1..holes.len()).rev() {
            holes.swap(n, self.rng.random_range(0..=n));
        }
    }

    /// Fills two sets of holes by the best joint plan: all of one set alike, all of the other
    /// alike. False, and nothing done, where these holes are not made for it.
    fn fill_pair(&mut self, odd: &[usize], even: &[usize], low: u32, high: u32) -> bool {
        let model = self.state.model;
        let table = |from: usize, to: usize| model.conflict_table(from, to);
        let alike = |set: &[usize]| {
            set.iter()
                .all(|&h| model.class_of[h] == model.class_of[set[0]])
                && set
                    .iter()
                    .all(|&a| set.iter().all(|&b| table(a, b).is_none()))
        };
        let (Some(a), Some(b)) = (table(odd[0], even[0]), table(even[0], odd[0])) else {
            return false;
        };
        let near = |x: usize, y: usize| table(x, y).is_none_or(|t| t == a);
        if !alike(odd) || !alike(even) || !odd.iter().all(|&x| even.iter().all(|&y| near(x, y))) {
            return false;
        }
        let mut gaps = [odd, even].map(|set| {
            let gaps = set
                .iter()
                .map(|&h| PathFinder::gap(&self.state, h, low, high));
            gaps.reduce(Gap::intersection)
                .unwrap_or(Gap { from: 0, to: 0 })
        });
        for (set, (gap, lane)) in [odd, even]
            .iter()
            .zip(gaps.iter_mut().zip(&mut self.hole_options))
        {
            self.finder.price_options(&mut self.state, set, *gap, lane);
            // An empty gap must not stretch the other's.
            if gap.from >= gap.to {
                *gap = Gap {
                    from: u32::MAX,
                    to: 0,
                };
            }
        }
        let (from, to) = (gaps[0].from.min(gaps[1].from), gaps[0].to.max(gaps[1].to));
        if from >= to {
            return true;
        }
        let task = JointProblem {
            holes: &self.hole_options.each_ref(),
            conflicts: &[&model.conflicts[a as usize], &model.conflicts[b as usize]],
            clean_windows: &[],
            low: from,
            high: to,
        };
        self.move_record.work += WORK_PER_PAIR;
        pair::solve(&task, &mut self.workspace, &mut self.joint_path);
        for (set, stays) in [odd, even].iter().zip(&self.joint_path.stays) {
            for &hole in *set {
                self.state.insert(hole, stays);
            }
        }
        true
    }

    pub(super) fn repair_hole(&mut self, hole: usize, low: u32, high: u32, alone: bool) {
        let standing = alone && {
            let class = self.state.model.class(hole);
            !class.standing.is_empty()
                && self.state.paths[hole]
                    .first()
                    .is_none_or(|&a| !class.arcs[a as usize].stands)
        };
        self.move_record.work += WORK_PER_PATH;
        let gap = PathFinder::gap(&self.state, hole, low, high);
        let mut path = std::mem::take(&mut self.path);
        self.finder
            .best_path(&mut self.state, hole, gap, standing, &mut path);
        self.state.insert(hole, &path);
        self.path = path;
    }
}
