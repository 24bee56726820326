//! The whole job on gardens whose answer is known: a room where nothing ever changes.

use chrono::NaiveDate;
use rstest::rstest;
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::{Garden, file};
use steadyleaf::nature::air::growing_conditions;
use steadyleaf::nature::growth::GrowthTable;
use steadyleaf::plan::{Plan, Planned, Stay, plan_garden};
use steadyleaf::planner::effort::Effort;
use steadyleaf::planner::monitor::Monitor;
use steadyleaf::units::Share;

fn garden(text: &str) -> Garden {
    file::parse(text, "garden.yaml", &Cards::built_in()).unwrap_or_else(|e| panic!("{e}"))
}

fn plan(garden: &Garden) -> Planned {
    plan_garden(garden, "", Effort::Normal, &Monitor::unwatched())
        .expect("a plan that keeps every rule")
}

/// A room at the lettuce handbook's conditions (Brechner & Both 2013: 24 C by day, 19 C by
/// night, 17 mol), in which butterhead is ripe 24 days after transplant.
fn room(wanted: u32) -> Garden {
    garden(&format!(
        "garden: Even room
start: 2027-03-01
weeks: 52
place:
  latitude: 52
  cover: {{ kind: indoors, day: 24 C, night: 19 C, light: 17 mol, hours: 16 }}
loops:
  - loop: room
    tank: {{ holds: 100 l }}
    banks:
      - {{ bank: deck, form: level, tubes: 4, length: 1 m, hole_every: 15 cm }}
nursery: {{ cells: 60 }}
wants:
  - {{ want: heads, from_crops: [butterhead], each_week: {wanted} heads }}
rhythm:
  workdays: [wed, sat]
  deep_clean: none
"
    ))
}

/// The weeks between the first month after the first harvest and the last month.
fn steady_middle(plan: &Plan) -> Vec<f64> {
    let weeks = &plan.wants[0].weeks;
    weeks[12..weeks.len() - 4]
        .iter()
        .map(|w| w.delivered)
        .collect()
}

/// More is wanted than the room gives: Little's law says what it gives, holes by days in the
/// hole. A plant set out on Wednesday is ripe after 24 days, on a Saturday; one set out on
/// Saturday after 24 days, on a Tuesday, and is taken on Wednesday, the 25th.
#[test]
fn all_that_the_room_can_give() {
    let planned = plan(&room(12));
    let weeks = steady_middle(&planned.plan);
    #[allow(clippy::cast_precision_loss)]
    let mean = weeks.iter().sum::<f64>() / weeks.len() as f64;
    let most = 24.0 * 7.0 / 24.5;
    println!("{mean} of {most}: {weeks:?}");
    assert!(mean >= 0.95 * most, "{mean} a week of {most}: {weeks:?}");
    assert!(mean <= 1.001 * most, "more than Little's law allows");
}

/// What the room gives easily it gives every week.
#[test]
fn the_same_every_week() {
    let planned = plan(&room(5));
    let weeks = steady_middle(&planned.plan);
    assert!(weeks.iter().all(|&w| w >= 5.0), "{weeks:?}");
    assert_eq!(planned.plan.wants[0].met, Some(1.0));
}

fn stands(stay: &Stay, day: NaiveDate) -> bool {
    stay.transplant <= day && day < stay.removal
}

fn side_by_side(planned: &Planned) -> Vec<(String, String)> {
    let problem = &planned.built.problem;
    let near = problem.pairs.iter().filter(|p| p.side_by_side);
    near.map(|p| (problem.holes[p.a].id.clone(), problem.holes[p.b].id.clone()))
        .collect()
}

/// A big plant stands beside a small one: on a day in the middle of the season, neighbours
/// differ by at least a quarter of their development in nine planted pairs of ten; and on no
/// day are two ripe heads side by side.
#[rstest]
#[case(6)]
#[case(12)]
fn big_beside_small(#[case] wanted: u32) {
    let garden = room(wanted);
    let planned = plan(&garden);
    let days = 52 * 7;
    let place = &garden.place;
    let air = growing_conditions(
        place,
        &place.cover,
        Share::fraction(1.0),
        garden.start,
        days + 120,
    );
    let growth = GrowthTable::new(garden.crop("butterhead").unwrap(), &air);
    let grown = |stay: &Stay, day: NaiveDate| {
        let transplant = (stay.transplant - garden.start).num_days() as usize;
        let life = growth.plant_life(transplant, &|_| true).unwrap();
        life.development[(day - stay.transplant).num_days() as usize]
    };
    let of = |hole: &str| {
        planned
            .plan
            .stays
            .iter()
            .filter(move |s| s.hole == hole)
            .collect::<Vec<_>>()
    };
    let pairs = side_by_side(&planned);
    assert_eq!(pairs.len(), 20);
    let (mut planted, mut apart) = (0, 0);
    for (a, b) in &pairs {
        let (a, b) = (of(a), of(b));
        for day in garden.start.iter_days().take(days) {
            let here = a
                .iter()
                .find(|s| stands(s, day))
                .zip(b.iter().find(|s| stands(s, day)));
            let Some((x, y)) = here else { continue };
            let (x, y) = (grown(x, day), grown(y, day));
            assert!(x < 1.0 || y < 1.0, "two ripe heads side by side on {day}");
            // Every day of the middle of the season, not a lucky one.
            if (26 * 7 - 45..26 * 7 + 45).contains(&(day - garden.start).num_days()) {
                planted += 1;
                apart += i32::from((x - y).abs() >= 0.25);
            }
        }
    }
    println!("{apart} of {planted} pairs a quarter apart");
    assert!(planted > 900);
    assert!(
        f64::from(apart) >= 0.9 * f64::from(planted),
        "{apart} of {planted}"
    );
}
