//! Wavefront maps, fringes and the image of a star, against diffraction's closed forms.

use std::f64::consts::{PI, TAU};

use approx::{assert_abs_diff_eq, assert_relative_eq};
use evenglass_optics::{
    Aperture, Focus, Frame, Front, Lopsided, PointSpread, Pupil, Surface, WAVELENGTH_M, Wavefront,
    Zernike, coherence_length, strehl,
};
use ndarray::Array2;

const OUTER: f64 = 0.2;
const PIXELS: usize = 128;

fn nodes() -> Vec<f64> {
    (0..=48).map(|i| OUTER * f64::from(i) / 48.0).collect()
}

fn open(obstruction: f64) -> Aperture {
    Aperture { inner_radius_m: obstruction * OUTER, outer_radius_m: OUTER }
}

/// A figure of one Noll term of this RMS \[m\] on a flat front.
fn term(index: usize, rms: f64) -> Surface {
    let term = Zernike::noll(index).expect("a Noll number from 1 up");
    let radii_m = nodes();
    let profile: Vec<f64> = radii_m.iter().map(|r| rms * term.profile(r / OUTER)).collect();
    let nothing = vec![0.0; radii_m.len()];
    let mut surface =
        Surface { radii_m, curvature_per_m: 0.0, round_m: nothing.clone(), lopsided: vec![] };
    let order = term.order();
    match (order, index % 2) {
        (0, _) => surface.round_m = profile,
        (_, 0) => {
            let (cosine_m, sine_m) = (profile, nothing);
            surface.lopsided.push(Lopsided { order, cosine_m, sine_m });
        }
        _ => {
            let (cosine_m, sine_m) = (nothing, profile);
            surface.lopsided.push(Lopsided { order, cosine_m, sine_m });
        }
    }
    surface
}

fn perfect(obstruction: f64) -> Wavefront {
    Wavefront::of(&term(11, 0.0), open(obstruction), PIXELS, Focus::Best)
}

/// J₁ by its integral.
fn bessel_1(x: f64) -> f64 {
    let count = 128;
    (0..count)
        .map(|i| {
            let angle = PI * (f64::from(i) + 0.5) / f64::from(count);
            (x * angle.sin() - angle).cos()
        })
        .sum::<f64>()
        / f64::from(count)
}

/// Born & Wolf section 8.6.2: [2 J₁(v)/v − ε² 2 J₁(εv)/(εv)]² / (1 − ε²)².
fn ring_pattern(v: f64, obstruction: f64) -> f64 {
    let lobe = |v: f64| if v.abs() < 1e-9 { 1.0 } else { 2.0 * bessel_1(v) / v };
    let square = obstruction * obstruction;
    ((lobe(v) - square * lobe(obstruction * v)) / (1.0 - square)).powi(2)
}

/// Where intensity along the row through the axis first rises again, in λ/D, and the height of
/// the ring that follows.
fn first_dark_and_ring(image: &PointSpread, fineness: usize) -> (f64, f64) {
    let middle = image.intensity.ncols() / 2;
    let row: Vec<f64> = image.intensity.row(middle).iter().skip(middle).copied().collect();
    let dark = (1..row.len() - 1).find(|&i| row[i] < row[i + 1]);
    let dark = dark.expect("a dark ring within the picture");
    let ring = row[dark..].iter().copied().take(fineness).fold(0.0, f64::max);
    // Near a dark ring the amplitude is a straight line through nought.
    let (before, after) = (row[dark - 1].sqrt(), row[dark + 1].sqrt());
    let place = dark as f64 - 1.0 + 2.0 * before / (before + after);
    (place / fineness as f64, ring)
}

/// Airy: first dark ring at 1.220 λ/D, first bright one 1.75 %.
#[test]
fn a_perfect_mirror_shows_airys_disc() {
    let frame = Frame { fineness: 32, pixels: 129 };
    let image = PointSpread::of(&perfect(0.0), frame);
    assert_relative_eq!(image.peak(), 1.0, max_relative = 1e-12);
    let (dark, ring) = first_dark_and_ring(&image, 32);
    // 128 pixels across the pupil, and 32 pixels to λ/D.
    assert_abs_diff_eq!(dark, 1.2197, epsilon = 0.003);
    assert_abs_diff_eq!(ring, 0.0175, epsilon = 0.0001);
    assert_relative_eq!(image.pixel_rad, WAVELENGTH_M / 0.4 / 32.0, max_relative = 1e-12);
    assert_relative_eq!(image.pixel_arcsec(), 0.283_614 / 32.0, max_relative = 1e-5);
}

/// The whole pattern against Born & Wolf's, and what they say of an obstruction: the disc
/// shrinks and the first ring brightens.
#[test]
fn an_obstructed_mirror_shows_the_pattern_of_a_ring() {
    let mut rings = vec![];
    for obstruction in [0.0, 0.2, 0.33, 0.5] {
        let frame = Frame { fineness: 16, pixels: 97 };
        let image = PointSpread::of(&perfect(obstruction), frame);
        for ((row, column), &value) in image.intensity.indexed_iter() {
            let apart = (row as f64 - 48.0).hypot(column as f64 - 48.0);
            let expected = ring_pattern(PI * apart / 16.0, obstruction);
            assert_abs_diff_eq!(value, expected, epsilon = 1e-3);
        }
        rings.push(first_dark_and_ring(&image, 16));
    }
    assert!(rings.windows(2).all(|pair| pair[1].0 < pair[0].0), "discs shrink: {rings:?}");
    assert!(rings.windows(2).all(|pair| pair[1].1 > pair[0].1), "rings brighten: {rings:?}");
    // Born & Wolf: half obstructed, first dark ring at v = 3.15, that is 1.00 λ/D; from memory.
    assert_abs_diff_eq!(rings[3].0, 1.00, epsilon = 0.005);
}

/// Parseval: all light of the pupil is in the image.
#[test]
fn no_light_is_lost_or_made() {
    let wave = Wavefront::of(&term(8, 60e-9), open(0.3), 32, Focus::Best);
    let image = PointSpread::of(&wave, Frame { fineness: 4, pixels: 128 });
    let (total, squares) = (wave.coverage.sum(), wave.coverage.mapv(|share| share * share).sum());
    let expected = 128.0 * 128.0 * squares / (total * total);
    assert_relative_eq!(image.intensity.sum(), expected, max_relative = 1e-12);
}

/// Small errors of any kind cost exp(−σ²) of the peak, on an open and on an obstructed pupil.
#[test]
fn a_small_error_costs_the_peak_what_its_variance_says() {
    for (index, obstruction) in [(11, 0.0), (22, 0.0), (8, 0.0), (6, 0.3), (10, 0.3), (11, 0.3)] {
        let surface = term(index, 10e-9);
        let wave = Wavefront::of(&surface, open(obstruction), PIXELS, Focus::Best);
        let variance = (TAU * wave.rms_m() / WAVELENGTH_M).powi(2);
        let image = PointSpread::of(&wave, Frame { fineness: 8, pixels: 9 });
        // Tilt and defocus being removed, the peak stays on the axis. The next order of the
        // exponential is σ⁴ ≈ 0.003.
        assert_abs_diff_eq!(image.intensity[(4, 4)], strehl(variance).unwrap(), epsilon = 0.002);
        assert!(variance > 0.02, "not too small to tell: {variance}");
    }
}

/// Rayleigh: a quarter wave of spherical aberration leaves 0.80.
#[test]
fn a_quarter_wave_of_spherical_aberration_leaves_four_fifths() {
    // PV of balanced W = W₄₀ (r⁴ − r²) is W₄₀/4, its RMS W₄₀/√180; the surface has half.
    let wave_rms = WAVELENGTH_M / 180f64.sqrt();
    let wave = Wavefront::of(&term(11, 0.5 * wave_rms), open(0.0), PIXELS, Focus::Best);
    assert_relative_eq!(wave.rms_m(), wave_rms, max_relative = 2e-3);
    let image = PointSpread::of(&wave, Frame::default());
    assert_abs_diff_eq!(image.peak(), 0.80, epsilon = 0.005);
}

/// The map's RMS is that of the exact readings, refocused or not.
#[test]
fn the_map_has_the_rms_of_the_fits() {
    let radii = nodes();
    let deep = 1.0 / 3.2;
    let round: Vec<f64> = radii.iter().map(|r| 3e-7 * (r / OUTER).powi(4) + 1e-7).collect();
    let coma: Vec<f64> = radii.iter().map(|r| 2e-7 * (r / OUTER).powi(3)).collect();
    let surface = Surface {
        radii_m: radii.clone(),
        curvature_per_m: deep,
        round_m: round.clone(),
        lopsided: vec![Lopsided { order: 1, cosine_m: coma.clone(), sine_m: coma.clone() }],
    };
    let pupil = Pupil::new(&radii, deep, 0.25 * OUTER, OUTER);
    let expected = pupil.round_rms(&round).hypot(2f64.sqrt() * pupil.lopsided_rms(1, &coma));
    let best = Wavefront::of(&surface, open(0.25), 256, Focus::Best);
    assert_relative_eq!(best.rms_m(), expected, max_relative = 5e-3);
    let kept = Wavefront::of(&surface, open(0.25), 256, Focus::Kept);
    let front = Front::annulus(&radii, 0.25 * OUTER, OUTER);
    let wave: Vec<f64> =
        radii.iter().zip(&round).map(|(r, h)| 2.0 * h / (1.0 + (deep * r).powi(2))).collect();
    let expected = front.rms(&wave).hypot(2f64.sqrt() * pupil.lopsided_rms(1, &coma));
    assert_relative_eq!(kept.rms_m(), expected, max_relative = 5e-3);
    assert!(kept.rms_m() > 1.5 * best.rms_m(), "refocusing helps");
    assert!(best.path_m[(128, 128)].is_nan() && best.path_m[(0, 0)].is_nan(), "off the pupil");
}

/// θ = 0 is up, 90° is left as seen from the front.
#[test]
fn a_map_is_seen_from_the_front_with_up_on_top() {
    let cosine = Wavefront::of(&term(10, 1e-9), open(0.0), 64, Focus::Best).path_m;
    // cos 3θ: high at 0°, 120°, 240°; low at the bottom.
    assert!(cosine[(2, 32)] > 0.0 && cosine[(61, 32)] < 0.0, "high at the top");
    // sin 3θ: high at 30°, 150°, 270°, low at 90°, 210°, 330°.
    let sine = Wavefront::of(&term(9, 1e-9), open(0.0), 64, Focus::Best).path_m;
    assert!(sine[(32, 2)] < 0.0 && sine[(32, 61)] > 0.0, "low at 90°, on the left");
}

/// A mirror whose upper side stands forward throws the light down.
#[test]
fn light_goes_where_the_mirror_throws_it() {
    let mut wave = perfect(0.0);
    // Two waves ahead at the top, two behind at the bottom: 4 λ/D.
    for ((row, _), path) in wave.path_m.indexed_iter_mut() {
        *path += 4.0 * WAVELENGTH_M * (0.5 - (row as f64 + 0.5) / PIXELS as f64);
    }
    let image = PointSpread::of(&wave, Frame { fineness: 8, pixels: 129 });
    assert_relative_eq!(image.intensity[(64 + 32, 64)], 1.0, max_relative = 1e-9);
}

#[test]
fn a_perfect_mirror_shows_straight_fringes_and_a_null_shows_none() {
    let wave = perfect(0.2);
    let null = wave.interferogram(0.0);
    assert!(null.iter().all(|value| value.is_nan() || (value - 1.0).abs() < 1e-12), "even light");
    let fringes = wave.interferogram(8.0);
    let rows: Vec<f64> = (0..PIXELS).map(|row| fringes[(row, PIXELS - 20)]).collect();
    let bright = |from: usize| rows[from] > 0.5;
    let edges = (40..PIXELS - 40).filter(|&row| bright(row) != bright(row - 1)).count();
    // 48 of 128 rows at 8 fringes for the whole: 3 fringes, each with two edges.
    assert_eq!(edges, 6);
    // A quarter wave ahead somewhere moves the fringes there by a quarter of their distance.
    let ahead = Wavefront { path_m: &wave.path_m + 0.25 * WAVELENGTH_M, ..wave.clone() };
    let moved = ahead.interferogram(8.0);
    assert_relative_eq!(moved[(64, 20)], fringes[(64 - 4, 20)], max_relative = 1e-9);
}

/// Through much air the image is as wide as Fried says, through none it is unchanged, and its
/// light stays the same.
#[test]
fn air_widens_the_image_to_its_own_width() {
    let image = PointSpread::of(&perfect(0.0), Frame { fineness: 4, pixels: 257 });
    let calm = image.through_air(0.0);
    let gap: Array2<f64> = &calm.intensity - &image.intensity;
    assert!(gap.iter().all(|change| change.abs() < 1e-12), "no air, no change");
    // 0.4 m through 3 arcsec: D/r₀ = 10, the aperture hardly matters.
    let blurred = image.through_air(3.0);
    assert!(coherence_length(3.0) < 0.04, "much air");
    let middle = blurred.intensity[(128, 128)];
    let half = (0..128).take_while(|&i| blurred.intensity[(128, 128 + i)] > 0.5 * middle).count();
    let width = 2.0 * half as f64 * blurred.pixel_arcsec();
    // Half a pixel is 0.035 arcsec, and the aperture adds a percent or two.
    assert_relative_eq!(width, 3.0, max_relative = 0.05);
    assert_relative_eq!(blurred.intensity.sum(), image.intensity.sum(), max_relative = 0.03);
}
