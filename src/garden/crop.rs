//! Crop cards: one crop's facts.

use crate::text::Language;
use crate::units::{
    Conductivity, DailyLight, Days, Hours, Length, Mass, Share, Temperature, Years,
};

/// One crop's facts, checked against themselves.
#[derive(Debug, Clone)]
pub struct Crop {
    /// The word used in garden files, such as `pak-choi`.
    pub key: String,
    /// What people call it: in the garden's language where the card knows it.
    pub name: String,
    /// What people call it in other languages; empty where one name serves all.
    pub translated_names: Vec<(Language, String)>,
    /// Botanical name.
    pub botanical: String,
    /// How and how much it is harvested.
    pub harvest: HarvestHabit,
    /// From sowing to ready for the rig.
    pub nursery: Stage,
    /// From transplant to ripe (first cut, first picking).
    pub hole: Stage,
    /// Cardinal and deadly temperatures.
    pub temperature: Cardinals,
    /// Daily light: below `least` it is not worth planting.
    pub light: LightNeed,
    /// What makes it run to seed; nothing if empty.
    pub bolting_rules: Vec<BoltingRule>,
    /// Canopy and height.
    pub size: Size,
    /// The nutrient solution it stands.
    pub solution: SolutionRange,
    /// What it is raised from.
    pub propagation: Propagation,
    /// The seed, or the cuttings or plugs in its place.
    pub seed: Seed,
    /// FAO-56 crop coefficients: just planted, and at full canopy.
    pub crop_coefficient: CropCoefficient,
    /// How to treat it in the warm months.
    pub summer: String,
    /// How to treat it in the cold months.
    pub winter: String,
    /// Where the numbers come from: the card's dotted key, and its source.
    pub sources: Vec<(String, String)>,
}

impl Crop {
    /// The same crop, called as in that language if its card says how.
    #[must_use]
    pub fn with_language(mut self, language: Language) -> Self {
        let named = self.translated_names.iter().find(|(l, _)| *l == language);
        if let Some((_, name)) = named {
            self.name.clone_from(name);
        }
        self
    }

    /// The family that the botanical name gives after itself, as in `Eruca vesicaria
    /// (Brassicaceae)`.
    #[must_use]
    pub fn family(&self) -> Option<&str> {
        let (_, family) = self.botanical.rsplit_once('(')?;
        Some(family.trim_end().strip_suffix(')')?.trim())
    }
}

/// Time for a stage of growth at stated, steady conditions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stage {
    /// How long it takes.
    pub days: Days,
    /// Temperature in the light.
    pub day: Temperature,
    /// Temperature in the dark.
    pub night: Temperature,
    /// Light a day.
    pub dli: DailyLight,
    /// Hours of it.
    pub photoperiod: Hours,
}

/// How and how much a plant gives. Every habit keeps ripe for `holds`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HarvestHabit {
    /// Taken whole, once.
    Head {
        /// What one weighs.
        each: Mass,
        /// How long it keeps in the hole once ripe, at the card's best temperature.
        field_holding: Days,
    },
    /// Cut back several times.
    Cut {
        /// The first cut gives.
        first: Mass,
        /// Each later cut gives.
        later: Mass,
        /// How many cuts at the most.
        cuts: u32,
        /// Regrowth between two cuts, at the conditions of the `hole` stage.
        regrowth_days: Days,
        /// Share of the ripe canopy that is left after a cut.
        residual_canopy: Share,
        /// How long a cut may wait once due, at the best temperature.
        field_holding: Days,
    },
    /// Picked over and over for a time.
    Pick {
        /// A plant gives this much in a week of picking.
        each_week: Mass,
        /// From the first picking to the last, at the most.
        harvest_period: Days,
        /// How long ripe fruit or leaves may wait on the plant.
        field_holding: Days,
    },
}

/// Temperatures of growth (Yan & Hunt) and of survival.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cardinals {
    /// No growth at or below.
    pub base: Temperature,
    /// Fastest growth.
    pub optimum: Temperature,
    /// No growth at or above.
    pub maximum: Temperature,
    /// A night colder than this spoils it.
    pub coldest: Temperature,
    /// An afternoon warmer than this spoils it.
    pub warmest: Temperature,
}

/// Light that a crop asks for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LightNeed {
    /// Mean of a stay below which it is not worth planting.
    pub minimum_dli: DailyLight,
    /// More than this speeds it little.
    pub target_dli: DailyLight,
}

/// A rule by which a crop runs to seed: all its conditions on each of `for_days` days running.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BoltingRule {
    /// The day's mean is above this.
    pub mean_above: Option<Temperature>,
    /// The day's mean is below this (cold that a biennial takes for a winter).
    pub mean_below: Option<Temperature>,
    /// The day is longer than this.
    pub day_longer_than: Option<Hours>,
    /// For so many days running.
    pub for_days: Days,
}

/// Canopy diameter and plant height.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Size {
    /// Canopy diameter at transplant.
    pub seedling: Length,
    /// Canopy diameter when ripe.
    pub spread: Length,
    /// Height when ripe.
    pub height: Length,
}

/// The nutrient solution a crop stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SolutionRange {
    /// Conductivity, least and most.
    pub ec: (Conductivity, Conductivity),
    /// pH, least and most.
    pub ph: (f64, f64),
}

/// What a crop is raised from.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Propagation {
    /// Seed, which keeps.
    #[default]
    Seed,
    /// Cuttings of a plant of the same kind.
    Cutting,
    /// Young plants with roots: plugs, or rooted runners.
    Plug,
}

impl Propagation {
    /// Its word in cards and catalogues.
    #[must_use]
    pub const fn key_word(self) -> &'static str {
        match self {
            Self::Seed => "seed",
            Self::Cutting => "cutting",
            Self::Plug => "plug",
        }
    }

    /// So many seeds, cuttings or plugs.
    #[must_use]
    pub fn format_count(self, n: u64, language: Language) -> String {
        let values = [("kind", self.key_word().into()), ("n", n.into())];
        language.format("count-starts", values)
    }
}

/// The seed, or the cuttings or plugs in its place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seed {
    /// Share that comes up, roots or takes.
    pub germination: Share,
    /// Share of the seedlings that is lost before or just after transplant.
    pub losses: Share,
    /// How long it keeps; cuttings and plugs do not.
    pub seed_viability: Option<Years>,
    /// Plants wanted in one cup.
    pub per_cup: u32,
    /// In a tray warmer than this by the day's mean, little of it comes up.
    pub warmest: Option<Temperature>,
}

/// FAO-56 single crop coefficients.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CropCoefficient {
    /// Just planted.
    pub initial: f64,
    /// At full canopy.
    pub mid_season: f64,
}
