//! A sheet of air that a ring of nozzle around a mirror sends inward over its face.
//!
//! The sheet leaves a slot at the radius R along the glass, converges, meets itself
//! around the axis and leaves as a column. The model is the simplest one that is exact
//! while the layer is laminar and thin, becomes the measured plane turbulent wall jet
//! when R grows without limit, and cannot create heat or momentum. No published
//! measurement of this flow was found: see `docs/physics/convection.md` for what it
//! rests on, what was calibrated to what, and where it fails.
//!
//! Start at [`Sheet::solve`].

mod layer;
mod march;
mod profile;
mod turning;
mod uncertainty;

use std::f64::consts::PI;

use turning::Column;

use crate::laminar_jet::LaminarJet;
use crate::{Estimate, Validity};

/// Slot Reynolds number below which a jet that leaves above the glass may stay off it [-].
const LAMINAR_NOZZLE: f64 = 300.0;

/// Slot Reynolds number up to which the air is as good as still [-]: the film is then
/// below 10⁻⁵ W m⁻² K⁻¹, and the powers of smaller numbers would leave the range of numbers.
const STILL: f64 = 1e-9;

/// The ring nozzle and the glass inside it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Nozzle {
    /// Of the lip, where the air leaves \[m\]
    pub radius: f64,
    /// Gap of the slot \[m\]
    pub slot: f64,
    /// Through the whole ring [m³/s]
    pub flow: f64,
    /// Thickness of the jet over the gap of the slot [-]: 0.98 behind a long parallel
    /// lip, 0.62 behind a sharp edge
    pub contraction: f64,
    /// Fluctuation of the speed in the nozzle over its mean [-]: 0.02 behind honeycomb and
    /// contraction, 0.1 straight from a fan
    pub turbulence: f64,
    /// Height of the slot's lower lip above the glass \[m\]
    pub lip_height: f64,
    /// Where the glass begins \[m\]; at most `radius`
    pub glass_radius: f64,
    /// Of the hole in the glass, 0 for none \[m\]
    pub inner_radius: f64,
}

/// Properties of the air in the sheet, at the film temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SheetAir {
    /// [kg/m³]
    pub density: f64,
    /// At constant pressure [J kg⁻¹ K⁻¹]
    pub specific_heat: f64,
    /// [W m⁻¹ K⁻¹]
    pub conductivity: f64,
    /// [m²/s]
    pub kinematic_viscosity: f64,
}

impl SheetAir {
    /// Prandtl number [-].
    #[must_use]
    pub fn prandtl(&self) -> f64 {
        self.density * self.specific_heat * self.kinematic_viscosity / self.conductivity
    }
}

/// What the equations leave open.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SheetConstants {
    /// Distance of transition in jet thicknesses at Re = 1000 in quiet air [-]
    pub transition: f64,
    /// Slot Reynolds number below which transition fades away [-]
    pub transition_decay: f64,
    /// Air drawn in by the turbulent sheet over its peak speed [-]
    pub entrainment: f64,
    /// Heat over momentum exchange in the turbulent layer, on Pr^(−2/3) [-]
    pub analogy: f64,
    /// Mean speed of the column over the peak speed of the sheet that feeds it [-]
    pub column_share: f64,
    /// Fluctuation of the speed at the foot of the column over the sheet's speed [-]
    pub column_turbulence: f64,
    /// Length behind the lip within which the film no longer rises toward it \[m\]; one
    /// jet thickness if nothing is given
    pub lip_cut: Option<f64>,
}

impl Default for SheetConstants {
    /// `transition` and `transition_decay` are calibrated to common practice (no source): a
    /// sheet that stays laminar over about a third of the radius at 2 m/s from a
    /// slot of 7 mm and throughout at a sixth of that speed. `entrainment` gives the
    /// plane turbulent wall jet its measured growth, 0.073 (B. E. Launder and W. Rodi,
    /// Prog. Aerosp. Sci. 19 (1981) 81–128). `analogy` lies between a flat plate's
    /// (0.63) and full analogy (1). `column_share` allows for a loss of a tenth in the
    /// turn, `column_turbulence` is that of colliding jets; both are estimates of ours.
    fn default() -> Self {
        Self {
            transition: 14.0,
            transition_decay: 350.0,
            entrainment: 0.036,
            analogy: 0.8,
            column_share: 0.9,
            column_turbulence: 0.2,
            lip_cut: None,
        }
    }
}

/// Whether the jet clings to the glass from the lip on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Attachment {
    /// It leaves along the glass.
    OnGlass,
    /// It leaves above the glass and comes down to it.
    Reattaches {
        /// Radius at which it touches the glass \[m\]
        at: f64,
    },
    /// It leaves so high, or so slowly, that it may pass over the glass.
    MayNotAttach,
}

/// How far inward the sheet gets along the glass.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reach {
    /// To the foot of a column that takes less than half of the glass's radius.
    Centre,
    /// It is so thick that its column begins in the outer half of the glass.
    LiftsEarly,
    /// It may not touch the glass at all ([`Attachment::MayNotAttach`]).
    MayStayOff,
    /// No air comes out.
    Still,
}

/// A solved sheet. Radii are clamped to what lies inside the lip.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    nozzle: Nozzle,
    air: SheetAir,
    constants: SheetConstants,
    jet: LaminarJet,
    /// Where transition starts, from the lip; infinite if never \[m\].
    transition: f64,
    stations: march::Stations,
    column: Column,
    /// Speed of the air in the slot's jet [m/s].
    pub slot_speed: f64,
    /// On the jet's thickness and speed [-]; does not depend on the gap.
    pub slot_reynolds: f64,
    /// Radius at which transition starts, if it does on the glass \[m\].
    pub transition_radius: Option<f64>,
    /// Radius of the column's foot \[m\].
    pub column_radius: f64,
    /// Peak speed of the sheet where it turns up [m/s]; the column's mean is
    /// [`SheetConstants::column_share`] of it.
    pub column_speed: f64,
    /// Flow of the column at its foot: the nozzle's and what the sheet drew in [m³/s].
    pub column_flow: f64,
    /// Whether the jet clings to the glass.
    pub attached: Attachment,
    /// How far the sheet gets. Buoyancy is not weighed here: compare
    /// [`Sheet::column_speed`] with that of the air falling off or rising from the glass.
    pub reaches_centre: Reach,
}

impl Sheet {
    /// Solves the sheet from the lip to the axis.
    ///
    /// All inputs but the heights, `turbulence` and `inner_radius` are positive; a nozzle
    /// without flow gives a sheet at rest, whose film is zero.
    #[must_use]
    pub fn solve(nozzle: &Nozzle, air: &SheetAir, constants: &SheetConstants) -> Self {
        Self::solve_on(march::STATIONS, nozzle, air, constants)
    }

    /// On a number of stations of one's choice.
    pub(crate) fn solve_on(
        stations: usize,
        nozzle: &Nozzle,
        air: &SheetAir,
        constants: &SheetConstants,
    ) -> Self {
        let thickness = nozzle.slot * nozzle.contraction;
        let slot_reynolds = nozzle.flow / (2.0 * PI * nozzle.radius * air.kinematic_viscosity);
        let speed = slot_reynolds * air.kinematic_viscosity / thickness;
        let jet = LaminarJet { speed, thickness, kinematic_viscosity: air.kinematic_viscosity };
        let mut sheet = Self {
            nozzle: *nozzle,
            air: *air,
            constants: *constants,
            jet,
            transition: transition_distance(slot_reynolds, thickness, nozzle.turbulence, constants),
            stations: march::Stations::default(),
            column: Column::default(),
            slot_speed: speed,
            slot_reynolds,
            transition_radius: None,
            column_radius: nozzle.radius,
            column_speed: 0.0,
            column_flow: 0.0,
            attached: Attachment::OnGlass,
            reaches_centre: Reach::Still,
        };
        if sheet.is_moving() {
            sheet.march(stations);
            sheet.conclude();
        }
        sheet
    }

    /// Fills what the march and the column decide.
    fn conclude(&mut self) {
        self.column_radius = self.column.radius;
        self.column_speed = self.column.speed;
        self.column_flow = self.column.flow;
        let begins = self.nozzle.radius - self.transition;
        self.transition_radius = (begins > self.column.radius).then_some(begins);
        self.attached = self.attachment();
        self.reaches_centre = if self.attached == Attachment::MayNotAttach {
            Reach::MayStayOff
        } else if self.column.radius < 0.5 * self.nozzle.glass_radius {
            Reach::Centre
        } else {
            Reach::LiftsEarly
        };
    }

    /// Film coefficient at `radius` [W m⁻² K⁻¹], forced convection alone (eqs. C-38 to
    /// C-46).
    #[must_use]
    pub fn film(&self, radius: f64) -> f64 {
        if !self.is_moving() {
            return 0.0;
        }
        if radius < self.column.radius {
            self.turning_film(radius.max(0.0))
        } else {
            self.layer_film(&self.layer(self.nozzle.radius - radius))
        }
    }

    /// The film at `radius` with its validity and uncertainty (eq. C-47).
    ///
    /// The range is that of the transition of jets; the geometry itself has not been
    /// measured.
    #[must_use]
    pub fn estimate(&self, radius: f64) -> Estimate {
        Estimate {
            value: self.film(radius),
            validity: Validity::of(self.slot_reynolds, 300.0..=3000.0),
            relative_sigma: self.relative_sigma(radius),
        }
    }

    /// Peak speed of the sheet at `radius` [m/s]; inside the column's foot the speed along
    /// the glass.
    #[must_use]
    pub fn speed(&self, radius: f64) -> f64 {
        if !self.is_moving() {
            return 0.0;
        }
        if radius < self.column.radius {
            return self.column.speed * radius.max(0.0) / self.column.radius;
        }
        self.layer(self.nozzle.radius - radius).speed
    }

    /// Height at which the speed has fallen to half its peak \[m\]; inside the column's
    /// foot that at its edge.
    #[must_use]
    pub fn half_depth(&self, radius: f64) -> f64 {
        if !self.is_moving() {
            return self.jet.thickness;
        }
        self.layer(self.nozzle.radius - radius.max(self.column.radius)).half_depth()
    }

    /// Flow of the sheet at `radius`, with the air it has drawn in [m³/s]; inside the
    /// column's foot what has not yet turned up.
    #[must_use]
    pub fn flow(&self, radius: f64) -> f64 {
        if !self.is_moving() {
            return 0.0;
        }
        if radius < self.column.radius {
            return self.column.flow * (radius.max(0.0) / self.column.radius).powi(2);
        }
        self.layer(self.nozzle.radius - radius).flow
    }

    /// Share of the time that the sheet is turbulent at `radius` [-] (eq. C-40).
    #[must_use]
    pub fn intermittency(&self, radius: f64) -> f64 {
        self.intermittency_at(self.nozzle.radius - radius.max(self.column.radius))
    }

    /// Radii inside the glass at which the film has a kink or begins to bend, ascending
    /// \[m\]: the column's foot, the end of reattachment, the start of transition, the
    /// end of the lip's zone.
    #[must_use]
    pub fn breaks(&self) -> Vec<f64> {
        let lip = self.nozzle.radius - self.start_of_glass() - self.lip_cut();
        let mut breaks = vec![self.column_radius, lip];
        breaks.extend(self.transition_radius);
        breaks.extend(match self.attached {
            Attachment::Reattaches { at } => Some(at),
            Attachment::OnGlass | Attachment::MayNotAttach => None,
        });
        breaks.retain(|r| *r > self.nozzle.inner_radius && *r < self.nozzle.glass_radius);
        breaks.sort_by(f64::total_cmp);
        breaks
    }

    fn is_moving(&self) -> bool {
        self.slot_reynolds > STILL && self.slot_speed.is_finite()
    }

    fn attachment(&self) -> Attachment {
        let height = self.nozzle.lip_height;
        if height <= 0.0 {
            return Attachment::OnGlass;
        }
        let at = self.nozzle.radius - self.reattachment();
        let stays_off = self.slot_reynolds < LAMINAR_NOZZLE && height > 2.0 * self.jet.thickness;
        if stays_off || at <= self.column.radius {
            Attachment::MayNotAttach
        } else {
            Attachment::Reattaches { at }
        }
    }
}

/// Distance from the lip at which transition starts \[m\] (eq. C-39); infinite when the
/// jet is too slow for it.
fn transition_distance(
    reynolds: f64,
    thickness: f64,
    turbulence: f64,
    constants: &SheetConstants,
) -> f64 {
    let quiet = (1.0 - turbulence / 0.15).clamp(0.3, 1.0);
    // exp_m1 keeps the share exact where it is tiny; at rest the quotient is infinite.
    let share = -(-(reynolds / constants.transition_decay).powi(4)).exp_m1();
    let distance = constants.transition * thickness * (1000.0 / reynolds).sqrt() * quiet / share;
    if distance.is_finite() { distance } else { f64::INFINITY }
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

    /// 610 mm, 28 L/s, 2 m/s.
    const NOZZLE: Nozzle = Nozzle {
        radius: 0.305,
        slot: 7.305_5e-3,
        flow: 0.028,
        contraction: 1.0,
        turbulence: 0.02,
        lip_height: 0.0,
        glass_radius: 0.305,
        inner_radius: 0.0,
    };

    fn solve(nozzle: &Nozzle) -> Sheet {
        Sheet::solve(nozzle, &AIR, &SheetConstants::default())
    }

    /// Area mean by the midpoint rule in r².
    fn mean(sheet: &Sheet) -> f64 {
        let count = 20_000;
        let radius = sheet.nozzle.radius;
        let at = |i: i32| sheet.film(radius * ((f64::from(i) + 0.5) / f64::from(count)).sqrt());
        (0..count).map(at).sum::<f64>() / f64::from(count)
    }

    #[test]
    fn a_nozzle_without_flow_gives_a_sheet_at_rest() {
        let sheet = solve(&Nozzle { flow: 0.0, ..NOZZLE });
        assert_eq!(sheet.reaches_centre, Reach::Still);
        for radius in [0.0, 0.1, 0.305, 1.0] {
            assert_relative_eq!(sheet.film(radius), 0.0);
            assert_relative_eq!(sheet.speed(radius), 0.0);
        }
    }

    #[test]
    fn the_mean_film_does_not_depend_on_the_stations() {
        for speed in [1.5, 2.0, 3.0, 4.0] {
            let nozzle = Nozzle { slot: 0.014_611 / speed, ..NOZZLE };
            let on = |stations| {
                mean(&Sheet::solve_on(stations, &nozzle, &AIR, &SheetConstants::default()))
            };
            let fine = on(3000);
            for stations in [march::STATIONS, 200] {
                assert_relative_eq!(on(stations), fine, max_relative = 1e-4);
            }
        }
    }
}
