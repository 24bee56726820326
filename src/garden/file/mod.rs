//! The garden file: all that the grower states, read and checked.
//!
//! [`read`] opens the file, its weather file and the grower's own crop cards; [`parse`] takes a
//! text alone. Both tell everything that is wrong at once.

mod climate;
mod place;
mod plumbing;
mod rig;
mod schedule;
mod seed_plants;
mod seeds;
mod wants;

use std::cell::RefCell;
use std::path::{Path, PathBuf};

use crate::fingerprint::hexadecimal;
use crate::garden::Garden;
use crate::garden::bounds::{self, MAX_GARDEN_FILE_BYTES};
use crate::garden::cards::Cards;
use crate::garden::crop::Crop;
use crate::reader::decode::{FaultCollector, Fields, KeyedValue};
use crate::reader::diagnostic::{Diagnostic, ReadError};
use crate::reader::source::Source;
use crate::reader::syntax;
use crate::text::Language;
use crate::units::Units;

/// The name of the garden file in a folder.
pub const FILE_NAME: &str = "garden.yaml";

/// A garden and where it came from.
#[derive(Debug, Clone)]
pub struct LoadedGarden {
    /// The garden.
    pub garden: Garden,
    /// The garden file itself, also where its folder was named.
    pub path: PathBuf,
    /// A hash over the texts of the garden file, its weather file and the grower's own crop
    /// cards, in hexadecimal digits: the same on every machine, whatever its line ends.
    pub fingerprint: String,
}

/// Reads a garden file, or the `garden.yaml` of a folder, with the weather file that it names
/// and the crop cards in the `crops` folder beside it.
///
/// # Errors
/// Everything that is wrong with the garden file, or else with the crop cards.
pub fn read(path: &Path) -> Result<LoadedGarden, ReadError> {
    let path = if path.is_dir() {
        path.join(FILE_NAME)
    } else {
        path.to_owned()
    };
    let name = file_name(&path);
    let source = match Source::read(&path, &name, MAX_GARDEN_FILE_BYTES) {
        Err(_) if name == FILE_NAME && !path.exists() => return Err(no_garden_in_folder()),
        other => other?,
    };
    let folder = path.parent().unwrap_or(Path::new(""));
    let cards = Cards::built_in().with_folder(&folder.join("crops"))?;
    let surroundings = FileContext::with_folder(&cards, folder);
    let garden = read_source(&source, &surroundings)?;

    let weather = surroundings.weather_text.into_inner();
    let texts = [source.text, weather.unwrap_or_default()];
    let texts = texts.iter().map(String::as_str).chain(cards.own_texts());
    Ok(LoadedGarden {
        garden,
        path,
        fingerprint: fingerprint(texts),
    })
}

/// Reads the text of a garden file without opening any other file. `name` is the file's name in
/// messages.
///
/// # Errors
/// Everything that is wrong with it. A `weather:` key is, as there is no folder to look in.
pub fn parse(text: &str, name: &str, cards: &Cards) -> Result<Garden, ReadError> {
    let source = Source::from_text(text, name);
    read_source(&source, &FileContext::without_folder(cards))
}

/// What a garden file refers to.
struct FileContext<'a> {
    cards: &'a Cards,
    /// Where to look for the weather file.
    folder: Option<&'a Path>,
    /// The weather file's text, once it has been read.
    weather_text: RefCell<Option<String>>,
}

impl<'a> FileContext<'a> {
    fn without_folder(cards: &'a Cards) -> Self {
        Self {
            cards,
            folder: None,
            weather_text: RefCell::new(None),
        }
    }

    fn with_folder(cards: &'a Cards, folder: &'a Path) -> Self {
        Self {
            folder: Some(folder),
            ..Self::without_folder(cards)
        }
    }
}

fn read_source(source: &Source, surroundings: &FileContext<'_>) -> Result<Garden, ReadError> {
    let root = syntax::parse(source)?;
    let findings = FaultCollector::default();
    let garden = Fields::from_root("the garden file", &root, &findings, "garden: Lantern Court")
        .and_then(|top| garden(top, surroundings));
    findings.conclude(garden, source)
}

fn garden(top: Fields<'_>, surroundings: &FileContext<'_>) -> Option<Garden> {
    // First of all, as limits are told in these units.
    let units = top.optional_or("units", Units::Metric, |e| {
        e.choice(&[("metric", Units::Metric), ("imperial", Units::Imperial)])
    });
    top.faults().units.set(units.unwrap_or_default());

    let language = top.optional_or("language", Language::ENGLISH, language);
    let name = top.required("garden", "garden: Lantern Court", |e| e.name());
    let start = top.required("start", "start: 2027-03-01", |e| e.date());
    let weeks = top.optional_or("weeks", 52, |e| e.count(&bounds::WEEKS));
    let place = top.required("place", "place: { latitude: 39.5, cover: indoors }", |e| {
        place::read(e, surroundings)
    });
    let loops = top.required("loops", "loops: [{ loop: roof, ... }]", rig::read);
    let holes = loops.as_deref().map_or(0, rig::hole_count);
    if let Some(loops) = &loops {
        rig::check_size(&top, loops);
    }
    let nursery = top.optional_or("nursery", rig::default_nursery(holes), |e| {
        rig::nursery(e, holes)
    });
    let wants = top.required(
        "wants",
        "wants: [{ want: salad, from_crops: [butterhead], each_week: 6 heads }]",
        |e| wants::read(e, surroundings.cards),
    );
    let seedlings = top.optional_or("seedlings", Vec::new(), |e| {
        wants::seedlings(e, surroundings.cards, start)
    });
    let seeds = top.optional_or("seeds", Vec::new(), |e| {
        seeds::read(e, surroundings.cards, start)
    });
    let keep_for_seed = top.optional_or("keep_for_seed", Vec::new(), |e| {
        seed_plants::read(e, surroundings.cards, loops.as_deref())
    });
    let rhythm = top.optional_or("rhythm", schedule::default_schedule(), schedule::read);
    let spacing = top.optional_or("spacing", schedule::default_spacing(), schedule::spacing);
    if let Some(rhythm) = &rhythm {
        schedule::check_timezone(&top, rhythm);
    }
    // A nursery not stated has a cell for every hole, of which nothing is known without loops.
    if let (Some(seedlings), Some(nursery), Some(_)) = (&seedlings, &nursery, &loops) {
        wants::check_cells(&top, seedlings, nursery);
    }
    top.finish();

    let (wants, seedlings, language) = (wants?, seedlings?, language?);
    let keep_for_seed = keep_for_seed?;
    let seed_crops: Vec<&str> = keep_for_seed.iter().map(|s| s.crop.as_str()).collect();
    let is_named = |crop: &Crop| wants::is_named(&crop.key, &wants, &seedlings, &seed_crops);
    let cards = surroundings.cards.iter().cloned();
    let cards = cards.map(|crop| crop.with_language(language));
    let (crops, other_crops) = cards.partition(is_named);
    Some(Garden {
        name: name?,
        start: start?,
        weeks: weeks?,
        units: units?,
        language,
        place: place?,
        loops: loops?,
        nursery: nursery?,
        wants,
        seedlings,
        seeds: seeds?,
        keep_for_seed,
        rhythm: rhythm?,
        spacing: spacing?,
        crops,
        other_crops,
    })
}

/// A language by its code, or by its name in English or in itself.
fn language(entry: KeyedValue<'_>) -> Option<Language> {
    let languages: Vec<Language> = Language::all().collect();
    let names = ["language-own-name", "language-english-name"];
    let names: Vec<(String, Language)> = languages
        .iter()
        .flat_map(|l| names.map(|name| (l.text(name), *l)))
        .collect();
    let codes = languages.iter().map(|l| (l.code(), *l));
    let names = names.iter().map(|(name, l)| (name.as_str(), *l));
    entry.choice(&codes.chain(names).collect::<Vec<_>>())
}

fn file_name(path: &Path) -> String {
    path.file_name().map_or_else(
        || path.to_string_lossy().into_owned(),
        |name| name.to_string_lossy().into_owned(),
    )
}

fn no_garden_in_folder() -> ReadError {
    ReadError::single(Diagnostic::for_file(
        FILE_NAME,
        format!("there is no `{FILE_NAME}` in this folder"),
        "`steadyleaf start` with the name of a new folder writes one to begin with",
    ))
}

/// A hash over texts, each closed with a zero byte, whatever their line ends.
pub(crate) fn fingerprint<'a>(texts: impl Iterator<Item = &'a str>) -> String {
    hexadecimal(texts.flat_map(|text| text.bytes().filter(|&b| b != b'\r').chain([0])))
}

/// Names that must differ from one another.
struct UniqueNames {
    /// What bears them, in the plural.
    what: &'static str,
    used: RefCell<Vec<String>>,
}

impl UniqueNames {
    fn new(what: &'static str) -> Self {
        Self {
            what,
            used: RefCell::new(Vec::new()),
        }
    }

    /// Reads a name that no other bears.
    fn read(&self, entry: KeyedValue<'_>) -> Option<String> {
        let name = entry.name()?;
        if self.used.borrow().contains(&name) {
            return entry.reject(
                format!("there are two {} named `{name}`", self.what),
                "the second one",
                "give each a name of its own",
            );
        }
        self.used.borrow_mut().push(name.clone());
        Some(name)
    }
}
