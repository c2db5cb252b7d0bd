//! When the image is good, found to the second, whatever the output interval.

use evenglass_disc::Span;
use evenglass_scenario::scenario::Good;

use crate::probes::Probe;
use crate::result::{Ending, GoodInterval};
use evenglass_units::Temperature;

/// Pieces of a time step between whose ends the state is taken to change at most once.
const PIECES: u32 = 4;

/// Follows |front minus air| through the night.
#[derive(Debug)]
pub(crate) struct GoodTracker {
    limit: f64,
    held_for: f64,
    stretch: (f64, f64),
    /// Air \[K\] at the two ends of the stretch.
    air: (f64, f64),
    since: Option<f64>,
    intervals: Vec<GoodInterval>,
}

impl GoodTracker {
    pub(crate) fn new(good: &Good) -> Self {
        Self {
            limit: good.front_minus_air.kelvins(),
            held_for: good.held_for.seconds(),
            stretch: (0.0, 1.0),
            air: (0.0, 0.0),
            since: None,
            intervals: vec![],
        }
    }

    /// A stretch begins in which the air changes linearly between `air` \[K\] at its ends.
    pub(crate) fn enter(&mut self, stretch: (f64, f64), air: (f64, f64)) {
        self.stretch = stretch;
        self.air = air;
    }

    pub(crate) fn observe(&mut self, span: &Span<'_>, front: &Probe) {
        let (from, to) = (span.from_s(), span.to_s());
        let mut earlier = from;
        self.update(earlier, self.margin(span, front, earlier) >= 0.0);
        for piece in 1..=PIECES {
            let later = from + (to - from) * f64::from(piece) / f64::from(PIECES);
            let good = self.margin(span, front, later) >= 0.0;
            if good != self.since.is_some() {
                let change = self.crossing(span, front, (earlier, later));
                self.update(change, good);
            }
            earlier = later;
        }
    }

    /// How much |front minus air| is below its limit \[K\].
    fn margin(&self, span: &Span<'_>, front: &Probe, time: f64) -> f64 {
        let fraction = (time - self.stretch.0) / (self.stretch.1 - self.stretch.0);
        let air = self.air.0 + fraction * (self.air.1 - self.air.0);
        let front = Temperature::from_celsius(span.celsius_of(front.terms(), time));
        self.limit - (front - Temperature::from_kelvin(air)).kelvins().abs()
    }

    /// Where the margin changes sign, by bisection to a tenth of a second.
    fn crossing(&self, span: &Span<'_>, front: &Probe, (mut low, mut high): (f64, f64)) -> f64 {
        let positive = self.margin(span, front, low) >= 0.0;
        while high - low > 0.1 {
            let middle = 0.5 * (low + high);
            if (self.margin(span, front, middle) >= 0.0) == positive {
                low = middle;
            } else {
                high = middle;
            }
        }
        0.5 * (low + high)
    }

    fn update(&mut self, time: f64, good: bool) {
        match (self.since, good) {
            (None, true) => self.since = Some(time),
            (Some(since), false) => {
                self.close(since, time, Ending::FrontMinusAir);
                self.since = None;
            }
            _ => {}
        }
    }

    /// Keeps a stretch if it lasted.
    fn close(&mut self, from_s: f64, to_s: f64, ended_by: Ending) {
        if to_s - from_s >= self.held_for {
            self.intervals.push(GoodInterval { from_s, to_s, ended_by });
        }
    }

    pub(crate) fn finish(&mut self, end: f64) -> Vec<GoodInterval> {
        if let Some(since) = self.since.take() {
            self.close(since, end, Ending::EndOfRun);
        }
        std::mem::take(&mut self.intervals)
    }
}
