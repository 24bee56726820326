//! What `log --json` tells, against a plain walk through the diary.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde_json::{Value, json};
use steadyleaf::diary::{Entry, Event};
use steadyleaf::garden::Garden;
use steadyleaf::garden::crop::HarvestHabit;
use steadyleaf::units::Measure;

use super::data::{day, list};
use super::weeks::{in_season, monday};

/// What a crop has come to.
#[derive(Default)]
struct OfCrop {
    sown: u32,
    lost_in_nursery: u32,
    set_out: u32,
    lost: BTreeMap<Option<String>, u32>,
    harvested: u32,
    /// Days from setting out to the first harvest, and the same as it had been expected.
    days: Vec<[i64; 2]>,
}

/// A plant in a hole.
struct Stands {
    crop: String,
    since: NaiveDate,
    want: Option<usize>,
    is_new: bool,
}

/// The diary of a garden, gone through day by day.
struct Walk<'a> {
    garden: &'a Garden,
    holes: BTreeMap<String, Stands>,
    crops: BTreeMap<String, OfCrop>,
    /// By want and Monday, in the want's unit.
    harvests: BTreeMap<(usize, NaiveDate), f64>,
}

impl Walk<'_> {
    fn goes_on(&mut self, entry: &Entry) {
        match &entry.event {
            Event::Sown { crop, cells, .. } => self.of(crop).sown += cells,
            Event::SeedlingsLost { crop, cells, .. } => self.of(crop).lost_in_nursery += cells,
            Event::Transplanted {
                crop, hole, want, ..
            } => {
                self.of(crop).set_out += 1;
                let wants = self.garden.wants.iter().enumerate();
                let mut wants = wants.filter(|(_, w)| w.from_crops.contains(crop));
                let first = wants.clone().next();
                let named = wants.find(|(_, w)| Some(&w.name) == want.as_ref());
                let stands = Stands {
                    crop: crop.clone(),
                    since: entry.on,
                    want: named.or(first).map(|(n, _)| n),
                    is_new: true,
                };
                self.holes.insert(hole.clone(), stands);
            }
            Event::Lost { hole, why } => {
                let gone = self.holes.remove(hole).expect("a plant");
                *self.of(&gone.crop).lost.entry(why.clone()).or_default() += 1;
            }
            Event::Cleared { hole } => drop(self.holes.remove(hole)),
            Event::Harvested { hole, last, .. } => {
                let mut stands = self.holes.remove(hole).expect("a plant");
                self.harvested(entry, &mut stands);
                let card = self.garden.crop(&stands.crop).expect("a card");
                if !last && !matches!(card.harvest, HarvestHabit::Head { .. }) {
                    self.holes.insert(hole.clone(), stands);
                }
            }
            _ => {}
        }
    }

    fn harvested(&mut self, entry: &Entry, stands: &mut Stands) {
        let Event::Harvested {
            amount, expected, ..
        } = &entry.event
        else {
            return;
        };
        if std::mem::take(&mut stands.is_new) {
            let of_crop = self.of(&stands.crop);
            of_crop.harvested += 1;
            let days = |on: NaiveDate| (on - stands.since).num_days();
            let expected = expected.map(|expected| days(expected.on));
            of_crop.days.extend(expected.map(|e| [days(entry.on), e]));
        }
        let Some(want) = stands.want else { return };
        let much = match (self.garden.wants[want].each_week.measure(), amount) {
            (Measure::Heads, _) => 1.0,
            (measure, Some(amount)) if amount.measure() == measure => thousandths(amount.milli()),
            _ => 0.0,
        };
        *self.harvests.entry((want, monday(entry.on))).or_default() += much;
    }

    fn of(&mut self, crop: &str) -> &mut OfCrop {
        self.crops.entry(crop.to_owned()).or_default()
    }
}

#[allow(clippy::cast_precision_loss)]
fn thousandths(milli: u64) -> f64 {
    milli as f64 / 1000.0
}

fn near(told: &Value, is: f64) -> bool {
    told.as_f64().is_some_and(|told| (told - is).abs() < 1e-6)
}

/// What the data of `log` tell amiss of a diary, of which all can have happened.
pub fn faults_in_log(log: &Value, garden: &Garden, diary: &[Entry]) -> Vec<String> {
    let mut entries: Vec<&Entry> = diary.iter().collect();
    entries.sort_by_key(|entry| entry.on);
    let mut walk = Walk {
        garden,
        holes: BTreeMap::new(),
        crops: BTreeMap::new(),
        harvests: BTreeMap::new(),
    };
    for entry in &entries {
        walk.goes_on(entry);
    }
    let mut faults = Vec::new();
    let last = entries.last().map_or(garden.start, |entry| entry.on);
    if log["garden"] != json!(garden.name) || day(&log["until"]) != Some(last) {
        faults.push(format!("log: {} until {}", log["garden"], log["until"]));
    }
    walk.wants(log, last, &mut faults);
    walk.crops(log, &mut faults);
    loops(log, garden, &entries, &mut faults);
    faults
}

impl Walk<'_> {
    /// Week by week from that of a want's first harvest.
    fn wants(&self, log: &Value, until: NaiveDate, faults: &mut Vec<String>) {
        let told = list(log, "wants");
        if told.len() != self.garden.wants.len() {
            faults.push(format!("log: {} wants", told.len()));
        }
        for (n, (told, want)) in told.iter().zip(&self.garden.wants).enumerate() {
            let mut of_want = self.harvests.keys().filter(|(of, _)| *of == n);
            let first = of_want.next().map(|(_, monday)| *monday);
            let mondays = first.into_iter().flat_map(|first| {
                let weeks = first.iter_days().step_by(7);
                weeks.take_while(|monday| *monday <= until)
            });
            let weeks: Vec<(NaiveDate, f64, f64)> = mondays
                .map(|monday| {
                    let days = monday.iter_days().take(7);
                    let is_wanted = days.filter(|day| in_season(want, *day)).count() >= 4;
                    let each = f64::from(u8::from(is_wanted)) * thousandths(want.each_week.milli());
                    let harvested = self.harvests.get(&(n, monday)).copied();
                    (monday, each, harvested.unwrap_or(0.0))
                })
                .collect();
            let rows = list(told, "weeks");
            let is_row = |(row, (monday, wanted, harvested)): (&Value, &(NaiveDate, f64, f64))| {
                day(&row["monday"]) == Some(*monday)
                    && near(&row["wanted"], *wanted)
                    && near(&row["harvested"], *harvested)
            };
            let sum = |of: fn(&(NaiveDate, f64, f64)) -> f64| weeks.iter().map(of).sum::<f64>();
            let (wanted, met) = (sum(|w| w.1), sum(|w| w.1.min(w.2)));
            let is_met = if wanted > 0.0 {
                near(&told["met"], met / wanted)
            } else {
                told["met"].is_null()
            };
            let right = rows.len() == weeks.len()
                && rows.iter().zip(&weeks).all(is_row)
                && told["want"] == json!(want.name)
                && near(&told["wanted"], wanted)
                && near(&told["harvested"], sum(|w| w.2))
                && is_met;
            if !right {
                faults.push(format!("log: {told}, where {} gave {weeks:?}", want.name));
            }
        }
    }

    fn crops(&self, log: &Value, faults: &mut Vec<String>) {
        let told = list(log, "crops");
        let keys = self.garden.crops.iter().map(|c| c.key.as_str());
        let has_any = |key: &&str| {
            let of_crop = self.crops.get(*key);
            of_crop.is_some_and(|c| c.sown + c.set_out > 0)
        };
        let keys: Vec<&str> = keys.filter(has_any).collect();
        if !keys
            .iter()
            .copied()
            .eq(told.iter().map(|c| c["crop"].as_str().unwrap_or("")))
        {
            faults.push(format!("log: {} crops, not {keys:?}", told.len()));
            return;
        }
        for (told, key) in told.iter().zip(keys) {
            let is = &self.crops[key];
            let mean = |which: usize| {
                let days = is
                    .days
                    .iter()
                    .map(|days| f64::from(i32::try_from(days[which]).unwrap()));
                let count = f64::from(u32::try_from(is.days.len()).unwrap());
                (count > 0.0).then(|| days.sum::<f64>() / count)
            };
            let is_mean = |told: &Value, which: usize| match mean(which) {
                Some(mean) => near(told, mean),
                None => told.is_null(),
            };
            let causes = is.lost.iter().map(|(why, n)| json!([why, n]));
            // Those on hand at the start were not sown, and may be among the lost.
            let is_on_hand = self.garden.seedlings.iter().any(|s| s.crop == key);
            let right = told["sown"] == json!(is.sown)
                && (is_on_hand || told["lost_in_nursery"] == json!(is.lost_in_nursery))
                && told["set_out"] == json!(is.set_out)
                && told["lost"] == json!(is.lost.values().sum::<u32>())
                && told["causes"] == Value::Array(causes.collect())
                && told["harvested"] == json!(is.harvested)
                && is_mean(&told["days"], 0)
                && is_mean(&told["days_planned"], 1);
            if !right {
                faults.push(format!(
                    "log: {told}, where of {} sown and {} set out {:?} were lost and {} harvested \
                     after {:?}",
                    is.sown, is.set_out, is.lost, is.harvested, is.days
                ));
            }
        }
    }
}

/// Water put in, the last filling, and what was measured last.
fn loops(log: &Value, garden: &Garden, entries: &[&Entry], faults: &mut Vec<String>) {
    let mut meant = Vec::new();
    for of_loop in &garden.loops {
        let name = &of_loop.name;
        let mut litres = Vec::new();
        let (mut filled, mut last_ec, mut last_ph) = (None, None, None);
        for entry in entries {
            match &entry.event {
                Event::ToppedUp { r#loop, amount, .. } if r#loop == name => {
                    litres.push(amount.get());
                }
                Event::Refilled { r#loop } if r#loop == name => filled = Some(entry.on),
                Event::Read { r#loop, ec, ph } if r#loop == name => {
                    last_ec = ec.map(|ec| (entry.on, ec.get())).or(last_ec);
                    last_ph = ph.map(|ph| (entry.on, ph)).or(last_ph);
                }
                _ => {}
            }
        }
        if litres.is_empty() && filled.is_none() && last_ec.is_none() && last_ph.is_none() {
            continue;
        }
        meant.push((name, litres, filled, last_ec, last_ph));
    }
    let told = list(log, "loops");
    let is_told = |(told, (name, litres, filled, ec, ph)): (&Value, &(_, Vec<f64>, _, _, _))| {
        let times = litres.len();
        told["loop"] == json!(name)
            && told["times"] == json!(times)
            && near(&told["litres"], litres.iter().sum())
            && told["filled"] == json!(filled)
            && told["ec"] == json!(ec)
            && told["ph"] == json!(ph)
    };
    if told.len() != meant.len() || !told.iter().zip(&meant).all(is_told) {
        faults.push(format!("log: {told:?}, where loops had {meant:?}"));
    }
}
