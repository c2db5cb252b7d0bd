//! How the fans are doing, in sentences.

use evenglass_simulation::ventilation::sizing::{Sized, State, Step};

use super::{fans, flow, hundredths, listed, reaching, share};
use crate::wording::plain;

/// What flows at full speed, and what happens below it.
pub(super) fn sentences(system: &Sized) -> String {
    let Some(full) = system.steps.first() else { return String::new() };
    let mut said = at_full(system, full);
    said.extend(slower(system));
    said.join(" ")
}

fn at_full(system: &Sized, full: &Step) -> Vec<String> {
    let (noun, run, stand) = if fans(&system.system) == 1 {
        ("fan", "runs", "stands")
    } else {
        ("fans", "run", "stand")
    };
    let operating = &full.operating;
    match &operating.state {
        State::Stopped => {
            return vec![format!(
                "The {noun} {stand} still even when full speed is asked for: the supply gives less \
                 than the least at which the {noun} turn{}.",
                if noun == "fan" { "s" } else { "" }
            )];
        }
        State::NoOperatingPoint { reason } => return vec![format!("No air moves: {reason}.")],
        State::Running | State::Stalling => {}
    }
    let reached = reaching(full);
    let mut said = vec![if reached > 0.0 {
        format!(
            "{} reach the glass at full speed; the {noun} {run} at {} Pa.",
            flow(reached),
            plain(operating.fan_pressure)
        )
    } else {
        format!(
            "No air reaches the glass; the {noun} {run} at {} Pa.",
            plain(operating.fan_pressure)
        )
    }];
    if operating.flow > 1.01 * reached {
        said.push(format!("The {noun} move{} {}.", s(noun), flow(operating.flow)));
    }
    if reached > 0.0 {
        let band = 100.0 * operating.flow_sigma;
        said.push(format!("The flow is known to {} % (one standard deviation).", plain(band)));
    }
    if (full.running - 1.0).abs() > 0.005 {
        let turned = hundredths(full.running);
        said.push(format!("The supply turns the {noun} at {turned} of full speed."));
    }
    said.push(if operating.state == State::Stalling {
        format!(
            "The {noun} stall{}, with less than four tenths of the free flow: louder, and less air than \
             the curve says. Give filters more area, take out bends, or put a second fan in series.",
            s(noun)
        )
    } else {
        format!("The {noun} do{} not stall.", if noun == "fan" { "es" } else { "" })
    });
    said
}

fn s(noun: &str) -> &'static str {
    if noun == "fan" { "s" } else { "" }
}

/// What the slower steps are good for.
fn slower(system: &Sized) -> Vec<String> {
    let below = system.steps.get(1..).unwrap_or_default();
    let named = |wanted: fn(&State) -> bool| -> Vec<String> {
        let some = below.iter().filter(|step| wanted(&step.operating.state));
        some.map(|step| share(step.asked)).collect()
    };
    let noun = if fans(&system.system) == 1 { "fan" } else { "fans" };
    let mut said = Vec::new();
    let full_turns = system.steps.first().is_some_and(|step| step.running > 0.0);
    let still = named(|state| *state == State::Stopped);
    if full_turns && !still.is_empty() {
        let least = system.system.fans.as_ref().map_or(0.0, |fans| fans.minimum_speed);
        said.push(format!(
            "At {} of full speed nothing turns: the {noun} need{} {}.",
            listed(&still),
            s(noun),
            hundredths(least)
        ));
    }
    let stalled = named(|state| *state == State::Stalling);
    if !stalled.is_empty() && system.steps[0].operating.state != State::Stalling {
        said.push(format!("Slowed to {} the {noun} stall{}.", listed(&stalled), s(noun)));
    }
    said
}
