//! From names, numbers and dates to the sentences of a chore, in the grower's language.
//!
//! Which text is told is decided here; the texts themselves are in `languages/`.

use chrono::NaiveDate;

use super::{Kind, SUMMARY_LENGTH};
use crate::garden::crop::{Solution, Start};
use crate::language::Language;
use crate::nature::seed::Sowing;
use crate::quantity::{Conductivity, Mass, Units, Volume, Years};

/// The longest line of details on a screen [characters]: a few lines of a phone.
pub(super) const LINE_LENGTH: usize = 400;

pub(super) fn kind(kind: Kind, language: Language) -> String {
    language.text(&format!("kind-{}", kind.key()))
}

/// A text cut to so many characters, where it is longer.
pub(super) fn shortened(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    let kept: String = text.chars().take(most - 1).collect();
    // A joiner at the cut would glue the ellipsis to an emoji.
    format!("{}…", kept.trim_end_matches(['\u{200d}', ' ', ',']))
}

/// A number as one writes it: tenths only where there are any.
fn tenths(number: f64) -> String {
    let text = format!("{number:.1}");
    text.strip_suffix(".0").unwrap_or(&text).to_owned()
}

/// What is drained before a loop is filled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Drained {
    Nothing,
    Tank,
    TankAndTubes,
}

/// The words of one language.
#[derive(Debug, Clone, Copy)]
pub(super) struct Words(pub(super) Language);

impl Words {
    fn texts<const N: usize>(self, keys: [&str; N]) -> Vec<String> {
        keys.iter().map(|key| self.0.text(key)).collect()
    }

    /// A lead and as many of the items as the lock screen takes.
    fn headline(self, lead: &str, items: &[impl AsRef<str>]) -> String {
        let lead = self.0.text(lead);
        let told = |shown: usize| {
            let listed: Vec<&str> = items[..shown].iter().map(AsRef::as_ref).collect();
            let most = format!("{lead} {}", listed.join(", "));
            match items.len() - shown {
                0 => most,
                rest => {
                    let values = [("most", most.into()), ("n", rest.into())];
                    self.0.text_with("list-more", values)
                }
            }
        };
        (1..=items.len())
            .rev()
            .map(told)
            .find(|text| text.chars().count() <= SUMMARY_LENGTH)
            .unwrap_or_else(|| shortened(&told(items.len().min(1)), SUMMARY_LENGTH))
    }

    pub(super) fn more_on_the_sheet(self, left: usize) -> String {
        self.0.text_with("more-on-the-sheet", [("n", left.into())])
    }

    // ---- Holes and tubes ----

    fn holes(self, n: usize) -> String {
        self.0.text_with("count-holes", [("n", n.into())])
    }

    pub(super) fn tube_sum(self, tube: &str, holes: usize) -> String {
        format!("{tube} ({})", self.holes(holes))
    }

    /// Sums of tubes, and how many are left out.
    pub(super) fn tubes_summed(self, tubes: &str, left: usize) -> String {
        let values = [("tubes", tubes.into()), ("n", left.into())];
        self.0.text_with("tubes-summed", values)
    }

    // ---- Seed order ----

    /// So many seeds, cuttings or plugs.
    pub(super) fn count_starts(self, starts: Start, n: u64) -> String {
        let values = [("kind", starts.word().into()), ("n", n.into())];
        self.0.text_with("count-starts", values)
    }

    pub(super) fn seed_order_summary(self, crops: &[&str], only_seed: bool) -> String {
        let key = if only_seed {
            "seed-order"
        } else {
            "seed-order-starts"
        };
        self.headline(key, crops)
    }

    /// How much of one crop is sown or started in so many sowings up to `until`.
    pub(super) fn seed_needed(
        self,
        crop: &str,
        (starts, n): (Start, u64),
        sowings: usize,
        [until, today]: [NaiveDate; 2],
        keeps: Option<Years>,
    ) -> String {
        let key = match (starts, keeps) {
            (Start::Seed, Some(_)) => "seed-needed-keeps",
            (Start::Seed, None) => "seed-needed",
            (Start::Cutting | Start::Plug, _) => "starts-needed",
        };
        let years = keeps.map_or(0.0, |k| (k.get() * 10.0).round() / 10.0);
        let values = [
            ("crop", crop.into()),
            ("kind", starts.word().into()),
            ("seeds", self.count_starts(starts, n).into()),
            ("sowings", sowings.into()),
            ("until", self.0.date(until, today).into()),
            ("years", years.into()),
        ];
        self.0.text_with(key, values)
    }

    pub(super) fn seed_hints(self) -> Vec<String> {
        self.texts(["seed-hint"])
    }

    // ---- Leak test ----

    pub(super) fn leak_test_summary(self) -> String {
        self.0.text("leak-test")
    }

    pub(super) fn leak_test_loop(self, name: &str, holds: Volume, units: Units) -> String {
        // A litre of water weighs a kilogram, near enough.
        let weight = Mass::grams((holds.get() * 1000.0).round()).in_units(units);
        let values = [
            ("loop", name.into()),
            ("holds", holds.in_units(units).into()),
            ("weight", weight.into()),
        ];
        self.0.text_with("leak-test-loop", values)
    }

    pub(super) fn leak_test_hints(
        self,
        first_planting: NaiveDate,
        today: NaiveDate,
    ) -> Vec<String> {
        let date = self.0.date(first_planting, today);
        let run = self
            .0
            .text_with("leak-test-hint-run", [("date", date.into())]);
        let others = self.texts([
            "leak-test-hint-look",
            "leak-test-hint-mains",
            "leak-test-hint-weight",
            "leak-test-hint-cover",
        ]);
        [vec![run], others].concat()
    }

    // ---- Harvest ----

    fn manner(self, manner: Manner) -> String {
        match manner {
            Manner::Whole => self.0.text("manner-whole"),
            Manner::Cut(None) => self.0.text("manner-a-cut"),
            Manner::Cut(Some(n)) => self.0.text_with("manner-cut", [("n", n.into())]),
            Manner::LastCut => self.0.text("manner-last-cut"),
            Manner::Picking => self.0.text("manner-picking"),
            Manner::LastPicking => self.0.text("manner-last-picking"),
            Manner::Taken => self.0.text("manner-taken"),
        }
    }

    /// An amount of a want, such as `5 salad heads` or `80 g basil`.
    pub(super) fn amount_of(self, want: &str, unit: &str, number: f64, units: Units) -> String {
        if unit == "heads" {
            return self.heads_of(want, number);
        }
        let values = [
            ("amount", mass(number, units).into()),
            ("want", want.into()),
        ];
        self.0.text_with("amount-of", values)
    }

    fn heads_of(self, want: &str, number: f64) -> String {
        let heads = tenths(number);
        let word = self.0.text("heads-word");
        // A want that is called heads already needs the word once.
        if let Some((before, after)) = around(want, &word) {
            let word = match heads.as_str() {
                "1" => self.0.text("heads-word-one"),
                _ => word,
            };
            return format!("{heads} {before}{word}{after}");
        }
        let values = [
            ("n", heads.parse().unwrap_or(number).into()),
            ("heads", heads.clone().into()),
            ("want", want.into()),
        ];
        self.0.text_with("heads-of", values)
    }

    pub(super) fn harvest_summary(self, amounts: &[String]) -> String {
        self.headline("harvest", amounts)
    }

    /// What one crop gives to a want; `amount` as [`amount_of`](Self::amount_of) writes it.
    pub(super) fn harvest_line(
        self,
        amount: &str,
        unit: &str,
        crop: &str,
        how: Manner,
        holes: &str,
    ) -> String {
        // Heads are counted, grams are expected.
        let key = match unit {
            "heads" => "harvest-line",
            _ => "harvest-line-about",
        };
        let values = [
            ("amount", amount.into()),
            ("crop", crop.into()),
            ("manner", self.manner(how).into()),
            ("holes", holes.into()),
        ];
        self.0.text_with(key, values)
    }

    pub(super) fn harvest_hints(self) -> Vec<String> {
        self.texts(["harvest-hint"])
    }

    // ---- Clear ----

    pub(super) fn clear_summary(self, holes: usize) -> String {
        let holes = self.holes(holes);
        self.0.text_with("clear", [("holes", holes.into())])
    }

    pub(super) fn clear_line(self, afterwards: Afterwards, holes: &str) -> String {
        let key = match afterwards {
            Afterwards::TubeScrubbed => "clear-scrubbed",
            Afterwards::PlantedAgain => "clear-planted-again",
            Afterwards::LeftEmpty => "clear-left-empty",
        };
        self.0.text_with(key, [("holes", holes.into())])
    }

    /// Seed plants of a crop come out.
    pub(super) fn seed_line(self, crop: &str, n: usize, holes: &str) -> String {
        let values = [
            ("plants", self.number_of(crop, n).into()),
            ("holes", holes.into()),
        ];
        self.0.text_with("clear-seed", values)
    }

    // ---- Deep clean ----

    fn of_tubes(self, key: &str, names: &[&str]) -> String {
        let values = [
            ("n", names.len().into()),
            ("names", self.0.list(names).into()),
        ];
        self.0.text_with(key, values)
    }

    pub(super) fn deep_clean_summary(self, names: &[&str]) -> String {
        let tubes = self.of_tubes("tubes", names);
        let summary = self.0.text_with("deep-clean", [("tubes", tubes.into())]);
        shortened(&summary, SUMMARY_LENGTH)
    }

    pub(super) fn deep_clean_line(self, names: &[&str]) -> String {
        self.of_tubes("deep-clean-line", names)
    }

    pub(super) fn deep_clean_hints(self, with_solution: bool) -> Vec<String> {
        let mut hints = self.texts([
            "deep-clean-hint-shut",
            "deep-clean-hint-brush",
            "deep-clean-hint-disinfect",
            "deep-clean-hint-rinse",
        ]);
        if with_solution {
            hints.push(self.0.text("deep-clean-hint-solution"));
        }
        hints.push(self.0.text("deep-clean-hint-gas"));
        hints
    }

    // ---- Solution ----

    pub(super) fn solution_summary(self, first: bool, loops: &[&str]) -> String {
        let lead = if first {
            "solution-first"
        } else {
            "solution-change"
        };
        self.headline(lead, loops)
    }

    pub(super) fn solution_empty_summary(self, loops: &[&str]) -> String {
        self.headline("solution-empty", loops)
    }

    /// A loop drained, as nothing stands there for weeks: until a day, if one is known.
    pub(super) fn solution_empty(
        self,
        name: &str,
        drained: Volume,
        until: Option<NaiveDate>,
        today: NaiveDate,
        units: Units,
    ) -> String {
        let key = match until {
            Some(_) => "solution-empty-until",
            None => "solution-empty-line",
        };
        let values = [
            ("loop", name.into()),
            ("litres", poured(drained, units).into()),
            (
                "date",
                until
                    .map_or(String::new(), |day| self.0.date(day, today))
                    .into(),
            ),
        ];
        self.0.text_with(key, values)
    }

    pub(super) fn solution_line(
        self,
        name: &str,
        drained: Drained,
        holds: Volume,
        band: Option<&Solution>,
        units: Units,
    ) -> String {
        let key = match drained {
            Drained::Nothing => "solution-line-first",
            Drained::Tank => "solution-line-change",
            Drained::TankAndTubes => "solution-line-tubes",
        };
        let values = [
            ("loop", name.into()),
            ("holds", holds.in_units(units).into()),
        ];
        let fill = self.0.text_with(key, values);
        match band {
            Some(band) => format!("{fill}, {}", self.band(band)),
            None => fill,
        }
    }

    /// What to mix so that, with what is left in the tubes, it comes to what is aimed at.
    pub(super) fn solution_mixes(self, name: &str, left: Volume, ec: f64, units: Units) -> String {
        let values = [
            ("loop", name.into()),
            ("litres", poured(left, units).into()),
            ("ec", format!("{ec:.1}").into()),
        ];
        self.0.text_with("solution-mixes", values)
    }

    pub(super) fn solution_tubes_too(self, name: &str) -> String {
        self.0
            .text_with("solution-tubes-too", [("loop", name.into())])
    }

    /// Where the water goes that fills more than the tank.
    pub(super) fn solution_in_tubes(self, name: &str, in_tubes: Volume, units: Units) -> String {
        let values = [
            ("loop", name.into()),
            ("litres", in_tubes.in_units(units).into()),
        ];
        self.0.text_with("solution-in-tubes", values)
    }

    /// The line of a filling with what to aim at: EC [mS/cm] and pH.
    pub(super) fn solution_aim(self, fill: &str, (ec, ph): (f64, f64)) -> String {
        let values = [
            ("fill", fill.into()),
            ("ec", format!("{ec:.1}").into()),
            ("ph", format!("{ph:.1}").into()),
        ];
        self.0.text_with("solution-aim", values)
    }

    /// The stock that it takes where its strength is known \[ml\].
    pub(super) fn solution_stock(self, name: &str, stock_ml: f64, filled: Volume) -> String {
        let values = [
            ("loop", name.into()),
            ("ml", format!("{stock_ml:.0}").into()),
            ("each", format!("{:.1}", stock_ml / filled.get()).into()),
        ];
        self.0.text_with("solution-stock", values)
    }

    pub(super) fn solution_by_volume(self, name: &str) -> String {
        self.0
            .text_with("solution-by-volume", [("loop", name.into())])
    }

    /// The caution goes with every filling; how it is done, with the first.
    pub(super) fn solution_hints(self, first: bool) -> Vec<String> {
        let mut hints = Vec::new();
        if first {
            hints.extend(self.texts(["solution-hint-stir", "solution-hint-carry"]));
        }
        hints.push(self.0.text("solution-hint-acid"));
        hints
    }

    // ---- Top up ----

    /// Each loop with what it takes.
    pub(super) fn top_up_summary(self, loops: &[(&str, Volume)], units: Units) -> String {
        let said = |(name, litres): &(&str, Volume)| {
            let values = [
                ("loop", (*name).into()),
                ("litres", poured(*litres, units).into()),
            ];
            self.0.text_with("top-up-loop", values)
        };
        let loops: Vec<String> = loops.iter().map(said).collect();
        self.headline("top-up", &loops)
    }

    pub(super) fn top_up_line(
        self,
        name: &str,
        litres: Volume,
        half_strength: bool,
        stock_ml: Option<f64>,
        units: Units,
    ) -> String {
        let key = match (half_strength, stock_ml) {
            (false, _) => "top-up-line-water",
            (true, None) => "top-up-line-half",
            (true, Some(_)) => "top-up-line-half-stock",
        };
        let values = [
            ("loop", name.into()),
            ("litres", poured(litres, units).into()),
            ("ml", format!("{:.0}", stock_ml.unwrap_or(0.0)).into()),
        ];
        self.0.text_with(key, values)
    }

    /// How it is done; `lids` tells of each tank whether it has one.
    pub(super) fn top_up_hints(self, lids: &[bool]) -> Vec<String> {
        let mut hints = self.texts(["top-up-hint"]).to_vec();
        if lids.contains(&true) {
            hints.push(self.0.text("top-up-hint-lid"));
        }
        if lids.contains(&false) {
            hints.push(self.0.text("top-up-hint-open"));
        }
        hints
    }

    // ---- Transplant ----

    /// So many plants of a crop, such as `6 butterhead lettuce`.
    pub(super) fn number_of(self, crop: &str, n: usize) -> String {
        let values = [("n", n.into()), ("crop", crop.into())];
        self.0.text_with("number-of-crop", values)
    }

    pub(super) fn transplant_summary(self, crops: &[String]) -> String {
        self.headline("transplant", crops)
    }

    pub(super) fn transplant_line(
        self,
        crop: &str,
        (n, starts): (usize, Start),
        origin: Origin,
        holes: &str,
        today: NaiveDate,
    ) -> String {
        let (key, date) = match origin {
            Origin::Sown(day) => ("transplant-line-sown", self.0.date(day, today)),
            Origin::ForSeed(day) => ("transplant-line-for-seed", self.0.date(day, today)),
            Origin::OnHand => ("transplant-line-on-hand", String::new()),
        };
        let values = [
            ("plants", self.number_of(crop, n).into()),
            ("kind", starts.word().into()),
            ("date", date.into()),
            ("holes", holes.into()),
        ];
        self.0.text_with(key, values)
    }

    pub(super) fn transplant_hints(self) -> Vec<String> {
        self.texts(["transplant-hint"])
    }

    // ---- Sow ----

    fn cups(self, n: usize) -> String {
        self.0.text_with("count-cups", [("n", n.into())])
    }

    pub(super) fn sow_summary(self, crops: &[String], starts: &[Start]) -> String {
        let seeds = starts.iter().filter(|s| **s == Start::Seed).count();
        let key = match seeds {
            0 => "sow-starts",
            n if n == starts.len() => "sow",
            _ => "sow-and-starts",
        };
        self.headline(key, crops)
    }

    /// What is sown of one crop: seeds, cuttings or plugs, or cups if their number is unknown.
    pub(super) fn sow_crop(
        self,
        crop: &str,
        starts: Start,
        seeds: Option<u32>,
        cups: usize,
    ) -> String {
        let what = match seeds {
            Some(n) => self.count_starts(starts, n.into()),
            None => self.cups(cups),
        };
        format!("{crop} ({what})")
    }

    pub(super) fn sow_line(self, crop: &str, batch: &Batch, today: NaiveDate) -> String {
        let date = self.0.date(batch.transplant, today);
        let mut values = vec![("crop", crop.into()), ("date", date.into())];
        let (key, cups) = match &batch.sowing {
            None => ("sow-line-cups", self.cups(batch.cups)),
            Some(sowing) if sowing.seeds_per_cell == 1 => {
                let seeds = self.count_starts(batch.starts, sowing.cells.into());
                values.push(("seeds", seeds.into()));
                ("sow-line-seeds", batch.cups.to_string())
            }
            Some(sowing) => {
                let each = self.count_starts(batch.starts, sowing.seeds_per_cell.into());
                values.push(("cells", sowing.cells.into()));
                values.push(("each", each.into()));
                values.push(("plants", batch.plants.into()));
                ("sow-line-cells", self.cups(batch.cups))
            }
        };
        values.push(("cups", cups.into()));
        let line = self.0.text_with(key, values);
        let Some(chance) = batch.short else {
            return line;
        };
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let of_twenty = (chance * 20.0).floor().max(1.0) as u32;
        let values = [("line", line.into()), ("n", of_twenty.into())];
        self.0.text_with("sow-line-short", values)
    }

    pub(super) fn sow_hint(self, starts: Start) -> String {
        self.0.text(match starts {
            Start::Seed => "sow-hint",
            Start::Cutting => "sow-hint-cutting",
            Start::Plug => "sow-hint-plug",
        })
    }

    /// Where the tray is too warm for some crops' seed.
    pub(super) fn sow_too_warm(self, crops: &[&str], below: &str) -> String {
        let values = [
            ("crops", self.0.list(crops).into()),
            ("below", below.into()),
        ];
        self.0.text_with("sow-too-warm", values)
    }

    // ---- Check ----

    /// The band of a solution, such as `EC 1.2-1.6 mS/cm, pH 6-6.5`.
    pub(super) fn band(self, solution: &Solution) -> String {
        self.band_as("band", solution)
    }

    fn band_as(self, key: &str, solution: &Solution) -> String {
        let values = [
            ("ec", ec(solution.ec).into()),
            ("ph", from_to(solution.ph.0, solution.ph.1).into()),
        ];
        self.0.text_with(key, values)
    }

    /// With one loop its band, otherwise what to look at.
    pub(super) fn check_summary(
        self,
        bands: &[Option<Solution>],
        nursery_only: bool,
        leaving: bool,
    ) -> String {
        let what = match bands {
            _ if nursery_only => self.0.text("check-what-nursery"),
            [Some(one)] => self.band_as("band-short", one),
            _ => self.0.text("check-what-all"),
        };
        let key = if leaving && !nursery_only {
            "check-leaving"
        } else {
            "check"
        };
        self.0.text_with(key, [("what", what.into())])
    }

    pub(super) fn check_loop(
        self,
        name: &str,
        band: Option<&Solution>,
        least: Volume,
        units: Units,
    ) -> String {
        let key = match band {
            Some(_) => "check-loop",
            None => "check-loop-no-band",
        };
        let values = [
            ("loop", name.into()),
            ("least", least.in_units(units).into()),
            ("band", band.map_or(String::new(), |b| self.band(b)).into()),
        ];
        self.0.text_with(key, values)
    }

    /// What brings the EC back by a tenth: plain water where it is weak enough, and stock \[ml\]
    /// where its strength is known.
    pub(super) fn check_ec(
        self,
        name: &str,
        water: Option<Volume>,
        stock_ml: Option<f64>,
        units: Units,
    ) -> String {
        let key = match (water, stock_ml) {
            (Some(_), Some(_)) => "check-ec",
            (Some(_), None) => "check-ec-unknown-stock",
            (None, Some(_)) => "check-ec-strong-water",
            (None, None) => "check-ec-strong-water-unknown-stock",
        };
        let water = water.map_or_else(String::new, |water| poured(water, units));
        let values = [
            ("loop", name.into()),
            ("water", water.into()),
            ("ml", format!("{:.0}", stock_ml.unwrap_or(0.0)).into()),
        ];
        self.0.text_with(key, values)
    }

    pub(super) fn check_nursery(self) -> String {
        self.0.text("check-nursery")
    }

    pub(super) fn check_rig(self) -> String {
        self.0.text("check-rig")
    }

    pub(super) fn check_leaving(
        self,
        from: NaiveDate,
        until: NaiveDate,
        nursery_only: bool,
        today: NaiveDate,
    ) -> String {
        let key = if nursery_only {
            "check-away-nursery"
        } else {
            "check-away"
        };
        let values = [
            ("from", self.0.date(from, today).into()),
            ("until", self.0.date(until, today).into()),
        ];
        self.0.text_with(key, values)
    }

    /// One tank that falls low while nobody is there.
    pub(super) fn check_falls_low(
        self,
        name: &str,
        from: NaiveDate,
        lowest: Volume,
        lacking: Volume,
        units: Units,
    ) -> String {
        let (key, litres) = if lacking.get() > 0.0 {
            ("check-falls-dry", lacking)
        } else {
            ("check-falls-low", lowest)
        };
        let values = [
            ("loop", name.into()),
            ("date", self.0.day_and_month(from).into()),
            ("litres", poured(litres, units).into()),
        ];
        self.0.text_with(key, values)
    }

    pub(super) fn check_will_not_last(self, falls: &[String]) -> String {
        let falls = falls.join("; ");
        self.0
            .text_with("check-will-not-last", [("falls", falls.into())])
    }

    pub(super) fn check_hints(self) -> Vec<String> {
        self.texts(["check-hint"])
    }

    // ---- Season turn ----

    pub(super) fn swap_summary(self, turns: &[TakeOver]) -> String {
        let turn = |t: &TakeOver| {
            let values = [("to", t.to.into()), ("from", t.from.into())];
            self.0.text_with("swap-turn", values)
        };
        let turns: Vec<String> = turns.iter().map(turn).collect();
        self.headline("swap", &turns)
    }

    pub(super) fn swap_line(self, turn: &TakeOver, today: NaiveDate) -> String {
        let key = match turn.last.cmp(&today) {
            std::cmp::Ordering::Equal => "swap-line-today",
            std::cmp::Ordering::Less => "swap-line-past",
            std::cmp::Ordering::Greater => "swap-line-later",
        };
        let values = [
            ("want", turn.want.into()),
            ("to", turn.to.into()),
            ("from", turn.from.into()),
            ("date", self.0.date(turn.last, today).into()),
        ];
        self.0.text_with(key, values)
    }
}

/// `deck-1: 2, 5`; a tube without numbers stands for itself.
pub(super) fn tube_holes(tube: &str, numbers: &str) -> String {
    if numbers.is_empty() {
        tube.to_owned()
    } else {
        format!("{tube}: {numbers}")
    }
}

/// Whole grams, tenths of kilograms, ounces and pounds.
fn mass(amount: f64, units: Units) -> String {
    match units {
        Units::Metric if amount >= 1000.0 => format!("{:.1} kg", amount / 1000.0),
        Units::Metric => Mass::grams(amount.round()).in_units(units),
        Units::Imperial if amount < 453.592_37 => format!("{:.1} oz", amount / 28.349_523_125),
        Units::Imperial => format!("{:.1} lb", amount / 453.592_37),
    }
}

/// Litres as one measures them out: whole ones, tenths below ten.
fn poured(litres: Volume, units: Units) -> String {
    let l = litres.get();
    let rounded = if units == Units::Metric && l >= 10.0 {
        l.round()
    } else {
        (l * 10.0).round() / 10.0
    };
    Volume::litres(rounded).in_units(units)
}

/// What stands before and after a word at the end or the beginning of a text.
fn around<'a>(text: &'a str, word: &str) -> Option<(&'a str, &'a str)> {
    let at_the_end = text.strip_suffix(word).map(|before| (before, ""));
    at_the_end.or_else(|| text.strip_prefix(word).map(|after| ("", after)))
}

fn ec((least, most): (Conductivity, Conductivity)) -> String {
    from_to(least.get(), most.get())
}

/// `1.2-1.6`, or one number where both are the same in writing.
fn from_to(least: f64, most: f64) -> String {
    let [least, most] = [least, most].map(|x| {
        let text = format!("{x:.2}");
        text.strip_suffix('0').unwrap_or(&text).to_owned()
    });
    if least == most {
        least
    } else {
        format!("{least}-{most}")
    }
}

/// How a crop is taken on a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Manner {
    /// The plant, once.
    Whole,
    /// A cut; which one, where the plan knows.
    Cut(Option<usize>),
    /// The last cut, after which the plant comes out.
    LastCut,
    /// A picking.
    Picking,
    /// The last picking, after which the plant comes out.
    LastPicking,
    /// The card does not say.
    Taken,
}

/// What becomes of a cleared hole on the same day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Afterwards {
    /// Its whole tube is scrubbed.
    TubeScrubbed,
    /// Another plant goes in.
    PlantedAgain,
    /// Nothing.
    LeftEmpty,
}

/// Where the seedlings come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Origin {
    /// Sown on a day.
    Sown(NaiveDate),
    /// Sown on a day, to be left to flower for its seed.
    ForSeed(NaiveDate),
    /// They stood in the nursery at the start.
    OnHand,
}

/// Cups of one crop, sown for one day of transplant.
pub(super) struct Batch {
    pub(super) cups: usize,
    /// Plants in a cup.
    pub(super) plants: u32,
    pub(super) starts: Start,
    pub(super) sowing: Option<Sowing>,
    /// The chance of enough, where there is no room for all the spares.
    pub(super) short: Option<f64>,
    pub(super) transplant: NaiveDate,
}

/// One crop of a want takes over from another.
pub(super) struct TakeOver<'a> {
    pub(super) want: &'a str,
    pub(super) from: &'a str,
    pub(super) last: NaiveDate,
    pub(super) to: &'a str,
}
