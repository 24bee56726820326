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

use crate::planner::bound::blocks::{Group, Sides};
use crate::planner::bound::bundle::Master;
use crate::planner::bound::dual::Dual;
use crate::planner::monitor::Monitor;
use crate::planner::problem::Problem;
use crate::planner::problem::cost;
use crate::planner::problem::model::{ArcId, Model};
use crate::planner::problem::solution::Solution;

/// A proven bound, and plans that come near it.
#[derive(Debug, Clone)]
pub struct Ceiling {
    /// No plan costs less, in thousandths.
    pub bound: i64,
    /// Plans of sets of holes that together come near the bound.
    pub mix: Vec<Mixed>,
}

/// Sets of holes that are alike, and plans that suit them.
#[derive(Debug, Clone)]
pub struct Mixed {
    /// The sets, each with its two sides.
    pub sets: Vec<Sides>,
    /// Plans of a set, one for each side, and how many sets would have each.
    pub plans: Vec<(Vec<Vec<ArcId>>, f64)>,
}

/// Looked no closer than this share of the plan's worth.
const CLOSE: i64 = 1_000;

/// How close to a plan of such a cost a ceiling is looked for, in thousandths.
#[must_use]
pub fn close(problem: &Problem, cost: i64) -> i64 {
    (cost::of_nothing(problem) - cost) / CLOSE
}

/// The ceiling over a plan, after so many rounds at the most.
#[must_use]
pub fn over(model: &Model<'_>, solution: &Solution, rounds: usize) -> Ceiling {
    let cost = solution.cost(model.problem);
    let mut climb = Climb::new(model, solution);
    climb.raise(cost, close(model.problem, cost), rounds, &Monitor::nobody());
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
    /// How often prices were tried.
    tried: usize,
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
/// Prices that taught nothing may be so because the master was left unsolved: how often it then
/// goes on where it was left.
const UNSOLVED: usize = 5;

/// A rig is easy if it is so near the plan with harvests at what they cost in stays: this part
/// of what the plan is worth.
const EASY: i64 = 200;
/// After so many trials there should be so much less open, or the rest is not looked for.
const PATIENCE: usize = 30;
const WORTH_PATIENCE: f64 = 0.03;

/// Whether the mix has room is looked at every so many trials, up to the last, and so many rules
/// for room are put in force at the most (tried: more are slower and gain no more).
const LOOK: usize = 5;
const LAST_LOOK: usize = 40;
const RULES: usize = 3;

impl<'m> Climb<'m> {
    /// Begins at what a harvest more is worth to a plan; or at what it costs in stays, where
    /// the rig is so large for what is wanted that this is nearly all there is to it.
    #[must_use]
    pub fn new(model: &'m Model<'m>, solution: &Solution) -> Self {
        let mut dual = Dual::new(model);
        let mut master = Master::new(dual.terms(), dual.counts());
        let supply = solution.supply(model.problem).concat();
        let starts = [dual.prices_at(&supply), dual.prices_at_ease()];
        let mut tries = starts.map(|prices| {
            let tried = dual.attempt(&prices);
            master.add(tried.columns);
            (tried.bound, prices)
        });
        let bound = tries[0].0.max(tries[1].0);
        let aim = solution.cost(model.problem);
        let is_easy = (aim - tries[1].0) * EASY < cost::of_nothing(model.problem) - aim;
        let (centre, prices) = std::mem::take(&mut tries[usize::from(is_easy)]);
        master.centre = prices;
        Self {
            dual,
            master,
            bound,
            centre: centre as f64,
            tried: 0,
        }
    }

    /// Goes on from the best prices so far with holes near each other planned together, in such sets
    /// as make the bound at these prices the highest; none where that is no higher.
    #[must_use]
    pub fn closely(&self) -> Option<Self> {
        let prices = &self.master.centre;
        let tries = self
            .dual
            .with_larger_blocks()
            .map(|mut dual| (dual.attempt(prices), dual));
        let best = tries.max_by_key(|(tried, _)| tried.bound);
        let (tried, dual) = best.filter(|(tried, _)| tried.bound as f64 > self.centre)?;
        let mut master = Master::new(dual.terms(), dual.counts());
        master.centre.clone_from(prices);
        master.add(tried.columns);
        Some(Self {
            dual,
            master,
            bound: self.bound.max(tried.bound),
            centre: tried.bound as f64,
            tried: 0,
        })
    }

    /// Raises the bound until it is within `enough` of `aim`, a plan's cost, or prices were
    /// tried `rounds` times in all, or there is no more to gain, or the work is ended early.
    pub fn raise(&mut self, aim: i64, enough: i64, rounds: usize, watch: &Monitor<'_>) {
        let (mut lets, mut held) = (0, self.master.stiffness);
        let mut unsolved = 0;
        let (mut since, mut before) = (0, self.centre);
        while self.tried < rounds && aim - self.bound > enough && !watch.is_stopped() {
            let open = aim as f64 - self.centre;
            let least = open * WORTH_A_TRIAL;
            let promised = self.master.solve(open * EXACTLY);
            let promise = promised.map(|p| p - self.centre);
            if promise.is_some_and(|p| p <= least) {
                if lets == LETS {
                    self.master.stiffness = held;
                    break;
                }
                lets += 1;
                self.master.stiffness *= LOOSE;
                continue;
            }
            let is_new = self.attempt(promise, least);
            self.tried += 1;
            if self.is_time_to_look() && self.enforce() {
                (lets, held) = (0, self.master.stiffness);
                (since, before) = (0, self.centre);
                unsolved = 0;
                continue;
            }
            since += 1;
            if since == PATIENCE {
                if self.centre - before < (aim as f64 - before) * WORTH_PATIENCE {
                    break;
                }
                (since, before) = (0, self.centre);
            }
            if !is_new {
                if promise.is_some() || unsolved == UNSOLVED {
                    break;
                }
                unsolved += 1;
                continue;
            }
            (lets, held) = (0, self.master.stiffness);
            unsolved = 0;
        }
    }

    fn is_time_to_look(&self) -> bool {
        let is_time = self.tried.is_multiple_of(LOOK) && self.tried <= LAST_LOOK;
        is_time && self.dual.rules() < RULES
    }

    /// Gives a price to room where the mix takes more of it than there is. False if there is
    /// enough.
    fn enforce(&mut self) -> bool {
        let Some(terms) = self.dual.enforce(self.master.mixed()) else {
            return false;
        };
        let rule = self.dual.rules() - 1;
        let dual = &self.dual;
        self.master.extend(terms, |column| dual.room(column, rule));
        true
    }

    /// Tries the master's prices, which promise so much, if that is known, or else are looked
    /// at as if they promised the least. False if they taught nothing.
    fn attempt(&mut self, promise: Option<f64>, least: f64) -> bool {
        let master = &mut self.master;
        let tried = self.dual.attempt(&master.prices);
        self.bound = self.bound.max(tried.bound);
        let kept = (tried.bound as f64 - self.centre) / promise.unwrap_or(least);
        let is_new = master.add(tried.columns);
        if kept >= STEP {
            self.centre = tried.bound as f64;
            master.centre.clone_from(&master.prices);
        }
        if kept >= GOOD_STEP {
            master.stiffness *= LOOSER;
        } else if kept <= WRONG {
            master.stiffness *= TIGHTER;
        }
        is_new || kept >= STEP
    }

    /// The bound so far, in thousandths.
    #[must_use]
    pub const fn bound(&self) -> i64 {
        self.bound
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
