//! The air and light that a plant gets, day by day.

use std::f64::consts::PI;

use chrono::{Days, NaiveDate};

use crate::garden::place::{Cover, Place};
use crate::nature::climate::OutdoorClimate;
use crate::nature::{light, sun};
use crate::units::Share;

/// One day of air and light where the plant stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DayConditions {
    /// Coldest of the day \[C\].
    pub coldest: f64,
    /// Warmest of the day \[C\].
    pub warmest: f64,
    /// How the temperature goes between the two.
    pub profile: DiurnalProfile,
    /// Photosynthetic light [mol/m2/d].
    pub dli: f64,
    /// Time from sunrise to sunset, or under lamps \[h\].
    pub day_length: f64,
}

/// The course of a day's temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum DiurnalProfile {
    /// A sine between coldest and warmest.
    Sine,
    /// `warmest` for so many hours under lamps, `coldest` for the rest.
    Lamps {
        /// Hours of lamp light.
        hours: f64,
    },
}

/// Points at which the falling half of a day's sine is looked at; the rising half mirrors it,
/// so these are the 24 hours.
const SAMPLES_PER_DAY: usize = 12;

impl DayConditions {
    /// Air under lamps that burn for so many hours: `day` and `night` \[C\], light [mol/m2/d].
    #[must_use]
    pub fn under_lamps(day: f64, night: f64, dli: f64, hours: f64) -> Self {
        // A room may be kept warmer in the dark.
        let (coldest, warmest, warm_hours) = if day >= night {
            (night, day, hours)
        } else {
            (day, night, 24.0 - hours)
        };
        Self {
            coldest,
            warmest,
            profile: DiurnalProfile::Lamps { hours: warm_hours },
            dli,
            day_length: hours,
        }
    }

    /// Mean temperature of the day \[C\].
    #[must_use]
    pub fn mean(&self) -> f64 {
        let warm = match self.profile {
            DiurnalProfile::Sine => 0.5,
            DiurnalProfile::Lamps { hours } => hours / 24.0,
        };
        self.coldest + (self.warmest - self.coldest) * warm
    }

    /// The day's temperatures \[C\], each with its share of the day; shares sum to 1.
    ///
    /// Out of doors the day is a sine, warmest about 14 h, at the middles of its 24 hours; they
    /// come in equal pairs before and after the warmest, so each pair is given once.
    pub fn temperature_samples(&self) -> impl Iterator<Item = (f64, f64)> + use<> {
        let (coldest, warmest, course) = (self.coldest, self.warmest, self.profile);
        let points = match course {
            DiurnalProfile::Sine => SAMPLES_PER_DAY,
            DiurnalProfile::Lamps { .. } => 2,
        };
        #[allow(clippy::cast_precision_loss)]
        (0..points).map(move |i| match course {
            DiurnalProfile::Sine => {
                let angle = PI * (i as f64 + 0.5) / SAMPLES_PER_DAY as f64;
                let t =
                    f64::midpoint(coldest, warmest) + (warmest - coldest) / 2.0 * libm::cos(angle);
                (t, 1.0 / SAMPLES_PER_DAY as f64)
            }
            DiurnalProfile::Lamps { hours } if i == 0 => (warmest, hours / 24.0),
            DiurnalProfile::Lamps { hours } => (coldest, 1.0 - hours / 24.0),
        })
    }
}

/// The air under a cover at a place, for so many days from `first`; `share` of the cover's light
/// reaches the plants.
///
/// # Panics
/// If the plants stand out of doors or in a greenhouse and the place's climate is not stated.
#[must_use]
pub fn growing_conditions(
    place: &Place,
    cover: &Cover,
    share: Share,
    first: NaiveDate,
    days: usize,
) -> Vec<DayConditions> {
    match *cover {
        Cover::Indoors {
            day,
            night,
            dli: light,
            photoperiod: hours,
        } => {
            let light = light.get() * share.get();
            vec![DayConditions::under_lamps(day.get(), night.get(), light, hours.get()); days]
        }
        Cover::OpenAir => conditions_under_sky(place, &CoverEffect::NONE, share, first, days),
        Cover::Greenhouse {
            heating_setpoint: never_below,
            warming: adds,
            transmittance: light,
        } => {
            let roof = CoverEffect {
                heating_setpoint: never_below.map_or(f64::NEG_INFINITY, |t| t.get()),
                warming: adds.get(),
                transmittance: light.get(),
            };
            conditions_under_sky(place, &roof, share, first, days)
        }
    }
}

/// What a roof does to the weather under it.
struct CoverEffect {
    heating_setpoint: f64,
    warming: f64,
    transmittance: f64,
}

impl CoverEffect {
    const NONE: Self = Self {
        heating_setpoint: f64::NEG_INFINITY,
        warming: 0.0,
        transmittance: 1.0,
    };
}

fn conditions_under_sky(
    place: &Place,
    roof: &CoverEffect,
    share: Share,
    first: NaiveDate,
    days: usize,
) -> Vec<DayConditions> {
    let outdoors = OutdoorClimate::new(place).expect("plants under the sky have a stated climate");
    (0..days as u64)
        .map(|day| {
            let date = first + Days::new(day);
            let weather = outdoors.on(date);
            DayConditions {
                coldest: (weather.coldest + roof.warming).max(roof.heating_setpoint),
                warmest: (weather.warmest + roof.warming).max(roof.heating_setpoint),
                profile: DiurnalProfile::Sine,
                dli: light::daily_light_integral(weather.radiation)
                    * roof.transmittance
                    * share.get(),
                day_length: sun::day_length(place.latitude, date, sun::SUNRISE_ALTITUDE_DEGREES),
            }
        })
        .collect()
}
