//! Where the solution is expected to get stronger than suits, in a sentence.

use crate::language::Value;
use crate::plan::water::TooStrong;
use crate::report::words::Words;

/// On how many days, on which the most, and what helps.
pub(in crate::report) fn too_strong(strong: &TooStrong, words: &Words) -> String {
    let values = [
        ("n", Value::from(strong.days)),
        ("day", words.day(strong.worst).into()),
        ("ec", format!("{:.1}", strong.ec).into()),
        ("suits", format!("{:.1}", strong.suits).into()),
    ];
    words.say("told-too-strong", values)
}
