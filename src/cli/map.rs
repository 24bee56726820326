//! `map`: the rig as it stands on a day.

use std::path::PathBuf;

use chrono::NaiveDate;
use clap::Args;
use serde::Serialize;

use super::failure::Failure;
use super::{find, say};
use crate::report::standing::{self, HoleOnDay};
use crate::report::terminal::map;

/// Draw the rig as it stands on a day: each hole's crop and how grown it is
#[derive(Debug, Args)]
pub struct Map {
    /// The day, such as 2027-05-03 [default: today, or the plan's first day]
    #[arg(value_parser = find::date)]
    date: Option<NaiveDate>,
    /// Garden file, or the folder that holds it [default: the current folder]
    #[arg(long, value_name = "PATH")]
    garden: Option<PathBuf>,
    /// Folder of the plan [default: plan/ beside the garden file]
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

#[derive(Serialize)]
struct Told {
    day: NaiveDate,
    holes: Vec<HoleOnDay>,
}

impl Map {
    pub fn run(self) -> Result<(), Failure> {
        let find::Asked {
            garden, plan, day, ..
        } = find::asked(self.garden.as_deref(), self.out.as_deref(), self.date)?;
        let holes = standing::standing(&plan, &garden, day);
        if self.json {
            return say::json(&Told { day, holes });
        }
        say::result(&map::map(&holes, &garden, day, say::columns()))
    }
}
