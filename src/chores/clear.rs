//! Holes whose plants come out: cleared and wiped before anything else goes in.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use crate::chores::holes::Hole;
use crate::chores::line::Line;
use crate::chores::plan_view::{ByDay, Scene};
use crate::chores::words::harvest::Afterwards;
use crate::chores::{Chore, Kind};

pub(super) fn chores(scene: &Scene) -> Vec<Chore> {
    let after = WhatFollows::of(scene);
    let seed_plants = seed_plants(scene);
    let mut days: BTreeMap<NaiveDate, BTreeMap<Afterwards, Vec<Hole>>> = BTreeMap::new();
    for stands in &scene.stays {
        let (day, hole) = (stands.stay.removal, stands.hole);
        if scene.shows(day) {
            let groups = days.entry(day).or_default();
            groups.entry(after.that(day, hole)).or_default().push(hole);
        }
    }
    days.into_iter()
        .map(|(day, groups)| {
            let cleared = groups.values().map(Vec::len).sum();
            let about = groups.values().flatten().map(Hole::tube);
            let of_seed = seed_plants.get(&day).into_iter().flatten();
            let of_seed = of_seed.map(|(crop, holes)| {
                let called = scene.called(crop);
                Line::of(holes, scene.words, |told| {
                    scene.words.seed_line(called, holes.len(), told)
                })
            });
            let lines = groups.iter().map(|(afterwards, holes)| {
                Line::of(holes, scene.words, |told| {
                    scene.words.clear_line(*afterwards, told)
                })
            });
            let lines = of_seed.chain(lines).collect();
            let summary = scene.words.clear_summary(cleared);
            scene.chore(Kind::Clear, day, about, summary, lines, Vec::new())
        })
        .collect()
}

/// Plants left to flower, by the day on which they come out with their seed.
fn seed_plants<'a>(scene: &Scene<'a>) -> ByDay<&'a str, Hole<'a>> {
    let mut days: ByDay<&str, Hole> = ByDay::new();
    for planted in scene.stays.iter().filter(|p| p.stay.for_seed) {
        let day = days.entry(planted.stay.removal).or_default();
        let holes = day.entry(&planted.stay.crop).or_default();
        holes.push(planted.hole);
    }
    days
}

/// What else is done with holes, and tubes, on the day.
struct WhatFollows<'a> {
    planted: BTreeSet<(NaiveDate, Hole<'a>)>,
    cleaned: BTreeSet<(NaiveDate, &'a str)>,
}

impl<'a> WhatFollows<'a> {
    fn of(scene: &Scene<'a>) -> Self {
        let plantings = scene.stays.iter().map(|p| (p.stay.transplant, p.hole));
        let cleans = scene.plan.cleans.iter().map(|c| (c.day, c.tube.as_str()));
        Self {
            planted: plantings.collect(),
            cleaned: cleans.collect(),
        }
    }

    fn that(&self, day: NaiveDate, hole: Hole<'a>) -> Afterwards {
        if self.cleaned.contains(&(day, hole.tube())) {
            Afterwards::TubeScrubbed
        } else if self.planted.contains(&(day, hole)) {
            Afterwards::PlantedAgain
        } else {
            Afterwards::LeftEmpty
        }
    }
}
