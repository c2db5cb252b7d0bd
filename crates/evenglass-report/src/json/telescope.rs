//! `[telescope]` as understood.

use evenglass_simulation::scenario::telescope::{Form, Secondary, Telescope, Wall};
use serde_json::{Value, json};

pub(super) fn telescope(telescope: &Telescope) -> Value {
    json!({
        "form": match telescope.form {
            Form::Tube => "tube",
            Form::Truss => "truss",
            Form::ShroudedTruss => "shrouded-truss",
            Form::Box => "box",
        },
        "clearance_m": telescope.clearance.metres(),
        "length_m": telescope.length.metres(),
        "behind_m": telescope.behind.metres(),
        "wall": wall(&telescope.wall),
        "shelter": telescope.shelter,
        "pads": telescope.pads,
        "secondary": telescope.secondary.as_ref().map(secondary),
        "expansion_per_k": telescope.expansion.map(evenglass_units::Expansion::per_kelvin),
    })
}

fn wall(wall: &Wall) -> Value {
    json!({
        "thickness_m": wall.thickness.metres(),
        "density_kg_m3": wall.density.kg_per_m3(),
        "specific_heat_j_kg_k": wall.specific_heat.j_per_kg_k(),
        "conductivity_w_m_k": wall.conductivity.w_per_m_k(),
        "inside_emissivity": wall.inside_emissivity,
        "emissivity": wall.outside_emissivity,
        "start_k": wall.start.kelvin(),
    })
}

fn secondary(secondary: &Secondary) -> Value {
    json!({
        "diameter_m": secondary.diameter.metres(),
        "distance_m": secondary.distance.metres(),
        "thickness_m": secondary.thickness.metres(),
        "holder": secondary.holder,
        "back_emissivity": secondary.back_emissivity,
        "heater_w": secondary.heater_w,
    })
}
