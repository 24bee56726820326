//! Seed in the house before the first sowing, and again before it has lost its life; cuttings and
//! plugs seen to once for all.

use std::collections::BTreeMap;

use chrono::{Days, NaiveDate};

use super::scene::Scene;
use super::sow;
use super::{Chore, Kind};
use crate::garden::crop::Start;

/// A later order is told so many days before the sowing that needs it.
const AHEAD: u64 = 14;

/// Days in a year, near enough for the life of seed.
const YEAR: f64 = 365.0;

/// One crop's seed for the sowings of one seed's life.
struct Order<'a> {
    crop: &'a str,
    seeds: u64,
    sowings: usize,
    until: NaiveDate,
}

pub(super) fn chores(scene: &Scene) -> Vec<Chore> {
    let mut days: BTreeMap<NaiveDate, Vec<Order>> = BTreeMap::new();
    for (crop, sowings) in sowings_of_crops(scene) {
        for (life, part) in lives(scene, crop, &sowings).into_iter().enumerate() {
            let Some(day) = order_day(scene, life == 0, part[0].0) else {
                continue;
            };
            days.entry(day).or_default().push(Order {
                crop,
                seeds: part.iter().map(|(_, seeds)| seeds).sum(),
                sowings: part.len(),
                until: part[part.len() - 1].0,
            });
        }
    }
    days.into_iter()
        .map(|(day, orders)| {
            let called: Vec<&str> = orders.iter().map(|o| scene.called(o.crop)).collect();
            let lines = orders.iter().map(|o| line(scene, o, day)).collect();
            let about = orders.iter().map(|o| o.crop);
            let only_seed = |o: &Order| sow::starts(scene, o.crop) == Start::Seed;
            let only_seed = orders.iter().all(only_seed);
            let summary = scene.words.seed_order_summary(&called, only_seed);
            scene.chore(
                Kind::SeedOrder,
                day,
                about,
                summary,
                lines,
                scene.words.seed_hints(),
            )
        })
        .collect()
}

/// Days of sowing and seeds, by crop; only crops whose cards tell of seed.
fn sowings_of_crops<'a>(scene: &Scene<'a>) -> BTreeMap<&'a str, Vec<(NaiveDate, u64)>> {
    let mut crops: BTreeMap<&str, Vec<(NaiveDate, u64)>> = BTreeMap::new();
    for sown in &scene.sown {
        if let Some(sowing) = sown.sowing {
            crops
                .entry(sown.crop)
                .or_default()
                .push((sown.day, u64::from(sowing.seeds())));
        }
    }
    crops
}

/// The sowings of a crop, parted so that no part is longer than its seed keeps.
fn lives<'s>(
    scene: &Scene,
    crop: &str,
    sowings: &'s [(NaiveDate, u64)],
) -> Vec<&'s [(NaiveDate, u64)]> {
    let keeps = scene
        .garden
        .crop(crop)
        .and_then(|c| c.seed.keeps)
        .map_or(f64::INFINITY, |keeps| keeps.get() * YEAR);
    let mut parts = Vec::new();
    let mut rest = sowings;
    while let Some((first, _)) = rest.first() {
        #[allow(clippy::cast_precision_loss)]
        let fresh = |day: NaiveDate| (day - *first).num_days() as f64 <= keeps;
        let (part, later) = rest.split_at(rest.partition_point(|(day, _)| fresh(*day)).max(1));
        parts.push(part);
        rest = later;
    }
    parts
}

/// The workday on which to see to the seed of a sowing: the first of the plan for the first
/// seed of a crop that is sown within a year, a while ahead for what comes later.
fn order_day(scene: &Scene, first_seed: bool, sowing: NaiveDate) -> Option<NaiveDate> {
    let first = scene.workdays.first().copied()?;
    #[allow(clippy::cast_precision_loss)]
    let soon = (sowing - scene.plan.start).num_days() as f64 <= YEAR;
    let ahead = sowing.checked_sub_days(Days::new(AHEAD))?;
    // A plan made again finds the seed of its first weeks in the house.
    if scene.plan.start > scene.garden.start {
        return scene.workday_until(ahead);
    }
    if first_seed && soon {
        return Some(first);
    }
    scene.workday_until(ahead).or(Some(first))
}

fn line(scene: &Scene, order: &Order, day: NaiveDate) -> String {
    let keeps = scene.garden.crop(order.crop).and_then(|c| c.seed.keeps);
    let called = scene.called(order.crop);
    scene.words.seed_needed(
        called,
        (sow::starts(scene, order.crop), order.seeds),
        order.sowings,
        [order.until, day],
        keeps,
    )
}
