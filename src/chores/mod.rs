//! From a plan to dated chores: what to do in the garden on each workday.
//!
//! One file a kind of chore; each reads the plan laid beside the garden and gives at most one [`Chore`] a
//! day. Every word that the grower reads comes out of the
//! catalogues in `src/text/catalogues/`, by way of `words/`.

mod check;
mod clear;
pub(crate) mod crop_changeover;
mod deep_clean;
mod harvest;
mod holes;
mod leak_test;
mod line;
mod loop_occupants;
pub(crate) mod plan_view;
mod seed_order;
mod solution;
mod sow;
mod supplies;
mod top_up;
mod transplant;
mod words;

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use crate::garden::Garden;
use crate::plan::Plan;
use crate::text::Language;
pub use crop_changeover::{CropChangeover, crop_changeovers};
use plan_view::PlanView;
pub use supplies::{SeedSupply, Supplies, WaterSupply, supplies};

/// All that is to be done of one kind on one day.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Chore {
    /// The workday.
    pub day: NaiveDate,
    /// What kind of work.
    pub kind: Kind,
    /// What it is about, in the garden's own keys: crops, tubes, loops or wants, sorted, joined
    /// with `, `. It does not depend on the wording.
    pub about: String,
    /// One line, at most [`MAX_TITLE_CHARACTERS`] characters, that reads well on a lock screen.
    pub summary: String,
    /// Holes, amounts, hints and cautions, a line each.
    pub details: Vec<String>,
    /// The same for a screen of a phone, where the details are too long for it: at most
    /// [`MAX_SCREEN_LINES`], with sums for lists, that say where the rest is.
    #[serde(skip)]
    pub short_details: Option<Vec<String>>,
}

impl Chore {
    /// Details that fit on a screen of a phone.
    #[must_use]
    pub fn calendar_details(&self) -> &[String] {
        self.short_details.as_deref().unwrap_or(&self.details)
    }
}

/// The longest summary \[characters\].
pub const MAX_TITLE_CHARACTERS: usize = 78;

/// The most lines of details on a screen: about what a phone shows.
pub const MAX_SCREEN_LINES: usize = 20;

/// A kind of work, in the order in which a grower does them on a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// Have the seed in the house.
    SeedOrder,
    /// Run the rig on plain water before anything is planted.
    LeakTest,
    /// Take heads, cuts or pickings.
    Harvest,
    /// Take out what is left of a plant and wipe its hole.
    Clear,
    /// Scrub an empty tube.
    DeepClean,
    /// Fill a tank with fresh nutrient solution.
    Solution,
    /// Fill up what plants have drunk.
    TopUp,
    /// Set seedlings into holes.
    Transplant,
    /// Sow in the nursery.
    Sow,
    /// Look at level, EC, pH, pump and roots.
    Check,
    /// One crop of a want takes over from another.
    #[serde(rename = "swap")]
    CropChangeover,
}

impl Kind {
    /// All kinds, in the order of a day's work.
    pub const ALL: [Self; 11] = [
        Self::SeedOrder,
        Self::LeakTest,
        Self::Harvest,
        Self::Clear,
        Self::DeepClean,
        Self::Solution,
        Self::TopUp,
        Self::Transplant,
        Self::Sow,
        Self::Check,
        Self::CropChangeover,
    ];

    /// The word for it in files and identities: lower-case letters and `-`.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::SeedOrder => "seed-order",
            Self::LeakTest => "leak-test",
            Self::Harvest => "harvest",
            Self::Clear => "clear",
            Self::DeepClean => "deep-clean",
            Self::Solution => "solution",
            Self::TopUp => "top-up",
            Self::Transplant => "transplant",
            Self::Sow => "sow",
            Self::Check => "check",
            Self::CropChangeover => "swap",
        }
    }

    /// What a grower calls it.
    #[must_use]
    pub fn name(self, language: Language) -> String {
        words::kind_name(self, language)
    }
}

/// Every chore of the shown weeks, by day, then in the order of a day's work. At most one of a
/// kind on a day.
///
/// Crops, tubes and loops that the garden does not name keep the names that they have in the
/// plan, and lack only what their cards would tell.
#[must_use]
pub fn chores(plan: &Plan, garden: &Garden) -> Vec<Chore> {
    let view = PlanView::new(plan, garden);
    let kinds = [
        seed_order::chores,
        leak_test::chores,
        harvest::chores,
        clear::chores,
        deep_clean::chores,
        solution::chores,
        top_up::chores,
        transplant::chores,
        sow::chores,
        check::chores,
        crop_changeover::chores,
    ];
    let mut chores: Vec<Chore> = kinds.iter().flat_map(|of_kind| of_kind(&view)).collect();
    chores.sort_by_key(|chore| (chore.day, chore.kind));
    chores
}
