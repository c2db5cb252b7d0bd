//! Where the secondary stands and what it meets there.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, PI, SQRT_2};

use evenglass_airflow::column::Column;
use evenglass_convection::plate;
use evenglass_materials::moist_air::{
    AirProperties, vapour_density, vapour_pressure_from_dew_point, wetting_point,
};
use evenglass_materials::{sky, view};
use evenglass_scenario::scenario::Conditions;
use evenglass_scenario::telescope::Form;
use evenglass_scenario::{Scenario, Side};
use evenglass_units::{Length, Temperature};

use crate::films::{AirState, usual_air};

/// Share of its view that is sky for the back of a secondary in the open [-]: it leans, and
/// ring and holder hide some of what it would see.
const OPEN_SKY: f64 = 0.5;

/// The secondary in its telescope.
#[derive(Debug)]
pub(crate) struct Site<'a> {
    night: &'a Conditions,
    /// Minor axis \[m\].
    minor: f64,
    /// Above the primary's front \[m\].
    height: f64,
    /// Fraction of the wind that reaches it [-].
    shelter: f64,
    /// Whether it stands below the mouth of a tube or box.
    walled: bool,
    /// Whether moved air that fills the tube or rises from the box reaches it.
    in_stream: bool,
    /// Share of the back's view that is the open mouth [-].
    mouth_view: f64,
    heater_w: f64,
    air: AirProperties,
    pressure: f64,
    /// Film in a stream of 1 m/s [W m⁻² K⁻¹]; it goes with the square root.
    film_at_one: f64,
}

/// What surrounds the secondary at one instant.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Surrounding {
    /// \[K\]
    pub(crate) air: f64,
    /// Film of moving air on both sides [W m⁻² K⁻¹].
    pub(crate) forced: f64,
    /// Fourth power of the temperature that face and back look at [K⁴].
    pub(crate) face_radiant: f64,
    pub(crate) back_radiant: f64,
    /// Vapour in the air [kg m⁻³]; NaN where the night does not tell.
    pub(crate) vapour: f64,
    /// Point of wetting \[K\]; NaN likewise, and below it nothing lies then.
    pub(crate) wetting: f64,
    /// \[Pa\]
    pub(crate) pressure: f64,
    /// \[W\]
    pub(crate) heater: f64,
}

impl Surrounding {
    /// Part of the way to another.
    pub(crate) fn towards(&self, other: &Self, share: f64) -> Self {
        let mix = |from: f64, to: f64| from + share * (to - from);
        Self {
            air: mix(self.air, other.air),
            forced: mix(self.forced, other.forced),
            face_radiant: mix(self.face_radiant, other.face_radiant),
            back_radiant: mix(self.back_radiant, other.back_radiant),
            vapour: mix(self.vapour, other.vapour),
            wetting: mix(self.wetting, other.wetting),
            pressure: mix(self.pressure, other.pressure),
            heater: mix(self.heater, other.heater),
        }
    }
}

impl<'a> Site<'a> {
    pub(super) fn of(scenario: &'a Scenario) -> Option<Self> {
        let telescope = scenario.telescope.as_ref()?;
        let secondary = telescope.secondary.as_ref()?;
        let night = &scenario.night;
        let (minor, height) = (secondary.diameter.metres(), secondary.distance.metres());
        let length = telescope.length.metres();
        let aperture = scenario.mirror.diameter.metres();
        let recess = length - height;
        let closed = matches!(telescope.form, Form::Tube | Form::Box | Form::ShroudedTruss);
        let walled = closed && recess > 0.0;
        let across = aperture + 2.0 * telescope.clearance.metres();
        // A square mouth counts as the circle of its area.
        let square = if telescope.form == Form::Tube { 1.0 } else { 2.0 / PI.sqrt() };
        let mouth = Length::from_metres(0.5 * across * square);
        let values = night.air.values();
        let coldest = values.iter().copied().fold(f64::INFINITY, f64::min);
        let warmest = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let pressure = night.pressure.at(0.0, Side::After);
        let air = usual_air(0.5 * (coldest + warmest), pressure);
        let mut site = Self {
            night,
            minor,
            height,
            shelter: if walled || closed { telescope.shelter } else { 1.0 },
            walled,
            in_stream: walled || height <= length + aperture,
            mouth_view: view::tilted_element_to_disc(
                mouth,
                Length::from_metres(recess.max(0.0)),
                FRAC_PI_4,
            ),
            heater_w: secondary.heater_w.unwrap_or(0.0),
            air,
            pressure,
            film_at_one: 0.0,
        };
        let reynolds = site.length() / air.kinematic_viscosity();
        let nusselt = plate::oblique(reynolds, air.prandtl()).value;
        site.film_at_one = nusselt * air.conductivity / site.length();
        Some(site)
    }

    /// Area of its face \[m²\] (eq. D-10).
    pub(super) fn area(&self) -> f64 {
        FRAC_PI_4 * SQRT_2 * self.minor * self.minor
    }

    /// Four times area over circumference \[m\]: the ellipse of axes 1 and √2.
    pub(super) fn length(&self) -> f64 {
        // Ramanujan's circumference, π (a + b)(1 + 3h/(10 + √(4 − 3h))), h = (a − b)²/(a + b)².
        let (a, b) = (0.5 * SQRT_2 * self.minor, 0.5 * self.minor);
        let h = ((a - b) / (a + b)).powi(2);
        let around = PI * (a + b) * (1.0 + 3.0 * h / (10.0 + (4.0 - 3.0 * h).sqrt()));
        4.0 * self.area() / around
    }

    /// Air of the middle of the night.
    pub(super) fn usual_air(&self) -> &AirProperties {
        &self.air
    }

    /// \[Pa\]
    pub(super) fn usual_pressure(&self) -> f64 {
        self.pressure
    }

    /// What it meets at a time \[s\], where something jumps on one side of the jump.
    pub(super) fn around(&self, time: f64, side: Side, air: &AirState) -> Surrounding {
        let night = self.night;
        let night_air = night.air.at(time, side);
        let pressure = night.pressure.at(time, side);
        let (excess, speed) = self.stream(time, side, air);
        let kelvin = night_air + excess;
        let wall = air.wall_k.unwrap_or(night_air);
        let surroundings = if self.walled { wall } else { night_air };
        let (vapour, wetting) = night.dew_point.as_ref().map_or((f64::NAN, f64::NAN), |dew| {
            let dew = Temperature::from_kelvin(dew.at(time, side));
            let pressure = evenglass_units::Pressure::from_pascals(pressure);
            let vapour = vapour_pressure_from_dew_point(dew, pressure);
            let density = vapour_density(vapour, Temperature::from_kelvin(kelvin));
            (density, wetting_point(dew).kelvin())
        });
        Surrounding {
            air: kelvin,
            forced: self.film_at_one * speed.sqrt(),
            face_radiant: surroundings.powi(4),
            back_radiant: self.above((time, side), night_air, (surroundings, air)),
            vapour,
            wetting,
            pressure,
            heater: self.heater_w * night.secondary_heater.at(time, side),
        }
    }

    /// Fourth power of the temperature that the back looks at [K⁴] (eq. D-11).
    fn above(
        &self,
        (time, side): (f64, Side),
        night_air: f64,
        (surroundings, air): (f64, &AirState),
    ) -> f64 {
        let Some(sky) = air.sky_k else { return surroundings.powi(4) };
        let (share, sky) = if !self.walled {
            (OPEN_SKY, sky.powi(4))
        } else if air.covered {
            (0.0, 0.0)
        } else {
            // Through the mouth it sees the sky there where the telescope points.
            let black = night_air.powi(4);
            let zenith_angle = FRAC_PI_2 - self.night.altitude.at(time, side);
            let emissivity = sky::emissivity_towards(sky.powi(4) / black, zenith_angle);
            (self.mouth_view, emissivity * black)
        };
        share * sky + (1.0 - share) * surroundings.powi(4)
    }

    /// Excess over the night air \[K\] and speed of the air that it meets [m/s] (eq. D-9).
    fn stream(&self, time: f64, side: Side, air: &AirState) -> (f64, f64) {
        let still = if self.walled { air.inside_excess } else { 0.0 };
        let out_of_wind = self.walled && air.covered;
        let wind = self.night.wind.as_ref().filter(|_| !out_of_wind);
        let wind = wind.map_or(0.0, |wind| self.shelter * wind.at(time, side).max(0.0));
        let (excess, speed) = match (air.foot, air.column_excess) {
            (Some(foot), Some(base)) => {
                let ambient = self.night.air.at(time, side) + still;
                let column = Column::of_flow(foot.flow, foot.speed, base - still, ambient);
                let share = self.share_of(column.half_speed_diameter(self.height).value);
                let excess = still + share * column.axis_excess(self.height).value;
                (excess, share * column.axis_speed(self.height).value)
            }
            (None, Some(base)) if self.in_stream && air.section > 0.0 && !air.covered => {
                (base, air.flow / air.section)
            }
            _ => (still, 0.0),
        };
        // What the wind carries past is night air.
        let (moved, blown) = (speed * speed, wind * wind);
        let both = moved + blown;
        let excess = if blown > 0.0 { still + (excess - still) * moved / both } else { excess };
        (excess, both.sqrt())
    }

    /// Mean over the secondary of what falls off from the axis as a bell does, half of it left
    /// at a diameter \[m\].
    fn share_of(&self, half: f64) -> f64 {
        if half <= 0.0 {
            return 0.0;
        }
        let x = std::f64::consts::LN_2 * (self.minor / half).powi(2);
        if x > 1e-9 { -(-x).exp_m1() / x } else { 1.0 }
    }
}
