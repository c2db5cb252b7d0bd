//! Fans at the side of a mirror that blow across its face.
//!
//! A single fan leaves a three-dimensional wall jet; a row of them merges, some six
//! pitches away, into a plane one.

use std::f64::consts::{LN_2, PI};

use crate::sheet::{Nozzle, Sheet, SheetAir, SheetConstants};
use crate::{Estimate, Validity, wall_jet};

/// Distances over the root of the outlet's area: end of the core, start of the far law.
const CORE: f64 = 5.5;
const FAR: f64 = 15.0;

/// Distance, in pitches of a row of fans, behind which their jets have merged [-].
pub const MERGED_PITCHES: f64 = 6.0;

/// One outlet that blows along a wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SideJet {
    /// Mean at the outlet [m/s]
    pub speed: f64,
    /// Of the outlet \[m²\]
    pub area: f64,
}

impl SideJet {
    /// Largest speed at a distance along the wall over the outlet's (eq. C-64).
    ///
    /// * `along` — from the outlet \[m\]
    ///
    /// # Source
    /// N. Rajaratnam, *Turbulent Jets* (1976), and B. E. Launder and W. Rodi, "The
    /// turbulent wall jet: measurements and modeling", Annu. Rev. Fluid Mech. 15 (1983)
    /// 429–459; constants from memory. That speed and widths are linear in the distance:
    /// B. G. Newman, R. P. Patel, S. B. Savage and H. K. Tjio, Aeronaut. Q. 23 (1972)
    /// 188–200.
    #[must_use]
    pub fn peak_speed_ratio(&self, along: f64) -> Estimate {
        let relative = along.max(0.0) / self.area.sqrt();
        let value = if relative <= CORE {
            1.0
        } else if relative <= FAR {
            CORE / relative
        } else {
            CORE / FAR * (FAR / relative).powf(1.1)
        };
        let validity = Validity::of(relative, 0.0..=60.0);
        Estimate { value, validity, relative_sigma: 0.20 }
    }

    /// Height and half of the width within which the speed is above half its peak \[m\]
    /// (eq. C-65), not smaller than half the outlet's.
    ///
    /// # Source
    /// As for [`SideJet::peak_speed_ratio`]: 0.05 and 0.25 of the distance; from memory.
    #[must_use]
    pub fn half_widths(&self, along: f64) -> (f64, f64) {
        let outlet = 0.5 * self.area.sqrt();
        ((0.05 * along).max(outlet), (0.25 * along).max(outlet))
    }

    /// Largest speed above a point of the wall [m/s] (eq. C-66).
    ///
    /// * `along`, `across` — from the outlet, from its axis \[m\]
    ///
    /// Nothing behind the outlet.
    #[must_use]
    pub fn speed(&self, along: f64, across: f64) -> f64 {
        if along < 0.0 {
            return 0.0;
        }
        let (_, half_width) = self.half_widths(along);
        let profile = (-LN_2 * (across / half_width).powi(2)).exp();
        self.speed * self.peak_speed_ratio(along).value * profile
    }

    /// Film at a point of the wall [W m⁻² K⁻¹]: the turbulent layer of
    /// [`wall_jet::layer_stanton`] on the local speed.
    ///
    /// * `along`, `across` — as for [`SideJet::speed`]
    ///
    /// # Source
    /// The speeds above and eq. C-17; ± 30 %, an estimate of ours.
    #[must_use]
    pub fn film(&self, along: f64, across: f64, air: &SheetAir) -> Estimate {
        let speed = self.speed(along, across);
        let (half_depth, _) = self.half_widths(along);
        let reynolds = speed * half_depth / air.kinematic_viscosity;
        let validity = Validity::Extrapolated;
        // At rest a power of the Reynolds number would divide by zero.
        if reynolds < 1e-9 {
            return Estimate { value: 0.0, validity, relative_sigma: 0.30 };
        }
        let stanton = wall_jet::layer_stanton(reynolds, air.prandtl()).value;
        let value = air.density * air.specific_heat * speed * stanton;
        Estimate { value, validity, relative_sigma: 0.30 }
    }
}

/// A row of outlets that has merged into a plane wall jet: the sheet of
/// [`Sheet`] on a ring without end.
#[derive(Debug, Clone, PartialEq)]
pub struct MergedRow {
    sheet: Sheet,
    radius: f64,
}

/// Outlets side by side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row {
    /// Mean at the outlets [m/s]
    pub speed: f64,
    /// Of all outlets \[m²\]
    pub area: f64,
    /// Of the row \[m\]
    pub width: f64,
    /// Fluctuation of the speed over its mean [-]
    pub turbulence: f64,
}

impl Row {
    /// Thickness of the plane jet that carries the row's flow at its speed \[m\] (eq. C-67).
    #[must_use]
    pub fn slot(&self) -> f64 {
        self.area / self.width
    }

    /// The plane wall jet, to `length` from the row \[m\].
    #[must_use]
    pub fn merged(&self, length: f64, air: &SheetAir, constants: &SheetConstants) -> MergedRow {
        // A thousand times the length: the ring's curvature then changes a tenth of a per cent.
        let radius = 1e3 * length;
        let slot = self.slot();
        let nozzle = Nozzle {
            radius,
            slot,
            flow: 2.0 * PI * radius * slot * self.speed,
            contraction: 1.0,
            turbulence: self.turbulence,
            lip_height: 0.0,
            glass_radius: radius,
            inner_radius: 0.0,
        };
        MergedRow { sheet: Sheet::solve_on(MergedRow::STATIONS, &nozzle, air, constants), radius }
    }
}

impl MergedRow {
    /// Ten times those of a ring, since most of them lie beyond the length asked for.
    const STATIONS: usize = 960;

    /// Film at `along` from the row [W m⁻² K⁻¹].
    #[must_use]
    pub fn film(&self, along: f64) -> f64 {
        self.sheet.film(self.radius - along)
    }

    /// Peak speed at `along` from the row [m/s].
    #[must_use]
    pub fn speed(&self, along: f64) -> f64 {
        self.sheet.speed(self.radius - along)
    }

    /// Height of half the peak speed at `along` from the row \[m\].
    #[must_use]
    pub fn half_depth(&self, along: f64) -> f64 {
        self.sheet.half_depth(self.radius - along)
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    const AIR: SheetAir = SheetAir {
        density: 1.243_86,
        specific_heat: 1009.83,
        conductivity: 0.025_122,
        kinematic_viscosity: 1.421_4e-5,
    };

    const FAN: SideJet = SideJet { speed: 3.0, area: 0.0064 };

    #[test]
    fn the_jet_of_a_fan_slows_without_a_step() {
        for edge in [CORE, FAR] {
            let root = FAN.area.sqrt();
            let [below, above] =
                [-1e-9, 1e-9].map(|d| FAN.peak_speed_ratio((edge + d) * root).value);
            assert_relative_eq!(below, above, max_relative = 1e-8);
        }
        assert_relative_eq!(FAN.peak_speed_ratio(0.0).value, 1.0);
    }

    /// √A = 0.08 m; at 0.8 m, ten of them, 0.55 of the speed; half as much 0.2 m aside.
    #[test]
    fn the_jet_of_a_fan_spreads_as_worked_by_hand() {
        assert_relative_eq!(FAN.speed(0.8, 0.0), 1.65, max_relative = 1e-12);
        assert_relative_eq!(FAN.speed(0.8, 0.2), 0.825, max_relative = 1e-12);
        assert_relative_eq!(FAN.half_widths(1.6).0, 0.08);
        assert_relative_eq!(FAN.half_widths(0.1).0, 0.04);
        assert_relative_eq!(FAN.speed(-0.1, 0.0), 0.0);
    }

    #[test]
    fn the_film_is_largest_before_the_fan_and_gone_far_aside() {
        let at = |along, across| FAN.film(along, across, &AIR).value;
        assert!(at(0.2, 0.0) > at(0.6, 0.0) && at(0.6, 0.0) > at(0.6, 0.3));
        assert_relative_eq!(at(0.6, 50.0), 0.0);
        assert_relative_eq!(at(-1.0, 0.0), 0.0);
    }

    const ROW: Row = Row { speed: 2.0, area: 0.002, width: 0.4, turbulence: 0.1 };

    #[test]
    fn a_merged_row_keeps_its_momentum_and_loses_speed() {
        let jet = ROW.merged(1.0, &AIR, &SheetConstants::default());
        assert_relative_eq!(jet.speed(0.001), 2.0);
        assert!(jet.speed(1.0) < 0.6 * 2.0 && jet.speed(1.0) > 0.2 * 2.0);
        assert!(jet.half_depth(1.0) > jet.half_depth(0.5));
        assert!(jet.film(0.9) < jet.film(0.3));
    }

    #[test]
    fn a_merged_row_does_not_depend_on_how_far_it_is_followed() {
        let at = |length| ROW.merged(length, &AIR, &SheetConstants::default()).film(0.4);
        assert_relative_eq!(at(0.5), at(2.0), max_relative = 2e-3);
    }
}
