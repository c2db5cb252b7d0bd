//! The air that the light crosses: on the front, in the column, inside the tube.
//!
//! What each of them costs, which air stands where and how fast it moves: docs/physics/image.md
//! (eqs. S-1 to S-21).

use evenglass_airflow::column::Column;
use evenglass_optics::{
    Beam as Light, Blur, FaceAir, PhaseVariance, Slice, WAVELENGTH_M, column_seeing, face_seeing,
    thermal_slope,
};
use evenglass_scenario::telescope::Form;
use evenglass_scenario::{Profile, Scenario, Side};
use evenglass_units::Temperature;

use crate::figure::obstruction;
use crate::films::AirState;
use crate::result::Record;

/// Slices into which a column is cut.
const SLICES: u32 = 12;

/// Turbulent friction of a plate, half its coefficient times Re^(1/5) [-] (eq. S-21).
const FRICTION: f64 = 0.0296;

/// Air at 10 °C and sea level: heat per volume and kelvin [J m⁻³ K⁻¹], kinematic viscosity
/// [m² s⁻¹], Prandtl number to the power 2/3 [-]. The speed they give enters by its sixth root.
const VOLUME_HEAT: f64 = 1254.0;
const VISCOSITY: f64 = 1.42e-5;
const PRANDTL: f64 = 0.797;

/// Where the telescope says nothing of it, the light leaves the column this far up, in focal
/// lengths [-]: common practice, no source.
const USUAL_TURN: f64 = 0.8;

/// Blurs what the mirror shows.
#[derive(Debug)]
pub(crate) struct Beam<'a> {
    pressure: &'a Profile,
    form: Option<Form>,
    light: Light,
    /// Diameter in use \[m\].
    aperture: f64,
    /// Width of the space that the air around the mirror fills \[m\].
    width: f64,
    /// How far up warm air that fills the beam reaches before it is lost \[m\].
    reach: f64,
}

impl<'a> Beam<'a> {
    pub(crate) fn new(scenario: &'a Scenario) -> Self {
        let aperture = scenario.mirror.diameter.metres();
        let focal = scenario.mirror.focal_ratio.map_or(f64::INFINITY, |ratio| ratio * aperture);
        let telescope = scenario.telescope.as_ref();
        let secondary = telescope.and_then(|telescope| telescope.secondary);
        let hole = scenario.mirror.hole_diameter.map_or(0.0, |hole| 0.5 * hole.metres());
        let length = telescope.map_or(0.0, |telescope| telescope.length.metres());
        let clearance = telescope.map_or(0.0, |telescope| telescope.clearance.metres());
        // Above a box or without a wall it takes about a diameter to be lost.
        let open = match telescope.map(|telescope| telescope.form) {
            Some(Form::Tube | Form::Box) => 0.0,
            Some(Form::Truss | Form::ShroudedTruss) | None => aperture,
        };
        let turn = match secondary {
            Some(secondary) => secondary.distance.metres(),
            None if focal.is_finite() => USUAL_TURN * focal,
            None => length + open,
        };
        Self {
            pressure: &scenario.night.pressure,
            form: telescope.map(|telescope| telescope.form),
            light: Light {
                inner_radius_m: hole.max(obstruction(scenario)),
                outer_radius_m: 0.5 * aperture,
                focal_length_m: focal,
                turn_m: turn,
            },
            aperture,
            width: aperture + 2.0 * clearance,
            reach: length + open,
        }
    }

    /// Temperature of what holds the focuser \[K\]: the wall of a tube or box, or poles in
    /// the night air.
    pub(crate) fn tube_kelvin(&self, air: Temperature, wall_k: Option<f64>) -> f64 {
        match (self.form, wall_k) {
            (Some(Form::Tube | Form::Box), Some(wall)) => wall,
            _ => air.kelvin(),
        }
    }

    /// Blur \[arcsec\] and phase variance \[rad²\] of all air in the beam.
    pub(crate) fn blur(&self, record: &Record, air: &AirState) -> (Blur, f64) {
        let face = face_seeing(&FaceAir {
            excess_k: record.front_minus_air.kelvins() - air.inside_excess,
            speed_m_s: self.speed(air.front_film),
            air_k: record.air.kelvin(),
            aperture_m: self.aperture,
        });
        let above = self.above(record, air);
        let seeing = Blur::together(&[face.blur, above.blur(self.aperture)]);
        (seeing, (face.variance + above).value)
    }

    /// What the air above the front costs.
    fn above(&self, record: &Record, air: &AirState) -> PhaseVariance {
        let pressure = self.pressure.at(record.time_s, Side::After);
        let slope = thermal_slope(record.air.kelvin(), pressure, WAVELENGTH_M);
        let excess = air.column_excess.unwrap_or(air.inside_excess);
        // Air colder than the night lies still at the bottom of the tube.
        let filled = if air.foot.is_some() { air.inside_excess } else { excess }.max(0.0);
        let mut variance = PhaseVariance::NONE;
        if filled > 0.0 {
            let slices = slices(self.reach, |_| (filled, self.width));
            variance = variance + column_seeing(&slices, &self.light, slope);
        }
        if let Some(foot) = air.foot {
            let warmer = (excess - air.inside_excess).max(0.0);
            let column = Column::of_flow(foot.flow, foot.speed, warmer, record.air.kelvin());
            // Wider and cooler as it goes, up to where the light turns.
            let slices = slices(self.light.turn_m, |height| {
                (column.axis_excess(height).value, column.half_speed_diameter(height).value)
            });
            variance = variance + column_seeing(&slices, &self.light, slope);
        }
        variance
    }

    /// Speed [m/s] of air along a plate as long as the mirror that makes this film
    /// [W m⁻² K⁻¹] by turbulence: heat and momentum cross the layer alike (eq. S-21).
    fn speed(&self, film: f64) -> f64 {
        let reynolds_per_speed = self.aperture / VISCOSITY;
        let stanton = FRICTION * reynolds_per_speed.powf(-0.2) / PRANDTL;
        (film.max(0.0) / (VOLUME_HEAT * stanton)).powf(1.25)
    }
}

/// Air from the front up to a height \[m\], from its excess \[K\] and width \[m\] at a height.
fn slices(reach: f64, at: impl Fn(f64) -> (f64, f64)) -> Vec<Slice> {
    let thickness_m = reach / f64::from(SLICES);
    let slice = |n: u32| {
        let height_m = (f64::from(n) + 0.5) * thickness_m;
        let (excess_k, diameter_m) = at(height_m);
        Slice { height_m, thickness_m, excess_k, diameter_m }
    };
    (0..SLICES).map(slice).collect()
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::*;

    const TUBE: &str = "[mirror]\ndiameter = '200 mm'\nedge_thickness = '25 mm'\nfocal_ratio = 6\n\
        glass = 'borosilicate'\n[night]\nstart = '20:00'\nduration = '2 h'\n\
        glass_temperature = '12 degC'\nair = { kind = 'steady', temperature = '10 degC' }\n\
        [telescope]\nform = 'tube'\nclearance = '20 mm'\nlength = '1.1 m'\n";

    /// A front as warm as the air inside, which is warmer or colder than the night: warm air
    /// costs, cold air lies still.
    #[test]
    fn cold_air_in_a_tube_does_not_blur_as_warm_air_does() {
        let scenario = evenglass_scenario::parse("t.toml", TUBE, Path::new(""), &[]).unwrap();
        let night = crate::simulate(&scenario, &crate::Resolution::default()).unwrap();
        let beam = Beam::new(&scenario);
        let blur = |excess: f64| {
            let mut record = night.history[0].clone();
            record.front_minus_air = evenglass_units::TemperatureDifference::from_kelvins(excess);
            let air = AirState {
                fan_speed: 0.0,
                flow: 0.0,
                column_excess: None,
                inside_excess: excess,
                wall_k: None,
                front_film: 0.0,
                front_given: None,
                sky_k: None,
                front_sees_k: None,
                covered: false,
                section: 0.0,
                foot: None,
            };
            beam.blur(&record, &air)
        };
        let (warm, variance) = blur(3.0);
        assert!(warm.value > 0.3 && variance > 0.1, "{warm:?}, {variance} rad²");
        let (cold, variance) = blur(-3.0);
        assert!(cold.value <= 0.0 && variance <= 0.0, "{cold:?}, {variance} rad²");
    }
}
