//! The worst dew of the night: a cold mirror carried into a warm house.

use std::f64::consts::PI;

use evenglass_convection::free::Stability;
use evenglass_convection::mass;
use evenglass_materials::moist_air::{
    dew_point, lewis_number, properties, vapour_at_surface, vapour_density, vapour_pressure,
};
use evenglass_scenario::scenario::Mirror;
use evenglass_units::{Pressure, Temperature};

use crate::films::free_film;

/// The house [°C] and its relative humidity [-]: an ordinary room.
const ROOM_C: f64 = 20.0;
const ROOM_HUMIDITY: f64 = 0.5;

/// Pressure \[Pa\].
const PRESSURE: f64 = 101_325.0;

/// Radiation between bare glass and a room near 15 °C, ε 4 σ T³ [W m⁻² K⁻¹].
const RADIATION: f64 = 4.6;

/// Parts into which the time of wetting is cut.
const PARTS: u32 = 40;

/// What happens to an uncovered primary that is carried indoors at the end of the run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Indoors {
    /// Air of the house taken [°C].
    pub room_c: f64,
    /// Its relative humidity taken [-].
    pub room_humidity: f64,
    /// Glass minus the dew point of the house \[K\]; below 0 it is wet at once.
    pub margin_k: f64,
    /// Until the glass is warmer than that dew point \[s\]; 0 where it is already.
    pub wet_s: f64,
    /// Water that gathers on the front meanwhile [g m⁻²].
    pub film_g_m2: f64,
}

impl Indoors {
    /// For glass of one temperature at the end, warmed as a lump by still air and radiation on
    /// all sides (eq. D-18).
    pub(crate) fn of(mirror: &Mirror, glass: Temperature) -> Self {
        let room = Temperature::from_celsius(ROOM_C);
        let dew = dew_point(room, ROOM_HUMIDITY);
        let margin_k = (glass - dew).kelvins();
        let none = Self {
            room_c: ROOM_C,
            room_humidity: ROOM_HUMIDITY,
            margin_k,
            wet_s: 0.0,
            film_g_m2: 0.0,
        };
        if margin_k >= 0.0 || margin_k.is_nan() {
            return none;
        }
        let pressure = Pressure::from_pascals(PRESSURE);
        let vapour = vapour_pressure(room, ROOM_HUMIDITY, pressure);
        let air = properties(
            Temperature::from_celsius(0.5 * (ROOM_C + glass.celsius())),
            pressure,
            vapour,
        );
        // Half of its way up: front up and cold is the stable side, the back the unstable one.
        let difference = 0.5 * ((room - glass).kelvins() + (room - dew).kelvins());
        let length = 0.25 * mirror.diameter.metres();
        let film = |stability| free_film(&air, length, difference, (0.0, stability));
        let (front, back) = (film(Stability::Stable), film(Stability::Unstable));
        // The front is bright; back and rim radiate.
        let (radius, thickness) = (0.5 * mirror.diameter.metres(), mirror.edge_thickness.metres());
        let face = PI * radius * radius;
        let rim = 2.0 * PI * radius * thickness;
        let conductance = face * front + (face + rim) * (back + RADIATION);
        let heat = mirror.glass.heat.specific_heat(glass.celsius());
        let capacity = mirror.glass.density.kg_per_m3() * heat * face * thickness;
        let constant = capacity / conductance;
        let wet_s = constant * ((room - glass).kelvins() / (room - dew).kelvins()).ln();
        let lewis = lewis_number(&air, pressure);
        let carried = mass::coefficient(front, air.density * air.specific_heat, lewis).value;
        let indoors = vapour_density(vapour, room);
        let part = wet_s / f64::from(PARTS);
        let gathered = (0..PARTS).map(|n| {
            let time = (f64::from(n) + 0.5) * part;
            let cold = (room - glass).kelvins() * (-time / constant).exp();
            let surface = Temperature::from_kelvin(room.kelvin() - cold);
            let there = vapour_density(vapour_at_surface(surface, pressure), surface);
            part * carried * (indoors - there).max(0.0)
        });
        Self { wet_s, film_g_m2: 1e3 * gathered.sum::<f64>(), ..none }
    }
}
