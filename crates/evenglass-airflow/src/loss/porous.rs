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

/// A clean filter of a typical medium with a face of `area` [m²] (eq. A-13).
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
/// (eq. A-14): 1 clean, 2 when it should be changed (common practice, no source).
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
