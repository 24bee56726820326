//! Loops, banks and the nursery of a garden file.

use crate::garden::Nursery;
use crate::garden::bounds::{self, in_thousands};
use crate::garden::file::Names;
use crate::garden::file::{place, plumbing};
use crate::garden::holes::bank_holes;
use crate::garden::place::Cover;
use crate::garden::rig::{Bank, Form, Loop, Nutrients};
use crate::reader::decode::{Fields, KeyedValue, all};
use crate::units::{DailyLight, Length, Share};

const BANK: &str = "{ bank: deck, form: level, tubes: 4, length: 1 m }";

/// The `loops` of a garden.
pub(super) fn read(entry: KeyedValue<'_>) -> Option<Vec<Loop>> {
    let loop_names = Names::of("loops");
    let bank_names = Names::of("banks");
    entry.each("- loop: roof", |e| one_loop(e, &loop_names, &bank_names))
}

fn one_loop(entry: KeyedValue<'_>, loop_names: &Names, bank_names: &Names) -> Option<Loop> {
    let f = entry.fields("this loop", "- loop: roof")?;
    let name = f.required("loop", "loop: roof", |e| loop_names.read(e));
    let tank = f.required("tank", "tank: { holds: 120 l }", plumbing::tank);
    let pump = f.optional("pump", plumbing::pump);
    let hose = f.optional("hose", plumbing::hose);
    let drain = f.optional("drain", plumbing::drain);
    let solution = f.or("solution", Nutrients::USUAL, plumbing::solution);
    let banks = f.required("banks", &format!("banks: [{BANK}]"), |e| {
        all(e
            .items(&format!("- {BANK}"))?
            .into_iter()
            .map(|e| bank(e, bank_names)))
    });
    f.finish();
    Some(Loop {
        name: name?,
        tank: tank?,
        pump: pump?,
        hose: hose?,
        drain: drain?,
        solution: solution?,
        banks: banks?,
    })
}

/// The word for how the tubes of a bank stand.
#[derive(Clone, Copy, PartialEq)]
enum FormWord {
    Level,
    Wall,
    Tower,
}

const KEYS_OF_FORMS: [&str; 8] = [
    "tubes", "length", "tube_gap", "headroom", "top", "towers", "height", "faces",
];

fn bank(entry: KeyedValue<'_>, names: &Names) -> Option<Bank> {
    let f = entry.fields("this bank", BANK)?;
    let name = f.required("bank", "bank: deck", |e| {
        let name = names.read(e)?;
        check_bank_name(e, name)
    });
    let word = f.required("form", "form: level", |e| {
        e.choice(&[
            ("level", FormWord::Level),
            ("wall", FormWord::Wall),
            ("tower", FormWord::Tower),
        ])
    });
    let bore = f.or("bore", Length::metres(0.104), |e| e.quantity(&bounds::BORE));
    let usual_pitch = Length::metres(if word == Some(FormWord::Tower) {
        0.25
    } else {
        0.15
    });
    let hole_every = f.or("hole_every", usual_pitch, |e| {
        e.quantity(&bounds::HOLE_EVERY)
    });
    let light = f.or("light", Share::fraction(1.0), |e| {
        e.quantity(&bounds::BANK_LIGHT)
    });
    let usual_fill = Share::fraction(0.5);
    let (filled, open) = if word == Some(FormWord::Tower) {
        f.foreign(
            &[("filled", LYING), ("open", LYING)],
            "leave it out: nothing stands in a tower",
        );
        (Some(usual_fill), Some(false))
    } else {
        let filled = f.or("filled", usual_fill, |e| e.quantity(&bounds::FILLED));
        (filled, f.or("open", false, |e| e.boolean()))
    };
    // Without its form nobody knows which further keys a bank should have.
    let form = word.and_then(|word| match word {
        FormWord::Level => level(&f),
        FormWord::Wall => wall(&f, bore),
        FormWord::Tower => tower(&f),
    });
    if word.is_none() {
        f.allow(&KEYS_OF_FORMS);
    }
    if let (Some(form), Some(bore), Some(hole_every)) = (&form, bore, hole_every) {
        check_bank(&f, form, bore, hole_every);
    }
    f.finish();
    Some(Bank {
        name: name?,
        form: form?,
        bore: bore?,
        hole_every: hole_every?,
        light: light?,
        filled: filled?,
        open: open?,
    })
}

/// Bank names become parts of hole names such as `deck-2-5`.
fn check_bank_name(entry: KeyedValue<'_>, name: String) -> Option<String> {
    let unfit = name
        .chars()
        .find(|c| !(c.is_alphanumeric() || *c == '_' || *c == '-'));
    if let Some(unfit) = unfit {
        let unfit = match unfit {
            ' ' => "a blank".to_owned(),
            other => format!("`{other}`"),
        };
        return entry.wrong(
            format!("the name of a bank cannot hold {unfit}"),
            "",
            "it becomes part of hole names such as `deck-2-5`: use letters, digits, `_` and `-`",
        );
    }
    if name.starts_with('-') || name.ends_with('-') {
        return entry.wrong(
            "the name of a bank cannot begin or end with `-`",
            "",
            "it becomes part of hole names such as `deck-2-5`",
        );
    }
    Some(name)
}

fn tubes(f: &Fields<'_>) -> Option<u32> {
    f.required("tubes", "tubes: 4", |e| e.count(&bounds::TUBES))
}

fn length(f: &Fields<'_>) -> Option<Length> {
    f.required("length", "length: 1 m", |e| {
        e.quantity(&bounds::TUBE_LENGTH)
    })
}

fn tube_gap(f: &Fields<'_>, usual: f64) -> Option<Length> {
    f.or("tube_gap", Length::metres(usual), |e| {
        e.quantity(&bounds::TUBE_GAP)
    })
}

const LYING: &str = "a level bank or a wall";
const OTHER_FORM: &str = "leave it out, or state another `form`";

fn level(f: &Fields<'_>) -> Option<Form> {
    f.foreign(
        &[
            ("top", "a wall"),
            ("towers", "a tower"),
            ("height", "a tower"),
            ("faces", "a tower"),
        ],
        OTHER_FORM,
    );
    let (tubes, length, tube_gap) = (tubes(f), length(f), tube_gap(f, 0.3));
    let headroom = f.optional("headroom", |e| e.quantity(&bounds::HEADROOM));
    Some(Form::Level {
        tubes: tubes?,
        length: length?,
        tube_gap: tube_gap?,
        headroom: headroom?,
    })
}

fn wall(f: &Fields<'_>, bore: Option<Length>) -> Option<Form> {
    /// Height of a wall's lowest tube where its top is not stated, in metres.
    const LOWEST: f64 = 0.4;
    f.foreign(
        &[
            ("headroom", "a level bank"),
            ("towers", "a tower"),
            ("height", "a tower"),
            ("faces", "a tower"),
        ],
        OTHER_FORM,
    );
    let (tubes, length, tube_gap) = (tubes(f), length(f), tube_gap(f, 0.35));
    let top = f.optional("top", |e| e.quantity(&bounds::WALL_TOP));
    let (tubes, length, tube_gap) = (tubes?, length?, tube_gap?);
    let span = f64::from(tubes - 1) * tube_gap.get();
    let top = top?.unwrap_or(Length::metres(span + LOWEST));
    if let Some(bore) = bore
        && top.get() - span - bore.get() / 2.0 < -TINY
    {
        // Up to the next centimetre, so that it is still enough when written in inches.
        let needed = (span + bore.get() / 2.0 + 0.002) * 100.0;
        let needed = Length::metres(needed.ceil() / 100.0);
        f.wrong(
            "top",
            "the lowest tube of this wall would lie below the floor",
            "",
            format!(
                "{tubes} tubes, {} apart, need the top tube at {} or higher",
                told(f, tube_gap),
                told(f, needed)
            ),
        );
        return None;
    }
    Some(Form::Wall {
        tubes,
        length,
        tube_gap,
        top,
    })
}

fn tower(f: &Fields<'_>) -> Option<Form> {
    f.foreign(
        &[("headroom", "a level bank"), ("top", "a wall")],
        OTHER_FORM,
    );
    f.foreign(
        &[("tubes", LYING)],
        "a tower has `towers` instead, one if left out",
    );
    f.foreign(&[("length", LYING)], "a tower has a `height` instead");
    let towers = f.or("towers", 1, |e| e.count(&bounds::TOWERS));
    let height = f.required("height", "height: 1.5 m", |e| {
        e.quantity(&bounds::TOWER_HEIGHT)
    });
    let faces = f.required("faces", "faces: 3", |e| e.count(&bounds::FACES));
    let tube_gap = tube_gap(f, 0.6);
    Some(Form::Tower {
        towers: towers?,
        height: height?,
        faces: faces?,
        tube_gap: tube_gap?,
    })
}

/// Less than a tenth of a millimetre is no difference between two lengths.
const TINY: f64 = 1e-4;

fn check_bank(f: &Fields<'_>, form: &Form, bore: Length, hole_every: Length) {
    let (tubes, length, tube_gap) = measures(form);
    let (thing, extent) = match form {
        Form::Tower { .. } => ("tower", "high"),
        _ => ("tube", "long"),
    };
    if hole_every.get() > length.get() + TINY {
        f.wrong(
            "hole_every",
            format!(
                "holes {} apart do not fit on this {thing}",
                told(f, hole_every)
            ),
            format!("the {thing} is {} {extent}", told(f, length)),
            format!("make the {thing} longer, or set the holes closer"),
        );
    }
    if tubes > 1 && tube_gap.get() < bore.get() - TINY {
        let key = if f.has("tube_gap") {
            "tube_gap"
        } else {
            "bore"
        };
        f.wrong(
            key,
            format!(
                "{thing}s of {} bore cannot stand {} apart",
                told(f, bore),
                told(f, tube_gap)
            ),
            "",
            format!(
                "`tube_gap` goes from the middle of one {thing} to the middle of the next: it is at least the bore"
            ),
        );
    }
}

fn told(f: &Fields<'_>, length: Length) -> String {
    length.in_units(f.findings().units.get())
}

/// How many tubes a bank has, how long they are and how far apart.
fn measures(form: &Form) -> (u32, Length, Length) {
    match *form {
        Form::Level {
            tubes,
            length,
            tube_gap,
            ..
        }
        | Form::Wall {
            tubes,
            length,
            tube_gap,
            ..
        } => (tubes, length, tube_gap),
        Form::Tower {
            towers,
            height,
            tube_gap,
            ..
        } => (towers, height, tube_gap),
    }
}

/// Holes of all loops together.
pub(super) fn holes(loops: &[Loop]) -> u64 {
    loops.iter().flat_map(|l| &l.banks).map(bank_holes).sum()
}

/// Tells of a rig with more holes than can be planned.
pub(super) fn check_size(top: &Fields<'_>, loops: &[Loop]) {
    let holes = holes(loops);
    if holes > bounds::HOLES {
        top.wrong(
            "loops",
            format!("this rig would have {} holes", in_thousands(holes)),
            format!("at most {} together", in_thousands(bounds::HOLES)),
            "check `tubes`, `length` and `hole_every` of its banks",
        );
    }
}

/// A lit shelf indoors with a cell for every hole.
pub(super) fn default_nursery(holes: u64) -> Nursery {
    Nursery {
        cells: u32::try_from(holes).unwrap_or(u32::MAX),
        cover: Cover::Indoors {
            day: place::ROOM_DAY,
            night: place::ROOM_NIGHT,
            light: DailyLight::mol(12.0),
            hours: place::LAMP_HOURS,
        },
    }
}

/// The `nursery` of a garden.
pub(super) fn nursery(entry: KeyedValue<'_>, holes: u64) -> Option<Nursery> {
    let usual = default_nursery(holes);
    let f = entry.fields("the nursery", "nursery: { cells: 60 }")?;
    let cells = f.or("cells", usual.cells, |e| e.count(&bounds::CELLS));
    let cover = f.or("cover", usual.cover, place::cover);
    f.finish();
    Some(Nursery {
        cells: cells?,
        cover: cover?,
    })
}
