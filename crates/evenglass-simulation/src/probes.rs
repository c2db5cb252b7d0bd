//! Numbers read off a temperature field.

use evenglass_disc::{FaceName, Grid, Line};
use evenglass_units::Length;

/// Steps for each cell in which the field is followed between the points.
const FINENESS: usize = 4;

/// A weighted sum over grid points.
#[derive(Debug, Clone)]
pub(crate) struct Probe(Vec<(usize, f64)>);

impl Probe {
    pub(crate) fn read(&self, field: &[f64]) -> f64 {
        self.0.iter().map(|&(point, weight)| weight * field[point]).sum()
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
    levels: usize,
    columns: usize,
    radial: Vec<Line>,
    axial: Vec<Line>,
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
            levels: grid.shape().1,
            columns: grid.shape().0,
            radial: grid.radial_lines(FINENESS),
            axial: grid.axial_lines(FINENESS),
        }
    }

    /// Coldest of the points of the front.
    ///
    /// * `unevenness` — by how much each is colder somewhere around the axis than in the mean;
    ///   empty for round glass
    pub(crate) fn front_coldest(&self, field: &[f64], unevenness: &[f64]) -> f64 {
        let top = self.levels - 1;
        let mean = |column: usize| field[column * self.levels + top];
        let around = |column: usize| unevenness.get(column).copied().unwrap_or(0.0);
        (0..self.columns).map(|n| mean(n) - around(n)).fold(f64::INFINITY, f64::min)
    }

    /// Largest departure from the mean around the axis at the points of the front \[K\], of the
    /// sizes of every order at every point.
    pub(crate) fn front_unevenness(&self, sizes: impl Iterator<Item = Vec<f64>>) -> Vec<f64> {
        let mut sum = vec![];
        for size in sizes {
            sum.resize(self.columns, 0.0);
            for (n, sum) in sum.iter_mut().enumerate() {
                *sum += size[n * self.levels + self.levels - 1];
            }
        }
        sum
    }

    /// Warmest minus coldest point of the glass, between the grid's points too:
    /// from the extreme point the field is climbed along the radius and through
    /// the thickness.
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
        field[high] + self.overshoot(field, high, 1.0) - field[low]
            + self.overshoot(field, low, -1.0)
    }

    /// How far the field rises (`sign` 1) or falls (-1) beyond an extreme point.
    fn overshoot(&self, field: &[f64], point: usize, sign: f64) -> f64 {
        let (column, level) = (point / self.levels, point % self.levels);
        let along = |c: usize| sign * field[c * self.levels + level];
        let up = |l: usize| sign * field[column * self.levels + l];
        climb(&self.radial, column, along) + climb(&self.axial, level, up)
    }
}

/// How far the values along a line rise above that of its highest point, which
/// is point `top`: sample by sample uphill, then a parabola.
fn climb(lines: &[Line], top: usize, value: impl Fn(usize) -> f64) -> f64 {
    let start = value(top);
    let mut best = start;
    for line in lines.iter().filter(|l| (l.first..l.first + l.point.len()).contains(&top)) {
        let last = line.place.len() - 1;
        let at = |place: usize| -> f64 {
            let weights = line.weight[place].iter().enumerate();
            weights.map(|(i, weight)| weight * value(line.first + i)).sum()
        };
        let own = line.point[top - line.first];
        // The place next to the point; rounding to it is what the climb is for.
        let mut place = line.place.partition_point(|&p| p < own).min(last);
        let mut here = at(place);
        let direction = if place < last && at(place + 1) > here { 1 } else { -1 };
        while let Some(next) = place.checked_add_signed(direction).filter(|&next| next <= last) {
            let there = at(next);
            if there <= here {
                break;
            }
            (place, here) = (next, there);
        }
        best = best.max(here);
        if place > 0 && place < last {
            let around = [place - 1, place, place + 1];
            let rise = vertex(around.map(|p| line.place[p]), around.map(at));
            best = best.max(here + rise);
        }
    }
    best - start
}

/// How much the parabola through three points rises above the middle one.
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
        assert_abs_diff_eq!(vertex(x, [1.0, 1.0, 1.0]), 0.0);
    }
}
