//! Numbers with and without their units, inside their bounds.

use crate::garden::bounds::{Bounds, Count, Number, Printed};
use crate::reader::decode::KeyedValue;
use crate::reader::suggestion::{any_of, shortened};
use crate::reader::tree::Value;
use crate::units::{ParseError, Quantity};

impl KeyedValue<'_> {
    /// A number with its unit, inside its bounds.
    pub(crate) fn quantity<Q: Quantity>(&self, bounds: &Bounds<Q>) -> Option<Q> {
        let written = self.written_quantity()?;
        self.within(bounds, written, &self.raw())
    }

    /// A number with its unit, whatever its size.
    pub(crate) fn written_quantity<Q: Quantity>(&self) -> Option<Q> {
        match &self.node.value {
            Value::Text(text) => match text.parse() {
                Ok(quantity) => Some(quantity),
                Err(error) => self.no_quantity::<Q>(&error),
            },
            Value::Integer(_) | Value::Decimal(_) => {
                let units = Q::units();
                self.no_quantity::<Q>(&ParseError::MissingUnit { units })
            }
            _ => self.needs(
                "a number with its unit",
                format!("write it in {}", any_of(Q::units())),
            ),
        }
    }

    fn no_quantity<Q: Quantity>(&self, error: &ParseError) -> Option<Q> {
        let key = self.key;
        let raw = self.raw();
        let units = error.units();
        let offered = format!("write it in {}", any_of(units.iter().copied()));
        match error {
            ParseError::MissingUnit { .. } => self.wrong(
                format!("`{key}` has a number without its unit"),
                format!("{raw} of what?"),
                offered,
            ),
            ParseError::UnknownUnit { unit, kind, .. } => {
                let unit = shortened(unit);
                self.wrong(format!("`{unit}` is not a unit of {kind}"), "", offered)
            }
            ParseError::NotANumber { .. } => self.wrong(
                format!("`{key}` is a number with its unit, not `{raw}`"),
                "this does not begin with a number",
                offered,
            ),
            ParseError::Comma { .. } => {
                let whole = raw.replace(',', "");
                let tenths = raw.replacen(',', ".", 1).replace(',', "");
                self.wrong(
                    format!("`{raw}` has a comma in its number"),
                    "thousands or tenths?",
                    format!("write `{whole}` or `{tenths}`, whichever is meant"),
                )
            }
            ParseError::OutOfReach { .. } => self.wrong(
                format!("`{key}` cannot be {raw}"),
                if raw.starts_with('-') {
                    "less than nothing"
                } else {
                    "far too much"
                },
                offered,
            ),
        }
    }

    /// A bare whole number inside its bounds.
    pub(crate) fn count(&self, bounds: &Bounds<Count>) -> Option<u32> {
        let meant = match &self.node.value {
            Value::Text(text) => leading_number(text),
            _ => None,
        };
        let meant = meant.unwrap_or_else(|| bounds.least.0.max(1).to_string());
        let example = format!("write `{}: {meant}`", self.key);
        match self.node.value {
            Value::Integer(number) => {
                let inside = number.clamp(0, i128::from(u32::MAX));
                #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
                let count = Count(inside as u32);
                let count = self.within(bounds, count, &self.raw());
                // Below nothing there is no `u32` to compare.
                if number < 0 && count.is_some() {
                    return self.outside(bounds, true, &self.raw());
                }
                count.map(|Count(n)| n)
            }
            Value::Decimal(_) => self.needs("a whole number", ""),
            _ => self.needs(
                "a bare whole number",
                format!("{example}, without unit or quotation marks"),
            ),
        }
    }

    /// A bare number inside its bounds.
    pub(crate) fn number(&self, bounds: &Bounds<Number>) -> Option<f64> {
        let Some(number) = self.bare_number() else {
            let example = bounds.most.0;
            let form = format!(
                "write it like `{}: {example}`, without unit or quotation marks",
                self.key
            );
            return self.needs("a bare number", form);
        };
        self.within(bounds, Number(number), &self.raw())
            .map(|Number(n)| n)
    }

    /// The number, where the value is one without a unit.
    pub(crate) fn bare_number(&self) -> Option<f64> {
        match self.node.value {
            #[allow(clippy::cast_precision_loss)]
            Value::Integer(number) => Some(number as f64),
            Value::Decimal(number) => Some(number),
            _ => None,
        }
    }

    /// The value if it lies inside its bounds.
    pub(crate) fn within<T: Printed>(&self, bounds: &Bounds<T>, value: T, raw: &str) -> Option<T> {
        if value >= bounds.least && value <= bounds.most {
            return Some(value);
        }
        self.outside(bounds, value < bounds.least, raw)
    }

    fn outside<T: Printed, U>(&self, bounds: &Bounds<T>, too_small: bool, raw: &str) -> Option<U> {
        let units = self.findings.units.get();
        let (least, most) = (bounds.least.printed(units), bounds.most.printed(units));
        let label = if too_small {
            format!("at least {least}")
        } else {
            format!("at most {most}")
        };
        self.wrong(
            format!("{} cannot be {raw}", bounds.of),
            label,
            format!("it may be from {least} to {most}"),
        )
    }
}

/// The digits at a text's beginning.
fn leading_number(text: &str) -> Option<String> {
    let digits: String = text
        .trim()
        .chars()
        .take_while(char::is_ascii_digit)
        .collect();
    (!digits.is_empty()).then_some(digits)
}
