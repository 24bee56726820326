//! Months in which much happens otherwise than planned: the garden file is changed in the middle of
//! a year while the diary still speaks of it as it was, the grower is ill, plants are given.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use chrono::{Days, NaiveDate, Utc};
use rstest::rstest;
use steadyleaf::plan::{ExcludedWeek, Plan, Stay};

use crate::lantern::date;

const GARDEN: &str = "garden: Reed Lane shelf
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
nursery: { cells: 30 }
wants:
  - { want: heads, from_crops: [pak-choi], each_week: 1 heads }
  - { want: rocket, from_crops: [rocket], each_week: 60 g }
rhythm: { workdays: [wed, sat] }
";

/// The day on which the months begin.
const TODAY: &str = "2027-05-05";

fn run(folder: &Path, words: &str) -> Output {
    Command::new(env!("CARGO_BIN_EXE_steadyleaf"))
        .current_dir(folder)
        .args(words.split(' '))
        .output()
        .unwrap()
}

/// What it printed and what it noted.
fn done(folder: &Path, words: &str) -> (String, String) {
    let output = run(folder, words);
    let text = |bytes| String::from_utf8(bytes).unwrap();
    let noted = text(output.stderr);
    assert!(output.status.success(), "{words}: {noted}");
    (text(output.stdout), noted)
}

fn refused(folder: &Path, words: &str) -> String {
    let output = run(folder, words);
    assert_eq!(output.status.code(), Some(1), "{words}");
    String::from_utf8(output.stderr).unwrap()
}

fn plan(folder: &Path) -> Plan {
    let text = fs::read_to_string(folder.join("plan/plan.json")).unwrap();
    serde_json::from_str(&text).unwrap()
}

fn again(folder: &Path, today: &str) -> Plan {
    done(folder, &format!("plan --effort quick --today {today}"));
    plan(folder)
}

/// A garden in which all was done as planned up to the day.
fn lived() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("garden.yaml"), GARDEN).unwrap();
    done(folder.path(), "plan --effort quick");
    let days = date("2027-03-01").iter_days();
    for day in days.take_while(|d| *d < date(TODAY)) {
        run(folder.path(), &format!("record done {day}"));
    }
    folder
}

fn change(folder: &Path, from: &str, to: &str) {
    assert!(GARDEN.contains(from));
    fs::write(folder.join("garden.yaml"), GARDEN.replace(from, to)).unwrap();
}

/// Holes in which a crop stands.
fn standing<'p>(plan: &'p Plan, crop: &str) -> BTreeSet<&'p str> {
    let stays = plan.stays.iter().filter(|s| s.stands && s.crop == crop);
    stays.map(|s| s.hole.as_str()).collect()
}

/// What is not wanted any more stands all the same: it is in the log, and nothing is planned for its
/// hole before it is taken out.
#[test]
fn what_is_not_wanted_any_more_still_stands() {
    let folder = lived();
    let folder = folder.path();
    let stood = again(folder, TODAY);
    let stood = standing(&stood, "rocket");
    assert!(stood.len() > 1);
    change(
        folder,
        "  - { want: rocket, from_crops: [rocket], each_week: 60 g }\n",
        "",
    );
    let (_, noted) = done(folder, &format!("plan --effort quick --today {TODAY}"));
    assert!(!noted.contains("left out"), "{noted}");
    let plan = plan(folder);
    assert_eq!(standing(&plan, "rocket"), stood);
    let (map, _) = done(folder, &format!("map {TODAY} --json"));
    let map: serde_json::Value = serde_json::from_str(&map).unwrap();
    let holes = map["holes"].as_array().unwrap().iter();
    let of_rocket = holes.filter(|h| h["plant"]["crop"] == "rocket");
    assert!(of_rocket.count() > 0, "{map}");
    let (log, _) = done(folder, "log --json");
    assert!(log.contains("\"crop\": \"rocket\""), "{log}");
}

/// New wants, more of one, new tubes and more weeks are planned for at once, though all went as
/// planned and the plan so far would still fit.
#[rstest]
#[case::a_want(
    "  - { want: rocket,",
    "  - { want: salad, from_crops: [mizuna], each_week: 60 g }\n  - { want: rocket,"
)]
#[case::more_of_one("1 heads", "3 heads")]
#[case::more_weeks("weeks: 20", "weeks: 28")]
#[case::a_later_start("start: 2027-03-01", "start: 2027-05-03")]
fn a_changed_garden_is_planned_anew(#[case] from: &str, #[case] to: &str) {
    let folder = lived();
    let folder = folder.path();
    change(folder, from, to);
    let plan = again(folder, TODAY);
    for want in &plan.wants {
        let last = || want.weeks.iter().rev().take(3);
        let given: f64 = last().map(|w| w.delivered).sum();
        let wanted: f64 = last().map(|w| w.target).sum();
        assert!(given > 0.6 * wanted, "{}: {given} of {wanted}", want.want);
    }
}

/// The same of tubes, where the holes are too few.
#[test]
fn new_tubes_are_planted() {
    let folder = lived();
    let folder = folder.path();
    change(folder, "1 heads", "5 heads");
    let few = again(folder, TODAY).wants[0].met.unwrap();
    let more = GARDEN
        .replace("1 heads", "5 heads")
        .replace("tubes: 2", "tubes: 4");
    fs::write(folder.join("garden.yaml"), more).unwrap();
    let plan = again(folder, TODAY);
    let is_new = |s: &&Stay| {
        ["shelf-3-", "shelf-4-"]
            .iter()
            .any(|t| s.hole.starts_with(t))
    };
    assert!(plan.stays.iter().filter(is_new).count() > 3);
    assert!(plan.wants[0].met.unwrap() > few + 0.1);
}

/// A tube was sold: what it gave counts on, what stands there by the diary is told of once, until
/// it is put down as gone, and nothing new can be put into it.
#[test]
fn a_sold_tube_has_had_its_harvests() {
    let folder = lived();
    let folder = folder.path();
    let (before, _) = done(folder, "log --json");
    let stood = again(folder, TODAY);
    let there = |s: &&Stay| s.stands && s.hole.starts_with("shelf-2-");
    let holes: Vec<&str> = stood
        .stays
        .iter()
        .filter(there)
        .map(|s| s.hole.as_str())
        .collect();
    assert!(holes.len() > 1);
    change(folder, "tubes: 2", "tubes: 1");
    let (after, noted) = done(folder, "log --json");
    assert_eq!(after, before);
    assert_eq!(noted.matches("note: ").count(), 1, "{noted}");
    assert!(holes.iter().all(|hole| noted.contains(hole)), "{noted}");
    assert!(
        noted.contains(&format!("`record cleared {}`", holes[0])),
        "{noted}"
    );
    let plan = again(folder, TODAY);
    assert!(plan.stays.iter().all(|s| s.hole.starts_with("shelf-1-")));
    let words = format!("record cleared {} --on {TODAY}", holes.join(","));
    done(folder, &words);
    let (_, noted) = done(folder, "log");
    assert_eq!(noted, "");
    for words in [
        format!("record transplanted {} rocket --on {TODAY}", holes[0]),
        format!("record lost {} wilt --on {TODAY}", holes[0]),
        format!("record blocked {} --on {TODAY}", holes[0]),
    ] {
        let why = refused(folder, &words);
        assert!(
            why.contains(&format!("no hole `{}`", holes[0])) || why.contains("no hole or crop"),
            "{why}"
        );
    }
}

/// Lines on a crop whose own card is gone are told of once.
#[test]
fn a_name_that_is_unknown_is_told_once() {
    let folder = lived();
    let folder = folder.path();
    let lines: String = (1..4)
        .map(|n| format!("- {{ on: 2027-05-0{n}, sown: cress-mix, cells: 2 }}\n"))
        .collect();
    let path = folder.join("diary.yaml");
    let text = fs::read_to_string(&path).unwrap();
    fs::write(&path, text + &lines).unwrap();
    let (_, noted) = done(folder, "log");
    assert_eq!(
        noted,
        "note: the diary's cress-mix sown in 2 cells on 2027-05-01 is left out, and so are 2 other \
         lines that name it: there is no crop `cress-mix` in this garden\n"
    );
}

/// Plants that were given are of no sowing, whatever crop they are of; their age is what was said.
#[test]
fn given_plants_leave_the_nursery_as_it_is() {
    let folder = lived();
    let folder = folder.path();
    let free = again(folder, TODAY);
    let taken: BTreeSet<&str> = free
        .stays
        .iter()
        .filter(|s| s.stands)
        .map(|s| &*s.hole)
        .collect();
    let holes = (1..=2).flat_map(|t| (1..=6).map(move |n| format!("shelf-{t}-{n}")));
    let free: Vec<String> = holes.filter(|h| !taken.contains(h.as_str())).collect();
    let left = || {
        let (log, _) = done(folder, "log --json");
        let log: serde_json::Value = serde_json::from_str(&log).unwrap();
        log["crops"]
            .as_array()
            .unwrap()
            .iter()
            .map(|c| c["sown"].as_u64().unwrap())
            .sum::<u64>()
    };
    let before = left();
    let words = format!(
        "record transplanted {} rocket --given --sown 2027-04-20 --on {TODAY}",
        free[0]
    );
    let (told, _) = done(folder, &words);
    assert!(
        told.contains(&format!("given rocket set out in {}", free[0])),
        "{told}"
    );
    done(
        folder,
        &format!(
            "record transplanted {} mizuna --given --on {TODAY}",
            free[1]
        ),
    );
    assert_eq!(left(), before);
    let text = fs::read_to_string(folder.join("diary.yaml")).unwrap();
    let line = text.lines().rev().nth(1).unwrap();
    assert!(
        line.contains("sown_on: 2027-04-20") && line.contains("given: true"),
        "{line}"
    );
    let plan = again(folder, TODAY);
    assert!(standing(&plan, "rocket").contains(free[0].as_str()));
    assert!(standing(&plan, "mizuna").contains(free[1].as_str()));
    let of_sowing = |s: &&Stay| s.crop == "rocket" && s.hole == free[0];
    let sown = plan.stays.iter().find(of_sowing).unwrap().sow;
    assert_eq!(sown, Some(date("2027-04-20")));
}

/// A plant set out of a sowing that there was not is told as taken from another.
#[test]
fn a_plant_of_no_sowing_is_told() {
    let folder = lived();
    let folder = folder.path();
    let path = folder.join("diary.yaml");
    let text = "- { on: 2027-03-03, sown: pak-choi, cells: 3 }
- { on: 2027-03-20, transplanted: pak-choi, hole: shelf-1-1, sown_on: 2027-03-02 }
- { on: 2027-03-20, transplanted: pak-choi, hole: shelf-1-3, sown_on: 2027-03-03 }
- { on: 2027-03-20, transplanted: rocket, hole: shelf-1-5, sown_on: 2027-03-02 }
";
    fs::write(&path, text).unwrap();
    let (_, noted) = done(folder, "log");
    assert_eq!(
        noted,
        "note: the diary's pak-choi set out in shelf-1-1 on 2027-03-20 is taken to be of what was \
         sown on 2027-03-03: of what was sown on 2027-03-02 there is none left. Where it was given, \
         add `given: true` to the line\n"
    );
}

/// Nobody came for twelve days: what lies too near to be reached by seed is no matter of the season.
#[test]
fn weeks_missed_are_not_out_of_season() {
    let folder = lived();
    let plan = again(folder.path(), "2027-05-19");
    let weeks = plan.wants.iter().flat_map(|w| &w.weeks);
    let why: BTreeSet<_> = weeks
        .filter_map(|w| w.not_counted)
        .map(|why| format!("{why:?}"))
        .collect();
    assert_eq!(
        why,
        [format!("{:?}", ExcludedWeek::BeforeFirstHarvest)].into()
    );
}

/// What was measured before the tank was filled with fresh solution says nothing of what is in it.
#[test]
fn a_filling_makes_what_was_measured_before_it_old() {
    let ec = |words: &[&str]| {
        let folder = lived();
        for words in words {
            done(folder.path(), &format!("record {words} --on {TODAY}"));
        }
        again(folder.path(), "2027-05-06").water[0].ec[0]
    };
    let fresh = ec(&["refilled shelf"]);
    assert_eq!(ec(&["read shelf ec 2.6", "refilled shelf"]), fresh);
    let measured = ec(&["refilled shelf", "read shelf ec 2.6"]);
    assert!(
        measured > fresh.map(|ec| ec + 0.5),
        "{measured:?}, {fresh:?}"
    );
}

/// A line of a day to come is a slip of the pen, on whatever day one plans.
#[test]
fn a_line_of_a_day_to_come_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let day = |n: u64| Utc::now().date_naive() + Days::new(n);
    let start: NaiveDate = day(0) - Days::new(9);
    let text = GARDEN.replace("2027-03-01", &start.to_string());
    fs::write(folder.join("garden.yaml"), text).unwrap();
    done(folder, &format!("record sown rocket 3 --on {}", day(5)));
    let why = refused(folder, "plan --effort quick");
    assert!(
        why.contains(&format!("the diary goes on to {}", day(5))),
        "{why}"
    );
    assert!(!folder.join("plan").exists());
}
