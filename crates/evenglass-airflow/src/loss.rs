//! What air loses on its way: pressure against flow.
//!
//! Every law is odd in the flow and rises with it. Drops are of total pressure: kinetic
//! energy counts as lost where it is thrown away, at a [`fitting::DISCHARGE`] or in an
//! [`opening`] that blows into the open, and only there.

pub mod channel;
pub mod fitting;
pub mod opening;
pub mod porous;

use crate::air::{REFERENCE_DENSITY, REFERENCE_VISCOSITY};
use crate::{Air, Estimate};

use channel::{Channel, Discs};

/// How the pressure lost grows with the flow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Loss {
    /// In proportion to flow and to its square.
    Resistance(Resistance),
    /// Friction in a straight passage, and its ends.
    Channel(Channel),
    /// Friction between two discs.
    Discs(Discs),
}

/// Pressure in proportion to flow and to its square (eq. N-6).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Resistance {
    /// At 1.81 × 10⁻⁵ Pa s [Pa s/m³]; goes with viscosity.
    pub linear: f64,
    /// At 1.2 kg/m³ [Pa s²/m⁶]; goes with density.
    pub quadratic: f64,
    /// One standard deviation of the drop as a share of it [-].
    pub relative_sigma: f64,
}

impl Loss {
    /// A loss of `coefficient` velocity heads on `area` (eq. N-7).
    ///
    /// * `coefficient` — K [-], of Δp = K ρ (Q/A)²/2; `area` — A \[m²\]; no area lets
    ///   nothing through
    /// * `relative_sigma` — [-]
    #[must_use]
    pub fn coefficient(coefficient: f64, area: f64, relative_sigma: f64) -> Self {
        let linear = 0.0;
        let quadratic = if area > 0.0 {
            0.5 * REFERENCE_DENSITY * coefficient.max(0.0) / area / area
        } else {
            f64::INFINITY
        };
        Self::Resistance(Resistance { linear, quadratic, relative_sigma })
    }

    /// A published coefficient on `area` \[m²\], see [`Loss::coefficient`].
    #[must_use]
    pub fn of(estimate: Estimate, area: f64) -> Self {
        Self::coefficient(estimate.value, area, estimate.relative_sigma)
    }

    /// Total pressure lost at a flow \[Pa\]; has the sign of the flow.
    ///
    /// * `flow` — [m³/s]
    #[must_use]
    pub fn drop(&self, flow: f64, air: &Air) -> f64 {
        if flow == 0.0 {
            return 0.0;
        }
        let size = flow.abs();
        let drop = match self {
            Self::Resistance(resistance) => resistance.drop(size, air),
            Self::Channel(channel) => channel.drop(size, air),
            Self::Discs(discs) => discs.drop(size, air),
        };
        drop.copysign(flow)
    }

    /// One standard deviation of the drop as a share of it [-].
    #[must_use]
    pub fn relative_sigma(&self) -> f64 {
        match self {
            Self::Resistance(resistance) => resistance.relative_sigma,
            Self::Channel(_) => channel::CHANNEL_SIGMA,
            Self::Discs(_) => channel::DISCS_SIGMA,
        }
    }
}

impl Resistance {
    fn drop(&self, flow: f64, air: &Air) -> f64 {
        let viscous = self.linear.max(0.0) * air.viscosity / REFERENCE_VISCOSITY * flow;
        let inertial = self.quadratic.max(0.0) * air.density / REFERENCE_DENSITY * flow * flow;
        viscous + inertial
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    /// 200 · 0.02 + 2·10⁴ · 0.02² = 12 Pa.
    #[test]
    fn viscous_and_inertial_parts_follow_their_properties() {
        let law =
            Loss::Resistance(Resistance { linear: 200.0, quadratic: 2e4, relative_sigma: 0.1 });
        let reference = Air::REFERENCE;
        assert_relative_eq!(law.drop(0.02, &reference), 12.0);
        assert_relative_eq!(law.drop(-0.02, &reference), -12.0);
        let viscous = Air { viscosity: 2.0 * reference.viscosity, ..reference };
        assert_relative_eq!(law.drop(0.02, &viscous), 16.0);
        let thin = Air { density: 0.5 * reference.density, ..reference };
        assert_relative_eq!(law.drop(0.02, &thin), 8.0);
    }

    /// 3 · 1.2/2 · (0.02/0.01)² = 7.2 Pa.
    #[test]
    fn a_coefficient_counts_velocity_heads_on_its_area() {
        let law = Loss::coefficient(3.0, 0.01, 0.1);
        assert_relative_eq!(law.drop(0.02, &Air::REFERENCE), 7.2, max_relative = 1e-12);
        let closed = Loss::coefficient(3.0, 0.0, 0.1);
        assert!(closed.drop(1e-9, &Air::REFERENCE).is_infinite());
        assert_relative_eq!(closed.drop(0.0, &Air::REFERENCE), 0.0);
    }
}
