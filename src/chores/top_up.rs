//! Tanks topped up before they fall too low, and before nobody is there.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::chores::plan_view::PlanView;
use crate::chores::{Chore, Kind};
use crate::plan::water::{LoopWater, TopUp};
use crate::units::Volume;

pub(super) fn chores(scene: &PlanView) -> Vec<Chore> {
    let mut days: BTreeMap<NaiveDate, Vec<(&LoopWater, &TopUp)>> = BTreeMap::new();
    for water in &scene.plan.water {
        for top_up in water.top_ups.iter().filter(|t| scene.is_reported(t.day)) {
            let of_day = days.entry(top_up.day).or_default();
            of_day.push((water, top_up));
        }
    }
    let first_day = days.keys().next().copied();
    days.into_iter()
        .map(|(day, loops)| {
            let units = scene.garden.units;
            let said: Vec<(&str, Volume)> = loops
                .iter()
                .map(|(water, t)| (water.name(), Volume::litres(t.litres)))
                .collect();
            let lines = loops.iter().map(|(water, t)| line(scene, water, t));
            let lines = lines.collect();
            let about = loops.iter().map(|(water, _)| water.name());
            let mut hints = Vec::new();
            if Some(day) == first_day {
                hints = scene.words.top_up_hints(&covers(scene, &loops));
            }
            let summary = scene.words.top_up_title(&said, units);
            scene.chore(Kind::TopUp, day, about, summary, lines, hints)
        })
        .collect()
}

fn line(scene: &PlanView, water: &LoopWater, top_up: &TopUp) -> String {
    let of_loop = scene.garden.loops.iter().find(|l| l.name == water.r#loop);
    let holds = of_loop.map_or(0.0, |l| l.tank.holds.get());
    let full = water.is_full_after(scene.plan.start, top_up.day, holds);
    scene.words.top_up_line(
        &water.r#loop,
        top_up,
        full.unwrap_or(true),
        scene.garden.units,
    )
}

/// Whether each of the tanks has a lid.
fn covers(scene: &PlanView, loops: &[(&LoopWater, &TopUp)]) -> Vec<bool> {
    let named = |name: &str| scene.garden.loops.iter().find(|l| l.name == name);
    let tanks = loops.iter().filter_map(|(water, _)| named(water.name()));
    tanks.map(|of_loop| !of_loop.tank.open).collect()
}
