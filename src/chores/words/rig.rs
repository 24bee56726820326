//! Tubes: run on water before the first planting, scrubbed between crops.

use chrono::NaiveDate;

use crate::chores::MAX_TITLE_CHARACTERS;
use crate::chores::words::{ChoreText, truncate};
use crate::units::{Mass, Units, Volume};

impl ChoreText {
    pub(crate) fn leak_test_title(self) -> String {
        self.0.text("leak-test")
    }

    pub(crate) fn leak_test_loop(self, name: &str, holds: Volume, units: Units) -> String {
        // A litre of water weighs a kilogram, near enough.
        let weight = Mass::grams((holds.get() * 1000.0).round()).in_units(units);
        let values = [
            ("loop", name.into()),
            ("holds", holds.in_units(units).into()),
            ("weight", weight.into()),
        ];
        self.0.format("leak-test-loop", values)
    }

    pub(crate) fn leak_test_hints(
        self,
        first_planting: NaiveDate,
        today: NaiveDate,
    ) -> Vec<String> {
        let date = self.0.date(first_planting, today);
        let run = self.0.format("leak-test-hint-run", [("date", date.into())]);
        let others = self.texts([
            "leak-test-hint-look",
            "leak-test-hint-mains",
            "leak-test-hint-weight",
            "leak-test-hint-cover",
        ]);
        [vec![run], others].concat()
    }

    fn tubes_named(self, key: &str, names: &[&str]) -> String {
        let values = [
            ("n", names.len().into()),
            ("names", self.0.list(names).into()),
        ];
        self.0.format(key, values)
    }

    pub(crate) fn deep_clean_title(self, names: &[&str]) -> String {
        let tubes = self.tubes_named("tubes", names);
        let summary = self.0.format("deep-clean", [("tubes", tubes.into())]);
        truncate(&summary, MAX_TITLE_CHARACTERS)
    }

    pub(crate) fn deep_clean_line(self, names: &[&str]) -> String {
        self.tubes_named("deep-clean-line", names)
    }

    pub(crate) fn deep_clean_hints(self, with_solution: bool) -> Vec<String> {
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
}
