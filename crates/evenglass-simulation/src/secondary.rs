//! The secondary mirror through the night: a plate of two nodes in the air, the column and
//! the radiation that the night has where it stands.
//!
//! It follows them and does not act on them. Integrated from step to step of the glass with
//! steps small against its own time constant, so that neither those nor the output interval
//! move it. Equations: docs/physics/dew.md.

mod balance;
mod site;
mod track;

use evenglass_scenario::{Scenario, Side};

use crate::dew::MirrorLog;
use crate::films::AirState;
use balance::{Balance, State};
use site::Site;
pub(crate) use site::Surrounding;
pub(crate) use track::Track;

/// Steps within a time constant of the plate.
const STEPS_PER_TIME_CONSTANT: f64 = 5.0;

/// Steps within one of the primary's at most.
const MOST_STEPS: u32 = 400;

/// The secondary of one night.
#[derive(Debug)]
pub(crate) struct Secondary<'a> {
    site: Site<'a>,
    balance: Balance,
    state: State,
    /// Around it where the last step ended.
    around: Surrounding,
    log: MirrorLog,
    /// State and surroundings where its margin was smallest.
    worst: Option<(State, Surrounding)>,
}

impl<'a> Secondary<'a> {
    /// At the start of the night; `None` where the telescope has none.
    pub(crate) fn new(scenario: &'a Scenario, air: &AirState) -> Option<Self> {
        let site = Site::of(scenario)?;
        let around = site.around(0.0, Side::After, air);
        let start = scenario.night.glass_temperature.kelvin();
        let mut log = MirrorLog::default();
        let margin = start - around.wetting;
        log.note((0.0, 0.0), [margin; 2], [0.0; 2]);
        Some(Self {
            balance: Balance::of(scenario, &site)?,
            site,
            state: State { kelvin: [start; 2], film: [0.0; 2] },
            worst: Some((State { kelvin: [start; 2], film: [0.0; 2] }, around)),
            around,
            log,
        })
    }

    /// Temperature of its face now \[K\].
    pub(crate) fn kelvin(&self) -> f64 {
        self.state.kelvin[0]
    }

    /// A stretch without jumps begins.
    pub(crate) fn enter(&mut self, time: f64, air: &AirState) {
        self.around = self.site.around(time, Side::After, air);
        self.note((time, time), self.state, self.around);
    }

    /// Follows a step between `ends` \[s\] of which `airs` is the air at thirds and end; returns
    /// its course.
    pub(crate) fn advance(&mut self, ends: (f64, f64), airs: [&AirState; 3]) -> Track {
        let third = (ends.1 - ends.0) / 3.0;
        let mut track = Track::default();
        for (n, air) in (0_u8..).zip(airs) {
            let from = ends.0 + third * f64::from(n);
            let to = if n == 2 { ends.1 } else { from + third };
            let next = self.site.around(to, Side::Before, air);
            self.cross((from, to), &next, &mut track);
            self.around = next;
        }
        let slope = self.balance.slope(&self.state, &self.around);
        track.push(ends.1, self.state.kelvin[0], slope);
        track
    }

    /// Crosses a time in which everything around runs straight.
    fn cross(&mut self, (from, to): (f64, f64), next: &Surrounding, track: &mut Track) {
        let forced = self.around.forced.max(next.forced);
        let constant =
            self.balance.time_constant(&self.state, &Surrounding { forced, ..self.around });
        let wanted = (to - from) * STEPS_PER_TIME_CONSTANT / constant;
        let steps = (1..MOST_STEPS).find(|&n| f64::from(n) >= wanted).unwrap_or(MOST_STEPS);
        let mut here = self.around;
        let step = (to - from) / f64::from(steps);
        for n in 1..=steps {
            let share = f64::from(n) / f64::from(steps);
            let there = self.around.towards(next, share);
            let (state, slope) = self.balance.step(&self.state, (&here, &there), step);
            let time = from + (to - from) * share;
            track.push(time - step, self.state.kelvin[0], slope);
            self.note((time - step, time), state, there);
            (here, self.state) = (there, state);
        }
    }

    /// Writes down a margin and a film at the end of a time, which began as the state now is.
    fn note(&mut self, times: (f64, f64), state: State, around: Surrounding) {
        let before = if times.0 < times.1 { &self.state } else { &state };
        let margins = [before.kelvin[0], state.kelvin[0]].map(|face| face - around.wetting);
        if margins[1] < self.log.worst_margin() {
            self.worst = Some((state, around));
        }
        if before.film[0] <= 0.0 && state.film[0] > 0.0 {
            self.log.forms_at(state.kelvin[0] - 273.15);
        }
        self.log.note(times, margins, [before.film[0], state.film[0]]);
    }

    /// What the night did to it, and its balance at the worst instant with what would hold a
    /// margin `target` \[K\].
    pub(crate) fn finish(self, target: f64) -> (MirrorLog, Option<Worst>) {
        let worst = self.worst.filter(|_| self.log.worst_margin() < target);
        let worst = worst.map(|(state, around)| self.balance.worst(&state, &around, target));
        (self.log, worst)
    }
}

/// The balance at an instant.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Worst {
    /// Air there above the point of wetting \[K\].
    pub(crate) air_margin: f64,
    /// Lost by radiation at the temperature wanted, over the area of the face [W m⁻²].
    pub(crate) radiated: f64,
    /// Films of face and bare back together [W m⁻² K⁻¹].
    pub(crate) film: f64,
    /// Heater that holds it there \[W\].
    pub(crate) heater: f64,
    /// Margin it would settle at with foil on its back \[K\].
    pub(crate) with_foil: f64,
}

#[cfg(test)]
mod tests;
