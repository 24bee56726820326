//! Seeds in the house at the start.

use std::cell::RefCell;

use chrono::NaiveDate;

use crate::garden::SeedStock;
use crate::garden::bounds;
use crate::garden::cards::Cards;
use crate::garden::crop::Propagation;
use crate::garden::file::wants;
use crate::reader::decode::{KeyedValue, collect_all};

const EXAMPLE: &str = "- { crop: butterhead, count: 40, best_before: 2028-12-31 }";

/// The `seeds` of a garden. `start` is its first day, if that could be read.
pub(super) fn read(
    entry: KeyedValue<'_>,
    cards: &Cards,
    start: Option<NaiveDate>,
) -> Option<Vec<SeedStock>> {
    let seen = RefCell::new(Vec::new());
    let items = entry.items_or_empty(EXAMPLE)?.into_iter().map(|e| {
        let f = e.fields("these seeds", EXAMPLE)?;
        let crop = f.required("crop", "crop: butterhead", |e| crop(e, cards, &seen));
        let count = f.required("count", "count: 40", |e| e.count(&bounds::SEEDS));
        let best_before = f.optional("best_before", |e| best_before(e, start));
        f.finish();
        Some(SeedStock {
            crop: crop?,
            count: count?,
            best_before: best_before?,
        })
    });
    collect_all(items)
}

fn crop(entry: KeyedValue<'_>, cards: &Cards, seen: &RefCell<Vec<String>>) -> Option<String> {
    let card = wants::crop(entry, cards)?;
    if card.propagation != Propagation::Seed {
        return entry.reject(
            format!("`{}` is not raised from seed", card.key),
            format!("it is started from a {}", card.propagation.key_word()),
            "leave it out",
        );
    }
    if seen.borrow().contains(&card.key) {
        return entry.reject(
            format!("the seeds of `{}` are stated twice", card.key),
            "the second time",
            "count them together, with the day before which the older ones are best",
        );
    }
    seen.borrow_mut().push(card.key.clone());
    Some(card.key.clone())
}

fn best_before(entry: KeyedValue<'_>, start: Option<NaiveDate>) -> Option<NaiveDate> {
    let day = entry.date()?;
    match start {
        Some(start) if day < start => entry.reject(
            "these seeds are past their life at the start",
            format!("the garden starts on {start}"),
            "leave out old seeds: they come up thinly",
        ),
        _ => Some(day),
    }
}
