//! `record` and `plan` as typed: what they say, and that nothing is ever half written, whenever
//! the process is killed.

use std::fs;
use std::path::Path;
use std::process::{Command, Output, Stdio};
use std::thread::sleep;
use std::time::Duration;

use chrono::Days;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use rstest::rstest;
use steadyleaf::calendar;
use steadyleaf::diary::{Diary, Event};
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::file;
use steadyleaf::plan::{Plan, Stay};
use steadyleaf::summary::snapshot::snapshot;

const GARDEN: &str = "garden: Reed Lane shelf
start: 2027-03-01
weeks: 12
place:
  latitude: 52
  cover: { kind: indoors, day: 22 C, night: 18 C, light: 15 mol, hours: 16 }
loops:
  - loop: shelf
    tank: { holds: 60 l }
    banks:
      - { bank: shelf, form: level, tubes: 1, length: 1 m, hole_every: 15 cm }
nursery: { cells: 20 }
wants:
  - { want: heads, from_crops: [pak-choi], each_week: 1 heads }
rhythm: { workdays: [wed, sat] }
";

fn program() -> Command {
    Command::new(env!("CARGO_BIN_EXE_steadyleaf"))
}

fn run(folder: &Path, words: &str) -> Output {
    program()
        .current_dir(folder)
        .args(words.split(' '))
        .output()
        .unwrap()
}

fn done(folder: &Path, words: &str) -> String {
    let output = run(folder, words);
    let told = String::from_utf8(output.stderr).unwrap();
    assert!(output.status.success(), "{words}: {told}");
    String::from_utf8(output.stdout).unwrap()
}

fn garden() -> tempfile::TempDir {
    garden_of(GARDEN)
}

/// The same for so long, and with a crop, that plants are cut several times.
fn garden_of_cuts() -> tempfile::TempDir {
    garden_of(
        &GARDEN
            .replace("[pak-choi], each_week: 1 heads", "[chard], each_week: 40 g")
            .replace("weeks: 12", "weeks: 30"),
    )
}

fn garden_of(text: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("garden.yaml"), text).unwrap();
    folder
}

fn plan(folder: &Path) -> Plan {
    let text = fs::read_to_string(folder.join("plan/plan.json")).unwrap();
    serde_json::from_str(&text).unwrap()
}

fn diary(folder: &Path) -> Diary {
    Diary::parse(&fs::read_to_string(folder.join("diary.yaml")).unwrap_or_default())
}

#[test]
fn a_week_is_recorded_and_told() {
    let folder = garden();
    let folder = folder.path();
    done(folder, "plan --effort quick");
    let told = done(folder, "record done 2027-03-03");
    assert!(told.contains("pak-choi sown in"), "{told}");
    assert!(told.contains("as planned"), "{told}");
    done(folder, "record topped-up shelf 14 l --on 2027-03-06");
    done(folder, "record read shelf ec 1.6 ph 6.1 --on 2027-03-06");
    done(folder, "record refilled shelf --on 2027-03-10");
    done(folder, "record lost pak-choi 1 damping off --on 2027-03-10");
    done(
        folder,
        "record transplanted shelf-1-1 pak-choi --on 2027-03-17",
    );
    done(
        folder,
        "record transplanted shelf-1-4,shelf-1-6 pak-choi --on 2027-03-17",
    );
    done(folder, "record lost shelf-1-6 wilt --on 2027-03-20");
    done(
        folder,
        "record harvested shelf-1-1,shelf-1-4 301 g --on 2027-04-14",
    );
    done(folder, "record cleaned shelf-1 --on 2027-04-14");
    done(folder, "record blocked shelf-1-3 --on 2027-04-14");
    let told = done(folder, "log");
    insta::assert_snapshot!(told);
    let json: serde_json::Value = serde_json::from_str(&done(folder, "log --json")).unwrap();
    assert_eq!(json["crops"][0]["lost"], 1);
    assert_eq!(json["loops"][0]["litres"], 14.0);
    assert_eq!(json["wants"][0]["harvested"], 2.0);
}

/// Where lost seedlings may be of one sowing or of another, it is told which they are taken to be
/// of, and how to say otherwise; and that is understood.
#[test]
fn lost_seedlings_are_told_of_which_sowing() {
    let folder = garden();
    let folder = folder.path();
    let told = |words: &str| {
        let output = run(folder, words);
        assert!(output.status.success(), "{output:?}");
        String::from_utf8(output.stderr).unwrap()
    };
    done(folder, "record sown pak-choi 6 --on 2027-03-03");
    assert_eq!(told("record lost pak-choi 1 mould --on 2027-03-09"), "");
    done(folder, "record sown pak-choi 7 --on 2027-03-10");
    let told = told("record lost pak-choi 2 mould --on 2027-03-13");
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    let right = "taken to be of the pak-choi sown on Wed 3 Mar 2027; if they are of what was sown \
                 on Wed 10 Mar 2027, take the line out of diary.yaml and record it again with \
                 `--sown 2027-03-10`";
    assert!(told.contains(right), "{told}");
    let path = folder.join("diary.yaml");
    let text = fs::read_to_string(&path).unwrap();
    let (before, _) = text.trim_end().rsplit_once('\n').unwrap();
    fs::write(&path, format!("{before}\n")).unwrap();
    let words = "record lost pak-choi 2 mould --sown 2027-03-10 --on 2027-03-13";
    let output = run(folder, words);
    assert_eq!(String::from_utf8(output.stderr).unwrap(), "");
    let recorded = String::from_utf8(output.stdout).unwrap();
    assert!(
        recorded.contains("2 seedlings of pak-choi sown on Wed 10 Mar 2027 lost (mould)"),
        "{recorded}"
    );
    let garden = file::parse(GARDEN, "garden.yaml", &Cards::built_in()).unwrap();
    let day = "2027-03-13".parse().unwrap();
    let diary = diary(folder);
    let (state, refused) = steadyleaf::diary::replay(&garden, &diary.entries, day);
    assert_eq!(refused, []);
    let lost: Vec<u32> = state.sowings.iter().map(|s| s.lost).collect();
    assert_eq!(lost, [1, 2]);
}

/// A harvest near the day of a plant's last one by the plan takes it out, unless the grower says
/// that it stands; what the diary has it as is said.
#[rstest]
#[case("", true, true)]
#[case(" --stands", false, false)]
#[case(" --last", true, false)]
fn the_last_cut_of_the_plan_takes_a_plant_out(
    #[case] words: &str,
    #[case] out: bool,
    #[case] told: bool,
) {
    let folder = garden_of_cuts();
    let folder = folder.path();
    done(folder, "plan --effort quick");
    let cut_twice = |s: &&Stay| s.harvests.len() > 1;
    let stay = plan(folder).stays.iter().find(cut_twice).unwrap().clone();
    let hole = &stay.hole;
    let record = |what: String| {
        let output = run(folder, &what);
        let said = String::from_utf8(output.stderr).unwrap();
        assert!(output.status.success(), "{what}: {said}");
        said
    };
    record(format!(
        "record transplanted {hole} chard --on {}",
        stay.transplant
    ));
    let first = record(format!(
        "record harvested {hole} 20 g --on {}",
        stay.harvests[0].day
    ));
    assert!(!first.contains("--stands"), "{first}");
    let said = record(format!(
        "record harvested {hole} 20 g --on {}{words}",
        stay.removal
    ));
    assert_eq!(said.contains("--stands"), told, "{said}");
    let last = diary(folder).entries.pop().unwrap();
    assert!(
        matches!(last.event, Event::Harvested { last, .. } if last == out),
        "{last:?}"
    );

    // The next one finds the hole empty, or is told how to say so.
    let next = format!("record transplanted {hole} chard --on {}", stay.removal);
    let output = run(folder, &next);
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.success(), out, "{said}");
    assert_eq!(said.contains(&format!("cleared {hole}")), !out, "{said}");
}

#[rstest]
#[case("record harvested shelf-1-1 160 g", "nothing stands in shelf-1-1")]
#[case("record transplanted shlf-1-1 pak-choi", "did you mean `shelf-1-1`?")]
#[case("record sown pak-coi 3", "did you mean `pak-choi`?")]
#[case("record lost pak-choi", "say how many seedlings")]
#[case("record lost pak-choy 3", "did you mean `pak-choi`?")]
#[case(
    "record lost pak-choi 3 --sown 2027-03-02",
    "no pak-choi was sown on 2027-03-02"
)]
#[case("record lost shelf-1-1 --sown 2027-03-02", "`--sown` is for seedlings")]
#[case("record topped-up shelf much", "write it like `14 l`")]
#[case("record topped-up shelf full", "write it like `14 l`")]
#[case("record refilled shlf", "did you mean `shelf`?")]
#[case("record read shelf ec 1.6 hp 6.1", "`hp` is not a reading")]
#[case("record read shelf ph 61", "a pH, which is 0 to 14")]
#[case("record done 2027-03-04", "nothing to record for 2027-03-04")]
fn what_cannot_be_is_refused_and_nothing_written(#[case] words: &str, #[case] why: &str) {
    let folder = garden();
    done(folder.path(), "plan --effort quick");
    let output = run(folder.path(), &format!("{words} --on 2027-03-03"));
    let told = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(1), "{told}");
    assert!(told.contains(why), "{told}");
    assert!(told.contains("not recorded: "), "{told}");
    assert!(!folder.path().join("diary.yaml").exists());
}

/// Crops are known by what the chores call them, in any writing.
#[rstest]
#[case("en", "mini pak choi")]
#[case("en", "Mini Pak-Choi")]
#[case("es", "pak choi mini")]
fn crops_are_known_by_what_the_garden_calls_them(#[case] language: &str, #[case] name: &str) {
    let folder = garden_of(&GARDEN.replacen("start:", &format!("language: {language}\nstart:"), 1));
    for words in [
        vec!["record", "sown", name, "3", "--on", "2027-03-03"],
        vec!["record", "lost", name, "2", "mould", "--on", "2027-03-04"],
    ] {
        let output = program().current_dir(folder.path()).args(words).output();
        let output = output.unwrap();
        let told = String::from_utf8(output.stderr).unwrap();
        assert!(output.status.success(), "{told}");
    }
    let diary = diary(folder.path());
    assert!(matches!(&diary.entries[0].event, Event::Sown { crop, .. } if crop == "pak-choi"));
}

/// To plan from a day before something in the diary would lose it.
#[test]
fn a_plan_does_not_go_back_behind_its_diary() {
    let folder = garden();
    done(folder.path(), "plan --effort quick");
    done(folder.path(), "record sown pak-choi 3 --on 2027-03-10");
    let plan = fs::read(folder.path().join("plan/plan.json")).unwrap();
    let output = run(folder.path(), "plan --effort quick --today 2027-03-03");
    let told = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(1), "{told}");
    assert!(told.contains("the diary goes on to 2027-03-10"), "{told}");
    assert_eq!(
        fs::read(folder.path().join("plan/plan.json")).unwrap(),
        plan
    );
    done(folder.path(), "plan --effort quick --today 2027-03-10");
}

/// A diary begins with seedlings that were there before the garden, and ends with the garden.
#[rstest]
#[case("2207-03-19")]
#[case("2027-05-24")]
#[case("0227-03-19")]
#[case("2026-10-31")]
fn a_day_that_is_not_the_gardens_is_refused(#[case] day: &str) {
    let folder = garden();
    let folder = folder.path();
    done(folder, "plan --effort quick");
    let output = run(
        folder,
        &format!("record transplanted shelf-1-1 pak-choi --on {day}"),
    );
    let told = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(1), "{told}");
    assert!(told.contains(day), "{told}");
    assert!(told.contains("from 2026-11-01 to 2027-05-23"), "{told}");
    assert!(!folder.join("diary.yaml").exists());
}

#[rstest]
#[case("2026-11-01")]
#[case("2027-05-23")]
fn the_first_and_the_last_day_of_a_diary_are_taken(#[case] day: &str) {
    let folder = garden();
    done(
        folder.path(),
        &format!("record transplanted shelf-1-1 pak-choi --on {day}"),
    );
    assert_eq!(diary(folder.path()).entries.len(), 1);
}

/// A plant set out otherwise than planned came from seed that was in the house by then: never
/// from a sowing still to come, nor from that of a plant whose time was over.
#[rstest]
#[case::before_the_first_sowing("2027-03-02", None)]
#[case::sooner_than_planned("2027-03-19", Some("2027-03-10"))]
#[case::between_two_plants("2027-04-20", None)]
fn a_plant_set_out_was_sown_before(#[case] day: &str, #[case] sown: Option<&str>) {
    let folder = garden();
    let folder = folder.path();
    done(folder, "plan --effort quick");
    let plan = plan(folder);
    let stays = plan.stays.iter().filter(|s| s.hole == "shelf-1-2");
    let days: Vec<_> = stays
        .map(|s| [s.sow.unwrap(), s.transplant, s.removal].map(|d| d.to_string()))
        .collect();
    assert_eq!(days[0], ["2027-03-10", "2027-03-24", "2027-04-17"]);
    assert_eq!(days[1][..2], ["2027-04-28", "2027-05-12"]);
    done(
        folder,
        &format!("record transplanted shelf-1-2 pak-choi --on {day}"),
    );
    let entries = diary(folder).entries;
    let Event::Transplanted { sown_on, .. } = &entries[0].event else {
        panic!("{entries:?}");
    };
    assert_eq!(sown_on.map(|d| d.to_string()).as_deref(), sown);
}

/// A harvest put down by the grower need not have been the last that was planned: where the plant
/// stands, what was to follow it is told as left out, not refused with all the day.
#[test]
fn a_day_is_done_around_a_harvest_that_was_put_down() {
    let folder = garden_of_cuts();
    let folder = folder.path();
    done(folder, "plan --effort quick");
    let plan = plan(folder);
    let follows = |s: &Stay| {
        let mut stays = plan.stays.iter();
        stays.any(|next| next.hole == s.hole && next.transplant == s.removal)
    };
    let leaves = plan.stays.iter().find(|s| follows(s)).unwrap();
    let (hole, day) = (&leaves.hole, leaves.removal);
    done(
        folder,
        &format!(
            "record transplanted {hole} chard --on {}",
            leaves.transplant
        ),
    );
    done(
        folder,
        &format!("record harvested {hole} 20 g --stands --on {day}"),
    );
    let output = run(folder, &format!("record done {day}"));
    let told = String::from_utf8(output.stderr).unwrap();
    assert!(output.status.success(), "{told}");
    assert!(told.contains("the diary has it already"), "{told}");
    let left_out = format!("chard set out in {hole}; {hole} already holds chard");
    assert!(told.contains(&left_out), "{told}");
    let entries = diary(folder).entries;
    assert!(entries.iter().any(|e| e.as_planned), "{told}");
}

/// After planning again around losses that were put down, every command sows what the calendar
/// says.
#[test]
fn every_command_speaks_of_the_garden_that_the_plan_took() {
    let folder = garden();
    let folder = folder.path();
    done(folder, "plan --effort quick");
    done(folder, "record sown pak-choi 20 --on 2027-03-03");
    done(
        folder,
        "record lost pak-choi 17 damping off --on 2027-03-10",
    );
    let before = summary_of_sowing(folder, "20270317");
    done(folder, "plan --effort quick --today 2027-03-10");
    let summary = summary_of_sowing(folder, "20270317");
    assert_ne!(summary, before, "seed that often fails is sown more of");
    let told = done(folder, "week 2027-03-17 --json");
    let week: serde_json::Value = serde_json::from_str(&told).unwrap();
    let chores = week["chores"].as_array().unwrap();
    let sow = |c: &&serde_json::Value| c["kind"] == "sow" && c["day"] == "2027-03-17";
    let sow = chores.iter().find(sow).unwrap();
    assert_eq!(sow["summary"], summary.as_str());
    done(folder, "sheet 2027-03-17");
    let sheet = fs::read_to_string(folder.join("plan/sheet-2027-W11.html")).unwrap();
    let line = sow["details"][0].as_str().unwrap();
    assert!(sheet.contains(line), "{line} is not in {sheet}");
    let cells = summary
        .split_once('(')
        .and_then(|(_, n)| n.split_once(' '))
        .unwrap()
        .0;
    let told = done(folder, "record done 2027-03-17");
    assert!(
        told.contains(&format!("pak-choi sown in {cells} cells")),
        "{told} instead of {cells}"
    );
}

fn summary_of_sowing(folder: &Path, day: &str) -> String {
    let event = component(folder, "calendar.ics", "VEVENT", day, "KIND:sow");
    let mut lines = event.lines();
    let line = lines.find_map(|l| l.strip_prefix("SUMMARY:")).unwrap();
    line.to_owned()
}

/// A crop that has shown that it is slow is less grown on the map, by as much, than its card says.
#[test]
fn the_map_speaks_of_the_garden_that_the_plan_took() {
    let folder = garden();
    let folder = folder.path();
    done(folder, "plan --effort quick");
    let Stay {
        hole,
        transplant,
        removal,
        ..
    } = plan(folder).stays[0].clone();
    done(
        folder,
        &format!("record transplanted {hole} pak-choi --on {transplant}"),
    );
    let late = removal + Days::new(14);
    done(folder, &format!("record harvested {hole} --on {late}"));
    done(folder, &format!("plan --effort quick --today {late}"));
    let plan = plan(folder);
    let pace = plan.seen[0].pace;
    assert!(pace > 1.1, "{:?}", plan.seen);
    let told = done(folder, &format!("map {} --json", plan.last));
    let map: serde_json::Value = serde_json::from_str(&told).unwrap();
    let by_cards = file::parse(GARDEN, "garden.yaml", &Cards::built_in()).unwrap();
    let mut compared = 0;
    for (at, by_card) in snapshot(&plan, &by_cards, plan.last).iter().enumerate() {
        let Some(plant) = &by_card.plant else {
            continue;
        };
        let grown = map["holes"][at]["plant"]["grown"].as_f64().unwrap();
        let by_card = plant.grown.unwrap();
        assert!((grown * pace - by_card).abs() < 1e-9, "{grown}, {by_card}");
        compared += usize::from(by_card > 0.1);
    }
    assert!(compared > 0);
}

#[test]
fn a_day_is_done_once_and_without_what_was_recorded_otherwise() {
    let folder = garden();
    let folder = folder.path();
    done(folder, "plan --effort quick");
    done(folder, "record sown pak-choi 9 --on 2027-03-03");
    let output = run(folder, "record done 2027-03-03");
    let told = String::from_utf8(output.stderr).unwrap();
    assert!(told.contains("the diary has it already"), "{told}");
    assert_eq!(diary(folder).entries.len(), 1);
}

/// What was done today is not told as cancelled, and a rig without plants is still to be tried
/// for leaks; planning once more leaves every file as it is.
#[test]
fn what_is_done_is_not_cancelled() {
    let folder = garden();
    let folder = folder.path();
    done(folder, "plan --effort quick");
    let sown = component(folder, "calendar.ics", "VEVENT", "20270303", "KIND:sow");
    done(folder, "record done 2027-03-03");
    done(folder, "plan --effort quick --today 2027-03-03");
    // The event of what was done stays as it was.
    let now = component(folder, "calendar.ics", "VEVENT", "20270303", "KIND:sow");
    assert_eq!(now, sown);
    let files = || {
        let names = [
            "plan.json",
            "calendar.ics",
            "calendar-state.json",
            "report.html",
        ];
        names.map(|name| fs::read_to_string(folder.join("plan").join(name)).unwrap())
    };
    let before = files();
    assert!(!before[1].contains("SUMMARY:Cancelled"), "{}", before[1]);
    assert!(before[1].contains("SUMMARY:Leak test"));
    done(folder, "plan --effort quick --today 2027-03-03");
    assert_eq!(files(), before);
}

/// The component of a kind of work on a day.
fn component(folder: &Path, file: &str, name: &str, day: &str, kind: &str) -> String {
    let text = fs::read_to_string(folder.join("plan").join(file)).unwrap();
    let text = calendar::wire::unfold(&text);
    let begin = format!("BEGIN:{name}\r\n");
    let mut parts = text.split(&begin).skip(1);
    let part = parts.find(|p| p.contains(&format!("VALUE=DATE:{day}\r\n")) && p.contains(kind));
    let part = part.unwrap_or_else(|| panic!("no {kind} on {day} in {text}"));
    part.split(&format!("END:{name}"))
        .next()
        .unwrap()
        .to_owned()
}

/// A task that was done is ticked off, and does not ring any more.
#[test]
fn what_is_done_is_ticked_off() {
    let folder = garden();
    let folder = folder.path();
    let told = || component(folder, "todos.ics", "VTODO", "20270303", "KIND:sow");
    done(folder, "plan --effort quick --format todos --alarm 2h");
    let due = told();
    assert!(due.contains("BEGIN:VALARM") && !due.contains("STATUS:"));
    done(folder, "record done 2027-03-03");
    done(
        folder,
        "plan --effort quick --format todos --alarm 2h --today 2027-03-03",
    );
    let ticked = told();
    for line in [
        "STATUS:COMPLETED",
        "PERCENT-COMPLETE:100",
        "COMPLETED:20270303T000000Z",
        "SEQUENCE:1",
    ] {
        assert!(ticked.contains(&format!("{line}\r\n")), "{line}: {ticked}");
    }
    assert!(!ticked.contains("VALARM"));
    let uid = |text: &str| {
        text.lines()
            .find(|l| l.starts_with("UID:"))
            .map(str::to_owned)
    };
    assert_eq!(uid(&ticked), uid(&due));
    // Once more changes nothing.
    done(
        folder,
        "plan --effort quick --format todos --alarm 2h --today 2027-03-03",
    );
    assert_eq!(told(), ticked);
}

/// Kills a process a random while after it was begun.
fn killed(folder: &Path, words: &[&str], random: &mut Pcg64Mcg, most: Duration) {
    let mut child = program()
        .current_dir(folder)
        .args(words)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    sleep(most.mul_f64(random.random_range(0.0..1.5)));
    let _ = child.kill();
    child.wait().unwrap();
}

/// How long a command takes here, at the least a few milliseconds.
fn taken(folder: &Path, words: &str) -> Duration {
    let begun = std::time::Instant::now();
    done(folder, words);
    begun.elapsed().max(Duration::from_millis(4))
}

/// How often what was killed left things as they were, and how often it had done its work.
#[derive(Default)]
struct Left {
    old: usize,
    new: usize,
}

/// Kills a hundred times; sooner or later each time, and again, until both was seen, so that the
/// moments lie on both sides of the work on any machine.
fn killed_before_and_after(mut most: Duration, mut kill: impl FnMut(usize, Duration, &mut Left)) {
    let mut left = Left::default();
    for _ in 0..10 {
        (0..100).for_each(|n| kill(n, most, &mut left));
        match (left.old, left.new) {
            (0, _) => most /= 2,
            (_, 0) => most *= 2,
            _ => return,
        }
    }
    panic!("{} times old, {} times new", left.old, left.new);
}

#[test]
fn whenever_record_is_killed_the_diary_is_whole() {
    let folder = garden();
    let folder = folder.path();
    done(folder, "plan --effort quick");
    let most = taken(folder, "record topped-up shelf 1 l --on 2027-03-03");
    let mut random = Pcg64Mcg::seed_from_u64(7);
    let mut before = fs::read_to_string(folder.join("diary.yaml")).unwrap();
    killed_before_and_after(most, |n, most, left| {
        let litres = format!("{} l", n + 2);
        let words = [
            "record",
            "topped-up",
            "shelf",
            &litres,
            "--on",
            "2027-03-03",
        ];
        killed(folder, &words, &mut random, most);
        let after = fs::read_to_string(folder.join("diary.yaml")).unwrap();
        assert!(after.starts_with(&before), "nothing is rewritten");
        let entries = |text: &str| Diary::parse(text).entries.len();
        match entries(&after) - entries(&before) {
            0 => left.old += 1,
            1 => left.new += 1,
            more => panic!("{more} entries of one"),
        }
        assert!(diary(folder).faults.is_empty());
        before = after;
    });
    // The next entry goes in as ever.
    done(folder, "record topped-up shelf 1 l --on 2027-03-03");
}

#[test]
fn whenever_plan_is_killed_its_files_are_whole_old_or_new() {
    let folder = garden();
    let folder = folder.path();
    done(folder, "plan --effort quick");
    done(folder, "record topped-up shelf 1 l --on 2027-03-01");
    let most = taken(folder, "plan --effort quick --today 2027-03-02");
    let mut random = Pcg64Mcg::seed_from_u64(11);
    let days = ["2027-03-03", "2027-03-08", "2027-03-15"];
    let mut before = plan(folder).start.to_string();
    killed_before_and_after(most, |n, most, left| {
        let today = days[n % 3];
        let words = ["plan", "--effort", "quick", "--today", today, "--fresh"];
        killed(folder, &words, &mut random, most);
        let after = plan(folder).start.to_string();
        if after != before {
            assert_eq!(after, today);
            left.new += 1;
        } else if after != today {
            left.old += 1;
        }
        before = after;
        let text = fs::read_to_string(folder.join("plan/calendar.ics")).unwrap();
        assert!(calendar::is_ours(&text));
        assert!(text.ends_with("END:VCALENDAR\r\n"), "a calendar that ends");
    });
    // Whatever was left behind is in nobody's way.
    done(folder, "plan --effort quick --today 2027-03-08 --fresh");
    assert_eq!(plan(folder).start.to_string(), "2027-03-08");
}
