//! `week`: a week's chores.

use std::path::PathBuf;

use chrono::NaiveDate;
use clap::Args;
use serde::Serialize;

use crate::chores::{self, Chore};
use crate::cli::error::Failure;
use crate::cli::{context, output};
use crate::terminal::week;
use crate::week::monday;

/// Tell the chores of a week, day by day
#[derive(Debug, Args)]
pub struct Week {
    /// Any day of the week, such as 2027-05-03 [default: today, or the plan's first day]
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
    monday: NaiveDate,
    chores: Vec<Chore>,
}

impl Week {
    pub fn run(self) -> Result<(), Failure> {
        let context::Asked {
            garden, plan, day, ..
        } = context::asked(self.garden.as_deref(), self.out.as_deref(), self.date)?;
        let chores = week::of_week(chores::chores(&plan, &garden), day);
        if self.json {
            return output::json(&Told {
                monday: monday(day),
                chores,
            });
        }
        output::result(&week::week(&chores, &garden, day, output::columns()))
    }
}
