//! What moved when a plan was made again, and what was learned.

use chrono::NaiveDate;

use crate::garden::Garden;
use crate::plan::Again;
use crate::plan::calibration::Learned;
use crate::plan::changes::{Change, Reason, What};
use crate::terminal::WIDTH;
use crate::terminal::table::folded;
use crate::terminal::words::{called, list, long_date, short_date, strong};

/// What is told below the summary; nothing after a first plan.
#[must_use]
pub fn changes(again: &Again) -> String {
    if again.nothing_new {
        return "\nNothing has happened that the plan did not say: it stays as it is.\n".to_owned();
    }
    [learned(again), moved(again)].concat()
}

fn learned(again: &Again) -> String {
    let lines: Vec<String> = again
        .learned
        .iter()
        .filter_map(|l| learned_line(l, &again.garden))
        .collect();
    section("Taken from the diary", lines)
}

fn learned_line(learned: &Learned, garden: &Garden) -> Option<String> {
    let (pace, yields) = (learned.pace(), learned.yields());
    let is_seen = |factor: f64| times(factor) != times(1.0);
    let mut parts = Vec::new();
    if is_seen(pace) {
        parts.push(format!("takes {} as long as its card says", times(pace)));
    }
    if is_seen(yields) {
        parts.push(format!("gives {} as much", times(yields)));
    }
    if parts.is_empty() {
        return None;
    }
    let seen = learned.pace.seen.max(learned.yields.seen);
    let days = crate::terminal::words::count(seen as usize, "harvest day", "harvest days");
    let name = called(garden, &learned.crop);
    let parts = parts.join(" and ");
    Some(format!(
        "{name} {parts} here, going by {days} and the card together."
    ))
}

fn times(factor: f64) -> String {
    format!("{factor:.2} times")
}

fn moved(again: &Again) -> String {
    if again.changes.is_empty() {
        return String::new();
    }
    let of_one = |a: &Change, b: &Change| {
        a.crop.is_some() && (&a.place, &a.crop, &a.why) == (&b.place, &b.crop, &b.why)
    };
    let plants = again.changes.chunk_by(of_one);
    let lines = plants.map(|changes| line(changes, again));
    section("Moved in the coming two weeks", lines.collect())
}

fn section(heading: &str, lines: Vec<String>) -> String {
    if lines.is_empty() {
        return String::new();
    }
    let lines = lines.iter().map(|l| folded("  ", "    ", l, WIDTH));
    format!("\n{}\n{}", strong(heading), lines.collect::<String>())
}

/// What moved of one plant or tube, for one reason.
fn line(changes: &[Change], again: &Again) -> String {
    let Change {
        place, crop, why, ..
    } = &changes[0];
    let subject = crop.as_ref().map_or_else(
        || place.clone(),
        |crop| format!("{} in {place}", called(&again.garden, crop)),
    );
    let today = again.planned.plan.start;
    let days: Vec<String> = changes.iter().map(|c| days(c, today)).collect();
    format!("{subject}: {}; {}.", list(&days), reason(why))
}

fn days(change: &Change, today: NaiveDate) -> String {
    let what = match change.what {
        What::Sow => "sown",
        What::Transplant => "set out",
        What::Removal => "taken out",
        What::Clean => "scrubbed",
        What::Solution => "solution changed",
    };
    match (change.from, change.to) {
        (Some(from), Some(to)) => {
            let late = change.what == What::Removal && from < today;
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

fn reason(why: &Reason) -> String {
    match why {
        Reason::Blocked => "the hole is blocked".to_owned(),
        Reason::Lost(None) => "what stood there was lost".to_owned(),
        Reason::Lost(Some(of)) => format!("what stood there was lost ({of})"),
        Reason::NotRecorded => "what was due before is not in the diary".to_owned(),
        Reason::DoneOtherwise => "what was done there is not what was planned".to_owned(),
        Reason::Seedlings => "the seedlings for it are not there".to_owned(),
        Reason::SownLate => "it was sown later than planned".to_owned(),
        Reason::Pace(pace) => format!("it takes {} as long as its card says", times(*pace)),
        Reason::GardenChanged => "the garden file was changed".to_owned(),
        Reason::MakesUp => "to make up for the rest".to_owned(),
    }
}
