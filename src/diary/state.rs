//! What stands where, after all that happened.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use crate::diary::entry::{Entry, Event, ExpectedHarvest};
use crate::garden::Garden;
use crate::garden::crop::{Crop, HarvestHabit};
use crate::garden::holes;
use crate::reader::suggestion::nearest;
use crate::units::{Amount, Conductivity, Measure};

/// Where everything stands, and what has been.
#[derive(Debug, Clone, Default)]
pub struct DiaryState {
    /// What stands in holes.
    pub plants: BTreeMap<String, PlantRecord>,
    /// Holes that cannot be used.
    pub blocked: BTreeSet<String>,
    /// What went into the nursery, in order of sowing.
    pub sowings: Vec<NurserySowing>,
    /// When each tube was last scrubbed.
    pub cleaned: BTreeMap<String, NaiveDate>,
    /// Plants that are gone, in the order in which they went.
    pub removed: Vec<RemovedPlant>,
    /// Water put into tanks.
    pub top_ups: Vec<RecordedTopUp>,
    /// Tanks filled with fresh solution: the day and the loop, in their order.
    pub refills: Vec<(NaiveDate, String)>,
    /// Measurements of the solution.
    pub readings: Vec<Reading>,
    /// Days whose work was put down as done like the plan said.
    pub days_done: BTreeSet<NaiveDate>,
    /// Days of which anything was put down: somebody was there.
    pub days_attended: BTreeSet<NaiveDate>,
    /// Plants set out that are taken to be of another sowing than was said.
    pub reassigned_sowings: Vec<ReassignedSowing>,
    known: KnownNames,
}

/// A plant in a hole.
#[derive(Debug, Clone, PartialEq)]
pub struct PlantRecord {
    /// Key of its crop.
    pub crop: String,
    /// The want that it serves, if that was put down.
    pub want: Option<String>,
    /// When it was sown, if known.
    pub sown: Option<NaiveDate>,
    /// When it was set out.
    pub transplanted: NaiveDate,
    /// What was taken from it, by day.
    pub harvests: Vec<RecordedHarvest>,
}

/// A plant set out of another sowing than was said, as that has none left.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReassignedSowing {
    /// Key of its crop.
    pub crop: String,
    /// Its hole.
    pub hole: String,
    /// When it was set out.
    pub on: NaiveDate,
    /// When it was sown, as was said.
    pub recorded_sowing: NaiveDate,
    /// When the seedlings were sown that it is taken from.
    pub actual_sowing: NaiveDate,
}

/// A harvest from a plant.
#[derive(Debug, Clone, PartialEq)]
pub struct RecordedHarvest {
    /// The day.
    pub on: NaiveDate,
    /// How much, if it was counted or weighed, or taken to be as planned.
    pub amount: Option<Amount>,
    /// What the plan had expected.
    pub expected: Option<ExpectedHarvest>,
    /// The amount is the plan's.
    pub as_planned: bool,
}

/// A plant that is gone.
#[derive(Debug, Clone, PartialEq)]
pub struct RemovedPlant {
    /// The hole in which it stood.
    pub hole: String,
    /// The plant.
    pub plant: PlantRecord,
    /// When it went.
    pub on: NaiveDate,
    /// How.
    pub reason: RemovalReason,
}

/// How a plant went.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RemovalReason {
    /// With its last harvest.
    Harvested,
    /// Taken out.
    Cleared,
    /// Lost, of what the grower said.
    Lost(Option<String>),
}

/// What went into the nursery on one day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NurserySowing {
    /// Key of the crop.
    pub crop: String,
    /// The day.
    pub on: NaiveDate,
    /// Cells sown.
    pub cells: u32,
    /// For how many cups, if known: the rest are spares.
    pub cups: Option<u32>,
    /// Cells whose plants died or never came.
    pub lost: u32,
    /// Cells whose plants went into holes.
    pub transplanted: u32,
    /// It stood in the nursery when the garden began, and all of it had come up.
    pub on_hand: bool,
}

impl NurserySowing {
    /// Cells that are left.
    #[must_use]
    pub const fn remaining(&self) -> u32 {
        self.cells - self.lost - self.transplanted
    }

    /// Whether what it was sown for is still in the nursery: what is left of it afterwards are
    /// spares.
    fn has_unplanted_stock(&self) -> bool {
        let all_moved = self
            .cups
            .map_or(self.transplanted > 0, |cups| self.transplanted >= cups);
        self.remaining() > 0 && !all_moved
    }
}

/// Water put into a tank.
#[derive(Debug, Clone, PartialEq)]
pub struct RecordedTopUp {
    /// The day.
    pub on: NaiveDate,
    /// The loop.
    pub r#loop: String,
    /// How much \[l\].
    pub litres: f64,
    /// It was full then.
    pub full: bool,
}

/// A measurement of a solution.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// The day.
    pub on: NaiveDate,
    /// The loop.
    pub r#loop: String,
    /// Conductivity.
    pub ec: Option<Conductivity>,
    /// Acidity.
    pub ph: Option<f64>,
    /// The tank was filled with fresh solution after it, on the same day.
    pub replaced: bool,
}

/// Why something cannot have happened.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ImpossibleEvent {
    /// No such hole, tube, loop or crop.
    #[error("there is no {what} `{name}` in this garden{hint}")]
    Unknown {
        /// What it should be: `hole`, `tube`, `loop`, `crop`, `hole or crop`.
        what: &'static str,
        /// As written.
        name: String,
        /// `; did you mean ...?`, or nothing.
        hint: String,
    },
    /// Two plants in one hole.
    #[error(
        "{hole} already holds {crop}, set out on {since}; record first what became of it: `harvested {hole} --last`, `cleared {hole}` or `lost {hole}`"
    )]
    Occupied {
        /// The hole.
        hole: String,
        /// What it holds.
        crop: String,
        /// Since when.
        since: NaiveDate,
    },
    /// Nothing stands in the hole.
    #[error("nothing stands in {hole} on that day")]
    Empty {
        /// The hole.
        hole: String,
    },
    /// The hole is blocked.
    #[error("{hole} is blocked; if it can be used again, `record unblocked {hole}` first")]
    Blocked {
        /// The hole.
        hole: String,
    },
    /// It is not.
    #[error("{hole} is not blocked")]
    NotBlocked {
        /// The hole.
        hole: String,
    },
    /// More seedlings lost than there are.
    #[error("the nursery has {there} cells of {crop}{} on that day, not {asked}", of_day(*.sown_on))]
    NotEnoughSeedlings {
        /// The crop.
        crop: String,
        /// The day of their sowing, if that was said.
        sown_on: Option<NaiveDate>,
        /// How many there are.
        there: u32,
        /// How many were said.
        asked: u32,
    },
    /// Seedlings lost of a sowing that there was not.
    #[error("no {crop} was sown on {asked}{}", in_the_nursery(.sown))]
    NotSown {
        /// The crop.
        crop: String,
        /// The day said.
        asked: NaiveDate,
        /// The days on which was sown what can be in the nursery.
        sown: Vec<NaiveDate>,
    },
    /// More sown than the nursery holds altogether.
    #[error("{asked} cells are more than the nursery has ({there})")]
    ExceedsNursery {
        /// How many there are.
        there: u32,
        /// How many were said.
        asked: u32,
    },
    /// A tube with plants in it.
    #[error("{tube} is not empty: {hole} holds {crop}; record what became of it first")]
    NotEmpty {
        /// The tube.
        tube: String,
        /// A hole of it.
        hole: String,
        /// What stands there.
        crop: String,
    },
    /// An amount of nothing, or of heads where there are none.
    #[error("{crop} is not harvested in {asked}; {form}")]
    WrongMeasure {
        /// The crop.
        crop: String,
        /// The amount said.
        asked: String,
        /// What would do.
        form: &'static str,
    },
    /// A day that is not one of the garden's.
    #[error("{on} is not a day of this garden: its diary goes from {first} to {last}")]
    OutsideDiary {
        /// The day.
        on: NaiveDate,
        /// The first day that the diary can have.
        first: NaiveDate,
        /// The last.
        last: NaiveDate,
    },
    /// It would make something impossible that was put down for later.
    #[error("it does not go with what the diary has for {on}: {why}")]
    ContradictsLater {
        /// The later day.
        on: NaiveDate,
        /// Why that would be impossible.
        why: Box<ImpossibleEvent>,
    },
}

fn of_day(sown_on: Option<NaiveDate>) -> String {
    sown_on.map_or_else(String::new, |day| format!(" sown on {day}"))
}

fn in_the_nursery(sown: &[NaiveDate]) -> String {
    let days: Vec<String> = sown.iter().map(NaiveDate::to_string).collect();
    if days.is_empty() {
        return ", and none is in the nursery by then".to_owned();
    }
    format!(
        "; what is in the nursery by then was sown on {}",
        days.join(" and ")
    )
}

/// Names that the garden has.
#[derive(Debug, Clone, Default)]
struct KnownNames {
    holes: BTreeSet<String>,
    tubes: BTreeSet<String>,
    loops: BTreeSet<String>,
    crops: BTreeMap<String, KnownCrop>,
    cells: u32,
}

#[derive(Debug, Clone, Copy)]
struct KnownCrop {
    /// It is taken whole.
    is_head: bool,
    /// Days after which its seedlings are no longer in the nursery.
    max_seedling_age: i64,
}

/// Seedlings are no longer in the nursery after so many times their card's days, and so many days
/// more (common practice, no published source: in a cool place they take longer, and some wait).
const MAX_SEEDLING_AGE_DAYS: (f64, f64) = (1.5, 20.0);

impl KnownCrop {
    fn from_crop(crop: &Crop) -> Self {
        #[allow(clippy::cast_possible_truncation)]
        let max_seedling_age = (crop.nursery.days.get() * MAX_SEEDLING_AGE_DAYS.0
            + MAX_SEEDLING_AGE_DAYS.1)
            .ceil() as i64;
        Self {
            is_head: matches!(crop.harvest, HarvestHabit::Head { .. }),
            max_seedling_age,
        }
    }
}

impl KnownNames {
    /// Whether a sowing's seedlings can still be in the nursery on a day, by their age.
    fn is_within_nursery_age(&self, sowing: &NurserySowing, on: NaiveDate) -> bool {
        let known = self.crops.get(&sowing.crop);
        known.is_some_and(|k| (on - sowing.on).num_days() <= k.max_seedling_age)
    }

    fn from_garden(garden: &Garden) -> Self {
        let layout = holes::layout(garden);
        Self {
            holes: layout.holes.into_iter().map(|h| h.id).collect(),
            tubes: layout.tubes.into_iter().map(|t| t.name).collect(),
            loops: garden.loops.iter().map(|l| l.name.clone()).collect(),
            crops: garden
                .all_crops()
                .map(|c| (c.key.clone(), KnownCrop::from_crop(c)))
                .collect(),
            cells: garden.nursery.cells,
        }
    }

    fn check_name<'a>(
        what: &'static str,
        name: &str,
        mut names: impl Iterator<Item = &'a String> + Clone,
    ) -> Result<(), ImpossibleEvent> {
        let all = names.clone();
        if names.any(|n| n == name) {
            return Ok(());
        }
        let near = nearest(name, all.map(String::as_str));
        Err(ImpossibleEvent::Unknown {
            what,
            name: name.to_owned(),
            hint: near.map_or(String::new(), |n| format!("; did you mean `{n}`?")),
        })
    }

    fn check_hole(&self, name: &str) -> Result<(), ImpossibleEvent> {
        Self::check_name("hole", name, self.holes.iter())
    }

    fn check_crop(&self, name: &str) -> Result<(), ImpossibleEvent> {
        Self::check_name("crop", name, self.crops.keys())
    }
}

impl DiaryState {
    /// Before anything happened: empty holes, and the seedlings that the garden states.
    #[must_use]
    pub fn new(garden: &Garden) -> Self {
        let mut sowings: Vec<NurserySowing> = garden
            .seedlings
            .iter()
            .map(|s| NurserySowing {
                crop: s.crop.clone(),
                on: s.sown,
                cells: s.count,
                cups: Some(s.count),
                lost: 0,
                transplanted: 0,
                on_hand: true,
            })
            .collect();
        sowings.sort_by_key(|s| s.on);
        Self {
            sowings,
            known: KnownNames::from_garden(garden),
            ..Self::default()
        }
    }

    /// Whether what is left of a sowing can still be in the nursery on a day, by its age.
    #[must_use]
    pub fn is_in_nursery(&self, sowing: &NurserySowing, on: NaiveDate) -> bool {
        sowing.remaining() > 0 && self.known.is_within_nursery_age(sowing, on)
    }

    /// Whether a plant of a crop that is set out can have been sown on a day: seedlings of it are
    /// left, or none of any other day are.
    #[must_use]
    pub fn may_come_from_sowing(&self, crop: &str, sown: NaiveDate) -> bool {
        let mut left = self
            .sowings
            .iter()
            .filter(|s| s.crop == crop && s.remaining() > 0);
        left.clone().next().is_none() || left.any(|s| s.on == sown)
    }

    /// Whether the garden has a hole of that name, or has had one in which something still stands.
    #[must_use]
    pub fn has_hole(&self, name: &str) -> bool {
        self.known.holes.contains(name) || self.plants.contains_key(name)
    }

    /// Holes in which something stands though the garden has them not, or no more; each with the
    /// name that is nearest.
    pub fn unknown_holes(&self) -> impl Iterator<Item = (&str, Option<&str>)> {
        let holes = self.plants.keys().map(String::as_str);
        let strays = holes.filter(|hole| !self.known.holes.contains(*hole));
        let known = || self.known.holes.iter().map(String::as_str);
        strays.map(move |hole| (hole, nearest(hole, known())))
    }

    /// Whether an entry speaks of a hole that there is: what stands in one that was taken down can
    /// only go from there.
    ///
    /// # Errors
    /// Which hole there is not.
    pub fn check_known_hole(&self, entry: &Entry) -> Result<(), ImpossibleEvent> {
        match &entry.event {
            Event::Transplanted { hole, .. } | Event::Blocked { hole } => {
                self.known.check_hole(hole)
            }
            _ => Ok(()),
        }
    }

    /// Whether the garden has a crop of that name.
    #[must_use]
    pub fn has_crop(&self, name: &str) -> bool {
        self.known.crops.contains_key(name)
    }

    /// Why a name is neither a hole's nor a crop's.
    #[must_use]
    pub fn unknown_hole_or_crop(&self, name: &str) -> ImpossibleEvent {
        let names = self.known.holes.iter().chain(self.known.crops.keys());
        KnownNames::check_name("hole or crop", name, names)
            .err()
            .unwrap_or(ImpossibleEvent::Empty {
                hole: name.to_owned(),
            })
    }

    /// Takes in one more entry, not earlier than those before it.
    ///
    /// # Errors
    /// Why it cannot have happened; then nothing changes.
    pub fn apply(&mut self, entry: &Entry) -> Result<(), ImpossibleEvent> {
        self.apply_event(entry)?;
        self.days_attended.insert(entry.on);
        if entry.as_planned {
            self.days_done.insert(entry.on);
        }
        Ok(())
    }

    fn apply_event(&mut self, entry: &Entry) -> Result<(), ImpossibleEvent> {
        let on = entry.on;
        match &entry.event {
            Event::Sown { crop, cells, cups } => self.sow(on, crop, *cells, *cups),
            Event::Transplanted {
                crop,
                hole,
                sown_on,
                want,
                given,
            } => {
                self.known.check_crop(crop)?;
                self.check_hole_is_free(hole)?;
                let sown = if *given {
                    None
                } else {
                    self.take_seedling(on, crop, hole, *sown_on)
                };
                let plant = PlantRecord {
                    crop: crop.clone(),
                    want: want.clone(),
                    sown: sown.or(*sown_on),
                    transplanted: on,
                    harvests: Vec::new(),
                };
                self.plants.insert(hole.clone(), plant);
                Ok(())
            }
            Event::Lost { hole, why } => self.remove(on, hole, RemovalReason::Lost(why.clone())),
            Event::SeedlingsLost {
                crop,
                cells,
                sown_on,
                ..
            } => self.lose_seedlings(on, crop, *cells, *sown_on),
            Event::Harvested {
                hole,
                amount,
                last,
                expected,
            } => {
                let taken = RecordedHarvest {
                    on,
                    amount: *amount,
                    expected: *expected,
                    as_planned: entry.as_planned,
                };
                self.harvest(hole, taken, *last)
            }
            Event::Cleared { hole } => self.remove(on, hole, RemovalReason::Cleared),
            Event::ToppedUp {
                r#loop,
                amount,
                full,
            } => {
                KnownNames::check_name("loop", r#loop, self.known.loops.iter())?;
                self.top_ups.push(RecordedTopUp {
                    on,
                    r#loop: r#loop.clone(),
                    litres: amount.get(),
                    full: *full,
                });
                Ok(())
            }
            Event::Refilled { r#loop } => {
                KnownNames::check_name("loop", r#loop, self.known.loops.iter())?;
                let mut readings = self.readings.iter_mut().rev();
                let of_day = readings.by_ref().take_while(|r| r.on == on);
                of_day
                    .filter(|r| r.r#loop == *r#loop)
                    .for_each(|r| r.replaced = true);
                self.refills.push((on, r#loop.clone()));
                Ok(())
            }
            Event::Read { r#loop, ec, ph } => {
                KnownNames::check_name("loop", r#loop, self.known.loops.iter())?;
                self.readings.push(Reading {
                    on,
                    r#loop: r#loop.clone(),
                    ec: *ec,
                    ph: *ph,
                    replaced: false,
                });
                Ok(())
            }
            Event::Blocked { hole } => {
                self.check_hole_is_free(hole)?;
                self.blocked.insert(hole.clone());
                Ok(())
            }
            Event::Unblocked { hole } => {
                if self.blocked.remove(hole) {
                    return Ok(());
                }
                self.known.check_hole(hole)?;
                Err(ImpossibleEvent::NotBlocked { hole: hole.clone() })
            }
            Event::Cleaned { tube } => self.clean(on, tube),
        }
    }

    fn sow(
        &mut self,
        on: NaiveDate,
        crop: &str,
        cells: u32,
        cups: Option<u32>,
    ) -> Result<(), ImpossibleEvent> {
        self.known.check_crop(crop)?;
        if cells > self.known.cells {
            return Err(ImpossibleEvent::ExceedsNursery {
                there: self.known.cells,
                asked: cells,
            });
        }
        let at = self.sowings.partition_point(|s| s.on <= on);
        let sowing = NurserySowing {
            crop: crop.to_owned(),
            on,
            cells,
            cups,
            lost: 0,
            transplanted: 0,
            on_hand: false,
        };
        self.sowings.insert(at, sowing);
        Ok(())
    }

    /// The hole, free for a plant.
    fn check_hole_is_free(&self, hole: &str) -> Result<(), ImpossibleEvent> {
        if self.blocked.contains(hole) {
            return Err(ImpossibleEvent::Blocked {
                hole: hole.to_owned(),
            });
        }
        match self.plants.get(hole) {
            None => Ok(()),
            Some(plant) => Err(ImpossibleEvent::Occupied {
                hole: hole.to_owned(),
                crop: plant.crop.clone(),
                since: plant.transplanted,
            }),
        }
    }

    /// When a plant that is set out was sown: it comes from the sowing that was meant, else from the
    /// oldest, and from spares last. One that comes from none was bought or given.
    fn take_seedling(
        &mut self,
        on: NaiveDate,
        crop: &str,
        hole: &str,
        said: Option<NaiveDate>,
    ) -> Option<NaiveDate> {
        let of_crop = |s: &&mut NurserySowing| s.crop == crop && s.on <= on && s.remaining() > 0;
        let sowing = self
            .sowings
            .iter_mut()
            .filter(of_crop)
            .min_by_key(|s| (Some(s.on) != said, !s.has_unplanted_stock(), s.on))?;
        sowing.transplanted += 1;
        let taken = sowing.on;
        if let Some(said) = said.filter(|&said| said != taken) {
            self.reassigned_sowings.push(ReassignedSowing {
                crop: crop.to_owned(),
                hole: hole.to_owned(),
                on,
                recorded_sowing: said,
                actual_sowing: taken,
            });
        }
        Some(taken)
    }

    fn plant_mut(&mut self, hole: &str) -> Result<&mut PlantRecord, ImpossibleEvent> {
        if !self.plants.contains_key(hole) {
            self.known.check_hole(hole)?;
        }
        self.plants.get_mut(hole).ok_or(ImpossibleEvent::Empty {
            hole: hole.to_owned(),
        })
    }

    fn remove(
        &mut self,
        on: NaiveDate,
        hole: &str,
        why: RemovalReason,
    ) -> Result<(), ImpossibleEvent> {
        self.plant_mut(hole)?;
        if let Some(plant) = self.plants.remove(hole) {
            self.removed.push(RemovedPlant {
                hole: hole.to_owned(),
                plant,
                on,
                reason: why,
            });
        }
        Ok(())
    }

    /// Seedlings that are lost are of the sowing that was said, and of no other. Where none was
    /// said they are taken to be of what still waits to be set out, the oldest first, then spares,
    /// the youngest first; and last of what must have left the nursery, whatever was put down of
    /// it.
    fn lose_seedlings(
        &mut self,
        on: NaiveDate,
        crop: &str,
        cells: u32,
        sown_on: Option<NaiveDate>,
    ) -> Result<(), ImpossibleEvent> {
        self.known.check_crop(crop)?;
        if let Some(asked) = sown_on {
            self.check_sown(on, crop, asked)?;
        }
        let is_meant = |s: &&mut NurserySowing| {
            s.crop == crop && s.remaining() > 0 && sown_on.is_none_or(|said| s.on == said)
        };
        let mut order: Vec<&mut NurserySowing> = self.sowings.iter_mut().filter(is_meant).collect();
        order.sort_by_key(|s| {
            let age = (on - s.on).num_days();
            let is_in_time = self.known.is_within_nursery_age(s, on);
            let waits = is_in_time && s.has_unplanted_stock();
            let then = if waits { -age } else { age };
            (!is_in_time, !waits, then)
        });
        let there: u32 = order.iter().map(|s| s.remaining()).sum();
        if there < cells {
            return Err(ImpossibleEvent::NotEnoughSeedlings {
                crop: crop.to_owned(),
                sown_on,
                there,
                asked: cells,
            });
        }
        let mut rest = cells;
        for sowing in order {
            let here = rest.min(sowing.remaining());
            sowing.lost += here;
            rest -= here;
        }
        Ok(())
    }

    /// Whether a crop was sown on a day, by what was put down until another.
    fn check_sown(
        &self,
        on: NaiveDate,
        crop: &str,
        asked: NaiveDate,
    ) -> Result<(), ImpossibleEvent> {
        let of_crop = self.sowings.iter().filter(|s| s.crop == crop);
        if of_crop.clone().any(|s| s.on == asked) {
            return Ok(());
        }
        let is_there = |s: &&NurserySowing| self.is_in_nursery(s, on);
        let mut sown: Vec<NaiveDate> = of_crop.filter(is_there).map(|s| s.on).collect();
        sown.dedup();
        Err(ImpossibleEvent::NotSown {
            crop: crop.to_owned(),
            asked,
            sown,
        })
    }

    fn harvest(
        &mut self,
        hole: &str,
        taken: RecordedHarvest,
        last: bool,
    ) -> Result<(), ImpossibleEvent> {
        let on = taken.on;
        let whole = {
            let crop = self.plant_mut(hole)?.crop.clone();
            let whole = self
                .known
                .crops
                .get(&crop)
                .is_some_and(|known| known.is_head);
            if let Some(amount) = taken.amount {
                check_measure(&crop, amount, whole)?;
            }
            whole
        };
        self.plant_mut(hole)?.harvests.push(taken);
        if whole || last {
            self.remove(on, hole, RemovalReason::Harvested)?;
        }
        Ok(())
    }

    fn clean(&mut self, on: NaiveDate, tube: &str) -> Result<(), ImpossibleEvent> {
        KnownNames::check_name("tube", tube, self.known.tubes.iter())?;
        let in_tube = |hole: &str| hole.rsplit_once('-').is_some_and(|(t, _)| t == tube);
        if let Some((hole, plant)) = self.plants.iter().find(|(hole, _)| in_tube(hole)) {
            return Err(ImpossibleEvent::NotEmpty {
                tube: tube.to_owned(),
                hole: hole.clone(),
                crop: plant.crop.clone(),
            });
        }
        self.cleaned.insert(tube.to_owned(), on);
        Ok(())
    }
}

fn check_measure(crop: &str, amount: Amount, whole: bool) -> Result<(), ImpossibleEvent> {
    let form = match amount.measure() {
        _ if amount.milli() == 0 => "what gave nothing is `record lost` or `record cleared`",
        Measure::Heads if !whole => "say its weight, such as `80 g`, or leave the amount out",
        Measure::Heads if amount.milli() != 1000 => "a hole gives one head, or say its weight",
        _ => return Ok(()),
    };
    Err(ImpossibleEvent::WrongMeasure {
        crop: crop.to_owned(),
        asked: amount.to_string(),
        form,
    })
}
