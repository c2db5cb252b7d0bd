//! Ctrl-C leaves no half-written file: the unfinished result folder goes, the
//! previous one stays.

use std::fs;
use std::path::PathBuf;
use std::process;
use std::sync::{Mutex, MutexGuard, PoisonError};

use evenglass_report::ResultFolder;

use crate::talk::complain;

/// What the shell expects of a program ended by Ctrl-C: 128 + SIGINT.
const INTERRUPTED: i32 = 130;

/// The folder to remove when interrupted. Held locked while a result is moved
/// into place, so that an interrupt waits for the move instead of tearing it.
static UNFINISHED: Mutex<Option<PathBuf>> = Mutex::new(None);

/// Starts listening for Ctrl-C and for polite requests to end.
pub(crate) fn listen() {
    let listening = ctrlc::set_handler(|| {
        let unfinished = unfinished();
        if let Some(folder) = &*unfinished {
            remove(folder);
        }
        complain("interrupted");
        process::exit(INTERRUPTED);
    });
    if let Err(error) = listening {
        complain(&format!("note: Ctrl-C may leave a temporary folder behind: {error}"));
    }
}

/// Makes an unfinished result folder that goes when the program is interrupted.
///
/// # Errors
/// Those of `prepare`.
pub(crate) fn preparing<E>(
    prepare: impl FnOnce() -> Result<ResultFolder, E>,
) -> Result<ResultFolder, E> {
    let mut unfinished = unfinished();
    let folder = prepare()?;
    *unfinished = Some(folder.path().to_owned());
    Ok(folder)
}

/// Runs `work`, the last that is done to the unfinished folder, with interrupts
/// held back until it is done.
pub(crate) fn undisturbed<T>(work: impl FnOnce() -> T) -> T {
    let mut unfinished = unfinished();
    let done = work();
    *unfinished = None;
    done
}

fn unfinished() -> MutexGuard<'static, Option<PathBuf>> {
    UNFINISHED.lock().unwrap_or_else(PoisonError::into_inner)
}

/// The main thread may still be writing into the folder: a file that appears
/// between the listing and the removal makes the first attempt fail.
fn remove(folder: &PathBuf) {
    for _ in 0..20 {
        if fs::remove_dir_all(folder).is_ok() || !folder.exists() {
            return;
        }
    }
    complain(&format!("could not remove {}", folder.display()));
}
