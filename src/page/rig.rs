//! The rig drawn to scale, in millimetres: a level from above, a wall from the front, a tower
//! unrolled face beside face.

use std::f64::consts::TAU;

use crate::garden::Garden;
use crate::garden::holes::{Layout, PlantingHole, Tube};
use crate::garden::rig::{Bank, BankForm};
use crate::messages::words::Texts;
use crate::nature::canopy::{self, Canopy};
use crate::page::crop_styles::{CropStyle, CropStyles};

/// Room around what is drawn, at the least [mm].
const MARGIN_MM: i64 = 110;
/// Columns of a letter in a tube's name [mm].
const LETTER_COLUMN_MM: i64 = 27;
/// Height of the line that tells a tower's faces [mm].
const FACE_LINE_MM: i64 = 70;
/// Pixels that a metre takes on the screen: at the least, so that letters can be read, usually,
/// and at the most.
const PIXELS_A_METRE: [i64; 3] = [235, 300, 500];

/// One bank's picture.
#[derive(Debug, Clone)]
pub(super) struct BankPicture {
    pub(super) name: String,
    /// How it is looked at.
    pub(super) view: String,
    /// What stands below the picture, such as `front`.
    pub(super) foot: String,
    pub(super) left: i64,
    pub(super) top: i64,
    pub(super) width: i64,
    pub(super) height: i64,
    pub(super) tubes: Vec<TubePicture>,
    /// Words on it: names of tubes and faces.
    pub(super) notes: Vec<PictureLabel>,
    pub(super) holes: Vec<HolePicture>,
}

/// The outline of a tube.
#[derive(Debug, Clone)]
pub(super) struct TubePicture {
    /// Its number over the garden.
    pub(super) index: usize,
    pub(super) x: i64,
    pub(super) y: i64,
    pub(super) width: i64,
    pub(super) height: i64,
}

/// A word in the picture.
#[derive(Debug, Clone)]
pub(super) struct PictureLabel {
    pub(super) x: i64,
    pub(super) y: i64,
    pub(super) text: String,
    /// Set from its end, not from its middle.
    pub(super) at_end: bool,
}

/// A hole, and the plant in it.
#[derive(Debug, Clone)]
pub(super) struct HolePicture {
    /// Its number over the garden.
    pub(super) index: usize,
    pub(super) id: String,
    pub(super) number: u32,
    pub(super) x: i64,
    pub(super) y: i64,
    /// Where its number stands.
    pub(super) number_y: i64,
    pub(super) plant: Option<PlantPicture>,
}

/// A plant on the day drawn.
#[derive(Debug, Clone)]
pub(super) struct PlantPicture {
    pub(super) look: CropStyle,
    /// Canopy radius [mm].
    pub(super) radius: i64,
    /// It gives a harvest in the day's week.
    pub(super) due: bool,
}

impl BankPicture {
    /// Least, usual and greatest width on the screen [px].
    pub(super) fn pixels(&self) -> [i64; 3] {
        PIXELS_A_METRE.map(|a_metre| self.width * a_metre / 1000)
    }
}

/// All banks; `plant` tells what stands in a hole.
pub(super) fn banks(
    garden: &Garden,
    layout: &Layout,
    words: &Texts,
    plant: &dyn Fn(usize) -> Option<PlantPicture>,
) -> Vec<BankPicture> {
    let radii = garden.crops.iter().map(|crop| &crop.size);
    let radii = radii.map(|size| Canopy::from_size(size).diameter(canopy::MAX_DEVELOPMENT) / 2.0);
    let widest = radii.fold(0.0, f64::max);
    garden
        .loops
        .iter()
        .flat_map(|l| &l.banks)
        .enumerate()
        .map(|(at, bank)| {
            let holes = layout.holes.iter().enumerate();
            let tubes = layout.tubes.iter().enumerate();
            BankDrawing {
                bank,
                words,
                margin: MARGIN_MM.max(millimetres(widest - depth_in_tube(bank))),
                holes: holes.filter(|(_, h)| h.bank == at).collect(),
                tubes: tubes.filter(|(_, t)| t.bank == at).collect(),
            }
            .picture(plant)
        })
        .collect()
}

/// How far within its tube's outline a plant stands [m]: in a wall's on the upper edge.
fn depth_in_tube(bank: &Bank) -> f64 {
    match bank.form {
        BankForm::Wall { .. } => 0.0,
        BankForm::Level { .. } | BankForm::Tower { .. } => bank.bore.get() / 2.0,
    }
}

/// A plant of a crop.
pub(super) fn plant(styles: &CropStyles, crop: &str, radius: i64, due: bool) -> PlantPicture {
    PlantPicture {
        look: styles.of(crop).1.clone(),
        radius,
        due,
    }
}

struct BankDrawing<'a> {
    bank: &'a Bank,
    words: &'a Texts,
    /// Room for the widest plants around the tubes [mm].
    margin: i64,
    holes: Vec<(usize, &'a PlantingHole)>,
    tubes: Vec<(usize, &'a Tube)>,
}

/// A point in the picture's plane [m]: to the right, and down.
type Point = (f64, f64);

impl BankDrawing<'_> {
    fn picture(&self, plant: &dyn Fn(usize) -> Option<PlantPicture>) -> BankPicture {
        let words = self.words;
        let is_tower = matches!(self.bank.form, BankForm::Tower { .. });
        let (view, foot) = match self.bank.form {
            BankForm::Level { .. } => (words.t("from-above"), words.t("front")),
            BankForm::Wall { .. } => (words.t("from-front"), words.t("floor")),
            BankForm::Tower { .. } => (words.t("unrolled"), String::new()),
        };
        let holes: Vec<HolePicture> = self
            .holes
            .iter()
            .map(|&(index, hole)| self.hole(index, hole, plant(index)))
            .collect();
        let tubes: Vec<TubePicture> = if is_tower {
            self.holes
                .iter()
                .filter(|(_, h)| h.row == Some(1))
                .map(|(_, h)| self.face(h))
                .collect()
        } else {
            self.tubes
                .iter()
                .enumerate()
                .map(|(row, &(index, _))| self.tube(row, index))
                .collect()
        };
        let notes = if is_tower { self.faces() } else { self.names() };
        let names = notes.iter().filter(|n| n.at_end);
        let left_room = names
            .map(|n| char_count(&n.text) * LETTER_COLUMN_MM)
            .max()
            .unwrap_or(0);
        let xs = tubes.iter().flat_map(|t| [t.x, t.x + t.width]);
        let ys = tubes.iter().flat_map(|t| [t.y, t.y + t.height]);
        let (x0, x1) = min_max(xs);
        let (y0, y1) = min_max(ys);
        let margin = self.margin;
        let left = x0 - left_room - if is_tower { margin } else { margin / 2 };
        let top = y0
            - if is_tower {
                MARGIN_MM / 2 + 2 * FACE_LINE_MM
            } else {
                margin
            };
        BankPicture {
            name: self.bank.name.clone(),
            view,
            foot,
            left,
            top,
            width: x1 + margin - left,
            height: y1 + margin - top,
            tubes,
            notes,
            holes,
        }
    }

    fn hole(&self, index: usize, hole: &PlantingHole, plant: Option<PlantPicture>) -> HolePicture {
        let (x, y) = self.point(hole);
        HolePicture {
            index,
            id: hole.id.clone(),
            number: hole.number,
            x: millimetres(x),
            y: millimetres(y),
            number_y: millimetres(y) + self.below(),
            plant,
        }
    }

    /// How far below a hole its number stands [mm].
    fn below(&self) -> i64 {
        match self.bank.form {
            BankForm::Level { .. } => millimetres(self.bank.bore.get() / 2.0) + 34,
            BankForm::Wall { .. } => millimetres(self.bank.bore.get()) + 34,
            BankForm::Tower { .. } => 92,
        }
    }

    fn point(&self, hole: &PlantingHole) -> Point {
        let [x, y, z] = hole.position;
        match self.bank.form {
            // The front tube is nearest to who looks from above.
            BankForm::Level { .. } => (x, -y),
            BankForm::Wall { .. } => (x, -z),
            BankForm::Tower { faces, .. } => {
                let face = hole.face.unwrap_or(1) - 1;
                let tower = self.tower_of(hole);
                let across = (tower * f64::from(faces + 1) + f64::from(face)) * self.face_width();
                (across, -z)
            }
        }
    }

    /// The tower's number in its bank, from 0.
    #[allow(clippy::cast_precision_loss)]
    fn tower_of(&self, hole: &PlantingHole) -> f64 {
        let first = self.tubes.first().map_or(0, |t| t.0);
        (hole.tube - first) as f64
    }

    /// How wide a tower's face is unrolled, at the circle on which its plants stand \[m\].
    fn face_width(&self) -> f64 {
        let BankForm::Tower { faces, .. } = self.bank.form else {
            return 0.0;
        };
        let front = self.holes.iter().find(|(_, h)| h.face == Some(1));
        let out = front.map_or(0.0, |(_, h)| -h.position[1]);
        TAU * out / f64::from(faces)
    }

    /// A level's or wall's tube, the `row`-th of its bank.
    fn tube(&self, row: usize, index: usize) -> TubePicture {
        let bore = self.bank.bore.get();
        let (length, middle) = match self.bank.form {
            BankForm::Level {
                length, tube_gap, ..
            } => (length.get(), -to_f64(row) * tube_gap.get()),
            BankForm::Wall {
                length,
                tube_gap,
                top,
                ..
            } => (length.get(), to_f64(row) * tube_gap.get() - top.get()),
            BankForm::Tower { .. } => (0.0, 0.0),
        };
        TubePicture {
            index,
            x: 0,
            y: millimetres(middle - bore / 2.0),
            width: millimetres(length),
            height: millimetres(bore),
        }
    }

    /// One face of a tower, from the hole in its top row.
    fn face(&self, hole: &PlantingHole) -> TubePicture {
        let bore = self.bank.bore.get();
        let BankForm::Tower { height, .. } = self.bank.form else {
            return self.tube(0, hole.tube);
        };
        TubePicture {
            index: hole.tube,
            x: millimetres(self.point(hole).0 - bore / 2.0),
            y: millimetres(-height.get()),
            width: millimetres(bore),
            height: millimetres(height.get()),
        }
    }

    /// Names of tubes at their left ends.
    fn names(&self) -> Vec<PictureLabel> {
        self.tubes
            .iter()
            .enumerate()
            .map(|(row, (index, tube))| {
                let drawn = self.tube(row, *index);
                PictureLabel {
                    x: drawn.x - 30,
                    y: drawn.y + drawn.height / 2,
                    text: tube.name.clone(),
                    at_end: true,
                }
            })
            .collect()
    }

    /// Names of towers above the middle of their faces, and every face's number.
    fn faces(&self) -> Vec<PictureLabel> {
        let top = self.holes.iter().filter(|(_, h)| h.row == Some(1));
        let mut notes = Vec::new();
        for (_, hole) in top {
            let face = self.face(hole);
            let middle = face.x + face.width / 2;
            notes.push(PictureLabel {
                x: middle,
                y: face.y - FACE_LINE_MM / 2,
                text: format!("{} {}", self.words.t("face"), hole.face.unwrap_or(1)),
                at_end: false,
            });
            if hole.face == Some(1) {
                let BankForm::Tower { faces, .. } = self.bank.form else {
                    continue;
                };
                let beside = millimetres(self.face_width() * f64::from(faces - 1) / 2.0);
                let tube = self.tubes.iter().find(|(index, _)| *index == hole.tube);
                notes.push(PictureLabel {
                    x: middle + beside,
                    y: face.y - FACE_LINE_MM * 3 / 2,
                    text: tube.map_or_else(String::new, |(_, t)| t.name.clone()),
                    at_end: false,
                });
            }
        }
        notes
    }
}

#[allow(clippy::cast_possible_truncation)]
pub(super) fn millimetres(metres: f64) -> i64 {
    (metres * 1000.0).round() as i64
}

#[allow(clippy::cast_precision_loss)]
fn to_f64(n: usize) -> f64 {
    n as f64
}

fn char_count(text: &str) -> i64 {
    i64::try_from(text.chars().count()).unwrap_or(i64::MAX / LETTER_COLUMN_MM)
}

fn min_max(values: impl Iterator<Item = i64> + Clone) -> (i64, i64) {
    (values.clone().min().unwrap_or(0), values.max().unwrap_or(0))
}
