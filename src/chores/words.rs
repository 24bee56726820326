//! Every word of a chore that the grower reads, in English.
//!
//! The chores hand over names, numbers and dates; how they become sentences is decided here and
//! nowhere else, so that another language is another file like this one.

use chrono::{Datelike, NaiveDate};

use super::{Kind, SUMMARY_LENGTH};
use crate::garden::crop::Solution;
use crate::nature::seed::Sowing;
use crate::quantity::{Conductivity, Mass, Units, Volume};

/// The longest line of details [characters]: a few lines of a phone.
pub(super) const LINE_LENGTH: usize = 400;

pub(super) const fn kind(kind: Kind) -> &'static str {
    match kind {
        Kind::SeedOrder => "Seed order",
        Kind::LeakTest => "Leak test",
        Kind::Harvest => "Harvest",
        Kind::Clear => "Clear",
        Kind::DeepClean => "Deep clean",
        Kind::Solution => "Solution",
        Kind::TopUp => "Top up",
        Kind::Transplant => "Transplant",
        Kind::Sow => "Sow",
        Kind::Check => "Check",
        Kind::Swap => "Season turn",
    }
}

// ---- Pieces ----

/// A day as one says it on `today`: with its year only where that is another one.
pub(super) fn date(day: NaiveDate, today: NaiveDate) -> String {
    let form = if day.year() == today.year() {
        "%a %-d %B"
    } else {
        "%a %-d %B %Y"
    };
    day.format(form).to_string()
}

fn count(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}

/// `a`, `a and b`, `a, b and c`.
fn and(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// A text cut to so many characters, where it is longer.
pub(super) fn shortened(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    let kept: String = text.chars().take(most - 1).collect();
    // A joiner at the cut would glue the ellipsis to an emoji.
    format!("{}…", kept.trim_end_matches(['\u{200d}', ' ', ',']))
}

/// A lead and as many of the items as the lock screen takes.
fn headline(lead: &str, items: &[String]) -> String {
    let told = |shown: usize| {
        let rest = items.len() - shown;
        let listed = items[..shown].join(", ");
        match rest {
            0 => format!("{lead} {listed}"),
            _ => format!("{lead} {listed} and {rest} more"),
        }
    };
    (1..=items.len())
        .rev()
        .map(told)
        .find(|text| text.chars().count() <= SUMMARY_LENGTH)
        .unwrap_or_else(|| shortened(&told(items.len().min(1)), SUMMARY_LENGTH))
}

pub(super) fn more_on_the_sheet(left: usize) -> String {
    format!("and {left} more, see the sheet")
}

// ---- Holes and tubes ----

pub(super) fn tube_holes(tube: &str, numbers: &str) -> String {
    if numbers.is_empty() {
        tube.to_owned()
    } else {
        format!("{tube}: {numbers}")
    }
}

pub(super) fn tube_sum(tube: &str, holes: usize) -> String {
    format!("{tube} ({})", count(holes, "hole", "holes"))
}

pub(super) fn more_tubes(left: usize) -> String {
    format!(
        " and {}, see the sheet",
        count(left, "more tube", "more tubes")
    )
}

fn tubes(names: &[&str]) -> String {
    let listed = and(&names.iter().map(|n| (*n).to_owned()).collect::<Vec<_>>());
    let word = if names.len() == 1 { "tube" } else { "tubes" };
    format!("{word} {listed}")
}

// ---- Seed order ----

pub(super) fn seed_order_summary(crops: &[&str]) -> String {
    let crops: Vec<String> = crops.iter().map(|c| (*c).to_owned()).collect();
    headline("Have seed in the house:", &crops)
}

/// How much seed of one crop, for sowings up to `until`.
pub(super) fn seed_needed(
    crop: &str,
    seeds: u64,
    sowings: usize,
    until: NaiveDate,
    today: NaiveDate,
    keeps: Option<String>,
) -> String {
    let keeps = keeps.map_or(String::new(), |k| format!("; keeps about {k}"));
    format!(
        "{crop}: {seeds} seeds ({} until {}{keeps})",
        count(sowings, "sowing", "sowings"),
        date(until, today)
    )
}

pub(super) fn seed_hints() -> Vec<String> {
    vec![
        "The numbers allow for seed that does not come up. Keep packets cool, dark and dry; old \
         seed comes up thinly."
            .to_owned(),
    ]
}

// ---- Leak test ----

pub(super) fn leak_test_summary() -> String {
    "Leak test: run the rig on plain water".to_owned()
}

pub(super) fn leak_test_loop(name: &str, holds: Volume, units: Units) -> String {
    // A litre of water weighs a kilogram, near enough.
    let weight = Mass::grams((holds.get() * 1000.0).round()).in_units(units);
    format!(
        "{name}: fill with plain water. The tank holds {}, which weighs {weight}.",
        holds.in_units(units)
    )
}

pub(super) fn leak_test_hints(first_planting: NaiveDate, today: NaiveDate) -> Vec<String> {
    vec![
        format!(
            "Let the pump run for a day or two, before the first planting on {}.",
            date(first_planting, today)
        ),
        "Feel every joint, inlet and drain for drips, see that each tube gets its share, and that \
         the level in the tank stays. Mend, and run it again."
            .to_owned(),
        "Careful, mains near water: plugs and sockets above the water and away from splashes, on \
         residual-current protection; unplug before hands go in. Local rules and a licensed \
         electrician have the last word."
            .to_owned(),
        "Careful, weight: before you fill a rig on a wall, roof or balcony, have somebody \
         qualified say that it bears it."
            .to_owned(),
        "Keep the tank covered: children and animals drown in little water.".to_owned(),
    ]
}

// ---- Harvest ----

/// How a crop is taken on a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Manner {
    /// The plant, once.
    Whole,
    /// A cut; which one, where the plan knows.
    Cut(Option<usize>),
    /// The last cut, after which the plant comes out.
    LastCut,
    /// A picking.
    Picking,
    /// The last picking, after which the plant comes out.
    LastPicking,
    /// The card does not say.
    Taken,
}

fn manner(manner: Manner) -> String {
    match manner {
        Manner::Whole => "whole plants".to_owned(),
        Manner::Cut(None) => "a cut".to_owned(),
        Manner::Cut(Some(1)) => "first cut".to_owned(),
        Manner::Cut(Some(2)) => "second cut".to_owned(),
        Manner::Cut(Some(3)) => "third cut".to_owned(),
        Manner::Cut(Some(n)) => format!("cut number {n}"),
        Manner::LastCut => "last cut, then the plants come out".to_owned(),
        Manner::Picking => "a picking".to_owned(),
        Manner::LastPicking => "last picking, then the plants come out".to_owned(),
        Manner::Taken => "what is ripe".to_owned(),
    }
}

/// An amount as one says it: whole heads and grams, tenths of an ounce.
pub(super) fn amount(unit: &str, amount: f64, units: Units) -> String {
    if unit == "heads" {
        let heads = format!("{:.1}", amount);
        let heads = heads.trim_end_matches('0').trim_end_matches('.');
        let word = if heads == "1" { "head" } else { "heads" };
        return format!("{heads} {word}");
    }
    match units {
        Units::Metric if amount >= 1000.0 => format!("{:.1} kg", amount / 1000.0),
        Units::Metric => Mass::grams(amount.round()).in_units(units),
        Units::Imperial if amount < 453.592_37 => format!("{:.1} oz", amount / 28.349_523_125),
        Units::Imperial => format!("{:.1} lb", amount / 453.592_37),
    }
}

/// An amount of a want, such as `5 salad heads` or `80 g basil`.
pub(super) fn amount_of(want: &str, unit: &str, number: f64, units: Units) -> String {
    let amount = amount(unit, number, units);
    if unit != "heads" {
        return format!("{amount} {want}");
    }
    // A want that is called heads already needs the word once.
    match (amount.strip_suffix(" heads"), want.strip_suffix("heads")) {
        (Some(number), Some(_)) => format!("{number} {want}"),
        (None, Some(kind)) => format!("1 {kind}head"),
        _ => format!("{amount} of {want}"),
    }
}

pub(super) fn harvest_summary(amounts: &[String]) -> String {
    headline("Harvest", amounts)
}

/// What one crop gives to a want; `amount` as [`amount_of`] writes it.
pub(super) fn harvest_line(
    amount: &str,
    unit: &str,
    crop: &str,
    how: Manner,
    holes: &str,
) -> String {
    // Heads are counted, grams are expected.
    let about = if unit == "heads" { "" } else { "about " };
    format!("{about}{amount}: {crop}, {}, from {holes}", manner(how))
}

pub(super) fn harvest_hints() -> Vec<String> {
    vec![
        "Clean hands, clean knife. Keep the nutrient solution off what you eat, and rinse leaves \
         and fruit in drinking water."
            .to_owned(),
    ]
}

// ---- Clear ----

pub(super) fn clear_summary(holes: usize) -> String {
    format!("Clear and wipe {}", count(holes, "hole", "holes"))
}

/// What becomes of a cleared hole on the same day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Afterwards {
    /// Its whole tube is scrubbed.
    TubeScrubbed,
    /// Another plant goes in.
    PlantedAgain,
    /// Nothing.
    LeftEmpty,
}

pub(super) fn clear_line(afterwards: Afterwards, holes: &str) -> String {
    let what = match afterwards {
        Afterwards::TubeScrubbed => "Lift out cups and roots, the tube is scrubbed today",
        Afterwards::PlantedAgain => "Lift out cups and roots, wipe the holes; planted again today",
        Afterwards::LeftEmpty => {
            "Lift out cups and roots, wipe the holes, cover them (light makes algae grow)"
        }
    };
    format!("{what}: {holes}")
}

// ---- Deep clean ----

pub(super) fn deep_clean_summary(names: &[&str]) -> String {
    shortened(&format!("Deep-clean {}", tubes(names)), SUMMARY_LENGTH)
}

pub(super) fn deep_clean_line(names: &[&str]) -> String {
    let stand = if names.len() == 1 { "stands" } else { "stand" };
    let listed = tubes(names);
    let (first, rest) = listed.split_at(1);
    format!("{}{rest} {stand} empty today.", first.to_uppercase())
}

pub(super) fn deep_clean_hints(with_solution: bool) -> Vec<String> {
    let mut hints = vec![
        "Unplug the pump at the wall. Shut the tube's inlet and lead its drain into a bucket: no \
         cleaning water may reach the tank or other plants."
            .to_owned(),
        "Brush out all roots and slime with warm water first; disinfectant does not get through \
         slime."
            .to_owned(),
        "Then disinfect hard surfaces as the product's label says; for household bleach, 1 part \
         to 9 parts of water, left wet for 30 minutes, is usual."
            .to_owned(),
        "Rinse with plain water until nothing smells of it. Then open the inlet, and plug the pump \
         in again with dry hands."
            .to_owned(),
        "Careful: never mix bleach with acid, vinegar, ammonia or peroxide, which makes poisonous \
         gas. Gloves, goggles, open windows, children away. The label and local rules go first."
            .to_owned(),
    ];
    if with_solution {
        hints.insert(
            4,
            "The solution is changed today too: scrub first, then fill.".to_owned(),
        );
    }
    hints
}

// ---- Solution ----

pub(super) fn solution_summary(first: bool, loops: &[&str]) -> String {
    let loops: Vec<String> = loops.iter().map(|l| (*l).to_owned()).collect();
    headline(
        if first {
            "Fill with nutrient solution:"
        } else {
            "Change the solution:"
        },
        &loops,
    )
}

pub(super) fn solution_line(
    name: &str,
    first: bool,
    holds: Volume,
    band: Option<&Solution>,
    units: Units,
) -> String {
    let what = if first {
        "fill with"
    } else {
        "drain, refill with"
    };
    let band = band.map_or(String::new(), |b| format!(", {}", self::band(b)));
    format!("{name}: {what} {}{band}", holds.in_units(units))
}

/// Where the water goes that fills more than the tank.
pub(super) fn solution_in_tubes(name: &str, in_tubes: Volume, units: Units) -> String {
    format!(
        "{name}: the tubes take about {} of that when the pump starts; then fill up the tank again",
        in_tubes.in_units(units)
    )
}

/// What to aim at: EC [mS/cm] and pH.
pub(super) fn solution_aim((ec, ph): (f64, f64)) -> String {
    format!("aim at EC {ec:.1} and pH {ph:.1}")
}

/// The stock that it takes where its strength is known \[ml\].
pub(super) fn solution_stock(name: &str, stock_ml: f64, filled: Volume) -> String {
    let each = stock_ml / filled.get();
    format!("{name}: about {stock_ml:.0} ml of stock, {each:.1} ml a litre; then measure")
}

pub(super) fn solution_by_volume(name: &str) -> String {
    format!("{name}: sooner than usual, as the top-ups since the last change add up to the tank")
}

/// The caution goes with every filling; how it is done, with the first.
pub(super) fn solution_hints(first: bool) -> Vec<String> {
    let how = [
        "Stir one nutrient at a time into the full tank, never concentrates into each other; EC \
         first, pH last, and measure again after an hour.",
        "Water is heavy: carry it in small cans. Old solution may feed garden soil where local \
         rules allow, never a drain to a stream.",
    ];
    let caution = "Careful: unplug the pump at the wall before hands go into the water. Acid into \
                   water, never water into acid; gloves and goggles; acids and salts out of \
                   children's reach. The labels go first.";
    let how = how.iter().take(if first { how.len() } else { 0 });
    how.chain([&caution])
        .map(|hint| (*hint).to_owned())
        .collect()
}

// ---- Top up ----

/// Each loop with what it takes.
pub(super) fn top_up_summary(loops: &[(&str, Volume)], units: Units) -> String {
    let loops: Vec<String> = loops
        .iter()
        .map(|(name, litres)| format!("{name} with {}", poured(*litres, units)))
        .collect();
    headline("Top up", &loops)
}

pub(super) fn top_up_line(
    name: &str,
    litres: Volume,
    half_strength: bool,
    stock_ml: Option<f64>,
    units: Units,
) -> String {
    let with = if half_strength {
        "solution of half strength"
    } else {
        "plain water"
    };
    let stock = stock_ml.map_or(String::new(), |ml| format!(" ({ml:.0} ml of stock in it)"));
    format!(
        "{name}: about {} of {with}{stock}, to the full mark; then check EC and pH",
        poured(litres, units)
    )
}

/// Litres as one measures them out: whole ones, tenths below ten.
fn poured(litres: Volume, units: Units) -> String {
    let l = litres.get();
    let rounded = if units == Units::Metric && l >= 10.0 {
        l.round()
    } else {
        (l * 10.0).round() / 10.0
    };
    Volume::litres(rounded).in_units(units)
}

pub(super) fn top_up_hints(first: bool) -> Vec<String> {
    if !first {
        return Vec::new();
    }
    vec![
        "Plants drink more in heat and wind than in the usual year that this is reckoned from: go \
         by the level. Let cold tap water stand until it is as warm as the tank, and put the lid \
         back on."
            .to_owned(),
    ]
}

// ---- Transplant ----

/// So many plants of a crop, such as `6 butterhead lettuce`.
pub(super) fn number_of(crop: &str, n: usize) -> String {
    format!("{n} {crop}")
}

pub(super) fn transplant_summary(crops: &[String]) -> String {
    headline("Transplant", crops)
}

/// Where the seedlings come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Origin {
    /// Sown on a day.
    Sown(NaiveDate),
    /// They stood in the nursery at the start.
    OnHand,
}

pub(super) fn transplant_line(
    crop: &str,
    n: usize,
    origin: Origin,
    holes: &str,
    today: NaiveDate,
) -> String {
    let origin = match origin {
        Origin::Sown(day) => format!("sown on {}", date(day, today)),
        Origin::OnHand => "from the seedlings on hand".to_owned(),
    };
    format!("{}, {origin}, into {holes}", number_of(crop, n))
}

pub(super) fn transplant_hints() -> Vec<String> {
    vec![
        "Set each cup so that roots or plug touch the water, and take the strongest seedlings."
            .to_owned(),
    ]
}

// ---- Sow ----

pub(super) fn sow_summary(crops: &[String]) -> String {
    headline("Sow", crops)
}

pub(super) fn sow_crop(crop: &str, seeds: Option<u32>, cups: usize) -> String {
    match seeds {
        Some(1) => format!("{crop} (1 seed)"),
        Some(seeds) => format!("{crop} ({seeds} seeds)"),
        None => format!("{crop} ({})", count(cups, "cup", "cups")),
    }
}

/// Cups of one crop, sown for one day of transplant.
pub(super) struct Batch {
    pub(super) cups: usize,
    /// Plants in a cup.
    pub(super) plants: u32,
    pub(super) sowing: Option<Sowing>,
    pub(super) transplant: NaiveDate,
}

pub(super) fn sow_line(crop: &str, batch: &Batch, today: NaiveDate) -> String {
    let when = date(batch.transplant, today);
    let cups = count(batch.cups, "cup", "cups");
    match &batch.sowing {
        None => format!("{crop}: {cups}, for transplant on {when}"),
        Some(sowing) if sowing.seeds_per_cell == 1 => format!(
            "{crop}: {}, one a cell, to have {} for transplant on {when}",
            count(sowing.cells as usize, "seed", "seeds"),
            batch.cups
        ),
        Some(sowing) => format!(
            "{crop}: {}, {} seeds in each, to have {cups} of {} plants for transplant on {when}",
            count(sowing.cells as usize, "cell", "cells"),
            sowing.seeds_per_cell,
            batch.plants
        ),
    }
}

pub(super) fn sow_hints() -> Vec<String> {
    vec![
        "With so many seeds enough come up in 19 of 20 sowings. Keep them moist, not wet, and \
         give light as soon as they show."
            .to_owned(),
    ]
}

// ---- Check ----

/// The band of a solution, such as `EC 1.2-1.6 mS/cm, pH 6-6.5`.
pub(super) fn band(solution: &Solution) -> String {
    format!("{} mS/cm, {}", ec(solution.ec), ph(solution.ph))
}

fn ec((least, most): (Conductivity, Conductivity)) -> String {
    format!("EC {}", from_to(least.get(), most.get()))
}

fn ph((least, most): (f64, f64)) -> String {
    format!("pH {}", from_to(least, most))
}

/// `1.2-1.6`, or one number where both are the same in writing.
fn from_to(least: f64, most: f64) -> String {
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

/// With one loop its band, otherwise how many loops.
pub(super) fn check_summary(
    bands: &[Option<Solution>],
    nursery_only: bool,
    leaving: bool,
) -> String {
    let what = match bands {
        _ if nursery_only => "the seedlings".to_owned(),
        [Some(one)] => format!("{}, {}", ec(one.ec), ph(one.ph)),
        _ => "level, EC and pH".to_owned(),
    };
    if leaving && !nursery_only {
        format!("Fill the tank before you go away; check {what}")
    } else {
        format!("Check {what}")
    }
}

pub(super) fn check_loop(
    name: &str,
    band: Option<&Solution>,
    least: Volume,
    units: Units,
) -> String {
    let level = format!("top up before it falls below {}", least.in_units(units));
    match band {
        Some(band) => format!("{name}: {level}; {}", self::band(band)),
        None => format!(
            "{name}: {level}. No EC and pH suit all that stands here: see the crops' cards."
        ),
    }
}

pub(super) fn check_nursery(cups: usize) -> String {
    format!("Nursery: {} to keep moist", count(cups, "cup", "cups"))
}

pub(super) fn check_rig() -> String {
    "The pump runs, water leaves every tube, roots are white and do not smell.".to_owned()
}

pub(super) fn check_leaving(
    from: NaiveDate,
    until: NaiveDate,
    nursery_only: bool,
    today: NaiveDate,
) -> String {
    let what = if nursery_only {
        "ask somebody to keep the seedlings moist"
    } else {
        "fill the tank to the top, and ask somebody to look in, above all in warm weather"
    };
    format!(
        "Nobody is here from {} until {}: {what}.",
        date(from, today),
        date(until, today)
    )
}

/// One tank that falls low while nobody is there.
pub(super) fn check_falls_low(
    name: &str,
    from: NaiveDate,
    lowest: Volume,
    lacking: Volume,
    units: Units,
) -> String {
    let day = from.format("%-d %B");
    let low = format!("{name} is below its least level from {day}");
    if lacking.get() > 0.0 {
        let lacking = poured(lacking, units);
        format!("{low}, then dry, and its plants go without some {lacking}")
    } else {
        format!("{low} and falls to {}", poured(lowest, units))
    }
}

pub(super) fn check_will_not_last(falls: &[String]) -> String {
    format!(
        "A full tank will not last that long: {}. Have somebody top it up in between, or stand a \
         larger tank beside it.",
        falls.join("; ")
    )
}

pub(super) fn check_hints() -> Vec<String> {
    vec![
        "Careful: unplug the pump before hands go into the water. Correct pH in small steps; \
         acid into water, never water into acid; gloves and goggles."
            .to_owned(),
    ]
}

// ---- Season turn ----

/// One crop of a want takes over from another.
pub(super) struct TakeOver<'a> {
    pub(super) want: &'a str,
    pub(super) from: &'a str,
    pub(super) last: NaiveDate,
    pub(super) to: &'a str,
}

pub(super) fn swap_summary(turns: &[TakeOver]) -> String {
    let turns: Vec<String> = turns
        .iter()
        .map(|t| format!("{} after {}", t.to, t.from))
        .collect();
    headline("Season turn:", &turns)
}

pub(super) fn swap_line(turn: &TakeOver, today: NaiveDate) -> String {
    let last = if turn.last == today {
        "taken for the last time today".to_owned()
    } else if turn.last < today {
        format!("last taken on {}", date(turn.last, today))
    } else {
        format!("still there until {}", date(turn.last, today))
    };
    format!(
        "{}: the first {} today, in place of {} ({last})",
        turn.want, turn.to, turn.from
    )
}
