//! What a plan makes of a tank, in sentences.

use crate::garden::WorkSchedule;
use crate::messages::rig;
use crate::messages::words::Texts;
use crate::plan::water::{HighEc, LowLevel, PowerCut};
use crate::text::Value;
use crate::units::Volume;

/// On how many days the solution is expected to be stronger than suits, on which the most, and
/// what helps.
pub(crate) fn high_ec(strong: &HighEc, words: &Texts) -> String {
    let values = [
        ("n", Value::from(strong.days)),
        ("day", words.day(strong.worst).into()),
        ("ec", format!("{:.1}", strong.ec).into()),
        ("suits", format!("{:.1}", strong.suits).into()),
    ];
    words.translate("told-too-strong", values)
}

/// How long the roots of a bank stay wet without a pump.
pub(crate) fn power_cut(cut: &PowerCut, words: &Texts) -> String {
    let when = words.translate("told-when-thirstiest", [("day", words.day(cut.day).into())]);
    let wet = rig::hours_without_pump(cut.hours, &when, words);
    format!("{}: {wet}.", cut.bank)
}

/// Each absence that a full tank does not last; the other times in one sentence, so that they do
/// not bury these.
pub(crate) fn low_levels(times: &[LowLevel], rhythm: &WorkSchedule, words: &Texts) -> Vec<String> {
    let nobody_there = |low: &&LowLevel| {
        rhythm
            .absences_between(low.from, low.until)
            .next()
            .is_some()
    };
    let (away, usual): (Vec<&LowLevel>, Vec<&LowLevel>) = times.iter().partition(nobody_there);
    let mut told: Vec<String> = away.iter().map(|low| one_low(low, words)).collect();
    match usual[..] {
        [] => {}
        [low] => told.push(one_low(low, words)),
        [first, .., last] => told.push(many_low(&usual, [first, last], words)),
    }
    told
}

fn one_low(low: &LowLevel, words: &Texts) -> String {
    let values = [
        ("days", days(low, words).into()),
        ("falls", level_drop(low, words).into()),
    ];
    words.translate("told-low", values)
}

fn many_low(times: &[&LowLevel], [first, last]: [&LowLevel; 2], words: &Texts) -> String {
    let worse = |a: &&&LowLevel, b: &&&LowLevel| {
        (b.lacking.total_cmp(&a.lacking)).then(a.lowest.total_cmp(&b.lowest))
    };
    let worst = times.iter().min_by(worse).map_or(first, |low| low);
    let values = [
        ("n", times.len().into()),
        ("from", words.day(first.from).into()),
        ("until", words.day(last.until).into()),
        ("days", days(worst, words).into()),
        ("falls", level_drop(worst, words).into()),
    ];
    words.translate("told-low-many", values)
}

fn days(low: &LowLevel, words: &Texts) -> String {
    let (from, until) = (words.day(low.from), words.day(low.until));
    if from == until {
        return words.translate("told-low-on", [("day", from.into())]);
    }
    let values = [("from", from.into()), ("until", until.into())];
    words.translate("told-low-from-until", values)
}

fn level_drop(low: &LowLevel, words: &Texts) -> String {
    let lowest = Volume::litres(low.lowest).rounded(words.units());
    let level = if lowest.get() > 0.0 {
        let lowest = lowest.in_units(words.units());
        words.translate("told-low-falls", [("lowest", lowest.into())])
    } else {
        words.translate("told-low-dry", [])
    };
    if low.lacking > 0.0 {
        let lacking = Volume::litres(low.lacking).in_measurable_units(words.units());
        let values = [("level", level.into()), ("lacking", lacking.into())];
        words.translate("told-low-lacking", values)
    } else {
        level
    }
}
