//! The week's sheet: one page of paper to hang beside the rig.

use std::collections::BTreeSet;

use askama::Template;
use chrono::{Days, NaiveDate};

use super::chore_list::{self, DayPart};
use super::data;
use super::looks::{Look, Looks};
use super::paper::Scale;
use super::policy::policy;
use super::report::{STYLE, is_due};
use super::rig::{self, BankPicture};
use crate::chores::Chore;
use crate::garden::Garden;
use crate::garden::holes;
use crate::plan::Plan;
use crate::report::growing::Growing;
use crate::report::standing::stays_on;
use crate::report::words::Words;
use crate::week::{self, monday};

/// Height that map and chores have together on the lower of the two papers, Letter [mm]; found by
/// printing.
const HEIGHT: f64 = 186.0;
/// Height of a line of chores [mm], of which there are two columns.
const LINE: f64 = 4.2;
/// Letters of a line of chores: of what is to be done, and of the finer print below it.
const LETTERS: (usize, usize) = (48, 58);
/// Lines for notes; on paper those are seen for which the rest leaves room.
const NOTES: usize = 12;

#[derive(Template)]
#[template(path = "sheet.html")]
struct Page<'a> {
    w: Words,
    live: bool,
    made_by: &'a str,
    policy: String,
    style: String,
    garden: &'a str,
    week: String,
    dates: String,
    away: Vec<String>,
    map_title: String,
    banks: Vec<BankPicture>,
    looks: Vec<&'a Look>,
    days: Vec<DayPart>,
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
    let words = &Words::new(garden.language, garden.units);
    let from = monday(day);
    let drawn = from.max(plan.start);
    let layout = holes::layout(garden);
    let looks = Looks::new(plan, garden);
    let growing = Growing::new(plan, garden);
    let standing = stays_on(plan, drawn);
    let banks = rig::banks(garden, &layout, words, &|hole| {
        let hole = &layout.holes[hole];
        let stay = standing.get(hole.id.as_str())?;
        let radius = data::radius(&growing, garden, stay, hole.bank, drawn);
        Some(rig::plant(&looks, &stay.crop, radius, is_due(stay, drawn)))
    });
    let shown: BTreeSet<&str> = standing.values().map(|s| s.crop.as_str()).collect();
    let scale = Scale::of(&banks);
    let style = format!("{STYLE}{}", scale.style(&banks));
    let mut days = chore_list::days(chores, words);
    fit(&mut days, room(scale), words);
    let page = Page {
        w: *words,
        live: false,
        made_by: &plan.made_by,
        policy: policy(&style, None),
        style,
        garden: &plan.garden,
        week: capital(&words.iso_week(from)),
        dates: chore_list::dates(from, words),
        away: away(garden, from, words),
        map_title: words.with("map-on", &[("day", &words.day(drawn))]),
        banks,
        looks: looks
            .all()
            .filter(|(key, _)| shown.contains(key))
            .map(|(_, look)| look)
            .collect(),
        days,
        note_lines: NOTES,
    };
    page.render().expect("writing to memory does not fail")
}

/// Lines of chores that there is room for beside the map.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn room(scale: Scale) -> usize {
    2 * ((HEIGHT - scale.height) / LINE).max(0.0) as usize
}

/// Cuts the chores' details to so many lines, the longest first, saying how many are left out.
/// What is to be done is never cut.
fn fit(days: &mut [DayPart], room: usize, words: &Words) {
    let heads: usize = days
        .iter()
        .map(|day| {
            let summaries = day.chores.iter().map(|c| lines(&c.summary, LETTERS.0));
            2 + summaries.sum::<usize>()
        })
        .sum();
    let room = room.saturating_sub(heads);
    let mut items: Vec<_> = days.iter_mut().flat_map(|day| &mut day.chores).collect();
    let needs: Vec<usize> = items.iter().map(|item| details(&item.lines)).collect();
    let taken = |most: usize| needs.iter().map(|need| need.min(&most)).sum::<usize>();
    // The most lines for each chore's details with which all fit; what is over goes to the first.
    let longest = needs.iter().copied().max().unwrap_or(0);
    let most = (0..=longest).rev().find(|&most| taken(most) <= room);
    let most = most.unwrap_or(0);
    let mut left = room.saturating_sub(taken(most));
    for (item, need) in items.iter_mut().zip(needs) {
        let more = need.saturating_sub(most).min(left);
        left -= more;
        if need > most + more {
            shorten(&mut item.lines, most + more, words);
        }
    }
}

/// Keeps as many lines as fit with the word of how many are left out.
fn shorten(of_chore: &mut Vec<String>, most: usize, words: &Words) {
    let all = of_chore.len();
    let mut room = most.saturating_sub(1);
    let kept = of_chore
        .iter()
        .take_while(|line| {
            let takes = lines(line, LETTERS.1);
            let fits = takes <= room;
            room = room.saturating_sub(takes);
            fits
        })
        .count();
    of_chore.truncate(kept);
    if most > 0 {
        of_chore.push(words.count("more-lines", all - kept));
    }
}

/// Lines that a chore's details take.
fn details(of_chore: &[String]) -> usize {
    of_chore.iter().map(|line| lines(line, LETTERS.1)).sum()
}

/// Lines that a text takes.
fn lines(text: &str, letters: usize) -> usize {
    text.chars().count().div_ceil(letters).max(1)
}

fn away(garden: &Garden, monday: NaiveDate, words: &Words) -> Vec<String> {
    garden
        .rhythm
        .absences(monday, monday + Days::new(6))
        .map(|a| {
            let (from, to) = (words.day(a.from), words.day(a.until));
            words.with("away-told", &[("from", &from), ("to", &to)])
        })
        .collect()
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
