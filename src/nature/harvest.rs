//! When a ripe plant may be taken, cut or picked, and what that gives.

use crate::garden::crop::HarvestHabit;
use crate::nature::prefix_sums::PrefixSums;

/// What one harvest gives.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HarvestUnit {
    /// The day.
    pub day: usize,
    /// How much \[g\].
    pub grams: f64,
}

/// Picking in the best air gives at most so many times what the card says.
pub(super) const MAX_FRUITING_RATE: f64 = 1.5;

/// Days of picking before a plant may make room for another (common practice, no published
/// source).
const MIN_PICKING_DAYS: usize = 28;

/// How fast ripe plants spoil, against the card's best temperature: twice as fast 10 C above it,
/// never slower than half as fast (common practice, no published source).
#[must_use]
pub fn senescence_rate(mean: f64, best: f64) -> f64 {
    libm::exp2((mean - best) / 10.0).max(0.5)
}

/// A plant's harvests and the days on which it may be removed, both rising.
pub(super) struct HarvestChain {
    pub(super) harvests: Vec<HarvestUnit>,
    pub(super) removal_days: Vec<usize>,
}

/// A ripe plant, and what goes on around it.
pub(super) struct RipePlant<'a> {
    /// First day on which it is ripe.
    pub(crate) ripe_day: usize,
    /// The first day before which it must be gone.
    pub(super) end_day: usize,
    /// Growth, in days at the card's reference.
    pub(super) growth: &'a PrefixSums,
    /// Picking, in days at the card's reference.
    pub(super) fruiting: &'a PrefixSums,
    /// Keeping, in days at the best temperature.
    pub(super) senescence: &'a PrefixSums,
    /// Whether somebody is there on a day.
    pub(super) is_workday: &'a dyn Fn(usize) -> bool,
    /// The weekday of day 0, counted from Monday.
    pub(crate) weekday: usize,
}

impl RipePlant<'_> {
    pub(super) fn harvests(&self, habit: &HarvestHabit) -> HarvestChain {
        match *habit {
            HarvestHabit::Head {
                each,
                field_holding: holds,
            } => self.head_harvests(each.get(), holds.get()),
            HarvestHabit::Cut {
                first,
                later,
                cuts,
                regrowth_days: between,
                field_holding: holds,
                ..
            } => {
                let yields = std::iter::once(first.get())
                    .chain(std::iter::repeat(later.get()))
                    .take(cuts as usize);
                self.cut_harvests(yields, between.get(), holds.get())
            }
            HarvestHabit::Pick {
                each_week,
                harvest_period: lasts,
                field_holding: holds,
            } => self.picking_harvests(each_week.get(), lasts.get(), holds.get()),
        }
    }

    /// The last day on which what is ripe on day `from` still keeps.
    pub(super) fn last_day_of_holding(&self, from: usize, holds: f64) -> usize {
        self.senescence.last_day_within(from, holds)
    }

    /// Workdays from one day to another, both included, on which it may still be there.
    fn workdays(&self, from: usize, last: usize) -> impl Iterator<Item = usize> {
        (from..self.end_day.min(last.saturating_add(1))).filter(|&day| (self.is_workday)(day))
    }

    /// Taken whole, on any workday while it keeps.
    fn head_harvests(&self, grams: f64, holds: f64) -> HarvestChain {
        let ends: Vec<usize> = self
            .workdays(
                self.ripe_day,
                self.last_day_of_holding(self.ripe_day, holds),
            )
            .collect();
        let gains = ends.iter().map(|&day| HarvestUnit { day, grams }).collect();
        HarvestChain {
            harvests: gains,
            removal_days: ends,
        }
    }

    /// Cut on the first workday on which it is due, over and over, until a cut comes too late.
    fn cut_harvests(
        &self,
        yields: impl Iterator<Item = f64>,
        between: f64,
        holds: f64,
    ) -> HarvestChain {
        let mut gains: Vec<HarvestUnit> = Vec::new();
        let mut due = Some(self.ripe_day);
        for grams in yields {
            let Some(day) = due.and_then(|due| {
                self.workdays(due, self.last_day_of_holding(due, holds))
                    .next()
            }) else {
                break;
            };
            gains.push(HarvestUnit { day, grams });
            due = self.growth.first_day_reaching(day, between);
        }
        let ends = gains.iter().map(|gain| gain.day).collect();
        HarvestChain {
            harvests: gains,
            removal_days: ends,
        }
    }

    /// Picked on every workday. Each picking takes what has ripened since the last one and still
    /// keeps; the first, what has ripened since the eve of ripeness.
    fn picking_harvests(&self, each_week: f64, lasts: f64, holds: f64) -> HarvestChain {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let last = self.ripe_day + lasts as usize;
        let mut picked_until = self.ripe_day.saturating_sub(1);
        let mut gains = Vec::new();
        for day in self.workdays(self.ripe_day, last) {
            let fresh = self
                .senescence
                .window_start(day, holds)
                .min(day.saturating_sub(1));
            let since = picked_until.max(fresh);
            let grams = each_week / 7.0 * self.fruiting.sum(since..day);
            gains.push(HarvestUnit { day, grams });
            picked_until = day;
        }
        let ends = gains
            .first()
            .map(|g| picking_removal_days(&gains, g.day, self.weekday));
        HarvestChain {
            harvests: gains,
            removal_days: ends.unwrap_or_default(),
        }
    }
}

/// Days on which a picked plant may be removed: after [`MIN_PICKING_DAYS`] days of picking since the
/// `first` the last picking of every week (from Monday; day 0 is so many days after one), and the
/// very last one in any case.
pub(super) fn picking_removal_days(
    gains: &[HarvestUnit],
    first: usize,
    weekday: usize,
) -> Vec<usize> {
    let week = |day: usize| (day + weekday) / 7;
    let mut ends = Vec::new();
    for (i, gain) in gains.iter().enumerate() {
        match gains.get(i + 1) {
            None => ends.push(gain.day),
            Some(next)
                if week(next.day) > week(gain.day) && gain.day >= first + MIN_PICKING_DAYS =>
            {
                ends.push(gain.day);
            }
            Some(_) => {}
        }
    }
    ends
}
