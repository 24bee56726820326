//! Planning again around what stands: a year lived, and days on which nothing is new.

use std::path::Path;

use crate::independent_check::faults;
use crate::lantern::date;
use crate::plans::quick_plan;
use crate::year_simulation::{Fate, live};
use chrono::{Datelike, Days, NaiveDate, Weekday};
use rstest::rstest;
use steadyleaf::chores::{Kind, chores};
use steadyleaf::diary::{self, Diary, DiaryState, Event, RecordRequest};
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::crop::HarvestHabit;
use steadyleaf::garden::{Absence, Garden, file};
use steadyleaf::nature::canopy::Canopy;
use steadyleaf::page::report;
use steadyleaf::plan::calibration::calibrate;
use steadyleaf::plan::changes::{ChangedItem, PlanChangeReason, compare_plans};
use steadyleaf::plan::water::{ChangeReason, SolutionChange};
use steadyleaf::plan::{Plan, Replan, ReplanInput, Stay, plan_garden, record, replan};
use steadyleaf::planner::build::{PlanningState, build_from};
use steadyleaf::planner::effort::Effort;
use steadyleaf::planner::explain::bottleneck::Limit;
use steadyleaf::planner::monitor::Monitor;
use steadyleaf::summary::snapshot::snapshot;
use steadyleaf::terminal;
use steadyleaf::text::Language;
use steadyleaf::units;

fn garden(text: &str) -> Garden {
    file::parse(text, "garden.yaml", &Cards::built_in()).unwrap_or_else(|e| panic!("{e}"))
}

/// Twenty-four holes under lamps.
const SHELF: &str = "garden: Reed Lane shelf
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
";

fn shelf() -> Garden {
    garden(SHELF)
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
        crop.hole.days = units::Days::days(days);
    }
    for (_, from, until) in fate.booked {
        let (from, until) = (date(from), date(until));
        garden.rhythm.absences.push(Absence { from, until });
    }
    garden.rhythm.absences.sort_by_key(|a| a.from);
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

/// The share of the wants that a year lived meets, and that could have been met.
fn years(garden: &Garden, fate: Fate) -> (f64, f64) {
    let folder = tempfile::tempdir().unwrap();
    let lived = live(garden, fate, folder.path());
    let best = plan_garden(
        &known(garden, &fate),
        "",
        Effort::Normal,
        &Monitor::unwatched(),
    )
    .unwrap();
    let weeks = garden.weeks as usize;
    let problem = &best.built.problem;
    let targets = problem
        .wants
        .iter()
        .map(|w| w.target_milli[..weeks].to_vec());
    let targets: Vec<Vec<i64>> = targets.collect();
    let could = met(garden, &targets, &best.solution.supply(problem));
    let did = met(garden, &targets, &lived.harvested);
    println!(
        "year {}: met {did:.3} of {could:.3} that could be; {} plants died; {} plannings moved {} things",
        fate.seed, lived.died, lived.plannings, lived.changes
    );
    assert_eq!(lived.refused, Vec::<String>::new());
    (did, could)
}

/// Nothing happens but what chance does to seeds and to single plants.
#[test]
#[ignore = "half a minute; the harsh year asks more"]
fn a_kind_year_is_lived() {
    let fate = Fate {
        seed: 1,
        pace: |_| 1.0,
        dies: 0.0,
        kept_away: 0.0,
        booked: &[],
        heat: None,
    };
    let (did, could) = years(&shelf(), fate);
    assert!(did >= 0.93 * could, "{did} of {could}");
}

/// Crops late or early against their cards, deaths, days on which something came up, holidays
/// booked late, a heatwave.
fn harsh(seed: u64) -> Fate {
    Fate {
        seed,
        pace: slower,
        dies: 0.02,
        kept_away: 0.05,
        booked: &[
            ("2027-04-26", "2027-05-28", "2027-06-03"),
            ("2027-09-06", "2027-10-16", "2027-10-22"),
        ],
        heat: Some((date("2027-06-14"), date("2027-06-20"))),
    }
}

#[test]
fn a_harsh_year_is_lived() {
    let (did, could) = years(&shelf(), harsh(7));
    assert!(did >= 0.9 * could, "{did} of {could}");
}

/// One year alone can be a lucky one, or have no luck.
#[test]
#[ignore = "half a minute a year: `cargo test lived -- --include-ignored --nocapture`"]
fn harsh_years_are_lived() {
    let lived = (2..12).map(|seed| years(&shelf(), harsh(seed)));
    let shares: Vec<f64> = lived.map(|(did, could)| did / could).collect();
    let mean = shares.iter().sum::<f64>() / shares.len() as f64;
    println!("ten years: {mean:.3} in the mean");
    assert!(mean >= 0.92, "{shares:.3?}");
    assert!(shares.iter().all(|s| *s >= 0.87), "{shares:.3?}");
}

fn room() -> (Garden, Plan) {
    let garden = shelf();
    let plan = quick_plan(&garden).plan;
    (garden, plan)
}

/// A garden's diary, done as planned up to a day.
fn done_until(garden: &Garden, plan: &Plan, day: &str, path: &Path) -> Diary {
    let until = garden.start.iter_days().take_while(|d| *d <= date(day));
    for day in until.filter(|d| garden.rhythm.is_workday(*d)) {
        match record::record_done(path, garden, plan, day) {
            Ok(_) | Err(record::RecordError::NothingPlanned(_)) => {}
            Err(why) => panic!("{why}"),
        }
    }
    diary::file::read(path).unwrap()
}

fn planned(garden: &Garden, diary: &Diary, day: &str, former: &Plan) -> Replan {
    let again = replan(
        &ReplanInput {
            garden,
            diary,
            today: date(day),
            former: Some(former),
            made_from: "",
            effort: Effort::Quick,
            fresh: false,
        },
        &Monitor::unwatched(),
    )
    .unwrap();
    if !again.is_unchanged {
        let garden = diary.add_crops_to(garden.clone());
        let (state, _) = diary::replay(&garden, &diary.entries, date(day));
        assert_eq!(faults(&again.planned.plan, &garden, Some(&state)), [""; 0]);
    }
    again
}

/// What is still to come of a plan: hole, crop, days.
fn to_come(plan: &Plan, day: &str) -> Vec<(String, String, NaiveDate, NaiveDate)> {
    let stays = plan.stays.iter().filter(|s| s.removal > date(day));
    stays
        .map(|s| (s.hole.clone(), s.crop.clone(), s.transplant, s.removal))
        .collect()
}

/// All done as planned: the plan goes on as it was, whatever the day.
#[rstest]
#[case("2027-03-04")]
#[case("2027-04-15")]
#[case("2027-06-24")]
#[case("2027-10-28")]
fn what_goes_as_planned_moves_nothing(#[case] day: &str) {
    let (garden, plan) = room();
    let folder = tempfile::tempdir().unwrap();
    let diary = done_until(&garden, &plan, day, &folder.path().join("diary.yaml"));
    let again = planned(&garden, &diary, day, &plan);
    assert_eq!(to_come(&again.planned.plan, day), to_come(&plan, day));
    assert_eq!(again.changes, []);
    // And once more: the same bytes.
    let once_more = planned(&garden, &diary, day, &again.planned.plan);
    assert!(once_more.is_unchanged);
    assert_eq!(once_more.planned.plan, again.planned.plan);
}

/// Plants that are picked come out at a week's end, on whatever weekday one plans again: a plan that
/// went as planned is carried over as a whole.
#[rstest]
#[case::tuesday("2027-07-06")]
#[case::friday("2027-07-09")]
fn picked_plants_keep_their_last_day(#[case] day: &str) {
    let text = SHELF
        .replace("[rocket], each_week: 70 g", "[kale], each_week: 120 g")
        .replace("4 heads", "2 heads")
        .replace("tubes: 4", "tubes: 2")
        .replace("weeks: 52", "weeks: 40");
    let garden = garden(&text);
    let plan = quick_plan(&garden).plan;
    let picked = |s: &&Stay| s.crop == "kale" && s.removal > date(day);
    let later = |s: &&Stay| s.transplant > date(day) && picked(s);
    assert!(plan.stays.iter().filter(picked).count() > 3);
    assert!(plan.stays.iter().any(|s| later(&s)));
    let folder = tempfile::tempdir().unwrap();
    let eve = date(day).pred_opt().unwrap().to_string();
    let diary = done_until(&garden, &plan, &eve, &folder.path().join("diary.yaml"));
    let again = planned(&garden, &diary, day, &plan);
    assert_eq!(to_come(&again.planned.plan, &eve), to_come(&plan, &eve));
    assert_eq!(again.changes, []);
}

fn put(garden: &Garden, plan: &Plan, path: &Path, day: &str, said: &RecordRequest) -> Diary {
    record::record_request(path, garden, Some(plan), date(day), said).unwrap();
    diary::file::read(path).unwrap()
}

/// When a plant was sown is known of what stands too, as far as the diary has it.
#[test]
fn what_stands_keeps_its_day_of_sowing() {
    let (garden, plan) = room();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    done_until(&garden, &plan, "2027-05-12", &path);
    let in_use = |h: &String| plan.stays.iter().any(|s| s.hole == *h);
    let holes = (1..=6).map(|n| format!("shelf-4-{n}"));
    let spare = holes.clone().find(|h| !in_use(h));
    let bought = spare.inspect(|hole| {
        let set_out = RecordRequest::Transplanted {
            hole: hole.clone(),
            crop: "rocket".into(),
            given: false,
            sown: None,
        };
        put(&garden, &plan, &path, "2027-05-12", &set_out);
    });
    let diary = diary::file::read(&path).unwrap();
    let again = planned(&garden, &diary, "2027-05-13", &plan);
    let (state, _) = diary::replay(&garden, &diary.entries, date("2027-05-13"));
    let stands = again.planned.plan.stays.iter().filter(|s| s.stands);
    let mut known = 0;
    for stay in stands {
        let plant = &state.plants[&stay.hole];
        assert_eq!(stay.sow, plant.sown, "{}", stay.hole);
        known += usize::from(stay.sow.is_some());
        let before = plan.stay_of(&stay.hole, &stay.crop, stay.transplant);
        if bought.as_ref() != Some(&stay.hole) {
            assert_eq!(stay.sow, before.unwrap().sow);
        }
    }
    assert!(known > 8, "{known}");
}

/// A plant is set back by the cuts that are made, not by those that are due: on the morning after
/// one it is as small as the cut left it, and drinks as little; where nobody came it stands grown.
#[rstest]
#[case::sooner(true)]
#[case::missed(false)]
fn cuts_set_plants_back_when_they_are_made(#[case] sooner: bool) {
    let (garden, plan) = room();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    let spring = date("2027-04-15")..date("2027-06-15");
    let stay = plan.stays.iter().find(|s| {
        let second = s.harvests.get(1).map(|h| h.day);
        s.crop == "rocket" && second.is_some_and(|day| spring.contains(&day))
    });
    let stay = stay.unwrap();
    let due = stay.harvests[1].day;
    let before = due.iter_days().map(|d| d - Days::new(4)).find(|d| {
        // Wednesdays and Saturdays are three or four days apart.
        garden.rhythm.is_workday(*d)
    });
    let before = before.unwrap();
    let day = if sooner { before } else { due }
        .succ_opt()
        .unwrap()
        .to_string();
    let diary = done_until(&garden, &plan, &before.to_string(), &path);
    let as_done = planned(&garden, &diary, &day, &plan);
    let again = if sooner {
        let cut = RecordRequest::Harvested {
            hole: stay.hole.clone(),
            amount: vec!["20".into(), "g".into()],
            last: false,
            stands: true,
        };
        let diary = put(&garden, &plan, &path, &before.to_string(), &cut);
        planned(&garden, &diary, &day, &plan)
    } else {
        as_done.clone()
    };
    let stands = |again: &Replan| {
        let holes = snapshot(&again.planned.plan, &again.garden, date(&day));
        let hole = holes.into_iter().find(|h| h.hole == stay.hole).unwrap();
        hole.plant.unwrap().grown.unwrap()
    };
    let (grown, uncut) = (stands(&again), stands(&as_done));
    let crop = garden.crop("rocket").unwrap();
    let HarvestHabit::Cut {
        residual_canopy, ..
    } = crop.harvest
    else {
        panic!("rocket is cut");
    };
    let left = Canopy::from_size(&crop.size).development_at(residual_canopy.get());
    let of = &again
        .planned
        .plan
        .stay_of(&stay.hole, "rocket", stay.transplant);
    let first = stay.harvests[0].day;
    if sooner {
        assert!(left < grown && grown < left + 0.15, "{grown}, not {left}");
        assert!(uncut > 0.8, "{uncut}");
        assert_eq!(of.unwrap().harvested, [first, before]);
        let drunk = |again: &Replan| again.planned.plan.water[0].used[0];
        assert!(drunk(&again) < drunk(&as_done) - 0.005);
    } else {
        assert!(grown > 0.999, "{grown}");
        assert_eq!(of.unwrap().harvested, [first]);
    }
}

fn seed_orders(plan: &Plan, garden: &Garden) -> Vec<(NaiveDate, String)> {
    let chores = chores(plan, garden).into_iter();
    let orders = chores.filter(|c| c.kind == Kind::SeedOrder);
    orders.map(|c| (c.day, c.details.join("; "))).collect()
}

fn left(plan: &Plan, crop: &str) -> u64 {
    let lots = plan.seed.iter().filter(|lot| lot.crop == crop);
    lots.map(|lot| lot.left).sum()
}

/// Seed that an earlier plan had bought is in the house: it is told of again only where it runs
/// out, and that of a new crop at once.
#[test]
fn seed_is_bought_once() {
    let (mut garden, plan) = room();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    let first = seed_orders(&plan, &garden);
    assert_eq!(first.len(), 1, "{first:?}");
    let diary = done_until(&garden, &plan, "2027-05-12", &path);
    let again = planned(&garden, &diary, "2027-05-13", &plan);
    assert_eq!(seed_orders(&again.planned.plan, &again.garden), []);
    let crops: Vec<&str> = again
        .planned
        .plan
        .seed
        .iter()
        .map(|l| l.crop.as_str())
        .collect();
    assert_eq!(crops, ["butterhead", "pak-choi", "rocket"]);
    // And once more, from a plan that tells of none.
    let former = &again.planned.plan;
    for day in ["2027-05-15", "2027-05-19"] {
        record::record_done(&path, &garden, former, date(day)).unwrap();
    }
    let later = diary::file::read(&path).unwrap();
    let once_more = planned(&garden, &later, "2027-05-20", former);
    assert!(left(&once_more.planned.plan, "pak-choi") < left(former, "pak-choi"));
    assert_eq!(seed_orders(&once_more.planned.plan, &once_more.garden), []);

    // Fifty cells went wrong: what is lacking now is told of in time.
    let path = folder.path().join("mice.yaml");
    done_until(&garden, &plan, "2027-05-12", &path);
    let sown = RecordRequest::Sown {
        crop: "rocket".into(),
        cells: 50,
    };
    put(&garden, &plan, &path, "2027-05-12", &sown);
    let lost = RecordRequest::Lost {
        what: "rocket".into(),
        words: vec!["50".into(), "mice".into()],
        sown: None,
    };
    let mice = put(&garden, &plan, &path, "2027-05-12", &lost);
    let short = planned(&garden, &mice, "2027-05-13", &plan);
    let orders = seed_orders(&short.planned.plan, &short.garden);
    assert!(left(&short.planned.plan, "rocket") < left(&again.planned.plan, "rocket"));
    let of_rocket = orders.iter().filter(|o| o.1.contains("rocket: "));
    assert_eq!(of_rocket.count(), 1, "{orders:?}");

    // A crop that the garden did not have.
    garden = self::garden(&SHELF.replace("[rocket]", "[loose-leaf-cut]"));
    let other = planned(&garden, &diary, "2027-05-13", &plan);
    let orders = seed_orders(&other.planned.plan, &other.garden);
    let first = &orders[0];
    assert_eq!(first.0, date("2027-05-15"));
    assert!(
        first.1.starts_with("cut-and-come-again lettuce: "),
        "{orders:?}"
    );
}

/// What stood before is never told as sown or set out once more, though its days are known.
#[test]
fn what_stands_is_not_sown_again() {
    let (garden, plan) = room();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    let diary = done_until(&garden, &plan, "2027-05-12", &path);
    let again = planned(&garden, &diary, "2027-05-12", &plan).planned.plan;
    let mut stands = again.clone();
    stands.stays.retain(|s| s.stands);
    assert!(stands.stays.len() > 8);
    for stay in &mut stands.stays {
        stay.sow = Some(stands.start);
    }
    let told = chores(&stands, &garden);
    assert!(
        told.iter()
            .all(|c| c.kind != Kind::Sow && c.kind != Kind::Transplant)
    );
}

/// Where one plant of a hole falls away, those after it are still what they were: only that one
/// is told of, once.
#[test]
fn a_plant_that_falls_away_moves_no_other() {
    let (garden, plan) = room();
    let state = DiaryState::new(&garden);
    // A hole with one crop thrice, one after the other.
    let of = |hole: &str, crop: &str| -> Vec<Stay> {
        let stays = plan.stays.iter();
        let of = stays.filter(|s| s.hole == hole && s.crop == crop);
        of.cloned().collect()
    };
    let thrice = plan.stays.iter().map(|s| of(&s.hole, &s.crop));
    let thrice = thrice.into_iter().find(|of| of.len() > 2).unwrap();
    let gone = thrice[1].clone();
    let sow = gone.sow.unwrap();
    let mut after = plan.clone();
    after.stays.retain(|s| *s != gone);
    let told = compare_plans(&plan, &after, &state, sow);
    let days = told.iter().map(|c| (c.what, c.from, c.to));
    assert_eq!(
        days.collect::<Vec<_>>(),
        [(ChangedItem::Sow, Some(sow), None)],
        "{told:?}"
    );
    // The other way round it is new.
    let told = compare_plans(&after, &plan, &state, sow);
    let days = told.iter().map(|c| (c.what, c.from, c.to));
    assert_eq!(
        days.collect::<Vec<_>>(),
        [(ChangedItem::Sow, None, Some(sow))],
        "{told:?}"
    );
    // In the days before it is set out, that is the first of it; sown it was long ago.
    let told = compare_plans(&plan, &after, &state, gone.transplant);
    let of_it = told.iter().filter(|c| c.place == gone.hole);
    let of_it: Vec<_> = of_it.map(|c| (c.what, c.from, c.to)).collect();
    assert_eq!(
        of_it,
        [(ChangedItem::Transplant, Some(gone.transplant), None)]
    );
}

/// What should have come out before today and did not stands longer, until the day now planned.
#[test]
fn what_was_not_taken_out_in_time_stands_longer() {
    let (garden, plan) = room();
    let late = plan.stays.iter().find(|s| s.transplant > plan.start);
    let late = late.expect("a stay that begins later").clone();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    let eve = late.removal.pred_opt().unwrap();
    let diary = done_until(&garden, &plan, &eve.to_string(), &path);
    let today = late.removal + Days::new(1);
    let again = planned(&garden, &diary, &today.to_string(), &plan);
    let of_it: Vec<_> = again
        .changes
        .iter()
        .filter(|c| c.place == late.hole && c.crop.as_deref() == Some(&late.crop))
        .filter(|c| c.from == Some(late.removal))
        .collect();
    let [change] = of_it[..] else {
        panic!("{of_it:?} of {:?}", again.changes)
    };
    let to = change.to.expect("a day on which it comes out");
    assert_eq!(
        (change.what, &change.why),
        (ChangedItem::Removal, &PlanChangeReason::NotRecorded)
    );
    assert!(to >= today);
    let told = terminal::changes::render_changes(&again);
    let told = anstream::adapter::strip_str(&told).to_string();
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    let stands = format!(
        "in {}: stands longer than planned: taken out {} instead of",
        late.hole,
        to.format("%a %-d %b %Y")
    );
    assert!(told.contains(&stands), "{stands} in {told}");
}

/// A plant that came out a day before its day is done; that it does not come out on that day any
/// more is no news.
#[test]
fn what_came_out_sooner_is_not_told_again() {
    let (garden, plan) = room();
    let soon = plan.stays.iter().find(|s| s.transplant > plan.start);
    let soon = soon.expect("a stay that begins later").clone();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    let eve = soon.removal.pred_opt().unwrap();
    done_until(&garden, &plan, &eve.to_string(), &path);
    let out = RecordRequest::Harvested {
        hole: soon.hole.clone(),
        amount: Vec::new(),
        last: true,
        stands: false,
    };
    record::record_request(&path, &garden, Some(&plan), eve, &out).unwrap();
    let diary = diary::file::read(&path).unwrap();
    let again = planned(&garden, &diary, &soon.removal.to_string(), &plan);
    let of_it = |c: &&steadyleaf::plan::changes::PlanChange| {
        c.place == soon.hole && c.from == Some(soon.removal)
    };
    assert_eq!(again.changes.iter().find(of_it), None);
}

/// What stands and is taken out on another day lacks no seedlings.
#[test]
fn what_stands_has_its_seedlings() {
    let (garden, plan) = room();
    let stay = plan.stays.iter().find(|s| s.transplant > plan.start);
    let stay = stay.expect("a stay that begins later").clone();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    let diary = done_until(&garden, &plan, &stay.transplant.to_string(), &path);
    let today = stay.removal - Days::new(1);
    let (state, _) = diary::replay(&garden, &diary.entries, today);
    let mut after = plan.clone();
    for s in after.stays.iter_mut().filter(|s| **s == stay) {
        s.stands = true;
        s.removal = s.removal + Days::new(4);
    }
    let told = compare_plans(&plan, &after, &state, today);
    let of_it = told.iter().find(|c| c.place == stay.hole);
    let why = &of_it.expect("it moved").why;
    assert!(!matches!(why, PlanChangeReason::Seedlings), "{why:?}");
}

/// Where all plants of a hole come nine days later, each is told to have moved by nine days.
#[test]
fn plants_that_move_together_stay_who_they_are() {
    let (garden, plan) = room();
    let state = DiaryState::new(&garden);
    let later = |day: NaiveDate| day + Days::new(9);
    let mut after = plan.clone();
    let today = date("2027-06-02");
    for stay in after.stays.iter_mut().filter(|s| s.removal >= today) {
        stay.sow = stay.sow.map(later);
        stay.transplant = later(stay.transplant);
        stay.removal = later(stay.removal);
    }
    let told = compare_plans(&plan, &after, &state, today);
    let stays: Vec<_> = told.iter().filter(|c| c.crop.is_some()).collect();
    assert!(stays.len() > 8, "{}", stays.len());
    for change in stays {
        assert_eq!(change.from.map(later), change.to, "{change:?}");
    }
}

/// A batch that was sown a few days late is told as that, wherever it was to go.
#[test]
fn a_late_sowing_is_told_as_late() {
    let (garden, plan) = room();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    done_until(&garden, &plan, "2027-05-12", &path);
    let text = std::fs::read_to_string(&path).unwrap();
    let (before, last) = text
        .trim_end()
        .rsplit_once("- { on: 2027-05-12, sown:")
        .unwrap();
    let (sown, after) = last.split_once('\n').unwrap_or((last, ""));
    let late = format!("{before}{after}\n- {{ on: 2027-05-14, sown:{sown}\n");
    std::fs::write(&path, late).unwrap();
    let diary = diary::file::read(&path).unwrap();
    assert!(diary.faults.is_empty());
    let again = planned(&garden, &diary, "2027-05-15", &plan);
    let crop = sown.split(',').next().unwrap().trim();
    let of_it = |s: &&Stay| s.crop == crop && s.sow == Some(date("2027-05-12"));
    let holes: Vec<&str> = plan
        .stays
        .iter()
        .filter(of_it)
        .map(|s| s.hole.as_str())
        .collect();
    let told = again
        .changes
        .iter()
        .filter(|c| holes.contains(&c.place.as_str()));
    let told: Vec<_> = told.filter(|c| c.what == ChangedItem::Transplant).collect();
    assert!(!told.is_empty(), "{:?}", again.changes);
    assert!(
        told.iter().all(|c| c.why == PlanChangeReason::SownLate),
        "{told:?}"
    );
    let text = terminal::changes::render_changes(&again);
    let text: Vec<&str> = text.split_whitespace().collect();
    assert!(text.join(" ").contains("it was sown later than planned"));
}

/// When a garden is changed so that seedlings are no longer wanted, they are not told as missing.
#[test]
fn seedlings_that_are_there_are_not_missed() {
    let (garden, plan) = room();
    let folder = tempfile::tempdir().unwrap();
    let diary = done_until(
        &garden,
        &plan,
        "2027-05-12",
        &folder.path().join("diary.yaml"),
    );
    let changed = self::garden(&SHELF.replace("[rocket]", "[loose-leaf-cut]"));
    let again = planned(&changed, &diary, "2027-05-13", &plan);
    let of_rocket = again
        .changes
        .iter()
        .filter(|c| c.crop.as_deref() == Some("rocket"));
    let of_rocket: Vec<_> = of_rocket
        .filter(|c| c.what == ChangedItem::Transplant)
        .collect();
    assert!(!of_rocket.is_empty(), "{:?}", again.changes);
    assert!(
        of_rocket
            .iter()
            .all(|c| c.why != PlanChangeReason::Seedlings),
        "{of_rocket:?}"
    );
}

/// When most heads die, those of the coming weeks cannot be made up for: nothing is ripe by then; a
/// little later only what is bought and set out now. That is told, in every language.
#[test]
fn what_cannot_be_made_up_for_is_told_as_that() {
    let (mut garden, plan) = room();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    let mut diary = done_until(&garden, &plan, "2027-05-12", &path);
    let (state, _) = diary::replay(&garden, &diary.entries, date("2027-05-13"));
    let heads = state.plants.iter().filter(|(_, p)| p.crop != "rocket");
    for (_, (hole, _)) in heads.enumerate().filter(|(n, _)| n % 4 > 0) {
        let lost = RecordRequest::Lost {
            what: hole.clone(),
            words: vec!["frost".into()],
            sown: None,
        };
        diary = put(&garden, &plan, &path, "2027-05-13", &lost);
    }
    let again = planned(&garden, &diary, "2027-05-13", &plan);
    let weeks = &again.planned.plan.wants[0].weeks;
    let limits: Vec<_> = weeks.iter().take(8).map(|w| w.limit).collect();
    let late = |limit: Limit| limits.iter().filter(|l| **l == Some(limit)).count();
    assert!(
        late(Limit::TooLate) + late(Limit::TooLateToSow) > 0,
        "{limits:?}"
    );
    let problem = &again.planned.built.problem;
    let told = |garden: &Garden| report(&again.planned.plan, garden, problem, None);
    let english = told(&garden);
    garden.language = Language::from_code("es").unwrap();
    let spanish = told(&garden);
    for (page, words) in [(english, "it is too late"), (spanish, "ya es tarde")] {
        assert!(page.contains(words));
    }
}

/// A dead plant is replaced, told with its cause, and hardly anything else moves soon.
#[test]
fn a_loss_moves_little_and_is_told_with_its_cause() {
    let (garden, plan) = room();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    done_until(&garden, &plan, "2027-05-12", &path);
    let stands = |s: &&Stay| s.transplant <= date("2027-05-05") && s.removal > date("2027-05-20");
    let hole = plan.stays.iter().find(stands).unwrap().hole.clone();
    let lost = RecordRequest::Lost {
        what: hole.clone(),
        words: vec!["wilt".into()],
        sown: None,
    };
    let diary = put(&garden, &plan, &path, "2027-05-13", &lost);
    let again = planned(&garden, &diary, "2027-05-13", &plan);
    let told: Vec<_> = again.changes.iter().filter(|c| c.place == hole).collect();
    assert!(!told.is_empty());
    assert!(
        told.iter()
            .all(|c| c.why == PlanChangeReason::Lost(Some("wilt".into())))
    );
    let kept = to_come(&again.planned.plan, "2027-05-27");
    let before = to_come(&plan, "2027-05-27");
    let near = |s: &&(String, String, NaiveDate, NaiveDate)| s.2 < date("2027-05-27");
    let moved = before
        .iter()
        .filter(near)
        .filter(|s| !kept.contains(s))
        .count();
    assert!(moved <= 1, "{moved} plants of the coming two weeks moved");
}

#[test]
fn a_blocked_hole_is_left_out() {
    let (garden, plan) = room();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    let blocked = RecordRequest::Blocked {
        hole: "shelf-1-2,shelf-3-4".into(),
    };
    let diary = put(&garden, &plan, &path, "2027-03-02", &blocked);
    let again = planned(&garden, &diary, "2027-03-02", &plan);
    let used = |hole: &str| again.planned.plan.stays.iter().any(|s| s.hole == hole);
    assert!(!used("shelf-1-2") && !used("shelf-3-4") && used("shelf-1-3"));
}

/// Seedlings that are there are used; what was never sown is not counted on.
#[test]
fn only_seedlings_that_are_there_are_set_out() {
    let (garden, plan) = room();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    let sown = RecordRequest::Sown {
        crop: "pak-choi".into(),
        cells: 6,
    };
    let diary = put(&garden, &plan, &path, "2027-03-03", &sown);
    let again = planned(&garden, &diary, "2027-03-15", &plan);
    let on_hand: Vec<_> = again
        .planned
        .plan
        .stays
        .iter()
        .filter(|s| s.on_hand)
        .collect();
    assert!((1..=6).contains(&on_hand.len()));
    assert!(on_hand.iter().all(|s| s.crop == "pak-choi"));
    let from_seed = again.planned.plan.stays.iter().filter(|s| !s.on_hand);
    let mut sown = from_seed.filter_map(|s| s.sow);
    assert!(sown.all(|day| day >= date("2027-03-15")));
}

/// Seedlings grow old in the tray however often one plans: those of 3 March are ready by the end
/// of the month and are not set out in the middle of May, when they would be twice as old.
#[test]
fn seedlings_do_not_stay_young_by_planning() {
    let (garden, plan) = room();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    let sown = RecordRequest::Sown {
        crop: "pak-choi".into(),
        cells: 6,
    };
    let diary = put(&garden, &plan, &path, "2027-03-03", &sown);
    for (today, usable) in [("2027-04-01", true), ("2027-05-12", false)] {
        let again = planned(&garden, &diary, today, &plan);
        let stays = &again.planned.plan.stays;
        assert_eq!(stays.iter().any(|s| s.on_hand), usable, "{today}");
    }
}

/// A holiday booked six weeks ahead: what is not sown in the coming two weeks is planned around it,
/// so that every want is nearly met from the holiday on, and no week of it is lean.
#[test]
fn a_holiday_known_in_time_costs_little() {
    let (mut garden, plan) = room();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    let diary = done_until(&garden, &plan, "2027-09-05", &path);
    let (from, until) = (date("2027-10-16"), date("2027-10-22"));
    garden.rhythm.absences.push(Absence { from, until });
    let again = planned(&garden, &diary, "2027-09-06", &plan);
    for want in &again.planned.plan.wants {
        let weeks = want.weeks.iter().filter(|w| w.is_counted());
        let weeks = weeks.filter(|w| w.monday >= date("2027-10-18"));
        let leanest = weeks.clone().map(|w| w.delivered / w.target);
        let leanest = leanest.fold(f64::INFINITY, f64::min);
        assert!(leanest >= 0.7, "{}: {leanest} in a week", want.want);
        let (wanted, met) = weeks.fold((0.0, 0.0), |(wanted, met), w| {
            (wanted + w.target, met + w.delivered.min(w.target))
        });
        assert!(met >= 0.99 * wanted, "{}: {met} of {wanted}", want.want);
    }
}

/// One late harvest moves the card's days a little; many move them nearly all the way.
#[test]
fn lateness_is_learned_slowly() {
    let (garden, plan) = room();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    let mut paces = Vec::new();
    let heads = plan.stays.iter().filter(|s| s.want == "heads");
    let mut heads: Vec<&Stay> = heads.collect();
    heads.sort_by_key(|s| s.removal);
    for stay in heads.iter().take(12) {
        let late = (stay.removal + chrono::Days::new(5)).to_string();
        let set_out = RecordRequest::Transplanted {
            hole: stay.hole.clone(),
            crop: stay.crop.clone(),
            given: false,
            sown: None,
        };
        put(
            &garden,
            &plan,
            &path,
            &stay.transplant.to_string(),
            &set_out,
        );
        let taken = RecordRequest::Harvested {
            hole: stay.hole.clone(),
            amount: Vec::new(),
            last: false,
            stands: true,
        };
        let diary = put(&garden, &plan, &path, &late, &taken);
        let (state, _) = diary::replay(&garden, &diary.entries, date(&late));
        let known = calibrate(&garden, &state, date(&late));
        let crop = known.iter().find(|l| l.crop == stay.crop).unwrap();
        paces.push(crop.pace.mean);
    }
    let (first, last) = (paces[0], paces[paces.len() - 1]);
    // Still unripe three or four days late, on a workday, and taken after five: ripe four days late
    // of about 26, a logarithm of about 0.15.
    assert!(first > 0.0 && first < 0.06, "{paces:?}");
    assert!(last > 0.09, "{paces:?}");
}

/// The shelf with plants that any strength of solution suits, changed every so many days: the tank
/// is topped up by its level alone.
fn by_level(change_solution: f64) -> (Garden, Plan) {
    let mut garden = shelf();
    garden.rhythm.solution_change_interval = units::Days::days(change_solution);
    for crop in &mut garden.crops {
        crop.solution.ec = (
            units::Conductivity::millisiemens(0.1),
            units::Conductivity::millisiemens(9.0),
        );
    }
    let plan = quick_plan(&garden);
    (garden, plan.plan)
}

/// So many litres went in, and no more than fit in; only what is said to have filled the tank has.
/// On a Thursday nobody tops up.
#[rstest]
#[case::a_little("1 l", Some(1.0))]
#[case::some("9 l", Some(9.0))]
#[case::more_than_fits("500 l", None)]
#[case::said_to_be_full("1 l full", None)]
fn a_tank_is_as_full_as_the_diary_leaves_it(#[case] put_in: &str, #[case] litres: Option<f64>) {
    let (garden, plan) = by_level(14.0);
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    let diary = done_until(&garden, &plan, "2027-06-30", &path);
    let of_loop = &garden.loops[0];
    let on_morning = |diary: &Diary| {
        let again = planned(&garden, diary, "2027-07-01", &plan);
        let water = &again.planned.plan.water[0];
        assert!(water.top_ups.iter().all(|t| t.day > date("2027-07-01")));
        water.level[0] + water.used[0]
    };
    let holds = of_loop.tank.capacity.get();
    let yesterday = (date("2027-06-30") - plan.start).num_days() as usize;
    let told = plan.water[0].level[yesterday];
    assert!(told < holds - 12.0, "{told}");
    assert!((on_morning(&diary) - told).abs() < 0.05, "as it was told");
    let words = put_in.split(' ').map(str::to_owned).collect();
    let topped_up = RecordRequest::ToppedUp {
        r#loop: of_loop.name.clone(),
        amount: words,
    };
    let diary = put(&garden, &plan, &path, "2027-06-30", &topped_up);
    let full = holds - plan.water[0].used[yesterday];
    let (left, right) = (
        on_morning(&diary),
        litres.map_or(full, |put_in| told + put_in),
    );
    assert!((left - right).abs() < 0.05, "{left}, not {right}");
}

/// What is put down for the day of a planned top-up, or shortly before it, stands for it; what is
/// put down beside a day's work done as planned comes besides.
#[rstest]
#[case::on_the_day(0, false, 5.0)]
#[case::shortly_before(2, false, 5.0)]
#[case::besides(2, true, f64::INFINITY)]
#[case::long_before(5, false, f64::INFINITY)]
fn a_planned_top_up_is_done_once(
    #[case] days_before: u64,
    #[case] is_done: bool,
    #[case] most: f64,
) {
    let (garden, plan) = by_level(60.0);
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    let water = &plan.water[0];
    let mut top_ups = water.top_ups.iter();
    let top_up = top_ups.find(|t| t.day > date("2027-06-01")).unwrap();
    assert!(top_up.litres > 15.0, "{top_up:?}");
    let day = top_up.day;
    done_until(&garden, &plan, &(day - Days::new(1)).to_string(), &path);
    let at = |day: NaiveDate| (day - plan.start).num_days() as usize;
    let put_in = RecordRequest::ToppedUp {
        r#loop: "shelf".into(),
        amount: vec!["5 l".into()],
    };
    let before = (day - Days::new(days_before)).to_string();
    put(&garden, &plan, &path, &before, &put_in);
    if is_done {
        let read = Event::Read {
            r#loop: "shelf".into(),
            ec: None,
            ph: Some(6.0),
        };
        let done = steadyleaf::diary::Entry {
            on: day,
            event: read,
            as_planned: true,
        };
        diary::file::append(&path, |_| Ok::<_, std::io::Error>(vec![done.clone()])).unwrap();
    }
    let diary = diary::file::read(&path).unwrap();
    let today = day + Days::new(1);
    let again = planned(&garden, &diary, &today.to_string(), &plan);
    let found = again.planned.plan.water[0].found.unwrap();
    let without = water.level[at(day)] - top_up.litres;
    let right = (without + most).min(water.level[at(day)]);
    // The work of the day itself is not down: what should have left drinks on.
    assert!((found - right).abs() < 1.0, "{found}, not {right}");
}

/// Planned twice on one day, the water of that day counts once, whenever it was put down.
#[test]
fn planning_again_on_the_same_day_counts_its_water_once() {
    let (garden, plan) = by_level(14.0);
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    done_until(&garden, &plan, "2027-06-30", &path);
    let morning = |diary: &Diary, former: &Plan| {
        let plan = planned(&garden, diary, "2027-07-01", former).planned.plan;
        (plan.water[0].level[0] + plan.water[0].used[0], plan)
    };
    let put_in = RecordRequest::ToppedUp {
        r#loop: "shelf".into(),
        amount: vec!["5 l".into()],
    };
    let diary = diary::file::read(&path).unwrap();
    let (before, mut former) = morning(&diary, &plan);
    for times in [1.0, 2.0] {
        let diary = put(&garden, &plan, &path, "2027-07-01", &put_in);
        for _ in 0..2 {
            let (level, plan) = morning(&diary, &former);
            assert!((level - before - 5.0 * times).abs() < 0.05, "{level}");
            former = plan;
        }
        // Something else that happened, so that it is planned anew.
        let read = RecordRequest::Read {
            r#loop: "shelf".into(),
            values: vec!["ph".into(), format!("6.{times}")],
        };
        put(&garden, &plan, &path, "2027-07-01", &read);
    }
}

/// The days on which a plan fills tanks with fresh solution because of the days since the last
/// filling.
fn refills(plan: &Plan) -> Vec<NaiveDate> {
    let due = |c: &&SolutionChange| c.because == ChangeReason::Days;
    plan.water[0]
        .changes
        .iter()
        .filter(due)
        .map(|c| c.day)
        .collect()
}

/// Planning again every few days does not put off the change of the solution.
#[test]
fn a_change_of_the_solution_is_not_put_off() {
    let (garden, first) = room();
    let folder = tempfile::tempdir().unwrap();
    let due = refills(&first);
    let mut former = first.clone();
    for day in ["2027-05-04", "2027-05-08", "2027-05-12", "2027-05-17"] {
        let eve = date(day).pred_opt().unwrap().to_string();
        let diary = done_until(&garden, &first, &eve, &folder.path().join(day));
        former = planned(&garden, &diary, day, &former).planned.plan;
        let still_due = due.iter().filter(|&&d| d >= date(day));
        assert_eq!(refills(&former)[0], *still_due.min().unwrap(), "on {day}");
    }
    assert!(due.contains(&former.water[0].filled.unwrap()), "{due:?}");
}

/// A change of the solution that is not in the diary was not made, like all other work: it is due
/// on the next workday, and told of, until it is put down.
#[test]
fn a_change_that_is_not_put_down_stays_due() {
    let (garden, plan) = room();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    let all_due = refills(&plan);
    let at = all_due
        .iter()
        .position(|&d| d > date("2027-05-01"))
        .unwrap();
    let (before, due) = (all_due[at - 1], all_due[at]);
    let mut diary = done_until(&garden, &plan, &due.to_string(), &path);
    let is_missed = |e: &diary::Entry| e.on == due && matches!(e.event, Event::Refilled { .. });
    diary.entries.retain(|e| !is_missed(e));

    let mut former = plan.clone();
    let mut missed = due;
    for _ in 0..2 {
        let today = missed.succ_opt().unwrap();
        let again = planned(&garden, &diary, &today.to_string(), &former);
        let next = today
            .iter_days()
            .find(|d| garden.rhythm.is_workday(*d))
            .unwrap();
        assert_eq!(refills(&again.planned.plan)[0], next);
        assert_eq!(again.planned.plan.water[0].filled, Some(before));
        let told: Vec<_> = again
            .changes
            .iter()
            .filter(|c| c.what == ChangedItem::Solution)
            .collect();
        assert_eq!(told.len(), 1, "{told:?}");
        assert_eq!((told[0].from, told[0].to), (Some(missed), Some(next)));
        assert_eq!(told[0].why, PlanChangeReason::NotRecorded);
        let ec =
            |plan: &Plan, day: NaiveDate| plan.water[0].ec[(day - plan.start).num_days() as usize];
        // Nothing fresh came in: it goes on from where it was.
        if missed == due {
            let eve = ec(&plan, due.pred_opt().unwrap()).unwrap();
            let now = ec(&again.planned.plan, today).unwrap();
            assert!((now - eve).abs() < 0.15, "{eve} became {now}");
        }
        (former, missed) = (again.planned.plan, next);
    }

    let today = missed.succ_opt().unwrap().to_string();
    diary.entries.push(diary::Entry {
        on: missed,
        event: Event::Refilled {
            r#loop: "shelf".into(),
        },
        as_planned: false,
    });
    let again = planned(&garden, &diary, &today, &former);
    assert_eq!(again.planned.plan.water[0].filled, Some(missed));
    assert!(refills(&again.planned.plan)[0] > missed + Days::new(10));
    assert!(
        again
            .changes
            .iter()
            .all(|c| c.what != ChangedItem::Solution)
    );
}

/// The solution changed on another day than planned counts from then on; what was measured since
/// is where the EC goes on from.
#[test]
fn a_tank_goes_on_from_the_last_filling_and_reading() {
    let (garden, plan) = room();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    let due = refills(&plan);
    let due = *due.iter().find(|&&d| d > date("2027-05-01")).unwrap();
    let (eve, today) = (due - Days::new(4), due + Days::new(1));
    done_until(&garden, &plan, &eve.to_string(), &path);
    let refilled = RecordRequest::Refilled {
        r#loop: "shelf".into(),
    };
    let diary = put(&garden, &plan, &path, &eve.to_string(), &refilled);
    // Told of the change that the diary has four days before, the plan would do it on its day.
    let again = planned(&garden, &diary, &(eve + Days::new(1)).to_string(), &plan);
    let every = Days::new(garden.rhythm.solution_change_interval.get() as u64);
    let next = refills(&again.planned.plan)[0];
    assert!((next - (eve + every)).num_days().abs() <= 2, "{next}");
    assert_eq!(again.planned.plan.water[0].filled, Some(eve));

    let morning = |diary: &Diary| {
        let again = planned(&garden, diary, &today.to_string(), &plan);
        again.planned.plan.water[0].ec[0].unwrap()
    };
    let before = morning(&diary);
    let read = RecordRequest::Read {
        r#loop: "shelf".into(),
        values: vec!["ec".into(), "2.4".into()],
    };
    let diary = put(&garden, &plan, &path, &due.to_string(), &read);
    let after = morning(&diary);
    assert!((after - 2.4).abs() < 0.1, "{before} became {after}");
    assert!(before < 2.2, "{before} became {after}");
}

/// On a day before the garden begins, or after its weeks, there is nothing to plan.
#[rstest]
#[case("2027-02-28", "before the garden's start")]
#[case("2028-03-01", "give the garden a later `start`")]
fn a_day_that_is_not_the_gardens_is_told(#[case] day: &str, #[case] why: &str) {
    let garden = shelf();
    let refused = replan(
        &ReplanInput {
            garden: &garden,
            diary: &Diary::default(),
            today: date(day),
            former: None,
            made_from: "",
            effort: Effort::Quick,
            fresh: false,
        },
        &Monitor::unwatched(),
    );
    let told = refused.err().unwrap().to_string();
    assert!(told.contains(why), "{told}");
}

/// From whatever day of a week is planned, the weeks that count are those that end in the days
/// shown.
#[rstest]
#[case::monday("2027-06-14")]
#[case::wednesday("2027-06-16")]
#[case::sunday("2027-06-20")]
#[case::last_week("2028-02-24")]
fn every_shown_week_counts(#[case] day: &str) {
    let garden = shelf();
    let setting = PlanningState::from_diary(&garden, &DiaryState::new(&garden), date(day)).unwrap();
    let problem = build_from(&garden, &setting).problem;
    let days = date(day)
        .iter_days()
        .take_while(|d| *d <= garden.last_day());
    let sundays = days.filter(|d| d.weekday() == Weekday::Sun).count();
    assert_eq!(problem.reported_weeks(), sundays);
}
