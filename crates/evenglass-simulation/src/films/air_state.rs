//! What the air around the mirror does at one instant, as the history tells it and as the
//! light meets it.

use evenglass_disc::{Exchange, Temperatures};

use super::law::Law;
use super::moved_air::MovedAir;
use super::{Films, enclosure};

/// The air at one instant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct AirState {
    /// Fraction of full speed at which the main fans run [-].
    pub(crate) fan_speed: f64,
    /// Air that reaches the glass [m³/s].
    pub(crate) flow: f64,
    /// Base of the column above the glass minus night air \[K\]; `None` where the moved air
    /// ends in no column.
    pub(crate) column_excess: Option<f64>,
    /// Air inside the wall minus night air \[K\]; 0 without a telescope.
    pub(crate) inside_excess: f64,
    /// The wall \[K\]; `None` without a telescope.
    pub(crate) wall_k: Option<f64>,
    /// Forced film over the front, area mean [W m⁻² K⁻¹].
    pub(crate) front_film: f64,
    /// Film of the front as written, area mean, where it is [W m⁻² K⁻¹].
    pub(crate) front_given: Option<f64>,
    /// The sky, over a hemisphere \[K\]; `None` without a telescope.
    pub(crate) sky_k: Option<f64>,
    /// What the front looks at \[K\]; `None` without a telescope.
    pub(crate) front_sees_k: Option<f64>,
    /// Whether a cover keeps sky and wind out.
    pub(crate) covered: bool,
    /// Cross-section that air around the mirror fills \[m²\]; 0 without a telescope.
    pub(crate) section: f64,
    /// The foot of the column that a ring nozzle makes in the middle of the front.
    pub(crate) foot: Option<Foot>,
}

/// The foot of a column in the middle of the front.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Foot {
    /// [m³/s]
    pub(crate) flow: f64,
    /// [m/s]
    pub(crate) speed: f64,
}

impl Films {
    /// The air at a time, for temperatures as in [`evenglass_disc::Surroundings`].
    pub(crate) fn air_state(&self, time_s: f64, temperatures: &Temperatures<'_>) -> AirState {
        let part = self.stretch.part(time_s);
        let around = self.around(part, temperatures.bodies);
        let quiet = AirState {
            inside_excess: around.air - around.night,
            wall_k: self.enclosure.as_ref().map(|_| temperatures.bodies[enclosure::WALL]),
            front_film: self.front_film(part),
            front_given: self.front_given(part),
            sky_k: self.enclosure.as_ref().map(|enclosure| enclosure.sky(part)),
            front_sees_k: self.enclosure.as_ref().map(|_| around.above),
            covered: self.enclosure.as_ref().is_some_and(enclosure::Enclosure::is_covered),
            section: self.enclosure.as_ref().map_or(0.0, enclosure::Enclosure::section),
            ..self.own_fan()
        };
        let Some(moved) = &self.moved else { return quiet };
        let mut exchange = vec![Exchange::default(); temperatures.surface.len()];
        let (_, leaving) = self.fill(part, around, (temperatures.surface, &mut exchange));
        let columns = moved.routes().zip(leaving).filter_map(|(route, heat)| {
            let excess = heat / route.column_capacity?;
            Some(around.air - around.night + excess)
        });
        let running = moved.running();
        let column_excess = columns.reduce(f64::max);
        AirState {
            fan_speed: running.speed,
            flow: running.flow,
            column_excess,
            foot: moved.foot(),
            ..quiet
        }
    }

    /// What the fan of a single face does, where `[ventilation]` moves no air.
    pub(crate) fn own_fan(&self) -> AirState {
        let speed = self.stretch.straight(&self.night.fan_speed).at(0.5);
        let flow = self.faces.iter().map(|face| face.law.flow()).fold(0.0, f64::max);
        AirState {
            fan_speed: if flow > 0.0 { speed } else { 0.0 },
            flow,
            column_excess: None,
            inside_excess: 0.0,
            wall_k: None,
            front_film: self.front_film(0.5),
            front_given: self.front_given(0.5),
            sky_k: None,
            front_sees_k: None,
            covered: false,
            section: 0.0,
            foot: None,
        }
    }

    /// Film of the front as its author wrote it, area mean [W m⁻² K⁻¹].
    fn front_given(&self, part: f64) -> Option<f64> {
        let face = self.face(evenglass_disc::FaceName::Front)?;
        let Law::Given { coefficient, factor, .. } = &face.law else { return None };
        let area: f64 = face.area.iter().sum();
        let films = coefficient.iter().zip(&face.area);
        Some(factor.at(part) * films.map(|(film, area)| film * area).sum::<f64>() / area)
    }

    /// Forced film over the front, area mean, that moved air and wind make [W m⁻² K⁻¹]; of a
    /// given film nobody knows how much of it is forced.
    fn front_film(&self, part: f64) -> f64 {
        let Some(face) = self.face(evenglass_disc::FaceName::Front) else { return 0.0 };
        match &face.law {
            Law::Breeze { wind, .. } => wind.at(part).film,
            Law::Stream { stream, wind, .. } => {
                let wind = wind.as_ref().map_or(0.0, |wind| wind.at(part).film);
                let area: f64 = face.area.iter().sum();
                let films = stream.forced.iter().zip(&face.area);
                let mean = films.map(|(forced, area)| forced.film * area).sum::<f64>() / area;
                (mean.powi(3) + wind.powi(3)).cbrt()
            }
            _ => 0.0,
        }
    }
}

impl MovedAir {
    /// The foot of the column above a ring nozzle.
    fn foot(&self) -> Option<Foot> {
        self.states().find_map(|(_, sheet)| {
            let sheet = sheet?;
            let share = evenglass_convection::sheet::SheetConstants::default().column_share;
            Some(Foot { flow: sheet.column_flow, speed: share * sheet.column_speed })
        })
    }
}
