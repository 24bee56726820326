//! Whether the water runs back to the tank fast enough.

use crate::plumbing::tube::CircularSegment;

/// Manning's roughness of smooth plastic pipe (Chow 1959, table 5-6, smooth surfaces).
const MANNING_N_PLASTIC: f64 = 0.009;
/// A round pipe carries most when it is not quite full (Chow 1959, figure 6-5).
const MAX_FLOW_DEPTH_SHARE: f64 = 0.938;

/// Flow [l/h] of a round pipe that falls by `slope`, filled to a share of its bore \[m\]
/// (Manning: `V = R^(2/3) S^(1/2) / n`).
#[must_use]
pub fn manning_flow(bore: f64, slope: f64, filled: f64) -> f64 {
    let segment = CircularSegment::new(bore, filled);
    let radius = segment.hydraulic_radius();
    segment.area * libm::pow(radius, 2.0 / 3.0) * slope.sqrt() / MANNING_N_PLASTIC * 3.6e6
}

/// To which share of its bore a pipe fills with a flow [l/h]; `None` if it cannot carry that.
#[must_use]
pub fn filled_share(bore: f64, slope: f64, flow: f64) -> Option<f64> {
    if flow > manning_flow(bore, slope, MAX_FLOW_DEPTH_SHARE) {
        return None;
    }
    let (mut low, mut high) = (0.0, MAX_FLOW_DEPTH_SHARE);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if manning_flow(bore, slope, middle) < flow {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(high)
}
