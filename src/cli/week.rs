//! `week`: a week's chores.

use std::path::PathBuf;

use chrono::NaiveDate;
use clap::Args;
use serde::Serialize;

use crate::chores::{self, Chore};
use crate::cli::error::CommandError;
use crate::cli::{context, output};
use crate::terminal::week;
use crate::week::monday;

/// Tell the chores of a week, day by day
#[derive(Debug, Args)]
pub struct WeekArgs {
    /// Any day of the week, such as 2027-05-03 [default: today, or the plan's first day]
    #[arg(value_parser = crate::week::parse_date)]
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
struct WeekJson {
    monday: NaiveDate,
    chores: Vec<Chore>,
}

impl WeekArgs {
    pub fn run(self) -> Result<(), CommandError> {
        let context::DayRequest {
            garden, plan, day, ..
        } = context::day_request(self.garden.as_deref(), self.out.as_deref(), self.date)?;
        let chores = week::chores_of_week(chores::chores(&plan, &garden), day);
        if self.json {
            return output::json(&WeekJson {
                monday: monday(day),
                chores,
            });
        }
        output::result(&week::render_week(&chores, &garden, day, output::columns()))
    }
}
