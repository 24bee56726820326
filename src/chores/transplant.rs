//! Seedlings into holes.

use crate::chores::holes::HolePlace;
use crate::chores::line::DetailLine;
use crate::chores::plan_view::{ByDay, PlanView};
use crate::chores::words::nursery::SeedlingOrigin;
use crate::chores::{Chore, Kind, sow};

pub(super) fn chores(view: &PlanView) -> Vec<Chore> {
    let mut days: ByDay<(&str, SeedlingOrigin), HolePlace> = ByDay::new();
    for planted in &view.stays {
        let stay = planted.stay;
        if view.is_reported(stay.transplant) && !stay.stands {
            let origin = match stay.sow {
                Some(day) if stay.for_seed => SeedlingOrigin::ForSeed(day),
                Some(day) if !stay.on_hand => SeedlingOrigin::Sown(day),
                sown => SeedlingOrigin::OnHand(sown),
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
            let summary: Vec<String> = counts_by_crop(crops)
                .into_iter()
                .map(|(crop, n)| view.words.plant_count(view.crop_name(crop), n))
                .collect();
            let lines = groups
                .iter()
                .map(|((crop, origin), holes)| {
                    let called = view.crop_name(crop);
                    let count = (holes.len(), sow::starts(view, crop));
                    DetailLine::from_holes(holes, view.words, |told| {
                        view.words
                            .transplant_line(called, count, *origin, told, day)
                    })
                })
                .collect();
            let hints = if Some(day) == first {
                view.words.transplant_hints()
            } else {
                Vec::new()
            };
            let about = groups.keys().map(|(crop, _)| *crop);
            view.chore(
                Kind::Transplant,
                day,
                about,
                view.words.transplant_title(&summary),
                lines,
                hints,
            )
        })
        .collect()
}

/// Numbers summed by crop, the most first, then by key.
pub(super) fn counts_by_crop<'a>(
    crops: impl Iterator<Item = (&'a str, usize)>,
) -> Vec<(&'a str, usize)> {
    let mut sums = std::collections::BTreeMap::new();
    for (crop, n) in crops {
        *sums.entry(crop).or_insert(0) += n;
    }
    let mut sums = Vec::from_iter(sums);
    sums.sort_by_key(|(crop, n)| (std::cmp::Reverse(*n), *crop));
    sums
}
