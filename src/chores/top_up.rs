//! Tanks topped up before they fall too low, and before nobody is there.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::scene::Scene;
use super::{Chore, Kind};
use crate::plan::water::TopUp;
use crate::quantity::Volume;

pub(super) fn chores(scene: &Scene) -> Vec<Chore> {
    let mut days: BTreeMap<NaiveDate, Vec<(&str, &TopUp)>> = BTreeMap::new();
    for water in &scene.plan.water {
        for top_up in water.top_ups.iter().filter(|t| scene.shows(t.day)) {
            let of_day = days.entry(top_up.day).or_default();
            of_day.push((&water.r#loop, top_up));
        }
    }
    let first_day = days.keys().next().copied();
    days.into_iter()
        .map(|(day, loops)| {
            let units = scene.garden.units;
            let said: Vec<(&str, Volume)> = loops
                .iter()
                .map(|(name, t)| (*name, Volume::litres(t.litres)))
                .collect();
            let lines = loops.iter().map(|(name, t)| line(scene, name, t)).collect();
            let about = loops.iter().map(|(name, _)| *name);
            let mut hints = Vec::new();
            if Some(day) == first_day {
                hints = scene.words.top_up_hints(&covers(scene, &loops));
            }
            let summary = scene.words.top_up_summary(&said, units);
            scene.chore(Kind::TopUp, day, about, summary, lines, hints)
        })
        .collect()
}

fn line(scene: &Scene, name: &str, top_up: &TopUp) -> String {
    let litres = Volume::litres(top_up.litres);
    let (half, stock_ml) = (top_up.half_strength, top_up.stock_ml);
    scene
        .words
        .top_up_line(name, litres, half, stock_ml, scene.garden.units)
}

/// Whether each of the tanks has a lid.
fn covers(scene: &Scene, loops: &[(&str, &TopUp)]) -> Vec<bool> {
    let named = |name: &str| scene.garden.loops.iter().find(|l| l.name == name);
    let tanks = loops.iter().filter_map(|(name, _)| named(name));
    tanks.map(|of_loop| !of_loop.tank.open).collect()
}
