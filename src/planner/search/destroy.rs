//! Moves: what is taken out, and when.

use rand::RngExt;

use crate::planner::problem::model::{ArcId, Model};
use crate::planner::search::Search;

/// What a move takes out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Destroy {
    SingleHole,
    TubeSegment,
    WholeTube,
    Random,
    TubeCrossover,
    Neighbourhood,
    LoopCropSwitch,
}

/// All parts, in their own order.
const DESTROYS: [Destroy; 7] = [
    Destroy::SingleHole,
    Destroy::TubeSegment,
    Destroy::WholeTube,
    Destroy::Random,
    Destroy::TubeCrossover,
    Destroy::Neighbourhood,
    Destroy::LoopCropSwitch,
];
/// How often each is drawn to begin with; a patch only as far as holes are crowded, and a loop
/// turned over to other crops only where some cannot share its solution.
const DESTROY_WEIGHTS: [f64; 7] = [1.0, 4.0, 3.0, 8.0, 0.5, 12.0, 0.5];

/// How often each of the parts is drawn to begin with.
pub(super) fn initial_weights(model: &Model<'_>) -> [f64; 7] {
    let problem = model.problem;
    let mut drawn = DESTROY_WEIGHTS;
    drawn[Destroy::Neighbourhood as usize] *=
        problem.count_crowded_holes() as f64 / problem.holes.len().max(1) as f64;
    if model.compatible_sets.len() < 2 {
        drawn[Destroy::LoopCropSwitch as usize] = 0.0;
    }
    drawn
}

/// One move in so many scrubs a tube on another day, where there is one to scrub.
const CLEAN_MOVE_ODDS: u32 = 8;
/// Of so many days drawn, the one on which the least stands in the tube is taken.
const CLEAN_DAYS_DRAWN: usize = 3;

/// Of the loops turned over, one in so many is for all the time.
const WHOLE_YEAR_SWITCH_ODDS: u32 = 4;

/// What was done in a move.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct MoveRecord {
    /// Which of the parts was taken out.
    pub destroy: usize,
    /// In which of the ways it was filled, where there are several.
    pub repair: Option<usize>,
    /// How much work it was.
    pub work: usize,
}

impl<'m> Search<'m> {
    /// Takes something out and puts it back.
    pub(super) fn try_move(&mut self) {
        self.replaced_paths.clear();
        self.moved_cleans.clear();
        self.move_record = MoveRecord::default();
        let part = DESTROYS[self.destroy_weights.draw(&mut self.rng)];
        self.move_record.destroy = part as usize;
        if part == Destroy::TubeCrossover {
            self.cross_over_tubes();
            return;
        }
        if part == Destroy::LoopCropSwitch {
            self.switch_loop_crop();
            return;
        }
        let (low, high) = self.draw_window();
        let mut holes = self.draw_holes(part);
        let tube = self.state.model.problem.holes[holes[0]].tube;
        if !self.state.model.cleans_of[tube].is_empty()
            && self.rng.random_ratio(1, CLEAN_MOVE_ODDS)
            && self.move_clean_day(tube)
        {
            return;
        }
        self.destroy(&holes, low, high);
        self.repair(&mut holes, low, high);
    }

    /// Empties a tube around the day on which it is scrubbed and another, scrubs it on that, and
    /// fills it again. False, and nothing done, where there is no other day.
    fn move_clean_day(&mut self, tube: usize) -> bool {
        let model = self.state.model;
        let cleans = &model.cleans_of[tube];
        let clean = cleans[self.rng.random_range(0..cleans.len())];
        let Some(day) = self.draw_clean_day(clean) else {
            return false;
        };
        let old = self.state.clean_days[clean];
        self.moved_cleans.push((clean, old));
        let mut holes = model.tubes[tube].clone();
        let stay = self.draw_stay_days();
        let (low, high) = (old.min(day).saturating_sub(stay), old.max(day) + stay);
        self.destroy(&holes, low, high);
        self.state.clean_days[clean] = day;
        self.repair(&mut holes, low, high);
        true
    }

    /// Exchanges what two tubes alike do from some day on, the days on which they are scrubbed
    /// too, and joins before and after anew. Nothing is done where what is exchanged would not
    /// fit.
    fn cross_over_tubes(&mut self) {
        let Some([one, other]) = self.draw_like_tubes() else {
            return;
        };
        let days = self.state.model.problem.days + self.state.model.problem.tail;
        let middle = self.rng.random_range(0..days);
        let half = self.draw_stay_days() * self.rng.random_range(1..=4) / 4;
        let (low, high) = (middle.saturating_sub(half), middle + half);
        let mut holes: Vec<usize> = one.iter().chain(other).copied().collect();
        self.destroy(&holes, low, high);
        let mut later: Vec<Vec<ArcId>> = holes
            .iter()
            .map(|&hole| self.state.remove(hole, high, u32::MAX, false))
            .collect();
        later.rotate_left(one.len());
        self.swap_clean_days(one[0], other[0], middle);
        for (&hole, arcs) in holes.iter().zip(&later) {
            for &arc in arcs {
                if !self.state.is_feasible(hole, arc) {
                    self.undo();
                    self.replaced_paths.clear();
                    return;
                }
                self.state.insert(hole, &[arc]);
            }
        }
        self.repair(&mut holes, low, high);
    }

    /// Empties a loop around some days, or wholly, and plants it with nothing but some crops that
    /// can share its solution.
    fn switch_loop_crop(&mut self) {
        let model = self.state.model;
        let seed = self.rng.random_range(0..self.state.paths.len());
        let mut holes = model.loops[model.problem.holes[seed].r#loop].clone();
        let (low, high) = match self.rng.random_ratio(1, WHOLE_YEAR_SWITCH_ODDS) {
            true => (0, u32::MAX),
            false => self.draw_window(),
        };
        let crops = self.rng.random_range(0..model.compatible_sets.len());
        self.destroy(&holes, low, high);
        self.restrict_crops_to(&model.compatible_sets[crops]);
        self.repair(&mut holes, low, high);
        self.finder.excluded_crops.clear();
    }

    /// Exchanges the days from one on, on which the tubes of two holes are scrubbed. In tubes
    /// alike nothing stands that was there before the plan; where something is held, no scrubbing
    /// is moved.
    fn swap_clean_days(&mut self, one: usize, other: usize, from: u32) {
        if self.state.is_frozen() {
            return;
        }
        let model = self.state.model;
        let [one, other] = [one, other].map(|h| &model.cleans_of[model.problem.holes[h].tube]);
        for (&a, &b) in one.iter().zip(other) {
            let [x, y] = [a, b].map(|clean| self.state.clean_days[clean]);
            let windows = [a, b].map(|clean| model.problem.cleans[clean].days);
            if windows[0] == windows[1] && from <= x.min(y) {
                self.moved_cleans.extend([(a, x), (b, y)]);
                self.state.clean_days.swap(a, b);
            }
        }
    }

    /// Two tubes whose holes can take the same stays.
    fn draw_like_tubes(&mut self) -> Option<[&'m [usize]; 2]> {
        let model = self.state.model;
        let [a, b] = [(); 2].map(|()| self.rng.random_range(0..model.tubes.len()));
        let (one, other) = (&model.tubes[a], &model.tubes[b]);
        let class = |&hole: &usize| model.class_of[hole];
        let is_alike = a != b && one.iter().map(class).eq(other.iter().map(class));
        is_alike.then_some([one, other])
    }

    fn destroy(&mut self, holes: &[usize], low: u32, high: u32) {
        let alone = holes.len() == 1;
        for &hole in holes {
            self.replaced_paths
                .push((hole, self.state.paths[hole].clone()));
            self.state.remove(hole, low, high, alone);
        }
    }

    pub(super) fn undo(&mut self) {
        self.state.restore(&self.replaced_paths);
        for (clean, day) in self.moved_cleans.drain(..) {
            self.state.clean_days[clean] = day;
        }
    }

    /// About how long a stay is, of some crop.
    fn draw_stay_days(&mut self) -> u32 {
        match self.mean_stay_days.len() {
            0 => 30,
            n => self.mean_stay_days[self.rng.random_range(0..n)],
        }
    }

    /// A window of days: around the dearest of a few weeks drawn, or anywhere.
    fn draw_window(&mut self) -> (u32, u32) {
        let model = self.state.model;
        let days = model.problem.days + model.problem.tail;
        if self.rng.random_ratio(1, 20) {
            return (0, u32::MAX);
        }
        let factor = self.rng.random_range(2..=8);
        let length = (self.draw_stay_days() * factor / 2).min(days);
        let middle = if model.want_weeks.is_empty() || self.rng.random_ratio(1, 2) {
            self.rng.random_range(0..days)
        } else {
            let cell = (0..4)
                .map(|_| self.rng.random_range(0..model.want_weeks.len()))
                .max_by_key(|&c| self.state.want_week_cost(c))
                .unwrap_or(0);
            (model.want_weeks[cell].week as u32 * 7).min(days)
        };
        let low = middle.saturating_sub(length / 2);
        (low, low + length)
    }

    /// Some holes: one, a stretch of a tube, a whole tube, from anywhere, or one and all near it.
    fn draw_holes(&mut self, part: Destroy) -> Vec<usize> {
        let model = self.state.model;
        let count = self.state.paths.len();
        let seed = self.rng.random_range(0..count);
        let tube = &model.tubes[model.problem.holes[seed].tube];
        match part {
            Destroy::SingleHole => vec![seed],
            Destroy::TubeSegment => {
                let length = self.rng.random_range(2..=4).min(tube.len());
                let at = tube.iter().position(|&h| h == seed).unwrap_or(0);
                let first = at.min(tube.len() - length);
                tube[first..first + length].to_vec()
            }
            Destroy::WholeTube => tube.clone(),
            Destroy::Random | Destroy::TubeCrossover | Destroy::LoopCropSwitch => {
                let mut holes = vec![seed];
                for _ in 0..self.rng.random_range(1..=3) {
                    let hole = self.rng.random_range(0..count);
                    if !holes.contains(&hole) {
                        holes.push(hole);
                    }
                }
                holes
            }
            Destroy::Neighbourhood => {
                let around = model.neighbours[seed].iter().map(|n| n.hole as usize);
                std::iter::once(seed).chain(around).collect()
            }
        }
    }

    /// Another day on which a tube may be scrubbed: one on which little would be in the way.
    fn draw_clean_day(&mut self, clean: usize) -> Option<u32> {
        if self.state.is_frozen() {
            return None;
        }
        let problem = self.state.model.problem;
        let [first, last] = problem.cleans[clean].days;
        let tube = &self.state.model.tubes[problem.cleans[clean].tube];
        // What stood before the plan is not taken out for this.
        let stands_until = tube
            .iter()
            .filter_map(|&h| self.state.occupied_until(h))
            .max();
        let stands_until = stands_until.unwrap_or(0);
        let days: Vec<u32> = problem
            .workdays
            .iter()
            .copied()
            .filter(|&d| first <= d && d <= last && d != self.state.clean_days[clean])
            .filter(|&d| d >= stands_until)
            .collect();
        if days.is_empty() {
            return None;
        }
        let drawn = [(); CLEAN_DAYS_DRAWN].map(|()| days[self.rng.random_range(0..days.len())]);
        let in_the_way = |&day: &u32| {
            let stays = tube.iter().flat_map(|&hole| self.state.stays(hole));
            stays.filter(|stay| stay.stands_over(day)).count()
        };
        drawn.into_iter().min_by_key(in_the_way)
    }
}
