//! The EC and pH that suit all that stands in a loop.

use chrono::NaiveDate;

use crate::chores::plan_view::Scene;
use crate::garden::crop::Solution;
use crate::plumbing::solution;

/// What stands in a loop and what it asks of the solution.
pub(super) struct Stands {
    /// Whether anything stands there at all.
    pub(super) anything: bool,
    /// The band that suits all of it; none if nothing stands there, or no band suits all.
    pub(super) band: Option<Solution>,
}

/// What stands in a loop when the day's work is done.
pub(super) fn in_loop(scene: &Scene, r#loop: usize, day: NaiveDate) -> Stands {
    let here = || {
        let here = scene.stays.iter();
        here.filter(|p| p.r#loop == Some(r#loop) && p.stands_after(day))
    };
    let bands = here().filter_map(|planted| Some(planted.crop?.solution));
    Stands {
        anything: here().next().is_some(),
        band: solution::common(bands),
    }
}
