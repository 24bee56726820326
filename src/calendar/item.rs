//! What stands in the calendar as one thing: a chore on its day, or one that repeats unchanged.
//!
//! Separate days are what most apps and people deal with best, so a series is made only of a
//! chore that reads the same on more than [`MAX_SINGLE_DAYS`] days, on a fixed choice of weekdays but for a
//! few gaps.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike, NaiveDate, Weekday};

use crate::calendar::state::{CalendarState, PublishedEvent};
use crate::calendar::{ComponentKind, timezone};
use crate::chores::{Chore, Kind};
use crate::garden::Garden;

/// Up to so many days on which a chore reads the same are told one by one.
const MAX_SINGLE_DAYS: usize = 50;

/// A series has at most one gap for so many of its days.
const DAYS_PER_GAP: usize = 4;

/// A chore with the days on which it is told.
#[derive(Debug, Clone)]
pub(super) struct CalendarItem {
    /// As on the first day.
    pub(super) chore: Chore,
    /// Rising, at least one; more make a series.
    pub(super) days: Vec<NaiveDate>,
}

/// The rule of a series: every week on these days, but for the gaps.
pub(super) struct RecurrenceRule {
    pub(super) weekdays: Vec<Weekday>,
    pub(super) gaps: Vec<NaiveDate>,
}

impl CalendarItem {
    fn single_day(chore: &Chore) -> Self {
        Self {
            days: vec![chore.day],
            chore: chore.clone(),
        }
    }

    pub(crate) fn kind(&self) -> Kind {
        self.chore.kind
    }

    pub(super) fn first(&self) -> NaiveDate {
        self.days[0]
    }

    pub(super) fn last(&self) -> NaiveDate {
        self.days[self.days.len() - 1]
    }

    pub(super) fn repeats(&self) -> bool {
        self.days.len() > 1
    }

    /// The same, told on those of its days that are chosen; nothing if none is.
    pub(super) fn on_days(&self, chosen: impl Fn(NaiveDate) -> bool) -> Option<Self> {
        let days: Vec<NaiveDate> = self.days.iter().copied().filter(|d| chosen(*d)).collect();
        let first = *days.first()?;
        let mut chore = self.chore.clone();
        chore.day = first;
        Some(Self { chore, days })
    }

    /// How it repeats.
    pub(super) fn rule(&self) -> RecurrenceRule {
        let on: BTreeSet<NaiveDate> = self.days.iter().copied().collect();
        let mut weekdays: Vec<Weekday> = on.iter().map(NaiveDate::weekday).collect();
        weekdays.sort_by_key(Weekday::num_days_from_monday);
        weekdays.dedup();
        let gaps = self
            .first()
            .iter_days()
            .take_while(|day| *day <= self.last())
            .filter(|day| weekdays.contains(&day.weekday()) && !on.contains(day))
            .collect();
        RecurrenceRule { weekdays, gaps }
    }
}

/// All chores as items: what was a series stays one as long as it is told on several days, and
/// what was told day by day stays so; by first day, then in the order of a day's work.
pub(super) fn items(
    chores: &[Chore],
    garden: &Garden,
    form: ComponentKind,
    former: &CalendarState,
) -> Vec<CalendarItem> {
    let mut groups: BTreeMap<(Kind, &str, &str, &[String]), Vec<&Chore>> = BTreeMap::new();
    for chore in chores {
        let alike = (
            chore.kind,
            chore.about.as_str(),
            chore.summary.as_str(),
            chore.calendar_details(),
        );
        groups.entry(alike).or_default().push(chore);
    }
    let mut items = Vec::new();
    // A task is done once: lists of tasks deal badly with those that come back.
    let mut series: Vec<&PublishedEvent> = match form {
        ComponentKind::Events => former
            .not_cancelled(form)
            .filter(|t| t.last.is_some())
            .collect(),
        ComponentKind::Todos => Vec::new(),
    };
    let mut groups = Vec::from_iter(groups.into_values());
    groups.sort_by_key(|group| (std::cmp::Reverse(group.len()), group[0].day));
    for group in groups {
        let whole = CalendarItem {
            chore: group[0].clone(),
            days: group.iter().map(|chore| chore.day).collect(),
        };
        let known = series.iter().position(|told| told.may_be_series(&whole));
        let makes = form == ComponentKind::Events
            && whole.repeats()
            && is_regular_series(&whole, garden)
            && (known.is_some()
                || whole.days.len() > MAX_SINGLE_DAYS && !is_published_singly(&whole, former));
        if makes {
            known.map(|i| series.remove(i));
            items.push(whole);
        } else {
            items.extend(group.into_iter().map(CalendarItem::single_day));
        }
    }
    items.sort_by_key(|item| (item.first(), item.kind(), item.repeats()));
    items
}

/// Whether its days follow a rule with few gaps, at a time that exists on each of them.
fn is_regular_series(item: &CalendarItem, garden: &Garden) -> bool {
    let exists = |day: &NaiveDate| {
        garden.rhythm.remind_at.is_none_or(|time| {
            let local = day.and_time(time);
            timezone::existing_local_time(garden.place.timezone, local) == local
        })
    };
    item.rule().gaps.len() * DAYS_PER_GAP <= item.days.len() && item.days.iter().all(exists)
}

/// Whether any of its days is in the calendar by itself already.
fn is_published_singly(item: &CalendarItem, former: &CalendarState) -> bool {
    former
        .not_cancelled(ComponentKind::Events)
        .filter(|told| told.last.is_none() && told.kind == item.kind())
        .any(|told| item.days.binary_search(&told.day).is_ok())
}
