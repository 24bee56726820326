//! Entries of the diary in a sentence.

use super::words::{list, long_date};
use crate::garden::diary::{Entry, Event, Fault, Impossible};
use crate::plan::record::Charged;
use crate::quantity::Units;

/// What was put down, a line each.
#[must_use]
pub fn recorded(entries: &[Entry], units: Units) -> String {
    let lines = entries.iter().map(|e| {
        let planned = if e.as_planned { ", as planned" } else { "" };
        format!(
            "{}: {}{planned}\n",
            long_date(e.on),
            sentence(&e.event, units)
        )
    });
    lines.collect()
}

/// Plants that are taken to have come out, though nobody said so.
#[must_use]
pub fn taken_out(holes: &[String]) -> String {
    format!(
        "by the plan that was the last harvest of {}, so the diary has it as taken out; if it still \
         stands, take the line out of diary.yaml and record it again with `--stands`",
        list(holes)
    )
}

/// Of which sowing lost seedlings are taken to be, where they could be of another.
#[must_use]
pub fn taken_as(charged: &Charged) -> String {
    let of: Vec<String> = charged.of.iter().map(|day| long_date(*day)).collect();
    let or: Vec<String> = charged.or.iter().map(|day| long_date(*day)).collect();
    format!(
        "taken to be of the {crop} sown on {}; if they are of what was sown on {}, take the line out \
         of diary.yaml and record it again with `--sown {}`",
        list(&of),
        list(&or),
        charged.or[0],
        crop = charged.crop,
    )
}

/// What was planned and not put down.
#[must_use]
pub fn left_out(entry: &Entry, why: Option<&Impossible>, units: Units) -> String {
    let what = sentence(&entry.event, units);
    match why {
        Some(why) => format!("not recorded: {what}; {why}"),
        None => format!("not recorded: {what}; the diary has it already"),
    }
}

/// An entry that cannot have happened.
#[must_use]
pub fn impossible(entry: &Entry, why: &Impossible, units: Units) -> String {
    let what = sentence(&entry.event, units);
    format!("the diary's {what} on {} is left out: {why}", entry.on)
}

/// A line that is no entry.
#[must_use]
pub fn fault(fault: &Fault) -> String {
    format!(
        "line {} of the diary is left out: {}",
        fault.line, fault.why
    )
}

fn sentence(event: &Event, units: Units) -> String {
    let of = |why: &Option<String>| why.as_ref().map_or(String::new(), |w| format!(" ({w})"));
    match event {
        Event::Sown { crop, cells, .. } => {
            let cells = super::words::count(*cells as usize, "cell", "cells");
            format!("{crop} sown in {cells}")
        }
        Event::Transplanted { crop, hole, .. } => format!("{crop} set out in {hole}"),
        Event::Lost { hole, why } => format!("the plant in {hole} lost{}", of(why)),
        Event::SeedlingsLost {
            crop,
            cells,
            sown_on,
            why,
        } => {
            let cells = super::words::count(*cells as usize, "seedling", "seedlings");
            let sown =
                sown_on.map_or_else(String::new, |day| format!(" sown on {}", long_date(day)));
            format!("{cells} of {crop}{sown} lost{}", of(why))
        }
        Event::Harvested {
            hole, amount, last, ..
        } => {
            let amount = amount.map_or(String::new(), |a| format!("{} ", a.in_units(units)));
            let out = if *last { ", and taken out" } else { "" };
            format!("{amount}harvested from {hole}{out}")
        }
        Event::Cleared { hole } => format!("{hole} cleared"),
        Event::ToppedUp {
            r#loop,
            amount,
            full,
        } => {
            let amount = amount.in_units(units);
            let full = if *full { ", which was full then" } else { "" };
            format!("{amount} put into {}{full}", r#loop)
        }
        Event::Refilled { r#loop } => format!("{} filled with fresh solution", r#loop),
        Event::Read { r#loop, ec, ph } => {
            let ec = ec.map(|ec| format!("EC {ec}"));
            let ph = ph.map(|ph| format!("pH {ph}"));
            let read: Vec<String> = ec.into_iter().chain(ph).collect();
            format!("{} measured in {}", list(&read), r#loop)
        }
        Event::Blocked { hole } => format!("{hole} blocked"),
        Event::Unblocked { hole } => format!("{hole} usable again"),
        Event::Cleaned { tube } => format!("{tube} scrubbed"),
    }
}
