//! What a pump gives at the end of its hose.

use crate::garden::rig::{Hose, Pump};

use crate::plumbing::friction::hose_friction_loss;

/// The lift \[m\] at which a pump moves a flow [l/h].
///
/// Straight lines between its points, the ratings being the first and the last. Small pumps'
/// curves bulge above the straight line between their ratings, so that without stated points the
/// answer is on the careful side.
#[must_use]
pub fn head_at(pump: &Pump, flow: f64) -> f64 {
    let mut before = (0.0, pump.max_head.get());
    let points = pump.curve.iter().map(|p| (p.flow.get(), p.head.get()));
    for point in points.chain([(pump.rated_flow.get(), 0.0)]) {
        if flow <= point.0 {
            let way = (flow - before.0) / (point.0 - before.0);
            return before.1 + (point.1 - before.1) * way;
        }
        before = point;
    }
    0.0
}

/// The flow [l/h] that a pump gives at an inlet `rise` \[m\] above the water, through its hose if
/// stated: where what it can lift is what rise and hose ask for. Nothing if it cannot lift so
/// high.
#[must_use]
pub fn operating_flow(pump: &Pump, hose: Option<&Hose>, rise: f64) -> f64 {
    let spare = |flow: f64| {
        head_at(pump, flow) - rise - hose.map_or(0.0, |hose| hose_friction_loss(hose, flow))
    };
    if spare(0.0) <= 0.0 {
        return 0.0;
    }
    // What is left falls as the flow rises, so halving finds where it is gone.
    let (mut low, mut high) = (0.0, pump.rated_flow.get());
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if spare(middle) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}
