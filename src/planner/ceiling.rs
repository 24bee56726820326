//! The ceiling: a cost below which no plan can go.
//!
//! Wants by week and the nursery are given prices; at those prices holes are planned in
//! neighbouring pairs, each pair exactly ([`super::pair`]), and every want is supplied by the
//! week as is best for it alone, between supplies that are reachable. Whatever the prices,
//! the sum of these is at most the cost of any plan (Lagrangian duality: see Geoffrion 1974,
//! "Lagrangean relaxation for integer programming"); the prices are moved so that it is high
//! (a deflected subgradient with Polyak's step, after Camerini, Fratta & Maffioli 1975).
//! Single holes would be far too loose, as neighbours hold each other.

use std::collections::BTreeMap;

use super::model::Model;
use super::pair::{Best, Pair, Prices, Space};
use super::problem::Problem;

/// Prices are kept in this part of a thousandth of cost.
const SCALE: i64 = 1_000_000;

/// A proven bound and the prices that prove it.
#[derive(Debug, Clone)]
pub struct Ceiling {
    /// No plan costs less, in thousandths.
    pub bound: i64,
    /// What one harvest more of each want-week is worth, in thousandths of cost, by cell.
    pub worth: Vec<f64>,
    /// What a nursery cell is worth on each day from the first day of sowing.
    pub nursery: Vec<f64>,
    /// How many times prices were tried.
    pub rounds: usize,
}

/// Pairs of holes that are alike, and how many there are.
struct Group<'m> {
    pair: Pair<'m>,
    count: i64,
    classes: Vec<usize>,
}

/// Prices being moved.
struct Dual<'m> {
    model: &'m Model<'m>,
    groups: Vec<Group<'m>>,
    /// Step between reachable supplies, by cell; 0 where nothing can be supplied.
    grid: Vec<i64>,
    first_day: i32,
    nursery_days: usize,
    prices: Prices,
    space: Space,
}

/// What was found at some prices.
struct Tried {
    /// The bound, in thousandths.
    bound: i64,
    /// Demand less supply by cell, in harvests.
    cells: Vec<f64>,
    /// Cells taken less cells there, by nursery day.
    nursery: Vec<f64>,
}

/// A bound, from a plan's cost to aim at and the supply that the plan gives, by cell.
#[must_use]
pub fn ceiling(model: &Model<'_>, aim: i64, supply: &[i64], rounds: usize) -> Ceiling {
    let mut dual = Dual::new(model);
    let mut worth: Vec<f64> = (0..model.cells.len())
        .map(|c| dual.marginal(c, supply[c]))
        .collect();
    let mut nursery = vec![0.0; dual.nursery_days];
    let mut best = Ceiling {
        bound: 0,
        worth: worth.clone(),
        nursery: nursery.clone(),
        rounds: 0,
    };
    let mut direction = (vec![0.0; worth.len()], vec![0.0; nursery.len()]);
    let (mut step, mut stalled) = (1.0, 0);
    for round in 0..rounds {
        let tried = dual.attempt(&worth, &nursery);
        best.rounds = round + 1;
        if tried.bound > best.bound {
            best.bound = tried.bound;
            best.worth.clone_from(&worth);
            best.nursery.clone_from(&nursery);
            stalled = 0;
        } else {
            stalled += 1;
            if stalled >= 12 {
                step *= 0.7;
                stalled = 0;
                worth.clone_from(&best.worth);
                nursery.clone_from(&best.nursery);
                direction.0.fill(0.0);
                direction.1.fill(0.0);
            }
        }
        if best.bound >= aim || step < 1e-4 {
            break;
        }
        deflect(&mut direction.0, &tried.cells);
        deflect(&mut direction.1, &tried.nursery);
        // A price of nothing cannot fall.
        for (d, price) in direction.1.iter_mut().zip(&nursery) {
            if *price <= 0.0 && *d < 0.0 {
                *d = 0.0;
            }
        }
        let norm: f64 = direction.0.iter().chain(&direction.1).map(|d| d * d).sum();
        if norm <= 0.0 {
            break;
        }
        #[allow(clippy::cast_precision_loss)]
        let length = step * (aim - tried.bound).max(1) as f64 / norm;
        for (price, d) in worth.iter_mut().zip(&direction.0) {
            *price += length * d;
        }
        for (price, d) in nursery.iter_mut().zip(&direction.1) {
            *price = (*price + length * d).max(0.0);
        }
    }
    best
}

/// Turns a direction towards a new subgradient, keeping some of its own if the two disagree.
fn deflect(direction: &mut [f64], subgradient: &[f64]) {
    for (d, g) in direction.iter_mut().zip(subgradient) {
        *d = 0.6 * *d + g;
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

    #[allow(clippy::cast_precision_loss, clippy::cast_possible_truncation)]
    fn attempt(&mut self, worth: &[f64], nursery: &[f64]) -> Tried {
        let model = self.model;
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

        let mut supply = vec![0i64; model.cells.len()];
        let mut taken = vec![0i64; self.nursery_days + 1];
        let mut total: i128 = 0;
        for group in &self.groups {
            let best = group.pair.solve(&self.prices, &mut self.space);
            total += i128::from(best.cost) * i128::from(group.count);
            self.count(group, &best, &mut supply, &mut taken);
        }
        let mut cells = Vec::with_capacity(model.cells.len());
        for (c, &price) in whole.iter().enumerate() {
            let (cost, amount) = self.demand(c, price);
            total += i128::from(cost);
            let harvest = model.problem.wants[model.cells[c].want].harvest_milli as f64;
            let miss = (amount - supply[c]) as f64 / harvest;
            cells.push(if model.cells[c].target > 0 { miss } else { 0.0 });
        }
        let there = i128::from(model.problem.nursery_cells_milli);
        total -= day_prices
            .iter()
            .map(|&p| i128::from(p) * there)
            .sum::<i128>();
        let mut standing = 0;
        let nursery = taken[..self.nursery_days]
            .iter()
            .map(|change| {
                standing += change;
                (standing as f64 - there as f64) / 1000.0
            })
            .collect();
        // Costs are whole thousandths: so may the bound be, rounded up.
        let bound = total.div_euclid(SCALE.into()) + i128::from(total.rem_euclid(SCALE.into()) > 0);
        Tried {
            bound: i64::try_from(bound).unwrap_or(i64::MIN),
            cells,
            nursery,
        }
    }

    /// Adds up what a group's best plan gives, and the changes it makes in the nursery by day.
    fn count(&self, group: &Group<'_>, best: &Best, supply: &mut [i64], taken: &mut [i64]) {
        for (&class, stays) in group.classes.iter().zip(&best.stays) {
            let class = &self.model.classes[class];
            for &a in stays {
                let arc = &class.arcs[a as usize];
                for item in self.model.yields(class, arc) {
                    supply[item.cell as usize] += item.milli * group.count;
                }
                if !arc.stands {
                    let at =
                        |day: i64| usize::try_from(day - i64::from(self.first_day)).unwrap_or(0);
                    let cells = i64::try_from(arc.cells_milli).unwrap_or(0) * group.count;
                    taken[at(arc.sow.into())] += cells;
                    taken[at(arc.transplant.into())] -= cells;
                }
            }
        }
    }

    /// The supply that is best for a want-week alone at a price for each thousandth of a unit,
    /// and what it costs there, scaled: at most what any reachable supply costs.
    #[allow(clippy::cast_precision_loss, clippy::cast_possible_truncation)]
    fn demand(&self, cell: usize, price: i64) -> (i64, i64) {
        let c = &self.model.cells[cell];
        if c.target <= 0 {
            // Such a week's price is kept at nothing.
            return (0, 0);
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
        let mut best = (i64::MAX, 0);
        // The cost is convex but for its rounding: the best is next to the wish.
        for k in (at - 2).max(0)..=at + 2 {
            let amount = k * grid;
            let cost = self.model.cell_cost(cell, amount) * SCALE + price * amount;
            if cost < best.0 {
                best = (cost, amount);
            }
        }
        (best.0 - SCALE, best.1)
    }
}

fn first_sowing(problem: &Problem) -> i32 {
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
fn groups<'m>(model: &'m Model<'m>) -> Vec<Group<'m>> {
    type Key = (Vec<usize>, Vec<u32>, Vec<(u32, u32)>);
    let problem = model.problem;
    let mut pairs: Vec<usize> = (0..problem.pairs.len()).collect();
    pairs.sort_by_key(|&n| {
        let p = &problem.pairs[n];
        (p.limit_mm, !p.side_by_side, p.a, p.b)
    });
    let mut matched = vec![false; problem.holes.len()];
    let mut keys: BTreeMap<Key, i64> = BTreeMap::new();
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
        *keys.entry(key).or_default() += 1;
    }
    for hole in (0..problem.holes.len()).filter(|&h| !matched[h]) {
        let cleans = windows(model, problem.holes[hole].tube);
        *keys
            .entry((vec![model.class_of[hole]], Vec::new(), cleans))
            .or_default() += 1;
    }
    let positions = problem.workdays.len();
    keys.into_iter()
        .map(|((classes, tables, cleans), count)| {
            let class = |n: usize| &model.classes[classes[n]];
            let pair = match tables[..] {
                [a, b] => Pair::new(
                    [class(0), class(1)],
                    [&model.tables[a as usize], &model.tables[b as usize]],
                    cleans,
                    positions,
                ),
                _ => Pair::single(class(0), cleans, positions),
            };
            Group {
                pair,
                count,
                classes,
            }
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
            (
                super::model::as_u32(from),
                super::model::as_u32(to.saturating_sub(1)),
            )
        })
        .collect();
    windows.sort_unstable();
    windows
}
