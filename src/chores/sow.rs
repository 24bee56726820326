//! Sowing: which crop, how many cups, how many seeds for that.

use std::collections::BTreeSet;

use chrono::NaiveDate;

use crate::chores::plan_view::PlanView;
use crate::chores::words::nursery::SowBatch;
use crate::chores::{Chore, Kind};
use crate::garden::Garden;
use crate::garden::crop::{Crop, Propagation};
use crate::nature::air::{DayConditions, growing_conditions};
use crate::nature::seed::CupSowing;
use crate::plan::sowings::PlannedSowing;
use crate::units::{Share, Temperature};

pub(super) fn chores(view: &PlanView) -> Vec<Chore> {
    let (mut hinted, mut thinned) = (BTreeSet::new(), false);
    let tray = NurseryAir::new(view);
    view.sown
        .chunk_by(|a, b| a.day == b.day)
        .map(|batches| {
            let day = batches[0].day;
            let told: Vec<(&str, SowBatch)> = batches
                .iter()
                .map(|sown| (sown.crop, batch(view, sown)))
                .collect();
            let lines = told
                .iter()
                .map(|(crop, batch)| view.words.sow_line(view.crop_name(crop), batch, day))
                .collect();
            let starts = BTreeSet::from_iter(told.iter().map(|(_, batch)| batch.starts));
            let news = starts.iter().filter(|s| hinted.insert(**s));
            let mut hints: Vec<String> = news.map(|s| view.words.sow_hint(*s)).collect();
            if !thinned && told.iter().any(|(_, batch)| needs_thinning(batch)) {
                thinned = true;
                hints.push(view.words.sow_hint_thin());
            }
            hints.extend(too_warm_to_germinate(view, &tray, batches));
            let about = told.iter().map(|(crop, _)| *crop);
            view.chore(Kind::Sow, day, about, summary(view, &told), lines, hints)
        })
        .collect()
}

/// Whether more seed goes into a cell than plants are to stay in it.
fn needs_thinning(batch: &SowBatch) -> bool {
    let sowing = batch.sowing.as_ref();
    batch.starts == Propagation::Seed && sowing.is_some_and(|s| s.seeds_per_cell > batch.plants)
}

/// Crops whose seed would come up badly in the tray as warm as it is then, and what to do about it.
fn too_warm_to_germinate(
    view: &PlanView,
    tray: &NurseryAir,
    batches: &[PlannedSowing],
) -> Option<String> {
    let mut crops: Vec<&Crop> = batches
        .iter()
        .filter_map(|sown| view.garden.crop(sown.crop))
        .filter(|card| {
            let warmest = card.seed.warmest.map_or(f64::INFINITY, Temperature::get);
            tray.mean(batches[0].day) > warmest
        })
        .collect();
    crops.dedup_by_key(|card| &card.key);
    let warmest = crops.iter().filter_map(|card| card.seed.warmest);
    let coolest = warmest.reduce(|a, b| if a < b { a } else { b })?;
    let called: Vec<&str> = crops.iter().map(|card| view.crop_name(&card.key)).collect();
    let below = coolest.in_units(view.garden.units);
    Some(view.words.sow_too_warm(&called, &below))
}

/// The nursery's air in the shown weeks and a little beyond.
struct NurseryAir {
    first: NaiveDate,
    air: Vec<DayConditions>,
}

impl NurseryAir {
    /// Days in which seed comes up where it is not too warm.
    const GERMINATION_DAYS: usize = 3;

    fn new(view: &PlanView) -> Self {
        let Garden { place, nursery, .. } = view.garden;
        let (first, last) = (view.plan.start, view.plan.last);
        let days =
            usize::try_from((last - first).num_days()).unwrap_or(0) + 1 + Self::GERMINATION_DAYS;
        let all = Share::fraction(1.0);
        Self {
            first,
            air: growing_conditions(place, &nursery.cover, all, first, days),
        }
    }

    /// The mean of the days after a sowing \[C\].
    fn mean(&self, sown: NaiveDate) -> f64 {
        let day = usize::try_from((sown - self.first).num_days()).unwrap_or(0);
        let days = &self.air[day..day + Self::GERMINATION_DAYS];
        #[allow(clippy::cast_precision_loss)]
        let count = days.len() as f64;
        days.iter().map(DayConditions::mean).sum::<f64>() / count
    }
}

fn batch(view: &PlanView, sown: &PlannedSowing) -> SowBatch {
    let card = view.garden.crop(sown.crop);
    SowBatch {
        cups: sown.cups as usize,
        plants: card.map_or(1, |card| card.seed.per_cup),
        starts: starts(view, sown.crop),
        sowing: sown.sowing,
        short: sown.chance_if_short,
        transplant: sown.transplant,
    }
}

/// What a crop is raised from.
pub(super) fn starts(view: &PlanView, crop: &str) -> Propagation {
    view.garden
        .crop(crop)
        .map_or(Propagation::Seed, |card| card.propagation)
}

/// The crops of a day with their seeds, batches of one crop together.
fn summary(view: &PlanView, told: &[(&str, SowBatch)]) -> String {
    let starts: Vec<Propagation> = told.iter().map(|(_, batch)| batch.starts).collect();
    let crops: Vec<String> = told
        .chunk_by(|a, b| a.0 == b.0)
        .map(|batches| {
            let (crop, batch) = &batches[0];
            let seeds = batches
                .iter()
                .map(|(_, b)| b.sowing.as_ref().map(CupSowing::seeds))
                .sum();
            let cups = batches.iter().map(|(_, b)| b.cups).sum();
            let called = view.crop_name(crop);
            view.words.sow_crop(called, batch.starts, seeds, cups)
        })
        .collect();
    view.words.sow_title(&crops, &starts)
}
