//! What is done in holes and tubes: harvested, set out, taken out and scrubbed.

use super::{Say, Told};
use crate::independent_check::Plant;
use crate::independent_check::words::{amount, gaps};

impl Say<'_, '_> {
    pub(super) fn harvested(&mut self, one: &Told) {
        let (look, day) = (self.look, one.day);
        let mut told = Vec::new();
        for line in &one.lines {
            let found = self.tongue.harvest.iter().find_map(|s| gaps(s, line));
            let Some([much, crop, manner, holes]) = found.as_deref() else {
                continue;
            };
            let holes = holes_in(holes).unwrap_or_default();
            let of_line = |p: &&Plant<'_>| holes.contains(&p.stay.hole) && p.crop.name == *crop;
            let plants: Vec<&Plant<'_>> = look
                .those(|s| s.harvests.iter().any(|h| h.day == day))
                .filter(of_line)
                .collect();
            told.extend(holes.iter().map(|hole| format!("{hole} {crop}")));
            let of_day = plants.iter().flat_map(|p| &p.stay.harvests);
            let sum: f64 = of_day.filter(|h| h.day == day).map(|h| h.amount).sum();
            self.near(one, &format!("{crop} harvested"), amount(much), sum);
            let is_last = manner.contains(self.tongue.last);
            for plant in plants {
                let want = &look.garden.wants[plant.want].name;
                let singular =
                    |text: &str| text.replace("heads", "head").replace("piezas", "pieza");
                if !singular(much).contains(&singular(want)) {
                    self.wrong(one, &format!("{much} is for {want}"));
                }
                if !plant.is_taken_whole() && is_last != (plant.stay.removal == day) {
                    self.wrong(one, &format!("{} is harvested last", plant.name()));
                }
            }
        }
        let meant = look.those(|s| s.harvests.iter().any(|h| h.day == day));
        let meant = meant.map(|p| format!("{} {}", p.stay.hole, p.crop.name));
        self.hold("harvested", day, told, meant.collect());
    }

    pub(super) fn set_out(&mut self, one: &Told) {
        let (look, tongue, day) = (self.look, self.tongue, one.day);
        let mut told = Vec::new();
        for line in &one.lines {
            let sown = |sentence: &&str| gaps(sentence, line);
            let for_seed = gaps(tongue.set_out_for_seed, line);
            let on_hand = tongue.set_out_on_hand.iter().find_map(sown);
            let (found, how) = if for_seed.is_some() {
                (for_seed, " for seed")
            } else if on_hand.is_some() {
                (on_hand, " on hand")
            } else {
                (tongue.set_out.iter().find_map(sown), "")
            };
            let (a, b, since, holes) = match found.as_deref() {
                Some([a, b, since, holes]) => (*a, *b, *since, *holes),
                Some([a, b, holes]) => (*a, *b, "some day", *holes),
                _ => continue,
            };
            let (crop, n) = if tongue.crop_first { (a, b) } else { (b, a) };
            let holes = holes_in(holes).unwrap_or_default();
            if n.parse() != Ok(holes.len()) {
                self.wrong(one, &format!("{n} of {crop} into {} holes", holes.len()));
            }
            told.extend(holes.iter().map(|h| format!("{h} {crop} {since}{how}")));
        }
        let meant = look.those(|s| !s.stands && s.transplant == day).map(|p| {
            let since = p.stay.sow.map(|sow| tongue.day(sow, day));
            let since = since.unwrap_or("some day".to_owned());
            let how = match (p.stay.for_seed, p.stay.on_hand) {
                (true, _) => " for seed",
                (false, true) => " on hand",
                (false, false) => "",
            };
            format!("{} {} {since}{how}", p.stay.hole, p.crop.name)
        });
        self.hold("set out", day, told, meant.collect());
    }

    pub(super) fn cleared(&mut self, one: &Told) {
        let (look, day) = (self.look, one.day);
        let mut told = Vec::new();
        for (sentence, then) in self
            .tongue
            .cleared
            .iter()
            .zip(["scrubbed", "planted", "empty"])
        {
            for found in self.fits(sentence, one) {
                let holes = holes_in(found[0]).unwrap_or_default();
                told.extend(holes.iter().map(|hole| format!("{hole} {then}")));
            }
        }
        let seed = self.fits(self.tongue.seed_taken, one);
        for found in seed {
            let holes = holes_in(found[2]).unwrap_or_default();
            told.extend(holes.iter().map(|hole| format!("{hole} seed")));
        }
        let out = look.those(|s| s.removal == day).flat_map(|p| {
            let hole = &look.holes[p.hole];
            let is_scrubbed =
                |c: &&steadyleaf::plan::TubeClean| c.day == day && c.tube == hole.tube;
            let again = look.those(|s| s.transplant == day && s.hole == hole.name);
            let then = if look.plan.cleans.iter().any(|c| is_scrubbed(&c)) {
                "scrubbed"
            } else if again.count() > 0 {
                "planted"
            } else {
                "empty"
            };
            let seed = p.stay.for_seed.then(|| format!("{} seed", hole.name));
            [Some(format!("{} {then}", hole.name)), seed]
        });
        let meant = out.flatten().collect();
        self.hold("taken out", day, told, meant);
    }

    pub(super) fn scrubbed(&mut self, one: &Told) {
        let sentences = self.tongue.scrubbed;
        let found = sentences.iter().flat_map(|s| self.fits(s, one));
        let names: Vec<&str> = found.map(|found| found[0]).collect();
        let told = names.iter().flat_map(|names| {
            let names = names.split(self.tongue.and);
            names.flat_map(|names| names.split(", ")).map(str::to_owned)
        });
        let told = told.collect();
        let cleans = self.look.plan.cleans.iter().filter(|c| c.day == one.day);
        let meant = cleans.map(|c| c.tube.clone()).collect();
        self.hold("scrub", one.day, told, meant);
    }
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
