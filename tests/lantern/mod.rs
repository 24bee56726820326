//! An invented rooftop garden and a hand-made plan of its first spring.

use chrono::NaiveDate;
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::{Garden, file};
use steadyleaf::plan::{
    CostFigures, Plan, PlannedHarvest, SCHEMA, Stay, TubeClean, WantOutcome, water,
};
use steadyleaf::units::{Conductivity, Share, Years};

pub const FILE: &str = r#"
garden: Lantern Court rooftop
start: 2027-03-01
weeks: 52
place:
  latitude: 39.5
  longitude: -0.4
  elevation: 20 m
  timezone: Europe/Madrid
  cover: open air
  climate:
    coldest: [7, 8, 9, 11, 14, 18, 21, 21, 18, 15, 10, 8]
    warmest: [17, 17, 20, 21, 24, 28, 30, 31, 28, 24, 20, 17]
loops:
  - loop: roof
    tank: { holds: 120 l, never_below: 60 % }
    pump: { moves: 1000 l/h, lifts: 2.5 m }
    banks:
      - { bank: deck, form: level, tubes: 4, length: 1 m, bore: 104 mm, hole_every: 15 cm, tube_gap: 30 cm }
      - { bank: wall, form: wall, tubes: 3, length: 2 m, bore: 104 mm, hole_every: 15 cm, tube_gap: 35 cm, top: 1.8 m }
nursery: { cells: 60 }
wants:
  - { want: salad heads, from_crops: [butterhead, pak-choi], each_week: 6 heads }
  - { want: basil, from_crops: [sweet-basil], each_week: 80 g }
rhythm:
  workdays: [wed, sat]
"#;

/// The garden, with what the tests reckon with set apart from what the cards may come to say.
pub fn garden() -> Garden {
    let mut garden = file::parse(FILE, "garden.yaml", &Cards::built_in())
        .unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
    garden.rhythm.solution_change_interval = steadyleaf::units::Days::days(14.0);
    let names = ["butterhead lettuce", "pak choi", "sweet basil"];
    for (crop, called) in garden.crops.iter_mut().zip(names) {
        crop.name = called.to_owned();
        crop.solution.ec = (
            Conductivity::millisiemens(1.2),
            Conductivity::millisiemens(1.8),
        );
        crop.solution.ph = (5.8, 6.5);
        crop.seed.germination = Share::fraction(0.9);
        crop.seed.losses = Share::fraction(0.05);
        crop.seed.seed_viability = Some(Years::years(6.0));
        crop.seed.per_cup = 1;
    }
    garden
}

pub fn date(text: &str) -> NaiveDate {
    text.parse().expect("a date")
}

/// A plan of 52 weeks from Monday 1 March 2027 in which nothing grows.
pub fn empty_plan() -> Plan {
    let want = |want: &str, unit: &str| WantOutcome {
        want: want.to_owned(),
        unit: unit.to_owned(),
        each_week: 1.0,
        weeks: Vec::new(),
        met: None,
        most: Vec::new(),
    };
    Plan {
        schema: SCHEMA,
        made_by: "a hand".to_owned(),
        garden: "Lantern Court rooftop".to_owned(),
        made_from: String::new(),
        diary: String::new(),
        seen: Vec::new(),
        start: date("2027-03-01"),
        last: date("2028-02-27"),
        wants: vec![want("salad heads", "heads"), want("basil", "g")],
        stays: Vec::new(),
        cleans: Vec::new(),
        water: Vec::new(),
        figures: CostFigures {
            cost_milli: 0,
            nothing_milli: 0,
            bound_milli: None,
        },
        would_help: Vec::new(),
        not_kept: Vec::new(),
        seed: Vec::new(),
    }
}

/// The plan with what its plants make of the garden's tanks.
pub fn watered(plan: &Plan, garden: &Garden) -> Plan {
    let mut plan = plan.clone();
    plan.water = water::simulate_loops(garden, (plan.start, plan.last), &plan.stays, &plan.cleans);
    plan
}

/// A head: sown, transplanted, taken.
pub fn head(hole: &str, crop: &str, days: [&str; 3]) -> Stay {
    let [sow, transplant, removal] = days.map(date);
    Stay {
        hole: hole.to_owned(),
        crop: crop.to_owned(),
        want: "salad heads".to_owned(),
        sow: Some(sow),
        on_hand: false,
        stands: false,
        for_seed: false,
        was_due: None,
        harvested: Vec::new(),
        transplant,
        removal,
        harvests: vec![PlannedHarvest {
            day: removal,
            amount: 1.0,
        }],
    }
}

/// Basil, cut on the days given with what each cut gives [g]; the last is its removal.
pub fn basil(hole: &str, sow: &str, transplant: &str, cuts: &[(&str, f64)]) -> Stay {
    Stay {
        want: "basil".to_owned(),
        harvests: cuts
            .iter()
            .map(|(day, amount)| PlannedHarvest {
                day: date(day),
                amount: *amount,
            })
            .collect(),
        ..head(
            hole,
            "sweet-basil",
            [sow, transplant, cuts[cuts.len() - 1].0],
        )
    }
}

pub fn clean(tube: &str, day: &str) -> TubeClean {
    TubeClean {
        tube: tube.to_owned(),
        day: date(day),
    }
}

/// Two batches of lettuce, one of basil, a hole planted again, and a tube scrubbed.
pub fn spring() -> Plan {
    let first = ["2027-03-03", "2027-03-20", "2027-04-17"];
    let second = ["2027-03-06", "2027-03-24", "2027-04-21"];
    let cuts = [
        ("2027-04-14", 28.4),
        ("2027-04-28", 39.0),
        ("2027-05-12", 37.5),
    ];
    let mut plan = empty_plan();
    for hole in [
        "deck-1-2", "deck-1-5", "wall-2-1", "wall-2-2", "wall-2-3", "wall-2-4",
    ] {
        plan.stays.push(head(hole, "butterhead", first));
    }
    for hole in ["deck-1-1", "deck-3-4"] {
        plan.stays.push(head(hole, "butterhead", second));
    }
    for hole in ["wall-1-1", "wall-1-3"] {
        plan.stays
            .push(basil(hole, "2027-03-06", "2027-03-24", &cuts));
    }
    plan.stays.push(head(
        "deck-1-2",
        "pak-choi",
        ["2027-04-03", "2027-04-17", "2027-05-12"],
    ));
    plan.cleans.push(clean("deck-2", "2027-03-31"));
    plan
}
