//! What was found about the rig, in a sentence.

use crate::messages::words::Texts;
use crate::plumbing::commissioning::{BankReport, LoopReport, MIN_TUBE_GAP};
use crate::plumbing::finding::{Basis, RigCheck, RigFinding, Verdict};
use crate::text::Value;
use crate::units::{Flow, GRAMS_PER_POUND, Length, METRES_PER_FOOT, Mass, Units};

/// A finding in a sentence.
pub(crate) fn finding(finding: &RigFinding, sheet: &LoopReport, words: &Texts) -> String {
    let bank = finding
        .bank
        .as_ref()
        .and_then(|name| sheet.banks.iter().find(|b| b.bank == *name));
    let named = bank.map_or_else(String::new, |b| format!("{}: ", b.bank));
    let from = basis_key(finding.from).map_or_else(String::new, |key| {
        let from = words.translate(key, []);
        format!(" ({from})")
    });
    let text = match bank {
        Some(bank) => bank_finding(finding, bank, words),
        None => loop_finding(finding, sheet, words),
    };
    format!("{named}{text}{from}.")
}

/// Where a limit comes from, where that is not said already.
const fn basis_key(basis: Basis) -> Option<&'static str> {
    match basis {
        Basis::CommonPractice | Basis::Workdays | Basis::Cards => None,
        Basis::HalfOfSetpoint => Some("told-from-half-the-aim"),
        Basis::Estimate => Some("told-from-estimate"),
        Basis::DrainStandard => Some("told-from-drain-standard"),
        Basis::FloorStandard => Some("told-from-floor-standard"),
        Basis::Licensed => Some("told-from-licensed"),
    }
}

/// A finding about the loop.
fn loop_finding(finding: &RigFinding, sheet: &LoopReport, words: &Texts) -> String {
    let (value, limit) = (finding.value, finding.limit.unwrap_or_default());
    let say = |key: &str, value: String, limit: String| {
        words.translate(key, [("value", value.into()), ("limit", limit.into())])
    };
    let flow = |litres_an_hour| Flow::litres_an_hour(litres_an_hour).in_units(words.units());
    let length = |metres| length(metres, words);
    match finding.check {
        RigCheck::PumpRating => say("told-pump-rating", flow(value), flow(limit)),
        RigCheck::PumpLift => {
            let values = [
                ("value", length(value).into()),
                ("rises", length(sheet.rises).into()),
                ("limit", length(limit).into()),
            ];
            words.translate("told-pump-lift", values)
        }
        RigCheck::StreamFlow => {
            let values = [
                ("value", flow(value).into()),
                ("limit", flow(limit).into()),
                ("more", flow(sheet.asks / f64::from(sheet.streams)).into()),
            ];
            words.translate("told-stream-flow", values)
        }
        RigCheck::HoseSpeed => say("told-hose-speed", speed(value, words), speed(limit, words)),
        RigCheck::TankSize => {
            let values = [
                ("value", tenths(value).into()),
                ("limit", whole(limit).into()),
                ("more", whole(limit + 1.0).into()),
            ];
            words.translate("told-tank-size", values)
        }
        RigCheck::TankLasts => say("told-tank-lasts", tenths(value), whole(limit)),
        RigCheck::FloorLoad => say(
            "told-floor-load",
            pressure(value, words),
            pressure(limit, words),
        ),
        RigCheck::DrainBore => say("told-drain-bore", length(value), length(limit)),
        RigCheck::DrainSlope => say(
            "told-drain-slope",
            tenths(value * 100.0),
            whole(limit * 100.0),
        ),
        RigCheck::DrainFill if value > 1.0 => {
            words.translate("told-drain-overflows", [("value", tenths(value).into())])
        }
        RigCheck::DrainFill => say(
            "told-drain-fill",
            whole(value * 100.0),
            whole(limit * 100.0),
        ),
        RigCheck::SourceWater => say("told-source-water", tenths(value), tenths(limit)),
        RigCheck::TopUpWater => {
            let values = [
                ("value", tenths(value).into()),
                ("limit", tenths(limit).into()),
            ];
            let climbs = finding.verdict != Verdict::Ok;
            let key = if climbs {
                "told-top-up-climbs"
            } else {
                "told-top-up-water"
            };
            words.translate(key, values)
        }
        RigCheck::OpenTank => words.translate("told-open-tank", []),
        RigCheck::SharedSolution if value > 0.0 => {
            words.translate("told-solutions-not-shared", [("n", value.into())])
        }
        RigCheck::SharedSolution => words.translate("told-solution-shared", []),
        RigCheck::TubeFill
        | RigCheck::TubeGap
        | RigCheck::WallGap
        | RigCheck::Weight
        | RigCheck::PowerCut => String::new(),
    }
}

/// A finding about a bank.
fn bank_finding(finding: &RigFinding, bank: &BankReport, words: &Texts) -> String {
    let (value, limit) = (finding.value, finding.limit.unwrap_or_default());
    let pair = |a: String, b: String| [("value", a.into()), ("limit", b.into())];
    match finding.check {
        RigCheck::TubeFill => {
            let is_low = value < limit && finding.verdict != Verdict::Ok;
            let key = if is_low {
                "told-tube-fill-low"
            } else {
                "told-tube-fill"
            };
            words.translate(key, pair(whole(value * 100.0), whole(limit * 100.0)))
        }
        RigCheck::TubeGap => words.translate(
            "told-tube-gap",
            pair(length(value, words), length(limit, words)),
        ),
        RigCheck::WallGap => {
            let values = [
                ("value", length(value, words).into()),
                ("least", length(MIN_TUBE_GAP, words).into()),
                ("limit", length(limit, words).into()),
            ];
            words.translate("told-wall-gap", values)
        }
        RigCheck::PowerCut => {
            hours_without_pump(value, &words.translate("told-when-full", []), words)
        }
        RigCheck::Weight => {
            let (metres, per) = match words.units() {
                Units::Metric => (1.0, "metre"),
                Units::Imperial => (METRES_PER_FOOT, "foot"),
            };
            let values = [
                ("value", mass(value, words).into()),
                ("each", mass(bank.weight_a_metre * metres, words).into()),
                ("per", per.into()),
            ];
            words.translate("told-weight", values)
        }
        _ => String::new(),
    }
}

/// How long roots stay wet without a pump \[h\], and when that is so.
pub(super) fn hours_without_pump(hours_wet: f64, when: &str, words: &Texts) -> String {
    if hours_wet < 1.0 {
        return words.translate("told-power-cut-dry", [("when", when.into())]);
    }
    let values = [
        ("time", hours(hours_wet, words).into()),
        ("when", when.into()),
    ];
    words.translate("told-power-cut", values)
}

/// How long, rounded down.
fn hours(hours: f64, words: &Texts) -> String {
    let (key, n) = if hours >= 72.0 {
        ("told-days", (hours / 24.0).floor())
    } else {
        ("told-hours", hours.floor())
    };
    words.translate(key, [("n", Value::from(n))])
}

fn tenths(number: f64) -> String {
    format!("{number:.1}")
}

fn whole(number: f64) -> String {
    format!("{number:.0}")
}

/// A pound on a square foot \[kN/m2\].
const KILONEWTONS_PER_POUND_PER_SQUARE_FOOT: f64 = 0.047_880_259;

fn speed(metres_a_second: f64, words: &Texts) -> String {
    match words.units() {
        Units::Metric => format!("{metres_a_second:.1} m/s"),
        Units::Imperial => format!("{:.1} ft/s", metres_a_second / METRES_PER_FOOT),
    }
}

fn pressure(kilonewtons: f64, words: &Texts) -> String {
    match words.units() {
        Units::Metric => format!("{kilonewtons:.1} kN/m2"),
        Units::Imperial => format!(
            "{:.0} lb/ft2",
            kilonewtons / KILONEWTONS_PER_POUND_PER_SQUARE_FOOT
        ),
    }
}

fn length(metres: f64, words: &Texts) -> String {
    Length::metres(metres).in_units(words.units())
}

fn mass(kilograms: f64, words: &Texts) -> String {
    let unit = match words.units() {
        Units::Metric => 1000.0,
        Units::Imperial => GRAMS_PER_POUND,
    };
    let number = kilograms * 1000.0 / unit;
    let step = if number >= 20.0 { 1.0 } else { 0.1 };
    Mass::grams((number / step).round() * step * unit).in_units(words.units())
}
