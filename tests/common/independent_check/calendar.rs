//! The calendar file: its events against what is planned, and against those that it told of before.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{DateTime, Datelike, Days, NaiveDate, TimeDelta, TimeZone, Utc};
use steadyleaf::chores::Kind;
use steadyleaf::diary::DiaryState;
use steadyleaf::garden::Garden;
use steadyleaf::plan::Plan;

use super::ical::{self, Component, Moment, Property};
use super::told::Told;
use super::words::Tongue;
use super::{Look, as_proved};

/// An event of a file.
#[derive(Debug, Clone)]
struct Event {
    uid: String,
    kind: Kind,
    days: Vec<NaiveDate>,
    is_cancelled: bool,
    sequence: u32,
    changed: DateTime<Utc>,
    told: Told,
    /// All that it says, but for when it was changed.
    says: Component,
}

/// Properties that tell of changes.
const STAMPS: [&str; 3] = ["DTSTAMP", "LAST-MODIFIED", "SEQUENCE"];
/// How long a chore that has a time of day lasts.
const LASTS: TimeDelta = TimeDelta::minutes(30);

/// What is asked for of a calendar: tasks instead of events, some kinds of work only, so many days
/// only.
#[derive(Debug, Clone, Default)]
pub struct Asked {
    pub todos: bool,
    pub only: Vec<Kind>,
    pub days: Option<u32>,
}

/// What a first calendar file tells amiss of what was asked for of a plan.
pub fn faults_in_part(file: &str, asked: &Asked, (plan, garden): (&Plan, &Garden)) -> Vec<String> {
    let garden = as_proved(garden, plan);
    let component = if asked.todos { "VTODO" } else { "VEVENT" };
    let events = match events(file, component, &garden) {
        Ok(events) => events,
        Err(fault) => return vec![format!("calendar: {fault}")],
    };
    let mut faults = Vec::new();
    twice(&events, &mut faults);
    if let Some(event) = events.iter().find(|e| e.is_cancelled || e.sequence > 0) {
        faults.push(format!("calendar: {} was never told", event.uid));
    }
    if let Some(series) = events.iter().find(|e| asked.todos && e.days.len() > 1) {
        faults.push(format!(
            "calendar: {} is to be done again and again",
            series.uid
        ));
    }
    let days = asked.days.map_or(plan.last, |days| {
        plan.start + Days::new(u64::from(days) - 1)
    });
    match Look::new(plan, &garden, None) {
        Ok(look) => {
            let told: Vec<Told> = events.iter().flat_map(Event::each_day).collect();
            look.told_of(&told, (plan.start, days), &asked.only, &mut faults);
        }
        Err(unknown) => faults.extend(unknown),
    }
    faults
}

fn twice(events: &[Event], faults: &mut Vec<String>) {
    let mut known = BTreeSet::new();
    for event in events {
        if !known.insert(&event.uid) {
            faults.push(format!("calendar: twice the UID {}", event.uid));
        }
    }
}

impl Event {
    fn each_day(&self) -> impl Iterator<Item = Told> {
        self.days.iter().map(|&day| Told {
            day,
            ..self.told.clone()
        })
    }
}

/// What a calendar file tells amiss of a plan; `former` is the file that it follows upon, `today`
/// the day on which it was written, `worked` whether that day's work is in the diary.
pub fn faults_in_calendar(
    file: &str,
    former: Option<&str>,
    (plan, garden, state): (&Plan, &Garden, Option<&DiaryState>),
    (today, worked): (NaiveDate, bool),
) -> Vec<String> {
    let garden = as_proved(garden, plan);
    let events = match events(file, "VEVENT", &garden) {
        Ok(events) => events,
        Err(fault) => return vec![format!("calendar: {fault}")],
    };
    let mut faults = Vec::new();
    twice(&events, &mut faults);
    let look = match Look::new(plan, &garden, state) {
        Ok(look) => look,
        Err(unknown) => return unknown,
    };
    let alive = events.iter().filter(|e| !e.is_cancelled);
    // Work of today that is done is not planned any more, and stays as it was told.
    let done = |event: &&Event| {
        worked && event.days == [today] && former.is_some_and(|f| f.contains(&event.uid))
    };
    let alive: Vec<&Event> = alive.filter(|e| !done(e)).collect();
    let mut told: Vec<Told> = alive.iter().flat_map(|event| event.each_day()).collect();
    if worked {
        // Of today's it is not asked whether it was done or is still planned.
        told.retain(|t| t.day > today);
        let from = today.succ_opt().expect("a day");
        look.told(&told, (from, plan.last), &mut faults);
    } else {
        look.told(&told, (plan.start, plan.last), &mut faults);
    }
    if let Some(former) = former {
        match self::events(former, "VEVENT", &garden) {
            Ok(former) => follow(&events, &former, today, worked, &mut faults),
            Err(fault) => faults.push(format!("calendar before: {fault}")),
        }
    } else if let Some(event) = events.iter().find(|e| e.is_cancelled || e.sequence > 0) {
        faults.push(format!("calendar: {} was never told", event.uid));
    }
    faults
}

fn follow(
    events: &[Event],
    former: &[Event],
    today: NaiveDate,
    worked: bool,
    faults: &mut Vec<String>,
) {
    let by_uid = |events: &[Event]| -> BTreeMap<String, Event> {
        let named = events.iter().map(|e| (e.uid.clone(), e.clone()));
        named.collect()
    };
    let (now, before) = (by_uid(events), by_uid(former));
    for (uid, was) in &before {
        let last = was.days.last().copied().expect("a day");
        let is_over = last < today || worked && last == today;
        if !is_over && !now.contains_key(uid) {
            faults.push(format!(
                "calendar: {uid} is lost ({:?} on {last})",
                was.kind
            ));
        }
    }
    for (uid, is) in &now {
        let Some(was) = before.get(uid) else {
            if is.sequence != 0 || is.is_cancelled {
                faults.push(format!("calendar: {uid} was never told"));
            }
            // The same work on the same day is the same event.
            let same = former.iter().find(|w| {
                let one = w.days.len() == 1 && is.days.len() == 1;
                one && !w.is_cancelled && w.kind == is.kind && w.days == is.days
            });
            if let Some(same) = same.filter(|s| s.days[0] >= today) {
                faults.push(format!("calendar: {uid} was {} before", same.uid));
            }
            continue;
        };
        let has_changed = is.says != was.says;
        let right = if has_changed {
            is.sequence == was.sequence + 1 && is.changed > was.changed
        } else {
            is.sequence == was.sequence && is.changed == was.changed
        };
        if !right {
            faults.push(format!(
                "calendar: {uid} changed {has_changed}, SEQUENCE from {} to {}",
                was.sequence, is.sequence
            ));
        }
        if was.kind != is.kind {
            faults.push(format!("calendar: {uid} was {:?}", was.kind));
        }
        let away = (is.days[0] - was.days[0]).num_days().abs();
        let one = is.days.len() == 1 && was.days.len() == 1;
        if one && away > 6 {
            faults.push(format!("calendar: {uid} moved by {away} days"));
        }
    }
}

fn events(file: &str, named: &str, garden: &Garden) -> Result<Vec<Event>, String> {
    let calendar = ical::read(file)?;
    if calendar.name != "VCALENDAR" || calendar.one("VERSION")?.value != "2.0" {
        return Err("no calendar".to_owned());
    }
    let name = calendar.text("NAME")?;
    if name.as_deref() != Some(garden.name.as_str()) {
        return Err(format!("its name is {name:?}"));
    }
    calendar.one("PRODID")?;
    let zones = calendar.parts.iter().filter(|c| c.name == "VTIMEZONE");
    let zones: Vec<&Component> = zones.collect();
    for zone in &zones {
        if zone.one("TZID")?.value != garden.place.timezone.name() {
            return Err("another time zone".to_owned());
        }
    }
    let others = [named, "VTIMEZONE"];
    if let Some(other) = calendar
        .parts
        .iter()
        .find(|c| !others.contains(&c.name.as_str()))
    {
        return Err(format!("a {}", other.name));
    }
    let events = calendar.parts.iter().filter(|c| c.name == named);
    let events = events.map(|of_file| {
        let uid = of_file.one("UID")?.value.clone();
        event(of_file, garden, zones.first().copied()).map_err(|why| format!("{uid}: {why}"))
    });
    events.collect()
}

fn event(of_file: &Component, garden: &Garden, zone: Option<&Component>) -> Result<Event, String> {
    let tongue = Tongue::of(garden.language.code());
    let stamp = |name: &str| -> Result<DateTime<Utc>, String> {
        let value = &of_file.one(name)?.value;
        ical::utc(value).ok_or_else(|| format!("{name}:{value}"))
    };
    let changed = stamp("DTSTAMP")?;
    if stamp("LAST-MODIFIED")? != changed {
        return Err("two times of its last change".to_owned());
    }
    let is_task = of_file.name == "VTODO";
    let days = if is_task {
        vec![of_file.moment("DUE")?.day()]
    } else {
        of_file.days()?
    };
    let Some(&day) = days.first() else {
        return Err("on no day".to_owned());
    };
    if is_task {
        due(of_file, garden)?;
    } else {
        lasts(of_file, garden, zone)?;
    }
    let category = of_file.text("CATEGORIES")?.unwrap_or_default();
    let kind = tongue
        .kind(&category)
        .ok_or_else(|| format!("of no kind: {category}"))?;
    let summary = of_file.text("SUMMARY")?.ok_or("no title")?;
    let is_cancelled = match of_file.all("STATUS").next().map(|p| p.value.as_str()) {
        Some("CANCELLED") => true,
        None | Some("CONFIRMED") => false,
        Some(other) => return Err(format!("STATUS:{other}")),
    };
    let title = summary.strip_prefix(tongue.cancelled);
    if title.is_some() != is_cancelled || days.len() > 1 && is_cancelled {
        return Err(format!("cancelled {is_cancelled}, and called `{summary}`"));
    }
    alarm(of_file, garden, is_cancelled)?;
    let description = of_file.text("DESCRIPTION")?.unwrap_or_default();
    let lines: Vec<String> = description.lines().map(str::to_owned).collect();
    let is_short = lines.iter().any(|line| {
        tongue.on_the_sheet.iter().any(|mark| line.contains(mark)) || line.ends_with('…')
    });
    let mut says = of_file.clone();
    says.properties
        .retain(|p: &Property| !STAMPS.contains(&p.name.as_str()));
    let sequence = of_file.one("SEQUENCE")?.value.parse();
    Ok(Event {
        uid: of_file.one("UID")?.value.clone(),
        kind,
        is_cancelled,
        sequence: sequence.map_err(|_| "SEQUENCE")?,
        changed,
        told: Told {
            day,
            kind,
            title: title.unwrap_or(&summary).to_owned(),
            lines,
            about: of_file.text("X-STEADYLEAF-ABOUT")?,
            is_short,
        },
        days,
        says,
    })
}

/// All day, or half an hour from when the garden asks to be reminded.
fn lasts(event: &Component, garden: &Garden, zone: Option<&Component>) -> Result<(), String> {
    let (start, end) = (event.moment("DTSTART")?, event.moment("DTEND")?);
    let right = match (garden.rhythm.remind_at, start, end) {
        (None, Moment::Day(day), Moment::Day(end)) => end == day + TimeDelta::days(1),
        (Some(at), Moment::Time(from, of), Moment::Time(until, other)) => {
            let here = garden.place.timezone;
            let begins = here.from_local_datetime(&from).earliest();
            let ends = here.from_local_datetime(&until).earliest();
            let lasts = begins.zip(ends).map(|(a, b)| b - a);
            // Where clocks are put forward there may be no such time on a day.
            let jumps = here
                .from_local_datetime(&from.date().and_time(at))
                .earliest()
                .is_none();
            let zone = zone.ok_or("no time zone")?;
            let mut times = zone.parts.iter();
            let known = |part: &Component| {
                let begins = part.one("DTSTART").ok()?;
                ical::date(begins.value.get(..8)?)
            };
            let is_known = times.any(|part| known(part).is_some_and(|d| d.year() <= from.year()));
            of == here
                && other == here
                && (from.time() == at && lasts == Some(LASTS) || jumps)
                && is_known
        }
        _ => false,
    };
    if !right {
        return Err(format!("from {start:?} until {end:?}"));
    }
    if event.all("DURATION").next().is_some() {
        return Err("both an end and a duration".to_owned());
    }
    if event.one("TRANSP")?.value != "TRANSPARENT" {
        return Err("a day that looks busy".to_owned());
    }
    Ok(())
}

/// On its day, or at the time at which the garden asks to be reminded; nothing else says when.
fn due(task: &Component, garden: &Garden) -> Result<(), String> {
    let due = task.moment("DUE")?;
    let here = garden.place.timezone;
    let right = match (garden.rhythm.remind_at, due) {
        (None, Moment::Day(_)) => true,
        (Some(at), Moment::Time(time, zone)) => {
            let local = here.from_local_datetime(&time.date().and_time(at));
            zone == here && (time.time() == at || local.earliest().is_none())
        }
        _ => false,
    };
    let others = ["DTSTART", "DTEND", "DURATION", "RRULE", "TRANSP"];
    let other = others.iter().find(|name| task.all(name).next().is_some());
    match (right, other) {
        (true, None) => Ok(()),
        _ => Err(format!("due {due:?}, {other:?}")),
    }
}

fn alarm(event: &Component, garden: &Garden, is_cancelled: bool) -> Result<(), String> {
    let asked = garden.rhythm.alarm.filter(|_| !is_cancelled);
    // A task has no start to reckon from (3.8.6.3).
    let from = (event.name == "VTODO").then_some("END");
    let related = |alarm: &Component| -> Result<f64, String> {
        let trigger = alarm.one("TRIGGER")?;
        if trigger.parameters.get("RELATED").map(String::as_str) != from {
            return Err(format!("{trigger:?}"));
        }
        hours_before(alarm)
    };
    let rung: Result<Vec<f64>, String> = event.parts.iter().map(related).collect();
    let right = match (asked, &rung?[..]) {
        (None, []) => true,
        (Some(asked), [rung]) => (rung - asked.get()).abs() < 1.0 / 60.0,
        _ => false,
    };
    if right {
        Ok(())
    } else {
        Err(format!("alarms: {:?}", event.parts))
    }
}

/// `TRIGGER:-PT1H30M` (3.8.6.3, 3.3.6).
fn hours_before(alarm: &Component) -> Result<f64, String> {
    let trigger = &alarm.one("TRIGGER")?.value;
    if alarm.name != "VALARM" || alarm.one("ACTION")?.value != "DISPLAY" {
        return Err(format!("{alarm:?}"));
    }
    alarm.one("DESCRIPTION")?;
    let mut hours = 0.0;
    let mut number = String::new();
    let time = trigger.strip_prefix("-PT").ok_or(trigger.as_str())?;
    for c in time.chars() {
        let unit = match c {
            'H' => 1.0,
            'M' => 1.0 / 60.0,
            'S' => 1.0 / 3600.0,
            digit => {
                number.push(digit);
                continue;
            }
        };
        hours += unit * number.parse::<f64>().map_err(|_| trigger.as_str())?;
        number.clear();
    }
    Ok(hours)
}
