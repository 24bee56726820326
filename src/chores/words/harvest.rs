//! What is taken, and holes cleared after it.

use crate::chores::words::{ChoreText, tenths};
use crate::units::{GRAMS_PER_OUNCE, GRAMS_PER_POUND, Mass, Units};

impl ChoreText {
    fn harvest_manner(self, manner: HarvestManner) -> String {
        match manner {
            HarvestManner::Whole => self.0.text("manner-whole"),
            HarvestManner::Cut(None) => self.0.text("manner-a-cut"),
            HarvestManner::Cut(Some(n)) => self.0.format("manner-cut", [("n", n.into())]),
            HarvestManner::LastCut => self.0.text("manner-last-cut"),
            HarvestManner::Picking => self.0.text("manner-picking"),
            HarvestManner::LastPicking => self.0.text("manner-last-picking"),
            HarvestManner::Taken => self.0.text("manner-taken"),
        }
    }

    /// An amount of a want, such as `5 salad heads` or `80 g basil`.
    pub(crate) fn want_amount(self, want: &str, unit: &str, number: f64, units: Units) -> String {
        if unit == "heads" {
            return self.heads_amount(want, number);
        }
        let values = [
            ("amount", mass(number, units).into()),
            ("want", want.into()),
        ];
        self.0.format("amount-of", values)
    }

    fn heads_amount(self, want: &str, number: f64) -> String {
        let heads = tenths(number);
        let word = self.0.text("heads-word");
        // A want that is called heads already needs the word once.
        if let Some((before, after)) = split_around(want, &word) {
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
        self.0.format("heads-of", values)
    }

    pub(crate) fn harvest_title(self, amounts: &[String]) -> String {
        self.title("harvest", amounts)
    }

    /// What one crop gives to a want; `amount` as [`want_amount`](Self::want_amount) writes it.
    pub(crate) fn harvest_line(
        self,
        amount: &str,
        unit: &str,
        crop: &str,
        how: HarvestManner,
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
            ("manner", self.harvest_manner(how).into()),
            ("holes", holes.into()),
        ];
        self.0.format(key, values)
    }

    pub(crate) fn harvest_hints(self) -> Vec<String> {
        self.texts(["harvest-hint"])
    }

    pub(crate) fn clear_title(self, holes: usize) -> String {
        let holes = self.hole_count(holes);
        self.0.format("clear", [("holes", holes.into())])
    }

    pub(crate) fn clear_line(self, afterwards: HoleAfterwards, holes: &str) -> String {
        let key = match afterwards {
            HoleAfterwards::TubeScrubbed => "clear-scrubbed",
            HoleAfterwards::PlantedAgain => "clear-planted-again",
            HoleAfterwards::LeftEmpty => "clear-left-empty",
        };
        self.0.format(key, [("holes", holes.into())])
    }

    /// Seed plants of a crop come out.
    pub(crate) fn seed_line(self, crop: &str, n: usize, holes: &str) -> String {
        let values = [
            ("plants", self.plant_count(crop, n).into()),
            ("holes", holes.into()),
        ];
        self.0.format("clear-seed", values)
    }
}

/// Whole grams, tenths of kilograms, ounces and pounds.
fn mass(amount: f64, units: Units) -> String {
    match units {
        Units::Metric if amount >= 1000.0 => format!("{:.1} kg", amount / 1000.0),
        Units::Metric => Mass::grams(amount.round()).in_units(units),
        Units::Imperial if amount < GRAMS_PER_POUND => {
            format!("{:.1} oz", amount / GRAMS_PER_OUNCE)
        }
        Units::Imperial => format!("{:.1} lb", amount / GRAMS_PER_POUND),
    }
}

/// What stands before and after a word at the end or the beginning of a text.
fn split_around<'a>(text: &'a str, word: &str) -> Option<(&'a str, &'a str)> {
    let at_the_end = text.strip_suffix(word).map(|before| (before, ""));
    at_the_end.or_else(|| text.strip_prefix(word).map(|after| ("", after)))
}

/// How a crop is taken on a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum HarvestManner {
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
pub(crate) enum HoleAfterwards {
    /// Its whole tube is scrubbed.
    TubeScrubbed,
    /// Another plant goes in.
    PlantedAgain,
    /// Nothing.
    LeftEmpty,
}
