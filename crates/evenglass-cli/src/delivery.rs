//! From a request to a result folder and an answer: the part all computing commands share.

use std::fs;

use evenglass_report::ResultFolder;

use crate::failure::Failure;
use crate::interrupt;
use crate::request::{Answer, Delivery};
use crate::talk::{Talk, answer, answer_bytes};

/// The file that makes a folder a result folder, and the answer to `--json`.
const SUMMARY: &str = "summary.json";

/// Lets `work` fill the result folder, moves it into place and gives the answer.
///
/// `work` returns the answer in words and the names of the files it wrote. A
/// folder that may not be replaced is refused before anything is computed.
pub(crate) fn deliver(
    delivery: &Delivery,
    talk: Talk,
    work: impl FnOnce(&ResultFolder) -> Result<(String, Vec<String>), Failure>,
) -> Result<(), Failure> {
    let folder = interrupt::preparing(|| ResultFolder::prepare(&delivery.folder))?;
    let (words, written) = work(&folder)?;
    let summary = fs::read(folder.path().join(SUMMARY))
        .map_err(|error| Failure::writing(&SUMMARY, &error))?;
    interrupt::undisturbed(|| folder.commit())?;
    talk.mention(&format!("wrote {}: {}", delivery.folder.display(), written.join(", ")));
    match delivery.answer {
        Answer::Words => answer(&(words.trim_end().to_owned() + "\n")),
        Answer::Json => answer_bytes(&summary),
    }
}
