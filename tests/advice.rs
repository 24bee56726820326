//! What would help a garden that cannot have all it wants: every claim is held against the garden
//! so changed, planned for itself.

use rstest::rstest;
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::{Garden, file};
use steadyleaf::plan::{AdvisedChange, Plan, RigChange, plan_garden};
use steadyleaf::planner::effort::Effort;
use steadyleaf::planner::monitor::Monitor;

/// What a garden states in the places that the tests change.
#[derive(Clone, Copy)]
struct Stated {
    tubes: u32,
    cells: u32,
    crops: &'static str,
    wanted: &'static str,
    place: &'static str,
}

/// A room at the lettuce handbook's conditions (Brechner & Both 2013).
const ROOM: &str =
    "{ latitude: 52, cover: { kind: indoors, day: 24 C, night: 19 C, light: 17 mol, hours: 16 } }";
/// The warm, dry coast of other tests, in the open: invented means that suit its latitude.
const COAST: &str = "{ latitude: 39.5, longitude: -0.4, elevation: 20 m, climate: { coldest: [7, 8, 9, 11, 14, 18, 21, 21, 18, 15, 10, 8], warmest: [17, 17, 20, 21, 24, 28, 30, 31, 28, 24, 20, 17] } }";

/// A room so warm that spinach runs to seed in it all year.
const WARM_ROOM: &str =
    "{ latitude: 52, cover: { kind: indoors, day: 28 C, night: 24 C, light: 17 mol, hours: 16 } }";

const FULL: Stated = Stated {
    tubes: 2,
    cells: 40,
    crops: "butterhead",
    wanted: "6 heads",
    place: ROOM,
};
const BARREN: Stated = Stated {
    tubes: 2,
    cells: 40,
    crops: "spinach",
    wanted: "120 g",
    place: COAST,
};

fn garden(stated: Stated) -> Garden {
    let Stated {
        tubes,
        cells,
        crops,
        wanted,
        place,
    } = stated;
    let text = format!(
        "garden: Thrush Yard
start: 2027-03-01
weeks: 52
place: {place}
loops:
  - loop: yard
    tank: {{ holds: 100 l }}
    banks:
      - {{ bank: deck, form: level, tubes: {tubes}, length: 1 m, hole_every: 15 cm }}
nursery: {{ cells: {cells} }}
wants:
  - {{ want: greens, from_crops: [{crops}], each_week: {wanted} }}
rhythm:
  workdays: [wed, sat]
  deep_clean: none
"
    );
    file::parse(&text, "garden.yaml", &Cards::built_in())
        .unwrap_or_else(|refusal| panic!("{}", refusal.render(false)))
}

fn plan(stated: Stated) -> Plan {
    let made = plan_garden(&garden(stated), "", Effort::Normal, &Monitor::unwatched());
    made.expect("a plan that keeps every rule").plan
}

/// How much of the want is met in all, in its unit.
fn met(plan: &Plan) -> f64 {
    let weeks = plan.wants[0].weeks.iter();
    weeks.map(|w| w.delivered.min(w.target)).sum()
}

/// What a help promises over the year that then is.
fn promised(then: &Plan, help: &AdvisedChange) -> f64 {
    let counted = then.wants[0].weeks.iter().filter(|w| w.target > 0.0);
    help.gains[0].each_week * counted.count() as f64
}

fn of_tube(change: &RigChange) -> bool {
    matches!(change, RigChange::Tube { .. })
}

fn of_nursery(change: &RigChange) -> bool {
    matches!(change, RigChange::Nursery { .. })
}

fn of_chard(change: &RigChange) -> bool {
    *change
        == RigChange::Crop {
            want: "greens".into(),
            crop: "chard".into(),
        }
}

#[rstest]
#[case::full_holes(FULL, of_tube, Stated { tubes: 3, ..FULL })]
#[case::few_cells(Stated { cells: 4, ..FULL }, of_nursery, Stated { cells: 6, ..FULL })]
#[case::no_crop_in_summer(BARREN, of_chard, Stated { crops: "spinach, chard", ..BARREN })]
fn a_change_brings_what_is_promised(
    #[case] now: Stated,
    #[case] change: fn(&RigChange) -> bool,
    #[case] then: Stated,
) {
    let before = plan(now);
    let help = before.would_help.iter().find(|h| change(&h.change));
    let help = help.unwrap_or_else(|| panic!("not offered: {:?}", before.would_help));
    let then = plan(then);
    let promised = promised(&then, help);
    let brought = met(&then) - met(&before);
    println!("promised {promised:.1}, brought {brought:.1}");
    // Both are found by search, the promise with less effort.
    assert!(promised > 0.0 && (promised - brought).abs() <= 0.15 * brought + 2.0);
}

/// A want that no week counts for, as none of its crops is ever in season, is brought no more a
/// week than is wanted, whatever the year brings in all.
#[test]
fn nothing_brings_more_a_week_than_is_wanted() {
    let before = plan(Stated {
        place: WARM_ROOM,
        ..BARREN
    });
    assert!(before.wants[0].weeks.iter().all(|w| w.target == 0.0));
    let help = before.would_help.iter().find(|h| of_chard(&h.change));
    let help = help.unwrap_or_else(|| panic!("not offered: {:?}", before.would_help));
    let each_week = help.gains[0].each_week;
    println!("{each_week} g more a week");
    assert!(each_week > 0.0 && each_week <= before.wants[0].each_week);
}

/// Only crops much like the want's own are thought of, and none where nothing is lacking.
#[rstest]
#[case::heads(Stated { place: COAST, ..FULL }, &["loose-leaf", "romaine"])]
#[case::leaves(BARREN, &["chard"])]
#[case::nothing_lacks(Stated { wanted: "2 heads", ..FULL }, &[])]
fn other_crops_are_of_the_family(#[case] stated: Stated, #[case] like: &[&str]) {
    let offered: Vec<String> = plan(stated)
        .would_help
        .into_iter()
        .filter_map(|help| match help.change {
            RigChange::Crop { crop, .. } => Some(crop),
            _ => None,
        })
        .collect();
    println!("{offered:?}");
    assert_eq!(offered.is_empty(), like.is_empty());
    assert!(offered.iter().all(|crop| like.contains(&crop.as_str())));
}
