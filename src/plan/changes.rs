//! What moves in the coming two weeks when a plan is made again, and why.

use std::collections::BTreeMap;

use chrono::{Days, NaiveDate};
use serde::Serialize;

use crate::diary::{DiaryState, NurserySowing, RemovalReason};
use crate::plan::warm_start::FROZEN_DAYS;
use crate::plan::{Plan, Stay, tank_history};

/// One thing that moved.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlanChange {
    /// The hole, the tube that is scrubbed, or the loop whose solution is changed.
    pub place: String,
    /// Key of the crop; absent for a tube or loop.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub crop: Option<String>,
    /// What moved.
    pub what: ChangedItem,
    /// The day so far; absent if it is new.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<NaiveDate>,
    /// The day now; absent if it is no more.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<NaiveDate>,
    /// Why.
    pub why: PlanChangeReason,
}

/// A thing that can move.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum ChangedItem {
    /// Sowing for a hole.
    Sow,
    /// Setting a plant out.
    Transplant,
    /// Taking a plant out, with its last harvest.
    Removal,
    /// Scrubbing a tube.
    Clean,
    /// Changing a loop's solution.
    Solution,
}

/// Why a thing moved.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum PlanChangeReason {
    /// The hole is blocked.
    Blocked,
    /// What stood there was lost, of what the grower said.
    Lost(Option<String>),
    /// The diary does not have what was to be done by then.
    NotRecorded,
    /// What was done there was not what the plan said.
    DoneOtherwise,
    /// There are not the seedlings for it.
    Seedlings,
    /// It was sown some days after it was to be.
    SownLate,
    /// The crop is faster or slower than it was taken to be: so many times its card's time.
    Pace(f64),
    /// The garden file or a card was changed.
    GardenChanged,
    /// To make up for the other changes.
    MakesUp,
}

/// What moved from one plan to the next in the two weeks from today, by place, then day.
#[must_use]
pub fn compare_plans(
    former: &Plan,
    plan: &Plan,
    state: &DiaryState,
    today: NaiveDate,
) -> Vec<PlanChange> {
    let standing = plan.stays.iter().filter(|s| s.stands);
    let compared = PlanDiff {
        former,
        plan,
        state,
        standing: standing.map(|s| (s.hole.as_str(), s)).collect(),
        today,
        until: today + Days::new(u64::from(FROZEN_DAYS)),
    };
    let mut changes = compared.all_stay_changes();
    changes.extend(compared.clean_changes());
    changes.extend(compared.solution_changes());
    changes
}

/// A sowing so many days after one that was planned, or more, is another.
const OTHER_SOWING_AFTER_DAYS: i64 = 7;

/// A plant that is set out so many days sooner or later, or more, is told as another.
const OTHER_PLANT_AFTER_DAYS: i64 = 28;

/// One crop's stays in a hole by two plans, rising, each beside the one that it became: by pairs
/// in their order that are as near to each other as they can be, a stay left alone counting as
/// half of [`OTHER_TRANSPLANT_DAYS`].
fn match_stays<'s>(
    before: &[&'s Stay],
    after: &[&'s Stay],
) -> Vec<(Option<&'s Stay>, Option<&'s Stay>)> {
    let apart = |i: usize, j: usize| {
        let days = after[j].transplant - before[i].transplant;
        days.num_days().abs()
    };
    let alone = OTHER_PLANT_AFTER_DAYS / 2;
    let (n, m) = (before.len(), after.len());
    // What it costs to pair all from a stay on, of the one plan and the other.
    let mut rest = vec![vec![0; m + 1]; n + 1];
    let ways = |rest: &[Vec<i64>], i: usize, j: usize| {
        let both = (i < n && j < m).then(|| apart(i, j) + rest[i + 1][j + 1]);
        let no_more = (i < n).then(|| alone + rest[i + 1][j]);
        let is_new = (j < m).then(|| alone + rest[i][j + 1]);
        [no_more, is_new, both]
    };
    for i in (0..=n).rev() {
        for j in (0..=m).rev() {
            let least = ways(&rest, i, j).into_iter().flatten().min();
            rest[i][j] = least.unwrap_or(0);
        }
    }
    let (mut i, mut j) = (0, 0);
    let mut pairs = Vec::new();
    while i < n || j < m {
        let [no_more, is_new, _] = ways(&rest, i, j).map(|way| way == Some(rest[i][j]));
        let (old, new) = (!is_new || no_more, !no_more);
        pairs.push((old.then(|| before[i]), new.then(|| after[j])));
        i += usize::from(old);
        j += usize::from(new);
    }
    pairs
}

struct PlanDiff<'a> {
    former: &'a Plan,
    plan: &'a Plan,
    state: &'a DiaryState,
    /// What stands on the new plan's first day, by hole.
    standing: BTreeMap<&'a str, &'a Stay>,
    today: NaiveDate,
    until: NaiveDate,
}

impl PlanDiff<'_> {
    fn is_in_frozen_period(&self, day: NaiveDate) -> bool {
        self.today <= day && day < self.until
    }

    fn all_stay_changes(&self) -> Vec<PlanChange> {
        type StayPair<'s> = [Vec<&'s Stay>; 2];
        let mut plants: BTreeMap<(&str, &str), StayPair<'_>> = BTreeMap::new();
        for (side, plan) in [self.former, self.plan].into_iter().enumerate() {
            let to_come = |s: &&Stay| s.removal >= self.today || self.is_still_standing(s);
            for stay in plan.stays.iter().filter(to_come) {
                let of = plants.entry((&stay.hole, &stay.crop)).or_default();
                of[side].push(stay);
            }
        }
        plants
            .into_values()
            .flat_map(|[before, after]| match_stays(&before, &after))
            .flat_map(|(before, after)| self.stay_changes(before, after))
            .collect()
    }

    /// Whether a stay that was to be over still goes on.
    fn is_still_standing(&self, stay: &Stay) -> bool {
        let here = self.standing.get(stay.hole.as_str());
        here.is_some_and(|s| stay.matches_plant(&s.hole, &s.crop, s.transplant))
    }

    /// Whether a plant came out otherwise than by a loss: that is done, not moved.
    fn is_removed_unharmed(&self, stay: &Stay) -> bool {
        self.state.removed.iter().any(|g| {
            !matches!(g.reason, RemovalReason::Lost(_))
                && stay.matches_plant(&g.hole, &g.plant.crop, g.plant.transplanted)
        })
    }

    /// What moved of one stay; of one that is no more, or is new, the first of it alone.
    fn stay_changes(&self, before: Option<&Stay>, after: Option<&Stay>) -> Vec<PlanChange> {
        let Some(stay) = before.or(after) else {
            return Vec::new();
        };
        if after.is_none() && self.is_removed_unharmed(stay) {
            return Vec::new();
        }
        let days = |of: fn(&Stay) -> Option<NaiveDate>| (before.and_then(of), after.and_then(of));
        let sow = |s: &Stay| s.sow.filter(|_| !s.on_hand);
        let set_out = |s: &Stay| (!s.stands).then_some(s.transplant);
        let parts = [
            (ChangedItem::Sow, days(sow)),
            (ChangedItem::Transplant, days(set_out)),
            (ChangedItem::Removal, days(|s| Some(s.removal))),
        ];
        let moved = parts.iter().copied().filter(|&(what, (from, to))| {
            let near = |d: NaiveDate| self.is_in_frozen_period(d);
            let past = |d: NaiveDate| d < self.today;
            let overdue = what == ChangedItem::Removal && from.is_some_and(past);
            let near = from.is_some_and(near) || to.is_some_and(near) || overdue;
            near && from != to
        });
        // What was sown or set out meanwhile is done, not moved.
        let done = |what: ChangedItem| match what {
            ChangedItem::Sow => after.is_some_and(|s| s.on_hand || s.stands),
            ChangedItem::Transplant => after.is_some_and(|s| s.stands),
            ChangedItem::Removal | ChangedItem::Clean | ChangedItem::Solution => false,
        };
        let is_one_plants = before.is_some() && after.is_some();
        let told = if is_one_plants { parts.len() } else { 1 };
        moved
            .filter(|&(what, _)| !done(what))
            .take(told)
            .map(|(what, (from, to))| PlanChange {
                place: stay.hole.clone(),
                crop: Some(stay.crop.clone()),
                what,
                from,
                to,
                why: self.reason(stay, before),
            })
            .collect()
    }

    fn clean_changes(&self) -> Vec<PlanChange> {
        let of = |plan: &Plan| -> BTreeMap<String, NaiveDate> {
            let to_come = plan.cleans.iter().filter(|c| c.day >= self.today);
            // The first of each tube that is still to come.
            let mut first = BTreeMap::new();
            for clean in to_come {
                first.entry(clean.tube.clone()).or_insert(clean.day);
            }
            first
        };
        let (before, after) = (of(self.former), of(self.plan));
        let mut tubes: Vec<_> = before.keys().chain(after.keys()).cloned().collect();
        tubes.sort();
        tubes.dedup();
        tubes
            .into_iter()
            .map(|tube| (before.get(&tube).copied(), after.get(&tube).copied(), tube))
            .filter(|&(from, to, _)| {
                let is_near = |d: Option<NaiveDate>| d.is_some_and(|d| self.is_in_frozen_period(d));
                from != to && (is_near(from) || is_near(to))
            })
            .map(|(from, to, tube)| PlanChange {
                why: self.clean_reason(&tube),
                place: tube,
                crop: None,
                what: ChangedItem::Clean,
                from,
                to,
            })
            .collect()
    }

    /// Changes of the solution that were due and are not in the diary: they stay due.
    fn solution_changes(&self) -> Vec<PlanChange> {
        let former = self.former.water.iter();
        let moved = former.filter_map(|water| {
            let from = tank_history::missed_change(water, self.state, self.today)?;
            let now = self.plan.water.iter().find(|w| w.r#loop == water.r#loop)?;
            let to = now.changes.first().map(|change| change.day);
            let to = to.filter(|&day| self.is_in_frozen_period(day))?;
            Some(PlanChange {
                place: water.r#loop.clone(),
                crop: None,
                what: ChangedItem::Solution,
                from: Some(from),
                to: Some(to),
                why: PlanChangeReason::NotRecorded,
            })
        });
        moved.collect()
    }

    fn reason(&self, stay: &Stay, before: Option<&Stay>) -> PlanChangeReason {
        let since = self.former.start;
        if self.state.blocked.contains(&stay.hole) {
            return PlanChangeReason::Blocked;
        }
        let gone = self.state.removed.iter().rev();
        let gone = gone
            .filter(|g| g.hole == stay.hole && g.on >= since)
            .find_map(|g| match &g.reason {
                RemovalReason::Lost(why) => Some(PlanChangeReason::Lost(why.clone())),
                _ => None,
            });
        if let Some(lost) = gone {
            return lost;
        }
        if let Some(overdue) = self.overdue_reason(&stay.hole, before) {
            return overdue;
        }
        let was_sown = |s: &Stay| s.on_hand || s.sow.is_some_and(|sow| sow < self.today);
        let here = self.state.plants.get(&stay.hole);
        let stands =
            |s: &Stay| here.is_some_and(|p| s.matches_plant(&s.hole, &p.crop, p.transplanted));
        if before.is_some_and(|s| !stands(s) && was_sown(s) && !self.has_unused_seedlings(s)) {
            return PlanChangeReason::Seedlings;
        }
        let pace = |plan: &Plan| {
            let seen = plan.seen.iter().find(|s| s.crop == stay.crop);
            seen.map_or(1.0, |s| s.pace)
        };
        if (pace(self.plan) - pace(self.former)).abs() > 0.005 {
            return PlanChangeReason::Pace(pace(self.plan));
        }
        self.default_reason()
    }

    /// Whether there are seedlings of a stay's sowing that the plan has no use for.
    fn has_unused_seedlings(&self, stay: &Stay) -> bool {
        let sowings = self.state.sowings.iter();
        let of_it = sowings.filter(|n| n.crop == stay.crop && Some(n.on) == stay.sow);
        let cups = |n: &NurserySowing| n.cups.unwrap_or(n.cells).saturating_sub(n.transplanted);
        let there: u32 = of_it.map(|n| cups(n).min(n.remaining())).sum();
        let is_used =
            |s: &&Stay| s.on_hand && !s.stands && s.crop == stay.crop && s.sow == stay.sow;
        there as usize > self.plan.stays.iter().filter(is_used).count()
    }

    /// Something in the hole was to be done by now, and was not, or was done otherwise.
    fn overdue_reason(&self, hole: &str, before: Option<&Stay>) -> Option<PlanChangeReason> {
        let here = self.state.plants.get(hole);
        let of_hole = self.former.stays.iter().filter(|s| s.hole == hole);
        let was_to_stand = of_hole
            .clone()
            .any(|s| s.transplant < self.today && self.today <= s.removal);
        if was_to_stand && here.is_none() {
            return Some(PlanChangeReason::DoneOtherwise)
                .filter(|_| {
                    let gone = self.state.removed.iter();
                    gone.clone()
                        .any(|g| g.hole == hole && g.on >= self.former.start)
                })
                .or(Some(PlanChangeReason::NotRecorded));
        }
        let was_to_leave = of_hole.clone().any(|s| {
            s.removal < self.today
                && here.is_some_and(|p| s.matches_plant(hole, &p.crop, p.transplanted))
        });
        if was_to_leave {
            return Some(PlanChangeReason::NotRecorded);
        }
        let unknown =
            here.is_some_and(|p| self.former.stay_of(hole, &p.crop, p.transplanted).is_none());
        if unknown {
            return Some(PlanChangeReason::DoneOtherwise);
        }
        let sow = before.filter(|s| !s.stands).and_then(|s| s.sow);
        let sow = sow.filter(|&sow| self.former.start <= sow && sow < self.today)?;
        let crop = &before?.crop;
        let of_crop = self.state.sowings.iter().filter(|n| n.crop == *crop);
        let sown = of_crop.map(|n| (n.on - sow).num_days());
        let late = sown
            .filter(|&days| (0..OTHER_SOWING_AFTER_DAYS).contains(&days))
            .min();
        match late {
            Some(0) => None,
            Some(_) => Some(PlanChangeReason::SownLate),
            None => Some(PlanChangeReason::NotRecorded),
        }
    }

    fn clean_reason(&self, tube: &str) -> PlanChangeReason {
        let missed = self.former.cleans.iter().any(|c| {
            c.tube == tube
                && c.day < self.today
                && self.state.cleaned.get(tube).is_none_or(|&day| day < c.day)
        });
        if missed {
            PlanChangeReason::NotRecorded
        } else {
            self.default_reason()
        }
    }

    fn default_reason(&self) -> PlanChangeReason {
        if self.former.made_from == self.plan.made_from {
            PlanChangeReason::MakesUp
        } else {
            PlanChangeReason::GardenChanged
        }
    }
}
