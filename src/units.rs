//! Numbers with their units: read from a grower's text, kept in one unit inside, written back
//! in metric or imperial.
//!
//! Each kind of quantity is a type of its own, so a length cannot be handed to something that
//! wants a volume. A bare number is never a quantity: [`ParseError::MissingUnit`] says which
//! units would do. Exact conversion factors are those of the international yard and pound
//! agreement (1959) and of NIST Handbook 44, Appendix C (US gallon 3.785 411 784 l).

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

/// A US gallon \[l\].
pub(crate) const LITRES_PER_GALLON: f64 = 3.785_411_784;
/// A pound \[g\].
pub(crate) const GRAMS_PER_POUND: f64 = 453.592_37;
/// An ounce \[g\].
pub(crate) const GRAMS_PER_OUNCE: f64 = GRAMS_PER_POUND / 16.0;
/// A foot \[m\].
pub(crate) const METRES_PER_FOOT: f64 = 0.3048;

/// The system of units in which quantities are written for the grower.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Units {
    /// Millimetres, litres, grams, degrees Celsius.
    #[default]
    Metric,
    /// Inches, US gallons, ounces, degrees Fahrenheit.
    Imperial,
}

/// Why a text is not the quantity that was asked for.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ParseError {
    /// There is a number and nothing behind it.
    #[error("a bare number needs its unit")]
    MissingUnit {
        /// Units that would do, in the order in which to offer them.
        units: Vec<&'static str>,
    },
    /// There is a number and a unit, but not one of this kind of quantity.
    #[error("`{unit}` is not a unit of {kind}")]
    UnknownUnit {
        /// The unit as written.
        unit: String,
        /// The kind of quantity wanted, such as "length".
        kind: &'static str,
        /// Units that would do.
        units: Vec<&'static str>,
    },
    /// There is no number at the front.
    #[error("`{text}` does not begin with a number")]
    NotANumber {
        /// The text as written.
        text: String,
        /// Units that would do.
        units: Vec<&'static str>,
    },
    /// The number has a comma in it, which means thousands to one reader and tenths to another.
    #[error("`{text}` has a comma in its number")]
    AmbiguousComma {
        /// The text as written.
        text: String,
        /// Units that would do.
        units: Vec<&'static str>,
    },
    /// The number is larger than can be counted with, or below nothing where that cannot be.
    #[error("`{text}` is not an amount that can be")]
    OutOfRange {
        /// The text as written.
        text: String,
        /// Units that would do.
        units: Vec<&'static str>,
    },
}

impl ParseError {
    /// The units that would have been understood.
    #[must_use]
    pub fn units(&self) -> &[&'static str] {
        match self {
            Self::MissingUnit { units }
            | Self::UnknownUnit { units, .. }
            | Self::NotANumber { units, .. }
            | Self::AmbiguousComma { units, .. }
            | Self::OutOfRange { units, .. } => units,
        }
    }
}

/// What all quantities have in common, so that one reader serves every kind.
pub trait Quantity: Copy + PartialOrd + FromStr<Err = ParseError> {
    /// What this kind of quantity is called in a sentence, such as "length".
    const KIND: &'static str;

    /// The units in which it is written, in the order in which to offer them.
    fn units() -> Vec<&'static str>;

    /// The quantity as a grower reads it, in the asked system of units.
    fn in_units(self, units: Units) -> String;
}

/// How a unit turns into the unit kept inside: `inside = (written - zero) * factor / divisor`.
///
/// Decimal parts are divided by whole numbers: 70 times 0.01 is not 0.7, but 70 / 100 is.
#[derive(Debug, Clone, Copy)]
struct Unit {
    symbol: &'static str,
    /// What the unit reads where the one inside reads nothing.
    offset: f64,
    factor: f64,
    divisor: f64,
    /// Whether messages offer it; another spelling or an odd size is read, but not offered.
    is_offered: bool,
}

impl Unit {
    /// Whether it is the unit in which the quantity is kept.
    fn is_kept_inside(&self) -> bool {
        (self.offset, self.factor, self.divisor) == (0.0, 1.0, 1.0)
    }
}

const fn unit(symbol: &'static str, factor: f64) -> Unit {
    Unit {
        symbol,
        offset: 0.0,
        factor,
        divisor: 1.0,
        is_offered: true,
    }
}

/// A whole part of the unit kept inside.
const fn unit_fraction(symbol: &'static str, divisor: f64) -> Unit {
    Unit {
        divisor,
        ..unit(symbol, 1.0)
    }
}

/// A unit that is read and not offered.
const fn unit_not_offered(symbol: &'static str, factor: f64) -> Unit {
    Unit {
        is_offered: false,
        ..unit(symbol, factor)
    }
}

/// Degrees Fahrenheit of difference.
const fn fahrenheit_step(symbol: &'static str) -> Unit {
    Unit {
        divisor: 9.0,
        ..unit(symbol, 5.0)
    }
}

/// Degrees Fahrenheit of temperature.
const fn fahrenheit(symbol: &'static str) -> Unit {
    Unit {
        offset: 32.0,
        ..fahrenheit_step(symbol)
    }
}

/// The symbols to offer for a list of units.
fn symbols(units: &[Unit]) -> Vec<&'static str> {
    let offered = units.iter().filter(|u| u.is_offered);
    offered.map(|u| u.symbol).collect()
}

/// Splits a text into its leading number and what follows. Understands `12`, `-3.5` and the
/// plumber's `3/4` and `1 1/4`.
fn split_number(text: &str) -> Option<(f64, &str)> {
    let end = text
        .find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '-' | '+')))
        .unwrap_or(text.len());
    let (head, rest) = text.split_at(end);
    let whole: f64 = head.parse().ok()?;
    // A fraction continues a whole number only: `1.5/4` means nothing.
    if head.contains('.') {
        return Some((whole, rest.trim()));
    }
    if let Some(divisor) = rest.strip_prefix('/') {
        let (divisor, rest) = leading_integer(divisor)?;
        return (divisor > 0.0).then(|| (whole / divisor, rest.trim()));
    }
    let rest = rest.trim_start();
    if let Some((numerator, tail)) = leading_integer(rest)
        && let Some((divisor, tail)) = tail.strip_prefix('/').and_then(leading_integer)
        && divisor > 0.0
    {
        let part = numerator / divisor;
        let sum = if head.starts_with('-') {
            whole - part
        } else {
            whole + part
        };
        return Some((sum, tail.trim()));
    }
    Some((whole, rest.trim()))
}

fn leading_integer(text: &str) -> Option<(f64, &str)> {
    let end = text
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(text.len());
    let (digits, rest) = text.split_at(end);
    digits.parse().ok().map(|n| (n, rest))
}

fn read(text: &str, kind: &'static str, units: &[Unit]) -> Result<f64, ParseError> {
    let trimmed = text.trim();
    let Some((number, symbol)) = split_number(trimmed) else {
        return Err(ParseError::NotANumber {
            text: text.to_owned(),
            units: symbols(units),
        });
    };
    if symbol.is_empty() {
        return Err(ParseError::MissingUnit {
            units: symbols(units),
        });
    }
    if symbol.starts_with(',') {
        return Err(ParseError::AmbiguousComma {
            text: text.to_owned(),
            units: symbols(units),
        });
    }
    let unit = units
        .iter()
        .find(|u| u.symbol == symbol)
        .or_else(|| units.iter().find(|u| u.symbol.eq_ignore_ascii_case(symbol)))
        .ok_or_else(|| ParseError::UnknownUnit {
            unit: symbol.to_owned(),
            kind,
            units: symbols(units),
        })?;
    let inside = (number - unit.offset) * unit.factor / unit.divisor;
    if inside.is_finite() {
        Ok(inside)
    } else {
        Err(ParseError::OutOfRange {
            text: text.to_owned(),
            units: symbols(units),
        })
    }
}

/// Writes a number with as many decimals as it needs, `most` at the most.
fn format_decimal(number: f64, most: usize) -> String {
    let text = format!("{number:.most$}");
    if !text.contains('.') {
        return text;
    }
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0" } else { text }.to_owned()
}

macro_rules! quantity {
    (
        $(#[$doc:meta])*
        $name:ident ($kind:literal): $constructor:ident, inside $inside:literal;
        read [$($unit:expr),+ $(,)?];
        write |$value:ident, $units:ident| $write:expr;
    ) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            const UNITS: &'static [Unit] = &[$($unit),+];

            #[doc = concat!("From a number of ", $inside, ".")]
            ///
            /// # Panics
            /// If the number is not finite.
            #[must_use]
            #[allow(clippy::self_named_constructors)] // `Days::days(7.0)` says its unit as all do
            pub const fn $constructor(number: f64) -> Self {
                assert!(number.is_finite(), "a quantity is a finite number");
                Self(number)
            }

            #[doc = concat!("The number of ", $inside, ".")]
            #[must_use]
            pub const fn get(self) -> f64 {
                self.0
            }

            /// The quantity as a grower reads it, in the asked system of units.
            #[must_use]
            pub fn in_units(self, $units: Units) -> String {
                let $value = self.0;
                $write
            }
        }

        impl Quantity for $name {
            const KIND: &'static str = $kind;

            fn units() -> Vec<&'static str> {
                symbols(Self::UNITS)
            }

            fn in_units(self, units: Units) -> String {
                self.in_units(units)
            }
        }

        impl FromStr for $name {
            type Err = ParseError;

            fn from_str(text: &str) -> Result<Self, ParseError> {
                read(text, $kind, Self::UNITS).map(Self)
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.pad(&self.in_units(Units::Metric))
            }
        }

        /// As it is kept inside, to the last digit.
        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                let unit = Self::UNITS.iter().find(|u| u.is_kept_inside());
                let symbol = unit.map_or("", |u| u.symbol);
                serializer.collect_str(&format_args!("{} {symbol}", self.0))
            }
        }

        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                parse_text(deserializer)
            }
        }
    };
}

/// A quantity as a text with its unit.
fn parse_text<'de, D: Deserializer<'de>, Q>(deserializer: D) -> Result<Q, D::Error>
where
    Q: FromStr<Err = ParseError>,
{
    let text = String::deserialize(deserializer)?;
    text.parse().map_err(de::Error::custom)
}

quantity! {
    /// A length, kept in metres.
    Length ("length"): metres, inside "metres";
    read [unit_fraction("mm", 1000.0), unit_fraction("cm", 100.0), unit("m", 1.0), unit_not_offered("km", 1000.0), unit("in", 0.0254), unit("ft", METRES_PER_FOOT)];
    write |m, units| match units {
        Units::Metric if m.abs() >= 1.0 => format!("{} m", format_decimal(m, 2)),
        Units::Metric if m.abs() >= 0.1 => format!("{} cm", format_decimal(m * 100.0, 1)),
        Units::Metric => format!("{} mm", format_decimal(m * 1000.0, 1)),
        Units::Imperial if m.abs() >= 0.9144 => format!("{} ft", format_decimal(m / METRES_PER_FOOT, 2)),
        Units::Imperial => format!("{} in", format_decimal(m / 0.0254, 2)),
    };
}

quantity! {
    /// A volume, kept in litres. `gal` is the US gallon.
    Volume ("volume"): litres, inside "litres";
    read [unit_fraction("ml", 1000.0), unit("l", 1.0), unit("m3", 1000.0), unit("gal", LITRES_PER_GALLON)];
    write |l, units| match units {
        Units::Metric if l.abs() < 1.0 => format!("{} ml", format_decimal(l * 1000.0, 0)),
        Units::Metric => format!("{} l", format_decimal(l, 1)),
        Units::Imperial => format!("{} gal", format_decimal(l / LITRES_PER_GALLON, 2)),
    };
}

impl Volume {
    /// As much as one measures it out by: whole litres, tenths below ten; tenths of a gallon,
    /// hundredths below one.
    #[must_use]
    pub fn rounded(self, units: Units) -> Self {
        let litres = self.0;
        let (unit, step) = match units {
            Units::Metric if litres >= 10.0 => (1.0, 1.0),
            Units::Metric => (1.0, 0.1),
            Units::Imperial if litres >= LITRES_PER_GALLON => (LITRES_PER_GALLON, 0.1),
            Units::Imperial => (LITRES_PER_GALLON, 0.01),
        };
        Self((litres / unit / step).round() * step * unit)
    }

    /// So much, written as one measures it out.
    #[must_use]
    pub fn in_measurable_units(self, units: Units) -> String {
        self.rounded(units).in_units(units)
    }
}

quantity! {
    /// A flow of water, kept in litres an hour. `gph` and `gpm` are US gallons.
    Flow ("flow"): litres_an_hour, inside "litres an hour";
    read [unit("l/h", 1.0), unit("l/min", 60.0), unit("gph", LITRES_PER_GALLON), unit("gpm", 227.124_707_04)];
    write |q, units| match units {
        Units::Metric => format!("{} l/h", format_decimal(q, 0)),
        Units::Imperial => format!("{} gph", format_decimal(q / LITRES_PER_GALLON, 0)),
    };
}

quantity! {
    /// A mass, kept in grams.
    Mass ("mass"): grams, inside "grams";
    read [unit("g", 1.0), unit("kg", 1000.0), unit("oz", GRAMS_PER_OUNCE), unit("lb", GRAMS_PER_POUND)];
    write |g, units| match units {
        Units::Metric if g.abs() >= 1000.0 => format!("{} kg", format_decimal(g / 1000.0, 2)),
        Units::Metric => format!("{} g", format_decimal(g, 1)),
        Units::Imperial if g.abs() >= GRAMS_PER_POUND => format!("{} lb", format_decimal(g / GRAMS_PER_POUND, 2)),
        Units::Imperial => format!("{} oz", format_decimal(g / GRAMS_PER_OUNCE, 2)),
    };
}

quantity! {
    /// A temperature, kept in degrees Celsius.
    Temperature ("temperature"): celsius, inside "degrees Celsius";
    read [unit("C", 1.0), unit_not_offered("°C", 1.0), fahrenheit("F"), Unit { is_offered: false, ..fahrenheit("°F") }];
    write |c, units| match units {
        Units::Metric => format!("{} C", format_decimal(c, 1)),
        Units::Imperial => format!("{} F", format_decimal(c * 1.8 + 32.0, 1)),
    };
}

quantity! {
    /// A difference between two temperatures, kept in degrees Celsius (kelvins).
    Warming ("temperature difference"): kelvins, inside "kelvins";
    read [unit("C", 1.0), unit_not_offered("°C", 1.0), fahrenheit_step("F"), Unit { is_offered: false, ..fahrenheit_step("°F") }];
    write |k, units| match units {
        Units::Metric => format!("{} C", format_decimal(k, 1)),
        Units::Imperial => format!("{} F", format_decimal(k * 1.8, 1)),
    };
}

quantity! {
    /// A share, kept as a fraction (1 is all).
    Share ("share"): fraction, inside "ones (1 is all)";
    read [unit_fraction("%", 100.0)];
    write |x, _units| format!("{} %", format_decimal(x * 100.0, 1));
}

quantity! {
    /// Photosynthetic light received in a day, kept in mol per square metre and day.
    DailyLight ("daily light"): mol, inside "mol a square metre and day";
    read [unit("mol", 1.0), unit_not_offered("mol/m2/d", 1.0)];
    write |x, _units| format!("{} mol", format_decimal(x, 1));
}

quantity! {
    /// A part of a day, kept in hours.
    Hours ("time"): hours, inside "hours";
    read [unit("h", 1.0), unit_fraction("min", 60.0)];
    write |x, _units| format!("{} h", format_decimal(x, 2));
}

quantity! {
    /// A span of whole or part days, kept in days.
    Days ("time span"): days, inside "days";
    read [unit("days", 1.0), unit_not_offered("day", 1.0), unit("weeks", 7.0), unit_not_offered("week", 7.0)];
    write |x, _units| {
        let text = format_decimal(x, 1);
        if text == "1" { "1 day".to_owned() } else { format!("{text} days") }
    };
}

quantity! {
    /// A span of years, as of the keeping of seed.
    Years ("time in years"): years, inside "years";
    read [unit("years", 1.0), unit_not_offered("year", 1.0)];
    write |x, _units| {
        let text = format_decimal(x, 1);
        if text == "1" { "1 year".to_owned() } else { format!("{text} years") }
    };
}

quantity! {
    /// Electrical conductivity of a nutrient solution at 25 C, kept in mS/cm.
    Conductivity ("conductivity"): millisiemens, inside "mS/cm";
    read [unit("mS/cm", 1.0), unit("dS/m", 1.0), unit_fraction("uS/cm", 1000.0)];
    write |x, _units| format!("{} mS/cm", format_decimal(x, 2));
}

quantity! {
    /// Speed of the wind, kept in metres a second.
    WindSpeed ("wind speed"): metres_a_second, inside "metres a second";
    read [unit("m/s", 1.0), unit_fraction("km/h", 3.6), unit("mph", 0.447_04)];
    write |x, units| match units {
        Units::Metric => format!("{} m/s", format_decimal(x, 1)),
        Units::Imperial => format!("{} mph", format_decimal(x / 0.447_04, 1)),
    };
}

/// What a want counts: heads (whole plants) or a mass of leaves, herbs or fruit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Measure {
    /// Whole plants.
    Heads,
    /// Grams.
    Grams,
}

impl Measure {
    /// The word used in files: `heads` or `g`.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Heads => "heads",
            Self::Grams => "g",
        }
    }
}

/// An amount to eat: so many thousandths of a head, or of a gram.
///
/// Whole thousandths, so that sums are exact and the same on every machine.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Amount {
    measure: Measure,
    milli: u64,
}

impl Amount {
    /// An amount from thousandths of its measure.
    #[must_use]
    pub const fn new(measure: Measure, milli: u64) -> Self {
        Self { measure, milli }
    }

    /// What is counted.
    #[must_use]
    pub const fn measure(self) -> Measure {
        self.measure
    }

    /// How many thousandths of it.
    #[must_use]
    pub const fn milli(self) -> u64 {
        self.milli
    }

    /// The amount as a grower reads it.
    #[must_use]
    pub fn in_units(self, units: Units) -> String {
        #[allow(clippy::cast_precision_loss)]
        let number = self.milli as f64 / 1000.0;
        match self.measure {
            Measure::Heads if self.milli == 1000 => "1 head".to_owned(),
            Measure::Heads => format!("{} heads", format_decimal(number, 1)),
            Measure::Grams => Mass::grams(number).in_units(units),
        }
    }
}

impl Amount {
    const HEADS: &'static [Unit] = &[unit("heads", 1.0), unit_not_offered("head", 1.0)];

    fn all_units() -> Vec<Unit> {
        [Self::HEADS, Mass::UNITS].concat()
    }

    /// More than this many thousandths (nine million tonnes) is a slip of the pen.
    const MAX_MILLI: f64 = 9.0e15;
}

impl PartialOrd for Amount {
    /// Heads and grams cannot be compared.
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        (self.measure == other.measure).then(|| self.milli.cmp(&other.milli))
    }
}

impl Quantity for Amount {
    const KIND: &'static str = "harvest";

    fn units() -> Vec<&'static str> {
        symbols(&Self::all_units())
    }

    fn in_units(self, units: Units) -> String {
        self.in_units(units)
    }
}

impl fmt::Display for Amount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.in_units(Units::Metric))
    }
}

/// In whole thousandths, whatever the units in which people read it.
impl Serialize for Amount {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        #[allow(clippy::cast_precision_loss)]
        let number = self.milli as f64 / 1000.0;
        serializer.collect_str(&format_args!("{number} {}", self.measure.symbol()))
    }
}

impl<'de> Deserialize<'de> for Amount {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        parse_text(deserializer)
    }
}

impl FromStr for Amount {
    type Err = ParseError;

    /// Reads `6 heads`, `1 head`, `80 g`, `0.5 kg`, `3 oz`, `1 lb`.
    ///
    /// # Errors
    /// As every quantity; and [`ParseError::OutOfRange`] for less than nothing and for more than
    /// can be counted in thousandths.
    fn from_str(text: &str) -> Result<Self, ParseError> {
        let number = read(text, Self::KIND, &Self::all_units())?;
        let measure = match read(text, Self::KIND, Self::HEADS) {
            Ok(_) => Measure::Heads,
            Err(_) => Measure::Grams,
        };
        let milli = (number * 1000.0).round();
        if !(0.0..=Self::MAX_MILLI).contains(&milli) {
            return Err(ParseError::OutOfRange {
                text: text.to_owned(),
                units: Self::units(),
            });
        }
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        Ok(Self::new(measure, milli as u64))
    }
}
