//! What a plant that already stands can still give.

use crate::garden::crop::HarvestHabit;
use crate::nature::canopy::Canopy;
use crate::nature::growth::{GrowthTable, HarvestUnit};
use crate::nature::harvest::{RipePlant, picking_removal_days};

/// What has become of a plant so far. Days are indices into the air.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct HarvestHistory<'a> {
    /// Day of transplant.
    pub transplant: usize,
    /// Days on which something was harvested from it, rising.
    pub harvested: &'a [usize],
}

/// What can still come of it. Days are indices into the air.
#[derive(Debug, Clone, PartialEq)]
pub struct RemainingLife {
    /// How it may end, by day: at least one way if there is a workday at all. What is cut may
    /// wait for its next cut as long as it keeps, so that some ends share their day.
    pub ends: Vec<RemainingEnd>,
    /// Harvested once.
    pub is_harvested_once: bool,
    /// Canopy diameter at the start of each day from the day asked about to the last end that
    /// has it, as different cuts leave it \[m\].
    pub diameters: Vec<Vec<f64>>,
}

/// One way in which a plant's time may end.
#[derive(Debug, Clone, PartialEq)]
pub struct RemainingEnd {
    /// Day of removal.
    pub day: usize,
    /// What is harvested until then, on workdays, rising.
    pub harvests: Vec<HarvestUnit>,
    /// Which of [`RemainingLife::diameters`] it has.
    pub canopy: usize,
}

impl RemainingEnd {
    const fn new(day: usize, harvests: Vec<HarvestUnit>) -> Self {
        Self {
            day,
            harvests,
            canopy: 0,
        }
    }

    /// Whether another end, no sooner, leaves the plant the same until this one.
    fn has_same_canopy_until(&self, other: &Self) -> bool {
        let before = |end: &Self| {
            let harvests = end.harvests.iter().map(|gain| gain.day);
            harvests.filter(|&day| day < self.day).collect::<Vec<_>>()
        };
        self.day <= other.day && before(self) == before(other)
    }
}

/// Ends after each of some harvests, all up to it made.
fn ends_after_each_harvest(harvests: &[HarvestUnit]) -> impl Iterator<Item = RemainingEnd> + '_ {
    (1..=harvests.len()).map(|n| RemainingEnd::new(harvests[n - 1].day, harvests[..n].to_vec()))
}

/// A ripe plant that the grower has left standing keeps at least this share of its full time
/// (our assumption: whoever saw it spoilt would have taken it out).
const MIN_HOLDING_SHARE: f64 = 0.5;

impl GrowthTable<'_> {
    /// Growth from one day to another, in days at the reference of the card's `hole` stage.
    #[must_use]
    pub fn growth_between(&self, days: std::ops::Range<usize>) -> f64 {
        let end = days.end.min(self.hole.days());
        self.hole.sum(days.start.min(end)..end)
    }

    /// Canopy diameter of a plant that nobody cuts any more, on each of some days that the air has
    /// \[m\].
    #[must_use]
    pub fn unharvested_canopy(
        &self,
        past: &HarvestHistory<'_>,
        days: std::ops::Range<usize>,
    ) -> Vec<f64> {
        let canopy = Canopy::from_size(&self.crop.size);
        let last = days.end.min(self.hole.days()).max(days.start + 1) - 1;
        let grown = self.development_series(past.transplant, last, past.harvested);
        let grown = grown.into_iter().skip(days.start - past.transplant);
        grown.map(|d| canopy.diameter(d)).collect()
    }

    /// What a plant that stands on day `from` can still give, and until when it may stand.
    ///
    /// What came before `from` is taken as it was, whatever the air of those days would have
    /// done by the card. Where nothing more can be had of the plant it is taken out on the first
    /// workday, for nothing.
    #[must_use]
    pub fn remaining_life(
        &self,
        past: &HarvestHistory<'_>,
        from: usize,
        is_workday: &dyn Fn(usize) -> bool,
    ) -> RemainingLife {
        let until = self.latest_removal(past.transplant, from);
        let ripe = self
            .hole
            .first_day_reaching(past.transplant, self.crop.hole.days.get());
        let mut ends = match self.crop.harvest {
            HarvestHabit::Head {
                each,
                field_holding: holds,
            } => self.remaining_heads(ripe, from, until, each.get(), holds.get(), is_workday),
            HarvestHabit::Cut { .. } => self.remaining_cuts(past, ripe, from, until, is_workday),
            HarvestHabit::Pick { .. } => {
                self.remaining_pickings(past, ripe, from, until, is_workday)
            }
        };
        if ends.is_empty() {
            let spoilt = ripe.map_or(from, |ripe| {
                if ripe < until {
                    self.last_day_worth_standing(ripe, from).max(from)
                } else {
                    from
                }
            });
            let workday = |day: usize| (day..self.hole.days()).find(|&d| is_workday(d));
            let nothing = |day| RemainingEnd::new(day, Vec::new());
            ends.extend(workday(spoilt).or_else(|| workday(from)).map(nothing));
        }
        RemainingLife {
            diameters: self.distinct_canopies(past, from, &mut ends),
            ends,
            is_harvested_once: matches!(self.crop.harvest, HarvestHabit::Head { .. }),
        }
    }

    /// The first day before which it must be gone.
    fn latest_removal(&self, transplant: usize, from: usize) -> usize {
        let harm = self
            .damage
            .first_damage(transplant)
            .filter(|&(day, _)| day >= from)
            .or_else(|| self.damage.first_damage(from));
        harm.map_or(self.hole.days(), |(day, _)| day)
    }

    /// The last day on which what became ripe still keeps.
    fn last_day_worth_standing(&self, ripe: usize, from: usize) -> usize {
        let (HarvestHabit::Head {
            field_holding: holds,
            ..
        }
        | HarvestHabit::Cut {
            field_holding: holds,
            ..
        }) = self.crop.harvest
        else {
            return ripe.max(from);
        };
        self.last_day_of_holding(ripe, from, holds.get())
    }

    fn last_day_of_holding(&self, ripe: usize, from: usize, holds: f64) -> usize {
        let seen = ripe.max(from);
        let gone = self.senescence.sum(ripe.min(seen)..seen);
        let left = (holds - gone).max(holds * MIN_HOLDING_SHARE);
        self.senescence.last_day_within(seen, left)
    }

    fn remaining_heads(
        &self,
        ripe: Option<usize>,
        from: usize,
        until: usize,
        grams: f64,
        holds: f64,
        is_workday: &dyn Fn(usize) -> bool,
    ) -> Vec<RemainingEnd> {
        let Some(ripe) = ripe else {
            return Vec::new();
        };
        let last = self.last_day_of_holding(ripe, from, holds);
        (ripe.max(from)..until.min(last.saturating_add(1)))
            .filter(|&day| is_workday(day))
            .map(|day| RemainingEnd::new(day, vec![HarvestUnit { day, grams }]))
            .collect()
    }

    /// The next cut is made on any workday on which it is ready and keeps, those after it as
    /// soon as they are ready.
    fn remaining_cuts(
        &self,
        past: &HarvestHistory<'_>,
        ripe: Option<usize>,
        from: usize,
        until: usize,
        is_workday: &dyn Fn(usize) -> bool,
    ) -> Vec<RemainingEnd> {
        let HarvestHabit::Cut {
            first,
            later,
            cuts,
            regrowth_days: between,
            field_holding: holds,
            ..
        } = self.crop.harvest
        else {
            return Vec::new();
        };
        let due_again = |day: usize| self.hole.first_day_reaching(day, between.get());
        let good = |ready: usize| {
            let last = self.last_day_of_holding(ready, from, holds.get());
            (ready.max(from)..until.min(last.saturating_add(1))).filter(|&day| is_workday(day))
        };
        let yields = std::iter::once(first.get()).chain(std::iter::repeat(later.get()));
        let yields: Vec<f64> = yields
            .take(cuts as usize)
            .skip(past.harvested.len())
            .collect();
        let next = past.harvested.last().map_or(ripe, |&day| due_again(day));
        let (Some(next), Some((&grams, later))) = (next, yields.split_first()) else {
            return Vec::new();
        };
        let mut ends: Vec<RemainingEnd> = good(next)
            .flat_map(|day| {
                let mut harvests = vec![HarvestUnit { day, grams }];
                for &grams in later {
                    let last = harvests[harvests.len() - 1].day;
                    match due_again(last).and_then(|ready| good(ready).next()) {
                        Some(day) => harvests.push(HarvestUnit { day, grams }),
                        None => break,
                    }
                }
                ends_after_each_harvest(&harvests).collect::<Vec<_>>()
            })
            .collect();
        // The sooner the next cut the better, all else being equal.
        ends.sort_by_key(|end| (end.day, std::cmp::Reverse(end.harvests.len())));
        ends
    }

    fn remaining_pickings(
        &self,
        past: &HarvestHistory<'_>,
        ripe: Option<usize>,
        from: usize,
        until: usize,
        is_workday: &dyn Fn(usize) -> bool,
    ) -> Vec<RemainingEnd> {
        let picked_before = past.harvested.first().copied();
        // It bears from when it was ripe, though nobody may have come on that very day; or from its
        // first picking, if that was sooner than by the card.
        let (
            Some(begun),
            HarvestHabit::Pick {
                harvest_period: lasts,
                ..
            },
        ) = (
            picked_before.into_iter().chain(ripe).min(),
            self.crop.harvest,
        )
        else {
            return Vec::new();
        };
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let last = begun + lasts.get() as usize;
        // Pickings that were made count as workdays, those that were missed do not.
        let was_picked = |day: usize| past.harvested.contains(&day);
        let came = |day: usize| was_picked(day) || day >= from && day <= last && is_workday(day);
        let ripe = RipePlant {
            ripe_day: begun,
            end_day: until,
            growth: &self.hole,
            fruiting: &self.fruiting,
            senescence: &self.senescence,
            is_workday: &came,
            weekday: self.weekday,
        };
        let gains: Vec<HarvestUnit> = ripe
            .harvests(&self.crop.harvest)
            .harvests
            .into_iter()
            .filter(|gain| gain.day >= from && !was_picked(gain.day))
            .collect();
        let until = |day: usize| gains.iter().copied().filter(move |g| g.day <= day);
        let first = picked_before.or(gains.first().map(|g| g.day));
        picking_removal_days(&gains, first.unwrap_or(begun), self.weekday)
            .into_iter()
            .map(|day| RemainingEnd::new(day, until(day).collect()))
            .collect()
    }

    /// The canopies that the ends leave, each end told which is its own.
    fn distinct_canopies(
        &self,
        past: &HarvestHistory<'_>,
        from: usize,
        ends: &mut [RemainingEnd],
    ) -> Vec<Vec<f64>> {
        let canopy = Canopy::from_size(&self.crop.size);
        let mut longest: Vec<RemainingEnd> = Vec::new();
        for end in ends.iter_mut().rev() {
            let known = longest
                .iter()
                .position(|other| end.has_same_canopy_until(other));
            end.canopy = known.unwrap_or(longest.len());
            if known.is_none() {
                longest.push(end.clone());
            }
        }
        longest
            .iter()
            .map(|end| {
                let to_come = end.harvests.iter().map(|gain| gain.day);
                let all: Vec<usize> = past.harvested.iter().copied().chain(to_come).collect();
                let grown = self.development_series(past.transplant, end.day, &all);
                let rest = grown.into_iter().skip(from - past.transplant);
                rest.map(|d| canopy.diameter(d)).collect()
            })
            .collect()
    }
}
