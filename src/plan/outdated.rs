//! What the diary has and a plan does not know of: until one plans again, what the plan shows is
//! wrong there.

use chrono::Days;

use crate::diary::{Diary, Event};
use crate::plan::{Plan, Stay};

/// A plant set out no more than so much sooner than planned is the one that was planned.
const SAME_PLANT_DAYS: Days = Days::new(7);

/// Holes in which, since the plan was made, a plant came out that it has stand on, or one was set
/// out that it does not have, or that were blocked and that it plans for; each once, in the order
/// in which it happened.
#[must_use]
pub fn outdated_holes<'d>(plan: &Plan, diary: &'d Diary) -> Vec<&'d str> {
    let mut holes: Vec<&str> = Vec::new();
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
            // It may be one that the plan has there, in the place of one that came out.
            Event::Transplanted { hole, crop, .. } => {
                holes.retain(|h| h != hole);
                let is_it = |s: &Stay| {
                    let is_in_time = s.transplant <= on + SAME_PLANT_DAYS && on < s.removal;
                    s.hole == *hole && s.crop == *crop && is_in_time
                };
                if !plan.stays.iter().any(is_it) {
                    holes.push(hole);
                }
                continue;
            }
            _ => continue,
        };
        let mut here = plan.stays.iter().filter(|stay| stay.hole == hole);
        if here.any(is_wrong) && !holes.contains(&hole) {
            holes.push(hole);
        }
    }
    holes
}
