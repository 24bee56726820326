//! Planning again around what stands: a year lived, and days on which nothing is new.

mod lived;

use chrono::NaiveDate;
use lived::{Fate, live};
use rstest::rstest;
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::{Absence, Garden, file};
use steadyleaf::plan::make;
use steadyleaf::planner::search::Effort;
use steadyleaf::quantity;

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn garden(text: &str) -> Garden {
    file::parse(text, "garden.yaml", &Cards::built_in()).unwrap_or_else(|e| panic!("{e}"))
}

/// Twenty-four holes under lamps.
fn shelf() -> Garden {
    garden(
        "garden: Reed Lane shelf
start: 2027-03-01
weeks: 52
place:
  latitude: 52
  cover: { kind: indoors, day: 22 C, night: 18 C, light: 15 mol, hours: 16 }
loops:
  - loop: shelf
    tank: { holds: 60 l }
    banks:
      - { bank: shelf, form: level, tubes: 4, length: 1 m, hole_every: 15 cm }
nursery: { cells: 60 }
wants:
  - { want: heads, from_crops: [butterhead, pak-choi], each_week: 4 heads }
  - { want: rocket, from_crops: [rocket], each_week: 70 g }
rhythm:
  workdays: [wed, sat]
  away: [{ from: 2027-08-02, until: 2027-08-12 }]
",
    )
}

fn slower(crop: &str) -> f64 {
    match crop {
        "butterhead" => 1.12,
        "pak-choi" => 0.96,
        _ => 1.05,
    }
}

/// The garden as somebody knows it who knows every pace and every holiday from the start; and has
/// neither deaths nor heat nor light harvests to reckon with, so that it is never known too little.
fn known(garden: &Garden, fate: &Fate) -> Garden {
    let mut garden = garden.clone();
    for crop in &mut garden.crops {
        let days = crop.hole.days.get() * (fate.pace)(&crop.key);
        crop.hole.days = quantity::Days::days(days);
    }
    for (_, from, until) in fate.booked {
        let (from, until) = (date(from), date(until));
        garden.rhythm.away.push(Absence { from, until });
    }
    garden.rhythm.away.sort_by_key(|a| a.from);
    garden
}

fn met(garden: &Garden, targets: &[Vec<i64>], harvested: &[Vec<i64>]) -> f64 {
    let (mut wanted, mut met) = (0.0, 0.0);
    for (want, weeks) in targets.iter().enumerate() {
        let each = garden.wants[want].each_week.milli() as f64;
        for (week, &target) in weeks.iter().enumerate() {
            wanted += target as f64 / each;
            met += target.min(harvested[want][week]) as f64 / each;
        }
    }
    met / wanted
}

#[rstest]
#[case::kind(Fate { seed: 1, pace: |_| 1.0, dies: 0.0, kept_away: 0.0, booked: &[], heat: None })]
#[case::harsh(Fate {
    seed: std::env::var("SEED").map_or(2, |s| s.parse().unwrap()),
    pace: slower,
    dies: 0.03,
    kept_away: 0.02,
    booked: &[
        ("2027-04-26", "2027-05-28", "2027-06-03"),
        ("2027-09-06", "2027-10-16", "2027-10-22"),
    ],
    heat: Some((date("2027-06-14"), date("2027-06-21"))),
})]
fn a_year_is_lived(#[case] fate: Fate) {
    let garden = shelf();
    let folder = tempfile::tempdir().unwrap();
    let lived = live(&garden, fate, folder.path());
    let best = make(&known(&garden, &fate), "", Effort::Normal).unwrap();
    let weeks = garden.weeks as usize;
    let targets: Vec<Vec<i64>> = best
        .built
        .problem
        .wants
        .iter()
        .map(|w| w.target_milli[..weeks].to_vec())
        .collect();
    let could = met(&garden, &targets, &best.solution.supply(&best.built.problem));
    let did = met(&garden, &targets, &lived.harvested);
    println!(
        "met {did:.3} of {could:.3} that could be; {} died; {} plannings, {} changes told; refused {:?}",
        lived.died, lived.plannings, lived.changes, lived.refused
    );
    for (want, weeks) in lived.harvested.iter().enumerate() {
        println!("{}: {:?}", garden.wants[want].name, weeks.iter().map(|m| m / 1000).collect::<Vec<_>>());
    }
    assert!(lived.refused.is_empty());
    assert!(did >= 0.9 * could, "{did} of {could}");
}
