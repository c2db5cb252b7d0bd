//! What the reader gets: tables, pictures and a summary in plain words.
//!
//! Finished numbers come in, files and text go out; nothing here computes
//! physics. Files are written into a [`ResultFolder`], which appears as a whole
//! or not at all. [`write_night`], [`write_comparison`], [`write_sweep`] and
//! [`write_sizing`] fill it; [`summary_text`], [`summary_json`], [`comparison_text`], [`changes_text`],
//! [`sweep_text`] and [`sizing_text`] are what goes to the terminal.
//!
//! The names of columns and keys are a contract with the scripts people write;
//! they come from [`evenglass_simulation::result::COLUMNS`] and nowhere else.

mod axis;
mod canvas;
mod changes;
mod comparison;
mod criteria;
mod error;
mod flow;
mod folder;
mod json;
mod lettering;
mod outcome;
mod plot;
mod raster;
mod sizing;
mod style;
mod summary;
mod sweep;
mod table;
mod text;
mod wording;
mod write;

pub use axis::Axis;
pub use changes::changes_text;
pub use comparison::comparison_text;
pub use error::ReportError;
pub use folder::ResultFolder;
pub use json::{comparison_json, sizing_json, summary_json, sweep_json};
pub use outcome::Outcome;
pub use sizing::{Filter, SizeReport, sizing_text};
pub use summary::{CAUTIONS, summary_text};
pub use sweep::{SweepTable, sweep_text};
pub use wording::{day, moment};
pub use write::{write_comparison, write_night, write_sizing, write_sweep};
