//! Finds good prices: a proximal bundle method in its primal form, column generation with
//! convex costs.
//!
//! The dual to be made high is the sum of terms in one price each, known outright ([`Term`]),
//! and of the least reduced cost of each group of holes, known only where it was tried: each
//! trial gives a [`Column`]. The master problem mixes columns so that the known terms are
//! served best, held near the centre of prices by a spring. (Kiwiel 1990, "Proximity control in
//! bundle methods for convex nondifferentiable minimization"; the mix is found by pairwise
//! Frank-Wolfe steps, Lacoste-Julien & Jaggi 2015.)

use crate::planner::problem::model::ArcId;

/// One plan of one group's set of holes: what it costs, and what it adds to each term.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Column {
    /// The group.
    pub block: usize,
    /// Cost of its stays, in thousandths.
    pub cost: f64,
    /// Terms and what they get, rising.
    pub coefficients: Vec<(usize, f64)>,
    /// Its stays, by side of the set.
    pub stays: Vec<Vec<ArcId>>,
}

impl Column {
    fn reduced_cost(&self, prices: &[f64]) -> f64 {
        let worth: f64 = self.coefficients.iter().map(|&(t, x)| prices[t] * x).sum();
        self.cost - worth
    }
}

/// A term of the dual in one price.
#[derive(Debug, Clone, PartialEq)]
pub enum Term {
    /// A want in a week: what it costs at each reachable supply, and how far these are apart
    /// in harvests.
    WantWeek {
        /// Harvests between two reachable supplies.
        grid: f64,
        /// Cost at no supply, at one step, at two, ...; convex.
        costs: Vec<f64>,
    },
    /// A limit: uses (negative) may not go below `-there`; its price is not negative.
    Capacity {
        /// What there is.
        available: f64,
    },
    /// Counts nothing: its price stays 0.
    Unpriced,
}

impl Term {
    /// The price that maximises `term(price) - price * supply - stiffness/2 (price - centre)²`,
    /// where `term` is this term's part of the dual.
    fn best_price(&self, supply: f64, centre: f64, proximal_weight: f64) -> f64 {
        match self {
            Self::Unpriced => 0.0,
            Self::Capacity { available: there } => {
                (centre - (there + supply) / proximal_weight).max(0.0)
            }
            Self::WantWeek { grid, costs } => {
                // Demand falls in steps as the price rises; the spring pulls the other way.
                let level = |k: usize| centre + (k as f64 * grid - supply) / proximal_weight;
                let last = costs.len() - 1;
                // The first step whose lower end is left behind by the spring's line.
                let (mut low, mut high) = (0, last);
                while low < high {
                    let k = low + (high - low) / 2;
                    if level(k) >= Self::slope(*grid, costs, k) {
                        high = k;
                    } else {
                        low = k + 1;
                    }
                }
                if low == 0 {
                    level(0)
                } else {
                    level(low).min(Self::slope(*grid, costs, low - 1))
                }
            }
        }
    }

    /// The price below which one step more than `k` is worth having.
    fn slope(grid: f64, costs: &[f64], k: usize) -> f64 {
        (costs[k] - costs[k + 1]) / grid
    }

    /// This term's part of the dual at a price.
    fn value(&self, price: f64) -> f64 {
        match self {
            Self::Unpriced => 0.0,
            Self::Capacity { available: there } => -price * there,
            Self::WantWeek { grid, costs } => {
                let (mut low, mut high) = (0, costs.len() - 1);
                while low < high {
                    let k = low + (high - low) / 2;
                    if price >= Self::slope(*grid, costs, k) {
                        high = k;
                    } else {
                        low = k + 1;
                    }
                }
                costs[low] + price * low as f64 * grid
            }
        }
    }
}

/// The master problem.
#[derive(Debug)]
pub struct Master {
    terms: Vec<Term>,
    counts: Vec<f64>,
    columns: Vec<Column>,
    /// How often each column is in the mix: those of a group sum to its count.
    weights: Vec<f64>,
    supply: Vec<f64>,
    /// Prices that the spring holds to.
    pub centre: Vec<f64>,
    /// Prices of the last mix.
    pub prices: Vec<f64>,
    /// The spring.
    pub proximal_weight: f64,
}

/// Pairwise steps for each solution of the master.
const MAX_QP_STEPS: usize = 250;
/// Columns kept.
const MAX_COLUMNS: usize = 300;

impl Master {
    /// An empty master around prices of nothing; `counts` are the sizes of the groups.
    #[must_use]
    pub fn new(terms: Vec<Term>, counts: Vec<f64>) -> Self {
        let size: f64 = counts.iter().sum();
        Self {
            supply: vec![0.0; terms.len()],
            centre: vec![0.0; terms.len()],
            prices: vec![0.0; terms.len()],
            terms,
            counts,
            columns: Vec::new(),
            weights: Vec::new(),
            proximal_weight: size / 400_000.0,
        }
    }

    /// Takes in a column for each group; false if it had them all.
    pub fn add(&mut self, columns: Vec<Column>) -> bool {
        let mut is_new = false;
        for column in columns {
            if self.columns.contains(&column) {
                continue;
            }
            is_new = true;
            let first = !self.columns.iter().any(|c| c.block == column.block);
            let share = if first {
                self.counts[column.block]
            } else {
                0.0
            };
            self.add_supply(&column, share);
            self.columns.push(column);
            self.weights.push(share);
        }
        while self.columns.len() > MAX_COLUMNS {
            let Some(idle) = self.weights.iter().position(|&m| m <= 0.0) else {
                break;
            };
            self.columns.remove(idle);
            self.weights.remove(idle);
        }
        is_new
    }

    /// Takes in terms more, whose prices begin at nothing, with what each column gives them.
    pub fn extend(&mut self, terms: Vec<Term>, uses: impl Fn(&Column) -> Vec<(usize, f64)>) {
        self.terms.extend(terms);
        for of in [&mut self.supply, &mut self.centre, &mut self.prices] {
            of.resize(self.terms.len(), 0.0);
        }
        for column in &mut self.columns {
            let more = uses(column);
            column.coefficients.extend(more);
        }
    }

    /// The columns in the mix, and how often each is.
    pub fn weights(&self) -> impl Iterator<Item = (&Column, f64)> {
        let all = self.columns.iter().zip(self.weights.iter().copied());
        all.filter(|&(_, often)| often > 0.0)
    }

    fn add_supply(&mut self, column: &Column, by: f64) {
        for &(t, x) in &column.coefficients {
            self.supply[t] += x * by;
        }
    }

    /// Mixes the columns until no exchange gains more than `tolerance`; gives the value that
    /// the columns promise, and leaves the prices; nothing where too many or too small steps
    /// would be needed to know.
    pub fn solve(&mut self, tolerance: f64) -> Option<f64> {
        self.supply.fill(0.0);
        for n in 0..self.columns.len() {
            let column = std::mem::take(&mut self.columns[n]);
            self.add_supply(&column, self.weights[n]);
            self.columns[n] = column;
        }
        self.update_prices();
        // Most columns never come into the mix: exchanges look among a few, and at all only
        // when these have nothing more to gain.
        let mut few: Vec<usize> = (0..self.columns.len())
            .filter(|&n| self.weights[n] > 0.0)
            .collect();
        let mut steps = 0;
        loop {
            let all = 0..self.columns.len();
            let extremes = self.extremes(all);
            let mut more = false;
            for (group, e) in extremes.iter().enumerate() {
                if e.gain() * self.counts[group] > tolerance && !few.contains(&e.least.0) {
                    few.push(e.least.0);
                    more = true;
                }
            }
            let mut moved = false;
            loop {
                if steps >= MAX_QP_STEPS {
                    return None;
                }
                match self.exchange_step(&few, tolerance) {
                    StepOutcome::Moved => moved = true,
                    StepOutcome::Optimal => break,
                    StepOutcome::Stalled => return None,
                }
                steps += 1;
            }
            if !more && !moved {
                let groups = extremes.iter().zip(&self.counts);
                let reduced: f64 = groups.map(|(e, count)| count * e.least.1).sum();
                let known = self.terms.iter().zip(&self.prices);
                return Some(reduced + known.map(|(t, &p)| t.value(p)).sum::<f64>());
            }
        }
    }

    fn update_prices(&mut self) {
        for t in 0..self.terms.len() {
            self.prices[t] =
                self.terms[t].best_price(self.supply[t], self.centre[t], self.proximal_weight);
        }
    }

    /// Of each group, the cheapest of some columns, and the dearest of them that is in the mix.
    fn extremes(&self, columns: impl IntoIterator<Item = usize>) -> Vec<ExtremeColumns> {
        let mut extremes = vec![ExtremeColumns::default(); self.counts.len()];
        for n in columns {
            let column = &self.columns[n];
            let reduced = column.reduced_cost(&self.prices);
            let e = &mut extremes[column.block];
            if reduced < e.least.1 {
                e.least = (n, reduced);
            }
            if self.weights[n] > 0.0 && reduced > e.most.1 {
                e.most = (n, reduced);
            }
        }
        extremes
    }

    /// Moves weight from the dearest of some columns to the cheapest of the same group, as far
    /// as it helps.
    fn exchange_step(&mut self, columns: &[usize], tolerance: f64) -> StepOutcome {
        let mut chosen: Option<(f64, usize, usize)> = None;
        let extremes = self.extremes(columns.iter().copied());
        for (e, count) in extremes.iter().zip(&self.counts) {
            let gain = e.gain() * count;
            if gain > chosen.map_or(tolerance, |c| c.0) {
                chosen = Some((gain, e.least.0, e.most.0));
            }
        }
        let Some((_, to, from)) = chosen else {
            return StepOutcome::Optimal;
        };
        let direction = column_difference(&self.columns[to], &self.columns[from]);
        let cost = self.columns[to].cost - self.columns[from].cost;
        let by = self.step_length(&direction, cost, self.weights[from]);
        if by <= 0.0 {
            return StepOutcome::Stalled;
        }
        self.weights[to] += by;
        self.weights[from] = if by >= self.weights[from] {
            0.0
        } else {
            self.weights[from] - by
        };
        for &(t, x) in &direction {
            self.supply[t] += by * x;
            self.prices[t] =
                self.terms[t].best_price(self.supply[t], self.centre[t], self.proximal_weight);
        }
        StepOutcome::Moved
    }

    /// How far to go in a direction: to where it no longer helps, by bisection.
    fn step_length(&self, direction: &[(usize, f64)], cost: f64, most: f64) -> f64 {
        let slope = |by: f64| {
            let worth: f64 = direction
                .iter()
                .map(|&(t, x)| {
                    let supply = self.supply[t] + by * x;
                    x * self.terms[t].best_price(supply, self.centre[t], self.proximal_weight)
                })
                .sum();
            cost - worth
        };
        if slope(most) <= 0.0 {
            return most;
        }
        let (mut low, mut high) = (0.0, most);
        for _ in 0..18 {
            let middle = 0.5 * (low + high);
            if slope(middle) <= 0.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        low
    }
}

/// How an exchange went.
enum StepOutcome {
    Moved,
    /// There is nothing to gain.
    Optimal,
    /// There is, but in steps too small to go.
    Stalled,
}

/// The cheapest and the dearest column of a group, with their reduced costs.
#[derive(Debug, Clone, Copy)]
struct ExtremeColumns {
    least: (usize, f64),
    most: (usize, f64),
}

impl Default for ExtremeColumns {
    fn default() -> Self {
        Self {
            least: (0, f64::INFINITY),
            most: (0, f64::NEG_INFINITY),
        }
    }
}

impl ExtremeColumns {
    /// What an exchange between them gains for each pair that makes it.
    fn gain(&self) -> f64 {
        self.most.1 - self.least.1
    }
}

/// What one column adds over another, by term, rising.
fn column_difference(to: &Column, from: &Column) -> Vec<(usize, f64)> {
    let mut all = Vec::with_capacity(to.coefficients.len() + from.coefficients.len());
    let (mut a, mut b) = (
        to.coefficients.iter().peekable(),
        from.coefficients.iter().peekable(),
    );
    loop {
        let term = match (a.peek(), b.peek()) {
            (Some(x), Some(y)) => x.0.min(y.0),
            (Some(x), None) => x.0,
            (None, Some(y)) => y.0,
            (None, None) => return all,
        };
        let more = a.next_if(|x| x.0 == term).map_or(0.0, |x| x.1);
        let less = b.next_if(|y| y.0 == term).map_or(0.0, |y| y.1);
        if more != less {
            all.push((term, more - less));
        }
    }
}
