//! What is ripe, where it stands and how much it should be.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::chores::holes::HolePlace;
use crate::chores::line::DetailLine;
use crate::chores::plan_view::{ByDay, PlanView, StayView};
use crate::chores::words::harvest::HarvestManner;
use crate::chores::{Chore, Kind};
use crate::garden::crop::HarvestHabit;

/// What is told in one line. Ordered by the place of the want in the plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct HarvestGroup<'a> {
    place: usize,
    want: &'a str,
    crop: &'a str,
    how: HarvestManner,
}

pub(super) fn chores(view: &PlanView) -> Vec<Chore> {
    let mut days: ByDay<HarvestGroup, (HolePlace, f64)> = ByDay::new();
    for planted in &view.stays {
        let stay = planted.stay;
        for (i, harvest) in stay.harvests.iter().enumerate() {
            if view.is_reported(harvest.day) {
                let how = harvest_manner(view, planted, i, harvest.day);
                let group = HarvestGroup {
                    place: want_index(view, &stay.want),
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
                view.words.harvest_hints()
            } else {
                Vec::new()
            };
            let about = groups.keys().map(|group| group.want);
            let summary = view.words.harvest_title(&amounts(view, &groups));
            view.chore(
                Kind::Harvest,
                day,
                about,
                summary,
                lines(view, &groups),
                hints,
            )
        })
        .collect()
}

/// How the plant is taken. The number of a cut is known only for what was planted in this plan.
fn harvest_manner(
    view: &PlanView,
    stay_view: &StayView,
    i: usize,
    day: NaiveDate,
) -> HarvestManner {
    let last = day == stay_view.stay.removal;
    let from_the_first = stay_view.stay.transplant >= view.plan.start;
    match stay_view.crop.map(|crop| crop.harvest) {
        None => HarvestManner::Taken,
        Some(HarvestHabit::Head { .. }) => HarvestManner::Whole,
        Some(HarvestHabit::Cut { .. }) if last => HarvestManner::LastCut,
        Some(HarvestHabit::Cut { .. }) => HarvestManner::Cut(from_the_first.then_some(i + 1)),
        Some(HarvestHabit::Pick { .. }) if last => HarvestManner::LastPicking,
        Some(HarvestHabit::Pick { .. }) => HarvestManner::Picking,
    }
}

/// What each want gets that day, in the plan's order of wants.
fn amounts(view: &PlanView, groups: &BTreeMap<HarvestGroup, Vec<(HolePlace, f64)>>) -> Vec<String> {
    let mut sums: BTreeMap<(usize, &str), f64> = BTreeMap::new();
    for (group, taken) in groups {
        *sums.entry((group.place, group.want)).or_default() += amount(taken);
    }
    sums.into_iter()
        .map(|((_, want), sum)| {
            view.words
                .want_amount(want, unit(view, want), sum, view.garden.units)
        })
        .collect()
}

fn lines(
    view: &PlanView,
    groups: &BTreeMap<HarvestGroup, Vec<(HolePlace, f64)>>,
) -> Vec<DetailLine> {
    groups
        .iter()
        .map(|(group, taken)| {
            let holes: Vec<HolePlace> = taken.iter().map(|(hole, _)| *hole).collect();
            let unit = unit(view, group.want);
            let amount = view
                .words
                .want_amount(group.want, unit, amount(taken), view.garden.units);
            let called = view.crop_name(group.crop);
            DetailLine::from_holes(&holes, view.words, |told| {
                view.words
                    .harvest_line(&amount, unit, called, group.how, told)
            })
        })
        .collect()
}

fn amount(taken: &[(HolePlace, f64)]) -> f64 {
    taken.iter().map(|(_, amount)| amount).sum()
}

/// Place of a want among those of the plan.
fn want_index(view: &PlanView, want: &str) -> usize {
    let place = view.plan.wants.iter().position(|w| w.want == want);
    place.unwrap_or(usize::MAX)
}

/// `heads` or `g`.
fn unit<'a>(view: &PlanView<'a>, want: &str) -> &'a str {
    let outcome = view.plan.wants.iter().find(|w| w.want == want);
    outcome.map_or("g", |w| &w.unit)
}
