//! How wide a plant is, from seedling to ripe and beyond.
//!
//! The area of lettuce seen from above follows a logistic curve of time (Li et al. 2022,
//! Agronomy 12:860: slow until day 5.5, fast until day 26.2, slow after; hence growth 0.128 a day
//! with the middle at day 15.9). Its days are taken as those of a plant that is ripe on day 24,
//! and stretched over any crop's development.

use crate::garden::crop::Size;

/// Growth of the logistic curve over the whole development: 0.128 a day for 24 days.
const LOGISTIC_RATE: f64 = 0.128 * 24.0;
/// Development in the middle of the logistic curve: day 15.9 of 24.
const LOGISTIC_MIDPOINT: f64 = 15.9 / 24.0;

/// Development beyond which a plant that is held gets no wider.
pub const MAX_DEVELOPMENT: f64 = 1.3;

/// Canopy diameter against development.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Canopy {
    /// Diameter at transplant, development 0 \[m\].
    pub seedling: f64,
    /// Diameter when ripe, development 1 \[m\]; not below `seedling`.
    pub spread: f64,
}

impl Canopy {
    /// The canopy of a card's crop.
    #[must_use]
    pub fn from_size(size: &Size) -> Self {
        Self {
            seedling: size.seedling.get(),
            spread: size.spread.get(),
        }
    }

    /// Canopy diameter \[m\] at a development; [`MAX_DEVELOPMENT`] is the most that is grown.
    #[must_use]
    pub fn diameter(&self, development: f64) -> f64 {
        let grown = (logistic(development.clamp(0.0, MAX_DEVELOPMENT)) - logistic(0.0))
            / (logistic(1.0) - logistic(0.0));
        let (young, ripe) = (self.seedling * self.seedling, self.spread * self.spread);
        (young + (ripe - young) * grown).sqrt()
    }

    /// Development, from 0 to 1, at which the canopy covers `share` of its ripe area; 0 if a
    /// seedling covers more.
    #[must_use]
    pub fn development_at(&self, share: f64) -> f64 {
        let (young, ripe) = (self.seedling * self.seedling, self.spread * self.spread);
        if ripe <= young {
            return 0.0;
        }
        let grown = ((share * ripe - young) / (ripe - young)).clamp(0.0, 1.0);
        let height = logistic(0.0) + (logistic(1.0) - logistic(0.0)) * grown;
        (LOGISTIC_MIDPOINT - libm::log(1.0 / height - 1.0) / LOGISTIC_RATE).clamp(0.0, 1.0)
    }
}

fn logistic(development: f64) -> f64 {
    1.0 / (1.0 + libm::exp(-LOGISTIC_RATE * (development - LOGISTIC_MIDPOINT)))
}
