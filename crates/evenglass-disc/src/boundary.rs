//! Where the glass meets the world: boundary points and the heat they exchange.

/// A face of the disc.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum FaceName {
    /// The optical face, up.
    Front,
    /// The flat face.
    Back,
    /// The outer cylinder.
    Rim,
    /// The wall of the central hole.
    Hole,
}

/// A point of the surface at which heat is exchanged.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BoundaryPoint {
    /// The face it lies on.
    pub face: FaceName,
    /// Distance from the axis [m].
    pub radius_m: f64,
    /// Height above the back's plane [m].
    pub height_m: f64,
}

/// Heat exchanged at a point.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Exchange {
    /// Heat leaving the glass per unit of true surface [W m⁻²].
    pub flux: f64,
    /// Its derivative by the surface temperature there [W m⁻² K⁻¹].
    pub slope: f64,
}

/// What surrounds the glass during one stretch of time without jumps.
pub trait Surroundings {
    /// Heat leaving at each boundary point.
    ///
    /// * `time_s` — from the start of the run [s]
    /// * `temperature` — of the glass surface at each point [K], `[points]`
    /// * `exchange` — filled in, `[points]`
    fn exchange(&self, time_s: f64, temperature: &[f64], exchange: &mut [Exchange]);
}

/// Positions on each face at which the film jumps or has a kink [m]: radius on
/// the front and the back, height above the back on rim and hole. The boundary
/// integrals are split there.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Breaks {
    /// Radii on the front.
    pub front: Vec<f64>,
    /// Radii on the back.
    pub back: Vec<f64>,
    /// Heights on the rim.
    pub rim: Vec<f64>,
    /// Heights on the hole's wall.
    pub hole: Vec<f64>,
}
