//! How growth answers to temperature: the beta response, and degree days.

use super::air::DayAir;

/// Growth at temperature `t`, 1 at `best`, 0 at or below 0 C and at or above `limit` \[C\].
///
/// Yan and Hunt 1999, Annals of Botany 84:607-614, the form of two cardinal temperatures.
#[must_use]
pub fn yan_hunt(t: f64, best: f64, limit: f64) -> f64 {
    Response {
        base: 0.0,
        best,
        limit,
    }
    .at(t)
}

/// The beta response of Yan and Hunt 1999 with a base temperature: their function of the
/// temperature above the base (the shape of Yin et al. 1995 with fixed curvature).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Response {
    /// No growth at or below \[C\].
    pub base: f64,
    /// Fastest growth \[C\]; above `base`.
    pub best: f64,
    /// No growth at or above \[C\]; above `best`.
    pub limit: f64,
}

impl Response {
    /// Growth at a temperature \[C\], between 0 and 1.
    #[must_use]
    pub fn at(&self, t: f64) -> f64 {
        if t <= self.base || t >= self.limit {
            return 0.0;
        }
        let (rise, fall) = (self.best - self.base, self.limit - self.best);
        (self.limit - t) / fall * libm::pow((t - self.base) / rise, rise / fall)
    }

    /// Mean of the response over the course of a day, between 0 and 1.
    #[must_use]
    pub fn over(&self, air: &DayAir) -> f64 {
        air.course().map(|(t, weight)| weight * self.at(t)).sum()
    }
}

/// Degree days of one day from its mean: `max(mean, base) - base`, the mean capped at `upper`.
///
/// Method 1 of McMaster and Wilhelm 1997, Agricultural and Forest Meteorology 87:291-300. Any
/// one unit of temperature.
#[must_use]
pub fn degree_days_of_mean(coldest: f64, warmest: f64, base: f64, upper: Option<f64>) -> f64 {
    let mean = f64::midpoint(coldest, warmest);
    (mean.min(upper.unwrap_or(f64::INFINITY)) - base).max(0.0)
}

/// Degree days of one day from its extremes, each brought between `base` and `upper` first.
///
/// Method 2 of McMaster and Wilhelm 1997; with 50 and 86 F the usual rule for maize.
#[must_use]
pub fn degree_days_of_extremes(coldest: f64, warmest: f64, base: f64, upper: Option<f64>) -> f64 {
    let within = |t: f64| t.min(upper.unwrap_or(f64::INFINITY)).max(base);
    f64::midpoint(within(coldest), within(warmest)) - base
}

/// Degree days of one day whose temperature goes as a sine, with horizontal cutoff at `upper`.
///
/// Baskerville and Emin 1969, Ecology 50:514-517.
#[must_use]
pub fn degree_days_of_sine(coldest: f64, warmest: f64, base: f64, upper: Option<f64>) -> f64 {
    cut_off(
        base,
        upper,
        |threshold| {
            let mean = f64::midpoint(coldest, warmest);
            let half_range = (warmest - coldest) / 2.0;
            let angle = libm::asin((threshold - mean) / half_range);
            ((mean - threshold) * (std::f64::consts::FRAC_PI_2 - angle)
                + half_range * libm::cos(angle))
                / std::f64::consts::PI
        },
        coldest,
        warmest,
    )
}

/// Degree days of one day whose temperature rises and falls in straight lines, with horizontal
/// cutoff at `upper` (the single triangle of the University of California's IPM programme).
#[must_use]
pub fn degree_days_of_triangle(coldest: f64, warmest: f64, base: f64, upper: Option<f64>) -> f64 {
    cut_off(
        base,
        upper,
        |threshold| (warmest - threshold) * (warmest - threshold) / (2.0 * (warmest - coldest)),
        coldest,
        warmest,
    )
}

/// Degree days above `base` less those above `upper`; `crossing` is asked only for thresholds
/// between coldest and warmest.
fn cut_off(
    base: f64,
    upper: Option<f64>,
    crossing: impl Fn(f64) -> f64,
    coldest: f64,
    warmest: f64,
) -> f64 {
    let above = |threshold: f64| {
        if warmest <= threshold {
            0.0
        } else if coldest >= threshold {
            f64::midpoint(coldest, warmest) - threshold
        } else {
            crossing(threshold)
        }
    };
    above(base) - upper.map_or(0.0, above)
}

/// Degree days above `base` over days of air, each day by its mean [C d]: what growers call the
/// heat sum.
#[must_use]
pub fn heat_sum(air: &[DayAir], base: f64) -> f64 {
    air.iter().map(|day| (day.mean() - base).max(0.0)).sum()
}
