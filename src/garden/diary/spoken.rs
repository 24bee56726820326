//! What a grower types beside the rig, understood.

use crate::garden::suggestion::nearest;
use crate::quantity::{Amount, Conductivity};

/// Words that were not understood.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct Misunderstood(String);

fn misunderstood<T>(text: String) -> Result<T, Misunderstood> {
    Err(Misunderstood(text))
}

/// An amount in one or several words: `160 g`, `1 head`, `6 oz`; nothing where there are none.
///
/// # Errors
/// If it is no amount.
pub fn amount(words: &[String]) -> Result<Option<Amount>, Misunderstood> {
    if words.is_empty() {
        return Ok(None);
    }
    let text = words.join(" ");
    text.parse().map(Some).map_err(|_| {
        Misunderstood(format!(
            "`{text}` is not an amount; write it like `160 g` or `1 head`"
        ))
    })
}

/// Readings in words: `ec 1.6 ph 6.1`, either alone, in any order. EC without a unit is in mS/cm.
///
/// # Errors
/// If they are no readings.
pub fn readings(words: &[String]) -> Result<(Option<Conductivity>, Option<f64>), Misunderstood> {
    const FORM: &str = "write readings like `ec 1.6 ph 6.1`";
    let (mut ec, mut ph) = (None, None);
    let mut rest = words;
    while let [key, value, after @ ..] = rest {
        rest = after;
        match key.to_lowercase().as_str() {
            "ec" => {
                let unit = match after {
                    [unit, more @ ..] if unit.parse::<f64>().is_err() && !is_key(unit) => {
                        rest = more;
                        unit.as_str()
                    }
                    _ if value.parse::<f64>().is_ok() => "mS/cm",
                    _ => "",
                };
                let text = format!("{value} {unit}");
                let read: Conductivity = text
                    .parse()
                    .map_err(|_| Misunderstood(format!("`{text}` is not an EC; {FORM}")))?;
                if !(0.0..=20.0).contains(&read.get()) {
                    return misunderstood(format!("an EC of {read} is no nutrient solution's"));
                }
                ec = Some(read);
            }
            "ph" => match value.parse::<f64>() {
                Ok(read) if (0.0..=14.0).contains(&read) => ph = Some(read),
                _ => return misunderstood(format!("`{value}` is not a pH, which is 0 to 14")),
            },
            other => {
                let near = nearest(other, ["ec", "ph"]);
                let near = near.map_or(String::new(), |n| format!("; did you mean `{n}`?"));
                return misunderstood(format!("`{other}` is not a reading{near}; {FORM}"));
            }
        }
    }
    if !rest.is_empty() || (ec.is_none() && ph.is_none()) {
        return misunderstood(FORM.to_owned());
    }
    Ok((ec, ph))
}

fn is_key(word: &str) -> bool {
    ["ec", "ph"].iter().any(|key| word.eq_ignore_ascii_case(key))
}
