//! When plants are taken, cut and picked, and what that gives.

use chrono::{NaiveDate, TimeDelta};
use steadyleaf::garden::crop::HarvestHabit;
use steadyleaf::units::Measure;

use super::life::{Growing, last_picking, picked_enough};
use super::{Look, Plant};

/// What was ripe before today, and was left to stand, keeps half its time at least.
const STILL_KEEPS: f64 = 0.5;

impl Look<'_> {
    pub(super) fn harvests(&self, faults: &mut Vec<String>) {
        for plant in &self.plants {
            if plant.stay.for_seed || plant.stay.stands && plant.stay.harvests.is_empty() {
                continue;
            }
            self.wanted(plant, faults);
            self.season(plant, faults);
            self.habit(plant, faults);
        }
    }

    /// Whether a plant that stands is taken out as soon as it has given what it must.
    pub(super) fn is_soonest(&self, plant: &Plant<'_>) -> bool {
        let (growing, taken) = (self.growing(plant), self.taken_before(plant));
        let ripe = growing.ripe(plant.stay.transplant);
        let due = match plant.crop.harvest {
            HarvestHabit::Cut {
                regrowth_days: between,
                ..
            } => match taken.last() {
                Some(&last) => growing.due_again(last, between.get()),
                None => ripe,
            },
            // Picking ends with the last one of a week.
            HarvestHabit::Pick { .. } => {
                let begun = taken.first().copied().or(ripe);
                begun.map(|day| picked_enough(day) + TimeDelta::days(7))
            }
            _ => ripe,
        };
        let from = due.unwrap_or(self.plan.start).max(self.plan.start);
        let soonest = from.iter_days().find(|d| self.is_workday(*d));
        soonest.is_some_and(|day| plant.stay.removal <= day)
    }

    fn wanted(&self, plant: &Plant<'_>, faults: &mut Vec<String>) {
        let want = &self.garden.wants[plant.want];
        if !want.from_crops.contains(&plant.crop.key) {
            faults.push(format!("want: {} for {}", plant.name(), want.name));
        }
    }

    /// Nothing harms it as long as it stands, and it has light.
    fn season(&self, plant: &Plant<'_>, faults: &mut Vec<String>) {
        let growing = self.growing(plant);
        let (transplant, today) = (plant.stay.transplant, self.plan.start);
        let mut harm = growing.harm(transplant);
        if plant.stay.stands && harm.is_some_and(|(day, _)| day < today) {
            harm = growing.harm(today);
        }
        if let Some((day, why)) = harm.filter(|(day, _)| *day <= plant.stay.removal) {
            faults.push(format!("{why}: {} on {day}", plant.name()));
        }
        if plant.stay.stands {
            return;
        }
        if let Some(ripe) = growing.ripe(transplant)
            && growing.is_too_dark(transplant, ripe)
        {
            faults.push(format!("too dark: {}", plant.name()));
        }
    }

    fn habit(&self, plant: &Plant<'_>, faults: &mut Vec<String>) {
        let name = plant.name();
        let growing = self.growing(plant);
        let taken = self.taken_before(plant);
        let days: Vec<NaiveDate> = plant.stay.harvests.iter().map(|h| h.day).collect();
        if days.last() != Some(&plant.stay.removal) || !days.is_sorted_by(|a, b| a < b) {
            faults.push(format!("removal: {name} not with its last harvest"));
            return;
        }
        let Some(ripe) = growing.ripe(plant.stay.transplant) else {
            faults.push(format!("ripe: {name} is harvested and never ripe"));
            return;
        };
        let amounts = match plant.crop.harvest {
            HarvestHabit::Head {
                each,
                field_holding: holds,
            } => {
                if days.len() != 1 {
                    faults.push(format!("cuts: {name} is taken {} times", days.len()));
                }
                self.in_time(growing, (plant, ripe, days[0], holds.get()), faults);
                vec![each.get(); days.len()]
            }
            HarvestHabit::Cut {
                first,
                later,
                cuts,
                regrowth_days: between,
                field_holding: holds,
                ..
            } => {
                let so_far = taken.len();
                if so_far + days.len() > cuts as usize {
                    faults.push(format!("cuts: {name} is cut {} times", so_far + days.len()));
                }
                let mut due = match taken.last() {
                    Some(&last) => growing.due_again(last, between.get()),
                    None => Some(ripe),
                };
                for &day in &days {
                    match due {
                        Some(due) => {
                            self.in_time(growing, (plant, due, day, holds.get()), faults);
                        }
                        None => faults.push(format!("ripe: {name} is not due again by {day}")),
                    }
                    due = growing.due_again(day, between.get());
                }
                let first = std::iter::once(first.get()).take(usize::from(so_far == 0));
                first
                    .chain(std::iter::repeat(later.get()))
                    .take(days.len())
                    .collect()
            }
            HarvestHabit::Pick {
                harvest_period: lasts,
                ..
            } => {
                let begun = taken.first().copied().unwrap_or(ripe);
                let last = last_picking(begun, lasts.get());
                if days[0] < begun || *days.last().expect("days") > last {
                    faults.push(format!("ripe: {name} is picked outside {begun} to {last}"));
                }
                let since = taken.first().copied().unwrap_or(days[0]);
                // Beyond the shown weeks a plan breaks off where it is looked at no further.
                let is_shown = plant.stay.removal <= self.plan.last && !plant.stay.stands;
                let could = || growing.possible(plant.stay.transplant, &|d| self.is_workday(d));
                if is_shown
                    && plant.stay.removal < picked_enough(since)
                    && could().last().is_some_and(|d| *d > plant.stay.removal)
                {
                    faults.push(format!("removal: {name} is hardly picked"));
                }
                let all: Vec<NaiveDate> = taken.iter().chain(&days).copied().collect();
                growing.pickings(begun, &all).split_off(taken.len())
            }
        };
        self.amounts(plant, &amounts, faults);
    }

    /// Not before it is ripe, and while it keeps.
    fn in_time(
        &self,
        growing: &Growing<'_>,
        (plant, ripe, day, holds): (&Plant<'_>, NaiveDate, NaiveDate, f64),
        faults: &mut Vec<String>,
    ) {
        let today = self.plan.start;
        let last = if plant.stay.stands && ripe < today {
            let left = holds - growing.spoilt(ripe, today);
            growing.keeps(today, left.max(holds * STILL_KEEPS))
        } else {
            growing.keeps(ripe, holds)
        };
        if day < ripe {
            faults.push(format!("ripe: {} on {ripe}, not {day}", plant.name()));
        }
        if day > last {
            faults.push(format!("keeps: {} until {last}, not {day}", plant.name()));
        }
    }

    fn amounts(&self, plant: &Plant<'_>, grams: &[f64], faults: &mut Vec<String>) {
        let in_heads = self.garden.wants[plant.want].each_week.measure() == Measure::Heads;
        for (harvest, &grams) in plant.stay.harvests.iter().zip(grams) {
            let amount = if in_heads { 1.0 } else { grams };
            if (harvest.amount - amount).abs() > 0.000_51 {
                faults.push(format!(
                    "amount: {} gives {amount} on {}, not {}",
                    plant.name(),
                    harvest.day,
                    harvest.amount
                ));
            }
        }
    }
}
