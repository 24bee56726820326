//! `examples/crop-card.md` tells every key of a crop card, and nothing else: its tables are held
//! against what the reader of cards says, and its card is one.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::sync::LazyLock;

use rstest::rstest;
use serde_yaml::Value;
use steadyleaf::garden::cards::parse;
use steadyleaf::garden::crop::Crop;
use steadyleaf::garden::{ReadError, file};
use steadyleaf::nature::development::reference_conditions;
use steadyleaf::nature::seed;

use crate::tables::{Row, group, known, rows, with};

static PAGE: LazyLock<String> = LazyLock::new(|| page("examples/crop-card.md"));

fn page(path: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(path)).unwrap()
}

/// The card at the page's end.
fn card() -> &'static str {
    let text = PAGE.split("```yaml\n").last().unwrap();
    text.split("```").next().unwrap()
}

const CUT: &str = "{ habit: cut, first: 18 g, later: 12 g, cuts: 2, between: 11 days, leaves: 30 %, holds: 6 days }";
const HEAD: &str = "{ habit: head, each: 150 g, holds: 6 days }";
const PICK: &str = "{ habit: pick, each_week: 35 g, lasts: 20 weeks, holds: 3 days }";

/// The page's card with another harvest, and one key stated anew or left out.
fn read(harvest: &str, path: &str, key: &str, value: Option<&str>) -> Result<Crop, ReadError> {
    let text = card().replace(CUT, harvest);
    let text = with(serde_yaml::from_str(&text).unwrap(), path, key, value);
    parse(&text, "cress-mix.yaml")
}

fn told(harvest: &str, path: &str, key: &str, value: Option<&str>) -> String {
    let read = read(harvest, path, key, value);
    read.map_or_else(|refusal| refusal.to_string(), |_| "a card".to_owned())
}

#[rstest]
#[case::card(CUT, "The card", "")]
#[case::head(HEAD, "habit: head", "harvest")]
#[case::cut(CUT, "habit: cut", "harvest")]
#[case::pick(PICK, "habit: pick", "harvest")]
#[case::nursery(CUT, "nursery and hole", "nursery")]
#[case::hole(CUT, "nursery and hole", "hole")]
#[case::temperature(CUT, "temperature", "temperature")]
#[case::light(CUT, "light", "light")]
#[case::bolts(CUT, "bolts", "bolts.0")]
#[case::size(CUT, "size", "size")]
#[case::solution(CUT, "solution", "solution")]
#[case::seed(CUT, "seed", "seed")]
#[case::coefficient(CUT, "coefficient", "coefficient")]
fn the_tables_tell_what_the_reader_knows(
    #[case] harvest: &str,
    #[case] heading: &str,
    #[case] path: &str,
) {
    let rows = rows(&PAGE, &[heading]);
    let unknown = told(harvest, path, "zzz", Some("1"));
    let listed: BTreeSet<&str> = rows.iter().map(|row| row.key).collect();
    assert_eq!(listed, known(&unknown));

    for row in &rows {
        let key = row.key;
        let absent = told(harvest, path, key, None);
        let is_missing = absent.contains(&format!("`{key}` is missing from"));
        assert_eq!(row.left_out == "needed", is_missing, "{key}: {absent}");
        if let Some(default) = row.left_out.strip_prefix('`') {
            let default = default.split('`').next().unwrap();
            let [stated, absent] = [Some(default), None]
                .map(|v| format!("{:?}", read(harvest, path, key, v).unwrap()));
            assert_eq!(stated, absent);
        }
        if let Some((least, most)) = row.range.split_once(" to ") {
            check_range(harvest, path, row, least, most);
        }
    }
}

/// The range is what the reader says of a number far outside it, and the units are known.
fn check_range(harvest: &str, path: &str, row: &Row, least: &str, most: &str) {
    let key = row.key;
    let mut whole: Value = serde_yaml::from_str(&card().replace(CUT, harvest)).unwrap();
    let is_pair = matches!(&group(&mut whole, path)[key], Value::Sequence(_));
    let value = |number: &str, unit: &str| {
        let value = format!("{number} {unit}");
        if is_pair {
            format!("[{value}, {value}]")
        } else {
            value
        }
    };
    for end in [least, most] {
        let (number, unit) = end.split_once(' ').unwrap_or((end, ""));
        let inside = told(harvest, path, key, Some(&value(number, unit)));
        assert!(
            !inside.contains("it may be from"),
            "{key} of {end}: {inside}"
        );
    }
    let range = format!("it may be from {least} to {most}");
    let unit = most.split_once(' ').map_or("", |(_, unit)| unit);
    let listed = row.says.rsplit_once(", in ").map_or("", |(_, units)| units);
    for unit in listed.split('`').skip(1).step_by(2).chain([unit]) {
        let outside = told(harvest, path, key, Some(&value("999999999", unit)));
        assert!(
            outside.contains(&range),
            "{key} in {unit}, not {range}: {outside}"
        );
    }
}

/// A grower follows the page: the card goes into a folder beside the garden file, and is wanted.
#[test]
fn the_pages_card_is_found_beside_a_garden() {
    let folder = tempfile::tempdir().unwrap();
    let path = card().lines().next().unwrap().strip_prefix("# ").unwrap();
    fs::create_dir(folder.path().join("crops")).unwrap();
    fs::write(folder.path().join(path), card()).unwrap();
    let garden = page("examples/attic-shelf/garden.yaml");
    assert!(garden.contains("[rocket]"));
    let garden = garden.replace("[rocket]", "[cress-mix]");
    fs::write(folder.path().join("garden.yaml"), garden).unwrap();
    let garden = file::read(folder.path())
        .unwrap_or_else(|e| panic!("{e}"))
        .garden;
    let crop = garden.crop("cress-mix").unwrap();
    assert_eq!(crop.family(), Some("Brassicaceae"));
    // What is explained below it.
    assert_eq!(seed::cell_sowing(&crop.seed).seeds, 10);
    let lamps = 240.0 * crop.hole.photoperiod.get() * 0.0036;
    assert!(
        (reference_conditions(&crop.hole).dli - lamps).abs() < 0.1,
        "{lamps}"
    );
}

#[test]
fn every_number_needs_a_source() {
    for key in ["harvest", "size", "coefficient"] {
        let refused = told(CUT, "sources", key, None);
        assert!(refused.contains("has no source"), "{key}: {refused}");
    }
    // By its own key, too.
    let text = card().replace("  size: my", "  size.seedling: my");
    let refused = parse(&text, "cress-mix.yaml").unwrap_err().to_string();
    assert!(refused.contains("`size.spread` has no source"), "{refused}");
    assert!(!refused.contains("size.seedling"), "{refused}");
}

#[rstest]
#[case("README.md", "(examples/crop-card.md)")]
#[case("examples/README.md", "(crop-card.md)")]
#[case("examples/garden-file.md", "(crop-card.md)")]
fn other_pages_lead_to_it(#[case] from: &str, #[case] link: &str) {
    assert!(page(from).contains(link));
}
