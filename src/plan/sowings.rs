//! What is sown on which day: the cups that are set out together, and cells for them with as many
//! spares as the nursery has room for.

use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::ops::Range;

use chrono::NaiveDate;

use crate::garden::Garden;
use crate::nature::seed::{self, CellSowing, CupSowing, SOWING_CONFIDENCE};
use crate::plan::Plan;

/// Cups of one crop that are sown on one day and set out on another.
#[derive(Debug, Clone, PartialEq)]
pub struct PlannedSowing<'p> {
    /// The day of sowing.
    pub day: NaiveDate,
    /// The crop's key.
    pub crop: &'p str,
    /// The day of transplant.
    pub transplant: NaiveDate,
    /// Cups that are wanted.
    pub cups: u32,
    /// What is sown for them; unknown where the garden has no card of the crop.
    pub sowing: Option<CupSowing>,
    /// Where the nursery has no room for all the spares that one would want: the chance that
    /// cups enough come of it nevertheless.
    pub chance_if_short: Option<f64>,
}

/// All that a plan has to be sown, by day, crop and day of transplant.
///
/// Every batch gets a cell for each of its cups. Spares go, one by one, to the batch that is the
/// least certain to have enough, as long as there is room on all its days in the nursery and it
/// is not certain enough.
#[must_use]
pub fn planned_sowings<'p>(plan: &'p Plan, garden: &Garden) -> Vec<PlannedSowing<'p>> {
    let mut cups = plan.sowing_batches();
    cups.retain(|&(day, ..), _| (plan.start..=plan.last).contains(&day));
    let mut nursery = CellOccupancy::new(plan, garden.nursery.cells);
    let batches: Vec<CupBatch> = cups
        .iter()
        .map(|(&(day, crop, transplant), stays)| {
            let cups = u32::try_from(stays.len()).unwrap_or(u32::MAX);
            let days = nursery.day_range(day, transplant);
            nursery.occupy(&days, cups);
            let card = garden.crop(crop).map(|card| &card.seed);
            CupBatch {
                cups,
                cells: cups,
                cell: card.map(seed::cell_sowing),
                target_cells: card.map_or(cups, |card| seed::cup_sowing(card, cups).cells),
                days,
            }
        })
        .collect();
    let batches = nursery.add_spares(batches);
    cups.keys()
        .zip(batches)
        .map(|(&(day, crop, transplant), batch)| PlannedSowing {
            day,
            crop,
            transplant,
            cups: batch.cups,
            sowing: batch.cell.map(|cell| CupSowing {
                cells: batch.cells,
                seeds_per_cell: cell.seeds,
            }),
            chance_if_short: (batch.cells < batch.target_cells)
                .then(|| batch.chance_of_enough_cups()),
        })
        .collect()
}

struct CupBatch {
    cups: u32,
    cells: u32,
    cell: Option<CellSowing>,
    /// Cells with which it is certain enough.
    target_cells: u32,
    /// Its days in the nursery.
    days: Range<usize>,
}

impl CupBatch {
    /// That cups enough come of its cells.
    fn chance_of_enough_cups(&self) -> f64 {
        self.cell.map_or(SOWING_CONFIDENCE, |cell| {
            seed::probability_of_at_least(self.cups, self.cells, cell.chance)
        })
    }
}

/// Cells taken on each day from the plan's first on.
struct CellOccupancy {
    first: NaiveDate,
    cells: u32,
    taken: Vec<u32>,
}

impl CellOccupancy {
    /// With the seedlings on hand that the plan sets out.
    fn new(plan: &Plan, cells: u32) -> Self {
        let mut nursery = Self {
            first: plan.start,
            cells,
            taken: Vec::new(),
        };
        for stay in plan.stays.iter().filter(|s| s.on_hand && !s.stands) {
            let days = nursery.day_range(plan.start, stay.transplant);
            nursery.occupy(&days, 1);
        }
        nursery
    }

    fn day_range(&self, from: NaiveDate, until: NaiveDate) -> Range<usize> {
        let index = |day: NaiveDate| usize::try_from((day - self.first).num_days()).unwrap_or(0);
        index(from)..index(until)
    }

    fn occupy(&mut self, days: &Range<usize>, cells: u32) {
        if self.taken.len() < days.end {
            self.taken.resize(days.end, 0);
        }
        for taken in &mut self.taken[days.clone()] {
            *taken += cells;
        }
    }

    fn has_room(&self, days: &Range<usize>) -> bool {
        self.taken[days.clone()].iter().all(|&t| t < self.cells)
    }

    fn add_spares(&mut self, mut batches: Vec<CupBatch>) -> Vec<CupBatch> {
        // Chances are not negative: their bits are in the order of their values.
        let waits =
            |(n, batch): (usize, &CupBatch)| Reverse((batch.chance_of_enough_cups().to_bits(), n));
        let mut queue: BinaryHeap<_> = batches.iter().enumerate().map(waits).collect();
        while let Some(Reverse((_, n))) = queue.pop() {
            let batch = &mut batches[n];
            // Cells are only ever taken: what has no room now will have none.
            if batch.cells < batch.target_cells && self.has_room(&batch.days) {
                self.occupy(&batch.days, 1);
                batch.cells += 1;
                queue.push(waits((n, batch)));
            }
        }
        batches
    }
}
