//! A year of a tank, mixed and topped up as the chores tell it, in an account that shares no code
//! with what told them.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use steadyleaf::chores::{Chore, Kind, chores};
use steadyleaf::garden::Garden;
use steadyleaf::garden::rig::Loop;
use steadyleaf::plan::Plan;

/// Taken up with each litre drunk [mS/cm]; see `plumbing::drift`.
const UPTAKE: f64 = 0.66;

/// What the chores make of a loop's solution.
pub struct Year {
    /// Days on which something stands there.
    pub planted: usize,
    /// Those on which the EC is above, or below, what suits by more than a meter tells.
    pub above: Vec<NaiveDate>,
    pub below: Vec<NaiveDate>,
}

/// Litres in the tank and in tank and tubes together, and their EC.
#[derive(Default)]
struct Brew {
    tank: f64,
    all: f64,
    ec: f64,
}

impl Brew {
    fn add(&mut self, litres: f64, ec: f64) {
        self.ec = (self.all * self.ec + litres * ec) / (self.all + litres);
        self.all += litres;
    }

    fn drink(&mut self, litres: f64) {
        let salt = self.all * self.ec - litres * UPTAKE.min(self.ec);
        self.all -= litres;
        self.tank -= litres;
        if self.all > 0.0 {
            self.ec = salt / self.all;
        }
    }
}

/// Follows the chores of a loop whose tank has a lid and whose stock is stated, through all days
/// of the plan.
pub fn follow(plan: &Plan, garden: &Garden, of_loop: &Loop) -> Year {
    assert!(!of_loop.tank.is_open && of_loop.banks.iter().all(|b| !b.is_open));
    let water = plan.water.iter().find(|w| w.r#loop == of_loop.name);
    let water = water.expect("its water");
    let mut told: BTreeMap<NaiveDate, Vec<Chore>> = BTreeMap::new();
    for chore in chores(plan, garden) {
        told.entry(chore.day).or_default().push(chore);
    }
    let mut brew = Brew::default();
    let mut year = Year {
        planted: 0,
        above: Vec::new(),
        below: Vec::new(),
    };
    for (day, &used) in plan.start.iter_days().zip(&water.used) {
        for chore in told.get(&day).into_iter().flatten() {
            do_it(&mut brew, chore, of_loop, water.in_tubes);
        }
        brew.drink(used);
        let Some((least, most)) = suits(plan, garden, of_loop, day) else {
            continue;
        };
        year.planted += 1;
        if brew.ec > most + 0.05 {
            year.above.push(day);
        }
        if brew.ec < least - 0.05 {
            year.below.push(day);
        }
    }
    year
}

/// The EC that suits all that stands in a loop at the end of a day.
fn suits(plan: &Plan, garden: &Garden, of_loop: &Loop, day: NaiveDate) -> Option<(f64, f64)> {
    let here = |hole: &str| {
        let bank = hole.rsplitn(3, '-').nth(2);
        of_loop.banks.iter().any(|b| Some(b.name.as_str()) == bank)
    };
    let standing = plan
        .stays
        .iter()
        .filter(|s| here(&s.hole) && s.transplant <= day && day < s.removal);
    let bands = standing.map(|s| garden.crop(&s.crop).expect("a card").solution.ec);
    let bands = bands.map(|(least, most)| (least.get(), most.get()));
    bands.reduce(|a, b| (a.0.max(b.0), a.1.min(b.1)))
}

fn do_it(brew: &mut Brew, chore: &Chore, of_loop: &Loop, in_tubes: f64) {
    if ![Kind::Solution, Kind::TopUp].contains(&chore.kind) {
        return;
    }
    let source = of_loop.nutrients.source_ec.get();
    let stock = of_loop.nutrients.stock_ec.expect("a stated stock").get();
    let mixed = |litres: f64, ml: f64| source + ml / 1000.0 / litres * (stock - source);
    let named = format!("{}: ", of_loop.name);
    let lines: Vec<&str> = chore
        .details
        .iter()
        .filter_map(|d| d.strip_prefix(&named))
        .collect();
    let find = |marks: &[&str]| {
        let found = |mark| lines.iter().find_map(|line| number_after(line, mark));
        marks.iter().find_map(|mark| found(*mark))
    };
    let ml = lines
        .iter()
        .find_map(|line| number_before(line, " ml of stock"));
    if chore.kind == Kind::TopUp {
        if let Some(litres) = find(&["about "]) {
            let plain = lines.iter().any(|line| line.contains("plain water"));
            assert_eq!(plain, ml.is_none(), "{lines:?}");
            brew.add(litres, mixed(litres, ml.unwrap_or(0.0)));
            brew.tank += litres;
        }
        return;
    }
    if let Some(litres) = find(&["drain the tank, refill with "]) {
        brew.all = in_tubes;
        brew.add(litres, mixed(litres, ml.expect("a dose")));
        brew.tank = litres;
    } else if let Some(litres) = find(&["drain tank and tubes, refill with ", "fill with "]) {
        brew.ec = mixed(litres, ml.expect("a dose"));
        brew.all = litres;
        brew.tank = litres - in_tubes;
    } else if find(&["drain tank and tubes ("]).is_some() {
        *brew = Brew::default();
    }
}

/// The number that follows a mark.
fn number_after(line: &str, mark: &str) -> Option<f64> {
    let (_, rest) = line.split_once(mark)?;
    let end = rest.find(|c: char| !c.is_ascii_digit() && c != '.');
    rest[..end.unwrap_or(rest.len())].parse().ok()
}

/// The number that stands before a mark.
fn number_before(line: &str, mark: &str) -> Option<f64> {
    let (before, _) = line.split_once(mark)?;
    let (_, number) = before.rsplit_once([' ', '('])?;
    number.parse().ok()
}
