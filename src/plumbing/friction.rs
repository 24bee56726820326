//! What a hose takes of a pump's lift.

use std::f64::consts::PI;

use crate::garden::rig::Hose;

/// Standard gravity [m/s2].
pub const STANDARD_GRAVITY: f64 = 9.806_65;
/// Kinematic viscosity of water at 20 C [m2/s] (IAPWS).
pub const KINEMATIC_VISCOSITY: f64 = 1.004e-6;
/// Density of water at 20 C [kg/l] (IAPWS).
pub const WATER_DENSITY: f64 = 0.998_2;
/// Roughness of smooth plastic \[m\] (drawn tubing, Moody 1944).
pub const SMOOTH_PIPE_ROUGHNESS: f64 = 1.5e-6;

/// Losses in velocity heads: a sharp-edged entrance, the open end, and a right-angled elbow
/// (Cengel and Cimbala, Fluid Mechanics, table of minor loss coefficients: 0.5, 1.0, and 0.9 for
/// a threaded elbow).
const ENTRANCE_LOSS_COEFFICIENT: f64 = 0.5;
const EXIT_LOSS_COEFFICIENT: f64 = 1.0;
const ELBOW_LOSS_COEFFICIENT: f64 = 0.9;

/// Speed of a flow [l/h] in a full pipe of a bore \[m\] [m/s].
#[must_use]
pub fn velocity(flow: f64, bore: f64) -> f64 {
    flow / 3.6e6 / (PI / 4.0 * bore * bore)
}

/// Reynolds number of a speed [m/s] in a pipe of a bore \[m\].
#[must_use]
pub fn reynolds(velocity: f64, bore: f64, viscosity: f64) -> f64 {
    velocity * bore / viscosity
}

/// Darcy's friction factor: `64 / Re` up to 2000, the formula of Swamee and Jain (1976, Journal
/// of the Hydraulics Division 102:657-664) from 4000, a straight line between the two.
#[must_use]
pub fn friction_factor(reynolds: f64, relative_roughness: f64) -> f64 {
    const LAMINAR: f64 = 2000.0;
    const TURBULENT: f64 = 4000.0;
    if reynolds <= 0.0 {
        return 0.0;
    }
    if reynolds <= LAMINAR {
        return 64.0 / reynolds;
    }
    let turbulent = |re: f64| {
        let log = libm::log10(relative_roughness / 3.7 + 5.74 / libm::pow(re, 0.9));
        0.25 / (log * log)
    };
    if reynolds >= TURBULENT {
        return turbulent(reynolds);
    }
    let way = (reynolds - LAMINAR) / (TURBULENT - LAMINAR);
    64.0 / LAMINAR * (1.0 - way) + turbulent(TURBULENT) * way
}

/// Head \[m\] that a straight pipe takes of a flow [l/h]: Darcy and Weisbach, `f L/D V^2/2g`.
#[must_use]
pub fn pipe_friction_loss(flow: f64, bore: f64, length: f64, roughness: f64) -> f64 {
    let v = velocity(flow, bore);
    let f = friction_factor(reynolds(v, bore, KINEMATIC_VISCOSITY), roughness / bore);
    f * length / bore * v * v / (2.0 * STANDARD_GRAVITY)
}

/// Head \[m\] that a hose takes of a flow [l/h], with its entrance, bends and open end.
#[must_use]
pub fn hose_friction_loss(hose: &Hose, flow: f64) -> f64 {
    let bore = hose.bore.get();
    let v = velocity(flow, bore);
    let minor = ENTRANCE_LOSS_COEFFICIENT
        + EXIT_LOSS_COEFFICIENT
        + ELBOW_LOSS_COEFFICIENT * f64::from(hose.bends);
    pipe_friction_loss(flow, bore, hose.length.get(), SMOOTH_PIPE_ROUGHNESS)
        + minor * v * v / (2.0 * STANDARD_GRAVITY)
}
