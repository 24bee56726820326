//! Every language says everything, and nothing in another one.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use chrono::Datelike;

use crate::lantern::{basil, clean, date, garden, head, spring, watered};
use fluent_syntax::ast::{Entry, Expression, InlineExpression, Pattern, PatternElement};
use rstest::rstest;
use steadyleaf::chores::{Chore, Kind, chores};
use steadyleaf::garden::cards::{self, Cards};
use steadyleaf::garden::{Absence, Garden};
use steadyleaf::plan::Plan;
use steadyleaf::terminal::week::{chores_of_week, render_week};
use steadyleaf::text::Language;

fn spanish() -> Language {
    Language::from_code("es").expect("Spanish")
}

/// Keys of a catalogue, each with its placeholders.
fn keys(language: Language) -> BTreeMap<String, BTreeSet<String>> {
    let resource = fluent_syntax::parser::parse(language.source()).expect("a catalogue");
    let messages = resource.body.into_iter().map(|entry| match entry {
        Entry::Message(message) => {
            let mut found = BTreeSet::new();
            placeholders(&message.value.expect("a text"), &mut found);
            Some((message.id.name.to_owned(), found))
        }
        Entry::Comment(_) | Entry::GroupComment(_) | Entry::ResourceComment(_) => None,
        other => panic!("{other:?}"),
    });
    let messages: Vec<_> = messages.flatten().collect();
    let all = messages.len();
    let keys = BTreeMap::from_iter(messages);
    assert_eq!(
        keys.len(),
        all,
        "a key of {} is there twice",
        language.code()
    );
    keys
}

fn placeholders(pattern: &Pattern<&str>, found: &mut BTreeSet<String>) {
    let mut inline = |expression: &InlineExpression<&str>| {
        if let InlineExpression::VariableReference { id } = expression {
            found.insert(id.name.to_owned());
        }
    };
    let mut inner = Vec::new();
    for element in &pattern.elements {
        match element {
            PatternElement::Placeable {
                expression: Expression::Select { selector, variants },
            } => {
                inline(selector);
                inner.extend(variants.iter().map(|v| &v.value));
            }
            PatternElement::Placeable {
                expression: Expression::Inline(expression),
            } => inline(expression),
            PatternElement::TextElement { .. } => {}
        }
    }
    for pattern in inner {
        placeholders(pattern, found);
    }
}

#[test]
fn all_languages_have_the_same_keys_and_placeholders() {
    let english = keys(Language::ENGLISH);
    assert!(english.len() > 90);
    assert!(Language::all().count() >= 2);
    for language in Language::all() {
        assert_eq!(keys(language), english, "{}", language.code());
        assert_eq!(language.text("language-code"), language.code());
    }
}

/// Texts that are made of placeholders alone, or the same in both languages.
const ALIKE: [&str; 6] = [
    "calendar-name-of-kind",
    "sow-crop-cups",
    "page-date",
    "page-short-date",
    "told-help",
    "told-ph",
];

#[test]
fn nothing_is_left_in_english() {
    let resource = |language: Language| {
        let texts = language.source().split("\n\n").flat_map(str::lines);
        let texts = texts.filter_map(|line| line.split_once(" = "));
        let texts = texts.filter(|(_, text)| !text.ends_with("->"));
        BTreeMap::from_iter(texts.map(|(key, text)| (key, text.to_owned())))
    };
    let english = resource(Language::ENGLISH);
    for language in Language::all().filter(|l| *l != Language::ENGLISH) {
        let alike: Vec<&str> = resource(language)
            .into_iter()
            .filter(|(key, text)| english.get(key) == Some(text) && !ALIKE.contains(key))
            .map(|(key, _)| key)
            .collect();
        assert!(alike.is_empty(), "{}: {alike:?}", language.code());
    }
}

/// Source and templates, whole.
fn sources(folder: &Path, texts: &mut Vec<String>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, texts);
        } else if path
            .extension()
            .is_some_and(|end| end == "rs" || end == "html")
        {
            let text = fs::read_to_string(path).unwrap();
            let lines = text.lines().filter(|l| !l.trim_start().starts_with("//"));
            texts.push(lines.collect::<Vec<_>>().join("\n"));
        }
    }
}

/// Every key that is written out in source or template is in the catalogue: a missing one would
/// end the program.
#[test]
fn every_key_that_is_asked_for_is_there() {
    let keys = keys(Language::ENGLISH);
    let mut texts = Vec::new();
    sources(
        &Path::new(env!("CARGO_MANIFEST_DIR")).join("src"),
        &mut texts,
    );
    let mut asked = BTreeSet::new();
    for (call, before) in [
        (".text(", ""),
        (".format(", ""),
        ("words.translate(", ""),
        ("w.translate(", ""),
        ("words.t(", "page-"),
        ("w.t(", "page-"),
        ("words.with(", "page-"),
        ("w.with(", "page-"),
        ("words.count(", "page-"),
        ("w.count(", "page-"),
    ] {
        for text in &texts {
            for rest in text.split(call).skip(1) {
                let literal = rest.trim_start().strip_prefix('"');
                let key = literal.and_then(|rest| rest.split('"').next());
                // What is put together from parts ends in a dash or has a brace.
                let whole = key.filter(|key| !key.ends_with('-') && !key.contains(['{', '%']));
                asked.extend(whole.map(|key| format!("{before}{key}")));
            }
        }
    }
    assert!(asked.len() > 200, "{}", asked.len());
    let missing: Vec<_> = asked
        .iter()
        .filter(|key| !keys.contains_key(*key))
        .collect();
    assert!(missing.is_empty(), "{missing:?}");
}

#[test]
fn chores_of_every_kind_are_told_in_every_language() {
    let mut garden = garden();
    for language in Language::all() {
        garden.language = language;
        for kind in Kind::ALL {
            assert!(!kind.name(language).is_empty());
        }
        for plan in [eventful(), spring()] {
            assert!(!chores(&watered(&plan, &garden), &garden).is_empty());
        }
    }
}

/// A week on the terminal: its head, its days and what is to do, or that there is nothing.
#[test]
fn a_week_is_told_in_the_gardens_language() {
    let mut garden = garden();
    garden.language = spanish();
    let day = date("2027-03-03");
    let busy = chores_of_week(chores(&watered(&spring(), &garden), &garden), day);
    let told = render_week(&busy, &garden, day, 80);
    assert!(told.contains("semana 9 de 2027"), "{told}");
    assert!(told.contains("mié 3 mar 2027"), "{told}");
    let told = render_week(&[], &garden, day, 80);
    assert!(told.contains("no hay nada que hacer"), "{told}");
}

/// Common Locale Data Repository, as `Intl.DateTimeFormat` of a browser engine writes it:
/// `es` full date is "lunes, 1 de marzo de 2027"; `en-GB` without its comma.
#[rstest]
#[case("en", "Monday 1 March 2027", "Sat 6 March", "Sat 1 January 2028")]
#[case(
    "es",
    "lunes, 1 de marzo de 2027",
    "sáb 6 de marzo",
    "sáb 1 de enero de 2028"
)]
fn dates_are_written_as_in_the_language(
    #[case] code: &str,
    #[case] long: &str,
    #[case] this_year: &str,
    #[case] next_year: &str,
) {
    let language = Language::from_code(code).expect("a language");
    let today = date("2027-03-01");
    assert_eq!(language.long_date(today), long);
    assert_eq!(language.date(date("2027-03-06"), today), this_year);
    assert_eq!(language.date(date("2028-01-01"), today), next_year);
}

/// Singular and plural by the rules of the language (Unicode CLDR), as `one` and `other`.
#[rstest]
#[case("en", 1, "1 hole")]
#[case("en", 0, "0 holes")]
#[case("en", 1200, "1200 holes")]
#[case("es", 1, "1 hueco")]
#[case("es", 21, "21 huecos")]
fn numbers_choose_their_nouns(#[case] code: &str, #[case] n: usize, #[case] text: &str) {
    let language = Language::from_code(code).expect("a language");
    assert_eq!(language.format("count-holes", [("n", n.into())]), text);
}

/// A garden file may name its workdays in any language: no word may mean two days.
#[test]
fn a_weekdays_name_means_one_day() {
    let monday = date("2027-03-01");
    let mut means = BTreeMap::new();
    for day in monday.iter_days().take(7).map(|d| d.weekday()) {
        for name in Language::all().flat_map(|language| language.weekday_names(day)) {
            let other = means.insert(name.to_lowercase(), day);
            assert!(other.is_none_or(|other| other == day), "{name}");
        }
    }
    assert_eq!(means.len(), 7 * 4);
}

#[test]
fn lists_are_joined_as_in_the_language() {
    assert_eq!(Language::ENGLISH.list(&["a", "b", "c"]), "a, b and c");
    assert_eq!(spanish().list(&["a", "b"]), "a y b");
    assert_eq!(spanish().list(&["a"]), "a");
    assert_eq!(spanish().list(&[""; 0]), "");
}

#[test]
#[should_panic(expected = "no text `nonsense` in es")]
fn a_key_that_is_not_there_ends_it() {
    let _ = spanish().text("nonsense");
}

#[test]
fn every_crop_has_a_name_in_every_language() {
    for crop in Cards::built_in().iter() {
        for language in Language::all() {
            let named = crop.translated_names.iter().any(|(l, _)| *l == language);
            assert!(named, "{} has no name in {}", crop.key, language.code());
        }
        assert!(!crop.name.contains(','), "{}", crop.name);
    }
}

const CARD: &str = include_str!("../crops/butterhead.yaml");

fn card_called(called: &str) -> Result<(String, usize), String> {
    let card = CARD
        .lines()
        .map(|line| match line.strip_prefix("called:") {
            Some(_) => format!("called: {called}\n"),
            None => format!("{line}\n"),
        })
        .collect::<String>();
    cards::parse(&card, "butterhead.yaml")
        .map(|crop| (crop.name, crop.translated_names.len()))
        .map_err(|refusal| refusal.render(false))
}

#[rstest]
#[case("Maikönig", "Maikönig", 0)]
#[case("{ es: lechuga mantecosa }", "lechuga mantecosa", 1)]
#[case("{ es: mantecosa, en: butterhead }", "butterhead", 2)]
fn a_card_names_its_crop_once_or_by_language(
    #[case] called: &str,
    #[case] usual: &str,
    #[case] languages: usize,
) {
    assert_eq!(card_called(called), Ok((usual.to_owned(), languages)));
}

#[rstest]
#[case("{ sp: lechuga }", "there is no language `sp` here")]
#[case("{}", "`called` has no name")]
#[case("{ es: \"\" }", "`es` is an empty name")]
#[case("[lechuga]", "`called` is a text")]
fn a_card_whose_names_are_wrong_is_refused(#[case] called: &str, #[case] told: &str) {
    let refusal = card_called(called).expect_err("refused");
    assert!(refusal.contains(told), "{refusal}");
}

/// All kinds of chores, in every form that they have.
fn eventful() -> Plan {
    let mut plan = spring();
    for (i, removal) in ["2027-05-01", "2027-05-08", "2027-05-15", "2027-05-22"]
        .into_iter()
        .enumerate()
    {
        let hole = format!("wall-1-{}", i + 8);
        plan.stays.push(head(
            &hole,
            "pak-choi",
            ["2027-03-17", "2027-04-03", removal],
        ));
    }
    plan.stays.push(basil(
        "wall-3-9",
        "2027-03-03",
        "2027-03-24",
        &[
            ("2027-04-14", 28.0),
            ("2027-04-28", 30.0),
            ("2027-05-12", 30.0),
        ],
    ));
    plan.cleans.push(clean("wall-2", "2027-04-17"));
    plan
}

fn in_spanish() -> Garden {
    let mut garden = garden();
    garden.language = spanish();
    let names = ["lechuga mantecosa", "pak choi", "albahaca"];
    for (crop, called) in garden.crops.iter_mut().zip(names) {
        crop.name = called.to_owned();
    }
    garden.rhythm.absences = vec![Absence {
        from: date("2027-04-19"),
        until: date("2027-04-23"),
    }];
    garden
}

#[test]
fn a_spring_in_spanish_reads_well() {
    let mut text = String::new();
    let last = date("2027-05-16");
    for Chore {
        day,
        kind,
        summary,
        details,
        ..
    } in chores(&watered(&eventful(), &in_spanish()), &in_spanish())
        .into_iter()
        .filter(|c| c.day <= last)
    {
        text += &format!("{day} [{}] {summary}\n", kind.name(spanish()));
        for line in details {
            text += &format!("    {line}\n");
        }
    }
    for word in [
        "the", "and", "of", "with", "from", "into", "holes", "seeds", "until",
    ] {
        // The wants are called as the grower calls them.
        let found = text
            .split(|c: char| !c.is_alphabetic())
            .any(|w| w.eq_ignore_ascii_case(word));
        assert!(!found, "{word}");
    }
    insta::assert_snapshot!("a_spring_in_spanish", text);
}
