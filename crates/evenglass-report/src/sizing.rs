//! A sizing in words and tables for the terminal, the answer first.

mod budget;
mod films;
mod sheet;
mod state;
mod steps;
mod wishes;

use evenglass_simulation::scenario::Scenario;
use evenglass_simulation::scenario::ventilation::{Arrangement, System};
use evenglass_simulation::ventilation::sizing::{Sized, Sizing, Step};
use evenglass_simulation::ventilation::wish::{Answer, Wish, Wished};

use crate::summary::CAUTIONS;
use crate::text::{short, wrap};
use crate::wording::{celsius, mirror, plain};

/// Cubic feet per minute in a cubic metre per second.
const CFM: f64 = 2118.88;

/// A sizing with everything that was asked besides.
#[derive(Debug, Clone)]
pub struct SizeReport {
    /// What was sized.
    pub scenario: Scenario,
    /// The numbers; at least one system.
    pub sizing: Sizing,
    /// What was wished for; `None` where the main arrangement has no fans.
    pub wishes: Vec<(Wish, Option<Wished>)>,
    /// The filters before the main fans, if there are any.
    pub filter: Option<Filter>,
}

/// What filters take.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Filter {
    /// Share of the fans' pressure at full speed [-].
    pub share: f64,
    /// Face area \[m²\] of the first, the others growing alike, at which it is a quarter.
    pub area: Answer,
}

/// The answer for the terminal: state, steps, pressures, films, sheet, wishes, cautions.
///
/// Lines are at most about 80 columns wide; there is no final newline.
#[must_use]
pub fn sizing_text(report: &SizeReport) -> String {
    let mut parts = vec![heading(report)];
    let many = report.sizing.systems.len() > 1;
    for system in &report.sizing.systems {
        if many {
            parts.push(format!("== {} ==", name(&system.system.arrangement)));
        }
        parts.extend(of_system(system, sheet::Height::of(&report.scenario)));
    }
    parts.extend(wishes::filter(report));
    parts.extend(wishes::answers(report));
    parts.push(CAUTIONS.to_owned());
    parts.join("\n\n")
}

fn heading(report: &SizeReport) -> String {
    let air = &report.sizing.air;
    let temperature = evenglass_units::Temperature::from_kelvin(air.temperature);
    let case = format!(
        "{}; {} in air of {}, the mean of the night, and {} hPa.",
        mirror(&report.scenario),
        report.sizing.systems.first().map_or("fans", |system| name(&system.system.arrangement)),
        celsius(temperature),
        (0.01 * report.sizing.pressure_pa).round()
    );
    format!("{}\n{}", short(&report.scenario.title, 78), wrap(&case, 0))
}

fn of_system(system: &Sized, height: sheet::Height) -> Vec<String> {
    let mut parts = vec![wrap(&state::sentences(system), 0), steps::table(system)];
    let Some(full) = system.steps.first() else { return parts };
    parts.extend(budget::table(full));
    parts.extend(films::table(full));
    parts.extend(sheet::sentences(full, height).map(|text| wrap(&text, 0)));
    parts
}

/// The arrangement as a builder says it.
pub(crate) fn name(arrangement: &Arrangement) -> &'static str {
    match arrangement {
        Arrangement::FanBehind(_) => "a fan behind the glass",
        Arrangement::FansBehind { .. } => "fans behind the glass",
        Arrangement::Suction { .. } => "suction",
        Arrangement::Plenum { .. } => "a plenum",
        Arrangement::RingNozzle(_) => "a ring nozzle",
        Arrangement::SideFans(_) => "fans beside the mirror",
        Arrangement::CornerFans { .. } => "fans in the corners",
        Arrangement::FanAbove { .. } => "a fan above the mirror",
        Arrangement::Open => "an open truss",
        Arrangement::Sealed => "a sealed box",
    }
}

/// "29 L/s (62 cfm)".
fn flow(flow: f64) -> String {
    format!("{} L/s ({} cfm)", plain(1e3 * flow), plain(CFM * flow))
}

/// The air that reaches the glass [m³/s].
fn reaching(step: &Step) -> f64 {
    step.flows.into_iter().fold(0.0, f64::max)
}

/// "full", "1/2" …
pub(crate) fn share(asked: f64) -> String {
    if asked >= 1.0 { "full".to_owned() } else { format!("1/{:.0}", 1.0 / asked) }
}

/// "0.71".
fn hundredths(share: f64) -> String {
    let text = format!("{share:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// How many fans a system has.
fn fans(system: &System) -> u32 {
    system.fans.as_ref().map_or(0, |fans| fans.count * fans.in_series)
}

/// "1/3, 1/4 and 1/6".
fn listed(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [before @ .., last] => format!("{} and {last}", before.join(", ")),
    }
}
