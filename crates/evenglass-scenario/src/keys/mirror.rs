//! `[mirror]`.

use evenglass_units::Kind;

use super::{Group, Shape, optional, quantity, range, required};

pub(crate) static MIRROR: Group = Group {
    name: "mirror",
    doc: "The glass and its shape: a flat back and a paraboloidal or flat front.",
    keys: &[
        required(
            "diameter",
            quantity(Kind::LENGTH, range(0.02, 2.0, "20 mm to 2 m"), "406 mm"),
            "Outer diameter.",
        ),
        required(
            "edge_thickness",
            quantity(Kind::LENGTH, range(0.002, 0.5, "2 mm to 500 mm"), "41 mm"),
            "Thickness at the rim.",
        ),
        optional(
            "focal_ratio",
            Shape::Number(range(1.0, 50.0, "1 to 50"), "4.5"),
            "Focal length over diameter; left out, the front is flat.",
        ),
        optional(
            "hole_diameter",
            quantity(
                Kind::LENGTH,
                range(f64::MIN_POSITIVE, 2.0, "more than 0 mm, less than the mirror"),
                "60 mm",
            ),
            "Diameter of the central hole; left out, the disc is solid. At least 10 mm of glass stay between hole and rim.",
        ),
        required(
            "glass",
            Shape::OneOf(&[Shape::GlassName, Shape::Table(&GLASS)]),
            "Name of a glass, or its constants.",
        ),
    ],
};

static GLASS: Group = Group {
    name: "glass",
    doc: "Constants of a glass, the same at every temperature.",
    keys: &[
        required(
            "density",
            quantity(Kind::DENSITY, range(1e3, 5e3, "1000 kg/m3 to 5000 kg/m3"), "2500 kg/m3"),
            "Mass per volume.",
        ),
        required(
            "specific_heat",
            quantity(
                Kind::SPECIFIC_HEAT,
                range(200.0, 2e3, "200 J/kg/K to 2000 J/kg/K"),
                "720 J/kg/K",
            ),
            "Specific heat near 10 °C.",
        ),
        required(
            "conductivity",
            quantity(Kind::CONDUCTIVITY, range(0.1, 10.0, "0.1 W/m/K to 10 W/m/K"), "1.0 W/m/K"),
            "Thermal conductivity.",
        ),
        required(
            "expansion",
            quantity(Kind::EXPANSION, range(-1e-6, 3e-5, "-1e-6 /K to 3e-5 /K"), "9.0e-6 /K"),
            "Linear thermal expansion.",
        ),
        required(
            "youngs_modulus",
            quantity(Kind::PRESSURE, range(1e10, 3e11, "10 GPa to 300 GPa"), "70 GPa"),
            "Young's modulus.",
        ),
        required(
            "poisson_ratio",
            Shape::Number(range(0.0, 0.49, "0 to 0.49"), "0.22"),
            "Poisson's ratio.",
        ),
        required(
            "emissivity",
            Shape::Number(range(0.0, 1.0, "0 to 1"), "0.84"),
            "Total hemispherical emissivity of the bare surface.",
        ),
    ],
};
