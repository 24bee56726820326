//! Plain water through a new rig before anything is planted.
//!
//! One or two days on plain water find leaks: common practice, no published source.

use chrono::Days;

use crate::chores::plan_view::PlanView;
use crate::chores::{Chore, Kind};

pub(super) fn chores(scene: &PlanView) -> Vec<Chore> {
    // A plan made again around plants is for a rig that runs.
    if scene.stays.iter().any(|p| p.stay.stands) {
        return Vec::new();
    }
    let plantings = || scene.stays.iter().map(|p| p.stay.transplant);
    // Where something stood before the start, the rig has run already.
    let Some(first) = plantings().min().filter(|day| scene.is_reported(*day)) else {
        return Vec::new();
    };
    let days_before = |n| {
        first
            .checked_sub_days(Days::new(n))
            .and_then(|d| scene.workday_until(d))
    };
    let Some(day) = days_before(2).or_else(|| days_before(0)) else {
        return Vec::new();
    };
    let loops = &scene.garden.loops;
    let lines = loops
        .iter()
        .map(|l| {
            scene
                .words
                .leak_test_loop(&l.name, l.tank.holds, scene.garden.units)
        })
        .collect();
    vec![scene.chore(
        Kind::LeakTest,
        day,
        loops.iter().map(|l| l.name.as_str()),
        scene.words.leak_test_title(),
        lines,
        scene.words.leak_test_hints(first, day),
    )]
}
