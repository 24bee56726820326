//! One thing that happened.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use crate::units::{Amount, Conductivity, Mass, Volume};

/// One thing that happened on a day.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// The day.
    pub on: NaiveDate,
    /// What happened.
    pub event: Event,
    /// It was put down as done like the plan said, not looked at by itself: its amounts were
    /// never weighed.
    pub as_planned: bool,
}

impl Entry {
    /// Every day that it speaks of.
    pub(super) fn dates(&self) -> impl Iterator<Item = NaiveDate> {
        let other = match &self.event {
            Event::Transplanted { sown_on, .. } | Event::SeedlingsLost { sown_on, .. } => *sown_on,
            Event::Harvested { expected, .. } => expected.map(|expected| expected.on),
            _ => None,
        };
        std::iter::once(self.on).chain(other)
    }
}

/// The field of an event that says of what: a crop, a hole, a loop or a tube.
pub(super) const OF: &str = "of";

/// What happened. Names and order of the fields are those of a diary's line, which says of
/// what it happened to by the name of the event itself.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Event {
    /// Seed went into so many cells of the nursery.
    Sown {
        /// Key of the crop.
        #[serde(rename = "of")]
        crop: String,
        /// Cells.
        cells: u32,
        /// For how many cups, if known: the rest are spares.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        cups: Option<u32>,
    },
    /// A seedling went into a hole.
    Transplanted {
        /// Key of the crop.
        #[serde(rename = "of")]
        crop: String,
        /// The hole.
        hole: String,
        /// When it was sown, if known.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        sown_on: Option<NaiveDate>,
        /// The want that it is to serve, if known.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        want: Option<String>,
        /// It was given or bought as a plant, and is of none of the garden's sowings.
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        given: bool,
    },
    /// A plant in a hole died or was thrown away.
    Lost {
        /// The hole.
        #[serde(rename = "of")]
        hole: String,
        /// Of what, in the grower's words.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        why: Option<String>,
    },
    /// Seedlings in the nursery died, or never came up.
    SeedlingsLost {
        /// Key of the crop.
        #[serde(rename = "of")]
        crop: String,
        /// How many cells.
        cells: u32,
        /// When they were sown, if that was said.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        sown_on: Option<NaiveDate>,
        /// Of what, in the grower's words.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        why: Option<String>,
    },
    /// Something was harvested from a hole.
    Harvested {
        /// The hole.
        #[serde(rename = "of")]
        hole: String,
        /// How much, if it was counted or weighed.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        amount: Option<Amount>,
        /// The plant was taken out with it. Crops taken whole always are.
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        last: bool,
        /// What the plan had expected.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        expected: Option<ExpectedHarvest>,
    },
    /// What was left of a plant was taken out.
    Cleared {
        /// The hole.
        #[serde(rename = "of")]
        hole: String,
    },
    /// Water went into a tank.
    ToppedUp {
        /// The loop.
        #[serde(rename = "of")]
        r#loop: String,
        /// How much.
        amount: Volume,
        /// It was full then, whatever is reckoned.
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        full: bool,
    },
    /// A tank was emptied and filled with fresh solution.
    Refilled {
        /// The loop.
        #[serde(rename = "of")]
        r#loop: String,
    },
    /// The solution was measured.
    Read {
        /// The loop.
        #[serde(rename = "of")]
        r#loop: String,
        /// Conductivity.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        ec: Option<Conductivity>,
        /// Acidity.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        ph: Option<f64>,
    },
    /// A hole cannot be used.
    Blocked {
        /// The hole.
        #[serde(rename = "of")]
        hole: String,
    },
    /// It can be used again.
    Unblocked {
        /// The hole.
        #[serde(rename = "of")]
        hole: String,
    },
    /// A tube was emptied and scrubbed.
    Cleaned {
        /// The tube.
        #[serde(rename = "of")]
        tube: String,
    },
}

impl Event {
    /// The crop that it names, if any.
    #[must_use]
    pub fn crop(&self) -> Option<&str> {
        match self {
            Self::Sown { crop, .. }
            | Self::Transplanted { crop, .. }
            | Self::SeedlingsLost { crop, .. } => Some(crop),
            _ => None,
        }
    }
}

/// What the plan had expected of a harvest, and what it had then taken the crop for.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ExpectedHarvest {
    /// The day.
    #[serde(rename = "expected")]
    pub on: NaiveDate,
    /// How much, where it goes by weight.
    #[serde(default, rename = "planned", skip_serializing_if = "Option::is_none")]
    pub amount: Option<Mass>,
    /// How many times as long as its card says the crop was taken to need.
    #[serde(default = "as_on_card", skip_serializing_if = "is_as_on_card")]
    pub pace: f64,
    /// How many times as much as its card says it was taken to give.
    #[serde(default = "as_on_card", skip_serializing_if = "is_as_on_card")]
    pub yields: f64,
}

const fn as_on_card() -> f64 {
    1.0
}

#[allow(clippy::trivially_copy_pass_by_ref)] // serde asks for it
fn is_as_on_card(factor: &f64) -> bool {
    (factor - as_on_card()).abs() <= f64::EPSILON
}
