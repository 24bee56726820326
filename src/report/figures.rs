//! What a plan gives, in a few numbers: the summary that `plan` prints.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde::Serialize;

use super::fit::{self, Misfit};
use super::water::{self, WaterFigures};
use crate::chores::{self, Turn};
use crate::garden::Garden;
use crate::plan::{Help, Most, NotCounted, Plan, Stay, WantOutcome, WeekOutcome};
use crate::planner::cost;
use crate::planner::problem::Problem;

/// A want is taken as met from this share on.
const AS_GOOD_AS_MET: f64 = 0.95;
/// Something is taken as full from this share on, as a hole cannot be filled on every day.
const AS_GOOD_AS_FULL: f64 = 0.9;

/// A plan in short.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Summary {
    /// The garden's name.
    pub garden: String,
    /// First day.
    pub start: NaiveDate,
    /// Last day shown.
    pub last: NaiveDate,
    /// How many weeks the garden states.
    pub weeks: u32,
    /// Each want.
    pub wants: Vec<WantFigures>,
    /// Where one crop of a want takes over from another.
    pub turns: Vec<Turn>,
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
    pub would_help: Vec<Help>,
    /// What cannot be grown as stated, and why.
    pub does_not_fit: Vec<Misfit>,
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
    pub worst: Option<WorstWeek>,
    /// Share of the wanted amount that is met over the weeks that count.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub met: Option<f64>,
    /// The leanest month, where much is missing: the most that the rig could give then.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub most: Option<Most>,
    /// Why it is not wholly met, where much is missing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub short_because: Option<Shortage>,
    /// Stretches of weeks that do not count.
    pub not_counted: Vec<Stretch>,
    /// Week by week: the share met, or nothing where the week does not count.
    pub course: Vec<Week>,
}

/// A want's leanest week.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WorstWeek {
    /// ISO week.
    pub week: String,
    /// Its Monday.
    pub monday: NaiveDate,
    /// What it gets.
    pub delivered: f64,
}

/// One week of a want.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Week {
    /// Its Monday.
    pub monday: NaiveDate,
    /// Delivered over planned for; absent in a week that does not count.
    pub share: Option<f64>,
}

/// Weeks in a row that do not count, for one reason.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Stretch {
    /// Why.
    pub why: NotCounted,
    /// Monday of the first.
    pub from: NaiveDate,
    /// How many.
    pub weeks: usize,
}

/// What stands in the way of a want.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Shortage {
    /// Hardly a hole is empty.
    HolesFull,
    /// The nursery has hardly a cell free when its seedlings are raised.
    NurseryFull,
    /// Holes are free, but not when and where its crops may stand.
    NoRoomBeside,
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
pub fn summary(plan: &Plan, garden: &Garden, problem: &Problem) -> Summary {
    let usage = Usage::new(plan, problem);
    Summary {
        garden: plan.garden.clone(),
        start: plan.start,
        last: plan.last,
        weeks: garden.weeks,
        wants: plan.wants.iter().map(|w| figures(w, &usage)).collect(),
        turns: chores::season_turns(plan, garden),
        holes: usage.holes_in_use(),
        gap_percent: gap_percent(plan),
        water: water::figures(plan),
        would_help: plan.would_help.clone(),
        does_not_fit: fit::misfits(garden, problem),
    }
}

fn figures(want: &WantOutcome, usage: &Usage) -> WantFigures {
    let counted: Vec<&WeekOutcome> = want.weeks.iter().filter(|w| counts(w)).collect();
    let total: f64 = counted.iter().map(|w| w.delivered).sum();
    let worst = counted
        .iter()
        .min_by(|a, b| share(a).total_cmp(&share(b)))
        .map(|w| WorstWeek {
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
        most: leanest_month(want).filter(|_| want.met.is_some_and(|met| met < AS_GOOD_AS_MET)),
        short_because: want
            .met
            .filter(|&met| met < AS_GOOD_AS_MET)
            .map(|_| usage.shortage(&counted)),
        not_counted: stretches(want),
        course: want
            .weeks
            .iter()
            .map(|w| Week {
                monday: w.monday,
                share: counts(w).then(|| share(w)),
            })
            .collect(),
    }
}

/// The month that could give least of a want, among those in which it counts.
fn leanest_month(want: &WantOutcome) -> Option<Most> {
    let counted = |most: &&Most| {
        let mut weeks = want.weeks.iter().filter(|w| counts(w));
        // A week belongs to the month of its Thursday.
        weeks.any(|w| {
            (w.monday + chrono::Days::new(3))
                .to_string()
                .starts_with(&most.month)
        })
    };
    let least = |a: &&Most, b: &&Most| a.each_week.total_cmp(&b.each_week);
    want.most.iter().filter(counted).min_by(least).cloned()
}

fn counts(week: &WeekOutcome) -> bool {
    week.target > 0.0
}

fn share(week: &WeekOutcome) -> f64 {
    week.delivered / week.target
}

fn stretches(want: &WantOutcome) -> Vec<Stretch> {
    let mut stretches: Vec<Stretch> = Vec::new();
    let mut before = None;
    for week in &want.weeks {
        let why = week.not_counted.filter(|_| !counts(week));
        match (why, stretches.last_mut()) {
            (Some(why), Some(stretch)) if before == Some(why) => stretch.weeks += 1,
            (Some(why), _) => stretches.push(Stretch {
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

/// How full rig and nursery are, day by day from the plan's start.
struct Usage {
    start: NaiveDate,
    all_holes: usize,
    holes: Vec<usize>,
    all_cells_milli: u64,
    cells_milli: Vec<u64>,
}

impl Usage {
    fn new(plan: &Plan, problem: &Problem) -> Self {
        let days = usize::try_from((plan.last - plan.start).num_days() + 1).unwrap_or(0);
        let mut usage = Self {
            start: plan.start,
            all_holes: problem.holes.len(),
            holes: vec![0; days],
            all_cells_milli: problem.nursery_cells_milli,
            cells_milli: vec![0; days],
        };
        let cells = cells_by_crop(problem);
        for stay in &plan.stays {
            usage.add(stay, cells.get(stay.crop.as_str()).copied().unwrap_or(0));
        }
        usage
    }

    fn add(&mut self, stay: &Stay, cells_milli: u64) {
        for day in self.days(stay.transplant, stay.removal) {
            self.holes[day] += 1;
        }
        if let Some(sow) = stay.sow {
            for day in self.days(sow, stay.transplant) {
                self.cells_milli[day] += cells_milli;
            }
        }
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

    /// What was full while the plants for the short weeks grew.
    fn shortage(&self, counted: &[&WeekOutcome]) -> Shortage {
        // Half of a lettuce's time in the hole before the week; what was full then was in its way.
        const BEFORE: i64 = 14;
        let days: Vec<usize> = counted
            .iter()
            .filter(|w| share(w) < AS_GOOD_AS_MET)
            .flat_map(|w| {
                let monday = w.monday - chrono::TimeDelta::days(BEFORE);
                self.days(monday, monday + chrono::TimeDelta::days(7))
            })
            .collect();
        let holes = mean(days.iter().map(|&d| to_f64(self.holes[d])));
        #[allow(clippy::cast_precision_loss)]
        let cells = mean(days.iter().map(|&d| self.cells_milli[d] as f64));
        #[allow(clippy::cast_precision_loss)]
        if holes >= AS_GOOD_AS_FULL * to_f64(self.all_holes) {
            Shortage::HolesFull
        } else if cells >= AS_GOOD_AS_FULL * self.all_cells_milli as f64 {
            Shortage::NurseryFull
        } else {
            Shortage::NoRoomBeside
        }
    }
}

fn cells_by_crop(problem: &Problem) -> BTreeMap<&str, u64> {
    problem
        .kinds
        .iter()
        .flat_map(|kind| &kind.batches)
        .map(|batch| (batch.crop.as_str(), batch.cells_milli))
        .collect()
}

fn mean(values: impl Iterator<Item = f64>) -> f64 {
    let (sum, count) = values.fold((0.0, 0usize), |(sum, n), x| (sum + x, n + 1));
    if count == 0 { 0.0 } else { sum / to_f64(count) }
}

#[allow(clippy::cast_precision_loss)]
fn to_f64(n: usize) -> f64 {
    n as f64
}
