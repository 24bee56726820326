//! What the diary says so far, beside what was wanted, planned and computed.

use crate::garden::Garden;
use crate::messages::words::Texts;
use crate::messages::words::{crop_name, percent};
use crate::page::harvests::{self, HarvestChart};
use crate::plan::{WantOutcome, WeekOutcome};
use crate::summary::log::{CropSoFar, DiaryLog, LoopSoFar, WantSoFar};
use crate::units::Volume;
use crate::week;

/// Where there is nothing to tell yet.
const NOTHING_YET: &str = "-";

/// The diary's part of the page.
#[derive(Debug)]
pub(super) struct LogPart {
    pub(super) until: String,
    pub(super) wants: Vec<WantRow>,
    pub(super) charts: Vec<HarvestChart>,
    pub(super) crops: Vec<CropRow>,
    pub(super) losses: Vec<LossRow>,
    pub(super) loops: Vec<LoopRow>,
}

/// A want so far.
#[derive(Debug)]
pub(super) struct WantRow {
    pub(super) want: String,
    pub(super) harvested: String,
    pub(super) wanted: String,
    pub(super) met: String,
}

/// A crop's days.
#[derive(Debug)]
pub(super) struct CropRow {
    pub(super) crop: String,
    pub(super) sown: u32,
    pub(super) set_out: u32,
    pub(super) harvested: u32,
    pub(super) days: String,
    pub(super) days_planned: String,
    pub(super) pace: String,
}

/// A crop's losses.
#[derive(Debug)]
pub(super) struct LossRow {
    pub(super) crop: String,
    pub(super) in_nursery: String,
    pub(super) come_through: String,
    pub(super) in_holes: String,
    pub(super) causes: String,
}

/// A loop's water.
#[derive(Debug)]
pub(super) struct LoopRow {
    pub(super) name: String,
    pub(super) put_in: String,
    pub(super) times: usize,
    pub(super) used: String,
    pub(super) computed: String,
    pub(super) filled: String,
    pub(super) ec: String,
    pub(super) ph: String,
}

/// The part of a diary.
pub(super) fn log_part(log: &DiaryLog, garden: &Garden, words: &Texts) -> LogPart {
    let lost = |c: &&CropSoFar| c.lost + c.lost_in_nursery > 0;
    let begun = |w: &&WantSoFar| !w.weeks.is_empty();
    LogPart {
        until: words.with("log-until", &[("day", &words.day(log.until))]),
        wants: log.wants.iter().map(|w| want_row(w, words)).collect(),
        charts: log
            .wants
            .iter()
            .filter(begun)
            .map(|w| chart(w, garden, words))
            .collect(),
        crops: log.crops.iter().map(|c| crop_row(c, garden)).collect(),
        losses: log
            .crops
            .iter()
            .filter(lost)
            .map(|c| loss_row(c, garden, words))
            .collect(),
        loops: log
            .loops
            .iter()
            .map(|l| loop_row(l, garden, words))
            .collect(),
    }
}

fn or_dash(text: Option<String>) -> String {
    text.unwrap_or_else(|| NOTHING_YET.to_owned())
}

fn want_row(want: &WantSoFar, words: &Texts) -> WantRow {
    WantRow {
        want: want.want.clone(),
        harvested: words.amount(want.harvested, &want.unit),
        wanted: words.amount(want.wanted, &want.unit),
        met: or_dash(want.met.map(percent)),
    }
}

/// The weeks that were, drawn like those that are planned.
fn chart(want: &WantSoFar, garden: &Garden, words: &Texts) -> HarvestChart {
    let stated = garden.wants.iter().find(|w| w.name == want.want);
    let most = want.weeks.iter().map(|w| w.wanted).fold(0.0, f64::max);
    #[allow(clippy::cast_precision_loss)]
    let each_week = stated.map_or(most, |w| w.each_week.milli() as f64 / 1000.0);
    let weeks = want.weeks.iter().map(|week| WeekOutcome {
        week: week::name(week.monday),
        monday: week.monday,
        target: week.wanted,
        delivered: week.harvested,
        not_counted: None,
        limit: None,
    });
    let so_far = WantOutcome {
        want: want.want.clone(),
        unit: want.unit.clone(),
        each_week,
        weeks: weeks.collect(),
        met: want.met,
        most: Vec::new(),
    };
    let told = words.with(
        "log-met-told",
        &[
            ("harvested", &words.amount(want.harvested, &want.unit)),
            ("wanted", &words.amount(want.wanted, &want.unit)),
        ],
    );
    harvests::draw(&so_far, told, Vec::new(), words)
}

fn crop_row(crop: &CropSoFar, garden: &Garden) -> CropRow {
    let days = |days: Option<f64>| or_dash(days.map(|d| format!("{d:.1}")));
    CropRow {
        crop: crop_name(garden, &crop.crop).to_owned(),
        sown: crop.sown,
        set_out: crop.set_out,
        harvested: crop.harvested,
        days: days(crop.days),
        days_planned: days(crop.days_planned),
        pace: format!("{:.2}", crop.pace),
    }
}

fn loss_row(crop: &CropSoFar, garden: &Garden, words: &Texts) -> LossRow {
    let of = |lost: u32, all: u32| {
        let (lost, all) = (lost.to_string(), all.to_string());
        words.with("lost-of", &[("lost", &lost), ("all", &all)])
    };
    let causes = crop.causes.iter().map(|(why, n)| {
        let n = n.to_string();
        match why {
            Some(why) => words.with("cause", &[("n", &n), ("why", why)]),
            None => words.with("cause-not-said", &[("n", &n)]),
        }
    });
    let causes: Vec<String> = causes.collect();
    LossRow {
        crop: crop_name(garden, &crop.crop).to_owned(),
        in_nursery: of(crop.lost_in_nursery, crop.sown),
        come_through: or_dash(crop.come_through.map(|(least, most)| {
            let (least, most) = (percent(least), percent(most));
            words.with("from-to", &[("least", &least), ("most", &most)])
        })),
        in_holes: of(crop.lost, crop.set_out),
        causes: if causes.is_empty() {
            NOTHING_YET.to_owned()
        } else {
            causes.join(", ")
        },
    }
}

fn loop_row(of_loop: &LoopSoFar, garden: &Garden, words: &Texts) -> LoopRow {
    let litres = |l: f64| Volume::litres((l * 10.0).round() / 10.0).in_units(garden.units);
    let reading = |reading: Option<(chrono::NaiveDate, f64)>| {
        or_dash(reading.map(|(day, number)| {
            let values = [
                ("number", number.to_string()),
                ("day", words.short_day(day)),
            ];
            let values = values.each_ref().map(|(name, v)| (*name, v.as_str()));
            words.with("reading", &values)
        }))
    };
    LoopRow {
        name: of_loop.r#loop.clone(),
        put_in: or_dash((of_loop.times > 0).then(|| litres(of_loop.litres))),
        times: of_loop.times,
        used: or_dash(of_loop.litres_a_day.map(litres)),
        computed: or_dash(of_loop.computed_a_day.map(litres)),
        filled: or_dash(of_loop.filled.map(|day| words.short_day(day))),
        ec: reading(of_loop.ec),
        ph: reading(of_loop.ph),
    }
}
