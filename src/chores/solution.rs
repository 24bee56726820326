//! Tanks filled with fresh nutrient solution: before the first planting, then in turn; and loops
//! drained where nothing follows.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::chores::loop_occupants;
use crate::chores::plan_view::PlanView;
use crate::chores::words::solution::Drained;
use crate::chores::{Chore, Kind};
use crate::plan::water::{ChangeReason, Drainage, LoopWater, SolutionChange};
use crate::units::Volume;

/// A change told beside what is left of the old solution is worth it from so much on \[l\].
const MIN_LITRES_REPORTED: f64 = 1.0;

/// A tank filled afresh.
#[derive(Debug, Clone, Copy)]
struct TankRefill<'a> {
    water: &'a LoopWater,
    change: &'a SolutionChange,
}

/// What is done with solution on a day.
#[derive(Default)]
struct SolutionDay<'a> {
    filled: Vec<TankRefill<'a>>,
    emptied: Vec<(&'a LoopWater, &'a Drainage)>,
}

impl TankRefill<'_> {
    /// Nothing stood in the loop before: tubes and tank are filled.
    fn is_first(&self) -> bool {
        self.change.because == ChangeReason::FirstPlanting
    }

    fn drained(&self) -> Drained {
        match self.change {
            change if change.drained <= 0.0 => Drained::Nothing,
            change if change.tubes => Drained::TankAndTubes,
            _ => Drained::Tank,
        }
    }

    /// What is left of the old solution in the tubes \[l\].
    fn left(&self) -> f64 {
        if self.change.tubes {
            0.0
        } else {
            self.water.in_tubes
        }
    }
}

pub(super) fn chores(view: &PlanView) -> Vec<Chore> {
    let mut days: BTreeMap<NaiveDate, SolutionDay> = BTreeMap::new();
    for water in &view.plan.water {
        for change in water.changes.iter().filter(|c| view.is_reported(c.day)) {
            let filled = &mut days.entry(change.day).or_default().filled;
            filled.push(TankRefill { water, change });
        }
        for emptied in water.emptied.iter().filter(|e| view.is_reported(e.day)) {
            let of_day = days.entry(emptied.day).or_default();
            of_day.emptied.push((water, emptied));
        }
    }
    let first_day = days.keys().next().copied();
    days.into_iter()
        .map(|(day, work)| {
            let filled: Vec<&str> = work.filled.iter().map(|f| f.water.name()).collect();
            let emptied: Vec<&str> = work.emptied.iter().map(|(w, _)| w.name()).collect();
            let summary = if filled.is_empty() {
                view.words.solution_empty_title(&emptied)
            } else {
                let first = work.filled.iter().all(TankRefill::is_first);
                view.words.solution_title(first, &filled)
            };
            let hints = view.words.solution_hints(Some(day) == first_day);
            let empty = work.emptied.iter().map(|(w, e)| empty_line(view, w, e));
            let lines = work.filled.iter().flat_map(|f| lines(view, f));
            let lines = lines.chain(empty).collect();
            let about = filled.into_iter().chain(emptied);
            view.chore(Kind::Solution, day, about, summary, lines, hints)
        })
        .collect()
}

fn empty_line(view: &PlanView, water: &LoopWater, emptied: &Drainage) -> String {
    let drained = Volume::litres(emptied.drained);
    view.words.solution_empty(
        water.name(),
        drained,
        emptied.until,
        emptied.day,
        view.garden.units,
    )
}

fn lines(view: &PlanView, filling: &TankRefill) -> Vec<String> {
    let (water, change) = (filling.water, filling.change);
    let (name, words) = (water.name(), view.words);
    let units = view.garden.units;
    let at = view.garden.loops.iter().position(|l| l.name == name);
    let band = at.and_then(|l| loop_occupants::loop_occupants(view, l, change.day).band);
    let filled = Volume::litres(change.filled);
    let mut fill = words.solution_line(name, filling.drained(), filled, band.as_ref(), units);
    if let Some(aim) = change.ec.zip(change.ph) {
        fill = words.solution_setpoints(&fill, aim);
    }
    let in_tubes = Volume::litres(water.in_tubes);
    let tubes = (change.tubes && water.in_tubes >= MIN_LITRES_REPORTED)
        .then(|| words.solution_in_tubes(name, in_tubes, units));
    let tubes_too = (change.tubes && !filling.is_first()).then(|| words.solution_tubes_too(name));
    let mixes = change
        .ec_filled
        .filter(|&ec| filling.left() >= MIN_LITRES_REPORTED && differs_in_writing(change.ec, ec))
        .map(|ec| words.solution_mixes(name, Volume::litres(filling.left()), ec, units));
    let stock = change
        .stock_ml
        .map(|ml| words.solution_stock(name, ml, filled, units));
    let why = match change.because {
        ChangeReason::Volume => Some(words.solution_by_volume(name)),
        ChangeReason::FirstPlanting | ChangeReason::Days => None,
    };
    [Some(fill), tubes_too, tubes, mixes, stock, why]
        .into_iter()
        .flatten()
        .collect()
}

/// Whether an EC is told as another than what is aimed at.
fn differs_in_writing(aim: Option<f64>, ec: f64) -> bool {
    aim.is_some_and(|aim| format!("{aim:.1}") != format!("{ec:.1}"))
}

/// Whether a loop's solution is changed on a day.
pub(super) fn is_changed(view: &PlanView, r#loop: usize, day: NaiveDate) -> bool {
    let name = view.garden.loops.get(r#loop).map(|l| l.name.as_str());
    view.plan
        .water
        .iter()
        .filter(|water| Some(water.r#loop.as_str()) == name)
        .any(|water| water.changes.iter().any(|change| change.day == day))
}
