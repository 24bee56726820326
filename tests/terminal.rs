//! What the terminal shows: views of a small garden and a plan made by hand, as snapshots.

use std::path::PathBuf;

use anstream::adapter::strip_str;
use chrono::{Days, NaiveDate};
use rstest::rstest;
use steadyleaf::chores;
use steadyleaf::garden::Garden;
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::file;
use steadyleaf::plan::{
    AdvisedChange, CostFigures, ExcludedWeek, Plan, PlannedHarvest, RigChange, Stay, WantGain,
    WantOutcome, WeekOutcome, water,
};
use steadyleaf::planner::explain::bottleneck::Limit;
use steadyleaf::planner::problem::{Batch, Hole, HoleKind, Problem, StayEnd, WeekYield};
use steadyleaf::summary::codes::crop_codes;
use steadyleaf::summary::{figures, season, snapshot};
use steadyleaf::terminal::{self, MAX_COLUMNS};

const GARDEN: &str = r#"
garden: Thimble Yard
start: 2027-03-01
weeks: 8
place:
  latitude: 48
  longitude: 11
  elevation: 500 m
  timezone: Europe/Vienna
  cover: { kind: indoors, day: 24 C, night: 19 C, light: 17 mol, hours: 16 }
loops:
  - loop: bench
    tank: { holds: 40 l, never_below: 50 % }
    pump: { moves: 600 l/h, lifts: 2.5 m }
    banks:
      - { bank: deck, form: level, tubes: 2, length: 60 cm, hole_every: 15 cm, tube_gap: 30 cm, headroom: 28 cm }
      - { bank: wall, form: wall, tubes: 2, length: 60 cm, hole_every: 15 cm, tube_gap: 35 cm, top: 1.6 m }
      - { bank: corner, form: tower, height: 50 cm, faces: 3, hole_every: 25 cm }
nursery: { cells: 20 }
wants:
  - { want: salad heads, from_crops: [butterhead, pak-choi], each_week: 2 heads }
  - { want: basil, from_crops: [sweet-basil], each_week: 30 g, between: [03-15, 10-15] }
  - { want: tomatoes, from_crops: [cherry-tomato], each_week: 100 g }
rhythm:
  workdays: [wed, sat]
  away: [{ from: 2027-04-05, until: 2027-04-11 }]
  remind_at: "08:00"
"#;

fn garden() -> Garden {
    file::parse(GARDEN, "garden.yaml", &Cards::built_in()).unwrap_or_else(|e| panic!("{e}"))
}

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn stay(hole: &str, crop: &str, sow: &str, transplant: &str, harvests: &[(&str, f64)]) -> Stay {
    Stay {
        hole: hole.into(),
        crop: crop.into(),
        want: if crop == "sweet-basil" {
            "basil"
        } else {
            "salad heads"
        }
        .into(),
        sow: Some(day(sow)),
        on_hand: false,
        stands: false,
        for_seed: false,
        was_due: None,
        harvested: Vec::new(),
        transplant: day(transplant),
        removal: day(harvests.last().unwrap().0),
        harvests: harvests
            .iter()
            .map(|&(d, amount)| PlannedHarvest {
                day: day(d),
                amount,
            })
            .collect(),
    }
}

fn outcome(
    want: &str,
    unit: &str,
    each_week: f64,
    weeks: &[(f64, Option<ExcludedWeek>)],
) -> WantOutcome {
    let counted = weeks.iter().filter(|w| w.1.is_none());
    let met: f64 = counted.clone().map(|w| (w.0 / each_week).min(1.0)).sum();
    WantOutcome {
        want: want.into(),
        unit: unit.into(),
        each_week,
        weeks: weeks
            .iter()
            .enumerate()
            .map(|(at, &(delivered, not_counted))| WeekOutcome {
                week: format!("2027-W{:02}", 9 + at),
                monday: day("2027-03-01") + Days::new(7 * at as u64),
                target: if not_counted.is_some() {
                    0.0
                } else {
                    each_week
                },
                delivered,
                not_counted,
                limit: (not_counted.is_none() && delivered < 0.9 * each_week)
                    .then_some([Limit::Space, Limit::Nursery][at % 2]),
            })
            .collect(),
        met: counted.clone().next().map(|_| met / counted.count() as f64),
        most: Vec::new(),
    }
}

fn plan() -> Plan {
    use ExcludedWeek::{BeforeFirstHarvest, NobodyThere, NotWanted};
    let early = (0.0, Some(BeforeFirstHarvest));
    let mut plan = Plan {
        schema: 1,
        made_by: "steadyleaf 0.1.0".into(),
        garden: "Thimble Yard".into(),
        made_from: "0".into(),
        diary: String::new(),
        seen: vec![],
        start: day("2027-03-01"),
        last: day("2027-04-25"),
        wants: vec![
            outcome(
                "salad heads",
                "heads",
                2.0,
                &[
                    early,
                    early,
                    early,
                    early,
                    (1.0, None),
                    (0.0, Some(NobodyThere)),
                    (2.0, None),
                    (2.0, None),
                ],
            ),
            outcome(
                "basil",
                "g",
                30.0,
                &[
                    (0.0, Some(NotWanted)),
                    (0.0, Some(NotWanted)),
                    early,
                    early,
                    early,
                    (0.0, Some(NobodyThere)),
                    (0.0, None),
                    (12.5, None),
                ],
            ),
            outcome("tomatoes", "g", 100.0, &[early; 8]),
        ],
        stays: vec![
            stay(
                "deck-1-1",
                "butterhead",
                "2027-03-03",
                "2027-03-17",
                &[("2027-04-14", 1.0)],
            ),
            stay(
                "deck-1-2",
                "pak-choi",
                "2027-03-03",
                "2027-03-13",
                &[("2027-04-03", 1.0)],
            ),
            stay(
                "deck-1-2",
                "butterhead",
                "2027-03-20",
                "2027-04-03",
                &[("2027-05-01", 1.0)],
            ),
            stay(
                "deck-2-4",
                "butterhead",
                "2027-03-03",
                "2027-03-20",
                &[("2027-04-17", 1.0)],
            ),
            stay(
                "wall-1-1",
                "butterhead",
                "2027-03-06",
                "2027-03-24",
                &[("2027-04-21", 1.0)],
            ),
            stay(
                "wall-2-1",
                "pak-choi",
                "2027-03-17",
                "2027-03-31",
                &[("2027-04-24", 1.0)],
            ),
            stay(
                "corner-1-2",
                "sweet-basil",
                "2027-03-03",
                "2027-03-20",
                &[("2027-04-21", 12.5), ("2027-05-05", 18.0)],
            ),
        ],
        cleans: vec![],
        water: vec![],
        figures: CostFigures {
            cost_milli: 120_000,
            nothing_milli: 900_000,
            bound_milli: None,
        },
        would_help: Vec::new(),
        not_kept: Vec::new(),
        seed: Vec::new(),
    };
    plan.water = water::simulate_loops(
        &garden(),
        (plan.start, plan.last),
        &plan.stays,
        &plan.cleans,
    );
    plan
}

/// A problem in which the garden's holes all take what is planned; tomatoes are not ripe in
/// time and ask for a solution of their own.
fn problem(garden: &Garden) -> Problem {
    let batch = |crop: &str, want| Batch {
        crop: crop.into(),
        want,
        sow: 2,
        transplant: 16,
        cells_milli: 1100,
        lot: None,
        once: true,
        radius_mm: vec![40; 28],
        ends: vec![StayEnd {
            day: 44,
            yields: vec![WeekYield {
                week: 6,
                milli: 1000,
            }],
        }],
    };
    let layout = steadyleaf::garden::holes::layout(garden);
    Problem {
        schema: 2,
        start: garden.start,
        days: 56,
        tail: 0,
        workdays: vec![],
        changeover: 0,
        neighbours_apart: 7,
        nursery_cells_milli: 20_000,
        stay_cost_milli: 1000,
        wants: vec![],
        kinds: vec![HoleKind {
            batches: vec![
                batch("butterhead", 0),
                batch("pak-choi", 0),
                batch("sweet-basil", 1),
            ],
        }],
        lots: vec![],
        holes: layout
            .holes
            .iter()
            .map(|hole| Hole {
                id: hole.id.clone(),
                kind: 0,
                tube: hole.tube,
                r#loop: hole.r#loop,
            })
            .collect(),
        pairs: vec![],
        apart: vec![("butterhead".into(), "cherry-tomato".into())],
        cleans: vec![],
        standing: vec![],
    }
}

/// The text without colour, which is how a pipe gets it; every line fits the screen.
fn plain(text: &str) -> String {
    let text = strip_str(text).to_string();
    for line in text.lines() {
        assert!(line.chars().count() <= MAX_COLUMNS, "too wide: {line}");
        assert_eq!(line, line.trim_end(), "spaces at the end");
    }
    text
}

/// Planned again later, fewer weeks are told of; one that is begun counts.
#[rstest]
#[case(0, 0)]
#[case(6, 0)]
#[case(7, 1)]
#[case(20, 2)]
fn weeks_that_are_left_are_counted(#[case] later: u64, #[case] gone: u32) {
    let garden = garden();
    let mut plan = plan();
    let weeks = |plan: &Plan| figures::summary(plan, &garden, &problem(&garden)).weeks;
    let all = weeks(&plan);
    plan.start = plan.start + Days::new(later);
    assert_eq!(weeks(&plan), all - gone);
}

#[test]
fn summary() {
    let garden = garden();
    let summary = figures::summary(&plan(), &garden, &problem(&garden));
    let made = [
        PathBuf::from("plan/plan.json"),
        PathBuf::from("plan/calendar.ics"),
    ];
    insta::assert_snapshot!(plain(&terminal::summary::render_summary(
        &summary, &garden, &made
    )));
}

/// A want that a change leaves as good as it was is not told with nothing.
#[test]
fn what_helps_is_told_with_what_it_gains() {
    let garden = garden();
    let mut plan = plan();
    let gain = |want: &str, each_week| WantGain {
        want: want.to_owned(),
        each_week,
    };
    plan.would_help = vec![AdvisedChange {
        change: RigChange::Nursery { cells: 3 },
        gains: vec![gain("basil", 5.0), gain("salad heads", -0.01)],
    }];
    let summary = figures::summary(&plan, &garden, &problem(&garden));
    let text = plain(&terminal::summary::render_summary(&summary, &garden, &[]));
    assert!(
        text.contains("3 cells more in the nursery: 5 g more basil a week.\n"),
        "{text}"
    );
}

/// A tank that is too small for every week is told of once, with the worst of it; the absence
/// (5 to 11 April) stands by itself.
#[test]
fn a_small_tank_does_not_bury_the_holiday() {
    let garden = garden();
    let mut plan = plan();
    let low = |from: &str, until: &str, lowest, lacking| water::LowLevel {
        from: day(from),
        until: day(until),
        lowest,
        lacking,
    };
    plan.water[0].low = vec![
        low("2027-03-19", "2027-03-20", 14.0, 0.0),
        low("2027-03-27", "2027-03-27", 12.0, 0.0),
        low("2027-04-06", "2027-04-13", 0.0, 3.0),
        low("2027-04-16", "2027-04-17", 15.0, 0.0),
    ];
    let summary = figures::summary(&plan, &garden, &problem(&garden));
    let text = plain(&terminal::summary::render_summary(&summary, &garden, &[]));
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert_eq!(
        text.matches("A full tank does not last").count(),
        2,
        "{text}"
    );
    for sentence in [
        "A full tank does not last from Tue 6 Apr 2027 to Tue 13 Apr 2027: it runs dry, and its plants go without 3 l. Ask somebody",
        "A full tank does not last from one workday to the next 3 times from Fri 19 Mar 2027 to Sat 17 Apr 2027, at the worst on Sat 27 Mar 2027: it falls to 12 l, below its top-up line. Top it up on more days",
    ] {
        assert!(text.contains(sentence), "{text}");
    }
}

#[rstest]
#[case::with_work("2027-04-15", 80)]
#[case::away("2027-04-07", 80)]
#[case::narrow("2027-04-15", 40)]
fn week(#[case] date: &str, #[case] wide: usize) {
    let (garden, plan) = (garden(), plan());
    let chores = terminal::week::chores_of_week(chores::chores(&plan, &garden), day(date));
    let text = plain(&terminal::week::render_week(
        &chores,
        &garden,
        day(date),
        wide,
    ));
    assert!(text.lines().all(|line| line.chars().count() <= wide));
    let name = if wide == MAX_COLUMNS {
        format!("week-{date}")
    } else {
        format!("week-{date}-in-{wide}")
    };
    insta::assert_snapshot!(name, text);
}

#[rstest]
#[case::before_anything_stands("2027-03-01", 80)]
#[case::a_plant_leaves_and_one_comes("2027-04-03", 80)]
#[case::narrow("2027-04-15", 34)]
fn map(#[case] date: &str, #[case] wide: usize) {
    let (garden, plan) = (garden(), plan());
    let holes = snapshot::snapshot(&plan, &garden, day(date));
    let text = terminal::map::render_map(&holes, &garden, day(date), wide);
    insta::assert_snapshot!(format!("map-{date}-in-{wide}"), plain(&text));
}

/// Views in a narrow window: nothing is lost, and nothing is wider than the window.
#[rstest]
#[case(40)]
#[case(24)]
fn narrowed(#[case] wide: usize) {
    let text = plain(&terminal::check::render_check(&garden()));
    let narrow = terminal::wrap_lines(&text, wide);
    assert!(
        narrow.lines().all(|line| line.chars().count() <= wide),
        "{narrow}"
    );
    let letters = |text: &str| {
        text.chars()
            .filter(|c| !c.is_whitespace())
            .collect::<String>()
    };
    assert_eq!(letters(&narrow), letters(&text));
    assert_eq!(terminal::wrap_lines(&text, MAX_COLUMNS), text);
}

#[test]
fn what_leaves_is_shown_on_the_day_on_which_it_makes_room() {
    let (garden, plan) = (garden(), plan());
    let crop_on = |date| {
        let holes = snapshot::snapshot(&plan, &garden, day(date));
        let hole = holes.into_iter().find(|h| h.hole == "deck-1-2").unwrap();
        hole.plant.map(|p| p.crop)
    };
    assert_eq!(crop_on("2027-03-12"), None);
    assert_eq!(crop_on("2027-03-13").as_deref(), Some("pak-choi"));
    assert_eq!(crop_on("2027-04-03").as_deref(), Some("pak-choi"));
    assert_eq!(crop_on("2027-04-04").as_deref(), Some("butterhead"));
}

#[test]
fn plants_only_grow_while_nothing_is_cut() {
    let (garden, plan) = (garden(), plan());
    let grown = |date| {
        let holes = snapshot::snapshot(&plan, &garden, day(date));
        let hole = holes.into_iter().find(|h| h.hole == "deck-1-1").unwrap();
        hole.plant.unwrap().grown.unwrap()
    };
    let course: Vec<f64> = ["2027-03-17", "2027-03-24", "2027-03-31", "2027-04-14"]
        .map(grown)
        .into();
    assert_eq!(course[0], 0.0);
    assert!(course.is_sorted_by(|a, b| a < b), "{course:?}");
    assert!(course[3] <= 1.0);
}

/// The same garden under the sky, cold in winter and warm in summer.
#[test]
fn one_crop_in_its_garden() {
    let sky = "cover: open air\n  climate: { coldest: [-4, -3, 0, 4, 9, 13, 15, 15, 11, 6, 1, -3], warmest: [2, 4, 9, 14, 20, 24, 27, 26, 20, 14, 7, 3] }";
    let lamps = "cover: { kind: indoors, day: 24 C, night: 19 C, light: 17 mol, hours: 16 }";
    let text = GARDEN.replace(lamps, sky);
    let garden = file::parse(&text, "garden.yaml", &Cards::built_in()).unwrap();
    let cards = Cards::built_in();
    let card = cards.iter().find(|c| c.key == "butterhead").unwrap();
    let years = season::crop_years(&garden, card);
    insta::assert_snapshot!(plain(&terminal::crops::render_card(
        card,
        garden.units,
        &years
    )));
}

#[test]
fn all_crops() {
    let cards: Vec<_> = Cards::built_in().iter().cloned().collect();
    let text = plain(&terminal::crops::render_crops(&cards, Default::default()));
    for card in &cards {
        assert!(
            text.lines().any(|line| line.starts_with(&card.key)),
            "{}",
            card.key
        );
    }
}

#[test]
fn check() {
    insta::assert_snapshot!(plain(&terminal::check::render_check(&garden())));
}

#[test]
fn codes_tell_crops_apart() {
    let told = crop_codes(["pak-choi", "parsley", "pea", "romaine", "rocket", "r"]);
    let codes: Vec<&str> = told.iter().map(|(_, code)| code.as_str()).collect();
    assert_eq!(codes, ["Pa", "Pr", "Pe", "Ro", "Rc", "R1"]);
}
