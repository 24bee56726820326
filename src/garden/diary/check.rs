//! Going through the diary in the order of its days.

use chrono::NaiveDate;

use super::entry::Entry;
use super::state::{Impossible, State};
use crate::garden::Garden;

/// What stands where at the end of a day, by the diary; and entries that cannot have happened
/// as written, which are left out.
#[must_use]
pub fn replay<'e>(
    garden: &Garden,
    entries: &'e [Entry],
    until: NaiveDate,
) -> (State, Vec<(&'e Entry, Impossible)>) {
    let mut state = State::new(garden);
    let mut left_out = Vec::new();
    for entry in in_order(entries).filter(|e| e.on <= until) {
        if let Err(why) = state.take_in(entry) {
            left_out.push((entry, why));
        }
    }
    (state, left_out)
}

/// Entries by day; those of one day in the order in which they were put down.
fn in_order(entries: &[Entry]) -> impl Iterator<Item = &Entry> {
    let mut sorted: Vec<&Entry> = entries.iter().collect();
    sorted.sort_by_key(|e| e.on);
    sorted.into_iter()
}

/// Whether entries can be added to a diary: they can have happened themselves, and what the diary
/// has for later days still can.
///
/// # Errors
/// Why not.
pub fn check(garden: &Garden, before: &[Entry], new: &[Entry]) -> Result<(), Impossible> {
    let (_, was_impossible) = replay(garden, before, NaiveDate::MAX);
    let all: Vec<Entry> = before.iter().chain(new).cloned().collect();
    let (_, impossible) = replay(garden, &all, NaiveDate::MAX);
    let is_news = |entry: &Entry| !was_impossible.iter().any(|(old, _)| *old == entry);
    let Some((entry, why)) = impossible.into_iter().find(|(entry, _)| is_news(entry)) else {
        return Ok(());
    };
    let last_new = new.iter().map(|e| e.on).max();
    if new.contains(entry) || last_new.is_none_or(|day| entry.on <= day) {
        return Err(why);
    }
    Err(Impossible::Later {
        on: entry.on,
        why: Box::new(why),
    })
}
