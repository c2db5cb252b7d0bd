//! The night in plain words, the answer first.

mod answer;
mod dew;
mod glass;
mod image;

use evenglass_simulation::Night;
use evenglass_simulation::result::COLUMNS;

use crate::flow::flow;
use crate::text::{short, wrap};
use crate::wording::{mirror, night as span};

/// What must always be said, whatever the result.
pub const CAUTIONS: &str = "\
A design aid, not a guarantee. Keep sunlight off an uncovered mirror: it is a fire
and eye hazard. Near dew, run fans from a fused low-voltage supply; mains work is
for qualified people, to local codes. Guard the blades. Foam, adhesives and filters
must be rated for use near motors and heaters. Two people lift heavy glass.";

/// The summary for the terminal: when the image is good and what stops it, what the mirror does
/// to the image, dew, temperatures and heat, warnings, cautions.
///
/// Lines are at most about 80 columns wide; there is no final newline.
#[must_use]
pub fn summary_text(night: &Night) -> String {
    let image = image::sentences(night);
    let glass = [glass::approach(night), glass::edge(night), glass::heat(night), flow(night)];
    let glass = glass.into_iter().flatten().collect();
    let mut parts = vec![heading(night), wrap(&answer::answer(night), 0)];
    parts.extend([image, dew::sentences(night), glass].into_iter().filter_map(
        |sentences: Vec<String>| {
            let lines: Vec<String> = sentences.iter().map(|sentence| wrap(sentence, 0)).collect();
            (!lines.is_empty()).then(|| lines.join("\n"))
        },
    ));
    if !night.warnings.is_empty() {
        parts.push(warnings(night));
    }
    parts.push(CAUTIONS.to_owned());
    parts.join("\n\n")
}

/// What was computed, in two lines.
fn heading(night: &Night) -> String {
    let case = format!("{}; {}.", mirror(&night.scenario), span(&night.scenario));
    format!("{}\n{}", short(&night.scenario.title, 78), wrap(&case, 0))
}

/// The place of a column in the extremes.
fn column(name: &str) -> Option<usize> {
    COLUMNS.iter().position(|column| column.name == name)
}

fn warnings(night: &Night) -> String {
    let line = |w: &evenglass_simulation::result::Warning| {
        wrap(&format!("- {} [{}]", short(w.text.trim_end_matches('.'), 400), w.code), 2)
    };
    let lines: Vec<String> = night.warnings.iter().map(line).collect();
    format!("Please note:\n{}", lines.join("\n"))
}
