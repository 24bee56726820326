//! One crop card, checked against itself.

use crate::garden::bounds;
use crate::garden::cards::sources;
use crate::garden::crop::{
    BoltingRule, Cardinals, Crop, CropCoefficient, HarvestHabit, LightNeed, Propagation, Seed,
    Size, SolutionRange, Stage,
};
use crate::reader::decode::{Fields, KeyedValue, collect_all, suggestion_text};
use crate::reader::suggestion::{list_with_and, shorten};
use crate::text::Language;
use crate::units::Temperature;

/// A crop card whose key must be the stem of its file's name.
pub(super) fn crop(f: Fields<'_>, stem: &str) -> Option<Crop> {
    let key = f.required("crop", "crop: butterhead", |e| key(e, stem));
    let called = f.required("called", "called: butterhead lettuce", names);
    let botanical = f.required("botanical", "botanical: Lactuca sativa", |e| e.name());
    let harvest = f.required(
        "harvest",
        "harvest: { habit: head, each: 150 g, holds: 6 days }",
        harvest,
    );
    let nursery = f.required("nursery", STAGE_EXAMPLE, stage);
    let hole = f.required("hole", STAGE_EXAMPLE, stage);
    let temperature = f.required("temperature", CARDINALS_EXAMPLE, cardinals);
    let light = f.required("light", "light: { least: 10 mol, wanted: 17 mol }", light);
    let bolts = f.required("bolts", "bolts: []", bolting_rules);
    let size = f.required(
        "size",
        "size: { seedling: 7 cm, spread: 18 cm, height: 18 cm }",
        size,
    );
    let solution = f.required(
        "solution",
        "solution: { ec: [1.2 mS/cm, 1.8 mS/cm], ph: [5.8, 6.5] }",
        solution,
    );
    let starts = f.optional_or("starts", Propagation::Seed, propagation);
    let seed = f.required(
        "seed",
        "seed: { germination: 90 %, losses: 5 %, keeps: 6 years, per_cup: 1 }",
        |e| seed(e, starts.unwrap_or_default()),
    );
    let coefficient = f.required(
        "coefficient",
        "coefficient: { young: 0.7, full: 1 }",
        coefficient,
    );
    let summer = f.required("summer", "summer: Shade it at noon.", |e| e.text());
    let winter = f.required("winter", "winter: Give it lamps.", |e| e.text());
    if let Some(temperature) = &temperature {
        check_reference(&f, "nursery", nursery.as_ref(), temperature);
        check_reference(&f, "hole", hole.as_ref(), temperature);
    }
    let spots: Vec<_> = f
        .entries()
        .into_iter()
        .flat_map(sources::card_keys)
        .collect();
    let sources = f.required("sources", "sources: { nursery: common practice }", |e| {
        sources::read(e, &spots)
    });
    f.finish();
    let (called, called_in) = called?;
    Some(Crop {
        key: key?,
        name: called,
        translated_names: called_in,
        botanical: botanical?,
        harvest: harvest?,
        nursery: nursery?,
        hole: hole?,
        temperature: temperature?,
        light: light?,
        bolting_rules: bolts?,
        size: size?,
        solution: solution?,
        propagation: starts?,
        seed: seed?,
        crop_coefficient: coefficient?,
        summer: summer?.to_owned(),
        winter: winter?.to_owned(),
        sources: sources?,
    })
}

/// What the crop is called: one name for all languages, or one in each, English the usual.
fn names(entry: KeyedValue<'_>) -> Option<(String, Vec<(Language, String)>)> {
    const EXAMPLE: &str = "called: { en: butterhead lettuce, es: lechuga mantecosa }";
    if !entry.is_group() {
        return Some((entry.name()?, Vec::new()));
    }
    let names = collect_all(entry.entries(EXAMPLE)?.into_iter().map(|e| {
        let name = e.name();
        Some((language(e)?, name?))
    }))?;
    let usual = names.iter().find(|(l, _)| *l == Language::ENGLISH);
    match usual.or(names.first()) {
        Some((_, usual)) => Some((usual.clone(), names.clone())),
        None => entry.reject(
            "`called` has no name",
            "",
            format!("write it like `{EXAMPLE}`"),
        ),
    }
}

/// The language that a key stands for.
fn language(entry: KeyedValue<'_>) -> Option<Language> {
    Language::from_code(entry.key).or_else(|| {
        let codes: Vec<&str> = Language::all().map(Language::code).collect();
        entry.faults.report(
            entry.key_marker(),
            format!("there is no language `{}` here", shorten(entry.key)),
            suggestion_text(entry.key, codes.iter().copied()),
            format!("names can be given in {}", list_with_and(codes)),
        );
        None
    })
}

const STAGE_EXAMPLE: &str = "{ days: 24 days, day: 24 C, night: 19 C, light: 17 mol, hours: 16 h }";
const CARDINALS_EXAMPLE: &str =
    "temperature: { base: 4 C, best: 24 C, limit: 35 C, coldest: -2 C, warmest: 36 C }";

fn key(entry: KeyedValue<'_>, stem: &str) -> Option<String> {
    let key = entry.name()?;
    let fits = |c: char| c.is_alphanumeric() && !c.is_uppercase() || c == '-';
    if !key.chars().all(fits) {
        return entry.reject(
            format!("`{key}` cannot be the key of a crop"),
            "",
            "keys are written in small letters, digits and `-`, such as `pak-choi`",
        );
    }
    if key != stem {
        return entry.reject(
            format!("this card is of `{key}`, but its file is named for `{stem}`"),
            "",
            format!("name the file `{key}.yaml`, or write `crop: {stem}`"),
        );
    }
    Some(key)
}

/// The word for how a crop is harvested.
#[derive(Clone, Copy, PartialEq)]
enum HabitKind {
    Head,
    Cut,
    Pick,
}

fn harvest(entry: KeyedValue<'_>) -> Option<HarvestHabit> {
    let f = entry.fields(
        "this harvest",
        "harvest: { habit: head, each: 150 g, holds: 6 days }",
    )?;
    let habit = f.required("habit", "habit: head", |e| {
        e.choice(&[
            ("head", HabitKind::Head),
            ("cut", HabitKind::Cut),
            ("pick", HabitKind::Pick),
        ])
    });
    let harvest = match habit {
        None => {
            f.accept_keys(&[
                "each",
                "holds",
                "first",
                "later",
                "cuts",
                "between",
                "leaves",
                "each_week",
                "lasts",
            ]);
            None
        }
        Some(HabitKind::Head) => head(&f),
        Some(HabitKind::Cut) => cut(&f),
        Some(HabitKind::Pick) => pick(&f),
    };
    f.finish();
    harvest
}

/// Tells of keys of other habits.
fn reject_keys_of_other_habits(f: &Fields<'_>, habit: HabitKind) {
    let keys = [
        ("each", HabitKind::Head, "a `head` harvest"),
        ("first", HabitKind::Cut, "a `cut` harvest"),
        ("later", HabitKind::Cut, "a `cut` harvest"),
        ("cuts", HabitKind::Cut, "a `cut` harvest"),
        ("between", HabitKind::Cut, "a `cut` harvest"),
        ("leaves", HabitKind::Cut, "a `cut` harvest"),
        ("each_week", HabitKind::Pick, "a `pick` harvest"),
        ("lasts", HabitKind::Pick, "a `pick` harvest"),
    ];
    for (key, owner, words) in keys {
        if owner != habit {
            f.reject_keys_of(&[(key, words)], "leave it out, or state another `habit`");
        }
    }
}

fn head(f: &Fields<'_>) -> Option<HarvestHabit> {
    reject_keys_of_other_habits(f, HabitKind::Head);
    let each = f.required("each", "each: 150 g", |e| e.quantity(&bounds::YIELD));
    let holds = f.required("holds", "holds: 6 days", |e| {
        e.quantity(&bounds::FIELD_HOLDING)
    });
    Some(HarvestHabit::Head {
        each: each?,
        field_holding: holds?,
    })
}

fn cut(f: &Fields<'_>) -> Option<HarvestHabit> {
    reject_keys_of_other_habits(f, HabitKind::Cut);
    let first = f.required("first", "first: 30 g", |e| e.quantity(&bounds::YIELD));
    let later = f.required("later", "later: 35 g", |e| e.quantity(&bounds::YIELD));
    let cuts = f.required("cuts", "cuts: 4", |e| e.count(&bounds::CUTS));
    let between = f.required("between", "between: 15 days", |e| {
        e.quantity(&bounds::STAGE_DAYS)
    });
    let leaves = f.required("leaves", "leaves: 45 %", |e| {
        e.quantity(&bounds::RESIDUAL_CANOPY)
    });
    let holds = f.required("holds", "holds: 5 days", |e| {
        e.quantity(&bounds::FIELD_HOLDING)
    });
    Some(HarvestHabit::Cut {
        first: first?,
        later: later?,
        cuts: cuts?,
        regrowth_days: between?,
        residual_canopy: leaves?,
        field_holding: holds?,
    })
}

fn pick(f: &Fields<'_>) -> Option<HarvestHabit> {
    reject_keys_of_other_habits(f, HabitKind::Pick);
    let each_week = f.required("each_week", "each_week: 35 g", |e| {
        e.quantity(&bounds::YIELD)
    });
    let lasts = f.required("lasts", "lasts: 20 weeks", |e| {
        e.quantity(&bounds::HARVEST_PERIOD)
    });
    let holds = f.required("holds", "holds: 3 days", |e| {
        e.quantity(&bounds::FIELD_HOLDING)
    });
    Some(HarvestHabit::Pick {
        each_week: each_week?,
        harvest_period: lasts?,
        field_holding: holds?,
    })
}

fn stage(entry: KeyedValue<'_>) -> Option<Stage> {
    let f = entry.fields("this stage", STAGE_EXAMPLE)?;
    let days = f.required("days", "days: 24 days", |e| e.quantity(&bounds::STAGE_DAYS));
    let day = f.required("day", "day: 24 C", |e| {
        e.quantity(&bounds::CARD_TEMPERATURE)
    });
    let night = f.required("night", "night: 19 C", |e| {
        e.quantity(&bounds::CARD_TEMPERATURE)
    });
    let light = f.required("light", "light: 17 mol", |e| {
        e.quantity(&bounds::CARD_LIGHT)
    });
    let hours = f.required("hours", "hours: 16 h", |e| e.quantity(&bounds::CARD_HOURS));
    if let (Some(day), Some(night)) = (day, night)
        && night > day
    {
        f.reject(
            "night",
            format!("the night, at {night}, is warmer than the day"),
            format!("the day has {day}"),
            "",
        );
    }
    f.finish();
    Some(Stage {
        days: days?,
        day: day?,
        night: night?,
        dli: light?,
        photoperiod: hours?,
    })
}

fn cardinals(entry: KeyedValue<'_>) -> Option<Cardinals> {
    let f = entry.fields("the temperatures", CARDINALS_EXAMPLE)?;
    let read = |key, example| {
        f.required(key, example, |e: KeyedValue<'_>| {
            e.quantity(&bounds::CARD_TEMPERATURE)
        })
    };
    let base = read("base", "base: 4 C");
    let best = read("best", "best: 24 C");
    let limit = read("limit", "limit: 35 C");
    let coldest = read("coldest", "coldest: -2 C");
    let warmest = read("warmest", "warmest: 36 C");
    const GROWTH: &str = "growth stops at `base`, is fastest at `best`, and stops again at `limit`";
    const SURVIVAL: &str = "colder than `coldest` or warmer than `warmest` spoils the plant";
    let in_order = [
        check_below(&f, ("base", base), ("best", best), GROWTH),
        check_below(&f, ("best", best), ("limit", limit), GROWTH),
        check_below(&f, ("coldest", coldest), ("warmest", warmest), SURVIVAL),
    ];
    f.finish();
    // What follows from temperatures out of order need not be told as well.
    in_order.into_iter().all(|ordered| ordered).then_some(())?;
    Some(Cardinals {
        base: base?,
        optimum: best?,
        maximum: limit?,
        coldest: coldest?,
        warmest: warmest?,
    })
}

/// Tells of a temperature that is not below another; true if it is, or cannot be known.
fn check_below(
    f: &Fields<'_>,
    (low_key, low): (&str, Option<Temperature>),
    (high_key, high): (&str, Option<Temperature>),
    help: &str,
) -> bool {
    let (Some(low), Some(high)) = (low, high) else {
        return true;
    };
    if low >= high {
        f.reject(
            low_key,
            format!("`{low_key}`, {low}, is not below `{high_key}`, {high}"),
            "",
            help,
        );
    }
    low < high
}

/// The temperature at which the stated days were seen must be one at which the crop grows.
fn check_reference(f: &Fields<'_>, key: &str, stage: Option<&Stage>, cardinals: &Cardinals) {
    let grows = |t| t > cardinals.base && t < cardinals.maximum;
    if let Some(stage) = stage
        && !(grows(stage.day) && grows(stage.night))
    {
        f.reject(
            key,
            format!("the crop would not grow at the temperatures of its `{key}` stage"),
            format!(
                "it grows between {} and {}",
                cardinals.base, cardinals.maximum
            ),
            format!("check `day` and `night` of `{key}`, and `base` and `limit` of `temperature`"),
        );
    }
}

fn light(entry: KeyedValue<'_>) -> Option<LightNeed> {
    let f = entry.fields("the light", "light: { least: 10 mol, wanted: 17 mol }")?;
    let least = f.required("least", "least: 10 mol", |e| {
        e.quantity(&bounds::CARD_LIGHT)
    });
    let wanted = f.required("wanted", "wanted: 17 mol", |e| {
        e.quantity(&bounds::CARD_LIGHT)
    });
    if let (Some(least), Some(wanted)) = (least, wanted)
        && least > wanted
    {
        f.reject(
            "least",
            "the crop needs more light at the least than it wants",
            format!("`wanted` is {wanted}"),
            "",
        );
    }
    f.finish();
    Some(LightNeed {
        minimum_dli: least?,
        target_dli: wanted?,
    })
}

fn bolting_rules(entry: KeyedValue<'_>) -> Option<Vec<BoltingRule>> {
    const EXAMPLE: &str = "bolts: [{ mean_above: 24 C, day_longer_than: 14 h, for: 7 days }]";
    let items = entry.items_or_empty(EXAMPLE)?;
    collect_all(items.into_iter().map(|e| bolting_rule(e, EXAMPLE)))
}

fn bolting_rule(entry: KeyedValue<'_>, example: &str) -> Option<BoltingRule> {
    let f = entry.fields("this rule of bolting", example)?;
    let mean_above = f.optional("mean_above", |e| e.quantity(&bounds::CARD_TEMPERATURE));
    let mean_below = f.optional("mean_below", |e| e.quantity(&bounds::CARD_TEMPERATURE));
    let day_longer_than = f.optional("day_longer_than", |e| e.quantity(&bounds::CARD_HOURS));
    let for_days = f.required("for", "for: 7 days", |e| e.quantity(&bounds::STAGE_DAYS));
    if !["mean_above", "mean_below", "day_longer_than"]
        .iter()
        .any(|key| f.has(key))
    {
        f.reject(
            "for",
            "this rule of bolting has no condition",
            "",
            "state `mean_above`, `mean_below` or `day_longer_than`; write `bolts: []` for a crop that never bolts",
        );
    }
    if let (Some(Some(above)), Some(Some(below))) = (mean_above, mean_below)
        && above >= below
    {
        f.reject(
            "mean_above",
            "no day is both above and below these two",
            format!("`mean_below` is {below}"),
            "make two rules of them",
        );
    }
    f.finish();
    Some(BoltingRule {
        mean_above: mean_above?,
        mean_below: mean_below?,
        day_longer_than: day_longer_than?,
        for_days: for_days?,
    })
}

fn size(entry: KeyedValue<'_>) -> Option<Size> {
    let f = entry.fields(
        "the size",
        "size: { seedling: 7 cm, spread: 18 cm, height: 18 cm }",
    )?;
    let seedling = f.required("seedling", "seedling: 7 cm", |e| {
        e.quantity(&bounds::PLANT_SIZE)
    });
    let spread = f.required("spread", "spread: 18 cm", |e| {
        e.quantity(&bounds::PLANT_SIZE)
    });
    let height = f.required("height", "height: 18 cm", |e| {
        e.quantity(&bounds::PLANT_SIZE)
    });
    if let (Some(seedling), Some(spread)) = (seedling, spread)
        && seedling > spread
    {
        f.reject(
            "seedling",
            "a seedling is not wider than the ripe plant",
            format!("`spread` is {spread}"),
            "",
        );
    }
    f.finish();
    Some(Size {
        seedling: seedling?,
        spread: spread?,
        height: height?,
    })
}

fn solution(entry: KeyedValue<'_>) -> Option<SolutionRange> {
    let f = entry.fields(
        "the solution",
        "solution: { ec: [1.2 mS/cm, 1.8 mS/cm], ph: [5.8, 6.5] }",
    )?;
    let ec = f.required("ec", "ec: [1.2 mS/cm, 1.8 mS/cm]", |e| {
        range(e, "ec: [1.2 mS/cm, 1.8 mS/cm]", |e| e.quantity(&bounds::EC))
    });
    let ph = f.required("ph", "ph: [5.8, 6.5]", |e| {
        range(e, "ph: [5.8, 6.5]", |e| e.number(&bounds::PH))
    });
    f.finish();
    Some(SolutionRange { ec: ec?, ph: ph? })
}

/// Least and most, in this order.
fn range<'a, T: Copy + PartialOrd>(
    entry: KeyedValue<'a>,
    example: &str,
    read: impl FnMut(KeyedValue<'a>) -> Option<T>,
) -> Option<(T, T)> {
    let (least, most) = entry.read_pair(example, read)?;
    if least > most {
        return entry.reject(
            format!("`{}` runs backwards", entry.key),
            "",
            format!("the least comes first: `{example}`"),
        );
    }
    Some((least, most))
}

fn propagation(entry: KeyedValue<'_>) -> Option<Propagation> {
    let ways = [Propagation::Seed, Propagation::Cutting, Propagation::Plug];
    entry.choice(&ways.map(|way| (way.key_word(), way)))
}

fn seed(entry: KeyedValue<'_>, starts: Propagation) -> Option<Seed> {
    let f = entry.fields(
        "the seed",
        "seed: { germination: 90 %, losses: 5 %, keeps: 6 years, per_cup: 1 }",
    )?;
    let germination = f.required("germination", "germination: 90 %", |e| {
        e.quantity(&bounds::GERMINATION)
    });
    let losses = f.required("losses", "losses: 5 %", |e| e.quantity(&bounds::LOSSES));
    let keeps = if starts == Propagation::Seed {
        let keeps = |e: KeyedValue<'_>| e.quantity(&bounds::SEED_VIABILITY);
        f.required("keeps", "keeps: 6 years", keeps).map(Some)
    } else {
        f.accept_keys(&["keeps"]);
        if f.has("keeps") {
            f.reject(
                "keeps",
                "cuttings and plugs do not keep",
                format!("this crop is raised from a {}", starts.key_word()),
                "leave `keeps` out, or write `starts: seed`",
            );
        }
        Some(None)
    };
    let per_cup = f.required("per_cup", "per_cup: 1", |e| {
        e.count(&bounds::PLANTS_PER_CUP)
    });
    let warmest = f.optional("warmest", |e| e.quantity(&bounds::CARD_TEMPERATURE));
    f.finish();
    Some(Seed {
        germination: germination?,
        losses: losses?,
        seed_viability: keeps?,
        per_cup: per_cup?,
        warmest: warmest?,
    })
}

fn coefficient(entry: KeyedValue<'_>) -> Option<CropCoefficient> {
    let f = entry.fields("the coefficients", "coefficient: { young: 0.7, full: 1 }")?;
    let young = f.required("young", "young: 0.7", |e| {
        e.number(&bounds::CROP_COEFFICIENT)
    });
    let full = f.required("full", "full: 1", |e| e.number(&bounds::CROP_COEFFICIENT));
    f.finish();
    Some(CropCoefficient {
        initial: young?,
        mid_season: full?,
    })
}
