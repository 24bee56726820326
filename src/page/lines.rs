//! Lines over days.

use chrono::{Datelike, NaiveDate};

use crate::messages::words::Texts;
use crate::page::harvests::{Level, MonthMark};

const LEFT: usize = 52;
const TOP: usize = 8;
const BASE: usize = 118;
const BELOW: usize = 20;
/// A month has its name where there is so much room for it [px].
const MIN_MONTH_NAME_WIDTH: f64 = 26.0;

/// Lines over days.
#[derive(Debug)]
pub(super) struct LineChart {
    pub(super) title: String,
    pub(super) told: String,
    pub(super) width: usize,
    pub(super) height: usize,
    pub(super) left: usize,
    pub(super) base: usize,
    pub(super) levels: Vec<Level>,
    pub(crate) months: Vec<MonthMark>,
    pub(super) band: String,
    pub(super) lines: Vec<ChartLine>,
}

/// A line.
#[derive(Debug)]
pub(super) struct ChartLine {
    pub(super) class: &'static str,
    pub(super) path: String,
}

/// From values and days to pixels.
#[derive(Debug)]
pub(super) struct LineScale {
    low: f64,
    high: f64,
    /// Pixels of a day.
    a_day: f64,
}

impl LineScale {
    /// From and to whole steps around what is drawn.
    pub(super) fn spanning(low: f64, high: f64, step: f64, a_day: f64) -> Self {
        let low = (low / step).floor() * step;
        Self {
            low,
            high: ((high / step).ceil() * step).max(low + step),
            a_day,
        }
    }

    /// How far down a value lies.
    #[allow(clippy::cast_precision_loss)]
    pub(super) fn y(&self, value: f64) -> f64 {
        let share = (value - self.low) / (self.high - self.low);
        BASE as f64 - (BASE - TOP) as f64 * share
    }

    /// How far to the right a day lies.
    #[allow(clippy::cast_precision_loss)]
    pub(super) fn x(&self, day: usize) -> f64 {
        LEFT as f64 + day as f64 * self.a_day
    }

    /// Points of a line over days, every so many, parted by spaces.
    pub(super) fn line(&self, values: impl Iterator<Item = f64>, step: usize) -> String {
        values
            .enumerate()
            .step_by(step)
            .map(|(day, value)| format!("{:.1},{:.1} ", self.x(day), self.y(value)))
            .collect()
    }

    /// A chart of so many days from `first` on, with nothing drawn in it yet.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    pub(super) fn chart(
        &self,
        first: NaiveDate,
        days: usize,
        words: &Texts,
        told: impl Fn(f64) -> String,
    ) -> LineChart {
        let middle = f64::midpoint(self.low, self.high);
        LineChart {
            title: String::new(),
            told: String::new(),
            width: self.x(days) as usize + 6,
            height: BASE + BELOW,
            left: LEFT,
            base: BASE,
            levels: [self.low, middle, self.high]
                .map(|value| Level {
                    y: self.y(value).round() as usize,
                    text: told(value),
                })
                .into(),
            months: self.months(first, days, words),
            band: String::new(),
            lines: Vec::new(),
        }
    }

    /// Where each month begins, named where there is room.
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss
    )]
    fn months(&self, first: NaiveDate, days: usize, words: &Texts) -> Vec<MonthMark> {
        let room = |day: usize| (days - day) as f64 * self.a_day >= MIN_MONTH_NAME_WIDTH;
        first
            .iter_days()
            .take(days)
            .enumerate()
            .filter(|(_, date)| date.day() == 1)
            .map(|(day, date)| MonthMark {
                x: self.x(day).round() as usize,
                text: if room(day) {
                    words.month(date.month())
                } else {
                    String::new()
                },
            })
            .collect()
    }
}
