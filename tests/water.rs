//! Evaporation against the worked examples of FAO-56 (Allen et al. 1998).

use proptest::prelude::*;
use steadyleaf::nature::{climate, evapotranspiration, sun};

#[track_caller]
fn close(is: f64, ought: f64, tolerance: f64) {
    assert!(
        (is - ought).abs() <= tolerance,
        "{is} is not {ought} within {tolerance}"
    );
}

/// Example 3, p. 36, eq. 11-12.
#[test]
fn saturated_air() {
    close(evapotranspiration::saturation_pressure(24.5), 3.075, 0.001);
    close(evapotranspiration::saturation_pressure(15.0), 1.705, 0.001);
    close(
        evapotranspiration::mean_saturation_pressure(15.0, 24.5),
        2.39,
        0.001,
    );
}

/// Example 2, p. 32, eq. 7-8.
#[test]
fn thin_air() {
    let pressure = evapotranspiration::air_pressure(1800.0);
    close(pressure, 81.8, 0.06);
    close(
        evapotranspiration::psychrometric_constant(pressure),
        0.054,
        0.0006,
    );
}

/// Example 17, pp. 70-71: Bangkok in April, monthly means. Printed result 5.72.
#[test]
fn month_in_the_tropics() {
    let (latitude, day) = (13.0 + 44.0 / 60.0, 105);
    let (coldest, warmest, vapour) = (25.6, 34.8, 2.85);
    let pressure = evapotranspiration::air_pressure(2.0);
    close(evapotranspiration::saturation_slope(30.2), 0.246, 0.0006);
    close(
        evapotranspiration::psychrometric_constant(pressure),
        0.0674,
        0.0001,
    );
    close(
        evapotranspiration::mean_saturation_pressure(coldest, warmest),
        4.42,
        0.006,
    );
    let sky = sun::extraterrestrial_radiation(latitude, day);
    let ground = climate::radiation_from_sunshine(sky, 8.5, sun::daylight_hours(latitude, day));
    let clear = climate::clear_sky_radiation(sky, 2.0);
    close(ground, 22.65, 0.03);
    close(clear, 28.54, 0.03);
    close(evapotranspiration::net_shortwave(ground), 17.44, 0.03);
    let lost = evapotranspiration::net_longwave(coldest, warmest, vapour, ground, clear);
    close(lost, 3.11, 0.03);
    close(
        evapotranspiration::net_shortwave(ground) - lost,
        14.33,
        0.03,
    );
    // Printed: 0.14 x (30.2 - 29.2), by eq. 44.
    let into_ground = 0.14;
    let evaporation =
        evapotranspiration::penman_monteith(&evapotranspiration::PenmanMonteithInputs {
            coldest,
            warmest,
            vapour_pressure: vapour,
            wind: 2.0,
            net_radiation: evapotranspiration::net_shortwave(ground) - lost - into_ground,
            air_pressure: pressure,
        });
    close(evaporation, 5.72, 0.02);
}

/// Example 18, pp. 72-73: Brussels on 6 July, daily values. Printed result 3.9, 3.88 unrounded.
#[test]
fn day_in_the_north() {
    let (latitude, day) = (50.0 + 48.0 / 60.0, 187);
    let (coldest, warmest) = (12.3, 21.5);
    // Printed: wind at 2 m from that at 10 m (eq. 47), vapour pressure of both humidities (eq. 17).
    let (wind, vapour) = (2.078, 1.409);
    close(
        evapotranspiration::mean_saturation_pressure(coldest, warmest),
        1.997,
        0.002,
    );
    let sky = sun::extraterrestrial_radiation(latitude, day);
    let ground = climate::radiation_from_sunshine(sky, 9.25, sun::daylight_hours(latitude, day));
    let clear = climate::clear_sky_radiation(sky, 100.0);
    close(ground, 22.07, 0.03);
    close(clear, 30.90, 0.03);
    let lost = evapotranspiration::net_longwave(coldest, warmest, vapour, ground, clear);
    close(lost, 3.71, 0.03);
    close(evapotranspiration::net_shortwave(ground), 17.0, 0.03);
    close(
        evapotranspiration::net_shortwave(ground) - lost,
        13.28,
        0.03,
    );
    let evaporation =
        evapotranspiration::penman_monteith(&evapotranspiration::PenmanMonteithInputs {
            coldest,
            warmest,
            vapour_pressure: vapour,
            wind,
            net_radiation: evapotranspiration::net_shortwave(ground) - lost,
            air_pressure: evapotranspiration::air_pressure(100.0),
        });
    close(evaporation, 3.88, 0.02);
}

/// Mehta 2006, worked example as quoted by the tests of PyETo; it takes 35 C for the mean of 38
/// and 28.
#[test]
fn from_temperatures_alone() {
    close(
        evapotranspiration::hargreaves(35.0, 28.0, 38.0, 38.937_15),
        6.1,
        0.1,
    );
}

/// Example 5, eq. 19: of 18 to 25 C and a mean humidity of 68 %.
#[test]
fn vapour_of_the_mean_humidity() {
    let vapour = evapotranspiration::vapour_pressure_from_mean(18.0, 25.0, 0.68);
    close(vapour, 1.78, 0.005);
}

#[test]
fn polar_night_draws_nothing() {
    close(
        evapotranspiration::hargreaves(-15.0, -20.0, -10.0, 0.0),
        0.0,
        0.0,
    );
    assert!(evapotranspiration::net_longwave(-20.0, -10.0, 0.1, 0.0, 0.0) > 0.0);
}

proptest! {
    #[test]
    fn drier_and_sunnier_air_draws_no_less(
        coldest in 0.0..30.0_f64, range in 0.0..20.0_f64, humidity in 0.2..0.9_f64,
        wind in 0.0..8.0_f64, energy in 0.0..20.0_f64, more in 0.0..0.1_f64,
    ) {
        let warmest = coldest + range;
        let day = |humidity: f64, energy: f64| evapotranspiration::penman_monteith(&evapotranspiration::PenmanMonteithInputs {
            coldest,
            warmest,
            vapour_pressure: evapotranspiration::vapour_pressure_from_mean(coldest, warmest, humidity),
            wind,
            net_radiation: energy,
            air_pressure: 101.3,
        });
        prop_assert!(day(humidity + more, energy) <= day(humidity, energy) + 1e-12);
        prop_assert!(day(humidity, energy) <= day(humidity, energy + 10.0 * more) + 1e-12);
    }
}
