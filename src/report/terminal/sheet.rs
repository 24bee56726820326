//! The acceptance sheet of a rig.

use super::WIDTH;
use super::table::folded;
use super::words::{count, short_date, strong, warning};
use crate::plumbing::finding::{Check, Finding, TRADE, Verdict};
use crate::plumbing::sheet::{BankSheet, LoopSheet};
use crate::quantity::{Flow, Length, Mass, Units, Volume};
use crate::report::acceptance::Acceptance;

/// The sheet, loop by loop, and the leak test.
pub(super) fn sheet(acceptance: &Acceptance, units: Units) -> String {
    let loops = acceptance.loops.iter().map(|l| of_loop(l, units));
    let parts: Vec<String> = loops.chain([leak_test(&acceptance.leak_test)]).collect();
    parts.join("\n")
}

fn leak_test(steps: &[String]) -> String {
    let steps = (1..)
        .zip(steps)
        .map(|(n, step)| folded(&format!("  {n}. "), "     ", step, WIDTH));
    format!(
        "{}\n{}",
        strong("Leak test, before the first planting"),
        steps.collect::<String>()
    )
}

fn of_loop(sheet: &LoopSheet, units: Units) -> String {
    let lines = [water(sheet, units), pump(sheet, units), solution(sheet)];
    let lines: String = lines
        .iter()
        .filter(|line| !line.is_empty())
        .map(|line| folded("  ", "    ", line, WIDTH))
        .collect();
    let findings: String = sheet
        .findings
        .iter()
        .map(|finding| told(finding, sheet, units))
        .collect();
    let heading = format!("Is loop {} fit for planting?", sheet.r#loop);
    let unpublished = "Limits without a named source are common practice; none is published.";
    format!(
        "{}\n{lines}{findings}{}",
        strong(&heading),
        folded("  ", "    ", unpublished, WIDTH)
    )
}

fn water(sheet: &LoopSheet, units: Units) -> String {
    let standing = if sheet.in_tubes > 0.0 {
        format!("{} in its tubes", litres(sheet.in_tubes, units))
    } else {
        "hardly any in its towers".to_owned()
    };
    let day = sheet.thirstiest.map_or_else(
        || "a day".to_owned(),
        |day| format!("on the thirstiest day, about {}", short_date(day)),
    );
    format!(
        "Water: {standing}; if every hole held a ripe plant, {} {day}.",
        litres(sheet.thirst, units)
    )
}

fn pump(sheet: &LoopSheet, units: Units) -> String {
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
        "Pump: {} of water, {} together at 2 l/min each, up to {} above the tank's water{assumed}.{gives}",
        count(sheet.streams as usize, "stream", "streams"),
        flow(sheet.asks, units),
        length(sheet.rises, units),
    )
}

fn solution(sheet: &LoopSheet) -> String {
    sheet.band.as_ref().map_or_else(String::new, |band| {
        format!(
            "Solution for all that is wanted: EC {:.1}-{:.1} mS/cm, pH {:.1}-{:.1}; aim at EC {:.1} and pH {:.1}.",
            band.ec.0, band.ec.1, band.ph.0, band.ph.1, band.aim.0, band.aim.1
        )
    })
}

fn told(finding: &Finding, sheet: &LoopSheet, units: Units) -> String {
    let mark = match finding.verdict {
        Verdict::Fine => "fine   ".to_owned(),
        Verdict::Look => warning("look   "),
        Verdict::Change => warning("change "),
    };
    let text = sentence(finding, sheet, units);
    folded(&format!("  {mark}"), "         ", &text, WIDTH)
}

/// A finding in a sentence.
pub(in crate::report) fn sentence(finding: &Finding, sheet: &LoopSheet, units: Units) -> String {
    let bank = finding
        .bank
        .as_ref()
        .and_then(|name| sheet.banks.iter().find(|b| b.bank == *name));
    let named = bank.map_or_else(String::new, |b| format!("{}: ", b.bank));
    let said_already = matches!(finding.check, Check::TankLasts | Check::SharedSolution);
    let from = match finding.from {
        _ if said_already => String::new(),
        TRADE => String::new(),
        from => format!(" ({from})"),
    };
    let text = match bank {
        Some(bank) => of_bank(finding, bank, units),
        None => of_whole(finding, sheet, units),
    };
    format!("{named}{text}{from}.")
}

/// A finding about the loop.
fn of_whole(finding: &Finding, sheet: &LoopSheet, units: Units) -> String {
    let (value, limit) = (finding.value, finding.limit.unwrap_or_default());
    match finding.check {
        Check::PumpRating => format!(
            "the pump is rated {}; twice what its streams ask for is {}",
            flow(value, units),
            flow(limit, units)
        ),
        Check::PumpLift => format!(
            "the pump lifts {}; the height of {} and a quarter more is {}",
            length(value, units),
            length(sheet.rises, units),
            length(limit, units)
        ),
        Check::StreamFlow => format!(
            "each stream gets {}; 1.5 to 2 l/min, {} or more, are wanted",
            flow(value, units),
            flow(limit, units)
        ),
        Check::HoseSpeed => format!(
            "water runs through the hose at {value:.1} m/s; above {limit:.1} m/s a wider one saves lift and noise"
        ),
        Check::TankSize => format!(
            "the tank holds {value:.1} times what stands in the tubes; {limit:.0} to {:.0} times are wanted",
            limit + 1.0
        ),
        Check::TankLasts => format!(
            "a full tank falls to its least level in {value:.1} days, with every hole full on the thirstiest day; your workdays are up to {limit:.0} days apart"
        ),
        Check::FloorLoad => format!(
            "the full tank presses on its floor with {value:.1} kN/m2; many floors of dwellings are built for {limit:.1}: ask somebody licensed"
        ),
        Check::DrainBore => format!(
            "drains {} wide; {}, an inch, or more is wanted, as roots and leaves get in",
            length(value, units),
            length(limit, units)
        ),
        Check::DrainSlope => format!(
            "drains fall {:.1} %; {:.0} % or more is wanted",
            value * 100.0,
            limit * 100.0
        ),
        Check::DrainFill if value > 1.0 => format!(
            "drains get {value:.1} times what they carry, and the tubes would overflow: wider, steeper or more of them"
        ),
        Check::DrainFill => format!(
            "drains run {:.0} % full; up to {:.0} % is wanted, so that air goes along",
            value * 100.0,
            limit * 100.0
        ),
        Check::SourceWater => format!(
            "your water itself has EC {value:.1} mS/cm; up to {limit:.1} leaves room for nutrients"
        ),
        Check::SharedSolution if value > 0.0 => {
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            let pairs = count(value as usize, "pair", "pairs");
            format!(
                "{pairs} of the wanted crops cannot share a solution: the plan never has them in this loop together"
            )
        }
        Check::SharedSolution => "all wanted crops share a solution".to_owned(),
        Check::TubeFill | Check::TubeGap | Check::Weight | Check::PowerCut => String::new(),
    }
}

/// A finding about a bank.
fn of_bank(finding: &Finding, bank: &BankSheet, units: Units) -> String {
    let (value, limit) = (finding.value, finding.limit.unwrap_or_default());
    match finding.check {
        Check::TubeFill => format!(
            "tubes stand {:.0} % full; about {:.0} % is wanted",
            value * 100.0,
            limit * 100.0
        ),
        Check::TubeGap => format!(
            "tubes {} apart; {} or more is wanted",
            length(value, units),
            length(limit, units)
        ),
        Check::PowerCut if bank.standing <= 0.0 => {
            "a tower holds almost no water: without the pump its roots begin to dry within the hour on a hot day. Think of a spare pump and a battery".to_owned()
        }
        Check::PowerCut => format!(
            "without the pump its roots stay wet for {} on the thirstiest day, with every hole full",
            hours(value)
        ),
        Check::Weight => format!(
            "{} with water to the brim and every hole planted, {} for each metre of tube",
            mass(value, units),
            mass(bank.weight_a_metre, units)
        ),
        _ => String::new(),
    }
}

fn hours(hours: f64) -> String {
    if hours >= 72.0 {
        format!("{:.0} days", (hours / 24.0).floor())
    } else {
        format!("{:.0} hours", hours.floor())
    }
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

fn mass(kilograms: f64, units: Units) -> String {
    let step = if kilograms >= 20.0 { 1.0 } else { 0.1 };
    Mass::grams((kilograms / step).round() * step * 1000.0).in_units(units)
}
