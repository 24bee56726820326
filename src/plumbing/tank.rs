//! A tank day by day: what is used, topped up and changed.
//!
//! Volumes are whole millilitres, so that the water balance closes exactly. Work is done in the
//! morning of a workday, plants drink after it.

use crate::garden::rig::{Nutrients, TopUpWater};
use crate::plumbing::drift::TankSolution;
use crate::plumbing::solution::{ec_to_add, half_strength};

/// A change this near to a deep clean of the same loop [days] is done with it (common practice,
/// no published source).
const JOINED_WITHIN_DAYS: usize = 3;
/// Less than this part of the tank is not worth a top-up.
const MIN_TOP_UP_LITRES: u64 = 50;
/// Less than this part of it does little for the EC.
const MIN_THINNING_LITRES: u64 = 20;
/// With a change of the solution this near [days] no more is topped up than lasts until it
/// (common practice, no published source).
const SOON_CHANGED_DAYS: usize = 7;
/// A top-up is looked for in so many steps between what lasts and what fits in.
const TOP_UP_STEPS: u64 = 10;
/// Where nothing stands for longer than this many days, the loop is drained (common practice, no
/// published source).
pub const IDLE_DAYS: usize = 21;

/// What a tank goes through.
#[derive(Debug, Clone)]
pub struct TankInputs {
    /// What the tank holds \[ml\].
    pub holds: u64,
    /// The level below which it must not fall \[ml\].
    pub reserve: u64,
    /// What stands in the tubes besides \[ml\].
    pub standing: u64,
    /// What plants drink on each day \[ml\].
    pub drunk: Vec<u64>,
    /// What evaporates from open water on each day while the loop runs \[ml\].
    pub evaporated: Vec<u64>,
    /// Whether anything stands in the loop at the end of each day's work.
    pub planted: Vec<bool>,
    /// Something stood there before the first day: there is solution in tank and tubes then.
    pub in_use: bool,
    /// How a tank in use before the first day is found.
    pub found: TankState,
    /// Days on which something is planted, rising.
    pub plantings: Vec<usize>,
    /// Days on which somebody tends the rig, rising.
    pub workdays: Vec<usize>,
    /// Workdays before an absence, rising: the tank is filled up.
    pub leaving: Vec<usize>,
    /// Days on which a tube of the loop is scrubbed, rising.
    pub cleans: Vec<usize>,
    /// Days between two changes of the solution.
    pub change_every: usize,
    /// EC that suits what stands there at the end of each day, least and most \[mS/cm\]; absent
    /// where nothing stands, or nothing suits all of it.
    pub bands: Vec<Option<(f64, f64)>>,
    /// EC to aim at with a filling on each day \[mS/cm\].
    pub aims: Vec<Option<f64>>,
    /// What it is filled and topped up with.
    pub nutrients: Nutrients,
}

/// How a tank in use is found on the first morning, as far as that is known.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct TankState {
    /// What was in it before any work of that day \[ml\]: told, and not reckoned with.
    pub morning: Option<u64>,
    /// What is in it \[ml\], at most what it holds; full if absent.
    pub level: Option<u64>,
    /// Days since it was last filled with fresh solution; as if on the first day if absent.
    pub filled_ago: Option<usize>,
    /// Topped up since then \[ml\].
    pub added: u64,
    /// EC in tank and tubes \[mS/cm\].
    pub ec: Option<f64>,
}

/// One day of a tank.
#[derive(Debug, Clone, PartialEq)]
pub struct TankDay {
    /// Drunk by plants \[ml\].
    pub drunk: u64,
    /// Evaporated from open water \[ml\].
    pub evaporated: u64,
    /// What plants and air asked for and the tank did not have \[ml\].
    pub lacking: u64,
    /// Topped up \[ml\].
    pub topped_up: u64,
    /// What it is topped up with.
    pub with: TopUpWater,
    /// The solution is changed.
    pub change: Option<TankFilling>,
    /// Drained out of tank and tubes, as nothing follows for a while \[ml\].
    pub emptied: u64,
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
    pub first: bool,
    /// The tubes are drained and filled besides the tank: where the loop begins to run, and where
    /// they hold more than the tank does, which would change little alone.
    pub tubes: bool,
    /// What calls for it.
    pub why: FillingReason,
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
struct DueChange {
    day: usize,
    first: bool,
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
/// follows for longer than [`IDLE_DAYS`] days it is drained with the last removal.
#[must_use]
pub fn simulate_tank(course: &TankInputs) -> Vec<TankDay> {
    let mut run = TankRun {
        course,
        level: course.level_at_start(),
        in_tubes: if course.in_use { course.standing } else { 0 },
        mixture: course.mixture_at_start(),
        aimed_at: course.aims.first().copied().flatten(),
        runs: course.in_use,
        added: course.found.added,
        due: if course.in_use {
            course.filling_after(-as_day(course.found.filled_ago.unwrap_or(0)))
        } else {
            course.first_planting(0)
        },
    };
    (0..course.drunk.len()).map(|day| run.day(day)).collect()
}

/// Everything in tank and tubes before the first day \[ml\].
#[must_use]
pub fn at_start(course: &TankInputs) -> u64 {
    if course.in_use {
        course.level_at_start() + course.standing
    } else {
        0
    }
}

impl TankInputs {
    fn level_at_start(&self) -> u64 {
        match self.found.level {
            _ if !self.in_use => 0,
            None => self.holds,
            Some(found) => found.min(self.holds),
        }
    }

    /// Where it is known when the tank was filled, it was with what suits what stands there now.
    fn mixture_at_start(&self) -> TankSolution {
        let fresh = self.aims.first().copied().flatten();
        let fresh = fresh.filter(|_| self.found.filled_ago.is_some());
        TankSolution::new(at_start(self), self.found.ec.or(fresh))
    }

    /// Whether a change drains and fills the tubes, too.
    fn changes_tubes(&self) -> bool {
        self.standing > self.holds
    }

    /// What a change renews.
    fn is_renewed(&self) -> u64 {
        if self.changes_tubes() {
            self.holds + self.standing
        } else {
            self.holds
        }
    }

    /// Whether nothing stands there on a day, nor for long after it, as far as days are known.
    fn idle_from(&self, day: usize) -> bool {
        let stands = self.planted.get(day..=day + IDLE_DAYS);
        stands.is_some_and(|days| days.iter().all(|stands| !stands))
    }

    fn is_workday(&self, day: usize) -> bool {
        self.workdays.binary_search(&day).is_ok()
    }

    /// What is asked for on a day.
    fn setpoint(&self, day: usize) -> u64 {
        self.drunk[day] + self.evaporated[day]
    }

    /// What is asked for from a day to the end of the next workday. Beyond the last day it goes
    /// on as on that.
    fn setpoint_until_next(&self, day: usize) -> u64 {
        (day..=self.next_workday(day))
            .map(|d| self.setpoint(d.min(self.drunk.len() - 1)))
            .sum()
    }

    /// The workday after a day; the day itself where none is known.
    fn next_workday(&self, day: usize) -> usize {
        let next = self.workdays.partition_point(|&w| w <= day);
        self.workdays.get(next).map_or(day, |&w| w)
    }

    /// The filling that follows one of `last`: a change, or the next first filling where nothing
    /// stands by then. Days before the first are negative.
    fn filling_after(&self, last: i64) -> Option<DueChange> {
        let day = self.change_after(last)?;
        if self.planted[day] {
            Some(DueChange { day, first: false })
        } else {
            self.first_planting(day)
        }
    }

    /// The workday on which the next change is due; at once if it is overdue.
    fn change_after(&self, last: i64) -> Option<usize> {
        let due = last.saturating_add(as_day(self.change_every)).max(0);
        let due = usize::try_from(due).ok()?;
        if due >= self.drunk.len() {
            return None;
        }
        let nearest = |days: &[usize], within: usize| {
            let later = days.iter().copied().filter(|&d| as_day(d) > last);
            later
                .filter(|d| d.abs_diff(due) <= within)
                .min_by_key(|d| (d.abs_diff(due), *d))
        };
        let day = nearest(&self.cleans, JOINED_WITHIN_DAYS)
            .or_else(|| nearest(&self.workdays, usize::MAX))?;
        // One that is nearer to the workday after the last day is done then.
        (day < self.drunk.len()).then_some(day)
    }

    fn first_planting(&self, from: usize) -> Option<DueChange> {
        let day = *self.plantings.iter().find(|&&day| day >= from)?;
        (day < self.drunk.len()).then_some(DueChange { day, first: true })
    }
}

fn as_day(days: usize) -> i64 {
    i64::try_from(days).unwrap_or(i64::MAX)
}

#[derive(Clone, Copy)]
struct TankRun<'a> {
    course: &'a TankInputs,
    level: u64,
    in_tubes: u64,
    mixture: TankSolution,
    /// EC that the solution in it was mixed for.
    aimed_at: Option<f64>,
    /// It was filled once, and not drained since.
    runs: bool,
    /// Topped up since the last filling \[ml\].
    added: u64,
    due: Option<DueChange>,
}

impl TankRun<'_> {
    fn day(&mut self, day: usize) -> TankDay {
        let course = self.course;
        let mut change = None;
        let mut topped_up = 0;
        let mut emptied = 0;
        match self.due.filter(|due| due.day == day) {
            Some(due) if due.first => change = Some(self.fill(day, FillingReason::Planting)),
            Some(_) => change = Some(self.fill(day, FillingReason::Days)),
            None if self.runs && course.is_workday(day) && course.idle_from(day) => {
                emptied = self.empty(day);
            }
            None => topped_up = self.wanted_top_up(day),
        }
        if self.added + topped_up >= course.is_renewed() && topped_up > 0 {
            topped_up = 0;
            change = Some(self.fill(day, FillingReason::Volume));
        }
        let with = self.best_top_up(day, topped_up);
        self.top_up(topped_up, with);
        let asked = if self.runs { course.setpoint(day) } else { 0 };
        let (drunk, evaporated) = self.use_up(day);
        TankDay {
            drunk,
            evaporated,
            lacking: asked - (drunk + evaporated).min(asked),
            topped_up,
            with,
            change,
            emptied,
            level: self.level,
            ec: self.mixture.ec(),
        }
    }

    /// What is not there is neither drunk nor evaporated.
    fn use_up(&mut self, day: usize) -> (u64, u64) {
        let day = day.min(self.course.drunk.len() - 1);
        let drunk = self.course.drunk[day].min(self.level);
        let evaporated = self.course.evaporated[day].min(self.level - drunk);
        self.level -= drunk + evaporated;
        self.mixture.use_up(drunk, evaporated);
        (drunk, evaporated)
    }

    fn top_up(&mut self, millilitres: u64, with: TopUpWater) {
        let source = self.course.nutrients.source_ec.get();
        let ec = match (with, self.aimed_at) {
            (TopUpWater::HalfStrength, Some(aim)) => half_strength(aim, source),
            _ => source,
        };
        self.level += millilitres;
        self.added += millilitres;
        if millilitres > 0 {
            self.mixture.add(millilitres, ec);
        }
    }

    /// What to top up on a day.
    fn wanted_top_up(&self, day: usize) -> u64 {
        let course = self.course;
        let room = course.holds - self.level;
        let is_due = course.is_workday(day)
            && course.planted[day]
            && self.runs
            && room > course.holds / MIN_TOP_UP_LITRES;
        let would_fall = self.level < course.setpoint_until_next(day) + course.reserve;
        let leaves = course.leaving.binary_search(&day).is_ok();
        let thickens =
            || room >= course.holds / MIN_THINNING_LITRES && self.ec_deviation(day).above > 0.0;
        if !is_due {
            0
        } else if leaves {
            room
        } else if would_fall || thickens() {
            self.top_up_that_lasts(day, room)
        } else {
            0
        }
    }

    /// How much of what fits in to top up: all of it, unless the solution is soon changed and less
    /// lasts until then as well. What is left over would be poured out.
    fn top_up_that_lasts(&self, day: usize, room: u64) -> u64 {
        let course = self.course;
        let soon = self
            .due
            .filter(|due| !due.first && due.day <= day + SOON_CHANGED_DAYS);
        let Some(change) = soon else { return room };
        let asked: u64 = (day..change.day).map(|day| course.setpoint(day)).sum();
        let too_strong = |millilitres: u64| {
            let mut run = *self;
            run.top_up(millilitres, run.best_top_up(day, millilitres));
            run.ec_deviation_until(day, change.day).above
        };
        let unavoidable = too_strong(room);
        let lasts = (asked + course.reserve).saturating_sub(self.level);
        if lasts == 0 && too_strong(0) <= unavoidable {
            return 0;
        }
        let least = lasts.max(course.holds / MIN_THINNING_LITRES).min(room);
        (0..TOP_UP_STEPS)
            .map(|step| least + (room - least) * step / TOP_UP_STEPS)
            .find(|&millilitres| too_strong(millilitres) <= unavoidable)
            .unwrap_or(room)
    }

    /// What to top up with: what the garden states, unless the other keeps the EC nearer to what
    /// suits the plants.
    fn best_top_up(&self, day: usize, millilitres: u64) -> TopUpWater {
        let stated = self.course.nutrients.top_up;
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
        if millilitres > 0 && self.aimed_at.is_some() && astray(other) < astray(stated) {
            other
        } else {
            stated
        }
    }

    /// How far the EC goes out of what suits the plants, if nothing is done from a day's morning
    /// to that of the next workday.
    fn ec_deviation(&self, day: usize) -> EcDeviation {
        self.ec_deviation_until(day, self.course.next_workday(day).max(day + 1))
    }

    /// How far it goes out of that until the morning of a later day.
    fn ec_deviation_until(&self, day: usize, until: usize) -> EcDeviation {
        let mut run = *self;
        let mut most = EcDeviation::default();
        for day in day..until {
            run.use_up(day);
            let band = self.course.bands.get(day).copied().flatten();
            if let Some((ec, (least, suits))) = run.mixture.ec().zip(band) {
                most.above = most.above.max(ec - suits);
                most.below = most.below.max(least - ec);
            }
        }
        most
    }

    /// Drains tank and tubes.
    fn empty(&mut self, day: usize) -> u64 {
        let drained = self.level + self.in_tubes;
        self.level = 0;
        self.in_tubes = 0;
        self.mixture = TankSolution::default();
        self.runs = false;
        self.due = self.course.first_planting(day);
        drained
    }

    fn fill(&mut self, day: usize, why: FillingReason) -> TankFilling {
        let course = self.course;
        let first = why == FillingReason::Planting;
        let tubes = first || course.changes_tubes();
        let (drained, filled) = if tubes {
            (self.level + self.in_tubes, course.holds + course.standing)
        } else {
            (self.level, course.holds)
        };
        let left = if tubes { 0 } else { course.standing };
        self.aimed_at = course.aims[day];
        // Of what nothing is known it is taken that it is right.
        let found = self.mixture.ec().or(self.aimed_at);
        let ec = self.aimed_at.zip(found).map(|(aim, found)| {
            let source = course.nutrients.source_ec.get();
            ec_to_add(aim, (filled, left), found).max(source)
        });
        self.mixture = TankSolution::new(left, found);
        match ec {
            Some(ec) if left > 0 => self.mixture.add(filled, ec),
            ec => self.mixture = TankSolution::new(left + filled, ec),
        }
        self.level = course.holds;
        self.in_tubes = course.standing;
        self.runs = true;
        self.added = 0;
        self.due = course.filling_after(as_day(day));
        TankFilling {
            drained,
            filled,
            ec,
            first,
            tubes,
            why,
        }
    }
}

/// How far an EC goes above the most and below the least that suits \[mS/cm\].
#[derive(Debug, Clone, Copy, Default)]
struct EcDeviation {
    above: f64,
    below: f64,
}
