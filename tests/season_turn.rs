//! The turn of the season: one crop of a want after another, one want after another in the same
//! tubes with the cleaning between, and a plant left for its seed.

use std::collections::BTreeSet;

use crate::lantern::date;

use chrono::{Days, NaiveDate};
use rstest::rstest;
use steadyleaf::calendar::{self, wire};
use steadyleaf::chores::{self, Chore, Kind};
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::{Garden, file};
use steadyleaf::language::Language;
use steadyleaf::plan::{self, Plan, Planned, Stay};
use steadyleaf::planner::build::{Setting, Stands, build_from};
use steadyleaf::planner::effort::Effort;
use steadyleaf::planner::watch::Watch;
use steadyleaf::quantity;
use steadyleaf::report::{figures, terminal};

fn garden(text: &str) -> Garden {
    let garden = file::parse(text, "garden.yaml", &Cards::built_in());
    garden.unwrap_or_else(|refusal| panic!("{}", refusal.render(false)))
}

fn planned(garden: &Garden) -> Planned {
    plan::make(garden, "0", Effort::Quick, &Watch::nobody()).expect("a plan")
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
    let told = terminal::summary::summary(&summary, &garden, &[]);
    let line = format!("greens: last spinach on {last}, first Swiss chard on {first}.");
    assert!(told.contains(&line), "{line}\n{told}");
    let json = serde_json::to_value(&summary).unwrap();
    assert_eq!(json["turns"][0]["last"], turn.last.to_string());
    assert_eq!(json["turns"][0]["first"], turn.first.to_string());
    let chores = chores::chores(plan, &garden);
    let swap = |c: &Chore| c.kind == Kind::Swap && c.day == turn.first;
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

fn with_a_seed_plant() -> Garden {
    garden(
        "garden: Lantern Court
start: 2027-03-01
weeks: 26
place:
  latitude: 52
  timezone: Europe/Amsterdam
  cover: { kind: indoors, day: 20 C, night: 16 C, light: 15 mol, hours: 14 }
loops:
  - loop: roof
    tank: { holds: 60 l }
    banks:
      - { bank: deck, form: level, tubes: 1, length: 1 m, hole_every: 15 cm }
nursery: { cells: 20 }
wants:
  - { want: rocket, from_crops: [rocket], each_week: 60 g }
keep_for_seed:
  - { hole: deck-1-3, crop: rocket, from: 2027-04-01, until: 2027-07-15 }
rhythm: { workdays: [wed, sat], deep_clean: none }
",
    )
}

#[test]
fn a_plant_left_for_its_seed_keeps_its_hole() {
    let garden = with_a_seed_plant();
    let plan = planned(&garden).plan;
    let kept: Vec<&Stay> = plan.stays.iter().filter(|s| s.for_seed).collect();
    let [kept] = kept[..] else {
        panic!("{kept:?}");
    };
    // On workdays, Saturday 3 April and Saturday 17 July.
    let days = (kept.transplant, kept.removal);
    assert_eq!(days, (date("2027-04-03"), date("2027-07-17")));
    assert_eq!((&*kept.hole, &*kept.crop), ("deck-1-3", "rocket"));
    assert!(kept.harvests.is_empty());

    // Others of its kind give their first leaves long before it goes.
    let others: Vec<&Stay> = plan.stays.iter().filter(|s| !s.for_seed).collect();
    let ripe = others.iter().map(|s| s.harvests[0].day - s.transplant);
    let ripe = ripe.max().unwrap();
    assert!(kept.removal - kept.transplant > ripe * 2, "{ripe}");
    let beside = |s: &&&Stay| {
        s.hole == kept.hole && s.transplant < kept.removal && kept.transplant < s.removal
    };
    assert_eq!(others.iter().find(beside), None);
    // The hole is free before or after, so it is the seed plant that keeps others out.
    assert!(others.iter().any(|s| s.hole == kept.hole), "{others:?}");
}

/// The days that a hole stays empty between two plants hold for the seed plant's, too.
#[test]
fn a_seed_plants_hole_stays_empty_before_and_after() {
    let mut garden = with_a_seed_plant();
    garden.spacing.changeover = quantity::Days::days(9.0);
    let plan = planned(&garden).plan;
    let mut here: Vec<&Stay> = plan.stays.iter().filter(|s| s.hole == "deck-1-3").collect();
    here.sort_by_key(|s| s.transplant);
    assert!(here.len() > 1 && here.iter().any(|s| s.for_seed));
    let gaps = here.windows(2).map(|w| w[1].transplant - w[0].removal);
    let gaps: Vec<i64> = gaps.map(|gap| gap.num_days()).collect();
    assert!(gaps.iter().all(|&days| days >= 9), "{gaps:?}");
}

/// What could be set out only after its seed should be ripe is not planned, and what would be sown
/// after the shown weeks is not told of.
#[rstest]
#[case::too_late_for_its_seed("2027-03-01", "2027-03-13")]
#[case::beyond_the_shown_weeks("2027-09-15", "2027-10-06")]
fn a_seed_plant_that_cannot_be_is_left_out(#[case] from: &str, #[case] until: &str) {
    let mut garden = with_a_seed_plant();
    garden.keep_for_seed[0].from = date(from);
    garden.keep_for_seed[0].until = date(until);
    let plan = planned(&garden).plan;
    assert!(plan.stays.iter().all(|s| !s.for_seed));
}

#[test]
fn no_seed_plant_is_set_into_a_blocked_hole() {
    let garden = with_a_seed_plant();
    let mut setting = Setting::at_start(&garden);
    assert_eq!(build_from(&garden, &setting).kept.len(), 1);
    setting.blocked.insert("deck-1-3".to_owned());
    assert_eq!(build_from(&garden, &setting).kept, []);
}

/// What stands there is out before it comes, and it waits as long as that takes.
#[test]
fn a_seed_plant_waits_for_its_hole() {
    let mut garden = with_a_seed_plant();
    garden.keep_for_seed[0].from = date("2027-03-03");
    let mut setting = Setting::at_start(&garden);
    let free = build_from(&garden, &setting).kept[0].transplant;
    setting.standing.push(Stands {
        hole: "deck-1-3".to_owned(),
        crop: "rocket".to_owned(),
        want: 0,
        sown: None,
        transplanted: date("2027-02-27"),
        harvested: Vec::new(),
    });
    let built = build_from(&garden, &setting);
    let standing = &built.problem.standing[0];
    let out: Vec<u32> = standing.ends.iter().map(|end| end.day).collect();
    let comes = built.kept[0].transplant;
    assert!(comes > free, "{comes} {free}");
    assert!(
        !out.is_empty() && out.iter().all(|&day| day <= comes),
        "{out:?} {comes}"
    );
    let of_ends = [standing.canopies.len(), built.standing_gains[0].len()];
    assert_eq!(of_ends, [out.len(); 2]);
}

#[test]
fn check_tells_of_the_seed_plant() {
    let told = terminal::check::check(&with_a_seed_plant());
    let told = anstream::adapter::strip_str(&told).to_string();
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    let kept = "for seed rocket in deck-1-3, from Thu 1 Apr 2027 until Thu 15 Jul 2027: left to flower, and not harvested";
    assert!(told.contains(kept), "{told}");
}

#[test]
fn the_chores_tell_of_the_seed_plant() {
    let mut garden = with_a_seed_plant();
    let plan = planned(&garden).plan;
    let details = |garden: &Garden, kind: Kind, day: &str| -> Vec<String> {
        let chores = chores::chores(&plan, garden);
        let of_day = |c: &&Chore| c.kind == kind && c.day == date(day);
        let chore = chores.iter().find(of_day);
        chore.map_or_else(Vec::new, |c| c.details.clone())
    };
    let out = details(&garden, Kind::Transplant, "2027-04-03").join("\n");
    let into = "into deck-1: 3 (left to flower for its seed: do not harvest it)";
    assert!(out.contains(into), "{out}");
    let clear = &details(&garden, Kind::Clear, "2027-07-17")[0];
    let seed = "First cut the ripe seed heads of 1 rocket left to flower";
    assert!(
        clear.starts_with(seed) && clear.ends_with(": deck-1: 3"),
        "{clear}"
    );
    let file = calendar::calendar(&chores::chores(&plan, &garden), &garden);
    let file = wire::unfolded(&file);
    assert!(file.contains("left to flower for its seed"));
    assert!(file.contains(seed));

    garden.language = Language::of_code("es").unwrap();
    let out = details(&garden, Kind::Transplant, "2027-04-03").join("\n");
    assert!(out.contains("se deja espigar para sacar semilla"), "{out}");
}
