//! Lines of equal value on a grid of points that follow the glass.

use std::collections::{BTreeMap, BTreeSet};

use ndarray::Array2;

use crate::plot::glass::Place;

/// An edge of the grid: the point it starts from, and whether it runs outward or upward.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Edge {
    radial: usize,
    axial: usize,
    way: Way,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Way {
    Outward,
    Upward,
}

/// Lines on which `value` equals `level`, by marching squares, linear along the grid's edges.
///
/// * `radius` – `[radial points]`
/// * `height`, `value` – `[radial points, axial points]`
pub(super) fn lines(
    radius: &[f64],
    height: &Array2<f64>,
    value: &Array2<f64>,
    level: f64,
) -> Vec<Vec<Place>> {
    let (radial, axial) = value.dim();
    let mut links: BTreeMap<Edge, Vec<Edge>> = BTreeMap::new();
    for i in 0..radial.saturating_sub(1) {
        for j in 0..axial.saturating_sub(1) {
            for (a, b) in crossings(value, (i, j), level) {
                links.entry(a).or_default().push(b);
                links.entry(b).or_default().push(a);
            }
        }
    }
    let place = |edge: Edge| {
        let (i, j) = (edge.radial, edge.axial);
        let (k, l) = match edge.way {
            Way::Outward => (i + 1, j),
            Way::Upward => (i, j + 1),
        };
        let share = (level - value[[i, j]]) / (value[[k, l]] - value[[i, j]]);
        let between = |a: f64, b: f64| a + share * (b - a);
        (between(radius[i], radius[k]), between(height[[i, j]], height[[k, l]]))
    };
    chains(&links).into_iter().map(|chain| chain.into_iter().map(place).collect()).collect()
}

/// The pieces of the line inside one cell, each from edge to edge.
fn crossings(value: &Array2<f64>, (i, j): (usize, usize), level: f64) -> Vec<(Edge, Edge)> {
    let corners = [value[[i, j]], value[[i + 1, j]], value[[i + 1, j + 1]], value[[i, j + 1]]];
    let above = corners.map(|v| v > level);
    let edge = |radial, axial, way| Edge { radial, axial, way };
    // In the order bottom, outer side, top, inner side; side k joins corners k and k + 1.
    let sides = [
        edge(i, j, Way::Outward),
        edge(i + 1, j, Way::Upward),
        edge(i, j + 1, Way::Outward),
        edge(i, j, Way::Upward),
    ];
    let crossed: Vec<usize> = (0..4).filter(|&k| above[k] != above[(k + 1) % 4]).collect();
    match crossed[..] {
        [a, b] => vec![(sides[a], sides[b])],
        [_, _, _, _] => {
            // A saddle: the middle decides which corners belong together.
            let middle = corners.iter().sum::<f64>() / 4.0 > level;
            if middle == above[0] {
                vec![(sides[0], sides[1]), (sides[2], sides[3])]
            } else {
                vec![(sides[3], sides[0]), (sides[1], sides[2])]
            }
        }
        _ => Vec::new(),
    }
}

/// Edges linked to one another as chains, open ones first.
fn chains(links: &BTreeMap<Edge, Vec<Edge>>) -> Vec<Vec<Edge>> {
    let mut seen = BTreeSet::new();
    let ends = links.iter().filter(|(_, next)| next.len() == 1).map(|(edge, _)| *edge);
    let mut all = Vec::new();
    for start in ends.chain(links.keys().copied()) {
        if !seen.insert(start) {
            continue;
        }
        let mut chain = vec![start];
        let mut at = start;
        while let Some(&next) = links[&at].iter().find(|next| !seen.contains(*next)) {
            seen.insert(next);
            chain.push(next);
            at = next;
        }
        if chain.len() > 2 && links[&at].contains(&start) {
            chain.push(start);
        }
        all.push(chain);
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grid(value: impl Fn(f64, f64) -> f64) -> (Vec<f64>, Array2<f64>, Array2<f64>) {
        let radius: Vec<f64> = (0..21).map(|i| 0.1 * f64::from(i)).collect();
        let at = |j: usize| 0.1 * f64::from(u32::try_from(j).unwrap());
        let height = Array2::from_shape_fn((21, 21), |(_, j)| at(j));
        let field = Array2::from_shape_fn((21, 21), |(i, j)| value(radius[i], at(j)));
        (radius, height, field)
    }

    #[test]
    fn a_linear_field_gives_one_straight_line_where_it_belongs() {
        let (r, z, v) = grid(|r, z| r + 2.0 * z);
        let found = lines(&r, &z, &v, 2.05);
        assert_eq!(found.len(), 1, "one line");
        assert!(found[0].iter().all(|(r, z)| (r + 2.0 * z - 2.05).abs() < 1e-12), "exactly there");
        let (first, last) = (found[0][0], found[0][found[0].len() - 1]);
        assert!((first.1 - last.1).abs() > 0.9, "from side to side");
    }

    #[test]
    fn a_hill_gives_a_closed_ring() {
        let (r, z, v) = grid(|r, z| -((r - 1.0).powi(2) + (z - 1.0).powi(2)));
        let found = lines(&r, &z, &v, -0.3);
        assert_eq!(found.len(), 1, "one ring");
        assert_eq!(found[0].first(), found[0].last(), "it closes");
        // A chord of the 0.1 grid lies at most h²/(8 R) inside the circle, plus the linear
        // interpolation of a parabola: h²/4 over the slope 2 R.
        let off = 0.01 / (8.0 * 0.5) + 0.01 / (8.0 * 0.5);
        let radius = 0.3_f64.sqrt();
        let far = found[0].iter().map(|(r, z)| ((r - 1.0).hypot(z - 1.0) - radius).abs());
        assert!(far.fold(0.0, f64::max) < off, "it is the circle");
    }

    #[test]
    fn a_level_outside_the_field_gives_nothing() {
        let (r, z, v) = grid(|r, _| r);
        assert!(lines(&r, &z, &v, 9.0).is_empty(), "no line");
    }
}
