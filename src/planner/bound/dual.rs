//! The Lagrangian dual: what a rig is worth at given prices, and the plans of pairs, or of few
//! holes more, that make it so.

use std::collections::BTreeMap;

use crate::planner::bound::blocks::{self, Block};
use crate::planner::bound::bundle::{Column, Term};
use crate::planner::bound::packing_cuts::{LocatedStay, PackingCuts};
use crate::planner::bound::prices::Prices;
use crate::planner::problem::Problem;
use crate::planner::problem::model::Model;
use crate::planner::search::pair::{HoleOptions, JointPath, Workspace};

/// Prices are kept in this part of a thousandth of cost.
const PRICE_SCALE: i64 = 1_000_000;

/// Prices being moved.
pub(crate) struct Dual<'m> {
    model: &'m Model<'m>,
    /// The sets of holes, by kind.
    pub(crate) blocks: Vec<Block>,
    /// Step between reachable supplies, by cell; 0 where nothing can be supplied.
    supply_grid: Vec<i64>,
    /// Days on which something may come into the nursery or leave it, rising: between two of
    /// them it holds the same, so that each needs one price for all days up to the next.
    nursery_days: Vec<i32>,
    /// Rules for the room that plants take.
    packing_cuts: PackingCuts,
    prices: Prices,
    /// Kinds of hole: its class, and the kinds of sets it is in that there are rules for.
    hole_kinds: Vec<(usize, u32)>,
    /// The lane of each kind at the prices.
    hole_options: Vec<HoleOptions>,
    workspace: Workspace,
}

/// What was found at some prices.
pub(crate) struct DualEvaluation {
    /// The bound, in thousandths.
    pub bound: i64,
    /// The best plan of a set of each group.
    pub columns: Vec<Column>,
}

impl<'m> Dual<'m> {
    pub(super) fn new(model: &'m Model<'m>) -> Self {
        let crowds = PackingCuts::of(model);
        let (kinds, kind_of) = crowds.hole_kinds(model);
        Self::with_blocks(model, crowds, kinds, blocks::pair_blocks(model, &kind_of))
    }

    /// The same, with holes near each other planned together: up to three, up to four, and so on.
    pub fn with_larger_blocks(&self) -> impl Iterator<Item = Self> {
        let (model, crowds) = (self.model, &self.packing_cuts);
        let (kinds, kind_of) = crowds.hole_kinds(model);
        blocks::cluster_blocks(model, kind_of, None)
            .map(move |groups| Self::with_blocks(model, crowds.clone(), kinds.clone(), groups))
    }

    fn with_blocks(
        model: &'m Model<'m>,
        packing_cuts: PackingCuts,
        hole_kinds: Vec<(usize, u32)>,
        blocks: Vec<Block>,
    ) -> Self {
        Self {
            model,
            blocks,
            supply_grid: supply_grid(model),
            nursery_days: nursery_changes(model.problem),
            prices: Prices::default(),
            hole_options: vec![HoleOptions::default(); hole_kinds.len()],
            hole_kinds,
            packing_cuts,
            workspace: Workspace::default(),
        }
    }

    /// Prices at what one harvest more is worth, by cell, to a plan with such a supply.
    pub fn prices_at(&self, supply: &[i64]) -> Vec<f64> {
        self.prices_by(|cell, cheapest| self.marginal_value(cell, supply[cell], cheapest))
    }

    /// Prices at what the cheapest harvest of each want costs in stays.
    pub fn relaxed_prices(&self) -> Vec<f64> {
        self.prices_by(|_, cheapest| cheapest)
    }

    /// Prices of want-weeks from the cell and what the cheapest harvest costs there; nothing
    /// for the nursery, nor where nothing can be had or is wanted.
    fn prices_by(&self, of: impl Fn(usize, f64) -> f64) -> Vec<f64> {
        let cheapest = min_stay_cost_per_harvest(self.model);
        let cells = self.model.want_weeks.iter().enumerate();
        cells
            .map(|(n, cell)| match cheapest[cell.want] {
                Some(cheapest) if cell.target > 0 => of(n, cheapest),
                _ => 0.0,
            })
            .chain(self.nursery_days.iter().map(|_| 0.0))
            .collect()
    }

    /// What one harvest more is worth at a supply. Where enough is supplied this may be
    /// anything between what one less would cost and what one more would: then what the
    /// cheapest harvest costs, as far as it is between.
    #[allow(clippy::cast_precision_loss)]
    fn marginal_value(&self, cell: usize, supply: i64, cheapest: f64) -> f64 {
        let c = &self.model.want_weeks[cell];
        let want = &self.model.problem.wants[c.want];
        let share = (c.target - supply) as f64 / c.target as f64;
        if share > 0.0 {
            return want.weight_milli as f64 * (100.0 + 200.0 * share);
        }
        let cost = |harvests: i64| {
            let supply = supply + harvests * want.harvest_milli;
            self.model.want_week_cost(cell, supply.max(0)) as f64
        };
        let (more, less) = (cost(0) - cost(1), cost(-1) - cost(0));
        cheapest.max(more).min(less)
    }

    /// Prices by cell in whole numbers: scaled cost for a thousandth of the want's unit.
    #[allow(clippy::cast_precision_loss, clippy::cast_possible_truncation)]
    fn round_to_integers(&self, worth: &[f64]) -> Vec<i64> {
        worth
            .iter()
            .zip(&self.model.want_weeks)
            .map(|(&worth, cell)| {
                let harvest = self.model.problem.wants[cell.want].harvest_milli as f64;
                (worth * PRICE_SCALE as f64 / harvest).round() as i64
            })
            .collect()
    }

    /// The terms of the dual that are known outright: wants by week, then the nursery
    /// from each change to the next, then room by each rule in force and day.
    #[allow(clippy::cast_precision_loss)]
    pub fn terms(&self) -> Vec<Term> {
        let problem = self.model.problem;
        let cells = (0..self.model.want_weeks.len()).map(|c| self.want_term(c));
        let there = problem.nursery_cells_milli as f64 / 1000.0;
        let nursery =
            std::iter::repeat_n(Term::Capacity { available: there }, self.nursery_days.len());
        let days = self.packing_cuts.days.len();
        let room = self.packing_cuts.rhs().flat_map(|most| {
            let there = most as f64;
            std::iter::repeat_n(Term::Capacity { available: there }, days)
        });
        cells.chain(nursery).chain(room).collect()
    }

    /// A want-week's costs at reachable supplies, up to twice its target over what is no
    /// over-supply; where these are very many, at some of them.
    #[allow(clippy::cast_precision_loss)]
    fn want_term(&self, cell: usize) -> Term {
        let c = &self.model.want_weeks[cell];
        if c.target <= 0 || self.supply_grid[cell] == 0 {
            return Term::Unpriced;
        }
        let harvest = self.model.problem.wants[c.want].harvest_milli;
        let grid = self.supply_grid[cell] * (c.target / (100 * self.supply_grid[cell])).max(1);
        let steps = (2 * c.target + c.target.max(harvest)) / grid + 2;
        Term::WantWeek {
            grid: grid as f64 / harvest as f64,
            costs: (0..=steps)
                .map(|k| self.model.want_week_cost(cell, k * grid) as f64)
                .collect(),
        }
    }

    #[allow(clippy::cast_precision_loss)]
    pub(super) fn block_counts(&self) -> Vec<f64> {
        self.blocks.iter().map(|g| g.count() as f64).collect()
    }

    /// Plans every group at some prices: for each cell what a harvest is worth, then for each
    /// change in the nursery what a cell costs until the next.
    #[allow(clippy::cast_precision_loss, clippy::cast_possible_truncation)]
    pub fn evaluate(&mut self, prices: &[f64]) -> DualEvaluation {
        let model = self.model;
        let (worth, prices) = prices.split_at(model.want_weeks.len());
        let (nursery, rents) = prices.split_at(self.nursery_days.len());
        let whole = self.round_to_integers(worth);
        self.prices.item_values.clear();
        self.prices.item_values.extend(
            model
                .items
                .iter()
                .map(|i| whole[i.want_week as usize] * i.milli),
        );
        self.prices.stay_cost = model.problem.stay_cost_milli * PRICE_SCALE;
        let cell_prices: Vec<i64> = nursery
            .iter()
            .map(|p| (p * PRICE_SCALE as f64 / 1000.0).round() as i64)
            .collect();
        self.prices
            .set_nursery_prices(&self.nursery_days, &cell_prices);
        let rents: Vec<i64> = rents
            .iter()
            .map(|p| (p * PRICE_SCALE as f64).round() as i64)
            .collect();
        self.packing_cuts.set_prices(&rents);
        let mut total: i128 = 0;
        let mut columns = Vec::with_capacity(self.blocks.len());
        self.prices.hole_options(
            model,
            &self.packing_cuts,
            &self.hole_kinds,
            &mut self.hole_options,
        );
        let mut best = JointPath::default();
        for (n, group) in self.blocks.iter().enumerate() {
            group.plan(model, &self.hole_options, &mut self.workspace, &mut best);
            total += i128::from(best.cost) * i128::from(group.count());
            columns.push(self.column(n, group, &best));
        }
        for (c, &price) in whole.iter().enumerate() {
            total += i128::from(self.want_week_value(c, price));
        }
        let there = i128::from(model.problem.nursery_cells_milli);
        total -= cell_prices
            .iter()
            .map(|&p| i128::from(p) * there)
            .sum::<i128>();
        let days = self.packing_cuts.days.len().max(1);
        for (rents, most) in rents.chunks(days).zip(self.packing_cuts.rhs()) {
            let rents: i128 = rents.iter().copied().map(i128::from).sum();
            total -= rents * i128::from(most);
        }
        // Costs are whole thousandths: so may the bound be, rounded up.
        let bound = total.div_euclid(PRICE_SCALE.into())
            + i128::from(total.rem_euclid(PRICE_SCALE.into()) > 0);
        DualEvaluation {
            bound: i64::try_from(bound).unwrap_or(i64::MIN),
            columns,
        }
    }

    /// What one set's plan costs in stays, gives and takes.
    #[allow(clippy::cast_precision_loss)]
    fn column(&self, group: usize, of: &Block, best: &JointPath) -> Column {
        let problem = self.model.problem;
        let mut uses: BTreeMap<usize, f64> = BTreeMap::new();
        let mut cost = 0.0;
        for (LocatedStay { class, arc, .. }, often) in
            of.stays(self.model, &self.hole_kinds, &best.stays, 1.0)
        {
            for item in self.model.yields(&self.model.classes[class], arc) {
                let cell = item.want_week as usize;
                let harvest = problem.wants[self.model.want_weeks[cell].want].harvest_milli;
                *uses.entry(cell).or_default() += often * item.milli as f64 / harvest as f64;
            }
            if arc.stands {
                continue;
            }
            cost += often * problem.stay_cost_milli as f64;
            let before = |day: i64| self.nursery_days.partition_point(|&d| i64::from(d) < day);
            for at in before(arc.sow.into())..before(arc.transplant.into()) {
                let term = self.model.want_weeks.len() + at;
                *uses.entry(term).or_default() -= often * arc.cells_milli as f64 / 1000.0;
            }
        }
        let mut column = Column {
            block: group,
            cost,
            coefficients: uses.into_iter().collect(),
            stays: best.stays.clone(),
        };
        for rule in 0..self.packing_cuts.active_count() {
            column.coefficients.extend(self.space_uses(&column, rule));
        }
        column
    }

    /// How many rules for room are in force.
    pub fn active_cut_count(&self) -> usize {
        self.packing_cuts.active_count()
    }

    /// The terms of the room that a plan takes by a rule in force.
    #[allow(clippy::cast_precision_loss)]
    pub fn space_uses(&self, column: &Column, rule: usize) -> Vec<(usize, f64)> {
        let days = self.packing_cuts.days.len();
        let first = self.model.want_weeks.len() + self.nursery_days.len() + rule * days;
        let mut taken = vec![0.0; days];
        for (stay, often) in self.stays(column, 1.0) {
            for (run, weight) in self.packing_cuts.coefficients_of(rule, stay) {
                for at in run {
                    taken[at as usize] -= often * weight as f64;
                }
            }
        }
        let taken = taken.into_iter().enumerate().filter(|t| t.1 < 0.0);
        taken.map(|(at, taken)| (first + at, taken)).collect()
    }

    /// The stays of so many sets with a plan, and how often each counts.
    fn stays(&self, column: &Column, sets: f64) -> impl Iterator<Item = (LocatedStay<'m>, f64)> {
        self.blocks[column.block].stays(self.model, &self.hole_kinds, &column.stays, sets)
    }

    /// Puts a rule for room in force that a mix of plans breaks: its terms, if there is one.
    #[allow(clippy::cast_precision_loss)]
    pub fn separate<'c>(
        &mut self,
        mix: impl Iterator<Item = (&'c Column, f64)>,
    ) -> Option<Vec<Term>> {
        let stays: Vec<_> = mix
            .flat_map(|(column, sets)| self.stays(column, sets))
            .collect();
        if !self.packing_cuts.separate(self.model, &stays) {
            return None;
        }
        let there = self.packing_cuts.rhs().last()? as f64;
        let days = self.packing_cuts.days.len();
        Some(vec![Term::Capacity { available: there }; days])
    }

    /// What a want-week costs at a price for each thousandth of a unit, scaled, with the supply
    /// that is best for it alone: at most what any reachable supply costs.
    #[allow(clippy::cast_precision_loss, clippy::cast_possible_truncation)]
    fn want_week_value(&self, cell: usize, price: i64) -> i64 {
        let c = &self.model.want_weeks[cell];
        if c.target <= 0 {
            // Such a week's price is kept at nothing.
            return 0;
        }
        let want = &self.model.problem.wants[c.want];
        let (weight, target) = (want.weight_milli as f64, c.target as f64);
        let per_harvest = price as f64 * want.harvest_milli as f64 / PRICE_SCALE as f64 / weight;
        // Up to one harvest there is no over-supply: where more is paid for, it is taken.
        let free = c.target.max(want.harvest_milli) as f64;
        let wish = if per_harvest >= 100.0 {
            target * (1.0 - ((per_harvest - 100.0) / 200.0).min(1.0))
        } else if per_harvest >= 0.0 {
            target
        } else {
            free + target * (-per_harvest - 5.0).max(0.0) / 20.0
        };
        let grid = self.supply_grid[cell].max(1);
        let at = (wish / grid as f64) as i64;
        // The cost is convex but for its rounding: the best is next to the wish.
        let near = ((at - 2).max(0)..=at + 2).map(|k| {
            let amount = k * grid;
            self.model.want_week_cost(cell, amount) * PRICE_SCALE + price * amount
        });
        near.min().unwrap_or(0) - PRICE_SCALE
    }
}

/// What a harvest of each want costs in stays, at the least, if it can be had from any.
#[allow(clippy::cast_precision_loss)]
fn min_stay_cost_per_harvest(model: &Model<'_>) -> Vec<Option<f64>> {
    let problem = model.problem;
    let mut most = vec![0; problem.wants.len()];
    for batch in problem.kinds.iter().flat_map(|k| &k.batches) {
        for end in &batch.ends {
            let gives = end.yields.iter().map(|y| y.milli).sum();
            most[batch.want] = most[batch.want].max(gives);
        }
    }
    let wants = problem.wants.iter().zip(most);
    wants
        .map(|(want, most)| {
            let each = (problem.stay_cost_milli * want.harvest_milli) as f64;
            (most > 0).then(|| each / most as f64)
        })
        .collect()
}

/// The days on which a batch is sown or leaves the nursery, rising.
fn nursery_changes(problem: &Problem) -> Vec<i32> {
    let batches = problem.kinds.iter().flat_map(|k| &k.batches);
    let mut days: Vec<i32> = batches
        .flat_map(|b| [b.sow, i32::try_from(b.transplant).unwrap_or(i32::MAX)])
        .collect();
    days.sort_unstable();
    days.dedup();
    days
}

fn supply_grid(model: &Model<'_>) -> Vec<i64> {
    fn gcd(a: i64, b: i64) -> i64 {
        if b == 0 { a } else { gcd(b, a % b) }
    }
    model
        .want_weeks
        .iter()
        .map(|c| {
            model.items[c.items.start as usize..c.items.end as usize]
                .iter()
                .fold(0, |g, i| gcd(g, i.milli))
        })
        .collect()
}
