//! How the night sky radiates: clear, cloudy, and seen through the mouth of a tube.
//!
//! Equation numbers refer to `docs/physics/ventilation.md` (V-).

use std::f64::consts::PI;

use evenglass_units::{Length, Pressure, Temperature};

/// Emissivity of a dense low cloud [-].
const CLOUD_EMISSIVITY: f64 = 1.0;

/// Height of a cloud's base where none is known \[m\]: a low cloud.
const CLOUD_BASE: f64 = 2000.0;

/// Height over which a cloud's base cools as seen from the ground \[m\].
const CLOUD_SCALE: f64 = 8200.0;

/// Zenith angle beyond which the sky is taken as there \[rad\]: 80°.
const LOWEST_LOOK: f64 = 80.0 * PI / 180.0;

/// Emissivities beyond which no sky was seen [-]; the fit leaves them in very dry air.
const LOWEST: f64 = 0.55;

/// Emissivity of the clear sky over a hemisphere [-], on the air temperature near the
/// ground (eq. V-1); within 0.03 of measurements.
///
/// * `dew_point` — near the ground, −20 to 30 °C published; continued beyond, and held
///   between 0.55 and 1
/// * `pressure` — at the site
/// * `hour` — of the solar day, 0 at midnight
///
/// # Source
/// P. Berdahl and M. Martin, "Emissivity of clear skies", Solar Energy 32 (1984)
/// 663–664; the coefficients as quoted by two independent public codes.
#[must_use]
pub fn clear_emissivity(dew_point: Temperature, pressure: Pressure, hour: f64) -> f64 {
    let x = dew_point.celsius() / 100.0;
    let day = 0.013 * (2.0 * PI * hour / 24.0).cos();
    let height = 1.2e-4 * (pressure.pascals() / 100.0 - 1000.0);
    (0.711 + 0.56 * x + 0.73 * x * x + day + height).clamp(LOWEST, 1.0)
}

/// Emissivity of a sky of which the fraction `cloud` is under cloud [-] (eq. V-2).
///
/// * `clear` — emissivity of the clear sky
/// * `cloud_emissivity` — 1 for low and middle cloud, 0.35 for cirrus
/// * `base` — height of the cloud above the ground
///
/// # Source
/// M. Martin and P. Berdahl, "Characteristics of infrared sky radiation in the United
/// States", Solar Energy 33 (1984) 321–336, in the form used by later standards.
#[must_use]
pub fn cloudy_emissivity(clear: f64, cloud: f64, cloud_emissivity: f64, base: Length) -> f64 {
    let share = cloud.clamp(0.0, 1.0) * cloud_emissivity * (-base.metres() / CLOUD_SCALE).exp();
    clear + (1.0 - clear) * share
}

/// Temperature of the black sky that radiates like this one, over a hemisphere (eq. V-3);
/// cloud is taken as low.
///
/// * `air`, `dew_point` — near the ground
/// * `cloud` — covered fraction, 0 to 1
/// * `hour` — of the solar day
#[must_use]
pub fn temperature(
    air: Temperature,
    dew_point: Temperature,
    pressure: Pressure,
    cloud: f64,
    hour: f64,
) -> Temperature {
    let clear = clear_emissivity(dew_point, pressure, hour);
    let base = Length::from_metres(CLOUD_BASE);
    let emissivity = cloudy_emissivity(clear, cloud, CLOUD_EMISSIVITY, base);
    Temperature::from_kelvin(air.kelvin() * emissivity.powf(0.25))
}

/// Emissivity of the sky in one direction [-] (eq. D-22), on that over the hemisphere: the
/// zenith is colder than the rest.
///
/// * `zenith_angle` — \[rad\]; held at 80°
///
/// # Source
/// Martin and Berdahl (1984), as for [`cloudy_emissivity`]: the form and its 0.308 as a
/// second public code quotes them.
#[must_use]
pub fn emissivity_towards(emissivity: f64, zenith_angle: f64) -> f64 {
    let slant = 1.0 / zenith_angle.clamp(0.0, LOWEST_LOOK).cos();
    1.0 - (1.0 - emissivity) * (0.308 * (1.7 - slant)).exp()
}

/// Share of what leaves a disc that arrives on a coaxial parallel disc [-] (eq. V-4).
///
/// * `from`, `to` — their radii; `distance` — between them
///
/// # Source
/// J. R. Howell, *A Catalog of Radiation Heat Transfer Configuration Factors*, C-41;
/// also F. P. Incropera et al., *Fundamentals of Heat and Mass Transfer*, table 13.2.
#[must_use]
pub fn disc_view_factor(from: Length, to: Length, distance: Length) -> f64 {
    if distance.metres() <= 0.0 {
        return 1.0;
    }
    let ours = from.metres() / distance.metres();
    let theirs = to.metres() / distance.metres();
    let x = 1.0 + (1.0 + theirs * theirs) / (ours * ours);
    let root = (x * x - 4.0 * (theirs / ours).powi(2)).max(0.0).sqrt();
    0.5 * (x - root)
}

#[cfg(test)]
mod tests {
    use approx::{assert_abs_diff_eq, assert_relative_eq};

    use super::*;

    fn celsius(value: f64) -> Temperature {
        Temperature::from_celsius(value)
    }

    fn hectopascals(value: f64) -> Pressure {
        Pressure::from_pascals(100.0 * value)
    }

    /// 10 °C at 90 % (dew point 8.4372 °C), midnight, 1000 hPa: 0.776445 and −7.357 °C;
    /// 20 °C at 50 % (9.2724 °C): 0.782202 and 2.539 °C; evaluated apart from this code.
    #[test]
    fn the_clear_sky_is_that_of_the_printed_formula() {
        for (air, dew, emissivity, sky) in
            [(10.0, 8.4372, 0.776_445, -7.357), (20.0, 9.2724, 0.782_202, 2.539)]
        {
            let clear = clear_emissivity(celsius(dew), hectopascals(1000.0), 0.0);
            assert_abs_diff_eq!(clear, emissivity, epsilon = 2e-6);
            let found = temperature(celsius(air), celsius(dew), hectopascals(1000.0), 0.0, 0.0);
            assert_abs_diff_eq!(found.celsius(), sky, epsilon = 1e-3);
        }
    }

    /// Swinbank (1963), 0.0552 T^1.5, Brunt (1932) and Brutsaert (1975) at 10 °C and 90 %:
    /// 0.7367, 0.736 and 0.7802. They differ among themselves by as much as they do from us.
    #[test]
    fn other_clear_sky_laws_agree_within_their_spread() {
        let ours = clear_emissivity(celsius(8.4372), hectopascals(1000.0), 0.0);
        let swinbank = (0.0552 * 283.15_f64.powf(1.5) / 283.15).powi(4);
        for other in [swinbank, 0.736, 0.7802] {
            assert_abs_diff_eq!(ours, other, epsilon = 0.042);
        }
    }

    /// Clear 0.776445: full low cloud at 2 km 0.951615, half 0.864030, cirrus of 0.35 at
    /// 8 km 0.805940; evaluated apart from this code.
    #[test]
    fn cloud_closes_the_window_as_worked_apart() {
        let at = |cloud, emissivity, base| {
            cloudy_emissivity(0.776_445, cloud, emissivity, Length::from_metres(base))
        };
        assert_abs_diff_eq!(at(1.0, 1.0, 2e3), 0.951_615, epsilon = 1e-6);
        assert_abs_diff_eq!(at(0.5, 1.0, 2e3), 0.864_030, epsilon = 1e-6);
        assert_abs_diff_eq!(at(1.0, 0.35, 8e3), 0.805_940, epsilon = 1e-6);
    }

    /// Howell's C-41, evaluated apart: a 200 mm mirror 1.2 m below a mouth of 230 mm sees
    /// 0.9 % of the sky, a 50 mm disc 100 mm below it 56 %.
    #[test]
    fn a_mirror_deep_in_a_tube_hardly_sees_the_sky() {
        let factor = |from: f64, to: f64, distance: f64| {
            let metres = Length::from_metres;
            disc_view_factor(metres(from), metres(to), metres(distance))
        };
        assert_relative_eq!(factor(0.1, 0.115, 1.2), 0.009_038_812_897, max_relative = 1e-8);
        assert_relative_eq!(factor(0.2, 0.24, 2.0), 0.014_058_938_440, max_relative = 1e-8);
        assert_relative_eq!(factor(0.025, 0.115, 0.1), 0.562_807_988_25, max_relative = 1e-8);
        assert_relative_eq!(factor(0.2, 0.3, 0.0), 1.0);
        // Reciprocity: A₁ F₁₂ = A₂ F₂₁.
        let back = factor(0.24, 0.2, 1.6) * 0.24 * 0.24;
        assert_relative_eq!(back, factor(0.2, 0.24, 1.6) * 0.2 * 0.2, max_relative = 1e-12);
    }

    #[test]
    fn very_dry_and_very_damp_skies_stay_within_what_was_seen() {
        let dry = clear_emissivity(celsius(-58.0), hectopascals(600.0), 12.0);
        assert!((LOWEST..=1.0).contains(&dry), "{dry}");
        assert_abs_diff_eq!(clear_emissivity(celsius(55.0), hectopascals(1013.0), 0.0), 1.0);
    }
}
