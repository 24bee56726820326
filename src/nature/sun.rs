//! Where the sun stands: radiation above the air, and length of the day.
//!
//! Two sets of formulas, which must not be mixed. *Radiation* follows FAO Irrigation and
//! Drainage Paper 56 (Allen et al. 1998), eq. 21-25 and 34, so that it agrees with its tables;
//! its day length is that of the sun's centre on a flat horizon without refraction. *Day
//! length* as plants and almanacs know it is from sunrise to sunset, with refraction, and needs
//! a better declination than FAO-56 gives (up to 1.3 degrees off in October): that of Meeus,
//! Astronomical Algorithms (1998), chapter 25, low precision, as in the NOAA solar calculator.

use std::f64::consts::PI;

use chrono::{Datelike, NaiveDate};

/// Solar constant [MJ/m2/min] (FAO-56, eq. 21).
const SOLAR_CONSTANT: f64 = 0.0820;

/// Altitude of the sun's centre at sunrise and sunset \[degrees\]: the upper rim on the horizon,
/// lifted by refraction (the usual definition of almanacs).
pub const SUNRISE_ALTITUDE_DEGREES: f64 = -0.833;

/// Day of the year, 1 on 1 January (FAO-56, table 2.5).
#[must_use]
pub fn day_of_year(date: NaiveDate) -> u32 {
    date.ordinal()
}

/// Inverse relative distance from earth to sun on a day of the year (FAO-56, eq. 23).
#[must_use]
pub fn inverse_relative_distance(day_of_year: u32) -> f64 {
    1.0 + 0.033 * libm::cos(2.0 * PI / 365.0 * f64::from(day_of_year))
}

/// Declination of the sun on a day of the year \[radians\] (FAO-56, eq. 24).
#[must_use]
pub fn declination(day_of_year: u32) -> f64 {
    0.409 * libm::sin(2.0 * PI / 365.0 * f64::from(day_of_year) - 1.39)
}

/// Hour angle of the sun at sunset \[radians\]: 0 where it does not rise, pi where it does not
/// set (FAO-56, eq. 25). Latitude and declination in radians.
#[must_use]
pub fn sunset_hour_angle(latitude: f64, declination: f64) -> f64 {
    libm::acos((-libm::tan(latitude) * libm::tan(declination)).clamp(-1.0, 1.0))
}

/// Radiation of a day above the air, `Ra` [MJ/m2/d] (FAO-56, eq. 21). Latitude in degrees.
#[must_use]
pub fn extraterrestrial_radiation(latitude: f64, day_of_year: u32) -> f64 {
    let latitude = latitude.to_radians();
    let declination = declination(day_of_year);
    let sunset = sunset_hour_angle(latitude, declination);
    let path = sunset * libm::sin(latitude) * libm::sin(declination)
        + libm::cos(latitude) * libm::cos(declination) * libm::sin(sunset);
    let radiation =
        24.0 * 60.0 / PI * SOLAR_CONSTANT * inverse_relative_distance(day_of_year) * path;
    // Where the sun does not rise, rounding may leave a hair below nothing.
    radiation.max(0.0)
}

/// Hours of daylight by FAO-56, `N` \[h\] (eq. 34). Latitude in degrees.
///
/// For radiation only; what a plant sees is [`day_length`].
#[must_use]
pub fn daylight_hours(latitude: f64, day_of_year: u32) -> f64 {
    24.0 / PI * sunset_hour_angle(latitude.to_radians(), declination(day_of_year))
}

/// Hours for which the sun's centre stands above `altitude`, such as [`SUNRISE_ALTITUDE_DEGREES`] \[h\]. Latitude
/// and altitude in degrees.
///
/// The declination is that of noon at Greenwich; elsewhere the length of the same day differs
/// by up to two minutes at 50 degrees of latitude, three at 60.
#[must_use]
pub fn day_length(latitude: f64, date: NaiveDate, altitude: f64) -> f64 {
    let noon = SolarPosition::at_julian_centuries(julian_centuries(date, 12.0 * 60.0));
    2.0 * noon.hour_angle(latitude, altitude).to_degrees() / 15.0
}

/// Julian centuries from the epoch J2000.0 to so many minutes after midnight UTC of a date.
fn julian_centuries(date: NaiveDate, minutes: f64) -> f64 {
    // 1 January 2000 is day 730120 of the common era, and J2000.0 its noon.
    let days = f64::from(date.num_days_from_ce() - 730_120) - 0.5 + minutes / 1440.0;
    days / 36_525.0
}

/// Where the sun stands at a moment.
struct SolarPosition {
    /// Declination [radians].
    declination: f64,
}

impl SolarPosition {
    /// The sun's place by Meeus, chapter 25 (low precision, 0.01 degrees), at so many Julian
    /// centuries from J2000.0.
    fn at_julian_centuries(t: f64) -> Self {
        let mean_longitude = (280.466_46 + t * (36_000.769_83 + t * 0.000_303_2)).to_radians();
        let mean_anomaly = (357.529_11 + t * (35_999.050_29 - 0.000_153_7 * t)).to_radians();
        let centre = libm::sin(mean_anomaly) * (1.914_602 - t * (0.004_817 + 0.000_014 * t))
            + libm::sin(2.0 * mean_anomaly) * (0.019_993 - 0.000_101 * t)
            + libm::sin(3.0 * mean_anomaly) * 0.000_289;
        let node = (125.04 - 1934.136 * t).to_radians();
        let longitude =
            mean_longitude + (centre - 0.005_69 - 0.004_78 * libm::sin(node)).to_radians();
        let obliquity = (23.439_291_1 - t * (0.013_004_2 + t * (1.64e-7 - t * 5.04e-7))
            + 0.002_56 * libm::cos(node))
        .to_radians();
        Self {
            declination: libm::asin(libm::sin(obliquity) * libm::sin(longitude)),
        }
    }

    /// Hour angle [radians] at which the sun's centre stands at `altitude` [degrees]: 0 where it
    /// stays below all day, pi where it stays above.
    fn hour_angle(&self, latitude: f64, altitude: f64) -> f64 {
        let latitude = latitude.to_radians();
        let above =
            libm::sin(altitude.to_radians()) - libm::sin(latitude) * libm::sin(self.declination);
        let across = libm::cos(latitude) * libm::cos(self.declination);
        libm::acos((above / across).clamp(-1.0, 1.0))
    }
}
