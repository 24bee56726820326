//! Tanks filled with fresh nutrient solution: before the first planting, then in turn.

use std::collections::BTreeMap;

use chrono::{Days, NaiveDate};

use super::band;
use super::scene::Scene;
use super::{Chore, Kind};

/// A change this near to a deep clean of the same loop [days] is done with it (common practice,
/// no published source).
const JOINED_WITHIN: i64 = 3;

/// A tank filled afresh.
#[derive(Debug, Clone, Copy)]
pub(super) struct Filling {
    pub(super) day: NaiveDate,
    pub(super) r#loop: usize,
    /// Nothing stood in the loop before: there is nothing to drain.
    pub(super) first: bool,
}

pub(super) fn chores(scene: &Scene) -> Vec<Chore> {
    let mut days: BTreeMap<NaiveDate, Vec<Filling>> = BTreeMap::new();
    for filling in fillings(scene) {
        days.entry(filling.day).or_default().push(filling);
    }
    let loops = &scene.garden.loops;
    let first_day = days.keys().next().copied();
    days.into_iter()
        .map(|(day, filled)| {
            let names: Vec<&str> = filled
                .iter()
                .map(|f| loops[f.r#loop].name.as_str())
                .collect();
            let first = filled.iter().all(|f| f.first);
            let hints = scene.words.solution_hints(Some(day) == first_day);
            let lines = filled.iter().map(|f| line(scene, f)).collect();
            let summary = scene.words.solution_summary(first, &names);
            let about = names.iter().copied();
            scene.chore(Kind::Solution, day, about, summary, lines, hints)
        })
        .collect()
}

fn line(scene: &Scene, filling: &Filling) -> String {
    let of_loop = &scene.garden.loops[filling.r#loop];
    let band = band::in_loop(scene, filling.r#loop, filling.day).band;
    let holds = of_loop.tank.holds;
    scene.words.solution_line(
        &of_loop.name,
        filling.first,
        holds,
        band.as_ref(),
        scene.garden.units,
    )
}

/// Every filling of every loop, by loop, then day.
pub(super) fn fillings(scene: &Scene) -> Vec<Filling> {
    (0..scene.garden.loops.len())
        .flat_map(|l| of_loop(scene, l))
        .collect()
}

/// One loop's fillings: on the day of its first planting, then every so many days as long as
/// anything stands in it, and again with the first planting after it stood empty.
fn of_loop(scene: &Scene, r#loop: usize) -> Vec<Filling> {
    let start = scene.plan.start;
    let eve = start.pred_opt().unwrap_or(start);
    // A loop that runs already was filled before; its first change is due an interval from now.
    let mut next = if band::in_loop(scene, r#loop, eve).anything {
        filling_after(scene, r#loop, start)
    } else {
        first_planting(scene, r#loop, start)
    };
    let mut fillings = Vec::new();
    while let Some(filling) = next {
        fillings.push(filling);
        next = filling_after(scene, r#loop, filling.day);
    }
    fillings
}

/// The filling that follows the one of `last`: a change, or the next first filling where the loop
/// stands empty by then.
fn filling_after(scene: &Scene, r#loop: usize, last: NaiveDate) -> Option<Filling> {
    let day = change_after(scene, r#loop, last)?;
    if band::in_loop(scene, r#loop, day).anything {
        Some(Filling {
            day,
            r#loop,
            first: false,
        })
    } else {
        first_planting(scene, r#loop, day)
    }
}

/// The workday on which the next change is due.
fn change_after(scene: &Scene, r#loop: usize, last: NaiveDate) -> Option<NaiveDate> {
    // Whole days, at least one: a longer interval than the plan simply never comes round.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let every = scene
        .garden
        .rhythm
        .change_solution
        .get()
        .round()
        .clamp(1.0, 1e6) as u64;
    let due = last.checked_add_days(Days::new(every))?;
    if due > scene.plan.last {
        return None;
    }
    clean_near(scene, r#loop, due)
        .filter(|day| *day > last)
        .or_else(|| scene.workday_near(due, last))
}

/// A deep clean in the loop, near enough to a change that is due.
fn clean_near(scene: &Scene, r#loop: usize, due: NaiveDate) -> Option<NaiveDate> {
    let away = |day: NaiveDate| (day - due).num_days().abs();
    scene
        .plan
        .cleans
        .iter()
        .filter(|c| scene.shows(c.day) && scene.loop_of_tube(&c.tube) == Some(r#loop))
        .map(|c| c.day)
        .filter(|day| away(*day) <= JOINED_WITHIN)
        .min_by_key(|day| (away(*day), *day))
}

/// The filling for the first planting in the loop on or after a day, within the shown weeks.
fn first_planting(scene: &Scene, r#loop: usize, from: NaiveDate) -> Option<Filling> {
    scene
        .stays
        .iter()
        .filter(|p| p.r#loop == Some(r#loop))
        .map(|p| p.stay.transplant)
        .filter(|day| *day >= from && scene.shows(*day))
        .min()
        .map(|day| Filling {
            day,
            r#loop,
            first: true,
        })
}
