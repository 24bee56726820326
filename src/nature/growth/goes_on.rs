//! What a plant that already stands can still give.

use super::super::harvest::{Ripe, picking_ends};
use super::{Gain, Growth};
use crate::garden::crop::Harvest;
use crate::nature::canopy::Canopy;

/// What has become of a plant so far. Days are indices into the air.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Past<'a> {
    /// Day of transplant.
    pub transplant: usize,
    /// Days on which something was harvested from it, rising.
    pub harvested: &'a [usize],
}

/// What can still come of it. Days are indices into the air.
#[derive(Debug, Clone, PartialEq)]
pub struct Rest {
    /// Harvests on workdays, rising, as in [`super::Life::harvests`].
    pub harvests: Vec<Gain>,
    /// Days on which it may be removed, rising: at least one if there is a workday at all.
    pub ends: Vec<usize>,
    /// Harvested once: only the harvest on the day of removal counts.
    pub once: bool,
    /// Canopy diameter at the start of each day from the day asked about to the last end \[m\].
    pub diameter: Vec<f64>,
}

/// A ripe plant that the grower has left standing keeps at least this share of its full time
/// (our assumption: whoever saw it spoilt would have taken it out).
const STILL_KEEPS: f64 = 0.5;

impl Growth<'_> {
    /// Growth from one day to another, in days at the reference of the card's `hole` stage.
    #[must_use]
    pub fn grown(&self, days: std::ops::Range<usize>) -> f64 {
        let end = days.end.min(self.hole.days());
        self.hole.over(days.start.min(end)..end)
    }

    /// Canopy diameter of a plant that nobody cuts, on each of so many days from `transplant` on
    /// \[m\].
    #[must_use]
    pub fn uncut(&self, transplant: usize, days: usize) -> Vec<f64> {
        let canopy = Canopy::of(&self.crop.size);
        let last = (transplant + days)
            .min(self.hole.days())
            .max(transplant + 1)
            - 1;
        let grown = self.development(transplant, last, &[], &canopy);
        grown.into_iter().map(|d| canopy.diameter(d)).collect()
    }

    /// What a plant that stands on day `from` can still give, and until when it may stand.
    ///
    /// What came before `from` is taken as it was, whatever the air of those days would have
    /// done by the card. Where nothing more can be had of the plant it is taken out on the first
    /// workday, for nothing.
    #[must_use]
    pub fn goes_on(
        &self,
        past: &Past<'_>,
        from: usize,
        is_workday: &dyn Fn(usize) -> bool,
    ) -> Rest {
        let until = self.stands_until(past.transplant, from);
        let ripe = self
            .hole
            .reaching(past.transplant, self.crop.hole.days.get());
        let (gains, mut ends) = match self.crop.harvest {
            Harvest::Head { each, holds } => {
                self.heads_left(ripe, from, until, each.get(), holds.get(), is_workday)
            }
            Harvest::Cut { .. } => self.cuts_left(past, ripe, from, until, is_workday),
            Harvest::Pick { .. } => self.pickings_left(past, ripe, from, until, is_workday),
        };
        if ends.is_empty() {
            let spoilt = ripe.map_or(from, |ripe| {
                if ripe < until {
                    self.last_good(ripe, from).max(from)
                } else {
                    from
                }
            });
            let workday = |day: usize| (day..self.hole.days()).find(|&d| is_workday(d));
            ends.extend(workday(spoilt).or_else(|| workday(from)));
        }
        let diameter = self.rest_of_canopy(past, from, &gains, &ends);
        Rest {
            harvests: gains,
            ends,
            once: matches!(self.crop.harvest, Harvest::Head { .. }),
            diameter,
        }
    }

    /// The first day before which it must be gone.
    fn stands_until(&self, transplant: usize, from: usize) -> usize {
        let harm = self
            .season
            .harm(transplant)
            .filter(|&(day, _)| day >= from)
            .or_else(|| self.season.harm(from));
        harm.map_or(self.hole.days(), |(day, _)| day)
    }

    /// The last day on which what became ripe still keeps.
    fn last_good(&self, ripe: usize, from: usize) -> usize {
        let (Harvest::Head { holds, .. } | Harvest::Cut { holds, .. }) = self.crop.harvest else {
            return ripe.max(from);
        };
        self.keeps(ripe, from, holds.get())
    }

    fn keeps(&self, ripe: usize, from: usize, holds: f64) -> usize {
        let seen = ripe.max(from);
        let gone = self.spoilt.over(ripe.min(seen)..seen);
        let left = (holds - gone).max(holds * STILL_KEEPS);
        self.spoilt.within(seen, left)
    }

    fn heads_left(
        &self,
        ripe: Option<usize>,
        from: usize,
        until: usize,
        grams: f64,
        holds: f64,
        is_workday: &dyn Fn(usize) -> bool,
    ) -> (Vec<Gain>, Vec<usize>) {
        let Some(ripe) = ripe else {
            return (Vec::new(), Vec::new());
        };
        let last = self.keeps(ripe, from, holds);
        let ends: Vec<usize> = (ripe.max(from)..until.min(last.saturating_add(1)))
            .filter(|&day| is_workday(day))
            .collect();
        let gains = ends.iter().map(|&day| Gain { day, grams }).collect();
        (gains, ends)
    }

    fn cuts_left(
        &self,
        past: &Past<'_>,
        ripe: Option<usize>,
        from: usize,
        until: usize,
        is_workday: &dyn Fn(usize) -> bool,
    ) -> (Vec<Gain>, Vec<usize>) {
        let Harvest::Cut {
            first,
            later,
            cuts,
            between,
            holds,
            ..
        } = self.crop.harvest
        else {
            return (Vec::new(), Vec::new());
        };
        let due_again = |day: usize| self.hole.reaching(day, between.get());
        let mut due = past.harvested.last().map_or(ripe, |&day| due_again(day));
        let yields = std::iter::once(first.get()).chain(std::iter::repeat(later.get()));
        let mut gains = Vec::new();
        for grams in yields.take(cuts as usize).skip(past.harvested.len()) {
            let Some(ready) = due else { break };
            let last = self.keeps(ready, from, holds.get());
            let mut days = ready.max(from)..until.min(last.saturating_add(1));
            let Some(day) = days.find(|&day| is_workday(day)) else {
                break;
            };
            gains.push(Gain { day, grams });
            due = due_again(day);
        }
        let ends = gains.iter().map(|gain| gain.day).collect();
        (gains, ends)
    }

    fn pickings_left(
        &self,
        past: &Past<'_>,
        ripe: Option<usize>,
        from: usize,
        until: usize,
        is_workday: &dyn Fn(usize) -> bool,
    ) -> (Vec<Gain>, Vec<usize>) {
        let picked_before = past.harvested.first().copied();
        let (Some(begun), Harvest::Pick { lasts, .. }) =
            (picked_before.or(ripe), self.crop.harvest)
        else {
            return (Vec::new(), Vec::new());
        };
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let last = begun + lasts.get() as usize;
        // Pickings that were made count as workdays, those that were missed do not.
        let came = |day: usize| {
            if day < from {
                past.harvested.contains(&day)
            } else {
                day <= last && is_workday(day)
            }
        };
        let ripe = Ripe {
            day: begun,
            until,
            grown: &self.hole,
            borne: &self.borne,
            spoilt: &self.spoilt,
            is_workday: &came,
        };
        let gains: Vec<Gain> = ripe
            .harvests(&self.crop.harvest)
            .gains
            .into_iter()
            .filter(|gain| gain.day >= from)
            .collect();
        let ends = picking_ends(&gains, begun);
        (gains, ends)
    }

    fn rest_of_canopy(
        &self,
        past: &Past<'_>,
        from: usize,
        gains: &[Gain],
        ends: &[usize],
    ) -> Vec<f64> {
        let canopy = Canopy::of(&self.crop.size);
        let last = ends.last().copied().unwrap_or(from);
        let before = past.harvested.iter().map(|&day| Gain { day, grams: 0.0 });
        let all: Vec<Gain> = before.chain(gains.iter().copied()).collect();
        let grown = self.development(past.transplant, last, &all, &canopy);
        grown
            .into_iter()
            .skip(from - past.transplant)
            .map(|d| canopy.diameter(d))
            .collect()
    }
}
