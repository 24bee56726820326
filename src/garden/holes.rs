//! Where every hole is in space, and which holes are near each other.
//!
//! Each bank has its own frame, in metres: `x` along its tubes (or along the row of towers), `y`
//! into the depth, `z` up. Lengths are taken as stated; the thickness of the tubes' walls, a few
//! millimetres, is left out. Plants of different banks are taken as out of each other's reach:
//! a garden file does not say how banks stand to one another.

use std::collections::BTreeMap;
use std::f64::consts::{SQRT_2, TAU};

use crate::garden::Garden;
use crate::garden::rig::{Bank, BankForm, Loop};
use crate::units::Length;

/// How far a plant in a tower's slanted cup stands out from the tube's wall \[m\]
/// (common practice, no published source).
const CUP_REACH_METRES: f64 = 0.08;

/// Distances are kept to the micrometre, so that 15 cm is 15 cm whatever the sums before it.
const MICROMETRES_PER_METRE: f64 = 1e6;

/// All holes of a garden.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// The holes, tube by tube.
    pub holes: Vec<PlantingHole>,
    /// The tubes, bank by bank; a tower is one tube.
    pub tubes: Vec<Tube>,
}

/// One planting hole.
#[derive(Debug, Clone, PartialEq)]
pub struct PlantingHole {
    /// Its name: bank, tube and number, the latter two counted from 1, such as `deck-2-5`.
    pub id: String,
    /// Index of its loop in the garden.
    pub r#loop: usize,
    /// Index of its bank, counted over the garden.
    pub bank: usize,
    /// Index of its tube in [`Layout::tubes`].
    pub tube: usize,
    /// Its number along the tube, with the water; in a tower row by row from the top. From 1.
    pub number: u32,
    /// In a tower, the face that it looks out of, counted from 1 (the front).
    pub face: Option<u32>,
    /// In a tower, the row, counted from 1 (the top).
    pub row: Option<u32>,
    /// Where its plant's canopy is centred \[m\], in the bank's frame: `x`, `y`, `z`.
    pub position: [f64; 3],
    /// How tall a plant may grow before it meets what is above; any height if absent.
    pub headroom: Option<Length>,
}

/// One tube.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tube {
    /// Its name: bank and number counted from 1, such as `deck-2`.
    pub name: String,
    /// Index of its loop in the garden.
    pub r#loop: usize,
    /// Index of its bank, counted over the garden.
    pub bank: usize,
    /// Index of its first hole in [`Layout::holes`].
    pub first: usize,
    /// How many holes it has.
    pub count: usize,
}

/// Two holes near each other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HolePair {
    /// The hole of lower index in [`Layout::holes`].
    pub a: usize,
    /// The other.
    pub b: usize,
    /// From canopy centre to canopy centre.
    pub distance: Length,
    /// Next to each other in one tube; in a tower, in the next row of the same face.
    pub side_by_side: bool,
}

/// The holes of a garden.
#[must_use]
pub fn layout(garden: &Garden) -> Layout {
    layout_of_loops(&garden.loops)
}

/// The holes of these loops.
///
/// Along a tube there is room for `length / hole_every` holes, rounded down, and always for one;
/// the row sits in the middle of the tube. See [`bank_hole_count`] for the number before they are made.
#[must_use]
pub fn layout_of_loops(loops: &[Loop]) -> Layout {
    let mut layout = Layout {
        holes: Vec::new(),
        tubes: Vec::new(),
    };
    let banks = loops
        .iter()
        .enumerate()
        .flat_map(|(at, l)| l.banks.iter().map(move |bank| (at, bank)));
    for (bank_at, (loop_at, bank)) in banks.enumerate() {
        for tube in 0..tube_count(bank) {
            layout.add_tube(loop_at, bank_at, bank, tube);
        }
    }
    layout
}

/// The bank of a tube, by its name.
#[must_use]
pub fn bank_of_tube(tube: &str) -> Option<&str> {
    tube.rsplit_once('-').map(|(bank, _)| bank)
}

/// The bank of a hole, by its name.
#[must_use]
pub fn bank_of(hole: &str) -> Option<&str> {
    bank_of_tube(bank_of_tube(hole)?)
}

/// How many holes a bank has, without making them. At [`u64::MAX`] it stops counting.
#[must_use]
pub fn bank_hole_count(bank: &Bank) -> u64 {
    let around = match bank.form {
        BankForm::Level { .. } | BankForm::Wall { .. } => 1,
        BankForm::Tower { faces, .. } => faces,
    };
    row_count(bank)
        .saturating_mul(around.into())
        .saturating_mul(tube_count(bank).into())
}

/// Pairs of holes at most `within` apart, and all that are side by side however far apart, in
/// rising order of `a`, then `b`.
///
/// Holes are looked for in a grid of cells `within` wide, so the work grows with the number of
/// holes and of pairs found, not with the square of the holes.
#[must_use]
pub fn neighbour_pairs(layout: &Layout, within: Length) -> Vec<HolePair> {
    let cell_size = within.get().max(0.0) + 2.0 / MICROMETRES_PER_METRE;
    let grid = Grid::new(&layout.holes, cell_size);
    let mut pairs = Vec::new();
    for (a, hole) in layout.holes.iter().enumerate() {
        let from = pairs.len();
        let beside = next_in_tube(layout, a);
        let around = grid
            .neighbours_of(hole)
            .filter(|&b| b > a && Some(b) != beside);
        for b in around.chain(beside) {
            let side_by_side = Some(b) == beside;
            let distance = distance(hole, &layout.holes[b]);
            if side_by_side || distance <= within {
                pairs.push(HolePair {
                    a,
                    b,
                    distance,
                    side_by_side,
                });
            }
        }
        pairs[from..].sort_unstable_by_key(|pair| pair.b);
    }
    pairs
}

impl Layout {
    fn add_tube(&mut self, loop_at: usize, bank_at: usize, bank: &Bank, tube: u32) {
        let name = format!("{}-{}", bank.name, tube + 1);
        let first = self.holes.len();
        let spots: Vec<HolePlace> = match bank.form {
            BankForm::Level { headroom, .. } => level_places(bank, tube, headroom).collect(),
            BankForm::Wall { top, .. } => wall_places(bank, tube, top).collect(),
            BankForm::Tower { faces, .. } => tower_places(bank, tube, faces).collect(),
        };
        for (number, spot) in (1..).zip(spots) {
            self.holes.push(PlantingHole {
                id: format!("{name}-{number}"),
                r#loop: loop_at,
                bank: bank_at,
                tube: self.tubes.len(),
                number,
                face: spot.face,
                row: spot.row,
                position: spot.position,
                headroom: spot.headroom,
            });
        }
        self.tubes.push(Tube {
            name,
            r#loop: loop_at,
            bank: bank_at,
            first,
            count: self.holes.len() - first,
        });
    }
}

/// A place for one hole, before it has its name.
struct HolePlace {
    position: [f64; 3],
    face: Option<u32>,
    row: Option<u32>,
    headroom: Option<Length>,
}

/// Tubes lie beside each other, the first at the front, their centre lines at `z = 0`.
fn level_places(
    bank: &Bank,
    tube: u32,
    headroom: Option<Length>,
) -> impl Iterator<Item = HolePlace> {
    let y = f64::from(tube) * tube_gap(bank);
    let z = bank.bore.get() / 2.0;
    hole_offsets(bank).map(move |x| HolePlace {
        position: [x, y, z],
        face: None,
        row: None,
        headroom,
    })
}

/// Tubes hang one below another, `z = 0` being the floor. The water, and with it the numbers,
/// runs along the top tube, drops, and comes back along the next.
fn wall_places(bank: &Bank, tube: u32, top: Length) -> impl Iterator<Item = HolePlace> {
    let gap = tube_gap(bank);
    let z = top.get() - f64::from(tube) * gap + bank.bore.get() / 2.0;
    // From the top of one tube to the underside of the tube above it.
    let headroom = (tube > 0).then(|| Length::metres((gap - bank.bore.get()).max(0.0)));
    let backwards = tube % 2 == 1;
    let end = tube_length(bank);
    hole_offsets(bank).map(move |x| HolePlace {
        position: [if backwards { end - x } else { x }, 0.0, z],
        face: None,
        row: None,
        headroom,
    })
}

/// Towers stand in a row along `x`, their feet at `z = 0`. Face 1 looks to the front (`-y`); the
/// others follow counter-clockwise as seen from above.
///
/// Cups are set at 45 degrees and a plant leans out with its cup, as far out as up. When it is
/// `hole_every * sqrt 2` long, its tip is level with the cup above: the longest that fits.
fn tower_places(bank: &Bank, tower: u32, faces: u32) -> impl Iterator<Item = HolePlace> {
    let height = tube_length(bank);
    let axis = f64::from(tower) * tube_gap(bank);
    let out = bank.bore.get() / 2.0 + CUP_REACH_METRES;
    let lean = Length::metres(bank.hole_spacing.get() * SQRT_2);
    (1..).zip(hole_offsets(bank)).flat_map(move |(row, down)| {
        (1..=faces).map(move |face| {
            let turn = TAU * f64::from(face - 1) / f64::from(faces);
            HolePlace {
                position: [
                    axis + out * libm::sin(turn),
                    -out * libm::cos(turn),
                    height - down,
                ],
                face: Some(face),
                row: Some(row),
                headroom: (row > 1).then_some(lean),
            }
        })
    })
}

/// Distances of a tube's holes (a tower's rows) from its beginning \[m\]: the row is centred.
fn hole_offsets(bank: &Bank) -> impl Iterator<Item = f64> + use<> {
    let pitch = bank.hole_spacing.get();
    let rows = row_count(bank);
    #[allow(clippy::cast_precision_loss)]
    let margin = (tube_length(bank) - (rows - 1) as f64 * pitch) / 2.0;
    #[allow(clippy::cast_precision_loss)]
    (0..rows).map(move |i| margin + i as f64 * pitch)
}

/// Holes along a tube, rows up a tower.
fn row_count(bank: &Bank) -> u64 {
    // 1.2 m hold eight times 15 cm, though the division says 7.999...
    let fit = (tube_length(bank) / bank.hole_spacing.get() + 1e-9).floor();
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let fit = fit as u64;
    fit.max(1)
}

/// Length of a tube, height of a tower \[m\].
fn tube_length(bank: &Bank) -> f64 {
    match bank.form {
        BankForm::Level { length, .. } | BankForm::Wall { length, .. } => length.get(),
        BankForm::Tower { height, .. } => height.get(),
    }
}

/// Between the centre lines of neighbouring tubes \[m\].
fn tube_gap(bank: &Bank) -> f64 {
    match bank.form {
        BankForm::Level { tube_gap, .. }
        | BankForm::Wall { tube_gap, .. }
        | BankForm::Tower { tube_gap, .. } => tube_gap.get(),
    }
}

fn tube_count(bank: &Bank) -> u32 {
    match bank.form {
        BankForm::Level { tubes, .. } | BankForm::Wall { tubes, .. } => tubes,
        BankForm::Tower { towers, .. } => towers,
    }
}

/// The hole that follows in the same tube, or below on the same face of a tower.
fn next_in_tube(layout: &Layout, a: usize) -> Option<usize> {
    let hole = &layout.holes[a];
    let tube = &layout.tubes[hole.tube];
    let faces = layout.holes[tube.first..tube.first + tube.count]
        .iter()
        .take_while(|h| h.row == Some(1))
        .count();
    let next = a + faces.max(1);
    (next < tube.first + tube.count).then_some(next)
}

fn distance(a: &PlantingHole, b: &PlantingHole) -> Length {
    let square = |i: usize| (a.position[i] - b.position[i]) * (a.position[i] - b.position[i]);
    let apart = (square(0) + square(1) + square(2)).sqrt();
    Length::metres((apart * MICROMETRES_PER_METRE).round() / MICROMETRES_PER_METRE)
}

/// Holes by bank and cell.
struct Grid {
    cell_size: f64,
    cells: BTreeMap<(usize, [i64; 3]), Vec<usize>>,
}

impl Grid {
    fn new(holes: &[PlantingHole], cell_size: f64) -> Self {
        let mut grid = Self {
            cell_size,
            cells: BTreeMap::new(),
        };
        for (index, hole) in holes.iter().enumerate() {
            let key = (hole.bank, grid.cell(hole));
            grid.cells.entry(key).or_default().push(index);
        }
        grid
    }

    fn cell(&self, hole: &PlantingHole) -> [i64; 3] {
        #[allow(clippy::cast_possible_truncation)]
        hole.position.map(|m| (m / self.cell_size).floor() as i64)
    }

    /// Holes of the same bank in the hole's cell and the 26 around it.
    fn neighbours_of(&self, hole: &PlantingHole) -> impl Iterator<Item = usize> {
        let bank = hole.bank;
        let [x, y, z] = self.cell(hole);
        let columns = (x - 1..=x + 1).flat_map(move |x| (y - 1..=y + 1).map(move |y| (x, y)));
        columns
            .flat_map(move |(x, y)| {
                self.cells
                    .range((bank, [x, y, z - 1])..=(bank, [x, y, z + 1]))
            })
            .flat_map(|(_, holes)| holes.iter().copied())
    }
}
