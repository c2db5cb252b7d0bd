//! What is no mirror is refused, with a reason.

use evenglass_optics::{Blank, Deflection, DeflectionError, HIGHEST_ORDER, MeshSize};

use crate::warmed::{POISSON, curved, flat};

fn refusal(blank: &Blank, size: MeshSize, poisson_ratio: f64, order: usize) -> DeflectionError {
    Deflection::new(blank, size, poisson_ratio, order).expect_err("it cannot be solved")
}

#[test]
fn shapes_without_glass_are_refused() {
    for blank in [
        Blank { outer_radius_m: 0.0, ..flat() },
        Blank { inner_radius_m: 0.2, ..flat() },
        Blank { inner_radius_m: -0.01, ..flat() },
        Blank { edge_thickness_m: 0.0, ..flat() },
        // The front dips below the back.
        Blank { edge_thickness_m: 0.006, ..curved(4.0) },
        Blank { edge_thickness_m: f64::NAN, ..flat() },
        Blank { outer_radius_m: f64::INFINITY, ..flat() },
        Blank { curvature_per_m: f64::NAN, ..flat() },
    ] {
        let error = refusal(&blank, MeshSize::default(), POISSON, 0);
        assert!(matches!(error, DeflectionError::Shape { .. }), "{blank:?}: {error}");
        // Whoever asks for a mesh first gets one, not a crash.
        assert!(MeshSize::of(&blank).radial >= 1, "{blank:?}");
    }
}

#[test]
fn other_slips_are_named() {
    let size = MeshSize::default();
    for poisson_ratio in [0.5, -1.0, f64::NAN] {
        let error = refusal(&flat(), size, poisson_ratio, 0);
        assert!(matches!(error, DeflectionError::PoissonRatio(_)), "{error}");
    }
    let error = refusal(&flat(), size, POISSON, HIGHEST_ORDER + 1);
    assert_eq!(error, DeflectionError::Order(5));
    for size in [MeshSize { radial: 0, axial: 5 }, MeshSize { radial: 24, axial: 1_000_000 }] {
        assert_eq!(refusal(&flat(), size, POISSON, 0), DeflectionError::Mesh(size));
    }
}

/// The ends of what a scenario may hold: 20 mm to 2 m, 2 to 500 mm.
#[test]
fn the_smallest_and_the_largest_glass_are_solved() {
    for (outer_radius_m, edge_thickness_m) in [(0.01, 0.002), (1.0, 0.002), (1.0, 0.5), (0.01, 0.5)]
    {
        for inner_radius_m in [0.0, 1e-6, 0.4 * outer_radius_m] {
            let blank =
                Blank { outer_radius_m, inner_radius_m, edge_thickness_m, curvature_per_m: 0.0 };
            for order in [0, 1, 4] {
                let size = MeshSize { radial: 12, axial: 4 };
                let deflection = Deflection::new(&blank, size, POISSON, order).unwrap();
                assert!(
                    deflection.influence().iter().all(|value| value.is_finite()),
                    "{blank:?}, order {order}"
                );
            }
        }
    }
}
