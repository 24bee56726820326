//! The best plan of two neighbouring holes together at given prices, solved exactly.
//!
//! A node is "one hole is taken by stay `j`, the other is free from position `n` on", or "both
//! are free from `n` on". Of two stays that stand at the same time, the later to be put in is
//! checked against the earlier, which is all that the rules between neighbours ask for.
//!
//! Where tubes are scrubbed, both holes must be free on one day of each window: the nodes are
//! there once for each number of cleanings still to do.

use super::model::{Arc, ArcId, Class, Conflicts, as_u32};

/// Prices: what each item (by its index in the model) is worth, and what a nursery cell costs
/// on each day, all in the same unit of cost.
#[derive(Debug, Clone, Default)]
pub struct Prices {
    /// Worth of each of the model's items.
    pub item: Vec<i64>,
    /// Sum over days before each day, from the first day of sowing, of what a thousandth of a
    /// nursery cell costs.
    pub nursery: Vec<i64>,
    /// The day at which `nursery` begins.
    pub first_day: i32,
    /// What a stay costs.
    pub stay: i64,
}

impl Prices {
    /// What a stay costs at these prices: negative if it is worth it.
    #[must_use]
    pub fn of(&self, class: &Class, arc: &Arc) -> i64 {
        let gains: i64 = class.items[arc.items.start as usize..arc.items.end as usize]
            .iter()
            .map(|&i| self.item[i as usize])
            .sum();
        if arc.stands {
            return -gains;
        }
        let at = |day: i64| usize::try_from(day - i64::from(self.first_day)).unwrap_or(0);
        let nursery = self.nursery[at(arc.transplant.into())] - self.nursery[at(arc.sow.into())];
        let cells = i64::try_from(arc.cells_milli).unwrap_or(i64::MAX);
        self.stay - gains + nursery * cells
    }
}

/// Two holes (or one) priced together.
pub struct Pair<'m> {
    sides: Vec<Side<'m>>,
    /// `tables[s]`: what stays of side `s` rule out on the other.
    tables: Vec<&'m Conflicts>,
    /// Windows of the cleanings, in time order, as positions among the workdays.
    cleans: Vec<(u32, u32)>,
    positions: u32,
}

struct Side<'m> {
    class: &'m Class,
    /// Where each arc's nodes begin among the nodes.
    nodes: Vec<u32>,
    node_count: usize,
    /// Arcs that stand at each position, the ones that start there included.
    active: Vec<Vec<ArcId>>,
}

impl<'m> Side<'m> {
    fn new(class: &'m Class, positions: u32) -> Self {
        let mut nodes = Vec::with_capacity(class.arcs.len());
        let mut next = 0;
        let mut active = vec![Vec::new(); positions as usize];
        for (a, arc) in class.arcs.iter().enumerate() {
            nodes.push(next);
            next += arc.to - arc.from;
            for at in arc.from..arc.to {
                active[at as usize].push(as_u32(a));
            }
        }
        Self {
            class,
            nodes,
            node_count: next as usize,
            active,
        }
    }

    fn node(&self, arc: ArcId, position: u32) -> usize {
        (self.nodes[arc as usize] + position - self.class.arcs[arc as usize].from) as usize
    }

    fn starting(&self, position: u32) -> std::ops::Range<ArcId> {
        self.class.starts[position as usize]..self.class.starts[position as usize + 1]
    }
}

/// Working space of [`Pair::solve`].
#[derive(Debug, Default)]
pub struct Space {
    cost: Vec<Vec<i64>>,
    /// `held[phase][side][node]`.
    held: Vec<Vec<Vec<i64>>>,
    /// `free[phase][position]`.
    free: Vec<Vec<i64>>,
}

/// Never reached.
const NEVER: i64 = i64::MAX / 4;

/// The best plan of a pair: its cost at the prices, and its stays by side.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Best {
    /// Cost at the prices.
    pub cost: i64,
    /// Stays of each side.
    pub stays: Vec<Vec<ArcId>>,
}

impl<'m> Pair<'m> {
    /// Two holes of these classes, whose stays rule each other out by `tables` (what the
    /// first's rule out on the second's, and the other way round); `cleans` are windows as
    /// positions.
    #[must_use]
    pub fn new(
        classes: [&'m Class; 2],
        tables: [&'m Conflicts; 2],
        cleans: Vec<(u32, u32)>,
        positions: usize,
    ) -> Self {
        let positions = as_u32(positions);
        Self {
            sides: classes.map(|c| Side::new(c, positions)).into(),
            tables: tables.into(),
            cleans,
            positions,
        }
    }

    /// One hole alone.
    #[must_use]
    pub fn single(class: &'m Class, cleans: Vec<(u32, u32)>, positions: usize) -> Self {
        let positions = as_u32(positions);
        Self {
            sides: vec![Side::new(class, positions)],
            tables: Vec::new(),
            cleans,
            positions,
        }
    }

    /// The best plan at given prices.
    pub fn solve(&self, prices: &Prices, space: &mut Space) -> Best {
        self.prepare(prices, space);
        for left in 0..=self.cleans.len() {
            self.sweep(left, space);
        }
        self.trace(space)
    }

    fn prepare(&self, prices: &Prices, space: &mut Space) {
        space.cost.clear();
        for side in &self.sides {
            let arcs = side.class.arcs.iter();
            let cost = arcs.map(|a| prices.of(side.class, a)).collect();
            space.cost.push(cost);
        }
        let phases = self.cleans.len() + 1;
        space.free.resize(phases, Vec::new());
        space.held.resize_with(phases, Vec::new);
        for (free, held) in space.free.iter_mut().zip(&mut space.held) {
            free.clear();
            free.resize(self.positions as usize + 1, NEVER);
            held.resize_with(self.sides.len(), Vec::new);
            for (held, side) in held.iter_mut().zip(&self.sides) {
                held.clear();
                held.resize(side.node_count, NEVER);
            }
        }
        space.free[0][self.positions as usize] = 0;
    }

    /// The cleaning that is next when `left` are still to do.
    fn window(&self, left: usize) -> Option<(u32, u32)> {
        (left > 0).then(|| self.cleans[self.cleans.len() - left])
    }

    /// Fills in the nodes with `left` cleanings still to do, latest first.
    fn sweep(&self, left: usize, space: &mut Space) {
        // Before the last cleaning done there is nothing to fill in.
        let low = if left == self.cleans.len() {
            0
        } else {
            self.cleans[self.cleans.len() - left - 1].0
        };
        // With a cleaning to do, nothing is reached beyond its window.
        let high = self
            .window(left)
            .map_or(self.positions - 1, |w| w.1.min(self.positions - 1));
        for n in (low..=high).rev() {
            for side in 0..self.sides.len() {
                for k in 0..self.sides[side].active[n as usize].len() {
                    let arc = self.sides[side].active[n as usize][k];
                    let node = self.sides[side].node(arc, n);
                    space.held[left][side][node] = self.held(left, side, arc, n, space);
                }
            }
            space.free[left][n as usize] = self.free(left, n, space).0;
        }
    }

    /// Least cost from a node on: `side` is taken by `arc`, the other side free from `n`.
    fn held(&self, left: usize, side: usize, arc: ArcId, n: u32, space: &Space) -> i64 {
        let mut best = self.held_or_free(left, side, arc, n + 1, space);
        let Some(other) = self.sides.get(1 - side) else {
            return best;
        };
        let until = self.sides[side].class.arcs[arc as usize].to;
        let row = self.tables[side].row(arc);
        let held = &space.held[left];
        let costs = &space.cost[1 - side];
        for i in other.starting(n) {
            if row[i as usize / 64] >> (i % 64) & 1 == 1 {
                continue;
            }
            let to = other.class.arcs[i as usize].to;
            let rest = if to < until {
                held[side][self.sides[side].node(arc, to)]
            } else if to == until {
                space.free[left][to as usize]
            } else {
                held[1 - side][other.node(i, until)]
            };
            best = best.min(costs[i as usize] + rest);
        }
        best
    }

    /// The value of the node at `n`, or of both free once the stay is over.
    fn held_or_free(&self, left: usize, side: usize, arc: ArcId, n: u32, space: &Space) -> i64 {
        if n >= self.sides[side].class.arcs[arc as usize].to {
            space.free[left][n as usize]
        } else {
            space.held[left][side][self.sides[side].node(arc, n)]
        }
    }

    /// Least cost from both sides free at `n` on, and how it goes on.
    fn free(&self, left: usize, n: u32, space: &Space) -> (i64, Step) {
        let mut best = (space.free[left][n as usize + 1], Step::Wait);
        if self
            .window(left)
            .is_some_and(|(low, high)| low <= n && n <= high)
        {
            let cleaned = space.free[left - 1][n as usize];
            if cleaned < best.0 {
                best = (cleaned, Step::Clean);
            }
        }
        for (side, s) in self.sides.iter().enumerate() {
            for arc in s.starting(n) {
                let rest = space.held[left][side][s.node(arc, n)];
                let cost = space.cost[side][arc as usize] + rest;
                if cost < best.0 {
                    best = (cost, Step::Plant(side, arc));
                }
            }
        }
        best
    }

    /// Follows the cheapest nodes from the beginning.
    fn trace(&self, space: &Space) -> Best {
        let mut left = self.cleans.len();
        let mut stays = vec![Vec::new(); self.sides.len()];
        let (cost, mut at) = self.beginning(left, space, &mut stays);
        loop {
            match at {
                At::Free(n) if n == self.positions => break,
                At::Free(n) => match self.free(left, n, space).1 {
                    Step::Wait => at = At::Free(n + 1),
                    Step::Clean => left -= 1,
                    Step::Plant(side, arc) => {
                        stays[side].push(arc);
                        at = At::Held(side, arc, n);
                    }
                },
                At::Held(side, arc, n) => {
                    at = self.after_held(left, side, arc, n, space, &mut stays);
                }
            }
        }
        Best { cost, stays }
    }

    /// The first node: what stands has to be begun with.
    fn beginning(&self, left: usize, space: &Space, stays: &mut [Vec<ArcId>]) -> (i64, At) {
        let standing: Vec<Vec<ArcId>> = self
            .sides
            .iter()
            .map(|s| s.class.standing.clone().collect())
            .collect();
        let mut best = (NEVER, At::Free(self.positions), Vec::new());
        let mut offer = |cost: i64, at: At, chosen: Vec<(usize, ArcId)>| {
            if cost < best.0 {
                best = (cost, at, chosen);
            }
        };
        let arc = |side: usize, a: ArcId| &self.sides[side].class.arcs[a as usize];
        let alone = |side: usize, a: ArcId| {
            let cost = space.cost[side][a as usize] + self.held_or_free(left, side, a, 0, space);
            let to = arc(side, a).to;
            (
                cost,
                if to == 0 {
                    At::Free(0)
                } else {
                    At::Held(side, a, 0)
                },
            )
        };
        match (
            standing[0].is_empty(),
            standing.get(1).is_none_or(Vec::is_empty),
        ) {
            (true, true) => return (space.free[left][0], At::Free(0)),
            (false, true) | (true, false) => {
                let side = usize::from(standing[0].is_empty());
                for &a in &standing[side] {
                    let (cost, at) = alone(side, a);
                    offer(cost, at, vec![(side, a)]);
                }
            }
            (false, false) => {
                for &a in &standing[0] {
                    for &b in &standing[1] {
                        let (ta, tb) = (arc(0, a).to, arc(1, b).to);
                        // The longer holds; the other is free from the end of the shorter.
                        let (side, long, n) = if ta <= tb { (1, b, ta) } else { (0, a, tb) };
                        let cost = space.cost[0][a as usize]
                            + space.cost[1][b as usize]
                            + self.held_or_free(left, side, long, n, space);
                        let at = if n >= arc(side, long).to {
                            At::Free(n)
                        } else {
                            At::Held(side, long, n)
                        };
                        offer(cost, at, vec![(0, a), (1, b)]);
                    }
                }
            }
        }
        for (side, a) in best.2 {
            stays[side].push(a);
        }
        (best.0, best.1)
    }

    fn after_held(
        &self,
        left: usize,
        side: usize,
        arc: ArcId,
        n: u32,
        space: &Space,
        stays: &mut [Vec<ArcId>],
    ) -> At {
        let until = self.sides[side].class.arcs[arc as usize].to;
        let value = space.held[left][side][self.sides[side].node(arc, n)];
        if let Some(other) = self.sides.get(1 - side) {
            for i in other.starting(n) {
                if self.tables[side].clash(arc, i) {
                    continue;
                }
                let to = other.class.arcs[i as usize].to;
                let (rest, at) = if to < until {
                    let node = self.sides[side].node(arc, to);
                    (space.held[left][side][node], At::Held(side, arc, to))
                } else if to == until {
                    (space.free[left][to as usize], At::Free(to))
                } else {
                    let node = other.node(i, until);
                    (
                        space.held[left][1 - side][node],
                        At::Held(1 - side, i, until),
                    )
                };
                if space.cost[1 - side][i as usize] + rest == value {
                    stays[1 - side].push(i);
                    return at;
                }
            }
        }
        if n + 1 >= until {
            At::Free(n + 1)
        } else {
            At::Held(side, arc, n + 1)
        }
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Step {
    Wait,
    Clean,
    Plant(usize, ArcId),
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum At {
    Free(u32),
    Held(usize, ArcId, u32),
}
