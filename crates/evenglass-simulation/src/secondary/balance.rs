//! Heat and vapour that a plate of two nodes exchanges.

use std::f64::consts::FRAC_PI_4;

use evenglass_convection::free::Stability;
use evenglass_convection::{mass, mixed};
use evenglass_materials::moist_air::{
    AirProperties, heat_of_wetting, lewis_number, vapour_at_surface, vapour_density,
};
use evenglass_scenario::Scenario;
use evenglass_units::{Pressure, Temperature};

use crate::films::{STEFAN_BOLTZMANN, free_film};

use super::Worst;
use super::site::{Site, Surrounding};

/// Emissivity of an aluminised face [-], as that of the primary's.
const ALUMINISED: f64 = 0.04;

/// Of clean shiny foil [-] (handbook value, from memory).
const FOIL: f64 = 0.05;

/// 1 − 1/√2: the step of two stages decays for every stiffness.
const GAMMA: f64 = 1.0 - std::f64::consts::FRAC_1_SQRT_2;

/// Newton steps to a balance at most.
const MOST_ITERATIONS: usize = 60;

/// Face and back.
pub(super) type Both = [f64; 2];

/// The plate at one instant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct State {
    /// Face and back \[K\].
    pub(super) kelvin: Both,
    /// Water or ice on them [kg m⁻²].
    pub(super) film: Both,
}

/// What the plate is made of and what acts on it.
#[derive(Debug, Clone)]
pub(super) struct Balance {
    /// Half its heat per area of a face and kelvin [J m⁻² K⁻¹].
    half_capacity: f64,
    /// From node to node [W m⁻² K⁻¹].
    conductance: f64,
    /// Share of the face and of the back that air and radiation reach [-].
    bare: Both,
    emissivity: Both,
    /// Of a face \[m²\].
    area: f64,
    free: FreeFilms,
    /// Mass-transfer coefficient over film [m³ K/J].
    carried: f64,
}

/// What leaves a node.
#[derive(Debug, Clone, Copy, Default)]
struct Flow {
    /// [W m⁻²]
    heat: f64,
    /// Its derivative by the node's temperature [W m⁻² K⁻¹].
    slope: f64,
    /// Film that forms [kg m⁻² s⁻¹].
    growth: f64,
}

/// Free convection on a face at 45° against the fourth root of its temperature difference.
#[derive(Debug, Clone)]
struct FreeFilms {
    /// Unstable and stable [W m⁻² K⁻¹].
    film: [Vec<f64>; 2],
}

impl FreeFilms {
    const STEP: f64 = 0.1;
    /// To 40 K.
    const POINTS: u32 = 27;

    fn new(length: f64, air: &AirProperties) -> Self {
        let along = |stability| {
            let at = |n: u32| {
                let difference = (Self::STEP * f64::from(n)).powi(4);
                free_film(air, length, difference, (FRAC_PI_4, stability))
            };
            (0..Self::POINTS).map(at).collect()
        };
        Self { film: [along(Stability::Unstable), along(Stability::Stable)] }
    }

    /// Where a surface is warmer than air by a difference \[K\].
    ///
    /// * `down` — whether it looks down
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "the root of a size is not below zero, and what is beyond the table is held"
    )]
    fn at(&self, difference: f64, down: Look) -> f64 {
        let unstable = (difference < 0.0) == (down == Look::Down);
        let table = &self.film[usize::from(!unstable)];
        let place = difference.abs().sqrt().sqrt() / Self::STEP;
        let below = (place as usize).min(table.len() - 2);
        table[below] + (place - below as f64) * (table[below + 1] - table[below])
    }
}

/// Which way a side looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Look {
    Down,
    Up,
}

/// Where vapour passes: where there is a film, or one begins.
fn wet(state: &State, around: &Surrounding) -> [bool; 2] {
    [0, 1].map(|n| state.film[n] > 0.0 || state.kelvin[n] < around.wetting)
}

/// Solves two equations that `across` joins: own[n] k[n] − across k[other] = right[n].
fn joined(own: Both, across: f64, right: Both) -> Both {
    let determinant = own[0] * own[1] - across * across;
    [
        (own[1] * right[0] + across * right[1]) / determinant,
        (own[0] * right[1] + across * right[0]) / determinant,
    ]
}

impl Balance {
    pub(super) fn of(scenario: &Scenario, site: &Site<'_>) -> Option<Self> {
        let secondary = scenario.telescope.as_ref()?.secondary.as_ref()?;
        let glass = &scenario.mirror.glass;
        let thickness = secondary.thickness.metres();
        let air = site.usual_air();
        // Of the middle of the night: 5 % of the heat over 20 K is not what decides on dew.
        let heat = glass.heat.specific_heat(air.temperature - 273.15);
        let pressure = Pressure::from_pascals(site.usual_pressure());
        let lewis = lewis_number(air, pressure);
        Some(Self {
            half_capacity: 0.5 * glass.density.kg_per_m3() * heat * thickness,
            conductance: glass.conductivity.w_per_m_k() / thickness,
            bare: [1.0, 1.0 - secondary.holder],
            emissivity: [ALUMINISED, secondary.back_emissivity],
            area: site.area(),
            free: FreeFilms::new(site.length(), air),
            carried: mass::coefficient(1.0, air.density * air.specific_heat, lewis).value,
        })
    }

    /// How fast it follows \[s\].
    pub(super) fn time_constant(&self, state: &State, around: &Surrounding) -> f64 {
        let flows = self.flows(state, around);
        2.0 * self.half_capacity / (flows[0].slope + flows[1].slope).max(1e-3)
    }

    /// Change of the face's temperature [K/s].
    pub(super) fn slope(&self, state: &State, around: &Surrounding) -> f64 {
        self.change(state.kelvin, &self.flows(state, around))[0]
    }

    /// The state a time \[s\] later, in which everything around runs straight (eq. D-14), and the
    /// change of the face at its start [K/s].
    ///
    /// # Source
    /// J. G. Verwer, E. J. Spee, J. G. Blom and W. Hundsdorfer, "A second-order Rosenbrock
    /// method applied to photochemical dispersion problems", SIAM J. Sci. Comput. 20 (1999)
    /// 1456–1480: of order two whatever matrix is used.
    pub(super) fn step(
        &self,
        state: &State,
        (here, there): (&Surrounding, &Surrounding),
        step: f64,
    ) -> (State, f64) {
        let first_flows = self.flows(state, here);
        let slopes = first_flows.map(|flow| flow.slope);
        let at_start = self.change(state.kelvin, &first_flows);
        let k1 = self.solved(at_start, &slopes, step);
        let ahead = [0, 1].map(|n| state.kelvin[n] + step * k1[n]);
        let ahead = State { kelvin: ahead, film: state.film };
        let second_flows = self.flows_where(&ahead, there, wet(state, here));
        let change = self.change(ahead.kelvin, &second_flows);
        let k2 = self.solved([0, 1].map(|n| change[n] - 2.0 * k1[n]), &slopes, step);
        let growth = [0, 1].map(|n| 0.5 * (first_flows[n].growth + second_flows[n].growth));
        let later = State {
            kelvin: [0, 1].map(|n| state.kelvin[n] + step * (1.5 * k1[n] + 0.5 * k2[n])),
            film: [0, 1].map(|n| (state.film[n] + step * growth[n]).max(0.0)),
        };
        (later, at_start[0])
    }

    /// Solves (1 − γ Δt A) k = right with the slopes of both nodes.
    fn solved(&self, right: Both, slopes: &Both, step: f64) -> Both {
        let share = GAMMA * step / self.half_capacity;
        let across = share * self.conductance;
        joined(slopes.map(|slope| 1.0 + share * slope + across), across, right)
    }

    /// Changes of both nodes [K/s].
    fn change(&self, kelvin: Both, flows: &[Flow; 2]) -> Both {
        let through = self.conductance * (kelvin[0] - kelvin[1]);
        [
            (-flows[0].heat - through) / self.half_capacity,
            (-flows[1].heat + through) / self.half_capacity,
        ]
    }

    fn flows(&self, state: &State, around: &Surrounding) -> [Flow; 2] {
        self.flows_where(state, around, wet(state, around))
    }

    fn flows_where(&self, state: &State, around: &Surrounding, wet: [bool; 2]) -> [Flow; 2] {
        let radiant = [around.face_radiant, around.back_radiant];
        let mut flows = [0, 1].map(|n| {
            let kelvin = state.kelvin[n];
            let film = self.film(n, kelvin, around);
            let emission = self.emissivity[n] * STEFAN_BOLTZMANN;
            let mut flow = Flow {
                heat: film * (kelvin - around.air) + emission * (kelvin.powi(4) - radiant[n]),
                slope: film + 4.0 * emission * kelvin.powi(3),
                growth: 0.0,
            };
            if wet[n] {
                self.add_vapour(&mut flow, (kelvin, film), around);
            }
            flow.heat *= self.bare[n];
            flow.slope *= self.bare[n];
            flow
        });
        flows[1].heat -= around.heater / self.area;
        flows
    }

    /// Film of a side [W m⁻² K⁻¹] (eq. D-12).
    fn film(&self, side: usize, kelvin: f64, around: &Surrounding) -> f64 {
        let look = if side == 0 { Look::Down } else { Look::Up };
        mixed::assisting(around.forced, self.free.at(kelvin - around.air, look))
    }

    /// Dew that forms or dries, and its heat (eqs. D-8 and D-13).
    fn add_vapour(&self, flow: &mut Flow, (kelvin, film): (f64, f64), around: &Surrounding) {
        let surface = Temperature::from_kelvin(kelvin);
        let pressure = Pressure::from_pascals(around.pressure);
        let saturated = vapour_density(vapour_at_surface(surface, pressure), surface);
        let heat = heat_of_wetting(surface);
        flow.growth = self.carried * film * (around.vapour - saturated);
        flow.heat -= heat * flow.growth;
        // Clausius and Clapeyron: the saturated density grows by L/(R T²) − 1/T per kelvin.
        let per_kelvin = heat / (461.523 * kelvin * kelvin) - 1.0 / kelvin;
        flow.slope += heat * self.carried * film * saturated * per_kelvin;
    }

    /// The temperatures at which nothing changes, without dew \[K\].
    pub(super) fn settled(&self, around: &Surrounding) -> Both {
        let mut kelvin = [around.air; 2];
        for _ in 0..MOST_ITERATIONS {
            let state = State { kelvin, film: [0.0; 2] };
            let flows = self.flows_where(&state, around, [false; 2]);
            let change = self.change(kelvin, &flows).map(|change| change * self.half_capacity);
            let slopes = flows.map(|flow| flow.slope + self.conductance);
            let moved = joined(slopes, self.conductance, change);
            kelvin = [kelvin[0] + moved[0], kelvin[1] + moved[1]];
            if moved.iter().all(|moved| moved.abs() < 1e-10) {
                break;
            }
        }
        kelvin
    }

    /// Heater that keeps the face at a temperature where everything has settled and is dry \[W\];
    /// below 0 where it is warmer by itself.
    fn heater_for(&self, kelvin: f64, around: &Surrounding) -> f64 {
        let face = |heater: f64| self.settled(&Surrounding { heater, ..*around })[0] - kelvin;
        // The heat lost grows a little faster than the temperature: the secant meets it at once.
        let (mut before, mut here) = ((0.0, face(0.0)), (self.area * 10.0, face(self.area * 10.0)));
        for _ in 0..MOST_ITERATIONS {
            if here.1.abs() < 1e-6 {
                break;
            }
            let next = here.0 - here.1 * (here.0 - before.0) / (here.1 - before.1);
            (before, here) = (here, (next, face(next)));
        }
        here.0
    }

    /// The balance at an instant, what would hold the face `target` \[K\] above the point of
    /// wetting, and what foil on the back would make of it.
    pub(super) fn worst(&self, state: &State, around: &Surrounding, target: f64) -> Worst {
        let wanted = around.wetting + target;
        let films = [0, 1].map(|n| self.bare[n] * self.film(n, state.kelvin[n], around));
        let radiant = [around.face_radiant, around.back_radiant];
        let radiated = [0, 1].map(|n| {
            let net = wanted.powi(4) - radiant[n];
            self.bare[n] * self.emissivity[n] * STEFAN_BOLTZMANN * net
        });
        let foil = Self { emissivity: [self.emissivity[0], FOIL], ..self.clone() };
        let unheated = Surrounding { heater: 0.0, ..*around };
        Worst {
            air_margin: around.air - around.wetting,
            radiated: radiated[0] + radiated[1],
            film: films[0] + films[1],
            heater: self.heater_for(wanted, around).max(0.0),
            with_foil: foil.settled(&unheated)[0] - around.wetting,
        }
    }
}

#[cfg(test)]
impl Balance {
    /// A plate of given films whose nodes are one: for comparison with balances worked apart.
    pub(super) fn thin(bare: Both, emissivity: Both, half_capacity: f64) -> Self {
        let film = [vec![0.0; 2], vec![0.0; 2]];
        Self {
            half_capacity,
            conductance: 1e7,
            bare,
            emissivity,
            area: 1.0,
            free: FreeFilms { film },
            carried: 0.0,
        }
    }

    /// The same that carries vapour.
    pub(super) fn carrying(self, carried: f64) -> Self {
        Self { carried, ..self }
    }

    /// Film that forms on the face [kg m⁻² s⁻¹], and the heat it leaves there [W m⁻²].
    pub(super) fn condensing(&self, kelvin: f64, around: &Surrounding) -> (f64, f64) {
        let dry =
            self.flows_where(&State { kelvin: [kelvin; 2], film: [0.0; 2] }, around, [false; 2]);
        let wet = self.flows(&State { kelvin: [kelvin; 2], film: [0.0; 2] }, around);
        (wet[0].growth, dry[0].heat - wet[0].heat)
    }
}
