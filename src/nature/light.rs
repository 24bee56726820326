//! From radiation to the light that leaves use.
//!
//! Published factors disagree (2.0 to 2.3 mol/MJ); the pair used here is stated at
//! [`PHOTOSYNTHETIC_SHARE`] and [`MICROMOL_PER_JOULE`], and 10 % either way is the honest
//! uncertainty.

/// Share of the ground's radiation that lies between 400 and 700 nm (common in the field;
/// 0.43 in the standard spectrum ASTM G173-03, more under cloud).
pub const PHOTOSYNTHETIC_SHARE: f64 = 0.45;

/// Photons in a joule of sun and sky between 400 and 700 nm [umol/J] (McCree 1972, as given by
/// Thimijan and Heins 1983).
pub const MICROMOL_PER_JOULE: f64 = 4.57;

/// Photosynthetic light of a day [mol/m2/d] from radiation on the ground [MJ/m2/d].
#[must_use]
pub fn daily_light_integral(radiation: f64) -> f64 {
    photon_dose(radiation, PHOTOSYNTHETIC_SHARE, MICROMOL_PER_JOULE)
}

/// Photons \[mol\] in radiation \[MJ\] of which `share` is photosynthetic, with so many micromol a
/// joule. A flux in W/m2 gives umol/m2/s.
#[must_use]
pub fn photon_dose(radiation: f64, share: f64, micromol_per_joule: f64) -> f64 {
    radiation * share * micromol_per_joule
}
