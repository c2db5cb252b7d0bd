//! How strongly air bends light, and how that changes with its temperature.
//!
//! Equation numbers refer to docs/physics/image.md.

/// 0 °C \[K\].
const ICE_POINT_K: f64 = 273.15;

/// Index of refraction of dry air less one, at a wavelength \[m\] (eq. S-1).
///
/// * `air_k` — absolute temperature; tested from 0 to 35 °C, used below as well
/// * `pressure_pa` — 60 to 120 kPa
/// * `wavelength_m` — 350 to 650 nm
///
/// Moisture is left out: at night it lowers the value by less than a part in a thousand.
///
/// # Source
/// K. P. Birch, M. J. Downs, "An updated Edlén equation for the refractive index of air",
/// Metrologia 30 (1993) 155–162, and the correction in 31 (1994) 315–316; coefficients as
/// two public codes quote them. doi:10.1088/0026-1394/31/4/006
#[must_use]
pub fn refractivity(air_k: f64, pressure_pa: f64, wavelength_m: f64) -> f64 {
    let celsius = air_k - ICE_POINT_K;
    let crowding = 1.0 + 1e-8 * (0.601 - 0.009_72 * celsius) * pressure_pa;
    standard(wavelength_m) * pressure_pa / 96_095.43 * crowding / (1.0 + 0.003_661 * celsius)
}

/// Change of the index of dry air with temperature at constant pressure \[K⁻¹\], negative: warm
/// air is thin (eq. S-2). Arguments as for [`refractivity`], whose derivative it is.
#[must_use]
pub fn thermal_slope(air_k: f64, pressure_pa: f64, wavelength_m: f64) -> f64 {
    let celsius = air_k - ICE_POINT_K;
    let scale = standard(wavelength_m) * pressure_pa / 96_095.43;
    let (dilution, growth) = (1.0 + 0.003_661 * celsius, 0.003_661);
    let crowding = 1.0 + 1e-8 * (0.601 - 0.009_72 * celsius) * pressure_pa;
    let thinning = -1e-8 * 0.009_72 * pressure_pa;
    scale * (thinning - crowding * growth / dilution) / dilution
}

/// The index less one of standard air, 15 °C and 101 325 Pa.
fn standard(wavelength_m: f64) -> f64 {
    // Waves per micrometre, squared.
    let waves = (1e-6 / wavelength_m).powi(2);
    1e-8 * (8_342.54 + 2_406_147.0 / (130.0 - waves) + 15_998.0 / (38.9 - waves))
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    const GREEN: f64 = 550e-9;

    /// The formula, evaluated elsewhere: temperature, pressure, n − 1, dn/dT by central
    /// differences.
    #[test]
    fn the_index_and_its_slope_are_those_of_the_updated_equation() {
        for (celsius, pascal, index, slope) in [
            (15.0, 101_325.0, 2.778_354_923e-4, -9.669_443e-7),
            (10.0, 101_325.0, 2.827_555_732e-4, -1.001_396e-6),
            (0.0, 101_325.0, 2.931_361_076e-4, -1.076_060e-6),
            (10.0, 80_000.0, 2.232_224_709e-4, -7.900_933e-7),
        ] {
            let kelvin = celsius + ICE_POINT_K;
            assert_relative_eq!(refractivity(kelvin, pascal, GREEN), index, max_relative = 1e-9);
            // Their differences span a kelvin, which costs (0.5 K/T)².
            assert_relative_eq!(thermal_slope(kelvin, pascal, GREEN), slope, max_relative = 5e-6);
        }
    }

    /// n − 1 follows the density, so that the slope is near −(n − 1)/T (Gladstone and Dale).
    #[test]
    fn the_slope_is_that_of_a_gas() {
        let (index, slope) = (refractivity(283.15, 9e4, GREEN), thermal_slope(283.15, 9e4, GREEN));
        assert_relative_eq!(slope, -index / 283.15, max_relative = 5e-3);
    }
}
