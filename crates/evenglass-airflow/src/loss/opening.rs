//! Plates with holes, and openings that blow into the open.
//!
//! What blows into the open loses all its kinetic energy: that is part of the drop of
//! [`orifice`], [`nozzle`], [`ring_slot`], [`vented_cover`] and [`leak`].

use std::f64::consts::{PI, SQRT_2};

use crate::air::REFERENCE_VISCOSITY;
use crate::{Estimate, Validity};

use super::{Loss, Resistance};

/// Discharge coefficient of an opening with sharp edges [-].
pub const SHARP: f64 = 0.62;

/// Velocity coefficient of a nozzle with long parallel or rounded lips [-].
pub const NOZZLE: f64 = 0.95;

/// One standard deviation of an opening's drop [-]: 5 % of its coefficient.
const OPENING_SIGMA: f64 = 0.10;

/// Loss of slow flow through a hole: K = 33/(Re f²), Re on the hole.
const SLOW_HOLES: f64 = 33.0;

/// Loss of a plate with sharp holes across a duct, on the speed before it (eq. A-15).
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
    let edge = SQRT_2 * thick_edge(thickness) / thick_edge(0.0);
    let value = (0.5 * closed + edge * closed.powf(1.5) + closed * closed) / (f * f);
    Estimate {
        value: if f > 0.0 { value } else { f64::INFINITY },
        validity: Validity::of(open_share, 0.02..=0.9),
        relative_sigma: if thickness > 0.1 { 0.15 } else { 0.10 },
    }
}

/// Loss of a plate with sharp holes through which a duct blows into the open, on the
/// speed before it (eq. A-16). 1 without a plate.
///
/// * `open_share` — f [-], 0 to 1
///
/// # Source
/// I. E. Idelchik, as above, chapter 11, from memory.
#[must_use]
pub fn perforated_end(open_share: f64) -> Estimate {
    let f = open_share.min(1.0);
    let value = ((1.0 + (0.5 * (1.0 - f)).sqrt()) / f).powi(2);
    Estimate {
        value: if f > 0.0 { value } else { f64::INFINITY },
        validity: Validity::of(open_share, 0.02..=1.0),
        relative_sigma: 0.10,
    }
}

/// Coefficient τ of a thick edge [-] (eq. A-17); falls from 1.35 to nothing at 2.4 hole
/// diameters, where the jet has attached to the hole's wall.
fn thick_edge(thickness: f64) -> f64 {
    let l = thickness.clamp(0.0, 2.4);
    let exponent = 0.25 + 0.535 * l.powi(8) / (0.05 + l.powi(7));
    (2.4 - l) * 10f64.powf(-exponent)
}

/// A plate full of holes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Perforation {
    /// Of the plate [m²].
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
    /// all below 20 (eq. A-18).
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

/// A cover of `area` [m²] with holes into the open, of which `open_share` [-] is open.
#[must_use]
pub fn vented_cover(area: f64, open_share: f64) -> Loss {
    Loss::of(perforated_end(open_share), area)
}

/// An opening of `area` [m²] into the open with discharge coefficient `discharge` [-]
/// (eq. A-19); [`SHARP`] for a sharp edge.
#[must_use]
pub fn orifice(area: f64, discharge: f64) -> Loss {
    Loss::coefficient(discharge.powi(-2), area, OPENING_SIGMA)
}

/// A nozzle of `area` [m²] into the open with velocity coefficient `velocity` [-]
/// (eq. A-19), [`NOZZLE`] if not known.
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

/// A ring slot at `radius`, `width` wide \[m\], into the open (eq. A-19).
#[must_use]
pub fn ring_slot(radius: f64, width: f64, lips: Lips) -> Loss {
    let area = ring_area(radius, width);
    match lips {
        Lips::Sharp => orifice(area, SHARP),
        Lips::Parallel => nozzle(area, NOZZLE),
    }
}

/// A chink of `area` [m²] into the open, with sharp edges. Its area is seldom known: σ is
/// that of the coefficient only.
#[must_use]
pub fn leak(area: f64) -> Loss {
    orifice(area, SHARP)
}
