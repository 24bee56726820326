//! The best plan of two neighbouring holes together, all else as it stands, solved exactly.
//!
//! A node is "one hole is taken by stay `j`, the other is free from position `n` on", or "both
//! are free from `n` on". Of two stays that stand at the same time, the later to be put in is
//! checked against the earlier, which is all that the rules between neighbours ask for.
//!
//! Where tubes are scrubbed, both holes must be free on one day of each window: the nodes are
//! there once for each number of cleanings still to do.

use std::cmp::Ordering;

use crate::planner::problem::model::{ArcId, ConflictTable, as_u32};

/// A stay that may be chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PricedStay {
    /// The arc.
    pub arc: ArcId,
    /// Position of its transplant.
    pub from: u32,
    /// Position from which the hole is free again.
    pub to: u32,
    /// What it costs; what stands already may cost nothing or more.
    pub cost: i64,
}

/// The stays that one hole can take.
#[derive(Debug, Clone, Default)]
pub struct HoleOptions {
    /// By [`PricedStay::from`]. One that costs something is never worth choosing, and best left out.
    pub options: Vec<PricedStay>,
    /// Options of which the first stay must be one, if there are any; they start at the
    /// beginning and are not among the others.
    pub standing: Vec<PricedStay>,
}

impl HoleOptions {
    /// The same, each option counted so many times one of so many parts, rounded down.
    #[must_use]
    pub fn scaled(&self, (times, parts): (i64, i64)) -> Self {
        let count = |of: &[PricedStay]| {
            let counted = of.iter().map(|&choice| PricedStay {
                cost: (choice.cost * times).div_euclid(parts),
                ..choice
            });
            counted.collect()
        };
        Self {
            options: count(&self.options),
            standing: count(&self.standing),
        }
    }
}

/// What is to be planned together: one hole or two.
#[derive(Debug, Clone, Copy)]
pub struct JointProblem<'t> {
    /// One lane or two.
    pub holes: &'t [&'t HoleOptions],
    /// `tables[s]`: what arcs of lane `s` rule out on the other; none for one lane.
    pub conflicts: &'t [&'t ConflictTable],
    /// Windows of the cleanings, in time order, as positions.
    pub clean_windows: &'t [(u32, u32)],
    /// First position.
    pub low: u32,
    /// The position by which all is over.
    pub high: u32,
}

/// The best plan: its cost and its stays by lane.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct JointPath {
    /// Cost.
    pub cost: i64,
    /// Stays of each lane.
    pub stays: Vec<Vec<ArcId>>,
}

/// Working space, kept between calls.
#[derive(Debug, Default)]
pub struct Workspace {
    holes: [HoleWorkspace; 2],
    phases: Vec<Phase>,
}

#[derive(Debug, Default)]
struct HoleWorkspace {
    /// Where each option's nodes begin; what stands comes after the others.
    nodes: Vec<u32>,
    node_count: usize,
    /// The options that start at a position are `starts[p]..starts[p + 1]`.
    starts: Vec<u32>,
    /// Options by the position at which they end.
    ending: Vec<(u32, u32)>,
}

/// Values of the nodes with so many cleanings still to do.
#[derive(Debug, Default)]
struct Phase {
    occupied: [Vec<i64>; 2],
    free: Vec<i64>,
}

/// Never reached.
const UNREACHABLE_COST: i64 = i64::MAX / 4;

/// Solves a task.
pub fn solve(problem: &JointProblem<'_>, space: &mut Workspace, best: &mut JointPath) {
    for (lane, space) in problem.holes.iter().zip(&mut space.holes) {
        space.prepare(lane, problem.low, problem.high);
    }
    space
        .phases
        .resize_with(problem.clean_windows.len() + 1, Phase::default);
    let span = (problem.high - problem.low) as usize;
    for phase in &mut space.phases {
        phase.free.clear();
        phase.free.resize(span + 1, UNREACHABLE_COST);
        for (held, lane) in phase.occupied.iter_mut().zip(&space.holes) {
            held.clear();
            held.resize(lane.node_count, UNREACHABLE_COST);
        }
    }
    space.phases[0].free[span] = 0;
    let Workspace {
        holes: lanes,
        phases,
    } = space;
    let mut solver = JointSolver {
        problem,
        holes: lanes,
        phases,
    };
    for left in 0..=problem.clean_windows.len() {
        solver.backward_pass(left);
    }
    solver.backtrack(best);
}

impl HoleWorkspace {
    fn prepare(&mut self, lane: &HoleOptions, low: u32, high: u32) {
        self.nodes.clear();
        self.ending.clear();
        self.starts.clear();
        let mut count = 0;
        for (n, o) in lane.options.iter().chain(&lane.standing).enumerate() {
            self.nodes.push(count);
            count += o.to - o.from;
            self.ending.push((o.to, as_u32(n)));
        }
        self.node_count = count as usize;
        self.ending.sort_unstable_by(|a, b| b.cmp(a));
        let mut next = 0;
        for position in low..=high {
            while lane
                .options
                .get(next as usize)
                .is_some_and(|o| o.from < position)
            {
                next += 1;
            }
            self.starts.push(next);
        }
    }
}

/// An option, and where its nodes begin.
#[derive(Debug, Clone, Copy)]
struct OccupiedArc {
    arc: ArcId,
    from: u32,
    to: u32,
    cost: i64,
    node: u32,
}

impl OccupiedArc {
    /// Its node at a position.
    const fn at(&self, position: u32) -> usize {
        (self.node + position - self.from) as usize
    }
}

struct JointSolver<'s, 't> {
    problem: &'s JointProblem<'t>,
    holes: &'s [HoleWorkspace; 2],
    phases: &'s mut Vec<Phase>,
}

impl JointSolver<'_, '_> {
    fn option(&self, lane: usize, n: u32) -> &PricedStay {
        let options = &self.problem.holes[lane].options;
        let n = n as usize;
        options
            .get(n)
            .unwrap_or_else(|| &self.problem.holes[lane].standing[n - options.len()])
    }

    fn node(&self, lane: usize, n: u32, position: u32) -> usize {
        (self.holes[lane].nodes[n as usize] + position - self.option(lane, n).from) as usize
    }

    fn starting(&self, lane: usize, position: u32) -> std::ops::Range<u32> {
        let at = (position - self.problem.low) as usize;
        let starts = &self.holes[lane].starts;
        starts[at]..starts[at + 1]
    }

    fn free_at(&self, left: usize, position: u32) -> i64 {
        self.phases[left].free[(position - self.problem.low) as usize]
    }

    /// The cleaning that is next when `left` are still to do.
    fn window(&self, left: usize) -> Option<(u32, u32)> {
        let cleans = self.problem.clean_windows;
        (left > 0).then(|| cleans[cleans.len() - left])
    }

    /// Fills in the nodes with `left` cleanings still to do, latest first.
    fn backward_pass(&mut self, left: usize) {
        let task = self.problem;
        if task.high == task.low {
            return;
        }
        // Before the last cleaning done there is nothing to fill in; with one to do, nothing
        // is reached beyond its window.
        let done = task.clean_windows.len() - left;
        let low = if done == 0 {
            task.low
        } else {
            task.clean_windows[done - 1].0.max(task.low)
        };
        let high = self
            .window(left)
            .map_or(task.high - 1, |w| w.1.min(task.high - 1));
        let mut active: [Vec<OccupiedArc>; 2] = Default::default();
        let mut starting: Vec<OccupiedArc> = Vec::new();
        let mut next = [0; 2];
        for n in (low..=high).rev() {
            for lane in 0..task.holes.len() {
                let ending = &self.holes[lane].ending;
                active[lane].retain(|o| o.from <= n);
                while let Some(&(to, o)) = ending.get(next[lane]).filter(|e| e.0 > n) {
                    next[lane] += 1;
                    // Options that end beyond the window come with the first position.
                    if to > n && self.option(lane, o).from <= n {
                        active[lane].push(self.occupied_arc(lane, o));
                    }
                }
                starting.clear();
                if task.holes.len() == 2 {
                    let options = self.starting(1 - lane, n);
                    starting.extend(options.map(|o| self.occupied_arc(1 - lane, o)));
                }
                self.relax_occupied(left, lane, n, &active[lane], &starting);
            }
            let value = self.relax_free(left, n).0;
            self.phases[left].free[(n - task.low) as usize] = value;
        }
    }

    /// An option as the sweep needs it.
    fn occupied_arc(&self, lane: usize, o: u32) -> OccupiedArc {
        let option = self.option(lane, o);
        OccupiedArc {
            arc: option.arc,
            from: option.from,
            to: option.to,
            cost: option.cost,
            node: self.holes[lane].nodes[o as usize],
        }
    }

    /// Fills in the nodes at `n` at which `lane` is taken by each of some options, from least
    /// cost over what can start on the other.
    fn relax_occupied(
        &mut self,
        left: usize,
        lane: usize,
        n: u32,
        active: &[OccupiedArc],
        starting: &[OccupiedArc],
    ) {
        let low = self.problem.low;
        let phase = &mut self.phases[left];
        let [first, second] = &mut phase.occupied;
        let (mine, theirs) = if lane == 0 {
            (first, second)
        } else {
            (second, first)
        };
        for o in active {
            let mut best = if n + 1 >= o.to {
                phase.free[(n + 1 - low) as usize]
            } else {
                mine[o.at(n + 1)]
            };
            if let Some(table) = self
                .problem
                .conflicts
                .get(lane)
                .filter(|_| !starting.is_empty())
            {
                let row = table.row(o.arc);
                for s in starting {
                    if row[s.arc as usize / 64] >> (s.arc % 64) & 1 == 1 {
                        continue;
                    }
                    let rest = match s.to.cmp(&o.to) {
                        Ordering::Less => mine[o.at(s.to)],
                        Ordering::Equal => phase.free[(o.to - low) as usize],
                        Ordering::Greater => theirs[s.at(o.to)],
                    };
                    best = best.min(s.cost + rest);
                }
            }
            mine[o.at(n)] = best;
        }
    }

    /// The value of the node at `n`, or of both free once the stay is over.
    fn relax_either(&self, left: usize, lane: usize, o: u32, n: u32) -> i64 {
        if n >= self.option(lane, o).to {
            self.free_at(left, n)
        } else {
            self.phases[left].occupied[lane][self.node(lane, o, n)]
        }
    }

    /// Least cost from both free at `n` on, and how it goes on.
    fn relax_free(&self, left: usize, n: u32) -> (i64, Transition) {
        let mut best = (self.free_at(left, n + 1), Transition::Wait);
        if self
            .window(left)
            .is_some_and(|(low, high)| low <= n && n <= high)
        {
            let cleaned = self.free_at(left - 1, n);
            if cleaned < best.0 {
                best = (cleaned, Transition::Clean);
            }
        }
        for lane in 0..self.problem.holes.len() {
            for o in self.starting(lane, n) {
                let option = self.option(lane, o);
                let node = self.holes[lane].nodes[o as usize] as usize;
                let cost = option.cost + self.phases[left].occupied[lane][node];
                if cost < best.0 {
                    best = (cost, Transition::Plant(lane, o));
                }
            }
        }
        best
    }

    /// Follows the cheapest nodes from the beginning.
    fn backtrack(&self, best: &mut JointPath) {
        let mut left = self.problem.clean_windows.len();
        best.stays.resize_with(self.problem.holes.len(), Vec::new);
        best.stays.iter_mut().for_each(Vec::clear);
        let (cost, mut at) = self.initial_stays(left, best);
        best.cost = cost;
        loop {
            match at {
                Position::Free(n) if n == self.problem.high => break,
                Position::Free(n) => match self.relax_free(left, n).1 {
                    Transition::Wait => at = Position::Free(n + 1),
                    Transition::Clean => left -= 1,
                    Transition::Plant(lane, o) => {
                        best.stays[lane].push(self.option(lane, o).arc);
                        at = Position::Occupied(lane, o, n);
                    }
                },
                Position::Occupied(lane, o, n) => at = self.next_position(left, lane, o, n, best),
            }
        }
    }

    /// The first node: what stands has to be begun with.
    fn initial_stays(&self, left: usize, best: &mut JointPath) -> (i64, Position) {
        let low = self.problem.low;
        let standing = |lane: usize| {
            let lane = self.problem.holes.get(lane);
            let first = lane.map_or(0, |l| as_u32(l.options.len()));
            first..lane.map_or(0, |l| first + as_u32(l.standing.len()))
        };
        let mut chosen = (
            UNREACHABLE_COST,
            Position::Free(self.problem.high),
            [None, None],
        );
        let mut offer = |cost: i64, at: Position, stays: [Option<u32>; 2]| {
            if cost < chosen.0 {
                chosen = (cost, at, stays);
            }
        };
        // From `n` on, when the longer of what stands is over or the other lane is free.
        let begun = |lane: usize, o: u32, n: u32| {
            let at = if n >= self.option(lane, o).to {
                Position::Free(n)
            } else {
                Position::Occupied(lane, o, n)
            };
            (self.relax_either(left, lane, o, n), at)
        };
        match (standing(0).is_empty(), standing(1).is_empty()) {
            (true, true) => return (self.free_at(left, low), Position::Free(low)),
            (false, true) => {
                for a in standing(0) {
                    let (rest, at) = begun(0, a, low);
                    offer(self.option(0, a).cost + rest, at, [Some(a), None]);
                }
            }
            (true, false) => {
                for b in standing(1) {
                    let (rest, at) = begun(1, b, low);
                    offer(self.option(1, b).cost + rest, at, [None, Some(b)]);
                }
            }
            (false, false) => {
                for a in standing(0) {
                    for b in standing(1) {
                        let (x, y) = (self.option(0, a), self.option(1, b));
                        let (rest, at) = if x.to <= y.to {
                            begun(1, b, x.to)
                        } else {
                            begun(0, a, y.to)
                        };
                        offer(x.cost + y.cost + rest, at, [Some(a), Some(b)]);
                    }
                }
            }
        }
        for ((lane, o), stays) in chosen.2.into_iter().enumerate().zip(&mut best.stays) {
            stays.extend(o.map(|o| self.option(lane, o).arc));
        }
        (chosen.0, chosen.1)
    }

    fn next_position(
        &self,
        left: usize,
        lane: usize,
        o: u32,
        n: u32,
        best: &mut JointPath,
    ) -> Position {
        let PricedStay { arc, to: until, .. } = *self.option(lane, o);
        let value = self.phases[left].occupied[lane][self.node(lane, o, n)];
        if self.problem.holes.len() > 1 {
            let other = 1 - lane;
            for i in self.starting(other, n) {
                let option = self.option(other, i);
                if self.problem.conflicts[lane].rules_out(arc, option.arc) {
                    continue;
                }
                let (rest, at) = if option.to < until {
                    let node = self.node(lane, o, option.to);
                    (
                        self.phases[left].occupied[lane][node],
                        Position::Occupied(lane, o, option.to),
                    )
                } else if option.to == until {
                    (self.free_at(left, until), Position::Free(until))
                } else {
                    let node = self.node(other, i, until);
                    (
                        self.phases[left].occupied[other][node],
                        Position::Occupied(other, i, until),
                    )
                };
                if option.cost + rest == value {
                    best.stays[other].push(option.arc);
                    return at;
                }
            }
        }
        if n + 1 >= until {
            Position::Free(n + 1)
        } else {
            Position::Occupied(lane, o, n + 1)
        }
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Transition {
    Wait,
    Clean,
    Plant(usize, u32),
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Position {
    Free(u32),
    Occupied(usize, u32, u32),
}
