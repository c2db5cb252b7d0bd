//! `layers`: what the air passes in series.

use evenglass_units::Kind;

use super::{Group, Key, Range, Shape, default, optional, quantity, range, required};

const AREA: Key = required(
    "area",
    quantity(Kind::AREA, range(1e-5, 20.0, "0.1 cm2 to 20 m2"), "400 cm2"),
    "Area the air passes through: of a mat with its pleats smoothed out, of a plate with its holes.",
);
const LOADING: Key = default(
    "loading",
    Shape::Number(range(0.0, 20.0, "0 (clean) to 20"), "0.5"),
    "0",
    "Extra share of the clean pressure drop, by dust.",
);
const COUNT: Key = default(
    "count",
    Shape::Number(range(1.0, 50.0, "1 to 50"), "2"),
    "1",
    "How many of them, one behind the other.",
);
const BORE: Range = range(2e-3, 2.0, "2 mm to 2 m");
const DIAMETER: Key =
    required("diameter", quantity(Kind::LENGTH, BORE, "120 mm"), "Inner diameter of the duct.");
const HOLE: Shape = quantity(Kind::LENGTH, range(1e-4, 0.5, "0.1 mm to 500 mm"), "4 mm");
const SHEET: Shape = quantity(Kind::LENGTH, range(1e-5, 0.1, "0.01 mm to 100 mm"), "2 mm");
const FACE_SPEED: Shape =
    quantity(Kind::SPEED, range(1e-4, 50.0, "0.0001 m/s to 50 m/s"), "0.5 m/s");
const DROP: Shape = quantity(Kind::PRESSURE, range(1e-3, 1e4, "0.001 Pa to 10000 Pa"), "12 Pa");

pub(crate) static LAYER_KINDS: &[Group] = &[
    Group {
        name: "filter",
        doc: "A filter of a class, with the usual pressure drop of that class.",
        keys: &[
            required(
                "media",
                Shape::Choice(&["coarse", "epm10-50", "epm1-50", "epm1-80", "hepa-13"]),
                "Class: ISO 16890 coarse, ePM10 50 %, ePM1 50 %, ePM1 80 %; ISO 29463 35H (H13), pleated.",
            ),
            AREA,
            LOADING,
            COUNT,
        ],
    },
    Group {
        name: "porous",
        doc: "Cloth, felt, foam or a filter of which one or two pressure drops are known.",
        keys: &[
            required(
                "speed",
                Shape::List(&FACE_SPEED),
                "Face speed of one or two measurements, rising.",
            ),
            required("pressure", Shape::List(&DROP), "Pressure drop at each of them."),
            AREA,
            LOADING,
            COUNT,
        ],
    },
    Group {
        name: "perforated",
        doc: "A plate or grille with holes across the stream.",
        keys: &[
            required(
                "open_fraction",
                Shape::Number(range(0.01, 0.9, "0.01 to 0.9"), "0.4"),
                "Open share of the area; round holes reach 0.78 in rows and 0.9 staggered.",
            ),
            AREA,
            required("hole_diameter", HOLE, "Diameter of a hole."),
            default("thickness", SHEET, "\"1 mm\"", "Thickness of the plate."),
            COUNT,
        ],
    },
    Group { name: "opening", doc: "A sharp-edged opening.", keys: &[AREA, COUNT] },
    Group {
        name: "bend",
        doc: "A bend of a duct.",
        keys: &[
            DIAMETER,
            optional(
                "radius",
                quantity(Kind::LENGTH, range(1e-3, 5.0, "1 mm to 5 m"), "180 mm"),
                "Radius of its middle line, at least half the diameter; left out, a mitre.",
            ),
            default(
                "angle",
                quantity(
                    Kind::ANGLE,
                    range(std::f64::consts::PI / 180.0, std::f64::consts::PI, "1 deg to 180 deg"),
                    "90 deg",
                ),
                "\"90 deg\"",
                "Turn of the stream.",
            ),
            COUNT,
        ],
    },
    Group {
        name: "duct",
        doc: "A straight round duct.",
        keys: &[
            DIAMETER,
            required(
                "length",
                quantity(Kind::LENGTH, range(1e-3, 50.0, "1 mm to 50 m"), "500 mm"),
                "Its length.",
            ),
            COUNT,
        ],
    },
    Group {
        name: "step",
        doc: "A sudden change of a duct's diameter.",
        keys: &[
            required("from", quantity(Kind::LENGTH, BORE, "120 mm"), "Diameter before."),
            required("to", quantity(Kind::LENGTH, BORE, "200 mm"), "Diameter after."),
            COUNT,
        ],
    },
    Group {
        name: "loss",
        doc: "A loss coefficient known from elsewhere.",
        keys: &[
            required(
                "coefficient",
                Shape::Number(range(0.0, 1e4, "0 to 10000"), "1.2"),
                "Pressure drop over dynamic pressure.",
            ),
            AREA,
            COUNT,
        ],
    },
];
