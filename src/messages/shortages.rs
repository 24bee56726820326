//! What falls short of what is wanted, why, and what would help.

use crate::messages::words::Texts;
use crate::messages::words::percent;
use crate::plan::{RigChange, WantGain};
use crate::planner::explain::bottleneck::Limit;
use crate::summary::figures::{PlanSummary, ShortWeeks};

/// Changes that are told of at the most.
const MAX_CHANGES_SHOWN: usize = 3;

/// Every want that falls short, and why, in a sentence or two.
pub(crate) fn shortages(summary: &PlanSummary, words: &Texts) -> Vec<String> {
    let short = summary.wants.iter().filter(|want| !want.short.is_empty());
    short
        .filter_map(|want| {
            let values = [
                ("want", want.want.as_str().into()),
                ("percent", percent(want.met?).into()),
                ("weeks", short_weeks(&want.short, words).into()),
            ];
            let mut text = words.translate("told-short", values);
            if let Some(most) = &want.most {
                let values = [
                    ("month", words.month_of_year(&most.month).into()),
                    ("amount", words.amount(most.each_week, &want.unit).into()),
                ];
                text.push(' ');
                text.push_str(&words.translate("told-most", values));
            }
            Some(text)
        })
        .collect()
}

/// Short weeks and what stands in the way of more in them, as in "in 3 of 8 short weeks all holes
/// are taken; in 5 ...".
fn short_weeks(short: &[ShortWeeks], words: &Texts) -> String {
    let all: usize = short.iter().map(|s| s.weeks).sum();
    let why = |s: &ShortWeeks| words.translate(limit_key(s.limit), []);
    match short {
        [] => String::new(),
        [only] => words.translate(
            "told-short-weeks",
            [("n", all.into()), ("why", why(only).into())],
        ),
        [first, rest @ ..] => {
            let rest = rest.iter().map(|s| {
                let values = [("n", s.weeks.into()), ("why", why(s).into())];
                words.translate("told-short-weeks-besides", values)
            });
            let values = [
                ("first", first.weeks.into()),
                ("n", all.into()),
                ("why", why(first).into()),
                ("rest", rest.collect::<String>().into()),
            ];
            words.translate("told-short-weeks-of", values)
        }
    }
}

const fn limit_key(limit: Option<Limit>) -> &'static str {
    match limit {
        Some(Limit::Holes) => "told-limit-holes",
        Some(Limit::Solution) => "told-limit-solution",
        Some(Limit::AnotherWant) => "told-limit-another-want",
        Some(Limit::Nursery) => "told-limit-nursery",
        Some(Limit::Space) => "told-limit-space",
        Some(Limit::Cleaning) => "told-limit-cleaning",
        Some(Limit::Season) => "told-limit-season",
        Some(Limit::Absence) => "told-limit-absence",
        Some(Limit::TooLateToSow) => "told-limit-too-late-to-sow",
        Some(Limit::TooLate) => "told-limit-too-late",
        None => "told-limit-none",
    }
}

/// The changes that would bring most, each with what it brings.
pub(crate) fn advice(summary: &PlanSummary, words: &Texts) -> Vec<String> {
    let helps = summary.would_help.iter().take(MAX_CHANGES_SHOWN);
    helps
        .map(|help| {
            // What it brings first, then what that costs other wants.
            let (less, more): (Vec<&WantGain>, Vec<&WantGain>) =
                help.gains.iter().partition(|g| g.each_week < 0.0);
            let gains = more.into_iter().chain(less);
            let gains: Vec<String> = gains.filter_map(|g| want_gain(g, summary, words)).collect();
            let values = [
                ("change", rig_change(&help.change, words).into()),
                ("gains", words.language().list(&gains).into()),
            ];
            words.translate("told-help", values)
        })
        .collect()
}

/// What a want gains or loses, where it is more than is written.
fn want_gain(gain: &WantGain, summary: &PlanSummary, words: &Texts) -> Option<String> {
    let want = summary.wants.iter().find(|w| w.want == gain.want);
    let unit = want.map_or("", |w| &w.unit);
    let key = if gain.each_week < 0.0 {
        "told-gain-less"
    } else {
        "told-gain-more"
    };
    let amount = words.amount(gain.each_week.abs(), unit);
    if amount == words.amount(0.0, unit) {
        return None;
    }
    let values = [
        ("amount", amount.into()),
        ("want", gain.want.as_str().into()),
    ];
    Some(words.translate(key, values))
}

fn rig_change(change: &RigChange, words: &Texts) -> String {
    match change {
        RigChange::Tube { like, holes } => {
            let holes = words.translate("count-holes", [("n", (*holes).into())]);
            let values = [("like", like.as_str().into()), ("holes", holes.into())];
            words.translate("told-change-tube", values)
        }
        RigChange::Nursery { cells } => {
            let cells = usize::try_from(*cells).unwrap_or(usize::MAX);
            words.translate("told-change-nursery", [("n", cells.into())])
        }
        RigChange::Cleaning { days } => {
            words.translate("told-change-cleaning", [("n", (*days).into())])
        }
        RigChange::Crop { want, crop } => {
            let values = [
                ("crop", crop.as_str().into()),
                ("want", want.as_str().into()),
            ];
            words.translate("told-change-crop", values)
        }
    }
}
