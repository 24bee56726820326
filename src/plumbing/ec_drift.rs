//! Where the EC goes between two changes of the solution.

use crate::plumbing::solution::mixed_ec;

/// EC of what plants take up with each litre that they drink \[mS/cm\], whatever they stand in.
///
/// Mass balance after Bugbee 2004, Acta Horticulturae 648:99-112: a head of 150 g, 5 % of it dry,
/// 7, 1 and 0.4 % of that potassium, calcium and magnesium, which drinks 3 litres, takes up 6.6
/// meq/l of bases, which is about 0.66 mS/cm (a tenth of the meq/l). Our estimate; the meter has
/// the last word.
pub const UPTAKE_EC: f64 = 0.66;

/// All the solution of a loop, in tank and tubes, taken as well mixed.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct TankSolution {
    /// How much \[ml\].
    millilitres: f64,
    /// Its EC \[mS/cm\]; absent while nothing is known of it.
    ec: Option<f64>,
}

impl TankSolution {
    /// So many millilitres of an EC \[mS/cm\], if that is known.
    #[must_use]
    pub fn new(millilitres: u64, ec: Option<f64>) -> Self {
        Self {
            millilitres: to_f64(millilitres),
            ec,
        }
    }

    /// Its EC \[mS/cm\], where it is known and there is any.
    #[must_use]
    pub fn ec(&self) -> Option<f64> {
        self.ec
    }

    /// Pours in so many millilitres of an EC \[mS/cm\].
    pub fn add(&mut self, millilitres: u64, ec: f64) {
        let added = to_f64(millilitres);
        if let Some(now) = self.ec.filter(|_| self.millilitres + added > 0.0) {
            self.ec = Some(mixed_ec(self.millilitres, now, added, ec));
        }
        self.millilitres += added;
    }

    /// Plants drink, which takes up salt, and water evaporates, which leaves it \[ml\].
    pub fn consume(&mut self, transpired: u64, evaporated: u64) {
        let (drunk, evaporated) = (to_f64(transpired), to_f64(evaporated));
        let left = (self.millilitres - drunk - evaporated).max(0.0);
        if let Some(now) = self.ec.filter(|_| left > 0.0) {
            let salt = self.millilitres * now - drunk * UPTAKE_EC.min(now);
            self.ec = Some(salt / left);
        }
        self.millilitres = left;
    }
}

#[allow(clippy::cast_precision_loss)]
fn to_f64(millilitres: u64) -> f64 {
    millilitres as f64
}
