//! A plan turned into dated chores.

use std::collections::BTreeSet;

use crate::lantern::{basil, clean, date, empty_plan, garden, head, spring, watered};
use chrono::{Datelike, NaiveDate, Weekday};
use proptest::prelude::*;
use rstest::rstest;
use steadyleaf::chores::{self, Chore, Kind, MAX_SCREEN_LINES, MAX_TITLE_CHARACTERS};
use steadyleaf::garden::crop::Propagation;
use steadyleaf::garden::{Absence, Garden};
use steadyleaf::nature::seed;
use steadyleaf::plan::Plan;
use steadyleaf::text::Language;
use steadyleaf::units::{Conductivity, Days, Units, Years};

/// The chores of a plan whose tanks are followed in this garden.
fn chores(plan: &Plan, garden: &Garden) -> Vec<Chore> {
    chores::chores(&watered(plan, garden), garden)
}

/// Chores as one reads them on a list.
fn told<'a>(chores: impl IntoIterator<Item = &'a Chore>) -> String {
    told_with(chores, |chore| &chore.details)
}

/// Chores as a list, with such lines beneath each.
fn told_with<'a>(
    chores: impl IntoIterator<Item = &'a Chore>,
    lines: impl Fn(&Chore) -> &[String],
) -> String {
    let mut text = String::new();
    let mut today = None;
    for chore in chores {
        if today.replace(chore.day) != Some(chore.day) {
            text += &format!("{}\n", chore.day.format("%A %-d %B %Y"));
        }
        text += &format!("  [{}] {}\n", chore.kind.key(), chore.summary);
        for line in lines(chore) {
            text += &format!("      {line}\n");
        }
    }
    text
}

fn between(chores: &[Chore], first: &str, last: &str) -> Vec<Chore> {
    let days = date(first)..=date(last);
    chores
        .iter()
        .filter(|c| days.contains(&c.day))
        .cloned()
        .collect()
}

fn of_kind(chores: &[Chore], kind: Kind) -> Vec<Chore> {
    chores.iter().filter(|c| c.kind == kind).cloned().collect()
}

fn days(chores: &[Chore]) -> Vec<String> {
    chores.iter().map(|c| c.day.to_string()).collect()
}

fn on(chores: &[Chore], kind: Kind, day: &str) -> Chore {
    let of_kind = of_kind(chores, kind);
    of_kind
        .into_iter()
        .find(|c| c.day == date(day))
        .expect("such a chore")
}

fn add_away(garden: &mut Garden, from: &str, until: &str) {
    garden.rhythm.absences.push(Absence {
        from: date(from),
        until: date(until),
    });
}

#[test]
fn the_first_weeks_read_well() {
    let chores = chores(&spring(), &garden());
    insta::assert_snapshot!(
        "first_weeks",
        told(&between(&chores, "2027-03-01", "2027-03-24"))
    );
}

#[test]
fn a_spring_with_harvests_reads_well() {
    let mut garden = garden();
    add_away(&mut garden, "2027-05-13", "2027-05-26");
    let chores = chores(&spring(), &garden);
    insta::assert_snapshot!(
        "harvest_weeks",
        told(&between(&chores, "2027-03-31", "2027-05-31"))
    );
}

/// One a day and kind, on workdays of the shown weeks, in the order of a day's work.
#[test]
fn chores_fall_on_workdays_once_a_kind() {
    let garden = garden();
    let plan = spring();
    let chores = chores(&plan, &garden);
    let keys: Vec<(NaiveDate, Kind)> = chores.iter().map(|c| (c.day, c.kind)).collect();
    assert!(keys.is_sorted());
    assert_eq!(BTreeSet::from_iter(&keys).len(), keys.len());
    for chore in &chores {
        assert!(garden.rhythm.is_workday(chore.day), "{chore:?}");
        assert!((plan.start..=plan.last).contains(&chore.day), "{chore:?}");
    }
}

#[test]
fn nothing_is_done_for_an_empty_plan() {
    assert_eq!(chores(&empty_plan(), &garden()), []);
}

/// The rest is one formula with the growth of plants: here only that it is asked, batch by batch.
#[test]
fn seeds_are_enough_with_the_stated_certainty() {
    let mut garden = garden();
    garden.crops[2].seed.per_cup = 3;
    let chores = chores(&spring(), &garden);
    let six = seed::cup_sowing(&garden.crops[0].seed, 6);
    let summary = on(&chores, Kind::Sow, "2027-03-03").summary;
    assert_eq!(
        summary,
        format!("Sow butterhead lettuce ({} seeds)", six.seeds())
    );
    assert!(six.seeds() > 6);

    let basil = seed::cup_sowing(&garden.crops[2].seed, 2);
    let details = on(&chores, Kind::Sow, "2027-03-06").details;
    assert_eq!(
        details[1],
        format!(
            "sweet basil: sow {} cells, {} seeds in each (2 net cups of 3 plants); transplant Wed 24 March",
            basil.cells, basil.seeds_per_cell
        )
    );
}

/// Nobody sows a strawberry: what is raised from cuttings or plugs is called so wherever it is
/// ordered, put into the nursery and set out, in every language.
#[rstest]
#[case::english("en")]
#[case::spanish("es")]
fn cuttings_and_plugs_are_not_seed(#[case] language: &str) {
    let mut garden = garden();
    garden.language = Language::from_code(language).unwrap();
    for (crop, starts) in [(0, Propagation::Cutting), (1, Propagation::Plug)] {
        garden.crops[crop].propagation = starts;
        garden.crops[crop].seed.seed_viability = None;
    }
    let mut plan = empty_plan();
    for (crop, sow, transplant) in [
        ("butterhead", "2027-03-03", "2027-03-20"),
        ("butterhead", "2027-03-06", "2027-03-24"),
        ("pak-choi", "2027-03-06", "2027-03-24"),
        ("sweet-basil", "2027-03-06", "2027-03-24"),
    ] {
        plan.stays
            .push(head("deck-1-1", crop, [sow, transplant, "2027-04-17"]));
    }
    let kinds = [Kind::SeedOrder, Kind::Sow, Kind::Transplant];
    let mut chores = chores(&plan, &garden);
    chores.retain(|c| kinds.contains(&c.kind));
    let name = format!("cuttings_and_plugs_{language}");
    insta::assert_snapshot!(name, told(&chores));
}

#[test]
fn seedlings_on_hand_are_not_sown() {
    let mut plan = empty_plan();
    let mut stay = head(
        "deck-1-1",
        "butterhead",
        ["2027-02-20", "2027-03-06", "2027-04-03"],
    );
    stay.on_hand = true;
    plan.stays.push(stay);
    let chores = chores(&plan, &garden());
    assert_eq!(of_kind(&chores, Kind::Sow), []);
    assert_eq!(of_kind(&chores, Kind::SeedOrder), []);
    assert_eq!(
        on(&chores, Kind::Transplant, "2027-03-06").details[0],
        "1 butterhead lettuce, from the seedlings on hand sown on Sat 20 February, into deck-1: 1"
    );
}

/// A plan's lettuce needs seed for a year; seed that keeps a year is bought anew for the next.
#[test]
fn seed_is_bought_anew_when_it_has_lost_its_life() {
    let mut garden = garden();
    garden.crops[0].seed.seed_viability = Some(Years::years(1.0));
    let mut plan = empty_plan();
    plan.last = date("2029-02-25");
    for [sow, transplant, removal] in [
        ["2027-03-03", "2027-03-20", "2027-04-17"],
        ["2028-03-01", "2028-03-18", "2028-04-15"],
        ["2028-04-05", "2028-04-22", "2028-05-20"],
    ] {
        plan.stays
            .push(head("deck-1-1", "butterhead", [sow, transplant, removal]));
    }
    let orders = of_kind(&chores(&plan, &garden), Kind::SeedOrder);
    insta::assert_snapshot!(told(&orders), @r#"
    Wednesday 3 March 2027
      [seed-order] Buy seed: butterhead lettuce
          butterhead lettuce: 4 seeds (2 sowings until Wed 1 March 2028; keeps about 1 year)
          The numbers allow for seed that fails. Keep packets cool, dark and dry; old seed germinates poorly.
    Wednesday 22 March 2028
      [seed-order] Buy seed: butterhead lettuce
          butterhead lettuce: 2 seeds (1 sowing until Wed 5 April; keeps about 1 year)
          The numbers allow for seed that fails. Keep packets cool, dark and dry; old seed germinates poorly.
    "#);
}

#[rstest]
#[case::both_alike((1.2, 1.8), (5.8, 6.5), "Check EC 1.2-1.8, pH 5.8-6.5")]
#[case::the_overlap((1.6, 2.2), (6.0, 7.0), "Check EC 1.6-1.8, pH 6.0-6.5")]
#[case::a_single_point((1.8, 2.2), (6.5, 7.0), "Check EC 1.8, pH 6.5")]
#[case::no_overlap((2.0, 2.4), (6.0, 7.0), "Check level, EC and pH")]
fn the_band_suits_all_that_stands_in_the_loop(
    #[case] ec: (f64, f64),
    #[case] ph: (f64, f64),
    #[case] summary: &str,
) {
    let mut garden = garden();
    garden.crops[2].solution.ec = (
        Conductivity::millisiemens(ec.0),
        Conductivity::millisiemens(ec.1),
    );
    garden.crops[2].solution.ph = ph;
    let chores = chores(&spring(), &garden);
    // Lettuce alone until the basil comes in.
    assert_eq!(
        on(&chores, Kind::Check, "2027-03-20").summary,
        "Check EC 1.2-1.8, pH 5.8-6.5"
    );
    assert_eq!(on(&chores, Kind::Check, "2027-03-24").summary, summary);
}

#[test]
fn each_loop_has_its_own_band() {
    let mut garden = garden();
    let mut yard = garden.loops[0].clone();
    yard.name = "yard".to_owned();
    yard.banks.retain(|bank| bank.name == "wall");
    garden.loops[0].banks.retain(|bank| bank.name == "deck");
    garden.loops.push(yard);
    garden.crops[2].solution.ph = (6.0, 6.4);
    let chores = chores(&spring(), &garden);
    let check = on(&chores, Kind::Check, "2027-03-24");
    assert_eq!(check.summary, "Check level, EC and pH");
    assert_eq!(check.about, "roof, yard");
    assert_eq!(
        check.details[0],
        "roof: top up before it falls below 72 l; EC 1.2-1.8 mS/cm, pH 5.8-6.5"
    );
    assert_eq!(
        check.details[2],
        "yard: top up before it falls below 72 l; EC 1.2-1.8 mS/cm, pH 6.0-6.4"
    );
}

/// First filling with the first planting; then every 14 days on the nearest workday, counted from
/// the last one; with a deep clean where one is at most three days off; nearest workday before or
/// after an absence; not while nothing stands.
#[rstest]
#[case::in_turn(&[], None, &["2027-03-20", "2027-04-03", "2027-04-17", "2027-05-01"])]
#[case::with_a_clean_before(&["2027-03-31"], None, &["2027-03-20", "2027-03-31", "2027-04-14", "2027-04-28", "2027-05-12"])]
#[case::a_clean_too_far_off(&["2027-04-07"], None, &["2027-03-20", "2027-04-03", "2027-04-17", "2027-05-01"])]
#[case::away(&[], Some(("2027-04-01", "2027-04-09")), &["2027-03-20", "2027-03-31", "2027-04-14", "2027-04-28", "2027-05-12"])]
fn the_solution_is_changed_in_turn(
    #[case] cleans: &[&str],
    #[case] away: Option<(&str, &str)>,
    #[case] expected: &[&str],
) {
    let mut garden = garden();
    if let Some((from, until)) = away {
        add_away(&mut garden, from, until);
    }
    let mut plan = spring();
    plan.stays.push(head(
        "deck-4-1",
        "butterhead",
        ["2027-03-06", "2027-03-24", "2027-05-12"],
    ));
    plan.cleans = cleans.iter().map(|day| clean("deck-2", day)).collect();
    let mut expected = expected.to_vec();
    // The rig stands empty when the last is taken on 12 May, and is drained.
    expected.retain(|day| *day < "2027-05-12");
    expected.push("2027-05-12");
    assert_eq!(
        days(&of_kind(&chores(&plan, &garden), Kind::Solution)),
        expected
    );
}

#[test]
fn a_loop_that_stood_empty_is_filled_again_with_the_next_planting() {
    let mut plan = empty_plan();
    plan.stays.push(head(
        "deck-1-1",
        "butterhead",
        ["2027-03-03", "2027-03-20", "2027-04-17"],
    ));
    plan.stays.push(head(
        "deck-1-1",
        "butterhead",
        ["2027-08-04", "2027-08-18", "2027-09-15"],
    ));
    let fillings = of_kind(&chores(&plan, &garden()), Kind::Solution);
    assert_eq!(
        days(&fillings),
        [
            "2027-03-20",
            "2027-04-03",
            "2027-04-17",
            "2027-08-18",
            "2027-09-01",
            "2027-09-15"
        ]
    );
    let summaries: Vec<&str> = fillings.iter().map(|f| f.summary.as_str()).collect();
    assert_eq!(
        summaries,
        [
            "Fill with nutrient solution: roof",
            "Nutrient change: roof",
            "Drain: roof",
            "Fill with nutrient solution: roof",
            "Nutrient change: roof",
            "Drain: roof",
        ]
    );
    let drained = &fillings[2].details[0];
    assert!(
        drained
            .starts_with("roof: nothing stands here until Wed 18 August. Unplug the pump, drain"),
        "{drained}"
    );
    let caution = fillings[2].details.last().unwrap();
    assert!(caution.contains("unplug the pump at the wall"), "{caution}");
    let last = &fillings[5].details[0];
    assert!(
        last.starts_with("roof: nothing follows here for weeks."),
        "{last}"
    );
}

/// By hand: tank and tubes hold 120 + 42.47 l (half of 104 mm, 10 m). From 1.6 to 1.5 take 162.47 *
/// 0.1 / (1.5 - 0.3) = 13.5 l of water; from 1.4 to 1.5, 162.47 * 0.1 / 98.5 = 0.1649 l of stock.
/// Water of 1.5 and more does not thin it.
#[rstest]
#[case(
    0.3,
    Some(100.0),
    "add 14 l of plain water for every 0.1 over (tank full? bail out the same first). EC low: add 165 ml of stock for every 0.1 under"
)]
#[case(0.3, None, "EC low: add stock a little at a time")]
#[case(1.6, Some(100.0), "your water is too salty to bring it down")]
fn a_check_says_what_brings_the_ec_back(
    #[case] source: f64,
    #[case] stock: Option<f64>,
    #[case] told: &str,
) {
    let mut garden = garden();
    let solution = &mut garden.loops[0].nutrients;
    solution.source_ec = Conductivity::millisiemens(source);
    solution.stock_ec = stock.map(Conductivity::millisiemens);
    let chores = chores(&spring(), &garden);
    let line = &on(&chores, Kind::Check, "2027-03-20").details[1];
    assert!(line.starts_with("roof: ") && line.contains(told), "{line}");
}

#[test]
fn an_interval_longer_than_the_plan_never_comes_round() {
    let mut garden = garden();
    garden.rhythm.solution_change_interval = Days::days(1e9);
    let fillings = of_kind(&chores(&spring(), &garden), Kind::Solution);
    // With the last plant, on 12 May, it is drained.
    assert_eq!(days(&fillings), ["2027-03-20", "2027-05-12"]);
}

#[test]
fn before_an_absence_the_tank_is_filled_to_the_top() {
    let mut garden = garden();
    add_away(&mut garden, "2027-04-05", "2027-04-10");
    let chores = chores(&spring(), &garden);
    let checks = between(&of_kind(&chores, Kind::Check), "2027-03-28", "2027-04-15");
    assert_eq!(days(&checks), ["2027-03-31", "2027-04-03", "2027-04-14"]);
    assert!(
        checks[1]
            .summary
            .starts_with("Fill the tank before you go away; check EC")
    );
    assert!(
        checks[1]
            .details
            .iter()
            .any(|line| line.starts_with("Nobody is here from Mon 5 April until Sat 10 April"))
    );
    assert!(!told(&[checks[0].clone(), checks[2].clone()]).contains("Nobody is here"));
}

#[rstest]
#[case::two_days_ahead_on_a_workday("2027-03-20", Some("2027-03-17"))]
#[case::on_the_day_where_none_is_before("2027-03-03", Some("2027-03-03"))]
#[case::not_where_something_stands("2027-02-20", None)]
fn the_rig_runs_on_plain_water_first(#[case] planted: &str, #[case] tested: Option<&str>) {
    let mut plan = empty_plan();
    plan.stays.push(head(
        "deck-1-1",
        "butterhead",
        ["2027-02-13", planted, "2027-04-17"],
    ));
    let tests = of_kind(&chores(&plan, &garden()), Kind::LeakTest);
    assert_eq!(days(&tests), Vec::from_iter(tested));
}

/// Lettuce until June, pak choi from June; the same lettuce again from October.
#[test]
fn crops_take_over_from_one_another() {
    let mut plan = empty_plan();
    let weekly = |first: &str, weeks: u64| {
        let first = date(first);
        (0..weeks).map(move |w| (first + chrono::Days::new(7 * w)).to_string())
    };
    let mut grow = |crop: &str, days: Vec<String>| {
        for day in days {
            let sow = (date(&day) - chrono::Days::new(42)).to_string();
            let transplant = (date(&day) - chrono::Days::new(28)).to_string();
            plan.stays
                .push(head("deck-1-1", crop, [&sow, &transplant, &day]));
        }
    };
    grow("butterhead", weekly("2027-04-17", 9).collect());
    grow("pak-choi", weekly("2027-06-19", 14).collect());
    grow("butterhead", weekly("2027-10-02", 21).collect());
    let turns = of_kind(&chores(&plan, &garden()), Kind::CropChangeover);
    insta::assert_snapshot!(told(&turns), @r#"
    Saturday 19 June 2027
      [swap] Crop changeover: pak choi after butterhead lettuce
          salad heads: the first pak choi today, in place of butterhead lettuce (last taken on Sat 12 June)
    Saturday 2 October 2027
      [swap] Crop changeover: butterhead lettuce after pak choi
          salad heads: the first butterhead lettuce today, in place of pak choi (last taken on Sat 18 September)
    "#);
}

#[test]
fn crops_that_go_on_side_by_side_take_over_from_nobody() {
    let mut plan = empty_plan();
    for (hole, crop, removal) in [
        ("deck-1-1", "butterhead", "2027-05-15"),
        ("deck-1-2", "pak-choi", "2027-05-22"),
        ("deck-1-3", "butterhead", "2027-06-12"),
        ("deck-1-4", "pak-choi", "2027-06-16"),
    ] {
        plan.stays
            .push(head(hole, crop, ["2027-03-03", "2027-04-03", removal]));
    }
    // Until the plan ends both may go on for ever.
    plan.last = date("2027-07-04");
    assert_eq!(of_kind(&chores(&plan, &garden()), Kind::CropChangeover), []);
}

#[test]
fn a_grower_who_uses_inches_reads_gallons_and_ounces() {
    let mut garden = garden();
    garden.units = Units::Imperial;
    let chores = chores(&spring(), &garden);
    assert_eq!(
        on(&chores, Kind::Harvest, "2027-04-14").summary,
        "Harvest 2.0 oz basil"
    );
    assert!(on(&chores, Kind::Solution, "2027-03-20").details[0].contains("42.9"));
}

/// What can hurt carries its caution every time; the usual hints only the first time.
#[test]
fn cautions_are_always_there_where_work_is_dangerous() {
    let mut plan = spring();
    plan.cleans.push(clean("deck-4", "2027-04-28"));
    let chores = chores(&plan, &garden());
    for clean in of_kind(&chores, Kind::DeepClean) {
        let text = clean.details.join("\n");
        assert!(text.contains("never mix bleach with acid"), "{text}");
        assert!(text.contains("local rules"), "{text}");
    }
    for filling in of_kind(&chores, Kind::Solution) {
        let text = filling.details.join("\n");
        assert!(
            text.contains("cid into water, never water into acid"),
            "{text}"
        );
    }
    let checks = of_kind(&chores, Kind::Check);
    let hinted: Vec<&Chore> = checks
        .iter()
        .filter(|c| c.details.join(" ").contains("Careful"))
        .collect();
    // Once, on the first day on which the pump runs for plants.
    assert_eq!(hinted.len(), 1);
    assert_eq!(hinted[0].day, date("2027-03-20"));
    let tests = of_kind(&chores, Kind::LeakTest);
    let text = tests[0].details.join("\n");
    assert!(
        text.contains("licensed electrician") && text.contains("residual-current"),
        "{text}"
    );
}

/// Seedlings that stay in the nursery while nobody is there are told of, in the garden's language.
#[rstest]
#[case::some_stay("2027-04-05", "en", true)]
#[case::some_stay("2027-04-05", "es", true)]
#[case::all_are_set_out("2027-05-10", "en", false)]
fn seedlings_are_not_forgotten_before_an_absence(
    #[case] from: &str,
    #[case] language: &str,
    #[case] stay: bool,
) {
    let mut garden = garden();
    garden.language = Language::from_code(language).unwrap();
    let until = date(from) + chrono::Days::new(9);
    add_away(&mut garden, from, &until.to_string());
    let leaving = between(&chores(&spring(), &garden), "2027-03-20", from);
    let told = garden.language.text("check-seedlings-left");
    let lines = leaving.iter().flat_map(|c| &c.details);
    assert_eq!(
        lines.filter(|line| **line == told).count(),
        usize::from(stay)
    );
}

/// An absence long after the plan's last day is no reason to leave now; one before the workday
/// that would come next is.
#[rstest]
#[case::next_year("2028-08-02", false)]
#[case::the_next_day("2027-05-09", true)]
fn nobody_leaves_before_the_next_workday_would_come(#[case] from: &str, #[case] leaves: bool) {
    let mut garden = garden();
    garden.rhythm.workdays = vec![Weekday::Wed, Weekday::Sat];
    let until = (date(from) + chrono::Days::new(13)).to_string();
    add_away(&mut garden, from, &until);
    let mut plan = spring();
    plan.last = date("2027-05-09");
    let checks = of_kind(&chores(&plan, &garden), Kind::Check);
    let last = checks.last().expect("a check");
    assert_eq!(last.day, date("2027-05-08"));
    assert_eq!(told([last]).contains("Nobody is here"), leaves, "{last:?}");
}

#[test]
fn what_follows_the_clearing_is_told() {
    let mut plan = spring();
    plan.cleans.push(clean("wall-2", "2027-04-17"));
    assert_eq!(
        on(&chores(&plan, &garden()), Kind::Clear, "2027-04-17").details,
        [
            "Pull net cups and roots; the tube is scrubbed today: wall-2: 1-4",
            "Pull net cups and roots, wipe; replanted today: deck-1: 2",
            "Pull net cups and roots, wipe, and cover the holes (light grows algae): deck-1: 5",
        ]
    );
}

#[test]
fn chores_are_plain_data() {
    let chores = chores(&spring(), &garden());
    let json = serde_json::to_value(on(&chores, Kind::Clear, "2027-04-17")).expect("JSON");
    insta::assert_snapshot!(serde_json::to_string_pretty(&json).expect("JSON"), @r#"
    {
      "about": "deck-1, wall-2",
      "day": "2027-04-17",
      "details": [
        "Pull net cups and roots, wipe; replanted today: deck-1: 2",
        "Pull net cups and roots, wipe, and cover the holes (light grows algae): deck-1: 5; wall-2: 1-4"
      ],
      "kind": "clear",
      "summary": "Clear and wipe 6 holes"
    }
    "#);
}

/// A rig of 40 tubes with 12 holes each, three crops, all planted and taken on the same few days.
fn crowded() -> Plan {
    let mut plan = empty_plan();
    for tube in 1..=40 {
        for hole in 1..=12 {
            let name = format!("deck-{tube}-{hole}");
            let stay = match (tube * 7 + hole * 5) % 3 {
                0 => head(
                    &name,
                    "butterhead",
                    ["2027-03-03", "2027-03-20", "2027-04-17"],
                ),
                1 => head(
                    &name,
                    "pak-choi",
                    ["2027-03-06", "2027-03-20", "2027-04-17"],
                ),
                _ => basil(&name, "2027-03-06", "2027-03-20", &[("2027-04-17", 28.0)]),
            };
            plan.stays.push(stay);
        }
    }
    plan
}

#[test]
fn a_large_rigs_day_still_fits_a_screen() {
    let chores = chores(&crowded(), &garden());
    insta::assert_snapshot!(
        "a_large_rig",
        told_with(
            &between(&chores, "2027-04-17", "2027-04-17"),
            Chore::calendar_details
        )
    );
}

/// Where a screen has sums, the whole list is kept: each hole stands in it once.
#[rstest]
#[case::seedlings_go_in(Kind::Transplant, "2027-03-20")]
#[case::what_is_ripe(Kind::Harvest, "2027-04-17")]
#[case::what_comes_out(Kind::Clear, "2027-04-17")]
fn every_hole_of_a_large_rig_is_told(#[case] kind: Kind, #[case] day: &str) {
    let chore = on(&chores(&crowded(), &garden()), kind, day);
    assert!(
        chore
            .calendar_details()
            .join("\n")
            .contains("see the sheet")
    );
    let told = chore.details.join("\n");
    assert!(!told.contains("see the sheet"));
    let mut holes: Vec<String> = told.lines().flat_map(holes_in).collect();
    let mut planted: Vec<String> = crowded().stays.into_iter().map(|s| s.hole).collect();
    holes.sort();
    planted.sort();
    assert_eq!(holes, planted);
}

/// The holes of `deck-1: 1-4, 9; deck-2: 3`, at the end of a line; none in a hint.
fn holes_in(line: &str) -> Vec<String> {
    let told = line.find("deck-").map_or("", |from| &line[from..]);
    let of_tube = |told: &str| {
        let (tube, numbers) = told.split_once(": ").expect("numbers");
        let tube = tube.to_owned();
        let runs = numbers.split(", ").flat_map(|run| {
            let (first, last) = run.split_once('-').unwrap_or((run, run));
            first.parse::<u32>().unwrap()..=last.parse().unwrap()
        });
        let holes: Vec<String> = runs.map(|n| format!("{tube}-{n}")).collect();
        holes
    };
    let tubes = told.split("; ").filter(|tube| !tube.is_empty());
    tubes.flat_map(of_tube).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Whatever crops, wants and loops are called, a chore stays a line and a screenful.
    #[test]
    fn long_names_do_not_burst_a_chore(
        crop in "\\PC{1,300}",
        want in "\\PC{1,300}",
        of_loop in "[a-z -]{1,3000}",
    ) {
        let mut garden = garden();
        garden.crops[0].name = crop;
        garden.loops[0].name = of_loop;
        let mut plan = crowded();
        plan.wants[0].want = want.clone();
        for stay in &mut plan.stays {
            if stay.want == "salad heads" {
                stay.want = want.clone();
            }
        }
        for chore in chores(&plan, &garden) {
            prop_assert!(chore.summary.chars().count() <= MAX_TITLE_CHARACTERS, "{}", chore.summary);
            prop_assert!(chore.calendar_details().len() <= MAX_SCREEN_LINES);
            prop_assert!(chore.calendar_details().iter().all(|line| line.chars().count() <= 400));
        }
    }

    /// Any rhythm: chores of our own choosing keep to the workdays.
    #[test]
    fn any_rhythm_is_kept(
        workdays in proptest::sample::subsequence(
            vec![Weekday::Mon, Weekday::Tue, Weekday::Wed, Weekday::Thu, Weekday::Fri, Weekday::Sat, Weekday::Sun],
            1..=7,
        ),
        away in 0u64..60,
        every in 1.0f64..40.0,
    ) {
        let mut garden = garden();
        garden.rhythm.workdays = workdays;
        garden.rhythm.solution_change_interval = Days::days(every);
        let from = date("2027-03-25") + chrono::Days::new(away);
        garden.rhythm.absences = vec![Absence { from, until: from + chrono::Days::new(10) }];
        let mut plan = spring();
        plan.cleans.clear();
        let chores = chores(&plan, &garden);
        let ours = [Kind::SeedOrder, Kind::LeakTest, Kind::Check];
        for chore in chores.iter().filter(|c| ours.contains(&c.kind)) {
            prop_assert!(garden.rhythm.is_workday(chore.day), "{:?}", chore);
        }
        // The first filling follows the planting; the changes are ours.
        for chore in of_kind(&chores, Kind::Solution).iter().skip(1) {
            prop_assert!(garden.rhythm.is_workday(chore.day), "{:?} {}", chore, chore.day.weekday());
        }
    }
}
