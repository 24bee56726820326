//! The nutrient solution: the band that suits all plants of a loop, and how to mix for it.
//!
//! EC is taken as in proportion to strength, as all dosing by EC does; it grows a little less than
//! that (by 6 % for potassium chloride at 10 mmol/l), so measure after mixing.

use crate::garden::crop::SolutionRange;
use crate::units::Conductivity;

/// The band that suits all of these; `None` for none, or where they have nothing in common.
#[must_use]
pub fn common_band(bands: impl IntoIterator<Item = SolutionRange>) -> Option<SolutionRange> {
    let together = bands.into_iter().reduce(intersect)?;
    let meets = together.ec.0 <= together.ec.1 && together.ph.0 <= together.ph.1;
    meets.then_some(together)
}

/// The overlap of two bands; upside down where they do not meet.
fn intersect(a: SolutionRange, b: SolutionRange) -> SolutionRange {
    let ec = |x: f64, y: f64, pick: fn(f64, f64) -> f64| Conductivity::millisiemens(pick(x, y));
    SolutionRange {
        ec: (
            ec(a.ec.0.get(), b.ec.0.get(), f64::max),
            ec(a.ec.1.get(), b.ec.1.get(), f64::min),
        ),
        ph: (a.ph.0.max(b.ph.0), a.ph.1.min(b.ph.1)),
    }
}

/// What to aim at: the middle of the band (common practice, no published source). EC in mS/cm.
#[must_use]
pub fn setpoint(band: &SolutionRange) -> (f64, f64) {
    (
        f64::midpoint(band.ec.0.get(), band.ec.1.get()),
        f64::midpoint(band.ph.0, band.ph.1),
    )
}

/// EC of two waters together, by their volumes.
#[must_use]
pub fn mixed_ec(volume: f64, ec: f64, other_volume: f64, other_ec: f64) -> f64 {
    (volume * ec + other_volume * other_ec) / (volume + other_volume)
}

/// EC of so much fresh solution that brings it, together with what is left of another, to an EC.
/// Below nothing where that is beyond the weakest.
#[must_use]
#[allow(clippy::cast_precision_loss)]
pub fn ec_of_fresh_solution(target: f64, (fresh, left): (u64, u64), left_ec: f64) -> f64 {
    target + (target - left_ec) * left as f64 / fresh as f64
}

/// Stock \[l\] in so many litres of fresh solution of an EC, from a stock and a source water of
/// theirs: `C1 V1 = C2 V2`, the source water's own EC counted. Nothing where the water is as
/// strong already.
#[must_use]
pub fn stock_to_mix(litres: f64, target: f64, source: f64, stock: f64) -> f64 {
    if target <= source || stock <= target {
        return 0.0;
    }
    litres * (target - source) / (stock - source)
}

/// Stock \[l\] to add to so many litres to raise their EC, its own volume counted.
#[must_use]
pub fn stock_to_raise(litres: f64, now: f64, target: f64, stock: f64) -> f64 {
    if target <= now || stock <= target {
        return 0.0;
    }
    litres * (target - now) / (stock - target)
}

/// Water \[l\] of an EC to add to so many litres to lower theirs; `None` where that water is not
/// weaker than what is wanted.
#[must_use]
pub fn water_to_dilute(litres: f64, now: f64, target: f64, water: f64) -> Option<f64> {
    if now <= target {
        return Some(0.0);
    }
    (water < target).then(|| litres * (now - target) / (target - water))
}

/// EC of what a tank is topped up with half-strength: half of what the fresh solution has above
/// its water.
#[must_use]
pub fn half_strength_ec(target: f64, source: f64) -> f64 {
    source + (target - source).max(0.0) / 2.0
}
