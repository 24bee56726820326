//! From a garden to its plan, in dates and names.

use std::cell::OnceCell;
use std::collections::BTreeSet;

use chrono::NaiveDate;

use crate::garden::{Garden, SeedPlant};
use crate::plan::{
    CostFigures, ExcludedWeek, Plan, PlannedHarvest, SCHEMA, SeedPlantNotKept, Stay, TubeClean,
    WantOutcome, WeekOutcome, diagnose, seed_stock, warm_start, water,
};
use crate::planner::bound::lower_bound::LowerBound;
use crate::planner::build::{self, BuiltProblem, PlannedSeedPlant, PlanningState};
use crate::planner::checker::{self, Violation};
use crate::planner::effort::Effort;
use crate::planner::monitor::Monitor;
use crate::planner::problem::Problem;
use crate::planner::problem::cost;
use crate::planner::problem::model::Model;
use crate::planner::problem::solution::{PlacedStay, Solution};
use crate::planner::solve::{self, SolveResult};
use crate::week;

/// A plan and what it came from.
#[derive(Debug, Clone)]
pub struct Planned {
    /// The problem that the garden poses.
    pub built: BuiltProblem,
    /// The stays chosen.
    pub solution: Solution,
    /// What no plan can go below.
    pub lower_bound: LowerBound,
    /// The search was ended early.
    pub stopped: bool,
    /// The same in dates and names.
    pub plan: Plan,
}

/// Plans a garden. `made_from` is the fingerprint of what it was read from.
///
/// # Errors
/// If the plan found breaks a rule: a fault of this program, not of the garden. Such a plan is
/// never handed out.
pub fn plan_garden(
    garden: &Garden,
    made_from: &str,
    effort: Effort,
    watch: &Monitor<'_>,
) -> Result<Planned, Vec<Violation>> {
    let mut planned = plan_without_advice(garden, made_from, effort, watch)?;
    diagnose::add_advice(
        &mut planned,
        garden,
        &PlanningState::at_start(garden),
        watch,
    );
    Ok(planned)
}

/// As [`plan_garden`], without planning once more for each change that may help.
///
/// # Errors
/// As [`plan_garden`].
pub fn plan_without_advice(
    garden: &Garden,
    made_from: &str,
    effort: Effort,
    watch: &Monitor<'_>,
) -> Result<Planned, Vec<Violation>> {
    let built = build::build(garden);
    let solved = solve_from_scratch(&Model::new(&built.problem), effort, watch);
    let setting = PlanningState::at_start(garden);
    let mut planned = plan_of_solution(garden, &setting, built, solved, made_from)?;
    diagnose::add_bounds(&mut planned);
    Ok(planned)
}

/// A solution that owes nothing to a former plan, with schedule slack added.
pub(super) fn solve_from_scratch(
    model: &Model<'_>,
    effort: Effort,
    watch: &Monitor<'_>,
) -> SolveResult {
    warm_start::with_slack(model, solve::solve_model(model, effort, threads(), watch))
}

/// How many threads there are to search with; no result depends on it.
pub(super) fn threads() -> usize {
    std::thread::available_parallelism().map_or(1, std::num::NonZero::get)
}

/// A solution as a plan, if it keeps every rule.
pub(super) fn plan_of_solution(
    garden: &Garden,
    setting: &PlanningState,
    built: BuiltProblem,
    solved: SolveResult,
    made_from: &str,
) -> Result<Planned, Vec<Violation>> {
    let broken = checker::check(&built.problem, &solved.solution);
    if !broken.is_empty() {
        return Err(broken);
    }
    let plan = PlanWriter {
        garden,
        setting,
        built: &built,
        problem: &built.problem,
        solution: &solved.solution,
        lower_bound: &solved.lower_bound,
        without_absences: OnceCell::new(),
    }
    .plan(made_from);
    Ok(Planned {
        built,
        solution: solved.solution,
        lower_bound: solved.lower_bound,
        stopped: solved.stopped,
        plan,
    })
}

struct PlanWriter<'a> {
    garden: &'a Garden,
    setting: &'a PlanningState,
    built: &'a BuiltProblem,
    problem: &'a Problem,
    solution: &'a Solution,
    lower_bound: &'a LowerBound,
    without_absences: OnceCell<Problem>,
}

/// The weeks in which anything can give something of a want.
fn harvest_weeks(problem: &Problem, want: usize) -> impl Iterator<Item = usize> {
    let planted = problem.kinds.iter().flat_map(|k| &k.batches);
    let planted = planted.map(|b| (b.want, &b.ends));
    let standing = problem.standing.iter().map(|s| (s.want, &s.ends));
    let ends = planted.chain(standing).filter(move |&(w, _)| w == want);
    let yields = ends.flat_map(|(_, ends)| ends.iter().flat_map(|e| &e.yields));
    yields.map(|y| y.week as usize)
}

/// An amount in units from thousandths.
#[allow(clippy::cast_precision_loss)]
fn units(milli: i64) -> f64 {
    milli as f64 / 1000.0
}

impl PlanWriter<'_> {
    fn plan(&self, made_from: &str) -> Plan {
        let last = self.date(self.problem.days - 1);
        let (stays, cleans) = (self.stays(), self.cleans());
        Plan {
            schema: SCHEMA,
            made_by: format!("{} {}", env!("CARGO_PKG_NAME"), env!("CARGO_PKG_VERSION")),
            garden: self.garden.name.clone(),
            made_from: made_from.to_owned(),
            diary: String::new(),
            seen: Vec::new(),
            start: self.problem.start,
            last,
            wants: self.want_outcomes(),
            water: water::simulate_loops_from(
                self.garden,
                (self.problem.start, last),
                &self.setting.tanks,
                &stays,
                &cleans,
            ),
            stays,
            cleans,
            not_kept: self.not_kept(),
            seed: seed_stock::stated_lots(self.garden),
            figures: CostFigures {
                cost_milli: self.solution.cost(self.problem),
                nothing_milli: cost::empty_plan_cost(self.problem),
                bound_milli: Some(self.lower_bound.bound),
            },
            would_help: Vec::new(),
        }
    }

    fn date(&self, day: u32) -> NaiveDate {
        self.problem.start + chrono::Days::new(u64::from(day))
    }

    fn is_shown(&self, day: i64) -> bool {
        day < i64::from(self.problem.days)
    }

    /// The stays that begin in the shown weeks, or stand in them, by hole, then time.
    fn stays(&self) -> Vec<Stay> {
        let standing = (0..self.problem.standing.len()).map(|n| self.standing_stay(n));
        let planted = self
            .solution
            .stays
            .iter()
            .filter(|s| self.is_shown(s.batch(self.problem).sow.into()))
            .map(|s| (s.hole, self.planted_stay(s)));
        let kept = self.built.seed_plants.iter();
        let kept = kept.filter(|k| self.is_shown(k.sow.into()));
        let kept = kept.map(|k| (k.hole, self.seed_stay(k)));
        let mut stays: Vec<(usize, Stay)> = standing.chain(planted).chain(kept).collect();
        stays.sort_by_key(|(hole, stay)| (*hole, stay.transplant));
        stays.into_iter().map(|(_, stay)| stay).collect()
    }

    fn standing_stay(&self, n: usize) -> (usize, Stay) {
        let stands = &self.problem.standing[n];
        let chosen = self.solution.standing_ends[n];
        let end = &stands.ends[chosen];
        let id = &self.problem.holes[stands.hole].id;
        let past = self.setting.standing.iter().find(|s| s.hole == *id);
        let gains = &self.built.standing_unit_harvests[n][chosen];
        let today = self.problem.start;
        let for_seed = past.and_then(|p| build::seed_plant_removal(self.garden, p, today));
        let stay = Stay {
            hole: id.clone(),
            crop: stands.crop.clone(),
            want: self.problem.wants[stands.want].id.clone(),
            sow: past.and_then(|p| p.sown),
            on_hand: false,
            stands: true,
            for_seed: for_seed.is_some(),
            was_due: None,
            transplant: past.map_or(self.problem.start, |p| p.transplanted),
            harvested: past.map_or_else(Vec::new, |p| p.harvested.clone()),
            removal: for_seed.unwrap_or_else(|| self.date(end.day)),
            harvests: self.planned_harvests(gains, false, end.day),
        };
        (stands.hole, stay)
    }

    fn seed_stay(&self, kept: &PlannedSeedPlant) -> Stay {
        let serves = self.garden.wants.iter();
        let want = serves.clone().find(|w| w.from_crops.contains(&kept.crop));
        Stay {
            hole: self.problem.holes[kept.hole].id.clone(),
            crop: kept.crop.clone(),
            want: want.map_or_else(|| self.problem.wants[0].id.clone(), |w| w.name.clone()),
            sow: Some(self.problem.start + chrono::TimeDelta::days(kept.sow.into())),
            on_hand: kept.on_hand,
            stands: false,
            for_seed: true,
            was_due: None,
            transplant: self.date(kept.transplant),
            harvested: Vec::new(),
            removal: self.date(kept.removal),
            harvests: Vec::new(),
        }
    }

    fn not_kept(&self) -> Vec<SeedPlantNotKept> {
        let not_kept = self.built.unplaced_seed_plants.iter();
        let told = not_kept.map(|left_out| {
            let SeedPlant {
                hole,
                crop,
                from,
                until,
            } = left_out.plant.clone();
            SeedPlantNotKept {
                hole,
                crop,
                from,
                until,
                why: left_out.why,
            }
        });
        told.collect()
    }

    fn planned_harvests(&self, gains: &[(u32, i64)], once: bool, end: u32) -> Vec<PlannedHarvest> {
        build::harvests_until(gains, once, end)
            .map(|(day, milli)| PlannedHarvest {
                day: self.date(day),
                amount: units(milli),
            })
            .collect()
    }

    fn planted_stay(&self, placed: &PlacedStay) -> Stay {
        let batch = placed.batch(self.problem);
        let end = placed.end(self.problem).day;
        let hole = &self.problem.holes[placed.hole];
        let gains = &self.built.unit_harvests[hole.kind][placed.batch];
        let sow = chrono::TimeDelta::days(batch.sow.into());
        Stay {
            hole: hole.id.clone(),
            crop: batch.crop.clone(),
            want: self.problem.wants[batch.want].id.clone(),
            sow: Some(self.problem.start + sow),
            on_hand: batch.lot.is_some(),
            stands: false,
            for_seed: false,
            was_due: None,
            transplant: self.date(batch.transplant),
            harvested: Vec::new(),
            removal: self.date(end),
            harvests: self.planned_harvests(gains, batch.once, end),
        }
    }

    fn cleans(&self) -> Vec<TubeClean> {
        let cleans = self.problem.cleans.iter().zip(&self.solution.clean_days);
        let shown = cleans.filter(|&(_, &day)| self.is_shown(day.into()));
        // One scrubbing may do for two windows.
        let days: BTreeSet<(u32, usize)> = shown.map(|(clean, &day)| (day, clean.tube)).collect();
        let told = days.into_iter().map(|(day, tube)| TubeClean {
            tube: self.built.layout.tubes[tube].name.clone(),
            day: self.date(day),
        });
        told.collect()
    }

    fn want_outcomes(&self) -> Vec<WantOutcome> {
        let supply = self.solution.supply(self.problem);
        (0..self.problem.wants.len())
            .map(|w| {
                let want = &self.problem.wants[w];
                let stated = &self.garden.wants[w];
                let weeks = 0..self.problem.reported_weeks();
                let (mut wanted, mut met) = (0, 0);
                for week in weeks.clone() {
                    let target = self.target(w, week);
                    wanted += target;
                    met += target.min(supply[w][week] + self.already_harvested(w, week));
                }
                WantOutcome {
                    want: want.id.clone(),
                    unit: want.unit.clone(),
                    each_week: units(i64::try_from(stated.each_week.milli()).unwrap_or(i64::MAX)),
                    weeks: weeks
                        .map(|k| self.week_outcome(w, k, supply[w][k]))
                        .collect(),
                    most: Vec::new(),
                    met: (wanted > 0).then(|| units(met) / units(wanted)),
                }
            })
            .collect()
    }

    /// What a want has had in a week before the plan's first day.
    fn already_harvested(&self, want: usize, week: usize) -> i64 {
        if week == 0 {
            self.built.harvested_milli[want]
        } else {
            0
        }
    }

    /// What is wanted in a week that counts, whatever more is planned for to be safe.
    fn target(&self, want: usize, week: usize) -> i64 {
        let each = i64::try_from(self.garden.wants[want].each_week.milli()).unwrap_or(i64::MAX);
        let counts = self.problem.wants[want].target_milli[week] > 0
            || self.already_harvested(want, week) > 0;
        if counts { each } else { 0 }
    }

    fn week_outcome(&self, want: usize, week: usize, supply: i64) -> WeekOutcome {
        let target = self.target(want, week);
        let monday = self.monday(week);
        WeekOutcome {
            week: week::name(monday),
            monday,
            target: units(target),
            delivered: units(supply + self.already_harvested(want, week)),
            not_counted: (target == 0).then(|| self.exclusion_reason(want, week)),
            limit: None,
        }
    }

    fn exclusion_reason(&self, want: usize, week: usize) -> ExcludedWeek {
        let days = || self.monday(week).iter_days().take(7);
        let stated = &self.garden.wants[want];
        let in_season = |d: &NaiveDate| stated.season.is_none_or(|b| build::is_in_season(*d, b));
        if days().filter(in_season).count() < 4 {
            return ExcludedWeek::NotWanted;
        }
        if !days().any(|d| self.garden.rhythm.is_workday(d)) {
            return ExcludedWeek::NobodyThere;
        }
        let there = self.problem_without_absences();
        if harvest_weeks(there, want).any(|w| w == week) {
            return ExcludedWeek::NobodyToPlant;
        }
        // What stands or is on hand already is another matter.
        let sown = there.kinds.iter().flat_map(|k| &k.batches);
        let sown = sown.filter(|b| b.want == want && b.lot.is_none());
        let sown = sown.flat_map(|b| b.ends.iter().flat_map(|e| &e.yields));
        match sown.map(|y| y.week as usize).min() {
            Some(first) if week < first => ExcludedWeek::BeforeFirstHarvest,
            _ => ExcludedWeek::OutOfSeason,
        }
    }

    /// The problem as it would be if nobody ever went away.
    fn problem_without_absences(&self) -> &Problem {
        if self.garden.rhythm.absences.is_empty() {
            return self.problem;
        }
        self.without_absences.get_or_init(|| {
            let mut garden = self.garden.clone();
            garden.rhythm.absences.clear();
            build::build_from(&garden, self.setting).problem
        })
    }

    fn monday(&self, week: usize) -> NaiveDate {
        self.problem.start + chrono::TimeDelta::days(self.problem.monday(week))
    }
}
