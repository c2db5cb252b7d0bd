//! How the secondary's temperature runs through a step of the primary.

/// Times \[s\], temperatures \[K\] and their slopes [K/s], in order.
#[derive(Debug, Clone, Default)]
pub(crate) struct Track {
    points: Vec<(f64, f64, f64)>,
}

impl Track {
    pub(super) fn push(&mut self, time: f64, kelvin: f64, slope: f64) {
        self.points.push((time, kelvin, slope));
    }

    /// Temperature at a time \[s\] of the step \[K\], by the cubic through the ends of the
    /// secondary's own step and their slopes.
    pub(crate) fn at(&self, time: f64) -> f64 {
        let after = self.points.partition_point(|point| point.0 <= time);
        let after = after.min(self.points.len().saturating_sub(1)).max(1);
        let [Some(a), Some(b)] = [after - 1, after].map(|n| self.points.get(n)) else {
            return self.points.first().map_or(f64::NAN, |point| point.1);
        };
        let step = b.0 - a.0;
        if step <= 0.0 {
            return b.1;
        }
        let x = ((time - a.0) / step).clamp(0.0, 1.0);
        let (rise, from, to) = (b.1 - a.1, step * a.2, step * b.2);
        a.1 + x * (from + x * (3.0 * rise - 2.0 * from - to + x * (from + to - 2.0 * rise)))
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;

    use super::*;

    #[test]
    fn a_cubic_is_followed_exactly_and_the_ends_are_held() {
        let cubic = |t: f64| (t.powi(3) - 4.0 * t + 280.0, 3.0 * t * t - 4.0);
        let mut track = Track::default();
        for t in [0.0, 1.0, 1.0, 3.0] {
            track.push(t, cubic(t).0, cubic(t).1);
        }
        for t in [0.0, 0.3, 1.0, 2.7, 3.0] {
            assert_abs_diff_eq!(track.at(t), cubic(t).0, epsilon = 1e-9);
        }
        assert_abs_diff_eq!(track.at(9.0), cubic(3.0).0, epsilon = 1e-9);
        assert_abs_diff_eq!(track.at(-1.0), 280.0, epsilon = 1e-9);
    }

    #[test]
    fn one_point_or_none_does_not_fail() {
        assert!(Track::default().at(1.0).is_nan());
        let mut track = Track::default();
        track.push(2.0, 281.0, 0.0);
        assert_abs_diff_eq!(track.at(5.0), 281.0);
    }
}
