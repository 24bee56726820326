//! The acceptance sheet of a rig.

use crate::messages::rig;
use crate::messages::words::Texts;
use crate::plumbing::commissioning::{DRAIN_BORE_LIMITS, LoopReport, MIN_DRAIN_SLOPE};
use crate::plumbing::finding::{RigCheck, RigFinding, Verdict};
use crate::summary::acceptance::Acceptance;
use crate::terminal::MAX_COLUMNS;
use crate::terminal::table::wrap;
use crate::terminal::words::{count, short_date, strong, warning};
use crate::units::{Flow, Length, Units, Volume};

/// The sheet, loop by loop, and the leak test.
pub(super) fn render_commissioning(acceptance: &Acceptance, units: Units) -> String {
    let loops = acceptance.loops.iter().map(|l| render_loop(l, units));
    let parts: Vec<String> = loops.chain([leak_test(&acceptance.leak_test)]).collect();
    parts.join("\n")
}

fn leak_test(steps: &[String]) -> String {
    let steps = (1..)
        .zip(steps)
        .map(|(n, step)| wrap(&format!("  {n}. "), "     ", step, MAX_COLUMNS));
    format!(
        "{}\n{}",
        strong("Leak test, before the first planting"),
        steps.collect::<String>()
    )
}

fn render_loop(sheet: &LoopReport, units: Units) -> String {
    let lines = [
        water(sheet, units),
        pump(sheet, units),
        drain(sheet, units),
        cups(),
        solution(sheet),
    ];
    let lines: String = lines
        .iter()
        .filter(|line| !line.is_empty())
        .map(|line| wrap("  ", "    ", line, MAX_COLUMNS))
        .collect();
    let findings: String = sheet
        .findings
        .iter()
        .map(|finding| findings_of(finding, sheet, units))
        .collect();
    let heading = format!("Is loop {} fit for planting?", sheet.r#loop);
    let unpublished = "Limits without a named source are common practice; none is published.";
    format!(
        "{}\n{lines}{findings}{}",
        strong(&heading),
        wrap("  ", "    ", unpublished, MAX_COLUMNS)
    )
}

fn water(sheet: &LoopReport, units: Units) -> String {
    let standing = if sheet.in_tubes > 0.0 {
        format!("{} in its tubes", litres(sheet.in_tubes, units))
    } else {
        "hardly any in its towers".to_owned()
    };
    let day = sheet.thirstiest.map_or_else(
        || "a day".to_owned(),
        |day| format!("on the peak day, about {}", short_date(day)),
    );
    format!(
        "Water: {standing}; if every hole held a ripe plant, {} {day}.",
        litres(sheet.thirst, units)
    )
}

fn pump(sheet: &LoopReport, units: Units) -> String {
    let assumed = if sheet.rises_assumed {
        " (assumed; `rises` in a `hose` says how high yours is)"
    } else {
        ""
    };
    let gives = match (sheet.delivered, sheet.hose_takes) {
        (Some(flow), Some(head)) => format!(
            " The pump gives {} there; the hose takes {} of its lift.",
            self::flow(flow, units),
            length(head, units)
        ),
        (Some(flow), None) => format!(
            " The pump gives {} there, less what its hose takes: state the `hose` to know.",
            self::flow(flow, units)
        ),
        _ => " No pump is stated, so nothing is said of it.".to_owned(),
    };
    format!(
        "Pump: {} of water, {} together at {} each, up to {} above the tank's water{assumed}.{gives}",
        count(sheet.streams as usize, "stream", "streams"),
        flow(sheet.asks, units),
        flow(sheet.asks / f64::from(sheet.streams), units),
        length(sheet.rises, units),
    )
}

/// The rule for drains where none is stated that could be judged (common practice, no published
/// source).
fn drain(sheet: &LoopReport, units: Units) -> String {
    let is_judged = |finding: &RigFinding| finding.check == RigCheck::DrainBore;
    if sheet.findings.iter().any(is_judged) {
        return String::new();
    }
    format!(
        "Drain: none is stated, so nothing is said of it. A bore of {} or more, falling {:.0} % or more, is usual.",
        length(DRAIN_BORE_LIMITS.0, units),
        MIN_DRAIN_SLOPE * 100.0,
    )
}

/// Common practice, no published source.
fn cups() -> String {
    "Holes: a little smaller than the rims of their cups, so that these hang by them and the hole stays shut.".to_owned()
}

fn solution(sheet: &LoopReport) -> String {
    sheet.band.as_ref().map_or_else(String::new, |band| {
        format!(
            "Solution for all that is wanted: EC {:.1}-{:.1} mS/cm, pH {:.1}-{:.1}; aim at EC {:.1} and pH {:.1}.",
            band.ec.0, band.ec.1, band.ph.0, band.ph.1, band.aim.0, band.aim.1
        )
    })
}

fn findings_of(finding: &RigFinding, sheet: &LoopReport, units: Units) -> String {
    let mark = match finding.verdict {
        Verdict::Ok => "ok     ".to_owned(),
        Verdict::Warn => warning("check  "),
        Verdict::Fail => warning("fix    "),
    };
    let text = rig::finding(finding, sheet, &Texts::english(units));
    wrap(&format!("  {mark}"), "         ", &text, MAX_COLUMNS)
}

fn flow(litres_an_hour: f64, units: Units) -> String {
    Flow::litres_an_hour(litres_an_hour).in_units(units)
}

fn length(metres: f64, units: Units) -> String {
    Length::metres(metres).in_units(units)
}

fn litres(litres: f64, units: Units) -> String {
    Volume::litres(litres).in_units(units)
}
