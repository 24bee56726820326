//! An entry as a line of text, and back: an item of a YAML list, `- { on: 2027-03-03, ... }`.
//!
//! Each line is read alone, so that a torn one costs nothing but itself.

use std::fmt::Write;

use chrono::NaiveDate;
use serde::Deserialize;

use crate::diary::entry::{Entry, Event, Expected};
use crate::diary::limits;
use crate::reader::suggestion::shortened;
use crate::units::{Amount, Conductivity, Mass, Volume};

/// A line that is no entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DiaryFault {
    /// Its number, counted from 1.
    pub line: usize,
    /// Why not.
    pub why: String,
}

/// All keys that a line may have.
#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields, default)]
struct Keys {
    on: Option<NaiveDate>,
    sown: Option<String>,
    transplanted: Option<String>,
    lost: Option<String>,
    harvested: Option<String>,
    cleared: Option<String>,
    topped_up: Option<String>,
    refilled: Option<String>,
    read: Option<String>,
    blocked: Option<String>,
    unblocked: Option<String>,
    cleaned: Option<String>,
    cells: Option<u32>,
    cups: Option<u32>,
    hole: Option<String>,
    sown_on: Option<NaiveDate>,
    want: Option<String>,
    given: bool,
    why: Option<String>,
    amount: Option<String>,
    last: bool,
    full: bool,
    expected: Option<NaiveDate>,
    planned: Option<String>,
    pace: Option<f64>,
    yields: Option<f64>,
    ec: Option<String>,
    ph: Option<f64>,
    as_planned: bool,
}

/// Every entry of a text in its order, and every line that is none.
pub fn parse_all(text: &str) -> (Vec<Entry>, Vec<DiaryFault>) {
    let (mut entries, mut faults) = (Vec::new(), Vec::new());
    for (number, line) in (1..).zip(text.lines()) {
        let line = line.trim_start_matches('\u{feff}').trim();
        if line.is_empty() || line.starts_with('#') {
            continue;
        }
        match parse_line(line) {
            Ok(entry) => entries.push(entry),
            Err(why) => faults.push(DiaryFault { line: number, why }),
        }
    }
    (entries, faults)
}

fn parse_line(line: &str) -> Result<Entry, String> {
    let item = line
        .strip_prefix("- ")
        .ok_or_else(|| format!("`{}` is not one `- {{ ... }}` to the line", shortened(line)))?;
    let keys: Keys = serde_yaml::from_str(item)
        .map_err(|_| format!("`{}` is cut off or misspelt", shortened(item)))?;
    let (on, as_planned) = (keys.on.ok_or("it has no day (`on`)")?, keys.as_planned);
    Ok(Entry {
        on,
        event: keys.event()?,
        as_planned,
    })
}

impl Keys {
    fn event(self) -> Result<Event, String> {
        let said = [
            &self.sown,
            &self.transplanted,
            &self.lost,
            &self.harvested,
            &self.cleared,
            &self.topped_up,
            &self.refilled,
            &self.read,
            &self.blocked,
            &self.unblocked,
            &self.cleaned,
        ];
        if said.into_iter().flatten().count() != 1 {
            return Err("it does not say one thing that happened".to_owned());
        }
        if let Some(crop) = self.sown {
            let cells = self.cells.ok_or("it does not say how many `cells`")?;
            limits::cells(cells)?;
            let cups = self.cups;
            return Ok(Event::Sown { crop, cells, cups });
        }
        if let Some(crop) = self.transplanted {
            return Ok(Event::Transplanted {
                crop,
                hole: self.hole.ok_or("it does not say which `hole`")?,
                sown_on: self.sown_on,
                want: self.want,
                given: self.given,
            });
        }
        if let Some(lost) = self.lost {
            let why = self.why;
            self.cells.map_or(Ok(()), limits::cells)?;
            return Ok(match self.cells {
                Some(cells) => Event::SeedlingsLost {
                    crop: lost,
                    cells,
                    sown_on: self.sown_on,
                    why,
                },
                None => Event::Lost { hole: lost, why },
            });
        }
        if let Some(hole) = self.harvested {
            let planned = self.planned.map(|text| quantity::<Mass>(&text));
            let planned = planned.transpose()?;
            let (pace, yields) = (self.pace.unwrap_or(1.0), self.yields.unwrap_or(1.0));
            limits::factor("pace", pace)?;
            limits::factor("yields", yields)?;
            planned.map_or(Ok(()), limits::planned)?;
            return Ok(Event::Harvested {
                hole,
                amount: self.amount.map(|t| quantity::<Amount>(&t)).transpose()?,
                last: self.last,
                expected: self.expected.map(|on| Expected {
                    on,
                    amount: planned,
                    pace,
                    yields,
                }),
            });
        }
        if let Some(r#loop) = self.topped_up {
            let amount = self.amount.ok_or("it does not say the `amount`")?;
            let amount = quantity::<Volume>(&amount)?;
            limits::water(amount)?;
            let full = self.full;
            return Ok(Event::ToppedUp {
                r#loop,
                amount,
                full,
            });
        }
        if let Some(r#loop) = self.read {
            let ec = self.ec.map(|t| quantity::<Conductivity>(&t)).transpose()?;
            let ph = self.ph;
            ec.map_or(Ok(()), limits::ec)?;
            ph.map_or(Ok(()), limits::ph)?;
            return Ok(Event::Read { r#loop, ec, ph });
        }
        let plain_events = [
            (self.refilled, Event::refilled as fn(String) -> Event),
            (self.cleared, Event::cleared),
            (self.blocked, Event::blocked),
            (self.unblocked, Event::unblocked),
            (self.cleaned, Event::cleaned),
        ];
        let mut said = plain_events.into_iter();
        said.find_map(|(place, event)| place.map(event))
            .ok_or_else(|| "it does not say what happened".to_owned())
    }
}

impl Event {
    fn refilled(r#loop: String) -> Self {
        Self::Refilled { r#loop }
    }

    fn cleared(hole: String) -> Self {
        Self::Cleared { hole }
    }

    fn blocked(hole: String) -> Self {
        Self::Blocked { hole }
    }

    fn unblocked(hole: String) -> Self {
        Self::Unblocked { hole }
    }

    fn cleaned(tube: String) -> Self {
        Self::Cleaned { tube }
    }
}

fn quantity<Q: std::str::FromStr>(text: &str) -> Result<Q, String>
where
    Q::Err: std::fmt::Display,
{
    text.parse().map_err(|why: Q::Err| why.to_string())
}

/// The line of an entry, with its line break.
pub fn render(entry: &Entry) -> String {
    let mut line = format!("- {{ on: {}", entry.on);
    let mut put = |key: &str, value: String| {
        let _ = write!(line, ", {key}: {value}");
    };
    match &entry.event {
        Event::Sown { crop, cells, cups } => {
            put("sown", yaml_text(crop));
            put("cells", cells.to_string());
            cups.iter().for_each(|cups| put("cups", cups.to_string()));
        }
        Event::Transplanted {
            crop,
            hole,
            sown_on,
            want,
            given,
        } => {
            put("transplanted", yaml_text(crop));
            put("hole", yaml_text(hole));
            sown_on
                .iter()
                .for_each(|day| put("sown_on", day.to_string()));
            want.iter().for_each(|want| put("want", yaml_text(want)));
            if *given {
                put("given", "true".to_owned());
            }
        }
        Event::Lost { hole, why } => {
            put("lost", yaml_text(hole));
            why.iter().for_each(|why| put("why", yaml_text(why)));
        }
        Event::SeedlingsLost {
            crop,
            cells,
            sown_on,
            why,
        } => {
            put("lost", yaml_text(crop));
            put("cells", cells.to_string());
            sown_on
                .iter()
                .for_each(|day| put("sown_on", day.to_string()));
            why.iter().for_each(|why| put("why", yaml_text(why)));
        }
        Event::Harvested {
            hole,
            amount,
            last,
            expected,
        } => {
            put("harvested", yaml_text(hole));
            amount.iter().for_each(|a| put("amount", exact_amount(*a)));
            if *last {
                put("last", "true".to_owned());
            }
            if let Some(expected) = expected {
                put("expected", expected.on.to_string());
                let planned = expected.amount.map(|m| format!("{} g", m.get()));
                planned.into_iter().for_each(|p| put("planned", p));
                for (key, factor) in [("pace", expected.pace), ("yields", expected.yields)] {
                    if (factor - 1.0).abs() > f64::EPSILON {
                        put(key, factor.to_string());
                    }
                }
            }
        }
        Event::ToppedUp {
            r#loop,
            amount,
            full,
        } => {
            put("topped_up", yaml_text(r#loop));
            put("amount", format!("{} l", amount.get()));
            if *full {
                put("full", "true".to_owned());
            }
        }
        Event::Read { r#loop, ec, ph } => {
            put("read", yaml_text(r#loop));
            ec.iter()
                .for_each(|ec| put("ec", format!("{} mS/cm", ec.get())));
            ph.iter().for_each(|ph| put("ph", ph.to_string()));
        }
        Event::Refilled { r#loop } => put("refilled", yaml_text(r#loop)),
        Event::Cleared { hole } => put("cleared", yaml_text(hole)),
        Event::Blocked { hole } => put("blocked", yaml_text(hole)),
        Event::Unblocked { hole } => put("unblocked", yaml_text(hole)),
        Event::Cleaned { tube } => put("cleaned", yaml_text(tube)),
    }
    if entry.as_planned {
        put("as_planned", "true".to_owned());
    }
    line.push_str(" }\n");
    line
}

/// An amount in whole thousandths, whatever the units in which people read it.
fn exact_amount(amount: Amount) -> String {
    #[allow(clippy::cast_precision_loss)]
    let number = amount.milli() as f64 / 1000.0;
    format!("{number} {}", amount.measure().symbol())
}

/// A text as YAML reads it back: plain where that is safe, else in quotation marks (every JSON
/// text is one in YAML).
fn yaml_text(text: &str) -> String {
    const SPECIAL: [&str; 8] = ["true", "false", "null", "yes", "no", "on", "off", "nan"];
    let is_plain = text.starts_with(|c: char| c.is_ascii_alphabetic())
        && text.ends_with(|c: char| c.is_ascii_alphanumeric())
        && text
            .chars()
            .all(|c| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | ' '))
        && !SPECIAL.iter().any(|s| s.eq_ignore_ascii_case(text));
    if is_plain {
        return text.to_owned();
    }
    // What JSON leaves as it is and YAML does not take in a text, or takes for a line's end.
    let is_odd = |c: char| {
        c.is_control()
            || matches!(
                c,
                '\u{2028}' | '\u{2029}' | '\u{feff}' | '\u{fffe}' | '\u{ffff}'
            )
    };
    let quoted = serde_json::to_string(text).expect("a text is JSON");
    let mut safe = String::new();
    for c in quoted.chars() {
        if is_odd(c) {
            let _ = write!(safe, "\\u{:04x}", u32::from(c));
        } else {
            safe.push(c);
        }
    }
    safe
}
