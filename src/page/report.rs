//! The report: the whole plan on one page.

use std::fmt::Write as _;

use askama::Template;
use chrono::NaiveDate;

use crate::chores;
use crate::garden::Garden;
use crate::garden::holes;
use crate::messages;
use crate::messages::words::Texts;
use crate::messages::words::percent;
use crate::page::air::{self, YearPart};
use crate::page::chore_list::{self, WeekPart};
use crate::page::crop_styles::{CropStyle, CropStyles};
use crate::page::data::{self, PageData};
use crate::page::findings::{self, PageCaution};
use crate::page::harvests::{self, HarvestChart};
use crate::page::log::{self, LogPart};
use crate::page::policy::content_security_policy;
use crate::page::rig::{self, BankPicture};
use crate::page::supplies::{self, SeedRow};
use crate::page::water::{self, LoopPart};
use crate::plan::{Plan, Stay};
use crate::planner::problem::Problem;
use crate::summary::figures::{self, PlanSummary, WantFigures};
use crate::summary::log::DiaryLog;
use crate::summary::snapshot::stays_on;

pub(super) const STYLE: &str = include_str!("templates/page.css");
const SCRIPT: &str = include_str!("templates/report.js");

#[derive(Template)]
#[template(path = "report.html", config = "src/page/askama.toml")]
struct ReportPage<'a> {
    w: Texts,
    live: bool,
    made_by: &'a str,
    policy: String,
    style: String,
    script: &'static str,
    garden: &'a str,
    span: String,
    start: NaiveDate,
    last: NaiveDate,
    last_day: i64,
    open_day: i64,
    open_date: NaiveDate,
    open_name: String,
    open_week: String,
    glance: Vec<KeyFigure>,
    banks: Vec<BankPicture>,
    looks: Vec<&'a CropStyle>,
    weeks: Vec<WeekPart>,
    bound: String,
    harvests: Vec<HarvestChart>,
    log: Option<LogPart>,
    water: Vec<LoopPart>,
    years: Vec<YearPart>,
    seeds: Vec<SeedRow>,
    supply_lines: Vec<String>,
    findings: Vec<String>,
    would_help: Vec<String>,
    cautions: Vec<PageCaution>,
    made: String,
    data: PageData<'a>,
}

/// A figure to begin with.
struct KeyFigure {
    name: String,
    figure: String,
    text: String,
}

/// The report of a plan: one HTML file that needs no other. `problem` is the one that the plan
/// solves, `log` what the diary says so far, where there is one.
///
/// # Panics
/// Never: the templates are checked when the program is built, and write to memory.
#[must_use]
pub fn report(plan: &Plan, garden: &Garden, problem: &Problem, log: Option<&DiaryLog>) -> String {
    let words = &Texts::new(garden.language, garden.units);
    let layout = holes::layout(garden);
    let styles = CropStyles::new(plan, garden);
    let summary = figures::summary(plan, garden, problem);
    let supplies = chores::supplies(plan, garden);
    let open = data::opening_day(plan);
    let standing = stays_on(plan, open);
    let drawing_data = data::data(plan, garden, &layout, &styles, words);
    let banks = rig::banks(garden, &layout, words, &|hole| {
        let stay = standing.get(layout.holes[hole].id.as_str())?;
        let radius = drawing_data.radius.get(&hole).copied().unwrap_or(0);
        Some(rig::plant(&styles, &stay.crop, radius, is_due(stay, open)))
    });
    let style = style(&banks);
    let page = ReportPage {
        w: *words,
        live: true,
        made_by: &plan.made_by,
        policy: content_security_policy(&style, Some(SCRIPT)),
        style,
        script: SCRIPT,
        garden: &plan.garden,
        span: words.with(
            "span-told",
            &[
                ("from", &words.day(plan.start)),
                ("to", &words.day(plan.last)),
            ],
        ),
        start: plan.start,
        last: plan.last,
        last_day: (plan.last - plan.start).num_days(),
        open_day: (open - plan.start).num_days(),
        open_date: open,
        open_name: words.day(open),
        open_week: words.iso_week(open),
        glance: key_figures(&summary, words),
        banks,
        looks: styles.all().map(|(_, look)| look).collect(),
        weeks: chore_list::weeks(&chores::chores(plan, garden), plan.start, open, words),
        bound: gap_text(&summary, words),
        harvests: plan
            .wants
            .iter()
            .zip(&summary.wants)
            .map(|(want, figures)| harvests::chart(want, figures, words))
            .collect(),
        log: log.map(|log| log::log_part(log, garden, words)),
        water: water::loops(plan, garden, words),
        years: air::years(garden, &styles, words),
        seeds: supplies::seeds(&supplies, garden, words),
        supply_lines: supplies::lines(&supplies, garden, words),
        findings: findings::findings(&summary, garden, words),
        would_help: messages::shortages::advice(&summary, words),
        cautions: findings::cautions(garden),
        made: words.with(
            "made-told",
            &[("maker", &plan.made_by), ("garden", &plan.garden)],
        ),
        data: drawing_data.data,
    };
    page.render().expect("writing to memory does not fail")
}

/// Whether a stay gives a harvest in the week of a day.
pub(super) fn is_due(stay: &Stay, day: NaiveDate) -> bool {
    let week = crate::week::monday(day);
    let mut days = stay.harvests.iter().map(|h| h.day);
    days.any(|d| crate::week::monday(d) == week)
}

/// The page's style, and how wide each bank may be on the screen.
fn style(banks: &[BankPicture]) -> String {
    let mut style = STYLE.to_owned();
    for (at, bank) in banks.iter().enumerate() {
        let [least, usual, most] = bank.pixels();
        writeln!(
            style,
            ".bank-{at}{{flex:1 1 {usual}px;max-width:{most}px}}.bank-{at} .rig{{min-width:{least}px}}"
        )
        .expect("writing to memory does not fail");
    }
    style
}

fn key_figures(summary: &PlanSummary, words: &Texts) -> Vec<KeyFigure> {
    let wants = summary.wants.iter().map(|want| want_figure(want, words));
    let holes = summary.holes;
    let most = holes.most.to_string();
    let all = words.with("of-holes", &[("all", &holes.all.to_string())]);
    let in_use = KeyFigure {
        name: words.t("holes").to_owned(),
        figure: format!("{:.0} {all}", holes.mean),
        text: words.with("open-holes", &[("most", &most)]),
    };
    wants.chain([in_use]).collect()
}

fn want_figure(want: &WantFigures, words: &Texts) -> KeyFigure {
    let of = |n: f64| words.amount(n, &want.unit);
    let (Some(average), Some(met)) = (want.average, want.met) else {
        return KeyFigure {
            name: want.want.clone(),
            figure: String::new(),
            text: words.t("no-week-counts").to_owned(),
        };
    };
    let each = words.with("a-week", &[("each", &of(want.each_week))]);
    let share = words.with("met", &[("percent", &percent(met))]);
    KeyFigure {
        name: want.want.clone(),
        figure: of((average * 10.0).round() / 10.0),
        text: format!("{each}; {share}"),
    }
}

fn gap_text(summary: &PlanSummary, words: &Texts) -> String {
    summary.gap_percent.map_or_else(String::new, |gap| {
        words.with("bound", &[("gap", &format!("{gap:.1}"))])
    })
}
