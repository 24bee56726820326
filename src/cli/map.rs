//! `map`: the rig as it stands on a day.

use std::path::PathBuf;

use chrono::NaiveDate;
use clap::Args;
use serde::Serialize;

use crate::cli::error::CommandError;
use crate::cli::{context, output};
use crate::summary::snapshot::{self, HoleOnDay};
use crate::terminal::map;
use crate::week;

/// Draw the rig as it stands on a day: each hole's crop and how grown it is
#[derive(Debug, Args)]
pub struct MapArgs {
    /// The day, such as 2027-05-03 [default: today, or the plan's first day]
    #[arg(value_parser = week::parse_date)]
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
struct MapJson {
    day: NaiveDate,
    holes: Vec<HoleOnDay>,
}

impl MapArgs {
    pub fn run(self) -> Result<(), CommandError> {
        let context::DayRequest {
            garden, plan, day, ..
        } = context::day_request(self.garden.as_deref(), self.out.as_deref(), self.date)?;
        let holes = snapshot::snapshot(&plan, &garden, day);
        if self.json {
            return output::json(&MapJson { day, holes });
        }
        output::result(&map::render_map(&holes, &garden, day, output::columns()))
    }
}
