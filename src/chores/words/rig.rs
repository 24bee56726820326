//! Tubes: run on water before the first planting, scrubbed between crops.

use chrono::NaiveDate;

use crate::chores::SUMMARY_LENGTH;
use crate::chores::words::{Words, shortened};
use crate::units::{Mass, Units, Volume};

impl Words {
    pub(crate) fn leak_test_summary(self) -> String {
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
        self.0.text_with("leak-test-loop", values)
    }

    pub(crate) fn leak_test_hints(
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

    fn of_tubes(self, key: &str, names: &[&str]) -> String {
        let values = [
            ("n", names.len().into()),
            ("names", self.0.list(names).into()),
        ];
        self.0.text_with(key, values)
    }

    pub(crate) fn deep_clean_summary(self, names: &[&str]) -> String {
        let tubes = self.of_tubes("tubes", names);
        let summary = self.0.text_with("deep-clean", [("tubes", tubes.into())]);
        shortened(&summary, SUMMARY_LENGTH)
    }

    pub(crate) fn deep_clean_line(self, names: &[&str]) -> String {
        self.of_tubes("deep-clean-line", names)
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
