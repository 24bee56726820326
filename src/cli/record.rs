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
    #[arg(long, value_name = "DATE", value_parser = context::date, global = true)]
    on: Option<NaiveDate>,
    /// Garden file, or the folder that holds it [default: the current folder]
    #[arg(long, value_name = "PATH", global = true)]
    garden: Option<PathBuf>,
    /// Folder of the plan [default: plan/ beside the garden file]
    #[arg(long, value_name = "DIR", global = true)]
    out: Option<PathBuf>,
}

/// Several holes are joined by commas: `deck-2-3,deck-2-5`.
#[derive(Debug, Subcommand)]
enum RecordVerb {
    /// Seed went into cells of the nursery: `sown butterhead 12`
    Sown {
        /// The crop's key
        crop: String,
        /// How many cells
        #[arg(value_parser = clap::value_parser!(u32).range(1..))]
        cells: u32,
    },
    /// Seedlings went into holes: `transplanted deck-2-3 butterhead`
    Transplanted {
        /// The hole
        hole: String,
        /// The crop's key
        crop: String,
        /// They were given or bought as plants, and are none of the nursery's seedlings
        #[arg(long)]
        given: bool,
        /// The day on which what was given was sown, if that is known
        #[arg(long, value_name = "DATE", value_parser = context::date, requires = "given")]
        sown: Option<NaiveDate>,
    },
    /// Plants died: `lost deck-2-3 wilt`; seedlings did: `lost butterhead 3 mould`
    Lost {
        /// The hole, or the crop of the seedlings
        what: String,
        /// How many seedlings, and of what
        words: Vec<String>,
        /// The day on which the seedlings were sown, where several sowings are in the nursery
        #[arg(long, value_name = "DATE", value_parser = context::date)]
        sown: Option<NaiveDate>,
    },
    /// Something was harvested: `harvested deck-1-1 160 g`
    ///
    /// The plant is taken to have come out where the plan has that as its last harvest.
    Harvested {
        /// The hole
        hole: String,
        /// How much, of all the holes together
        amount: Vec<String>,
        /// The plant came out with it, though more could have been cut or picked
        #[arg(long)]
        last: bool,
        /// The plant still stands, though the plan has this as its last harvest
        #[arg(long, conflicts_with = "last")]
        stands: bool,
    },
    /// Plants were taken out without a harvest: `cleared deck-2-3`
    Cleared {
        /// The hole
        hole: String,
    },
    /// Water went into a tank: `topped-up roof 14 l`, or `topped-up roof 14 l full`
    ///
    /// The tank is taken to hold so much more than was reckoned before, and no more than it can;
    /// with `full` after the amount it is taken as full. A top-up of the plan's that is not put
    /// down is taken as done as planned, unless others were put down within three days of it and
    /// that day's work was not.
    ToppedUp {
        /// The loop
        r#loop: String,
        /// How much; then `full` if the tank was full after it
        #[arg(required = true)]
        amount: Vec<String>,
    },
    /// A tank was emptied and filled with fresh solution: `refilled roof`
    Refilled {
        /// The loop
        r#loop: String,
    },
    /// The solution was measured: `read roof ec 1.6 ph 6.1`
    Read {
        /// The loop
        r#loop: String,
        /// EC, pH or both
        #[arg(required = true)]
        values: Vec<String>,
    },
    /// A hole cannot be used: `blocked deck-4-6`
    Blocked {
        /// The hole
        hole: String,
    },
    /// It can be used again: `unblocked deck-4-6`
    Unblocked {
        /// The hole
        hole: String,
    },
    /// A tube was emptied and scrubbed: `cleaned deck-1`
    Cleaned {
        /// The tube
        tube: String,
    },
    /// A day's work was done just as planned: `done`, `done 2027-05-05`
    Done {
        /// The day
        #[arg(value_parser = context::date)]
        date: Option<NaiveDate>,
    },
}

impl RecordArgs {
    pub fn run(self) -> Result<(), CommandError> {
        let loaded = context::garden(self.garden.as_deref())?;
        let garden = &loaded.garden;
        let folder = context::out_folder(self.out.as_deref(), &loaded.path);
        let path = context::diary_path(&loaded);
        let on = self.on.unwrap_or_else(|| context::today(garden));
        let recorded = match self.what.request() {
            Ok(said) => {
                let plan = context::former_plan(&folder);
                record::record_request(&path, garden, plan.as_ref(), on, &said)?
            }
            Err(date) => {
                let plan = context::plan(&folder, &loaded)?;
                record::record_done(&path, garden, &plan, date.unwrap_or(on))?
            }
        };
        print_recorded(&recorded, garden.units)
    }
}

impl RecordVerb {
    /// What was said; or the day that was done as planned.
    fn request(self) -> Result<RecordRequest, Option<NaiveDate>> {
        Ok(match self {
            Self::Sown { crop, cells } => RecordRequest::Sown(crop, cells),
            Self::Transplanted {
                hole,
                crop,
                given: true,
                sown,
            } => RecordRequest::Given(hole, crop, sown),
            Self::Transplanted { hole, crop, .. } => RecordRequest::Transplanted(hole, crop),
            Self::Lost { what, words, sown } => RecordRequest::Lost(what, words, sown),
            Self::Harvested {
                hole,
                amount,
                last,
                stands,
            } => RecordRequest::Harvested(hole, amount, (last || stands).then_some(last)),
            Self::Cleared { hole } => RecordRequest::Cleared(hole),
            Self::ToppedUp { r#loop, amount } => RecordRequest::ToppedUp(r#loop, amount),
            Self::Refilled { r#loop } => RecordRequest::Refilled(r#loop),
            Self::Read { r#loop, values } => RecordRequest::Read(r#loop, values),
            Self::Blocked { hole } => RecordRequest::Blocked(hole),
            Self::Unblocked { hole } => RecordRequest::Unblocked(hole),
            Self::Cleaned { tube } => RecordRequest::Cleaned(tube),
            Self::Done { date } => return Err(date),
        })
    }
}

fn print_recorded(recorded: &Recorded, units: Units) -> Result<(), CommandError> {
    for (entry, why) in &recorded.left_out {
        output::note(&diary::render_skipped(entry, why.as_ref(), units));
    }
    output::result(&diary::render_recorded(&recorded.added, units))?;
    if !recorded.taken_out.is_empty() {
        output::note(&diary::render_removed(&recorded.taken_out));
    }
    if let Some(charged) = &recorded.charged {
        output::note(&diary::render_attribution(charged));
    }
    Ok(())
}
