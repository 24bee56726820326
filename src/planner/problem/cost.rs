//! What a want costs in a week, in whole thousandths.

use crate::planner::problem::{Demand, Problem};

/// What a short supply costs, per hundred of the target: 100 s + 100 s².
const SHORTAGE_COST: i64 = 100;
/// What an over-supply costs: 5 o + 10 o². It begins where one harvest alone would be enough: a
/// bunch of chives is more than a week's want, and no plan can cut less.
const SURPLUS_COST: (i64, i64) = (5, 10);

/// Cost of delivering `supply` where `target` was planned, both in thousandths of the want's
/// unit: `weight * T/u * (100 s + 100 s² + 5 o + 10 o²)` in thousandths, rounded down, where `o`
/// counts from the target or one harvest, whichever is more. Nothing where the target is 0.
///
/// Squares make the supply even: ten weeks one head short cost less than one week ten short.
#[must_use]
pub fn week_cost(want: &Demand, target: i64, supply: i64) -> i64 {
    if target <= 0 {
        return 0;
    }
    // The same sum in 64 bits where it fits, which is many times faster.
    if target.max(supply) <= I64_SAFE_AMOUNT_AND_WEIGHT_MILLI.0
        && want.weight_milli <= I64_SAFE_AMOUNT_AND_WEIGHT_MILLI.1
        && want.harvest_milli <= I64_SAFE_AMOUNT_AND_WEIGHT_MILLI.0
    {
        let (t, y) = (target, supply);
        let parts = if y < t {
            let d = t - y;
            SHORTAGE_COST * (d * t + d * d)
        } else {
            let d = (y - t.max(want.harvest_milli)).max(0);
            SURPLUS_COST.0 * d * t + SURPLUS_COST.1 * d * d
        };
        return want.weight_milli * parts / (want.harvest_milli * t);
    }
    let (t, y) = (i128::from(target), i128::from(supply));
    let parts = if y < t {
        let d = t - y;
        i128::from(SHORTAGE_COST) * (d * t + d * d)
    } else {
        let d = (y - t.max(want.harvest_milli.into())).max(0);
        i128::from(SURPLUS_COST.0) * d * t + i128::from(SURPLUS_COST.1) * d * d
    };
    let cost = i128::from(want.weight_milli) * parts / (i128::from(want.harvest_milli) * t);
    i64::try_from(cost).unwrap_or(i64::MAX)
}

/// Amounts and weights up to which a week's cost is reckoned in 64 bits: 4 000 of a unit, and
/// thrice the usual importance. 3 000 * 100 * 2 * 4 000 000² is just below 2^63.
const I64_SAFE_AMOUNT_AND_WEIGHT_MILLI: (i64, i64) = (3_900_000, 3_000);

/// Cost of planting nothing beyond what already stands giving nothing: every week wholly short.
#[must_use]
pub fn empty_plan_cost(problem: &Problem) -> i64 {
    problem
        .wants
        .iter()
        .flat_map(|w| w.target_milli.iter().map(move |&t| week_cost(w, t, 0)))
        .sum()
}

/// The least that a harvest missed costs, in thousandths: that of the least important want, where
/// all else of the week is there and is many harvests.
#[must_use]
pub fn min_shortage_cost(problem: &Problem) -> i64 {
    let weights = problem.wants.iter().map(|w| w.weight_milli);
    SHORTAGE_COST * weights.min().unwrap_or(0)
}

/// How far a cost lies from a bound, in percent of the way from planting nothing to the bound;
/// nothing if there is no such way.
#[must_use]
#[allow(clippy::cast_precision_loss)]
pub fn gap_percent(cost: i64, bound: i64, nothing: i64) -> Option<f64> {
    (nothing > bound).then(|| 100.0 * (cost - bound).max(0) as f64 / (nothing - bound) as f64)
}
