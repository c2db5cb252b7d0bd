//! Reads the columns of the history off the glass.

use evenglass_disc::{Grid, Span, Surroundings, Temperatures};
use evenglass_scenario::{Profile, Scenario, Side};
use evenglass_units::{Temperature, TemperatureDifference, VolumeRate};

use crate::films::{AirState, Films};
use crate::probes::Probes;
use crate::result::Record;

/// An instant within a step; where the air jumps, the side on which it lies.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Instant {
    pub(crate) time_s: f64,
    pub(crate) side: Side,
}

/// Knows where in the glass each column is read.
#[derive(Debug)]
pub(crate) struct Reader<'a> {
    air: &'a Profile,
    probes: Probes,
}

impl<'a> Reader<'a> {
    pub(crate) fn new(scenario: &'a Scenario, grid: &Grid) -> Self {
        Self { air: &scenario.night.air, probes: Probes::new(grid) }
    }

    pub(crate) fn probes(&self) -> &Probes {
        &self.probes
    }

    /// Every column, from the temperature of every point [°C] at an instant.
    pub(crate) fn whole(&self, celsius: &[f64], at: Instant, heat_lost_j: f64) -> Record {
        let probes = &self.probes;
        let spread = TemperatureDifference::from_kelvins(probes.spread(celsius));
        let mean = Temperature::from_celsius(probes.mean.read(celsius));
        let record = self.points(at, heat_lost_j, |probe| probe.read(celsius));
        Record { mean, spread, ..record }
    }

    /// The columns that need only few points; the others are NaN.
    pub(crate) fn quick(&self, span: &Span<'_>, at: Instant) -> Record {
        let read = |probe: &crate::probes::Probe| span.celsius_of(probe.terms(), at.time_s);
        self.points(at, span.heat_lost_j(at.time_s), read)
    }

    fn points(
        &self,
        at: Instant,
        heat_lost_j: f64,
        celsius: impl Fn(&crate::probes::Probe) -> f64,
    ) -> Record {
        let probes = &self.probes;
        let read = |probe| Temperature::from_celsius(celsius(probe));
        let air = Temperature::from_kelvin(self.air.at(at.time_s, at.side));
        Record {
            time_s: at.time_s,
            air,
            front_centre: read(&probes.front_centre),
            front_edge: read(&probes.front_edge),
            mid_centre: read(&probes.mid_centre),
            mid_edge: read(&probes.mid_edge),
            back_centre: read(&probes.back_centre),
            back_edge: read(&probes.back_edge),
            mean: Temperature::from_celsius(f64::NAN),
            spread: TemperatureDifference::from_kelvins(f64::NAN),
            front_minus_air: read(&probes.front_mean) - air,
            heat_lost_j,
            fan_speed: f64::NAN,
            flow: VolumeRate::from_m3_per_s(f64::NAN),
            column_excess: TemperatureDifference::from_kelvins(f64::NAN),
        }
    }

    /// The same state of the glass on the other side of a jump of the air.
    pub(crate) fn across(&self, before: &Record, side: Side) -> Record {
        let air = Temperature::from_kelvin(self.air.at(before.time_s, side));
        let front_minus_air = TemperatureDifference::from_kelvins(
            before.front_minus_air.kelvins() + (before.air - air).kelvins(),
        );
        Record { air, front_minus_air, ..before.clone() }
    }
}

impl Record {
    /// The same with what moved air does at that moment.
    pub(crate) fn with_air(self, air: AirState) -> Self {
        Self {
            fan_speed: air.fan_speed,
            flow: VolumeRate::from_m3_per_s(air.flow),
            column_excess: TemperatureDifference::from_kelvins(
                air.column_excess.unwrap_or(f64::NAN),
            ),
            ..self
        }
    }
}

/// What moved air does at a time within a step.
pub(crate) fn air_within(films: &Films, span: &Span<'_>, time_s: f64, points: usize) -> AirState {
    if !films.moves_air() {
        return films.own_fan();
    }
    let mut surface = vec![0.0; points];
    span.surface_kelvin(time_s, &mut surface);
    let bodies: Vec<f64> = (0..films.bodies()).map(|body| span.body_kelvin(body, time_s)).collect();
    films.air_state(time_s, &Temperatures { surface: &surface, bodies: &bodies })
}
