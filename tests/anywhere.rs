//! Gardens south of the equator, on it, and at 65 degrees north plan, or say clearly why not.

use chrono::Datelike;
use rstest::rstest;
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::file;
use steadyleaf::nature::suitability::Unsuitable;
use steadyleaf::plan::{ExcludedWeek, Planned, plan_garden};
use steadyleaf::planner::effort::Effort;
use steadyleaf::planner::monitor::Monitor;

use crate::independent_check::faults;

/// Invented monthly means, plausible for the latitude.
const NORTH_65: (&str, &str) = (
    "[-14, -14, -10, -4, 2, 8, 11, 9, 4, -1, -7, -12]",
    "[-6, -5, 0, 5, 12, 18, 20, 18, 12, 5, -1, -5]",
);
const SOUTH_34: (&str, &str) = (
    "[18, 18, 16, 13, 10, 8, 7, 8, 10, 12, 14, 16]",
    "[27, 27, 25, 23, 20, 18, 17, 18, 20, 22, 24, 26]",
);
/// The same, half a year on.
const NORTH_34: (&str, &str) = (
    "[7, 8, 10, 12, 14, 16, 18, 18, 16, 13, 10, 8]",
    "[17, 18, 20, 22, 24, 26, 27, 27, 25, 23, 20, 18]",
);
const EQUATOR: (&str, &str) = (
    "[17, 17, 17, 17, 17, 16, 16, 16, 16, 17, 17, 17]",
    "[26, 26, 26, 26, 25, 25, 25, 25, 25, 26, 26, 26]",
);

fn plan(latitude: f64, (coldest, warmest): (&str, &str), cover: &str, crop: &str) -> Planned {
    let each = if crop == "butterhead" {
        "3 heads"
    } else {
        "60 g"
    };
    let text = format!(
        "garden: Somewhere
start: 2027-01-04
place:
  latitude: {latitude}
  cover: {cover}
  climate:
    coldest: {coldest}
    warmest: {warmest}
loops:
  - loop: one
    tank: {{ holds: 80 l }}
    banks:
      - {{ bank: deck, form: level, tubes: 3, length: 1 m }}
wants:
  - {{ want: greens, from_crops: [{crop}], each_week: {each} }}
"
    );
    let garden = file::parse(&text, "garden.yaml", &Cards::built_in());
    let garden = garden.unwrap_or_else(|e| panic!("{e}"));
    let planned = plan_garden(&garden, "", Effort::Quick, &Monitor::unwatched());
    let planned = planned.expect("a plan that keeps every rule");
    assert_eq!(faults(&planned.plan, &garden, None), [""; 0]);
    planned
}

/// Months (of the week's Thursday) in which something is harvested.
fn harvest_months(planned: &Planned) -> Vec<u32> {
    let weeks = planned.plan.wants[0].weeks.iter();
    let mut months: Vec<u32> = weeks
        .filter(|w| w.delivered > 0.0)
        .map(|w| (w.monday + chrono::Days::new(3)).month())
        .collect();
    months.sort_unstable();
    months.dedup();
    months
}

#[test]
fn at_65_north_under_the_sky_only_summer_feeds() {
    let planned = plan(65.0, NORTH_65, "open air", "butterhead");
    let months = harvest_months(&planned);
    assert!(!months.is_empty());
    assert!(months.iter().all(|m| (6..=10).contains(m)), "{months:?}");
    // The weeks of winter are told apart, not planned against.
    let outcome = &planned.plan.wants[0];
    let winter = outcome
        .weeks
        .iter()
        .filter(|w| matches!(w.monday.month(), 11 | 12));
    let reasons: Vec<_> = winter.map(|w| w.not_counted).collect();
    assert!(
        reasons
            .iter()
            .all(|r| *r == Some(ExcludedWeek::OutOfSeason)),
        "{reasons:?}"
    );
    let shut = &planned.built.seasons[0].unsuitable_days;
    assert!(
        shut.iter().any(|(why, _)| *why == Unsuitable::TooCold),
        "{shut:?}"
    );
    // The season is too short for more: but every week in it gives something.
    let counted = outcome.weeks.iter().filter(|w| w.target > 0.0);
    assert!(counted.clone().count() > 10);
    assert!(counted.clone().all(|w| w.delivered > 0.0));
}

/// Under lamps no season ends: weeks that lack a harvest because nobody was there to set anything
/// out are told as that.
#[test]
fn weeks_after_an_absence_are_not_out_of_season() {
    let text = "garden: Away in spring
start: 2027-03-01
weeks: 20
place: { latitude: 52, cover: { kind: indoors, day: 22 C, night: 18 C, light: 15 mol, hours: 16 } }
loops:
  - loop: shelf
    tank: { holds: 60 l }
    banks:
      - { bank: shelf, form: level, tubes: 1, length: 1 m }
wants:
  - { want: heads, from_crops: [butterhead], each_week: 1 heads }
rhythm: { workdays: [sat], away: [{ from: 2027-04-25, until: 2027-05-14 }] }
";
    let garden = file::parse(text, "garden.yaml", &Cards::built_in()).unwrap();
    let planned = plan_garden(&garden, "", Effort::Quick, &Monitor::unwatched()).unwrap();
    let weeks = planned.plan.wants[0].weeks.iter();
    let reasons: Vec<_> = weeks.filter_map(|w| w.not_counted).collect();
    let told = |why| reasons.iter().filter(|r| **r == why).count();
    assert_eq!(told(ExcludedWeek::OutOfSeason), 0, "{reasons:?}");
    assert!(told(ExcludedWeek::BeforeFirstHarvest) > 0, "{reasons:?}");
    assert!(told(ExcludedWeek::NobodyToPlant) > 0, "{reasons:?}");
    assert!(told(ExcludedWeek::NobodyThere) > 0, "{reasons:?}");
}

#[test]
fn at_65_north_basil_never_stands_and_the_plan_says_why() {
    let planned = plan(65.0, NORTH_65, "open air", "sweet-basil");
    assert!(planned.plan.stays.is_empty());
    assert_eq!(planned.plan.wants[0].met, None);
    let season = &planned.built.seasons[0];
    assert_eq!(season.plantable_days, 0);
    assert!(
        season
            .unsuitable_days
            .iter()
            .any(|(why, _)| *why == Unsuitable::TooCold)
    );
    let weeks = planned.plan.wants[0].weeks.iter();
    assert!(
        weeks
            .map(|w| w.not_counted)
            .all(|r| r == Some(ExcludedWeek::OutOfSeason))
    );
}

#[test]
fn at_65_north_lamps_make_every_month_alike() {
    let planned = plan(65.0, NORTH_65, "indoors", "butterhead");
    assert_eq!(harvest_months(&planned), (2..=12).collect::<Vec<_>>());
    assert!(planned.plan.wants[0].met.unwrap() >= 0.95);
}

/// Seasons lie half a year apart across the equator: the same crop, the mirrored climate. Basil
/// is cut in the last month of summer, and stands no night of late winter.
#[rstest]
#[case::south(SOUTH_34, -34.0, 2, 8)]
#[case::north(NORTH_34, 34.0, 8, 2)]
fn the_warm_half_of_the_year_feeds(
    #[case] climate: (&str, &str),
    #[case] latitude: f64,
    #[case] feeds: u32,
    #[case] rests: u32,
) {
    let planned = plan(latitude, climate, "open air", "sweet-basil");
    let grown = harvest_months(&planned);
    assert!(grown.contains(&feeds), "{grown:?}");
    assert!(!grown.contains(&rests), "{grown:?}");
    assert!(planned.plan.wants[0].met.unwrap() >= 0.95);
}

#[test]
fn on_the_equator_every_month_feeds() {
    let planned = plan(-0.2, EQUATOR, "open air", "loose-leaf-cut");
    let months = harvest_months(&planned);
    assert_eq!(months, (2..=12).collect::<Vec<_>>());
    assert!(planned.plan.wants[0].met.unwrap() >= 0.95);
}
