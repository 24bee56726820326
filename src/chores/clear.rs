//! Holes whose plants come out: cleared and wiped before anything else goes in.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use super::holes::{self, Hole};
use super::scene::{Scene, chore};
use super::words;
use super::{Chore, Kind};

pub(super) fn chores(scene: &Scene) -> Vec<Chore> {
    let planted: BTreeSet<(NaiveDate, Hole)> = scene
        .stays
        .iter()
        .map(|p| (p.stay.transplant, p.hole))
        .collect();
    let mut days: BTreeMap<NaiveDate, Vec<Hole>> = BTreeMap::new();
    for stands in &scene.stays {
        if scene.shows(stands.stay.removal) {
            days.entry(stands.stay.removal)
                .or_default()
                .push(stands.hole);
        }
    }
    days.into_iter()
        .map(|(day, cleared)| {
            let (again, empty): (Vec<Hole>, Vec<Hole>) = cleared
                .iter()
                .partition(|hole| planted.contains(&(day, **hole)));
            let mut lines = vec![words::clear_line(&holes::short(&cleared))];
            if !again.is_empty() {
                lines.push(words::clear_planted_again(&holes::short(&again)));
            }
            if !empty.is_empty() {
                lines.push(words::clear_left_empty(&holes::short(&empty)));
            }
            let about = cleared.iter().map(Hole::tube);
            chore(
                Kind::Clear,
                day,
                about,
                words::clear_summary(cleared.len()),
                lines,
                Vec::new(),
            )
        })
        .collect()
}
