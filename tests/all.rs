//! All tests, in one program: forty would each link the whole library, which takes gigabytes and
//! most of the time.

#[path = "common/brew.rs"]
mod brew;
#[path = "common/drawn.rs"]
mod drawn;
#[path = "common/entries.rs"]
mod entries;
#[path = "common/gardens.rs"]
mod gardens;
mod lantern;
#[path = "common/problems.rs"]
mod problems;
#[path = "common/reckoned/mod.rs"]
mod reckoned;
#[path = "common/tables.rs"]
mod tables;

mod acceptance;
mod advice;
mod air;
mod anywhere;
mod binding;
mod calendar;
mod calendar_updates;
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
mod handed_out;
mod hydraulics;
mod imperial;
#[cfg(target_os = "linux")]
mod interrupted;
mod kept;
mod languages;
mod lessons;
mod light;
mod lived;
mod mixing;
mod odd_months;
mod optimum;
mod page;
mod path;
mod quantity;
mod record;
mod replan;
mod rig;
mod risk;
mod scrubbing;
mod search;
mod season;
mod season_turn;
mod second_look;
mod seed_counts;
mod seed_plants;
mod sowings;
mod statistics;
mod steady;
mod sun;
mod tank;
mod terminal;
mod together;
mod warmth;
mod water;
mod weather_file;
mod wrong_gardens;
