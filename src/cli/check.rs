//! `check`: what was understood of a garden file.

use std::path::PathBuf;

use clap::Args;

use super::failure::Failure;
use super::{find, say};
use crate::report::acceptance::acceptance;
use crate::report::terminal;

/// Read a garden and say what was understood, judge its rig before planting,
/// and give the cautions that it calls for
#[derive(Debug, Args)]
pub struct Check {
    /// Garden file, or the folder that holds it [default: the current folder]
    garden: Option<PathBuf>,
    /// Print the rig's acceptance sheet as JSON
    #[arg(long)]
    json: bool,
}

impl Check {
    pub fn run(self) -> Result<(), Failure> {
        let loaded = find::garden(self.garden.as_deref())?;
        if self.json {
            return say::json(&acceptance(&loaded.garden));
        }
        say::view(&terminal::check::check(&loaded.garden))
    }
}
