//! From dated chores to iCalendar (RFC 5545 and 7986), written so that the calendar apps in use
//! take it.
//!
//! The `icalendar` crate builds the components; [`wire`] sets right what it writes against the
//! standard. Nothing here looks at the clock: the same chores give the same bytes.

mod component;
mod done;
mod identity;
mod item;
mod state;
pub mod text;
mod timezone;
mod update;
pub mod wire;

use chrono::{NaiveDate, TimeDelta};
use icalendar::{Calendar, Property};
use serde::{Deserialize, Serialize};

use crate::chores::{Chore, Kind};
use crate::garden::Garden;
use update::PublishedEntry;

pub use identity::uid;
pub use state::{CalendarState, PublishedEvent, SCHEMA};

/// The program, as calendars name their maker.
const PRODUCT: &str = "-//Steadyleaf//Steadyleaf//EN";

/// How often an app may ask a calendar that it follows for news.
const REFRESH_INTERVAL: &str = "P1D";

/// What chores are put in the calendar as.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ComponentKind {
    /// Events, which every app shows.
    #[default]
    Events,
    /// Tasks, to be ticked off; many apps show none.
    Todos,
}

/// What a calendar may have beyond the usual.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
#[non_exhaustive]
pub struct CalendarOptions {
    /// Ring so long before each event's start (before midnight, where it lasts all day), instead
    /// of when the garden says; silent if both are absent. The alarm is one that every app
    /// understands alike: shown, and never after the start.
    pub ring_before: Option<TimeDelta>,
    /// Events or tasks.
    pub form: ComponentKind,
    /// Only these kinds of work; all if empty.
    pub only: Vec<Kind>,
    /// Only so many days from today on.
    pub days: Option<u32>,
    /// The day on which the plan is made; the plan's first if absent. It dates changes, and what
    /// fell away before it is forgotten.
    pub today: Option<NaiveDate>,
    /// Today's work was begun or done by the diary: what is no longer planned of it was done, not
    /// cancelled.
    pub worked: bool,
    /// The calendar's files as they are: what was done stays as it stands in them.
    pub files: Vec<String>,
}

impl CalendarOptions {
    /// The same with an alarm so long before each event's start.
    ///
    /// # Panics
    /// If that is not at least a minute.
    #[must_use]
    pub fn ring_before(self, time: TimeDelta) -> Self {
        assert!(
            time >= TimeDelta::minutes(1),
            "an alarm rings before the start"
        );
        Self {
            ring_before: Some(time),
            ..self
        }
    }
}

/// The chores as one iCalendar file that knows of no earlier one.
///
/// A chore is an event on its day, but one that reads the same on many days is a series. Events
/// last all day, unless the garden's rhythm says when to remind: then half an hour from that time,
/// in the garden's time zone. The chores' days and kinds must differ, as those of
/// [`chores`](crate::chores::chores) do: they are the events' identity.
#[must_use]
pub fn calendar(chores: &[Chore], garden: &Garden) -> String {
    render_with_options(chores, garden, &CalendarOptions::default())
}

/// [`calendar`] with something beyond the usual.
#[must_use]
pub fn render_with_options(chores: &[Chore], garden: &Garden, options: &CalendarOptions) -> String {
    CalendarUpdate::new(chores, garden, &CalendarState::default(), options).render(None)
}

/// Whether a file is a calendar that this program has written, of whatever version.
#[must_use]
pub fn is_ours(file: &str) -> bool {
    let made_by = format!("PRODID:{PRODUCT}");
    wire::unfold(file).lines().any(|line| line == made_by)
}

/// The calendar that follows upon what was told before.
pub struct CalendarUpdate<'a> {
    garden: &'a Garden,
    entries: Vec<PublishedEntry>,
    state: CalendarState,
}

impl<'a> CalendarUpdate<'a> {
    /// What is to be done now, laid beside what was told before: the same chores keep their
    /// events, changed ones say so, and those that fell away are told once more as cancelled,
    /// until their day is past.
    ///
    /// The same chores, garden, state and options give the same bytes; and once more with the
    /// state that comes out.
    #[must_use]
    pub fn new(
        chores: &[Chore],
        garden: &'a Garden,
        former: &CalendarState,
        options: &CalendarOptions,
    ) -> Self {
        let (entries, state) = update::update(chores, garden, former, options);
        Self {
            garden,
            entries,
            state,
        }
    }

    /// What is remembered for the next time.
    #[must_use]
    pub fn state(&self) -> &CalendarState {
        &self.state
    }

    /// Whether anything of a kind is told.
    #[must_use]
    pub fn has_kind(&self, kind: Kind) -> bool {
        self.entries
            .iter()
            .any(|entry| entry.published.kind == kind)
    }

    /// The iCalendar file, of one kind of work or of all.
    #[must_use]
    pub fn render(&self, kind: Option<Kind>) -> String {
        let told = |entry: &&PublishedEntry| kind.is_none_or(|kind| entry.published.kind == kind);
        let entries: Vec<&PublishedEntry> = self.entries.iter().filter(told).collect();
        let file = self.frame(kind, &entries).to_string();
        let (head, foot) = file.split_at(file.len() - END_CALENDAR.len());
        debug_assert_eq!(foot, END_CALENDAR);
        let components = entries.iter().map(|entry| entry.component.as_str());
        let parts: Vec<&str> = [head].into_iter().chain(components).chain([foot]).collect();
        wire::normalise(&parts.concat())
    }

    /// The calendar without its events and tasks.
    fn frame(&self, kind: Option<Kind>, entries: &[&PublishedEntry]) -> Calendar {
        let mut calendar = Calendar::empty();
        let name = wire::protect_spaces(&text::one_line(&self.name(kind)));
        calendar
            .append_property(("VERSION", "2.0"))
            .append_property(("PRODID", PRODUCT))
            .append_property(("CALSCALE", "GREGORIAN"))
            // The crate escapes only what it knows, and it does not know RFC 7986's NAME.
            .append_property(Property::new("NAME", text::escape(&name)))
            .append_property(Property::new("X-WR-CALNAME", name))
            .append_property(("COLOR", "seagreen"))
            .append_property(
                Property::new("REFRESH-INTERVAL", REFRESH_INTERVAL)
                    .add_parameter("VALUE", "DURATION")
                    .done(),
            )
            .append_property(("X-PUBLISHED-TTL", REFRESH_INTERVAL));
        // A calendar holds at least one component (RFC 5545, 3.6); the zone is one without chores.
        if self.garden.rhythm.remind_at.is_some() || entries.is_empty() {
            let first = entries.iter().map(|entry| entry.published.day).min();
            let last = entries.iter().map(|entry| entry.published.last_day()).max();
            calendar.push(timezone::component(
                self.garden.place.timezone,
                first.unwrap_or(self.garden.start),
                last.unwrap_or(self.garden.start),
            ));
        }
        calendar
    }

    fn name(&self, kind: Option<Kind>) -> String {
        let garden = &self.garden.name;
        kind.map_or(garden.clone(), |kind| {
            let language = self.garden.language;
            let values = [
                ("garden", garden.as_str().into()),
                ("kind", kind.name(language).into()),
            ];
            language.format("calendar-name-of-kind", values)
        })
    }
}

/// How a calendar ends.
const END_CALENDAR: &str = "END:VCALENDAR\r\n";
