//! Tanks filled with fresh nutrient solution: before the first planting, then in turn.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::band;
use super::scene::Scene;
use super::{Chore, Kind};
use crate::plan::water::{Because, LoopWater, SolutionChange};
use crate::quantity::Volume;

/// A tank filled afresh.
#[derive(Debug, Clone, Copy)]
struct Filling<'a> {
    water: &'a LoopWater,
    change: &'a SolutionChange,
}

impl Filling<'_> {
    /// Nothing stood in the loop before: tubes and tank are filled.
    fn is_first(&self) -> bool {
        self.change.because == Because::FirstPlanting
    }
}

pub(super) fn chores(scene: &Scene) -> Vec<Chore> {
    let mut days: BTreeMap<NaiveDate, Vec<Filling>> = BTreeMap::new();
    for water in &scene.plan.water {
        for change in water.changes.iter().filter(|c| scene.shows(c.day)) {
            let filling = Filling { water, change };
            days.entry(change.day).or_default().push(filling);
        }
    }
    let first_day = days.keys().next().copied();
    days.into_iter()
        .map(|(day, filled)| {
            let names: Vec<&str> = filled.iter().map(|f| f.water.r#loop.as_str()).collect();
            let first = filled.iter().all(Filling::is_first);
            let hints = scene.words.solution_hints(Some(day) == first_day);
            let lines = filled.iter().flat_map(|f| lines(scene, f)).collect();
            let summary = scene.words.solution_summary(first, &names);
            let about = names.iter().copied();
            scene.chore(Kind::Solution, day, about, summary, lines, hints)
        })
        .collect()
}

fn lines(scene: &Scene, filling: &Filling) -> Vec<String> {
    let (water, change) = (filling.water, filling.change);
    let name = &water.r#loop;
    let units = scene.garden.units;
    let at = scene.garden.loops.iter().position(|l| l.name == *name);
    let band = at.and_then(|l| band::in_loop(scene, l, change.day).band);
    let filled = Volume::litres(change.filled);
    let first = filling.is_first();
    let mut fill = scene
        .words
        .solution_line(name, first, filled, band.as_ref(), units);
    if let Some(aim) = change.ec.zip(change.ph) {
        fill = scene.words.solution_aim(&fill, aim);
    }
    let in_tubes = Volume::litres(water.in_tubes);
    let tubes = (first && water.in_tubes >= 1.0)
        .then(|| scene.words.solution_in_tubes(name, in_tubes, units));
    let stock = change
        .stock_ml
        .map(|ml| scene.words.solution_stock(name, ml, filled));
    let why = match change.because {
        Because::Volume => Some(scene.words.solution_by_volume(name)),
        Because::FirstPlanting | Because::Days => None,
    };
    [Some(fill), tubes, stock, why]
        .into_iter()
        .flatten()
        .collect()
}

/// Whether a loop's solution is changed on a day.
pub(super) fn is_changed(scene: &Scene, r#loop: usize, day: NaiveDate) -> bool {
    let name = scene.garden.loops.get(r#loop).map(|l| l.name.as_str());
    scene
        .plan
        .water
        .iter()
        .filter(|water| Some(water.r#loop.as_str()) == name)
        .any(|water| water.changes.iter().any(|change| change.day == day))
}
