//! On which days somebody was there, by the diary.

use std::collections::BTreeSet;

use chrono::{Days, NaiveDate};

use crate::garden::Rhythm;
use crate::garden::diary::State;

/// Where so large a share of the workdays have a line in the diary, one that has none was missed
/// (our assumption; no published source). Elsewhere there is often nothing to put down.
const USUALLY: f64 = 0.75;

/// On which days somebody was there.
pub(super) struct Tended<'a> {
    rhythm: &'a Rhythm,
    /// Days of which something was put down, where that is done on most workdays.
    put_down: Option<&'a BTreeSet<NaiveDate>>,
}

impl<'a> Tended<'a> {
    /// By all lines of a diary so far.
    pub(super) fn of(rhythm: &'a Rhythm, state: &'a State) -> Self {
        let put_down = &state.tended;
        let days = put_down.first().zip(put_down.last());
        let is_usual = days.is_some_and(|(first, last)| {
            let days = first.iter_days().take_while(|day| day <= last);
            let workdays: Vec<NaiveDate> = days.filter(|d| rhythm.is_workday(*d)).collect();
            let with_lines = workdays.iter().filter(|d| put_down.contains(d)).count();
            #[allow(clippy::cast_precision_loss)]
            let (with_lines, all) = (with_lines as f64, workdays.len() as f64);
            with_lines >= USUALLY * all
        });
        Self {
            rhythm,
            put_down: is_usual.then_some(put_down),
        }
    }

    /// Whether somebody looked at the plants on a day.
    pub(super) fn on(&self, day: NaiveDate) -> bool {
        self.rhythm.is_workday(day) && self.put_down.is_none_or(|days| days.contains(&day))
    }

    /// Whether somebody was there in the week from a Monday, be it on another day than planned.
    pub(super) fn in_week(&self, monday: NaiveDate) -> bool {
        let sunday = monday + Days::new(6);
        let mut days = monday.iter_days().take(7);
        days.any(|d| self.rhythm.is_workday(d))
            && self
                .put_down
                .is_none_or(|days| days.range(monday..=sunday).next().is_some())
    }
}
