//! Reads the columns of the history off the glass.

use evenglass_disc::{Span, Surroundings, Temperatures};
use evenglass_optics::strehl;
use evenglass_scenario::{Profile, Scenario, Side};
use evenglass_units::{Temperature, TemperatureDifference, VolumeRate};

use crate::beam::Beam;
use crate::dew;
use crate::figure::{Figure, FigureReader, Focus, Profiles, Waves};
use crate::films::{AirState, Sectors};
use crate::image::Image;
use crate::probes::Probes;
use crate::result::{Record, Surface};

/// An instant within a step; where the air jumps, the side on which it lies.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Instant {
    pub(crate) time_s: f64,
    pub(crate) side: Side,
}

/// The glass at an instant.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Glass<'a> {
    /// Of every point of the grid [°C].
    pub(crate) celsius: &'a [f64],
    /// The figure of its front; absent where only temperatures are wanted.
    pub(crate) profiles: Option<&'a Profiles>,
    pub(crate) heat_lost_j: f64,
    /// Largest departure from the mean around the axis, at the points of the front \[K\]; empty
    /// for round glass.
    pub(crate) unevenness: &'a [f64],
    /// Face of the secondary \[K\]; NaN without one.
    pub(crate) secondary_k: f64,
}

/// Knows where in the glass each column is read, and what the light makes of it.
#[derive(Debug)]
pub(crate) struct Reader<'a> {
    air: &'a Profile,
    dew_point: Option<&'a Profile>,
    probes: Probes,
    /// Absent where only temperatures are wanted.
    figure: Option<FigureReader>,
    focus: Option<Focus>,
    beam: Beam<'a>,
    /// Temperature at the start of what holds the focuser \[K\].
    tube_start: f64,
}

impl<'a> Reader<'a> {
    pub(crate) fn new(
        scenario: &'a Scenario,
        probes: Probes,
        figure: Option<FigureReader>,
    ) -> Self {
        let mut reader = Self {
            air: &scenario.night.air,
            dew_point: scenario.night.dew_point.as_ref(),
            probes,
            figure,
            focus: Focus::of(scenario),
            beam: Beam::new(scenario),
            tube_start: f64::NAN,
        };
        let air = Temperature::from_kelvin(reader.air.at(0.0, Side::After));
        let wall = scenario.telescope.as_ref().map(|telescope| telescope.wall.start.kelvin());
        reader.tube_start = reader.beam.tube_kelvin(air, wall);
        reader
    }

    /// Every column but the rate of focus, which one instant does not tell.
    pub(crate) fn read(&self, glass: &Glass<'_>, at: Instant, air: &AirState) -> Record {
        let probes = &self.probes;
        let read =
            |probe: &crate::probes::Probe| Temperature::from_celsius(probe.read(glass.celsius));
        let night = Temperature::from_kelvin(self.air.at(at.time_s, at.side));
        let record = Record {
            time_s: at.time_s,
            air: night,
            front_centre: read(&probes.front_centre),
            front_edge: read(&probes.front_edge),
            mid_centre: read(&probes.mid_centre),
            mid_edge: read(&probes.mid_edge),
            back_centre: read(&probes.back_centre),
            back_edge: read(&probes.back_edge),
            mean: read(&probes.mean),
            spread: TemperatureDifference::from_kelvins(probes.spread(glass.celsius)),
            front_minus_air: read(&probes.front_mean) - night,
            heat_lost_j: glass.heat_lost_j,
            fan_speed: f64::NAN,
            flow: VolumeRate::from_m3_per_s(f64::NAN),
            column_excess: TemperatureDifference::from_kelvins(f64::NAN),
            front_coldest: Temperature::from_celsius(
                probes.front_coldest(glass.celsius, glass.unevenness),
            ),
            dew_margin_primary: TemperatureDifference::from_kelvins(f64::NAN),
            dew_margin_secondary: TemperatureDifference::from_kelvins(f64::NAN),
            secondary: Temperature::from_kelvin(glass.secondary_k),
            wall: Temperature::from_kelvin(f64::NAN),
            image: match (&self.figure, glass.profiles) {
                (Some(reader), Some(profiles)) => self.image_of(reader.read(profiles)),
                _ => Image::UNKNOWN,
            },
            good: false,
        };
        self.with_dew(self.with_air(record, air), at.side)
    }

    /// The figure of the front for temperatures at the grid's points [°C] and what varies
    /// around the axis.
    pub(crate) fn profiles(&self, celsius: &[f64], waves: &[Waves]) -> Option<Profiles> {
        self.figure.as_ref().map(|reader| reader.profiles(celsius, waves))
    }

    /// Largest departure from the mean around the axis at the points of the front \[K\].
    pub(crate) fn unevenness(&self, waves: &[Waves]) -> Vec<f64> {
        self.probes.front_unevenness(waves.iter().map(|wave| {
            let parts = wave.cosine.iter().zip(&wave.sine);
            parts.map(|(cosine, sine)| cosine.hypot(*sine)).collect()
        }))
    }

    /// The surface of the front.
    pub(crate) fn surface(&self, profiles: Option<&Profiles>) -> Surface {
        let surface = self.figure.as_ref().zip(profiles);
        let known = surface.map(|(reader, profiles)| reader.surface(profiles.clone()));
        known.unwrap_or_else(Surface::unknown)
    }

    /// The same state of the glass on the other side of a jump of the air.
    pub(crate) fn across(&self, before: &Record, side: Side, air: &AirState) -> Record {
        let night = Temperature::from_kelvin(self.air.at(before.time_s, side));
        let front_minus_air = TemperatureDifference::from_kelvins(
            before.front_minus_air.kelvins() + (before.air - night).kelvins(),
        );
        let record = Record { air: night, front_minus_air, ..before.clone() };
        self.with_dew(self.with_air(record, air), side)
    }

    /// Focus of glass and tube together \[m\].
    pub(crate) fn focus(record: &Record) -> f64 {
        let tube = record.image.tube_focus_m;
        record.image.focus_shift_m + if tube.is_nan() { 0.0 } else { tube }
    }

    /// The same with the time in which the focus, at this rate [m/s], moves by its depth.
    pub(crate) fn with_focus_rate(&self, mut record: Record, rate: f64) -> Record {
        if let Some(focus) = &self.focus {
            record.image.refocus_s = focus.interval(rate);
        }
        record
    }

    fn image_of(&self, figure: Figure) -> Image {
        let of_focus = |value: fn(&Focus, f64) -> f64, of: f64| {
            self.focus.as_ref().map_or(f64::NAN, |focus| value(focus, of))
        };
        Image {
            defocus_m: figure.defocus_m,
            focus_shift_m: of_focus(Focus::shift, figure.defocus_m),
            figure_pv_m: figure.pv_m,
            figure_rms_m: figure.rms_m,
            total_rms_m: figure.total_rms_m,
            good_aperture_m: figure.good_aperture_m,
            spherical_m: figure.spherical_m,
            correction: of_focus(Focus::correction, figure.spherical_m),
            coma: figure.coma,
            astigmatism: figure.astigmatism,
            trefoil: figure.trefoil,
            phase_variance: figure.phase_variance,
            ..Image::UNKNOWN
        }
    }

    /// The same with its margins from the point of wetting.
    fn with_dew(&self, mut record: Record, side: Side) -> Record {
        let wetting = dew::wetting(self.dew_point, record.time_s, side);
        record.dew_margin_primary = record.front_coldest - wetting;
        record.dew_margin_secondary = record.secondary - wetting;
        record
    }

    /// The same with what the air does at that moment, and what the light makes of both.
    fn with_air(&self, mut record: Record, air: &AirState) -> Record {
        if self.figure.is_some() {
            let (seeing, variance) = self.beam.blur(&record, air);
            let image = &mut record.image;
            image.seeing = seeing;
            image.air_variance = variance;
            image.strehl = strehl(image.phase_variance + variance).unwrap_or(f64::NAN);
        }
        if let Some(focus) = &self.focus {
            let now = self.beam.tube_kelvin(record.air, air.wall_k);
            record.image.tube_focus_m = focus.tube(now - self.tube_start);
        }
        let column = air.column_excess.unwrap_or(f64::NAN);
        record.fan_speed = air.fan_speed;
        record.flow = VolumeRate::from_m3_per_s(air.flow);
        record.column_excess = TemperatureDifference::from_kelvins(column);
        record.wall = Temperature::from_kelvin(air.wall_k.unwrap_or(f64::NAN));
        record
    }
}

/// What the air does at a time within a step.
pub(crate) fn air_within(films: &Sectors, span: &Span<'_>, time_s: f64, points: usize) -> AirState {
    let bodies: Vec<f64> = (0..films.bodies()).map(|body| span.body_kelvin(body, time_s)).collect();
    let mut surface = vec![];
    if films.moves_air() {
        surface.resize(points, 0.0);
        span.surface_kelvin(time_s, &mut surface);
    }
    films.air_state(time_s, &Temperatures { surface: &surface, bodies: &bodies })
}
