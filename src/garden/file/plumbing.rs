//! Tank, pump, hose, drain and solution of a loop in a garden file.

use crate::garden::bounds;
use crate::garden::rig::{Drain, Footprint, Hose, Nutrients, Pump, PumpPoint, Tank, TopUpWater};
use crate::reader::decode::{Fields, KeyedValue};
use crate::units::{Flow, Length, Share};

/// The `tank` of a loop.
pub(super) fn tank(entry: KeyedValue<'_>) -> Option<Tank> {
    let f = entry.fields("this tank", "tank: { holds: 120 l }")?;
    let holds = f.required("holds", "holds: 120 l", |e| {
        e.quantity(&bounds::TANK_CAPACITY)
    });
    let never_below = f.optional_or("never_below", Share::fraction(0.5), |e| {
        e.quantity(&bounds::TANK_RESERVE)
    });
    let open = f.optional_or("open", false, |e| e.boolean());
    let footprint = f.optional("footprint", footprint);
    f.finish();
    Some(Tank {
        capacity: holds?,
        reserve_share: never_below?,
        is_open: open?,
        footprint: footprint?,
    })
}

fn footprint(entry: KeyedValue<'_>) -> Option<Footprint> {
    let (length, width) = entry.read_pair("footprint: [60 cm, 40 cm]", |e| {
        e.quantity(&bounds::FOOTPRINT)
    })?;
    Some(Footprint { length, width })
}

/// The `pump` of a loop.
pub(super) fn pump(entry: KeyedValue<'_>) -> Option<Pump> {
    let f = entry.fields("this pump", "pump: { moves: 1000 l/h, lifts: 2.5 m }")?;
    let ratings = (rated_flow(&f), max_head(&f));
    let curve = f.optional_or("curve", Vec::new(), |e| curve(e, ratings));
    f.finish();
    Some(Pump {
        rated_flow: ratings.0?,
        max_head: ratings.1?,
        curve: curve?,
    })
}

fn rated_flow(f: &Fields<'_>) -> Option<Flow> {
    f.required("moves", "moves: 1000 l/h", |e| {
        e.quantity(&bounds::PUMP_FLOW)
    })
}

fn max_head(f: &Fields<'_>) -> Option<Length> {
    f.required("lifts", "lifts: 2.5 m", |e| e.quantity(&bounds::PUMP_HEAD))
}

/// The points between a pump's two ratings. As each moves more, it lifts less.
fn curve(entry: KeyedValue<'_>, ratings: (Option<Flow>, Option<Length>)) -> Option<Vec<PumpPoint>> {
    let points = entry.read_each("curve: [{ moves: 500 l/h, lifts: 1.6 m }]", |e| {
        let f = e.fields("this point", "{ moves: 500 l/h, lifts: 1.6 m }")?;
        let (moves, lifts) = (rated_flow(&f), max_head(&f));
        f.finish();
        Some(PumpPoint {
            flow: moves?,
            head: lifts?,
        })
    })?;
    let (Some(most_moved), Some(most_lifted)) = ratings else {
        return Some(points);
    };
    let first = PumpPoint {
        flow: Flow::litres_an_hour(0.0),
        head: most_lifted,
    };
    let last = PumpPoint {
        flow: most_moved,
        head: Length::metres(0.0),
    };
    let course = || [first].into_iter().chain(points.iter().copied());
    let following = points.iter().copied().chain([last]);
    let falls = course()
        .zip(following)
        .all(|(a, b)| a.flow < b.flow && a.head > b.head);
    if !falls {
        return entry.reject(
            "the points of this curve do not go one way",
            "",
            "from point to point the pump moves more and lifts less, always less than its `moves` and `lifts`",
        );
    }
    Some(points)
}

/// The `hose` of a loop.
pub(super) fn hose(entry: KeyedValue<'_>) -> Option<Hose> {
    let f = entry.fields("this hose", "hose: { bore: 16 mm, length: 3 m, bends: 4 }")?;
    let bore = f.required("bore", "bore: 16 mm", |e| e.quantity(&bounds::HOSE_BORE));
    let length = f.required("length", "length: 3 m", |e| {
        e.quantity(&bounds::HOSE_LENGTH)
    });
    let bends = f.optional_or("bends", 2, |e| e.count(&bounds::HOSE_BENDS));
    let rises = f.optional("rises", |e| e.quantity(&bounds::STATIC_HEAD));
    if let (Some(length), Some(Some(rises))) = (length, rises)
        && rises > length
    {
        let units = f.faults().units.get();
        f.reject(
            "rises",
            "this hose rises further than it is long",
            format!("it is {} long", length.in_units(units)),
            "`rises` goes straight up, from the water in the tank to the highest inlet",
        );
    }
    f.finish();
    Some(Hose {
        bore: bore?,
        length: length?,
        bends: bends?,
        static_head: rises?,
    })
}

/// The `drain` of a loop.
pub(super) fn drain(entry: KeyedValue<'_>) -> Option<Drain> {
    let f = entry.fields("this drain", "drain: { bore: 1 in, slope: 1 % }")?;
    let bore = f.required("bore", "bore: 1 in", |e| e.quantity(&bounds::DRAIN_BORE));
    let slope = f.optional_or("slope", Share::fraction(0.01), |e| {
        e.quantity(&bounds::DRAIN_SLOPE)
    });
    let pipes = f.optional("pipes", |e| e.count(&bounds::DRAIN_PIPES));
    f.finish();
    Some(Drain {
        bore: bore?,
        slope: slope?,
        pipes: pipes?,
    })
}

/// The `solution` of a loop.
pub(super) fn solution(entry: KeyedValue<'_>) -> Option<Nutrients> {
    let usual = Nutrients::DEFAULT;
    let f = entry.fields(
        "this solution",
        "solution: { source_ec: 0.4 mS/cm, stock: 100 mS/cm }",
    )?;
    let source_ec = f.optional_or("source_ec", usual.source_ec, |e| {
        e.quantity(&bounds::SOURCE_EC)
    });
    let stock = f.optional("stock", |e| e.quantity(&bounds::STOCK_EC));
    let top_up = f.optional_or("top_up", usual.top_up_water, |e| {
        e.choice(&[
            ("plain water", TopUpWater::PlainWater),
            ("half strength", TopUpWater::HalfStrength),
        ])
    });
    f.finish();
    Some(Nutrients {
        source_ec: source_ec?,
        stock_ec: stock?,
        top_up_water: top_up?,
    })
}
