//! How exchange changes with temperatures, for the solver's coupling.

use evenglass_disc::{Exchange, ExchangeState, FaceName, Temperatures};

use super::Films;
use super::change::{Changes, State};
use super::enclosure::{Enclosure, FromGlass};
use super::face::FaceFilms;
use super::law::Law;
use super::moved_air::MovedAir;
use super::stream::End;

impl Films {
    /// Changes of every face's flux with temperatures; returns those of what glass and
    /// moved air do to the enclosure.
    pub(super) fn follow_glass(
        &self,
        part: f64,
        state: &ExchangeState<'_>,
        change: &Temperatures<'_>,
        flux: &mut [Exchange],
    ) -> FromGlass {
        let around = self.around(part, state.temperatures.bodies);
        let instant = self.instant(part, around);
        let (wall, air) = match change.bodies {
            [wall, air] => (*wall, *air),
            _ => (0.0, 0.0),
        };
        let above = self.enclosure.as_ref().map_or(0.0, |e| e.seen_change(part, around.wall, wall));
        let at = State { temperature: state.temperatures.surface, exchange: state.surface };
        let changes = |face: &FaceFilms| Changes {
            glass: change.surface,
            around: air,
            radiant: match (face.radiant, face.name) {
                (Some(_), _) => 0.0,
                (None, FaceName::Front) => above,
                (None, _) => wall,
            },
        };
        let mut from_glass = FromGlass::default();
        for face in self.faces.iter().filter(|face| !matches!(face.law, Law::Stream { .. })) {
            let skin = face.skin(part, around);
            from_glass.to_air += face.follow(&skin, &at, &changes(face), flux);
        }
        for route in self.moved.iter().flat_map(MovedAir::routes) {
            let mut heat = route.arriving_change(air, wall);
            for face in route.faces.iter().filter_map(|name| self.face(*name)) {
                let Some((stream, along)) = self.along(face, &instant, around) else { continue };
                let taken = stream.follow(heat, &along, (&at, &changes(face)), flux);
                heat += taken.carried;
                from_glass.to_air += taken.given_up;
            }
            from_glass.preheated += route.wall_heat_change(air, wall);
            from_glass.preheating += route.capacity * route.preheating;
            let covered = self.enclosure.as_ref().is_some_and(Enclosure::is_covered);
            if covered && route.end == End::Above {
                from_glass.to_air += heat;
            }
        }
        if let Some(enclosure) = &self.enclosure {
            for face in self.faces.iter().filter(|face| face.looks_at_wall()) {
                let skin = face.skin(part, around);
                let skins = (&skin, &enclosure.received(face.name, &skin, around.wall));
                let changes = Changes { radiant: wall, ..changes(face) };
                from_glass.radiated += face.radiated_change(skins, &at, &changes, flux);
            }
        }
        from_glass
    }
}
