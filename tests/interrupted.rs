//! Ctrl-C while it plans: the best plan so far is written whole, and the program says so.

use std::fs;
use std::process::{Command, Output, Stdio};
use std::thread::sleep;
use std::time::Duration;

use assert_fs::TempDir;
use assert_fs::prelude::*;

/// So many holes that a thorough search takes many minutes anywhere.
const LARGE: &str = "\
garden: Long hall
start: 2027-03-01
place:
  latitude: 52
  timezone: Europe/Amsterdam
  cover: { kind: indoors, day: 22 C, night: 18 C, light: 15 mol, hours: 16 }
loops:
  - loop: hall
    tank: { holds: 2000 l }
    banks:
      - { bank: hall, form: level, tubes: 40, length: 2 m, hole_every: 15 cm }
wants:
  - { want: salad heads, from_crops: [butterhead, pak-choi], each_week: 60 heads }
  - { want: rocket, from_crops: [rocket], each_week: 900 g }
nursery: { cells: 1000 }
rhythm:
  workdays: [wed, sat]
  remind_at: \"08:00\"
";

/// The signal of Ctrl-C as a bit of the masks that the kernel tells of a process.
const INTERRUPT: u64 = 1 << (2 - 1);

/// Whether a process has a handler of its own for Ctrl-C by now.
fn minds_interrupts(process: u32) -> bool {
    let status = fs::read_to_string(format!("/proc/{process}/status")).unwrap();
    let caught = status.lines().find_map(|l| l.strip_prefix("SigCgt:"));
    let caught = u64::from_str_radix(caught.unwrap().trim(), 16).unwrap();
    caught & INTERRUPT != 0
}

/// Begins to plan, and interrupts as soon as the program can be interrupted.
fn interrupted(folder: &TempDir, words: &[&str]) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_steadyleaf"))
        .current_dir(folder.path())
        .args(words)
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    while !minds_interrupts(child.id()) {
        assert!(child.try_wait().unwrap().is_none(), "it ended by itself");
        sleep(Duration::from_millis(5));
    }
    let kill = Command::new("kill")
        .args(["-INT", &child.id().to_string()])
        .status();
    assert!(kill.unwrap().success());
    child.wait_with_output().unwrap()
}

#[test]
fn a_search_that_is_interrupted_leaves_its_best_plan() {
    let folder = TempDir::new().unwrap();
    folder.child("garden.yaml").write_str(LARGE).unwrap();
    let ended = interrupted(&folder, &["plan", "--effort", "thorough"]);
    let told = String::from_utf8(ended.stderr).unwrap();
    assert!(ended.status.success(), "{:?}: {told}", ended.status);
    assert!(told.contains("stopped early"), "{told}");
    let plan = fs::read_to_string(folder.child("plan/plan.json").path()).unwrap();
    let plan: serde_json::Value = serde_json::from_str(&plan).unwrap();
    assert!(!plan["stays"].as_array().unwrap().is_empty());
    for whole in ["plan/calendar.ics", "plan/report.html"] {
        let text = fs::read_to_string(folder.child(whole).path()).unwrap();
        let end = text.trim_end();
        assert!(end.ends_with("END:VCALENDAR") || end.ends_with("</html>"));
    }
    let week = Command::new(env!("CARGO_BIN_EXE_steadyleaf"))
        .current_dir(folder.path())
        .args(["week", "2027-04-14"])
        .output()
        .unwrap();
    assert!(week.status.success());
}
