//! The risk of a plan, as text.

use crate::garden::Garden;
use crate::plan::risk::{Risk, WantRisk};
use crate::terminal::MAX_COLUMNS;
use crate::terminal::table::{Align, align_columns, wrap};
use crate::terminal::words::{count, crop_name, percent, short_date, strong};

/// Weeks told of each want: the least certain ones of those that the plan meets. What it leaves
/// empty or short itself is told in the summary, and no matter of chance.
const MAX_WEEKS_SHOWN: usize = 5;

/// A spare that buys less than this many weeks' worth is not worth telling.
const MIN_WEEKS_GAINED: f64 = 0.05;

/// What is told below the summary.
#[must_use]
pub fn render_risk(risk: &Risk, garden: &Garden) -> String {
    let heading = format!(
        "\n{}\n",
        strong(&format!(
            "What may go wrong, from {} drawn by chance",
            count(risk.seasons as usize, "season", "seasons")
        ))
    );
    [
        heading,
        wants(risk),
        weeks(risk),
        spare_sowings(risk, garden),
        rules(),
    ]
    .concat()
}

fn wants(risk: &Risk) -> String {
    let head = ["want", "met on average", "met in 9 of 10 seasons"];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    rows.extend(risk.wants.iter().map(|w| {
        let nine = format!("{} or more", percent(w.met_in_nine_of_ten));
        vec![w.want.clone(), percent(w.met), nine]
    }));
    align_columns(&[Align::Left, Align::Right, Align::Right], &rows)
}

fn weeks(risk: &Risk) -> String {
    risk.wants.iter().map(least_certain).collect()
}

fn least_certain(want: &WantRisk) -> String {
    let mut weeks = want.weeks.clone();
    weeks.retain(|w| w.planned);
    weeks.sort_by(|a, b| a.met.total_cmp(&b.met).then(a.monday.cmp(&b.monday)));
    weeks.truncate(MAX_WEEKS_SHOWN);
    let told: Vec<String> = weeks
        .iter()
        .filter(|w| w.met < 1.0)
        .map(|w| {
            let (least, most) = (percent(w.between.0), percent(w.between.1));
            let met = percent(w.met);
            format!("{met} from {} ({least} to {most})", short_date(w.monday))
        })
        .collect();
    if told.is_empty() {
        return String::new();
    }
    let text = format!(
        "{}: of the weeks that the plan meets the least certain are met with a chance of {}.",
        want.want,
        told.join(", ")
    );
    wrap("  ", "    ", &text, MAX_COLUMNS)
}

fn spare_sowings(risk: &Risk, garden: &Garden) -> String {
    let worth = risk.spares.iter().filter(|s| s.weeks >= MIN_WEEKS_GAINED);
    let lines: String = worth
        .map(|s| {
            let sowings = count(s.sowings as usize, "sowing", "sowings");
            let text = format!(
                "{} more cells in each of the {sowings} of {}: {:.1} weeks' worth more a season.",
                s.cells,
                crop_name(garden, &s.crop),
                s.weeks
            );
            wrap("  ", "    ", &text, MAX_COLUMNS)
        })
        .collect();
    if lines.is_empty() {
        return "  More spare seedlings would buy next to nothing.\n".to_owned();
    }
    format!("{}\n{lines}", strong("Spare seedlings that would help"))
}

fn rules() -> String {
    let text = "Drawn: what comes up, plants that die, crops faster or slower than their cards, \
                warmer and colder months, which hasten and slow them. Not drawn: plants that a frost \
                or a heatwave spoils or sends to seed, pests, power cuts. Kept to: this plan; a late plant is waited for, the next \
                one waits up to 10 days for its hole. Planning again, as you would, does better.";
    wrap("", "", text, MAX_COLUMNS)
}
