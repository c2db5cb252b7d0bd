//! Worked examples of textbooks: inputs as printed, answers as printed.
//!
//! The books were not opened; each example was read in a rework of the book that
//! states its example number and page: the Textbook Companions of FOSSEE, Indian
//! Institute of Technology Bombay (repositories `Python-Textbook-Companions` and
//! `Scilab-TBC-Uploads`). Where the books interpolate a table of roots or read a
//! chart, the test walks the same way, or allows what that way costs.

use crate::slab;

/// A wide plate, one side sealed or both alike.
#[derive(Debug, Clone, Copy)]
pub(crate) struct WidePlate {
    /// From the sealed side or the middle to the surface [m].
    pub(crate) half: f64,
    pub(crate) film: f64,
    pub(crate) conductivity: f64,
    pub(crate) density: f64,
    pub(crate) specific_heat: f64,
    /// [°C]
    pub(crate) start: f64,
    /// [°C]
    pub(crate) air: f64,
    /// [s]
    pub(crate) time: f64,
}

impl WidePlate {
    fn biot(&self) -> f64 {
        self.film * self.half / self.conductivity
    }

    fn fourier(&self) -> f64 {
        let diffusivity = self.conductivity / (self.density * self.specific_heat);
        diffusivity * self.time / (self.half * self.half)
    }

    /// By the first term alone, with its root and coefficient read from a table by
    /// a straight line between two Biot numbers: what a reader of the book does.
    fn middle_by_table(&self, low: f64, high: f64) -> (f64, f64) {
        let share = (self.biot() - low) / (high - low);
        let root = |biot| slab::eigenvalues(biot, 1)[0];
        let zeta = root(low) + share * (root(high) - root(low));
        (zeta, (-zeta * zeta * self.fourier()).exp())
    }

    /// Temperature from the middle (0) to the surface (1) [°C].
    pub(crate) fn exact(&self, position: f64) -> f64 {
        let excess = slab::excess(self.biot(), self.fourier(), position);
        self.air + excess * (self.start - self.air)
    }
}

/// F. P. Incropera and D. P. `DeWitt`, *Fundamentals of Heat and Mass Transfer*,
/// 5th or 6th ed., example 5.4 (page 278 in the companion,
/// `Fundamentals_of_Heat_and_Mass_Transfer/Chapter_5.ipynb`): oil begins to flow
/// through a cold pipe of AISI 1010 steel, insulated outside. Table values ζ = 0.531
/// and C = 1.047; after 8 min the outside is at 42.92 °C.
pub(crate) const PIPELINE: WidePlate = WidePlate {
    half: 0.040,
    film: 500.0,
    conductivity: 63.9,
    density: 7832.0,
    specific_heat: 434.0,
    start: -20.0,
    air: 60.0,
    time: 480.0,
};
/// As the companion prints it [°C].
pub(crate) const PIPELINE_OUTSIDE: f64 = 42.92;
/// What the table costs: the straight line between Bi = 0.30 and 0.40 puts the root 0.0009
/// too low, 2 ζ Δζ Fo = 0.5 % of an excess of 17 K, and three digits of ζ and C as much again [K].
pub(crate) const PIPELINE_ALLOWED: f64 = 0.15;

/// S. P. Sukhatme, *A Textbook on Heat Transfer*, example 2.10 (page 58 in the
/// companion, `530/CH2/EX2.10.i`): a slab 10 mm thick cools from 200 to 20 °C in air.
/// Table value λ = 1.0498, found between Bi = 1 and 2; chart value of the middle 0.12.
pub(crate) const RUBBER_SLAB: WidePlate = WidePlate {
    half: 0.005,
    film: 150.0,
    conductivity: 0.4,
    density: 2200.0,
    specific_heat: 1050.0,
    start: 200.0,
    air: 20.0,
    time: 300.0,
};
/// Of the start's excess, read from a chart.
pub(crate) const RUBBER_SLAB_MIDDLE: f64 = 0.12;
/// Half a unit of the chart's second digit, and as much again for reading it.
pub(crate) const RUBBER_SLAB_ALLOWED: f64 = 0.01;

/// J. P. Holman, *Heat Transfer*, examples 4.7 and 4.8 (companion `405/CH4`): a long
/// aluminium rod of 5 cm at 200 °C, suddenly in 70 °C with 525 W m⁻² K⁻¹; after one
/// minute the axis has kept 0.38 of its excess (chart).
pub(crate) mod rod {
    /// [m]
    pub(crate) const RADIUS: f64 = 0.025;
    pub(crate) const FILM: f64 = 525.0;
    pub(crate) const CONDUCTIVITY: f64 = 215.0;
    /// [m² s⁻¹]
    pub(crate) const DIFFUSIVITY: f64 = 8.4e-5;
    /// [s]
    pub(crate) const TIME: f64 = 60.0;
    /// Share of the start's excess left on the axis.
    pub(crate) const AXIS: f64 = 0.38;
    /// Half a unit of the last printed digit.
    pub(crate) const ALLOWED: f64 = 0.005;
}

/// Documentation of the Python library pychemengg 0.1a11, page "Transient Heat
/// Transfer", example 3: a wooden log of 10 cm at 15 °C meets gases of 550 °C with
/// 13.6 W m⁻² K⁻¹; with ten terms its surface reaches 420 °C after 2966 s. (A problem
/// of its own, no book named.)
pub(crate) mod log {
    /// [m]
    pub(crate) const RADIUS: f64 = 0.05;
    pub(crate) const FILM: f64 = 13.6;
    pub(crate) const CONDUCTIVITY: f64 = 0.17;
    /// [m² s⁻¹]
    pub(crate) const DIFFUSIVITY: f64 = 1.28e-7;
    /// [°C]
    pub(crate) const START: f64 = 15.0;
    /// [°C]
    pub(crate) const GASES: f64 = 550.0;
    /// [s]
    pub(crate) const TIME: f64 = 2966.0;
    /// [°C]
    pub(crate) const SURFACE: f64 = 420.0;
    /// The surface warms by 0.028 K in the second to which the time is printed [K].
    pub(crate) const ALLOWED: f64 = 0.015;
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;

    use super::*;
    use crate::{cylinder, semi_infinite};

    #[test]
    fn the_pipeline_is_reproduced_the_way_the_book_walks() {
        let plate = PIPELINE;
        let (zeta, decay) = plate.middle_by_table(0.30, 0.40);
        assert_abs_diff_eq!(zeta, 0.531, epsilon = 0.0005);
        let share = (plate.biot() - 0.30) / 0.10;
        let coefficient = |biot| slab::coefficient(slab::eigenvalues(biot, 1)[0]);
        let c = coefficient(0.30) + share * (coefficient(0.40) - coefficient(0.30));
        assert_abs_diff_eq!(c, 1.047, epsilon = 0.0005);
        let outside = plate.air + c * decay * (plate.start - plate.air);
        // Three digits of ζ and C: 2 ζ · 0.0005 · Fo + 0.0005 of the excess of 17 K.
        assert_abs_diff_eq!(outside, PIPELINE_OUTSIDE, epsilon = 0.065);
        assert_abs_diff_eq!(plate.exact(0.0), PIPELINE_OUTSIDE, epsilon = PIPELINE_ALLOWED);
    }

    #[test]
    fn the_slab_in_air_is_reproduced_the_way_the_book_walks() {
        let plate = RUBBER_SLAB;
        assert_abs_diff_eq!(plate.biot(), 1.875, epsilon = 1e-12);
        let (lambda, _) = plate.middle_by_table(1.0, 2.0);
        assert_abs_diff_eq!(lambda, 1.0498, epsilon = 0.00005);
        let kept = (plate.exact(0.0) - plate.air) / (plate.start - plate.air);
        assert_abs_diff_eq!(kept, RUBBER_SLAB_MIDDLE, epsilon = RUBBER_SLAB_ALLOWED);
    }

    #[test]
    fn the_axis_of_the_aluminium_rod_is_reproduced_to_the_printed_digit() {
        let biot = rod::FILM * rod::RADIUS / rod::CONDUCTIVITY;
        let fourier = rod::DIFFUSIVITY * rod::TIME / (rod::RADIUS * rod::RADIUS);
        let axis = cylinder::excess(biot, fourier, 0.0);
        assert_abs_diff_eq!(axis, rod::AXIS, epsilon = rod::ALLOWED);
    }

    #[test]
    fn the_log_reaches_its_ignition_at_the_printed_second() {
        let biot = log::FILM * log::RADIUS / log::CONDUCTIVITY;
        let fourier = log::DIFFUSIVITY * log::TIME / (log::RADIUS * log::RADIUS);
        let surface = log::GASES + cylinder::excess(biot, fourier, 1.0) * (log::START - log::GASES);
        assert_abs_diff_eq!(surface, log::SURFACE, epsilon = log::ALLOWED);
    }

    /// pychemengg 0.1a11, the same page, example 6: bricks at 25 °C, gases of 550 °C,
    /// 35 W m⁻² K⁻¹, k = 0.17 W m⁻¹ K⁻¹, a = 1.28e-7 m²/s; the surface after 5 min is at 360 °C.
    #[test]
    fn the_surface_of_a_brick_in_hot_gas_is_reproduced() {
        let change = semi_infinite::change(0.0, 35.0 / 0.17, 1.28e-7 * 300.0);
        assert_abs_diff_eq!(25.0 + change * 525.0, 360.0, epsilon = 0.5);
    }
}
