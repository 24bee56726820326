//! What the calendar has told so far: kept in a small file beside the plan, so that the next plan
//! updates what the last one put into people's calendars.

use chrono::{DateTime, NaiveDate, Utc};
use serde::{Deserialize, Serialize};

use crate::calendar::ComponentKind;
use crate::calendar::item::CalendarItem;
use crate::calendar::{identity, text, wire};
use crate::chores::Kind;

/// Version of the state file's format.
pub const SCHEMA: u32 = 1;

/// How the maker of a state file begins, whatever its version.
const MAKER_PREFIX: &str = "steadyleaf ";

/// What was told, by day, then in the order of a day's work.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct CalendarState {
    /// Version of this format.
    pub schema: u32,
    /// The program and its version.
    pub made_by: String,
    /// Every event and task that calendars may hold.
    pub told: Vec<PublishedEvent>,
}

/// One event or task.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PublishedEvent {
    /// Its identity in every calendar, for good.
    pub uid: String,
    /// Whether it is an event or a task.
    pub form: ComponentKind,
    /// What kind of work.
    pub kind: Kind,
    /// What it is about, as [`Chore::about`](crate::chores::Chore::about), or a fingerprint of that
    /// where it is long.
    pub about: String,
    /// Its day; of a series the first.
    pub day: NaiveDate,
    /// The last day of a series; absent otherwise.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last: Option<NaiveDate>,
    /// What it was called, without a word of its being cancelled.
    pub summary: String,
    /// Whether it was cancelled.
    pub cancelled: bool,
    /// Hash of all that it says.
    pub fingerprint: String,
    /// How often it was changed.
    pub sequence: u32,
    /// When it was changed last.
    pub changed: DateTime<Utc>,
}

impl PublishedEvent {
    /// The day after which nobody asks for it any more.
    pub(super) fn last_day(&self) -> NaiveDate {
        self.last.unwrap_or(self.day)
    }

    /// Whether the item may be this series, told anew.
    pub(super) fn may_be_series(&self, item: &CalendarItem) -> bool {
        self.kind == item.kind()
            && self.about == identity::about(&item.chore)
            && self.last.is_some_and(|last| item.first() <= last)
            && self.day <= item.last()
    }
}

impl Default for CalendarState {
    fn default() -> Self {
        Self::from_events(Vec::new())
    }
}

impl CalendarState {
    pub(super) fn from_events(mut told: Vec<PublishedEvent>) -> Self {
        told.sort_by(|a, b| (a.day, a.kind, &a.uid).cmp(&(b.day, b.kind, &b.uid)));
        Self {
            schema: SCHEMA,
            made_by: format!("{MAKER_PREFIX}{}", env!("CARGO_PKG_VERSION")),
            told,
        }
    }

    /// Reads a state file; nothing if it is not one of ours.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let state: Self = serde_json::from_str(text).ok()?;
        (state.made_by.starts_with(MAKER_PREFIX) && state.schema == SCHEMA).then_some(state)
    }

    /// What the calendar files tell of themselves, where the state file was lost. Files of
    /// somebody else tell nothing.
    #[must_use]
    pub fn from_calendars<'a>(files: impl IntoIterator<Item = &'a str>) -> Self {
        let ours = files
            .into_iter()
            .filter(|file| crate::calendar::is_ours(file));
        let mut events: Vec<PublishedEvent> = ours.flat_map(parse_calendar).collect();
        // The same event in two files was changed last in one of them.
        events
            .sort_by(|a, b| (&a.uid, b.sequence, b.changed).cmp(&(&b.uid, a.sequence, a.changed)));
        events.dedup_by(|later, kept| later.uid == kept.uid);
        Self::from_events(events)
    }

    /// The state file's text.
    ///
    /// # Panics
    /// Never: a state has nothing that JSON lacks.
    #[must_use]
    pub fn to_json(&self) -> String {
        let text = serde_json::to_string_pretty(self).expect("a state has nothing JSON lacks");
        format!("{text}\n")
    }

    /// What stands in calendars and is not cancelled.
    pub(super) fn not_cancelled(
        &self,
        form: ComponentKind,
    ) -> impl Iterator<Item = &PublishedEvent> {
        self.told
            .iter()
            .filter(move |told| told.form == form && !told.cancelled)
    }
}

fn parse_calendar(file: &str) -> Vec<PublishedEvent> {
    let lines: Vec<String> = wire::unfold(file)
        .split("\r\n")
        .map(str::to_owned)
        .collect();
    let mut events = Vec::new();
    for (form, component) in [
        (ComponentKind::Events, "VEVENT"),
        (ComponentKind::Todos, "VTODO"),
    ] {
        let (begin, end) = (format!("BEGIN:{component}"), format!("END:{component}"));
        let mut rest = lines.as_slice();
        while let Some(first) = rest.iter().position(|line| *line == begin) {
            let Some(length) = rest[first..].iter().position(|line| *line == end) else {
                break;
            };
            events.extend(parse_component(&rest[first..=first + length], form));
            rest = &rest[first + length..];
        }
    }
    events
}

/// An event or task of our own hand.
fn parse_component(lines: &[String], form: ComponentKind) -> Option<PublishedEvent> {
    let value = |name: &str| {
        lines.iter().find_map(|line| {
            let rest = line.strip_prefix(name)?;
            match rest.split_at_checked(1)? {
                (":", value) => Some(value),
                // Our parameters hold neither quotes nor colons.
                (";", rest) => Some(rest.split_once(':')?.1),
                _ => None,
            }
        })
    };
    let plain = |name| value(name).map(text::unescape);
    let day = |value: &str| NaiveDate::parse_from_str(value.get(..8)?, "%Y%m%d").ok();
    let cancelled = value("STATUS") == Some("CANCELLED");
    let kind = value("X-STEADYLEAF-KIND")?;
    let summary = match cancelled {
        // What it was called before.
        true => plain("X-STEADYLEAF-SUMMARY")?,
        false => plain("SUMMARY")?,
    };
    Some(PublishedEvent {
        uid: value("UID")?.to_owned(),
        form,
        kind: Kind::ALL.into_iter().find(|k| k.key() == kind)?,
        about: plain("X-STEADYLEAF-ABOUT").unwrap_or_default(),
        day: day(value("DTSTART").or_else(|| value("DUE"))?)?,
        last: value("X-STEADYLEAF-LAST").and_then(day),
        summary,
        cancelled,
        fingerprint: wire::fingerprint(lines.iter().map(String::as_str)),
        sequence: value("SEQUENCE")?.parse().ok()?,
        changed: DateTime::parse_from_str(
            &format!("{} +0000", value("LAST-MODIFIED")?),
            "%Y%m%dT%H%M%SZ %z",
        )
        .ok()?
        .to_utc(),
    })
}
