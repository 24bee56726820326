//! One crop that takes over from another.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use super::{Say, Told};
use crate::independent_check::Look;

/// Harvests of a crop further apart are of different seasons, and crops that take over do so within
/// as many days (common practice, no published source).
const SEASON: i64 = 28;

impl Look<'_> {
    /// Want, the crop that takes over with its first harvest, and the other with its last.
    pub(super) fn turns(&self) -> Vec<(usize, Season, Season)> {
        let mut days: BTreeMap<(usize, &str), BTreeSet<NaiveDate>> = BTreeMap::new();
        for plant in &self.plants {
            let of_crop = days.entry((plant.want, &plant.crop.key)).or_default();
            let shown = plant.stay.harvests.iter().map(|h| h.day);
            of_crop.extend(shown.filter(|d| self.plan.start <= *d && *d <= self.plan.last));
        }
        let mut seasons: Vec<(usize, Season)> = Vec::new();
        for ((want, crop), days) in days {
            for day in days {
                match seasons.last_mut() {
                    Some((of, s))
                        if *of == want && s.crop == crop && (day - s.last).num_days() <= SEASON =>
                    {
                        s.last = day;
                    }
                    _ => seasons.push((
                        want,
                        Season {
                            crop: crop.to_owned(),
                            first: day,
                            last: day,
                        },
                    )),
                }
            }
        }
        let mut turns = Vec::new();
        for (want, to) in &seasons {
            let apart = |from: &Season| (to.first - from.last).num_days().abs();
            let before = seasons.iter().filter(|(of, from)| {
                let has_ended = (self.plan.last - from.last).num_days() > SEASON;
                of == want && from.crop != to.crop && from.first < to.first && has_ended
            });
            let near = before
                .map(|(_, from)| from)
                .filter(|from| apart(from) <= SEASON);
            if let Some(from) = near.min_by_key(|from| (apart(from), &from.crop)) {
                turns.push((*want, to.clone(), from.clone()));
            }
        }
        turns
    }
}

#[derive(Clone)]
pub(super) struct Season {
    pub(super) crop: String,
    pub(super) first: NaiveDate,
    pub(super) last: NaiveDate,
}

impl Say<'_, '_> {
    pub(super) fn turned(&mut self, one: &Told) {
        let (look, tongue) = (self.look, self.tongue);
        let mut told = Vec::new();
        for (when, sentence) in ["", "past", "later"].iter().zip(tongue.turn) {
            let found = self.fits(sentence, one);
            told.extend(found.iter().map(|f| format!("{when} {}", f.join(" "))));
        }
        let called = |key: &str| look.garden.crop(key).expect("a card").name.clone();
        let turns = look.turns();
        let turns = turns.iter().filter(|(_, to, _)| to.first == one.day);
        let meant = turns.map(|(want, to, from)| {
            let when = match from.last.cmp(&one.day) {
                std::cmp::Ordering::Equal => "",
                std::cmp::Ordering::Less => "past",
                std::cmp::Ordering::Greater => "later",
            };
            let want = &look.garden.wants[*want].name;
            let turn = format!("{when} {want} {} {}", called(&to.crop), called(&from.crop));
            if when.is_empty() {
                turn
            } else {
                format!("{turn} {}", tongue.day(from.last, one.day))
            }
        });
        let meant = meant.collect();
        self.hold("takes over", one.day, told, meant);
    }
}
