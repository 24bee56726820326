//! `plan`: the main job, from a garden file to a plan and a calendar.

use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use serde::Serialize;

use crate::chores;
use crate::cli::calendar_files::{self, CalendarArgs};
use crate::cli::error::CommandError;
use crate::cli::files::{self, PendingFile, Target};
use crate::cli::{context, output, progress};
use crate::garden::file::LoadedGarden;
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
    #[arg(long, value_enum, default_value_t = EffortArg::Normal)]
    effort: EffortArg,
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
enum EffortArg {
    Quick,
    Normal,
    Thorough,
}

impl From<EffortArg> for effort::Effort {
    fn from(effort: EffortArg) -> Self {
        match effort {
            EffortArg::Quick => Self::Quick,
            EffortArg::Normal => Self::Normal,
            EffortArg::Thorough => Self::Thorough,
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
        let loaded = context::read_garden(self.garden.as_deref())?;
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
        let replan = self.compute_plan(&loaded, &folder, &Monitor::new(&stop, &told))?;
        bar.finish_and_clear();
        let left_out = replan
            .rejected_entries
            .iter()
            .map(|(entry, why)| (entry, why));
        context::report_oddities(left_out, &replan.state, loaded.garden.units);
        if replan.planned.stopped {
            output::note(
                "stopped early: this is the best plan found so far, checked against every rule.",
            );
        }
        let (planned, garden) = (&replan.planned, &replan.garden);
        let chores = chores::chores(&planned.plan, garden);
        let log = (!planned.plan.diary.is_empty()).then(|| {
            // What was learned is told against the cards as they are, not as they were corrected.
            log::log(&loaded.garden, &replan.state, planned.plan.start)
        });
        let report = page::report(&planned.plan, garden, &planned.built.problem, log.as_ref());
        let mut drafts = pending_files(targets, planned, report);
        let calendars = self.calendar.pending_files(
            &folder,
            &chores,
            garden,
            planned.plan.start,
            replan.has_work_on_first_day,
        );
        drafts.splice(1..1, calendars);
        let made: Vec<PathBuf> = drafts.iter().map(|d| d.target.path.clone()).collect();
        files::write_all(&drafts)?;
        self.print_plan(&replan, &folder, made)
    }

    /// The plan of the garden as stated, or around what its diary says.
    fn compute_plan(
        &self,
        loaded: &LoadedGarden,
        folder: &Path,
        watch: &Monitor<'_>,
    ) -> Result<Replan, CommandError> {
        let garden = &loaded.garden;
        let diary = context::read_diary(loaded)?;
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
        replan: &Replan,
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
        let (planned, garden) = (&replan.planned, &replan.garden);
        let summary = figures::summary(&planned.plan, garden, &planned.built.problem);
        let changes = &replan.changes;
        let risk = self.risk.map(|seasons| {
            risk::simulate_risk(
                garden,
                &planned.plan,
                &replan.calibrations,
                seasons,
                RISK_SEED,
            )
        });
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
        output::view(&terminal::changes::render_changes(replan))?;
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
        targets.extend(self.problem.iter().map(|path| target(path, is_problem)));
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

fn is_problem(text: &str) -> bool {
    serde_json::from_str::<Problem>(text).is_ok()
}
