//! Plants that stand on day 0.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::garden::holes::Layout;
use crate::nature::air::growing_conditions;
use crate::nature::growth::{
    GrowthTable, HarvestHistory, HarvestUnit, RemainingEnd, RemainingLife,
};
use crate::planner::build::{
    ProblemBuilder, UnitHarvests, day_number, index_or_push, millimetres, seed_plant_removal,
};
use crate::planner::problem::{StandingPlant, StayEnd};
use crate::units::Share;

impl ProblemBuilder<'_> {
    /// What stands, with what each can still give on which day.
    pub(super) fn standing_plants(
        &self,
        layout: &Layout,
    ) -> (Vec<StandingPlant>, Vec<Vec<UnitHarvests>>) {
        let transplants = self.setting.standing.iter().map(|s| s.transplanted);
        let first = transplants.min().unwrap_or(self.calendar.start);
        let mut growing = StandingPlantBuilder {
            builder: self,
            first_day: first,
            lights: Vec::new(),
            growth_tables: BTreeMap::new(),
        };
        self.setting
            .standing
            .iter()
            .filter_map(|stands| growing.standing_plant(layout, stands))
            .unzip()
    }

    /// The end of a plant that is left to flower, if this one is: at the latest the last workday
    /// looked at.
    fn seed_removal_day(&self, stands: &crate::planner::build::ExistingPlant) -> Option<u32> {
        let today = self.calendar.start;
        let until = seed_plant_removal(self.garden, stands, today)?;
        let until = usize::try_from((until - today).num_days()).ok()?;
        let last = *self.calendar.workdays.last()?;
        Some(day_number(until.min(last)))
    }
}

struct StandingPlantBuilder<'m, 'g> {
    builder: &'m ProblemBuilder<'g>,
    /// The day on which the air begins.
    first_day: NaiveDate,
    lights: Vec<Share>,
    /// Crops in the air of a light.
    growth_tables: BTreeMap<(usize, usize), GrowthTable<'g>>,
}

impl StandingPlantBuilder<'_, '_> {
    fn standing_plant(
        &mut self,
        layout: &Layout,
        stands: &crate::planner::build::ExistingPlant,
    ) -> Option<(StandingPlant, Vec<UnitHarvests>)> {
        let maker = self.builder;
        let hole = layout.holes.iter().position(|h| h.id == stands.hole)?;
        let today = self.day_index(maker.calendar.start);
        let rest = self.remaining_life(layout, hole, stands, today)?;
        let wants = &maker.garden.wants[stands.want].from_crops;
        let is_wanted = wants.contains(&stands.crop);
        let (ends, gains): (Vec<StayEnd>, Vec<UnitHarvests>) = rest
            .ends
            .iter()
            .map(|end| {
                let harvests = end.harvests.iter().filter(|_| is_wanted);
                let harvests: Vec<_> = harvests
                    .map(|&gain| HarvestUnit {
                        day: gain.day - today,
                        ..gain
                    })
                    .collect();
                let day = day_number(end.day - today);
                let gains = maker.unit_harvests(stands.want, &harvests);
                let yields = maker.weekly_yields(&gains, false, day);
                (StayEnd { day, yields }, gains)
            })
            .unzip();
        let last = ends.iter().map(|e| e.day).max()? as usize;
        let radius_mm = rest.diameters.iter().map(|diameter| {
            let mut radius: Vec<u32> = diameter.iter().map(|d| millimetres(d / 2.0)).collect();
            // One may be taken today.
            let widest = radius.last().copied().unwrap_or(0);
            radius.resize(radius.len().max(last + 1), widest);
            radius
        });
        let radius_mm = radius_mm.collect();
        let canopies = rest.ends.iter().map(|end| end.canopy).collect();
        Some((
            StandingPlant {
                hole,
                crop: stands.crop.clone(),
                want: stands.want,
                once: rest.is_harvested_once,
                radius_mm,
                canopies,
                ends,
            },
            gains,
        ))
    }

    fn remaining_life(
        &mut self,
        layout: &Layout,
        hole: usize,
        stands: &crate::planner::build::ExistingPlant,
        today: usize,
    ) -> Option<RemainingLife> {
        let maker = self.builder;
        let banks = maker.garden.loops.iter().flat_map(|l| &l.banks);
        let share = banks.map(|b| b.light_share).nth(layout.holes[hole].bank)?;
        let light = index_or_push(&mut self.lights, share);
        let crops = &maker.garden.crops;
        let crop = crops.iter().position(|c| c.key == stands.crop)?;
        let harvested: Vec<usize> = stands
            .harvested
            .iter()
            .map(|&d| self.day_index(d))
            .collect();
        let transplant = self.day_index(stands.transplanted);
        let first = self.first_day;
        let growth = self.growth_tables.entry((crop, light)).or_insert_with(|| {
            let place = &maker.garden.place;
            let days = today + maker.calendar.days;
            let air = growing_conditions(place, &place.cover, share, first, days);
            GrowthTable::new(&crops[crop], &air).from_day(first)
        });
        let past = HarvestHistory {
            transplant,
            harvested: &harvested,
        };
        if let Some(last) = maker.seed_removal_day(stands) {
            // Nothing is harvested from it, and it grows as wide as it can.
            let day = today + last as usize;
            let end = RemainingEnd {
                day,
                harvests: Vec::new(),
                canopy: 0,
            };
            return Some(RemainingLife {
                ends: vec![end],
                is_harvested_once: false,
                diameters: vec![growth.unharvested_canopy(&past, today..day + 1)],
            });
        }
        // A day's last work has been done when it is planned from: nothing is harvested twice.
        let is_workday = |day: usize| {
            day >= today && maker.calendar.is_workday[day - today] && !harvested.contains(&day)
        };
        let rest = growth.remaining_life(&past, today, &is_workday);
        (!rest.ends.is_empty()).then_some(rest)
    }

    fn day_index(&self, day: NaiveDate) -> usize {
        usize::try_from((day - self.first_day).num_days()).unwrap_or(0)
    }
}
