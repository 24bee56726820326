//! `log`: what the diary tells so far.

use std::path::PathBuf;

use clap::Args;

use crate::cli::error::CommandError;
use crate::cli::{context, output};
use crate::diary;
use crate::summary::log;
use crate::terminal;

/// Tell what the diary says so far: harvests against wants, days to harvest, losses, water
#[derive(Debug, Args)]
pub struct LogArgs {
    /// Garden file, or the folder that holds it [default: the current folder]
    #[arg(long, value_name = "PATH")]
    garden: Option<PathBuf>,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

impl LogArgs {
    pub fn run(self) -> Result<(), CommandError> {
        let loaded = context::read_garden(self.garden.as_deref())?;
        let garden = &loaded.garden;
        let diary = context::read_diary(&loaded)?;
        let until = log::last_day(&diary.entries, garden);
        let (state, left_out) = diary::replay(garden, &diary.entries, until);
        let left_out = left_out.iter().map(|(entry, why)| (*entry, why));
        context::report_oddities(left_out, &state, garden.units);
        let log = log::log(garden, &state, until);
        if self.json {
            return output::json(&log);
        }
        output::result(&terminal::log::render_log(&log, garden))
    }
}
