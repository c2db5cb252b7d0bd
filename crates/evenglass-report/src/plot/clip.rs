//! The parts of a curve that lie inside a panel.

use crate::plot::scale::Range;

/// The pieces of a line through `points` whose second numbers lie in the range, cut where they
/// leave it; a number that is not finite ends a piece.
pub(super) fn pieces(points: &[(f64, f64)], range: Range) -> Vec<Vec<(f64, f64)>> {
    let mut all: Vec<Vec<(f64, f64)>> = Vec::new();
    let mut piece: Vec<(f64, f64)> = Vec::new();
    let mut last: Option<(f64, f64)> = None;
    for &point in points {
        if !(point.0.is_finite() && point.1.is_finite()) {
            all.push(std::mem::take(&mut piece));
            last = None;
            continue;
        }
        if let Some(before) = last
            && let Some((from, to)) = cut(before, point, range)
        {
            if piece.last().is_none_or(|end| !same(*end, from)) {
                all.push(std::mem::take(&mut piece));
                piece.push(from);
            }
            piece.push(to);
        } else if last.is_none() && inside(point, range) {
            piece.push(point);
        }
        last = Some(point);
    }
    all.push(piece);
    all.retain(|piece| !piece.is_empty());
    all
}

/// The points with their second numbers moved to the nearest end of the range they leave.
pub(super) fn held(points: impl IntoIterator<Item = (f64, f64)>, range: Range) -> Vec<(f64, f64)> {
    let finite = points.into_iter().filter(|p| p.0.is_finite() && !p.1.is_nan());
    finite.map(|(x, y)| (x, y.clamp(range.low, range.high))).collect()
}

fn inside(point: (f64, f64), range: Range) -> bool {
    (range.low..=range.high).contains(&point.1)
}

fn same(a: (f64, f64), b: (f64, f64)) -> bool {
    a.0.total_cmp(&b.0).is_eq() && a.1.total_cmp(&b.1).is_eq()
}

/// What of a straight piece lies inside, from and to.
fn cut(a: (f64, f64), b: (f64, f64), range: Range) -> Option<((f64, f64), (f64, f64))> {
    let at = |share: f64| (a.0 + share * (b.0 - a.0), a.1 + share * (b.1 - a.1));
    let rise = b.1 - a.1;
    if rise.abs() < f64::MIN_POSITIVE {
        return inside(a, range).then_some((a, b));
    }
    let (low, high) = ((range.low - a.1) / rise, (range.high - a.1) / rise);
    let (from, to) = (low.min(high), low.max(high));
    if from >= 1.0 || to <= 0.0 {
        return None;
    }
    let start = if from > 0.0 { at(from) } else { a };
    let end = if to < 1.0 { at(to) } else { b };
    Some((start, end))
}

#[cfg(test)]
mod tests {
    use super::*;

    const RANGE: Range = Range { low: 0.0, high: 10.0 };

    #[test]
    fn a_curve_is_cut_where_it_leaves_and_goes_on_where_it_comes_back() {
        let curve = [(0.0, -5.0), (1.0, 5.0), (2.0, 15.0), (3.0, 5.0), (4.0, f64::NAN), (5.0, 1.0)];
        let found = pieces(&curve, RANGE);
        assert_eq!(
            found,
            [
                vec![(0.5, 0.0), (1.0, 5.0), (1.5, 10.0)],
                vec![(2.5, 10.0), (3.0, 5.0)],
                vec![(5.0, 1.0)]
            ]
        );
        assert!(pieces(&[(0.0, 20.0), (1.0, 30.0)], RANGE).is_empty(), "all outside");
        assert_eq!(pieces(&[(0.0, 20.0), (1.0, -10.0)], RANGE).len(), 1, "straight through");
    }

    #[test]
    fn held_points_stay_in_range() {
        let found = held([(0.0, -5.0), (1.0, 5.0), (2.0, f64::INFINITY), (3.0, f64::NAN)], RANGE);
        assert_eq!(found, [(0.0, 0.0), (1.0, 5.0), (2.0, 10.0)]);
    }
}
