//! Readings at any time within one step.

use evenglass_disc::{Part, Span, Wave};
use evenglass_scenario::Side;

use crate::figure::{Profiles, Waves};
use crate::films::Sectors;
use crate::reading::{Glass, Instant, Reader, air_within};
use crate::result::{Moment, Occasion, Record};

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
}

impl<'s> Within<'s> {
    /// * `varying` — what varies around the axis
    /// * `start` — the figure at the start of the step
    pub(super) fn new(
        span: &'s Span<'s>,
        (reader, films): (&'s Reader<'s>, &'s Sectors),
        (cells, points): (usize, usize),
        (varying, start): (&[Part], Option<&Profiles>),
    ) -> Self {
        let mut within = Self { span, reader, films, cells, points, knots: None };
        within.knots = start.cloned().and_then(|start| {
            let at = |third| {
                let time = within.third(third);
                let waves = waves(varying, |part| {
                    let mut kelvin = vec![0.0; cells];
                    span.part_kelvin(part, time, &mut kelvin);
                    kelvin
                });
                reader.profiles(&within.celsius(time), &waves)
            };
            Some([start, at(1)?, at(2)?, at(3)?])
        });
        within
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

    /// The figure at the end of the step.
    pub(super) fn last(self) -> Option<Profiles> {
        self.knots.map(|[_, _, _, end]| end)
    }

    pub(super) fn record(&self, time_s: f64, side: Side) -> Record {
        let air = air_within(self.films, self.span, time_s, self.points);
        self.glass(time_s, |glass| self.reader.read(glass, Instant { time_s, side }, &air))
    }

    pub(super) fn moment(&self, time_s: f64, what: Occasion) -> Option<Moment> {
        self.knots.as_ref()?;
        let air_variance = self.record(time_s, Side::Before).image.air_variance;
        let surface = self.glass(time_s, |glass| self.reader.surface(glass.profiles));
        Some(Moment { what, time_s, surface, air_variance })
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
        })
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
