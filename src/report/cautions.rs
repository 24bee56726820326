//! Where the work can hurt somebody: the usual cautions.

use crate::garden::Garden;
use crate::garden::place::Cover;
use crate::garden::rig::Form;

/// The cautions that this garden calls for, a sentence or two each.
#[must_use]
pub fn cautions(garden: &Garden) -> Vec<String> {
    let forms = || garden.loops.iter().flat_map(|l| &l.banks).map(|b| &b.form);
    let is_wall = forms().any(|form| matches!(form, Form::Wall { .. }));
    let is_tower = forms().any(|form| matches!(form, Form::Tower { .. }));
    let is_indoors = matches!(garden.place.cover, Cover::Indoors { .. });
    let electricity = if is_indoors {
        "Electricity: pump, lamps and water share a room. Plug them behind a residual-current device, keep plugs and sockets above and away from the water, and let every cable hang in a loop that drips before it reaches the socket. Have fixed wiring done by a licensed electrician."
    } else {
        "Electricity: pump and water stand together, where rain, spray and dew come too. Plug the pump behind a residual-current device, keep plugs dry and off the ground, let every cable hang in a loop that drips before it reaches the socket, and use only what is rated for outdoors. Have fixed wiring done by a licensed electrician."
    };
    let weight = "Weight: a litre of water weighs a kilogram, besides tank, tubes and plants. Have a wall, roof, balcony or shelf checked by someone licensed before you load it.";
    let tower = "Towers: a full tower can tip over. Fix it at its head and foot, above all where there is wind or children.";
    let mut cautions = vec![electricity, weight];
    if is_wall {
        cautions.push("Walls: tubes full of water pull at their brackets. Use fixings made for the wall and the load, and look at them at every deep clean.");
    }
    if is_tower {
        cautions.push(tower);
    }
    cautions.extend([
        "Acids, bleach and salts: wear gloves and eye protection, pour the acid into the water and never the water into the acid, never mix acid with bleach, and keep all of it locked away from children. Follow the label and the local rules for getting rid of it.",
        "Open water: a small child can drown in a few centimetres of it. Keep a lid on the tank.",
        "Food: wash hands, harvest with clean tools, rinse leaves in drinking water, keep animals away, and throw away what smells or looks wrong.",
        "Lifting: a bucket of ten litres weighs ten kilograms. Fill the tank where it stands.",
    ]);
    let codes = "Local codes and licensed people come before anything that this program says.";
    cautions.push(codes);
    cautions.into_iter().map(str::to_owned).collect()
}
