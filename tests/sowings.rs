//! What is sown, in how many cells of the nursery, and what is made of it afterwards.

use std::collections::BTreeMap;
use std::path::Path;

use chrono::NaiveDate;
use proptest::prelude::*;
use rstest::rstest;
use steadyleaf::chores::{self, Kind};
use steadyleaf::diary::{self, Entry, Event};
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::place::Cover;
use steadyleaf::garden::{Garden, SeedStock, file};
use steadyleaf::nature::seed as sown_seed;
use steadyleaf::plan::calibration::calibrate;
use steadyleaf::plan::seed_stock;
use steadyleaf::plan::sowings::planned_sowings;
use steadyleaf::plan::{Plan, planned_entries};
use steadyleaf::planner::build::PlanningState;
use steadyleaf::text::Language;
use steadyleaf::units::{DailyLight, Hours, Temperature};

use crate::lantern::{date, empty_plan, garden as roof, head};
use crate::plans::quick_plan;

/// A shelf under lamps with heads of one plant a cup and herbs of several.
fn shelf(cells: u32, heads: u32, herbs: u32) -> Garden {
    let text = format!(
        "garden: Reed Lane shelf
start: 2027-03-01
weeks: 30
place:
  latitude: 52
  cover: {{ kind: indoors, day: 22 C, night: 18 C, light: 15 mol, hours: 16 }}
loops:
  - loop: shelf
    tank: {{ holds: 60 l }}
    banks:
      - {{ bank: shelf, form: level, tubes: 4, length: 1 m, hole_every: 15 cm }}
nursery: {{ cells: {cells} }}
wants:
  - {{ want: salad heads, from_crops: [butterhead, pak-choi], each_week: {heads} heads }}
  - {{ want: herbs, from_crops: [coriander, parsley], each_week: {herbs} g }}
rhythm:
  workdays: [wed, sat]
"
    );
    file::parse(&text, "garden.yaml", &Cards::built_in()).unwrap_or_else(|e| panic!("{e}"))
}

fn planned(garden: &Garden) -> Plan {
    quick_plan(garden).plan
}

/// Cells that the chores fill on the fullest day, counted from what is told to be sown and from
/// the seedlings on hand.
fn most_cells(plan: &Plan, garden: &Garden) -> u32 {
    let mut taken: BTreeMap<NaiveDate, u32> = BTreeMap::new();
    let mut fill = |from: NaiveDate, until: NaiveDate, cells: u32| {
        for day in from.iter_days().take_while(|d| *d < until) {
            *taken.entry(day).or_default() += cells;
        }
    };
    for sown in planned_sowings(plan, garden) {
        let sowing = sown.sowing.expect("a card");
        assert!(sowing.cells >= sown.cups, "{sown:?}");
        fill(sown.day, sown.transplant, sowing.cells);
    }
    for stay in plan.stays.iter().filter(|s| s.on_hand) {
        fill(plan.start, stay.transplant, 1);
    }
    taken.into_values().max().unwrap_or(0)
}

/// Every cup that the plan sets out from seed is sown for, and what is put down as done is what
/// was told.
fn all_is_sown(plan: &Plan, garden: &Garden) {
    let sown = planned_sowings(plan, garden);
    let cups: u32 = sown.iter().map(|s| s.cups).sum();
    let stays = plan.stays.iter().filter(|s| s.sow.is_some() && !s.on_hand);
    assert_eq!(cups as usize, stays.count());
    let days: std::collections::BTreeSet<NaiveDate> = sown.iter().map(|s| s.day).collect();
    for day in days {
        let done = planned_entries(plan, garden, day).into_iter();
        let done = done.filter_map(|entry| match entry.event {
            Event::Sown { crop, cells, cups } => Some((crop, cells, cups)),
            _ => None,
        });
        let told = sown.iter().filter(|s| s.day == day).map(|s| {
            let cells = s.sowing.expect("a card").cells;
            (s.crop.to_owned(), cells, Some(s.cups))
        });
        assert!(done.eq(told), "{day}");
    }
}

#[rstest]
#[case("attic-shelf")]
#[case("harbour-wall")]
#[case("lantern-court")]
#[case("mist-hill-towers")]
fn the_examples_have_cells_enough(#[case] name: &str) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    let garden = file::read(&folder.join(name)).expect("a garden").garden;
    let plan = planned(&garden);
    assert!(most_cells(&plan, &garden) <= garden.nursery.cells);
    all_is_sown(&plan, &garden);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]
    #[test]
    fn chores_never_ask_for_more_cells_than_there_are(
        cells in 2..30_u32, heads in 1..6_u32, herbs in 10..120_u32,
    ) {
        let garden = shelf(cells, heads, herbs);
        let plan = planned(&garden);
        prop_assert!(most_cells(&plan, &garden) <= cells);
        all_is_sown(&plan, &garden);
    }
}

/// Where there is room for all spares, each sowing is as certain as the handbook's.
#[test]
fn with_room_enough_every_sowing_has_its_spares() {
    let garden = shelf(500, 4, 60);
    let plan = planned(&garden);
    let sown = planned_sowings(&plan, &garden);
    assert!(!sown.is_empty());
    for sown in sown {
        let card = garden.crop(sown.crop).expect("a card");
        assert_eq!(
            sown.sowing,
            Some(sown_seed::cup_sowing(&card.seed, sown.cups))
        );
        assert_eq!(sown.chance_if_short, None);
    }
}

/// Two batches of one lettuce each, at 85.5 %, share a tray of three cells for a while: one gets
/// a spare, and the other is told how certain it is, in the garden's language.
#[rstest]
#[case::english("en")]
#[case::spanish("es")]
fn a_full_tray_is_told(#[case] language: &str) {
    let mut garden = roof();
    garden.nursery.cells = 3;
    garden.language = Language::from_code(language).expect("a language");
    let mut plan = empty_plan();
    for (hole, days) in [
        ("deck-1-1", ["2027-03-03", "2027-03-20", "2027-04-17"]),
        ("deck-1-3", ["2027-03-06", "2027-03-24", "2027-04-17"]),
        ("deck-1-5", ["2027-04-07", "2027-04-24", "2027-05-22"]),
    ] {
        plan.stays.push(head(hole, "butterhead", days));
    }
    let cells: Vec<u32> = planned_sowings(&plan, &garden)
        .iter()
        .map(|s| s.sowing.expect("a card").cells)
        .collect();
    assert_eq!(cells, [2, 1, 2]);
    let told: Vec<String> = chores::chores(&plan, &garden)
        .into_iter()
        .filter(|c| c.kind == Kind::Sow)
        .map(|c| c.details[0].clone())
        .collect();
    insta::assert_snapshot!(format!("a_full_tray_{language}"), told.join("\n"));
}

/// The diary of somebody who does all as planned, up to a day, and never says a word of spares.
fn as_planned_until(plan: &Plan, garden: &Garden, until: NaiveDate) -> Vec<Entry> {
    let days = plan.start.iter_days().take_while(|d| *d < until);
    days.flat_map(|day| planned_entries(plan, garden, day))
        .collect()
}

/// What became of spares nobody knows: they teach nothing, and nothing is planned from them.
#[test]
fn spares_that_nobody_mentions_teach_nothing() {
    let garden = shelf(500, 4, 60);
    let plan = planned(&garden);
    let mut counted = 0;
    for today in ["2027-04-28", "2027-06-16", "2027-08-11"].map(date) {
        let entries = as_planned_until(&plan, &garden, today);
        let (state, refused) = diary::replay(&garden, &entries, today);
        assert_eq!(refused, []);
        let spares: u32 = state.sowings.iter().map(|s| s.remaining()).sum();
        let waits = |s: &&steadyleaf::plan::Stay| {
            s.sow.is_some_and(|sow| sow < today) && s.transplant >= today
        };
        let waiting = plan.stays.iter().filter(waits).count();
        assert!(spares as usize > waiting, "some spares are left");
        for known in calibrate(&garden, &state, today) {
            let card = garden.crop(&known.crop).expect("a card");
            let cell = sown_seed::cell_sowing(&card.seed).chance;
            assert!(
                (known.cell_survival.mean() - cell).abs() < 1e-9,
                "{}",
                known.crop
            );
        }
        let setting =
            PlanningState::from_diary(&garden, &state, today).expect("a day of the garden");
        let on_hand: u32 = setting.seedlings.iter().map(|s| s.count).sum();
        assert_eq!(on_hand as usize, waiting, "{today}");
        counted += waiting;
    }
    assert!(counted > 0);
}

/// A loss is of what still waits in the nursery, not of spares that were left over long ago; and
/// what it is of is learned from.
#[test]
fn losses_are_of_what_waits() {
    let garden = roof();
    let sown = |on: &str, cells, cups| Entry {
        on: date(on),
        event: Event::Sown {
            crop: "butterhead".to_owned(),
            cells,
            cups: Some(cups),
        },
        as_planned: true,
    };
    let mut entries = vec![sown("2027-03-03", 5, 2)];
    entries.extend(["deck-1-1", "deck-1-3"].map(|hole| Entry {
        on: date("2027-03-24"),
        event: Event::Transplanted {
            crop: "butterhead".to_owned(),
            hole: hole.to_owned(),
            sown_on: None,
            want: None,
            given: false,
        },
        as_planned: true,
    }));
    entries.push(sown("2027-03-27", 4, 2));
    entries.push(Entry {
        on: date("2027-04-03"),
        event: Event::SeedlingsLost {
            crop: "butterhead".to_owned(),
            cells: 1,
            sown_on: None,
            why: None,
        },
        as_planned: false,
    });
    let (state, refused) = diary::replay(&garden, &entries, date("2027-04-07"));
    assert_eq!(refused, []);
    let lost: Vec<u32> = state.sowings.iter().map(|s| s.lost).collect();
    assert_eq!(lost, [0, 1]);
    let known = calibrate(&garden, &state, date("2027-04-07"));
    let of_lettuce = known.iter().find(|l| l.crop == "butterhead").expect("it");
    assert_eq!(of_lettuce.sown_and_lost_cells, (4, 1));
}

/// A sowing of which nobody put down that it was set out, though it must have been by its age, has
/// nothing left to lose; where it was said which one it is, it is that.
#[rstest]
#[case::both_wait("2027-03-27", "2027-04-03", None, 1, [1, 0])]
#[case::the_first_is_too_old("2027-05-05", "2027-05-12", None, 1, [0, 1])]
#[case::more_than_the_second_has("2027-05-05", "2027-05-12", None, 5, [1, 4])]
#[case::of_the_second("2027-03-27", "2027-04-03", Some("2027-03-27"), 1, [0, 1])]
#[case::all_of_the_second("2027-03-27", "2027-04-03", Some("2027-03-27"), 4, [0, 4])]
#[case::of_the_first_all_the_same("2027-05-05", "2027-05-12", Some("2027-03-03"), 1, [1, 0])]
fn losses_are_of_what_can_be_in_the_nursery(
    #[case] second: &str,
    #[case] on: &str,
    #[case] sown_on: Option<&str>,
    #[case] cells: u32,
    #[case] right: [u32; 2],
) {
    let sown = |on: &str, cells| Entry {
        on: date(on),
        event: Event::Sown {
            crop: "butterhead".to_owned(),
            cells,
            cups: Some(2),
        },
        as_planned: false,
    };
    let lost = Entry {
        on: date(on),
        event: Event::SeedlingsLost {
            crop: "butterhead".to_owned(),
            cells,
            sown_on: sown_on.map(date),
            why: None,
        },
        as_planned: false,
    };
    let entries = [sown("2027-03-03", 5), sown(second, 4), lost];
    let (state, refused) = diary::replay(&roof(), &entries, date(on));
    assert_eq!(refused, []);
    let lost: Vec<u32> = state.sowings.iter().map(|s| s.lost).collect();
    assert_eq!(lost, right);
}

/// Lettuce sown in a hot tray: 12 % of it would come at 30 C (Harrington & Minges 1954 in Knott's
/// Handbook for Vegetable Growers, 1997). The chore says so on the hot days alone, of the crops
/// that it is true of alone.
#[rstest]
#[case::hot(34.0, 28.0, true)]
#[case::mild(22.0, 18.0, false)]
fn seed_that_would_not_come_up_is_told(#[case] day: f64, #[case] night: f64, #[case] told: bool) {
    let mut garden = roof();
    garden.nursery.cover = Cover::Indoors {
        day: Temperature::celsius(day),
        night: Temperature::celsius(night),
        dli: DailyLight::mol(12.0),
        photoperiod: Hours::hours(16.0),
    };
    let mut plan = empty_plan();
    for (crop, days) in [
        ("butterhead", ["2027-03-03", "2027-03-20", "2027-04-17"]),
        ("sweet-basil", ["2027-03-03", "2027-03-20", "2027-04-17"]),
    ] {
        plan.stays.push(head("deck-1-1", crop, days));
    }
    let chores = chores::chores(&plan, &garden);
    let sow = chores.iter().find(|c| c.kind == Kind::Sow).expect("it");
    let hint = "Too warm here for the seed of butterhead lettuce, of which little would come up: \
                let it sprout for three days in a cool place, below 27 C, then give it its place \
                and light.";
    assert_eq!(sow.details.iter().any(|line| line == hint), told);
    let warm = sow.details.iter().filter(|line| line.contains("Too warm"));
    assert_eq!(warm.count(), usize::from(told));
}

/// What a garden file says of seeds in the house.
fn in_the_house(seeds: &str) -> Vec<SeedStock> {
    let text = format!(
        "garden: Reed Lane shelf
start: 2027-03-01
place: {{ latitude: 52, cover: indoors }}
loops:
  - loop: shelf
    tank: {{ holds: 60 l }}
    banks: [{{ bank: shelf, form: level, tubes: 4, length: 1 m }}]
wants: [{{ want: heads, from_crops: [butterhead], each_week: 2 heads }}]
seeds: [{seeds}]
"
    );
    let garden = file::parse(&text, "garden.yaml", &Cards::built_in());
    garden.unwrap_or_else(|e| panic!("{e}")).seeds
}

/// Seed that the garden states is used first: only what is lacking is told of, and the page says
/// what is there. Seed that goes off before it is sown is no use.
#[rstest]
#[case::enough("{ crop: coriander, count: 100000 }", None)]
#[case::some("{ crop: coriander, count: 40 }", Some(40))]
#[case::old("{ crop: coriander, count: 40, best_before: 2027-03-01 }", Some(0))]
fn seeds_in_the_house_are_not_bought(#[case] seeds: &str, #[case] used: Option<u64>) {
    let mut garden = shelf(24, 3, 20);
    let plan = planned(&garden);
    garden.seeds = in_the_house(seeds);
    let with = planned(&garden);
    assert_eq!(with.stays, plan.stays);
    let needed = |plan: &Plan| {
        let sown = planned_sowings(plan, &garden);
        let orders = seed_stock::seed_orders(plan, &garden, &sown).into_iter();
        let orders = orders.filter(|o| o.crop == "coriander");
        orders.map(|o| o.seeds).sum::<u64>()
    };
    let (all, lacking) = (needed(&plan), needed(&with));
    assert!(all > 40, "{all}");
    assert_eq!(all - lacking, used.unwrap_or(all));
    let told = chores::chores(&with, &garden).into_iter();
    let told = told.filter(|c| c.kind == Kind::SeedOrder && c.about.contains("coriander"));
    assert_eq!(told.count(), usize::from(lacking > 0));
    let supplies = chores::supplies(&with, &garden).seeds.into_iter();
    let supply = supplies
        .into_iter()
        .find(|s| s.crop == "coriander")
        .unwrap();
    assert_eq!((supply.seeds, supply.in_house), (Some(all), all - lacking));
}
