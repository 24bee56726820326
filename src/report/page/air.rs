//! The year where the plants stand: warmth, light, and how long crops then take.

use chrono::{Datelike, NaiveDate};

use super::harvests::{Level, MonthMark};
use super::looks::{Look, Looks};
use super::words::Words;
use crate::garden::Garden;
use crate::nature::air::{self, DayAir};
use crate::quantity::{DailyLight, Temperature};
use crate::report::growing::kinds_of_light;
use crate::report::season::{self, Outcome, Reason, Year};

const LEFT: usize = 52;
const TOP: usize = 8;
const BASE: usize = 118;
const BELOW: usize = 20;
/// Pixels of a month.
const MONTH: f64 = 32.0;
/// A point of a line every so many days.
const STEP: usize = 5;

/// The year of the banks that get the same light.
#[derive(Debug)]
pub(super) struct YearPart {
    /// Their names; empty where all banks get the same.
    pub(super) banks: String,
    pub(super) charts: Vec<LineChart>,
    pub(super) rows: Vec<RipeningRow>,
}

/// Lines over a year.
#[derive(Debug)]
pub(super) struct LineChart {
    pub(super) title: String,
    pub(super) told: String,
    pub(super) width: usize,
    pub(super) height: usize,
    pub(super) left: usize,
    pub(super) base: usize,
    pub(super) levels: Vec<Level>,
    pub(super) months: Vec<MonthMark>,
    pub(super) band: String,
    pub(super) lines: Vec<Line>,
}

/// A line.
#[derive(Debug)]
pub(super) struct Line {
    pub(super) class: &'static str,
    pub(super) path: String,
}

/// How long one crop takes, month by month.
#[derive(Debug)]
pub(super) struct RipeningRow {
    pub(super) look: Look,
    pub(super) cells: Vec<Cell>,
}

/// A crop set out in one month.
#[derive(Debug)]
pub(super) struct Cell {
    pub(super) text: String,
    pub(super) class: &'static str,
}

/// A part for every kind of light.
pub(super) fn years(garden: &Garden, looks: &Looks, words: &Words) -> Vec<YearPart> {
    let (lights, kinds) = kinds_of_light(garden);
    let banks: Vec<&str> = garden
        .loops
        .iter()
        .flat_map(|l| &l.banks)
        .map(|b| b.name.as_str())
        .collect();
    let first = NaiveDate::from_ymd_opt(garden.start.year(), 1, 1).unwrap_or(garden.start);
    let of_crops: Vec<(&Look, Vec<Year>)> = garden
        .crops
        .iter()
        .map(|crop| (&looks.of(&crop.key).1, season::years(garden, crop)))
        .collect();
    lights
        .iter()
        .enumerate()
        .map(|(kind, &light)| {
            let place = &garden.place;
            let air = air::air(place, &place.cover, light, first, 365);
            let names: Vec<&str> = banks
                .iter()
                .zip(&kinds)
                .filter(|(_, k)| **k == kind)
                .map(|(name, _)| *name)
                .collect();
            YearPart {
                banks: if lights.len() > 1 {
                    names.join(", ")
                } else {
                    String::new()
                },
                charts: vec![
                    temperature(&air, first, garden, words),
                    light_of(&air, first, garden, words),
                ],
                rows: of_crops
                    .iter()
                    .map(|(look, years)| row(look, &years[kind], words))
                    .collect(),
            }
        })
        .collect()
}

fn temperature(air: &[DayAir], first: NaiveDate, garden: &Garden, words: &Words) -> LineChart {
    let (low, high) = (
        least(air.iter().map(|d| d.coldest)),
        most(air.iter().map(|d| d.warmest)),
    );
    let told = |t: f64| Temperature::celsius(t.round()).in_units(garden.units);
    let scale = Scale::around(low, high, 5.0);
    let coldest = scale.line(air, |d| d.coldest);
    let warmest = scale.line(air, |d| d.warmest);
    let back: Vec<&str> = coldest.split_inclusive(' ').collect();
    let band = format!(
        "M{} L{}Z",
        warmest.trim(),
        back.into_iter()
            .rev()
            .map(|p| format!("{} ", p.trim()))
            .collect::<String>()
    );
    LineChart {
        title: words.t("temperature"),
        told: words.with(
            "temperature-told",
            &[("low", &told(low)), ("high", &told(high))],
        ),
        band,
        lines: vec![
            Line {
                class: "night",
                path: format!("M{}", coldest.trim()),
            },
            Line {
                class: "noon",
                path: format!("M{}", warmest.trim()),
            },
        ],
        ..scale.chart(first, words, told)
    }
}

fn light_of(air: &[DayAir], first: NaiveDate, garden: &Garden, words: &Words) -> LineChart {
    let (low, high) = (
        least(air.iter().map(|d| d.light)),
        most(air.iter().map(|d| d.light)),
    );
    let told = |l: f64| DailyLight::mol(l.round()).in_units(garden.units);
    let scale = Scale::around(0.0, high, 10.0);
    let line = scale.line(air, |d| d.light);
    LineChart {
        title: words.t("light"),
        told: words.with("light-told", &[("low", &told(low)), ("high", &told(high))]),
        lines: vec![Line {
            class: "noon",
            path: format!("M{}", line.trim()),
        }],
        ..scale.chart(first, words, told)
    }
}

/// From values to pixels.
struct Scale {
    low: f64,
    high: f64,
}

impl Scale {
    /// From and to whole steps around what is drawn.
    fn around(low: f64, high: f64, step: f64) -> Self {
        let low = (low / step).floor() * step;
        Self {
            low,
            high: ((high / step).ceil() * step).max(low + step),
        }
    }

    #[allow(clippy::cast_precision_loss)]
    fn y(&self, value: f64) -> f64 {
        let share = (value - self.low) / (self.high - self.low);
        BASE as f64 - (BASE - TOP) as f64 * share
    }

    /// Points of a line, parted by spaces.
    #[allow(clippy::cast_precision_loss)]
    fn line(&self, air: &[DayAir], value: impl Fn(&DayAir) -> f64) -> String {
        air.iter()
            .enumerate()
            .step_by(STEP)
            .map(|(day, air)| format!("{:.0},{:.1} ", x(day), self.y(value(air))))
            .collect()
    }

    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    fn chart(&self, first: NaiveDate, words: &Words, told: impl Fn(f64) -> String) -> LineChart {
        let middle = f64::midpoint(self.low, self.high);
        LineChart {
            title: String::new(),
            told: String::new(),
            width: x(365) as usize + 6,
            height: BASE + BELOW,
            left: LEFT,
            base: BASE,
            levels: [self.low, middle, self.high]
                .map(|value| Level {
                    y: self.y(value).round() as usize,
                    text: told(value),
                })
                .into(),
            months: (1..=12)
                .filter_map(|month| first.with_month(month))
                .map(|day| MonthMark {
                    x: x(day.ordinal0() as usize).round() as usize,
                    text: words.month(day.month()),
                })
                .collect(),
            band: String::new(),
            lines: Vec::new(),
        }
    }
}

#[allow(clippy::cast_precision_loss)]
fn x(day: usize) -> f64 {
    LEFT as f64 + day as f64 * MONTH * 12.0 / 365.0
}

fn least(values: impl Iterator<Item = f64>) -> f64 {
    values.fold(f64::INFINITY, f64::min)
}

fn most(values: impl Iterator<Item = f64>) -> f64 {
    values.fold(f64::NEG_INFINITY, f64::max)
}

fn row(look: &Look, year: &Year, words: &Words) -> RipeningRow {
    // Three transplants a month are looked at; the middle one stands for the month.
    let months = year.transplants.chunks(3).map(|month| month[1].outcome);
    let quickest = months.clone().filter_map(days).min().unwrap_or(1);
    RipeningRow {
        look: look.clone(),
        cells: months
            .map(|outcome| match outcome {
                Outcome::Ripens { days, .. } => Cell {
                    text: days.to_string(),
                    class: pace(days, quickest),
                },
                Outcome::Fails(why) => Cell {
                    text: failure(why, words),
                    class: "fails",
                },
            })
            .collect(),
    }
}

fn days(outcome: Outcome) -> Option<usize> {
    match outcome {
        Outcome::Ripens { days, .. } => Some(days),
        Outcome::Fails(_) => None,
    }
}

/// How quick it is beside the crop's quickest month.
fn pace(days: usize, quickest: usize) -> &'static str {
    if days * 4 <= quickest * 5 {
        "quick"
    } else if days * 4 <= quickest * 7 {
        "fair"
    } else {
        "slow"
    }
}

fn failure(why: Reason, words: &Words) -> String {
    match why {
        Reason::TooCold => words.t("too-cold"),
        Reason::TooHot => words.t("too-hot"),
        Reason::Bolts => words.t("bolts"),
        Reason::TooDark => words.t("too-dark"),
        Reason::NotInTime => words.t("not-in-time"),
        Reason::NobodyThere => words.t("nobody"),
    }
}
