//! From the plan to the diary: what was done as planned, and what the plan had expected of what
//! was done otherwise.

use chrono::NaiveDate;

use crate::diary::{DiaryState, Entry, Event, ExpectedHarvest};
use crate::garden::Garden;
use crate::garden::crop::HarvestHabit;
use crate::plan::sowings::planned_sowings;
use crate::plan::water::LoopWater;
use crate::plan::{Plan, Stay};
use crate::units::{Amount, Mass, Measure};

/// An entry with what the plan knows of it: which want and sowing a plant set out was meant for,
/// which harvest was expected. `state` is how things stood before it.
#[must_use]
pub fn with_plan_details(mut entry: Entry, plan: &Plan, state: &DiaryState) -> Entry {
    match &mut entry.event {
        Event::Sown { crop, cells, cups } if cups.is_none() => {
            let meant = unsown_cups(plan, state, crop, entry.on);
            *cups = Some(meant.min(*cells)).filter(|&cups| cups > 0);
        }
        Event::Transplanted {
            crop,
            hole,
            sown_on,
            want,
            given,
        } => {
            // What was not sown yet, or should be gone again, cannot be what was set out.
            let in_time =
                |s: &&Stay| s.sow.is_none_or(|sow| sow <= entry.on) && entry.on <= s.removal;
            let meant = plan
                .stays
                .iter()
                .filter(|s| s.hole == *hole && s.crop == *crop && !s.stands)
                .filter(in_time)
                .min_by_key(|s| ((s.transplant - entry.on).num_days().abs(), s.transplant));
            if let Some(stay) = meant.filter(|_| want.is_none()) {
                *want = Some(stay.want.clone());
                if !*given {
                    *sown_on = sown_on.or(stay
                        .sow
                        .filter(|&sow| state.may_come_from_sowing(crop, sow)));
                }
            }
        }
        Event::Harvested { hole, expected, .. } if expected.is_none() => {
            let plant = state.plants.get(hole.as_str());
            *expected = plant.and_then(|plant| {
                let stay = plan.stay_of(hole, &plant.crop, plant.transplanted)?;
                expected_harvest(plan, stay, entry.on)
            });
        }
        _ => {}
    }
    entry
}

/// An entry of the plan's without a sowing that there was not, where the diary has others.
pub(super) fn without_unsown(mut entry: Entry, state: &DiaryState) -> Entry {
    if let Event::Transplanted { crop, sown_on, .. } = &mut entry.event {
        *sown_on = sown_on.filter(|&sow| state.may_come_from_sowing(crop, sow));
    }
    entry
}

/// A harvest so many days from the last one that the plan has of a plant is that one, where no
/// other is nearer.
const LAST_HARVEST_DAYS: i64 = 3;

/// Takes plants to have come out with a harvest that the plan has as their last; in which holes.
/// Heads come out anyway.
pub(super) fn mark_last_harvests(
    entries: &mut [Entry],
    plan: &Plan,
    garden: &Garden,
    state: &DiaryState,
) -> Vec<String> {
    let mut taken_out = Vec::new();
    for entry in entries {
        if let Event::Harvested { hole, last, .. } = &mut entry.event
            && let Some(plant) = state.plants.get(hole.as_str())
            && let Some(stay) = plan.stay_of(hole, &plant.crop, plant.transplanted)
            && let Some(nearest) = nearest_harvest(stay, entry.on)
            && nearest.day == stay.removal
            && (entry.on - stay.removal).num_days().abs() <= LAST_HARVEST_DAYS
            && !is_harvested_whole(garden, &stay.crop)
        {
            *last = true;
            taken_out.push(hole.clone());
        }
    }
    taken_out
}

/// Cups of a crop that the plan has to be sown on a day, without those that were.
fn unsown_cups(plan: &Plan, state: &DiaryState, crop: &str, day: NaiveDate) -> u32 {
    let batches = plan.sowing_batches().into_iter();
    let of_day = batches.filter(|((sow, of, _), _)| *sow == day && *of == crop);
    let planned: usize = of_day.map(|(_, stays)| stays.len()).sum();
    let sown = state.sowings.iter();
    let sown = sown.filter(|s| s.crop == crop && s.on == day && !s.on_hand);
    let sown: u32 = sown.filter_map(|s| s.cups).sum();
    u32::try_from(planned)
        .unwrap_or(u32::MAX)
        .saturating_sub(sown)
}

/// The harvest of a stay that is nearest to a day: the expectation that it came of.
fn expected_harvest(plan: &Plan, stay: &Stay, day: NaiveDate) -> Option<ExpectedHarvest> {
    let nearest = nearest_harvest(stay, day)?;
    let by_weight = plan
        .wants
        .iter()
        .any(|w| w.want == stay.want && w.unit == Measure::Grams.symbol());
    let seen = plan.seen.iter().find(|s| s.crop == stay.crop);
    Some(ExpectedHarvest {
        on: stay.was_due.unwrap_or(nearest.day),
        amount: by_weight.then(|| Mass::grams(nearest.amount)),
        pace: seen.map_or(1.0, |s| s.pace),
        yields: seen.map_or(1.0, |s| s.yields),
    })
}

fn nearest_harvest(stay: &Stay, day: NaiveDate) -> Option<&crate::plan::PlannedHarvest> {
    let harvests = stay.harvests.iter();
    harvests.min_by_key(|h| ((h.day - day).num_days().abs(), h.day))
}

/// All that the plan has for a day, as entries of the diary, in the order of a day's work.
#[must_use]
pub fn planned_entries(plan: &Plan, garden: &Garden, day: NaiveDate) -> Vec<Entry> {
    let mut events = Vec::new();
    for stay in &plan.stays {
        let harvest = stay.harvests.iter().find(|h| h.day == day);
        let leaves = stay.removal == day;
        let hole = stay.hole.clone();
        match harvest {
            Some(harvest) => events.push(Event::Harvested {
                hole,
                amount: Some(harvest_amount(plan, stay, harvest.amount)),
                last: leaves && !is_harvested_whole(garden, &stay.crop),
                expected: expected_harvest(plan, stay, day),
            }),
            None if leaves => events.push(Event::Cleared { hole }),
            None => {}
        }
    }
    let cleaned = plan.cleans.iter().filter(|c| c.day == day);
    events.extend(cleaned.map(|c| Event::Cleaned {
        tube: c.tube.clone(),
    }));
    let refilled = |w: &&LoopWater| w.changes.iter().any(|c| c.day == day);
    let refilled = plan.water.iter().filter(refilled);
    events.extend(refilled.map(|w| Event::Refilled {
        r#loop: w.r#loop.clone(),
    }));
    let set_out = |s: &&Stay| s.transplant == day && !s.stands;
    events.extend(
        plan.stays
            .iter()
            .filter(set_out)
            .map(|stay| Event::Transplanted {
                crop: stay.crop.clone(),
                hole: stay.hole.clone(),
                sown_on: stay.sow,
                want: Some(stay.want.clone()),
                given: false,
            }),
    );
    events.extend(sowings_on(plan, &plan.with_calibrated_crops(garden), day));
    let entry = |event| Entry {
        on: day,
        event,
        as_planned: true,
    };
    events.into_iter().map(entry).collect()
}

fn harvest_amount(plan: &Plan, stay: &Stay, number: f64) -> Amount {
    let want = plan.wants.iter().find(|w| w.want == stay.want);
    let measure = match want {
        Some(want) if want.unit == Measure::Heads.symbol() => Measure::Heads,
        _ => Measure::Grams,
    };
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    Amount::new(measure, (number * 1000.0).round().max(0.0) as u64)
}

fn is_harvested_whole(garden: &Garden, crop: &str) -> bool {
    let card = garden.crop(crop);
    card.is_some_and(|c| matches!(c.harvest, HarvestHabit::Head { .. }))
}

/// What is sown on a day: cells with their spares, by crop and day of transplant.
fn sowings_on(plan: &Plan, garden: &Garden, day: NaiveDate) -> Vec<Event> {
    let sown = planned_sowings(plan, garden)
        .into_iter()
        .filter(|s| s.day == day);
    sown.map(|sown| Event::Sown {
        crop: sown.crop.to_owned(),
        cells: sown.sowing.map_or(sown.cups, |s| s.cells),
        cups: Some(sown.cups),
    })
    .collect()
}
