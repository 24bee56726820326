//! A plant left to flower for its seed.

use std::path::Path;

use chrono::{Days, NaiveDate};
use rstest::rstest;
use steadyleaf::calendar::{self, wire};
use steadyleaf::chores::{self, Chore, Kind};
use steadyleaf::diary;
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::{Garden, file};
use steadyleaf::plan::{Plan, Planned, Replan, ReplanInput, Stay, record, replan};
use steadyleaf::planner::build::{ExistingPlant, NotKeptReason, PlanningState, build_from};
use steadyleaf::planner::effort::Effort;
use steadyleaf::planner::monitor::Monitor;
use steadyleaf::summary::figures;
use steadyleaf::text::Language;
use steadyleaf::units;
use steadyleaf::{page, terminal};

use crate::lantern::date;
use crate::plans::quick_plan;

fn planned(garden: &Garden) -> Planned {
    quick_plan(garden)
}

const RIG: &str = "garden: Lantern Court
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
";

fn read(text: &str) -> Garden {
    file::parse(text, "garden.yaml", &Cards::built_in()).unwrap_or_else(|e| panic!("{e}"))
}

fn with_a_seed_plant() -> Garden {
    read(RIG)
}

fn seed_plant(plan: &Plan) -> &Stay {
    let kept: Vec<&Stay> = plan.stays.iter().filter(|s| s.for_seed).collect();
    let [kept] = kept[..] else {
        panic!("{kept:?}");
    };
    kept
}

#[test]
fn a_plant_left_for_its_seed_keeps_its_hole() {
    let garden = with_a_seed_plant();
    let plan = planned(&garden).plan;
    let kept = seed_plant(&plan);
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
    garden.spacing.changeover = units::Days::days(9.0);
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
    let mut setting = PlanningState::at_start(&garden);
    assert_eq!(build_from(&garden, &setting).seed_plants.len(), 1);
    setting.blocked.insert("deck-1-3".to_owned());
    assert_eq!(build_from(&garden, &setting).seed_plants, []);
}

/// What stands there is out before it comes, and it waits as long as that takes.
#[test]
fn a_seed_plant_waits_for_its_hole() {
    let mut garden = with_a_seed_plant();
    garden.keep_for_seed[0].from = date("2027-03-03");
    let mut setting = PlanningState::at_start(&garden);
    let free = build_from(&garden, &setting).seed_plants[0].transplant;
    setting.standing.push(ExistingPlant {
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
    let comes = built.seed_plants[0].transplant;
    assert!(comes > free, "{comes} {free}");
    assert!(
        !out.is_empty() && out.iter().all(|&day| day <= comes),
        "{out:?} {comes}"
    );
    let of_ends = [
        standing.canopies.len(),
        built.standing_unit_harvests[0].len(),
    ];
    assert_eq!(of_ends, [out.len(); 2]);
}

#[test]
fn check_tells_of_the_seed_plant() {
    let told = terminal::check::render_check(&with_a_seed_plant());
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
    let file = wire::unfold(&file);
    assert!(file.contains("left to flower for its seed"));
    assert!(file.contains(seed));

    garden.language = Language::from_code("es").unwrap();
    let out = details(&garden, Kind::Transplant, "2027-04-03").join("\n");
    assert!(out.contains("se deja espigar para sacar semilla"), "{out}");
}

/// A plant set out on a day.
fn standing(hole: &str, crop: &str, want: usize, transplanted: &str) -> ExistingPlant {
    ExistingPlant {
        hole: hole.to_owned(),
        crop: crop.to_owned(),
        want,
        sown: None,
        transplanted: date(transplanted),
        harvested: Vec::new(),
    }
}

/// The garden, with a want of crops that grow wide and ask for a stronger solution.
fn with_large_ones() -> Garden {
    let mut garden = with_a_seed_plant();
    let cards = Cards::built_in();
    for key in ["chard", "cherry-tomato"] {
        garden.crops.push(cards.get(key).expect("a card").clone());
    }
    let mut want = garden.wants[0].clone();
    want.name = "large ones".to_owned();
    want.from_crops = vec!["chard".to_owned(), "cherry-tomato".to_owned()];
    garden.wants.push(want);
    garden
}

/// What is too wide beside a seed plant, or asks for another solution, is out before it comes,
/// where that can be; where it cannot, as soon as it has given what it must.
#[rstest]
#[case::too_wide("deck-1-2", "chard")]
#[case::another_solution("deck-1-6", "cherry-tomato")]
fn what_stands_makes_way_for_a_seed_plant(#[case] hole: &str, #[case] crop: &str) {
    let mut garden = with_large_ones();
    let mut setting = PlanningState::at_start(&garden);
    setting.standing.push(standing(hole, crop, 1, "2027-01-20"));
    let ends = |garden: &Garden| -> Vec<u32> {
        let built = build_from(garden, &setting);
        let of_ends = &built.problem.standing[0];
        let days = of_ends.ends.iter().map(|end| end.day).collect();
        assert_eq!(of_ends.canopies.len(), of_ends.ends.len());
        assert_eq!(built.standing_unit_harvests[0].len(), of_ends.ends.len());
        days
    };
    let kept = std::mem::take(&mut garden.keep_for_seed);
    let all = ends(&garden);
    garden.keep_for_seed = kept;
    garden.keep_for_seed[0].until = date("2027-09-01");
    let comes = |garden: &Garden| build_from(garden, &setting).seed_plants[0].transplant;
    garden.keep_for_seed[0].from = garden.start + Days::new(all[1].into());
    let before: Vec<u32> = ends(&garden);
    assert_eq!(before, all[..before.len()]);
    assert!(before.len() > 1 && before.len() < all.len(), "{before:?}");
    assert!(before.iter().all(|&day| day <= comes(&garden)));
    garden.keep_for_seed[0].from = garden.start;
    assert!(comes(&garden) < all[0]);
    assert_eq!(ends(&garden), all[..1]);
}

#[test]
fn a_seedling_on_hand_becomes_a_seed_plant() {
    let on_hand = "seedlings: [{ crop: rocket, count: 2, sown: 2027-02-15 }]";
    let mut garden = read(&format!("{RIG}{on_hand}\n"));
    garden.keep_for_seed[0].from = date("2027-03-04");
    let built = build_from(&garden, &PlanningState::at_start(&garden));
    let [kept] = &built.seed_plants[..] else {
        panic!("{:?}", built.seed_plants);
    };
    assert_eq!((kept.sow, kept.on_hand), (-14, true));
    let transplant = garden.start + Days::new(kept.transplant.into());
    assert_eq!(transplant, date("2027-03-06"));
    assert_eq!(built.problem.lots[0].count, 1, "the other one is left");
    assert_eq!(built.problem.nursery_cells_milli, 19_000);
}

/// Does all as planned up to a day, and plans again.
fn done_until(garden: &Garden, plan: &Plan, today: &str, path: &Path) -> Replan {
    let today = date(today);
    for day in garden.start.iter_days().take_while(|d| *d <= today) {
        // On some days there is nothing to do.
        let _ = record::record_done(path, garden, plan, day);
    }
    planned_again(garden, plan, today, path)
}

fn planned_again(garden: &Garden, plan: &Plan, today: NaiveDate, path: &Path) -> Replan {
    let diary = diary::file::read(path).expect("a diary");
    let around = ReplanInput {
        garden,
        diary: &diary,
        today,
        former: Some(plan),
        made_from: "0",
        effort: Effort::Quick,
        fresh: false,
    };
    replan(&around, &Monitor::unwatched()).expect("a plan")
}

/// Whatever else is planned again, the seed plant goes on as it was begun: in the nursery, in its
/// hole, and until somebody has taken it out.
#[rstest]
#[case::in_the_nursery("2027-03-27", false, "2027-07-17")]
#[case::in_its_hole("2027-05-01", true, "2027-07-17")]
#[case::overdue("2027-07-20", true, "2027-07-21")]
fn a_seed_plant_goes_on(#[case] today: &str, #[case] stands: bool, #[case] removal: &str) {
    let garden = with_a_seed_plant();
    let first = planned(&garden).plan;
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    let mut day = today;
    if stands {
        // Nobody takes it out.
        day = "2027-05-01";
    }
    let mut again = done_until(&garden, &first, day, &path);
    if day != today {
        let plan = again.planned.plan;
        again = planned_again(&garden, &plan, date(today), &path);
    }
    let (before, now) = (seed_plant(&first), seed_plant(&again.planned.plan));
    let was = (before.sow, before.transplant);
    assert_eq!((now.sow, now.transplant), was);
    assert_eq!((now.stands, now.on_hand), (stands, !stands));
    assert_eq!((now.removal, now.harvests.len()), (date(removal), 0));
}

/// One whose seed is ripe long after the plan ends is left alone until then.
#[test]
fn a_seed_plant_may_stand_on_after_the_plan() {
    let mut garden = with_a_seed_plant();
    garden.keep_for_seed[0].until = date("2028-06-01");
    let first = planned(&garden).plan;
    assert_eq!(seed_plant(&first).removal, date("2028-06-03"));
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    let again = done_until(&garden, &first, "2027-05-01", &path);
    let now = seed_plant(&again.planned.plan);
    assert!(now.stands);
    assert_eq!((now.removal, now.harvests.len()), (date("2028-06-03"), 0));
}

/// One that cannot be is told, with why.
#[rstest]
#[case::blocked(
    NotKeptReason::Blocked,
    "the hole is blocked",
    "el hueco está bloqueado"
)]
#[case::taken(
    NotKeptReason::HoleTaken,
    "what stands there does not make room before Wed 3 Mar 2027, when its seed should be ripe",
    "lo que hay ahí no deja sitio antes del mié 3 mar 2027, cuando su semilla debería estar madura"
)]
#[case::no_seedling(
    NotKeptReason::NoSeedling,
    "no seedling can be ready before Sat 13 Mar 2027, when its seed should be ripe",
    "ningún plantón puede estar listo antes del sáb 13 mar 2027, cuando su semilla debería estar madura"
)]
fn a_seed_plant_left_out_is_told(
    #[case] why: NotKeptReason,
    #[case] told: &str,
    #[case] in_spanish: &str,
) {
    let mut garden = with_large_ones();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    let (diary, until) = match why {
        NotKeptReason::Blocked => ("- { on: 2027-03-01, blocked: deck-1-3 }\n", "2027-07-15"),
        NotKeptReason::HoleTaken => (
            "- { on: 2027-03-01, transplanted: cherry-tomato, hole: deck-1-3 }\n",
            "2027-03-03",
        ),
        NotKeptReason::NoSeedling => ("", "2027-03-13"),
    };
    garden.keep_for_seed[0].from = garden.start;
    garden.keep_for_seed[0].until = date(until);
    std::fs::write(&path, diary).unwrap();
    let first = planned(&garden).plan;
    let Planned { plan, built, .. } = planned_again(&garden, &first, garden.start, &path).planned;
    let left_out: Vec<NotKeptReason> = plan.not_kept.iter().map(|n| n.why).collect();
    assert_eq!(left_out, [why]);
    assert!(plan.stays.iter().all(|s| !s.for_seed));

    let summary = figures::summary(&plan, &garden, &built.problem);
    let summary = terminal::summary::render_summary(&summary, &garden, &[]);
    let summary = anstream::adapter::strip_str(&summary).to_string();
    let summary = summary.split_whitespace().collect::<Vec<_>>().join(" ");
    let sentence = format!("rocket kept for seed in deck-1-3 is left out: {told}.");
    assert!(summary.contains(&sentence), "{summary}");
    garden.language = Language::from_code("es").unwrap();
    let page = page::report(&plan, &garden, &built.problem, None);
    let sentence = format!("rocket para semilla en deck-1-3 queda fuera: {in_spanish}.");
    assert!(page.contains(&sentence));
}

/// Left to flower it grows on: beside one of a kind that is cut there is less room than beside one
/// that is.
#[test]
fn a_seed_plant_is_as_wide_as_it_has_grown() {
    let mut garden = with_a_seed_plant();
    let mut setting = PlanningState::at_start(&garden);
    setting.today = date("2027-05-01");
    setting
        .standing
        .push(standing("deck-1-3", "rocket", 0, "2027-04-03"));
    let widest_in_june = |garden: &Garden| {
        let built = build_from(garden, &setting);
        let stands = &built.problem.standing[0];
        let radius = stands.radius_of(stands.ends.len() - 1);
        radius[31..].iter().copied().min()
    };
    let left_alone = widest_in_june(&garden);
    garden.keep_for_seed.clear();
    assert!(left_alone > widest_in_june(&garden), "{left_alone:?}");
}
