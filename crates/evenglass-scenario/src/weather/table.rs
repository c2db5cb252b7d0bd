//! Comma-separated text in rows of cells that know where they stand.

use std::fs::File;
use std::io::Read;
use std::ops::Range;
use std::path::Path;
use std::sync::Arc;

use crate::fault::{Fault, Place};

/// A year of readings every minute is half of this [bytes].
pub(super) const LARGEST_FILE: u64 = 50_000_000;
/// Seven columns need a tenth of this [bytes].
const LONGEST_LINE: usize = 1000;

/// The text of a file and the name it is shown under.
pub(super) struct Text {
    pub(super) name: String,
    pub(super) source: Arc<str>,
}

/// One cell, unquoted and trimmed.
pub(super) struct Cell<'a> {
    pub(super) text: &'a str,
    /// Bytes of the source.
    pub(super) span: Range<usize>,
}

impl Text {
    /// Reads the file at `path`, shown in messages as `shown`.
    ///
    /// # Errors
    /// If it cannot be read, is too large, or is not text.
    pub(super) fn load(path: &Path, shown: &str) -> Result<Self, Fault> {
        let fault = |message: String, help: &str| Fault {
            code: "weather::file",
            message,
            help: Some(help.to_owned()),
            place: None,
        };
        let unreadable = |error: std::io::Error| {
            fault(
                format!("cannot read the weather file `{shown}`: {error}"),
                "give the path relative to the scenario file",
            )
        };
        let file = File::open(path).map_err(unreadable)?;
        let mut bytes = Vec::new();
        let size = file.take(LARGEST_FILE + 1).read_to_end(&mut bytes).map_err(unreadable)?;
        if size as u64 > LARGEST_FILE {
            return Err(fault(
                format!("the weather file `{shown}` is larger than 50 MB"),
                "cut it to the night",
            ));
        }
        let text = String::from_utf8(bytes).map_err(|error| {
            let valid = &error.as_bytes()[..error.utf8_error().valid_up_to()];
            let line = String::from_utf8_lossy(valid).matches('\n').count() + 1;
            fault(
                format!("the weather file `{shown}` is not UTF-8 text at line {line}"),
                "save it as CSV in UTF-8",
            )
        })?;
        let text = text.strip_prefix('\u{feff}').unwrap_or(&text);
        // Neither belongs into a message or a terminal.
        let stray = |line: &str| {
            line.len() > LONGEST_LINE || line.chars().any(|c| c.is_control() && c != '\t')
        };
        if let Some(line) = text.lines().position(stray) {
            return Err(fault(
                format!(
                    "line {} of the weather file `{shown}` has control characters or more than \
                 {LONGEST_LINE} bytes",
                    line + 1
                ),
                "save the readings as plain text, one row per line",
            ));
        }
        Ok(Self { name: shown.to_owned(), source: Arc::from(text) })
    }

    /// A fault at `span` of this text.
    pub(super) fn fault(
        &self,
        code: &'static str,
        message: String,
        help: impl Into<String>,
        span: Range<usize>,
    ) -> Fault {
        let place = Place { name: self.name.clone(), source: Arc::clone(&self.source), span };
        Fault { code, message, help: Some(help.into()), place: Some(place) }
    }

    /// Line of a byte, counted from 1.
    pub(super) fn line(&self, byte: usize) -> usize {
        let place =
            Place { name: String::new(), source: Arc::clone(&self.source), span: byte..byte };
        place.line()
    }

    /// Calls `row` with the cells of every line that is neither blank nor a
    /// comment, until it returns `false`.
    pub(super) fn rows(&self, mut row: impl FnMut(&[Cell<'_>]) -> bool) {
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .comment(Some(b'#'))
            .from_reader(self.source.as_bytes());
        let mut record = csv::StringRecord::new();
        // The text is valid UTF-8 and rows may differ in length: no other error is left.
        while reader.read_record(&mut record).unwrap_or(false) {
            let start = record.position().map_or(0, csv::Position::byte);
            let start = usize::try_from(start).unwrap_or(0);
            let mut at = self.skip_comments(start);
            let mut cells = Vec::with_capacity(record.len());
            for field in &record {
                let span = self.cell_end(at);
                at = (span.end + 1).min(self.source.len());
                cells.push(Cell { text: field.trim(), span: self.trimmed(span) });
            }
            let blank =
                cells.iter().all(|cell| cell.text.is_empty()) || cells[0].text.starts_with('#');
            if !blank && !row(&cells) {
                return;
            }
        }
    }

    /// A record's recorded position lies before the comments and blank lines above it.
    fn skip_comments(&self, start: usize) -> usize {
        let bytes = self.source.as_bytes();
        let mut at = start;
        loop {
            match bytes.get(at) {
                Some(b'\r' | b'\n') => at += 1,
                Some(b'#') => {
                    at += bytes[at..].iter().position(|&b| b == b'\n').unwrap_or(bytes.len() - at);
                }
                _ => return at,
            }
        }
    }

    /// From `start` to the comma or line end that closes the cell.
    fn cell_end(&self, start: usize) -> Range<usize> {
        let mut quoted = false;
        for (offset, byte) in self.source.as_bytes()[start..].iter().enumerate() {
            match byte {
                b'"' => quoted = !quoted,
                b',' | b'\r' | b'\n' if !quoted => return start..start + offset,
                _ => {}
            }
        }
        start..self.source.len()
    }

    fn trimmed(&self, span: Range<usize>) -> Range<usize> {
        let cell = &self.source[span.clone()];
        let start = span.start + (cell.len() - cell.trim_start().len());
        let end = start + cell.trim().len();
        start..end
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cells_of(source: &str) -> Vec<Vec<(String, String)>> {
        let text = Text { name: "w.csv".to_owned(), source: Arc::from(source) };
        let mut rows = Vec::new();
        text.rows(|cells| {
            rows.push(
                cells
                    .iter()
                    .map(|cell| (cell.text.to_owned(), source[cell.span.clone()].to_owned()))
                    .collect(),
            );
            true
        });
        rows
    }

    #[test]
    fn a_cell_knows_its_place_below_comments_blank_lines_and_quotes() {
        let rows = cells_of(
            "# a, b\r\n\r\n# c\r\ntime ,\"air [degC]\"\r\n\r\n 1 h ,\"2\"\r\n  # end\r\n, \r\n",
        );
        let read: Vec<Vec<&str>> =
            rows.iter().map(|row| row.iter().map(|(text, _)| text.as_str()).collect()).collect();
        assert_eq!(read, [["time", "air [degC]"], ["1 h", "2"]]);
        let seen: Vec<Vec<&str>> =
            rows.iter().map(|row| row.iter().map(|(_, span)| span.as_str()).collect()).collect();
        assert_eq!(seen, [["time", "\"air [degC]\""], ["1 h", "\"2\""]]);
    }
}
