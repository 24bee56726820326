//! Every rule, on every day, of every plan made.
//!
//! The checker works from the problem alone, in the plainest way, and shares no code with the
//! search, so that a fault of the search cannot hide here.

use std::collections::BTreeMap;
use std::fmt;

use crate::planner::problem::Problem;
use crate::planner::problem::solution::Solution;

/// A broken rule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Violation {
    /// An index of the solution points nowhere.
    InvalidIndex {
        /// What was pointed at.
        what: &'static str,
    },
    /// Two stays in one hole at once, or too close after one another.
    Overlap {
        /// The hole.
        hole: String,
        /// The day on which the later one was transplanted.
        day: u32,
    },
    /// Two canopies do not fit side by side.
    Crowded {
        /// The holes.
        holes: (String, String),
        /// The first such day.
        day: u32,
    },
    /// Two plants side by side are taken too near each other in time.
    SameStage {
        /// The holes.
        holes: (String, String),
        /// Their removal days.
        days: (u32, u32),
    },
    /// The nursery is overfull.
    NurseryOverfull {
        /// The first such day.
        day: i32,
        /// Cells needed, in thousandths.
        needed_milli: u64,
    },
    /// More seedlings on hand used than there are.
    LotOverdrawn {
        /// The crop.
        crop: String,
    },
    /// Something is sown, transplanted or taken on a day when nobody tends the rig.
    NotAWorkday {
        /// What and where.
        what: String,
        /// The day.
        day: i64,
    },
    /// A tube's cleaning day lies outside its window, or something stands in the tube over it.
    InvalidCleaning {
        /// The tube.
        tube: usize,
        /// The day.
        day: u32,
    },
    /// Two crops that cannot share a solution stand in one loop.
    IncompatibleCrops {
        /// The crops.
        crops: (String, String),
        /// The first such day.
        day: u32,
    },
    /// A stay reaches beyond the days looked at.
    BeyondHorizon {
        /// The hole.
        hole: String,
    },
}

impl fmt::Display for Violation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::InvalidIndex { what } => write!(f, "the plan names a {what} that does not exist"),
            Self::Overlap { hole, day } => {
                write!(f, "{hole} holds two plants on day {day}")
            }
            Self::Crowded { holes, day } => {
                write!(
                    f,
                    "{} and {} are too crowded on day {day}",
                    holes.0, holes.1
                )
            }
            Self::SameStage { holes, days } => write!(
                f,
                "{} and {} are taken on days {} and {}, too near each other",
                holes.0, holes.1, days.0, days.1
            ),
            Self::NurseryOverfull { day, needed_milli } => write!(
                f,
                "the nursery needs {}.{:03} cells on day {day}",
                needed_milli / 1000,
                needed_milli % 1000
            ),
            Self::LotOverdrawn { crop } => {
                write!(f, "more seedlings of {crop} used than are on hand")
            }
            Self::NotAWorkday { what, day } => {
                write!(f, "{what} on day {day}, when nobody tends the rig")
            }
            Self::InvalidCleaning { tube, day } => {
                write!(f, "tube {tube} cannot be cleaned on day {day}")
            }
            Self::IncompatibleCrops { crops, day } => write!(
                f,
                "{} and {} cannot share a loop, and do on day {day}",
                crops.0, crops.1
            ),
            Self::BeyondHorizon { hole } => write!(f, "a stay in {hole} never ends"),
        }
    }
}

/// A plant in a hole, however it came there.
struct Plant<'p> {
    hole: usize,
    crop: &'p str,
    from: u32,
    to: u32,
    radius: &'p [u32],
    once: bool,
    already_standing: bool,
}

/// Every broken rule of a solution; none if it is good.
#[must_use]
pub fn check(problem: &Problem, solution: &Solution) -> Vec<Violation> {
    let plants = match plants(problem, solution) {
        Ok(plants) => plants,
        Err(broken) => return vec![broken],
    };
    let mut by_hole: Vec<Vec<usize>> = vec![Vec::new(); problem.holes.len()];
    for (i, p) in plants.iter().enumerate() {
        by_hole[p.hole].push(i);
    }
    let mut broken = Vec::new();
    check_overlaps(problem, &plants, &by_hole, &mut broken);
    check_neighbours(problem, &plants, &by_hole, &mut broken);
    check_nursery(problem, solution, &mut broken);
    check_lots(problem, solution, &mut broken);
    check_workdays(problem, solution, &plants, &mut broken);
    check_cleanings(problem, solution, &plants, &mut broken);
    check_solution_sharing(problem, &plants, &mut broken);
    broken
}

fn plants<'p>(problem: &'p Problem, solution: &Solution) -> Result<Vec<Plant<'p>>, Violation> {
    let no_such = |what| Violation::InvalidIndex { what };
    if solution.standing_ends.len() != problem.standing.len() {
        return Err(no_such("standing plant"));
    }
    if solution.clean_days.len() != problem.cleans.len() {
        return Err(no_such("cleaning"));
    }
    let mut plants = Vec::new();
    for (s, &chosen) in problem.standing.iter().zip(&solution.standing_ends) {
        let end = s.ends.get(chosen).ok_or(no_such("removal"))?;
        plants.push(Plant {
            hole: s.hole,
            crop: &s.crop,
            from: 0,
            to: end.day,
            radius: s.radius_of(chosen),
            once: s.once,
            already_standing: true,
        });
    }
    for s in &solution.stays {
        let hole = problem.holes.get(s.hole).ok_or(no_such("hole"))?;
        let batches = &problem.kinds[hole.kind].batches;
        let batch = batches.get(s.batch).ok_or(no_such("batch"))?;
        let end = batch.ends.get(s.end).ok_or(no_such("removal"))?;
        plants.push(Plant {
            hole: s.hole,
            crop: &batch.crop,
            from: batch.transplant,
            to: end.day,
            radius: &batch.radius_mm,
            once: batch.once,
            already_standing: false,
        });
    }
    Ok(plants)
}

fn check_overlaps(
    problem: &Problem,
    plants: &[Plant<'_>],
    by_hole: &[Vec<usize>],
    broken: &mut Vec<Violation>,
) {
    for (hole, here) in by_hole.iter().enumerate() {
        for (n, &i) in here.iter().enumerate() {
            for &j in &here[n + 1..] {
                let (a, b) = (&plants[i], &plants[j]);
                let apart =
                    a.to + problem.changeover <= b.from || b.to + problem.changeover <= a.from;
                if !apart {
                    broken.push(Violation::Overlap {
                        hole: problem.holes[hole].id.clone(),
                        day: a.from.max(b.from),
                    });
                }
            }
        }
    }
}

/// Canopies of neighbours fit, and neighbours differ in stage: rules 2 and 3.
fn check_neighbours(
    problem: &Problem,
    plants: &[Plant<'_>],
    by_hole: &[Vec<usize>],
    broken: &mut Vec<Violation>,
) {
    for pair in &problem.pairs {
        let holes = || {
            (
                problem.holes[pair.a].id.clone(),
                problem.holes[pair.b].id.clone(),
            )
        };
        for &i in &by_hole[pair.a] {
            for &j in &by_hole[pair.b] {
                let (a, b) = (&plants[i], &plants[j]);
                // What stands already stands: nothing can be done about two of them.
                if a.already_standing && b.already_standing {
                    continue;
                }
                let crowded = (a.from.max(b.from)..a.to.min(b.to)).find(|&day| {
                    let radius =
                        |p: &Plant<'_>| p.radius.get((day - p.from) as usize).copied().unwrap_or(0);
                    radius(a) + radius(b) > pair.limit_mm
                });
                if let Some(day) = crowded {
                    broken.push(Violation::Crowded {
                        holes: holes(),
                        day,
                    });
                }
                if pair.side_by_side
                    && a.once
                    && b.once
                    && a.to.abs_diff(b.to) < problem.neighbours_apart
                {
                    broken.push(Violation::SameStage {
                        holes: holes(),
                        days: (a.to, b.to),
                    });
                }
            }
        }
    }
}

fn check_nursery(problem: &Problem, solution: &Solution, broken: &mut Vec<Violation>) {
    let batches = || solution.stays.iter().map(|s| s.batch(problem));
    let first = batches().map(|b| b.sow).min().unwrap_or(0);
    let last = problem.days + problem.tail;
    for day in first..i32::try_from(last).unwrap_or(i32::MAX) {
        let needed: u64 = batches()
            .filter(|b| b.sow <= day && i64::from(day) < i64::from(b.transplant))
            .map(|b| b.cells_milli)
            .sum();
        if needed > problem.nursery_cells_milli {
            broken.push(Violation::NurseryOverfull {
                day,
                needed_milli: needed,
            });
            return;
        }
    }
}

fn check_lots(problem: &Problem, solution: &Solution, broken: &mut Vec<Violation>) {
    for (n, lot) in problem.lots.iter().enumerate() {
        let used = solution
            .stays
            .iter()
            .filter(|s| s.batch(problem).lot == Some(n))
            .count();
        if used > lot.count as usize {
            broken.push(Violation::LotOverdrawn {
                crop: lot.crop.clone(),
            });
        }
    }
}

fn check_workdays(
    problem: &Problem,
    solution: &Solution,
    plants: &[Plant<'_>],
    broken: &mut Vec<Violation>,
) {
    let is_workday = |day: i64| u32::try_from(day).is_ok_and(|d| problem.workdays.contains(&d));
    let mut need = |what: String, day: i64| {
        if !is_workday(day) {
            broken.push(Violation::NotAWorkday { what, day });
        }
    };
    for p in plants {
        let id = &problem.holes[p.hole].id;
        if !p.already_standing {
            need(format!("transplanting into {id}"), i64::from(p.from));
        }
        need(format!("harvesting {id}"), i64::from(p.to));
    }
    for s in &solution.stays {
        let batch = s.batch(problem);
        // Seedlings on hand were sown before the plan began.
        if batch.lot.is_none() {
            need(format!("sowing {}", batch.crop), i64::from(batch.sow));
        }
    }
    for p in plants {
        if p.to >= problem.days + problem.tail || (p.to - p.from) as usize > p.radius.len() {
            broken.push(Violation::BeyondHorizon {
                hole: problem.holes[p.hole].id.clone(),
            });
        }
    }
}

fn check_cleanings(
    problem: &Problem,
    solution: &Solution,
    plants: &[Plant<'_>],
    broken: &mut Vec<Violation>,
) {
    let mut by_tube: BTreeMap<usize, Vec<&Plant<'_>>> = BTreeMap::new();
    for p in plants {
        by_tube
            .entry(problem.holes[p.hole].tube)
            .or_default()
            .push(p);
    }
    for (clean, &day) in problem.cleans.iter().zip(&solution.clean_days) {
        let inside = clean.days[0] <= day && day <= clean.days[1];
        let emptied = by_tube.get(&clean.tube).is_none_or(|here| {
            here.iter()
                .all(|p| p.to <= day || (day <= p.from && !p.already_standing))
        });
        if !inside || !problem.workdays.contains(&day) || !emptied {
            broken.push(Violation::InvalidCleaning {
                tube: clean.tube,
                day,
            });
        }
    }
}

fn check_solution_sharing(problem: &Problem, plants: &[Plant<'_>], broken: &mut Vec<Violation>) {
    if problem.apart.is_empty() {
        return;
    }
    // Of each loop and day, the crops that stand there, and whether one that is newly planted does.
    let mut standing: BTreeMap<(usize, u32), BTreeMap<&str, bool>> = BTreeMap::new();
    for p in plants {
        for day in p.from..p.to {
            let here = standing
                .entry((problem.holes[p.hole].r#loop, day))
                .or_default();
            *here.entry(p.crop).or_default() |= !p.already_standing;
        }
    }
    for (x, y) in &problem.apart {
        let clash = standing.iter().find(|(_, crops)| {
            let (x, y) = (crops.get(x.as_str()), crops.get(y.as_str()));
            // What stands already stands: nothing can be done about two of them.
            x.zip(y).is_some_and(|(x, y)| *x || *y)
        });
        if let Some((&(_, day), _)) = clash {
            broken.push(Violation::IncompatibleCrops {
                crops: (x.clone(), y.clone()),
                day,
            });
        }
    }
}
