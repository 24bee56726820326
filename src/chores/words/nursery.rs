//! Seed in the house, sowings, and seedlings set into holes.

use chrono::NaiveDate;

use crate::chores::words::ChoreText;
use crate::garden::crop::Propagation;
use crate::nature::seed::CupSowing;
use crate::units::Years;

impl ChoreText {
    pub(crate) fn seed_order_title(self, crops: &[&str], only_seed: bool) -> String {
        let key = if only_seed {
            "seed-order"
        } else {
            "seed-order-starts"
        };
        self.title(key, crops)
    }

    /// How much of one crop is sown or started in so many sowings up to `until`.
    pub(crate) fn seed_needed(
        self,
        crop: &str,
        (starts, n): (Propagation, u64),
        sowings: usize,
        [until, today]: [NaiveDate; 2],
        keeps: Option<Years>,
    ) -> String {
        let key = match (starts, keeps) {
            (Propagation::Seed, Some(_)) => "seed-needed-keeps",
            (Propagation::Seed, None) => "seed-needed",
            (Propagation::Cutting | Propagation::Plug, _) => "starts-needed",
        };
        let years = keeps.map_or(0.0, |k| (k.get() * 10.0).round() / 10.0);
        let values = [
            ("crop", crop.into()),
            ("kind", starts.key_word().into()),
            ("seeds", starts.format_count(n, self.0).into()),
            ("sowings", sowings.into()),
            ("until", self.0.date(until, today).into()),
            ("years", years.into()),
        ];
        self.0.format(key, values)
    }

    pub(crate) fn seed_hints(self) -> Vec<String> {
        self.texts(["seed-hint"])
    }

    fn cups(self, n: usize) -> String {
        self.0.format("count-cups", [("n", n.into())])
    }

    pub(crate) fn sow_title(self, crops: &[String], starts: &[Propagation]) -> String {
        let seeds = starts.iter().filter(|s| **s == Propagation::Seed).count();
        let key = match seeds {
            0 => "sow-starts",
            n if n == starts.len() => "sow",
            _ => "sow-and-starts",
        };
        self.title(key, crops)
    }

    /// What is sown of one crop: seeds, cuttings or plugs, or cups if their number is unknown.
    pub(crate) fn sow_crop(
        self,
        crop: &str,
        starts: Propagation,
        seeds: Option<u32>,
        cups: usize,
    ) -> String {
        let what = match seeds {
            Some(n) => starts.format_count(n.into(), self.0),
            None => self.cups(cups),
        };
        format!("{crop} ({what})")
    }

    pub(crate) fn sow_line(self, crop: &str, batch: &SowBatch, today: NaiveDate) -> String {
        let date = self.0.date(batch.transplant, today);
        let mut values = vec![("crop", crop.into()), ("date", date.into())];
        let (key, cups) = match &batch.sowing {
            None => ("sow-line-cups", self.cups(batch.cups)),
            Some(sowing) if sowing.seeds_per_cell == 1 => {
                let seeds = batch.starts.format_count(sowing.cells.into(), self.0);
                values.push(("seeds", seeds.into()));
                ("sow-line-seeds", batch.cups.to_string())
            }
            Some(sowing) => {
                let each = batch
                    .starts
                    .format_count(sowing.seeds_per_cell.into(), self.0);
                values.push(("cells", sowing.cells.into()));
                values.push(("each", each.into()));
                values.push(("plants", batch.plants.into()));
                ("sow-line-cells", self.cups(batch.cups))
            }
        };
        values.push(("cups", cups.into()));
        let line = self.0.format(key, values);
        let Some(chance) = batch.short else {
            return line;
        };
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let of_twenty = (chance * 20.0).floor().max(1.0) as u32;
        let values = [("line", line.into()), ("n", of_twenty.into())];
        self.0.format("sow-line-short", values)
    }

    pub(crate) fn sow_hint(self, starts: Propagation) -> String {
        self.0.text(match starts {
            Propagation::Seed => "sow-hint",
            Propagation::Cutting => "sow-hint-cutting",
            Propagation::Plug => "sow-hint-plug",
        })
    }

    pub(crate) fn sow_hint_thin(self) -> String {
        self.0.text("sow-hint-thin")
    }

    /// Where the tray is too warm for some crops' seed.
    pub(crate) fn sow_too_warm(self, crops: &[&str], below: &str) -> String {
        let values = [
            ("crops", self.0.list(crops).into()),
            ("below", below.into()),
        ];
        self.0.format("sow-too-warm", values)
    }

    /// So many plants of a crop, such as `6 butterhead lettuce`.
    pub(crate) fn plant_count(self, crop: &str, n: usize) -> String {
        let values = [("n", n.into()), ("crop", crop.into())];
        self.0.format("number-of-crop", values)
    }

    pub(crate) fn transplant_title(self, crops: &[String]) -> String {
        self.title("transplant", crops)
    }

    pub(crate) fn transplant_line(
        self,
        crop: &str,
        (n, starts): (usize, Propagation),
        origin: SeedlingOrigin,
        holes: &str,
        today: NaiveDate,
    ) -> String {
        let (key, date) = match origin {
            SeedlingOrigin::Sown(day) => ("transplant-line-sown", self.0.date(day, today)),
            SeedlingOrigin::ForSeed(day) => ("transplant-line-for-seed", self.0.date(day, today)),
            SeedlingOrigin::OnHand(Some(day)) => {
                ("transplant-line-on-hand-sown", self.0.date(day, today))
            }
            SeedlingOrigin::OnHand(None) => ("transplant-line-on-hand", String::new()),
        };
        let values = [
            ("plants", self.plant_count(crop, n).into()),
            ("kind", starts.key_word().into()),
            ("date", date.into()),
            ("holes", holes.into()),
        ];
        self.0.format(key, values)
    }

    pub(crate) fn transplant_hints(self) -> Vec<String> {
        self.texts(["transplant-hint", "transplant-hint-spares"])
    }
}

/// Where the seedlings come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum SeedlingOrigin {
    /// Sown on a day.
    Sown(NaiveDate),
    /// Sown on a day, to be left to flower for its seed.
    ForSeed(NaiveDate),
    /// They stood in the nursery at the start, sown on a day, where it is known.
    OnHand(Option<NaiveDate>),
}

/// Cups of one crop, sown for one day of transplant.
pub(crate) struct SowBatch {
    pub(crate) cups: usize,
    /// Plants in a cup.
    pub(crate) plants: u32,
    pub(crate) starts: Propagation,
    pub(crate) sowing: Option<CupSowing>,
    /// The chance of enough, where there is no room for all the spares.
    pub(crate) short: Option<f64>,
    pub(crate) transplant: NaiveDate,
}
