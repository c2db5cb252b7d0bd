//! Nights without a solver: a field written down in closed form.
//!
//! The mean follows one exponential towards falling air; edge and faces lag or lead
//! it by smooth bumps. It is no solution of anything, but all its numbers agree
//! with one another, so tables and pictures can be held against it.

#[path = "toy/dew.rs"]
mod dew;
#[path = "toy/light.rs"]
mod light;

use std::path::Path;

use evenglass_simulation::Night;
use evenglass_simulation::result::{COLUMNS, Energy, Field, FieldPoints, Record, Warning};
use evenglass_simulation::scenario::{Scenario, Side, parse};
use evenglass_units::{Temperature, TemperatureDifference, VolumeRate};
use ndarray::Array2;

use light::Light;

/// What varies between the nights of the tests.
#[derive(Debug, Clone)]
pub(crate) struct Toy {
    pub(crate) title: &'static str,
    /// Lines of `[mirror]`.
    pub(crate) mirror: &'static str,
    /// Lines of `[night]`.
    pub(crate) night: &'static str,
    /// Further sections.
    pub(crate) more: &'static str,
    /// Time in which the glass follows the air [h].
    pub(crate) follow_h: f64,
    /// Size of the differences inside the glass over its lag behind the air [-].
    pub(crate) uneven: f64,
    /// Excess of the column over the front over the lag of the glass [-]; NaN is no column.
    pub(crate) column: f64,
    /// Astigmatism over spherical error, coma half as much [-].
    pub(crate) lopsided: f64,
}

impl Default for Toy {
    fn default() -> Self {
        Self {
            title: "Sixteen inches on a falling night",
            mirror: "diameter = '406 mm'\nedge_thickness = '41 mm'\nfocal_ratio = 4.5\nglass = 'soda-lime'",
            night: "start = '20:00'\nduration = '8 h'\nglass_temperature = '20 degC'\n\
                    air = { kind = 'falling', from = '18 degC', rate = '-1.5 K/h', floor = '11 degC' }\n\
                    fan_speed = 1.0",
            more: "[[event]]\nat = '22:30'\nfan_speed = 0.33",
            follow_h: 1.1,
            uneven: 0.22,
            column: f64::NAN,
            lopsided: 0.0,
        }
    }
}

impl Toy {
    pub(crate) fn scenario(&self) -> Scenario {
        let text = format!(
            "title = '{}'\n[mirror]\n{}\n[night]\n{}\n{}",
            self.title, self.mirror, self.night, self.more
        );
        match parse("toy.toml", &text, Path::new(""), &[]) {
            Ok(scenario) => scenario,
            Err(error) => panic!("{error:?}\n{text}"),
        }
    }

    /// The night this toy describes.
    pub(crate) fn night(&self) -> Night {
        let scenario = self.scenario();
        let end = scenario.night.duration.seconds();
        let interval = scenario.output.interval.seconds();
        let mut times: Vec<f64> = Vec::new();
        let mut time = 0.0;
        while time < end {
            times.push(time);
            time += interval;
        }
        times.push(end);
        let means = self.means(&scenario, &times);
        let shape = Shape::of(&scenario, self.lopsided);
        let secondary = scenario.telescope.as_ref().and_then(|telescope| telescope.secondary);
        let state = |(&t, &mean): (&f64, &f64)| {
            let air = scenario.night.air.at(t, Side::After);
            State {
                time_s: t,
                air,
                mean,
                bump: self.uneven * (mean - air) * (1.0 - (-t / 900.0).exp()),
                fan_speed: scenario.night.fan_speed.at(t, Side::After),
                column_excess: self.column * (mean - air),
                dew: scenario
                    .night
                    .dew_point
                    .as_ref()
                    .map_or(f64::NAN, |dew| dew.at(t, Side::After)),
                secondary: secondary.map_or(f64::NAN, |_| air - 1.0),
            }
        };
        let states: Vec<State> = times.iter().zip(&means).map(state).collect();
        let record = |s: &State| shape.record(*s, (means[0], states[0].air));
        let mut history: Vec<Record> = states.iter().map(record).collect();
        shape.light.rate(&mut history);
        let points = shape.points();
        let largest = states.iter().copied().max_by(|a, b| a.bump.abs().total_cmp(&b.bump.abs()));
        let mut fields: Vec<Field> = largest.iter().map(|s| shape.field(*s, &points)).collect();
        for wanted in &scenario.output.fields_at {
            let nearest = states
                .iter()
                .min_by(|a, b| (a.time_s - wanted).abs().total_cmp(&(b.time_s - wanted).abs()));
            fields.extend(nearest.map(|s| shape.field(*s, &points)));
        }
        fields.sort_by(|a, b| a.time_s.total_cmp(&b.time_s));
        finished(scenario, history, (points, fields), |row: &Record| {
            let at = states.iter().find(|s| s.time_s >= row.time_s).unwrap();
            shape.light.surface(at.bump)
        })
    }

    /// The mean of the glass [K] at each time, by short exact steps of dT/dt = (air − T) / τ.
    fn means(&self, scenario: &Scenario, times: &[f64]) -> Vec<f64> {
        let mut mean = scenario.night.glass_temperature.kelvin();
        let mut last = 0.0;
        times
            .iter()
            .map(|&t| {
                let air = scenario.night.air.at(0.5 * (t + last), Side::After);
                mean = air + (mean - air) * (-(t - last) / (3600.0 * self.follow_h)).exp();
                last = t;
                mean
            })
            .collect()
    }
}

#[derive(Debug, Clone, Copy)]
struct State {
    time_s: f64,
    air: f64,
    mean: f64,
    bump: f64,
    fan_speed: f64,
    column_excess: f64,
    /// Dew point of the night; NaN where it is not told.
    dew: f64,
    /// Face of the secondary; NaN without one.
    secondary: f64,
}

/// Flow at full speed [m³/s].
const FULL_FLOW: f64 = 0.029;

/// The section, and where in it the glass is warm.
struct Shape {
    inner: f64,
    outer: f64,
    thickness: f64,
    bend: f64,
    light: Light,
}

impl Shape {
    fn of(scenario: &Scenario, lopsided: f64) -> Self {
        let mirror = &scenario.mirror;
        let outer = mirror.diameter.metres() / 2.0;
        Self {
            inner: mirror.hole_diameter.map_or(0.0, |h| h.metres() / 2.0),
            outer,
            thickness: mirror.edge_thickness.metres(),
            bend: mirror.focal_ratio.map_or(0.0, |n| 1.0 / (8.0 * n * outer)),
            light: Light::of(scenario, lopsided),
        }
    }

    fn top(&self, radius: f64) -> f64 {
        self.thickness + self.bend * (radius * radius - self.outer * self.outer)
    }

    /// Kelvin at a place: warm in the middle, cold at the rim, the back and, less, the front.
    fn kelvin(&self, s: State, radius: f64, height: f64) -> f64 {
        let x = radius / self.outer;
        let y = 2.0 * height / self.top(radius) - 1.15;
        s.mean + s.bump * (0.5 - (1.0 - 0.4 * y) * x.powi(4) - 0.8 * y * y)
    }

    fn points(&self) -> FieldPoints {
        let (radial, axial) = (41, 17);
        let radius_m: Vec<f64> = (0..radial)
            .map(|i| self.inner + (self.outer - self.inner) * f64::from(i) / f64::from(radial - 1))
            .collect();
        let height = |i: usize, j: usize| self.top(radius_m[i]) * share(j, 17);
        let height_m = Array2::from_shape_fn((radius_m.len(), axial), |(i, j)| height(i, j));
        FieldPoints { radius_m, height_m }
    }

    fn field(&self, s: State, points: &FieldPoints) -> Field {
        let temperature_k = Array2::from_shape_fn(points.height_m.dim(), |(i, j)| {
            self.kelvin(s, points.radius_m[i], points.height_m[[i, j]])
        });
        let surface = self.light.surface(s.bump);
        Field { time_s: s.time_s, air_k: s.air, temperature_k, surface }
    }

    /// * `first` — mean of the glass and night air at the start \[K\]
    fn record(&self, s: State, first: (f64, f64)) -> Record {
        let at = |radius: f64, share: f64| {
            Temperature::from_kelvin(self.kelvin(s, radius, share * self.top(radius)))
        };
        let field = self.field(s, &self.points());
        let all = || field.temperature_k.iter().copied();
        let spread = all().fold(f64::MIN, f64::max) - all().fold(f64::MAX, f64::min);
        let front: f64 = (0..100)
            .map(|i| self.outer * ((f64::from(i) + 0.5) / 100.0).sqrt())
            .map(|radius| self.kelvin(s, radius, self.top(radius)) / 100.0)
            .sum();
        Record {
            time_s: s.time_s,
            air: Temperature::from_kelvin(s.air),
            front_centre: at(self.inner, 1.0),
            front_edge: at(self.outer, 1.0),
            mid_centre: at(self.inner, 0.5),
            mid_edge: at(self.outer, 0.5),
            back_centre: at(self.inner, 0.0),
            back_edge: at(self.outer, 0.0),
            mean: Temperature::from_kelvin(s.mean),
            spread: TemperatureDifference::from_kelvins(spread),
            front_minus_air: TemperatureDifference::from_kelvins(front - s.air),
            heat_lost_j: 9500.0 * (first.0 - s.mean),
            fan_speed: s.fan_speed,
            flow: VolumeRate::from_m3_per_s(FULL_FLOW * s.fan_speed),
            column_excess: TemperatureDifference::from_kelvins(s.column_excess),
            front_coldest: at(self.outer, 1.0),
            dew_margin_primary: at(self.outer, 1.0) - Temperature::from_kelvin(s.dew),
            dew_margin_secondary: TemperatureDifference::from_kelvins(s.secondary - s.dew),
            secondary: Temperature::from_kelvin(s.secondary),
            wall: Temperature::from_kelvin(f64::NAN),
            image: self.light.image(s.bump, front - s.air, s.air - first.1),
            good: false,
        }
    }
}

fn share(index: usize, count: u32) -> f64 {
    f64::from(u32::try_from(index).unwrap()) / f64::from(count - 1)
}

fn finished(
    scenario: Scenario,
    mut history: Vec<Record>,
    (points, fields): (FieldPoints, Vec<Field>),
    surface: impl Fn(&Record) -> evenglass_simulation::result::Surface,
) -> Night {
    let passing = light::passing(&scenario, &history);
    let good_intervals = light::good(&scenario, &passing);
    for row in &mut history {
        let within = |i: &evenglass_simulation::result::GoodInterval| {
            i.from_s <= row.time_s && row.time_s <= i.to_s
        };
        row.good = good_intervals.iter().any(within);
    }
    let extreme = |better: fn(f64, f64) -> bool| -> Vec<(f64, f64)> {
        let of = |column: &evenglass_simulation::result::Column| {
            let mut best = ((column.value)(&history[0]), history[0].time_s);
            for record in &history {
                let value = (column.value)(record);
                if better(value, best.0) || best.0.is_nan() {
                    best = (value, record.time_s);
                }
            }
            best
        };
        COLUMNS.iter().map(of).collect()
    };
    let lost_j = history[history.len() - 1].heat_lost_j;
    let ready_at_s = good_intervals.first().map(|i| i.from_s);
    let late = ready_at_s.unwrap_or(0.5 * scenario.night.duration.seconds());
    let edges = history.iter().filter(|row| row.time_s >= late);
    let edges = edges.map(|row| ((row.mid_edge - row.mid_centre).kelvins(), row.time_s));
    Night {
        minima: extreme(|a, b| a < b),
        maxima: extreme(|a, b| a > b),
        dew: dew::of(&scenario, &history),
        worst_late_edge: edges.max_by(|a, b| a.0.abs().total_cmp(&b.0.abs())).unwrap(),
        moments: light::moments(&history, ready_at_s, surface),
        ready_at_s,
        passing,
        good_intervals,
        energy: Energy { lost_j, stored_j: -lost_j, residual: 0.0 },
        warnings: vec![Warning {
            code: "not-modelled",
            text: "the spider is not reckoned with".to_owned(),
            count: 1,
        }],
        scenario,
        history,
        points,
        fields,
    }
}
