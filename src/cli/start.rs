//! `start`: a small garden to begin with.

use std::fs;
use std::io::{self, Write};
use std::path::PathBuf;

use clap::Args;

use crate::cli::error::CommandError;
use crate::cli::output;
use crate::garden::file::FILE_NAME;

/// The garden that is written, comments and all.
const STARTER_GARDEN: &str = include_str!("start.yaml");

/// Write a small garden file with comments, to change into your own
#[derive(Debug, Args)]
pub struct StartArgs {
    /// Folder to write garden.yaml into; made if it is not there
    dir: PathBuf,
}

impl StartArgs {
    pub fn run(self) -> Result<(), CommandError> {
        let path = self.dir.join(FILE_NAME);
        let refused = |cause| CommandError::WriteGarden {
            path: path.clone(),
            cause,
        };
        fs::create_dir_all(&self.dir).map_err(refused)?;
        // Creating and looking whether it is there are one step, so that nothing is lost.
        match fs::File::create_new(&path) {
            Err(cause) if cause.kind() == io::ErrorKind::AlreadyExists => {
                return Err(CommandError::GardenExists(path));
            }
            made => made
                .and_then(|mut file| file.write_all(STARTER_GARDEN.as_bytes()))
                .map_err(refused)?,
        }
        output::result(&format!(
            "Made {}: a small garden that plans as it is.\n\n\
             Next:\n  \
             1. open it in a text editor and make it yours\n  \
             2. steadyleaf check {dir}   says how it was understood\n  \
             3. steadyleaf plan {dir}    makes the plan and the calendar\n",
            path.display(),
            dir = self.dir.display(),
        ))
    }
}
