//! Result folders: they appear as a whole or not at all.

use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use serde::Deserialize;

use crate::error::ReportError;

/// The program's name as it stands in every `summary.json`.
pub(crate) const PROGRAM: &str = "evenglass";

/// How many names for the hidden folder are tried before giving up.
const NAMES_TRIED: u32 = 1000;

/// A result folder in the making.
///
/// Files go to a hidden folder beside the target, hence on the same file system.
/// [`ResultFolder::commit`] puts it in the target's place; dropping it instead
/// removes it, and an earlier result stays as it was.
#[derive(Debug)]
pub struct ResultFolder {
    target: PathBuf,
    hidden: PathBuf,
}

impl ResultFolder {
    /// Gets ready to write a result to `target`, which need not exist; missing parents are made.
    ///
    /// # Errors
    /// If `target` is a file, holds the current folder, holds anything but an
    /// earlier result of this program, or if the folder above it cannot be written.
    pub fn prepare(target: &Path) -> Result<Self, ReportError> {
        let target = resolve(target)?;
        check_replaceable(&target)?;
        let hidden = make_hidden(&target, "new")?;
        Ok(Self { target, hidden })
    }

    /// Where the files are until [`ResultFolder::commit`].
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.hidden
    }

    /// Where they will be afterwards.
    #[must_use]
    pub fn target(&self) -> &Path {
        &self.target
    }

    /// Puts the finished folder in the target's place.
    ///
    /// # Errors
    /// If the target has become something else meanwhile or the system refuses;
    /// the earlier result is then put back.
    pub fn commit(self) -> Result<(), ReportError> {
        check_replaceable(&self.target)?;
        let replace = |source| ReportError::Replace { path: self.target.clone(), source };
        if !self.target.exists() {
            return fs::rename(&self.hidden, &self.target).map_err(replace);
        }
        // No portable call swaps two folders, so the old one steps aside for a moment.
        let aside = make_hidden(&self.target, "old")?;
        let old = aside.join("result");
        let moved = fs::rename(&self.target, &old).and_then(|()| {
            fs::rename(&self.hidden, &self.target).inspect_err(|_| {
                // The move back undoes a move that just succeeded; if even that fails, the
                // old result is still whole in the folder beside.
                let _ = fs::rename(&old, &self.target);
            })
        });
        if moved.is_ok() {
            let _ = fs::remove_dir_all(&aside);
        } else {
            // Only removed when empty, hence never with the old result inside.
            let _ = fs::remove_dir(&aside);
        }
        moved.map_err(replace)
    }

    /// Writes one file into the folder.
    pub(crate) fn write(
        &self,
        name: &str,
        content: impl FnOnce(&mut BufWriter<File>) -> io::Result<()>,
    ) -> Result<(), ReportError> {
        let file = File::create(self.hidden.join(name));
        file.and_then(|file| {
            let mut out = BufWriter::with_capacity(1 << 16, file);
            content(&mut out)?;
            out.flush()
        })
        .map_err(|source| ReportError::Write { path: self.target.join(name), source })
    }
}

impl Drop for ResultFolder {
    fn drop(&mut self) {
        // After a commit it is gone already; otherwise there is nobody left to tell.
        let _ = fs::remove_dir_all(&self.hidden);
    }
}

/// The target as an absolute path with its parent folder made, links followed.
fn resolve(target: &Path) -> Result<PathBuf, ReportError> {
    let wrong = |source| ReportError::Write { path: target.to_path_buf(), source };
    if target.exists() {
        return target.canonicalize().map_err(wrong);
    }
    let absolute = std::path::absolute(target).map_err(wrong)?;
    let (Some(parent), Some(name)) = (absolute.parent(), absolute.file_name()) else {
        return Err(ReportError::NotAFolder { path: target.to_path_buf() });
    };
    fs::create_dir_all(parent).map_err(wrong)?;
    Ok(parent.canonicalize().map_err(wrong)?.join(name))
}

/// Refuses everything that is not ours to replace.
fn check_replaceable(target: &Path) -> Result<(), ReportError> {
    let path = target.to_path_buf();
    let Ok(metadata) = fs::symlink_metadata(target) else {
        return Ok(());
    };
    if !metadata.is_dir() {
        return Err(ReportError::NotAFolder { path });
    }
    let here = std::env::current_dir().and_then(|here| here.canonicalize());
    if target.parent().is_none() || here.is_ok_and(|here| here.starts_with(target)) {
        return Err(ReportError::CurrentFolder { path });
    }
    let mut entries =
        fs::read_dir(target).map_err(|source| ReportError::Write { path: path.clone(), source })?;
    if entries.next().is_some() && !is_own_result(target) {
        return Err(ReportError::Foreign { path });
    }
    Ok(())
}

/// Whether `folder` holds a `summary.json` that names this program.
fn is_own_result(folder: &Path) -> bool {
    #[derive(Deserialize)]
    struct Head {
        program: String,
    }
    let path = folder.join("summary.json");
    // Opening a pipe would wait for ever, so only plain files are read.
    if !fs::metadata(&path).is_ok_and(|m| m.is_file()) {
        return false;
    }
    let Ok(file) = File::open(path) else {
        return false;
    };
    serde_json::from_reader::<_, Head>(io::BufReader::new(file))
        .is_ok_and(|head| head.program == PROGRAM)
}

/// Makes a hidden folder beside `target` that nobody else uses.
fn make_hidden(target: &Path, purpose: &str) -> Result<PathBuf, ReportError> {
    let name = target.file_name().unwrap_or_default().to_string_lossy();
    // A name near the system's limit would not survive the additions.
    let name: String = name.chars().take(40).collect();
    let mut last = io::Error::from(io::ErrorKind::AlreadyExists);
    for attempt in 0..NAMES_TRIED {
        let hidden =
            target.with_file_name(format!(".{name}.{purpose}-{}-{attempt}", std::process::id()));
        match fs::create_dir(&hidden) {
            Ok(()) => return Ok(hidden),
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => last = error,
            Err(error) => {
                last = error;
                break;
            }
        }
    }
    Err(ReportError::Write { path: target.to_path_buf(), source: last })
}
