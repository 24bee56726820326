//! The rig as stated: loops, tanks, pumps and banks of tubes.

use crate::quantity::{Flow, Length, Share, Volume};

/// One tank with the banks that its pump feeds.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Loop {
    /// Its name, unique in the garden.
    pub name: String,
    /// The tank.
    pub tank: Tank,
    /// The pump, if stated.
    pub pump: Option<Pump>,
    /// Tubes set up together; at least one bank.
    pub banks: Vec<Bank>,
}

impl Loop {
    /// A loop without a stated pump. Nothing is checked; a garden file's reader checks.
    #[must_use]
    pub fn new(name: impl Into<String>, tank: Tank, banks: Vec<Bank>) -> Self {
        Self {
            name: name.into(),
            tank,
            pump: None,
            banks,
        }
    }
}

/// The tank of a loop.
#[derive(Debug, Clone, Copy)]
#[non_exhaustive]
pub struct Tank {
    /// How much it holds when full.
    pub holds: Volume,
    /// The share of it below which the level must not fall.
    pub never_below: Share,
}

impl Tank {
    /// A tank. Nothing is checked; a garden file's reader checks.
    #[must_use]
    pub const fn new(holds: Volume, never_below: Share) -> Self {
        Self { holds, never_below }
    }
}

/// The pump of a loop, as its maker rates it.
#[derive(Debug, Clone, Copy)]
#[non_exhaustive]
pub struct Pump {
    /// Flow at no lift.
    pub moves: Flow,
    /// Highest lift.
    pub lifts: Length,
}

/// Tubes set up together.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Bank {
    /// Its name, unique in the garden.
    pub name: String,
    /// How the tubes stand.
    pub form: Form,
    /// Inner diameter of the tubes.
    pub bore: Length,
    /// Distance between the centres of neighbouring holes along a tube.
    pub hole_every: Length,
    /// Share of the place's light that reaches this bank.
    pub light: Share,
}

impl Bank {
    /// A bank in the full light of its place. Nothing is checked; a garden file's reader checks.
    #[must_use]
    pub fn new(name: impl Into<String>, form: Form, bore: Length, hole_every: Length) -> Self {
        Self {
            name: name.into(),
            form,
            bore,
            hole_every,
            light: Share::fraction(1.0),
        }
    }
}

/// How the tubes of a bank stand.
#[derive(Debug, Clone, PartialEq)]
pub enum Form {
    /// Tubes side by side at one height.
    Level {
        /// How many.
        tubes: u32,
        /// Length of each.
        length: Length,
        /// Between the centre lines of neighbouring tubes.
        tube_gap: Length,
        /// Free height above the tubes; open if absent.
        headroom: Option<Length>,
    },
    /// Tubes one above another, fed from the top, the water winding down.
    Wall {
        /// How many.
        tubes: u32,
        /// Length of each.
        length: Length,
        /// Between the centre lines of neighbouring tubes.
        tube_gap: Length,
        /// Height of the top tube's centre line above the floor.
        top: Length,
    },
    /// Upright tubes with holes around.
    Tower {
        /// How many.
        towers: u32,
        /// Height of each.
        height: Length,
        /// Rows of holes around: 3 or 4.
        faces: u32,
        /// Between the centre lines of neighbouring towers.
        tube_gap: Length,
    },
}
