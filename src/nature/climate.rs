//! The weather outdoors, day by day, from monthly means or from a record.
//!
//! Monthly means know of no cold snap and no heatwave: what comes out is the usual year. A record
//! keeps the days that it holds, but other years' days are means as well.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};

use crate::garden::place::{self, Place};
use crate::nature::sun;

/// Share of the sky's radiation that reaches the ground under full cloud (FAO-56, eq. 35).
const OVERCAST_SHARE: f64 = 0.25;
/// What full sunshine adds to that (FAO-56, eq. 35).
const SUNSHINE_SHARE: f64 = 0.50;

/// Radiation on the ground under a clear sky, `Rso` [MJ/m2/d], from that above the air and the
/// elevation \[m\] (FAO-56, eq. 37).
#[must_use]
pub fn clear_sky_radiation(sky: f64, elevation: f64) -> f64 {
    (0.75 + 2.0e-5 * elevation) * sky
}

/// Radiation on the ground, `Rs` [MJ/m2/d], from that above the air and the hours of bright
/// sunshine out of the hours of daylight (Angstrom; FAO-56, eq. 35).
#[must_use]
pub fn radiation_from_sunshine(sky: f64, sunshine: f64, daylight: f64) -> f64 {
    if daylight <= 0.0 {
        return 0.0;
    }
    (OVERCAST_SHARE + SUNSHINE_SHARE * (sunshine / daylight).clamp(0.0, 1.0)) * sky
}

/// Radiation on the ground, `Rs` [MJ/m2/d], from that above the air, the day's range of
/// temperature \[C\] and the adjustment of [`range_adjustment`] (Hargreaves; FAO-56, eq. 50).
#[must_use]
pub fn radiation_from_range(sky: f64, coldest: f64, warmest: f64, adjustment: f64) -> f64 {
    adjustment * (warmest - coldest).max(0.0).sqrt() * sky
}

/// The adjustment `kRs` of FAO-56, eq. 50: near the sea the range tells less of the sun.
#[must_use]
pub const fn range_adjustment(near_sea: bool) -> f64 {
    if near_sea { 0.19 } else { 0.16 }
}

/// A smooth course over the year whose mean over every month is the stated one.
///
/// Straight lines from the turn of the month to its middle and on to the next turn. Mid-month
/// values are moved until the mean over each month's days is what was stated: simply joining
/// the means would flatten summer and winter.
#[derive(Debug, Clone)]
pub struct MonthlySeries {
    ordinary: AnnualCurve,
    leap: AnnualCurve,
}

#[derive(Debug, Clone)]
struct AnnualCurve {
    /// Value in the middle of each month.
    mid_month: [f64; 12],
    /// Value at the end of each month, the beginning of the next.
    month_end: [f64; 12],
}

impl MonthlySeries {
    /// A course with these monthly means, January to December.
    #[must_use]
    pub fn new(means: [f64; 12]) -> Self {
        Self {
            ordinary: AnnualCurve::new(&means, 28, f64::NEG_INFINITY),
            leap: AnnualCurve::new(&means, 29, f64::NEG_INFINITY),
        }
    }

    /// A course with these monthly means, none of them negative, which itself is never negative.
    #[must_use]
    pub fn non_negative(means: [f64; 12]) -> Self {
        Self {
            ordinary: AnnualCurve::new(&means, 28, 0.0),
            leap: AnnualCurve::new(&means, 29, 0.0),
        }
    }

    /// The value on a date.
    #[must_use]
    pub fn on(&self, date: NaiveDate) -> f64 {
        let course = if date.leap_year() {
            &self.leap
        } else {
            &self.ordinary
        };
        let month = date.month0() as usize;
        let length = if month == 1 && date.leap_year() {
            29
        } else {
            MONTH_LENGTHS[month]
        };
        let through = (f64::from(date.day()) - 0.5) / f64::from(length);
        let middle = course.mid_month[month];
        if through < 0.5 {
            let begin = course.month_end[(month + 11) % 12];
            begin + (middle - begin) * 2.0 * through
        } else {
            let end = course.month_end[month];
            middle + (end - middle) * (2.0 * through - 1.0)
        }
    }
}

const MONTH_LENGTHS: [u32; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

impl AnnualCurve {
    fn new(means: &[f64; 12], february: u32, floor: f64) -> Self {
        let weights: [f64; 12] = std::array::from_fn(|m| {
            month_end_weight(if m == 1 { february } else { MONTH_LENGTHS[m] })
        });
        let around = |m: usize| ((m + 11) % 12, (m + 1) % 12);
        let mut middle = *means;
        // Mid-month values whose course has the stated means. Each round at least halves what is
        // still missing (the largest eigenvalue of the step is 0.5), so sixty are exact.
        for _ in 0..60 {
            let missing: [f64; 12] = std::array::from_fn(|m| {
                let (before, after) = around(m);
                let neighbours = f64::midpoint(middle[before], middle[after]);
                means[m] - ((1.0 - weights[m]) * middle[m] + weights[m] * neighbours)
            });
            for m in 0..12 {
                middle[m] += missing[m];
            }
        }
        // Turns that keep both neighbouring middles at or above the floor, however steep.
        let month_end: [f64; 12] = std::array::from_fn(|m| {
            let (_, after) = around(m);
            let joined = f64::midpoint(middle[m], middle[after]);
            if floor == f64::NEG_INFINITY {
                return joined;
            }
            let room = |m: usize| floor + (means[m] - floor) / (2.0 * weights[m]);
            joined.min(room(m)).min(room(after)).max(floor)
        });
        let mid_month = std::array::from_fn(|m| {
            let (before, _) = around(m);
            let exact = (means[m] - weights[m] * (month_end[before] + month_end[m]))
                / (1.0 - 2.0 * weights[m]);
            exact.max(floor)
        });
        Self {
            mid_month,
            month_end,
        }
    }
}

/// Weight of the value at the turn of a month in the mean over the month's days, each taken at
/// its noon: a quarter, a little less in months whose middle falls on a day.
fn month_end_weight(days: u32) -> f64 {
    let n = f64::from(days);
    if days.is_multiple_of(2) {
        0.25
    } else {
        (n * n - 1.0) / (4.0 * n * n)
    }
}

/// One day outdoors.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OutdoorConditions {
    /// Coldest of the day \[C\].
    pub coldest: f64,
    /// Warmest of the day \[C\]; never below `coldest`.
    pub warmest: f64,
    /// Radiation on the ground [MJ/m2/d].
    pub radiation: f64,
}

/// The weather of a place on any date.
#[derive(Debug, Clone)]
pub struct OutdoorClimate {
    latitude: f64,
    elevation: f64,
    adjustment: f64,
    temperatures: TemperatureSource,
    sunshine: Option<MonthlySeries>,
}

impl OutdoorClimate {
    /// The weather of a place; `None` if its climate is not stated.
    #[must_use]
    pub fn new(place: &Place) -> Option<Self> {
        let climate = place.climate.as_ref()?;
        let sunshine = climate.air_means().sun;
        Some(Self {
            latitude: place.latitude,
            elevation: place.elevation.get(),
            adjustment: range_adjustment(place.near_sea),
            temperatures: TemperatureSource::new(climate),
            sunshine: sunshine.map(|hours| MonthlySeries::non_negative(hours.map(|h| h.get()))),
        })
    }

    /// The weather on a date. Hours of sunshine give the radiation where the climate states
    /// them, the range of temperature elsewhere; a clear sky is the most there can be.
    #[must_use]
    pub fn on(&self, date: NaiveDate) -> OutdoorConditions {
        let (coldest, warmest) = self.temperatures.on(date);
        let day = sun::day_of_year(date);
        let sky = sun::extraterrestrial_radiation(self.latitude, day);
        let radiation = match &self.sunshine {
            Some(hours) => radiation_from_sunshine(
                sky,
                hours.on(date),
                sun::daylight_hours(self.latitude, day),
            ),
            None => radiation_from_range(sky, coldest, warmest, self.adjustment),
        };
        OutdoorConditions {
            coldest,
            warmest,
            radiation: radiation.min(clear_sky_radiation(sky, self.elevation)),
        }
    }
}

/// Coldest and warmest of any day.
#[derive(Debug, Clone)]
enum TemperatureSource {
    /// The range is kept apart, never negative, so that no day is coldest above its warmest.
    Months {
        coldest: Box<MonthlySeries>,
        range: Box<MonthlySeries>,
    },
    Observed(WeatherRecord),
}

impl TemperatureSource {
    fn new(climate: &place::Climate) -> Self {
        match climate {
            place::Climate::Months(months) => {
                let coldest = months.coldest.map(|t| t.get());
                let range = std::array::from_fn(|m| months.warmest[m].get() - coldest[m]);
                Self::Months {
                    coldest: Box::new(MonthlySeries::new(coldest)),
                    range: Box::new(MonthlySeries::non_negative(range)),
                }
            }
            place::Climate::Weather(weather) => {
                Self::Observed(WeatherRecord::new(weather.days.iter().map(
                    |(&date, &(coldest, warmest))| (date, coldest.get(), warmest.get()),
                )))
            }
        }
    }

    fn on(&self, date: NaiveDate) -> (f64, f64) {
        match self {
            Self::Months { coldest, range } => {
                let coldest = coldest.on(date);
                (coldest, coldest + range.on(date))
            }
            Self::Observed(record) => record.on(date),
        }
    }
}

/// A weather record, and the mean of every calendar day over its years.
#[derive(Debug, Clone)]
pub struct WeatherRecord {
    days: BTreeMap<NaiveDate, (f64, f64)>,
    /// Means by month and day.
    normals: BTreeMap<(u32, u32), (f64, f64)>,
}

impl WeatherRecord {
    /// A record of dates with their coldest and warmest \[C\]; it must hold every calendar day at
    /// least once, but for 29 February.
    #[must_use]
    pub fn new(days: impl IntoIterator<Item = (NaiveDate, f64, f64)>) -> Self {
        let days: BTreeMap<_, _> = days.into_iter().map(|(d, c, w)| (d, (c, w))).collect();
        let mut sums: BTreeMap<(u32, u32), (f64, f64, f64)> = BTreeMap::new();
        for (date, &(coldest, warmest)) in &days {
            let sum = sums.entry((date.month(), date.day())).or_default();
            *sum = (sum.0 + coldest, sum.1 + warmest, sum.2 + 1.0);
        }
        let normals = sums
            .into_iter()
            .map(|(day, (coldest, warmest, n))| (day, (coldest / n, warmest / n)))
            .collect();
        Self { days, normals }
    }

    /// Coldest and warmest of a date \[C\]: as recorded, else the mean of that calendar day over
    /// the years on record; 29 February takes 28 February's if it was never recorded.
    ///
    /// # Panics
    /// If the record lacks the calendar day.
    #[must_use]
    pub fn on(&self, date: NaiveDate) -> (f64, f64) {
        let usual = |month, day| self.normals.get(&(month, day));
        *self
            .days
            .get(&date)
            .or_else(|| usual(date.month(), date.day()))
            .or_else(|| usual(2, 28).filter(|_| (date.month(), date.day()) == (2, 29)))
            .expect("a weather record holds every calendar day")
    }
}
