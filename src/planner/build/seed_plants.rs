//! Plants left to flower for their seed: what room they take from the others.

use std::ops::RangeInclusive;

use super::{Gains, Maker, cannot_share, cells_milli, day_number, millimetres, whole_days};
use crate::garden::Garden;
use crate::garden::holes::{self, Layout};
use crate::nature::air::air;
use crate::nature::growth::Growth;
use crate::planner::problem::{Batch, End, Kind, Standing};
use crate::quantity::Length;

/// A plant left to flower, from its transplant on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Kept {
    /// Index of its hole.
    pub hole: usize,
    /// Key of the crop's card.
    pub crop: String,
    /// Day of sowing.
    pub sow: u32,
    /// Day of transplant.
    pub transplant: u32,
    /// Day on which it is taken out.
    pub removal: u32,
    /// Nursery cells that it takes, spares included, in thousandths.
    pub(super) cells_milli: u64,
    /// Canopy radius on each day from transplant.
    radius_mm: Vec<u32>,
    /// Crops that cannot share its loop.
    apart: Vec<String>,
}

impl Kept {
    /// Whether it stands at some time from one day to another, or so many days before or after.
    fn stands(&self, from: u32, to: u32, apart: u32) -> bool {
        from < self.removal + apart && self.transplant < to + apart
    }
}

/// How a seed plant is in the way of a hole.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Beside {
    /// Index of the seed plant.
    kept: usize,
    how: How,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum How {
    /// It stands in the hole, which stays empty for so many days before and after.
    Inside(u32),
    /// It stands so near that the two radii sum to at most so many millimetres.
    Near(u32),
    /// It stands in the same loop, and some crop cannot share that with it.
    InLoop,
}

impl Maker<'_> {
    /// The seed plants that are yet to be set out: each on the first workday of its time for
    /// which seed can still be sown and what stands in its hole can be out of it. None is where
    /// that is too late for its seed to ripen, or where the hole is blocked.
    pub(super) fn kept(&self, standing: &[Standing], changeover: u32) -> Vec<Kept> {
        let layout = holes::layout(self.garden);
        let today = self.calendar.start;
        let free = |hole: usize| {
            let here = standing.iter().filter(|s| s.hole == hole);
            let out = here.filter_map(|s| s.ends.iter().map(|end| end.day).min());
            out.max().map_or(0, |day| (day + changeover) as usize)
        };
        let stands = |k: &crate::garden::SeedPlant| {
            let here = self.setting.standing.iter();
            here.clone()
                .any(|s| s.hole == k.hole && s.crop == k.crop && k.from <= today)
        };
        self.garden
            .keep_for_seed
            .iter()
            .filter(|k| today < k.until && !stands(k) && !self.setting.blocked.contains(&k.hole))
            .filter_map(|k| {
                let crop = self.garden.crop(&k.crop)?;
                let hole = layout.holes.iter().position(|h| h.id == k.hole)?;
                let day = |date: chrono::NaiveDate| {
                    usize::try_from((date - today).num_days()).unwrap_or(0)
                };
                let sown = self.sowings(&Growth::new(crop, &self.nursery));
                let workdays = || self.calendar.workdays.iter().copied();
                let from = day(k.from).max(free(hole));
                let transplant = workdays().find(|&d| d >= from && sown[d].is_some_and(|s| s < d));
                let transplant = transplant.filter(|&d| d < day(k.until))?;
                let removal = workdays().find(|&d| d >= day(k.until))?;
                let banks = self.garden.loops.iter().flat_map(|l| &l.banks);
                let light = banks.map(|b| b.light).nth(layout.holes[hole].bank)?;
                let place = &self.garden.place;
                let air = air(place, &place.cover, light, today, self.calendar.days);
                let widths = Growth::new(crop, &air).uncut(transplant, removal - transplant);
                Some(Kept {
                    hole,
                    crop: k.crop.clone(),
                    sow: day_number(sown[transplant]?),
                    transplant: day_number(transplant),
                    removal: day_number(removal),
                    cells_milli: cells_milli(crop),
                    radius_mm: widths.iter().map(|d| millimetres(d / 2.0)).collect(),
                    apart: cannot_share(self.garden)
                        .into_iter()
                        .filter_map(|(a, b)| match (a == k.crop, b == k.crop) {
                            (true, _) => Some(b),
                            (_, true) => Some(a),
                            _ => None,
                        })
                        .collect(),
                })
            })
            .collect()
    }
}

/// Has what stands where a seed plant comes taken out in time for it; and what it gives until then.
pub(super) fn out_in_time(
    standing: &mut [Standing],
    gains: &mut [Vec<Gains>],
    kept: &[Kept],
    changeover: u32,
) {
    for (stands, gains) in standing.iter_mut().zip(gains) {
        let Some(next) = kept.iter().find(|k| k.hole == stands.hole) else {
            continue;
        };
        let in_time = |end: &End| end.day + changeover <= next.transplant;
        let stays: Vec<bool> = stands.ends.iter().map(in_time).collect();
        // All that is of an end, end by end.
        retain(&mut stands.ends, &stays);
        retain(&mut stands.canopies, &stays);
        retain(gains, &stays);
    }
}

fn retain<T>(of_ends: &mut Vec<T>, stays: &[bool]) {
    let mut stays = stays.iter();
    of_ends.retain(|_| *stays.next().unwrap_or(&false));
}

/// For each hole, the seed plants in its way.
pub(super) fn beside(garden: &Garden, layout: &Layout, kept: &[Kept]) -> Vec<Vec<Beside>> {
    let mut beside = vec![Vec::new(); layout.holes.len()];
    if kept.is_empty() {
        return beside;
    }
    let spread = garden.crops.iter().map(|c| c.size.spread.get());
    let near = holes::near(layout, Length::metres(spread.fold(0.0, f64::max) * 1.5));
    let slack = 1.0 + garden.spacing.crowding.get();
    let changeover = whole_days(garden.spacing.changeover.get());
    for (n, plant) in kept.iter().enumerate() {
        let mut put = |hole: usize, how| beside[hole].push(Beside { kept: n, how });
        put(plant.hole, How::Inside(changeover));
        for pair in near
            .iter()
            .filter(|p| p.a == plant.hole || p.b == plant.hole)
        {
            let other = if pair.a == plant.hole { pair.b } else { pair.a };
            let limit = millimetres(pair.distance.get() * slack - 0.000_499);
            put(other, How::Near(limit));
        }
        if !plant.apart.is_empty() {
            let r#loop = layout.holes[plant.hole].r#loop;
            for (hole, _) in layout
                .holes
                .iter()
                .enumerate()
                .filter(|(_, h)| h.r#loop == r#loop)
            {
                put(hole, How::InLoop);
            }
        }
    }
    beside
}

/// A kind without the stays that seed plants rule out; and what its stays give.
pub(super) fn without_clashes(
    kind: Kind,
    gains: Vec<Vec<(u32, i64)>>,
    beside: &[Beside],
    kept: &[Kept],
) -> (Kind, Vec<Vec<(u32, i64)>>) {
    if beside.is_empty() {
        return (kind, gains);
    }
    let (batches, gains) = kind
        .batches
        .into_iter()
        .zip(gains)
        .filter_map(|(mut batch, gains)| {
            let ends = std::mem::take(&mut batch.ends);
            batch.ends = ends
                .into_iter()
                .filter(|end| !beside.iter().any(|b| clash(&batch, end.day, b, kept)))
                .collect();
            (!batch.ends.is_empty()).then_some((batch, gains))
        })
        .unzip();
    (Kind { batches }, gains)
}

fn clash(batch: &Batch, end: u32, beside: &Beside, kept: &[Kept]) -> bool {
    let plant = &kept[beside.kept];
    let (from, to) = (batch.transplant, end);
    let apart = match beside.how {
        How::Inside(changeover) => changeover,
        How::Near(_) | How::InLoop => 0,
    };
    if !plant.stands(from, to, apart) {
        return false;
    }
    match beside.how {
        How::Inside(_) => true,
        How::InLoop => plant.apart.contains(&batch.crop),
        How::Near(limit) => (from.max(plant.transplant)..to.min(plant.removal)).any(|day| {
            let at = |radius: &[u32], since: u32| {
                let last = radius.last().copied().unwrap_or(0);
                radius.get((day - since) as usize).copied().unwrap_or(last)
            };
            at(&batch.radius_mm, from) + at(&plant.radius_mm, plant.transplant) > limit
        }),
    }
}

/// The longest part of a tube's cleaning window in which no seed plant stands in the tube.
pub(super) fn outside(
    window: RangeInclusive<usize>,
    tube: usize,
    layout: &Layout,
    kept: &[Kept],
) -> RangeInclusive<usize> {
    let here = kept.iter().filter(|k| layout.holes[k.hole].tube == tube);
    here.fold(window, |window, k| {
        let (from, to) = (k.transplant as usize, k.removal as usize);
        if *window.end() <= from || to <= *window.start() {
            return window;
        }
        let (first, last) = window.into_inner();
        let (before, after) = (first..=from, to..=last);
        let length = |w: &RangeInclusive<usize>| (w.end() + 1).saturating_sub(*w.start());
        if length(&before) >= length(&after) {
            before
        } else {
            after
        }
    })
}
