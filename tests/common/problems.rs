//! Invented problems of a stated shape, for tests and benches: tubes of holes 15 cm apart and
//! crops whose stays lengthen in winter.

use chrono::NaiveDate;
use steadyleaf::planner::problem::{
    Batch, CleanTask, Demand, Hole, HoleKind, NearbyPair, Problem, SCHEMA, StayEnd, WeekYield,
};

/// The shape of an invented problem.
#[derive(Debug, Clone, Copy)]
pub struct Shape {
    /// Tubes.
    pub tubes: usize,
    /// Holes in each.
    pub holes: usize,
    /// Crops, each with a want of its own.
    pub crops: usize,
    /// Weeks shown.
    pub weeks: u32,
    /// Weeks beyond.
    pub tail: u32,
    /// Canopy diameter of the first crop when ripe [mm]; the others are a little less.
    pub spread_mm: u32,
    /// Wanted, as a percentage of what the holes could give were they never empty.
    pub level: i64,
    /// Nursery cells.
    pub cells: u64,
    /// Whether tubes are scrubbed in the middle of the time.
    pub cleans: bool,
    /// From tube to tube [mm], side by side in one plane; out of each other's reach if absent.
    pub between_mm: Option<u32>,
    /// The first two crops cannot share a solution, and all tubes are on one.
    pub apart: bool,
}

impl Default for Shape {
    fn default() -> Self {
        Self {
            tubes: 4,
            holes: 6,
            crops: 1,
            weeks: 52,
            tail: 9,
            spread_mm: 180,
            level: 80,
            cells: 60,
            cleans: false,
            between_mm: None,
            apart: false,
        }
    }
}

/// Holes side by side in a tube, and those whose ripe plants would touch, tubes being so far apart.
fn pairs(shape: Shape) -> Vec<NearbyPair> {
    let count = shape.tubes * shape.holes;
    let place = |n: usize| ((n % shape.holes) as f64, (n / shape.holes) as f64);
    let all = (0..count).flat_map(|a| (a + 1..count).map(move |b| (a, b)));
    let pairs = all.filter_map(|(a, b)| {
        let (here, there) = (place(a), place(b));
        let (along, across) = (there.0 - here.0, there.1 - here.1);
        let side_by_side = (along, across) == (1.0, 0.0);
        let across_mm = match shape.between_mm {
            Some(mm) => across * f64::from(mm),
            None if across > 0.0 => f64::INFINITY,
            None => 0.0,
        };
        // A tenth of crowding is allowed.
        let limit_mm = (libm::hypot(along * 150.0, across_mm) * 1.1) as u32;
        (side_by_side || limit_mm < shape.spread_mm).then_some(NearbyPair {
            a,
            b,
            limit_mm,
            side_by_side,
        })
    });
    pairs.collect()
}

/// Days in the hole for a transplant on a day: longer in winter, by crop.
fn stay_days(crop: usize, day: u32) -> u32 {
    let year = f64::from(day) / 365.0 * std::f64::consts::TAU;
    let season = 1.0 + 0.35 * libm::cos(year);
    let base = [26.0, 30.0, 22.0, 34.0][crop % 4];
    (base * season).round() as u32
}

fn radius(spread: u32, day: u32, days: u32) -> u32 {
    // Area logistic, as of lettuce: 7 cm at transplant, full spread when ripe.
    let s = |x: f64| (1.0 / (1.0 + libm::exp(-3.072 * (x - 0.6625)))).sqrt();
    let x = f64::from(day) / f64::from(days);
    let share = (s(x) - s(0.0)) / (s(1.0) - s(0.0));
    ((70.0 + (f64::from(spread) - 70.0) * share) / 2.0).round() as u32
}

/// An invented problem of a shape.
pub fn invented(shape: Shape) -> Problem {
    let days = shape.weeks * 7;
    let all = days + shape.tail * 7;
    let workdays: Vec<u32> = (0..all).filter(|d| matches!(d % 7, 2 | 5)).collect();
    let mut batches = Vec::new();
    for &transplant in &workdays {
        for crop in 0..shape.crops {
            let Some(&sow) = workdays.iter().rev().find(|&&s| s + 14 <= transplant) else {
                continue;
            };
            let ripe = transplant + stay_days(crop, transplant);
            let ends: Vec<StayEnd> = workdays
                .iter()
                .filter(|&&d| ripe <= d && d <= ripe + 7)
                .map(|&day| StayEnd {
                    day,
                    yields: vec![WeekYield {
                        week: day / 7,
                        milli: 1000,
                    }],
                })
                .collect();
            let Some(last) = ends.last() else { continue };
            let spread = shape.spread_mm - 10 * (crop as u32 % 3);
            batches.push(Batch {
                crop: format!("crop-{crop}"),
                want: crop,
                sow: sow as i32,
                transplant,
                cells_milli: 1170,
                lot: None,
                once: true,
                radius_mm: (0..=last.day - transplant)
                    .map(|d| radius(spread, d, ripe - transplant))
                    .collect(),
                ends,
            });
        }
    }
    let holes: Vec<Hole> = (0..shape.tubes)
        .flat_map(|t| {
            (0..shape.holes).map(move |h| Hole {
                id: format!("deck-{}-{}", t + 1, h + 1),
                kind: 0,
                tube: t,
                r#loop: 0,
            })
        })
        .collect();
    let weeks = (all / 7) as usize;
    let wants = (0..shape.crops)
        .map(|crop| {
            let possible = |week: u32| {
                batches
                    .iter()
                    .any(|b| b.want == crop && b.ends.iter().any(|e| e.day / 7 == week))
            };
            // What the holes could give a week at the mean length of stay.
            let most = 7_000 * holes.len() as i64 / i64::from(stay_days(crop, 91));
            let target = most * shape.level / 100 / shape.crops as i64;
            Demand {
                id: format!("want-{crop}"),
                unit: "heads".into(),
                weight_milli: 1000,
                harvest_milli: 1000,
                target_milli: (0..weeks as u32)
                    .map(|w| {
                        if possible(w) {
                            (target / 1000).max(1) * 1000
                        } else {
                            0
                        }
                    })
                    .collect(),
            }
        })
        .collect();
    let cleans = (0..shape.tubes)
        .filter(|_| shape.cleans)
        .map(|tube| CleanTask {
            tube,
            days: [days / 2 - 28, days / 2 + 28],
        })
        .collect();
    Problem {
        schema: SCHEMA,
        start: NaiveDate::from_ymd_opt(2027, 1, 4).expect("a Monday"),
        days,
        tail: shape.tail * 7,
        workdays,
        changeover: 0,
        neighbours_apart: 7,
        nursery_cells_milli: shape.cells * 1000,
        stay_cost_milli: 1000,
        wants,
        kinds: vec![HoleKind { batches }],
        lots: Vec::new(),
        holes,
        pairs: pairs(shape),
        apart: (shape.apart && shape.crops > 1)
            .then(|| ("crop-0".into(), "crop-1".into()))
            .into_iter()
            .collect(),
        cleans,
        standing: Vec::new(),
    }
}
