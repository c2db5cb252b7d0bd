//! The figure against a general-purpose finite-element library, on the mirrors of
//! `figure_table.rs`: once from the library's own temperatures, once from films to figure.

use std::collections::BTreeMap;

use evenglass_optics::{Deflection, Front, MeshSize, correction_percent, focus_shift};
use evenglass_simulation::result::{COLUMNS, Record};
use evenglass_simulation::{Resolution, simulate};

use crate::figure_table::{Kind, Mirror, Stated, mirrors};

/// The promise for figures: this share, or this much \[nm\].
const SHARE: f64 = 5e-3;
const NANOMETRES: f64 = 0.2;

/// Elements with which the elastic part shows no error of its own.
const FINE: MeshSize = MeshSize { radial: 48, axial: 14 };
const FINE_SHARE: f64 = 5e-4;
const FINE_NANOMETRES: f64 = 0.02;

/// A difference of two temperatures: twice the promise for one \[K\].
const KELVINS: f64 = 1e-2;

/// How much a figure may be off.
#[derive(Debug, Clone, Copy)]
struct Allowed {
    share: f64,
    nanometres: f64,
}

const PROMISED: Allowed = Allowed { share: SHARE, nanometres: NANOMETRES };
const FINELY: Allowed = Allowed { share: FINE_SHARE, nanometres: FINE_NANOMETRES };

impl Allowed {
    /// For a number of which one unit is worth `nanometres` of surface.
    fn of(self, stated: Stated, nanometres: f64) -> f64 {
        (self.share * stated.value.abs()).max(self.nanometres / nanometres) + stated.error
    }

    /// For a number of the tables by its name.
    fn named(self, mirror: &Mirror, name: &str, stated: Stated) -> f64 {
        let blank = mirror.blank();
        let (r, a) = (1.0 / blank.curvature_per_m, blank.outer_radius_m);
        match name {
            "focus_shift_um" => self.of(stated, 1e3 / focus_shift(1.0, r, a).abs()),
            "correction_percent" => self.of(stated, 1.0 / correction_percent(1e-9, r, a).abs()),
            _ if name.ends_with("_k") => KELVINS + stated.error,
            _ => self.of(stated, 1.0),
        }
    }
}

/// What a figure gives, by the names of the history's columns.
type Numbers = BTreeMap<&'static str, f64>;

/// Asserts every number that both have; there are at least `least`.
fn compare(mirror: &Mirror, ours: &Numbers, allowed: Allowed, least: usize) {
    let mut compared = 0;
    for (name, stated) in &mirror.numbers {
        let Some(&own) = ours.get(name.as_str()) else { continue };
        compared += 1;
        let (gap, most) = (own - stated.value, allowed.named(mirror, name, *stated));
        assert!(
            gap.abs() <= most,
            "`{}`, {name}: {own}, expected {}, off by {gap:.2e}, allowed {most:.2e}",
            mirror.name,
            stated.value
        );
    }
    assert!(compared >= least, "`{}`: only {compared} numbers compared", mirror.name);
}

/// The figure of each order \[m\] at the front's nodes, from the table's temperatures.
fn figures(mirror: &Mirror, size: MeshSize) -> (Front, BTreeMap<usize, Vec<f64>>) {
    let blank = mirror.blank();
    let mut radii = Vec::new();
    let mut profiles = BTreeMap::new();
    for (&order, field) in &mirror.fields {
        let free_of_stress = if order == 0 { mirror.start_c() } else { 0.0 };
        let deflection = Deflection::new(&blank, size, mirror.poisson_ratio, order)
            .expect("the mirror has a shape");
        let warming = deflection.temperature_points().iter().map(|&(radius, height)| {
            field.at(radius, height / blank.thickness(radius)) - free_of_stress
        });
        let warming: ndarray::Array1<f64> = warming.collect();
        profiles.insert(order, (mirror.expansion * deflection.influence().dot(&warming)).to_vec());
        deflection.front_radii().clone_into(&mut radii);
    }
    (Front::new(&radii), profiles)
}

/// The contracted numbers of a figure, and the RMS of each lopsided order.
fn numbers(mirror: &Mirror, front: &Front, figures: &BTreeMap<usize, Vec<f64>>) -> Numbers {
    const NANO: f64 = 1e9;
    let blank = mirror.blank();
    let (r, a) = (1.0 / blank.curvature_per_m, blank.outer_radius_m);
    let fit = front.round(&figures[&0]);
    let mut numbers = Numbers::from([
        ("defocus_nm", NANO * fit.defocus_m),
        ("figure_pv_nm", NANO * fit.pv_m),
        ("figure_rms_nm", NANO * fit.rms_m),
        ("spherical_nm", NANO * fit.spherical_m),
    ]);
    if r.is_finite() {
        numbers.insert("focus_shift_um", 1e6 * focus_shift(fit.defocus_m, r, a));
        numbers.insert("correction_percent", correction_percent(fit.spherical_m, r, a));
    }
    let names = [
        ("coma_nm", "harmonic_1_rms_nm"),
        ("astigmatism_nm", "harmonic_2_rms_nm"),
        ("trefoil_nm", "harmonic_3_rms_nm"),
        ("tetrafoil_nm", "harmonic_4_rms_nm"),
    ];
    for (&order, figure) in figures.iter().filter(|(order, _)| **order > 0) {
        let fit = front.lopsided(order, figure);
        let (coefficient, rms) = names[order - 1];
        numbers.insert(coefficient, NANO * fit.coefficient_m.abs());
        numbers.insert(rms, NANO * fit.rms_m);
    }
    numbers
}

/// Asserts the shape of the figure: RMS of the difference, less what refocusing or a tilt
/// takes away.
fn compare_profiles(mirror: &Mirror, ours: (&Front, &BTreeMap<usize, Vec<f64>>), allowed: Allowed) {
    let (front, figures) = ours;
    for (&order, stated) in &mirror.profiles {
        let radii: Vec<f64> = stated.iter().map(|(radius, _)| *radius).collect();
        let table = Front::new(&radii);
        let rms_nm = |heights: &[f64]| {
            let rest = if order == 0 {
                table.round(heights).rms_m
            } else {
                table.lopsided(order, heights).rms_m
            };
            1e9 * rest
        };
        let heights = |of: &dyn Fn(f64, Stated) -> f64| -> Vec<f64> {
            stated.iter().map(|&(radius, stated)| of(radius, stated)).collect()
        };
        let gap = rms_nm(&heights(&|radius, s| front.at(&figures[&order], radius) - s.value));
        let value = rms_nm(&heights(&|_, stated| stated.value));
        let error = 1e9 * stated.iter().fold(0.0, |most: f64, (_, s)| most.max(s.error));
        let most = allowed.of(Stated { value, error }, 1.0);
        assert!(
            gap <= most,
            "`{}`, order {order}: RMS {value} nm differs by {gap:.2e} nm, allowed {most:.2e}",
            mirror.name
        );
    }
}

/// The elastic part alone, on a mesh.
fn compare_elastic(kind: Kind, size: MeshSize, allowed: Allowed) {
    for mirror in mirrors(kind) {
        let (front, figures) = figures(&mirror, size);
        let least = if kind == Kind::Even { 4 } else { 8 };
        compare(&mirror, &numbers(&mirror, &front, &figures), allowed, least);
        compare_profiles(&mirror, (&front, &figures), allowed);
    }
}

#[test]
fn the_same_temperatures_bend_bodies_of_revolution_alike() {
    compare_elastic(Kind::Even, MeshSize::default(), PROMISED);
}

#[test]
fn fine_elements_close_in_on_bodies_of_revolution() {
    compare_elastic(Kind::Even, FINE, FINELY);
}

#[test]
fn the_same_temperatures_bend_lopsided_mirrors_as_in_three_dimensions() {
    compare_elastic(Kind::Lopsided, MeshSize::default(), PROMISED);
}

#[test]
fn fine_elements_close_in_on_three_dimensions() {
    compare_elastic(Kind::Lopsided, FINE, FINELY);
}

/// The last row of a night and the shape of its front then.
fn computed(
    mirror: &Mirror,
    resolution: &Resolution,
) -> (Numbers, Front, BTreeMap<usize, Vec<f64>>) {
    let night = simulate(&mirror.scenario(), resolution).expect("the case can be computed");
    let last: &Record = night.history.last().expect("a night has rows");
    assert!((last.time_s - mirror.time_s).abs() < 1e-6, "the last row is at {} s", last.time_s);
    let columns = COLUMNS.iter().map(|column| (column.name, (column.value)(last)));
    let field = night.fields.iter().find(|field| (field.time_s - mirror.time_s).abs() < 1e-6);
    let surface = &field.expect("a field at the instant asked for").surface;
    let mut figures = BTreeMap::from([(0, surface.round_m.clone())]);
    for (order, cosine, sine) in &surface.orders {
        let largest = sine.iter().fold(0.0, |most: f64, height| most.max(height.abs()));
        assert!(largest < 1e-15, "`{}` is symmetric, its sine part is {largest} m", mirror.name);
        figures.insert(*order, cosine.clone());
    }
    (columns.collect(), Front::new(&surface.radius_m), figures)
}

fn compare_nights(kind: Kind, resolution: &Resolution) {
    for mirror in mirrors(kind) {
        let (numbers, front, figures) = computed(&mirror, resolution);
        let least = if kind == Kind::Even { 6 } else { 9 };
        compare(&mirror, &numbers, PROMISED, least);
        compare_profiles(&mirror, (&front, &figures), PROMISED);
    }
}

#[test]
fn nights_of_even_films_end_in_the_same_figure() {
    compare_nights(Kind::Even, &Resolution::default());
}

#[test]
fn nights_of_even_films_computed_finely_end_in_the_same_figure() {
    compare_nights(Kind::Even, &Resolution::fine());
}

#[test]
fn nights_of_lopsided_films_end_in_the_same_figure() {
    compare_nights(Kind::Lopsided, &Resolution::default());
}

#[test]
fn nights_of_lopsided_films_computed_finely_end_in_the_same_figure() {
    compare_nights(Kind::Lopsided, &Resolution::fine());
}
