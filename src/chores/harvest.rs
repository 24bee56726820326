//! What is ripe, where it stands and how much it should be.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::chores::holes::Hole;
use crate::chores::line::Line;
use crate::chores::plan_view::{ByDay, Planted, Scene};
use crate::chores::words::harvest::Manner;
use crate::chores::{Chore, Kind};
use crate::garden::crop::Harvest;

/// What is told in one line. Ordered by the place of the want in the plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Group<'a> {
    place: usize,
    want: &'a str,
    crop: &'a str,
    how: Manner,
}

pub(super) fn chores(scene: &Scene) -> Vec<Chore> {
    let mut days: ByDay<Group, (Hole, f64)> = ByDay::new();
    for planted in &scene.stays {
        let stay = planted.stay;
        for (i, harvest) in stay.harvests.iter().enumerate() {
            if scene.shows(harvest.day) {
                let how = manner(scene, planted, i, harvest.day);
                let group = Group {
                    place: place(scene, &stay.want),
                    want: &stay.want,
                    crop: &stay.crop,
                    how,
                };
                let day = days.entry(harvest.day).or_default();
                day.entry(group)
                    .or_default()
                    .push((planted.hole, harvest.amount));
            }
        }
    }
    let first = days.keys().next().copied();
    days.into_iter()
        .map(|(day, groups)| {
            let hints = if Some(day) == first {
                scene.words.harvest_hints()
            } else {
                Vec::new()
            };
            let about = groups.keys().map(|group| group.want);
            let summary = scene.words.harvest_summary(&amounts(scene, &groups));
            scene.chore(
                Kind::Harvest,
                day,
                about,
                summary,
                lines(scene, &groups),
                hints,
            )
        })
        .collect()
}

/// How the plant is taken. The number of a cut is known only for what was planted in this plan.
fn manner(scene: &Scene, planted: &Planted, i: usize, day: NaiveDate) -> Manner {
    let last = day == planted.stay.removal;
    let from_the_first = planted.stay.transplant >= scene.plan.start;
    match planted.crop.map(|crop| crop.harvest) {
        None => Manner::Taken,
        Some(Harvest::Head { .. }) => Manner::Whole,
        Some(Harvest::Cut { .. }) if last => Manner::LastCut,
        Some(Harvest::Cut { .. }) => Manner::Cut(from_the_first.then_some(i + 1)),
        Some(Harvest::Pick { .. }) if last => Manner::LastPicking,
        Some(Harvest::Pick { .. }) => Manner::Picking,
    }
}

/// What each want gets that day, in the plan's order of wants.
fn amounts(scene: &Scene, groups: &BTreeMap<Group, Vec<(Hole, f64)>>) -> Vec<String> {
    let mut sums: BTreeMap<(usize, &str), f64> = BTreeMap::new();
    for (group, taken) in groups {
        *sums.entry((group.place, group.want)).or_default() += amount(taken);
    }
    sums.into_iter()
        .map(|((_, want), sum)| {
            scene
                .words
                .amount_of(want, unit(scene, want), sum, scene.garden.units)
        })
        .collect()
}

fn lines(scene: &Scene, groups: &BTreeMap<Group, Vec<(Hole, f64)>>) -> Vec<Line> {
    groups
        .iter()
        .map(|(group, taken)| {
            let holes: Vec<Hole> = taken.iter().map(|(hole, _)| *hole).collect();
            let unit = unit(scene, group.want);
            let amount = scene
                .words
                .amount_of(group.want, unit, amount(taken), scene.garden.units);
            let called = scene.called(group.crop);
            Line::of(&holes, scene.words, |told| {
                scene
                    .words
                    .harvest_line(&amount, unit, called, group.how, told)
            })
        })
        .collect()
}

fn amount(taken: &[(Hole, f64)]) -> f64 {
    taken.iter().map(|(_, amount)| amount).sum()
}

/// Place of a want among those of the plan.
fn place(scene: &Scene, want: &str) -> usize {
    let place = scene.plan.wants.iter().position(|w| w.want == want);
    place.unwrap_or(usize::MAX)
}

/// `heads` or `g`.
fn unit<'a>(scene: &Scene<'a>, want: &str) -> &'a str {
    let outcome = scene.plan.wants.iter().find(|w| w.want == want);
    outcome.map_or("g", |w| &w.unit)
}
