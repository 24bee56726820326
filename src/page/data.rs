//! The plan as the page's script reads it: small, in numbers.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde::Serialize;

use crate::garden::Garden;
use crate::garden::crop::Propagation;
use crate::garden::holes::Layout;
use crate::messages::words::Texts;
use crate::nature::canopy::Canopy;
use crate::page::crop_styles::CropStyles;
use crate::page::script::{ScriptTexts, script};
use crate::plan::{Plan, Stay};
use crate::summary::canopy_series::CanopySeries;
use crate::units::Units;

/// Digits of a series: two a day, so that development in thousandths has room.
const DIGIT_BASE: u16 = 36;
/// The most that two digits hold.
const MAX_TWO_DIGITS: f64 = 1295.0;
/// A crop's canopy is told at every so many thousandths of development.
const CANOPY_STEP_MILLI: usize = 10;

/// All that the script needs. Days count from the plan's first day.
#[derive(Debug, Serialize)]
pub(super) struct PageData<'a> {
    /// Under which ticks are kept in the browser.
    garden: &'a str,
    /// The plan's first day.
    start: NaiveDate,
    /// Days shown.
    days: i64,
    /// The day to open on if today is not in the plan.
    open: i64,
    crops: Vec<CropData<'a>>,
    wants: Vec<&'a str>,
    holes: Vec<&'a str>,
    tubes: Vec<TubeData<'a>>,
    /// By hole, in order of time.
    stays: Vec<Vec<StayData>>,
    /// Development day by day from a transplant on, in thousandths, two digits of base 36 each.
    series: Vec<String>,
    /// Amounts of harvests, as they are told.
    amounts: Vec<String>,
    /// What a millimetre of canopy is told as: so many of a unit.
    wide: (f64, &'static str),
    words: ScriptTexts,
}

#[derive(Debug, Serialize)]
struct CropData<'a> {
    name: &'a str,
    code: &'a str,
    tint: usize,
    hatch: usize,
    /// Raised from cuttings or plugs, which are not sown.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    started: bool,
    /// Canopy diameter [mm] at every tenth thousandth of development.
    canopy: Vec<i64>,
}

#[derive(Debug, Serialize)]
struct TubeData<'a> {
    name: &'a str,
    /// Its first hole.
    first: usize,
    /// How many.
    count: usize,
    /// The bank it is in.
    bank: usize,
    /// Days on which it is scrubbed.
    cleans: Vec<i64>,
}

/// Crop, want, day of sowing (or nothing), of transplant, of removal, series (or nothing), then
/// day and amount (an index) of every harvest.
#[derive(Debug, Serialize)]
struct StayData(usize, usize, Option<i64>, i64, i64, Option<usize>, Vec<i64>);

pub(super) struct DataAndSeries<'a> {
    pub(super) data: PageData<'a>,
    /// For every hole, the radius [mm] of the plant that stands there on the opening day.
    pub(super) radius: BTreeMap<usize, i64>,
}

/// The data of a plan.
pub(super) fn data<'a>(
    plan: &'a Plan,
    garden: &'a Garden,
    layout: &'a Layout,
    styles: &'a CropStyles,
    words: &'a Texts,
) -> DataAndSeries<'a> {
    let day = |date: NaiveDate| (date - plan.start).num_days();
    let open = opening_day(plan);
    let mut series = DevelopmentTable::new(plan, garden);
    let mut amounts = AmountTable::new(plan, words);
    let mut radius = BTreeMap::new();
    let mut of_hole: BTreeMap<&str, Vec<&Stay>> = BTreeMap::new();
    for stay in &plan.stays {
        of_hole.entry(&stay.hole).or_default().push(stay);
    }
    let wants = |name: &str| plan.wants.iter().position(|w| w.want == name);
    let stays = layout
        .holes
        .iter()
        .enumerate()
        .map(|(at, hole)| {
            let mut stays = of_hole.remove(hole.id.as_str()).unwrap_or_default();
            stays.sort_by_key(|s| s.transplant);
            let standing = stays.iter().find(|s| s.removal >= open);
            if let Some(stay) = standing.filter(|s| s.transplant <= open) {
                radius.insert(at, series.radius(stay, hole.bank, open));
            }
            stays
                .into_iter()
                .map(|stay| {
                    StayData(
                        styles.of(&stay.crop).0,
                        wants(&stay.want).unwrap_or(0),
                        stay.sow.filter(|_| !stay.on_hand).map(day),
                        day(stay.transplant),
                        day(stay.removal),
                        series.index_of(stay, hole.bank),
                        stay.harvests
                            .iter()
                            .flat_map(|h| [day(h.day), amounts.index_of(stay, h.amount)])
                            .collect(),
                    )
                })
                .collect()
        })
        .collect();
    let data = PageData {
        garden: &plan.garden,
        start: plan.start,
        days: day(plan.last) + 1,
        open: day(open),
        crops: styles
            .all()
            .map(|(key, look)| CropData {
                name: &look.name,
                code: &look.code,
                tint: look.tint,
                hatch: look.hatch,
                started: garden
                    .crop(key)
                    .is_some_and(|c| c.propagation != Propagation::Seed),
                canopy: canopy(garden, key),
            })
            .collect(),
        wants: plan.wants.iter().map(|w| w.want.as_str()).collect(),
        holes: layout.holes.iter().map(|h| h.id.as_str()).collect(),
        tubes: layout
            .tubes
            .iter()
            .map(|tube| TubeData {
                name: &tube.name,
                first: tube.first,
                count: tube.count,
                bank: tube.bank,
                cleans: plan
                    .cleans
                    .iter()
                    .filter(|c| c.tube == tube.name)
                    .map(|c| day(c.day))
                    .collect(),
            })
            .collect(),
        stays,
        series: series.texts,
        amounts: amounts.texts,
        wide: match garden.units {
            Units::Metric => (0.1, "cm"),
            Units::Imperial => (1.0 / 25.4, "in"),
        },
        words: script(words),
    };
    DataAndSeries { data, radius }
}

/// The first day on which something is harvested: until then there is little to see.
pub(super) fn opening_day(plan: &Plan) -> NaiveDate {
    plan.stays
        .iter()
        .flat_map(|s| s.harvests.iter().map(|h| h.day))
        .filter(|day| plan.start <= *day && *day <= plan.last)
        .min()
        .unwrap_or(plan.start)
}

/// Every amount that is harvested at once, told once.
struct AmountTable<'a> {
    words: &'a Texts,
    /// The unit of each want.
    unit: BTreeMap<&'a str, &'a str>,
    known: BTreeMap<String, i64>,
    texts: Vec<String>,
}

impl<'a> AmountTable<'a> {
    fn new(plan: &'a Plan, words: &'a Texts) -> Self {
        let wants = plan.wants.iter();
        Self {
            words,
            unit: wants.map(|w| (w.want.as_str(), w.unit.as_str())).collect(),
            known: BTreeMap::new(),
            texts: Vec::new(),
        }
    }

    fn index_of(&mut self, stay: &Stay, number: f64) -> i64 {
        let unit = self.unit.get(stay.want.as_str()).copied().unwrap_or("");
        let text = self.words.amount(number, unit);
        let next = i64::try_from(self.texts.len()).unwrap_or(i64::MAX);
        *self.known.entry(text.clone()).or_insert_with(|| {
            self.texts.push(text);
            next
        })
    }
}

/// Canopy diameters of a crop [mm]; none where the garden has no card of it.
fn canopy(garden: &Garden, key: &str) -> Vec<i64> {
    let Some(crop) = garden.crop(key) else {
        return Vec::new();
    };
    let canopy = Canopy::from_size(&crop.size);
    (0..=1300)
        .step_by(CANOPY_STEP_MILLI)
        .map(|thousandths| {
            let diameter = canopy.diameter(f64::from(thousandths) / 1000.0);
            crate::page::rig::millimetres(diameter)
        })
        .collect()
}

/// Development of every stay's plant, once for those that grow alike as long as they stand.
struct DevelopmentTable<'a> {
    garden: &'a Garden,
    growing: CanopySeries<'a>,
    /// The series of each crop, in one kind of light, set out on one day.
    known: BTreeMap<(String, usize, NaiveDate), Vec<usize>>,
    texts: Vec<String>,
}

impl<'a> DevelopmentTable<'a> {
    fn new(plan: &Plan, garden: &'a Garden) -> Self {
        Self {
            garden,
            growing: CanopySeries::new(plan, garden),
            known: BTreeMap::new(),
            texts: Vec::new(),
        }
    }

    fn index_of(&mut self, stay: &Stay, bank: usize) -> Option<usize> {
        let kind = self.growing.light_level(bank);
        let development = self.growing.development(stay, kind)?;
        let text: String = development.into_iter().map(base36_digits).collect();
        let key = (stay.crop.clone(), kind, stay.transplant);
        let known = self.known.entry(key).or_default();
        for &at in known.iter() {
            if self.texts[at].starts_with(&text) {
                return Some(at);
            }
            if text.starts_with(&self.texts[at]) {
                self.texts[at] = text;
                return Some(at);
            }
        }
        known.push(self.texts.len());
        self.texts.push(text);
        known.last().copied()
    }

    /// Canopy radius [mm] of a stay's plant on a day.
    fn radius(&self, stay: &Stay, bank: usize, day: NaiveDate) -> i64 {
        radius(&self.growing, self.garden, stay, bank, day)
    }
}

/// Canopy radius [mm] of a stay's plant on a day; nothing where the garden has no card of it any
/// more.
pub(super) fn radius(
    growing: &CanopySeries,
    garden: &Garden,
    stay: &Stay,
    bank: usize,
    day: NaiveDate,
) -> i64 {
    let Some(crop) = garden.crop(&stay.crop) else {
        return 0;
    };
    let development = growing.development(stay, growing.light_level(bank));
    let at = crate::summary::canopy_series::day_index(stay.transplant, day);
    let now = development.map_or(0.0, |d| d.get(at).or(d.last()).copied().unwrap_or(0.0));
    crate::page::rig::millimetres(Canopy::from_size(&crop.size).diameter(now) / 2.0)
}

/// Two digits of a development.
fn base36_digits(development: f64) -> String {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let thousandths = (development * 1000.0).round().clamp(0.0, MAX_TWO_DIGITS) as u16;
    [thousandths / DIGIT_BASE, thousandths % DIGIT_BASE]
        .into_iter()
        .map(|digit| char::from_digit(digit.into(), DIGIT_BASE.into()).unwrap_or('0'))
        .collect()
}
