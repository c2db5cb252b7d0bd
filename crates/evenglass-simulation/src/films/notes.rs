//! What left its range, said once however often it happened.

use std::f64::consts::FRAC_PI_3;

use evenglass_airflow::curtain::{Verdict, verdict};
use evenglass_airflow::network::State;
use evenglass_convection::Validity;
use evenglass_convection::free::{self, Stability};
use evenglass_convection::sheet::Attachment;
use evenglass_disc::FaceName;
use evenglass_scenario::Scenario;
use evenglass_scenario::scenario::{Conditions, Cover, Face, Film};
use evenglass_scenario::ventilation::{Arrangement, Ventilation};
use evenglass_units::Temperature;

use super::Straight;
use super::face::FaceFilms;
use super::forced::breeze_validity;
use super::law::Law;
use super::moved_air::MovedAir;
use super::natural::{AirCurve, Outlook, Tables};
use crate::result::Warning;

/// Temperatures the properties of air and glass are meant for [°C].
const COLDEST: f64 = -40.0;
const WARMEST: f64 = 60.0;

/// Difference at which free convection is asked whether it is in range \[K\]: it crosses
/// zero in any night, and no law is measured at zero.
const USUAL_DIFFERENCE: f64 = 1.0;

/// Counts by code, in the order of their first appearance.
#[derive(Debug, Default)]
pub(super) struct Notes {
    counts: Vec<(&'static Note, u64)>,
}

/// A code and its sentence.
#[derive(Debug, PartialEq, Eq)]
struct Note {
    code: &'static str,
    text: &'static str,
}

static FAN_ELSEWHERE: Note = Note {
    code: "films::fan-behind-back-only",
    text: "a fan behind the mirror cools only the back; another face with that film is in still \
           air",
};
static NO_WIND: Note = Note {
    code: "films::no-wind",
    text: "a breeze without `night.wind` is still air; give the wind's speed",
};
static COVER: Note = Note {
    code: "films::cover",
    text: "a cover acts only with a [telescope] to close; the night is computed as if it were off",
};
static TEMPERATURE: Note = Note {
    code: "films::temperature-range",
    text: "air or glass outside -40 to 60 degC, where the properties of air and glass are \
           continued beyond their sources",
};
static FREE: Note = Note {
    code: "films::free-range",
    text: "free convection outside the sizes it was measured in (small mirror or thin air); \
           films there may be 30 % off",
};
static TILT: Note = Note {
    code: "films::tilt-range",
    text: "the telescope points below 30 degrees, beyond the tilts free convection was measured \
           at; films there may be 30 % off",
};
static BREEZE: Note = Note {
    code: "films::breeze-range",
    text: "wind at the glass outside the Reynolds numbers of its law (2e4 to 1e5); the square \
           root of the speed is kept",
};
static JET: Note = Note {
    code: "films::jet-range",
    text: "the fan's jet is outside the speeds (Re 2e3 to 4e5) or distances (2 to 12 diameters) \
           of its law, which is continued or held there",
};
static WALL: Note = Note {
    code: "films::wall-layer-range",
    text: "the flow along the back is slower than the wall layers its law was measured in; \
           expect 35 % either way",
};

static STALL: Note = Note {
    code: "airflow::stall",
    text: "the fans blow against so much resistance that they stall: less air and more noise than \
           computed; give the filter more area, the openings more width, or use a blower",
};
static STANDING: Note = Note {
    code: "airflow::standing",
    text: "the fans are asked to run so slowly that they stand still; they need `minimum_speed` to \
           go on and `start_speed` to start",
};
static NO_BALANCE: Note = Note {
    code: "airflow::no-operating-point",
    text: "fans and resistance find no balance; no air moves",
};
static MAY_NOT_ATTACH: Note = Note {
    code: "airflow::may-not-attach",
    text: "the sheet leaves the nozzle so high or so slowly that it may pass over the glass \
           without touching it; lower the slot or blow faster",
};
static SHEET: Note = Note {
    code: "airflow::sheet-range",
    text: "the sheet from the ring nozzle is outside the speeds (Re 300 to 3000) at which \
           transition of such jets was seen; its films are wide open, locally a factor of two",
};

static BROKEN: Note = Note {
    code: "airflow::wind-on-sheet",
    text: "the wind at the mirror is more than half as fast as the sheet from the nozzle and breaks \
           it; its films are computed as if it stood",
};
static HOLE: Note = Note {
    code: "airflow::hole",
    text: "moved air is computed as if the mirror had no hole: what passes through it is missing, \
           and a fan behind it blows at nothing",
};
static ONE_SIDE: Note = Note {
    code: "films::wind-from-one-side",
    text: "the wind is taken to come all night from the side that is up when the telescope points \
           low; the coma and astigmatism it makes turn with it, and are less where it turns",
};
static SKY: Note = Note {
    code: "films::calm-clear-sky",
    text: "what [night] leaves out of wind and cloud is taken as calm and as clear, in which the \
           telescope's walls are colder than the air and cool what passes them",
};

impl Notes {
    /// What walls and moved air leave out, or take as given.
    pub(super) fn about_arrangement(&mut self, scenario: &Scenario) {
        let night = &scenario.night;
        let unsaid = night.wind.is_none() || night.cloud.is_none();
        self.note(scenario.telescope.is_some() && unsaid, &SKY);
        let behind = |v: &Ventilation| {
            !matches!(
                v.main.arrangement,
                Arrangement::SideFans(_)
                    | Arrangement::CornerFans { .. }
                    | Arrangement::FanAbove { .. }
                    | Arrangement::Open
                    | Arrangement::Sealed
            )
        };
        let blown = scenario.ventilation.as_ref().is_some_and(behind);
        self.note(blown && scenario.mirror.hole_diameter.is_some(), &HOLE);
    }

    /// What the fans do when they are asked for `requested` of full speed [-].
    ///
    /// * `wind` — at the front [m/s]
    pub(super) fn about_moved_air(&mut self, moved: &MovedAir, requested: f64, wind: f64) {
        for (operating, sheet) in moved.states() {
            match operating.state {
                State::Stalling => self.note(true, &STALL),
                State::Stopped => self.note(requested > 0.0, &STANDING),
                State::NoOperatingPoint { .. } => self.note(requested > 0.0, &NO_BALANCE),
                State::Running => {}
            }
            if let Some(sheet) = sheet {
                self.note(verdict(sheet.slot_speed, wind) == Verdict::Broken, &BROKEN);
                self.note(sheet.attached == Attachment::MayNotAttach, &MAY_NOT_ATTACH);
                let range = sheet.estimate(sheet.column_radius).validity;
                self.note(range != Validity::InRange, &SHEET);
            }
        }
    }

    /// What is taken of wind that cools one side most.
    pub(super) fn about_windward(&mut self, face: &FaceFilms) {
        self.note(!face.place().wind_shape.is_empty(), &ONE_SIDE);
    }

    pub(super) fn about_face(&mut self, name: FaceName, face: &Face, night: &Conditions) {
        let fan = matches!(face.film, Film::FanBehind(_));
        self.note(fan && name != FaceName::Back, &FAN_ELSEWHERE);
        self.note(matches!(face.film, Film::Breeze { .. }) && night.wind.is_none(), &NO_WIND);
    }

    /// Without walls around the mirror there is nothing a cover could close.
    pub(super) fn about_cover(&mut self, scenario: &Scenario) {
        let sealed = |v: &Ventilation| v.main.arrangement == Arrangement::Sealed;
        let covered = scenario.night.cover.iter().any(|&(_, cover)| cover != Cover::Off)
            || scenario.ventilation.as_ref().is_some_and(sealed);
        self.note(covered && scenario.telescope.is_none(), &COVER);
    }

    pub(super) fn about_glass(&mut self, glass: Temperature) {
        self.note(outside(glass.celsius()), &TEMPERATURE);
    }

    pub(super) fn about_air(&mut self, air: Straight) {
        let celsius = |kelvin: f64| Temperature::from_kelvin(kelvin).celsius();
        self.note(outside(celsius(air.start)) || outside(celsius(air.end)), &TEMPERATURE);
    }

    pub(super) fn about_law(
        &mut self,
        law: &Law,
        radius: Option<f64>,
        air: &AirCurve,
        tables: &Tables,
    ) {
        if let Some(outlook @ (Outlook::Front | Outlook::Back)) = law.outlook() {
            let rayleigh = air.rayleigh_per_kelvin(tables.length(outlook)) * USUAL_DIFFERENCE;
            // The flat law answers for the size; the tilt has its own note.
            let flat = free::inclined_disc(rayleigh, air.prandtl(), 0.0, Stability::Stable);
            self.note(flat.validity != Validity::InRange, &FREE);
            self.note(tables.tilt() > FRAC_PI_3 + 1e-9, &TILT);
        }
        match law {
            Law::Breeze { size, wind, .. } => {
                let fails = |wind: f64| {
                    wind > 0.0 && breeze_validity(wind, *size, air.middle()) != Validity::InRange
                };
                self.note(fails(wind.wind.start) || fails(wind.wind.end), &BREEZE);
            }
            Law::Fan { film, .. } if film.turns() => {
                let fan = film.fan(air.middle());
                self.note(fan.jet_validity() != Validity::InRange, &JET);
                let wall = radius.map(|radius| fan.wall_validity(radius));
                self.note(wall.is_some_and(|validity| validity != Validity::InRange), &WALL);
            }
            _ => {}
        }
    }

    /// Each code once.
    pub(super) fn warnings(&self) -> Vec<Warning> {
        let warning = |&(note, count): &(&Note, u64)| Warning {
            code: note.code,
            text: note.text.to_owned(),
            count,
        };
        self.counts.iter().map(warning).collect()
    }

    /// Counts a note where it applies.
    fn note(&mut self, applies: bool, note: &'static Note) {
        if !applies {
            return;
        }
        match self.counts.iter_mut().find(|(known, _)| *known == note) {
            Some((_, count)) => *count += 1,
            None => self.counts.push((note, 1)),
        }
    }
}

fn outside(celsius: f64) -> bool {
    !(COLDEST..=WARMEST).contains(&celsius)
}
