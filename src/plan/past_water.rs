//! The water used so far, as computed for what stood there by the diary, and what it left in the
//! tanks.

use chrono::{Days, NaiveDate};

use super::water::{self, LoopWater};
use super::{Plan, Stay, TubeClean};
use crate::garden::Garden;
use crate::garden::diary::{Plant, State};

/// The water that all should have used that stood in the garden since its start, up to a day and
/// beyond: of every loop from the garden's first day on. The garden's cards are those that were
/// corrected by what was learned.
#[must_use]
pub fn used(garden: &Garden, state: &State, until: NaiveDate) -> Vec<LoopWater> {
    let tomorrow = until + Days::new(1);
    let gone = state.gone.iter().map(|g| (&g.hole, &g.plant, g.on));
    let plants = state.plants.iter();
    let plants = plants.map(|(hole, plant)| (hole, plant, tomorrow));
    let stays: Vec<Stay> = gone
        .chain(plants)
        .map(|(hole, plant, out)| stood(hole, plant, out))
        .collect();
    let cleans = state.cleaned.iter().map(|(tube, &day)| TubeClean {
        tube: tube.clone(),
        day,
    });
    let cleans: Vec<TubeClean> = cleans.collect();
    // How a plant has grown is known only if it can be followed until it is ripe.
    let ripe = until.max(garden.start) + Days::new(366);
    water::water(garden, (garden.start, ripe), &stays, &cleans)
}

/// Litres in each loop's tank on the morning of a day: what was used since it was last filled to
/// the mark is gone. That was the last top-up of the diary; or, if that is later, a filling that
/// the plan so far told of, which is taken as done. Nothing is said of loops whose top-ups are not
/// in the diary.
#[must_use]
pub(super) fn levels(
    garden: &Garden,
    state: &State,
    former: Option<&Plan>,
    today: NaiveDate,
) -> Vec<Option<f64>> {
    if state.top_ups.is_empty() {
        return vec![None; garden.loops.len()];
    }
    let used = used(garden, state, today);
    let loops = garden.loops.iter().zip(&used);
    loops
        .map(|(of_loop, used)| {
            let top_ups = state.top_ups.iter();
            let noted = top_ups.filter(|t| t.r#loop == of_loop.name);
            let noted = noted.map(|t| t.on).max()?;
            let filled = told_fillings(former, &of_loop.name);
            let filled = filled.filter(|day| *day < today).max();
            let since = filled.map_or(noted, |day| day.max(noted));
            let at = |day: NaiveDate| usize::try_from((day - garden.start).num_days()).ok();
            let gone: f64 = used.used.get(at(since)?..at(today)?)?.iter().sum();
            Some((of_loop.tank.holds.get() - gone).max(0.0))
        })
        .collect()
}

/// Days on which a plan has a loop's tank full.
fn told_fillings<'a>(
    plan: Option<&'a Plan>,
    of_loop: &'a str,
) -> impl Iterator<Item = NaiveDate> + 'a {
    let loops = plan.into_iter().flat_map(|p| &p.water);
    loops.filter(move |l| l.r#loop == of_loop).flat_map(|l| {
        let top_ups = l.top_ups.iter().map(|t| t.day);
        top_ups.chain(l.changes.iter().map(|c| c.day))
    })
}

/// A plant's time in its hole; what it gave and for whom is nothing to its water.
fn stood(hole: &str, plant: &Plant, out: NaiveDate) -> Stay {
    Stay {
        hole: hole.to_owned(),
        crop: plant.crop.clone(),
        want: plant.want.clone().unwrap_or_default(),
        sow: plant.sown,
        on_hand: false,
        stands: true,
        for_seed: false,
        was_due: None,
        transplant: plant.transplanted,
        removal: out,
        harvests: Vec::new(),
    }
}
