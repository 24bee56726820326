//! `plan`: the main job, from a garden file to a plan and a calendar.

use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use serde::Serialize;

use crate::chores;
use crate::cli::calendar_files::{self, CalendarArgs};
use crate::cli::error::CommandError;
use crate::cli::files::{self, PendingFile, Target};
use crate::cli::{context, output, progress};
use crate::garden::file::Loaded;
use crate::plan::changes::PlanChange;
use crate::plan::risk::{self, Risk};
use crate::plan::{self, Planned, Replan, ReplanInput};
use crate::planner::effort;
use crate::planner::monitor::Monitor;
use crate::planner::problem::Problem;
use crate::summary::figures::{self, PlanSummary};
use crate::summary::log;
use crate::{page, terminal};

/// The page in the plan's folder.
const REPORT_FILE: &str = "report.html";
/// The seed of the seasons drawn: any number would do, but always the same.
const RISK_SEED: u64 = 0x0005_eed5;
/// How the `made_by` of every plan of ours begins, whatever the version.
const MAKER_PREFIX: &str = "steadyleaf ";

/// Plan a garden: write plan.json, calendar.ics and report.html, and tell what the plan gives
#[derive(Debug, Args)]
pub struct PlanArgs {
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
    calendar: CalendarArgs,
    /// Ignore the previous plan
    #[arg(long)]
    fresh: bool,
    /// Simulate this many random seasons, and tell how likely each week's want is met
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
struct PlanJson<'a> {
    #[serde(flatten)]
    summary: &'a PlanSummary,
    changes: &'a [PlanChange],
    #[serde(skip_serializing_if = "Option::is_none")]
    risk: Option<&'a Risk>,
    made: Vec<PathBuf>,
}

impl PlanArgs {
    pub fn run(self) -> Result<(), CommandError> {
        let loaded = context::garden(self.garden.as_deref())?;
        let folder = context::out_folder(self.out.as_deref(), &loaded.path);
        let calendars = self.calendar.targets(&folder);
        let targets = self.targets(&folder);
        files::preflight_all(targets.iter().chain(&calendars))?;
        if !self.quiet {
            output::progress_note(&format!("Planning {} ...", loaded.garden.name));
        }

        let stop = progress::stop_on_interrupt();
        let bar = progress::bar(self.quiet);
        let told = |progress| progress::advance(&bar, progress);
        let again = self.planned(&loaded, &folder, &Monitor::new(&stop, &told))?;
        bar.finish_and_clear();
        let left_out = again.left_out.iter().map(|(entry, why)| (entry, why));
        context::report_oddities(left_out, &again.state, loaded.garden.units);
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
        let mut drafts = pending_files(targets, planned, report);
        let calendars =
            self.calendar
                .pending_files(&folder, &chores, garden, planned.plan.start, again.worked);
        drafts.splice(1..1, calendars);
        let made: Vec<PathBuf> = drafts.iter().map(|d| d.target.path.clone()).collect();
        files::write_all(&drafts)?;
        self.print_plan(&again, &folder, made)
    }

    /// The plan of the garden as stated, or around what its diary says.
    fn planned(
        &self,
        loaded: &Loaded,
        folder: &Path,
        watch: &Monitor<'_>,
    ) -> Result<Replan, CommandError> {
        let garden = &loaded.garden;
        let diary = context::diary(loaded)?;
        let effort = self.effort.into();
        if diary.entries.is_empty() {
            let planned = plan::plan_garden(garden, &loaded.fingerprint, effort, watch)?;
            return Ok(Replan::first(planned, garden.clone()));
        }
        let former = context::former_plan(folder);
        let around = ReplanInput {
            garden,
            diary: &diary,
            today: context::planning_day(self.calendar.today, &diary, garden)?,
            former: former.as_ref(),
            made_from: &loaded.fingerprint,
            effort,
            fresh: self.fresh,
        };
        Ok(plan::replan(&around, watch)?)
    }

    fn print_plan(
        &self,
        again: &Replan,
        folder: &Path,
        made: Vec<PathBuf>,
    ) -> Result<(), CommandError> {
        if self.quiet {
            return Ok(());
        }
        for path in calendar_files::stale_files(folder, &made) {
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
            return output::json(&PlanJson {
                summary,
                changes,
                risk: risk.as_ref(),
                made,
            });
        }
        output::view(&terminal::summary::render_summary(&summary, garden, &made))?;
        output::view(&terminal::changes::render_changes(again))?;
        match &risk {
            Some(risk) => output::view(&terminal::risk::render_risk(risk, garden)),
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
            target(&folder.join(context::PLAN_FILE), is_our_plan),
            target(&folder.join(REPORT_FILE), page::is_ours),
        ];
        targets.extend(self.problem.iter().map(|path| target(path, is_a_problem)));
        targets
    }
}

/// The files' contents, in the order of [`PlanArgs::targets`].
fn pending_files(targets: Vec<Target>, planned: &Planned, report: String) -> Vec<PendingFile> {
    let contents = [json(&planned.plan), report, json(&planned.built.problem)];
    targets
        .into_iter()
        .zip(contents)
        .map(|(target, contents)| PendingFile { target, contents })
        .collect()
}

fn json(value: &impl Serialize) -> String {
    let text = serde_json::to_string_pretty(value).expect("plans have nothing JSON lacks");
    format!("{text}\n")
}

fn is_our_plan(text: &str) -> bool {
    #[derive(serde::Deserialize)]
    struct MakerMark {
        made_by: String,
    }
    serde_json::from_str::<MakerMark>(text).is_ok_and(|mark| mark.made_by.starts_with(MAKER_PREFIX))
}

fn is_a_problem(text: &str) -> bool {
    serde_json::from_str::<Problem>(text).is_ok()
}
