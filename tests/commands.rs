//! The built program: exit codes, messages, and the files that it makes or leaves alone.

use std::fs;
use std::path::Path;

use assert_cmd::Command;
use assert_fs::TempDir;
use assert_fs::prelude::*;
use predicates::prelude::*;
use predicates::str::contains;
use rstest::rstest;

/// The program, as a pipe sees it, in a folder of its own.
fn steadyleaf(folder: &Path) -> Command {
    let mut command = Command::cargo_bin("steadyleaf").unwrap();
    command.current_dir(folder).env_remove("NO_COLOR");
    command
}

/// A folder with the garden that `start` writes.
fn started() -> TempDir {
    let folder = TempDir::new().unwrap();
    steadyleaf(folder.path())
        .args(["start", "."])
        .assert()
        .success();
    folder
}

/// The same, planned.
fn planned() -> TempDir {
    let folder = started();
    steadyleaf(folder.path())
        .args(["plan", "--effort", "quick"])
        .assert()
        .success();
    folder
}

/// Names of all that a folder holds, in order.
fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

/// What was lost since the plan was made is still drawn: that is said, until one plans again.
#[test]
fn what_the_plan_does_not_know_yet_is_said() {
    let folder = planned();
    let text = fs::read_to_string(folder.path().join("plan/plan.json")).unwrap();
    let plan: serde_json::Value = serde_json::from_str(&text).unwrap();
    let stays = plan["stays"].as_array().unwrap();
    let stay = stays
        .iter()
        .min_by_key(|s| s["transplant"].as_str())
        .unwrap();
    let text = |key: &str| stay[key].as_str().unwrap();
    let (hole, crop, out) = (text("hole"), text("crop"), text("transplant"));
    let out: chrono::NaiveDate = out.parse().unwrap();
    let day = |n| (out + chrono::Days::new(n)).to_string();
    let run = |args: &[&str]| steadyleaf(folder.path()).args(args).assert().success();
    run(&["record", "transplanted", hole, crop, "--on", &day(0)]);
    run(&["map", &day(2)]).stderr(contains("news").not());
    run(&["record", "lost", hole, "wilt", "--on", &day(1)]);
    let told = format!("the diary has news of {hole};");
    for view in ["map", "week", "sheet"] {
        run(&[view, &day(2)]).stderr(contains(&*told));
    }
    run(&["plan", "--effort", "quick", "--today", &day(2)]);
    run(&["map", &day(2)]).stderr(contains("news").not());
    // What was given takes its place on a day on which one plans, and is lost again on another.
    let given = ["transplanted", hole, crop, "--given"];
    run(&[&["record"], &given[..], &["--on", &day(2)]].concat());
    run(&["record", "lost", hole, "wilt", "--on", &day(2)]);
    run(&[&["record"], &given[..], &["--on", &day(2)]].concat());
    run(&["plan", "--effort", "quick", "--today", &day(2)]);
    run(&["map", &day(2)]).stderr(contains("news").not());
    run(&["record", "sown", crop, "1", "--on", &day(2)]);
    run(&["map", &day(2)]).stderr(contains("news").not());
    run(&["record", "lost", hole, "wilt", "--on", &day(3)]);
    run(&["map", &day(3)]).stderr(contains(&*told));
    run(&[&["record"], &given[..], &["--on", &day(3)]].concat());
    run(&["map", &day(3)]).stderr(contains("news").not());
    run(&["record", "lost", hole, "wilt", "--on", &day(4)]);
    let other = ["record", "transplanted", hole, "rocket", "--given", "--on"];
    run(&[&other[..], &[&day(4)]].concat());
    run(&["map", &day(4)]).stderr(contains(&*told));
}

#[test]
fn start_writes_a_garden_that_plans_and_never_a_second_one() {
    let folder = TempDir::new().unwrap();
    steadyleaf(folder.path())
        .args(["start", "new/garden"])
        .assert()
        .success()
        .stdout(contains("steadyleaf plan new/garden"));
    steadyleaf(folder.path())
        .args(["plan", "new/garden", "--effort", "quick"])
        .assert()
        .success();
    let written = fs::read_to_string(folder.path().join("new/garden/garden.yaml")).unwrap();
    folder
        .child("new/garden/garden.yaml")
        .write_str("mine")
        .unwrap();
    steadyleaf(folder.path())
        .args(["start", "new/garden"])
        .assert()
        .code(1)
        .stderr(contains("is there already"));
    folder.child("new/garden/garden.yaml").assert("mine");
    assert!(written.lines().count() <= 40);
}

#[test]
fn plan_makes_its_files_and_names_them() {
    let folder = started();
    steadyleaf(folder.path())
        .args(["plan", "--effort", "quick", "--problem", "problem.json"])
        .assert()
        .success()
        .stdout(
            contains("plan.json")
                .and(contains("calendar.ics"))
                .and(contains("problem.json")),
        );
    assert_eq!(
        names(folder.path()),
        ["garden.yaml", "plan", "problem.json"]
    );
    assert_eq!(
        names(&folder.path().join("plan")),
        [
            "calendar-state.json",
            "calendar.ics",
            "plan.json",
            "report.html"
        ]
    );
}

#[test]
fn the_json_summary_names_the_files_and_every_want() {
    let folder = started();
    let output = steadyleaf(folder.path())
        .args(["plan", "--effort", "quick", "--json", "--out", "year"])
        .output()
        .unwrap();
    let summary: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(summary["made"][0], "year/plan.json");
    assert_eq!(summary["wants"][0]["want"], "salad heads");
    assert_eq!(summary["wants"][0]["course"].as_array().unwrap().len(), 52);
    assert!(folder.path().join("year/calendar.ics").exists());
}

#[test]
fn the_same_garden_gives_the_same_bytes() {
    let [first, second] = [planned(), planned()];
    for file in ["plan/plan.json", "plan/calendar.ics", "plan/report.html"] {
        let read = |folder: &TempDir| fs::read(folder.path().join(file)).unwrap();
        assert!(read(&first) == read(&second), "{file} differs");
    }
}

#[test]
fn a_sheet_goes_into_the_plan_s_folder_and_over_nothing_else() {
    let folder = planned();
    let sheet = || {
        let mut command = steadyleaf(folder.path());
        command.args(["sheet", "2027-04-14"]);
        command.assert()
    };
    sheet().success().stdout(contains("sheet-2027-W15.html"));
    sheet().success();
    let path = folder.path().join("plan/sheet-2027-W15.html");
    fs::write(&path, "notes of mine").unwrap();
    sheet()
        .code(1)
        .stderr(contains("was not made by steadyleaf"));
    assert_eq!(fs::read_to_string(&path).unwrap(), "notes of mine");
}

#[test]
fn a_second_plan_replaces_the_first() {
    let folder = planned();
    let before = fs::read(folder.path().join("plan/plan.json")).unwrap();
    steadyleaf(folder.path())
        .args(["plan", "--effort", "quick", "--quiet"])
        .assert()
        .success()
        .stdout("")
        .stderr("");
    assert!(fs::read(folder.path().join("plan/plan.json")).unwrap() == before);
    assert_eq!(
        names(&folder.path().join("plan")),
        [
            "calendar-state.json",
            "calendar.ics",
            "plan.json",
            "report.html"
        ]
    );
}

/// Runs `plan` quickly with more options, in a folder with a garden.
fn plan_with(folder: &TempDir, options: &[&str]) -> assert_cmd::assert::Assert {
    let mut command = steadyleaf(folder.path());
    command
        .args(["plan", "--effort", "quick"])
        .args(options)
        .assert()
}

fn read(folder: &TempDir, file: &str) -> String {
    fs::read_to_string(folder.path().join("plan").join(file)).unwrap()
}

#[test]
fn a_plan_of_a_changed_garden_cancels_what_fell_away_and_doubles_nothing() {
    let folder = planned();
    let before = read(&folder, "calendar.ics");
    let garden = fs::read_to_string(folder.path().join("garden.yaml")).unwrap();
    let garden = garden.replace("heads }", "heads, between: [06-01, 09-30] }");
    folder.child("garden.yaml").write_str(&garden).unwrap();
    plan_with(&folder, &["--today", "2027-01-02"]).success();
    let after = read(&folder, "calendar.ics");
    assert!(!before.contains("STATUS:CANCELLED") && after.contains("STATUS:CANCELLED"));
    let uids = |file: &str| -> Vec<String> {
        let file = file.replace("\r\n ", "");
        let uids = file.lines().filter_map(|line| line.strip_prefix("UID:"));
        uids.map(str::to_owned).collect()
    };
    let (known, told) = (uids(&before), uids(&after));
    assert!(known.iter().all(|uid| told.contains(uid)));
    // A lost state is made again from the calendar.
    let state = read(&folder, "calendar-state.json");
    fs::remove_file(folder.path().join("plan/calendar-state.json")).unwrap();
    plan_with(&folder, &["--today", "2027-01-02"]).success();
    assert_eq!(read(&folder, "calendar.ics"), after);
    assert_eq!(read(&folder, "calendar-state.json"), state);
}

#[test]
fn a_file_for_each_kind_and_tasks_on_request() {
    let folder = planned();
    plan_with(
        &folder,
        &[
            "--split-by-kind",
            "--only",
            "sow,harvest",
            "--format",
            "todos",
        ],
    )
    .success()
    .stdout(contains("todos-sow.ics").and(contains("todos-harvest.ics")))
    // The calendar of before is not brought up to date, which is said.
    .stderr(contains("calendar.ics is of an earlier plan"));
    assert_eq!(
        names(&folder.path().join("plan")),
        [
            "calendar-state.json",
            "calendar.ics",
            "plan.json",
            "report.html",
            "todos-harvest.ics",
            "todos-sow.ics"
        ]
    );
    assert!(read(&folder, "todos-sow.ics").contains("BEGIN:VTODO"));
}

#[rstest]
#[case(&["--only", "sewing"], "possible values")]
#[case(&["--alarm", "14"], "unit")]
#[case(&["--alarm", "1 min"], "between")]
#[case(&["--days", "0"], "1")]
#[case(&["--today", "tomorrow"], "year-month-day")]
fn options_of_the_calendar_that_make_no_sense_are_refused(
    #[case] options: &[&str],
    #[case] told: &str,
) {
    let folder = started();
    plan_with(&folder, options).code(2).stderr(contains(told));
    assert_eq!(names(folder.path()), ["garden.yaml"]);
}

#[test]
fn a_garden_in_spanish_has_its_calendar_in_spanish() {
    let folder = started();
    let garden = fs::read_to_string(folder.path().join("garden.yaml")).unwrap();
    folder
        .child("garden.yaml")
        .write_str(&format!("language: es\n{garden}"))
        .unwrap();
    plan_with(&folder, &["--alarm", "14 h", "--days", "60"]).success();
    let calendar = read(&folder, "calendar.ics");
    assert!(calendar.contains("SUMMARY:Sembrar ") && calendar.contains("TRIGGER:-PT14H"));
    folder
        .child("garden.yaml")
        .write_str(&format!("language: spanisch\n{garden}"))
        .unwrap();
    plan_with(&folder, &[])
        .code(1)
        .stderr(contains("did you mean `Spanish`?").and(contains("`en` or `es`")));
}

#[rstest]
#[case::a_plan("plan.json", "{\"made_by\": \"somebody\"}")]
#[case::no_json("plan.json", "notes of mine")]
#[case::a_page("report.html", "<!doctype html><title>Mine</title>")]
#[case::another_state("calendar-state.json", "{\"made_by\": \"somebody\"}")]
#[case::not_text("plan.json", "\u{0}\u{1}")]
#[case::a_calendar(
    "calendar.ics",
    "BEGIN:VCALENDAR\r\nPRODID:-//me//EN\r\nEND:VCALENDAR\r\n"
)]
fn what_somebody_else_made_is_never_written_over(#[case] name: &str, #[case] theirs: &str) {
    let folder = started();
    folder.child("plan").child(name).write_str(theirs).unwrap();
    steadyleaf(folder.path())
        .args(["plan", "--effort", "quick"])
        .assert()
        .code(1)
        .stdout("")
        .stderr(
            contains(name)
                .and(contains("left alone"))
                .and(contains("nothing was written")),
        );
    folder.child("plan").child(name).assert(theirs);
    assert_eq!(names(&folder.path().join("plan")), [name]);
}

#[rstest]
#[case::the_plan("plan/plan.json")]
#[case::the_plan_by_another_way("./plan/plan.json")]
#[case::the_page("plan/report.html")]
#[case::the_calendar("plan/calendar.ics")]
#[case::what_the_calendar_remembers("plan/calendar-state.json")]
fn the_problem_is_not_written_into_a_file_of_the_plan(
    #[case] problem: &str,
    #[values(false, true)] again: bool,
) {
    let folder = if again { planned() } else { started() };
    let before = again.then(|| read(&folder, "plan.json"));
    plan_with(&folder, &["--problem", problem])
        .code(1)
        .stdout("")
        .stderr(contains(problem).and(contains("two files at once")));
    let plan = folder.path().join("plan");
    assert_eq!(before.is_some(), plan.exists());
    assert!(before.is_none_or(|before| read(&folder, "plan.json") == before));
}

#[rstest]
#[case::the_folder_is_a_file("plan", "is a file")]
#[case::the_one_above_is_a_file("plan/deep", "is a file")]
fn a_file_in_the_way_is_named(#[case] out: &str, #[case] told: &str) {
    let folder = started();
    folder.child("plan").write_str("mine").unwrap();
    steadyleaf(folder.path())
        .args(["plan", "--effort", "quick", "--out", out])
        .assert()
        .code(1)
        .stderr(contains(told));
    folder.child("plan").assert("mine");
    assert_eq!(names(folder.path()), ["garden.yaml", "plan"]);
}

#[test]
fn a_folder_named_like_a_file_is_named_and_nothing_is_left_behind() {
    let folder = started();
    folder.child("plan/calendar.ics").create_dir_all().unwrap();
    steadyleaf(folder.path())
        .args(["plan", "--effort", "quick"])
        .assert()
        .code(1)
        .stderr(contains("calendar.ics is a folder"));
    assert_eq!(names(&folder.path().join("plan")), ["calendar.ics"]);
}

#[test]
fn a_problem_file_in_the_way_keeps_the_plan_from_being_written_too() {
    let folder = started();
    folder.child("letter.txt").write_str("Dear aunt").unwrap();
    steadyleaf(folder.path())
        .args(["plan", "--effort", "quick", "--problem", "letter.txt"])
        .assert()
        .code(1)
        .stderr(contains("letter.txt"));
    folder.child("letter.txt").assert("Dear aunt");
    assert_eq!(names(folder.path()), ["garden.yaml", "letter.txt"]);
}

#[test]
fn a_missing_parent_is_named() {
    let folder = started();
    steadyleaf(folder.path())
        .args(["plan", "--effort", "quick", "--out", "no/such/folder"])
        .assert()
        .code(1)
        .stderr(contains("no folder no/such"));
    assert_eq!(names(folder.path()), ["garden.yaml"]);
}

#[rstest]
#[case::plan(&["plan"])]
#[case::check(&["check"])]
#[case::week(&["week"])]
#[case::map(&["map"])]
fn a_wrong_garden_ends_with_1_and_nothing_is_written(#[case] command: &[&str]) {
    let folder = TempDir::new().unwrap();
    folder
        .child("garden.yaml")
        .write_str("garden: Shed\nwheels: 4\n")
        .unwrap();
    steadyleaf(folder.path())
        .args(command)
        .assert()
        .code(1)
        .stdout("")
        .stderr(contains("garden.yaml").and(contains("wheels")));
    assert_eq!(names(folder.path()), ["garden.yaml"]);
}

#[test]
fn a_folder_without_a_garden_says_how_to_begin() {
    let folder = TempDir::new().unwrap();
    steadyleaf(folder.path())
        .arg("plan")
        .assert()
        .code(1)
        .stderr(contains("garden.yaml").and(contains("steadyleaf start")));
}

#[rstest]
#[case::no_command(&[])]
#[case::unknown_command(&["grow"])]
#[case::unknown_option(&["plan", "--faster"])]
#[case::unknown_effort(&["plan", "--effort", "heroic"])]
#[case::no_such_day(&["week", "2027-02-31"])]
#[case::no_day(&["map", "tomorrow"])]
fn a_command_line_that_is_not_understood_ends_with_2(#[case] arguments: &[&str]) {
    let folder = TempDir::new().unwrap();
    steadyleaf(folder.path())
        .args(arguments)
        .assert()
        .code(2)
        .stderr(contains("Usage").or(contains("--help")));
}

#[rstest]
#[case::week("week")]
#[case::map("map")]
fn without_a_plan_they_say_how_to_make_one(#[case] command: &str) {
    let folder = started();
    steadyleaf(folder.path())
        .arg(command)
        .assert()
        .code(1)
        .stderr(contains("no plan").and(contains("steadyleaf plan")));
}

#[rstest]
#[case::week("week")]
#[case::map("map")]
fn they_tell_when_the_garden_has_changed_and_which_days_are_planned(#[case] command: &str) {
    let folder = planned();
    steadyleaf(folder.path())
        .args([command, "2027-06-02"])
        .assert()
        .success()
        .stderr("");
    let path = folder.path().join("garden.yaml");
    let garden = fs::read_to_string(&path).unwrap();
    fs::write(&path, garden.replace("4 heads", "5 heads")).unwrap();
    steadyleaf(folder.path())
        .args([command, "2027-06-02"])
        .assert()
        .success()
        .stderr(contains("the garden has changed"));
    steadyleaf(folder.path())
        .args([command, "2031-01-01"])
        .assert()
        .code(1)
        .stderr(contains("2031-01-01 is not in the plan"));
}

#[rstest]
#[case::garbled("not json")]
#[case::of_a_later_format("{\"schema\": 99}")]
fn a_plan_that_cannot_be_read_is_told(#[case] plan: &str) {
    let folder = started();
    folder.child("plan/plan.json").write_str(plan).unwrap();
    steadyleaf(folder.path())
        .arg("week")
        .assert()
        .code(1)
        .stderr(contains("not a plan that this version reads"));
}

#[rstest]
#[case::plan(&["plan", "--effort", "quick"])]
#[case::week(&["week", "2027-06-02"])]
#[case::map(&["map", "2027-06-02"])]
#[case::crops(&["crops"])]
#[case::one_crop(&["crops", "butterhead"])]
#[case::check(&["check"])]
#[case::an_error(&["week", "2031-01-01"])]
fn a_pipe_gets_no_colour_and_json_parses(#[case] arguments: &[&str]) {
    let folder = planned();
    let output = steadyleaf(folder.path()).args(arguments).output().unwrap();
    let all = [output.stdout, output.stderr].concat();
    assert!(!all.is_empty());
    assert!(
        !all.contains(&0x1b),
        "an escape code in {}",
        String::from_utf8_lossy(&all)
    );
    if arguments[0] == "check" || output.status.code() != Some(0) {
        return;
    }
    let output = steadyleaf(folder.path())
        .args(arguments)
        .arg("--json")
        .output()
        .unwrap();
    assert!(output.status.success());
    let value: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert!(value.is_object() || value.is_array());
}

#[rstest]
#[case::asked_for(&[("CLICOLOR_FORCE", "1")], true)]
#[case::refused(&[("CLICOLOR_FORCE", "1"), ("NO_COLOR", "1")], false)]
fn no_color_is_respected(#[case] variables: &[(&str, &str)], #[case] coloured: bool) {
    let folder = started();
    let output = steadyleaf(folder.path())
        .arg("check")
        .envs(variables.iter().copied())
        .output()
        .unwrap();
    assert_eq!(output.stdout.contains(&0x1b), coloured);
}

#[rstest]
#[case("buterhead", "butterhead")]
#[case("Pak Choi", "pak-choi")]
#[case("mini pak", "pak-choi")]
#[case("Lechuga mantecosa", "butterhead")]
fn a_crop_is_offered_by_its_key_or_by_what_it_is_called(#[case] asked: &str, #[case] near: &str) {
    let folder = TempDir::new().unwrap();
    steadyleaf(folder.path())
        .args(["crops", asked])
        .assert()
        .code(1)
        .stderr(contains(format!("did you mean `{near}`?")));
}

#[test]
fn a_file_in_the_place_of_the_growers_own_cards_is_told() {
    let folder = started();
    folder.child("crops").write_str("my crops").unwrap();
    steadyleaf(folder.path())
        .args(["check", "."])
        .assert()
        .code(1)
        .stderr(contains("`crops` is a file"));
}

#[test]
fn crops_needs_no_garden_and_survives_a_wrong_one() {
    let folder = TempDir::new().unwrap();
    steadyleaf(folder.path())
        .arg("crops")
        .assert()
        .success()
        .stdout(contains("butterhead"))
        .stderr("");
    steadyleaf(folder.path())
        .args(["crops", "butterhead"])
        .assert()
        .success()
        .stderr(contains("--garden"));
    folder.child("garden.yaml").write_str("wheels: 4").unwrap();
    steadyleaf(folder.path())
        .arg("crops")
        .assert()
        .success()
        .stdout(contains("butterhead"))
        .stderr(contains("steadyleaf check"));
}
