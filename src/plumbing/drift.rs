//! Where the EC goes between two changes of the solution.

use super::solution::half_strength;
use super::tank::TankDay;
use crate::garden::rig::{Nutrients, TopUp};

/// EC of what plants take up with each litre that they drink \[mS/cm\], whatever they stand in.
///
/// Mass balance after Bugbee 2004, Acta Horticulturae 648:99-112: a head of 150 g, 5 % of it dry,
/// 7, 1 and 0.4 % of that potassium, calcium and magnesium, which drinks 3 litres, takes up 6.6
/// meq/l of bases, which is about 0.66 mS/cm (a tenth of the meq/l). Our estimate; the meter has
/// the last word.
pub const UPTAKE: f64 = 0.66;

/// Solution that is in a loop on the first morning.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct There {
    /// What is in tank and tubes \[ml\].
    pub millilitres: u64,
    /// Its EC \[mS/cm\]; that of a change on the first day where this is not known.
    pub ec: Option<f64>,
}

/// EC of a loop at the end of each day \[mS/cm\], all its water taken as well mixed. `fresh` is
/// the EC of the solution of a change on each day. `None` until something is known: from the
/// first morning on where solution is `there`, else from the first change on.
///
/// `standing` is the water in the tubes \[ml\], which a change leaves there.
#[must_use]
pub fn drift(
    days: &[TankDay],
    standing: u64,
    nutrients: &Nutrients,
    there: Option<There>,
    fresh: impl Fn(usize) -> Option<f64>,
) -> Vec<Option<f64>> {
    let source = nutrients.source_ec.get();
    let mut aimed_at: Option<f64> = there.and_then(|_| fresh(0));
    let mut now: Option<f64> = there.and_then(|there| there.ec.or(aimed_at));
    // What is in tank and tubes [ml].
    let mut litres = there.map_or(0.0, |there| to_f64(there.millilitres));
    days.iter()
        .enumerate()
        .map(|(at, day)| {
            if let Some(change) = &day.change {
                let held = if change.first { 0.0 } else { to_f64(standing) };
                let filled = to_f64(change.filled);
                litres = held + filled;
                aimed_at = fresh(at);
                now = aimed_at.map(|ec| (held * now.unwrap_or(ec) + filled * ec) / litres);
            }
            let (before, aim) = (now?, aimed_at?);
            let added = to_f64(day.topped_up);
            let added_ec = match nutrients.top_up {
                TopUp::PlainWater => source,
                TopUp::HalfStrength => half_strength(aim, source),
            };
            let (drunk, evaporated) = (to_f64(day.drunk), to_f64(day.evaporated));
            let mut salt = litres * before + added * added_ec;
            litres += added;
            if litres > 0.0 {
                salt -= drunk * UPTAKE.min(salt / litres);
            }
            litres = (litres - drunk - evaporated).max(0.0);
            if litres > 0.0 {
                now = Some(salt / litres);
            }
            now
        })
        .collect()
}

#[allow(clippy::cast_precision_loss)]
fn to_f64(millilitres: u64) -> f64 {
    millilitres as f64
}
