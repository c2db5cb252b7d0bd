//! Films that vary around the axis.

use super::finite_volumes::moments;
use super::{HEAT, START, glass, grid};
use crate::boundary::{Breaks, Exchange, Exchanges, Surroundings, Temperatures};
use crate::{FaceName, Grid, Material, Part, Resolution, Section, Stepper, Variation};
use evenglass_units::{Length, Temperature};

/// Heat capacity per volume [J m⁻³ K⁻¹] and conductivity of the glass.
pub(super) fn glass_of_tests() -> (f64, f64) {
    (HEAT, 1.1)
}

/// Air of the tests \[K\].
const AIR: f64 = 283.15;

/// Films without unevenness [W m⁻² K⁻¹], and the air that drives them \[K\].
pub(super) struct Even {
    pub(super) front: f64,
    pub(super) back: f64,
    pub(super) rim: f64,
    pub(super) air: f64,
}

/// Films of which that on the back goes around the axis as 1 + Σ amplitude cos m(θ - angle).
pub(super) struct Lopsided<'g> {
    grid: &'g Grid,
    angles: Vec<f64>,
    /// (order, amplitude, angle)
    waves: Vec<(usize, f64, f64)>,
}

impl<'g> Lopsided<'g> {
    pub(super) fn new(grid: &'g Grid, variation: &Variation, waves: &[(usize, f64, f64)]) -> Self {
        Self { grid, angles: variation.angles(), waves: waves.to_vec() }
    }

    pub(super) const fn even_all_around() -> Even {
        Even { front: 8.0, back: 12.0, rim: 20.0, air: AIR }
    }

    pub(super) fn film(&self, face: FaceName, angle: f64) -> f64 {
        let even = Self::even_all_around();
        match face {
            FaceName::Front => even.front,
            FaceName::Rim | FaceName::Hole => even.rim,
            FaceName::Back => {
                let wave = |&(order, a, turn): &(usize, f64, f64)| {
                    a * (order as f64 * (angle - turn)).cos()
                };
                even.back * (1.0 + self.waves.iter().map(wave).sum::<f64>())
            }
        }
    }
}

impl Surroundings for Lopsided<'_> {
    fn exchange(&self, _: f64, temperature: &[f64], exchange: &mut [Exchange]) {
        let points = self.grid.boundary();
        for (n, (surface, heat)) in temperature.iter().zip(exchange).enumerate() {
            let angle = self.angles[n / points.len()];
            let film = self.film(points[n % points.len()].face, angle);
            *heat = Exchange { flux: film * (surface - AIR), slope: film };
        }
    }

    fn sectors(&self) -> usize {
        self.angles.len()
    }
}

fn stepper<'g>(grid: &'g Grid, variation: &Variation) -> Stepper<'g> {
    let start = Temperature::from_kelvin(START);
    Stepper::uniform(grid, glass(1.1), start, 2e-5).varying(variation)
}

/// The glass after `until` seconds.
fn after<'g>(
    grid: &'g Grid,
    variation: &Variation,
    waves: &[(usize, f64, f64)],
    until: f64,
) -> Stepper<'g> {
    let mut stepper = stepper(grid, variation);
    stepper.advance(until, &Lopsided::new(grid, variation, waves), |_| {}).unwrap();
    stepper
}

/// Volume mean of the temperature above the air, and of each order times 2 cos mθ (r/a)^m
/// \[K\].
fn found(grid: &Grid, stepper: &Stepper<'_>) -> (f64, [f64; 4]) {
    let celsius = stepper.celsius();
    let mean = grid.volume_shares().map(|(n, share)| share * celsius[n]).sum::<f64>();
    let levels = grid.shape().1;
    let outer = *grid.radii().last().unwrap();
    let around = std::array::from_fn(|m| {
        let kelvin = stepper.part_kelvin(Part::cosine(m + 1));
        let relative = |n: usize| (grid.radii()[n / levels] / outer).powf((m + 1) as f64);
        grid.volume_shares().map(|(n, share)| share * relative(n) * kelvin[n]).sum()
    });
    (mean + 273.15 - AIR, around)
}

/// A flat disc of 406 × 41 mm.
fn flat() -> Grid {
    let mm = |millimetres: f64| Length::from_metres(millimetres / 1000.0);
    let section = Section::new(mm(406.0), mm(41.0), None, None).unwrap();
    Grid::new(&section, &Resolution::fine(), &Breaks::default())
}

const HOUR: f64 = 3600.0;

/// What both grids of cells, combined, still leave \[K\]: a tenth of a percent of the parts.
const OF_CELLS: f64 = 1e-3;

/// The mean is shifted, harmonics beget harmonics: cells around the axis find the same.
#[test]
fn cells_around_the_axis_find_the_same_mean_and_harmonics() {
    let grid = flat();
    let size = (0.203, 0.041);
    let round = Variation::round();
    let even = Lopsided::new(&grid, &round, &[]);
    let even_cells = moments(size, &even, START - AIR, HOUR);
    let even_found = found(&grid, &after(&grid, &round, &[], HOUR));
    assert!((even_found.0 - even_cells.mean).abs() < 1e-5, "{even_found:?} {even_cells:?}");
    // Shifts that one-way harmonics would not know; found by the cells.
    for (waves, shift) in [
        (&[(1, 0.3, 0.0)][..], 0.0236),
        (&[(2, 0.3, 0.0)], 0.0209),
        (&[(1, 0.5, 0.0), (2, 0.45, 0.0)], 0.1034),
    ] {
        let orders: Vec<usize> = waves.iter().map(|wave| wave.0).collect();
        let variation = Variation::even(&orders);
        let cells = moments(size, &Lopsided::new(&grid, &variation, waves), START - AIR, HOUR);
        let (mean, around) = found(&grid, &after(&grid, &variation, waves, HOUR));
        let (shifted, shifted_cells) = (mean - even_found.0, cells.mean - even_cells.mean);
        assert!(
            (shifted - shifted_cells).abs() < 1e-3 * shifted_cells,
            "{shifted} {shifted_cells}"
        );
        assert!((shifted_cells - shift).abs() < 1e-4, "{waves:?} shift by {shifted_cells} K");
        let largest = cells.around.iter().fold(0.0, |a: f64, b| a.max(b.abs()));
        for (found, cells) in around.iter().zip(&cells.around) {
            assert!((found - cells).abs() < OF_CELLS * largest, "{around:?} {cells:?}");
        }
    }
}

#[test]
fn a_first_harmonic_of_the_film_makes_a_second_of_the_glass() {
    let grid = grid();
    let variation = Variation::even(&[1]);
    let stepper = after(&grid, &variation, &[(1, 0.3, 0.0)], HOUR);
    let (_, around) = found(&grid, &stepper);
    // The film is stronger at θ = 0, where the glass is colder; there the mean of its
    // square is felt: each order takes the sign of (-1)^m.
    assert!(around[0] < -0.1, "{around:?}");
    assert!(around[1] > 0.005, "{around:?}");
    assert!(around[2] < -1e-4 && around[3] > 1e-6, "{around:?}");
}

/// Amplitude of the parts of an order at every point.
fn magnitudes(stepper: &Stepper<'_>, order: usize) -> Vec<f64> {
    let cosine = stepper.part_kelvin(Part::cosine(order));
    let sine = stepper.part_kelvin(Part::sine(order));
    cosine.iter().zip(sine).map(|(cosine, sine)| cosine.hypot(sine)).collect()
}

#[test]
fn turning_the_film_turns_the_glass_and_changes_nothing_else() {
    let grid = grid();
    let variation = Variation::any(&[1, 2]);
    let at = |turn: f64| after(&grid, &variation, &[(1, 0.2, turn), (2, 0.3, 0.4 + turn)], HOUR);
    let reference = at(0.0);
    for turn in [0.1, 1.0, 2.5, 4.0] {
        let turned = at(turn);
        assert_eq!(turned.effort(), reference.effort(), "turned by {turn}");
        for (a, b) in turned.celsius().iter().zip(reference.celsius()) {
            assert!((a - b).abs() < 1e-12 * b.abs(), "mean {a} {b} turned by {turn}");
        }
        for order in 1..=4 {
            let (found, expected) = (magnitudes(&turned, order), magnitudes(&reference, order));
            let largest = expected.iter().fold(0.0, |a: f64, b| a.max(*b));
            assert!(largest > 1e-6, "order {order}: {largest} K");
            for (a, b) in found.iter().zip(&expected) {
                // Relative to the temperatures, a rounding of which makes every part.
                assert!((a - b).abs() < 1e-12 * 10.0, "order {order}: {a} {b} turned by {turn}");
            }
        }
        // The first harmonic itself points the other way round.
        let cosine = turned.part_kelvin(Part::cosine(1));
        let sine = turned.part_kelvin(Part::sine(1));
        let start = (reference.part_kelvin(Part::cosine(1)), reference.part_kelvin(Part::sine(1)));
        for n in 0..grid.len() {
            let expected = start.0[n] * turn.cos() - start.1[n] * turn.sin();
            assert!((cosine[n] - expected).abs() < 1e-11, "{} {expected}", cosine[n]);
            let expected = start.0[n] * turn.sin() + start.1[n] * turn.cos();
            assert!((sine[n] - expected).abs() < 1e-11, "{} {expected}", sine[n]);
        }
    }
}

#[test]
fn a_film_alike_on_both_sides_needs_cosines_alone() {
    let grid = grid();
    let waves = [(1, 0.3, 0.0), (2, -0.2, 0.0)];
    let half = after(&grid, &Variation::even(&[1]), &waves, HOUR);
    let whole = after(&grid, &Variation::any(&[1]), &waves, HOUR);
    for (a, b) in half.celsius().iter().zip(whole.celsius()) {
        assert!((a - b).abs() < 1e-11, "{a} {b}");
    }
    for order in 1..=4 {
        let (a, b) = (Part::cosine(order), Part::sine(order));
        for (half, whole) in half.part_kelvin(a).iter().zip(whole.part_kelvin(a)) {
            assert!((half - whole).abs() < 1e-11, "{half} {whole}");
        }
        assert!(whole.part_kelvin(b).iter().all(|sine| sine.abs() < 1e-11), "{b:?}");
    }
}

#[test]
fn an_even_film_leaves_the_glass_round() {
    let grid = grid();
    let round = after(&grid, &Variation::round(), &[], HOUR);
    let varying = after(&grid, &Variation::any(&[1]), &[], HOUR);
    for (a, b) in round.celsius().iter().zip(varying.celsius()) {
        assert!((a - b).abs() < 1e-11, "{a} {b}");
    }
    for part in Variation::any(&[1]).parts() {
        let largest = varying.part_kelvin(part).into_iter().fold(0.0, |a: f64, b| a.max(b.abs()));
        assert!(largest < 1e-12, "{part:?} of {largest} K");
    }
}

#[test]
fn films_that_nearly_vanish_on_one_side_are_solved_with_few_columns() {
    let grid = grid();
    for waves in [&[(1, 0.95, 0.0)][..], &[(1, 0.5, 0.3), (4, 0.45, 0.0)]] {
        let variation = Variation::any(&[1]);
        let stepper = after(&grid, &variation, waves, 8.0 * HOUR);
        let even = after(&grid, &Variation::round(), &[], 8.0 * HOUR);
        let (effort, least) = (stepper.effort(), even.effort());
        assert!(effort.steps <= 2 * least.steps, "{effort:?} {least:?}");
        // Slopes of films say it all: no exchange is asked for in order to learn it.
        assert_eq!(effort.coupling, 0);
    }
}

/// Far from the axis heat hardly goes around it, and each direction cools as round glass
/// would under its film: so do amplitudes, also where heat capacity and conductivity
/// change with temperature ten times as much as those of glass.
#[test]
fn far_from_the_axis_each_direction_cools_as_round_glass_under_its_film() {
    let mm = |millimetres: f64| Length::from_metres(millimetres / 1000.0);
    let section = Section::new(mm(2000.0), mm(20.0), None, None).unwrap();
    let grid = Grid::new(&section, &Resolution::default(), &Breaks::default());
    let start = Temperature::from_kelvin(START);
    let night = |material: Material, variation: &Variation, waves: &[(usize, f64, f64)]| {
        let mut stepper = Stepper::uniform(&grid, material, start, 1e-6).varying(variation);
        stepper.advance(HOUR, &Lopsided::new(&grid, variation, waves), |_| {}).unwrap();
        stepper
    };
    let at = grid.interpolation(mm(700.0), mm(10.0));
    let read = |values: &[f64]| at.iter().map(|&(n, weight)| weight * values[n]).sum::<f64>();
    let steep = glass(1.1).with_stored_heat(10.0, 0.0, 650.0).with_conductivity_slope(0.02);
    let mut amplitudes = vec![];
    for material in [steep, glass(1.1)] {
        let amplitude = 1e-3;
        let varying = night(material, &Variation::even(&[1]), &[(1, amplitude, 0.0)]);
        // A film of order nought is one that is stronger all around.
        let [more, less] = [amplitude, -amplitude]
            .map(|a| night(material, &Variation::round(), &[(0, a, 0.0)]).celsius());
        let expected = 0.5 * (read(&more) - read(&less));
        let found = read(&varying.part_kelvin(Part::cosine(1)));
        // Heat goes around over √(κ t), 45 mm, of the way of 700 mm: 0.4 % of the amplitude.
        assert!((found / expected - 1.0).abs() < 5e-3, "{found} {expected} K");
        amplitudes.push(found);
    }
    // Heat capacity and conductivity at the start alone would be as far off.
    assert!((amplitudes[0] / amplitudes[1] - 1.0).abs() > 0.03, "{amplitudes:?}");
}

/// A steep mirror with a hole, whose wall parts see, against a far finer grid.
#[test]
fn a_hole_and_a_steep_front_are_resolved_as_for_the_mean() {
    let mm = |millimetres: f64| Length::from_metres(millimetres / 1000.0);
    let section = Section::new(mm(400.0), mm(60.0), Some(2.0), Some(mm(80.0))).unwrap();
    let variation = Variation::even(&[1]);
    let night = |resolution: &Resolution| {
        let grid = Grid::new(&section, resolution, &Breaks::default());
        let stepper = after(&grid, &variation, &[(1, 0.3, 0.0), (2, 0.2, 0.0)], HOUR);
        let mut fields = vec![stepper.celsius()];
        fields.extend(variation.parts().into_iter().map(|part| stepper.part_kelvin(part)));
        let places = [(40.0, 0.0), (40.0, 20.0), (90.0, 5.0), (150.0, 30.0), (200.0, 60.0)];
        let mut values = vec![];
        for (radius, height) in places {
            let terms = grid.interpolation(mm(radius), mm(height));
            values.extend(
                fields
                    .iter()
                    .map(|field| terms.iter().map(|&(n, weight)| weight * field[n]).sum::<f64>()),
            );
        }
        values
    };
    let finer = Resolution { radial_order: 8, axial_order: 9, ..Resolution::fine() };
    let exact = night(&Resolution { radial_finest: 0.015, axial_finest: 0.015, ..finer });
    for (resolution, promised) in [(Resolution::default(), 1e-3), (Resolution::fine(), 2e-4)] {
        for (found, exact) in night(&resolution).iter().zip(&exact) {
            assert!((found - exact).abs() < promised, "{found} {exact}, promised {promised} K");
        }
    }
}

#[test]
fn the_same_lopsided_night_gives_the_same_bits() {
    let grid = grid();
    let bits = || {
        let stepper = after(&grid, &Variation::any(&[1]), &[(1, 0.3, 1.0)], HOUR);
        let parts = Variation::any(&[1]).parts();
        let all = parts.iter().flat_map(|&part| stepper.part_kelvin(part));
        stepper.celsius().into_iter().chain(all).map(f64::to_bits).collect::<Vec<u64>>()
    };
    assert_eq!(bits(), bits());
}

/// Air that passes the points of each sector one after the other.
struct Passing<'g> {
    films: Lopsided<'g>,
    /// Carried by all of it [W/K].
    carried: f64,
    known: Known,
}

/// Whether the derivative is known to the air, or has to be found by differences.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Known {
    Yes,
    No,
}

impl Passing<'_> {
    /// Passes air of a temperature along each sector; `flux` says what leaves at a point by film,
    /// point's and air's temperature.
    fn pass(
        &self,
        air: f64,
        temperature: &[f64],
        exchange: &mut [Exchange],
        flux: impl Fn(f64, f64, f64) -> f64,
    ) {
        let grid = self.films.grid;
        let points = grid.boundary();
        let sectors = temperature.chunks(points.len()).zip(exchange.chunks_mut(points.len()));
        for ((temperature, exchange), angle) in sectors.zip(&self.films.angles) {
            let mut air = air;
            for (n, heat) in exchange.iter_mut().enumerate() {
                let film = self.films.film(points[n].face, *angle);
                *heat = Exchange { flux: flux(film, temperature[n], air), slope: film };
                let left = film * (temperature[n] - air);
                air += left * grid.boundary_areas_m2()[n] / self.carried;
            }
        }
    }
}

impl Surroundings for Passing<'_> {
    fn exchange(&self, _: f64, temperature: &[f64], exchange: &mut [Exchange]) {
        self.pass(AIR, temperature, exchange, |film, surface, air| film * (surface - air));
    }

    fn sectors(&self) -> usize {
        self.films.sectors()
    }

    fn is_coupled(&self) -> bool {
        true
    }

    fn follow(
        &self,
        _: f64,
        _: &crate::ExchangeState<'_>,
        change: &Temperatures<'_>,
        flows: Exchanges<'_>,
    ) -> bool {
        if self.known == Known::Yes {
            self.pass(0.0, change.surface, flows.surface, |film, _, air| -film * air);
        }
        self.known == Known::Yes
    }
}

#[test]
fn differences_and_derivatives_of_air_that_passes_sectors_agree() {
    let grid = grid();
    let variation = Variation::any(&[1]);
    let night = |known, carried| {
        let films = Lopsided::new(&grid, &variation, &[(1, 0.4, 0.5)]);
        let mut stepper = stepper(&grid, &variation);
        stepper.advance(HOUR, &Passing { films, carried, known }, |_| {}).unwrap();
        stepper
    };
    for carried in [5.0, f64::INFINITY] {
        let (known, sought) = (night(Known::Yes, carried), night(Known::No, carried));
        assert_eq!(known.effort().coupling, 0);
        assert!(sought.effort().coupling > 0, "{:?}", sought.effort());
        for part in variation.parts() {
            for (a, b) in known.part_kelvin(part).iter().zip(sought.part_kelvin(part)) {
                assert!((a - b).abs() < 1e-8, "{part:?}: {a} {b} K");
            }
        }
    }
    // With air that stays as it is, the slopes alone say as much.
    let alone = after(&grid, &variation, &[(1, 0.4, 0.5)], HOUR);
    let coupled = night(Known::No, f64::INFINITY);
    for (a, b) in alone.celsius().iter().zip(coupled.celsius()) {
        assert!((a - b).abs() < 1e-8, "{a} {b}");
    }
}

#[test]
#[should_panic(expected = "in the sectors of the stepper")]
fn surroundings_of_other_sectors_are_refused() {
    let grid = grid();
    let films = Lopsided::new(&grid, &Variation::even(&[1]), &[]);
    let mut stepper = stepper(&grid, &Variation::any(&[1]));
    let _ = stepper.advance(1.0, &films, |_| {});
}
