//! What the diary has and a plan does not know of: until one plans again, what the plan shows is
//! wrong there.

use super::{Plan, Stay};
use crate::garden::diary::{Diary, Event};

/// Holes in which, since the plan was made, a plant came out that it has stand on, or that were
/// blocked and that it plans for; each once, in the order in which it happened.
#[must_use]
pub fn news<'d>(plan: &Plan, diary: &'d Diary) -> Vec<&'d str> {
    let mut holes = Vec::new();
    for entry in diary.entries.iter().filter(|e| e.on >= plan.start) {
        let on = entry.on;
        let stands_on = |s: &Stay| (s.stands || s.transplant < on) && on < s.removal;
        let is_to_come = |s: &Stay| on < s.transplant;
        let (hole, is_wrong): (_, &dyn Fn(&Stay) -> bool) = match &entry.event {
            Event::Lost { hole, .. }
            | Event::Cleared { hole }
            | Event::Harvested {
                hole, last: true, ..
            } => (hole.as_str(), &stands_on),
            Event::Blocked { hole } => (hole.as_str(), &is_to_come),
            _ => continue,
        };
        let mut here = plan.stays.iter().filter(|stay| stay.hole == hole);
        if here.any(is_wrong) && !holes.contains(&hole) {
            holes.push(hole);
        }
    }
    holes
}
