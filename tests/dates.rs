//! Weeks are those of ISO 8601.

use chrono::{Datelike, Days, NaiveDate};
use proptest::prelude::*;
use rstest::rstest;
use steadyleaf::week;

fn date(text: &str) -> NaiveDate {
    text.parse().expect("a date")
}

/// ISO 8601 week dates (recomputed with Python's datetime).
#[rstest]
#[case("2018-12-31", "2019-W01", 1)]
#[case("2020-12-31", "2020-W53", 4)]
#[case("2021-01-03", "2020-W53", 7)]
#[case("2024-12-30", "2025-W01", 1)]
#[case("2026-12-31", "2026-W53", 4)]
#[case("2027-01-03", "2026-W53", 7)]
#[case("2005-01-01", "2004-W53", 6)]
#[case("2028-02-29", "2028-W09", 2)]
fn week_of_a_date(#[case] day: &str, #[case] name: &str, #[case] weekday: i64) {
    let day = date(day);
    assert_eq!(week::name(day), name);
    assert_eq!((day - week::monday(day)).num_days() + 1, weekday);
}

/// A week belongs to the month of its Thursday, as it belongs to the year of it (ISO 8601): most of
/// its days are there.
#[rstest]
#[case("2027-03-29", "2027-04")]
#[case("2027-04-26", "2027-04")]
#[case("2026-12-28", "2026-12")]
#[case("2024-12-30", "2025-01")]
fn month_of_a_week(#[case] monday: &str, #[case] month: &str) {
    let monday = date(monday);
    assert_eq!(week::month(monday), month);
    let days = (0..7).map(|n| (monday + Days::new(n)).format("%Y-%m").to_string());
    assert!(days.filter(|day| day == month).count() > 3);
}

/// A year has 53 weeks when it begins on a Thursday, or on a Wednesday in a leap year (ISO 8601).
#[test]
fn years_of_53_weeks() {
    let long: Vec<i32> = (2000..=2030)
        .filter(|&year| {
            // 28 December is always in the year's last week.
            let last = NaiveDate::from_ymd_opt(year, 12, 28).expect("a date");
            week::name(last).ends_with("W53")
        })
        .collect();
    assert_eq!(long, [2004, 2009, 2015, 2020, 2026]);
}

fn any_day() -> impl Strategy<Value = NaiveDate> {
    (0..36_525_u64).prop_map(|days| date("2000-01-01") + Days::new(days))
}

proptest! {
    #[test]
    fn weeks_count_on_over_the_turn_of_the_year(start in any_day(), day in any_day()) {
        let next = day + Days::new(1);
        let step = week::index(start, next) - week::index(start, day);
        prop_assert_eq!(step, i64::from(next.weekday() == chrono::Weekday::Mon));
        prop_assert_eq!(week::index(start, start), 0);
        prop_assert_eq!(week::index(start, day), -week::index(day, start));
    }

    /// Two days bear the same week's name exactly if they share its Monday.
    #[test]
    fn a_week_has_one_name(day in any_day(), later in 0..400_u64) {
        let other = day + Days::new(later);
        prop_assert_eq!(
            week::name(day) == week::name(other),
            week::monday(day) == week::monday(other)
        );
    }
}
