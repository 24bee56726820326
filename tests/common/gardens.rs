//! Small gardens for tests.

use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::{Garden, file};

/// A garden of one tube; `place` holds the lines of its place, each with two spaces before it.
#[must_use]
pub fn garden_at(place: &str) -> Garden {
    let text = format!(
        "garden: Lantern Court
start: 2027-03-01
weeks: 52
place:
{place}
loops:
  - loop: roof
    tank: {{ holds: 60 l }}
    banks:
      - {{ bank: deck, form: level, tubes: 1, length: 1 m, bore: 104 mm, hole_every: 15 cm }}
nursery: {{ cells: 20 }}
wants:
  - {{ want: heads, from_crops: [butterhead], each_week: 1 heads }}
rhythm: {{ workdays: [wed, sat] }}
"
    );
    file::parse(&text, "garden.yaml", &Cards::built_in())
        .unwrap_or_else(|refusal| panic!("{}", refusal.render(false)))
}

/// A warm, dry coast at 39.5 degrees north.
pub const COAST: &str = "  latitude: 39.5
  longitude: -0.4
  elevation: 20 m
  timezone: Europe/Madrid
  climate:
    coldest: [7, 8, 9, 11, 14, 18, 21, 21, 18, 15, 10, 8]
    warmest: [17, 17, 20, 21, 24, 28, 30, 31, 28, 24, 20, 17]";

/// The same coast south of the equator: its seasons half a year on.
pub const SOUTHERN_COAST: &str = "  latitude: -39.5
  longitude: -0.4
  elevation: 20 m
  timezone: Europe/Madrid
  climate:
    coldest: [21, 21, 18, 15, 10, 8, 7, 8, 9, 11, 14, 18]
    warmest: [30, 31, 28, 24, 20, 17, 17, 17, 20, 21, 24, 28]";

/// Near the arctic circle.
pub const NORTH: &str = "  latitude: 66.0
  longitude: 25.7
  elevation: 100 m
  timezone: Europe/Helsinki
  climate:
    coldest: [-15, -14, -10, -4, 2, 8, 11, 9, 4, -2, -8, -13]
    warmest: [-7, -7, -1, 4, 11, 17, 20, 17, 11, 3, -3, -6]";

/// A humid coast near the equator.
pub const TROPICS: &str = "  latitude: 1.3
  longitude: 103.8
  elevation: 15 m
  timezone: Asia/Singapore
  climate:
    coldest: [24, 24, 24, 25, 25, 25, 25, 25, 24, 24, 24, 24]
    warmest: [30, 31, 32, 32, 32, 31, 31, 31, 31, 31, 31, 30]";
