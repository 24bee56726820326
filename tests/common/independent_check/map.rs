//! What `map --json` tells of a day: what stands in every hole, and how grown it is.

use chrono::{Days, NaiveDate};
use serde_json::{Value, json};
use steadyleaf::diary::DiaryState;
use steadyleaf::garden::Garden;
use steadyleaf::plan::Plan;

use super::data::day;
use super::weeks::monday;
use super::{Look, Plant, looked_at};

/// What the holes told of a day are amiss of a plan.
pub fn faults_on_map(
    holes: &Value,
    on: NaiveDate,
    of: (&Plan, &Garden, Option<&DiaryState>),
) -> Vec<String> {
    looked_at(of, |look, faults| look.map(holes, on, faults))
}

impl Look<'_> {
    fn map(&self, holes: &Value, on: NaiveDate, faults: &mut Vec<String>) {
        let told: Vec<&Value> = holes.as_array().into_iter().flatten().collect();
        let names = told.iter().map(|hole| hole["hole"].as_str().unwrap_or(""));
        if !names.eq(self.holes.iter().map(|hole| hole.name.as_str())) {
            faults.push(format!("map: {} holes of {}", told.len(), self.holes.len()));
            return;
        }
        for (told, hole) in told.into_iter().zip(&self.holes) {
            let here = self.plants.iter().filter(|p| p.stay.hole == hole.name);
            let here = here.filter(|p| p.stay.transplant <= on && on <= p.stay.removal);
            // On the day on which one follows upon another, the one that leaves.
            let stands = here.min_by_key(|p| p.stay.transplant);
            let right = match stands {
                None => told["plant"].is_null(),
                Some(plant) => self.is_plant(&told["plant"], plant, on),
            };
            if !right {
                let name = stands.map_or_else(|| "nothing".to_owned(), Plant::name);
                faults.push(format!("map: {told}, where {name} stands on {on}"));
            }
        }
    }

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
