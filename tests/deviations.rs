//! Where life deviates a little from a plan, little of what is yet to come moves when it is planned
//! again: growers print the sheet and import the calendar.

use std::path::Path;
use std::sync::LazyLock;

use crate::plans::quick_plan;
use chrono::{Days, NaiveDate};
use rstest::rstest;
use steadyleaf::diary::{self, RecordRequest};
use steadyleaf::garden::{Absence, Garden, file};
use steadyleaf::plan::{Plan, ReplanInput, Stay, record, replan};
use steadyleaf::planner::effort::Effort;
use steadyleaf::planner::monitor::Monitor;

static SHELF: LazyLock<(Garden, Plan)> = LazyLock::new(|| first("attic-shelf"));
static TOWERS: LazyLock<(Garden, Plan)> = LazyLock::new(|| first("mist-hill-towers"));

fn first(name: &str) -> (Garden, Plan) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    let garden = file::read(&folder.join(name)).unwrap_or_else(|e| panic!("{e}"));
    let garden = garden.garden;
    let plan = quick_plan(&garden).plan;
    (garden, plan)
}

/// What comes otherwise than planned, on the day on which one plans again.
#[derive(Debug, Clone, Copy)]
enum Deviation {
    /// A plant that has stood for some days, and would for some more, is dead.
    Dead,
    /// The hole of the next plant cannot be used.
    Blocked,
    /// Ten days away, two months on.
    Holiday,
}

/// Puts a deviation down; the hole that it is about.
fn put_down(
    what: Deviation,
    garden: &mut Garden,
    plan: &Plan,
    today: NaiveDate,
    path: &Path,
) -> Option<String> {
    let stands =
        |s: &&Stay| s.transplant + Days::new(5) <= today && today + Days::new(10) < s.removal;
    let (hole, said): (&str, fn(String) -> RecordRequest) = match what {
        Deviation::Dead => {
            let plant = plan.stays.iter().rfind(stands).expect("a plant stands");
            (&plant.hole, |hole| RecordRequest::Lost {
                what: hole,
                words: vec!["wilt".into()],
                sown: None,
            })
        }
        Deviation::Blocked => {
            let is_empty = |s: &&Stay| {
                let mut others = plan.stays.iter().filter(|o| o.hole == s.hole);
                today < s.transplant && !others.any(|o| o.transplant < today && today <= o.removal)
            };
            let next = plan.stays.iter().find(is_empty).expect("an empty hole");
            (&next.hole, |hole| RecordRequest::Blocked { hole })
        }
        Deviation::Holiday => {
            let from = today + Days::new(60);
            let until = from + Days::new(9);
            garden.rhythm.absences.push(Absence { from, until });
            return None;
        }
    };
    record::record_request(path, garden, Some(plan), today, &said(hole.to_owned())).unwrap();
    Some(hole.to_owned())
}

/// Of a hundred plants that are yet to be set out, in other holes, how many are not just as they
/// were: in the same hole, sown, set out and taken on the same days.
fn moved(plan: &Plan, after: &Plan, today: NaiveDate, but_for: Option<&str>) -> usize {
    let of = |stay: &Stay| (stay.sow, stay.transplant, stay.removal);
    let is_in = |stay: &Stay| {
        let mut others = after.stays.iter().filter(|s| s.hole == stay.hole);
        others.any(|s| s.crop == stay.crop && of(s) == of(stay))
    };
    let stays = plan.stays.iter();
    let to_come = stays.filter(|s| today < s.transplant && Some(s.hole.as_str()) != but_for);
    let (count, kept) = to_come.fold((0, 0), |(count, kept), stay| {
        (count + 1, kept + usize::from(is_in(stay)))
    });
    assert!(count > 100, "{count} to come");
    (count - kept) * 100 / count
}

#[rstest]
#[case::one_dead(&SHELF, 30, Deviation::Dead, 5)]
#[case::one_dead_later(&SHELF, 100, Deviation::Dead, 5)]
#[case::a_hole_less(&SHELF, 60, Deviation::Blocked, 40)]
#[case::some_days_away(&SHELF, 30, Deviation::Holiday, 20)]
#[case::one_dead_in_towers(&TOWERS, 60, Deviation::Dead, 5)]
#[case::away_from_towers(&TOWERS, 60, Deviation::Holiday, 25)]
fn a_small_deviation_moves_little(
    #[case] of: &LazyLock<(Garden, Plan)>,
    #[case] days: u64,
    #[case] what: Deviation,
    #[case] at_most: usize,
) {
    let (mut garden, plan) = (of.0.clone(), &of.1);
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    let mut mornings = garden.start.iter_days().skip(days as usize);
    let today = mornings.find(|d| garden.rhythm.is_workday(*d)).unwrap();
    let before = garden.start.iter_days().take_while(|d| *d < today);
    for day in before.filter(|d| garden.rhythm.is_workday(*d)) {
        match record::record_done(&path, &garden, plan, day) {
            Ok(_) | Err(record::RecordError::NothingPlanned(_)) => {}
            Err(why) => panic!("{why}"),
        }
    }
    let about = put_down(what, &mut garden, plan, today, &path);
    let around = ReplanInput {
        garden: &garden,
        diary: &diary::file::read(&path).unwrap(),
        today,
        former: Some(plan),
        made_from: if about.is_some() {
            ""
        } else {
            "with a holiday"
        },
        effort: Effort::Quick,
        fresh: false,
    };
    let again = replan(&around, &Monitor::unwatched()).unwrap();
    let moved = moved(plan, &again.planned.plan, today, about.as_deref());
    println!("{what:?} after {days} days: {moved} of 100 moved");
    assert!(moved <= at_most, "{moved} of 100 moved, not {at_most}");
}
