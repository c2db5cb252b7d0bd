//! Thin discs bend as plates. The plate formulas are first terms in thickness over radius:
//! what they leave must shrink with it.

use evenglass_optics::{Blank, MeshSize};

use crate::warmed::{EXPANSION, FINE, POISSON, RIM, assert_within, curved, figure, flat};

fn thin(edge_thickness_m: f64) -> Blank {
    Blank { edge_thickness_m, ..flat() }
}

/// A temperature that differs between the faces by (r/a)², nought in the middle.
fn between_faces(thickness: f64, order: i32) -> impl Fn(f64, f64) -> f64 {
    move |r, z| (z / thickness - 0.5) * (r / RIM).powi(order)
}

/// Errors at 10 and 5 mm fall at least `ratio`-fold.
fn assert_fades(errors: [f64; 2], ratio: f64) {
    let [thicker, thinner] = errors.map(f64::abs);
    assert!(thinner * ratio < thicker, "{thicker} at 10 mm, {thinner} at 5 mm");
}

/// Boley and Weiner (1960), from memory: w = −(1+ν) α ΔT r⁴/(16 t a²) − (1−ν) α ΔT r²/(8 t)
/// for a free disc; 6255 nm at the rim of 10 mm. Finite elements of another library:
/// −6244.03 at 10 mm, −12 504.54 at 5, −1196.20 at 50.
#[test]
fn a_gradient_that_grows_outward_bends_a_plate_into_a_fourth_power() {
    let plate = |thickness: f64| {
        -EXPANSION * RIM * RIM / thickness * ((1.0 + POISSON) / 16.0 + (1.0 - POISSON) / 8.0)
    };
    assert_within(1e-9, plate(0.01), -6255.0, "the formula");
    let error = [(0.01, -6244.03), (0.005, -12_504.54)].map(|(thickness, elements)| {
        let blank = thin(thickness);
        let warmed = figure(&blank, FINE, 0, between_faces(thickness, 2));
        assert_within(2e-4, warmed.above_centre(RIM), elements, "another library");
        warmed.above_centre(RIM) / plate(thickness) - 1.0
    });
    assert_fades(error, 3.0);
    let thick = figure(&flat(), FINE, 0, between_faces(0.05, 2));
    assert_within(2e-4, thick.above_centre(RIM), -1196.20, "50 mm");
}

/// Kirchhoff's plate with free edge: w(a) = (1+ν) α ΔT a²/(6 t (3+ν)); a layer of shear along
/// the rim takes a share of the order of t/a. Finite elements of another library: 2200.56
/// at 10 mm, 4469.49 at 5.
#[test]
fn a_saddle_of_gradients_bends_a_plate_into_a_saddle() {
    let plate = |thickness: f64| {
        (1.0 + POISSON) * EXPANSION * RIM * RIM / (6.0 * thickness * (3.0 + POISSON))
    };
    assert_within(1e-9, plate(0.01), 2_273.291_925_47, "the formula");
    let error = [(0.01, 2200.56), (0.005, 4469.49)].map(|(thickness, elements)| {
        let warmed = figure(&thin(thickness), FINE, 2, between_faces(thickness, 2));
        assert_within(3e-4, warmed.at(RIM), elements, "another library");
        warmed.at(RIM) / plate(thickness) - 1.0
    });
    assert_fades(error, 1.8);
}

/// The same plate, order 1: w = −(1+ν) α ΔT r³/(2 t a (3+ν)), whose coma is a third of its
/// rim value over √8.
#[test]
fn a_lopsided_gradient_bends_a_plate_into_coma() {
    let plate = |thickness: f64| {
        let rim = -(1.0 + POISSON) * EXPANSION * RIM * RIM / (2.0 * thickness * (3.0 + POISSON));
        rim / 3.0 / 8.0_f64.sqrt()
    };
    assert_within(1e-3, plate(0.05), -160.7, "the formula");
    let error = [0.01, 0.005].map(|thickness| {
        let warmed = figure(&thin(thickness), FINE, 1, between_faces(thickness, 1));
        warmed.lopsided().coefficient_m / plate(thickness) - 1.0
    });
    assert!(error[0].abs() < 0.03, "{error:?}");
    assert_fades(error, 1.5);
}

/// Timoshenko and Goodier, *Theory of Elasticity*, discs of T(r) in plane stress, from
/// memory: the faces move apart by α t [(1+ν) T − ν T̄], so that T = (r/a)² is pure focus,
/// α (1+ν) t/2 at the rim of the front.
#[test]
fn a_parabola_of_temperature_is_nearly_pure_focus_on_a_flat_disc() {
    let plate = |thickness: f64| 0.5 * EXPANSION * (1.0 + POISSON) * thickness;
    assert_within(1e-9, plate(0.05), 274.5, "the formula");
    let focus = |thickness: f64| {
        let warmed = figure(&thin(thickness), FINE, 0, |r, _| (r / RIM).powi(2));
        warmed.round().defocus_m / plate(thickness) - 1.0
    };
    assert_fades([0.01, 0.005].map(focus), 3.0);
    assert!(focus(0.05).abs() < 1e-3, "{}", focus(0.05));
}

/// Stiffer sideways, a glass lets the same warmth show more: focus goes with 1 + ν.
#[test]
fn poissons_ratio_matters_little_and_as_plane_stress_says() {
    let focus = |poisson_ratio: f64| {
        let size = MeshSize::default();
        let deflection =
            evenglass_optics::Deflection::new(&flat(), size, poisson_ratio, 0).unwrap();
        crate::warmed::from(&deflection, |r, _| (r / RIM).powi(2)).round().defocus_m
    };
    assert_within(1e-3, focus(0.25) / focus(0.17), 1.25 / 1.17, "plane stress");
}

/// r^m cos mθ solves Laplace's equation: in plane stress nothing is strained and the front
/// rises by α T t/2; the flat disc of 50 mm is thick enough to differ by a hundredth.
#[test]
fn a_harmonic_temperature_shows_as_its_own_thickening() {
    for order in [1, 2, 3, 4] {
        let power = i32::try_from(order).unwrap();
        let thickness = 0.002;
        let warmed = figure(&thin(thickness), FINE, order, |r, _| (r / RIM).powi(power));
        let plate = 0.5 * EXPANSION * thickness;
        for part in [0.5_f64, 0.8] {
            let expected = plate * part.powi(power);
            assert_within(5e-4, warmed.at(part * RIM), expected, "inside");
        }
    }
}

/// The curved front is no plate: what a flat disc shows of a parabola of temperature is a
/// twentieth of the error of an f/6, a thirtieth of that of an f/4.
#[test]
fn a_flat_disc_says_little_about_a_mirror() {
    let rms = |blank: &Blank| {
        figure(blank, MeshSize::default(), 0, |r, _| (r / RIM).powi(2)).round().rms_m
    };
    assert!(rms(&curved(6.0)) > 18.0 * rms(&flat()), "f/6");
    assert!(rms(&curved(4.0)) > 30.0 * rms(&flat()), "f/4");
}

/// Noll 11 of ρ^(2k): √5 [6/(k+3) − 6/(k+2) + 1/(k+1)], from its integral over the disc.
fn noll_11(k: f64) -> f64 {
    5.0_f64.sqrt() * (6.0 / (k + 3.0) - 6.0 / (k + 2.0) + 1.0 / (k + 1.0))
}

/// Noll 11 of a shallow bowl of glass at ρ^(2k): its membrane forces times its curvature bend it
/// (eq. E-15), q a⁴ [ρ⁴/(64 (k+1)) − ρ^(2k+4)/((2k+2)² (2k+4)²)].
fn bowl(blank: &Blank, k: f64) -> f64 {
    let thickness = 0.5 * (blank.thickness(0.0) + blank.thickness(RIM));
    let curvature = 0.5 * blank.curvature_per_m;
    let load = 12.0 * (1.0 - POISSON * POISSON) * curvature * EXPANSION / thickness.powi(2);
    let outer = ((2.0 * k + 2.0) * (2.0 * k + 4.0)).powi(2);
    load * RIM.powi(4) * (noll_11(2.0) / (64.0 * (k + 1.0)) - noll_11(k + 2.0) / outer)
}

/// The bowl's share is Noll 11 with the front curved less that of a flat disc.
#[test]
fn a_thin_bowl_bends_by_its_own_membrane_forces() {
    for power in [1, 2] {
        let error = [(0.01, 64.0), (0.005, 256.0)].map(|(thickness, radius)| {
            let spherical = |curvature_per_m: f64| {
                let blank = Blank { curvature_per_m, ..thin(thickness) };
                figure(&blank, FINE, 0, |r, _| (r / RIM).powi(2 * power)).round().spherical_m
            };
            let share = spherical(1.0 / radius) - spherical(0.0);
            let shallow = Blank { curvature_per_m: 1.0 / radius, ..thin(thickness) };
            share / bowl(&shallow, f64::from(power)) - 1.0
        });
        // The depth of the bowl over the thickness is 0.031 and 0.016: the next order.
        assert!(error[1].abs() < 0.04, "{error:?}");
        assert_fades(error, 1.8);
    }
}

/// The argument of the chapter by hand against the elements: 400 × 50 mm in air that falls by
/// 1 K/h, T − T₀ = −A I₀(4 ρ), A = 0.0406 K. Flat: −6.3 nm by (1+ν) α t T/2; f/5: 1.3 nm
/// more by the bowl. Thick glass leaves a twentieth, and a bowl some more.
#[test]
fn a_cold_rim_over_corrects_as_reckoned_by_hand() {
    let amplitude = 1.25 * 10.0 / (10.0 * 11.302 + 20.0 * 9.759);
    // Of I₀(4 ρ): 4^k/(k!)² for ρ^(2k).
    let coefficients: Vec<(f64, f64)> = (1..12)
        .scan(1.0, |term, k| {
            *term *= 4.0 / f64::from(k).powi(2);
            Some((f64::from(k), *term))
        })
        .collect();
    let disc: f64 = coefficients.iter().map(|(k, c)| -c * noll_11(*k)).sum::<f64>()
        * (0.5 * EXPANSION * (1.0 + POISSON) * 0.05 * amplitude);
    assert_within(0.01, disc, -6.3, "the disc by hand");
    let shape = curved(5.0);
    let bowl: f64 = coefficients.iter().map(|(k, c)| -amplitude * c * bowl(&shape, *k)).sum();
    assert_within(0.02, bowl, -1.285, "the bowl by hand");
    let rim = |r: f64, _: f64| {
        let square = (r / RIM).powi(2);
        let sum: f64 = coefficients.iter().map(|(k, c)| c * square.powf(*k)).sum();
        -amplitude * sum
    };
    let flat = figure(&flat(), MeshSize::default(), 0, rim).round().spherical_m;
    assert_within(0.05, flat, disc, "a flat disc");
    let mirror = figure(&shape, MeshSize::default(), 0, rim).round().spherical_m;
    assert_within(0.10, mirror, disc + bowl, "f/5");
    assert!(evenglass_optics::correction_percent(mirror, 4.0, RIM) > 0.0, "over-corrected");
}
