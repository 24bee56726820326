//! What is ripe, where it stands and how much it should be.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::chores::holes::HolePlace;
use crate::chores::line::DetailLine;
use crate::chores::plan_view::{ByDay, PlanView, StayView};
use crate::chores::words::harvest::HarvestManner;
use crate::chores::{Chore, Kind};
use crate::garden::crop::Harvest;

/// What is told in one line. Ordered by the place of the want in the plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct HarvestGroup<'a> {
    place: usize,
    want: &'a str,
    crop: &'a str,
    how: HarvestManner,
}

pub(super) fn chores(scene: &PlanView) -> Vec<Chore> {
    let mut days: ByDay<HarvestGroup, (HolePlace, f64)> = ByDay::new();
    for planted in &scene.stays {
        let stay = planted.stay;
        for (i, harvest) in stay.harvests.iter().enumerate() {
            if scene.is_reported(harvest.day) {
                let how = manner(scene, planted, i, harvest.day);
                let group = HarvestGroup {
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
            let summary = scene.words.harvest_title(&amounts(scene, &groups));
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
fn manner(scene: &PlanView, planted: &StayView, i: usize, day: NaiveDate) -> HarvestManner {
    let last = day == planted.stay.removal;
    let from_the_first = planted.stay.transplant >= scene.plan.start;
    match planted.crop.map(|crop| crop.harvest) {
        None => HarvestManner::Taken,
        Some(Harvest::Head { .. }) => HarvestManner::Whole,
        Some(Harvest::Cut { .. }) if last => HarvestManner::LastCut,
        Some(Harvest::Cut { .. }) => HarvestManner::Cut(from_the_first.then_some(i + 1)),
        Some(Harvest::Pick { .. }) if last => HarvestManner::LastPicking,
        Some(Harvest::Pick { .. }) => HarvestManner::Picking,
    }
}

/// What each want gets that day, in the plan's order of wants.
fn amounts(
    scene: &PlanView,
    groups: &BTreeMap<HarvestGroup, Vec<(HolePlace, f64)>>,
) -> Vec<String> {
    let mut sums: BTreeMap<(usize, &str), f64> = BTreeMap::new();
    for (group, taken) in groups {
        *sums.entry((group.place, group.want)).or_default() += amount(taken);
    }
    sums.into_iter()
        .map(|((_, want), sum)| {
            scene
                .words
                .want_amount(want, unit(scene, want), sum, scene.garden.units)
        })
        .collect()
}

fn lines(
    scene: &PlanView,
    groups: &BTreeMap<HarvestGroup, Vec<(HolePlace, f64)>>,
) -> Vec<DetailLine> {
    groups
        .iter()
        .map(|(group, taken)| {
            let holes: Vec<HolePlace> = taken.iter().map(|(hole, _)| *hole).collect();
            let unit = unit(scene, group.want);
            let amount =
                scene
                    .words
                    .want_amount(group.want, unit, amount(taken), scene.garden.units);
            let called = scene.name_of_crop(group.crop);
            DetailLine::of(&holes, scene.words, |told| {
                scene
                    .words
                    .harvest_line(&amount, unit, called, group.how, told)
            })
        })
        .collect()
}

fn amount(taken: &[(HolePlace, f64)]) -> f64 {
    taken.iter().map(|(_, amount)| amount).sum()
}

/// Place of a want among those of the plan.
fn place(scene: &PlanView, want: &str) -> usize {
    let place = scene.plan.wants.iter().position(|w| w.want == want);
    place.unwrap_or(usize::MAX)
}

/// `heads` or `g`.
fn unit<'a>(scene: &PlanView<'a>, want: &str) -> &'a str {
    let outcome = scene.plan.wants.iter().find(|w| w.want == want);
    outcome.map_or("g", |w| &w.unit)
}
