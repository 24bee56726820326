//! The diary's part of the report: what has been harvested, lost and drunk so far.

use rstest::rstest;
use scraper::{ElementRef, Html, Selector};
use steadyleaf::diary::{Entry, Event, replay};
use steadyleaf::garden::Garden;
use steadyleaf::page;
use steadyleaf::planner::build;
use steadyleaf::summary::log::{DiaryLog, log};
use steadyleaf::text::Language;
use steadyleaf::units::{Amount, Conductivity, Measure, Volume};

use crate::entries::{self, entry, sown};
use crate::lantern::{date, empty_plan, garden, head, spring, watered};

fn set_out(on: &str, hole: &str) -> Entry {
    entry(
        on,
        Event::Transplanted {
            crop: "butterhead".to_owned(),
            hole: hole.to_owned(),
            sown_on: Some(date("2027-03-03")),
            want: Some("salad heads".to_owned()),
            given: false,
        },
    )
}

fn taken(on: &str, hole: &str, expected: &str) -> Entry {
    entries::taken(on, hole, expected, Some(Amount::new(Measure::Heads, 1000)))
}

fn topped_up(on: &str, litres: f64) -> Entry {
    entry(
        on,
        Event::ToppedUp {
            r#loop: "roof".to_owned(),
            amount: Volume::litres(litres),
            full: false,
        },
    )
}

/// Four heads set out, of which one is lost and two are taken, after 28 and 32 days; 27 and 29 had
/// been planned. 30 litres in ten days.
fn spring_so_far() -> Vec<Entry> {
    vec![
        sown("2027-03-03", "butterhead", 10),
        entry(
            "2027-03-10",
            Event::SeedlingsLost {
                crop: "butterhead".to_owned(),
                cells: 3,
                sown_on: None,
                why: None,
            },
        ),
        set_out("2027-03-20", "deck-1-1"),
        set_out("2027-03-20", "deck-1-3"),
        set_out("2027-03-20", "deck-1-5"),
        set_out("2027-03-20", "deck-2-1"),
        topped_up("2027-04-07", 12.0),
        entry(
            "2027-04-08",
            Event::Lost {
                hole: "deck-2-1".to_owned(),
                why: Some("snails & <b>slugs</b>".to_owned()),
            },
        ),
        entry(
            "2027-04-14",
            Event::Read {
                r#loop: "roof".to_owned(),
                ec: Some(Conductivity::millisiemens(1.6)),
                ph: Some(6.1),
            },
        ),
        topped_up("2027-04-12", 20.0),
        topped_up("2027-04-17", 10.0),
        taken("2027-04-17", "deck-1-1", "2027-04-17"),
        taken("2027-04-21", "deck-1-3", "2027-04-17"),
    ]
}

fn told(garden: &Garden, entries: &[Entry], until: &str) -> DiaryLog {
    let (state, left_out) = replay(garden, entries, date(until));
    assert!(left_out.is_empty(), "{left_out:?}");
    log(garden, &state, date(until))
}

fn report(language: &str, log: Option<&DiaryLog>) -> Html {
    let mut garden = garden();
    garden.language = Language::from_code(language).unwrap();
    let problem = build::build(&garden).problem;
    let plan = watered(&spring(), &garden);
    Html::parse_document(&page::report(&plan, &garden, &problem, log))
}

fn all<'a>(page: &'a Html, selector: &str) -> Vec<ElementRef<'a>> {
    page.select(&Selector::parse(selector).unwrap()).collect()
}

fn text(element: &ElementRef) -> String {
    element.text().collect::<String>().trim().to_owned()
}

/// The rows of the table with such a caption, head first.
fn table(page: &Html, caption: &str) -> Vec<Vec<String>> {
    let inner = |of: &ElementRef, selector: &str| {
        let selector = Selector::parse(selector).unwrap();
        of.select(&selector).map(|e| text(&e)).collect::<Vec<_>>()
    };
    let table = all(page, "#log table")
        .into_iter()
        .find(|t| inner(t, "caption") == [caption])
        .unwrap_or_else(|| panic!("no table {caption}"));
    let rows = Selector::parse("tr").unwrap();
    table.select(&rows).map(|r| inner(&r, "th, td")).collect()
}

#[test]
fn a_garden_without_a_diary_has_no_such_part() {
    let page = report("en", None);
    assert!(all(&page, "#log, a[href='#log']").is_empty());
}

#[test]
fn the_page_tells_what_the_diary_says() {
    let log = told(&garden(), &spring_so_far(), "2027-04-21");
    let page = report("en", Some(&log));
    assert_eq!(all(&page, "nav a[href='#log']").len(), 1);

    // The first head was taken on Saturday 17 April: the weeks from 12 and 19 April count.
    let wants = table(&page, "Harvest so far against what was wanted");
    assert_eq!(wants[0], ["Want", "Harvested", "Wanted so far", "Met"]);
    assert_eq!(wants[1], ["salad heads", "2 heads", "12 heads", "16 %"]);
    assert_eq!(wants[2][3], "-", "no basil yet: {:?}", wants[2]);

    let days = table(&page, "Days to harvest, seen against planned");
    let row = &days[1];
    assert_eq!(
        row[..6],
        ["butterhead lettuce", "10", "4", "2", "30.0", "28.0"]
    );
    let pace = log.crops[0].pace;
    assert!(1.0 < pace && pace < 32.0 / 28.0, "{pace}");
    assert_eq!(row[6], format!("{pace:.2}"));

    let lost = table(&page, "Plants lost");
    assert_eq!(lost[1][0], "butterhead lettuce");
    assert_eq!(lost[1][1], "3 of 10");
    assert_eq!(lost[1][3..], ["1 of 4", "snails & <b>slugs</b> (1)"]);

    let water = table(&page, "Water used, against what was computed");
    assert_eq!(water[1][..4], ["roof", "42 l", "3", "3 l"]);
    let computed = (log.loops[0].computed_a_day.unwrap() * 10.0).round() / 10.0;
    let said = Volume::litres(computed).in_units(garden().units);
    assert_eq!(water[1][4], said);
    assert_eq!(water[1][5..], ["-", "1.6 on 14 Apr", "6.1 on 14 Apr"]);
}

/// Screen readers need heads that say of what they are, regions and pictures with names; paper
/// needs tables that are not folded away.
#[rstest]
#[case("en")]
#[case("es")]
fn it_can_be_read_by_everybody(#[case] language: &str) {
    let log = told(&garden(), &spring_so_far(), "2027-04-21");
    let page = report(language, Some(&log));
    assert_eq!(all(&page, "#log table").len(), 4 + 1);
    for head in all(&page, "#log th") {
        let scope = head.attr("scope").unwrap_or_default();
        assert!(["row", "col"].contains(&scope), "{}", text(&head));
        assert!(!text(&head).is_empty());
    }
    for named in all(&page, "#log .scroll, #log svg") {
        assert!(!named.attr("aria-label").unwrap_or_default().is_empty());
    }
    assert_eq!(
        all(&page, "section[aria-labelledby='log-title'] #log-title").len(),
        1
    );
    assert_eq!(
        all(&page, "#log details table").len(),
        1,
        "the weeks alone are folded"
    );
    assert_eq!(all(&page, "#log svg .bar").len(), 2);
    assert!(all(&page, "#log b").is_empty(), "a cause stays text");
}

#[test]
fn it_speaks_spanish() {
    let log = told(&garden(), &spring_so_far(), "2027-04-21");
    let page = report("es", Some(&log));
    let lost = table(&page, "Plantas perdidas");
    assert_eq!(lost[1][1], "3 de 10");
    assert_eq!(lost[1][4], "snails & <b>slugs</b>: 1");
    let wants = table(&page, "Lo cosechado hasta ahora frente a lo deseado");
    assert_eq!(wants[1][1], "2 piezas");
}

/// What should have been drunk is that of a plan with the same plants in the same days.
#[test]
fn water_is_computed_from_what_stood_there() {
    let entries: Vec<Entry> = spring_so_far().into_iter().take(11).collect();
    let log = told(&garden(), &entries, "2027-04-17");
    let mut plan = empty_plan();
    for hole in ["deck-1-1", "deck-1-3", "deck-1-5"] {
        let days = ["2027-03-03", "2027-03-20", "2027-04-18"];
        plan.stays.push(head(hole, "butterhead", days));
    }
    let days = ["2027-03-03", "2027-03-20", "2027-04-08"];
    plan.stays.push(head("deck-2-1", "butterhead", days));
    let used = &watered(&plan, &garden()).water[0].used;
    // From 7 to 17 April.
    let mean = used[37..47].iter().sum::<f64>() / 10.0;
    let computed = log.loops[0].computed_a_day.unwrap();
    assert!((computed - mean).abs() < 1e-9, "{computed}, not {mean}");
    assert!((log.loops[0].litres_a_day.unwrap() - 3.0).abs() < 1e-9);

    // Filled with fresh solution on the 9th: what was used before, from the 7th on, was poured out
    // with it, so that 30 litres were topped up for the eight days since.
    let refilled = Event::Refilled {
        r#loop: "roof".to_owned(),
    };
    let entries: Vec<Entry> = entries
        .into_iter()
        .chain([entry("2027-04-09", refilled)])
        .collect();
    let of_loop = told(&garden(), &entries, "2027-04-17").loops.remove(0);
    let mean = used[39..47].iter().sum::<f64>() / 8.0;
    let computed = of_loop.computed_a_day.unwrap();
    assert!((computed - mean).abs() < 1e-9, "{computed}, not {mean}");
    assert!((of_loop.litres_a_day.unwrap() - 30.0 / 8.0).abs() < 1e-9);
    assert_eq!(of_loop.filled, Some(date("2027-04-09")));
}

/// Half a litre is no full tank: it counts with the top-up that filled it, and is left out where a
/// change of the solution came first.
#[test]
fn a_little_water_counts_with_what_fills_the_tank() {
    let set_out: Vec<Entry> = ["deck-1-1", "deck-1-3", "deck-1-5", "deck-2-1"]
        .map(|hole| set_out("2027-03-20", hole))
        .to_vec();
    let a_day = |water: &[Entry]| {
        let mut entries = [&set_out[..], water].concat();
        entries.sort_by_key(|e| e.on);
        let of_loop = told(&garden(), &entries, "2027-04-30").loops.remove(0);
        (of_loop.litres_a_day, of_loop.computed_a_day)
    };
    let refilled = |on: &str| {
        let r#loop = "roof".to_owned();
        entry(on, Event::Refilled { r#loop })
    };
    let (at_once, computed) = a_day(&[refilled("2027-04-07"), topped_up("2027-04-17", 30.0)]);
    assert!((at_once.unwrap() - 3.0).abs() < 1e-9);
    let little = [
        refilled("2027-04-07"),
        topped_up("2027-04-12", 0.5),
        topped_up("2027-04-17", 29.5),
    ];
    assert_eq!(a_day(&little), (at_once, computed));
    let poured_out = [
        &little[..],
        &[topped_up("2027-04-20", 0.5), refilled("2027-04-21")],
    ];
    assert_eq!(a_day(&poured_out.concat()), (at_once, computed));
    // Said to be full it is, however little went in.
    let said = Event::ToppedUp {
        r#loop: "roof".to_owned(),
        amount: Volume::litres(1.0),
        full: true,
    };
    let (litres, _) = a_day(&[refilled("2027-04-07"), entry("2027-04-17", said)]);
    assert!((litres.unwrap() - 0.1).abs() < 1e-9);
}

/// Where nothing was topped up, nothing is said of litres.
#[test]
fn a_loop_without_top_ups_tells_no_litres() {
    let refilled = Event::Refilled {
        r#loop: "roof".to_owned(),
    };
    let log = told(&garden(), &[entry("2027-04-09", refilled)], "2027-04-17");
    let page = report("en", Some(&log));
    let water = table(&page, "Water used, against what was computed");
    assert_eq!(water[1], ["roof", "-", "0", "-", "-", "9 Apr", "-", "-"]);
}
