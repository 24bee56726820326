//! `check`: what was understood of a garden file.

use std::path::PathBuf;

use clap::Args;

use crate::cli::error::CommandError;
use crate::cli::{context, output};
use crate::summary::acceptance::acceptance;
use crate::terminal;

/// Read a garden and say what was understood, judge its rig before planting,
/// and give the cautions that it calls for
#[derive(Debug, Args)]
pub struct CheckArgs {
    /// Garden file, or the folder that holds it [default: the current folder]
    garden: Option<PathBuf>,
    /// Print the rig's acceptance sheet as JSON
    #[arg(long)]
    json: bool,
}

impl CheckArgs {
    pub fn run(self) -> Result<(), CommandError> {
        let loaded = context::read_garden(self.garden.as_deref())?;
        if self.json {
            return output::json(&acceptance(&loaded.garden));
        }
        output::view(&terminal::check::render_check(&loaded.garden))
    }
}
