//! Standard output for the answer, standard error for everything else.
//!
//! Nothing here can panic: a reader that goes away ends the program quietly, and
//! a standard error that cannot be written is not worth dying for.

use std::io::{self, ErrorKind, Write};

use anstream::ColorChoice;

use crate::failure::Failure;
use crate::wrapping::visible;

/// Whether to tell of progress and of files written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Talk {
    /// As usual.
    Open,
    /// Only the answer, and what went wrong.
    Quiet,
}

impl Talk {
    /// Tells something in passing, unless asked to be quiet.
    pub(crate) fn mention(self, line: &str) {
        if self == Self::Open {
            complain(&visible(line));
        }
    }
}

/// Says something that must be said even when asked to be quiet.
pub(crate) fn complain(line: &str) {
    let _ = writeln!(anstream::stderr(), "{line}");
}

/// Writes the answer.
///
/// # Errors
/// [`Failure::ClosedPipe`] when the reader has gone, [`Failure::Impossible`] when
/// it cannot be written for another reason.
pub(crate) fn answer(text: &str) -> Result<(), Failure> {
    answer_bytes(visible(text).as_bytes())
}

/// Writes an answer that is for a machine, byte by byte.
///
/// # Errors
/// As [`answer`].
pub(crate) fn answer_bytes(bytes: &[u8]) -> Result<(), Failure> {
    let mut stdout = io::stdout().lock();
    let written = stdout.write_all(bytes).and_then(|()| stdout.flush());
    written.map_err(|error| unwritten(&error))
}

fn unwritten(error: &io::Error) -> Failure {
    if error.kind() == ErrorKind::BrokenPipe {
        return Failure::ClosedPipe;
    }
    Failure::writing(&"the answer to standard output", error)
}

/// Settles whether colours are shown, for everything written from now on.
pub(crate) fn set_colour(choice: clap::ColorChoice) {
    match choice {
        clap::ColorChoice::Auto => ColorChoice::Auto,
        clap::ColorChoice::Always => ColorChoice::Always,
        clap::ColorChoice::Never => ColorChoice::Never,
    }
    .write_global();
}
