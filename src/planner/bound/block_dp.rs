//! The best plan of a few holes together, where plants are so wide that little goes together.
//!
//! Two neighbours are planned exactly by [`crate::planner::search::pair`]. In a tube of kale, or a deck of close
//! tubes, a plant keeps others out of more holes than one, and for as long as it stands: that is
//! seen only where all of these holes are planned together. What can stand in them at one time is
//! then so little that it can be written down: a node is what stands in each hole from one
//! workday to the next, and how many scrubbings are still to do; an edge takes one plant out or
//! sets one in. Which nodes there are does not depend on prices, so they are found once, and the
//! best plan at some prices is a shortest path through them.
//!
//! When a plant comes out is decided no earlier than on that day. So what follows from two days of
//! removal is not seen: neighbours may be nearer in stage than they should be. The plan is at
//! least as cheap as any that keeps all rules, which is what a bound asks for.

use std::collections::{BTreeMap, HashMap};
use std::rc::Rc;

use crate::planner::problem::model::{ArcId, Model, as_u32, first_crowded_day};
use crate::planner::search::pair::{HoleOptions, JointPath};

/// The most holes of a set.
pub const MAX_HOLES: usize = 6;

/// What can stand in a set of holes from day to day, and how one comes from the one to the other.
#[derive(Debug)]
pub struct JointBlock {
    /// The edges of node `n` are `edges[first[n]..first[n + 1]]`. They lead to higher numbers; the
    /// last node is the end, and the first the beginning.
    first: Vec<u32>,
    edges: Vec<Edge>,
    /// How many arcs the class of each hole has.
    arcs: Vec<usize>,
}

/// A step to another node: a plant comes out of a hole, so that its whole stay is known, or one is
/// set in, or a hole is left as it is.
#[derive(Debug, Clone, Copy)]
struct Edge {
    stay: Option<(u8, ArcId)>,
    to: u32,
}

/// What stands, by hole: a plant, counted from 1, or 0; and the scrubbings still to do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
struct Label {
    stands: [u16; MAX_HOLES],
    cleans_left: usize,
}

/// Where in time a node is: a workday's position, and a step of that day. First, hole by hole,
/// plants come out; then, hole by hole, others are set in.
type DpStage = (usize, usize);

/// A batch, or what stands: its ends by day, and the arc of each.
#[derive(Default)]
struct BatchEnds {
    ends: Vec<(u32, ArcId)>,
}

/// A batch, or what stands: from which day, and how wide from then on, by the day on which it comes
/// out where that matters.
struct PlantOption<'m> {
    first_day: u32,
    radii: Vec<&'m [u32]>,
    crop: Option<usize>,
    want: usize,
    stands: bool,
}

/// Nodes being found.
struct BlockDp<'m> {
    workdays: &'m [u32],
    holes: usize,
    cleans: &'m [(u32, u32)],
    /// By hole and batch.
    batch_ends: Vec<Vec<BatchEnds>>,
    /// By hole and workday: the batches that can be set in.
    starting: Vec<Vec<Vec<usize>>>,
    /// By two holes: until which day two batches can stand together; none where all can for ever.
    conflict_days: Vec<Option<Rc<ConflictDays>>>,
    initial: Label,
    /// Nodes to be looked at, and how many were found in all.
    open_nodes: BTreeMap<DpStage, Nodes>,
    node_count: u32,
}

/// Nodes of one time, in the order in which they were found, and their numbers.
#[derive(Default)]
struct Nodes {
    labels: Vec<(Label, u32)>,
    numbers: HashMap<Label, u32>,
}

/// The first day on which two batches cannot stand together, by the one and the other.
struct ConflictDays {
    others: usize,
    days: Vec<u32>,
}

/// So many times as dense as on average may edges be, up to some day, for the rest to be looked for.
const MAX_DENSITY_RATIO: usize = 3;
/// The number of the end until all nodes are found.
const END_NODE: u32 = 0;
/// Costs more than any plan.
const INFEASIBLE_COST: i64 = i64::MAX / 4;

impl JointBlock {
    /// Finds the nodes of a set of holes of one loop, with the windows in which all are scrubbed
    /// together, as positions; only with plants for one want, if one is given. None where there
    /// would be more than `most` edges, or where holes stay empty between stays.
    #[must_use]
    pub fn build(
        model: &Model<'_>,
        holes: &[usize],
        cleans: &[(u32, u32)],
        want: Option<usize>,
        most: usize,
    ) -> Option<Self> {
        if model.problem.changeover > 0 || holes.len() > MAX_HOLES {
            return None;
        }
        let arcs = holes.iter().map(|&h| model.class(h).arcs.len()).collect();
        let (first, edges) = BlockDp::new(model, holes, cleans, want)?.build_graph(most)?;
        Some(Self { first, edges, arcs })
    }

    /// How many edges there are.
    #[must_use]
    pub const fn edge_count(&self) -> usize {
        self.edges.len()
    }

    /// The best plan with such lanes, one a hole: its cost and stays.
    pub fn plan(&self, lanes: &[&HoleOptions], best: &mut JointPath) {
        let costs = lanes.iter().zip(&self.arcs).map(|(lane, &arcs)| {
            let mut costs = vec![INFEASIBLE_COST; arcs];
            for option in lane.options.iter().chain(&lane.standing) {
                costs[option.arc as usize] = option.cost;
            }
            costs
        });
        let costs: Vec<Vec<i64>> = costs.collect();
        let cost = |edge: &Edge| {
            edge.stay
                .map_or(0, |(hole, arc)| costs[usize::from(hole)][arc as usize])
        };
        // What an edge costs with all that follows.
        let cost_to_go = |edge: &Edge, values: &[i64]| match (cost(edge), values[edge.to as usize])
        {
            (INFEASIBLE_COST, _) | (_, INFEASIBLE_COST) => INFEASIBLE_COST,
            (cost, rest) => cost + rest,
        };
        let end = self.first.len() - 1;
        let mut values = vec![INFEASIBLE_COST; self.first.len()];
        values[end] = 0;
        for node in (0..end).rev() {
            let edges = self.edges_of(node).iter();
            values[node] = edges
                .map(|e| cost_to_go(e, &values))
                .min()
                .unwrap_or(INFEASIBLE_COST);
        }
        best.cost = values[0];
        best.stays.resize_with(lanes.len(), Vec::new);
        best.stays.iter_mut().for_each(Vec::clear);
        let mut node = 0;
        while node < end && values[node] != INFEASIBLE_COST {
            let edges = self.edges_of(node).iter();
            let Some(edge) = edges.min_by_key(|e| cost_to_go(e, &values)) else {
                return;
            };
            if let Some((hole, arc)) = edge.stay {
                best.stays[usize::from(hole)].push(arc);
            }
            node = edge.to as usize;
        }
    }

    fn edges_of(&self, node: usize) -> &[Edge] {
        let upto = self
            .first
            .get(node + 1)
            .map_or(self.edges.len(), |&n| n as usize);
        &self.edges[self.first[node] as usize..upto]
    }
}

impl<'m> BlockDp<'m> {
    /// None where a plant could come out on a day that is no workday.
    fn new(
        model: &'m Model<'_>,
        holes: &[usize],
        cleans: &'m [(u32, u32)],
        want: Option<usize>,
    ) -> Option<Self> {
        let problem = model.problem;
        let workdays = &problem.workdays;
        let plants: Vec<Vec<PlantOption<'_>>> =
            holes.iter().map(|&h| plant_options(model, h)).collect();
        let mut choices = Vec::new();
        for (&hole, plants) in holes.iter().zip(&plants) {
            let mut mine: Vec<BatchEnds> = plants.iter().map(|_| BatchEnds::default()).collect();
            for (arc, n) in model.class(hole).arcs.iter().zip(0..) {
                if workdays.get(arc.to as usize) != Some(&arc.removal) {
                    return None;
                }
                let standing = mine.len() - 1;
                let which = if arc.stands {
                    standing
                } else {
                    arc.batch as usize
                };
                mine[which].ends.push((arc.removal, n));
            }
            choices.push(mine);
        }
        let starting = plants.iter().map(|plants| {
            let mut starts = vec![Vec::new(); workdays.len()];
            let is_asked = |plant: &PlantOption<'_>| want.is_none_or(|want| plant.want == want);
            for (n, plant) in plants.iter().enumerate() {
                if plant.stands || !is_asked(plant) {
                    continue;
                }
                if let Ok(at) = workdays.binary_search(&plant.first_day) {
                    starts[at].push(n);
                }
            }
            starts
        });
        let near: BTreeMap<(usize, usize), u32> = problem
            .pairs
            .iter()
            .map(|p| ((p.a, p.b), p.limit_mm))
            .collect();
        let mut known: BTreeMap<(usize, usize, Option<u32>), Option<Rc<ConflictDays>>> =
            BTreeMap::new();
        let mut until = Vec::new();
        for (&a, ones) in holes.iter().zip(&plants) {
            for (&b, others) in holes.iter().zip(&plants) {
                let limit = near.get(&(a.min(b), a.max(b))).copied();
                let key = (model.class_of[a], model.class_of[b], limit);
                let table = || ConflictDays::of(model, ones, others, limit).map(Rc::new);
                until.push(known.entry(key).or_insert_with(table).clone());
            }
        }
        let mut begin = Label {
            stands: [0; MAX_HOLES],
            cleans_left: cleans.len(),
        };
        for (stands, plants) in begin.stands.iter_mut().zip(&plants) {
            if plants.last().is_some_and(|p| p.stands) {
                *stands = u16::try_from(plants.len()).ok()?;
            }
        }
        Some(Self {
            workdays,
            holes: holes.len(),
            cleans,
            starting: starting.collect(),
            batch_ends: choices,
            conflict_days: until,
            initial: begin,
            open_nodes: BTreeMap::new(),
            node_count: 0,
        })
    }

    /// The nodes' first edges, and the edges; none if there are more than so many.
    fn build_graph(mut self, most: usize) -> Option<(Vec<u32>, Vec<Edge>)> {
        self.advance((0, 0), self.initial)?;
        let mut first = Vec::new();
        let mut edges: Vec<Edge> = Vec::new();
        // The numbers of nodes in the order in which they are looked at.
        let mut order = Vec::new();
        let days = self.workdays.len().max(1);
        while let Some((when, nodes)) = self.open_nodes.pop_first() {
            // So dense, they will be too many in the end: better known soon.
            if edges.len() > (most / days).saturating_mul(MAX_DENSITY_RATIO * (when.0 + 1)) {
                return None;
            }
            for (state, number) in nodes.labels {
                order.push(number);
                first.push(as_u32(edges.len()));
                self.expand(when, state, &mut edges);
                if edges.len() > most {
                    return None;
                }
            }
        }
        order.push(END_NODE);
        first.push(as_u32(edges.len()));
        let mut place = vec![0; order.len()];
        for (at, &number) in (0..).zip(&order) {
            place[number as usize] = at;
        }
        for edge in &mut edges {
            edge.to = place[edge.to as usize];
        }
        Some((first, edges))
    }

    /// The edges of a node.
    fn expand(&mut self, when: DpStage, state: Label, edges: &mut Vec<Edge>) {
        let (position, step) = when;
        let next = (position, step + 1);
        let mut go = |finder: &mut Self, state: Label, stay| {
            let to = finder.advance(next, state);
            edges.extend(to.map(|to| Edge { stay, to }));
        };
        go(self, state, None);
        if let Some(hole) = step.checked_sub(self.holes) {
            let starting = std::mem::take(&mut self.starting[hole][position]);
            for &batch in &starting {
                if self.can_set_in(state, hole, batch, position) {
                    let mut then = state;
                    then.stands[hole] = batch as u16 + 1;
                    go(self, then, None);
                }
            }
            self.starting[hole][position] = starting;
        } else if let Some(arc) = self.stay_ending(state, step, position) {
            let mut then = state;
            then.stands[step] = 0;
            go(self, then, Some((step as u8, arc)));
        }
    }

    /// The node that a state leads to, from some time on: there is no choice before it. None if
    /// it leads nowhere.
    fn advance(&mut self, (mut position, mut step): DpStage, mut state: Label) -> Option<u32> {
        loop {
            if step < self.holes {
                if self.stay_ending(state, step, position).is_some() {
                    break;
                }
            } else if step < 2 * self.holes {
                if step == self.holes {
                    self.apply_cleanings(&mut state, position)?;
                }
                let hole = step - self.holes;
                let fits = |&batch: &usize| self.can_set_in(state, hole, batch, position);
                if state.stands[hole] == 0 && self.starting[hole][position].iter().any(fits) {
                    break;
                }
            } else {
                if position + 1 == self.workdays.len() {
                    let is_over = state.cleans_left == 0 && state.stands.iter().all(|&s| s == 0);
                    return is_over.then_some(END_NODE);
                }
                position += 1;
                step = 0;
                if !self.can_coexist_until(state, self.workdays[position]) {
                    return None;
                }
                continue;
            }
            step += 1;
        }
        let nodes = self.open_nodes.entry((position, step)).or_default();
        let number = nodes.numbers.entry(state).or_insert_with(|| {
            self.node_count += 1;
            nodes.labels.push((state, self.node_count));
            self.node_count
        });
        Some(*number)
    }

    /// Scrubs where that is due and nothing is in the way. None if it is too late.
    fn apply_cleanings(&self, state: &mut Label, position: usize) -> Option<()> {
        let position = as_u32(position);
        while state.cleans_left > 0 {
            let (from, to) = self.cleans[self.cleans.len() - state.cleans_left];
            if position > to {
                return None;
            }
            if position < from || state.stands.iter().any(|&s| s > 0) {
                break;
            }
            state.cleans_left -= 1;
        }
        Some(())
    }

    /// The stay of what stands in a hole, were it to come out.
    fn stay_ending(&self, state: Label, hole: usize, position: usize) -> Option<ArcId> {
        let ends = &self.standing_batch(state, hole)?.1.ends;
        let day = self.workdays[position];
        let at = ends.binary_search_by_key(&day, |e| e.0).ok()?;
        Some(ends[at].1)
    }

    /// What stands in a hole.
    fn standing_batch(&self, state: Label, hole: usize) -> Option<(usize, &BatchEnds)> {
        let batch = usize::from(state.stands[hole]).checked_sub(1)?;
        Some((batch, &self.batch_ends[hole][batch]))
    }

    /// Until which day batches of two holes can stand together.
    fn conflict_day(&self, (a, one): (usize, usize), (b, other): (usize, usize)) -> u32 {
        let table = self.conflict_days[a * self.holes + b].as_ref();
        table.map_or(u32::MAX, |t| t.days[one * t.others + other])
    }

    /// Whether all that stands can until a day, and some day come out.
    fn can_coexist_until(&self, state: Label, day: u32) -> bool {
        (0..self.holes).all(|a| {
            let Some((one, choice)) = self.standing_batch(state, a) else {
                return true;
            };
            let others = 0..a;
            let mut others = others.filter_map(|b| Some((b, self.standing_batch(state, b)?.0)));
            choice.ends.last().is_some_and(|e| e.0 >= day)
                && others.all(|other| self.conflict_day((a, one), other) >= day)
        })
    }

    /// Whether a batch can be set in beside what stands: it, or the other, can come out before
    /// there is no more room for both.
    fn can_set_in(&self, state: Label, hole: usize, batch: usize, position: usize) -> bool {
        let day = self.workdays[position];
        let Some(first) = self.batch_ends[hole][batch].ends.first() else {
            return false;
        };
        (0..self.holes).filter(|&b| b != hole).all(|b| {
            let Some((other, choice)) = self.standing_batch(state, b) else {
                return true;
            };
            let until = self.conflict_day((hole, batch), (b, other));
            let next = choice.ends.iter().find(|e| e.0 > day);
            until > day && (first.0 <= until || next.is_some_and(|e| e.0 <= until))
        })
    }
}

/// What can be set into a hole, batch by batch; and then what stands in it, if anything does.
fn plant_options<'m>(model: &'m Model<'_>, hole: usize) -> Vec<PlantOption<'m>> {
    let problem = model.problem;
    let crop = |name: &str| model.crops.binary_search(&name).ok();
    let batches = problem.kinds[problem.holes[hole].kind].batches.iter();
    let batches = batches.map(|batch| PlantOption {
        first_day: batch.transplant,
        radii: vec![&batch.radius_mm],
        crop: crop(&batch.crop),
        want: batch.want,
        stands: false,
    });
    let standing = problem.standing.iter().filter(|s| s.hole == hole);
    let standing = standing.map(|plant| PlantOption {
        first_day: 0,
        radii: (0..plant.ends.len()).map(|e| plant.radius_of(e)).collect(),
        crop: crop(&plant.crop),
        want: plant.want,
        stands: true,
    });
    batches.chain(standing).collect()
}

impl ConflictDays {
    /// None where all can stand together.
    fn of(
        model: &Model<'_>,
        ones: &[PlantOption<'_>],
        others: &[PlantOption<'_>],
        limit: Option<u32>,
    ) -> Option<Self> {
        let mut days = Vec::with_capacity(ones.len() * others.len());
        for one in ones {
            days.extend(
                others
                    .iter()
                    .map(|other| one.conflict_day(other, limit, model)),
            );
        }
        let others = others.len();
        let is_any = days.iter().any(|&d| d < u32::MAX);
        is_any.then_some(Self { others, days })
    }
}

impl PlantOption<'_> {
    /// The first day on which two plants cannot stand together in one loop, so near each other.
    fn conflict_day(&self, other: &Self, limit: Option<u32>, model: &Model<'_>) -> u32 {
        if self.stands && other.stands {
            return u32::MAX;
        }
        let is_apart = |(a, b): (usize, usize)| model.incompatible[a].contains(&as_u32(b));
        if self.crop.zip(other.crop).is_some_and(is_apart) {
            return self.first_day.max(other.first_day);
        }
        let Some(limit) = limit else {
            return u32::MAX;
        };
        // How wide what stands gets depends on when it comes out: the latest day is looser, not
        // wrong.
        let first = |&a: &&[u32]| {
            let others = other.radii.iter();
            let days = others
                .map(move |&b| first_crowded_day((self.first_day, a), (other.first_day, b), limit));
            days.max()
        };
        self.radii
            .iter()
            .filter_map(first)
            .max()
            .unwrap_or(u32::MAX)
    }
}
