//! What `map --json` tells of a day: what stands in every hole, and how grown it is.

use chrono::{Days, NaiveDate};
use serde_json::{Value, json};
use steadyleaf::garden::Garden;
use steadyleaf::garden::diary::State;
use steadyleaf::plan::Plan;

use super::data::day;
use super::weeks::monday;
use super::{Look, Plant, as_proved};

/// What the holes told of a day are amiss of a plan.
pub fn faults_on_map(
    holes: &Value,
    on: NaiveDate,
    (plan, garden, state): (&Plan, &Garden, Option<&State>),
) -> Vec<String> {
    let garden = as_proved(garden, plan);
    let look = match Look::new(plan, &garden, state) {
        Ok(look) => look,
        Err(unknown) => return unknown,
    };
    let told: Vec<&Value> = holes.as_array().into_iter().flatten().collect();
    let names = told.iter().map(|hole| hole["hole"].as_str().unwrap_or(""));
    if !names.eq(look.holes.iter().map(|hole| hole.name.as_str())) {
        return vec![format!("map: {} holes of {}", told.len(), look.holes.len())];
    }
    let mut faults = Vec::new();
    for (told, hole) in told.into_iter().zip(&look.holes) {
        let here = look.plants.iter().filter(|p| p.stay.hole == hole.name);
        let here = here.filter(|p| p.stay.transplant <= on && on <= p.stay.removal);
        // On the day on which one follows upon another, the one that leaves.
        let stands = here.min_by_key(|p| p.stay.transplant);
        let right = match stands {
            None => told["plant"].is_null(),
            Some(plant) => look.is_plant(&told["plant"], plant, on),
        };
        if !right {
            let name = stands.map_or_else(|| "nothing".to_owned(), Plant::name);
            faults.push(format!("map: {told}, where {name} stands on {on}"));
        }
    }
    faults
}

impl Look<'_> {
    fn is_plant(&self, told: &Value, plant: &Plant<'_>, on: NaiveDate) -> bool {
        let stay = plant.stay;
        let mut cuts = self.taken_before(plant);
        cuts.extend(stay.harvests.iter().map(|h| h.day));
        let growing = self.growing(plant);
        let grown = growing.grown(stay.transplant, on + Days::new(1), &cuts);
        let grown = grown.last().map_or(0.0, |(grown, _)| grown.min(1.0));
        let this_week = stay.harvests.iter().map(|h| h.day);
        let this_week = this_week.filter(|d| monday(*d) == monday(on)).min();
        told["crop"] == json!(stay.crop)
            && told["want"] == json!(stay.want)
            && day(&told["transplant"]) == Some(stay.transplant)
            && day(&told["removal"]) == Some(stay.removal)
            && day(&told["harvest_this_week"]) == this_week
            && told["grown"]
                .as_f64()
                .is_some_and(|told| (told - grown).abs() < 1e-6)
    }
}
