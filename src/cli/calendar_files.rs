//! The calendar's files in the folder of a plan, and what is remembered of them.

use std::fs;
use std::path::{Path, PathBuf};

use chrono::{NaiveDate, TimeDelta};
use clap::builder::{PossibleValuesParser, TypedValueParser};
use clap::{Args, ValueEnum};

use crate::calendar::{self, CalendarOptions, CalendarState, CalendarUpdate, ComponentKind};
use crate::chores::{Chore, Kind};
use crate::cli::files::{PendingFile, Target};
use crate::garden::{self, Garden};
use crate::week;

/// What was told so far, beside the plan.
const STATE_FILE: &str = "calendar-state.json";

/// What the calendar tells and how.
#[derive(Debug, Args)]
pub struct CalendarArgs {
    /// Put chores in the calendar as events, or as tasks to tick off, in a file of their own
    #[arg(long, value_enum, default_value_t = Format::Events)]
    format: Format,
    /// Only these kinds of work, such as sow,harvest
    #[arg(long, value_name = "KINDS", value_delimiter = ',', value_parser = kinds())]
    only: Vec<Kind>,
    /// A calendar file for each kind of work instead of one for all
    #[arg(long)]
    split_by_kind: bool,
    /// Only so many days, counted from today (see --today)
    #[arg(long, value_name = "DAYS", value_parser = clap::value_parser!(u32).range(1..))]
    days: Option<u32>,
    /// The day that counts as today: with a diary it is planned from; the calendar's changes are
    /// dated by it [default: with a diary today, else the garden's first day]
    #[arg(long, value_name = "DATE", value_parser = week::parse_date)]
    pub today: Option<NaiveDate>,
    /// Ring so long before each chore, such as "14 h" or "30 min"; all-day chores count from midnight
    #[arg(long, value_name = "TIME", value_parser = garden::parse_alarm)]
    alarm: Option<TimeDelta>,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum Format {
    Events,
    Todos,
}

fn kinds() -> impl TypedValueParser<Value = Kind> {
    PossibleValuesParser::new(Kind::ALL.map(Kind::key)).try_map(|key| {
        let kind = Kind::ALL.into_iter().find(|kind| kind.key() == key);
        kind.ok_or("no such kind of work")
    })
}

impl CalendarArgs {
    fn form(&self) -> ComponentKind {
        match self.format {
            Format::Events => ComponentKind::Events,
            Format::Todos => ComponentKind::Todos,
        }
    }

    /// Everything that may be written, to be looked at before long work.
    pub fn targets(&self, folder: &Path) -> Vec<Target> {
        let files = self.file_parts().into_iter().map(|part| Target {
            path: folder.join(file_name(self.form(), part)),
            is_ours: calendar::is_ours,
        });
        files.chain([state_target(folder)]).collect()
    }

    /// The files' contents, and the state that follows from them. `from` is the plan's first day;
    /// `worked` tells whether the diary has work of that day.
    pub fn pending_files(
        &self,
        folder: &Path,
        chores: &[Chore],
        garden: &Garden,
        from: NaiveDate,
        worked: bool,
    ) -> Vec<PendingFile> {
        let options = CalendarOptions {
            files: calendars(folder),
            ..self.options(from, worked)
        };
        let update = CalendarUpdate::new(chores, garden, &former_state(folder), &options);
        let mut drafts = Vec::new();
        for (part, target) in self.file_parts().into_iter().zip(self.targets(folder)) {
            // A kind that has nothing to tell needs no file, but an old one is brought up to date.
            let nothing = part.is_some_and(|kind| !update.has_kind(kind));
            if !nothing || target.path.exists() {
                let contents = update.render(part);
                drafts.push(PendingFile { target, contents });
            }
        }
        drafts.push(PendingFile {
            target: state_target(folder),
            contents: update.state().to_json(),
        });
        drafts
    }

    /// One file of everything, or one of each kind asked for.
    fn file_parts(&self) -> Vec<Option<Kind>> {
        if !self.split_by_kind {
            return vec![None];
        }
        let is_wanted = |kind: &Kind| self.only.is_empty() || self.only.contains(kind);
        Kind::ALL.into_iter().filter(is_wanted).map(Some).collect()
    }

    fn options(&self, from: NaiveDate, worked: bool) -> CalendarOptions {
        CalendarOptions {
            ring_before: self.alarm,
            form: self.form(),
            only: self.only.clone(),
            days: self.days,
            today: self.today.or(Some(from)),
            worked,
            files: Vec::new(),
        }
    }
}

/// Calendar files of an earlier plan that this one has not written.
pub fn stale_files(folder: &Path, made: &[PathBuf]) -> Vec<PathBuf> {
    let calendars = all_file_names().map(|name| folder.join(name));
    calendars
        .filter(|path| !made.contains(path))
        .filter(|path| fs::read_to_string(path).is_ok_and(|text| calendar::is_ours(&text)))
        .collect()
}

/// What was told so far: from the state file, or where it is lost, from the calendars themselves.
fn former_state(folder: &Path) -> CalendarState {
    let read = |name: String| fs::read_to_string(folder.join(name)).ok();
    let state = read(STATE_FILE.to_owned()).and_then(|text| CalendarState::parse(&text));
    state.unwrap_or_else(|| {
        CalendarState::from_calendars(calendars(folder).iter().map(String::as_str))
    })
}

/// The calendars of ours in the folder.
fn calendars(folder: &Path) -> Vec<String> {
    let files = all_file_names().filter_map(|name| fs::read_to_string(folder.join(name)).ok());
    files.filter(|file| calendar::is_ours(file)).collect()
}

fn state_target(folder: &Path) -> Target {
    Target {
        path: folder.join(STATE_FILE),
        is_ours: |text| CalendarState::parse(text).is_some(),
    }
}

/// Every name that a calendar file may have.
fn all_file_names() -> impl Iterator<Item = String> {
    [ComponentKind::Events, ComponentKind::Todos]
        .into_iter()
        .flat_map(|form| {
            let parts = [None].into_iter().chain(Kind::ALL.map(Some));
            parts.map(move |part| file_name(form, part))
        })
}

fn file_name(form: ComponentKind, part: Option<Kind>) -> String {
    let stem = match form {
        ComponentKind::Events => "calendar",
        ComponentKind::Todos => "todos",
    };
    match part {
        None => format!("{stem}.ics"),
        Some(kind) => format!("{stem}-{}.ics", kind.key()),
    }
}
