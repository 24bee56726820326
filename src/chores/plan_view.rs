//! What the chores are read from: the plan, laid beside the garden.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use crate::chores::holes::HolePlace;
use crate::chores::line::DetailLine;
use crate::chores::words::{self, ChoreText};
use crate::chores::{Chore, Kind, MAX_SCREEN_LINES};
use crate::garden::Garden;
use crate::garden::crop::Crop;
use crate::plan::sowings::{PlannedSowing, planned_sowings};
use crate::plan::{Plan, Stay};

/// The plan and the garden, with names looked up once.
pub(super) struct PlanView<'a> {
    pub(super) plan: &'a Plan,
    pub(super) garden: &'a Garden,
    pub(super) words: ChoreText,
    /// Workdays of the shown weeks, rising.
    pub(super) workdays: Vec<NaiveDate>,
    pub(super) stays: Vec<StayView<'a>>,
    /// What is sown, by day, crop and day of transplant.
    pub(super) sown: Vec<PlannedSowing<'a>>,
    loops: BTreeMap<&'a str, usize>,
}

/// A stay with its hole, loop and card looked up.
pub(super) struct StayView<'a> {
    pub(super) stay: &'a Stay,
    pub(super) hole: HolePlace<'a>,
    /// Index of the loop that feeds its hole.
    pub(super) r#loop: Option<usize>,
    pub(super) crop: Option<&'a Crop>,
}

impl StayView<'_> {
    /// Whether it stands in its hole when the day's work is done.
    pub(super) fn occupies_after(&self, day: NaiveDate) -> bool {
        self.stay.transplant <= day && day < self.stay.removal
    }
}

impl<'a> PlanView<'a> {
    pub(crate) fn new(plan: &'a Plan, garden: &'a Garden) -> Self {
        let banks: BTreeMap<&str, (usize, usize)> = garden
            .loops
            .iter()
            .enumerate()
            .flat_map(|(l, of_loop)| of_loop.banks.iter().map(move |bank| (l, bank)))
            .enumerate()
            .map(|(position, (l, bank))| (bank.name.as_str(), (position, l)))
            .collect();
        let stays = plan
            .stays
            .iter()
            .map(|stay| {
                let hole = HolePlace::parse(&stay.hole, |bank| banks.get(bank).map(|b| b.0));
                StayView {
                    stay,
                    hole,
                    r#loop: banks.get(hole.bank()).map(|b| b.1),
                    crop: garden.crop(&stay.crop),
                }
            })
            .collect();
        Self {
            plan,
            garden,
            words: ChoreText(garden.language),
            workdays: plan
                .start
                .iter_days()
                .take_while(|day| *day <= plan.last)
                .filter(|day| garden.rhythm.is_workday(*day))
                .collect(),
            stays,
            sown: planned_sowings(plan, garden),
            loops: banks.iter().map(|(bank, b)| (*bank, b.1)).collect(),
        }
    }

    /// Whether the day is one of the shown weeks.
    pub(super) fn is_reported(&self, day: NaiveDate) -> bool {
        self.plan.start <= day && day <= self.plan.last
    }

    /// The loop of a tube named as in the plan (`deck-2`).
    pub(super) fn loop_of_tube(&self, tube: &str) -> Option<usize> {
        let (bank, _) = tube.rsplit_once('-')?;
        self.loops.get(bank).copied()
    }

    /// What people call a crop.
    pub(super) fn crop_name<'b>(&'b self, crop: &'b str) -> &'b str {
        self.garden.crop(crop).map_or(crop, |card| &card.name)
    }

    /// The last workday not after `day`.
    pub(super) fn workday_until(&self, day: NaiveDate) -> Option<NaiveDate> {
        let after = self.workdays.partition_point(|w| *w <= day);
        after.checked_sub(1).map(|i| self.workdays[i])
    }
}

/// Things put together by the day on which they are done.
pub(super) type ByDay<K, V> = BTreeMap<NaiveDate, BTreeMap<K, Vec<V>>>;

impl PlanView<'_> {
    /// A chore whose details are told whole, and once more for a screen where they are too long
    /// for it; `about` is sorted and told once each.
    pub(super) fn chore<'k, L: Into<DetailLine>>(
        &self,
        kind: Kind,
        day: NaiveDate,
        about: impl IntoIterator<Item = &'k str>,
        summary: String,
        lines: Vec<L>,
        hints: Vec<String>,
    ) -> Chore {
        let about: BTreeSet<&str> = about.into_iter().collect();
        let lines: Vec<DetailLine> = lines.into_iter().map(L::into).collect();
        let brief = lines.iter().map(|line| line.short.clone()).collect();
        let brief = self.screen_lines(brief, &hints);
        let details: Vec<String> = lines
            .into_iter()
            .map(|line| line.full)
            .chain(hints)
            .collect();
        Chore {
            day,
            kind,
            about: Vec::from_iter(about).join(", "),
            summary: words::truncate(&summary, crate::chores::MAX_TITLE_CHARACTERS),
            short_details: (brief != details).then_some(brief),
            details,
        }
    }

    /// Lines, then hints, within a screenful: what does not fit is counted and left to the sheet.
    /// Hints carry the cautions, so they are kept whole.
    fn screen_lines(&self, mut lines: Vec<String>, hints: &[String]) -> Vec<String> {
        let room = MAX_SCREEN_LINES.saturating_sub(hints.len()).max(1);
        if lines.len() > room {
            let left = lines.len() - (room - 1);
            lines.truncate(room - 1);
            lines.push(self.words.more_on_the_sheet(left));
        }
        lines
            .iter()
            .chain(hints)
            .map(|line| words::truncate(line, words::MAX_LINE_CHARACTERS))
            .collect()
    }
}
