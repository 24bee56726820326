//! How fast a plant develops in a day's air, against the steady conditions of its card.

use crate::garden::crop::{Crop, Stage};
use crate::nature::air::DayConditions;
use crate::nature::temperature::TemperatureResponse;

/// Light at which growth is half of what unlimited light gives, as a share of the light that a
/// crop wants.
///
/// Baby lettuce grown for 12 days at 6, 18, 24 and 30 mol/m2/d weighed 0.55, 1.27, 1.77 and 1.95
/// times what it did at 12 (a university trial published in the trade, GPN 2019). Weight grows by
/// compound interest, so the ratio of two weights is `exp(R (f(L) - f(12)))` with `R` the growth
/// over the 12 days in unlimited light. With `f(L) = L / (L + 4)` one `R` (4.5, hence 28 % a day at
/// 12 mol) gives all four ratios within 10 %. Lettuce wants 17 mol (Both et al., 35 treatments):
/// half light is 4/17 of what is wanted. That other crops' half light scales with their wanted
/// light is our assumption.
pub const HALF_SATURATION: f64 = 4.0 / 17.0;

/// Growth in a day's light against unlimited light, between 0 and 1: `L / (L + K)` with `K` the
/// half light, [`HALF_SATURATION`] times the wanted light. Both in mol/m2/d.
#[must_use]
pub fn light_response(light: f64, target_dli: f64) -> f64 {
    if light <= 0.0 {
        return 0.0;
    }
    light / (light + HALF_SATURATION * target_dli)
}

/// How a crop's development answers to air and light, whatever the stage.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DevelopmentRate {
    /// Response to temperature.
    pub temperature: TemperatureResponse,
    /// Light that the crop wants [mol/m2/d].
    pub target_dli: f64,
}

impl DevelopmentRate {
    /// The pace of a card's crop.
    #[must_use]
    pub fn from_crop(crop: &Crop) -> Self {
        Self {
            temperature: TemperatureResponse {
                base: crop.temperature.base.get(),
                optimum: crop.temperature.optimum.get(),
                maximum: crop.temperature.maximum.get(),
            },
            target_dli: crop.light.target_dli.get(),
        }
    }

    /// Speed in a day's air, 1 in unlimited light at the best temperature.
    #[must_use]
    pub fn rate(&self, air: &DayConditions) -> f64 {
        self.temperature.daily_mean(air) * light_response(air.dli, self.target_dli)
    }

    /// Speed in a day's air against that in other air; 0 if nothing grows in the latter.
    #[must_use]
    pub fn relative_rate(&self, air: &DayConditions, reference: &DayConditions) -> f64 {
        rate_ratio(self.rate(air), self.rate(reference))
    }
}

/// A speed against that in other air; 0 if nothing grows there.
#[must_use]
pub fn rate_ratio(rate: f64, reference: f64) -> f64 {
    if reference > 0.0 {
        rate / reference
    } else {
        0.0
    }
}

/// The air in which a stage takes as long as its card says.
#[must_use]
pub fn reference_conditions(stage: &Stage) -> DayConditions {
    DayConditions::under_lamps(
        stage.day.get(),
        stage.night.get(),
        stage.dli.get(),
        stage.photoperiod.get(),
    )
}
