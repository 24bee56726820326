//! What the grower is told to do, against what is planned: every kind of work on its day and no
//! other, every plant sown, set out, harvested and taken out by its hole, and how much that gives;
//! tubes scrubbed, tanks filled and topped up, seed bought, checks made.

mod changeover;
mod check;
mod holes;
mod seed;
mod tank;
mod title;

use std::collections::BTreeSet;

use chrono::NaiveDate;
use steadyleaf::chores::{Chore, Kind};
use steadyleaf::garden::crop::SolutionRange;
use steadyleaf::plan::Stay;

use super::words::{Tongue, amount, gaps};
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

impl Look<'_> {
    /// All work of days from the first to the last that is told, against what is planned then.
    pub(super) fn told(
        &self,
        told: &[Told],
        days: (NaiveDate, NaiveDate),
        faults: &mut Vec<String>,
    ) {
        self.told_of(told, days, &[], faults);
    }

    /// The same of some kinds of work only, or of all if none is named.
    pub(super) fn told_of(
        &self,
        told: &[Told],
        (first, last): (NaiveDate, NaiveDate),
        only: &[Kind],
        faults: &mut Vec<String>,
    ) {
        let mut say = Say {
            look: self,
            tongue: Tongue::of(self.garden.language.code()),
            only,
            faults,
        };
        let (first, last) = (first.max(self.plan.start), last.min(self.plan.last));
        say.days(told, (first, last));
        for one in told {
            say.one(one);
        }
        let is_seed_told = [Kind::SeedOrder, Kind::Sow].map(|kind| say.is_asked_for(kind));
        if (first, last) == (self.plan.start, self.plan.last) && is_seed_told == [true; 2] {
            say.seed(told);
        }
    }

    /// Plants that something is done with.
    fn those(&self, is_meant: impl Fn(&Stay) -> bool) -> impl Iterator<Item = &Plant<'_>> {
        self.plants.iter().filter(move |p| is_meant(p.stay))
    }

    /// Crops that stand in a loop when a day's work is done.
    fn stands_in(&self, of_loop: usize, day: NaiveDate) -> Vec<SolutionRange> {
        let here = self.those(move |s| s.transplant <= day && day < s.removal);
        let here = here.filter(|p| self.holes[p.hole].r#loop == of_loop);
        here.map(|p| p.crop.solution).collect()
    }
}

/// EC and pH that suit all: least and most.
fn band(all: &[SolutionRange]) -> Option<[f64; 4]> {
    let most = |of: fn(&SolutionRange) -> f64| all.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
    let least = |of: fn(&SolutionRange) -> f64| all.iter().map(of).fold(f64::INFINITY, f64::min);
    let ec = (most(|s| s.ec.0.get()), least(|s| s.ec.1.get()));
    let ph = (most(|s| s.ph.0), least(|s| s.ph.1));
    (!all.is_empty() && ec.0 <= ec.1 && ph.0 <= ph.1).then_some([ec.0, ec.1, ph.0, ph.1])
}

struct Say<'a, 'g> {
    look: &'a Look<'g>,
    tongue: &'static Tongue,
    /// Kinds of work; all if empty.
    only: &'a [Kind],
    faults: &'a mut Vec<String>,
}

impl Say<'_, '_> {
    fn is_asked_for(&self, kind: Kind) -> bool {
        self.only.is_empty() || self.only.contains(&kind)
    }

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
        meant.extend(
            turns
                .iter()
                .map(|(_, to, _)| (to.first, Kind::CropChangeover)),
        );
        meant.retain(|(day, kind)| first <= *day && *day <= last && self.is_asked_for(*kind));
        let mut seen = BTreeSet::new();
        for one in told {
            let work = (one.day, one.kind);
            let is_known =
                one.kind == Kind::SeedOrder && self.is_asked_for(one.kind) || meant.contains(&work);
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
                Kind::CropChangeover => self.turned(one),
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
}

/// A volume as the garden states it: to a tenth of a litre, a hundredth of a gallon.
fn exact(text: &str) -> Option<(f64, f64)> {
    let (litres, _) = amount(text)?;
    let rounding = if text.ends_with("gal") { 0.019 } else { 0.05 };
    Some((litres, rounding))
}
