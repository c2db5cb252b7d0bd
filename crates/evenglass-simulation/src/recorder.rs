//! Writes the history, the fields and the good stretches while the night goes by.

use evenglass_disc::{Grid, Span, Stepper, Temperatures};
use evenglass_scenario::{Scenario, Side};
use evenglass_units::Temperature;
use ndarray::Array2;

use crate::extremes::{Course, Extremes};
use crate::films::{AirState, Films};
use crate::good::GoodTracker;
use crate::reading::{Instant, Reader, air_within};
use crate::result::{Energy, Field, FieldPoints, Night, Record, Warning};

/// The balance of a night that changes the glass by less than this is held
/// against this [K].
const LEAST_EXCHANGE_K: f64 = 0.01;

/// Inside a step the whole glass is looked at only if at one of its ends the spread
/// is at least this share of the largest so far: it asks for every point.
const NEARLY_WIDEST: f64 = 0.8;

/// Follows the steps of a night and writes down what is asked for.
pub(crate) struct Recorder<'a> {
    scenario: &'a Scenario,
    grid: &'a Grid,
    reader: Reader<'a>,
    good: GoodTracker,
    history: Vec<Record>,
    fields: Vec<Field>,
    /// The field with the largest spread so far, kept where none was asked for.
    widest: Option<Field>,
    /// The glass at the end of the last step.
    latest: Record,
    extremes: Extremes,
    /// Edge minus centre through every step \[K\].
    edge: Vec<Course>,
    /// Row and field times not yet reached \[s\], ascending.
    rows: std::vec::IntoIter<f64>,
    next_row: Option<f64>,
    field_times: std::vec::IntoIter<f64>,
    next_field: Option<f64>,
    celsius: Vec<f64>,
    /// Boundary points of the glass.
    points: usize,
    stored_at_start: f64,
    exchanged: f64,
}

impl<'a> Recorder<'a> {
    /// At the start of the night, whose first stretch the films have entered.
    pub(crate) fn new(
        scenario: &'a Scenario,
        grid: &'a Grid,
        stepper: &Stepper<'_>,
        films: &Films,
    ) -> Self {
        let mut rows = row_times(scenario).into_iter();
        let mut field_times = scenario.output.fields_at.clone().into_iter();
        let reader = Reader::new(scenario, grid);
        let celsius = stepper.celsius();
        let air = air_at_rest(films, stepper);
        let start = reader.whole(&celsius, Instant { time_s: 0.0, side: Side::After }, 0.0);
        let start = start.with_air(air);
        let mut recorder = Self {
            scenario,
            grid,
            reader,
            good: GoodTracker::new(&scenario.good),
            history: vec![],
            fields: vec![],
            widest: None,
            extremes: Extremes::new(&start),
            latest: start,
            edge: vec![],
            next_row: rows.next(),
            rows,
            next_field: field_times.next(),
            field_times,
            celsius,
            points: grid.boundary().len(),
            stored_at_start: stepper.heat_stored_j(),
            exchanged: 0.0,
        };
        if recorder.next_row == Some(0.0) {
            recorder.record(0.0, 0.0, air);
        }
        while recorder.next_field == Some(0.0) {
            recorder.keep_field(0.0);
        }
        if scenario.output.fields_at.is_empty() {
            recorder.widest = Some(recorder.field(0.0));
        }
        recorder
    }

    /// A stretch without jumps begins.
    pub(crate) fn enter(&mut self, (from, to): (f64, f64), films: &Films, stepper: &Stepper<'_>) {
        let air = &self.scenario.night.air;
        self.good.enter((from, to), (air.at(from, Side::After), air.at(to, Side::Before)));
        let moved = air_at_rest(films, stepper);
        self.latest = self.reader.across(&self.latest, Side::After).with_air(moved);
        // At a jump a row holds what comes after it.
        if let Some(row) = self.history.pop_if(|row| row.time_s >= from) {
            self.history.push(row.with_air(moved));
        }
    }

    pub(crate) fn observe(&mut self, span: &Span<'_>, films: &Films) {
        self.exchanged += (span.heat_lost_j(span.to_s()) - span.heat_lost_j(span.from_s())).abs();
        self.good.observe(span, &self.reader.probes().front_mean);
        self.follow(span, films);
        while let Some(time) = self.next_row.filter(|&time| time <= span.to_s()) {
            span.celsius(time, &mut self.celsius);
            self.record(time, span.heat_lost_j(time), air_within(films, span, time, self.points));
        }
        while let Some(time) = self.next_field.filter(|&time| time <= span.to_s()) {
            span.celsius(time, &mut self.celsius);
            self.keep_field(time);
        }
    }

    /// Looks for extremes inside a step.
    fn follow(&mut self, span: &Span<'_>, films: &Films) {
        let (from, to) = (span.from_s(), span.to_s());
        let air = air_within(films, span, to, self.points);
        let (reader, celsius) = (&self.reader, &mut self.celsius);
        // A step ends at the latest where something jumps, and there the value before counts.
        let at = |time_s| Instant { time_s, side: Side::Before };
        let mut whole = |time| {
            span.celsius(time, celsius);
            reader.whole(celsius, at(time), span.heat_lost_j(time))
        };
        let mut quick = |time| reader.quick(span, at(time));
        let end = whole(to).with_air(air);
        let widest = self.extremes.most("spread_k");
        let wide = |record: &Record| record.spread.kelvins() >= NEARLY_WIDEST * widest.0;
        let thirds = [1.0, 2.0].map(|n| from + (to - from) * n / 3.0);
        let heat = [from, thirds[0], thirds[1], to].map(|time| span.heat_lost_j(time));
        // The mean turns where the heat does.
        let turns = Course::through((from, to), heat).turning_points().next().is_some();
        let whole_glass = turns || wide(&self.latest) || wide(&end);
        let read: &mut dyn FnMut(f64) -> Record = if whole_glass { &mut whole } else { &mut quick };
        let inner = thirds.map(&mut *read);
        let records = [&self.latest, &inner[0], &inner[1], &end];
        self.extremes.follow(records, read);
        let edge = records.map(|record| (record.mid_edge - record.mid_centre).kelvins());
        self.edge.push(Course::through((from, to), edge));
        self.latest = end;
        let now_widest = self.extremes.most("spread_k");
        if self.widest.is_some() && now_widest != widest {
            span.celsius(now_widest.1, &mut self.celsius);
            self.widest = Some(self.field(now_widest.1));
        }
    }

    /// Writes the row of `time`, whose field is in `celsius`.
    fn record(&mut self, time_s: f64, heat_lost_j: f64, air: AirState) {
        let at = Instant { time_s, side: Side::After };
        self.history.push(self.reader.whole(&self.celsius, at, heat_lost_j).with_air(air));
        self.next_row = self.rows.next();
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
        let ready_at_s = good_intervals.first().map(|interval| interval.from_s);
        let half = 0.5 * self.scenario.night.duration.seconds();
        let worst_late_edge = largest_from(&self.edge, ready_at_s.unwrap_or(half));
        // Where the air jumps at the very end the last row has what comes after.
        self.extremes.offer(&self.reader.across(&self.latest, Side::After));
        Night {
            ready_at_s,
            good_intervals,
            minima: self.extremes.least,
            maxima: self.extremes.most,
            worst_late_edge,
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

/// What moved air does where a stretch begins.
fn air_at_rest(films: &Films, stepper: &Stepper<'_>) -> AirState {
    if !films.moves_air() {
        return films.own_fan();
    }
    let surface = stepper.surface_kelvin();
    let bodies = stepper.body_kelvin();
    films.air_state(stepper.time_s(), &Temperatures { surface: &surface, bodies })
}

/// (Value, time \[s\]) that is largest in size from a time \[s\] on.
fn largest_from(courses: &[Course], time: f64) -> (f64, f64) {
    let largest = courses.iter().filter_map(|course| course.largest_from(time));
    let none = (0.0, time);
    largest.fold(none, |best, next| if next.0.abs() > best.0.abs() { next } else { best })
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
