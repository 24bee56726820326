//! The week's sheet: paper to hang beside the rig, one page of it where a week's work fits.

use std::collections::BTreeSet;

use askama::Template;
use chrono::{Days, NaiveDate};

use crate::chores::{Chore, Kind};
use crate::garden::Garden;
use crate::garden::holes;
use crate::messages::words::Texts;
use crate::page::chore_list::{self, DayPart};
use crate::page::crop_styles::{CropStyle, CropStyles};
use crate::page::data;
use crate::page::paper::PaperScale;
use crate::page::policy::content_security_policy;
use crate::page::report::{STYLE, is_due};
use crate::page::rig::{self, BankPicture};
use crate::plan::Plan;
use crate::summary::canopy_series::CanopySeries;
use crate::summary::snapshot::stays_on;
use crate::week::{self, monday};

/// Lines for notes; on paper those are seen for which the rest leaves room.
const NOTE_LINES: usize = 12;

#[derive(Template)]
#[template(path = "sheet.html", config = "src/page/askama.toml")]
struct SheetPage<'a> {
    w: Texts,
    live: bool,
    made_by: &'a str,
    policy: String,
    style: String,
    garden: &'a str,
    week: String,
    dates: String,
    away: Vec<String>,
    map_title: String,
    /// Whether the map can be read on paper.
    has_map: bool,
    banks: Vec<BankPicture>,
    looks: Vec<&'a CropStyle>,
    days: Vec<DayPart>,
    each: Vec<RepeatedChores>,
    note_lines: usize,
}

/// The name of the sheet of the week that holds a day, such as `sheet-2027-W14.html`.
#[must_use]
pub fn file_name(day: NaiveDate) -> String {
    format!("sheet-{}.html", week::name(day))
}

/// The sheet of the week that holds `day`; `chores` are those of that week. The rig is drawn as
/// it stands on that week's Monday, or on the plan's first day.
///
/// # Panics
/// Never: the template is checked when the program is built, and writes to memory.
#[must_use]
pub fn sheet(plan: &Plan, garden: &Garden, chores: &[Chore], day: NaiveDate) -> String {
    let words = &Texts::new(garden.language, garden.units);
    let from = monday(day);
    let drawn = from.max(plan.start);
    let layout = holes::layout(garden);
    let styles = CropStyles::new(plan, garden);
    let growing = CanopySeries::new(plan, garden);
    let standing = stays_on(plan, drawn);
    let banks = rig::banks(garden, &layout, words, &|hole| {
        let hole = &layout.holes[hole];
        let stay = standing.get(hole.id.as_str())?;
        let radius = data::radius(&growing, garden, stay, hole.bank, drawn);
        Some(rig::plant(&styles, &stay.crop, radius, is_due(stay, drawn)))
    });
    let shown: BTreeSet<&str> = standing.values().map(|s| s.crop.as_str()).collect();
    let scale = PaperScale::fitting(&banks);
    let style = format!(
        "{STYLE}{}",
        scale.map_or_else(String::new, |scale| scale.style(&banks))
    );
    let (each, chores) = without_repeats(chores, words);
    let page = SheetPage {
        w: *words,
        live: false,
        made_by: &plan.made_by,
        policy: content_security_policy(&style, None),
        style,
        garden: &plan.garden,
        week: capitalised(&words.iso_week(from)),
        dates: chore_list::dates(from, words),
        away: absences(garden, from, words),
        map_title: words.with("map-on", &[("day", &words.day(drawn))]),
        has_map: scale.is_some(),
        banks,
        looks: styles
            .all()
            .filter(|(key, _)| shown.contains(key))
            .map(|(_, look)| look)
            .collect(),
        days: chore_list::days(&chores, words),
        each,
        note_lines: NOTE_LINES,
    };
    page.render().expect("writing to memory does not fail")
}

/// Kinds of work that are done in the same way each time, and what their box is called.
const REPEATED_KINDS: [(Kind, &str); 2] = [
    (Kind::Check, "each-check"),
    (Kind::DeepClean, "each-deep-clean"),
];

/// What all chores of a kind say in a week, where there are several.
struct RepeatedChores {
    name: String,
    lines: Vec<String>,
}

/// What repeats, to be told once, and the chores without it.
fn without_repeats(chores: &[Chore], words: &Texts) -> (Vec<RepeatedChores>, Vec<Chore>) {
    let mut chores = chores.to_vec();
    let mut each = Vec::new();
    for (kind, name) in REPEATED_KINDS {
        let mut alike: Vec<&mut Chore> = chores.iter_mut().filter(|c| c.kind == kind).collect();
        let [first, others @ ..] = &alike[..] else {
            continue;
        };
        let in_all = |line: &&String| others.iter().all(|c| c.details.contains(line));
        let lines: Vec<String> = first.details.iter().filter(in_all).cloned().collect();
        if others.is_empty() || lines.is_empty() {
            continue;
        }
        for chore in &mut alike {
            chore.details.retain(|line| !lines.contains(line));
        }
        let name = words.t(name);
        each.push(RepeatedChores { name, lines });
    }
    (each, chores)
}

fn absences(garden: &Garden, monday: NaiveDate, words: &Texts) -> Vec<String> {
    garden
        .rhythm
        .absences_between(monday, monday + Days::new(6))
        .map(|a| {
            let (from, to) = (words.day(a.from), words.day(a.until));
            words.with("away-told", &[("from", &from), ("to", &to)])
        })
        .collect()
}

fn capitalised(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
