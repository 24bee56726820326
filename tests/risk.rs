//! The risk of a plan: where nothing is left to chance it is none, where chance is known it is
//! what the books say, and the same seed draws the same seasons.

use crate::plans::quick_plan;
use rand::SeedableRng;
use rand_pcg::Pcg64Mcg;
use rstest::rstest;
use steadyleaf::garden::Garden;
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::file;
use steadyleaf::nature::seed::{cup_sowing, probability_of_at_least};
use steadyleaf::plan::Plan;
use steadyleaf::plan::calibration::PRIOR_DEATH_RATE;
use steadyleaf::plan::risk::{Risk, WEATHER_SD_KELVIN, monthly_anomalies, simulate_risk};
use steadyleaf::terminal::risk as terminal;

fn garden() -> Garden {
    let text = "garden: Reed Lane shelf
start: 2027-03-01
weeks: 20
place:
  latitude: 52
  cover: { kind: indoors, day: 22 C, night: 18 C, light: 15 mol, hours: 16 }
loops:
  - loop: shelf
    tank: { holds: 60 l }
    banks:
      - { bank: shelf, form: level, tubes: 2, length: 1 m, hole_every: 15 cm }
nursery: { cells: 40 }
wants:
  - { want: heads, from_crops: [pak-choi], each_week: 2 heads }
rhythm: { workdays: [wed, sat], deep_clean: none }
";
    file::parse(text, "garden.yaml", &Cards::built_in()).unwrap_or_else(|e| panic!("{e}"))
}

fn plan(garden: &Garden) -> Plan {
    quick_plan(garden).plan
}

fn drawn(seasons: u32, seed: u64) -> Risk {
    let garden = garden();
    simulate_risk(&garden, &plan(&garden), &[], seasons, seed)
}

#[test]
fn the_same_seed_draws_the_same_seasons() {
    assert_eq!(drawn(20, 1), drawn(20, 1));
    assert_ne!(drawn(20, 1), drawn(20, 2));
}

/// More seasons narrow the interval about the chance of each week.
#[test]
fn more_seasons_tell_more() {
    let width = |risk: &Risk| {
        let weeks = &risk.wants[0].weeks;
        weeks.iter().map(|w| w.between.1 - w.between.0).sum::<f64>() / weeks.len() as f64
    };
    let (few, many) = (drawn(20, 1), drawn(320, 1));
    assert!(width(&many) < 0.5 * width(&few));
    for week in &many.wants[0].weeks {
        assert!(week.between.0 <= week.met && week.met <= week.between.1);
        assert!(week.met <= week.as_planned);
    }
}

/// With every crop's pace known to the day, a head comes in time unless it dies or there is no
/// seedling for it: a chance that is known without drawing. In a thousand seasons the share seen
/// lies within four standard deviations of it.
#[rstest]
#[case::usual(PRIOR_DEATH_RATE)]
#[case::here_many_die(0.4)]
fn what_is_drawn_is_what_the_chances_say(#[case] dies: f64) {
    let garden = garden();
    let mut plan = plan(&garden);
    // One sowing, of one plant, in one hole.
    let shown = |s: &&steadyleaf::plan::Stay| {
        s.sow.is_some() && plan.wants[0].weeks.iter().any(|w| w.monday > s.removal)
    };
    let stay = plan.stays.iter().find(shown).unwrap().clone();
    plan.stays = vec![stay.clone()];
    let known = steadyleaf::plan::calibration::Calibration {
        crop: "pak-choi".into(),
        pace: steadyleaf::nature::statistics::NormalPosterior {
            mean: 0.0,
            sd: 1e-9,
            observations: 1000,
        },
        margin: 0.0,
        yields: steadyleaf::nature::statistics::NormalPosterior {
            mean: 0.0,
            sd: 1e-9,
            observations: 1000,
        },
        cell_survival: steadyleaf::nature::statistics::BetaPosterior::UNIFORM,
        sown_and_lost_cells: (0, 0),
        plant_survival: steadyleaf::nature::statistics::BetaPosterior::from_mean(1.0 - dies, 30.0),
    };
    for want in &mut plan.wants {
        for week in &mut want.weeks {
            let due = stay.removal >= week.monday && (stay.removal - week.monday).num_days() < 7;
            week.target = if due { 1.0 } else { 0.0 };
            week.delivered = week.target;
        }
    }
    let card = garden.crop("pak-choi").unwrap().seed;
    let cells = cup_sowing(&card, 1).cells;
    let each = card.germination.get() * (1.0 - card.losses.get());
    let chance = probability_of_at_least(1, cells, each) * (1.0 - dies);
    let seasons = 1000;
    let seen = simulate_risk(&garden, &plan, &[known], seasons, 5).wants[0].met;
    let sd = (chance * (1.0 - chance) / f64::from(seasons)).sqrt();
    println!("{seen} seen, {chance} by the book");
    assert!((seen - chance).abs() < 4.0 * sd, "{seen} is not {chance}");
}

/// What was harvested in the first week before the plan's start is had, whatever chance does.
#[test]
fn what_was_harvested_before_the_start_is_had() {
    let garden = garden();
    let mut plan = plan(&garden);
    let first = &mut plan.wants[0].weeks[0];
    (first.target, first.delivered) = (2.0, 2.0);
    let risk = simulate_risk(&garden, &plan, &[], 20, 1);
    let week = risk.wants[0].weeks[0];
    assert_eq!((week.as_planned, week.met), (1.0, 1.0));
    assert_eq!(week.monday, plan.wants[0].weeks[0].monday);
}

/// A week that the plan leaves empty is sure not to be met: it is none of the least certain ones.
#[test]
fn weeks_planned_empty_are_not_called_uncertain() {
    let garden = garden();
    let mut plan = plan(&garden);
    let weeks = &mut plan.wants[0].weeks;
    let empty = weeks
        .iter_mut()
        .find(|w| w.is_counted() && !w.is_short())
        .unwrap();
    empty.delivered = 0.0;
    let monday = empty.monday;
    let others = |s: &steadyleaf::plan::Stay| {
        (s.harvests.iter()).all(|h| !(0..7).contains(&(h.day - monday).num_days()))
    };
    plan.stays.retain(others);
    let mut risk = simulate_risk(&garden, &plan, &[], 200, 1);
    let week = risk.wants[0]
        .weeks
        .iter()
        .find(|w| w.monday == monday)
        .unwrap();
    assert!(!week.planned && week.met <= 0.0, "{week:?}");
    let name = format!("from {}", monday.format("%-d %b"));
    let told = |risk: &Risk| {
        let told = terminal::render_risk(risk, &garden);
        told.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let without = told(&risk);
    assert!(without.contains("the least certain are met"), "{without}");
    assert!(!without.contains(&name), "{without}");
    for week in &mut risk.wants[0].weeks {
        week.planned = true;
    }
    assert!(told(&risk).contains(&format!("0 % {name}")));
}

/// Every month spreads as far as any other, and half of it is carried on: in ten thousand seasons
/// within four standard errors (of a standard deviation s, s / sqrt(2 n); of a correlation r,
/// (1 - r^2) / sqrt(n): Kenney and Keeping, Mathematics of Statistics; from memory).
#[test]
fn months_spread_alike_from_the_first() {
    let seasons = 10_000;
    let months: Vec<Vec<f64>> = (0..seasons)
        .map(|n| {
            monthly_anomalies(&mut Pcg64Mcg::seed_from_u64(n))
                .take(4)
                .collect()
        })
        .collect();
    let n = seasons as f64;
    let mean = |of: &dyn Fn(&Vec<f64>) -> f64| months.iter().map(of).sum::<f64>() / n;
    let error = WEATHER_SD_KELVIN / (2.0 * n).sqrt();
    for month in 0..4 {
        let sd = mean(&|m| m[month] * m[month]).sqrt();
        println!("month {month}: {sd}");
        assert!(
            (sd - WEATHER_SD_KELVIN).abs() < 4.0 * error,
            "month {month}: {sd}"
        );
    }
    let carried = mean(&|m| m[0] * m[1]) / (WEATHER_SD_KELVIN * WEATHER_SD_KELVIN);
    assert!((carried - 0.5).abs() < 4.0 * 0.75 / n.sqrt(), "{carried}");
}

/// Spares never harm, and where fewer come up they buy more.
#[test]
fn spares_buy_more_where_fewer_come_up() {
    let garden = garden();
    let plan = plan(&garden);
    let gained = |garden: &Garden| simulate_risk(garden, &plan, &[], 100, 3).spares[0].weeks;
    let usual = gained(&garden);
    let mut poor = garden.clone();
    for crop in &mut poor.crops {
        crop.seed.losses = steadyleaf::units::Share::fraction(0.45);
    }
    let poorer = gained(&poor);
    println!("{usual} weeks usually, {poorer} where half is lost");
    assert!(usual >= 0.0 && poorer >= usual);
}
