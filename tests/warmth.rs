//! Response to temperature and degree days against published values.

use proptest::prelude::*;
use rstest::rstest;
use steadyleaf::nature::air::{DayConditions, DiurnalProfile};
use steadyleaf::nature::temperature::{TemperatureResponse, growing_degree_days};

#[track_caller]
fn close(is: f64, ought: f64, tolerance: f64) {
    assert!(
        (is - ought).abs() <= tolerance,
        "{is} is not {ought} within {tolerance}"
    );
}

/// Yan and Hunt 1999, Annals of Botany 84:607-614, the equation of the abstract; values computed
/// apart (scipy 1.17.1).
#[rstest]
#[case(10.0, 24.0, 36.0, 0.376_157)]
#[case(15.0, 24.0, 36.0, 0.683_594)]
#[case(20.0, 24.0, 36.0, 0.925_926)]
#[case(24.0, 24.0, 36.0, 1.0)]
#[case(28.0, 24.0, 36.0, 0.907_407)]
#[case(34.0, 24.0, 36.0, 0.334_491)]
#[case(5.0, 20.0, 30.0, 0.15625)]
#[case(15.0, 20.0, 30.0, 0.84375)]
#[case(25.0, 20.0, 30.0, 0.78125)]
#[case(28.0, 20.0, 30.0, 0.392)]
#[case(0.0, 18.0, 28.0, 0.0)]
#[case(18.0, 18.0, 28.0, 1.0)]
#[case(28.0, 18.0, 28.0, 0.0)]
fn two_cardinal_temperatures(
    #[case] t: f64,
    #[case] best: f64,
    #[case] limit: f64,
    #[case] growth: f64,
) {
    let response = TemperatureResponse {
        base: 0.0,
        optimum: best,
        maximum: limit,
    };
    close(response.relative_rate(t), growth, 1e-5);
}

/// The same with a base temperature, computed apart. The form is from memory; its lineage is Yin
/// et al. 1995.
#[rstest]
#[case(12.0, 0.362_887)]
#[case(29.0, 0.261_765)]
fn three_cardinal_temperatures(#[case] t: f64, #[case] growth: f64) {
    let response = TemperatureResponse {
        base: 4.0,
        optimum: 22.0,
        maximum: 30.0,
    };
    close(response.relative_rate(t), growth, 1e-5);
}

/// Tables worked by hand from the equation: maize (0/30/40), lettuce (4/24/35), basil (11/28/38).
#[rstest]
#[case(0.0, 30.0, 40.0, &[(10.0, 0.1111), (15.0, 0.3125), (20.0, 0.5926), (25.0, 0.8681), (30.0, 1.0), (35.0, 0.7940)], 5e-5)]
#[case(4.0, 24.0, 35.0, &[(8.0, 0.132), (10.0, 0.255), (12.0, 0.395), (15.0, 0.613), (18.0, 0.808), (20.0, 0.909), (22.0, 0.976), (26.0, 0.973), (28.0, 0.886), (30.0, 0.732), (32.0, 0.503)], 5e-4)]
#[case(11.0, 28.0, 38.0, &[(12.0, 0.021), (15.0, 0.197), (18.0, 0.443), (20.0, 0.611), (22.0, 0.763), (25.0, 0.935), (32.0, 0.859), (35.0, 0.539)], 5e-4)]
fn worked_tables(
    #[case] base: f64,
    #[case] best: f64,
    #[case] limit: f64,
    #[case] table: &[(f64, f64)],
    #[case] within: f64,
) {
    let response = TemperatureResponse {
        base,
        optimum: best,
        maximum: limit,
    };
    for &(t, growth) in table {
        close(response.relative_rate(t), growth, within);
    }
}

/// McMaster and Wilhelm 1997, Agricultural and Forest Meteorology 87:291-300, method 1: a day counts
/// by its mean.
#[rstest]
#[case(0.0, 20.0, 10.0, 0.0)]
#[case(4.0, 25.0, 10.0, 4.5)]
#[case(12.0, 18.0, 5.0, 10.0)]
#[case(2.0, 8.0, 10.0, 0.0)]
fn degree_days_of_the_mean(
    #[case] coldest: f64,
    #[case] warmest: f64,
    #[case] base: f64,
    #[case] of_mean: f64,
) {
    close(
        growing_degree_days(&[day_of(coldest, warmest)], base),
        of_mean,
        1e-9,
    );
}

/// Harrington and Minges 1954 (Knott's Handbook 1997): days to emergence at 10, 15, 20 and 25 C.
/// Degree days above a base fitted to them (least squares on the rates) stay within 6 to 17 % from
/// row to row, as much as the table's whole days allow: so far a heat sum may be trusted.
#[rstest]
#[case::lettuce(2.8, 47.0, &[(10.0, 7), (15.0, 4), (20.0, 3), (25.0, 2)], 0.14)]
#[case::tomato(7.5, 103.0, &[(10.0, 43), (15.0, 14), (20.0, 8), (25.0, 6)], 0.06)]
#[case::pepper(10.5, 118.0, &[(15.0, 25), (20.0, 13), (25.0, 8)], 0.06)]
#[case::onion(2.4, 90.0, &[(10.0, 13), (15.0, 7), (20.0, 5), (25.0, 4)], 0.12)]
#[case::celery(2.1, 133.0, &[(10.0, 16), (15.0, 12), (20.0, 7)], 0.17)]
#[case::cabbage(2.6, 110.0, &[(10.0, 15), (15.0, 9), (20.0, 6), (25.0, 5)], 0.055)]
fn heat_sum_of_emergence(
    #[case] base: f64,
    #[case] sum: f64,
    #[case] rows: &[(f64, usize)],
    #[case] within: f64,
) {
    for &(t, days) in rows {
        let air = vec![steady(t); days];
        let off = growing_degree_days(&air, base) / sum - 1.0;
        assert!(off.abs() <= within, "{t} C: {off}");
    }
}

fn steady(t: f64) -> DayConditions {
    DayConditions::under_lamps(t, t, 17.0, 14.0)
}

/// The 35 days of the lettuce handbook (Brechner and Both 2013; 24 C by day, 19 at night, 14 h):
/// 766 degree days above 0 C, 626 above 4; the 24 after transplant 526 and 430 (from its mean
/// rounded to 21.9 C, hence two degree days off at the most).
#[test]
fn heat_sum_of_a_lettuce() {
    let cycle = vec![DayConditions::under_lamps(24.0, 19.0, 17.0, 14.0); 35];
    close(growing_degree_days(&cycle, 0.0), 766.0, 2.0);
    close(growing_degree_days(&cycle, 4.0), 626.0, 2.0);
    close(growing_degree_days(&cycle[11..], 0.0), 526.0, 2.0);
    close(growing_degree_days(&cycle[11..], 4.0), 430.0, 2.0);
    close(growing_degree_days(&[steady(3.0)], 4.0), 0.0, 0.0);
}

fn day_of(coldest: f64, warmest: f64) -> DayConditions {
    DayConditions {
        coldest,
        warmest,
        profile: DiurnalProfile::Sine,
        dli: 17.0,
        day_length: 12.0,
    }
}

#[test]
fn a_days_course_has_its_mean_and_its_extremes() {
    for air in [
        day_of(8.0, 22.0),
        DayConditions::under_lamps(24.0, 19.0, 17.0, 14.0),
    ] {
        let weights: f64 = air.temperature_samples().map(|(_, weight)| weight).sum();
        let mean: f64 = air
            .temperature_samples()
            .map(|(t, weight)| t * weight)
            .sum();
        close(weights, 1.0, 1e-12);
        close(mean, air.mean(), 1e-12);
    }
    // At the middles of the hours the sine comes within 1 % of its range of the extremes.
    let warmest = day_of(8.0, 22.0)
        .temperature_samples()
        .map(|(t, _)| t)
        .fold(0.0, f64::max);
    close(warmest, 22.0, 0.14);
}

#[test]
fn a_room_may_be_warmer_in_the_dark() {
    let air = DayConditions::under_lamps(18.0, 22.0, 12.0, 16.0);
    assert!(air.coldest <= air.warmest);
    close(air.mean(), (18.0 * 16.0 + 22.0 * 8.0) / 24.0, 1e-12);
    close(air.day_length, 16.0, 0.0);
}

/// The response bends, so a day that swings round the best temperature is slower than its mean
/// says, and one far below the best is faster.
#[test]
fn swings_are_not_their_mean() {
    let lettuce = TemperatureResponse {
        base: 4.0,
        optimum: 24.0,
        maximum: 35.0,
    };
    assert!(lettuce.daily_mean(&day_of(16.0, 32.0)) < lettuce.relative_rate(24.0) - 0.05);
    assert!(lettuce.daily_mean(&day_of(0.0, 14.0)) > lettuce.relative_rate(7.0) + 0.03);
}

proptest! {
    #[test]
    fn response_is_a_share(
        base in 0.0..10.0_f64, rise in 5.0..25.0_f64, fall in 4.0..15.0_f64, t in -20.0..60.0_f64,
    ) {
        let response = TemperatureResponse { base, optimum: base + rise, maximum: base + rise + fall };
        prop_assert!((0.0..=1.0).contains(&response.relative_rate(t)));
        prop_assert!(response.relative_rate(t) <= response.relative_rate(response.optimum));
    }

    #[test]
    fn warmer_towards_the_best_is_never_slower(
        base in 0.0..10.0_f64, rise in 5.0..25.0_f64, fall in 4.0..15.0_f64,
        a in 0.0..1.0_f64, b in 0.0..1.0_f64,
    ) {
        let response = TemperatureResponse { base, optimum: base + rise, maximum: base + rise + fall };
        let (cooler, warmer) = (a.min(b), a.max(b));
        prop_assert!(response.relative_rate(base + rise * cooler) <= response.relative_rate(base + rise * warmer));
        // And beyond it, hotter is never faster.
        prop_assert!(
            response.relative_rate(response.optimum + fall * warmer)
                <= response.relative_rate(response.optimum + fall * cooler) + 1e-12
        );
    }
}
