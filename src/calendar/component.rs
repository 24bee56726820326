//! One item as one event or task.

use chrono::{DateTime, Days, NaiveDate, NaiveDateTime, NaiveTime, TimeDelta, TimeZone, Utc};
use icalendar::{Alarm, Component, Event, EventLike, Property, Todo};

use crate::calendar::item::{CalendarItem, RecurrenceRule};
use crate::calendar::state::PublishedEvent;
use crate::calendar::{CalendarOptions, ComponentKind, text, timezone, wire};
use crate::chores::Kind;
use crate::garden::Garden;

/// How long a chore that has a time of day lasts.
const EVENT_MINUTES: TimeDelta = TimeDelta::minutes(30);

/// How often something was changed, and when last.
pub(super) struct Revision {
    pub(super) sequence: u32,
    pub(super) changed: DateTime<Utc>,
}

/// The item's component, as the `icalendar` crate writes it.
///
/// # Panics
/// Never: writing to a text does not fail.
pub(super) fn component(
    item: &CalendarItem,
    published: &PublishedEvent,
    stamp: Revision,
    garden: &Garden,
    options: &CalendarOptions,
) -> String {
    let written = match published.form {
        ComponentKind::Events => {
            let mut event = Event::new();
            describe(&mut event, item, published, &stamp, garden);
            set_times(&mut event, item, garden);
            // Nobody's day looks busy for a chore.
            event
                .add_property("TRANSP", "TRANSPARENT")
                .add_property("X-MICROSOFT-CDO-BUSYSTATUS", "FREE");
            alarm(&mut event, published, garden, options);
            event.done().try_into_string()
        }
        ComponentKind::Todos => {
            let mut todo = Todo::new();
            describe(&mut todo, item, published, &stamp, garden);
            todo.append_property(start_property("DUE", item.first(), garden));
            alarm(&mut todo, published, garden, options);
            todo.done().try_into_string()
        }
    };
    written.expect("writing to a text")
}

/// What is the same for events and tasks.
fn describe(
    component: &mut impl EventLike,
    item: &CalendarItem,
    published: &PublishedEvent,
    stamp: &Revision,
    garden: &Garden,
) {
    let kind = item.kind();
    component
        .uid(&published.uid)
        // Not the clock: what did not change keeps its bytes.
        .timestamp(stamp.changed)
        .add_property("LAST-MODIFIED", utc_text(stamp.changed))
        .sequence(stamp.sequence)
        .summary(&wire::protect_spaces(&summary(published, garden)))
        .add_property(
            "LOCATION",
            wire::protect_spaces(&text::one_line(&garden.name)),
        )
        .add_property("COLOR", colour(kind))
        .append_multi_property(Property::new(
            "CATEGORIES",
            text::escape(&kind.name(garden.language)),
        ))
        // From what is our own the state is known again if its file is lost.
        .append_property(x_property("KIND", kind.key()));
    if let Some(geo) = geo(garden) {
        component.add_property("GEO", geo);
    }
    if !published.about.is_empty() {
        component.append_property(x_property("ABOUT", &published.about));
    }
    let details = text::join_lines(item.chore.calendar_details());
    if !details.is_empty() {
        component.description(&wire::protect_spaces(&details));
    }
    if published.cancelled {
        component
            .add_property("STATUS", "CANCELLED")
            .append_property(x_property("SUMMARY", &published.summary));
    }
}

fn summary(published: &PublishedEvent, garden: &Garden) -> String {
    if !published.cancelled {
        return published.summary.clone();
    }
    let values = [("summary", published.summary.as_str().into())];
    let language = garden.language;
    text::one_line(&language.format("calendar-cancelled", values))
}

/// A property of our own. The crate escapes what begins with `X-`.
fn x_property(name: &str, value: &str) -> Property {
    Property::new(format!("X-STEADYLEAF-{name}"), wire::protect_spaces(value))
}

/// The colour of a kind, by its name in CSS (RFC 7986, 5.9). It says nothing that the summary and
/// the category do not say.
const fn colour(kind: Kind) -> &'static str {
    match kind {
        Kind::SeedOrder => "goldenrod",
        Kind::LeakTest => "steelblue",
        Kind::Harvest => "seagreen",
        Kind::Clear => "peru",
        Kind::DeepClean => "slateblue",
        Kind::Solution => "teal",
        Kind::TopUp => "dodgerblue",
        Kind::Transplant => "olivedrab",
        Kind::Sow => "saddlebrown",
        Kind::Check => "slategray",
        Kind::CropChangeover => "mediumorchid",
    }
}

/// All day, the end being the first day after it (RFC 5545, 3.6.1), or from the garden's time of
/// day on; and how it repeats.
fn set_times(event: &mut Event, item: &CalendarItem, garden: &Garden) {
    let day = item.first();
    event.append_property(start_property("DTSTART", day, garden));
    match garden.rhythm.remind_at {
        None => {
            let after = day.checked_add_days(Days::new(1)).unwrap_or(day);
            event.append_property(date_property("DTEND", after));
        }
        Some(time) => {
            let zone = garden.place.timezone;
            let end = timezone::existing_local_time(zone, start(day, time, garden) + EVENT_MINUTES);
            event.append_property(local_property("DTEND", end, garden));
        }
    }
    if item.repeats() {
        set_recurrence(event, item, garden);
    }
}

/// Every week until the last day (RFC 5545, 3.3.10), with its gaps.
fn set_recurrence(event: &mut Event, item: &CalendarItem, garden: &Garden) {
    let RecurrenceRule { weekdays, gaps } = item.rule();
    let weekdays: Vec<String> = weekdays
        .iter()
        .map(|day| day.to_string()[..2].to_uppercase())
        .collect();
    // The last day in the form of the first: a date, or a time in UTC where that is local.
    let until = match garden.rhythm.remind_at {
        None => item.last().format("%Y%m%d").to_string(),
        Some(time) => {
            let last = start(item.last(), time, garden);
            let zone = garden.place.timezone;
            let last = zone.from_local_datetime(&last).earliest();
            last.map_or(String::new(), |last| utc_text(last.to_utc()))
        }
    };
    event
        .add_property(
            "RRULE",
            format!("FREQ=WEEKLY;UNTIL={until};BYDAY={}", weekdays.join(",")),
        )
        .append_property(x_property(
            "LAST",
            &item.last().format("%Y%m%d").to_string(),
        ));
    for gap in gaps {
        event.append_multi_property(start_property("EXDATE", gap, garden));
    }
}

/// A day, or the garden's time of day on it.
fn start_property(key: &str, day: NaiveDate, garden: &Garden) -> Property {
    match garden.rhythm.remind_at {
        None => date_property(key, day),
        Some(time) => local_property(key, start(day, time, garden), garden),
    }
}

fn start(day: NaiveDate, time: NaiveTime, garden: &Garden) -> NaiveDateTime {
    timezone::existing_local_time(garden.place.timezone, day.and_time(time))
}

fn date_property(key: &str, day: NaiveDate) -> Property {
    Property::new(key, day.format("%Y%m%d").to_string())
        .add_parameter("VALUE", "DATE")
        .done()
}

fn local_property(key: &str, time: NaiveDateTime, garden: &Garden) -> Property {
    Property::new(key, time.format("%Y%m%dT%H%M%S").to_string())
        .add_parameter("TZID", garden.place.timezone.name())
        .done()
}

fn utc_text(time: DateTime<Utc>) -> String {
    time.format("%Y%m%dT%H%M%SZ").to_string()
}

/// Degrees north and east, to a hundred-thousandth: about a metre; nothing of a place that is
/// stated by half.
fn geo(garden: &Garden) -> Option<String> {
    let degrees = |x: f64| {
        let text = format!("{x:.5}");
        let text = text.trim_end_matches('0').trim_end_matches('.');
        if text == "-0" {
            "0".to_owned()
        } else {
            text.to_owned()
        }
    };
    let north = degrees(garden.place.latitude);
    let east = degrees(garden.place.longitude?);
    Some(format!("{north};{east}"))
}

/// An alarm, if one is asked for and there is anything left to do.
fn alarm(
    component: &mut impl EventLike,
    published: &PublishedEvent,
    garden: &Garden,
    options: &CalendarOptions,
) {
    let Some(before) = options.ring_before.or_else(|| garden.rhythm.alarm_lead()) else {
        return;
    };
    if published.cancelled {
        return;
    }
    // Some apps take a trigger for its absolute value, so it is never after the start.
    let mut alarm = Alarm::display(&wire::protect_spaces(&published.summary), -before);
    let mut trigger = Property::new("TRIGGER", format!("-{}", duration_text(before)));
    if published.form == ComponentKind::Todos {
        // A task has no start to reckon from (RFC 5545, 3.8.6.3).
        trigger.add_parameter("RELATED", "END");
    }
    alarm.append_property(trigger.done());
    component.alarm(alarm.done());
}

/// Hours and minutes (RFC 5545, 3.3.6), such as `PT1H30M`; at least a minute.
fn duration_text(time: TimeDelta) -> String {
    let minutes = time.num_minutes().max(1);
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("PT{minutes}M"),
        (hours, 0) => format!("PT{hours}H"),
        (hours, minutes) => format!("PT{hours}H{minutes}M"),
    }
}
