//! Going through the diary in the order of its days.

use chrono::NaiveDate;

use crate::diary::entry::Entry;
use crate::diary::limits;
use crate::diary::state::{DiaryState, ImpossibleEvent};
use crate::garden::Garden;

/// What stands where at the end of a day, by the diary; and entries that cannot have happened
/// as written, which are left out.
#[must_use]
pub fn replay<'e>(
    garden: &Garden,
    entries: &'e [Entry],
    until: NaiveDate,
) -> (DiaryState, Vec<(&'e Entry, ImpossibleEvent)>) {
    let (state, left_out) = replay_all(garden, entries, until, entries.len());
    let left_out = left_out.into_iter().map(|(n, why)| (&entries[n], why));
    (state, left_out.collect())
}

/// The same, with the places of what is left out. Entries from a place on are new: they speak of
/// the garden as it is, those before may speak of holes that it has no more.
fn replay_all(
    garden: &Garden,
    entries: &[Entry],
    until: NaiveDate,
    new_from: usize,
) -> (DiaryState, Vec<(usize, ImpossibleEvent)>) {
    // By day; those of one day in the order in which they were put down.
    let mut in_order: Vec<usize> = (0..entries.len()).collect();
    in_order.sort_by_key(|&n| entries[n].on);
    let mut state = DiaryState::new(garden);
    let mut left_out = Vec::new();
    for n in in_order {
        let entry = &entries[n];
        let taken_in = limits::check_days(garden, entry).and_then(|()| {
            if entry.on > until {
                return Ok(());
            }
            if n >= new_from {
                state.check_known_hole(entry)?;
            }
            state.apply(entry)
        });
        if let Err(why) = taken_in {
            left_out.push((n, why));
        }
    }
    (state, left_out)
}

/// Whether entries can be added to a diary: they can have happened themselves, and what the diary
/// has for later days still can.
///
/// # Errors
/// Why not.
pub fn check_entries(
    garden: &Garden,
    before: &[Entry],
    new: &[Entry],
) -> Result<(), ImpossibleEvent> {
    let (_, was_impossible) = replay_all(garden, before, NaiveDate::MAX, before.len());
    let all: Vec<Entry> = before.iter().chain(new).cloned().collect();
    let (_, impossible) = replay_all(garden, &all, NaiveDate::MAX, before.len());
    // Told by its place: the same words may be in the diary already, and be as impossible there.
    let is_news = |n: usize| was_impossible.iter().all(|&(old, _)| old != n);
    let Some((n, why)) = impossible.into_iter().find(|&(n, _)| is_news(n)) else {
        return Ok(());
    };
    let on = all[n].on;
    let last_new = new.iter().map(|e| e.on).max();
    if n >= before.len() || last_new.is_none_or(|day| on <= day) {
        return Err(why);
    }
    Err(ImpossibleEvent::ContradictsLater {
        on,
        why: Box::new(why),
    })
}
