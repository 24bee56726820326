//! The columns of a weather file: what its first line names, and the cells beneath.

use crate::garden::weather::faults::Faults;
use crate::reader::bounds::Bounds;
use crate::reader::decode::suggestion_text;
use crate::reader::suggestion::{list_with_and, list_with_or, shorten};
use crate::units::{Hours, Quantity, Share, Temperature, Units, WindSpeed};

/// Help for who has yet to see a weather file.
pub(super) const EXAMPLE: &str = "the first line is `date,coldest,warmest`, the others are like `2024-03-01,7.5,16.8`, in degrees Celsius";

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum CsvColumn {
    Date,
    Coldest,
    Warmest,
    Humidity,
    Wind,
    Sun,
}

impl CsvColumn {
    pub(crate) const ALL: [Self; 6] = [
        Self::Date,
        Self::Coldest,
        Self::Warmest,
        Self::Humidity,
        Self::Wind,
        Self::Sun,
    ];

    /// How the first line names it.
    pub(crate) const fn name(self) -> &'static str {
        match self {
            Self::Date => "date",
            Self::Coldest => "coldest",
            Self::Warmest => "warmest",
            Self::Humidity => "humidity",
            Self::Wind => "wind",
            Self::Sun => "sun",
        }
    }

    /// Whether every file has it.
    pub(crate) const fn is_required(self) -> bool {
        matches!(self, Self::Date | Self::Coldest | Self::Warmest)
    }

    /// The units in which its numbers may be.
    pub(crate) fn units(self) -> Vec<&'static str> {
        match self {
            Self::Date => Vec::new(),
            Self::Coldest | Self::Warmest => Temperature::units(),
            Self::Humidity => Share::units(),
            Self::Wind => WindSpeed::units(),
            Self::Sun => Hours::units(),
        }
    }

    /// The unit of a column named without one, as in the garden file.
    pub(crate) const fn default_unit(self) -> Option<&'static str> {
        match self {
            Self::Coldest | Self::Warmest => Some("C"),
            Self::Sun => Some("h"),
            Self::Date => Some(""),
            Self::Humidity | Self::Wind => None,
        }
    }
}

/// One cell of a line.
#[derive(Debug, Clone, Copy)]
pub(super) struct CsvCell<'a> {
    /// What it says, without blanks and quotation marks around it.
    pub(super) text: &'a str,
    /// The byte of the line at which that begins.
    pub(super) at: usize,
}

/// The cells of a line.
pub(super) fn cells(line: &str) -> Vec<CsvCell<'_>> {
    let around = |c: char| c.is_whitespace() || c == '"';
    let mut at = 0;
    line.split(',')
        .map(|part| {
            let before = part.len() - part.trim_start_matches(around).len();
            let cell = CsvCell {
                text: part.trim_matches(around),
                at: at + before,
            };
            at += part.len() + 1;
            cell
        })
        .collect()
}

/// `1 column`, `3 columns`.
pub(super) fn format_column_count(columns: usize) -> String {
    let noun = if columns == 1 { "column" } else { "columns" };
    format!("{columns} {noun}")
}

/// The columns of a file in its order, each with the unit of its numbers.
pub(super) struct Header(Vec<(CsvColumn, &'static str)>);

impl Header {
    /// Reads the first line.
    pub(super) fn read(
        faults: &mut Faults<'_>,
        line: usize,
        cells: &[CsvCell<'_>],
    ) -> Option<Self> {
        let mut columns: Vec<(CsvColumn, &'static str)> = Vec::new();
        for cell in cells {
            let Some(column) = column(faults, line, *cell) else {
                continue;
            };
            if columns.iter().any(|(other, _)| *other == column.0) {
                let message = format!("there are two columns `{}`", column.0.name());
                faults.report_cell(line, Some(*cell), message, "keep one of the two");
            }
            columns.push(column);
        }
        let is_there = |column| columns.iter().any(|(c, _)| *c == column);
        let missing = CsvColumn::ALL
            .into_iter()
            .filter(|c| c.is_required() && !is_there(*c));
        let missing: Vec<&str> = missing.map(CsvColumn::name).collect();
        if faults.is_empty() && !missing.is_empty() {
            let message = format!(
                "the weather file has no {} {}",
                if missing.len() == 1 {
                    "column"
                } else {
                    "columns"
                },
                list_with_and(missing)
            );
            faults.report_line(line, message, EXAMPLE);
        }
        faults.is_empty().then_some(Self(columns))
    }

    pub(super) fn len(&self) -> usize {
        self.0.len()
    }

    pub(super) fn has(&self, column: CsvColumn) -> bool {
        self.0.iter().any(|(c, _)| *c == column)
    }

    /// Whether a line has a cell for every column, and no more.
    pub(super) fn has_as_many_cells(&self, cells: &[CsvCell<'_>]) -> bool {
        cells.len() == self.len()
    }

    /// The cell of a column.
    pub(super) fn cell<'a>(&self, column: CsvColumn, cells: &[CsvCell<'a>]) -> Option<CsvCell<'a>> {
        let at = self.0.iter().position(|(c, _)| *c == column)?;
        cells.get(at).copied()
    }

    /// A line whose numbers are to be read.
    pub(super) const fn row<'a, 'f, 's>(
        &'a self,
        faults: &'f mut Faults<'s>,
        line: usize,
        cells: &'a [CsvCell<'a>],
    ) -> CsvRow<'a, 'f, 's> {
        CsvRow {
            header: self,
            faults,
            line,
            cells,
        }
    }
}

/// One heading: a column and perhaps its unit, such as `wind m/s`.
fn column(
    faults: &mut Faults<'_>,
    line: usize,
    cell: CsvCell<'_>,
) -> Option<(CsvColumn, &'static str)> {
    let (name, unit) = cell.text.split_once(' ').unwrap_or((cell.text, ""));
    let names = || CsvColumn::ALL.into_iter().map(CsvColumn::name);
    let Some(column) = CsvColumn::ALL.into_iter().find(|c| c.name() == name) else {
        let near = suggestion_text(name, names());
        let all = format!(
            "the columns are {}, with a comma between them",
            list_with_and(names())
        );
        let help = if near.is_empty() { all } else { near };
        faults.report_cell(
            line,
            Some(cell),
            format!("`{}` is not a column of a weather file", shorten(cell.text)),
            help,
        );
        return None;
    };
    let known = match unit.trim() {
        "" => column.default_unit(),
        unit => {
            let unit = unit.trim_start_matches('°');
            let mut units = column.units().into_iter();
            units.find(|u| u.eq_ignore_ascii_case(unit))
        }
    };
    if known.is_none() {
        let like = column
            .units()
            .into_iter()
            .map(|unit| format!("{name} {unit}"));
        let like: Vec<String> = like.collect();
        let help = format!("write {}", list_with_or(like.iter().map(String::as_str)));
        let message = if unit.is_empty() {
            format!("the column `{name}` lacks the unit of its numbers")
        } else {
            format!("`{}` is not a unit of this column", shorten(unit))
        };
        faults.report_cell(line, Some(cell), message, help);
    }
    Some((column, known?))
}

/// A line whose numbers are being read.
pub(super) struct CsvRow<'a, 'f, 's> {
    header: &'a Header,
    faults: &'f mut Faults<'s>,
    line: usize,
    cells: &'a [CsvCell<'a>],
}

impl CsvRow<'_, '_, '_> {
    /// The number of a column, in the column's unit and inside its bounds. A column that need
    /// not be there may have gaps.
    pub(super) fn number<Q: Quantity>(
        &mut self,
        column: CsvColumn,
        within: &Bounds<Q>,
    ) -> Option<Q> {
        let at = self.header.0.iter().position(|(c, _)| *c == column)?;
        let (unit, cell) = (self.header.0[at].1, self.cells[at]);
        let text = cell.text;
        if text.is_empty() {
            if column.is_required() {
                let message = format!("this day has no `{}`", column.name());
                self.reject(
                    cell,
                    message,
                    "fill it in, or leave the whole line out".to_owned(),
                );
            }
            return None;
        }
        let number = text.parse::<f64>().ok();
        let Some(value) = number.and_then(|_| format!("{text} {unit}").parse::<Q>().ok()) else {
            self.reject(
                cell,
                format!("`{}` is not a number", shorten(text)),
                format!("write it like `7.5`, without unit: this column is in {unit}"),
            );
            return None;
        };
        if (within.min..=within.max).contains(&value) {
            return Some(value);
        }
        self.reject(
            cell,
            format!("{} cannot be {text} {unit}", within.what),
            format!(
                "it may be from {} to {}",
                within.min.in_units(Units::Metric),
                within.max.in_units(Units::Metric)
            ),
        );
        None
    }

    fn reject(&mut self, cell: CsvCell<'_>, message: String, help: String) {
        self.faults
            .report_cell(self.line, Some(cell), message, help);
    }
}
