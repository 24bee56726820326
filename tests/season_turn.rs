//! The turn of the season: one crop of a want after another, one want after another in the same
//! tubes with the cleaning between.

use std::collections::BTreeSet;

use crate::lantern::date;
use crate::plans::quick_plan;

use chrono::{Days, NaiveDate};
use steadyleaf::chores::{self, Chore, Kind};
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::{Garden, file};
use steadyleaf::plan::{Plan, Planned, Stay};
use steadyleaf::summary::figures;
use steadyleaf::terminal;

fn garden(text: &str) -> Garden {
    let garden = file::parse(text, "garden.yaml", &Cards::built_in());
    garden.unwrap_or_else(|refusal| panic!("{}", refusal.render(false)))
}

fn planned(garden: &Garden) -> Planned {
    quick_plan(garden)
}

fn of_crop<'a>(plan: &'a Plan, crop: &str) -> Vec<&'a Stay> {
    plan.stays.iter().filter(|s| s.crop == crop).collect()
}

fn harvest_days(plan: &Plan, crop: &str) -> BTreeSet<NaiveDate> {
    let harvests = of_crop(plan, crop).into_iter().flat_map(|s| &s.harvests);
    let days = harvests.map(|h| h.day);
    days.filter(|d| *d <= plan.last).collect()
}

/// Greens in the open on a warm coast: chard is not ripe in the first spring weeks, spinach bolts
/// in summer.
fn greens() -> Garden {
    garden(
        "garden: Lantern Court
start: 2027-03-01
weeks: 40
place:
  latitude: 39.5
  cover: open air
  climate:
    coldest: [7, 8, 9, 11, 14, 18, 21, 21, 18, 15, 10, 8]
    warmest: [17, 17, 20, 21, 24, 28, 30, 31, 28, 24, 20, 17]
loops:
  - loop: roof
    tank: { holds: 60 l }
    banks:
      - { bank: deck, form: level, tubes: 2, length: 1 m, hole_every: 15 cm }
nursery: { cells: 20 }
wants:
  - { want: greens, from_crops: [spinach, chard], each_week: 15 g }
rhythm: { workdays: [wed, sat] }
",
    )
}

#[test]
fn one_crop_takes_over_from_another_without_a_gap() {
    let garden = greens();
    let planned = planned(&garden);
    let plan = &planned.plan;
    let summary = figures::summary(plan, &garden, &planned.built.problem);
    let turn = &summary.turns[0];
    assert_eq!(
        (&*turn.want, &*turn.from, &*turn.to),
        ("greens", "spinach", "chard")
    );

    // The last of the one and the first of the other are what the stays say.
    let (spinach, chard) = (harvest_days(plan, "spinach"), harvest_days(plan, "chard"));
    let month = Days::new(28);
    assert!(spinach.contains(&turn.last) && chard.contains(&turn.first));
    let after = turn.last + Days::new(1)..=turn.last + month;
    assert_eq!(spinach.range(after).next(), None);
    let before = turn.first - month..turn.first;
    assert_eq!(chard.range(before).next(), None);

    // Nothing is missing between them.
    let days = turn.last.min(turn.first)..=turn.last.max(turn.first);
    let between = plan.wants[0].weeks.iter().filter(|w| {
        w.target > 0.0 && w.monday <= *days.end() && w.monday + Days::new(6) >= *days.start()
    });
    let between: Vec<f64> = between.map(|w| w.delivered).collect();
    assert!(!between.is_empty());
    assert!(between.iter().all(|d| *d > 0.0), "{between:?}");

    // Summary, JSON and calendar tell of it.
    let (last, first) = (turn.last.format("%-d %b"), turn.first.format("%-d %b"));
    let told = terminal::summary::render_summary(&summary, &garden, &[]);
    let line = format!("greens: last spinach on {last}, first Swiss chard on {first}.");
    assert!(told.contains(&line), "{line}\n{told}");
    let json = serde_json::to_value(&summary).unwrap();
    assert_eq!(json["turns"][0]["last"], turn.last.to_string());
    assert_eq!(json["turns"][0]["first"], turn.first.to_string());
    let chores = chores::chores(plan, &garden);
    let swap = |c: &Chore| c.kind == Kind::CropChangeover && c.day == turn.first;
    assert!(chores.iter().any(swap));
}

/// Lettuce until the 20th of June, strawberries from September on, and a cleaning of both tubes
/// about the 28th of June: the strawberries can go in nowhere but in tubes that lettuce has left.
#[test]
fn strawberries_follow_lettuce_after_the_cleaning() {
    let garden = garden(
        "garden: Lantern Court
start: 2027-03-01
weeks: 32
place:
  latitude: 52
  cover: { kind: indoors, day: 21 C, night: 16 C, light: 17 mol, hours: 16 }
loops:
  - loop: roof
    tank: { holds: 60 l }
    banks:
      - { bank: deck, form: level, tubes: 2, length: 75 cm, hole_every: 15 cm }
nursery: { cells: 20 }
wants:
  - { want: heads, from_crops: [butterhead], each_week: 1 heads, between: [03-01, 06-20] }
  - { want: strawberries, from_crops: [strawberry], each_week: 80 g, between: [09-06, 12-31] }
rhythm: { workdays: [wed, sat], deep_clean: { every: 17 weeks, slack: 7 days } }
",
    );
    let plan = planned(&garden).plan;
    for want in &plan.wants {
        assert!(want.met.unwrap() > 0.9, "{}: {:?}", want.want, want.met);
    }
    let (lettuce, berries) = (of_crop(&plan, "butterhead"), of_crop(&plan, "strawberry"));
    let mut shared = 0;
    for tube in ["deck-1", "deck-2"] {
        let here = |s: &&&Stay| s.hole.starts_with(&format!("{tube}-"));
        let clean = plan.cleans.iter().find(|c| c.tube == tube).unwrap().day;
        assert!((date("2027-06-21")..=date("2027-07-05")).contains(&clean));
        // On the day itself the one comes out before, and the other goes in after.
        let lettuce: Vec<_> = lettuce.iter().filter(here).collect();
        let berries: Vec<_> = berries.iter().filter(here).collect();
        assert!(
            lettuce.iter().all(|s| s.removal <= clean),
            "{tube}, {clean}"
        );
        assert!(
            berries.iter().all(|s| s.transplant >= clean),
            "{tube}, {clean}"
        );
        shared += usize::from(!lettuce.is_empty() && !berries.is_empty());
    }
    assert!(shared > 0, "a tube that has both");
    for clean in &plan.cleans {
        let spans = |s: &&Stay| {
            let tube = s.hole.rsplit_once('-').unwrap().0;
            tube == clean.tube && s.transplant < clean.day && clean.day < s.removal
        };
        assert_eq!(plan.stays.iter().find(spans), None);
    }
}
