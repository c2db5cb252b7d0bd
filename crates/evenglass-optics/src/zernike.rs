//! Zernike terms on a disc, in Noll's order and normalised to an RMS of 1.
//!
//! Angles: θ = 0 is the side of the mirror that is up when the telescope points low; θ grows
//! anticlockwise as seen from the front, by someone who looks into the mirror. Even Noll
//! numbers carry the cosine, odd ones the sine. The radius is in units of the disc's.
//!
//! Equation numbers refer to docs/physics/image.md.

/// How a term depends on the angle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// Not at all.
    Round,
    /// As the cosine of order times angle.
    Cosine,
    /// As the sine of order times angle.
    Sine,
}

/// One term of Noll's series.
///
/// # Source
/// R. J. Noll, "Zernike polynomials and atmospheric turbulence", J. Opt. Soc. Am. 66 (1976)
/// 207–211, eqs. 1 to 3 and table I. doi:10.1364/JOSA.66.000207
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Zernike {
    index: usize,
    degree: usize,
    order: usize,
}

impl Zernike {
    /// The term of a Noll number, 1 for piston and up; 0 is none.
    #[must_use]
    pub fn noll(index: usize) -> Option<Self> {
        let mut place = index.checked_sub(1)?;
        let mut degree = 0;
        while place > degree {
            degree += 1;
            place -= degree;
        }
        // Within a degree the orders ascend, every order but 0 taking two places.
        let order = if degree % 2 == 0 { 2 * place.div_ceil(2) } else { 2 * (place / 2) + 1 };
        Some(Self { index, degree, order })
    }

    /// Noll's number of the term.
    #[must_use]
    pub fn index(self) -> usize {
        self.index
    }

    /// The highest power of the radius, n.
    #[must_use]
    pub fn degree(self) -> usize {
        self.degree
    }

    /// How often it repeats around the axis, m.
    #[must_use]
    pub fn order(self) -> usize {
        self.order
    }

    /// Cosine, sine or neither.
    #[must_use]
    pub fn part(self) -> Part {
        match (self.order, self.index % 2) {
            (0, _) => Part::Round,
            (_, 0) => Part::Cosine,
            _ => Part::Sine,
        }
    }

    /// The double index (n, m) of ISO 24157 and the OSA: m is negative for a sine.
    ///
    /// # Source
    /// L. N. Thibos, R. A. Applegate, J. T. Schwiegerling, R. Webb, "Standards for reporting
    /// the optical aberrations of eyes", J. Refract. Surg. 18 (2002) S652–S660; ISO 24157:2008
    /// numbers alike. From memory. Both measure the angle anticlockwise, as here, but from
    /// the horizontal.
    #[must_use]
    pub fn double_index(self) -> (usize, isize) {
        let order = isize::try_from(self.order).unwrap_or(isize::MAX);
        (self.degree, if self.part() == Part::Sine { -order } else { order })
    }

    /// What an optician calls the term; `None` beyond the common names.
    #[must_use]
    pub fn name(self) -> Option<&'static str> {
        let name = match (self.order, (self.degree - self.order) / 2) {
            (0, 0) => "piston",
            (0, 1) => "defocus",
            (0, 2) => "spherical aberration",
            (0, 3) => "secondary spherical aberration",
            (1, 0) => "tilt",
            (1, 1) => "coma",
            (1, 2) => "secondary coma",
            (2, 0) => "astigmatism",
            (2, 1) => "secondary astigmatism",
            (2, 2) => "tertiary astigmatism",
            (3, 0) => "trefoil",
            (3, 1) => "secondary trefoil",
            (4, 0) => "tetrafoil",
            (4, 1) => "secondary tetrafoil",
            (5, 0) => "pentafoil",
            (6, 0) => "hexafoil",
            _ => return None,
        };
        Some(name)
    }

    /// The radial polynomial R of degree n and order m; 1 at the rim (eq. I-6).
    #[must_use]
    pub fn radial(self, radius: f64) -> f64 {
        let (n, m) = (self.degree, self.order);
        let steps = (n - m) / 2;
        // Horner's scheme in the square of the radius; each coefficient follows from the
        // one before it.
        let mut coefficient = binomial(n, steps);
        let mut sum = coefficient;
        for s in 0..steps {
            let (upper, lower) = ((usize::midpoint(n, m) - s) * (steps - s), (s + 1) * (n - s));
            coefficient *= -(upper as f64) / lower as f64;
            sum = sum * radius * radius + coefficient;
        }
        sum * radius.powi(i32::try_from(m).unwrap_or(i32::MAX))
    }

    /// The term along the direction in which it is largest: what stands before cosine or
    /// sine, normalised so that the whole term has an RMS of 1 over the disc (eq. I-6).
    #[must_use]
    pub fn profile(self, radius: f64) -> f64 {
        let count = (self.degree + 1) as f64;
        let norm = if self.order == 0 { count.sqrt() } else { (2.0 * count).sqrt() };
        norm * self.radial(radius)
    }

    /// Its value at a radius (of the disc's) and an angle \[rad\].
    #[must_use]
    pub fn value(self, radius: f64, angle: f64) -> f64 {
        let turn = self.order as f64 * angle;
        let around = match self.part() {
            Part::Round => 1.0,
            Part::Cosine => turn.cos(),
            Part::Sine => turn.sin(),
        };
        self.profile(radius) * around
    }
}

/// n over k.
fn binomial(n: usize, k: usize) -> f64 {
    (0..k).fold(1.0, |product, i| product * (n - i) as f64 / (i + 1) as f64)
}

#[cfg(test)]
mod tests {
    use std::f64::consts::{PI, TAU};

    use approx::{assert_abs_diff_eq, assert_relative_eq};

    use super::*;

    fn term(index: usize) -> Zernike {
        Zernike::noll(index).unwrap()
    }

    /// Noll 1976, table I: degree and order of the first 22 terms.
    #[test]
    fn numbers_run_as_in_nolls_table() {
        let table = [
            (0, 0),
            (1, 1),
            (1, 1),
            (2, 0),
            (2, 2),
            (2, 2),
            (3, 1),
            (3, 1),
            (3, 3),
            (3, 3),
            (4, 0),
            (4, 2),
            (4, 2),
            (4, 4),
            (4, 4),
            (5, 1),
            (5, 1),
            (5, 3),
            (5, 3),
            (5, 5),
            (5, 5),
            (6, 0),
        ];
        for (index, expected) in (1..).zip(table) {
            assert_eq!((term(index).degree(), term(index).order()), expected, "Noll {index}");
        }
        assert_eq!(Zernike::noll(0), None);
    }

    /// Noll 1976, table I: 2 tilt (cos), 4 defocus, 5 (sin) and 6 (cos) astigmatism, 7 (sin)
    /// and 8 (cos) coma, 9 (sin) and 10 (cos), 11 spherical; 22 from memory.
    #[test]
    fn the_first_terms_are_those_of_nolls_table() {
        for (r, angle) in [(0.0_f64, 0.3_f64), (0.37, 1.1), (0.8, -2.0), (1.0, 4.0)] {
            let eight = 8f64.sqrt();
            let written = [
                (1, 1.0),
                (2, 2.0 * r * angle.cos()),
                (3, 2.0 * r * angle.sin()),
                (4, 3f64.sqrt() * (2.0 * r * r - 1.0)),
                (5, 6f64.sqrt() * r * r * (2.0 * angle).sin()),
                (6, 6f64.sqrt() * r * r * (2.0 * angle).cos()),
                (7, eight * (3.0 * r.powi(3) - 2.0 * r) * angle.sin()),
                (8, eight * (3.0 * r.powi(3) - 2.0 * r) * angle.cos()),
                (9, eight * r.powi(3) * (3.0 * angle).sin()),
                (10, eight * r.powi(3) * (3.0 * angle).cos()),
                (11, 5f64.sqrt() * (6.0 * r.powi(4) - 6.0 * r * r + 1.0)),
                (14, 10f64.sqrt() * r.powi(4) * (4.0 * angle).cos()),
                (15, 10f64.sqrt() * r.powi(4) * (4.0 * angle).sin()),
                (22, 7f64.sqrt() * (20.0 * r.powi(6) - 30.0 * r.powi(4) + 12.0 * r * r - 1.0)),
            ];
            for (index, expected) in written {
                assert_abs_diff_eq!(term(index).value(r, angle), expected, epsilon = 1e-13);
            }
        }
    }

    #[test]
    fn the_first_36_terms_are_orthonormal_over_the_disc() {
        // 32 rings at equal areas' midpoints would not be exact: Gauss points in r² are, up
        // to degree 13 in r², and 24 equal angles are for orders up to 23 together.
        let (rings, angles) = (crate::front::GAUSS, 24);
        for first in 1..=36 {
            for second in 1..=first {
                let mut mean = 0.0;
                for (place, weight) in rings {
                    let r = (0.5 * (1.0 + place)).sqrt();
                    for step in 0..angles {
                        let angle = TAU * f64::from(step) / f64::from(angles);
                        mean += 0.5 * weight / f64::from(angles)
                            * term(first).value(r, angle)
                            * term(second).value(r, angle);
                    }
                }
                let expected = if first == second { 1.0 } else { 0.0 };
                assert_abs_diff_eq!(mean, expected, epsilon = 1e-12);
            }
        }
    }

    #[test]
    fn every_polynomial_is_one_at_the_rim() {
        for index in 1..=120 {
            assert_relative_eq!(term(index).radial(1.0), 1.0, max_relative = 1e-9);
        }
    }

    #[test]
    fn a_cosine_is_even_and_bears_the_positive_order_of_the_double_index() {
        assert_eq!(term(8).double_index(), (3, 1));
        assert_eq!(term(7).double_index(), (3, -1));
        assert_eq!(term(11).double_index(), (4, 0));
        assert_eq!(term(5).double_index(), (2, -2));
        assert_abs_diff_eq!(term(8).value(1.0, 0.0), 8f64.sqrt(), epsilon = 1e-14);
        assert_abs_diff_eq!(term(7).value(1.0, PI / 2.0), 8f64.sqrt(), epsilon = 1e-14);
    }

    #[test]
    fn the_first_28_terms_have_names() {
        for index in 1..=28 {
            assert!(term(index).name().is_some(), "Noll {index}");
        }
        let names = [6, 8, 10, 11, 14, 22].map(|index| term(index).name().unwrap());
        assert_eq!(names[..3], ["astigmatism", "coma", "trefoil"]);
        assert_eq!(
            names[3..],
            ["spherical aberration", "tetrafoil", "secondary spherical aberration"]
        );
        assert_eq!(term(300).name(), None);
    }
}
