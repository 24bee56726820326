//! A second look at finished plans: every rule of `design` reckoned anew from the dated plan, the
//! garden file and the cards alone.
//!
//! The program's own checker holds a solution against the problem that was built from garden and
//! cards; what is wrong in that building it cannot see. Nothing here is taken from `planner` or from
//! what makes plans: geometry, calendar, rules and sums are laid out once more, in the plainest way.
//! Only what sun, air and leaves do comes from `nature`, which is held against publications
//! elsewhere.

mod calendar;
mod data;
mod days;
mod harvests;
mod ical;
mod life;
mod map;
mod paper;
mod places;
mod rig;
mod so_far;
mod tank;
mod told;
mod weeks;
mod words;

use std::collections::BTreeMap;

use chrono::{Days, NaiveDate};
use steadyleaf::chores::{Chore, chores};
use steadyleaf::diary::DiaryState;
use steadyleaf::garden::Garden;
use steadyleaf::garden::crop::{Crop, HarvestHabit};
use steadyleaf::plan::{Plan, Stay};
use steadyleaf::units;

pub use calendar::{Asked, faults_in_calendar, faults_in_part};
pub use data::faults_in_data;
use life::{Air, Growing};
pub use map::faults_on_map;
pub use paper::{faults_on_page, faults_on_sheet};
use rig::Hole;
pub use so_far::faults_in_log;
use told::Told;
pub use weeks::cost_of_week;

/// Every rule that a plan breaks, in words; none if it is good. `state` is what the diary says of
/// the day from which it was planned, where there is a diary.
pub fn faults(plan: &Plan, garden: &Garden, state: Option<&DiaryState>) -> Vec<String> {
    looked_at((plan, garden, state), |look, faults| {
        look.days(faults);
        look.places(faults);
        look.harvests(faults);
        look.weeks(faults);
        look.water(faults);
        let told: Vec<Told> = chores(plan, look.garden).iter().map(Told::from).collect();
        look.told(&told, (plan.start, plan.last), faults);
    })
}

/// What is found amiss by a look at a plan, with the cards as they have proved; what it names that
/// the garden has not, if it cannot be looked at.
fn looked_at(
    (plan, garden, state): (&Plan, &Garden, Option<&DiaryState>),
    find: impl FnOnce(&Look<'_>, &mut Vec<String>),
) -> Vec<String> {
    let garden = as_proved(garden, plan);
    let mut faults = Vec::new();
    match Look::new(plan, &garden, state) {
        Ok(look) => find(&look, &mut faults),
        Err(unknown) => faults = unknown,
    }
    faults
}

/// What is told amiss of a plan that is made around nothing.
pub fn faults_told(plan: &Plan, garden: &Garden, chores: &[Chore]) -> Vec<String> {
    let mut faults = Vec::new();
    match Look::new(plan, garden, None) {
        Ok(look) => {
            let told: Vec<Told> = chores.iter().map(Told::from).collect();
            look.told(&told, (plan.start, plan.last), &mut faults);
        }
        Err(unknown) => faults = unknown,
    }
    faults
}

/// The cards as the plan says that they have proved.
fn as_proved(garden: &Garden, plan: &Plan) -> Garden {
    let mut garden = garden.clone();
    for seen in &plan.seen {
        let Some(card) = garden.crops.iter_mut().find(|c| c.key == seen.crop) else {
            continue;
        };
        let days = |d: units::Days| units::Days::days(d.get() * seen.pace);
        let mass = |m: units::Mass| units::Mass::grams(m.get() * seen.yields);
        card.hole.days = days(card.hole.days);
        match &mut card.harvest {
            HarvestHabit::Head { each, .. } => *each = mass(*each),
            HarvestHabit::Pick { each_week, .. } => *each_week = mass(*each_week),
            HarvestHabit::Cut {
                first,
                later,
                regrowth_days: between,
                ..
            } => {
                *first = mass(*first);
                *later = mass(*later);
                *between = days(*between);
            }
        }
    }
    garden
}

/// A plan laid beside its garden.
struct Look<'a> {
    plan: &'a Plan,
    garden: &'a Garden,
    state: Option<&'a DiaryState>,
    holes: Vec<Hole>,
    /// The plan's stays, each with where and what it is.
    plants: Vec<Plant<'a>>,
    growing: BTreeMap<(String, u64), Growing<'a>>,
    nursery: Air,
}

/// A stay and what it refers to.
#[derive(Clone, Copy)]
struct Plant<'a> {
    stay: &'a Stay,
    /// Index of its hole.
    hole: usize,
    crop: &'a Crop,
    /// Index of its want.
    want: usize,
}

impl Plant<'_> {
    /// `deck-1-2 butterhead 2027-03-03`.
    fn name(&self) -> String {
        let Stay {
            hole,
            crop,
            transplant,
            ..
        } = self.stay;
        format!("{hole} {crop} {transplant}")
    }

    /// It is there whatever the plan: it stands already, or the grower states that it is kept.
    fn is_given(&self) -> bool {
        self.stay.stands || self.stay.for_seed
    }

    fn is_taken_whole(&self) -> bool {
        matches!(self.crop.harvest, HarvestHabit::Head { .. }) && !self.stay.for_seed
    }
}

/// Whole days, rounded up.
#[allow(clippy::cast_possible_truncation)]
fn whole(days: units::Days) -> i64 {
    days.get().ceil() as i64
}

/// Days before the plan's first from which air is looked at, for seedlings.
const BEFORE: u64 = 130;
/// Days after the plan's last until which stays may go on.
const AFTER: u64 = 400;

impl<'a> Look<'a> {
    fn new(
        plan: &'a Plan,
        garden: &'a Garden,
        state: Option<&'a DiaryState>,
    ) -> Result<Self, Vec<String>> {
        let holes = rig::holes(garden);
        let mut unknown = Vec::new();
        let mut plants = Vec::new();
        for stay in &plan.stays {
            let hole = holes.iter().position(|h| h.name == stay.hole);
            let crop = garden.crops.iter().find(|c| c.key == stay.crop);
            let want = garden.wants.iter().position(|w| w.name == stay.want);
            match (hole, crop, want) {
                (Some(hole), Some(crop), Some(want)) => plants.push(Plant {
                    stay,
                    hole,
                    crop,
                    want,
                }),
                _ => unknown.push(format!(
                    "unknown: {} {} for {}",
                    stay.hole, stay.crop, stay.want
                )),
            }
        }
        if !unknown.is_empty() {
            return Err(unknown);
        }
        let first = plan.stays.iter().map(|s| s.transplant).min();
        let first = first.unwrap_or(plan.start).min(plan.start) - Days::new(BEFORE);
        let last = plan.last + Days::new(AFTER);
        let mut growing = BTreeMap::new();
        for hole in &holes {
            let air = || Air::of(garden, &garden.place.cover, hole.light, first, last);
            for crop in &garden.crops {
                let key = (crop.key.clone(), hole.light.to_bits());
                growing
                    .entry(key)
                    .or_insert_with(|| Growing::new(crop, air()));
            }
        }
        Ok(Self {
            plan,
            garden,
            state,
            holes,
            plants,
            growing,
            nursery: Air::of(garden, &garden.nursery.cover, 1.0, first, last),
        })
    }

    fn growing(&self, plant: &Plant<'_>) -> &Growing<'a> {
        self.growing_in(&plant.crop.key, self.holes[plant.hole].light)
    }

    fn growing_in(&self, crop: &str, light: f64) -> &Growing<'a> {
        &self.growing[&(crop.to_owned(), light.to_bits())]
    }

    /// Whether the grower is there to work.
    fn is_workday(&self, day: NaiveDate) -> bool {
        use chrono::Datelike;
        let rhythm = &self.garden.rhythm;
        let away = rhythm
            .absences
            .iter()
            .any(|a| a.from <= day && day <= a.until);
        rhythm.workdays.contains(&day.weekday()) && !away
    }

    /// Days on which a standing plant was harvested so far.
    fn taken_before(&self, plant: &Plant<'_>) -> Vec<NaiveDate> {
        let stands = self
            .state
            .and_then(|state| state.plants.get(&plant.stay.hole));
        let stands = stands.filter(|_| plant.stay.stands);
        stands.map_or_else(Vec::new, |p| p.harvests.iter().map(|t| t.on).collect())
    }
}
