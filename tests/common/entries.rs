//! Entries of a diary.

use steadyleaf::diary::{Entry, Event, ExpectedHarvest};
use steadyleaf::units::Amount;

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

/// A last harvest, and the day for which the plan had expected it.
pub fn taken(on: &str, hole: &str, expected: &str, amount: Option<Amount>) -> Entry {
    let expected = ExpectedHarvest {
        on: date(expected),
        amount: None,
        pace: 1.0,
        yields: 1.0,
    };
    entry(
        on,
        Event::Harvested {
            hole: hole.to_owned(),
            amount,
            last: true,
            expected: Some(expected),
        },
    )
}
