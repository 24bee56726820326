//! The water used so far, as computed for what stood there by the diary, and what it left in the
//! tanks.

use chrono::{Days, NaiveDate};

use super::water::{self, LoopWater};
use super::{Plan, Stay, TubeClean};
use crate::garden::Garden;
use crate::garden::diary::{Plant, State};
use crate::garden::rig::Loop;
use crate::plumbing::tank::Found;

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

/// How each loop's tank is found on the morning of a day.
///
/// What the plan so far told of is taken as done, besides what is in the diary: of both the last
/// filling with fresh solution counts. The level is as that plan expected it, unless the diary
/// has the tank full on a later day: then what was used since is gone.
#[must_use]
pub(super) fn found(
    garden: &Garden,
    state: &State,
    former: Option<&Plan>,
    today: NaiveDate,
) -> Vec<Found> {
    let used = used(garden, state, today);
    let loops = garden.loops.iter().zip(&used);
    loops
        .map(|(of_loop, used)| {
            let told = former.and_then(|plan| Told::new(plan, &of_loop.name, today));
            Past {
                of_loop,
                start: garden.start,
                used,
                state,
                told,
                today,
            }
            .found()
        })
        .collect()
}

/// What a plan told of a loop up to a day.
#[derive(Clone, Copy)]
struct Told<'a> {
    water: &'a LoopWater,
    start: NaiveDate,
    today: NaiveDate,
}

impl<'a> Told<'a> {
    fn new(plan: &'a Plan, of_loop: &str, today: NaiveDate) -> Option<Self> {
        let water = plan.water.iter().find(|w| w.r#loop == of_loop)?;
        Some(Self {
            water,
            start: plan.start,
            today,
        })
    }

    /// The last day before today on which the tank was filled with fresh solution.
    fn filled(&self) -> Option<NaiveDate> {
        let changes = self.water.changes.iter().map(|c| c.day);
        let told = changes.filter(|&day| day < self.today).max();
        told.or(self.water.filled)
    }

    /// The last day before today on which it was full.
    fn full(&self) -> Option<NaiveDate> {
        let top_ups = self.water.top_ups.iter().map(|t| t.day);
        let topped_up = top_ups.filter(|&day| day < self.today).max();
        topped_up.max(self.filled())
    }

    /// EC at the end of a day [mS/cm].
    fn ec(&self, day: NaiveDate) -> Option<f64> {
        *self.water.ec.get(self.at(day)?)?
    }

    /// Litres in the tank at the end of a day.
    fn level(&self, day: NaiveDate) -> Option<f64> {
        self.water.level.get(self.at(day)?).copied()
    }

    fn at(&self, day: NaiveDate) -> Option<usize> {
        usize::try_from((day - self.start).num_days()).ok()
    }
}

/// One loop's past.
struct Past<'a> {
    of_loop: &'a Loop,
    /// The garden's first day.
    start: NaiveDate,
    /// What was used from then on.
    used: &'a LoopWater,
    state: &'a State,
    told: Option<Told<'a>>,
    today: NaiveDate,
}

impl Past<'_> {
    fn found(&self) -> Found {
        let name = &self.of_loop.name;
        let top_ups = self.state.top_ups.iter().filter(|t| t.r#loop == *name);
        let topped_up = top_ups.map(|t| t.on).max();
        let refills = self.state.refills.iter().filter(|(_, l)| l == name);
        let refilled = refills.map(|&(on, _)| on).max();
        let told_filled = self.told.and_then(|t| t.filled());
        let filled = refilled.max(told_filled);
        let level = self.level(refilled.max(topped_up));
        let holds = self.of_loop.tank.holds.get();
        let missing = level.map_or(0.0, |level| holds - level);
        // What was used since the filling and is not missing was topped up.
        let used = filled.and_then(|day| self.used_since(day));
        let added = used.map(|used| (used - missing).max(0.0));
        Found {
            level: level.map(water::millilitres),
            filled_ago: filled.and_then(|day| usize::try_from((self.today - day).num_days()).ok()),
            added: water::millilitres(added.unwrap_or(0.0)),
            ec: self.ec(filled, told_filled),
        }
    }

    /// Litres in the tank this morning; `noted` is when the diary last has it full.
    fn level(&self, noted: Option<NaiveDate>) -> Option<f64> {
        let eve = self.today.pred_opt()?;
        let told = self.told.and_then(|t| t.level(eve));
        let is_news = noted > self.told.and_then(|t| t.full());
        match noted.filter(|_| is_news || told.is_none()) {
            Some(day) => Some((self.of_loop.tank.holds.get() - self.used_since(day)?).max(0.0)),
            None => told,
        }
    }

    /// Litres used from a morning to this one.
    fn used_since(&self, day: NaiveDate) -> Option<f64> {
        self.used.used_between(self.start, [day, self.today])
    }

    /// EC this morning [mS/cm]: as it was last measured since the filling, moved since then as the
    /// plan so far had expected it to move, or else as that plan expected it. It knows of what
    /// was measured before its first day, and of fillings that it told of.
    fn ec(&self, filled: Option<NaiveDate>, told_filled: Option<NaiveDate>) -> Option<f64> {
        let eve = self.today.pred_opt();
        let expected = |day: NaiveDate| self.told.and_then(|t| t.ec(day));
        let readings = self.state.readings.iter();
        let of_loop = readings.filter(|r| r.r#loop == self.of_loop.name && Some(r.on) >= filled);
        let measured = of_loop.filter_map(|r| Some((r.on, r.ec?.get())));
        let is_news = |&(on, _): &(NaiveDate, f64)| self.told.is_none_or(|t| on >= t.start);
        match measured.max_by_key(|m| m.0).filter(is_news) {
            Some((on, ec)) => {
                let moved = eve.and_then(|eve| Some(expected(eve)? - expected(on)?));
                let moved = moved.filter(|_| on < self.today);
                Some((ec + moved.unwrap_or(0.0)).max(0.0))
            }
            None if filled == told_filled => eve.and_then(expected),
            None => None,
        }
    }
}

/// A plant's time in its hole; what it gave and for whom is nothing to its water.
fn stood(hole: &str, plant: &Plant, out: NaiveDate) -> Stay {
    Stay {
        hole: hole.to_owned(),
        crop: plant.crop.clone(),
        want: plant.want.clone().unwrap_or_default(),
        sow: plant.sown,
        on_hand: false,
        stands: false,
        for_seed: false,
        was_due: None,
        transplant: plant.transplanted,
        removal: out,
        harvests: Vec::new(),
    }
}
