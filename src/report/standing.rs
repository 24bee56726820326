//! What stands in every hole on one day, and how grown it is.

use std::collections::BTreeMap;

use chrono::{Datelike, Days, NaiveDate};
use serde::Serialize;

use crate::garden::Garden;
use crate::garden::holes::{self, Hole};
use crate::nature::air::{self, DayAir};
use crate::nature::growth::Growth;
use crate::plan::{Plan, Stay};

/// One hole on the day.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HoleOnDay {
    /// The hole's name.
    pub hole: String,
    /// What stands there, if anything.
    pub plant: Option<Plant>,
}

/// A plant on the day.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Plant {
    /// Key of its crop.
    pub crop: String,
    /// The want that it serves.
    pub want: String,
    /// When it was, or is, set out.
    pub transplant: NaiveDate,
    /// When it is to be taken out.
    pub removal: NaiveDate,
    /// Development since transplant, or since the last cut as far as that set it back: 0 just
    /// set out, 1 ripe. Absent where the garden has changed and does not let it grow.
    pub grown: Option<f64>,
    /// Its first harvest in the day's week (Monday to Sunday), if any.
    pub harvest_this_week: Option<NaiveDate>,
}

/// Every hole of the garden on this day, in the garden's order. On a day on which one plant
/// makes room for the next, it is the one that leaves.
#[must_use]
pub fn standing(plan: &Plan, garden: &Garden, day: NaiveDate) -> Vec<HoleOnDay> {
    let stays = stays_on(plan, day);
    let growing = Growing::new(plan, garden);
    holes::layout(garden)
        .holes
        .iter()
        .map(|hole| HoleOnDay {
            hole: hole.id.clone(),
            plant: stays
                .get(hole.id.as_str())
                .map(|stay| growing.plant(stay, hole, day)),
        })
        .collect()
}

fn stays_on(plan: &Plan, day: NaiveDate) -> BTreeMap<&str, &Stay> {
    let mut on_day = BTreeMap::<&str, &Stay>::new();
    for stay in &plan.stays {
        if stay.transplant <= day && day <= stay.removal {
            let seen = on_day.entry(&stay.hole).or_insert(stay);
            if stay.transplant < seen.transplant {
                *seen = stay;
            }
        }
    }
    on_day
}

/// What is needed to grow the plan's plants again.
struct Growing<'a> {
    garden: &'a Garden,
    first: NaiveDate,
    /// The air of each bank from `first` on.
    air: Vec<Vec<DayAir>>,
}

impl<'a> Growing<'a> {
    fn new(plan: &Plan, garden: &'a Garden) -> Self {
        let starts = plan.stays.iter().map(|s| s.transplant);
        let ends = plan.stays.iter().map(|s| s.removal);
        let first = starts.min().unwrap_or(plan.start).min(plan.start);
        let last = ends.max().unwrap_or(plan.last).max(plan.last);
        let days = index(first, last) + 1;
        let place = &garden.place;
        let banks = garden.loops.iter().flat_map(|l| &l.banks);
        Self {
            garden,
            first,
            air: banks
                .map(|bank| air::air(place, &place.cover, bank.light, first, days))
                .collect(),
        }
    }

    fn plant(&self, stay: &Stay, hole: &Hole, day: NaiveDate) -> Plant {
        let week = day.iso_week();
        Plant {
            crop: stay.crop.clone(),
            want: stay.want.clone(),
            transplant: stay.transplant,
            removal: stay.removal,
            grown: self.grown(stay, hole, day),
            harvest_this_week: stay
                .harvests
                .iter()
                .map(|h| h.day)
                .find(|d| d.iso_week() == week),
        }
    }

    fn grown(&self, stay: &Stay, hole: &Hole, day: NaiveDate) -> Option<f64> {
        let crop = self.garden.crop(&stay.crop)?;
        let is_workday = |day: usize| {
            let day = self.first + Days::new(day as u64);
            self.garden.rhythm.is_workday(day)
        };
        let transplant = index(self.first, stay.transplant);
        let life = Growth::new(crop, &self.air[hole.bank])
            .life(transplant, &is_workday)
            .ok()?;
        let grown = life.development.get(index(stay.transplant, day));
        // On the day of removal development is no longer told: it is ripe.
        Some(grown.copied().unwrap_or(1.0).min(1.0))
    }
}

fn index(first: NaiveDate, day: NaiveDate) -> usize {
    usize::try_from((day - first).num_days()).unwrap_or(0)
}
