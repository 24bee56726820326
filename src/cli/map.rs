//! `map`: the rig as it stands on a day.

use std::path::PathBuf;

use chrono::NaiveDate;
use clap::Args;
use serde::Serialize;

use crate::cli::error::Failure;
use crate::cli::{context, output};
use crate::summary::snapshot::{self, HoleOnDay};
use crate::terminal::map;

/// Draw the rig as it stands on a day: each hole's crop and how grown it is
#[derive(Debug, Args)]
pub struct Map {
    /// The day, such as 2027-05-03 [default: today, or the plan's first day]
    #[arg(value_parser = context::date)]
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
        let context::Asked {
            garden, plan, day, ..
        } = context::asked(self.garden.as_deref(), self.out.as_deref(), self.date)?;
        let holes = snapshot::standing(&plan, &garden, day);
        if self.json {
            return output::json(&Told { day, holes });
        }
        output::result(&map::map(&holes, &garden, day, output::columns()))
    }
}
