//! The weekly harvest held against each want.

use chrono::{Datelike, NaiveDate};

use crate::messages::words::Texts;
use crate::messages::words::percent;
use crate::plan::{ExcludedWeek, WantOutcome, WeekOutcome};
use crate::summary::figures::WantFigures;
use crate::week;

/// Pixels of a week, of which a bar takes most.
const WEEK_PIXELS: usize = 12;
const BAR_PIXELS: usize = 9;
const LEFT: usize = 64;
const TOP: usize = 8;
const BASE: usize = 128;
const BELOW: usize = 22;
/// A stretch of weeks too short for words in it.
const MIN_WEEKS_FOR_WORDS: usize = 10;
/// A ceiling no higher than so many times what is wanted is drawn whole.
const NEAR_CEILING_FACTOR: f64 = 1.6;
/// From this share on a week is drawn as met: less is missing than anybody would notice.
const MET_SHARE: f64 = 0.99;

/// One want's chart, and the same in words and rows.
#[derive(Debug)]
pub(super) struct HarvestChart {
    pub(super) name: String,
    pub(super) told: String,
    pub(super) width: usize,
    pub(super) height: usize,
    pub(super) left: usize,
    pub(super) top: usize,
    pub(super) base: usize,
    pub(super) bars: Vec<HarvestBar>,
    pub(super) rests: Vec<ExcludedStretch>,
    pub(super) levels: Vec<Level>,
    pub(super) target: String,
    /// The most that the rig could give of it.
    pub(super) ceiling: String,
    pub(crate) months: Vec<MonthMark>,
    pub(super) not_counted: Vec<String>,
    pub(super) rows: Vec<WeekRow>,
}

/// A week's harvest.
#[derive(Debug)]
pub(super) struct HarvestBar {
    pub(super) x: usize,
    pub(super) y: usize,
    pub(super) width: usize,
    pub(super) height: usize,
    pub(super) class: &'static str,
}

/// Weeks that do not count.
#[derive(Debug)]
pub(super) struct ExcludedStretch {
    pub(super) x: usize,
    pub(super) width: usize,
    pub(super) text: String,
}

/// A line across, with its number.
#[derive(Debug)]
pub(super) struct Level {
    pub(super) y: usize,
    pub(super) text: String,
}

/// The first week of a month.
#[derive(Debug)]
pub(super) struct MonthMark {
    pub(super) x: usize,
    pub(super) text: String,
}

/// One week in the table.
#[derive(Debug)]
pub(super) struct WeekRow {
    pub(super) week: String,
    pub(super) monday: String,
    pub(super) wanted: String,
    pub(super) harvested: String,
    pub(super) at_most: String,
    pub(super) remark: String,
}

/// The chart of a want.
pub(super) fn chart(want: &WantOutcome, figures: &WantFigures, words: &Texts) -> HarvestChart {
    draw(
        want,
        chart_caption(figures, words),
        excluded_lines(figures, words),
        words,
    )
}

/// The chart of a want, with what is told of it.
pub(super) fn draw(
    want: &WantOutcome,
    told: String,
    not_counted: Vec<String>,
    words: &Texts,
) -> HarvestChart {
    let of = |n: f64| words.amount(n, &want.unit);
    let numbers = want.weeks.iter().map(|w| w.delivered.max(w.target));
    let near = want.weeks.iter().filter_map(|w| max_supply(want, w));
    let near = near.filter(|most| *most <= want.each_week * NEAR_CEILING_FACTOR);
    let scale = BarScale {
        most: numbers.chain(near).fold(want.each_week, f64::max) * 1.05,
    };
    HarvestChart {
        name: want.want.clone(),
        told,
        width: LEFT + want.weeks.len() * WEEK_PIXELS + 2,
        height: BASE + BELOW,
        left: LEFT,
        top: TOP,
        base: BASE,
        bars: bars(want, &scale),
        rests: excluded_stretches(want, words),
        levels: [0.5, 1.0]
            .map(|share| Level {
                y: scale.y(want.each_week * share),
                text: of(want.each_week * share),
            })
            .into(),
        target: step_path(want, &scale, |w| (w.target > 0.0).then_some(w.target)),
        ceiling: step_path(want, &scale, |w| {
            max_supply(want, w).filter(|most| *most <= scale.most)
        }),
        months: months(want.weeks.iter().map(|w| w.monday), words),
        not_counted,
        rows: want
            .weeks
            .iter()
            .map(|w| WeekRow {
                week: w.week.clone(),
                monday: words.day(w.monday),
                wanted: of(w.target),
                harvested: of(w.delivered),
                at_most: max_supply(want, w).map_or_else(String::new, of),
                remark: w
                    .not_counted
                    .map_or_else(String::new, |why| exclusion_reason(why, words)),
            })
            .collect(),
    }
}

/// From amounts to pixels.
struct BarScale {
    most: f64,
}

impl BarScale {
    /// How far down an amount lies.
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss
    )]
    fn y(&self, amount: f64) -> usize {
        let share = if self.most > 0.0 {
            (amount / self.most).clamp(0.0, 1.0)
        } else {
            0.0
        };
        BASE - ((BASE - TOP) as f64 * share).round() as usize
    }
}

fn chart_caption(figures: &WantFigures, words: &Texts) -> String {
    let of = |n: f64| words.amount(n, &figures.unit);
    let (Some(average), Some(worst), Some(met)) = (figures.average, &figures.worst, figures.met)
    else {
        return words.t("no-week-counts").to_owned();
    };
    let sum = words.with(
        "average-told",
        &[
            ("average", &of(average)),
            ("each", &of(figures.each_week)),
            ("percent", &percent(met)),
        ],
    );
    let leanest = words.with(
        "leanest",
        &[("week", &worst.week), ("amount", &of(worst.delivered))],
    );
    format!("{sum} {leanest}")
}

fn bars(want: &WantOutcome, scale: &BarScale) -> Vec<HarvestBar> {
    want.weeks
        .iter()
        .enumerate()
        .filter(|(_, week)| week.delivered > 0.0)
        .map(|(at, week)| {
            let y = scale.y(week.delivered);
            HarvestBar {
                x: LEFT + at * WEEK_PIXELS + (WEEK_PIXELS - BAR_PIXELS) / 2,
                y,
                width: BAR_PIXELS,
                height: BASE - y,
                class: bar_class(week),
            }
        })
        .collect()
}

fn bar_class(week: &WeekOutcome) -> &'static str {
    if week.delivered >= week.target * MET_SHARE {
        "bar full"
    } else {
        "bar short"
    }
}

fn excluded_stretches(want: &WantOutcome, words: &Texts) -> Vec<ExcludedStretch> {
    let mut at = 0;
    want.weeks
        .chunk_by(|a, b| a.not_counted == b.not_counted)
        .filter_map(|weeks| {
            let first = at;
            at += weeks.len();
            let why = weeks[0].not_counted?;
            let is_long = weeks.len() >= MIN_WEEKS_FOR_WORDS;
            Some(ExcludedStretch {
                x: LEFT + first * WEEK_PIXELS,
                width: weeks.len() * WEEK_PIXELS,
                text: if is_long {
                    exclusion_reason(why, words)
                } else {
                    String::new()
                },
            })
        })
        .collect()
}

/// The most that the rig could give of a want in a week that counts.
fn max_supply(want: &WantOutcome, outcome: &WeekOutcome) -> Option<f64> {
    if !outcome.is_counted() {
        return None;
    }
    let month = week::month(outcome.monday);
    let most = want.most.iter().find(|most| most.month == month)?;
    Some(most.each_week)
}

/// A line with a step a week, broken where there is nothing to tell.
fn step_path(
    want: &WantOutcome,
    scale: &BarScale,
    value: impl Fn(&WeekOutcome) -> Option<f64>,
) -> String {
    let mut path = String::new();
    let mut before = None;
    for (at, week) in want.weeks.iter().enumerate() {
        let x = LEFT + at * WEEK_PIXELS;
        let y = value(week).map(|value| scale.y(value));
        match (before, y) {
            (None, Some(y)) => path.push_str(&format!("M{x} {y}H{}", x + WEEK_PIXELS)),
            (Some(_), Some(y)) => path.push_str(&format!("V{y}H{}", x + WEEK_PIXELS)),
            (_, None) => {}
        }
        before = y;
    }
    path
}

/// Where each month begins.
pub(super) fn months(mondays: impl Iterator<Item = NaiveDate>, words: &Texts) -> Vec<MonthMark> {
    let mut before = None;
    mondays
        .enumerate()
        .filter_map(|(at, monday)| {
            let is_new = before != Some(monday.month());
            before = Some(monday.month());
            is_new.then(|| MonthMark {
                x: LEFT + at * WEEK_PIXELS,
                text: words.month(monday.month()),
            })
        })
        .collect()
}

fn excluded_lines(figures: &WantFigures, words: &Texts) -> Vec<String> {
    [
        ExcludedWeek::BeforeFirstHarvest,
        ExcludedWeek::NotWanted,
        ExcludedWeek::OutOfSeason,
        ExcludedWeek::NobodyThere,
        ExcludedWeek::NobodyToPlant,
    ]
    .into_iter()
    .filter_map(|why| {
        let said: Vec<String> = figures
            .not_counted
            .iter()
            .filter(|s| s.why == why)
            .map(|s| {
                let weeks = words.count("weeks", s.weeks);
                let day = words.short_day(s.from);
                words.with("stretch", &[("weeks", &weeks), ("day", &day)])
            })
            .collect();
        (!said.is_empty()).then(|| {
            let (stretches, why) = (said.join(", "), exclusion_reason(why, words));
            words.with("not-counted", &[("stretches", &stretches), ("why", &why)])
        })
    })
    .collect()
}

fn exclusion_reason(why: ExcludedWeek, words: &Texts) -> String {
    match why {
        ExcludedWeek::BeforeFirstHarvest => words.t("rest-before"),
        ExcludedWeek::NotWanted => words.t("rest-not-wanted"),
        ExcludedWeek::OutOfSeason => words.t("rest-out"),
        ExcludedWeek::NobodyThere => words.t("rest-nobody"),
        ExcludedWeek::NobodyToPlant => words.t("rest-nobody-to-plant"),
    }
}
