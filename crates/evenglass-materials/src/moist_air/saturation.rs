//! Saturation over water and ice, dew and frost points.

use evenglass_units::{Pressure, Temperature};

/// Ratio of the molar masses of water and dry air [-].
const MOLAR_MASS_RATIO: f64 = 0.621_945;

/// Driest air the dew point is computed for; drier air is taken as this. Its dew
/// point at 20 °C is near −100 °C, far from any optic.
const LOWEST_HUMIDITY: f64 = 1e-6;

/// Limits of the saturation formulas, in which dew and frost points are sought \[K\].
const COLDEST: f64 = 123.0;
const WARMEST: f64 = 373.0;

/// Saturation pressure over liquid water, also supercooled (eq. A-1).
///
/// Published for 123 to 332 K.
///
/// # Source
/// D. M. Murphy and T. Koop, "Review of the vapour pressures of ice and
/// supercooled water for atmospheric applications", Q. J. R. Meteorol. Soc. 131
/// (2005) 1539–1565, eq. 10. doi:10.1256/qj.04.94
#[must_use]
pub fn saturation_pressure_water(temperature: Temperature) -> Pressure {
    Pressure::from_pascals(ln_water(temperature.kelvin()).0.exp())
}

/// Saturation pressure over ice (eq. A-2).
///
/// Published for 110 K to the melting point; continued above it.
///
/// # Source
/// Murphy and Koop (2005), eq. 7, as for [`saturation_pressure_water`].
#[must_use]
pub fn saturation_pressure_ice(temperature: Temperature) -> Pressure {
    Pressure::from_pascals(ln_ice(temperature.kelvin()).0.exp())
}

/// ln of the pressure over water in Pa, and its derivative by temperature [K⁻¹].
fn ln_water(t: f64) -> (f64, f64) {
    let bracket = 53.878 - 1331.22 / t - 9.445_23 * t.ln() + 0.014_025 * t;
    let bracket_slope = 1331.22 / (t * t) - 9.445_23 / t + 0.014_025;
    let tanh = (0.0415 * (t - 218.8)).tanh();
    let value = 54.842_763 - 6763.22 / t - 4.210 * t.ln() + 0.000_367 * t + tanh * bracket;
    let slope = 6763.22 / (t * t) - 4.210 / t
        + 0.000_367
        + tanh * bracket_slope
        + 0.0415 * (1.0 - tanh * tanh) * bracket;
    (value, slope)
}

/// ln of the pressure over ice in Pa, and its derivative by temperature [K⁻¹].
fn ln_ice(t: f64) -> (f64, f64) {
    let value = 9.550_426 - 5723.265 / t + 3.530_68 * t.ln() - 0.007_283_32 * t;
    let slope = 5723.265 / (t * t) + 3.530_68 / t - 0.007_283_32;
    (value, slope)
}

/// By how much air raises the saturation pressure of water [-] (eq. A-3).
///
/// # Source
/// World Meteorological Organization, *Guide to Meteorological Instruments and
/// Methods of Observation*, WMO-No. 8 (2008), annex 4.B.
#[must_use]
pub fn enhancement_factor(pressure: Pressure) -> f64 {
    let hectopascals = pressure.pascals() / 100.0;
    1.0016 + 3.15e-6 * hectopascals - 0.074 / hectopascals
}

/// Partial pressure of the vapour in air of a relative humidity over liquid water (eq. A-4).
///
/// * `relative_humidity` — [-], 0 to 1
#[must_use]
pub fn vapour_pressure(
    temperature: Temperature,
    relative_humidity: f64,
    pressure: Pressure,
) -> Pressure {
    let saturated = enhancement_factor(pressure) * saturation_pressure_water(temperature).pascals();
    Pressure::from_pascals(relative_humidity * saturated)
}

/// Partial pressure of the vapour in air whose dew point (over liquid water) is known.
#[must_use]
pub fn vapour_pressure_from_dew_point(dew_point: Temperature, pressure: Pressure) -> Pressure {
    vapour_pressure(dew_point, 1.0, pressure)
}

/// Mass of vapour per mass of dry air [-] (eq. A-5).
#[must_use]
pub fn humidity_ratio(vapour: Pressure, pressure: Pressure) -> f64 {
    MOLAR_MASS_RATIO * vapour.pascals() / (pressure.pascals() - vapour.pascals())
}

/// Temperature at which dew forms on a surface, over liquid water also below 0 °C.
///
/// * `relative_humidity` — [-]; below 10⁻⁶ taken as 10⁻⁶
///
/// The pressure cancels: the enhancement factor stands on both sides.
#[must_use]
pub fn dew_point(temperature: Temperature, relative_humidity: f64) -> Temperature {
    solve(ln_water, ln_vapour(temperature, relative_humidity))
}

/// Temperature at which hoar frost forms: ice instead of liquid. Above the dew
/// point wherever both are below 0 °C; meaningless above 0 °C.
///
/// * `relative_humidity` — over liquid water [-]; below 10⁻⁶ taken as 10⁻⁶
#[must_use]
pub fn frost_point(temperature: Temperature, relative_humidity: f64) -> Temperature {
    solve(ln_ice, ln_vapour(temperature, relative_humidity))
}

/// Dew point of air with a known vapour pressure.
#[must_use]
pub fn dew_point_from_vapour_pressure(vapour: Pressure, pressure: Pressure) -> Temperature {
    solve(ln_water, (vapour.pascals() / enhancement_factor(pressure)).ln())
}

/// Frost point of air with a known vapour pressure.
#[must_use]
pub fn frost_point_from_vapour_pressure(vapour: Pressure, pressure: Pressure) -> Temperature {
    solve(ln_ice, (vapour.pascals() / enhancement_factor(pressure)).ln())
}

fn ln_vapour(temperature: Temperature, relative_humidity: f64) -> f64 {
    ln_water(temperature.kelvin()).0 + relative_humidity.max(LOWEST_HUMIDITY).ln()
}

/// Temperature at which the logarithm of the saturation pressure is `target`.
///
/// Newton on ln p against 1/T, which is nearly a straight line: four steps reach
/// rounding from any start; the limits keep a wild target finite.
fn solve(ln_pressure: fn(f64) -> (f64, f64), target: f64) -> Temperature {
    let target = target.clamp(ln_pressure(COLDEST).0, ln_pressure(WARMEST).0);
    let mut t = 283.0;
    for _ in 0..20 {
        let (value, slope) = ln_pressure(t);
        let inverse = 1.0 / t - (target - value) / (slope * t * t);
        let next = (1.0 / inverse).clamp(COLDEST, WARMEST);
        let done = (next - t).abs() < 1e-10;
        t = next;
        if done {
            break;
        }
    }
    Temperature::from_kelvin(t)
}

#[cfg(test)]
mod tests {
    use approx::{assert_abs_diff_eq, assert_relative_eq};

    use super::*;

    #[test]
    fn dew_point_inverts_the_vapour_pressure() {
        let pressure = Pressure::from_pascals(95_000.0);
        for celsius in [-40.0, -5.0, 0.0, 12.0, 35.0] {
            let dew = Temperature::from_celsius(celsius);
            let vapour = vapour_pressure_from_dew_point(dew, pressure);
            let back = dew_point_from_vapour_pressure(vapour, pressure);
            assert_abs_diff_eq!(back.kelvin(), dew.kelvin(), epsilon = 1e-8);
        }
    }

    #[test]
    fn the_slopes_are_the_derivatives_of_the_saturation_curves() {
        for curve in [ln_water, ln_ice] {
            for t in [210.0, 218.8, 250.0, 280.0, 310.0] {
                let step = 1e-3;
                let slope = (curve(t + step).0 - curve(t - step).0) / (2.0 * step);
                assert_relative_eq!(curve(t).1, slope, max_relative = 1e-7);
            }
        }
    }

    /// 1.0016 + 0.00315 − 0.000074 at 1000 hPa; 0.621945 · 1000/100 000; by hand.
    #[test]
    fn enhancement_and_humidity_are_as_worked_by_hand() {
        let factor = enhancement_factor(Pressure::from_pascals(100_000.0));
        assert_relative_eq!(factor, 1.004_676, max_relative = 1e-9);
        let ratio =
            humidity_ratio(Pressure::from_pascals(1_000.0), Pressure::from_pascals(101_000.0));
        assert_relative_eq!(ratio, 0.006_219_45, max_relative = 1e-9);
    }

    /// Eq. 10 at −80 °C, evaluated apart from this code: 0.1058992305 Pa. Below 218.8 K the second
    /// bracket of the formula counts with the other sign.
    #[test]
    fn deeply_supercooled_water_follows_the_printed_formula() {
        let pressure = saturation_pressure_water(Temperature::from_celsius(-80.0)).pascals();
        assert_relative_eq!(pressure, 0.105_899_230_5, max_relative = 1e-8);
    }

    #[test]
    fn a_wild_vapour_pressure_is_held_at_the_limits_of_the_formulas() {
        let pressure = Pressure::from_pascals(100_000.0);
        let dew = |e| dew_point_from_vapour_pressure(Pressure::from_pascals(e), pressure).kelvin();
        assert_abs_diff_eq!(dew(1e9), 373.0, epsilon = 1e-6);
        assert_abs_diff_eq!(dew(0.0), 123.0, epsilon = 1e-6);
    }

    #[test]
    fn saturated_air_is_at_its_dew_point_and_dry_air_stays_finite() {
        let air = Temperature::from_celsius(7.0);
        assert_abs_diff_eq!(dew_point(air, 1.0).kelvin(), air.kelvin(), epsilon = 1e-9);
        for humidity in [0.0, -1.0, f64::NAN, 1e-9] {
            let dew = dew_point(air, humidity).kelvin();
            assert!((COLDEST..air.kelvin()).contains(&dew), "{humidity}: {dew}");
        }
    }

    /// Dew −0.95 °C for 0.5 °C and 90 % over water; a library that changes to ice
    /// below 0 °C (`PsychroLib`) prints −0.84 °C, which is the frost point.
    #[test]
    fn below_freezing_frost_comes_before_dew() {
        let air = Temperature::from_celsius(0.5);
        assert_abs_diff_eq!(dew_point(air, 0.9).celsius(), -0.95, epsilon = 0.005);
        assert_abs_diff_eq!(frost_point(air, 0.9).celsius(), -0.84, epsilon = 0.005);
    }

    /// The two formulas must meet at the triple point, 611.657 Pa at 273.16 K
    /// (Guildner, Johnson and Jones, J. Res. NBS 80A (1976) 505).
    #[test]
    fn water_and_ice_meet_at_the_triple_point() {
        let triple = Temperature::from_kelvin(273.16);
        // Murphy and Koop state 0.05 % for the liquid near 0 °C.
        assert_relative_eq!(
            saturation_pressure_water(triple).pascals(),
            611.657,
            max_relative = 5e-4
        );
        assert_relative_eq!(
            saturation_pressure_ice(triple).pascals(),
            611.657,
            max_relative = 5e-5
        );
    }
}
