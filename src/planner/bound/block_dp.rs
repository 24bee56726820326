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

use crate::planner::problem::model::{ArcId, Model, as_u32, first_crowded};
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
    left: usize,
}

/// Where in time a node is: a workday's position, and a step of that day. First, hole by hole,
/// plants come out; then, hole by hole, others are set in.
type DayRange = (usize, usize);

/// A batch, or what stands: its ends by day, and the arc of each.
#[derive(Default)]
struct Decision {
    ends: Vec<(u32, ArcId)>,
}

/// A batch, or what stands: from which day, and how wide from then on, by the day on which it comes
/// out where that matters.
struct PlantRow<'m> {
    from: u32,
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
    choices: Vec<Vec<Decision>>,
    /// By hole and workday: the batches that can be set in.
    starting: Vec<Vec<Vec<usize>>>,
    /// By two holes: until which day two batches can stand together; none where all can for ever.
    until: Vec<Option<Rc<Ends>>>,
    begin: Label,
    /// Nodes to be looked at, and how many were found in all.
    found: BTreeMap<DayRange, Nodes>,
    count: u32,
}

/// Nodes of one time, in the order in which they were found, and their numbers.
#[derive(Default)]
struct Nodes {
    states: Vec<(Label, u32)>,
    numbers: HashMap<Label, u32>,
}

/// The first day on which two batches cannot stand together, by the one and the other.
struct Ends {
    others: usize,
    days: Vec<u32>,
}

/// So many times as dense as on average may edges be, up to some day, for the rest to be looked for.
const DENSE_TABLE: usize = 3;
/// The number of the end until all nodes are found.
const NO_LABEL: u32 = 0;
/// Costs more than any plan.
const NO_DAY: i64 = i64::MAX / 4;

impl JointBlock {
    /// Finds the nodes of a set of holes of one loop, with the windows in which all are scrubbed
    /// together, as positions; only with plants for one want, if one is given. None where there
    /// would be more than `most` edges, or where holes stay empty between stays.
    #[must_use]
    pub fn of(
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
        let (first, edges) = BlockDp::new(model, holes, cleans, want)?.find(most)?;
        Some(Self { first, edges, arcs })
    }

    /// How many edges there are.
    #[must_use]
    pub const fn size(&self) -> usize {
        self.edges.len()
    }

    /// The best plan with such lanes, one a hole: its cost and stays.
    pub fn plan(&self, lanes: &[&HoleOptions], best: &mut JointPath) {
        let costs = lanes.iter().zip(&self.arcs).map(|(lane, &arcs)| {
            let mut costs = vec![NO_DAY; arcs];
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
        let whole = |edge: &Edge, values: &[i64]| match (cost(edge), values[edge.to as usize]) {
            (NO_DAY, _) | (_, NO_DAY) => NO_DAY,
            (cost, rest) => cost + rest,
        };
        let end = self.first.len() - 1;
        let mut values = vec![NO_DAY; self.first.len()];
        values[end] = 0;
        for node in (0..end).rev() {
            let edges = self.edges_of(node).iter();
            values[node] = edges.map(|e| whole(e, &values)).min().unwrap_or(NO_DAY);
        }
        best.cost = values[0];
        best.stays.resize_with(lanes.len(), Vec::new);
        best.stays.iter_mut().for_each(Vec::clear);
        let mut node = 0;
        while node < end && values[node] != NO_DAY {
            let edges = self.edges_of(node).iter();
            let Some(edge) = edges.min_by_key(|e| whole(e, &values)) else {
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
        let plants: Vec<Vec<PlantRow<'_>>> = holes.iter().map(|&h| plants(model, h)).collect();
        let mut choices = Vec::new();
        for (&hole, plants) in holes.iter().zip(&plants) {
            let mut mine: Vec<Decision> = plants.iter().map(|_| Decision::default()).collect();
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
            let is_asked = |plant: &PlantRow<'_>| want.is_none_or(|want| plant.want == want);
            for (n, plant) in plants.iter().enumerate() {
                if plant.stands || !is_asked(plant) {
                    continue;
                }
                if let Ok(at) = workdays.binary_search(&plant.from) {
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
        let mut known: BTreeMap<(usize, usize, Option<u32>), Option<Rc<Ends>>> = BTreeMap::new();
        let mut until = Vec::new();
        for (&a, ones) in holes.iter().zip(&plants) {
            for (&b, others) in holes.iter().zip(&plants) {
                let limit = near.get(&(a.min(b), a.max(b))).copied();
                let key = (model.class_of[a], model.class_of[b], limit);
                let table = || Ends::of(model, ones, others, limit).map(Rc::new);
                until.push(known.entry(key).or_insert_with(table).clone());
            }
        }
        let mut begin = Label {
            stands: [0; MAX_HOLES],
            left: cleans.len(),
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
            choices,
            until,
            begin,
            found: BTreeMap::new(),
            count: 0,
        })
    }

    /// The nodes' first edges, and the edges; none if there are more than so many.
    fn find(mut self, most: usize) -> Option<(Vec<u32>, Vec<Edge>)> {
        self.advance((0, 0), self.begin)?;
        let mut first = Vec::new();
        let mut edges: Vec<Edge> = Vec::new();
        // The numbers of nodes in the order in which they are looked at.
        let mut order = Vec::new();
        let days = self.workdays.len().max(1);
        while let Some((when, nodes)) = self.found.pop_first() {
            // So dense, they will be too many in the end: better known soon.
            if edges.len() > (most / days).saturating_mul(DENSE_TABLE * (when.0 + 1)) {
                return None;
            }
            for (state, number) in nodes.states {
                order.push(number);
                first.push(as_u32(edges.len()));
                self.expand(when, state, &mut edges);
                if edges.len() > most {
                    return None;
                }
            }
        }
        order.push(NO_LABEL);
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
    fn expand(&mut self, when: DayRange, state: Label, edges: &mut Vec<Edge>) {
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
                if self.fits(state, hole, batch, position) {
                    let mut then = state;
                    then.stands[hole] = batch as u16 + 1;
                    go(self, then, None);
                }
            }
            self.starting[hole][position] = starting;
        } else if let Some(arc) = self.end(state, step, position) {
            let mut then = state;
            then.stands[step] = 0;
            go(self, then, Some((step as u8, arc)));
        }
    }

    /// The node that a state leads to, from some time on: there is no choice before it. None if
    /// it leads nowhere.
    fn advance(&mut self, (mut position, mut step): DayRange, mut state: Label) -> Option<u32> {
        loop {
            if step < self.holes {
                if self.end(state, step, position).is_some() {
                    break;
                }
            } else if step < 2 * self.holes {
                if step == self.holes {
                    self.clean(&mut state, position)?;
                }
                let hole = step - self.holes;
                let fits = |&batch: &usize| self.fits(state, hole, batch, position);
                if state.stands[hole] == 0 && self.starting[hole][position].iter().any(fits) {
                    break;
                }
            } else {
                if position + 1 == self.workdays.len() {
                    let is_over = state.left == 0 && state.stands.iter().all(|&s| s == 0);
                    return is_over.then_some(NO_LABEL);
                }
                position += 1;
                step = 0;
                if !self.can_stand(state, self.workdays[position]) {
                    return None;
                }
                continue;
            }
            step += 1;
        }
        let nodes = self.found.entry((position, step)).or_default();
        let number = nodes.numbers.entry(state).or_insert_with(|| {
            self.count += 1;
            nodes.states.push((state, self.count));
            self.count
        });
        Some(*number)
    }

    /// Scrubs where that is due and nothing is in the way. None if it is too late.
    fn clean(&self, state: &mut Label, position: usize) -> Option<()> {
        let position = as_u32(position);
        while state.left > 0 {
            let (from, to) = self.cleans[self.cleans.len() - state.left];
            if position > to {
                return None;
            }
            if position < from || state.stands.iter().any(|&s| s > 0) {
                break;
            }
            state.left -= 1;
        }
        Some(())
    }

    /// The stay of what stands in a hole, were it to come out.
    fn end(&self, state: Label, hole: usize, position: usize) -> Option<ArcId> {
        let ends = &self.stands(state, hole)?.1.ends;
        let day = self.workdays[position];
        let at = ends.binary_search_by_key(&day, |e| e.0).ok()?;
        Some(ends[at].1)
    }

    /// What stands in a hole.
    fn stands(&self, state: Label, hole: usize) -> Option<(usize, &Decision)> {
        let batch = usize::from(state.stands[hole]).checked_sub(1)?;
        Some((batch, &self.choices[hole][batch]))
    }

    /// Until which day batches of two holes can stand together.
    fn until(&self, (a, one): (usize, usize), (b, other): (usize, usize)) -> u32 {
        let table = self.until[a * self.holes + b].as_ref();
        table.map_or(u32::MAX, |t| t.days[one * t.others + other])
    }

    /// Whether all that stands can until a day, and some day come out.
    fn can_stand(&self, state: Label, day: u32) -> bool {
        (0..self.holes).all(|a| {
            let Some((one, choice)) = self.stands(state, a) else {
                return true;
            };
            let others = 0..a;
            let mut others = others.filter_map(|b| Some((b, self.stands(state, b)?.0)));
            choice.ends.last().is_some_and(|e| e.0 >= day)
                && others.all(|other| self.until((a, one), other) >= day)
        })
    }

    /// Whether a batch can be set in beside what stands: it, or the other, can come out before
    /// there is no more room for both.
    fn fits(&self, state: Label, hole: usize, batch: usize, position: usize) -> bool {
        let day = self.workdays[position];
        let Some(first) = self.choices[hole][batch].ends.first() else {
            return false;
        };
        (0..self.holes).filter(|&b| b != hole).all(|b| {
            let Some((other, choice)) = self.stands(state, b) else {
                return true;
            };
            let until = self.until((hole, batch), (b, other));
            let next = choice.ends.iter().find(|e| e.0 > day);
            until > day && (first.0 <= until || next.is_some_and(|e| e.0 <= until))
        })
    }
}

/// What can be set into a hole, batch by batch; and then what stands in it, if anything does.
fn plants<'m>(model: &'m Model<'_>, hole: usize) -> Vec<PlantRow<'m>> {
    let problem = model.problem;
    let crop = |name: &str| model.crops.binary_search(&name).ok();
    let batches = problem.kinds[problem.holes[hole].kind].batches.iter();
    let batches = batches.map(|batch| PlantRow {
        from: batch.transplant,
        radii: vec![&batch.radius_mm],
        crop: crop(&batch.crop),
        want: batch.want,
        stands: false,
    });
    let standing = problem.standing.iter().filter(|s| s.hole == hole);
    let standing = standing.map(|plant| PlantRow {
        from: 0,
        radii: (0..plant.ends.len()).map(|e| plant.radius_of(e)).collect(),
        crop: crop(&plant.crop),
        want: plant.want,
        stands: true,
    });
    batches.chain(standing).collect()
}

impl Ends {
    /// None where all can stand together.
    fn of(
        model: &Model<'_>,
        ones: &[PlantRow<'_>],
        others: &[PlantRow<'_>],
        limit: Option<u32>,
    ) -> Option<Self> {
        let mut days = Vec::with_capacity(ones.len() * others.len());
        for one in ones {
            days.extend(others.iter().map(|other| one.until(other, limit, model)));
        }
        let others = others.len();
        let is_any = days.iter().any(|&d| d < u32::MAX);
        is_any.then_some(Self { others, days })
    }
}

impl PlantRow<'_> {
    /// The first day on which two plants cannot stand together in one loop, so near each other.
    fn until(&self, other: &Self, limit: Option<u32>, model: &Model<'_>) -> u32 {
        if self.stands && other.stands {
            return u32::MAX;
        }
        let is_apart = |(a, b): (usize, usize)| model.apart[a].contains(&as_u32(b));
        if self.crop.zip(other.crop).is_some_and(is_apart) {
            return self.from.max(other.from);
        }
        let Some(limit) = limit else {
            return u32::MAX;
        };
        // How wide what stands gets depends on when it comes out: the latest day is looser, not
        // wrong.
        let first = |&a: &&[u32]| {
            let others = other.radii.iter();
            let days = others.map(move |&b| first_crowded((self.from, a), (other.from, b), limit));
            days.max()
        };
        self.radii
            .iter()
            .filter_map(first)
            .max()
            .unwrap_or(u32::MAX)
    }
}
