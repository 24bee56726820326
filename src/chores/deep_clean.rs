//! Empty tubes, scrubbed in turn.
//!
//! Scrub before disinfecting, household bleach 1 part to 9 parts of water for 30 minutes on hard
//! surfaces, then rinse: University of Connecticut Extension, EXT023 (2023). That bleach must not
//! meet acid, ammonia or peroxide, and not reach the tank: common practice, no published source.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use crate::chores::plan_view::PlanView;
use crate::chores::solution;
use crate::chores::{Chore, Kind};

pub(super) fn chores(view: &PlanView) -> Vec<Chore> {
    let mut days: BTreeMap<NaiveDate, BTreeSet<&str>> = BTreeMap::new();
    for clean in view.plan.cleans.iter().filter(|c| view.is_reported(c.day)) {
        days.entry(clean.day).or_default().insert(&clean.tube);
    }
    days.into_iter()
        .map(|(day, tubes)| {
            let tubes = Vec::from_iter(tubes);
            // The caution goes with every deep clean: it is the one chore with a poisonous gas in it.
            let too = tubes
                .iter()
                .filter_map(|tube| view.loop_of_tube(tube))
                .any(|of_tube| solution::is_changed(view, of_tube, day));
            view.chore(
                Kind::DeepClean,
                day,
                tubes.iter().copied(),
                view.words.deep_clean_title(&tubes),
                vec![view.words.deep_clean_line(&tubes)],
                view.words.deep_clean_hints(too),
            )
        })
        .collect()
}
