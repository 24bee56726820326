//! Holes in neighbouring pairs, and which pairs are alike.

use std::collections::BTreeMap;

use super::ceiling::Mixed;
use super::model::{Model, as_u32};
use super::pair::{self, Best, Lane, Space, Task};

/// Pairs of holes that are alike (or single holes), and how many there are.
pub(super) struct Group {
    pub count: i64,
    pub pairs: Vec<[usize; 2]>,
    pub classes: Vec<usize>,
    /// What the first's stays rule out on the second's, and the other way round.
    pub tables: Vec<u32>,
    pub cleans: Vec<(u32, u32)>,
}

impl Group {
    pub fn mixed(&self) -> Mixed {
        Mixed {
            pairs: self.pairs.clone(),
            plans: Vec::new(),
        }
    }

    /// Plans one of the pairs by itself, exactly; `lanes` are its holes'.
    pub fn plan(&self, model: &Model<'_>, lanes: &[&Lane], space: &mut Space, best: &mut Best) {
        let tables = self.tables.iter();
        let tables: Vec<_> = tables.map(|&t| &model.tables[t as usize]).collect();
        let task = Task {
            lanes,
            tables: &tables,
            cleans: &self.cleans,
            low: 0,
            high: as_u32(model.problem.workdays.len()),
        };
        pair::solve(&task, space, best);
    }
}

/// Matches holes with near neighbours, the nearest first, and counts the pairs that are alike.
pub(super) fn groups(model: &Model<'_>) -> Vec<Group> {
    type Key = (Vec<usize>, Vec<u32>, Vec<(u32, u32)>);
    let problem = model.problem;
    let mut pairs: Vec<usize> = (0..problem.pairs.len()).collect();
    pairs.sort_by_key(|&n| {
        let p = &problem.pairs[n];
        (p.limit_mm, !p.side_by_side, p.a, p.b)
    });
    let mut matched = vec![false; problem.holes.len()];
    let mut keys: BTreeMap<Key, Vec<[usize; 2]>> = BTreeMap::new();
    for n in pairs {
        let (a, b) = (problem.pairs[n].a, problem.pairs[n].b);
        if matched[a] || matched[b] {
            continue;
        }
        let (Some(a_rules), Some(b_rules)) = (model.table(a, b), model.table(b, a)) else {
            continue;
        };
        (matched[a], matched[b]) = (true, true);
        // Holes of different tubes need not be scrubbed on one day.
        let cleans = if problem.holes[a].tube == problem.holes[b].tube {
            windows(model, problem.holes[a].tube)
        } else {
            Vec::new()
        };
        let key = (
            vec![model.class_of[a], model.class_of[b]],
            vec![a_rules, b_rules],
            cleans,
        );
        keys.entry(key).or_default().push([a, b]);
    }
    for hole in (0..problem.holes.len()).filter(|&h| !matched[h]) {
        let cleans = windows(model, problem.holes[hole].tube);
        let key = (vec![model.class_of[hole]], Vec::new(), cleans);
        keys.entry(key).or_default().push([hole, hole]);
    }
    keys.into_iter()
        .map(|((classes, tables, cleans), mut pairs)| Group {
            count: i64::try_from(pairs.len()).unwrap_or(i64::MAX),
            pairs: {
                pairs.sort_unstable();
                pairs
            },
            classes,
            tables,
            cleans,
        })
        .collect()
}

/// The windows in which a tube is scrubbed, as positions among the workdays; none where holes
/// stay empty between stays. Then one hole may be planted again on the day of the scrubbing and
/// the other be emptied on it, and never are both free at one position: leaving the scrubbing out
/// makes the bound looser, not wrong.
fn windows(model: &Model<'_>, tube: usize) -> Vec<(u32, u32)> {
    let problem = model.problem;
    if problem.changeover > 0 {
        return Vec::new();
    }
    let mut windows: Vec<(u32, u32)> = model.cleans_of[tube]
        .iter()
        .map(|&c| {
            let [first, last] = problem.cleans[c].days;
            let from = problem.workdays.partition_point(|&d| d < first);
            let to = problem.workdays.partition_point(|&d| d <= last);
            (as_u32(from), as_u32(to.saturating_sub(1)))
        })
        .collect();
    windows.sort_unstable();
    windows
}
