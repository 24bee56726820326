//! Entries of a diary.

use steadyleaf::garden::diary::{Entry, Event};

use crate::lantern::date;

/// An entry of a day, not put down as planned.
pub fn entry(on: &str, event: Event) -> Entry {
    Entry {
        on: date(on),
        event,
        as_planned: false,
    }
}

/// So many cells sown.
pub fn sown(on: &str, crop: &str, cells: u32) -> Entry {
    let crop = crop.to_owned();
    entry(
        on,
        Event::Sown {
            crop,
            cells,
            cups: None,
        },
    )
}
