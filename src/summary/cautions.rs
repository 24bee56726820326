//! Where the work can hurt somebody: the usual cautions.

use crate::garden::Garden;
use crate::garden::place::Cover;
use crate::garden::rig::BankForm;
use crate::nature::air;
use crate::units::Share;

/// Where a day gets no warmer than this at its coldest \[C\], water at the edge of a rig may freeze in a
/// night colder than the month's mean (common practice, no published source).
const FROST_BELOW_CELSIUS: f64 = 2.0;

/// The cautions that this garden calls for, a sentence or two each, in its language.
#[must_use]
pub fn cautions(garden: &Garden) -> Vec<String> {
    let forms = || garden.loops.iter().flat_map(|l| &l.banks).map(|b| &b.form);
    let is_wall = forms().any(|form| matches!(form, BankForm::Wall { .. }));
    let is_tower = forms().any(|form| matches!(form, BankForm::Tower { .. }));
    let is_indoors = matches!(garden.place.cover, Cover::Indoors { .. });
    let electricity = if is_indoors {
        "electricity-indoors"
    } else {
        "electricity-outdoors"
    };
    let mut cautions = vec![electricity, "weight"];
    if is_wall {
        cautions.push("walls");
    }
    if is_tower {
        cautions.push("towers");
    }
    if may_freeze(garden) {
        cautions.push("frost");
    }
    cautions.extend(["chemicals", "open-water", "food", "lifting", "codes"]);
    cautions
        .into_iter()
        .map(|caution| garden.language.text(&format!("caution-{caution}")))
        .collect()
}

/// Whether it gets so cold somewhere in a year that water may freeze.
fn may_freeze(garden: &Garden) -> bool {
    let place = &garden.place;
    let light = Share::fraction(1.0);
    let year = air::growing_conditions(place, &place.cover, light, garden.start, 365);
    year.iter().any(|day| day.coldest < FROST_BELOW_CELSIUS)
}
