//! One hole's best plan with everything else as it stands: a shortest path over workdays,
//! solved exactly.
//!
//! Exact as long as no two stays of the path meet in a want-week or in the nursery: the
//! search prices such cases truly when it accepts.

use super::model::{ArcId, Class};
use super::state::State;

/// A part of a hole's plan: positions among the workdays.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Gap {
    /// First position at which a stay may start.
    pub from: u32,
    /// Position by which the hole must be free again.
    pub to: u32,
}

/// Finds best paths; keeps its working space between calls.
#[derive(Debug, Default)]
pub struct Finder {
    blocked: Vec<u64>,
    cost: Vec<i64>,
    choice: Vec<ArcId>,
    full: Vec<Vec<i32>>,
    cells: Vec<u64>,
}

/// No stay starts here: the hole waits for the next workday.
const WAIT: ArcId = ArcId::MAX;

impl Finder {
    /// The gap in a hole's path around the days `low..high`, which its stays were just taken
    /// out of.
    #[must_use]
    pub fn gap(state: &State<'_>, hole: usize, low: u32, high: u32) -> Gap {
        let class = state.model.class(hole);
        let mut gap = Gap {
            from: 0,
            to: super::model::as_u32(state.model.problem.workdays.len()),
        };
        for &a in &state.paths[hole] {
            let arc = &class.arcs[a as usize];
            if arc.removal <= low || arc.stands {
                gap.from = arc.to;
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
    pub fn best(
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
        state.settle();
        let state = &*state;
        let class = state.model.class(hole);
        self.block(state, hole, class, gap);
        self.limit_nursery(state, class, gap);
        let cleans: Vec<u32> = state.model.cleans_of[state.model.problem.holes[hole].tube]
            .iter()
            .map(|&c| state.clean_days[c])
            .collect();
        let scarce =
            !state.model.apart.iter().all(Vec::is_empty) || !state.model.problem.lots.is_empty();
        let stay_cost = state.model.problem.stay_cost_milli;
        let delta = state.deltas();

        let base = gap.from as usize;
        let span = gap.to as usize - base;
        self.cost.clear();
        self.cost.resize(span + 1, 0);
        self.choice.clear();
        self.choice.resize(span + 1, WAIT);
        for n in (base..gap.to as usize).rev() {
            let mut best = self.cost[n + 1 - base];
            let mut choice = WAIT;
            // What the stay before gives, as the next may go on from it.
            let mut gains = 0;
            for a in class.starts[n]..class.starts[n + 1] {
                let glance = class.glances[a as usize];
                let more = glance.more as usize..glance.more as usize + glance.count as usize;
                let more: i64 = class.items[more].iter().map(|&i| delta[i as usize]).sum();
                gains = if glance.goes_on { gains + more } else { more };
                if stay_cost + gains >= 0
                    || self.blocked[a as usize / 64] >> (a % 64) & 1 == 1
                    || glance.to > gap.to
                {
                    continue;
                }
                let cost = stay_cost + gains + self.cost[glance.to as usize - base];
                if cost >= best {
                    continue;
                }
                let arc = &class.arcs[a as usize];
                if cleans
                    .iter()
                    .any(|&d| arc.transplant < d && d < arc.removal)
                    || self.overfills(arc.cells_milli, arc.sow, arc.transplant, state.first_day())
                    || scarce
                        && (state.is_shut_out(hole, arc)
                            || arc.lot.is_some_and(|l| state.left(l) <= 0))
                {
                    continue;
                }
                best = cost;
                choice = a;
            }
            self.cost[n - base] = best;
            self.choice[n - base] = choice;
        }
        let mut total = self.cost[0];
        let mut n = base;
        if standing {
            let mut chosen = None;
            for a in class.standing.clone() {
                if self.blocked[a as usize / 64] >> (a % 64) & 1 == 1 {
                    continue;
                }
                let arc = &class.arcs[a as usize];
                if cleans.iter().any(|&d| d < arc.removal)
                    || arc.to > gap.to
                    || state.is_shut_out(hole, arc)
                {
                    continue;
                }
                let gains: i64 = class.items[arc.items.start as usize..arc.items.end as usize]
                    .iter()
                    .map(|&i| delta[i as usize])
                    .sum();
                let cost = gains + self.cost[arc.to as usize - base];
                if chosen.is_none_or(|(_, c)| cost < c) {
                    chosen = Some((a, cost));
                }
            }
            if let Some((a, cost)) = chosen {
                path.push(a);
                total = cost;
                n = class.arcs[a as usize].to as usize;
            }
        }
        while n < gap.to as usize {
            match self.choice[n - base] {
                WAIT => n += 1,
                a => {
                    path.push(a);
                    n = class.arcs[a as usize].to as usize;
                }
            }
        }
        total
    }

    /// Marks the stays that neighbours rule out.
    fn block(&mut self, state: &State<'_>, hole: usize, class: &Class, gap: Gap) {
        let model = state.model;
        let workdays = &model.problem.workdays;
        let apart = model.problem.neighbours_apart;
        let low = workdays.get(gap.from as usize).copied().unwrap_or(u32::MAX);
        let high = workdays.get(gap.to as usize).copied().unwrap_or(u32::MAX);
        self.blocked.clear();
        self.blocked.resize(class.arcs.len().div_ceil(64), 0);
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
            let table = &model.tables[neighbour.table as usize];
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
    fn limit_nursery(&mut self, state: &State<'_>, class: &Class, gap: Gap) {
        let arcs = &class.arcs
            [class.starts[gap.from as usize] as usize..class.starts[gap.to as usize] as usize];
        self.cells.clear();
        let Some(most) = arcs.iter().map(|a| a.cells_milli).max() else {
            return;
        };
        let high = i32::try_from(state.model.problem.days + state.model.problem.tail);
        let (low, high) = (state.first_day(), high.unwrap_or(i32::MAX));
        if state.fewest_free(low, high) >= most {
            return;
        }
        self.cells.extend(arcs.iter().map(|a| a.cells_milli));
        self.cells.sort_unstable();
        self.cells.dedup();
        self.full
            .resize_with(self.cells.len().max(self.full.len()), Vec::new);
        for (&cells, next) in self.cells.iter().zip(&mut self.full) {
            state.next_full(cells, low, high, next);
        }
    }

    fn overfills(&self, cells: u64, sow: i32, transplant: u32, first_day: i32) -> bool {
        let Ok(n) = self.cells.binary_search(&cells) else {
            return false;
        };
        let at = usize::try_from(sow - first_day).unwrap_or(0);
        self.full[n]
            .get(at)
            .is_some_and(|&d| i64::from(d) < i64::from(transplant))
    }
}
