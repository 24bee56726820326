//! The air under sky, glass and lamps.

use std::iter::zip;

use chrono::{Datelike, Days, NaiveDate};
use rstest::rstest;
use steadyleaf::garden::place::Cover;
use steadyleaf::nature::air::{DayConditions, DiurnalProfile, growing_conditions};
use steadyleaf::nature::sun;
use steadyleaf::units::{DailyLight, Hours, Share, Temperature, Warming};

use crate::gardens::{COAST, NORTH, SOUTHERN_COAST, TROPICS, garden_at};

const ALL: Share = Share::fraction(1.0);

fn new_year() -> NaiveDate {
    NaiveDate::from_ymd_opt(2027, 1, 1).unwrap()
}

fn year_at(place: &str, cover: &Cover, share: Share) -> Vec<DayConditions> {
    growing_conditions(&garden_at(place).place, cover, share, new_year(), 365)
}

fn means_by_month(air: &[DayConditions], of: impl Fn(&DayConditions) -> f64) -> [f64; 12] {
    let mut sums = [(0.0, 0.0); 12];
    for (day, date) in zip(air, new_year().iter_days()) {
        let (sum, n) = &mut sums[date.month0() as usize];
        *sum += of(day);
        *n += 1.0;
    }
    sums.map(|(sum, n)| sum / n)
}

#[track_caller]
fn close(is: f64, ought: f64, tolerance: f64) {
    assert!(
        (is - ought).abs() <= tolerance,
        "{is} is not {ought} within {tolerance}"
    );
}

#[test]
fn stated_means_come_out_of_the_days() {
    let air = year_at(COAST, &Cover::OpenAir, ALL);
    let coldest = [
        7.0, 8.0, 9.0, 11.0, 14.0, 18.0, 21.0, 21.0, 18.0, 15.0, 10.0, 8.0,
    ];
    let warmest = [
        17.0, 17.0, 20.0, 21.0, 24.0, 28.0, 30.0, 31.0, 28.0, 24.0, 20.0, 17.0,
    ];
    for (is, ought) in zip(means_by_month(&air, |day| day.coldest), coldest) {
        close(is, ought, 1e-9);
    }
    for (is, ought) in zip(means_by_month(&air, |day| day.warmest), warmest) {
        close(is, ought, 1e-9);
    }
}

/// FAO-56 by hand for 15 July at 39.5 north: Ra 40.8 (table 2.6 has 40.8 for 40 degrees), range
/// 8.6 C (July's 9, less for July's being the year's narrowest), Rs = 0.16 x 2.94 x 40.8 = 19.2 MJ, of which 2.0565 mol a MJ.
#[test]
fn light_of_a_july_day() {
    let day = year_at(COAST, &Cover::OpenAir, ALL)[195];
    let range: f64 = day.warmest - day.coldest;
    close(range, 8.6, 0.1);
    close(day.dli, 39.5, 0.3);
    let date = new_year() + Days::new(195);
    close(
        day.day_length,
        sun::day_length(39.5, date, sun::SUNRISE_ALTITUDE_DEGREES),
        0.0,
    );
}

#[test]
fn stated_sunshine_is_used() {
    let with_sun = format!("{COAST}\n    sun: [0, 0, 0, 0, 0, 24, 0, 0, 0, 0, 0, 0]");
    let garden = garden_at(&with_sun);
    let air = growing_conditions(&garden.place, &Cover::OpenAir, ALL, new_year(), 365);
    let sky = |day: usize| sun::extraterrestrial_radiation(39.5, u32::try_from(day).unwrap() + 1);
    // No sun at all leaves a quarter, sun from rise to set three quarters (FAO-56, eq. 35).
    close(air[20].dli, 0.25 * sky(20) * 2.0565, 1e-9);
    close(air[165].dli, 0.75 * sky(165) * 2.0565, 1e-9);
}

#[test]
fn glass_warms_and_shades() {
    let open = year_at(NORTH, &Cover::OpenAir, ALL);
    let glass = Cover::Greenhouse {
        heating_setpoint: Some(Temperature::celsius(10.0)),
        warming: Warming::kelvins(4.0),
        transmittance: Share::fraction(0.7),
    };
    let under_glass = year_at(NORTH, &glass, Share::fraction(0.5));
    for (open, glass) in zip(&open, &under_glass) {
        close(glass.coldest, (open.coldest + 4.0).max(10.0), 1e-12);
        close(glass.warmest, (open.warmest + 4.0).max(10.0), 1e-12);
        close(glass.dli, open.dli * 0.35, 1e-12);
        close(glass.day_length, open.day_length, 0.0);
    }
}

#[test]
fn lamps_make_every_day_the_same() {
    let room = Cover::Indoors {
        day: Temperature::celsius(23.0),
        night: Temperature::celsius(18.0),
        dli: DailyLight::mol(15.0),
        photoperiod: Hours::hours(16.0),
    };
    let air = year_at(NORTH, &room, Share::fraction(0.8));
    assert_eq!(air.len(), 365);
    assert!(air.iter().all(|day| day == &air[0]));
    close(air[0].dli, 12.0, 1e-12);
    close(air[0].day_length, 16.0, 0.0);
    close(air[0].mean(), (23.0 * 16.0 + 18.0 * 8.0) / 24.0, 1e-12);
    assert_eq!(air[0].profile, DiurnalProfile::Lamps { hours: 16.0 });
}

/// Outdoor light as published: 5 to 60 mol over the United States (Korczynski et al. 2002), less
/// only in the north's dark months.
#[rstest]
#[case(COAST, 5.0)]
#[case(SOUTHERN_COAST, 5.0)]
#[case(TROPICS, 5.0)]
#[case(NORTH, 0.0)]
fn days_are_plausible(#[case] place: &str, #[case] least: f64) {
    for day in year_at(place, &Cover::OpenAir, ALL) {
        assert!(day.coldest <= day.warmest);
        assert!((least..=60.0).contains(&day.dli), "{}", day.dli);
        assert!((0.0..=24.0).contains(&day.day_length));
        assert_eq!(day.profile, DiurnalProfile::Sine);
    }
}

/// Half a year on, the southern coast has the northern one's light and days, but for the earth
/// being 3 % nearer the sun in January.
#[test]
fn south_mirrors_north() {
    let north = means_by_month(&year_at(COAST, &Cover::OpenAir, ALL), |day| day.dli);
    let south = means_by_month(&year_at(SOUTHERN_COAST, &Cover::OpenAir, ALL), |day| {
        day.dli
    });
    for month in 0..12 {
        let ratio = south[(month + 6) % 12] / north[month];
        assert!((0.9..1.1).contains(&ratio), "{month}: {ratio}");
    }
}

#[test]
fn no_days_no_air() {
    let place = garden_at(COAST).place;
    assert!(growing_conditions(&place, &Cover::OpenAir, ALL, new_year(), 0).is_empty());
}
