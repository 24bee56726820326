//! The workdays' check, and the days on plain water before anything is planted.

use chrono::{Days, NaiveDate};
use steadyleaf::plan::Stay;

use super::{Say, Told, band, exact};
use crate::independent_check::Look;
use crate::independent_check::words::{amount, gaps, millilitres};

/// A rig runs on plain water so many days before anything is planted, where there is a workday.
const LEAKS: u64 = 2;

impl Look<'_> {
    pub(super) fn has_seedlings(&self, day: NaiveDate) -> bool {
        let is_there =
            |s: &Stay| (s.on_hand || s.sow.is_some_and(|sow| sow <= day)) && day < s.transplant;
        self.those(is_there).next().is_some()
    }

    pub(super) fn leak_test(&self) -> Option<(NaiveDate, NaiveDate)> {
        let first = self.plants.iter().map(|p| p.stay.transplant).min()?;
        let runs = self.plants.iter().any(|p| p.stay.stands) || first < self.plan.start;
        let day = || {
            let before = self.workday_until(first - Days::new(LEAKS));
            before.or_else(|| self.workday_until(first))
        };
        (!runs && first <= self.plan.last).then(|| day().map(|day| (day, first)))?
    }

    /// The last workday up to a day.
    fn workday_until(&self, day: NaiveDate) -> Option<NaiveDate> {
        let mut days = self.plan.start.iter_days().take_while(|d| *d <= day);
        days.by_ref().filter(|d| self.is_workday(*d)).last()
    }
}

impl Say<'_, '_> {
    pub(super) fn checked(&mut self, one: &Told) {
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
                let holds = of_loop.tank.capacity.get();
                let least = holds * of_loop.tank.reserve_share.get();
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
        let mut absences = look.garden.rhythm.absences.iter();
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
        let litres = of_loop.tank.capacity.get() + self.look.plan.water[at].in_tubes;
        let source = of_loop.nutrients.source_ec.get();
        // Before and after: litres (aim + 0.1) + water source = (litres + water) aim.
        self.near(
            one,
            "water to thin",
            amount(found[1]),
            litres * 0.1 / (aim - source),
        );
        if let (Some(stock), [_, _, _, told]) = (of_loop.nutrients.stock_ec, &found[..]) {
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

    pub(super) fn leaks(&mut self, one: &Told) {
        let Some((_, first)) = self.look.leak_test() else {
            return;
        };
        let told = self.fits(self.tongue.leak_test, one);
        for (found, of_loop) in told.iter().zip(&self.look.garden.loops) {
            let holds = of_loop.tank.capacity.get();
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
}

/// `1.2-1.6`, or one number for both.
fn between(text: &str) -> Option<(f64, f64)> {
    let (least, most) = text.split_once('-').unwrap_or((text, text));
    Some((least.parse().ok()?, most.parse().ok()?))
}
