//! Whether a plant stands the air: survival and running to seed.

use crate::garden::crop::{BoltingRule, Cardinals, Crop};
use crate::nature::air::DayConditions;

/// Why a plant set out on a day would come to nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Unsuitable {
    /// A night colder than it stands.
    TooCold,
    /// An afternoon warmer than it stands.
    TooHot,
    /// It runs to seed before it is ripe.
    Bolts,
    /// Less light than it needs.
    TooDark,
    /// It is not ripe by the last day looked at.
    NotRipeInTime,
    /// It is ripe and spoils before a workday comes.
    NoWorkday,
}

/// Whether a day is colder than a plant stands.
#[must_use]
pub fn is_too_cold(temperature: &Cardinals, air: &DayConditions) -> bool {
    air.coldest < temperature.coldest.get()
}

/// Whether a day is warmer than a plant stands.
#[must_use]
pub fn is_too_hot(temperature: &Cardinals, air: &DayConditions) -> bool {
    air.warmest > temperature.warmest.get()
}

/// Whether a day meets all conditions of a bolting rule; a rule without any is never met.
#[must_use]
pub fn is_bolting_trigger_met(rule: &BoltingRule, air: &DayConditions) -> bool {
    let mean = air.mean();
    let conditions = [
        rule.mean_above.map(|t| mean > t.get()),
        rule.mean_below.map(|t| mean < t.get()),
        rule.day_longer_than.map(|h| air.day_length > h.get()),
    ];
    let mut stated = conditions.into_iter().flatten().peekable();
    stated.peek().is_some() && stated.all(|met| met)
}

/// How many days running a bolting rule asks for, at least one.
#[must_use]
pub fn required_consecutive_days(rule: &BoltingRule) -> usize {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let days = rule.for_days.get().ceil() as usize;
    days.max(1)
}

/// The first day on which a plant set out on day `from` has met a bolting rule: the last of so
/// many days running, all of them after it was set out.
#[must_use]
pub fn bolting_day(rule: &BoltingRule, air: &[DayConditions], from: usize) -> Option<usize> {
    let needed = required_consecutive_days(rule);
    let mut running = 0;
    (from..air.len()).find(|&day| {
        running = if is_bolting_trigger_met(rule, &air[day]) {
            running + 1
        } else {
            0
        };
        running >= needed
    })
}

/// The days on which a crop comes to harm in given air, looked up quickly.
#[derive(Debug, Clone)]
pub struct DamageTable {
    days: usize,
    cold: Vec<usize>,
    hot: Vec<usize>,
    bolting: Vec<BoltingDays>,
}

/// A bolting rule: on which days so many days running have met it.
#[derive(Debug, Clone)]
struct BoltingDays {
    consecutive_days: usize,
    next_met: Vec<usize>,
}

impl DamageTable {
    /// The table of a crop in air, one day after the other.
    #[must_use]
    pub fn new(crop: &Crop, air: &[DayConditions]) -> Self {
        let when = |harm: &dyn Fn(&DayConditions) -> bool| {
            next_true_days(&air.iter().map(harm).collect::<Vec<_>>())
        };
        Self {
            days: air.len(),
            cold: when(&|day| is_too_cold(&crop.temperature, day)),
            hot: when(&|day| is_too_hot(&crop.temperature, day)),
            bolting: crop
                .bolting_rules
                .iter()
                .map(|rule| BoltingDays::new(rule, air))
                .collect(),
        }
    }

    /// The first day that does harm to a plant set out on day `from`, and how.
    #[must_use]
    pub fn first_damage(&self, from: usize) -> Option<(usize, Unsuitable)> {
        let weather = [
            (self.cold[from], Unsuitable::TooCold),
            (self.hot[from], Unsuitable::TooHot),
        ];
        let bolting = self
            .bolting
            .iter()
            .map(|rule| (rule.bolting_day_from(from), Unsuitable::Bolts));
        weather
            .into_iter()
            .chain(bolting)
            .filter(|&(day, _)| day < self.days)
            .min_by_key(|&(day, _)| day)
    }
}

impl BoltingDays {
    fn new(rule: &BoltingRule, air: &[DayConditions]) -> Self {
        let consecutive_days = required_consecutive_days(rule);
        let met: Vec<bool> = air
            .iter()
            .scan(0, |running, day| {
                *running = if is_bolting_trigger_met(rule, day) {
                    *running + 1
                } else {
                    0
                };
                Some(*running >= consecutive_days)
            })
            .collect();
        Self {
            consecutive_days,
            next_met: next_true_days(&met),
        }
    }

    /// See [`bolting_day`]; the number of days if never.
    fn bolting_day_from(&self, from: usize) -> usize {
        let earliest = (from + self.consecutive_days - 1).min(self.next_met.len() - 1);
        self.next_met[earliest]
    }
}

/// For each day, and the day after the last, the first day from it on which a thing is so; the
/// number of days if none is.
fn next_true_days(so: &[bool]) -> Vec<usize> {
    let mut next = vec![so.len(); so.len() + 1];
    for day in (0..so.len()).rev() {
        next[day] = if so[day] { day } else { next[day + 1] };
    }
    next
}
