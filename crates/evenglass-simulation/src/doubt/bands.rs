//! Bands and chances from many drawn nights.

use std::sync::atomic::{AtomicUsize, Ordering};

use evenglass_disc::Resolution;
use evenglass_scenario::Scenario;
use statrs::statistics::{Data, OrderStatistics};

use super::draw::{Draw, draw};
use super::ranking::{Importance, rank};
use super::unknown::Unknown;
use crate::geometry::Geometries;
use crate::night::{SimulationError, simulate_with};
use crate::result::{COLUMNS, Night};
use crate::sweep::in_parallel;

/// How many nights are drawn, from which seed, and on how many threads.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Told {
    /// Nights drawn.
    pub nights: u32,
    /// Seed of the draws.
    pub seed: u32,
    /// Threads; all cores if not given.
    pub threads: Option<usize>,
}

/// What nine of ten nights stay within, and what half of them stay below.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// A twentieth of the nights stay below.
    pub low: f64,
    /// Half of them.
    pub middle: f64,
    /// A twentieth of the nights exceed it.
    pub high: f64,
}

/// The band of a column through the night.
#[derive(Debug, Clone, PartialEq)]
pub struct RowBand {
    /// Name of the column.
    pub column: &'static str,
    /// One band for each row of the history.
    pub rows: Vec<Band>,
}

/// How sure a night is.
#[derive(Debug, Clone, PartialEq)]
pub struct Doubt {
    /// Nights drawn.
    pub nights: u32,
    /// Seed of the draws.
    pub seed: u32,
    /// Nights that could not be computed, as when a draw leaves no glass or no air.
    pub failed: u32,
    /// Hours of good image.
    pub good_hours: Band,
    /// When the mirror is ready \[s\], in the nights in which it is; `None` if it never is.
    pub ready_at_s: Option<Band>,
    /// Share of the nights in which it becomes ready at all [-].
    pub ready: f64,
    /// (Time \[s\], share of the nights ready by then) at every row of the history.
    pub ready_by: Vec<(f64, f64)>,
    /// Share of the nights that are good at every row of the history [-].
    pub good_share: Vec<f64>,
    /// Bands of columns through the night.
    pub rows: Vec<RowBand>,
    /// Value at the end, smallest and largest value of each of [`COLUMNS`].
    pub columns: Vec<[Band; 3]>,
    /// What the spread of the hours of good image comes from, the largest first.
    pub importance: Vec<Importance>,
}

/// Columns whose bands are kept through the night.
const FOLLOWED: [&str; 8] = [
    "front_minus_air_k",
    "figure_rms_nm",
    "correction_percent",
    "focus_shift_um",
    "seeing_arcsec",
    "strehl",
    "spread_k",
    "edge_minus_centre_k",
];

/// What is kept of a drawn night.
struct Kept {
    good_hours: f64,
    ready_at: Option<f64>,
    good: Vec<bool>,
    followed: Vec<Vec<f64>>,
    columns: Vec<[f64; 3]>,
    /// Mean of the figure through the night \[m\]: tells nights apart that are equally long good.
    figure: f64,
}

/// Computes a scenario's night under many draws of what is not known of it.
///
/// * `unknowns` — those drawn: [`super::applying`] gives all that act
/// * `done` — called after each night, with how many are done
///
/// # Errors
/// If the night itself, without any draw, cannot be computed.
pub fn doubt(
    scenario: &Scenario,
    unknowns: &[Unknown],
    (resolution, geometries): (&Resolution, &Geometries),
    told: Told,
    done: impl Fn(usize) + Sync,
) -> Result<Doubt, SimulationError> {
    let central = simulate_with(scenario, resolution, geometries)?;
    let draws: Vec<Draw> = (0..told.nights).map(|n| Draw::of(unknowns, n, told.seed)).collect();
    let count = AtomicUsize::new(0);
    let compute = |n: usize| {
        let drawn = draw(scenario, &draws[n]);
        let night = simulate_with(&drawn, resolution, geometries).ok()?;
        Some(kept(&night, &draws[n], scenario))
    };
    let nights = in_parallel(draws.len(), told.threads, compute, || {
        done(count.fetch_add(1, Ordering::Relaxed) + 1);
    });
    Ok(gathered(&central, &draws, nights, told))
}

fn kept(night: &Night, draw: &Draw, scenario: &Scenario) -> Kept {
    let blur = draw.deviates.iter().find(|(unknown, _)| *unknown == Unknown::Shimmer);
    let blur = blur.map_or(1.0, |(unknown, z)| (unknown.sigma(scenario) * z).exp());
    let told = |name: &str, value: f64| if name == "seeing_arcsec" { blur * value } else { value };
    let followed = FOLLOWED.iter().map(|name| {
        let column = COLUMNS.iter().find(|column| column.name == *name);
        let read = column.map(|column| column.value);
        let values = night.history.iter().map(|row| read.map_or(f64::NAN, |read| read(row)));
        values.map(|value| told(name, value)).collect()
    });
    let columns = COLUMNS.iter().enumerate().map(|(n, column)| {
        let end = night.history.last().map_or(f64::NAN, column.value);
        [end, night.minima[n].0, night.maxima[n].0].map(|value| told(column.name, value))
    });
    let figures = night.history.iter().map(|row| row.image.total_rms_m);
    Kept {
        good_hours: night.good_hours(),
        ready_at: night.ready_at_s,
        good: night.history.iter().map(|row| row.good).collect(),
        followed: followed.collect(),
        columns: columns.collect(),
        figure: figures.sum::<f64>() / night.history.len() as f64,
    }
}

fn gathered(central: &Night, draws: &[Draw], nights: Vec<Option<Kept>>, told: Told) -> Doubt {
    let failed = nights.iter().filter(|night| night.is_none()).count();
    let (drawn, nights): (Vec<&Draw>, Vec<Kept>) =
        draws.iter().zip(nights).filter_map(|(draw, night)| Some((draw, night?))).unzip();
    let count = nights.len().max(1) as f64;
    let rows = central.history.len();
    let share = |met: &dyn Fn(&Kept) -> bool| {
        nights.iter().filter(|night| met(night)).count() as f64 / count
    };
    let ready_times: Vec<f64> = nights.iter().filter_map(|night| night.ready_at).collect();
    let ready_by = central.history.iter().map(|row| {
        let by = row.time_s;
        (by, share(&|night| night.ready_at.is_some_and(|at| at <= by)))
    });
    let followed = FOLLOWED.iter().enumerate().map(|(n, column)| RowBand {
        column,
        rows: (0..rows).map(|row| band(nights.iter().map(|k| k.followed[n][row]))).collect(),
    });
    let columns = (0..COLUMNS.len()).map(|column| {
        [0, 1, 2].map(|which| band(nights.iter().map(|night| night.columns[column][which])))
    });
    Doubt {
        nights: told.nights,
        seed: told.seed,
        failed: u32::try_from(failed).unwrap_or(u32::MAX),
        good_hours: band(nights.iter().map(|night| night.good_hours)),
        ready: ready_times.len() as f64 / count,
        ready_at_s: (!ready_times.is_empty()).then(|| band(ready_times.into_iter())),
        ready_by: ready_by.collect(),
        good_share: (0..rows).map(|row| share(&|night| night.good[row])).collect(),
        rows: followed.collect(),
        columns: columns.collect(),
        importance: rank(&drawn, &response(&nights)),
    }
}

/// What the nights are told apart by: hours of good image, or the figure where those are all
/// alike.
fn response(nights: &[Kept]) -> Vec<f64> {
    let hours: Vec<f64> = nights.iter().map(|night| night.good_hours).collect();
    let differ = hours.windows(2).any(|pair| (pair[0] - pair[1]).abs() > 1e-6);
    if differ { hours } else { nights.iter().map(|night| night.figure).collect() }
}

/// The band of values; of what is not a number nothing is known.
fn band(values: impl Iterator<Item = f64>) -> Band {
    let known: Vec<f64> = values.filter(|value| value.is_finite()).collect();
    if known.is_empty() {
        return Band { low: f64::NAN, middle: f64::NAN, high: f64::NAN };
    }
    let mut data = Data::new(known);
    let mut at = |share: f64| data.quantile(share);
    Band { low: at(0.05), middle: at(0.5), high: at(0.95) }
}
