//! What stands where: one plant a hole, room for leaves and above them, tubes scrubbed, solutions
//! shared.

use chrono::{NaiveDate, TimeDelta};

use super::{Look, Plant, whole as days};

/// Canopies are kept by their radius in whole millimetres: two of them may be so much wider
/// \[m\].
const MILLIMETRE: f64 = 0.001;

impl Look<'_> {
    pub(super) fn places(&self, faults: &mut Vec<String>) {
        self.height(faults);
        self.one_at_a_time(faults);
        self.neighbours(faults);
        self.scrubbed(faults);
        self.solutions(faults);
    }

    fn height(&self, faults: &mut Vec<String>) {
        for plant in self.plants.iter().filter(|p| !p.is_given()) {
            let (height, room) = (plant.crop.size.height, self.holes[plant.hole].tallest);
            if height.get() > room + 1e-9 {
                faults.push(format!("height: {} in {room} m", plant.name()));
            }
        }
    }

    fn one_at_a_time(&self, faults: &mut Vec<String>) {
        let between = days(self.garden.spacing.changeover);
        self.each_pair(|a, b| {
            let (first, second) = if a.stay.transplant <= b.stay.transplant {
                (a, b)
            } else {
                (b, a)
            };
            let free = first.stay.removal + TimeDelta::days(between);
            if a.hole == b.hole && second.stay.transplant < free {
                faults.push(format!("hole: {} before {free}", second.name()));
            }
        });
    }

    fn each_pair(&self, mut look: impl FnMut(&Plant<'_>, &Plant<'_>)) {
        for (n, a) in self.plants.iter().enumerate() {
            for b in &self.plants[n + 1..] {
                look(a, b);
            }
        }
    }

    fn neighbours(&self, faults: &mut Vec<String>) {
        let widths: Vec<Vec<f64>> = self.plants.iter().map(|p| self.widths(p)).collect();
        let widest = widths.iter().flatten().copied().fold(0.0, f64::max);
        let overlap = 1.0 + self.garden.spacing.crowding.get();
        let apart = days(self.garden.spacing.neighbours_apart);
        for (n, a) in self.plants.iter().enumerate() {
            for (m, b) in self.plants.iter().enumerate().skip(n + 1) {
                let holes = (&self.holes[a.hole], &self.holes[b.hole]);
                let may_not_move = self.may_not_move(a, b);
                if a.hole == b.hole || holes.0.bank != holes.1.bank || may_not_move {
                    continue;
                }
                let removals = (a.stay.removal - b.stay.removal).num_days().abs();
                if holes.0.is_beside(holes.1)
                    && a.is_taken_whole()
                    && b.is_taken_whole()
                    && removals < apart
                {
                    faults.push(format!("stage: {} and {}", a.name(), b.name()));
                }
                let room = holes.0.distance(holes.1) * overlap + MILLIMETRE + 1e-5;
                if room > widest {
                    continue;
                }
                let width = |p: &Plant<'_>, widths: &[f64], day: NaiveDate| {
                    let day = usize::try_from((day - p.stay.transplant).num_days());
                    day.ok().and_then(|d| widths.get(d).copied()).unwrap_or(0.0)
                };
                let from = a
                    .stay
                    .transplant
                    .max(b.stay.transplant)
                    .max(self.plan.start);
                let until = a.stay.removal.min(b.stay.removal);
                let crowded = from.iter_days().take_while(|d| *d < until).find(|&day| {
                    (width(a, &widths[n], day) + width(b, &widths[m], day)) / 2.0 > room
                });
                if let Some(day) = crowded {
                    faults.push(format!("crowded: {} and {} on {day}", a.name(), b.name()));
                }
            }
        }
    }

    /// Whether nothing can be done about two plants: both stand, or are kept for their seed, or the
    /// one stands beside the seed plant no longer than it must.
    fn may_not_move(&self, a: &Plant<'_>, b: &Plant<'_>) -> bool {
        let stands = |p: &Plant<'_>| p.stay.stands && !p.stay.for_seed;
        if a.is_given() && b.is_given() {
            let standing = [a, b].into_iter().find(|p| stands(p));
            let comes = [a, b].iter().any(|p| !p.stay.stands);
            return standing.is_none_or(|p| !comes || self.is_soonest(p));
        }
        false
    }

    fn widths(&self, plant: &Plant<'_>) -> Vec<f64> {
        let mut cuts = self.taken_before(plant);
        cuts.extend(plant.stay.harvests.iter().map(|h| h.day));
        let growing = self.growing(plant);
        growing.widths(plant.stay.transplant, plant.stay.removal, &cuts)
    }

    /// Tubes take turns to be scrubbed, empty, once in so many days, a little sooner or later.
    fn scrubbed(&self, faults: &mut Vec<String>) {
        for clean in &self.plan.cleans {
            let in_tube = |p: &&Plant<'_>| self.holes[p.hole].tube == clean.tube;
            let in_the_way = self
                .plants
                .iter()
                .filter(in_tube)
                .find(|p| p.stay.transplant < clean.day && clean.day < p.stay.removal);
            if let Some(plant) = in_the_way {
                faults.push(format!("scrubbed: {} over {}", plant.name(), clean.day));
            }
            if self.holes.iter().all(|h| h.tube != clean.tube) {
                faults.push(format!("scrubbed: no tube {}", clean.tube));
            }
        }
        let mut tubes: Vec<&str> = self.holes.iter().map(|h| h.tube.as_str()).collect();
        tubes.dedup();
        for tube in tubes {
            self.often_enough(tube, faults);
        }
    }

    fn often_enough(&self, tube: &str, faults: &mut Vec<String>) {
        let (start, plan) = (self.garden.start, self.plan);
        let cleans = plan.cleans.iter().filter(|c| c.tube == tube);
        let mut days_of: Vec<NaiveDate> = cleans.map(|c| c.day).collect();
        let Some(asked) = self.garden.rhythm.deep_clean else {
            if !days_of.is_empty() {
                faults.push(format!("scrubbed: {tube}, which nobody asked for"));
            }
            return;
        };
        let (every, slack) = (days(asked.interval), days(asked.slack));
        let before = self.state.and_then(|s| s.cleaned.get(tube));
        days_of.extend(before);
        let windows = (1..).map(|n| {
            let middle = start + TimeDelta::days(n * every);
            (
                middle - TimeDelta::days(slack),
                middle + TimeDelta::days(slack),
            )
        });
        let mut turns = Vec::new();
        for (first, last) in windows.take_while(|(_, last)| *last <= plan.last) {
            // Anything since half an interval before does for it.
            let middle = first + TimeDelta::days(slack);
            let since = middle - TimeDelta::days(every / 2);
            let Some((first, last)) = self.around_seed_plants(tube, (first, last), every) else {
                continue;
            };
            turns.push(first..=last);
            let done = |day: &NaiveDate| {
                (if self.state.is_some() { since } else { first }) <= *day && *day <= last
            };
            let can_be = first.iter_days().take_while(|d| *d <= last);
            let mut can_be = can_be.filter(|d| self.is_workday(*d));
            let is_late = self.stands_until(tube).is_some_and(|until| first < until);
            if first >= plan.start
                && last <= plan.last
                && can_be.next().is_some()
                && !is_late
                && !days_of.iter().any(done)
            {
                faults.push(format!("scrubbed: {tube} not between {first} and {last}"));
            }
        }
        let in_window = |day: NaiveDate| {
            let from_middle = (day - start).num_days().rem_euclid(every);
            from_middle.min(every - from_middle) <= slack
                && (day - start).num_days() >= every - slack
        };
        let is_turn =
            |day: NaiveDate| in_window(day) || turns.iter().any(|turn| turn.contains(&day));
        let stray = days_of.iter().find(|d| !is_turn(**d));
        if let Some(day) = stray.filter(|_| self.state.is_none()) {
            faults.push(format!("scrubbed: {tube} on {day}, which is not its turn"));
        }
    }

    /// A window in which a tube is scrubbed, as stated where it has a day without a plant left to
    /// flower; else so many days as stated from when no such plant is there, as long as those are
    /// nearer to this window than to the next; `None` where none is.
    fn around_seed_plants(
        &self,
        tube: &str,
        (first, last): (NaiveDate, NaiveDate),
        every: i64,
    ) -> Option<(NaiveDate, NaiveDate)> {
        let seed_plants = self.plants.iter().filter(|p| p.stay.for_seed);
        let here = seed_plants.filter(|p| self.holes[p.hole].tube == tube);
        let here: Vec<_> = here.map(|p| (p.stay.transplant, p.stay.removal)).collect();
        let is_free = |day: &NaiveDate| !here.iter().any(|(from, to)| from < day && day < to);
        if first
            .iter_days()
            .take_while(|d| *d <= last)
            .any(|d| is_free(&d))
        {
            return Some((first, last));
        }
        let next = first + TimeDelta::days(every);
        let is_nearer = |day: &NaiveDate| *day - last < next - *day;
        let out = last.iter_days().find(is_free).filter(is_nearer)?;
        let days = out.iter_days().take_while(is_nearer);
        let until = days.take_while(|d| (*d - out) * 2 <= last - first).last()?;
        Some((out, until))
    }

    /// Crops that stand in a loop at once share bands of EC and pH.
    fn solutions(&self, faults: &mut Vec<String>) {
        self.each_pair(|a, b| {
            let at_once = a.stay.transplant < b.stay.removal && b.stay.transplant < a.stay.removal;
            let one_loop = self.holes[a.hole].r#loop == self.holes[b.hole].r#loop;
            let (x, y) = (&a.crop.solution, &b.crop.solution);
            let share = x.ec.0.get().max(y.ec.0.get()) <= x.ec.1.get().min(y.ec.1.get())
                && x.ph.0.max(y.ph.0) <= x.ph.1.min(y.ph.1);
            if at_once && one_loop && !share && !self.may_not_move(a, b) {
                faults.push(format!("solution: {} and {}", a.name(), b.name()));
            }
        });
    }
}
