//! Numbers with and without their units, inside their bounds.

use crate::reader::bounds::{Bounds, Count, DisplayInUnits, Number};
use crate::reader::decode::KeyedValue;
use crate::reader::suggestion::{list_with_or, shorten};
use crate::reader::tree::NodeValue;
use crate::units::{ParseError, Quantity};

impl KeyedValue<'_> {
    /// A number with its unit, inside its bounds.
    pub(crate) fn quantity<Q: Quantity>(&self, bounds: &Bounds<Q>) -> Option<Q> {
        let written = self.unbounded_quantity()?;
        self.within(bounds, written, &self.as_written())
    }

    /// A number with its unit, whatever its size.
    pub(crate) fn unbounded_quantity<Q: Quantity>(&self) -> Option<Q> {
        match &self.node.value {
            NodeValue::Text(text) => match text.parse() {
                Ok(quantity) => Some(quantity),
                Err(error) => self.reject_quantity::<Q>(&error),
            },
            NodeValue::Integer(_) | NodeValue::Float(_) => {
                let units = Q::units();
                self.reject_quantity::<Q>(&ParseError::MissingUnit { units })
            }
            _ => self.reject_type(
                "a number with its unit",
                format!("write it in {}", list_with_or(Q::units())),
            ),
        }
    }

    fn reject_quantity<Q: Quantity>(&self, error: &ParseError) -> Option<Q> {
        let key = self.key;
        let raw = self.as_written();
        let units = error.units();
        let offered = format!("write it in {}", list_with_or(units.iter().copied()));
        match error {
            ParseError::MissingUnit { .. } => self.reject(
                format!("`{key}` has a number without its unit"),
                format!("{raw} of what?"),
                offered,
            ),
            ParseError::UnknownUnit { unit, kind, .. } => {
                let unit = shorten(unit);
                self.reject(format!("`{unit}` is not a unit of {kind}"), "", offered)
            }
            ParseError::NotANumber { .. } => self.reject(
                format!("`{key}` is a number with its unit, not `{raw}`"),
                "this does not begin with a number",
                offered,
            ),
            ParseError::AmbiguousComma { .. } => {
                let whole = raw.replace(',', "");
                let tenths = raw.replacen(',', ".", 1).replace(',', "");
                self.reject(
                    format!("`{raw}` has a comma in its number"),
                    "thousands or tenths?",
                    format!("write `{whole}` or `{tenths}`, whichever is meant"),
                )
            }
            ParseError::OutOfRange { .. } => self.reject(
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
            NodeValue::Text(text) => leading_number(text),
            _ => None,
        };
        let meant = meant.unwrap_or_else(|| bounds.min.0.max(1).to_string());
        let example = format!("write `{}: {meant}`", self.key);
        match self.node.value {
            NodeValue::Integer(number) => {
                let inside = number.clamp(0, i128::from(u32::MAX));
                #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
                let count = Count(inside as u32);
                let count = self.within(bounds, count, &self.as_written());
                // Below nothing there is no `u32` to compare.
                if number < 0 && count.is_some() {
                    return self.reject_out_of_bounds(bounds, true, &self.as_written());
                }
                count.map(|Count(n)| n)
            }
            NodeValue::Float(_) => self.reject_type("a whole number", ""),
            _ => self.reject_type(
                "a bare whole number",
                format!("{example}, without unit or quotation marks"),
            ),
        }
    }

    /// A bare number inside its bounds.
    pub(crate) fn number(&self, bounds: &Bounds<Number>) -> Option<f64> {
        let Some(number) = self.bare_number() else {
            let example = bounds.max.0;
            let form = format!(
                "write it like `{}: {example}`, without unit or quotation marks",
                self.key
            );
            return self.reject_type("a bare number", form);
        };
        self.within(bounds, Number(number), &self.as_written())
            .map(|Number(n)| n)
    }

    /// The number, where the value is one without a unit.
    pub(crate) fn bare_number(&self) -> Option<f64> {
        match self.node.value {
            #[allow(clippy::cast_precision_loss)]
            NodeValue::Integer(number) => Some(number as f64),
            NodeValue::Float(number) => Some(number),
            _ => None,
        }
    }

    /// The value if it lies inside its bounds.
    pub(crate) fn within<T: DisplayInUnits>(
        &self,
        bounds: &Bounds<T>,
        value: T,
        raw: &str,
    ) -> Option<T> {
        if value >= bounds.min && value <= bounds.max {
            return Some(value);
        }
        self.reject_out_of_bounds(bounds, value < bounds.min, raw)
    }

    fn reject_out_of_bounds<T: DisplayInUnits, U>(
        &self,
        bounds: &Bounds<T>,
        too_small: bool,
        raw: &str,
    ) -> Option<U> {
        let units = self.faults.units.get();
        let (least, most) = (bounds.min.display_in(units), bounds.max.display_in(units));
        let label = if too_small {
            format!("at least {least}")
        } else {
            format!("at most {most}")
        };
        self.reject(
            format!("{} cannot be {raw}", bounds.what),
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
