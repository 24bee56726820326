//! The search: construct hole by hole, then take out and put back until nothing improves.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

use super::ceiling::Mixed;
use super::effort::Effort;
use super::model::{ArcId, Model};
use super::pair::{self, Lane, Space, Task};
use super::path::{Finder, Gap};
use super::solution::Solution;
use super::state::State;
use super::watch::Watch;

/// A good solution of a problem: the same one for the same problem, effort and seed, on every
/// machine.
#[must_use]
pub fn search(model: &Model<'_>, effort: Effort, seed: u64) -> Solution {
    let mut search = Search::new(model, seed);
    search.construct();
    search.improve(effort.moves(model.problem), WARM, &Watch::nobody());
    search.solution()
}

/// Differences in cost that the acceptance starts and ends with, as parts of what a harvest
/// missed costs: from nothing, near a good plan, and when it is to settle.
pub const WARM: f64 = 0.8;
/// See [`WARM`].
pub const NEAR: f64 = 0.3;
const COLD: f64 = 0.005;
/// Moves between two looks at whether to stop.
const LOOK: usize = 256;

/// The best found so far, kept without copying everything at each improvement.
struct Best {
    cost: i64,
    paths: Vec<Vec<ArcId>>,
    clean_days: Vec<u32>,
    /// Holes whose paths differ from the current ones.
    stale: Vec<usize>,
    is_stale: Vec<bool>,
}

impl Best {
    fn of(state: &State<'_>) -> Self {
        Self {
            cost: state.cost(),
            paths: state.paths.clone(),
            clean_days: state.clean_days.clone(),
            stale: Vec::new(),
            is_stale: vec![false; state.paths.len()],
        }
    }

    /// Notes that the search went on from here, having changed some holes.
    fn follow(&mut self, state: &State<'_>, changed: impl Iterator<Item = usize>) {
        for hole in changed {
            if !self.is_stale[hole] {
                self.is_stale[hole] = true;
                self.stale.push(hole);
            }
        }
        if state.cost() < self.cost {
            self.cost = state.cost();
            self.clean_days.clone_from(&state.clean_days);
            for hole in self.stale.drain(..) {
                self.is_stale[hole] = false;
                self.paths[hole].clone_from(&state.paths[hole]);
            }
        }
    }

    /// Makes the best the current again.
    fn bring_back(&mut self, state: &mut State<'_>) {
        let old: Vec<_> = self
            .stale
            .drain(..)
            .map(|hole| (hole, self.paths[hole].clone()))
            .collect();
        for (hole, _) in &old {
            self.is_stale[*hole] = false;
        }
        state.restore(&old);
        state.clean_days.clone_from(&self.clean_days);
    }
}

/// A search under way.
pub struct Search<'m> {
    state: State<'m>,
    best: Best,
    finder: Finder,
    random: Pcg64Mcg,
    /// The paths that the current move changes, as they were.
    taken: Vec<(usize, Vec<ArcId>)>,
    moved_clean: Option<(usize, u32)>,
    path: Vec<ArcId>,
    lanes: [Lane; 2],
    space: Space,
    together: pair::Best,
    /// The mean length of a stay of each crop that has any.
    stay_days: Vec<u32>,
    /// What a harvest missed costs, on average.
    missed: f64,
}

/// The index of the largest.
fn most(numbers: &[f64]) -> usize {
    let by_size = |a: &usize, b: &usize| numbers[*a].total_cmp(&numbers[*b]);
    (0..numbers.len()).rev().max_by(by_size).unwrap_or(0)
}

fn stay_days(model: &Model<'_>) -> Vec<u32> {
    let mut sums = vec![(0u64, 0u64); model.crops.len()];
    for arc in model.classes.iter().flat_map(|c| &c.arcs) {
        let (days, count) = &mut sums[arc.crop as usize];
        *days += u64::from(arc.removal - arc.transplant);
        *count += 1;
    }
    sums.into_iter()
        .filter_map(|(days, count)| days.checked_div(count))
        .map(|mean| u32::try_from(mean).unwrap_or(u32::MAX).max(7))
        .collect()
}

/// What a harvest missed costs where nothing else is short, in thousandths: the mean over
/// want-weeks.
fn missed(model: &Model<'_>) -> f64 {
    let wants = &model.problem.wants;
    let costs: Vec<i64> = (0..)
        .zip(&model.cells)
        .filter(|(_, cell)| cell.target > 0)
        .map(|(n, cell)| {
            let one_less = cell.target - wants[cell.want].harvest_milli;
            model.cell_cost(n, one_less.max(0))
        })
        .collect();
    costs.iter().sum::<i64>() as f64 / costs.len().max(1) as f64
}

impl<'m> Search<'m> {
    /// A search that has planted nothing yet.
    #[must_use]
    pub fn new(model: &'m Model<'m>, seed: u64) -> Self {
        Self::going_on(State::empty(model), seed)
    }

    /// A search that begins with what is planned.
    #[must_use]
    pub fn going_on(state: State<'m>, seed: u64) -> Self {
        Self {
            stay_days: stay_days(state.model),
            missed: missed(state.model),
            best: Best::of(&state),
            state,
            finder: Finder::default(),
            random: Pcg64Mcg::seed_from_u64(seed),
            taken: Vec::new(),
            moved_clean: None,
            path: Vec::new(),
            lanes: Default::default(),
            space: Space::default(),
            together: pair::Best::default(),
        }
    }

    /// The cost of the best solution found.
    #[must_use]
    pub const fn cost(&self) -> i64 {
        self.best.cost
    }

    /// The best solution found.
    #[must_use]
    pub fn solution(self) -> Solution {
        self.into_state().solution()
    }

    /// The state of the best solution found.
    #[must_use]
    pub fn into_state(mut self) -> State<'m> {
        self.best.bring_back(&mut self.state);
        self.state
    }

    /// Plants hole by hole.
    pub fn construct(&mut self) {
        let holes = self.state.paths.len();
        // Every other hole first: those between then fill the gaps in stage.
        for hole in (0..holes).step_by(2).chain((1..holes).step_by(2)) {
            self.fill(hole, 0, u32::MAX, true);
        }
        self.best = Best::of(&self.state);
    }

    /// Plants the plans of pairs that come near the ceiling, a tube's pairs alike where they
    /// can be, then fills what is left.
    pub fn construct_from(&mut self, mix: &[Mixed]) {
        let tube_of = |hole: usize| self.state.model.problem.holes[hole].tube;
        let mut planted: Vec<(usize, &[ArcId])> = Vec::new();
        for group in mix.iter().filter(|g| !g.plans.is_empty()) {
            let mut left: Vec<f64> = group.plans.iter().map(|p| p.1).collect();
            let mut chosen = 0;
            for (n, sides) in group.sets.iter().enumerate() {
                if n == 0 || tube_of(sides[0][0]) != tube_of(group.sets[n - 1][0][0]) {
                    chosen = most(&left);
                }
                left[chosen] -= 1.0;
                for (holes, stays) in sides.iter().zip(&group.plans[chosen].0) {
                    planted.extend(holes.iter().map(|&hole| (hole, stays.as_slice())));
                }
            }
        }
        for (hole, stays) in planted {
            for &arc in stays {
                if self.state.may_stand(hole, arc) {
                    self.state.insert(hole, &[arc]);
                }
            }
        }
        self.best = Best::of(&self.state);
    }

    /// Takes out and puts back, so many times, or until told to stop. It is as warm at the
    /// beginning as a part of what a harvest missed costs.
    pub fn improve(&mut self, moves: usize, warm: f64, watch: &Watch<'_>) {
        let cooling = libm::pow(COLD / warm, 1.0 / moves.max(1) as f64);
        let mut warmth = warm * self.missed;
        for n in 0..moves {
            if n % LOOK == 0 && watch.is_over(n, moves, self.best.cost) {
                break;
            }
            let before = self.state.cost();
            self.ruin_and_recreate();
            let worse = self.state.cost() - before;
            let threshold = -warmth * libm::log(self.random.random_range(1e-9..1.0));
            if (worse as f64) > threshold {
                self.undo();
            } else {
                self.best
                    .follow(&self.state, self.taken.iter().map(|t| t.0));
            }
            warmth *= cooling;
        }
    }

    fn ruin_and_recreate(&mut self) {
        self.taken.clear();
        self.moved_clean = None;
        let (mut low, mut high) = self.window();
        let mut holes = self.holes();
        let tube = self.state.model.problem.holes[holes[0]].tube;
        let cleans = &self.state.model.cleans_of[tube];
        if !cleans.is_empty() && self.random.random_ratio(1, 25) {
            let clean = cleans[self.random.random_range(0..cleans.len())];
            if let Some(day) = self.other_clean_day(clean) {
                let old = self.state.clean_days[clean];
                self.moved_clean = Some((clean, old));
                holes.clone_from(&self.state.model.tubes[tube]);
                let stay = self.stay();
                low = old.min(day).saturating_sub(stay);
                high = old.max(day) + stay;
                self.take_out(&holes, low, high);
                self.state.clean_days[clean] = day;
            }
        }
        if self.moved_clean.is_none() {
            self.take_out(&holes, low, high);
        }
        self.put_back(&mut holes, low, high);
    }

    /// Fills the holes that were taken out: two neighbours at a time, a whole stretch in
    /// alternation, or one by one.
    fn put_back(&mut self, holes: &mut [usize], low: u32, high: u32) {
        match self.random.random_range(0..10) {
            0..=2 if holes.len() >= 2 => {
                let first = self.random.random_range(0..2);
                let (before, rest) = holes.split_at(first);
                for pair in rest.chunks(2) {
                    match *pair {
                        [a, b] if self.fill_together(&[a], &[b], low, high) => {}
                        _ => pair.iter().for_each(|&h| self.fill(h, low, high, false)),
                    }
                }
                before.iter().for_each(|&h| self.fill(h, low, high, false));
            }
            3..=5 if holes.len() >= 3 => {
                let odd: Vec<usize> = holes.iter().copied().step_by(2).collect();
                let even: Vec<usize> = holes.iter().copied().skip(1).step_by(2).collect();
                self.fill_together(&odd, &even, low, high);
                // All alike is seldom best: each may now change a little.
                self.shuffle(holes);
                for &hole in &*holes {
                    self.state.remove(hole, low, high, false);
                    self.fill(hole, low, high, false);
                }
            }
            _ => {
                self.shuffle(holes);
                let alone = holes.len() == 1;
                for &hole in &*holes {
                    self.fill(hole, low, high, alone);
                }
            }
        }
    }

    fn shuffle(&mut self, holes: &mut [usize]) {
        for n in (1..holes.len()).rev() {
            holes.swap(n, self.random.random_range(0..=n));
        }
    }

    /// Fills two sets of holes by the best joint plan: all of one set alike, all of the other
    /// alike. False, and nothing done, where these holes are not made for it.
    fn fill_together(&mut self, odd: &[usize], even: &[usize], low: u32, high: u32) -> bool {
        let model = self.state.model;
        // A joint plan might set crops that cannot share the loop into its two sides.
        if !model.apart.iter().all(Vec::is_empty) {
            return false;
        }
        let table = |from: usize, to: usize| model.table(from, to);
        let alike = |set: &[usize]| {
            set.iter()
                .all(|&h| model.class_of[h] == model.class_of[set[0]])
                && set
                    .iter()
                    .all(|&a| set.iter().all(|&b| table(a, b).is_none()))
        };
        let (Some(a), Some(b)) = (table(odd[0], even[0]), table(even[0], odd[0])) else {
            return false;
        };
        let near = |x: usize, y: usize| table(x, y).is_none_or(|t| t == a);
        if !alike(odd) || !alike(even) || !odd.iter().all(|&x| even.iter().all(|&y| near(x, y))) {
            return false;
        }
        let mut gaps = [odd, even].map(|set| {
            let gaps = set.iter().map(|&h| Finder::gap(&self.state, h, low, high));
            gaps.reduce(Gap::common).unwrap_or(Gap { from: 0, to: 0 })
        });
        for (set, (gap, lane)) in [odd, even].iter().zip(gaps.iter_mut().zip(&mut self.lanes)) {
            self.finder.lane(&mut self.state, set, *gap, lane);
            // An empty gap must not stretch the other's.
            if gap.from >= gap.to {
                *gap = Gap {
                    from: u32::MAX,
                    to: 0,
                };
            }
        }
        let (from, to) = (gaps[0].from.min(gaps[1].from), gaps[0].to.max(gaps[1].to));
        if from >= to {
            return true;
        }
        let task = Task {
            lanes: &self.lanes.each_ref(),
            tables: &[&model.tables[a as usize], &model.tables[b as usize]],
            cleans: &[],
            low: from,
            high: to,
        };
        pair::solve(&task, &mut self.space, &mut self.together);
        for (set, stays) in [odd, even].iter().zip(&self.together.stays) {
            for &hole in *set {
                self.state.insert(hole, stays);
            }
        }
        true
    }

    fn take_out(&mut self, holes: &[usize], low: u32, high: u32) {
        let alone = holes.len() == 1;
        for &hole in holes {
            self.taken.push((hole, self.state.paths[hole].clone()));
            self.state.remove(hole, low, high, alone);
        }
    }

    fn undo(&mut self) {
        self.state.restore(&self.taken);
        if let Some((clean, day)) = self.moved_clean.take() {
            self.state.clean_days[clean] = day;
        }
    }

    fn fill(&mut self, hole: usize, low: u32, high: u32, alone: bool) {
        let standing = alone && {
            let class = self.state.model.class(hole);
            !class.standing.is_empty()
                && self.state.paths[hole]
                    .first()
                    .is_none_or(|&a| !class.arcs[a as usize].stands)
        };
        let gap = Finder::gap(&self.state, hole, low, high);
        let mut path = std::mem::take(&mut self.path);
        self.finder
            .best(&mut self.state, hole, gap, standing, &mut path);
        self.state.insert(hole, &path);
        self.path = path;
    }

    /// About how long a stay is, of some crop.
    fn stay(&mut self) -> u32 {
        match self.stay_days.len() {
            0 => 30,
            n => self.stay_days[self.random.random_range(0..n)],
        }
    }

    /// A window of days: around the dearest of a few weeks drawn, or anywhere.
    fn window(&mut self) -> (u32, u32) {
        let model = self.state.model;
        let days = model.problem.days + model.problem.tail;
        if self.random.random_ratio(1, 20) {
            return (0, u32::MAX);
        }
        let factor = self.random.random_range(2..=8);
        let length = (self.stay() * factor / 2).min(days);
        let middle = if model.cells.is_empty() || self.random.random_ratio(1, 2) {
            self.random.random_range(0..days)
        } else {
            let cell = (0..4)
                .map(|_| self.random.random_range(0..model.cells.len()))
                .max_by_key(|&c| self.state.cell_cost(c))
                .unwrap_or(0);
            (model.cells[cell].week as u32 * 7).min(days)
        };
        let low = middle.saturating_sub(length / 2);
        (low, low + length)
    }

    /// Some holes: one, a stretch of a tube, a whole tube, or from anywhere.
    fn holes(&mut self) -> Vec<usize> {
        let model = self.state.model;
        let count = self.state.paths.len();
        let seed = self.random.random_range(0..count);
        let tube = &model.tubes[model.problem.holes[seed].tube];
        match self.random.random_range(0..10) {
            0 => vec![seed],
            1..=4 => {
                let length = self.random.random_range(2..=4).min(tube.len());
                let at = tube.iter().position(|&h| h == seed).unwrap_or(0);
                let first = at.min(tube.len() - length);
                tube[first..first + length].to_vec()
            }
            5..=7 => tube.clone(),
            _ => {
                let mut holes = vec![seed];
                for _ in 0..self.random.random_range(1..=3) {
                    let hole = self.random.random_range(0..count);
                    if !holes.contains(&hole) {
                        holes.push(hole);
                    }
                }
                holes
            }
        }
    }

    fn other_clean_day(&mut self, clean: usize) -> Option<u32> {
        if self.state.open_from > 0 {
            // A tube can hold what has to be left as it is.
            return None;
        }
        let problem = self.state.model.problem;
        let [first, last] = problem.cleans[clean].days;
        let tube = &self.state.model.tubes[problem.cleans[clean].tube];
        // What stood before the plan is not taken out for this.
        let stands_until = tube
            .iter()
            .filter_map(|&h| self.state.stands_until(h))
            .max();
        let stands_until = stands_until.unwrap_or(0);
        let days: Vec<u32> = problem
            .workdays
            .iter()
            .copied()
            .filter(|&d| first <= d && d <= last && d != self.state.clean_days[clean])
            .filter(|&d| d >= stands_until)
            .collect();
        (!days.is_empty()).then(|| days[self.random.random_range(0..days.len())])
    }
}
