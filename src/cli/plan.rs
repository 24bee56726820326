//! `plan`: the main job, from a garden file to a plan and a calendar.

use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use serde::Serialize;

use super::calendar_files::{self, Calendar};
use super::failure::Failure;
use super::{find, patience, say};
use crate::chores;
use crate::garden::file::Loaded;
use crate::output::{self, Draft, Target};
use crate::plan::{self, Planned};
use crate::planner::effort;
use crate::planner::problem::Problem;
use crate::planner::watch::Watch;
use crate::report::figures::{self, Summary};
use crate::report::{page, terminal};

/// The page in the plan's folder.
const REPORT: &str = "report.html";
/// How the `made_by` of every plan of ours begins, whatever the version.
const MAKER: &str = "steadyleaf ";

/// Plan a garden: write plan.json, calendar.ics and report.html, and tell what the plan gives
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
    #[command(flatten)]
    calendar: Calendar,
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

impl From<Effort> for effort::Effort {
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
    made: Vec<PathBuf>,
}

impl Plan {
    pub fn run(self) -> Result<(), Failure> {
        let loaded = find::garden(self.garden.as_deref())?;
        let folder = find::out_folder(self.out.as_deref(), &loaded.path);
        let calendars = self.calendar.targets(&folder);
        let targets = self.targets(&folder);
        targets
            .iter()
            .chain(&calendars)
            .try_for_each(Target::look)?;
        if !self.quiet {
            say::at_work(&format!("Planning {} ...", loaded.garden.name));
        }

        let stop = patience::stop_on_interrupt();
        let bar = patience::bar(self.quiet);
        let told = |progress| patience::tell(&bar, progress);
        let watch = Watch::new(&stop, &told);
        let effort = self.effort.into();
        let planned = plan::make(&loaded.garden, &loaded.fingerprint, effort, &watch)?;
        bar.finish_and_clear();
        if planned.stopped {
            say::note(
                "stopped early: this is the best plan found so far, checked against every rule.",
            );
        }
        let chores = chores::chores(&planned.plan, &loaded.garden);
        let mut drafts = drafts(targets, &planned, &loaded);
        drafts.splice(1..1, self.calendar.drafts(&folder, &chores, &loaded.garden));
        let made: Vec<PathBuf> = drafts.iter().map(|d| d.target.path.clone()).collect();
        output::write_all(&drafts)?;

        if self.quiet {
            return Ok(());
        }
        for path in calendar_files::left_behind(&folder, &made) {
            say::note(&format!(
                "{} is of an earlier plan and was left as it was.",
                path.display()
            ));
        }
        let summary = figures::summary(&planned.plan, &loaded.garden, &planned.built.problem);
        if self.json {
            let summary = &summary;
            say::json(&Told { summary, made })
        } else {
            say::view(&terminal::summary::summary(&summary, &loaded.garden, &made))
        }
    }

    /// The plan, and the problem where it is asked for.
    fn targets(&self, folder: &Path) -> Vec<Target> {
        let target = |path: &Path, is_ours| Target {
            path: path.to_owned(),
            is_ours,
        };
        let mut targets = vec![
            target(&folder.join(find::PLAN), is_our_plan),
            target(&folder.join(REPORT), page::is_ours),
        ];
        targets.extend(self.problem.iter().map(|path| target(path, is_a_problem)));
        targets
    }
}

/// The files' contents, in the order of [`Plan::targets`].
fn drafts(targets: Vec<Target>, planned: &Planned, loaded: &Loaded) -> Vec<Draft> {
    let contents = [
        json(&planned.plan),
        page::report(&planned.plan, &loaded.garden, &planned.built.problem),
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
