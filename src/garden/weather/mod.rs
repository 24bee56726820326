//! A weather file: the coldest and warmest of each day by its date, and, where they are known,
//! its humidity, wind and sunshine.
//!
//! It is read line by line, so that a fault is told where it stands, whatever the line ends.

mod columns;
mod faults;

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike, NaiveDate};

use crate::garden::bounds;
use crate::garden::place::{AirMeans, Weather};
use crate::reader::decode::month_name;
use crate::reader::diagnostic::ReadError;
use crate::reader::source::Source;
use crate::reader::suggestion::shorten;
use crate::units::{Hours, Share, Temperature, WindSpeed};
use columns::{CsvCell, CsvColumn, Header};
use faults::Faults;

/// Reads a weather file.
pub(crate) fn read(source: &Source) -> Result<Weather, ReadError> {
    let mut faults = Faults::new(source);
    let weather = weather(&mut faults);
    faults.conclude(weather)
}

fn weather(faults: &mut Faults<'_>) -> Option<Weather> {
    let source = faults.source;
    let mut lines = (1..).zip(source.text.lines()).filter(|(_, line)| {
        let line = line.trim();
        !line.is_empty() && !line.starts_with('#')
    });
    let Some((number, first)) = lines.next() else {
        faults.report_file("the weather file is empty", columns::EXAMPLE);
        return None;
    };
    let header = Header::read(faults, number, &columns::cells(first))?;
    let mut days: BTreeMap<NaiveDate, WeatherDay> = BTreeMap::new();
    for (number, line) in lines {
        let cells = columns::cells(line);
        let Some((date, day)) = parse_day(faults, &header, number, &cells) else {
            continue;
        };
        if days.insert(date, day).is_some() {
            faults.report_cell(
                number,
                header.cell(CsvColumn::Date, &cells),
                "this day stands in the file twice",
                "keep one of the two lines",
            );
        }
    }
    if faults.is_empty() {
        report_missing_days(faults, &days);
    }
    let means = |faults: &mut _, column, value: &dyn Fn(&WeatherDay) -> Option<f64>| {
        (header.has(column)).then(|| monthly_means(faults, column, &days, value))?
    };
    let humidity = means(faults, CsvColumn::Humidity, &|d| d.humidity.map(Share::get));
    let wind = means(faults, CsvColumn::Wind, &|d| d.wind.map(WindSpeed::get));
    let sun = means(faults, CsvColumn::Sun, &|d| d.sun.map(Hours::get));
    let air = AirMeans {
        humidity: humidity.map(|means| means.map(Share::fraction)),
        wind: wind.map(|means| means.map(WindSpeed::metres_a_second)),
        sun: sun.map(|means| means.map(Hours::hours)),
    };
    let temperatures = |day: WeatherDay| (day.coldest, day.warmest);
    let days = days.into_iter().map(|(date, d)| (date, temperatures(d)));
    Some(Weather {
        days: days.collect(),
        air,
    })
}

/// One line of a weather file.
#[derive(Debug, Clone, Copy)]
struct WeatherDay {
    coldest: Temperature,
    warmest: Temperature,
    humidity: Option<Share>,
    wind: Option<WindSpeed>,
    sun: Option<Hours>,
}

fn parse_day(
    faults: &mut Faults<'_>,
    header: &Header,
    line: usize,
    cells: &[CsvCell<'_>],
) -> Option<(NaiveDate, WeatherDay)> {
    if !header.has_as_many_cells(cells) {
        let message = format!(
            "this line has {}, the first line has {}",
            columns::format_column_count(cells.len()),
            header.len()
        );
        faults.report_line(line, message, columns::EXAMPLE);
        return None;
    }
    let date = parse_date(faults, line, header.cell(CsvColumn::Date, cells)?);
    let mut row = header.row(faults, line, cells);
    let coldest = row.number(CsvColumn::Coldest, &bounds::AIR_TEMPERATURE);
    let warmest = row.number(CsvColumn::Warmest, &bounds::AIR_TEMPERATURE);
    let humidity = row.number(CsvColumn::Humidity, &bounds::HUMIDITY);
    let wind = row.number(CsvColumn::Wind, &bounds::WIND);
    let sun = row.number(CsvColumn::Sun, &bounds::SUNSHINE_HOURS);
    let (date, coldest, warmest) = (date?, coldest?, warmest?);
    if coldest > warmest {
        faults.report_cell(
            line,
            header.cell(CsvColumn::Coldest, cells),
            "the coldest of this day is above its warmest",
            "are they the wrong way round?",
        );
        return None;
    }
    let day = WeatherDay {
        coldest,
        warmest,
        humidity,
        wind,
        sun,
    };
    Some((date, day))
}

fn parse_date(faults: &mut Faults<'_>, line: usize, cell: CsvCell<'_>) -> Option<NaiveDate> {
    let day = (cell.text.len() == 10)
        .then(|| NaiveDate::parse_from_str(cell.text, "%Y-%m-%d").ok())
        .flatten();
    if day.is_none() {
        faults.report_cell(
            line,
            Some(cell),
            format!("`{}` is not a date that exists", shorten(cell.text)),
            "write year, month and day like `2024-03-01`",
        );
    }
    day
}

/// The mean of each month over all years.
fn monthly_means(
    faults: &mut Faults<'_>,
    column: CsvColumn,
    days: &BTreeMap<NaiveDate, WeatherDay>,
    value: &dyn Fn(&WeatherDay) -> Option<f64>,
) -> Option<[f64; 12]> {
    // Where something else is wrong, what is missing may only be unreadable.
    if !faults.is_empty() {
        return None;
    }
    let mut sums = [(0.0, 0.0); 12];
    for (date, day) in days {
        if let Some(value) = value(day) {
            let (sum, n) = &mut sums[date.month0() as usize];
            (*sum, *n) = (*sum + value, *n + 1.0);
        }
    }
    let missing = (1..).zip(sums).find(|(_, (_, n))| *n == 0.0);
    if let Some((month, _)) = missing {
        let (name, month) = (column.name(), month_name(month));
        faults.report_file(
            format!("no day of {month} has its `{name}` in the weather file"),
            "every month needs it once at least; where it is not known, leave the column out",
        );
        return None;
    }
    Some(sums.map(|(sum, n)| sum / n))
}

/// Tells which days of the year stand in no year of the file.
fn report_missing_days(faults: &mut Faults<'_>, days: &BTreeMap<NaiveDate, WeatherDay>) {
    let known: BTreeSet<(u32, u32)> = days.keys().map(|d| (d.month(), d.day())).collect();
    // Any year without a 29 February, which may be answered by the day before.
    let year = NaiveDate::from_ymd_opt(2001, 1, 1).into_iter();
    let missing: Vec<(u32, u32)> = year
        .flat_map(|first| first.iter_days().take(365))
        .map(|d| (d.month(), d.day()))
        .filter(|d| !known.contains(d))
        .collect();
    if let Some((month, day)) = missing.first() {
        let first = format!("{day} {}", month_name(*month));
        let message = match missing.len() {
            1 => format!("no year of the weather file has a {first}"),
            n => {
                format!("{n} days of the year are missing from the weather file, {first} the first")
            }
        };
        faults.report_file(
            message,
            "every day of the year is needed once at least, whatever the year",
        );
    }
}
