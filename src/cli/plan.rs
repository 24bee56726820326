//! `plan`: the main job, from a garden file to a plan and a calendar.

use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use serde::Serialize;

use crate::chores;
use crate::cli::calendar_files::{self, Calendar};
use crate::cli::error::Failure;
use crate::cli::files::{self, Draft, Target};
use crate::cli::{context, output, progress};
use crate::garden::file::Loaded;
use crate::plan::changes::Change;
use crate::plan::risk::{self, Risk};
use crate::plan::{self, Again, Around, Planned};
use crate::planner::effort;
use crate::planner::monitor::Monitor;
use crate::planner::problem::Problem;
use crate::summary::figures::{self, Summary};
use crate::summary::log;
use crate::{page, terminal};

/// The page in the plan's folder.
const REPORT: &str = "report.html";
/// The seed of the seasons drawn: any number would do, but always the same.
const RISK_SEED: u64 = 0x0005_eed5;
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
    changes: &'a [Change],
    #[serde(skip_serializing_if = "Option::is_none")]
    risk: Option<&'a Risk>,
    made: Vec<PathBuf>,
}

impl Plan {
    pub fn run(self) -> Result<(), Failure> {
        let loaded = context::garden(self.garden.as_deref())?;
        let folder = context::out_folder(self.out.as_deref(), &loaded.path);
        let calendars = self.calendar.targets(&folder);
        let targets = self.targets(&folder);
        files::look_at_all(targets.iter().chain(&calendars))?;
        if !self.quiet {
            output::at_work(&format!("Planning {} ...", loaded.garden.name));
        }

        let stop = progress::stop_on_interrupt();
        let bar = progress::bar(self.quiet);
        let told = |progress| progress::tell(&bar, progress);
        let again = self.planned(&loaded, &folder, &Monitor::new(&stop, &told))?;
        bar.finish_and_clear();
        let left_out = again.left_out.iter().map(|(entry, why)| (entry, why));
        context::tell_odd(left_out, &again.state, loaded.garden.units);
        if again.planned.stopped {
            output::note(
                "stopped early: this is the best plan found so far, checked against every rule.",
            );
        }
        let (planned, garden) = (&again.planned, &again.garden);
        let chores = chores::chores(&planned.plan, garden);
        let log = (!planned.plan.diary.is_empty()).then(|| {
            // What was learned is told against the cards as they are, not as they were corrected.
            log::log(&loaded.garden, &again.state, planned.plan.start)
        });
        let report = page::report(&planned.plan, garden, &planned.built.problem, log.as_ref());
        let mut drafts = drafts(targets, planned, report);
        let calendars =
            self.calendar
                .drafts(&folder, &chores, garden, planned.plan.start, again.worked);
        drafts.splice(1..1, calendars);
        let made: Vec<PathBuf> = drafts.iter().map(|d| d.target.path.clone()).collect();
        files::write_all(&drafts)?;
        self.tell(&again, &folder, made)
    }

    /// The plan of the garden as stated, or around what its diary says.
    fn planned(
        &self,
        loaded: &Loaded,
        folder: &Path,
        watch: &Monitor<'_>,
    ) -> Result<Again, Failure> {
        let garden = &loaded.garden;
        let diary = context::diary(loaded)?;
        let effort = self.effort.into();
        if diary.entries.is_empty() {
            let planned = plan::make(garden, &loaded.fingerprint, effort, watch)?;
            return Ok(Again::first(planned, garden.clone()));
        }
        let former = context::former(folder);
        let around = Around {
            garden,
            diary: &diary,
            today: context::planning_day(self.calendar.today, &diary, garden)?,
            former: former.as_ref(),
            made_from: &loaded.fingerprint,
            effort,
            anew: self.anew,
        };
        Ok(plan::again(&around, watch)?)
    }

    fn tell(&self, again: &Again, folder: &Path, made: Vec<PathBuf>) -> Result<(), Failure> {
        if self.quiet {
            return Ok(());
        }
        for path in calendar_files::left_behind(folder, &made) {
            output::note(&format!(
                "{} is of an earlier plan and was left as it was.",
                path.display()
            ));
        }
        let (planned, garden) = (&again.planned, &again.garden);
        let summary = figures::summary(&planned.plan, garden, &planned.built.problem);
        let changes = &again.changes;
        let risk = self
            .risk
            .map(|seasons| risk::risk(garden, &planned.plan, &again.learned, seasons, RISK_SEED));
        if self.json {
            let summary = &summary;
            return output::json(&Told {
                summary,
                changes,
                risk: risk.as_ref(),
                made,
            });
        }
        output::view(&terminal::summary::summary(&summary, garden, &made))?;
        output::view(&terminal::changes::changes(again))?;
        match &risk {
            Some(risk) => output::view(&terminal::risk::risk(risk, garden)),
            None => Ok(()),
        }
    }

    /// The plan, and the problem where it is asked for.
    fn targets(&self, folder: &Path) -> Vec<Target> {
        let target = |path: &Path, is_ours| Target {
            path: path.to_owned(),
            is_ours,
        };
        let mut targets = vec![
            target(&folder.join(context::PLAN), is_our_plan),
            target(&folder.join(REPORT), page::is_ours),
        ];
        targets.extend(self.problem.iter().map(|path| target(path, is_a_problem)));
        targets
    }
}

/// The files' contents, in the order of [`Plan::targets`].
fn drafts(targets: Vec<Target>, planned: &Planned, report: String) -> Vec<Draft> {
    let contents = [json(&planned.plan), report, json(&planned.built.problem)];
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
