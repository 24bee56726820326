//! What sun, air and plants do: pure functions with their sources.
//!
//! Plain numbers go in and come out, in the units each docstring names; only [`air`],
//! [`growth`] and [`crop_water`] know of gardens and crop cards. Nothing here reads a file or a clock.
//!
//! [`sun`] and [`climate`] give a day's temperatures and radiation, [`light`] turns radiation
//! into what leaves use, [`air`] puts a roof or lamps over it. [`temperature`] and [`development`] say how
//! fast a plant goes in that air, [`suitability`] whether it stands it, [`harvest`] when it may be
//! taken, and [`growth`] joins these to one plant's life. [`canopy`] is how wide it is by then,
//! [`seed`] how many seeds to sow for it. [`evapotranspiration`] has the equations of how much water the air
//! draws, [`crop_water`] what that is under a roof, under lamps and for one plant. [`statistics`] says
//! how much can be told from so many trials.
pub mod air;
pub mod canopy;
pub mod climate;
pub mod crop_water;
pub mod development;
pub mod evapotranspiration;
pub mod growth;
pub mod harvest;
pub mod light;
pub(crate) mod prefix_sums;
pub mod seed;
pub mod statistics;
pub mod suitability;
pub mod sun;
pub mod temperature;
