//! Why a result could not be written.

use std::io;
use std::path::PathBuf;

use thiserror::Error;

/// Why a result could not be written; every message ends with the remedy.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum ReportError {
    /// The folder belongs to somebody else.
    #[error(
        "`{path}` is not empty and is not a result folder of evenglass; \
         empty it, or name another folder with `--out`"
    )]
    Foreign {
        /// The folder asked for.
        path: PathBuf,
    },
    /// A file stands where the folder should be.
    #[error("`{path}` is a file, not a folder; name another folder with `--out`")]
    NotAFolder {
        /// The path asked for.
        path: PathBuf,
    },
    /// The folder holds the current folder, so replacing it would pull the ground away.
    #[error(
        "`{path}` is the current folder or holds it and cannot be replaced as a whole; \
         name another folder with `--out`"
    )]
    CurrentFolder {
        /// The folder asked for.
        path: PathBuf,
    },
    /// The system refused to write.
    #[error(
        "cannot write `{path}`: {source}; make room or change its permissions, or name another \
         folder with `--out` (an earlier result there is unchanged)"
    )]
    Write {
        /// The file or folder.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// The old result could not be moved aside or the new one moved into its place.
    #[error(
        "cannot replace `{path}`: {source}; close programs that use it or change its \
         permissions, or name another folder with `--out` (the earlier result is unchanged)"
    )]
    Replace {
        /// The result folder.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
}
