//! Piecewise-linear tables with jumps, of time, radius or height.

/// A table: linear between points, held beyond its ends; a repeated position is a jump.
#[derive(Debug, Clone, PartialEq)]
pub struct Profile {
    position: Vec<f64>,
    value: Vec<f64>,
}

/// Which side of a jump is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// The limit from smaller positions.
    Before,
    /// The limit from larger positions; what a table means at the jump itself.
    After,
}

impl Profile {
    /// The same value everywhere.
    #[must_use]
    pub fn constant(value: f64) -> Self {
        Self { position: vec![0.0], value: vec![value] }
    }

    /// From points with non-decreasing positions.
    ///
    /// # Panics
    /// If the lists are empty or of different length, or positions decrease.
    #[must_use]
    pub fn new(position: Vec<f64>, value: Vec<f64>) -> Self {
        assert!(!position.is_empty(), "a profile needs at least one point");
        assert_eq!(position.len(), value.len(), "one value per position");
        assert!(position.windows(2).all(|w| w[0] <= w[1]), "positions must not decrease");
        Self { position, value }
    }

    /// Positions of the points, non-decreasing.
    #[must_use]
    pub fn positions(&self) -> &[f64] {
        &self.position
    }

    /// Values at the points, same length as [`Profile::positions`].
    #[must_use]
    pub fn values(&self) -> &[f64] {
        &self.value
    }

    /// The value at `position`; at a jump the one on `side`.
    #[must_use]
    pub fn at(&self, position: f64, side: Side) -> f64 {
        let after = match side {
            Side::Before => self.position.partition_point(|&p| p < position),
            Side::After => self.position.partition_point(|&p| p <= position),
        };
        if after == 0 {
            return self.value[0];
        }
        if after == self.position.len() {
            return self.value[after - 1];
        }
        let (p0, p1) = (self.position[after - 1], self.position[after]);
        let (v0, v1) = (self.value[after - 1], self.value[after]);
        v0 + (v1 - v0) * (position - p0) / (p1 - p0)
    }
}

#[cfg(test)]
#[allow(clippy::float_cmp, reason = "whole numbers pass through unchanged")]
mod tests {
    use super::*;

    #[test]
    fn a_jump_has_two_sides_and_the_ends_are_held() {
        let profile = Profile::new(vec![0.0, 1.0, 1.0, 3.0], vec![5.0, 5.0, 1.0, 3.0]);
        assert_eq!(profile.at(1.0, Side::Before), 5.0);
        assert_eq!(profile.at(1.0, Side::After), 1.0);
        assert_eq!(profile.at(2.0, Side::After), 2.0);
        assert_eq!(profile.at(-1.0, Side::After), 5.0);
        assert_eq!(profile.at(9.0, Side::Before), 3.0);
    }
}
