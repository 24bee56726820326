//! Where the work can hurt somebody: the usual cautions.

use crate::garden::Garden;
use crate::garden::place::Cover;
use crate::garden::rig::Form;

/// The cautions that this garden calls for, a sentence or two each, in its language.
#[must_use]
pub fn cautions(garden: &Garden) -> Vec<String> {
    let forms = || garden.loops.iter().flat_map(|l| &l.banks).map(|b| &b.form);
    let is_wall = forms().any(|form| matches!(form, Form::Wall { .. }));
    let is_tower = forms().any(|form| matches!(form, Form::Tower { .. }));
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
    cautions.extend(["chemicals", "open-water", "food", "lifting", "codes"]);
    cautions
        .into_iter()
        .map(|caution| garden.language.text(&format!("caution-{caution}")))
        .collect()
}
