//! The shape of the section, and the temperature at a place in it.

use evenglass_simulation::result::{Field, FieldPoints};
use evenglass_simulation::scenario::scenario::Mirror;
use ndarray::{Array1, Array2};

/// A point of the section: radius and height above the back \[m\].
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

/// Pieces each gap between two of the solver's points is cut into.
const PIECES: u32 = 4;

/// The field on a finer grid, smooth between the solver's points.
///
/// The solver's points carry polynomials of high order; straight lines between them
/// would show as corners in the isotherms. Cubics with the slopes of parabolas
/// through three neighbours keep every given value.
pub(super) fn refined(points: &FieldPoints, field: &Field) -> (FieldPoints, Field) {
    let (radius, height, kelvin) = (&points.radius_m, &points.height_m, &field.temperature_k);
    let (radial, axial) = height.dim();
    if radial < 2 || axial < 2 {
        return (points.clone(), field.clone());
    }
    let radius_m = divided(radius);
    let outward = |values: &Array2<f64>| {
        let mut fine = Array2::zeros((radius_m.len(), axial));
        for (j, column) in values.columns().into_iter().enumerate() {
            let line = smooth(radius, &column.to_vec());
            fine.column_mut(j).assign(&Array1::from(line));
        }
        fine
    };
    let (coarse_height, coarse_kelvin) = (outward(height), outward(kelvin));
    let fine_axial = divided(&coarse_height.row(0).to_vec()).len();
    let mut height_m = Array2::zeros((radius_m.len(), fine_axial));
    let mut temperature_k = height_m.clone();
    for i in 0..radius_m.len() {
        let z = coarse_height.row(i).to_vec();
        let t = smooth(&z, &coarse_kelvin.row(i).to_vec());
        height_m.row_mut(i).assign(&Array1::from(divided(&z)));
        temperature_k.row_mut(i).assign(&Array1::from(t));
    }
    (FieldPoints { radius_m, height_m }, Field { temperature_k, ..field.clone() })
}

/// The positions and the new ones between them.
fn divided(x: &[f64]) -> Vec<f64> {
    let mut fine = Vec::with_capacity(x.len() * PIECES as usize);
    for pair in x.windows(2) {
        for piece in 0..PIECES {
            let share = f64::from(piece) / f64::from(PIECES);
            fine.push(pair[0] + share * (pair[1] - pair[0]));
        }
    }
    fine.extend(x.last());
    fine
}

/// The values at [`divided`] positions, by cubics that pass through every given value.
fn smooth(x: &[f64], y: &[f64]) -> Vec<f64> {
    let slopes: Vec<f64> = (0..x.len()).map(|i| slope(x, y, i)).collect();
    let mut fine = Vec::with_capacity(x.len() * PIECES as usize);
    for i in 0..x.len() - 1 {
        let gap = x[i + 1] - x[i];
        for piece in 0..PIECES {
            let s = f64::from(piece) / f64::from(PIECES);
            let r = 1.0 - s;
            let ends = y[i] * r * r * (1.0 + 2.0 * s) + y[i + 1] * s * s * (1.0 + 2.0 * r);
            fine.push(ends + gap * s * r * (slopes[i] * r - slopes[i + 1] * s));
        }
    }
    fine.extend(y.last());
    fine
}

/// Slope at a point of the parabola through it and its neighbours, the two nearest at an end.
fn slope(x: &[f64], y: &[f64], at: usize) -> f64 {
    let Some(last) = x.len().checked_sub(3) else {
        let gap = x[x.len() - 1] - x[0];
        return if gap > 0.0 { (y[y.len() - 1] - y[0]) / gap } else { 0.0 };
    };
    let i = at.saturating_sub(1).min(last);
    let (g, h) = (x[i + 1] - x[i], x[i + 2] - x[i + 1]);
    if g <= 0.0 || h <= 0.0 {
        return 0.0;
    }
    let (a, b) = ((y[i + 1] - y[i]) / g, (y[i + 2] - y[i + 1]) / h);
    let bend = (b - a) / (g + h);
    a + bend * (2.0 * x[at] - x[i] - x[i + 1])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn dish() -> Surface {
        Surface { inner: 0.0, outer: 0.203, thickness: 0.041, bend: 1.0 / (8.0 * 4.5 * 0.203) }
    }

    fn field(time_s: f64, temperature_k: Array2<f64>) -> Field {
        let (radius_m, round_m, orders) = (vec![], vec![], vec![]);
        let surface = evenglass_simulation::result::Surface { radius_m, round_m, orders };
        Field { time_s, air_k: 280.0, temperature_k, surface }
    }

    #[test]
    fn the_front_is_hollow_by_the_sagitta_of_its_focal_ratio() {
        // r² / (2 R) with r = D / 2 and R = 2 N D is D / (16 N), by geometry.
        let sagitta = 0.406 / (16.0 * 4.5);
        assert!((0.041 - dish().height(0.0) - sagitta).abs() < 1e-12, "{}", dish().height(0.0));
        assert!((dish().height(0.203) - 0.041).abs() < 1e-12, "the rim has the edge thickness");
    }

    #[test]
    fn refining_keeps_the_given_values_and_is_exact_for_parabolas() {
        let surface = dish();
        let radius_m = vec![0.0, 0.01, 0.03, 0.1, 0.2, 0.203];
        let share = [0.0, 0.1, 0.5, 0.8, 1.0];
        let height_m =
            Array2::from_shape_fn((6, 5), |(i, j)| surface.height(radius_m[i]) * share[j]);
        let value = |r: f64, z: f64| 290.0 + 30.0 * r * r - 900.0 * z * z + 5.0 * z;
        let temperature_k =
            Array2::from_shape_fn((6, 5), |(i, j)| value(radius_m[i], height_m[[i, j]]));
        let points = FieldPoints { radius_m, height_m };
        let field = field(7.0, temperature_k);
        let (fine_points, fine) = refined(&points, &field);
        assert_eq!(fine.temperature_k.dim(), (21, 17));
        for (i, &r) in fine_points.radius_m.iter().enumerate() {
            for (z, t) in fine_points.height_m.row(i).iter().zip(fine.temperature_k.row(i)) {
                // The front is hollow by 6 mm: along the radius the field is of fourth order in
                // z, and 1 mK is what its cubic may miss.
                assert!((t - value(r, *z)).abs() < 1e-3, "{t} at {r}, {z}");
            }
        }
        for (i, j) in [(0, 0), (2, 3), (5, 4)] {
            let (kept, given) = (fine.temperature_k[[4 * i, 4 * j]], field.temperature_k[[i, j]]);
            assert!((kept - given).abs() < 1e-9, "{kept} {given}");
        }
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
        let field = field(0.0, temperature_k);
        let read = |r: f64, z: f64| Upward::at(&points, &field, r).temperature(z);
        for (r, z) in [(0.0, 0.0), (0.05, 0.01), (0.11, 0.02), (0.203, 0.041)] {
            assert!((read(r, z) - linear(r, z)).abs() < 1e-9, "at {r}, {z}: {}", read(r, z));
        }
        assert!((read(0.3, 0.01) - linear(0.203, 0.01)).abs() < 1e-9, "beyond the rim");
        assert!((read(0.1, -1.0) - linear(0.1, 0.0)).abs() < 1e-9, "below the back");
    }
}
