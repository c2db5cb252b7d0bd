//! Density, heat capacity, viscosity and conductivity of moist air.

use evenglass_units::{Pressure, Temperature};

use super::saturation::humidity_ratio;

/// Gas constants of dry air and of water vapour [J kg⁻¹ K⁻¹].
const GAS_CONSTANT_DRY: f64 = 287.055;
const GAS_CONSTANT_VAPOUR: f64 = 461.523;

/// Molar masses of dry air and of water [g/mol].
const MOLAR_MASS_DRY: f64 = 28.9655;
const MOLAR_MASS_VAPOUR: f64 = 18.015_27;

/// Temperature the transport fits are anchored at \[K\].
const ANCHOR: f64 = 273.15;

/// What a film correlation wants to know of the air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AirProperties {
    /// \[K\]
    pub temperature: f64,
    /// [kg m⁻³]
    pub density: f64,
    /// Dynamic viscosity [Pa s].
    pub viscosity: f64,
    /// [W m⁻¹ K⁻¹]
    pub conductivity: f64,
    /// At constant pressure, per mass of moist air [J kg⁻¹ K⁻¹].
    pub specific_heat: f64,
}

impl AirProperties {
    /// Kinematic viscosity ν [m² s⁻¹].
    #[must_use]
    pub fn kinematic_viscosity(&self) -> f64 {
        self.viscosity / self.density
    }

    /// Thermal diffusivity α [m² s⁻¹].
    #[must_use]
    pub fn thermal_diffusivity(&self) -> f64 {
        self.conductivity / (self.density * self.specific_heat)
    }

    /// Prandtl number [-].
    #[must_use]
    pub fn prandtl(&self) -> f64 {
        self.viscosity * self.specific_heat / self.conductivity
    }

    /// Thermal expansion of an ideal gas at this temperature, 1/T [K⁻¹].
    #[must_use]
    pub fn expansion(&self) -> f64 {
        1.0 / self.temperature
    }
}

/// Properties of moist air (eqs. ).
///
/// * `vapour` — partial pressure of the water vapour, below `pressure`; zero is dry air
///
/// Against a reference formulation (`CoolProp` humid air): density within
/// 0.1 %, specific heat 0.2 %, viscosity and conductivity 0.9 % at the warm and
/// wet end, 0.3 % below 10 °C. Temperatures outside −30 to 40 °C continue the fits.
///
/// # Source
/// Dry transport properties: power laws fitted to E. W. Lemmon and R. T Jacobsen,
/// Int. J. Thermophys. 25 (2004) 21–69, 243 to 313 K, within 0.1 %. Vapour:
/// P. T. Tsilingiris, Energy Convers. Manage. 49 (2008) 1098–1110. Mixing:
/// C. R. Wilke, J. Chem. Phys. 18 (1950) 517–519, for the conductivity with the
/// same weights (E. A. Mason and S. C. Saxena, Phys. Fluids 1 (1958) 361–369).
#[must_use]
pub fn properties(temperature: Temperature, pressure: Pressure, vapour: Pressure) -> AirProperties {
    let (t, p, e) = (temperature.kelvin(), pressure.pascals(), vapour.pascals());
    let ratio = humidity_ratio(vapour, pressure);
    let (viscosity, conductivity) = transport(temperature, e / p);
    AirProperties {
        temperature: t,
        density: (p - e) / (GAS_CONSTANT_DRY * t) + e / (GAS_CONSTANT_VAPOUR * t),
        viscosity,
        conductivity,
        specific_heat: (1005.7 + 1860.0 * ratio) / (1.0 + ratio),
    }
}

/// Viscosity [Pa s] and conductivity [W m⁻¹ K⁻¹] for a mole fraction of vapour.
fn transport(temperature: Temperature, vapour_share: f64) -> (f64, f64) {
    let t = temperature.celsius();
    let relative = temperature.kelvin() / ANCHOR;
    let viscosity_dry = 1.7211e-5 * relative.powf(0.7928);
    let conductivity_dry = 2.435_05e-2 * relative.powf(0.8565);
    let viscosity_vapour = 8.0581e-6 + 4.0005e-8 * t;
    let conductivity_vapour = 1.761_76e-2 + 5.558_94e-5 * t + 1.663_34e-7 * t * t;

    let air_vapour = wilke(viscosity_dry / viscosity_vapour, MOLAR_MASS_DRY / MOLAR_MASS_VAPOUR);
    let vapour_air = wilke(viscosity_vapour / viscosity_dry, MOLAR_MASS_VAPOUR / MOLAR_MASS_DRY);
    let (xv, xa) = (vapour_share, 1.0 - vapour_share);
    let mix = |dry: f64, vapour: f64| {
        xa * dry / (xa + xv * air_vapour) + xv * vapour / (xv + xa * vapour_air)
    };
    (mix(viscosity_dry, viscosity_vapour), mix(conductivity_dry, conductivity_vapour))
}

/// Wilke's weight of a second gas in the mixture with a first, from the ratios
/// first over second of their viscosities and molar masses.
fn wilke(viscosity_ratio: f64, mass_ratio: f64) -> f64 {
    let numerator = (1.0 + viscosity_ratio.sqrt() * mass_ratio.powf(-0.25)).powi(2);
    numerator / (8.0 * (1.0 + mass_ratio)).sqrt()
}

/// Standard pressure at a height above the sea \[m\] (eq. A-11).
///
/// Held at the values of −1000 m and 11 000 m beyond them, the reach of the
/// standard's lowest layer as far as telescopes are concerned.
///
/// # Source
/// ISO 2533:1975, *Standard Atmosphere*.
#[must_use]
pub fn pressure_at_altitude(metres: f64) -> Pressure {
    let z = metres.clamp(-1000.0, 11_000.0);
    Pressure::from_pascals(101_325.0 * (1.0 - 2.255_77e-5 * z).powf(5.255_88))
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    /// Dry air at 300 K and one atmosphere: ρ = 1.1614 kg m⁻³, μ = 184.6 × 10⁻⁷ Pa s,
    /// k = 26.3 × 10⁻³ W m⁻¹ K⁻¹, cp = 1007 J kg⁻¹ K⁻¹, Pr = 0.707 (Incropera et al.,
    /// *Fundamentals of Heat and Mass Transfer*, table A.4; from memory).
    #[test]
    fn dry_air_at_300_kelvin_is_that_of_the_textbook_table() {
        let temperature = Temperature::from_kelvin(300.0);
        let air =
            properties(temperature, Pressure::from_pascals(101_325.0), Pressure::from_pascals(0.0));
        // The table rounds pressure to 1 bar or 1 atm in different editions: 1.5 %.
        assert_relative_eq!(air.density, 1.1614, max_relative = 0.015);
        assert_relative_eq!(air.viscosity, 184.6e-7, max_relative = 0.005);
        assert_relative_eq!(air.conductivity, 26.3e-3, max_relative = 0.005);
        assert_relative_eq!(air.specific_heat, 1007.0, max_relative = 0.002);
        assert_relative_eq!(air.prandtl(), 0.707, max_relative = 0.005);
    }

    /// 98 000/(287.055 · 300) + 2000/(461.523 · 300) and (1005.7 + 1860 W)/(1 + W) with
    /// W = 0.621945 · 2/98, worked apart from this code.
    #[test]
    fn density_and_heat_are_as_worked_by_hand() {
        let (pressure, vapour) =
            (Pressure::from_pascals(100_000.0), Pressure::from_pascals(2_000.0));
        let air = properties(Temperature::from_kelvin(300.0), pressure, vapour);
        assert_relative_eq!(air.density, 1.152_438_228, max_relative = 1e-8);
        assert_relative_eq!(air.specific_heat, 1_016.407_513, max_relative = 1e-8);
        assert_relative_eq!(air.expansion(), 1.0 / 300.0);
    }

    /// The printed formulas at 20 °C for dry air, pure vapour and three tenths of vapour,
    /// worked apart from this code.
    #[test]
    fn transport_properties_are_as_worked_by_hand() {
        let temperature = Temperature::from_celsius(20.0);
        let expected = [
            (0.0, 1.820_271_213e-5, 2.586_978_083e-2),
            (1.0, 8.8582e-6, 1.879_592_16e-2),
            (0.3, 1.514_951_891e-5, 2.355_547_318e-2),
        ];
        for (share, viscosity, conductivity) in expected {
            let ours = transport(temperature, share);
            assert_relative_eq!(ours.0, viscosity, max_relative = 1e-7);
            assert_relative_eq!(ours.1, conductivity, max_relative = 1e-7);
        }
    }

    #[test]
    fn pressure_is_held_beyond_the_heights_of_telescopes() {
        let at = |metres| pressure_at_altitude(metres).pascals();
        assert_relative_eq!(at(20_000.0), at(11_000.0));
        assert_relative_eq!(at(-5_000.0), at(-1_000.0));
        assert!(at(11_000.0) < at(10_990.0) && at(-1_000.0) > at(-990.0));
    }

    #[test]
    fn moist_air_is_lighter_than_dry_air() {
        let temperature = Temperature::from_celsius(20.0);
        let pressure = Pressure::from_pascals(101_325.0);
        let dry = properties(temperature, pressure, Pressure::from_pascals(0.0));
        let moist = properties(temperature, pressure, Pressure::from_pascals(2000.0));
        assert!(moist.density < dry.density);
        assert!(moist.specific_heat > dry.specific_heat);
    }

    #[test]
    fn a_gas_mixed_with_itself_keeps_its_properties() {
        assert_relative_eq!(wilke(1.0, 1.0), 1.0);
    }

    #[test]
    fn thin_air_spreads_heat_faster_in_proportion() {
        let temperature = Temperature::from_celsius(5.0);
        let dry = Pressure::from_pascals(0.0);
        let low = properties(temperature, Pressure::from_pascals(100_000.0), dry);
        let high = properties(temperature, Pressure::from_pascals(50_000.0), dry);
        assert_relative_eq!(
            high.thermal_diffusivity(),
            2.0 * low.thermal_diffusivity(),
            max_relative = 1e-12
        );
        assert_relative_eq!(high.conductivity, low.conductivity);
    }
}
