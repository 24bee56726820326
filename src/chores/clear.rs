//! Holes whose plants come out: cleared and wiped before anything else goes in.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use crate::chores::holes::HolePlace;
use crate::chores::line::DetailLine;
use crate::chores::plan_view::{ByDay, PlanView};
use crate::chores::words::harvest::HoleAfterwards;
use crate::chores::{Chore, Kind};

pub(super) fn chores(view: &PlanView) -> Vec<Chore> {
    let after = HoleFollowUp::new(view);
    let seed_plants = seed_plants(view);
    let mut days: BTreeMap<NaiveDate, BTreeMap<HoleAfterwards, Vec<HolePlace>>> = BTreeMap::new();
    for stands in &view.stays {
        let (day, hole) = (stands.stay.removal, stands.hole);
        if view.is_reported(day) {
            let groups = days.entry(day).or_default();
            groups
                .entry(after.afterwards(day, hole))
                .or_default()
                .push(hole);
        }
    }
    days.into_iter()
        .map(|(day, groups)| {
            let cleared = groups.values().map(Vec::len).sum();
            let about = groups.values().flatten().map(HolePlace::tube);
            let of_seed = seed_plants.get(&day).into_iter().flatten();
            let of_seed = of_seed.map(|(crop, holes)| {
                let called = view.crop_name(crop);
                DetailLine::from_holes(holes, view.words, |told| {
                    view.words.seed_line(called, holes.len(), told)
                })
            });
            let lines = groups.iter().map(|(afterwards, holes)| {
                DetailLine::from_holes(holes, view.words, |told| {
                    view.words.clear_line(*afterwards, told)
                })
            });
            let lines = of_seed.chain(lines).collect();
            let summary = view.words.clear_title(cleared);
            view.chore(Kind::Clear, day, about, summary, lines, Vec::new())
        })
        .collect()
}

/// Plants left to flower, by the day on which they come out with their seed.
fn seed_plants<'a>(view: &PlanView<'a>) -> ByDay<&'a str, HolePlace<'a>> {
    let mut days: ByDay<&str, HolePlace> = ByDay::new();
    for planted in view.stays.iter().filter(|p| p.stay.for_seed) {
        let day = days.entry(planted.stay.removal).or_default();
        let holes = day.entry(&planted.stay.crop).or_default();
        holes.push(planted.hole);
    }
    days
}

/// What else is done with holes, and tubes, on the day.
struct HoleFollowUp<'a> {
    planted: BTreeSet<(NaiveDate, HolePlace<'a>)>,
    cleaned: BTreeSet<(NaiveDate, &'a str)>,
}

impl<'a> HoleFollowUp<'a> {
    fn new(view: &PlanView<'a>) -> Self {
        let plantings = view.stays.iter().map(|p| (p.stay.transplant, p.hole));
        let cleans = view.plan.cleans.iter().map(|c| (c.day, c.tube.as_str()));
        Self {
            planted: plantings.collect(),
            cleaned: cleans.collect(),
        }
    }

    fn afterwards(&self, day: NaiveDate, hole: HolePlace<'a>) -> HoleAfterwards {
        if self.cleaned.contains(&(day, hole.tube())) {
            HoleAfterwards::TubeScrubbed
        } else if self.planted.contains(&(day, hole)) {
            HoleAfterwards::PlantedAgain
        } else {
            HoleAfterwards::LeftEmpty
        }
    }
}
