//! Each tank's level, and the water that the plants use.

use chrono::NaiveDate;

use crate::garden::Garden;
use crate::messages;
use crate::messages::words::Texts;
use crate::page::lines::{ChartLine, LineChart, LineScale};
use crate::plan::Plan;
use crate::plan::water::LoopWater;
use crate::units::Volume;

/// Pixels of a day.
const PIXELS_A_DAY: f64 = 1.4;

/// The water of one loop.
#[derive(Debug)]
pub(super) struct LoopPart {
    pub(super) name: String,
    pub(super) charts: Vec<LineChart>,
    /// Warnings and what to know, a line each.
    pub(super) lines: Vec<String>,
}

/// A part for every loop that the plan tells the water of.
pub(super) fn loops(plan: &Plan, garden: &Garden, words: &Texts) -> Vec<LoopPart> {
    plan.water
        .iter()
        .filter(|water| !water.level.is_empty())
        .map(|water| {
            let tank = garden.loops.iter().find(|l| l.name == water.r#loop);
            let tank = tank.map(|l| (l.tank.capacity.get(), l.tank.reserve_share.get()));
            WaterChart {
                water,
                garden,
                words,
                start: plan.start,
                least: tank.map_or(0.0, |(holds, share)| holds * share),
                holds: tank.map_or(0.0, |(holds, _)| holds),
            }
            .render()
        })
        .collect()
}

struct WaterChart<'a> {
    water: &'a LoopWater,
    garden: &'a Garden,
    words: &'a Texts,
    start: NaiveDate,
    /// What the tank holds, and the least level in it [l].
    holds: f64,
    least: f64,
}

impl WaterChart<'_> {
    fn render(&self) -> LoopPart {
        let (water, words) = (self.water, self.words);
        let mut lines = messages::water::low_levels(&water.low, &self.garden.rhythm, words);
        lines.extend(
            water
                .too_strong
                .iter()
                .map(|strong| messages::water::high_ec(strong, words)),
        );
        lines.extend(
            water
                .power_cut
                .iter()
                .map(|cut| messages::water::power_cut(cut, words)),
        );
        LoopPart {
            name: water.r#loop.clone(),
            charts: vec![self.level_chart(), self.usage_chart()],
            lines,
        }
    }

    fn litres(&self, litres: f64) -> String {
        let units = self.garden.units;
        let rounded = Volume::litres(litres).rounded(units);
        if rounded.get() <= 0.0 {
            return "0".to_owned();
        }
        rounded.in_units(units)
    }

    fn level_chart(&self) -> LineChart {
        let levels = &self.water.level;
        let scale = LineScale::spanning(0.0, self.holds, 10.0, PIXELS_A_DAY);
        // Before it is first filled there is no level to speak of.
        let first = self
            .water
            .changes
            .first()
            .map_or(0, |c| self.day_index(c.day));
        let filled = levels.iter().skip(first).copied();
        let lowest = filled.reduce(f64::min).unwrap_or(0.0);
        let line = scale.line(levels.iter().copied(), 1);
        let across = |y: f64| format!("M{:.1} {y:.1}H{:.1}", scale.x(0), scale.x(levels.len()));
        let foot = scale.y(0.0);
        let changes: String = self
            .water
            .changes
            .iter()
            .map(|change| format!("M{:.1} {foot:.1}v-7", scale.x(self.day_index(change.day))))
            .collect();
        LineChart {
            title: self.words.t("level"),
            told: self.words.with(
                "level-told",
                &[
                    ("lowest", &self.litres(lowest)),
                    ("least", &self.litres(self.least)),
                    ("top-ups", &self.water.top_ups.len().to_string()),
                    ("fillings", &self.water.changes.len().to_string()),
                ],
            ),
            band: format!(
                "M{:.1},{foot:.1} L{}{:.1},{foot:.1}Z",
                scale.x(0),
                line,
                scale.x(levels.len() - 1)
            ),
            lines: vec![
                ChartLine {
                    class: "noon",
                    path: format!("M{}", line.trim()),
                },
                ChartLine {
                    class: "target",
                    path: across(scale.y(self.least)),
                },
                ChartLine {
                    class: "set",
                    path: changes,
                },
            ],
            ..scale.chart(self.start, levels.len(), self.words, |l| self.litres(l))
        }
    }

    fn usage_chart(&self) -> LineChart {
        let used = &self.water.used;
        let most = used.iter().copied().fold(0.0, f64::max);
        let scale =
            LineScale::spanning(0.0, most, if most > 8.0 { 4.0 } else { 1.0 }, PIXELS_A_DAY);
        #[allow(clippy::cast_precision_loss)]
        let mean = used.iter().sum::<f64>() / used.len().max(1) as f64;
        LineChart {
            title: self.words.t("used"),
            told: self.words.with(
                "used-told",
                &[("mean", &self.litres(mean)), ("most", &self.litres(most))],
            ),
            lines: vec![ChartLine {
                class: "noon",
                path: format!("M{}", scale.line(used.iter().copied(), 1).trim()),
            }],
            ..scale.chart(self.start, used.len(), self.words, |l| self.litres(l))
        }
    }

    fn day_index(&self, date: NaiveDate) -> usize {
        usize::try_from((date - self.start).num_days()).unwrap_or(0)
    }
}
