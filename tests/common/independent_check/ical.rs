//! A small reader of calendar files, as RFC 5545 has them: nothing of the program's own writer is
//! in it.

use std::collections::BTreeMap;

use chrono::{
    DateTime, Datelike, Days, NaiveDate, NaiveDateTime, NaiveTime, TimeZone, Utc, Weekday,
};
use chrono_tz::Tz;

/// A property with its parameters, its value as it is written.
#[derive(Debug, Clone, PartialEq)]
pub struct Property {
    pub name: String,
    pub parameters: BTreeMap<String, String>,
    pub value: String,
}

/// A component with what is in it.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Component {
    pub name: String,
    pub properties: Vec<Property>,
    pub parts: Vec<Component>,
}

/// A day, or a local time in a zone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Moment {
    Day(NaiveDate),
    Time(NaiveDateTime, Tz),
}

impl Moment {
    pub fn day(self) -> NaiveDate {
        match self {
            Self::Day(day) => day,
            Self::Time(time, _) => time.date(),
        }
    }
}

/// Reads a file of one calendar (3.1, 3.4): lines of at most 75 octets that end in CRLF, folded
/// ones put together.
pub fn read(file: &str) -> Result<Component, String> {
    if !file.ends_with("\r\n") || file.replace("\r\n", "").contains(['\r', '\n']) {
        return Err("lines that do not end in CRLF".to_owned());
    }
    if let Some(long) = file.split("\r\n").find(|line| line.len() > 75) {
        return Err(format!("more than 75 octets: {long}"));
    }
    let whole = file.replace("\r\n ", "").replace("\r\n\t", "");
    let mut open = vec![Component::default()];
    for line in whole.split_terminator("\r\n") {
        let property = property(line).ok_or_else(|| format!("no property: {line}"))?;
        match property.name.as_str() {
            "BEGIN" => open.push(Component {
                name: property.value,
                ..Component::default()
            }),
            "END" => {
                let closed = open.pop().filter(|c| c.name == property.value);
                let parent = open.last_mut();
                let (Some(closed), Some(parent)) = (closed, parent) else {
                    return Err(format!("out of place: {line}"));
                };
                parent.parts.push(closed);
            }
            _ => open
                .last_mut()
                .expect("one is open")
                .properties
                .push(property),
        }
    }
    match &mut open[..] {
        [file] if file.parts.len() == 1 && file.properties.is_empty() => Ok(file.parts.remove(0)),
        _ => Err("not one calendar".to_owned()),
    }
}

/// `NAME;PARAMETER=a;OTHER="b:c":value` (3.1, 3.2).
fn property(line: &str) -> Option<Property> {
    let mut quoted = false;
    let colon = line.find(|c| {
        quoted ^= c == '"';
        c == ':' && !quoted
    })?;
    let (head, value) = (&line[..colon], &line[colon + 1..]);
    let mut parts = head.split(';');
    let name = parts.next()?.to_owned();
    let legal = |c: char| c.is_ascii_uppercase() || c.is_ascii_digit() || c == '-';
    if name.is_empty() || !name.chars().all(legal) {
        return None;
    }
    let parameters = parts.map(|part| {
        let (name, value) = part.split_once('=')?;
        Some((name.to_owned(), value.trim_matches('"').to_owned()))
    });
    Some(Property {
        name,
        parameters: parameters.collect::<Option<_>>()?,
        value: value.to_owned(),
    })
}

/// A value of type TEXT (3.3.11); nothing if it is not escaped as it should be.
pub fn text(value: &str) -> Option<String> {
    let mut text = String::new();
    let mut letters = value.chars();
    while let Some(letter) = letters.next() {
        match letter {
            '\\' => match letters.next()? {
                'n' | 'N' => text.push('\n'),
                c @ ('\\' | ';' | ',') => text.push(c),
                _ => return None,
            },
            ';' | ',' => return None,
            c if c.is_control() => return None,
            c => text.push(c),
        }
    }
    Some(text)
}

impl Component {
    /// Properties of a name.
    pub fn all<'c>(&'c self, name: &'c str) -> impl Iterator<Item = &'c Property> {
        self.properties.iter().filter(move |p| p.name == name)
    }

    /// The one property of a name.
    pub fn one(&self, name: &str) -> Result<&Property, String> {
        let mut all = self.properties.iter().filter(|p| p.name == name);
        match (all.next(), all.next()) {
            (Some(one), None) => Ok(one),
            (None, _) => Err(format!("no {name}")),
            _ => Err(format!("more than one {name}")),
        }
    }

    /// Its text, where there is one at all.
    pub fn text(&self, name: &str) -> Result<Option<String>, String> {
        if self.all(name).next().is_none() {
            return Ok(None);
        }
        let property = self.one(name)?;
        let text = text(&property.value).ok_or_else(|| format!("{name}: {}", property.value))?;
        Ok(Some(text))
    }

    pub fn moment(&self, name: &str) -> Result<Moment, String> {
        moment(self.one(name)?)
    }

    /// All days of an event: its own, or those of its weekly rule (3.3.10) without those left out.
    pub fn days(&self) -> Result<Vec<NaiveDate>, String> {
        let start = self.moment("DTSTART")?;
        let Some(rule) = self.all("RRULE").next() else {
            return Ok(vec![start.day()]);
        };
        let wrong = || format!("RRULE:{}", rule.value);
        let parts = rule.value.split(';').map(|part| part.split_once('='));
        let mut parts: BTreeMap<&str, &str> = parts.collect::<Option<_>>().ok_or_else(wrong)?;
        let frequency = parts.remove("FREQ");
        let until = parts.remove("UNTIL").ok_or_else(wrong)?;
        let by_day = parts.remove("BYDAY").ok_or_else(wrong)?;
        if frequency != Some("WEEKLY") || !parts.is_empty() {
            return Err(wrong());
        }
        let weekdays = by_day.split(',').map(|day| match day {
            "MO" => Some(Weekday::Mon),
            "TU" => Some(Weekday::Tue),
            "WE" => Some(Weekday::Wed),
            "TH" => Some(Weekday::Thu),
            "FR" => Some(Weekday::Fri),
            "SA" => Some(Weekday::Sat),
            "SU" => Some(Weekday::Sun),
            _ => None,
        });
        let weekdays: Vec<Weekday> = weekdays.collect::<Option<_>>().ok_or_else(wrong)?;
        let left_out = self.all("EXDATE").map(moment);
        let left_out: Vec<Moment> = left_out.collect::<Result<_, _>>()?;
        // The last day in the form of the first (3.3.10).
        let is_within = |at: Moment| -> Option<bool> {
            match at {
                Moment::Day(day) => Some(day <= date(until)?),
                Moment::Time(time, zone) => {
                    Some(zone.from_local_datetime(&time).earliest()?.to_utc() <= utc(until)?)
                }
            }
        };
        if !weekdays.contains(&start.day().weekday()) {
            return Err(format!("the first is none of {by_day}"));
        }
        let mut days = Vec::new();
        for n in 0.. {
            let after = |day: NaiveDate| day + Days::new(n);
            let at = match start {
                Moment::Day(day) => Moment::Day(after(day)),
                Moment::Time(time, zone) => {
                    Moment::Time(after(time.date()).and_time(time.time()), zone)
                }
            };
            if !is_within(at).ok_or_else(wrong)? {
                break;
            }
            if weekdays.contains(&at.day().weekday()) && !left_out.contains(&at) {
                days.push(at.day());
            }
        }
        Ok(days)
    }
}

pub fn date(text: &str) -> Option<NaiveDate> {
    let is_plain = text.len() == 8 && text.bytes().all(|b| b.is_ascii_digit());
    let number = |part: &str| part.parse().ok();
    let [year, month, day] = if is_plain {
        [&text[..4], &text[4..6], &text[6..]]
    } else {
        return None;
    };
    NaiveDate::from_ymd_opt(year.parse().ok()?, number(month)?, number(day)?)
}

fn time(text: &str) -> Option<NaiveDateTime> {
    let (day, clock) = text.split_once('T')?;
    let number = |part: Option<&str>| part?.parse().ok();
    let [hours, minutes, seconds] = [0..2, 2..4, 4..6].map(|at| number(clock.get(at)));
    let clock = NaiveTime::from_hms_opt(hours?, minutes?, seconds?)?;
    Some(date(day)?.and_time(clock))
}

pub fn utc(text: &str) -> Option<DateTime<Utc>> {
    Some(time(text.strip_suffix('Z')?)?.and_utc())
}

fn moment(property: &Property) -> Result<Moment, String> {
    let told = || format!("{property:?}");
    let parameters = &property.parameters;
    let is_day = parameters.get("VALUE").map(String::as_str) == Some("DATE");
    match (parameters.get("TZID"), is_day) {
        (None, true) => date(&property.value).map(Moment::Day),
        (Some(zone), false) => {
            let zone: Option<Tz> = zone.parse().ok();
            zone.and_then(|zone| Some(Moment::Time(time(&property.value)?, zone)))
        }
        _ => None,
    }
    .ok_or_else(told)
}
