//! The page and the sheet, as a browser reads them, and the data that comes out, against the plan.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Days, NaiveDate};
use scraper::{ElementRef, Html, Selector};
use serde_json::Value;
use steadyleaf::chores::Kind;
use steadyleaf::diary::DiaryState;
use steadyleaf::garden::Garden;
use steadyleaf::plan::Plan;

use super::told::Told;
use super::words::{Tongue, amount};
use super::{Look, looked_at};

fn all<'a>(of: ElementRef<'a>, selector: &str) -> Vec<ElementRef<'a>> {
    let selector = Selector::parse(selector).expect("a selector");
    of.select(&selector).collect()
}

fn text(of: ElementRef<'_>) -> String {
    let text: String = of.text().collect();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The elements right within one.
fn within<'a>(of: ElementRef<'a>, name: &str) -> Vec<ElementRef<'a>> {
    let children = of.children().filter_map(ElementRef::wrap);
    children.filter(|c| c.value().name() == name).collect()
}

/// A title and the lines beneath it.
fn chore(item: ElementRef<'_>) -> (String, Vec<String>) {
    let lists = within(item, "ul");
    let lines = lists.iter().flat_map(|ul| within(*ul, "li"));
    let lines: Vec<String> = lines.map(text).collect();
    let whole = text(item);
    let beneath = lists.first().map(|ul| text(*ul)).unwrap_or_default();
    let title = whole[..whole.len() - beneath.len()].trim().to_owned();
    (title, lines)
}

/// What a sheet tells amiss of the week that begins on a Monday.
pub fn faults_on_sheet(
    sheet: &str,
    monday: NaiveDate,
    of: (&Plan, &Garden, Option<&DiaryState>),
) -> Vec<String> {
    looked_at(of, |look, faults| look.sheet(sheet, monday, faults))
}

/// What the page tells amiss of a plan.
pub fn faults_on_page(page: &str, of: (&Plan, &Garden, Option<&DiaryState>)) -> Vec<String> {
    looked_at(of, |look, faults| look.page(page, faults))
}

impl Look<'_> {
    fn sheet(&self, sheet: &str, monday: NaiveDate, faults: &mut Vec<String>) {
        let tongue = Tongue::of(self.garden.language.code());
        let html = Html::parse_document(sheet);
        let mut told = Vec::new();
        for day in all(html.root_element(), ".work-day") {
            let heading = within(day, "h3").into_iter().map(text).next();
            let heading = heading.unwrap_or_default();
            let Some(date) = tongue.heading(&heading) else {
                faults.push(format!("sheet: no day `{heading}`"));
                continue;
            };
            for item in all(day, "ul.chores > li") {
                let (title, lines) = chore(item);
                let Some(kind) = tongue.kind_of(&title) else {
                    faults.push(format!("sheet: no work `{title}`"));
                    continue;
                };
                told.push(Told {
                    day: date,
                    kind,
                    title,
                    lines,
                    about: None,
                    is_short: false,
                });
            }
        }
        for each in all(html.root_element(), ".each") {
            let heading = within(each, "h3").into_iter().map(text).next();
            let kind = tongue
                .each
                .iter()
                .find(|(h, _)| Some(*h) == heading.as_deref());
            let Some((_, kind)) = kind else {
                faults.push(format!("sheet: no work `{heading:?}`"));
                continue;
            };
            let lines: Vec<String> = all(each, "li").into_iter().map(text).collect();
            for one in told.iter_mut().filter(|t| t.kind == *kind) {
                one.lines.extend(lines.clone());
            }
        }
        let sunday = monday + Days::new(6);
        self.told(&told, (monday, sunday), faults);
    }

    fn page(&self, page: &str, faults: &mut Vec<String>) {
        let html = Html::parse_document(page);
        let root = html.root_element();
        self.told(
            &chores_of_page(root, self.garden, faults),
            (self.plan.start, self.plan.last),
            faults,
        );
        self.harvest_tables(root, faults);
        self.seed_table(root, faults);
        let data = all(root, "#plan-data").first().map(|s| s.inner_html());
        match data.and_then(|text| serde_json::from_str(&text).ok()) {
            Some(data) => self.page_data(&data, faults),
            None => faults.push("page: no data".to_owned()),
        }
    }
}

fn chores_of_page(root: ElementRef<'_>, garden: &Garden, faults: &mut Vec<String>) -> Vec<Told> {
    let tongue = Tongue::of(garden.language.code());
    let mut told = Vec::new();
    for week in all(root, "#chores .week") {
        let mut heading = None;
        let mut count = 0;
        for part in week.children().filter_map(ElementRef::wrap) {
            if part.value().name() == "h3" {
                heading = tongue.heading(&text(part));
            }
            for item in within(part, "li") {
                count += 1;
                let id = all(item, "input").first().and_then(|i| i.value().id());
                let work = id.and_then(|id| {
                    let (day, kind) = id.strip_prefix("c-")?.split_at_checked(10)?;
                    let kind = Kind::ALL
                        .into_iter()
                        .find(|k| kind.strip_prefix('-') == Some(k.key()))?;
                    Some((day.parse().ok()?, kind))
                });
                let (title, lines) = chore(item);
                let Some((day, kind)) = work.filter(|(day, _)| Some(*day) == heading) else {
                    faults.push(format!("page: {id:?} under {heading:?}"));
                    continue;
                };
                told.push(Told {
                    day,
                    kind,
                    title,
                    lines,
                    about: None,
                    is_short: false,
                });
            }
        }
        let said = all(week, ".count").first().map(|c| text(*c));
        let number = said
            .as_deref()
            .and_then(|s| s.split(' ').next()?.parse().ok());
        if number != Some(count) {
            faults.push(format!("page: {said:?} for {count} chores"));
        }
    }
    told
}

impl Look<'_> {
    /// Wanted and harvested week by week.
    fn harvest_tables(&self, root: ElementRef<'_>, faults: &mut Vec<String>) {
        let tables = all(root, "#harvest .want");
        if tables.len() != self.garden.wants.len() {
            faults.push(format!("page: {} tables of wants", tables.len()));
        }
        for (table, want) in tables.iter().zip(&self.plan.wants) {
            let rows = all(*table, "tbody tr");
            if rows.len() != want.weeks.len() {
                faults.push(format!("page: {} weeks of {}", rows.len(), want.want));
            }
            for (row, week) in rows.iter().zip(&want.weeks) {
                let cells = row.children().filter_map(ElementRef::wrap).map(text);
                let cells: Vec<String> = cells.collect();
                let [wanted, harvested] = [2, 3].map(|n| cells.get(n).and_then(|c| amount(c)));
                let near = |told: Option<(f64, f64)>, is: f64| {
                    told.is_some_and(|(told, rounding)| (told - is).abs() <= rounding + 0.001)
                };
                let right = near(wanted, week.target) && near(harvested, week.delivered);
                if cells.first() != Some(&week.week) || !right {
                    faults.push(format!("page: {cells:?} of {}: {week:?}", want.want));
                }
            }
        }
    }

    /// Cups and days of sowing of every crop.
    fn seed_table(&self, root: ElementRef<'_>, faults: &mut Vec<String>) {
        let tongue = Tongue::of(self.garden.language.code());
        let rows = all(root, "#supplies tbody tr");
        let told = rows.iter().map(|row| {
            let cells = row.children().filter_map(ElementRef::wrap).map(text);
            let cells: Vec<String> = cells.collect();
            let day = |n: usize| cells.get(n).and_then(|c| tongue.heading(c));
            (cells[0].clone(), cells[2].clone(), day(3), day(4))
        });
        let told: BTreeSet<_> = told.collect();
        let mut sown: BTreeMap<&str, Vec<NaiveDate>> = BTreeMap::new();
        for plant in self
            .plants
            .iter()
            .filter(|p| !p.stay.stands && !p.stay.on_hand)
        {
            let shown = plant.stay.sow.filter(|d| *d <= self.plan.last);
            if let Some(day) = shown.filter(|d| *d >= self.plan.start) {
                sown.entry(&plant.crop.name).or_default().push(day);
            }
        }
        let meant = sown.into_iter().map(|(crop, days)| {
            let cups = days.len().to_string();
            let (first, last) = (days.iter().min().copied(), days.iter().max().copied());
            (crop.to_owned(), cups, first, last)
        });
        let meant: BTreeSet<_> = meant.collect();
        if told != meant {
            faults.push(format!("page: sown {told:?}, not {meant:?}"));
        }
    }

    /// What the page's script draws: stays, harvests, tubes scrubbed.
    fn page_data(&self, data: &Value, faults: &mut Vec<String>) {
        let day = |n: &Value| {
            n.as_i64()
                .map(|n| self.plan.start + chrono::TimeDelta::days(n))
        };
        let name = |list: &str, n: &Value| {
            let at = usize::try_from(n.as_u64()?).ok()?;
            let entry = &data[list][at];
            entry.as_str().or(entry["name"].as_str()).map(str::to_owned)
        };
        let begins = data["start"].as_str().map(str::to_owned);
        if begins != Some(self.plan.start.to_string()) {
            faults.push(format!("page: from {begins:?}"));
        }
        let mut told = Vec::new();
        let holes = data["holes"].as_array().cloned().unwrap_or_default();
        let stays = data["stays"].as_array().cloned().unwrap_or_default();
        for (hole, stays) in holes.iter().zip(&stays) {
            for stay in stays.as_array().into_iter().flatten() {
                let harvests = stay[6].as_array().cloned().unwrap_or_default();
                let harvests = harvests.chunks(2).map(|h| {
                    let much = name("amounts", &h[1]).unwrap_or_default();
                    (day(&h[0]), amount(&much))
                });
                let harvests: Vec<_> = harvests.collect();
                let words = [name("crops", &stay[0]), name("wants", &stay[1])];
                let days = [&stay[2], &stay[3], &stay[4]].map(day);
                told.push((hole.as_str().unwrap_or_default(), words, days, harvests));
            }
        }
        for plant in &self.plants {
            let stay = plant.stay;
            let words = [Some(plant.crop.name.clone()), Some(stay.want.clone())];
            let sow = stay.sow.filter(|_| !stay.on_hand);
            let days = [sow, Some(stay.transplant), Some(stay.removal)];
            type Drawn<'d> = (
                &'d str,
                [Option<String>; 2],
                [Option<NaiveDate>; 3],
                Vec<(Option<NaiveDate>, Option<(f64, f64)>)>,
            );
            let is_it = |(hole, told_words, told_days, harvests): &Drawn<'_>| {
                let harvested = harvests.len() == stay.harvests.len();
                let mut both = harvests.iter().zip(&stay.harvests);
                *hole == stay.hole
                    && *told_words == words
                    && *told_days == days
                    && harvested
                    && both.all(|((on, much), h)| {
                        let near = |(told, rounding): (f64, f64)| {
                            (told - h.amount).abs() <= rounding + 0.001
                        };
                        *on == Some(h.day) && much.is_some_and(near)
                    })
            };
            match told.iter().position(is_it) {
                Some(at) => drop(told.remove(at)),
                None => faults.push(format!("page: {} is not drawn", plant.name())),
            }
        }
        for more in told {
            faults.push(format!("page: {more:?} is drawn"));
        }
        let tubes = data["tubes"].as_array().into_iter().flatten();
        let scrubbed = tubes.flat_map(|tube| {
            let cleans = tube["cleans"].as_array().into_iter().flatten();
            cleans.map(|n| (tube["name"].as_str().unwrap_or_default(), day(n)))
        });
        let scrubbed: BTreeSet<_> = scrubbed.collect();
        let cleans = self.plan.cleans.iter();
        let cleans: BTreeSet<_> = cleans.map(|c| (c.tube.as_str(), Some(c.day))).collect();
        if scrubbed != cleans {
            faults.push(format!("page: scrubbed {scrubbed:?}, not {cleans:?}"));
        }
    }
}
