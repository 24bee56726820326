//! The sun against published tables and reference libraries.

use chrono::NaiveDate;
use proptest::prelude::*;
use rstest::rstest;
use steadyleaf::nature::sun::{self, SUNRISE_ALTITUDE_DEGREES};

/// Altitude of the sun's centre when civil twilight begins and ends [degrees].
const CIVIL_TWILIGHT: f64 = -6.0;

fn date(text: &str) -> NaiveDate {
    text.parse().expect("a date")
}

#[track_caller]
fn close(is: f64, ought: f64, tolerance: f64) {
    assert!(
        (is - ought).abs() <= tolerance,
        "{is} is not {ought} within {tolerance}"
    );
}

/// FAO-56 (Allen et al. 1998), table 2.5, pp. 217-218.
#[rstest]
#[case("2023-09-03", 246)]
#[case("2024-03-01", 61)]
#[case("2023-12-31", 365)]
fn day_of_the_year(#[case] day: &str, #[case] number: u32) {
    assert_eq!(sun::day_of_year(date(day)), number);
}

/// FAO-56, examples 8 (p. 47) and 9 (p. 49): 20 degrees south on 3 September.
#[test]
fn worked_example_of_sky_radiation() {
    let latitude = -20.0_f64;
    close(sun::inverse_relative_distance(246), 0.985, 0.0006);
    close(sun::declination(246), 0.120, 0.0006);
    close(
        sun::sunset_hour_angle(latitude.to_radians(), sun::declination(246)),
        1.527,
        0.0006,
    );
    let radiation = sun::extraterrestrial_radiation(latitude, 246);
    close(radiation, 32.2, 0.05);
    // As water that it could evaporate, 0.408 mm a MJ (FAO-56, eq. 20).
    close(0.408 * radiation, 13.1, 0.05);
    close(sun::daylight_hours(latitude, 246), 11.7, 0.05);
}

/// FAO-56, example 20 (p. 78): 45 degrees 43 minutes north on 15 July.
#[test]
fn worked_example_of_sky_radiation_in_the_north() {
    close(
        sun::extraterrestrial_radiation(45.0 + 43.0 / 60.0, 196),
        40.55,
        0.06,
    );
}

/// FAO-56, examples 17 (p. 70, Bangkok) and 18 (p. 72, Brussels; its "16.3" is a misprint for
/// 16.1).
#[rstest]
#[case(13.0 + 44.0 / 60.0, 105, 38.06, 12.31, 0.01)]
#[case(50.0 + 48.0 / 60.0, 187, 41.09, 16.1, 0.05)]
fn worked_examples_of_evaporation(
    #[case] latitude: f64,
    #[case] day: u32,
    #[case] radiation: f64,
    #[case] hours: f64,
    #[case] within: f64,
) {
    close(
        sun::extraterrestrial_radiation(latitude, day),
        radiation,
        0.03,
    );
    close(sun::daylight_hours(latitude, day), hours, within);
}

/// FAO-56, annex 2, table 2.6 (p. 219), the 15th of the month. The table itself is rounded; own
/// sums of all its cells differ by up to 0.11 MJ, hence 0.15.
#[rstest]
#[case(0.0, 15, 36.2)]
#[case(0.0, 166, 33.4)]
#[case(20.0, 74, 34.7)]
#[case(20.0, 258, 35.8)]
#[case(40.0, 15, 15.0)]
#[case(40.0, 105, 34.7)]
#[case(40.0, 196, 40.8)]
#[case(40.0, 288, 22.5)]
#[case(50.0, 46, 14.4)]
#[case(50.0, 166, 41.7)]
#[case(50.0, 319, 10.2)]
#[case(60.0, 74, 16.6)]
#[case(60.0, 166, 41.2)]
#[case(60.0, 349, 2.2)]
#[case(-34.0, 15, 43.4)]
#[case(-34.0, 196, 17.4)]
fn table_of_sky_radiation(#[case] latitude: f64, #[case] day: u32, #[case] radiation: f64) {
    close(
        sun::extraterrestrial_radiation(latitude, day),
        radiation,
        0.15,
    );
}

/// FAO-56, annex 2, table 2.7 (p. 220), the 15th of the month.
#[rstest]
#[case(0.0, 15, 12.0)]
#[case(20.0, 166, 13.2)]
#[case(20.0, 349, 10.8)]
#[case(40.0, 15, 9.5)]
#[case(40.0, 74, 11.7)]
#[case(40.0, 166, 14.8)]
#[case(40.0, 258, 12.2)]
#[case(50.0, 15, 8.3)]
#[case(50.0, 166, 16.1)]
#[case(50.0, 288, 10.4)]
#[case(60.0, 46, 8.8)]
#[case(60.0, 166, 18.4)]
#[case(60.0, 349, 5.6)]
fn table_of_daylight(#[case] latitude: f64, #[case] day: u32, #[case] hours: f64) {
    close(sun::daylight_hours(latitude, day), hours, 0.1);
}

/// FAO-56, eq. 25 held between -1 and 1; table 2.7 prints 24.0 and 0.0 for 70 degrees north.
#[test]
fn midnight_sun_and_polar_night() {
    close(sun::daylight_hours(70.0, 166), 24.0, 0.0);
    close(sun::daylight_hours(70.0, 349), 0.0, 0.0);
    close(sun::extraterrestrial_radiation(70.0, 349), 0.0, 0.0);
    let (june, december) = (date("2025-06-15"), date("2025-12-15"));
    close(
        sun::day_length(70.0, june, SUNRISE_ALTITUDE_DEGREES),
        24.0,
        0.0,
    );
    close(
        sun::day_length(70.0, december, SUNRISE_ALTITUDE_DEGREES),
        0.0,
        0.0,
    );
}

/// Day by NREL's solar position algorithm (Reda and Andreas 2004) as in pvlib 0.16.1, civil
/// twilight by ephem 4.2.1, at Greenwich; the geometric day by FAO-56, eq. 34. The three are
/// different things and must not be mixed.
#[rstest]
#[case(0.0, "2025-03-20", 12.0, 12.109, 12.797)]
#[case(0.0, "2025-06-21", 12.0, 12.123, 12.874)]
#[case(0.0, "2025-12-21", 12.0, 12.125, 12.876)]
#[case(0.0, "2025-05-05", 12.0, 12.115, 12.833)]
#[case(40.0, "2025-03-20", 11.921, 12.148, 13.048)]
#[case(40.0, "2025-06-21", 14.844, 15.017, 16.113)]
#[case(40.0, "2025-12-21", 9.156, 9.328, 10.347)]
#[case(40.0, "2025-05-05", 13.878, 14.063, 15.054)]
#[case(50.0, "2025-03-20", 11.888, 12.178, 13.253)]
#[case(50.0, "2025-06-21", 16.147, 16.372, 17.86)]
#[case(50.0, "2025-12-21", 7.853, 8.073, 9.357)]
#[case(50.0, "2025-05-05", 14.696, 14.931, 16.18)]
#[case(60.0, "2025-03-20", 11.837, 12.231, 13.618)]
#[case(60.0, "2025-06-21", 18.487, 18.869, 22.421)]
#[case(60.0, "2025-12-21", 5.513, 5.87, 7.797)]
#[case(60.0, "2025-05-05", 16.021, 16.36, 18.226)]
fn three_lengths_of_a_day(
    #[case] latitude: f64,
    #[case] day: &str,
    #[case] geometric: f64,
    #[case] sunrise_to_sunset: f64,
    #[case] with_civil_twilight: f64,
) {
    let day = date(day);
    close(
        sun::daylight_hours(latitude, sun::day_of_year(day)),
        geometric,
        0.005,
    );
    close(
        sun::day_length(latitude, day, SUNRISE_ALTITUDE_DEGREES),
        sunrise_to_sunset,
        0.035,
    );
    close(
        sun::day_length(latitude, day, CIVIL_TWILIGHT),
        with_civil_twilight,
        0.06,
    );
}

fn any_day() -> impl Strategy<Value = NaiveDate> {
    (0..36_525_u64).prop_map(|days| date("2000-01-01") + chrono::Days::new(days))
}

proptest! {
    /// North's day is south's night, if a day is the time of the sun's centre above the horizon.
    #[test]
    fn days_mirror_at_the_equator(latitude in -66.0..66.0_f64, day in any_day()) {
        let both = sun::day_length(latitude, day, 0.0) + sun::day_length(-latitude, day, 0.0);
        prop_assert!((both - 24.0).abs() < 1e-9);
    }

    /// Half a year later south has north's day. The earth's path is not quite round, so to
    /// within twenty minutes up to 50 degrees.
    #[test]
    fn seasons_mirror_half_a_year_apart(latitude in 0.0..50.0_f64, day in any_day()) {
        let later = day + chrono::Days::new(183);
        let north = sun::day_length(latitude, day, SUNRISE_ALTITUDE_DEGREES);
        let south = sun::day_length(-latitude, later, SUNRISE_ALTITUDE_DEGREES);
        prop_assert!((north - south).abs() < 20.0 / 60.0, "{north} {south}");
    }

    #[test]
    fn radiation_is_never_negative(latitude in -90.0..=90.0_f64, day in 1..=366_u32) {
        let radiation = sun::extraterrestrial_radiation(latitude, day);
        prop_assert!((0.0..50.0).contains(&radiation), "{radiation}");
        prop_assert!((0.0..=24.0).contains(&sun::daylight_hours(latitude, day)));
    }

    #[test]
    fn day_length_is_a_part_of_the_day(latitude in -90.0..=90.0_f64, day in any_day()) {
        let with_twilight = sun::day_length(latitude, day, CIVIL_TWILIGHT);
        let without = sun::day_length(latitude, day, SUNRISE_ALTITUDE_DEGREES);
        prop_assert!(0.0 <= without && without <= with_twilight && with_twilight <= 24.0);
    }
}
