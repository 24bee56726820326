//! What was understood of a garden file.

use crate::garden::Garden;
use crate::garden::holes::{self, Layout};
use crate::garden::place::{Climate, Cover};
use crate::garden::rig::{Bank, BankForm, Loop};
use crate::garden::want::{Want, YearDay};
use crate::summary::acceptance::acceptance;
use crate::terminal::table::wrap;
use crate::terminal::words::{count, list, long_date, strong};
use crate::terminal::{MAX_COLUMNS, sheet};
use crate::units::Units;

/// The garden as it was understood, and its cautions.
#[must_use]
pub fn render_check(garden: &Garden) -> String {
    let layout = holes::layout(garden);
    let acceptance = acceptance(garden);
    [
        head(garden),
        rig(garden, &layout),
        wants(garden),
        rhythm(garden),
        sheet::render_commissioning(&acceptance, garden.units),
        cautions(&acceptance.cautions),
    ]
    .join("\n")
}

fn head(garden: &Garden) -> String {
    let place = &garden.place;
    let north = if place.latitude < 0.0 {
        "south"
    } else {
        "north"
    };
    let longitude = place.longitude.map_or_else(String::new, |degrees| {
        let east = if degrees < 0.0 { "west" } else { "east" };
        format!("{} degrees {east}, ", degrees.abs())
    });
    let rows = [
        (
            "planned",
            format!(
                "{} from {}",
                count(garden.weeks as usize, "week", "weeks"),
                long_date(garden.start)
            ),
        ),
        (
            "place",
            format!(
                "{} degrees {north}, {longitude}{} up, clock of {}",
                place.latitude.abs(),
                place.elevation.in_units(garden.units),
                place.timezone,
            ),
        ),
        ("cover", cover(&place.cover, garden.units)),
        ("climate", climate(garden)),
        (
            "nursery",
            format!(
                "{}, {}",
                count(garden.nursery.cells as usize, "cell", "cells"),
                cover(&garden.nursery.cover, garden.units)
            ),
        ),
    ];
    let lines: String = rows
        .iter()
        .map(|(what, text)| wrap(&format!("  {what:<9} "), "            ", text, MAX_COLUMNS))
        .collect();
    format!("{}\n{lines}", strong(&garden.name))
}

fn cover(cover: &Cover, units: Units) -> String {
    match cover {
        Cover::OpenAir => "open air".to_owned(),
        Cover::Greenhouse {
            heating_setpoint: never_below,
            warming: adds,
            transmittance: light,
        } => {
            let heater = never_below.map_or_else(String::new, |t| {
                format!(", never below {}", t.in_units(units))
            });
            format!(
                "greenhouse, {} warmer than outdoors{heater}, {} of the light",
                adds.in_units(units),
                light.in_units(units)
            )
        }
        Cover::Indoors {
            day,
            night,
            dli: light,
            photoperiod: hours,
        } => format!(
            "indoors, {} by day and {} by night, {} of light in {}",
            day.in_units(units),
            night.in_units(units),
            light.in_units(units),
            hours.in_units(units),
        ),
    }
}

fn climate(garden: &Garden) -> String {
    let Some(climate) = &garden.place.climate else {
        return "none stated, and none needed indoors".to_owned();
    };
    let temperatures = match climate {
        Climate::Months(_) => "monthly means, January to December".to_owned(),
        Climate::Weather(weather) => count(
            weather.days.len(),
            "day of a weather file",
            "days of a weather file",
        ),
    };
    let air = climate.air_means();
    let more = [
        ("humidity", air.humidity.is_some()),
        ("wind", air.wind.is_some()),
        ("sunshine", air.sun.is_some()),
    ];
    let more = more.into_iter().filter(|(_, known)| *known);
    let more: Vec<String> = more.map(|(name, _)| name.to_owned()).collect();
    if more.is_empty() {
        return temperatures;
    }
    format!("{temperatures}, with {}", list(&more))
}

fn rig(garden: &Garden, layout: &Layout) -> String {
    let mut text = format!(
        "{} {}\n",
        strong("Rig:"),
        count(layout.holes.len(), "hole", "holes")
    );
    let mut first_bank = 0;
    for l in &garden.loops {
        text.push_str(&render_loop(l, garden.units));
        for (at, bank) in l.banks.iter().enumerate() {
            text.push_str(&render_bank(bank, first_bank + at, layout, garden.units));
        }
        first_bank += l.banks.len();
    }
    text
}

fn render_loop(l: &Loop, units: Units) -> String {
    let pump = l.pump.as_ref().map_or_else(String::new, |pump| {
        format!(
            "; pump moves {} and lifts {}",
            pump.rated_flow.in_units(units),
            pump.max_head.in_units(units)
        )
    });
    let text = format!(
        "tank of {}, never below {}{pump}",
        l.tank.capacity.in_units(units),
        l.tank.reserve_share.in_units(units),
    );
    wrap(&format!("  loop {}: ", l.name), "    ", &text, MAX_COLUMNS)
}

fn render_bank(bank: &Bank, at: usize, layout: &Layout, units: Units) -> String {
    let holes = layout.holes.iter().filter(|h| h.bank == at).count();
    let form = match &bank.form {
        BankForm::Level {
            tubes,
            length,
            tube_gap,
            headroom,
        } => {
            let above = headroom.map_or_else(String::new, |room| {
                format!(", {} above", room.in_units(units))
            });
            format!(
                "level, {} of {}, {} apart{above}",
                count(*tubes as usize, "tube", "tubes"),
                length.in_units(units),
                tube_gap.in_units(units),
            )
        }
        BankForm::Wall {
            tubes,
            length,
            tube_gap,
            top,
        } => format!(
            "wall, {} of {}, {} apart, the top one {} up",
            count(*tubes as usize, "tube", "tubes"),
            length.in_units(units),
            tube_gap.in_units(units),
            top.in_units(units),
        ),
        BankForm::Tower {
            towers,
            height,
            faces,
            tube_gap,
        } => {
            let apart = if *towers > 1 {
                format!(", {} apart", tube_gap.in_units(units))
            } else {
                String::new()
            };
            format!(
                "{} of {} with {faces} faces{apart}",
                count(*towers as usize, "tower", "towers"),
                height.in_units(units),
            )
        }
    };
    let text = format!(
        "{}; {form}; a hole every {}, tubes {} wide inside, {} of the light",
        count(holes, "hole", "holes"),
        bank.hole_spacing.in_units(units),
        bank.bore.in_units(units),
        bank.light_share.in_units(units),
    );
    wrap(
        &format!("    {}: ", bank.name),
        "      ",
        &text,
        MAX_COLUMNS,
    )
}

fn wants(garden: &Garden) -> String {
    let lines: String = garden
        .wants
        .iter()
        .map(|want| {
            let text = format!(
                "{} a week, {}, from {}",
                want.each_week.in_units(garden.units),
                season(want),
                list(&want.from_crops),
            );
            wrap(&format!("  {}: ", want.name), "    ", &text, MAX_COLUMNS)
        })
        .collect();
    format!("{}\n{lines}", strong("Wants"))
}

fn season(want: &Want) -> String {
    want.season.map_or_else(
        || "all year".to_owned(),
        |(from, until)| format!("{} to {}", year_day(from), year_day(until)),
    )
}

fn year_day(day: YearDay) -> String {
    // Any leap year has every day that a year can have.
    chrono::NaiveDate::from_ymd_opt(2028, day.month, day.day)
        .map_or_else(String::new, crate::terminal::words::short_date)
}

fn rhythm(garden: &Garden) -> String {
    let rhythm = &garden.rhythm;
    let workdays: Vec<String> = rhythm.workdays.iter().map(ToString::to_string).collect();
    let mut lines = wrap(
        "  workdays  ",
        "            ",
        &list(&workdays),
        MAX_COLUMNS,
    );
    for away in &rhythm.absences {
        let text = format!("{} to {}", long_date(away.from), long_date(away.until));
        lines.push_str(&wrap("  away      ", "            ", &text, MAX_COLUMNS));
    }
    let clean = rhythm.deep_clean.map_or_else(
        || "never planned; empty and scrub the tubes yourself now and then".to_owned(),
        |c| {
            format!(
                "each tube every {}, {} sooner or later",
                c.interval.in_units(garden.units),
                c.slack.in_units(garden.units)
            )
        },
    );
    lines.push_str(&wrap("  cleaning  ", "            ", &clean, MAX_COLUMNS));
    let solution = format!(
        "changed every {}",
        rhythm.solution_change_interval.in_units(garden.units)
    );
    lines.push_str(&wrap(
        "  solution  ",
        "            ",
        &solution,
        MAX_COLUMNS,
    ));
    for seedlings in &garden.seedlings {
        let text = format!(
            "{} {} sown on {}",
            seedlings.count,
            seedlings.crop,
            long_date(seedlings.sown)
        );
        lines.push_str(&wrap("  on hand   ", "            ", &text, MAX_COLUMNS));
    }
    for plant in &garden.keep_for_seed {
        let text = format!(
            "{} in {}, from {} until {}: left to flower, and not harvested",
            plant.crop,
            plant.hole,
            long_date(plant.from),
            long_date(plant.until)
        );
        lines.push_str(&wrap("  for seed  ", "            ", &text, MAX_COLUMNS));
    }
    format!("{}\n{lines}", strong("Rhythm"))
}

fn cautions(cautions: &[String]) -> String {
    let lines: String = cautions
        .iter()
        .map(|caution| wrap("  ", "    ", caution, MAX_COLUMNS))
        .collect();
    format!("{}\n{lines}", strong("Take care"))
}
