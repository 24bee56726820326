//! `plan`: the main job, from a garden file to a plan and a calendar.

use std::path::{Path, PathBuf};

use chrono::NaiveDate;
use clap::{Args, ValueEnum};
use serde::Serialize;

use super::failure::Failure;
use super::{find, say};
use crate::garden::Garden;
use crate::garden::file::Loaded;
use crate::output::{self, Draft, Target};
use crate::plan::changes::Change;
use crate::plan::risk::{self, Risk};
use crate::plan::{self, Again, Around, Planned};
use crate::planner::problem::Problem;
use crate::planner::search;
use crate::report::figures::{self, Summary};
use crate::report::terminal;
use crate::{calendar, chores};

/// The calendar file in the plan's folder.
const CALENDAR: &str = "calendar.ics";
/// The seed of the seasons drawn: any number would do, but always the same.
const RISK_SEED: u64 = 0x0005_eed5;
/// How the `made_by` of every plan of ours begins, whatever the version.
const MAKER: &str = "steadyleaf ";

/// Plan a garden: write plan.json and calendar.ics, and tell what the plan gives
#[derive(Debug, Args)]
pub struct Plan {
    /// Garden file, or the folder that holds it [default: the current folder]
    garden: Option<PathBuf>,
    /// Folder to write into [default: plan/ beside the garden file]
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// How long to look for a better plan
    #[arg(long, value_enum, default_value_t = Effort::Normal)]
    effort: Effort,
    /// Write the problem behind the plan, as JSON, to this file too
    #[arg(long, value_name = "FILE")]
    problem: Option<PathBuf>,
    /// Plan from this day of the garden, around what the diary says [default: today if there is
    /// a diary, else the garden's first day]
    #[arg(long, value_name = "DATE", value_parser = find::date)]
    today: Option<NaiveDate>,
    /// Do not hold on to the plan so far
    #[arg(long)]
    anew: bool,
    /// Draw so many seasons by chance, and tell how likely each week's want is met
    #[arg(long, value_name = "SEASONS", value_parser = clap::value_parser!(u32).range(1..=10_000))]
    risk: Option<u32>,
    /// Print the summary as JSON
    #[arg(long)]
    json: bool,
    /// Print nothing but errors
    #[arg(long, conflicts_with = "json")]
    quiet: bool,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum Effort {
    Quick,
    Normal,
    Thorough,
}

impl From<Effort> for search::Effort {
    fn from(effort: Effort) -> Self {
        match effort {
            Effort::Quick => Self::Quick,
            Effort::Normal => Self::Normal,
            Effort::Thorough => Self::Thorough,
        }
    }
}

#[derive(Serialize)]
struct Told<'a> {
    #[serde(flatten)]
    summary: &'a Summary,
    changes: &'a [Change],
    #[serde(skip_serializing_if = "Option::is_none")]
    risk: Option<&'a Risk>,
    made: Vec<PathBuf>,
}

impl Plan {
    pub fn run(self) -> Result<(), Failure> {
        let loaded = find::garden(self.garden.as_deref())?;
        let targets = self.targets(&loaded);
        targets.iter().try_for_each(Target::look)?;
        if !self.quiet {
            say::at_work(&format!("Planning {} ...", loaded.garden.name));
        }

        let again = self.planned(&loaded)?;
        for (entry, why) in &again.left_out {
            say::note(&terminal::diary::impossible(entry, why));
        }
        let made: Vec<PathBuf> = targets.iter().map(|t| t.path.clone()).collect();
        if !again.nothing_new {
            output::write_all(&drafts(targets, &again.planned, &again.garden))?;
        }
        self.tell(&again, made)
    }

    /// The plan of the garden as stated, or around what its diary says.
    fn planned(&self, loaded: &Loaded) -> Result<Again, Failure> {
        let garden = &loaded.garden;
        let diary = find::diary(loaded)?;
        let effort = self.effort.into();
        if diary.entries.is_empty() && self.today.is_none() {
            let planned = plan::make(garden, &loaded.fingerprint, effort)?;
            return Ok(Again::first(planned, garden.clone()));
        }
        let folder = find::out_folder(self.out.as_deref(), &loaded.path);
        let former = find::former(&folder);
        Ok(plan::again(&Around {
            garden,
            diary: &diary,
            today: find::planning_day(self.today, &diary, garden),
            former: former.as_ref(),
            made_from: &loaded.fingerprint,
            effort,
            anew: self.anew,
        })?)
    }

    fn tell(&self, again: &Again, made: Vec<PathBuf>) -> Result<(), Failure> {
        if self.quiet {
            return Ok(());
        }
        let (planned, garden) = (&again.planned, &again.garden);
        let summary = figures::summary(&planned.plan, garden, &planned.built.problem);
        let changes = &again.changes;
        let risk = self.risk.map(|seasons| {
            risk::risk(garden, &planned.plan, &again.learned, seasons, RISK_SEED)
        });
        if self.json {
            let summary = &summary;
            return say::json(&Told {
                summary,
                changes,
                risk: risk.as_ref(),
                made,
            });
        }
        say::result(&terminal::summary::summary(&summary, garden, &made))?;
        say::result(&terminal::changes::changes(again))?;
        match &risk {
            Some(risk) => say::result(&terminal::risk::risk(risk, garden)),
            None => Ok(()),
        }
    }

    fn targets(&self, loaded: &Loaded) -> Vec<Target> {
        let folder = find::out_folder(self.out.as_deref(), &loaded.path);
        let target = |path: &Path, is_ours| Target {
            path: path.to_owned(),
            is_ours,
        };
        let mut targets = vec![
            target(&folder.join(find::PLAN), is_our_plan),
            target(&folder.join(CALENDAR), calendar::is_ours),
        ];
        targets.extend(self.problem.iter().map(|path| target(path, is_a_problem)));
        targets
    }
}

/// The files' contents, in the order of [`Plan::targets`].
fn drafts(targets: Vec<Target>, planned: &Planned, garden: &Garden) -> Vec<Draft> {
    let chores = chores::chores(&planned.plan, garden);
    let contents = [
        json(&planned.plan),
        calendar::calendar(&chores, garden),
        json(&planned.built.problem),
    ];
    targets
        .into_iter()
        .zip(contents)
        .map(|(target, contents)| Draft { target, contents })
        .collect()
}

fn json(value: &impl Serialize) -> String {
    let text = serde_json::to_string_pretty(value).expect("plans have nothing JSON lacks");
    format!("{text}\n")
}

fn is_our_plan(text: &str) -> bool {
    #[derive(serde::Deserialize)]
    struct Mark {
        made_by: String,
    }
    serde_json::from_str::<Mark>(text).is_ok_and(|mark| mark.made_by.starts_with(MAKER))
}

fn is_a_problem(text: &str) -> bool {
    serde_json::from_str::<Problem>(text).is_ok()
}
