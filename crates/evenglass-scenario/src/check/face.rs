//! `[front]`, `[back]`, `[rim]` and `[hole]`: film, radiation, insulation, unevenness.

use evenglass_units::{Conductivity, Length, TemperatureDifference, VolumeRate};

use super::series;
use crate::keys::HARMONIC;
use crate::moment::Times;
use crate::profile::Profile;
use crate::read::Reader;
use crate::scenario::{
    Cell, Face, FanBehind, Film, Harmonic, Insulation, RadiantSurroundings, Radiation,
};
use crate::tree::Value;

/// Emissivity of an aluminised front [-]: common practice for fresh coatings in the
/// thermal infrared, no source.
pub(crate) const ALUMINISED: f64 = 0.04;
/// Largest film coefficient, factor included [W m⁻² K⁻¹].
const STRONGEST: f64 = 1000.0;

/// Which face is read.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Side {
    pub(crate) name: &'static str,
    pub(crate) label: &'static str,
    /// Where the author gives none; `None` if the glass could not be read.
    pub(crate) emissivity: Option<f64>,
    /// Largest fan diameter \[m\], if the mirror could be read.
    pub(crate) fan_room: Option<f64>,
}

/// What a face is read with.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Known {
    pub(crate) times: Times,
    pub(crate) has_wind: bool,
    /// Whether [ventilation] is there, from which all computed films come.
    pub(crate) is_ventilated: bool,
}

/// The face, or what a face is when nothing is said of it.
pub(crate) fn read(file: &Reader<'_>, side: &Side, known: Known) -> Option<Face> {
    let Some(face) = file.inner(side.name, side.label) else {
        let radiation = side.emissivity.map(Radiation::to_air);
        // A section that is there but no table has been noted.
        return (!file.has(side.name)).then_some(Face {
            film: Film::Still,
            radiation: Some(radiation?),
            insulation: None,
            uneven: Vec::new(),
            film_factor: 1.0,
        });
    };
    let film = read_film(&face, side, known);
    let given = matches!(film, Some(Film::Given { .. }));
    let radiation = match face.has("radiation") {
        true => read_radiation(&face, side, &known.times).map(Some),
        false if given => Some(None),
        false => side.emissivity.map(|emissivity| Some(Radiation::to_air(emissivity))),
    };
    let insulation =
        if face.has("insulation") { read_insulation(&face).map(Some) } else { Some(None) };
    let uneven = read_uneven(&face);
    Some(Face {
        film: film?,
        radiation: radiation?,
        insulation: insulation?,
        uneven: uneven?,
        film_factor: 1.0,
    })
}

impl Radiation {
    fn to_air(emissivity: f64) -> Self {
        Self { emissivity, surroundings: RadiantSurroundings::Air }
    }
}

fn read_film(face: &Reader<'_>, side: &Side, known: Known) -> Option<Film> {
    if !face.has("film") {
        return Some(Film::Still);
    }
    let label = format!("`film` in {}", side.label);
    let (kind, film) = face.kind("film", &label)?;
    if known.is_ventilated && kind != "given" {
        film.conflict(
            "kind",
            format!("the film of {} is `{kind}`, but with [ventilation] films come from there", side.label),
            "leave `film` out here, or leave [ventilation] out; only kind = \"given\" stands beside it".to_owned(),
        );
        return None;
    }
    match kind {
        "still" => Some(Film::Still),
        "given" => {
            let position = if matches!(side.name, "front" | "back") { "radius" } else { "height" };
            given(&film, position, &known.times)
        }
        "fan-behind" => fan_behind(&film, side).map(Film::FanBehind),
        _ => {
            let shelter = film.number("shelter");
            if !known.has_wind {
                film.conflict(
                    "kind",
                    "a `breeze` film needs the wind, and [night] does not give it".to_owned(),
                    "add wind = \"1 m/s\" to [night]".to_owned(),
                );
            }
            Some(Film::Breeze { shelter: shelter? })
        }
    }
}

fn given(film: &Reader<'_>, position: &str, times: &Times) -> Option<Film> {
    let coefficient = coefficient(film, position);
    let factor = series::number(film, "factor", times);
    let offset = film.si("air_offset");
    if let (Some(coefficient), Some(factor)) = (&coefficient, &factor) {
        let largest = |profile: &Profile| profile.values().iter().copied().fold(0.0, f64::max);
        let strongest = largest(coefficient) * largest(factor);
        if strongest > STRONGEST * (1.0 + 1e-9) {
            let fact = format!("coefficient times factor reaches {strongest:.0} W/m2/K");
            let help = "keep it at or below 1000 W/m2/K".to_owned();
            film.conflict("factor", fact, help);
        }
    }
    Some(Film::Given {
        coefficient: coefficient?,
        factor: factor?,
        air_offset: TemperatureDifference::from_kelvins(offset?),
    })
}

fn coefficient(film: &Reader<'_>, position: &str) -> Option<Profile> {
    let listed = matches!(film.table.get("coefficient")?.value, Value::List(_));
    match (listed, film.has(position)) {
        (false, false) => film.si("coefficient").map(Profile::constant),
        (true, true) => {
            let places = film.si_list(position);
            series::points(film, (position, "coefficient"), places, film.si_list("coefficient"))
        }
        (true, false) => {
            // Read for the faults of its entries.
            film.si_list("coefficient");
            let fact = format!("`coefficient` is a list, but there is no `{position}`");
            let help = format!("add {position} = [...], one entry for each coefficient");
            film.conflict("coefficient", fact, help);
            None
        }
        (false, true) => {
            film.si_list(position);
            film.si("coefficient");
            let fact = format!("`{position}` is given, but `coefficient` is one value");
            let help =
                format!("give one coefficient for each {position}, or leave `{position}` out");
            film.conflict(position, fact, help);
            None
        }
    }
}

fn fan_behind(film: &Reader<'_>, side: &Side) -> Option<FanBehind> {
    let [fan, hub, distance, flow] =
        ["fan_diameter", "hub_diameter", "distance", "flow"].map(|key| film.si(key));
    let cell = read_cell(film);
    if let (Some(fan), Some(hub)) = (fan, hub)
        && hub >= fan
    {
        let fact = format!(
            "the hub of `{}` is not smaller than the fan of `{}`",
            film.written("hub_diameter"),
            film.written("fan_diameter")
        );
        film.conflict(
            "hub_diameter",
            fact,
            "the hub is the closed middle of the fan, often a third of its diameter".to_owned(),
        );
    }
    if let (Some(fan), Some(room)) = (fan, side.fan_room)
        && fan > room * (1.0 + 1e-9)
    {
        let fact = format!(
            "the fan of `{}` is wider than the mirror of {:.0} mm",
            film.written("fan_diameter"),
            room * 1e3
        );
        film.conflict(
            "fan_diameter",
            fact,
            "choose a fan that is not wider than the mirror".to_owned(),
        );
    }
    Some(FanBehind {
        fan_diameter: Length::from_metres(fan?),
        hub_diameter: Length::from_metres(hub?),
        distance: Length::from_metres(distance?),
        flow: VolumeRate::from_m3_per_s(flow?),
        cell: cell?,
    })
}

pub(crate) fn read_cell(film: &Reader<'_>) -> Option<Cell> {
    let (cell, gap) = (film.choice("cell"), film.si("gap"));
    match (cell?, film.has("gap")) {
        ("closed", true) => Some(Cell::Closed { gap: Length::from_metres(gap?) }),
        ("closed", false) => {
            let help = "add the depth of the space behind the glass: gap = \"40 mm\"".to_owned();
            film.conflict("cell", "a closed cell has no `gap`".to_owned(), help);
            None
        }
        (_, true) => {
            let help = "leave `gap` out, or write cell = \"closed\"".to_owned();
            film.conflict("gap", "an open cell has a `gap`".to_owned(), help);
            None
        }
        (_, false) => Some(Cell::Open),
    }
}

fn read_radiation(face: &Reader<'_>, side: &Side, times: &Times) -> Option<Radiation> {
    let label = format!("`radiation` in {}", side.label);
    let radiation = face.inner("radiation", &label)?;
    let emissivity =
        if radiation.has("emissivity") { radiation.number("emissivity") } else { side.emissivity };
    let surroundings = surroundings(&radiation, times);
    Some(Radiation { emissivity: emissivity?, surroundings: surroundings? })
}

fn surroundings(radiation: &Reader<'_>, times: &Times) -> Option<RadiantSurroundings> {
    match radiation.table.get("surroundings").map(|node| &node.value) {
        None => Some(RadiantSurroundings::Air),
        Some(Value::Text(text)) if !text.contains(|c: char| c.is_ascii_digit()) => {
            radiation.choice("surroundings").map(|_| RadiantSurroundings::Air)
        }
        Some(_) => series::si(radiation, "surroundings", "temperature", times)
            .map(RadiantSurroundings::Temperature),
    }
}

fn read_insulation(face: &Reader<'_>) -> Option<Insulation> {
    let insulation = face.inner("insulation", "`insulation`")?;
    let (thickness, conductivity) = (insulation.si("thickness"), insulation.si("conductivity"));
    Some(Insulation {
        thickness: Length::from_metres(thickness?),
        conductivity: Conductivity::from_w_per_m_k(conductivity?),
    })
}

fn read_uneven(face: &Reader<'_>) -> Option<Vec<Harmonic>> {
    let Some(node) = face.table.get("uneven") else { return Some(Vec::new()) };
    let Value::List(items) = &node.value else {
        face.wrong_sort("uneven", node, "a list of tables");
        return None;
    };
    let read: Vec<Option<Harmonic>> = items
        .iter()
        .map(|item| {
            let Value::Table(table) = &item.value else {
                face.wrong_sort("uneven", item, "a table");
                return None;
            };
            harmonic(&Reader::new(face.ledger, (table, &item.at), &HARMONIC, "`uneven`"))
        })
        .collect();
    let harmonics: Vec<Harmonic> = read.into_iter().collect::<Option<_>>()?;
    let sum: f64 = harmonics.iter().map(|harmonic| harmonic.amplitude.abs()).sum();
    if sum >= 1.0 {
        let fact = format!("the amplitudes of `uneven` sum to {sum:.2}");
        let help = "keep the sum below 1: a film coefficient is never negative".to_owned();
        face.conflict("uneven", fact, help);
    }
    Some(harmonics)
}

fn harmonic(reader: &Reader<'_>) -> Option<Harmonic> {
    let (order, amplitude) = (reader.number("harmonic"), reader.number("amplitude"));
    let angle = reader.si("angle");
    let order = order?;
    let whole = (1..=4_u8).find(|n| (f64::from(*n) - order).abs() < f64::EPSILON);
    if whole.is_none() {
        let fact = format!("`harmonic` is `{order}`, a whole number is wanted");
        reader.ledger.note(
            "scenario::range",
            reader.place("harmonic"),
            fact,
            "choose 1, 2, 3 or 4".to_owned(),
        );
    }
    Some(Harmonic { harmonic: whole?, amplitude: amplitude?, angle: angle? })
}
