//! Sowing: which crop, how many cups, how many seeds for that.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use super::scene::Scene;
use super::words::Batch;
use super::{Chore, Kind};
use crate::garden::crop::Start;
use crate::nature::seed::{self, Sowing};

pub(super) fn chores(scene: &Scene) -> Vec<Chore> {
    let days = sowings(scene);
    let mut hinted = BTreeSet::new();
    days.into_iter()
        .map(|(day, batches)| {
            let told: Vec<(&str, Batch)> = batches
                .iter()
                .map(|((crop, transplant), cups)| (*crop, batch(scene, crop, *transplant, *cups)))
                .collect();
            let lines = told
                .iter()
                .map(|(crop, batch)| scene.words.sow_line(scene.called(crop), batch, day))
                .collect();
            let starts = BTreeSet::from_iter(told.iter().map(|(_, batch)| batch.starts));
            let news = starts.iter().filter(|s| hinted.insert(**s));
            let hints = news.map(|s| scene.words.sow_hint(*s)).collect();
            let about = told.iter().map(|(crop, _)| *crop);
            scene.chore(Kind::Sow, day, about, summary(scene, &told), lines, hints)
        })
        .collect()
}

/// How many cups to sow by day, crop and day of transplant.
pub(super) fn sowings<'a>(
    scene: &Scene<'a>,
) -> BTreeMap<NaiveDate, BTreeMap<(&'a str, NaiveDate), usize>> {
    let mut days = BTreeMap::<_, BTreeMap<_, _>>::new();
    for ((day, crop, transplant), cups) in scene.plan.sowings() {
        if scene.shows(day) {
            let batches = days.entry(day).or_default();
            batches.insert((crop, transplant), cups.len());
        }
    }
    days
}

fn batch(scene: &Scene, crop: &str, transplant: NaiveDate, cups: usize) -> Batch {
    Batch {
        cups,
        plants: scene.garden.crop(crop).map_or(1, |card| card.seed.per_cup),
        starts: starts(scene, crop),
        sowing: sowing(scene, crop, cups),
        transplant,
    }
}

/// What a crop is raised from.
pub(super) fn starts(scene: &Scene, crop: &str) -> Start {
    scene
        .garden
        .crop(crop)
        .map_or(Start::Seed, |card| card.starts)
}

/// What to sow for so many cups of a crop; unknown where the garden has no card of it.
pub(super) fn sowing(scene: &Scene, crop: &str, cups: usize) -> Option<Sowing> {
    let card = scene.garden.crop(crop)?;
    Some(seed::sowing(
        &card.seed,
        u32::try_from(cups).unwrap_or(u32::MAX),
    ))
}

/// The crops of a day with their seeds, batches of one crop together.
fn summary(scene: &Scene, told: &[(&str, Batch)]) -> String {
    let starts: Vec<Start> = told.iter().map(|(_, batch)| batch.starts).collect();
    let crops: Vec<String> = told
        .chunk_by(|a, b| a.0 == b.0)
        .map(|batches| {
            let (crop, batch) = &batches[0];
            let seeds = batches
                .iter()
                .map(|(_, b)| b.sowing.as_ref().map(Sowing::seeds))
                .sum();
            let cups = batches.iter().map(|(_, b)| b.cups).sum();
            let called = scene.called(crop);
            scene.words.sow_crop(called, batch.starts, seeds, cups)
        })
        .collect();
    scene.words.sow_summary(&crops, &starts)
}
