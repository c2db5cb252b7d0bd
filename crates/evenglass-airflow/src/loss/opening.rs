//! Plates with holes, and openings that blow into the open.
//!
//! What blows into the open loses all its kinetic energy: that is part of the drop of
//! [`orifice`], [`nozzle`], [`ring_slot`], [`vented_cover`] and [`leak`].

use std::f64::consts::PI;

use crate::air::REFERENCE_VISCOSITY;
use crate::{Estimate, Validity};

use super::{Loss, Resistance};

/// Discharge coefficient of an opening with sharp edges [-].
pub const SHARP: f64 = 0.62;

/// Velocity coefficient of a nozzle with long parallel or rounded lips [-].
pub const NOZZLE: f64 = 0.95;

/// One standard deviation of an opening's drop [-]: 5 % of its coefficient.
const OPENING_SIGMA: f64 = 0.10;

/// Square root of the loss of an entry with a sharp edge, as printed [-] (Idelchik).
const EDGE: f64 = 0.707;

/// Loss of slow flow through a hole: K = 33/(Re f²), Re on the hole.
const SLOW_HOLES: f64 = 33.0;

/// Loss of a plate with sharp holes across a duct, on the speed before it (eq. N-15).
///
/// * `open_share` — area of the holes over that of the plate, f [-], 0 to 1
/// * `thickness` — of the plate over the holes' diameter [-]; 0 is a thin plate
///
/// σ 10 %; half as much again for thick ones.
///
/// # Source
/// I. E. Idelchik, *Handbook of Hydraulic Resistance*, diagrams 8-1 and 8-2, from memory.
/// The factor of a thick plate is that for a single thick orifice, scaled to the thin
/// plate's at no thickness.
#[must_use]
pub fn perforated_plate(open_share: f64, thickness: f64) -> Estimate {
    let f = open_share.min(1.0);
    let closed = 1.0 - f;
    let thick = 2.0 * EDGE * thick_edge(thickness) / thick_edge(0.0);
    let lost = EDGE * EDGE * closed + thick * closed.powf(1.5) + closed * closed;
    let value = lost / (f * f);
    Estimate {
        value: if f > 0.0 { value } else { f64::INFINITY },
        validity: Validity::of(open_share, 0.02..=0.9),
        relative_sigma: if thickness > 0.1 { 0.15 } else { 0.10 },
    }
}

/// Loss of a plate with sharp holes through which a duct blows into the open, on the
/// speed before it (eq. N-16). 1 without a plate.
///
/// * `open_share` — f [-], 0 to 1
///
/// # Source
/// I. E. Idelchik, as above, chapter 11, from memory.
#[must_use]
pub fn perforated_end(open_share: f64) -> Estimate {
    let f = open_share.min(1.0);
    let value = ((1.0 + EDGE * (1.0 - f).sqrt()) / f).powi(2);
    Estimate {
        value: if f > 0.0 { value } else { f64::INFINITY },
        validity: Validity::of(open_share, 0.02..=1.0),
        relative_sigma: 0.10,
    }
}

/// Coefficient τ of a thick edge [-] (eq. N-17); falls from 1.35 to nothing at 2.4 hole
/// diameters, where the jet has attached to the hole's wall.
fn thick_edge(thickness: f64) -> f64 {
    let l = thickness.clamp(0.0, 2.4);
    let exponent = 0.25 + 0.535 * l.powi(8) / (0.05 + l.powi(7));
    (2.4 - l) * 10f64.powf(-exponent)
}

/// A plate full of holes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Perforation {
    /// Of the plate \[m²\].
    pub area: f64,
    /// Area of the holes over that of the plate [-].
    pub open_share: f64,
    /// Of one hole \[m\].
    pub diameter: f64,
    /// Of the plate \[m\].
    pub thickness: f64,
}

impl Perforation {
    /// The plate across a duct: holes blow into a space as wide as the plate.
    #[must_use]
    pub fn across(&self) -> Loss {
        self.with_slow_holes(perforated_plate(self.open_share, self.thickness / self.diameter))
    }

    /// The plate at an end: holes blow into the open.
    #[must_use]
    pub fn at_end(&self) -> Loss {
        self.with_slow_holes(perforated_end(self.open_share))
    }

    /// Adds what slow flow through the holes loses: 3 % at Re = 1000 on the hole, most of
    /// all below 20 (eq. N-18).
    fn with_slow_holes(&self, estimate: Estimate) -> Loss {
        let Loss::Resistance(fast) = Loss::of(estimate, self.area) else {
            return Loss::of(estimate, self.area);
        };
        let open = self.diameter * self.open_share * self.area;
        let linear =
            if open > 0.0 { 0.5 * SLOW_HOLES * REFERENCE_VISCOSITY / open } else { f64::INFINITY };
        Loss::Resistance(Resistance { linear, ..fast })
    }
}

/// A cover of `area` \[m²\] with holes into the open, of which `open_share` [-] is open.
#[must_use]
pub fn vented_cover(area: f64, open_share: f64) -> Loss {
    Loss::of(perforated_end(open_share), area)
}

/// An opening of `area` \[m²\] into the open with discharge coefficient `discharge` [-]
/// (eq. N-19); [`SHARP`] for a sharp edge.
#[must_use]
pub fn orifice(area: f64, discharge: f64) -> Loss {
    Loss::coefficient(discharge.powi(-2), area, OPENING_SIGMA)
}

/// A nozzle of `area` \[m²\] into the open with velocity coefficient `velocity` [-]
/// (eq. N-19), [`NOZZLE`] if not known.
#[must_use]
pub fn nozzle(area: f64, velocity: f64) -> Loss {
    orifice(area, velocity)
}

/// Lips of a slot.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lips {
    /// Sharp: the sheet contracts to 0.62 of the width.
    Sharp,
    /// Long and parallel, or rounded.
    Parallel,
}

/// Area of a ring slot at `radius`, `width` wide, across the flow \[m\], in m².
#[must_use]
pub fn ring_area(radius: f64, width: f64) -> f64 {
    2.0 * PI * radius * width
}

/// A ring slot at `radius`, `width` wide \[m\], into the open (eq. N-19).
#[must_use]
pub fn ring_slot(radius: f64, width: f64, lips: Lips) -> Loss {
    let area = ring_area(radius, width);
    match lips {
        Lips::Sharp => orifice(area, SHARP),
        Lips::Parallel => nozzle(area, NOZZLE),
    }
}

/// A chink of `area` \[m²\] into the open, with sharp edges. Its area is seldom known: σ is
/// that of the coefficient only.
#[must_use]
pub fn leak(area: f64) -> Loss {
    orifice(area, SHARP)
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;
    use crate::Air;

    #[test]
    fn a_plate_that_is_all_hole_is_no_plate() {
        assert_relative_eq!(perforated_plate(1.0, 0.0).value, 0.0);
        assert_relative_eq!(perforated_end(1.0).value, 1.0);
        assert!(perforated_plate(0.0, 0.0).value.is_infinite());
    }

    /// Behind few holes there is nothing to get back: a duct behind the plate or none is
    /// the same.
    #[test]
    fn few_holes_lose_as_much_across_a_duct_as_at_its_end() {
        let ratio = perforated_end(1e-3).value / perforated_plate(1e-3, 0.0).value;
        assert_relative_eq!(ratio, 1.0, max_relative = 2e-3);
        assert!(perforated_end(0.5).value > perforated_plate(0.5, 0.0).value);
    }

    /// A tube two to three diameters long discharges 0.82 of what its area would (from
    /// memory, as handbooks have it); a sharp hole 0.60 to 0.62.
    #[test]
    fn single_holes_discharge_like_orifices_and_short_tubes() {
        let discharge = |thickness| {
            let f = 1e-4;
            (perforated_plate(f, thickness).value * f * f).sqrt().recip()
        };
        assert_relative_eq!(discharge(2.4), 0.82, max_relative = 0.01);
        assert_relative_eq!(discharge(0.0), 0.60, max_relative = 0.03);
    }

    #[test]
    fn a_thicker_plate_loses_less() {
        let values: Vec<f64> =
            (0..60).map(|i| perforated_plate(0.3, 0.05 * f64::from(i)).value).collect();
        for pair in values.windows(2) {
            assert!(pair[1] <= pair[0], "{pair:?}");
        }
    }

    /// Below Re = 33/1.67 ≈ 20 on the hole, the slow part is the larger.
    #[test]
    fn slow_flow_through_holes_goes_with_viscosity() {
        let plate =
            Perforation { area: 0.1, open_share: 0.3, diameter: 3e-3, thickness: 0.0 }.across();
        let air = Air::REFERENCE;
        let slow = 1e-6;
        let twice = plate.drop(2.0 * slow, &air) / plate.drop(slow, &air);
        assert_relative_eq!(twice, 2.0, max_relative = 1e-3);
        // At Re = 1000 on the hole the slow part adds 0.033/f² velocity heads.
        let flow = 1000.0 * air.viscosity / air.density / 3e-3 * 0.3 * 0.1;
        let head = 0.5 * air.density * (flow / 0.1).powi(2);
        let heads = plate.drop(flow, &air) / head;
        let fast = perforated_plate(0.3, 0.0).value;
        assert_relative_eq!(heads - fast, 0.033 / 0.09, max_relative = 1e-9);
    }

    /// 0.6 · 4/0.95² = 2.66 Pa and 0.6 · 4/0.62² = 6.24 Pa for 2 m/s; four times that for 4.
    #[test]
    fn a_ring_slot_needs_the_pressure_worked_by_hand() {
        let drop = |lips, speed| {
            let flow = ring_area(0.3, 0.008) * speed;
            ring_slot(0.3, 0.008, lips).drop(flow, &Air::REFERENCE)
        };
        assert_relative_eq!(drop(Lips::Parallel, 2.0), 2.6593, epsilon = 5e-5);
        assert_relative_eq!(drop(Lips::Sharp, 2.0), 6.2435, epsilon = 5e-5);
        assert_relative_eq!(drop(Lips::Sharp, 4.0), 4.0 * drop(Lips::Sharp, 2.0));
        let cover = vented_cover(0.2, 1.0).drop(0.2, &Air::REFERENCE);
        assert_relative_eq!(cover, 0.6, max_relative = 1e-12);
    }
}
