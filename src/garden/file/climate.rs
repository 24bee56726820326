//! The `climate` of a place by its months, and its `weather` file.

use std::path::Path;

use crate::garden::bounds;
use crate::garden::file::{FileContext, place};
use crate::garden::place::{AirMeans, Climate, MonthlyClimate};
use crate::garden::weather;
use crate::reader::bounds::Bounds;
use crate::reader::decode::{KeyedValue, collect_all, month_name};
use crate::reader::source::Source;
use crate::units::Temperature;

/// The `climate` of a place: means of the months.
pub(crate) fn monthly_climate(entry: KeyedValue<'_>) -> Option<Climate> {
    let f = entry.fields(
        "the climate",
        "climate: { coldest: [7, 8, ...], warmest: [17, 17, ...] }",
    )?;
    // The warmest item of each month, to mark where it is not above the coldest.
    let coldest = f.required("coldest", "coldest: [7, 8, ...]", |e| {
        twelve_values(e, |e| air_temperature(e, &bounds::AIR_TEMPERATURE))
    });
    let warmest = f.required("warmest", "warmest: [17, 17, ...]", |e| {
        let values = twelve_values(e, |e| air_temperature(e, &bounds::AIR_TEMPERATURE));
        if let (Some(coldest), Some(warmest)) = (coldest, values) {
            check_order(e, &coldest, &warmest);
        }
        values
    });
    let humidity = f.optional("humidity", |e| {
        twelve_values(e, |e| e.quantity(&bounds::HUMIDITY))
    });
    let wind = f.optional("wind", |e| twelve_values(e, |e| e.quantity(&bounds::WIND)));
    let sun = f.optional("sun", |e| {
        twelve_values(e, |e| place::hours(e, &bounds::SUNSHINE_HOURS))
    });
    f.finish();
    Some(Climate::Months(MonthlyClimate {
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
fn twelve_values<'a, T>(
    entry: KeyedValue<'a>,
    read: impl FnMut(KeyedValue<'a>) -> Option<T>,
) -> Option<[T; 12]> {
    let items = entry.items("[7, 8, 9, 11, 14, 18, 21, 21, 18, 15, 10, 8]")?;
    let count = items.len();
    let values = collect_all(items.into_iter().map(read));
    if count != 12 {
        let months = if count == 1 { "month" } else { "months" };
        return entry.reject(
            format!("`{}` has {count} {months}, not twelve", entry.key),
            "",
            "state all months, January to December",
        );
    }
    values?.try_into().ok()
}

/// An air temperature, which may be a bare number of degrees Celsius.
fn air_temperature(entry: KeyedValue<'_>, within: &Bounds<Temperature>) -> Option<Temperature> {
    match entry.bare_number() {
        Some(celsius) => entry.within(
            within,
            Temperature::celsius(celsius),
            &format!("{} C", entry.as_written()),
        ),
        None => entry.quantity(within),
    }
}

fn check_order(warmest: KeyedValue<'_>, cold: &[Temperature; 12], warm: &[Temperature; 12]) {
    let items = warmest.items_or_empty("").unwrap_or_default();
    for (month, entry) in (1..).zip(items) {
        let (cold, warm) = (cold[month as usize - 1], warm[month as usize - 1]);
        if cold > warm {
            let units = entry.faults.units.get();
            let _: Option<()> = entry.reject(
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
pub(super) fn weather(entry: KeyedValue<'_>, surroundings: &FileContext<'_>) -> Option<Climate> {
    let name = entry.text()?;
    let Some(folder) = surroundings.folder else {
        return entry.reject(
            "a weather file can only be read with the garden file in its folder",
            "",
            "state the `climate` by its months instead",
        );
    };
    let path = folder.join(Path::new(name));
    if !path.is_file() {
        return entry.reject(
            format!("there is no weather file `{name}`"),
            "",
            "name a file beside the garden file",
        );
    }
    let read = Source::read(&path, name, bounds::MAX_WEATHER_FILE_BYTES)
        .and_then(|source| Ok((weather::read(&source)?, source.text)));
    match read {
        Ok((weather, text)) => {
            *surroundings.weather_text.borrow_mut() = Some(text);
            Some(Climate::Weather(weather))
        }
        Err(refusal) => {
            let diagnostics = refusal.diagnostics().iter().cloned();
            entry.faults.report_file(diagnostics);
            None
        }
    }
}
