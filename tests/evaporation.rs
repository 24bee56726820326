//! How much water plants draw where they stand.

#[path = "common/gardens.rs"]
mod gardens;

use chrono::NaiveDate;
use gardens::{COAST, garden_at};
use steadyleaf::garden::Garden;
use steadyleaf::nature::air::air;
use steadyleaf::nature::evaporation::{plant_water, reference};
use steadyleaf::nature::growth::Growth;
use steadyleaf::quantity::Share;

/// Litres that one butterhead drinks from transplant on the day until it is ripe, and days.
fn head(garden: &Garden, transplant: &str) -> (f64, usize) {
    let first: NaiveDate = transplant.parse().unwrap();
    let full = Share::fraction(1.0);
    let place = &garden.place;
    let air = air(place, &place.cover, full, first, 150);
    let reference = reference(place, &place.cover, full, first, 150);
    let crop = garden.crop("butterhead").unwrap();
    let life = Growth::new(crop, &air)
        .life(0, &|_| true)
        .expect("it ripens");
    let litres = (0..life.ripe)
        .map(|day| {
            plant_water(
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
#[test]
fn dump() {
    let glass = format!("{COAST}\n  cover: greenhouse");
    for (n, g, days) in [
        ("room", garden_at(ROOM), &["2027-03-01"][..]),
        (
            "coast",
            garden_at(COAST),
            &[
                "2027-03-01",
                "2027-04-01",
                "2027-05-01",
                "2027-06-01",
                "2027-10-01",
                "2027-12-01",
            ],
        ),
        (
            "glass",
            garden_at(&glass),
            &[
                "2027-02-01",
                "2027-04-01",
                "2027-05-01",
                "2027-10-01",
                "2027-12-01",
            ],
        ),
    ] {
        let r = reference(
            &g.place,
            &g.place.cover,
            Share::fraction(1.0),
            "2027-01-15".parse().unwrap(),
            200,
        );
        println!("{n} ref {} {} {}", r[0], r[80], r[180]);
        for d in days {
            println!("{n} {d} {:?}", std::panic::catch_unwind(|| head(&g, d)));
        }
    }
}
