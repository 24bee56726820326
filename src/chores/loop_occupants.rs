//! The EC and pH that suit all that stands in a loop.

use chrono::NaiveDate;

use crate::chores::plan_view::PlanView;
use crate::garden::crop::SolutionRange;
use crate::plumbing::solution;

/// What stands in a loop and what it asks of the solution.
pub(super) struct LoopOccupants {
    /// Whether anything stands there at all.
    pub(super) anything: bool,
    /// The band that suits all of it; none if nothing stands there, or no band suits all.
    pub(super) band: Option<SolutionRange>,
}

/// What stands in a loop when the day's work is done.
pub(super) fn loop_occupants(view: &PlanView, r#loop: usize, day: NaiveDate) -> LoopOccupants {
    let here = || {
        let here = view.stays.iter();
        here.filter(|p| p.r#loop == Some(r#loop) && p.occupies_after(day))
    };
    let bands = here().filter_map(|planted| Some(planted.crop?.solution));
    LoopOccupants {
        anything: here().next().is_some(),
        band: solution::common_band(bands),
    }
}
