//! Water: what plants drink and what evaporates, day by day; the tank's level with what is topped
//! up, changed and drained; and whether it is ever lower than it may be.

use std::f64::consts::PI;

use chrono::{NaiveDate, TimeDelta};
use steadyleaf::garden::rig::{Bank, BankForm, Loop};
use steadyleaf::nature::crop_water;
use steadyleaf::plan::water::{ChangeReason, LoopWater};

use super::Look;

/// Evaporation of shallow open water against the reference (FAO-56, table 12).
const OPEN_WATER: f64 = 1.05;
/// The most that a plant in free air draws against the reference (FAO-56, chapter 10).
const MOST: f64 = 2.5;
/// Volumes are kept in whole millilitres, of several amounts a day \[l\].
const ROUNDING: f64 = 0.003;
/// Less than this part of the tank is not worth a top-up, and not seen at its mark.
const NOT_WORTH: f64 = 50.0;
/// A change so near to a deep clean of the loop \[days\] is done with it (common practice, no
/// published source).
const WITH_A_CLEAN: i64 = 3;
/// Where nothing stands for longer \[days\], a loop is drained (common practice, no published
/// source).
const IDLE: i64 = 21;

impl Look<'_> {
    pub(super) fn water(&self, faults: &mut Vec<String>) {
        let named = self.plan.water.iter().map(|w| &w.r#loop);
        if !named.eq(self.garden.loops.iter().map(|l| &l.name)) {
            faults.push("water: not of the garden's loops".to_owned());
            return;
        }
        for (at, water) in self.plan.water.iter().enumerate() {
            self.of_loop(at, water, faults);
        }
    }

    fn of_loop(&self, at: usize, water: &LoopWater, faults: &mut Vec<String>) {
        let of_loop = &self.garden.loops[at];
        let first = self.plan.start;
        let days: Vec<NaiveDate> = first
            .iter_days()
            .take_while(|d| *d <= self.plan.last)
            .collect();
        if water.used.len() != days.len() || water.level.len() != days.len() {
            faults.push(format!("water: not every day of {}", of_loop.name));
            return;
        }
        let thirst = self.thirst(at, days.len());
        let in_tubes: f64 = of_loop.banks.iter().map(|b| in_tubes(b).0).sum();
        let holds = of_loop.tank.capacity.get();
        let mut fault = |what: &str, day: NaiveDate, is: f64, ought: f64| {
            if (is - ought).abs() > ROUNDING {
                let name = &of_loop.name;
                faults.push(format!(
                    "water: {what} of {name} on {day}: {is}, not {ought}"
                ));
            }
        };
        fault("in the tubes", first, water.in_tubes, in_tubes);
        let in_use = self.plants.iter().any(|p| {
            let stay = p.stay;
            let began = stay.stands || stay.transplant < first;
            self.holes[p.hole].r#loop == at && began && stay.removal >= first
        });
        let top_up = |day: NaiveDate| water.top_ups.iter().filter(move |t| t.day == day);
        let change = |day: NaiveDate| water.changes.iter().find(|c| c.day == day);
        let emptied = |day: NaiveDate| water.emptied.iter().find(|e| e.day == day);
        let mut runs = in_use;
        let mut level = if !in_use {
            0.0
        } else if self.state.is_some() {
            // What the diary has of the first morning's work is in it already.
            let poured: f64 = top_up(first).map(|t| t.litres).sum();
            match (change(first), emptied(first)) {
                (Some(c), _) => c.drained - if c.tubes { in_tubes } else { 0.0 },
                (_, Some(e)) => e.drained - in_tubes,
                _ => water.level[0] + water.used[0] - poured,
            }
        } else {
            holds
        };
        let mut lows: Vec<(NaiveDate, f64, f64)> = Vec::new();
        let mut others = Vec::new();
        let reserve = holds * of_loop.tank.reserve_share.get();
        // How much was lacking when somebody was there last.
        let mut lacked = 0.0;
        for (n, &day) in days.iter().enumerate() {
            let stands = self.stands(at, day);
            let poured: f64 = top_up(day).map(|t| t.litres).sum();
            let works = [poured > 0.0, change(day).is_some(), emptied(day).is_some()];
            if works.iter().filter(|w| **w).count() > 1 || top_up(day).count() > 1 {
                others.push(format!("more than one thing on {day}"));
            }
            if works.contains(&true) && !self.is_workday(day) {
                others.push(format!("nobody there on {day}"));
            }
            if let Some(change) = change(day) {
                let first = change.because == ChangeReason::FirstPlanting;
                let tubes = first || in_tubes > holds + ROUNDING;
                let with_tubes = if tubes { in_tubes } else { 0.0 };
                let drained = if runs { level + with_tubes } else { 0.0 };
                fault("drained", day, change.drained, drained);
                fault("filled", day, change.filled, holds + with_tubes);
                let set_out = self.plants.iter().any(|p| {
                    let here = self.holes[p.hole].r#loop == at;
                    here && !p.stay.stands && p.stay.transplant == day
                });
                let eve = day.pred_opt().is_some_and(|eve| self.stands(at, eve));
                let begins = set_out && (!runs || !eve);
                if first && !begins || !first && !runs || tubes != change.tubes {
                    others.push(format!("a filling on {day} because {:?}", change.because));
                }
                (runs, level) = (true, holds);
            }
            if let Some(emptied) = emptied(day) {
                fault("drained", day, emptied.drained, level + in_tubes);
                let idle = day
                    .iter_days()
                    .take_while(|d| *d <= day + TimeDelta::days(IDLE));
                if !runs || idle.into_iter().any(|d| self.stands(at, d)) {
                    others.push(format!("drained on {day} while something stands there"));
                }
                (runs, level) = (false, 0.0);
            }
            if poured > 0.0 {
                level += poured;
                if !runs || !stands || level > holds + ROUNDING {
                    others.push(format!("topped up on {day} to {level} of {holds}"));
                }
                level = level.min(holds);
            }
            if stands && !runs {
                others.push(format!("dry roots on {day}"));
            }
            if self.is_workday(day) {
                lacked = holds - level;
            }
            let asked = if runs { thirst[n] } else { 0.0 };
            let used = asked.min(level);
            fault("used", day, water.used[n], used);
            level = (level - water.used[n]).max(0.0);
            fault("level", day, water.level[n], level);
            level = water.level[n];
            if stands && runs && level < reserve - ROUNDING {
                lows.push((day, level, asked - used));
                if lacked > holds / NOT_WORTH + ROUNDING {
                    others.push(format!(
                        "at {level} on {day}, as nobody filled in the {lacked} that were lacking"
                    ));
                }
            }
        }
        for what in others {
            faults.push(format!("water: {}: {what}", of_loop.name));
        }
        lows_told(water, &lows, reserve, faults);
        self.often_changed(at, water, faults);
    }

    /// Whether something stands in a loop when a day's work is done.
    fn stands(&self, at: usize, day: NaiveDate) -> bool {
        let mut plants = self.plants.iter();
        plants.any(|p| {
            let is_there = p.stay.transplant <= day && day < p.stay.removal;
            is_there && self.holes[p.hole].r#loop == at
        })
    }

    /// What is drunk and evaporates in a loop that runs \[l\], of each of the plan's days.
    fn thirst(&self, at: usize, days: usize) -> Vec<f64> {
        let (start, garden) = (self.plan.start, self.garden);
        let of_loop = &garden.loops[at];
        let place = &garden.place;
        let references = of_loop.banks.iter().map(|bank| {
            let cover = &place.cover;
            crop_water::reference_evapotranspiration(place, cover, bank.light_share, start, days)
        });
        let references: Vec<Vec<f64>> = references.collect();
        let mut thirst = vec![0.0; days];
        for (bank, reference) in of_loop.banks.iter().zip(&references) {
            for plant in self.plants.iter().filter(|p| {
                let hole = &self.holes[p.hole];
                hole.r#loop == at && hole.bank == bank.name
            }) {
                let stay = plant.stay;
                let mut cuts = self.taken_before(plant);
                cuts.extend(stay.harvests.iter().map(|h| h.day));
                let grown = self
                    .growing(plant)
                    .grown(stay.transplant, stay.removal, &cuts);
                let crop = plant.crop;
                // A row in free air: its height over its width comes on top (FAO-56, chapter 10).
                let sides = crop.size.height.get() / crop.size.spread.get();
                let (young, full) = (
                    crop.crop_coefficient.initial,
                    crop.crop_coefficient.mid_season,
                );
                for (day, (development, width)) in stay.transplant.iter_days().zip(grown) {
                    let n = usize::try_from((day - start).num_days());
                    let Some(n) = n.ok().filter(|n| *n < days) else {
                        continue;
                    };
                    let flat = young + (full - young) * development.min(1.0);
                    let covered = PI / 4.0 * width * width;
                    thirst[n] += (flat + sides).min(MOST) * covered * reference[n];
                }
            }
            let open = if bank.is_open { in_tubes(bank).1 } else { 0.0 };
            for (thirst, reference) in thirst.iter_mut().zip(reference) {
                *thirst += open * OPEN_WATER * reference;
            }
        }
        let open = open_tank(of_loop);
        for (thirst, reference) in thirst.iter_mut().zip(&references[0]) {
            *thirst += open * OPEN_WATER * reference;
        }
        thirst
    }

    /// The solution is changed about as often as the garden asks, or when top-ups add up to it.
    fn often_changed(&self, at: usize, water: &LoopWater, faults: &mut Vec<String>) {
        #[allow(clippy::cast_possible_truncation)]
        let every = self.garden.rhythm.solution_change_interval.get().round() as i64;
        let name = &water.r#loop;
        let holds = self.garden.loops[at].tank.capacity.get();
        let renewed = holds
            + if water.in_tubes > holds {
                water.in_tubes
            } else {
                0.0
            };
        let fillings = water.changes.iter().map(|c| (c.day, Some(c.because)));
        let ends = (self.plan.last, None);
        let fillings: Vec<_> = fillings.chain([ends]).collect();
        for two in fillings.windows(2) {
            let ((last, _), (next, why)) = (two[0], two[1]);
            let due = last + TimeDelta::days(every);
            let near = due.iter_days().zip(due.iter_days().rev()).enumerate();
            let mut near = near.filter(|(_, (a, b))| self.is_workday(*a) || self.is_workday(*b));
            let apart = near.next().map_or(0, |(n, _)| n as i64).max(WITH_A_CLEAN);
            let of_days = water
                .top_ups
                .iter()
                .filter(|t| last <= t.day && t.day < next);
            let added: f64 = of_days.map(|t| t.litres).sum();
            let right = match why {
                Some(ChangeReason::Days) => (next - due).num_days().abs() <= apart,
                Some(ChangeReason::Volume) => next < due + TimeDelta::days(apart),
                Some(ChangeReason::FirstPlanting) => true,
                // Not beyond the last day.
                None => next <= due + TimeDelta::days(apart) || !self.stands(at, next),
            };
            if !right || added >= renewed + ROUNDING {
                faults.push(format!(
                    "water: {name} is changed on {last} and next on {next} ({why:?}), {added} l after"
                ));
            }
        }
    }
}

fn lows_told(
    water: &LoopWater,
    lows: &[(NaiveDate, f64, f64)],
    reserve: f64,
    faults: &mut Vec<String>,
) {
    let name = &water.r#loop;
    for low in &water.low {
        let within: Vec<_> = lows
            .iter()
            .filter(|(day, ..)| low.from <= *day && *day <= low.until)
            .collect();
        let days = (low.until - low.from).num_days() + 1;
        let lowest = within
            .iter()
            .map(|(_, l, _)| *l)
            .fold(f64::INFINITY, f64::min);
        let lacking: f64 = within.iter().map(|(.., lacks)| lacks).sum();
        if within.len() as i64 != days
            || (lowest - low.lowest).abs() > ROUNDING
            || (lacking - low.lacking).abs() > ROUNDING * within.len() as f64
        {
            let (from, until) = (low.from, low.until);
            faults.push(format!(
                "water: {name} below {reserve} from {from} until {until}: {low:?}, not {within:?}"
            ));
        }
    }
    let is_told = |day: NaiveDate| water.low.iter().any(|l| l.from <= day && day <= l.until);
    for (day, level, _) in lows.iter().filter(|(day, ..)| !is_told(*day)) {
        faults.push(format!("water: {name} at {level} on {day}, untold"));
    }
}

/// What stands in a bank's tubes \[l\] and how much of it lies open where they have no cover \[m2\]:
/// a segment of the circle (any table of mensuration), nothing where water trickles.
fn in_tubes(bank: &Bank) -> (f64, f64) {
    let (tubes, length) = match bank.form {
        BankForm::Level { tubes, length, .. } | BankForm::Wall { tubes, length, .. } => {
            (tubes, length.get())
        }
        BankForm::Tower { .. } => return (0.0, 0.0),
    };
    let radius = bank.bore.get() / 2.0;
    let from_middle = radius * (1.0 - 2.0 * bank.fill_share.get());
    let half_chord = (radius * radius - from_middle * from_middle)
        .max(0.0)
        .sqrt();
    let sector = radius * radius * (from_middle / radius).clamp(-1.0, 1.0).acos();
    let area = sector - from_middle * half_chord;
    let metres = f64::from(tubes) * length;
    (area * metres * 1000.0, 2.0 * half_chord * metres)
}

/// Open water of a tank \[m2\]; a side of a cube where it is not told how wide it is.
fn open_tank(of_loop: &Loop) -> f64 {
    let tank = &of_loop.tank;
    match &tank.footprint {
        _ if !tank.is_open => 0.0,
        Some(f) => f.length.get() * f.width.get(),
        None => (tank.capacity.get() / 1000.0).cbrt().powi(2),
    }
}
