//! README and DEVELOPERS.md tell what is so.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use rstest::rstest;
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::file;
use steadyleaf::planner::problem;
use steadyleaf::{calendar, plan};

fn read(path: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(path)).unwrap()
}

#[test]
fn readme_tells_what_ci_runs() {
    let (readme, ci) = (read("README.md"), read(".ci/run"));
    let commands: Vec<&str> = readme
        .lines()
        .filter(|line| line.starts_with("cargo "))
        .collect();
    assert_eq!(commands.len(), 2, "two commands for a fresh machine");
    for command in commands {
        assert!(ci.contains(command), "{command} is not run by .ci/run");
    }
    for file in ["plan.json", "calendar.ics", "report.html"] {
        assert!(readme.contains(&format!("examples/attic-shelf/plan/{file}")));
        assert!(ci.contains(&format!("test -s examples/attic-shelf/plan/{file}")));
    }
}

#[test]
fn the_garden_in_readme_reads() {
    let readme = read("README.md");
    let garden = readme
        .split("```yaml\n")
        .nth(1)
        .and_then(|rest| rest.split("```").next())
        .expect("a garden file in README");
    file::parse(garden, "README.md", &Cards::built_in()).unwrap_or_else(|e| panic!("{e}"));
}

#[test]
fn every_dependency_has_its_reason() {
    let (cargo, developers) = (read("Cargo.toml"), read("DEVELOPERS.md"));
    let dependencies: Vec<&str> = cargo
        .lines()
        .skip_while(|line| *line != "[dependencies]")
        .take_while(|line| !line.starts_with("[lints") && !line.starts_with("[["))
        .filter_map(|line| Some(line.split_once(" = ")?.0))
        .collect();
    assert!(dependencies.len() > 20);
    for dependency in dependencies {
        assert!(
            developers.contains(&format!("`{dependency}`")),
            "{dependency} is not told"
        );
    }
}

#[test]
fn every_field_of_the_formats_is_told() {
    let developers = read("DEVELOPERS.md");
    for source in [
        "src/plan/mod.rs",
        "src/plan/water.rs",
        "src/planner/problem/mod.rs",
        "src/calendar/state.rs",
    ] {
        let text = read(source);
        let fields = text
            .lines()
            .filter_map(|line| line.strip_prefix("    pub "))
            .filter(|line| !line.starts_with("fn "))
            .filter_map(|line| Some(line.split_once(": ")?.0.trim_start_matches("r#")));
        for field in fields {
            assert!(
                developers.contains(field),
                "{field} of {source} is not told"
            );
        }
    }
}

#[rstest]
#[case::plan("## `plan.json`", plan::SCHEMA)]
#[case::calendar("## What the calendar remembers", calendar::SCHEMA)]
#[case::problem("## The problem file", problem::SCHEMA)]
fn the_versions_of_the_formats_are_told(#[case] heading: &str, #[case] schema: u32) {
    let developers = read("DEVELOPERS.md");
    let part = developers.split(heading).nth(1).unwrap();
    let part = part.split("\n## ").next().unwrap();
    assert!(part.contains(&format!("version of this format: {schema}")));
}

#[test]
fn readme_names_the_commands_that_print_json() {
    let readme = read("README.md");
    let before = readme.split(" print data with `--json`").next().unwrap();
    let sentence = before.rsplit(". ").next().unwrap();
    let told: BTreeSet<&str> = sentence.split('`').skip(1).step_by(2).collect();
    let source = |command: &str| read(&format!("src/cli/{command}.rs"));
    let commands = readme.split("| `steadyleaf ").skip(1);
    let commands = commands.filter_map(|row| row.split([' ', '`']).next());
    let have: BTreeSet<&str> = commands
        .filter(|command| source(command).contains("json: bool"))
        .collect();
    assert_eq!(told, have);
}

#[test]
fn every_subject_of_the_tests_is_run() {
    let all = read("tests/all.rs");
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests");
    let subjects = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|end| end == "rs"))
        .map(|path| path.file_stem().unwrap().to_str().unwrap().to_owned())
        .filter(|subject| subject != "all");
    for subject in subjects {
        assert!(
            all.contains(&format!("\nmod {subject};\n")),
            "tests/{subject}.rs is not in tests/all.rs"
        );
    }
}
