//! From air and light to ripe plants: one plant's life in a hole.

use chrono::{Datelike, NaiveDate};

use crate::garden::crop::{Crop, HarvestHabit};
use crate::nature::air::DayConditions;
use crate::nature::canopy::{Canopy, MAX_DEVELOPMENT};
use crate::nature::development::{self, DevelopmentRate, reference_conditions};
use crate::nature::harvest::{HarvestChain, MAX_FRUITING_RATE, RipePlant, senescence_rate};
use crate::nature::prefix_sums::PrefixSums;
use crate::nature::suitability::DamageTable;

pub use crate::nature::harvest::HarvestUnit;
pub use crate::nature::suitability::Unsuitable;

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
    pub removal_days: Vec<usize>,
    /// Harvested once: only the harvest on the day of removal counts.
    pub is_harvested_once: bool,
    /// Development at the start of each day from transplant to the last end: 0 at transplant,
    /// 1 ripe. Falls back at a cut.
    pub development: Vec<f64>,
    /// Canopy diameter on the same days \[m\].
    pub diameter: Vec<f64>,
}

/// The first day at whose start seeds sown on day `sown` are ready for the rig, in the
/// nursery's air; `None` if that is not within the air.
#[must_use]
pub fn nursery_ready_day(crop: &Crop, air: &[DayConditions], sown: usize) -> Option<usize> {
    GrowthTable::new(crop, air).nursery_ready_day(sown)
}

/// The life of a plant set out on day `transplant`; see [`GrowthTable::plant_life`].
///
/// # Errors
/// Why it would come to nothing.
pub fn plant_life(
    crop: &Crop,
    air: &[DayConditions],
    transplant: usize,
    is_workday: &dyn Fn(usize) -> bool,
) -> Result<PlantLife, Unsuitable> {
    GrowthTable::new(crop, air).plant_life(transplant, is_workday)
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
    damage: DamageTable,
    /// The weekday of the air's first day, counted from Monday.
    weekday: usize,
}

impl<'a> GrowthTable<'a> {
    /// What the air does to the crop, day by day.
    #[must_use]
    pub fn new(crop: &'a Crop, air: &[DayConditions]) -> Self {
        let pace = DevelopmentRate::from_crop(crop);
        let speeds: Vec<f64> = air.iter().map(|day| pace.rate(day)).collect();
        let relative = |reference: &DayConditions| {
            let reference = pace.rate(reference);
            let speeds = speeds.iter();
            speeds.map(move |speed| development::rate_ratio(*speed, reference))
        };
        let hole = reference_conditions(&crop.hole);
        let best = crop.temperature.optimum.get();
        Self {
            crop,
            nursery: PrefixSums::new(relative(&reference_conditions(&crop.nursery))),
            hole: PrefixSums::new(relative(&hole)),
            fruiting: PrefixSums::new(relative(&hole).map(|speed| speed.min(MAX_FRUITING_RATE))),
            senescence: PrefixSums::new(air.iter().map(|day| senescence_rate(day.mean(), best))),
            light: PrefixSums::new(air.iter().map(|day| day.dli)),
            damage: DamageTable::new(crop, air),
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
    pub fn nursery_ready_day(&self, sown: usize) -> Option<usize> {
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
    pub fn plant_life(
        &self,
        transplant: usize,
        is_workday: &dyn Fn(usize) -> bool,
    ) -> Result<PlantLife, Unsuitable> {
        let days = self.hole.days();
        if transplant >= days {
            return Err(Unsuitable::NotRipeInTime);
        }
        let harm = self.damage.first_damage(transplant);
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
            ripe_day: ripe.ok_or(Unsuitable::NotRipeInTime)?,
            end_day: harm.map_or(days, |(day, _)| day),
            growth: &self.hole,
            fruiting: &self.fruiting,
            senescence: &self.senescence,
            is_workday,
            weekday: self.weekday,
        };
        let harvests = ripe.harvests(&self.crop.harvest);
        if harvests.removal_days.is_empty() {
            return Err(self.no_harvest_reason(&ripe, harm.map(|(_, reason)| reason)));
        }
        Ok(self.with_daily_series(transplant, ripe.ripe_day, harvests))
    }

    fn is_too_dark(&self, transplant: usize, ripe: usize) -> bool {
        #[allow(clippy::cast_precision_loss)]
        let stay = (ripe - transplant).max(1) as f64;
        self.light.sum(transplant..ripe) < self.crop.light.minimum_dli.get() * stay
    }

    /// Why no workday would do: the harm or the end of the air, if the plant would have kept
    /// until then, else that nobody came.
    fn no_harvest_reason(&self, ripe: &RipePlant, harm: Option<Unsuitable>) -> Unsuitable {
        let kept_until = match self.crop.harvest {
            HarvestHabit::Head {
                field_holding: holds,
                ..
            }
            | HarvestHabit::Cut {
                field_holding: holds,
                ..
            } => ripe.last_day_of_holding(ripe.ripe_day, holds.get()),
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            HarvestHabit::Pick {
                harvest_period: lasts,
                ..
            } => ripe.ripe_day + lasts.get() as usize,
        };
        if kept_until < ripe.end_day {
            Unsuitable::NoWorkday
        } else {
            harm.unwrap_or(Unsuitable::NotRipeInTime)
        }
    }

    /// The life with its development and canopy, day by day.
    fn with_daily_series(
        &self,
        transplant: usize,
        ripe: usize,
        harvests: HarvestChain,
    ) -> PlantLife {
        let canopy = Canopy::from_size(&self.crop.size);
        let last = harvests.removal_days.last().copied().unwrap_or(transplant);
        let cuts: Vec<usize> = harvests.harvests.iter().map(|gain| gain.day).collect();
        let development = self.development_series(transplant, last, &cuts);
        let diameter = development.iter().map(|&d| canopy.diameter(d)).collect();
        PlantLife {
            transplant,
            ripe,
            harvests: harvests.harvests,
            removal_days: harvests.removal_days,
            is_harvested_once: matches!(self.crop.harvest, HarvestHabit::Head { .. }),
            development,
            diameter,
        }
    }

    /// Development at the start of each day from transplant to `last`, of a plant that is cut on
    /// the days `cuts`: from 0 to 1 on the way to ripe and on to [`MAX_DEVELOPMENT`]; after a cut, from what
    /// the cut leaves to 1 when due again. Only crops that are cut are set back; days beyond the
    /// air are left out.
    #[must_use]
    pub fn development_series(&self, transplant: usize, last: usize, cuts: &[usize]) -> Vec<f64> {
        let canopy = Canopy::from_size(&self.crop.size);
        let (mut since, mut from, mut takes) = (transplant, 0.0, self.crop.hole.days.get());
        (transplant..=last.min(self.hole.days()))
            .map(|day| {
                let now = from + (1.0 - from) * self.hole.sum(since..day) / takes;
                if let HarvestHabit::Cut {
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
