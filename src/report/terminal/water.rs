//! What a plan makes of each tank.

use super::WIDTH;
use super::table::folded;
use super::words::{count, short_date, strong, warning};
use crate::plan::water::{Low, PowerCut};
use crate::quantity::{Units, Volume};
use crate::report::told;
use crate::report::water::WaterFigures;
use crate::report::words::Words;

/// The water of every loop; nothing where none is in use.
pub(super) fn water(loops: &[WaterFigures], units: Units) -> String {
    if loops.is_empty() {
        return String::new();
    }
    let lines: String = loops.iter().map(|l| of_loop(l, units)).collect();
    format!("{}\n{lines}", strong("Water"))
}

fn of_loop(water: &WaterFigures, units: Units) -> String {
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
        "{} used, at the most {} on {}; {top_ups}; filled afresh {}{sooner}{ec}.",
        litres(water.used, units),
        litres(water.most, units),
        short_date(water.thirstiest),
        count(water.fillings, "time", "times"),
    );
    let mut lines = folded(&format!("  {}: ", water.r#loop), "    ", &text, WIDTH);
    lines.push_str(&folded(
        "    ",
        "      ",
        &power_cut(&water.power_cut),
        WIDTH,
    ));
    if let Some(strong) = &water.too_strong {
        let text = told::solution::too_strong(strong, &Words::english(units));
        lines.push_str(&folded("    ", "      ", &warning(&text), WIDTH));
    }
    for low in &water.low {
        lines.push_str(&folded(
            "    ",
            "      ",
            &warning(&told(low, units)),
            WIDTH,
        ));
    }
    lines
}

fn power_cut(banks: &[PowerCut]) -> String {
    let banks: Vec<String> = banks
        .iter()
        .map(|cut| {
            if cut.hours > 0.0 {
                let hours = cut.hours.floor();
                format!("{} {hours:.0} hours", cut.bank)
            } else {
                format!("{} hardly an hour, as nothing stands in a tower", cut.bank)
            }
        })
        .collect();
    format!(
        "Without the pump roots stay wet, on the thirstiest day: {}.",
        banks.join("; ")
    )
}

fn told(low: &Low, units: Units) -> String {
    let (from, until) = (short_date(low.from), short_date(low.until));
    let days = if from == until {
        format!("on {from}")
    } else {
        format!("from {from} to {until}")
    };
    let dry = if low.lacking > 0.0 {
        format!(
            ", and its plants go without {}: have somebody top it up, or make it larger",
            litres(low.lacking, units)
        )
    } else {
        String::new()
    };
    format!(
        "A full tank does not last {days}: it falls to {}, below its least level{dry}.",
        litres(low.lowest, units)
    )
}

fn litres(litres: f64, units: Units) -> String {
    let rounded = if litres >= 10.0 {
        litres.round()
    } else {
        (litres * 10.0).round() / 10.0
    };
    Volume::litres(rounded).in_units(units)
}
