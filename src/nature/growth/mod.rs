//! From air and light to ripe plants: one plant's life in a hole.

use chrono::{Datelike, NaiveDate};

use crate::garden::crop::{Crop, Harvest};
use crate::nature::air::DayAir;
use crate::nature::canopy::{Canopy, FULL};
use crate::nature::development::{self, Pace, reference_air};
use crate::nature::harvest::{Harvests, MOST_PICKED, Ripe, spoiling};
use crate::nature::prefix_sums::Running;
use crate::nature::season::Season;

pub use crate::nature::harvest::Gain;
pub use crate::nature::season::OutOfSeason;

/// One plant's life in a hole, from transplant on, as far as it may stand.
///
/// Days are indices into the air that it was computed from.
#[derive(Debug, Clone, PartialEq)]
pub struct Life {
    /// Day of transplant.
    pub transplant: usize,
    /// First day on which it is ripe (first cut, first picking).
    pub ripe: usize,
    /// Harvests on workdays, rising: every possible one for what is harvested once, the chain
    /// of cuts or pickings otherwise.
    pub harvests: Vec<Gain>,
    /// Days on which it may be removed, rising, each a harvest's day.
    pub ends: Vec<usize>,
    /// Harvested once: only the harvest on the day of removal counts.
    pub once: bool,
    /// Development at the start of each day from transplant to the last end: 0 at transplant,
    /// 1 ripe. Falls back at a cut.
    pub development: Vec<f64>,
    /// Canopy diameter on the same days \[m\].
    pub diameter: Vec<f64>,
}

/// The first day at whose start seeds sown on day `sown` are ready for the rig, in the
/// nursery's air; `None` if that is not within the air.
#[must_use]
pub fn nursery_ready(crop: &Crop, air: &[DayAir], sown: usize) -> Option<usize> {
    Growth::new(crop, air).nursery_ready(sown)
}

/// The life of a plant set out on day `transplant`; see [`Growth::life`].
///
/// # Errors
/// Why it would come to nothing.
pub fn life(
    crop: &Crop,
    air: &[DayAir],
    transplant: usize,
    is_workday: &dyn Fn(usize) -> bool,
) -> Result<Life, OutOfSeason> {
    Growth::new(crop, air).life(transplant, is_workday)
}

/// A crop in given air: what every day does to it, looked up for any day of sowing or
/// transplant.
#[derive(Debug, Clone)]
pub struct Growth<'a> {
    crop: &'a Crop,
    /// Growth in the nursery, in days at the card's reference.
    nursery: Running,
    /// Growth in the hole, in days at the card's reference.
    hole: Running,
    /// Picking, in days at the card's reference.
    borne: Running,
    /// Keeping of what is ripe, in days at the best temperature.
    spoilt: Running,
    /// Light [mol/m2].
    light: Running,
    season: Season,
    /// The weekday of the air's first day, counted from Monday.
    weekday: usize,
}

impl<'a> Growth<'a> {
    /// What the air does to the crop, day by day.
    #[must_use]
    pub fn new(crop: &'a Crop, air: &[DayAir]) -> Self {
        let pace = Pace::of(crop);
        let speeds: Vec<f64> = air.iter().map(|day| pace.speed(day)).collect();
        let relative = |reference: &DayAir| {
            let reference = pace.speed(reference);
            let speeds = speeds.iter();
            speeds.map(move |speed| development::relative(*speed, reference))
        };
        let hole = reference_air(&crop.hole);
        let best = crop.temperature.best.get();
        Self {
            crop,
            nursery: Running::new(relative(&reference_air(&crop.nursery))),
            hole: Running::new(relative(&hole)),
            borne: Running::new(relative(&hole).map(|speed| speed.min(MOST_PICKED))),
            spoilt: Running::new(air.iter().map(|day| spoiling(day.mean(), best))),
            light: Running::new(air.iter().map(|day| day.light)),
            season: Season::new(crop, air),
            weekday: 0,
        }
    }

    /// The same in air that begins on this day; else it is taken to begin on a Monday. Picked
    /// plants are removed at a week's end: whatever day is planned from, these are the same.
    #[must_use]
    pub fn from_day(self, first: NaiveDate) -> Self {
        let weekday = first.weekday().num_days_from_monday() as usize;
        Self { weekday, ..self }
    }

    /// The first day at whose start seeds sown on day `sown` are ready for the rig; `None` if
    /// that is not within the air.
    #[must_use]
    pub fn nursery_ready(&self, sown: usize) -> Option<usize> {
        self.nursery.reaching(sown, self.crop.nursery.days.get())
    }

    /// The life of a plant set out on day `transplant`: when it is ripe, when it may be
    /// harvested and removed on workdays, how grown and how wide it is day by day.
    ///
    /// It must be removed before the first day that is too cold, too hot or makes it bolt, and
    /// within the air looked at.
    ///
    /// # Errors
    /// Why it would come to nothing: the first harm before it is ripe, too little light on the
    /// way, not ripe within the air, or nobody there while it keeps.
    pub fn life(
        &self,
        transplant: usize,
        is_workday: &dyn Fn(usize) -> bool,
    ) -> Result<Life, OutOfSeason> {
        let days = self.hole.days();
        if transplant >= days {
            return Err(OutOfSeason::NotInTime);
        }
        let harm = self.season.harm(transplant);
        let ripe = self.hole.reaching(transplant, self.crop.hole.days.get());
        match (ripe, harm) {
            (None, Some((_, reason))) => return Err(reason),
            (Some(ripe), Some((day, reason))) if day <= ripe => return Err(reason),
            _ => {}
        }
        if self.too_dark(transplant, ripe.unwrap_or(days)) {
            return Err(OutOfSeason::TooDark);
        }
        let ripe = Ripe {
            day: ripe.ok_or(OutOfSeason::NotInTime)?,
            until: harm.map_or(days, |(day, _)| day),
            grown: &self.hole,
            borne: &self.borne,
            spoilt: &self.spoilt,
            is_workday,
            weekday: self.weekday,
        };
        let harvests = ripe.harvests(&self.crop.harvest);
        if harvests.ends.is_empty() {
            return Err(self.why_not_harvested(&ripe, harm.map(|(_, reason)| reason)));
        }
        Ok(self.told(transplant, ripe.day, harvests))
    }

    fn too_dark(&self, transplant: usize, ripe: usize) -> bool {
        #[allow(clippy::cast_precision_loss)]
        let stay = (ripe - transplant).max(1) as f64;
        self.light.over(transplant..ripe) < self.crop.light.least.get() * stay
    }

    /// Why no workday would do: the harm or the end of the air, if the plant would have kept
    /// until then, else that nobody came.
    fn why_not_harvested(&self, ripe: &Ripe, harm: Option<OutOfSeason>) -> OutOfSeason {
        let kept_until = match self.crop.harvest {
            Harvest::Head { holds, .. } | Harvest::Cut { holds, .. } => {
                ripe.keeps_until(ripe.day, holds.get())
            }
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            Harvest::Pick { lasts, .. } => ripe.day + lasts.get() as usize,
        };
        if kept_until < ripe.until {
            OutOfSeason::NobodyThere
        } else {
            harm.unwrap_or(OutOfSeason::NotInTime)
        }
    }

    /// The life with its development and canopy, day by day.
    fn told(&self, transplant: usize, ripe: usize, harvests: Harvests) -> Life {
        let canopy = Canopy::of(&self.crop.size);
        let last = harvests.ends.last().copied().unwrap_or(transplant);
        let cuts: Vec<usize> = harvests.gains.iter().map(|gain| gain.day).collect();
        let development = self.as_cut(transplant, last, &cuts);
        let diameter = development.iter().map(|&d| canopy.diameter(d)).collect();
        Life {
            transplant,
            ripe,
            harvests: harvests.gains,
            ends: harvests.ends,
            once: matches!(self.crop.harvest, Harvest::Head { .. }),
            development,
            diameter,
        }
    }

    /// Development at the start of each day from transplant to `last`, of a plant that is cut on
    /// the days `cuts`: from 0 to 1 on the way to ripe and on to [`FULL`]; after a cut, from what
    /// the cut leaves to 1 when due again. Only crops that are cut are set back; days beyond the
    /// air are left out.
    #[must_use]
    pub fn as_cut(&self, transplant: usize, last: usize, cuts: &[usize]) -> Vec<f64> {
        let canopy = Canopy::of(&self.crop.size);
        let (mut since, mut from, mut takes) = (transplant, 0.0, self.crop.hole.days.get());
        (transplant..=last.min(self.hole.days()))
            .map(|day| {
                let now = from + (1.0 - from) * self.hole.over(since..day) / takes;
                if let Harvest::Cut {
                    leaves, between, ..
                } = self.crop.harvest
                    && cuts.contains(&day)
                {
                    since = day;
                    from = canopy.development_at(leaves.get());
                    takes = between.get();
                }
                now.min(FULL)
            })
            .collect()
    }
}

mod remaining;

pub use remaining::{Past, Rest, RestEnd};

#[cfg(test)]
mod tests;
