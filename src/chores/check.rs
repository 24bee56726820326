//! A look at the rig on every workday: level, EC, pH, pump and roots.

use chrono::NaiveDate;

use crate::chores::loop_occupants;
use crate::chores::plan_view::PlanView;
use crate::chores::{Chore, Kind};
use crate::garden::Absence;
use crate::garden::crop::SolutionRange;
use crate::plumbing::{solution, tube};
use crate::units::Volume;

pub(super) fn chores(view: &PlanView) -> Vec<Chore> {
    let planted = view.stays.iter().map(|p| p.stay.transplant).min();
    // The hints come with the first look at a rig in use.
    let first = view
        .workdays
        .iter()
        .find(|day| planted.is_some_and(|p| p <= **day));
    let looks = view.workdays.iter();
    looks
        .filter_map(|day| check_on(view, *day, Some(day) == first))
        .collect()
}

/// The look at the rig on a day; none while nothing grows.
fn check_on(view: &PlanView, day: NaiveDate, first: bool) -> Option<Chore> {
    let in_use: Vec<(usize, Option<SolutionRange>)> = (0..view.garden.loops.len())
        .map(|l| (l, loop_occupants::loop_occupants(view, l, day)))
        .filter(|(_, stands)| stands.anything)
        .map(|(l, stands)| (l, stands.band))
        .collect();
    let seedlings = has_seedlings(view, day);
    if in_use.is_empty() && !seedlings {
        return None;
    }
    let mut lines: Vec<String> = in_use
        .iter()
        .flat_map(|(l, band)| loop_lines(view, *l, band))
        .collect();
    if seedlings {
        lines.push(view.words.check_nursery());
    }
    if !in_use.is_empty() {
        lines.push(view.words.check_rig());
    }
    let leaving = absence_ahead(view, day);
    let mut hints: Vec<String> = leaving
        .map(|away| {
            view.words
                .check_absence_ahead(away.from, away.until, in_use.is_empty(), day)
        })
        .into_iter()
        .collect();
    hints.extend(leaving.and_then(|away| shortfalls_while_away(view, away)));
    if leaving.is_some() && seedlings && !in_use.is_empty() {
        hints.push(view.words.check_seedlings_left());
    }
    if first {
        hints.extend(view.words.check_hints());
    }
    let bands: Vec<Option<SolutionRange>> = in_use.iter().map(|(_, band)| *band).collect();
    let summary = view
        .words
        .check_title(&bands, in_use.is_empty(), leaving.is_some());
    let about = in_use
        .iter()
        .map(|(l, _)| view.garden.loops[*l].name.as_str());
    Some(view.chore(Kind::Check, day, about, summary, lines, hints))
}

/// EC told to be brought back by this [mS/cm].
const EC_STEP: f64 = 0.1;

fn loop_lines(view: &PlanView, r#loop: usize, band: &Option<SolutionRange>) -> Vec<String> {
    let of_loop = &view.garden.loops[r#loop];
    let least = Volume::litres(of_loop.tank.capacity.get() * of_loop.tank.reserve_share.get());
    let units = view.garden.units;
    let level = view
        .words
        .check_loop(&of_loop.name, band.as_ref(), least, units);
    let ec = band.map(|band| {
        let (aim, _) = solution::setpoint(&band);
        let tubes: f64 = of_loop.banks.iter().map(tube::standing_volume).sum();
        let litres = of_loop.tank.capacity.get() + tubes;
        let nutrients = &of_loop.nutrients;
        let source = nutrients.source_ec.get();
        let water = solution::water_to_dilute(litres, aim + EC_STEP, aim, source);
        let stock = nutrients.stock_ec.map(|stock| {
            solution::stock_to_raise(litres, aim - EC_STEP, aim, stock.get()) * 1000.0
        });
        let water = water.map(Volume::litres);
        view.words.check_ec(&of_loop.name, water, stock, units)
    });
    std::iter::once(level).chain(ec).collect()
}

/// Whether anything is in the nursery when the day's work is done.
fn has_seedlings(view: &PlanView, day: NaiveDate) -> bool {
    let in_nursery = |p: &crate::chores::plan_view::StayView| {
        (p.stay.on_hand || p.stay.sow.is_some_and(|sow| sow <= day)) && day < p.stay.transplant
    };
    view.stays.iter().any(in_nursery)
}

/// The absence that begins before the next workday comes.
fn absence_ahead<'a>(view: &PlanView<'a>, day: NaiveDate) -> Option<&'a Absence> {
    let next = next_workday(view, day);
    view.garden
        .rhythm
        .absences
        .iter()
        .find(|absence| absence.from > day && next.is_none_or(|next| absence.from < next))
}

/// The next workday, be it shown or not.
fn next_workday(view: &PlanView, day: NaiveDate) -> Option<NaiveDate> {
    let mut days = day.iter_days().skip(1);
    days.find(|day| view.garden.rhythm.is_workday(*day))
}

/// What the tanks lack while nobody is there, and on the way to the next workday.
fn shortfalls_while_away(view: &PlanView, away: &Absence) -> Option<String> {
    let next = next_workday(view, away.until);
    let units = view.garden.units;
    let falls = view.plan.water.iter().filter_map(|water| {
        let low = water
            .low
            .iter()
            .find(|low| low.until >= away.from && next.is_none_or(|next| low.from < next))?;
        Some(view.words.check_low_level(
            &water.r#loop,
            low.from.max(away.from),
            Volume::litres(low.lowest),
            Volume::litres(low.lacking),
            units,
        ))
    });
    let falls: Vec<String> = falls.collect();
    (!falls.is_empty()).then(|| view.words.check_absence_shortfalls(&falls))
}
