//! The laminar layer a slot jet leaves along a wall, from its potential core to the
//! far wall jet.
//!
//! Lengths along the wall are those of a plane wall. An axisymmetric layer is
//! brought to a plane one by [`plane_distance`].

use std::f64::consts::PI;

use crate::{Estimate, Validity};

/// Distance at which the far wall jet would have the nozzle's speed, over the slot's
/// Reynolds number and the jet's thickness [-] (eq. C-30): 2.5 · 2^(−10/3)/2.
pub const REACH: f64 = 0.124_015_707_185_015_58;

/// Virtual origin of the far wall jet before the nozzle, over the reach [-].
const ORIGIN: f64 = 0.775;

/// Film of the far wall jet over the core's continued with the power −3/4, air [-].
const FAR_FILM: f64 = 0.855;

/// A laminar jet leaving a slot along a wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LaminarJet {
    /// Of the jet at the nozzle [m/s]
    pub speed: f64,
    /// Of the jet at the nozzle \[m\]
    pub thickness: f64,
    /// [m²/s]
    pub kinematic_viscosity: f64,
}

impl LaminarJet {
    /// Distance along a plane wall over the reach of the jet [-] (eq. C-30).
    #[must_use]
    pub fn relative(&self, distance: f64) -> f64 {
        let reynolds = self.speed * self.thickness / self.kinematic_viscosity;
        distance / (REACH * reynolds * self.thickness)
    }

    /// Film coefficient at `distance` along a plane isothermal wall that starts at the
    /// nozzle [W m⁻² K⁻¹] (eqs. C-31 and C-32).
    ///
    /// * `distance` — from the nozzle \[m\], above 0
    /// * `conductivity` — of the air [W m⁻¹ K⁻¹]; `prandtl` — [-], that of air
    ///
    /// # Source
    /// In the core E. Pohlhausen, Z. angew. Math. Mech. 1 (1921) 115–121; far away
    /// [`far_nusselt`]; between them a fit, within 2 %, of the boundary layer equations
    /// solved in `tests/laminar_layer.rs`.
    #[must_use]
    pub fn film(&self, distance: f64, conductivity: f64, prandtl: f64) -> f64 {
        let core = 0.332 * conductivity * prandtl.cbrt();
        let rate = (self.speed / (self.kinematic_viscosity * distance)).sqrt();
        core * rate * film_share(self.relative(distance))
    }

    /// Slope of the speed at a plane wall [1/s] (eq. C-33).
    ///
    /// * `distance` — from the nozzle \[m\], above 0
    ///
    /// # Source
    /// In the core H. Blasius, Z. Math. Phys. 56 (1908) 1–37; far away
    /// M. B. Glauert, "The wall jet", J. Fluid Mech. 1 (1956) 625–643.
    #[must_use]
    pub fn wall_shear_rate(&self, distance: f64) -> f64 {
        let rate = (self.speed / (self.kinematic_viscosity * distance)).sqrt();
        0.332 * self.speed * rate * shear_share(self.relative(distance))
    }
}

/// Flow along the wall over that of the nozzle, at a distance relative to the reach
/// (eq. C-34).
///
/// # Source
/// In the core the mixing of a half jet with air at rest (R. C. Lock, Q. J. Mech.
/// Appl. Math. 4 (1951) 42–63; the constant 1.238 agrees with the layer solved in
/// `tests/laminar_layer.rs`); far away Glauert (1956).
#[must_use]
pub fn flow_ratio(relative: f64) -> f64 {
    let core = 1.0 + 1.238 * (REACH * relative).sqrt();
    let far = 1.255_07 * (relative + ORIGIN).sqrt().sqrt();
    core.min(far)
}

/// Momentum flux along the wall over that of the nozzle, at a distance relative to the
/// reach (eq. C-34).
///
/// # Source
/// In the core the drag of Blasius' layer; far away Glauert (1956).
#[must_use]
pub fn momentum_ratio(relative: f64) -> f64 {
    let core = 1.0 - 0.664 * (REACH * relative).sqrt();
    let far = 0.885_7 / (relative + ORIGIN).sqrt().sqrt();
    core.max(far)
}

fn film_share(relative: f64) -> f64 {
    let decayed = (1.0 + relative.powi(3)).powf(-1.0 / 12.0);
    decayed * (FAR_FILM + (1.0 - FAR_FILM) / (1.0 + relative / 38.0))
}

fn shear_share(relative: f64) -> f64 {
    // The far law's own largest value, which it meets where the core ends.
    const HIGHEST: f64 = 0.516_666_667;
    let far = |x: f64| x.sqrt() * (x + ORIGIN).powf(-1.25);
    if relative <= HIGHEST { 1.0 } else { far(relative) / far(HIGHEST) }
}

/// Distance along a plane wall that is equivalent to the path from the ring of radius
/// `radius` inward to `distance` from it \[m\] (eq. C-29).
///
/// The layer at radius r of the disc is the plane one thinned by r/R: its film and its
/// wall shear are r/R of the plane layer's, its depth R/r of it.
///
/// # Source
/// W. Mangler, Z. angew. Math. Mech. 28 (1948) 97–103: ∫ (r/R)² dx.
#[must_use]
pub fn plane_distance(radius: f64, distance: f64) -> f64 {
    let share = distance / radius;
    distance * (1.0 - share + share * share / 3.0)
}

/// Largest speed of the far laminar wall jet [m/s] (eq. C-35).
///
/// * `speed`, `thickness` — of the jet at the nozzle [m/s], \[m\]
/// * `distance` — from the virtual origin \[m\]
///
/// # Source
/// Glauert (1956); the invariant of a jet that leaves with one speed is U³s²/2.
#[must_use]
pub fn far_peak_speed(jet: &LaminarJet, distance: f64) -> f64 {
    let invariant = 0.5 * jet.speed.powi(3) * jet.thickness * jet.thickness;
    2f64.powf(-5.0 / 3.0) * (2.5 * invariant / (jet.kinematic_viscosity * distance)).sqrt()
}

/// Local Nusselt number of the far laminar wall jet on an isothermal wall (eq. C-36).
///
/// * `reynolds` — on the local peak speed and the distance from the virtual origin [-]
/// * `prandtl` — [-]
///
/// # Source
/// W. H. Schwarz and B. Caswell, "Some heat transfer characteristics of the
/// two-dimensional laminar incompressible wall jet", Chem. Eng. Sci. 16 (1961)
/// 338–351; the closed form is derived on the page.
#[must_use]
pub fn far_nusselt(reynolds: f64, prandtl: f64) -> Estimate {
    let layer = (4.0 * PEAK).sqrt().recip();
    Estimate {
        value: layer / beta_with_third(prandtl) * reynolds.sqrt(),
        validity: Validity::of(reynolds, 1e2..=1e5),
        relative_sigma: 0.05,
    }
}

/// Largest speed of Glauert's profile, 2^(−5/3) [-]: f' = (2/3) g (1 − g³) at g³ = 1/4.
pub const PEAK: f64 = 0.314_980_262_473_718_3;

/// The beta function B(1/3, b), b > 0.
#[must_use]
pub fn beta_with_third(b: f64) -> f64 {
    (ln_gamma(1.0 / 3.0) + ln_gamma(b) - ln_gamma(b + 1.0 / 3.0)).exp()
}

/// Stirling's series after shifting the argument beyond 8.
fn ln_gamma(argument: f64) -> f64 {
    let mut z = argument;
    let mut shift = 0.0;
    while z < 8.0 {
        shift += z.ln();
        z += 1.0;
    }
    let inverse = 1.0 / (z * z);
    let series =
        (1.0 / 12.0 - inverse * (1.0 / 360.0 - inverse * (1.0 / 1260.0 - inverse / 1680.0))) / z;
    (z - 0.5) * z.ln() - z + 0.5 * (2.0 * PI).ln() + series - shift
}
