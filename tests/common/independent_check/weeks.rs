//! What each week gives of each want, what is counted of it, and what it costs.

use std::collections::BTreeSet;

use chrono::{Datelike, Days, NaiveDate};
use steadyleaf::diary::PlantRecord;
use steadyleaf::garden::Garden;
use steadyleaf::garden::crop::HarvestHabit;
use steadyleaf::garden::want::Want;
use steadyleaf::plan::{WantOutcome, WeekOutcome};
use steadyleaf::units::Measure;

use super::Look;

/// What one stay costs, in thousandths.
const STAY_COST: i64 = 1000;

/// The Monday of a day's week.
pub(super) fn monday(day: NaiveDate) -> NaiveDate {
    day - Days::new(u64::from(day.weekday().num_days_from_monday()))
}

#[allow(clippy::cast_possible_truncation)]
fn milli(amount: f64) -> i64 {
    (amount * 1000.0).round() as i64
}

/// What a week costs by the design's formula, in thousandths: `weight * T/u * (100 s + 100 s^2 + 5 o
/// + 10 o^2)`, `o` counted from the target or, where that is more, from one harvest.
pub fn cost_of_week(garden: &Garden, want: &Want, week: &WeekOutcome) -> i64 {
    let (target, given) = (
        i128::from(milli(week.target)),
        i128::from(milli(week.delivered)),
    );
    if target == 0 {
        return 0;
    }
    let harvest = i128::from(one_harvest(garden, want));
    let (short, over) = (
        (target - given).max(0),
        (given - target.max(harvest)).max(0),
    );
    // Each share times the target squared, so that all is whole but the last division.
    let parts = 100 * short * target + 100 * short * short + 5 * over * target + 10 * over * over;
    let cost = i128::from(want.importance_milli) * parts / (harvest * target);
    i64::try_from(cost).expect("a cost")
}

/// What one plant gives at one harvest, in thousandths: the mean over a want's crops.
fn one_harvest(garden: &Garden, want: &Want) -> i64 {
    if want.each_week.measure() == Measure::Heads {
        return 1000;
    }
    let grams = want.from_crops.iter().map(|key| {
        let card = garden.crop(key).expect("a card");
        match card.harvest {
            HarvestHabit::Head { each, .. } => each.get(),
            HarvestHabit::Cut { later, .. } => later.get(),
            HarvestHabit::Pick { each_week, .. } => each_week.get(),
        }
    });
    #[allow(clippy::cast_precision_loss)]
    let crops = want.from_crops.len() as f64;
    milli(grams.sum::<f64>() / crops).max(1)
}

impl Look<'_> {
    pub(super) fn weeks(&self, faults: &mut Vec<String>) {
        let plan = self.plan;
        if plan.last + Days::new(1)
            != self.garden.start + Days::new(7 * u64::from(self.garden.weeks))
        {
            faults.push(format!("weeks: the last day is {}", plan.last));
        }
        let names = plan.wants.iter().map(|w| &w.want);
        if !names.eq(self.garden.wants.iter().map(|w| &w.name)) {
            faults.push("weeks: not the garden's wants".to_owned());
            return;
        }
        let mut cost = 0;
        let mut nothing = 0;
        for (n, want) in self.garden.wants.iter().enumerate() {
            let told = &plan.wants[n];
            let ends = |monday: &NaiveDate| *monday + Days::new(6) <= plan.last;
            let mondays = monday(plan.start).iter_days().step_by(7).take_while(ends);
            if !mondays.eq(told.weeks.iter().map(|w| w.monday)) {
                faults.push(format!("weeks: those of {} are not all", want.name));
            }
            self.sums(n, &told.weeks, faults);
            self.counted(n, &told.weeks, faults);
            self.met(n, faults);
            most(told, faults);
            for week in &told.weeks {
                cost += cost_of_week(self.garden, want, week);
                let empty = WeekOutcome {
                    delivered: 0.0,
                    ..week.clone()
                };
                nothing += cost_of_week(self.garden, want, &empty);
            }
        }
        // What lies beyond the shown weeks costs something, too; how much the plan does not tell.
        let planted = self.plants.iter().filter(|p| !p.is_given()).count();
        cost += STAY_COST * i64::try_from(planted).expect("a few");
        let figures = &plan.figures;
        if self.state.is_none()
            && (figures.cost_milli < cost
                || figures.nothing_milli < nothing
                || figures.cost_milli > figures.nothing_milli)
        {
            faults.push(format!(
                "cost: {cost} of {nothing} in the shown weeks, told {} of {}",
                figures.cost_milli, figures.nothing_milli
            ));
        }
        if figures.bound_milli.is_some_and(|b| b > figures.cost_milli) {
            faults.push("cost: the bound lies above it".to_owned());
        }
    }

    /// A week gives what its days' harvests give, and what the diary has of it.
    fn sums(&self, want: usize, weeks: &[WeekOutcome], faults: &mut Vec<String>) {
        for week in weeks {
            let harvests = self.plants.iter().filter(|p| p.want == want);
            let harvests = harvests.flat_map(|p| &p.stay.harvests);
            let here = harvests.filter(|h| monday(h.day) == week.monday);
            let mut sum: i64 = here.map(|h| milli(h.amount)).sum();
            if monday(self.plan.start) == week.monday {
                sum += self.had(want);
            }
            if milli(week.delivered) != sum {
                let name = &self.plan.wants[want].want;
                faults.push(format!(
                    "sum: {name} in {} is {sum}, not {}",
                    week.week, week.delivered
                ));
            }
            let iso = week.monday.iso_week();
            if week.week != format!("{}-W{:02}", iso.year(), iso.week()) {
                faults.push(format!("weeks: {} begins on {}", week.week, week.monday));
            }
        }
    }

    /// What was harvested of a want in the week of today, in thousandths.
    fn had(&self, want: usize) -> i64 {
        let Some(state) = self.state else {
            return 0;
        };
        let wants = &self.garden.wants;
        let serves = |plant: &&PlantRecord| {
            let named = wants.iter().position(|w| {
                Some(&w.name) == plant.want.as_ref() && w.from_crops.contains(&plant.crop)
            });
            let any = || {
                wants
                    .iter()
                    .position(|w| w.from_crops.contains(&plant.crop))
            };
            named.or_else(any) == Some(want)
        };
        let in_heads = wants[want].each_week.measure() == Measure::Heads;
        let today = self.plan.start;
        let plants = state
            .plants
            .values()
            .chain(state.removed.iter().map(|g| &g.plant));
        let taken = plants.filter(serves).flat_map(|p| &p.harvests);
        taken
            .filter(|t| monday(t.on) == monday(today) && t.on <= today)
            .map(|t| match t.amount {
                _ if in_heads => 1000,
                Some(a) if a.measure() == Measure::Grams => {
                    i64::try_from(a.milli()).expect("a harvest")
                }
                _ => 0,
            })
            .sum()
    }

    /// A week counts where most of it is in the want's season, and something sown since the start
    /// can be harvested in it.
    fn counted(&self, n: usize, weeks: &[WeekOutcome], faults: &mut Vec<String>) {
        let want = &self.garden.wants[n];
        let each = i64::try_from(want.each_week.milli()).expect("an amount");
        let reach = self.reach(want);
        for week in weeks {
            let target = milli(week.target);
            let days = || week.monday.iter_days().take(7);
            let looked_at = days().filter(|d| *d >= self.plan.start);
            let (inside, outside): (Vec<_>, Vec<_>) = looked_at.partition(|d| in_season(want, *d));
            let is_wanted = inside.len() > outside.len();
            let is_there = days().any(|d| self.is_workday(d));
            let can_be = reach.contains(&week.monday);
            let first = week.monday < self.plan.start || week.monday == monday(self.plan.start);
            // What stands can give in other weeks, and what was had is not wanted again.
            let is_open = self.state.is_some() || !self.garden.keep_for_seed.is_empty();
            let right = match (is_wanted && is_there, can_be) {
                _ if first && self.state.is_some() => target == 0 || target == each,
                (false, _) => target == 0,
                (true, true) if is_open => target == each || target == 0,
                (true, true) => target == each,
                (true, false) => target == 0 || is_open && target == each,
            };
            if !right || (target == 0) != week.not_counted.is_some() {
                faults.push(format!(
                    "target: {target} of {} in {} (wanted {is_wanted}, somebody there {is_there}, \
                     within reach {can_be})",
                    want.name, week.week
                ));
            }
            let is_free = first && self.state.is_some();
            if target == 0 && week.delivered > 0.0 && is_wanted && !is_free {
                faults.push(format!("target: {} gets some in {}", want.name, week.week));
            }
        }
    }

    /// The Mondays of weeks in which something of a want could be harvested.
    fn reach(&self, want: &Want) -> BTreeSet<NaiveDate> {
        let plan = self.plan;
        let is_workday = |d: NaiveDate| self.is_workday(d);
        let shown = || plan.start.iter_days().take_while(|d| *d <= plan.last);
        let workdays: Vec<NaiveDate> = shown().filter(|d| is_workday(*d)).collect();
        let mut reach = BTreeSet::new();
        for key in &want.from_crops {
            let crop = self.garden.crop(key).expect("a card");
            let raised = self.nursery.worth(crop, &crop.nursery);
            let ready_after = |sown: NaiveDate| raised.reaches(sown, crop.nursery.days.get());
            let fits = |light: f64| {
                let height = crop.size.height.get();
                let mut holes = self.holes.iter();
                holes.any(|h| h.light == light && height <= h.tallest + 1e-9)
            };
            let mut lights: Vec<f64> = self.holes.iter().map(|h| h.light).collect();
            lights.sort_by(f64::total_cmp);
            lights.dedup();
            let ready: Vec<_> = workdays.iter().map(|&s| (s, ready_after(s))).collect();
            let on_hand = self.garden.seedlings.iter().filter(|s| s.crop == *key);
            let on_hand: Vec<_> = on_hand.filter_map(|s| ready_after(s.sown)).collect();
            let set_out = workdays.iter().filter(|&&day| {
                let waits =
                    |ready: NaiveDate, most: i64| (0..=most).contains(&(day - ready).num_days());
                ready
                    .iter()
                    .any(|&(sown, ready)| sown < day && ready.is_some_and(|r| waits(r, 10)))
                    || on_hand.iter().any(|&ready| waits(ready, 20))
            });
            for &day in set_out {
                for &light in lights.iter().filter(|l| fits(**l)) {
                    let days = self.growing_in(key, light).possible(day, &is_workday);
                    reach.extend(days.into_iter().map(monday));
                }
            }
        }
        reach
    }

    fn met(&self, n: usize, faults: &mut Vec<String>) {
        let told = &self.plan.wants[n];
        let wanted: f64 = told.weeks.iter().map(|w| w.target).sum();
        let met: f64 = told.weeks.iter().map(|w| w.target.min(w.delivered)).sum();
        let right = match told.met {
            None => wanted == 0.0,
            Some(share) => wanted > 0.0 && (share - met / wanted).abs() < 1e-9,
        };
        if !right {
            faults.push(format!("met: {} is {met} of {wanted}", told.want));
        }
    }
}

/// No month gives more a week than it is told that it could.
fn most(told: &WantOutcome, faults: &mut Vec<String>) {
    for most in &told.most {
        let month = |monday: NaiveDate| (monday + Days::new(3)).format("%Y-%m").to_string();
        let of_month = |w: &&WeekOutcome| month(w.monday) == most.month;
        let counted = told.weeks.iter().filter(|w| w.target > 0.0);
        let given: Vec<f64> = counted.filter(of_month).map(|w| w.delivered).collect();
        #[allow(clippy::cast_precision_loss)]
        let mean = given.iter().sum::<f64>() / given.len() as f64;
        if given.is_empty() || mean > most.each_week + 0.001 {
            faults.push(format!(
                "most: {} gives {mean} a week in {}, which can be {}",
                told.want, most.month, most.each_week
            ));
        }
    }
}

pub(super) fn in_season(want: &Want, day: NaiveDate) -> bool {
    let Some((from, until)) = want.season else {
        return true;
    };
    let day = (day.month(), day.day());
    let (from, until) = ((from.month, from.day), (until.month, until.day));
    if from <= until {
        (from..=until).contains(&day)
    } else {
        day >= from || day <= until
    }
}
