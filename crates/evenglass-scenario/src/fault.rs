//! What can be wrong with a file: fact, place and remedy.

use std::ops::Range;
use std::sync::Arc;

use thiserror::Error;

/// Everything found wrong in one go. Never empty.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("{}", summary(.faults))]
pub struct ScenarioError {
    /// The faults, in the order of their places.
    pub faults: Vec<Fault>,
}

/// One thing that is wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Stable code such as `scenario::unit`, explained by `evenglass explain CODE`.
    pub code: &'static str,
    /// The fact: lower case, no final stop, literals in backticks.
    pub message: String,
    /// The remedy.
    pub help: Option<String>,
    /// Where it is; `None` where no text can be shown (a file that cannot be read).
    pub place: Option<Place>,
}

/// A stretch of a text the author wrote.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// Name of the text as shown: a path, or the option it was typed in.
    pub name: String,
    /// The text, whole.
    pub source: Arc<str>,
    /// The stretch, in bytes of the text.
    pub span: Range<usize>,
}

impl Place {
    /// Line of the start, counted from 1.
    #[must_use]
    pub fn line(&self) -> usize {
        self.before().matches('\n').count() + 1
    }

    /// Column of the start, in characters from 1.
    #[must_use]
    pub fn column(&self) -> usize {
        let before = self.before();
        before.rsplit('\n').next().unwrap_or(before).chars().count() + 1
    }

    fn before(&self) -> &str {
        let mut end = self.span.start.min(self.source.len());
        while !self.source.is_char_boundary(end) {
            end -= 1;
        }
        &self.source[..end]
    }
}

fn summary(faults: &[Fault]) -> String {
    let first = faults.first().map_or("no fault", |fault| fault.message.as_str());
    match faults.len() {
        0 | 1 => first.to_owned(),
        more => format!("{first} (and {} more)", more - 1),
    }
}
