//! Writes the history, the fields and the good stretches while the night goes by.

use evenglass_disc::{Grid, Span, Stepper};
use evenglass_scenario::{Scenario, Side};
use evenglass_units::{Temperature, TemperatureDifference};
use ndarray::Array2;

use crate::good::GoodTracker;
use crate::probes::Probes;
use crate::result::{COLUMNS, Energy, Field, FieldPoints, Night, Record, Warning};

/// The balance of a night that changes the glass by less than this is held
/// against this [K].
const LEAST_EXCHANGE_K: f64 = 0.01;

/// Follows the steps of a night and writes down what is asked for.
pub(crate) struct Recorder<'a> {
    scenario: &'a Scenario,
    grid: &'a Grid,
    probes: Probes,
    good: GoodTracker,
    history: Vec<Record>,
    fields: Vec<Field>,
    /// The field with the largest spread so far, kept where none was asked for.
    widest: Option<Field>,
    /// Row and field times not yet reached \[s\], ascending.
    rows: std::vec::IntoIter<f64>,
    next_row: Option<f64>,
    field_times: std::vec::IntoIter<f64>,
    next_field: Option<f64>,
    celsius: Vec<f64>,
    stored_at_start: f64,
    exchanged: f64,
}

impl<'a> Recorder<'a> {
    pub(crate) fn new(scenario: &'a Scenario, grid: &'a Grid, stepper: &Stepper<'_>) -> Self {
        let mut rows = row_times(scenario).into_iter();
        let mut field_times = scenario.output.fields_at.clone().into_iter();
        let mut recorder = Self {
            scenario,
            grid,
            probes: Probes::new(grid),
            good: GoodTracker::new(&scenario.good),
            history: vec![],
            fields: vec![],
            widest: None,
            next_row: rows.next(),
            rows,
            next_field: field_times.next(),
            field_times,
            celsius: stepper.celsius(),
            stored_at_start: stepper.heat_stored_j(),
            exchanged: 0.0,
        };
        if recorder.next_row == Some(0.0) {
            recorder.record(0.0, 0.0);
        }
        while recorder.next_field == Some(0.0) {
            recorder.keep_field(0.0);
        }
        recorder
    }

    /// A stretch without jumps begins.
    pub(crate) fn enter(&mut self, from: f64, to: f64) {
        let air = &self.scenario.night.air;
        self.good.enter((from, to), (air.at(from, Side::After), air.at(to, Side::Before)));
    }

    pub(crate) fn observe(&mut self, span: &Span<'_>) {
        self.exchanged += (span.heat_lost_j(span.to_s()) - span.heat_lost_j(span.from_s())).abs();
        self.good.observe(span, &self.probes.front_mean);
        while let Some(time) = self.next_row.filter(|&time| time <= span.to_s()) {
            span.celsius(time, &mut self.celsius);
            self.record(time, span.heat_lost_j(time));
        }
        while let Some(time) = self.next_field.filter(|&time| time <= span.to_s()) {
            span.celsius(time, &mut self.celsius);
            self.keep_field(time);
        }
    }

    /// Writes the row of `time`, whose field is in `celsius`.
    fn record(&mut self, time_s: f64, heat_lost_j: f64) {
        let probes = &self.probes;
        let read =
            |probe: &crate::probes::Probe| Temperature::from_celsius(probe.read(&self.celsius));
        let air = Temperature::from_kelvin(self.scenario.night.air.at(time_s, Side::After));
        let spread = TemperatureDifference::from_kelvins(probes.spread(&self.celsius));
        self.history.push(Record {
            time_s,
            air,
            front_centre: read(&probes.front_centre),
            front_edge: read(&probes.front_edge),
            mid_centre: read(&probes.mid_centre),
            mid_edge: read(&probes.mid_edge),
            back_centre: read(&probes.back_centre),
            back_edge: read(&probes.back_edge),
            mean: read(&probes.mean),
            spread,
            front_minus_air: read(&probes.front_mean) - air,
            heat_lost_j,
        });
        self.next_row = self.rows.next();
        if self.scenario.output.fields_at.is_empty() {
            let widest_so_far =
                self.history[..self.history.len() - 1].iter().all(|row| row.spread < spread);
            if widest_so_far {
                self.widest = Some(self.field(time_s));
            }
        }
    }

    fn keep_field(&mut self, time: f64) {
        self.fields.push(self.field(time));
        self.next_field = self.field_times.next();
    }

    fn field(&self, time_s: f64) -> Field {
        let kelvin = self.celsius.iter().map(|&c| Temperature::from_celsius(c).kelvin());
        let temperature_k = Array2::from_shape_vec(self.grid.shape(), kelvin.collect())
            .expect("one temperature per point of the grid");
        Field { time_s, air_k: self.scenario.night.air.at(time_s, Side::After), temperature_k }
    }

    pub(crate) fn finish(mut self, stepper: &Stepper<'_>, warnings: Vec<Warning>) -> Night {
        let lost_j = stepper.heat_lost_j();
        let stored_j = stepper.heat_stored_j() - self.stored_at_start;
        // Glass that stays as warm as the air exchanges nothing but rounding errors.
        let least = LEAST_EXCHANGE_K * stepper.heat_capacity_j_per_k();
        let residual = (lost_j + stored_j).abs() / self.exchanged.max(least);
        let good_intervals = self.good.finish(self.scenario.night.duration.seconds());
        self.fields.extend(self.widest.take());
        let extreme = |better: fn(f64, f64) -> bool| {
            COLUMNS.iter().map(|column| extreme(&self.history, column.value, better)).collect()
        };
        Night {
            ready_at_s: good_intervals.first().map(|interval| interval.from_s),
            good_intervals,
            minima: extreme(|a, b| a < b),
            maxima: extreme(|a, b| a > b),
            points: FieldPoints {
                radius_m: self.grid.radii().to_vec(),
                height_m: self.grid.heights(),
            },
            energy: Energy { lost_j, stored_j, residual },
            warnings,
            scenario: self.scenario.clone(),
            history: self.history,
            fields: self.fields,
        }
    }
}

/// (value, time) of the row that no other row beats.
fn extreme(
    history: &[Record],
    value: fn(&Record) -> f64,
    better: fn(f64, f64) -> bool,
) -> (f64, f64) {
    let mut best = (value(&history[0]), history[0].time_s);
    for row in &history[1..] {
        if better(value(row), best.0) {
            best = (value(row), row.time_s);
        }
    }
    best
}

/// Start, every whole interval, and the end.
fn row_times(scenario: &Scenario) -> Vec<f64> {
    let interval = scenario.output.interval.seconds();
    let end = scenario.night.duration.seconds();
    let mut times = vec![0.0];
    for count in 1_u32.. {
        let time = f64::from(count) * interval;
        // A row within a millionth of an interval of the end is the end.
        if time >= end - 1e-6 * interval {
            break;
        }
        times.push(time);
    }
    times.push(end);
    times
}
