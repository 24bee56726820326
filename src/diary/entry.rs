//! One thing that happened.

use chrono::NaiveDate;

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
    pub(super) fn dates_named(&self) -> impl Iterator<Item = NaiveDate> {
        let other = match &self.event {
            Event::Transplanted { sown_on, .. } | Event::SeedlingsLost { sown_on, .. } => *sown_on,
            Event::Harvested { expected, .. } => expected.map(|expected| expected.on),
            _ => None,
        };
        std::iter::once(self.on).chain(other)
    }
}

/// What happened.
#[derive(Debug, Clone, PartialEq)]
pub enum Event {
    /// Seed went into so many cells of the nursery.
    Sown {
        /// Key of the crop.
        crop: String,
        /// Cells.
        cells: u32,
        /// For how many cups, if known: the rest are spares.
        cups: Option<u32>,
    },
    /// A seedling went into a hole.
    Transplanted {
        /// Key of the crop.
        crop: String,
        /// The hole.
        hole: String,
        /// When it was sown, if known.
        sown_on: Option<NaiveDate>,
        /// The want that it is to serve, if known.
        want: Option<String>,
        /// It was given or bought as a plant, and is of none of the garden's sowings.
        given: bool,
    },
    /// A plant in a hole died or was thrown away.
    Lost {
        /// The hole.
        hole: String,
        /// Of what, in the grower's words.
        why: Option<String>,
    },
    /// Seedlings in the nursery died, or never came up.
    SeedlingsLost {
        /// Key of the crop.
        crop: String,
        /// How many cells.
        cells: u32,
        /// When they were sown, if that was said.
        sown_on: Option<NaiveDate>,
        /// Of what, in the grower's words.
        why: Option<String>,
    },
    /// Something was harvested from a hole.
    Harvested {
        /// The hole.
        hole: String,
        /// How much, if it was counted or weighed.
        amount: Option<Amount>,
        /// The plant was taken out with it. Crops taken whole always are.
        last: bool,
        /// What the plan had expected.
        expected: Option<Expected>,
    },
    /// What was left of a plant was taken out.
    Cleared {
        /// The hole.
        hole: String,
    },
    /// Water went into a tank.
    ToppedUp {
        /// The loop.
        r#loop: String,
        /// How much.
        amount: Volume,
        /// It was full then, whatever is reckoned.
        full: bool,
    },
    /// A tank was emptied and filled with fresh solution.
    Refilled {
        /// The loop.
        r#loop: String,
    },
    /// The solution was measured.
    Read {
        /// The loop.
        r#loop: String,
        /// Conductivity.
        ec: Option<Conductivity>,
        /// Acidity.
        ph: Option<f64>,
    },
    /// A hole cannot be used.
    Blocked {
        /// The hole.
        hole: String,
    },
    /// It can be used again.
    Unblocked {
        /// The hole.
        hole: String,
    },
    /// A tube was emptied and scrubbed.
    Cleaned {
        /// The tube.
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
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Expected {
    /// The day.
    pub on: NaiveDate,
    /// How much, where it goes by weight.
    pub amount: Option<Mass>,
    /// How many times as long as its card says the crop was taken to need.
    pub pace: f64,
    /// How many times as much as its card says it was taken to give.
    pub yields: f64,
}
