//! A crop card as a list of facts, each with its source.

use serde::Serialize;

use crate::garden::crop::{BoltingRule, Crop, HarvestHabit, Propagation, Stage};
use crate::units::Units;

/// A crop in one line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CardSummary {
    /// The word used in garden files.
    pub key: String,
    /// What people call it.
    pub called: String,
    /// How it is harvested: `head`, `cut` or `pick`.
    pub habit: &'static str,
    /// From sowing to transplant, at the card's conditions.
    pub nursery: String,
    /// From transplant to the first harvest, at the card's conditions.
    pub hole: String,
    /// What a plant gives.
    pub gives: String,
    /// How wide it is when ripe.
    pub spread: String,
}

/// One thing that a card states.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CardFact {
    /// The card's dotted key.
    pub key: &'static str,
    /// What it is.
    pub what: &'static str,
    /// Its value, with its unit.
    pub value: String,
    /// Where it comes from.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
}

/// The card in one line.
#[must_use]
pub fn card_summary(crop: &Crop, units: Units) -> CardSummary {
    CardSummary {
        key: crop.key.clone(),
        called: crop.name.clone(),
        habit: habit(&crop.harvest),
        nursery: crop.nursery.days.in_units(units),
        hole: crop.hole.days.in_units(units),
        gives: expected_yield(&crop.harvest, units),
        spread: crop.size.spread.in_units(units),
    }
}

fn habit(harvest: &HarvestHabit) -> &'static str {
    match harvest {
        HarvestHabit::Head { .. } => "head",
        HarvestHabit::Cut { .. } => "cut",
        HarvestHabit::Pick { .. } => "pick",
    }
}

fn expected_yield(harvest: &HarvestHabit, units: Units) -> String {
    match harvest {
        HarvestHabit::Head { each, .. } => format!("{} once", each.in_units(units)),
        HarvestHabit::Cut {
            first, later, cuts, ..
        } => format!(
            "{}, {} x {}",
            first.in_units(units),
            cuts.saturating_sub(1),
            later.in_units(units)
        ),
        HarvestHabit::Pick { each_week, .. } => format!("{} a week", each_week.in_units(units)),
    }
}

/// Everything that the card states in numbers.
#[must_use]
pub fn facts(crop: &Crop, units: Units) -> Vec<CardFact> {
    let mut facts = Vec::new();
    let mut add = |key, what, value| {
        facts.push(CardFact {
            key,
            what,
            value,
            source: source(crop, key),
        })
    };
    let stage = |stage: &Stage| {
        format!(
            "{} at {} day, {} night, {} in {}",
            stage.days.in_units(units),
            stage.day.in_units(units),
            stage.night.in_units(units),
            stage.dli.in_units(units),
            stage.photoperiod.in_units(units),
        )
    };
    add("nursery", "in the nursery", stage(&crop.nursery));
    add("hole", "in the hole, to ripe", stage(&crop.hole));
    for (key, what, value) in harvest(&crop.harvest, units) {
        add(key, what, value);
    }
    let heat = &crop.temperature;
    add("temperature.base", "grows above", heat.base.in_units(units));
    add(
        "temperature.best",
        "grows best at",
        heat.optimum.in_units(units),
    );
    add(
        "temperature.limit",
        "grows below",
        heat.maximum.in_units(units),
    );
    add(
        "temperature.coldest",
        "stands nights down to",
        heat.coldest.in_units(units),
    );
    add(
        "temperature.warmest",
        "stands days up to",
        heat.warmest.in_units(units),
    );
    add(
        "light.least",
        "light a day, at least",
        crop.light.minimum_dli.in_units(units),
    );
    add(
        "light.wanted",
        "light a day, wanted",
        crop.light.target_dli.in_units(units),
    );
    for rule in &crop.bolting_rules {
        add("bolts", "runs to seed", bolting(rule, units));
    }
    add(
        "size.seedling",
        "wide at transplant",
        crop.size.seedling.in_units(units),
    );
    add(
        "size.spread",
        "wide when ripe",
        crop.size.spread.in_units(units),
    );
    add(
        "size.height",
        "tall when ripe",
        crop.size.height.in_units(units),
    );
    let (least, most) = crop.solution.ec;
    add(
        "solution.ec",
        "EC of the solution",
        format!("{} to {}", least.in_units(units), most.in_units(units)),
    );
    let (least, most) = crop.solution.ph;
    add(
        "solution.ph",
        "pH of the solution",
        format!("{least} to {most}"),
    );
    let seed = &crop.seed;
    let (from, comes, lost) = match crop.propagation {
        Propagation::Seed => ("seed", "seed that comes up", "seedlings lost"),
        Propagation::Cutting => ("cuttings", "cuttings that root", "young plants lost"),
        Propagation::Plug => ("plugs", "plugs that take", "young plants lost"),
    };
    add("starts", "raised from", from.to_owned());
    add("seed.germination", comes, seed.germination.in_units(units));
    add("seed.losses", lost, seed.losses.in_units(units));
    if let Some(keeps) = seed.seed_viability {
        add("seed.keeps", "seed keeps", keeps.in_units(units));
    }
    add("seed.per_cup", "plants in a cup", seed.per_cup.to_string());
    if let Some(warmest) = seed.warmest {
        add(
            "seed.warmest",
            "seed comes up below",
            warmest.in_units(units),
        );
    }
    add(
        "coefficient",
        "water use, young to full",
        format!(
            "{} to {} of the reference",
            crop.crop_coefficient.initial, crop.crop_coefficient.mid_season
        ),
    );
    facts
}

fn harvest(harvest: &HarvestHabit, units: Units) -> Vec<(&'static str, &'static str, String)> {
    match harvest {
        HarvestHabit::Head {
            each,
            field_holding: holds,
        } => vec![
            ("harvest.each", "a head weighs", each.in_units(units)),
            ("harvest.holds", "keeps when ripe", holds.in_units(units)),
        ],
        HarvestHabit::Cut {
            first,
            later,
            cuts,
            regrowth_days: between,
            residual_canopy: leaves,
            field_holding: holds,
        } => vec![
            ("harvest.first", "first cut gives", first.in_units(units)),
            ("harvest.later", "later cuts give", later.in_units(units)),
            ("harvest.cuts", "cuts at the most", cuts.to_string()),
            (
                "harvest.between",
                "between two cuts",
                between.in_units(units),
            ),
            ("harvest.leaves", "a cut leaves", leaves.in_units(units)),
            ("harvest.holds", "a cut may wait", holds.in_units(units)),
        ],
        HarvestHabit::Pick {
            each_week,
            harvest_period: lasts,
            field_holding: holds,
        } => vec![
            (
                "harvest.each_week",
                "gives a week",
                each_week.in_units(units),
            ),
            ("harvest.lasts", "picked for", lasts.in_units(units)),
            ("harvest.holds", "ripe ones may wait", holds.in_units(units)),
        ],
    }
}

fn bolting(rule: &BoltingRule, units: Units) -> String {
    let mut when = Vec::new();
    if let Some(heat) = rule.mean_above {
        when.push(format!("a mean above {}", heat.in_units(units)));
    }
    if let Some(cold) = rule.mean_below {
        when.push(format!("a mean below {}", cold.in_units(units)));
    }
    if let Some(hours) = rule.day_longer_than {
        when.push(format!("days longer than {}", hours.in_units(units)));
    }
    format!(
        "after {} of {}",
        rule.for_days.in_units(units),
        when.join(" and ")
    )
}

/// The source of a card's key: its own, or that of the group it belongs to, or that of what the
/// card tells within it.
fn source(crop: &Crop, key: &str) -> Option<String> {
    let of = |wanted: &str| crop.sources.iter().find(|(k, _)| k == wanted);
    if let Some((_, source)) = of(key) {
        return Some(source.clone());
    }
    if let Some((group, _)) = key.split_once('.')
        && let Some((_, source)) = of(group)
    {
        return Some(source.clone());
    }
    let mut within: Vec<&str> = Vec::new();
    for (k, source) in &crop.sources {
        let is_within = k
            .strip_prefix(key)
            .is_some_and(|rest| rest.starts_with(['.', '[']));
        if is_within && !within.contains(&source.as_str()) {
            within.push(source);
        }
    }
    (!within.is_empty()).then(|| within.join("; "))
}
