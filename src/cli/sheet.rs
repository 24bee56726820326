//! `sheet`: a week on paper.

use std::path::PathBuf;

use chrono::NaiveDate;
use clap::Args;

use crate::chores;
use crate::cli::error::CommandError;
use crate::cli::files::{self, PendingFile, Target};
use crate::cli::{context, output};
use crate::page;
use crate::terminal::week;

/// Write a page to print and hang beside the rig: a week's chores, and the map
#[derive(Debug, Args)]
pub struct SheetArgs {
    /// Any day of the week, such as 2027-05-03 [default: today, or the plan's first day]
    #[arg(value_parser = crate::week::parse_date)]
    date: Option<NaiveDate>,
    /// Garden file, or the folder that holds it [default: the current folder]
    #[arg(long, value_name = "PATH")]
    garden: Option<PathBuf>,
    /// Folder of the plan, into which the sheet goes [default: plan/ beside the garden file]
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
}

impl SheetArgs {
    pub fn run(self) -> Result<(), CommandError> {
        let context::DayRequest {
            garden,
            folder,
            plan,
            day,
        } = context::day_request(self.garden.as_deref(), self.out.as_deref(), self.date)?;
        let path = folder.join(page::sheet_name(day));
        let chores = week::chores_of_week(chores::chores(&plan, &garden), day);
        files::write_all(&[PendingFile {
            target: Target {
                path: path.clone(),
                is_ours: page::is_ours,
            },
            contents: page::sheet(&plan, &garden, &chores, day),
        }])?;
        output::result(&format!(
            "Made {}\nOpen it with a browser and print it, on A4 or Letter.\n",
            path.display()
        ))
    }
}
