//! What a plan makes of each tank.

use crate::garden::Garden;
use crate::messages;
use crate::messages::words::Texts;
use crate::summary::water::WaterFigures;
use crate::terminal::MAX_COLUMNS;
use crate::terminal::table::wrap;
use crate::terminal::words::{count, short_date, strong, warning};
use crate::units::{Units, Volume};

/// The water of every loop; nothing where none is in use.
pub(super) fn render_water(loops: &[WaterFigures], garden: &Garden) -> String {
    if loops.is_empty() {
        return String::new();
    }
    let lines: String = loops.iter().map(|l| render_loop(l, garden)).collect();
    format!("{}\n{lines}", strong("Water"))
}

fn render_loop(water: &WaterFigures, garden: &Garden) -> String {
    let units = garden.units;
    let top_ups = match water.top_ups {
        0 => "no top-ups between the changes".to_owned(),
        n => format!(
            "{}, {} together",
            count(n, "top-up", "top-ups"),
            litres(water.topped_up, units)
        ),
    };
    let sooner = match water.by_volume {
        0 => String::new(),
        n => format!(" ({n} sooner than usual, after much topping up)"),
    };
    let ec = water.ec.map_or_else(String::new, |(least, most)| {
        format!(". EC is expected to go from {least:.1} to {most:.1} mS/cm in between: measure")
    });
    let text = format!(
        "{} used, at the most {} on {}; {top_ups}; refilled with fresh solution {}{sooner}{ec}.",
        litres(water.used, units),
        litres(water.most, units),
        short_date(water.thirstiest),
        count(water.fillings, "time", "times"),
    );
    let mut lines = wrap(&format!("  {}: ", water.r#loop), "    ", &text, MAX_COLUMNS);
    let beneath = |text: &str| wrap("    ", "      ", text, MAX_COLUMNS);
    let words = &Texts::english(units);
    for cut in &water.power_cut {
        lines.push_str(&beneath(&messages::water::power_cut(cut, words)));
    }
    if let Some(strong) = &water.too_strong {
        lines.push_str(&beneath(&warning(&messages::water::high_ec(strong, words))));
    }
    for text in messages::water::low_levels(&water.low, &garden.rhythm, words) {
        lines.push_str(&beneath(&warning(&text)));
    }
    lines
}

fn litres(litres: f64, units: Units) -> String {
    Volume::litres(litres).in_measurable_units(units)
}
