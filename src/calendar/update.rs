//! From what was told before and what is to be done now, to what is told now.
//!
//! A chore of one kind on one day is one event, whatever its text: that is what its reader knows it
//! by. A chore that is about the same and moves by less than a week takes its event with it.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{DateTime, NaiveDate, NaiveTime, TimeDelta, Utc};

use crate::calendar::component::{self, Stamp};
use crate::calendar::item::{self, Item};
use crate::calendar::state::{State, Told};
use crate::calendar::{Options, done, identity, text, wire};
use crate::chores::{Chore, Kind};
use crate::garden::Garden;

/// An event that moves further than this [days] is another one: the same chore comes back the
/// week after.
const MOVES: i64 = 6;

/// What goes into the files: each with its component's text and its state.
pub(super) struct Entry {
    pub(super) told: Told,
    pub(super) component: String,
}

/// What is told now, and what is remembered: everything told, and what this time was not asked
/// for.
pub(super) fn update(
    chores: &[Chore],
    garden: &Garden,
    former: &State,
    options: &Options,
) -> (Vec<Entry>, State) {
    let teller = Teller {
        garden,
        options,
        today: options.today.unwrap_or(garden.start),
    };
    let items = item::items(chores, garden, options.form, former);
    let (others, before): (Vec<&Told>, Vec<&Told>) =
        former.told.iter().partition(|t| t.form != options.form);
    let matches = matched(&items, &before, teller.today);
    let known: BTreeSet<usize> = matches.iter().flatten().copied().collect();

    let mut taken: BTreeSet<String> = before.iter().map(|t| t.uid.clone()).collect();
    let mut entries = Vec::new();
    let mut remembered: Vec<Told> = others.into_iter().cloned().collect();
    for (item, known) in items.iter().zip(&matches) {
        let known = known.map(|i| before[i]);
        match teller.asked_for(item, known) {
            None => remembered.extend(known.cloned()),
            Some(item) => {
                let uid = match known {
                    Some(told) => told.uid.clone(),
                    None => identity::new(&item, garden, options.form, &taken),
                };
                taken.insert(uid.clone());
                entries.push(teller.entry(&item, uid, known));
            }
        }
    }
    for (_, told) in (0..).zip(before).filter(|(i, _)| !known.contains(i)) {
        if told.last_day() < teller.today {
            continue;
        }
        if options.worked && told.last_day() == teller.today {
            entries.extend(teller.done(told));
            continue;
        }
        if teller.is_wanted(told.kind) && teller.is_in_window(told.day.max(teller.today)) {
            entries.push(teller.cancelled(told));
        } else {
            remembered.push(told.clone());
        }
    }
    entries.sort_by(|a, b| {
        let order = |e: &Entry| (e.told.day, e.told.kind, e.told.uid.clone());
        order(a).cmp(&order(b))
    });
    remembered.extend(entries.iter().map(|entry| entry.told.clone()));
    (entries, State::of(remembered))
}

/// For each item the index of what it was before.
fn matched(items: &[Item], before: &[&Told], today: NaiveDate) -> Vec<Option<usize>> {
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
        let near = near(item, &singly);
        let candidates = if item.repeats() { &series } else { &near };
        for b in candidates {
            if let Some(likeness) = likeness(item, before[*b], today) {
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
fn near(item: &Item, singly: &BTreeMap<(Kind, NaiveDate), Vec<usize>>) -> Vec<usize> {
    let days = TimeDelta::days(MOVES);
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
fn likeness(item: &Item, told: &Told, today: NaiveDate) -> Option<(bool, i64, NaiveDate)> {
    let moved = (item.first() - told.day).num_days().abs();
    let renamed = told.summary != text::one_line(&item.chore.summary);
    if item.repeats() {
        let same = !told.cancelled && told.is_series_of(item);
        return same.then_some((renamed, moved, told.day));
    }
    if moved == 0 {
        return Some((false, 0, told.day));
    }
    let same = !told.cancelled
        && told.about == identity::about(&item.chore)
        && told.day >= today
        && item.first() >= today;
    same.then_some((true, moved, told.day))
}

struct Teller<'a> {
    garden: &'a Garden,
    options: &'a Options,
    today: NaiveDate,
}

impl Teller<'_> {
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
    fn asked_for(&self, item: &Item, known: Option<&Told>) -> Option<Item> {
        let is_asked_for = item.days.iter().any(|day| self.is_in_window(*day));
        if !is_asked_for || !self.is_wanted(item.kind()) {
            return None;
        }
        let series = known.and_then(|told| Some(told.day..=told.last?));
        let is_known = |day| series.as_ref().is_some_and(|days| days.contains(&day));
        item.told_on(|day| self.is_in_window(day) || is_known(day))
    }

    fn entry(&self, item: &Item, uid: String, known: Option<&Told>) -> Entry {
        let told = Told {
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
        self.stamped(item, told, known)
    }

    /// What was done, as it stands in the calendar.
    fn done(&self, known: &Told) -> Option<Entry> {
        if known.cancelled || !self.is_wanted(known.kind) {
            return None;
        }
        let now = midnight(self.today);
        let (told, component) = done::done(known, &self.options.files, now)?;
        Some(Entry { told, component })
    }

    /// What fell away, told as that; of a series one day stands for all.
    fn cancelled(&self, known: &Told) -> Entry {
        let day = match known.last {
            Some(_) => known.day.max(self.today),
            None => known.day,
        };
        let told = Told {
            day,
            last: None,
            cancelled: true,
            ..known.clone()
        };
        let item = Item {
            chore: Chore {
                day,
                kind: told.kind,
                about: told.about.clone(),
                summary: told.summary.clone(),
                details: Vec::new(),
                brief: None,
            },
            days: vec![day],
        };
        self.stamped(&item, told, Some(known))
    }

    /// The component, changed now if it says anything else than before.
    fn stamped(&self, item: &Item, mut told: Told, known: Option<&Told>) -> Entry {
        let write = |told: &Told| {
            let stamp = Stamp {
                sequence: told.sequence,
                changed: told.changed,
            };
            component::component(item, told, stamp, self.garden, self.options)
        };
        let said = wire::unfolded(&wire::set_right(&write(&told)));
        told.fingerprint = wire::fingerprint(said.split_terminator("\r\n"));
        (told.sequence, told.changed) = match known {
            None => (0, midnight(self.today)),
            Some(known) if known.fingerprint == told.fingerprint => (known.sequence, known.changed),
            // Later than before, also where two plans are made for the same day.
            Some(known) => {
                let later = known.changed + TimeDelta::seconds(1);
                (known.sequence + 1, midnight(self.today).max(later))
            }
        };
        let component = write(&told);
        Entry { told, component }
    }
}

fn midnight(day: NaiveDate) -> DateTime<Utc> {
    day.and_time(NaiveTime::MIN).and_utc()
}
