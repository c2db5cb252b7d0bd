//! `[telescope]`: wall, shelter, secondary.

use evenglass_materials::wall;
use evenglass_units::{Conductivity, Density, Expansion, Length, SpecificHeat, Temperature};

use crate::read::{Reader, mm};
use crate::scenario::Mirror;
use crate::telescope::{Form, Secondary, Telescope, Wall};

/// Shelter at the bottom of a tube, or of a box all the way [-]: an estimate of ours, σ 50 %.
const IN_TUBE: f64 = 0.1;
/// Shelter in a shroud, which leaks [-]: an estimate of ours, σ 50 %.
const IN_SHROUD: f64 = 0.2;
/// Shelter under a truss, the front one mirror radius deep in its box [-]; 1 where it is
/// flush: estimates of ours, σ 50 %.
const DEEP_IN_BOX: f64 = 0.4;

/// Thickness of a secondary over its minor axis [-]: common practice, no source.
const USUAL_THICKNESS: f64 = 1.0 / 6.0;

/// What the telescope is read with.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Known<'a> {
    pub(crate) mirror: Option<&'a Mirror>,
    /// Temperature of the glass at the start, if it could be read.
    pub(crate) glass_temperature: Option<Temperature>,
}

/// The telescope, if it can exist.
pub(crate) fn read(reader: &Reader<'_>, known: Known<'_>) -> Option<Telescope> {
    let form = reader.choice("form").map(form_named);
    let [clearance, length, behind] =
        ["clearance", "length", "behind"].map(|key| reader.length(key));
    let start = reader
        .settled("wall_temperature", |reader, key| reader.si(key).map(Temperature::from_kelvin));
    let shelter = reader.settled("shelter", Reader::number);
    let pads = reader.number("pads");
    let (material, own_expansion) = match (reader.has("wall"), form) {
        (true, _) => reader.inner("wall", "`wall`").and_then(|wall| read_wall(&wall)).unzip(),
        (false, Some(form)) => (unsaid(form), None),
        (false, None) => (None, None),
    };
    // Under a truss the wall of the box does not hold the focuser.
    let holds = matches!(form, Some(Form::Tube | Form::Box));
    let own_expansion = own_expansion.flatten().filter(|_| holds);
    let secondary = reader.settled("secondary", |reader, key| {
        read_secondary(&reader.inner(key, "`secondary`")?, known)
    });
    let expansion = reader.settled("expansion", Reader::si);
    // Without the mirror there is no scenario, and its fault has been noted.
    let radius = 0.5 * known.mirror.map_or(f64::NAN, |mirror| mirror.diameter.metres());
    let (form, length, start) = (form?, length?, start?);
    let start = if start.is_some() { start } else { known.glass_temperature };
    Some(Telescope {
        form,
        clearance: clearance?,
        length,
        behind: behind?,
        wall: Wall { start: start?, ..material? },
        shelter: shelter?.unwrap_or_else(|| sheltered(form, length.metres() / radius)),
        pads: pads?,
        secondary: secondary?,
        expansion: expansion?.or(own_expansion).map(Expansion::from_per_kelvin),
    })
}

/// The form of a word that `choice` has let through.
fn form_named(word: &str) -> Form {
    match word {
        "tube" => Form::Tube,
        "truss" => Form::Truss,
        "shrouded-truss" => Form::ShroudedTruss,
        _ => Form::Box,
    }
}

/// Fraction of the wind that reaches the front.
///
/// * `depth` — of the front below the mouth of the wall, in radii of the mirror [-]
fn sheltered(form: Form, depth: f64) -> f64 {
    match form {
        Form::Tube | Form::Box => IN_TUBE,
        Form::ShroudedTruss => IN_SHROUD,
        Form::Truss => 1.0 - (1.0 - DEEP_IN_BOX) * depth.min(1.0),
    }
}

/// Of a known material, with the temperature left open.
fn of(material: &wall::WallMaterial, thickness: f64) -> Wall {
    Wall {
        thickness: Length::from_metres(thickness),
        density: Density::from_kg_per_m3(material.density),
        specific_heat: SpecificHeat::from_j_per_kg_k(material.specific_heat),
        conductivity: Conductivity::from_w_per_m_k(material.conductivity),
        inside_emissivity: wall::INSIDE_EMISSIVITY,
        outside_emissivity: wall::OUTSIDE_EMISSIVITY,
        start: Temperature::from_kelvin(f64::NAN),
    }
}

/// The wall of which nothing is said: common practice, no source.
fn unsaid(form: Form) -> Option<Wall> {
    let (name, thickness) = match form {
        Form::Tube => ("steel", 1e-3),
        Form::Truss | Form::ShroudedTruss | Form::Box => ("plywood", 12e-3),
    };
    wall::named(name).map(|material| of(material, thickness))
}

/// The wall, and the expansion of its material if that has a name [K⁻¹].
fn read_wall(reader: &Reader<'_>) -> Option<(Wall, Option<f64>)> {
    let material = reader.settled("material", |reader, key| wall::named(reader.choice(key)?));
    let thickness = reader.length("thickness");
    let [outside, inside] = ["emissivity", "inside_emissivity"].map(|key| reader.number(key));
    let keys = ["density", "specific_heat", "conductivity"];
    let own = keys.map(|key| reader.settled(key, Reader::si));
    let material = material?;
    if material.is_none()
        && let Some(key) = keys.iter().find(|key| !reader.has(key))
    {
        reader.missing(
            format!("`wall` has neither a `material` nor a `{key}`"),
            "add material = \"plywood\", or `density`, `specific_heat` and `conductivity`"
                .to_owned(),
        );
        return None;
    }
    let [density, heat, conductivity] = own;
    let (density, heat, conductivity) = (density?, heat?, conductivity?);
    let table = |value: fn(&wall::WallMaterial) -> f64| material.map(value);
    let wall = Wall {
        thickness: thickness?,
        density: Density::from_kg_per_m3(density.or(table(|material| material.density))?),
        specific_heat: SpecificHeat::from_j_per_kg_k(
            heat.or(table(|material| material.specific_heat))?,
        ),
        conductivity: Conductivity::from_w_per_m_k(
            conductivity.or(table(|material| material.conductivity))?,
        ),
        inside_emissivity: inside?,
        outside_emissivity: outside?,
        start: Temperature::from_kelvin(f64::NAN),
    };
    Some((wall, table(|material| material.expansion)))
}

fn read_secondary(reader: &Reader<'_>, known: Known<'_>) -> Option<Secondary> {
    let (diameter, distance) = (reader.length("diameter")?, reader.length("distance")?);
    let mirror = known.mirror?;
    if diameter.metres() >= mirror.diameter.metres() {
        reader.unbuildable(
            "diameter",
            format!(
                "the secondary of `{}` is as wide as the primary of {}",
                reader.written("diameter"),
                mm(mirror.diameter.metres())
            ),
            "give its minor axis, a fifth to a quarter of the primary's diameter".to_owned(),
        );
    }
    let focal = mirror.focal_ratio.map(|ratio| ratio * mirror.diameter.metres());
    if let Some(focal) = focal
        && distance.metres() >= focal
    {
        reader.unbuildable(
            "distance",
            format!(
                "the secondary at `{}` is beyond the focus at {}",
                reader.written("distance"),
                mm(focal)
            ),
            "give its distance from the front of the primary, less than the focal length"
                .to_owned(),
        );
    }
    let thickness = reader.settled("thickness", Reader::si);
    let [holder, back] = ["holder", "back_emissivity"].map(|key| reader.number(key));
    let heater_w = reader.settled("heater", Reader::si);
    let thickness = thickness?.unwrap_or(USUAL_THICKNESS * diameter.metres());
    Some(Secondary {
        diameter,
        distance,
        thickness: Length::from_metres(thickness),
        holder: holder?,
        back_emissivity: back?,
        heater_w: heater_w?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_truss_shelters_more_the_deeper_the_front_lies_in_its_box() {
        let truss = |depth| sheltered(Form::Truss, depth);
        assert!((truss(0.0) - 1.0).abs() < 1e-12);
        assert!((truss(0.5) - 0.7).abs() < 1e-12);
        assert!((truss(3.0) - DEEP_IN_BOX).abs() < 1e-12);
        assert!(sheltered(Form::Tube, 3.0) < sheltered(Form::ShroudedTruss, 3.0));
    }
}
