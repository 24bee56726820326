//! `sheet`: a week on paper.

use std::path::PathBuf;

use chrono::NaiveDate;
use clap::Args;

use crate::chores;
use crate::cli::error::Failure;
use crate::cli::files::{self, Draft, Target};
use crate::cli::{context, output};
use crate::page;
use crate::terminal::week;

/// Write a page to print and hang beside the rig: a week's chores, and the map
#[derive(Debug, Args)]
pub struct Sheet {
    /// Any day of the week, such as 2027-05-03 [default: today, or the plan's first day]
    #[arg(value_parser = context::date)]
    date: Option<NaiveDate>,
    /// Garden file, or the folder that holds it [default: the current folder]
    #[arg(long, value_name = "PATH")]
    garden: Option<PathBuf>,
    /// Folder of the plan, into which the sheet goes [default: plan/ beside the garden file]
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
}

impl Sheet {
    pub fn run(self) -> Result<(), Failure> {
        let context::Asked {
            garden,
            folder,
            plan,
            day,
        } = context::asked(self.garden.as_deref(), self.out.as_deref(), self.date)?;
        let path = folder.join(page::sheet_name(day));
        let chores = week::of_week(chores::chores(&plan, &garden), day);
        files::write_all(&[Draft {
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
