//! When things are done: workdays, seedlings and the nursery, seed plants, what stands.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{NaiveDate, TimeDelta};
use steadyleaf::chores::{Kind, chores};
use steadyleaf::nature::seed::{self, CellSowing};
use steadyleaf::planner::build::NotKeptReason;

use super::life::Sums;
use super::{Look, Plant, whole};

/// How long a ready seedling may wait in its cell: one sown for the day, and one that is there
/// already (common practice, no published source).
const WAITS: [i64; 2] = [10, 20];

/// A seed plant that is due so long before the plan's end is in the plan, or told to be left out.
const LONG_BEFORE: TimeDelta = TimeDelta::days(70);

impl<'a> Look<'a> {
    pub(super) fn days(&self, faults: &mut Vec<String>) {
        self.workdays(faults);
        self.seedlings(faults);
        self.on_hand(faults);
        self.cells_needed(faults);
        self.cells_told(faults);
        self.seed_plants(faults);
        self.what_stands(faults);
    }

    fn workdays(&self, faults: &mut Vec<String>) {
        let mut need = |what: String, day: NaiveDate| {
            if !self.is_workday(day) || day < self.plan.start {
                faults.push(format!("workday: {what} on {day}"));
            }
        };
        for plant in &self.plants {
            let name = plant.name();
            let is_new = !plant.stay.stands;
            if let Some(sow) = plant.stay.sow.filter(|_| is_new && !plant.stay.on_hand) {
                need(format!("{name} is sown"), sow);
            }
            if is_new {
                need(format!("{name} is set out"), plant.stay.transplant);
            }
            need(format!("{name} is taken out"), plant.stay.removal);
            for harvest in &plant.stay.harvests {
                need(format!("{name} is harvested"), harvest.day);
            }
        }
        for clean in &self.plan.cleans {
            need(format!("{} is scrubbed", clean.tube), clean.day);
        }
    }

    /// What a crop's days in the nursery are worth.
    fn raised(&self, plant: &Plant<'a>) -> Sums {
        self.nursery.worth(plant.crop, &plant.crop.nursery)
    }

    fn seedlings(&self, faults: &mut Vec<String>) {
        let mut worth: BTreeMap<&str, Sums> = BTreeMap::new();
        for plant in self.plants.iter().filter(|p| !p.stay.stands) {
            let (name, transplant) = (plant.name(), plant.stay.transplant);
            let Some(sow) = plant.stay.sow.filter(|s| *s < transplant) else {
                faults.push(format!("seedling: {name} is set out before it is sown"));
                continue;
            };
            let raised = worth
                .entry(&plant.crop.key)
                .or_insert_with(|| self.raised(plant));
            let ready = raised.reaches(sow, plant.crop.nursery.days.get());
            let Some(ready) = ready.filter(|r| *r <= transplant) else {
                faults.push(format!("seedling: {name} is set out before it is ready"));
                continue;
            };
            let waits = (transplant - ready).num_days();
            if waits > WAITS[usize::from(plant.stay.on_hand)] {
                faults.push(format!("seedling: {name} waits {waits} days"));
            }
        }
    }

    fn on_hand(&self, faults: &mut Vec<String>) {
        let mut used: BTreeMap<(&str, Option<NaiveDate>), u32> = BTreeMap::new();
        for plant in self.plants.iter().filter(|p| p.stay.on_hand) {
            *used.entry((&plant.crop.key, plant.stay.sow)).or_default() += 1;
        }
        for ((crop, sown), used) in used {
            let there: u32 = match self.state {
                Some(state) => state
                    .sowings
                    .iter()
                    .filter(|s| s.crop == crop && Some(s.on) == sown)
                    .map(|s| s.remaining())
                    .sum(),
                None => self
                    .garden
                    .seedlings
                    .iter()
                    .filter(|s| s.crop == crop && Some(s.sown) == sown)
                    .map(|s| s.count)
                    .sum(),
            };
            if used > there {
                faults.push(format!("on hand: {used} of {there} seedlings of {crop}"));
            }
        }
    }

    /// Cells with the spares that are needed on average.
    fn cells_needed(&self, faults: &mut Vec<String>) {
        self.in_the_nursery("cells", faults, |plant| {
            if plant.stay.on_hand {
                1.0
            } else {
                1.0 / self.cell(plant).chance
            }
        });
    }

    /// A cell of a crop, as its card says or as it has proved here.
    fn cell(&self, plant: &Plant<'a>) -> CellSowing {
        let (card, per_cup) = (&plant.crop.seed, plant.crop.seed.per_cup);
        let seen = self.plan.seen.iter().find(|s| s.crop == plant.crop.key);
        let Some(chance) = seen.and_then(|seen| seen.survival) else {
            return seed::cell_sowing(card);
        };
        let proved = CellSowing {
            chance,
            ..seed::cell_sowing(card)
        };
        let each = seed::plant_probability_from_cell(proved, per_cup).clamp(0.05, 1.0);
        seed::cell_sowing_for(each, per_cup)
    }

    fn in_the_nursery(
        &self,
        rule: &str,
        faults: &mut Vec<String>,
        cells: impl Fn(&Plant<'a>) -> f64,
    ) {
        let mut needed: BTreeMap<NaiveDate, f64> = BTreeMap::new();
        for plant in self.plants.iter().filter(|p| !p.stay.stands) {
            let sown = plant.stay.sow.unwrap_or(self.plan.start);
            let days = sown.max(self.plan.start).iter_days();
            for day in days.take_while(|d| *d < plant.stay.transplant) {
                *needed.entry(day).or_default() += cells(plant);
            }
        }
        let there = f64::from(self.garden.nursery.cells);
        let full = needed.iter().find(|(_, n)| **n > there + 1e-4);
        if let Some((day, needed)) = full {
            faults.push(format!(
                "{rule}: {needed:.3} of {there} in the nursery on {day}"
            ));
        }
    }

    /// Cells as the chores tell to sow them.
    fn cells_told(&self, faults: &mut Vec<String>) {
        let told = chores(self.plan, self.garden);
        let sow: BTreeMap<NaiveDate, &Vec<String>> = told
            .iter()
            .filter(|c| c.kind == Kind::Sow)
            .map(|c| (c.day, &c.details))
            .collect();
        let mut batches: BTreeMap<_, f64> = BTreeMap::new();
        for plant in self.plants.iter().filter(|p| !p.stay.stands) {
            if let Some(sown) = plant.stay.sow.filter(|_| !plant.stay.on_hand) {
                let key = (sown, &plant.crop.key, plant.stay.transplant);
                *batches.entry(key).or_default() += 1.0;
            }
        }
        let mut each = BTreeMap::new();
        for (&(sown, crop, transplant), &cups) in &batches {
            let called = &self.garden.crop(crop).expect("a card").name;
            let on = self.garden.language.date(transplant, sown);
            let lines = sow.get(&sown).into_iter().copied().flatten();
            let cells = lines
                .filter_map(|line| line.strip_prefix(&format!("{called}: ")))
                .filter(|line| line.contains(&format!("transplant {on}")))
                .filter_map(cells_in)
                .next();
            let Some(cells) = cells.filter(|cells: &f64| *cells >= cups) else {
                faults.push(format!(
                    "sowing told: {cells:?} cells for {cups} cups of {crop} on {sown}"
                ));
                continue;
            };
            each.insert((sown, crop.clone(), transplant), cells / cups);
        }
        self.in_the_nursery("cells told", faults, |plant| {
            let key = plant
                .stay
                .sow
                .map(|s| (s, plant.crop.key.clone(), plant.stay.transplant));
            let told = key.and_then(|key| each.get(&key)).copied();
            told.filter(|_| !plant.stay.on_hand).unwrap_or(1.0)
        });
    }

    /// A plant that is kept for seed has the hole and the days that the grower states.
    fn seed_plants(&self, faults: &mut Vec<String>) {
        for plant in self.plants.iter().filter(|p| p.stay.for_seed) {
            let stay = plant.stay;
            let stated = self.garden.keep_for_seed.iter().any(|kept| {
                let until = kept.until.max(self.plan.start).iter_days();
                let end = until.into_iter().find(|d| self.is_workday(*d));
                kept.hole == stay.hole
                    && kept.crop == stay.crop
                    && (stay.stands || kept.from <= stay.transplant)
                    && end == Some(stay.removal)
            });
            if !stated || !stay.harvests.is_empty() {
                faults.push(format!("seed plant: {} is not as stated", plant.name()));
            }
            if !stay.stands && !stay.on_hand && self.has_seedling_for(plant) {
                faults.push(format!("seed plant: {} is sown anew", plant.name()));
            }
        }
        for kept in &self.garden.keep_for_seed {
            let is_planned = self.plants.iter().any(|p| {
                p.stay.for_seed && p.stay.hole == kept.hole && p.stay.transplant < kept.until
            });
            let told = self.plan.not_kept.iter().find(|n| n.hole == kept.hole);
            // What would be sown after the shown weeks is not told of.
            let soonest = self.plan.start.max(kept.from);
            let can_be_told = soonest < kept.until && soonest + LONG_BEFORE <= self.plan.last;
            if is_planned && told.is_some() || can_be_told && !is_planned && told.is_none() {
                let told = told.is_some();
                faults.push(format!(
                    "seed plant: {} is planned {is_planned}, told to be left out {told}",
                    kept.hole
                ));
            }
        }
        for told in &self.plan.not_kept {
            let (until, hole) = (told.until, &told.hole);
            let is_blocked = self.state.is_some_and(|s| s.blocked.contains(hole));
            let here = self.plants.iter().filter(|p| p.stay.hole == *hole);
            let is_taken = here
                .filter(|p| p.stay.stands)
                .any(|p| until <= p.stay.removal + self.between());
            let right = match told.why {
                NotKeptReason::Blocked => is_blocked,
                NotKeptReason::HoleTaken => is_taken,
                NotKeptReason::NoSeedling => !is_blocked,
            };
            if !right {
                faults.push(format!(
                    "seed plant: {hole} is left out, but not for {:?}",
                    told.why
                ));
            }
        }
    }

    /// Days that a hole stays empty between two plants.
    fn between(&self) -> TimeDelta {
        TimeDelta::days(whole(self.garden.spacing.changeover))
    }

    /// Whether a seedling stands in the nursery that nobody else needs and a plant could be.
    fn has_seedling_for(&self, plant: &Plant<'a>) -> bool {
        let sowings = self.state.iter().flat_map(|s| &s.sowings);
        let raised = self.raised(plant);
        sowings.filter(|s| s.crop == plant.crop.key).any(|sowing| {
            let used = self
                .plants
                .iter()
                .map(|p| p.stay)
                .filter(|s| s.on_hand && s.crop == sowing.crop && s.sow == Some(sowing.on));
            let meant = match sowing.cups {
                _ if sowing.on_hand => sowing.cells,
                // What it was sown for is not known.
                None => 0,
                Some(cups) => cups,
            };
            let left = meant
                .saturating_sub(sowing.transplanted)
                .min(sowing.remaining());
            let ready = raised.reaches(sowing.on, plant.crop.nursery.days.get());
            let waits = ready.map(|ready| (plant.stay.transplant - ready).num_days());
            let waits = waits.is_some_and(|days| (0..=WAITS[1]).contains(&days));
            waits && used.count() < left as usize
        })
    }

    /// What stands by the diary stands in the plan, and nothing else; blocked holes are left alone.
    fn what_stands(&self, faults: &mut Vec<String>) {
        let planned: BTreeSet<_> = self
            .plants
            .iter()
            .filter(|p| p.stay.stands)
            .map(|p| (&p.stay.hole, &p.stay.crop, p.stay.transplant))
            .collect();
        let stands = self.state.iter().flat_map(|s| &s.plants);
        let there: BTreeSet<_> = stands.map(|(h, p)| (h, &p.crop, p.transplanted)).collect();
        for (hole, crop, since) in planned.symmetric_difference(&there) {
            faults.push(format!("standing: {crop} in {hole} since {since}"));
        }
        for plant in self.plants.iter().filter(|p| !p.stay.stands) {
            if self
                .state
                .is_some_and(|s| s.blocked.contains(&plant.stay.hole))
            {
                faults.push(format!("blocked: {}", plant.name()));
            }
        }
    }

    /// The last day on which something that stands in a tube is taken out, but for plants left to
    /// flower.
    pub(super) fn stands_until(&self, tube: &str) -> Option<NaiveDate> {
        let here = self
            .plants
            .iter()
            .filter(|p| self.holes[p.hole].tube == tube);
        let stands = here.filter(|p| p.stay.stands && !p.stay.for_seed);
        stands.map(|p| p.stay.removal).max()
    }
}

/// How many cells a line of the chores tells to sow: `12 seeds, one a cell`, `3 cells, 10 seeds in
/// each`, `10 seeds in one cell`.
fn cells_in(line: &str) -> Option<f64> {
    if line.contains(" in one cell") {
        return Some(1.0);
    }
    let line = line.trim_start_matches("sow ");
    line.split(' ').next()?.parse().ok()
}
