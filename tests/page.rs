//! The report and the week's sheet: what is in them, that they are whole by themselves, safe and
//! small.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;
use std::sync::LazyLock;

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use chrono::{Days, NaiveDate};
use proptest::prelude::*;
use rstest::rstest;
use scraper::{Html, Selector};
use sha2::{Digest, Sha256};
use steadyleaf::chores::{self, Chore};
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::holes;
use steadyleaf::garden::rig::BankForm;
use steadyleaf::garden::{Garden, file};
use steadyleaf::nature::canopy::{Canopy, MAX_DEVELOPMENT};
use steadyleaf::page;
use steadyleaf::plan::{self, Plan};
use steadyleaf::planner::effort::Effort;
use steadyleaf::planner::monitor::Monitor;
use steadyleaf::planner::problem::Problem;
use steadyleaf::summary::snapshot;
use steadyleaf::units::Length;
use steadyleaf::week::monday;

/// A garden with a bank of every form, its names as given.
fn garden(names: &Names, language: &str) -> Garden {
    let quoted = |text: &str| serde_json::to_string(text).unwrap();
    let text = format!(
        "garden: {}
language: {language}
start: 2027-03-01
weeks: 12
place:
  latitude: 48
  longitude: 11
  elevation: 500 m
  timezone: Europe/Vienna
  cover: {{ kind: indoors, day: 24 C, night: 19 C, light: 17 mol, hours: 16 }}
loops:
  - loop: {}
    tank: {{ holds: 40 l, never_below: 50 % }}
    banks:
      - {{ bank: deck, form: level, tubes: 1, length: 60 cm, hole_every: 15 cm }}
      - {{ bank: wall, form: wall, tubes: 2, length: 45 cm, hole_every: 15 cm, tube_gap: 40 cm, top: 1.6 m }}
      - {{ bank: corner, form: tower, height: 50 cm, faces: 3, hole_every: 25 cm }}
nursery: {{ cells: 20 }}
wants:
  - {{ want: {}, from_crops: [butterhead, pak-choi], each_week: 2 heads }}
  - {{ want: basil, from_crops: [sweet-basil], each_week: 30 g }}
rhythm: {{ workdays: [wed, sat] }}
",
        quoted(&names.garden),
        quoted(&names.of_loop),
        quoted(&names.want),
    );
    file::parse(&text, "garden.yaml", &Cards::built_in())
        .unwrap_or_else(|refusal| panic!("{}", refusal.render(false)))
}

#[derive(Debug, Clone)]
struct Names {
    garden: String,
    of_loop: String,
    want: String,
}

impl Names {
    fn harmless() -> Self {
        Self {
            garden: "Thimble Yard".to_owned(),
            of_loop: "bench".to_owned(),
            want: "salad heads".to_owned(),
        }
    }
}

struct Case {
    garden: Garden,
    plan: Plan,
    problem: Problem,
}

impl Case {
    fn of(garden: Garden) -> Self {
        let planned =
            plan::plan_garden(&garden, "0", Effort::Quick, &Monitor::unwatched()).expect("a plan");
        Self {
            garden,
            plan: planned.plan,
            problem: planned.built.problem,
        }
    }

    fn report(&self) -> String {
        page::report(&self.plan, &self.garden, &self.problem, None)
    }

    fn chores_of_week(&self, day: NaiveDate) -> Vec<Chore> {
        let mut chores = chores::chores(&self.plan, &self.garden);
        chores.retain(|c| monday(c.day) == monday(day));
        chores
    }

    fn sheet(&self, day: NaiveDate) -> String {
        page::sheet(&self.plan, &self.garden, &self.chores_of_week(day), day)
    }

    /// The same under other names.
    fn renamed(&self, names: &Names) -> Self {
        let mut plan = self.plan.clone();
        plan.garden.clone_from(&names.garden);
        plan.wants[0].want.clone_from(&names.want);
        for stay in &mut plan.stays {
            if stay.want == Names::harmless().want {
                stay.want.clone_from(&names.want);
            }
        }
        let mut problem = self.problem.clone();
        problem.wants[0].id.clone_from(&names.want);
        Self {
            garden: garden(names, "en"),
            plan,
            problem,
        }
    }
}

static CASE: LazyLock<Case> = LazyLock::new(|| Case::of(garden(&Names::harmless(), "en")));

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn all<'a>(page: &'a Html, selector: &str) -> Vec<scraper::ElementRef<'a>> {
    page.select(&Selector::parse(selector).unwrap()).collect()
}

fn pages() -> [(&'static str, String); 2] {
    [
        ("report", CASE.report()),
        ("sheet", CASE.sheet(day("2027-04-28"))),
    ]
}

fn data(report: &str) -> serde_json::Value {
    let page = Html::parse_document(report);
    let script = all(&page, "script#plan-data")[0];
    serde_json::from_str(&script.text().collect::<String>()).unwrap()
}

#[test]
fn only_what_is_in_the_page_may_run() {
    for (name, text) in pages() {
        let page = Html::parse_document(&text);
        let meta = all(&page, "meta[http-equiv='Content-Security-Policy']");
        assert_eq!(meta.len(), 1, "{name}");
        let policy = meta[0].attr("content").unwrap();
        assert!(policy.starts_with("default-src 'none';"), "{name}");
        for forbidden in ["unsafe", "http", "data:", "*"] {
            assert!(!policy.contains(forbidden), "{name}: {policy}");
        }
        // The hash is that of the element's text as a browser sees it.
        let hash = |selector: &str| {
            let element = all(&page, selector);
            assert_eq!(element.len(), 1, "{name}: {selector}");
            let text: String = element[0].text().collect();
            format!("'sha256-{}'", STANDARD.encode(Sha256::digest(text)))
        };
        assert!(policy.contains(&format!("style-src {};", hash("style"))));
        let script = if name == "report" {
            hash("script:not([type])")
        } else {
            assert!(all(&page, "script").is_empty());
            "'none'".to_owned()
        };
        assert!(policy.contains(&format!("script-src {script};")), "{name}");
    }
}

#[test]
fn it_needs_no_other_file_and_no_network() {
    for (name, text) in pages() {
        let page = Html::parse_document(&text);
        assert!(all(&page, "link, img, iframe, object, embed, base, form").is_empty());
        for element in all(&page, "*") {
            for (attribute, value) in element.value().attrs() {
                assert!(
                    !attribute.starts_with("on") && attribute != "style" && attribute != "src",
                    "{name}: {attribute}={value}"
                );
                if attribute == "href" {
                    assert!(value.starts_with('#'), "{name}: {value}");
                }
            }
        }
        let style: String = all(&page, "style")[0].text().collect();
        assert!(!style.contains("@import") && !style.contains("//"));
        for (at, _) in style.match_indices("url(") {
            assert!(style[at..].starts_with("url(#"), "{}", &style[at..at + 20]);
        }
    }
}

#[test]
fn every_part_is_there_and_has_its_heading() {
    let text = CASE.report();
    let page = Html::parse_document(&text);
    let parts = [
        "map", "chores", "harvest", "stays", "year", "supplies", "findings",
    ];
    for part in parts {
        let section = all(&page, &format!("section#{part}"));
        let heading = section[0].attr("aria-labelledby").unwrap();
        assert_eq!(all(&page, &format!("h2#{heading}")).len(), 1, "{part}");
        assert_eq!(all(&page, &format!("nav a[href='#{part}']")).len(), 1);
    }
    assert_eq!(all(&page, "h1").len(), 1);
    let layout = holes::layout(&CASE.garden);
    assert_eq!(all(&page, "g.hole").len(), layout.holes.len());
    assert_eq!(all(&page, "article.want").len(), CASE.plan.wants.len());
    let chores = chores::chores(&CASE.plan, &CASE.garden);
    assert_eq!(all(&page, "ul.chores > li").len(), chores.len());
}

/// A rig too small, too low and too weak for what is wanted of it.
const WANTING: &str = "
start: 2027-03-01
weeks: 20
place: { latitude: 48, cover: { kind: indoors, day: 21 C, night: 17 C, light: 17 mol, hours: 16 } }
loops:
  - loop: bench
    tank: { holds: 20 l, never_below: 50 % }
    pump: { moves: 100 l/h, lifts: 50 cm }
    hose: { bore: 6 mm, length: 4 m, rises: 1 m }
    drain: { bore: 15 mm, slope: 0.5 %, pipes: 1 }
    solution: { source_ec: 1.2 mS/cm }
    banks:
      - { bank: deck, form: level, tubes: 2, length: 60 cm, hole_every: 15 cm, tube_gap: 20 cm, headroom: 20 cm, filled: 80 % }
      - { bank: corner, form: tower, height: 50 cm, faces: 3, hole_every: 25 cm }
nursery: { cells: 6 }
wants:
  - { want: salad, from_crops: [butterhead, pak-choi], each_week: 9 heads }
  - { want: herbs, from_crops: [sweet-basil], each_week: 90 g }
  - { want: fruit, from_crops: [cherry-tomato], each_week: 200 g }
rhythm: { workdays: [wed, sat] }
";

/// What was found and what would help reads the same in no two languages, but is as much.
#[test]
fn findings_are_told_in_the_gardens_language() {
    let told = |language: &str| {
        let text = format!("garden: Thimble Yard\nlanguage: {language}{WANTING}");
        let garden = file::parse(&text, "garden.yaml", &Cards::built_in())
            .unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
        let page = Html::parse_document(&Case::of(garden).report());
        let lines = all(&page, "#findings ul.plain li");
        lines
            .iter()
            .map(|l| l.text().collect())
            .collect::<Vec<String>>()
    };
    let (english, spanish) = (told("en"), told("es"));
    insta::assert_snapshot!(format!("{}\n\n{}", english.join("\n"), spanish.join("\n")));
    assert_eq!(english.len(), spanish.len());
    assert!(
        english
            .iter()
            .zip(&spanish)
            .all(|(one, other)| one != other)
    );
}

#[test]
fn every_id_is_one_and_every_box_has_its_label() {
    for (name, text) in pages() {
        let page = Html::parse_document(&text);
        let ids: Vec<&str> = all(&page, "[id]")
            .iter()
            .filter_map(|e| e.attr("id"))
            .collect();
        let one_each: BTreeSet<&str> = ids.iter().copied().collect();
        assert_eq!(ids.len(), one_each.len(), "{name}");
        let labels: BTreeSet<&str> = all(&page, "label[for]")
            .iter()
            .filter_map(|l| l.attr("for"))
            .collect();
        for input in all(&page, "input[type=checkbox]") {
            assert!(labels.contains(input.attr("id").unwrap()));
        }
        for element in all(&page, "[aria-labelledby]") {
            let heading = element.attr("aria-labelledby").unwrap();
            assert!(one_each.contains(heading), "{name}: {heading}");
        }
    }
}

#[test]
fn the_data_hold_every_stay_of_the_plan() {
    let data = data(&CASE.report());
    let date = |value: &serde_json::Value| {
        let days = value.as_i64().unwrap();
        CASE.plan.start + chrono::TimeDelta::days(days)
    };
    let mut told = Vec::new();
    for (hole, stays) in data["stays"].as_array().unwrap().iter().enumerate() {
        for stay in stays.as_array().unwrap() {
            let crop = stay[0].as_u64().unwrap() as usize;
            let harvests = stay[6].as_array().unwrap().chunks(2);
            told.push((
                data["holes"][hole].as_str().unwrap().to_owned(),
                data["crops"][crop]["name"].as_str().unwrap().to_owned(),
                (!stay[2].is_null()).then(|| date(&stay[2])),
                date(&stay[3]),
                date(&stay[4]),
                harvests.map(|h| date(&h[0])).collect::<Vec<_>>(),
            ));
        }
    }
    let mut planned: Vec<_> = CASE
        .plan
        .stays
        .iter()
        .map(|s| {
            let called = &CASE.garden.crop(&s.crop).unwrap().name;
            (
                s.hole.clone(),
                called.clone(),
                s.sow,
                s.transplant,
                s.removal,
                s.harvests.iter().map(|h| h.day).collect::<Vec<_>>(),
            )
        })
        .collect();
    told.sort();
    planned.sort();
    assert!(!planned.is_empty());
    assert_eq!(told, planned);
}

/// What the page's script computes from the data, held against what `map` tells.
#[test]
fn plants_are_as_grown_and_as_wide_as_they_are() {
    let data = data(&CASE.report());
    let mut seen = 0;
    for after in [40, 55, 62, 80] {
        let on = CASE.plan.start + Days::new(after);
        let day = i64::try_from(after).unwrap();
        for (hole, standing) in snapshot::snapshot(&CASE.plan, &CASE.garden, on)
            .iter()
            .enumerate()
        {
            let stays = data["stays"][hole].as_array().unwrap();
            let stay = stays
                .iter()
                .find(|s| s[4].as_i64().unwrap() >= day)
                .filter(|s| s[3].as_i64().unwrap() <= day);
            let Some(plant) = &standing.plant else {
                assert!(stay.is_none(), "{} on {on}", standing.hole);
                continue;
            };
            let stay = stay.unwrap();
            let series = data["series"][stay[5].as_u64().unwrap() as usize]
                .as_str()
                .unwrap();
            let at = usize::try_from(2 * (day - stay[3].as_i64().unwrap())).unwrap();
            let thousandths = i32::from_str_radix(&series[at..at + 2], 36).unwrap();
            if on < plant.removal {
                let grown = (plant.grown.unwrap() * 1000.0).round() as i32;
                assert_eq!(thousandths.min(1000), grown, "{} on {on}", standing.hole);
            }
            // Between two steps of the canopy's table, to the millimetre.
            let crop = &data["crops"][stay[0].as_u64().unwrap() as usize];
            let step = |at: i32| crop["canopy"][at as usize].as_f64().unwrap();
            let (below, part) = (thousandths / 10, f64::from(thousandths % 10) / 10.0);
            let wide = step(below) + (step((below + 1).min(130)) - step(below)) * part;
            let size = CASE.garden.crop(&plant.crop).unwrap().size;
            let true_width =
                Canopy::from_size(&size).diameter(f64::from(thousandths) / 1000.0) * 1000.0;
            assert!((wide - true_width).abs() <= 1.0, "{wide} {true_width}");
            seen += 1;
        }
    }
    assert!(seen > 20, "only {seen} plants looked at");
}

#[test]
fn the_same_plan_gives_the_same_bytes() {
    assert_eq!(CASE.report(), CASE.report());
    let date = day("2027-04-28");
    assert_eq!(CASE.sheet(date), CASE.sheet(date));
}

#[test]
fn pages_know_their_own() {
    for (name, text) in pages() {
        assert!(page::is_ours(&text), "{name}");
    }
    for other in [
        "",
        "<!doctype html><title>A shop</title>",
        "steadyleaf",
        "<meta name=\"generator\" content=\"steadyleaf 0.1.0\">",
    ] {
        assert!(!page::is_ours(other), "{other}");
    }
}

#[test]
fn a_sheet_tells_the_week_and_the_map() {
    let on = day("2027-04-28");
    assert_eq!(page::sheet_name(on), "sheet-2027-W17.html");
    // The first days of January may belong to the year before.
    assert_eq!(page::sheet_name(day("2027-01-01")), "sheet-2026-W53.html");
    let text = CASE.sheet(on);
    let page = Html::parse_document(&text);
    let chores = CASE.chores_of_week(on);
    assert!(chores.len() > 3);
    let told: String = page.root_element().text().collect();
    for chore in &chores {
        assert!(told.contains(&chore.summary), "{}", chore.summary);
    }
    assert_eq!(all(&page, "ul.chores .box").len(), chores.len());
    assert!(all(&page, ".notes .lines div").len() >= 3);
    for tube in &holes::layout(&CASE.garden).tubes {
        assert!(told.contains(&tube.name));
    }
}

/// Paper is the last place to look in: whatever a week's chores say stands on it, on as many
/// pages as that takes.
#[test]
fn a_full_sheet_leaves_nothing_out() {
    let on = day("2027-04-28");
    let mut chores = CASE.chores_of_week(on);
    for chore in &mut chores {
        let day = chore.day;
        chore.details = (1..=60).map(|n| format!("line {n} of {day}")).collect();
    }
    let text = page::sheet(&CASE.plan, &CASE.garden, &chores, on);
    assert_eq!(text.matches(">line ").count(), 60 * chores.len());
}

/// What each check of a week says stands on its sheet once, and what one of them says, with it.
#[test]
fn what_repeats_at_each_check_is_told_once() {
    let on = day("2027-04-28");
    let mut chores = CASE.chores_of_week(on);
    let mut checks: Vec<&mut Chore> = chores
        .iter_mut()
        .filter(|c| c.kind == chores::Kind::Check)
        .collect();
    assert_eq!(checks.len(), 2);
    checks[1].details.push("Only on Saturday".to_owned());
    let each = checks[0].details.clone();
    assert!(each.len() > 2);
    let text = page::sheet(&CASE.plan, &CASE.garden, &chores, on);
    let page = Html::parse_document(&text);
    let told = |selector: &str| -> Vec<String> {
        let parts = all(&page, selector).into_iter();
        parts.map(|part| part.text().collect()).collect()
    };
    assert_eq!(told(".each li"), each);
    let by_day = told("ul.chores ul li");
    assert!(by_day.contains(&"Only on Saturday".to_owned()));
    assert!(each.iter().all(|line| !by_day.contains(line)), "{by_day:?}");

    // With one check there is nothing to tell once.
    chores.retain(|c| c.kind != chores::Kind::Check || c.day == on);
    let text = page::sheet(&CASE.plan, &CASE.garden, &chores, on);
    let page = Html::parse_document(&text);
    assert!(all(&page, ".each").is_empty());
}

/// A rig that could not be read on paper is not drawn there, and it is said where it is.
#[test]
fn a_map_too_small_to_read_is_left_out() {
    let mut garden = garden(&Names::harmless(), "en");
    let on = day("2027-04-28");
    let sheet = |garden: &Garden| {
        let text = page::sheet(&CASE.plan, garden, &[], on);
        let page = Html::parse_document(&text);
        (
            all(&page, "svg.rig").len(),
            text.contains("see the map in report.html"),
        )
    };
    assert_eq!(sheet(&garden), (3, false));
    if let BankForm::Level { tubes, .. } = &mut garden.loops[0].banks[0].form {
        *tubes = 30;
    }
    assert_eq!(sheet(&garden), (0, true));
}

/// The pictures have room for the widest plants in every hole.
#[test]
fn the_widest_plants_are_not_cut_off() {
    let mut garden = garden(&Names::harmless(), "en");
    garden.crops[0].size.spread = Length::metres(0.5);
    let widest = Canopy::from_size(&garden.crops[0].size).diameter(MAX_DEVELOPMENT) * 500.0;
    let text = page::sheet(&CASE.plan, &garden, &[], day("2027-04-28"));
    let page = Html::parse_document(&text);
    let cup = Selector::parse("circle.cup").unwrap();
    let number = |text: Option<&str>| text.unwrap().parse::<f64>().unwrap();
    for rig in all(&page, "svg.rig") {
        let view = rig.attr("viewBox").unwrap().split(' ');
        let [_, top, _, height] = view.map(|x| number(Some(x))).collect::<Vec<_>>()[..] else {
            panic!("a view has four numbers");
        };
        for hole in rig.select(&cup) {
            let y = number(hole.attr("cy"));
            assert!(y - widest >= top - 1.0, "{y} {top}");
            assert!(y + widest <= top + height + 1.0, "{y} {top} {height}");
        }
    }
}

/// Labels are drawn after the plants, which would else hide them.
#[test]
fn no_plant_hides_a_label() {
    for (name, text) in pages() {
        let page = Html::parse_document(&text);
        for rig in all(&page, "svg.rig") {
            let drawn = rig.html();
            let hole = drawn.rfind("class=\"hole\"").unwrap();
            let labels = ["class=\"head\"", "class=\"name\""];
            let first = labels.iter().filter_map(|label| drawn.find(label)).min();
            assert!(first.unwrap() > hole, "{name}");
        }
    }
}

/// Beyond the names that the grower chose, the pages in Spanish have no English word.
#[test]
fn no_english_is_left_in_spanish() {
    let names = Names {
        want: "lechugas".to_owned(),
        of_loop: "bancada".to_owned(),
        ..Names::harmless()
    };
    let garden = garden(&names, "es");
    let case = CASE.renamed(&names);
    let report = page::report(&case.plan, &garden, &case.problem, None);
    let on = day("2027-04-28");
    let mut chores = chores::chores(&case.plan, &garden);
    chores.retain(|c| monday(c.day) == monday(on));
    let sheet = page::sheet(&case.plan, &garden, &chores, on);
    for text in [report, sheet] {
        let page = Html::parse_document(&text);
        let parts = all(&page, "p, li, td, th, caption, figcaption, h2, h3, label");
        assert!(parts.len() > 20);
        for part in parts {
            let told: String = part.text().collect();
            let english = told.split(|c: char| !c.is_alphabetic()).find(|word| {
                let word = word.to_lowercase();
                let known = "the and of with from into until for is are year years day days week weeks month hours heads seeds cups holes";
                known.split(' ').any(|known| known == word)
            });
            assert_eq!(english, None, "{told}");
        }
    }
}

#[rstest]
#[case("en", "What to do", "Notes")]
#[case("es", "Qué hacer", "Notas")]
fn it_speaks_the_garden_s_language(
    #[case] language: &str,
    #[case] heading: &str,
    #[case] notes: &str,
) {
    let garden = garden(&Names::harmless(), language);
    let report = page::report(&CASE.plan, &garden, &CASE.problem, None);
    let sheet = page::sheet(&CASE.plan, &garden, &[], day("2027-04-28"));
    let lang = format!("<html lang=\"{language}\">");
    assert!(report.contains(&lang) && sheet.contains(&lang));
    assert!(report.contains(heading) && sheet.contains(notes));
}

/// Words that would end a text, an attribute or a script if they were not kept as text.
fn hostile() -> impl Strategy<Value = String> {
    let parts = [
        "</script>",
        "<script>",
        "<img src=x onerror=alert(1)>",
        "\"",
        "'",
        "<!--",
        "-->",
        "]]>",
        "</title>",
        "</svg>",
        "</style>",
        "&lt;",
        "&amp;",
        "{{ w }}",
        "{% endfor %}",
        "${1}",
        "`",
        "\\",
        "\u{2028}",
        "\u{e9}",
        "{hole}",
        "x",
    ];
    prop::collection::vec(prop::sample::select(parts.to_vec()), 1..5)
        .prop_map(|parts| parts.concat())
        .prop_filter("a name has at most 80 characters", |name| {
            name.chars().count() <= 80 && !name.trim().is_empty() && name.trim() == name
        })
}

/// Elements and the names of their attributes, in order: what the names must not change.
fn structure(page: &Html) -> Vec<(String, Vec<String>)> {
    all(page, "*")
        .iter()
        .map(|element| {
            let attributes = element.value().attrs().map(|(name, _)| name.to_owned());
            (element.value().name().to_owned(), attributes.collect())
        })
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    #[test]
    fn names_stay_text(name in hostile(), of_loop in hostile(), want in hostile()) {
        prop_assume!(want != "basil");
        let names = Names { garden: name, of_loop, want };
        let case = match std::panic::catch_unwind(|| CASE.renamed(&names)) {
            Ok(case) => case,
            // The garden file does not have such a name.
            Err(_) => return Err(TestCaseError::reject("no name")),
        };
        let on = day("2027-04-28");
        for (plain, hostile) in [
            (CASE.report(), case.report()),
            (CASE.sheet(on), case.sheet(on)),
        ] {
            let (plain, page) = (Html::parse_document(&plain), Html::parse_document(&hostile));
            let plain: BTreeMap<String, usize> = count(&structure(&plain));
            // Chores fold and shorten long names, so lists may differ by lines; nothing else may.
            let mut told = count(&structure(&page));
            for (element, n) in &plain {
                if element.starts_with("li ") || element.starts_with("ul ") || element.starts_with("div ") {
                    told.insert(element.clone(), *n);
                }
            }
            prop_assert_eq!(&plain, &told);
            let heading: String = all(&page, "h1")[0].text().collect();
            prop_assert_eq!(&heading, &names.garden);
        }
        let data = data(&case.report());
        prop_assert_eq!(data["garden"].as_str().unwrap(), &names.garden);
        prop_assert_eq!(data["wants"][0].as_str().unwrap(), &names.want);
    }
}

fn count(structure: &[(String, Vec<String>)]) -> BTreeMap<String, usize> {
    let mut counts = BTreeMap::new();
    for (element, attributes) in structure {
        *counts
            .entry(format!("{element} {}", attributes.join(" ")))
            .or_default() += 1;
    }
    counts
}

/// A rig of `tubes` times 10 holes for a year, every hole planted anew every four weeks.
fn large(tubes: usize) -> Case {
    let text = format!(
        "garden: Long Acre
start: 2027-03-01
weeks: 52
place:
  latitude: 48
  timezone: Europe/Vienna
  cover: {{ kind: indoors, day: 24 C, night: 19 C, light: 17 mol, hours: 16 }}
loops:
  - loop: bench
    tank: {{ holds: 1000 l }}
    banks:
      - {{ bank: deck, form: level, tubes: {tubes}, length: 150 cm, hole_every: 15 cm, tube_gap: 30 cm }}
nursery: {{ cells: 3000 }}
wants:
  - {{ want: salad heads, from_crops: [butterhead, pak-choi], each_week: 9 heads }}
rhythm: {{ workdays: [wed, sat] }}
"
    );
    let garden = file::parse(&text, "garden.yaml", &Cards::built_in())
        .unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
    let problem = steadyleaf::planner::build::build(&garden).problem;
    // A Wednesday, and every hole some weeks later than the one before it.
    let first = day("2027-03-24");
    let layout = holes::layout(&garden);
    let stays = layout
        .holes
        .iter()
        .enumerate()
        .flat_map(|(at, hole)| {
            (0..12).map(move |turn| {
                let transplant = first + Days::new((at % 4) as u64 * 7 + turn * 28);
                let removal = transplant + Days::new(28);
                plan::Stay {
                    hole: hole.id.clone(),
                    crop: ["butterhead", "pak-choi"][at % 2].to_owned(),
                    want: "salad heads".to_owned(),
                    sow: Some(transplant - Days::new(14)),
                    on_hand: false,
                    stands: false,
                    for_seed: false,
                    was_due: None,
                    harvested: Vec::new(),
                    transplant,
                    removal,
                    harvests: vec![plan::PlannedHarvest {
                        day: removal,
                        amount: 1.0,
                    }],
                }
            })
        })
        .filter(|stay| stay.removal <= day("2028-02-27"))
        .collect();
    let plan = Plan {
        stays,
        start: garden.start,
        last: day("2028-02-27"),
        garden: garden.name.clone(),
        wants: vec![plan::WantOutcome {
            want: "salad heads".to_owned(),
            unit: "heads".to_owned(),
            each_week: 9.0,
            weeks: CASE.plan.wants[0].weeks.clone(),
            met: Some(1.0),
            most: Vec::new(),
        }],
        cleans: Vec::new(),
        ..CASE.plan.clone()
    };
    Case {
        garden,
        plan,
        problem,
    }
}

#[test]
fn a_thousand_holes_fit_in_four_megabytes() {
    let case = large(100);
    let report = case.report();
    assert!(case.plan.stays.len() > 10_000);
    assert!(report.len() < 4_000_000, "{} bytes", report.len());
    // The browser test moves the slider of this one.
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"));
    fs::write(folder.join("thousand-holes.html"), report).unwrap();
}

#[test]
fn a_shelf_s_year_fits_in_400_kilobytes() {
    let text = fs::read_to_string(
        Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/attic-shelf/garden.yaml"),
    )
    .unwrap();
    let garden = file::parse(&text, "garden.yaml", &Cards::built_in()).unwrap();
    let report = Case::of(garden).report();
    assert!(report.len() < 400_000, "{} bytes", report.len());
}
