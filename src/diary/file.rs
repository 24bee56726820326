//! The diary's file: it only ever grows, a whole entry at a time.

use std::collections::BTreeSet;
use std::fs::{File, OpenOptions};
use std::io::{self, ErrorKind, Read, Write};
use std::path::Path;

use crate::diary::entry::Entry;
use crate::diary::line::{self, DiaryFault};
use crate::garden::Garden;

/// The name of the diary beside the garden file.
pub const FILE_NAME: &str = "diary.yaml";

/// What a new diary begins with.
const HEADING: &str =
    "# What happened in the garden, one line each. `steadyleaf record` adds to its end.\n";

/// A diary as read.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Diary {
    /// What happened, in the order in which it was put down.
    pub entries: Vec<Entry>,
    /// Lines that are no entries.
    pub faults: Vec<DiaryFault>,
    /// A hash over its text, in hexadecimal digits; empty if there is no diary.
    pub fingerprint: String,
}

impl Diary {
    /// A garden with the cards of what its diary names, too: what stands there does so whether it
    /// is still wanted or was given.
    #[must_use]
    pub fn add_crops_to(&self, garden: Garden) -> Garden {
        let named = self.entries.iter().filter_map(|e| e.event.crop());
        let named: BTreeSet<&str> = named.collect();
        garden.with_crops(|key| named.contains(key))
    }

    /// Reads a diary's text.
    #[must_use]
    pub fn parse(text: &str) -> Self {
        let (entries, faults) = line::parse_all(text);
        let fingerprint = if text.is_empty() {
            String::new()
        } else {
            crate::garden::file::fingerprint(std::iter::once(text))
        };
        Self {
            entries,
            faults,
            fingerprint,
        }
    }

    fn from_bytes(bytes: &[u8]) -> Self {
        Self::parse(&String::from_utf8_lossy(bytes))
    }
}

/// Reads a diary; an empty one if there is no file.
///
/// # Errors
/// If the system does not let it be read.
pub fn read(path: &Path) -> io::Result<Diary> {
    let mut file = match File::open(path) {
        Err(cause) if cause.kind() == ErrorKind::NotFound => return Ok(Diary::default()),
        opened => opened?,
    };
    // Whoever writes at this moment is waited for.
    file.lock_shared()?;
    let mut bytes = Vec::new();
    file.read_to_end(&mut bytes)?;
    Ok(Diary::from_bytes(&bytes))
}

/// Adds entries to the end of a diary, and gives them back. `decide` makes them from the diary as
/// it stands, or refuses; nobody else writes meanwhile.
///
/// All entries are written at once and reach the disk before this returns. If they cannot be, the
/// diary is as it was.
///
/// # Errors
/// What `decide` refuses with, or what the system says.
pub fn append<E: From<io::Error>>(
    path: &Path,
    mut decide: impl FnMut(&Diary) -> Result<Vec<Entry>, E>,
) -> Result<Vec<Entry>, E> {
    let is_new = !path.exists();
    if is_new {
        // Looked at before the file is made, so that a refusal leaves no empty one behind.
        decide(&Diary::default())?;
    }
    let mut options = OpenOptions::new();
    let mut file = options.read(true).append(true).create(true).open(path)?;
    file.lock()?;
    let added = append_locked(&mut file, decide)?;
    if is_new {
        sync_folder(path);
    }
    Ok(added)
}

/// The file's name reaches the disk, too, where systems let that be asked for.
fn sync_folder(path: &Path) {
    if let Some(folder) = path.parent().filter(|f| !f.as_os_str().is_empty())
        && let Ok(folder) = File::open(folder)
    {
        let _ = folder.sync_all();
    }
}

fn append_locked<E: From<io::Error>>(
    file: &mut File,
    mut decide: impl FnMut(&Diary) -> Result<Vec<Entry>, E>,
) -> Result<Vec<Entry>, E> {
    let mut bytes = Vec::new();
    file.read_to_end(&mut bytes)?;
    let entries = decide(&Diary::from_bytes(&bytes))?;
    if entries.is_empty() {
        return Ok(entries);
    }
    let mut text = String::new();
    match bytes.last() {
        None => text.push_str(HEADING),
        Some(b'\n') => {}
        // A line that was torn off stays as it is; what is new begins on a line of its own.
        Some(_) => text.push('\n'),
    }
    text.extend(entries.iter().map(line::render));
    let written = file
        .write_all(text.as_bytes())
        .and_then(|()| file.sync_all());
    if let Err(cause) = written {
        let _ = file.set_len(bytes.len() as u64);
        return Err(cause.into());
    }
    Ok(entries)
}
