//! The acceptance sheet: a whole rig judged before anybody plants.

use std::collections::BTreeSet;

use chrono::NaiveDate;
use serde::Serialize;

use crate::garden::crop::Crop;
use crate::garden::holes::bank_hole_count;
use crate::garden::place::Cover;
use crate::garden::rig::{Bank, BankForm, Loop};
use crate::garden::{Garden, WorkSchedule};
use crate::nature::{air, crop_water};
use crate::plumbing::finding::{Basis, RigCheck, RigFinding, Verdict};
use crate::plumbing::{autonomy, drain, ec_drift, friction, load, pump, solution, tube};

/// Water for each stream, at the least and as advised [l/h]: 1.5 and 2 l/min (common practice).
const STREAM_LITRES_PER_HOUR: (f64, f64) = (90.0, 120.0);
/// The pump is rated at so many times what its streams ask for together (common practice).
const PUMP_FLOW_FACTOR: f64 = 2.0;
/// The pump lifts so many times the height of the highest inlet: 2.5 m for 2 m (common practice).
const PUMP_HEAD_FACTOR: f64 = 1.25;
/// Faster water in a hose is noisy and wastes the pump's lift [m/s] (common practice).
const MAX_HOSE_VELOCITY: f64 = 1.5;
/// The tank holds 4 to 5 times what stands in the tubes (common practice).
const MIN_TANK_TO_TUBE_RATIO: f64 = 4.0;
/// Drains of an inch rather than three quarters (common practice) \[m\].
pub(crate) const DRAIN_BORE_LIMITS: (f64, f64) = (0.0254, 0.019_05);
/// Least slope and most filling of a drain (EN 12056-2, unvented branches of system I, from
/// memory).
pub(crate) const MIN_DRAIN_SLOPE: f64 = 0.01;
const MAX_DRAIN_FILL: f64 = 0.5;
/// Tubes stand half full; above that roots drown (common practice).
const TUBE_FILL_LIMITS: (f64, f64) = (0.5, 0.8);
/// Below so much young roots miss the water (common practice).
const MIN_TUBE_FILL: f64 = 0.25;
/// Between level tubes and between those of a wall \[m\] (common practice).
pub(crate) const MIN_TUBE_GAP: f64 = 0.3;
/// Above that the tubes of a wall waste its height \[m\] (common practice).
const MAX_WALL_GAP: f64 = 0.4;
/// A day's grace when the power fails \[h\] (common practice).
const MIN_AUTONOMY_HOURS: f64 = 24.0;

/// Longer than anybody asks [h].
const HOURS_PER_YEAR: f64 = 365.0 * 24.0;

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
    let streams: u32 = of_loop.banks.iter().map(tube::stream_count).sum();
    let (rises, rises_assumed) = static_head(of_loop);
    let hose = of_loop.hose.as_ref();
    let delivered = of_loop
        .pump
        .as_ref()
        .map(|p| pump::operating_flow(p, hose, rises));
    let (thirstiest, evaporated) = peak_evaporation(garden, of_loop);
    let band =
        solution::common_band(wanted_crops(garden).map(|c| c.solution)).map(|b| SolutionBand {
            ec: (b.ec.0.get(), b.ec.1.get()),
            ph: b.ph,
            aim: solution::setpoint(&b),
        });
    let indoors = matches!(garden.place.cover, Cover::Indoors { .. });
    let mut report = LoopReport {
        r#loop: of_loop.name.clone(),
        streams,
        rises,
        rises_assumed,
        asks: f64::from(streams) * STREAM_LITRES_PER_HOUR.1,
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
        pump_findings(&report, of_loop),
        tank_findings(&report, of_loop, &garden.rhythm),
        drain_findings(&report, of_loop),
        solution_findings(garden, of_loop, report.band.as_ref()),
        bank_findings(&report, of_loop),
    ];
    report.findings = judged.concat();
    report
}

/// Height of the highest inlet above the water: as the hose says, else that of the highest bank
/// above the floor, and whether that is a guess.
fn static_head(of_loop: &Loop) -> (f64, bool) {
    if let Some(rises) = of_loop.hose.and_then(|hose| hose.static_head) {
        return (rises.get(), false);
    }
    let height = |bank: &Bank| tube::inlet_height(bank);
    let highest = of_loop.banks.iter().map(height).fold(0.0, f64::max);
    let stated = of_loop
        .banks
        .iter()
        .any(|b| !matches!(b.form, BankForm::Level { .. }) && height(b) >= highest);
    (highest, !stated)
}

fn wanted_crops(garden: &Garden) -> impl Iterator<Item = &Crop> {
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
    let (day, mm) =
        crop_water::peak_demand_day(place, &place.cover, bank.light_share, garden.start);
    #[allow(clippy::cast_precision_loss)]
    let holes = bank_hole_count(bank) as f64;
    let thirst = holes * mm * peak_plant_demand(garden, bank);
    let standing = tube::standing_volume(bank);
    let light_hours =
        air::growing_conditions(place, &place.cover, bank.light_share, day, 1)[0].day_length;
    let used = thirst + tube::open_water_area(bank) * mm * crop_water::OPEN_WATER_COEFFICIENT;
    BankReport {
        bank: bank.name.clone(),
        metres: tube::total_tube_length(bank),
        standing,
        weight: load::bank_weight(bank),
        weight_a_metre: load::weight_per_metre(bank),
        thirst,
        hours_wet: autonomy::autonomy_hours(standing, used, light_hours).unwrap_or(HOURS_PER_YEAR),
    }
}

/// What the thirstiest of the wanted crops draws for each mm of the reference \[l\], ripe, and no
/// wider than leaves room for another like it in the next hole.
fn peak_plant_demand(garden: &Garden, bank: &Bank) -> f64 {
    let room = bank.hole_spacing.get() * (1.0 + garden.spacing.crowding.get());
    let plants = wanted_crops(garden).map(|crop| {
        let width = crop.size.spread.get().min(room);
        crop_water::plant_transpiration(crop, 1.0, 1.0, width)
    });
    plants.fold(0.0, f64::max)
}

/// The thirstiest day of a loop's brightest bank, and what evaporates from open water then \[l\].
fn peak_evaporation(garden: &Garden, of_loop: &Loop) -> (NaiveDate, f64) {
    let place = &garden.place;
    let of_bank = |bank: &Bank| {
        crop_water::peak_demand_day(place, &place.cover, bank.light_share, garden.start)
    };
    let (day, mm) = of_loop
        .banks
        .iter()
        .map(of_bank)
        .reduce(|a, b| if b.1 > a.1 { b } else { a })
        .unwrap_or((garden.start, 0.0));
    let tubes: f64 = of_loop.banks.iter().map(tube::open_water_area).sum();
    let area = tubes + load::open_tank_area(&of_loop.tank);
    (day, area * mm * crop_water::OPEN_WATER_COEFFICIENT)
}

fn pump_findings(report: &LoopReport, of_loop: &Loop) -> Vec<RigFinding> {
    let Some(pump) = &of_loop.pump else {
        return Vec::new();
    };
    let rated = pump.rated_flow.get();
    let mut findings = vec![
        RigFinding::against_limits(
            RigCheck::PumpRating,
            rated,
            report.asks * PUMP_FLOW_FACTOR,
            report.asks,
            Basis::CommonPractice,
        ),
        RigFinding::against_limits(
            RigCheck::PumpLift,
            pump.max_head.get(),
            report.rises * PUMP_HEAD_FACTOR,
            report.rises,
            Basis::CommonPractice,
        ),
    ];
    if let Some(delivered) = report.delivered {
        let each = delivered / f64::from(report.streams);
        findings.push(RigFinding::against_limits(
            RigCheck::StreamFlow,
            each,
            STREAM_LITRES_PER_HOUR.0,
            STREAM_LITRES_PER_HOUR.0 / 2.0,
            Basis::CommonPractice,
        ));
        if let Some(hose) = &of_loop.hose {
            let speed = friction::velocity(delivered, hose.bore.get());
            findings.push(RigFinding::against_limits(
                RigCheck::HoseSpeed,
                speed,
                MAX_HOSE_VELOCITY,
                f64::INFINITY,
                Basis::CommonPractice,
            ));
        }
    }
    findings
}

fn tank_findings(report: &LoopReport, of_loop: &Loop, rhythm: &WorkSchedule) -> Vec<RigFinding> {
    let tank = &of_loop.tank;
    let holds = tank.capacity.get();
    let mut findings = Vec::new();
    if report.in_tubes > 0.0 {
        let times = holds / report.in_tubes;
        findings.push(RigFinding::against_limits(
            RigCheck::TankSize,
            times,
            MIN_TANK_TO_TUBE_RATIO,
            MIN_TANK_TO_TUBE_RATIO / 2.0,
            Basis::CommonPractice,
        ));
    }
    if report.thirst > 0.0 {
        let lasts = holds * (1.0 - tank.reserve_share.get()) / report.thirst;
        let gap = longest_gap(rhythm);
        findings.push(RigFinding::against_limits(
            RigCheck::TankLasts,
            lasts,
            gap,
            gap / 2.0,
            Basis::Workdays,
        ));
    }
    if tank.is_open {
        let area = load::open_tank_area(tank);
        findings.push(RigFinding::without_limit(
            RigCheck::OpenTank,
            area,
            Basis::CommonPractice,
        ));
    }
    if let Some(footprint) = &tank.footprint {
        let mut finding = RigFinding::against_limits(
            RigCheck::FloorLoad,
            load::floor_pressure(holds, footprint),
            load::FLOOR_LOAD_KN_PER_M2,
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
fn longest_gap(rhythm: &WorkSchedule) -> f64 {
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

fn drain_findings(report: &LoopReport, of_loop: &Loop) -> Vec<RigFinding> {
    let Some(drain) = &of_loop.drain else {
        return Vec::new();
    };
    let (bore, slope) = (drain.bore.get(), drain.slope.get());
    let mut findings = vec![
        RigFinding::against_limits(
            RigCheck::DrainBore,
            bore,
            DRAIN_BORE_LIMITS.0,
            DRAIN_BORE_LIMITS.1,
            Basis::CommonPractice,
        ),
        RigFinding::against_limits(
            RigCheck::DrainSlope,
            slope,
            MIN_DRAIN_SLOPE,
            0.0,
            Basis::DrainStandard,
        ),
    ];
    let pipes = f64::from(drain.pipes.unwrap_or(report.streams));
    // A pump too weak today is one day a better one, and its drains are not looked at again.
    let flow = report.delivered.unwrap_or(0.0).max(report.asks) / pipes;
    let filled = drain::filled_share(bore, slope, flow);
    findings.push(RigFinding::against_limits(
        RigCheck::DrainFill,
        // What a pipe cannot carry stands above it.
        filled.unwrap_or(flow / drain::manning_flow(bore, slope, 1.0).max(f64::MIN_POSITIVE)),
        MAX_DRAIN_FILL,
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
    let crops: Vec<&Crop> = wanted_crops(garden).collect();
    let pairs = crops.iter().enumerate().flat_map(|(at, a)| {
        let others = crops[at + 1..].iter();
        others.filter(move |b| solution::common_band([a.solution, b.solution]).is_none())
    });
    #[allow(clippy::cast_precision_loss)]
    let apart = pairs.count() as f64;
    let from = Basis::Cards;
    let mut findings = vec![RigFinding::against_limits(
        RigCheck::SharedSolution,
        apart,
        0.0,
        f64::INFINITY,
        from,
    )];
    let source = of_loop.nutrients.source_ec.get();
    findings.push(RigFinding::against_limits(
        RigCheck::TopUpWater,
        source,
        ec_drift::UPTAKE_EC,
        f64::INFINITY,
        Basis::Estimate,
    ));
    if let Some(band) = band {
        findings.push(RigFinding::against_limits(
            RigCheck::SourceWater,
            source,
            band.aim.0 / 2.0,
            band.ec.1,
            Basis::HalfOfSetpoint,
        ));
    }
    findings
}

fn bank_findings(report: &LoopReport, of_loop: &Loop) -> Vec<RigFinding> {
    let both = of_loop.banks.iter().zip(&report.banks);
    let findings = both.flat_map(|(bank, figures)| {
        let mut of_bank = Vec::new();
        if let BankForm::Level {
            tubes, tube_gap, ..
        }
        | BankForm::Wall {
            tubes, tube_gap, ..
        } = bank.form
        {
            let filled = bank.fill_share.get();
            let mut fill = RigFinding::against_limits(
                RigCheck::TubeFill,
                filled,
                TUBE_FILL_LIMITS.0,
                TUBE_FILL_LIMITS.1,
                Basis::CommonPractice,
            );
            if filled < MIN_TUBE_FILL {
                fill.verdict = Verdict::Warn;
            }
            of_bank.push(fill);
            if tubes > 1 {
                let gap = tube_gap.get();
                let is_wall = matches!(bank.form, BankForm::Wall { .. });
                let finding = if is_wall && gap > MAX_WALL_GAP + 1.0e-9 {
                    RigFinding::against_limits(
                        RigCheck::WallGap,
                        gap,
                        MAX_WALL_GAP,
                        f64::INFINITY,
                        Basis::CommonPractice,
                    )
                } else {
                    RigFinding::against_limits(
                        RigCheck::TubeGap,
                        gap,
                        MIN_TUBE_GAP,
                        0.0,
                        Basis::CommonPractice,
                    )
                };
                of_bank.push(finding);
            }
        }
        of_bank.push(RigFinding::against_limits(
            RigCheck::PowerCut,
            figures.hours_wet,
            MIN_AUTONOMY_HOURS,
            0.0,
            Basis::CommonPractice,
        ));
        of_bank.push(RigFinding::without_limit(
            RigCheck::Weight,
            figures.weight,
            Basis::Licensed,
        ));
        of_bank.into_iter().map(|f| f.for_bank(&bank.name))
    });
    findings.collect()
}
