//! Watching long work, and ending it early.

use std::sync::atomic::{AtomicBool, Ordering};

/// How far long work has come.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Progress {
    /// Moves made.
    pub done: usize,
    /// Of so many.
    pub of: usize,
    /// How far the best plan so far may be from the best there is, in percent of what it is
    /// worth, where a bound is known.
    pub gap_percent: Option<f64>,
}

/// Somebody who watches long work and may end it.
#[derive(Clone, Copy)]
pub struct Monitor<'a> {
    stop: Option<&'a AtomicBool>,
    report: Option<&'a (dyn Fn(Progress) + Sync)>,
    /// A bound, and the cost of planting nothing.
    bound_and_empty_plan_cost: Option<(i64, i64)>,
    /// The work is over once the cost is as low as this.
    target_cost: Option<i64>,
    /// Moves made before this part of the work, and in all its parts; nothing if it is all.
    share_of_moves: Option<(usize, usize)>,
}

impl<'a> Monitor<'a> {
    /// Nobody watches: the work is done to its end.
    #[must_use]
    pub const fn unwatched() -> Self {
        Self {
            stop: None,
            report: None,
            bound_and_empty_plan_cost: None,
            target_cost: None,
            share_of_moves: None,
        }
    }

    /// Somebody who is told how far it has come, and who ends it by setting `stop`.
    #[must_use]
    pub const fn new(stop: &'a AtomicBool, report: &'a (dyn Fn(Progress) + Sync)) -> Self {
        Self {
            stop: Some(stop),
            report: Some(report),
            bound_and_empty_plan_cost: None,
            target_cost: None,
            share_of_moves: None,
        }
    }

    /// The same without being told.
    #[must_use]
    pub const fn without_reporting(self) -> Self {
        Self {
            report: None,
            ..self
        }
    }

    /// The same, knowing a bound and the cost of planting nothing.
    #[must_use]
    pub const fn with_bound(self, bound: i64, nothing: i64) -> Self {
        Self {
            bound_and_empty_plan_cost: Some((bound, nothing)),
            ..self
        }
    }

    /// The same, content once the cost is as low as this.
    #[must_use]
    pub const fn stop_at_cost(self, target_cost: Option<i64>) -> Self {
        Self {
            target_cost,
            ..self
        }
    }

    /// The same for a part of work of `of` moves, of which `done` were made before.
    #[must_use]
    pub const fn with_share_of_moves(self, done: usize, of: usize) -> Self {
        Self {
            share_of_moves: Some((done, of)),
            ..self
        }
    }

    /// Whether the work was ended early.
    #[must_use]
    pub fn is_stopped(&self) -> bool {
        self.stop.is_some_and(|s| s.load(Ordering::Relaxed))
    }

    /// Tells how far it has come; whether it is to end.
    #[must_use]
    pub fn report_progress(&self, done: usize, of: usize, cost: i64) -> bool {
        if let Some(told) = self.report {
            let (before, of) = self.share_of_moves.unwrap_or((0, of));
            let gap =
                |(bound, nothing)| crate::planner::problem::cost::gap_percent(cost, bound, nothing);
            told(Progress {
                done: before + done,
                of,
                gap_percent: self.bound_and_empty_plan_cost.and_then(gap),
            });
        }
        self.is_stopped() || self.target_cost.is_some_and(|enough| cost <= enough)
    }
}
