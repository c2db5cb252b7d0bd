//! The air on the face of the mirror.

use crate::seeing::{Blur, PhaseVariance, saturated_variance};

/// Standard gravity [m s⁻²].
const GRAVITY: f64 = 9.806_65;

/// Kinematic viscosity of air at 10 °C and sea level [m² s⁻¹]; it enters by its fifth root.
const VISCOSITY: f64 = 1.42e-5;

/// Low and high end over the value, for air that moves by its own warmth.
///
/// The laboratories that [`natural_blur`] rests on agree to 25 %. Its number was measured at
/// 4200 m, where air bends light 0.6 times as much as at sea level: taken literally it would
/// be 1.7 times as large down here, which is what the high end allows for.
const NATURAL_BAND: (f64, f64) = (0.75, 1.75);

/// Eddies of air that moves by its own warmth, over the diameter: low end, value, high end.
const EDDIES: [f64; 3] = [0.25, 0.5, 1.0];

/// Eddies a fan may bring along, over the diameter: the high end for moved air.
const STIRRED: f64 = 0.25;

/// The mirror's face and the air that touches it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FaceAir {
    /// Mean of the face less the air in the beam \[K\].
    pub excess_k: f64,
    /// Speed along the face of air that something else moves [m s⁻¹]; 0 is still air.
    pub speed_m_s: f64,
    /// Absolute temperature of the air.
    pub air_k: f64,
    /// Diameter of the mirror that is in use \[m\].
    pub aperture_m: f64,
}

/// What the air on the face costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FaceSeeing {
    /// The blur of a long exposure.
    pub blur: Blur,
    /// The phase that it disturbs.
    pub variance: PhaseVariance,
    /// How far to trust it.
    pub state: FaceState,
}

/// How far the laws of the face can be trusted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FaceState {
    /// Within what was measured.
    Measured,
    /// The face is colder than the air by more than 1 K: no seeing, but perhaps dew, and cold
    /// air that flows off it.
    Cold,
    /// More than 5 K or 5 m/s: an extrapolation.
    Extrapolated,
}

/// Blur and phase of the air on the face (eqs. S-8 to S-13).
#[must_use]
pub fn face_seeing(air: &FaceAir) -> FaceSeeing {
    if air.excess_k <= 0.0 {
        let state = if air.excess_k < -1.0 { FaceState::Cold } else { FaceState::Measured };
        return FaceSeeing { blur: Blur::NONE, variance: PhaseVariance::NONE, state };
    }
    let beyond = air.excess_k > 5.0 || air.speed_m_s > 5.0;
    let state = if beyond { FaceState::Extrapolated } else { FaceState::Measured };
    let free = natural_blur(air.excess_k);
    let moved = sheared_blur(air.excess_k, air.speed_m_s, air.aperture_m).min(free);
    let buoyant = critical_speed(air).powi(2);
    // Ri/(1 + Ri), written so that still air is no division by nought.
    let share = buoyant / (buoyant + air.speed_m_s * air.speed_m_s);
    let between = |still: f64, stirred: f64| stirred + (still - stirred) * share;
    let (down, up) = NATURAL_BAND;
    let blur = Blur {
        value: between(free, moved),
        low: between(down * free, 0.0),
        high: between(up * free, up * moved),
    };
    let diameter = air.aperture_m;
    let layer = layer_depth(air.speed_m_s, diameter);
    let still = [down * free, free, up * free];
    let [low, value, high] =
        [0, 1, 2].map(|end| saturated_variance(still[end], EDDIES[end] * diameter));
    let variance = PhaseVariance {
        value: between(value, saturated_variance(moved, layer)),
        low: between(low, 0.0),
        high: between(high, saturated_variance(up * moved, layer.max(STIRRED * diameter))),
    };
    FaceSeeing { blur, variance, state }
}

/// Blur \[arcsec\] of a mirror warmer than the air by this \[K\], in air that only its own warmth
/// moves (eq. S-8).
///
/// Measured from a few hundredths of a kelvin to 5 K, on mirrors of 0.25 to 3.6 m.
///
/// # Source
/// R. Racine, D. Salmon, D. Cowley, J. Sovka, "Mirror, dome, and natural seeing at CFHT",
/// Publ. Astron. Soc. Pac. 103 (1991) 1020–1032, abstract. doi:10.1086/132920. That
/// laboratory mirrors agree within 25 %, at any size: L. Zago, *The effect of the local
/// atmospheric environment on astronomical observations*, thesis, EPFL (1995), section 5.3.
#[must_use]
pub fn natural_blur(excess_k: f64) -> f64 {
    0.40 * excess_k.max(0.0).powf(1.2)
}

/// Blur \[arcsec\] of the thin layer of a mirror warmer than the air by this \[K\], swept by air of
/// this speed [m s⁻¹], if its eddies were wide (eq. S-9). Derived for 0.2 to 5 m/s.
///
/// # Source
/// Derived on the page from J. C. Wyngaard, Y. Izumi, S. A. Collins, "Behavior of the
/// refractive-index-structure parameter near the ground", J. Opt. Soc. Am. 61 (1971)
/// 1646–1650, and scaled by what the same derivation overrates in still air.
#[must_use]
pub fn sheared_blur(excess_k: f64, speed_m_s: f64, diameter_m: f64) -> f64 {
    0.24 * excess_k.max(0.0).powf(1.2) * speed_m_s.powf(-0.16) * (diameter_m / 0.3).powf(0.04)
}

/// The speed [m s⁻¹] at which a warm face's own draught and moved air are equals: a Richardson
/// number of 1 (eq. S-10).
#[must_use]
pub fn critical_speed(air: &FaceAir) -> f64 {
    (GRAVITY * air.excess_k.max(0.0) / air.air_k * air.aperture_m).sqrt()
}

/// Depth \[m\] of a turbulent layer at the far side of the mirror, not above its diameter
/// (eq. S-12).
///
/// # Source
/// H. Schlichting, *Boundary-Layer Theory*: 0.37 x Re^(−1/5). From memory.
fn layer_depth(speed_m_s: f64, diameter_m: f64) -> f64 {
    let reynolds = speed_m_s * diameter_m / VISCOSITY;
    (0.37 * diameter_m * reynolds.powf(-0.2)).min(diameter_m)
}
