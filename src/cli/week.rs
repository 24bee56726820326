//! `week`: a week's chores.

use std::path::PathBuf;

use chrono::NaiveDate;
use clap::Args;
use serde::Serialize;

use super::failure::Failure;
use super::{find, say};
use crate::chores::{self, Chore};
use crate::report::terminal::week;
use crate::week::monday;

/// Tell the chores of a week, day by day
#[derive(Debug, Args)]
pub struct Week {
    /// Any day of the week, such as 2027-05-03 [default: today, or the plan's first day]
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
    monday: NaiveDate,
    chores: Vec<Chore>,
}

impl Week {
    pub fn run(self) -> Result<(), Failure> {
        let find::Asked {
            garden, plan, day, ..
        } = find::asked(self.garden.as_deref(), self.out.as_deref(), self.date)?;
        let chores = week::of_week(chores::chores(&plan, &garden), day);
        if self.json {
            return say::json(&Told {
                monday: monday(day),
                chores,
            });
        }
        say::result(&week::week(&chores, &garden, day, say::columns()))
    }
}
