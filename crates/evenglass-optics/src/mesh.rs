//! The section of the glass cut into nine-node elements.
//!
//! Elements shrink toward the rim, the hole and both faces, where temperatures and
//! stresses change fastest. Heights are fractions of the local thickness, so that every
//! curved line of the mesh is a paraboloid and the nodes on the front lie on the true one.

use crate::Blank;
use crate::element::{Point, points};

/// Elements along the radius and through the thickness.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MeshSize {
    /// From the axis or the hole to the rim.
    pub radial: usize,
    /// From the back to the front.
    pub axial: usize,
}

impl MeshSize {
    /// What a blank needs for RMS, PV and Noll terms to lie within 0.3 % or 0.15 nm of the
    /// limit of fine meshes, and focus within 0.3 % or 0.5 nm; docs/physics/figure.md shows
    /// the study.
    #[must_use]
    pub fn of(blank: &Blank) -> Self {
        let outer = blank.outer_radius_m;
        let (inside, rim) = (blank.thickness(blank.inner_radius_m), blank.thickness(outer));
        let slimness = outer / inside.min(rim);
        Self {
            radial: elements(18.0 + outer / 0.040 + 0.4 * slimness),
            axial: elements(3.0 + inside.max(rim) / 0.022),
        }
    }
}

impl Default for MeshSize {
    /// What a mirror of some 400 mm × 40 mm, f/4 to f/5, needs.
    fn default() -> Self {
        Self { radial: 26, axial: 5 }
    }
}

/// A whole number of elements, and a sane one for insane shapes.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 1 to 100")]
#[allow(clippy::manual_clamp, reason = "a clamp hands on what is not a number")]
fn elements(wanted: f64) -> usize {
    wanted.ceil().max(1.0).min(100.0) as usize
}

/// How strongly elements shrink toward a rim or hole.
const RADIAL_POWER: f64 = 1.3;

/// Least and greatest power with which elements shrink toward a face.
const AXIAL_POWERS: (f64, f64) = (1.3, 2.5);

/// Thickness of the element on a face that the power is chosen for \[m\]: about the layer
/// that has felt a change of the air after five minutes, √(κ · 300 s) in glass.
const LAYER_M: f64 = 0.01;

/// Nodes and elements of one section; nodes are numbered through the thickness first.
#[derive(Debug, Clone)]
pub(crate) struct Mesh {
    pub(crate) blank: Blank,
    pub(crate) size: MeshSize,
    /// Radii of the node columns \[m\], `[2 radial + 1]`.
    pub(crate) radii: Vec<f64>,
    /// Fractions of the local thickness of the node rows [-], `[2 axial + 1]`.
    pub(crate) fractions: Vec<f64>,
}

impl Mesh {
    pub(crate) fn new(blank: Blank, size: MeshSize) -> Self {
        let (inner, outer) = (blank.inner_radius_m, blank.outer_radius_m);
        let to_hole = if blank.has_hole() { RADIAL_POWER } else { 1.0 };
        let radial = graded(size.radial, to_hole, RADIAL_POWER);
        let mut radii: Vec<f64> =
            radial.iter().map(|part| inner + part * (outer - inner)).collect();
        radii[2 * size.radial] = outer;
        let half = 0.25 * (blank.thickness(inner) + blank.thickness(outer));
        let axial = axial_power(half, size.axial);
        Self { blank, size, radii, fractions: graded(size.axial, axial, axial) }
    }

    /// Nodes through the thickness.
    pub(crate) fn rows(&self) -> usize {
        self.fractions.len()
    }

    pub(crate) fn nodes(&self) -> usize {
        self.radii.len() * self.fractions.len()
    }

    pub(crate) fn node(&self, column: usize, row: usize) -> usize {
        column * self.rows() + row
    }

    /// Radius and height above the back \[m\] of every node, `[nodes]`.
    pub(crate) fn positions(&self) -> Vec<(f64, f64)> {
        let column = |&radius: &f64| {
            let thickness = self.blank.thickness(radius);
            self.fractions.iter().map(move |fraction| (radius, fraction * thickness))
        };
        self.radii.iter().flat_map(column).collect()
    }

    /// Radius and height above the back \[m\] of the Gauss points, element by element.
    pub(crate) fn temperature_points(&self) -> Vec<(f64, f64)> {
        let place = |point: Point| (point.radius, point.height);
        self.elements().flat_map(|corner| points(self, corner)).map(place).collect()
    }

    /// Every element by the node column and row of its inner corner on the back's side.
    pub(crate) fn elements(&self) -> impl Iterator<Item = (usize, usize)> + use<> {
        let MeshSize { radial, axial } = self.size;
        (0..radial).flat_map(move |r| (0..axial).map(move |z| (2 * r, 2 * z)))
    }

    /// Nodes of an element, radius outermost, `[9]`.
    pub(crate) fn element_nodes(&self, (column, row): (usize, usize)) -> [usize; 9] {
        std::array::from_fn(|node| self.node(column + node / 3, row + node % 3))
    }
}

/// The power with which elements shrink toward a face.
fn axial_power(half_thickness: f64, elements: usize) -> f64 {
    let (least, greatest) = AXIAL_POWERS;
    let power = (half_thickness / LAYER_M).ln() / (0.5 * elements as f64).ln();
    // With one element or two there is nothing to grade.
    if elements > 2 { power.clamp(least, greatest) } else { least }
}

/// Corners and middles of `cells` parts of 0 to 1 that shrink toward both ends, each with
/// its power; a power of 1 leaves its end alone, and all shrink toward the other.
fn graded(cells: usize, start_power: f64, end_power: f64) -> Vec<f64> {
    let toward_end = |part: f64, power: f64| 1.0 - (1.0 - part).powf(power);
    let place = |part: f64| {
        if start_power <= 1.0 {
            toward_end(part, end_power)
        } else if part < 0.5 {
            0.5 - 0.5 * toward_end(1.0 - 2.0 * part, start_power)
        } else {
            0.5 + 0.5 * toward_end(2.0 * part - 1.0, end_power)
        }
    };
    let corner = |index: usize| place(index as f64 / cells as f64);
    let middle = |index: usize| 0.5 * (corner(index) + corner(index + 1));
    let point = |index: usize| {
        if index.is_multiple_of(2) { corner(index / 2) } else { middle(index / 2) }
    };
    (0..=2 * cells).map(point).collect()
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;

    use super::*;

    fn blank(inner_radius_m: f64) -> Blank {
        Blank {
            outer_radius_m: 0.2,
            inner_radius_m,
            edge_thickness_m: 0.05,
            curvature_per_m: 1.0 / 3.2,
        }
    }

    #[test]
    fn elements_shrink_toward_rim_faces_and_hole() {
        let size = MeshSize { radial: 9, axial: 6 };
        for inner in [0.0, 0.03] {
            let mesh = Mesh::new(blank(inner), size);
            assert_eq!((mesh.radii.len(), mesh.fractions.len()), (19, 13));
            assert_abs_diff_eq!(mesh.radii[0], inner, epsilon = 0.0);
            assert_abs_diff_eq!(mesh.radii[18], 0.2, epsilon = 0.0);
            assert_abs_diff_eq!(mesh.fractions[12], 1.0, epsilon = 1e-15);
            let width = |index: usize| mesh.radii[2 * index + 2] - mesh.radii[2 * index];
            assert!(width(8) < width(7) && width(7) < width(5), "toward the rim");
            assert_eq!(width(0) < width(3), inner > 0.0, "toward a hole, not an axis");
            let height = |index: usize| mesh.fractions[2 * index + 2] - mesh.fractions[2 * index];
            assert!(height(0) < height(1) && height(1) < height(2), "toward the back");
            assert_abs_diff_eq!(height(0), height(5), epsilon = 1e-15);
        }
    }

    /// Middles halve their elements, or the map to the element would be no parabola.
    #[test]
    fn nodes_lie_on_the_paraboloid_and_in_the_middle() {
        let mesh = Mesh::new(blank(0.0), MeshSize { radial: 4, axial: 3 });
        let positions = mesh.positions();
        assert_eq!(positions.len(), mesh.nodes());
        for column in 0..mesh.radii.len() {
            let (radius, height) = positions[mesh.node(column, mesh.rows() - 1)];
            assert_abs_diff_eq!(height, mesh.blank.thickness(radius), epsilon = 1e-15);
        }
        for corner in (0..8).step_by(2) {
            let [start, middle, end] = [0, 1, 2].map(|step| mesh.radii[corner + step]);
            assert_abs_diff_eq!(middle, 0.5 * (start + end), epsilon = 1e-15);
        }
    }

    #[test]
    fn temperatures_are_wanted_inside_the_glass() {
        let mesh = Mesh::new(blank(0.03), MeshSize { radial: 4, axial: 3 });
        let points = mesh.temperature_points();
        assert_eq!(points.len(), 9 * 12);
        for (radius, height) in points {
            assert!(radius > 0.03 && radius < 0.2, "{radius}");
            assert!(height > 0.0 && height < mesh.blank.thickness(radius), "{height}");
        }
    }

    #[test]
    fn larger_thicker_and_slimmer_mirrors_get_more_elements() {
        let of = |outer_radius_m, edge_thickness_m| {
            let curvature_per_m = 0.0;
            MeshSize::of(&Blank {
                outer_radius_m,
                inner_radius_m: 0.0,
                edge_thickness_m,
                curvature_per_m,
            })
        };
        assert!(of(0.4, 0.05).radial > of(0.2, 0.05).radial, "larger");
        assert!(of(0.2, 0.08).axial > of(0.2, 0.04).axial, "thicker");
        assert!(of(0.2, 0.01).radial > of(0.2, 0.04).radial, "slimmer");
        assert_eq!(of(1.0, 1e-9).radial, 100, "never beyond reason");
    }
}
