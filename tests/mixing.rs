//! Mixing solutions, and where their EC goes.

use proptest::prelude::*;
use rstest::rstest;
use steadyleaf::garden::crop::SolutionRange;
use steadyleaf::plumbing::ec_drift::{TankSolution, UPTAKE_EC};
use steadyleaf::plumbing::solution::{
    common_band, ec_of_fresh_solution, half_strength_ec, mixed_ec, setpoint, stock_to_mix,
    stock_to_raise, water_to_dilute,
};
use steadyleaf::units::Conductivity;

#[track_caller]
fn close(found: f64, expected: f64, within: f64) {
    assert!(
        (found - expected).abs() <= within,
        "found {found}, expected {expected} within {within}"
    );
}

/// `C1 V1 = C2 V2` on household bleach, 1 % being 10 000 ppm: a US fluid ounce of 5.25 % in a gallon
/// is 410 mg/l (a state health department's page); 1 part in 10 is 5250 ppm (a safety fact sheet);
/// 24.24 ml of 8.25 % make 10 l of 200 ppm.
#[rstest]
#[case(128.0, 410.2, 52_500.0, 1.0)]
#[case(10.0, 5250.0, 52_500.0, 1.0)]
#[case(10.0, 200.0, 82_500.0, 0.024_24)]
fn strength_times_volume(
    #[case] volume: f64,
    #[case] target: f64,
    #[case] stock: f64,
    #[case] needed: f64,
) {
    close(
        stock_to_mix(volume, target, 0.0, stock),
        needed,
        needed * 0.003,
    );
}

/// Blending waters of 2 and 15 to 8: 0.5385 of the first (an irrigation textbook's example, which
/// prints 0.53).
#[test]
fn blending_two_waters() {
    close(mixed_ec(0.5385, 2.0, 1.0 - 0.5385, 15.0), 8.0, 0.0007);
    close(mixed_ec(40.0, 2.4, 10.0, 0.3), 1.98, 1e-6);
}

/// 40 l of 2.4 thinned to 1.8 with water of 0.3: `V (EC - ECt) / (ECt - ECw)` is 16 l.
#[test]
fn thinning() {
    close(water_to_dilute(40.0, 2.4, 1.8, 0.3).unwrap(), 16.0, 1e-6);
    assert_eq!(water_to_dilute(40.0, 1.2, 1.8, 0.3), Some(0.0));
    assert_eq!(water_to_dilute(40.0, 2.4, 0.2, 0.3), None);
}

/// 50 l from 1.2 to 1.8 with a stock of 100 mS/cm: 305.5 ml; 300 where the stock's own volume is
/// left out.
#[test]
fn raising() {
    close(stock_to_raise(50.0, 1.2, 1.8, 100.0) * 1000.0, 305.5, 0.05);
    close(stock_to_raise(50.0, 2.0, 1.8, 100.0), 0.0, 0.0);
    // 50 l at 1.8 from water of 1.2 hold V (1.8 - 1.2) / (100 - 1.2).
    close(stock_to_mix(50.0, 1.8, 1.2, 100.0) * 1000.0, 303.6, 0.05);
}

fn band(ec: (f64, f64), ph: (f64, f64)) -> SolutionRange {
    // A card's solution, taken from a built-in one: the type is not made by hand.
    let cards = steadyleaf::garden::cards::Cards::built_in();
    let mut solution = cards.get("butterhead").expect("a card").solution;
    solution.ec = (
        Conductivity::millisiemens(ec.0),
        Conductivity::millisiemens(ec.1),
    );
    solution.ph = ph;
    solution
}

#[test]
fn crops_share_what_their_bands_have_in_common() {
    let lettuce = band((0.8, 1.6), (5.6, 6.5));
    let basil = band((1.2, 2.0), (5.5, 6.2));
    let tomato = band((2.0, 4.0), (6.0, 6.5));
    let both = common_band([lettuce, basil]).expect("they meet");
    assert_eq!((both.ec.0.get(), both.ec.1.get()), (1.2, 1.6));
    assert_eq!(both.ph, (5.6, 6.2));
    let (ec, ph) = setpoint(&both);
    close(ec, 1.4, 1e-12);
    close(ph, 5.9, 1e-12);
    // They touch in EC, and that is enough; lettuce and tomato do not meet.
    assert!(common_band([basil, tomato]).is_some());
    assert!(common_band([lettuce, tomato]).is_none());
    assert!(common_band([]).is_none());
}

/// 100 l at 1.6 with 0.3 in the tap, all of it drunk and topped up in ten days of 10 l. Ten times
/// 10 l are added at 0.3, and 10 l drunk at 0.66: 1.6 + (0.3 - 0.66) * 100 / 100 = 1.24. With half
/// strength, 0.3 + 1.3 / 2 = 0.95: 1.6 + 0.95 - 0.66 = 1.89.
#[rstest]
#[case(0.3, 1.24)]
#[case(0.95, 1.89)]
fn ec_between_two_changes(#[case] topped_up: f64, #[case] after: f64) {
    close(UPTAKE_EC, 0.66, 0.0);
    close(half_strength_ec(1.6, 0.3), 0.95, 1e-12);
    let mut mixture = TankSolution::new(100_000, Some(1.6));
    for _ in 0..10 {
        mixture.add(10_000, topped_up);
        mixture.consume(10_000, 0);
    }
    close(mixture.ec().unwrap(), after, 0.001);
}

/// 60 l at 2.0: 6 l drunk at 0.66 leave (120 - 3.96) / 54 = 2.149; 6 l evaporated, 120 / 54 = 2.222.
/// Weaker than 0.66, plants take up what there is. Of what nothing is known, nothing is told.
#[rstest]
#[case(Some(2.0), (6_000, 0), Some(2.149))]
#[case(Some(2.0), (0, 6_000), Some(2.222))]
#[case(Some(0.4), (6_000, 0), Some(0.4))]
#[case(None, (6_000, 0), None)]
fn what_is_drunk_takes_salt_along_and_what_evaporates_leaves_it(
    #[case] found: Option<f64>,
    #[case] (drunk, evaporated): (u64, u64),
    #[case] after: Option<f64>,
) {
    let mut mixture = TankSolution::new(60_000, found);
    mixture.consume(drunk, evaporated);
    assert_eq!(mixture.ec().is_some(), after.is_some());
    if let Some((ec, after)) = mixture.ec().zip(after) {
        close(ec, after, 0.001);
    }
}

/// 17 l of 2.2 stay in the tubes and 60 l are filled in: 1.6 - 0.6 * 17 / 60 = 1.43 makes 1.6 of
/// both. 8.5 l of 2.5 and 5 l for 1.7: 1.7 - 0.8 * 8.5 / 5 = 0.34.
#[rstest]
#[case(1.6, (60_000, 17_000), 2.2, 1.43)]
#[case(1.7, (5_000, 8_500), 2.5, 0.34)]
#[case(1.6, (60_000, 0), 2.2, 1.6)]
fn what_is_filled_in_makes_up_for_what_is_left(
    #[case] aim: f64,
    #[case] (fresh, left): (u64, u64),
    #[case] left_ec: f64,
    #[case] expected: f64,
) {
    let ec = ec_of_fresh_solution(aim, (fresh, left), left_ec);
    close(ec, expected, 1e-9);
    let mut mixture = TankSolution::new(left, Some(left_ec));
    mixture.add(fresh, ec);
    close(mixture.ec().unwrap(), aim, 1e-9);
}

proptest! {
    /// What is mixed for an EC has that EC.
    #[test]
    fn stock_gives_what_it_was_reckoned_for(
        litres in 1.0..500.0_f64, source in 0.0..1.0_f64, more in 0.1..3.0_f64, stock in 20.0..300.0_f64,
    ) {
        let target = source + more;
        let part = stock_to_mix(litres, target, source, stock);
        let ec = mixed_ec(part, stock, litres - part, source);
        prop_assert!((ec - target).abs() < 1e-9);
        let part = stock_to_raise(litres, source, target, stock);
        prop_assert!((mixed_ec(part, stock, litres, source) - target).abs() < 1e-9);
    }
}
