//! Plans are what the garden, the cards and `design` ask for: reckoned anew by a second hand
//! (`tests/common/independent_check`), from garden text to dated plan.

use std::path::Path;
use std::sync::LazyLock;

use chrono::{Days, NaiveDate};
use proptest::prelude::*;
use proptest::test_runner::{Config, TestError, TestRng, TestRunner};
use rand::seq::IndexedRandom;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use rstest::rstest;
use steadyleaf::chores::{Kind, chores};
use steadyleaf::diary::{self, Diary, DiaryState, NurserySowing, RecordRequest};
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::crop::{Crop, HarvestHabit};
use steadyleaf::garden::rig::BankForm;
use steadyleaf::garden::want::YearDay;
use steadyleaf::garden::{Absence, Garden, SeedPlant, file};
use steadyleaf::plan::record::RecordError;
use steadyleaf::plan::water::LowLevel;
use steadyleaf::plan::{
    self, Plan, Planned, Replan, ReplanInput, SeedPlantNotKept, Stay, plan_garden,
    plan_without_advice, record, replan,
};
use steadyleaf::planner::build::NotKeptReason;
use steadyleaf::planner::effort::Effort;
use steadyleaf::planner::monitor::Monitor;
use steadyleaf::planner::problem::cost;
use steadyleaf::units::{
    Conductivity, DailyLight, Days as Span, Length, Share, Temperature, Volume,
};

use crate::independent_check::{cost_of_week, faults, faults_told};
use crate::lantern::date;
use crate::outputs_match_plan;
use crate::random_gardens::gardens;

pub fn read(text: &str) -> Garden {
    file::parse(text, "garden.yaml", &Cards::built_in()).unwrap_or_else(|e| panic!("{text}\n{e}"))
}

fn planned(garden: &Garden) -> Planned {
    plan_garden(garden, "", Effort::Quick, &Monitor::unwatched())
        .expect("a plan that keeps every rule")
}

/// A plan without what would help, which takes most of the time.
pub fn planned_alone(garden: &Garden) -> Planned {
    plan_without_advice(garden, "", Effort::Quick, &Monitor::unwatched())
        .expect("a plan that keeps every rule")
}

/// The costs of the shown weeks, as the planner reckons with them.
fn costs(planned: &Planned) -> Vec<i64> {
    let problem = &planned.built.problem;
    let supply = planned.solution.supply(problem);
    let wants = problem.wants.iter().zip(&supply);
    let weeks = problem.reported_weeks();
    let costs = wants.flat_map(|(want, supply)| {
        let weeks = want.target_milli.iter().zip(supply).take(weeks);
        weeks.map(|(&target, &supply)| cost::week_cost(want, target, supply))
    });
    costs.collect()
}

/// The same by the plan and the garden.
fn costs_anew(plan: &Plan, garden: &Garden) -> Vec<i64> {
    let wants = plan.wants.iter().zip(&garden.wants);
    let costs = wants.flat_map(|(told, want)| {
        let weeks = told.weeks.iter();
        weeks.map(|week| cost_of_week(garden, want, week))
    });
    costs.collect()
}

/// Looks at so many gardens, always the same, and shows the text of the first that goes wrong.
fn drawn<T: std::fmt::Debug>(
    cases: u32,
    of: impl Strategy<Value = T>,
    text: impl Fn(&T) -> String,
    look: impl Fn(T) -> Result<(), TestCaseError>,
) {
    let config = Config {
        cases,
        failure_persistence: None,
        max_shrink_iters: 24,
        ..Config::default()
    };
    let same = TestRng::deterministic_rng(config.rng_algorithm);
    match TestRunner::new_with_rng(config, same).run(&of, look) {
        Ok(()) => {}
        Err(TestError::Fail(why, case)) => panic!("{why}\n{}", text(&case)),
        Err(why) => panic!("{why}"),
    }
}

#[test]
fn gardens_drawn_by_chance_are_planned_as_stated() {
    drawn(24, gardens(), String::clone, |text| {
        let garden = read(&text);
        let planned = planned_alone(&garden);
        let faults = faults(&planned.plan, &garden, None);
        prop_assert!(faults.is_empty(), "{:#?}", faults);
        prop_assert_eq!(costs_anew(&planned.plan, &garden), costs(&planned));
        let faults = outputs_match_plan::to_everybody(&planned, &garden);
        prop_assert!(faults.is_empty(), "{:#?}", faults);
        Ok(())
    });
}

/// Puts down in a diary what becomes of a plan until a day: most is done as planned, some days are
/// missed, plants die, holes are blocked, plants are bought.
fn lived(garden: &Garden, plan: &Plan, until: NaiveDate, seed: u64, path: &Path) -> Diary {
    let mut random = Pcg64Mcg::seed_from_u64(seed);
    let holes: Vec<&str> = plan.stays.iter().map(|s| s.hole.as_str()).collect();
    let days = garden.start.iter_days().take_while(|d| *d <= until);
    for day in days.filter(|d| garden.rhythm.is_workday(*d)) {
        if random.random_bool(0.15) {
            continue;
        }
        match record::record_done(path, garden, plan, day) {
            Ok(_) | Err(RecordError::NothingPlanned(_)) => {}
            Err(why) => panic!("{why}"),
        }
        let Some(&hole) = holes.choose(&mut random) else {
            continue;
        };
        let crop = &garden.crops.choose(&mut random).expect("a crop").key;
        let said = match random.random_range(0..12) {
            0 | 1 => RecordRequest::Lost {
                what: hole.into(),
                words: vec!["wilt".into()],
                sown: None,
            },
            2 => RecordRequest::Transplanted {
                hole: hole.into(),
                crop: crop.clone(),
                given: false,
                sown: None,
            },
            3 => RecordRequest::Blocked { hole: hole.into() },
            4 => RecordRequest::Harvested {
                hole: hole.into(),
                amount: vec!["31".into(), "g".into()],
                last: false,
                stands: false,
            },
            5 => RecordRequest::Sown {
                crop: crop.clone(),
                cells: 2,
            },
            _ => continue,
        };
        match record::record_request(path, garden, Some(plan), day, &said) {
            Ok(_) | Err(RecordError::Impossible(_) | RecordError::Invalid(_)) => {}
            Err(why) => panic!("{why}"),
        }
    }
    diary::file::read(path).expect("a diary")
}

pub fn replanned(garden: &Garden, diary: &Diary, today: NaiveDate, former: &Plan) -> Replan {
    let around = ReplanInput {
        garden,
        diary,
        today,
        former: Some(former),
        made_from: "",
        effort: Effort::Quick,
        fresh: false,
    };
    replan(&around, &Monitor::unwatched()).unwrap_or_else(|why| panic!("{why:?}"))
}

#[test]
fn gardens_in_which_something_happened_are_planned_again_as_stated() {
    let cases = (gardens(), 1..120u64, any::<u64>());
    drawn(
        32,
        cases,
        |case| format!("{}{:?}", case.0, (case.1, case.2)),
        |(text, days, seed)| {
            let garden = read(&text);
            let today = (garden.start + Days::new(days)).min(garden.last_day());
            let plan = planned_alone(&garden).plan;
            let folder = tempfile::tempdir().expect("a folder");
            let diary = lived(
                &garden,
                &plan,
                today,
                seed,
                &folder.path().join("diary.yaml"),
            );
            let misread = outputs_match_plan::so_far(&garden, &diary);
            prop_assert!(misread.is_empty(), "{:#?}", misread);
            let again = replanned(&garden, &diary, today, &plan);
            if !again.is_unchanged {
                let (state, _) = diary::replay(&garden, &diary.entries, today);
                let faults = faults(&again.planned.plan, &garden, Some(&state));
                prop_assert!(faults.is_empty(), "{:#?}", faults);
                let faults = outputs_match_plan::again(&plan, &garden, &again, &state);
                prop_assert!(faults.is_empty(), "{:#?}", faults);
            }
            Ok(())
        },
    );
}

/// One picking is more than a week asks for: all of it up to one picking costs nothing, and the bound
/// may not reckon otherwise.
#[test]
fn a_week_of_tomatoes_is_bounded_as_stated() {
    let garden = read(
        "garden: Drawn lots
start: 2027-03-23
weeks: 1
place:
  latitude: 52
  cover: { kind: indoors, day: 22 C, night: 18 C, light: 15 mol, hours: 16 }
loops:
  - loop: one
    tank: { holds: 60 l }
    banks:
      - { bank: b, form: wall, tubes: 2, length: 50 cm, hole_every: 15 cm, tube_gap: 30 cm }
wants: [{ want: fruit, from_crops: [cherry-tomato], each_week: 1 oz }]
rhythm: { workdays: [mon, sat, sun], deep_clean: none }
",
    );
    let plan = planned_alone(&garden).plan;
    assert_eq!(faults(&plan, &garden, None), [""; 0]);
    assert!(plan.figures.cost_milli < plan.figures.nothing_milli);
}

/// Where the drawn gardens are.
const COAST: &str = "latitude: -34
  climate:
    coldest: [18, 18, 16, 13, 10, 8, 7, 8, 10, 12, 14, 16]
    warmest: [27, 27, 25, 23, 20, 18, 17, 18, 20, 22, 24, 26]";
const ISLAND: &str = "latitude: -41.2
  near_sea: true
  cover: { kind: greenhouse, never_below: 6 C, adds: 3 C, light: 75 % }
  climate:
    coldest: [14, 14, 13, 11, 9, 7, 6, 7, 8, 9, 11, 13]
    warmest: [21, 21, 20, 17, 15, 13, 12, 13, 14, 16, 17, 19]";
const LAMPS: &str = "latitude: 59.6\n  cover: { kind: indoors, day: 72 F, night: 62 F, light: 12 mol, hours: 14 h }";

/// What was drawn once and went wrong, told short: where and when, the rig, what is wanted, what
/// happened until a day on which it is planned again, how often tubes are scrubbed, and what is
/// planned then, so that the rule has something to say.
#[rstest]
#[case::crops_that_cannot_share_stand_together(
    (COAST, "2027-09-14", 12),
    "form: tower, towers: 2, height: 20 cm, faces: 4, hole_every: 18 cm, tube_gap: 35 cm",
    "- { want: heads, from_crops: [butterhead], each_week: 4 heads }",
    "- { on: 2027-10-02, transplanted: butterhead, hole: b-1-1 }
- { on: 2027-10-16, transplanted: cherry-tomato, hole: b-2-3 }",
    ("2027-11-08", "none"),
    "butterhead",
)]
#[case::picked_on_the_day(
    (COAST, "2027-02-21", 20),
    "form: level, tubes: 1, length: 45 cm",
    "- { want: fruit, from_crops: [cherry-tomato, strawberry], each_week: 100 g }",
    "- { on: 2027-03-06, transplanted: cherry-tomato, hole: b-1-1 }
- { on: 2027-05-29, harvested: b-1-1, amount: 18.25 g }",
    ("2027-05-29", "none"),
    "cherry-tomato",
)]
#[case::wider_than_what_can_be_set_out(
    (ISLAND, "2027-02-01", 17),
    "form: tower, towers: 2, height: 20 cm, faces: 4, hole_every: 18 cm, tube_gap: 35 cm",
    "- { want: fruit, from_crops: [strawberry, cherry-tomato], each_week: 100 g }",
    "- { on: 2027-04-01, transplanted: cherry-tomato, hole: b-1-3 }",
    ("2027-04-29", "none"),
    "strawberry",
)]
#[case::scrubbed_late(
    (LAMPS, "2027-07-09", 16),
    "form: level, tubes: 1, length: 80 cm, hole_every: 20 cm",
    "- { want: leaves, from_crops: [spinach], each_week: 100 g }",
    "- { on: 2027-10-02, transplanted: spinach, hole: b-1-1 }",
    ("2027-10-05", "{ every: 8 weeks, slack: 10 days }"),
    "spinach",
)]
#[case::harvested_this_week(
    (LAMPS, "2027-07-09", 20),
    "form: level, tubes: 1, length: 80 cm, hole_every: 20 cm",
    "- { want: leaves, from_crops: [spinach], each_week: 50 g }",
    "- { on: 2027-10-02, transplanted: spinach, hole: b-1-1 }
- { on: 2027-10-02, transplanted: spinach, hole: b-1-3 }
- { on: 2027-10-28, harvested: b-1-1, amount: 60 g }
- { on: 2027-10-28, harvested: b-1-3, amount: 60 g }",
    ("2027-10-29", "none"),
    "spinach",
)]
fn gardens_with_a_past_are_planned_again_as_stated(
    #[case] (place, start, weeks): (&str, &str, u32),
    #[case] bank: &str,
    #[case] want: &str,
    #[case] past: &str,
    #[case] (today, clean): (&str, &str),
    #[case] planned: &str,
) {
    let garden = read(&format!(
        "garden: Drawn lots
start: {start}
weeks: {weeks}
place:
  {place}
loops:
  - {{ loop: one, tank: {{ holds: 60 l }}, banks: [{{ bank: b, {bank} }}] }}
wants:
  - {{ want: other, from_crops: [cherry-tomato], each_week: 10 g }}
  {want}
rhythm: {{ workdays: [thu, sat], deep_clean: {clean} }}
"
    ));
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("diary.yaml");
    std::fs::write(&path, format!("{past}\n")).expect("a diary");
    let diary = diary::file::read(&path).expect("a diary");
    let around = ReplanInput {
        garden: &garden,
        diary: &diary,
        today: date(today),
        former: None,
        made_from: "",
        effort: Effort::Quick,
        fresh: true,
    };
    let plan = replan(&around, &Monitor::unwatched())
        .expect("a plan")
        .planned
        .plan;
    let (state, left_out) = diary::replay(&garden, &diary.entries, plan.start);
    assert!(left_out.is_empty());
    assert_eq!(faults(&plan, &garden, Some(&state)), [""; 0]);
    assert!(
        plan.stays
            .iter()
            .any(|s| s.crop == planned && !s.harvests.is_empty())
    );
}

/// A garden in which every rule has something to say.
pub const BUSY: &str = "garden: Dock Street yard
start: 2027-03-01
weeks: 30
place:
  latitude: 39.5
  longitude: -0.4
  climate:
    coldest: [7, 8, 9, 11, 14, 18, 21, 21, 18, 15, 10, 8]
    warmest: [17, 17, 20, 21, 24, 28, 30, 31, 28, 24, 20, 17]
loops:
  - loop: greens
    tank: { holds: 60 l }
    banks:
      - { bank: deck, form: level, tubes: 2, length: 90 cm, headroom: 40 cm }
  - loop: berries
    tank: { holds: 40 l }
    banks:
      - { bank: corner, form: tower, height: 50 cm, faces: 3 }
nursery: { cells: 20 }
wants:
  - { want: salad heads, from_crops: [butterhead, pak-choi], each_week: 2 heads, between: [03-01, 06-20] }
  - { want: rocket, from_crops: [rocket], each_week: 40 g }
  - { want: strawberries, from_crops: [strawberry], each_week: 60 g }
seedlings: [{ crop: butterhead, count: 2, sown: 2027-02-17 }]
keep_for_seed: [{ hole: deck-2-6, crop: rocket, from: 2027-03-20, until: 2027-07-10 }]
rhythm:
  workdays: [wed, sat]
  away: [{ from: 2027-06-07, until: 2027-06-16 }]
  deep_clean: { every: 8 weeks, slack: 2 weeks }
spacing: { changeover: 1 day }
";

/// A plan, its garden and what the diary says of it.
#[derive(Clone)]
struct Case {
    plan: Plan,
    garden: Garden,
    state: Option<DiaryState>,
}

static GOOD: LazyLock<Case> = LazyLock::new(|| {
    let garden = read(BUSY);
    Case {
        plan: planned(&garden).plan,
        garden,
        state: None,
    }
});

impl Case {
    fn crop(&mut self, key: &str) -> &mut Crop {
        let mut crops = self.garden.crops.iter_mut();
        crops.find(|c| c.key == key).expect("a card")
    }

    /// The first stay of a crop, from seed sown in the plan's time, that has so many harvests.
    fn stay(&mut self, crop: &str, harvests: usize) -> &mut Stay {
        let found = self.plan.stays.iter_mut().find(|s| {
            let is_new = !s.on_hand && !s.for_seed && s.removal > date("2027-05-15");
            s.crop == crop && is_new && s.harvests.len() >= harvests
        });
        found.expect("a stay")
    }

    fn kept(&mut self) -> &mut Stay {
        let mut stays = self.plan.stays.iter_mut();
        stays.find(|s| s.for_seed).expect("a plant kept for seed")
    }

    fn leave_out(&mut self, why: NotKeptReason) {
        let SeedPlant {
            hole,
            crop,
            from,
            until,
            ..
        } = self.garden.keep_for_seed[0].clone();
        self.plan.not_kept.push(SeedPlantNotKept {
            hole,
            crop,
            from,
            until,
            why,
        });
    }

    /// A week that counts.
    fn week(&mut self, want: usize) -> &mut plan::WeekOutcome {
        let mut weeks = self.plan.wants[want].weeks.iter_mut();
        weeks.find(|w| w.is_counted()).expect("a week that counts")
    }
}

fn sooner(day: &mut NaiveDate, days: u64) {
    *day = *day - Days::new(days);
}

fn later(day: &mut NaiveDate, days: u64) {
    *day = *day + Days::new(days);
}

#[test]
fn a_busy_garden_is_planned_as_stated() {
    let Case { plan, garden, .. } = &*GOOD;
    assert_eq!(faults(plan, garden, None), [""; 0]);
}

#[rstest]
#[case::a_hole_of_nowhere("unknown: deck-9-9", |c: &mut Case| c.plan.stays[0].hole = "deck-9-9".into())]
#[case::sown_on_a_day_off("is sown on", |c: &mut Case| later(c.stay("butterhead", 1).sow.as_mut().unwrap(), 1))]
#[case::set_out_while_away("is set out on", |c: &mut Case| {
    let from = c.stay("butterhead", 1).transplant;
    c.garden.rhythm.absences.push(Absence { from, until: from });
})]
#[case::harvested_on_a_day_off("is harvested on", |c: &mut Case| later(&mut c.stay("rocket", 2).harvests[0].day, 1))]
#[case::taken_out_on_a_day_off("is taken out on", |c: &mut Case| later(&mut c.stay("rocket", 2).removal, 1))]
#[case::scrubbed_on_a_day_off("is scrubbed on", |c: &mut Case| later(&mut c.plan.cleans[0].day, 1))]
#[case::set_out_before_it_is_sown("before it is sown", |c: &mut Case| {
    let stay = c.stay("butterhead", 1);
    stay.sow = Some(stay.transplant);
})]
#[case::set_out_too_young("before it is ready", |c: &mut Case| later(c.stay("butterhead", 1).sow.as_mut().unwrap(), 7))]
#[case::set_out_too_old("seedling: ", |c: &mut Case| sooner(c.stay("butterhead", 1).sow.as_mut().unwrap(), 35))]
#[case::used_twice("on hand: ", |c: &mut Case| c.garden.seedlings[0].count = 1)]
#[case::an_overfull_nursery("cells: ", |c: &mut Case| c.garden.nursery.cells = 1)]
#[case::more_cells_told("cells told: ", |c: &mut Case| c.garden.nursery.cells = 1)]
#[case::never_told_to_sow("sowing told: ", |c: &mut Case| {
    let last = c.plan.last;
    let stay = c.stay("butterhead", 1);
    stay.sow = Some(last + Days::new(3));
    stay.transplant = last + Days::new(20);
})]
#[case::seed_taken_too_soon("seed plant: ", |c: &mut Case| sooner(&mut c.kept().removal, 7))]
#[case::seed_plant_harvested("seed plant: ", |c: &mut Case| {
    let harvests = c.stay("rocket", 1).harvests.clone();
    c.kept().harvests = harvests;
})]
#[case::seed_plant_forgotten("planned false, told to be left out false", |c: &mut Case| c.plan.stays.retain(|s| !s.for_seed))]
#[case::seed_plant_left_out_and_planned("planned true, told to be left out true", |c: &mut Case| c.leave_out(NotKeptReason::NoSeedling))]
#[case::seed_plant_left_out_for_nothing("left out, but not for Blocked", |c: &mut Case| c.leave_out(NotKeptReason::Blocked))]
#[case::seed_plant_sown_anew("is sown anew", |c: &mut Case| {
    let mut state = DiaryState::new(&c.garden);
    let on = c.kept().sow.expect("a day of sowing");
    state.sowings.push(NurserySowing { crop: "rocket".into(), on, cells: 1, cups: Some(1), lost: 0, transplanted: 0, on_hand: false });
    c.state = Some(state);
})]
#[case::beside_a_seed_plant("crowded: deck-2-5", |c: &mut Case| {
    c.crop("rocket").size.spread = Length::metres(0.3);
    let (from, until) = (c.kept().transplant, c.kept().removal);
    let stay = c.stay("butterhead", 1);
    (stay.hole, stay.stands) = ("deck-2-5".into(), true);
    (stay.transplant, stay.removal) = (from, until);
})]
#[case::what_never_stood("standing: ", |c: &mut Case| c.stay("rocket", 1).stands = true)]
#[case::a_blocked_hole("blocked: ", |c: &mut Case| {
    let mut state = DiaryState::new(&c.garden);
    state.blocked.insert(c.plan.stays[0].hole.clone());
    c.state = Some(state);
})]
#[case::too_tall("height: ", |c: &mut Case| {
    let BankForm::Level { headroom, .. } = &mut c.garden.loops[0].banks[0].form else { panic!() };
    *headroom = Some(Length::metres(0.1));
})]
#[case::two_in_one_hole("hole: ", |c: &mut Case| c.garden.spacing.changeover = Span::days(21.0))]
#[case::neighbours_of_one_stage("stage: ", |c: &mut Case| c.garden.spacing.neighbours_apart = Span::days(40.0))]
#[case::too_wide("crowded: ", |c: &mut Case| c.crop("butterhead").size.spread = Length::metres(0.25))]
#[case::no_overlap_allowed("crowded: ", |c: &mut Case| {
    c.garden.spacing.crowding = Share::fraction(0.0);
    c.crop("butterhead").size.spread = Length::metres(0.19);
})]
#[case::scrubbed_with_plants_in_it("scrubbed: ", |c: &mut Case| {
    let (day, tube) = (c.plan.cleans[0].day, c.plan.cleans[0].tube.clone());
    let stay = c.stay("rocket", 2);
    stay.hole = format!("{tube}-1");
    stay.sow = Some(day - Days::new(21));
    (stay.transplant, stay.removal) = (day - Days::new(7), day + Days::new(7));
})]
#[case::never_scrubbed("not between 2027-04-12 and 2027-05-10", |c: &mut Case| c.plan.cleans.clear())]
#[case::never_scrubbed_after_the_seed_plant("not between 2027-07-10 and 2027-07-18", |c: &mut Case| {
    let after = date("2027-07-10")..=date("2027-07-18");
    c.plan.cleans.retain(|clean| !after.contains(&clean.day));
})]
#[case::scrubbed_out_of_turn("which is not its turn", |c: &mut Case| c.plan.cleans[0].day = date("2027-03-03"))]
#[case::scrubbed_unasked("which nobody asked for", |c: &mut Case| c.garden.rhythm.deep_clean = None)]
#[case::a_tube_of_nowhere("scrubbed: no tube deck-9", |c: &mut Case| c.plan.cleans[0].tube = "deck-9".into())]
#[case::another_ec("solution: ", |c: &mut Case| {
    let ec = Conductivity::millisiemens;
    c.crop("rocket").solution.ec = (ec(3.0), ec(4.0));
})]
#[case::another_ph("solution: ", |c: &mut Case| c.crop("rocket").solution.ph = (7.0, 7.5))]
#[case::for_another_want("want: ", |c: &mut Case| c.stay("rocket", 1).want = "strawberries".into())]
#[case::nights_too_cold("too cold: ", |c: &mut Case| c.crop("rocket").temperature.coldest = Temperature::celsius(14.0))]
#[case::days_too_hot("too hot: ", |c: &mut Case| c.crop("rocket").temperature.warmest = Temperature::celsius(22.0))]
#[case::running_to_seed("bolts: ", |c: &mut Case| {
    let mut rule = c.crop("butterhead").bolting_rules[0];
    rule.mean_above = Some(Temperature::celsius(14.0));
    rule.for_days = Span::days(6.0);
    c.crop("rocket").bolting_rules = vec![rule];
})]
#[case::too_dark("too dark: ", |c: &mut Case| c.crop("rocket").light.minimum_dli = DailyLight::mol(45.0))]
#[case::left_behind("not with its last harvest", |c: &mut Case| later(&mut c.stay("rocket", 1).removal, 7))]
#[case::hardly_picked("is hardly picked", |c: &mut Case| {
    let stay = c.stay("strawberry", 4);
    stay.harvests.truncate(2);
    stay.removal = stay.harvests[1].day;
})]
#[case::picked_too_long("is picked outside", |c: &mut Case| {
    let HarvestHabit::Pick { harvest_period, .. } = &mut c.crop("strawberry").harvest else { panic!() };
    *harvest_period = Span::days(14.0);
})]
#[case::taken_unripe("ripe: ", |c: &mut Case| {
    let stay = c.stay("butterhead", 1);
    sooner(&mut stay.removal, 7);
    sooner(&mut stay.harvests[0].day, 7);
})]
#[case::never_ripe("never ripe", |c: &mut Case| c.crop("butterhead").hole.days = Span::days(1000.0))]
#[case::cut_again_too_soon("ripe: ", |c: &mut Case| {
    let stay = c.stay("rocket", 2);
    stay.harvests.truncate(2);
    stay.removal = stay.harvests[0].day + Days::new(7);
    stay.harvests[1].day = stay.removal;
})]
#[case::left_too_long("keeps: ", |c: &mut Case| {
    let stay = c.stay("butterhead", 1);
    later(&mut stay.removal, 28);
    later(&mut stay.harvests[0].day, 28);
})]
#[case::a_cut_too_many("cuts: ", |c: &mut Case| {
    let HarvestHabit::Cut { cuts, .. } = &mut c.crop("rocket").harvest else { panic!() };
    *cuts = 1;
})]
#[case::a_head_taken_twice("cuts: ", |c: &mut Case| {
    let stay = c.stay("butterhead", 1);
    let mut first = stay.harvests[0].clone();
    sooner(&mut first.day, 3);
    stay.harvests.insert(0, first);
})]
#[case::two_heads_of_one("amount: ", |c: &mut Case| c.stay("butterhead", 1).harvests[0].amount = 2.0)]
#[case::a_heavy_cut("amount: ", |c: &mut Case| c.stay("rocket", 1).harvests[0].amount += 0.01)]
#[case::a_heavy_picking("amount: ", |c: &mut Case| c.stay("strawberry", 1).harvests[1].amount += 0.01)]
#[case::a_last_day_too_late("weeks: the last day", |c: &mut Case| later(&mut c.plan.last, 7))]
#[case::a_week_too_few("are not all", |c: &mut Case| { c.plan.wants[0].weeks.pop(); })]
#[case::a_want_too_few("not the garden's wants", |c: &mut Case| { c.plan.wants.pop(); })]
#[case::a_week_misnamed("weeks: 2027-W60", |c: &mut Case| c.plan.wants[0].weeks[3].week = "2027-W60".into())]
#[case::more_told_than_harvested("sum: rocket", |c: &mut Case| c.week(1).delivered += 0.001)]
#[case::a_harvest_untold("sum: ", |c: &mut Case| { c.plan.stays.retain(|s| s.harvests.is_empty()); })]
#[case::wanted_and_not_counted("target: ", |c: &mut Case| c.week(1).target = 0.0)]
#[case::less_aimed_at("target: ", |c: &mut Case| c.week(1).target -= 1.0)]
#[case::counted_out_of_its_season("target: ", |c: &mut Case| c.garden.wants[0].season = Some((YearDay { month: 6, day: 1 }, YearDay { month: 6, day: 20 })))]
#[case::counted_and_told_why_not("target: ", |c: &mut Case| {
    c.week(1).not_counted = Some(plan::ExcludedWeek::OutOfSeason);
})]
#[case::better_than_it_is("met: ", |c: &mut Case| c.plan.wants[1].met = Some(1.5))]
#[case::cheaper_than_it_is("cost: ", |c: &mut Case| c.plan.figures.cost_milli = 100)]
#[case::dearer_than_nothing("cost: ", |c: &mut Case| c.plan.figures.nothing_milli = 100)]
#[case::too_much_water("water: greens: topped up", |c: &mut Case| c.plan.water[0].top_ups[0].litres += 60.0)]
#[case::a_little_more_water("water: level of greens", |c: &mut Case| c.plan.water[0].top_ups[0].litres += 0.1)]
#[case::water_on_a_day_off("water: greens: nobody there", |c: &mut Case| later(&mut c.plan.water[0].top_ups[0].day, 1))]
#[case::never_topped_up("as nobody filled in", |c: &mut Case| {
    let water = &mut c.plan.water[0];
    let (start, lost) = (c.plan.start, water.top_ups.remove(0));
    let until = water.changes.iter().map(|c| c.day).find(|d| *d > lost.day).unwrap();
    let days = start.iter_days().zip(&mut water.level);
    for (_, level) in days.filter(|(d, _)| lost.day <= *d && *d < until) {
        *level = (*level - lost.litres - 20.0).max(0.0);
    }
})]
#[case::drinks_more("water: used of greens", |c: &mut Case| c.plan.water[0].used[60] += 0.01)]
#[case::thirstier_leaves("water: used of greens", |c: &mut Case| c.crop("rocket").crop_coefficient.mid_season += 0.01)]
#[case::a_larger_tank("water: filled of berries", |c: &mut Case| c.garden.loops[1].tank.capacity = Volume::litres(41.0))]
#[case::lower_than_told("untold", |c: &mut Case| c.garden.loops[0].tank.reserve_share = Share::fraction(0.95))]
#[case::a_low_tank_told_of_for_nothing("below 30 from", |c: &mut Case| c.plan.water[0].low.push(LowLevel {
    from: date("2027-04-01"), until: date("2027-04-02"), lowest: 20.0, lacking: 0.0,
}))]
#[case::never_changed("water: greens is changed on", |c: &mut Case| { c.plan.water[0].changes.remove(1); })]
#[case::changed_too_often("water: greens is changed on", |c: &mut Case| c.garden.rhythm.solution_change_interval = Span::days(60.0))]
#[case::never_filled("dry roots", |c: &mut Case| c.plan.water[1].changes.clear())]
#[case::more_in_the_tubes("in the tubes", |c: &mut Case| c.plan.water[0].in_tubes += 1.0)]
#[case::more_than_can_be("can be", |c: &mut Case| c.plan.wants[1].most[1].each_week = 1.0)]
#[case::below_its_bound("cost: ", |c: &mut Case| c.plan.figures.bound_milli = Some(i64::MAX))]
fn a_spoilt_plan_is_seen(#[case] told: &str, #[case] spoil: fn(&mut Case)) {
    let mut case = GOOD.clone();
    spoil(&mut case);
    let found = faults(&case.plan, &case.garden, case.state.as_ref());
    assert!(found.iter().any(|f| f.contains(told)), "{found:#?}");
}

/// What the grower is told of a good plan, with one word of it changed.
#[rstest]
#[case::a_plant_not_set_out("set out on", Kind::Transplant, " into ", " in ")]
#[case::into_another_hole("set out on", Kind::Transplant, "deck-1: ", "deck-2: ")]
#[case::another_crop("set out on", Kind::Transplant, "butterhead lettuce", "rocket")]
#[case::harvested_elsewhere("harvested on", Kind::Harvest, "corner-1: ", "corner-2: ")]
#[case::harvested_untold("harvested on", Kind::Harvest, ", from ", " from ")]
#[case::a_harvest_too_large("told: ", Kind::Harvest, "about ", "about 1")]
#[case::taken_for_the_last_time("is harvested last", Kind::Harvest, "final picking", "a picking")]
#[case::left_in_its_hole("taken out on", Kind::Clear, "Pull", "Wipe out")]
#[case::another_tube("scrub", Kind::DeepClean, "Tube deck-1", "Tube deck-2")]
#[case::much_water("litres: ", Kind::TopUp, "about ", "about 1")]
#[case::full(
    "are lacking",
    Kind::TopUp,
    "no more (a nutrient change is due soon)",
    "to the full mark"
)]
#[case::no_water("top-ups on", Kind::TopUp, ": about", " about")]
fn a_word_told_wrong_is_seen(
    #[case] told: &str,
    #[case] kind: Kind,
    #[case] word: &str,
    #[case] wrong: &str,
) {
    let Case { plan, garden, .. } = &*GOOD;
    let mut chores = chores(plan, garden);
    assert_eq!(faults_told(plan, garden, &chores), [""; 0]);
    for chore in chores.iter_mut().filter(|c| c.kind == kind) {
        for line in &mut chore.details {
            *line = line.replacen(word, wrong, 1);
        }
    }
    let found = faults_told(plan, garden, &chores);
    assert!(found.iter().any(|f| f.contains(told)), "{found:#?}");
}
