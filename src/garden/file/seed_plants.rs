//! Plants left to flower for their seed.

use std::cell::RefCell;

use crate::garden::SeedPlant;
use crate::garden::bounds;
use crate::garden::cards::Cards;
use crate::garden::file::{rig, wants};
use crate::garden::holes;
use crate::garden::rig::Loop;
use crate::reader::decode::{KeyedValue, collect_all, suggestion_text};

const EXAMPLE: &str =
    "- { hole: deck-1-1, crop: sweet-basil, from: 2027-06-02, until: 2027-09-15 }";

/// The `keep_for_seed` of a garden. `loops` are its loops, if those could be read.
pub(super) fn read(
    entry: KeyedValue<'_>,
    cards: &Cards,
    loops: Option<&[Loop]>,
) -> Option<Vec<SeedPlant>> {
    // A rig too large to plan is told of elsewhere; its holes are not counted out here.
    let plannable = loops.filter(|loops| rig::hole_count(loops) <= bounds::MAX_HOLES);
    let names: Option<Vec<String>> = plannable.map(|loops| {
        let holes = holes::layout_of_loops(loops).holes;
        holes.into_iter().map(|h| h.id).collect()
    });
    let seen: RefCell<Vec<SeedPlant>> = RefCell::new(Vec::new());
    let items = entry.items_or_empty(EXAMPLE)?.into_iter().map(|e| {
        let plant = seed_plant(e, cards, names.as_deref())?;
        let other = seen.borrow().iter().find(|o| overlap(o, &plant)).cloned();
        if let Some(other) = other {
            return e.reject(
                format!("two plants are kept for seed in `{}` at once", plant.hole),
                format!("the other one from {} until {}", other.from, other.until),
                "give one of them another hole, or another time",
            );
        }
        seen.borrow_mut().push(plant.clone());
        Some(plant)
    });
    collect_all(items)
}

fn overlap(a: &SeedPlant, b: &SeedPlant) -> bool {
    a.hole == b.hole && a.from < b.until && b.from < a.until
}

fn seed_plant(entry: KeyedValue<'_>, cards: &Cards, holes: Option<&[String]>) -> Option<SeedPlant> {
    let f = entry.fields("this seed plant", EXAMPLE)?;
    let hole = f.required("hole", "hole: deck-1-1", |e| hole(e, holes));
    let crop = f.required("crop", "crop: sweet-basil", |e| wants::crop(e, cards));
    let from = f.required("from", "from: 2027-06-02", |e| e.date());
    let until = f.required("until", "until: 2027-09-15", |e| e.date());
    let backwards = from.is_some_and(|from| until.is_some_and(|until| until <= from));
    if backwards {
        f.reject(
            "until",
            "this seed plant is taken out before it has stood a day",
            "not later than `from`",
            "`from` is the day on which it is set out, `until` that on which its seed is ripe",
        );
    }
    f.finish();
    (!backwards).then_some(())?;
    Some(SeedPlant {
        hole: hole?,
        crop: crop?.key.clone(),
        from: from?,
        until: until?,
    })
}

fn hole(entry: KeyedValue<'_>, holes: Option<&[String]>) -> Option<String> {
    let name = entry.text()?;
    match holes {
        Some(holes) if !holes.iter().any(|h| h == name) => entry.reject(
            format!("there is no hole `{name}`"),
            suggestion_text(name, holes.iter().map(String::as_str)),
            "a hole is named by its bank, tube and number, like `deck-2-5`",
        ),
        _ => Some(name.to_owned()),
    }
}
