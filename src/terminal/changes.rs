//! What moved when a plan was made again, and what was learned.

use chrono::NaiveDate;

use crate::garden::Garden;
use crate::plan::Replan;
use crate::plan::calibration::Calibration;
use crate::plan::changes::{ChangedItem, PlanChange, PlanChangeReason};
use crate::terminal::MAX_COLUMNS;
use crate::terminal::table::wrap;
use crate::terminal::words::{crop_name, list, long_date, short_date, strong};

/// What is told below the summary; nothing after a first plan.
#[must_use]
pub fn render_changes(replan: &Replan) -> String {
    if replan.is_unchanged {
        return "\nNothing has happened that the plan did not say: it stays as it is.\n".to_owned();
    }
    [render_calibration(replan), render_moves(replan)].concat()
}

fn render_calibration(replan: &Replan) -> String {
    let lines: Vec<String> = replan
        .calibrations
        .iter()
        .filter_map(|l| calibration_line(l, &replan.garden))
        .collect();
    section("Taken from the diary", lines)
}

fn calibration_line(calibration: &Calibration, garden: &Garden) -> Option<String> {
    let (pace, yields) = (calibration.pace(), calibration.yields());
    let is_seen = |factor: f64| factor_text(factor) != factor_text(1.0);
    let mut parts = Vec::new();
    if is_seen(pace) {
        parts.push(format!(
            "takes {} as long as its card says",
            factor_text(pace)
        ));
    }
    if is_seen(yields) {
        parts.push(format!("gives {} as much", factor_text(yields)));
    }
    if parts.is_empty() {
        return None;
    }
    let seen = calibration
        .pace
        .observations
        .max(calibration.yields.observations);
    let days = crate::terminal::words::count(seen as usize, "harvest day", "harvest days");
    let name = crop_name(garden, &calibration.crop);
    let parts = parts.join(" and ");
    Some(format!(
        "{name} {parts} here, going by {days} and the card together."
    ))
}

fn factor_text(factor: f64) -> String {
    format!("{factor:.2} times")
}

fn render_moves(replan: &Replan) -> String {
    if replan.changes.is_empty() {
        return String::new();
    }
    let of_one = |a: &PlanChange, b: &PlanChange| {
        a.crop.is_some() && (&a.place, &a.crop, &a.why) == (&b.place, &b.crop, &b.why)
    };
    let plants = replan.changes.chunk_by(of_one);
    let lines = plants.map(|changes| line(changes, replan));
    section("Moved in the coming two weeks", lines.collect())
}

fn section(heading: &str, lines: Vec<String>) -> String {
    if lines.is_empty() {
        return String::new();
    }
    let lines = lines.iter().map(|l| wrap("  ", "    ", l, MAX_COLUMNS));
    format!("\n{}\n{}", strong(heading), lines.collect::<String>())
}

/// What moved of one plant or tube, for one reason.
fn line(changes: &[PlanChange], replan: &Replan) -> String {
    let PlanChange {
        place, crop, why, ..
    } = &changes[0];
    let subject = crop.as_ref().map_or_else(
        || place.clone(),
        |crop| format!("{} in {place}", crop_name(&replan.garden, crop)),
    );
    let today = replan.planned.plan.start;
    let days: Vec<String> = changes.iter().map(|c| date_change(c, today)).collect();
    format!("{subject}: {}; {}.", list(&days), reason(why))
}

fn date_change(change: &PlanChange, today: NaiveDate) -> String {
    let what = match change.what {
        ChangedItem::Sow => "sown",
        ChangedItem::Transplant => "set out",
        ChangedItem::Removal => "taken out",
        ChangedItem::Clean => "scrubbed",
        ChangedItem::Solution => "solution changed",
    };
    match (change.from, change.to) {
        (Some(from), Some(to)) => {
            let late = change.what == ChangedItem::Removal && from < today;
            let longer = if late {
                "stands longer than planned: "
            } else {
                ""
            };
            format!(
                "{longer}{what} {} instead of {}",
                long_date(to),
                short_date(from)
            )
        }
        (None, Some(to)) => format!("{what} {}, which is new", long_date(to)),
        (Some(from), None) => format!("not {what} on {} any more", short_date(from)),
        (None, None) => what.to_owned(),
    }
}

fn reason(why: &PlanChangeReason) -> String {
    match why {
        PlanChangeReason::Blocked => "the hole is blocked".to_owned(),
        PlanChangeReason::Lost(None) => "what stood there was lost".to_owned(),
        PlanChangeReason::Lost(Some(of)) => format!("what stood there was lost ({of})"),
        PlanChangeReason::NotRecorded => "what was due before is not in the diary".to_owned(),
        PlanChangeReason::DoneOtherwise => "what was done there is not what was planned".to_owned(),
        PlanChangeReason::Seedlings => "the seedlings for it are not there".to_owned(),
        PlanChangeReason::SownLate => "it was sown later than planned".to_owned(),
        PlanChangeReason::Pace(pace) => {
            format!("it takes {} as long as its card says", factor_text(*pace))
        }
        PlanChangeReason::GardenChanged => "the garden file was changed".to_owned(),
        PlanChangeReason::MakesUp => "to make up for the rest".to_owned(),
    }
}
