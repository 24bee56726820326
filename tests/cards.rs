//! What the built-in crop cards say, held against the published figures they rest on.

use std::ops::RangeInclusive;

use rstest::rstest;
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::crop::{Crop, HarvestHabit};
use steadyleaf::nature::air::{DayConditions, DiurnalProfile};
use steadyleaf::nature::growth::{Unsuitable, plant_life};

const LETTUCES: [&str; 4] = ["butterhead", "romaine", "loose-leaf", "loose-leaf-cut"];

fn card(key: &str) -> Crop {
    let cards = Cards::built_in();
    let found = cards.get(key).cloned();
    found.unwrap_or_else(|| panic!("no card of {key}"))
}

fn all() -> Vec<Crop> {
    Cards::built_in().iter().cloned().collect()
}

/// The source of a number of a card: that of its dotted key or of the nearest group above it.
fn source(crop: &Crop, key: &str) -> String {
    let above = |(of, _): &&(String, String)| key == of || key.starts_with(&format!("{of}."));
    let nearest = crop
        .sources
        .iter()
        .filter(above)
        .max_by_key(|(of, _)| of.len());
    let (_, text) = nearest.unwrap_or_else(|| panic!("{}: no source of {key}", crop.key));
    text.clone()
}

// ---------------------------------------------------------------------------- the collection

#[test]
fn there_are_more_than_twenty_cards_and_none_is_left_out() {
    let files = std::fs::read_dir("crops").unwrap().count();
    assert_eq!(all().len(), files);
    assert!(files >= 20, "{files} cards");
}

#[test]
fn every_habit_of_harvest_is_there() {
    let count = |is: fn(&HarvestHabit) -> bool| all().iter().filter(|c| is(&c.harvest)).count();
    assert!(count(|h| matches!(h, HarvestHabit::Head { .. })) >= 4);
    assert!(count(|h| matches!(h, HarvestHabit::Cut { .. })) >= 10);
    assert!(count(|h| matches!(h, HarvestHabit::Pick { .. })) >= 5);
}

#[test]
fn strawberries_are_picked_for_months() {
    let HarvestHabit::Pick {
        harvest_period: lasts,
        each_week,
        ..
    } = card("strawberry").harvest
    else {
        panic!("strawberries are picked");
    };
    let weeks = lasts.get() / 7.0;
    assert!(weeks >= 15.0);
    // Ontario, Dayneutral strawberries: 34 t/ha at 50 000 plants/ha are 680 g a plant.
    let season = weeks * each_week.get();
    assert!((season - 680.0).abs() < 0.1 * 680.0, "{season} g a plant");
}

#[rstest]
#[case::basil("sweet-basil")]
#[case::parsley("parsley")]
#[case::coriander("coriander")]
#[case::chives("chives")]
#[case::mint("mint")]
fn herbs_are_cut_again_and_again(#[case] key: &str) {
    assert!(matches!(
        card(key).harvest,
        HarvestHabit::Cut { cuts: 2.., .. }
    ));
}

#[test]
fn every_card_advises_for_summer_and_for_winter() {
    for crop in all() {
        assert!(crop.summer.len() > 40, "{}: {}", crop.key, crop.summer);
        assert!(crop.winter.len() > 40, "{}: {}", crop.key, crop.winter);
        assert_ne!(crop.summer, crop.winter, "{}", crop.key);
    }
}

/// A source is a dated publication, a named body's table, or says that it is none.
#[test]
fn every_source_can_be_looked_up_or_says_that_it_cannot() {
    let undated = [
        "common practice, no published source",
        "common practice",
        "from memory",
        "Rutgers University",
        "Cornell University",
        "Michigan State University",
        "Ohio State University",
        "Ontario Ministry of Agriculture",
        "Produce Grower",
        "hrcak.srce.hr",
        "Cruz & Gomez",
    ];
    let dated = |text: &str| {
        let year = |word: &str| (1900..2030).any(|year| word.contains(&year.to_string()));
        text.split_whitespace().any(year)
    };
    for crop in all() {
        for (key, text) in &crop.sources {
            let known = dated(text) || undated.iter().any(|name| text.contains(name));
            assert!(known, "{}: {key}: {text}", crop.key);
        }
    }
}

// ----------------------------------------------------------------------------------- the seed

/// Least germination by law: US Federal Seed Act regulations, 7 CFR 201.31 (59 FR 64491); for
/// basil, coriander and rocket New Hampshire Code of Administrative Rules, Agr 2203.01.
#[rstest]
#[case("butterhead", 80.0)]
#[case("romaine", 80.0)]
#[case("loose-leaf", 80.0)]
#[case("loose-leaf-cut", 80.0)]
#[case("sweet-basil", 70.0)]
#[case("purple-basil", 70.0)]
#[case("spinach", 60.0)]
#[case("pak-choi", 75.0)]
#[case("rocket", 60.0)]
#[case("chard", 65.0)]
#[case("kale", 75.0)]
#[case("parsley", 60.0)]
#[case("coriander", 70.0)]
#[case("chives", 50.0)]
#[case("cherry-tomato", 75.0)]
#[case("chilli", 55.0)]
#[case("sweet-pepper", 55.0)]
#[case("mizuna", 75.0)]
#[case("mustard-greens", 75.0)]
#[case("spring-onion", 70.0)]
#[case("celery-leaf", 55.0)]
fn seed_comes_up_no_worse_than_the_law_asks(#[case] key: &str, #[case] least: f64) {
    let crop = card(key);
    let germination = crop.seed.germination.get() * 100.0;
    assert!((least..100.0).contains(&germination), "{germination} %");
    let source = source(&crop, "seed.germination");
    assert!(source.contains(&format!("at least {least} %")), "{source}");
}

/// Years that seed keeps: Knott's Handbook for Vegetable Growers (1997), as given by Iowa State
/// University Extension. Pak choi by Chinese cabbage, chard by beet, mizuna by mustard.
#[rstest]
#[case("butterhead", 6.0)]
#[case("romaine", 6.0)]
#[case("loose-leaf", 6.0)]
#[case("loose-leaf-cut", 6.0)]
#[case("spinach", 3.0)]
#[case("pak-choi", 3.0)]
#[case("chard", 4.0)]
#[case("kale", 4.0)]
#[case("parsley", 1.0)]
#[case("cherry-tomato", 4.0)]
#[case("chilli", 2.0)]
#[case("sweet-pepper", 2.0)]
#[case("mizuna", 4.0)]
#[case("mustard-greens", 4.0)]
#[case("spring-onion", 1.0)]
#[case("celery-leaf", 3.0)]
fn seed_keeps_as_long_as_the_handbook_says(#[case] key: &str, #[case] years: f64) {
    let keeps = card(key)
        .seed
        .seed_viability
        .expect("it is raised from seed");
    assert_eq!(keeps.get(), years);
}

// ---------------------------------------------------------------------- solution and water use

/// EC [mS/cm] and pH: Singh & Dunn, Oklahoma State University Extension HLA-6722, Table 2. Leek
/// stands in for spring onion.
#[rstest]
#[case("butterhead", [1.2, 1.8], [6.0, 7.0])]
#[case("romaine", [1.2, 1.8], [6.0, 7.0])]
#[case("loose-leaf", [1.2, 1.8], [6.0, 7.0])]
#[case("loose-leaf-cut", [1.2, 1.8], [6.0, 7.0])]
#[case("sweet-basil", [1.0, 1.6], [5.5, 6.0])]
#[case("purple-basil", [1.0, 1.6], [5.5, 6.0])]
#[case("spinach", [1.8, 2.3], [6.0, 7.0])]
#[case("parsley", [1.8, 2.2], [6.0, 6.5])]
#[case("strawberry", [1.8, 2.2], [6.0, 6.0])]
#[case("cherry-tomato", [2.0, 4.0], [6.0, 6.5])]
#[case("chilli", [0.8, 1.8], [5.5, 6.0])]
#[case("sweet-pepper", [0.8, 1.8], [5.5, 6.0])]
#[case("spring-onion", [1.4, 1.8], [6.5, 7.0])]
#[case("celery-leaf", [1.8, 2.4], [6.5, 6.5])]
#[case("sage", [1.0, 1.6], [5.5, 6.5])]
fn solution_meets_the_extension_table(
    #[case] key: &str,
    #[case] ec: [f64; 2],
    #[case] ph: [f64; 2],
) {
    let solution = card(key).solution;
    let (least, most) = (solution.ec.0.get(), solution.ec.1.get());
    let shared = most.min(ec[1]) - least.max(ec[0]);
    assert!(shared >= 0.39, "EC {least} to {most} shares {shared}");
    // What leaves the table's band leaves it by little.
    assert!(
        least >= ec[0] - 0.61 && most <= ec[1] + 0.21,
        "EC {least} to {most}"
    );
    let (least, most) = solution.ph;
    assert!(least <= ph[1] && most >= ph[0], "pH {least} to {most}");
    assert!(
        least >= ph[0] - 0.51 && most <= ph[1] + 0.51,
        "pH {least} to {most}"
    );
}

/// The one row of the table that is not followed, for a reason that the card gives.
#[test]
fn pak_choi_is_grown_more_acid_than_the_extension_table_says() {
    let crop = card("pak-choi");
    assert_eq!(
        (crop.solution.ec.0.get(), crop.solution.ec.1.get()),
        (1.4, 2.0)
    );
    assert!(crop.solution.ph.1 < 7.0);
    assert!(source(&crop, "solution.ph").contains("gives 7.0"));
}

/// No difference in growth from EC 0.5 to 4.0: Walters & Currey (2018), HortScience 53:1319, for
/// basil; Currey, Walters & Flax (2019), Agronomy 9:389, for the others.
#[rstest]
#[case("sweet-basil")]
#[case("parsley")]
#[case("coriander")]
#[case("dill")]
fn herbs_stay_within_the_conductivities_tried(#[case] key: &str) {
    let (least, most) = card(key).solution.ec;
    assert!(least.get() >= 0.5 && most.get() <= 4.0);
}

fn share_a_tank(keys: &[&str]) -> bool {
    let solutions: Vec<_> = keys.iter().map(|key| card(key).solution).collect();
    let least = |of: fn(&_) -> f64| solutions.iter().map(of).fold(f64::MIN, f64::max);
    let most = |of: fn(&_) -> f64| solutions.iter().map(of).fold(f64::MAX, f64::min);
    least(|s| s.ec.0.get()) <= most(|s| s.ec.1.get()) && least(|s| s.ph.0) <= most(|s| s.ph.1)
}

#[test]
fn salads_and_herbs_share_one_tank() {
    let shared = [
        "butterhead",
        "romaine",
        "loose-leaf",
        "loose-leaf-cut",
        "sweet-basil",
        "purple-basil",
        "pak-choi",
        "rocket",
        "parsley",
        "coriander",
        "chives",
        "mint",
        "mizuna",
        "mustard-greens",
        "spring-onion",
        "strawberry",
        "dill",
    ];
    assert!(share_a_tank(&shared));
}

#[rstest]
#[case("butterhead")]
#[case("sweet-basil")]
#[case("rocket")]
#[case("chilli")]
fn a_tomatos_feed_is_too_strong_for_others(#[case] other: &str) {
    assert!(!share_a_tank(&["cherry-tomato", other]));
}

/// Crop coefficients, initial and mid-season: FAO-56, Table 12. `small vegetables` where the crop
/// has no row.
#[rstest]
#[case("butterhead", 0.7, 1.00)]
#[case("romaine", 0.7, 1.00)]
#[case("loose-leaf", 0.7, 1.00)]
#[case("loose-leaf-cut", 0.7, 1.00)]
#[case("spinach", 0.7, 1.00)]
#[case("celery-leaf", 0.7, 1.05)]
#[case("spring-onion", 0.7, 1.00)]
#[case("chives", 0.7, 1.00)]
#[case("strawberry", 0.40, 0.85)]
#[case("mint", 0.60, 1.15)]
#[case("sweet-pepper", 0.6, 1.05)]
#[case("chilli", 0.6, 1.05)]
#[case("cherry-tomato", 0.6, 1.15)]
#[case("sweet-basil", 0.7, 1.05)]
#[case("purple-basil", 0.7, 1.05)]
#[case("pak-choi", 0.7, 1.05)]
#[case("rocket", 0.7, 1.05)]
#[case("chard", 0.7, 1.05)]
#[case("kale", 0.7, 1.05)]
#[case("parsley", 0.7, 1.05)]
#[case("coriander", 0.7, 1.05)]
#[case("mizuna", 0.7, 1.05)]
#[case("mustard-greens", 0.7, 1.05)]
#[case("dill", 0.7, 1.05)]
#[case("sage", 0.7, 1.05)]
fn crop_coefficients_are_those_of_fao_56(#[case] key: &str, #[case] young: f64, #[case] full: f64) {
    let coefficient = card(key).crop_coefficient;
    assert_eq!((coefficient.initial, coefficient.mid_season), (young, full));
}

// ---------------------------------------------------------------------- warmth, time and yield

/// Temperature of the greatest fresh mass [C]: Currey & Imler (2020), Greenhouse Product News,
/// September 2020, p. 28; basil: Currey (2019), GrowerTalks, February 2019; coriander: Mortensen
/// (2014), American Journal of Plant Sciences, no heavier at 27 than at 24 C.
#[rstest]
#[case("rocket", 23.8)]
#[case("pak-choi", 25.2)]
#[case("chard", 26.6)]
#[case("kale", 26.2)]
#[case("sweet-basil", 28.0)]
#[case("coriander", 24.0)]
fn growth_is_fastest_where_trials_found_it(#[case] key: &str, #[case] best: f64) {
    let found = card(key).temperature.optimum.get();
    assert!((found - best).abs() <= 0.5, "{found} C");
}

/// Cornell's handbook (Brechner & Both 2013) and Both's pond at Rutgers: planted out on day 11,
/// taken on day 35 with 5 oz (142 g), at 24 by day and 19 C by night and 17 mol.
#[test]
fn butterhead_keeps_the_handbooks_calendar() {
    let crop = card("butterhead");
    assert_eq!(crop.nursery.days.get(), 11.0);
    assert_eq!(crop.nursery.days.get() + crop.hole.days.get(), 35.0);
    assert_eq!((crop.hole.day.get(), crop.hole.night.get()), (24.0, 19.0));
    assert_eq!(
        (crop.hole.dli.get(), crop.light.target_dli.get()),
        (17.0, 17.0)
    );
    let HarvestHabit::Head { each, .. } = crop.harvest else {
        panic!("a butterhead is taken whole");
    };
    assert!((142.0..=150.0).contains(&each.get()));
}

/// Both's pond stands 81 plants a square metre until ten days after planting, then 28 until
/// harvest: each has a square of 11.1, then of 18.9 cm.
#[test]
fn butterhead_fits_the_spacing_it_was_grown_at() {
    let size = card("butterhead").size;
    let side = |plants: f64| (1.0 / plants).sqrt();
    assert!(size.seedling.get() < side(81.0));
    assert!((side(81.0)..side(28.0)).contains(&size.spread.get()));
}

/// Gersak, Vojnovic & Novak: cuts 23, 37 and 52 days after sowing gave 1783, 1148 and 1319 g/m2.
#[test]
fn rocket_keeps_the_calendar_of_the_floating_bed() {
    let crop = card("rocket");
    let to_first_cut = crop.nursery.days.get() + crop.hole.days.get();
    assert!((to_first_cut - 23.0).abs() <= 2.0, "{to_first_cut} days");
    let HarvestHabit::Cut {
        first,
        later,
        cuts,
        regrowth_days: between,
        ..
    } = crop.harvest
    else {
        panic!("rocket is cut");
    };
    assert_eq!(cuts, 3);
    assert!((14.0..=15.0).contains(&between.get()));
    let share = later.get() / first.get();
    assert!((1148.0 / 1783.0..=1319.0 / 1783.0).contains(&share));
}

/// Walters & Currey (2015), HortTechnology 25:645: basil two weeks a seedling, harvested three
/// weeks after planting. Yang et al. (2024), Agronomy 14:2704: kale four weeks in nutrient film.
#[rstest]
#[case("sweet-basil", 21.0)]
#[case("kale", 28.0)]
fn days_in_the_hole_as_in_the_trial(#[case] key: &str, #[case] days: f64) {
    assert_eq!(card(key).hole.days.get(), days);
}

/// Jayalath & van Iersel (2021), Plants 10:704: whole plants 27 days after sowing.
#[test]
fn mizuna_is_cut_about_when_the_trial_took_it() {
    let crop = card("mizuna");
    assert_eq!(crop.nursery.days.get() + crop.hole.days.get(), 27.0);
}

/// Le Miere et al. (1998): from planting to the first ripe fruit 831 degree days above 2.4 C for
/// cold-stored plants, 891 above 2.9 C for those of a waiting bed.
#[test]
fn strawberries_fruit_after_the_published_warmth() {
    let hole = card("strawberry").hole;
    let lit = hole.photoperiod.get() / 24.0;
    let mean = hole.day.get() * lit + hole.night.get() * (1.0 - lit);
    let (soonest, latest) = (831.0 / (mean - 2.4), 891.0 / (mean - 2.9));
    assert!((soonest..latest + 1.0).contains(&hole.days.get()));
}

/// Adams, Cockshull & Cave (2001), Annals of Botany 88:869: flower to ripe fruit 95, 65 and 46
/// days at 14, 18 and 22 C. Rates are the inverse; their line through the first and the last
/// crosses nought at the base.
#[test]
fn tomatoes_ripen_after_the_published_time() {
    let crop = card("cherry-tomato");
    assert!(crop.hole.days.get() > 46.0);
    let slope = (1.0 / 46.0 - 1.0 / 95.0) / (22.0 - 14.0);
    let base = 14.0 - (1.0 / 95.0) / slope;
    assert!((crop.temperature.base.get() - base).abs() < 1.0, "{base} C");
}

// --------------------------------------------------------------------------- size in a 15 cm rig

#[rstest]
#[case("butterhead")]
#[case("romaine")]
#[case("loose-leaf")]
#[case("pak-choi")]
fn two_ripe_heads_never_fit_beside_each_other(#[case] key: &str) {
    // Radii that sum to more than 15 cm and a tenth of crowding.
    assert!(card(key).size.spread.get() > 0.165);
}

#[rstest]
#[case("chard")]
#[case("kale")]
#[case("mint")]
#[case("strawberry")]
#[case("cherry-tomato")]
#[case("chilli")]
#[case("sweet-pepper")]
fn big_plants_are_said_to_be_big(#[case] key: &str) {
    assert!(card(key).size.spread.get() >= 0.25);
}

// -------------------------------------------------------------------------------------- seasons

/// Steady weather: coldest and warmest of the day [C], light [mol], hours from sunrise to sunset.
fn weather(coldest: f64, warmest: f64, light: f64, day_length: f64) -> Vec<DayConditions> {
    let day = DayConditions {
        coldest,
        warmest,
        profile: DiurnalProfile::Sine,
        dli: light,
        day_length,
    };
    vec![day; 200]
}

fn mediterranean_july() -> Vec<DayConditions> {
    weather(21.0, 30.0, 40.0, 14.7)
}

fn mediterranean_january() -> Vec<DayConditions> {
    weather(7.0, 17.0, 16.0, 9.8)
}

fn maritime_june() -> Vec<DayConditions> {
    weather(12.0, 21.0, 41.0, 16.5)
}

fn cold_bright_march() -> Vec<DayConditions> {
    weather(3.0, 11.0, 18.0, 12.3)
}

fn hard_frost() -> Vec<DayConditions> {
    weather(-12.0, 8.0, 12.0, 10.0)
}

fn dim_november() -> Vec<DayConditions> {
    weather(6.0, 14.0, 5.0, 9.0)
}

/// What becomes of a crop set out in steady weather: ripe after so many days, or why not.
fn set_out(key: &str, air: &[DayConditions]) -> Result<usize, Unsuitable> {
    plant_life(&card(key), air, 0, &|_| true).map(|life| life.ripe)
}

#[rstest]
#[case::butterhead("butterhead")]
#[case::romaine("romaine")]
#[case::loose_leaf("loose-leaf")]
#[case::spinach("spinach")]
#[case::coriander("coriander")]
fn a_mediterranean_july_sends_cool_crops_to_seed(#[case] key: &str) {
    assert_eq!(set_out(key, &mediterranean_july()), Err(Unsuitable::Bolts));
}

#[rstest]
#[case("sweet-basil", 16..=24)]
#[case("mizuna", 12..=20)]
#[case("cherry-tomato", 45..=60)]
#[case("chilli", 50..=70)]
#[case("mint", 20..=30)]
fn a_mediterranean_july_suits_warm_crops(#[case] key: &str, #[case] days: RangeInclusive<usize>) {
    let ripe = set_out(key, &mediterranean_july()).unwrap();
    assert!(days.contains(&ripe), "{ripe} days");
}

#[rstest]
#[case("sweet-basil")]
#[case("purple-basil")]
#[case("cherry-tomato")]
#[case("chilli")]
#[case("sweet-pepper")]
fn mediterranean_winter_nights_spoil_warm_crops(#[case] key: &str) {
    assert_eq!(
        set_out(key, &mediterranean_january()),
        Err(Unsuitable::TooCold)
    );
}

#[rstest]
#[case("butterhead", 42..=60)]
#[case("spinach", 24..=35)]
#[case("rocket", 22..=35)]
#[case("parsley", 50..=75)]
#[case("strawberry", 65..=90)]
fn mediterranean_winters_are_slow_but_sure(#[case] key: &str, #[case] days: RangeInclusive<usize>) {
    let ripe = set_out(key, &mediterranean_january()).unwrap();
    assert!(days.contains(&ripe), "{ripe} days");
}

#[rstest]
#[case("butterhead", 25..=34)]
#[case("pak-choi", 22..=30)]
#[case("kale", 32..=44)]
fn a_maritime_june_suits_what_likes_it_cool(
    #[case] key: &str,
    #[case] days: RangeInclusive<usize>,
) {
    let ripe = set_out(key, &maritime_june()).unwrap();
    assert!(days.contains(&ripe), "{ripe} days");
}

/// A first cut is quick enough; the plant is lost to the long days before a second.
#[test]
fn spinach_gives_one_cut_in_long_days() {
    let life = plant_life(&card("spinach"), &maritime_june(), 0, &|_| true).unwrap();
    assert_eq!(life.harvests.len(), 1);
}

#[rstest]
#[case("pak-choi")]
#[case("mizuna")]
#[case("celery-leaf")]
fn a_cold_spring_sends_what_takes_it_for_a_winter_to_seed(#[case] key: &str) {
    assert_eq!(set_out(key, &cold_bright_march()), Err(Unsuitable::Bolts));
}

#[test]
fn nothing_outlives_any_frost() {
    for crop in all() {
        let ripe = set_out(&crop.key, &hard_frost());
        assert_eq!(ripe, Err(Unsuitable::TooCold), "{}", crop.key);
    }
}

#[test]
fn lettuce_is_not_worth_planting_in_the_dark() {
    for key in LETTUCES {
        assert_eq!(
            set_out(key, &dim_november()),
            Err(Unsuitable::TooDark),
            "{key}"
        );
    }
}

/// Harrington & Minges (1954) in Knott's Handbook for Vegetable Growers (1997): of lettuce nearly
/// all came at 25 C, 12 % at 30 C and none at 35 C; of celery 65 % at 25 C and none at 30 C.
#[rstest]
#[case("butterhead", 25.0..30.0)]
#[case("romaine", 25.0..30.0)]
#[case("loose-leaf", 25.0..30.0)]
#[case("loose-leaf-cut", 25.0..30.0)]
#[case("celery-leaf", 20.0..25.0)]
fn seed_is_sown_no_warmer_than_it_comes_up(
    #[case] key: &str,
    #[case] between: std::ops::Range<f64>,
) {
    let warmest = card(key).seed.warmest.expect("it is stated");
    assert!(between.contains(&warmest.get()));
}

/// Hardiest first.
#[test]
fn hardiness_is_in_the_order_that_growers_know() {
    let coldest = |key| card(key).temperature.coldest.get();
    assert!(coldest("kale") <= -5.0);
    assert!(coldest("kale") < coldest("chard"));
    assert!(coldest("chard") < coldest("butterhead"));
    assert!(coldest("butterhead") < 0.0);
    // Harm from below 10 C: Plants (2022) 11:1896; this is held against a month's mean night.
    assert!((11.0..=13.0).contains(&coldest("sweet-basil")));
    assert!((11.0..=13.0).contains(&coldest("purple-basil")));
}
