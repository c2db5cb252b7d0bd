//! One face of the glass, its points, and the law that acts there.

use std::f64::consts::FRAC_PI_2;

use evenglass_disc::{BoundaryPoint, Exchange, FaceName};
use evenglass_scenario::scenario::{Face, RadiantSurroundings};

use super::change::{Changes, State};
use super::law::{self, Law};
use super::lopsided::{self, Place, shaped};
use super::moved_air::MovedAir;
use super::skin::Skin;
use super::{Around, STEFAN_BOLTZMANN, Shape, Straight};

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
    /// What of `shape` does not change with the night.
    lasting_shape: Vec<f64>,
    /// Angle around the axis \[rad\]; `None` is the mean.
    angle: Option<f64>,
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
            lasting_shape: vec![],
            angle: None,
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

    /// The same at an angle around the axis.
    ///
    /// * `rim` — radius of the glass \[m\]
    pub(super) fn at_angle(mut self, angle: f64, (rim, pads): (f64, Option<f64>)) -> Self {
        let uneven = lopsided::uneven(&self.face, angle);
        let padded = pads.filter(|_| self.name == FaceName::Back);
        if !self.face.uneven.is_empty() || padded.is_some() {
            let pads = |radius: &f64| {
                padded.map_or(1.0, |share| lopsided::beside_pads(share, *radius / rim, angle))
            };
            self.shape = self.position.iter().map(|radius| uneven * pads(radius)).collect();
            self.lasting_shape.clone_from(&self.shape);
        }
        self.angle = Some(angle);
        if self.name == FaceName::Front {
            let shape = |radius: &f64| lopsided::windward(rim, *radius, angle);
            self.wind_shape = self.position.iter().map(shape).collect();
        }
        self
    }

    /// Where its points are.
    pub(super) fn place(&self) -> Place<'_> {
        Place { index: &self.index, shape: &self.shape, wind_shape: &self.wind_shape }
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
        self.tilt_to(weather.altitude(), 0.5 * shape.diameter);
    }

    /// Still air runs up a tilted face.
    fn tilt_to(&mut self, altitude: f64, rim: f64) {
        let level = matches!(self.name, FaceName::Front | FaceName::Back);
        let (Some(angle), true, Law::Still { .. }) = (self.angle, level, &self.law) else {
            return;
        };
        let tilt = FRAC_PI_2 - altitude;
        let points = self.position.iter().enumerate();
        let shape = points.map(|(point, radius)| {
            let lasting = shaped(&self.lasting_shape, point);
            lasting * lopsided::upslope(rim, *radius, (angle, tilt))
        });
        self.shape = shape.collect();
    }

    pub(super) fn skin(&self, part: f64, around: Around) -> Skin {
        let emissivity = self.face.radiation.as_ref().map_or(0.0, |radiation| radiation.emissivity);
        let faced = if self.name == FaceName::Front { around.above } else { around.wall };
        let radiant = self.radiant.map_or(faced, |straight| straight.at(part));
        let layer = self.face.insulation.filter(|layer| layer.thickness.metres() > 0.0);
        Skin {
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
