//! The EC and pH that suit all that stands in a loop.

use chrono::NaiveDate;

use super::scene::Scene;
use crate::garden::crop::Solution;
use crate::quantity::Conductivity;

/// What stands in a loop and what it asks of the solution.
pub(super) struct Stands {
    /// Whether anything stands there at all.
    pub(super) anything: bool,
    /// The band that suits all of it; none if nothing stands there, or no band suits all.
    pub(super) band: Option<Solution>,
}

/// What stands in a loop when the day's work is done.
pub(super) fn in_loop(scene: &Scene, r#loop: usize, day: NaiveDate) -> Stands {
    let mut anything = false;
    let mut common: Option<Solution> = None;
    let here = scene
        .stays
        .iter()
        .filter(|p| p.r#loop == Some(r#loop) && p.stands_after(day));
    for planted in here {
        anything = true;
        if let Some(crop) = planted.crop {
            common = Some(common.map_or(crop.solution, |c| overlap(c, crop.solution)));
        }
    }
    Stands {
        anything,
        band: common.filter(|c| c.ec.0 <= c.ec.1 && c.ph.0 <= c.ph.1),
    }
}

/// The overlap of two bands; upside down where they do not meet.
fn overlap(a: Solution, b: Solution) -> Solution {
    let ec = |x: f64, y: f64, pick: fn(f64, f64) -> f64| Conductivity::millisiemens(pick(x, y));
    Solution {
        ec: (
            ec(a.ec.0.get(), b.ec.0.get(), f64::max),
            ec(a.ec.1.get(), b.ec.1.get(), f64::min),
        ),
        ph: (a.ph.0.max(b.ph.0), a.ph.1.min(b.ph.1)),
    }
}
