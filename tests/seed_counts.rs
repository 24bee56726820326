//! How many seeds to sow, against values from scipy.

use proptest::prelude::*;
use rstest::rstest;
use steadyleaf::nature::seed::{
    SOWING_CONFIDENCE, cell_sowing_for, cup_sowing_for, min_plants_per_cup, min_seeds,
    plant_probability_from_cell, probability_of_at_least,
};

#[track_caller]
fn close(is: f64, ought: f64, tolerance: f64) {
    assert!(
        (is - ought).abs() <= tolerance,
        "{is} is not {ought} within {tolerance}"
    );
}

/// Upper tail of the binomial distribution (scipy 1.17.1). The last row lies close to the wanted
/// certainty: 0.95023.
#[rstest]
#[case(1, 0.5, 5, 0.96875, 0.9375)]
#[case(1, 0.7, 3, 0.973, 0.91)]
#[case(5, 0.6, 13, 0.96792, 0.94269)]
#[case(10, 0.85, 14, 0.95326, 0.882)]
#[case(12, 0.75, 20, 0.95907, 0.92254)]
#[case(30, 0.95, 34, 0.97408, 0.91919)]
#[case(4, 0.4, 17, 0.95358, 0.93485)]
#[case(3, 0.55, 9, 0.95023, 0.91154)]
fn fewest_seeds(
    #[case] wanted: u32,
    #[case] each: f64,
    #[case] seeds: u32,
    #[case] chance: f64,
    #[case] chance_with_one_less: f64,
) {
    let enough = |n| probability_of_at_least(wanted, n, each);
    assert_eq!(min_seeds(wanted, SOWING_CONFIDENCE, enough), seeds);
    close(enough(seeds), chance, 1e-5);
    close(enough(seeds - 1), chance_with_one_less, 1e-5);
    assert_eq!(
        cup_sowing_for(each, 1, wanted).cells,
        seeds,
        "one plant a cup: one seed a cell"
    );
}

/// One seed that comes up with exactly 95 % is enough, however the 95 % came about.
#[rstest]
#[case(0.95)]
#[case(1.0 - 0.05)]
#[case(0.5 + 0.45)]
#[case(0.95 - f64::EPSILON)]
fn rounding_does_not_decide(#[case] each: f64) {
    assert_eq!(cup_sowing_for(each, 1, 1).cells, 1);
}

#[test]
fn a_chance_truly_short_of_it_is_not_enough() {
    assert_eq!(cup_sowing_for(0.9499, 1, 1).cells, 2);
}

/// A seed in each of 12 cells, or two, at 85 % (independent seeds).
#[rstest]
#[case(2, 0.9775, 0.761_03)]
#[case(1, 0.85, 0.142_24)]
fn cells_that_fill(#[case] seeds_per_cell: u32, #[case] cell: f64, #[case] all: f64) {
    let filled = probability_of_at_least(1, seeds_per_cell, 0.85);
    close(filled, cell, 1e-5);
    close(probability_of_at_least(12, 12, filled), all, 1e-5);
}

/// A cup is good with two thirds of its plants, or about 70 % (common practice, no published
/// source).
#[rstest]
#[case(1, 1)]
#[case(2, 2)]
#[case(3, 2)]
#[case(4, 3)]
#[case(5, 4)]
#[case(6, 4)]
#[case(10, 7)]
#[case(12, 8)]
fn plants_of_a_good_cup(#[case] per_cup: u32, #[case] good: u32) {
    assert_eq!(min_plants_per_cup(per_cup), good);
}

/// Four basil plants a cup, 85 % of which 5 % are lost: five seeds a cell on average make four
/// plants; a cell has three of them or more with 94.8 % (plain summing of binomial terms), so ten
/// cups need 12 cells.
#[test]
fn several_plants_a_cup() {
    let each = 0.85 * 0.95;
    let sowing = cup_sowing_for(each, 4, 10);
    assert_eq!((sowing.cells, sowing.seeds_per_cell), (12, 5));
    assert_eq!(sowing.seeds(), 60);
    close(cell_sowing_for(each, 4).chance, 0.947_68, 1e-5);
    close(
        probability_of_at_least(10, 12, cell_sowing_for(each, 4).chance),
        0.977_93,
        1e-5,
    );
    close(
        probability_of_at_least(10, 11, cell_sowing_for(each, 4).chance),
        0.889_96,
        1e-5,
    );
}

/// A cup of twelve chives does not ask for three cells of seventeen seeds.
#[test]
fn one_cup_of_many_plants_takes_one_cell() {
    let sowing = cup_sowing_for(0.75 * 0.95, 12, 1);
    assert_eq!((sowing.cells, sowing.seeds_per_cell), (1, 17));
}

#[test]
fn nothing_wanted_nothing_sown() {
    assert_eq!(cup_sowing_for(0.85, 1, 0).cells, 0);
}

#[test]
#[should_panic(expected = "some of the seed makes plants")]
fn dead_seed_is_refused() {
    let _ = cup_sowing_for(0.0, 1, 3);
}

proptest! {
    /// The tail against plain summing of the distribution's terms.
    #[test]
    fn tail_is_the_sum_of_its_terms(n in 1..60_u32, k in 0..60_u32, each in 0.01..0.99_f64) {
        let mut term = (1.0 - each).powi(i32::try_from(n).unwrap());
        let mut tail = if k == 0 { term } else { 0.0 };
        for j in 1..=n {
            term *= f64::from(n - j + 1) / f64::from(j) * each / (1.0 - each);
            if j >= k {
                tail += term;
            }
        }
        prop_assert!((probability_of_at_least(k, n, each) - tail).abs() < 1e-9);
    }

    #[test]
    fn more_seeds_never_hurt(k in 1..40_u32, n in 1..80_u32, each in 0.05..1.0_f64) {
        prop_assert!(
            probability_of_at_least(k, n, each) <= probability_of_at_least(k, n + 1, each) + 1e-12
        );
    }

    #[test]
    fn always_enough_and_no_cell_too_many(
        cups in 1..60_u32, per_cup in 1..12_u32, each in 0.2..1.0_f64,
    ) {
        let sowing = cup_sowing_for(each, per_cup, cups);
        let filled = probability_of_at_least(min_plants_per_cup(per_cup), sowing.seeds_per_cell, each);
        let chance = |cells| probability_of_at_least(cups, cells, filled);
        prop_assert!(sowing.cells >= cups);
        prop_assert!(chance(sowing.cells) >= SOWING_CONFIDENCE - 1e-9);
        prop_assert!(sowing.cells == cups || chance(sowing.cells - 1) < SOWING_CONFIDENCE);
    }

    #[test]
    fn what_a_seed_does_follows_from_what_a_cell_does(
        per_cup in 1..12_u32, each in 0.2..0.99_f64,
    ) {
        let cell = cell_sowing_for(each, per_cup);
        prop_assert!((plant_probability_from_cell(cell, per_cup) - each).abs() < 1e-5);
    }
}
