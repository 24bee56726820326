//! Canopy width against published spacings.

use proptest::prelude::*;
use rstest::rstest;
use steadyleaf::nature::canopy::{Canopy, MAX_DEVELOPMENT};

const LETTUCE: Canopy = Canopy {
    seedling: 0.069,
    spread: 0.175,
};

/// The logistic of Li et al. 2022 (Agronomy 12:860), scaled to 17.5 cm on day 24. Days 10 and 24
/// stand beside published spacings: 81 plants/m2 until ten days after transplant are 11.1 cm
/// apart, the 28 plants/m2 of the time after leave 18.9 (Both, Rutgers floating system).
#[rstest]
#[case(0.0, 6.9)]
#[case(5.0, 9.1)]
#[case(10.0, 11.5)]
#[case(15.0, 14.0)]
#[case(20.0, 16.1)]
#[case(24.0, 17.5)]
#[case(28.0, 18.5)]
fn lettuce_by_day_after_transplant(#[case] day: f64, #[case] centimetres: f64) {
    let diameter = LETTUCE.diameter(day / 24.0) * 100.0;
    assert!((diameter - centimetres).abs() < 0.06, "{diameter}");
}

/// Fast growth in the published curve lies between days 5.6 and 26.2: area must grow fastest on
/// day 15.9, between them.
#[test]
fn area_grows_fastest_in_the_middle() {
    let area = |day: f64| LETTUCE.diameter(day / 24.0).powi(2);
    let growth = |day: f64| area(day + 0.5) - area(day - 0.5);
    assert!(growth(15.9) > growth(14.0) && growth(15.9) > growth(18.0));
    assert!(growth(15.9) > growth(5.6) && growth(15.9) > growth(26.2));
}

#[test]
fn a_held_plant_stops_widening() {
    let at_most = LETTUCE.diameter(MAX_DEVELOPMENT);
    assert!((LETTUCE.diameter(2.0) - at_most).abs() < 1e-12);
    assert!(at_most > LETTUCE.diameter(1.0));
}

#[test]
fn a_plant_that_never_widens() {
    let chives = Canopy {
        seedling: 0.08,
        spread: 0.08,
    };
    assert!((chives.diameter(0.5) - 0.08).abs() < 1e-12);
    assert!(chives.development_at(0.3).abs() < 1e-12);
}

proptest! {
    #[test]
    fn canopy_never_shrinks(
        seedling in 0.01..0.1_f64, more in 0.0..0.5_f64, a in 0.0..1.5_f64, b in 0.0..1.5_f64,
    ) {
        let canopy = Canopy { seedling, spread: seedling + more };
        prop_assert!(canopy.diameter(a.min(b)) <= canopy.diameter(a.max(b)));
        prop_assert!((canopy.diameter(0.0) - seedling).abs() < 1e-12);
        prop_assert!((canopy.diameter(1.0) - seedling - more).abs() < 1e-12);
    }

    /// What a cut leaves is that share of the ripe canopy's area, or the seedling's if more.
    #[test]
    fn a_cut_leaves_its_share(share in 0.0..=1.0_f64) {
        let left = LETTUCE.diameter(LETTUCE.development_at(share)).powi(2);
        let ought = (share * 0.175 * 0.175_f64).max(0.069 * 0.069);
        prop_assert!((left - ought).abs() < 1e-9, "{left} {ought}");
    }
}
