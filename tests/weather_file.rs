//! The weather file: what it says is what the air outdoors is, and its faults are told where they
//! stand.

use std::fmt::Write;
use std::fs;

use chrono::{Datelike, NaiveDate};
use rstest::rstest;
use steadyleaf::garden::file::read;
use steadyleaf::garden::place::{AirMeans, Climate};
use steadyleaf::garden::{Garden, ReadError};
use steadyleaf::nature::crop_water::reference_evapotranspiration;
use steadyleaf::terminal::check::render_check;
use steadyleaf::units::Share;

/// A garden under the sky, the climate of its place as stated, with a weather file beside it.
fn garden(climate: &str, weather: &str) -> Result<Garden, ReadError> {
    let folder = tempfile::tempdir().unwrap();
    let text = format!(
        "garden: Lantern Court
start: 2027-03-01
place:
  latitude: 39.5
{climate}
loops:
  - loop: roof
    tank: {{ holds: 120 l }}
    banks: [{{ bank: deck, form: level, tubes: 4, length: 1 m }}]
wants: [{{ want: salad heads, from_crops: [butterhead], each_week: 6 heads }}]
"
    );
    fs::write(folder.path().join("garden.yaml"), text).unwrap();
    fs::write(folder.path().join("weather.csv"), weather).unwrap();
    read(folder.path()).map(|loaded| loaded.garden)
}

fn under(weather: &str) -> Result<Garden, ReadError> {
    garden("  weather: weather.csv", weather)
}

/// A weather file of one year: what each day says by its month from 0, or by its date.
fn year(header: &str, day: impl Fn(NaiveDate) -> String) -> String {
    let first = NaiveDate::from_ymd_opt(2025, 1, 1).unwrap();
    let mut text = format!("{header}\n");
    for date in first.iter_days().take(365) {
        writeln!(text, "{date},{}", day(date)).unwrap();
    }
    text
}

fn air(garden: &Garden) -> &AirMeans {
    let Some(Climate::Weather(weather)) = &garden.place.climate else {
        panic!("{:?}", garden.place.climate)
    };
    &weather.air
}

/// Line and message of each fault.
fn told(weather: &str) -> Vec<(usize, String)> {
    let refusal = under(weather).unwrap_err();
    let told = refusal.diagnostics().iter().map(|d| {
        assert_eq!(d.file, "weather.csv");
        (d.position.map_or(0, |p| p.line), d.message.clone())
    });
    told.collect()
}

#[rstest]
fn a_fault_is_told_at_its_line_whatever_the_line_ends(#[values("\n", "\r\n")] end: &str) {
    let mut weather = year("date,coldest,warmest", |_| "5,15".to_owned());
    weather = weather.replace("2025-01-03,5,15", "\n# a cold one\n2025-01-03,cold,15");
    weather = weather.replace("2025-06-04,5,15", "2025-06-04,5,150");
    let lines: Vec<&str> = weather.lines().collect();
    let line_of = |day| 1 + lines.iter().position(|line| line.starts_with(day)).unwrap();
    let expected = [line_of("2025-01-03"), line_of("2025-06-04")];
    let lines = told(&weather.replace('\n', end));
    let lines: Vec<usize> = lines.into_iter().map(|(line, _)| line).collect();
    assert_eq!(lines, expected);
}

#[test]
fn a_fault_is_marked_in_its_own_column() {
    let weather = year("date,coldest,warmest", |_| "5,15".to_owned());
    let weather = weather.replace("2025-01-06,5,15", "2025-01-06, 25 ,  15");
    let refusal = under(&weather).unwrap_err();
    let position = refusal.diagnostics()[0].position.unwrap();
    assert_eq!((position.line, position.column, position.width), (7, 13, 2));
}

#[test]
fn the_air_is_the_mean_of_each_month() {
    // In any order, in any unit, with gaps, and with more than one year.
    let weather = year(
        "wind km/h, date, humidity %, coldest F, sun, warmest",
        |_| String::new(),
    );
    let mut text = weather.lines().next().unwrap().to_owned();
    for line in weather.lines().skip(1) {
        let date: NaiveDate = line.trim_end_matches(',').parse().unwrap();
        let humidity = if date.day().is_multiple_of(2) {
            "70"
        } else {
            ""
        };
        let sun = if date.day() <= 10 { date.month() } else { 12 };
        write!(text, "\n7.2, {date}, {humidity}, 41, {sun}, \"15\"").unwrap();
        write!(
            text,
            "\n3.6, {}, 60, 41, 6, 15",
            date.with_year(2026).unwrap()
        )
        .unwrap();
    }
    let garden = under(&text).unwrap();
    let means = air(&garden);
    for (month, days) in [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]
        .iter()
        .enumerate()
    {
        let days = f64::from(*days);
        let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-9, "{a} is not {b}");
        near(means.wind.unwrap()[month].get(), 1.5);
        let even = (days / 2.0).floor();
        let humidity = (even * 0.7 + days * 0.6) / (even + days);
        near(means.humidity.unwrap()[month].get(), humidity);
        let sun = 10.0 * (month + 1) as f64 + 12.0 * (days - 10.0) + 6.0 * days;
        near(means.sun.unwrap()[month].get(), sun / (2.0 * days));
    }
    let Some(Climate::Weather(weather)) = &garden.place.climate else {
        unreachable!()
    };
    assert_eq!(weather.days.len(), 730);
    let day = weather.days.values().next().unwrap();
    assert!((day.0.get() - 5.0).abs() < 1e-9 && (day.1.get() - 15.0).abs() < 1e-9);
}

#[test]
fn a_file_of_temperatures_alone_knows_nothing_else_of_the_air() {
    let garden = under(&year("date,coldest,warmest", |_| "5,15".to_owned())).unwrap();
    let means = air(&garden);
    assert!(means.humidity.is_none() && means.wind.is_none() && means.sun.is_none());
}

/// A file that says of every day what the climate says of its month is the same climate: over the
/// year plants draw the same water by Penman-Monteith, which a file without air does not give.
#[test]
fn plants_draw_by_the_humidity_wind_and_sun_of_the_file() {
    const COLDEST: [f64; 12] = [7., 8., 9., 11., 14., 18., 21., 21., 18., 15., 10., 8.];
    const WARMEST: [f64; 12] = [17., 17., 20., 21., 24., 28., 30., 31., 28., 24., 20., 17.];
    const HUMIDITY: [f64; 12] = [65., 64., 63., 60., 62., 62., 65., 67., 68., 68., 66., 66.];
    const WIND: [f64; 12] = [3.1, 3.4, 3.5, 3.6, 3.2, 3.0, 3.0, 2.9, 2.8, 2.7, 3.0, 3.2];
    const SUN: [f64; 12] = [5.5, 6.2, 7.0, 7.7, 8.5, 9.3, 10.2, 9.2, 7.9, 6.7, 5.7, 5.0];
    let yearly = |garden: &Garden| -> f64 {
        let first = NaiveDate::from_ymd_opt(2025, 1, 1).unwrap();
        let place = &garden.place;
        reference_evapotranspiration(place, &place.cover, Share::fraction(1.0), first, 365)
            .iter()
            .sum()
    };
    let with_unit = |values: [f64; 12], unit: &str| {
        let values = values.map(|v| format!("{v} {unit}")).to_vec();
        values.join(", ")
    };
    let climate = format!(
        "  climate: {{ coldest: {COLDEST:?}, warmest: {WARMEST:?}, humidity: [{}], wind: [{}], sun: {SUN:?} }}",
        with_unit(HUMIDITY, "%"),
        with_unit(WIND, "m/s"),
    );
    let months = yearly(&garden(&climate, "").unwrap());
    let row = |with_air: bool| {
        move |date: NaiveDate| {
            let m = date.month0() as usize;
            let temperatures = format!("{},{}", COLDEST[m], WARMEST[m]);
            if with_air {
                format!("{temperatures},{},{},{}", HUMIDITY[m], WIND[m], SUN[m])
            } else {
                temperatures
            }
        }
    };
    let file = year("date,coldest,warmest,humidity %,wind m/s,sun", row(true));
    let file = yearly(&under(&file).unwrap());
    let bare = yearly(&under(&year("date,coldest,warmest", row(false))).unwrap());
    assert!(
        (file / months - 1.0).abs() < 0.01,
        "{file:.0} mm, not {months:.0}"
    );
    assert!(
        (bare / months - 1.0).abs() > 0.05,
        "{bare:.0} mm without air, {months:.0} with"
    );
}

#[rstest]
#[case::unit_missing(
    "date,coldest,warmest,wind",
    "5,15,2",
    1,
    "the column `wind` lacks the unit of its numbers"
)]
#[case::unit_unknown(
    "date,coldest,warmest,wind bft",
    "5,15,2",
    1,
    "`bft` is not a unit of this column"
)]
#[case::unknown(
    "date,coldest,warmest,humidty %",
    "5,15,60",
    1,
    "`humidty %` is not a column of a weather file"
)]
#[case::semicolons(
    "date;coldest;warmest",
    "5;15",
    1,
    "`date;coldest;warmest` is not a column of a weather file"
)]
#[case::twice(
    "date,coldest,warmest,sun,sun h",
    "5,15,6,6",
    1,
    "there are two columns `sun`"
)]
#[case::missing(
    "date,coldest,sun",
    "5,6",
    1,
    "the weather file has no column `warmest`"
)]
#[case::too_much(
    "date,coldest,warmest,humidity %",
    "5,15,140",
    2,
    "the relative humidity cannot be 140 %"
)]
#[case::too_windy(
    "date,coldest,warmest,wind km/h",
    "5,15,400",
    2,
    "the mean wind cannot be 400 km/h"
)]
#[case::too_sunny(
    "date,coldest,warmest,sun",
    "5,15,25",
    2,
    "the sunshine of a day cannot be 25 h"
)]
#[case::no_number("date,coldest,warmest,sun", "5,15,lots", 2, "`lots` is not a number")]
#[case::not_finite("date,coldest,warmest,sun", "5,inf,6", 2, "`inf` is not a number")]
#[case::no_warmest("date,coldest,warmest,sun", "5,,6", 2, "this day has no `warmest`")]
#[case::a_column_less(
    "date,coldest,warmest,sun",
    "5,15",
    2,
    "this line has 3 columns, the first line has 4"
)]
#[case::never_known(
    "date,coldest,warmest,sun",
    "5,15,",
    0,
    "no day of January has its `sun` in the weather file"
)]
fn what_is_wrong_with_the_columns_is_told(
    #[case] header: &str,
    #[case] day: &str,
    #[case] line: usize,
    #[case] message: &str,
) {
    let told = told(&year(header, |_| day.to_owned()));
    assert_eq!(told[0], (line, message.to_owned()));
}

#[test]
fn the_check_says_what_was_understood_of_the_air() {
    let told = |weather: &str| render_check(&under(weather).unwrap());
    let bare = told(&year("date,coldest,warmest", |_| "5,15".to_owned()));
    assert!(bare.contains("365 days of a weather file\n"), "{bare}");
    let windy = told(&year("date,coldest,warmest,wind m/s,sun", |_| {
        "5,15,2,6".to_owned()
    }));
    assert!(windy.contains("365 days of a weather file, with wind and sunshine\n"));
}
