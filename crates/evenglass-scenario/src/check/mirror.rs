//! `[mirror]`: the glass and whether its shape can exist.

use evenglass_materials::{Glass, SpecificHeatLaw, glass};
use evenglass_units::{Conductivity, Density, Expansion, Length, Pressure};

use crate::read::Reader;
use crate::scenario::Mirror;
use crate::suggest::{choices, nearest, shown};
use crate::tree::Value;

/// Least glass left where the front is deepest \[m\].
const THINNEST: f64 = 2e-3;
/// Least glass between hole and rim \[m\].
const NARROWEST: f64 = 10e-3;

/// The mirror, if it can exist.
pub(crate) fn read(reader: &Reader<'_>) -> Option<Mirror> {
    let diameter = reader.si("diameter");
    let edge = reader.si("edge_thickness");
    let ratio = reader.number("focal_ratio");
    let hole = reader.si("hole_diameter");
    let glass = read_glass(reader);
    let solid = !reader.has("hole_diameter");
    if let (Some(diameter), Some(hole)) = (diameter, hole) {
        check_hole(reader, diameter, hole);
    }
    if let (Some(diameter), Some(edge), Some(ratio)) = (diameter, edge, ratio)
        && (solid || hole.is_some_and(|hole| hole < diameter))
    {
        check_depth(reader, [diameter, edge, ratio, hole.unwrap_or(0.0)]);
    }
    Some(Mirror {
        diameter: Length::from_metres(diameter?),
        edge_thickness: Length::from_metres(edge?),
        focal_ratio: ratio,
        hole_diameter: hole.map(Length::from_metres),
        glass: glass?,
    })
}

fn check_hole(reader: &Reader<'_>, diameter: f64, hole: f64) {
    let left = (diameter - hole) / 2.0;
    if left >= NARROWEST * (1.0 - 1e-9) {
        return;
    }
    let fact = if left <= 0.0 {
        format!(
            "the hole of `{}` is as wide as the mirror of `{}`",
            reader.written("hole_diameter"),
            reader.written("diameter")
        )
    } else {
        format!("{:.1} mm of glass are left between the hole and the rim", left * 1e3)
    };
    let most = (diameter - 2.0 * NARROWEST) * 1e3;
    let help = format!("leave at least 10 mm: make the hole at most \"{most:.1} mm\"");
    reader.conflict("hole_diameter", fact, help);
}

/// A paraboloid of vertex radius 2 N D falls by (D² − d²) / (16 N D) from the rim to a hole of
/// diameter d.
fn check_depth(reader: &Reader<'_>, [diameter, edge, ratio, hole]: [f64; 4]) {
    let fall = (diameter * diameter - hole * hole) / (16.0 * ratio * diameter);
    let left = edge - fall;
    if left >= THINNEST * (1.0 - 1e-9) {
        return;
    }
    let place = if hole > 0.0 { "at the edge of the hole" } else { "at the centre" };
    let depth = format!("the front of f/{ratio} is {:.1} mm deep", fall * 1e3);
    let fact = if left > 0.0 {
        format!("{depth} and leaves {:.1} mm of glass {place}", left * 1e3)
    } else {
        format!("{depth}, deeper than the edge of `{}` is thick", reader.written("edge_thickness"))
    };
    let least = ((fall + THINNEST) * 1e4).ceil() / 10.0;
    let help = format!("leave at least 2 mm: make the edge at least \"{least} mm\" thick");
    reader.conflict("edge_thickness", fact, help);
}

fn read_glass(reader: &Reader<'_>) -> Option<Glass> {
    let node = reader.table.get("glass")?;
    match &node.value {
        Value::Text(name) => {
            let found = glass::named(name);
            if found.is_none() {
                let names = glass::names();
                let help = nearest(name, names.iter().copied()).map_or_else(
                    || format!("write {}, or give its constants", choices(names.iter().copied())),
                    |near| format!("did you mean \"{near}\"?"),
                );
                let fact = format!("`{}` is not a glass this program knows", shown(name));
                reader.ledger.note("scenario::choice", &node.at, fact, help);
            }
            found
        }
        Value::Table(_) => constants(&reader.inner("glass", "`glass`")?),
        _ => {
            reader.wrong_sort("glass", node, "the name of a glass or a table of its constants");
            None
        }
    }
}

fn constants(reader: &Reader<'_>) -> Option<Glass> {
    let [density, heat, conductivity, expansion, modulus] =
        ["density", "specific_heat", "conductivity", "expansion", "youngs_modulus"]
            .map(|key| reader.si(key));
    let [poisson, emissivity] = ["poisson_ratio", "emissivity"].map(|key| reader.number(key));
    Some(Glass {
        name: "custom".to_owned(),
        density: Density::from_kg_per_m3(density?),
        heat: SpecificHeatLaw::constant(heat?),
        conductivity: Conductivity::from_w_per_m_k(conductivity?),
        conductivity_slope: 0.0,
        expansion: Expansion::from_per_kelvin(expansion?),
        youngs_modulus: Pressure::from_pascals(modulus?),
        poisson_ratio: poisson?,
        emissivity: emissivity?,
    })
}
