//! What a diary teaches of each crop.

use steadyleaf::garden::Garden;
use steadyleaf::garden::diary::{Entry, Event, replay};
use steadyleaf::plan::learned::{DIES, Learned, USUAL_PLANTS, learned};
use steadyleaf::quantity::Share;

use crate::entries::{self, entry};
use crate::lantern::{date, garden};

fn set_out(on: &str, hole: &str) -> Entry {
    entry(
        on,
        Event::Transplanted {
            crop: "butterhead".to_owned(),
            hole: hole.to_owned(),
            sown_on: None,
            want: None,
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
fn butterhead(garden: &Garden, entries: &[Entry]) -> Learned {
    let (state, left_out) = replay(garden, entries, date("2027-06-30"));
    assert!(left_out.is_empty(), "{left_out:?}");
    let known = learned(garden, &state, date("2027-06-30"));
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
    assert_eq!(alike.seen, 1);
    garden.loops[0].banks[1].light = Share::fraction(0.6);
    let differing = butterhead(&garden, &entries(["deck-1-1", "wall-1-1"])).pace;
    assert_eq!(differing.seen, 2);
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
    let dying = |entries: &[Entry]| 1.0 - butterhead(&garden, entries).living.mean();
    assert!((dying(&stand) - DIES).abs() < 1e-12);
    let gone = [
        lost("2027-04-03", "deck-1-1"),
        lost("2027-04-10", "deck-1-2"),
        taken("2027-05-08", "deck-1-3", "2027-05-08"),
        taken("2027-05-08", "deck-1-4", "2027-05-08"),
    ];
    let right = (DIES * USUAL_PLANTS + 2.0) / (USUAL_PLANTS + 4.0);
    let seen = dying(&[&stand[..], &gone].concat());
    assert!((seen - right).abs() < 1e-12, "{seen}, not {right}");
}
