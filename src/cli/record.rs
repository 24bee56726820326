//! `record`: what happened, in plain words.

use std::path::PathBuf;

use chrono::NaiveDate;
use clap::{Args, Subcommand};

use crate::cli::error::CommandError;
use crate::cli::{context, output};
use crate::diary::RecordRequest;
use crate::plan::record::{self, Recorded};
use crate::terminal::diary;
use crate::units::Units;
use crate::week;

/// Put down what happened: what was sown, set out, harvested, lost, topped up, refilled
#[derive(Debug, Args)]
#[command(
    after_help = "All of it goes into diary.yaml beside the garden file, a line each. A line that \
is wrong can be taken out there with any editor."
)]
pub struct RecordArgs {
    #[command(subcommand)]
    what: RecordVerb,
    /// The day on which it happened [default: today]
    #[arg(long, value_name = "DATE", value_parser = week::parse_date, global = true)]
    on: Option<NaiveDate>,
    /// Garden file, or the folder that holds it [default: the current folder]
    #[arg(long, value_name = "PATH", global = true)]
    garden: Option<PathBuf>,
    /// Folder of the plan [default: plan/ beside the garden file]
    #[arg(long, value_name = "DIR", global = true)]
    out: Option<PathBuf>,
}

#[derive(Debug, Subcommand)]
enum RecordVerb {
    #[command(flatten)]
    Event(RecordRequest),
    /// A day's work was done just as planned: `done`, `done 2027-05-05`
    Done {
        /// The day
        #[arg(value_parser = week::parse_date)]
        date: Option<NaiveDate>,
    },
}

impl RecordArgs {
    pub fn run(self) -> Result<(), CommandError> {
        let loaded = context::read_garden(self.garden.as_deref())?;
        let garden = &loaded.garden;
        let folder = context::out_folder(self.out.as_deref(), &loaded.path);
        let path = context::diary_path(&loaded);
        let on = self.on.unwrap_or_else(|| context::today(garden));
        let recorded = match self.what {
            RecordVerb::Event(request) => {
                let plan = context::former_plan(&folder);
                record::record_request(&path, garden, plan.as_ref(), on, &request)?
            }
            RecordVerb::Done { date } => {
                let plan = context::read_plan(&folder, &loaded)?;
                record::record_done(&path, garden, &plan, date.unwrap_or(on))?
            }
        };
        print_recorded(&recorded, garden.units)
    }
}

fn print_recorded(recorded: &Recorded, units: Units) -> Result<(), CommandError> {
    for (entry, why) in &recorded.skipped {
        output::note(&diary::render_skipped(entry, why.as_ref(), units));
    }
    output::result(&diary::render_recorded(&recorded.added, units))?;
    if !recorded.removed_holes.is_empty() {
        output::note(&diary::render_removed(&recorded.removed_holes));
    }
    if let Some(charged) = &recorded.attributed_loss {
        output::note(&diary::render_attribution(charged));
    }
    Ok(())
}
