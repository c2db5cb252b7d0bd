//! Warm air in the beam: published numbers, and the same results from first principles.

use std::f64::consts::{PI, TAU};

use approx::{assert_abs_diff_eq, assert_relative_eq};
use evenglass_optics::{
    Beam, Blur, FaceAir, FaceState, PhaseVariance, Slice, WAVELENGTH_M, coherence,
    coherence_length, column_seeing, critical_speed, face_seeing, left_by_tilt, natural_blur,
    saturated_variance, sheared_blur, strehl, thermal_slope, variance_without_tilt, width_arcsec,
};

/// Air at 10 °C and sea level, as the checks have it: conductivity, kinematic viscosity,
/// thermal diffusivity, density times specific heat, gravity.
const CONDUCTIVITY: f64 = 0.0249;
const VISCOSITY: f64 = 1.42e-5;
const DIFFUSIVITY: f64 = 2.0e-5;
const HEAT_CAPACITY: f64 = 1.247 * 1006.0;
const GRAVITY: f64 = 9.81;
const AIR_K: f64 = 283.15;

fn slope() -> f64 {
    thermal_slope(AIR_K, 101_325.0, WAVELENGTH_M)
}

fn wave_number() -> f64 {
    TAU / WAVELENGTH_M
}

/// Width [arcsec] of a long exposure through ∫ `C_T²` dz, seen by so many passes that it
/// counts `passes` times (Fried; Roddier): r₀ = (0.423 k² J)^(−3/5).
fn width_through(structure: f64, passes: f64) -> f64 {
    let bent = passes * slope().powi(2) * structure;
    width_arcsec((0.423 * wave_number().powi(2) * bent).powf(-0.6))
}

fn face(excess_k: f64, speed_m_s: f64, aperture_m: f64) -> FaceAir {
    FaceAir { excess_k, speed_m_s, air_k: AIR_K, aperture_m }
}

/// 0.40 arcsec per K^(6/5): Racine et al. 1991, abstract.
#[test]
fn a_warm_face_blurs_as_measured_at_the_canada_france_hawaii_telescope() {
    for (excess, expected) in
        [(0.5, 0.174_110_112_659), (1.0, 0.4), (2.0, 0.918_958_683_998), (3.0, 1.494_877_127_539)]
    {
        assert_relative_eq!(natural_blur(excess), expected, max_relative = 1e-9);
        assert_relative_eq!(
            face_seeing(&face(excess, 0.0, 0.3)).blur.value,
            expected,
            max_relative = 1e-9
        );
    }
}

/// Free convection from first principles: `C_T²` = 2.68 Q^(4/3) (g/T)^(−2/3) z^(−4/3) with the
/// heat flux Q = h ΔT/(ρ c) (Wyngaard et al. 1971; the constant as Zago 1995 quotes it) from
/// the conducting skin z₀ = k/h outward. Computed elsewhere for both passes through the same
/// eddies and through different ones.
#[test]
fn free_convection_from_first_principles_brackets_what_was_measured() {
    for (excess, same, different) in [
        (0.5, 0.223_363_932, 0.147_365_237),
        (1.0, 0.489_982_281, 0.323_267_748),
        (2.0, 1.074_849_610, 0.709_136_281),
        (4.0, 2.357_843_803, 1.555_596_775),
    ] {
        let buoyancy = GRAVITY / AIR_K;
        let film =
            0.15 * CONDUCTIVITY * (buoyancy * excess / (VISCOSITY * DIFFUSIVITY)).powf(1.0 / 3.0);
        let flux: f64 = film * excess / HEAT_CAPACITY;
        let skin: f64 = CONDUCTIVITY / film;
        let structure =
            3.0 * 2.68 * flux.powf(4.0 / 3.0) * buoyancy.powf(-2.0 / 3.0) * skin.powf(-1.0 / 3.0);
        assert_relative_eq!(width_through(structure, 4.0), same, max_relative = 1e-3);
        assert_relative_eq!(width_through(structure, 2.0), different, max_relative = 1e-3);
        let measured = natural_blur(excess);
        assert!(different < measured && measured < same, "{measured} at {excess} K");
    }
}

/// A neutral layer from first principles: `C_T²` = 4.9 T*² z^(−2/3) (Wyngaard et al. 1971) over
/// the depth of a turbulent boundary layer, T* = ΔT Pr^(−2/3) √(`C_f`/2). Computed elsewhere.
#[test]
fn a_swept_face_blurs_as_the_layer_says_scaled_by_what_still_air_shows() {
    for (speed, expected) in [(0.3, 0.359_811_061), (1.0, 0.296_765_841), (3.0, 0.248_928_436)] {
        let diameter = 0.3;
        let reynolds: f64 = speed * diameter / VISCOSITY;
        let friction: f64 = 0.0296 * reynolds.powf(-0.2);
        let scale = (VISCOSITY / DIFFUSIVITY).powf(-2.0 / 3.0) * friction.sqrt();
        let depth: f64 = 0.37 * diameter * reynolds.powf(-0.2);
        let width = width_through(3.0 * 4.9 * scale * scale * depth.powf(1.0 / 3.0), 4.0);
        assert_relative_eq!(width, expected, max_relative = 1e-3);
        // Ours is that, scaled as still air was: 0.40 measured for 0.49 derived.
        assert_relative_eq!(
            sheared_blur(1.0, speed, diameter),
            width * 0.40 / 0.49,
            max_relative = 0.02
        );
    }
    assert_relative_eq!(sheared_blur(1.0, 1.0, 0.3), 0.24, max_relative = 1e-12);
}

/// √(g β ΔT D), Incropera section 9.9. The checks take 9.81 for gravity, we 9.80665.
#[test]
fn the_speed_that_drowns_a_warm_faces_draught_is_that_of_the_checks() {
    for (excess, diameter, expected) in
        [(1.0, 0.3, 0.101_949_910), (3.0, 0.3, 0.176_582_424), (1.0, 0.6, 0.144_178_946)]
    {
        let ours = critical_speed(&face(excess, 0.0, diameter));
        let gravity: f64 = 9.81 / 9.806_65;
        assert_relative_eq!(ours * gravity.sqrt(), expected, max_relative = 1e-8);
    }
}

/// 2 |dn/dT| ΔT δ/2 with δ = k/h, at 1 K and 5 W m⁻² K⁻¹: five nanometres. A layer that
/// stands still costs nothing; only what changes in it does.
#[test]
fn a_layer_that_stands_still_is_no_matter() {
    let path = -slope() * CONDUCTIVITY / 5.0;
    assert_relative_eq!(path, 4.986_972e-9, max_relative = 1e-5);
}

/// Noll 1976: 0.134 (D/r₀)^(5/3); RMS and Strehl ratio computed elsewhere.
#[test]
fn a_short_exposure_keeps_the_strehl_ratio_that_noll_gives() {
    for (width, aperture, rms, peak) in [
        (0.4, 0.2, 0.278_258_949, 0.925_493_618),
        (0.4, 0.4, 0.495_801_082, 0.782_063_990),
        (0.8, 0.2, 0.495_801_082, 0.782_063_990),
    ] {
        let variance = variance_without_tilt(width, aperture);
        assert_relative_eq!(variance.sqrt(), rms, max_relative = 1e-6);
        assert_relative_eq!(strehl(variance).unwrap(), peak, max_relative = 1e-6);
        let back = PhaseVariance { value: variance, low: 0.0, high: 2.0 * variance };
        let blur = back.blur(aperture);
        assert_relative_eq!(blur.value, width, max_relative = 1e-12);
        assert_relative_eq!(blur.low, 0.0, max_relative = 1e-12);
        assert_relative_eq!(blur.high, width * 2f64.powf(0.6), max_relative = 1e-12);
    }
}

/// Fried's long exposure exp(−3.44 (λ f/r₀)^(5/3)), transformed here: its width is 0.98 λ/r₀.
#[test]
fn the_width_of_a_long_exposure_is_that_of_its_transfer_function() {
    let intensity = |angle: f64| {
        // In units of λ/r₀; Hankel transform by a plain sum.
        let step = 1e-3;
        (0..2000)
            .map(|i| {
                let f = (f64::from(i) + 0.5) * step;
                (-3.44 * f.powf(5.0 / 3.0)).exp() * bessel_0(TAU * f * angle) * f * step
            })
            .sum::<f64>()
    };
    let half = 0.5 * intensity(0.0);
    let (mut low, mut high) = (0.3, 0.7);
    for _ in 0..30 {
        let middle = 0.5 * (low + high);
        if intensity(middle) > half { low = middle } else { high = middle }
    }
    // The literature gives two digits.
    assert_abs_diff_eq!(2.0 * low, 0.98, epsilon = 0.005);
    assert_relative_eq!(width_arcsec(0.1), 0.98 * 550e-9 / 0.1 * 206_264.806, max_relative = 1e-6);
    assert_relative_eq!(coherence_length(width_arcsec(0.1)), 0.1, max_relative = 1e-12);
}

/// J₀ by its integral.
fn bessel_0(x: f64) -> f64 {
    let count = 64;
    (0..count)
        .map(|i| (x * (PI * (f64::from(i) + 0.5) / f64::from(count)).sin()).cos())
        .sum::<f64>()
        / f64::from(count)
}

/// (6π/5) · 0.0229 (L₀/r₀)^(5/3), by summing von Kármán's spectrum.
#[test]
fn turbulence_of_limited_width_saturates_at_the_sum_of_its_spectrum() {
    let step = 1e-3;
    let sum: f64 = (0..400_000)
        .map(|i| {
            let f = (f64::from(i) + 0.5) * step;
            TAU * f * 0.0229 * (f * f + 1.0).powf(-11.0 / 6.0) * step
        })
        .sum();
    // What lies beyond 400 is 10⁻⁴ of it.
    let width = width_arcsec(1.0);
    assert_relative_eq!(saturated_variance(width, 1.0), sum, max_relative = 1e-3);
    // The layer at 1 m/s over 0.3 m, 15 mm deep: the core of the image survives.
    let faint = saturated_variance(0.2968, 0.015_15);
    assert_relative_eq!(faint, 4.3e-4, max_relative = 0.05);
}

#[test]
fn a_face_colder_than_the_air_makes_no_seeing_and_says_so() {
    let slightly = face_seeing(&face(-0.4, 0.0, 0.3));
    assert_eq!((slightly.blur, slightly.state), (Blur::NONE, FaceState::Measured));
    let much = face_seeing(&face(-1.4, 0.5, 0.3));
    assert_eq!((much.variance, much.state), (PhaseVariance::NONE, FaceState::Cold));
    assert_eq!(face_seeing(&face(6.0, 0.0, 0.3)).state, FaceState::Extrapolated);
    assert_eq!(face_seeing(&face(1.0, 6.0, 0.3)).state, FaceState::Extrapolated);
}

#[test]
fn a_draught_never_makes_a_warm_face_worse_and_every_band_is_in_order() {
    for diameter in [0.1, 0.3, 0.8] {
        for excess in [0.01, 0.3, 1.0, 4.0] {
            let mut before = f64::INFINITY;
            for speed in [0.0, 1e-6, 0.01, 0.05, 0.1, 0.3, 1.0, 3.0] {
                let seeing = face_seeing(&face(excess, speed, diameter));
                let Blur { value, low, high } = seeing.blur;
                assert!(0.0 <= low && low < value && value < high, "{seeing:?} at {speed}");
                let PhaseVariance { value: phase, low, high } = seeing.variance;
                assert!(0.0 <= low && low < phase && phase < high, "{seeing:?} at {speed}");
                assert!(value <= before * (1.0 + 1e-12), "{value} after {before} at {speed}");
                before = value;
            }
        }
    }
}

#[test]
fn blurs_add_by_their_five_thirds_power() {
    let one = Blur { value: 1.0, low: 0.5, high: 2.0 };
    let two = Blur::together(&[one, one]);
    assert_relative_eq!(two.value, 2f64.powf(0.6), max_relative = 1e-12);
    assert_relative_eq!(two.high, 2.0 * 2f64.powf(0.6), max_relative = 1e-12);
    assert_eq!(Blur::together(&[]), Blur::NONE);
}

/// A pencil of light straight up through a wide column: only the way up counts twice.
fn pencil(turn_m: f64) -> Beam {
    Beam { inner_radius_m: 0.0, outer_radius_m: 1.0, focal_length_m: f64::INFINITY, turn_m }
}

/// k² (dn/dT)² T′² 2 L L₀ at L = 1.2 m, L₀ = 0.1 m: 0.007, 0.11, 0.70, 2.8 rad² for 0.05, 0.2,
/// 0.5 and 1 K, closed form. On an aperture of 100 eddies nothing goes into tilt, and a path of
/// 12 eddies lacks the 12th part at its ends.
#[test]
fn one_pass_through_a_warm_column_has_the_variance_of_the_closed_form() {
    for (excess, expected) in [(0.05, 0.007), (0.2, 0.11), (0.5, 0.70), (1.0, 2.8)] {
        let column = slices(12, 1.2, excess, 0.2);
        // A beam that is all within the column, and comes back elsewhere.
        let beam = Beam { outer_radius_m: 0.05, ..pencil(0.0) };
        let seen = column_seeing(&column, &beam, slope()).value;
        let whole = seen / left_by_tilt(1.0) / (1.0 - (1.0 - (-12f64).exp()) / 12.0);
        assert_relative_eq!(whole, expected, max_relative = 0.05);
        let exact = (wave_number() * slope() * 0.3 * excess).powi(2) * 2.0 * 1.2 * 0.1;
        assert_relative_eq!(whole, exact, max_relative = 1e-9);
    }
}

fn slices(count: u32, length: f64, excess_k: f64, diameter_m: f64) -> Vec<Slice> {
    let thickness_m = length / f64::from(count);
    (0..count)
        .map(|i| Slice {
            height_m: (f64::from(i) + 0.5) * thickness_m,
            thickness_m,
            excess_k,
            diameter_m,
        })
        .collect()
}

/// Light that comes back on its own way meets the same eddies: the phase doubles, its variance
/// is fourfold. Light that comes back elsewhere meets others: twofold.
#[test]
fn the_same_eddies_count_four_times_and_others_twice() {
    let column = slices(20, 1.0, 1.0, 4.0);
    let once = column_seeing(&column, &pencil(0.0), slope()).value;
    let back = column_seeing(&column, &pencil(2.0), slope()).value;
    assert_relative_eq!(back / once, 4.0, max_relative = 1e-9);
}

/// f = 1.2 m, an aperture of 0.4 m with an obstruction of 0.1 m, and a column of 1 m to a
/// height of 1 m: every ray and every height summed as eqs. S-17 to S-19 have them.
#[test]
fn a_converging_beam_meets_eddies_less_and_less_alike() {
    let beam = Beam { inner_radius_m: 0.05, outer_radius_m: 0.2, focal_length_m: 1.2, turn_m: 2.0 };
    let column = slices(40, 1.0, 1.0, 1.0);
    let both = column_seeing(&column, &beam, slope()).value;
    let there = column_seeing(&column, &Beam { turn_m: 0.0, ..beam }, slope()).value;
    let (eddy, down) = (0.5, left_by_tilt(0.4 / 0.5));
    let mut expected = 0.0;
    for j in 0..400 {
        let height = (f64::from(j) + 0.5) / 400.0;
        let up = left_by_tilt(0.4 * (1.0 - height / 1.2) / 0.5);
        let (mut sum, mut area) = (0.0, 0.0);
        for i in 0..100 {
            let radius = 0.05 + 0.15 * (f64::from(i) + 0.5) / 100.0;
            sum += radius * coherence(radius * height / 1.2 / eddy);
            area += radius;
        }
        expected += (1.0 + up / down + 2.0 * (up / down).sqrt() * sum / area) / 400.0;
    }
    assert_relative_eq!(both / there, expected, max_relative = 1e-3);
    assert!(expected > 1.5 && expected < 4.0, "{expected}");
}

/// Correlation of two parallel paths: ∫ exp(−√(x² + s²)) dx over ∫ exp(−|x|) dx, by a plain sum.
#[test]
fn parallel_paths_agree_as_the_sum_over_all_their_points_says() {
    for apart in [0.0_f64, 0.1, 0.36, 1.0, 2.0, 4.0] {
        let step = 1e-3;
        let sum: f64 = (0..40_000)
            .map(|i| {
                let x = (f64::from(i) + 0.5) * step;
                (-(x * x + apart * apart).sqrt()).exp() * step
            })
            .sum();
        assert_abs_diff_eq!(coherence(apart), sum, epsilon = 0.019);
    }
}

/// The variance of such a phase less mean and tilt, as a plain sum over pairs of points of a
/// disc.
#[test]
fn what_tilt_leaves_is_the_sum_over_all_pairs_of_points() {
    for sizes in [0.25, 0.5, 1.0, 2.0, 4.0, 8.0] {
        let (rings, angles) = (16, 64);
        let (mut mean, mut tilt) = (0.0, 0.0);
        let radius = |ring: i32| ((f64::from(ring) + 0.5) / f64::from(rings)).sqrt();
        for (first, second) in (0..rings).flat_map(|i| (0..rings).map(move |j| (i, j))) {
            let (r, s) = (radius(first), radius(second));
            for step in 0..angles {
                let turn = (TAU * (f64::from(step) + 0.5) / f64::from(angles)).cos();
                let apart = 0.5 * sizes * (r * r + s * s - 2.0 * r * s * turn).max(0.0).sqrt();
                let weight = path_agreement(apart) / f64::from(rings * rings * angles);
                mean += weight;
                tilt += 4.0 * r * s * turn * weight;
            }
        }
        // Points at rings of equal area: a few tenths of a percent of the whole variance.
        assert_abs_diff_eq!(left_by_tilt(sizes), 1.0 - mean - tilt, epsilon = 0.02);
        if sizes >= 1.0 {
            assert_relative_eq!(left_by_tilt(sizes), 1.0 - mean - tilt, max_relative = 0.06);
        }
    }
}

/// u K₁(u) = ∫₁^∞ … by x = sinh t: ∫ u cosh t exp(−u cosh t) dt.
fn path_agreement(u: f64) -> f64 {
    if u < 1e-6 {
        return 1.0;
    }
    let step = 0.05;
    (0..400)
        .map(|i| {
            let cosh = ((f64::from(i) + 0.5) * step).cosh();
            u * cosh * (-u * cosh).exp() * step
        })
        .sum()
}

#[test]
fn a_column_behind_the_secondary_is_seen_only_by_light_that_comes_back() {
    let beam = Beam { inner_radius_m: 0.05, outer_radius_m: 0.2, focal_length_m: 1.0, turn_m: 0.8 };
    let hidden = slices(16, 0.8, 1.0, 0.08);
    let down = column_seeing(&hidden, &Beam { turn_m: 0.0, ..beam }, slope());
    assert_eq!(down, PhaseVariance::NONE);
    // Coming back, light from a radius of 0.05 m enters a column of 0.04 m radius at 0.2 m.
    let low: Vec<Slice> = hidden.iter().copied().filter(|slice| slice.height_m < 0.19).collect();
    assert_eq!(column_seeing(&low, &beam, slope()), PhaseVariance::NONE);
    assert!(column_seeing(&hidden, &beam, slope()).value > 0.0, "seen higher up");
    // Unobstructed, the narrow column is seen by a share of the pupil: more in all.
    let open = Beam { inner_radius_m: 0.0, ..beam };
    let (seen, all) =
        (column_seeing(&hidden, &beam, slope()), column_seeing(&hidden, &open, slope()));
    assert!(seen.value < all.value, "{seen:?} {all:?}");
    assert_relative_eq!(all.high / all.low, 9.0, max_relative = 1e-12);
}

#[test]
fn no_column_and_no_width_are_no_seeing() {
    assert_eq!(column_seeing(&[], &pencil(1.0), slope()), PhaseVariance::NONE);
    let thread = slices(4, 1.0, 1.0, 0.0);
    assert_eq!(column_seeing(&thread, &pencil(1.0), slope()), PhaseVariance::NONE);
    let slow = PhaseVariance::NONE + PhaseVariance { value: 1.0, low: 0.3, high: 3.0 };
    assert_relative_eq!(slow.high, 3.0, max_relative = 1e-12);
}
