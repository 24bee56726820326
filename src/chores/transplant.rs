//! Seedlings into holes.

use crate::chores::holes::Hole;
use crate::chores::line::Line;
use crate::chores::plan_view::{ByDay, Scene};
use crate::chores::words::nursery::Origin;
use crate::chores::{Chore, Kind, sow};

pub(super) fn chores(scene: &Scene) -> Vec<Chore> {
    let mut days: ByDay<(&str, Origin), Hole> = ByDay::new();
    for planted in &scene.stays {
        let stay = planted.stay;
        if scene.shows(stay.transplant) && !stay.stands {
            let origin = match stay.sow {
                Some(day) if stay.for_seed => Origin::ForSeed(day),
                Some(day) if !stay.on_hand => Origin::Sown(day),
                sown => Origin::OnHand(sown),
            };
            let group = (stay.crop.as_str(), origin);
            let day = days.entry(stay.transplant).or_default();
            day.entry(group).or_default().push(planted.hole);
        }
    }
    let first = days.keys().next().copied();
    days.into_iter()
        .map(|(day, groups)| {
            let crops = groups.iter().map(|((crop, _), holes)| (*crop, holes.len()));
            let summary: Vec<String> = summed(crops)
                .into_iter()
                .map(|(crop, n)| scene.words.number_of(scene.called(crop), n))
                .collect();
            let lines = groups
                .iter()
                .map(|((crop, origin), holes)| {
                    let called = scene.called(crop);
                    let count = (holes.len(), sow::starts(scene, crop));
                    Line::of(holes, scene.words, |told| {
                        scene
                            .words
                            .transplant_line(called, count, *origin, told, day)
                    })
                })
                .collect();
            let hints = if Some(day) == first {
                scene.words.transplant_hints()
            } else {
                Vec::new()
            };
            let about = groups.keys().map(|(crop, _)| *crop);
            scene.chore(
                Kind::Transplant,
                day,
                about,
                scene.words.transplant_summary(&summary),
                lines,
                hints,
            )
        })
        .collect()
}

/// Numbers summed by crop, the most first, then by key.
pub(super) fn summed<'a>(crops: impl Iterator<Item = (&'a str, usize)>) -> Vec<(&'a str, usize)> {
    let mut sums = std::collections::BTreeMap::new();
    for (crop, n) in crops {
        *sums.entry(crop).or_insert(0) += n;
    }
    let mut sums = Vec::from_iter(sums);
    sums.sort_by_key(|(crop, n)| (std::cmp::Reverse(*n), *crop));
    sums
}
