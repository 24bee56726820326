//! Tanks topped up before they fall too low, and before nobody is there.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::chores::plan_view::PlanView;
use crate::chores::{Chore, Kind};
use crate::plan::water::{LoopWater, TopUp};
use crate::units::Volume;

pub(super) fn chores(view: &PlanView) -> Vec<Chore> {
    let mut days: BTreeMap<NaiveDate, Vec<(&LoopWater, &TopUp)>> = BTreeMap::new();
    for water in &view.plan.water {
        for top_up in water.top_ups.iter().filter(|t| view.is_reported(t.day)) {
            let of_day = days.entry(top_up.day).or_default();
            of_day.push((water, top_up));
        }
    }
    let first_day = days.keys().next().copied();
    days.into_iter()
        .map(|(day, loops)| {
            let units = view.garden.units;
            let said: Vec<(&str, Volume)> = loops
                .iter()
                .map(|(water, t)| (water.name(), Volume::litres(t.litres)))
                .collect();
            let lines = loops.iter().map(|(water, t)| line(view, water, t));
            let lines = lines.collect();
            let about = loops.iter().map(|(water, _)| water.name());
            let mut hints = Vec::new();
            if Some(day) == first_day {
                hints = view.words.top_up_hints(&have_lids(view, &loops));
            }
            let summary = view.words.top_up_title(&said, units);
            view.chore(Kind::TopUp, day, about, summary, lines, hints)
        })
        .collect()
}

fn line(view: &PlanView, water: &LoopWater, top_up: &TopUp) -> String {
    let of_loop = view.garden.loops.iter().find(|l| l.name == water.r#loop);
    let holds = of_loop.map_or(0.0, |l| l.tank.capacity.get());
    let full = water.is_full_after(view.plan.start, top_up.day, holds);
    view.words.top_up_line(
        &water.r#loop,
        top_up,
        full.unwrap_or(true),
        view.garden.units,
    )
}

/// Whether each of the tanks has a lid.
fn have_lids(view: &PlanView, loops: &[(&LoopWater, &TopUp)]) -> Vec<bool> {
    let named = |name: &str| view.garden.loops.iter().find(|l| l.name == name);
    let tanks = loops.iter().filter_map(|(water, _)| named(water.name()));
    tanks.map(|of_loop| !of_loop.tank.is_open).collect()
}
