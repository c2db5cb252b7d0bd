//! Where the sheet meets itself and turns up into the column.

use super::Sheet;
use crate::disturbed::buffeted;

/// The sheet at the foot of the column.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Column {
    pub(super) radius: f64,
    /// Peak speed of the sheet.
    pub(super) speed: f64,
    pub(super) flow: f64,
    pub(super) film: f64,
    pub(super) intermittency: f64,
}

impl Sheet {
    /// Film inside the column's foot (eq. C-44): falling with the speed toward the axis,
    /// but not below what the colliding streams' turbulence keeps up.
    pub(super) fn turning_film(&self, radius: f64) -> f64 {
        let column = &self.column;
        let share = radius / column.radius;
        let gamma = column.intermittency;
        let along = column.film * ((1.0 - gamma) * share + gamma * share.powf(0.82));
        (along.powi(4) + self.buffeted_floor().powi(4)).sqrt().sqrt().min(column.film)
    }

    /// Film that fluctuations at the column's foot keep up [W m⁻² K⁻¹].
    pub(super) fn buffeted_floor(&self) -> f64 {
        let fluctuation = self.constants.column_turbulence * self.column.speed;
        let volumetric_heat = self.air.density * self.air.specific_heat;
        self.column.intermittency * buffeted(volumetric_heat, fluctuation).value
    }
}
