//! When tubes are emptied and scrubbed.

use std::cmp::Reverse;
use std::ops::RangeInclusive;

use chrono::NaiveDate;

use crate::garden::Garden;
use crate::garden::holes::Layout;
use crate::planner::build::{
    FloweringTime, PlannedSeedPlant, PlanningState, WorkdayCalendar, day_number, seed_plants,
    whole_days,
};
use crate::planner::problem::{CleanTask, StandingPlant};

/// What tells when tubes can be scrubbed. Days count from the one from which is planned, those
/// before it below 0.
pub(super) struct CleanScheduler<'a> {
    setting: &'a PlanningState,
    layout: &'a Layout,
    calendar: &'a WorkdayCalendar,
    standing: &'a [StandingPlant],
    flowering: Vec<FloweringTime>,
    start: NaiveDate,
    /// From one scrubbing of a tube to the next, and by how much it may come sooner or later;
    /// none where tubes are not scrubbed.
    interval_and_slack: Option<(i64, i64)>,
}

impl<'a> CleanScheduler<'a> {
    pub(crate) fn new(
        garden: &Garden,
        setting: &'a PlanningState,
        layout: &'a Layout,
        calendar: &'a WorkdayCalendar,
        standing: &'a [StandingPlant],
        kept: &[PlannedSeedPlant],
    ) -> Self {
        Self {
            setting,
            layout,
            calendar,
            standing,
            flowering: seed_plants::flowering_times(garden, setting, layout, kept),
            start: garden.start,
            interval_and_slack: garden.rhythm.deep_clean.map(|clean| {
                let days = |span| i64::from(whole_days(span));
                (days(clean.interval.get()), days(clean.slack.get()))
            }),
        }
    }

    /// The windows in which tubes are scrubbed, as far as they lie wholly in the days looked at.
    ///
    /// They are counted from the garden's start, whatever day it is. One in which (or half an
    /// interval before) the tube was scrubbed is done with; one that has passed without is made up
    /// for as soon as can be. So is one in which a seed plant stands all the time, as soon as that
    /// is out; but where the next one is nearer then, that does for it.
    pub(super) fn clean_tasks(&self) -> Vec<CleanTask> {
        let Some((every, slack)) = self.interval_and_slack else {
            return Vec::new();
        };
        let start = (self.start - self.setting.today).num_days();
        let mut cleans = Vec::new();
        for middle in (1..).map(|n| start + n * every) {
            if (middle + slack).max(0) >= self.days() {
                break;
            }
            let turn = CleanWindow {
                middle,
                interval: every,
                slack,
            };
            let tubes = 0..self.layout.tubes.len();
            cleans.extend(tubes.filter_map(|tube| self.clean_task(tube, turn)));
        }
        cleans
    }

    /// When a tube is scrubbed in its turn, if it is to be and there is a day for it.
    fn clean_task(&self, tube: usize, turn: CleanWindow) -> Option<CleanTask> {
        let scrubbed = self.setting.cleaned.get(&self.layout.tubes[tube].name);
        let scrubbed = scrubbed.map(|&day| (day - self.setting.today).num_days());
        if scrubbed.is_some_and(|day| turn.first_due_day() <= day) {
            return None;
        }
        let stated = turn.range();
        let due = self.longest_free_part(tube, stated.clone(), *stated.start());
        let due = due.or_else(|| self.catch_up_window(tube, *stated.end(), turn))?;
        let next = turn.next();
        let due = match due.end() {
            0.. => due,
            // The next one is near enough to do for both.
            _ if *next.range().start() <= 0 => return None,
            _ => 0..=turn.slack,
        };
        // What stands has to come out first, which may take it out of the window; if into the
        // next one, that does for both.
        let empty = self.earliest_empty_day(tube);
        let (next_first, next_last) = next.range().into_inner();
        if *due.end() < empty && next_first <= empty && next_last < self.days() {
            return None;
        }
        let last = (*due.end()).max(empty).min(self.days() - 1);
        let window = self.longest_free_part(tube, *due.start().max(&0)..=last, empty);
        let (first, last) = window
            .or_else(|| self.catch_up_window(tube, last, turn))?
            .into_inner();
        let window =
            usize::try_from(first).ok()?..=usize::try_from(last.min(self.days() - 1)).ok()?;
        let is_free = |day: &&usize| {
            window.contains(day) && i64::try_from(**day).is_ok_and(|day| empty <= day)
        };
        self.calendar.workdays.iter().find(is_free)?;
        Some(CleanTask {
            tube,
            days: [day_number(*window.start()), day_number(*window.end())],
        })
    }

    fn days(&self) -> i64 {
        i64::try_from(self.calendar.days).unwrap_or(i64::MAX)
    }

    /// From when on all that stands in a tube can be out, but for seed plants.
    fn earliest_empty_day(&self, tube: usize) -> i64 {
        let here = self.standing.iter().filter(|s| {
            let is_seed_plant = self.flowering.iter().any(|f| f.hole == s.hole && f.stands);
            self.layout.holes[s.hole].tube == tube && !is_seed_plant
        });
        here.map(|s| i64::from(s.ends[0].day)).max().unwrap_or(0)
    }

    fn flowering_in(&self, tube: usize) -> impl Iterator<Item = &FloweringTime> {
        let of_tube = move |f: &&FloweringTime| self.layout.holes[f.hole].tube == tube;
        self.flowering.iter().filter(of_tube)
    }

    /// The seed plant that stands in a tube both before and after a day.
    fn seed_plant_over(&self, tube: usize, day: i64) -> Option<&FloweringTime> {
        self.flowering_in(tube)
            .find(|f| f.from < day && day < f.until)
    }

    /// The part of a window without seed plants that has the most days from one on, if any has.
    fn longest_free_part(
        &self,
        tube: usize,
        window: RangeInclusive<i64>,
        from: i64,
    ) -> Option<RangeInclusive<i64>> {
        let outs = self.flowering_in(tube).map(|f| f.until);
        let begins = std::iter::once(*window.start()).chain(outs);
        let begins =
            begins.filter(|day| window.contains(day) && self.seed_plant_over(tube, *day).is_none());
        let parts = begins.map(|first| {
            let comes = self.flowering_in(tube).map(|f| f.from);
            let comes = comes.filter(|&day| first <= day).min();
            first..=comes.unwrap_or(i64::MAX).min(*window.end())
        });
        parts
            .filter(|part| from <= *part.end())
            .max_by_key(|part| (part.end() - from.max(*part.start()), Reverse(*part.start())))
    }

    /// When a turn is made up for that has no day by a given one: as soon as no seed plant stands
    /// in the tube, if that is nearer to it than to the next.
    fn catch_up_window(
        &self,
        tube: usize,
        by: i64,
        turn: CleanWindow,
    ) -> Option<RangeInclusive<i64>> {
        let mut first = by + 1;
        while let Some(stands) = self.seed_plant_over(tube, first) {
            first = stands.until;
        }
        let next = turn.next().first_due_day();
        (first < next).then(|| first..=(first + turn.slack).min(next - 1))
    }
}

/// A tube's turn to be scrubbed.
#[derive(Clone, Copy)]
struct CleanWindow {
    middle: i64,
    interval: i64,
    slack: i64,
}

impl CleanWindow {
    fn next(self) -> Self {
        Self {
            middle: self.middle + self.interval,
            ..self
        }
    }

    const fn range(self) -> RangeInclusive<i64> {
        self.middle - self.slack..=self.middle + self.slack
    }

    /// From when on a scrubbing does for this one, rather than for the one before.
    const fn first_due_day(self) -> i64 {
        self.middle - self.interval / 2
    }
}
