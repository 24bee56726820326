//! One hole's best plan with everything else as it stands: a shortest path over workdays,
//! solved exactly.
//!
//! Exact as long as no two stays of the path meet in a want-week or in the nursery: the
//! search prices such cases truly when it accepts.

use crate::planner::problem::model::{Arc, ArcId, HoleClass, as_u32};
use crate::planner::search::pair::{HoleOptions, PricedStay};
use crate::planner::search::state::State;

/// A part of a hole's plan: positions among the workdays.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Gap {
    /// First position at which a stay may start.
    pub from: u32,
    /// Position by which the hole must be free again.
    pub to: u32,
}

/// Stays that a joint plan may choose from on one workday. Among many crops most are far from
/// the best that day, and the joint plan's work grows with the square.
const MAX_OPTIONS_PER_DAY: usize = 6;

/// Keeps the options from `first` on that are worth most for each workday they take.
fn keep_best(options: &mut Vec<PricedStay>, first: usize) {
    let here = &mut options[first..];
    if here.len() > MAX_OPTIONS_PER_DAY {
        // Costs are negative: a / x < b / y where a * y < b * x.
        here.sort_unstable_by(|a, b| {
            let (x, y) = (i64::from(a.to - a.from), i64::from(b.to - b.from));
            (a.cost * y, a.arc).cmp(&(b.cost * x, b.arc))
        });
        options.truncate(first + MAX_OPTIONS_PER_DAY);
    }
}

impl Gap {
    /// What two gaps have in common.
    #[must_use]
    pub fn intersection(self, other: Self) -> Self {
        Self {
            from: self.from.max(other.from),
            to: self.to.min(other.to),
        }
    }
}

/// Finds best paths; keeps its working space between calls.
#[derive(Debug, Default)]
pub struct PathFinder {
    blocked: Vec<u64>,
    cost: Vec<i64>,
    choice: Vec<ArcId>,
    next_full_days: Vec<Vec<i32>>,
    cell_sizes_milli: Vec<u64>,
    clean_days: Vec<u32>,
    checks_seedling_and_solution: bool,
    /// Crops, by index, that are not to be planted for now; empty if all may be.
    pub excluded_crops: Vec<bool>,
}

/// No stay starts here: the hole waits for the next workday.
const NO_ARC: ArcId = ArcId::MAX;

impl PathFinder {
    /// The gap in a hole's path around the days `low..high`, which its stays were just taken
    /// out of.
    #[must_use]
    pub fn gap(state: &State<'_>, hole: usize, low: u32, high: u32) -> Gap {
        let workdays = &state.model.problem.workdays;
        let open_from = state.unfrozen_from[hole];
        let mut gap = Gap {
            from: as_u32(workdays.partition_point(|&d| d < open_from)),
            to: as_u32(workdays.len()),
        };
        for arc in state.stays(hole) {
            if arc.removal <= low || arc.stands || arc.transplant < open_from {
                gap.from = gap.from.max(arc.to);
            } else if arc.transplant >= high {
                gap.to = arc.from;
                break;
            }
        }
        gap
    }

    /// The best stays to fill a gap with, all else as it stands; and what they change in cost.
    ///
    /// `standing`: the gap begins with what stands in the hole, whose end is chosen too.
    pub fn best_path(
        &mut self,
        state: &mut State<'_>,
        hole: usize,
        gap: Gap,
        standing: bool,
        path: &mut Vec<ArcId>,
    ) -> i64 {
        path.clear();
        if gap.from >= gap.to && !standing {
            return 0;
        }
        state.refresh_deltas();
        let state = &*state;
        let class = state.model.class(hole);
        self.prepare(state, &[hole], gap);
        let stay_cost = state.model.problem.stay_cost_milli;
        let delta = state.deltas();
        let promises = state.change_penalties_of(hole);

        let base = gap.from as usize;
        let span = gap.to as usize - base;
        self.cost.clear();
        self.cost.resize(span + 1, 0);
        self.choice.clear();
        self.choice.resize(span + 1, NO_ARC);
        for n in (base..gap.to as usize).rev() {
            let mut best = self.cost[n + 1 - base];
            let mut choice = NO_ARC;
            let is_here = |&&(a, _): &&(ArcId, i64)| class.arcs[a as usize].from as usize == n;
            let (promised, price) = promises
                .iter()
                .find(is_here)
                .copied()
                .unwrap_or((NO_ARC, 0));
            // What the stay before gives, as the next may go on from it.
            let mut gains = 0;
            for a in class.starts[n]..class.starts[n + 1] {
                let glance = class.hot_arcs[a as usize];
                let more = glance.more as usize..glance.more as usize + glance.more_len as usize;
                let more: i64 = class.items[more].iter().map(|&i| delta[i as usize]).sum();
                gains = if glance.extends_previous {
                    gains + more
                } else {
                    more
                };
                let alone = stay_cost + gains - if a == promised { price } else { 0 };
                if alone >= 0 || self.is_blocked(a) || glance.to > gap.to {
                    continue;
                }
                let cost = alone + self.cost[glance.to as usize - base];
                if cost < best && self.is_admissible(state, hole, &class.arcs[a as usize]) {
                    best = cost;
                    choice = a;
                }
            }
            self.cost[n - base] = best;
            self.choice[n - base] = choice;
        }
        let (mut total, mut n) = (self.cost[0], gap.from);
        if standing && let Some((a, cost)) = self.best_standing(state, hole, gap) {
            path.push(a);
            (total, n) = (cost, class.arcs[a as usize].to);
        }
        while n < gap.to {
            match self.choice[n as usize - base] {
                NO_ARC => n += 1,
                a => {
                    path.push(a);
                    n = class.arcs[a as usize].to;
                }
            }
        }
        total
    }

    /// The best end of what stands in a hole, with the best that can follow it.
    fn best_standing(&self, state: &State<'_>, hole: usize, gap: Gap) -> Option<(ArcId, i64)> {
        let class = state.model.class(hole);
        let delta = state.deltas();
        class
            .standing
            .clone()
            .filter(|&a| !self.is_blocked(a))
            .filter_map(|a| {
                let arc = &class.arcs[a as usize];
                let items = &class.items[arc.items.start as usize..arc.items.end as usize];
                let gains: i64 = items.iter().map(|&i| delta[i as usize]).sum();
                let fits = arc.to <= gap.to && self.is_admissible(state, hole, arc);
                fits.then(|| (a, gains + self.cost[(arc.to - gap.from) as usize]))
            })
            .min_by_key(|&(_, cost)| cost)
    }

    /// The stays with which a gap can be filled in each of several holes of one class alike,
    /// each priced as if all of them took it.
    pub fn price_options(
        &mut self,
        state: &mut State<'_>,
        holes: &[usize],
        gap: Gap,
        lane: &mut HoleOptions,
    ) {
        lane.options.clear();
        lane.standing.clear();
        if gap.from >= gap.to {
            return;
        }
        state.refresh_deltas();
        let state = &*state;
        let class = state.model.class(holes[0]);
        self.prepare(state, holes, gap);
        let stay_cost = state.model.problem.stay_cost_milli;
        let copies = i64::try_from(holes.len()).unwrap_or(1);
        for n in gap.from as usize..gap.to as usize {
            let first = lane.options.len();
            for a in class.starts[n]..class.starts[n + 1] {
                if self.is_blocked(a) || class.hot_arcs[a as usize].to > gap.to {
                    continue;
                }
                let arc = &class.arcs[a as usize];
                let items = &class.items[arc.items.start as usize..arc.items.end as usize];
                let gains: i64 = items.iter().map(|&i| state.delta_of(i, copies)).sum();
                let promised: i64 = holes.iter().map(|&h| state.change_penalty(h, a)).sum();
                let cost = stay_cost + (gains - promised) / copies;
                if cost < 0 && self.is_admissible(state, holes[0], arc) {
                    lane.options.push(PricedStay {
                        arc: a,
                        from: arc.from,
                        to: arc.to,
                        cost,
                    });
                }
            }
            keep_best(&mut lane.options, first);
        }
    }

    /// Looks at what stands around holes, before their gaps are filled.
    fn prepare(&mut self, state: &State<'_>, holes: &[usize], gap: Gap) {
        let class = state.model.class(holes[0]);
        self.blocked.clear();
        self.blocked.resize(class.arcs.len().div_ceil(64), 0);
        for &hole in holes {
            self.block_conflicts(state, hole, class, gap);
        }
        self.find_full_days(state, class, gap);
        let problem = state.model.problem;
        self.clean_days.clear();
        for &hole in holes {
            let cleans = &state.model.cleans_of[problem.holes[hole].tube];
            self.clean_days
                .extend(cleans.iter().map(|&c| state.clean_days[c]));
        }
        let shares = state.model.incompatible.iter().all(Vec::is_empty);
        self.checks_seedling_and_solution = !shares || !problem.lots.is_empty();
    }

    fn is_blocked(&self, arc: ArcId) -> bool {
        self.blocked[arc as usize / 64] >> (arc % 64) & 1 == 1
    }

    /// Whether cleaning days, the nursery, seedlings on hand and the loop's solution allow a
    /// stay.
    fn is_admissible(&self, state: &State<'_>, hole: usize, arc: &Arc) -> bool {
        (arc.stands || arc.sow >= state.min_sow_day)
            && !self.clean_days.iter().any(|&day| arc.stands_over(day))
            && !self.overfills_nursery(arc.cells_milli, arc.sow, arc.transplant, state.first_day())
            && (!self.checks_seedling_and_solution
                || self.has_seedling_and_solution(state, hole, arc))
    }

    /// Whether a stay has its seedling, and the solution that it asks for; and is not barred.
    fn has_seedling_and_solution(&self, state: &State<'_>, hole: usize, arc: &Arc) -> bool {
        (arc.stands || self.excluded_crops.get(arc.crop as usize) != Some(&true))
            && !state.is_incompatible(hole, arc)
            && arc.lot.is_none_or(|l| state.remaining_seedlings(l) > 0)
    }

    /// Marks the stays that neighbours rule out.
    fn block_conflicts(&mut self, state: &State<'_>, hole: usize, class: &HoleClass, gap: Gap) {
        let model = state.model;
        let workdays = &model.problem.workdays;
        let apart = model.problem.neighbours_apart;
        let low = workdays.get(gap.from as usize).copied().unwrap_or(u32::MAX);
        let high = workdays.get(gap.to as usize).copied().unwrap_or(u32::MAX);
        let first = class.starts[gap.from as usize] as usize / 64;
        let last = (class.starts[gap.to as usize] as usize).div_ceil(64);
        // What stands in the hole is at the end of the arcs.
        let (first, last) = if class.standing.is_empty() {
            (first, last)
        } else {
            (0, self.blocked.len())
        };
        for neighbour in &model.neighbours[hole] {
            let other = neighbour.hole as usize;
            let arcs = &model.class(other).arcs;
            let table = &model.conflicts[neighbour.table as usize];
            for &a in &state.paths[other] {
                let arc = &arcs[a as usize];
                if !class.standing.is_empty()
                    || arc.removal.saturating_add(apart) > low
                        && arc.transplant < high.saturating_add(apart)
                {
                    let row = &table.row(a)[first..last];
                    for (word, ruled_out) in self.blocked[first..last].iter_mut().zip(row) {
                        *word |= ruled_out;
                    }
                }
            }
        }
    }

    /// Notes where the nursery is full, if it is anywhere near.
    fn find_full_days(&mut self, state: &State<'_>, class: &HoleClass, gap: Gap) {
        let arcs = &class.arcs
            [class.starts[gap.from as usize] as usize..class.starts[gap.to as usize] as usize];
        self.cell_sizes_milli.clear();
        let Some(most) = arcs.iter().map(|a| a.cells_milli).max() else {
            return;
        };
        let high = i32::try_from(state.model.problem.days + state.model.problem.tail);
        let (low, high) = (state.first_day(), high.unwrap_or(i32::MAX));
        if state.min_free_cells(low, high) >= most {
            return;
        }
        self.cell_sizes_milli
            .extend(arcs.iter().map(|a| a.cells_milli));
        self.cell_sizes_milli.sort_unstable();
        self.cell_sizes_milli.dedup();
        self.next_full_days.resize_with(
            self.cell_sizes_milli.len().max(self.next_full_days.len()),
            Vec::new,
        );
        for (&cells, next) in self.cell_sizes_milli.iter().zip(&mut self.next_full_days) {
            state.next_full_day(cells, low, high, next);
        }
    }

    fn overfills_nursery(&self, cells: u64, sow: i32, transplant: u32, first_day: i32) -> bool {
        let Ok(n) = self.cell_sizes_milli.binary_search(&cells) else {
            return false;
        };
        let at = usize::try_from(sow - first_day).unwrap_or(0);
        self.next_full_days[n]
            .get(at)
            .is_some_and(|&d| i64::from(d) < i64::from(transplant))
    }
}
