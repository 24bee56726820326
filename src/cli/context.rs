//! Finding the garden, its plan and the day that a command is about.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use chrono::{NaiveDate, Utc};

use crate::cli::error::CommandError;
use crate::cli::output;
use crate::diary::{self, Diary, DiaryState, Entry, ImpossibleEvent};
use crate::garden::Garden;
use crate::garden::file::{self, LoadedGarden};
use crate::plan::{Plan, outdated};
use crate::terminal;
use crate::units::Units;

/// The plan file in a folder.
pub const PLAN_FILE: &str = "plan.json";
/// The folder beside the garden file into which a plan goes.
const OUT_FOLDER: &str = "plan";

/// Reads the garden that a path means; the one in the current folder if there is none. A diary that
/// cannot be read is told of by the commands that need it.
pub fn read_garden(path: Option<&Path>) -> Result<LoadedGarden, CommandError> {
    let loaded = file::read(path.unwrap_or(Path::new(".")))?;
    let garden = match diary::file::read(&diary_path(&loaded)) {
        Ok(diary) => diary.add_crops_to(loaded.garden),
        Err(_) => loaded.garden,
    };
    Ok(LoadedGarden { garden, ..loaded })
}

/// The folder of the plan: the stated one, or the one beside the garden file.
pub fn out_folder(stated: Option<&Path>, garden_file: &Path) -> PathBuf {
    stated.map_or_else(|| garden_file.with_file_name(OUT_FOLDER), Path::to_owned)
}

/// Reads the plan in a folder, and says so if the garden has changed since it was made.
pub fn read_plan(folder: &Path, loaded: &LoadedGarden) -> Result<Plan, CommandError> {
    let path = folder.join(PLAN_FILE);
    let unreadable = |cause: String| CommandError::UnreadablePlan {
        path: path.clone(),
        cause,
    };
    let text = match fs::read_to_string(&path) {
        Err(cause) if cause.kind() == io::ErrorKind::NotFound => {
            return Err(CommandError::NoPlan(path));
        }
        read => read.map_err(|cause| unreadable(cause.to_string()))?,
    };
    let plan: Plan = serde_json::from_str(&text).map_err(|cause| unreadable(cause.to_string()))?;
    if plan.made_from != loaded.fingerprint {
        output::note(
            "the garden has changed since this plan was made; `steadyleaf plan` makes it anew.",
        );
    }
    Ok(plan)
}

/// A garden, its plan, and the day of it that a command is about.
pub struct DayRequest {
    /// The garden as the plan took it.
    pub garden: Garden,
    /// The folder of the plan.
    pub folder: PathBuf,
    /// The plan.
    pub plan: Plan,
    /// The day.
    pub day: NaiveDate,
}

/// Finds what a command about a day of the plan was asked: see [`garden`], [`out_folder`],
/// [`plan`] and [`day`].
pub fn day_request(
    garden_path: Option<&Path>,
    out: Option<&Path>,
    date: Option<NaiveDate>,
) -> Result<DayRequest, CommandError> {
    let loaded = read_garden(garden_path)?;
    let folder = out_folder(out, &loaded.path);
    let plan = read_plan(&folder, &loaded)?;
    let day = resolve_day(date, &plan, &loaded.garden)?;
    report_surprises(&plan, &loaded);
    Ok(DayRequest {
        garden: plan.with_calibrated_crops(&loaded.garden),
        folder,
        plan,
        day,
    })
}

/// Says where the diary has what a plan does not know of. A diary that cannot be read is told of by
/// the commands that need it.
fn report_surprises(plan: &Plan, loaded: &LoadedGarden) {
    let Ok(diary) = diary::file::read(&diary_path(loaded)) else {
        return;
    };
    let holes = outdated::outdated_holes(plan, &diary);
    if !holes.is_empty() {
        output::note(&format!(
            "since this plan was made the diary has news of {}; `steadyleaf plan` plans again around it.",
            holes.join(", ")
        ));
    }
}

/// The plan in a folder, if there is one that can be read.
pub fn former_plan(folder: &Path) -> Option<Plan> {
    let text = fs::read_to_string(folder.join(PLAN_FILE)).ok()?;
    serde_json::from_str(&text).ok()
}

/// Where a garden's diary is, or will be.
pub fn diary_path(loaded: &LoadedGarden) -> PathBuf {
    loaded.path.with_file_name(diary::file::FILE_NAME)
}

/// A garden's diary, and says which of its lines cannot be read.
pub fn read_diary(loaded: &LoadedGarden) -> Result<Diary, CommandError> {
    let path = diary_path(loaded);
    let diary = diary::file::read(&path).map_err(|cause| CommandError::Diary { path, cause })?;
    for fault in &diary.faults {
        output::note(&terminal::diary::render_fault(fault));
    }
    Ok(diary)
}

/// Says what of a diary is left out or taken otherwise: what cannot have happened, what is of another
/// sowing than was said, and what stands nowhere.
pub fn report_oddities<'e>(
    left_out: impl Iterator<Item = (&'e Entry, &'e ImpossibleEvent)>,
    state: &DiaryState,
    units: Units,
) {
    let left_out = terminal::diary::render_impossible(left_out, units).into_iter();
    let of_others = terminal::diary::render_reassigned(state);
    for note in left_out
        .chain(of_others)
        .chain(terminal::diary::render_unknown_holes(state))
    {
        output::note(&note);
    }
}

/// Today where the garden is.
pub fn today(garden: &Garden) -> NaiveDate {
    Utc::now()
        .with_timezone(&garden.place.timezone)
        .date_naive()
}

/// The day from which to plan around a diary: the one asked for, or the garden's first if that is
/// later; else today, or the diary's last day where today is not one of the garden's.
///
/// # Errors
/// If the diary goes on beyond the day asked for: what has happened would be planned anew.
pub fn planning_day(
    asked: Option<NaiveDate>,
    diary: &Diary,
    garden: &Garden,
) -> Result<NaiveDate, CommandError> {
    let noted = diary.entries.iter().map(|e| e.on).max();
    let today = today(garden);
    let is_of_garden = garden.start <= today && today <= garden.last_day();
    if let Some(asked) = asked.or(is_of_garden.then_some(today)) {
        return match noted.filter(|&last| asked < last) {
            Some(last) => Err(CommandError::DiaryBeyondDay { asked, last }),
            None => Ok(asked.max(garden.start)),
        };
    }
    let day = noted.unwrap_or(garden.start);
    let day = day.clamp(garden.start, garden.last_day());
    output::note(&format!(
        "today is not one of the garden's days ({} to {}), so this is planned from {day}.",
        garden.start,
        garden.last_day()
    ));
    Ok(day)
}

/// The day asked for; else today where the garden is, or the plan's first day if today is not
/// in it.
pub fn resolve_day(
    asked: Option<NaiveDate>,
    plan: &Plan,
    garden: &Garden,
) -> Result<NaiveDate, CommandError> {
    let is_planned = |day| plan.start <= day && day <= plan.last;
    if let Some(day) = asked {
        return if is_planned(day) {
            Ok(day)
        } else {
            Err(CommandError::NotInPlan {
                day,
                start: plan.start,
                last: plan.last,
            })
        };
    }
    let today = today(garden);
    if is_planned(today) {
        return Ok(today);
    }
    output::note(&format!(
        "today is not in the plan ({} to {}), so this is its first day.",
        plan.start, plan.last
    ));
    Ok(plan.start)
}
