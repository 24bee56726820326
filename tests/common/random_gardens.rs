//! Garden files drawn by chance from invented parts: small rigs of every form, in many places.

use proptest::prelude::*;
use proptest::sample::{select, subsequence};

const PLACES: [&str; 7] = [
    "latitude: 52\n  cover: { kind: indoors, day: 22 C, night: 18 C, light: 15 mol, hours: 16 }",
    "latitude: 59.6\n  cover: { kind: indoors, day: 72 F, night: 62 F, light: 12 mol, hours: 14 h }",
    "latitude: 39.5
  longitude: -0.4
  climate:
    coldest: [7, 8, 9, 11, 14, 18, 21, 21, 18, 15, 10, 8]
    warmest: [17, 17, 20, 21, 24, 28, 30, 31, 28, 24, 20, 17]",
    "latitude: -41.2
  near_sea: true
  cover: { kind: greenhouse, never_below: 6 C, adds: 3 C, light: 75 % }
  climate:
    coldest: [14, 14, 13, 11, 9, 7, 6, 7, 8, 9, 11, 13]
    warmest: [21, 21, 20, 17, 15, 13, 12, 13, 14, 16, 17, 19]",
    "latitude: -0.4
  elevation: 1800 m
  climate:
    coldest: [11, 11, 12, 13, 13, 12, 11, 11, 11, 12, 12, 12]
    warmest: [25, 26, 26, 24, 23, 22, 22, 22, 24, 24, 23, 24]",
    "latitude: 61.5
  climate:
    coldest: [-14, -14, -10, -4, 2, 8, 11, 9, 4, -1, -7, -12]
    warmest: [-6, -5, 0, 5, 12, 18, 20, 18, 12, 5, -1, -5]",
    "latitude: -34
  climate:
    coldest: [18, 18, 16, 13, 10, 8, 7, 8, 10, 12, 14, 16]
    warmest: [27, 27, 25, 23, 20, 18, 17, 18, 20, 22, 24, 26]",
];

/// What is said of a bank behind its name; each has a few holes.
const BANKS: [&str; 8] = [
    "form: level, tubes: 2, length: 45 cm, hole_every: 15 cm, tube_gap: 20 cm",
    "form: level, tubes: 1, length: 80 cm, hole_every: 20 cm, headroom: 25 cm",
    "form: level, tubes: 3, length: 1 ft, hole_every: 6 in, tube_gap: 8 in, light: 70 %",
    "form: wall, tubes: 2, length: 50 cm, hole_every: 15 cm, tube_gap: 30 cm",
    "form: wall, tubes: 3, length: 20 cm, hole_every: 10 cm, tube_gap: 36 cm, bore: 75 mm",
    "form: tower, height: 50 cm, faces: 3, hole_every: 25 cm",
    "form: tower, towers: 2, height: 20 cm, faces: 4, hole_every: 18 cm, tube_gap: 35 cm",
    "form: tower, height: 1 ft, faces: 4, hole_every: 6 in, bore: 4 in",
];

const HEADS: [&str; 5] = [
    "butterhead",
    "romaine",
    "pak-choi",
    "loose-leaf",
    "spring-onion",
];
const WEIGHED: [&str; 11] = [
    "rocket",
    "sweet-basil",
    "spinach",
    "loose-leaf-cut",
    "parsley",
    "coriander",
    "chard",
    "strawberry",
    "cherry-tomato",
    "chilli",
    "butterhead",
];

/// One in so many.
fn sometimes<T: std::fmt::Debug + Clone + 'static>(
    part: impl Strategy<Value = T> + 'static,
    of_ten: u32,
) -> BoxedStrategy<Option<T>> {
    prop_oneof![
        of_ten => part.prop_map(Some),
        10 - of_ten => Just(None),
    ]
    .boxed()
}

fn loops() -> impl Strategy<Value = String> {
    let bank = || select(&BANKS[..]);
    let banks = prop_oneof![
        2 => prop::collection::vec(bank(), 1..=2).prop_map(|one| vec![one]),
        1 => (bank(), bank()).prop_map(|(a, b)| vec![vec![a], vec![b]]),
    ];
    banks.prop_map(|loops| {
        let mut text = "loops:\n".to_owned();
        let mut named = 0;
        for (n, banks) in loops.iter().enumerate() {
            text += &format!("  - loop: loop {n}\n    tank: {{ holds: 60 l }}\n    banks:\n");
            for rest in banks {
                named += 1;
                text += &format!("      - {{ bank: b{named}, {rest} }}\n");
            }
        }
        text
    })
}

fn between() -> impl Strategy<Value = String> {
    let day = || (1..=12u32, 1..=28u32);
    (day(), day()).prop_map(|((m, d), (n, e))| format!(", between: [{m:02}-{d:02}, {n:02}-{e:02}]"))
}

/// A want of heads and two by weight, of which some are left out.
fn wants() -> impl Strategy<Value = String> {
    let heads = (subsequence(&HEADS[..], 1..=3), 1..=4u32)
        .prop_map(|(crops, n)| (crops.join(", "), format!("{n} heads")));
    let grams = (subsequence(&WEIGHED[..], 1..=2), 20..=150u32)
        .prop_map(|(crops, n)| (crops.join(", "), format!("{n} g")));
    let ounces =
        (select(&WEIGHED[..]), 1..=5u32).prop_map(|(crop, n)| (crop.to_owned(), format!("{n} oz")));
    let rest = || {
        (
            sometimes(between(), 3),
            sometimes(select(&["0.5", "2"][..]), 3),
        )
            .prop_map(|(between, importance)| {
                let importance = importance.map(|i| format!(", importance: {i}"));
                between.unwrap_or_default() + &importance.unwrap_or_default()
            })
    };
    let wants = [
        (heads.boxed(), rest()),
        (grams.boxed(), rest()),
        (ounces.boxed(), rest()),
    ];
    let (a, b, c) = wants.into();
    subsequence(vec![0, 1, 2], 1..=3).prop_flat_map(move |which| {
        (a.clone(), b.clone(), c.clone()).prop_map(move |all| {
            let all = [all.0, all.1, all.2];
            let lines = which.iter().map(|&n: &usize| {
                let ((crops, each), rest) = &all[n];
                format!(
                    "  - {{ want: want {n}, from_crops: [{crops}], each_week: {each}{rest} }}\n"
                )
            });
            "wants:\n".to_owned() + &lines.collect::<String>()
        })
    })
}

fn rhythm() -> impl Strategy<Value = String> {
    let days = vec!["mon", "tue", "wed", "thu", "fri", "sat", "sun"];
    let away = (1..=12u32, 1..=28u32, 1..=20u64).prop_map(|(month, day, long)| {
        let from = chrono::NaiveDate::from_ymd_opt(2027, month, day).expect("a day");
        let until = from + chrono::Days::new(long);
        format!(", away: [{{ from: {from}, until: {until} }}]")
    });
    let clean = prop_oneof![
        Just(", deep_clean: none".to_owned()),
        (4..=12u32, 0..=10u32)
            .prop_map(|(w, d)| format!(", deep_clean: {{ every: {w} weeks, slack: {d} days }}")),
    ];
    (
        subsequence(days, 1..=3),
        sometimes(away, 5),
        sometimes(clean, 7),
    )
        .prop_map(|(days, away, clean)| {
            format!(
                "rhythm: {{ workdays: [{}]{}{} }}\n",
                days.join(", "),
                away.unwrap_or_default(),
                clean.unwrap_or_default()
            )
        })
}

fn spacing() -> impl Strategy<Value = String> {
    (0..=10u32, 0..=30u32, 0..=4u32).prop_map(|(apart, crowding, changeover)| {
        format!(
            "spacing: {{ neighbours_apart: {apart} days, crowding: {crowding} %, changeover: {changeover} days }}\n"
        )
    })
}

/// A garden file.
pub fn gardens() -> impl Strategy<Value = String> {
    let start = (0..360u64).prop_map(|n| {
        chrono::NaiveDate::from_ymd_opt(2027, 1, 1).expect("a day") + chrono::Days::new(n)
    });
    let units = select(&["metric", "imperial"][..]);
    let seedlings = (select(&HEADS[..]), 1..=3u32, 5..=30u64);
    let kept = (select(&WEIGHED[..]), 0..=60u64, 20..=80u64);
    (
        (start, 6..=20u32, units, select(&PLACES[..])),
        (loops(), wants(), rhythm()),
        (
            sometimes(3..=30u32, 6),
            sometimes(spacing(), 6),
            sometimes(seedlings, 4),
            sometimes(kept, 2),
        ),
    )
        .prop_map(
            |(
                (start, weeks, units, place),
                (loops, wants, rhythm),
                (cells, spacing, seedlings, kept),
            )| {
                let mut text = format!(
                    "garden: Drawn lots\nstart: {start}\nweeks: {weeks}\nunits: {units}\nplace:\n  {place}\n"
                );
                text += &loops;
                text += &cells.map_or_else(String::new, |n| format!("nursery: {{ cells: {n} }}\n"));
                text += &wants;
                text += &seedlings.map_or_else(String::new, |(crop, count, age)| {
                    let sown = start - chrono::Days::new(age);
                    format!("seedlings: [{{ crop: {crop}, count: {count}, sown: {sown} }}]\n")
                });
                text += &kept.map_or_else(String::new, |(crop, from, long)| {
                    let from = start + chrono::Days::new(from);
                    let until = from + chrono::Days::new(long);
                    format!(
                        "keep_for_seed: [{{ hole: b1-1-1, crop: {crop}, from: {from}, until: {until} }}]\n"
                    )
                });
                text += &rhythm;
                text += &spacing.unwrap_or_default();
                text
            },
        )
}
