//! What a title sums up, and what it is about in the garden's keys.

use std::collections::{BTreeMap, BTreeSet};

use steadyleaf::chores::Kind;

use super::seed::batch_in;
use super::{Say, Told};
use crate::independent_check::Plant;
use crate::independent_check::words::{amount, gaps, number};

impl Say<'_, '_> {
    /// What a title sums up.
    pub(super) fn titled(&mut self, one: &Told) {
        let (look, tongue, day) = (self.look, self.tongue, one.day);
        if tongue.kind_of(&one.title) != Some(one.kind) {
            self.wrong(one, &format!("the title `{}`", one.title));
            return;
        }
        let Some((rest, is_all)) = tongue.title(&one.title) else {
            return;
        };
        if !is_all {
            return;
        }
        let parts = rest.split(", ");
        match one.kind {
            Kind::Harvest => {
                for (want, of_garden) in look.garden.wants.iter().enumerate() {
                    let plants = look.plants.iter().filter(|p| p.want == want);
                    let harvests = plants.flat_map(|p| &p.stay.harvests);
                    let of_day = harvests.filter(|h| h.day == day);
                    let amounts: Vec<f64> = of_day.map(|h| h.amount).collect();
                    if amounts.is_empty() {
                        continue;
                    }
                    let short =
                        |text: &str| text.replace("heads", "head").replace("piezas", "pieza");
                    let name = short(&of_garden.name);
                    let said = parts.clone().find(|p| short(p).ends_with(&name));
                    let sum = amounts.iter().sum();
                    self.near(one, &one.title, said.and_then(amount), sum);
                }
            }
            Kind::Transplant => {
                let mut told: BTreeMap<String, usize> = BTreeMap::new();
                for part in parts {
                    let sentence = if tongue.crop_first {
                        "{} ({})"
                    } else {
                        "{} {}"
                    };
                    let Some(found) = gaps(sentence, part) else {
                        continue;
                    };
                    let (n, crop) = if tongue.crop_first {
                        (found[1], found[0])
                    } else {
                        (found[0], found[1])
                    };
                    *told.entry(crop.to_owned()).or_default() += n.parse().unwrap_or(0);
                }
                let mut meant: BTreeMap<String, usize> = BTreeMap::new();
                for plant in look.those(|s| !s.stands && s.transplant == day) {
                    *meant.entry(plant.crop.name.clone()).or_default() += 1;
                }
                if told != meant {
                    self.wrong(one, &format!("the title `{}` for {meant:?}", one.title));
                }
            }
            Kind::Sow if !one.is_short => {
                let mut seeds: BTreeMap<&str, f64> = BTreeMap::new();
                for batch in one.lines.iter().filter_map(|l| batch_in(tongue, l)) {
                    *seeds.entry(batch.crop).or_default() += batch.seeds;
                }
                for (crop, seeds) in seeds {
                    let mut said = parts.clone().filter_map(|part| gaps("{} ({})", part));
                    let said = said.find(|f| f[0] == crop).and_then(|f| number(f[1]));
                    self.near(one, &one.title, said.map(|n| (n, 0.0)), seeds);
                }
            }
            Kind::Clear => {
                #[allow(clippy::cast_precision_loss)]
                let holes = look.those(|s| s.removal == day).count() as f64;
                self.near(one, &one.title, number(rest).map(|n| (n, 0.0)), holes);
            }
            Kind::TopUp => {
                for water in &look.plan.water {
                    for top_up in water.top_ups.iter().filter(|t| t.day == day) {
                        let said = parts.clone().find_map(|part| {
                            let litres = part.strip_prefix(&water.r#loop)?;
                            let litres = litres.trim_start().split_once(' ')?.1;
                            amount(litres)
                        });
                        self.near(one, &one.title, said, top_up.litres);
                    }
                }
            }
            _ => {}
        }
    }

    /// In the garden's keys.
    pub(super) fn about(&mut self, one: &Told) {
        let (look, day) = (self.look, one.day);
        let Some(told) = &one.about else { return };
        let crop = |p: &Plant<'_>| p.crop.key.clone();
        let want = |at: usize| look.garden.wants[at].name.clone();
        let water = look.plan.water.iter();
        let meant: BTreeSet<String> = match one.kind {
            Kind::Harvest => look
                .those(|s| s.harvests.iter().any(|h| h.day == day))
                .map(|p| want(p.want))
                .collect(),
            Kind::Transplant => look
                .those(|s| !s.stands && s.transplant == day)
                .map(crop)
                .collect(),
            Kind::Sow => look
                .those(|s| !s.stands && !s.on_hand && s.sow == Some(day))
                .map(crop)
                .collect(),
            Kind::Clear => look
                .those(|s| s.removal == day)
                .map(|p| look.holes[p.hole].tube.clone())
                .collect(),
            Kind::DeepClean => {
                let cleans = look.plan.cleans.iter().filter(|c| c.day == day);
                cleans.map(|c| c.tube.clone()).collect()
            }
            Kind::TopUp => water
                .filter(|w| w.top_ups.iter().any(|t| t.day == day))
                .map(|w| w.r#loop.clone())
                .collect(),
            Kind::Solution => water
                .filter(|w| {
                    let emptied = w.emptied.iter().any(|e| e.day == day);
                    emptied || w.changes.iter().any(|c| c.day == day)
                })
                .map(|w| w.r#loop.clone())
                .collect(),
            Kind::Check => {
                let loops = look.garden.loops.iter().enumerate();
                let in_use = loops.filter(|(at, _)| !look.stands_in(*at, day).is_empty());
                in_use.map(|(_, l)| l.name.clone()).collect()
            }
            Kind::LeakTest => look.garden.loops.iter().map(|l| l.name.clone()).collect(),
            Kind::SeedOrder | Kind::CropChangeover => return,
        };
        let meant = Vec::from_iter(meant).join(", ");
        // A long one is told by its fingerprint.
        if *told != meant && meant.len() <= 200 {
            self.wrong(one, &format!("it is about `{meant}`, not `{told}`"));
        }
    }
}
