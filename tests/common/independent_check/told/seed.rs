//! What is sown, and the seed bought for it.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;
use steadyleaf::chores::Kind;

use super::{Say, Told};
use crate::independent_check::words::{Tongue, gaps, number};

impl Say<'_, '_> {
    pub(super) fn sown(&mut self, one: &Told) {
        let (look, tongue, day) = (self.look, self.tongue, one.day);
        let mut told = Vec::new();
        for line in &one.lines {
            let Some(batch) = batch_in(tongue, line) else {
                continue;
            };
            told.push(format!(
                "{} of {} for {}",
                batch.cups, batch.crop, batch.day
            ));
            let card = look.garden.crops.iter().find(|c| c.name == batch.crop);
            if card.is_none_or(|c| batch.plants.is_some_and(|n| n != f64::from(c.seed.per_cup))) {
                self.wrong(one, &format!("plants in a cup of {}", batch.crop));
            }
            if batch.cells < batch.cups {
                self.wrong(one, &format!("cells for {}", batch.crop));
            }
        }
        let mut cups: BTreeMap<(&str, NaiveDate), u32> = BTreeMap::new();
        for plant in look.those(|s| s.sow == Some(day) && !s.on_hand && !s.stands) {
            let key = (plant.crop.name.as_str(), plant.stay.transplant);
            *cups.entry(key).or_default() += 1;
        }
        let meant = cups.into_iter();
        let meant =
            meant.map(|((crop, on), n)| format!("{n} of {crop} for {}", tongue.day(on, day)));
        self.hold("sown", day, told, meant.collect());
    }

    /// Seed bought is seed sown, but for what is in the house, and it is there in time.
    pub(super) fn seed(&mut self, told: &[Told]) {
        let (look, tongue) = (self.look, self.tongue);
        let mut sown: BTreeMap<&str, Vec<(NaiveDate, f64)>> = BTreeMap::new();
        for one in told.iter().filter(|t| t.kind == Kind::Sow && !t.is_short) {
            let batches = one.lines.iter().filter_map(|l| batch_in(tongue, l));
            for batch in batches {
                let of_crop = sown.entry(batch.crop).or_default();
                of_crop.push((one.day, batch.seeds));
            }
        }
        if told.iter().any(|t| t.is_short) {
            return;
        }
        let mut bought: BTreeMap<&str, Vec<(NaiveDate, f64, f64, &str)>> = BTreeMap::new();
        for one in told.iter().filter(|t| t.kind == Kind::SeedOrder) {
            let found = tongue.seed.iter().rev().flat_map(|s| self.fits(s, one));
            let found: Vec<_> = found.collect();
            let mut seen = BTreeSet::new();
            for found in found {
                if !seen.insert(found[0]) {
                    continue;
                }
                let until = found[3].split(';').next().unwrap_or_default();
                let order = number(found[1]).zip(number(found[2].trim_start_matches("en ")));
                let Some((seeds, sowings)) = order else {
                    self.wrong(one, "seed");
                    continue;
                };
                let of_crop = bought.entry(found[0]).or_default();
                of_crop.push((one.day, seeds, sowings, until));
            }
        }
        for crop in &look.garden.crops {
            let in_house = look.plan.seed.iter().any(|lot| lot.crop == crop.key);
            let sown = sown.remove(crop.name.as_str()).unwrap_or_default();
            let bought = bought.remove(crop.name.as_str()).unwrap_or_default();
            if in_house {
                continue;
            }
            let mut left = &sown[..];
            for (day, seeds, sowings, until) in bought {
                let is_for = |(on, _): &(NaiveDate, f64)| tongue.day(*on, day) == until;
                let end = left.iter().rposition(is_for).map_or(0, |at| at + 1);
                let (these, later) = left.split_at(end);
                left = later;
                let all: f64 = these.iter().map(|(_, n)| n).sum();
                #[allow(clippy::cast_precision_loss)]
                let times = these.len() as f64;
                let is_late = these.first().is_none_or(|(first, _)| *first < day);
                if all != seeds || times != sowings || is_late {
                    let of = &crop.name;
                    self.faults.push(format!(
                        "told: {seeds} seeds of {of} on {day} for {sowings} sowings until {until}, \
                         where {all} are sown in {times}"
                    ));
                }
            }
            if !left.is_empty() {
                let of = &crop.name;
                self.faults
                    .push(format!("told: no seed of {of} for {left:?}"));
            }
        }
        for crop in sown.keys().chain(bought.keys()) {
            self.faults
                .push(format!("told: seed of {crop}, whatever that is"));
        }
    }
}

/// What a line of sowing tells.
pub(super) struct BatchTold<'t> {
    pub(super) crop: &'t str,
    pub(super) seeds: f64,
    pub(super) cells: f64,
    pub(super) cups: f64,
    pub(super) plants: Option<f64>,
    pub(super) day: &'t str,
}

pub(super) fn batch_in<'t>(tongue: &Tongue, line: &'t str) -> Option<BatchTold<'t>> {
    let [one, in_one, several] = tongue.sown.map(|sentence| gaps(sentence, line));
    let day = |text: &'t str| text.split(';').next().unwrap_or(text);
    if let Some(f) = several {
        let cells = number(f[1])?;
        return Some(BatchTold {
            crop: f[0],
            seeds: cells * number(f[2])?,
            cells,
            cups: number(f[3])?,
            plants: number(f[4]),
            day: day(f[5]),
        });
    }
    if let Some(f) = in_one {
        return Some(BatchTold {
            crop: f[0],
            seeds: number(f[1])?,
            cells: 1.0,
            cups: number(f[2])?,
            plants: number(f[3]),
            day: day(f[4]),
        });
    }
    let f = one?;
    Some(BatchTold {
        crop: f[0],
        seeds: number(f[1])?,
        cells: number(f[1])?,
        cups: number(f[2])?,
        plants: None,
        day: day(f[3]),
    })
}
