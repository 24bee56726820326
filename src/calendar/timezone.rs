//! The garden's time zone: as a VTIMEZONE, and the local times that exist in it.
//!
//! The rules come from the IANA database as `chrono-tz` carries it. Each change of the clocks in
//! the years of the plan is written out on its own, with no rule for ever: what the database says
//! is what the file says.

use chrono::{
    DateTime, Datelike, NaiveDate, NaiveDateTime, NaiveTime, Offset, TimeDelta, TimeZone, Utc,
};
use chrono_tz::{OffsetComponents, OffsetName, Tz};
use icalendar::CalendarComponent;

/// The zone's VTIMEZONE, right for all times from the year of `first` to the year of `last`.
///
/// # Panics
/// Never: what is written here is a component.
pub(super) fn component(zone: Tz, first: NaiveDate, last: NaiveDate) -> CalendarComponent {
    let mut text = format!("BEGIN:VTIMEZONE\r\nTZID:{}\r\n", zone.name());
    for observance in observances(zone, first.year(), last.year()) {
        text += &observance;
    }
    text += "END:VTIMEZONE\r\n";
    text.parse().expect("a well-formed component")
}

/// What holds at the beginning of the first year, then every change of the clocks, with a day to
/// spare at both ends.
fn observances(zone: Tz, first_year: i32, last_year: i32) -> Vec<String> {
    let year = |y: i32| {
        NaiveDate::from_ymd_opt(y, 1, 1)
            .unwrap_or_default()
            .and_time(NaiveTime::MIN)
            .and_utc()
    };
    let begin = year(first_year) - TimeDelta::days(1);
    let end = year(last_year + 1) + TimeDelta::days(1);
    let mut observances = vec![observance(zone, begin, begin)];
    let mut from = begin;
    while from < end {
        let to = from + TimeDelta::days(1);
        if zone_offset(zone, from) != zone_offset(zone, to) {
            let change = transition_between(zone, from, to);
            observances.push(observance(zone, change - TimeDelta::seconds(1), change));
        }
        from = to;
    }
    observances
}

/// One observance: it begins at `at`, when the offset of `before` ends.
fn observance(zone: Tz, before: DateTime<Utc>, at: DateTime<Utc>) -> String {
    let old = zone.offset_from_utc_datetime(&before.naive_utc());
    let new = zone.offset_from_utc_datetime(&at.naive_utc());
    let kind = if new.dst_offset() > TimeDelta::zero() {
        "DAYLIGHT"
    } else {
        "STANDARD"
    };
    // The begin is told in the clock that is about to be changed (RFC 5545, 3.6.5).
    let local = at.naive_utc() + TimeDelta::seconds(old.fix().local_minus_utc().into());
    let name = new
        .abbreviation()
        .map_or(String::new(), |name| format!("TZNAME:{name}\r\n"));
    format!(
        "BEGIN:{kind}\r\nDTSTART:{}\r\nTZOFFSETFROM:{}\r\nTZOFFSETTO:{}\r\n{name}END:{kind}\r\n",
        local.format("%Y%m%dT%H%M%S"),
        utc_offset(old.fix().local_minus_utc()),
        utc_offset(new.fix().local_minus_utc()),
    )
}

/// What a clock in the zone shows: offset, name, and whether it is put forward for the summer.
fn zone_offset(zone: Tz, at: DateTime<Utc>) -> (i32, TimeDelta, Option<String>) {
    let offset = zone.offset_from_utc_datetime(&at.naive_utc());
    let name = offset.abbreviation().map(ToString::to_string);
    (offset.fix().local_minus_utc(), offset.dst_offset(), name)
}

/// The second at which the clocks change: the state of `from` has ended, that of `to` has not.
fn transition_between(zone: Tz, mut from: DateTime<Utc>, mut to: DateTime<Utc>) -> DateTime<Utc> {
    let old = zone_offset(zone, from);
    while to - from > TimeDelta::seconds(1) {
        let middle = from + TimeDelta::seconds((to - from).num_seconds() / 2);
        if zone_offset(zone, middle) == old {
            from = middle;
        } else {
            to = middle;
        }
    }
    to
}

/// `+0100`, and seconds where there are any (RFC 5545, 3.3.14).
fn utc_offset(seconds: i32) -> String {
    let sign = if seconds < 0 { '-' } else { '+' };
    let s = seconds.abs();
    let (hours, minutes, rest) = (s / 3600, s / 60 % 60, s % 60);
    if rest == 0 {
        format!("{sign}{hours:02}{minutes:02}")
    } else {
        format!("{sign}{hours:02}{minutes:02}{rest:02}")
    }
}

/// The local time, or where the clocks jump over it, the time that they show instead: the one
/// reckoned with the offset before the jump (RFC 5545, 3.3.5).
pub(super) fn existing_local_time(zone: Tz, local: NaiveDateTime) -> NaiveDateTime {
    if zone.from_local_datetime(&local).earliest().is_some() {
        return local;
    }
    // No zone has ever jumped by more than a day.
    let before = local - TimeDelta::days(1);
    let offset = zone.offset_from_local_datetime(&before).earliest();
    let seconds = offset.map_or(0, |offset| offset.fix().local_minus_utc());
    let utc = local - TimeDelta::seconds(seconds.into());
    zone.from_utc_datetime(&utc).naive_local()
}
