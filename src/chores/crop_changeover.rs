//! The turn of the season: one crop of a want takes over from another.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;
use serde::Serialize;

use crate::chores::plan_view::{ByDay, PlanView};
use crate::chores::words::changeover::Takeover;
use crate::chores::{Chore, Kind};
use crate::garden::Garden;
use crate::plan::Plan;

/// Harvests of a crop further apart than this [days] belong to different seasons of it; and a
/// crop takes over from another only if the one's season ends and the other's begins this near
/// to each other.
const SEASON_GAP_DAYS: i64 = 28;

/// One crop of a want takes over from another.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CropChangeover {
    /// The want.
    pub want: String,
    /// Key of the crop that ends.
    pub from: String,
    /// Its last harvest.
    pub last: NaiveDate,
    /// Key of the crop that begins.
    pub to: String,
    /// Its first harvest.
    pub first: NaiveDate,
}

/// Every turn of the season in a plan, in the plan's order of wants, then by day.
#[must_use]
pub fn crop_changeovers(plan: &Plan, garden: &Garden) -> Vec<CropChangeover> {
    let view = PlanView::new(plan, garden);
    let seasons = seasons_of_wants(&view);
    let wants = plan.wants.iter();
    wants
        .filter_map(|want| seasons.get_key_value(want.want.as_str()))
        .flat_map(|(want, seasons)| {
            let mut turns = changeovers(seasons, plan.last);
            turns.sort_by_key(|(from, to)| (to.first, to.crop, from.crop));
            turns.into_iter().map(|(from, to)| CropChangeover {
                want: (*want).to_owned(),
                from: from.crop.to_owned(),
                last: from.last,
                to: to.crop.to_owned(),
                first: to.first,
            })
        })
        .collect()
}

/// A time in which a crop is harvested over and over.
#[derive(Debug, Clone, Copy)]
struct HarvestSeason<'a> {
    crop: &'a str,
    first: NaiveDate,
    last: NaiveDate,
}

pub(super) fn chores(view: &PlanView) -> Vec<Chore> {
    let mut days: ByDay<&str, (HarvestSeason, HarvestSeason)> = ByDay::new();
    for (want, seasons) in seasons_of_wants(view) {
        for (from, to) in changeovers(&seasons, view.plan.last) {
            let day = days.entry(to.first).or_default();
            day.entry(want).or_default().push((from, to));
        }
    }
    days.into_iter()
        .map(|(day, wants)| {
            let turns: Vec<Takeover> = wants
                .iter()
                .flat_map(|(want, turns)| turns.iter().map(move |turn| (*want, turn)))
                .map(|(want, (from, to))| Takeover {
                    want,
                    from: view.crop_name(from.crop),
                    last: from.last,
                    to: view.crop_name(to.crop),
                })
                .collect();
            let lines = turns
                .iter()
                .map(|turn| view.words.changeover_line(turn, day))
                .collect();
            let about = wants.keys().copied();
            view.chore(
                Kind::CropChangeover,
                day,
                about,
                view.words.changeover_title(&turns),
                lines,
                Vec::new(),
            )
        })
        .collect()
}

/// The seasons of every crop of every want.
fn seasons_of_wants<'a>(view: &PlanView<'a>) -> BTreeMap<&'a str, Vec<HarvestSeason<'a>>> {
    let mut harvests: BTreeMap<(&str, &str), BTreeSet<NaiveDate>> = BTreeMap::new();
    for planted in &view.stays {
        let days = planted.stay.harvests.iter().map(|h| h.day);
        harvests
            .entry((&planted.stay.want, &planted.stay.crop))
            .or_default()
            .extend(days.filter(|day| view.is_reported(*day)));
    }
    let mut wants: BTreeMap<&str, Vec<HarvestSeason>> = BTreeMap::new();
    for ((want, crop), days) in harvests {
        let days = Vec::from_iter(days);
        let seasons = days
            .chunk_by(|a, b| (*b - *a).num_days() <= SEASON_GAP_DAYS)
            .map(|season| HarvestSeason {
                crop,
                first: season[0],
                last: season[season.len() - 1],
            });
        wants.entry(want).or_default().extend(seasons);
    }
    wants
}

/// Each season that begins where another crop's ends, with the nearest such. What may go on
/// after the shown weeks has not ended.
fn changeovers<'a>(
    seasons: &[HarvestSeason<'a>],
    plan_ends: NaiveDate,
) -> Vec<(HarvestSeason<'a>, HarvestSeason<'a>)> {
    let ended = |s: &&HarvestSeason| (plan_ends - s.last).num_days() > SEASON_GAP_DAYS;
    seasons
        .iter()
        .filter_map(|to| {
            seasons
                .iter()
                .filter(|from| from.crop != to.crop && from.first < to.first)
                .filter(ended)
                .map(|from| ((to.first - from.last).num_days().abs(), from))
                .filter(|(apart, _)| *apart <= SEASON_GAP_DAYS)
                .min_by_key(|(apart, from)| (*apart, from.crop))
                .map(|(_, from)| (*from, *to))
        })
        .collect()
}
