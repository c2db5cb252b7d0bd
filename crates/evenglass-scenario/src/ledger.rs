//! Collects every fault of a reading, with its place.

use std::cell::RefCell;
use std::ops::Range;
use std::sync::Arc;

use crate::fault::{Fault, Place, ScenarioError};

/// A stretch of one of the texts a scenario was read from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct At {
    /// 0 is the file, the others are overrides in their order.
    pub(crate) text: usize,
    /// In bytes of that text.
    pub(crate) span: Range<usize>,
}

/// Nobody reads on; a file with more is not a scenario.
const MOST_FAULTS: usize = 1000;

/// The texts of a scenario, and what was found wrong in them.
#[derive(Debug, Default)]
pub(crate) struct Ledger {
    texts: Vec<(String, Arc<str>)>,
    faults: RefCell<Vec<(usize, usize, Fault)>>,
}

impl Ledger {
    /// Adds a text and returns its number.
    pub(crate) fn add_text(&mut self, name: &str, text: &str) -> usize {
        self.texts.push((name.to_owned(), Arc::from(text)));
        self.texts.len() - 1
    }

    /// What stands at a place.
    pub(crate) fn text_at(&self, at: &At) -> &str {
        self.texts.get(at.text).and_then(|(_, text)| text.get(at.span.clone())).unwrap_or("")
    }

    /// Notes a fault at a place.
    pub(crate) fn note(&self, code: &'static str, at: &At, message: String, help: String) {
        if !self.is_full() {
            let fault = Fault { code, message, help: Some(help), place: self.place(at) };
            self.faults.borrow_mut().push((at.text, at.span.start, fault));
        }
    }

    /// Whether nothing more is noted.
    pub(crate) fn is_full(&self) -> bool {
        self.faults.borrow().len() >= MOST_FAULTS
    }

    /// A place as faults carry it.
    pub(crate) fn place(&self, at: &At) -> Option<Place> {
        self.texts.get(at.text).map(|(name, source)| Place {
            name: name.clone(),
            source: Arc::clone(source),
            span: at.span.clone(),
        })
    }

    /// Notes faults found elsewhere, such as in a weather file.
    pub(crate) fn note_all(&self, faults: Vec<Fault>) {
        self.faults.borrow_mut().extend(faults.into_iter().map(|f| (usize::MAX, 0, f)));
    }

    /// The faults in the order of their places, or `value` if there are none.
    ///
    /// # Panics
    /// If there is neither a fault nor a value: a reader that gives nothing must say why.
    pub(crate) fn finish<T>(self, value: Option<T>) -> Result<T, ScenarioError> {
        let mut faults = self.faults.into_inner();
        if faults.is_empty() {
            return Ok(value.expect("what cannot be read has been noted"));
        }
        faults.sort_by_key(|(text, start, _)| (*text, *start));
        faults.dedup();
        Err(ScenarioError { faults: faults.into_iter().map(|(_, _, fault)| fault).collect() })
    }
}
