//! A made-up year in a garden, seeded: what really becomes of plants while a grower follows the
//! plan, comes or does not come, and puts down in the diary what is seen.

use std::collections::BTreeMap;
use std::path::Path;

use chrono::{Datelike, Days, NaiveDate};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use steadyleaf::diary::{self, DiaryState, RecordRequest};
use steadyleaf::garden::crop::HarvestHabit;
use steadyleaf::garden::{Absence, Garden};
use steadyleaf::nature::air::growing_conditions;
use steadyleaf::nature::growth::GrowthTable;
use steadyleaf::nature::seed;
use steadyleaf::plan::record::{RecordError, record_request};
use steadyleaf::plan::{Plan, Replan, ReplanInput, Stay, plan_garden, replan};
use steadyleaf::planner::effort::Effort;
use steadyleaf::planner::monitor::Monitor;
use steadyleaf::units::Share;

use crate::independent_check::faults;

/// What life has in store.
#[derive(Debug, Clone, Copy)]
pub struct Fate {
    /// The seed of all chance.
    pub seed: u64,
    /// How many times as long as its card says a crop really takes.
    pub pace: fn(&str) -> f64,
    /// Chance that a plant in a hole dies before its time.
    pub dies: f64,
    /// Chance that the grower is kept from coming on a workday, and comes the day after.
    pub kept_away: f64,
    /// Holidays, each with the day on which it is booked and put into the garden file.
    pub booked: &'static [(&'static str, &'static str, &'static str)],
    /// First and last day of a heatwave.
    pub heat: Option<(NaiveDate, NaiveDate)>,
}

/// Plants grow so many times as fast in a heatwave as the climate lets one think.
const IN_HEAT: f64 = 0.6;

/// A grower takes what has grown to so much of its full size: a day or two before it is ripe.
const GROWN_ENOUGH: f64 = 0.95;
/// And of so much where a tube is to be scrubbed.
const NEARLY_GROWN: f64 = 0.8;

/// What came of it.
#[derive(Debug)]
pub struct Lived {
    /// Harvested by want and week (0 is the week of the start), in thousandths.
    pub harvested: Vec<Vec<i64>>,
    /// Times that something could not be put down that had happened.
    pub refused: Vec<String>,
    /// Plants that died.
    pub died: usize,
    /// Changes told in the coming two weeks, over the year.
    pub changes: usize,
    /// Times planned again.
    pub plannings: usize,
}

struct Truth {
    /// When it dies, if it does.
    dies: Option<NaiveDate>,
    /// Its own pace.
    pace: f64,
}

struct Life<'a> {
    garden: &'a Garden,
    fate: Fate,
    random: Pcg64Mcg,
    growth: BTreeMap<String, GrowthTable<'a>>,
    plants: BTreeMap<String, Truth>,
    /// Seedlings that will not come up, and when that is seen.
    duds: Vec<(NaiveDate, String, u32)>,
    path: &'a Path,
    /// The grower should have come the day before.
    kept_away: bool,
    /// The last day on which the grower came.
    came: NaiveDate,
    lived: Lived,
}

/// Lives a year with plan and diary.
pub fn live(garden: &Garden, fate: Fate, folder: &Path) -> Lived {
    let path = folder.join("diary.yaml");
    let days = (garden.weeks * 7 + 1) as usize;
    let place = &garden.place;
    let air = growing_conditions(
        place,
        &place.cover,
        Share::fraction(1.0),
        garden.start,
        days,
    );
    let mut life = Life {
        garden,
        fate,
        random: Pcg64Mcg::seed_from_u64(fate.seed),
        growth: garden
            .crops
            .iter()
            .map(|c| (c.key.clone(), GrowthTable::new(c, &air)))
            .collect(),
        plants: BTreeMap::new(),
        duds: Vec::new(),
        path: &path,
        kept_away: false,
        came: garden.start - Days::new(1),
        lived: Lived {
            harvested: vec![vec![0; garden.weeks as usize + 2]; garden.wants.len()],
            refused: Vec::new(),
            died: 0,
            changes: 0,
            plannings: 0,
        },
    };
    life.run();
    life.lived
}

impl Life<'_> {
    fn run(&mut self) {
        let mut plan: Option<Plan> = None;
        for day in self
            .garden
            .start
            .iter_days()
            .take(self.garden.weeks as usize * 7)
        {
            if plan.is_none() {
                plan = Some(
                    plan_garden(
                        self.garden,
                        "0 absences",
                        Effort::Quick,
                        &Monitor::unwatched(),
                    )
                    .unwrap()
                    .plan,
                );
            } else if day.weekday() == chrono::Weekday::Mon {
                plan = Some(self.planned(day, plan.as_ref()).planned.plan);
            }
            let plan = plan.as_ref().expect("planned");
            if self.comes(day) {
                self.work(day, plan);
                self.came = day;
            }
        }
    }

    /// The garden file as it is by a day, and its fingerprint.
    fn as_known(&self, today: NaiveDate) -> (Garden, String) {
        let mut garden = self.garden.clone();
        let booked = |b: &&(&str, &str, &str)| date(b.0) <= today;
        for (_, from, until) in self.fate.booked.iter().filter(booked) {
            let (from, until) = (date(from), date(until));
            garden.rhythm.absences.push(Absence { from, until });
        }
        garden.rhythm.absences.sort_by_key(|a| a.from);
        let made_from = format!("{} absences", garden.rhythm.absences.len());
        (garden, made_from)
    }

    /// Whether the grower comes: on workdays, or, if something else came up, on the day after.
    fn comes(&mut self, day: NaiveDate) -> bool {
        let (garden, _) = self.as_known(day);
        let at_home = !garden
            .rhythm
            .absences
            .iter()
            .any(|a| a.from <= day && day <= a.until);
        let workday = garden.rhythm.is_workday(day);
        if std::mem::take(&mut self.kept_away) && !workday {
            return at_home;
        }
        self.kept_away = workday && self.random.random_bool(self.fate.kept_away);
        workday && !self.kept_away
    }

    fn planned(&mut self, today: NaiveDate, former: Option<&Plan>) -> Replan {
        let (garden, made_from) = self.as_known(today);
        let diary = diary::file::read(self.path).expect("a diary that can be read");
        assert!(diary.faults.is_empty(), "the diary is whole");
        let again = replan(
            &ReplanInput {
                garden: &garden,
                diary: &diary,
                today,
                former,
                made_from: &made_from,
                effort: Effort::Quick,
                fresh: false,
            },
            &Monitor::unwatched(),
        )
        .unwrap_or_else(|why| panic!("{today}: {why:?}"));
        assert!(
            again.rejected_entries.is_empty(),
            "{:?}",
            again.rejected_entries
        );
        if self.lived.plannings.is_multiple_of(8) && !again.is_unchanged {
            let faults = faults(&again.planned.plan, &garden, Some(&again.state));
            assert_eq!(faults, [""; 0], "{today}");
        }
        self.lived.changes += again.changes.len();
        self.lived.plannings += 1;
        again
    }

    fn state(&self, day: NaiveDate) -> DiaryState {
        let diary = diary::file::read(self.path).expect("a diary that can be read");
        diary::replay(self.garden, &diary.entries, day).0
    }

    fn put(&mut self, plan: &Plan, day: NaiveDate, what: RecordRequest) -> bool {
        match record_request(self.path, self.garden, Some(plan), day, &what) {
            Ok(_) => true,
            Err(why @ RecordError::Impossible(_)) => {
                self.lived.refused.push(format!("{day} {what:?}: {why}"));
                false
            }
            Err(why) => panic!("{why}"),
        }
    }

    fn work(&mut self, day: NaiveDate, plan: &Plan) {
        let state = self.state(day);
        for (hole, _) in state.plants.iter() {
            let dead = self.plants[hole].dies.is_some_and(|d| d <= day);
            if dead
                && self.put(
                    plan,
                    day,
                    RecordRequest::Lost {
                        what: hole.clone(),
                        words: words("wilt"),
                        sown: None,
                    },
                )
            {
                self.plants.remove(hole);
                self.lived.died += 1;
            }
        }
        let seen: Vec<_> = self.duds.iter().filter(|d| d.0 <= day).cloned().collect();
        self.duds.retain(|d| d.0 > day);
        for (_, crop, count) in seen {
            let there: u32 = self.left(day, &crop);
            let count = count.min(there);
            if count > 0 {
                self.put(
                    plan,
                    day,
                    RecordRequest::Lost {
                        what: crop,
                        words: words(&count.to_string()),
                        sown: None,
                    },
                );
            }
        }
        self.harvest(day, plan);
        let cleans = plan.cleans.iter().filter(|c| self.is_due(c.day, day));
        for tube in cleans.map(|c| c.tube.clone()).collect::<Vec<_>>() {
            let in_tube = |h: &String| h.rsplit_once('-').is_some_and(|(t, _)| t == tube);
            // A tube in which something is late is scrubbed later.
            if !self.state(day).plants.keys().any(in_tube) {
                self.put(plan, day, RecordRequest::Cleaned { tube });
            }
        }
        for water in &plan.water {
            if water.changes.iter().any(|c| self.is_due(c.day, day)) {
                self.put(
                    plan,
                    day,
                    RecordRequest::Refilled {
                        r#loop: water.r#loop.clone(),
                    },
                );
            }
        }
        let set_out = plan
            .stays
            .iter()
            .filter(|s| self.is_due(s.transplant, day) && !s.stands);
        for stay in set_out.cloned().collect::<Vec<_>>() {
            let state = self.state(day);
            let empty = !state.plants.contains_key(&stay.hole);
            // Nothing goes into a tube that should have been scrubbed first.
            let unclean = plan.cleans.iter().any(|c| {
                self.is_due(c.day, day)
                    && stay.hole.rsplit_once('-').is_some_and(|(t, _)| t == c.tube)
                    && state.cleaned.get(&c.tube).is_none_or(|&d| d < c.day)
            });
            if empty && !unclean && self.left(day, &stay.crop) > 0 {
                let what = RecordRequest::Transplanted {
                    hole: stay.hole.clone(),
                    crop: stay.crop.clone(),
                    given: false,
                    sown: None,
                };
                if self.put(plan, day, what) {
                    self.begin(day, &stay.hole, &stay.crop);
                }
            }
        }
        self.sow(day, plan);
    }

    /// Whether something was due since the last time that the grower came.
    fn is_due(&self, what: NaiveDate, day: NaiveDate) -> bool {
        self.came < what && what <= day
    }

    fn left(&self, day: NaiveDate, crop: &str) -> u32 {
        let state = self.state(day);
        let of_crop = state.sowings.iter().filter(|s| s.crop == crop);
        of_crop.map(|s| s.remaining()).sum()
    }

    fn begin(&mut self, day: NaiveDate, hole: &str, crop: &str) {
        let dies = self.random.random_bool(self.fate.dies);
        let after = Days::new(self.random.random_range(3..40));
        let own = 1.0 + 0.03 * (self.random.random_range(0.0..2.0) - 1.0);
        self.plants.insert(
            hole.to_owned(),
            Truth {
                dies: dies.then(|| day + after),
                pace: (self.fate.pace)(crop) * own,
            },
        );
    }

    fn sow(&mut self, day: NaiveDate, plan: &Plan) {
        let mut cups: BTreeMap<(&str, NaiveDate), u32> = BTreeMap::new();
        let due =
            |s: &&Stay| s.sow.is_some_and(|sow| self.is_due(sow, day)) && !s.on_hand && !s.stands;
        for stay in plan.stays.iter().filter(due) {
            *cups.entry((&stay.crop, stay.transplant)).or_default() += 1;
        }
        for ((crop, _), cups) in cups {
            let card = self.garden.crop(crop).expect("a card").seed;
            let cells = seed::cup_sowing(&card, cups).cells;
            let each = seed::cell_sowing(&card).chance;
            if self.put(
                plan,
                day,
                RecordRequest::Sown {
                    crop: crop.to_owned(),
                    cells,
                },
            ) {
                let fails = (0..cells)
                    .filter(|_| !self.random.random_bool(each))
                    .count();
                let fails = u32::try_from(fails).expect("few");
                if fails > 0 {
                    self.duds.push((day + Days::new(9), crop.to_owned(), fails));
                }
            }
        }
    }

    /// Takes what the plan says should be taken by now and is truly ripe.
    fn harvest(&mut self, day: NaiveDate, plan: &Plan) {
        for (hole, plant) in self.state(day).plants.clone() {
            let stay = plan.stay_of(&hole, &plant.crop, plant.transplanted);
            let due = stay.is_some_and(|s| {
                let last_taken = plant.harvests.last().map(|t| t.on);
                s.harvests
                    .iter()
                    .any(|h| h.day <= day && last_taken.is_none_or(|t| t < h.day))
            });
            let gone_by = stay.is_some_and(|s| s.removal <= day);
            let last = plant.harvests.last().map(|t| t.on);
            // Where the tube is to be scrubbed, what is nearly grown is taken a little sooner.
            let in_the_way = plan.cleans.iter().any(|c| {
                self.is_due(c.day, day) && hole.rsplit_once('-').is_some_and(|(t, _)| t == c.tube)
            });
            let enough = if in_the_way {
                NEARLY_GROWN
            } else {
                GROWN_ENOUGH
            };
            let grown = self.grown(&hole, &plant.crop, plant.transplanted, last, day);
            if due && grown >= enough {
                let card = self.garden.crop(&plant.crop).expect("a card");
                let (grams, whole) = match card.harvest {
                    HarvestHabit::Head { each, .. } => (each.get(), true),
                    HarvestHabit::Cut { first, .. } if plant.harvests.is_empty() => {
                        (first.get(), false)
                    }
                    HarvestHabit::Cut { later, .. } => (later.get(), false),
                    other => panic!("{other:?} is not lived"),
                };
                let grams = grams * self.random.random_range(0.9..1.1);
                let amount = words(&format!("{grams:.1} g"));
                let last = gone_by && !whole;
                if self.put(
                    plan,
                    day,
                    RecordRequest::Harvested {
                        hole: hole.clone(),
                        amount,
                        last,
                        stands: !last,
                    },
                ) {
                    self.count(&plant.crop, grams, day);
                    if whole || last {
                        self.plants.remove(&hole);
                    }
                }
            } else if due {
                // It is looked at again next time.
            } else if gone_by && stay.is_some_and(|s| s.harvests.is_empty()) {
                // Nothing more is to be had of it.
                if self.put(plan, day, RecordRequest::Cleared { hole: hole.clone() }) {
                    self.plants.remove(&hole);
                }
            }
        }
    }

    /// How grown a plant is: 1 when its harvest is due.
    fn grown(
        &self,
        hole: &str,
        crop: &str,
        since: NaiveDate,
        last: Option<NaiveDate>,
        day: NaiveDate,
    ) -> f64 {
        let card = self.garden.crop(crop).expect("a card");
        let pace = self.plants[hole].pace;
        let (from, takes) = match (card.harvest, last) {
            (
                HarvestHabit::Cut {
                    regrowth_days: between,
                    ..
                },
                Some(last),
            ) => (last, between.get()),
            _ => (since, card.hole.days.get()),
        };
        let growth = &self.growth[crop];
        let index = |d: NaiveDate| usize::try_from((d - self.garden.start).num_days()).unwrap();
        let hot = |d: NaiveDate| self.fate.heat.is_some_and(|(a, b)| a <= d && d <= b);
        let grown: f64 = from
            .iter_days()
            .take_while(|d| *d < day)
            .map(|d| {
                growth.growth_between(index(d)..index(d) + 1) * if hot(d) { IN_HEAT } else { 1.0 }
            })
            .sum();
        grown / (takes * pace)
    }

    fn count(&mut self, crop: &str, grams: f64, day: NaiveDate) {
        let wants = &self.garden.wants;
        let want = wants
            .iter()
            .position(|w| w.from_crops.iter().any(|c| c == crop));
        let want = want.expect("a want");
        let heads = wants[want].each_week.measure() == steadyleaf::units::Measure::Heads;
        let weekday = i64::from(self.garden.start.weekday().num_days_from_monday());
        let week = ((day - self.garden.start).num_days() + weekday) / 7;
        let milli = if heads { 1000 } else { (grams * 1000.0) as i64 };
        self.lived.harvested[want][usize::try_from(week).unwrap()] += milli;
    }
}

fn date(text: &str) -> NaiveDate {
    text.parse().expect("a day")
}

fn words(text: &str) -> Vec<String> {
    text.split(' ').map(str::to_owned).collect()
}
