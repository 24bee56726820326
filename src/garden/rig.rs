//! The rig as stated: loops, tanks, pumps and banks of tubes.

use crate::units::{Conductivity, Flow, Length, Share, Volume};

/// One tank with the banks that its pump feeds.
#[derive(Debug, Clone)]
pub struct Loop {
    /// Its name, unique in the garden.
    pub name: String,
    /// The tank.
    pub tank: Tank,
    /// The pump, if stated.
    pub pump: Option<Pump>,
    /// The hose from the pump up to the tubes, if stated.
    pub hose: Option<Hose>,
    /// The way of the water back to the tank, if stated.
    pub drain: Option<Drain>,
    /// What the tank is filled with.
    pub nutrients: Nutrients,
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
            hose: None,
            drain: None,
            nutrients: Nutrients::DEFAULT,
            banks,
        }
    }
}

/// The tank of a loop.
#[derive(Debug, Clone, Copy)]
pub struct Tank {
    /// How much it holds when full.
    pub capacity: Volume,
    /// The share of it below which the level must not fall.
    pub reserve_share: Share,
    /// It stands without a lid.
    pub is_open: bool,
    /// What it covers of the floor, if stated.
    pub footprint: Option<Footprint>,
}

/// Length and width of what stands on the floor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Footprint {
    /// One side.
    pub length: Length,
    /// The other.
    pub width: Length,
}

impl Tank {
    /// A tank with a lid. Nothing is checked; a garden file's reader checks.
    #[must_use]
    pub const fn new(capacity: Volume, reserve_share: Share) -> Self {
        Self {
            capacity,
            reserve_share,
            is_open: false,
            footprint: None,
        }
    }
}

/// The pump of a loop, as its maker rates it.
#[derive(Debug, Clone)]
pub struct Pump {
    /// Flow at no lift.
    pub rated_flow: Flow,
    /// Highest lift.
    pub max_head: Length,
    /// Points of its curve between the two, flow rising and lift falling; perhaps none.
    pub curve: Vec<PumpPoint>,
}

/// What a pump moves at a lift.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PumpPoint {
    /// Flow.
    pub flow: Flow,
    /// The lift at which it moves that much.
    pub head: Length,
}

impl Pump {
    /// A pump by its two ratings. Nothing is checked; a garden file's reader checks.
    #[must_use]
    pub const fn new(rated_flow: Flow, max_head: Length) -> Self {
        Self {
            rated_flow,
            max_head,
            curve: Vec::new(),
        }
    }
}

/// The hose from the pump to the tubes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hose {
    /// Inner diameter.
    pub bore: Length,
    /// How long it is.
    pub length: Length,
    /// How many right-angled bends and elbows it has.
    pub bends: u32,
    /// From the water in the tank up to the highest inlet; taken from the banks if absent.
    pub static_head: Option<Length>,
}

/// The pipes through which the water runs back to the tank by its own weight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drain {
    /// Inner diameter.
    pub bore: Length,
    /// How far it falls for its length.
    pub slope: Share,
    /// How many such pipes share the loop's water; one for each stream from the pump if absent.
    pub pipes: Option<u32>,
}

/// What a tank is filled with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Nutrients {
    /// EC of the water itself.
    pub source_ec: Conductivity,
    /// Strength of the nutrient stock, as the EC that it would have if EC went on rising with
    /// strength: a hundred times what one part in a hundred adds. Unknown if absent.
    pub stock_ec: Option<Conductivity>,
    /// What the tank is topped up with between two changes.
    pub top_up_water: TopUpWater,
}

impl Nutrients {
    /// Soft tap water, a stock of unknown strength, plain water to top up with.
    pub const DEFAULT: Self = Self {
        source_ec: Conductivity::millisiemens(0.3),
        stock_ec: None,
        top_up_water: TopUpWater::PlainWater,
    };
}

/// What a tank is topped up with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TopUpWater {
    /// Water as it comes.
    PlainWater,
    /// Half as much nutrient as in a fresh solution.
    HalfStrength,
}

/// Tubes set up together.
#[derive(Debug, Clone)]
pub struct Bank {
    /// Its name, unique in the garden.
    pub name: String,
    /// How the tubes stand.
    pub form: BankForm,
    /// Inner diameter of the tubes.
    pub bore: Length,
    /// Distance between the centres of neighbouring holes along a tube.
    pub hole_spacing: Length,
    /// Share of the place's light that reaches this bank.
    pub light_share: Share,
    /// How deep the water stands in its tubes, as a share of their bore; nothing stands in a
    /// tower.
    pub fill_share: Share,
    /// Its tubes are channels without a cover.
    pub is_open: bool,
}

impl Bank {
    /// A bank of covered, half-full tubes in the full light of its place. Nothing is checked; a garden file's reader checks.
    #[must_use]
    pub fn new(
        name: impl Into<String>,
        form: BankForm,
        bore: Length,
        hole_spacing: Length,
    ) -> Self {
        Self {
            name: name.into(),
            form,
            bore,
            hole_spacing,
            light_share: Share::fraction(1.0),
            fill_share: Share::fraction(0.5),
            is_open: false,
        }
    }
}

/// How the tubes of a bank stand.
#[derive(Debug, Clone, PartialEq)]
pub enum BankForm {
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
