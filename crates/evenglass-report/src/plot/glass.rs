//! The shape of the section, and the temperature at a place in it.

use evenglass_simulation::result::{Field, FieldPoints};
use evenglass_simulation::scenario::scenario::Mirror;

/// A point of the section: radius and height above the back [m].
pub(super) type Place = (f64, f64);

/// The shape of the front.
pub(super) struct Surface {
    /// Radius of the hole, or zero.
    pub(super) inner: f64,
    pub(super) outer: f64,
    pub(super) thickness: f64,
    /// Height = thickness + bend · (r² − outer²).
    bend: f64,
}

impl Surface {
    pub(super) fn of(mirror: &Mirror) -> Self {
        let outer = mirror.diameter.metres() / 2.0;
        // A paraboloid of vertex radius R = 2 · focal ratio · diameter rises by r² / (2 R).
        let bend = mirror.focal_ratio.map_or(0.0, |ratio| 1.0 / (8.0 * ratio * outer));
        let inner = mirror.hole_diameter.map_or(0.0, |hole| hole.metres() / 2.0);
        Self { inner, outer, thickness: mirror.edge_thickness.metres(), bend }
    }

    pub(super) fn height(&self, radius: f64) -> f64 {
        self.thickness + self.bend * (radius * radius - self.outer * self.outer)
    }
}

/// The outline of the glass: one part, or two with a hole between them.
pub(super) fn outline(mirror: &Mirror) -> Vec<Vec<Place>> {
    const PIECES: u32 = 80;
    let surface = Surface::of(mirror);
    let face: Vec<Place> = (0..=PIECES)
        .map(|i| {
            let share = f64::from(i) / f64::from(PIECES);
            let radius = surface.inner + share * (surface.outer - surface.inner);
            (radius, surface.height(radius))
        })
        .collect();
    let mirrored = |part: &[Place]| -> Vec<Place> { part.iter().map(|&(r, z)| (-r, z)).collect() };
    let mut right = face.clone();
    right.extend([(surface.outer, 0.0), (surface.inner, 0.0)]);
    if surface.inner > 0.0 {
        return vec![mirrored(&right), right];
    }
    let mut whole = mirrored(&face);
    whole.reverse();
    whole.extend(&face);
    whole.extend([(surface.outer, 0.0), (0.0, 0.0), (-surface.outer, 0.0)]);
    vec![whole]
}

/// Temperatures along a vertical line through the glass.
pub(super) struct Upward {
    height: Vec<f64>,
    temperature: Vec<f64>,
}

impl Upward {
    /// Between the two radial points around `radius`; held beyond the last ones.
    pub(super) fn at(points: &FieldPoints, field: &Field, radius: f64) -> Self {
        let r = &points.radius_m;
        let after = r.partition_point(|&p| p <= radius).clamp(1, r.len().max(2) - 1);
        let (i, k) = (after - 1, after.min(r.len().saturating_sub(1)));
        let gap = r[k] - r[i];
        let share = if gap > 0.0 { ((radius - r[i]) / gap).clamp(0.0, 1.0) } else { 0.0 };
        let mix = |values: &ndarray::Array2<f64>| {
            let pairs = values.row(i).into_iter().zip(values.row(k));
            pairs.map(|(a, b)| a + share * (b - a)).collect()
        };
        Self { height: mix(&points.height_m), temperature: mix(&field.temperature_k) }
    }

    /// Linear between the points; held beyond them.
    pub(super) fn temperature(&self, height: f64) -> f64 {
        let (z, t) = (&self.height, &self.temperature);
        let after = z.partition_point(|&p| p <= height);
        if after == 0 {
            return t[0];
        }
        if after == z.len() {
            return t[after - 1];
        }
        let share = (height - z[after - 1]) / (z[after] - z[after - 1]);
        t[after - 1] + share * (t[after] - t[after - 1])
    }
}

#[cfg(test)]
mod tests {
    use ndarray::Array2;

    use super::*;

    fn dish() -> Surface {
        Surface { inner: 0.0, outer: 0.203, thickness: 0.041, bend: 1.0 / (8.0 * 4.5 * 0.203) }
    }

    #[test]
    fn the_front_is_hollow_by_the_sagitta_of_its_focal_ratio() {
        // r² / (2 R) with r = D / 2 and R = 2 N D is D / (16 N), by geometry.
        let sagitta = 0.406 / (16.0 * 4.5);
        assert!((0.041 - dish().height(0.0) - sagitta).abs() < 1e-12, "{}", dish().height(0.0));
        assert!((dish().height(0.203) - 0.041).abs() < 1e-12, "the rim has the edge thickness");
    }

    #[test]
    fn a_linear_field_is_read_exactly_between_its_points_and_held_beyond() {
        let surface = dish();
        let radius_m: Vec<f64> = (0..6).map(|i| 0.203 * f64::from(i) / 5.0).collect();
        let share = [0.0, 0.25, 0.5, 0.75, 1.0];
        let height_m =
            Array2::from_shape_fn((6, 5), |(i, j)| surface.height(radius_m[i]) * share[j]);
        let linear = |r: f64, z: f64| 290.0 + 3.0 * r - 40.0 * z;
        let temperature_k =
            Array2::from_shape_fn((6, 5), |(i, j)| linear(radius_m[i], height_m[[i, j]]));
        let points = FieldPoints { radius_m, height_m };
        let field = Field { time_s: 0.0, air_k: 280.0, temperature_k };
        let read = |r: f64, z: f64| Upward::at(&points, &field, r).temperature(z);
        for (r, z) in [(0.0, 0.0), (0.05, 0.01), (0.11, 0.02), (0.203, 0.041)] {
            assert!((read(r, z) - linear(r, z)).abs() < 1e-9, "at {r}, {z}: {}", read(r, z));
        }
        assert!((read(0.3, 0.01) - linear(0.203, 0.01)).abs() < 1e-9, "beyond the rim");
        assert!((read(0.1, -1.0) - linear(0.1, 0.0)).abs() < 1e-9, "below the back");
    }
}
