//! How much water a full canopy draws in a day where it stands: under the sky, under glass, under
//! lamps; and from it, one plant.
//!
//! All amounts are in mm/d, which is litres a square metre and day.

use chrono::{Days, NaiveDate};

use crate::garden::crop::Crop;
use crate::garden::place::{AirMeans, Cover, Place};
use crate::nature::air::{self, DayConditions};
use crate::nature::climate::{self, MonthlySeries, OutdoorClimate};
use crate::nature::{evapotranspiration, light, sun};
use crate::units::Share;

/// Water that a MJ evaporates [mm] (FAO-56, eq. 20).
const MM_PER_MJ: f64 = 0.408;
/// The coefficient of Priestley and Taylor.
const PRIESTLEY_TAYLOR: f64 = 1.26;
/// Heat that a cubic metre of air holds for each degree [J/m3/K], at 20 C.
const AIR_HEAT_CAPACITY: f64 = 1.2 * 1005.0;
/// Leaf area above a square metre of a full canopy (Graamans et al. 2017).
const LEAF_AREA_INDEX: f64 = 3.0;
/// How the still air at a leaf holds water back [s/m] (Graamans et al. 2017).
const BOUNDARY_LAYER_RESISTANCE: f64 = 100.0;
/// Share of the lamps' light that leaves do not throw back (Graamans et al. 2017).
const LAMP_ABSORPTANCE: f64 = 0.95;
/// Photons in a joule of white lamps between 400 and 700 nm [umol/J]; 4.6 to 4.9 are usual
/// (common practice, no published source).
const LAMP_MICROMOL_PER_JOULE: f64 = 4.7;
/// Relative humidity of a lived-in room (common practice, no published source).
const ROOM_HUMIDITY: f64 = 0.6;

/// Evaporation of shallow open water against the reference (FAO-56, table 12).
pub const OPEN_WATER_COEFFICIENT: f64 = 1.05;
/// The most that a plant in free air draws against the reference (FAO-56, chapter 10).
const MAX_CROP_COEFFICIENT: f64 = 2.5;

/// What a full canopy draws on each of so many days from `first` [mm/d]; `share` of the cover's
/// light reaches it.
///
/// Under the sky by Penman-Monteith where the climate gives humidity, wind and sun, else by
/// Hargreaves; both take their radiation times `share`. In a greenhouse by [`priestley_taylor`],
/// indoors by [`evapotranspiration_under_lamps`].
///
/// # Panics
/// If the plants stand out of doors or in a greenhouse and the place's climate is not stated.
#[must_use]
pub fn reference_evapotranspiration(
    place: &Place,
    cover: &Cover,
    share: Share,
    first: NaiveDate,
    days: usize,
) -> Vec<f64> {
    match *cover {
        Cover::OpenAir => evapotranspiration_under_sky(place, share, first, days),
        Cover::Greenhouse { .. } => air::growing_conditions(place, cover, share, first, days)
            .iter()
            .map(|day| priestley_taylor(day, place.elevation.get()))
            .collect(),
        Cover::Indoors {
            day,
            night,
            dli: light,
            photoperiod: hours,
        } => {
            let light = light.get() * share.get();
            let amount = evapotranspiration_under_lamps(
                day.get(),
                night.get(),
                light,
                hours.get(),
                place.elevation.get(),
            );
            vec![amount; days]
        }
    }
}

fn evapotranspiration_under_sky(
    place: &Place,
    share: Share,
    first: NaiveDate,
    days: usize,
) -> Vec<f64> {
    let outdoors = OutdoorClimate::new(place).expect("plants under the sky have a stated climate");
    let climate = place.climate.as_ref();
    let airs = climate.and_then(|climate| MonthlyAir::new(climate.air_means()));
    (0..days as u64)
        .map(|day| {
            let date = first + Days::new(day);
            match &airs {
                Some(airs) => reference_by_penman_monteith(place, &outdoors, airs, share, date),
                None => reference_by_hargreaves(place, &outdoors, share, date),
            }
        })
        .collect()
}

fn reference_by_hargreaves(
    place: &Place,
    outdoors: &OutdoorClimate,
    share: Share,
    date: NaiveDate,
) -> f64 {
    let day = outdoors.on(date);
    let mean = f64::midpoint(day.coldest, day.warmest);
    let sky = sun::extraterrestrial_radiation(place.latitude, sun::day_of_year(date));
    evapotranspiration::hargreaves(mean, day.coldest, day.warmest, sky * share.get())
}

/// Humidity and wind over the year, where both and the sun are known.
struct MonthlyAir {
    humidity: MonthlySeries,
    wind: MonthlySeries,
}

impl MonthlyAir {
    fn new(means: &AirMeans) -> Option<Self> {
        let (humidity, wind, _) = (means.humidity?, means.wind?, means.sun?);
        Some(Self {
            humidity: MonthlySeries::non_negative(humidity.map(|h| h.get())),
            wind: MonthlySeries::non_negative(wind.map(|w| w.get())),
        })
    }
}

/// FAO-56, eq. 6, for a day of the usual year; from day to day the ground keeps no heat (eq. 42).
fn reference_by_penman_monteith(
    place: &Place,
    outdoors: &OutdoorClimate,
    airs: &MonthlyAir,
    share: Share,
    date: NaiveDate,
) -> f64 {
    let day = outdoors.on(date);
    let elevation = place.elevation.get();
    let sky = sun::extraterrestrial_radiation(place.latitude, sun::day_of_year(date));
    let vapour_pressure = evapotranspiration::vapour_pressure_from_mean(
        day.coldest,
        day.warmest,
        airs.humidity.on(date).min(1.0),
    );
    let lost = evapotranspiration::net_longwave(
        day.coldest,
        day.warmest,
        vapour_pressure,
        day.radiation,
        climate::clear_sky_radiation(sky, elevation),
    );
    evapotranspiration::penman_monteith(&evapotranspiration::PenmanMonteithInputs {
        coldest: day.coldest,
        warmest: day.warmest,
        vapour_pressure,
        wind: airs.wind.on(date),
        net_radiation: evapotranspiration::net_shortwave(day.radiation * share.get()) - lost,
        air_pressure: evapotranspiration::air_pressure(elevation),
    })
}

/// What a full canopy draws in a greenhouse's day [mm/d], from its light and mean temperature, at
/// an elevation \[m\].
///
/// Priestley and Taylor 1972, Monthly Weather Review 100:81-92: where the air is moist and slow,
/// 1.26 times what the heat alone would evaporate. Under glass no heat is taken as lost to the
/// sky.
#[must_use]
pub fn priestley_taylor(day: &DayConditions, elevation: f64) -> f64 {
    let radiation = day.dli / light::daily_light_integral(1.0);
    let slope = evapotranspiration::saturation_slope(day.mean());
    let gamma =
        evapotranspiration::psychrometric_constant(evapotranspiration::air_pressure(elevation));
    let heat = MM_PER_MJ * evapotranspiration::net_shortwave(radiation);
    PRIESTLEY_TAYLOR * slope / (slope + gamma) * heat
}

/// What a full canopy of leaves draws in a day under lamps [mm/d]: `day` and `night` \[C\], `light`
/// [mol/m2/d] in so many hours, at an elevation \[m\].
///
/// Graamans et al. 2017, Agricultural Systems 153:138-147 (lettuce): leaf area 3, resistance of
/// the air 100 s/m, of the leaf `60 (1500 + P) / (200 + P)` s/m with `P` the flux of light
/// [umol/m2/s]. Its energy balance is solved in one step, the saturation curve taken as straight
/// between leaf and air.
#[must_use]
pub fn evapotranspiration_under_lamps(
    day: f64,
    night: f64,
    light: f64,
    hours: f64,
    elevation: f64,
) -> f64 {
    let gamma =
        evapotranspiration::psychrometric_constant(evapotranspiration::air_pressure(elevation));
    let flux = light * 1.0e6 / (hours * 3600.0);
    let lit = latent_heat_flux(day, flux, gamma) * hours;
    let dark = latent_heat_flux(night, 0.0, gamma) * (24.0 - hours);
    (lit + dark) * 3600.0 / 1.0e6 * MM_PER_MJ
}

/// Heat that leaves spend on evaporation [W/m2].
fn latent_heat_flux(t: f64, flux: f64, gamma: f64) -> f64 {
    let leaf_resistance = 60.0 * (1500.0 + flux) / (200.0 + flux);
    let slope = evapotranspiration::saturation_slope(t);
    let dryness = evapotranspiration::saturation_pressure(t) * (1.0 - ROOM_HUMIDITY);
    let gained = LAMP_ABSORPTANCE * flux / LAMP_MICROMOL_PER_JOULE;
    let from_air = LEAF_AREA_INDEX * AIR_HEAT_CAPACITY * dryness / BOUNDARY_LAYER_RESISTANCE;
    (slope * gained + from_air)
        / (slope + gamma * (1.0 + leaf_resistance / BOUNDARY_LAYER_RESISTANCE))
}

/// What one plant draws against the reference on as much ground as its canopy covers: its
/// coefficient between `young` and `full` by development (0 at transplant, 1 ripe), and what its
/// sides in free air add.
///
/// A row of plants over a tube is a row in free air: FAO-56, chapter 10, adds height over width
/// to the coefficient of such rows, up to 2.5 (the clothesline effect). A plant is as tall for
/// its width as a ripe one.
#[must_use]
pub fn canopy_coefficient(crop: &Crop, development: f64) -> f64 {
    let (young, full) = (
        crop.crop_coefficient.initial,
        crop.crop_coefficient.mid_season,
    );
    let flat = young + (full - young) * development.clamp(0.0, 1.0);
    let sides = crop.size.height.get() / crop.size.spread.get();
    (flat + sides).min(MAX_CROP_COEFFICIENT)
}

/// Water that one plant draws in a day \[l\], from the reference [mm/d], its development and its
/// canopy's diameter \[m\].
#[must_use]
pub fn plant_transpiration(crop: &Crop, reference: f64, development: f64, diameter: f64) -> f64 {
    let ground = std::f64::consts::PI / 4.0 * diameter * diameter;
    reference * canopy_coefficient(crop, development) * ground
}

/// The day of the year on which most is drawn, of a whole year of days from `first`, and how much
/// that is [mm/d].
#[must_use]
pub fn peak_demand_day(
    place: &Place,
    cover: &Cover,
    share: Share,
    first: NaiveDate,
) -> (NaiveDate, f64) {
    let days = 366;
    let year = reference_evapotranspiration(place, cover, share, first, days);
    let most = year.iter().copied().fold(0.0, f64::max);
    let at = year.iter().position(|&mm| mm >= most).unwrap_or(0);
    (first + Days::new(at as u64), most)
}
