//! Mirrors with a temperature given as a formula, and their figure in nanometres.

use evenglass_optics::{Blank, Deflection, Front, LopsidedFit, MeshSize, RoundFit};
use ndarray::Array1;

/// Radius of the rim of the mirrors of the tables \[m\].
pub(crate) const RIM: f64 = 0.2;
/// Thickness at their rim \[m\].
pub(crate) const EDGE: f64 = 0.05;
/// Expansion of soda-lime glass \[1/K\] times nanometres in a metre.
pub(crate) const EXPANSION: f64 = 9.0e-6 * 1e9;
/// Poisson's ratio of soda-lime glass in the tables.
pub(crate) const POISSON: f64 = 0.22;

/// Elements at which the tables' last digits have settled.
pub(crate) const FINE: MeshSize = MeshSize { radial: 40, axial: 12 };

/// The mirror of the tables, 400 mm with an edge of 50 mm.
pub(crate) fn flat() -> Blank {
    Blank { outer_radius_m: RIM, inner_radius_m: 0.0, edge_thickness_m: EDGE, curvature_per_m: 0.0 }
}

/// The same with a paraboloid of this focal ratio.
pub(crate) fn curved(focal_ratio: f64) -> Blank {
    Blank { curvature_per_m: 1.0 / (4.0 * focal_ratio * RIM), ..flat() }
}

/// The same with a hole.
pub(crate) fn holed(blank: Blank, inner_radius_m: f64) -> Blank {
    Blank { inner_radius_m, ..blank }
}

/// A figure at the nodes of the front.
pub(crate) struct Figure {
    pub(crate) order: usize,
    pub(crate) radii: Vec<f64>,
    /// \[nm\]
    pub(crate) profile: Vec<f64>,
}

/// The figure of soda-lime glass at a temperature \[K\] over radius and height \[m\].
pub(crate) fn figure(
    blank: &Blank,
    size: MeshSize,
    order: usize,
    temperature: impl Fn(f64, f64) -> f64,
) -> Figure {
    let deflection = Deflection::new(blank, size, POISSON, order).unwrap();
    from(&deflection, temperature)
}

/// The same from an influence that is there.
pub(crate) fn from(deflection: &Deflection, temperature: impl Fn(f64, f64) -> f64) -> Figure {
    let kelvins: Array1<f64> =
        deflection.temperature_points().iter().map(|&(r, z)| temperature(r, z)).collect();
    Figure {
        order: deflection.order(),
        radii: deflection.front_radii().to_vec(),
        profile: (EXPANSION * deflection.influence().dot(&kelvins)).to_vec(),
    }
}

impl Figure {
    /// Height at a radius \[m\], by the parabola of its element.
    pub(crate) fn at(&self, radius: f64) -> f64 {
        let last = self.radii.len() - 3;
        let start = self.radii.iter().rposition(|&known| known <= radius).unwrap() / 2 * 2;
        let start = start.min(last);
        let (r, u) = (&self.radii[start..start + 3], &self.profile[start..start + 3]);
        let share = |i: usize, j: usize, k: usize| {
            (radius - r[j]) * (radius - r[k]) / ((r[i] - r[j]) * (r[i] - r[k]))
        };
        share(0, 1, 2) * u[0] + share(1, 0, 2) * u[1] + share(2, 0, 1) * u[2]
    }

    /// Height above the innermost node.
    pub(crate) fn above_centre(&self, radius: f64) -> f64 {
        self.at(radius) - self.profile[0]
    }

    /// Best focus and what it leaves, in nanometres.
    pub(crate) fn round(&self) -> RoundFit {
        Front::new(&self.radii).round(&self.profile)
    }

    /// Coma, astigmatism, trefoil, in nanometres.
    pub(crate) fn lopsided(&self) -> LopsidedFit {
        Front::new(&self.radii).lopsided(self.order, &self.profile)
    }
}

/// Asserts that a value differs by no more than a share of it, or a picometre.
#[track_caller]
pub(crate) fn assert_within(share: f64, value: f64, expected: f64, what: &str) {
    let gap = (value - expected).abs();
    let most = (share * expected.abs()).max(1e-3);
    assert!(gap <= most, "{what}: {value}, expected {expected}, off by {gap:.2e}, most {most:.2e}");
}
