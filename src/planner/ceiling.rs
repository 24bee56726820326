//! The ceiling: a cost below which no plan can go.
//!
//! Wants by week and the nursery are given prices; at those prices holes are planned in
//! neighbouring pairs, each pair exactly ([`super::pair`]), and every want is supplied by the
//! week as is best for it alone, between supplies that are reachable. Whatever the prices,
//! the sum of these is at most the cost of any plan (Lagrangian duality: see Geoffrion 1974,
//! "Lagrangean relaxation for integer programming"); [`super::bundle`] moves the prices so that
//! it is high.
//! Single holes would be far too loose, as neighbours hold each other.

use std::collections::BTreeMap;

use super::bundle::{Column, Master, Term};
use super::cost;
use super::model::{ArcId, Model, as_u32};
use super::pair::{self, Best, Lane, Space, Task};
use super::prices::Prices;
use super::problem::Problem;
use super::solution::Solution;

/// Prices are kept in this part of a thousandth of cost.
const SCALE: i64 = 1_000_000;

/// A proven bound, and plans that come near it.
#[derive(Debug, Clone)]
pub struct Ceiling {
    /// No plan costs less, in thousandths.
    pub bound: i64,
    /// Plans of pairs that together come near the bound.
    pub mix: Vec<Mixed>,
}

/// Holes in pairs that are alike, and plans that suit them.
#[derive(Debug, Clone)]
pub struct Mixed {
    /// The pairs; one hole alone comes twice.
    pub pairs: Vec<[usize; 2]>,
    /// Plans of a pair, and how many pairs would have each.
    pub plans: Vec<([Vec<ArcId>; 2], f64)>,
}

/// Pairs of holes that are alike (or single holes), and how many there are.
pub(super) struct Group {
    pub count: i64,
    pub pairs: Vec<[usize; 2]>,
    pub classes: Vec<usize>,
    /// What the first's stays rule out on the second's, and the other way round.
    pub tables: Vec<u32>,
    pub cleans: Vec<(u32, u32)>,
}

impl Group {
    fn mixed(&self) -> Mixed {
        Mixed {
            pairs: self.pairs.clone(),
            plans: Vec::new(),
        }
    }
}

/// Prices being moved.
struct Dual<'m> {
    model: &'m Model<'m>,
    groups: Vec<Group>,
    /// Step between reachable supplies, by cell; 0 where nothing can be supplied.
    grid: Vec<i64>,
    first_day: i32,
    nursery_days: usize,
    prices: Prices,
    /// Lanes of each class at the prices.
    lanes: Vec<Lane>,
    space: Space,
}

/// What was found at some prices.
struct Tried {
    /// The bound, in thousandths.
    bound: i64,
    /// The best plan of each group's pair.
    columns: Vec<Column>,
}

/// Looked no closer than this share of the plan's worth.
const CLOSE: i64 = 2_500;

/// How close to a plan of such a cost a ceiling is looked for, in thousandths.
#[must_use]
pub fn close(problem: &Problem, cost: i64) -> i64 {
    (cost::of_nothing(problem) - cost) / CLOSE
}

/// The ceiling over a plan, after so many rounds at the most.
#[must_use]
pub fn over(model: &Model<'_>, solution: &Solution, rounds: usize) -> Ceiling {
    let cost = solution.cost(model.problem);
    let mut climb = Climb::new(model, &solution.supply(model.problem).concat());
    climb.raise(cost, close(model.problem, cost), rounds);
    climb.ceiling()
}

/// A bound being raised.
pub struct Climb<'m> {
    dual: Dual<'m>,
    master: Master,
    /// The best bound so far.
    bound: i64,
    /// The bound at the prices that the master holds to.
    centre: f64,
}

/// Of what is open, the least worth another trial, and how exactly the master is solved.
const WORTH_A_TRIAL: f64 = 0.01;
const EXACTLY: f64 = 0.002;
/// A trial is a step up if it keeps this share of what was promised, and a good one if it keeps
/// that; the master's view of prices was wrong if it loses as much.
const STEP: f64 = 0.1;
const GOOD_STEP: f64 = 0.5;
const WRONG: f64 = -0.3;
/// How much tighter or looser prices are held then.
const TIGHTER: f64 = 1.1;
const LOOSER: f64 = 0.5;
/// Where nothing is promised, prices may be held too tight: how often, and how much, they are
/// let loose before it is believed.
const LETS: usize = 5;
const LOOSE: f64 = 0.4;

impl<'m> Climb<'m> {
    /// Begins at what a harvest more is worth to a plan with such a supply, by cell.
    #[must_use]
    pub fn new(model: &'m Model<'m>, supply: &[i64]) -> Self {
        let mut dual = Dual::new(model);
        let worth = (0..model.cells.len()).map(|c| dual.marginal(c, supply[c]));
        let prices: Vec<f64> = worth.chain(vec![0.0; dual.nursery_days]).collect();
        let first = dual.attempt(&prices);
        let mut master = Master::new(dual.terms(), dual.counts(), prices);
        master.add(first.columns);
        Self {
            dual,
            master,
            bound: first.bound,
            centre: first.bound as f64,
        }
    }

    /// Raises the bound until it is within `enough` of `aim`, a plan's cost, or prices were
    /// tried `rounds` times more, or there is no more to gain.
    pub fn raise(&mut self, aim: i64, enough: i64, rounds: usize) {
        let (mut left, mut lets, mut held) = (rounds, 0, self.master.stiffness);
        while left > 0 && aim - self.bound > enough {
            let open = aim as f64 - self.centre;
            let least = open * WORTH_A_TRIAL;
            let promised = self.master.solve(open * EXACTLY);
            // Where it is not known what is promised, a trial tells.
            let promise = promised.map_or(least, |p| p - self.centre);
            if promised.is_some() && promise <= least {
                if lets == LETS {
                    self.master.stiffness = held;
                    break;
                }
                lets += 1;
                self.master.stiffness *= LOOSE;
                continue;
            }
            self.attempt(promise.max(least));
            left -= 1;
            (lets, held) = (0, self.master.stiffness);
        }
    }

    fn attempt(&mut self, promise: f64) {
        let master = &mut self.master;
        let tried = self.dual.attempt(&master.prices);
        self.bound = self.bound.max(tried.bound);
        let kept = (tried.bound as f64 - self.centre) / promise;
        master.add(tried.columns);
        if kept >= STEP {
            self.centre = tried.bound as f64;
            master.centre.clone_from(&master.prices);
        }
        if kept >= GOOD_STEP {
            master.stiffness *= LOOSER;
        } else if kept <= WRONG {
            master.stiffness *= TIGHTER;
        }
    }

    /// The bound so far, and plans that come near it.
    #[must_use]
    pub fn ceiling(&self) -> Ceiling {
        let mut mix: Vec<Mixed> = self.dual.groups.iter().map(Group::mixed).collect();
        for (column, often) in self.master.mixed() {
            let plan = (column.stays.clone(), often);
            mix[column.group].plans.push(plan);
        }
        Ceiling {
            bound: self.bound,
            mix,
        }
    }
}

impl<'m> Dual<'m> {
    fn new(model: &'m Model<'m>) -> Self {
        let problem = model.problem;
        let first_day = first_sowing(problem);
        let nursery_days = i64::from(problem.days + problem.tail) - i64::from(first_day);
        Self {
            model,
            groups: groups(model),
            grid: grid(model),
            first_day,
            nursery_days: usize::try_from(nursery_days).unwrap_or(0),
            prices: Prices::default(),
            lanes: vec![Lane::default(); model.classes.len()],
            space: Space::default(),
        }
    }

    /// What one harvest more is worth at a supply.
    #[allow(clippy::cast_precision_loss)]
    fn marginal(&self, cell: usize, supply: i64) -> f64 {
        let c = &self.model.cells[cell];
        if c.target <= 0 {
            return 0.0;
        }
        let weight = self.model.problem.wants[c.want].weight_milli as f64;
        let share = (c.target - supply) as f64 / c.target as f64;
        if share > 0.0 {
            weight * (100.0 + 200.0 * share)
        } else {
            weight * (20.0 * share)
        }
    }

    /// Prices by cell in whole numbers: scaled cost for a thousandth of the want's unit.
    #[allow(clippy::cast_precision_loss, clippy::cast_possible_truncation)]
    fn whole(&self, worth: &[f64]) -> Vec<i64> {
        worth
            .iter()
            .zip(&self.model.cells)
            .map(|(&worth, cell)| {
                let harvest = self.model.problem.wants[cell.want].harvest_milli as f64;
                (worth * SCALE as f64 / harvest).round() as i64
            })
            .collect()
    }

    /// The terms of the dual that are known outright: wants by week, then nursery days.
    #[allow(clippy::cast_precision_loss)]
    fn terms(&self) -> Vec<Term> {
        let problem = self.model.problem;
        let cells = (0..self.model.cells.len()).map(|c| self.want_term(c));
        let there = problem.nursery_cells_milli as f64 / 1000.0;
        let nursery = std::iter::repeat_n(Term::Limit { there }, self.nursery_days);
        cells.chain(nursery).collect()
    }

    /// A want-week's costs at reachable supplies, up to thrice its target; where these are very
    /// many, at some of them.
    #[allow(clippy::cast_precision_loss)]
    fn want_term(&self, cell: usize) -> Term {
        let c = &self.model.cells[cell];
        if c.target <= 0 || self.grid[cell] == 0 {
            return Term::Nothing;
        }
        let harvest = self.model.problem.wants[c.want].harvest_milli as f64;
        let grid = self.grid[cell] * (c.target / (100 * self.grid[cell])).max(1);
        let steps = 3 * c.target / grid + 2;
        Term::Want {
            grid: grid as f64 / harvest,
            costs: (0..=steps)
                .map(|k| self.model.cell_cost(cell, k * grid) as f64)
                .collect(),
        }
    }

    #[allow(clippy::cast_precision_loss)]
    fn counts(&self) -> Vec<f64> {
        self.groups.iter().map(|g| g.count as f64).collect()
    }

    /// Plans every group at some prices: for each cell what a harvest is worth, then for each
    /// nursery day what a cell costs.
    #[allow(clippy::cast_precision_loss, clippy::cast_possible_truncation)]
    fn attempt(&mut self, prices: &[f64]) -> Tried {
        let model = self.model;
        let (worth, nursery) = prices.split_at(model.cells.len());
        let whole = self.whole(worth);
        self.prices.item.clear();
        self.prices
            .item
            .extend(model.items.iter().map(|i| whole[i.cell as usize] * i.milli));
        self.prices.stay = model.problem.stay_cost_milli * SCALE;
        self.prices.first_day = self.first_day;
        let day_prices: Vec<i64> = nursery
            .iter()
            .map(|p| (p * SCALE as f64 / 1000.0).round() as i64)
            .collect();
        self.prices.nursery.clear();
        self.prices.nursery.push(0);
        let mut sum = 0;
        for &p in &day_prices {
            sum += p;
            self.prices.nursery.push(sum);
        }
        let mut total: i128 = 0;
        let mut columns = Vec::with_capacity(self.groups.len());
        for (class, lane) in model.classes.iter().zip(&mut self.lanes) {
            self.prices.lane(class, lane);
        }
        let mut best = Best::default();
        for (n, group) in self.groups.iter().enumerate() {
            let lanes: Vec<Lane> = group
                .classes
                .iter()
                .map(|&c| self.lanes[c].clone())
                .collect();
            let tables: Vec<_> = group
                .tables
                .iter()
                .map(|&t| &model.tables[t as usize])
                .collect();
            let task = Task {
                lanes: &lanes,
                tables: &tables,
                cleans: &group.cleans,
                low: 0,
                high: as_u32(model.problem.workdays.len()),
            };
            pair::solve(&task, &mut self.space, &mut best);
            total += i128::from(best.cost) * i128::from(group.count);
            columns.push(self.column(n, group, &best));
        }
        for (c, &price) in whole.iter().enumerate() {
            total += i128::from(self.demand(c, price));
        }
        let there = i128::from(model.problem.nursery_cells_milli);
        total -= day_prices
            .iter()
            .map(|&p| i128::from(p) * there)
            .sum::<i128>();
        // Costs are whole thousandths: so may the bound be, rounded up.
        let bound = total.div_euclid(SCALE.into()) + i128::from(total.rem_euclid(SCALE.into()) > 0);
        Tried {
            bound: i64::try_from(bound).unwrap_or(i64::MIN),
            columns,
        }
    }

    /// What one pair's plan costs in stays, gives and takes.
    #[allow(clippy::cast_precision_loss)]
    fn column(&self, group: usize, of: &Group, best: &Best) -> Column {
        let problem = self.model.problem;
        let mut uses: BTreeMap<usize, f64> = BTreeMap::new();
        let mut cost = 0.0;
        for (&class, stays) in of.classes.iter().zip(&best.stays) {
            let class = &self.model.classes[class];
            for &a in stays {
                let arc = &class.arcs[a as usize];
                for item in self.model.yields(class, arc) {
                    let cell = item.cell as usize;
                    let harvest = problem.wants[self.model.cells[cell].want].harvest_milli;
                    *uses.entry(cell).or_default() += item.milli as f64 / harvest as f64;
                }
                if arc.stands {
                    continue;
                }
                cost += problem.stay_cost_milli as f64;
                for day in i64::from(arc.sow)..i64::from(arc.transplant) {
                    let at = usize::try_from(day - i64::from(self.first_day)).unwrap_or(0);
                    let term = self.model.cells.len() + at;
                    *uses.entry(term).or_default() -= arc.cells_milli as f64 / 1000.0;
                }
            }
        }
        Column {
            group,
            cost,
            uses: uses.into_iter().collect(),
            stays: best.stays.clone(),
        }
    }

    /// What a want-week costs at a price for each thousandth of a unit, scaled, with the supply
    /// that is best for it alone: at most what any reachable supply costs.
    #[allow(clippy::cast_precision_loss, clippy::cast_possible_truncation)]
    fn demand(&self, cell: usize, price: i64) -> i64 {
        let c = &self.model.cells[cell];
        if c.target <= 0 {
            // Such a week's price is kept at nothing.
            return 0;
        }
        let want = &self.model.problem.wants[c.want];
        let (weight, target) = (want.weight_milli as f64, c.target as f64);
        let per_harvest = price as f64 * want.harvest_milli as f64 / SCALE as f64 / weight;
        let wish = if per_harvest >= 100.0 {
            target * (1.0 - ((per_harvest - 100.0) / 200.0).min(1.0))
        } else if per_harvest >= -5.0 {
            target
        } else {
            target * (1.0 + (-per_harvest - 5.0) / 20.0)
        };
        let grid = self.grid[cell].max(1);
        let at = (wish / grid as f64) as i64;
        // The cost is convex but for its rounding: the best is next to the wish.
        let near = ((at - 2).max(0)..=at + 2).map(|k| {
            let amount = k * grid;
            self.model.cell_cost(cell, amount) * SCALE + price * amount
        });
        near.min().unwrap_or(0) - SCALE
    }
}

pub(super) fn first_sowing(problem: &Problem) -> i32 {
    let sowings = problem
        .kinds
        .iter()
        .flat_map(|k| k.batches.iter().map(|b| b.sow));
    sowings.min().unwrap_or(0).min(0)
}

fn grid(model: &Model<'_>) -> Vec<i64> {
    fn gcd(a: i64, b: i64) -> i64 {
        if b == 0 { a } else { gcd(b, a % b) }
    }
    model
        .cells
        .iter()
        .map(|c| {
            model.items[c.items.start as usize..c.items.end as usize]
                .iter()
                .fold(0, |g, i| gcd(g, i.milli))
        })
        .collect()
}

/// Matches holes with near neighbours, the nearest first, and counts the pairs that are alike.
pub(super) fn groups(model: &Model<'_>) -> Vec<Group> {
    type Key = (Vec<usize>, Vec<u32>, Vec<(u32, u32)>);
    let problem = model.problem;
    let mut pairs: Vec<usize> = (0..problem.pairs.len()).collect();
    pairs.sort_by_key(|&n| {
        let p = &problem.pairs[n];
        (p.limit_mm, !p.side_by_side, p.a, p.b)
    });
    let mut matched = vec![false; problem.holes.len()];
    let mut keys: BTreeMap<Key, Vec<[usize; 2]>> = BTreeMap::new();
    let table = |from: usize, to: usize| {
        let of = model.neighbours[to].iter();
        of.filter(|n| n.hole as usize == from)
            .map(|n| n.table)
            .next()
    };
    for n in pairs {
        let (a, b) = (problem.pairs[n].a, problem.pairs[n].b);
        if matched[a] || matched[b] {
            continue;
        }
        let (Some(a_rules), Some(b_rules)) = (table(a, b), table(b, a)) else {
            continue;
        };
        (matched[a], matched[b]) = (true, true);
        // Holes of different tubes need not be scrubbed on one day.
        let cleans = if problem.holes[a].tube == problem.holes[b].tube {
            windows(model, problem.holes[a].tube)
        } else {
            Vec::new()
        };
        let key = (
            vec![model.class_of[a], model.class_of[b]],
            vec![a_rules, b_rules],
            cleans,
        );
        keys.entry(key).or_default().push([a, b]);
    }
    for hole in (0..problem.holes.len()).filter(|&h| !matched[h]) {
        let cleans = windows(model, problem.holes[hole].tube);
        let key = (vec![model.class_of[hole]], Vec::new(), cleans);
        keys.entry(key).or_default().push([hole, hole]);
    }
    keys.into_iter()
        .map(|((classes, tables, cleans), mut pairs)| Group {
            count: i64::try_from(pairs.len()).unwrap_or(i64::MAX),
            pairs: {
                pairs.sort_unstable();
                pairs
            },
            classes,
            tables,
            cleans,
        })
        .collect()
}

/// The windows in which a tube is scrubbed, as positions among the workdays.
fn windows(model: &Model<'_>, tube: usize) -> Vec<(u32, u32)> {
    let problem = model.problem;
    // A changeover ends later than the hole is free to be scrubbed in.
    let slack = if problem.changeover == 0 {
        0
    } else {
        problem.changeover + 7
    };
    let mut windows: Vec<(u32, u32)> = model.cleans_of[tube]
        .iter()
        .map(|&c| {
            let [first, last] = problem.cleans[c].days;
            let from = problem.workdays.partition_point(|&d| d < first);
            let to = problem.workdays.partition_point(|&d| d <= last + slack);
            (as_u32(from), as_u32(to.saturating_sub(1)))
        })
        .collect();
    windows.sort_unstable();
    windows
}
