//! The mesh against a finer one: across mirrors, and how fast it closes in.

use evenglass_optics::{Blank, Deflection, MeshSize};

use crate::warmed::{Figure, POISSON, RIM, curved, flat, from, holed};

/// The promise: this share, or this much \[nm\].
const SHARE: f64 = 3e-3;
const NANOMETRES: f64 = 0.15;
/// For focus, of which a quarter-wave depth holds λ/8 = 69 nm.
const FOCUS_NANOMETRES: f64 = 0.5;

/// Half as large elements each way: an eighth of the error.
fn finer(MeshSize { radial, axial }: MeshSize) -> MeshSize {
    MeshSize { radial: 2 * radial, axial: 2 * axial }
}

type Temperature = Box<dyn Fn(f64, f64) -> f64>;

/// What remains near a jump of 40 W/m² in the flux through a face, k = 1 W/m/K, at `depth`
/// below it and `along` beyond the jump: the real part of w ln w, faded over the thickness.
fn jump(along: f64, depth: f64, thickness: f64) -> f64 {
    let distance = along.hypot(depth);
    let faded = (-(distance / thickness).powi(2)).exp();
    let angle = depth.atan2(along);
    let rise = along * (distance / thickness).max(1e-9).ln() - depth * angle;
    40.0 / std::f64::consts::PI * rise * faded
}

/// Temperatures \[K\] such as a night brings: layers along the rim, a face and a hole, and
/// films that jump. Of order m around the axis they start with r^m.
fn temperatures(blank: Blank, order: i32) -> Vec<(&'static str, Temperature)> {
    let (a, b) = (blank.outer_radius_m, blank.inner_radius_m);
    let lopsided = move |r: f64| (r / a).powi(order);
    let rim = move |r: f64, width: f64| 2.0 * lopsided(r) * (-(a - r) / width).exp();
    let depth = move |r: f64, z: f64| blank.thickness(r) - z;
    let fields: Vec<(&str, Temperature)> = vec![
        ("a rim layer of 20 mm", Box::new(move |r, _| rim(r, 0.02))),
        ("the same, warmer in front", Box::new(move |r, z| rim(r, 0.02) * z / blank.thickness(r))),
        (
            "layers of 15 mm on front and rim",
            Box::new(move |r, z| {
                2.0 * lopsided(r) * (-depth(r, z) / 0.015).exp() + 0.6 * rim(r, 0.015)
            }),
        ),
        (
            "a jump of the front film at 0.61",
            Box::new(move |r, z| lopsided(r) * jump(r - 0.61 * a, depth(r, z), blank.thickness(r))),
        ),
        (
            "a jump of the front film at 0.87",
            Box::new(move |r, z| lopsided(r) * jump(r - 0.87 * a, depth(r, z), blank.thickness(r))),
        ),
        (
            "a jump of the back film at 0.47",
            Box::new(move |r, z| lopsided(r) * jump(r - 0.47 * a, z, blank.thickness(r))),
        ),
        (
            "a layer of 20 mm on the hole",
            Box::new(
                move |r, _| {
                    if b > 0.0 { 2.0 * lopsided(r) * (-(r - b) / 0.02).exp() } else { 0.0 }
                },
            ),
        ),
    ];
    fields
}

/// Mirrors of three sizes and thicknesses, with the focal ratios and holes given.
fn mirrors(focal_ratios: &[f64], holes: &[f64]) -> Vec<Blank> {
    let mut mirrors = Vec::new();
    for diameter in [0.15, 0.4, 0.8] {
        for slimness in [5.0, 12.0, 25.0] {
            for focal_ratio in focal_ratios {
                for hole in holes {
                    mirrors.push(Blank {
                        outer_radius_m: 0.5 * diameter,
                        inner_radius_m: 0.5 * hole * diameter,
                        edge_thickness_m: diameter / slimness,
                        curvature_per_m: 0.5 / (focal_ratio * diameter),
                    });
                }
            }
        }
    }
    mirrors
}

/// What is published of a figure, in nanometres.
fn published(figure: &Figure) -> Vec<(&'static str, f64)> {
    if figure.order == 0 {
        let fit = figure.round();
        vec![
            ("focus", fit.defocus_m),
            ("RMS", fit.rms_m),
            ("PV", fit.pv_m),
            ("Noll 11", fit.spherical_m),
        ]
    } else {
        let fit = figure.lopsided();
        vec![("Noll term", fit.coefficient_m), ("RMS", fit.rms_m)]
    }
}

fn assert_promise(mirrors: Vec<Blank>, order: usize) {
    for blank in mirrors {
        let solved = |size| Deflection::new(&blank, size, POISSON, order).unwrap();
        let size = MeshSize::of(&blank);
        let (own, limit) = (solved(size), solved(finer(size)));
        for (name, temperature) in temperatures(blank, i32::try_from(order).unwrap()) {
            let pairs = published(&from(&own, &temperature)).into_iter();
            for ((what, value), (_, limit)) in pairs.zip(published(&from(&limit, &temperature))) {
                let gap = (value - limit).abs();
                let least = if what == "focus" { FOCUS_NANOMETRES } else { NANOMETRES };
                assert!(
                    gap <= (SHARE * limit.abs()).max(least),
                    "{blank:?}, order {order}, {name}, {what}: {value}, limit {limit}"
                );
            }
        }
    }
}

#[test]
fn a_mirrors_mesh_is_within_three_thousandths_of_the_limit() {
    assert_promise(mirrors(&[3.0, f64::INFINITY], &[0.0, 0.1]), 0);
    assert_promise(mirrors(&[5.0], &[0.4]), 0);
}

#[test]
fn so_it_is_for_lopsided_temperatures() {
    for order in [1, 2] {
        assert_promise(mirrors(&[3.0], &[0.0]), order);
    }
    for order in 1..=4 {
        assert_promise(vec![curved(4.0), holed(curved(5.0), 0.02)], order);
    }
}

/// The mesh of one size serves mirrors of about 400 mm.
#[test]
fn the_default_is_the_mesh_of_a_mirror_of_400_mm() {
    let blank = Blank { outer_radius_m: 0.203, edge_thickness_m: 0.041, ..curved(4.5) };
    assert_eq!(MeshSize::of(&blank), MeshSize::default());
}

/// Halving the elements divides the error of focus, RMS and PV by eight or more: elements
/// of second degree, displacements of third order.
#[test]
fn errors_fall_with_the_third_power_of_the_elements() {
    let rim_layer = |r: f64, _: f64| (-(RIM - r) / 0.02).exp();
    for blank in [flat(), curved(4.0)] {
        let fit = |radial, axial| {
            let deflection =
                Deflection::new(&blank, MeshSize { radial, axial }, POISSON, 0).unwrap();
            from(&deflection, rim_layer).round()
        };
        let fits = [fit(10, 3), fit(20, 6), fit(40, 12)];
        let limit = fit(80, 24);
        let errors = fits.map(|fit| (fit.rms_m - limit.rms_m).abs());
        assert!(errors[0] > 8.0 * errors[1] && errors[1] > 8.0 * errors[2], "RMS: {errors:?}");
        let errors = fits.map(|fit| (fit.pv_m - limit.pv_m).abs());
        assert!(errors[0] > 4.0 * errors[1] && errors[1] > 4.0 * errors[2], "PV: {errors:?}");
    }
}
