//! Limits of numbers, and how they are printed in messages.

use crate::units::{Quantity, Units};

/// Characters in a name.
pub(crate) const MAX_NAME_CHARACTERS: usize = 80;

/// The limits of a number, both included, and what they are limits of.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Bounds<T> {
    /// The subject of a sentence: "the length of a tube".
    pub(crate) what: &'static str,
    pub(crate) min: T,
    pub(crate) max: T,
}

pub(crate) const fn bounds<T>(of: &'static str, least: T, most: T) -> Bounds<T> {
    Bounds {
        what: of,
        min: least,
        max: most,
    }
}

/// A number that can be printed with its limits.
pub(crate) trait DisplayInUnits: Copy + PartialOrd {
    fn display_in(self, units: Units) -> String;
}

impl<Q: Quantity> DisplayInUnits for Q {
    fn display_in(self, units: Units) -> String {
        self.in_units(units)
    }
}

/// A bare whole number.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub(crate) struct Count(pub(crate) u32);

/// A bare number.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub(crate) struct Number(pub(crate) f64);

impl DisplayInUnits for Count {
    fn display_in(self, _units: Units) -> String {
        group_thousands(self.0)
    }
}

impl DisplayInUnits for Number {
    fn display_in(self, _units: Units) -> String {
        self.0.to_string()
    }
}

/// A whole number with a comma between its thousands.
pub(crate) fn group_thousands(number: impl Into<u64>) -> String {
    let digits = number.into().to_string();
    let mut text = String::new();
    for (index, digit) in digits.chars().enumerate() {
        if index > 0 && (digits.len() - index).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}
