//! The words of the page's script.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::messages::words::Texts;

/// What the page's script says: a text for each key. Names in braces are filled in there.
#[derive(Debug, Serialize)]
pub(super) struct ScriptTexts {
    #[serde(flatten)]
    texts: BTreeMap<&'static str, String>,
    /// Short names, January first.
    months: Vec<String>,
    /// Short names, Monday first.
    weekdays: Vec<String>,
}

/// Texts of the script, with what is to be filled in.
const SCRIPT: &[(&str, &[&str])] = &[
    ("stands", &["hole", "crop", "percent", "wide", "out"]),
    ("empty", &["hole"]),
    ("due", &[]),
    ("for-want", &["want"]),
    ("sown", &[]),
    ("started", &[]),
    ("set", &[]),
    ("grown", &[]),
    ("wide", &[]),
    ("next-harvest", &[]),
    ("out", &[]),
    ("then", &[]),
    ("nothing", &[]),
    ("free", &[]),
    ("pause", &[]),
    ("hole", &[]),
    ("crop", &[]),
    ("harvests", &[]),
    ("on-hand", &[]),
    ("week", &["week", "year"]),
];

/// What the script says, in the page's language.
pub(super) fn script(words: &Texts) -> ScriptTexts {
    let language = words.language();
    let left_open = |name: &&'static str| (*name, format!("{{{name}}}").into());
    let text = |&(key, names): &(&'static str, &'static [&'static str])| {
        let values = names.iter().map(left_open);
        (key, language.format(&format!("script-{key}"), values))
    };
    let date = ["weekday", "day", "month", "year"];
    let date = language.format("page-date", date.iter().map(left_open));
    let mut texts: BTreeMap<&str, String> = SCRIPT.iter().map(text).collect();
    texts.insert("date", date);
    texts.insert("play", words.t("play"));
    ScriptTexts {
        texts,
        months: words.months(),
        weekdays: (1..=7).map(|weekday| words.weekday(weekday)).collect(),
    }
}
