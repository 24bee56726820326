//! From a garden to its problem.

mod cleans;
mod planning_state;
mod seed_plants;
mod standing;

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike, NaiveDate};

use cleans::CleanScheduler;
pub use planning_state::{ExistingPlant, PlanningState, harvest_in_unit, want_of};
use seed_plants::FloweringTime;
pub use seed_plants::{NotKeptReason, PlannedSeedPlant, UnplacedSeedPlant, seed_plant_removal};

use crate::garden::Garden;
use crate::garden::crop::{Crop, HarvestHabit};
use crate::garden::holes::{self, Layout};
use crate::garden::want::YearDay;
use crate::nature::air::{DayConditions, growing_conditions};
use crate::nature::growth::{GrowthTable, HarvestUnit, PlantLife, Unsuitable};
use crate::nature::seed;
use crate::planner::problem::{
    Batch, Demand, Hole, HoleKind, NearbyPair, Problem, SCHEMA, SeedlingLot, StandingPlant,
    StayEnd, WeekYield, max_radius_of_kinds_mm,
};
use crate::units::{Length, Measure, Share};

/// How long a seedling that is ready may wait in the tray (common practice, no published
/// source: later its roots circle and its growth checks).
const SEEDLING_WAIT_DAYS: usize = 10;
/// How long one may have waited that is there already: it is not sown for this, but better than
/// none (common practice, no published source).
const OVERDUE_WAIT_DAYS: usize = 2 * SEEDLING_WAIT_DAYS;

/// Days before the start from which the nursery's air is followed, for seedlings on hand.
const LEAD_DAYS: usize = 120;

/// How far past the shown weeks the planner looks, at the least and at the most.
const TAIL_DAYS: (usize, usize) = (28, 126);

/// Nursery cells of a seedling that is on hand: it has come up and needs no spares.
const ON_HAND_CELLS_MILLI: u64 = 1000;

/// What one stay costs: seed, cup and labour.
const STAY_COST_MILLI: i64 = 1000;

/// The problem of a garden, and what was found on the way.
#[derive(Debug, Clone)]
pub struct BuiltProblem {
    /// The problem.
    pub problem: Problem,
    /// The holes, in the problem's order.
    pub layout: Layout,
    /// For each kind and batch, what the stay gives on which day, in thousandths of the
    /// want's unit; of what is harvested once, one entry for each possible removal.
    pub unit_harvests: Vec<Vec<UnitHarvests>>,
    /// For each standing plant and end, what it gives until then on which day.
    pub standing_unit_harvests: Vec<Vec<UnitHarvests>>,
    /// What was harvested before day 0 in its week, for each want, in thousandths of its unit.
    pub harvested_milli: Vec<i64>,
    /// Plants left to flower for their seed, that are yet to be set out.
    pub seed_plants: Vec<PlannedSeedPlant>,
    /// Those of the shown weeks that cannot be.
    pub unplaced_seed_plants: Vec<UnplacedSeedPlant>,
    /// Crops that can stand in no hole, or only in some, for want of height.
    pub too_tall: Vec<TooTallCrop>,
    /// For each want and crop, on how many of the shown transplant workdays it can be set out,
    /// and what hinders it on the others.
    pub seasons: Vec<CropSeason>,
}

/// Days of harvest and what each gives, in thousandths of the want's unit.
pub type UnitHarvests = Vec<(u32, i64)>;

/// A crop that is too tall for holes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TooTallCrop {
    /// The crop's key.
    pub crop: String,
    /// In how many holes it does not fit.
    pub unsuitable_holes: usize,
    /// In how many it fits.
    pub suitable_holes: usize,
}

/// When a crop can be set out in this garden, in its most favourable holes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CropSeason {
    /// The crop's key.
    pub crop: String,
    /// Transplant workdays in the shown weeks on which it can be set out.
    pub plantable_days: usize,
    /// Those on which it cannot, by reason.
    pub unsuitable_days: Vec<(Unsuitable, usize)>,
}

/// Whole days from a span in days, rounded up.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn whole_days(days: f64) -> u32 {
    days.ceil() as u32
}

#[allow(clippy::cast_possible_truncation)]
const fn day_number(index: usize) -> u32 {
    index as u32
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn millimetres(length: f64) -> u32 {
    (length * 1000.0).round() as u32
}

/// The problem that a garden poses at its start.
#[must_use]
pub fn build(garden: &Garden) -> BuiltProblem {
    build_from(garden, &PlanningState::at_start(garden))
}

/// The problem that a garden poses on a day, around what stands then.
#[must_use]
pub fn build_from(garden: &Garden, setting: &PlanningState) -> BuiltProblem {
    let layout = holes::layout(garden);
    let shown = setting.days as usize;
    let calendar = WorkdayCalendar::new(garden, setting.today, shown);
    let mut builder = ProblemBuilder {
        garden,
        setting,
        calendar: &calendar,
        nursery: growing_conditions(
            &garden.place,
            &garden.nursery.cover,
            Share::fraction(1.0),
            calendar.date_before(LEAD_DAYS),
            LEAD_DAYS + calendar.days,
        ),
        lots: Vec::new(),
    };
    builder.lots = setting
        .seedlings
        .iter()
        .map(|s| SeedlingLot {
            crop: s.crop.clone(),
            count: s.count,
        })
        .collect();
    let (mut standing, mut standing_gains) = builder.standing_plants(&layout);
    let changeover = whole_days(garden.spacing.changeover.get());
    let (kept, not_kept) = builder.plan_seed_plants(&layout, &standing, changeover);
    let beside = seed_plants::flowering_neighbours(garden, &layout, &kept);
    seed_plants::make_room(&mut standing, &mut standing_gains, &beside, &kept);
    let kinds = HoleProfiles::of(garden, setting, &layout, &beside);
    let lives: Vec<StayOptions> = kinds
        .lights
        .iter()
        .map(|&light| builder.stay_options(light))
        .collect();
    let (problem_kinds, gains): (Vec<HoleKind>, Vec<_>) = kinds
        .kinds
        .iter()
        .map(|k| {
            let (kind, gains) = builder.hole_kind(&lives[k.light], &k.crops);
            seed_plants::without_clashes(kind, gains, &k.flowering_neighbours, &kept)
        })
        .unzip();
    let wants = builder.demands(&problem_kinds, &standing);
    let pairs = nearby_pairs(garden, &layout, &problem_kinds, &standing);
    let problem = Problem {
        schema: SCHEMA,
        start: setting.today,
        days: day_number(shown),
        tail: day_number(calendar.days - shown),
        workdays: calendar.workdays.iter().map(|&d| day_number(d)).collect(),
        changeover,
        neighbours_apart: whole_days(garden.spacing.neighbours_apart.get()),
        nursery_cells_milli: (u64::from(garden.nursery.cells) * 1000)
            .saturating_sub(kept.iter().map(|k| k.cells_milli).sum()),
        stay_cost_milli: STAY_COST_MILLI,
        wants,
        kinds: problem_kinds,
        lots: builder.lots.clone(),
        holes: layout
            .holes
            .iter()
            .zip(&kinds.kind_of_hole)
            .map(|(h, &kind)| Hole {
                id: h.id.clone(),
                kind,
                tube: h.tube,
                r#loop: h.r#loop,
            })
            .collect(),
        pairs,
        apart: incompatible_crop_pairs(garden),
        cleans: CleanScheduler::new(garden, setting, &layout, &calendar, &standing, &kept)
            .clean_tasks(),
        standing,
    };
    let too_tall = kinds.too_tall(garden, setting, &layout);
    let seasons = crop_seasons(garden, &lives, &calendar, shown);
    BuiltProblem {
        problem,
        layout,
        unit_harvests: gains,
        standing_unit_harvests: standing_gains,
        harvested_milli: setting.harvested_milli.clone(),
        seed_plants: kept,
        unplaced_seed_plants: not_kept,
        too_tall,
        seasons,
    }
}

/// The days looked at.
struct WorkdayCalendar {
    start: NaiveDate,
    days: usize,
    workdays: Vec<usize>,
    is_workday: Vec<bool>,
}

impl WorkdayCalendar {
    /// Looks past the shown days by the longest nursery and stay, to the end of a week.
    fn new(garden: &Garden, start: NaiveDate, shown: usize) -> Self {
        let longest = garden
            .crops
            .iter()
            .map(|c| whole_days(c.nursery.days.get() + c.hole.days.get()) as usize * 3 / 2)
            .max()
            .unwrap_or(0);
        let days = shown + longest.clamp(TAIL_DAYS.0, TAIL_DAYS.1);
        let weekday = start.weekday().num_days_from_monday() as usize;
        let days = (weekday + days).next_multiple_of(7) - weekday;
        let is_workday: Vec<bool> = start
            .iter_days()
            .take(days)
            .map(|d| garden.rhythm.is_workday(d))
            .collect();
        Self {
            start,
            days,
            workdays: (0..days).filter(|&d| is_workday[d]).collect(),
            is_workday,
        }
    }

    fn date_before(&self, days: usize) -> NaiveDate {
        self.start - chrono::Days::new(days as u64)
    }

    fn date(&self, day: usize) -> NaiveDate {
        self.start + chrono::Days::new(day as u64)
    }

    fn week(&self, day: usize) -> u32 {
        day_number((self.start.weekday().num_days_from_monday() as usize + day) / 7)
    }

    fn weeks(&self) -> usize {
        self.week(self.days - 1) as usize + 1
    }

    /// The days of a week that are looked at.
    fn days_of_week(&self, week: usize) -> std::ops::Range<usize> {
        let weekday = self.start.weekday().num_days_from_monday() as usize;
        (week * 7).saturating_sub(weekday)..((week + 1) * 7 - weekday).min(self.days)
    }
}

/// Kinds of hole: alike in light and in the crops that fit under what is above.
struct HoleProfiles {
    lights: Vec<Share>,
    kinds: Vec<HoleProfile>,
    kind_of_hole: Vec<usize>,
}

#[derive(PartialEq)]
struct HoleProfile {
    light: usize,
    /// Which of the garden's crops fit; none where the hole is blocked.
    crops: Vec<bool>,
    /// Seed plants that rule out some stays.
    flowering_neighbours: Vec<seed_plants::FloweringNeighbour>,
}

impl HoleProfiles {
    fn of(
        garden: &Garden,
        setting: &PlanningState,
        layout: &Layout,
        beside: &[Vec<seed_plants::FloweringNeighbour>],
    ) -> Self {
        let lights_of_banks: Vec<Share> = garden
            .loops
            .iter()
            .flat_map(|l| l.banks.iter().map(|b| b.light_share))
            .collect();
        let mut all = Self {
            lights: Vec::new(),
            kinds: Vec::new(),
            kind_of_hole: Vec::new(),
        };
        for (hole, beside) in layout.holes.iter().zip(beside) {
            let light = index_or_push(&mut all.lights, lights_of_banks[hole.bank]);
            let blocked = setting.blocked.contains(&hole.id);
            let fits = |c: &Crop| !blocked && fits_under(c, hole);
            let crops = garden.crops.iter().map(fits).collect();
            let beside = beside.clone();
            let kind = HoleProfile {
                light,
                crops,
                flowering_neighbours: beside,
            };
            let kind = index_or_push(&mut all.kinds, kind);
            all.kind_of_hole.push(kind);
        }
        all
    }

    fn too_tall(
        &self,
        garden: &Garden,
        setting: &PlanningState,
        layout: &Layout,
    ) -> Vec<TooTallCrop> {
        let usable: Vec<&holes::PlantingHole> = layout
            .holes
            .iter()
            .filter(|h| !setting.blocked.contains(&h.id))
            .collect();
        let holes = usable.len();
        garden
            .crops
            .iter()
            .filter_map(|crop| {
                let fits = usable.iter().filter(|h| fits_under(crop, h)).count();
                (fits < holes).then(|| TooTallCrop {
                    crop: crop.key.clone(),
                    unsuitable_holes: holes - fits,
                    suitable_holes: fits,
                })
            })
            .collect()
    }
}

/// Whether a crop does not grow into what is above a hole.
fn fits_under(crop: &Crop, hole: &holes::PlantingHole) -> bool {
    hole.headroom.is_none_or(|room| crop.size.height <= room)
}

/// The index of a value in a list, put at its end if it is not there.
fn index_or_push<T: PartialEq>(list: &mut Vec<T>, value: T) -> usize {
    list.iter().position(|v| *v == value).unwrap_or_else(|| {
        list.push(value);
        list.len() - 1
    })
}

/// What every crop can do under one light: lives by crop and transplant workday.
struct StayOptions {
    of_crop: Vec<Vec<Result<PlantLife, Unsuitable>>>,
}

struct ProblemBuilder<'g> {
    garden: &'g Garden,
    setting: &'g PlanningState,
    calendar: &'g WorkdayCalendar,
    /// The nursery's air from [`LEAD_DAYS`] days before the start.
    nursery: Vec<DayConditions>,
    lots: Vec<SeedlingLot>,
}

impl ProblemBuilder<'_> {
    fn stay_options(&self, light: Share) -> StayOptions {
        let place = &self.garden.place;
        let air = growing_conditions(
            place,
            &place.cover,
            light,
            self.calendar.start,
            self.calendar.days,
        );
        let is_workday = |d: usize| self.calendar.is_workday[d];
        let of_crop = self
            .garden
            .crops
            .iter()
            .map(|crop| {
                let growth = GrowthTable::new(crop, &air).from_day(self.calendar.start);
                let days = self.calendar.workdays.iter();
                days.map(|&t| growth.plant_life(t, &is_workday)).collect()
            })
            .collect();
        StayOptions { of_crop }
    }

    /// The batches of a kind of hole, and what each gives on which day.
    fn hole_kind(&self, lives: &StayOptions, fits: &[bool]) -> (HoleKind, Vec<UnitHarvests>) {
        let mut batches = Vec::new();
        for (n, crop) in self
            .garden
            .crops
            .iter()
            .enumerate()
            .filter(|&(n, _)| fits[n])
        {
            let seedlings = GrowthTable::new(crop, &self.nursery);
            let sown = self.sowing_days(&seedlings);
            for (w, want) in self.garden.wants.iter().enumerate() {
                if !want.from_crops.contains(&crop.key) {
                    continue;
                }
                for life in lives.of_crop[n].iter().flatten() {
                    let stay = self.batch_of_life(crop, w, life);
                    if stay.ends.is_empty() {
                        continue;
                    }
                    let gains = self.unit_harvests(w, &life.harvests);
                    if let Some(sow) = sown[life.transplant] {
                        let sow = i32::try_from(sow).unwrap_or(i32::MAX);
                        batches.push((
                            Batch {
                                sow,
                                ..stay.clone()
                            },
                            gains.clone(),
                        ));
                    }
                    let on_hand = self.on_hand_batches(&seedlings, &stay);
                    batches.extend(on_hand.map(|b| (b, gains.clone())));
                }
            }
        }
        batches.sort_by(|(a, _), (b, _)| {
            (a.transplant, &a.crop, a.want, a.sow).cmp(&(b.transplant, &b.crop, b.want, b.sow))
        });
        let (batches, gains) = batches.into_iter().unzip();
        (HoleKind { batches }, gains)
    }

    /// For each day, the workday on which to sow what is to be transplanted then: the latest
    /// that makes a seedling ready in time and not too long before.
    fn sowing_days(&self, seedlings: &GrowthTable<'_>) -> Vec<Option<usize>> {
        let ready: Vec<(usize, usize)> = self
            .calendar
            .workdays
            .iter()
            .filter_map(|&sow| {
                Some((
                    sow,
                    seedlings.nursery_ready_day(sow + LEAD_DAYS)? - LEAD_DAYS,
                ))
            })
            .collect();
        (0..self.calendar.days)
            .map(|day| {
                ready
                    .iter()
                    .rev()
                    .find(|&&(sow, ready)| sow < day && ready <= day)
                    .filter(|&&(_, ready)| day - ready <= SEEDLING_WAIT_DAYS)
                    .map(|&(sow, _)| sow)
            })
            .collect()
    }

    /// The same stay from seedlings on hand, where they are ready and not too old by then.
    fn on_hand_batches<'a>(
        &'a self,
        seedlings: &'a GrowthTable<'_>,
        stay: &'a Batch,
    ) -> impl Iterator<Item = Batch> + 'a {
        let lots = (0..self.lots.len()).filter(|&lot| self.lots[lot].crop == stay.crop);
        lots.filter_map(move |lot| {
            let sow = self.seedlings_sown_for(seedlings, lot, stay.transplant as usize)?;
            Some(Batch {
                sow,
                cells_milli: ON_HAND_CELLS_MILLI,
                lot: Some(lot),
                ..stay.clone()
            })
        })
    }

    /// The day of sowing of a lot's seedlings, if there are any, ready and not too old for a day of
    /// transplant.
    fn seedlings_sown_for(
        &self,
        seedlings: &GrowthTable<'_>,
        lot: usize,
        transplant: usize,
    ) -> Option<i32> {
        let age = (self.calendar.start - self.setting.seedlings[lot].sown).num_days();
        let age = usize::try_from(age).ok().filter(|&a| a <= LEAD_DAYS)?;
        let ready = seedlings.nursery_ready_day(LEAD_DAYS - age)?;
        let waits = (transplant + LEAD_DAYS).checked_sub(ready)?;
        let is_there = self.lots[lot].count > 0 && waits <= OVERDUE_WAIT_DAYS;
        is_there.then(|| -i32::try_from(age).unwrap_or(i32::MAX))
    }

    /// A life as the beginning of stays, without its sowing.
    fn batch_of_life(&self, crop: &Crop, want: usize, life: &PlantLife) -> Batch {
        let gains = self.unit_harvests(want, &life.harvests);
        let ends = self.stay_ends(&gains, life.is_harvested_once, &life.removal_days);
        Batch {
            crop: crop.key.clone(),
            want,
            sow: 0,
            transplant: day_number(life.transplant),
            cells_milli: nursery_cells_milli(crop),
            lot: None,
            once: life.is_harvested_once,
            radius_mm: life.diameter.iter().map(|d| millimetres(d / 2.0)).collect(),
            ends,
        }
    }

    fn stay_ends(&self, gains: &[(u32, i64)], once: bool, days: &[usize]) -> Vec<StayEnd> {
        days.iter()
            .map(|&day| day_number(day))
            .map(|day| StayEnd {
                day,
                yields: self.weekly_yields(gains, once, day),
            })
            .collect()
    }

    /// What a life gives on which day, in thousandths of the want's unit.
    #[allow(clippy::cast_possible_truncation)]
    fn unit_harvests(&self, want: usize, harvests: &[HarvestUnit]) -> UnitHarvests {
        let measure = self.garden.wants[want].each_week.measure();
        let milli = |grams: f64| match measure {
            Measure::Heads => 1000,
            Measure::Grams => (grams * 1000.0).round() as i64,
        };
        harvests
            .iter()
            .map(|g| (day_number(g.day), milli(g.grams)))
            .collect()
    }

    fn weekly_yields(&self, gains: &[(u32, i64)], once: bool, end: u32) -> Vec<WeekYield> {
        let mut by_week: BTreeMap<u32, i64> = BTreeMap::new();
        for (day, milli) in harvests_until(gains, once, end) {
            *by_week.entry(self.calendar.week(day as usize)).or_default() += milli;
        }
        by_week
            .into_iter()
            .map(|(week, milli)| WeekYield { week, milli })
            .collect()
    }

    fn demands(&self, kinds: &[HoleKind], standing: &[StandingPlant]) -> Vec<Demand> {
        let weeks = self.calendar.weeks();
        let mut possible = vec![vec![false; weeks]; self.garden.wants.len()];
        let planted = kinds.iter().flat_map(|k| &k.batches);
        let planted = planted.map(|b| (b.want, &b.ends));
        for (want, ends) in planted.chain(standing.iter().map(|s| (s.want, &s.ends))) {
            for y in ends.iter().flat_map(|e| &e.yields) {
                possible[want][y.week as usize] = true;
            }
        }
        let stated = self.garden.wants.iter().zip(possible);
        stated
            .enumerate()
            .map(|(n, (want, possible))| Demand {
                id: want.name.clone(),
                unit: want.each_week.measure().symbol().to_owned(),
                weight_milli: i64::from(want.importance_milli),
                harvest_milli: self.harvest_milli(want),
                target_milli: (0..weeks)
                    .map(|week| {
                        let counts = possible[week] && self.is_wanted(want, week);
                        let each = i64::try_from(want.each_week.milli()).unwrap_or(i64::MAX);
                        let raised = self.setting.demand_safety_factor_milli[n];
                        let each = each.saturating_mul(raised) / 1000;
                        let harvested = self.setting.harvested_milli[n];
                        match (counts, week) {
                            (false, _) => 0,
                            // What the first week has had already is not wanted again.
                            (true, 0) => (each - harvested).max(0),
                            (true, _) => each,
                        }
                    })
                    .collect(),
            })
            .collect()
    }

    /// Whether a week lies in a want's season: most of its days do.
    fn is_wanted(&self, want: &crate::garden::want::Want, week: usize) -> bool {
        let Some(between) = want.season else {
            return true;
        };
        let days = self.calendar.days_of_week(week);
        let inside = days
            .clone()
            .filter(|&d| is_in_season(self.calendar.date(d), between))
            .count();
        inside * 2 > days.len()
    }

    /// What one plant of a want gives at one harvest: the mean over its crops.
    #[allow(clippy::cast_possible_truncation, clippy::cast_precision_loss)]
    fn harvest_milli(&self, want: &crate::garden::want::Want) -> i64 {
        if want.each_week.measure() == Measure::Heads {
            return 1000;
        }
        let grams: Vec<f64> = want
            .from_crops
            .iter()
            .filter_map(|key| self.garden.crop(key))
            .map(|crop| match crop.harvest {
                HarvestHabit::Head { each, .. } => each.get(),
                HarvestHabit::Cut { later, .. } => later.get(),
                HarvestHabit::Pick { each_week, .. } => each_week.get(),
            })
            .collect();
        let mean = grams.iter().sum::<f64>() / grams.len().max(1) as f64;
        ((mean * 1000.0).round() as i64).max(1)
    }
}

/// What counts of a stay's gains if it is removed on a day: the harvest on that day of what is
/// harvested once, all up to it otherwise.
pub fn harvests_until(
    gains: &[(u32, i64)],
    once: bool,
    end: u32,
) -> impl Iterator<Item = (u32, i64)> {
    gains
        .iter()
        .copied()
        .filter(move |&(day, _)| if once { day == end } else { day <= end })
}

/// Whether a day lies in a season of the year, which may span the turn of the year.
#[must_use]
pub fn is_in_season(date: NaiveDate, (from, until): (YearDay, YearDay)) -> bool {
    let day = YearDay {
        month: date.month(),
        day: date.day(),
    };
    if from <= until {
        from <= day && day <= until
    } else {
        from <= day || day <= until
    }
}

/// Nursery cells for one plant in the hole, with spares for what does not come up or is lost on
/// average, in thousandths, rounded up. More spares are sown where there is room.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn nursery_cells_milli(crop: &Crop) -> u64 {
    (1000.0 / seed::cell_sowing(&crop.seed).chance).ceil() as u64
}

/// Pairs of holes whose plants could touch, or that are side by side in a tube.
fn nearby_pairs(
    garden: &Garden,
    layout: &Layout,
    kinds: &[HoleKind],
    standing: &[StandingPlant],
) -> Vec<NearbyPair> {
    let widest = max_radius_of_kinds_mm(kinds);
    // What stands may be wider than anything that can still be set out.
    let radii = standing.iter().flat_map(|s| s.radius_mm.iter().flatten());
    let together = widest + radii.copied().max().unwrap_or(0).max(widest);
    let slack = 1.0 + garden.spacing.crowding.get();
    let reach = f64::from(together) / 1000.0 / slack;
    let along = garden.loops.iter().flat_map(|l| &l.banks);
    // Neighbours along a tube count however far apart they are.
    let along = along.map(|b| b.hole_spacing.get()).fold(reach, f64::max);
    let near = holes::neighbour_pairs(layout, Length::metres(along + 1e-6));
    near.into_iter()
        .map(|n| NearbyPair {
            a: n.a,
            b: n.b,
            // Rounding must not let a canopy through that does not fit.
            limit_mm: millimetres(n.distance.get() * slack - 0.000_499),
            side_by_side: n.side_by_side,
        })
        .filter(|p| p.side_by_side || p.limit_mm < together)
        .collect()
}

/// Crops of the garden whose bands of conductivity or acidity have nothing in common.
fn incompatible_crop_pairs(garden: &Garden) -> Vec<(String, String)> {
    fn disjoint<T: PartialOrd + Copy>(a: (T, T), b: (T, T)) -> bool {
        a.1 < b.0 || b.1 < a.0
    }
    let mut apart = Vec::new();
    for (n, a) in garden.crops.iter().enumerate() {
        for b in &garden.crops[n + 1..] {
            let (s, t) = (a.solution, b.solution);
            if disjoint(s.ec, t.ec) || disjoint(s.ph, t.ph) {
                apart.push((a.key.clone(), b.key.clone()));
            }
        }
    }
    apart
}

/// When crops can be set out, in the light that suits each best.
fn crop_seasons(
    garden: &Garden,
    lives: &[StayOptions],
    calendar: &WorkdayCalendar,
    shown: usize,
) -> Vec<CropSeason> {
    let workdays = calendar.workdays.iter().take_while(|&&d| d < shown).count();
    garden
        .crops
        .iter()
        .enumerate()
        .map(|(n, crop)| {
            let of_light = |l: &StayOptions| {
                let mut shut: BTreeMap<Unsuitable, usize> = BTreeMap::new();
                for reason in l.of_crop[n][..workdays]
                    .iter()
                    .filter_map(|l| l.as_ref().err())
                {
                    *shut.entry(*reason).or_default() += 1;
                }
                let open = workdays - shut.values().sum::<usize>();
                CropSeason {
                    crop: crop.key.clone(),
                    plantable_days: open,
                    unsuitable_days: shut.into_iter().collect(),
                }
            };
            lives
                .iter()
                .map(of_light)
                .max_by_key(|s| s.plantable_days)
                .unwrap_or(CropSeason {
                    crop: crop.key.clone(),
                    plantable_days: 0,
                    unsuitable_days: Vec::new(),
                })
        })
        .collect()
}

/// Names of crops that some kind of hole can take at all.
#[must_use]
pub fn possible_crops(problem: &Problem) -> BTreeSet<&str> {
    problem
        .kinds
        .iter()
        .flat_map(|k| k.batches.iter().map(|b| b.crop.as_str()))
        .collect()
}
