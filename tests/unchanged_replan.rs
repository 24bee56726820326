//! A plan that went as planned is kept, on whatever day one plans again: no stay, harvest or
//! scrubbing moves.

use std::path::Path;

use chrono::{Days, NaiveDate};
use rstest::rstest;
use steadyleaf::diary::{self, Diary};
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::{Garden, file};
use steadyleaf::plan::{Plan, ReplanInput, record, replan};
use steadyleaf::planner::effort::Effort;
use steadyleaf::planner::monitor::Monitor;

use crate::plan_rules::BUSY;
use crate::plans::quick_plan;

fn example(name: &str) -> Garden {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    let loaded = file::read(&folder.join(name)).unwrap_or_else(|e| panic!("{e}"));
    loaded.garden
}

fn busy() -> Garden {
    file::parse(BUSY, "garden.yaml", &Cards::built_in()).unwrap_or_else(|e| panic!("{e}"))
}

/// The diary on a morning, when all of the days before was done as planned.
fn done_before(garden: &Garden, plan: &Plan, today: NaiveDate) -> Diary {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    let days = garden.start.iter_days().take_while(|day| *day < today);
    for day in days.filter(|day| garden.rhythm.is_workday(*day)) {
        match record::record_done(&path, garden, plan, day) {
            Ok(_) | Err(record::RecordError::NothingPlanned(_)) => {}
            Err(why) => panic!("{why}"),
        }
    }
    diary::file::read(&path).unwrap()
}

/// What is still to come of a plan: stays with their harvests, and scrubbings.
fn to_come(plan: &Plan, today: NaiveDate) -> Vec<String> {
    let stays = plan.stays.iter().filter(|stay| stay.removal >= today);
    let stays = stays.map(|stay| {
        let harvests = stay.harvests.iter().map(|harvest| harvest.day);
        let harvests: Vec<NaiveDate> = harvests.filter(|day| *day >= today).collect();
        format!(
            "{} {} sown {:?}, out {}, in until {}, harvested {harvests:?}",
            stay.hole, stay.crop, stay.sow, stay.transplant, stay.removal
        )
    });
    let cleans = plan.cleans.iter().filter(|clean| clean.day >= today);
    let cleans = cleans.map(|clean| format!("{} scrubbed {}", clean.tube, clean.day));
    let mut all: Vec<String> = stays.chain(cleans).collect();
    all.sort();
    all
}

/// What moved when a garden is planned again on a morning, from what is shown of both plans.
fn moved(garden: &Garden, plan: &Plan, today: NaiveDate) -> Vec<String> {
    let diary = done_before(garden, plan, today);
    let around = ReplanInput {
        garden,
        diary: &diary,
        today,
        former: Some(plan),
        made_from: "",
        effort: Effort::Quick,
        fresh: false,
    };
    let again = replan(&around, &Monitor::unwatched()).unwrap();
    let (before, now) = (to_come(plan, today), to_come(&again.planned.plan, today));
    assert!(!before.is_empty());
    let gone = before.iter().filter(|line| !now.contains(line));
    let mut moved: Vec<String> = gone
        .map(|line| format!("{today}: no more {line}"))
        .collect();
    // Beyond the shown weeks the plan goes on a little further each day.
    let new = now.iter().filter(|line| !before.contains(line));
    let new = new.filter(|_| again.planned.plan.last == plan.last);
    moved.extend(new.map(|line| format!("{today}: now {line}")));
    moved.extend(
        again
            .changes
            .iter()
            .map(|change| format!("{today}: {change:?}")),
    );
    moved
}

/// On mornings so many days after the start, of all weekdays, at work and between. Forty-seven days on
/// the wall some spinach is to be cut that could also be taken out at once.
#[rstest]
#[case::under_lamps(example("attic-shelf"), &[10, 18, 33, 47, 62, 93])]
#[case::in_towers(example("mist-hill-towers"), &[17, 34, 60])]
#[case::on_a_wall(example("harbour-wall"), &[45, 47])]
#[case::of_every_habit(busy(), &[10, 13, 17, 30, 47, 61, 90, 94, 131])]
fn what_went_as_planned_stays(#[case] garden: Garden, #[case] after: &[u64]) {
    let plan = quick_plan(&garden).plan;
    let mornings = after.iter().map(|&days| garden.start + Days::new(days));
    let moved: Vec<String> = mornings
        .flat_map(|today| moved(&garden, &plan, today))
        .collect();
    assert_eq!(moved, [""; 0]);
}
