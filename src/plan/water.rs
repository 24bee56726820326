//! What the plan's plants drink, day by day, and what that makes of each tank: `water` in
//! `plan.json`.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike, Days, NaiveDate};
use serde::{Deserialize, Serialize};

use super::{Stay, TubeClean};
use crate::garden::Garden;
use crate::garden::crop::{Crop, Solution};
use crate::garden::rig::{Bank, Loop};
use crate::nature::air::{self, DayAir};
use crate::nature::canopy::Canopy;
use crate::nature::evaporation;
use crate::nature::growth::Growth;
use crate::plumbing::drift::{self, There};
use crate::plumbing::tank::{self, Course, Found, TankDay, Why};
use crate::plumbing::{load, outage, solution, tube};

/// The water of one loop, day by day from the plan's first day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LoopWater {
    /// The loop's name.
    pub r#loop: String,
    /// The day before the plan's first on which it was last filled with fresh solution, if known.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub filled: Option<NaiveDate>,
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
    /// Times when the tank falls below what the garden states as its least.
    pub low: Vec<Low>,
    /// How long roots stay wet without a pump, for each of its banks.
    pub power_cut: Vec<PowerCut>,
    /// The solution that suits all that stands in the loop, month by month.
    pub months: Vec<MonthOfSolution>,
}

impl LoopWater {
    /// Litres used from one morning to another, both among the days from `start`, the first; `None`
    /// where they are not.
    #[must_use]
    pub fn used_between(&self, start: NaiveDate, [from, to]: [NaiveDate; 2]) -> Option<f64> {
        let at = |day: NaiveDate| usize::try_from((day - start).num_days()).ok();
        Some(self.used.get(at(from)?..at(to)?)?.iter().sum())
    }
}

/// Water poured into a tank.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TopUp {
    /// The workday.
    pub day: NaiveDate,
    /// How much.
    pub litres: f64,
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
    pub because: Because,
    /// Litres poured out.
    pub drained: f64,
    /// Litres filled in: tank and tubes where the loop begins to run, else the tank.
    pub filled: f64,
    /// EC to aim at [mS/cm]; absent where no solution suits all that stands there.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub ec: Option<f64>,
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

/// What calls for a filling.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Because {
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
pub struct Low {
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
    /// Litres that its plants drink on that day.
    pub litres: f64,
    /// Hours from that morning until what stands in its tubes is gone.
    pub hours: f64,
}

/// The solution of a loop in a month.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MonthOfSolution {
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
pub fn water(
    garden: &Garden,
    (start, last): (NaiveDate, NaiveDate),
    stays: &[Stay],
    cleans: &[TubeClean],
) -> Vec<LoopWater> {
    water_from(garden, (start, last), &[], stays, cleans)
}

/// [`water`] from how each loop's tank is found on the first morning.
#[must_use]
pub fn water_from(
    garden: &Garden,
    (start, last): (NaiveDate, NaiveDate),
    tanks: &[Found],
    stays: &[Stay],
    cleans: &[TubeClean],
) -> Vec<LoopWater> {
    let span = Span::new(start, last);
    let thirst = Thirst::new(garden, span, stays);
    let mut banks = 0;
    garden
        .loops
        .iter()
        .enumerate()
        .map(|(at, of_loop)| {
            let first_bank = banks;
            banks += of_loop.banks.len();
            let names: Vec<&str> = of_loop.banks.iter().map(|b| b.name.as_str()).collect();
            let here = |hole: &str, parts: usize| {
                let bank = hole.rsplitn(parts + 1, '-').nth(parts);
                bank.is_some_and(|bank| names.contains(&bank))
            };
            One {
                garden,
                of_loop,
                found: tanks.get(at).copied().unwrap_or_default(),
                span,
                stays: stays.iter().filter(|s| here(&s.hole, 2)).collect(),
                cleans: cleans.iter().filter(|c| here(&c.tube, 1)).collect(),
                banks: &thirst.banks[first_bank..banks],
            }
            .water()
        })
        .collect()
}

/// The shown days.
#[derive(Debug, Clone, Copy)]
struct Span {
    start: NaiveDate,
    days: usize,
}

impl Span {
    fn new(start: NaiveDate, last: NaiveDate) -> Self {
        Self {
            start,
            days: index(start, last) + 1,
        }
    }

    fn date(self, day: usize) -> NaiveDate {
        self.start + Days::new(day as u64)
    }

    /// The shown days of a stay.
    fn of(self, stay: &Stay) -> std::ops::Range<usize> {
        let from = index(self.start, stay.transplant).min(self.days);
        let until = index(self.start, stay.removal).min(self.days);
        from..until.max(from)
    }
}

fn index(first: NaiveDate, day: NaiveDate) -> usize {
    usize::try_from((day - first).num_days()).unwrap_or(0)
}

/// What is drunk and what evaporates in every bank.
struct Thirst {
    banks: Vec<BankThirst>,
}

/// Development and canopy diameter \[m\] of a plant, day by day from transplant.
type Grown = Vec<(f64, f64)>;

/// One bank's days.
struct BankThirst {
    /// Drunk on each day \[l\].
    drunk: Vec<f64>,
    /// What a full canopy would draw on each day [mm].
    reference: Vec<f64>,
    /// Hours of light on each day.
    light_hours: Vec<f64>,
}

impl Thirst {
    fn new(garden: &Garden, span: Span, stays: &[Stay]) -> Self {
        // Plants may have stood before the first day, and stand beyond the last.
        let first = stays.iter().map(|s| s.transplant).min();
        let first = first.unwrap_or(span.start).min(span.start);
        let end = stays.iter().map(|s| s.removal).max();
        let last = span.date(span.days - 1);
        let days = index(first, end.unwrap_or(last).max(last)) + 1;
        let banks = garden.loops.iter().flat_map(|l| &l.banks);
        let banks = banks.map(|bank| {
            let of_bank = stays
                .iter()
                .filter(|s| s.hole.rsplitn(3, '-').nth(2) == Some(bank.name.as_str()));
            BankThirst::new(garden, bank, span, (first, days), of_bank)
        });
        Self {
            banks: banks.collect(),
        }
    }
}

impl BankThirst {
    fn new<'a>(
        garden: &Garden,
        bank: &Bank,
        span: Span,
        (first, days): (NaiveDate, usize),
        stays: impl Iterator<Item = &'a Stay>,
    ) -> Self {
        let place = &garden.place;
        let air = air::air(place, &place.cover, bank.light, first, days);
        let reference = evaporation::reference(place, &place.cover, bank.light, first, days);
        let shown = index(first, span.start)..index(first, span.start) + span.days;
        let mut drunk = vec![0.0; days];
        // Stays of one crop and transplant are alike, so each course is grown once.
        let mut courses: BTreeMap<(&str, NaiveDate), Option<Grown>> = BTreeMap::new();
        let mut growths: BTreeMap<&str, Growth> = BTreeMap::new();
        for stay in stays {
            let Some(crop) = garden.crop(&stay.crop) else {
                continue;
            };
            let from = index(first, stay.transplant);
            let course = courses
                .entry((&crop.key, stay.transplant))
                .or_insert_with(|| {
                    let growth = growths
                        .entry(&crop.key)
                        .or_insert_with(|| Growth::new(crop, &air));
                    let is_workday =
                        |day: usize| garden.rhythm.is_workday(first + Days::new(day as u64));
                    let life = growth.life(from, &is_workday).ok()?;
                    Some(life.development.into_iter().zip(life.diameter).collect())
                });
            let stays_for = index(stay.transplant, stay.removal);
            for day in 0..stays_for {
                let grown = course.as_ref().and_then(|c| c.get(day).or(c.last()));
                let (development, diameter) = grown
                    .copied()
                    .unwrap_or_else(|| evenly(crop, day, stays_for));
                drunk[from + day] +=
                    evaporation::plant_water(crop, reference[from + day], development, diameter);
            }
        }
        Self {
            drunk: drunk[shown.clone()].to_vec(),
            reference: reference[shown.clone()].to_vec(),
            light_hours: air[shown]
                .iter()
                .map(|day: &DayAir| day.day_length)
                .collect(),
        }
    }

    /// The day on which most is drunk; none if nothing ever is.
    fn thirstiest(&self) -> Option<usize> {
        let days = (0..self.drunk.len()).filter(|&day| self.drunk[day] > 0.0);
        days.reduce(|a, b| if self.drunk[b] > self.drunk[a] { b } else { a })
    }
}

/// Development and canopy of a plant whose growth cannot be followed, as the garden is another by
/// now: ripe in the end, steadily.
fn evenly(crop: &Crop, day: usize, of: usize) -> (f64, f64) {
    #[allow(clippy::cast_precision_loss)]
    let development = day as f64 / of.max(1) as f64;
    (development, Canopy::of(&crop.size).diameter(development))
}

/// One loop.
struct One<'a> {
    garden: &'a Garden,
    of_loop: &'a Loop,
    /// How its tank is found on the first morning.
    found: Found,
    span: Span,
    stays: Vec<&'a Stay>,
    cleans: Vec<&'a TubeClean>,
    banks: &'a [BankThirst],
}

impl One<'_> {
    fn water(&self) -> LoopWater {
        let course = self.course();
        let days = tank::follow(&course);
        let fresh = |day: usize| self.aim_on(day);
        let there = There {
            millilitres: tank::at_start(&course),
            ec: self.found.ec,
        };
        let is_known = self.found.filled_ago.is_some() || self.found.ec.is_some();
        let there = Some(there).filter(|_| course.in_use && is_known);
        let nutrients = &self.of_loop.solution;
        let ec = drift::drift(&days, course.standing, nutrients, there, fresh);
        LoopWater {
            r#loop: self.of_loop.name.clone(),
            filled: self.filled_before(),
            in_tubes: litres(course.standing),
            used: days
                .iter()
                .map(|d| litres(d.drunk + d.evaporated))
                .collect(),
            level: days.iter().map(|d| litres(d.level)).collect(),
            top_ups: self.top_ups(&days),
            changes: self.changes(&days, &ec),
            low: self.low(&course, &days),
            ec: ec.into_iter().map(|ec| ec.map(hundredths)).collect(),
            power_cut: self.power_cut(),
            months: self.months(),
        }
    }

    fn course(&self) -> Course {
        let tank = &self.of_loop.tank;
        let holds = millilitres(tank.holds.get());
        let days = self.span.days;
        let sum = |day: usize| self.banks.iter().map(|b| b.drunk[day]).sum();
        let planted = self.planted();
        let workdays = self.workdays();
        Course {
            holds,
            reserve: millilitres(tank.holds.get() * tank.never_below.get()),
            standing: self
                .of_loop
                .banks
                .iter()
                .map(|b| millilitres(tube::standing_water(b)))
                .sum(),
            drunk: (0..days).map(|day| millilitres(sum(day))).collect(),
            evaporated: (0..days)
                .map(|day| millilitres(self.evaporated(day)))
                .collect(),
            planted,
            in_use: self.stays.iter().any(|s| self.stood_before(s)),
            found: self.found,
            plantings: self.plantings(),
            leaving: self.leaving(&workdays),
            workdays,
            cleans: self.clean_days(),
            change_every: self.change_every(),
        }
    }

    fn filled_before(&self) -> Option<NaiveDate> {
        let ago = Days::new(self.found.filled_ago? as u64);
        self.span.start.checked_sub_days(ago)
    }

    /// What evaporates from open water on a day \[l\]: from the tank under the first bank's air.
    fn evaporated(&self, day: usize) -> f64 {
        let reference = |at: usize| self.banks[at].reference[day] * evaporation::OPEN_WATER;
        let banks = self.of_loop.banks.iter().enumerate();
        let tubes: f64 = banks
            .map(|(at, bank)| tube::open_water(bank) * reference(at))
            .sum();
        tubes + load::open_tank(&self.of_loop.tank) * reference(0)
    }

    /// Whether something stands in the loop at the end of each day's work.
    fn planted(&self) -> Vec<bool> {
        let mut planted = vec![false; self.span.days];
        for stay in &self.stays {
            planted[self.span.of(stay)].fill(true);
        }
        planted
    }

    /// Whether a stay began before the first day, whose work it saw.
    fn stood_before(&self, stay: &Stay) -> bool {
        let start = self.span.start;
        (stay.transplant < start || stay.stands) && stay.removal >= start
    }

    fn plantings(&self) -> Vec<usize> {
        let days: BTreeSet<usize> = self
            .stays
            .iter()
            .filter(|s| !self.stood_before(s) && s.transplant >= self.span.start)
            .map(|s| index(self.span.start, s.transplant))
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
    fn leaving(&self, workdays: &[usize]) -> Vec<usize> {
        let absences = self.garden.rhythm.away.iter();
        let days: BTreeSet<usize> = absences
            .filter(|away| away.from > self.span.start)
            .filter_map(|away| {
                let from = index(self.span.start, away.from);
                let before = workdays.partition_point(|&day| day < from);
                before.checked_sub(1).map(|at| workdays[at])
            })
            .collect();
        days.into_iter().collect()
    }

    fn clean_days(&self) -> Vec<usize> {
        let shown = self.cleans.iter().filter(|c| c.day >= self.span.start);
        let days: BTreeSet<usize> = shown.map(|c| index(self.span.start, c.day)).collect();
        days.into_iter().collect()
    }

    /// Whole days, at least one: a longer interval than the plan simply never comes round.
    fn change_every(&self) -> usize {
        let every = self.garden.rhythm.change_solution.get();
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let every = every.round().clamp(1.0, 1e6) as usize;
        every
    }

    /// The band that suits all that stands in the loop when a day's work is done.
    fn band_on(&self, day: usize) -> Option<Solution> {
        let standing = self.stays.iter().filter(|s| self.span.of(s).contains(&day));
        let crops: BTreeSet<&str> = standing.map(|s| s.crop.as_str()).collect();
        self.band_of(&crops)
    }

    /// The EC of fresh solution on a day.
    fn aim_on(&self, day: usize) -> Option<f64> {
        self.band_on(day).map(|b| solution::set_point(&b).0)
    }

    fn band_of(&self, crops: &BTreeSet<&str>) -> Option<Solution> {
        let cards = crops.iter().filter_map(|key| self.garden.crop(key));
        solution::common(cards.map(|card| card.solution))
    }

    fn top_ups(&self, days: &[TankDay]) -> Vec<TopUp> {
        // What stands there now is what the solution found there was mixed for.
        let mut aimed_at = self.aim_on(0);
        let mut top_ups = Vec::new();
        for (at, day) in days.iter().enumerate() {
            if day.change.is_some() {
                aimed_at = self.aim_on(at);
            }
            if day.topped_up > 0 {
                top_ups.push(TopUp {
                    day: self.span.date(at),
                    litres: litres(day.topped_up),
                    stock_ml: self.stock_in_top_up(litres(day.topped_up), aimed_at),
                });
            }
        }
        top_ups
    }

    fn stock_in_top_up(&self, litres: f64, aimed_at: Option<f64>) -> Option<f64> {
        let nutrients = &self.of_loop.solution;
        let source = nutrients.source_ec.get();
        if nutrients.top_up == crate::garden::rig::TopUp::PlainWater {
            return None;
        }
        let target = solution::half_strength(aimed_at?, source);
        let stock = nutrients.stock?.get();
        Some((solution::stock_for(litres, target, source, stock) * 1000.0).round())
    }

    fn changes(&self, days: &[TankDay], ec: &[Option<f64>]) -> Vec<SolutionChange> {
        let nutrients = &self.of_loop.solution;
        let changes = days.iter().enumerate().filter_map(|(at, day)| {
            let change = day.change?;
            let aim = self.band_on(at).map(|b| solution::set_point(&b));
            let filled = litres(change.filled);
            let before = at.checked_sub(1).and_then(|eve| ec[eve]);
            Some(SolutionChange {
                day: self.span.date(at),
                because: match change.why {
                    Why::Planting => Because::FirstPlanting,
                    Why::Days => Because::Days,
                    Why::Volume => Because::Volume,
                },
                drained: litres(change.drained),
                filled,
                ec: aim.map(|(ec, _)| hundredths(ec)),
                ph: aim.map(|(_, ph)| hundredths(ph)),
                ec_before: before.filter(|_| !change.first).map(hundredths),
                stock_ml: aim.zip(nutrients.stock).map(|((ec, _), stock)| {
                    let source = nutrients.source_ec.get();
                    (solution::stock_for(filled, ec, source, stock.get()) * 1000.0).round()
                }),
            })
        });
        changes.collect()
    }

    fn low(&self, course: &Course, days: &[TankDay]) -> Vec<Low> {
        let mut stretches: Vec<(usize, usize)> = Vec::new();
        let mut runs = course.in_use;
        for (at, day) in days.iter().enumerate() {
            runs |= day.change.is_some();
            if !runs || !course.planted[at] || day.level >= course.reserve {
                continue;
            }
            match stretches.last_mut() {
                Some((_, until)) if *until + 1 == at => *until = at,
                _ => stretches.push((at, at)),
            }
        }
        let told = stretches.into_iter().map(|(from, until)| {
            let days = &days[from..=until];
            Low {
                from: self.span.date(from),
                until: self.span.date(until),
                lowest: litres(days.iter().map(|d| d.level).min().unwrap_or(0)),
                lacking: litres(days.iter().map(|d| d.lacking).sum()),
            }
        });
        told.collect()
    }

    fn power_cut(&self) -> Vec<PowerCut> {
        let banks = self.of_loop.banks.iter().zip(self.banks);
        let told = banks.filter_map(|(bank, thirst)| {
            let day = thirst.thirstiest()?;
            let drunk = thirst.drunk[day];
            let standing = tube::standing_water(bank);
            let hours = outage::hours_wet(standing, drunk, thirst.light_hours[day])?;
            Some(PowerCut {
                bank: bank.name.clone(),
                day: self.span.date(day),
                litres: hundredths(drunk),
                hours: (hours * 10.0).floor() / 10.0,
            })
        });
        told.collect()
    }

    fn months(&self) -> Vec<MonthOfSolution> {
        let mut crops: BTreeMap<NaiveDate, BTreeSet<&str>> = BTreeMap::new();
        for stay in &self.stays {
            for day in self.span.of(stay) {
                let date = self.span.date(day);
                let month = date.with_day(1).unwrap_or(date);
                crops.entry(month).or_default().insert(&stay.crop);
            }
        }
        let months = crops.into_iter().map(|(month, crops)| {
            let band = self.band_of(&crops);
            MonthOfSolution {
                month,
                ec: band.map(|b| (b.ec.0.get(), b.ec.1.get())),
                ph: band.map(|b| b.ph),
                apart: self.apart(&crops),
                crops: crops.into_iter().map(str::to_owned).collect(),
            }
        });
        months.collect()
    }

    fn apart(&self, crops: &BTreeSet<&str>) -> Vec<(String, String)> {
        let mut pairs = Vec::new();
        for &a in crops {
            for &b in crops.range(a..).skip(1) {
                let both = self.garden.crop(a).zip(self.garden.crop(b));
                let meet =
                    both.is_none_or(|(a, b)| solution::common([a.solution, b.solution]).is_some());
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

fn hundredths(number: f64) -> f64 {
    (number * 100.0).round() / 100.0
}
