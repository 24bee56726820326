//! What stands in every hole on one day, and how grown it is.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};
use serde::Serialize;

use crate::garden::Garden;
use crate::garden::holes::{self, PlantingHole};
use crate::plan::{Plan, Stay};
use crate::summary::canopy_series::{CanopySeries, day_index};

/// One hole on the day.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HoleOnDay {
    /// The hole's name.
    pub hole: String,
    /// What stands there, if anything.
    pub plant: Option<PlantOnDay>,
}

/// A plant on the day.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlantOnDay {
    /// Key of its crop.
    pub crop: String,
    /// The want that it serves.
    pub want: String,
    /// When it was, or is, set out.
    pub transplant: NaiveDate,
    /// When it is to be taken out.
    pub removal: NaiveDate,
    /// Development since transplant, or since the last cut as far as that set it back: 0 just
    /// set out, 1 ripe. Absent where the garden has no card of it any more.
    pub grown: Option<f64>,
    /// Its first harvest in the day's week (Monday to Sunday), if any.
    pub harvest_this_week: Option<NaiveDate>,
}

/// Every hole of the garden on this day, in the garden's order. On a day on which one plant
/// makes room for the next, it is the one that leaves.
#[must_use]
pub fn snapshot(plan: &Plan, garden: &Garden, day: NaiveDate) -> Vec<HoleOnDay> {
    let stays = stays_on(plan, day);
    let growing = CanopySeries::new(plan, garden);
    holes::layout(garden)
        .holes
        .iter()
        .map(|hole| HoleOnDay {
            hole: hole.id.clone(),
            plant: stays
                .get(hole.id.as_str())
                .map(|stay| plant(&growing, stay, hole, day)),
        })
        .collect()
}

pub(crate) fn stays_on(plan: &Plan, day: NaiveDate) -> BTreeMap<&str, &Stay> {
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

fn plant(growing: &CanopySeries, stay: &Stay, hole: &PlantingHole, day: NaiveDate) -> PlantOnDay {
    let week = day.iso_week();
    PlantOnDay {
        crop: stay.crop.clone(),
        want: stay.want.clone(),
        transplant: stay.transplant,
        removal: stay.removal,
        grown: grown(growing, stay, hole, day),
        harvest_this_week: stay
            .harvests
            .iter()
            .map(|h| h.day)
            .find(|d| d.iso_week() == week),
    }
}

fn grown(growing: &CanopySeries, stay: &Stay, hole: &PlantingHole, day: NaiveDate) -> Option<f64> {
    let development = growing.development(stay, growing.light_level(hole.bank))?;
    let grown = development.get(day_index(stay.transplant, day))?;
    Some(grown.min(1.0))
}
