//! The commands: each reads what it needs, asks the library, and prints what it says.

mod calendar_files;
mod check;
pub(crate) mod context;
mod crops;
pub(crate) mod error;
pub mod files;
mod log;
mod map;
pub(crate) mod output;
mod plan;
pub(crate) mod progress;
mod record;
mod sheet;
mod start;
mod week;

use std::process::ExitCode;

use clap::{Parser, Subcommand};

/// Done.
pub const EXIT_DONE: u8 = 0;
/// The garden cannot be planned as written, or something else was refused; it was said what.
pub const EXIT_REFUSED: u8 = 1;
/// The command line was not understood (clap's own code).
pub const EXIT_USAGE: u8 = 2;

/// Plans sowing, transplanting and harvest for home-built recirculating rigs, so that the same
/// amount can be eaten every week, and puts the plan in your calendar.
#[derive(Debug, Parser)]
#[command(version, max_term_width = 100)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    Start(start::StartArgs),
    Check(check::CheckArgs),
    Plan(plan::PlanArgs),
    Record(record::RecordArgs),
    Log(log::LogArgs),
    Week(week::WeekArgs),
    Map(map::MapArgs),
    Sheet(sheet::SheetArgs),
    Crops(crops::CropsArgs),
}

/// Runs the program with the process's own arguments.
#[must_use]
pub fn run() -> ExitCode {
    let done = match Arguments::parse().command {
        Command::Start(start) => start.run(),
        Command::Check(check) => check.run(),
        Command::Plan(plan) => plan.run(),
        Command::Record(record) => record.run(),
        Command::Log(log) => log.run(),
        Command::Week(week) => week.run(),
        Command::Map(map) => map.run(),
        Command::Sheet(sheet) => sheet.run(),
        Command::Crops(crops) => crops.run(),
    };
    match done {
        Ok(()) => ExitCode::from(EXIT_DONE),
        Err(failure) => {
            output::failure(&failure);
            ExitCode::from(EXIT_REFUSED)
        }
    }
}
