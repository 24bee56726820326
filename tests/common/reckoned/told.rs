//! What the grower is told to do, against what is planned: every plant set out, harvested and
//! taken out on its day, by its hole, and how much that gives; tubes scrubbed, tanks topped up.

use chrono::NaiveDate;
use steadyleaf::chores::{Chore, Kind};

use super::{Look, Plant};

/// Holes, or tubes, and of what they tell.
type Told = Vec<(String, String)>;

/// A pound \[g\] and a US gallon \[l\] (NIST Handbook 44, appendix C).
const POUND: f64 = 453.592_37;
const GALLON: f64 = 3.785_411_784;

impl Look<'_> {
    pub(super) fn told(&self, chores: &[Chore], faults: &mut Vec<String>) {
        let days = self.plan.start.iter_days();
        for day in days.take_while(|d| *d <= self.plan.last) {
            let of = |kind: Kind| {
                let chore = chores.iter().find(|c| c.day == day && c.kind == kind);
                chore.map_or(&[][..], |c: &Chore| &c.details[..])
            };
            let mut hold = |what: &str, told: Told, meant: Told| {
                let (told, meant) = (sorted(told), sorted(meant));
                if told != meant {
                    faults.push(format!("told: {what} on {day}: {told:?}, not {meant:?}"));
                }
            };
            let set_out = of(Kind::Transplant).iter().filter_map(|line| {
                let (plants, holes) = line.split_once(" into ")?;
                let crop = plants.split_once(' ')?.1.split(", ").next()?;
                let holes = holes.split(" (").next()?;
                Some(
                    holes_in(holes)?
                        .into_iter()
                        .map(move |h| (h, crop.to_owned())),
                )
            });
            let meant = self.on(|p| !p.stay.stands && p.stay.transplant == day);
            hold("set out", set_out.flatten().collect(), meant);

            let out = of(Kind::Clear).iter().filter_map(|line| {
                let (what, holes) = line.split_once(": ")?;
                let holes = holes_in(holes).filter(|_| what.starts_with("Lift out"))?;
                Some(holes.into_iter().map(|h| (h, String::new())))
            });
            let meant = self.on(|p| p.stay.removal == day);
            let meant = meant.into_iter().map(|(hole, _)| (hole, String::new()));
            hold("taken out", out.flatten().collect(), meant.collect());

            let lines = of(Kind::Harvest)
                .iter()
                .filter_map(|l| self.harvest_line(l));
            let lines: Vec<HarvestLine> = lines.collect();
            let harvested = lines.iter().flat_map(|line| {
                let of_line = |h: &String| (h.clone(), line.crop.clone());
                line.holes.iter().map(of_line)
            });
            let meant = self.on(|p| p.stay.harvests.iter().any(|h| h.day == day));
            hold("harvested", harvested.collect(), meant);
            for line in &lines {
                self.amount_told(day, line, faults);
            }
            self.scrubbed_told(day, of(Kind::DeepClean), faults);
            self.top_up_told(day, of(Kind::TopUp), faults);
        }
    }

    /// Holes of some plants, each with what its crop is called.
    fn on(&self, is_meant: impl Fn(&Plant<'_>) -> bool) -> Told {
        let plants = self.plants.iter().filter(|p| is_meant(p));
        let named = plants.map(|p| (p.stay.hole.clone(), p.crop.called.clone()));
        named.collect()
    }

    fn harvest_line(&self, line: &str) -> Option<HarvestLine> {
        let (what, holes) = line.rsplit_once(", from ")?;
        let (amount, what) = what.split_once(": ")?;
        let (crop, manner) = what.split_once(", ")?;
        let mut words = amount.strip_prefix("about ").unwrap_or(amount).split(' ');
        let (number, unit) = (words.next()?.parse::<f64>().ok()?, words.next()?);
        let (grams, least) = match unit {
            "g" => (1.0, 0.5),
            "kg" => (1000.0, 50.0),
            "oz" => (POUND / 16.0, 0.05 * POUND / 16.0),
            "lb" => (POUND, 0.05 * POUND),
            _ => (1.0, 0.05),
        };
        Some(HarvestLine {
            amount: number * grams,
            rounding: least,
            crop: crop.to_owned(),
            is_last: manner.contains("last"),
            holes: holes_in(holes)?,
        })
    }

    fn amount_told(&self, day: NaiveDate, line: &HarvestLine, faults: &mut Vec<String>) {
        let mut sum = 0.0;
        for plant in self
            .plants
            .iter()
            .filter(|p| line.holes.contains(&p.stay.hole))
        {
            let Some(harvest) = plant.stay.harvests.iter().find(|h| h.day == day) else {
                continue;
            };
            sum += harvest.amount;
            let goes_on = !plant.is_taken_whole();
            if goes_on && line.is_last != (plant.stay.removal == day) {
                faults.push(format!("told: {} is harvested last on {day}", plant.name()));
            }
        }
        if (sum - line.amount).abs() > line.rounding + 0.001 {
            faults.push(format!(
                "told: {} of {} on {day}, not {sum}",
                line.amount, line.crop
            ));
        }
    }

    fn scrubbed_told(&self, day: NaiveDate, lines: &[String], faults: &mut Vec<String>) {
        let told = lines.iter().find_map(|line| {
            let tubes = line.strip_prefix("Tubes ").or(line.strip_prefix("Tube "))?;
            let (tubes, _) = tubes.split_once(" stand")?;
            Some(tubes.replace(" and ", ", "))
        });
        let told: Vec<&str> = told.iter().flat_map(|tubes| tubes.split(", ")).collect();
        let cleans = self.plan.cleans.iter().filter(|c| c.day == day);
        let mut meant: Vec<&str> = cleans.map(|c| c.tube.as_str()).collect();
        let mut told = told;
        told.sort_unstable();
        meant.sort_unstable();
        if told != meant {
            faults.push(format!("told: scrub {told:?} on {day}, not {meant:?}"));
        }
    }

    /// Of each loop its litres, to a twentieth, and whether its tank is full with them.
    fn top_up_told(&self, day: NaiveDate, lines: &[String], faults: &mut Vec<String>) {
        for (water, of_loop) in self.plan.water.iter().zip(&self.garden.loops) {
            let head = format!("{}: about ", water.r#loop);
            let line = lines.iter().find(|line| line.starts_with(&head));
            let top_up = water.top_ups.iter().find(|t| t.day == day);
            let (Some(line), Some(top_up)) = (line, top_up) else {
                if line.is_some() || top_up.is_some() {
                    faults.push(format!("told: {line:?} on {day} for {top_up:?}"));
                }
                continue;
            };
            let mut words = line[head.len()..].split(' ');
            let number = words.next().and_then(|n| n.parse::<f64>().ok());
            let litres = words.next().and_then(|unit| match unit {
                "ml" => Some(0.001),
                "l" => Some(1.0),
                "gal" => Some(GALLON),
                _ => None,
            });
            let told = number.zip(litres).map(|(number, litres)| number * litres);
            if told.is_none_or(|told| (told - top_up.litres).abs() > 0.05 * top_up.litres + 0.05) {
                faults.push(format!("told: `{line}` for {} l on {day}", top_up.litres));
            }
            // What the morning before, or the day before that, left of the water.
            let at = usize::try_from((day - self.plan.start).num_days()).expect("a day shown");
            let Some(before) = at.checked_sub(1).map(|eve| water.level[eve]) else {
                continue;
            };
            let lacks = of_loop.tank.holds.get() - before - top_up.litres;
            let is_changed = water.changes.iter().any(|c| c.day == day);
            let told_full = line.contains("full mark");
            if !is_changed && (lacks > 0.1 && told_full || lacks < 0.005 && !told_full) {
                faults.push(format!(
                    "told: `{line}` on {day}, where {lacks} l are lacking"
                ));
            }
        }
        if lines.iter().filter(|l| l.contains(": about ")).count()
            != self
                .plan
                .water
                .iter()
                .flat_map(|w| &w.top_ups)
                .filter(|t| t.day == day)
                .count()
        {
            faults.push(format!("told: top-ups on {day}: {lines:?}"));
        }
    }
}

struct HarvestLine {
    /// In the want's unit.
    amount: f64,
    rounding: f64,
    crop: String,
    is_last: bool,
    holes: Vec<String>,
}

fn sorted(mut told: Told) -> Told {
    told.sort_unstable();
    told
}

/// The holes of a text such as `deck-1: 2, 5; wall-2: 1-4`.
fn holes_in(text: &str) -> Option<Vec<String>> {
    let mut holes = Vec::new();
    for of_tube in text.split("; ") {
        let (tube, numbers) = of_tube.split_once(": ")?;
        for run in numbers.split(", ") {
            let (first, last) = run.split_once('-').unwrap_or((run, run));
            let run: (u32, u32) = (first.parse().ok()?, last.parse().ok()?);
            holes.extend((run.0..=run.1).map(|n| format!("{tube}-{n}")));
        }
    }
    Some(holes)
}
