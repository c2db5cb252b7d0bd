//! What a fan behind the mirror or the wind adds to free convection.

use std::f64::consts::PI;

use evenglass_convection::jet::RoundJet;
use evenglass_convection::wall_jet::{self, CONFINED_EXPONENT};
use evenglass_convection::{Validity, duct, plate};
use evenglass_materials::moist_air::AirProperties;
use evenglass_scenario::scenario::{Cell, FanBehind};

use super::natural::{Conductance, Free};

/// Constant of the damping of a forced film by a stable one, see
/// [`evenglass_convection::mixed::stable_damping`].
const DAMPING: f64 = 10.0;

/// Flow of a wall layer over its peak speed and half depth [-]; after Rajaratnam (1976).
const WALL_FLOW: f64 = 1.1;

/// A forced film at a point.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Forced {
    /// [W m⁻² K⁻¹]
    pub(crate) film: f64,
    /// Depth of the moving layer over the square of its speed [s² m⁻¹]; times buoyancy
    /// it is a Richardson number.
    pub(crate) sluggishness: f64,
}

impl Forced {
    /// The same with its film multiplied.
    #[inline]
    pub(super) fn scaled(self, factor: f64) -> Self {
        Self { film: factor * self.film, ..self }
    }
}

/// Forced and free convection together (eqs. F-3 to F-5).
///
/// * `buoyancy` — gravity across the face over the air's temperature [m s⁻² K⁻¹]
/// * `difference` — surface minus air \[K\]
#[inline]
pub(super) fn mixed(
    forced: Forced,
    free: &Free<'_>,
    buoyancy: f64,
    difference: f64,
) -> Conductance {
    let scaled = free.scaled(difference);
    let natural = free.at(&scaled);
    if forced.film <= 0.0 {
        return natural;
    }
    if !free.is_stable(difference) {
        return together(Conductance { film: forced.film, growth: 0.0 }, natural);
    }
    let rate = DAMPING * buoyancy * forced.sluggishness * difference.abs();
    let inverse = 1.0 / (1.0 + rate);
    let film = forced.film * inverse.sqrt();
    // d · d(film)/dd of film ∝ (1 + rate)^(−1/2), rate ∝ |d|.
    let growth = -0.5 * film * rate * inverse;
    let sheared = together(Conductance { film, growth }, free.along(&scaled));
    if sheared.film > natural.film { sheared } else { natural }
}

/// Forced convection against free convection (eq. F-11): the third-power difference, at
/// least three quarters of the larger, for no flow stands still everywhere.
///
/// * `difference` — surface minus air \[K\]; free convection helps where it is negative
#[inline]
pub(super) fn opposed(forced: Forced, free: &Free<'_>, difference: f64) -> Conductance {
    let natural = free.at(&free.scaled(difference));
    if forced.film <= 0.0 {
        return natural;
    }
    let flow = Conductance { film: forced.film, growth: 0.0 };
    if difference <= 0.0 {
        return together(flow, natural);
    }
    let (large, small) = if flow.film > natural.film { (flow, natural) } else { (natural, flow) };
    let ratio = small.film / large.film;
    let cube = ratio * ratio * ratio;
    if 1.0 - cube <= LEAST_OPPOSED * LEAST_OPPOSED * LEAST_OPPOSED {
        return Conductance {
            film: LEAST_OPPOSED * large.film,
            growth: LEAST_OPPOSED * large.growth,
        };
    }
    let root = (1.0 - cube).cbrt();
    Conductance {
        film: large.film * root,
        growth: (large.growth - ratio * ratio * small.growth) / (root * root),
    }
}

/// Smallest film of opposed flows, as a share of the larger of the two [-].
const LEAST_OPPOSED: f64 = 0.75;

/// Third-power sum of two films, not both zero.
#[inline]
fn together(one: Conductance, other: Conductance) -> Conductance {
    let (large, small) = if one.film > other.film { (one, other) } else { (other, one) };
    let ratio = small.film / large.film;
    let square = ratio * ratio;
    let sum = 1.0 + square * ratio;
    let inverse = inverse_cube_root(sum);
    let inverse_square = inverse * inverse;
    Conductance {
        film: large.film * sum * inverse_square,
        growth: (large.growth + square * small.growth) * inverse_square,
    }
}

/// a^(−1/3) for a from 1 to 2, within 10⁻¹².
///
/// A cubic through Chebyshev points, then two Newton steps without a division: this is
/// the innermost loop of every fan and breeze.
#[inline]
fn inverse_cube_root(a: f64) -> f64 {
    const CUBIC: [f64; 4] = [0.999_699_911, -0.323_479_193, 0.165_948_108, -0.048_633_053];
    let x = a - 1.0;
    let guess = CUBIC[0] + x * (CUBIC[1] + x * (CUBIC[2] + x * CUBIC[3]));
    let newton = |y: f64| y * (4.0 - a * y * y * y) * (1.0 / 3.0);
    newton(newton(guess))
}

/// A fan blowing a flow at the back.
pub(crate) struct Fan<'a> {
    build: &'a FanBehind,
    air: &'a AirProperties,
    flow: f64,
    speed: f64,
    tip: f64,
    nozzle: f64,
    warming: Warming,
}

/// Where the warming of a closed cell's air on its way outward is reckoned with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Warming {
    /// In the film, which stands on the air as it comes in (eq. F-7).
    InTheFilm,
    /// In the driving temperature.
    InTheAir,
}

impl<'a> Fan<'a> {
    /// * `speed` — fraction of full revolutions [-]
    pub(crate) fn new(build: &'a FanBehind, speed: f64, air: &'a AirProperties) -> Self {
        let tip = build.fan_diameter.metres();
        let hub = build.hub_diameter.metres();
        let area = 0.25 * PI * (tip * tip - hub * hub).max(1e-8);
        let flow = build.flow.m3_per_s() * speed.max(0.0);
        let nozzle = (4.0 * area / PI).sqrt();
        let warming = Warming::InTheFilm;
        Self { build, air, flow, speed: flow / area, tip, nozzle, warming }
    }

    /// The same with the warming of its air reckoned elsewhere.
    pub(crate) fn warming(self, warming: Warming) -> Self {
        Self { warming, ..self }
    }

    /// Air that moves along the wall of an open back, with what it has drawn in [m³/s].
    pub(crate) fn wall_flow(&self, radius: f64) -> f64 {
        let layer = self.layer(radius.max(0.5 * self.tip));
        let depth = self.tip * wall_jet::half_depth(radius / self.tip);
        let speed = (depth / layer.sluggishness).sqrt();
        self.flow.max(WALL_FLOW * 2.0 * PI * radius * depth * speed)
    }

    /// The forced film at a radius \[m\] (eqs. F-6 and F-7); nothing without flow.
    pub(crate) fn at(&self, radius: f64) -> Forced {
        if self.flow <= 0.0 {
            return Forced { film: 0.0, sluggishness: 0.0 };
        }
        let edge = 0.5 * self.tip;
        let inner =
            self.jet().local(radius / self.nozzle).value * self.air.conductivity / self.nozzle;
        let inner = inner.max(self.wall(edge).film);
        let outer = self.wall(radius.max(edge));
        let x = ((radius - edge) / edge).clamp(0.0, 1.0);
        let share = x * x * (3.0 - 2.0 * x);
        Forced { film: inner + share * (outer.film - inner), ..outer }
    }

    /// The jet the fan would be if it were a nozzle of the same open area.
    fn jet(&self) -> RoundJet {
        RoundJet {
            reynolds: self.speed * self.nozzle / self.air.kinematic_viscosity(),
            prandtl: self.air.prandtl(),
            distance: self.build.distance.metres() / self.nozzle,
        }
    }

    /// The flow along the wall, outside the blade tips.
    fn wall(&self, radius: f64) -> Forced {
        match self.build.cell {
            Cell::Open => self.layer(radius),
            Cell::Closed { gap } => self.channel(radius, gap.metres()),
        }
    }

    fn layer(&self, radius: f64) -> Forced {
        let speed = self.speed * wall_jet::confined_speed(radius / self.tip, CONFINED_EXPONENT);
        let depth = self.tip * wall_jet::half_depth(radius / self.tip);
        let reynolds = speed * depth / self.air.kinematic_viscosity();
        let stanton = wall_jet::layer_stanton(reynolds, self.air.prandtl()).value;
        let film = self.air.density * self.air.specific_heat * speed * stanton;
        Forced { film, sluggishness: depth / (speed * speed) }
    }

    fn channel(&self, radius: f64, gap: f64) -> Forced {
        let gap = gap.max(1e-4);
        let hydraulic = 2.0 * gap;
        let reynolds = duct::radial_reynolds(self.flow, radius, self.air.kinematic_viscosity());
        // Measured from the blade tips, but never so short that the entry's film is singular.
        let length = (radius - 0.5 * self.tip).max(0.25 * self.tip);
        let nusselt = duct::gap_flow(reynolds, self.air.prandtl(), hydraulic / length).value;
        let speed = self.flow / (2.0 * PI * radius * gap);
        let film = nusselt * self.air.conductivity / hydraulic;
        let sluggishness = gap / (speed * speed);
        if self.warming == Warming::InTheAir {
            return Forced { film, sluggishness };
        }
        // A trickle of air warms to the glass before it gets here: the film on the
        // incoming air's temperature fades, and with no flow nothing is carried.
        let carried = self.air.density * self.air.specific_heat * self.flow;
        let met = film * PI * radius * radius;
        Forced { film: film * (-met / carried).exp(), sluggishness }
    }

    /// Whether the jet law is inside its published range where it is used.
    pub(super) fn jet_validity(&self) -> Validity {
        self.jet().mean(2.5).validity
    }

    /// Whether the wall law is inside its published range at a radius \[m\].
    pub(super) fn wall_validity(&self, radius: f64) -> Validity {
        let nu = self.air.kinematic_viscosity();
        match self.build.cell {
            Cell::Open => {
                let relative = radius / self.tip;
                let speed = self.speed * wall_jet::confined_speed(relative, CONFINED_EXPONENT);
                let depth = self.tip * wall_jet::half_depth(relative);
                wall_jet::layer_stanton(speed * depth / nu, self.air.prandtl()).validity
            }
            Cell::Closed { .. } => {
                let reynolds = duct::radial_reynolds(self.flow, radius.max(1e-3), nu);
                duct::gap_flow(reynolds, self.air.prandtl(), 0.1).validity
            }
        }
    }
}

/// Wind of a speed over a face of a size (eq. F-8).
///
/// * `wind` — at the glass [m/s]; `size` — diameter \[m\]
pub(super) fn breeze(wind: f64, size: f64, air: &AirProperties) -> Forced {
    let reynolds = wind.max(0.0) * size / air.kinematic_viscosity();
    if reynolds <= 0.0 {
        return Forced { film: 0.0, sluggishness: 0.0 };
    }
    let film = plate::oblique(reynolds, air.prandtl()).value * air.conductivity / size;
    // Depth of a laminar layer at the middle of the face, halfway to its edge.
    let depth = 2.5 * size / reynolds.sqrt();
    Forced { film, sluggishness: depth / (wind * wind) }
}

/// Whether the wind's law is inside its published range.
pub(super) fn breeze_validity(wind: f64, size: f64, air: &AirProperties) -> Validity {
    plate::oblique(wind.max(0.0) * size / air.kinematic_viscosity(), air.prandtl()).validity
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;
    use evenglass_materials::moist_air::{properties, vapour_pressure};
    use evenglass_units::{Length, Pressure, Temperature, VolumeRate};

    use super::*;

    fn air() -> AirProperties {
        let temperature = Temperature::from_celsius(10.0);
        let pressure = Pressure::from_pascals(101_325.0);
        properties(temperature, pressure, vapour_pressure(temperature, 0.6, pressure))
    }

    fn fan(cell: Cell) -> FanBehind {
        FanBehind {
            fan_diameter: Length::from_metres(0.100),
            hub_diameter: Length::from_metres(0.040),
            distance: Length::from_metres(0.100),
            flow: VolumeRate::from_m3_per_s(0.020),
            cell,
        }
    }

    /// 610 mm mirror, 100/40 mm fan, 20 L/s: U = 0.020/(π/4 · (0.1² − 0.04²)) = 3.03 m/s;
    /// the layer law by hand gives 20.8 at the blade tips and, with u = 3.03/7.99 and a
    /// half depth of 27.5 mm, 3.16 W m⁻² K⁻¹ at the rim.
    #[test]
    fn an_open_back_has_the_film_worked_by_hand() {
        let (air, fan) = (air(), fan(Cell::Open));
        let fan = Fan::new(&fan, 1.0, &air);
        assert_relative_eq!(fan.layer(0.050).film, 20.8, max_relative = 5e-3);
        assert_relative_eq!(fan.at(0.305).film, 3.16, max_relative = 5e-3);
    }

    /// 20 L/s between boards 50 mm apart, at 305 mm: Re = 0.02/(π · 0.305 · 1.42 × 10⁻⁵)
    /// = 1470, L = 255 mm, developing plate layer Nu = 0.664 · 0.892 · √(1470 · 0.392)
    /// = 14.2, h = 14.2 · 0.0251/0.1 = 3.57; the air has met 0.292 m² · 3.57 W m⁻² K⁻¹ with
    /// 25.1 W/K and kept exp(−0.0415) of its coolness: 3.42, by hand.
    #[test]
    fn a_closed_cell_has_the_film_worked_by_hand() {
        let (air, fan) = (air(), fan(Cell::Closed { gap: Length::from_metres(0.050) }));
        assert_relative_eq!(Fan::new(&fan, 1.0, &air).at(0.305).film, 3.42, max_relative = 5e-3);
    }

    /// d = 0.1, hub 0.04 m, 20 L/s: nozzle √(0.1² − 0.04²) = 0.091652 m, U = 3.03152 m/s.
    /// Halfway between blade tips and diameter the two films have equal shares.
    #[test]
    fn the_jet_and_its_fade_are_laid_out_as_documented() {
        let (air, build) = (air(), fan(Cell::Open));
        let fan = Fan::new(&build, 1.0, &air);
        assert_relative_eq!(fan.nozzle, 0.091_652, max_relative = 1e-5);
        assert_relative_eq!(fan.speed, 3.031_52, max_relative = 1e-5);
        let jet = |radius: f64| {
            fan.jet().local(radius / fan.nozzle).value * air.conductivity / fan.nozzle
        };
        assert_relative_eq!(fan.at(0.050).film, jet(0.050), max_relative = 1e-12);
        let middle = 0.5 * (jet(0.075) + fan.layer(0.075).film);
        assert_relative_eq!(fan.at(0.075).film, middle, max_relative = 1e-12);
        assert_relative_eq!(fan.at(0.100).film, fan.layer(0.100).film, max_relative = 1e-12);
    }

    /// Speed 0.02/(2π · 0.2 · 0.05) = 0.31831 m/s; a gap of 50 mm over its square 0.49348.
    /// A breeze of 1 m/s over 0.61 m: 2.5 · 0.61/√(0.61/ν).
    #[test]
    fn moving_layers_have_the_depth_and_speed_worked_by_hand() {
        let (air, build) = (air(), fan(Cell::Closed { gap: Length::from_metres(0.050) }));
        let channel = Fan::new(&build, 1.0, &air).at(0.2);
        assert_relative_eq!(channel.sluggishness, 0.493_48, max_relative = 1e-5);
        let depth = 2.5 * 0.61 / (0.61 / air.kinematic_viscosity()).sqrt();
        assert_relative_eq!(breeze(1.0, 0.61, &air).sluggishness, depth, max_relative = 1e-12);
        assert_relative_eq!(breeze(2.0, 0.61, &air).sluggishness, depth / 2_f64.powf(2.5));
    }

    #[test]
    fn the_fan_film_has_no_step_along_the_back() {
        for cell in [Cell::Open, Cell::Closed { gap: Length::from_metres(0.030) }] {
            let (air, fan) = (air(), fan(cell));
            let fan = Fan::new(&fan, 1.0, &air);
            let mut before = fan.at(0.0).film;
            for step in 1..=3000_u32 {
                let film = fan.at(f64::from(step) * 1e-4).film;
                assert!((film - before).abs() < 0.02 * before, "at {step}: {before} to {film}");
                before = film;
            }
        }
    }

    /// A cell cannot take more heat than its air carries: the film summed over the back
    /// stays below ρ c Q even when the flow is a trickle.
    #[test]
    fn a_closed_cell_takes_no_more_heat_than_its_air_carries() {
        let (air, fan) = (air(), fan(Cell::Closed { gap: Length::from_metres(0.030) }));
        for speed in [1e-6, 1e-3, 0.02, 1.0] {
            let fan = Fan::new(&fan, speed, &air);
            let width = 1e-3;
            let taken: f64 = (0..305_u32)
                .map(|ring| (f64::from(ring) + 0.5) * width)
                .filter(|radius| *radius > 0.1)
                .map(|radius| fan.at(radius).film * 2.0 * PI * radius * width)
                .sum();
            let carried = air.density * air.specific_heat * fan.flow;
            assert!(taken < carried, "{speed}: {taken} of {carried} W/K");
        }
    }

    /// The loops here and the published forms in the library crate are the same.
    #[test]
    fn mixing_is_that_of_the_correlations() {
        use evenglass_convection::mixed::{assisting, stable_damping};
        let free = Conductance { film: 3.0, growth: 0.5 };
        for film in [0.02, 2.9, 3.0, 5.0, 80.0] {
            let forced = Conductance { film, growth: 0.0 };
            let sum = together(forced, free).film;
            assert_relative_eq!(sum, assisting(film, 3.0), max_relative = 1e-12);
        }
        let richardson: f64 = 0.07;
        let rate = DAMPING * richardson;
        assert_relative_eq!((1.0 / (1.0 + rate)).sqrt(), stable_damping(richardson));
    }

    #[test]
    fn a_stopped_fan_moves_nothing() {
        let (air, fan) = (air(), fan(Cell::Open));
        assert_relative_eq!(Fan::new(&fan, 0.0, &air).at(0.1).film, 0.0);
        assert_relative_eq!(breeze(0.0, 0.4, &air).film, 0.0);
    }

    /// D = 0.61 m at 1 m/s: Re = 42 900, Nu = 0.931 · 207.2 · 0.892 = 172, h = 7.09; at half
    /// the speed 5.01 W m⁻² K⁻¹, by hand.
    #[test]
    fn a_breeze_over_a_large_mirror_has_the_film_worked_by_hand() {
        let air = air();
        assert_relative_eq!(breeze(0.5, 0.61, &air).film, 5.01, max_relative = 5e-3);
        assert_relative_eq!(breeze(1.0, 0.61, &air).film, 7.09, max_relative = 5e-3);
    }
}
