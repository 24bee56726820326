//! The reader of crop cards: what it takes, and what it refuses.

use std::fs;
use std::path::Path;

use steadyleaf::garden::cards::{self, Cards};
use steadyleaf::garden::crop::HarvestHabit;

const BUTTERHEAD: &str = include_str!("../crops/butterhead.yaml");

#[test]
fn every_card_of_the_crops_folder_is_built_in() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("crops");
    let built_in = Cards::built_in();
    let mut count = 0;
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_str().unwrap();
        let text = fs::read_to_string(&path).unwrap();
        if let Err(refusal) = cards::parse(&text, name) {
            panic!("{refusal}");
        }
        assert!(built_in.get(name.strip_suffix(".yaml").unwrap()).is_some());
        count += 1;
    }
    assert_eq!(built_in.iter().count(), count);
    assert!(built_in.iter().is_sorted_by_key(|crop| &crop.key));
}

#[test]
fn a_card_gives_what_it_says() {
    let crop = cards::parse(BUTTERHEAD, "butterhead.yaml").unwrap();
    assert_eq!(crop.key, "butterhead");
    assert_eq!(crop.name, "butterhead lettuce");
    assert!(
        matches!(crop.harvest, HarvestHabit::Head { each, field_holding } if each.get() == 150.0 && field_holding.get() == 6.0)
    );
    assert_eq!(crop.hole.days.get(), 24.0);
    assert_eq!(crop.temperature.coldest.get(), -2.0);
    assert_eq!(crop.bolting_rules.len(), 2);
    assert_eq!(crop.solution.ph, (5.8, 6.5));
    assert_eq!(crop.seed.per_cup, 1);
    assert!(crop.sources.iter().any(|(key, _)| key == "harvest.each"));
}

/// Each contradiction is one edit of a good card, and one diagnostic at the edited line.
#[rstest::rstest]
#[case("base_above_limit", "base: 4 C", "base: 40 C")]
#[case("best_above_limit", "best: 24 C", "best: 36 C")]
#[case("coldest_above_warmest", "coldest: -2 C", "coldest: 37 C")]
#[case(
    "night_above_day",
    "hole: { days: 24 days, day: 24 C, night: 19 C",
    "hole: { days: 24 days, day: 24 C, night: 25 C"
)]
#[case("no_days", "hole: { days: 24 days", "hole: { days: 0 days")]
#[case(
    "reference_above_limit",
    "hole: { days: 24 days, day: 24 C",
    "hole: { days: 24 days, day: 36 C"
)]
#[case(
    "ec_backwards",
    "ec: [1.2 mS/cm, 1.8 mS/cm]",
    "ec: [1.8 mS/cm, 1.2 mS/cm]"
)]
#[case("ph_backwards", "ph: [5.8, 6.5]", "ph: [6.5, 5.8]")]
#[case("light_backwards", "least: 10 mol", "least: 18 mol")]
#[case("seedling_too_wide", "seedling: 7 cm", "seedling: 20 cm")]
#[case("nothing_germinates", "germination: 90 %", "germination: 0 %")]
#[case("all_are_lost", "losses: 5 %", "losses: 100 %")]
#[case(
    "rule_without_condition",
    "{ mean_above: 26 C, for: 10 days }",
    "{ for: 10 days }"
)]
#[case("no_source", "harvest.holds: \"common", "harvest.each: \"common")]
#[case("source_of_nothing", "harvest.each: >-", "harvest.eech: >-")]
#[case(
    "key_of_another_habit",
    "each: 150 g, holds",
    "each: 150 g, cuts: 3, holds"
)]
#[case("another_file", "crop: butterhead", "crop: romaine")]
#[case("raised_from_what", "harvest: {", "starts: clutch\nharvest: {")]
#[case("cuttings_that_keep", "harvest: {", "starts: cutting\nharvest: {")]
fn a_card_that_contradicts_itself_is_refused(
    #[case] name: &str,
    #[case] good: &str,
    #[case] wrong: &str,
) {
    assert!(BUTTERHEAD.contains(good));
    let text = BUTTERHEAD.replacen(good, wrong, 1);
    let refusal = cards::parse(&text, "butterhead.yaml").unwrap_err();
    insta::with_settings!({ omit_expression => true, prepend_module_to_snapshot => false, snapshot_path => "wrong-cards" }, {
        insta::assert_snapshot!(name, refusal);
    });
}
