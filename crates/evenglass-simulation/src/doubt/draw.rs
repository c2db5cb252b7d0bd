//! A night with one draw of all unknowns.

use std::iter;

use evenglass_scenario::Profile;
use evenglass_scenario::scenario::{Film, Scenario};
use evenglass_scenario::ventilation::{Arrangement, FanData, Fans};
use evenglass_units::{Conductivity, Expansion, Length, Pressure, Temperature, VolumeRate};
use statrs::distribution::{ContinuousCDF, Normal};

use super::unknown::Unknown;

/// Standard normal deviates, one for each unknown.
#[derive(Debug, Clone, PartialEq)]
pub struct Draw {
    /// In the order of the unknowns asked for.
    pub deviates: Vec<(Unknown, f64)>,
}

impl Draw {
    /// Draw `index` of a seed, the same whatever the scenario.
    ///
    /// # Source
    /// Owen-scrambled Sobol points: B. Burley, "Practical hash-based Owen scrambling",
    /// J. Comput. Graph. Tech. 9 (2020) 1–20, by the library of that name.
    #[must_use]
    pub fn of(unknowns: &[Unknown], index: u32, seed: u32) -> Self {
        let normal = Normal::standard();
        let deviate = |unknown: &Unknown| {
            let uniform = f64::from(sobol_burley::sample(index, unknown.dimension(), seed));
            // The middle of the cell of a 24-bit number, so that neither end is met.
            let inside = uniform + 0.5 / f64::from(1_u32 << 24);
            (*unknown, normal.inverse_cdf(inside))
        };
        Self { deviates: unknowns.iter().map(deviate).collect() }
    }
}

/// The scenario in a world that a draw describes.
#[must_use]
pub fn draw(scenario: &Scenario, draw: &Draw) -> Scenario {
    let mut drawn = scenario.clone();
    for &(unknown, deviate) in &draw.deviates {
        let shift = unknown.sigma(scenario) * deviate;
        apply(&mut drawn, unknown, shift);
    }
    drawn
}

/// Moves one unknown by `shift`: the logarithm of a factor, kelvins, or K/h.
fn apply(scenario: &mut Scenario, unknown: Unknown, shift: f64) {
    let factor = shift.exp();
    let glass = &mut scenario.mirror.glass;
    match unknown {
        Unknown::SpecificHeat => {
            glass.heat.a *= factor;
            glass.heat.c *= factor;
        }
        Unknown::Conductivity => {
            glass.conductivity =
                Conductivity::from_w_per_m_k(factor * glass.conductivity.w_per_m_k());
            glass.conductivity_slope *= factor;
        }
        Unknown::Expansion => {
            glass.expansion = Expansion::from_per_kelvin(factor * glass.expansion.per_kelvin());
        }
        Unknown::BackFilm => scenario.back.film_factor *= factor,
        Unknown::FrontFilm => scenario.front.film_factor *= factor,
        Unknown::RimFilm => scenario.rim.film_factor *= factor,
        Unknown::BackEmissivity => {
            for face in [&mut scenario.back, &mut scenario.rim] {
                radiate(face, factor);
            }
        }
        Unknown::FrontEmissivity => radiate(&mut scenario.front, factor),
        Unknown::FanFlow => blow(scenario, factor),
        Unknown::SlotWidth => {
            for (arrangement, _) in systems(scenario) {
                if let Arrangement::RingNozzle(ring) = arrangement {
                    ring.slot = Length::from_metres(factor * ring.slot.metres());
                }
            }
        }
        Unknown::StartTemperature => {
            let night = &mut scenario.night;
            night.glass_temperature =
                Temperature::from_kelvin(night.glass_temperature.kelvin() + shift);
        }
        Unknown::AirLevel => {
            scenario.night.air = mapped(&scenario.night.air, |_, kelvin| kelvin + shift);
        }
        Unknown::AirFall => {
            scenario.night.air =
                mapped(&scenario.night.air, |time, kelvin| kelvin + shift * time / 3600.0);
        }
        Unknown::DewPoint => {
            let moved = |dew: &Profile| mapped(dew, |_, kelvin| kelvin + shift);
            scenario.night.dew_point = scenario.night.dew_point.as_ref().map(moved);
        }
        Unknown::Wind => {
            let moved = |wind: &Profile| mapped(wind, |_, speed| factor * speed);
            scenario.night.wind = scenario.night.wind.as_ref().map(moved);
        }
        // More blur by a factor is the same as a limit tighter by it; what is told of the
        // blur itself is put right where it is read.
        Unknown::Shimmer => scenario.good.shimmer_arcsec /= factor,
    }
}

fn radiate(face: &mut evenglass_scenario::scenario::Face, factor: f64) {
    if let Some(radiation) = &mut face.radiation {
        radiation.emissivity = (factor * radiation.emissivity).min(1.0);
    }
}

/// Arrangement and fans of every system.
fn systems(scenario: &mut Scenario) -> impl Iterator<Item = (&mut Arrangement, Option<&mut Fans>)> {
    let ventilation = scenario.ventilation.iter_mut();
    let all = ventilation.flat_map(|v| iter::once(&mut v.main).chain(&mut v.second));
    all.map(|system| (&mut system.arrangement, system.fans.as_mut()))
}

/// Fans that deliver more or less, along the parabola of a fixed resistance.
fn blow(scenario: &mut Scenario, factor: f64) {
    if let Film::FanBehind(fan) = &mut scenario.back.film {
        fan.flow = VolumeRate::from_m3_per_s(factor * fan.flow.m3_per_s());
    }
    let flow = |flow: VolumeRate| VolumeRate::from_m3_per_s(factor * flow.m3_per_s());
    let pressure = |p: Pressure| Pressure::from_pascals(factor * factor * p.pascals());
    for (_, fans) in systems(scenario) {
        let Some(fans) = fans else { continue };
        match &mut fans.curve {
            FanData::Points(points) => {
                for point in points {
                    *point = (flow(point.0), pressure(point.1));
                }
            }
            FanData::Ends { free_flow, max_pressure } => {
                *free_flow = flow(*free_flow);
                *max_pressure = pressure(*max_pressure);
            }
        }
    }
}

fn mapped(profile: &Profile, to: impl Fn(f64, f64) -> f64) -> Profile {
    let positions = profile.positions().to_vec();
    let values = profile.positions().iter().zip(profile.values()).map(|(&p, &v)| to(p, v));
    Profile::new(positions, values.collect())
}
