//! Dates, weeks and clock changes: that what we build on does what the standards say.

use chrono::{DateTime, Datelike, Days, Duration, NaiveDate, NaiveDateTime, TimeZone, Utc};
use chrono_tz::Tz;
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

/// The Gregorian rule.
#[rstest]
#[case(2000, true)]
#[case(2100, false)]
#[case(2024, true)]
fn leap_years(#[case] year: i32, #[case] leap: bool) {
    assert_eq!(NaiveDate::from_ymd_opt(year, 2, 29).is_some(), leap);
}

#[rstest]
#[case("2024-02-28", 2, "2024-03-01")]
#[case("2023-12-25", 70, "2024-03-04")]
fn days_later(#[case] from: &str, #[case] days: u64, #[case] to: &str) {
    assert_eq!(date(from) + Days::new(days), date(to));
}

/// From 8 o'clock to 8 o'clock two days later, over a change of the clocks (IANA rules of 2026,
/// recomputed with Python's zoneinfo).
#[rstest]
#[case("Europe/Helsinki", "2026-03-28", 47)]
#[case("America/New_York", "2026-10-31", 49)]
#[case("Asia/Kolkata", "2026-03-28", 48)]
fn hours_between_two_mornings(#[case] zone: Tz, #[case] from: &str, #[case] hours: i64) {
    let from = date(from);
    let morning = |day: NaiveDate| {
        zone.from_local_datetime(&day.and_hms_opt(8, 0, 0).expect("a time"))
            .single()
            .expect("a time that is once")
    };
    let elapsed = morning(from + Days::new(2)) - morning(from);
    assert_eq!(elapsed, Duration::hours(hours));
}

/// Hours at which the clocks change (IANA rules of 2026, recomputed with zoneinfo).
#[rstest]
#[case("Europe/Berlin", ["2026-03-29T01:00:00", "2026-10-25T01:00:00"])]
#[case("America/New_York", ["2026-03-08T07:00:00", "2026-11-01T06:00:00"])]
fn clock_changes(#[case] zone: Tz, #[case] changes: [&str; 2]) {
    let start: DateTime<Utc> = Utc.with_ymd_and_hms(2026, 1, 1, 0, 0, 0).unwrap();
    let local_lead = |hour: i64| {
        let at = start + Duration::hours(hour);
        at.with_timezone(&zone).naive_local() - at.naive_utc()
    };
    let found: Vec<NaiveDateTime> = (1..365 * 24)
        .filter(|&hour| local_lead(hour) != local_lead(hour - 1))
        .map(|hour| (start + Duration::hours(hour)).naive_utc())
        .collect();
    let ought: Vec<NaiveDateTime> = changes.iter().map(|t| t.parse().unwrap()).collect();
    assert_eq!(found, ought);
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
