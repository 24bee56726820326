//! Intervals and estimates against published values and a reference library.

use rstest::rstest;
use steadyleaf::nature::statistics::{
    BetaPosterior, clopper_pearson_interval, normal_posterior, normal_quantile, wilson_interval,
};

fn near(value: f64, wanted: f64, within: f64) {
    assert!((value - wanted).abs() <= within, "{value} is not {wanted}");
}

/// Wilson: NIST/SEMATECH e-Handbook of Statistical Methods 7.2.4.1, recomputed with statsmodels
/// 0.15.0. Clopper-Pearson and the posterior after a uniform prior (lower end, median, upper end):
/// scipy 1.17.1 and statsmodels 0.15.0.
#[rstest]
#[case(8, 10, (0.49016, 0.94332), (0.4439, 0.97479), [0.48224, 0.76421, 0.93978])]
#[case(45, 50, (0.7864, 0.95652), (0.78186, 0.96672), [0.78586, 0.88955, 0.95558])]
#[case(0, 20, (0.0, 0.16113), (0.0, 0.16843), [0.0012, 0.03247, 0.1611])]
fn shares_are_known_this_well(
    #[case] hits: u32,
    #[case] trials: u32,
    #[case] by_wilson: (f64, f64),
    #[case] exact: (f64, f64),
    #[case] posterior: [f64; 3],
) {
    let (least, most) = wilson_interval(hits, trials, 0.95);
    near(least, by_wilson.0, 1e-4);
    near(most, by_wilson.1, 1e-4);
    let (least, most) = clopper_pearson_interval(hits, trials, 0.95);
    near(least, exact.0, 1e-4);
    near(most, exact.1, 1e-4);
    let known = BetaPosterior::UNIFORM.updated(hits, trials);
    for (chance, wanted) in [0.025, 0.5, 0.975].into_iter().zip(posterior) {
        near(known.quantile(chance), wanted, 1e-4);
    }
}

/// NIST/SEMATECH e-Handbook 7.2.4.2: 4 of 20 at 90 %, limits recomputed with statsmodels 0.15.0.
#[test]
fn the_handbooks_example_of_an_exact_interval() {
    let (least, most) = clopper_pearson_interval(4, 20, 0.9);
    near(least, 0.0714, 1e-4);
    near(most, 0.401, 1e-4);
}

/// 1.959964: any table of the normal distribution.
#[test]
fn the_normal_quantile_of_the_tables() {
    near(normal_quantile(0.95), 1.959_964, 1e-6);
}

/// The posterior mean and deviation found by summing prior times likelihood over a fine grid,
/// which knows nothing of the formula.
#[rstest]
#[case(&[0.12])]
#[case(&[0.12, -0.03, 0.2])]
#[case(&[0.1; 30])]
#[case(&[])]
fn a_mean_is_drawn_to_what_was_known(#[case] observed: &[f64]) {
    let (noise, spread) = (0.2, 0.14);
    let density = |x: f64, mean: f64, sd: f64| (-(x - mean) * (x - mean) / (2.0 * sd * sd)).exp();
    let (mut mass, mut first, mut second) = (0.0, 0.0, 0.0);
    for n in -20_000..=20_000 {
        let m = f64::from(n) * 1e-4;
        let weight = density(m, 0.0, spread)
            * observed
                .iter()
                .map(|&y| density(y, m, noise))
                .product::<f64>();
        mass += weight;
        first += weight * m;
        second += weight * m * m;
    }
    let mean = first / mass;
    let known = normal_posterior(observed, noise, spread);
    near(known.mean, mean, 1e-9);
    near(known.sd, (second / mass - mean * mean).sqrt(), 1e-9);
    assert_eq!(known.observations as usize, observed.len());
}

/// One early harvest does not overturn the card; many do.
#[test]
fn one_is_little_and_many_are_much() {
    let one = normal_posterior(&[-0.2], 0.2, 0.14).mean;
    let many = normal_posterior(&[-0.2; 20], 0.2, 0.14).mean;
    assert!(one > -0.07, "{one}");
    assert!(many < -0.18, "{many}");
}

/// Of a share stated as if from 30 trials, 30 more that all fail leave half.
#[test]
fn a_share_known_is_moved_by_as_many_trials_as_it_rests_on() {
    let known = BetaPosterior::from_mean(0.8, 30.0).updated(0, 30);
    near(known.mean(), 0.4, 1e-12);
}
