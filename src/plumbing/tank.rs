//! A tank day by day: what is used, topped up and changed.
//!
//! Volumes are whole millilitres, so that the water balance closes exactly. Work is done in the
//! morning of a workday, plants drink after it.

use crate::garden::rig::{Nutrients, TopUpWater};
use crate::plumbing::ec_drift::TankSolution;
use crate::plumbing::solution::{ec_of_fresh_solution, half_strength_ec};

/// A change this near to a deep clean of the same loop [days] is done with it (common practice,
/// no published source).
const CLEAN_MATCH_DAYS: usize = 3;
/// Less than this part of the tank is not worth a top-up.
const MIN_TOP_UP_DIVISOR: u64 = 50;
/// Less than this part of it does little for the EC.
const MIN_DILUTION_DIVISOR: u64 = 20;
/// With a change of the solution this near [days] no more is topped up than lasts until it
/// (common practice, no published source).
const NEAR_CHANGE_DAYS: usize = 7;
/// A top-up is looked for in so many steps between what lasts and what fits in.
const TOP_UP_STEPS: u64 = 10;
/// Where nothing stands for longer than this many days, the loop is drained (common practice, no
/// published source).
pub const MAX_IDLE_DAYS: usize = 21;

/// What a tank goes through.
#[derive(Debug, Clone)]
pub struct TankInputs {
    /// What the tank holds \[ml\].
    pub capacity: u64,
    /// The level below which it must not fall \[ml\].
    pub reserve: u64,
    /// What stands in the tubes besides \[ml\].
    pub tube_volume: u64,
    /// What plants drink on each day \[ml\].
    pub transpired: Vec<u64>,
    /// What evaporates from open water on each day while the loop runs \[ml\].
    pub evaporated: Vec<u64>,
    /// Whether anything stands in the loop at the end of each day's work.
    pub is_planted: Vec<bool>,
    /// Something stood there before the first day: there is solution in tank and tubes then.
    pub is_in_use: bool,
    /// How a tank in use before the first day is found.
    pub initial: TankState,
    /// Days on which something is planted, rising.
    pub plantings: Vec<usize>,
    /// Days on which somebody tends the rig, rising.
    pub workdays: Vec<usize>,
    /// Workdays before an absence, rising: the tank is filled up.
    pub days_before_absence: Vec<usize>,
    /// Days on which a tube of the loop is scrubbed, rising.
    pub clean_days: Vec<usize>,
    /// Days between two changes of the solution.
    pub change_interval: usize,
    /// EC that suits what stands there at the end of each day, least and most \[mS/cm\]; absent
    /// where nothing stands, or nothing suits all of it.
    pub ec_bands: Vec<Option<(f64, f64)>>,
    /// EC to aim at with a filling on each day \[mS/cm\].
    pub ec_setpoints: Vec<Option<f64>>,
    /// What it is filled and topped up with.
    pub nutrients: Nutrients,
}

/// How a tank in use is found on the first morning, as far as that is known.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct TankState {
    /// What was in it before any work of that day \[ml\]: told, and not reckoned with.
    pub morning_level: Option<u64>,
    /// What is in it \[ml\], at most what it holds; full if absent.
    pub level: Option<u64>,
    /// Days since it was last filled with fresh solution; as if on the first day if absent.
    pub days_since_filling: Option<usize>,
    /// Topped up since then \[ml\].
    pub topped_up: u64,
    /// EC in tank and tubes \[mS/cm\].
    pub ec: Option<f64>,
}

/// One day of a tank.
#[derive(Debug, Clone, PartialEq)]
pub struct TankDay {
    /// Drunk by plants \[ml\].
    pub transpired: u64,
    /// Evaporated from open water \[ml\].
    pub evaporated: u64,
    /// What plants and air asked for and the tank did not have \[ml\].
    pub shortfall: u64,
    /// Topped up \[ml\].
    pub topped_up: u64,
    /// What it is topped up with.
    pub top_up_water: TopUpWater,
    /// The solution is changed.
    pub filling: Option<TankFilling>,
    /// Drained out of tank and tubes, as nothing follows for a while \[ml\].
    pub drained: u64,
    /// In the tank at the end of the day \[ml\].
    pub level: u64,
    /// EC in tank and tubes at the end of the day \[mS/cm\]; absent where it is not known.
    pub ec: Option<f64>,
}

/// A tank filled with fresh solution.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TankFilling {
    /// Poured out \[ml\].
    pub drained: u64,
    /// Filled in \[ml\].
    pub filled: u64,
    /// EC of what is filled in, which with what was left in the tubes reaches what is aimed at
    /// as nearly as it can \[mS/cm\]; absent where there is nothing to aim at.
    pub ec: Option<f64>,
    /// The loop begins to run, or runs again after it stood empty.
    pub is_first: bool,
    /// The tubes are drained and filled besides the tank: where the loop begins to run, and where
    /// they hold more than the tank does, which would change little alone.
    pub includes_tubes: bool,
    /// What calls for it.
    pub reason: FillingReason,
}

/// What calls for a filling.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FillingReason {
    /// The first planting.
    Planting,
    /// The days since the last one.
    Days,
    /// Top-ups since the last one add up to the tank (common practice, no published source).
    Volume,
}

/// A filling that is due.
#[derive(Debug, Clone, Copy)]
struct DueFilling {
    day: usize,
    is_first: bool,
}

/// The tank day by day.
///
/// It is topped up on a workday after which it would otherwise fall below its reserve
/// before the end of the next one, or its EC would rise above what suits the plants before the
/// next one, and on the last workday before an absence; with what the garden states, or with the other
/// of plain water and half strength where that keeps the EC nearer to what suits: to the full, or
/// where the solution is soon changed by as little as keeps level and EC until then. The solution is
/// changed every so many days, or sooner when the top-ups add up to what a change renews; never
/// while nothing stands in the loop, and anew with the first planting after that. Where nothing
/// follows for longer than [`MAX_IDLE_DAYS`] days it is drained with the last removal.
#[must_use]
pub fn simulate_tank(inputs: &TankInputs) -> Vec<TankDay> {
    let mut run = TankRun {
        inputs,
        level: inputs.initial_level(),
        tube_volume: if inputs.is_in_use {
            inputs.tube_volume
        } else {
            0
        },
        solution: inputs.initial_solution(),
        ec_setpoint: inputs.ec_setpoints.first().copied().flatten(),
        is_running: inputs.is_in_use,
        topped_up: inputs.initial.topped_up,
        due: if inputs.is_in_use {
            inputs.next_filling(-signed_day(inputs.initial.days_since_filling.unwrap_or(0)))
        } else {
            inputs.first_planting(0)
        },
    };
    (0..inputs.transpired.len())
        .map(|day| run.step(day))
        .collect()
}

/// Everything in tank and tubes before the first day \[ml\].
#[must_use]
pub fn initial_volume(inputs: &TankInputs) -> u64 {
    if inputs.is_in_use {
        inputs.initial_level() + inputs.tube_volume
    } else {
        0
    }
}

impl TankInputs {
    fn initial_level(&self) -> u64 {
        match self.initial.level {
            _ if !self.is_in_use => 0,
            None => self.capacity,
            Some(found) => found.min(self.capacity),
        }
    }

    /// Where it is known when the tank was filled, it was with what suits what stands there now.
    fn initial_solution(&self) -> TankSolution {
        let fresh = self.ec_setpoints.first().copied().flatten();
        let fresh = fresh.filter(|_| self.initial.days_since_filling.is_some());
        TankSolution::new(initial_volume(self), self.initial.ec.or(fresh))
    }

    /// Whether a change drains and fills the tubes, too.
    fn change_includes_tubes(&self) -> bool {
        self.tube_volume > self.capacity
    }

    /// What a change renews.
    fn renewed_volume(&self) -> u64 {
        if self.change_includes_tubes() {
            self.capacity + self.tube_volume
        } else {
            self.capacity
        }
    }

    /// Whether nothing stands there on a day, nor for long after it, as far as days are known.
    fn is_idle_from(&self, day: usize) -> bool {
        let stands = self.is_planted.get(day..=day + MAX_IDLE_DAYS);
        stands.is_some_and(|days| days.iter().all(|stands| !stands))
    }

    fn is_workday(&self, day: usize) -> bool {
        self.workdays.binary_search(&day).is_ok()
    }

    /// What is asked for on a day.
    fn water_demand(&self, day: usize) -> u64 {
        self.transpired[day] + self.evaporated[day]
    }

    /// What is asked for from a day to the end of the next workday. Beyond the last day it goes
    /// on as on that.
    fn demand_until_next_workday(&self, day: usize) -> u64 {
        (day..=self.next_workday(day))
            .map(|d| self.water_demand(d.min(self.transpired.len() - 1)))
            .sum()
    }

    /// The workday after a day; the day itself where none is known.
    fn next_workday(&self, day: usize) -> usize {
        let next = self.workdays.partition_point(|&w| w <= day);
        self.workdays.get(next).map_or(day, |&w| w)
    }

    /// The filling that follows one of `last`: a change, or the next first filling where nothing
    /// stands by then. Days before the first are negative.
    fn next_filling(&self, last: i64) -> Option<DueFilling> {
        let day = self.next_change(last)?;
        if self.is_planted[day] {
            Some(DueFilling {
                day,
                is_first: false,
            })
        } else {
            self.first_planting(day)
        }
    }

    /// The workday on which the next change is due; at once if it is overdue.
    fn next_change(&self, last: i64) -> Option<usize> {
        let due = last.saturating_add(signed_day(self.change_interval)).max(0);
        let due = usize::try_from(due).ok()?;
        if due >= self.transpired.len() {
            return None;
        }
        let nearest = |days: &[usize], within: usize| {
            let later = days.iter().copied().filter(|&d| signed_day(d) > last);
            later
                .filter(|d| d.abs_diff(due) <= within)
                .min_by_key(|d| (d.abs_diff(due), *d))
        };
        let day = nearest(&self.clean_days, CLEAN_MATCH_DAYS)
            .or_else(|| nearest(&self.workdays, usize::MAX))?;
        // One that is nearer to the workday after the last day is done then.
        (day < self.transpired.len()).then_some(day)
    }

    fn first_planting(&self, from: usize) -> Option<DueFilling> {
        let day = *self.plantings.iter().find(|&&day| day >= from)?;
        (day < self.transpired.len()).then_some(DueFilling {
            day,
            is_first: true,
        })
    }
}

fn signed_day(days: usize) -> i64 {
    i64::try_from(days).unwrap_or(i64::MAX)
}

#[derive(Clone, Copy)]
struct TankRun<'a> {
    inputs: &'a TankInputs,
    level: u64,
    tube_volume: u64,
    solution: TankSolution,
    /// EC that the solution in it was mixed for.
    ec_setpoint: Option<f64>,
    /// It was filled once, and not drained since.
    is_running: bool,
    /// Topped up since the last filling \[ml\].
    topped_up: u64,
    due: Option<DueFilling>,
}

impl TankRun<'_> {
    fn step(&mut self, day: usize) -> TankDay {
        let inputs = self.inputs;
        let mut change = None;
        let mut topped_up = 0;
        let mut emptied = 0;
        match self.due.filter(|due| due.day == day) {
            Some(due) if due.is_first => change = Some(self.fill(day, FillingReason::Planting)),
            Some(_) => change = Some(self.fill(day, FillingReason::Days)),
            None if self.is_running && inputs.is_workday(day) && inputs.is_idle_from(day) => {
                emptied = self.drain(day);
            }
            None => topped_up = self.required_top_up(day),
        }
        if self.topped_up + topped_up >= inputs.renewed_volume() && topped_up > 0 {
            topped_up = 0;
            change = Some(self.fill(day, FillingReason::Volume));
        }
        let with = self.choose_top_up_water(day, topped_up);
        self.top_up(topped_up, with);
        let asked = if self.is_running {
            inputs.water_demand(day)
        } else {
            0
        };
        let (drunk, evaporated) = self.consume(day);
        TankDay {
            transpired: drunk,
            evaporated,
            shortfall: asked - (drunk + evaporated).min(asked),
            topped_up,
            top_up_water: with,
            filling: change,
            drained: emptied,
            level: self.level,
            ec: self.solution.ec(),
        }
    }

    /// What is not there is neither drunk nor evaporated.
    fn consume(&mut self, day: usize) -> (u64, u64) {
        let day = day.min(self.inputs.transpired.len() - 1);
        let drunk = self.inputs.transpired[day].min(self.level);
        let evaporated = self.inputs.evaporated[day].min(self.level - drunk);
        self.level -= drunk + evaporated;
        self.solution.consume(drunk, evaporated);
        (drunk, evaporated)
    }

    fn top_up(&mut self, millilitres: u64, with: TopUpWater) {
        let source = self.inputs.nutrients.source_ec.get();
        let ec = match (with, self.ec_setpoint) {
            (TopUpWater::HalfStrength, Some(aim)) => half_strength_ec(aim, source),
            _ => source,
        };
        self.level += millilitres;
        self.topped_up += millilitres;
        if millilitres > 0 {
            self.solution.add(millilitres, ec);
        }
    }

    /// What to top up on a day.
    fn required_top_up(&self, day: usize) -> u64 {
        let inputs = self.inputs;
        let room = inputs.capacity - self.level;
        let is_due = inputs.is_workday(day)
            && inputs.is_planted[day]
            && self.is_running
            && room > inputs.capacity / MIN_TOP_UP_DIVISOR;
        let would_fall = self.level < inputs.demand_until_next_workday(day) + inputs.reserve;
        let leaves = inputs.days_before_absence.binary_search(&day).is_ok();
        let thickens =
            || room >= inputs.capacity / MIN_DILUTION_DIVISOR && self.ec_deviation(day).above > 0.0;
        if !is_due {
            0
        } else if leaves {
            room
        } else if would_fall || thickens() {
            self.top_up_until_change(day, room)
        } else {
            0
        }
    }

    /// How much of what fits in to top up: all of it, unless the solution is soon changed and less
    /// lasts until then as well. What is left over would be poured out.
    fn top_up_until_change(&self, day: usize, room: u64) -> u64 {
        let inputs = self.inputs;
        let soon = self
            .due
            .filter(|due| !due.is_first && due.day <= day + NEAR_CHANGE_DAYS);
        let Some(change) = soon else { return room };
        let asked: u64 = (day..change.day).map(|day| inputs.water_demand(day)).sum();
        let too_strong = |millilitres: u64| {
            let mut run = *self;
            run.top_up(millilitres, run.choose_top_up_water(day, millilitres));
            run.ec_deviation_until(day, change.day).above
        };
        let unavoidable = too_strong(room);
        let lasts = (asked + inputs.reserve).saturating_sub(self.level);
        if lasts == 0 && too_strong(0) <= unavoidable {
            return 0;
        }
        let least = lasts.max(inputs.capacity / MIN_DILUTION_DIVISOR).min(room);
        (0..TOP_UP_STEPS)
            .map(|step| least + (room - least) * step / TOP_UP_STEPS)
            .find(|&millilitres| too_strong(millilitres) <= unavoidable)
            .unwrap_or(room)
    }

    /// What to top up with: what the garden states, unless the other keeps the EC nearer to what
    /// suits the plants.
    fn choose_top_up_water(&self, day: usize, millilitres: u64) -> TopUpWater {
        let stated = self.inputs.nutrients.top_up_water;
        let other = match stated {
            TopUpWater::PlainWater => TopUpWater::HalfStrength,
            TopUpWater::HalfStrength => TopUpWater::PlainWater,
        };
        let astray = |with: TopUpWater| {
            let mut run = *self;
            run.top_up(millilitres, with);
            let astray = run.ec_deviation(day);
            astray.above.max(astray.below)
        };
        if millilitres > 0 && self.ec_setpoint.is_some() && astray(other) < astray(stated) {
            other
        } else {
            stated
        }
    }

    /// How far the EC goes out of what suits the plants, if nothing is done from a day's morning
    /// to that of the next workday.
    fn ec_deviation(&self, day: usize) -> EcDeviation {
        self.ec_deviation_until(day, self.inputs.next_workday(day).max(day + 1))
    }

    /// How far it goes out of that until the morning of a later day.
    fn ec_deviation_until(&self, day: usize, until: usize) -> EcDeviation {
        let mut run = *self;
        let mut most = EcDeviation::default();
        for day in day..until {
            run.consume(day);
            let band = self.inputs.ec_bands.get(day).copied().flatten();
            if let Some((ec, (least, suits))) = run.solution.ec().zip(band) {
                most.above = most.above.max(ec - suits);
                most.below = most.below.max(least - ec);
            }
        }
        most
    }

    /// Drains tank and tubes.
    fn drain(&mut self, day: usize) -> u64 {
        let drained = self.level + self.tube_volume;
        self.level = 0;
        self.tube_volume = 0;
        self.solution = TankSolution::default();
        self.is_running = false;
        self.due = self.inputs.first_planting(day);
        drained
    }

    fn fill(&mut self, day: usize, why: FillingReason) -> TankFilling {
        let inputs = self.inputs;
        let first = why == FillingReason::Planting;
        let tubes = first || inputs.change_includes_tubes();
        let (drained, filled) = if tubes {
            (
                self.level + self.tube_volume,
                inputs.capacity + inputs.tube_volume,
            )
        } else {
            (self.level, inputs.capacity)
        };
        let left = if tubes { 0 } else { inputs.tube_volume };
        self.ec_setpoint = inputs.ec_setpoints[day];
        // Of what nothing is known it is taken that it is right.
        let found = self.solution.ec().or(self.ec_setpoint);
        let ec = self.ec_setpoint.zip(found).map(|(aim, found)| {
            let source = inputs.nutrients.source_ec.get();
            ec_of_fresh_solution(aim, (filled, left), found).max(source)
        });
        self.solution = TankSolution::new(left, found);
        match ec {
            Some(ec) if left > 0 => self.solution.add(filled, ec),
            ec => self.solution = TankSolution::new(left + filled, ec),
        }
        self.level = inputs.capacity;
        self.tube_volume = inputs.tube_volume;
        self.is_running = true;
        self.topped_up = 0;
        self.due = inputs.next_filling(signed_day(day));
        TankFilling {
            drained,
            filled,
            ec,
            is_first: first,
            includes_tubes: tubes,
            reason: why,
        }
    }
}

/// How far an EC goes above the most and below the least that suits \[mS/cm\].
#[derive(Debug, Clone, Copy, Default)]
struct EcDeviation {
    above: f64,
    below: f64,
}
