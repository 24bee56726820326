//! Where the rig stands: the `place` of a garden file, and `cover` wherever it is said.

use chrono_tz::{TZ_VARIANTS, Tz};

use crate::garden::bounds;
use crate::garden::file::{FileContext, climate};
use crate::garden::place::{Cover, Place};
use crate::reader::bounds::{Bounds, Number};
use crate::reader::decode::{KeyedValue, suggestion_text};
use crate::units::{DailyLight, Hours, Length, Share, Temperature, Warming};

/// The `place` of a garden.
pub(super) fn read(entry: KeyedValue<'_>, surroundings: &FileContext<'_>) -> Option<Place> {
    let f = entry.fields("the place", "place: { latitude: 39.5, cover: indoors }")?;
    let latitude = f.required("latitude", "latitude: 39.5", |e| {
        degrees(
            e,
            &bounds::LATITUDE,
            "degrees south of the equator are negative: `latitude: -33.9`",
        )
    });
    let longitude = f.optional("longitude", |e| {
        degrees(
            e,
            &bounds::LONGITUDE,
            "degrees west of Greenwich are negative: `longitude: -8.6`",
        )
    });
    let elevation = f.optional_or("elevation", Length::metres(0.0), |e| {
        e.quantity(&bounds::ELEVATION)
    });
    let timezone = f.optional_or("timezone", Tz::UTC, timezone);
    let near_sea = f.optional_or("near_sea", false, |e| e.boolean());
    let cover = f.optional_or("cover", Cover::OpenAir, self::cover);
    let months = f.optional("climate", climate::monthly_climate);
    let weather = f.optional("weather", |e| climate::weather(e, surroundings));
    if f.has("climate") && f.has("weather") {
        f.reject(
            "weather",
            "the place has a `climate` and a `weather` file",
            "one of the two is enough",
            "leave one of them out",
        );
    }
    let indoors = matches!(cover, Some(Cover::Indoors { .. }));
    if cover.is_some() && !indoors && !f.has("climate") && !f.has("weather") {
        f.reject(
            "cover",
            "the place has neither a `climate` nor a `weather` file",
            "out of doors and under glass it needs one",
            "add `climate:` with the months' means of `coldest` and `warmest`, or `weather: FILE.csv`",
        );
    }
    f.finish();
    Some(Place {
        latitude: latitude?,
        longitude: longitude?,
        elevation: elevation?,
        timezone: timezone?,
        near_sea: near_sea?,
        cover: cover?,
        climate: months?.or(weather?),
    })
}

/// Degrees of latitude or longitude. A letter for the side would be lost on a bare number, so
/// the help says how the sides are told apart.
fn degrees(entry: KeyedValue<'_>, within: &Bounds<Number>, help: &str) -> Option<f64> {
    if entry.bare_number().is_none() {
        return entry.reject(
            format!(
                "`{}` is a bare number of degrees, not `{}`",
                entry.key,
                entry.as_written()
            ),
            "",
            help,
        );
    }
    entry.number(within)
}

fn timezone(entry: KeyedValue<'_>) -> Option<Tz> {
    let text = entry.text()?;
    text.parse().ok().or_else(|| {
        entry.reject(
            format!("there is no time zone `{text}`"),
            suggestion_text(text, TZ_VARIANTS.iter().map(|zone| zone.name())),
            "time zones are named by continent and city, such as `Europe/Madrid`",
        )
    })
}

/// What shelters the plants: a word, or a group of keys with its `kind`.
pub(super) fn cover(entry: KeyedValue<'_>) -> Option<Cover> {
    if !entry.is_group() {
        return entry.choice(COVERS).map(CoverKind::default_cover);
    }
    let f = entry.fields("this cover", "cover: { kind: greenhouse, adds: 4 C }")?;
    let kind = f.required("kind", "kind: greenhouse", |e| e.choice(COVERS));
    let greenhouse = "a greenhouse";
    let room = "a room indoors";
    let cover = match kind {
        // Without its kind nobody knows which further keys a cover should have.
        None => {
            f.accept_keys(&ALL_KEYS);
            None
        }
        Some(CoverKind::OpenAir) => {
            f.reject_keys_of(
                &[
                    ("never_below", greenhouse),
                    ("adds", greenhouse),
                    ("light", "a greenhouse or a room indoors"),
                    ("day", room),
                    ("night", room),
                    ("hours", room),
                ],
                OTHER_KIND,
            );
            Some(Cover::OpenAir)
        }
        Some(CoverKind::Greenhouse) => {
            f.reject_keys_of(
                &[("day", room), ("night", room), ("hours", room)],
                OTHER_KIND,
            );
            let never_below = f.optional("never_below", |e| e.quantity(&bounds::HEATING_SETPOINT));
            let adds = f.optional_or("adds", DEFAULT_WARMING, |e| {
                e.quantity(&bounds::GREENHOUSE_WARMING)
            });
            let light = f.optional_or("light", DEFAULT_TRANSMITTANCE, |e| {
                e.quantity(&bounds::TRANSMITTANCE)
            });
            greenhouse_of(never_below, adds, light)
        }
        Some(CoverKind::Indoors) => {
            f.reject_keys_of(
                &[("never_below", greenhouse), ("adds", greenhouse)],
                OTHER_KIND,
            );
            let day = f.optional_or("day", ROOM_DAY, |e| e.quantity(&bounds::ROOM_TEMPERATURE));
            let night = f.optional_or("night", ROOM_NIGHT, |e| {
                e.quantity(&bounds::ROOM_TEMPERATURE)
            });
            let light = f.optional_or("light", DEFAULT_LAMP_DLI, |e| {
                e.quantity(&bounds::LAMP_LIGHT)
            });
            let hours = f.optional_or("hours", DEFAULT_PHOTOPERIOD, |e| {
                hours(e, &bounds::LAMP_HOURS)
            });
            indoors_of(day, night, light, hours)
        }
    };
    f.finish();
    cover
}

#[derive(Clone, Copy, PartialEq)]
enum CoverKind {
    OpenAir,
    Greenhouse,
    Indoors,
}

const COVERS: &[(&str, CoverKind)] = &[
    ("open air", CoverKind::OpenAir),
    ("greenhouse", CoverKind::Greenhouse),
    ("indoors", CoverKind::Indoors),
];
const OTHER_KIND: &str = "leave it out, or state another `kind`";
const ALL_KEYS: [&str; 6] = ["never_below", "adds", "light", "day", "night", "hours"];

// What a cover is where it is not stated.
const DEFAULT_WARMING: Warming = Warming::kelvins(3.0);
const DEFAULT_TRANSMITTANCE: Share = Share::fraction(0.7);
pub(super) const ROOM_DAY: Temperature = Temperature::celsius(22.0);
pub(super) const ROOM_NIGHT: Temperature = Temperature::celsius(18.0);
const DEFAULT_LAMP_DLI: DailyLight = DailyLight::mol(14.0);
pub(super) const DEFAULT_PHOTOPERIOD: Hours = Hours::hours(16.0);

impl CoverKind {
    fn default_cover(self) -> Cover {
        match self {
            Self::OpenAir => Cover::OpenAir,
            Self::Greenhouse => Cover::Greenhouse {
                heating_setpoint: None,
                warming: DEFAULT_WARMING,
                transmittance: DEFAULT_TRANSMITTANCE,
            },
            Self::Indoors => Cover::Indoors {
                day: ROOM_DAY,
                night: ROOM_NIGHT,
                dli: DEFAULT_LAMP_DLI,
                photoperiod: DEFAULT_PHOTOPERIOD,
            },
        }
    }
}

#[allow(clippy::option_option)]
fn greenhouse_of(
    never_below: Option<Option<Temperature>>,
    adds: Option<Warming>,
    light: Option<Share>,
) -> Option<Cover> {
    Some(Cover::Greenhouse {
        heating_setpoint: never_below?,
        warming: adds?,
        transmittance: light?,
    })
}

fn indoors_of(
    day: Option<Temperature>,
    night: Option<Temperature>,
    light: Option<DailyLight>,
    hours: Option<Hours>,
) -> Option<Cover> {
    Some(Cover::Indoors {
        day: day?,
        night: night?,
        dli: light?,
        photoperiod: hours?,
    })
}

/// Hours, which may be a bare number: nothing else could be meant.
pub(super) fn hours(entry: KeyedValue<'_>, within: &Bounds<Hours>) -> Option<Hours> {
    match entry.bare_number() {
        Some(hours) => entry.within(
            within,
            Hours::hours(hours),
            &format!("{} h", entry.as_written()),
        ),
        None => entry.quantity(within),
    }
}
