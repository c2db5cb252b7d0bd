//! From stored heat to heat potential and surface temperature, over whole fields.

use evenglass_units::Temperature;

use crate::material::Material;
use crate::surface::Surface;

/// A material spread over the points of a grid.
///
/// With constant properties everything is a product by a number known
/// beforehand; the general case costs a square root and two divisions a point.
#[derive(Debug)]
pub(crate) struct Thermal<'g> {
    pub(crate) material: Material,
    volume: &'g [f64],
    /// Potential by stored heat at each point [W m⁻¹ J⁻¹]; empty unless the properties are constant.
    potential_by_heat: Vec<f64>,
}

impl<'g> Thermal<'g> {
    pub(crate) fn new(material: Material, volume: &'g [f64]) -> Self {
        let per_volume = material.conductivity(0.0) / material.heat_capacity(0.0);
        let potential_by_heat = if material.is_constant() {
            volume.iter().map(|volume| per_volume / volume).collect()
        } else {
            vec![]
        };
        Self { material, volume, potential_by_heat }
    }

    /// Heat potential [W m⁻¹] of every point from its stored heat \[J\].
    pub(crate) fn potential(&self, stored: &[f64], potential: &mut [f64]) {
        if self.material.is_constant() {
            for ((theta, heat), factor) in
                potential.iter_mut().zip(stored).zip(&self.potential_by_heat)
            {
                *theta = heat * factor;
            }
        } else {
            for ((theta, heat), volume) in potential.iter_mut().zip(stored).zip(self.volume) {
                *theta = self.material.potential(self.material.celsius(heat / volume));
            }
        }
    }

    /// The same for all fields: the mean's points first, then those of each part.
    pub(crate) fn potentials(&self, stored: &[f64], potential: &mut [f64]) {
        let points = self.volume.len();
        let ((mean, parts), (theta, thetas)) =
            (stored.split_at(points), potential.split_at_mut(points));
        self.potential(mean, theta);
        if parts.is_empty() {
            return;
        }
        let mut capacity = vec![0.0; points];
        self.capacity(mean, &mut capacity);
        for (thetas, part) in thetas.chunks_exact_mut(points).zip(parts.chunks_exact(points)) {
            for ((theta, heat), capacity) in thetas.iter_mut().zip(part).zip(&capacity) {
                *theta = heat / capacity;
            }
        }
    }

    /// Amplitude \[K\] of a part from its stored heat and that of the mean \[J\] at a point.
    pub(crate) fn amplitude(&self, part: f64, mean: f64, point: usize) -> f64 {
        let volume = self.volume[point];
        part / (volume * self.material.heat_capacity(self.material.celsius(mean / volume)))
    }

    /// Temperature \[K\] of every boundary point from the potential of the grid's points.
    pub(crate) fn surface_kelvin(&self, surface: &Surface, potential: &[f64], kelvin: &mut [f64]) {
        let inverse = 1.0 / self.material.conductivity(0.0);
        for (point, kelvin) in kelvin.iter_mut().enumerate() {
            let terms = surface.terms(point);
            let theta: f64 = terms.iter().map(|&(n, weight)| weight * potential[n]).sum();
            let celsius = if self.material.is_constant() {
                theta * inverse
            } else {
                self.material.celsius_at_potential(theta)
            };
            *kelvin = Temperature::from_celsius(celsius).kelvin();
        }
    }

    /// Change of stored heat by heat potential [J m W⁻¹] at every point.
    pub(crate) fn capacity(&self, stored: &[f64], capacity: &mut [f64]) {
        if self.material.is_constant() {
            for (capacity, factor) in capacity.iter_mut().zip(&self.potential_by_heat) {
                *capacity = 1.0 / factor;
            }
        } else {
            for ((capacity, heat), volume) in capacity.iter_mut().zip(stored).zip(self.volume) {
                let celsius = self.material.celsius(heat / volume);
                let conductivity = self.material.conductivity(celsius);
                *capacity = volume * self.material.heat_capacity(celsius) / conductivity;
            }
        }
    }

    /// Relative change, by the mean's potential [m W⁻¹], of what a part's stored heat makes
    /// of potential: (k'/k - c'/c) / k at the temperature of the mean.
    pub(crate) fn drift(&self, stored: &[f64]) -> impl Iterator<Item = f64> {
        stored.iter().zip(self.volume).map(|(heat, volume)| {
            let celsius = self.material.celsius(heat / volume);
            let conductivity = self.material.conductivity(celsius);
            let by_conductivity = self.material.conductivity_slope() / conductivity;
            let by_capacity =
                self.material.heat_capacity_slope(celsius) / self.material.heat_capacity(celsius);
            (by_conductivity - by_capacity) / conductivity
        })
    }

    /// Conductivity [W m⁻¹ K⁻¹] at a temperature in kelvin.
    pub(crate) fn conductivity(&self, kelvin: f64) -> f64 {
        self.material.conductivity(Temperature::from_kelvin(kelvin).celsius())
    }
}
