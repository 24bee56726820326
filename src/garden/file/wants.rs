//! What is wanted each week, and the seedlings on hand.

use std::cell::RefCell;

use chrono::{Days, NaiveDate};

use crate::garden::bounds;
use crate::garden::cards::Cards;
use crate::garden::crop::{Crop, HarvestHabit};
use crate::garden::file::UniqueNames;
use crate::garden::want::Want;
use crate::garden::{Nursery, SeedlingBatch};
use crate::reader::bounds::group_thousands;
use crate::reader::decode::{Fields, KeyedValue, collect_all, did_you_mean};
use crate::units::{Amount, Measure};

const WANT: &str = "- { want: salad, from_crops: [butterhead], each_week: 6 heads }";
const SEEDLINGS: &str = "- { crop: butterhead, count: 12, sown: 2027-02-18 }";

/// The `wants` of a garden.
pub(super) fn read(entry: KeyedValue<'_>, cards: &Cards) -> Option<Vec<Want>> {
    let names = UniqueNames::new("wants");
    entry.read_each(WANT, |e| want(e, &names, cards))
}

fn want(entry: KeyedValue<'_>, names: &UniqueNames, cards: &Cards) -> Option<Want> {
    let f = entry.fields("this want", WANT)?;
    let name = f.required("want", "want: salad", |e| names.read(e));
    let crops = f.required("from_crops", "from_crops: [butterhead, romaine]", |e| {
        from_crops(e, cards)
    });
    let each_week = f.required("each_week", "each_week: 6 heads", amount);
    let between = f.optional("between", |e| {
        e.read_pair("between: [05-01, 10-15]", |e| e.year_day())
    });
    let importance = f.optional_or("importance", 1.0, |e| e.number(&bounds::IMPORTANCE));
    if let (Some(crops), Some(amount)) = (&crops, each_week) {
        check_habit(&f, crops, amount);
    }
    f.finish();
    Some(Want {
        name: name?,
        from_crops: crops?.into_iter().map(|c| c.key.clone()).collect(),
        each_week: each_week?,
        season: between?,
        importance_milli: to_thousandths(importance?),
    })
}

fn from_crops<'a>(entry: KeyedValue<'_>, cards: &'a Cards) -> Option<Vec<&'a Crop>> {
    let seen = RefCell::new(Vec::new());
    entry.read_each("from_crops: [butterhead, romaine]", |e| {
        let crop = crop(e, cards)?;
        if seen.borrow().contains(&crop.key) {
            return e.reject(
                format!("`{}` is in this list twice", crop.key),
                "the second time",
                "once is enough",
            );
        }
        seen.borrow_mut().push(crop.key.clone());
        Some(crop)
    })
}

/// A crop that has a card.
pub(super) fn crop<'a>(entry: KeyedValue<'_>, cards: &'a Cards) -> Option<&'a Crop> {
    let key = entry.text()?;
    cards.get(key).or_else(|| {
        entry.reject(
            format!("there is no crop card `{key}`"),
            did_you_mean(cards.suggest_key(key)),
            "`steadyleaf crops` lists the cards; your own go into the `crops` folder beside the garden file",
        )
    })
}

fn amount(entry: KeyedValue<'_>) -> Option<Amount> {
    let amount: Amount = entry.unbounded_quantity()?;
    let within = match amount.measure() {
        Measure::Heads => &bounds::WANTED_HEADS,
        Measure::Grams => &bounds::WANTED_GRAMS,
    };
    if amount.milli() == 0 {
        return entry.reject(
            "a want of nothing",
            "more than nothing is due here",
            "leave the want out if nothing is wanted",
        );
    }
    entry.within(within, amount, &entry.as_written())
}

/// Only crops that are taken whole can be counted in heads.
fn check_habit(f: &Fields<'_>, crops: &[&Crop], amount: Amount) {
    if amount.measure() != Measure::Heads {
        return;
    }
    let habit = |crop: &Crop| match crop.harvest {
        HarvestHabit::Head { .. } => None,
        HarvestHabit::Cut { .. } => Some("cut over and over"),
        HarvestHabit::Pick { .. } => Some("picked over and over"),
    };
    let found = crops.iter().find_map(|crop| Some((crop, habit(crop)?)));
    if let Some((crop, habit)) = found {
        f.reject(
            "each_week",
            format!("`{}` cannot be wanted in heads", crop.key),
            format!("`{}` is {habit}", crop.key),
            "want it by weight, such as `each_week: 80 g`",
        );
    }
}

fn to_thousandths(number: f64) -> u32 {
    // Inside the bounds of an importance this is at most 100,000.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let milli = (number * 1000.0).round() as u32;
    milli
}

/// The `seedlings` of a garden. `start` is its first day, if that could be read.
pub(super) fn seedlings(
    entry: KeyedValue<'_>,
    cards: &Cards,
    start: Option<NaiveDate>,
) -> Option<Vec<SeedlingBatch>> {
    let items = entry.items_or_empty(SEEDLINGS)?;
    collect_all(items.into_iter().map(|e| one_batch(e, cards, start)))
}

fn one_batch(
    entry: KeyedValue<'_>,
    cards: &Cards,
    start: Option<NaiveDate>,
) -> Option<SeedlingBatch> {
    let f = entry.fields("these seedlings", SEEDLINGS)?;
    let crop = f.required("crop", "crop: butterhead", |e| crop(e, cards));
    let count = f.required("count", "count: 12", |e| e.count(&bounds::SEEDLINGS));
    let sown = f.required("sown", "sown: 2027-02-18", |e| {
        let sown = e.date()?;
        start.map_or(Some(sown), |start| check_sown(e, sown, start))
    });
    f.finish();
    Some(SeedlingBatch {
        crop: crop?.key.clone(),
        count: count?,
        sown: sown?,
    })
}

fn check_sown(entry: KeyedValue<'_>, sown: NaiveDate, start: NaiveDate) -> Option<NaiveDate> {
    if sown > start {
        return entry.reject(
            "seedlings on hand cannot be sown after the start",
            format!("the garden starts on {start}"),
            "leave out what is not sown yet: the plan says when to sow it",
        );
    }
    let age = (start - sown).num_days();
    if age > bounds::MAX_SEEDLING_DAYS {
        let first = start
            .checked_sub_days(Days::new(bounds::MAX_SEEDLING_DAYS.unsigned_abs()))
            .unwrap_or(start);
        return entry.reject(
            format!("these seedlings would be {age} days old at the start"),
            format!(
                "at most {} days, sown {first} or later",
                bounds::MAX_SEEDLING_DAYS
            ),
            "",
        );
    }
    Some(sown)
}

/// Tells of more seedlings than the nursery has cells.
pub(super) fn check_cells(top: &Fields<'_>, seedlings: &[SeedlingBatch], nursery: &Nursery) {
    let count: u64 = seedlings.iter().map(|s| u64::from(s.count)).sum();
    if count > u64::from(nursery.cells) {
        top.reject(
            "seedlings",
            format!(
                "{} seedlings do not fit a nursery of {} cells",
                group_thousands(count),
                group_thousands(nursery.cells)
            ),
            "all of these together",
            "state the nursery's `cells`, or fewer seedlings",
        );
    }
}

/// Whether wants, seedlings or seed plants name a crop.
pub(super) fn is_named(
    key: &str,
    wants: &[Want],
    seedlings: &[SeedlingBatch],
    seed_crops: &[&str],
) -> bool {
    let mut wanted = wants.iter().flat_map(|w| &w.from_crops);
    wanted.any(|crop| crop == key)
        || seedlings.iter().any(|s| s.crop == key)
        || seed_crops.contains(&key)
}
