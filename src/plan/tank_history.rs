//! The water used so far, as computed for what stood there by the diary, and what it left in the
//! tanks.

use chrono::{Days, NaiveDate};

use crate::diary::{DiaryState, PlantRecord, RecordedTopUp};
use crate::garden::Garden;
use crate::garden::holes::bank_of;
use crate::garden::rig::Loop;
use crate::plan::water::{self, ChangeReason, LoopWater, SolutionChange};
use crate::plan::{Plan, Stay, TubeClean};
use crate::plumbing::tank::TankState;

/// A top-up or filling that was put down so many days off stands for the one that was told of
/// (common practice, no published source).
const MATCH_TOLERANCE_DAYS: i64 = 3;

/// The water that all should have used that stood in the garden since its start, up to a day: of
/// every loop from the garden's first day on. The garden's cards are those that were corrected by
/// what was learned.
#[must_use]
pub fn simulate_past_water(
    garden: &Garden,
    state: &DiaryState,
    until: NaiveDate,
) -> Vec<LoopWater> {
    let tomorrow = until + Days::new(1);
    let gone = state.removed.iter().map(|g| (&g.hole, &g.plant, g.on));
    let plants = state.plants.iter();
    let plants = plants.map(|(hole, plant)| (hole, plant, tomorrow));
    let stays: Vec<Stay> = gone
        .chain(plants)
        .map(|(hole, plant, out)| past_stay(hole, plant, out))
        .collect();
    let cleans = state.cleaned.iter().map(|(tube, &day)| TubeClean {
        tube: tube.clone(),
        day,
    });
    let cleans: Vec<TubeClean> = cleans.collect();
    let until = until.max(garden.start);
    water::simulate_loops(garden, (garden.start, until), &stays, &cleans)
}

/// How each loop's tank is found on the morning of a day.
///
/// A filling counts that is in the diary, as work of every kind does; one that a plan told of for
/// the first planting counts with the plants that stand there, which had roots in water. Top-ups
/// that the plan so far told of are taken as done besides. The level is followed from that plan's
/// first morning: what was put in comes on top, up to the full, and what was used is gone.
#[must_use]
pub(super) fn initial_tank_states(
    garden: &Garden,
    state: &DiaryState,
    former: Option<&Plan>,
    today: NaiveDate,
) -> Vec<TankState> {
    let used = simulate_past_water(garden, state, today);
    let loops = garden.loops.iter().zip(&used);
    loops
        .map(|(of_loop, used)| {
            let told = former.and_then(|plan| PlannedWater::new(plan, &of_loop.name, today));
            LoopHistory {
                of_loop,
                start: garden.start,
                used,
                state,
                planned: told,
                today,
            }
            .tank_state()
        })
        .collect()
}

/// What a plan told of a loop up to a day.
#[derive(Clone, Copy)]
struct PlannedWater<'a> {
    water: &'a LoopWater,
    start: NaiveDate,
    today: NaiveDate,
}

impl<'a> PlannedWater<'a> {
    fn new(plan: &'a Plan, of_loop: &str, today: NaiveDate) -> Option<Self> {
        let known = Some(plan).filter(|plan| plan.start <= today)?;
        let water = known.water.iter().find(|w| w.r#loop == of_loop)?;
        Some(Self {
            water,
            start: plan.start,
            today,
        })
    }

    /// Litres in the tank on the plan's first morning.
    fn first_morning_level(&self) -> Option<f64> {
        let of_today = self.water.top_ups.iter().filter(|t| t.day == self.start);
        let topped_up: f64 = of_today.map(|t| t.litres).sum();
        let evening = self.water.level.first()? + self.water.used.first()?;
        Some(self.water.found.unwrap_or(evening - topped_up))
    }

    /// Fillings that it told of for days before today.
    fn fillings(&self) -> impl Iterator<Item = &'a SolutionChange> {
        let (changes, today) = (self.water.changes.iter(), self.today);
        changes.filter(move |c| c.day < today)
    }

    /// Litres of a top-up that it told of for a day before today.
    fn planned_top_up(&self, day: NaiveDate) -> Option<f64> {
        let of_day = self.water.top_ups.iter().filter(|t| t.day == day);
        let litres: f64 = of_day.map(|t| t.litres).sum();
        Some(litres).filter(|&litres| day < self.today && litres > 0.0)
    }

    /// EC at the end of a day [mS/cm].
    fn ec(&self, day: NaiveDate) -> Option<f64> {
        *self.water.ec.get(self.day_index(day)?)?
    }

    fn day_index(&self, day: NaiveDate) -> Option<usize> {
        usize::try_from((day - self.start).num_days()).ok()
    }
}

/// One loop's past.
struct LoopHistory<'a> {
    of_loop: &'a Loop,
    /// The garden's first day.
    start: NaiveDate,
    /// What was used from then on.
    used: &'a LoopWater,
    state: &'a DiaryState,
    planned: Option<PlannedWater<'a>>,
    today: NaiveDate,
}

impl LoopHistory<'_> {
    fn tank_state(&self) -> TankState {
        let filled = self.last_filled();
        let morning = self.morning_level();
        let level = morning.map(|morning| self.level_after_work(morning, self.today));
        let holds = self.of_loop.tank.capacity.get();
        let missing = level.map_or(0.0, |level| holds - level);
        // What was used since the filling and is not missing was topped up.
        let used = filled.and_then(|day| self.used_since(day));
        let added = used.map(|used| (used - missing).max(0.0));
        TankState {
            morning_level: morning.map(water::millilitres),
            level: level.map(water::millilitres),
            days_since_filling: filled
                .and_then(|day| usize::try_from((self.today - day).num_days()).ok()),
            topped_up: water::millilitres(added.unwrap_or(0.0)),
            ec: self.morning_ec(filled),
        }
    }

    /// Days on which the diary has it filled with fresh solution.
    fn refills(&self) -> impl Iterator<Item = NaiveDate> {
        let refills = self.state.refills.iter();
        let of_loop = refills.filter(|(_, of_loop)| *of_loop == self.of_loop.name);
        of_loop.map(|&(on, _)| on)
    }

    /// The last day on which it was filled with fresh solution.
    fn last_filled(&self) -> Option<NaiveDate> {
        let told = self.planned.iter();
        let first = told.clone().flat_map(PlannedWater::fillings).map(|c| c.day);
        let first = first.filter(|&day| self.was_first_filled(day));
        let before = told.filter_map(|t| t.water.filled);
        self.refills().chain(first).chain(before).max()
    }

    /// Whether it was filled with fresh solution on a day.
    fn was_filled(&self, day: NaiveDate) -> bool {
        self.refills().any(|on| on == day) || self.was_first_filled(day)
    }

    /// Whether it was filled for a first planting that was told of for a day: something was set
    /// out there since.
    fn was_first_filled(&self, day: NaiveDate) -> bool {
        let told = |t: &PlannedWater| {
            let mut fillings = t.fillings();
            fillings.any(|c| c.day == day && c.because == ChangeReason::FirstPlanting)
        };
        self.planned.as_ref().is_some_and(told)
            && self
                .transplant_days()
                .any(|on| (on - day).num_days() >= -MATCH_TOLERANCE_DAYS)
    }

    /// Litres in the tank this morning, before any work; unknown as long as nothing tells of it.
    fn morning_level(&self) -> Option<f64> {
        let (from, mut level) = self.known_level()?;
        for day in from.iter_days().take_while(|&day| day < self.today) {
            let used = self.used.used_between(self.start, [day, day.succ_opt()?])?;
            level = (self.level_after_work(level, day) - used).max(0.0);
        }
        Some(level)
    }

    /// A morning before today, and the litres in the tank then: the former plan's first, else that
    /// of the last filling, else of the first planting since which it was topped up.
    fn known_level(&self) -> Option<(NaiveDate, f64)> {
        if let Some(told) = self.planned {
            return Some((told.start, told.first_morning_level()?));
        }
        let holds = self.of_loop.tank.capacity.get();
        let first_planted = || Some(self.transplant_days().min()?.max(self.start));
        let first = || self.top_ups().next().and_then(|_| first_planted());
        let full = self.refills().max().or_else(first)?;
        Some((full, holds))
    }

    /// Days on which something was set out there.
    fn transplant_days(&self) -> impl Iterator<Item = NaiveDate> {
        let here = |hole: &str| {
            let mut banks = self.of_loop.banks.iter();
            banks.any(|b| bank_of(hole) == Some(&b.name))
        };
        let gone = self.state.removed.iter().map(|g| (&g.hole, &g.plant));
        let plants = gone.chain(&self.state.plants);
        let plants = plants.filter(move |(hole, _)| here(hole));
        plants.map(|(_, plant)| plant.transplanted)
    }

    fn top_ups(&self) -> impl Iterator<Item = &RecordedTopUp> {
        let all = self.state.top_ups.iter();
        all.filter(|t| t.r#loop == self.of_loop.name)
    }

    /// Litres in the tank after a day's work on it, from those before.
    fn level_after_work(&self, level: f64, day: NaiveDate) -> f64 {
        let holds = self.of_loop.tank.capacity.get();
        let put_in = self.top_ups().filter(|t| t.on == day);
        let (litres, full) = put_in.fold((0.0, false), |(litres, full), t| {
            (litres + t.litres, full || t.full)
        });
        if self.was_filled(day) || full {
            return holds;
        }
        let told = self.planned.filter(|_| self.is_assumed_done(day));
        let filled_up = |t: &PlannedWater| t.water.is_full_after(t.start, day, holds);
        match told.and_then(|t| Some((t.planned_top_up(day)?, filled_up(&t)?))) {
            Some((_, true)) => holds,
            Some((told, false)) => (level + told).min(holds),
            None => (level + litres).min(holds),
        }
    }

    /// Whether a top-up that was told of for a day stands for done, as told. Somebody
    /// who puts down another one shortly before or after it would have put down this one, too;
    /// `record done` leaves top-ups to be put down with their litres.
    fn is_assumed_done(&self, day: NaiveDate) -> bool {
        let within = |days: i64| {
            let days_off = |t: &RecordedTopUp| (t.on - day).num_days().abs();
            self.top_ups().any(|t| days_off(t) <= days)
        };
        !within(0) && (self.state.days_done.contains(&day) || !within(MATCH_TOLERANCE_DAYS))
    }

    /// Litres used from a morning to this one.
    fn used_since(&self, day: NaiveDate) -> Option<f64> {
        self.used.used_between(self.start, [day, self.today])
    }

    /// The first day on which the tank was filled though the plan so far had not told of it, or was
    /// not though it had: from then on the EC is not what that plan expected.
    fn first_deviation(&self) -> Option<NaiveDate> {
        let told = self.planned?;
        let fillings = told.fillings().map(|c| c.day);
        let missed = fillings.filter(|&day| !self.was_filled(day));
        let is_told = |on: NaiveDate| told.fillings().any(|c| c.day == on);
        let since = self
            .refills()
            .filter(|&on| on >= told.start && on < self.today);
        missed.chain(since.filter(|&on| !is_told(on))).min()
    }

    /// EC this morning [mS/cm]: as it was last measured since the filling, moved since then as the
    /// plan so far had expected it to move, or else as that plan expected it, as long as tanks
    /// were filled as it told. It knows of what was measured before its first day, and of fillings
    /// that it told of.
    fn morning_ec(&self, filled: Option<NaiveDate>) -> Option<f64> {
        let eve = self
            .today
            .min(self.first_deviation().unwrap_or(self.today))
            .pred_opt();
        let expected = |day: NaiveDate| self.planned.and_then(|t| t.ec(day));
        let readings = self.state.readings.iter();
        let of_loop = readings.filter(|r| r.r#loop == self.of_loop.name && Some(r.on) >= filled);
        let of_loop = of_loop.filter(|r| !r.replaced);
        let measured = of_loop.filter_map(|r| Some((r.on, r.ec?.get())));
        let is_news = |&(on, _): &(NaiveDate, f64)| self.planned.is_none_or(|t| on >= t.start);
        match measured.max_by_key(|m| m.0).filter(is_news) {
            Some((on, ec)) => {
                let eve = eve.filter(|&eve| on <= eve);
                let moved = eve.and_then(|eve| Some(expected(eve)? - expected(on)?));
                Some((ec + moved.unwrap_or(0.0)).max(0.0))
            }
            // Filled since: with what was aimed at.
            None if filled > eve => None,
            None => eve.and_then(expected),
        }
    }
}

/// The first change of a loop's solution that a plan told of for a day before today and that the
/// diary does not have.
pub(super) fn missed_change(
    water: &LoopWater,
    state: &DiaryState,
    today: NaiveDate,
) -> Option<NaiveDate> {
    let told = water.changes.iter();
    let told = told.filter(|c| c.because != ChangeReason::FirstPlanting && c.day < today);
    let refills = state.refills.iter().filter(|(_, l)| *l == water.r#loop);
    let is_done = |day: NaiveDate| {
        let mut refills = refills.clone();
        refills.any(|&(on, _)| (on - day).num_days() >= -MATCH_TOLERANCE_DAYS)
    };
    told.map(|c| c.day).find(|&day| !is_done(day))
}

/// A plant's time in its hole; how much it gave and for whom is nothing to its water.
fn past_stay(hole: &str, plant: &PlantRecord, out: NaiveDate) -> Stay {
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
        harvested: plant.harvests.iter().map(|t| t.on).collect(),
        removal: out,
        harvests: Vec::new(),
    }
}
