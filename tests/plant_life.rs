//! One plant's life, in air made for the purpose. The cards here are made up for these tests, but
//! for the butterhead lettuce's days and conditions.

use proptest::prelude::*;
use rstest::rstest;

use steadyleaf::garden::crop::{
    BoltingRule, Cardinals, CropCoefficient, LightNeed, Propagation, Seed, Size, SolutionRange,
    Stage,
};
use steadyleaf::garden::crop::{Crop, HarvestHabit};
use steadyleaf::nature::air::DayConditions;
use steadyleaf::nature::air::DiurnalProfile;
use steadyleaf::nature::canopy::{Canopy, MAX_DEVELOPMENT};
use steadyleaf::nature::development::{DevelopmentRate, reference_conditions};
use steadyleaf::nature::growth::HarvestHistory;
use steadyleaf::nature::growth::{GrowthTable, PlantLife, nursery_ready_day, plant_life};
use steadyleaf::nature::harvest::HarvestUnit;
use steadyleaf::nature::suitability::{DamageTable, Unsuitable};
use steadyleaf::units::{
    Conductivity, DailyLight, Days, Hours, Length, Mass, Share, Temperature, Years,
};

const HEAD: HarvestHabit = HarvestHabit::Head {
    each: Mass::grams(150.0),
    field_holding: Days::days(7.0),
};
const CUT: HarvestHabit = HarvestHabit::Cut {
    first: Mass::grams(30.0),
    later: Mass::grams(40.0),
    cuts: 4,
    regrowth_days: Days::days(12.0),
    residual_canopy: Share::fraction(0.4),
    field_holding: Days::days(5.0),
};
const PICK: HarvestHabit = HarvestHabit::Pick {
    each_week: Mass::grams(70.0),
    harvest_period: Days::days(90.0),
    field_holding: Days::days(4.0),
};

/// Brechner and Both 2013 (Cornell lettuce handbook): transplanted on day 11, harvested on day 35,
/// at 24 C by day and 19 by night with 17 mol.
fn butterhead(harvest: HarvestHabit) -> Crop {
    let stage = |days| Stage {
        days: Days::days(days),
        day: Temperature::celsius(24.0),
        night: Temperature::celsius(19.0),
        dli: DailyLight::mol(17.0),
        photoperiod: Hours::hours(14.0),
    };
    Crop {
        key: "butterhead".to_owned(),
        name: "Butterhead lettuce".to_owned(),
        translated_names: Vec::new(),
        botanical: "Lactuca sativa var. capitata".to_owned(),
        harvest,
        nursery: stage(11.0),
        hole: stage(24.0),
        temperature: Cardinals {
            base: Temperature::celsius(4.0),
            optimum: Temperature::celsius(24.0),
            maximum: Temperature::celsius(35.0),
            coldest: Temperature::celsius(0.0),
            warmest: Temperature::celsius(32.0),
        },
        light: LightNeed {
            minimum_dli: DailyLight::mol(8.0),
            target_dli: DailyLight::mol(17.0),
        },
        bolting_rules: vec![BoltingRule {
            mean_above: Some(Temperature::celsius(25.0)),
            mean_below: None,
            day_longer_than: Some(Hours::hours(13.5)),
            for_days: Days::days(7.0),
        }],
        size: Size {
            seedling: Length::metres(0.07),
            spread: Length::metres(0.175),
            height: Length::metres(0.18),
        },
        solution: SolutionRange {
            ec: (
                Conductivity::millisiemens(1.2),
                Conductivity::millisiemens(1.8),
            ),
            ph: (5.6, 6.4),
        },
        propagation: Propagation::Seed,
        seed: Seed {
            germination: Share::fraction(0.9),
            losses: Share::fraction(0.05),
            seed_viability: Some(Years::years(6.0)),
            per_cup: 1,
            warmest: None,
        },
        crop_coefficient: CropCoefficient {
            initial: 0.7,
            mid_season: 1.0,
        },
        summer: String::new(),
        winter: String::new(),
        sources: Vec::new(),
    }
}

/// The handbook's air.
fn handbook() -> DayConditions {
    DayConditions::under_lamps(24.0, 19.0, 17.0, 14.0)
}

fn steady(t: f64) -> DayConditions {
    DayConditions::under_lamps(t, t, 17.0, 12.0)
}

fn every_day(_: usize) -> bool {
    true
}

/// Workdays three and four days apart, beginning on day 0.
fn twice_a_week(day: usize) -> bool {
    matches!(day % 7, 0 | 3)
}

fn head_life(air: &[DayConditions], transplant: usize) -> Result<PlantLife, Unsuitable> {
    plant_life(&butterhead(HEAD), air, transplant, &every_day)
}

#[test]
fn lettuce_handbook_schedule() {
    let crop = butterhead(HEAD);
    let air = vec![handbook(); 60];
    assert_eq!(nursery_ready_day(&crop, &air, 0), Some(11));
    let life = plant_life(&crop, &air, 11, &every_day).unwrap();
    assert_eq!(life.ripe, 35);
    assert_eq!(life.removal_days.first(), Some(&35));
    assert!(
        life.harvests
            .iter()
            .all(|gain| (gain.grams - 150.0).abs() < 1e-9)
    );
    assert!(life.is_harvested_once);
}

/// The same 24 days at steady temperatures, as worked by hand from the response, once from the
/// handbook's mean of 21.9 C (whole days), once from its day and night, which are a little slower
/// than their mean: up to four parts in a hundred less.
#[rstest]
#[case(14.0, 43.15, 41.78)]
#[case(16.0, 34.24, 33.15)]
#[case(18.0, 28.91, 28.00)]
#[case(20.0, 25.70, 24.89)]
#[case(22.0, 23.94, 23.18)]
#[case(24.0, 23.36, 22.62)]
#[case(26.0, 24.01, 23.25)]
#[case(28.0, 26.35, 25.52)]
fn days_to_ripe_at_steady_temperatures(
    #[case] t: f64,
    #[case] of_mean: f64,
    #[case] of_day_and_night: f64,
) {
    let mut of_mean_card = butterhead(HEAD);
    of_mean_card.hole.day = Temperature::celsius(21.9);
    of_mean_card.hole.night = Temperature::celsius(21.9);
    for (crop, days) in [
        (of_mean_card, of_mean),
        (butterhead(HEAD), of_day_and_night),
    ] {
        let speed = DevelopmentRate::from_crop(&crop)
            .relative_rate(&steady(t), &reference_conditions(&crop.hole));
        let days_it_takes = crop.hole.days.get() / speed;
        assert!((days_it_takes - days).abs() < 0.01, "{days_it_takes}");
        // Ripe at the start of the first day by which it is complete.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let whole_days = days_it_takes.ceil() as usize;
        let ripe = plant_life(&crop, &[steady(t); 80], 0, &every_day)
            .unwrap()
            .ripe;
        assert_eq!(ripe, whole_days);
    }
}

#[test]
fn a_head_keeps_for_its_days_at_the_best_temperature() {
    let air = vec![steady(24.0); 60];
    let life = head_life(&air, 0).unwrap();
    assert_eq!(life.ripe, 23);
    assert_eq!(life.removal_days, (23..=30).collect::<Vec<_>>());
    assert_eq!(life.development.len(), 31);
    assert_eq!(life.diameter.len(), 31);
}

/// Twice as fast 10 C warmer, half as fast 10 C cooler and never slower.
#[rstest]
#[case(24.0, 7)]
#[case(29.0, 4)]
#[case(14.0, 14)]
#[case(6.0, 14)]
fn ripe_heads_spoil_faster_in_heat(#[case] then: f64, #[case] days: usize) {
    let mut air = vec![steady(24.0); 23];
    air.extend(vec![steady(then); 40]);
    let mut crop = butterhead(HEAD);
    crop.bolting_rules.clear();
    let life = plant_life(&crop, &air, 0, &every_day).unwrap();
    assert_eq!(life.ripe, 23);
    assert_eq!(life.removal_days.last(), Some(&(23 + days)));
}

/// A day of harm ends the stay on the day before; before it is ripe there is none.
#[rstest]
#[case::frost(-1.0, 12.0, 10.0, Unsuitable::TooCold)]
#[case::heat(18.0, 34.0, 10.0, Unsuitable::TooHot)]
fn one_bad_day(
    #[case] coldest: f64,
    #[case] warmest: f64,
    #[case] day_length: f64,
    #[case] reason: Unsuitable,
) {
    let bad = DayConditions {
        coldest,
        warmest,
        profile: DiurnalProfile::Sine,
        dli: 17.0,
        day_length,
    };
    let life_with_bad_day = |day: usize| {
        let mut air = vec![steady(24.0); 60];
        air[day] = bad;
        head_life(&air, 0)
    };
    assert_eq!(life_with_bad_day(0), Err(reason));
    assert_eq!(life_with_bad_day(22), Err(reason));
    assert_eq!(
        life_with_bad_day(27).unwrap().removal_days,
        [23, 24, 25, 26]
    );
    assert_eq!(
        life_with_bad_day(31).unwrap().removal_days.last(),
        Some(&30)
    );
}

/// The card's coldest and warmest themselves are stood.
#[test]
fn at_the_limits() {
    let mut air = vec![steady(24.0); 60];
    air[5] = DayConditions {
        coldest: 0.0,
        warmest: 32.0,
        profile: DiurnalProfile::Sine,
        ..steady(24.0)
    };
    assert!(head_life(&air, 0).is_ok());
}

fn long_and_warm() -> DayConditions {
    DayConditions {
        day_length: 15.0,
        ..steady(26.0)
    }
}

#[rstest]
#[case::six_days_do_not_count(10, 6, Ok(8))]
#[case::seven_before_ripe(10, 7, Err(Unsuitable::Bolts))]
#[case::seven_after_ripe(20, 7, Ok(3))]
fn bolting(#[case] from: usize, #[case] days: usize, #[case] ends: Result<usize, Unsuitable>) {
    let mut air = vec![steady(24.0); 60];
    air[from..from + days].fill(long_and_warm());
    assert_eq!(head_life(&air, 0).map(|life| life.removal_days.len()), ends);
}

/// What was before the transplant is the nursery's matter.
#[test]
fn bolting_counts_from_the_transplant() {
    let mut air = vec![long_and_warm(); 10];
    air.extend(vec![steady(24.0); 60]);
    assert!(head_life(&air, 4).is_ok());
    assert_eq!(head_life(&air, 3), Err(Unsuitable::Bolts));
}

#[test]
fn warm_short_days_and_cool_long_days_do_not_bolt() {
    let warm_and_short = steady(26.0);
    let cool_and_long = DayConditions {
        day_length: 15.0,
        ..steady(24.0)
    };
    for day in [warm_and_short, cool_and_long] {
        assert!(head_life(&[day; 60], 0).is_ok());
    }
}

#[test]
fn too_dark() {
    let dim = DayConditions {
        dli: 7.9,
        ..steady(22.0)
    };
    let enough = DayConditions {
        dli: 8.0,
        ..steady(22.0)
    };
    assert_eq!(head_life(&[dim; 90], 0), Err(Unsuitable::TooDark));
    assert!(head_life(&[enough; 90], 0).is_ok());
    assert_eq!(
        head_life(&[dim; 5], 0),
        Err(Unsuitable::TooDark),
        "even if the air ends before it would be ripe"
    );
}

#[test]
fn not_in_time() {
    let air = vec![steady(24.0); 30];
    assert_eq!(head_life(&air, 6).unwrap().removal_days, [29]);
    assert_eq!(head_life(&air, 7), Err(Unsuitable::NotRipeInTime));
    assert_eq!(head_life(&air, 30), Err(Unsuitable::NotRipeInTime));
    assert_eq!(nursery_ready_day(&butterhead(HEAD), &air, 18), Some(29));
    assert_eq!(nursery_ready_day(&butterhead(HEAD), &air, 19), None);
}

#[test]
fn nobody_there() {
    let air = vec![steady(24.0); 60];
    let crop = butterhead(HEAD);
    let away = |day: usize| !(20..=30).contains(&day);
    assert_eq!(
        plant_life(&crop, &air, 0, &away),
        Err(Unsuitable::NoWorkday)
    );
    let back_in_time = |day: usize| !(20..=29).contains(&day);
    assert_eq!(
        plant_life(&crop, &air, 0, &back_in_time)
            .unwrap()
            .removal_days,
        [30]
    );
    // Had the frost not come, somebody would have.
    let mut frosty = air.clone();
    frosty[29] = DayConditions {
        coldest: -3.0,
        ..steady(24.0)
    };
    assert_eq!(
        plant_life(&crop, &frosty, 0, &|day| !(20..29).contains(&day)),
        Err(Unsuitable::TooCold)
    );
}

fn days(harvests: &[HarvestUnit]) -> Vec<usize> {
    harvests.iter().map(|gain| gain.day).collect()
}

#[test]
fn cuts_come_when_due() {
    let air = vec![handbook(); 120];
    let life = plant_life(&butterhead(CUT), &air, 0, &every_day).unwrap();
    assert_eq!(days(&life.harvests), [24, 36, 48, 60]);
    assert_eq!(life.removal_days, days(&life.harvests));
    let grams: Vec<f64> = life.harvests.iter().map(|gain| gain.grams).collect();
    assert_eq!(grams, [30.0, 40.0, 40.0, 40.0]);
    assert!(!life.is_harvested_once);
}

#[test]
fn cuts_wait_for_workdays() {
    let air = vec![handbook(); 120];
    let life = plant_life(&butterhead(CUT), &air, 0, &twice_a_week).unwrap();
    // Due on days 24, 36, 49 and 61; workdays are 0 and 3 of every seven.
    assert_eq!(days(&life.harvests), [24, 38, 52, 66]);
}

/// Cut on day 24, asked on day 30: due again on day 36, it keeps until day 41. Workdays are 0 and
/// 3 of every seven.
#[test]
fn what_stands_can_wait_for_its_next_cut() {
    let air = vec![handbook(); 120];
    let crop = butterhead(CUT);
    let growth = GrowthTable::new(&crop, &air);
    let past = HarvestHistory {
        transplant: 0,
        harvested: &[24],
    };
    let rest = growth.remaining_life(&past, 30, &twice_a_week);
    let ways: Vec<Vec<usize>> = rest.ends.iter().map(|e| days(&e.harvests)).collect();
    // As soon as it is ready (38), or the workday after (no later: 42 is past its time); and
    // once it is cut, as soon as it is ready again, 12 days on.
    assert_eq!(ways, [vec![38], vec![38, 52], vec![38, 52, 66],]);
    let rest = growth.remaining_life(&past, 30, &every_day);
    let firsts: Vec<usize> = rest
        .ends
        .iter()
        .filter(|end| end.harvests.len() == 1)
        .map(|end| end.day)
        .collect();
    assert_eq!(firsts, [36, 37, 38, 39, 40, 41]);
    let last_cut = |first: usize| {
        let ends = rest.ends.iter().filter(|e| e.harvests[0].day == first);
        ends.map(|e| e.day).max()
    };
    assert_eq!(last_cut(36), Some(60));
    assert_eq!(last_cut(41), Some(65));
    // Uncut for longer, it is as wide for longer: by day 40 the one cut on day 36 is not.
    let width_on_40 = |first: usize| {
        let end = rest.ends.iter().rfind(|e| e.harvests[0].day == first);
        rest.diameters[end.unwrap().canopy][40 - 30]
    };
    assert!(width_on_40(41) > width_on_40(36));
}

#[test]
fn a_head_that_stands_ends_once() {
    let air = vec![handbook(); 60];
    let crop = butterhead(HEAD);
    let past = HarvestHistory {
        transplant: 0,
        harvested: &[],
    };
    let rest = GrowthTable::new(&crop, &air).remaining_life(&past, 10, &every_day);
    let days: Vec<usize> = rest.ends.iter().map(|end| end.day).collect();
    let planned = plant_life(&crop, &air, 0, &every_day).unwrap().removal_days;
    assert_eq!(days, planned, "as if it were yet to be set out");
    assert!(rest.ends.iter().all(|end| end.harvests.len() == 1));
    assert_eq!(rest.diameters.len(), 1, "one canopy for all of them");
    assert_eq!(rest.diameters[0].len(), planned[planned.len() - 1] - 10 + 1);
}

#[test]
fn a_late_cut_ends_the_chain() {
    let air = vec![handbook(); 120];
    let away = |day: usize| !(40..=58).contains(&day);
    let life = plant_life(&butterhead(CUT), &air, 0, &away).unwrap();
    assert_eq!(days(&life.harvests), [24, 36]);
}

/// 0.4 of the ripe canopy's area is left, and is ripe again when next due.
#[test]
fn a_cut_sets_the_plant_back() {
    let air = vec![handbook(); 120];
    let life = plant_life(&butterhead(CUT), &air, 0, &every_day).unwrap();
    let area = |day: usize| (life.diameter[day] / 0.175).powi(2);
    assert!((life.development[24] - 1.0).abs() < 1e-9);
    assert!(area(24) > 0.999);
    // The day after the cut: what was left and one day's growth.
    assert!(area(25) > 0.4 && area(25) < 0.48, "{}", area(25));
    assert!((life.development[36] - 1.0).abs() < 1e-9);
    assert!(life.development[25..=36].is_sorted());
}

/// Ripe on day 24 and cut only on day 30, then cut again after 6 of the 12 days: each cut sets it
/// back to what it leaves, whenever it comes; what is taken whole or picked is never set back.
#[test]
fn a_plant_grows_as_it_is_cut() {
    let air = vec![handbook(); 120];
    let crop = butterhead(CUT);
    let left = Canopy::from_size(&crop.size).development_at(0.4);
    let grown = GrowthTable::new(&crop, &air).development_series(0, 40, &[30, 36]);
    assert!((grown[29] - 29.0 / 24.0).abs() < 1e-9);
    let half_grown = left + (1.0 - left) * 6.0 / 12.0;
    assert!((grown[36] - half_grown).abs() < 1e-9);
    let next_day = left + (1.0 - left) / 12.0;
    assert!((grown[31] - next_day).abs() < 1e-9 && (grown[37] - next_day).abs() < 1e-9);
    for whole in [HEAD, PICK] {
        let crop = butterhead(whole);
        let growth = GrowthTable::new(&crop, &air);
        assert_eq!(
            growth.development_series(0, 40, &[30, 36]),
            growth.development_series(0, 40, &[])
        );
    }
    let beyond = GrowthTable::new(&crop, &air).development_series(100, 400, &[]);
    assert_eq!(beyond.len(), 21, "as far as there is air");
}

#[test]
fn pickings_give_the_stated_amount_a_week() {
    let air = vec![handbook(); 200];
    let life = plant_life(&butterhead(PICK), &air, 0, &twice_a_week).unwrap();
    assert_eq!(life.harvests[0].day, 24);
    assert!((life.harvests[0].grams - 10.0).abs() < 1e-9, "the eve's");
    // Day 28 to day 84: eight weeks of 70 g.
    let sum: f64 = life
        .harvests
        .iter()
        .filter(|gain| (28..84).contains(&gain.day))
        .map(|gain| gain.grams)
        .sum();
    assert!((sum - 8.0 * 70.0).abs() < 1e-6, "{sum}");
    assert_eq!(
        life.harvests.last().unwrap().day,
        112,
        "90 days from day 24"
    );
}

#[test]
fn fruit_spoils_on_the_plant() {
    let air = vec![handbook(); 200];
    let once_a_fortnight = |day: usize| day.is_multiple_of(14);
    let life = plant_life(&butterhead(PICK), &air, 0, &once_a_fortnight).unwrap();
    // It keeps 4 days at 24 C; at a mean of 21.9 C that is 4.6 days, so the last four whole ones.
    assert!((life.harvests[1].grams - 40.0).abs() < 1e-9);
}

#[test]
fn picking_is_slower_in_the_cold_and_capped_in_the_best_air() {
    let weekly = |then: DayConditions, reference: DayConditions| {
        let mut crop = butterhead(PICK);
        crop.hole.day = Temperature::celsius(reference.warmest);
        crop.hole.night = Temperature::celsius(reference.coldest);
        let mut air = vec![reference; 24];
        air.extend(vec![then; 60]);
        let life = plant_life(&crop, &air, 0, &every_day).unwrap();
        life.harvests[10..17]
            .iter()
            .map(|gain| gain.grams)
            .sum::<f64>()
    };
    let at_14 = weekly(steady(14.0), handbook());
    assert!((at_14 - 70.0 * 24.0 / 41.78).abs() < 0.1, "{at_14}");
    // Light beyond measure: 1.061 from temperature times 1.235 from light.
    let bright = DayConditions {
        dli: 1e9,
        ..steady(24.0)
    };
    let in_light = weekly(bright, handbook());
    assert!((in_light - 70.0 * 1.310).abs() < 0.2, "{in_light}");
    // Against a card for 14 C it would be 2.3 times as much; one and a half is given.
    let capped = weekly(bright, steady(14.0));
    assert!((capped - 70.0 * 1.5).abs() < 1e-6, "{capped}");
}

#[test]
fn picked_plants_may_go_once_a_week_after_four_weeks() {
    let air = vec![handbook(); 200];
    let life = plant_life(&butterhead(PICK), &air, 0, &twice_a_week).unwrap();
    assert_eq!(
        life.removal_days,
        [52, 59, 66, 73, 80, 87, 94, 101, 108, 112]
    );
    assert!(
        life.removal_days
            .iter()
            .all(|end| days(&life.harvests).contains(end))
    );
}

/// Picked on day 28, it has three days' fruit on day 31, asked on the evening of day 28 or later.
#[test]
fn what_was_picked_today_is_not_picked_again() {
    let air = vec![handbook(); 200];
    let crop = butterhead(PICK);
    let growth = GrowthTable::new(&crop, &air);
    for from in [28, 29] {
        let past = HarvestHistory {
            transplant: 0,
            harvested: &[24, 28],
        };
        let rest = growth.remaining_life(&past, from, &twice_a_week);
        let next = rest.ends[0].harvests[0];
        assert_eq!(next.day, 31);
        assert!((next.grams - 30.0).abs() < 1e-6, "{next:?}");
    }
}

#[test]
fn frost_ends_the_picking_early() {
    let mut air = vec![handbook(); 200];
    air[40] = DayConditions {
        coldest: -2.0,
        ..handbook()
    };
    let life = plant_life(&butterhead(PICK), &air, 0, &twice_a_week).unwrap();
    assert_eq!(life.removal_days, [38]);
}

#[test]
fn held_plants_grow_on_to_a_limit() {
    let air = vec![steady(8.0); 400];
    let mut crop = butterhead(HEAD);
    crop.light.minimum_dli = DailyLight::mol(0.0);
    let life = plant_life(&crop, &air, 0, &every_day).unwrap();
    let last = *life.development.last().unwrap();
    assert!(last > 1.0 && last <= MAX_DEVELOPMENT);
}

#[test]
fn a_card_that_cannot_grow_in_its_own_air_grows_nowhere() {
    let mut crop = butterhead(HEAD);
    crop.hole.day = Temperature::celsius(40.0);
    crop.hole.night = Temperature::celsius(2.0);
    assert_eq!(
        plant_life(&crop, &[steady(24.0); 60], 0, &every_day),
        Err(Unsuitable::NotRipeInTime)
    );
}

/// Spells of like days, most of them mild, some with frost, heat, or long warm days.
fn weather() -> impl Strategy<Value = Vec<DayConditions>> {
    let coldest = prop_oneof![30 => 5.0..24.0_f64, 1 => -2.0..0.0_f64, 1 => 24.0..30.0_f64];
    let day = (coldest, 0.0..9.0_f64, 8.0..40.0_f64, 8.0..16.0_f64).prop_map(
        |(coldest, range, light, day_length)| DayConditions {
            coldest,
            warmest: coldest + range,
            profile: DiurnalProfile::Sine,
            dli: light,
            day_length,
        },
    );
    let spell = (1..15_usize, day).prop_map(|(days, day)| vec![day; days]);
    proptest::collection::vec(spell, 1..25).prop_map(|spells| spells.concat())
}

fn mild() -> impl Strategy<Value = Vec<DayConditions>> {
    let day = (8.0..22.0_f64, 0.0..9.0_f64, 9.0..40.0_f64).prop_map(|(coldest, range, light)| {
        DayConditions {
            coldest,
            warmest: coldest + range,
            profile: DiurnalProfile::Sine,
            dli: light,
            day_length: 12.0,
        }
    });
    proptest::collection::vec(day, 60..160)
}

fn habit() -> impl Strategy<Value = HarvestHabit> {
    prop_oneof![Just(HEAD), Just(CUT), Just(PICK)]
}

proptest! {
    /// What a life says fits together, in any weather.
    #[test]
    fn a_life_is_consistent(
        air in mild(), harvest in habit(), transplant in 0..40_usize, rest in 1..5_usize,
    ) {
        let crop = butterhead(harvest);
        let is_workday = |day: usize| day.is_multiple_of(rest);
        let Ok(life) = plant_life(&crop, &air, transplant, &is_workday) else {
            return Ok(());
        };
        let harvested = days(&life.harvests);
        prop_assert!(!life.removal_days.is_empty());
        prop_assert!(harvested.iter().all(|&day| is_workday(day) && day >= life.ripe));
        prop_assert!(harvested.is_sorted_by(|a, b| a < b));
        prop_assert!(life.removal_days.is_sorted_by(|a, b| a < b));
        prop_assert!(life.removal_days.iter().all(|end| harvested.contains(end)));
        let last = *life.removal_days.last().unwrap();
        prop_assert!(last < air.len());
        prop_assert_eq!(life.development.len(), last - transplant + 1);
        prop_assert_eq!(life.diameter.len(), life.development.len());
        prop_assert!(life.development[0].abs() < 1e-12);
        prop_assert!(life.development.iter().all(|d| (0.0..=MAX_DEVELOPMENT).contains(d)));
        prop_assert!(life.development[life.ripe - transplant] > 1.0 - 1e-9);
        prop_assert!(life.development[..life.ripe - transplant].iter().all(|&d| d < 1.0));
        prop_assert!(life.diameter.iter().all(|d| (0.069..0.2).contains(d)));
        prop_assert!(life.harvests.iter().all(|gain| gain.grams > 0.0));
        // Whatever its last harvest is to be, it grows like this as long as it stands.
        for (n, &end) in life.removal_days.iter().enumerate() {
            let until = harvested.iter().copied().filter(|&day| day <= end);
            let grown = GrowthTable::new(&crop, &air).development_series(transplant, end, &until.collect::<Vec<_>>());
            prop_assert_eq!(&grown[..], &life.development[..=end - transplant], "end {}", n);
        }
    }

    /// No day of a stay, its last included, is colder or warmer than the plant stands, and no
    /// bolting rule is met by then.
    #[test]
    fn no_harm_in_any_stay(air in weather(), harvest in habit(), transplant in 0..60_usize) {
        let crop = butterhead(harvest);
        if let Ok(life) = plant_life(&crop, &air, transplant, &every_day) {
            let stay = &air[transplant..=*life.removal_days.last().unwrap()];
            prop_assert!(stay.iter().all(|day| day.coldest >= 0.0 && day.warmest <= 32.0));
            prop_assert_eq!(steadyleaf::nature::suitability::bolting_day(&crop.bolting_rules[0], stay, 0), None);
        }
    }

    /// Looking harm up gives the same as looking for it.
    #[test]
    fn harm_is_the_first_bad_day(air in weather(), transplant in 0..60_usize) {
        use steadyleaf::nature::suitability::{bolting_day, is_too_cold, is_too_hot};
        prop_assume!(transplant < air.len());
        let crop = butterhead(HEAD);
        let looked_for = (transplant..air.len()).find(|&day| {
            is_too_cold(&crop.temperature, &air[day])
                || is_too_hot(&crop.temperature, &air[day])
                || bolting_day(&crop.bolting_rules[0], &air, transplant) == Some(day)
        });
        let harm = DamageTable::new(&crop, &air).first_damage(transplant);
        prop_assert_eq!(harm.map(|(day, _)| day), looked_for);
    }

    #[test]
    fn development_rises_in_steady_air(t in 8.0..30.0_f64, light in 8.0..60.0_f64) {
        let air = [DayConditions { dli: light, ..steady(t) }; 300];
        let life = head_life(&air, 0).unwrap();
        let before_full = life.development.iter().position(|&d| d >= MAX_DEVELOPMENT);
        let rising = &life.development[..before_full.unwrap_or(life.development.len())];
        prop_assert!(rising.is_sorted_by(|a, b| a < b));
        prop_assert!(life.diameter.is_sorted());
    }

    #[test]
    fn warmer_towards_the_best_and_lighter_is_never_later(
        a in 8.0..24.0_f64, b in 8.0..24.0_f64, dim in 8.0..40.0_f64, more in 0.0..20.0_f64,
    ) {
        let ripe = |t: f64, light: f64| {
            head_life(&[DayConditions { dli: light, ..steady(t) }; 300], 0).unwrap().ripe
        };
        prop_assert!(ripe(a.max(b), dim) <= ripe(a.min(b), dim));
        prop_assert!(ripe(a, dim + more) <= ripe(a, dim));
    }

    /// Sown or set out later, never ready before.
    #[test]
    fn later_in_never_sooner_out(air in mild(), sown in 0..30_usize) {
        let crop = butterhead(HEAD);
        let growth = GrowthTable::new(&crop, &air);
        if let (Some(early), Some(late)) =
            (growth.nursery_ready_day(sown), growth.nursery_ready_day(sown + 1))
        {
            prop_assert!(early <= late && early > sown);
        }
    }
}
