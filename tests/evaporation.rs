//! How much water plants draw where they stand.

use crate::gardens::{COAST, garden_at};
use chrono::{Datelike, NaiveDate};
use rstest::rstest;
use steadyleaf::garden::Garden;
use steadyleaf::garden::cards::Cards;
use steadyleaf::nature::air::{DayConditions, growing_conditions};
use steadyleaf::nature::crop_water::{
    canopy_coefficient, evapotranspiration_under_lamps, peak_demand_day, plant_transpiration,
    priestley_taylor, reference_evapotranspiration,
};
use steadyleaf::nature::growth::GrowthTable;
use steadyleaf::nature::light::daily_light_integral;
use steadyleaf::units::Share;

/// Litres that one butterhead drinks from transplant on the day until it is ripe, and days.
fn head(garden: &Garden, transplant: &str) -> (f64, usize) {
    let first: NaiveDate = transplant.parse().unwrap();
    let full = Share::fraction(1.0);
    let place = &garden.place;
    let air = growing_conditions(place, &place.cover, full, first, 150);
    let reference = reference_evapotranspiration(place, &place.cover, full, first, 150);
    let crop = garden.crop("butterhead").unwrap();
    let life = GrowthTable::new(crop, &air)
        .plant_life(0, &|_| true)
        .expect("it ripens");
    let litres = (0..life.ripe)
        .map(|day| {
            plant_transpiration(
                crop,
                reference[day],
                life.development[day],
                life.diameter[day],
            )
        })
        .sum();
    (litres, life.ripe)
}

const ROOM: &str = "  latitude: 59.6
  cover: { kind: indoors, day: 23 C, night: 18 C, light: 15 mol, hours: 16 }";

fn mean_of_month(garden: &Garden, first: &str, days: usize) -> f64 {
    let place = &garden.place;
    let first = first.parse().unwrap();
    let daily =
        reference_evapotranspiration(place, &place.cover, Share::fraction(1.0), first, days);
    daily.iter().sum::<f64>() / days as f64
}

/// A hydroponic head of 150 g takes 2 to 5.3 litres: 3.0 in a greenhouse in Arizona (Barbosa et
/// al. 2015, 20 l/kg), 2.0 indoors (Pennisi et al. 2019, 75 g/l), 2.8 and 5.3 in a vertical farm
/// (Carotti et al. 2023), at most a US gallon in still tanks (Kratky).
#[rstest]
#[case::under_lamps(ROOM.to_owned(), "2027-03-01")]
#[case::in_april(COAST.to_owned(), "2027-04-01")]
#[case::in_may(COAST.to_owned(), "2027-05-01")]
#[case::in_june(COAST.to_owned(), "2027-06-01")]
#[case::under_glass(format!("{COAST}\n  cover: greenhouse"), "2027-04-01")]
fn a_head_drinks_two_to_five_litres(#[case] place: String, #[case] transplant: &str) {
    let (litres, days) = head(&garden_at(&place), transplant);
    assert!(
        (2.0..=5.3).contains(&litres),
        "{litres:.2} l in {days} days"
    );
}

/// In the dim and cool months it takes less, but not nothing.
#[rstest]
#[case("2027-10-01")]
#[case("2027-12-01")]
fn a_head_drinks_less_in_the_cool_months(#[case] transplant: &str) {
    let (litres, days) = head(&garden_at(COAST), transplant);
    assert!(
        (1.0..=2.5).contains(&litres),
        "{litres:.2} l in {days} days"
    );
}

/// Mean reference evapotranspiration of temperate regions, FAO-56, table 2 (from memory): 1 to 3 mm
/// a day where the mean is near 10 C, 2 to 7 near 20 C, 4 to 9 above 30 C. The coast's January and
/// August have means of 12 and 26 C.
#[rstest]
#[case("2027-01-01", 1.0, 3.0)]
#[case("2027-08-01", 3.0, 8.0)]
fn a_months_reference_is_of_its_climate(
    #[case] first: &str,
    #[case] least: f64,
    #[case] most: f64,
) {
    let mean = mean_of_month(&garden_at(COAST), first, 31);
    assert!((least..=most).contains(&mean), "{mean:.2}");
}

/// With humidity, wind and sun the reference is Penman-Monteith's. FAO-56, example 17, is Bangkok
/// in April: 5.72 mm; of that climate, with its months alike, on 15 April. The ground's 0.14 MJ of
/// that month change is left out from day to day: 0.04 mm more.
#[test]
fn known_humidity_wind_and_sun_are_used() {
    let months = |value: &str| format!("[{}]", [value; 12].join(", "));
    let place = format!(
        "  latitude: 13.7333
  elevation: 2 m
  climate:
    coldest: {}
    warmest: {}
    humidity: {}
    wind: {}
    sun: {}",
        months("25.6"),
        months("34.8"),
        // 2.85 kPa of 4.42.
        months("64.45 %"),
        months("2 m/s"),
        months("8.5 h"),
    );
    let garden = garden_at(&place);
    let place = &garden.place;
    let day = "2027-04-15".parse().unwrap();
    let found = reference_evapotranspiration(place, &place.cover, Share::fraction(1.0), day, 1)[0];
    assert!((found - 5.76).abs() < 0.02, "{found}");
}

/// By hand at 20 C at sea level: slope 0.1447 kPa/C, gamma 0.06736; 1.26 * 0.1447 / 0.21206 * 0.408
/// * 0.77 * 10 MJ = 2.70 mm.
#[test]
fn heat_alone_in_moist_air() {
    let mut air = DayConditions::under_lamps(20.0, 20.0, 0.0, 12.0);
    air.dli = daily_light_integral(10.0);
    let found = priestley_taylor(&air, 0.0);
    assert!((found - 2.70).abs() < 0.005, "{found}");
}

/// Lettuce under lamps in published rooms draws 1 to 5 mm a day (Graamans et al. 2017, fig. 4,
/// from memory); more in warmer air and under more light.
#[test]
fn leaves_under_lamps() {
    let usual = evapotranspiration_under_lamps(23.0, 18.0, 15.0, 16.0, 0.0);
    assert!((1.0..=5.0).contains(&usual), "{usual}");
    assert!(evapotranspiration_under_lamps(27.0, 18.0, 15.0, 16.0, 0.0) > usual);
    assert!(evapotranspiration_under_lamps(23.0, 18.0, 20.0, 16.0, 0.0) > usual);
}

/// FAO-56, chapter 10: plants in free air draw up to 2.5 times the reference, never more.
#[test]
fn sides_in_free_air_count_up_to_a_limit() {
    let cards = Cards::built_in();
    for crop in cards.iter() {
        for tenth in 0..=13 {
            let development = f64::from(tenth) / 10.0;
            let coefficient = canopy_coefficient(crop, development);
            assert!(
                coefficient > crop.crop_coefficient.initial && coefficient <= 2.5,
                "{}",
                crop.key
            );
        }
    }
    // Butterhead: 1.0, and 18 cm over 17.5 cm.
    let butterhead = cards.get("butterhead").unwrap();
    assert!((canopy_coefficient(butterhead, 1.0) - (1.0 + 18.0 / 17.5)).abs() < 1e-9);
}

#[test]
fn shade_saves_water() {
    for place in [
        COAST.to_owned(),
        format!("{COAST}\n  cover: greenhouse"),
        ROOM.to_owned(),
    ] {
        let garden = garden_at(&place);
        let place = &garden.place;
        let day = "2027-07-01".parse().unwrap();
        let of = |share| {
            reference_evapotranspiration(place, &place.cover, Share::fraction(share), day, 1)[0]
        };
        assert!(of(0.5) < of(1.0) && of(0.5) > 0.0);
    }
}

#[test]
fn the_thirstiest_day_of_the_north_is_in_its_summer() {
    let garden = garden_at(COAST);
    let place = &garden.place;
    let first = "2027-03-01".parse().unwrap();
    let (day, most) = peak_demand_day(place, &place.cover, Share::fraction(1.0), first);
    assert!((6..=8).contains(&day.month()), "{day}");
    assert!(most > 4.0 && most < 9.0);
}
