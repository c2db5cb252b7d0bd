//! Numbers read off a temperature field.

use evenglass_disc::{FaceName, Grid};
use evenglass_units::Length;

/// A weighted sum over grid points.
#[derive(Debug, Clone)]
pub(crate) struct Probe(Vec<(usize, f64)>);

impl Probe {
    pub(crate) fn read(&self, field: &[f64]) -> f64 {
        self.0.iter().map(|&(point, weight)| weight * field[point]).sum()
    }

    /// The points it needs.
    pub(crate) fn terms(&self) -> &[(usize, f64)] {
        &self.0
    }
}

/// Everything the history reads.
#[derive(Debug)]
pub(crate) struct Probes {
    pub(crate) front_centre: Probe,
    pub(crate) front_edge: Probe,
    pub(crate) mid_centre: Probe,
    pub(crate) mid_edge: Probe,
    pub(crate) back_centre: Probe,
    pub(crate) back_edge: Probe,
    pub(crate) mean: Probe,
    pub(crate) front_mean: Probe,
    shape: (usize, usize),
    radii: Vec<f64>,
    heights: Vec<f64>,
}

impl Probes {
    pub(crate) fn new(grid: &Grid) -> Self {
        let section = grid.section();
        let place = |radius: f64, fraction: f64| {
            let height = fraction * section.thickness(radius);
            Probe(grid.interpolation(Length::from_metres(radius), Length::from_metres(height)))
        };
        let (inner, outer) = (section.inner_radius(), section.outer_radius());
        Self {
            front_centre: place(inner, 1.0),
            front_edge: place(outer, 1.0),
            mid_centre: place(inner, 0.5),
            mid_edge: place(outer, 0.5),
            back_centre: place(inner, 0.0),
            back_edge: place(outer, 0.0),
            mean: Probe(grid.volume_shares().collect()),
            front_mean: Probe(grid.face_shares(FaceName::Front)),
            shape: grid.shape(),
            radii: grid.radii().to_vec(),
            heights: grid.heights().into_iter().collect(),
        }
    }

    /// Warmest minus coldest point of the glass, between the grid's points too:
    /// from the extreme point the field is followed by a parabola in each direction.
    pub(crate) fn spread(&self, field: &[f64]) -> f64 {
        let (mut low, mut high) = (0, 0);
        for (n, &value) in field.iter().enumerate() {
            if value < field[low] {
                low = n;
            }
            if value > field[high] {
                high = n;
            }
        }
        (field[high] + self.overshoot(field, high, 1.0))
            - (field[low] - self.overshoot(field, low, -1.0))
    }

    /// How far the field rises (`sign` 1) or falls (-1) beyond an extreme point.
    fn overshoot(&self, field: &[f64], point: usize, sign: f64) -> f64 {
        let (columns, levels) = self.shape;
        let (column, level) = (point / levels, point % levels);
        let mut beyond = 0.0;
        if column > 0 && column + 1 < columns {
            let at = [column - 1, column, column + 1];
            beyond +=
                vertex(at.map(|c| self.radii[c]), at.map(|c| sign * field[c * levels + level]));
        }
        if level > 0 && level + 1 < levels {
            let at = [level - 1, level, level + 1].map(|l| column * levels + l);
            beyond += vertex(at.map(|n| self.heights[n]), at.map(|n| sign * field[n]));
        }
        beyond
    }
}

/// How much the parabola through three points rises above the middle one,
/// which is the highest of them.
fn vertex(x: [f64; 3], y: [f64; 3]) -> f64 {
    let left = (y[1] - y[0]) / (x[1] - x[0]);
    let right = (y[2] - y[1]) / (x[2] - x[1]);
    let curvature = (right - left) / (x[2] - x[0]);
    let slope = left + curvature * (x[1] - x[0]);
    if curvature < 0.0 { -0.25 * slope * slope / curvature } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::vertex;
    use approx::assert_abs_diff_eq;

    #[test]
    fn a_parabola_between_the_points_is_found_exactly() {
        let x = [0.0, 1.0, 3.0];
        let y = x.map(|x: f64| 5.0 - 2.0 * (x - 1.3).powi(2));
        assert_abs_diff_eq!(y[1] + vertex(x, y), 5.0, epsilon = 1e-12);
        assert_eq!(vertex(x, [1.0, 1.0, 1.0]), 0.0);
    }
}
