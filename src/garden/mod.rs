//! What the grower states: the garden file, the rig's geometry and the crop cards.
//!
//! A [`Garden`] comes only out of [`file::read`], which has checked every value; what plans from
//! it need not check again.

pub(crate) mod bounds;
pub mod cards;
pub mod crop;
pub mod file;
pub mod holes;
pub mod place;
pub mod rig;
pub mod want;
mod weather;

use chrono::{NaiveDate, NaiveTime, TimeDelta, Weekday};

pub use crate::reader::diagnostic::{Diagnostic, Position, ReadError};
use crate::text::Language;
use crate::units::{Days, Hours, ParseError, Share, Units};
use crop::Crop;
use place::{Cover, Place};
use rig::Loop;
use want::Want;

/// All that the grower stated, checked.
#[derive(Debug, Clone)]
pub struct Garden {
    /// The garden's own name.
    pub name: String,
    /// First day of the plan.
    pub start: NaiveDate,
    /// How many weeks are planned and shown.
    pub weeks: u32,
    /// Units in which to write to the grower.
    pub units: Units,
    /// The language in which to write to the grower.
    pub language: Language,
    /// Where the rig stands and what air and light it gets.
    pub place: Place,
    /// Tanks with the tubes that their pumps feed; at least one.
    pub loops: Vec<Loop>,
    /// The seedling tray.
    pub nursery: Nursery,
    /// What is wanted each week; at least one.
    pub wants: Vec<Want>,
    /// Seedlings that stand in the nursery on the first day.
    pub seedlings: Vec<SeedlingBatch>,
    /// Seeds in the house on the first day.
    pub seeds: Vec<SeedStock>,
    /// Plants left to flower for their seed, out of the harvest.
    pub keep_for_seed: Vec<SeedPlant>,
    /// When the grower tends the rig.
    pub rhythm: WorkSchedule,
    /// Distances and intervals between plants.
    pub spacing: Spacing,
    /// Cards of all crops that wants, seedlings, seed plants or the diary name, in order of their
    /// keys.
    pub crops: Vec<Crop>,
    /// Cards of the other crops that are known, in order of their keys.
    pub other_crops: Vec<Crop>,
}

impl Garden {
    /// The last day planned and shown.
    #[must_use]
    pub fn last_day(&self) -> NaiveDate {
        self.start + chrono::Days::new(u64::from(self.weeks) * 7) - chrono::Days::new(1)
    }

    /// The garden with the cards of more crops.
    #[must_use]
    pub fn with_crops(mut self, is_named: impl Fn(&str) -> bool) -> Self {
        let others = std::mem::take(&mut self.other_crops).into_iter();
        let (more, others) = others.partition(|c| is_named(&c.key));
        self.other_crops = others;
        self.crops.extend::<Vec<Crop>>(more);
        self.crops.sort_by(|a, b| a.key.cmp(&b.key));
        self
    }

    /// The card of a crop that this garden names.
    #[must_use]
    pub fn crop(&self, key: &str) -> Option<&Crop> {
        self.crops.iter().find(|c| c.key == key)
    }

    /// Cards of all crops that are known, those first that this garden names.
    pub fn all_crops(&self) -> impl Iterator<Item = &Crop> {
        self.crops.iter().chain(&self.other_crops)
    }

    /// The crop with this key, or called so in the garden's language.
    #[must_use]
    pub fn crop_by_name(&self, name: &str) -> Option<&Crop> {
        let called = crate::reader::suggestion::fold_accents(name);
        let by_name = || {
            self.all_crops()
                .find(|c| crate::reader::suggestion::fold_accents(&c.name) == called)
        };
        self.all_crops().find(|c| c.key == name).or_else(by_name)
    }
}

/// The seedling tray and the air it stands in.
#[derive(Debug, Clone)]
pub struct Nursery {
    /// Cells: one seedling (or one cup's cluster) each.
    pub cells: u32,
    /// What shelters the tray; by default a lit shelf indoors.
    pub cover: Cover,
}

/// Seedlings on hand at the start.
#[derive(Debug, Clone)]
pub struct SeedlingBatch {
    /// Key of the crop's card.
    pub crop: String,
    /// How many cells of them.
    pub count: u32,
    /// The day they were sown, not after the start.
    pub sown: NaiveDate,
}

/// Seeds in the house at the start.
#[derive(Debug, Clone)]
pub struct SeedStock {
    /// Key of the crop's card.
    pub crop: String,
    /// How many.
    pub count: u32,
    /// The last day on which they are good; as the crop's card says if absent.
    pub best_before: Option<NaiveDate>,
}

/// A plant left to flower in a named hole until its seed is ripe.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SeedPlant {
    /// The hole's name.
    pub hole: String,
    /// Key of the crop's card.
    pub crop: String,
    /// From this day on the hole is its own; it is set out on the first workday that can be.
    pub from: NaiveDate,
    /// It is taken out on the first workday from this one.
    pub until: NaiveDate,
}

/// When the grower tends the rig.
#[derive(Debug, Clone)]
pub struct WorkSchedule {
    /// Days of the week on which the rig is tended; at least one, in the week's order.
    pub workdays: Vec<Weekday>,
    /// Absences, each from its first to its last day, apart from one another and in order.
    pub absences: Vec<Absence>,
    /// The time of day at which chores are put in the calendar; all-day if absent.
    pub remind_at: Option<NaiveTime>,
    /// How long before a chore's time (before midnight, where it has none) the calendar rings; not
    /// at all if absent.
    pub alarm: Option<Hours>,
    /// How tubes take turns to be emptied and scrubbed; `None` where the grower wants none.
    pub deep_clean: Option<DeepClean>,
    /// Days between full changes of the nutrient solution.
    pub solution_change_interval: Days,
}

impl WorkSchedule {
    /// How long before a chore's time the calendar rings, to the minute.
    #[must_use]
    pub fn alarm_lead(&self) -> Option<TimeDelta> {
        self.alarm.map(to_minutes)
    }

    /// Whether the grower tends the rig on this day.
    #[must_use]
    pub fn is_workday(&self, day: NaiveDate) -> bool {
        use chrono::Datelike;
        self.workdays.contains(&day.weekday()) && self.absences_between(day, day).next().is_none()
    }

    /// The times when nobody is there that touch the days from `first` to `last`.
    pub fn absences_between(
        &self,
        first: NaiveDate,
        last: NaiveDate,
    ) -> impl Iterator<Item = &Absence> {
        let touches = move |a: &&Absence| a.from <= last && first <= a.until;
        self.absences.iter().filter(touches)
    }
}

/// Reads how long before a chore the calendar rings, such as `14 h` or `30 min`.
///
/// # Errors
/// What is wrong with it, in a sentence.
pub fn parse_alarm(text: &str) -> Result<TimeDelta, String> {
    let hours: Hours = text
        .parse()
        .map_err(|wrong: ParseError| wrong.to_string())?;
    let crate::reader::bounds::Bounds {
        what: of,
        min: least,
        max: most,
    } = bounds::ALARM;
    if least <= hours && hours <= most {
        Ok(to_minutes(hours))
    } else {
        Err(format!("{of} is between {least} and {most}"))
    }
}

fn to_minutes(hours: Hours) -> TimeDelta {
    #[allow(clippy::cast_possible_truncation)]
    TimeDelta::minutes((hours.get() * 60.0).round() as i64)
}

/// A time when nobody is there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Absence {
    /// First day away.
    pub from: NaiveDate,
    /// Last day away.
    pub until: NaiveDate,
}

/// Every tube is emptied and scrubbed about once in `every`, at most `slack` sooner or later.
#[derive(Debug, Clone, Copy)]
pub struct DeepClean {
    /// The usual time between two cleanings of a tube.
    pub interval: Days,
    /// How far from that the planner may move the day.
    pub slack: Days,
}

/// Distances and intervals between plants.
#[derive(Debug, Clone, Copy)]
pub struct Spacing {
    /// Removal days of two plants side by side in a tube lie at least this far apart.
    pub neighbours_apart: Days,
    /// By how much neighbouring canopies may overlap, as a share of their distance.
    pub crowding: Share,
    /// Days a hole stays empty between two plants.
    pub changeover: Days,
}
