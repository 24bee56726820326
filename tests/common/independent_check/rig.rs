//! Where every hole is, from the measures of its bank.

use steadyleaf::garden::Garden;
use steadyleaf::garden::rig::{Bank, BankForm};

/// How far a plant stands out from a tower's wall \[m\]: a slanted cup's reach (common practice,
/// no published source).
const REACH: f64 = 0.08;

/// A planting hole.
pub struct Hole {
    pub name: String,
    /// Its bank and tube, such as `deck-2`.
    pub tube: String,
    pub bank: String,
    /// Index of the loop that feeds it.
    pub r#loop: usize,
    /// Share of the cover's light that reaches it.
    pub light: f64,
    /// What may stand in it at the tallest \[m\].
    pub tallest: f64,
    /// Where its plant is \[m\]; of one bank only.
    at: [f64; 3],
    /// Where it is in its tube: the column (a tower's face) and the place in it.
    column: u32,
    place: u32,
}

impl Hole {
    /// From plant to plant \[m\]; plants of different banks never meet.
    pub fn distance(&self, other: &Self) -> f64 {
        if self.bank != other.bank {
            return f64::INFINITY;
        }
        let [x, y, z] = [0, 1, 2].map(|i| self.at[i] - other.at[i]);
        x.hypot(y).hypot(z)
    }

    /// Next to each other in one tube, or one below the other on a tower's face.
    pub fn is_beside(&self, other: &Self) -> bool {
        self.tube == other.tube
            && self.column == other.column
            && self.place.abs_diff(other.place) == 1
    }
}

/// Every hole of a garden.
pub fn holes(garden: &Garden) -> Vec<Hole> {
    let mut holes = Vec::new();
    for (r#loop, of_loop) in garden.loops.iter().enumerate() {
        for bank in &of_loop.banks {
            put(&mut holes, r#loop, bank);
        }
    }
    holes
}

fn put(holes: &mut Vec<Hole>, r#loop: usize, bank: &Bank) {
    let pitch = bank.hole_spacing.get();
    let (tubes, run, faces) = match bank.form {
        BankForm::Level { tubes, length, .. } | BankForm::Wall { tubes, length, .. } => {
            (tubes, length.get(), 1)
        }
        BankForm::Tower {
            towers,
            height,
            faces,
            ..
        } => (towers, height.get(), faces),
    };
    // As many as fit whole, and one in any case.
    let in_row = (2..)
        .take_while(|&n| f64::from(n) * pitch <= run + 1e-6)
        .last()
        .unwrap_or(1);
    for tube in 0..tubes {
        let mut number = 0;
        for place in 0..in_row {
            for face in 0..faces {
                number += 1;
                let along = f64::from(place) * pitch;
                // Water winds down a wall, and numbers with it.
                let back = f64::from(in_row - 1 - place) * pitch;
                let (at, tallest) = match bank.form {
                    BankForm::Level {
                        tube_gap, headroom, ..
                    } => (
                        [along, f64::from(tube) * tube_gap.get(), 0.0],
                        headroom.map_or(f64::INFINITY, |h| h.get()),
                    ),
                    BankForm::Wall { tube_gap, .. } => (
                        [
                            if tube % 2 == 0 { along } else { back },
                            0.0,
                            -f64::from(tube) * tube_gap.get(),
                        ],
                        if tube == 0 {
                            f64::INFINITY
                        } else {
                            (tube_gap.get() - bank.bore.get()).max(0.0)
                        },
                    ),
                    BankForm::Tower { tube_gap, .. } => {
                        let out = bank.bore.get() / 2.0 + REACH;
                        let turn = (360.0 / f64::from(faces) * f64::from(face)).to_radians();
                        let x = f64::from(tube) * tube_gap.get() + out * turn.sin();
                        // A plant leans out at 45 degrees, as far as to the cup above.
                        let lean = (pitch * pitch * 2.0).sqrt();
                        (
                            [x, -out * turn.cos(), -along],
                            if place == 0 { f64::INFINITY } else { lean },
                        )
                    }
                };
                holes.push(Hole {
                    name: format!("{}-{}-{number}", bank.name, tube + 1),
                    tube: format!("{}-{}", bank.name, tube + 1),
                    bank: bank.name.clone(),
                    r#loop,
                    light: bank.light_share.get(),
                    tallest,
                    at,
                    column: face,
                    place,
                });
            }
        }
    }
}
