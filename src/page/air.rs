//! The year where the plants stand: warmth, light, and how long crops then take.

use chrono::{Datelike, NaiveDate};

use crate::garden::Garden;
use crate::messages::words::Texts;
use crate::nature::air::{self, DayConditions};
use crate::page::crop_styles::{CropStyle, CropStyles};
use crate::page::lines::{ChartLine, LineChart, LineScale};
use crate::summary::canopy_series::light_levels;
use crate::summary::season::{self, CropYear, FailureReason, TransplantOutcome};
use crate::units::{DailyLight, Temperature};

/// A year is drawn in so many pixels, a point every so many days.
const YEAR_PIXELS: f64 = 384.0;
const DAYS_A_POINT: usize = 5;

/// The year of the banks that get the same light.
#[derive(Debug)]
pub(super) struct YearPart {
    /// Their names; empty where all banks get the same.
    pub(super) banks: String,
    pub(super) charts: Vec<LineChart>,
    pub(super) rows: Vec<RipeningRow>,
}

/// How long one crop takes, month by month.
#[derive(Debug)]
pub(super) struct RipeningRow {
    pub(super) look: CropStyle,
    pub(super) cells: Vec<MonthCell>,
}

/// A crop set out in one month.
#[derive(Debug)]
pub(super) struct MonthCell {
    pub(super) text: String,
    pub(super) class: &'static str,
}

/// A part for every kind of light.
pub(super) fn years(garden: &Garden, styles: &CropStyles, words: &Texts) -> Vec<YearPart> {
    let (lights, kinds) = light_levels(garden);
    let banks: Vec<&str> = garden
        .loops
        .iter()
        .flat_map(|l| &l.banks)
        .map(|b| b.name.as_str())
        .collect();
    let first = NaiveDate::from_ymd_opt(garden.start.year(), 1, 1).unwrap_or(garden.start);
    let of_crops: Vec<(&CropStyle, Vec<CropYear>)> = garden
        .crops
        .iter()
        .map(|crop| (&styles.of(&crop.key).1, season::crop_years(garden, crop)))
        .collect();
    lights
        .iter()
        .enumerate()
        .map(|(kind, &light)| {
            let place = &garden.place;
            let air = air::growing_conditions(place, &place.cover, light, first, 365);
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
                    temperature_chart(&air, first, garden, words),
                    light_chart(&air, first, garden, words),
                ],
                rows: of_crops
                    .iter()
                    .map(|(look, years)| row(look, &years[kind], words))
                    .collect(),
            }
        })
        .collect()
}

fn temperature_chart(
    air: &[DayConditions],
    first: NaiveDate,
    garden: &Garden,
    words: &Texts,
) -> LineChart {
    let (low, high) = (
        min(air.iter().map(|d| d.coldest)),
        max(air.iter().map(|d| d.warmest)),
    );
    let told = |t: f64| Temperature::celsius(t.round()).in_units(garden.units);
    let scale = LineScale::spanning(low, high, 5.0, YEAR_PIXELS / 365.0);
    let coldest = scale.line(air.iter().map(|d| d.coldest), DAYS_A_POINT);
    let warmest = scale.line(air.iter().map(|d| d.warmest), DAYS_A_POINT);
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
            ChartLine {
                class: "night",
                path: format!("M{}", coldest.trim()),
            },
            ChartLine {
                class: "noon",
                path: format!("M{}", warmest.trim()),
            },
        ],
        ..scale.chart(first, air.len(), words, told)
    }
}

fn light_chart(
    air: &[DayConditions],
    first: NaiveDate,
    garden: &Garden,
    words: &Texts,
) -> LineChart {
    let (low, high) = (
        min(air.iter().map(|d| d.dli)),
        max(air.iter().map(|d| d.dli)),
    );
    let told = |l: f64| DailyLight::mol(l.round()).in_units(garden.units);
    let scale = LineScale::spanning(0.0, high, 10.0, YEAR_PIXELS / 365.0);
    let line = scale.line(air.iter().map(|d| d.dli), DAYS_A_POINT);
    LineChart {
        title: words.t("light"),
        told: words.with("light-told", &[("low", &told(low)), ("high", &told(high))]),
        lines: vec![ChartLine {
            class: "noon",
            path: format!("M{}", line.trim()),
        }],
        ..scale.chart(first, air.len(), words, told)
    }
}

fn min(values: impl Iterator<Item = f64>) -> f64 {
    values.fold(f64::INFINITY, f64::min)
}

fn max(values: impl Iterator<Item = f64>) -> f64 {
    values.fold(f64::NEG_INFINITY, f64::max)
}

fn row(style: &CropStyle, year: &CropYear, words: &Texts) -> RipeningRow {
    // Three transplants a month are looked at; the middle one stands for the month.
    let months = year.transplants.chunks(3).map(|month| month[1].outcome);
    let quickest = months.clone().filter_map(days_to_ripe).min().unwrap_or(1);
    RipeningRow {
        look: style.clone(),
        cells: months
            .map(|outcome| match outcome {
                TransplantOutcome::Ripens { days, .. } => MonthCell {
                    text: days.to_string(),
                    class: pace_class(days, quickest),
                },
                TransplantOutcome::Fails(why) => MonthCell {
                    text: failure_text(why, words),
                    class: "fails",
                },
            })
            .collect(),
    }
}

fn days_to_ripe(outcome: TransplantOutcome) -> Option<usize> {
    match outcome {
        TransplantOutcome::Ripens { days, .. } => Some(days),
        TransplantOutcome::Fails(_) => None,
    }
}

/// How quick it is beside the crop's quickest month.
fn pace_class(days: usize, quickest: usize) -> &'static str {
    if days * 4 <= quickest * 5 {
        "quick"
    } else if days * 4 <= quickest * 7 {
        "fair"
    } else {
        "slow"
    }
}

fn failure_text(why: FailureReason, words: &Texts) -> String {
    match why {
        FailureReason::TooCold => words.t("too-cold"),
        FailureReason::TooHot => words.t("too-hot"),
        FailureReason::Bolts => words.t("bolts"),
        FailureReason::TooDark => words.t("too-dark"),
        FailureReason::NotInTime => words.t("not-in-time"),
        FailureReason::NobodyThere => words.t("nobody"),
    }
}
