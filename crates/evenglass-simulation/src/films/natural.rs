//! Free convection from tables.
//!
//! A film coefficient is Nu(Ra) k/L. Nu is tabulated once per tilt against
//! s = Ra^(1/4), in which every law used here is nearly straight and smooth down to
//! the smallest differences that matter; Ra and k are short polynomials in the
//! temperature difference, renewed for each stretch. The derivative is that of the
//! table itself, so that Newton's method sees an exact slope.

use std::f64::consts::{FRAC_PI_2, PI};

use evenglass_convection::free::{self, Stability};
use evenglass_materials::moist_air::{
    self, AirProperties, properties, vapour_pressure_from_dew_point,
};
use evenglass_scenario::scenario::Conditions;
use evenglass_units::{Pressure, Temperature};

use super::{Shape, Straight, Stretch};

/// Standard gravity [m s⁻²].
pub(super) const GRAVITY: f64 = 9.806_65;

/// Relative humidity taken where the scenario has none: properties move by less
/// than 0.3 % between dry and saturated air below 10 °C.
const USUAL_HUMIDITY: f64 = 0.6;

/// Cells of a table. With 80, interpolation errors stay below 10⁻⁴ of the film for
/// differences above 10 mK, far below any law's own spread.
const CELLS: usize = 80;

/// Difference the tables reach to \[K\]: warmest glass in coldest air.
const LARGEST_DIFFERENCE: f64 = 150.0;

/// Fourth root of Ra per K and m³ in the densest air the tables must serve: −60 °C
/// and 1100 hPa, rounded up.
const LARGEST_ROOT: f64 = 145.0;

/// Difference at which film-temperature polynomials are anchored, on both sides \[K\].
const ANCHOR: f64 = 40.0;

/// Which way a face looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Outlook {
    /// The optical face.
    Front,
    /// The face opposite.
    Back,
    /// The outer cylinder.
    Rim,
    /// The wall of the hole.
    Hole,
}

/// A smooth function of s on equal cells from zero, cubic in each.
#[derive(Debug, Clone)]
struct Table {
    per_cell: f64,
    /// Ascending powers of the part of the cell, `[cells]`.
    cubic: Box<[[f64; 4]; CELLS]>,
}

impl Table {
    fn new(largest: f64, function: impl Fn(f64) -> f64) -> Self {
        #[expect(clippy::cast_precision_loss, reason = "fewer than a hundred cells")]
        let width = largest / CELLS as f64;
        #[expect(clippy::cast_precision_loss, reason = "fewer than a hundred cells")]
        let value: Vec<f64> = (0..=CELLS).map(|node| function(node as f64 * width)).collect();
        let slope = slopes(&value);
        let cubic = std::array::from_fn(|cell| {
            let rise = value[cell + 1] - value[cell];
            let (left, right) = (slope[cell], slope[cell + 1]);
            [value[cell], left, 3.0 * rise - 2.0 * left - right, left + right - 2.0 * rise]
        });
        Self { per_cell: 1.0 / width, cubic: Box::new(cubic) }
    }

    /// Value and derivative at s ≥ 0; beyond the last cell its cubic goes on.
    #[inline]
    fn at(&self, s: f64) -> (f64, f64) {
        let x = s * self.per_cell;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "s is not negative, and the conversion saturates"
        )]
        let cell = (x as usize).min(CELLS - 1);
        #[expect(clippy::cast_precision_loss, reason = "fewer than a hundred cells")]
        let u = x - cell as f64;
        let [a, b, c, d] = self.cubic[cell];
        (a + u * (b + u * (c + u * d)), self.per_cell * (b + u * (2.0 * c + u * (3.0 * d))))
    }
}

/// Slopes per cell by differences of fourth order, of second order next to the ends.
fn slopes(value: &[f64]) -> Vec<f64> {
    let last = value.len() - 1;
    (0..=last)
        .map(|i| match i {
            0 => -1.5 * value[0] + 2.0 * value[1] - 0.5 * value[2],
            i if i == last => 1.5 * value[i] - 2.0 * value[i - 1] + 0.5 * value[i - 2],
            i if i == 1 || i == last - 1 => 0.5 * (value[i + 1] - value[i - 1]),
            i => (value[i - 2] - value[i + 2] + 8.0 * (value[i + 1] - value[i - 1])) / 12.0,
        })
        .collect()
}

/// The tables of a mirror in one pointing of the telescope.
#[derive(Clone)]
pub(super) struct Tables {
    shape: Shape,
    prandtl: f64,
    tilt: f64,
    front_looks_up: bool,
    unstable: Table,
    stable: Table,
    /// The part of the stable law that flow along the face does not suppress.
    along: Table,
    rim: Table,
    hole: Table,
}

impl Tables {
    pub(super) fn new(shape: Shape, prandtl: f64) -> Self {
        let [unstable, stable, along] = disc_tables(shape, prandtl, 0.0);
        let upright = |height: f64| {
            Table::new(largest_s(height), |s| free::vertical_plate(s.powi(4), prandtl).value)
        };
        let rim = upright(shape.rim_height);
        let hole = upright(shape.hole_height);
        Self { shape, prandtl, tilt: 0.0, front_looks_up: true, unstable, stable, along, rim, hole }
    }

    /// Follows the telescope to an altitude \[rad\].
    pub(super) fn tilt_to(&mut self, altitude: f64) {
        (self.front_looks_up, self.tilt) = pointing(altitude);
        [self.unstable, self.stable, self.along] = disc_tables(self.shape, self.prandtl, self.tilt);
    }

    /// Whether they are those of a telescope pointing there.
    pub(super) fn are_at(&self, altitude: f64) -> bool {
        let (front_looks_up, tilt) = pointing(altitude);
        front_looks_up == self.front_looks_up && (tilt - self.tilt).abs() <= 1e-9
    }

    /// Tilt of the faces from horizontal \[rad\].
    pub(super) fn tilt(&self) -> f64 {
        self.tilt
    }

    /// Length in the Rayleigh number of a face \[m\].
    pub(super) fn length(&self, outlook: Outlook) -> f64 {
        match outlook {
            Outlook::Front | Outlook::Back => disc_length(self.shape),
            Outlook::Rim => self.shape.rim_height,
            Outlook::Hole => self.shape.hole_height.max(1e-4),
        }
    }

    /// Free convection of a face at one instant.
    pub(super) fn free(&self, outlook: Outlook, air: &FreeAir) -> Free<'_> {
        let length = self.length(outlook);
        let looks_up = (outlook == Outlook::Front) == self.front_looks_up;
        let (warm, cold) = match outlook {
            Outlook::Rim => (&self.rim, &self.rim),
            Outlook::Hole => (&self.hole, &self.hole),
            Outlook::Front | Outlook::Back if looks_up => (&self.unstable, &self.stable),
            Outlook::Front | Outlook::Back => (&self.stable, &self.unstable),
        };
        let upright = matches!(outlook, Outlook::Rim | Outlook::Hole);
        Free {
            warm,
            cold,
            along: &self.along,
            stable_when_warm: !upright && !looks_up,
            stable_when_cold: !upright && looks_up,
            normal_gravity: if upright { 0.0 } else { GRAVITY * self.tilt.cos() },
            root: air.root.map(|coefficient| coefficient * length.powf(0.75)),
            conductivity: air.conductivity.map(|coefficient| coefficient / length),
        }
    }
}

/// Whether the front looks up, and the tilt of the faces from horizontal \[rad\].
fn pointing(altitude: f64) -> (bool, f64) {
    let from_zenith = (FRAC_PI_2 - altitude).abs().min(PI);
    if from_zenith <= FRAC_PI_2 { (true, from_zenith) } else { (false, PI - from_zenith) }
}

/// Area over perimeter of a face: a quarter of the diameter without a hole.
fn disc_length(shape: Shape) -> f64 {
    0.25 * (shape.diameter - shape.hole_diameter)
}

fn largest_s(length: f64) -> f64 {
    LARGEST_ROOT * length.max(1e-4).powf(0.75) * LARGEST_DIFFERENCE.powf(0.25)
}

/// Unstable, stable, and along-the-face tables of a disc's face.
fn disc_tables(shape: Shape, prandtl: f64, tilt: f64) -> [Table; 3] {
    let largest = largest_s(disc_length(shape));
    let inclined = |stability| {
        Table::new(largest, |s| free::inclined_disc(s.powi(4), prandtl, tilt, stability).value)
    };
    let along = Table::new(largest, |s| {
        let rayleigh = s.powi(4) * PI.powi(3) * tilt.sin();
        let vertical = free::vertical_plate(rayleigh, prandtl).value / PI;
        (free::DISC_CONDUCTION.powi(6) + vertical.powi(6)).powf(1.0 / 6.0)
    });
    [inclined(Stability::Unstable), inclined(Stability::Stable), along]
}

/// Free convection of one face at one instant, ready to be asked for many points.
pub(super) struct Free<'a> {
    warm: &'a Table,
    cold: &'a Table,
    along: &'a Table,
    stable_when_warm: bool,
    stable_when_cold: bool,
    /// Gravity across the face [m s⁻²].
    pub(super) normal_gravity: f64,
    /// Fourth root of Ra/|d|, in powers of the difference d.
    root: [f64; 3],
    /// k/L [W m⁻² K⁻¹], in powers of the difference.
    conductivity: [f64; 3],
}

/// A film coefficient and d · dh/dd, both [W m⁻² K⁻¹]: flux h d, slope their sum.
#[derive(Debug, Clone, Copy)]
pub(super) struct Conductance {
    pub(super) film: f64,
    pub(super) growth: f64,
}

impl Conductance {
    #[inline]
    pub(super) fn exchange(self, difference: f64) -> (f64, f64) {
        (self.film * difference, self.film + self.growth)
    }

    /// A film of which convection is a share of what it was; conduction stays, so that nothing
    /// jumps where the air changes its way.
    #[inline]
    pub(super) fn convecting(self, at: &Scaled, share: f64) -> Self {
        let film_at_rest = free::DISC_CONDUCTION * at.conductivity;
        let growth_at_rest = free::DISC_CONDUCTION * at.conductivity_growth;
        Self {
            film: film_at_rest + share * (self.film - film_at_rest),
            growth: growth_at_rest + share * (self.growth - growth_at_rest),
        }
    }
}

/// A temperature difference as the tables want it; each growth is d · d/dd.
#[derive(Debug, Clone, Copy)]
pub(super) struct Scaled {
    difference: f64,
    s: f64,
    s_growth: f64,
    conductivity: f64,
    conductivity_growth: f64,
}

impl Free<'_> {
    /// The scales of a difference, shared by all tables.
    #[inline]
    pub(super) fn scaled(&self, difference: f64) -> Scaled {
        let d = difference;
        let [r0, r1, r2] = self.root;
        let [k0, k1, k2] = self.conductivity;
        let fourth_root = d.abs().sqrt().sqrt();
        let s = fourth_root * (r0 + d * (r1 + d * r2));
        Scaled {
            difference,
            s,
            // The fourth root gives s/4, the film temperature the rest.
            s_growth: 0.25 * s + fourth_root * d * (r1 + 2.0 * d * r2),
            conductivity: k0 + d * (k1 + d * k2),
            conductivity_growth: d * (k1 + 2.0 * d * k2),
        }
    }

    /// The film of a surface that much warmer than the air.
    #[inline]
    pub(super) fn at(&self, scaled: &Scaled) -> Conductance {
        scaled.look_up(if scaled.difference >= 0.0 { self.warm } else { self.cold })
    }

    /// The part of a stable film that runs along the face.
    #[inline]
    pub(super) fn along(&self, scaled: &Scaled) -> Conductance {
        scaled.look_up(self.along)
    }

    /// Whether the film clings to the face.
    #[inline]
    pub(super) fn is_stable(&self, difference: f64) -> bool {
        if difference >= 0.0 { self.stable_when_warm } else { self.stable_when_cold }
    }
}

impl Scaled {
    #[inline]
    fn look_up(&self, table: &Table) -> Conductance {
        let (nusselt, slope) = table.at(self.s);
        Conductance {
            film: nusselt * self.conductivity,
            growth: slope * self.s_growth * self.conductivity + nusselt * self.conductivity_growth,
        }
    }
}

/// A quantity through three instants of the stretch: start, middle, end.
#[derive(Debug, Clone, Copy)]
struct Curve([f64; 3]);

impl Curve {
    fn through(start: f64, middle: f64, end: f64) -> Self {
        let bend = 2.0 * (start - 2.0 * middle + end);
        Self([start, end - start - bend, bend])
    }

    fn at(self, part: f64) -> f64 {
        let [a, b, c] = self.0;
        a + part * (b + part * c)
    }
}

/// Air properties through a stretch, as films need them.
///
/// Pressure, humidity and temperature run straight; what follows from them bends by
/// less than a thousandth over a stretch, and is carried by parabolas.
pub(super) struct AirCurve {
    root: [Curve; 3],
    conductivity: [Curve; 3],
    middle: AirProperties,
    start: AirProperties,
    end: AirProperties,
    pressure: f64,
}

/// Air at one instant: polynomials in the difference between surface and air.
pub(super) struct FreeAir {
    root: [f64; 3],
    conductivity: [f64; 3],
}

impl AirCurve {
    pub(super) fn of(night: &Conditions, stretch: Stretch) -> Self {
        let air = stretch.straight(&night.air);
        let pressure = stretch.straight(&night.pressure);
        let dew = night.dew_point.as_ref().map(|profile| stretch.straight(profile));
        let instants = [0.0, 0.5, 1.0].map(|part| Column::at(part, air, pressure, dew));
        let curves = |pick: fn(&Column) -> [f64; 3]| {
            let [start, middle, end] = [&instants[0], &instants[1], &instants[2]].map(pick);
            [0, 1, 2].map(|power| Curve::through(start[power], middle[power], end[power]))
        };
        Self {
            root: curves(|column| column.root),
            conductivity: curves(|column| column.conductivity),
            start: instants[0].air,
            middle: instants[1].air,
            end: instants[2].air,
            pressure: pressure.at(0.5),
        }
    }

    pub(super) fn at(&self, part: f64) -> FreeAir {
        FreeAir {
            root: self.root.map(|curve| curve.at(part)),
            conductivity: self.conductivity.map(|curve| curve.at(part)),
        }
    }

    /// A property of the air through the stretch, in powers of the part passed.
    pub(super) fn parabola(&self, f: impl Fn(&AirProperties) -> f64) -> [f64; 3] {
        Curve::through(f(&self.start), f(&self.middle), f(&self.end)).0
    }

    pub(super) fn prandtl(&self) -> f64 {
        self.middle.prandtl()
    }

    /// Air in the middle of the stretch.
    pub(super) fn middle(&self) -> &AirProperties {
        &self.middle
    }

    /// Pressure in the middle of the stretch \[Pa\].
    pub(super) fn pressure(&self) -> f64 {
        self.pressure
    }

    /// Rayleigh number of a length for a difference of 1 K, in the middle of the stretch.
    pub(super) fn rayleigh_per_kelvin(&self, length: f64) -> f64 {
        self.root[0].at(0.5).powi(4) * length.powi(3)
    }
}

/// Air at one instant and the polynomials of its film properties.
struct Column {
    air: AirProperties,
    root: [f64; 3],
    conductivity: [f64; 3],
}

impl Column {
    fn at(part: f64, air: Straight, pressure: Straight, dew: Option<Straight>) -> Self {
        let temperature = air.at(part);
        let pressure = Pressure::from_pascals(pressure.at(part));
        let vapour = if let Some(dew) = dew {
            vapour_pressure_from_dew_point(Temperature::from_kelvin(dew.at(part)), pressure)
        } else {
            let air = Temperature::from_kelvin(temperature);
            moist_air::vapour_pressure(air, USUAL_HUMIDITY, pressure)
        };
        let film = |difference: f64| {
            let kelvin = temperature + 0.5 * difference;
            properties(Temperature::from_kelvin(kelvin), pressure, vapour)
        };
        let films = [film(-ANCHOR), film(0.0), film(ANCHOR)];
        // Buoyancy is that of the air far away: 1/T of an ideal gas.
        let root = films.map(|air| {
            let spread = air.kinematic_viscosity() * air.thermal_diffusivity();
            (GRAVITY / (temperature * spread)).sqrt().sqrt()
        });
        Self {
            air: films[1],
            root: parabola(root),
            conductivity: parabola(films.map(|air| air.conductivity)),
        }
    }
}

/// Powers of the difference from values at −anchor, 0 and +anchor.
fn parabola([below, middle, above]: [f64; 3]) -> [f64; 3] {
    let slope = (above - below) / (2.0 * ANCHOR);
    [middle, slope, (above - 2.0 * middle + below) / (2.0 * ANCHOR * ANCHOR)]
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    #[test]
    fn a_table_of_a_parabola_is_the_parabola_and_its_slope() {
        let parabola = |s: f64| 3.0 + 2.0 * s - 0.4 * s * s;
        let table = Table::new(8.0, parabola);
        for s in [0.0, 0.05, 0.13, 1.0, 4.02, 7.85, 7.99] {
            let (value, slope) = table.at(s);
            assert_relative_eq!(value, parabola(s), max_relative = 1e-12);
            assert_relative_eq!(slope, 2.0 - 0.8 * s, max_relative = 1e-10);
        }
    }

    #[test]
    fn halving_the_cells_of_a_table_divides_its_error_by_sixteen() {
        // The same function over twice the range has cells twice as wide.
        let worst = |largest: f64| {
            let table = Table::new(largest, f64::sin);
            let middle = (1..100_u32).map(|i| 2.0 + 0.02 * f64::from(i));
            middle.map(|s| (table.at(s).0 - s.sin()).abs()).fold(0.0, f64::max)
        };
        let order = (worst(20.0) / worst(10.0)).log2();
        assert!((3.7..4.3).contains(&order), "order {order}");
    }

    #[test]
    fn curves_pass_through_their_three_instants() {
        let curve = Curve::through(1.0, 4.0, 2.0);
        for (part, value) in [(0.0, 1.0), (0.5, 4.0), (1.0, 2.0)] {
            assert_relative_eq!(curve.at(part), value, max_relative = 1e-12);
        }
        let [a, b, c] = parabola([5.0, 3.0, 9.0]);
        for (difference, value) in [(-ANCHOR, 5.0), (0.0, 3.0), (ANCHOR, 9.0)] {
            assert_relative_eq!(a + difference * (b + difference * c), value, max_relative = 1e-12);
        }
    }

    /// The coldest and densest air of a scenario must not run off the tables.
    #[test]
    fn the_tables_reach_every_difference_a_scenario_can_have() {
        let temperature = 213.15;
        let still = Straight { start: temperature, end: temperature };
        let dense = Straight { start: 110_000.0, end: 110_000.0 };
        let [r0, r1, r2] = Column::at(0.0, still, dense, None).root;
        for difference in [-120.0_f64, -60.0, 60.0, 120.0] {
            let root = r0 + difference * (r1 + difference * r2);
            let s = root * difference.abs().powf(0.25);
            // A cold surface in cold air does not occur: the glass is never below −60 °C.
            if difference > 0.0 {
                assert!(s < largest_s(1.0), "{difference} K: {s}");
            }
            assert!(root > 0.0, "{difference} K: {root}");
        }
    }
}
