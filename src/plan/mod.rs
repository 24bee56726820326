//! The plan: what stands where and when, what it gives, and how good it is.
//!
//! `plan.json` is this structure as it stands. Its format is told in `DEVELOPERS.md`; a program that
//! reads it should look at `schema` first.

pub(crate) mod attendance;
pub mod calibration;
pub mod changes;
pub(crate) mod diagnose;
mod diary_entries;
mod other_crops;
pub mod outdated;
mod plan_garden;
pub mod record;
pub mod replan;
pub mod risk;
pub mod seed_stock;
pub mod sowings;
pub mod tank_history;
pub(crate) mod warm_start;
pub mod water;

pub use diary_entries::{planned_entries, with_plan_details};
pub use plan_garden::{Planned, plan_garden, plan_without_advice};
pub use replan::{Replan, ReplanError, ReplanInput, replan};

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use seed_stock::SeedLot;
use water::LoopWater;

use crate::garden::Garden;
use crate::planner::build::NotKeptReason;
use crate::planner::explain::bottleneck::Limit;

/// The version of `plan.json` written here.
pub const SCHEMA: u32 = 1;

/// A whole plan, in dates and names.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Plan {
    /// Version of this format.
    pub schema: u32,
    /// The program and version that made it.
    pub made_by: String,
    /// The garden's name.
    pub garden: String,
    /// A fingerprint of the garden file and cards that it was made from.
    pub made_from: String,
    /// A fingerprint of the diary, where there was one.
    #[serde(skip_serializing_if = "String::is_empty", default)]
    pub diary: String,
    /// What crops were taken for against their cards, where the diary told of them.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub seen: Vec<CropCalibration>,
    /// First day.
    pub start: NaiveDate,
    /// Last day shown.
    pub last: NaiveDate,
    /// What each want gets.
    pub wants: Vec<WantOutcome>,
    /// Every stay that begins in the shown weeks or stands in them, by hole, then time.
    pub stays: Vec<Stay>,
    /// When each tube is emptied and scrubbed, by day, then tube.
    pub cleans: Vec<TubeClean>,
    /// Plants that cannot be kept for their seed as the garden states.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub not_kept: Vec<SeedPlantNotKept>,
    /// Seed that was in the house, or was to be had, before the first day: what the garden states,
    /// then what earlier plans told of.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub seed: Vec<SeedLot>,
    /// What each loop's plants drink and what that makes of its tank, in the garden's order.
    pub water: Vec<LoopWater>,
    /// How good the plan is.
    pub figures: CostFigures,
    /// What would help, the most helpful first, where a want is much short of what is wanted.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub would_help: Vec<AdvisedChange>,
}

/// A plant that cannot be kept for its seed as the garden states.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SeedPlantNotKept {
    /// The hole.
    pub hole: String,
    /// The crop's key.
    pub crop: String,
    /// From when it was to stand there.
    pub from: NaiveDate,
    /// Until when.
    pub until: NaiveDate,
    /// Why it cannot be.
    pub why: NotKeptReason,
}

/// One change to the garden, and what it would bring: the garden so changed was planned again,
/// with little effort.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AdvisedChange {
    /// The change.
    pub change: RigChange,
    /// How much more of each want would be met, in units a week, over the shown weeks; only
    /// wants that change.
    pub gains: Vec<WantGain>,
}

/// One thing to change.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum RigChange {
    /// One more tube like this one, with so many holes.
    Tube {
        /// Name of the tube.
        like: String,
        /// Its holes.
        holes: usize,
    },
    /// So many more nursery cells.
    Nursery {
        /// Cells more.
        cells: u64,
    },
    /// Tubes scrubbed so many days sooner or later than now.
    Cleaning {
        /// Days.
        days: u32,
    },
    /// Another crop for a want.
    Crop {
        /// Name of the want.
        want: String,
        /// The crop's key.
        crop: String,
    },
}

/// What a change brings to one want.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WantGain {
    /// The want.
    pub want: String,
    /// Units a week more; less if negative.
    pub each_week: f64,
}

/// What a crop was taken for against its card.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CropCalibration {
    /// The crop's key.
    pub crop: String,
    /// How many times as long as its card says it needs.
    pub pace: f64,
    /// How many times as much as its card says it gives.
    pub yields: f64,
    /// Share of its cells whose plants reach a hole; absent if no sowing has told of it.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub survival: Option<f64>,
}

/// What one want gets.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WantOutcome {
    /// The want's name.
    pub want: String,
    /// `heads` or `g`.
    pub unit: String,
    /// Wanted a week, in units.
    pub each_week: f64,
    /// Week by week.
    pub weeks: Vec<WeekOutcome>,
    /// Share of the wanted amount that is met over the weeks that count, each week at most
    /// wholly; absent if no week counts.
    pub met: Option<f64>,
    /// The most that this rig could give of it in each month, were everything else given up
    /// for it: a bound that no plan passes.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub most: Vec<MaxSupply>,
}

/// The most of one want in one month.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MaxSupply {
    /// Year and month, such as `2027-02`: of the weeks whose Thursday lies in it.
    pub month: String,
    /// Units a week.
    pub each_week: f64,
}

/// One want in one ISO week.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WeekOutcome {
    /// ISO week, such as `2027-W09`.
    pub week: String,
    /// The week's Monday.
    pub monday: NaiveDate,
    /// Planned for, in units; 0 in a week that does not count.
    pub target: f64,
    /// Harvested, in units.
    pub delivered: f64,
    /// Why the week does not count, where it does not.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub not_counted: Option<ExcludedWeek>,
    /// What stands in the way of more, where much is lacking and more would be worth it.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub limit: Option<Limit>,
}

/// Why a want is not planned for in a week.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ExcludedWeek {
    /// Nothing sown from the plan's first day on can be ripe yet.
    BeforeFirstHarvest,
    /// The grower does not want it then.
    NotWanted,
    /// No crop of the want can be ripe then in this garden.
    OutOfSeason,
    /// The grower is away, or has no workday.
    NobodyThere,
    /// The grower is away when what is ripe then would have to be sown or set out.
    NobodyToPlant,
}

/// One plant's time in one hole.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stay {
    /// The hole's name.
    pub hole: String,
    /// The crop's key.
    pub crop: String,
    /// The want that it serves.
    pub want: String,
    /// Day of sowing; absent for what stood at the start and was sown nobody knows when.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub sow: Option<NaiveDate>,
    /// It was a seedling on hand at the start: nothing is to be sown.
    #[serde(skip_serializing_if = "std::ops::Not::not", default)]
    pub on_hand: bool,
    /// It stood in its hole when the plan was made: nothing is to be set out.
    #[serde(skip_serializing_if = "std::ops::Not::not", default)]
    pub stands: bool,
    /// It is left to flower for its seed, and gives no harvest.
    #[serde(skip_serializing_if = "std::ops::Not::not", default)]
    pub for_seed: bool,
    /// Its first harvest was planned for this day, and had not come when the plan was made again.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub was_due: Option<NaiveDate>,
    /// Day of transplant.
    pub transplant: NaiveDate,
    /// Days on which something was harvested from it before the plan was made.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub harvested: Vec<NaiveDate>,
    /// Day of removal: the last harvest.
    pub removal: NaiveDate,
    /// What it gives, by day.
    pub harvests: Vec<PlannedHarvest>,
}

/// One harvest of one plant.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlannedHarvest {
    /// The day.
    pub day: NaiveDate,
    /// In the want's unit.
    pub amount: f64,
}

/// A tube's day of cleaning.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TubeClean {
    /// Bank and tube, such as `deck-2`.
    pub tube: String,
    /// The day.
    pub day: NaiveDate,
}

/// How good a plan is, in thousandths of the cost's unit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CostFigures {
    /// Cost over the shown weeks and those looked at beyond them.
    pub cost_milli: i64,
    /// What planting nothing would cost.
    pub nothing_milli: i64,
    /// No plan can cost less, if that was computed.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub bound_milli: Option<i64>,
}

/// A want is much short of what is wanted below this share.
const SHORT_BELOW_SHARE: f64 = 0.95;

impl WantOutcome {
    /// Whether much of it is lacking over the weeks that count.
    #[must_use]
    pub fn is_short(&self) -> bool {
        self.met.is_some_and(|met| met < SHORT_BELOW_SHARE)
    }
}

impl WeekOutcome {
    /// Whether much is lacking of what is wanted in it.
    #[must_use]
    pub fn is_short(&self) -> bool {
        self.delivered < SHORT_BELOW_SHARE * self.target
    }

    /// Whether anything is wanted in it, so that it counts.
    #[must_use]
    pub fn is_counted(&self) -> bool {
        self.target > 0.0
    }
}

/// A plant set out so many days sooner or later than planned is still the one that was planned.
const SAME_STAY_DAYS: i64 = 10;

impl Stay {
    /// Whether a plant that was set out in a hole on a day is this stay's.
    #[must_use]
    pub fn matches_plant(&self, hole: &str, crop: &str, transplanted: NaiveDate) -> bool {
        self.hole == hole
            && self.crop == crop
            && (self.transplant - transplanted).num_days().abs() <= SAME_STAY_DAYS
    }

    /// All days on which something was, or is to be, harvested from it.
    pub fn harvest_days(&self) -> impl Iterator<Item = NaiveDate> + '_ {
        let to_come = self.harvests.iter().map(|h| h.day);
        self.harvested.iter().copied().chain(to_come)
    }
}

impl Plan {
    /// The garden as this plan took it: its cards corrected by what the diary had taught when
    /// the plan was made. Whatever tells of the plan tells of that garden.
    #[must_use]
    pub fn with_calibrated_crops(&self, garden: &Garden) -> Garden {
        calibration::calibrated_garden(garden, &self.seen)
    }

    /// What is sown together: indices of stays, by the day of sowing, the crop and the day of
    /// transplant that they share.
    #[must_use]
    pub fn sowing_batches(&self) -> BTreeMap<(NaiveDate, &str, NaiveDate), Vec<usize>> {
        let mut batches = BTreeMap::<_, Vec<usize>>::new();
        for (n, stay) in self.stays.iter().enumerate() {
            if let Some(sow) = stay.sow.filter(|_| !stay.on_hand && !stay.stands) {
                let batch = (sow, stay.crop.as_str(), stay.transplant);
                batches.entry(batch).or_default().push(n);
            }
        }
        batches
    }

    /// The stay of a plant that was set out in a hole on a day: the nearest in time.
    #[must_use]
    pub fn stay_of(&self, hole: &str, crop: &str, transplanted: NaiveDate) -> Option<&Stay> {
        let stays = self.stays.iter();
        stays
            .filter(|s| s.matches_plant(hole, crop, transplanted))
            .min_by_key(|s| (s.transplant - transplanted).num_days().abs())
    }
}
