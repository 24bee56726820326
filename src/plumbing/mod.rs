//! What tank, pump, hose, tubes and drain do with the water, and what the solution is.
//!
//! Pure functions. [`tube`] says how much water stands, [`friction`] what a hose takes,
//! [`pump`] what the pump then gives, [`drain`] whether it runs off, [`load`] what all of it
//! weighs, [`autonomy`] how long roots stay wet without a pump. [`solution`] is the band that suits
//! all plants and how to mix for it, [`ec_drift`] where it goes between two changes. [`tank`] follows
//! the tank day by day. [`commissioning`] judges a whole rig, finding by [`finding`].
pub mod autonomy;
pub mod commissioning;
pub mod drain;
pub mod ec_drift;
pub mod finding;
pub mod friction;
pub mod load;
pub mod pump;
pub mod solution;
pub mod tank;
pub mod tube;
