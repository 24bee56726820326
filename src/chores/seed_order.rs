//! Seed in the house before the first sowing, and again before it has lost its life or runs out;
//! cuttings and plugs seen to once for all.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::chores::plan_view::PlanView;
use crate::chores::sow;
use crate::chores::{Chore, Kind};
use crate::garden::crop::Propagation;
use crate::plan::seed_stock::{SeedOrder, seed_orders};

pub(super) fn chores(view: &PlanView) -> Vec<Chore> {
    let mut days: BTreeMap<NaiveDate, Vec<SeedOrder>> = BTreeMap::new();
    for order in seed_orders(view.plan, view.garden, &view.sown) {
        days.entry(order.day).or_default().push(order);
    }
    days.into_iter()
        .map(|(day, orders)| {
            let called: Vec<&str> = orders.iter().map(|o| view.crop_name(o.crop)).collect();
            let lines = orders.iter().map(|o| line(view, o)).collect();
            let about = orders.iter().map(|o| o.crop);
            let only_seed = |o: &SeedOrder| sow::starts(view, o.crop) == Propagation::Seed;
            let only_seed = orders.iter().all(only_seed);
            let summary = view.words.seed_order_title(&called, only_seed);
            view.chore(
                Kind::SeedOrder,
                day,
                about,
                summary,
                lines,
                view.words.seed_hints(),
            )
        })
        .collect()
}

fn line(view: &PlanView, order: &SeedOrder) -> String {
    let keeps = view
        .garden
        .crop(order.crop)
        .and_then(|c| c.seed.seed_viability);
    let called = view.crop_name(order.crop);
    view.words.seed_needed(
        called,
        (sow::starts(view, order.crop), order.seeds),
        order.sowings,
        [order.until, order.day],
        keeps,
    )
}
