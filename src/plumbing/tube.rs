//! Water that stands in tubes.

use std::f64::consts::PI;

use crate::garden::rig::{Bank, BankForm};

/// The part of a round pipe's section that is under water: a segment of the circle.
///
/// Chow 1959, Open-Channel Hydraulics, table 2-1: `theta = 2 acos(1 - 2 y/D)`,
/// `A = D^2 (theta - sin theta) / 8`, `P = D theta / 2`, `T = D sin(theta / 2)`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CircularSegment {
    /// Area under water \[m2\].
    pub area: f64,
    /// Wall under water \[m\].
    pub wetted_perimeter: f64,
    /// Width of the water's surface \[m\].
    pub surface_width: f64,
}

impl CircularSegment {
    /// A pipe of inner diameter `bore` \[m\], filled to a share of it.
    #[must_use]
    pub fn new(bore: f64, filled: f64) -> Self {
        let angle = 2.0 * libm::acos(1.0 - 2.0 * filled.clamp(0.0, 1.0));
        Self {
            area: bore * bore * (angle - libm::sin(angle)) / 8.0,
            wetted_perimeter: bore * angle / 2.0,
            surface_width: bore * libm::sin(angle / 2.0),
        }
    }

    /// Area over wetted wall \[m\]; nothing in a dry pipe.
    #[must_use]
    pub fn hydraulic_radius(&self) -> f64 {
        if self.wetted_perimeter > 0.0 {
            self.area / self.wetted_perimeter
        } else {
            0.0
        }
    }
}

/// How many streams a bank takes from the pump: one for each level tube and each tower, one for a
/// whole wall, whose water winds down from its top.
#[must_use]
pub const fn stream_count(bank: &Bank) -> u32 {
    match bank.form {
        BankForm::Level { tubes, .. } => tubes,
        BankForm::Wall { .. } => 1,
        BankForm::Tower { towers, .. } => towers,
    }
}

/// Length of all tubes of a bank together \[m\].
#[must_use]
pub fn total_tube_length(bank: &Bank) -> f64 {
    match bank.form {
        BankForm::Level { tubes, length, .. } | BankForm::Wall { tubes, length, .. } => {
            f64::from(tubes) * length.get()
        }
        BankForm::Tower { towers, height, .. } => f64::from(towers) * height.get(),
    }
}

/// Water that stands in a bank as it runs \[l\]. Nothing stands in a tower, where it trickles.
#[must_use]
pub fn standing_volume(bank: &Bank) -> f64 {
    match bank.form {
        BankForm::Tower { .. } => 0.0,
        _ => {
            CircularSegment::new(bank.bore.get(), bank.fill_share.get()).area
                * total_tube_length(bank)
                * 1000.0
        }
    }
}

/// Water in a bank filled to the brim, as when its drains are blocked \[l\].
#[must_use]
pub fn full_volume(bank: &Bank) -> f64 {
    let bore = bank.bore.get();
    PI / 4.0 * bore * bore * total_tube_length(bank) * 1000.0
}

/// Open water of a bank \[m2\]: that of channels without a cover.
#[must_use]
pub fn open_water_area(bank: &Bank) -> f64 {
    match bank.form {
        BankForm::Tower { .. } => 0.0,
        _ if !bank.is_open => 0.0,
        _ => {
            CircularSegment::new(bank.bore.get(), bank.fill_share.get()).surface_width
                * total_tube_length(bank)
        }
    }
}

/// Height of a bank's inlet above the floor that the tank stands on \[m\]: stated for a wall and a
/// tower; [`BENCH_HEIGHT_METRES`] for level tubes.
#[must_use]
pub fn inlet_height(bank: &Bank) -> f64 {
    match bank.form {
        BankForm::Level { .. } => BENCH_HEIGHT_METRES,
        BankForm::Wall { top, .. } => top.get() + bank.bore.get() / 2.0,
        BankForm::Tower { height, .. } => height.get(),
    }
}

/// Height of level tubes where nothing is said of it, a bench's \[m\]
/// (common practice, no published source).
pub const BENCH_HEIGHT_METRES: f64 = 0.8;
