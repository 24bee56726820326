//! What stays are worth at given prices of want-weeks and nursery cells.

use crate::planner::bound::packing_cuts::{LocatedStay, PackingCuts};
use crate::planner::problem::model::{Arc, HoleClass, Model, as_u32};
use crate::planner::search::pair::{HoleOptions, PricedStay};

/// Prices: what each item (by its index in the model) is worth, and what a nursery cell costs
/// on each day, all in the same unit of cost.
#[derive(Debug, Clone, Default)]
pub struct Prices {
    /// Worth of each of the model's items.
    pub item_values: Vec<i64>,
    /// Sum over days before each day, from the first day of sowing, of what a thousandth of a
    /// nursery cell costs; empty if it costs nothing.
    cumulative_nursery: Vec<i64>,
    /// The day at which `nursery` begins.
    first_day: i32,
    /// What a stay costs.
    pub stay_cost: i64,
}

impl Prices {
    /// Items are worth so much; all else costs nothing.
    #[must_use]
    pub fn for_items(item_values: Vec<i64>) -> Self {
        Self {
            item_values,
            ..Self::default()
        }
    }

    /// Takes what a thousandth of a nursery cell costs whoever has it on each of some days,
    /// rising, on or between which all sowing and transplanting is done.
    pub fn set_nursery_prices(&mut self, days: &[i32], costs: &[i64]) {
        self.cumulative_nursery.clear();
        self.first_day = days.first().copied().unwrap_or(0);
        let mut sum = 0;
        for (&day, &cost) in days.iter().zip(costs) {
            let upto = usize::try_from(day - self.first_day).unwrap_or(0) + 1;
            self.cumulative_nursery.resize(upto, sum);
            sum += cost;
        }
    }

    /// What a thousandth of a cell costs before a day.
    fn nursery_cost_before(&self, day: i32) -> i64 {
        usize::try_from(day - self.first_day)
            .ok()
            .and_then(|at| self.cumulative_nursery.get(at))
            .copied()
            .unwrap_or(0)
    }

    /// What a stay costs at these prices: negative if it is worth it.
    #[must_use]
    pub fn reduced_cost(&self, class: &HoleClass, arc: &Arc) -> i64 {
        let items = &class.items[arc.items.start as usize..arc.items.end as usize];
        let gains: i64 = items.iter().map(|&i| self.item_values[i as usize]).sum();
        self.reduced_cost_of_gains(arc, gains)
    }

    fn reduced_cost_of_gains(&self, arc: &Arc, gains: i64) -> i64 {
        if arc.stands {
            return -gains;
        }
        let transplant = i32::try_from(arc.transplant).unwrap_or(i32::MAX);
        let nursery = self.nursery_cost_before(transplant) - self.nursery_cost_before(arc.sow);
        let cells = i64::try_from(arc.cells_milli).unwrap_or(i64::MAX);
        self.stay_cost - gains + nursery * cells
    }

    /// The lane of each kind of hole, by its class and the kinds of sets that it is in, with rents
    /// as they are set.
    pub fn hole_options(
        &self,
        model: &Model<'_>,
        crowds: &PackingCuts,
        kinds: &[(usize, u32)],
        lanes: &mut [HoleOptions],
    ) {
        for (&(class, in_sets), lane) in kinds.iter().zip(lanes) {
            let rent = |arc: &Arc| {
                crowds.space_price(LocatedStay {
                    class,
                    set_kinds: in_sets,
                    arc,
                })
            };
            self.options_of(&model.classes[class], rent, lane);
        }
    }

    /// The stays of a class that are worth it, with a rent for the room that each takes, and what
    /// stands.
    pub fn options_of(
        &self,
        class: &HoleClass,
        rent: impl Fn(&Arc) -> i64,
        lane: &mut HoleOptions,
    ) {
        lane.options.clear();
        lane.standing.clear();
        let mut gains = 0;
        for (n, arc) in class.arcs.iter().enumerate() {
            let more = &class.items[arc.more.start as usize..arc.more.end as usize];
            let more: i64 = more.iter().map(|&i| self.item_values[i as usize]).sum();
            gains = if arc.shorter.is_some() {
                gains + more
            } else {
                more
            };
            let choice = PricedStay {
                arc: as_u32(n),
                from: arc.from,
                to: arc.to,
                cost: self.reduced_cost_of_gains(arc, gains) + rent(arc),
            };
            if arc.stands {
                lane.standing.push(choice);
            } else if choice.cost < 0 {
                lane.options.push(choice);
            }
        }
    }
}
