//! Why a week gets less than is wanted of a want: which limit binds.
//!
//! For every short week all stays are looked at that would give something in it and, at what
//! harvests are worth to the plan there and in the weeks that they give in besides, would be worth
//! their cost. Each of them is kept out by something. Where one thing alone keeps a stay out of an
//! empty hole, that binds: a little more of it, and there would be more to harvest. Where holes
//! are taken, they bind, or the want that has them. Of weeks that nothing reaches any more that is
//! sown from now on, it is too late for those.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};

use crate::planner::problem::model::{Arc, ArcId, HoleClass, Model};
use crate::planner::search::state::State;

/// A limit of a rig, its place or its care.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Limit {
    /// All holes are taken, by the want itself or by none more than by it.
    Holes,
    /// Its crops can be set out for this week on few days only, as the time of year allows it.
    Season,
    /// The nursery has no cell free for the seedlings.
    Nursery,
    /// A hole is free, but the plants beside it leave no room.
    Space,
    /// Nobody is there on most days on which its plants would have to be sown or set out.
    Absence,
    /// A hole is free but for the day on which the tube is scrubbed.
    Cleaning,
    /// Crops stand in the loop that ask for another solution.
    Solution,
    /// Holes are taken, mostly by plants of another want.
    AnotherWant,
    /// Nothing that is sown from now on gives in it any more; a plant that is set out now, bought
    /// or given, still could, and there is a hole for it.
    TooLateToSow,
    /// Nor does what could still be set out.
    TooLate,
}

/// A week is short below this share of what is wanted, in thousandths.
const SHORT_BELOW_MILLI: i64 = 950;
/// Of large rigs only so many holes are looked at, evenly spread.
const MAX_HOLES_EXAMINED: usize = 400;
/// Days between two workdays from which somebody is taken to be away.
const ABSENCE_DAYS: u32 = 8;
/// Setting out is taken as hindered if only this part of the usual number of days is left.
const HINDERED_SHARE: (usize, usize) = (1, 2);

/// The limit that binds in each short want-week, by cell; nothing where enough is supplied or
/// more would not be worth it.
#[must_use]
pub fn bottlenecks(state: &mut State<'_>) -> Vec<Option<Limit>> {
    let model = state.model;
    state.refresh_deltas();
    let supplying = supplying_stays(state);
    let usual = median_transplant_days(model, &supplying);
    let earliest = earliest_reachable_week(model, &supplying);
    (0..model.want_weeks.len())
        .map(|cell| {
            let c = &model.want_weeks[cell];
            let is_short = state.supply(cell) * 1000 < c.target * SHORT_BELOW_MILLI;
            if !is_short {
                None
            } else if has_supplying_stay(&supplying[cell]) {
                find_bottleneck(state, &supplying[cell], usual[c.want], cell)
            } else if earliest[c.want].is_none_or(|first| c.week < first) {
                Some(lateness_limit(state, cell))
            } else {
                Some(Limit::Season)
            }
        })
        .collect()
}

/// The stays that give something in each cell, by class: those that do not stand yet, from seed or
/// from seedlings that are left over.
fn supplying_stays(state: &State<'_>) -> Vec<Vec<Vec<ArcId>>> {
    let model = state.model;
    let mut givers = vec![vec![Vec::new(); model.classes.len()]; model.want_weeks.len()];
    for (n, class) in model.classes.iter().enumerate() {
        for (a, arc) in (0..).zip(&class.arcs) {
            if arc.stands
                || arc
                    .lot
                    .is_some_and(|lot| state.remaining_seedlings(lot) <= 0)
            {
                continue;
            }
            for item in model.yields(class, arc) {
                let list: &mut Vec<ArcId> = &mut givers[item.want_week as usize][n];
                if list.last() != Some(&a) {
                    list.push(a);
                }
            }
        }
    }
    givers
}

/// The workdays on which something can be set out that gives in a week.
fn count_transplant_days(model: &Model<'_>, givers: &[Vec<ArcId>]) -> usize {
    let classes = model.classes.iter().zip(givers);
    let days = classes.flat_map(|(class, arcs)| arcs.iter().map(|&a| class.arcs[a as usize].from));
    days.collect::<BTreeSet<_>>().len()
}

/// How many such days there usually are, by want: the median over its weeks.
fn median_transplant_days(model: &Model<'_>, givers: &[Vec<Vec<ArcId>>]) -> Vec<usize> {
    let mut counts = vec![Vec::new(); model.problem.wants.len()];
    for (cell, givers) in model.want_weeks.iter().zip(givers) {
        if cell.target > 0 {
            counts[cell.want].push(count_transplant_days(model, givers));
        }
    }
    counts
        .into_iter()
        .map(|mut counts| {
            counts.sort_unstable();
            counts.get(counts.len() / 2).copied().unwrap_or(0)
        })
        .collect()
}

/// Whether anything that is yet to be set out gives in a cell.
fn has_supplying_stay(givers: &[Vec<ArcId>]) -> bool {
    givers.iter().any(|arcs| !arcs.is_empty())
}

/// The first week that each want can be given something in by what is yet to be set out.
fn earliest_reachable_week(model: &Model<'_>, givers: &[Vec<Vec<ArcId>>]) -> Vec<Option<usize>> {
    let mut first = vec![None; model.problem.wants.len()];
    for (cell, givers) in model.want_weeks.iter().zip(givers) {
        if has_supplying_stay(givers) {
            let first = &mut first[cell.want];
            *first = Some(first.map_or(cell.week, |f: usize| f.min(cell.week)));
        }
    }
    first
}

/// Which it is of a week that is too near to be reached by seed.
fn lateness_limit(state: &State<'_>, cell: usize) -> Limit {
    let model = state.model;
    let soonest: Vec<Option<u32>> = model
        .classes
        .iter()
        .map(|class| earliest_harvest(model, class, model.want_weeks[cell].want))
        .collect();
    let now = model.problem.workdays.first().copied().unwrap_or(0);
    let finds_room = (0..model.problem.holes.len()).any(|hole| {
        soonest[model.class_of[hole]].is_some_and(|days| {
            let is_free = |old: &Arc| old.removal <= now || now + days <= old.transplant;
            i64::from(now + days) <= last_day_of_week(model, cell) && state.stays(hole).all(is_free)
        })
    });
    if finds_room {
        Limit::TooLateToSow
    } else {
        Limit::TooLate
    }
}

/// How many days a plant of a want takes in the hole until its first harvest, by the first of each
/// crop that can be set out.
fn earliest_harvest(model: &Model<'_>, class: &HoleClass, want: usize) -> Option<u32> {
    let gives = |arc: &&Arc| {
        let mut items = model.yields(class, arc);
        !arc.stands && items.any(|i| model.want_weeks[i.want_week as usize].want == want)
    };
    let mut first: BTreeMap<u32, (u32, u32)> = BTreeMap::new();
    for arc in class.arcs.iter().filter(gives) {
        let this = (arc.transplant, arc.removal - arc.transplant);
        let first = first.entry(arc.crop).or_insert(this);
        *first = this.min(*first);
    }
    first.into_values().map(|(_, days)| days).min()
}

/// The last day of a cell's week.
fn last_day_of_week(model: &Model<'_>, cell: usize) -> i64 {
    model.problem.monday(model.want_weeks[cell].week) + 6
}

/// What can be the one thing that keeps a stay out of an empty hole; the first of those that do so
/// as often is told.
const SOLE_BLOCKERS: [Limit; 4] = [
    Limit::Nursery,
    Limit::Cleaning,
    Limit::Space,
    Limit::Solution,
];

/// What keeps some stay out of a hole.
#[derive(Debug, Clone, Copy, Default)]
struct Blockers {
    nursery: bool,
    cleaning: bool,
    space: bool,
    solution: bool,
    /// The hole is taken by the same want, or by another.
    same_want: bool,
    other_want: bool,
}

impl Blockers {
    /// The one thing that keeps it out of an empty hole, if it is one alone.
    fn sole_blocker(self) -> Option<Limit> {
        if self.same_want || self.other_want {
            return None;
        }
        let all = [self.nursery, self.cleaning, self.space, self.solution];
        let mut there = SOLE_BLOCKERS
            .into_iter()
            .zip(all)
            .filter(|(_, is_there)| *is_there);
        let (limit, _) = there.next()?;
        there.next().is_none().then_some(limit)
    }
}

fn find_bottleneck(
    state: &State<'_>,
    givers: &[Vec<ArcId>],
    usual: usize,
    cell: usize,
) -> Option<Limit> {
    let model = state.model;
    let holes = model.problem.holes.len();
    let step = holes.div_ceil(MAX_HOLES_EXAMINED).max(1);
    let mut alone = SOLE_BLOCKERS.map(|limit| (limit, 0));
    let (mut same, mut other) = (0, 0);
    for hole in (0..holes).step_by(step) {
        for &arc in &givers[model.class_of[hole]] {
            if !lowers_cost(state, hole, arc) {
                continue;
            }
            let in_way = blockers(state, hole, arc, model.want_weeks[cell].want);
            same += usize::from(in_way.same_want);
            other += usize::from(in_way.other_want);
            for (limit, times) in &mut alone {
                *times += usize::from(in_way.sole_blocker() == Some(*limit));
            }
        }
    }
    let most = alone.into_iter().rev().max_by_key(|a| a.1);
    if let Some((limit, _)) = most.filter(|m| m.1 > 0) {
        return Some(limit);
    }
    if same + other == 0 {
        return None;
    }
    // Of the first weeks after today only the first sowings are left; by itself that hinders none.
    if count_transplant_days(model, givers) * HINDERED_SHARE.1 <= usual * HINDERED_SHARE.0
        && let Some(limit) = timing_limit(model, givers, cell)
    {
        return Some(limit);
    }
    Some(if other > same {
        Limit::AnotherWant
    } else {
        Limit::Holes
    })
}

/// Whether a stay would be worth its cost to the plan as it is, did nothing keep it out.
fn lowers_cost(state: &State<'_>, hole: usize, arc: ArcId) -> bool {
    let model = state.model;
    let class = model.class(hole);
    let arc = &class.arcs[arc as usize];
    let items = &class.items[arc.items.start as usize..arc.items.end as usize];
    let gain: i64 = items.iter().map(|&i| state.deltas()[i as usize]).sum();
    gain + model.problem.stay_cost_milli < 0
}

fn blockers(state: &State<'_>, hole: usize, arc: ArcId, want: usize) -> Blockers {
    let model = state.model;
    let class = model.class(hole);
    let new = &class.arcs[arc as usize];
    let solution = state.is_incompatible(hole, new);
    let mut in_way = Blockers {
        nursery: !state.has_seedling_capacity(hole, arc),
        cleaning: state.is_cleaned_during(hole, new),
        // Beside a plant that asks for another solution there is no room either.
        space: !solution && state.is_crowded(hole, arc),
        solution,
        ..Blockers::default()
    };
    for old in state.overlapping(hole, new) {
        let serves = model.yields(class, old).next();
        let serves = serves.map(|i| model.want_weeks[i.want_week as usize].want);
        in_way.same_want |= serves.is_none_or(|w| w == want);
        in_way.other_want |= serves.is_some_and(|w| w != want);
    }
    in_way
}

/// What leaves so few days to set plants out: somebody being away between their sowing and the
/// week, or the season; neither where it is that the days before today are past.
fn timing_limit(model: &Model<'_>, givers: &[Vec<ArcId>], cell: usize) -> Option<Limit> {
    let workdays = &model.problem.workdays;
    let classes = model.classes.iter().zip(givers);
    let sown = classes.flat_map(|(class, arcs)| arcs.iter().map(|&a| class.arcs[a as usize].sow));
    let sown = i64::from(sown.min().unwrap_or(0));
    let sunday = last_day_of_week(model, cell);
    let is_away = workdays.windows(2).any(|w| {
        let from = i64::from(w[1]) > sown - i64::from(ABSENCE_DAYS);
        w[1] - w[0] >= ABSENCE_DAYS && from && i64::from(w[0]) < sunday
    });
    let is_first = sown <= workdays.first().copied().unwrap_or(0).into();
    match (is_away, is_first) {
        (true, _) => Some(Limit::Absence),
        (false, true) => None,
        (false, false) => Some(Limit::Season),
    }
}
