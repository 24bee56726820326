//! Holes so near each other that big plants leave little room beside them.
//!
//! The ceiling plans holes in pairs, but in a deck of close tubes a chard shuts more holes than the
//! one that it is paired with. So room is given a price as well, by rules of this form: in a set of
//! holes near each other, plants weigh the more, the wider they are, and those of one day weigh no
//! more together than the heaviest that can stand in it. (For plants of which two never go
//! together these are the clique inequalities of set packing: Padberg 1973, "On the facial
//! structure of set packing polyhedra".)
//!
//! Of all days those before workdays are enough: plants leave on workdays, and of two that stand
//! at the same time both stand on the day before the first of them leaves.

pub(crate) mod sets;
use std::ops::Range;

use crate::planner::bound::packing_cuts::sets::{CliqueShape, cliques_by_shape, coefficients, rhs};
use crate::planner::problem::Batch;
use crate::planner::problem::model::{Arc, Model, as_u32};

/// Rules for the holes of a problem, and those among them that are in force.
#[derive(Debug, Clone)]
pub struct PackingCuts {
    cuts: Vec<Cut>,
    active: Vec<ActiveCut>,
    /// The kinds of sets that each hole is in, a bit for each.
    pub set_kinds_of_hole: Vec<u32>,
    /// The days looked at, rising.
    pub days: Vec<u32>,
    /// How many of them there are before each day.
    days_before: Vec<u32>,
}

/// What plants weigh in sets alike, and the most that they can weigh in all of these.
#[derive(Debug, Clone)]
struct Cut {
    /// The bit of its sets.
    set_kind: u32,
    /// From which radius a plant weighs how much, rising.
    weights: Vec<(u32, i64)>,
    rhs: i64,
}

/// A rule that is in force.
#[derive(Debug, Clone)]
struct ActiveCut {
    cut: usize,
    /// By class and batch.
    coefficients: Vec<Vec<Coefficients>>,
    /// The sum of its prices before each day looked at, and of all.
    cumulative_prices: Vec<i64>,
}

/// A stay as rules see it.
#[derive(Debug, Clone, Copy)]
pub struct LocatedStay<'m> {
    /// The class of its hole.
    pub class: usize,
    /// The kinds of sets that its hole is in, a bit for each.
    pub set_kinds: u32,
    /// What it is.
    pub arc: &'m Arc,
}

/// Runs of days looked at, and what a batch weighs on them.
type Coefficients = Vec<(Range<u32>, i64)>;

/// Kinds of sets looked at, those with the most holes.
const MAX_CLIQUE_SHAPES: usize = 8;
/// How many rules are made for sets, for plants from the smallest up, and how much they differ at
/// the least.
const MAX_CUTS_PER_SHAPE: u32 = 12;
const MIN_RADIUS_STEP_MM: u32 = 4;

impl PackingCuts {
    /// The rules that there can be for a problem, none in force yet.
    #[must_use]
    pub fn of(model: &Model<'_>) -> Self {
        let problem = model.problem;
        let before = |day: &u32| day.checked_sub(1);
        let mut crowds = Self {
            cuts: Vec::new(),
            active: Vec::new(),
            set_kinds_of_hole: vec![0; problem.holes.len()],
            days: problem.workdays.iter().filter_map(before).collect(),
            days_before: Vec::new(),
        };
        let mut all = cliques_by_shape(problem);
        all.sort_by_key(|a| std::cmp::Reverse(a.sets.len() * a.shape.len()));
        let radii = problem.kinds.iter().flat_map(|k| &k.batches);
        let least = radii.flat_map(|b| &b.radius_mm).min().copied().unwrap_or(0);
        for (kind, alike) in (0..).zip(all.iter().take(MAX_CLIQUE_SHAPES)) {
            let rules = candidate_cuts(kind, alike, least, problem.max_radius_mm());
            if rules.is_empty() {
                continue;
            }
            crowds.cuts.extend(rules);
            for &hole in alike.sets.iter().flatten() {
                crowds.set_kinds_of_hole[hole] |= 1 << kind;
            }
        }
        let before = |day| as_u32(crowds.days.partition_point(|&d| d < day));
        crowds.days_before = (0..=problem.days + problem.tail).map(before).collect();
        crowds
    }

    /// The kinds of hole, each by its class and the kinds of sets that it is in; and of each hole,
    /// which it is.
    #[must_use]
    pub fn hole_kinds(&self, model: &Model<'_>) -> (Vec<(usize, u32)>, Vec<usize>) {
        let holes = model.class_of.iter().zip(&self.set_kinds_of_hole);
        let holes: Vec<(usize, u32)> = holes.map(|(&class, &sets)| (class, sets)).collect();
        let mut kinds = holes.clone();
        kinds.sort_unstable();
        kinds.dedup();
        let kind = |hole| kinds.partition_point(|kind| kind < hole);
        let of_hole = holes.iter().map(kind).collect();
        (kinds, of_hole)
    }

    /// How many rules are in force.
    #[must_use]
    pub fn active_count(&self) -> usize {
        self.active.len()
    }

    /// What plants may weigh together on one day, by each rule in force.
    pub fn rhs(&self) -> impl Iterator<Item = i64> {
        self.active.iter().map(|f| self.cuts[f.cut].rhs)
    }

    /// Puts that rule in force which some stays break most, each of them being there so often.
    /// False if they break none.
    pub fn separate(&mut self, model: &Model<'_>, stays: &[(LocatedStay<'_>, f64)]) -> bool {
        let days = &self.days;
        let batches: Vec<&[Batch]> = (0..model.classes.len())
            .map(|class| batches(model, class))
            .collect();
        let excess = |rule: &Cut| -> f64 {
            let mut weights = vec![0.0; days.len()];
            for &(stay, often) in stays.iter().filter(|(stay, _)| rule.covers(*stay)) {
                let batch = &batches[stay.class][stay.arc.batch as usize];
                for (run, weight) in
                    self.clip_at_removal(&rule.coefficients(batch, days), stay.arc.removal)
                {
                    for at in run {
                        weights[at as usize] += often * weight as f64;
                    }
                }
            }
            let most = rule.rhs as f64;
            weights.iter().map(|w| (w / most - 1.0).max(0.0)).sum()
        };
        let others = (0..self.cuts.len()).filter(|&r| self.active.iter().all(|f| f.cut != r));
        let worst = others
            .map(|r| (excess(&self.cuts[r]), r))
            .max_by(|a, b| a.0.total_cmp(&b.0));
        let Some((_, rule)) = worst.filter(|w| w.0 > 0.0) else {
            return false;
        };
        let of_batch = |batch: &Batch| self.cuts[rule].coefficients(batch, days);
        let weighs = batches.iter().map(|b| b.iter().map(of_batch).collect());
        self.active.push(ActiveCut {
            cut: rule,
            coefficients: weighs.collect(),
            cumulative_prices: vec![0; days.len() + 1],
        });
        true
    }

    /// A stay's part of some runs.
    fn clip_at_removal<'w>(
        &self,
        weighs: &'w Coefficients,
        removal: u32,
    ) -> impl Iterator<Item = (Range<u32>, i64)> + use<'w> {
        let upto = self.days_before[(removal as usize).min(self.days_before.len() - 1)];
        let runs = weighs.iter();
        runs.map(move |(run, weight)| (run.start..run.end.min(upto), *weight))
            .take_while(|(run, _)| !run.is_empty())
    }

    /// What a stay weighs by a rule in force, in runs of days looked at.
    pub fn coefficients_of(
        &self,
        rule: usize,
        stay: LocatedStay<'_>,
    ) -> impl Iterator<Item = (Range<u32>, i64)> {
        let ActiveCut {
            cut: rule,
            coefficients: weighs,
            ..
        } = &self.active[rule];
        let LocatedStay { class, arc, .. } = stay;
        let runs = self.cuts[*rule]
            .covers(stay)
            .then(|| self.clip_at_removal(&weighs[class][arc.batch as usize], arc.removal));
        runs.into_iter().flatten()
    }

    /// Takes what a unit of weight costs on each day looked at, rule by rule.
    pub fn set_prices(&mut self, prices: &[i64]) {
        let mut prices = prices.iter();
        for rule in &mut self.active {
            let mut sum = 0;
            for (after, price) in rule.cumulative_prices.iter_mut().skip(1).zip(&mut prices) {
                sum += price;
                *after = sum;
            }
        }
    }

    /// What a stay's room costs at these prices.
    #[must_use]
    pub fn space_price(&self, stay: LocatedStay<'_>) -> i64 {
        let of_rule = |(n, rule): (usize, &ActiveCut)| -> i64 {
            let sum = |day: u32| rule.cumulative_prices[day as usize];
            self.coefficients_of(n, stay)
                .map(|(run, weight)| (sum(run.end) - sum(run.start)) * weight)
                .sum()
        };
        self.active.iter().enumerate().map(of_rule).sum()
    }
}

/// The rules for sets alike: for plants from some radius up, each from another. This is at most half
/// the widest distance, as of larger plants there is but one in any case. None where no plant shuts
/// more than one hole beside its own: there pairs tell all.
fn candidate_cuts(kind: u32, alike: &CliqueShape, least_mm: u32, widest_mm: u32) -> Vec<Cut> {
    let half = alike.shape.iter().flatten().flatten().max().unwrap_or(&0) / 2;
    let step = (half.saturating_sub(least_mm) / MAX_CUTS_PER_SHAPE).max(MIN_RADIUS_STEP_MM);
    let smalls = (least_mm.min(half)..=half).rev().step_by(step as usize);
    let rules = smalls.filter_map(|small| {
        let mut weights = coefficients(&alike.shape, small);
        weights.retain(|w| w.0 <= widest_mm);
        let tells = weights.iter().any(|w| w.1 > 2);
        let most = tells.then(|| rhs(&alike.shape, &weights))?;
        Some(Cut {
            set_kind: kind,
            weights,
            rhs: most * alike.sets.len() as i64,
        })
    });
    rules.collect()
}

impl Cut {
    /// Whether a stay is in its sets. What stood before the plan began weighs nothing: such plants
    /// may crowd each other.
    const fn covers(&self, stay: LocatedStay<'_>) -> bool {
        stay.set_kinds >> self.set_kind & 1 == 1 && !stay.arc.stands
    }

    /// What a batch weighs on which days, were it to stand to its last end.
    fn coefficients(&self, batch: &Batch, days: &[u32]) -> Coefficients {
        let mut runs = Coefficients::new();
        let first = days.partition_point(|&day| day < batch.transplant);
        for (n, &day) in (0..).zip(days).skip(first) {
            let age = day - batch.transplant;
            let Some(&radius) = batch.radius_mm.get(age as usize) else {
                break;
            };
            let weight = self.weights.iter().rev().find(|w| w.0 <= radius);
            let Some(&(_, weight)) = weight else {
                continue;
            };
            match runs.last_mut() {
                Some((run, same)) if *same == weight && run.end == n => run.end += 1,
                _ => runs.push((n..n + 1, weight)),
            }
        }
        runs
    }
}

/// The batches of the holes of a class.
fn batches<'p>(model: &Model<'p>, class: usize) -> &'p [Batch] {
    let hole = model.class_of.iter().position(|&c| c == class);
    let kind = hole.map(|h| model.problem.holes[h].kind);
    kind.map_or(&[], |k| &model.problem.kinds[k].batches)
}
