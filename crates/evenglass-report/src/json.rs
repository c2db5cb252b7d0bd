//! `summary.json`: the whole answer for scripts, in SI.

mod dew;
mod image;
mod sizing;
mod telescope;
mod ventilation;

use evenglass_simulation::Night;
use evenglass_simulation::result::{COLUMNS, Record, Warning};
use evenglass_simulation::scenario::Profile;
use evenglass_simulation::scenario::scenario::{
    Cell, Cover, Face, Film, RadiantSurroundings, Scenario,
};
use serde_json::{Map, Value, json};

pub use sizing::sizing_json;

use crate::comparison::{notes, ranked};
use crate::folder::PROGRAM;
use crate::sweep::SweepTable;
use crate::table::told_columns;
use crate::text::noted;

/// Version of the layout of `summary.json`; raised when a name changes its meaning.
const SCHEMA: u32 = 1;

/// The object written to `summary.json`, with a final newline.
///
/// Temperatures are in °C and differences in K as in `history.csv`; everything
/// under `scenario` is in SI. A number that is not finite is `null`.
#[must_use]
pub fn summary_json(night: &Night) -> String {
    written(summary(night))
}

/// The object written to `summary.json` by a comparison: the summary of each night with its
/// label, the labels from the best to the worst, and notes on what makes the nights hard to
/// compare.
#[must_use]
pub fn comparison_json(nights: &[(String, Night)]) -> String {
    let alternatives: Vec<Value> = nights
        .iter()
        .map(|(label, night)| json!({ "label": label, "summary": summary(night) }))
        .collect();
    let ranking: Vec<&str> = ranked(nights).into_iter().map(|judged| judged.label).collect();
    let told = json!({ "alternatives": alternatives, "ranking": ranking, "notes": notes(nights) });
    written(told)
}

/// The object written to `summary.json` by a sweep: what was varied, the best night, and what to
/// know of how many nights.
#[must_use]
pub fn sweep_json(table: &SweepTable) -> String {
    let axes: Vec<Value> =
        table.axes.iter().map(|axis| json!({ "key": axis.key, "values": axis.values })).collect();
    let best = table.ranked().first().map(|(row, outcome)| {
        let values: Map<String, Value> = table
            .axes
            .iter()
            .zip(table.values_at(*row))
            .map(|(axis, value)| (axis.key.clone(), json!(value)))
            .collect();
        json!({
            "row": row,
            "values": values,
            "good_hours": outcome.good_hours,
            "ready_at": outcome.ready_at,
            "ready_at_s": outcome.ready_at_s,
            "figure_rms_nm": outcome.figure_nm,
        })
    });
    let outcomes = table.rows.iter().filter_map(|row| row.as_ref().ok());
    let (codes, _) = noted(outcomes.map(|outcome| &outcome.warnings[..]));
    let warning = |(w, nights): &(&Warning, usize)| json!({ "code": w.code, "text": w.text, "nights": nights });
    let warnings: Vec<Value> = codes.iter().map(warning).collect();
    written(json!({
        "axes": axes,
        "nights": table.rows.len(),
        "failed": table.rows.iter().filter(|row| row.is_err()).count(),
        "best": best,
        "warnings": warnings,
    }))
}

/// `content` behind the schema, the program's name and its version.
fn written(content: Value) -> String {
    let mut whole = json!({
        "schema": SCHEMA,
        "program": PROGRAM,
        "version": env!("CARGO_PKG_VERSION"),
    });
    if let (Value::Object(whole), Value::Object(content)) = (&mut whole, content) {
        whole.extend(content);
    }
    format!("{whole:#}\n")
}

fn summary(night: &Night) -> Value {
    let clock = &night.scenario.night.start;
    let warnings: Vec<Value> = night
        .warnings
        .iter()
        .map(|w| json!({ "code": w.code, "text": w.text, "count": w.count }))
        .collect();
    json!({
        "scenario": scenario(&night.scenario),
        "good_intervals": image::good_intervals(night),
        "good_hours": night.good_hours(),
        "ready_at": night.ready_at_s.map(|t| clock.hm(t)),
        "ready_at_s": night.ready_at_s,
        "passing": image::passing(night),
        "moments": image::moments(night),
        "end": end(night),
        "min": extremes(&night.minima),
        "max": extremes(&night.maxima),
        "bands": image::bands(night),
        "dew": night.dew.as_ref().map(dew::dew),
        "energy": {
            "lost_j": night.energy.lost_j,
            "stored_j": night.energy.stored_j,
            "residual": night.energy.residual,
        },
        "warnings": warnings,
    })
}

fn end(night: &Night) -> Value {
    night.history.last().map_or(json!({}), columns)
}

/// Every column of a row that is worth telling.
fn columns(row: &Record) -> Value {
    let value = |c: usize| (COLUMNS[c].name.to_owned(), json!((COLUMNS[c].value)(row)));
    Value::Object(told_columns().map(value).collect())
}

fn extremes(values: &[(f64, f64)]) -> Value {
    let mut map = Map::new();
    for c in told_columns() {
        if let Some((value, time)) = values.get(c) {
            map.insert(COLUMNS[c].name.to_owned(), json!(value));
            // What is nowhere defined has no time either.
            let time = value.is_finite().then_some(time);
            map.insert(format!("{}_time_s", COLUMNS[c].name), json!(time));
        }
    }
    Value::Object(map)
}

fn scenario(s: &Scenario) -> Value {
    json!({
        "title": s.title,
        "mirror": mirror(s),
        "night": night_as_understood(s),
        "front": face(&s.front, "radius_m"),
        "back": face(&s.back, "radius_m"),
        "rim": face(&s.rim, "height_m"),
        "hole": s.hole.as_ref().map(|f| face(f, "height_m")),
        "ventilation": s.ventilation.as_ref().map(ventilation::ventilation),
        "telescope": s.telescope.as_ref().map(telescope::telescope),
        "good": {
            "figure_rms_m": s.good.figure_rms.metres(),
            "shimmer_arcsec": s.good.shimmer_arcsec,
            "dew_margin_k": s.good.dew_margin.kelvins(),
            "front_minus_air_k": s.good.front_minus_air.map(evenglass_units::TemperatureDifference::kelvins),
            "held_for_s": s.good.held_for.seconds(),
        },
        "site": s.site.as_ref().map(|site| json!({
            "latitude_deg": site.latitude_deg,
            "longitude_deg": site.longitude_deg,
            "utc_offset_s": site.utc_offset.map(evenglass_units::Duration::seconds),
            "elevation_m": site.elevation.map(evenglass_units::Length::metres),
            "seeing_arcsec": site.seeing_arcsec,
        })),
        "output": { "interval_s": s.output.interval.seconds(), "fields_at_s": s.output.fields_at },
    })
}

fn mirror(s: &Scenario) -> Value {
    let (mirror, glass) = (&s.mirror, &s.mirror.glass);
    json!({
        "diameter_m": mirror.diameter.metres(),
        "edge_thickness_m": mirror.edge_thickness.metres(),
        "focal_ratio": mirror.focal_ratio,
        "hole_diameter_m": mirror.hole_diameter.map(evenglass_units::Length::metres),
        "glass": {
            "name": glass.name,
            "density_kg_m3": glass.density.kg_per_m3(),
            "mean_specific_heat": {
                "form": "(a t + c) / (b t + 1), mean from 0 to t in degC",
                "a": glass.heat.a,
                "b": glass.heat.b,
                "c": glass.heat.c,
            },
            "conductivity_w_m_k": glass.conductivity.w_per_m_k(),
            "conductivity_slope_w_m_k2": glass.conductivity_slope,
            "expansion_per_k": glass.expansion.per_kelvin(),
            "youngs_modulus_pa": glass.youngs_modulus.pascals(),
            "poisson_ratio": glass.poisson_ratio,
            "emissivity": glass.emissivity,
        },
    })
}

fn night_as_understood(s: &Scenario) -> Value {
    let night = &s.night;
    let start = night.start.at(0.0);
    let covers: Vec<Value> = night
        .cover
        .iter()
        .map(|(time, cover)| {
            let state = match cover {
                Cover::On => "on",
                Cover::Vented => "vented",
                Cover::Off => "off",
            };
            json!({ "time_s": time, "cover": state })
        })
        .collect();
    json!({
        "start": night.start.hms(0.0),
        "date": night.start.has_date().then(|| start.date().to_string()),
        "duration_s": night.duration.seconds(),
        "glass_temperature_k": night.glass_temperature.kelvin(),
        "stress_free_temperature_k": night.stress_free_temperature.kelvin(),
        "air": profile(&night.air, "time_s", "temperature_k"),
        "dew_point": night.dew_point.as_ref().map(|p| profile(p, "time_s", "temperature_k")),
        "wind": night.wind.as_ref().map(|p| profile(p, "time_s", "speed_m_s")),
        "cloud": night.cloud.as_ref().map(|p| profile(p, "time_s", "fraction")),
        "pressure": profile(&night.pressure, "time_s", "pressure_pa"),
        "fan_speed": profile(&night.fan_speed, "time_s", "fraction"),
        "altitude": profile(&night.altitude, "time_s", "altitude_rad"),
        "cover": covers,
    })
}

fn face(face: &Face, position: &str) -> Value {
    let radiation = face.radiation.as_ref().map(|radiation| {
        let surroundings = match &radiation.surroundings {
            RadiantSurroundings::Air => json!("air"),
            RadiantSurroundings::Temperature(p) => profile(p, "time_s", "temperature_k"),
        };
        json!({ "emissivity": radiation.emissivity, "surroundings": surroundings })
    });
    let insulation = face.insulation.map(|layer| {
        json!({
            "thickness_m": layer.thickness.metres(),
            "conductivity_w_m_k": layer.conductivity.w_per_m_k(),
        })
    });
    let uneven: Vec<Value> = face
        .uneven
        .iter()
        .map(|h| json!({ "harmonic": h.harmonic, "amplitude": h.amplitude, "angle_rad": h.angle }))
        .collect();
    json!({
        "film": film(&face.film, position),
        "radiation": radiation,
        "insulation": insulation,
        "uneven": uneven,
    })
}

fn film(film: &Film, position: &str) -> Value {
    match film {
        Film::Given { coefficient, factor, air_offset } => json!({
            "kind": "given",
            "coefficient": profile(coefficient, position, "w_m2_k"),
            "factor": profile(factor, "time_s", "factor"),
            "air_offset_k": air_offset.kelvins(),
        }),
        Film::Still => json!({ "kind": "still" }),
        Film::FanBehind(fan) => json!({
            "kind": "fan-behind",
            "fan_diameter_m": fan.fan_diameter.metres(),
            "hub_diameter_m": fan.hub_diameter.metres(),
            "distance_m": fan.distance.metres(),
            "flow_m3_s": fan.flow.m3_per_s(),
            "cell": match fan.cell { Cell::Open => "open", Cell::Closed { .. } => "closed" },
            "gap_m": match fan.cell {
                Cell::Open => None,
                Cell::Closed { gap } => Some(gap.metres()),
            },
        }),
        Film::Breeze { shelter } => json!({ "kind": "breeze", "shelter": shelter }),
    }
}

/// A table as two lists of equal length; at a repeated position the value jumps.
fn profile(profile: &Profile, position: &str, value: &str) -> Value {
    let mut map = Map::new();
    map.insert(position.to_owned(), json!(profile.positions()));
    map.insert(value.to_owned(), json!(profile.values()));
    Value::Object(map)
}
