//! A tank day by day: what is used, topped up and changed.
//!
//! Volumes are whole millilitres, so that the water balance closes exactly. Work is done in the
//! morning of a workday, plants drink after it.

/// A change this near to a deep clean of the same loop [days] is done with it (common practice,
/// no published source).
const JOINED_WITHIN: usize = 3;
/// Less than this part of the tank is not worth a top-up.
const NOT_WORTH: u64 = 50;

/// What a tank goes through.
#[derive(Debug, Clone)]
pub struct Course {
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
    pub found: Found,
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
}

/// How a tank in use is found on the first morning, as far as that is known.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Found {
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
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TankDay {
    /// Drunk by plants \[ml\].
    pub drunk: u64,
    /// Evaporated from open water \[ml\].
    pub evaporated: u64,
    /// What plants and air asked for and the tank did not have \[ml\].
    pub lacking: u64,
    /// Topped up \[ml\].
    pub topped_up: u64,
    /// The solution is changed.
    pub change: Option<Change>,
    /// In the tank at the end of the day \[ml\].
    pub level: u64,
}

/// A tank filled with fresh solution.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Change {
    /// Poured out \[ml\].
    pub drained: u64,
    /// Filled in \[ml\]; tubes and tank where the loop begins to run, else the tank.
    pub filled: u64,
    /// The loop begins to run, or runs again after it stood empty.
    pub first: bool,
    /// What calls for it.
    pub why: Why,
}

/// What calls for a filling.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// The first planting.
    Planting,
    /// The days since the last one.
    Days,
    /// Top-ups since the last one add up to the tank (common practice, no published source).
    Volume,
}

/// A filling that is due.
#[derive(Debug, Clone, Copy)]
struct Due {
    day: usize,
    first: bool,
}

/// The tank day by day.
///
/// It is topped up to the full on a workday after which it would otherwise fall below its reserve
/// before the end of the next one, and on the last workday before an absence. The solution is
/// changed every so many days, or sooner when the top-ups add up to the tank; never while nothing
/// stands in the loop, and anew with the first planting after that.
#[must_use]
pub fn follow(course: &Course) -> Vec<TankDay> {
    let mut run = Run {
        course,
        level: course.level_at_start(),
        in_tubes: if course.in_use { course.standing } else { 0 },
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
pub fn at_start(course: &Course) -> u64 {
    if course.in_use {
        course.level_at_start() + course.standing
    } else {
        0
    }
}

impl Course {
    fn level_at_start(&self) -> u64 {
        match self.found.level {
            _ if !self.in_use => 0,
            None => self.holds,
            Some(found) => found.min(self.holds),
        }
    }

    fn is_workday(&self, day: usize) -> bool {
        self.workdays.binary_search(&day).is_ok()
    }

    /// What is asked for on a day.
    fn asked(&self, day: usize) -> u64 {
        self.drunk[day] + self.evaporated[day]
    }

    /// What is asked for from a day to the end of the next workday. Beyond the last day it goes
    /// on as on that.
    fn asked_until_next(&self, day: usize) -> u64 {
        let next = self.workdays.partition_point(|&w| w <= day);
        let until = self.workdays.get(next).map_or(day, |&w| w);
        (day..=until)
            .map(|d| self.asked(d.min(self.drunk.len() - 1)))
            .sum()
    }

    /// The filling that follows one of `last`: a change, or the next first filling where nothing
    /// stands by then. Days before the first are negative.
    fn filling_after(&self, last: i64) -> Option<Due> {
        let day = self.change_after(last)?;
        if self.planted[day] {
            Some(Due { day, first: false })
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
            let later = days
                .iter()
                .copied()
                .filter(|&d| as_day(d) > last && d < self.drunk.len());
            later
                .filter(|d| d.abs_diff(due) <= within)
                .min_by_key(|d| (d.abs_diff(due), *d))
        };
        nearest(&self.cleans, JOINED_WITHIN).or_else(|| nearest(&self.workdays, usize::MAX))
    }

    fn first_planting(&self, from: usize) -> Option<Due> {
        let day = *self.plantings.iter().find(|&&day| day >= from)?;
        (day < self.drunk.len()).then_some(Due { day, first: true })
    }
}

fn as_day(days: usize) -> i64 {
    i64::try_from(days).unwrap_or(i64::MAX)
}

struct Run<'a> {
    course: &'a Course,
    level: u64,
    in_tubes: u64,
    /// It was filled once.
    runs: bool,
    /// Topped up since the last filling \[ml\].
    added: u64,
    due: Option<Due>,
}

impl Run<'_> {
    fn day(&mut self, day: usize) -> TankDay {
        let course = self.course;
        let mut change = None;
        let mut topped_up = 0;
        match self.due.filter(|due| due.day == day) {
            Some(due) if due.first => change = Some(self.fill(day, Why::Planting)),
            Some(_) => change = Some(self.fill(day, Why::Days)),
            None => topped_up = self.wanted(day),
        }
        if self.added + topped_up >= course.holds && topped_up > 0 {
            topped_up = 0;
            change = Some(self.fill(day, Why::Volume));
        }
        self.level += topped_up;
        self.added += topped_up;
        let asked = if self.runs { course.asked(day) } else { 0 };
        // What is not there is neither drunk nor evaporated.
        let drunk = course.drunk[day].min(self.level);
        let evaporated = course.evaporated[day].min(self.level - drunk);
        self.level -= drunk + evaporated;
        TankDay {
            drunk,
            evaporated,
            lacking: asked - (drunk + evaporated).min(asked),
            topped_up,
            change,
            level: self.level,
        }
    }

    /// What to top up on a day.
    fn wanted(&self, day: usize) -> u64 {
        let course = self.course;
        let room = course.holds - self.level;
        let is_due = course.is_workday(day)
            && course.planted[day]
            && self.runs
            && room > course.holds / NOT_WORTH;
        let would_fall = self.level < course.asked_until_next(day) + course.reserve;
        let leaves = course.leaving.binary_search(&day).is_ok();
        if is_due && (would_fall || leaves) {
            room
        } else {
            0
        }
    }

    fn fill(&mut self, day: usize, why: Why) -> Change {
        let course = self.course;
        let first = why == Why::Planting;
        // Where the loop begins again its tubes are emptied, too; a change leaves them.
        let (drained, filled) = if first {
            (self.level + self.in_tubes, course.holds + course.standing)
        } else {
            (self.level, course.holds)
        };
        self.level = course.holds;
        self.in_tubes = course.standing;
        self.runs = true;
        self.added = 0;
        self.due = course.filling_after(as_day(day));
        Change {
            drained,
            filled,
            first,
            why,
        }
    }
}
