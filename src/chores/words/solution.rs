//! The nutrient solution: filled in, topped up, measured.

use chrono::NaiveDate;

use crate::chores::words::ChoreText;
use crate::garden::crop::SolutionRange;
use crate::plan::water::TopUp;
use crate::units::{Conductivity, LITRES_PER_GALLON, Units, Volume};

impl ChoreText {
    pub(crate) fn solution_title(self, first: bool, loops: &[&str]) -> String {
        let lead = if first {
            "solution-first"
        } else {
            "solution-change"
        };
        self.title(lead, loops)
    }

    pub(crate) fn solution_empty_title(self, loops: &[&str]) -> String {
        self.title("solution-empty", loops)
    }

    /// A loop drained, as nothing stands there for weeks: until a day, if one is known.
    pub(crate) fn solution_empty(
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
            ("litres", drained.in_measurable_units(units).into()),
            (
                "date",
                until
                    .map_or(String::new(), |day| self.0.date(day, today))
                    .into(),
            ),
        ];
        self.0.format(key, values)
    }

    pub(crate) fn solution_line(
        self,
        name: &str,
        drained: Drained,
        holds: Volume,
        band: Option<&SolutionRange>,
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
        let fill = self.0.format(key, values);
        match band {
            Some(band) => format!("{fill}, {}", self.band(band)),
            None => fill,
        }
    }

    /// What to mix so that, with what is left in the tubes, it comes to what is aimed at.
    pub(crate) fn solution_mixes(self, name: &str, left: Volume, ec: f64, units: Units) -> String {
        let values = [
            ("loop", name.into()),
            ("litres", left.in_measurable_units(units).into()),
            ("ec", format!("{ec:.1}").into()),
        ];
        self.0.format("solution-mixes", values)
    }

    pub(crate) fn solution_tubes_too(self, name: &str) -> String {
        self.0.format("solution-tubes-too", [("loop", name.into())])
    }

    /// Where the water goes that fills more than the tank.
    pub(crate) fn solution_in_tubes(self, name: &str, in_tubes: Volume, units: Units) -> String {
        let values = [
            ("loop", name.into()),
            ("litres", in_tubes.in_units(units).into()),
        ];
        self.0.format("solution-in-tubes", values)
    }

    /// The line of a filling with what to aim at: EC [mS/cm] and pH.
    pub(crate) fn solution_setpoints(self, fill: &str, (ec, ph): (f64, f64)) -> String {
        let values = [
            ("fill", fill.into()),
            ("ec", format!("{ec:.1}").into()),
            ("ph", format!("{ph:.1}").into()),
        ];
        self.0.format("solution-aim", values)
    }

    /// The stock that it takes where its strength is known \[ml\].
    pub(crate) fn solution_stock(
        self,
        name: &str,
        stock_ml: f64,
        filled: Volume,
        units: Units,
    ) -> String {
        let (litres, per) = match units {
            Units::Metric => (1.0, "litre"),
            Units::Imperial => (LITRES_PER_GALLON, "gallon"),
        };
        let each = stock_ml / filled.get() * litres;
        let values = [
            ("loop", name.into()),
            ("stock", stock(stock_ml, 0, units).into()),
            ("each", stock(each, 1, units).into()),
            ("per", per.into()),
        ];
        self.0.format("solution-stock", values)
    }

    pub(crate) fn solution_by_volume(self, name: &str) -> String {
        self.0.format("solution-by-volume", [("loop", name.into())])
    }

    /// The caution goes with every filling; how it is done, with the first.
    pub(crate) fn solution_hints(self, first: bool) -> Vec<String> {
        let mut hints = Vec::new();
        if first {
            hints.extend(self.texts(["solution-hint-stir", "solution-hint-carry"]));
        }
        hints.push(self.0.text("solution-hint-acid"));
        hints
    }

    /// Each loop with what it takes.
    pub(crate) fn top_up_title(self, loops: &[(&str, Volume)], units: Units) -> String {
        let said = |(name, litres): &(&str, Volume)| {
            let values = [
                ("loop", (*name).into()),
                ("litres", litres.in_measurable_units(units).into()),
            ];
            self.0.format("top-up-loop", values)
        };
        let loops: Vec<String> = loops.iter().map(said).collect();
        self.title("top-up", &loops)
    }

    /// What goes into a tank: up to the full, or less, as its solution is soon changed.
    pub(crate) fn top_up_line(
        self,
        name: &str,
        top_up: &TopUp,
        full: bool,
        units: Units,
    ) -> String {
        let until = if full {
            "top-up-until-full"
        } else {
            "top-up-until-change"
        };
        let stock_ml = top_up.stock_ml;
        let key = match (top_up.half_strength, stock_ml) {
            (false, _) => "top-up-line-water",
            (true, None) => "top-up-line-half",
            (true, Some(_)) => "top-up-line-half-stock",
        };
        let values = [
            ("loop", name.into()),
            (
                "litres",
                Volume::litres(top_up.litres)
                    .in_measurable_units(units)
                    .into(),
            ),
            ("stock", stock(stock_ml.unwrap_or(0.0), 0, units).into()),
            ("until", self.0.text(until).into()),
        ];
        self.0.format(key, values)
    }

    /// How it is done; `lids` tells of each tank whether it has one.
    pub(crate) fn top_up_hints(self, lids: &[bool]) -> Vec<String> {
        let mut hints = self.texts(["top-up-hint"]).to_vec();
        if lids.contains(&true) {
            hints.push(self.0.text("top-up-hint-lid"));
        }
        if lids.contains(&false) {
            hints.push(self.0.text("top-up-hint-open"));
        }
        hints
    }

    /// The band of a solution, such as `EC 1.2-1.6 mS/cm, pH 6-6.5`.
    pub(crate) fn band(self, solution: &SolutionRange) -> String {
        self.band_as("band", solution)
    }

    fn band_as(self, key: &str, solution: &SolutionRange) -> String {
        let values = [
            ("ec", ec(solution.ec).into()),
            ("ph", range(solution.ph.0, solution.ph.1).into()),
        ];
        self.0.format(key, values)
    }

    /// With one loop its band, otherwise what to look at.
    pub(crate) fn check_title(
        self,
        bands: &[Option<SolutionRange>],
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
        self.0.format(key, [("what", what.into())])
    }

    pub(crate) fn check_loop(
        self,
        name: &str,
        band: Option<&SolutionRange>,
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
        self.0.format(key, values)
    }

    /// What brings the EC back by a tenth: plain water where it is weak enough, and stock \[ml\]
    /// where its strength is known.
    pub(crate) fn check_ec(
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
        let water = water.map_or_else(String::new, |water| water.in_measurable_units(units));
        let values = [
            ("loop", name.into()),
            ("water", water.into()),
            ("stock", stock(stock_ml.unwrap_or(0.0), 0, units).into()),
        ];
        self.0.format(key, values)
    }

    pub(crate) fn check_nursery(self) -> String {
        self.0.text("check-nursery")
    }

    pub(crate) fn check_rig(self) -> String {
        self.0.text("check-rig")
    }

    pub(crate) fn check_absence_ahead(
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
        self.0.format(key, values)
    }

    /// Seedlings that stand in the nursery while nobody is there.
    pub(crate) fn check_seedlings_left(self) -> String {
        self.0.text("check-seedlings-left")
    }

    /// One tank that falls low while nobody is there.
    pub(crate) fn check_low_level(
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
            ("litres", litres.in_measurable_units(units).into()),
        ];
        self.0.format(key, values)
    }

    pub(crate) fn check_absence_shortfalls(self, falls: &[String]) -> String {
        let falls = falls.join("; ");
        self.0
            .format("check-will-not-last", [("falls", falls.into())])
    }

    pub(crate) fn check_hints(self) -> Vec<String> {
        self.texts(["check-hint"])
    }
}

/// What is drained before a loop is filled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Drained {
    Nothing,
    Tank,
    TankAndTubes,
}

/// Millilitres of stock, with so many decimals; in fluid ounces, 128 to the gallon, one more.
fn stock(ml: f64, decimals: usize, units: Units) -> String {
    match units {
        Units::Metric => format!("{ml:.decimals$} ml"),
        Units::Imperial => format!(
            "{:.*} fl oz",
            decimals + 1,
            ml / (LITRES_PER_GALLON * 1000.0 / 128.0)
        ),
    }
}

fn ec((least, most): (Conductivity, Conductivity)) -> String {
    range(least.get(), most.get())
}

/// `1.2-1.6`, or one number where both are the same in writing.
fn range(least: f64, most: f64) -> String {
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
