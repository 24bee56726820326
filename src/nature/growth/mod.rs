//! From air and light to ripe plants: one plant's life in a hole.

use chrono::{Datelike, NaiveDate};

use crate::garden::crop::{Crop, Harvest};
use crate::nature::air::DayConditions;
use crate::nature::canopy::{Canopy, MAX_DEVELOPMENT};
use crate::nature::development::{self, DevelopmentRate, reference_conditions};
use crate::nature::harvest::{Harvests, MAX_PICKING_FACTOR, RipePlant, senescence_rate};
use crate::nature::prefix_sums::PrefixSums;
use crate::nature::season::DamageTable;

pub use crate::nature::harvest::HarvestUnit;
pub use crate::nature::season::Unsuitable;

/// One plant's life in a hole, from transplant on, as far as it may stand.
///
/// Days are indices into the air that it was computed from.
#[derive(Debug, Clone, PartialEq)]
pub struct PlantLife {
    /// Day of transplant.
    pub transplant: usize,
    /// First day on which it is ripe (first cut, first picking).
    pub ripe: usize,
    /// Harvests on workdays, rising: every possible one for what is harvested once, the chain
    /// of cuts or pickings otherwise.
    pub harvests: Vec<HarvestUnit>,
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
pub fn nursery_ready(crop: &Crop, air: &[DayConditions], sown: usize) -> Option<usize> {
    GrowthTable::new(crop, air).nursery_ready(sown)
}

/// The life of a plant set out on day `transplant`; see [`GrowthTable::life`].
///
/// # Errors
/// Why it would come to nothing.
pub fn life(
    crop: &Crop,
    air: &[DayConditions],
    transplant: usize,
    is_workday: &dyn Fn(usize) -> bool,
) -> Result<PlantLife, Unsuitable> {
    GrowthTable::new(crop, air).life(transplant, is_workday)
}

/// A crop in given air: what every day does to it, looked up for any day of sowing or
/// transplant.
#[derive(Debug, Clone)]
pub struct GrowthTable<'a> {
    crop: &'a Crop,
    /// Growth in the nursery, in days at the card's reference.
    nursery: PrefixSums,
    /// Growth in the hole, in days at the card's reference.
    hole: PrefixSums,
    /// Picking, in days at the card's reference.
    fruiting: PrefixSums,
    /// Keeping of what is ripe, in days at the best temperature.
    senescence: PrefixSums,
    /// Light [mol/m2].
    light: PrefixSums,
    season: DamageTable,
    /// The weekday of the air's first day, counted from Monday.
    weekday: usize,
}

impl<'a> GrowthTable<'a> {
    /// What the air does to the crop, day by day.
    #[must_use]
    pub fn new(crop: &'a Crop, air: &[DayConditions]) -> Self {
        let pace = DevelopmentRate::of(crop);
        let speeds: Vec<f64> = air.iter().map(|day| pace.rate(day)).collect();
        let relative = |reference: &DayConditions| {
            let reference = pace.rate(reference);
            let speeds = speeds.iter();
            speeds.map(move |speed| development::relative(*speed, reference))
        };
        let hole = reference_conditions(&crop.hole);
        let best = crop.temperature.optimum.get();
        Self {
            crop,
            nursery: PrefixSums::new(relative(&reference_conditions(&crop.nursery))),
            hole: PrefixSums::new(relative(&hole)),
            fruiting: PrefixSums::new(relative(&hole).map(|speed| speed.min(MAX_PICKING_FACTOR))),
            senescence: PrefixSums::new(air.iter().map(|day| senescence_rate(day.mean(), best))),
            light: PrefixSums::new(air.iter().map(|day| day.light)),
            season: DamageTable::new(crop, air),
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
        self.nursery
            .first_day_reaching(sown, self.crop.nursery.days.get())
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
    ) -> Result<PlantLife, Unsuitable> {
        let days = self.hole.days();
        if transplant >= days {
            return Err(Unsuitable::NotInTime);
        }
        let harm = self.season.first_damage(transplant);
        let ripe = self
            .hole
            .first_day_reaching(transplant, self.crop.hole.days.get());
        match (ripe, harm) {
            (None, Some((_, reason))) => return Err(reason),
            (Some(ripe), Some((day, reason))) if day <= ripe => return Err(reason),
            _ => {}
        }
        if self.is_too_dark(transplant, ripe.unwrap_or(days)) {
            return Err(Unsuitable::TooDark);
        }
        let ripe = RipePlant {
            day: ripe.ok_or(Unsuitable::NotInTime)?,
            until: harm.map_or(days, |(day, _)| day),
            grown: &self.hole,
            borne: &self.fruiting,
            spoilt: &self.senescence,
            is_workday,
            weekday: self.weekday,
        };
        let harvests = ripe.harvests(&self.crop.harvest);
        if harvests.ends.is_empty() {
            return Err(self.why_not_harvested(&ripe, harm.map(|(_, reason)| reason)));
        }
        Ok(self.with_daily_series(transplant, ripe.day, harvests))
    }

    fn is_too_dark(&self, transplant: usize, ripe: usize) -> bool {
        #[allow(clippy::cast_precision_loss)]
        let stay = (ripe - transplant).max(1) as f64;
        self.light.sum(transplant..ripe) < self.crop.light.minimum_dli.get() * stay
    }

    /// Why no workday would do: the harm or the end of the air, if the plant would have kept
    /// until then, else that nobody came.
    fn why_not_harvested(&self, ripe: &RipePlant, harm: Option<Unsuitable>) -> Unsuitable {
        let kept_until = match self.crop.harvest {
            Harvest::Head {
                field_holding: holds,
                ..
            }
            | Harvest::Cut {
                field_holding: holds,
                ..
            } => ripe.keeps_until(ripe.day, holds.get()),
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            Harvest::Pick {
                harvest_period: lasts,
                ..
            } => ripe.day + lasts.get() as usize,
        };
        if kept_until < ripe.until {
            Unsuitable::NobodyThere
        } else {
            harm.unwrap_or(Unsuitable::NotInTime)
        }
    }

    /// The life with its development and canopy, day by day.
    fn with_daily_series(&self, transplant: usize, ripe: usize, harvests: Harvests) -> PlantLife {
        let canopy = Canopy::of(&self.crop.size);
        let last = harvests.ends.last().copied().unwrap_or(transplant);
        let cuts: Vec<usize> = harvests.gains.iter().map(|gain| gain.day).collect();
        let development = self.regrowth(transplant, last, &cuts);
        let diameter = development.iter().map(|&d| canopy.diameter(d)).collect();
        PlantLife {
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
    /// the days `cuts`: from 0 to 1 on the way to ripe and on to [`MAX_DEVELOPMENT`]; after a cut, from what
    /// the cut leaves to 1 when due again. Only crops that are cut are set back; days beyond the
    /// air are left out.
    #[must_use]
    pub fn regrowth(&self, transplant: usize, last: usize, cuts: &[usize]) -> Vec<f64> {
        let canopy = Canopy::of(&self.crop.size);
        let (mut since, mut from, mut takes) = (transplant, 0.0, self.crop.hole.days.get());
        (transplant..=last.min(self.hole.days()))
            .map(|day| {
                let now = from + (1.0 - from) * self.hole.sum(since..day) / takes;
                if let Harvest::Cut {
                    residual_canopy: leaves,
                    regrowth_days: between,
                    ..
                } = self.crop.harvest
                    && cuts.contains(&day)
                {
                    since = day;
                    from = canopy.development_at(leaves.get());
                    takes = between.get();
                }
                now.min(MAX_DEVELOPMENT)
            })
            .collect()
    }
}

mod remaining;

pub use remaining::{HarvestHistory, RemainingEnd, RemainingLife};
