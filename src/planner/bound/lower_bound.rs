//! The ceiling: a cost below which no plan can go.
//!
//! Wants by week and the nursery are given prices; at those prices holes are planned in
//! neighbouring pairs, each pair exactly ([`crate::planner::search::pair`]), and every want is supplied by the
//! week as is best for it alone, between supplies that are reachable. Whatever the prices,
//! the sum of these is at most the cost of any plan (Lagrangian duality: see Geoffrion 1974,
//! "Lagrangean relaxation for integer programming"); [`crate::planner::bound::bundle`] moves the prices so that
//! it is high.
//! Single holes would be far too loose, as neighbours hold each other. Where holes are near more
//! than two others, pairs too are loose: there room is given a price as well ([`crate::planner::bound::packing_cuts`]),
//! and at last larger sets of holes are planned together, as far as little enough goes together in
//! them ([`crate::planner::bound::block_dp`]).
//!
//! Three things it does not see, and is lower for. A mix of plans scrubs a part of a tube on each of
//! many days, where a plan empties the whole of it on one: where two towers are all there is, this
//! is 3 % of what a plan is worth, in a rig of many tubes next to nothing. Room is priced for
//! each day by itself: that a long stay keeps others out of the same holes all its time is seen
//! only between the holes of a pair or set. And where crops cannot share a solution, a mix of plans
//! gives some pairs of a loop to the one crop and some to the other.

use crate::planner::bound::blocks::Block;
use crate::planner::bound::bundle::Master;
use crate::planner::bound::dual::Dual;
use crate::planner::monitor::Monitor;
use crate::planner::problem::Problem;
use crate::planner::problem::cost;
use crate::planner::problem::model::Model;
use crate::planner::problem::solution::{FractionalSolution, Solution};

/// A proven bound, and plans that come near it.
#[derive(Debug, Clone)]
pub struct LowerBound {
    /// No plan costs less, in thousandths.
    pub bound: i64,
    /// Plans of sets of holes that together come near the bound.
    pub fractional: Vec<FractionalSolution>,
}

/// Looked no closer than this share of the plan's worth.
const CLOSED_GAP_DIVISOR: i64 = 1_000;

/// How close to a plan of such a cost a ceiling is looked for, in thousandths.
#[must_use]
pub fn closed_gap(problem: &Problem, cost: i64) -> i64 {
    (cost::empty_plan_cost(problem) - cost) / CLOSED_GAP_DIVISOR
}

/// The ceiling over a plan, after so many rounds at the most.
#[must_use]
pub fn solve_lower_bound(model: &Model<'_>, solution: &Solution, rounds: usize) -> LowerBound {
    let cost = solution.cost(model.problem);
    let mut climb = BoundSolver::new(model, solution);
    climb.improve(
        cost,
        closed_gap(model.problem, cost),
        rounds,
        &Monitor::unwatched(),
    );
    climb.lower_bound()
}

/// A bound being raised.
pub struct BoundSolver<'m> {
    dual: Dual<'m>,
    master: Master,
    /// The best bound so far.
    bound: i64,
    /// The bound at the prices that the master holds to.
    centre_bound: f64,
    /// How often prices were tried.
    iterations: usize,
}

/// Of what is open, the least worth another trial, and how exactly the master is solved.
const MIN_OPEN_SHARE: f64 = 0.01;
const MASTER_TOLERANCE: f64 = 0.002;
/// A trial is a step up if it keeps this share of what was promised, and a good one if it keeps
/// that; the master's view of prices was wrong if it loses as much.
const SERIOUS_STEP_RATIO: f64 = 0.1;
const GOOD_STEP_RATIO: f64 = 0.5;
const NULL_STEP_RATIO: f64 = -0.3;
/// How much tighter or looser prices are held then.
const TIGHTEN: f64 = 1.1;
const RELAX: f64 = 0.5;
/// Where nothing is promised, prices may be held too tight: how often, and how much, they are
/// let loose before it is believed.
const MAX_RELAXATIONS: usize = 5;
const RELAXATION_FACTOR: f64 = 0.4;
/// Prices that taught nothing may be so because the master was left unsolved: how often it then
/// goes on where it was left.
const MAX_UNSOLVED_ROUNDS: usize = 5;

/// A rig is easy if it is so near the plan with harvests at what they cost in stays: this part
/// of what the plan is worth.
const EASY_GAP_DIVISOR: i64 = 200;
/// After so many trials there should be so much less open, or the rest is not looked for.
const PATIENCE_ROUNDS: usize = 30;
const GAIN_WORTH_PATIENCE: f64 = 0.03;

/// Whether the mix has room is looked at every so many trials, up to the last, and so many rules
/// for room are put in force at the most (tried: more are slower and gain no more).
const ROUNDS_PER_CUT_SEPARATION: usize = 5;
const LAST_SEPARATION_ROUND: usize = 40;
const MAX_ACTIVE_CUTS: usize = 3;

impl<'m> BoundSolver<'m> {
    /// Begins at what a harvest more is worth to a plan; or at what it costs in stays, where
    /// the rig is so large for what is wanted that this is nearly all there is to it.
    #[must_use]
    pub fn new(model: &'m Model<'m>, solution: &Solution) -> Self {
        let mut dual = Dual::new(model);
        let mut master = Master::new(dual.terms(), dual.block_counts());
        let supply = solution.supply(model.problem).concat();
        let starts = [dual.prices_at(&supply), dual.relaxed_prices()];
        let mut tries = starts.map(|prices| {
            let tried = dual.evaluate(&prices);
            master.add(tried.columns);
            (tried.bound, prices)
        });
        let bound = tries[0].0.max(tries[1].0);
        let aim = solution.cost(model.problem);
        let is_easy =
            (aim - tries[1].0) * EASY_GAP_DIVISOR < cost::empty_plan_cost(model.problem) - aim;
        let (centre, prices) = std::mem::take(&mut tries[usize::from(is_easy)]);
        master.centre = prices;
        Self {
            dual,
            master,
            bound,
            centre_bound: centre as f64,
            iterations: 0,
        }
    }

    /// Goes on from the best prices so far with holes near each other planned together, in such sets
    /// as make the bound at these prices the highest; none where that is no higher.
    #[must_use]
    pub fn with_larger_blocks(&self) -> Option<Self> {
        let prices = &self.master.centre;
        let tries = self
            .dual
            .with_larger_blocks()
            .map(|mut dual| (dual.evaluate(prices), dual));
        let best = tries.max_by_key(|(tried, _)| tried.bound);
        let (tried, dual) = best.filter(|(tried, _)| tried.bound as f64 > self.centre_bound)?;
        let mut master = Master::new(dual.terms(), dual.block_counts());
        master.centre.clone_from(prices);
        master.add(tried.columns);
        Some(Self {
            dual,
            master,
            bound: self.bound.max(tried.bound),
            centre_bound: tried.bound as f64,
            iterations: 0,
        })
    }

    /// Raises the bound until it is within `enough` of `aim`, a plan's cost, or prices were
    /// tried `rounds` times in all, or there is no more to gain, or the work is ended early.
    pub fn improve(&mut self, aim: i64, enough: i64, rounds: usize, watch: &Monitor<'_>) {
        let (mut lets, mut held) = (0, self.master.proximal_weight);
        let mut unsolved = 0;
        let (mut since, mut before) = (0, self.centre_bound);
        while self.iterations < rounds && aim - self.bound > enough && !watch.is_stopped() {
            let open = aim as f64 - self.centre_bound;
            let least = open * MIN_OPEN_SHARE;
            let promised = self.master.solve(open * MASTER_TOLERANCE);
            let predicted_increase = promised.map(|p| p - self.centre_bound);
            if predicted_increase.is_some_and(|p| p <= least) {
                if lets == MAX_RELAXATIONS {
                    self.master.proximal_weight = held;
                    break;
                }
                lets += 1;
                self.master.proximal_weight *= RELAXATION_FACTOR;
                continue;
            }
            let is_new = self.evaluate(predicted_increase, least);
            self.iterations += 1;
            if self.is_time_to_separate() && self.separate_cuts() {
                (lets, held) = (0, self.master.proximal_weight);
                (since, before) = (0, self.centre_bound);
                unsolved = 0;
                continue;
            }
            since += 1;
            if since == PATIENCE_ROUNDS {
                if self.centre_bound - before < (aim as f64 - before) * GAIN_WORTH_PATIENCE {
                    break;
                }
                (since, before) = (0, self.centre_bound);
            }
            if !is_new {
                if predicted_increase.is_some() || unsolved == MAX_UNSOLVED_ROUNDS {
                    break;
                }
                unsolved += 1;
                continue;
            }
            (lets, held) = (0, self.master.proximal_weight);
            unsolved = 0;
        }
    }

    fn is_time_to_separate(&self) -> bool {
        let is_time = self.iterations.is_multiple_of(ROUNDS_PER_CUT_SEPARATION)
            && self.iterations <= LAST_SEPARATION_ROUND;
        is_time && self.dual.active_cut_count() < MAX_ACTIVE_CUTS
    }

    /// Gives a price to room where the mix takes more of it than there is. False if there is
    /// enough.
    fn separate_cuts(&mut self) -> bool {
        let Some(terms) = self.dual.separate(self.master.weights()) else {
            return false;
        };
        let rule = self.dual.active_cut_count() - 1;
        let dual = &self.dual;
        self.master
            .extend(terms, |column| dual.space_uses(column, rule));
        true
    }

    /// Tries the master's prices, which promise so much, if that is known, or else are looked
    /// at as if they promised the least. False if they taught nothing.
    fn evaluate(&mut self, promise: Option<f64>, least: f64) -> bool {
        let master = &mut self.master;
        let tried = self.dual.evaluate(&master.prices);
        self.bound = self.bound.max(tried.bound);
        let kept = (tried.bound as f64 - self.centre_bound) / promise.unwrap_or(least);
        let is_new = master.add(tried.columns);
        if kept >= SERIOUS_STEP_RATIO {
            self.centre_bound = tried.bound as f64;
            master.centre.clone_from(&master.prices);
        }
        if kept >= GOOD_STEP_RATIO {
            master.proximal_weight *= RELAX;
        } else if kept <= NULL_STEP_RATIO {
            master.proximal_weight *= TIGHTEN;
        }
        is_new || kept >= SERIOUS_STEP_RATIO
    }

    /// The bound so far, in thousandths.
    #[must_use]
    pub const fn bound(&self) -> i64 {
        self.bound
    }

    /// The bound so far, and plans that come near it.
    #[must_use]
    pub fn lower_bound(&self) -> LowerBound {
        let mut mix: Vec<FractionalSolution> =
            self.dual.blocks.iter().map(Block::to_fractional).collect();
        for (column, often) in self.master.weights() {
            let plan = (column.stays.clone(), often);
            mix[column.block].plans.push(plan);
        }
        LowerBound {
            bound: self.bound,
            fractional: mix,
        }
    }
}
