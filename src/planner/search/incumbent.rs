//! The best plan that a search has come by.

use crate::planner::problem::model::ArcId;
use crate::planner::search::state::State;

/// The best found so far, kept without copying everything at each improvement.
pub struct Incumbent {
    /// What it costs, in thousandths.
    pub cost: i64,
    paths: Vec<Vec<ArcId>>,
    clean_days: Vec<u32>,
    /// Holes whose paths differ from the current ones.
    stale: Vec<usize>,
    is_stale: Vec<bool>,
}

impl Incumbent {
    pub fn of(state: &State<'_>) -> Self {
        Self {
            cost: state.cost(),
            paths: state.paths.clone(),
            clean_days: state.clean_days.clone(),
            stale: Vec::new(),
            is_stale: vec![false; state.paths.len()],
        }
    }

    /// Notes that the search went on from here, having changed some holes.
    pub fn update(&mut self, state: &State<'_>, changed: impl Iterator<Item = usize>) {
        for hole in changed {
            if !self.is_stale[hole] {
                self.is_stale[hole] = true;
                self.stale.push(hole);
            }
        }
        if state.cost() < self.cost {
            self.cost = state.cost();
            self.clean_days.clone_from(&state.clean_days);
            for hole in self.stale.drain(..) {
                self.is_stale[hole] = false;
                self.paths[hole].clone_from(&state.paths[hole]);
            }
        }
    }

    /// Makes the best the current again.
    pub fn restore(&mut self, state: &mut State<'_>) {
        let old: Vec<_> = self
            .stale
            .drain(..)
            .map(|hole| (hole, self.paths[hole].clone()))
            .collect();
        for (hole, _) in &old {
            self.is_stale[*hole] = false;
        }
        state.restore(&old);
        state.clean_days.clone_from(&self.clean_days);
    }
}
