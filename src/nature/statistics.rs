//! How much can be told from so many trials.

use statrs::distribution::{Beta, ContinuousCDF, Normal};

/// Least and most of an interval.
pub type Interval = (f64, f64);

/// The standard normal's quantile that leaves `(1 - level) / 2` above it.
///
/// # Panics
/// If the level is not between 0 and 1.
#[must_use]
pub fn normal_quantile(level: f64) -> f64 {
    assert!(0.0 < level && level < 1.0, "a level lies between 0 and 1");
    let normal = Normal::new(0.0, 1.0).expect("the standard normal exists");
    normal.inverse_cdf(1.0 - (1.0 - level) / 2.0)
}

/// Wilson's interval for a share of which `hits` of `trials` were seen: NIST/SEMATECH e-Handbook
/// of Statistical Methods, 7.2.4.1. All of 0 to 1 where nothing was tried.
#[must_use]
pub fn wilson_interval(hits: u32, trials: u32, level: f64) -> Interval {
    if trials == 0 {
        return (0.0, 1.0);
    }
    let (z, n) = (normal_quantile(level), f64::from(trials));
    let share = f64::from(hits) / n;
    let middle = share + z * z / (2.0 * n);
    let spread = z * (share * (1.0 - share) / n + z * z / (4.0 * n * n)).sqrt();
    let below = 1.0 + z * z / n;
    (
        ((middle - spread) / below).max(0.0),
        ((middle + spread) / below).min(1.0),
    )
}

/// The exact interval of Clopper and Pearson for a share, by quantiles of the beta distribution
/// (NIST/SEMATECH e-Handbook, 7.2.4.2).
///
/// # Panics
/// If there are more hits than trials.
#[must_use]
pub fn clopper_pearson_interval(hits: u32, trials: u32, level: f64) -> Interval {
    assert!(hits <= trials, "no more hits than trials");
    let tail = (1.0 - level) / 2.0;
    let (x, n) = (f64::from(hits), f64::from(trials));
    let least = if hits == 0 {
        0.0
    } else {
        beta_quantile(x, n - x + 1.0, tail)
    };
    let most = if hits == trials {
        1.0
    } else {
        beta_quantile(x + 1.0, n - x, 1.0 - tail)
    };
    (least, most)
}

/// What is known of a share: a beta distribution.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BetaPosterior {
    /// Weight of what came out well.
    pub alpha: f64,
    /// Weight of what did not.
    pub beta: f64,
}

impl BetaPosterior {
    /// Nothing is known: every share is as likely.
    pub const UNIFORM: Self = Self {
        alpha: 1.0,
        beta: 1.0,
    };

    /// A share known as if from so many trials.
    #[must_use]
    pub fn from_mean(share: f64, trials: f64) -> Self {
        Self {
            alpha: share * trials,
            beta: (1.0 - share) * trials,
        }
    }

    /// After so many more trials (the beta distribution's conjugate update: Gelman et al.,
    /// Bayesian Data Analysis, 3rd ed., section 2.4).
    #[must_use]
    pub fn updated(self, hits: u32, trials: u32) -> Self {
        Self {
            alpha: self.alpha + f64::from(hits),
            beta: self.beta + f64::from(trials.saturating_sub(hits)),
        }
    }

    /// Its mean.
    #[must_use]
    pub fn mean(self) -> f64 {
        self.alpha / (self.alpha + self.beta)
    }

    /// The share below which it lies with a given chance.
    ///
    /// # Panics
    /// If a weight is not above 0.
    #[must_use]
    pub fn quantile(self, chance: f64) -> f64 {
        beta_quantile(self.alpha, self.beta, chance)
    }
}

/// The value below which a beta distribution lies with a given chance, by halving until doubles
/// cannot tell the halves apart.
fn beta_quantile(alpha: f64, beta: f64, chance: f64) -> f64 {
    let distribution = Beta::new(alpha, beta).expect("weights are above 0");
    let (mut low, mut high) = (0.0_f64, 1.0_f64);
    for _ in 0..64 {
        let middle = (low + high) / 2.0;
        if distribution.cdf(middle) < chance {
            low = middle;
        } else {
            high = middle;
        }
    }
    (low + high) / 2.0
}

/// A mean drawn towards what was known before.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NormalPosterior {
    /// The estimate.
    pub mean: f64,
    /// Its standard deviation.
    pub sd: f64,
    /// How many observations it rests on.
    pub observations: u32,
}

/// The mean of normal observations with standard deviation `noise`, each saying how far something
/// is from what was expected, when before them it was known to be 0 give or take `spread`: the
/// conjugate normal model (Gelman et al., Bayesian Data Analysis, 3rd ed., section 2.5, eqs.
/// 2.11-2.12). The observations' own mean is drawn to 0 by the factor `n / (n + (noise/spread)²)`.
///
/// # Panics
/// If a standard deviation is not above 0.
#[must_use]
pub fn normal_posterior(observed: &[f64], noise_sd: f64, prior_sd: f64) -> NormalPosterior {
    assert!(noise_sd > 0.0 && prior_sd > 0.0, "deviations are above 0");
    #[allow(clippy::cast_precision_loss)]
    let n = observed.len() as f64;
    let (known, each) = (1.0 / (prior_sd * prior_sd), 1.0 / (noise_sd * noise_sd));
    let precision = known + n * each;
    NormalPosterior {
        mean: observed.iter().sum::<f64>() * each / precision,
        sd: (1.0 / precision).sqrt(),
        observations: u32::try_from(observed.len()).unwrap_or(u32::MAX),
    }
}
