//! Water vapour on its way to a surface: how fast it spreads, how much there is, and the
//! heat it leaves there.

use evenglass_units::{Pressure, Temperature};

use super::properties::AirProperties;
use super::saturation::{
    enhancement_factor, frost_point, saturation_pressure_ice, saturation_pressure_water,
};

/// Gas constant of water vapour [J kg⁻¹ K⁻¹].
const GAS_CONSTANT: f64 = 461.523;

/// Temperature at which ice melts \[K\].
const MELTING: f64 = 273.15;

/// Pressure at which the diffusivity was measured \[Pa\].
const ATMOSPHERE: f64 = 101_325.0;

/// Diffusivity of water vapour in air [m² s⁻¹] (eq. D-1), within 7 %.
///
/// # Source
/// W. J. Massman, "A review of the molecular diffusivities of H₂O, CO₂, CH₄, CO, O₃, SO₂,
/// NH₃, N₂O, NO, and NO₂ in air, O₂ and N₂ near STP", Atmos. Environ. 32 (1998) 1111–1127;
/// the constants as a second public source quotes them.
#[must_use]
pub fn vapour_diffusivity(temperature: Temperature, pressure: Pressure) -> f64 {
    2.178e-5 * (temperature.kelvin() / MELTING).powf(1.81) * ATMOSPHERE / pressure.pascals()
}

/// Lewis number of vapour in this air [-]: heat spreads that much faster than vapour.
#[must_use]
pub fn lewis_number(air: &AirProperties, pressure: Pressure) -> f64 {
    let temperature = Temperature::from_kelvin(air.temperature);
    air.thermal_diffusivity() / vapour_diffusivity(temperature, pressure)
}

/// Heat that a mass of vapour gives up as dew [J kg⁻¹] (eq. D-2), −25 to 40 °C.
///
/// # Source
/// R. R. Rogers and M. K. Yau, *A Short Course in Cloud Physics*, 3rd ed. (1989), as used
/// by public psychrometric codes.
#[must_use]
pub fn heat_of_condensation(temperature: Temperature) -> f64 {
    let t = temperature.celsius();
    1e3 * (2500.8 - 2.36 * t + 0.0016 * t * t - 6e-5 * t * t * t)
}

/// Heat that a mass of vapour gives up as hoar frost [J kg⁻¹] (eq. D-3), −40 to 0 °C.
///
/// # Source
/// Rogers and Yau (1989), as for [`heat_of_condensation`].
#[must_use]
pub fn heat_of_deposition(temperature: Temperature) -> f64 {
    let t = temperature.celsius();
    1e3 * (2834.1 - 0.29 * t - 0.004 * t * t)
}

/// Mass of vapour in a volume [kg m⁻³] (eq. D-4).
#[must_use]
pub fn vapour_density(vapour: Pressure, temperature: Temperature) -> f64 {
    vapour.pascals() / (GAS_CONSTANT * temperature.kelvin())
}

/// Temperature below which a surface gathers dew, or frost below 0 °C (eq. D-5): the dew
/// point or the frost point, whichever is higher.
///
/// * `dew_point` — over liquid water, also below 0 °C
#[must_use]
pub fn wetting_point(dew_point: Temperature) -> Temperature {
    // Above the triple point the curve for ice lies higher, its frost point lower.
    if dew_point.kelvin() > 273.16 {
        return dew_point;
    }
    let frost = frost_point(dew_point, 1.0);
    if frost.kelvin() > dew_point.kelvin() { frost } else { dew_point }
}

/// Vapour right at a wet surface \[Pa\]: over ice where that is below 0 °C (eq. D-6).
#[must_use]
pub fn vapour_at_surface(surface: Temperature, pressure: Pressure) -> Pressure {
    let saturated = if surface.kelvin() < MELTING {
        saturation_pressure_ice(surface)
    } else {
        saturation_pressure_water(surface)
    };
    Pressure::from_pascals(enhancement_factor(pressure) * saturated.pascals())
}

/// Heat of the film that forms on a surface of a temperature [J kg⁻¹]: dew, or frost where
/// that is below 0 °C.
#[must_use]
pub fn heat_of_wetting(surface: Temperature) -> f64 {
    if surface.kelvin() < MELTING {
        heat_of_deposition(surface)
    } else {
        heat_of_condensation(surface)
    }
}

#[cfg(test)]
mod tests {
    use approx::{assert_abs_diff_eq, assert_relative_eq};

    use super::*;

    /// F. P. Incropera et al., *Fundamentals of Heat and Mass Transfer*, table A.8, from
    /// memory: water vapour in air at 298 K and one atmosphere, 0.26 × 10⁻⁴ m²/s.
    #[test]
    fn vapour_spreads_as_a_textbook_says() {
        let at =
            vapour_diffusivity(Temperature::from_kelvin(298.0), Pressure::from_pascals(ATMOSPHERE));
        // The two sources claim 7 % and two digits.
        assert_relative_eq!(at, 2.6e-5, max_relative = 0.025);
    }

    /// Heat of fusion at 0 °C is 333.6 kJ/kg (any handbook; from memory).
    #[test]
    fn frost_gives_up_the_heat_of_fusion_beyond_that_of_dew() {
        let zero = Temperature::from_celsius(0.0);
        let fusion = heat_of_deposition(zero) - heat_of_condensation(zero);
        assert_abs_diff_eq!(fusion, 333.6e3, epsilon = 0.5e3);
    }

    #[test]
    fn the_point_of_wetting_changes_from_dew_to_frost_without_a_step() {
        let at = |celsius: f64| wetting_point(Temperature::from_celsius(celsius)).celsius();
        assert_abs_diff_eq!(at(5.0), 5.0, epsilon = 1e-12);
        // Frost before dew: about a tenth of the distance from 0 °C.
        assert_abs_diff_eq!(at(-0.95), -0.84, epsilon = 0.01);
        assert!(at(-10.0) > -9.0);
        let [below, above] = [0.009_99, 0.010_01].map(at);
        assert_abs_diff_eq!(above, below, epsilon = 1e-3);
        let mut last = at(-30.0);
        for tenths in -299..100 {
            let here = at(f64::from(tenths) / 10.0);
            assert!(here > last, "at {tenths} tenths");
            last = here;
        }
    }

    /// Air at its dew point holds as much vapour as a wet surface of that temperature.
    #[test]
    fn a_surface_at_the_point_of_wetting_neither_gathers_nor_loses() {
        let pressure = Pressure::from_pascals(95e3);
        for dew in [-12.0, -1.0, 4.0, 15.0] {
            let dew = Temperature::from_celsius(dew);
            let air = super::super::vapour_pressure_from_dew_point(dew, pressure);
            let surface = vapour_at_surface(wetting_point(dew), pressure);
            assert_relative_eq!(air.pascals(), surface.pascals(), max_relative = 1e-9);
        }
    }

    /// 1000 Pa at 283.15 K: 1000/(461.523 · 283.15) = 7.6523 g/m³, by hand.
    #[test]
    fn vapour_weighs_what_an_ideal_gas_does() {
        let density = vapour_density(Pressure::from_pascals(1e3), Temperature::from_celsius(10.0));
        assert_relative_eq!(density, 7.652_34e-3, max_relative = 1e-5);
    }
}
