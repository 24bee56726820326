//! The most that a rig could give of one want in some weeks, were everything else given up for
//! it: a bound, by the same sets of holes as the ceiling, and the same rules for room.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::ops::Range;

use crate::planner::bound::blocks::{self, Block};
use crate::planner::bound::packing_cuts::{LocatedStay, PackingCuts};
use crate::planner::bound::prices::Prices;
use crate::planner::problem::Problem;
use crate::planner::problem::model::Model;
use crate::planner::search::pair::{HoleOptions, JointPath, Workspace};

/// Asks for bounds; keeps what they have in common.
pub struct MaxSupplyBound<'m> {
    model: &'m Model<'m>,
    packing_cuts: PackingCuts,
    pairs: Vec<Block>,
    /// By want, where holes are crowded: the same holes in larger sets, with plants for it alone.
    clusters_of_want: BTreeMap<usize, Vec<Vec<Block>>>,
    kind_of: Vec<usize>,
    planner: BlockPlanner<'m>,
}

/// Plans sets of holes at some prices.
struct BlockPlanner<'m> {
    model: &'m Model<'m>,
    /// Kinds of hole, as [`PackingCuts::kinds`] tells.
    hole_kinds: Vec<(usize, u32)>,
    hole_options: Vec<HoleOptions>,
    workspace: Workspace,
}

/// Amounts are reckoned in this part of a thousandth of a unit.
const PRICE_SCALE: i64 = 1_000;
/// So many rules for room at the most, and how often a price is tried for each.
const MAX_CUTS: usize = 2;
const MAX_PRICE_TRIALS: usize = 10;

/// What sets of holes give at some prices of room.
#[derive(Clone)]
struct PricedSupply<'m> {
    /// So much, less what their room costs.
    gain: i64,
    /// Their stays, and how often each is there.
    stays: Vec<(LocatedStay<'m>, f64)>,
}

impl<'m> MaxSupplyBound<'m> {
    /// Ready to ask of a problem.
    #[must_use]
    pub fn new(model: &'m Model<'m>) -> Self {
        let packing_cuts = PackingCuts::of(model);
        let (kinds, kind_of) = packing_cuts.hole_kinds(model);
        Self {
            model,
            pairs: blocks::pair_blocks(model, &kind_of),
            clusters_of_want: BTreeMap::new(),
            packing_cuts,
            kind_of,
            planner: BlockPlanner {
                model,
                hole_options: vec![HoleOptions::default(); kinds.len()],
                hole_kinds: kinds,
                workspace: Workspace::default(),
            },
        }
    }

    /// No plan gives more of a want in these weeks, in thousandths of its unit.
    pub fn max_milli(&mut self, want: usize, weeks: Range<usize>) -> i64 {
        let model = self.model;
        let worth = model.items.iter().map(|item| {
            let cell = &model.want_weeks[item.want_week as usize];
            let is_asked = cell.want == want && weeks.contains(&cell.week);
            i64::from(is_asked) * item.milli * PRICE_SCALE
        });
        let prices = Prices::for_items(worth.collect());
        let found = self.planner.plan(&self.pairs, &prices, &self.packing_cuts);
        let together = self.max_by_clusters(want, &prices);
        // Room is let for one price in these weeks, or while what is asked for grows as well; and
        // is free before and after.
        let stands = found.stays.iter().map(|(stay, _)| stay.arc);
        let stands = stands.map(|arc| arc.removal - arc.transplant).min();
        let most = [0, stands.unwrap_or(0)].map(|before| {
            let days = day_positions(model.problem, &self.packing_cuts, &weeks, before);
            self.max_by_space_price(&prices, &days, &found)
        });
        let most = together.into_iter().chain(most).min();
        most.unwrap_or(0).div_euclid(PRICE_SCALE)
    }

    /// The most by larger sets, with room free: that plants take it is seen within a set.
    fn max_by_clusters(&mut self, want: usize, prices: &Prices) -> Option<i64> {
        let model = self.model;
        if model.problem.count_crowded_holes() == 0 {
            return None;
        }
        let kind_of = &self.kind_of;
        let near = || blocks::cluster_blocks(model, kind_of.clone(), Some(want)).collect();
        let near = self.clusters_of_want.entry(want).or_insert_with(near);
        let planner = &mut self.planner;
        let gain = |groups: &Vec<Block>| planner.plan(groups, prices, &self.packing_cuts).gain;
        near.iter().map(gain).min()
    }

    /// The most at the best rent of some days, given what is found without any.
    fn max_by_space_price(
        &mut self,
        prices: &Prices,
        days: &Range<usize>,
        free: &PricedSupply<'m>,
    ) -> i64 {
        let mut crowds = self.packing_cuts.clone();
        let mut most = free.gain;
        let mut rents: Vec<i64> = Vec::new();
        let mut found = Cow::Borrowed(free);
        while rents.len() < MAX_CUTS && crowds.separate(self.model, &found.stays) {
            let rule = rents.len();
            let there: Vec<i64> = crowds
                .rhs()
                .map(|most| most * i64::try_from(days.len()).unwrap_or(0))
                .collect();
            rents.push(0);
            let mut lowest = (most, 0);
            // At this rent alone, all room together costs as much as there is to be had.
            let (mut low, mut high) = (0_i64, most / there[rule].max(1));
            for _ in 0..MAX_PRICE_TRIALS {
                rents[rule] = low.midpoint(high);
                crowds.set_prices(&self.prices_by_day(days, &rents));
                found = Cow::Owned(self.planner.plan(&self.pairs, prices, &crowds));
                let paid: i64 = rents
                    .iter()
                    .zip(&there)
                    .map(|(rent, there)| rent * there)
                    .sum();
                lowest = lowest.min((found.gain + paid, rents[rule]));
                // More than there is to be had: it is let too cheaply.
                if used_space(&crowds, rule, days, &found) > there[rule] as f64 {
                    low = rents[rule];
                } else {
                    high = rents[rule];
                }
            }
            (most, rents[rule]) = lowest;
        }
        most
    }

    /// Prices of all days, rule by rule, where only some cost a rent.
    fn prices_by_day(&self, days: &Range<usize>, rents: &[i64]) -> Vec<i64> {
        let all = 0..self.packing_cuts.days.len();
        let of_rule = |&rent: &i64| {
            all.clone()
                .map(move |d| i64::from(days.contains(&d)) * rent)
        };
        rents.iter().flat_map(of_rule).collect()
    }
}

impl<'m> BlockPlanner<'m> {
    /// What sets of all holes give at such prices and rents.
    fn plan(
        &mut self,
        groups: &[Block],
        prices: &Prices,
        crowds: &PackingCuts,
    ) -> PricedSupply<'m> {
        let model = self.model;
        prices.hole_options(model, crowds, &self.hole_kinds, &mut self.hole_options);
        let mut best = JointPath::default();
        let mut found = PricedSupply {
            gain: 0,
            stays: Vec::new(),
        };
        for group in groups {
            group.plan(model, &self.hole_options, &mut self.workspace, &mut best);
            found.gain -= best.cost * group.count();
            found.stays.extend(group.stays(
                model,
                &self.hole_kinds,
                &best.stays,
                group.count() as f64,
            ));
        }
        found
    }
}

/// How much the stays weigh on some days, by a rule.
fn used_space(
    crowds: &PackingCuts,
    rule: usize,
    days: &Range<usize>,
    found: &PricedSupply<'_>,
) -> f64 {
    let on_days = |(run, weight): (Range<u32>, i64)| {
        let (from, to) = (run.start as usize, run.end as usize);
        weight * to.min(days.end).saturating_sub(from.max(days.start)) as i64
    };
    let weights = found.stays.iter().map(|&(stay, often)| {
        let weight: i64 = crowds.coefficients_of(rule, stay).map(on_days).sum();
        often * weight as f64
    });
    weights.sum()
}

/// The positions of the days looked at in some weeks, and in so many days before them.
fn day_positions(
    problem: &Problem,
    crowds: &PackingCuts,
    weeks: &Range<usize>,
    before: u32,
) -> Range<usize> {
    let position = |week: usize, before: u32| {
        let first = problem.monday(week) - i64::from(before);
        let is_earlier = |&day: &u32| i64::from(day) < first;
        crowds.days.partition_point(is_earlier)
    };
    position(weeks.start, before)..position(weeks.end, 0)
}
