//! One night from start to end.

use evenglass_disc::{
    BodyExchange, Exchange, Exchanges, Resolution, SectionError, StepError, Stepper, Surroundings,
    Temperatures,
};
use evenglass_optics::DeflectionError;
use evenglass_scenario::Scenario;
use thiserror::Error;

use crate::figure::{FigureReader, obstruction};
use crate::films::{Sectors, event_times, variation};
use crate::geometry::{Geometries, breaks, material, section};
use crate::recorder::Recorder;
use crate::result::Night;
use crate::unused;

/// Why a night could not be computed.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum SimulationError {
    /// The mirror's shape leaves no glass.
    #[error(transparent)]
    Shape(#[from] SectionError),
    /// The figure cannot be computed.
    #[error(transparent)]
    Figure(#[from] DeflectionError),
    /// The time steps failed.
    #[error(transparent)]
    Step(#[from] StepError),
}

/// Flux change [W m⁻²] at an event from which on it counts as a jump, after
/// which the first step is small. The step control would find it anyway, by
/// refusing steps.
const JUMP: f64 = 1.0;

/// Cools the mirror of `scenario` through its night.
///
/// # Errors
/// If the shape leaves no glass (a checked scenario never does), the grid is too
/// large, or the time steps fail.
pub fn simulate(scenario: &Scenario, resolution: &Resolution) -> Result<Night, SimulationError> {
    simulate_with(scenario, resolution, &Geometries::new())
}

/// The same, sharing grids with other nights.
///
/// # Errors
/// As [`simulate`].
pub fn simulate_with(
    scenario: &Scenario,
    resolution: &Resolution,
    geometries: &Geometries,
) -> Result<Night, SimulationError> {
    cool(scenario, resolution, geometries, Wanted::Image)
}

/// The same without the image: its columns stay empty and no stretch is good.
///
/// # Errors
/// As [`simulate`].
pub fn temperatures_with(
    scenario: &Scenario,
    resolution: &Resolution,
    geometries: &Geometries,
) -> Result<Night, SimulationError> {
    cool(scenario, resolution, geometries, Wanted::Temperatures)
}

/// What is computed of a night.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Wanted {
    Temperatures,
    Image,
}

fn cool(
    scenario: &Scenario,
    resolution: &Resolution,
    geometries: &Geometries,
    wanted: Wanted,
) -> Result<Night, SimulationError> {
    let section = section(&scenario.mirror)?;
    let breaks = breaks(scenario);
    let grid = geometries.grid(&section, resolution, &breaks);
    let variation = variation(scenario);
    let figure = match wanted {
        Wanted::Temperatures => None,
        Wanted::Image => {
            let poisson_ratio = scenario.mirror.glass.poisson_ratio;
            let orders = [0].into_iter().chain(variation.orders());
            let influence =
                |order| geometries.influence(&grid, (resolution, &breaks), (poisson_ratio, order));
            let influences: Vec<_> = orders.map(influence).collect::<Result<_, _>>()?;
            let shaded = obstruction(scenario);
            let apertures = geometries.apertures(&section, &influences[0], shaded);
            Some(FigureReader::new(scenario, influences, apertures))
        }
    };
    let glass = material(&scenario.mirror.glass);
    let start = scenario.night.glass_temperature;
    let mut stepper = Stepper::uniform(&grid, glass, start, resolution.tolerance);
    let mut films = Sectors::new(scenario, &grid, &variation);
    stepper = stepper.with_bodies(&films.start_of_bodies()).varying(&variation);

    let end = scenario.night.duration.seconds();
    let mut stretches = event_times(scenario);
    stretches.push(end);
    films.enter(0.0, stretches[0]);
    stepper.expect_jump();
    let mut recorder = Recorder::new(scenario, &grid, (figure, &variation), (&stepper, &films));
    let mut from = 0.0;
    for to in stretches {
        if from > 0.0 {
            let before = fluxes(&films, &stepper);
            films.enter(from, to);
            if jumped(&before, &fluxes(&films, &stepper)) {
                stepper.expect_jump();
            }
        }
        recorder.enter(from, &films, &stepper);
        stepper.advance(to, &films, |span| recorder.observe(span, &films))?;
        from = to;
    }
    recorder.end(&films, &stepper);
    let mut warnings = films.warnings();
    warnings.extend(unused::warning(scenario));
    Ok(recorder.finish(&stepper, warnings))
}

/// Exchange of the glass as it is now.
fn fluxes(films: &Sectors, stepper: &Stepper<'_>) -> Vec<Exchange> {
    let surface = stepper.surface_kelvin();
    let mut exchange = vec![Exchange::default(); surface.len()];
    let temperatures = Temperatures { surface: &surface, bodies: stepper.body_kelvin() };
    let mut bodies = vec![BodyExchange::default(); films.bodies()];
    let exchanges = Exchanges { surface: &mut exchange, bodies: &mut bodies };
    films.exchange_with_bodies(stepper.time_s(), &temperatures, exchanges);
    exchange
}

fn jumped(before: &[Exchange], after: &[Exchange]) -> bool {
    before.iter().zip(after).any(|(b, a)| (a.flux - b.flux).abs() > JUMP)
}
