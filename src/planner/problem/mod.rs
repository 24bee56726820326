//! The discrete problem: which stays may stand in which holes, and what they are worth.
//!
//! This is the problem file of `plan --problem`, word for word. Days count from the start (0);
//! weeks are ISO weeks (Monday to Sunday), 0 being the one that holds the start. Amounts are
//! thousandths of the want's unit and costs thousandths, so that all sums are whole numbers.

pub mod cost;
pub mod model;
pub mod solution;
use chrono::{Datelike, NaiveDate};
use serde::{Deserialize, Serialize};

/// The version of the problem file written here.
pub const SCHEMA: u32 = 2;

/// The whole problem.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Problem {
    /// Version of this format.
    pub schema: u32,
    /// Day 0.
    pub start: NaiveDate,
    /// Days planned and shown.
    pub days: u32,
    /// Days looked at beyond them, so that the last weeks are as full as any.
    pub tail: u32,
    /// Days on which the rig is tended, rising.
    pub workdays: Vec<u32>,
    /// Days a hole stays empty between two stays.
    pub changeover: u32,
    /// Least days between the removals of two plants side by side, of crops harvested once.
    pub neighbours_apart: u32,
    /// Nursery cells, in thousandths.
    pub nursery_cells_milli: u64,
    /// What one stay costs in seed, cup and labour.
    pub stay_cost_milli: i64,
    /// What is wanted.
    pub wants: Vec<Demand>,
    /// Kinds of hole: holes of one kind may hold the same stays.
    pub kinds: Vec<HoleKind>,
    /// Seedlings on hand, which batches may draw on.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub lots: Vec<SeedlingLot>,
    /// The holes.
    pub holes: Vec<Hole>,
    /// Holes near enough for their plants to touch, or side by side in a tube; `a < b`.
    pub pairs: Vec<NearbyPair>,
    /// Crops that cannot share a loop's solution: plants of theirs do not stand in one loop at once,
    /// but for two that stand on day 0 already.
    pub apart: Vec<(String, String)>,
    /// Windows in each of which a tube is emptied and scrubbed on one workday.
    pub cleans: Vec<CleanTask>,
    /// What already stands.
    #[serde(default)]
    pub standing: Vec<StandingPlant>,
}

impl Problem {
    /// The radius of the widest plant that can be set out, at its widest; 0 if there is none.
    #[must_use]
    pub fn max_radius_mm(&self) -> u32 {
        max_radius_of_kinds_mm(&self.kinds)
    }

    /// How many holes are crowded: so near to more than two others that plants set out in both can
    /// touch.
    #[must_use]
    pub fn count_crowded_holes(&self) -> usize {
        let widest = self.max_radius_mm();
        let mut touching = vec![0; self.holes.len()];
        for pair in self.pairs.iter().filter(|p| p.limit_mm < 2 * widest) {
            touching[pair.a] += 1;
            touching[pair.b] += 1;
        }
        touching.into_iter().filter(|&n| n > 2).count()
    }

    /// How many weeks end in the shown days. The first of them may have begun before day 0.
    #[must_use]
    pub fn reported_weeks(&self) -> usize {
        ((self.start.weekday().num_days_from_monday() + self.days) / 7) as usize
    }

    /// The day of a week's Monday: that of the first may lie before day 0.
    #[must_use]
    pub fn monday(&self, week: usize) -> i64 {
        let weekday = i64::from(self.start.weekday().num_days_from_monday());
        i64::try_from(7 * week).unwrap_or(i64::MAX) - weekday
    }

    /// The first day on which nothing that stands need stand any more in a tube.
    #[must_use]
    pub fn tube_occupied_until(&self, tube: usize) -> u32 {
        let standing = self.standing.iter();
        let here = standing.filter(|s| self.holes[s.hole].tube == tube);
        here.map(|s| s.ends[0].day).max().unwrap_or(0)
    }
}

/// The radius of the widest plant of some kinds of hole, at its widest; 0 if there is none.
#[must_use]
pub fn max_radius_of_kinds_mm(kinds: &[HoleKind]) -> u32 {
    let batches = kinds.iter().flat_map(|k| &k.batches);
    let radii = batches.flat_map(|b| b.radius_mm.iter().copied());
    radii.max().unwrap_or(0)
}

/// What is wanted, week by week.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Demand {
    /// The want's name.
    pub id: String,
    /// `heads` or `g`.
    pub unit: String,
    /// Importance, in thousandths.
    pub weight_milli: i64,
    /// What one plant gives at one harvest, in thousandths of the unit.
    pub harvest_milli: i64,
    /// Target of each week, tail included; 0 where it does not count.
    pub target_milli: Vec<i64>,
}

/// A kind of hole and the batches it can take.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HoleKind {
    /// All batches, ordered by transplant day, then crop, then want.
    pub batches: Vec<Batch>,
}

/// One crop sown and transplanted on given days: the beginning of possible stays.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Batch {
    /// The crop's key.
    pub crop: String,
    /// The want that it serves.
    pub want: usize,
    /// Day of sowing; negative only for seedlings on hand.
    pub sow: i32,
    /// Day of transplant.
    pub transplant: u32,
    /// Nursery cells that one plant takes from sowing to transplant, spares included.
    pub cells_milli: u64,
    /// The lot of seedlings on hand that it draws on, if any.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lot: Option<usize>,
    /// Harvested once.
    pub once: bool,
    /// Canopy radius on each day from transplant to the day before the last end, uncut; for
    /// crops that are cut, as cut on the days of the longest stay.
    pub radius_mm: Vec<u32>,
    /// Possible removals, rising.
    pub ends: Vec<StayEnd>,
}

/// A possible removal and what the stay has given by then.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StayEnd {
    /// Day of removal.
    pub day: u32,
    /// Everything that the stay gives, by week, rising.
    pub yields: Vec<WeekYield>,
}

/// What a stay gives in one week.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WeekYield {
    /// The week.
    pub week: u32,
    /// Thousandths of the want's unit.
    pub milli: i64,
}

/// Seedlings on hand.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SeedlingLot {
    /// The crop's key.
    pub crop: String,
    /// How many plants.
    pub count: u32,
}

/// One hole.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hole {
    /// Its name, such as `deck-2-5`.
    pub id: String,
    /// Index of its kind.
    pub kind: usize,
    /// Index of its tube, counted over the garden.
    pub tube: usize,
    /// Index of its loop.
    pub r#loop: usize,
}

/// Two holes near each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NearbyPair {
    /// The hole of lower index.
    pub a: usize,
    /// The other.
    pub b: usize,
    /// The most that the two radii may sum to, crowding allowed.
    pub limit_mm: u32,
    /// Next to each other in one tube.
    pub side_by_side: bool,
}

/// A window in which a tube is scrubbed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CleanTask {
    /// The tube.
    pub tube: usize,
    /// First and last day allowed.
    pub days: [u32; 2],
}

/// A plant that already stands on day 0.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StandingPlant {
    /// Its hole.
    pub hole: usize,
    /// The crop's key.
    pub crop: String,
    /// The want that it serves.
    pub want: usize,
    /// Harvested once.
    pub once: bool,
    /// Canopy radius on each day from day 0, by canopy: it depends on when it is cut.
    pub radius_mm: Vec<Vec<u32>>,
    /// The canopy of each end.
    pub canopies: Vec<usize>,
    /// Possible ends, by day; some differ in their cuts alone.
    pub ends: Vec<StayEnd>,
}

impl StandingPlant {
    /// Canopy radius on each day from day 0, if it ends in one of its ways.
    #[must_use]
    pub fn radius_of(&self, end: usize) -> &[u32] {
        let canopy = self.canopies.get(end).and_then(|&c| self.radius_mm.get(c));
        canopy.map_or(&[], Vec::as_slice)
    }
}
