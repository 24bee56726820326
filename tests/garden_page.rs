//! `examples/garden-file.md` tells every key of a garden file, and nothing else: its tables are held
//! against what the reader of garden files says.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::sync::LazyLock;

use rstest::rstest;
use serde_yaml::Value;
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::file::{parse, read};
use steadyleaf::garden::{Garden, ReadError};

use crate::tables::{self, Row, group, known, rows};

static CARDS: LazyLock<Cards> = LazyLock::new(Cards::built_in);
static PAGE: LazyLock<String> = LazyLock::new(|| {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/garden-file.md"))
        .unwrap()
});

/// The garden at the page's end, which has every key.
fn whole() -> Value {
    let text = PAGE.split("```yaml\n").last().unwrap();
    serde_yaml::from_str(text.split("```").next().unwrap()).unwrap()
}

/// The page's garden with one key stated anew, or left out.
fn with(path: &str, key: &str, value: Option<&str>) -> Result<Garden, ReadError> {
    let text = tables::with(whole(), path, key, value);
    parse(&text, "garden.yaml", &CARDS)
}

fn told(path: &str, key: &str, value: Option<&str>) -> String {
    with(path, key, value).map_or_else(|refusal| refusal.to_string(), |_| "a garden".to_owned())
}

#[test]
fn the_garden_with_every_key_reads() {
    let text = serde_yaml::to_string(&whole()).unwrap();
    parse(&text, "garden.yaml", &CARDS).unwrap_or_else(|refusal| panic!("{refusal}"));
}

#[rstest]
#[case::garden(&["The garden"], "")]
#[case::place(&["place"], "place")]
#[case::greenhouse(&["kind: greenhouse"], "place.cover")]
#[case::indoors(&["kind: indoors"], "nursery.cover")]
#[case::climate(&["climate"], "place.climate")]
#[case::a_loop(&["loops"], "loops.0")]
#[case::tank(&["tank"], "loops.0.tank")]
#[case::pump(&["pump"], "loops.0.pump")]
#[case::hose(&["hose"], "loops.0.hose")]
#[case::drain(&["drain"], "loops.0.drain")]
#[case::solution(&["solution"], "loops.0.solution")]
#[case::level(&["banks", "form: level"], "loops.0.banks.0")]
#[case::wall(&["banks", "form: wall"], "loops.0.banks.1")]
#[case::tower(&["banks", "form: tower"], "loops.0.banks.2")]
#[case::nursery(&["nursery"], "nursery")]
#[case::want(&["wants"], "wants.0")]
#[case::seedlings(&["seedlings"], "seedlings.0")]
#[case::seeds(&["seeds"], "seeds.0")]
#[case::keep_for_seed(&["keep_for_seed"], "keep_for_seed.0")]
#[case::rhythm(&["rhythm"], "rhythm")]
#[case::away(&["away"], "rhythm.away.0")]
#[case::deep_clean(&["deep_clean"], "rhythm.deep_clean")]
#[case::spacing(&["spacing"], "spacing")]
fn the_tables_tell_what_the_reader_knows(#[case] headings: &[&str], #[case] path: &str) {
    let rows = rows(&PAGE, headings);

    let unknown = told(path, "zzz", Some("1"));
    let listed: BTreeSet<&str> = rows.iter().map(|row| row.key).collect();
    assert_eq!(listed, known(&unknown));

    for row in &rows {
        let key = row.key;
        if row.left_out == "needed" {
            let missing = told(path, key, None);
            assert!(
                missing.contains(&format!("`{key}` is missing from")),
                "{key}: {missing}"
            );
        } else if let Some(default) = row.left_out.strip_prefix('`') {
            let default = default.split('`').next().unwrap();
            let stated = with(path, key, Some(default)).unwrap_or_else(|e| panic!("{key}: {e}"));
            let absent = with(path, key, None).unwrap_or_else(|e| panic!("{key}: {e}"));
            let same = format!("{stated:?}") == format!("{absent:?}");
            assert!(same, "{key} left out is not {default}");
        }
        if let Some((least, most)) = row.range.split_once(" to ") {
            check_range(path, row, least, most);
        }
    }
}

/// The range is what the reader says of a number far outside it, and the units are known.
fn check_range(path: &str, row: &Row, least: &str, most: &str) {
    let key = row.key;
    let is_list = matches!(&mut group(&mut whole(), path)[key], Value::Sequence(_));
    let length = if key == "footprint" { 2 } else { 12 };
    let value = |number: &str, unit: &str| {
        let value = format!("{number} {unit}");
        if is_list {
            format!("[{}]", vec![value; length].join(", "))
        } else {
            value
        }
    };
    for end in [least, most] {
        let (number, unit) = end.split_once(' ').unwrap_or((end, ""));
        let number = number.replace(',', "");
        let inside = told(path, key, Some(&value(&number, unit)));
        let is_inside = !inside.contains("it may be from") && !inside.contains("a want of nothing");
        assert!(is_inside, "{key} of {end}: {inside}");
    }
    let unit = most.split_once(' ').map_or("", |(_, unit)| unit);
    let outside = told(path, key, Some(&value("999999999", unit)));
    let range = format!("it may be from {least} to {most}");
    assert!(outside.contains(&range), "{key} not {range}: {outside}");
    if let Some((_, units)) = row.says.rsplit_once(", in ") {
        for unit in units.split('`').skip(1).step_by(2) {
            let outside = told(path, key, Some(&value("999999999", unit)));
            assert!(outside.contains(&range), "{key} in {unit}: {outside}");
        }
    }
}

/// Heads have a range of their own beside that of weights.
#[rstest]
#[case("0.1 heads", "a garden")]
#[case("100000 heads", "a garden")]
#[case("0.04 heads", "it may be from 0.1 heads to 100000 heads")]
#[case("200000 heads", "it may be from 0.1 heads to 100000 heads")]
fn the_heads_of_a_week_have_their_range(#[case] each_week: &str, #[case] says: &str) {
    let told = told("wants.1", "each_week", Some(each_week));
    assert!(told.contains(says), "{told}");
    let row = rows(&PAGE, &["wants"])
        .into_iter()
        .find(|r| r.key == "each_week");
    assert!(row.unwrap().says.contains("heads, 0.1 to 100000 of them"));
}

#[test]
fn the_columns_of_a_weather_file_are_told() {
    let refused = |weather: &str| {
        let folder = tempfile::tempdir().unwrap();
        let mut garden = whole();
        let place = group(&mut garden, "place").as_mapping_mut().unwrap();
        place.remove("climate");
        place.insert("weather".into(), "weather.csv".into());
        let text = serde_yaml::to_string(&garden).unwrap();
        fs::write(folder.path().join("garden.yaml"), text).unwrap();
        fs::write(folder.path().join("weather.csv"), weather).unwrap();
        read(folder.path()).unwrap_err().to_string()
    };
    let unknown = refused("zzz\n");
    let list = unknown.split("the columns are ").nth(1).unwrap();
    let known: BTreeSet<&str> = list.split('`').skip(1).step_by(2).collect();
    let rows = rows(&PAGE, &["The weather file"]);
    let listed: BTreeSet<&str> = rows.iter().map(|row| row.key).collect();
    assert_eq!(listed, known);
    for row in rows {
        let lacks = refused(&format!("date,coldest,warmest,{}\n", row.key));
        let lacks = lacks.contains("lacks the unit");
        assert_eq!(row.left_out == "needed", lacks, "{}", row.key);
        let Some((least, most)) = row.range.split_once(" to ") else {
            continue;
        };
        let headings = row.says.split('`').skip(1).step_by(2);
        for heading in headings {
            let header = match heading.split_once(' ').unwrap().0 {
                "coldest" => format!("date,warmest,{heading}"),
                "warmest" => format!("date,coldest,{heading}"),
                _ => format!("date,coldest,warmest,{heading}"),
            };
            let cells = header
                .replace(heading, "99999")
                .replace("date", "2024-03-01");
            let cells = cells.replace("coldest", "5").replace("warmest", "6");
            let outside = refused(&format!("{header}\n{cells}\n"));
            let range = format!("it may be from {least} to {most}");
            assert!(outside.contains(&range), "{heading}: {outside}");
        }
    }
    // The example's first line and its days are a weather file, if a short one.
    let example = PAGE.split("```csv\n").nth(1).unwrap().split("```").next();
    let short = refused(example.unwrap());
    assert!(short.contains("days of the year are missing"), "{short}");
}

#[test]
fn readme_leads_to_the_page() {
    let readme = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md"));
    assert!(readme.unwrap().contains("(examples/garden-file.md)"));
}
