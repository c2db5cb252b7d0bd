//! Conduction of the parts that go around the axis.

use crate::grid::Grid;
use crate::skyline::Skyline;
use crate::surface::Surface;

impl Grid {
    /// Conduction between the points per unit of conductivity \[m\] for a part of an order
    /// from 1 on: that of the mean + m² ∫ T v / r² dV (docs/physics/conduction.md, eq. K-16).
    ///
    /// On the axis such a part vanishes, and its points there are no unknowns: their rows
    /// and columns are zero. T/r goes to ∂T/∂r there.
    pub(crate) fn conduction_of_order(&self, order: usize) -> Skyline {
        let mesh = &self.mesh;
        let levels = mesh.fraction.len();
        let square = (order * order) as f64;
        let axis = self.axis_points();
        let per_square: Vec<f64> = (self.volume.iter().enumerate())
            .map(
                |(n, volume)| if n < axis { 0.0 } else { volume / mesh.radius[n / levels].powi(2) },
            )
            .collect();
        let mut conduction = self.conduction.clone();
        conduction.add_diagonal(&per_square, square);
        for level in 0..axis {
            let block = &mesh.radial[0];
            let slope = |a: usize| block.points.difference[(0, a)] / block.length;
            for a in 0..=block.order() {
                for b in 0..=a {
                    let value = square * self.volume[level] * slope(a) * slope(b);
                    conduction.add(mesh.index(a, level), mesh.index(b, level), value);
                }
            }
        }
        conduction.clear_first(axis);
        conduction.fill_lanes();
        conduction
    }

    /// The surface as parts around the axis see it: without the points on the axis.
    pub(crate) fn surface_off_axis(&self) -> Surface {
        self.surface.without_first(self.axis_points())
    }

    /// How many of the first points lie on the axis: a column, or none with a hole.
    pub(crate) fn axis_points(&self) -> usize {
        if self.mesh.section.has_hole() { 0 } else { self.mesh.fraction.len() }
    }
}
