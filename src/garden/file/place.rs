//! Where the rig stands: the `place` of a garden file, and `cover` wherever it is said.

use chrono_tz::{TZ_VARIANTS, Tz};

use crate::garden::bounds::{self, Bounds, Number};
use crate::garden::file::{Surroundings, climate};
use crate::garden::place::{Cover, Place};
use crate::reader::decode::{KeyedValue, suggestion_text};
use crate::units::{DailyLight, Hours, Length, Share, Temperature, Warming};

/// The `place` of a garden.
pub(super) fn read(entry: KeyedValue<'_>, surroundings: &Surroundings<'_>) -> Option<Place> {
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
    let elevation = f.or("elevation", Length::metres(0.0), |e| {
        e.quantity(&bounds::ELEVATION)
    });
    let timezone = f.or("timezone", Tz::UTC, timezone);
    let near_sea = f.or("near_sea", false, |e| e.boolean());
    let cover = f.or("cover", Cover::OpenAir, self::cover);
    let months = f.optional("climate", climate::months);
    let weather = f.optional("weather", |e| climate::weather(e, surroundings));
    if f.has("climate") && f.has("weather") {
        f.wrong(
            "weather",
            "the place has a `climate` and a `weather` file",
            "one of the two is enough",
            "leave one of them out",
        );
    }
    let indoors = matches!(cover, Some(Cover::Indoors { .. }));
    if cover.is_some() && !indoors && !f.has("climate") && !f.has("weather") {
        f.wrong(
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
        return entry.wrong(
            format!(
                "`{}` is a bare number of degrees, not `{}`",
                entry.key,
                entry.raw()
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
        entry.wrong(
            format!("there is no time zone `{text}`"),
            suggestion_text(text, TZ_VARIANTS.iter().map(|zone| zone.name())),
            "time zones are named by continent and city, such as `Europe/Madrid`",
        )
    })
}

/// What shelters the plants: a word, or a group of keys with its `kind`.
pub(super) fn cover(entry: KeyedValue<'_>) -> Option<Cover> {
    if !entry.is_group() {
        return entry.choice(COVERS).map(Kind::usual);
    }
    let f = entry.fields("this cover", "cover: { kind: greenhouse, adds: 4 C }")?;
    let kind = f.required("kind", "kind: greenhouse", |e| e.choice(COVERS));
    let greenhouse = "a greenhouse";
    let room = "a room indoors";
    let cover = match kind {
        // Without its kind nobody knows which further keys a cover should have.
        None => {
            f.allow(&ALL_KEYS);
            None
        }
        Some(Kind::OpenAir) => {
            f.foreign(
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
        Some(Kind::Greenhouse) => {
            f.foreign(
                &[("day", room), ("night", room), ("hours", room)],
                OTHER_KIND,
            );
            let never_below = f.optional("never_below", |e| e.quantity(&bounds::HEATER));
            let adds = f.or("adds", GREENHOUSE_ADDS, |e| {
                e.quantity(&bounds::GREENHOUSE_ADDS)
            });
            let light = f.or("light", GREENHOUSE_LIGHT, |e| {
                e.quantity(&bounds::GLASS_LIGHT)
            });
            greenhouse_of(never_below, adds, light)
        }
        Some(Kind::Indoors) => {
            f.foreign(
                &[("never_below", greenhouse), ("adds", greenhouse)],
                OTHER_KIND,
            );
            let day = f.or("day", ROOM_DAY, |e| e.quantity(&bounds::ROOM));
            let night = f.or("night", ROOM_NIGHT, |e| e.quantity(&bounds::ROOM));
            let light = f.or("light", LAMP_LIGHT, |e| e.quantity(&bounds::LAMP_LIGHT));
            let hours = f.or("hours", LAMP_HOURS, |e| hours(e, &bounds::LAMP_HOURS));
            indoors_of(day, night, light, hours)
        }
    };
    f.finish();
    cover
}

#[derive(Clone, Copy, PartialEq)]
enum Kind {
    OpenAir,
    Greenhouse,
    Indoors,
}

const COVERS: &[(&str, Kind)] = &[
    ("open air", Kind::OpenAir),
    ("greenhouse", Kind::Greenhouse),
    ("indoors", Kind::Indoors),
];
const OTHER_KIND: &str = "leave it out, or state another `kind`";
const ALL_KEYS: [&str; 6] = ["never_below", "adds", "light", "day", "night", "hours"];

// What a cover is where it is not stated.
const GREENHOUSE_ADDS: Warming = Warming::kelvins(3.0);
const GREENHOUSE_LIGHT: Share = Share::fraction(0.7);
pub(super) const ROOM_DAY: Temperature = Temperature::celsius(22.0);
pub(super) const ROOM_NIGHT: Temperature = Temperature::celsius(18.0);
const LAMP_LIGHT: DailyLight = DailyLight::mol(14.0);
pub(super) const LAMP_HOURS: Hours = Hours::hours(16.0);

impl Kind {
    fn usual(self) -> Cover {
        match self {
            Self::OpenAir => Cover::OpenAir,
            Self::Greenhouse => Cover::Greenhouse {
                never_below: None,
                adds: GREENHOUSE_ADDS,
                light: GREENHOUSE_LIGHT,
            },
            Self::Indoors => Cover::Indoors {
                day: ROOM_DAY,
                night: ROOM_NIGHT,
                light: LAMP_LIGHT,
                hours: LAMP_HOURS,
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
        never_below: never_below?,
        adds: adds?,
        light: light?,
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
        light: light?,
        hours: hours?,
    })
}

/// Hours, which may be a bare number: nothing else could be meant.
pub(super) fn hours(entry: KeyedValue<'_>, within: &Bounds<Hours>) -> Option<Hours> {
    match entry.bare_number() {
        Some(hours) => entry.within(within, Hours::hours(hours), &format!("{} h", entry.raw())),
        None => entry.quantity(within),
    }
}
