//! What a plan gives, in a few numbers: the summary that `plan` prints.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde::Serialize;

use crate::chores::{self, CropChangeover};
use crate::garden::Garden;
use crate::plan::{AdvisedChange, ExcludedWeek, MaxSupply, Plan, WantOutcome, WeekOutcome};
use crate::planner::explain::bottleneck::Limit;
use crate::planner::problem::Problem;
use crate::planner::problem::cost;
use crate::summary::infeasible::{self, Infeasibility};
use crate::summary::water::{self, WaterFigures};
use crate::week;

/// A plan in short.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlanSummary {
    /// The garden's name.
    pub garden: String,
    /// First day.
    pub start: NaiveDate,
    /// Last day shown.
    pub last: NaiveDate,
    /// How many weeks these are, begun ones counted.
    pub weeks: u32,
    /// Each want.
    pub wants: Vec<WantFigures>,
    /// Where one crop of a want takes over from another.
    pub turns: Vec<CropChangeover>,
    /// Holes in use.
    pub holes: HolesInUse,
    /// How far the plan may be from the best, in percent of the way from planting nothing to
    /// the bound; absent while no bound is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gap_percent: Option<f64>,
    /// The water of every loop in use.
    pub water: Vec<WaterFigures>,
    /// What would help, the most helpful first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub would_help: Vec<AdvisedChange>,
    /// What cannot be grown as stated, and why.
    pub does_not_fit: Vec<Infeasibility>,
}

/// What one want gets.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WantFigures {
    /// The want's name.
    pub want: String,
    /// `heads` or `g`.
    pub unit: String,
    /// Wanted a week.
    pub each_week: f64,
    /// Delivered a week, on average over the weeks that count.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub average: Option<f64>,
    /// The week that gets least.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub worst: Option<LeanestWeek>,
    /// Share of the wanted amount that is met over the weeks that count.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub met: Option<f64>,
    /// The leanest month, where much is missing: the most that the rig could give then.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub most: Option<MaxSupply>,
    /// Weeks in which much is missing, by what stands in the way of more; the most weeks first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub short: Vec<ShortWeeks>,
    /// Stretches of weeks that do not count.
    pub not_counted: Vec<ExcludedWeeks>,
    /// Week by week: the share met, or nothing where the week does not count.
    pub course: Vec<WeekFigures>,
}

/// A want's leanest week.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LeanestWeek {
    /// ISO week.
    pub week: String,
    /// Its Monday.
    pub monday: NaiveDate,
    /// What it gets.
    pub delivered: f64,
}

/// One week of a want.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WeekFigures {
    /// Its Monday.
    pub monday: NaiveDate,
    /// Delivered over planned for; absent in a week that does not count.
    pub share: Option<f64>,
}

/// Weeks in a row that do not count, for one reason.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ExcludedWeeks {
    /// Why.
    pub why: ExcludedWeek,
    /// Monday of the first.
    pub from: NaiveDate,
    /// How many.
    pub weeks: usize,
}

/// Weeks in which much of a want is missing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct ShortWeeks {
    /// What stands in the way of more; nothing where one plant more would not be worth it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub limit: Option<Limit>,
    /// How many weeks.
    pub weeks: usize,
}

/// How many holes have a plant.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct HolesInUse {
    /// How many there are.
    pub all: usize,
    /// In use on average over all days.
    pub mean: f64,
    /// In use on the fullest day.
    pub most: usize,
}

/// The plan in short.
#[must_use]
pub fn summary(plan: &Plan, garden: &Garden, problem: &Problem) -> PlanSummary {
    let usage = HoleUsage::new(plan, problem);
    PlanSummary {
        garden: plan.garden.clone(),
        start: plan.start,
        last: plan.last,
        weeks: weeks(plan),
        wants: plan.wants.iter().map(want_figures).collect(),
        turns: chores::crop_changeovers(plan, garden),
        holes: usage.holes_in_use(),
        gap_percent: gap_percent(plan),
        water: water::water_figures(plan),
        would_help: plan.would_help.clone(),
        does_not_fit: all_infeasibilities(plan, garden, problem),
    }
}

fn all_infeasibilities(plan: &Plan, garden: &Garden, problem: &Problem) -> Vec<Infeasibility> {
    let not_kept = plan.not_kept.iter().cloned().map(Infeasibility::NotKept);
    let misfits = infeasible::infeasibilities(garden, problem).into_iter();
    misfits.chain(not_kept).collect()
}

fn weeks(plan: &Plan) -> u32 {
    let days = (plan.last - plan.start).num_days() + 1;
    u32::try_from(days).unwrap_or(0).div_ceil(7)
}

fn want_figures(want: &WantOutcome) -> WantFigures {
    let counted: Vec<&WeekOutcome> = want.weeks.iter().filter(|w| w.is_counted()).collect();
    let total: f64 = counted.iter().map(|w| w.delivered).sum();
    let worst = counted
        .iter()
        .min_by(|a, b| fill_rate(a).total_cmp(&fill_rate(b)))
        .map(|w| LeanestWeek {
            week: w.week.clone(),
            monday: w.monday,
            delivered: w.delivered,
        });
    WantFigures {
        want: want.want.clone(),
        unit: want.unit.clone(),
        each_week: want.each_week,
        average: worst.is_some().then(|| total / to_f64(counted.len())),
        worst,
        met: want.met,
        most: scarcest_month(want).filter(|_| want.is_short()),
        short: short_weeks(&counted),
        not_counted: excluded_weeks(want),
        course: want
            .weeks
            .iter()
            .map(|w| WeekFigures {
                monday: w.monday,
                share: w.is_counted().then(|| fill_rate(w)),
            })
            .collect(),
    }
}

/// Short weeks by what stands in the way, the most weeks first.
fn short_weeks(counted: &[&WeekOutcome]) -> Vec<ShortWeeks> {
    let mut by_limit: BTreeMap<Option<Limit>, usize> = BTreeMap::new();
    for week in counted.iter().filter(|w| w.is_short()) {
        *by_limit.entry(week.limit).or_default() += 1;
    }
    let mut short: Vec<ShortWeeks> = by_limit
        .into_iter()
        .map(|(limit, weeks)| ShortWeeks { limit, weeks })
        .collect();
    short.sort_by_key(|s| std::cmp::Reverse(s.weeks));
    short
}

/// The most of a want in the month that lacks most of it.
fn scarcest_month(want: &WantOutcome) -> Option<MaxSupply> {
    let lacks = |most: &&MaxSupply| -> f64 {
        let of_month = |w: &&WeekOutcome| week::month(w.monday) == most.month;
        let weeks = want.weeks.iter().filter(of_month);
        weeks.map(|w| (w.target - w.delivered).max(0.0)).sum()
    };
    // The first of those that lack as much.
    let by_lack = |a: &&MaxSupply, b: &&MaxSupply| lacks(a).total_cmp(&lacks(b));
    want.most.iter().rev().max_by(by_lack).cloned()
}

fn fill_rate(week: &WeekOutcome) -> f64 {
    week.delivered / week.target
}

fn excluded_weeks(want: &WantOutcome) -> Vec<ExcludedWeeks> {
    let mut stretches: Vec<ExcludedWeeks> = Vec::new();
    let mut before = None;
    for week in &want.weeks {
        let why = week.not_counted.filter(|_| !week.is_counted());
        match (why, stretches.last_mut()) {
            (Some(why), Some(stretch)) if before == Some(why) => stretch.weeks += 1,
            (Some(why), _) => stretches.push(ExcludedWeeks {
                why,
                from: week.monday,
                weeks: 1,
            }),
            (None, _) => {}
        }
        before = why;
    }
    stretches
}

fn gap_percent(plan: &Plan) -> Option<f64> {
    let figures = &plan.figures;
    cost::gap_percent(
        figures.cost_milli,
        figures.bound_milli?,
        figures.nothing_milli,
    )
}

/// How full the rig is, day by day from the plan's start.
struct HoleUsage {
    start: NaiveDate,
    all_holes: usize,
    holes: Vec<usize>,
}

impl HoleUsage {
    fn new(plan: &Plan, problem: &Problem) -> Self {
        let days = usize::try_from((plan.last - plan.start).num_days() + 1).unwrap_or(0);
        let mut usage = Self {
            start: plan.start,
            all_holes: problem.holes.len(),
            holes: vec![0; days],
        };
        for stay in &plan.stays {
            for day in usage.days(stay.transplant, stay.removal) {
                usage.holes[day] += 1;
            }
        }
        usage
    }

    /// Indices of the days from `from` up to, not including, `to` that the plan shows.
    fn days(&self, from: NaiveDate, to: NaiveDate) -> std::ops::Range<usize> {
        let index = |day: NaiveDate| {
            usize::try_from((day - self.start).num_days())
                .unwrap_or(0)
                .min(self.holes.len())
        };
        index(from)..index(to)
    }

    fn holes_in_use(&self) -> HolesInUse {
        HolesInUse {
            all: self.all_holes,
            mean: mean(self.holes.iter().map(|&n| to_f64(n))),
            most: self.holes.iter().copied().max().unwrap_or(0),
        }
    }
}

fn mean(values: impl Iterator<Item = f64>) -> f64 {
    let (sum, count) = values.fold((0.0, 0usize), |(sum, n), x| (sum + x, n + 1));
    if count == 0 { 0.0 } else { sum / to_f64(count) }
}

#[allow(clippy::cast_precision_loss)]
fn to_f64(n: usize) -> f64 {
    n as f64
}
