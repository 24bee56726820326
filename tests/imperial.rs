//! What a grower who measures in inches and gallons reads: no metric amount is left in any view.

use std::sync::LazyLock;

use anstream::adapter::strip_str;
use rstest::rstest;
use scraper::{Html, Selector};
use steadyleaf::chores::{self, Kind};
use steadyleaf::diary::{Entry, Event};
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::{Garden, file};
use steadyleaf::plan::{self, Planned};
use steadyleaf::planner::effort::Effort;
use steadyleaf::planner::monitor::Monitor;
use steadyleaf::summary::figures;
use steadyleaf::units::Volume;
use steadyleaf::{page, terminal};

const GARDEN: &str = "
garden: Thimble Yard
start: 2027-03-01
weeks: 12
units: imperial
place: { latitude: 48, cover: { kind: indoors, day: 75 F, night: 66 F, light: 17 mol, hours: 16 } }
loops:
  - loop: bench
    tank: { holds: 8 gal, footprint: [20 in, 12 in] }
    pump: { moves: 100 gph, lifts: 5 ft }
    hose: { bore: 1/4 in, length: 9 ft, rises: 3 ft }
    drain: { bore: 1 in, slope: 1 % }
    solution: { source_ec: 0.2 mS/cm, stock: 100 mS/cm, top_up: half strength }
    banks:
      - { bank: deck, form: level, tubes: 2, length: 4 ft, hole_every: 6 in }
      - { bank: wall, form: wall, tubes: 2, length: 2 ft, hole_every: 6 in, tube_gap: 16 in, top: 5 ft }
nursery: { cells: 40 }
wants:
  - { want: salad heads, from_crops: [butterhead, pak-choi], each_week: 3 heads }
  - { want: basil, from_crops: [sweet-basil], each_week: 1 oz }
rhythm: { workdays: [wed, sat] }
";

static GIVEN: LazyLock<(Garden, Planned)> = LazyLock::new(|| {
    let garden = file::parse(GARDEN, "garden.yaml", &Cards::built_in())
        .unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
    let planned =
        plan::plan_garden(&garden, "0", Effort::Quick, &Monitor::unwatched()).expect("a plan");
    (garden, planned)
});

/// Amounts in metric units: a number, then the unit. Conductivity has no other unit.
fn metric(text: &str) -> Vec<String> {
    let text = text.replace("mS/cm", "EC").replace("mol", "light");
    let words: Vec<&str> = text
        .split(|c: char| !(c.is_alphanumeric() || c == '.'))
        .filter(|word| !word.is_empty())
        .collect();
    let units = [
        "l", "ml", "kg", "g", "mm", "cm", "m", "m2", "km", "C", "kN", "litres", "metres",
    ];
    let amounts = words
        .windows(2)
        .filter(|pair| pair[0].ends_with(|c: char| c.is_ascii_digit()) && units.contains(&pair[1]));
    amounts.map(|pair| pair.join(" ")).collect()
}

fn chore_texts() -> String {
    let (garden, planned) = &*GIVEN;
    let chores = chores::chores(&planned.plan, garden);
    let told = chores.iter().map(|chore| {
        let details = chore.details.join("\n");
        format!("{}\n{details}\n", chore.summary)
    });
    told.collect()
}

fn report() -> String {
    let (garden, planned) = &*GIVEN;
    let text = page::report(&planned.plan, garden, &planned.built.problem, None);
    let page = Html::parse_document(&text);
    let shown = Selector::parse("p, li, td, th, figcaption, svg text, h3").unwrap();
    let parts = page.select(&shown).map(|part| {
        let words: Vec<&str> = part.text().collect();
        words.join(" ")
    });
    parts.collect::<Vec<_>>().join("\n")
}

fn summary() -> String {
    let (garden, planned) = &*GIVEN;
    let summary = figures::summary(&planned.plan, garden, &planned.built.problem);
    terminal::summary::render_summary(&summary, garden, &[])
}

#[rstest]
#[case::check(terminal::check::render_check(&GIVEN.0), "gph")]
#[case::summary(summary(), "gal")]
#[case::chores(chore_texts(), "gal")]
#[case::report(report(), "gal")]
fn no_metric_amount_is_left(#[case] text: String, #[case] known: &str) {
    let text = strip_str(&text).to_string();
    assert!(text.contains(known), "the view tells amounts");
    let left = metric(&text);
    assert!(left.is_empty(), "{left:?} in\n{text}");
}

#[test]
fn metric_amounts_would_be_found() {
    assert_eq!(
        metric("at 2 l/min, 13.0 ml a litre, EC 1.6 mS/cm, 1.5 gal"),
        ["2 l", "13.0 ml"]
    );
}

/// Stock for a gallon is 3.785 times that for a litre; a US fluid ounce has 29.57 ml (NIST
/// Handbook 44, appendix C).
#[test]
fn stock_is_told_by_the_gallon() {
    let (garden, planned) = &*GIVEN;
    let change = &planned.plan.water[0].changes[0];
    let ounces = change.stock_ml.expect("a stock") / 29.573_529_562_5;
    let each = ounces / (change.filled / 3.785_411_784);
    let chores = chores::chores(&planned.plan, garden);
    let filling = chores.iter().find(|c| c.kind == Kind::Solution).unwrap();
    let told = format!("about {ounces:.1} fl oz of stock, {each:.2} fl oz a gallon");
    assert!(filling.details.join("\n").contains(&told), "{told}");
}

#[test]
fn what_is_put_down_is_told_in_gallons() {
    let (garden, _) = &*GIVEN;
    let event = Event::ToppedUp {
        r#loop: "bench".to_owned(),
        amount: "3 gal".parse::<Volume>().unwrap(),
        full: false,
    };
    let entry = Entry {
        on: garden.start,
        event,
        as_planned: false,
    };
    let told = terminal::diary::render_recorded(&[entry], garden.units);
    assert_eq!(told, "Mon 1 Mar 2027: 3 gal put into bench\n");
}

/// Weight is told for a foot of tube, water's speed in feet.
#[test]
fn rates_are_told_by_the_foot() {
    let told = strip_str(&terminal::check::render_check(&GIVEN.0)).to_string();
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in ["for each foot of tube", "ft/s", "lb/ft2"] {
        assert!(told.contains(words), "{words} in {told}");
    }
}
