//! Every limit of a number in one table: what is checked and what the messages say follow from
//! it. The limits are there to catch slips of the pen; what a home rig really is lies well
//! inside them.

use crate::reader::bounds::{Bounds, Count, Number, bounds};
use crate::units::{
    Amount, Conductivity, DailyLight, Days, Flow, Hours, Length, Mass, Measure, Share, Temperature,
    Volume, Warming, WindSpeed, Years,
};

/// Files of the grower's own hand: more than this is not one.
pub(crate) const MAX_GARDEN_FILE_BYTES: u64 = 1024 * 1024;
/// A crop card: ten times the longest one built in.
pub(crate) const MAX_CARD_BYTES: u64 = 64 * 1024;
/// A weather file: some fifty years of days.
pub(crate) const MAX_WEATHER_FILE_BYTES: u64 = 4 * 1024 * 1024;
/// A grower's own crop cards in one folder.
pub(crate) const MAX_OWN_CARDS: usize = 500;
/// Holes of the whole rig.
pub(crate) const MAX_HOLES: u64 = 100_000;
/// How long ago seedlings on hand may have been sown; older ones are no longer looked at.
pub(crate) const MAX_SEEDLING_DAYS: i64 = 120;

// The garden as a whole.
pub(crate) const WEEKS: Bounds<Count> = bounds("the number of weeks", Count(1), Count(520));
pub(crate) const LATITUDE: Bounds<Number> = bounds("the latitude", Number(-90.0), Number(90.0));
pub(crate) const LONGITUDE: Bounds<Number> = bounds("the longitude", Number(-180.0), Number(180.0));
pub(crate) const ELEVATION: Bounds<Length> = bounds(
    "the height above the sea",
    Length::metres(-430.0),
    Length::metres(6000.0),
);

// Climate.
pub(crate) const AIR_TEMPERATURE: Bounds<Temperature> = bounds(
    "an air temperature",
    Temperature::celsius(-60.0),
    Temperature::celsius(60.0),
);
pub(crate) const HUMIDITY: Bounds<Share> = bounds(
    "the relative humidity",
    Share::fraction(0.01),
    Share::fraction(1.0),
);
pub(crate) const WIND: Bounds<WindSpeed> = bounds(
    "the mean wind",
    WindSpeed::metres_a_second(0.0),
    WindSpeed::metres_a_second(40.0),
);
pub(crate) const SUNSHINE_HOURS: Bounds<Hours> = bounds(
    "the sunshine of a day",
    Hours::hours(0.0),
    Hours::hours(24.0),
);
pub(crate) const GREENHOUSE_WARMING: Bounds<Warming> = bounds(
    "the warmth that a greenhouse adds",
    Warming::kelvins(0.0),
    Warming::kelvins(20.0),
);
pub(crate) const HEATING_SETPOINT: Bounds<Temperature> = bounds(
    "the temperature of a heater",
    Temperature::celsius(-10.0),
    Temperature::celsius(30.0),
);
pub(crate) const TRANSMITTANCE: Bounds<Share> = bounds(
    "the light that comes through",
    Share::fraction(0.05),
    Share::fraction(1.0),
);
pub(crate) const ROOM_TEMPERATURE: Bounds<Temperature> = bounds(
    "the temperature of a room",
    Temperature::celsius(-10.0),
    Temperature::celsius(45.0),
);
pub(crate) const LAMP_LIGHT: Bounds<DailyLight> = bounds(
    "the light of lamps in a day",
    DailyLight::mol(0.5),
    DailyLight::mol(80.0),
);
pub(crate) const LAMP_HOURS: Bounds<Hours> =
    bounds("the hours of lamps", Hours::hours(1.0), Hours::hours(24.0));

// The rig.
pub(crate) const TANK_CAPACITY: Bounds<Volume> = bounds(
    "what a tank holds",
    Volume::litres(1.0),
    Volume::litres(20_000.0),
);
pub(crate) const TANK_RESERVE: Bounds<Share> = bounds(
    "the least level of a tank",
    Share::fraction(0.05),
    Share::fraction(0.95),
);
pub(crate) const PUMP_FLOW: Bounds<Flow> = bounds(
    "what a pump moves",
    Flow::litres_an_hour(10.0),
    Flow::litres_an_hour(100_000.0),
);
pub(crate) const PUMP_HEAD: Bounds<Length> = bounds(
    "what a pump lifts",
    Length::metres(0.1),
    Length::metres(60.0),
);
pub(crate) const HOSE_BORE: Bounds<Length> = bounds(
    "the bore of a hose",
    Length::metres(0.004),
    Length::metres(0.1),
);
pub(crate) const HOSE_LENGTH: Bounds<Length> = bounds(
    "the length of a hose",
    Length::metres(0.1),
    Length::metres(200.0),
);
pub(crate) const HOSE_BENDS: Bounds<Count> = bounds("the bends of a hose", Count(0), Count(100));
pub(crate) const STATIC_HEAD: Bounds<Length> = bounds(
    "how far a hose rises",
    Length::metres(0.0),
    Length::metres(30.0),
);
pub(crate) const DRAIN_BORE: Bounds<Length> = bounds(
    "the bore of a drain",
    Length::metres(0.006),
    Length::metres(0.2),
);
pub(crate) const DRAIN_SLOPE: Bounds<Share> = bounds(
    "the slope of a drain",
    Share::fraction(0.001),
    Share::fraction(1.0),
);
pub(crate) const DRAIN_PIPES: Bounds<Count> =
    bounds("the number of drain pipes", Count(1), Count(1000));
pub(crate) const FOOTPRINT: Bounds<Length> = bounds(
    "the side of a tank",
    Length::metres(0.05),
    Length::metres(10.0),
);
pub(crate) const FILL_SHARE: Bounds<Share> = bounds(
    "how full tubes stand",
    Share::fraction(0.02),
    Share::fraction(0.95),
);
pub(crate) const SOURCE_EC: Bounds<Conductivity> = bounds(
    "the EC of the water",
    Conductivity::millisiemens(0.0),
    Conductivity::millisiemens(3.0),
);
pub(crate) const STOCK_EC: Bounds<Conductivity> = bounds(
    "the strength of a stock",
    Conductivity::millisiemens(10.0),
    Conductivity::millisiemens(1000.0),
);
pub(crate) const TUBES: Bounds<Count> =
    bounds("the number of tubes in a bank", Count(1), Count(1000));
pub(crate) const TOWERS: Bounds<Count> =
    bounds("the number of towers in a bank", Count(1), Count(1000));
pub(crate) const FACES: Bounds<Count> = bounds("the faces of a tower", Count(3), Count(4));
pub(crate) const TUBE_LENGTH: Bounds<Length> = bounds(
    "the length of a tube",
    Length::metres(0.2),
    Length::metres(50.0),
);
pub(crate) const TOWER_HEIGHT: Bounds<Length> = bounds(
    "the height of a tower",
    Length::metres(0.2),
    Length::metres(10.0),
);
pub(crate) const BORE: Bounds<Length> = bounds(
    "the bore of a tube",
    Length::metres(0.03),
    Length::metres(0.4),
);
pub(crate) const HOLE_SPACING: Bounds<Length> = bounds(
    "the distance between holes",
    Length::metres(0.05),
    Length::metres(2.0),
);
pub(crate) const TUBE_GAP: Bounds<Length> = bounds(
    "the distance between tubes",
    Length::metres(0.03),
    Length::metres(5.0),
);
pub(crate) const HEADROOM: Bounds<Length> = bounds(
    "the headroom above the tubes",
    Length::metres(0.05),
    Length::metres(20.0),
);
pub(crate) const WALL_TOP: Bounds<Length> = bounds(
    "the height of a wall's top tube",
    Length::metres(0.1),
    Length::metres(20.0),
);
pub(crate) const BANK_LIGHT: Bounds<Share> = bounds(
    "the light that reaches a bank",
    Share::fraction(0.05),
    Share::fraction(1.0),
);
pub(crate) const NURSERY_CELLS: Bounds<Count> =
    bounds("the cells of a nursery", Count(1), Count(1_000_000));

// Wants, seedlings, rhythm and spacing.
pub(crate) const WANTED_HEADS: Bounds<Amount> = bounds(
    "what is wanted each week",
    Amount::new(Measure::Heads, 100),
    Amount::new(Measure::Heads, 100_000_000),
);
pub(crate) const WANTED_GRAMS: Bounds<Amount> = bounds(
    "what is wanted each week",
    Amount::new(Measure::Grams, 1000),
    Amount::new(Measure::Grams, 100_000_000_000),
);
pub(crate) const IMPORTANCE: Bounds<Number> =
    bounds("the importance of a want", Number(0.001), Number(100.0));
pub(crate) const SEEDLINGS: Bounds<Count> =
    bounds("the number of seedlings", Count(1), Count(1_000_000));
pub(crate) const SEEDS: Bounds<Count> = bounds("the number of seeds", Count(1), Count(1_000_000));
pub(crate) const CLEAN_EVERY: Bounds<Days> = bounds(
    "the time between deep cleanings",
    Days::days(14.0),
    Days::days(1092.0),
);
pub(crate) const CLEAN_SLACK: Bounds<Days> = bounds(
    "the slack of deep cleaning",
    Days::days(0.0),
    Days::days(364.0),
);
pub(crate) const CHANGE_SOLUTION: Bounds<Days> = bounds(
    "the time between changes of the solution",
    Days::days(3.0),
    Days::days(182.0),
);
pub(crate) const ALARM: Bounds<Hours> = bounds(
    "the time from an alarm to its chore",
    Hours::hours(0.25),
    Hours::hours(336.0),
);
pub(crate) const NEIGHBOURS_APART: Bounds<Days> = bounds(
    "the days between the harvests of neighbours",
    Days::days(0.0),
    Days::days(60.0),
);
pub(crate) const CROWDING: Bounds<Share> = bounds(
    "the share by which neighbours may overlap",
    Share::fraction(0.0),
    Share::fraction(1.0),
);
pub(crate) const CHANGEOVER: Bounds<Days> = bounds(
    "the days that a hole stays empty",
    Days::days(0.0),
    Days::days(60.0),
);

// Crop cards.
pub(crate) const YIELD: Bounds<Mass> = bounds(
    "what one plant gives",
    Mass::grams(0.1),
    Mass::grams(20_000.0),
);
pub(crate) const STAGE_DAYS: Bounds<Days> =
    bounds("the days of a stage", Days::days(1.0), Days::days(400.0));
pub(crate) const FIELD_HOLDING: Bounds<Days> = bounds(
    "the days that a ripe plant holds",
    Days::days(0.0),
    Days::days(200.0),
);
pub(crate) const HARVEST_PERIOD: Bounds<Days> =
    bounds("the time of picking", Days::days(7.0), Days::days(1092.0));
pub(crate) const CUTS: Bounds<Count> = bounds("the number of cuts", Count(1), Count(50));
pub(crate) const RESIDUAL_CANOPY: Bounds<Share> = bounds(
    "the share that a cut leaves",
    Share::fraction(0.01),
    Share::fraction(0.99),
);
pub(crate) const CARD_TEMPERATURE: Bounds<Temperature> = bounds(
    "a temperature of a crop",
    Temperature::celsius(-40.0),
    Temperature::celsius(60.0),
);
pub(crate) const CARD_LIGHT: Bounds<DailyLight> = bounds(
    "the light that a crop gets in a day",
    DailyLight::mol(0.5),
    DailyLight::mol(80.0),
);
pub(crate) const CARD_HOURS: Bounds<Hours> =
    bounds("the length of a day", Hours::hours(1.0), Hours::hours(24.0));
pub(crate) const PLANT_SIZE: Bounds<Length> = bounds(
    "the size of a plant",
    Length::metres(0.005),
    Length::metres(5.0),
);
pub(crate) const EC: Bounds<Conductivity> = bounds(
    "the EC of a solution",
    Conductivity::millisiemens(0.1),
    Conductivity::millisiemens(10.0),
);
pub(crate) const PH: Bounds<Number> = bounds("the pH of a solution", Number(3.0), Number(10.0));
pub(crate) const GERMINATION: Bounds<Share> = bounds(
    "the share of seeds that come up",
    Share::fraction(0.01),
    Share::fraction(1.0),
);
pub(crate) const LOSSES: Bounds<Share> = bounds(
    "the share of seedlings that is lost",
    Share::fraction(0.0),
    Share::fraction(0.95),
);
pub(crate) const SEED_VIABILITY: Bounds<Years> =
    bounds("the life of seed", Years::years(0.1), Years::years(100.0));
pub(crate) const PLANTS_PER_CUP: Bounds<Count> =
    bounds("the plants in one cup", Count(1), Count(50));
pub(crate) const CROP_COEFFICIENT: Bounds<Number> =
    bounds("a crop coefficient", Number(0.05), Number(2.0));
