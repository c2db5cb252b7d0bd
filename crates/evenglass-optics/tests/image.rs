//! Figure in, image out: closed formulas and published numbers of the optics of a mirror.
//!
//! Figures go in as nodes of the front, the way the glass gives them; nothing here knows how a
//! fit is computed.

use std::f64::consts::TAU;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use evenglass_optics::{
    Front, Pupil, Zernike, correction_percent, depth_of_focus, focus_shift, marechal_square,
    parabolising, phase_variance, strehl,
};

const WAVELENGTH: f64 = 550e-9;

/// Corner, middle, corner, … from `inner` to `outer`, a little denser towards the rim.
fn nodes(inner: f64, outer: f64, elements: usize) -> Vec<f64> {
    let corner = |i: usize| {
        let share = i as f64 / elements as f64;
        inner + (outer - inner) * (1.3 * share - 0.3 * share * share)
    };
    (0..=2 * elements)
        .map(|node| match node % 2 {
            0 => corner(node / 2),
            _ => 0.5 * (corner(node / 2) + corner(node / 2 + 1)),
        })
        .collect()
}

fn figure(radii: &[f64], height: impl Fn(f64) -> f64) -> Vec<f64> {
    radii.iter().map(|&r| height(r)).collect()
}

/// The mirrors of the checks: diameter \[m\], focal ratio.
const MIRRORS: [(f64, f64); 5] = [(0.2, 6.0), (0.25, 5.0), (0.4, 4.0), (0.4, 5.0), (0.3, 5.0)];

/// Third order: z of the sphere less that of the paraboloid is r⁴/(8R³); the surface at its
/// best focus is a⁴/(32R³) deep, the wavefront D/(2048N³). Closed forms.
#[test]
fn a_sphere_at_its_best_focus_is_as_deep_as_the_textbooks_formula() {
    for (diameter, ratio) in MIRRORS {
        let (a, r) = (0.5 * diameter, 2.0 * ratio * diameter);
        let radii = nodes(0.0, a, 48);
        let fit = Front::new(&radii).round(&figure(&radii, |x| -x.powi(4) / (8.0 * r.powi(3))));
        // Parabolas through 97 points of a fourth power: relative error (1/48)⁴ of its whole.
        let depth = a.powi(4) / (32.0 * r.powi(3));
        assert_relative_eq!(fit.pv_m, depth, max_relative = 2e-5);
        assert_relative_eq!(
            2.0 * fit.pv_m,
            diameter / (2048.0 * ratio.powi(3)),
            max_relative = 2e-5
        );
        assert_relative_eq!(fit.rms_m / fit.pv_m, 4.0 / 180f64.sqrt(), max_relative = 2e-5);
        assert_relative_eq!(correction_percent(fit.spherical_m, r, a), 100.0, max_relative = 1e-6);
    }
    // Computed elsewhere: D 200 f/6, 250 f/5, 400 f/4, 400 f/5, 300 f/5. Surface for the same
    // vertex, wavefront at the paraxial focus, and waves of 550 nm at the best.
    let elsewhere = [
        (9.042_245_370e-7, 1.808_449_074e-6, 0.822_022_306_4),
        (1.953_125_000e-6, 3.906_250_000e-6, 1.775_568_181_8),
        (6.103_515_625e-6, 1.220_703_125e-5, 5.548_650_568_2),
        (3.125_000_000e-6, 6.250_000_000e-6, 2.840_909_090_9),
        (2.343_750_000e-6, 4.687_500_000e-6, 2.130_681_818_2),
    ];
    for ((diameter, ratio), (same_vertex, paraxial, best)) in MIRRORS.into_iter().zip(elsewhere) {
        let (a, r) = (0.5 * diameter, 2.0 * ratio * diameter);
        // Noll 11 of (r/a)⁴ is 1/(6√5).
        let depth = -6.0 * 5f64.sqrt() * parabolising(r, a);
        assert_relative_eq!(depth, same_vertex, max_relative = 1e-9);
        assert_relative_eq!(2.0 * depth, paraxial, max_relative = 1e-9);
        let radii = nodes(0.0, a, 48);
        let fit = Front::new(&radii).round(&figure(&radii, |x| depth * (x / a).powi(4)));
        assert_relative_eq!(2.0 * fit.pv_m / WAVELENGTH, best, max_relative = 2e-5);
        // Between paraxial and marginal focus lies the best: the whole of r⁴ as r².
        assert_relative_eq!(fit.defocus_m, same_vertex, max_relative = 1e-6);
    }
}

/// Noll 11 of paraboloid less sphere, D 400: A/(6√5) with A = −a⁴/(8R³), computed elsewhere.
#[test]
fn parabolising_a_400_mm_mirror_takes_the_known_spherical_aberration() {
    for (ratio, expected) in
        [(4.0, -454.929_192_777_7), (5.0, -232.923_747_656_2), (6.0, -134.793_835_145_5)]
    {
        // As far as the checks vouch for their digits.
        assert_relative_eq!(parabolising(0.8 * ratio, 0.2) * 1e9, expected, max_relative = 1e-6);
    }
}

#[test]
fn refocusing_takes_piston_and_parabola_away_whole() {
    for inner in [0.0, 0.03] {
        let radii = nodes(inner, 0.2, 12);
        let fit = Front::new(&radii).round(&figure(&radii, |r| 3e-7 - 8e-6 * r * r));
        assert_relative_eq!(fit.piston_m, 3e-7, max_relative = 1e-10);
        assert_relative_eq!(fit.defocus_m, -8e-6 * 0.04, max_relative = 1e-10);
        assert!(fit.rms_m < 1e-19 && fit.pv_m < 1e-18, "{fit:?}");
        assert!(fit.spherical_m.abs() < 1e-19, "{fit:?}");
    }
}

/// Noll's coefficients are projections: each series term put in comes out, and no other.
#[test]
fn a_noll_term_of_the_surface_is_read_as_that_term() {
    for inner in [0.0, 0.05] {
        let radii = nodes(inner, 0.2, 60);
        let front = Front::new(&radii);
        let terms = [(4, 0.0), (11, 1.0), (22, 0.0)];
        for (index, spherical) in terms {
            let term = Zernike::noll(index).unwrap();
            let fit = front.round(&figure(&radii, |r| 1e-9 * term.profile(r / 0.2)));
            assert_abs_diff_eq!(fit.spherical_m, 1e-9 * spherical, epsilon = 2e-14);
            let secondary = if index == 22 { 1e-9 } else { 0.0 };
            assert_abs_diff_eq!(fit.secondary_spherical_m, secondary, epsilon = 2e-14);
        }
        for (order, index) in [(1, 8), (2, 6), (3, 10), (4, 14)] {
            let term = Zernike::noll(index).unwrap();
            let shape = figure(&radii, |r| 1e-9 * term.profile(r / 0.2) + 4e-9 * tilt(order, r));
            let fit = front.lopsided(order, &shape);
            assert_abs_diff_eq!(fit.coefficient_m, 1e-9, epsilon = 2e-14);
            if inner == 0.0 {
                assert_abs_diff_eq!(fit.rms_m, 1e-9, epsilon = 1e-13);
                assert_abs_diff_eq!(fit.tilt_m, 2e-9 * tilt(order, 0.2), epsilon = 1e-13);
            }
        }
    }
}

/// r/a for order 1, nothing for the others: 2 (r/a) cos θ is Noll's tilt.
fn tilt(order: usize, radius: f64) -> f64 {
    if order == 1 { radius / 0.2 } else { 0.0 }
}

#[test]
fn a_tilted_mirror_has_no_coma_and_no_error_left() {
    for inner in [0.0, 0.05] {
        let radii = nodes(inner, 0.2, 12);
        let front = Front::annulus(&radii, 0.07, 0.19);
        let fit = front.lopsided(1, &figure(&radii, |r| 1e-6 * r / 0.2));
        assert_relative_eq!(fit.tilt_m, 0.5e-6, max_relative = 1e-10);
        assert!(fit.rms_m < 1e-18 && fit.coefficient_m.abs() < 1e-18, "{fit:?}");
    }
}

/// RMS over PV of the primary aberrations: defocus 1/√12, spherical at best focus 4/√180,
/// astigmatism 1/√24, coma 1/√32. Born & Wolf, Mahajan; closed forms.
#[test]
fn rms_over_pv_of_the_primary_aberrations_is_as_in_the_textbooks() {
    let radii = nodes(0.0, 0.2, 60);
    let front = Front::new(&radii);
    let defocus = front.rms(&figure(&radii, |r| (r / 0.2).powi(2)));
    assert_relative_eq!(defocus, 0.288_675_134_594_8, max_relative = 1e-9);
    let spherical = front.round(&figure(&radii, |r| (r / 0.2).powi(4)));
    assert_relative_eq!(spherical.rms_m / spherical.pv_m, 0.298_142_397, max_relative = 1e-5);
    let astigmatism = front.lopsided(2, &figure(&radii, |r| (r / 0.2).powi(2)));
    assert_relative_eq!(astigmatism.rms_m / 2.0, 0.204_124_145_231_9, max_relative = 1e-9);
    let coma = front.lopsided(1, &figure(&radii, |r| 3.0 * (r / 0.2).powi(3) - 2.0 * r / 0.2));
    assert_relative_eq!(coma.rms_m / 2.0, 0.176_776_695_296_6, max_relative = 1e-5);
    assert_relative_eq!(
        0.25 * spherical.rms_m / spherical.pv_m,
        0.074_535_599,
        max_relative = 1e-5
    );
}

/// Mahajan's annular pupils: balanced spherical aberration (1 − ε²)²/(6√5), defocus
/// (1 − ε²)/(2√3) waves per wave. The obstruction falls between nodes here.
#[test]
fn an_obstruction_changes_rms_as_mahajan_says() {
    let radii = nodes(0.0, 0.2, 60);
    for (obstruction, balanced, defocus) in [
        (0.2, 0.068_692_008_268_8, 0.277_128_129_211_0),
        (0.3, 0.061_722_929_738_9, 0.262_694_372_481_3),
    ] {
        let front = Front::annulus(&radii, 0.2 * obstruction, 0.2);
        let fit = front.round(&figure(&radii, |r| (r / 0.2).powi(4)));
        assert_relative_eq!(fit.rms_m, balanced, max_relative = 1e-5);
        let kept = front.rms(&figure(&radii, |r| (r / 0.2).powi(2)));
        assert_relative_eq!(kept, defocus, max_relative = 1e-9);
        assert_relative_eq!(fit.defocus_m, 1.0 + obstruction * obstruction, max_relative = 1e-5);
    }
}

/// A figure known everywhere is summed over a fine polar grid, in the plainest way.
#[test]
fn rms_pv_and_fits_of_a_rough_figure_are_those_of_a_plain_sum() {
    let radii = nodes(0.03, 0.2, 6);
    let heights = [5.0, -2.0, 1.0, 4.0, -6.0, 0.0, 2.0, 9.0, -3.0, 3.0, 1.0, -8.0, 7.0];
    let front = Front::annulus(&radii, 0.051, 0.187);
    let fit = front.round(&heights);
    let count = 400_000;
    let (mut sum, mut square, mut area) = (0.0, 0.0, 0.0);
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for i in 0..count {
        let r = 0.051 + (0.187 - 0.051) * (f64::from(i) + 0.5) / f64::from(count);
        let left = front.at(&heights, r) - fit.piston_m - fit.defocus_m * (r / 0.2).powi(2);
        (low, high) = (left.min(low), left.max(high));
        sum += r * left;
        square += r * left * left;
        area += r;
    }
    assert_abs_diff_eq!(sum / area, 0.0, epsilon = 1e-8);
    assert_relative_eq!(fit.rms_m, (square / area).sqrt(), max_relative = 1e-8);
    // Half a step short of either end, the slopes there being up to 10³.
    assert_relative_eq!(fit.pv_m, high - low, max_relative = 1e-4);
    // The best fit: a little more or less focus leaves a larger RMS.
    for change in [-0.1, 0.1] {
        let moved: Vec<f64> = radii
            .iter()
            .zip(heights)
            .map(|(r, h)| h - (fit.defocus_m + change) * (r / 0.2_f64).powi(2))
            .collect();
        let again = front.round(&moved);
        assert_abs_diff_eq!(again.defocus_m, -change, epsilon = 1e-9);
        assert_relative_eq!(again.rms_m, fit.rms_m, max_relative = 1e-9);
    }
}

#[test]
fn between_nodes_a_figure_is_the_parabola_through_them() {
    let radii = nodes(0.02, 0.2, 5);
    let front = Front::new(&radii);
    let heights = figure(&radii, |r| 2.0 - 7.0 * r + 30.0 * r * r);
    for r in [0.02, 0.021, 0.0777, 0.1, 0.15, 0.2] {
        assert_relative_eq!(
            front.at(&heights, r),
            2.0 - 7.0 * r + 30.0 * r * r,
            max_relative = 1e-12
        );
    }
    assert_relative_eq!(front.at(&heights, 0.0), heights[0], max_relative = 1e-12);
    assert_relative_eq!(front.at(&heights, 9.0), heights[10], max_relative = 1e-12);
}

/// Focus −c R²/a² and depth of focus 2λN² at 550 nm: closed forms, D 400.
#[test]
fn focus_and_depth_of_focus_are_those_of_the_checks() {
    assert_relative_eq!(focus_shift(-3.6e-6, 3.2, 0.2), 0.000_921_6, max_relative = 1e-9);
    assert_relative_eq!(focus_shift(-3.6e-6, 4.0, 0.2), 0.001_44, max_relative = 1e-9);
    assert_relative_eq!(focus_shift(-1.219_25e-7, 4.0, 0.2), 4.877e-5, max_relative = 1e-9);
    assert_relative_eq!(depth_of_focus(4.0, WAVELENGTH), 1.76e-5, max_relative = 1e-9);
    assert_relative_eq!(depth_of_focus(5.0, WAVELENGTH), 2.75e-5, max_relative = 1e-9);
}

/// exp(−(2πσ)²) and Maréchal's square for RMS in waves; closed forms.
#[test]
fn strehl_ratios_are_those_of_the_checks() {
    for (waves, expected) in
        [(0.05, 0.906_018_055_789), (1.0 / 14.0, 0.817_568_573_3), (0.1, 0.673_825_451_231)]
    {
        let variance = phase_variance(waves * WAVELENGTH, WAVELENGTH);
        // The check gives a 14th as 0.0714286, which moves its last digits.
        assert_relative_eq!(strehl(variance).unwrap(), expected, max_relative = 1e-6);
    }
    assert_relative_eq!(
        marechal_square((TAU / 14.0).powi(2)),
        0.808_722_056_270,
        max_relative = 1e-9
    );
    assert_eq!(strehl(1.3), None, "exp(-1.3) = 0.27 is beyond the formula");
    assert_eq!(strehl(f64::NAN), None);
}

#[test]
fn a_pupil_sees_twice_the_figure_of_a_flat_and_less_of_a_deep_one() {
    let radii = nodes(0.0, 0.2, 24);
    let rough = figure(&radii, |r| 1e-8 * (r / 0.2).powi(4));
    let front = Front::annulus(&radii, 0.05, 0.2);
    let flat = Pupil::new(&radii, 0.0, 0.05, 0.2);
    assert_relative_eq!(
        flat.round_rms(&rough),
        2.0 * front.round(&rough).rms_m,
        max_relative = 1e-12
    );
    assert_relative_eq!(
        flat.lopsided_rms(2, &rough),
        2.0 * front.lopsided(2, &rough).rms_m,
        max_relative = 1e-12
    );
    // f/4: the slope at the rim is 1/16, so that the wavefront is up to 0.4 % less.
    let deep = Pupil::new(&radii, 1.0 / 3.2, 0.05, 0.2);
    let ratio = deep.round_rms(&rough) / flat.round_rms(&rough);
    assert!(ratio < 1.0 && ratio > 0.985, "{ratio}");
}
