//! How far a stream comes to the temperature of the surface it passes.

use crate::Air;

/// Transfer units of a stream along a surface, NTU [-] (eq. N-32).
///
/// * `conductance` — film times area [W/K]; `flow` — [m³/s]; without flow, infinite
#[must_use]
pub fn transfer_units(conductance: f64, flow: f64, air: &Air) -> f64 {
    if conductance <= 0.0 {
        return 0.0;
    }
    conductance / (air.density * air.specific_heat * flow.abs())
}

/// Share of the difference to the surface that the stream has made up when it leaves [-]
/// (eq. N-33).
///
/// # Source
/// W. M. Kays and A. L. London, *Compact Heat Exchangers*: one stream along a surface of
/// one temperature.
#[must_use]
pub fn effectiveness(transfer_units: f64) -> f64 {
    -(-transfer_units.max(0.0)).exp_m1()
}

/// Temperature of a stream that leaves a surface, in the unit of the two given.
///
/// * `inlet` — of the stream as it comes; `surface` — mean of the surface
#[must_use]
pub fn outlet(inlet: f64, surface: f64, transfer_units: f64) -> f64 {
    inlet + effectiveness(transfer_units) * (surface - inlet)
}

/// By how much `power` \[W\] warms a stream of `flow` [m³/s] \[K\] (eq. N-29); nothing
/// without flow.
#[must_use]
pub fn warming(power: f64, flow: f64, air: &Air) -> f64 {
    let carried = air.density * air.specific_heat * flow;
    if carried > 0.0 { power / carried } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    #[test]
    fn a_stream_in_two_parts_ends_where_it_would_in_one() {
        let half = outlet(outlet(5.0, 9.0, 0.7), 9.0, 0.7);
        assert_relative_eq!(half, outlet(5.0, 9.0, 1.4), max_relative = 1e-14);
    }

    #[test]
    fn still_air_takes_the_temperature_of_the_surface_and_fast_air_keeps_its_own() {
        let units = |flow| transfer_units(3.0, flow, &Air::REFERENCE);
        assert_relative_eq!(outlet(5.0, 9.0, units(0.0)), 9.0);
        assert_relative_eq!(outlet(5.0, 9.0, units(1e9)), 5.0, max_relative = 1e-7);
        assert_relative_eq!(units(-0.1), units(0.1));
        assert_relative_eq!(transfer_units(0.0, 0.0, &Air::REFERENCE), 0.0);
    }

    /// Heat given up by the surface is heat taken up by the stream: for small NTU both
    /// are film × area × difference.
    #[test]
    fn a_short_surface_passes_heat_in_proportion_to_its_conductance() {
        let air = Air::REFERENCE;
        let (conductance, flow) = (1e-4, 0.02);
        let rise = outlet(0.0, 1.0, transfer_units(conductance, flow, &air));
        let heat = air.density * air.specific_heat * flow * rise;
        assert_relative_eq!(heat, conductance, max_relative = 1e-5);
    }
}
