//! Sowing: which crop, how many cups, how many seeds for that.

use std::collections::BTreeSet;

use super::scene::Scene;
use super::words::Batch;
use super::{Chore, Kind};
use crate::garden::crop::Start;
use crate::nature::seed::Sowing;
use crate::plan::sowings::Sown;

pub(super) fn chores(scene: &Scene) -> Vec<Chore> {
    let mut hinted = BTreeSet::new();
    scene
        .sown
        .chunk_by(|a, b| a.day == b.day)
        .map(|batches| {
            let day = batches[0].day;
            let told: Vec<(&str, Batch)> = batches
                .iter()
                .map(|sown| (sown.crop, batch(scene, sown)))
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

fn batch(scene: &Scene, sown: &Sown) -> Batch {
    let card = scene.garden.crop(sown.crop);
    Batch {
        cups: sown.cups as usize,
        plants: card.map_or(1, |card| card.seed.per_cup),
        starts: starts(scene, sown.crop),
        sowing: sown.sowing,
        short: sown.short,
        transplant: sown.transplant,
    }
}

/// What a crop is raised from.
pub(super) fn starts(scene: &Scene, crop: &str) -> Start {
    scene
        .garden
        .crop(crop)
        .map_or(Start::Seed, |card| card.starts)
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
