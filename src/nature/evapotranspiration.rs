//! How much water the air draws: reference evapotranspiration.
//!
//! FAO Irrigation and Drainage Paper 56 (Allen et al. 1998), daily, for short grass that lacks no
//! water. Equation numbers are that paper's. Temperatures in C, pressures in kPa, radiation in
//! MJ/m2/d, water in mm/d, which is litres a square metre and day.

/// Water that a MJ evaporates [mm] (eq. 20).
const MM_PER_MJ: f64 = 0.408;
/// Share of the radiation that grass does not throw back (eq. 38).
const ONE_MINUS_ALBEDO: f64 = 0.77;
/// Stefan-Boltzmann constant [MJ/K4/m2/d] (eq. 39).
const STEFAN_BOLTZMANN: f64 = 4.903e-9;
/// Freezing point on the absolute scale [K], as eq. 39 has it.
const FREEZING_KELVIN: f64 = 273.16;

/// Vapour pressure of saturated air (eq. 11).
#[must_use]
pub fn saturation_pressure(t: f64) -> f64 {
    0.6108 * libm::exp(17.27 * t / (t + 237.3))
}

/// Mean saturation pressure of a day: of its extremes, not of its mean (eq. 12).
#[must_use]
pub fn mean_saturation_pressure(coldest: f64, warmest: f64) -> f64 {
    f64::midpoint(saturation_pressure(coldest), saturation_pressure(warmest))
}

/// Slope of the saturation pressure against temperature [kPa/C] (eq. 13).
#[must_use]
pub fn saturation_slope(t: f64) -> f64 {
    4098.0 * saturation_pressure(t) / ((t + 237.3) * (t + 237.3))
}

/// Vapour pressure of a day from its mean relative humidity, as a share (eq. 19).
#[must_use]
pub fn vapour_pressure_from_mean(coldest: f64, warmest: f64, humidity: f64) -> f64 {
    humidity * mean_saturation_pressure(coldest, warmest)
}

/// Pressure of the air at an elevation \[m\] (eq. 7).
#[must_use]
pub fn air_pressure(elevation: f64) -> f64 {
    101.3 * libm::pow((293.0 - 0.0065 * elevation) / 293.0, 5.26)
}

/// Psychrometric constant [kPa/C] at a pressure of the air (eq. 8).
#[must_use]
pub fn psychrometric_constant(air_pressure: f64) -> f64 {
    0.665e-3 * air_pressure
}

/// Radiation from the sun that grass keeps (eq. 38).
#[must_use]
pub fn net_shortwave(radiation: f64) -> f64 {
    ONE_MINUS_ALBEDO * radiation
}

/// Heat that the ground loses to the sky (eq. 39), from the day's temperatures, its vapour
/// pressure, and its radiation against that under a clear sky. Where the sun does not rise the
/// sky is taken as clear.
#[must_use]
pub fn net_longwave(
    coldest: f64,
    warmest: f64,
    vapour_pressure: f64,
    radiation: f64,
    clear_sky: f64,
) -> f64 {
    let fourth_power = |t: f64| libm::pow(t + FREEZING_KELVIN, 4.0);
    let glow = STEFAN_BOLTZMANN * f64::midpoint(fourth_power(coldest), fourth_power(warmest));
    let clearness = if clear_sky > 0.0 {
        (radiation / clear_sky).min(1.0)
    } else {
        1.0
    };
    glow * (0.34 - 0.14 * vapour_pressure.sqrt()) * (1.35 * clearness - 0.35)
}

/// What the Penman-Monteith equation asks of a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PenmanMonteithInputs {
    /// Coldest of the day \[C\].
    pub coldest: f64,
    /// Warmest of the day \[C\].
    pub warmest: f64,
    /// Vapour pressure of the air \[kPa\].
    pub vapour_pressure: f64,
    /// Wind at 2 m [m/s].
    pub wind: f64,
    /// Radiation kept, less heat lost to the sky and given to the ground [MJ/m2/d].
    pub net_radiation: f64,
    /// Pressure of the air \[kPa\].
    pub air_pressure: f64,
}

/// Reference evapotranspiration by Penman-Monteith [mm/d], never below nothing (eq. 6).
#[must_use]
pub fn penman_monteith(day: &PenmanMonteithInputs) -> f64 {
    let mean = f64::midpoint(day.coldest, day.warmest);
    let slope = saturation_slope(mean);
    let gamma = psychrometric_constant(day.air_pressure);
    let dryness = mean_saturation_pressure(day.coldest, day.warmest) - day.vapour_pressure;
    let heat = MM_PER_MJ * slope * day.net_radiation;
    let air = gamma * 900.0 / (mean + 273.0) * day.wind * dryness;
    ((heat + air) / (slope + gamma * (1.0 + 0.34 * day.wind))).max(0.0)
}

/// Reference evapotranspiration by Hargreaves [mm/d], never below nothing, where only
/// temperatures are known (eq. 52): the day's mean and extremes, and the radiation above the air.
#[must_use]
pub fn hargreaves(mean: f64, coldest: f64, warmest: f64, sky_radiation: f64) -> f64 {
    let range = (warmest - coldest).max(0.0);
    (0.0023 * (mean + 17.8) * range.sqrt() * MM_PER_MJ * sky_radiation).max(0.0)
}
