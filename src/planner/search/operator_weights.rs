//! Which of several kinds of move comes next: drawn by lot, the more often the better it did
//! lately for the work it made.
//!
//! After Ropke & Pisinger (2006), "An Adaptive Large Neighborhood Search Heuristic for the Pickup
//! and Delivery Problem with Time Windows", Transportation Science 40:455, section 3.4. As moves are
//! of very different lengths, a kind's score is for the work of its moves, not for their number;
//! and what is merely accepted scores little (tried: with as much as theirs, plans are worse).

use rand::RngExt;
use rand_pcg::Pcg64Mcg;

/// How a move went.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MoveOutcome {
    /// It led to the best plan so far.
    Best,
    /// It led to a better plan than that before it.
    Better,
    /// It led to another plan, no better, that was accepted.
    Accepted,
    /// It changed nothing.
    Nothing,
}

impl MoveOutcome {
    const fn score(self) -> f64 {
        match self {
            Self::Best => 20.0,
            Self::Better => 5.0,
            Self::Accepted => 1.0,
            Self::Nothing => 0.0,
        }
    }
}

/// Moves in a segment, after which the weights are set anew.
const SEGMENT_MOVES: usize = 500;
/// How much of a weight comes from the last segment.
const REACTION_FACTOR: f64 = 0.1;
/// No kind's weight falls below this part of what it began with, nor rises above so many times.
const WEIGHT_BOUNDS: (f64, f64) = (0.3, 3.0);

/// Kinds of move, and how often each is drawn.
#[derive(Debug, Clone)]
pub struct OperatorWeights<const N: usize> {
    initial: [f64; N],
    weights: [f64; N],
    /// Score and work in this segment.
    segment_scores: [(f64, f64); N],
    moves: usize,
}

impl<const N: usize> OperatorWeights<N> {
    /// A wheel that begins with these weights.
    #[must_use]
    pub const fn new(weights: [f64; N]) -> Self {
        Self {
            initial: weights,
            weights,
            segment_scores: [(0.0, 0.0); N],
            moves: 0,
        }
    }

    /// Draws a kind.
    pub fn draw(&self, random: &mut Pcg64Mcg) -> usize {
        let mut left = random.random_range(0.0..self.weights.iter().sum());
        for (n, weight) in self.weights.iter().enumerate() {
            if left < *weight {
                return n;
            }
            left -= weight;
        }
        N - 1
    }

    /// Notes how a move of a kind went, and how much work it was.
    pub fn record(&mut self, kind: usize, work: usize, outcome: MoveOutcome) {
        let (score, all) = &mut self.segment_scores[kind];
        *score += outcome.score();
        *all += work as f64;
        self.moves += 1;
        if self.moves == SEGMENT_MOVES {
            self.update();
        }
    }

    /// Sets the weights anew.
    fn update(&mut self) {
        let (score, work) = self
            .segment_scores
            .iter()
            .fold((0.0, 0.0), |(s, w), seen| (s + seen.0, w + seen.1));
        if score > 0.0 {
            let kinds = self
                .weights
                .iter_mut()
                .zip(&self.initial)
                .zip(&self.segment_scores);
            for ((weight, first), seen) in kinds.filter(|(_, seen)| seen.1 > 0.0) {
                let relative_score = (seen.0 / seen.1) / (score / work);
                let (least, most) = WEIGHT_BOUNDS;
                let relative_score = relative_score.clamp(least, most);
                *weight = (*weight * (1.0 - REACTION_FACTOR)
                    + first * relative_score * REACTION_FACTOR)
                    .clamp(first * least, first * most);
            }
        }
        self.segment_scores = [(0.0, 0.0); N];
        self.moves = 0;
    }
}

#[cfg(test)]
mod tests {
    use rand::SeedableRng;

    use super::*;

    /// A wheel of which one kind gains and the others do not, for so many segments.
    fn updated(segments: usize) -> OperatorWeights<3> {
        let mut wheel = OperatorWeights::new([1.0; 3]);
        for n in 0..segments * SEGMENT_MOVES {
            let outcome = if n % 3 == 1 {
                MoveOutcome::Better
            } else {
                MoveOutcome::Nothing
            };
            wheel.record(n % 3, 4, outcome);
        }
        wheel
    }

    #[test]
    fn what_gains_is_drawn_more_often_and_nothing_dies_out() {
        let (once, often) = (updated(1).weights, updated(100).weights);
        assert!(once[1] > 1.0 && once[0] < 1.0 && once[2] < 1.0, "{once:?}");
        let close = |a: f64, b: f64| (a - b).abs() < 0.01;
        let [least, most] = [0.3, 3.0];
        assert!(close(often[0], least) && close(often[1], most) && close(often[2], least));
        let wheel = updated(100);
        let mut random = Pcg64Mcg::seed_from_u64(1);
        let mut drawn = [0; 3];
        (0..3_600).for_each(|_| drawn[wheel.draw(&mut random)] += 1);
        // 300, 3,000 and 300 are expected; the standard deviation is below 23.
        assert!((2_900..3_100).contains(&drawn[1]), "{drawn:?}");
        assert!(drawn[0] > 200 && drawn[2] > 200, "{drawn:?}");
    }

    #[test]
    fn work_counts_not_moves() {
        let mut wheel = OperatorWeights::new([1.0; 2]);
        for n in 0..SEGMENT_MOVES {
            // Both gain as often; the second is four times the work.
            wheel.record(n % 2, 1 + 3 * (n % 2), MoveOutcome::Better);
        }
        assert!(wheel.weights[0] > wheel.weights[1], "{:?}", wheel.weights);
    }

    #[test]
    fn a_segment_without_any_gain_changes_nothing() {
        let mut wheel = OperatorWeights::new([2.0, 1.0]);
        (0..SEGMENT_MOVES).for_each(|n| wheel.record(n % 2, 2, MoveOutcome::Nothing));
        assert_eq!(wheel.weights, [2.0, 1.0]);
    }
}
