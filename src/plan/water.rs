//! What the plan's plants drink, day by day, and what that makes of each tank: `water` in
//! `plan.json`.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike, Days, NaiveDate};
use serde::{Deserialize, Serialize};

use crate::garden::Garden;
use crate::garden::crop::SolutionRange;
use crate::garden::holes::{bank_of, bank_of_tube};
use crate::garden::rig::{self, Bank, Loop};
use crate::nature::air::{self, DayConditions};
use crate::nature::canopy::Canopy;
use crate::nature::crop_water;
use crate::nature::growth::GrowthTable;
use crate::plan::{Stay, TubeClean};
use crate::plumbing::tank::{self, FillingReason, TankDay, TankInputs, TankState};
use crate::plumbing::{autonomy, load, solution, tube};

/// The water of one loop, day by day from the plan's first day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LoopWater {
    /// The loop's name.
    pub r#loop: String,
    /// The day before the plan's first on which it was last filled with fresh solution, if known.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub filled: Option<NaiveDate>,
    /// Litres in the tank on the plan's first morning, before any work of that day; absent in a
    /// first plan, and where it is taken as full.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub found: Option<f64>,
    /// What stands in its tubes while it runs \[l\].
    pub in_tubes: f64,
    /// Litres drunk and evaporated on each day.
    pub used: Vec<f64>,
    /// Litres in the tank at the end of each day.
    pub level: Vec<f64>,
    /// EC expected at the end of each day [mS/cm]; absent while none is known, as before the first
    /// filling, and where no solution suits all that stands there.
    pub ec: Vec<Option<f64>>,
    /// When to top up, and how much.
    pub top_ups: Vec<TopUp>,
    /// When to fill with fresh solution.
    pub changes: Vec<SolutionChange>,
    /// When to drain tank and tubes, as nothing follows for weeks.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub emptied: Vec<Drainage>,
    /// Days on which the EC is expected above what suits all that stands there, whatever it is
    /// topped up with.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub too_strong: Option<HighEc>,
    /// Times when the tank falls below what the garden states as its least.
    pub low: Vec<LowLevel>,
    /// How long roots stay wet without a pump, for each of its banks.
    pub power_cut: Vec<PowerCut>,
    /// The solution that suits all that stands in the loop, month by month.
    pub months: Vec<MonthlySolution>,
}

impl LoopWater {
    /// The loop's name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.r#loop
    }

    /// Litres used from one morning to another, both among the days from `start`, the first; `None`
    /// where they are not.
    #[must_use]
    pub fn used_between(&self, start: NaiveDate, [from, to]: [NaiveDate; 2]) -> Option<f64> {
        let at = |day: NaiveDate| usize::try_from((day - start).num_days()).ok();
        Some(self.used.get(at(from)?..at(to)?)?.iter().sum())
    }

    /// Whether a tank that holds so many litres is full after the work of a day, counted from
    /// `start`, the first; `None` where that is not one of the days.
    #[must_use]
    pub fn is_full_after(&self, start: NaiveDate, day: NaiveDate, holds: f64) -> Option<bool> {
        let at = usize::try_from((day - start).num_days()).ok()?;
        let worked = self.level.get(at)? + self.used.get(at)?;
        Some(worked > holds - ROUNDING_LITRES)
    }
}

/// Litres that are lost in rounding, and less than anybody sees at a mark.
const ROUNDING_LITRES: f64 = 0.05;

/// Water poured into a tank.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TopUp {
    /// The workday.
    pub day: NaiveDate,
    /// How much.
    pub litres: f64,
    /// It is a solution of half strength; absent for plain water.
    #[serde(skip_serializing_if = "std::ops::Not::not", default)]
    pub half_strength: bool,
    /// Stock in it \[ml\]; absent for plain water, and where the stock's strength is not stated.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub stock_ml: Option<f64>,
}

/// A tank filled with fresh solution.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SolutionChange {
    /// The workday.
    pub day: NaiveDate,
    /// What calls for it.
    pub because: ChangeReason,
    /// Litres poured out.
    pub drained: f64,
    /// Litres filled in.
    pub filled: f64,
    /// The tubes are drained and filled, too: where the loop begins to run, and where they hold
    /// more than the tank.
    #[serde(skip_serializing_if = "std::ops::Not::not", default)]
    pub tubes: bool,
    /// EC to aim at in tank and tubes [mS/cm]: what suits all that stands there until the next
    /// filling; absent where no solution suits all that stands there.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub ec: Option<f64>,
    /// EC of what is filled in, which with what was left in the tubes comes to that; absent where
    /// nothing was left.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub ec_filled: Option<f64>,
    /// pH to aim at.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub ph: Option<f64>,
    /// EC expected in what is poured out; absent where unknown.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub ec_before: Option<f64>,
    /// Stock in the fresh solution \[ml\]; absent where the stock's strength is not stated.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub stock_ml: Option<f64>,
}

/// A loop drained for weeks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Drainage {
    /// The workday.
    pub day: NaiveDate,
    /// Litres poured out of tank and tubes.
    pub drained: f64,
    /// The next planting, if there is one among the shown days.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub until: Option<NaiveDate>,
}

/// Days on which the EC is expected above what suits.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HighEc {
    /// How many.
    pub days: usize,
    /// The day on which it is furthest above.
    pub worst: NaiveDate,
    /// EC on it [mS/cm].
    pub ec: f64,
    /// The most that suits on it [mS/cm].
    pub suits: f64,
}

/// What calls for a filling.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ChangeReason {
    /// The loop begins to run, or runs again after it stood empty.
    FirstPlanting,
    /// The days since the last one.
    Days,
    /// Top-ups since the last one add up to the tank.
    Volume,
}

/// Days on which the tank is lower than it should be.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LowLevel {
    /// First of them.
    pub from: NaiveDate,
    /// Last of them.
    pub until: NaiveDate,
    /// Litres at the lowest.
    pub lowest: f64,
    /// Litres that plants ask for and the tank does not have.
    pub lacking: f64,
}

/// How long roots of a bank stay wet when the pump stands still.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PowerCut {
    /// The bank.
    pub bank: String,
    /// Its thirstiest day.
    pub day: NaiveDate,
    /// Litres that its plants drink on that day, and that evaporate from its open water.
    pub litres: f64,
    /// Hours from that morning until what stands in its tubes is gone.
    pub hours: f64,
}

/// The solution of a loop in a month.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MonthlySolution {
    /// Its first day.
    pub month: NaiveDate,
    /// Keys of the crops that stand there at some time in it.
    pub crops: Vec<String>,
    /// EC that suits all of them, least and most [mS/cm]; absent where none does.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub ec: Option<(f64, f64)>,
    /// pH that suits all of them, least and most; absent where none does.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub ph: Option<(f64, f64)>,
    /// Pairs of them that share no solution: they stand there at different times.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub apart: Vec<(String, String)>,
}

/// The water of every loop over days that are shown, from what stands where.
#[must_use]
pub fn simulate_loops(
    garden: &Garden,
    (start, last): (NaiveDate, NaiveDate),
    stays: &[Stay],
    cleans: &[TubeClean],
) -> Vec<LoopWater> {
    simulate_loops_from(garden, (start, last), &[], stays, cleans)
}

/// [`simulate_loops`] from how each loop's tank is found on the first morning.
#[must_use]
pub fn simulate_loops_from(
    garden: &Garden,
    (start, last): (NaiveDate, NaiveDate),
    tanks: &[TankState],
    stays: &[Stay],
    cleans: &[TubeClean],
) -> Vec<LoopWater> {
    let span = ShownDays::new(start, last);
    let demand = WaterDemand::new(garden, span, stays);
    let mut banks = 0;
    garden
        .loops
        .iter()
        .enumerate()
        .map(|(at, of_loop)| {
            let first_bank = banks;
            banks += of_loop.banks.len();
            let names: Vec<&str> = of_loop.banks.iter().map(|b| b.name.as_str()).collect();
            let here = |bank: Option<&str>| bank.is_some_and(|bank| names.contains(&bank));
            LoopSimulation {
                garden,
                of_loop,
                initial_tank: tanks.get(at).copied().unwrap_or_default(),
                span,
                stays: stays.iter().filter(|s| here(bank_of(&s.hole))).collect(),
                cleans: cleans
                    .iter()
                    .filter(|c| here(bank_of_tube(&c.tube)))
                    .collect(),
                bank_demands: &demand.banks[first_bank..banks],
            }
            .simulate()
        })
        .collect()
}

/// The shown days.
#[derive(Debug, Clone, Copy)]
struct ShownDays {
    start: NaiveDate,
    days: usize,
}

impl ShownDays {
    fn new(start: NaiveDate, last: NaiveDate) -> Self {
        Self {
            start,
            days: day_index(start, last) + 1,
        }
    }

    fn date(self, day: usize) -> NaiveDate {
        self.start + Days::new(day as u64)
    }

    /// The shown days of a stay.
    fn stay_range(self, stay: &Stay) -> std::ops::Range<usize> {
        let from = day_index(self.start, stay.transplant).min(self.days);
        let until = day_index(self.start, stay.removal).min(self.days);
        from..until.max(from)
    }
}

fn day_index(first: NaiveDate, day: NaiveDate) -> usize {
    usize::try_from((day - first).num_days()).unwrap_or(0)
}

/// What is drunk and what evaporates in every bank.
struct WaterDemand {
    banks: Vec<BankDemand>,
}

/// Development and canopy diameter \[m\] of a plant, day by day from transplant.
type GrowthSeries = Vec<(f64, f64)>;

/// One bank's days.
struct BankDemand {
    /// Drunk on each day \[l\].
    transpired: Vec<f64>,
    /// What a full canopy would draw on each day [mm].
    reference: Vec<f64>,
    /// Hours of light on each day.
    light_hours: Vec<f64>,
}

impl WaterDemand {
    fn new(garden: &Garden, span: ShownDays, stays: &[Stay]) -> Self {
        // Plants may have stood before the first day, and stand beyond the last.
        let first = stays.iter().map(|s| s.transplant).min();
        let first = first.unwrap_or(span.start).min(span.start);
        let end = stays.iter().map(|s| s.removal).max();
        let last = span.date(span.days - 1);
        let days = day_index(first, end.unwrap_or(last).max(last)) + 1;
        let banks = garden.loops.iter().flat_map(|l| &l.banks);
        let banks = banks.map(|bank| {
            let of_bank = stays
                .iter()
                .filter(|s| bank_of(&s.hole) == Some(&bank.name));
            BankDemand::new(garden, bank, span, (first, days), of_bank)
        });
        Self {
            banks: banks.collect(),
        }
    }
}

impl BankDemand {
    fn new<'a>(
        garden: &Garden,
        bank: &Bank,
        span: ShownDays,
        (first, days): (NaiveDate, usize),
        stays: impl Iterator<Item = &'a Stay>,
    ) -> Self {
        let place = &garden.place;
        let air = air::growing_conditions(place, &place.cover, bank.light_share, first, days);
        let reference = crop_water::reference_evapotranspiration(
            place,
            &place.cover,
            bank.light_share,
            first,
            days,
        );
        let shown = day_index(first, span.start)..day_index(first, span.start) + span.days;
        let mut drunk = vec![0.0; days];
        // Stays of one crop, set out and cut on the same days, are alike: each course is grown once.
        let mut courses: BTreeMap<(&str, NaiveDate, Vec<usize>), GrowthSeries> = BTreeMap::new();
        let mut growths: BTreeMap<&str, GrowthTable> = BTreeMap::new();
        for stay in stays {
            let Some(crop) = garden.crop(&stay.crop) else {
                continue;
            };
            let from = day_index(first, stay.transplant);
            let cuts: Vec<usize> = stay
                .harvest_days()
                .map(|day| day_index(first, day))
                .collect();
            let course = courses
                .entry((&crop.key, stay.transplant, cuts))
                .or_insert_with_key(|(.., cuts)| {
                    let growth = growths
                        .entry(&crop.key)
                        .or_insert_with(|| GrowthTable::new(crop, &air));
                    let development = growth.development_series(from, days, cuts);
                    let canopy = Canopy::from_size(&crop.size);
                    let wide = |d: f64| (d, canopy.diameter(d));
                    development.into_iter().map(wide).collect()
                });
            let stays_for = day_index(stay.transplant, stay.removal);
            for (day, &(development, diameter)) in course.iter().enumerate().take(stays_for) {
                drunk[from + day] += crop_water::plant_transpiration(
                    crop,
                    reference[from + day],
                    development,
                    diameter,
                );
            }
        }
        Self {
            transpired: drunk[shown.clone()].to_vec(),
            reference: reference[shown.clone()].to_vec(),
            light_hours: air[shown]
                .iter()
                .map(|day: &DayConditions| day.day_length)
                .collect(),
        }
    }
}

/// A meter tells the EC to this [mS/cm].
const METER_RESOLUTION_EC: f64 = 0.05;

/// What suits all that stands in a loop, day by day.
struct SuitableSolutions {
    /// When a day's work is done.
    bands: Vec<Option<SolutionRange>>,
    /// EC and pH to aim at with a filling: what suits all that stands there until the next one,
    /// as far as anything does.
    setpoints: Vec<Option<(f64, f64)>>,
}

impl SuitableSolutions {
    fn ec_setpoint(&self, day: usize) -> Option<f64> {
        Some(self.setpoints[day]?.0)
    }
}

/// EC of a band, least and most [mS/cm].
fn ec_limits(band: SolutionRange) -> (f64, f64) {
    (band.ec.0.get(), band.ec.1.get())
}

/// One loop.
struct LoopSimulation<'a> {
    garden: &'a Garden,
    of_loop: &'a Loop,
    /// How its tank is found on the first morning.
    initial_tank: TankState,
    span: ShownDays,
    stays: Vec<&'a Stay>,
    cleans: Vec<&'a TubeClean>,
    bank_demands: &'a [BankDemand],
}

impl LoopSimulation<'_> {
    fn simulate(&self) -> LoopWater {
        let solutions = self.suitable_solutions();
        let course = self.tank_inputs(&solutions);
        let days = tank::simulate_tank(&course);
        LoopWater {
            r#loop: self.of_loop.name.clone(),
            filled: self.last_filling_before(),
            found: self.initial_tank.morning_level.map(litres),
            in_tubes: litres(course.tube_volume),
            used: days
                .iter()
                .map(|d| litres(d.transpired + d.evaporated))
                .collect(),
            level: days.iter().map(|d| litres(d.level)).collect(),
            top_ups: self.top_ups(&days, &solutions),
            changes: self.changes(&days, &solutions),
            emptied: self.drainages(&days, &course),
            too_strong: self.high_ec(&days, &course),
            low: self.low_levels(&course, &days),
            ec: days.iter().map(|d| d.ec.map(round_to_hundredths)).collect(),
            power_cut: self.power_cuts(),
            months: self.monthly_solutions(),
        }
    }

    fn tank_inputs(&self, solutions: &SuitableSolutions) -> TankInputs {
        let tank = &self.of_loop.tank;
        let holds = millilitres(tank.capacity.get());
        let days = self.span.days;
        let sum = |day: usize| self.bank_demands.iter().map(|b| b.transpired[day]).sum();
        let planted = self.is_planted_by_day();
        let workdays = self.workdays();
        TankInputs {
            capacity: holds,
            reserve: millilitres(tank.capacity.get() * tank.reserve_share.get()),
            tube_volume: self
                .of_loop
                .banks
                .iter()
                .map(|b| millilitres(tube::standing_volume(b)))
                .sum(),
            transpired: (0..days).map(|day| millilitres(sum(day))).collect(),
            evaporated: (0..days)
                .map(|day| millilitres(self.evaporated_on(day)))
                .collect(),
            is_planted: planted,
            is_in_use: self.stays.iter().any(|s| self.was_standing_before(s)),
            initial: self.initial_tank,
            plantings: self.plantings(),
            days_before_absence: self.last_workdays_before_absences(&workdays),
            workdays,
            clean_days: self.clean_days(),
            change_interval: self.change_interval(),
            ec_bands: solutions.bands.iter().map(|b| b.map(ec_limits)).collect(),
            ec_setpoints: solutions.setpoints.iter().map(|a| a.map(|a| a.0)).collect(),
            nutrients: self.of_loop.nutrients,
        }
    }

    fn last_filling_before(&self) -> Option<NaiveDate> {
        let ago = Days::new(self.initial_tank.days_since_filling? as u64);
        self.span.start.checked_sub_days(ago)
    }

    /// What evaporates from open water on a day \[l\]: from the tank under the first bank's air.
    fn evaporated_on(&self, day: usize) -> f64 {
        let reference =
            |at: usize| self.bank_demands[at].reference[day] * crop_water::OPEN_WATER_COEFFICIENT;
        let banks = self.of_loop.banks.iter().enumerate();
        let tubes: f64 = banks
            .map(|(at, bank)| tube::open_water_area(bank) * reference(at))
            .sum();
        tubes + load::open_tank_area(&self.of_loop.tank) * reference(0)
    }

    /// Whether something stands in the loop at the end of each day's work.
    fn is_planted_by_day(&self) -> Vec<bool> {
        let mut planted = vec![false; self.span.days];
        for stay in &self.stays {
            planted[self.span.stay_range(stay)].fill(true);
        }
        planted
    }

    /// Whether a stay began before the first day, whose work it saw.
    fn was_standing_before(&self, stay: &Stay) -> bool {
        let start = self.span.start;
        (stay.transplant < start || stay.stands) && stay.removal >= start
    }

    fn plantings(&self) -> Vec<usize> {
        let days: BTreeSet<usize> = self
            .stays
            .iter()
            .filter(|s| !self.was_standing_before(s) && s.transplant >= self.span.start)
            .map(|s| day_index(self.span.start, s.transplant))
            .collect();
        days.into_iter().collect()
    }

    /// Workdays of the shown days, and the next few after them.
    fn workdays(&self) -> Vec<usize> {
        (0..self.span.days + 60)
            .filter(|&day| self.garden.rhythm.is_workday(self.span.date(day)))
            .collect()
    }

    /// The last workday before each absence.
    fn last_workdays_before_absences(&self, workdays: &[usize]) -> Vec<usize> {
        let absences = self.garden.rhythm.absences.iter();
        let days: BTreeSet<usize> = absences
            .filter(|away| away.from > self.span.start)
            .filter_map(|away| {
                let from = day_index(self.span.start, away.from);
                let before = workdays.partition_point(|&day| day < from);
                before.checked_sub(1).map(|at| workdays[at])
            })
            .collect();
        days.into_iter().collect()
    }

    fn clean_days(&self) -> Vec<usize> {
        let shown = self.cleans.iter().filter(|c| c.day >= self.span.start);
        let days: BTreeSet<usize> = shown.map(|c| day_index(self.span.start, c.day)).collect();
        days.into_iter().collect()
    }

    /// Whole days, at least one: a longer interval than the plan simply never comes round.
    fn change_interval(&self) -> usize {
        let every = self.garden.rhythm.solution_change_interval.get();
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let every = every.round().clamp(1.0, 1e6) as usize;
        every
    }

    /// What suits all that stands in the loop, day by day.
    fn suitable_solutions(&self) -> SuitableSolutions {
        let mut standing: Vec<BTreeSet<&str>> = vec![BTreeSet::new(); self.span.days];
        for stay in &self.stays {
            for day in self.span.stay_range(stay) {
                standing[day].insert(&stay.crop);
            }
        }
        let bands: Vec<Option<SolutionRange>> =
            standing.iter().map(|c| self.common_range_of(c)).collect();
        let until_next = |day: usize| day..(day + self.change_interval()).min(self.span.days);
        let aim = |day: usize| {
            let meeting = bands[until_next(day)].iter().flatten().copied();
            let band = meeting
                .scan(bands[day], |all, next| {
                    *all = solution::common_band([(*all)?, next]);
                    *all
                })
                .last()?;
            Some(solution::setpoint(&band))
        };
        SuitableSolutions {
            setpoints: (0..self.span.days).map(aim).collect(),
            bands,
        }
    }

    fn common_range_of(&self, crops: &BTreeSet<&str>) -> Option<SolutionRange> {
        let cards = crops.iter().filter_map(|key| self.garden.crop(key));
        solution::common_band(cards.map(|card| card.solution))
    }

    fn top_ups(&self, days: &[TankDay], solutions: &SuitableSolutions) -> Vec<TopUp> {
        // What stands there now is what the solution found there was mixed for.
        let mut aimed_at = solutions.ec_setpoint(0);
        let mut top_ups = Vec::new();
        for (at, day) in days.iter().enumerate() {
            if day.filling.is_some() {
                aimed_at = solutions.ec_setpoint(at);
            }
            if day.topped_up > 0 {
                let half_strength = day.top_up_water == rig::TopUpWater::HalfStrength;
                let stock = |aim| self.stock_in_half_strength(litres(day.topped_up), aim);
                top_ups.push(TopUp {
                    day: self.span.date(at),
                    litres: litres(day.topped_up),
                    half_strength,
                    stock_ml: aimed_at.filter(|_| half_strength).and_then(stock),
                });
            }
        }
        top_ups
    }

    fn stock_in_half_strength(&self, litres: f64, aimed_at: f64) -> Option<f64> {
        let target = solution::half_strength_ec(aimed_at, self.of_loop.nutrients.source_ec.get());
        self.stock_for(litres, target)
    }

    /// Stock in so many litres of an EC \[ml\], where its strength is stated.
    fn stock_for(&self, litres: f64, ec: f64) -> Option<f64> {
        let source = self.of_loop.nutrients.source_ec.get();
        let stock = self.of_loop.nutrients.stock_ec?.get();
        Some((solution::stock_to_mix(litres, ec, source, stock) * 1000.0).round())
    }

    fn changes(&self, days: &[TankDay], solutions: &SuitableSolutions) -> Vec<SolutionChange> {
        let changes = days.iter().enumerate().filter_map(|(at, day)| {
            let change = day.filling?;
            let aim = solutions.setpoints[at];
            let filled = litres(change.filled);
            let before = at.checked_sub(1).and_then(|eve| days[eve].ec);
            Some(SolutionChange {
                day: self.span.date(at),
                because: match change.reason {
                    FillingReason::Planting => ChangeReason::FirstPlanting,
                    FillingReason::Days => ChangeReason::Days,
                    FillingReason::Volume => ChangeReason::Volume,
                },
                drained: litres(change.drained),
                filled,
                tubes: change.includes_tubes,
                ec: aim.map(|(ec, _)| round_to_hundredths(ec)),
                ec_filled: change
                    .ec
                    .filter(|_| !change.includes_tubes)
                    .map(round_to_hundredths),
                ph: aim.map(|(_, ph)| round_to_hundredths(ph)),
                ec_before: before.filter(|_| !change.is_first).map(round_to_hundredths),
                stock_ml: change.ec.and_then(|ec| self.stock_for(filled, ec)),
            })
        });
        changes.collect()
    }

    fn drainages(&self, days: &[TankDay], course: &TankInputs) -> Vec<Drainage> {
        let emptied = days.iter().enumerate().filter(|(_, day)| day.drained > 0);
        let told = emptied.map(|(at, day)| Drainage {
            day: self.span.date(at),
            drained: litres(day.drained),
            until: course
                .plantings
                .iter()
                .find(|&&planting| planting > at)
                .map(|&planting| self.span.date(planting)),
        });
        told.collect()
    }

    /// Days on which the EC is expected above what suits by more than a meter tells.
    fn high_ec(&self, days: &[TankDay], course: &TankInputs) -> Option<HighEc> {
        let ecs = days
            .iter()
            .map(|day| day.ec)
            .zip(&course.ec_bands)
            .enumerate();
        // What little is left in a tank too low has no EC that could be told.
        let told = ecs.filter(|&(at, _)| days[at].level >= course.reserve);
        let above: Vec<(usize, f64, f64)> = told
            .filter_map(|(at, (ec, band))| Some((at, ec?, (*band)?.1)))
            .filter(|(_, ec, most)| ec - most > METER_RESOLUTION_EC)
            .collect();
        let worst = above.iter().copied();
        let (at, ec, suits) = worst.reduce(|a, b| if b.1 - b.2 > a.1 - a.2 { b } else { a })?;
        Some(HighEc {
            days: above.len(),
            worst: self.span.date(at),
            ec: round_to_hundredths(ec),
            suits,
        })
    }

    fn low_levels(&self, course: &TankInputs, days: &[TankDay]) -> Vec<LowLevel> {
        let mut stretches: Vec<(usize, usize)> = Vec::new();
        let mut runs = course.is_in_use;
        for (at, day) in days.iter().enumerate() {
            runs |= day.filling.is_some();
            if !runs || !course.is_planted[at] || day.level >= course.reserve {
                continue;
            }
            match stretches.last_mut() {
                Some((_, until)) if *until + 1 == at => *until = at,
                _ => stretches.push((at, at)),
            }
        }
        let told = stretches.into_iter().map(|(from, until)| {
            let days = &days[from..=until];
            LowLevel {
                from: self.span.date(from),
                until: self.span.date(until),
                lowest: litres(days.iter().map(|d| d.level).min().unwrap_or(0)),
                lacking: litres(days.iter().map(|d| d.shortfall).sum()),
            }
        });
        told.collect()
    }

    fn power_cuts(&self) -> Vec<PowerCut> {
        let banks = self.of_loop.banks.iter().zip(self.bank_demands);
        let told = banks.filter_map(|(bank, thirst)| {
            let open = tube::open_water_area(bank) * crop_water::OPEN_WATER_COEFFICIENT;
            let used = |day: usize| thirst.transpired[day] + thirst.reference[day] * open;
            let in_use = (0..thirst.transpired.len()).filter(|&day| thirst.transpired[day] > 0.0);
            let day = in_use.reduce(|a, b| if used(b) > used(a) { b } else { a })?;
            let standing = tube::standing_volume(bank);
            let hours = autonomy::autonomy_hours(standing, used(day), thirst.light_hours[day])?;
            Some(PowerCut {
                bank: bank.name.clone(),
                day: self.span.date(day),
                litres: round_to_hundredths(used(day)),
                hours: (hours * 10.0).floor() / 10.0,
            })
        });
        told.collect()
    }

    fn monthly_solutions(&self) -> Vec<MonthlySolution> {
        let mut crops: BTreeMap<NaiveDate, BTreeSet<&str>> = BTreeMap::new();
        for stay in &self.stays {
            for day in self.span.stay_range(stay) {
                let date = self.span.date(day);
                let month = date.with_day(1).unwrap_or(date);
                crops.entry(month).or_default().insert(&stay.crop);
            }
        }
        let months = crops.into_iter().map(|(month, crops)| {
            let band = self.common_range_of(&crops);
            MonthlySolution {
                month,
                ec: band.map(ec_limits),
                ph: band.map(|b| b.ph),
                apart: self.incompatible_pairs(&crops),
                crops: crops.into_iter().map(str::to_owned).collect(),
            }
        });
        months.collect()
    }

    fn incompatible_pairs(&self, crops: &BTreeSet<&str>) -> Vec<(String, String)> {
        let mut pairs = Vec::new();
        for &a in crops {
            for &b in crops.range(a..).skip(1) {
                let both = self.garden.crop(a).zip(self.garden.crop(b));
                let meet = both
                    .is_none_or(|(a, b)| solution::common_band([a.solution, b.solution]).is_some());
                if !meet {
                    pairs.push((a.to_owned(), b.to_owned()));
                }
            }
        }
        pairs
    }
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
pub(super) fn millilitres(litres: f64) -> u64 {
    (litres * 1000.0).round() as u64
}

#[allow(clippy::cast_precision_loss)]
fn litres(millilitres: u64) -> f64 {
    millilitres as f64 / 1000.0
}

fn round_to_hundredths(number: f64) -> f64 {
    (number * 100.0).round() / 100.0
}
