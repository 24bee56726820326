//! What the grower is handed, calendar, page, sheets and data, is what is planned: read back by a
//! second hand (`tests/common/independent_check`), in every language and in both systems of units.

use std::sync::LazyLock;

use chrono::{Days, NaiveDate, NaiveTime};
use rstest::rstest;
use serde_json::Value;
use steadyleaf::calendar::{
    CalendarOptions, CalendarState as Known, CalendarUpdate, ComponentKind, wire,
};
use steadyleaf::chores::{Kind, chores};
use steadyleaf::diary::{self, Diary, DiaryState};
use steadyleaf::garden::Garden;
use steadyleaf::plan::{Plan, Planned, Replan};
use steadyleaf::summary::{figures, log, snapshot};
use steadyleaf::units::{Conductivity, Hours, Units};
use steadyleaf::{page, terminal};

use crate::independent_check::{
    Asked, faults_in_calendar, faults_in_data, faults_in_log, faults_in_part, faults_on_map,
    faults_on_page, faults_on_sheet, faults_told,
};
use crate::lantern::date;
use crate::plan_rules::{BUSY, planned_alone, read, replanned};

/// The garden as another grower would have it told: in the other units, with a time of day and an
/// alarm.
fn for_others(garden: &Garden) -> Garden {
    let mut garden = garden.clone();
    garden.units = match garden.units {
        Units::Metric => Units::Imperial,
        Units::Imperial => Units::Metric,
    };
    garden.rhythm.remind_at = NaiveTime::from_hms_opt(7, 30, 0);
    garden.rhythm.alarm = Some(Hours::hours(1.5));
    garden
}

/// The same in Spanish.
fn in_spanish(garden: &Garden) -> Garden {
    let mut garden = garden.clone();
    garden.language = steadyleaf::text::Language::from_code("es").expect("Spanish");
    garden
}

/// What is amiss in all that is handed out of a first plan.
pub fn to_everybody(planned: &Planned, garden: &Garden) -> Vec<String> {
    let plan = &planned.plan;
    let others = for_others(garden);
    let spanish = in_spanish(&others);
    let mut faults = Vec::new();
    for garden in [garden, &others, &spanish] {
        let chores = chores(plan, garden);
        faults.extend(faults_told(plan, garden, &chores));
        let file = calendar(plan, garden, &Known::default(), &CalendarOptions::default());
        let first = (plan.start, false);
        faults.extend(faults_in_calendar(
            &file.0,
            None,
            (plan, garden, None),
            first,
        ));
        faults.extend(in_parts(plan, garden, &file.1));
    }
    faults.extend(on_paper(planned, garden, None));
    faults.extend(on_paper(planned, &spanish, None));
    faults
}

/// Parts of a calendar that one may ask for.
fn parts() -> [Asked; 3] {
    let only = vec![Kind::Harvest, Kind::Sow, Kind::SeedOrder];
    let asked = |todos, only, days| Asked { todos, only, days };
    [
        asked(true, Vec::new(), None),
        asked(false, only.clone(), None),
        asked(true, only, Some(28)),
    ]
}

fn options(asked: &Asked) -> CalendarOptions {
    let mut options = CalendarOptions::default();
    options.form = if asked.todos {
        ComponentKind::Todos
    } else {
        ComponentKind::Events
    };
    options.only.clone_from(&asked.only);
    options.days = asked.days;
    options
}

/// What is amiss in parts of a calendar; `known` is all of it.
fn in_parts(plan: &Plan, garden: &Garden, known: &Known) -> Vec<String> {
    let mut faults = Vec::new();
    for asked in parts() {
        let (part, _) = calendar(plan, garden, &Known::default(), &options(&asked));
        faults.extend(faults_in_part(&part, &asked, (plan, garden)));
    }
    // Where all is known, a part is told as it is.
    let mut some_days = CalendarOptions::default();
    some_days.days = Some(28);
    let (_, known_still) = calendar(plan, garden, known, &some_days);
    if known_still != *known {
        faults.push("calendar: another one, where a part of it was asked for".to_owned());
    }
    faults
}

fn calendar(
    plan: &Plan,
    garden: &Garden,
    known: &Known,
    options: &CalendarOptions,
) -> (String, Known) {
    let chores = chores(plan, garden);
    let update = CalendarUpdate::new(&chores, garden, known, options);
    (update.render(None), update.state().clone())
}

/// Page, data, and the sheets of a few weeks.
fn on_paper(planned: &Planned, garden: &Garden, state: Option<&DiaryState>) -> Vec<String> {
    let plan = &planned.plan;
    let all = (plan, garden, state);
    let page = page::report(plan, garden, &planned.built.problem, None);
    let mut faults = faults_on_page(&page, all);
    let weeks = (plan.last - plan.start).num_days().unsigned_abs() / 7;
    for week in [0, weeks / 3, weeks] {
        let day = plan.start + Days::new(7 * week);
        let chores = terminal::week::chores_of_week(chores(plan, garden), day);
        let sheet = page::sheet(plan, garden, &chores, day);
        let monday = steadyleaf::week::monday(day);
        faults.extend(faults_on_sheet(&sheet, monday, all));
        faults.extend(faults_on_map(&map(plan, garden, day), day, all));
    }
    let summary = figures::summary(plan, garden, &planned.built.problem);
    let summary: Value = serde_json::to_value(summary).expect("data");
    let json = serde_json::to_string(plan).expect("data");
    faults.extend(faults_in_data(&json, &summary, plan));
    faults
}

/// The holes of `map --json`.
fn map(plan: &Plan, garden: &Garden, day: NaiveDate) -> Value {
    let holes = snapshot::snapshot(plan, &plan.with_calibrated_crops(garden), day);
    serde_json::to_value(holes).expect("data")
}

/// What `log --json` prints.
fn log_of(garden: &Garden, diary: &Diary) -> Value {
    let until = log::last_day(&diary.entries, garden);
    let (state, left_out) = diary::replay(garden, &diary.entries, until);
    assert!(left_out.is_empty(), "{left_out:?}");
    serde_json::to_value(log::log(garden, &state, until)).expect("data")
}

/// What is amiss in what is told of a diary so far.
pub fn so_far(garden: &Garden, diary: &Diary) -> Vec<String> {
    faults_in_log(&log_of(garden, diary), garden, &diary.entries)
}

/// What is amiss in what is handed out of a plan made again, after a first one was.
pub fn again(former: &Plan, garden: &Garden, again: &Replan, state: &DiaryState) -> Vec<String> {
    let plan = &again.planned.plan;
    let mut faults = Vec::new();
    let others = for_others(garden);
    let others_again = for_others(&again.garden);
    for (garden, of_again) in [
        (garden.clone(), again.garden.clone()),
        (in_spanish(&others), in_spanish(&others_again)),
    ] {
        let (file, known) = calendar(
            former,
            &garden,
            &Known::default(),
            &CalendarOptions::default(),
        );
        let mut options = CalendarOptions::default();
        options.today = Some(plan.start);
        options.worked = again.has_work_on_first_day;
        options.files = vec![file.clone()];
        let (now, known_now) = calendar(plan, &of_again, &known, &options);
        let all = (plan, &garden, Some(state));
        let on = (plan.start, again.has_work_on_first_day);
        faults.extend(faults_in_calendar(&now, Some(&file), all, on));
        // Once more changes nothing; and nothing is lost with the file of what was told.
        options.files = vec![now.clone()];
        let (once_more, _) = calendar(plan, &of_again, &known_now, &options);
        if once_more != now {
            faults.push("calendar: another one, with nothing new".to_owned());
        }
        options.files = vec![file.clone()];
        let found = Known::from_calendars([file.as_str()]);
        if calendar(plan, &of_again, &found, &options).0 != now {
            faults.push("calendar: another one, where what was told was lost".to_owned());
        }
    }
    faults.extend(on_paper(&again.planned, garden, Some(state)));
    faults
}

/// A busy garden, told in the language of its crops' names.
struct Handed {
    garden: Garden,
    planned: Planned,
    calendar: String,
    known: Known,
    sheet: String,
    page: String,
    json: String,
    summary: Value,
}

/// The Monday of the sheet.
const WEEK: &str = "2027-05-17";

impl Handed {
    fn new(spoken: &str) -> Self {
        let mut garden = read(&format!("{BUSY}{spoken}"));
        for of_loop in &mut garden.loops {
            of_loop.nutrients.stock_ec = Some(Conductivity::millisiemens(100.0));
        }
        let planned = planned_alone(&garden);
        let plan = &planned.plan;
        let (calendar, known) = calendar(
            plan,
            &garden,
            &Known::default(),
            &CalendarOptions::default(),
        );
        let chores = terminal::week::chores_of_week(chores(plan, &garden), date(WEEK));
        Self {
            calendar,
            known,
            sheet: page::sheet(plan, &garden, &chores, date(WEEK)),
            page: page::report(plan, &garden, &planned.built.problem, None),
            json: serde_json::to_string(plan).expect("data"),
            summary: serde_json::to_value(figures::summary(plan, &garden, &planned.built.problem))
                .expect("data"),
            garden,
            planned,
        }
    }

    fn all(&self) -> (&Plan, &Garden, Option<&DiaryState>) {
        (&self.planned.plan, &self.garden, None)
    }

    fn faults_in(&self, calendar: &str) -> Vec<String> {
        faults_in_calendar(calendar, None, self.all(), (self.planned.plan.start, false))
    }
}

static GOOD: LazyLock<Handed> = LazyLock::new(|| Handed::new(""));

#[test]
fn a_busy_garden_is_told_in_spanish_as_planned() {
    let Handed {
        garden, planned, ..
    } = Handed::new("language: es\nunits: imperial\n");
    assert!(garden.crops.iter().all(|c| c.name != c.key));
    assert_eq!(to_everybody(&planned, &garden), [""; 0]);
}

/// The first event of a kind, edited; lines are whole in the editor's hands.
fn edited(file: &str, kind: &str, edit: impl Fn(&str) -> String) -> String {
    let whole = wire::unfold(file);
    let end = "END:VEVENT\r\n";
    let mark = format!("X-STEADYLEAF-KIND:{kind}\r\n");
    let mut is_done = false;
    let parts = whole.split_inclusive(end).map(|part| {
        if is_done || !part.contains(&mark) {
            return part.to_owned();
        }
        is_done = true;
        let at = part.find("BEGIN:VEVENT").expect("an event");
        let edited = edit(&part[at..]);
        assert_ne!(edited, part[at..], "nothing was edited");
        format!("{}{edited}", &part[..at])
    });
    let text: String = parts.collect();
    assert!(is_done, "no event of {kind}");
    text.split_terminator("\r\n").map(wire::fold).collect()
}

/// The value of a property, in an event.
fn value<'e>(event: &'e str, name: &str) -> &'e str {
    let line = event.lines().find(|l| l.starts_with(name)).expect("a line");
    line.split_once(':').expect("a value").1
}

fn a_day_later(event: &str) -> String {
    let mut event = event.to_owned();
    for name in ["DTEND", "DTSTART"] {
        let day = value(&event, name).to_owned();
        let next = NaiveDate::parse_from_str(&day, "%Y%m%d").expect("a day") + Days::new(1);
        let line = format!("{name};VALUE=DATE:");
        event = event.replace(
            &format!("{line}{day}"),
            &format!("{line}{}", next.format("%Y%m%d")),
        );
    }
    event
}

type Edit = fn(&str) -> String;

#[test]
fn a_good_calendar_is_read_as_good() {
    assert_eq!(GOOD.faults_in(&GOOD.calendar), [""; 0]);
}

#[rstest]
#[case::harvest_left_out("left out: ", "harvest", |_: &str| String::new())]
#[case::check_left_out("left out: ", "check", |_: &str| String::new())]
#[case::scrubbing_left_out("left out: ", "deep-clean", |_: &str| String::new())]
#[case::a_day_shifted("unplanned: ", "transplant", a_day_later)]
#[case::a_day_shifted_and_so_left_out("left out: ", "sow", a_day_later)]
#[case::on_a_day_off("nobody there: ", "top-up", a_day_later)]
#[case::a_double_uid("twice the UID", "harvest", |e: &str| format!("{e}{e}"))]
#[case::told_twice("told: twice: ", "harvest", |e: &str| format!("{e}{}", e.replace("UID:", "UID:b")))]
#[case::a_wrong_litre("litres: ", "top-up", |e: &str| e.replacen("about ", "about 1", 1))]
#[case::a_wrong_title("Top up ", "top-up", |e: &str| e.replacen(" with ", " with 1", 1))]
#[case::a_wrong_stock("stock", "solution", |e: &str| e.replace(" ml of stock", "1 ml of stock"))]
#[case::another_filling("filled", "solution", |e: &str| e.replacen("fill with ", "fill with 1", 1))]
#[case::another_least_level("least level", "check", |e: &str| e.replacen("falls below ", "falls below 1", 1))]
#[case::another_ec("what suits", "check", |e: &str| e.replacen("EC 1", "EC 2", 3))]
#[case::much_thinned("water to thin", "check", |e: &str| e.replacen("high: add ", "high: add 1", 1))]
#[case::no_seedlings("seedlings false", "check", |e: &str| e.replace("Nursery: keep the seedlings moist.", ""))]
#[case::more_seed("where ", "seed-order", |e: &str| e.replacen(": 1", ": 2", 1))]
#[case::more_cups("sown on ", "sow", |e: &str| e.replacen("(2 net", "(12 net", 1))]
#[case::another_crop("set out on ", "transplant", |e: &str| e.replace("butterhead", "romaine"))]
#[case::another_tube("scrub on ", "deep-clean", |e: &str| e.replace("Tube deck-1", "Tube deck-9"))]
#[case::of_another_kind("told: twice: ", "harvest", |e: &str| e.replace("CATEGORIES:Harvest", "CATEGORIES:Clear"))]
#[case::of_no_kind("of no kind", "harvest", |e: &str| e.replace("CATEGORIES:Harvest", "CATEGORIES:Other"))]
#[case::about_something_else("it is about ", "harvest", |e: &str| e.replace("-ABOUT:", "-ABOUT:more "))]
#[case::cancelled_unasked("cancelled true", "harvest", |e: &str| e.replace("UID:", "STATUS:CANCELLED\r\nUID:"))]
#[case::two_days_long("from Day(", "harvest", |e: &str| {
    let end = value(e, "DTEND");
    e.replace(end, &format!("{}", end.parse::<u32>().expect("a day") + 1))
})]
#[case::a_time_of_day("DTSTART", "harvest", |e: &str| e.replace("DTSTART;VALUE=DATE:", "DTSTART:"))]
#[case::a_comma_unescaped("DESCRIPTION: ", "harvest", |e: &str| e.replacen("\\,", ",", 1))]
#[case::an_alarm_nobody_asked_for("alarms: ", "harvest", |e: &str| e.replace(
    "END:VEVENT", "BEGIN:VALARM\r\nACTION:DISPLAY\r\nTRIGGER:-PT1H\r\nDESCRIPTION:x\r\nEND:VALARM\r\nEND:VEVENT",
))]
#[case::never_told_before("was never told", "harvest", |e: &str| e.replace("SEQUENCE:0", "SEQUENCE:1"))]
#[case::without_an_end("out of place", "harvest", |e: &str| e.replace("END:VEVENT", "END:VTODO"))]
fn a_spoilt_calendar_is_seen(#[case] told: &str, #[case] kind: &str, #[case] edit: Edit) {
    let faults = GOOD.faults_in(&edited(&GOOD.calendar, kind, edit));
    assert!(faults.iter().any(|f| f.contains(told)), "{faults:#?}");
}

#[rstest]
#[case::lines_too_long(75, "more than 75 octets")]
#[case::without_carriage_returns(0, "do not end in CRLF")]
fn a_calendar_in_other_lines_is_seen(#[case] octets: usize, #[case] told: &str) {
    let file = match octets {
        0 => GOOD.calendar.replace("\r\n", "\n"),
        _ => wire::unfold(&GOOD.calendar),
    };
    let faults = GOOD.faults_in(&file);
    assert!(faults.iter().any(|f| f.contains(told)), "{faults:#?}");
}

/// The same garden after a mishap, on a day in spring.
struct Later {
    again: Replan,
    state: DiaryState,
    diary: Diary,
    calendar: String,
}

/// What else there is of this spring.
const SPRING: &str = "- { on: 2027-03-03, sown: rocket, cells: 6 }
- { on: 2027-03-10, lost: rocket, cells: 2 }
- { on: 2027-04-14, topped_up: greens, amount: 3.5 l }
- { on: 2027-04-14, read: greens, ec: 1.6 mS/cm, ph: 6.1 }
- { on: 2027-04-28, topped_up: greens, amount: 4 l }
- { on: 2027-05-05, refilled: greens }
- { on: 2027-05-08, read: greens, ec: 1.8 mS/cm }
";

static LATER: LazyLock<Later> = LazyLock::new(|| {
    let Handed {
        garden,
        planned,
        calendar: before,
        known,
        ..
    } = &*GOOD;
    let today = date("2027-05-12");
    let stands = planned
        .plan
        .stays
        .iter()
        .filter(|s| s.transplant < today && s.removal > today);
    let lines: String = stands
        .enumerate()
        .map(|(n, s)| {
            let (crop, hole, on) = (&s.crop, &s.hole, s.transplant);
            let then = match n % 3 {
                0 => format!("- {{ on: 2027-05-10, lost: {hole} }}\n"),
                1 if crop == "rocket" => {
                    format!("- {{ on: 2027-05-11, harvested: {hole}, amount: 12.5 g }}\n")
                }
                _ => String::new(),
            };
            format!("- {{ on: {on}, transplanted: {crop}, hole: {hole} }}\n{then}")
        })
        .collect();
    let lines = format!("{lines}{SPRING}");
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("diary.yaml");
    std::fs::write(&path, lines).expect("a diary");
    let diary: Diary = diary::file::read(&path).expect("a diary");
    let again = replanned(garden, &diary, today, &planned.plan);
    let (state, left_out) = diary::replay(garden, &diary.entries, today);
    assert!(left_out.is_empty(), "{left_out:?}");
    let mut options = CalendarOptions::default();
    options.today = Some(again.planned.plan.start);
    options.files = vec![before.clone()];
    let (calendar, _) = calendar(&again.planned.plan, &again.garden, known, &options);
    Later {
        again,
        state,
        diary,
        calendar,
    }
});

impl Later {
    fn faults_in(&self, calendar: &str) -> Vec<String> {
        let plan = &self.again.planned.plan;
        let all = (plan, &GOOD.garden, Some(&self.state));
        faults_in_calendar(calendar, Some(&GOOD.calendar), all, (plan.start, false))
    }
}

#[test]
fn a_calendar_that_follows_upon_another_is_read_as_good() {
    assert!(LATER.calendar.contains("STATUS:CANCELLED"));
    assert!(LATER.calendar.contains("SEQUENCE:1"));
    assert_eq!(LATER.faults_in(&LATER.calendar), [""; 0]);
    let faults = self::again(&GOOD.planned.plan, &GOOD.garden, &LATER.again, &LATER.state);
    assert_eq!(faults, [""; 0]);
}

/// Every event of which a text is found, edited.
#[rstest]
#[case::a_cancelled_one_lost("is lost", "STATUS:CANCELLED", |_: &str| String::new())]
#[case::cancelled_for_good("left out: ", "SEQUENCE:0", |e: &str| {
    let title = value(e, "SUMMARY");
    e.replace(&format!("SUMMARY:{title}"), &format!("STATUS:CANCELLED\r\nSUMMARY:Cancelled: {title}"))
})]
#[case::another_identity(" before", "SEQUENCE:0", |e: &str| e.replace("UID:", "UID:z"))]
#[case::changed_unsaid("changed true", "SEQUENCE:1", |e: &str| e.replace("SEQUENCE:1", "SEQUENCE:0"))]
#[case::raised_for_nothing("changed false", "SEQUENCE:0", |e: &str| e.replace("SEQUENCE:0", "SEQUENCE:1"))]
#[case::raised_twice("changed true", "SEQUENCE:1", |e: &str| e.replace("SEQUENCE:1", "SEQUENCE:2"))]
#[case::stamped_for_nothing("changed false", "SEQUENCE:0", |e: &str| e.replace("T000000Z", "T000001Z"))]
fn a_spoilt_update_is_seen(#[case] told: &str, #[case] text: &str, #[case] edit: Edit) {
    let whole = wire::unfold(&LATER.calendar);
    let parts = whole.split_inclusive("END:VEVENT\r\n").map(|part| {
        let Some(at) = part.find("BEGIN:VEVENT").filter(|_| part.contains(text)) else {
            return part.to_owned();
        };
        format!("{}{}", &part[..at], edit(&part[at..]))
    });
    let spoilt: String = parts.collect();
    let spoilt: String = spoilt.split_terminator("\r\n").map(wire::fold).collect();
    let faults = LATER.faults_in(&spoilt);
    assert!(faults.iter().any(|f| f.contains(told)), "{faults:#?}");
}

#[test]
fn good_paper_and_data_are_read_as_good() {
    assert_eq!(to_everybody(&GOOD.planned, &GOOD.garden), [""; 0]);
    assert_eq!(
        faults_on_sheet(&GOOD.sheet, date(WEEK), GOOD.all()),
        [""; 0]
    );
}

#[rstest]
#[case::a_day_renamed("no day `", "<h3>Wed 19", "<h3>Wed 18")]
#[case::a_day_moved("left out: ", "<h3>Wed 19 May", "<h3>Sat 22 May")]
#[case::no_harvest("left out: ", "</span>Harvest", "</span>Clear and wipe")]
#[case::another_amount("harvested: ", "<li>about ", "<li>about 1")]
#[case::another_hole("harvested on", "corner-1: ", "corner-2: ")]
#[case::lines_of_all_checks_left_out(
    "checked on",
    "top up before it falls",
    "top up when it falls"
)]
fn a_spoilt_sheet_is_seen(#[case] told: &str, #[case] word: &str, #[case] wrong: &str) {
    let sheet = GOOD.sheet.replacen(word, wrong, 1);
    assert_ne!(sheet, GOOD.sheet);
    let faults = faults_on_sheet(&sheet, date(WEEK), GOOD.all());
    assert!(faults.iter().any(|f| f.contains(told)), "{faults:#?}");
}

#[rstest]
#[case::a_chore_of_another_day("page: Some(\"c-", "id=\"c-2027-05-1", "id=\"c-2027-06-1")]
#[case::a_week_miscounted("things to do", " things to do", "1 things to do")]
#[case::more_in_a_week(
    "page: [",
    "<td class=\"n\">2 heads</td>",
    "<td class=\"n\">3 heads</td>"
)]
#[case::another_crop_drawn("is not drawn", "\"crops\":[{\"name\":\"", "\"crops\":[{\"name\":\"x")]
#[case::begun_another_day("page: from ", "\"start\":\"2027-03-01", "\"start\":\"2027-03-02")]
#[case::scrubbed_another_day("page: scrubbed", "\"cleans\":[", "\"cleans\":[3,")]
#[case::another_tank("filled", "refill with ", "refill with 1")]
fn a_spoilt_page_is_seen(#[case] told: &str, #[case] word: &str, #[case] wrong: &str) {
    let page = GOOD.page.replacen(word, wrong, 1);
    assert_ne!(page, GOOD.page);
    let faults = faults_on_page(&page, GOOD.all());
    assert!(faults.iter().any(|f| f.contains(told)), "{faults:#?}");
}

#[rstest]
#[case::another_hole("is not Stay", |data: &mut Value, _: &mut Value| data["stays"][0]["hole"] = "deck-9-9".into())]
#[case::another_day("is not Stay", |data: &mut Value, _: &mut Value| data["stays"][3]["removal"] = "2027-04-01".into())]
#[case::another_amount("is not Stay", |data: &mut Value, _: &mut Value| data["stays"][3]["harvests"][0]["amount"] = 7.into())]
#[case::a_stay_left_out("stays of", |data: &mut Value, _: &mut Value| drop(data["stays"].as_array_mut().unwrap().pop()))]
#[case::more_in_a_week("where ", |data: &mut Value, _: &mut Value| data["wants"][0]["weeks"][12]["delivered"] = 9.into())]
#[case::a_week_left_out("is of no week", |data: &mut Value, _: &mut Value| drop(data["wants"][0]["weeks"].as_array_mut().unwrap().remove(12)))]
#[case::a_tube_left_out("scrubbed", |data: &mut Value, _: &mut Value| drop(data["cleans"].as_array_mut().unwrap().pop()))]
#[case::met_better("what is met of ", |_: &mut Value, sums: &mut Value| sums["wants"][0]["met"] = 1.1.into())]
#[case::more_on_average("a week of ", |_: &mut Value, sums: &mut Value| sums["wants"][1]["average"] = 1.into())]
#[case::another_leanest_week("the least of ", |_: &mut Value, sums: &mut Value| sums["wants"][1]["worst"]["delivered"] = 99.into())]
#[case::more_holes("holes in use", |_: &mut Value, sums: &mut Value| sums["holes"]["mean"] = 3.into())]
#[case::less_water("used in greens", |_: &mut Value, sums: &mut Value| sums["water"][0]["used"] = 3.into())]
#[case::less_topped_up("topped up in greens", |_: &mut Value, sums: &mut Value| sums["water"][0]["topped_up"] = 3.into())]
#[case::a_loop_left_out("loops is told", |_: &mut Value, sums: &mut Value| drop(sums["water"].as_array_mut().unwrap().pop()))]
fn spoilt_data_are_seen(#[case] told: &str, #[case] spoil: fn(&mut Value, &mut Value)) {
    let mut data: Value = serde_json::from_str(&GOOD.json).expect("data");
    let mut summary = GOOD.summary.clone();
    assert_eq!(
        faults_in_data(&GOOD.json, &summary, &GOOD.planned.plan),
        [""; 0]
    );
    spoil(&mut data, &mut summary);
    let faults = faults_in_data(&data.to_string(), &summary, &GOOD.planned.plan);
    assert!(faults.iter().any(|f| f.contains(told)), "{faults:#?}");
}

#[rstest]
#[case::a_task_left_out("left out: ", "VTODO", "-KIND:harvest", |_: &str| String::new())]
#[case::of_another_kind("told: twice: ", "VTODO", "-KIND:harvest", |e: &str| {
    e.replace("CATEGORIES:Harvest", "CATEGORIES:Check").replacen("SUMMARY:Harvest", "SUMMARY:Check", 1)
})]
#[case::due_another_day("left out: ", "VTODO", "-KIND:sow", |e: &str| {
    let due = value(e, "DUE");
    e.replace(due, &format!("{}", due.parse::<u32>().expect("a day") + 1))
})]
#[case::begun_as_well("due ", "VTODO", "-KIND:sow", |e: &str| e.replace("DUE;VALUE=DATE:", "DTSTART;VALUE=DATE:20270301\r\nDUE;VALUE=DATE:"))]
#[case::an_event("a VEVENT", "VTODO", "-KIND:sow", |e: &str| e.replace("VTODO", "VEVENT"))]
fn a_spoilt_part_is_seen(
    #[case] told: &str,
    #[case] component: &str,
    #[case] mark: &str,
    #[case] edit: Edit,
) {
    let Handed {
        garden, planned, ..
    } = &*GOOD;
    let plan = &planned.plan;
    let [asked, ..] = parts();
    let (part, _) = calendar(plan, garden, &Known::default(), &options(&asked));
    assert_eq!(faults_in_part(&part, &asked, (plan, garden)), [""; 0]);
    let (begin, end) = (format!("BEGIN:{component}"), format!("END:{component}\r\n"));
    let whole = wire::unfold(&part);
    let mut parts: Vec<String> = whole.split_inclusive(&end).map(str::to_owned).collect();
    let spoilt = parts
        .iter_mut()
        .find(|part| part.contains(mark))
        .expect("one");
    let at = spoilt.find(&begin).expect("its begin");
    *spoilt = format!("{}{}", &spoilt[..at], edit(&spoilt[at..]));
    let part: String = parts
        .concat()
        .split_terminator("\r\n")
        .map(wire::fold)
        .collect();
    let faults = faults_in_part(&part, &asked, (plan, garden));
    assert!(faults.iter().any(|f| f.contains(told)), "{faults:#?}");
}

/// What is not asked for is too much.
#[test]
fn more_than_a_part_is_seen() {
    let Handed {
        garden, planned, ..
    } = &*GOOD;
    let plan = &planned.plan;
    let [all, _, some] = parts();
    let (part, _) = calendar(plan, garden, &Known::default(), &options(&all));
    let faults = faults_in_part(&part, &some, (plan, garden));
    assert!(
        faults.iter().any(|f| f.contains("unplanned: ")),
        "{faults:#?}"
    );
}

#[rstest]
#[case::another_crop("crop", "chard".into())]
#[case::out_another_day("removal", "2027-05-18".into())]
#[case::harvested_this_week("harvest_this_week", "2027-05-18".into())]
#[case::riper("grown", 2.into())]
fn a_spoilt_map_is_seen(#[case] key: &str, #[case] wrong: Value) {
    let Handed {
        garden, planned, ..
    } = &*GOOD;
    let mut map = map(&planned.plan, garden, date(WEEK));
    let mut holes = map.as_array_mut().unwrap().iter_mut();
    let hole = holes.find(|hole| hole["plant"].is_object()).unwrap();
    hole["plant"][key] = wrong;
    let faults = faults_on_map(&map, date(WEEK), GOOD.all());
    assert!(
        faults.len() == 1 && faults[0].contains(" stands on "),
        "{faults:#?}"
    );
}

#[test]
fn a_map_with_holes_emptied_or_left_out_is_seen() {
    let Handed {
        garden, planned, ..
    } = &*GOOD;
    let good = map(&planned.plan, garden, date(WEEK));
    let faults = |map: Value| faults_on_map(&map, date(WEEK), GOOD.all());
    let mut emptied = good.clone();
    let mut holes = emptied.as_array_mut().unwrap().iter_mut();
    holes.find(|hole| hole["plant"].is_object()).unwrap()["plant"] = Value::Null;
    assert_eq!(faults(emptied).len(), 1);
    let mut fewer = good;
    fewer.as_array_mut().unwrap().pop();
    assert!(faults(fewer)[0].contains("holes of "));
}

#[test]
fn a_good_log_is_read_as_good() {
    assert_eq!(so_far(&GOOD.garden, &LATER.diary), [""; 0]);
}

#[rstest]
#[case::more_harvested("rocket gave", |log: &mut Value| log["wants"][1]["weeks"][0]["harvested"] = 99.into())]
#[case::met_better("rocket gave", |log: &mut Value| log["wants"][1]["met"] = 1.into())]
#[case::a_week_left_out("rocket gave", |log: &mut Value| drop(log["wants"][1]["weeks"].as_array_mut().unwrap().pop()))]
#[case::fewer_sown("sown and", |log: &mut Value| rocket(log)["sown"] = 5.into())]
#[case::fewer_lost_in_the_nursery("sown and", |log: &mut Value| rocket(log)["lost_in_nursery"] = 1.into())]
#[case::more_lost("sown and", |log: &mut Value| rocket(log)["lost"] = 99.into())]
#[case::a_crop_left_out("crops, not", |log: &mut Value| drop(log["crops"].as_array_mut().unwrap().pop()))]
#[case::more_water("loops had", |log: &mut Value| log["loops"][0]["litres"] = 9.into())]
#[case::an_older_ec("loops had", |log: &mut Value| log["loops"][0]["ec"] = serde_json::json!(["2027-04-14", 1.6]))]
#[case::no_filling("loops had", |log: &mut Value| log["loops"][0]["filled"] = Value::Null)]
#[case::until_another_day("until ", |log: &mut Value| log["until"] = "2027-05-12".into())]
fn a_spoilt_log_is_seen(#[case] told: &str, #[case] spoil: fn(&mut Value)) {
    let mut log = log_of(&GOOD.garden, &LATER.diary);
    spoil(&mut log);
    let faults = faults_in_log(&log, &GOOD.garden, &LATER.diary.entries);
    assert!(faults.iter().any(|f| f.contains(told)), "{faults:#?}");
}

fn rocket(log: &mut Value) -> &mut Value {
    let mut crops = log["crops"].as_array_mut().unwrap().iter_mut();
    crops.find(|crop| crop["crop"] == "rocket").unwrap()
}
