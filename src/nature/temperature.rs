//! How growth answers to temperature: the beta response, and the heat sum.

use crate::nature::air::DayConditions;

/// The beta response of Yan and Hunt 1999 with a base temperature: their function of the
/// temperature above the base (the shape of Yin et al. 1995 with fixed curvature).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TemperatureResponse {
    /// No growth at or below \[C\].
    pub base: f64,
    /// Fastest growth \[C\]; above `base`.
    pub optimum: f64,
    /// No growth at or above \[C\]; above `best`.
    pub maximum: f64,
}

impl TemperatureResponse {
    /// Growth at a temperature \[C\], between 0 and 1.
    #[must_use]
    pub fn relative_rate(&self, t: f64) -> f64 {
        if t <= self.base || t >= self.maximum {
            return 0.0;
        }
        let (rise, fall) = (self.optimum - self.base, self.maximum - self.optimum);
        (self.maximum - t) / fall * libm::pow((t - self.base) / rise, rise / fall)
    }

    /// Mean of the response over the course of a day, between 0 and 1.
    #[must_use]
    pub fn daily_mean(&self, air: &DayConditions) -> f64 {
        air.temperature_samples()
            .map(|(t, weight)| weight * self.relative_rate(t))
            .sum()
    }
}

/// Degree days above `base` over days of air, each day by its mean [C d]: what growers call the
/// heat sum (method 1 of McMaster and Wilhelm 1997, Agricultural and Forest Meteorology 87:291-300).
#[must_use]
pub fn growing_degree_days(air: &[DayConditions], base: f64) -> f64 {
    air.iter().map(|day| (day.mean() - base).max(0.0)).sum()
}
