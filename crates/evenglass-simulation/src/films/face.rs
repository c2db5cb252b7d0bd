//! One face of the glass, its points, and the law that acts there.

use std::f64::consts::PI;

use evenglass_disc::{BoundaryPoint, Exchange, FaceName};
use evenglass_scenario::scenario::{Face, RadiantSurroundings};

use super::change::{Changes, State};
use super::law::{self, Law};
use super::lopsided::{self, Place, Shapes};
use super::moved_air::MovedAir;
use super::skin::Skin;
use super::{STEFAN_BOLTZMANN, Shape, Straight};
use crate::ventilation::field::Around;

/// One face, the points on it, and the law that acts there now.
pub(super) struct FaceFilms {
    pub(super) name: FaceName,
    pub(super) face: Face,
    /// Index of each of the face's points in the caller's arrays, `[points of the face]`.
    pub(super) index: Vec<usize>,
    /// Radius (front, back) or height (rim, hole) of each \[m\], `[points of the face]`.
    pub(super) position: Vec<f64>,
    /// True surface that each answers for \[m²\], `[points of the face]`.
    pub(super) area: Vec<f64>,
    /// Film, and the wind's film, over their means around the axis [-], `[points of the
    /// face]`; empty where they are even.
    shape: Vec<f64>,
    wind_shape: Vec<f64>,
    /// The same of still air's convection along an upright face, where the glass is warmer and
    /// where it is colder, and along this one as it is tilted now.
    upright: Vec<[f64; 2]>,
    rising: Vec<[f64; 2]>,
    pub(super) law: Law,
    /// Temperature of what the face radiates to \[K\]; `None` is what stands around.
    pub(super) radiant: Option<Straight>,
}

impl FaceFilms {
    pub(super) fn new(
        name: FaceName,
        face: &Face,
        (points, areas): (&[BoundaryPoint], &[f64]),
    ) -> Self {
        let mut films = Self {
            name,
            face: face.clone(),
            index: vec![],
            position: vec![],
            area: vec![],
            shape: vec![],
            wind_shape: vec![],
            upright: vec![],
            rising: vec![],
            law: Law::Absent,
            radiant: None,
        };
        for (index, (point, area)) in points.iter().zip(areas).enumerate() {
            if point.face == name {
                films.index.push(index);
                films.area.push(*area);
                films.position.push(match name {
                    FaceName::Front | FaceName::Back => point.radius_m,
                    FaceName::Rim | FaceName::Hole => point.height_m,
                });
            }
        }
        films
    }

    /// The same at an angle around the axis \[rad\].
    pub(super) fn at_angle(mut self, angle: f64, shapes: &Shapes) -> Self {
        let uneven = lopsided::uneven(&self.face, angle);
        if !self.face.uneven.is_empty() {
            self.shape = vec![uneven; self.position.len()];
        }
        if let Some(shapes) = shapes.of(self.name) {
            if !shapes.pads.is_empty() {
                self.shape = shapes.pads.iter().map(|pads| uneven * pads.at(angle)).collect();
            }
            self.wind_shape = shapes.wind.iter().map(|wind| wind.at(angle)).collect();
            // Warm air comes from the low side, cold air from the high one.
            let ways = |along: &Around| [along.at(angle - PI), along.at(angle)];
            self.upright = shapes.rising.iter().map(ways).collect();
        }
        self
    }

    /// Where its points are.
    pub(super) fn place(&self) -> Place<'_> {
        let Self { index, shape, wind_shape, rising, .. } = self;
        Place { index, shape, wind_shape, rising }
    }

    /// * `moved` — the moved air and the shelter of the front, where there are
    pub(super) fn settle(
        &mut self,
        weather: &law::Weather<'_>,
        shape: Shape,
        (moved, shelter): (Option<&MovedAir>, Option<f64>),
    ) {
        let stretch = weather.stretch;
        self.radiant = match self.face.radiation.as_ref().map(|radiation| &radiation.surroundings) {
            Some(RadiantSurroundings::Temperature(profile)) => Some(stretch.straight(profile)),
            Some(RadiantSurroundings::Air) | None => None,
        };
        let before = std::mem::replace(&mut self.law, Law::Absent);
        let site = law::Site { name: self.name, position: &self.position, shape };
        let moving = law::Moving {
            stream: moved.and_then(|moved| moved.stream(self.name)),
            shelter: shelter.filter(|_| self.name == FaceName::Front),
        };
        self.law = Law::settled(before, (&self.face.film, &moving), &site, weather);
        let leaning = lopsided::tilt(weather.altitude()).sin();
        let lean = |ways: &[f64; 2]| ways.map(|way| 1.0 + leaning * (way - 1.0));
        self.rising = self.upright.iter().map(lean).collect();
    }

    pub(super) fn skin(&self, part: f64, around: super::Around) -> Skin {
        let emissivity = self.face.radiation.as_ref().map_or(0.0, |radiation| radiation.emissivity);
        let faced = if self.name == FaceName::Front { around.above } else { around.wall };
        let radiant = self.radiant.map_or(faced, |straight| straight.at(part));
        let layer = self.face.insulation.filter(|layer| layer.thickness.metres() > 0.0);
        Skin {
            factor: self.face.film_factor,
            emission: emissivity * STEFAN_BOLTZMANN,
            radiant,
            layer: layer.map(|l| l.conductivity.w_per_m_k() / l.thickness.metres()),
        }
    }

    /// Changes of flux with what surrounds the face; returns that of the heat that leaves
    /// by the air \[W\].
    pub(super) fn follow(
        &self,
        skin: &Skin,
        state: &State<'_>,
        changes: &Changes<'_>,
        flux: &mut [Exchange],
    ) -> f64 {
        let given = matches!(self.law, Law::Given { .. });
        let driving = if given { 0.0 } else { changes.around };
        let mut to_air = 0.0;
        for (&i, area) in self.index.iter().zip(&self.area) {
            let response = skin.response(state.temperature[i], state.exchange[i], 0.0);
            flux[i].flux = -response.to_driving * driving - response.to_radiant * changes.radiant;
            let whole = flux[i].flux + state.exchange[i].slope * changes.glass[i];
            to_air += area * (whole - skin.radiated_change(&response, changes, (i, whole)));
        }
        if given { 0.0 } else { to_air }
    }

    /// Change of the heat that leaves by radiation \[W\].
    ///
    /// * `skins` — the face's own, and the part of it whose radiation is counted
    pub(super) fn radiated_change(
        &self,
        (skin, counted): (&Skin, &Skin),
        state: &State<'_>,
        changes: &Changes<'_>,
        flux: &[Exchange],
    ) -> f64 {
        let heat = self.index.iter().zip(&self.area).map(|(&i, area)| {
            let response = skin.response(state.temperature[i], state.exchange[i], 0.0);
            let whole = flux[i].flux + state.exchange[i].slope * changes.glass[i];
            area * counted.radiated_change(&response, changes, (i, whole))
        });
        heat.sum()
    }

    /// Whether what it radiates to is the wall around the mirror.
    pub(super) fn looks_at_wall(&self) -> bool {
        self.radiant.is_none() && self.face.radiation.is_some()
    }

    /// Heat that leaves by radiation \[W\].
    pub(super) fn radiated(
        &self,
        skin: &Skin,
        (temperature, exchange): (&[f64], &[Exchange]),
    ) -> f64 {
        let heat =
            self.index.iter().zip(&self.area).map(|(&i, area)| {
                area * skin.radiated(skin.outer(temperature[i], exchange[i].flux))
            });
        heat.sum()
    }

    /// Heat that leaves by the air \[W\]; a given film's goes to the night.
    pub(super) fn heat_to_air(&self, skin: &Skin, arrays: (&[f64], &[Exchange])) -> f64 {
        if matches!(self.law, Law::Given { .. }) {
            return 0.0;
        }
        let all = self.index.iter().zip(&self.area).map(|(&i, area)| area * arrays.1[i].flux);
        all.sum::<f64>() - self.radiated(skin, arrays)
    }
}
