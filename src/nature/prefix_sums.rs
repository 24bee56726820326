//! Running sums over days, to ask when something is complete.

use std::ops::Range;

/// Sums of so many days that are complete in arithmetic are complete in rounding, too: 24 times
/// a 24th is one.
const ROUNDING_TOLERANCE: f64 = 1.0e-9;

/// Running sums of daily amounts, none negative.
#[derive(Debug, Clone)]
pub(super) struct PrefixSums {
    /// Sum of all days before each day, and of all.
    before: Vec<f64>,
}

impl PrefixSums {
    pub(crate) fn new(daily: impl IntoIterator<Item = f64>) -> Self {
        let mut before = vec![0.0];
        let mut sum = 0.0;
        before.extend(daily.into_iter().map(|amount| {
            sum += amount;
            sum
        }));
        Self { before }
    }

    /// Number of days.
    pub(super) fn days(&self) -> usize {
        self.before.len() - 1
    }

    /// What the days give together.
    pub(super) fn sum(&self, days: Range<usize>) -> f64 {
        self.before[days.end] - self.before[days.start]
    }

    /// The first day at whose start the days since `from` have given `amount`.
    pub(super) fn first_day_reaching(&self, from: usize, amount: f64) -> Option<usize> {
        let goal = self.before.get(from)? + amount - ROUNDING_TOLERANCE;
        let day = from + self.before[from..].partition_point(|&sum| sum < goal);
        (day < self.days()).then_some(day)
    }

    /// The last day at whose start the days since `from` have given no more than `amount`;
    /// the number of days, if they never do.
    pub(super) fn last_day_within(&self, from: usize, amount: f64) -> usize {
        let most = self.before[from] + amount + ROUNDING_TOLERANCE;
        from + self.before[from..].partition_point(|&sum| sum <= most) - 1
    }

    /// The first day from which the days until `until` have given no more than `amount`.
    pub(super) fn window_start(&self, until: usize, amount: f64) -> usize {
        let least = self.before[until] - amount - ROUNDING_TOLERANCE;
        self.before[..=until].partition_point(|&sum| sum < least)
    }
}

#[cfg(test)]
mod tests {
    use super::PrefixSums;

    /// Ten tenths are one, though their rounded sum is a hair less.
    #[test]
    fn rounding_does_not_cost_a_day() {
        let tenths = PrefixSums::new([0.1; 20]);
        assert!(tenths.sum(0..10) < 1.0);
        assert_eq!(tenths.first_day_reaching(0, 1.0), Some(10));
        assert_eq!(tenths.last_day_within(3, 0.7), 10);
        assert_eq!(tenths.window_start(20, 0.7), 13);
    }

    #[test]
    fn what_is_not_reached_in_time_is_not_reached() {
        let days = PrefixSums::new([1.0; 5]);
        assert_eq!(days.days(), 5);
        assert_eq!(days.first_day_reaching(0, 4.0), Some(4));
        assert_eq!(days.first_day_reaching(0, 5.0), None);
        assert_eq!(days.first_day_reaching(7, 1.0), None);
        assert_eq!(days.last_day_within(0, 9.0), 5);
    }
}
