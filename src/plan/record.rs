//! Putting down in the diary what happened.

use std::io;
use std::path::Path;

use chrono::NaiveDate;

use crate::diary::{
    self, Diary, DiaryState, Entry, Event, ImpossibleEvent, InvalidRequest, NurserySowing,
    RecordRequest,
};
use crate::garden::Garden;
use crate::plan::Plan;
use crate::plan::diary_entries::{
    mark_last_harvests, planned_entries, with_plan_details, without_unsown,
};

/// Why nothing was put down.
#[derive(Debug, thiserror::Error)]
pub enum RecordError {
    /// It cannot have happened.
    #[error("{0}")]
    Impossible(#[from] ImpossibleEvent),
    /// It was not understood.
    #[error("{0}")]
    Invalid(#[from] InvalidRequest),
    /// The day was put down as done before.
    #[error("{0} was recorded as done already")]
    AlreadyRecorded(NaiveDate),
    /// The day is not one of the garden's.
    #[error("{0}; say another day with `--on`, or give the garden another `start` or more `weeks`")]
    DayOutsideGarden(ImpossibleEvent),
    /// The plan has nothing for the day.
    #[error("the plan has nothing to record for {0}")]
    NothingPlanned(NaiveDate),
    /// The system would not have it.
    #[error("the diary cannot be written: {0}")]
    File(#[from] io::Error),
}

/// What was put down.
#[derive(Debug, Clone, PartialEq)]
pub struct Recorded {
    /// The entries.
    pub added: Vec<Entry>,
    /// What the plan had for the day but cannot have been done, or is in the diary already.
    pub skipped: Vec<(Entry, Option<ImpossibleEvent>)>,
    /// Holes whose plants are taken to have come out with their harvest, as the plan had it so.
    pub removed_holes: Vec<String>,
    /// Of which sowing lost seedlings are taken to be, where they could be of another.
    pub attributed_loss: Option<AttributedLoss>,
}

/// Of which sowing lost seedlings are taken to be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AttributedLoss {
    /// Key of the crop.
    pub crop: String,
    /// Days of their sowing.
    pub sowing_days: Vec<NaiveDate>,
    /// Days on which others were sown that may be in the nursery as well.
    pub other_sowing_days: Vec<NaiveDate>,
}

impl AttributedLoss {
    /// By how things stood before a loss was put down.
    fn attribute(before: &DiaryState, entry: &Entry) -> Option<Self> {
        let Event::SeedlingsLost {
            crop,
            sown_on: None,
            ..
        } = &entry.event
        else {
            return None;
        };
        let mut after = before.clone();
        after.apply(entry).ok()?;
        let both = before.sowings.iter().zip(&after.sowings);
        let of_crop = both.filter(|(s, _)| s.crop == *crop && s.remaining() > 0);
        let (of, or): (Vec<_>, Vec<_>) = of_crop.partition(|(b, a)| a.lost > b.lost);
        let days = |sowings: Vec<(&NurserySowing, &NurserySowing)>| {
            let mut days: Vec<NaiveDate> = sowings.into_iter().map(|(s, _)| s.on).collect();
            days.dedup();
            days
        };
        let or = or
            .into_iter()
            .filter(|(s, _)| before.is_in_nursery(s, entry.on));
        let (of, or) = (days(of), days(or.collect()));
        (!or.is_empty()).then(|| Self {
            crop: crop.clone(),
            sowing_days: of,
            other_sowing_days: or,
        })
    }
}

/// Puts down what a grower said of a day; `plan` adds what it had expected.
///
/// # Errors
/// Why the diary is as it was.
pub fn record_request(
    path: &Path,
    garden: &Garden,
    plan: Option<&Plan>,
    on: NaiveDate,
    request: &RecordRequest,
) -> Result<Recorded, RecordError> {
    diary::check_day(garden, on).map_err(RecordError::DayOutsideGarden)?;
    let mut taken_out = Vec::new();
    let mut charged = None;
    let added = diary::file::append(path, |diary| {
        taken_out.clear();
        let (state, _) = diary::replay(garden, &diary.entries, on);
        let events = request.with_crop_keys(garden).resolve(&state)?;
        let entries = events.into_iter().map(|event| Entry {
            on,
            event,
            as_planned: false,
        });
        let mut entries: Vec<Entry> = match plan {
            Some(plan) => entries
                .map(|e| with_plan_details(e, plan, &state))
                .collect(),
            None => entries.collect(),
        };
        let leaves_it_open = matches!(
            request,
            RecordRequest::Harvested {
                last: false,
                stands: false,
                ..
            }
        );
        if let Some(plan) = plan.filter(|_| leaves_it_open) {
            taken_out = mark_last_harvests(&mut entries, plan, garden, &state);
        }
        diary::check_entries(garden, &diary.entries, &entries)?;
        charged = entries
            .iter()
            .find_map(|e| AttributedLoss::attribute(&state, e));
        Ok::<_, RecordError>(entries)
    })?;
    Ok(Recorded {
        added,
        skipped: Vec::new(),
        removed_holes: taken_out,
        attributed_loss: charged,
    })
}

/// Puts down all of a day's work as the plan had it, but for what is in the diary already or
/// cannot have been done.
///
/// # Errors
/// Why the diary is as it was.
pub fn record_done(
    path: &Path,
    garden: &Garden,
    plan: &Plan,
    day: NaiveDate,
) -> Result<Recorded, RecordError> {
    let mut left_out = Vec::new();
    let added = diary::file::append(path, |diary| {
        if diary.entries.iter().any(|e| e.on == day && e.as_planned) {
            return Err(RecordError::AlreadyRecorded(day));
        }
        left_out.clear();
        let planned = planned_entries(plan, garden, day);
        if planned.is_empty() {
            return Err(RecordError::NothingPlanned(day));
        }
        let (mut state, _) = diary::replay(garden, &diary.entries, day);
        let mut entries: Vec<Entry> = Vec::new();
        for entry in planned {
            if is_recorded(diary, &state, &entry) {
                left_out.push((entry, None));
                continue;
            }
            let entry = without_unsown(entry, &state);
            let of_garden = state.check_known_hole(&entry);
            match of_garden.and_then(|()| state.apply(&entry)) {
                Ok(()) => entries.push(entry),
                Err(why) => left_out.push((entry, Some(why))),
            }
        }
        diary::check_entries(garden, &diary.entries, &entries)?;
        Ok(entries)
    })?;
    Ok(Recorded {
        added,
        skipped: left_out,
        removed_holes: Vec::new(),
        attributed_loss: None,
    })
}

/// Whether the grower has put down the same work of the day already, in other words.
fn is_recorded(diary: &Diary, state: &DiaryState, entry: &Entry) -> bool {
    match &entry.event {
        Event::Sown { crop, .. } => diary.entries.iter().any(|e| {
            e.on == entry.on && matches!(&e.event, Event::Sown { crop: other, .. } if other == crop)
        }),
        Event::Refilled { r#loop } => state.refills.contains(&(entry.on, r#loop.clone())),
        Event::Harvested { hole, .. } => {
            let gone = state.removed.iter().filter(|g| g.hole == *hole);
            let mut plants = gone.map(|g| &g.plant).chain(state.plants.get(hole));
            plants.any(|p| p.harvests.iter().any(|t| t.on == entry.on))
        }
        Event::Transplanted { crop, hole, .. } => {
            let plant = state.plants.get(hole);
            plant.is_some_and(|p| p.crop == *crop && p.transplanted == entry.on)
        }
        Event::Cleared { hole } => {
            let mut gone = state.removed.iter();
            gone.any(|g| g.hole == *hole && g.on == entry.on)
        }
        Event::Cleaned { tube } => state.cleaned.get(tube) == Some(&entry.on),
        _ => false,
    }
}
