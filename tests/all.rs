//! All tests, in one program: forty would each link the whole library, which takes gigabytes and
//! most of the time.

#[path = "common/entries.rs"]
mod entries;
#[path = "common/gardens.rs"]
mod gardens;
#[path = "common/independent_check/mod.rs"]
mod independent_check;
mod lantern;
#[path = "common/plans.rs"]
mod plans;
#[path = "common/problems.rs"]
mod problems;
#[path = "common/random_gardens.rs"]
mod random_gardens;
#[path = "common/tables.rs"]
mod tables;
#[path = "common/tank_mass_balance.rs"]
mod tank_mass_balance;

mod acceptance;
mod advice;
mod air;
mod anywhere;
mod binding;
mod calendar;
mod calendar_updates;
mod calibration;
mod canopy;
mod card_page;
mod cards;
mod ceiling;
mod checker;
mod chores;
mod climate;
mod commands;
mod crop_cards;
mod dates;
mod deviations;
mod diary;
mod diary_page;
mod documents;
mod evaporation;
mod examples;
mod garden_file;
mod garden_page;
mod growth;
mod hydraulics;
mod imperial;
#[cfg(target_os = "linux")]
mod interrupted;
mod languages;
mod light;
mod littles_law;
mod mixing;
mod odd_months;
mod optimum;
mod outputs_match_plan;
mod page;
mod path;
mod plan_rules;
mod plant_life;
mod quantity;
mod record;
mod replan;
mod rig;
mod risk;
mod scrubbing;
mod search;
mod season;
mod season_turn;
mod seed_counts;
mod seed_plants;
mod sowings;
mod statistics;
mod sun;
mod tank;
mod terminal;
mod together;
mod unchanged_replan;
mod warmth;
mod water;
mod weather_file;
mod wrong_gardens;
mod year_simulation;
