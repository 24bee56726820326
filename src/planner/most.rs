//! The most that a rig could give of one want in some weeks, were everything else given up for
//! it: a bound, by the same pairs of holes as the ceiling.

use super::groups::{Group, groups};
use super::model::Model;
use super::pair::{Best, Lane, Space};
use super::prices::Prices;

/// Asks for bounds; keeps what they have in common.
pub struct Most<'m> {
    model: &'m Model<'m>,
    groups: Vec<Group>,
    space: Space,
}

impl<'m> Most<'m> {
    /// Ready to ask of a problem.
    #[must_use]
    pub fn new(model: &'m Model<'m>) -> Self {
        Self {
            model,
            groups: groups(model, &model.class_of),
            space: Space::default(),
        }
    }

    /// No plan gives more of a want in these weeks, in thousandths of its unit.
    pub fn of(&mut self, want: usize, weeks: std::ops::Range<usize>) -> i64 {
        let model = self.model;
        let asked = |cell: u32| {
            let cell = &model.cells[cell as usize];
            cell.want == want && weeks.contains(&cell.week)
        };
        let worth = model
            .items
            .iter()
            .map(|i| if asked(i.cell) { i.milli } else { 0 });
        let prices = Prices::for_items(worth.collect());
        let mut lanes = vec![Lane::default(); model.classes.len()];
        for (class, lane) in model.classes.iter().zip(&mut lanes) {
            prices.lane(class, |_| 0, lane);
        }
        let mut best = Best::default();
        let mut most = 0;
        for group in &self.groups {
            group.plan(model, &lanes, &mut self.space, &mut best);
            most -= best.cost * group.count();
        }
        most
    }
}
