//! Filters, cloth, felt, foam: layers with many fine passages.

use super::{Loss, Resistance};

/// One standard deviation of a typical filter's drop [-].
const TYPICAL_SIGMA: f64 = 0.40;

/// One standard deviation of a measured layer's drop [-].
const MEASURED_SIGMA: f64 = 0.10;

/// Typical clean filter media. Catalogue-type values from memory, ± 40 %.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Medium {
    /// ISO 16890 coarse.
    Coarse,
    /// ISO 16890 ePM10 50 %.
    Epm10,
    /// ISO 16890 ePM1 50 to 60 %.
    Epm1,
    /// ISO 16890 ePM1 80 %.
    Epm1High,
    /// ISO 29463 35H, pleated.
    HepaPleated,
    /// High-efficiency paper, per area of the sheet itself.
    HepaFlat,
}

impl Medium {
    /// a [Pa s/m] and b [Pa s²/m²] of Δp = a v + b v², with v the face speed.
    #[must_use]
    pub fn coefficients(self) -> (f64, f64) {
        match self {
            Self::Coarse => (8.0, 5.0),
            Self::Epm10 => (18.0, 3.0),
            Self::Epm1 => (30.0, 4.0),
            Self::Epm1High => (45.0, 4.0),
            Self::HepaPleated => (290.0, 0.0),
            Self::HepaFlat => (5500.0, 0.0),
        }
    }
}

/// A clean filter of a typical medium with a face of `area` \[m²\] (eq. N-13).
#[must_use]
pub fn filter(medium: Medium, area: f64) -> Loss {
    layer(area, medium.coefficients(), TYPICAL_SIGMA)
}

/// A layer of which one point was measured: face speed [m/s] and drop \[Pa\]. All of it
/// counts as viscous, as in fine media.
#[must_use]
pub fn from_point(area: f64, point: (f64, f64)) -> Loss {
    let slope = if point.0 > 0.0 { point.1 / point.0 } else { f64::INFINITY };
    layer(area, (slope, 0.0), MEASURED_SIGMA)
}

/// A layer of which two points were measured: face speed [m/s] and drop \[Pa\]. Points
/// that no sum of a viscous and an inertial part passes through are met, in the mean, by
/// the one that comes nearer.
#[must_use]
pub fn from_points(area: f64, points: [(f64, f64); 2]) -> Loss {
    let [(v1, p1), (v2, p2)] = points;
    let apart = (v2 - v1).abs() > f64::EPSILON * (v1 + v2);
    if !(v1 > 0.0 && v2 > 0.0 && apart) {
        return from_point(area, if v2 > 0.0 { (v2, p2) } else { (v1, p1) });
    }
    let (r1, r2) = (p1 / v1, p2 / v2);
    let b = (r2 - r1) / (v2 - v1);
    let a = r1 - b * v1;
    let coefficients = if b < 0.0 {
        (0.5 * (r1 + r2), 0.0)
    } else if a < 0.0 {
        (0.0, 0.5 * (r1 / v1 + r2 / v2))
    } else {
        (a, b)
    };
    layer(area, coefficients, MEASURED_SIGMA)
}

/// The same layer with its drop multiplied by `factor` [-], for the dust on it
/// (eq. N-14): 1 clean, 2 when it should be changed (common practice, no source).
#[must_use]
pub fn loaded(loss: Loss, factor: f64) -> Loss {
    match loss {
        Loss::Resistance(resistance) => Loss::Resistance(Resistance {
            linear: resistance.linear * factor.max(0.0),
            quadratic: resistance.quadratic * factor.max(0.0),
            ..resistance
        }),
        other => other,
    }
}

fn layer(area: f64, coefficients: (f64, f64), relative_sigma: f64) -> Loss {
    let over = |part: f64, area: f64| if area > 0.0 { part / area } else { f64::INFINITY };
    Loss::Resistance(Resistance {
        linear: over(coefficients.0, area),
        quadratic: over(over(coefficients.1, area), area),
        relative_sigma,
    })
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;
    use crate::Air;

    fn drop(loss: Loss, flow: f64) -> f64 {
        loss.drop(flow, &Air::REFERENCE)
    }

    /// 28 L/s through 0.05 m² are 0.56 m/s: 8 v + 5 v² = 6.05 Pa, 30 v + 4 v² = 18.05 Pa,
    /// 290 v = 162.4 Pa.
    #[test]
    fn typical_filters_drop_what_their_catalogues_say() {
        assert_relative_eq!(drop(filter(Medium::Coarse, 0.05), 0.028), 6.048, epsilon = 1e-9);
        assert_relative_eq!(drop(filter(Medium::Epm1, 0.05), 0.028), 18.0544, epsilon = 1e-9);
        assert_relative_eq!(drop(filter(Medium::HepaPleated, 0.05), 0.028), 162.4, epsilon = 1e-9);
        assert_relative_eq!(filter(Medium::Coarse, 0.05).relative_sigma(), 0.40);
    }

    #[test]
    fn measured_points_lie_on_their_layer() {
        let felt = from_points(0.1, [(0.1, 3.0), (0.3, 12.0)]);
        assert_relative_eq!(drop(felt, 0.01), 3.0, max_relative = 1e-12);
        assert_relative_eq!(drop(felt, 0.03), 12.0, max_relative = 1e-12);
        let cloth = from_point(0.1, (0.2, 5.0));
        assert_relative_eq!(drop(cloth, 0.02), 5.0, max_relative = 1e-12);
        assert_relative_eq!(drop(cloth, 0.04), 10.0, max_relative = 1e-12);
    }

    #[test]
    fn points_that_no_layer_has_never_make_a_negative_part() {
        for points in [[(0.1, 3.0), (0.3, 5.0)], [(0.1, 1.0), (0.3, 20.0)]] {
            let Loss::Resistance(layer) = from_points(0.1, points) else {
                panic!("a porous layer is a resistance");
            };
            assert!(layer.linear >= 0.0 && layer.quadratic >= 0.0, "{layer:?}");
        }
        let same = from_points(0.1, [(0.2, 5.0), (0.2, 5.0)]);
        assert_eq!(same, from_point(0.1, (0.2, 5.0)));
        assert!(drop(from_point(0.1, (0.0, 5.0)), 0.01).is_infinite());
    }

    #[test]
    fn dust_multiplies_the_drop() {
        let clean = filter(Medium::Epm10, 0.05);
        assert_relative_eq!(drop(loaded(clean, 2.0), 0.02), 2.0 * drop(clean, 0.02));
    }

    /// Means of 30 and 16.67 Pa s/m, and of 100 and 222 Pa s²/m².
    #[test]
    fn points_that_no_layer_has_are_met_in_the_mean() {
        let falling = from_points(1.0, [(0.1, 3.0), (0.3, 5.0)]);
        assert_relative_eq!(drop(falling, 1.0), 23.3333, epsilon = 1e-4);
        let steep = from_points(1.0, [(0.1, 1.0), (0.3, 20.0)]);
        assert_relative_eq!(drop(steep, 1.0), 161.111, epsilon = 1e-3);
        let half = from_points(1.0, [(0.0, 0.0), (0.3, 6.0)]);
        assert_eq!(half, from_point(1.0, (0.3, 6.0)));
        assert_eq!(from_points(1.0, [(0.3, 6.0), (0.0, 0.0)]), half);
    }
}
