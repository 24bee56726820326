//! Entries of the diary in a sentence.

use crate::diary::{DiaryFault, DiaryState, Entry, Event, ImpossibleEvent, ReassignedSowing};
use crate::plan::record::AttributedLoss;
use crate::terminal::words::{list, long_date};
use crate::units::Units;

/// What was put down, a line each.
#[must_use]
pub fn render_recorded(entries: &[Entry], units: Units) -> String {
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
pub fn render_removed(holes: &[String]) -> String {
    format!(
        "by the plan that was the last harvest of {}, so the diary has it as taken out; if it still \
         stands, take the line out of diary.yaml and record it again with `--stands`",
        list(holes)
    )
}

/// Of which sowing lost seedlings are taken to be, where they could be of another.
#[must_use]
pub fn render_attribution(charged: &AttributedLoss) -> String {
    let of: Vec<String> = charged
        .sowing_days
        .iter()
        .map(|day| long_date(*day))
        .collect();
    let or: Vec<String> = charged
        .other_sowing_days
        .iter()
        .map(|day| long_date(*day))
        .collect();
    format!(
        "taken to be of the {crop} sown on {}; if they are of what was sown on {}, take the line out \
         of diary.yaml and record it again with `--sown {}`",
        list(&of),
        list(&or),
        charged.other_sowing_days[0],
        crop = charged.crop,
    )
}

/// What was planned and not put down.
#[must_use]
pub fn render_skipped(entry: &Entry, why: Option<&ImpossibleEvent>, units: Units) -> String {
    let what = sentence(&entry.event, units);
    match why {
        Some(why) => format!("not recorded: {what}; {why}"),
        None => format!("not recorded: {what}; the diary has it already"),
    }
}

/// Entries that cannot have happened, one to the note; what names one and the same that the garden
/// has not is told once.
pub fn render_impossible<'e>(
    left_out: impl Iterator<Item = (&'e Entry, &'e ImpossibleEvent)>,
    units: Units,
) -> Vec<String> {
    let mut told: Vec<(&Entry, &ImpossibleEvent, usize)> = Vec::new();
    for (entry, why) in left_out {
        let is_unknown = matches!(why, ImpossibleEvent::Unknown { .. });
        match told.iter_mut().find(|t| is_unknown && t.1 == why) {
            Some((.., times)) => *times += 1,
            None => told.push((entry, why, 1)),
        }
    }
    told.into_iter()
        .map(|(entry, why, times)| {
            let what = sentence(&entry.event, units);
            let more = match times {
                1 => String::new(),
                2 => ", and so is another line that names it".to_owned(),
                _ => format!(", and so are {} other lines that name it", times - 1),
            };
            format!(
                "the diary's {what} on {} is left out{more}: {why}",
                entry.on
            )
        })
        .collect()
}

/// Plants that are taken to be of another sowing than the diary says, a note each.
pub fn render_reassigned(state: &DiaryState) -> impl Iterator<Item = String> {
    state.reassigned_sowings.iter().map(|plant| {
        let ReassignedSowing {
            crop,
            hole,
            on,
            recorded_sowing: said,
            actual_sowing: taken,
        } = plant;
        format!(
            "the diary's {crop} set out in {hole} on {on} is taken to be of what was sown on \
             {taken}: of what was sown on {said} there is none left. Where it was given, add \
             `given: true` to the line"
        )
    })
}

/// What stands by the diary in holes that the garden has not; nothing where there is none.
#[must_use]
pub fn render_unknown_holes(state: &DiaryState) -> Option<String> {
    let strays: Vec<(&str, Option<&str>)> = state.unknown_holes().collect();
    let (first, near) = *strays.first()?;
    let holes: Vec<String> = strays.iter().map(|s| s.0.to_owned()).collect();
    let near = near.filter(|_| strays.len() == 1);
    let hint = near.map_or_else(String::new, |near| format!(" (did you mean `{near}`?)"));
    Some(format!(
        "by the diary something stands in {}, which this garden has not{hint}; it is left out. If it \
         came out with its tube, say so, such as `record cleared {first}`",
        list(&holes)
    ))
}

/// A line that is no entry.
#[must_use]
pub fn render_fault(fault: &DiaryFault) -> String {
    format!(
        "line {} of the diary is left out: {}",
        fault.line, fault.why
    )
}

fn sentence(event: &Event, units: Units) -> String {
    let of = |why: &Option<String>| why.as_ref().map_or(String::new(), |w| format!(" ({w})"));
    match event {
        Event::Sown { crop, cells, .. } => {
            let cells = crate::terminal::words::count(*cells as usize, "cell", "cells");
            format!("{crop} sown in {cells}")
        }
        Event::Transplanted {
            crop, hole, given, ..
        } => {
            let given = if *given { "given " } else { "" };
            format!("{given}{crop} set out in {hole}")
        }
        Event::Lost { hole, why } => format!("the plant in {hole} lost{}", of(why)),
        Event::SeedlingsLost {
            crop,
            cells,
            sown_on,
            why,
        } => {
            let cells = crate::terminal::words::count(*cells as usize, "seedling", "seedlings");
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
