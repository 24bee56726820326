//! From what was told before and what is to be done now, to what is told now.
//!
//! A chore of one kind on one day is one event, whatever its text: that is what its reader knows it
//! by. A chore that is about the same and moves by less than a week takes its event with it.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{DateTime, NaiveDate, NaiveTime, TimeDelta, Utc};

use crate::calendar::component::{self, Revision};
use crate::calendar::item::{self, CalendarItem};
use crate::calendar::state::{CalendarState, PublishedEvent};
use crate::calendar::{CalendarOptions, done, identity, text, wire};
use crate::chores::{Chore, Kind};
use crate::garden::Garden;

/// An event that moves further than this [days] is another one: the same chore comes back the
/// week after.
const MAX_MOVE_DAYS: i64 = 6;

/// What goes into the files: each with its component's text and its state.
pub(super) struct PublishedEntry {
    pub(super) published: PublishedEvent,
    pub(super) component: String,
}

/// What is told now, and what is remembered: everything told, and what this time was not asked
/// for.
pub(super) fn update(
    chores: &[Chore],
    garden: &Garden,
    former: &CalendarState,
    options: &CalendarOptions,
) -> (Vec<PublishedEntry>, CalendarState) {
    let publisher = Publisher {
        garden,
        options,
        today: options.today.unwrap_or(garden.start),
    };
    let items = item::items(chores, garden, options.form, former);
    let (others, before): (Vec<&PublishedEvent>, Vec<&PublishedEvent>) =
        former.told.iter().partition(|t| t.form != options.form);
    let matches = match_items(&items, &before, publisher.today);
    let known: BTreeSet<usize> = matches.iter().flatten().copied().collect();

    let mut taken: BTreeSet<String> = before.iter().map(|t| t.uid.clone()).collect();
    let mut entries = Vec::new();
    let mut remembered: Vec<PublishedEvent> = others.into_iter().cloned().collect();
    for (item, known) in items.iter().zip(&matches) {
        let known = known.map(|i| before[i]);
        match publisher.requested_days(item, known) {
            None => remembered.extend(known.cloned()),
            Some(item) => {
                let uid = match known {
                    Some(told) => told.uid.clone(),
                    None => identity::new_uid(&item, garden, options.form, &taken),
                };
                taken.insert(uid.clone());
                entries.push(publisher.entry(&item, uid, known));
            }
        }
    }
    for (_, told) in (0..).zip(before).filter(|(i, _)| !known.contains(i)) {
        if told.last_day() < publisher.today {
            continue;
        }
        if options.worked && told.last_day() == publisher.today {
            entries.extend(publisher.done(told));
            continue;
        }
        if publisher.is_wanted(told.kind) && publisher.is_in_window(told.day.max(publisher.today)) {
            entries.push(publisher.cancelled(told));
        } else {
            remembered.push(told.clone());
        }
    }
    entries.sort_by(|a, b| {
        let order =
            |e: &PublishedEntry| (e.published.day, e.published.kind, e.published.uid.clone());
        order(a).cmp(&order(b))
    });
    remembered.extend(entries.iter().map(|entry| entry.published.clone()));
    (entries, CalendarState::from_events(remembered))
}

/// For each item the index of what it was before.
fn match_items(
    items: &[CalendarItem],
    before: &[&PublishedEvent],
    today: NaiveDate,
) -> Vec<Option<usize>> {
    let mut singly: BTreeMap<(Kind, NaiveDate), Vec<usize>> = BTreeMap::new();
    let mut series = Vec::new();
    for (b, told) in before.iter().enumerate() {
        match told.last {
            None => singly.entry((told.kind, told.day)).or_default().push(b),
            Some(_) => series.push(b),
        }
    }
    let mut pairs = Vec::new();
    for (i, item) in items.iter().enumerate() {
        let near = candidates(item, &singly);
        let candidates = if item.repeats() { &series } else { &near };
        for b in candidates {
            if let Some(likeness) = match_score(item, before[*b], today) {
                pairs.push((likeness, i, *b));
            }
        }
    }
    pairs.sort_unstable();
    let mut matched = vec![None; items.len()];
    let mut used = BTreeSet::new();
    for (_, i, b) in pairs {
        if matched[i].is_none() && used.insert(b) {
            matched[i] = Some(b);
        }
    }
    matched
}

/// What of the item's kind was told for days so near that it may be the same.
fn candidates(item: &CalendarItem, singly: &BTreeMap<(Kind, NaiveDate), Vec<usize>>) -> Vec<usize> {
    let days = TimeDelta::days(MAX_MOVE_DAYS);
    let day = item.first();
    let nearest = (item.kind(), day - days)..=(item.kind(), day + days);
    singly
        .range(nearest)
        .flat_map(|(_, told)| told)
        .copied()
        .collect()
}

/// How near what was told comes to being this item, least first: renamed, and by how many days
/// moved; nothing if it is another.
fn match_score(
    item: &CalendarItem,
    published: &PublishedEvent,
    today: NaiveDate,
) -> Option<(bool, i64, NaiveDate)> {
    let moved = (item.first() - published.day).num_days().abs();
    let renamed = published.summary != text::one_line(&item.chore.summary);
    if item.repeats() {
        let same = !published.cancelled && published.may_be_series(item);
        return same.then_some((renamed, moved, published.day));
    }
    if moved == 0 {
        return Some((false, 0, published.day));
    }
    let same = !published.cancelled
        && published.about == identity::about(&item.chore)
        && published.day >= today
        && item.first() >= today;
    same.then_some((true, moved, published.day))
}

struct Publisher<'a> {
    garden: &'a Garden,
    options: &'a CalendarOptions,
    today: NaiveDate,
}

impl Publisher<'_> {
    fn is_wanted(&self, kind: Kind) -> bool {
        self.options.only.is_empty() || self.options.only.contains(&kind)
    }

    fn is_in_window(&self, day: NaiveDate) -> bool {
        self.options.days.is_none_or(|days| {
            let after = (day - self.today).num_days();
            0 <= after && after < i64::from(days)
        })
    }

    /// An item on the days that are asked for; of a series that is known, it goes on beyond them
    /// as far as it did.
    fn requested_days(
        &self,
        item: &CalendarItem,
        known: Option<&PublishedEvent>,
    ) -> Option<CalendarItem> {
        let is_asked_for = item.days.iter().any(|day| self.is_in_window(*day));
        if !is_asked_for || !self.is_wanted(item.kind()) {
            return None;
        }
        let series = known.and_then(|told| Some(told.day..=told.last?));
        let is_known = |day| series.as_ref().is_some_and(|days| days.contains(&day));
        item.on_days(|day| self.is_in_window(day) || is_known(day))
    }

    fn entry(
        &self,
        item: &CalendarItem,
        uid: String,
        known: Option<&PublishedEvent>,
    ) -> PublishedEntry {
        let published = PublishedEvent {
            uid,
            form: self.options.form,
            kind: item.kind(),
            about: identity::about(&item.chore),
            day: item.first(),
            last: item.repeats().then(|| item.last()),
            summary: text::one_line(&item.chore.summary),
            cancelled: false,
            fingerprint: String::new(),
            sequence: 0,
            changed: DateTime::UNIX_EPOCH,
        };
        self.with_sequence(item, published, known)
    }

    /// What was done, as it stands in the calendar.
    fn done(&self, known: &PublishedEvent) -> Option<PublishedEntry> {
        if known.cancelled || !self.is_wanted(known.kind) {
            return None;
        }
        let now = midnight(self.today);
        let (told, component) = done::done(known, &self.options.files, now)?;
        Some(PublishedEntry {
            published: told,
            component,
        })
    }

    /// What fell away, told as that; of a series one day stands for all.
    fn cancelled(&self, known: &PublishedEvent) -> PublishedEntry {
        let day = match known.last {
            Some(_) => known.day.max(self.today),
            None => known.day,
        };
        let published = PublishedEvent {
            day,
            last: None,
            cancelled: true,
            ..known.clone()
        };
        let item = CalendarItem {
            chore: Chore {
                day,
                kind: published.kind,
                about: published.about.clone(),
                summary: published.summary.clone(),
                details: Vec::new(),
                short_details: None,
            },
            days: vec![day],
        };
        self.with_sequence(&item, published, Some(known))
    }

    /// The component, changed now if it says anything else than before.
    fn with_sequence(
        &self,
        item: &CalendarItem,
        mut published: PublishedEvent,
        known: Option<&PublishedEvent>,
    ) -> PublishedEntry {
        let write = |told: &PublishedEvent| {
            let stamp = Revision {
                sequence: told.sequence,
                changed: told.changed,
            };
            component::component(item, told, stamp, self.garden, self.options)
        };
        let said = wire::unfold(&wire::normalise(&write(&published)));
        published.fingerprint = wire::fingerprint(said.split_terminator("\r\n"));
        (published.sequence, published.changed) = match known {
            None => (0, midnight(self.today)),
            Some(known) if known.fingerprint == published.fingerprint => {
                (known.sequence, known.changed)
            }
            // Later than before, also where two plans are made for the same day.
            Some(known) => {
                let later = known.changed + TimeDelta::seconds(1);
                (known.sequence + 1, midnight(self.today).max(later))
            }
        };
        let component = write(&published);
        PublishedEntry {
            published,
            component,
        }
    }
}

fn midnight(day: NaiveDate) -> DateTime<Utc> {
    day.and_time(NaiveTime::MIN).and_utc()
}
