//! `[telescope]`.

use evenglass_units::Kind;

use super::{Group, Key, Range, Shape, default, optional, quantity, range, required, temperature};

const FRACTION: Range = range(0.0, 1.0, "0 to 1");
const LONG: Shape = quantity(Kind::LENGTH, range(0.0, 20.0, "0 mm to 20 m"), "250 mm");

/// The forms, as written.
const FORMS: &[&str] = &["tube", "truss", "shrouded-truss", "box"];

pub(crate) static TELESCOPE: Group = Group {
    name: "telescope",
    doc: "What stands around the mirror: the wall that stores heat, the way the air has past the rim, the shelter from the wind, the secondary.",
    keys: &[
        required(
            "form",
            Shape::Choice(FORMS),
            "Tube, truss over a mirror box, the same in a shroud, or a box all the way.",
        ),
        required(
            "clearance",
            quantity(Kind::LENGTH, range(1e-3, 1.0, "1 mm to 1 m"), "20 mm"),
            "Between the rim of the glass and the wall.",
        ),
        required("length", LONG, "From the edge of the front to the mouth of the wall around it."),
        default(
            "behind",
            quantity(Kind::LENGTH, range(1e-3, 2.0, "1 mm to 2 m"), "60 mm"),
            "\"60 mm\"",
            "From the back of the glass to the board or the end of the tube behind it.",
        ),
        optional(
            "wall",
            Shape::Table(&WALL),
            "What the wall is made of; left out, 12 mm of plywood, for a tube 1 mm of steel.",
        ),
        optional(
            "wall_temperature",
            temperature("20 degC"),
            "Temperature of the wall at the start; left out, that of the glass.",
        ),
        optional(
            "shelter",
            Shape::Number(FRACTION, "0.4"),
            "Fraction of the wind's speed that reaches the front; left out, 0.1 in a tube or box, 0.2 in a shroud, and under a truss from 1 (front flush with the mouth of the box) to 0.4 (one mirror radius deep).",
        ),
        default(
            "pads",
            Shape::Number(range(0.0, 0.5, "0 to 0.5"), "0.02"),
            "0.02",
            "Share of the back that the pads of the cell cover.",
        ),
        optional("secondary", Shape::Table(&SECONDARY), SECONDARY.doc),
        optional(
            "expansion",
            quantity(Kind::EXPANSION, range(-1e-5, 1e-4, "-1e-5 /K to 1e-4 /K"), "23e-6 /K"),
            "Linear expansion of what holds the focuser at its distance from the primary: poles, or the wall of a tube or box. Left out, that of the wall's `material` in a tube or box; without either the tube's share of the focus is left out.",
        ),
    ],
};

const EMISSIVITY: Key = default(
    "emissivity",
    Shape::Number(FRACTION, "0.9"),
    "0.90",
    "Of the outside: paint, wood, plastics; bare aluminium has about 0.1.",
);

static WALL: Group = Group {
    name: "wall",
    doc: "The wall around mirror and light path: a `material`, or its `density`, `specific_heat` and `conductivity`, which also stand in place of the material's own.",
    keys: &[
        optional(
            "material",
            Shape::Choice(&[
                "plywood",
                "aluminium",
                "steel",
                "cardboard",
                "glass-fibre",
                "carbon-fibre",
                "pvc",
                "foam-board",
            ]),
            "A material this program knows.",
        ),
        required(
            "thickness",
            quantity(Kind::LENGTH, range(1e-4, 0.2, "0.1 mm to 200 mm"), "12 mm"),
            "Thickness of the wall.",
        ),
        EMISSIVITY,
        default(
            "inside_emissivity",
            Shape::Number(FRACTION, "0.95"),
            "0.95",
            "Of the inside: matt black.",
        ),
        optional(
            "density",
            quantity(Kind::DENSITY, range(5.0, 2e4, "5 kg/m3 to 20000 kg/m3"), "600 kg/m3"),
            "Mass per volume.",
        ),
        optional(
            "specific_heat",
            quantity(
                Kind::SPECIFIC_HEAT,
                range(100.0, 5e3, "100 J/kg/K to 5000 J/kg/K"),
                "1600 J/kg/K",
            ),
            "Heat per mass and kelvin.",
        ),
        optional(
            "conductivity",
            quantity(
                Kind::CONDUCTIVITY,
                range(0.01, 500.0, "0.01 W/m/K to 500 W/m/K"),
                "0.15 W/m/K",
            ),
            "Thermal conductivity through the wall.",
        ),
    ],
};

static SECONDARY: Group = Group {
    name: "secondary",
    doc: "The secondary mirror: it hides the middle of the primary from the light, and air is led past it.",
    keys: &[
        required(
            "diameter",
            quantity(Kind::LENGTH, range(5e-3, 1.0, "5 mm to 1 m"), "75 mm"),
            "Its minor axis.",
        ),
        required(
            "distance",
            quantity(Kind::LENGTH, range(0.02, 50.0, "20 mm to 50 m"), "1450 mm"),
            "From the front of the primary.",
        ),
        optional(
            "thickness",
            quantity(Kind::LENGTH, range(1e-3, 0.2, "1 mm to 200 mm"), "12 mm"),
            "Thickness of its glass; left out, a sixth of its minor axis.",
        ),
        default(
            "holder",
            Shape::Number(range(0.0, 0.95, "0 to 0.95"), "0.5"),
            "0.2",
            "Share of its back that the holder covers and keeps from air and sky.",
        ),
        default(
            "back_emissivity",
            Shape::Number(FRACTION, "0.05"),
            "0.9",
            "Of its back where it is bare: ground glass or paint 0.9, shiny aluminium foil 0.05.",
        ),
        optional(
            "heater",
            quantity(Kind::POWER, range(0.0, 100.0, "0 W to 100 W"), "1.5 W"),
            "Power of a heater on its back; `secondary_heater` in [night] and [[event]] turns it down.",
        ),
    ],
};

#[cfg(test)]
mod tests {
    use evenglass_materials::wall::{INSIDE_EMISSIVITY, OUTSIDE_EMISSIVITY, WALL_MATERIALS};

    use super::*;
    use crate::keys::Need;

    #[test]
    fn the_materials_that_can_be_written_are_those_in_the_table() {
        let names: Vec<&str> = WALL_MATERIALS.iter().map(|material| material.name).collect();
        let key = WALL.keys.iter().find(|key| key.name == "material").unwrap();
        assert_eq!(key.shape.choice(), Some(names.as_slice()));
    }

    #[test]
    fn the_emissivities_left_out_are_those_of_the_table() {
        for (name, wanted) in
            [("emissivity", OUTSIDE_EMISSIVITY), ("inside_emissivity", INSIDE_EMISSIVITY)]
        {
            let key = WALL.keys.iter().find(|key| key.name == name).unwrap();
            let Need::Default(text) = key.need else { panic!("{name} has no default") };
            assert!((text.parse::<f64>().unwrap() - wanted).abs() < 1e-12, "{name}");
        }
    }
}
