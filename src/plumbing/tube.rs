//! Water that stands in tubes.

use std::f64::consts::PI;

use crate::garden::rig::{Bank, Form};

/// The part of a round pipe's section that is under water: a segment of the circle.
///
/// Chow 1959, Open-Channel Hydraulics, table 2-1: `theta = 2 acos(1 - 2 y/D)`,
/// `A = D^2 (theta - sin theta) / 8`, `P = D theta / 2`, `T = D sin(theta / 2)`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Segment {
    /// Area under water \[m2\].
    pub area: f64,
    /// Wall under water \[m\].
    pub perimeter: f64,
    /// Width of the water's surface \[m\].
    pub surface: f64,
}

impl Segment {
    /// A pipe of inner diameter `bore` \[m\], filled to a share of it.
    #[must_use]
    pub fn new(bore: f64, filled: f64) -> Self {
        let angle = 2.0 * libm::acos(1.0 - 2.0 * filled.clamp(0.0, 1.0));
        Self {
            area: bore * bore * (angle - libm::sin(angle)) / 8.0,
            perimeter: bore * angle / 2.0,
            surface: bore * libm::sin(angle / 2.0),
        }
    }

    /// Area over wetted wall \[m\]; nothing in a dry pipe.
    #[must_use]
    pub fn hydraulic_radius(&self) -> f64 {
        if self.perimeter > 0.0 {
            self.area / self.perimeter
        } else {
            0.0
        }
    }
}

/// How many streams a bank takes from the pump: one for each level tube and each tower, one for a
/// whole wall, whose water winds down from its top.
#[must_use]
pub const fn inflow_count(bank: &Bank) -> u32 {
    match bank.form {
        Form::Level { tubes, .. } => tubes,
        Form::Wall { .. } => 1,
        Form::Tower { towers, .. } => towers,
    }
}

/// Length of all tubes of a bank together \[m\].
#[must_use]
pub fn tube_metres(bank: &Bank) -> f64 {
    match bank.form {
        Form::Level { tubes, length, .. } | Form::Wall { tubes, length, .. } => {
            f64::from(tubes) * length.get()
        }
        Form::Tower { towers, height, .. } => f64::from(towers) * height.get(),
    }
}

/// Water that stands in a bank as it runs \[l\]. Nothing stands in a tower, where it trickles.
#[must_use]
pub fn standing_water(bank: &Bank) -> f64 {
    match bank.form {
        Form::Tower { .. } => 0.0,
        _ => Segment::new(bank.bore.get(), bank.filled.get()).area * tube_metres(bank) * 1000.0,
    }
}

/// Water in a bank filled to the brim, as when its drains are blocked \[l\].
#[must_use]
pub fn full_volume(bank: &Bank) -> f64 {
    let bore = bank.bore.get();
    PI / 4.0 * bore * bore * tube_metres(bank) * 1000.0
}

/// Open water of a bank \[m2\]: that of channels without a cover.
#[must_use]
pub fn open_water(bank: &Bank) -> f64 {
    match bank.form {
        Form::Tower { .. } => 0.0,
        _ if !bank.open => 0.0,
        _ => Segment::new(bank.bore.get(), bank.filled.get()).surface * tube_metres(bank),
    }
}

/// Height of a bank's inlet above the floor that the tank stands on \[m\]: stated for a wall and a
/// tower; [`BENCH_HEIGHT_METRES`] for level tubes.
#[must_use]
pub fn inlet_height(bank: &Bank) -> f64 {
    match bank.form {
        Form::Level { .. } => BENCH_HEIGHT_METRES,
        Form::Wall { top, .. } => top.get() + bank.bore.get() / 2.0,
        Form::Tower { height, .. } => height.get(),
    }
}

/// Height of level tubes where nothing is said of it, a bench's \[m\]
/// (common practice, no published source).
pub const BENCH_HEIGHT_METRES: f64 = 0.8;
