//! The acceptance sheet: a whole rig judged before anybody plants.

use std::collections::BTreeSet;

use chrono::NaiveDate;
use serde::Serialize;

use crate::garden::crop::Crop;
use crate::garden::holes::bank_holes;
use crate::garden::place::Cover;
use crate::garden::rig::{Bank, Form, Loop};
use crate::garden::{Garden, Rhythm};
use crate::nature::{air, evaporation};
use crate::plumbing::finding::{Basis, RigCheck, RigFinding, Verdict};
use crate::plumbing::{drain, drift, friction, load, outage, pump, solution, tube};

/// Water for each stream, at the least and as advised [l/h]: 1.5 and 2 l/min (common practice).
const STREAM_LITRES_PER_MINUTE: (f64, f64) = (90.0, 120.0);
/// The pump is rated at so many times what its streams ask for together (common practice).
const PUMP_MARGIN: f64 = 2.0;
/// The pump lifts so many times the height of the highest inlet: 2.5 m for 2 m (common practice).
const LIFT_MARGIN: f64 = 1.25;
/// Faster water in a hose is noisy and wastes the pump's lift [m/s] (common practice).
const MAX_HOSE_VELOCITY: f64 = 1.5;
/// The tank holds 4 to 5 times what stands in the tubes (common practice).
const TANK_TO_TUBE_WATER: f64 = 4.0;
/// Drains of an inch rather than three quarters (common practice) \[m\].
pub(crate) const DRAIN_BORES: (f64, f64) = (0.0254, 0.019_05);
/// Least slope and most filling of a drain (EN 12056-2, unvented branches of system I, from
/// memory).
pub(crate) const DRAIN_SLOPE: f64 = 0.01;
const DRAIN_FILL: f64 = 0.5;
/// Tubes stand half full; above that roots drown (common practice).
const TUBE_FILL: (f64, f64) = (0.5, 0.8);
/// Below so much young roots miss the water (common practice).
const MIN_TUBE_FILL: f64 = 0.25;
/// Between level tubes and between those of a wall \[m\] (common practice).
pub(crate) const TUBE_GAP: f64 = 0.3;
/// Above that the tubes of a wall waste its height \[m\] (common practice).
const WALL_GAP: f64 = 0.4;
/// A day's grace when the power fails \[h\] (common practice).
const TOLERANCE: f64 = 24.0;

/// Longer than anybody asks [h].
const DAYS_A_YEAR: f64 = 365.0 * 24.0;

/// The sheet.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CommissioningReport {
    /// Each loop, in the garden's order.
    pub loops: Vec<LoopReport>,
}

/// One loop.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LoopReport {
    /// Its name.
    pub r#loop: String,
    /// Streams that the pump feeds: one for each level tube and tower, one for a wall.
    pub streams: u32,
    /// From the water in the tank to the highest inlet \[m\].
    pub rises: f64,
    /// Whether that height is assumed, as neither hose nor banks say.
    pub rises_assumed: bool,
    /// What the streams ask for together, at 2 l/min each [l/h].
    pub asks: f64,
    /// What the pump gives there [l/h]; absent without a stated pump.
    pub delivered: Option<f64>,
    /// What the hose takes of the lift with that flow \[m\]; absent without a stated hose and pump.
    pub hose_takes: Option<f64>,
    /// Water in its tubes as it runs \[l\].
    pub in_tubes: f64,
    /// The day on which most is drunk; absent where every day is alike.
    pub thirstiest: Option<NaiveDate>,
    /// What is drunk and evaporates then, with a ripe plant in every hole \[l\].
    pub thirst: f64,
    /// The solution that suits all wanted crops together: EC [mS/cm] and pH, each least and most.
    pub band: Option<SolutionBand>,
    /// Its banks.
    pub banks: Vec<BankReport>,
    /// The judgements: of the loop, then bank by bank.
    pub findings: Vec<RigFinding>,
}

/// A band of solution and what to aim at in it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SolutionBand {
    /// EC, least and most [mS/cm].
    pub ec: (f64, f64),
    /// pH, least and most.
    pub ph: (f64, f64),
    /// EC and pH to aim at.
    pub aim: (f64, f64),
}

/// One bank.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BankReport {
    /// Its name.
    pub bank: String,
    /// Length of its tubes together \[m\].
    pub metres: f64,
    /// Water in it as it runs \[l\].
    pub standing: f64,
    /// Weight with water to the brim and a plant in every hole \[kg\].
    pub weight: f64,
    /// The same for each metre of tube [kg/m].
    pub weight_a_metre: f64,
    /// What its plants drink on its thirstiest day, a ripe one in every hole \[l\].
    pub thirst: f64,
    /// Hours that its roots stay wet without a pump on that day.
    pub hours_wet: f64,
}

/// Judges a garden's rig.
#[must_use]
pub fn commissioning_report(garden: &Garden) -> CommissioningReport {
    CommissioningReport {
        loops: garden
            .loops
            .iter()
            .map(|l| loop_report(garden, l))
            .collect(),
    }
}

fn loop_report(garden: &Garden, of_loop: &Loop) -> LoopReport {
    let banks: Vec<BankReport> = of_loop
        .banks
        .iter()
        .map(|b| bank_report(garden, b))
        .collect();
    let streams: u32 = of_loop.banks.iter().map(tube::inflow_count).sum();
    let (rises, rises_assumed) = static_head(of_loop);
    let hose = of_loop.hose.as_ref();
    let delivered = of_loop
        .pump
        .as_ref()
        .map(|p| pump::operating_flow(p, hose, rises));
    let (thirstiest, evaporated) = open_water(garden, of_loop);
    let band =
        solution::common_band(required_flow(garden).map(|c| c.solution)).map(|b| SolutionBand {
            ec: (b.ec.0.get(), b.ec.1.get()),
            ph: b.ph,
            aim: solution::set_point(&b),
        });
    let indoors = matches!(garden.place.cover, Cover::Indoors { .. });
    let mut sheet = LoopReport {
        r#loop: of_loop.name.clone(),
        streams,
        rises,
        rises_assumed,
        asks: f64::from(streams) * STREAM_LITRES_PER_MINUTE.1,
        delivered,
        hose_takes: delivered
            .zip(hose)
            .map(|(flow, hose)| friction::hose_friction_loss(hose, flow)),
        in_tubes: banks.iter().map(|b| b.standing).sum(),
        thirstiest: (!indoors).then_some(thirstiest),
        thirst: banks.iter().map(|b| b.thirst).sum::<f64>() + evaporated,
        band,
        banks,
        findings: Vec::new(),
    };
    let judged = [
        pump_findings(&sheet, of_loop),
        tank_findings(&sheet, of_loop, &garden.rhythm),
        drain_findings(&sheet, of_loop),
        solution_findings(garden, of_loop, sheet.band.as_ref()),
        bank_findings(&sheet, of_loop),
    ];
    sheet.findings = judged.concat();
    sheet
}

/// Height of the highest inlet above the water: as the hose says, else that of the highest bank
/// above the floor, and whether that is a guess.
fn static_head(of_loop: &Loop) -> (f64, bool) {
    if let Some(rises) = of_loop.hose.and_then(|hose| hose.rises) {
        return (rises.get(), false);
    }
    let height = |bank: &Bank| tube::inlet_height(bank);
    let highest = of_loop.banks.iter().map(height).fold(0.0, f64::max);
    let stated = of_loop
        .banks
        .iter()
        .any(|b| !matches!(b.form, Form::Level { .. }) && height(b) >= highest);
    (highest, !stated)
}

fn required_flow(garden: &Garden) -> impl Iterator<Item = &Crop> {
    let keys: BTreeSet<&str> = garden
        .wants
        .iter()
        .flat_map(|w| &w.from_crops)
        .map(String::as_str)
        .collect();
    let keys: Vec<&str> = keys.into_iter().collect();
    keys.into_iter().filter_map(|key| garden.crop(key))
}

fn bank_report(garden: &Garden, bank: &Bank) -> BankReport {
    let place = &garden.place;
    let (day, mm) = evaporation::peak_demand_day(place, &place.cover, bank.light, garden.start);
    #[allow(clippy::cast_precision_loss)]
    let holes = bank_holes(bank) as f64;
    let thirst = holes * mm * peak_plant_demand(garden, bank);
    let standing = tube::standing_water(bank);
    let light_hours =
        air::growing_conditions(place, &place.cover, bank.light, day, 1)[0].day_length;
    let used = thirst + tube::open_water(bank) * mm * evaporation::OPEN_WATER_COEFFICIENT;
    BankReport {
        bank: bank.name.clone(),
        metres: tube::tube_metres(bank),
        standing,
        weight: load::bank_weight(bank),
        weight_a_metre: load::weight_a_metre(bank),
        thirst,
        hours_wet: outage::autonomy_hours(standing, used, light_hours).unwrap_or(DAYS_A_YEAR),
    }
}

/// What the thirstiest of the wanted crops draws for each mm of the reference \[l\], ripe, and no
/// wider than leaves room for another like it in the next hole.
fn peak_plant_demand(garden: &Garden, bank: &Bank) -> f64 {
    let room = bank.hole_every.get() * (1.0 + garden.spacing.crowding.get());
    let plants = required_flow(garden).map(|crop| {
        let width = crop.size.spread.get().min(room);
        evaporation::plant_transpiration(crop, 1.0, 1.0, width)
    });
    plants.fold(0.0, f64::max)
}

/// The thirstiest day of a loop's brightest bank, and what evaporates from open water then \[l\].
fn open_water(garden: &Garden, of_loop: &Loop) -> (NaiveDate, f64) {
    let place = &garden.place;
    let of_bank =
        |bank: &Bank| evaporation::peak_demand_day(place, &place.cover, bank.light, garden.start);
    let (day, mm) = of_loop
        .banks
        .iter()
        .map(of_bank)
        .reduce(|a, b| if b.1 > a.1 { b } else { a })
        .unwrap_or((garden.start, 0.0));
    let tubes: f64 = of_loop.banks.iter().map(tube::open_water).sum();
    let area = tubes + load::open_tank(&of_loop.tank);
    (day, area * mm * evaporation::OPEN_WATER_COEFFICIENT)
}

fn pump_findings(sheet: &LoopReport, of_loop: &Loop) -> Vec<RigFinding> {
    let Some(pump) = &of_loop.pump else {
        return Vec::new();
    };
    let rated = pump.moves.get();
    let mut findings = vec![
        RigFinding::graded(
            RigCheck::PumpRating,
            rated,
            sheet.asks * PUMP_MARGIN,
            sheet.asks,
            Basis::Trade,
        ),
        RigFinding::graded(
            RigCheck::PumpLift,
            pump.lifts.get(),
            sheet.rises * LIFT_MARGIN,
            sheet.rises,
            Basis::Trade,
        ),
    ];
    if let Some(delivered) = sheet.delivered {
        let each = delivered / f64::from(sheet.streams);
        findings.push(RigFinding::graded(
            RigCheck::StreamFlow,
            each,
            STREAM_LITRES_PER_MINUTE.0,
            STREAM_LITRES_PER_MINUTE.0 / 2.0,
            Basis::Trade,
        ));
        if let Some(hose) = &of_loop.hose {
            let speed = friction::velocity(delivered, hose.bore.get());
            findings.push(RigFinding::graded(
                RigCheck::HoseSpeed,
                speed,
                MAX_HOSE_VELOCITY,
                f64::INFINITY,
                Basis::Trade,
            ));
        }
    }
    findings
}

fn tank_findings(sheet: &LoopReport, of_loop: &Loop, rhythm: &Rhythm) -> Vec<RigFinding> {
    let tank = &of_loop.tank;
    let holds = tank.holds.get();
    let mut findings = Vec::new();
    if sheet.in_tubes > 0.0 {
        let times = holds / sheet.in_tubes;
        findings.push(RigFinding::graded(
            RigCheck::TankSize,
            times,
            TANK_TO_TUBE_WATER,
            TANK_TO_TUBE_WATER / 2.0,
            Basis::Trade,
        ));
    }
    if sheet.thirst > 0.0 {
        let lasts = holds * (1.0 - tank.never_below.get()) / sheet.thirst;
        let gap = longest_gap(rhythm);
        findings.push(RigFinding::graded(
            RigCheck::TankLasts,
            lasts,
            gap,
            gap / 2.0,
            Basis::Workdays,
        ));
    }
    if tank.open {
        let area = load::open_tank(tank);
        findings.push(RigFinding::to_look_at(
            RigCheck::OpenTank,
            area,
            Basis::Trade,
        ));
    }
    if let Some(footprint) = &tank.footprint {
        let mut finding = RigFinding::graded(
            RigCheck::FloorLoad,
            load::floor_pressure(holds, footprint),
            load::FLOOR_LOAD,
            f64::INFINITY,
            Basis::FloorStandard,
        );
        // A small load is no proof that the floor bears it.
        finding.verdict = Verdict::Warn;
        findings.push(finding);
    }
    findings
}

/// The most days from one workday to the next in an ordinary week.
fn longest_gap(rhythm: &Rhythm) -> f64 {
    let days: Vec<u32> = rhythm
        .workdays
        .iter()
        .map(|day| day.num_days_from_monday())
        .collect();
    let next = days.iter().cycle().skip(1);
    let gaps = days.iter().zip(next).map(|(&a, &b)| {
        let gap = (b + 7 - a) % 7;
        if gap == 0 { 7 } else { gap }
    });
    f64::from(gaps.max().unwrap_or(7))
}

fn drain_findings(sheet: &LoopReport, of_loop: &Loop) -> Vec<RigFinding> {
    let Some(drain) = &of_loop.drain else {
        return Vec::new();
    };
    let (bore, slope) = (drain.bore.get(), drain.slope.get());
    let mut findings = vec![
        RigFinding::graded(
            RigCheck::DrainBore,
            bore,
            DRAIN_BORES.0,
            DRAIN_BORES.1,
            Basis::Trade,
        ),
        RigFinding::graded(
            RigCheck::DrainSlope,
            slope,
            DRAIN_SLOPE,
            0.0,
            Basis::DrainStandard,
        ),
    ];
    let pipes = f64::from(drain.pipes.unwrap_or(sheet.streams));
    // A pump too weak today is one day a better one, and its drains are not looked at again.
    let flow = sheet.delivered.unwrap_or(0.0).max(sheet.asks) / pipes;
    let filled = drain::fill_of(bore, slope, flow);
    findings.push(RigFinding::graded(
        RigCheck::DrainFill,
        // What a pipe cannot carry stands above it.
        filled.unwrap_or(flow / drain::gravity_flow(bore, slope, 1.0).max(f64::MIN_POSITIVE)),
        DRAIN_FILL,
        0.75,
        Basis::DrainStandard,
    ));
    findings
}

fn solution_findings(
    garden: &Garden,
    of_loop: &Loop,
    band: Option<&SolutionBand>,
) -> Vec<RigFinding> {
    let crops: Vec<&Crop> = required_flow(garden).collect();
    let pairs = crops.iter().enumerate().flat_map(|(at, a)| {
        let others = crops[at + 1..].iter();
        others.filter(move |b| solution::common_band([a.solution, b.solution]).is_none())
    });
    #[allow(clippy::cast_precision_loss)]
    let apart = pairs.count() as f64;
    let from = Basis::Cards;
    let mut findings = vec![RigFinding::graded(
        RigCheck::SharedSolution,
        apart,
        0.0,
        f64::INFINITY,
        from,
    )];
    let source = of_loop.solution.source_ec.get();
    findings.push(RigFinding::graded(
        RigCheck::TopUpWater,
        source,
        drift::UPTAKE_EC_SHARE,
        f64::INFINITY,
        Basis::Estimate,
    ));
    if let Some(band) = band {
        findings.push(RigFinding::graded(
            RigCheck::SourceWater,
            source,
            band.aim.0 / 2.0,
            band.ec.1,
            Basis::HalfTheAim,
        ));
    }
    findings
}

fn bank_findings(sheet: &LoopReport, of_loop: &Loop) -> Vec<RigFinding> {
    let both = of_loop.banks.iter().zip(&sheet.banks);
    let findings = both.flat_map(|(bank, figures)| {
        let mut of_bank = Vec::new();
        if let Form::Level {
            tubes, tube_gap, ..
        }
        | Form::Wall {
            tubes, tube_gap, ..
        } = bank.form
        {
            let filled = bank.filled.get();
            let mut fill = RigFinding::graded(
                RigCheck::TubeFill,
                filled,
                TUBE_FILL.0,
                TUBE_FILL.1,
                Basis::Trade,
            );
            if filled < MIN_TUBE_FILL {
                fill.verdict = Verdict::Warn;
            }
            of_bank.push(fill);
            if tubes > 1 {
                let gap = tube_gap.get();
                let is_wall = matches!(bank.form, Form::Wall { .. });
                let finding = if is_wall && gap > WALL_GAP + 1.0e-9 {
                    RigFinding::graded(
                        RigCheck::WallGap,
                        gap,
                        WALL_GAP,
                        f64::INFINITY,
                        Basis::Trade,
                    )
                } else {
                    RigFinding::graded(RigCheck::TubeGap, gap, TUBE_GAP, 0.0, Basis::Trade)
                };
                of_bank.push(finding);
            }
        }
        of_bank.push(RigFinding::graded(
            RigCheck::PowerCut,
            figures.hours_wet,
            TOLERANCE,
            0.0,
            Basis::Trade,
        ));
        of_bank.push(RigFinding::to_look_at(
            RigCheck::Weight,
            figures.weight,
            Basis::Licensed,
        ));
        of_bank.into_iter().map(|f| f.about(&bank.name))
    });
    findings.collect()
}
