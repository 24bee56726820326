//! `log`: what the diary tells so far.

use std::path::PathBuf;

use clap::Args;

use super::failure::Failure;
use super::{find, say};
use crate::garden::diary;
use crate::report::{log, terminal};

/// Tell what the diary says so far: harvests against wants, days to harvest, losses, water
#[derive(Debug, Args)]
pub struct Log {
    /// Garden file, or the folder that holds it [default: the current folder]
    #[arg(long, value_name = "PATH")]
    garden: Option<PathBuf>,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

impl Log {
    pub fn run(self) -> Result<(), Failure> {
        let loaded = find::garden(self.garden.as_deref())?;
        let garden = &loaded.garden;
        let diary = find::diary(&loaded)?;
        let until = log::last_day(&diary.entries, garden);
        let (state, left_out) = diary::replay(garden, &diary.entries, until);
        let left_out = left_out.iter().map(|(entry, why)| (*entry, why));
        find::tell_odd(left_out, &state, garden.units);
        let log = log::log(garden, &state, until);
        if self.json {
            return say::json(&log);
        }
        say::result(&terminal::log::log(&log, garden))
    }
}
