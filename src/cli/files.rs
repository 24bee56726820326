//! Writing files so that a folder holds either all of them, whole, or what it held before.
//!
//! Every file is first written and synced beside its place, then all are renamed into place.
//! A file that somebody else made is never written over.

use std::collections::BTreeSet;
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

/// A place for a file.
#[derive(Debug, Clone)]
pub struct Target {
    /// Where it goes.
    pub path: PathBuf,
    /// Whether what lies there already is a former version of it, and so may be replaced.
    pub is_ours: fn(&str) -> bool,
}

/// A file to write.
#[derive(Debug, Clone)]
pub struct PendingFile {
    /// Where it goes.
    pub target: Target,
    /// What it holds.
    pub contents: String,
}

impl Target {
    /// Looks whether a file may be written here, and writes nothing: worth doing before long
    /// work.
    ///
    /// # Errors
    /// What stands in the way.
    pub fn preflight(&self) -> Result<(), WriteError> {
        self.read_existing()?;
        let folder = folder_of(&self.path);
        let above = folder_of(folder);
        if folder.is_dir() || above.is_dir() {
            Ok(())
        } else if above.exists() {
            Err(WriteError::FileInTheWay(above.to_owned()))
        } else {
            Err(WriteError::NoParent(above.to_owned()))
        }
    }

    /// What lies here, if anything, and if it may be replaced.
    fn read_existing(&self) -> Result<Option<Vec<u8>>, WriteError> {
        let path = &self.path;
        let folder = folder_of(path);
        if folder.exists() && !folder.is_dir() {
            return Err(WriteError::FileInTheWay(folder.to_owned()));
        }
        if path.is_dir() {
            return Err(WriteError::FolderInTheWay(path.clone()));
        }
        match fs::read(path) {
            Err(cause) if cause.kind() == io::ErrorKind::NotFound => Ok(None),
            // A file stands further up where a folder should be.
            Err(cause) if cause.kind() == io::ErrorKind::NotADirectory => Ok(None),
            Err(cause) => Err(write_error(path)(cause)),
            Ok(bytes) if std::str::from_utf8(&bytes).is_ok_and(self.is_ours) => Ok(Some(bytes)),
            Ok(_) => Err(WriteError::NotOurs(path.clone())),
        }
    }
}

/// Looks at all targets as [`Target::preflight`] does, and whether each is a file of its own: the one
/// written last would be all that is left of two.
///
/// # Errors
/// What stands in the way.
pub fn preflight_all<'a>(
    mut targets: impl Iterator<Item = &'a Target> + Clone,
) -> Result<(), WriteError> {
    let mut seen = BTreeSet::new();
    let mut paths = targets.clone().map(|target| &target.path);
    match paths.find(|path| !seen.insert(resolve_place(path))) {
        Some(twice) => Err(WriteError::SamePath(twice.clone())),
        None => targets.try_for_each(Target::preflight),
    }
}

/// The place that a path means, however it is written, whether there is a file yet or not.
fn resolve_place(path: &Path) -> PathBuf {
    let whole = path.canonicalize();
    let in_folder = || {
        let folder = folder_of(path).canonicalize().ok()?;
        Some(folder.join(path.file_name()?))
    };
    // Where the folder is yet to be made, the one above it is there.
    let in_new_folder = || {
        let folder = folder_of(path);
        let above = folder_of(folder).canonicalize().ok()?;
        Some(above.join(folder.file_name()?).join(path.file_name()?))
    };
    whole
        .ok()
        .or_else(in_folder)
        .or_else(in_new_folder)
        .unwrap_or_else(|| path.to_owned())
}

/// Why nothing was written.
#[derive(Debug, thiserror::Error)]
pub enum WriteError {
    /// Somebody else's file lies in the way.
    #[error(
        "{} was not made by steadyleaf, so it is left alone; move it away or choose another place",
        .0.display()
    )]
    NotOurs(PathBuf),
    /// Two files should go to one place.
    #[error("{} would have to hold two files at once; choose another place for one", .0.display())]
    SamePath(PathBuf),
    /// A folder lies where a file should go.
    #[error("{} is a folder, but a file of that name is to be written", .0.display())]
    FolderInTheWay(PathBuf),
    /// A file lies where a folder should be.
    #[error("{} is a file, not a folder; choose a folder", .0.display())]
    FileInTheWay(PathBuf),
    /// The folder above the target does not exist.
    #[error("there is no folder {}; make it first", .0.display())]
    NoParent(PathBuf),
    /// The system would not have it.
    #[error("{} cannot be written: {cause}", path.display())]
    Io {
        /// What was to be written.
        path: PathBuf,
        /// What the system said.
        cause: io::Error,
    },
}

fn write_error(path: &Path) -> impl Fn(io::Error) -> WriteError + '_ {
    move |cause| WriteError::Io {
        path: path.to_owned(),
        cause,
    }
}

/// A draft written and synced beside its place, with what lay there before.
struct StagedFile {
    path: PathBuf,
    file: NamedTempFile,
    former: Option<Vec<u8>>,
}

/// Writes all drafts, or none. A missing folder is made if the one above it exists.
///
/// # Errors
/// If anything stands in the way of any of them; then everything is as it was.
pub fn write_all(pending: &[PendingFile]) -> Result<(), WriteError> {
    let mut made = Vec::new();
    let written = stage(pending, &mut made).and_then(commit);
    if written.is_err() {
        // Only folders that were made here; one that somebody filled meanwhile stays.
        for folder in made.iter().rev() {
            let _ = fs::remove_dir(folder);
        }
    }
    written
}

fn stage(pending: &[PendingFile], made: &mut Vec<PathBuf>) -> Result<Vec<StagedFile>, WriteError> {
    // Look at everything before touching anything.
    preflight_all(pending.iter().map(|draft| &draft.target))?;
    let formers = pending
        .iter()
        .map(|draft| draft.target.read_existing())
        .collect::<Result<Vec<_>, WriteError>>()?;
    pending
        .iter()
        .zip(formers)
        .map(|(draft, former)| {
            let path = &draft.target.path;
            let folder = folder_of(path);
            make_folder(folder, made)?;
            Ok(StagedFile {
                file: write_beside(folder, draft)?,
                path: path.clone(),
                former,
            })
        })
        .collect()
}

fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

fn make_folder(folder: &Path, made: &mut Vec<PathBuf>) -> Result<(), WriteError> {
    if folder.is_dir() {
        return Ok(());
    }
    fs::create_dir(folder).map_err(write_error(folder))?;
    made.push(folder.to_owned());
    Ok(())
}

fn write_beside(folder: &Path, pending: &PendingFile) -> Result<NamedTempFile, WriteError> {
    let told = write_error(&pending.target.path);
    let mut builder = tempfile::Builder::new();
    builder.prefix(".steadyleaf-");
    // Temporary files are private by default; a plan is read by whoever the folder lets in.
    #[cfg(unix)]
    let builder = {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o666))
    };
    let mut file = builder.tempfile_in(folder).map_err(&told)?;
    file.write_all(pending.contents.as_bytes()).map_err(&told)?;
    file.as_file().sync_all().map_err(&told)?;
    Ok(file)
}

/// Renames all into place; if one cannot be, those before it are put back as they were.
fn commit(staged: Vec<StagedFile>) -> Result<(), WriteError> {
    let mut placed: Vec<(PathBuf, Option<Vec<u8>>)> = Vec::new();
    for StagedFile { path, file, former } in staged {
        if let Err(failure) = file.persist(&path) {
            for (path, former) in placed {
                let _ = match former {
                    Some(bytes) => fs::write(&path, bytes),
                    None => fs::remove_file(&path),
                };
            }
            return Err(write_error(&path)(failure.error));
        }
        placed.push((path, former));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rename_that_fails_puts_the_others_back() {
        let folder = tempfile::tempdir().unwrap();
        let (old, new, blocked) = (
            folder.path().join("old"),
            folder.path().join("new"),
            folder.path().join("blocked"),
        );
        fs::write(&old, "before").unwrap();
        fs::create_dir(&blocked).unwrap();
        let staged = [
            (&old, Some(b"before".to_vec())),
            (&new, None),
            (&blocked, None),
        ]
        .map(|(path, former)| StagedFile {
            path: path.clone(),
            file: NamedTempFile::new_in(folder.path()).unwrap(),
            former,
        })
        .into();
        assert!(commit(staged).is_err());
        assert_eq!(fs::read_to_string(&old).unwrap(), "before");
        assert!(!new.exists());
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 2);
    }
}
