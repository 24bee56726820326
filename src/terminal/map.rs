//! The rig drawn hole by hole, as it stands on a day.
//!
//! Level tubes are drawn from the front to the back, wall tubes from the top down as one looks
//! at them (so every second tube's holes count from the right), towers with a column a face.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::garden::Garden;
use crate::garden::holes::{self, Layout, PlantingHole};
use crate::garden::rig::{Bank, BankForm};
use crate::summary::codes::crop_codes;
use crate::summary::snapshot::{HoleOnDay, PlantOnDay};
use crate::terminal::table::{Align, align_columns, pad, width};
use crate::terminal::words::{crop_name, faint, long_date, strong};

/// Columns of one hole, the gap behind it included.
const HOLE_COLUMNS: usize = 7;
/// How grown a plant is, by quarters.
const QUARTER_MARKS: [char; 4] = ['░', '▒', '▓', '█'];
/// A plant that gives a harvest in the week.
const HARVEST_MARK: char = '*';

/// The whole rig on `day`; `holes` as [`standing`](crate::summary::snapshot::snapshot) tells
/// them, drawn no wider than `wide` columns where that is possible.
#[must_use]
pub fn render_map(holes: &[HoleOnDay], garden: &Garden, day: NaiveDate, wide: usize) -> String {
    let layout = holes::layout(garden);
    let drawing = MapDrawing::new(holes, garden, &layout, wide);
    let title = format!("{} on {}", garden.name, long_date(day));
    let banks: String = garden
        .loops
        .iter()
        .flat_map(|l| &l.banks)
        .enumerate()
        .map(|(at, bank)| format!("\n{}", drawing.bank(at, bank)))
        .collect();
    format!("{}\n{banks}\n{}", strong(&title), drawing.legend(garden))
}

struct MapDrawing<'a> {
    layout: &'a Layout,
    plants: BTreeMap<&'a str, &'a PlantOnDay>,
    codes: BTreeMap<&'a str, String>,
    wide: usize,
}

impl<'a> MapDrawing<'a> {
    fn new(holes: &'a [HoleOnDay], garden: &'a Garden, layout: &'a Layout, wide: usize) -> Self {
        let plants: BTreeMap<&str, &PlantOnDay> = holes
            .iter()
            .filter_map(|hole| Some((hole.hole.as_str(), hole.plant.as_ref()?)))
            .collect();
        let mut keys: Vec<&str> = garden.crops.iter().map(|c| c.key.as_str()).collect();
        // A crop that the garden no longer names may still stand in an older plan.
        keys.extend(plants.values().map(|p| p.crop.as_str()));
        keys.sort_unstable();
        keys.dedup();
        Self {
            layout,
            plants,
            codes: crop_codes(keys).into_iter().collect(),
            wide,
        }
    }

    fn bank(&self, at: usize, bank: &Bank) -> String {
        let holes: Vec<&PlantingHole> = self.layout.holes.iter().filter(|h| h.bank == at).collect();
        let (form, rows) = match &bank.form {
            BankForm::Level { .. } => ("level, front tube first", self.tubes(at, &holes)),
            BankForm::Wall { .. } => ("wall, water enters at the top left", self.tubes(at, &holes)),
            BankForm::Tower { .. } => (
                "tower, top row first, a column a face",
                self.towers(at, &holes),
            ),
        };
        let drawn: String = rows.iter().map(|row| self.row(row)).collect();
        format!("{} ({form})\n{drawn}", strong(&bank.name))
    }

    /// A row for every tube, from left to right in space.
    fn tubes(&self, bank: usize, holes: &[&'a PlantingHole]) -> Vec<HoleRow<'a>> {
        self.tubes_of(bank)
            .map(|(at, name)| {
                let mut along: Vec<&PlantingHole> =
                    holes.iter().filter(|h| h.tube == at).copied().collect();
                along.sort_by(|a, b| a.position[0].total_cmp(&b.position[0]));
                let counts_down = along.len() > 1 && along[0].number > along[1].number;
                HoleRow {
                    name: format!("{name}{}", if counts_down { " <" } else { " >" }),
                    holes: along,
                }
            })
            .collect()
    }

    /// A row for every row of holes around, a face after the other.
    fn towers(&self, bank: usize, holes: &[&'a PlantingHole]) -> Vec<HoleRow<'a>> {
        self.tubes_of(bank)
            .flat_map(|(at, name)| {
                let around: Vec<&PlantingHole> =
                    holes.iter().filter(|h| h.tube == at).copied().collect();
                around
                    .chunk_by(|a, b| a.row == b.row)
                    .map(|row| HoleRow {
                        name: format!("{name} {}-{}", row[0].number, row[row.len() - 1].number),
                        holes: row.to_vec(),
                    })
                    .collect::<Vec<_>>()
            })
            .collect()
    }

    fn tubes_of(&self, bank: usize) -> impl Iterator<Item = (usize, &'a str)> {
        let tubes = self.layout.tubes.iter().enumerate();
        tubes
            .filter(move |(_, tube)| tube.bank == bank)
            .map(|(at, tube)| (at, tube.name.as_str()))
    }

    /// A row, in as many stretches as the width asks for.
    fn row(&self, row: &HoleRow<'a>) -> String {
        let names = self.name_width();
        let a_stretch = (self.wide.saturating_sub(names) / HOLE_COLUMNS).max(1);
        row.holes
            .chunks(a_stretch)
            .enumerate()
            .map(|(at, stretch)| {
                let name = if at == 0 {
                    row.name.clone()
                } else {
                    format!("  from {}", stretch[0].number)
                };
                let plants = stretch
                    .iter()
                    .map(|hole| self.plants.get(&*hole.id).copied());
                let (upper, lower): (Vec<_>, Vec<_>) = plants.map(|plant| self.cell(plant)).unzip();
                let line = |head: &str, cells: Vec<String>| {
                    let head = pad(head, Align::Left, names);
                    format!("{}\n", format!("{head}{}", cells.concat()).trim_end())
                };
                let lower = line("", lower);
                line(&format!("  {name}"), upper) + lower.trim_start_matches('\n')
            })
            .collect()
    }

    /// Columns for the names of the rows.
    fn name_width(&self) -> usize {
        // The longest that a row adds to its tube's name is the numbers of a tower's holes.
        let longest = self.layout.tubes.iter().map(|tube| {
            let digits = tube.count.to_string().len();
            width(&tube.name) + 2 * digits + 2
        });
        longest.max().unwrap_or(0).max("  from 100".len()) + 4
    }

    /// Two lines for one hole: crop and growth above, percent below.
    fn cell(&self, plant: Option<&PlantOnDay>) -> (String, String) {
        let Some(plant) = plant else {
            return (
                pad("·", Align::Left, HOLE_COLUMNS),
                " ".repeat(HOLE_COLUMNS),
            );
        };
        let code = self.codes.get(&*plant.crop).map_or("?", String::as_str);
        let harvest = if plant.harvest_this_week.is_some() {
            HARVEST_MARK.to_string()
        } else {
            String::new()
        };
        let (fill, percent) = plant.grown.map_or(('?', String::new()), |grown| {
            (
                quarter_mark(grown),
                format!("{:.0} %", (grown * 100.0 + 1e-9).floor()),
            )
        });
        let upper = format!("{code}{fill}{harvest}");
        let upper = if harvest.is_empty() {
            upper
        } else {
            strong(&upper)
        };
        (
            pad(&upper, Align::Left, HOLE_COLUMNS),
            pad(&percent, Align::Left, HOLE_COLUMNS),
        )
    }

    fn legend(&self, garden: &Garden) -> String {
        let mut counts = BTreeMap::<&str, usize>::new();
        for plant in self.plants.values() {
            *counts.entry(&plant.crop).or_default() += 1;
        }
        let mut rows: Vec<Vec<String>> = counts
            .iter()
            .map(|(&key, count)| {
                let code = self.codes.get(key).map_or("?", String::as_str);
                vec![
                    format!("  {code}"),
                    crop_name(garden, key).to_owned(),
                    count.to_string(),
                ]
            })
            .collect();
        let empty = self.layout.holes.len() - self.plants.len();
        if empty > 0 {
            rows.push(vec![
                "  ·".to_owned(),
                "empty".to_owned(),
                empty.to_string(),
            ]);
        }
        let [first, second, third, last] = QUARTER_MARKS;
        let marks = [
            format!(
                "  grown: {first} up to a quarter  {second} to half  {third} to three quarters  {last} more"
            ),
            format!(
                "  100 %: ripe   {HARVEST_MARK} gives a harvest this week   > < the way the holes count"
            ),
        ];
        let marks: String = marks
            .iter()
            .flat_map(|line| fold_marks(line, self.wide))
            .collect();
        align_columns(&[Align::Left, Align::Left, Align::Right], &rows) + &marks
    }
}

/// A line of marks, folded between them to so many columns.
fn fold_marks(line: &str, wide: usize) -> Vec<String> {
    if width(line) <= wide {
        return vec![format!("{}\n", faint(line))];
    }
    let marks = line.trim().split("  ").map(str::trim);
    marks
        .filter(|mark| !mark.is_empty())
        .map(|mark| format!("{}\n", faint(&format!("  {mark}"))))
        .collect()
}

/// Holes drawn in one line.
struct HoleRow<'a> {
    name: String,
    holes: Vec<&'a PlantingHole>,
}

fn quarter_mark(grown: f64) -> char {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let at = (grown.max(0.0) * 4.0 + 1e-9).floor() as usize;
    QUARTER_MARKS[at.min(3)]
}
