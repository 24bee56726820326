//! The diary's file: what is written is read back, torn lines cost themselves only, and nobody's
//! lines are mixed with another's.

use std::fs;
use std::io;
use std::thread;

use proptest::prelude::*;
use rstest::rstest;
use steadyleaf::diary::file::{append, read};
use steadyleaf::diary::{
    Diary, DiaryState, Entry, Event, ExpectedHarvest, ImpossibleEvent, check_entries, replay,
};
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::{Garden, file};
use steadyleaf::units::{Amount, Conductivity, Mass, Measure, Volume};

use crate::entries::{entry, sown};
use crate::lantern::date;

fn garden() -> Garden {
    let text = "garden: Reed Lane shelf
start: 2027-03-01
place: { latitude: 52, cover: indoors }
loops:
  - loop: roof
    tank: { holds: 60 l }
    banks:
      - { bank: deck, form: level, tubes: 2, length: 1 m, hole_every: 15 cm }
nursery: { cells: 40 }
wants:
  - { want: heads, from_crops: [butterhead, pak-choi], each_week: 2 heads }
  - { want: basil, from_crops: [sweet-basil], each_week: 40 g }
seedlings:
  - { crop: pak-choi, count: 2, sown: 2027-02-20 }
";
    file::parse(text, "garden.yaml", &Cards::built_in()).unwrap_or_else(|e| panic!("{e}"))
}

fn set_out(on: &str, hole: &str, crop: &str) -> Entry {
    entry(
        on,
        Event::Transplanted {
            crop: crop.to_owned(),
            hole: hole.to_owned(),
            sown_on: None,
            want: None,
            given: false,
        },
    )
}

fn harvested(on: &str, hole: &str, amount: Option<Amount>, last: bool) -> Entry {
    entry(
        on,
        Event::Harvested {
            hole: hole.to_owned(),
            amount,
            last,
            expected: None,
        },
    )
}

fn cleaned(on: &str, tube: &str) -> Entry {
    let tube = tube.to_owned();
    entry(on, Event::Cleaned { tube })
}

/// Seedlings of pak choi lost, and when they were sown.
fn seedlings_lost(on: &str, cells: u32, sown_on: &str) -> Entry {
    entry(
        on,
        Event::SeedlingsLost {
            crop: "pak-choi".to_owned(),
            cells,
            sown_on: Some(date(sown_on)),
            why: None,
        },
    )
}

const GRAMS: fn(u64) -> Option<Amount> = |g| Some(Amount::new(Measure::Grams, g * 1000));

/// A text that a grower may type as a cause or a want's name.
fn any_words() -> impl Strategy<Value = String> {
    prop_oneof!["[a-z]{1,8}", "[ -~]{1,20}", ".{1,10}"]
}

fn any_event() -> impl Strategy<Value = Event> {
    let hole = "deck-[1-4]-[1-6]";
    prop_oneof![
        ("[a-z]{2,8}", 1..90_u32, proptest::option::of(1..90_u32))
            .prop_map(|(crop, cells, cups)| Event::Sown { crop, cells, cups }),
        (hole, any_words(), any::<bool>()).prop_map(|(hole, want, sown)| Event::Transplanted {
            crop: "pak-choi".into(),
            hole,
            sown_on: sown.then(|| date("2027-03-03")),
            want: Some(want),
            given: false,
        }),
        (hole, proptest::option::of(any_words())).prop_map(|(hole, why)| Event::Lost { hole, why }),
        (1..9_u32, any::<bool>(), proptest::option::of(any_words())).prop_map(
            |(cells, sown, why)| Event::SeedlingsLost {
                crop: "kale".into(),
                cells,
                sown_on: sown.then(|| date("2027-03-03")),
                why,
            }
        ),
        (hole, 1..900_000_u64, any::<bool>(), 0.5..2.0_f64).prop_map(
            |(hole, milli, last, pace)| {
                Event::Harvested {
                    hole,
                    amount: Some(Amount::new(Measure::Grams, milli)),
                    last,
                    expected: last.then(|| ExpectedHarvest {
                        on: date("2027-05-05"),
                        amount: Some(Mass::grams(pace * 100.0)),
                        pace,
                        yields: 1.0,
                    }),
                }
            }
        ),
        (1..90_000_u32, any::<bool>()).prop_map(|(ml, full)| Event::ToppedUp {
            r#loop: "roof".into(),
            amount: Volume::litres(f64::from(ml) / 1000.0),
            full,
        }),
        (0.1..9.0_f64, 0.0..14.0_f64).prop_map(|(ec, ph)| Event::Read {
            r#loop: "roof".into(),
            ec: Some(Conductivity::millisiemens(ec)),
            ph: Some(ph),
        }),
        "[a-z]{2,8}".prop_map(|r#loop| Event::Refilled { r#loop }),
        hole.prop_map(|hole| Event::Blocked { hole }),
        hole.prop_map(|hole| Event::Unblocked { hole }),
        hole.prop_map(|hole| Event::Cleared { hole }),
        "deck-[1-4]".prop_map(|tube| Event::Cleaned { tube }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Whatever happened, its line says it all.
    #[test]
    fn what_is_written_is_read_back(events in proptest::collection::vec(any_event(), 1..8)) {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("diary.yaml");
        let entries: Vec<Entry> = events
            .into_iter()
            .map(|event| Entry { on: date("2027-05-03"), event, as_planned: true })
            .collect();
        append(&path, |_| Ok::<_, io::Error>(entries.clone())).unwrap();
        let diary = read(&path).unwrap();
        prop_assert_eq!(&diary.faults, &Vec::new());
        prop_assert_eq!(diary.entries, entries);
        // The whole of it is one YAML list, for other programs to read.
        let text = fs::read_to_string(&path).unwrap();
        let list: Vec<serde_json::Value> = serde_yaml::from_str(&text).unwrap();
        prop_assert!(!list.is_empty());
    }

    /// Wherever the writing of a line was cut off, the lines before it and those written later
    /// are whole.
    #[test]
    fn a_torn_line_costs_itself_only(cut in 1_usize..60) {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("diary.yaml");
        let one = sown("2027-03-03", "butterhead", 12);
        append(&path, |_| Ok::<_, io::Error>(vec![one.clone()])).unwrap();
        let whole = fs::read(&path).unwrap();
        append(&path, |_| Ok::<_, io::Error>(vec![set_out("2027-03-17", "deck-1-1", "butterhead")])).unwrap();
        let both = fs::read(&path).unwrap();
        let torn = (whole.len() + cut).min(both.len() - 2);
        fs::write(&path, &both[..torn]).unwrap();
        let later = sown("2027-03-20", "pak-choi", 3);
        append(&path, |diary| {
            assert_eq!(diary.entries, std::slice::from_ref(&one));
            Ok::<_, io::Error>(vec![later.clone()])
        })
        .unwrap();
        let diary = read(&path).unwrap();
        prop_assert_eq!(diary.entries, [one, later]);
        prop_assert_eq!(diary.faults.len(), 1);
        prop_assert_eq!(diary.faults[0].line, 3);
        // Nothing was rewritten.
        prop_assert!(fs::read(&path).unwrap().starts_with(&both[..torn]));
    }
}

#[test]
fn a_diary_is_written_so_that_people_can_read_it() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    let mut first = set_out("2027-03-17", "deck-2-3", "butterhead");
    if let Event::Transplanted { sown_on, want, .. } = &mut first.event {
        *sown_on = Some(date("2027-03-03"));
        *want = Some("heads: mixed".into());
    }
    let second = harvested("2027-04-14", "deck-2-3", GRAMS(160), false);
    append(&path, |_| {
        Ok::<_, io::Error>(vec![first.clone(), second.clone()])
    })
    .unwrap();
    insta::assert_snapshot!(fs::read_to_string(&path).unwrap(), @r#"
    # What happened in the garden, one line each. `steadyleaf record` adds to its end.
    - { on: 2027-03-17, transplanted: butterhead, hole: deck-2-3, sown_on: 2027-03-03, want: "heads: mixed" }
    - { on: 2027-04-14, harvested: deck-2-3, amount: 160 g }
    "#);
}

#[test]
fn eight_at_once_do_not_mix_their_lines() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    thread::scope(|scope| {
        for writer in 0..8 {
            let path = &path;
            scope.spawn(move || {
                for n in 0..25 {
                    let cells = writer * 100 + n + 1;
                    append(path, |_| {
                        Ok::<_, io::Error>(vec![sown("2027-03-03", "butterhead", cells)])
                    })
                    .unwrap();
                }
            });
        }
    });
    let diary = read(&path).unwrap();
    assert!(diary.faults.is_empty());
    assert_eq!(diary.entries.len(), 200);
    let text = fs::read_to_string(&path).unwrap();
    assert_eq!(text.matches('#').count(), 1, "one heading");
}

#[test]
fn a_refused_entry_leaves_no_file_and_an_old_one_as_it_was() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.yaml");
    let refuse = |_: &Diary| Err::<Vec<Entry>, _>(io::Error::other("no"));
    append(&path, refuse).unwrap_err();
    assert!(!path.exists());
    append(&path, |_| {
        Ok::<_, io::Error>(vec![cleaned("2027-03-03", "deck-1")])
    })
    .unwrap();
    let before = fs::read(&path).unwrap();
    append(&path, refuse).unwrap_err();
    assert_eq!(fs::read(&path).unwrap(), before);
}

#[rstest]
#[case::cut_off("- { on: 2027-03-03, sown: butterh")]
#[case::no_day("- { sown: butterhead, cells: 3 }")]
#[case::nothing_said("- { on: 2027-03-03 }")]
#[case::two_things("- { on: 2027-03-03, sown: kale, cells: 3, cleaned: deck-1 }")]
#[case::no_cells("- { on: 2027-03-03, sown: kale }")]
#[case::no_such_day("- { on: 2027-02-31, cleaned: deck-1 }")]
#[case::misspelt("- { on: 2027-03-03, sewn: kale, cells: 3 }")]
#[case::no_unit("- { on: 2027-03-03, topped_up: roof, amount: 14 }")]
#[case::prose("Sowed some kale today.")]
fn what_is_no_entry_is_told_by_its_line(#[case] line: &str) {
    let text = format!("# a heading\n\n{line}\n- {{ on: 2027-03-03, cleaned: deck-1 }}\n");
    let diary = Diary::parse(&text);
    assert_eq!(diary.faults.len(), 1, "{:?}", diary.faults);
    assert_eq!(diary.faults[0].line, 3);
    assert_eq!(diary.entries, [cleaned("2027-03-03", "deck-1")]);
}

/// A key of another event would be lost in silence.
#[rstest]
#[case(
    "sown: kale, cells: 3, hole: deck-1-1",
    "`hole` is no key of a line that tells what was `sown`"
)]
#[case("transplanted: kale, hole: deck-1-1, cells: 1", "`cells`")]
#[case("lost: deck-1-1, amount: 1 head", "`amount`")]
#[case("lost: kale, cells: 2, hole: deck-1-1", "`hole`")]
#[case("harvested: deck-1-1, cups: 2", "`cups`")]
#[case("harvested: deck-1-1, planned: 30 g", "`planned`")]
#[case("topped_up: roof, amount: 3 l, ec: 1.2 mS/cm", "`ec`")]
#[case("cleaned: deck-1, why: slime", "`why`")]
#[case("read: roof, ph: 6, full: true", "`full`")]
fn a_key_of_another_event_is_told(#[case] said: &str, #[case] why: &str) {
    let diary = Diary::parse(&format!("- {{ on: 2027-03-03, {said} }}\n"));
    assert_eq!(diary.entries, []);
    assert!(diary.faults[0].why.contains(why), "{:?}", diary.faults);
}

const HARVEST: &str = "harvested: deck-1-1, amount: 1 head, expected: 2027-03-03";

/// A number beyond all reason costs its line, and no more: what is left is reckoned with.
#[rstest]
#[case(&format!("{HARVEST}, pace: .nan"), "a `pace` of NaN is no crop's, which is 0.1 to 10")]
#[case(&format!("{HARVEST}, pace: .inf"), "a `pace` of inf")]
#[case(&format!("{HARVEST}, pace: -1"), "a `pace` of -1")]
#[case(&format!("{HARVEST}, pace: 0"), "a `pace` of 0 ")]
#[case(&format!("{HARVEST}, pace: 1e308"), "a `pace` of 1")]
#[case(&format!("{HARVEST}, yields: .nan"), "a `yields` of NaN")]
#[case(&format!("{HARVEST}, yields: -.inf"), "a `yields` of -inf")]
#[case(&format!("{HARVEST}, planned: -5 g"), "cannot have been planned")]
#[case("topped_up: roof, amount: -50 l", "-50 l cannot go into a tank")]
#[case("topped_up: roof, amount: 0 l", "0 ml cannot go into a tank")]
#[case("topped_up: roof, amount: 1000000 l", "at most 20000 l")]
#[case("read: roof, ec: 999999 mS/cm", "no nutrient solution's")]
#[case("read: roof, ec: -1 mS/cm", "no nutrient solution's")]
#[case("read: roof, ph: .nan", "NaN is not a pH, which is 0 to 14")]
#[case("read: roof, ph: 15", "15 is not a pH")]
#[case("sown: butterhead, cells: 0", "no `cells`")]
#[case("lost: butterhead, cells: 0", "no `cells`")]
fn a_number_beyond_reason_costs_its_line(#[case] said: &str, #[case] why: &str) {
    let text = format!("- {{ on: 2027-03-03, {said} }}\n- {{ on: 2027-03-03, cleaned: deck-1 }}\n");
    let diary = Diary::parse(&text);
    let told: Vec<&str> = diary.faults.iter().map(|f| f.why.as_str()).collect();
    assert!(told.len() == 1 && told[0].contains(why), "{told:?}");
    assert_eq!(diary.entries, [cleaned("2027-03-03", "deck-1")]);
}

/// What stands at the end of some days.
#[test]
fn the_state_follows_the_days_not_the_order_of_writing() {
    let garden = garden();
    // The transplant was put down before the sowing that it came from.
    let entries = [
        set_out("2027-03-17", "deck-1-1", "butterhead"),
        sown("2027-03-03", "butterhead", 12),
        harvested("2027-04-14", "deck-1-1", GRAMS(150), false),
        set_out("2027-04-14", "deck-1-1", "sweet-basil"),
        harvested("2027-05-12", "deck-1-1", GRAMS(40), false),
        harvested("2027-05-26", "deck-1-1", GRAMS(30), true),
    ];
    let on = |day: &str| replay(&garden, &entries, date(day)).0;
    let stands = |state: &DiaryState| state.plants.get("deck-1-1").map(|p| p.crop.clone());
    assert_eq!(on("2027-03-03").sowings.last().unwrap().remaining(), 12);
    assert_eq!(on("2027-03-17").sowings.last().unwrap().remaining(), 11);
    assert_eq!(
        on("2027-03-17").plants["deck-1-1"].sown,
        Some(date("2027-03-03"))
    );
    assert_eq!(stands(&on("2027-04-13")).as_deref(), Some("butterhead"));
    assert_eq!(stands(&on("2027-05-20")).as_deref(), Some("sweet-basil"));
    assert_eq!(stands(&on("2027-05-26")), None);
    assert_eq!(on("2027-05-26").removed.len(), 2);
}

fn no(before: &[Entry], new: Entry) -> ImpossibleEvent {
    check_entries(&garden(), before, &[new]).expect_err("impossible")
}

/// What somebody wrote into the file by hand and cannot have happened is no reason to take the
/// same once more.
#[test]
fn what_cannot_have_happened_cannot_happen_twice() {
    let wrong = || harvested("2027-04-14", "deck-1-1", None, false);
    let refused = no(&[wrong()], wrong());
    assert!(
        matches!(refused, ImpossibleEvent::Empty { .. }),
        "{refused:?}"
    );
    let right = set_out("2027-04-14", "deck-1-2", "pak-choi");
    check_entries(&garden(), &[wrong()], &[right]).unwrap();
}

#[rstest]
#[case::empty_hole(&[], harvested("2027-04-14", "deck-1-1", None, false), "nothing stands in deck-1-1")]
#[case::two_in_one(
    &[set_out("2027-03-17", "deck-1-1", "pak-choi")],
    set_out("2027-03-20", "deck-1-1", "butterhead"),
    "already holds pak-choi, set out on 2027-03-17"
)]
#[case::unknown_hole(&[], set_out("2027-03-17", "deck-1-9", "pak-choi"), "did you mean `deck-1-1`?")]
#[case::unknown_crop(&[], sown("2027-03-17", "buterhead", 3), "did you mean `butterhead`?")]
#[case::unknown_tube(&[], cleaned("2027-03-17", "dek-1"), "did you mean `deck-1`?")]
#[case::a_tube_in_use(
    &[set_out("2027-03-17", "deck-1-1", "pak-choi")],
    cleaned("2027-03-20", "deck-1"),
    "deck-1 is not empty: deck-1-1 holds pak-choi"
)]
#[case::too_many_cells(&[], sown("2027-03-17", "pak-choi", 41), "more than the nursery has (40)")]
#[case::too_few_seedlings(
    &[],
    entry("2027-03-17", Event::SeedlingsLost { crop: "pak-choi".into(), cells: 3, sown_on: None, why: None }),
    "has 2 cells of pak-choi"
)]
#[case::seedlings_of_no_sowing(
    &[sown("2027-03-03", "pak-choi", 3), sown("2027-03-10", "butterhead", 3)],
    seedlings_lost("2027-03-17", 1, "2027-03-10"),
    "no pak-choi was sown on 2027-03-10; what is in the nursery by then was sown on 2027-02-20 and \
     2027-03-03"
)]
#[case::seedlings_of_a_sowing_to_come(
    &[sown("2027-03-20", "pak-choi", 3)],
    seedlings_lost("2027-03-17", 1, "2027-03-20"),
    "no pak-choi was sown on 2027-03-20; what is in the nursery by then was sown on 2027-02-20"
)]
#[case::seedlings_of_no_sowing_and_none_there(
    &[],
    seedlings_lost("2027-12-17", 1, "2027-12-01"),
    "no pak-choi was sown on 2027-12-01, and none is in the nursery by then"
)]
#[case::too_few_of_a_sowing(
    &[sown("2027-03-03", "pak-choi", 3)],
    seedlings_lost("2027-03-17", 4, "2027-03-03"),
    "has 3 cells of pak-choi sown on 2027-03-03 on that day, not 4"
)]
#[case::a_blocked_hole(
    &[entry("2027-03-10", Event::Blocked { hole: "deck-1-1".into() })],
    set_out("2027-03-17", "deck-1-1", "pak-choi"),
    "deck-1-1 is blocked"
)]
#[case::not_blocked(&[], entry("2027-03-10", Event::Unblocked { hole: "deck-1-1".into() }), "is not blocked")]
#[case::basil_in_heads(
    &[set_out("2027-03-17", "deck-1-1", "sweet-basil")],
    harvested("2027-04-14", "deck-1-1", Some(Amount::new(Measure::Heads, 1000)), false),
    "say its weight, such as `80 g`, or leave the amount out"
)]
#[case::three_heads_of_one(
    &[set_out("2027-03-17", "deck-1-1", "pak-choi")],
    harvested("2027-04-14", "deck-1-1", Some(Amount::new(Measure::Heads, 3000)), false),
    "a hole gives one head"
)]
#[case::too_early(
    &[set_out("2027-03-17", "deck-1-1", "pak-choi")],
    harvested("2027-03-16", "deck-1-1", None, false),
    "nothing stands in deck-1-1 on that day"
)]
fn what_cannot_have_happened_is_refused(
    #[case] before: &[Entry],
    #[case] new: Entry,
    #[case] why: &str,
) {
    let refused = no(before, new).to_string();
    assert!(refused.contains(why), "{refused}");
}

/// A plant put down afterwards for a time in which another stood, though on its day the hole was
/// empty.
#[test]
fn what_would_make_a_later_entry_impossible_is_refused() {
    let before = [set_out("2027-03-20", "deck-1-1", "butterhead")];
    let refused = no(&before, set_out("2027-03-17", "deck-1-1", "pak-choi"));
    assert!(
        matches!(refused, ImpossibleEvent::ContradictsLater { .. }),
        "{refused:?}"
    );
    assert!(refused.to_string().contains("2027-03-20"), "{refused}");
}

/// A slip of the pen in a year is told with the words of `record`, whatever day it is, and nothing
/// is reckoned from it; a line of the years before, when the garden's `start` was another, is good.
#[rstest]
#[case("2207-03-17", None, Some("2207-03-17"))]
#[case("0227-03-17", None, Some("0227-03-17"))]
#[case("2028-02-28", None, Some("2028-02-28"))]
#[case("2017-03-12", None, Some("2017-03-12"))]
#[case("2027-03-17", Some("0227-03-03"), Some("0227-03-03"))]
#[case("2017-03-13", None, None)]
#[case("2025-10-01", Some("2025-09-12"), None)]
#[case("2027-03-17", Some("2027-03-03"), None)]
fn a_line_of_another_age_is_left_out(
    #[case] on: &str,
    #[case] of_seed: Option<&str>,
    #[case] wrong: Option<&str>,
) {
    let garden = garden();
    let mut set_out = set_out(on, "deck-1-2", "pak-choi");
    if let Event::Transplanted { sown_on, .. } = &mut set_out.event {
        *sown_on = of_seed.map(date);
    }
    let entries = [set_out, sown("2027-03-03", "butterhead", 12)];
    let (state, left_out) = replay(&garden, &entries, date("2027-04-01"));
    let told = left_out.first().map(|(_, why)| why.to_string());
    let meant = wrong.map(|day| {
        format!("{day} is not a day of this garden: its diary goes from 2017-03-13 to 2028-02-27")
    });
    assert_eq!(told, meant);
    assert_eq!(state.plants.len(), usize::from(wrong.is_none()));
    // What else is in the diary goes on.
    assert_eq!(
        state
            .sowings
            .iter()
            .filter(|s| s.crop == "butterhead")
            .count(),
        1
    );
}

/// An entry that somebody wrote by hand and that cannot be is left out, and hinders no other.
#[test]
fn an_impossible_line_in_the_file_is_left_out() {
    let garden = garden();
    let entries = [
        harvested("2027-03-10", "deck-1-1", None, false),
        set_out("2027-03-17", "deck-1-2", "pak-choi"),
    ];
    let (state, left_out) = replay(&garden, &entries, date("2027-04-01"));
    assert_eq!(left_out.len(), 1);
    assert_eq!(state.plants.len(), 1);
    check_entries(&garden, &entries, &[cleaned("2027-03-18", "deck-2")]).unwrap();
}
