//! Static pressure of a fan against its flow.

use thiserror::Error;

use crate::air::REFERENCE_DENSITY;

/// Share of the free flow left of which axial fans stall [-]; common practice, no source.
pub const STALL_SHARE: f64 = 0.4;

/// Where, in shares of free flow and greatest pressure, a typical small axial fan passes
/// between its two ends; common practice, no source.
const TYPICAL_MIDDLE: (f64, f64) = (0.5, 0.45);

/// Why points make no fan curve. Points are counted from 1.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum CurveError {
    /// Fewer than two points.
    #[error("a fan curve needs at least two points, and has {count}")]
    TooFewPoints {
        /// Points given.
        count: usize,
    },
    /// A value that is no number, infinite or negative.
    #[error("point {point} of the fan curve: flow and pressure must be zero or more")]
    NotPositive {
        /// Which point.
        point: usize,
    },
    /// A flow not above the one before it.
    #[error("point {point} of the fan curve: its flow is not above that of the point before")]
    FlowNotAscending {
        /// Which point.
        point: usize,
    },
    /// More pressure at the greatest flow than at the least.
    #[error("the fan curve rises: pressure is greatest at the least flow; are the two swapped?")]
    Rising,
    /// Values so far apart that their slopes are no numbers.
    #[error("the fan curve's flows and pressures are out of all proportion: check their units")]
    OutOfProportion,
    /// No pressure, or no flow, anywhere.
    #[error("the fan curve has no pressure or no flow: the fan would move nothing")]
    Empty,
}

/// Static pressure against flow of one fan, at full speed in air of 1.2 kg/m³ (eq. N-1).
///
/// Between the points a cubic that neither overshoots nor rises (F. N. Fritsch and
/// R. E. Carlson, "Monotone piecewise cubic interpolation", SIAM J. Numer. Anal. 17
/// (1980) 238–246). Beyond free flow the fan resists; against a flow driven backwards
/// it gives more than its greatest pressure. Both continue the curve without a kink.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    /// Flow [m³/s], pressure \[Pa\], slope [Pa s/m³] from no flow to free flow.
    knots: Vec<Knot>,
    /// Of the standing fan, and of its windmilling beyond free flow [Pa s²/m⁶].
    resistance: f64,
    relative_sigma: f64,
    stall_dip: bool,
    extended: bool,
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct Knot {
    flow: f64,
    pressure: f64,
    slope: f64,
}

impl Curve {
    /// A curve through measured points of flow [m³/s] and static pressure \[Pa\], with
    /// flow ascending.
    ///
    /// A dip, where pressure rises with flow, is filled to the level of what comes after
    /// it. Points that do not reach to no flow or to no pressure are continued straight;
    /// the latter at least as steeply as to twice the last flow. σ 8 %.
    ///
    /// # Errors
    /// [`CurveError`], if the points make no curve.
    pub fn from_points(points: &[(f64, f64)]) -> Result<Self, CurveError> {
        check(points)?;
        let mut points = points.to_vec();
        let stall_dip = fill_dips(&mut points);
        let extended = reach_both_ends(&mut points);
        let knots = with_slopes(&points);
        let resistance = points[0].1 / points[points.len() - 1].0.powi(2);
        let fine = |knot: &Knot| knot.flow.is_finite() && knot.slope.is_finite();
        if !(resistance.is_finite() && knots.iter().all(fine)) {
            return Err(CurveError::OutOfProportion);
        }
        Ok(Self { knots, resistance, relative_sigma: 0.08, stall_dip, extended })
    }

    /// A curve of typical shape from what a label says: flow without resistance [m³/s]
    /// and pressure without flow \[Pa\]. σ 20 %.
    ///
    /// # Errors
    /// [`CurveError`], if one of them is not positive.
    pub fn from_ends(free_flow: f64, max_pressure: f64) -> Result<Self, CurveError> {
        let middle = (TYPICAL_MIDDLE.0 * free_flow, TYPICAL_MIDDLE.1 * max_pressure);
        if !(free_flow > 0.0 && max_pressure > 0.0) {
            return Err(CurveError::Empty);
        }
        let curve = Self::from_points(&[(0.0, max_pressure), middle, (free_flow, 0.0)])?;
        Ok(Self { relative_sigma: 0.20, ..curve })
    }

    /// Flow without resistance, at full speed [m³/s].
    #[must_use]
    pub fn free_flow(&self) -> f64 {
        self.last().flow
    }

    /// Pressure without flow, at full speed in air of 1.2 kg/m³ \[Pa\].
    #[must_use]
    pub fn max_pressure(&self) -> f64 {
        self.first().pressure
    }

    /// One standard deviation of the pressure as a share of it [-].
    #[must_use]
    pub fn relative_sigma(&self) -> f64 {
        self.relative_sigma
    }

    /// Whether the points had a dip, which was filled.
    #[must_use]
    pub fn has_stall_dip(&self) -> bool {
        self.stall_dip
    }

    /// Whether the points did not reach both ends, and were continued.
    #[must_use]
    pub fn is_extended(&self) -> bool {
        self.extended
    }

    /// Static pressure \[Pa\] at a flow, by the fan laws (eq. N-2).
    ///
    /// * `flow` — [m³/s], of either sign; `speed` — [-]; `density` — [kg/m³]
    ///
    /// Falls, or stays, as flow grows. A standing fan is a resistance (eq. N-3).
    ///
    /// # Source
    /// Fan laws as in ISO 5801.
    #[must_use]
    pub fn pressure(&self, flow: f64, speed: f64, density: f64) -> f64 {
        let speed = speed.max(0.0);
        let (first, last) = (self.first(), self.last());
        let beyond = flow - speed * last.flow;
        let pressure = if flow < 0.0 {
            let shut_off = speed * speed * first.pressure;
            shut_off + first.slope * speed * flow + self.resistance * flow * flow
        } else if beyond >= 0.0 {
            last.slope * speed * beyond - self.resistance * beyond * beyond
        } else {
            speed * speed * self.between(flow / speed)
        };
        pressure * density / REFERENCE_DENSITY
    }

    fn first(&self) -> Knot {
        self.knots[0]
    }

    fn last(&self) -> Knot {
        self.knots[self.knots.len() - 1]
    }

    /// The cubic at a flow between no flow and free flow.
    fn between(&self, flow: f64) -> f64 {
        let next = self.knots.partition_point(|knot| knot.flow <= flow);
        let (a, b) = match next {
            0 => return self.first().pressure,
            next if next == self.knots.len() => return self.last().pressure,
            next => (self.knots[next - 1], self.knots[next]),
        };
        let width = b.flow - a.flow;
        let t = (flow - a.flow) / width;
        let s = 1.0 - t;
        a.pressure * (1.0 + 2.0 * t) * s * s
            + b.pressure * (1.0 + 2.0 * s) * t * t
            + width * (a.slope * t * s * s - b.slope * s * t * t)
    }
}

fn check(points: &[(f64, f64)]) -> Result<(), CurveError> {
    if points.len() < 2 {
        return Err(CurveError::TooFewPoints { count: points.len() });
    }
    let fine = |value: f64| value.is_finite() && value >= 0.0;
    if let Some(at) = points.iter().position(|point| !(fine(point.0) && fine(point.1))) {
        return Err(CurveError::NotPositive { point: at + 1 });
    }
    if let Some(at) = points.windows(2).position(|pair| pair[1].0 <= pair[0].0) {
        return Err(CurveError::FlowNotAscending { point: at + 2 });
    }
    let (first, last) = (points[0], points[points.len() - 1]);
    if last.1 > first.1 {
        return Err(CurveError::Rising);
    }
    if first.1 <= 0.0 { Err(CurveError::Empty) } else { Ok(()) }
}

/// Raises each pressure to the greatest of those after it; whether any was raised.
fn fill_dips(points: &mut [(f64, f64)]) -> bool {
    let mut greatest = 0.0;
    let mut found = false;
    for point in points.iter_mut().rev() {
        if point.1 < greatest {
            point.1 = greatest;
            found = true;
        }
        greatest = point.1;
    }
    found
}

/// Continues the points to no flow and to no pressure; whether that was needed.
fn reach_both_ends(points: &mut Vec<(f64, f64)>) -> bool {
    let steepness =
        |a: (f64, f64), b: (f64, f64)| if b.0 > a.0 { (a.1 - b.1) / (b.0 - a.0) } else { 0.0 };
    let mut extended = false;
    let last = points[points.len() - 1];
    if last.1 > 0.0 {
        let falling = steepness(points[points.len() - 2], last).max(last.1 / last.0);
        points.push((last.0 + last.1 / falling, 0.0));
        extended = true;
    }
    let first = points[0];
    if first.0 > 0.0 {
        let falling = steepness(first, points[1]);
        points.insert(0, (0.0, first.1 + falling * first.0));
        extended = true;
    }
    // Several points without pressure: free flow is the first of them.
    while points.len() > 2 && points[points.len() - 2].1 <= 0.0 {
        points.pop();
    }
    extended
}

/// Slopes after Fritsch and Carlson: harmonic means of the neighbours, weighted by
/// their widths as in F. N. Fritsch and J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984)
/// 300–304; at the ends those of a parabola, kept from overshooting.
fn with_slopes(points: &[(f64, f64)]) -> Vec<Knot> {
    let widths: Vec<f64> = points.windows(2).map(|pair| pair[1].0 - pair[0].0).collect();
    let rises: Vec<f64> = points
        .windows(2)
        .zip(&widths)
        .map(|(pair, width)| (pair[1].1 - pair[0].1) / width)
        .collect();
    let end = |near: usize, far: usize| -> f64 {
        let (w, v) = (widths[near], widths[far]);
        let parabola = ((2.0 * w + v) * rises[near] - w * rises[far]) / (w + v);
        // Of a falling curve it is at most twice as steep as the end's own interval.
        parabola.min(0.0)
    };
    let inner = |at: usize| -> f64 {
        let (before, after) = (rises[at - 1], rises[at]);
        if before >= 0.0 || after >= 0.0 {
            return 0.0;
        }
        let (w1, w2) = (2.0 * widths[at] + widths[at - 1], widths[at] + 2.0 * widths[at - 1]);
        (w1 + w2) / (w1 / before + w2 / after)
    };
    let final_point = points.len() - 1;
    let slope = |at: usize| match at {
        _ if points.len() == 2 => rises[0],
        0 => end(0, 1),
        _ if at == final_point => end(final_point - 1, final_point - 2),
        _ => inner(at),
    };
    let knot = |(at, point): (usize, &(f64, f64))| Knot {
        flow: point.0,
        pressure: point.1,
        slope: slope(at),
    };
    points.iter().enumerate().map(knot).collect()
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    use super::*;

    const SHEET: [(f64, f64); 5] =
        [(0.0, 50.0), (0.01, 38.0), (0.02, 30.0), (0.03, 17.0), (0.04, 0.0)];

    fn sheet() -> Curve {
        Curve::from_points(&SHEET).unwrap()
    }

    #[test]
    fn the_curve_passes_through_its_points() {
        let curve = sheet();
        for (flow, pressure) in SHEET {
            assert_relative_eq!(curve.pressure(flow, 1.0, 1.2), pressure, epsilon = 1e-12);
        }
        assert_relative_eq!(curve.free_flow(), 0.04);
        assert_relative_eq!(curve.max_pressure(), 50.0);
        assert_relative_eq!(curve.relative_sigma(), 0.08);
        assert!(!curve.has_stall_dip() && !curve.is_extended());
    }

    #[test]
    fn the_fan_laws_hold_to_rounding() {
        let curve = sheet();
        for flow in [-0.01, 0.0, 0.004, 0.0273, 0.05] {
            let full = curve.pressure(flow, 1.0, 1.2);
            for (speed, density) in [(0.5, 1.2), (1.0 / 6.0, 0.9), (1.3, 1.25)] {
                let scaled = curve.pressure(flow * speed, speed, density);
                let expected = speed * speed * density / 1.2 * full;
                assert_relative_eq!(scaled, expected, max_relative = 1e-12);
            }
        }
    }

    #[test]
    fn the_curve_goes_on_without_a_kink_at_both_ends() {
        let curve = sheet();
        let slope = |at: f64, step: f64| {
            (curve.pressure(at + step, 1.0, 1.2) - curve.pressure(at, 1.0, 1.2)) / step
        };
        for end in [0.0, curve.free_flow()] {
            assert_relative_eq!(slope(end, -1e-8), slope(end, 1e-8), max_relative = 1e-4);
        }
        assert!(curve.pressure(-0.02, 1.0, 1.2) > 50.0);
        assert!(curve.pressure(0.05, 1.0, 1.2) < 0.0);
    }

    /// Greatest pressure over the square of free flow: 50/0.04² = 31 250 Pa s²/m⁶.
    #[test]
    fn a_standing_fan_resists_either_way() {
        let curve = sheet();
        assert_relative_eq!(curve.pressure(0.01, 0.0, 1.2), -3.125, max_relative = 1e-12);
        assert_relative_eq!(curve.pressure(-0.01, 0.0, 1.2), 3.125, max_relative = 1e-12);
        let almost = curve.pressure(0.01, 1e-9, 1.2);
        assert_relative_eq!(almost, -3.125, max_relative = 1e-6);
    }

    /// p = 40 (1 − x²/0.04²) on uneven points: slopes 0 and −2000 at the ends.
    #[test]
    fn the_ends_have_the_slopes_of_a_parabola() {
        let points = [0.0, 0.013, 0.031, 0.04].map(|x: f64| (x, 40.0 * (1.0 - (x / 0.04).powi(2))));
        let knots = Curve::from_points(&points).unwrap().knots;
        assert_relative_eq!(knots[0].slope, 0.0, epsilon = 1e-9);
        assert_relative_eq!(knots[3].slope, -2000.0, max_relative = 1e-9);
    }

    #[test]
    fn an_end_never_rises() {
        let points = [(0.0, 10.0), (0.01, 9.9), (0.02, 0.0)];
        let knots = Curve::from_points(&points).unwrap().knots;
        assert_relative_eq!(knots[0].slope, 0.0);
    }

    #[test]
    fn a_dip_is_filled_to_the_level_behind_it_and_reported() {
        let dipped = [(0.0, 60.0), (0.01, 30.0), (0.02, 36.0), (0.04, 0.0)];
        let curve = Curve::from_points(&dipped).unwrap();
        assert!(curve.has_stall_dip());
        assert_relative_eq!(curve.pressure(0.01, 1.0, 1.2), 36.0);
        assert_relative_eq!(curve.pressure(0.02, 1.0, 1.2), 36.0);
        assert_relative_eq!(curve.pressure(0.015, 1.0, 1.2), 36.0, max_relative = 1e-12);
    }

    #[test]
    fn points_that_stop_short_are_continued_straight() {
        let curve = Curve::from_points(&[(0.01, 40.0), (0.02, 30.0), (0.03, 10.0)]).unwrap();
        assert!(curve.is_extended());
        assert_relative_eq!(curve.max_pressure(), 50.0, max_relative = 1e-12);
        assert_relative_eq!(curve.free_flow(), 0.035, max_relative = 1e-12);
        let flat = Curve::from_points(&[(0.0, 10.0), (0.02, 10.0)]).unwrap();
        assert_relative_eq!(flat.free_flow(), 0.04, max_relative = 1e-12);
        let long = [(0.0, 9.0), (0.02, 0.0), (0.03, 0.0), (0.04, 0.0)];
        assert_relative_eq!(Curve::from_points(&long).unwrap().free_flow(), 0.02);
    }

    #[test]
    fn two_ends_make_a_typical_curve_of_less_trust() {
        let curve = Curve::from_ends(0.04, 40.0).unwrap();
        assert_relative_eq!(curve.relative_sigma(), 0.20);
        assert_relative_eq!(curve.pressure(0.02, 1.0, 1.2), 18.0);
        assert_relative_eq!(curve.free_flow(), 0.04);
        assert_eq!(Curve::from_ends(0.0, 40.0), Err(CurveError::Empty));
        assert_eq!(Curve::from_ends(0.04, f64::NAN), Err(CurveError::Empty));
    }

    #[test]
    fn points_that_make_no_curve_are_refused_with_the_reason() {
        let error = |points: &[(f64, f64)]| Curve::from_points(points).unwrap_err();
        assert_eq!(error(&[(0.0, 1.0)]), CurveError::TooFewPoints { count: 1 });
        assert_eq!(error(&[(0.0, 1.0), (-1.0, 0.0)]), CurveError::NotPositive { point: 2 });
        assert_eq!(error(&[(0.0, f64::NAN), (1.0, 0.0)]), CurveError::NotPositive { point: 1 });
        let twice = [(0.0, 2.0), (0.1, 1.0), (0.1, 0.5)];
        assert_eq!(error(&twice), CurveError::FlowNotAscending { point: 3 });
        assert_eq!(error(&[(0.0, 1.0), (0.1, 2.0)]), CurveError::Rising);
        assert_eq!(error(&[(0.0, 0.0), (0.1, 0.0)]), CurveError::Empty);
        assert_eq!(error(&[(0.0, 1.0), (1e-300, 0.0)]), CurveError::OutOfProportion);
        assert_eq!(
            error(&twice).to_string(),
            "point 3 of the fan curve: its flow is not above that of the point before"
        );
    }

    proptest! {
        #[test]
        fn pressure_never_rises_with_flow(
            steps in prop::collection::vec((1e-3..1.0f64, 0.0..10.0f64), 1..8),
            speed in 0.0..2.0f64,
            flows in prop::collection::vec(-2.0..12.0f64, 30),
        ) {
            let mut points = vec![(0.0, 80.0)];
            for (width, fall) in steps {
                let last = points[points.len() - 1];
                points.push((last.0 + width, last.1 - fall));
            }
            let curve = Curve::from_points(&points).unwrap();
            let mut flows = flows;
            flows.sort_by(f64::total_cmp);
            let pressures: Vec<f64> =
                flows.iter().map(|flow| curve.pressure(*flow, speed, 1.2)).collect();
            for pair in pressures.windows(2) {
                prop_assert!(pair[1] <= pair[0] + 1e-10, "{:?}", pair);
            }
        }
    }
}
