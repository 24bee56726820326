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

#[rstest]
#[case::plan("plan::Plan", plan::SCHEMA)]
#[case::calendar("calendar::CalendarState", calendar::SCHEMA)]
#[case::problem("planner::problem::Problem", problem::SCHEMA)]
fn the_versions_of_the_formats_are_told(#[case] format: &str, #[case] schema: u32) {
    let developers = read("DEVELOPERS.md");
    let row = developers
        .lines()
        .find(|line| line.starts_with("| ") && line.contains(&format!("`{format}`")));
    assert!(row.unwrap().ends_with(&format!("| {schema} |")), "{row:?}");
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

/// Modules in the order of `lib.rs`: each uses only those above it.
#[test]
fn data_flows_one_way() {
    let library = read("src/lib.rs");
    let order: Vec<&str> = library
        .lines()
        .filter_map(|line| line.trim_start_matches("pub ").strip_prefix("mod "))
        .map(|name| name.trim_end_matches(';'))
        .collect();
    assert!(order.len() > 15, "{order:?}");
    let mut upward = Vec::new();
    for (path, text) in sources() {
        let module = path.trim_start_matches("src/").split(['/', '.']).next();
        let Some(own) = order.iter().position(|m| Some(*m) == module) else {
            continue;
        };
        let code = text.lines().filter(|l| !l.trim_start().starts_with("//"));
        for used in code.flat_map(|line| line.split("crate::").skip(1)) {
            let name = used
                .split(|c: char| !c.is_alphanumeric() && c != '_')
                .next();
            if let Some(other) = order.iter().position(|m| Some(*m) == name)
                && other > own
            {
                upward.push(format!("{path} uses {}", order[other]));
            }
        }
    }
    assert!(upward.is_empty(), "{upward:#?}");
}

#[test]
fn the_map_is_short() {
    assert!(read("DEVELOPERS.md").lines().count() <= 200);
}

/// Files of `src` with their texts, by their paths.
fn sources() -> Vec<(String, String)> {
    fn walk(folder: &Path, found: &mut Vec<(String, String)>) {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                walk(&path, found);
            } else if let Ok(text) = fs::read_to_string(&path) {
                let root = Path::new(env!("CARGO_MANIFEST_DIR"));
                let name = path.strip_prefix(root).unwrap().to_str().unwrap();
                found.push((name.replace('\\', "/"), text));
            }
        }
    }
    let mut found = Vec::new();
    walk(
        &Path::new(env!("CARGO_MANIFEST_DIR")).join("src"),
        &mut found,
    );
    found
}

/// The questions of somebody new: each pattern is found where the map says, and nowhere else.
#[test]
fn a_newcomer_finds_it_with_one_grep() {
    let developers = read("DEVELOPERS.md");
    let part = developers.split("## Where is it?").nth(1).unwrap();
    let part = part.split("\n## ").next().unwrap();
    let rows = part.lines().filter(|line| line.starts_with("| ")).skip(1);
    let sources = sources();
    let mut asked = 0;
    for row in rows {
        let mut cells = row.split('`').skip(1).step_by(2);
        let (pattern, answer) = (cells.next().unwrap(), cells.next().unwrap());
        let found: Vec<&str> = sources
            .iter()
            .filter(|(_, text)| text.contains(pattern))
            .map(|(path, _)| path.as_str())
            .collect();
        assert_eq!(found, [answer], "{row}");
        asked += 1;
    }
    assert_eq!(asked, 10);
}
