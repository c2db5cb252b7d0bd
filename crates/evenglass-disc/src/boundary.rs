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
    /// Distance from the axis \[m\].
    pub radius_m: f64,
    /// Height above the back's plane \[m\].
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

/// Heat that a body beside the glass takes up.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct BodyExchange {
    /// Heat flowing into the body \[W\].
    pub flow_w: f64,
    /// Its derivative by the body's own temperature [W/K]; negative if the body follows what
    /// surrounds it.
    pub slope_w_per_k: f64,
}

/// What surrounds the glass during one stretch of time without jumps.
pub trait Surroundings {
    /// Heat leaving at each boundary point.
    ///
    /// * `time_s` — from the start of the run \[s\]
    /// * `temperature` — of the glass surface at each point \[K\], `[sectors · points]`: all
    ///   points of the first sector, then those of the next
    /// * `exchange` — filled in, likewise
    fn exchange(&self, time_s: f64, temperature: &[f64], exchange: &mut [Exchange]);

    /// Number of bodies beside the glass, each of one temperature; none unless overridden.
    fn bodies(&self) -> usize {
        0
    }

    /// Number of sectors around the axis, each of which exchanges heat of its own: that of
    /// the [`crate::Variation`] the glass may follow, at its angles; one unless overridden.
    /// A boundary point's share of a sector is its area divided by their number, also where the
    /// sectors fill but a half or less of the way around.
    fn sectors(&self) -> usize {
        1
    }

    /// Whether the flux at a point depends on the temperature of other points, as that of air
    /// which passes one after the other does. With bodies it is taken to.
    fn is_coupled(&self) -> bool {
        false
    }

    /// Heat leaving at each boundary point and heat flowing into each body: what a
    /// [`crate::Stepper`] asks.
    ///
    /// Slopes are derivatives by the point's or the body's own temperature while all others
    /// stay; how the others act is found by differences, which also mend slopes that are only
    /// near. Heat that passes from glass to bodies is best summed from what the points exchange
    /// and not read off a temperature: differences over a millikelvin magnify its rounding.
    /// Unless overridden there is no body, and [`Surroundings::exchange`] says it all.
    ///
    /// * `time_s` — from the start of the run \[s\]
    /// * `exchanges` — filled in
    fn exchange_with_bodies(
        &self,
        time_s: f64,
        temperatures: &Temperatures<'_>,
        exchanges: Exchanges<'_>,
    ) {
        self.exchange(time_s, temperatures.surface, exchanges.surface);
    }

    /// How exchange changes with temperatures, to first order: fluxes and flows beyond those
    /// of each point's and body's own slope. False where this is not known; then a
    /// [`crate::Stepper`] finds it by differences of [`Surroundings::exchange_with_bodies`],
    /// which asks for all films again.
    ///
    /// * `time_s`, `state` — at which the exchange was found
    /// * `change` — of the temperatures \[K\]
    /// * `flows` — filled in: `flux` and `flow_w` alone
    fn follow(
        &self,
        time_s: f64,
        state: &ExchangeState<'_>,
        change: &Temperatures<'_>,
        flows: Exchanges<'_>,
    ) -> bool {
        let _ = (time_s, state, change, flows);
        false
    }
}

/// Temperatures and the exchange found there.
#[derive(Debug, Clone, Copy)]
pub struct ExchangeState<'e> {
    /// The temperatures.
    pub temperatures: Temperatures<'e>,
    /// At each boundary point, `[sectors · points]`.
    pub surface: &'e [Exchange],
    /// With each body, `[bodies]`.
    pub bodies: &'e [BodyExchange],
}

/// Temperatures that heat exchange depends on.
#[derive(Debug, Clone, Copy)]
pub struct Temperatures<'t> {
    /// Of the glass surface at each boundary point \[K\], `[sectors · points]`.
    pub surface: &'t [f64],
    /// Of each body \[K\], `[bodies]`.
    pub bodies: &'t [f64],
}

/// Where heat exchange is filled in.
#[derive(Debug)]
pub struct Exchanges<'e> {
    /// At each boundary point, `[sectors · points]`.
    pub surface: &'e mut [Exchange],
    /// With each body, `[bodies]`.
    pub bodies: &'e mut [BodyExchange],
}

/// Positions on each face \[m\]: radius on the front and the back, height above
/// the back on rim and hole.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FacePositions {
    /// Radii on the front.
    pub front: Vec<f64>,
    /// Radii on the back.
    pub back: Vec<f64>,
    /// Heights on the rim.
    pub rim: Vec<f64>,
    /// Heights on the hole's wall.
    pub hole: Vec<f64>,
}

/// Where the films are not smooth along a face.
///
/// The boundary integrals are split at all of them. Beside a jump the temperature
/// itself behaves like d ln d with the distance d, which no polynomial follows:
/// there the points are refined as well, along the face and into the glass.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Breaks {
    /// Where a film has two values.
    pub jumps: FacePositions,
    /// Where only its slope changes.
    pub kinks: FacePositions,
}

impl Breaks {
    /// Jumps and kinks of one face \[m\], in no order.
    pub(crate) fn of(&self, face: FaceName) -> Vec<f64> {
        let on = |positions: &FacePositions| match face {
            FaceName::Front => positions.front.clone(),
            FaceName::Back => positions.back.clone(),
            FaceName::Rim => positions.rim.clone(),
            FaceName::Hole => positions.hole.clone(),
        };
        let mut all = on(&self.jumps);
        all.extend(on(&self.kinks));
        all
    }
}
