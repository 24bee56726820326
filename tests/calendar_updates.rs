//! The calendar again and again: what is told when the plan is made anew.

use std::collections::BTreeMap;

use crate::lantern::{basil, date, garden, head, spring, watered};
use chrono::{Days, NaiveDate, NaiveTime, TimeDelta};
use proptest::prelude::*;
use rstest::rstest;
use steadyleaf::calendar::{
    CalendarOptions, CalendarState, CalendarUpdate, ComponentKind, PublishedEvent, wire,
};
use steadyleaf::chores::{Chore, Kind, chores};
use steadyleaf::garden::Garden;

fn chore(day: &str, kind: Kind, about: &str, summary: &str) -> Chore {
    Chore {
        day: date(day),
        kind,
        about: about.to_owned(),
        summary: summary.to_owned(),
        details: vec!["a detail".to_owned()],
        short_details: None,
    }
}

fn sow(day: &str, crop: &str) -> Chore {
    chore(day, Kind::Sow, crop, &format!("Sow {crop}"))
}

/// What stands in the file, in its order: day, summary, UID, SEQUENCE, LAST-MODIFIED.
fn told(file: &str) -> Vec<[String; 5]> {
    let file = wire::unfold(file);
    let components = file
        .split("BEGIN:V")
        .filter(|c| c.starts_with("EVENT") || c.starts_with("TODO"));
    components
        .map(|component| {
            ["DT", "SUMMARY", "UID", "SEQUENCE", "LAST-MODIFIED"].map(|name| {
                let name = match name {
                    "DT" if component.starts_with("TODO") => "DUE",
                    "DT" => "DTSTART",
                    name => name,
                };
                let value = component.split("\r\n").find_map(|l| l.strip_prefix(name));
                let value = value.and_then(|v| v.split_once(':')).expect(name);
                value.1.replace('\\', "")
            })
        })
        .collect()
}

fn short(file: &str) -> Vec<String> {
    let told = told(file);
    told.iter()
        .map(|[day, summary, ..]| format!("{day} {summary}"))
        .collect()
}

fn options_on(today: &str) -> CalendarOptions {
    let mut options = CalendarOptions::default();
    options.today = Some(date(today));
    options
}

fn update(chores: &[Chore], former: &CalendarState, today: &str) -> (String, CalendarState) {
    let garden = garden();
    let update = CalendarUpdate::new(chores, &garden, former, &options_on(today));
    (update.render(None), update.state().clone())
}

fn anew(chores: &[Chore]) -> CalendarState {
    update(chores, &CalendarState::default(), "2027-03-01").1
}

#[test]
fn made_again_nothing_changes() {
    let garden = garden();
    let chores = chores(&watered(&spring(), &garden), &garden);
    let first = CalendarUpdate::new(
        &chores,
        &garden,
        &CalendarState::default(),
        &CalendarOptions::default(),
    );
    let again = CalendarUpdate::new(&chores, &garden, first.state(), &CalendarOptions::default());
    assert_eq!(first.render(None), again.render(None));
    assert_eq!(first.state(), again.state());
    // Nor on a later day, as long as nothing else does.
    let later = CalendarUpdate::new(&chores, &garden, first.state(), &options_on("2027-03-02"));
    assert_eq!(first.render(None), later.render(None));
}

#[test]
fn only_what_changed_says_so() {
    let before = [sow("2027-03-03", "butterhead"), sow("2027-03-06", "kale")];
    let mut after = before.clone();
    after[1].details = vec!["another detail".to_owned()];
    let (file, state) = update(&after, &anew(&before), "2027-03-02");
    let told = told(&file);
    assert_eq!(told[0][3..], ["0", "20270301T000000Z"]);
    assert_eq!(told[1][3..], ["1", "20270302T000000Z"]);
    // Changed twice on a day, it is still later than before.
    after[1].details.clear();
    let (file, _) = update(&after, &state, "2027-03-02");
    assert_eq!(self::told(&file)[1][3..], ["2", "20270302T000001Z"]);
}

#[test]
fn what_fell_away_is_told_as_cancelled_until_its_day_is_past() {
    let before = [sow("2027-03-03", "butterhead"), sow("2027-03-06", "kale")];
    let after = &before[..1];
    let uid = anew(&before).told[1].uid.clone();
    let (file, state) = update(after, &anew(&before), "2027-03-02");
    assert_eq!(
        short(&file),
        ["20270303 Sow butterhead", "20270306 Cancelled: Sow kale"]
    );
    assert_eq!(told(&file)[1][2..], [uid.as_str(), "1", "20270302T000000Z"]);
    assert!(file.contains("\r\nSTATUS:CANCELLED\r\n"));
    // On its own day somebody may still look for it; the day after nobody does.
    let (again, state) = update(after, &state, "2027-03-06");
    assert_eq!(again, file);
    let (later, state) = update(after, &state, "2027-03-07");
    assert_eq!(short(&later), ["20270303 Sow butterhead"]);
    assert_eq!(state.told.len(), 1);
}

#[test]
fn what_comes_back_is_the_same_event_again() {
    let chores = [sow("2027-03-03", "butterhead"), sow("2027-03-06", "kale")];
    let first = anew(&chores);
    let (_, without) = update(&chores[..1], &first, "2027-03-01");
    let (file, _) = update(&chores, &without, "2027-03-01");
    let told = told(&file);
    assert_eq!(told[1][1..4], ["Sow kale", first.told[1].uid.as_str(), "2"]);
    assert!(!file.contains("\r\nSTATUS:"));
}

/// Within a week a chore about the same takes its event with it; further away, or about something
/// else, it is another one.
#[rstest]
#[case::by_some_days("2027-03-10", "kale", &["20270310 Sow kale"])]
#[case::back("2027-03-03", "kale", &["20270303 Sow kale"])]
#[case::by_a_week("2027-03-13", "kale", &["20270306 Cancelled: Sow kale", "20270313 Sow kale"])]
#[case::another_crop("2027-03-10", "dill", &["20270306 Cancelled: Sow kale", "20270310 Sow dill"])]
fn a_chore_that_moves_takes_its_event_with_it(
    #[case] day: &str,
    #[case] crop: &str,
    #[case] expected: &[&str],
) {
    let before = anew(&[sow("2027-03-06", "kale")]);
    let (file, state) = update(&[sow(day, crop)], &before, "2027-03-02");
    assert_eq!(short(&file), expected);
    let kept = state
        .told
        .iter()
        .any(|t| t.uid == before.told[0].uid && !t.cancelled);
    assert_eq!(kept, expected.len() == 1);
}

#[test]
fn what_is_past_does_not_move() {
    let before = anew(&[sow("2027-03-06", "kale")]);
    let (file, state) = update(&[sow("2027-03-10", "kale")], &before, "2027-03-08");
    assert_eq!(short(&file), ["20270310 Sow kale"]);
    assert_ne!(state.told[0].uid, before.told[0].uid);
}

/// A whole rhythm moves by a day: every event goes with its chore.
#[test]
fn new_workdays_move_every_event() {
    let weekly = |first: &str| -> Vec<Chore> {
        let days = (0..10).map(|w| (date(first) + Days::new(7 * w)).to_string());
        days.map(|day| sow(&day, "kale")).collect()
    };
    let before = anew(&weekly("2027-03-03"));
    let (_, after) = update(&weekly("2027-03-04"), &before, "2027-03-01");
    let uids = |state: &CalendarState| state.told.iter().map(|t| t.uid.clone()).collect::<Vec<_>>();
    assert_eq!(uids(&before), uids(&after));
    assert!(after.told.iter().all(|t| t.sequence == 1 && !t.cancelled));
}

#[test]
fn a_day_whose_event_has_moved_away_gets_one_of_its_own() {
    let before = anew(&[sow("2027-03-06", "kale")]);
    let (_, moved) = update(&[sow("2027-03-10", "kale")], &before, "2027-03-01");
    let both = [sow("2027-03-06", "dill"), sow("2027-03-10", "kale")];
    let (file, state) = update(&both, &moved, "2027-03-01");
    let told = told(&file);
    assert_eq!(told[1][2], before.told[0].uid);
    assert_ne!(told[0][2], told[1][2]);
    assert!(told[0][2].ends_with("-sow-20270306-2@steadyleaf"));
    assert_eq!(update(&both, &state, "2027-03-01").0, file);
}

#[test]
fn a_renamed_garden_keeps_its_events() {
    let chores = [sow("2027-03-06", "kale")];
    let before = anew(&chores);
    let mut garden = garden();
    garden.name = "Elsewhere".to_owned();
    let update = CalendarUpdate::new(&chores, &garden, &before, &options_on("2027-03-01"));
    assert_eq!(update.state().told.len(), 1);
    assert_eq!(update.state().told[0].uid, before.told[0].uid);
    assert_eq!(update.state().told[0].sequence, 1);
}

// ---- Parts of it ----

#[test]
fn what_is_not_asked_for_is_left_as_it_was() {
    let before = [
        sow("2027-03-03", "kale"),
        chore("2027-03-04", Kind::Harvest, "salad", "Harvest salad"),
        sow("2027-03-20", "dill"),
    ];
    let first = anew(&before);
    let garden = garden();
    let mut options = options_on("2027-03-01");
    options.only = vec![Kind::Sow];
    options.days = Some(14);
    // The harvest and the late sowing fall away, which is not asked about.
    let update = CalendarUpdate::new(&before[..1], &garden, &first, &options);
    assert_eq!(short(&update.render(None)), ["20270303 Sow kale"]);
    assert_eq!(update.state(), &first);
    // Asked about everything, both are cancelled.
    let update = CalendarUpdate::new(&before[..1], &garden, &first, &options_on("2027-03-01"));
    assert_eq!(
        update.state().told.iter().filter(|t| t.cancelled).count(),
        2
    );
}

/// Of a series that goes on beyond the days asked for nothing is taken away.
#[test]
fn a_series_goes_on_beyond_a_window() {
    let checks: Vec<Chore> = date("2027-03-01")
        .iter_days()
        .step_by(7)
        .take(60)
        .map(|day| chore(&day.to_string(), Kind::Check, "roof", "Check the rig"))
        .collect();
    let first = anew(&checks);
    assert!(first.told.iter().any(|told| told.last.is_some()));
    let garden = garden();
    let mut options = options_on("2027-03-01");
    options.days = Some(14);
    let part = CalendarUpdate::new(&checks, &garden, &first, &options);
    let whole = CalendarUpdate::new(&checks, &garden, &first, &options_on("2027-03-01"));
    assert_eq!(part.render(None), whole.render(None));
    assert_eq!(part.state(), &first);
    // Asked for the first time, it ends with the window.
    let part = CalendarUpdate::new(&checks, &garden, &CalendarState::default(), &options);
    let told = &part.state().told[..];
    assert_eq!(told.len(), 1);
    assert_eq!(told[0].last, Some(date("2027-03-08")));
}

#[test]
fn a_window_is_so_many_days_from_today() {
    let chores: Vec<Chore> = date("2027-03-01")
        .iter_days()
        .take(40)
        .map(|day| sow(&day.to_string(), "kale"))
        .collect();
    let garden = garden();
    let mut options = options_on("2027-03-10");
    options.days = Some(3);
    let file =
        CalendarUpdate::new(&chores, &garden, &CalendarState::default(), &options).render(None);
    let days: Vec<String> = told(&file).into_iter().map(|[day, ..]| day).collect();
    assert_eq!(days, ["20270310", "20270311", "20270312"]);
}

#[test]
fn a_file_of_each_kind_holds_that_kind_and_says_so() {
    let garden = garden();
    let chores = chores(&watered(&spring(), &garden), &garden);
    let update = CalendarUpdate::new(
        &chores,
        &garden,
        &CalendarState::default(),
        &CalendarOptions::default(),
    );
    let mut all = 0;
    for kind in Kind::ALL {
        let file = update.render(Some(kind));
        let of_kind = told(&file).len();
        assert_eq!(update.has_kind(kind), of_kind > 0, "{kind:?}");
        let name = format!(
            "NAME:Lantern Court rooftop: {}\r\n",
            kind.name(garden.language)
        );
        assert!(file.contains(&name));
        all += of_kind;
    }
    assert_eq!(all, told(&update.render(None)).len());
}

#[test]
fn tasks_are_due_on_their_day_and_are_no_events() {
    let garden = garden();
    let mut options = CalendarOptions::default().ring_before(TimeDelta::hours(14));
    options.form = ComponentKind::Todos;
    let chores = [sow("2027-03-03", "kale")];
    let events = anew(&chores);
    let update = CalendarUpdate::new(&chores, &garden, &events, &options);
    let file = update.render(None);
    assert!(file.contains("BEGIN:VTODO\r\n") && !file.contains("VEVENT"));
    assert!(file.contains("\r\nDUE;VALUE=DATE:20270303\r\n"));
    // RFC 5545, 3.8.6.3: related to the end, as there is no start.
    assert!(file.contains("\r\nTRIGGER;RELATED=END:-PT14H\r\n"));
    // RFC 5545, 3.6.2: these belong to events alone.
    assert!(!file.contains("TRANSP") && !file.contains("DTEND"));
    // The event is not told, but remembered, under a UID of its own.
    let uids: Vec<&str> = update.state().told.iter().map(|t| t.uid.as_str()).collect();
    assert_eq!(uids.len(), 2);
    assert_ne!(uids[0], uids[1]);
    assert!(update.state().told.iter().all(|t| !t.cancelled));
}

#[test]
fn the_garden_may_ask_for_an_alarm() {
    let mut garden = garden();
    garden.rhythm.alarm = Some(steadyleaf::units::Hours::hours(14.0));
    let chores = [sow("2027-03-03", "kale")];
    let told = CalendarUpdate::new(
        &chores,
        &garden,
        &CalendarState::default(),
        &CalendarOptions::default(),
    );
    assert!(told.render(None).contains("\r\nTRIGGER:-PT14H\r\n"));
    // What is cancelled does not ring.
    let cancelled = CalendarUpdate::new(&[], &garden, told.state(), &CalendarOptions::default());
    assert!(!cancelled.render(None).contains("VALARM"));
}

#[rstest]
#[case("14 h", Ok(840))]
#[case("30 min", Ok(30))]
#[case("1 min", Err("between"))]
#[case("-2 h", Err("between"))]
#[case("14", Err("unit"))]
#[case("soon", Err(""))]
fn an_alarms_time_is_read_with_its_unit(#[case] text: &str, #[case] read: Result<i64, &str>) {
    match (steadyleaf::garden::parse_alarm(text), read) {
        (Ok(time), Ok(minutes)) => assert_eq!(time.num_minutes(), minutes),
        (Err(message), Err(part)) => assert!(message.contains(part), "{message}"),
        (found, _) => panic!("{found:?}"),
    }
}

// ---- Series ----

/// A check on Wednesdays and Saturdays that reads the same but on the days given.
fn checks(days: u64, other: &[&str]) -> Vec<Chore> {
    let garden = garden();
    let start = date("2027-03-03");
    let workdays = start.iter_days().take(days as usize);
    workdays
        .filter(|day| garden.rhythm.is_workday(*day))
        .map(|day| {
            let day = day.to_string();
            let summary = if other.contains(&day.as_str()) {
                "Fill"
            } else {
                "Check"
            };
            chore(&day, Kind::Check, "roof", summary)
        })
        .collect()
}

#[test]
fn a_chore_that_reads_the_same_on_many_days_is_a_series() {
    // 50 days are told one by one, 51 are a series.
    let (few, _) = update(&checks(175, &[]), &CalendarState::default(), "2027-03-01");
    assert_eq!(told(&few).len(), 50);
    let (many, _) = update(&checks(176, &[]), &CalendarState::default(), "2027-03-01");
    assert_eq!(told(&many).len(), 1);
    let lines: Vec<&str> = many.lines().filter(|l| l.starts_with("RRULE")).collect();
    assert_eq!(lines, ["RRULE:FREQ=WEEKLY;UNTIL=20270825;BYDAY=WE,SA"]);
}

#[test]
fn a_day_that_reads_otherwise_is_a_gap_and_an_event_of_its_own() {
    let (file, state) = update(
        &checks(365, &["2027-05-05", "2027-08-04"]),
        &CalendarState::default(),
        "2027-03-01",
    );
    assert_eq!(
        short(&file),
        ["20270303 Check", "20270505 Fill", "20270804 Fill"]
    );
    let gaps: Vec<&str> = file.lines().filter(|l| l.starts_with("EXDATE")).collect();
    assert_eq!(
        gaps,
        ["EXDATE;VALUE=DATE:20270505", "EXDATE;VALUE=DATE:20270804"]
    );
    assert!(!file.contains("RECURRENCE-ID"));
    assert_eq!(CalendarState::from_calendars([file.as_str()]), state);
}

#[test]
fn a_series_has_the_clock_of_its_first_day() {
    let mut garden = garden();
    garden.rhythm.remind_at = NaiveTime::from_hms_opt(8, 0, 0);
    let chores = checks(365, &["2027-05-05"]);
    let file = CalendarUpdate::new(
        &chores,
        &garden,
        &CalendarState::default(),
        &CalendarOptions::default(),
    )
    .render(None);
    // RFC 5545, 3.3.10: in UTC where the start is local; 26 February 08:00 in Madrid.
    assert!(
        file.contains("RRULE:FREQ=WEEKLY;UNTIL=20280301T070000Z;BYDAY=WE,SA"),
        "{file}"
    );
    assert!(file.contains("EXDATE;TZID=Europe/Madrid:20270505T080000"));
}

#[test]
fn a_series_goes_on_when_its_text_changes_and_its_days_get_fewer() {
    let before = anew(&checks(365, &[]));
    assert_eq!(before.told.len(), 1);
    let uid = before.told[0].uid.clone();
    let mut fewer = checks(100, &[]);
    for chore in &mut fewer {
        chore.summary = "Look".to_owned();
    }
    let (file, state) = update(&fewer, &before, "2027-03-01");
    assert_eq!(short(&file), ["20270303 Look"]);
    assert_eq!((&state.told[0].uid, state.told[0].sequence), (&uid, 1));
    // Gone altogether, one day tells of it.
    let (file, _) = update(&[], &state, "2027-04-01");
    assert_eq!(short(&file), ["20270401 Cancelled: Look"]);
    assert!(!file.contains("RRULE"));
}

#[test]
fn what_was_told_day_by_day_stays_so() {
    let before = anew(&checks(100, &[]));
    let (file, state) = update(&checks(365, &[]), &before, "2027-03-01");
    assert_eq!(told(&file).len(), checks(365, &[]).len());
    assert!(state.told.iter().all(|t| !t.cancelled && t.sequence == 0));
}

// ---- The state ----

#[test]
fn a_lost_state_is_known_again_from_the_calendar() {
    let mut garden = garden();
    for remind_at in [None, NaiveTime::from_hms_opt(8, 0, 0)] {
        garden.rhythm.remind_at = remind_at;
        let chores = chores(&watered(&spring(), &garden), &garden);
        let first = CalendarUpdate::new(
            &chores,
            &garden,
            &CalendarState::default(),
            &CalendarOptions::default(),
        );
        let half = CalendarUpdate::new(
            &chores[..40],
            &garden,
            first.state(),
            &options_on("2027-03-05"),
        );
        let file = half.render(None);
        assert!(half.state().told.iter().any(|t| t.cancelled));
        assert_eq!(
            &CalendarState::from_calendars([file.as_str()]),
            half.state()
        );
    }
}

#[test]
fn of_an_event_in_two_files_the_later_counts() {
    let before = [sow("2027-03-03", "kale")];
    let (old, state) = update(&before, &CalendarState::default(), "2027-03-01");
    let (new, state) = update(&[sow("2027-03-04", "kale")], &state, "2027-03-01");
    assert_eq!(
        CalendarState::from_calendars([old.as_str(), new.as_str()]),
        state
    );
    assert_eq!(
        CalendarState::from_calendars([new.as_str(), old.as_str()]),
        state
    );
}

#[test]
fn somebody_elses_calendar_tells_nothing() {
    let (file, _) = update(
        &[sow("2027-03-03", "kale")],
        &CalendarState::default(),
        "2027-03-01",
    );
    let theirs = file.replace("PRODID:-//Steadyleaf", "PRODID:-//Other");
    assert_eq!(
        CalendarState::from_calendars([theirs.as_str()]),
        CalendarState::default()
    );
    assert_eq!(
        CalendarState::from_calendars(["", "BEGIN:VEVENT\r\nUID:x"]),
        CalendarState::default()
    );
}

#[rstest]
#[case("")]
#[case("{}")]
#[case(r#"{"schema": 1, "made_by": "somebody", "told": []}"#)]
#[case(r#"{"schema": 2, "made_by": "steadyleaf 9.0.0", "told": []}"#)]
fn what_is_no_state_of_ours_is_not_read(#[case] text: &str) {
    assert_eq!(CalendarState::parse(text), None);
}

#[test]
fn the_state_is_read_as_it_was_written() {
    let state = anew(&checks(365, &["2027-05-05"]));
    assert_eq!(CalendarState::parse(&state.to_json()), Some(state));
}

// ---- Any change ----

fn any_chores() -> impl Strategy<Value = Vec<Chore>> {
    let one = (0u64..60, 0usize..4, 0usize..3, 0usize..3);
    proptest::collection::vec(one, 0..40).prop_map(|many| {
        // At most one of a kind on a day, as the chores are.
        let mut unique = BTreeMap::new();
        for (day, kind, about, text) in many {
            let day = date("2027-03-01") + Days::new(day);
            let kind = [Kind::Sow, Kind::Harvest, Kind::Check, Kind::Clear][kind];
            let about = ["kale", "dill", "mint"][about];
            let summary = format!("{} {about} {text}", kind.key());
            unique.insert((day, kind), chore(&day.to_string(), kind, about, &summary));
        }
        unique.into_values().collect()
    })
}

/// A calendar app that takes a file by UID: replaces, adds, and drops what is cancelled.
fn import(app: &mut BTreeMap<String, (NaiveDate, String, u32)>, state: &CalendarState) {
    for PublishedEvent {
        uid,
        day,
        summary,
        sequence,
        cancelled,
        ..
    } in &state.told
    {
        if let Some((_, _, before)) = app.get(uid) {
            assert!(before <= sequence, "{uid} went back");
        }
        if *cancelled {
            app.remove(uid);
        } else {
            app.insert(uid.clone(), (*day, summary.clone(), *sequence));
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    /// Whatever the plans, an app that takes them in turn holds the last one, nothing doubled
    /// and nothing stale.
    #[test]
    fn an_app_that_takes_every_plan_holds_the_last(
        plans in proptest::collection::vec(any_chores(), 1..6),
    ) {
        let garden: Garden = garden();
        let mut state = CalendarState::default();
        let mut app = BTreeMap::new();
        for chores in &plans {
            let update = CalendarUpdate::new(chores, &garden, &state, &CalendarOptions::default());
            let file = update.render(None);
            let mut uids: Vec<String> = told(&file).into_iter().map(|[_, _, uid, ..]| uid).collect();
            let all = uids.len();
            uids.sort();
            uids.dedup();
            prop_assert_eq!(uids.len(), all);
            prop_assert_eq!(&CalendarState::from_calendars([file.as_str()]), update.state());
            state = update.state().clone();
            import(&mut app, &state);
            let mut held: Vec<(NaiveDate, String)> =
                app.values().map(|(day, summary, _)| (*day, summary.clone())).collect();
            held.sort();
            let mut wanted: Vec<(NaiveDate, String)> =
                chores.iter().map(|c| (c.day, c.summary.clone())).collect();
            wanted.sort();
            prop_assert_eq!(held, wanted);
        }
    }
}

#[test]
fn an_eventful_replan_in_the_garden_stays_clean() {
    let garden = garden();
    let before = CalendarUpdate::new(
        &chores(&watered(&spring(), &garden), &garden),
        &garden,
        &CalendarState::default(),
        &CalendarOptions::default(),
    );
    let mut plan = spring();
    plan.stays.truncate(6);
    plan.stays.push(basil(
        "wall-1-1",
        "2027-03-06",
        "2027-03-27",
        &[("2027-04-17", 28.0)],
    ));
    plan.stays.push(head(
        "deck-1-1",
        "butterhead",
        ["2027-03-10", "2027-03-27", "2027-04-24"],
    ));
    let replanned = chores(&watered(&plan, &garden), &garden);
    let after = CalendarUpdate::new(
        &replanned,
        &garden,
        before.state(),
        &options_on("2027-03-04"),
    );
    let mut app = BTreeMap::new();
    import(&mut app, before.state());
    import(&mut app, after.state());
    // What is past stays as it was; from today on the app holds the plan and nothing else.
    let today = date("2027-03-04");
    let mut held: Vec<(NaiveDate, String)> = app.into_values().map(|(d, s, _)| (d, s)).collect();
    held.retain(|(day, _)| *day >= today);
    held.sort();
    let mut wanted: Vec<(NaiveDate, String)> = replanned
        .iter()
        .map(|c| (c.day, c.summary.clone()))
        .collect();
    wanted.retain(|(day, _)| *day >= today);
    wanted.sort();
    assert_eq!(held, wanted);
}
