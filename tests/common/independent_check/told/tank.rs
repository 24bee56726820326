//! Tanks filled afresh, emptied and topped up.

use super::{Say, Told, band, exact};
use crate::independent_check::words::{GALLON, amount, gaps, millilitres, number};

impl Say<'_, '_> {
    /// Of each loop what is filled in, what is aimed at, stock for it, and what is drained for weeks.
    pub(super) fn filled(&mut self, one: &Told) {
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
                let per = [1.0, GALLON][*unit];
                let each = millilitres(found[2]).map(|(each, rounding)| (each, rounding / 5.0));
                self.near(one, "stock in each", each, ml / filled * per);
            }
            (None, None) => {}
            _ => self.wrong(one, "stock"),
        }
    }

    /// Of each loop its litres, and whether its tank is full with them.
    pub(super) fn topped_up(&mut self, one: &Told) {
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
                let lacks = of_loop.tank.capacity.get() - (water.level[at] + water.used[at]);
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
}
