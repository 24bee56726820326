//! From dated chores to iCalendar (RFC 5545 and 7986), written so that the calendar apps in use
//! take it.
//!
//! The `icalendar` crate builds the components; [`wire`] sets right what it writes against the
//! standard. Nothing here looks at the clock: the same chores give the same bytes.

mod event;
mod identity;
pub mod text;
mod timezone;
pub mod wire;

use chrono::TimeDelta;
use icalendar::{Calendar, Property};

use crate::chores::Chore;
use crate::garden::Garden;

pub use identity::uid;

/// The program, as calendars name their maker.
const PRODUCT: &str = "-//Steadyleaf//Steadyleaf//EN";

/// What a calendar may have beyond the usual.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[non_exhaustive]
pub struct Options {
    /// Ring so long before each event's start (before midnight, where it lasts all day); silent
    /// if absent. The alarm is one that every app understands alike: shown, and never after the
    /// start.
    pub ring_before: Option<TimeDelta>,
}

impl Options {
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
        }
    }
}

/// The chores as one iCalendar file, an event a chore, in their order.
///
/// Events last all day, unless the garden's rhythm says when to remind: then half an hour from
/// that time, in the garden's time zone. The chores' days and kinds must differ, as those of
/// [`chores`](crate::chores::chores) do: they are the events' identity.
#[must_use]
pub fn calendar(chores: &[Chore], garden: &Garden) -> String {
    with_options(chores, garden, &Options::default())
}

/// Whether a file is a calendar that this program has written, of whatever version.
#[must_use]
pub fn is_ours(file: &str) -> bool {
    let made_by = format!("PRODID:{PRODUCT}");
    wire::unfolded(file).lines().any(|line| line == made_by)
}

/// [`calendar`] with something beyond the usual.
#[must_use]
pub fn with_options(chores: &[Chore], garden: &Garden, options: &Options) -> String {
    let mut calendar = Calendar::empty();
    let name = text::one_line(&garden.name);
    calendar
        .append_property(("VERSION", "2.0"))
        .append_property(("PRODID", PRODUCT))
        .append_property(("CALSCALE", "GREGORIAN"))
        // The crate escapes only what it knows, and it does not know RFC 7986's NAME.
        .append_property(Property::new("NAME", text::escaped(&name)))
        .append_property(Property::new("X-WR-CALNAME", name));
    // A calendar holds at least one component (RFC 5545, 3.6); the zone is one without chores.
    if garden.rhythm.remind_at.is_some() || chores.is_empty() {
        let days = chores.iter().map(|chore| chore.day);
        let first = days.clone().min().unwrap_or(garden.start);
        let last = days.max().unwrap_or(garden.start);
        calendar.push(timezone::component(garden.place.timezone, first, last));
    }
    for chore in chores {
        calendar.push(event::event(chore, garden, options));
    }
    wire::set_right(&calendar.to_string())
}
