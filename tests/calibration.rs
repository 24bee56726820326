//! What a diary teaches of each crop.

use chrono::Days;
use rstest::rstest;
use steadyleaf::diary::{Entry, Event, ExpectedHarvest, replay};
use steadyleaf::garden::Garden;
use steadyleaf::garden::cards::Cards;
use steadyleaf::nature::statistics::normal_posterior;
use steadyleaf::plan::calibration::{
    Calibration, PACE_NOISE_SD, PACE_PRIOR_SD, PRIOR_DEATH_RATE, PRIOR_PLANTS, calibrate,
};
use steadyleaf::units::Share;

use crate::entries::{self, entry};
use crate::gardens::garden_at;
use crate::lantern::{date, garden};

fn set_out(on: &str, hole: &str) -> Entry {
    entry(
        on,
        Event::Transplanted {
            crop: "butterhead".to_owned(),
            hole: hole.to_owned(),
            sown_on: None,
            want: None,
            given: false,
        },
    )
}

fn taken(on: &str, hole: &str, expected: &str) -> Entry {
    entries::taken(on, hole, expected, None)
}

fn lost(on: &str, hole: &str) -> Entry {
    let hole = hole.to_owned();
    entry(on, Event::Lost { hole, why: None })
}

/// What is known of butterhead after some entries.
fn butterhead(garden: &Garden, entries: &[Entry]) -> Calibration {
    let (state, left_out) = replay(garden, entries, date("2027-06-30"));
    assert!(left_out.is_empty(), "{left_out:?}");
    let known = calibrate(garden, &state, date("2027-06-30"));
    known.into_iter().find(|l| l.crop == "butterhead").unwrap()
}

/// Plants set out, expected and taken on the same days have grown as one in one light, and each
/// on its own in another.
#[test]
fn plants_in_different_light_teach_each_on_its_own() {
    let entries = |holes: [&str; 2]| {
        let set_out = holes.map(|hole| set_out("2027-03-20", hole));
        let taken = holes.map(|hole| taken("2027-05-08", hole, "2027-05-01"));
        [set_out, taken].concat()
    };
    let mut garden = garden();
    let alike = butterhead(&garden, &entries(["deck-1-1", "wall-1-1"])).pace;
    assert_eq!(alike.observations, 1);
    garden.loops[0].banks[1].light_share = Share::fraction(0.6);
    let differing = butterhead(&garden, &entries(["deck-1-1", "wall-1-1"])).pace;
    assert_eq!(differing.observations, 2);
    assert_eq!(
        butterhead(&garden, &entries(["deck-1-1", "deck-1-3"])).pace,
        alike
    );
}

/// Of plants in holes those teach how many live that came to a first harvest or were lost before
/// it: by Bayes' rule with a beta distribution, whose mean is hits over trials. One that is lost
/// after a cut has lived, and of one that stands nothing is known yet.
#[test]
fn losses_in_holes_are_learned() {
    let garden = garden();
    let holes = ["deck-1-1", "deck-1-2", "deck-1-3", "deck-1-4", "deck-1-5"];
    let stand: Vec<Entry> = holes.map(|hole| set_out("2027-03-20", hole)).to_vec();
    let dying = |entries: &[Entry]| 1.0 - butterhead(&garden, entries).plant_survival.mean();
    assert!((dying(&stand) - PRIOR_DEATH_RATE).abs() < 1e-12);
    let gone = [
        lost("2027-04-03", "deck-1-1"),
        lost("2027-04-10", "deck-1-2"),
        taken("2027-05-08", "deck-1-3", "2027-05-08"),
        taken("2027-05-08", "deck-1-4", "2027-05-08"),
    ];
    let right = (PRIOR_DEATH_RATE * PRIOR_PLANTS + 2.0) / (PRIOR_PLANTS + 4.0);
    let seen = dying(&[&stand[..], &gone].concat());
    assert!((seen - right).abs() < 1e-12, "{seen}, not {right}");
}

/// A tube under lamps, where plants grow as much on one day as on another.
fn under_lamps() -> Garden {
    let mut garden = garden_at(
        "  latitude: 52
  cover: { kind: indoors, day: 22 C, night: 18 C, light: 15 mol, hours: 16 }",
    );
    let rocket = Cards::built_in().get("rocket").unwrap().clone();
    garden.crops.push(rocket);
    garden
}

/// A harvest that the plan had expected on a day, taking the crop for so many times its card's
/// days.
fn taken_at(on: &str, hole: &str, expected: &str, pace: f64, last: bool) -> Entry {
    let expected = ExpectedHarvest {
        on: date(expected),
        amount: None,
        pace,
        yields: 1.0,
    };
    entry(
        on,
        Event::Harvested {
            hole: hole.to_owned(),
            amount: None,
            last,
            expected: Some(expected),
        },
    )
}

/// The pace learned of a crop under lamps, in the hole's days and as many as were expected.
fn pace_of(crop: &str, entries: &[Entry]) -> Calibration {
    let garden = under_lamps();
    let (state, left_out) = replay(&garden, entries, date("2027-11-30"));
    assert!(left_out.is_empty(), "{left_out:?}");
    let known = calibrate(&garden, &state, date("2027-11-30"));
    known.into_iter().find(|l| l.crop == crop).unwrap()
}

/// Set out on a Saturday, expected 42 days later; workdays are Wednesday and Saturday. What comes
/// on its day was ripe by then. What comes later was ripe midway between the last workday on which
/// it was left and its harvest, and what comes sooner on that day.
#[rstest]
#[case::on_its_day("2027-05-01", "2027-05-01", 1.0, 0.0)]
#[case::with_time_in_hand("2027-05-01", "2027-05-01", 1.05, 0.0)]
#[case::on_a_day_expected_soon("2027-05-01", "2027-05-01", 0.9, libm::log(0.9))]
#[case::a_workday_later("2027-05-05", "2027-05-01", 1.0, libm::log(44.0 / 42.0))]
#[case::a_week_later("2027-05-08", "2027-05-01", 1.0, libm::log(47.5 / 42.0))]
#[case::a_week_later_of_more("2027-05-08", "2027-05-01", 1.1, libm::log(1.1 * 47.5 / 42.0))]
#[case::as_soon_as_somebody_came("2027-05-05", "2027-05-02", 1.0, 0.0)]
#[case::sooner("2027-04-28", "2027-05-01", 1.0, libm::log(39.0 / 42.0))]
fn a_harvest_tells_how_long_it_took(
    #[case] on: &str,
    #[case] expected: &str,
    #[case] pace: f64,
    #[case] right: f64,
) {
    let entries = [
        set_out("2027-03-20", "deck-1-1"),
        taken_at(on, "deck-1-1", expected, pace, true),
    ];
    let seen = pace_of("butterhead", &entries).pace.mean;
    let right = normal_posterior(&[right], PACE_NOISE_SD, PACE_PRIOR_SD).mean;
    assert!((seen - right).abs() < 1e-9, "{seen}, not {right}");
}

/// Where something is put down in most weeks, plants were not looked at in a longer time that has
/// nothing: what was due then and came late for somebody's illness does not make its crop a slow one.
/// On a workday alone there can be nothing to put down.
#[rstest]
#[case::nobody_came(&[], 0.0)]
#[case::somebody_came_the_first_time(&["2027-05-01"], libm::log((42.0 + 54.0) / 2.0 / 42.0))]
#[case::somebody_came_in_between(&["2027-05-05"], libm::log((53.0 + 54.0) / 2.0 / 42.0))]
fn what_nobody_looked_at_teaches_nothing(#[case] came: &[&str], #[case] right: f64) {
    let lines = ["2027-03-24", "2027-03-27", "2027-03-31"].into_iter();
    let lines = lines.chain(["2027-04-03", "2027-04-07", "2027-04-10", "2027-04-14"]);
    let lines = lines.chain(["2027-04-17", "2027-04-21", "2027-04-24", "2027-04-28"]);
    let lines = lines.chain(came.iter().copied());
    let mut entries = vec![set_out("2027-03-20", "deck-1-1")];
    entries.extend(lines.map(|on| entries::sown(on, "butterhead", 1)));
    entries.push(taken_at("2027-05-13", "deck-1-1", "2027-05-01", 1.0, true));
    let seen = pace_of("butterhead", &entries).pace;
    let right = normal_posterior(&[right], PACE_NOISE_SD, PACE_PRIOR_SD).mean;
    assert_eq!(seen.observations, 1);
    assert!(
        (seen.mean - right).abs() < 1e-9,
        "{}, not {right}",
        seen.mean
    );
}

/// After one late harvest a margin is left, and plants come on their day by it. That they do is no
/// reason to leave more, and the crop is not taken for slower than it was.
#[test]
fn a_margin_does_not_prove_itself() {
    let mut entries = vec![
        set_out("2027-03-20", "deck-1-1"),
        taken_at("2027-05-08", "deck-1-1", "2027-05-01", 1.0, true),
    ];
    let first = pace_of("butterhead", &entries);
    assert!(first.margin > 0.0);
    let mut before = first.clone();
    for week in 0..4 {
        let day = |n: u64| (date("2027-05-12") + Days::new(35 * week + n)).to_string();
        entries.push(set_out(&day(0), "deck-1-1"));
        entries.push(taken_at(
            &day(31),
            "deck-1-1",
            &day(31),
            before.pace(),
            true,
        ));
        let now = pace_of("butterhead", &entries);
        assert!((now.pace.mean - first.pace.mean).abs() < 1e-9);
        assert!(now.margin <= before.margin);
        assert!(now.pace.sd < before.pace.sd);
        before = now;
    }
}

/// Of what is cut each cut tells how long it took since the one before.
#[test]
fn later_cuts_teach_too() {
    let crop = "rocket".to_owned();
    let hole = "deck-1-1".to_owned();
    let set_out = entry(
        "2027-03-20",
        Event::Transplanted {
            crop,
            hole,
            sown_on: None,
            want: None,
            given: false,
        },
    );
    let first = taken_at("2027-04-03", "deck-1-1", "2027-04-03", 1.0, false);
    let known = pace_of("rocket", &[set_out.clone(), first.clone()]).pace;
    assert_eq!((known.mean, known.observations), (0.0, 1));
    let late = taken_at("2027-04-21", "deck-1-1", "2027-04-17", 1.0, true);
    let known = pace_of("rocket", &[set_out, first, late]).pace;
    let right = normal_posterior(&[0.0, libm::log(16.0 / 14.0)], PACE_NOISE_SD, PACE_PRIOR_SD);
    assert!((known.mean - right.mean).abs() < 1e-9, "{known:?}");
}
