//! Gardens that are wrong, and what the grower is told. Every file of `tests/wrong-gardens` has
//! its message beside it in `tests/snapshots`.

use std::fs::{self, File};
use std::path::{Path, PathBuf};

use rstest::rstest;
use steadyleaf::garden::ReadError;
use steadyleaf::garden::file::read;

fn refusal(path: &Path) -> ReadError {
    match read(path) {
        Ok(_) => panic!("{} is not refused", path.display()),
        Err(refusal) => refusal,
    }
}

/// Compares a message with the one kept under a name.
fn check_told(name: &str, refusal: &ReadError) {
    insta::with_settings!({
        omit_expression => true,
        prepend_module_to_snapshot => false,
        snapshot_path => "wrong-gardens/told",
    }, {
        insta::assert_snapshot!(name, refusal);
    });
}

#[rstest]
fn each_wrong_garden_has_its_message(#[files("tests/wrong-gardens/*.yaml")] path: PathBuf) {
    let name = path.file_stem().unwrap().to_str().unwrap().to_owned();
    check_told(&name, &refusal(&path));
}

#[test]
fn a_wrong_card_of_the_growers_own_is_told_by_its_own_name() {
    check_told(
        "own-card",
        &refusal(Path::new("tests/wrong-gardens/own-cards")),
    );
}

#[test]
fn ten_faults_are_told_at_once_in_the_order_of_the_file() {
    let refusal = refusal(Path::new("tests/wrong-gardens/ten-faults.yaml"));
    let lines: Vec<usize> = refusal
        .diagnostics()
        .iter()
        .map(|d| d.position.unwrap().line)
        .collect();
    assert_eq!(lines, [1, 2, 3, 5, 8, 12, 14, 15, 15, 17, 18]);
}

#[test]
fn colour_changes_nothing_but_colour() {
    let refusal = refusal(Path::new("tests/wrong-gardens/ten-faults.yaml"));
    let coloured = refusal.render(true);
    assert!(coloured.contains('\u{1b}'));
    let plain = anstream::adapter::strip_str(&coloured).to_string();
    assert_eq!(plain, refusal.to_string());
}

#[test]
fn a_missing_file_is_told() {
    check_told(
        "file-missing",
        &refusal(Path::new("tests/wrong-gardens/nowhere.yaml")),
    );
}

#[test]
fn a_folder_without_a_garden_file_is_told() {
    let folder = tempfile::tempdir().unwrap();
    check_told("folder-without-garden", &refusal(folder.path()));
}

#[test]
fn a_folder_in_the_place_of_the_file_is_told() {
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir(folder.path().join("garden.yaml")).unwrap();
    check_told("folder-named-garden", &refusal(folder.path()));
}

/// The file has a hole where its content would be, so the test needs no space for it.
#[test]
fn a_file_of_200_megabytes_is_told_by_its_size_and_not_read() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("garden.yaml");
    File::create(&path).unwrap().set_len(200 << 20).unwrap();
    check_told("two-hundred-megabytes", &refusal(&path));
}

#[test]
fn a_picture_is_told_to_be_no_text() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("garden.yaml");
    fs::write(&path, b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR").unwrap();
    check_told("picture", &refusal(&path));
}

#[test]
fn brackets_without_end_are_told_at_once() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("garden.yaml");
    fs::write(&path, format!("garden: {}", "[".repeat(900_000))).unwrap();
    let told = refusal(&path);
    assert_eq!(told.diagnostics()[0].position.unwrap().column, 69);
    assert!(told.to_string().len() < 2000);
}

/// The YAML library's work grows with the square of these.
#[rstest]
#[case::nested_brackets(format!("garden: {}", "[ \"]\", ".repeat(100_000)))]
#[case::named_parts((0..40_000).map(|n| format!("k{n}: &k{n} 1\n")).collect())]
#[case::keys((0..100_000).map(|n| format!("k{n}: 1\n")).collect())]
fn what_would_take_minutes_is_refused_as_a_whole(#[case] text: String) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("garden.yaml");
    fs::write(&path, text).unwrap();
    let told = refusal(&path);
    assert_eq!(told.diagnostics().len(), 1);
    assert!(told.to_string().contains("than any garden"), "{told}");
}

#[test]
fn aliases_that_fan_out_flat_are_told() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("garden.yaml");
    let text = format!(
        "garden: &a [{}]\nstart: [{}]\n",
        "x,".repeat(5000),
        "*a,".repeat(5000)
    );
    fs::write(&path, text).unwrap();
    check_told("aliases-side-by-side", &refusal(&path));
}

#[test]
fn a_thousand_faults_are_told_up_to_fifty() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("garden.yaml");
    let keys: String = (0..1000).map(|n| format!("k{n}: 1\n")).collect();
    fs::write(&path, keys).unwrap();
    let told = refusal(&path);
    assert_eq!(told.diagnostics().len(), 50);
    assert!(
        told.to_string()
            .ends_with("There are 955 more faults; mend these first.")
    );
}
