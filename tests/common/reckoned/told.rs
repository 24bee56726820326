//! What the grower is told to do, against what is planned: every kind of work on its day and no
//! other, every plant sown, set out, harvested and taken out by its hole, and how much that gives;
//! tubes scrubbed, tanks filled and topped up, seed bought, checks made.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Days, NaiveDate};
use steadyleaf::chores::{Chore, Kind};
use steadyleaf::garden::crop::Solution;
use steadyleaf::plan::Stay;

use super::words::{Tongue, amount, gaps, millilitres, number};
use super::{Look, Plant};

/// Work of one kind on one day, as it is told somewhere.
#[derive(Debug, Clone)]
pub struct Told {
    pub day: NaiveDate,
    pub kind: Kind,
    pub title: String,
    pub lines: Vec<String>,
    /// In keys of the garden, where it says so.
    pub about: Option<String>,
    /// Sums stand for lists, as on a small screen.
    pub is_short: bool,
}

impl From<&Chore> for Told {
    fn from(chore: &Chore) -> Self {
        Self {
            day: chore.day,
            kind: chore.kind,
            title: chore.summary.clone(),
            lines: chore.details.clone(),
            about: Some(chore.about.clone()),
            is_short: false,
        }
    }
}

/// Harvests of a crop further apart are of different seasons, and crops that take over do so within
/// as many days (common practice, no published source).
const SEASON: i64 = 28;
/// A rig runs on plain water so many days before anything is planted, where there is a workday.
const LEAKS: u64 = 2;

impl Look<'_> {
    /// All work of days from the first to the last that is told, against what is planned then.
    pub(super) fn told(
        &self,
        told: &[Told],
        (first, last): (NaiveDate, NaiveDate),
        faults: &mut Vec<String>,
    ) {
        let mut say = Say {
            look: self,
            tongue: Tongue::of(self.garden.language.code()),
            faults,
        };
        let (first, last) = (first.max(self.plan.start), last.min(self.plan.last));
        say.days(told, (first, last));
        for one in told {
            say.one(one);
        }
        if (first, last) == (self.plan.start, self.plan.last) {
            say.seed(told);
        }
    }

    /// Plants that something is done with.
    fn those(&self, is_meant: impl Fn(&Stay) -> bool) -> impl Iterator<Item = &Plant<'_>> {
        self.plants.iter().filter(move |p| is_meant(p.stay))
    }

    /// Crops that stand in a loop when a day's work is done.
    fn stands_in(&self, of_loop: usize, day: NaiveDate) -> Vec<Solution> {
        let here = self.those(move |s| s.transplant <= day && day < s.removal);
        let here = here.filter(|p| self.holes[p.hole].r#loop == of_loop);
        here.map(|p| p.crop.solution).collect()
    }

    fn has_seedlings(&self, day: NaiveDate) -> bool {
        let is_there =
            |s: &Stay| (s.on_hand || s.sow.is_some_and(|sow| sow <= day)) && day < s.transplant;
        self.those(is_there).next().is_some()
    }

    /// The last workday up to a day.
    fn workday_until(&self, day: NaiveDate) -> Option<NaiveDate> {
        let mut days = self.plan.start.iter_days().take_while(|d| *d <= day);
        days.by_ref().filter(|d| self.is_workday(*d)).last()
    }

    fn leak_test(&self) -> Option<(NaiveDate, NaiveDate)> {
        let first = self.plants.iter().map(|p| p.stay.transplant).min()?;
        let runs = self.plants.iter().any(|p| p.stay.stands) || first < self.plan.start;
        let day = || {
            let before = self.workday_until(first - Days::new(LEAKS));
            before.or_else(|| self.workday_until(first))
        };
        (!runs && first <= self.plan.last).then(|| day().map(|day| (day, first)))?
    }

    /// Want, the crop that takes over with its first harvest, and the other with its last.
    fn turns(&self) -> Vec<(usize, Season, Season)> {
        let mut days: BTreeMap<(usize, &str), BTreeSet<NaiveDate>> = BTreeMap::new();
        for plant in &self.plants {
            let of_crop = days.entry((plant.want, &plant.crop.key)).or_default();
            let shown = plant.stay.harvests.iter().map(|h| h.day);
            of_crop.extend(shown.filter(|d| self.plan.start <= *d && *d <= self.plan.last));
        }
        let mut seasons: Vec<(usize, Season)> = Vec::new();
        for ((want, crop), days) in days {
            for day in days {
                match seasons.last_mut() {
                    Some((of, s))
                        if *of == want && s.crop == crop && (day - s.last).num_days() <= SEASON =>
                    {
                        s.last = day;
                    }
                    _ => seasons.push((
                        want,
                        Season {
                            crop: crop.to_owned(),
                            first: day,
                            last: day,
                        },
                    )),
                }
            }
        }
        let mut turns = Vec::new();
        for (want, to) in &seasons {
            let apart = |from: &Season| (to.first - from.last).num_days().abs();
            let before = seasons.iter().filter(|(of, from)| {
                let has_ended = (self.plan.last - from.last).num_days() > SEASON;
                of == want && from.crop != to.crop && from.first < to.first && has_ended
            });
            let near = before
                .map(|(_, from)| from)
                .filter(|from| apart(from) <= SEASON);
            if let Some(from) = near.min_by_key(|from| (apart(from), &from.crop)) {
                turns.push((*want, to.clone(), from.clone()));
            }
        }
        turns
    }
}

#[derive(Clone)]
struct Season {
    crop: String,
    first: NaiveDate,
    last: NaiveDate,
}

/// EC and pH that suit all: least and most.
fn band(all: &[Solution]) -> Option<[f64; 4]> {
    let most = |of: fn(&Solution) -> f64| all.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
    let least = |of: fn(&Solution) -> f64| all.iter().map(of).fold(f64::INFINITY, f64::min);
    let ec = (most(|s| s.ec.0.get()), least(|s| s.ec.1.get()));
    let ph = (most(|s| s.ph.0), least(|s| s.ph.1));
    (!all.is_empty() && ec.0 <= ec.1 && ph.0 <= ph.1).then_some([ec.0, ec.1, ph.0, ph.1])
}

struct Say<'a, 'g> {
    look: &'a Look<'g>,
    tongue: &'static Tongue,
    faults: &'a mut Vec<String>,
}

impl Say<'_, '_> {
    fn hold(&mut self, what: &str, day: NaiveDate, mut told: Vec<String>, mut meant: Vec<String>) {
        told.sort_unstable();
        meant.sort_unstable();
        if told != meant {
            let fault = format!("told: {what} on {day}: {told:?}, not {meant:?}");
            self.faults.push(fault);
        }
    }

    fn wrong(&mut self, one: &Told, what: &str) {
        let (day, kind) = (one.day, one.kind);
        let lines = one.lines.join("\n  ");
        self.faults
            .push(format!("told: {what} ({kind:?} on {day}):\n  {lines}"));
    }

    /// A number told within its rounding.
    fn near(&mut self, one: &Told, what: &str, told: Option<(f64, f64)>, meant: f64) {
        if told.is_none_or(|(told, rounding)| (told - meant).abs() > rounding + 1e-3) {
            self.wrong(one, &format!("{what}: {told:?}, not {meant}"));
        }
    }

    /// Every kind of work on its days, once, and on no others.
    fn days(&mut self, told: &[Told], (first, last): (NaiveDate, NaiveDate)) {
        let (look, plan) = (self.look, self.look.plan);
        let mut meant: BTreeSet<(NaiveDate, Kind)> = BTreeSet::new();
        for plant in &look.plants {
            let stay = plant.stay;
            meant.extend(stay.harvests.iter().map(|h| (h.day, Kind::Harvest)));
            meant.insert((stay.removal, Kind::Clear));
            if !stay.stands {
                meant.insert((stay.transplant, Kind::Transplant));
                let sow = stay.sow.filter(|_| !stay.on_hand);
                meant.extend(sow.map(|day| (day, Kind::Sow)));
            }
        }
        meant.extend(plan.cleans.iter().map(|c| (c.day, Kind::DeepClean)));
        for water in &plan.water {
            meant.extend(water.changes.iter().map(|c| (c.day, Kind::Solution)));
            meant.extend(water.emptied.iter().map(|e| (e.day, Kind::Solution)));
            meant.extend(water.top_ups.iter().map(|t| (t.day, Kind::TopUp)));
        }
        let checked = first.iter_days().take_while(|d| *d <= last).filter(|&day| {
            let mut loops = 0..look.garden.loops.len();
            look.is_workday(day)
                && (look.has_seedlings(day) || loops.any(|l| !look.stands_in(l, day).is_empty()))
        });
        meant.extend(checked.map(|day| (day, Kind::Check)));
        meant.extend(look.leak_test().map(|(day, _)| (day, Kind::LeakTest)));
        let turns = look.turns();
        meant.extend(turns.iter().map(|(_, to, _)| (to.first, Kind::Swap)));
        meant.retain(|(day, _)| first <= *day && *day <= last);
        let mut seen = BTreeSet::new();
        for one in told {
            let work = (one.day, one.kind);
            let is_known = one.kind == Kind::SeedOrder || meant.contains(&work);
            if !is_known || !(first..=last).contains(&one.day) {
                self.faults.push(format!("told: unplanned: {work:?}"));
            }
            if !seen.insert(work) {
                self.faults.push(format!("told: twice: {work:?}"));
            }
            if !look.is_workday(one.day) {
                self.faults.push(format!("told: nobody there: {work:?}"));
            }
        }
        for work in meant.difference(&seen) {
            self.faults.push(format!("told: left out: {work:?}"));
        }
    }

    fn one(&mut self, one: &Told) {
        if !one.is_short {
            match one.kind {
                Kind::Harvest => self.harvested(one),
                Kind::Transplant => self.set_out(one),
                Kind::Clear => self.cleared(one),
                Kind::Sow => self.sown(one),
                Kind::DeepClean => self.scrubbed(one),
                Kind::Solution => self.filled(one),
                Kind::TopUp => self.topped_up(one),
                Kind::Check => self.checked(one),
                Kind::LeakTest => self.leaks(one),
                Kind::Swap => self.turned(one),
                Kind::SeedOrder => {}
            }
        }
        self.titled(one);
        self.about(one);
    }

    fn fits<'t>(&self, sentence: &str, one: &'t Told) -> Vec<Vec<&'t str>> {
        let lines = one.lines.iter();
        lines.filter_map(|line| gaps(sentence, line)).collect()
    }

    fn harvested(&mut self, one: &Told) {
        let (look, day) = (self.look, one.day);
        let mut told = Vec::new();
        for line in &one.lines {
            let found = self.tongue.harvest.iter().find_map(|s| gaps(s, line));
            let Some([much, crop, manner, holes]) = found.as_deref() else {
                continue;
            };
            let holes = holes_in(holes).unwrap_or_default();
            let of_line = |p: &&Plant<'_>| holes.contains(&p.stay.hole) && p.crop.called == *crop;
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
        let meant = meant.map(|p| format!("{} {}", p.stay.hole, p.crop.called));
        self.hold("harvested", day, told, meant.collect());
    }

    fn set_out(&mut self, one: &Told) {
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
            format!("{} {} {since}{how}", p.stay.hole, p.crop.called)
        });
        self.hold("set out", day, told, meant.collect());
    }

    fn cleared(&mut self, one: &Told) {
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

    fn sown(&mut self, one: &Told) {
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
            let card = look.garden.crops.iter().find(|c| c.called == batch.crop);
            if card.is_none_or(|c| batch.plants.is_some_and(|n| n != f64::from(c.seed.per_cup))) {
                self.wrong(one, &format!("plants in a cup of {}", batch.crop));
            }
            if batch.cells < batch.cups {
                self.wrong(one, &format!("cells for {}", batch.crop));
            }
        }
        let mut cups: BTreeMap<(&str, NaiveDate), u32> = BTreeMap::new();
        for plant in look.those(|s| s.sow == Some(day) && !s.on_hand && !s.stands) {
            let key = (plant.crop.called.as_str(), plant.stay.transplant);
            *cups.entry(key).or_default() += 1;
        }
        let meant = cups.into_iter();
        let meant =
            meant.map(|((crop, on), n)| format!("{n} of {crop} for {}", tongue.day(on, day)));
        self.hold("sown", day, told, meant.collect());
    }

    fn scrubbed(&mut self, one: &Told) {
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

    /// Of each loop what is filled in, what is aimed at, stock for it, and what is drained for weeks.
    fn filled(&mut self, one: &Told) {
        let (look, tongue, day) = (self.look, self.tongue, one.day);
        let mut told = Vec::new();
        let mut meant = Vec::new();
        for (at, water) in look.plan.water.iter().enumerate() {
            let name = &water.r#loop;
            let of_loop = |found: &Vec<&str>| found[0] == *name;
            for change in water.changes.iter().filter(|c| c.day == day) {
                let how = match (change.drained > 0.0, change.tubes) {
                    (false, _) => 0,
                    (true, false) => 1,
                    (true, true) => 2,
                };
                meant.push(format!("{name} {how}"));
                let mut found = self.fits(tongue.filled[how], one);
                found.retain(of_loop);
                let Some(rest) = found.first().map(|f| f[1]) else {
                    continue;
                };
                let (litres, _) = rest.split_once([',', ';']).unwrap_or((rest, ""));
                self.near(one, "filled", exact(litres), change.filled);
                let suits = band(&look.stands_in(at, day));
                let aimed = gaps(tongue.aim, rest).map(|g| (number(g[1]), number(g[2])));
                if let (Some((ec, ph)), Some(of_ec), Some(of_ph)) = (aimed, change.ec, change.ph) {
                    self.near(one, "EC aimed at", ec.map(|ec| (ec, 0.05)), of_ec);
                    self.near(one, "pH aimed at", ph.map(|ph| (ph, 0.05)), of_ph);
                    if let Some([ec_least, ec_most, ph_least, ph_most]) = suits
                        && !(ec_least - 0.005 <= of_ec
                            && of_ec <= ec_most + 0.005
                            && ph_least - 0.005 <= of_ph
                            && of_ph <= ph_most + 0.005)
                    {
                        self.wrong(one, &format!("EC {of_ec}, pH {of_ph} do not suit"));
                    }
                } else if aimed.is_some() || change.ec.is_some() {
                    self.wrong(one, "what is aimed at");
                }
                self.stock_filled(one, name, change.stock_ml, change.filled);
            }
            for emptied in water.emptied.iter().filter(|e| e.day == day) {
                let until = emptied.until.map(|until| tongue.day(until, day));
                meant.push(format!("{name} {until:?}"));
                for (sentence, known) in [(tongue.drained_until, true), (tongue.drained, false)] {
                    let mut found = self.fits(sentence, one);
                    found.retain(of_loop);
                    for found in found {
                        let until = known.then(|| found[1].to_owned());
                        told.push(format!("{name} {until:?}"));
                        let litres = amount(found[1 + usize::from(known)]);
                        self.near(one, "drained", litres, emptied.drained);
                    }
                }
            }
        }
        for (how, sentence) in tongue.filled.iter().enumerate() {
            let found = self.fits(sentence, one);
            told.extend(found.iter().map(|f| format!("{} {how}", f[0])));
        }
        self.hold("filled", day, told, meant);
    }

    fn stock_filled(&mut self, one: &Told, name: &str, stock_ml: Option<f64>, filled: f64) {
        let sentences = self.tongue.stock;
        let found = sentences.iter().enumerate();
        let found = found.flat_map(|(n, s)| self.fits(s, one).into_iter().map(move |f| (n, f)));
        let found: Vec<_> = found.filter(|(_, f)| f[0] == name).collect();
        match (found.first(), stock_ml) {
            (Some((unit, found)), Some(ml)) => {
                self.near(one, "stock", millilitres(found[1]), ml);
                let per = [1.0, super::words::GALLON][*unit];
                let each = millilitres(found[2]).map(|(each, rounding)| (each, rounding / 5.0));
                self.near(one, "stock in each", each, ml / filled * per);
            }
            (None, None) => {}
            _ => self.wrong(one, "stock"),
        }
    }

    /// Of each loop its litres, and whether its tank is full with them.
    fn topped_up(&mut self, one: &Told) {
        let (look, tongue, day) = (self.look, self.tongue, one.day);
        let mut told = Vec::new();
        for (how, sentence) in tongue.topped_up.iter().enumerate() {
            for found in self.fits(sentence, one) {
                let until = found[found.len() - 1];
                // The sentence without stock fits the one with it, too.
                if until != tongue.to_the_mark && until != tongue.soon_changed {
                    continue;
                }
                told.push(format!("{} {how}", found[0]));
                let water = look.plan.water.iter().zip(&look.garden.loops);
                let mut water = water.filter(|(w, _)| w.r#loop == found[0]);
                let Some((water, of_loop)) = water.next() else {
                    continue;
                };
                let Some(top_up) = water.top_ups.iter().find(|t| t.day == day) else {
                    continue;
                };
                self.near(one, "litres", amount(found[1]), top_up.litres);
                if let Some(ml) = top_up.stock_ml.filter(|_| how == 1) {
                    self.near(one, "stock", millilitres(found[2]), ml);
                }
                let at = usize::try_from((day - look.plan.start).num_days()).expect("a day shown");
                let lacks = of_loop.tank.holds.get() - (water.level[at] + water.used[at]);
                let told_full = until == tongue.to_the_mark;
                if lacks > 0.1 && told_full || lacks < 0.005 && !told_full {
                    self.wrong(one, &format!("`{until}` where {lacks} l are lacking"));
                }
            }
        }
        let meant = look.plan.water.iter().filter_map(|water| {
            let top_up = water.top_ups.iter().find(|t| t.day == day)?;
            let how = match (top_up.half_strength, top_up.stock_ml) {
                (false, _) => 0,
                (true, Some(_)) => 1,
                (true, None) => 2,
            };
            Some(format!("{} {how}", water.r#loop))
        });
        self.hold("top-ups", day, told, meant.collect());
    }

    fn checked(&mut self, one: &Told) {
        let (look, tongue, day) = (self.look, self.tongue, one.day);
        let mut told = Vec::new();
        let mut meant = Vec::new();
        for (at, of_loop) in look.garden.loops.iter().enumerate() {
            let stands = look.stands_in(at, day);
            let [mut suits, mut none] = [0, 1].map(|n| self.fits(tongue.level[n], one));
            suits.retain(|f| f[0] == of_loop.name);
            none.retain(|f| f[0] == of_loop.name);
            let found = suits.first().or(none.first());
            let band = band(&stands);
            if let Some(found) = found {
                told.push(format!("{} {}", of_loop.name, !suits.is_empty()));
                let holds = of_loop.tank.holds.get();
                let least = holds * of_loop.tank.never_below.get();
                self.near(one, "least level", exact(found[1]), least);
                if let (Some(band), [_, _, ec, ph]) = (band, &found[..]) {
                    let said = [ec, ph].map(|text| between(text));
                    let [Some((a, b)), Some((c, d))] = said else {
                        self.wrong(one, "what suits");
                        continue;
                    };
                    let mut told = [a, b, c, d].into_iter().zip(band);
                    if told.any(|(told, is)| (told - is).abs() > 0.005_1) {
                        self.wrong(one, &format!("what suits is {band:?}"));
                    }
                }
            }
            if !stands.is_empty() {
                meant.push(format!("{} {}", of_loop.name, band.is_some()));
            }
            self.ec_brought_back(one, at, band);
        }
        let nursery = one.lines.iter().any(|line| line == tongue.nursery);
        told.push(format!("seedlings {nursery}"));
        meant.push(format!("seedlings {}", look.has_seedlings(day)));
        let away = tongue.away.iter().flat_map(|s| self.fits(s, one));
        let away: Vec<String> = away.map(|f| format!("{} {}", f[0], f[1])).collect();
        told.extend(away);
        let mut later = day.iter_days().skip(1);
        let next = later.find(|d| look.is_workday(*d)).expect("a workday");
        let mut absences = look.garden.rhythm.away.iter();
        let leaving = absences.find(|a| day < a.from && a.from < next);
        meant.extend(leaving.map(|a| {
            let (from, until) = (tongue.day(a.from, day), tongue.day(a.until, day));
            format!("{from} {until}")
        }));
        self.hold("checked", day, told, meant);
        self.falls(one, leaving.map(|a| (a.from, a.until)));
    }

    /// By the balance of salt: so much water thins all that is in the loop by a tenth, so much stock
    /// strengthens it.
    fn ec_brought_back(&mut self, one: &Told, at: usize, band: Option<[f64; 4]>) {
        let of_loop = &self.look.garden.loops[at];
        let [known, unknown] = [0, 1].map(|n| {
            let mut found = self.fits(self.tongue.ec_off[n], one);
            found.retain(|f| f[0] == of_loop.name);
            found
        });
        let Some(found) = known.first().or(unknown.first()) else {
            return;
        };
        let Some([least, most, ..]) = band else {
            self.wrong(one, "EC told of where none suits");
            return;
        };
        let aim = f64::midpoint(least, most);
        let litres = of_loop.tank.holds.get() + self.look.plan.water[at].in_tubes;
        let source = of_loop.solution.source_ec.get();
        // Before and after: litres (aim + 0.1) + water source = (litres + water) aim.
        self.near(
            one,
            "water to thin",
            amount(found[1]),
            litres * 0.1 / (aim - source),
        );
        if let (Some(stock), [_, _, _, told]) = (of_loop.solution.stock, &found[..]) {
            let ml = litres * 0.1 / (stock.get() - aim) * 1000.0;
            self.near(one, "stock to strengthen", millilitres(told), ml);
        }
    }

    /// Tanks that do not last until somebody is back.
    fn falls(&mut self, one: &Told, away: Option<(NaiveDate, NaiveDate)>) {
        let (look, tongue) = (self.look, self.tongue);
        let parts = one.lines.iter().flat_map(|line| line.split("; "));
        let parts = parts.flat_map(|part| {
            // `A full tank will not last that long: roof falls ...`
            let inner = part.split_once(": ").map(|(_, rest)| rest);
            [Some(part), inner]
        });
        let parts: Vec<&str> = parts.flatten().collect();
        let mut told = Vec::new();
        let mut meant = Vec::new();
        for water in &look.plan.water {
            let found = parts.iter().find_map(|part| {
                let of_loop = |f: &Vec<&str>| f[0] == water.r#loop;
                let dry = gaps(tongue.falls[1], part)
                    .filter(of_loop)
                    .map(|f| (true, f[1].to_owned(), f[2].to_owned()));
                let low = gaps(tongue.falls[0], part)
                    .filter(of_loop)
                    .map(|f| (false, f[1].to_owned(), f[2].to_owned()));
                dry.or(low)
            });
            if let Some((dry, from, _)) = &found {
                told.push(format!("{} {from} {dry}", water.r#loop));
            }
            let Some((from, until)) = away else { continue };
            let mut back = until.iter_days().skip(1);
            let back = back.find(|d| look.is_workday(*d)).expect("a workday");
            let mut low = water.low.iter();
            if let Some(low) = low.find(|l| l.until >= from && l.from < back) {
                let dry = low.lacking > 0.0;
                let since = tongue.day_and_month(low.from.max(from));
                meant.push(format!("{} {since} {dry}", water.r#loop));
                let litres = found.as_ref().map(|(.., litres)| litres.as_str());
                let litres = litres.map(|l| l.trim_end_matches('.').split(". ").next());
                let litres = litres.flatten().and_then(amount);
                let is = if dry { low.lacking } else { low.lowest };
                self.near(one, "the lowest", litres, is);
            }
        }
        self.hold("falls", one.day, told, meant);
    }

    fn leaks(&mut self, one: &Told) {
        let Some((_, first)) = self.look.leak_test() else {
            return;
        };
        let told = self.fits(self.tongue.leak_test, one);
        for (found, of_loop) in told.iter().zip(&self.look.garden.loops) {
            let holds = of_loop.tank.holds.get();
            self.near(one, "the tank", exact(found[1]), holds);
            let grams = holds * 1000.0;
            let kilos = amount(found[2]).map(|(g, _)| (g, 0.005_1 * 454.0));
            self.near(one, "its weight", kilos, grams);
        }
        let told = told.iter().map(|found| found[0].to_owned()).collect();
        let meant = self.look.garden.loops.iter().map(|l| l.name.clone());
        self.hold("run on water", one.day, told, meant.collect());
        let before = self.fits(self.tongue.leak_test_before, one);
        let before = before.iter().map(|f| f[1].to_owned()).collect();
        let meant = vec![self.tongue.day(first, one.day)];
        self.hold("planted first", one.day, before, meant);
    }

    fn turned(&mut self, one: &Told) {
        let (look, tongue) = (self.look, self.tongue);
        let mut told = Vec::new();
        for (when, sentence) in ["", "past", "later"].iter().zip(tongue.turn) {
            let found = self.fits(sentence, one);
            told.extend(found.iter().map(|f| format!("{when} {}", f.join(" "))));
        }
        let called = |key: &str| look.garden.crop(key).expect("a card").called.clone();
        let turns = look.turns();
        let turns = turns.iter().filter(|(_, to, _)| to.first == one.day);
        let meant = turns.map(|(want, to, from)| {
            let when = match from.last.cmp(&one.day) {
                std::cmp::Ordering::Equal => "",
                std::cmp::Ordering::Less => "past",
                std::cmp::Ordering::Greater => "later",
            };
            let want = &look.garden.wants[*want].name;
            let turn = format!("{when} {want} {} {}", called(&to.crop), called(&from.crop));
            if when.is_empty() {
                turn
            } else {
                format!("{turn} {}", tongue.day(from.last, one.day))
            }
        });
        let meant = meant.collect();
        self.hold("takes over", one.day, told, meant);
    }

    /// Seed bought is seed sown, but for what is in the house, and it is there in time.
    fn seed(&mut self, told: &[Told]) {
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
            let sown = sown.remove(crop.called.as_str()).unwrap_or_default();
            let bought = bought.remove(crop.called.as_str()).unwrap_or_default();
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
                    let of = &crop.called;
                    self.faults.push(format!(
                        "told: {seeds} seeds of {of} on {day} for {sowings} sowings until {until}, \
                         where {all} are sown in {times}"
                    ));
                }
            }
            if !left.is_empty() {
                let of = &crop.called;
                self.faults
                    .push(format!("told: no seed of {of} for {left:?}"));
            }
        }
        for crop in sown.keys().chain(bought.keys()) {
            self.faults
                .push(format!("told: seed of {crop}, whatever that is"));
        }
    }

    /// What a title sums up.
    fn titled(&mut self, one: &Told) {
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
                    *meant.entry(plant.crop.called.clone()).or_default() += 1;
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
    fn about(&mut self, one: &Told) {
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
            Kind::SeedOrder | Kind::Swap => return,
        };
        let meant = Vec::from_iter(meant).join(", ");
        // A long one is told by its fingerprint.
        if *told != meant && meant.len() <= 200 {
            self.wrong(one, &format!("it is about `{meant}`, not `{told}`"));
        }
    }
}

/// What a line of sowing tells.
struct BatchTold<'t> {
    crop: &'t str,
    seeds: f64,
    cells: f64,
    cups: f64,
    plants: Option<f64>,
    day: &'t str,
}

fn batch_in<'t>(tongue: &Tongue, line: &'t str) -> Option<BatchTold<'t>> {
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

/// A volume as the garden states it: to a tenth of a litre, a hundredth of a gallon.
fn exact(text: &str) -> Option<(f64, f64)> {
    let (litres, _) = amount(text)?;
    let rounding = if text.ends_with("gal") { 0.019 } else { 0.05 };
    Some((litres, rounding))
}

/// `1.2-1.6`, or one number for both.
fn between(text: &str) -> Option<(f64, f64)> {
    let (least, most) = text.split_once('-').unwrap_or((text, text));
    Some((least.parse().ok()?, most.parse().ok()?))
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
