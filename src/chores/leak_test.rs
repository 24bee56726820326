//! Plain water through a new rig before anything is planted.
//!
//! One or two days on plain water find leaks: common practice, no published source.

use chrono::Days;

use crate::chores::plan_view::PlanView;
use crate::chores::{Chore, Kind};

pub(super) fn chores(view: &PlanView) -> Vec<Chore> {
    // A plan made again around plants is for a rig that runs.
    if view.stays.iter().any(|p| p.stay.stands) {
        return Vec::new();
    }
    let plantings = || view.stays.iter().map(|p| p.stay.transplant);
    // Where something stood before the start, the rig has run already.
    let Some(first) = plantings().min().filter(|day| view.is_reported(*day)) else {
        return Vec::new();
    };
    let days_before = |n| {
        first
            .checked_sub_days(Days::new(n))
            .and_then(|d| view.workday_until(d))
    };
    let Some(day) = days_before(2).or_else(|| days_before(0)) else {
        return Vec::new();
    };
    let loops = &view.garden.loops;
    let lines = loops
        .iter()
        .map(|l| {
            view.words
                .leak_test_loop(&l.name, l.tank.capacity, view.garden.units)
        })
        .collect();
    vec![view.chore(
        Kind::LeakTest,
        day,
        loops.iter().map(|l| l.name.as_str()),
        view.words.leak_test_title(),
        lines,
        view.words.leak_test_hints(first, day),
    )]
}
