//! What a crop does in the air of a place, day by day.

use chrono::NaiveDate;
use steadyleaf::garden::Garden;
use steadyleaf::garden::crop::{BoltingRule, Crop, HarvestHabit, Stage};
use steadyleaf::garden::place::Cover;
use steadyleaf::nature::air::{self, DayConditions};
use steadyleaf::nature::canopy::{Canopy, MAX_DEVELOPMENT};
use steadyleaf::nature::development::{DevelopmentRate, reference_conditions};
use steadyleaf::nature::harvest::senescence_rate;
use steadyleaf::units::Share;

/// Sums of rounded parts may miss what they are in arithmetic by so much.
const ROUNDING: f64 = 1e-6;
/// The most that picking gives, of what the card says (common practice, no published source).
const MOST_PICKED: f64 = 1.5;
/// Days of picking before a plant may make room (common practice, no published source).
const PICKED_FOR: i64 = 28;

/// Days of air from a first one on.
pub struct Air {
    pub first: NaiveDate,
    days: Vec<DayConditions>,
}

impl Air {
    pub fn of(
        garden: &Garden,
        cover: &Cover,
        light: f64,
        first: NaiveDate,
        last: NaiveDate,
    ) -> Self {
        let days = usize::try_from((last - first).num_days()).expect("a last day after the first");
        Self {
            first,
            days: air::growing_conditions(
                &garden.place,
                cover,
                Share::fraction(light),
                first,
                days,
            ),
        }
    }

    /// How many days of a stage's reference each day is worth.
    pub fn worth(&self, crop: &Crop, stage: &Stage) -> Sums {
        let pace = DevelopmentRate::from_crop(crop);
        let usual = pace.rate(&reference_conditions(stage));
        self.sums(|day| {
            if usual > 0.0 {
                pace.rate(day) / usual
            } else {
                0.0
            }
        })
    }

    fn sums(&self, of_day: impl Fn(&DayConditions) -> f64) -> Sums {
        Sums {
            first: self.first,
            days: self.days.iter().map(of_day).collect(),
        }
    }
}

/// Amounts a day.
pub struct Sums {
    first: NaiveDate,
    days: Vec<f64>,
}

impl Sums {
    fn at(&self, day: NaiveDate) -> f64 {
        let day = usize::try_from((day - self.first).num_days()).ok();
        day.and_then(|d| self.days.get(d)).copied().unwrap_or(0.0)
    }

    fn last(&self) -> NaiveDate {
        self.first + chrono::Days::new(self.days.len() as u64)
    }

    /// What the days from one up to, not including, another give together.
    pub fn between(&self, from: NaiveDate, until: NaiveDate) -> f64 {
        from.iter_days()
            .take_while(|d| *d < until)
            .map(|d| self.at(d))
            .sum()
    }

    /// The first day on whose morning so much has come together since `from`.
    pub fn reaches(&self, from: NaiveDate, amount: f64) -> Option<NaiveDate> {
        let mut sum = 0.0;
        let mut days = from.iter_days().take_while(|d| *d < self.last());
        days.find(|&day| {
            let is_enough = sum >= amount - ROUNDING;
            sum += self.at(day);
            is_enough
        })
    }

    /// The last day on whose morning no more than so much has come together since `from`.
    pub fn keeps(&self, from: NaiveDate, amount: f64) -> NaiveDate {
        let mut sum = 0.0;
        let mut day = from;
        while day < self.last() {
            sum += self.at(day);
            if sum > amount + ROUNDING {
                break;
            }
            day = day.succ_opt().expect("days go on");
        }
        day
    }

    /// The first day from which no more than so much comes together until `until`.
    fn lately(&self, until: NaiveDate, amount: f64) -> NaiveDate {
        let mut sum = 0.0;
        let mut day = until;
        while day > self.first {
            let before = day.pred_opt().expect("days before");
            sum += self.at(before);
            if sum > amount + ROUNDING {
                break;
            }
            day = before;
        }
        day
    }
}

/// A crop in the light of a bank.
pub struct Growing<'a> {
    crop: &'a Crop,
    air: Air,
    grown: Sums,
    borne: Sums,
    spoilt: Sums,
    light: Sums,
}

impl<'a> Growing<'a> {
    pub fn new(crop: &'a Crop, air: Air) -> Self {
        let best = crop.temperature.optimum.get();
        let grown = air.worth(crop, &crop.hole);
        let borne = grown.days.iter().map(|g| g.min(MOST_PICKED)).collect();
        Self {
            crop,
            borne: Sums {
                first: air.first,
                days: borne,
            },
            spoilt: air.sums(|day| senescence_rate(day.mean(), best)),
            light: air.sums(|day| day.dli),
            grown,
            air,
        }
    }

    /// The first day on which a plant set out on a day is ripe.
    pub fn ripe(&self, transplant: NaiveDate) -> Option<NaiveDate> {
        self.grown.reaches(transplant, self.crop.hole.days.get())
    }

    /// The first day on which one cut on a day is due again.
    pub fn due_again(&self, cut: NaiveDate, between: f64) -> Option<NaiveDate> {
        self.grown.reaches(cut, between)
    }

    /// The last day on which what was ripe on a day keeps.
    pub fn keeps(&self, ripe: NaiveDate, holds: f64) -> NaiveDate {
        self.spoilt.keeps(ripe, holds)
    }

    pub fn spoilt(&self, from: NaiveDate, until: NaiveDate) -> f64 {
        self.spoilt.between(from, until)
    }

    /// Light a day from transplant to ripe, on average [mol/m2].
    pub fn mean_light(&self, transplant: NaiveDate, ripe: NaiveDate) -> f64 {
        let days = (ripe - transplant).num_days().max(1);
        #[allow(clippy::cast_precision_loss)]
        let days = days as f64;
        self.light.between(transplant, ripe) / days
    }

    /// The first day that is too cold, too hot or makes a plant that was set out on a day run to
    /// seed, and which of these.
    pub fn harm(&self, transplant: NaiveDate) -> Option<(NaiveDate, &'static str)> {
        let cardinals = &self.crop.temperature;
        let mut running = vec![0.0; self.crop.bolting_rules.len()];
        let first = usize::try_from((transplant - self.air.first).num_days()).ok()?;
        let days = transplant.iter_days().zip(&self.air.days[first..]);
        for (day, air) in days {
            if air.coldest < cardinals.coldest.get() {
                return Some((day, "too cold"));
            }
            if air.warmest > cardinals.warmest.get() {
                return Some((day, "too hot"));
            }
            for (rule, running) in self.crop.bolting_rules.iter().zip(&mut running) {
                *running = if urges(rule, air) {
                    *running + 1.0
                } else {
                    0.0
                };
                if *running > 0.0 && *running >= rule.for_days.get() {
                    return Some((day, "bolts"));
                }
            }
        }
        None
    }

    /// Width of a plant on the mornings from transplant until a day \[m\], by when it is cut.
    pub fn widths(&self, transplant: NaiveDate, until: NaiveDate, cuts: &[NaiveDate]) -> Vec<f64> {
        let grown = self.grown(transplant, until, cuts);
        grown.into_iter().map(|(_, width)| width).collect()
    }

    /// The same with how far it is: 0 at transplant, 1 ripe.
    pub fn grown(
        &self,
        transplant: NaiveDate,
        until: NaiveDate,
        cuts: &[NaiveDate],
    ) -> Vec<(f64, f64)> {
        let canopy = Canopy::from_size(&self.crop.size);
        let (mut left, mut takes, mut sum) = (0.0, self.crop.hole.days.get(), 0.0);
        let days = transplant.iter_days().take_while(|d| *d < until);
        days.map(|day| {
            let development = (left + (1.0 - left) * sum / takes).min(MAX_DEVELOPMENT);
            if let HarvestHabit::Cut {
                residual_canopy: leaves,
                regrowth_days: between,
                ..
            } = self.crop.harvest
                && cuts.contains(&day)
            {
                left = canopy.development_at(leaves.get());
                takes = between.get();
                sum = 0.0;
            }
            sum += self.grown.at(day);
            (development, canopy.diameter(development))
        })
        .collect()
    }

    /// Grams that each picking gives, of a plant that began to bear on a day.
    pub fn pickings(&self, begun: NaiveDate, days: &[NaiveDate]) -> Vec<f64> {
        let HarvestHabit::Pick {
            each_week,
            field_holding: holds,
            ..
        } = self.crop.harvest
        else {
            return Vec::new();
        };
        let mut last = begun.pred_opt().expect("a day before");
        let picking = |&day: &NaiveDate| {
            let eve = day.pred_opt().expect("a day before");
            let since = last.max(self.spoilt.lately(day, holds.get()).min(eve));
            last = day;
            each_week.get() / 7.0 * self.borne.between(since, day)
        };
        days.iter().map(picking).collect()
    }

    /// Days on which a plant set out on a day could be harvested, were it left as long as can be;
    /// none if it comes to nothing.
    pub fn possible(
        &self,
        transplant: NaiveDate,
        is_workday: &dyn Fn(NaiveDate) -> bool,
    ) -> Vec<NaiveDate> {
        let Some(ripe) = self.ripe(transplant) else {
            return Vec::new();
        };
        let harm = self.harm(transplant).map(|(day, _)| day);
        let until = harm.unwrap_or(self.grown.last());
        if until <= ripe || self.is_too_dark(transplant, ripe) {
            return Vec::new();
        }
        let workdays = |from: NaiveDate, last: NaiveDate| {
            let days = from
                .iter_days()
                .take_while(move |d| *d <= last && *d < until);
            days.filter(|d| is_workday(*d))
        };
        match self.crop.harvest {
            HarvestHabit::Head {
                field_holding: holds,
                ..
            } => workdays(ripe, self.keeps(ripe, holds.get())).collect(),
            HarvestHabit::Cut {
                cuts,
                regrowth_days: between,
                field_holding: holds,
                ..
            } => {
                let mut days = Vec::new();
                let mut due = Some(ripe);
                while let Some(from) = due.filter(|_| days.len() < cuts as usize) {
                    let cut = workdays(from, self.keeps(from, holds.get())).next();
                    days.extend(cut);
                    due = cut.and_then(|day| self.due_again(day, between.get()));
                }
                days
            }
            HarvestHabit::Pick {
                harvest_period: lasts,
                ..
            } => workdays(ripe, last_picking(ripe, lasts.get())).collect(),
        }
    }

    pub fn is_too_dark(&self, transplant: NaiveDate, ripe: NaiveDate) -> bool {
        self.mean_light(transplant, ripe) < self.crop.light.minimum_dli.get() - ROUNDING
    }
}

/// The last day of picking.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
pub fn last_picking(begun: NaiveDate, lasts: f64) -> NaiveDate {
    begun + chrono::Days::new(lasts as u64)
}

/// The first day on which a plant that is picked may make room.
pub fn picked_enough(first: NaiveDate) -> NaiveDate {
    first + chrono::TimeDelta::days(PICKED_FOR)
}

fn urges(rule: &BoltingRule, air: &DayConditions) -> bool {
    let stated = [
        rule.mean_above.map(|t| air.mean() > t.get()),
        rule.mean_below.map(|t| air.mean() < t.get()),
        rule.day_longer_than.map(|h| air.day_length > h.get()),
    ];
    stated.iter().flatten().count() > 0 && stated.iter().flatten().all(|met| *met)
}
