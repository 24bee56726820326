//! What a plan makes of each tank, in a few numbers.

use chrono::NaiveDate;
use serde::Serialize;

use crate::plan::Plan;
use crate::plan::water::{ChangeReason, HighEc, LoopWater, LowLevel, PowerCut};

/// One loop's water in short.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WaterFigures {
    /// The loop.
    pub r#loop: String,
    /// Litres used in all.
    pub used: f64,
    /// Litres on the thirstiest day.
    pub most: f64,
    /// That day.
    pub thirstiest: NaiveDate,
    /// How often the tank is topped up.
    pub top_ups: usize,
    /// Litres topped up in all.
    pub topped_up: f64,
    /// How often it is filled with fresh solution.
    pub fillings: usize,
    /// Those that come sooner because the top-ups add up to the tank.
    pub by_volume: usize,
    /// Litres of fresh solution in all.
    pub filled: f64,
    /// Where the EC is expected to go between two changes, least and most [mS/cm], while the tank
    /// is not too low: what little is left then has no EC that could be told. Absent where no
    /// solution suits all.
    pub ec: Option<(f64, f64)>,
    /// Days on which it is expected above what suits.
    pub too_strong: Option<HighEc>,
    /// Times when the tank falls below its least level.
    pub low: Vec<LowLevel>,
    /// How long roots stay wet without a pump, bank by bank.
    pub power_cut: Vec<PowerCut>,
}

/// The water of every loop that is ever in use.
#[must_use]
pub fn water_figures(plan: &Plan) -> Vec<WaterFigures> {
    let loops = plan.water.iter();
    loops
        .filter_map(|water| loop_figures(water, plan.start))
        .collect()
}

fn loop_figures(water: &LoopWater, start: NaiveDate) -> Option<WaterFigures> {
    let most = water.used.iter().copied().fold(0.0, f64::max);
    if most <= 0.0 {
        return None;
    }
    let at = water.used.iter().position(|&litres| litres >= most)?;
    let by_volume = |because| because == ChangeReason::Volume;
    let is_low = |day: NaiveDate| water.low.iter().any(|l| l.from <= day && day <= l.until);
    let days = start.iter_days().zip(&water.ec);
    let told = days.filter(|&(day, _)| !is_low(day));
    let ec: Vec<f64> = told.filter_map(|(_, ec)| *ec).collect();
    Some(WaterFigures {
        r#loop: water.r#loop.clone(),
        used: water.used.iter().sum(),
        most,
        thirstiest: start + chrono::Days::new(at as u64),
        top_ups: water.top_ups.len(),
        topped_up: water.top_ups.iter().map(|t| t.litres).sum(),
        fillings: water.changes.len(),
        by_volume: water
            .changes
            .iter()
            .filter(|c| by_volume(c.because))
            .count(),
        filled: water.changes.iter().map(|c| c.filled).sum(),
        ec: ec
            .iter()
            .copied()
            .reduce(f64::min)
            .zip(ec.into_iter().reduce(f64::max)),
        too_strong: water.too_strong.clone(),
        low: water.low.clone(),
        power_cut: water.power_cut.clone(),
    })
}
