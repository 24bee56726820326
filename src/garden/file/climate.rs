//! The `climate` of a place by its months, and its `weather` file.

use std::path::Path;

use crate::garden::bounds::{self, Bounds};
use crate::garden::file::{Surroundings, place};
use crate::garden::place::{AirMeans, Climate, Months};
use crate::garden::weather;
use crate::reader::decode::{KeyedValue, all, month_name};
use crate::reader::source::Source;
use crate::units::Temperature;

/// The `climate` of a place: means of the months.
pub(crate) fn months(entry: KeyedValue<'_>) -> Option<Climate> {
    let f = entry.fields(
        "the climate",
        "climate: { coldest: [7, 8, ...], warmest: [17, 17, ...] }",
    )?;
    // The warmest item of each month, to mark where it is not above the coldest.
    let coldest = f.required("coldest", "coldest: [7, 8, ...]", |e| {
        twelve(e, |e| air(e, &bounds::AIR))
    });
    let warmest = f.required("warmest", "warmest: [17, 17, ...]", |e| {
        let values = twelve(e, |e| air(e, &bounds::AIR));
        if let (Some(coldest), Some(warmest)) = (coldest, values) {
            check_order(e, &coldest, &warmest);
        }
        values
    });
    let humidity = f.optional("humidity", |e| twelve(e, |e| e.quantity(&bounds::HUMIDITY)));
    let wind = f.optional("wind", |e| twelve(e, |e| e.quantity(&bounds::WIND)));
    let sun = f.optional("sun", |e| twelve(e, |e| place::hours(e, &bounds::SUNSHINE)));
    f.finish();
    Some(Climate::Months(Months {
        coldest: coldest?,
        warmest: warmest?,
        air: AirMeans {
            humidity: humidity?,
            wind: wind?,
            sun: sun?,
        },
    }))
}

/// Twelve values, January to December.
fn twelve<'a, T>(
    entry: KeyedValue<'a>,
    read: impl FnMut(KeyedValue<'a>) -> Option<T>,
) -> Option<[T; 12]> {
    let items = entry.items("[7, 8, 9, 11, 14, 18, 21, 21, 18, 15, 10, 8]")?;
    let count = items.len();
    let values = all(items.into_iter().map(read));
    if count != 12 {
        let months = if count == 1 { "month" } else { "months" };
        return entry.wrong(
            format!("`{}` has {count} {months}, not twelve", entry.key),
            "",
            "state all months, January to December",
        );
    }
    values?.try_into().ok()
}

/// An air temperature, which may be a bare number of degrees Celsius.
fn air(entry: KeyedValue<'_>, within: &Bounds<Temperature>) -> Option<Temperature> {
    match entry.bare_number() {
        Some(celsius) => entry.within(
            within,
            Temperature::celsius(celsius),
            &format!("{} C", entry.raw()),
        ),
        None => entry.quantity(within),
    }
}

fn check_order(warmest: KeyedValue<'_>, cold: &[Temperature; 12], warm: &[Temperature; 12]) {
    let items = warmest.items_or_none("").unwrap_or_default();
    for (month, entry) in (1..).zip(items) {
        let (cold, warm) = (cold[month as usize - 1], warm[month as usize - 1]);
        if cold > warm {
            let units = entry.findings.units.get();
            let _: Option<()> = entry.wrong(
                format!(
                    "{} is warmer in its coldest hours than in its warmest",
                    month_name(month)
                ),
                format!("`coldest` says {}", cold.in_units(units)),
                "`coldest` is the mean of the days' lowest temperatures, `warmest` of their highest",
            );
        }
    }
}

/// The `weather` of a place: a file of daily values beside the garden file.
pub(super) fn weather(entry: KeyedValue<'_>, surroundings: &Surroundings<'_>) -> Option<Climate> {
    let name = entry.text()?;
    let Some(folder) = surroundings.folder else {
        return entry.wrong(
            "a weather file can only be read with the garden file in its folder",
            "",
            "state the `climate` by its months instead",
        );
    };
    let path = folder.join(Path::new(name));
    if !path.is_file() {
        return entry.wrong(
            format!("there is no weather file `{name}`"),
            "",
            "name a file beside the garden file",
        );
    }
    let read = Source::read(&path, name, bounds::WEATHER_BYTES)
        .and_then(|source| Ok((weather::read(&source)?, source.text)));
    match read {
        Ok((weather, text)) => {
            *surroundings.weather_text.borrow_mut() = Some(text);
            Some(Climate::Weather(weather))
        }
        Err(refusal) => {
            let diagnostics = refusal.diagnostics().iter().cloned();
            entry.findings.report_file(diagnostics);
            None
        }
    }
}
