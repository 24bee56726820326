//! Loops, banks and the nursery of a garden file.

use crate::garden::Nursery;
use crate::garden::bounds;
use crate::garden::file::UniqueNames;
use crate::garden::file::{place, plumbing};
use crate::garden::holes::bank_hole_count;
use crate::garden::place::Cover;
use crate::garden::rig::{Bank, BankForm, Loop, Nutrients};
use crate::reader::bounds::group_thousands;
use crate::reader::decode::{Fields, KeyedValue, collect_all};
use crate::units::{DailyLight, Length, Share};

const BANK_EXAMPLE: &str = "{ bank: deck, form: level, tubes: 4, length: 1 m }";

/// The `loops` of a garden.
pub(super) fn read(entry: KeyedValue<'_>) -> Option<Vec<Loop>> {
    let loop_names = UniqueNames::new("loops");
    let bank_names = UniqueNames::new("banks");
    entry.read_each("- loop: roof", |e| one_loop(e, &loop_names, &bank_names))
}

fn one_loop(
    entry: KeyedValue<'_>,
    loop_names: &UniqueNames,
    bank_names: &UniqueNames,
) -> Option<Loop> {
    let f = entry.fields("this loop", "- loop: roof")?;
    let name = f.required("loop", "loop: roof", |e| loop_names.read(e));
    let tank = f.required("tank", "tank: { holds: 120 l }", plumbing::tank);
    let pump = f.optional("pump", plumbing::pump);
    let hose = f.optional("hose", plumbing::hose);
    let drain = f.optional("drain", plumbing::drain);
    let solution = f.optional_or("solution", Nutrients::DEFAULT, plumbing::solution);
    let banks = f.required("banks", &format!("banks: [{BANK_EXAMPLE}]"), |e| {
        collect_all(
            e.items(&format!("- {BANK_EXAMPLE}"))?
                .into_iter()
                .map(|e| bank(e, bank_names)),
        )
    });
    f.finish();
    Some(Loop {
        name: name?,
        tank: tank?,
        pump: pump?,
        hose: hose?,
        drain: drain?,
        nutrients: solution?,
        banks: banks?,
    })
}

/// The word for how the tubes of a bank stand.
#[derive(Clone, Copy, PartialEq)]
enum FormKind {
    Level,
    Wall,
    Tower,
}

const KEYS_OF_FORMS: [&str; 8] = [
    "tubes", "length", "tube_gap", "headroom", "top", "towers", "height", "faces",
];

fn bank(entry: KeyedValue<'_>, names: &UniqueNames) -> Option<Bank> {
    let f = entry.fields("this bank", BANK_EXAMPLE)?;
    let name = f.required("bank", "bank: deck", |e| {
        let name = names.read(e)?;
        check_bank_name(e, name)
    });
    let word = f.required("form", "form: level", |e| {
        e.choice(&[
            ("level", FormKind::Level),
            ("wall", FormKind::Wall),
            ("tower", FormKind::Tower),
        ])
    });
    let bore = f.optional_or("bore", Length::metres(0.104), |e| e.quantity(&bounds::BORE));
    let usual_pitch = Length::metres(if word == Some(FormKind::Tower) {
        0.25
    } else {
        0.15
    });
    let hole_every = f.optional_or("hole_every", usual_pitch, |e| {
        e.quantity(&bounds::HOLE_SPACING)
    });
    let light = f.optional_or("light", Share::fraction(1.0), |e| {
        e.quantity(&bounds::BANK_LIGHT)
    });
    let usual_fill = Share::fraction(0.5);
    let (filled, open) = if word == Some(FormKind::Tower) {
        f.reject_keys_of(
            &[("filled", LEVEL_OR_WALL), ("open", LEVEL_OR_WALL)],
            "leave it out: nothing stands in a tower",
        );
        (Some(usual_fill), Some(false))
    } else {
        let filled = f.optional_or("filled", usual_fill, |e| e.quantity(&bounds::FILL_SHARE));
        (filled, f.optional_or("open", false, |e| e.boolean()))
    };
    // Without its form nobody knows which further keys a bank should have.
    let form = word.and_then(|word| match word {
        FormKind::Level => level(&f),
        FormKind::Wall => wall(&f, bore),
        FormKind::Tower => tower(&f),
    });
    if word.is_none() {
        f.accept_keys(&KEYS_OF_FORMS);
    }
    if let (Some(form), Some(bore), Some(hole_every)) = (&form, bore, hole_every) {
        check_bank(&f, form, bore, hole_every);
    }
    f.finish();
    Some(Bank {
        name: name?,
        form: form?,
        bore: bore?,
        hole_spacing: hole_every?,
        light_share: light?,
        fill_share: filled?,
        is_open: open?,
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
        return entry.reject(
            format!("the name of a bank cannot hold {unfit}"),
            "",
            "it becomes part of hole names such as `deck-2-5`: use letters, digits, `_` and `-`",
        );
    }
    if name.starts_with('-') || name.ends_with('-') {
        return entry.reject(
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
    f.optional_or("tube_gap", Length::metres(usual), |e| {
        e.quantity(&bounds::TUBE_GAP)
    })
}

const LEVEL_OR_WALL: &str = "a level bank or a wall";
const OTHER_FORM_HELP: &str = "leave it out, or state another `form`";

fn level(f: &Fields<'_>) -> Option<BankForm> {
    f.reject_keys_of(
        &[
            ("top", "a wall"),
            ("towers", "a tower"),
            ("height", "a tower"),
            ("faces", "a tower"),
        ],
        OTHER_FORM_HELP,
    );
    let (tubes, length, tube_gap) = (tubes(f), length(f), tube_gap(f, 0.3));
    let headroom = f.optional("headroom", |e| e.quantity(&bounds::HEADROOM));
    Some(BankForm::Level {
        tubes: tubes?,
        length: length?,
        tube_gap: tube_gap?,
        headroom: headroom?,
    })
}

fn wall(f: &Fields<'_>, bore: Option<Length>) -> Option<BankForm> {
    /// Height of a wall's lowest tube where its top is not stated, in metres.
    const LOWEST_TUBE_METRES: f64 = 0.4;
    f.reject_keys_of(
        &[
            ("headroom", "a level bank"),
            ("towers", "a tower"),
            ("height", "a tower"),
            ("faces", "a tower"),
        ],
        OTHER_FORM_HELP,
    );
    let (tubes, length, tube_gap) = (tubes(f), length(f), tube_gap(f, 0.35));
    let top = f.optional("top", |e| e.quantity(&bounds::WALL_TOP));
    let (tubes, length, tube_gap) = (tubes?, length?, tube_gap?);
    let span = f64::from(tubes - 1) * tube_gap.get();
    let top = top?.unwrap_or(Length::metres(span + LOWEST_TUBE_METRES));
    if let Some(bore) = bore
        && top.get() - span - bore.get() / 2.0 < -LENGTH_TOLERANCE_METRES
    {
        // Up to the next centimetre, so that it is still enough when written in inches.
        let needed = (span + bore.get() / 2.0 + 0.002) * 100.0;
        let needed = Length::metres(needed.ceil() / 100.0);
        f.reject(
            "top",
            "the lowest tube of this wall would lie below the floor",
            "",
            format!(
                "{tubes} tubes, {} apart, need the top tube at {} or higher",
                format_length(f, tube_gap),
                format_length(f, needed)
            ),
        );
        return None;
    }
    Some(BankForm::Wall {
        tubes,
        length,
        tube_gap,
        top,
    })
}

fn tower(f: &Fields<'_>) -> Option<BankForm> {
    f.reject_keys_of(
        &[("headroom", "a level bank"), ("top", "a wall")],
        OTHER_FORM_HELP,
    );
    f.reject_keys_of(
        &[("tubes", LEVEL_OR_WALL)],
        "a tower has `towers` instead, one if left out",
    );
    f.reject_keys_of(
        &[("length", LEVEL_OR_WALL)],
        "a tower has a `height` instead",
    );
    let towers = f.optional_or("towers", 1, |e| e.count(&bounds::TOWERS));
    let height = f.required("height", "height: 1.5 m", |e| {
        e.quantity(&bounds::TOWER_HEIGHT)
    });
    let faces = f.required("faces", "faces: 3", |e| e.count(&bounds::FACES));
    let tube_gap = tube_gap(f, 0.6);
    Some(BankForm::Tower {
        towers: towers?,
        height: height?,
        faces: faces?,
        tube_gap: tube_gap?,
    })
}

/// Less than a tenth of a millimetre is no difference between two lengths.
const LENGTH_TOLERANCE_METRES: f64 = 1e-4;

fn check_bank(f: &Fields<'_>, form: &BankForm, bore: Length, hole_every: Length) {
    let (tubes, length, tube_gap) = tube_dimensions(form);
    let (thing, extent) = match form {
        BankForm::Tower { .. } => ("tower", "high"),
        _ => ("tube", "long"),
    };
    if hole_every.get() > length.get() + LENGTH_TOLERANCE_METRES {
        f.reject(
            "hole_every",
            format!(
                "holes {} apart do not fit on this {thing}",
                format_length(f, hole_every)
            ),
            format!("the {thing} is {} {extent}", format_length(f, length)),
            format!("make the {thing} longer, or set the holes closer"),
        );
    }
    if tubes > 1 && tube_gap.get() < bore.get() - LENGTH_TOLERANCE_METRES {
        let key = if f.has("tube_gap") {
            "tube_gap"
        } else {
            "bore"
        };
        f.reject(
            key,
            format!(
                "{thing}s of {} bore cannot stand {} apart",
                format_length(f, bore),
                format_length(f, tube_gap)
            ),
            "",
            format!(
                "`tube_gap` goes from the middle of one {thing} to the middle of the next: it is at least the bore"
            ),
        );
    }
}

fn format_length(f: &Fields<'_>, length: Length) -> String {
    length.in_units(f.faults().units.get())
}

/// How many tubes a bank has, how long they are and how far apart.
fn tube_dimensions(form: &BankForm) -> (u32, Length, Length) {
    match *form {
        BankForm::Level {
            tubes,
            length,
            tube_gap,
            ..
        }
        | BankForm::Wall {
            tubes,
            length,
            tube_gap,
            ..
        } => (tubes, length, tube_gap),
        BankForm::Tower {
            towers,
            height,
            tube_gap,
            ..
        } => (towers, height, tube_gap),
    }
}

/// Holes of all loops together.
pub(super) fn hole_count(loops: &[Loop]) -> u64 {
    loops
        .iter()
        .flat_map(|l| &l.banks)
        .map(bank_hole_count)
        .sum()
}

/// Tells of a rig with more holes than can be planned.
pub(super) fn check_size(top: &Fields<'_>, loops: &[Loop]) {
    let holes = hole_count(loops);
    if holes > bounds::MAX_HOLES {
        top.reject(
            "loops",
            format!("this rig would have {} holes", group_thousands(holes)),
            format!("at most {} together", group_thousands(bounds::MAX_HOLES)),
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
            dli: DailyLight::mol(12.0),
            photoperiod: place::DEFAULT_PHOTOPERIOD,
        },
    }
}

/// The `nursery` of a garden.
pub(super) fn nursery(entry: KeyedValue<'_>, holes: u64) -> Option<Nursery> {
    let usual = default_nursery(holes);
    let f = entry.fields("the nursery", "nursery: { cells: 60 }")?;
    let cells = f.optional_or("cells", usual.cells, |e| e.count(&bounds::NURSERY_CELLS));
    let cover = f.optional_or("cover", usual.cover, place::cover);
    f.finish();
    Some(Nursery {
        cells: cells?,
        cover: cover?,
    })
}
