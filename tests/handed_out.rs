//! What the grower is handed, calendar, page, sheets and data, is what is planned: read back by a
//! second hand (`tests/common/reckoned`), in every language and in both systems of units.

use std::sync::LazyLock;

use chrono::{Days, NaiveTime};
use rstest::rstest;
use serde_json::Value;
use steadyleaf::calendar::{Options, State as Known, Update, wire};
use steadyleaf::chores::chores;
use steadyleaf::garden::Garden;
use steadyleaf::garden::diary::{self, Diary, State};
use steadyleaf::plan::{Again, Plan, Planned};
use steadyleaf::quantity::{Conductivity, Hours, Units};
use steadyleaf::report::{figures, page, terminal};

use crate::lantern::date;
use crate::reckoned::{
    faults_in_calendar, faults_in_data, faults_on_page, faults_on_sheet, faults_told,
};
use crate::second_look::{BUSY, planned_alone, read, replanned};

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
    garden.language = steadyleaf::language::Language::of_code("es").expect("Spanish");
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
        let file = calendar(plan, garden, &Known::default(), &Options::default());
        let first = (plan.start, false);
        faults.extend(faults_in_calendar(
            &file.0,
            None,
            (plan, garden, None),
            first,
        ));
    }
    faults.extend(on_paper(planned, garden, None));
    faults.extend(on_paper(planned, &spanish, None));
    faults
}

fn calendar(plan: &Plan, garden: &Garden, known: &Known, options: &Options) -> (String, Known) {
    let chores = chores(plan, garden);
    let update = Update::new(&chores, garden, known, options);
    (update.file(None), update.state().clone())
}

/// Page, data, and the sheets of a few weeks.
fn on_paper(planned: &Planned, garden: &Garden, state: Option<&State>) -> Vec<String> {
    let plan = &planned.plan;
    let all = (plan, garden, state);
    let page = page::report(plan, garden, &planned.built.problem, None);
    let mut faults = faults_on_page(&page, all);
    let weeks = (plan.last - plan.start).num_days().unsigned_abs() / 7;
    for week in [0, weeks / 3, weeks] {
        let day = plan.start + Days::new(7 * week);
        let chores = terminal::week::of_week(chores(plan, garden), day);
        let sheet = page::sheet(plan, garden, &chores, day);
        let monday = steadyleaf::week::monday(day);
        faults.extend(faults_on_sheet(&sheet, monday, all));
    }
    let summary = figures::summary(plan, garden, &planned.built.problem);
    let summary: Value = serde_json::to_value(summary).expect("data");
    let json = serde_json::to_string(plan).expect("data");
    faults.extend(faults_in_data(&json, &summary, plan));
    faults
}

/// What is amiss in what is handed out of a plan made again, after a first one was.
pub fn again(former: &Plan, garden: &Garden, again: &Again, state: &State) -> Vec<String> {
    let plan = &again.planned.plan;
    let mut faults = Vec::new();
    let others = for_others(garden);
    let others_again = for_others(&again.garden);
    for (garden, of_again) in [
        (garden.clone(), again.garden.clone()),
        (in_spanish(&others), in_spanish(&others_again)),
    ] {
        let (file, known) = calendar(former, &garden, &Known::default(), &Options::default());
        let mut options = Options::default();
        options.today = Some(plan.start);
        options.worked = again.worked;
        options.files = vec![file.clone()];
        let (now, known_now) = calendar(plan, &of_again, &known, &options);
        let all = (plan, &garden, Some(state));
        let on = (plan.start, again.worked);
        faults.extend(faults_in_calendar(&now, Some(&file), all, on));
        // Once more changes nothing; and nothing is lost with the file of what was told.
        options.files = vec![now.clone()];
        let (once_more, _) = calendar(plan, &of_again, &known_now, &options);
        if once_more != now {
            faults.push("calendar: another one, with nothing new".to_owned());
        }
        options.files = vec![file.clone()];
        let found = Known::of_calendars([file.as_str()]);
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
            of_loop.solution.stock = Some(Conductivity::millisiemens(100.0));
        }
        let planned = planned_alone(&garden);
        let plan = &planned.plan;
        let (calendar, known) = calendar(plan, &garden, &Known::default(), &Options::default());
        let chores = terminal::week::of_week(chores(plan, &garden), date(WEEK));
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

    fn all(&self) -> (&Plan, &Garden, Option<&State>) {
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
    assert!(garden.crops.iter().all(|c| c.called != c.key));
    assert_eq!(to_everybody(&planned, &garden), [""; 0]);
}

/// The first event of a kind, edited; lines are whole in the editor's hands.
fn edited(file: &str, kind: &str, edit: impl Fn(&str) -> String) -> String {
    let whole = wire::unfolded(file);
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
    text.split_terminator("\r\n").map(wire::folded).collect()
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
        let next = chrono::NaiveDate::parse_from_str(&day, "%Y%m%d").expect("a day") + Days::new(1);
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
#[case::much_thinned("water to thin", "check", |e: &str| e.replacen("high\\, about ", "high\\, about 1", 1))]
#[case::no_seedlings("seedlings false", "check", |e: &str| e.replace("Nursery: keep the seedlings moist.", ""))]
#[case::more_seed("where ", "seed-order", |e: &str| e.replacen(": 1", ": 2", 1))]
#[case::more_cups("sown on ", "sow", |e: &str| e.replacen("to have ", "to have 1", 1))]
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
        _ => wire::unfolded(&GOOD.calendar),
    };
    let faults = GOOD.faults_in(&file);
    assert!(faults.iter().any(|f| f.contains(told)), "{faults:#?}");
}

/// The same garden after a mishap, on a day in spring.
struct Later {
    again: Again,
    state: State,
    calendar: String,
}

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
            let lost = if n % 3 == 0 {
                format!("- {{ on: 2027-05-10, lost: {hole} }}\n")
            } else {
                String::new()
            };
            format!("- {{ on: {on}, transplanted: {crop}, hole: {hole} }}\n{lost}")
        })
        .collect();
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("diary.yaml");
    std::fs::write(&path, lines).expect("a diary");
    let diary: Diary = diary::file::read(&path).expect("a diary");
    let again = replanned(garden, &diary, today, &planned.plan);
    let (state, _) = diary::replay(garden, &diary.entries, today);
    let mut options = Options::default();
    options.today = Some(again.planned.plan.start);
    options.files = vec![before.clone()];
    let (calendar, _) = calendar(&again.planned.plan, &again.garden, known, &options);
    Later {
        again,
        state,
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
    let whole = wire::unfolded(&LATER.calendar);
    let parts = whole.split_inclusive("END:VEVENT\r\n").map(|part| {
        let Some(at) = part.find("BEGIN:VEVENT").filter(|_| part.contains(text)) else {
            return part.to_owned();
        };
        format!("{}{}", &part[..at], edit(&part[at..]))
    });
    let spoilt: String = parts.collect();
    let spoilt: String = spoilt.split_terminator("\r\n").map(wire::folded).collect();
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
