//! Many round jets at right angles to a plate, from a perforated board before it.
//!
//! Lengths are in hole diameters, Reynolds and Nusselt numbers on the hole's diameter
//! and the mean speed in the holes.

use std::f64::consts::PI;

use crate::duct;
use crate::{Estimate, Validity};

/// Published ranges of Martin's array.
const SLOWEST: f64 = 2000.0;
const SMALLEST_SHARE: f64 = 0.004;
const LARGEST_SHARE: f64 = 0.04;

/// A field of round nozzles before a plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NozzleArray {
    /// On hole diameter and mean speed in the holes [-]; 2000 to 10⁵. Below, the film
    /// falls with the square root, as laminar jets' does.
    pub reynolds: f64,
    /// [-]
    pub prandtl: f64,
    /// From holes to plate over hole diameter [-]; 2 to 12, held beyond
    pub distance: f64,
    /// Area of the holes over that of the board [-]; 0.004 to 0.04, held above
    pub open_share: f64,
}

impl NozzleArray {
    /// Mean Nusselt number under the array, spent air leaving freely (eq. C-48).
    ///
    /// # Source
    /// H. Martin, "Heat and mass transfer between impinging gas jets and solid
    /// surfaces", Adv. Heat Transfer 13 (1977) 1–60; also F. P. Incropera et al.,
    /// *Fundamentals of Heat and Mass Transfer*, section 7.7.
    #[must_use]
    pub fn mean(&self) -> Estimate {
        let distance = self.distance.clamp(2.0, 12.0);
        let share = self.open_share.clamp(0.0, LARGEST_SHARE);
        let root = share.sqrt();
        let spread = (1.0 + (distance * root / 0.6).powi(6)).powf(-0.05);
        let shape = 2.0 * root * (1.0 - 2.2 * root) / (1.0 + 0.2 * (distance - 6.0) * root);
        let martin = |re: f64| 0.5 * re.powf(2.0 / 3.0);
        let strength = if self.reynolds >= SLOWEST {
            martin(self.reynolds)
        } else {
            martin(SLOWEST) * (self.reynolds / SLOWEST).sqrt()
        };
        let held = share < self.open_share || (distance - self.distance).abs() > 0.0;
        let validity = Validity::of(self.reynolds, SLOWEST..=1e5)
            .and(Validity::of(self.open_share, SMALLEST_SHARE..=f64::INFINITY))
            .and(if held { Validity::Clamped } else { Validity::InRange });
        Estimate {
            value: spread * shape * strength * self.prandtl.powf(0.42),
            validity,
            relative_sigma: if self.reynolds < SLOWEST { 0.30 } else { 0.15 },
        }
    }
}

/// Distance between holes over their diameter for holes in squares [-].
#[must_use]
pub fn square_pitch(open_share: f64) -> f64 {
    (PI / (4.0 * open_share)).sqrt()
}

/// How rows of holes follow one another along the spent air's way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rows {
    /// One behind the other.
    Inline,
    /// Each before the gaps of the last.
    Staggered,
}

/// A field of holes whose spent air leaves across the jets of later rows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crossflow {
    /// Between holes along the spent air over hole diameter [-]; 5 to 15, staggered to 10
    pub streamwise: f64,
    /// Between holes across it [-]; 4 to 8
    pub spanwise: f64,
    /// From holes to plate [-]; 1 to 3
    pub distance: f64,
    /// Arrangement of the rows.
    pub rows: Rows,
}

impl Crossflow {
    /// Nusselt number of a row, mean over its strip (eq. C-49).
    ///
    /// * `reynolds` — [-], 2500 to 7 × 10⁴; `prandtl` — [-]
    /// * `mass_ratio` — mass velocity of the spent air over that of the jets [-], to 0.8
    ///
    /// # Source
    /// L. W. Florschuetz, C. R. Truman and D. E. Metzger, "Streamwise flow and heat
    /// transfer distributions for jet array impingement with crossflow", J. Heat
    /// Transfer 103 (1981) 337–342.
    #[must_use]
    pub fn nusselt(&self, reynolds: f64, prandtl: f64, mass_ratio: f64) -> Estimate {
        let (factor, exponent, sigma) = match self.rows {
            Rows::Inline => (
                self.law(1.18, [-0.944, -0.642, 0.169]),
                self.law(0.612, [0.059, 0.032, -0.022]),
                0.056,
            ),
            Rows::Staggered => (
                self.law(1.87, [-0.771, -0.999, -0.257]),
                self.law(0.571, [0.028, 0.092, 0.039]),
                0.061,
            ),
        };
        let still = factor * reynolds.powf(exponent) * prandtl.cbrt();
        let share = self.share(mass_ratio);
        Estimate {
            value: still * share.value,
            validity: share.validity.and(Validity::of(reynolds, 2.5e3..=7e4)),
            relative_sigma: sigma,
        }
    }

    /// Share of the film that the spent air leaves (eq. C-50), not below 0.
    ///
    /// * `mass_ratio` — as for [`Crossflow::nusselt`]
    ///
    /// # Source
    /// Florschuetz et al. (1981), as for [`Crossflow::nusselt`].
    #[must_use]
    pub fn share(&self, mass_ratio: f64) -> Estimate {
        let (loss, exponent) = match self.rows {
            Rows::Inline => {
                (self.law(0.437, [-0.095, -0.219, 0.275]), self.law(0.092, [-0.005, 0.599, 1.04]))
            }
            Rows::Staggered => {
                (self.law(1.03, [-0.243, -0.307, 0.059]), self.law(0.442, [0.098, -0.003, 0.304]))
            }
        };
        let longest = if self.rows == Rows::Inline { 15.0 } else { 10.0 };
        let validity = Validity::of(mass_ratio, 0.0..=0.8)
            .and(Validity::of(self.streamwise, 5.0..=longest))
            .and(Validity::of(self.spanwise, 4.0..=8.0))
            .and(Validity::of(self.distance, 1.0..=3.0));
        let value = 1.0 - loss * (self.distance * mass_ratio).powf(exponent);
        Estimate { value: value.max(0.0), validity, relative_sigma: 0.06 }
    }

    /// C (x/d)^a (y/d)^b (z/d)^c.
    fn law(&self, factor: f64, powers: [f64; 3]) -> f64 {
        let [along, across, away] = powers;
        factor * self.streamwise.powf(along) * self.spanwise.powf(across) * self.distance.powf(away)
    }

    /// Mass velocity of the spent air over that of the jets at the row `row`, counted from
    /// the closed end from 1 (eq. C-51).
    ///
    /// * `discharge` — coefficient of the holes [-], 0.73 to 0.85
    ///
    /// # Source
    /// Florschuetz et al. (1981), eq. 8.
    #[must_use]
    pub fn mass_ratio_at(&self, row: f64, discharge: f64) -> f64 {
        let rate = discharge * 2f64.sqrt() * (PI / 4.0) / (self.spanwise * self.distance);
        (rate * (row - 1.0)).sinh() / (2f64.sqrt() * discharge * (rate * (row - 0.5)).cosh())
    }
}

/// Mass velocity of spent air that leaves outward between two discs over that of the jets
/// between them (eq. C-52): continuity.
///
/// * `open_share` — area of the holes over that of the board [-]
/// * `radius`, `gap` — of the place, from board to plate \[m\]
#[must_use]
pub fn radial_mass_ratio(open_share: f64, radius: f64, gap: f64) -> f64 {
    0.5 * open_share * radius / gap
}

/// The spent air of a perforated board, between board and plate: what remains when slow
/// jets have merged.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpentAir {
    /// Area of the holes over that of the board [-]
    pub open_share: f64,
    /// Mean in the holes [m/s]
    pub hole_speed: f64,
    /// From board to plate \[m\]
    pub gap: f64,
}

impl SpentAir {
    /// Nusselt number, on twice the gap, of the air that leaves outward (eq. C-53). Add it
    /// to the jets' film by [`mixed::assisting`](crate::mixed::assisting).
    ///
    /// * `radius` — \[m\]; `kinematic_viscosity` — [m²/s]; `prandtl` — [-]
    ///
    /// # Source
    /// [`duct::gap_flow`], developing from the axis.
    #[must_use]
    pub fn nusselt(&self, radius: f64, kinematic_viscosity: f64, prandtl: f64) -> Estimate {
        let reynolds = self.open_share * self.hole_speed * radius / kinematic_viscosity;
        // On the axis nothing flows, however short the way.
        let over_length = if radius > 0.0 { 2.0 * self.gap / radius } else { 0.0 };
        duct::gap_flow(reynolds, prandtl, over_length)
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    const ARRAY: NozzleArray =
        NozzleArray { reynolds: 5e3, prandtl: 0.71, distance: 4.0, open_share: 0.02 };

    #[test]
    fn slow_jets_continue_without_a_step_and_end_in_nothing() {
        let at = |reynolds| NozzleArray { reynolds, ..ARRAY }.mean();
        assert_relative_eq!(at(1999.999).value, at(2000.0).value, max_relative = 1e-6);
        assert_eq!(at(1999.0).validity, Validity::Extrapolated);
        assert_relative_eq!(at(0.0).value, 0.0);
    }

    #[test]
    fn a_very_open_board_and_a_far_one_are_held_and_reported() {
        let open = NozzleArray { open_share: 0.3, ..ARRAY };
        let limit = NozzleArray { open_share: 0.04, ..ARRAY };
        assert_relative_eq!(open.mean().value, limit.mean().value);
        assert_eq!(open.mean().validity, Validity::Clamped);
        assert_eq!(limit.mean().validity, Validity::InRange);
        let far = NozzleArray { distance: 20.0, ..ARRAY };
        assert_eq!(far.mean().validity, Validity::Clamped);
    }

    #[test]
    fn spent_air_weakens_later_rows_and_never_below_nothing() {
        for rows in [Rows::Inline, Rows::Staggered] {
            let field = Crossflow { streamwise: 5.0, spanwise: 4.0, distance: 2.0, rows };
            assert_relative_eq!(field.share(0.0).value, 1.0);
            assert!(field.share(0.6).value < field.share(0.3).value);
            assert!(field.share(1e3).value >= 0.0);
        }
    }

    /// Spent air between discs, f = 0.02, z = 30 mm, r = 0.25 m: 0.0833, by hand.
    #[test]
    fn the_spent_air_between_discs_obeys_continuity() {
        assert_relative_eq!(radial_mass_ratio(0.02, 0.25, 0.03), 0.083_333, max_relative = 1e-5);
        let (holes, speed) = (0.02, 1.0);
        let flow = holes * speed * PI * 0.25 * 0.25;
        let across = flow / (2.0 * PI * 0.25 * 0.03);
        assert_relative_eq!(across / speed, radial_mass_ratio(holes, 0.25, 0.03));
    }

    #[test]
    fn a_board_in_squares_has_the_pitch_of_its_open_share() {
        let pitch = square_pitch(0.02);
        assert_relative_eq!(PI / 4.0 / (pitch * pitch), 0.02, max_relative = 1e-12);
    }

    #[test]
    fn spent_air_is_at_rest_on_the_axis() {
        let air = SpentAir { open_share: 0.02, hole_speed: 1.0, gap: 0.03 };
        assert_relative_eq!(air.nusselt(0.0, 1.42e-5, 0.71).value, 0.0);
        assert!(air.nusselt(0.2, 1.42e-5, 0.71).value > 4.0);
    }
}
