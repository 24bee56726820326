//! Where the rig stands: position, shelter and climate as stated.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use chrono_tz::Tz;

use crate::units::{DailyLight, Hours, Length, Share, Temperature, Warming, WindSpeed};

/// Position, shelter and climate.
#[derive(Debug, Clone)]
pub struct Place {
    /// Degrees north of the equator, -90 to 90.
    pub latitude: f64,
    /// Degrees east of Greenwich, -180 to 180, where stated.
    pub longitude: Option<f64>,
    /// Height above the sea.
    pub elevation: Length,
    /// IANA time zone.
    pub timezone: Tz,
    /// On or near the coast, where the air's moisture lets the temperature range tell less of
    /// the sun (FAO-56, eq. 50: adjustment 0.19 instead of 0.16).
    pub near_sea: bool,
    /// What is over the plants.
    pub cover: Cover,
    /// Outdoor temperatures; needed unless the rig stands indoors.
    pub climate: Option<Climate>,
}

/// What is over the plants.
#[derive(Debug, Clone, PartialEq)]
pub enum Cover {
    /// Sky.
    OpenAir,
    /// Glass, film or a cold frame.
    Greenhouse {
        /// A heater keeps it from falling lower.
        heating_setpoint: Option<Temperature>,
        /// By how much it is warmer than outdoors.
        warming: Warming,
        /// Share of the daylight that comes through.
        transmittance: Share,
    },
    /// A room with lamps.
    Indoors {
        /// Temperature while the lamps burn.
        day: Temperature,
        /// Temperature while they do not.
        night: Temperature,
        /// Light a day from the lamps.
        dli: DailyLight,
        /// How long they burn.
        photoperiod: Hours,
    },
}

/// Outdoor temperatures as stated.
#[derive(Debug, Clone)]
#[allow(clippy::large_enum_variant)] // there is one in a garden
pub enum Climate {
    /// Monthly means, January to December.
    Months(MonthlyClimate),
    /// Daily values from a weather file.
    Weather(Weather),
}

/// Monthly means, January to December.
#[derive(Debug, Clone)]
pub struct MonthlyClimate {
    /// Mean of the days' coldest hours.
    pub coldest: [Temperature; 12],
    /// Mean of the days' warmest hours; never below `coldest`.
    pub warmest: [Temperature; 12],
    /// What else is known of the air.
    pub air: AirMeans,
}

/// Daily coldest and warmest temperatures by date; at least one of every calendar day.
#[derive(Debug, Clone)]
pub struct Weather {
    /// Coldest and warmest of each day on record.
    pub days: BTreeMap<NaiveDate, (Temperature, Temperature)>,
    /// What else is known of the air.
    pub air: AirMeans,
}

/// Monthly means of what drives evaporation beside the temperatures, January to December.
#[derive(Debug, Clone, Default)]
pub struct AirMeans {
    /// Mean relative humidity, if known.
    pub humidity: Option<[Share; 12]>,
    /// Mean wind at 2 m, if known.
    pub wind: Option<[WindSpeed; 12]>,
    /// Mean hours of bright sunshine a day, if known.
    pub sun: Option<[Hours; 12]>,
}

impl Climate {
    /// What is known of the air beside its temperatures.
    #[must_use]
    pub const fn air_means(&self) -> &AirMeans {
        match self {
            Self::Months(months) => &months.air,
            Self::Weather(weather) => &weather.air,
        }
    }
}
