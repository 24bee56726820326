//! A weather file: daily coldest and warmest temperatures by date.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike, NaiveDate};

use super::bounds;
use super::decode::month_name;
use super::diagnostic::{Diagnostic, Position, Refusal};
use super::place::Weather;
use super::source::Source;
use super::suggestion::shortened;
use crate::quantity::{Temperature, Units};

const COLUMNS: [&str; 3] = ["date", "coldest", "warmest"];
const EXAMPLE: &str = "the first line is `date,coldest,warmest`, the others are like `2024-03-01,7.5,16.8`, in degrees Celsius";

/// Reads a weather file.
pub(crate) fn read(source: &Source) -> Result<Weather, Refusal> {
    let mut faults = Faults {
        source,
        list: Vec::new(),
        untold: 0,
    };
    let days = days(&mut faults);
    if faults.list.is_empty() {
        faults.missing_days(&days);
    }
    match Refusal::of(faults.list, faults.untold) {
        None => Ok(Weather { days }),
        Some(refusal) => Err(refusal),
    }
}

/// What is wrong with a weather file so far.
struct Faults<'a> {
    source: &'a Source,
    list: Vec<Diagnostic>,
    /// How many more there are than are told.
    untold: usize,
}

type DayRecord = (Temperature, Temperature);

fn days(faults: &mut Faults<'_>) -> BTreeMap<NaiveDate, DayRecord> {
    let mut days = BTreeMap::new();
    let mut reader = csv::ReaderBuilder::new()
        .trim(csv::Trim::All)
        .comment(Some(b'#'))
        .flexible(true)
        .has_headers(false)
        .from_reader(faults.source.text.as_bytes());
    let mut record = csv::StringRecord::new();
    let mut has_header = false;
    loop {
        match reader.read_record(&mut record) {
            Ok(true) => {}
            Ok(false) => break,
            Err(error) => {
                faults.whole(format!("this is not a weather file: {error}"));
                break;
            }
        }
        let line = record.position().map_or(1, csv::Position::line);
        let line = usize::try_from(line).unwrap_or(usize::MAX);
        if !has_header {
            has_header = true;
            if !record.iter().eq(COLUMNS) {
                faults.at(
                    line,
                    None,
                    "the columns of a weather file are date, coldest and warmest",
                    EXAMPLE,
                );
                return days;
            }
        } else if let Some((date, record)) = day(faults, line, &record)
            && days.insert(date, record).is_some()
        {
            faults.at(
                line,
                Some(&date.to_string()),
                "this day stands in the file twice",
                "keep one of the two lines",
            );
        }
    }
    if !has_header {
        faults.whole("the weather file is empty".to_owned());
    }
    days
}

/// One line of a weather file.
fn day(
    faults: &mut Faults<'_>,
    line: usize,
    record: &csv::StringRecord,
) -> Option<(NaiveDate, DayRecord)> {
    let fields: Vec<&str> = record.iter().collect();
    let [date, coldest, warmest] = fields.as_slice() else {
        let message = format!("this line has {} columns, not three", fields.len());
        faults.at(line, None, message, EXAMPLE);
        return None;
    };
    let day = (date.len() == 10)
        .then(|| NaiveDate::parse_from_str(date, "%Y-%m-%d").ok())
        .flatten();
    if day.is_none() {
        let message = format!("`{}` is not a date that exists", shortened(date));
        faults.at(
            line,
            Some(date),
            message,
            "write year, month and day like `2024-03-01`",
        );
    }
    let cold = temperature(faults, line, coldest);
    let warm = temperature(faults, line, warmest);
    let (day, cold, warm) = (day?, cold?, warm?);
    if cold > warm {
        faults.at(
            line,
            Some(coldest),
            "the coldest of this day is above its warmest",
            "are they the wrong way round?",
        );
        return None;
    }
    Some((day, (cold, warm)))
}

fn temperature(faults: &mut Faults<'_>, line: usize, text: &str) -> Option<Temperature> {
    let range = bounds::AIR;
    match text.parse::<f64>() {
        Ok(celsius) if celsius.is_finite() => {
            let temperature = Temperature::celsius(celsius);
            if (range.least..=range.most).contains(&temperature) {
                return Some(temperature);
            }
            let help = format!(
                "it may be from {} to {}",
                range.least.in_units(Units::Metric),
                range.most.in_units(Units::Metric)
            );
            faults.at(
                line,
                Some(text),
                format!("{} cannot be {text} C", range.of),
                help,
            );
        }
        _ => {
            let message = format!("`{}` is not a number of degrees Celsius", shortened(text));
            faults.at(
                line,
                Some(text),
                message,
                "write it like `7.5`, without unit",
            );
        }
    }
    None
}

impl Faults<'_> {
    fn whole(&mut self, message: String) {
        self.list
            .push(Diagnostic::of_file(&self.source.name, message, EXAMPLE));
    }

    /// A fault of one line, or of one field in it.
    fn at(
        &mut self,
        line: usize,
        field: Option<&str>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        if self.list.len() >= Refusal::MOST {
            self.untold += 1;
            return;
        }
        let content = self.source.text.lines().nth(line - 1).unwrap_or_default();
        let start = field.and_then(|field| content.find(field)).unwrap_or(0);
        let marked = field.filter(|f| !f.is_empty()).unwrap_or(content);
        let position = Position {
            line,
            column: content[..start].chars().count() + 1,
            width: marked.chars().count().max(1),
        };
        self.list.push(
            Diagnostic::of_file(&self.source.name, message, help).at(position, &self.source.text),
        );
    }

    /// Tells which days of the year stand in no year of the file.
    fn missing_days(&mut self, days: &BTreeMap<NaiveDate, DayRecord>) {
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
                n => format!(
                    "{n} days of the year are missing from the weather file, {first} the first"
                ),
            };
            self.list.push(Diagnostic::of_file(
                &self.source.name,
                message,
                "every day of the year is needed once at least, whatever the year",
            ));
        }
    }
}
