//! When somebody was there, by the diary.

use std::collections::BTreeSet;

use chrono::{Days, NaiveDate};

use crate::diary::DiaryState;
use crate::garden::WorkSchedule;
use crate::week::monday;

/// Where so large a share of the weeks have a line in the diary, a longer time that has none was
/// missed (our assumption; no published source). Elsewhere it is often not put down what was done.
const USUAL_WEEK_SHARE: f64 = 0.75;

/// More days than this from one line to the next are a longer time: on a workday or two there can be
/// nothing to put down. (Tried with each workday that has none: plants that were looked at and left
/// are then taken for ripe, and three lived years gave 2 % less.)
const LONG_GAP_DAYS: i64 = 10;

/// When somebody was there.
pub(super) struct Attendance<'a> {
    rhythm: &'a WorkSchedule,
    /// Days of which something was put down, where that is usually done.
    recorded_days: Option<&'a BTreeSet<NaiveDate>>,
}

impl<'a> Attendance<'a> {
    /// By all lines of a diary so far.
    pub(super) fn from_diary(rhythm: &'a WorkSchedule, state: &'a DiaryState) -> Self {
        let put_down = &state.days_attended;
        let weeks: BTreeSet<NaiveDate> = put_down.iter().map(|day| monday(*day)).collect();
        let is_usual = weeks
            .first()
            .zip(weeks.last())
            .is_some_and(|(first, last)| {
                let all = (*last - *first).num_weeks() + 1;
                #[allow(clippy::cast_precision_loss)]
                let (with_lines, all) = (weeks.len() as f64, all as f64);
                with_lines >= USUAL_WEEK_SHARE * all
            });
        Self {
            rhythm,
            recorded_days: is_usual.then_some(put_down),
        }
    }

    /// Whether somebody looked at the plants on a day.
    pub(super) fn is_attended(&self, day: NaiveDate) -> bool {
        let is_near = |days: &BTreeSet<NaiveDate>| {
            let before = days.range(..=day).next_back();
            let after = days.range(day..).next();
            before
                .zip(after)
                .is_none_or(|(before, after)| (*after - *before).num_days() <= LONG_GAP_DAYS)
        };
        self.rhythm.is_workday(day) && self.recorded_days.is_none_or(is_near)
    }

    /// Whether somebody was there in the week from a Monday, be it on another day than planned.
    pub(super) fn is_week_attended(&self, monday: NaiveDate) -> bool {
        let sunday = monday + Days::new(6);
        let has_line = |days: &BTreeSet<NaiveDate>| days.range(monday..=sunday).next().is_some();
        let mut days = monday.iter_days().take(7);
        days.any(|d| self.rhythm.is_workday(d)) && self.recorded_days.is_none_or(has_line)
    }
}
