//! Speed of growth against published days and weights.

use proptest::prelude::*;
use rstest::rstest;
use steadyleaf::nature::air::{DayConditions, DiurnalProfile};
use steadyleaf::nature::development::{DevelopmentRate, HALF_SATURATION, light_response};
use steadyleaf::nature::temperature::TemperatureResponse;

fn steady(t: f64) -> DayConditions {
    DayConditions::under_lamps(t, t, 17.0, 12.0)
}

fn pace(base: f64, best: f64, limit: f64) -> DevelopmentRate {
    DevelopmentRate {
        temperature: TemperatureResponse {
            base,
            optimum: best,
            maximum: limit,
        },
        target_dli: 17.0,
    }
}

/// Weights of baby leaf after 12 days at 6, 18, 24 and 30 mol/m2/d against those at 12 (a
/// university trial published in the trade, GPN 2019, table 1). Weight grows by compound
/// interest: its logarithm goes with growth. One number a crop, growth over the 12 days in
/// unlimited light, is fitted; the light response must do the rest. It does so within 10 % for the
/// lettuce from which it was derived, but up to 26 % for the others, which answer more steeply to
/// light than we say. For planning that errs on the slow side in bright light only.
#[rstest]
#[case::lettuce([0.55, 1.27, 1.77, 1.95], 0.10)]
#[case::pak_choi([0.46, 1.32, 1.57, 2.22], 0.12)]
#[case::mizuna([0.48, 1.70, 1.98, 2.73], 0.20)]
#[case::collards([0.63, 1.51, 2.03, 2.29], 0.26)]
fn weights_under_more_or_less_light(#[case] published: [f64; 4], #[case] within: f64) {
    let gains = [6.0, 18.0, 24.0, 30.0]
        .map(|light| light_response(light, 17.0) - light_response(12.0, 17.0));
    let product: f64 = gains
        .iter()
        .zip(published)
        .map(|(g, w)| g * libm::log(w))
        .sum();
    let growth = product / gains.iter().map(|g| g * g).sum::<f64>();
    // Seedlings put on a quarter to two fifths of their weight a day at 12 mol: plausible.
    let a_day = growth * light_response(12.0, 17.0) / 12.0;
    assert!((0.25..0.40).contains(&a_day), "{a_day}");
    for (gain, weight) in gains.into_iter().zip(published) {
        let off = libm::exp(growth * gain) / weight - 1.0;
        assert!(off.abs() <= within, "{weight}: {off}");
    }
}

#[test]
fn half_light_gives_half_the_growth() {
    assert!((light_response(HALF_SATURATION * 17.0, 17.0) - 0.5).abs() < 1e-12);
    assert!(light_response(0.0, 17.0).abs() < 1e-12);
    assert!(light_response(0.0, 0.0).abs() < 1e-12);
}

/// Tomato, flower to ripe fruit: 95, 65, 46 and 42 days at 14, 18, 22 and 26 C (Adams, Cockshull
/// and Cave 2001, Annals of Botany 88:869-877), with the days at 22 C as the card's. Cardinals 5,
/// 25 and 35 C. The response is 7 % too slow at 14 C, 7 % too fast at 18 C, 4 % too slow at 26 C.
#[rstest]
#[case(14.0, 95.0, 0.07)]
#[case(18.0, 65.0, 0.08)]
#[case(22.0, 46.0, 1e-9)]
#[case(26.0, 42.0, 0.04)]
fn tomato_fruit(#[case] t: f64, #[case] published: f64, #[case] within: f64) {
    let days = 46.0 / pace(5.0, 25.0, 35.0).relative_rate(&steady(t), &steady(22.0));
    assert!((days / published - 1.0).abs() <= within, "{days}");
}

/// Strawberry, planting to first ripe fruit, from 891 degree days above 2.9 C (Le Miere et al.
/// 1998, Journal of Horticultural Science and Biotechnology 73:786-795, waiting-bed plants): 74,
/// 59, 52 and 47 days at 15, 18, 20 and 22 C, with the days at 18 C as the card's. Cardinals 3, 24
/// and 35 C follow the straight line within 5 %; with the crop's best leaf temperature of 20 C for
/// "best" the response would be a quarter too slow at 22 C.
#[rstest]
#[case(15.0, 74.0)]
#[case(18.0, 59.0)]
#[case(20.0, 52.0)]
#[case(22.0, 47.0)]
fn strawberry_fruit(#[case] t: f64, #[case] published: f64) {
    let days = 59.0 / pace(3.0, 24.0, 35.0).relative_rate(&steady(t), &steady(18.0));
    assert!((days / published - 1.0).abs() <= 0.05, "{days}");
    let with_leaf_optimum =
        59.0 / pace(3.0, 20.0, 30.0).relative_rate(&steady(22.0), &steady(18.0));
    assert!(with_leaf_optimum / 47.0 > 1.2);
}

/// Days to emergence (Harrington and Minges 1954, in Knott's Handbook 1997), whole days, with
/// those at 20 C as the card's. A response made for growth is not one for germination: within two
/// days from 15 to 25 C, but far too slow at 10 C (lettuce 10 for 7 days, cabbage 23 for 15).
#[rstest]
#[case::lettuce(pace(2.8, 24.0, 35.0), 3.0, &[(15.0, 4.0), (25.0, 2.0)], (10.0, 7.0), 3.0)]
#[case::cabbage(pace(4.0, 26.0, 38.0), 6.0, &[(15.0, 9.0), (25.0, 5.0)], (10.0, 15.0), 9.0)]
#[case::onion(pace(2.0, 24.0, 36.0), 5.0, &[(15.0, 7.0), (25.0, 4.0)], (10.0, 13.0), 1.0)]
#[case::spinach(pace(2.0, 20.0, 30.0), 6.0, &[(15.0, 7.0)], (10.0, 12.0), 1.0)]
#[case::tomato(pace(7.0, 28.0, 40.0), 8.0, &[(15.0, 14.0), (25.0, 6.0), (30.0, 6.0)], (10.0, 43.0), 27.0)]
#[case::pepper(pace(8.0, 28.0, 40.0), 13.0, &[(25.0, 8.0), (30.0, 8.0)], (15.0, 25.0), 1.0)]
fn emergence(
    #[case] pace: DevelopmentRate,
    #[case] at_20: f64,
    #[case] rows: &[(f64, f64)],
    #[case] (cold, days_in_cold): (f64, f64),
    #[case] too_slow_by: f64,
) {
    let days = |t: f64| at_20 / pace.relative_rate(&steady(t), &steady(20.0));
    for &(t, published) in rows {
        assert!((days(t) - published).abs() <= 2.0, "{t} C: {}", days(t));
    }
    let off = days(cold) - days_in_cold;
    assert!((0.0..=too_slow_by).contains(&off), "{cold} C: {off}");
}

/// Basil at 27 C weighs 2.06 times what it does at 18 C (herb trial 2014, after some weeks). A
/// ratio of weights is not one of speeds, but the speeds should lie near: 2.2.
#[test]
fn basil_likes_it_warm() {
    let ratio = pace(11.0, 28.0, 38.0).relative_rate(&steady(27.0), &steady(18.0));
    assert!((ratio - 2.06).abs() < 0.2, "{ratio}");
}

fn outdoors(coldest: f64, warmest: f64, light: f64) -> DayConditions {
    DayConditions {
        coldest,
        warmest,
        profile: DiurnalProfile::Sine,
        dli: light,
        day_length: 12.0,
    }
}

proptest! {
    #[test]
    fn more_light_is_never_slower(
        dim in 0.0..60.0_f64, more in 0.0..20.0_f64, wanted in 5.0..30.0_f64,
    ) {
        prop_assert!(light_response(dim, wanted) <= light_response(dim + more, wanted));
        prop_assert!((0.0..1.0).contains(&light_response(dim, wanted)));
    }

    /// A day that is warmer all through and nowhere beyond the best is never slower.
    #[test]
    fn a_warmer_day_is_never_slower(
        coldest in 0.0..20.0_f64, range in 0.0..10.0_f64, warmer in 0.0..5.0_f64,
    ) {
        let pace = pace(4.0, 24.0, 35.0);
        let warmest = (coldest + range).min(24.0);
        let cool = outdoors(coldest, warmest.max(coldest), 17.0);
        let warm = outdoors((coldest + warmer).min(24.0), (warmest + warmer).min(24.0), 17.0);
        prop_assert!(pace.rate(&cool) <= pace.rate(&warm) + 1e-12);
    }

    /// Against itself any air in which something grows has speed one.
    #[test]
    fn every_air_is_its_own_measure(t in 6.0..34.0_f64, light in 0.5..60.0_f64) {
        let air = DayConditions { dli: light, ..steady(t) };
        prop_assert!((pace(4.0, 24.0, 35.0).relative_rate(&air, &air) - 1.0).abs() < 1e-12);
    }
}
