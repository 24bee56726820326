//! Steadyleaf plans what to sow, where to plant it and when to take it, so that a small
//! home-built rig feeds its grower evenly all year.
//!
//! Data flows one way, in the order of these modules: each uses only what is above it.
//!
//! [`reader`] turns YAML with its places into values, and [`garden::file`] reads a garden file, its
//! weather file and the crop cards with it into a [`garden::Garden`]: all of it checked, every number
//! with its unit. [`nature`] says what sun, air and plants do there, day by day, and [`plumbing`] what
//! the water does. From both, [`plan::plan_garden`] builds a [`planner::problem::Problem`] in whole
//! numbers, has it solved and checked by [`planner`], and turns the solution back into dates and names:
//! a [`plan::Plan`], with the water that its plants drink. Once there is a diary ([`mod@diary`]),
//! [`plan::replan()`] does the same around what happened.
//!
//! [`chores::chores`] turns a plan into dated things to do. The outputs stand side by side:
//! [`calendar`] writes iCalendar, [`page`] the report and the week's sheet, [`terminal`] text.
//! The feature `cli`, on by default, adds the commands, which read, ask and print, and write files, all
//! or none.

pub mod units;

mod fingerprint;

pub mod week;

pub mod text;

pub mod reader;

pub mod garden;

pub mod nature;

pub mod plumbing;

pub mod diary;

pub mod planner;

pub mod plan;

pub mod chores;

pub mod summary;

pub mod messages;

pub mod calendar;

pub mod page;

pub mod terminal;

#[cfg(feature = "cli")]
pub mod cli;
