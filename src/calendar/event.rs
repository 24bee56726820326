//! One chore as one event.

use chrono::{Days, NaiveDate, NaiveTime, TimeDelta};
use icalendar::{Alarm, Component, Event, EventLike, Property};

use super::{Options, identity, text, timezone};
use crate::chores::Chore;
use crate::garden::Garden;

/// How long a chore that has a time of day lasts.
const LASTS: TimeDelta = TimeDelta::minutes(30);

pub(super) fn event(chore: &Chore, garden: &Garden, options: &Options) -> Event {
    let summary = text::one_line(&chore.summary);
    let mut event = Event::new();
    event
        .uid(&identity::uid(chore, garden))
        // Not the clock: what did not change keeps its bytes.
        .timestamp(garden.start.and_time(NaiveTime::MIN).and_utc())
        .sequence(0)
        .summary(&summary)
        .add_property("LOCATION", text::one_line(&garden.name))
        .add_property("GEO", geo(garden))
        // Nobody's day looks busy for a chore.
        .add_property("TRANSP", "TRANSPARENT")
        .add_property("X-MICROSOFT-CDO-BUSYSTATUS", "FREE")
        .append_multi_property(Property::new(
            "CATEGORIES",
            text::escaped(&chore.kind.called(garden.language)),
        ));
    let details = text::lines(&chore.details);
    if !details.is_empty() {
        event.description(&details);
    }
    match garden.rhythm.remind_at {
        None => all_day(&mut event, chore.day),
        Some(time) => timed(&mut event, chore.day, time, garden),
    }
    if let Some(before) = options.ring_before {
        event.alarm(alarm(&summary, before));
    }
    event.done()
}

/// The day itself; the end is the first day after it (RFC 5545, 3.6.1).
fn all_day(event: &mut Event, day: NaiveDate) {
    let after = day.checked_add_days(Days::new(1)).unwrap_or(day);
    for (key, day) in [("DTSTART", day), ("DTEND", after)] {
        let value = day.format("%Y%m%d").to_string();
        event.append_property(
            Property::new(key, value)
                .add_parameter("VALUE", "DATE")
                .done(),
        );
    }
}

/// From a time of day on, in the garden's time zone.
fn timed(event: &mut Event, day: NaiveDate, time: NaiveTime, garden: &Garden) {
    let zone = garden.place.timezone;
    let start = timezone::that_exists(zone, day.and_time(time));
    let end = timezone::that_exists(zone, start + LASTS);
    for (key, time) in [("DTSTART", start), ("DTEND", end)] {
        let value = time.format("%Y%m%dT%H%M%S").to_string();
        event.append_property(
            Property::new(key, value)
                .add_parameter("TZID", zone.name())
                .done(),
        );
    }
}

/// Degrees north and east, to a hundred-thousandth: about a metre.
fn geo(garden: &Garden) -> String {
    let degrees = |x: f64| {
        let text = format!("{x:.5}");
        let text = text.trim_end_matches('0').trim_end_matches('.');
        if text == "-0" {
            "0".to_owned()
        } else {
            text.to_owned()
        }
    };
    format!(
        "{};{}",
        degrees(garden.place.latitude),
        degrees(garden.place.longitude)
    )
}

/// Shown so long before the start. Some apps take a trigger for its absolute value, so it is
/// never after the start.
fn alarm(summary: &str, before: TimeDelta) -> Alarm {
    let mut alarm = Alarm::display(summary, -before);
    alarm.add_property("TRIGGER", format!("-{}", duration(before)));
    alarm.done()
}

/// Hours and minutes (RFC 5545, 3.3.6), such as `PT1H30M`; at least a minute.
fn duration(time: TimeDelta) -> String {
    let minutes = time.num_minutes().max(1);
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("PT{minutes}M"),
        (hours, 0) => format!("PT{hours}H"),
        (hours, minutes) => format!("PT{hours}H{minutes}M"),
    }
}
