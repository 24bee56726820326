//! Plants that stand on day 0.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::garden::holes::Layout;
use crate::nature::air::growing_conditions;
use crate::nature::growth::{
    GrowthTable, HarvestHistory, HarvestUnit, RemainingEnd, RemainingLife,
};
use crate::planner::build::{
    ProblemBuilder, UnitHarvests, assigned_seed_plants, day_number, index_of, millimetres,
};
use crate::planner::problem::{Standing, StayEnd};
use crate::units::Share;

impl ProblemBuilder<'_> {
    /// What stands, with what each can still give on which day.
    pub(super) fn standing(&self, layout: &Layout) -> (Vec<Standing>, Vec<Vec<UnitHarvests>>) {
        let transplants = self.setting.standing.iter().map(|s| s.transplanted);
        let first = transplants.min().unwrap_or(self.calendar.start);
        let mut growing = StandingHistory {
            maker: self,
            first,
            lights: Vec::new(),
            grown: BTreeMap::new(),
        };
        self.setting
            .standing
            .iter()
            .filter_map(|stands| growing.standing_plant(layout, stands))
            .unzip()
    }

    /// The end of a plant that is left to flower, if this one is: at the latest the last workday
    /// looked at.
    fn kept_until(&self, stands: &crate::planner::build::ExistingPlant) -> Option<u32> {
        let today = self.calendar.start;
        let until = assigned_seed_plants(self.garden, stands, today)?;
        let until = usize::try_from((until - today).num_days()).ok()?;
        let last = *self.calendar.workdays.last()?;
        Some(day_number(until.min(last)))
    }
}

struct StandingHistory<'m, 'g> {
    maker: &'m ProblemBuilder<'g>,
    /// The day on which the air begins.
    first: NaiveDate,
    lights: Vec<Share>,
    /// Crops in the air of a light.
    grown: BTreeMap<(usize, usize), GrowthTable<'g>>,
}

impl StandingHistory<'_, '_> {
    fn standing_plant(
        &mut self,
        layout: &Layout,
        stands: &crate::planner::build::ExistingPlant,
    ) -> Option<(Standing, Vec<UnitHarvests>)> {
        let maker = self.maker;
        let hole = layout.holes.iter().position(|h| h.id == stands.hole)?;
        let today = self.index(maker.calendar.start);
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
                let gains = maker.gains(stands.want, &harvests);
                let yields = maker.yields(&gains, false, day);
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
            Standing {
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
        let maker = self.maker;
        let banks = maker.garden.loops.iter().flat_map(|l| &l.banks);
        let share = banks.map(|b| b.light_share).nth(layout.holes[hole].bank)?;
        let light = index_of(&mut self.lights, share);
        let crops = &maker.garden.crops;
        let crop = crops.iter().position(|c| c.key == stands.crop)?;
        let harvested: Vec<usize> = stands.harvested.iter().map(|&d| self.index(d)).collect();
        let transplant = self.index(stands.transplanted);
        let first = self.first;
        let growth = self.grown.entry((crop, light)).or_insert_with(|| {
            let place = &maker.garden.place;
            let days = today + maker.calendar.days;
            let air = growing_conditions(place, &place.cover, share, first, days);
            GrowthTable::new(&crops[crop], &air).from_day(first)
        });
        let past = HarvestHistory {
            transplant,
            harvested: &harvested,
        };
        if let Some(last) = maker.kept_until(stands) {
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

    fn index(&self, day: NaiveDate) -> usize {
        usize::try_from((day - self.first).num_days()).unwrap_or(0)
    }
}
