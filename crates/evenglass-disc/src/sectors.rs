//! From fields to sectors around the axis and back: where heat exchange is asked for.

use crate::boundary::{BodyExchange, Exchange, Exchanges, Surroundings, Temperatures};
use crate::fields::Fields;
use crate::thermal::Thermal;
use crate::variation::{Part, Variation};

/// The sectors around the axis; one for round glass.
#[derive(Debug)]
pub(crate) struct Sectors {
    count: usize,
    parts: Vec<Part>,
    /// Value of each part in each sector, `[sectors][parts]`.
    wave: Vec<f64>,
    /// Temperature of the surface \[K\] as last noted: every part's, `[parts · points]`, and in
    /// every sector, `[sectors · points]`; empty for round glass.
    part_surface: Vec<f64>,
    surface: Vec<f64>,
}

/// Heat exchange as asked for, and what it is to the fields.
#[derive(Debug)]
pub(crate) struct Answer {
    /// Mean around the axis, `[points]`.
    pub(crate) mean: Vec<Exchange>,
    /// In every sector, `[sectors · points]`; empty for round glass.
    sector: Vec<Exchange>,
    /// Flux of every part [W m⁻²], `[parts · points]`.
    pub(crate) part: Vec<f64>,
}

impl Answer {
    pub(crate) fn new(points: usize, sectors: &Sectors) -> Self {
        let whole = if sectors.is_round() { 0 } else { sectors.count * points };
        Self {
            mean: vec![Exchange::default(); points],
            sector: vec![Exchange::default(); whole],
            part: vec![0.0; sectors.parts.len() * points],
        }
    }

    /// The exchange as it was asked for.
    pub(crate) fn asked(&self) -> &[Exchange] {
        if self.sector.is_empty() { &self.mean } else { &self.sector }
    }
}

impl Sectors {
    pub(crate) fn new(variation: &Variation) -> Self {
        let parts = variation.parts();
        let angles = variation.angles();
        let wave = angles.iter().flat_map(|&angle| parts.iter().map(move |part| part.at(angle)));
        Self {
            count: angles.len(),
            wave: wave.collect(),
            part_surface: vec![],
            surface: vec![],
            parts,
        }
    }

    pub(crate) fn len(&self) -> usize {
        self.count
    }

    pub(crate) fn is_round(&self) -> bool {
        self.parts.is_empty()
    }

    /// Temperatures as they were last asked about; `mean` is that of round glass.
    pub(crate) fn surface<'s>(&'s self, mean: &'s [f64]) -> &'s [f64] {
        if self.is_round() { mean } else { &self.surface }
    }

    /// Values in every sector of the fields whose values at boundary points are given.
    pub(crate) fn spread(&self, field: &[f64], points: usize) -> Vec<f64> {
        let mut sectors = Vec::with_capacity(self.count * points);
        let (mean, parts) = field.split_at(points);
        for sector in 0..self.count {
            let from = sectors.len();
            sectors.extend_from_slice(mean);
            for (part, wave) in parts.chunks_exact(points).zip(self.waves(sector)) {
                for (value, part) in sectors[from..].iter_mut().zip(part) {
                    *value += wave * part;
                }
            }
        }
        sectors
    }

    /// Fields at boundary points of values in every sector: mean, and amplitude of every part.
    pub(crate) fn gather(&self, sectors: &[f64], points: usize) -> Vec<f64> {
        let mut fields = vec![0.0; (1 + self.parts.len()) * points];
        let (mean, parts) = fields.split_at_mut(points);
        let share = 1.0 / self.count as f64;
        for (sector, values) in sectors.chunks_exact(points).enumerate() {
            for (mean, value) in mean.iter_mut().zip(values) {
                *mean += share * value;
            }
            for (part, wave) in parts.chunks_exact_mut(points).zip(self.waves(sector)) {
                let share = 2.0 * share * wave;
                for (part, value) in part.iter_mut().zip(values) {
                    *part += share * value;
                }
            }
        }
        fields
    }

    /// Place of a part among those that vary.
    pub(crate) fn place(&self, part: Part) -> Option<usize> {
        self.parts.iter().position(|&known| known == part)
    }

    /// Notes the surface temperatures of all fields: that of the mean \[K\], the others from
    /// their potentials.
    pub(crate) fn note_surface(
        &mut self,
        fields: &Fields<'_>,
        thermal: &Thermal<'_>,
        (mean, potential): (&[f64], &[f64]),
    ) {
        if !self.is_round() {
            let mut kelvin = field_kelvins(fields, thermal, (mean, potential));
            self.surface = self.spread(&kelvin, mean.len());
            self.part_surface = kelvin.split_off(mean.len());
        }
    }

    /// Surface temperatures in every sector \[K\] for stored heat, `[sectors · points]`.
    pub(crate) fn surface_of(
        &self,
        fields: &Fields<'_>,
        thermal: &Thermal<'_>,
        stored: &[f64],
    ) -> Vec<f64> {
        let surface = fields.surface(0);
        let mut potential = vec![0.0; stored.len()];
        let mut mean = vec![0.0; surface.points.len()];
        thermal.potentials(stored, &mut potential);
        thermal.surface_kelvin(surface, &potential, &mut mean);
        if self.is_round() {
            return mean;
        }
        self.spread(&field_kelvins(fields, thermal, (&mean, &potential)), mean.len())
    }

    /// Change of conductivity around the axis at the surface last noted: of the temperature of
    /// each part times that of the conductivity [W m⁻¹ K⁻¹], `[parts · points]`; empty if none.
    pub(crate) fn bend(&self, thermal: &Thermal<'_>) -> Vec<f64> {
        let slope = thermal.material.conductivity_slope();
        if slope == 0.0 {
            return vec![];
        }
        self.part_surface.iter().map(|kelvin| slope * kelvin).collect()
    }

    /// Asks for the heat exchange in all sectors.
    ///
    /// * `at` — the surface of the mean, and the bodies
    pub(crate) fn ask<S: Surroundings>(
        &self,
        surroundings: &S,
        time: f64,
        at: &Temperatures<'_>,
        (answer, bodies): (&mut Answer, &mut [BodyExchange]),
    ) {
        if self.is_round() {
            let exchanges = Exchanges { surface: &mut answer.mean, bodies };
            surroundings.exchange_with_bodies(time, at, exchanges);
            return;
        }
        let at = Temperatures { surface: &self.surface, bodies: at.bodies };
        let exchanges = Exchanges { surface: &mut answer.sector, bodies };
        surroundings.exchange_with_bodies(time, &at, exchanges);
        let points = answer.mean.len();
        let flux: Vec<f64> = answer.sector.iter().map(|heat| heat.flux).collect();
        let flux = self.gather(&flux, points);
        answer.mean.fill(Exchange::default());
        for sector in answer.sector.chunks_exact(points) {
            for (mean, heat) in answer.mean.iter_mut().zip(sector) {
                mean.slope += heat.slope;
            }
        }
        for (mean, flux) in answer.mean.iter_mut().zip(&flux) {
            *mean = Exchange { flux: *flux, slope: mean.slope / self.count as f64 };
        }
        answer.part.copy_from_slice(&flux[points..]);
    }

    fn waves(&self, sector: usize) -> &[f64] {
        &self.wave[sector * self.parts.len()..][..self.parts.len()]
    }
}

/// Surface temperatures of all fields \[K\] from that of the mean and all potentials.
fn field_kelvins(
    fields: &Fields<'_>,
    thermal: &Thermal<'_>,
    (mean, potential): (&[f64], &[f64]),
) -> Vec<f64> {
    let mut kelvin = fields.at_surface(potential);
    let (own, parts) = kelvin.split_at_mut(mean.len());
    own.copy_from_slice(mean);
    for part in parts.chunks_exact_mut(mean.len()) {
        for (value, &mean) in part.iter_mut().zip(mean) {
            *value /= thermal.conductivity(mean);
        }
    }
    kelvin
}
