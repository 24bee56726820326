//! The diary so far, as text.

use crate::garden::Garden;
use crate::summary::log::{CropSoFar, DiaryLog, LoopSoFar, WantSoFar};
use crate::terminal::MAX_COLUMNS;
use crate::terminal::table::{Align, align_columns, wrap};
use crate::terminal::words::{
    amount, count, crop_name, list, long_date, percent, short_date, strong,
};
use crate::units::Volume;

/// The whole of it.
#[must_use]
pub fn render_log(log: &DiaryLog, garden: &Garden) -> String {
    if log.crops.is_empty() && log.loops.is_empty() {
        return "Nothing is in the diary yet: `steadyleaf record` puts down what happens.\n"
            .to_owned();
    }
    let parts = [
        format!("{}\nup to {}\n", strong(&log.garden), long_date(log.until)),
        wants(log, garden),
        crops(log, garden),
        losses(log, garden),
        loops(log, garden),
    ];
    let parts: Vec<String> = parts.into_iter().filter(|p| !p.is_empty()).collect();
    parts.join("\n")
}

fn wants(log: &DiaryLog, garden: &Garden) -> String {
    let mut rows = vec![header_row(&["want", "harvested", "wanted so far", "met"])];
    rows.extend(log.wants.iter().map(|w| want_row(w, garden)));
    align_columns(
        &[Align::Left, Align::Right, Align::Right, Align::Right],
        &rows,
    )
}

fn header_row(words: &[&str]) -> Vec<String> {
    words.iter().map(|w| (*w).to_owned()).collect()
}

fn want_row(want: &WantSoFar, garden: &Garden) -> Vec<String> {
    let said = |number| amount(number, &want.unit, garden.units);
    vec![
        want.want.clone(),
        said(want.harvested),
        said(want.wanted),
        want.met.map_or_else(|| "-".to_owned(), percent),
    ]
}

fn crops(log: &DiaryLog, garden: &Garden) -> String {
    if log.crops.is_empty() {
        return String::new();
    }
    let mut rows = vec![header_row(&[
        "crop",
        "cells sown",
        "set out",
        "harvested",
        "days to harvest",
        "as planned",
        "pace",
    ])];
    rows.extend(log.crops.iter().map(|c| crop_row(c, garden)));
    let mut sides = vec![Align::Left];
    sides.resize(7, Align::Right);
    align_columns(&sides, &rows)
}

fn crop_row(crop: &CropSoFar, garden: &Garden) -> Vec<String> {
    let days = |days: Option<f64>| days.map_or_else(|| "-".to_owned(), |d| format!("{d:.1}"));
    vec![
        crop_name(garden, &crop.crop).to_owned(),
        crop.sown.to_string(),
        crop.set_out.to_string(),
        crop.harvested.to_string(),
        days(crop.days),
        days(crop.days_planned),
        format!("{:.2}", crop.pace),
    ]
}

fn losses(log: &DiaryLog, garden: &Garden) -> String {
    let lines: String = log
        .crops
        .iter()
        .filter(|c| c.lost + c.lost_in_nursery > 0)
        .map(|c| wrap("  ", "    ", &loss(c, garden), MAX_COLUMNS))
        .collect();
    if lines.is_empty() {
        return lines;
    }
    format!("{}\n{lines}", strong("Lost"))
}

fn loss(crop: &CropSoFar, garden: &Garden) -> String {
    let name = crop_name(garden, &crop.crop);
    let mut parts = Vec::new();
    if crop.lost_in_nursery > 0 {
        let of = format!("{} of {} cells", crop.lost_in_nursery, crop.sown);
        let likely = crop.come_through.map_or(String::new(), |(least, most)| {
            let (least, most) = (percent(least), percent(most));
            format!(" (of all such cells, {least} to {most} would come through)")
        });
        parts.push(format!("{of} in the nursery{likely}"));
    }
    if crop.lost > 0 {
        let causes: Vec<String> = crop
            .causes
            .iter()
            .map(|(why, n)| format!("{n} {}", why.as_deref().unwrap_or("not said")))
            .collect();
        parts.push(format!(
            "{} of {} in holes: {}",
            crop.lost,
            crop.set_out,
            list(&causes)
        ));
    }
    format!("{name}: {}.", parts.join("; "))
}

fn loops(log: &DiaryLog, garden: &Garden) -> String {
    if log.loops.is_empty() {
        return String::new();
    }
    let lines = log.loops.iter().map(|l| {
        let text = loop_line(l, garden);
        wrap("  ", "    ", &text, MAX_COLUMNS)
    });
    format!("{}\n{}", strong("Water"), lines.collect::<String>())
}

fn loop_line(of_loop: &LoopSoFar, garden: &Garden) -> String {
    let litres = |number| Volume::litres(number).in_units(garden.units);
    let tenths = |number: f64| litres((number * 10.0).round() / 10.0);
    let mut parts = Vec::new();
    if of_loop.times > 0 {
        let times = count(of_loop.times, "top-up", "top-ups");
        let mut a_day = of_loop
            .litres_a_day
            .map_or(String::new(), |l| format!(", {} a day", tenths(l)));
        if let Some(l) = of_loop.computed_a_day {
            a_day.push_str(&format!(" ({} computed)", tenths(l)));
        }
        parts.push(format!("{} in {times}{a_day}", litres(of_loop.litres)));
    }
    if let Some(day) = of_loop.filled {
        parts.push(format!("filled with fresh solution on {}", short_date(day)));
    }
    if let Some((day, ec)) = of_loop.ec {
        parts.push(format!("EC {ec} on {}", short_date(day)));
    }
    if let Some((day, ph)) = of_loop.ph {
        parts.push(format!("pH {ph} on {}", short_date(day)));
    }
    format!("{}: {}.", of_loop.r#loop, parts.join("; "))
}
