//! Readings at any time within one step.

use evenglass_disc::{Part, Span, Wave};
use evenglass_scenario::Side;

use crate::figure::{Profiles, Waves};
use crate::films::{AirState, Sectors};
use crate::reading::{Glass, Instant, Reader, air_within};
use crate::result::{Moment, Occasion, Record};
use crate::secondary::{Secondary, Track};

/// A step, what surrounds the glass in it, and who reads it.
pub(super) struct Within<'s> {
    pub(super) span: &'s Span<'s>,
    reader: &'s Reader<'s>,
    films: &'s Sectors,
    /// Points of the grid, and boundary points of all sectors.
    cells: usize,
    points: usize,
    /// The figure at the start, the thirds and the end of the step; absent where only
    /// temperatures are wanted.
    knots: Option<[Profiles; 4]>,
    /// The air there.
    airs: [AirState; 4],
    /// Largest departure from the mean around the axis there, at the points of the front \[K\].
    unevenness: [Vec<f64>; 4],
    /// The secondary in this step.
    track: Option<Track>,
}

/// How a step starts.
#[derive(Debug, Clone, Copy)]
pub(super) struct Start<'s> {
    /// The figure; absent where only temperatures are wanted.
    pub(super) profiles: Option<&'s Profiles>,
    pub(super) air: &'s AirState,
    /// Largest departure from the mean around the axis \[K\].
    pub(super) unevenness: &'s [f64],
}

impl<'s> Within<'s> {
    /// * `varying` — what varies around the axis
    pub(super) fn new(
        span: &'s Span<'s>,
        (reader, films): (&'s Reader<'s>, &'s Sectors),
        (cells, points): (usize, usize),
        (varying, start): (&[Part], Start<'_>),
    ) -> Self {
        let airs = [*start.air; 4];
        let unevenness = [start.unevenness.to_vec(), vec![], vec![], vec![]];
        let mut within =
            Self { span, reader, films, cells, points, knots: None, airs, unevenness, track: None };
        let thirds = [1, 2, 3].map(|third| within.third(third));
        let varied = thirds.map(|time| {
            waves(varying, |part| {
                let mut kelvin = vec![0.0; cells];
                span.part_kelvin(part, time, &mut kelvin);
                kelvin
            })
        });
        for (n, time) in thirds.into_iter().enumerate() {
            within.airs[n + 1] = air_within(films, span, time, points);
            within.unevenness[n + 1] = reader.unevenness(&varied[n]);
        }
        within.knots = start.profiles.cloned().and_then(|start| {
            let at = |n: usize| reader.profiles(&within.celsius(thirds[n]), &varied[n]);
            Some([start, at(0)?, at(1)?, at(2)?])
        });
        within
    }

    /// Lets the secondary follow the step.
    pub(super) fn lead(&mut self, secondary: Option<&mut Secondary<'_>>) {
        let [_, first, second, end] = &self.airs;
        self.track = secondary.map(|s| s.advance(self.ends(), [first, second, end]));
    }

    /// The air at start, thirds and end.
    pub(super) fn airs(&self) -> [&AirState; 4] {
        self.airs.each_ref()
    }

    /// Start and end \[s\].
    pub(super) fn ends(&self) -> (f64, f64) {
        (self.span.from_s(), self.span.to_s())
    }

    /// The time at a number of thirds of the step \[s\].
    pub(super) fn third(&self, thirds: u8) -> f64 {
        let (from, to) = self.ends();
        if thirds == 3 { to } else { from + (to - from) * f64::from(thirds) / 3.0 }
    }

    /// Figure, air and unevenness at the end of the step.
    pub(super) fn last(self) -> (Option<Profiles>, AirState, Vec<f64>) {
        let [.., air] = self.airs;
        let [.., unevenness] = self.unevenness;
        (self.knots.map(|[.., end]| end), air, unevenness)
    }

    pub(super) fn record(&self, time_s: f64, side: Side) -> Record {
        let known = (1..4).find(|&n| self.third(n).total_cmp(&time_s).is_eq());
        let air = match known {
            Some(n) => self.airs[usize::from(n)],
            None => air_within(self.films, self.span, time_s, self.points),
        };
        self.glass(time_s, |glass| self.reader.read(glass, Instant { time_s, side }, &air))
    }

    pub(super) fn moment(&self, time_s: f64, what: Occasion) -> Option<Moment> {
        self.knots.as_ref()?;
        let surface = self.glass(time_s, |glass| self.reader.surface(glass.profiles));
        Some(Moment { what, time_s, surface })
    }

    pub(super) fn glass<T>(&self, time: f64, take: impl FnOnce(&Glass<'_>) -> T) -> T {
        let profiles = self.knots.as_ref().map(|knots| {
            let (from, to) = self.ends();
            Profiles::between(knots, 3.0 * (time - from) / (to - from))
        });
        take(&Glass {
            celsius: &self.celsius(time),
            profiles: profiles.as_ref(),
            heat_lost_j: self.span.heat_lost_j(time),
            unevenness: &self.unevenness_at(time),
            secondary_k: self.track.as_ref().map_or(f64::NAN, |track| track.at(time)),
        })
    }

    /// Straight between the thirds.
    fn unevenness_at(&self, time: f64) -> Vec<f64> {
        let (from, to) = self.ends();
        let place = (3.0 * (time - from) / (to - from)).clamp(0.0, 3.0);
        let before = [1.0, 2.0].into_iter().filter(|third| place >= *third).count();
        let share = place - before as f64;
        let [from, to] = [before, before + 1].map(|n| &self.unevenness[n]);
        from.iter().zip(to).map(|(from, to)| from + share * (to - from)).collect()
    }

    fn celsius(&self, time: f64) -> Vec<f64> {
        let mut celsius = vec![0.0; self.cells];
        self.span.celsius(time, &mut celsius);
        celsius
    }
}

/// The orders that vary, from the amplitude of each part at every point \[K\].
pub(super) fn waves(varying: &[Part], amplitude: impl Fn(Part) -> Vec<f64>) -> Vec<Waves> {
    let mut orders: Vec<Waves> = vec![];
    for &part in varying {
        let kelvin = amplitude(part);
        if let (Wave::Sine, Some(waves)) = (part.wave, orders.last_mut()) {
            waves.sine = kelvin;
        } else {
            let sine = vec![0.0; kelvin.len()];
            orders.push(Waves { order: part.order, cosine: kelvin, sine });
        }
    }
    orders
}
