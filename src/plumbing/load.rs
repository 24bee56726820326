//! What a rig weighs. Never a proof that anything bears it.

use crate::garden::holes::bank_hole_count;
use crate::garden::rig::{Bank, Footprint, Tank};
use crate::plumbing::friction::{STANDARD_GRAVITY, WATER_DENSITY};
use crate::plumbing::tube;

/// Weight of a metre of tube for each metre of its bore [kg/m2]: 1.71 kg/m for the common 110 mm
/// PVC pipe of 103.6 mm bore (a maker's table for EN 1401).
const TUBE_MASS_PER_AREA: f64 = 1.71 / 0.1036;
/// A ripe plant with its wet cup \[kg\] (common practice, no published source).
const PLANT_KILOGRAMS: f64 = 0.4;
/// Imposed load of a dwelling's floors [kN/m2] (EN 1991-1-1, table 6.2, recommended value, from
/// memory; national annexes differ, and give balconies and stairs values of their own).
pub const FLOOR_LOAD_KN_PER_M2: f64 = 2.0;

/// What a bank weighs \[kg\] with a plant in every hole and water to the brim, as when its drains
/// are blocked.
#[must_use]
pub fn bank_weight(bank: &Bank) -> f64 {
    #[allow(clippy::cast_precision_loss)]
    let plants = bank_hole_count(bank) as f64 * PLANT_KILOGRAMS;
    let tubes = TUBE_MASS_PER_AREA * bank.bore.get() * tube::total_tube_length(bank);
    tube::full_volume(bank) * WATER_DENSITY + tubes + plants
}

/// The same for each metre of tube [kg/m].
#[must_use]
pub fn weight_per_metre(bank: &Bank) -> f64 {
    bank_weight(bank) / tube::total_tube_length(bank)
}

/// Pressure of so many litres of water on the floor under them [kN/m2].
#[must_use]
pub fn floor_pressure(litres: f64, footprint: &Footprint) -> f64 {
    let area = footprint.length.get() * footprint.width.get();
    litres * WATER_DENSITY * STANDARD_GRAVITY / area / 1000.0
}

/// Open water of a tank \[m2\]: its footprint where stated, else a side of a cube of its volume;
/// none under a lid.
#[must_use]
pub fn open_tank_area(tank: &Tank) -> f64 {
    match tank.footprint {
        _ if !tank.is_open => 0.0,
        Some(footprint) => footprint.length.get() * footprint.width.get(),
        None => libm::pow(tank.capacity.get() / 1000.0, 2.0 / 3.0),
    }
}
