//! The garden file: what it says is what the garden is.

use std::fs;
use std::path::{Path, PathBuf};

use chrono::{NaiveDate, NaiveTime, Weekday};
use proptest::prelude::*;
use rstest::rstest;
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::file::{parse, read};
use steadyleaf::garden::place::{Climate, Cover};
use steadyleaf::garden::rig::BankForm;
use steadyleaf::garden::want::YearDay;
use steadyleaf::garden::{Absence, Garden, SeedStock};
use steadyleaf::units::{
    Amount, DailyLight, Hours, Length, Measure, Share, Temperature, Units, Warming,
};

/// The smallest useful garden.
const SMALLEST: &str = "\
garden: Lantern Court
start: 2027-03-01
place:
  latitude: 39.5
  climate:
    coldest: [7, 8, 9, 11, 14, 18, 21, 21, 18, 15, 10, 8]
    warmest: [17, 17, 20, 21, 24, 28, 30, 31, 28, 24, 20, 17]
loops:
  - loop: roof
    tank: { holds: 120 l }
    banks:
      - { bank: deck, form: level, tubes: 4, length: 1 m }
wants:
  - { want: salad heads, from_crops: [butterhead, romaine], each_week: 6 heads }
";

/// A rooftop's three kinds of banks, much left to the defaults.
const ROOFTOP: &str = r#"
garden: Lantern Court rooftop
start: 2027-03-01
weeks: 52
place:
  latitude: 39.5
  longitude: -0.4
  elevation: 20 m
  timezone: Europe/Madrid
  cover: open air              # open air | greenhouse | indoors
  climate:                     # monthly means, January to December
    coldest: [7, 8, 9, 11, 14, 18, 21, 21, 18, 15, 10, 8]
    warmest: [17, 17, 20, 21, 24, 28, 30, 31, 28, 24, 20, 17]
loops:
  - loop: roof
    tank: { holds: 120 l, never_below: 60 % }
    pump: { moves: 1000 l/h, lifts: 2.5 m }
    banks:
      - { bank: deck, form: level, tubes: 4, length: 1 m, bore: 104 mm, hole_every: 15 cm, tube_gap: 30 cm }
      - { bank: wall, form: wall, tubes: 3, length: 2 m, bore: 104 mm, hole_every: 15 cm, tube_gap: 35 cm, top: 1.8 m }
      - { bank: corner, form: tower, height: 1.5 m, bore: 104 mm, faces: 3, hole_every: 25 cm }
nursery: { cells: 60 }
wants:
  - { want: salad heads, from_crops: [butterhead, romaine, pak-choi], each_week: 6 heads }
  - { want: basil, from_crops: [sweet-basil], each_week: 80 g, between: [05-01, 10-15] }
rhythm:
  workdays: [wed, sat]
  away: [{ from: 2027-08-02, until: 2027-08-15 }]
  remind_at: "08:00"
"#;

/// Every key of a garden file.
const FULL: &str = r#"
garden: Lantern Court rooftop
start: 2027-03-01
weeks: 26
units: imperial
place:
  latitude: 39.5
  longitude: -0.4
  elevation: 20 m
  timezone: Europe/Madrid
  near_sea: true
  cover: { kind: greenhouse, never_below: 50 F, adds: 4 C, light: 60 % }
  climate:
    coldest: [7, 8 C, 9, 11, 14, 18, 70 F, 21, 18, 15, 10, 8]
    warmest: [17, 17, 20, 21, 24, 28, 30, 31, 28, 24, 20, 17]
    humidity: [70 %, 70 %, 70 %, 70 %, 70 %, 70 %, 70 %, 70 %, 70 %, 70 %, 70 %, 70 %]
    wind: [2 m/s, 2 m/s, 2 m/s, 2 m/s, 2 m/s, 2 m/s, 2 m/s, 2 m/s, 2 m/s, 2 m/s, 2 m/s, 2 m/s]
    sun: [5, 6, 7 h, 8, 9, 10, 11, 10, 8, 7, 6, 5]
loops:
  - loop: roof
    tank: { holds: 120 l, never_below: 60 % }
    pump: { moves: 1000 l/h, lifts: 2.5 m }
    banks:
      - { bank: deck, form: level, tubes: 4, length: 1 m, bore: 104 mm, hole_every: 15 cm, tube_gap: 30 cm, headroom: 1 m, light: 80 % }
      - { bank: wall, form: wall, tubes: 3, length: 2 m, bore: 104 mm, hole_every: 15 cm, tube_gap: 35 cm, top: 1.8 m }
      - { bank: corner, form: tower, towers: 2, height: 1.5 m, bore: 104 mm, faces: 3, hole_every: 25 cm, tube_gap: 60 cm }
nursery: { cells: 60, cover: { kind: indoors, day: 23 C, night: 19 C, light: 13 mol, hours: 14 h } }
wants:
  - { want: salad heads, from_crops: [butterhead, romaine, pak-choi], each_week: 6 heads, importance: 2.5 }
  - { want: basil, from_crops: [sweet-basil], each_week: 80 g, between: [05-01, 10-15] }
seedlings:
  - { crop: romaine, count: 12, sown: 2027-02-19 }
seeds: [{ crop: romaine, count: 40, best_before: 2028-12-31 }, { crop: butterhead, count: 7 }]
rhythm:
  workdays: [Saturday, wed]
  away: [{ from: 2027-08-02, until: 2027-08-15 }, { from: 2027-05-01, until: 2027-05-01 }]
  remind_at: "08:00"
  deep_clean: { every: 20 weeks, slack: 3 weeks }
  change_solution: 10 days
spacing: { neighbours_apart: 9 days, crowding: 5 %, changeover: 1 day }
"#;

fn garden(text: &str) -> Garden {
    parse(text, "garden.yaml", &Cards::built_in()).unwrap_or_else(|refusal| panic!("{refusal}"))
}

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

#[test]
fn the_smallest_garden_has_sensible_defaults() {
    let g = garden(SMALLEST);
    assert_eq!(g.name, "Lantern Court");
    assert_eq!(g.start, date("2027-03-01"));
    assert_eq!(g.weeks, 52);
    assert_eq!(g.units, Units::Metric);
    assert_eq!(g.place.timezone, chrono_tz::UTC);
    assert_eq!(g.place.cover, Cover::OpenAir);
    assert!(!g.place.near_sea);
    let bank = &g.loops[0].banks[0];
    assert_eq!(bank.bore, Length::metres(0.104));
    assert_eq!(bank.hole_spacing, Length::metres(0.15));
    assert_eq!(g.loops[0].tank.reserve_share, Share::fraction(0.5));
    assert!(g.loops[0].pump.is_none());
    // Four tubes of one metre with a hole every 15 cm: six in each.
    assert_eq!(g.nursery.cells, 24);
    assert_eq!(
        g.nursery.cover,
        Cover::Indoors {
            day: Temperature::celsius(22.0),
            night: Temperature::celsius(18.0),
            dli: DailyLight::mol(12.0),
            photoperiod: Hours::hours(16.0),
        }
    );
    assert_eq!(g.rhythm.workdays, [Weekday::Wed, Weekday::Sat]);
    let clean = g.rhythm.deep_clean.unwrap();
    assert_eq!((clean.interval.get(), clean.slack.get()), (182.0, 28.0));
    assert_eq!(g.rhythm.solution_change_interval.get(), 14.0);
    assert_eq!(g.spacing.neighbours_apart.get(), 7.0);
    assert_eq!(g.spacing.crowding.get(), 0.1);
    assert_eq!(g.wants[0].importance_milli, 1000);
    let crops: Vec<&str> = g.crops.iter().map(|c| c.key.as_str()).collect();
    assert_eq!(crops, ["butterhead", "romaine"]);
}

/// Days of the week are the grower's words: in any language, with their accents or without.
#[rstest]
#[case("wed, sat")]
#[case("Wednesday, SATURDAY")]
#[case("mié, sáb")]
#[case("mie, sab")]
#[case("MiÉ, SAB")]
#[case("sábado, miercoles")]
#[case("sa\u{301}bado, mie\u{301}rcoles")]
#[case("wed, sáb")]
fn workdays_are_read_in_any_language(#[case] days: &str) {
    let text = ROOFTOP.replace("[wed, sat]", &format!("[{days}]"));
    let g = garden(&text);
    assert_eq!(g.rhythm.workdays, [Weekday::Wed, Weekday::Sat]);
}

#[test]
fn a_garden_of_three_kinds_of_banks_is_read() {
    let g = garden(ROOFTOP);
    let names: Vec<&str> = g.loops[0].banks.iter().map(|b| b.name.as_str()).collect();
    assert_eq!(names, ["deck", "wall", "corner"]);
    assert_eq!(g.wants.len(), 2);
    assert_eq!(g.crops.len(), 4);
    assert_eq!(g.rhythm.absences[0].until, date("2027-08-15"));
    assert!(!g.rhythm.is_workday(date("2027-08-04")));
    assert!(g.rhythm.is_workday(date("2027-08-18")));
}

#[test]
fn a_time_of_day_needs_no_quotation_marks() {
    let g = garden(&ROOFTOP.replace("\"08:00\"", "08:00"));
    assert_eq!(g.rhythm.remind_at, NaiveTime::from_hms_opt(8, 0, 0));
}

#[test]
fn every_key_is_read() {
    let g = garden(FULL);
    assert_eq!((g.weeks, g.units), (26, Units::Imperial));
    assert_eq!(g.place.timezone, chrono_tz::Europe::Madrid);
    assert_eq!(g.place.longitude, Some(-0.4));
    assert_eq!(g.place.elevation, Length::metres(20.0));
    assert!(g.place.near_sea);
    let Cover::Greenhouse {
        heating_setpoint: never_below,
        warming: adds,
        transmittance: light,
    } = g.place.cover
    else {
        panic!("{:?}", g.place.cover)
    };
    assert!((never_below.unwrap().get() - 10.0).abs() < 1e-9);
    assert_eq!((adds, light), (Warming::kelvins(4.0), Share::fraction(0.6)));
    let Some(Climate::Months(months)) = &g.place.climate else {
        panic!()
    };
    assert!((months.coldest[6].get() - 21.11).abs() < 0.01);
    assert_eq!(months.air.humidity.unwrap()[0], Share::fraction(0.7));
    assert_eq!(months.air.wind.unwrap()[11].get(), 2.0);
    assert_eq!(months.air.sun.unwrap()[2], Hours::hours(7.0));

    let banks = &g.loops[0].banks;
    assert_eq!(banks[0].light_share, Share::fraction(0.8));
    assert_eq!(
        banks[0].form,
        BankForm::Level {
            tubes: 4,
            length: Length::metres(1.0),
            tube_gap: "30 cm".parse().unwrap(),
            headroom: Some(Length::metres(1.0)),
        }
    );
    assert!(matches!(banks[1].form, BankForm::Wall { tubes: 3, top, .. } if top.get() == 1.8));
    assert!(matches!(
        banks[2].form,
        BankForm::Tower {
            towers: 2,
            faces: 3,
            ..
        }
    ));
    assert_eq!(g.nursery.cells, 60);
    assert_eq!(g.wants[0].importance_milli, 2500);
    assert_eq!(g.wants[1].each_week, Amount::new(Measure::Grams, 80_000));
    let day = |month, day| YearDay { month, day };
    assert_eq!(g.wants[1].season, Some((day(5, 1), day(10, 15))));
    assert_eq!(g.seedlings[0].count, 12);
    assert_eq!(g.seedlings[0].sown, date("2027-02-19"));
    let seeds = |s: &SeedStock| (s.crop.clone(), s.count, s.best_before);
    let seeds: Vec<_> = g.seeds.iter().map(seeds).collect();
    let until = Some(date("2028-12-31"));
    assert_eq!(
        seeds,
        [
            ("romaine".into(), 40, until),
            ("butterhead".into(), 7, None)
        ]
    );
    assert_eq!(g.rhythm.workdays, [Weekday::Wed, Weekday::Sat]);
    assert_eq!(
        g.rhythm.absences[0],
        Absence {
            from: date("2027-05-01"),
            until: date("2027-05-01")
        }
    );
    assert_eq!(g.rhythm.remind_at, NaiveTime::from_hms_opt(8, 0, 0));
    let clean = g.rhythm.deep_clean.unwrap();
    assert_eq!((clean.interval.get(), clean.slack.get()), (140.0, 21.0));
    assert_eq!(g.rhythm.solution_change_interval.get(), 10.0);
    assert_eq!(g.spacing.neighbours_apart.get(), 9.0);
    assert_eq!(g.spacing.changeover.get(), 1.0);
}

#[test]
fn a_wall_without_a_top_hangs_40_cm_above_the_floor() {
    let g = garden(&SMALLEST.replace("form: level, tubes: 4", "form: wall, tubes: 4"));
    // Three gaps of 35 cm and 40 cm.
    assert!(
        matches!(g.loops[0].banks[0].form, BankForm::Wall { top, .. } if (top.get() - 1.45).abs() < 1e-9)
    );
}

#[test]
fn indoors_needs_no_climate_and_a_word_is_enough() {
    let text = SMALLEST
        .lines()
        .filter(|l| {
            !["climate:", "coldest:", "warmest:"]
                .iter()
                .any(|k| l.contains(k))
        })
        .collect::<Vec<_>>()
        .join("\n")
        .replace("  latitude: 39.5", "  latitude: 39.5\n  cover: indoors");
    let g = garden(&text);
    assert!(g.place.climate.is_none());
    assert!(matches!(
        g.place.cover,
        Cover::Indoors { day, dli, .. } if day.get() == 22.0 && dli.get() == 14.0
    ));
}

#[test]
fn deep_cleaning_may_be_left_to_the_grower() {
    let g = garden(&format!("{SMALLEST}rhythm: {{ deep_clean: none }}\n"));
    assert!(g.rhythm.deep_clean.is_none());
}

#[test]
fn a_part_may_be_named_and_repeated() {
    let bank = "{ bank: deck, form: level, tubes: 4, length: 1 m }";
    let text = SMALLEST
        .replace("{ holds: 120 l }", "&tank { holds: 120 l }")
        .replace(
            bank,
            &format!(
                "{bank}\n  - loop: yard\n    tank: *tank\n    banks: [{{ bank: yard, form: level, tubes: 2, length: 1 m }}]"
            ),
        );
    let g = garden(&text);
    assert_eq!(g.loops[1].tank.capacity.get(), 120.0);
}

#[test]
fn line_ends_and_a_mark_at_the_front_do_not_matter() {
    let text = format!("\u{feff}{}", SMALLEST.replace('\n', "\r\n"));
    assert_eq!(garden(&text).name, "Lantern Court");
}

#[test]
fn a_key_that_is_no_text_is_told_as_any_other() {
    let refusal = parse(
        &format!("{SMALLEST}12: 3\n? [a, b]\n: 4\n"),
        "garden.yaml",
        &Cards::built_in(),
    )
    .unwrap_err();
    let lines = refusal.diagnostics().iter();
    let lines: Vec<usize> = lines.map(|d| d.position.unwrap().line).collect();
    assert_eq!(lines, [15, 16]);
}

#[test]
fn positions_count_characters_not_bytes() {
    let text = SMALLEST.replace("want: salad heads", "want: Schüßel früh, from_crop: x");
    let refusal = parse(&text, "garden.yaml", &Cards::built_in()).unwrap_err();
    let position = refusal.diagnostics()[0].position.unwrap();
    let line = text.lines().nth(position.line - 1).unwrap();
    let marked: String = line
        .chars()
        .skip(position.column - 1)
        .take(position.width)
        .collect();
    assert_eq!(marked, "from_crop");
}

/// A folder with a garden file and what else is given.
fn folder(files: &[(&str, &str)]) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    for (name, text) in files {
        let path = folder.path().join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }
    folder
}

#[test]
fn a_folder_is_read_by_its_garden_file() {
    let folder = folder(&[("garden.yaml", SMALLEST)]);
    let loaded = read(folder.path()).unwrap();
    assert_eq!(loaded.path, folder.path().join("garden.yaml"));
    assert_eq!(loaded.garden.name, "Lantern Court");
    let by_name = read(&loaded.path).unwrap();
    assert_eq!(by_name.fingerprint, loaded.fingerprint);
}

/// The value of FNV-1a is that of its public definition, worked by an independent program over
/// the text, a zero byte, and another zero byte for the weather file that is not there.
#[test]
fn the_fingerprint_is_the_same_everywhere() {
    let folder = folder(&[("garden.yaml", SMALLEST)]);
    let fingerprint = read(folder.path()).unwrap().fingerprint;
    assert_eq!(fingerprint, "8820a8fb7ef92a5f");
    let crlf = SMALLEST.replace('\n', "\r\n");
    fs::write(folder.path().join("garden.yaml"), crlf).unwrap();
    assert_eq!(read(folder.path()).unwrap().fingerprint, fingerprint);
}

#[test]
fn the_fingerprint_tells_of_every_file_that_counts() {
    let weather = fs::read_to_string("tests/wrong-gardens/valley.csv").unwrap();
    let (before, after) = SMALLEST.split_once("  climate:").unwrap();
    let loops = &after[after.find("loops:").unwrap()..];
    let text = format!("{before}  weather: valley.csv\n{loops}");
    let card = fs::read_to_string("crops/butterhead.yaml").unwrap();
    let card = card.replace("each: 150 g", "each: 140 g");
    let files = [
        ("garden.yaml", text.as_str()),
        ("valley.csv", weather.as_str()),
        ("crops/butterhead.yaml", card.as_str()),
    ];
    let all = read(folder(&files).path()).unwrap();
    let Some(Climate::Weather(weather)) = &all.garden.place.climate else {
        panic!()
    };
    assert_eq!(weather.days.len(), 365);
    // The grower's own card replaces the one built in.
    let butterhead = all.garden.crop("butterhead").unwrap();
    assert!(
        matches!(butterhead.harvest, steadyleaf::garden::crop::HarvestHabit::Head { each, .. } if each.get() == 140.0)
    );

    let mut fingerprints = vec![all.fingerprint];
    for changed in 0..files.len() {
        let mut files = files;
        let longer = format!("{}# more\n", files[changed].1);
        files[changed].1 = &longer;
        fingerprints.push(read(folder(&files).path()).unwrap().fingerprint);
    }
    fingerprints.sort();
    fingerprints.dedup();
    assert_eq!(fingerprints.len(), 4);
}

#[test]
fn a_weather_file_needs_a_folder() {
    let text = SMALLEST.replace(
        "  latitude: 39.5",
        "  latitude: 39.5\n  weather: valley.csv",
    );
    let refusal = parse(&text, "garden.yaml", &Cards::built_in()).unwrap_err();
    assert!(refusal.to_string().contains("weather file"));
}

/// Either the text is a garden, or it is told what is wrong, at a place inside it.
fn check_told(text: &str, refusal: &steadyleaf::garden::ReadError) {
    assert!(!refusal.diagnostics().is_empty());
    assert!(!refusal.to_string().is_empty());
    assert!(!refusal.render(true).is_empty());
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    for position in refusal.diagnostics().iter().filter_map(|d| d.position) {
        let line = text.lines().nth(position.line - 1);
        let length = line.map(|line| line.chars().count());
        assert!(
            length.is_some_and(|length| position.column <= length + 1) || text.lines().count() == 0,
            "{position:?} is outside of\n{text}"
        );
        assert!(position.width >= 1);
    }
}

/// Where in a text, and what to put there instead of how many bytes.
fn edit() -> impl Strategy<Value = (prop::sample::Index, usize, Vec<u8>)> {
    let telling =
        prop::sample::select(&b"\t\n\r :-,[]{}&*!|>'\"%@`#?~\0\x7f\x85\xa0\xff0159azC"[..]);
    let bytes = prop::collection::vec(prop_oneof![telling, any::<u8>()], 0..4);
    (any::<prop::sample::Index>(), 0..12usize, bytes)
}

fn edited(text: &str, edits: &[(prop::sample::Index, usize, Vec<u8>)]) -> Vec<u8> {
    let mut bytes = text.as_bytes().to_vec();
    for (at, gone, new) in edits {
        let at = at.index(bytes.len() + 1);
        let end = (at + gone).min(bytes.len());
        bytes.splice(at..end, new.iter().copied());
    }
    bytes
}

/// YAML has words for numbers that are none, and a number may be written too large to be one.
#[rstest]
fn a_number_that_is_not_finite_is_told_wherever_it_stands(
    #[values(".nan", ".inf", "-.inf", "1e999")] word: &str,
) {
    let mut rest = 0;
    while let Some(digit) = FULL[rest..].find(|c: char| c.is_ascii_digit()) {
        let start = rest + digit;
        let length = FULL[start..].find(|c: char| !(c.is_ascii_digit() || c == '.'));
        rest = start + length.unwrap();
        let text = format!("{}{word}{}", &FULL[..start], &FULL[rest..]);
        let refusal = parse(&text, "garden.yaml", &CARDS).unwrap_err();
        check_told(&text, &refusal);
    }
}

proptest! {
    #[test]
    fn any_edit_of_a_good_garden_is_read_or_told(edits in prop::collection::vec(edit(), 1..5)) {
        let bytes = edited(FULL, &edits);
        let text = String::from_utf8_lossy(&bytes);
        if let Err(refusal) = parse(&text, "garden.yaml", &CARDS) {
            check_told(&text, &refusal);
        }
    }

    #[test]
    fn any_beginning_of_a_good_garden_is_read_or_told(end in 0..FULL.len()) {
        let text = &FULL[..end];
        if let Err(refusal) = parse(text, "garden.yaml", &CARDS) {
            check_told(text, &refusal);
        }
    }

    #[test]
    fn any_edit_of_a_good_card_is_read_or_told(edits in prop::collection::vec(edit(), 1..5)) {
        let bytes = edited(include_str!("../crops/strawberry.yaml"), &edits);
        let text = String::from_utf8_lossy(&bytes);
        if let Err(refusal) = steadyleaf::garden::cards::parse(&text, "strawberry.yaml") {
            check_told(&text, &refusal);
        }
    }

    #[test]
    fn any_edit_of_a_weather_file_is_read_or_told(edits in prop::collection::vec(edit(), 1..5)) {
        let weather = edited(WEATHER, &edits);
        let text = SMALLEST.replace("  climate:\n", "  weather: w.csv\n").replace("    coldest", "#").replace("    warmest", "#");
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("w.csv"), &weather).unwrap();
        fs::write(folder.path().join("garden.yaml"), text).unwrap();
        if let Err(refusal) = read(folder.path()) {
            let refused_weather = refusal.diagnostics().iter().all(|d| d.file == "w.csv");
            prop_assert!(refused_weather, "{}", refusal);
            check_told(&String::from_utf8_lossy(&weather), &refusal);
        }
    }

    #[test]
    fn any_bytes_in_a_file_are_read_or_told(edits in prop::collection::vec(edit(), 1..5)) {
        let bytes = edited(SMALLEST, &edits);
        let folder = tempfile::tempdir().unwrap();
        let path: PathBuf = folder.path().join("garden.yaml");
        fs::write(&path, &bytes).unwrap();
        if let Err(refusal) = read(Path::new(&path)) {
            check_told(&String::from_utf8_lossy(&bytes), &refusal);
        }
    }
}

const WEATHER: &str = include_str!("wrong-gardens/valley.csv");

static CARDS: std::sync::LazyLock<Cards> = std::sync::LazyLock::new(Cards::built_in);
