//! Chores as iCalendar: by the letter of RFC 5545 and as two independent parsers read it.

use std::str::FromStr;

use crate::lantern::{date, empty_plan, garden, head, spring, watered};
use calcard::icalendar::{
    ICalendar, ICalendarComponent, ICalendarParameterName, ICalendarProperty,
};
use chrono::{DateTime, Datelike, Days, NaiveDate, NaiveTime, TimeDelta, TimeZone, Utc};
use chrono_tz::Tz;
use icalendar::Component;
use proptest::prelude::*;
use rstest::rstest;
use steadyleaf::calendar::{
    self, CalendarOptions, CalendarState, CalendarUpdate, ComponentKind, calendar, text, uid, wire,
};
use steadyleaf::chores::{Chore, Kind, chores};
use steadyleaf::garden::Garden;
use steadyleaf::terminal;

/// What an event says to its reader.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Read {
    uid: String,
    start: String,
    end: String,
    zone: Option<String>,
    summary: String,
    description: String,
    location: String,
    categories: String,
}

/// As the `calcard` crate reads the file.
fn by_calcard(file: &str) -> Vec<Read> {
    let parsed = ICalendar::parse(file).expect("calcard reads it");
    let events = parsed
        .components
        .iter()
        .filter(|c| c.component_type.is_event());
    events.map(calcard_event).collect()
}

fn calcard_event(event: &ICalendarComponent) -> Read {
    let entry = |name: &ICalendarProperty| event.property(name);
    let text = |name| {
        let value = entry(&name).and_then(|e| e.values.first());
        value
            .and_then(|v| v.as_text())
            .unwrap_or_default()
            .to_owned()
    };
    let time = |name| {
        let value = entry(&name).and_then(|e| e.values.first()).expect("a time");
        let time = value.as_partial_date_time().expect("a time");
        let part = |part: Option<u8>| part.map_or(String::new(), |p| format!("{p:02}"));
        let day = format!(
            "{:04}{}{}",
            time.year.expect("a year"),
            part(time.month),
            part(time.day)
        );
        match time.hour {
            None => day,
            Some(_) => format!(
                "{day}T{}{}{}",
                part(time.hour),
                part(time.minute),
                part(time.second)
            ),
        }
    };
    let zone = entry(&ICalendarProperty::Dtstart)
        .and_then(|e| e.parameter(&ICalendarParameterName::Tzid))
        .and_then(|zone| zone.as_text().map(str::to_owned));
    Read {
        uid: text(ICalendarProperty::Uid),
        start: time(ICalendarProperty::Dtstart),
        end: time(ICalendarProperty::Dtend),
        zone,
        summary: text(ICalendarProperty::Summary),
        description: text(ICalendarProperty::Description),
        location: text(ICalendarProperty::Location),
        categories: text(ICalendarProperty::Categories),
    }
}

/// As the `icalendar` crate's parser reads the file; it shares no code with its writer.
fn by_icalendar(file: &str) -> Vec<Read> {
    let parsed = icalendar::Calendar::from_str(file).expect("icalendar reads it");
    let read = |event: &icalendar::Event| {
        let text = |key: &str| event.property_value(key).unwrap_or_default().to_owned();
        let start = &event.properties()["DTSTART"];
        Read {
            uid: text("UID"),
            start: text("DTSTART"),
            end: text("DTEND"),
            zone: start.params().get("TZID").map(|p| p.value().to_owned()),
            summary: text("SUMMARY"),
            description: text("DESCRIPTION"),
            location: text("LOCATION"),
            categories: event.multi_properties()["CATEGORIES"][0].value().to_owned(),
        }
    };
    parsed.events().map(read).collect()
}

/// What a chore should be read as.
fn meant(chore: &Chore, garden: &Garden) -> Read {
    let day = |day: NaiveDate| day.format("%Y%m%d").to_string();
    Read {
        uid: uid(chore, garden),
        start: day(chore.day),
        end: day(chore.day + Days::new(1)),
        zone: None,
        summary: text::one_line(&chore.summary),
        description: text::join_lines(&chore.details),
        location: text::one_line(&garden.name),
        categories: chore.kind.name(garden.language),
    }
}

/// RFC 5545, 3.1, on the bytes: every line ends in CR LF, no other CR or LF, none is longer than
/// 75 octets, each is whole UTF-8; no byte order mark.
fn assert_lines_are_right(file: &str) {
    assert!(file.ends_with("\r\n"));
    assert!(!file.starts_with('\u{feff}'));
    for line in file.as_bytes().split(|b| *b == b'\n') {
        let Some((end, line)) = line.split_last() else {
            continue;
        };
        assert_eq!(*end, b'\r');
        assert!(!line.contains(&b'\r'));
        assert!(line.len() <= 75, "{}", String::from_utf8_lossy(line));
        assert!(std::str::from_utf8(line).is_ok());
        assert!(!line.is_empty());
    }
}

/// Whole content lines that begin with a name.
fn content<'a>(unfolded: &'a str, name: &str) -> Vec<&'a str> {
    unfolded
        .split("\r\n")
        .filter(|line| line.starts_with(name))
        .collect()
}

fn chore(day: &str, kind: Kind, summary: &str, details: &[&str]) -> Chore {
    Chore {
        day: date(day),
        kind,
        about: String::new(),
        summary: summary.to_owned(),
        details: details.iter().map(|line| (*line).to_owned()).collect(),
        short_details: None,
    }
}

fn two_chores() -> Vec<Chore> {
    vec![
        chore(
            "2027-03-03",
            Kind::Sow,
            "Sow butterhead lettuce (9 seeds)",
            &["One a cell, to have 6", "For transplant on Sat 20 March"],
        ),
        chore(
            "2027-03-20",
            Kind::Transplant,
            "Transplant 6 butterhead lettuce",
            &["Into deck-1: 2, 5; wall-2: 1-4"],
        ),
    ]
}

#[test]
fn a_small_calendar_reads_well() {
    insta::assert_snapshot!(
        "all_day",
        calendar(&two_chores(), &garden()).replace("\r\n", "\n")
    );
}

#[test]
fn a_small_timed_calendar_reads_well() {
    let mut garden = garden();
    garden.rhythm.remind_at = NaiveTime::from_hms_opt(8, 0, 0);
    let options = CalendarOptions::default().ring_before(TimeDelta::minutes(15));
    let file = calendar::render_with_options(&two_chores(), &garden, &options);
    assert_lines_are_right(&file);
    insta::assert_snapshot!("timed", file.replace("\r\n", "\n"));
}

#[test]
fn two_parsers_read_a_year_alike() {
    let garden = garden();
    let chores = chores(&year(), &garden);
    let file = calendar(&chores, &garden);
    assert_lines_are_right(&file);
    assert!(chores.len() > 250, "{}", chores.len());
    assert_eq!(by_calcard(&file), by_icalendar(&file));
    let read = by_calcard(&file);
    let series = |r: &&Read| r.uid.contains("-series@");
    assert_eq!(read.iter().filter(series).count(), 1);

    // Every chore is read on its day, and nothing else is.
    let mut expected: Vec<(NaiveDate, String, String)> = chores
        .iter()
        .map(|c| meant(c, &garden))
        .zip(&chores)
        .map(|(m, chore)| (chore.day, m.summary, m.description))
        .collect();
    expected.sort();
    let parsed = ICalendar::parse(&file).expect("calcard reads it");
    let text = |id: u32, name| {
        let value = parsed.components[id as usize].property(name);
        let value = value
            .and_then(|p| p.values.first())
            .and_then(|v| v.as_text());
        value.unwrap_or_default().to_owned()
    };
    let expanded = parsed.expand_dates(calcard::common::timezone::Tz::UTC, 10_000);
    assert_eq!(expanded.errors, []);
    let mut found: Vec<(NaiveDate, String, String)> = expanded
        .events
        .iter()
        .map(|e| {
            (
                e.start.date_naive(),
                text(e.comp_id, &ICalendarProperty::Summary),
                text(e.comp_id, &ICalendarProperty::Description),
            )
        })
        .collect();
    found.sort();
    assert_eq!(found, expected);
}

/// 24 holes, planted again as soon as they are free, for a year: 300 stays and more.
fn year() -> steadyleaf::plan::Plan {
    let mut plan = spring();
    let day = |first: &str, days: u64| (date(first) + Days::new(days)).to_string();
    for hole in 1..=24_u64 {
        for turn in 0..13 {
            let removal = day("2027-03-31", 7 * (hole % 4) + 28 * turn);
            let transplant = day(&removal, 0);
            let sow = day("2027-03-03", 7 * (hole % 4) + 28 * turn);
            let removal = day(&removal, 28);
            let name = format!("wall-{}-{}", hole % 3 + 1, hole / 3 + 5);
            plan.stays
                .push(head(&name, "butterhead", [&sow, &transplant, &removal]));
        }
    }
    assert!(plan.stays.len() > 300);
    watered(&plan, &garden())
}

#[test]
fn the_same_garden_gives_the_same_bytes() {
    let mut garden = garden();
    let options = CalendarOptions::default().ring_before(TimeDelta::hours(14));
    for remind_at in [None, NaiveTime::from_hms_opt(8, 0, 0)] {
        garden.rhythm.remind_at = remind_at;
        let made = || calendar::render_with_options(&chores(&year(), &garden), &garden, &options);
        let first = made();
        // Longer than the second that a stamp off the clock would show.
        std::thread::sleep(std::time::Duration::from_millis(1100));
        assert_eq!(first, made());
    }
}

/// A file holds an event once, whatever else it holds.
#[test]
fn identities_differ_and_are_plain() {
    let garden = garden();
    let chores = chores(&year(), &garden);
    let mut uids: Vec<String> = chores.iter().map(|c| uid(c, &garden)).collect();
    let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || matches!(c, '-' | '@');
    assert!(uids.iter().all(|uid| uid.chars().all(plain)));
    let all = uids.len();
    uids.sort_unstable();
    uids.dedup();
    assert_eq!(uids.len(), all);
}

#[test]
fn identity_outlives_a_change_of_text_but_not_of_garden() {
    let garden = garden();
    let mut chore = two_chores().remove(0);
    let before = uid(&chore, &garden);
    assert_eq!(
        before,
        "lantern-court-rooftop-fc11f11f-sow-20270303@steadyleaf"
    );
    chore.summary = "Sow nothing".to_owned();
    chore.details.clear();
    chore.about = "something else".to_owned();
    assert_eq!(uid(&chore, &garden), before);
    for name in [
        "Lantern Court rooftop 2",
        "lantern court rooftop",
        "Lántern Court rooftop",
        "خس",
        "🥬",
        "",
    ] {
        let mut other = garden.clone();
        other.name = name.to_owned();
        assert_ne!(uid(&chore, &other), before, "{name}");
        assert!(uid(&chore, &other).len() < 100);
    }
}

#[test]
fn our_calendars_are_known_from_others() {
    assert!(calendar::is_ours(&calendar(&two_chores(), &garden())));
    assert!(!calendar::is_ours(
        "BEGIN:VCALENDAR\r\nPRODID:-//Somebody//Else//EN\r\nEND:VCALENDAR\r\n"
    ));
    // Not by what an event only tells of.
    let tale = chore(
        "2027-03-03",
        Kind::Sow,
        "x",
        &["PRODID:-//Steadyleaf//Steadyleaf//EN"],
    );
    let file = calendar(&[tale], &garden());
    assert!(!calendar::is_ours(&file.replacen(
        "PRODID:-//Steadyleaf",
        "PRODID:-//Other",
        1
    )));
}

/// RFC 5545, 3.6: at least one component.
#[test]
fn a_calendar_without_chores_is_still_one() {
    let file = calendar(&[], &garden());
    assert_lines_are_right(&file);
    assert!(file.contains("BEGIN:VTIMEZONE"));
    assert_eq!(by_calcard(&file), []);
    assert_eq!(by_icalendar(&file), []);
}

#[test]
fn all_day_events_end_on_the_day_after_and_block_nobodys_day() {
    let eve = chore("2027-12-31", Kind::Check, "Check", &[]);
    let leap = chore("2028-02-29", Kind::Check, "Check", &[]);
    let file = wire::unfold(&calendar(&[eve, leap], &garden()));
    assert_eq!(
        content(&file, "DTSTART"),
        ["DTSTART;VALUE=DATE:20271231", "DTSTART;VALUE=DATE:20280229"]
    );
    assert_eq!(
        content(&file, "DTEND"),
        ["DTEND;VALUE=DATE:20280101", "DTEND;VALUE=DATE:20280301"]
    );
    assert_eq!(content(&file, "TRANSP"), ["TRANSP:TRANSPARENT"; 2]);
    assert_eq!(
        content(&file, "X-MICROSOFT"),
        ["X-MICROSOFT-CDO-BUSYSTATUS:FREE"; 2]
    );
    assert_eq!(content(&file, "GEO"), ["GEO:39.5;-0.4"; 2]);
    assert_eq!(content(&file, "DTSTAMP"), ["DTSTAMP:20270301T000000Z"; 2]);
    assert!(!file.contains("VALARM"));
}

/// A place of which only the latitude is known is nowhere on a map.
#[test]
fn half_a_place_is_none() {
    let mut garden = garden();
    garden.place.longitude = None;
    let check = chore("2027-03-03", Kind::Check, "Check", &[]);
    let file = wire::unfold(&calendar(&[check], &garden));
    assert!(!file.contains("GEO"), "{file}");
    assert!(file.contains("SUMMARY:Check"));
    assert!(!terminal::check::render_check(&garden).contains("degrees east"));
}

#[rstest]
#[case::minutes(TimeDelta::minutes(15), "TRIGGER:-PT15M")]
#[case::hours(TimeDelta::hours(14), "TRIGGER:-PT14H")]
#[case::both(TimeDelta::minutes(90), "TRIGGER:-PT1H30M")]
fn an_alarm_rings_before_the_start_and_only_when_asked_for(
    #[case] before: TimeDelta,
    #[case] trigger: &str,
) {
    let options = CalendarOptions::default().ring_before(before);
    let file = wire::unfold(&calendar::render_with_options(
        &two_chores(),
        &garden(),
        &options,
    ));
    assert_eq!(content(&file, "TRIGGER"), [trigger; 2]);
    let alarm = file
        .split("BEGIN:VALARM\r\n")
        .nth(1)
        .and_then(|a| a.split("END:VALARM").next())
        .expect("an alarm");
    let lines: Vec<&str> = alarm.split_terminator("\r\n").collect();
    // RFC 5545, 3.6.6: a shown alarm has these three, and no stamp or identity of its own.
    assert_eq!(
        lines,
        [
            "ACTION:DISPLAY",
            "DESCRIPTION:Sow butterhead lettuce (9 seeds)",
            trigger
        ]
    );
}

#[test]
#[should_panic(expected = "before the start")]
fn an_alarm_cannot_ring_after_the_start() {
    let _ = CalendarOptions::default().ring_before(TimeDelta::minutes(-5));
}

// ---- Lines ----

/// RFC 5545, 3.1: the sums of octets follow from its rule (75 octets to a line, a blank before
/// each continuation).
#[rstest]
#[case::just_fits(format!("DESCRIPTION:{}", "a".repeat(63)), &[75])]
#[case::one_too_many(format!("DESCRIPTION:{}", "a".repeat(64)), &[75, 2])]
#[case::two_octets_each(format!("SUMMARY:{}", "\u{e9}".repeat(60)), &[74, 55])]
#[case::a_last_part_of_75(format!("SUMMARY:{}", "a".repeat(75 + 75 - 8)), &[75, 75, 2])]
#[case::four_octets_each(format!("SUMMARY:{}", "🥬".repeat(40)), &[72, 73, 25])]
fn lines_are_folded_between_characters(#[case] line: String, #[case] octets: &[usize]) {
    let folded = wire::fold(&line);
    assert_lines_are_right(&folded);
    let lengths: Vec<usize> = folded.split_terminator("\r\n").map(str::len).collect();
    assert_eq!(lengths, octets);
    assert_eq!(wire::unfold(&folded), format!("{line}\r\n"));
}

/// The example of RFC 5545, 3.1.
#[test]
fn folded_lines_are_read_as_the_standard_shows() {
    assert_eq!(
        wire::unfold(
            "DESCRIPTION:This is a lo\r\n ng description\r\n  that exists on a long line.\r\n"
        ),
        "DESCRIPTION:This is a long description that exists on a long line.\r\n"
    );
}

// ---- Time zones ----

/// The changes of the clocks in 2026, from the IANA database by way of Python's zoneinfo:
/// Berlin 29 March 01:00 and 25 October 01:00 UTC, New York 8 March 07:00 and 1 November 06:00
/// UTC; Kolkata has none.
#[rstest]
#[case("Europe/Berlin", &["2026-03-29T01:00:00Z +0100 +0200 CEST", "2026-10-25T01:00:00Z +0200 +0100 CET"])]
#[case("America/New_York", &["2026-03-08T07:00:00Z -0500 -0400 EDT", "2026-11-01T06:00:00Z -0400 -0500 EST"])]
#[case("Asia/Kolkata", &[])]
fn the_zone_changes_when_the_clocks_do(#[case] zone: &str, #[case] changes: &[&str]) {
    let file = timed(zone, "08:00", &["2026-06-01"]);
    let found: Vec<String> = observances(&file)
        .into_iter()
        .skip(1)
        .map(|o| {
            format!(
                "{} {} {} {}",
                o.begins.format("%Y-%m-%dT%H:%M:%SZ"),
                o.from,
                o.to,
                o.name
            )
        })
        .collect();
    assert_eq!(found, changes);
}

/// Hours between 08:00 on two days with a change of the clocks between them; zoneinfo gives the
/// same.
#[rstest]
#[case("Europe/Helsinki", ["2026-03-28", "2026-03-30"], 47)]
#[case("America/New_York", ["2026-10-31", "2026-11-02"], 49)]
#[case("Asia/Kolkata", ["2026-03-28", "2026-03-30"], 48)]
fn eight_oclock_is_eight_oclock_on_both_sides(
    #[case] zone: &str,
    #[case] days: [&str; 2],
    #[case] hours: i64,
) {
    let file = timed(zone, "08:00", &days);
    let read = by_calcard(&file);
    assert_eq!(by_icalendar(&file), read);
    let starts: Vec<&str> = read.iter().map(|r| r.start.as_str()).collect();
    assert_eq!(
        starts,
        days.map(|day| format!("{}T080000", day.replace('-', "")))
    );
    assert!(read.iter().all(|r| r.zone.as_deref() == Some(zone)));
    assert!(read.iter().all(|r| r.end.ends_with("T083000")));
    // By the rules in the file alone, as an app that knows no zones reads it.
    let [first, second] = [0, 1].map(|i| utc_by_the_file(&file, &read[i].start));
    assert_eq!((second - first).num_hours(), hours);
}

/// By the rules in the file alone, every event is when the IANA database says; in zones of both
/// halves of the earth, with odd offsets, and over the turn of the year.
#[rstest]
fn the_zone_in_the_file_is_right_on_every_day(
    #[values(
        "Europe/Helsinki",
        "America/New_York",
        "Asia/Kolkata",
        "Australia/Lord_Howe",
        "Europe/Dublin",
        "Africa/Casablanca",
        "America/St_Johns",
        "Pacific/Chatham",
        "Pacific/Kiritimati",
        "UTC"
    )]
    zone: &str,
) {
    let days: Vec<NaiveDate> = date("2026-11-20").iter_days().take(420).collect();
    let text: Vec<String> = days.iter().map(NaiveDate::to_string).collect();
    let text: Vec<&str> = text.iter().map(String::as_str).collect();
    let file = timed(zone, "08:00", &text);
    let tz: Tz = zone.parse().expect("a zone");
    for (day, read) in days.iter().zip(by_icalendar(&file)) {
        let truly = tz.from_local_datetime(&day.and_hms_opt(8, 0, 0).expect("a time"));
        assert_eq!(
            utc_by_the_file(&file, &read.start),
            truly.unwrap().to_utc(),
            "{day}"
        );
    }
}

/// 28 March 2027, 02:30 does not exist in Madrid: the clocks then show 03:30.
#[rstest]
#[case::skipped("02:30", "20270328T033000", "20270328T040000")]
#[case::end_skipped("01:45", "20270328T014500", "20270328T031500")]
#[case::into_the_next_day("23:45", "20270328T234500", "20270329T001500")]
fn a_time_that_the_clocks_skip_is_told_as_they_show_it(
    #[case] at: &str,
    #[case] start: &str,
    #[case] end: &str,
) {
    let read = by_calcard(&timed("Europe/Madrid", at, &["2027-03-28"]));
    assert_eq!((read[0].start.as_str(), read[0].end.as_str()), (start, end));
}

fn timed(zone: &str, at: &str, days: &[&str]) -> String {
    let mut garden = garden();
    garden.place.timezone = zone.parse().expect("a zone");
    garden.rhythm.remind_at = Some(NaiveTime::parse_from_str(at, "%H:%M").expect("a time"));
    let chores: Vec<Chore> = days
        .iter()
        .map(|day| chore(day, Kind::Check, "Check", &[]))
        .collect();
    let file = calendar(&chores, &garden);
    assert_lines_are_right(&file);
    file
}

struct Observance {
    begins: DateTime<Utc>,
    local: chrono::NaiveDateTime,
    from: String,
    to: String,
    name: String,
}

fn seconds(offset: &str) -> i64 {
    let number = |range: std::ops::Range<usize>| offset[range].parse::<i64>().expect("digits");
    let size = number(1..3) * 3600 + number(3..5) * 60;
    if offset.starts_with('-') { -size } else { size }
}

/// The observances of a file's zone, in its order.
fn observances(file: &str) -> Vec<Observance> {
    let file = wire::unfold(file);
    let zone = file
        .split("BEGIN:VTIMEZONE")
        .nth(1)
        .and_then(|z| z.split("END:VTIMEZONE").next())
        .expect("a zone");
    assert!(!zone.contains("UID:") && !zone.contains("DTSTAMP:"));
    zone.split("BEGIN:")
        .skip(1)
        .map(|text| {
            let value = |name: &str| content(text, name)[0][name.len() + 1..].to_owned();
            let local = chrono::NaiveDateTime::parse_from_str(&value("DTSTART"), "%Y%m%dT%H%M%S")
                .expect("a time");
            let from = value("TZOFFSETFROM");
            Observance {
                begins: (local - TimeDelta::seconds(seconds(&from))).and_utc(),
                local,
                from,
                to: value("TZOFFSETTO"),
                // Zones without letters of their own have no name.
                name: content(text, "TZNAME")
                    .first()
                    .map_or(String::new(), |line| line["TZNAME:".len()..].to_owned()),
            }
        })
        .collect()
}

/// RFC 5545, 3.6.5: the offset is that of the observance that began last.
fn utc_by_the_file(file: &str, local: &str) -> DateTime<Utc> {
    let local = chrono::NaiveDateTime::parse_from_str(local, "%Y%m%dT%H%M%S").expect("a time");
    let observances = observances(file);
    let last = observances
        .iter()
        .filter(|o| o.local <= local)
        .max_by_key(|o| o.local)
        .expect("one that holds");
    (local - TimeDelta::seconds(seconds(&last.to))).and_utc()
}

// ---- Any text ----

/// Blanks after many characters of several octets, one of them wherever a line might be cut by
/// their number: the `icalendar` crate (0.17.16) goes on cutting for ever.
#[rstest]
#[case("🥬", 24, " a")]
#[case("菜", 60, " ab")]
#[case("é", 90, " abc")]
fn long_words_before_short_ones_come_to_an_end(
    #[case] character: &str,
    #[case] times: usize,
    #[case] word: &str,
) {
    let text = character.repeat(times) + &word.repeat(200);
    let mut garden = garden();
    garden.name = text.clone();
    let chores = [chore("2027-03-06", Kind::Check, &text, &[&text])];
    let options = CalendarOptions::default().ring_before(TimeDelta::hours(1));
    let file = calendar::render_with_options(&chores, &garden, &options);
    assert_lines_are_right(&file);
    let file = wire::unfold(&file);
    for name in ["SUMMARY", "LOCATION", "NAME"] {
        assert_eq!(content(&file, name)[0], format!("{name}:{text}"));
    }
}

/// Words of every kind that a grower, or somebody who means harm, may write.
fn any_text() -> impl Strategy<Value = String> {
    let piece = prop_oneof![
        4 => "[a-zA-Z0-9 ]{1,12}",
        3 => "[,;:\\\\\"'\n\r\t nN]{1,6}",
        2 => "\\PC{1,8}",
        1 => ".{1,8}",
        1 => Just("خس وريحان".to_owned()),
        1 => Just("חסה".to_owned()),
        1 => Just("👩\u{200d}🌾🥬🇪🇸".to_owned()),
        1 => Just("\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nSUMMARY:injected\r\n".to_owned()),
        1 => Just("\\n\\,\\;\\\\".to_owned()),
        1 => Just("\u{202e}\u{feff}\u{85}\u{2028}\u{0}\u{1b}".to_owned()),
    ];
    prop_oneof![
        9 => proptest::collection::vec(piece.clone(), 0..12).prop_map(|pieces| pieces.concat()),
        1 => (piece, 500..4000_usize).prop_map(|(piece, times)| piece.repeat(times).chars().take(10_000).collect()),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(192))]

    #[test]
    fn no_text_breaks_or_adds_to_the_calendar(
        name in any_text(),
        summary in any_text(),
        details in proptest::collection::vec(any_text(), 0..4),
        about in any_text(),
        todos in proptest::bool::ANY,
        alarm in proptest::bool::ANY,
    ) {
        let mut garden = garden();
        garden.name = name;
        let mut chores = two_chores();
        chores[0].summary = summary;
        chores[0].details = details;
        chores[0].about = about;
        let mut options = CalendarOptions::default();
        if alarm {
            options = options.ring_before(TimeDelta::hours(1));
        }
        let file = calendar::render_with_options(&chores, &garden, &options);
        assert_lines_are_right(&file);
        if todos {
            // Tasks are no events, whatever they are called.
            options.form = ComponentKind::Todos;
            let tasks = calendar::render_with_options(&chores, &garden, &options);
            assert_lines_are_right(&tasks);
            prop_assert_eq!(by_calcard(&tasks), []);
            prop_assert_eq!(content(&wire::unfold(&tasks), "BEGIN:VTODO").len(), 2);
        }
        // Cancelled, nothing breaks either, and a lost state is known again from the file.
        let told = CalendarUpdate::new(&chores, &garden, &CalendarState::default(), &options);
        prop_assert_eq!(&CalendarState::from_calendars([told.render(None).as_str()]), told.state());
        let fallen = CalendarUpdate::new(&[], &garden, told.state(), &options);
        assert_lines_are_right(&fallen.render(None));
        prop_assert_eq!(&CalendarState::from_calendars([fallen.render(None).as_str()]), fallen.state());
        options.form = ComponentKind::Events;
        let meant: Vec<Read> = chores.iter().map(|c| meant(c, &garden)).collect();
        prop_assert_eq!(&by_calcard(&file), &meant);
        prop_assert_eq!(&by_icalendar(&file), &meant);
        let whole = wire::unfold(&file);
        prop_assert_eq!(content(&whole, "BEGIN:VEVENT").len(), 2);
        let components = whole.matches("\r\nBEGIN:").count();
        prop_assert_eq!(components, if alarm { 4 } else { 2 });
        // Both names of the calendar are the garden's, written alike.
        let escaped = text::escape(&text::one_line(&garden.name));
        let (x_name, name) = (format!("X-WR-CALNAME:{escaped}"), format!("NAME:{escaped}"));
        prop_assert_eq!(content(&whole, "X-WR-CALNAME"), [x_name.as_str()]);
        prop_assert_eq!(content(&whole, "NAME"), [name.as_str()]);
    }

    #[test]
    fn any_line_folds_and_unfolds(line in "\\PC{0,400}") {
        let folded = wire::fold(&line);
        prop_assert!(folded.split("\r\n").all(|l| l.len() <= 75));
        prop_assert_eq!(wire::unfold(&folded), format!("{line}\r\n"));
    }
}

/// Ten thousand characters of each awkward kind, told by both parsers as they were written.
#[rstest]
fn ten_thousand_characters_are_read_as_written(
    #[values(
        "a",
        ",",
        ";",
        "\\",
        "\"",
        "n",
        "é",
        "🥬",
        "خ",
        "ab ",
        "👩\u{200d}🌾",
        "a, "
    )]
    piece: &str,
) {
    let long: String = piece.repeat(10_000).chars().take(10_000).collect();
    let mut garden = garden();
    garden.name = long.clone();
    let chores = [chore("2027-03-03", Kind::Sow, &long, &[&long, "second"])];
    let file = calendar(&chores, &garden);
    assert_lines_are_right(&file);
    let meant = [meant(&chores[0], &garden)];
    assert_eq!(by_calcard(&file), meant);
    assert_eq!(by_icalendar(&file), meant);
}

#[test]
fn an_empty_plan_has_no_events() {
    let garden = garden();
    assert_eq!(
        by_calcard(&calendar(&chores(&empty_plan(), &garden), &garden)),
        []
    );
    assert_eq!(garden.start.weekday(), chrono::Weekday::Mon);
}
