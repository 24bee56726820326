//! The library of crop cards: those built in, and a grower's own.

mod reader;
mod sources;

use std::collections::BTreeMap;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use include_dir::{Dir, include_dir};

use crate::garden::bounds::{MAX_CARD_BYTES, MAX_OWN_CARDS};
use crate::garden::crop::Crop;
use crate::reader::decode::{FaultCollector, Fields};
use crate::reader::diagnostic::{Diagnostic, ReadError};
use crate::reader::source::{Source, unreadable_file};
use crate::reader::suggestion::nearest;
use crate::reader::syntax;

static BUILT_IN: Dir<'static> = include_dir!("$CARGO_MANIFEST_DIR/crops");

/// Crop cards by their keys.
#[derive(Debug, Clone, Default)]
pub struct Cards {
    cards: BTreeMap<String, Crop>,
    /// Texts of the grower's own cards, by the names of their files.
    own: BTreeMap<String, String>,
}

impl Cards {
    /// The cards that come with the program. A card that cannot be read would be left out; the
    /// tests see to it that there is none.
    #[must_use]
    pub fn built_in() -> Self {
        let texts = BUILT_IN.files().filter_map(|file| {
            let name = file.path().file_name()?.to_str()?;
            Some((name, file.contents_utf8()?))
        });
        let cards = texts.filter_map(|(name, text)| parse(text, name).ok());
        Self {
            cards: cards.map(|crop| (crop.key.clone(), crop)).collect(),
            own: BTreeMap::new(),
        }
    }

    /// Adds the cards of a folder, `*.yaml`; one of a known crop replaces it. A folder that does
    /// not exist adds nothing.
    ///
    /// # Errors
    /// Everything that is wrong with any of its cards.
    pub fn with_folder(mut self, folder: &Path) -> Result<Self, ReadError> {
        let mut refused: Option<ReadError> = None;
        for (path, name) in card_files(folder)? {
            let read = Source::read(&path, &name, MAX_CARD_BYTES)
                .and_then(|source| Ok((read_source(&source)?, source.text)));
            match read {
                Ok((crop, text)) => {
                    self.cards.insert(crop.key.clone(), crop);
                    self.own.insert(name, text);
                }
                Err(refusal) => {
                    refused = Some(match refused {
                        Some(earlier) => earlier.merge(refusal),
                        None => refusal,
                    });
                }
            }
        }
        refused.map_or(Ok(self), Err)
    }

    /// The card of a crop.
    #[must_use]
    pub fn get(&self, key: &str) -> Option<&Crop> {
        self.cards.get(key)
    }

    /// The key of the card that a word most likely means: it is like the key, or like what the
    /// crop is called in any language.
    pub(crate) fn suggest_key<'a>(&'a self, word: &str) -> Option<&'a str> {
        let names = |crop: &'a Crop| {
            let called_in = crop.translated_names.iter().map(|(_, called)| called);
            let names = [&crop.key, &crop.name].into_iter().chain(called_in);
            names.map(|name| (name.as_str(), crop.key.as_str()))
        };
        let names: Vec<(&str, &str)> = self.iter().flat_map(names).collect();
        let near = nearest(word, names.iter().map(|(name, _)| *name))?;
        let found = names.iter().find(|(name, _)| *name == near);
        found.map(|(_, key)| *key)
    }

    /// All cards in the order of their keys.
    pub fn iter(&self) -> impl Iterator<Item = &Crop> {
        self.cards.values()
    }

    /// Texts of the grower's own cards, in the order of their files' names.
    pub(crate) fn own_texts(&self) -> impl Iterator<Item = &str> {
        self.own.values().map(String::as_str)
    }
}

/// Reads the text of one crop card. `name` is the file's name in messages; its stem is the
/// crop's key.
///
/// # Errors
/// Everything that is wrong with it, contradictions in itself included.
pub fn parse(text: &str, name: &str) -> Result<Crop, ReadError> {
    read_source(&Source::from_text(text, name))
}

fn read_source(source: &Source) -> Result<Crop, ReadError> {
    let root = syntax::parse(source)?;
    let findings = FaultCollector::default();
    let stem = Path::new(&source.name).file_stem();
    let stem = stem.and_then(|stem| stem.to_str()).unwrap_or_default();
    let crop = Fields::from_root("the crop card", &root, &findings, "crop: butterhead")
        .and_then(|fields| reader::crop(fields, stem));
    findings.conclude(crop, source)
}

/// The card files of a folder with their names in messages, in order.
fn card_files(folder: &Path) -> Result<Vec<(PathBuf, String)>, ReadError> {
    let folder_name = folder
        .file_name()
        .map_or_else(String::new, |name| name.to_string_lossy().into_owned());
    // Only where there is none may cards be left out without a word.
    let listing = match std::fs::read_dir(folder) {
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(Vec::new()),
        listing => listing.and_then(Iterator::collect::<Result<Vec<_>, _>>),
    };
    let listing =
        listing.map_err(|error| ReadError::single(unreadable_folder(&folder_name, &error)))?;
    let mut files: Vec<(PathBuf, String)> = listing
        .into_iter()
        .map(|entry| entry.path())
        .filter(|path| path.extension().is_some_and(|end| end == "yaml"))
        .filter_map(|path| {
            let name = path.file_name()?.to_string_lossy().into_owned();
            Some((path, format!("{folder_name}/{name}")))
        })
        .collect();
    files.sort_by(|a, b| a.1.cmp(&b.1));
    if files.len() > MAX_OWN_CARDS {
        return Err(ReadError::single(Diagnostic::for_file(
            &folder_name,
            format!(
                "the folder `{folder_name}` holds {} crop cards",
                files.len()
            ),
            format!("at most {MAX_OWN_CARDS} are read"),
        )));
    }
    Ok(files)
}

fn unreadable_folder(folder_name: &str, error: &io::Error) -> Diagnostic {
    match error.kind() {
        ErrorKind::NotADirectory => Diagnostic::for_file(
            folder_name,
            format!("`{folder_name}` is a file, and a folder of crop cards is looked for there"),
            "give the file another name, or put it into a folder of this name",
        ),
        _ => unreadable_file(folder_name, error),
    }
}
