//! Writes the history, the fields and the good stretches while the night goes by.

use std::rc::Rc;

use evenglass_disc::{Grid, Part, Span, Stepper, Surroundings, Temperatures, Variation};
use evenglass_scenario::{Scenario, Side};
use evenglass_units::Temperature;
use ndarray::Array2;

use crate::dew::{DewNight, Primary};
use crate::extremes::{Course, Extremes};
use crate::figure::{FigureReader, Profiles};
use crate::films::{AirState, Sectors};
use crate::good::GoodTracker;
use crate::probes::Probes;
use crate::reading::{Glass, Instant, Reader};
use crate::result::{Energy, Field, FieldPoints, Moment, Night, Occasion, Record, Warning};
use crate::secondary::Secondary;

use within::{Start, Within, waves};

mod within;

/// The balance of a night that changes the glass by less than this is held
/// against this [K].
const LEAST_EXCHANGE_K: f64 = 0.01;

/// Follows the steps of a night and writes down what is asked for.
pub(crate) struct Recorder<'a> {
    scenario: &'a Scenario,
    grid: &'a Grid,
    reader: Rc<Reader<'a>>,
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
    /// The worst figure so far, and every instant at which the night may become good.
    worst: Option<(f64, Moment)>,
    begun: Vec<Moment>,
    /// Row and field times not yet reached \[s\], ascending.
    rows: std::vec::IntoIter<f64>,
    next_row: Option<f64>,
    field_times: std::vec::IntoIter<f64>,
    next_field: Option<f64>,
    stored_at_start: f64,
    exchanged: f64,
    /// What varies around the axis.
    varying: Vec<Part>,
    /// Figure, air and unevenness of the front at the end of the last step.
    profiles: Option<Profiles>,
    air: AirState,
    unevenness: Vec<f64>,
    secondary: Option<Secondary<'a>>,
    primary_dew: Option<Primary<'a>>,
}

impl<'a> Recorder<'a> {
    /// At the start of the night, whose first stretch the films have entered.
    ///
    /// * `figure` — absent where only temperatures are wanted
    pub(crate) fn new(
        scenario: &'a Scenario,
        grid: &'a Grid,
        (figure, variation): (Option<FigureReader>, &Variation),
        (stepper, films): (&Stepper<'_>, &Sectors),
    ) -> Self {
        let mut rows = row_times(scenario).into_iter();
        let mut field_times = scenario.output.fields_at.clone().into_iter();
        let reader = Reader::new(scenario, Probes::new(grid), figure);
        let celsius = stepper.celsius();
        let varying = variation.parts();
        let waves = waves(&varying, |part| stepper.part_kelvin(part));
        let profiles = reader.profiles(&celsius, &waves);
        let air = air_at_rest(films, stepper);
        let secondary = Secondary::new(scenario, &air);
        let unevenness = reader.unevenness(&waves);
        let glass = Glass {
            celsius: &celsius,
            profiles: profiles.as_ref(),
            heat_lost_j: 0.0,
            unevenness: &unevenness,
            secondary_k: secondary.as_ref().map_or(f64::NAN, Secondary::kelvin),
        };
        let at = Instant { time_s: 0.0, side: Side::After };
        let start = reader.read(&glass, at, &air);
        let mut recorder = Self {
            scenario,
            grid,
            reader: Rc::new(reader),
            good: GoodTracker::new(scenario),
            history: vec![],
            fields: vec![],
            widest: None,
            extremes: Extremes::new(&start),
            latest: start,
            edge: vec![],
            worst: None,
            begun: vec![],
            next_row: rows.next(),
            rows,
            next_field: field_times.next(),
            field_times,
            stored_at_start: stepper.heat_stored_j(),
            exchanged: 0.0,
            varying,
            profiles: None,
            air,
            unevenness: vec![],
            secondary,
            primary_dew: Primary::of(scenario),
        };
        if recorder.next_row == Some(0.0) {
            recorder.history.push(recorder.latest.clone());
            recorder.next_row = recorder.rows.next();
        }
        while recorder.next_field == Some(0.0) {
            let field = recorder.field(0.0, &glass);
            recorder.fields.push(field);
            recorder.next_field = recorder.field_times.next();
        }
        if scenario.output.fields_at.is_empty() {
            recorder.widest = Some(recorder.field(0.0, &glass));
        }
        recorder.profiles = profiles;
        recorder.unevenness = unevenness;
        recorder
    }

    /// A stretch without jumps begins.
    pub(crate) fn enter(&mut self, from: f64, films: &Sectors, stepper: &Stepper<'_>) {
        let air = air_at_rest(films, stepper);
        self.latest = self.reader.across(&self.latest, Side::After, &air);
        // At a jump a row holds what comes after it.
        if let Some(row) = self.history.pop_if(|row| row.time_s >= from) {
            self.history.push(self.reader.across(&row, Side::After, &air));
        }
        if let Some(secondary) = &mut self.secondary {
            secondary.enter(from, &air);
        }
        if let Some(primary) = &mut self.primary_dew {
            primary.enter(&self.latest, &air);
        }
        self.air = air;
    }

    pub(crate) fn observe(&mut self, span: &Span<'_>, films: &Sectors) {
        self.exchanged += (span.heat_lost_j(span.to_s()) - span.heat_lost_j(span.from_s())).abs();
        let reader = Rc::clone(&self.reader);
        let sizes = (self.grid.len(), films.sectors() * self.grid.boundary().len());
        let start = Start {
            profiles: self.profiles.as_ref(),
            air: &self.air,
            unevenness: &self.unevenness,
        };
        let mut within = Within::new(span, (&reader, films), sizes, (&self.varying, start));
        within.lead(self.secondary.as_mut());
        let focus = self.follow(&within);
        // The rate of focus where the step begins is told by the step alone.
        if let Some(row) = self.history.pop_if(|row| row.time_s >= span.from_s()) {
            let rate = focus.slope(row.time_s);
            self.history.push(self.reader.with_focus_rate(row, rate));
        }
        while let Some(time) = self.next_row.filter(|&time| time <= span.to_s()) {
            let row = within.record(time, Side::After);
            self.history.push(self.reader.with_focus_rate(row, focus.slope(time)));
            self.next_row = self.rows.next();
        }
        while let Some(time) = self.next_field.filter(|&time| time <= span.to_s()) {
            self.fields.push(within.glass(time, |glass| self.field(time, glass)));
            self.next_field = self.field_times.next();
        }
        (self.profiles, self.air, self.unevenness) = within.last();
    }

    /// Looks for extremes and for the ends of good stretches inside a step; returns how the
    /// focus runs through it.
    fn follow(&mut self, within: &Within<'_>) -> Course {
        let ends = within.ends();
        // A step ends at the latest where something jumps, and there the value before counts.
        let read = |time| within.record(time, Side::Before);
        let [first, second, end] = [1, 2, 3].map(|third| read(within.third(third)));
        let readings = [&self.latest, &first, &second, &end];
        let focus = Course::through(ends, readings.map(Reader::focus));
        let rated = |record: Record| {
            let rate = focus.slope(record.time_s);
            self.reader.with_focus_rate(record, rate)
        };
        let records = readings.map(|record| rated(record.clone()));
        let records = records.each_ref();
        let widest = self.extremes.most("spread_k");
        self.extremes.follow(records, |time| rated(read(time)));
        for time in self.good.follow(records, &read) {
            self.begun.extend(within.moment(time, Occasion::Ready));
        }
        if let Some(primary) = &mut self.primary_dew {
            primary.follow(records, within.airs());
        }
        let figure = |record: &Record| record.image.total_rms_m;
        let ends_worse = |so_far: f64| records.into_iter().filter(move |r| figure(r) > so_far);
        let so_far = self.worst.as_ref().map_or(-1.0, |worst| worst.0);
        if let Some(worse) = ends_worse(so_far).max_by(|a, b| figure(a).total_cmp(&figure(b))) {
            let moment = within.moment(worse.time_s, Occasion::Worst);
            self.worst = moment.map(|moment| (figure(worse), moment));
        }
        let edge = records.map(|record| (record.mid_edge - record.mid_centre).kelvins());
        self.edge.push(Course::through(ends, edge));
        let now_widest = self.extremes.most("spread_k");
        if self.widest.is_some() && now_widest != widest {
            let time = now_widest.1;
            self.widest = Some(within.glass(time, |glass| self.field(time, glass)));
        }
        self.latest = end;
        focus
    }

    fn field(&self, time_s: f64, glass: &Glass<'_>) -> Field {
        let kelvin = glass.celsius.iter().map(|&c| Temperature::from_celsius(c).kelvin());
        let temperature_k = Array2::from_shape_vec(self.grid.shape(), kelvin.collect())
            .expect("one temperature per point of the grid");
        Field {
            time_s,
            air_k: self.scenario.night.air.at(time_s, Side::After),
            temperature_k,
            surface: self.reader.surface(glass.profiles),
        }
    }

    pub(crate) fn finish(mut self, stepper: &Stepper<'_>, mut warnings: Vec<Warning>) -> Night {
        let lost_j = stepper.heat_lost_j();
        let stored_j = stepper.heat_stored_j() - self.stored_at_start;
        // Glass that stays as warm as the air exchanges nothing but rounding errors.
        let least = LEAST_EXCHANGE_K * stepper.heat_capacity_j_per_k();
        let residual = (lost_j + stored_j).abs() / self.exchanged.max(least);
        let (good_intervals, passing) = self.good.finish(self.scenario.night.duration.seconds());
        for row in &mut self.history {
            let time = row.time_s;
            row.good = good_intervals.iter().any(|i| i.from_s <= time && time <= i.to_s);
        }
        self.fields.extend(self.widest.take());
        let ready_at_s = good_intervals.first().map(|interval| interval.from_s);
        let half = 0.5 * self.scenario.night.duration.seconds();
        let worst_late_edge = largest_from(&self.edge, ready_at_s.unwrap_or(half));
        let ready = ready_at_s.and_then(|at| self.begun.into_iter().rfind(|m| m.time_s <= at));
        let moments = self.worst.map(|worst| worst.1).into_iter().chain(ready).collect();
        warnings.extend(self.primary_dew.as_ref().and_then(Primary::warning));
        let mean = self.latest.mean;
        let dew = self
            .primary_dew
            .map(|primary| DewNight::of(self.scenario, primary, self.secondary, mean));
        Night {
            ready_at_s,
            dew,
            moments,
            good_intervals,
            passing,
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

    /// The run is over; where the air jumps at its very end the last row has what comes after.
    pub(crate) fn end(&mut self, films: &Sectors, stepper: &Stepper<'_>) {
        let air = air_at_rest(films, stepper);
        self.extremes.offer(&self.reader.across(&self.latest, Side::After, &air));
    }
}

/// What the air does where a stretch begins.
fn air_at_rest(films: &Sectors, stepper: &Stepper<'_>) -> AirState {
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
