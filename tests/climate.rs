//! Climate: radiation against FAO-56, months kept, records looked up.

use chrono::{Datelike, NaiveDate};
use proptest::prelude::*;
use rstest::rstest;
use steadyleaf::nature::climate::{
    MonthlySeries, WeatherRecord, clear_sky_radiation, radiation_from_range,
    radiation_from_sunshine, range_adjustment,
};

#[track_caller]
fn close(is: f64, ought: f64, tolerance: f64) {
    assert!(
        (is - ought).abs() <= tolerance,
        "{is} is not {ought} within {tolerance}"
    );
}

/// FAO-56 (Allen et al. 1998), example 15 (p. 61) and 20 (p. 78): 26.6 and 14.8 C, inland.
#[test]
fn radiation_from_the_range_of_temperature() {
    let radiation = radiation_from_range(40.55, 14.8, 26.6, range_adjustment(false));
    close(radiation, 22.29, 0.06);
}

/// FAO-56, example 17 (p. 70): Bangkok in April, 8.5 of 12.31 hours, 2 m above the sea; and
/// example 18 (p. 72): Brussels in July, 9.25 of 16.1 hours, 100 m.
#[rstest]
#[case(38.06, 8.5, 12.31, 22.65, 2.0, 28.54)]
#[case(41.09, 9.25, 16.1, 22.07, 100.0, 30.90)]
fn radiation_from_sunshine_and_clear_sky(
    #[case] sky: f64,
    #[case] sunshine: f64,
    #[case] daylight: f64,
    #[case] ground: f64,
    #[case] elevation: f64,
    #[case] clear: f64,
) {
    close(
        radiation_from_sunshine(sky, sunshine, daylight),
        ground,
        0.03,
    );
    close(clear_sky_radiation(sky, elevation), clear, 0.03);
}

#[test]
fn no_daylight_no_radiation() {
    close(radiation_from_sunshine(0.0, 0.0, 0.0), 0.0, 0.0);
    close(radiation_from_range(30.0, 12.0, 12.0, 0.16), 0.0, 0.0);
}

fn days_of(year: i32) -> impl Iterator<Item = NaiveDate> {
    NaiveDate::from_ymd_opt(year, 1, 1)
        .expect("a date")
        .iter_days()
        .take_while(move |day| day.year() == year)
}

fn means_over(course: &MonthlySeries, year: i32) -> [f64; 12] {
    let mut sums = [(0.0, 0.0); 12];
    for day in days_of(year) {
        let (sum, n) = &mut sums[day.month0() as usize];
        *sum += course.on(day);
        *n += 1.0;
    }
    sums.map(|(sum, n)| sum / n)
}

/// A plain course through the means would lose a peak's height; ours rises above the mean in
/// mid-summer and falls below it in mid-winter.
#[test]
fn summer_is_not_flattened() {
    let means = [
        7.0, 8.0, 9.0, 11.0, 14.0, 18.0, 21.0, 21.0, 18.0, 15.0, 10.0, 8.0,
    ];
    let course = MonthlySeries::new(means);
    let warmest = days_of(2027).map(|day| course.on(day)).fold(0.0, f64::max);
    assert!(warmest > 21.2 && warmest < 23.0, "{warmest}");
}

#[test]
fn a_steady_year_stays_steady() {
    let course = MonthlySeries::new([12.5; 12]);
    for day in days_of(2028) {
        close(course.on(day), 12.5, 1e-12);
    }
}

/// One dry month among months of rain: the others must stay at nothing on every day.
#[test]
fn a_lone_peak_does_not_dip_below_nothing() {
    let mut hours = [0.0; 12];
    hours[5] = 9.0;
    let course = MonthlySeries::non_negative(hours);
    for day in days_of(2027) {
        let value = course.on(day);
        if day.month() == 6 {
            assert!(value >= 0.0);
        } else {
            close(value, 0.0, 0.0);
        }
    }
    close(means_over(&course, 2027)[5], 9.0, 1e-9);
}

#[test]
fn no_jump_from_day_to_day() {
    let means = [
        -8.0, -7.0, -2.0, 4.0, 11.0, 15.0, 18.0, 16.0, 11.0, 6.0, 0.0, -5.0,
    ];
    let course = MonthlySeries::new(means);
    let days: Vec<NaiveDate> = days_of(2027)
        .chain(days_of(2028))
        .chain(days_of(2029))
        .collect();
    for pair in days.windows(2) {
        let step = (course.on(pair[1]) - course.on(pair[0])).abs();
        assert!(step < 0.4, "{step} on {}", pair[1]);
    }
}

fn date(text: &str) -> NaiveDate {
    text.parse().expect("a date")
}

/// Every day of 2025 and 2026: coldest the day of the month, and that plus two in 2026.
fn two_years() -> WeatherRecord {
    WeatherRecord::new(days_of(2025).chain(days_of(2026)).map(|day| {
        let coldest = f64::from(day.day()) + if day.year() == 2026 { 2.0 } else { 0.0 };
        (day, coldest, coldest + 10.0)
    }))
}

#[rstest]
#[case::on_record("2025-07-14", 14.0)]
#[case::on_record("2026-07-14", 16.0)]
#[case::mean_of_both_years("2031-07-14", 15.0)]
#[case::leap_day_takes_the_day_before("2028-02-29", 29.0)]
fn weather_record(#[case] day: &str, #[case] coldest: f64) {
    assert_eq!(two_years().on(date(day)), (coldest, coldest + 10.0));
}

#[test]
fn recorded_leap_day_is_used() {
    let record = WeatherRecord::new(days_of(2024).map(|day| {
        let coldest = if day.day() == 29 { 5.0 } else { 1.0 };
        (day, coldest, 20.0)
    }));
    assert_eq!(record.on(date("2028-02-29")), (5.0, 20.0));
}

fn temperatures() -> impl Strategy<Value = [f64; 12]> {
    proptest::array::uniform12(-40.0..40.0_f64)
}

fn ranges() -> impl Strategy<Value = [f64; 12]> {
    // Months without any range among others with a wide one are the hard case.
    proptest::array::uniform12(prop_oneof![Just(0.0), 0.0..25.0_f64])
}

proptest! {
    #[test]
    fn every_month_keeps_its_mean(means in temperatures(), year in 2024..2030_i32) {
        let course = MonthlySeries::new(means);
        for (is, ought) in means_over(&course, year).into_iter().zip(means) {
            prop_assert!((is - ought).abs() < 1e-9, "{is} {ought}");
        }
    }

    #[test]
    fn ranges_keep_their_means_and_are_never_negative(
        means in ranges(), year in 2024..2030_i32,
    ) {
        let course = MonthlySeries::non_negative(means);
        for (is, ought) in means_over(&course, year).into_iter().zip(means) {
            prop_assert!((is - ought).abs() < 1e-9, "{is} {ought}");
        }
        for day in days_of(year) {
            prop_assert!(course.on(day) >= 0.0);
        }
    }

    /// Where nothing has to give way, the course of a difference is the difference of courses:
    /// the warmest of a day is what its own means say.
    #[test]
    fn range_agrees_with_warmest(coldest in temperatures(), range in 12.0..14.0_f64) {
        let warmest = MonthlySeries::new(coldest.map(|t| t + range));
        let (coldest, range) = (MonthlySeries::new(coldest), MonthlySeries::non_negative([range; 12]));
        for day in days_of(2027) {
            prop_assert!((warmest.on(day) - coldest.on(day) - range.on(day)).abs() < 1e-9);
        }
    }
}
