//! The problem made ready for searching: arcs between workdays, and which arcs of neighbours
//! rule each other out.
//!
//! A hole's plan is a path through the workdays ([`HoleClass`]): an arc is one stay, from its
//! transplant to the first workday on which the hole may be planted again. Whether two stays
//! of neighbours go together depends on nothing but the two stays, so it is looked up in a
//! table of bits.

use std::collections::BTreeMap;
use std::ops::Range;

use crate::planner::problem::cost;
use crate::planner::problem::{Batch, Hole, Problem, StayEnd, WeekYield};

/// Index of an arc in its class.
pub type ArcId = u32;

/// One possible stay.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Arc {
    /// Index into the kind's batches, or of the standing plant.
    pub batch: u32,
    /// Index into its ends.
    pub end: u32,
    /// Position among the workdays of the transplant.
    pub from: u32,
    /// Position of the first workday on which the hole may be planted again; the number of
    /// workdays if there is none.
    pub to: u32,
    /// Day of transplant.
    pub transplant: u32,
    /// Day of removal.
    pub removal: u32,
    /// Index among the model's crops.
    pub crop: u32,
    /// What it gives: indices into [`HoleClass::items`].
    pub items: Range<u32>,
    /// The stay one end shorter, if this gives all that it gives and then `more`.
    pub shorter: Option<ArcId>,
    /// What it gives beyond the shorter one: indices into [`HoleClass::items`]; all, if there is
    /// none.
    pub more: Range<u32>,
    /// Day of sowing.
    pub sow: i32,
    /// Nursery cells, in thousandths.
    pub cells_milli: u64,
    /// The lot of seedlings on hand that it draws on.
    pub lot: Option<u32>,
    /// It stood before the plan began.
    pub stands: bool,
}

impl Arc {
    /// Whether it is in a hole on a day and on that before, so that the tube cannot be scrubbed.
    #[must_use]
    pub const fn stands_over(&self, day: u32) -> bool {
        (self.transplant < day || self.stands) && day < self.removal
    }
}

/// What the search looks at first of an arc, packed close together: most arcs are passed over.
#[derive(Debug, Clone, Copy)]
pub struct HotArc {
    /// [`Arc::to`].
    pub to: u32,
    /// Beginning of [`Arc::more`].
    pub more: u32,
    /// Length of [`Arc::more`].
    pub more_len: u16,
    /// Whether it goes on from the arc before it ([`Arc::shorter`]).
    pub extends_previous: bool,
}

/// Holes alike in the stays that they can take.
#[derive(Debug, Clone)]
pub struct HoleClass {
    /// The arcs at a glance.
    pub hot_arcs: Vec<HotArc>,
    /// All stays, by transplant; then, where something stands in the hole, its ends.
    pub arcs: Vec<Arc>,
    /// The arcs that start at position `n` of the workdays are `starts[n]..starts[n + 1]`.
    pub starts: Vec<ArcId>,
    /// The ends of what stands; empty if nothing does.
    pub standing: Range<ArcId>,
    /// Indices into [`Model::items`], referred to by arcs.
    pub items: Vec<u32>,
}

/// What one harvest gives: so much of a want in a week.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct SupplyItem {
    /// Index into [`Model::want_weeks`]: a want in a week.
    pub want_week: u32,
    /// Thousandths of the want's unit.
    pub milli: i64,
}

/// One want in one week.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WantWeek {
    /// The want.
    pub want: usize,
    /// The week.
    pub week: usize,
    /// The target.
    pub target: i64,
    /// The items that it can get: a range of [`Model::items`].
    pub items: Range<u32>,
}

/// Which stays of one class rule out which of another, at one distance.
#[derive(Debug, Clone)]
pub struct ConflictTable {
    words: usize,
    bits: Vec<u64>,
}

impl ConflictTable {
    /// The stays ruled out by `arc`, one bit each, in words of 64.
    #[must_use]
    pub fn row(&self, arc: ArcId) -> &[u64] {
        let at = arc as usize * self.words;
        &self.bits[at..at + self.words]
    }

    /// Whether `a` rules out `b`.
    #[must_use]
    pub fn rules_out(&self, a: ArcId, b: ArcId) -> bool {
        self.row(a)[b as usize / 64] >> (b % 64) & 1 == 1
    }
}

/// A neighbour of a hole.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Neighbour {
    /// The other hole.
    pub hole: u32,
    /// Which table tells what its stays rule out here.
    pub table: u32,
}

/// The problem made ready.
#[derive(Debug)]
pub struct Model<'p> {
    /// The problem itself.
    pub problem: &'p Problem,
    /// Classes of holes.
    pub classes: Vec<HoleClass>,
    /// The class of each hole.
    pub class_of: Vec<usize>,
    /// Everything that any stay can give in one week.
    pub items: Vec<SupplyItem>,
    /// Wants by week: `want * weeks + week`.
    pub want_weeks: Vec<WantWeek>,
    /// Number of weeks.
    pub weeks: usize,
    /// Tables of stays that rule each other out.
    pub conflicts: Vec<ConflictTable>,
    /// The neighbours of each hole.
    pub neighbours: Vec<Vec<Neighbour>>,
    /// The holes of each tube.
    pub tubes: Vec<Vec<usize>>,
    /// The holes of each loop.
    pub loops: Vec<Vec<usize>>,
    /// The cleaning windows of each tube: indices into the problem's.
    pub cleans_of: Vec<Vec<usize>>,
    /// Names of crops, by the index that arcs use.
    pub crops: Vec<&'p str>,
    /// For each crop, those that cannot share its loop.
    pub incompatible: Vec<Vec<u32>>,
    /// Sets of crops that can share a loop, each as large as it can be; every crop is in one.
    pub compatible_sets: Vec<Vec<u32>>,
}

impl<'p> Model<'p> {
    /// Makes a problem ready.
    #[must_use]
    pub fn new(problem: &'p Problem) -> Self {
        let weeks = problem.wants.first().map_or(0, |w| w.target_milli.len());
        let crops = crops(problem);
        let (items, want_weeks) = supply_items(problem, weeks);
        let builder = ClassBuilder {
            problem,
            weeks,
            crops: &crops,
            items: &items,
        };
        let (classes, class_of) = builder.classes();
        let incompatible = incompatible_crops(problem, &crops);
        let (conflicts, neighbours) = neighbours(problem, &classes, &class_of, &incompatible);
        let tubes = group_holes(problem, |hole| hole.tube);
        let mut cleans_of = vec![Vec::new(); tubes.len()];
        for (n, clean) in problem.cleans.iter().enumerate() {
            cleans_of[clean.tube].push(n);
        }
        Self {
            problem,
            classes,
            class_of,
            items,
            want_weeks,
            weeks,
            conflicts,
            neighbours,
            tubes,
            loops: group_holes(problem, |hole| hole.r#loop),
            cleans_of,
            crops,
            compatible_sets: compatible_sets(&incompatible),
            incompatible,
        }
    }

    /// The class of a hole.
    #[must_use]
    pub fn class(&self, hole: usize) -> &HoleClass {
        &self.classes[self.class_of[hole]]
    }

    /// The table of what a hole's stays rule out in another, if they are neighbours.
    #[must_use]
    pub fn conflict_table(&self, from: usize, to: usize) -> Option<u32> {
        let mut near = self.neighbours[to].iter();
        near.find(|n| n.hole as usize == from).map(|n| n.table)
    }

    /// What a want costs in a week at a given supply.
    #[must_use]
    pub fn want_week_cost(&self, cell: usize, supply: i64) -> i64 {
        let cell = &self.want_weeks[cell];
        cost::week_cost(&self.problem.wants[cell.want], cell.target, supply)
    }

    /// What a stay gives.
    pub fn yields<'m>(
        &'m self,
        class: &'m HoleClass,
        arc: &Arc,
    ) -> impl Iterator<Item = SupplyItem> + 'm {
        class.items[arc.items.start as usize..arc.items.end as usize]
            .iter()
            .map(|&i| self.items[i as usize])
    }
}

fn crops(problem: &Problem) -> Vec<&str> {
    let mut crops: Vec<&str> = problem
        .kinds
        .iter()
        .flat_map(|k| k.batches.iter().map(|b| b.crop.as_str()))
        .chain(problem.standing.iter().map(|s| s.crop.as_str()))
        .collect();
    crops.sort_unstable();
    crops.dedup();
    crops
}

fn incompatible_crops(problem: &Problem, crops: &[&str]) -> Vec<Vec<u32>> {
    let index = |name: &str| crops.binary_search(&name).ok();
    let mut apart = vec![Vec::new(); crops.len()];
    for (a, b) in &problem.apart {
        if let (Some(a), Some(b)) = (index(a), index(b)) {
            apart[a].push(as_u32(b));
            apart[b].push(as_u32(a));
        }
    }
    apart
}

/// The holes by what they belong to.
fn group_holes(problem: &Problem, owner: impl Fn(&Hole) -> usize) -> Vec<Vec<usize>> {
    let count = problem.holes.iter().map(|h| owner(h) + 1).max();
    let mut by = vec![Vec::new(); count.unwrap_or(0)];
    for (n, hole) in problem.holes.iter().enumerate() {
        by[owner(hole)].push(n);
    }
    by
}

/// For each crop, it and whatever can join it and those before, the nearest in the list first.
fn compatible_sets(apart: &[Vec<u32>]) -> Vec<Vec<u32>> {
    let count = as_u32(apart.len());
    let mut sets: Vec<Vec<u32>> = (0..count)
        .map(|first| {
            let mut set = vec![first];
            for other in (first + 1..count).chain(0..first) {
                let fits = |&crop: &u32| !apart[crop as usize].contains(&other);
                if set.iter().all(fits) {
                    set.push(other);
                }
            }
            set.sort_unstable();
            set
        })
        .collect();
    sets.sort_unstable();
    sets.dedup();
    sets
}

/// An index as the smaller number in which it is kept; problems beyond that do not fit memory.
pub(crate) fn as_u32(n: usize) -> u32 {
    u32::try_from(n).expect("indices fit 32 bits")
}

/// All that any stay can give in one week, and the wants by week.
fn supply_items(problem: &Problem, weeks: usize) -> (Vec<SupplyItem>, Vec<WantWeek>) {
    let planted = problem
        .kinds
        .iter()
        .flat_map(|k| k.batches.iter().map(|b| (b.want, &b.ends)));
    let standing = problem.standing.iter().map(|s| (s.want, &s.ends));
    let mut items: Vec<SupplyItem> = planted
        .chain(standing)
        .flat_map(|(want, ends)| {
            let yields = ends.iter().flat_map(|e| &e.yields);
            yields.map(move |y| supply_item(want, y, weeks))
        })
        .collect();
    items.sort_unstable();
    items.dedup();
    let cells = (0..problem.wants.len() * weeks)
        .map(|n| {
            let below = |c: usize| as_u32(items.partition_point(|i| (i.want_week as usize) < c));
            WantWeek {
                want: n / weeks,
                week: n % weeks,
                target: problem.wants[n / weeks].target_milli[n % weeks],
                items: below(n)..below(n + 1),
            }
        })
        .collect();
    (items, cells)
}

fn supply_item(want: usize, y: &WeekYield, weeks: usize) -> SupplyItem {
    SupplyItem {
        want_week: as_u32(want * weeks) + y.week,
        milli: y.milli,
    }
}

struct ClassBuilder<'m, 'p> {
    problem: &'p Problem,
    weeks: usize,
    crops: &'m [&'p str],
    items: &'m [SupplyItem],
}

impl ClassBuilder<'_, '_> {
    /// One class a kind, and one more for each hole in which something stands.
    fn classes(&self) -> (Vec<HoleClass>, Vec<usize>) {
        let kinds = 0..self.problem.kinds.len();
        let mut classes: Vec<HoleClass> = kinds.map(|k| self.class_of_kind(k)).collect();
        let mut class_of: Vec<usize> = self.problem.holes.iter().map(|h| h.kind).collect();
        for (n, standing) in self.problem.standing.iter().enumerate() {
            let mut class = self.class_of_kind(self.problem.holes[standing.hole].kind);
            let first = as_u32(class.arcs.len());
            for (e, end) in standing.ends.iter().enumerate() {
                let items = self.add_items(&mut class.items, standing.want, end);
                class.arcs.push(Arc {
                    batch: as_u32(n),
                    end: as_u32(e),
                    from: 0,
                    to: self.next_start_position(end.day),
                    transplant: 0,
                    removal: end.day,
                    crop: self.crop_index(&standing.crop),
                    shorter: None,
                    more: items.clone(),
                    items,
                    sow: 0,
                    cells_milli: 0,
                    lot: None,
                    stands: true,
                });
            }
            class.standing = first..as_u32(class.arcs.len());
            class_of[standing.hole] = classes.len();
            classes.push(class);
        }
        (classes, class_of)
    }

    fn class_of_kind(&self, kind: usize) -> HoleClass {
        let workdays = &self.problem.workdays;
        let mut class = HoleClass {
            hot_arcs: Vec::new(),
            arcs: Vec::new(),
            starts: Vec::with_capacity(workdays.len() + 1),
            standing: 0..0,
            items: Vec::new(),
        };
        let mut batches: Vec<(usize, &Batch)> = self.problem.kinds[kind]
            .batches
            .iter()
            .enumerate()
            .collect();
        batches.sort_by_key(|&(n, b)| (b.transplant, n));
        let mut batches = batches.into_iter().peekable();
        for (position, &day) in workdays.iter().enumerate() {
            class.starts.push(as_u32(class.arcs.len()));
            while let Some((n, batch)) = batches.next_if(|&(_, b)| b.transplant <= day) {
                // A batch off the workdays cannot be planted.
                if batch.transplant == day {
                    self.add_arcs(&mut class, as_u32(n), batch, as_u32(position));
                }
            }
        }
        class.starts.push(as_u32(class.arcs.len()));
        class.standing = as_u32(class.arcs.len())..as_u32(class.arcs.len());
        class.hot_arcs = class.arcs.iter().map(hot_arc).collect();
        class
    }

    fn add_arcs(&self, class: &mut HoleClass, n: u32, batch: &Batch, from: u32) {
        let first = class.arcs.len();
        for (e, end) in batch.ends.iter().enumerate() {
            let items = self.add_items(&mut class.items, batch.want, end);
            let before = (e > 0).then(|| &batch.ends[e - 1].yields[..]);
            let shared = before.filter(|b| !b.is_empty() && end.yields.starts_with(b));
            let more = items.start + as_u32(shared.map_or(0, <[WeekYield]>::len));
            class.arcs.push(Arc {
                batch: n,
                shorter: shared.map(|_| as_u32(first + e - 1)),
                more: more..items.end,
                end: as_u32(e),
                from,
                to: self.next_start_position(end.day),
                transplant: batch.transplant,
                removal: end.day,
                crop: self.crop_index(&batch.crop),
                items,
                sow: batch.sow,
                cells_milli: batch.cells_milli,
                lot: batch.lot.map(as_u32),
                stands: false,
            });
        }
    }

    fn add_items(&self, items: &mut Vec<u32>, want: usize, end: &StayEnd) -> Range<u32> {
        let first = as_u32(items.len());
        for y in &end.yields {
            let item = supply_item(want, y, self.weeks);
            let at = self.items.binary_search(&item);
            items.push(as_u32(at.expect("every yield has its item")));
        }
        first..as_u32(items.len())
    }

    fn crop_index(&self, name: &str) -> u32 {
        let at = self.crops.binary_search(&name);
        as_u32(at.expect("every crop is listed"))
    }

    fn next_start_position(&self, removal: u32) -> u32 {
        let free = removal + self.problem.changeover;
        as_u32(self.problem.workdays.partition_point(|&d| d < free))
    }
}

fn hot_arc(arc: &Arc) -> HotArc {
    HotArc {
        to: arc.to,
        more: arc.more.start,
        more_len: u16::try_from(arc.more.len()).expect("a stay gives in fewer weeks than that"),
        extends_previous: arc.shorter.is_some(),
    }
}

/// What a stay looks like to its neighbours.
struct StayShape<'p> {
    from: u32,
    radius: &'p [u32],
    once: bool,
    stands: bool,
}

/// A table's key: the class of the neighbour, the class here, how near they are, and whether they
/// share a solution.
type TableKey = (usize, usize, u32, bool, bool);

fn neighbours(
    problem: &Problem,
    classes: &[HoleClass],
    class_of: &[usize],
    apart: &[Vec<u32>],
) -> (Vec<ConflictTable>, Vec<Vec<Neighbour>>) {
    let all_share = apart.iter().all(Vec::is_empty);
    let mut keys: BTreeMap<TableKey, u32> = BTreeMap::new();
    let mut neighbours = vec![Vec::new(); problem.holes.len()];
    for pair in &problem.pairs {
        for (here, there) in [(pair.a, pair.b), (pair.b, pair.a)] {
            let key = (
                class_of[there],
                class_of[here],
                pair.limit_mm,
                pair.side_by_side,
                // Where all crops can share a solution it does not matter whether two holes do.
                all_share || problem.holes[there].r#loop == problem.holes[here].r#loop,
            );
            let next = as_u32(keys.len());
            let table = *keys.entry(key).or_insert(next);
            neighbours[here].push(Neighbour {
                hole: as_u32(there),
                table,
            });
        }
    }
    let mut tables: Vec<(u32, ConflictTable)> = keys
        .iter()
        .map(|(&key, &n)| {
            (
                n,
                build_conflict_table(problem, classes, class_of, apart, key),
            )
        })
        .collect();
    tables.sort_by_key(|&(n, _)| n);
    (tables.into_iter().map(|(_, t)| t).collect(), neighbours)
}

/// Shapes of a class's batches, then of what stands by each end; and of each arc, its shape.
fn shapes<'p>(
    problem: &'p Problem,
    class: &HoleClass,
    kind: usize,
) -> (Vec<StayShape<'p>>, Vec<usize>) {
    let batches = &problem.kinds[kind].batches;
    let mut shapes: Vec<StayShape<'p>> = batches
        .iter()
        .map(|b| StayShape {
            from: b.transplant,
            radius: &b.radius_mm,
            once: b.once,
            stands: false,
        })
        .collect();
    let standing = class.arcs[class.standing.start as usize..].first();
    if let Some(arc) = standing {
        let plant = &problem.standing[arc.batch as usize];
        shapes.extend((0..plant.ends.len()).map(|end| StayShape {
            from: 0,
            radius: plant.radius_of(end),
            once: plant.once,
            stands: true,
        }));
    }
    let of_arc = class
        .arcs
        .iter()
        .map(|a| {
            if a.stands {
                batches.len() + a.end as usize
            } else {
                a.batch as usize
            }
        })
        .collect();
    (shapes, of_arc)
}

fn build_conflict_table(
    problem: &Problem,
    classes: &[HoleClass],
    class_of: &[usize],
    apart: &[Vec<u32>],
    (there, here, limit, side_by_side, share): TableKey,
) -> ConflictTable {
    let kind_of = |class: usize| {
        let hole = class_of.iter().position(|&c| c == class);
        problem.holes[hole.expect("a class in a table has a hole")].kind
    };
    let (a_arcs, b_arcs) = (&classes[there].arcs, &classes[here].arcs);
    let (a_shapes, a_of) = shapes(problem, &classes[there], kind_of(there));
    let (b_shapes, b_of) = shapes(problem, &classes[here], kind_of(here));
    let words = b_arcs.len().div_ceil(64);
    let mut bits = vec![0u64; words * a_arcs.len()];
    // The first crowded day depends on the two batches only.
    let mut crowded = vec![u32::MAX; a_shapes.len() * b_shapes.len()];
    for (i, a) in a_shapes.iter().enumerate() {
        for (j, b) in b_shapes.iter().enumerate() {
            crowded[i * b_shapes.len() + j] =
                first_crowded_day((a.from, a.radius), (b.from, b.radius), limit);
        }
    }
    for (i, a) in a_arcs.iter().enumerate() {
        let row = &mut bits[i * words..(i + 1) * words];
        let a_shape = &a_shapes[a_of[i]];
        for (j, b) in b_arcs.iter().enumerate() {
            let b_shape = &b_shapes[b_of[j]];
            if a_shape.stands && b_shape.stands {
                continue;
            }
            let crowd = crowded[a_of[i] * b_shapes.len() + b_of[j]] < a.removal.min(b.removal);
            let stage = side_by_side
                && a_shape.once
                && b_shape.once
                && a.removal.abs_diff(b.removal) < problem.neighbours_apart;
            let spoils = share
                && a.transplant.max(b.transplant) < a.removal.min(b.removal)
                && apart[a.crop as usize].contains(&b.crop);
            if crowd || stage || spoils {
                row[j / 64] |= 1 << (j % 64);
            }
        }
    }
    ConflictTable { words, bits }
}

/// The first day on which two plants are too near each other, each given by the day from which it
/// stands and its radius from then on.
pub(crate) fn first_crowded_day(a: (u32, &[u32]), b: (u32, &[u32]), limit: u32) -> u32 {
    let from = a.0.max(b.0);
    let until = (a.0 + as_u32(a.1.len())).min(b.0 + as_u32(b.1.len()));
    (from..until)
        .find(|&d| a.1[(d - a.0) as usize] + b.1[(d - b.0) as usize] > limit)
        .unwrap_or(u32::MAX)
}
