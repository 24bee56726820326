//! Seed in the house before the first sowing, and again before it has lost its life or runs out;
//! cuttings and plugs seen to once for all.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::chores::plan_view::PlanView;
use crate::chores::sow;
use crate::chores::{Chore, Kind};
use crate::garden::crop::PropagationStart;
use crate::plan::seed::{SeedOrder, seed_orders};

pub(super) fn chores(scene: &PlanView) -> Vec<Chore> {
    let mut days: BTreeMap<NaiveDate, Vec<SeedOrder>> = BTreeMap::new();
    for order in seed_orders(scene.plan, scene.garden, &scene.sown) {
        days.entry(order.day).or_default().push(order);
    }
    days.into_iter()
        .map(|(day, orders)| {
            let called: Vec<&str> = orders.iter().map(|o| scene.name_of_crop(o.crop)).collect();
            let lines = orders.iter().map(|o| line(scene, o)).collect();
            let about = orders.iter().map(|o| o.crop);
            let only_seed = |o: &SeedOrder| sow::starts(scene, o.crop) == PropagationStart::Seed;
            let only_seed = orders.iter().all(only_seed);
            let summary = scene.words.seed_order_title(&called, only_seed);
            scene.chore(
                Kind::SeedOrder,
                day,
                about,
                summary,
                lines,
                scene.words.seed_hints(),
            )
        })
        .collect()
}

fn line(scene: &PlanView, order: &SeedOrder) -> String {
    let keeps = scene
        .garden
        .crop(order.crop)
        .and_then(|c| c.seed.seed_viability);
    let called = scene.name_of_crop(order.crop);
    scene.words.seed_needed(
        called,
        (sow::starts(scene, order.crop), order.seeds),
        order.sowings,
        [order.until, order.day],
        keeps,
    )
}
