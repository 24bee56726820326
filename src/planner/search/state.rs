//! Where a search stands: every hole's path, and what the paths together deliver and occupy.

use std::collections::BTreeMap;

use crate::planner::problem::model::{Arc, ArcId, Model, as_u32};
use crate::planner::problem::solution::{PlacedStay, Solution};

/// Every hole's path, and what they add up to.
#[derive(Debug, Clone)]
pub struct State<'m> {
    /// The problem made ready.
    pub model: &'m Model<'m>,
    /// Each hole's stays, by transplant.
    pub paths: Vec<Vec<ArcId>>,
    /// The day of each of the problem's cleanings.
    pub clean_days: Vec<u32>,
    /// By hole: stays set out before this day are left as they are, and none are added before it.
    pub unfrozen_from: Vec<u32>,
    /// No stays are added that are sown before this day.
    pub min_sow_day: i32,
    /// By hole: stays that the grower was told of, and what it costs to give each up; empty if
    /// there are none.
    change_penalties: Vec<Vec<(ArcId, i64)>>,
    /// What is delivered, by cell.
    supply: Vec<i64>,
    /// What each cell costs at that.
    want_week_cost: Vec<i64>,
    /// What one more of an item would change in cost, by item; right once [`State::refresh_deltas`]
    /// has been called.
    deltas: Vec<i64>,
    stale: Vec<u32>,
    is_stale: Vec<bool>,
    /// Nursery cells taken, by day from `first_day`.
    nursery_cells_milli: Vec<u64>,
    first_day: i32,
    /// Seedlings on hand that are left, by lot.
    seedlings_left: Vec<i64>,
    /// Plants in holes, by whether they stood before the plan, loop, crop and day; empty unless some
    /// crops cannot share.
    standing_counts: Vec<u32>,
    cost: i64,
}

impl<'m> State<'m> {
    /// Nothing planted but what stands, each at its first end; cleaning days as early as
    /// their windows and what stands allow.
    #[must_use]
    pub fn empty(model: &'m Model<'m>) -> Self {
        let problem = model.problem;
        let first_day = problem
            .kinds
            .iter()
            .flat_map(|k| k.batches.iter().map(|b| b.sow))
            .min()
            .unwrap_or(0)
            .min(0);
        let days = i64::from(problem.days + problem.tail) - i64::from(first_day);
        let loops = problem
            .holes
            .iter()
            .map(|h| h.r#loop + 1)
            .max()
            .unwrap_or(0);
        let shares = model.incompatible.iter().all(Vec::is_empty);
        let standing = if shares {
            0
        } else {
            2 * loops * model.crops.len() * (problem.days + problem.tail) as usize
        };
        let cells = model.want_weeks.len();
        let cell_cost: Vec<i64> = (0..cells).map(|c| model.want_week_cost(c, 0)).collect();
        let mut state = Self {
            model,
            paths: vec![Vec::new(); problem.holes.len()],
            clean_days: problem
                .cleans
                .iter()
                .map(|c| {
                    first_workday(
                        &problem.workdays,
                        c.days,
                        problem.tube_occupied_until(c.tube),
                    )
                })
                .collect(),
            unfrozen_from: vec![0; problem.holes.len()],
            min_sow_day: i32::MIN,
            change_penalties: Vec::new(),
            supply: vec![0; cells],
            cost: cell_cost.iter().sum(),
            want_week_cost: cell_cost,
            deltas: vec![0; model.items.len()],
            stale: (0..as_u32(cells)).collect(),
            is_stale: vec![true; cells],
            nursery_cells_milli: vec![0; usize::try_from(days).unwrap_or(0)],
            first_day,
            seedlings_left: problem.lots.iter().map(|l| i64::from(l.count)).collect(),
            standing_counts: vec![0; standing],
        };
        for hole in 0..problem.holes.len() {
            let class = model.class(hole);
            if !class.standing.is_empty() {
                state.add_stay(hole, class.standing.start);
                state.paths[hole].push(class.standing.start);
            }
        }
        state
    }

    /// A solution as a state to go on from.
    #[must_use]
    pub fn from_solution(model: &'m Model<'m>, solution: &Solution) -> Self {
        let mut state = Self::empty(model);
        state.clean_days.clone_from(&solution.clean_days);
        let arcs: Vec<BTreeMap<(bool, u32, u32), ArcId>> = model
            .classes
            .iter()
            .map(|class| {
                let arcs = (0..).zip(&class.arcs);
                arcs.map(|(n, a)| ((a.stands, a.batch, a.end), n)).collect()
            })
            .collect();
        let mut paths = vec![Vec::new(); model.problem.holes.len()];
        let mut place = |hole: usize, stands: bool, batch: usize, end: usize| {
            let key = (stands, as_u32(batch), as_u32(end));
            paths[hole].extend(arcs[model.class_of[hole]].get(&key));
        };
        let standing = model.problem.standing.iter().zip(&solution.standing_ends);
        for (n, (standing, &end)) in standing.enumerate() {
            place(standing.hole, true, n, end);
        }
        for stay in &solution.stays {
            place(stay.hole, false, stay.batch, stay.end);
        }
        for (hole, mut path) in paths.into_iter().enumerate() {
            let arcs = &model.class(hole).arcs;
            path.sort_by_key(|&a: &ArcId| (arcs[a as usize].transplant, !arcs[a as usize].stands));
            state.restore(&[(hole, path)]);
        }
        state
    }

    /// What all this costs, in thousandths; promises that it breaks, too.
    #[must_use]
    pub const fn cost(&self) -> i64 {
        self.cost
    }

    /// What a cell costs now.
    #[must_use]
    pub fn want_week_cost(&self, cell: usize) -> i64 {
        self.want_week_cost[cell]
    }

    /// What is delivered in a cell.
    #[must_use]
    pub fn supply(&self, cell: usize) -> i64 {
        self.supply[cell]
    }

    /// Brings [`State::deltas`] up to date.
    pub fn refresh_deltas(&mut self) {
        while let Some(cell) = self.stale.pop() {
            let c = cell as usize;
            self.is_stale[c] = false;
            let items = &self.model.want_weeks[c].items;
            for i in items.start as usize..items.end as usize {
                let more = self.supply[c] + self.model.items[i].milli;
                self.deltas[i] = self.model.want_week_cost(c, more) - self.want_week_cost[c];
            }
        }
    }

    /// What one more of each item would change in cost.
    #[must_use]
    pub fn deltas(&self) -> &[i64] {
        debug_assert!(self.stale.is_empty());
        &self.deltas
    }

    /// What so many more of an item would change in cost.
    #[must_use]
    pub fn delta_of(&self, item: u32, copies: i64) -> i64 {
        if copies == 1 {
            return self.deltas[item as usize];
        }
        let item = &self.model.items[item as usize];
        let c = item.want_week as usize;
        self.model
            .want_week_cost(c, self.supply[c] + copies * item.milli)
            - self.want_week_cost[c]
    }

    /// Puts stays into a hole's path; leaves out one that would overfill the nursery or use a
    /// seedling that is not there, which can only be because of another in the same path.
    pub fn insert(&mut self, hole: usize, arcs: &[ArcId]) {
        for &arc in arcs {
            if self.has_seedling_capacity(hole, arc) {
                self.add_stay(hole, arc);
                let class = self.model.class(hole);
                let at = self.paths[hole].partition_point(|&a| {
                    starts_before(&class.arcs[a as usize], &class.arcs[arc as usize])
                });
                self.paths[hole].insert(at, arc);
            }
        }
    }

    /// Whether a stay could be put into a hole: nothing else in it, no neighbour and no
    /// cleaning in its way.
    #[must_use]
    pub fn is_feasible(&self, hole: usize, arc: ArcId) -> bool {
        let new = &self.model.class(hole).arcs[arc as usize];
        self.overlapping(hole, new).next().is_none()
            && !self.is_cleaned_during(hole, new)
            && !self.is_crowded(hole, arc)
            && !self.is_incompatible(hole, new)
    }

    /// The stays in a hole, in time order.
    pub fn stays(&self, hole: usize) -> impl Iterator<Item = &'m Arc> {
        let arcs = &self.model.class(hole).arcs;
        self.paths[hole].iter().map(|&arc| &arcs[arc as usize])
    }

    /// The stays in a hole that do not leave it to another.
    pub fn overlapping<'s>(&'s self, hole: usize, new: &'s Arc) -> impl Iterator<Item = &'s Arc> {
        self.stays(hole).filter(|old| {
            let is_before = !new.stands && old.to <= new.from;
            let is_after = !old.stands && new.to <= old.from;
            !is_before && !is_after
        })
    }

    /// Whether a hole's tube is scrubbed while a stay is in it.
    #[must_use]
    pub fn is_cleaned_during(&self, hole: usize, new: &Arc) -> bool {
        let cleans = &self.model.cleans_of[self.model.problem.holes[hole].tube];
        let mut days = cleans.iter().map(|&c| self.clean_days[c]);
        days.any(|day| new.stands_over(day))
    }

    /// Whether what stands beside a hole leaves a stay no room.
    #[must_use]
    pub fn is_crowded(&self, hole: usize, arc: ArcId) -> bool {
        self.model.neighbours[hole].iter().any(|n| {
            let table = &self.model.conflicts[n.table as usize];
            let theirs = &self.paths[n.hole as usize];
            theirs.iter().any(|&a| table.rules_out(a, arc))
        })
    }

    /// Takes the stays out of a hole's path that stand on any day between `low` and `high`,
    /// and gives them back, but for those set out before [`State::unfrozen_from`]. What stood before
    /// the plan stays unless `standing` is set and nothing is held; from day 0 on, that is one taken
    /// on that day, too.
    pub fn remove(&mut self, hole: usize, low: u32, high: u32, standing: bool) -> Vec<ArcId> {
        let class = self.model.class(hole);
        let standing = standing && !self.is_frozen();
        let touched = |&a: &ArcId| {
            let arc = &class.arcs[a as usize];
            let stood = arc.stands && low == 0;
            let stands_then = arc.transplant < high && (arc.removal > low || stood);
            stands_then && arc.transplant >= self.unfrozen_from[hole] && (standing || !arc.stands)
        };
        let removed: Vec<ArcId> = self.paths[hole].iter().copied().filter(touched).collect();
        self.paths[hole].retain(|a| !touched(a));
        for &arc in &removed {
            self.remove_stay(hole, arc);
        }
        removed
    }

    /// Leaves some stays as they are, and what comes before them in their holes; adds nothing that
    /// was sown before today.
    pub fn freeze(&mut self, is_held: impl Fn(usize, ArcId) -> bool) {
        self.min_sow_day = 0;
        let workdays = &self.model.problem.workdays;
        for hole in 0..self.paths.len() {
            let class = self.model.class(hole);
            let held = self.paths[hole].iter().filter(|&&a| is_held(hole, a));
            let to = held.map(|&a| class.arcs[a as usize].to as usize).max();
            self.unfrozen_from[hole] =
                to.map_or(0, |to| workdays.get(to).copied().unwrap_or(u32::MAX));
        }
    }

    /// Promises stays that are planned, by hole: to give one up costs so much.
    pub fn set_change_penalties(&mut self, promised: Vec<Vec<(ArcId, i64)>>) {
        self.change_penalties = promised;
    }

    /// What it costs to give a stay up that is planned for a hole: nothing if it was not promised.
    #[must_use]
    pub fn change_penalty(&self, hole: usize, arc: ArcId) -> i64 {
        let of_hole = self.change_penalties.get(hole);
        let it = of_hole.and_then(|p| p.iter().find(|p| p.0 == arc));
        it.map_or(0, |p| p.1)
    }

    /// The stays promised for a hole, and what it costs to give each up.
    #[must_use]
    pub fn change_penalties_of(&self, hole: usize) -> &[(ArcId, i64)] {
        self.change_penalties.get(hole).map_or(&[], Vec::as_slice)
    }

    /// Whether anything is left as it is.
    #[must_use]
    pub const fn is_frozen(&self) -> bool {
        self.min_sow_day > i32::MIN
    }

    /// Holds nothing any more, and promises nothing.
    pub fn unfreeze(&mut self) {
        self.min_sow_day = i32::MIN;
        self.unfrozen_from.fill(0);
        let promised = std::mem::take(&mut self.change_penalties);
        for (path, promised) in self.paths.iter().zip(promised) {
            let broken = promised.iter().filter(|(arc, _)| !path.contains(arc));
            self.cost -= broken.map(|(_, price)| price).sum::<i64>();
        }
    }

    /// Makes holes' paths what they were once, which is known to fit.
    pub fn restore(&mut self, paths: &[(usize, Vec<ArcId>)]) {
        for (hole, old) in paths {
            for arc in std::mem::take(&mut self.paths[*hole]) {
                self.remove_stay(*hole, arc);
            }
            for &arc in old {
                self.add_stay(*hole, arc);
            }
            self.paths[*hole].clone_from(old);
        }
    }

    /// Day of removal of what stood in a hole before the plan, if it is in its path.
    #[must_use]
    pub fn occupied_until(&self, hole: usize) -> Option<u32> {
        let first = self.stays(hole).next()?;
        first.stands.then_some(first.removal)
    }

    /// Whether a stay's seedlings fit the nursery and are there.
    #[must_use]
    pub fn has_seedling_capacity(&self, hole: usize, arc: ArcId) -> bool {
        let arc = &self.model.class(hole).arcs[arc as usize];
        let cap = self.model.problem.nursery_cells_milli;
        let days = self.nursery_days(arc);
        self.nursery_cells_milli[days]
            .iter()
            .all(|&n| n + arc.cells_milli <= cap)
            && arc.lot.is_none_or(|l| self.seedlings_left[l as usize] > 0)
    }

    fn nursery_days(&self, arc: &Arc) -> std::ops::Range<usize> {
        if arc.stands {
            return 0..0;
        }
        let from = usize::try_from(arc.sow - self.first_day).unwrap_or(0);
        let to = i64::from(arc.transplant) - i64::from(self.first_day);
        from..usize::try_from(to).unwrap_or(0)
    }

    fn add_stay(&mut self, hole: usize, arc: ArcId) {
        self.apply_stay(hole, arc, 1);
    }

    fn remove_stay(&mut self, hole: usize, arc: ArcId) {
        self.apply_stay(hole, arc, -1);
    }

    fn apply_stay(&mut self, hole: usize, arc: ArcId, sign: i64) {
        self.cost -= sign * self.change_penalty(hole, arc);
        let model = self.model;
        let class = model.class(hole);
        let arc = &class.arcs[arc as usize];
        for item in model.yields(class, arc) {
            let c = item.want_week as usize;
            self.supply[c] += sign * item.milli;
            let cost = model.want_week_cost(c, self.supply[c]);
            self.cost += cost - self.want_week_cost[c];
            self.want_week_cost[c] = cost;
            if !self.is_stale[c] {
                self.is_stale[c] = true;
                self.stale.push(item.want_week);
            }
        }
        if !arc.stands {
            self.cost += sign * model.problem.stay_cost_milli;
        }
        let days = self.nursery_days(arc);
        for n in &mut self.nursery_cells_milli[days] {
            *n = n.wrapping_add_signed(sign * i64::try_from(arc.cells_milli).unwrap_or(0));
        }
        if let Some(lot) = arc.lot {
            self.seedlings_left[lot as usize] -= sign;
        }
        if !self.standing_counts.is_empty() {
            let row = self.standing_row(arc.stands, hole, arc.crop);
            let days = row + arc.transplant as usize..row + arc.removal as usize;
            for n in &mut self.standing_counts[days] {
                *n = n.wrapping_add_signed(i32::try_from(sign).unwrap_or(0));
            }
        }
    }

    fn standing_row(&self, stands: bool, hole: usize, crop: u32) -> usize {
        let problem = self.model.problem;
        let days = (problem.days + problem.tail) as usize;
        let row = problem.holes[hole].r#loop * self.model.crops.len() + crop as usize;
        row * days + usize::from(stands) * self.standing_counts.len() / 2
    }

    /// The days from `low` to `high` on which the nursery cannot take `cells_milli` more:
    /// for each day from `low`, the next such day at or after it (`i32::MAX` if none).
    pub fn next_full_day(&self, cells_milli: u64, low: i32, high: i32, next: &mut Vec<i32>) {
        let cap = self.model.problem.nursery_cells_milli;
        next.clear();
        next.resize(usize::try_from(high - low).unwrap_or(0), i32::MAX);
        let mut full = i32::MAX;
        for (n, day) in next.iter_mut().zip(low..high).rev() {
            let taken = usize::try_from(day - self.first_day)
                .ok()
                .and_then(|d| self.nursery_cells_milli.get(d));
            if taken.is_some_and(|t| t + cells_milli > cap) {
                full = day;
            }
            *n = full;
        }
    }

    /// The first day of sowing that any stay can have.
    #[must_use]
    pub const fn first_day(&self) -> i32 {
        self.first_day
    }

    /// The fewest cells free on any day from `low` to `high`.
    #[must_use]
    pub fn min_free_cells(&self, low: i32, high: i32) -> u64 {
        let at = |day: i32| usize::try_from(day - self.first_day).unwrap_or(0);
        let days = at(low)..at(high).min(self.nursery_cells_milli.len());
        let most = self.nursery_cells_milli[days]
            .iter()
            .copied()
            .max()
            .unwrap_or(0);
        self.model.problem.nursery_cells_milli.saturating_sub(most)
    }

    /// Seedlings left of a lot.
    #[must_use]
    pub fn remaining_seedlings(&self, lot: u32) -> i64 {
        self.seedlings_left[lot as usize]
    }

    /// Whether a crop that cannot share the loop with a stay's stands there in its time. Of what
    /// stood before the plan, two stand as they do.
    #[must_use]
    pub fn is_incompatible(&self, hole: usize, arc: &Arc) -> bool {
        if self.standing_counts.is_empty() {
            return false;
        }
        let stood = [false, true].into_iter().filter(|&s| !(s && arc.stands));
        let mut rows = self.model.incompatible[arc.crop as usize]
            .iter()
            .flat_map(|&other| {
                stood
                    .clone()
                    .map(move |s| self.standing_row(s, hole, other))
            });
        rows.any(|row| {
            self.standing_counts[row + arc.transplant as usize..row + arc.removal as usize]
                .iter()
                .any(|&n| n > 0)
        })
    }

    /// The solution that the paths are.
    #[must_use]
    pub fn solution(&self) -> Solution {
        let mut standing_ends = vec![0; self.model.problem.standing.len()];
        let mut stays = Vec::new();
        for (hole, path) in self.paths.iter().enumerate() {
            for &arc in path {
                let arc = &self.model.class(hole).arcs[arc as usize];
                if arc.stands {
                    standing_ends[arc.batch as usize] = arc.end as usize;
                } else {
                    stays.push(PlacedStay {
                        hole,
                        batch: arc.batch as usize,
                        end: arc.end as usize,
                    });
                }
            }
        }
        Solution {
            stays,
            standing_ends,
            clean_days: self.clean_days.clone(),
        }
    }
}

fn starts_before(a: &Arc, b: &Arc) -> bool {
    (a.transplant, !a.stands) < (b.transplant, !b.stands)
}

fn first_workday(workdays: &[u32], window: [u32; 2], empty: u32) -> u32 {
    let from = window[0].max(empty);
    let day = workdays[workdays
        .partition_point(|&d| d < from)
        .min(workdays.len() - 1)];
    day.min(window[1])
}
