//! `[good]`, `[site]` and `[output]`.

use evenglass_units::{Duration, Length, TemperatureDifference};

use crate::keys::{GOOD, OUTPUT};
use crate::ledger::{At, Ledger};
use crate::moment::{Times, span};
use crate::read::Reader;
use crate::scenario::{Good, Output, Site};
use crate::tree::{Table, Value};

/// Rows of `history.csv`.
const MOST_ROWS: f64 = 200_000.0;
/// Whole fields written.
const MOST_FIELDS: usize = 1000;

/// What counts as a good image; the defaults without the section.
pub(crate) fn good(reader: Option<&Reader<'_>>) -> Option<Good> {
    let (ledger, table, at) = nothing();
    let defaults = Reader::new(&ledger, (&table, &at), &GOOD, "[good]");
    let reader = reader.unwrap_or(&defaults);
    let [figure, shimmer, dew, held] =
        ["figure_rms", "shimmer", "dew_margin", "held_for"].map(|key| reader.si(key));
    let front = reader.settled("front_minus_air", Reader::si);
    Some(Good {
        figure_rms: Length::from_metres(figure?),
        shimmer_arcsec: arcsec(shimmer?),
        dew_margin: TemperatureDifference::from_kelvins(dew?),
        front_minus_air: front?.map(TemperatureDifference::from_kelvins),
        held_for: Duration::from_seconds(held?),
    })
}

/// Where the telescope stands; a key that is wrong has been noted and is left out.
pub(crate) fn site(reader: &Reader<'_>) -> Site {
    Site {
        latitude_deg: reader.si("latitude").map(f64::to_degrees),
        longitude_deg: reader.si("longitude").map(f64::to_degrees),
        utc_offset: reader.si("utc_offset").map(Duration::from_seconds),
        elevation: reader.si("elevation").map(Length::from_metres),
        seeing_arcsec: reader.si("seeing").map(arcsec),
    }
}

/// What to write down; the defaults without the section.
pub(crate) fn output(reader: Option<&Reader<'_>>, times: &Times) -> Option<Output> {
    let (ledger, table, at) = nothing();
    let defaults = Reader::new(&ledger, (&table, &at), &OUTPUT, "[output]");
    let reader = reader.unwrap_or(&defaults);
    let interval = interval(reader, times);
    let fields_at = fields_at(reader, times);
    Some(Output { interval: Duration::from_seconds(interval?), fields_at: fields_at? })
}

fn nothing() -> (Ledger, Table, At) {
    (Ledger::default(), Table::default(), At { text: 0, span: 0..0 })
}

fn arcsec(radians: f64) -> f64 {
    radians.to_degrees() * 3600.0
}

fn interval(reader: &Reader<'_>, times: &Times) -> Option<f64> {
    let interval = reader.si("interval")?;
    let Some(duration) = times.duration else { return Some(interval) };
    if !reader.has("interval") {
        // A run shorter than the default interval still has its two ends.
        return Some(interval.min(duration));
    }
    if interval > duration {
        let fact = format!(
            "the interval of `{}` is longer than the run of {}",
            reader.written("interval"),
            span(duration)
        );
        reader.conflict("interval", fact, format!("choose 1 s to {}", span(duration)));
        return None;
    }
    if duration / interval + 1.0 > MOST_ROWS {
        let rows = (duration / interval).floor() + 1.0;
        let fact = format!("an interval of `{}` makes {rows} rows", reader.written("interval"));
        let least = (duration / (MOST_ROWS - 1.0)).ceil();
        reader.conflict(
            "interval",
            fact,
            format!("at most 200000 rows are written: choose \"{least} s\" or more"),
        );
        return None;
    }
    Some(interval)
}

fn fields_at(reader: &Reader<'_>, times: &Times) -> Option<Vec<f64>> {
    let Some(node) = reader.table.get("fields_at") else { return Some(Vec::new()) };
    let Value::List(items) = &node.value else {
        reader.wrong_sort("fields_at", node, "a list of times");
        return None;
    };
    if items.len() > MOST_FIELDS {
        let fact = format!("`fields_at` has {} entries", items.len());
        let help = format!("give at most {MOST_FIELDS} times");
        reader.ledger.note("scenario::range", &node.at, fact, help);
        return None;
    }
    let read: Vec<Option<f64>> = items
        .iter()
        .map(|item| {
            let seconds = reader.moment_at("fields_at", item, times)?;
            let Some((code, fact, help)) = times.outside(seconds) else { return Some(seconds) };
            let written = reader.ledger.text_at(&item.at).trim_matches('"');
            reader.ledger.note(
                code,
                &item.at,
                fact.replacen("this", &format!("`{written}`"), 1),
                help,
            );
            None
        })
        .collect();
    let mut fields: Vec<f64> = read.into_iter().collect::<Option<_>>()?;
    fields.sort_by(f64::total_cmp);
    fields.dedup();
    Some(fields)
}
