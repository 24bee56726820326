//! Numbers with their units: conversions against published factors, and what is printed reads
//! back as what it was.

use proptest::prelude::*;
use rstest::rstest;
use steadyleaf::units::{
    Amount, Conductivity, DailyLight, Days, Flow, Hours, Length, Mass, Measure, ParseError,
    Quantity, Share, Temperature, Units, Volume, Warming, WindSpeed, Years,
};

fn close(got: f64, published: f64, relative: f64) {
    let off = (got - published).abs();
    assert!(
        off <= relative * published.abs().max(1e-12),
        "{got} is not {published}"
    );
}

// NIST Handbook 44 (2023), Appendix C, General Tables of Units of Measurement: the factors in
// bold there are exact.
#[rstest]
#[case("1 in", 0.025_4)]
#[case("1 ft", 0.304_8)]
#[case("36 in", 0.914_4)]
#[case("3/4 in", 0.019_05)]
#[case("1 1/4 in", 0.031_75)]
#[case("100 mm", 0.1)]
#[case("2.5 cm", 0.025)]
#[case("0.9 km", 900.0)]
fn lengths_in_metres(#[case] text: &str, #[case] metres: f64) {
    close(text.parse::<Length>().unwrap().get(), metres, 1e-12);
}

// NIST Handbook 44, Appendix C: the US gallon is 231 cubic inches, 3.785 411 784 l exactly.
#[rstest]
#[case("1 gal", 3.785_411_784)]
#[case("1 gal", 231.0 * 2.54 * 2.54 * 2.54 / 1000.0)]
#[case("20 l", 20.0)]
#[case("750 ml", 0.75)]
#[case("0.2 m3", 200.0)]
fn volumes_in_litres(#[case] text: &str, #[case] litres: f64) {
    close(text.parse::<Volume>().unwrap().get(), litres, 1e-12);
}

// NIST Handbook 44, Appendix C: avoirdupois ounce and pound, exact.
#[rstest]
#[case("1 oz", 28.349_523_125)]
#[case("1 lb", 453.592_37)]
#[case("16 oz", 453.592_37)]
#[case("1.5 kg", 1500.0)]
fn masses_in_grams(#[case] text: &str, #[case] grams: f64) {
    close(text.parse::<Mass>().unwrap().get(), grams, 1e-12);
}

/// As one measures water out.
#[rstest]
#[case(27.5, Units::Metric, "28 l")]
#[case(9.96, Units::Metric, "10 l")]
#[case(4.04, Units::Metric, "4 l")]
#[case(0.26, Units::Metric, "300 ml")]
#[case(27.5, Units::Imperial, "7.3 gal")]
#[case(0.5, Units::Imperial, "0.13 gal")]
fn volumes_rounded(#[case] litres: f64, #[case] units: Units, #[case] told: &str) {
    let rounded = Volume::litres(litres).rounded(units);
    assert_eq!(rounded.in_units(units), told);
}

// NIST SP 811 (2008), Appendix B.8: gallon (US) per minute to cubic metre per second,
// 6.309 020 E-05, seven digits.
#[rstest]
#[case("1 gpm", 6.309_020e-5 * 3600.0 * 1000.0, 1e-6)]
#[case("60 gph", 6.309_020e-5 * 3600.0 * 1000.0, 1e-6)]
#[case("1.5 l/min", 90.0, 1e-12)]
#[case("1000 l/h", 1000.0, 1e-12)]
fn flows_in_litres_an_hour(#[case] text: &str, #[case] litres: f64, #[case] relative: f64) {
    close(text.parse::<Flow>().unwrap().get(), litres, relative);
}

// NIST SP 811, Appendix B.8: t/C = (t/F - 32)/1.8. Water freezes at 32 F and boils at 212 F; at
// -40 the scales meet.
#[rstest]
#[case("32 F", 0.0)]
#[case("212 F", 100.0)]
#[case("-40 F", -40.0)]
#[case("70 °F", 21.111_111_111)]
#[case("21 C", 21.0)]
#[case("-2.5 °C", -2.5)]
fn temperatures_in_celsius(#[case] text: &str, #[case] celsius: f64) {
    let got = text.parse::<Temperature>().unwrap().get();
    assert!((got - celsius).abs() < 1e-9, "{got}");
}

#[test]
fn a_difference_of_temperatures_has_no_offset() {
    assert_eq!("9 F".parse::<Warming>().unwrap().get(), 5.0);
    assert_eq!("3 C".parse::<Warming>().unwrap().get(), 3.0);
}

// NIST SP 811, Appendix B.8: mile per hour 4.4704 E-01 and kilometre per hour 2.777 778 E-01
// metre per second.
#[rstest]
#[case("1 mph", 0.447_04, 1e-12)]
#[case("1 km/h", 0.277_777_8, 1e-6)]
#[case("2 m/s", 2.0, 1e-12)]
fn winds_in_metres_a_second(#[case] text: &str, #[case] speed: f64, #[case] relative: f64) {
    close(text.parse::<WindSpeed>().unwrap().get(), speed, relative);
}

#[test]
fn the_other_kinds() {
    assert_eq!("60 %".parse::<Share>().unwrap().get(), 0.6);
    assert_eq!("17 mol".parse::<DailyLight>().unwrap().get(), 17.0);
    assert_eq!("90 min".parse::<Hours>().unwrap().get(), 1.5);
    assert_eq!("4 weeks".parse::<Days>().unwrap().get(), 28.0);
    assert_eq!("1 day".parse::<Days>().unwrap().get(), 1.0);
    assert_eq!("6 years".parse::<Years>().unwrap().get(), 6.0);
    assert_eq!("1500 uS/cm".parse::<Conductivity>().unwrap().get(), 1.5);
    assert_eq!("1.2 dS/m".parse::<Conductivity>().unwrap().get(), 1.2);
}

#[rstest]
#[case("6 heads", Measure::Heads, 6000)]
#[case("1 head", Measure::Heads, 1000)]
#[case("6.5 heads", Measure::Heads, 6500)]
#[case("80 g", Measure::Grams, 80_000)]
#[case("0.5 kg", Measure::Grams, 500_000)]
#[case("1 lb", Measure::Grams, 453_592)]
fn amounts_in_thousandths(#[case] text: &str, #[case] measure: Measure, #[case] milli: u64) {
    assert_eq!(text.parse(), Ok(Amount::new(measure, milli)));
}

#[test]
fn a_bare_number_is_no_quantity() {
    let error = "12".parse::<Length>().unwrap_err();
    assert!(matches!(error, ParseError::MissingUnit { .. }));
    assert_eq!(error.units(), ["mm", "cm", "m", "in", "ft"]);
    let error = "12".parse::<Amount>().unwrap_err();
    assert_eq!(error.units(), ["heads", "g", "kg", "oz", "lb"]);
}

#[rstest]
#[case("12 l")]
#[case("12 metres")]
#[case("12 m m")]
#[case("1.5/4 in")]
#[case("1e3 m")]
fn another_unit_is_refused(#[case] text: &str) {
    let error = text.parse::<Length>().unwrap_err();
    assert!(matches!(error, ParseError::UnknownUnit { .. }), "{error:?}");
}

#[rstest]
#[case("")]
#[case("m")]
#[case("--3 m")]
#[case("1.2.3 m")]
#[case("3-4 m")]
#[case("1/0 in")]
#[case("٣ m")]
fn what_does_not_begin_with_a_number_is_refused(#[case] text: &str) {
    let error = text.parse::<Length>().unwrap_err();
    assert!(matches!(error, ParseError::NotANumber { .. }), "{error:?}");
}

#[test]
fn a_comma_is_refused_as_it_means_two_things() {
    let error = "1,5 l".parse::<Volume>().unwrap_err();
    assert!(matches!(error, ParseError::AmbiguousComma { .. }));
}

#[test]
fn what_cannot_be_counted_is_out_of_reach() {
    let huge = format!("{} km", "9".repeat(308));
    let errors = [
        huge.parse::<Length>().unwrap_err(),
        "-6 heads".parse::<Amount>().unwrap_err(),
        "99999999999999 heads".parse::<Amount>().unwrap_err(),
    ];
    for error in errors {
        assert!(matches!(error, ParseError::OutOfRange { .. }), "{error:?}");
    }
}

#[test]
fn a_mixed_number_below_nothing_goes_on_downwards() {
    close(
        "-1 1/4 in".parse::<Length>().unwrap().get(),
        -0.031_75,
        1e-12,
    );
}

#[rstest]
#[case(Length::metres(1.8), "1.8 m", "5.91 ft")]
#[case(Length::metres(0.15), "15 cm", "5.91 in")]
#[case(Length::metres(0.02), "20 mm", "0.79 in")]
fn lengths_are_written_in_units_of_their_size(
    #[case] length: Length,
    #[case] metric: &str,
    #[case] imperial: &str,
) {
    assert_eq!(length.in_units(Units::Metric), metric);
    assert_eq!(length.in_units(Units::Imperial), imperial);
    assert_eq!(length.to_string(), metric);
}

#[test]
fn nothing_is_written_with_a_minus() {
    assert_eq!(Temperature::celsius(-0.01).to_string(), "0 C");
    assert_eq!(Days::days(1.0).to_string(), "1 day");
    assert_eq!(Amount::new(Measure::Heads, 1000).to_string(), "1 head");
}

/// What is printed in either system of units reads back, off by half of the last digit printed
/// at the most.
fn check_round_trip<Q: Quantity>(quantity: Q, number: impl Fn(Q) -> f64, off: [f64; 2]) {
    for (units, off) in [Units::Metric, Units::Imperial].into_iter().zip(off) {
        let text = quantity.in_units(units);
        let back: Q = text.parse().unwrap_or_else(|e| panic!("`{text}`: {e}"));
        let difference = (number(back) - number(quantity)).abs();
        assert!(difference <= off + 1e-9, "`{text}` is off by {difference}");
    }
}

proptest! {
    #[test]
    fn printed_lengths_read_back(x in -100.0..100.0f64) {
        check_round_trip(Length::metres(x), Length::get, [0.005, 0.005 * 0.3048]);
    }

    #[test]
    fn printed_small_lengths_read_back(x in 0.0..0.5f64) {
        check_round_trip(Length::metres(x), Length::get, [0.0005, 0.005 * 0.0254]);
    }

    #[test]
    fn printed_volumes_read_back(x in 0.0..30_000.0f64) {
        check_round_trip(Volume::litres(x), Volume::get, [0.05, 0.005 * 3.785_411_784]);
    }

    #[test]
    fn printed_flows_read_back(x in 0.0..100_000.0f64) {
        check_round_trip(Flow::litres_an_hour(x), Flow::get, [0.5, 0.5 * 3.785_411_784]);
    }

    #[test]
    fn printed_masses_read_back(x in 0.0..20_000.0f64) {
        check_round_trip(Mass::grams(x), Mass::get, [5.0, 0.005 * 453.592_37]);
    }

    #[test]
    fn printed_temperatures_read_back(x in -60.0..60.0f64) {
        check_round_trip(Temperature::celsius(x), Temperature::get, [0.05, 0.05 / 1.8]);
        check_round_trip(Warming::kelvins(x), Warming::get, [0.05, 0.05 / 1.8]);
    }

    #[test]
    fn printed_winds_read_back(x in 0.0..60.0f64) {
        check_round_trip(WindSpeed::metres_a_second(x), WindSpeed::get, [0.05, 0.05 * 0.447_04]);
    }

    #[test]
    fn what_is_printed_alike_in_both_systems_reads_back(x in 0.0..500.0f64) {
        check_round_trip(Share::fraction(x / 100.0), Share::get, [0.0005; 2]);
        check_round_trip(DailyLight::mol(x), DailyLight::get, [0.05; 2]);
        check_round_trip(Hours::hours(x), Hours::get, [0.005; 2]);
        check_round_trip(Days::days(x), Days::get, [0.05; 2]);
        check_round_trip(Years::years(x), Years::get, [0.05; 2]);
        check_round_trip(Conductivity::millisiemens(x), Conductivity::get, [0.005; 2]);
    }

    #[test]
    fn printed_amounts_read_back(milli in 0u64..2_000_000) {
        #[allow(clippy::cast_precision_loss)]
        let thousandths = |a: Amount| a.milli() as f64;
        check_round_trip(Amount::new(Measure::Heads, milli), thousandths, [50.0; 2]);
        let grams = [5_000.0, 0.005 * 453_592.37 + 1.0];
        check_round_trip(Amount::new(Measure::Grams, milli), thousandths, grams);
    }

    #[test]
    fn any_text_is_read_or_refused(text in "\\PC{0,20}") {
        let _ = text.parse::<Length>();
        let _ = text.parse::<Amount>();
    }

    #[test]
    fn any_number_like_text_gives_a_finite_quantity(text in "[-+0-9./ ]{0,12} ?(in|m|F|%|heads)") {
        if let Ok(length) = text.parse::<Length>() {
            prop_assert!(length.get().is_finite());
        }
        if let Ok(temperature) = text.parse::<Temperature>() {
            prop_assert!(temperature.get().is_finite());
        }
    }
}
