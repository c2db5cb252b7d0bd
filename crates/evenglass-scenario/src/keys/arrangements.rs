//! `[ventilation]`: the arrangements and the keys of each.

use std::f64::consts::{FRAC_PI_2, TAU};

use evenglass_units::Kind;

use super::{FANS, Group, Key, LAYER_KINDS, Shape, default, optional, quantity, range, required};

pub(crate) const DOC: &str = "How the air is moved, by `kind`. All films come from it; a face may still have a `given` film.";

/// At least a sheet of paper thick.
const GAP: Shape = quantity(Kind::LENGTH, range(1e-3, 1.0, "1 mm to 1 m"), "40 mm");
const DISTANCE: Shape = quantity(Kind::LENGTH, range(1e-3, 2.0, "1 mm to 2 m"), "60 mm");
const WIDE: Shape = quantity(Kind::LENGTH, range(0.01, 3.0, "10 mm to 3 m"), "300 mm");
const ABOVE_EDGE: Shape = quantity(Kind::LENGTH, range(0.0, 2.0, "0 mm to 2 m"), "35 mm");
const SLOT: Shape = quantity(Kind::LENGTH, range(5e-4, 0.1, "0.5 mm to 100 mm"), "4 mm");
const TURN: Shape = quantity(Kind::ANGLE, range(-TAU, TAU, "-360 deg to 360 deg"), "90 deg");

static ONE_LAYER: Shape = Shape::Kinds(LAYER_KINDS);

const FAN: Key = required("fans", Shape::Table(&FANS), "The fans that drive it.");
const LAYERS: Key = optional(
    "layers",
    Shape::List(&ONE_LAYER),
    "What the air passes one after the other between outside and the arrangement: filters, grilles, bends.",
);
const LEAK: Key = optional(
    "leak",
    quantity(Kind::AREA, range(0.0, 10.0, "0 cm2 to 10 m2"), "10 cm2"),
    "Openings on the pressure side through which air escapes without reaching the glass.",
);
const SECOND: Key = optional(
    "second",
    Shape::Kinds(SECONDS),
    "An arrangement over the front besides this one behind it; its keys are those of its kind here.",
);
const TO_BACK: Key = required("distance", DISTANCE, "From the blades to the back of the glass.");
const CELL: Key = default(
    "cell",
    Shape::Choice(&["open", "closed"]),
    "\"open\"",
    "Whether a board parallel to the back leads the air outward.",
);
const CELL_GAP: Key =
    optional("gap", GAP, "Depth of the space between board and glass, of a closed cell.");
const RIM_GAP: Key = optional(
    "rim_gap",
    quantity(Kind::LENGTH, range(1e-3, 0.5, "1 mm to 500 mm"), "20 mm"),
    "Between the rim and the wall around it; left out, `clearance` of [telescope].",
);
const PLATE_KEY: Key = required("plate", Shape::Table(&PLATE), PLATE.doc);

pub(crate) static PLATE: Group = Group {
    name: "plate",
    doc: "A plate with holes, facing the back of the glass.",
    keys: &[
        required("diameter", WIDE, "Of the part with holes."),
        required("distance", GAP, "From the plate to the back of the glass."),
        required(
            "hole_diameter",
            quantity(Kind::LENGTH, range(5e-4, 0.2, "0.5 mm to 200 mm"), "4 mm"),
            "Diameter of a hole.",
        ),
        required("holes", Shape::Number(range(1.0, 1e6, "1 to 1000000"), "200"), "How many."),
        default(
            "thickness",
            quantity(Kind::LENGTH, range(1e-4, 0.1, "0.1 mm to 100 mm"), "3 mm"),
            "\"3 mm\"",
            "Thickness of the plate.",
        ),
        optional(
            "cover",
            Shape::List(&ONE_LAYER),
            "Felt, foam or mesh over the plate, in series with it; the same tables as in `layers`.",
        ),
    ],
};

static OUTLET: Group = Group {
    name: "outlet",
    doc: "A slot around the rim from which air leaves the plenum.",
    keys: &[
        required("width", SLOT, "Width of the slot."),
        optional(
            "diameter",
            quantity(Kind::LENGTH, range(0.02, 3.0, "20 mm to 3 m"), "430 mm"),
            "Of the circle along its middle; left out, its inner edge lies along the rim.",
        ),
        default(
            "angle",
            quantity(Kind::ANGLE, range(0.0, FRAC_PI_2, "0 deg to 90 deg"), "35 deg"),
            "\"0 deg\"",
            "0 is along the rim, 90 deg straight outward.",
        ),
    ],
};

pub(crate) static PATHS: &[Group] = &[
    Group { name: "direct", doc: "Straight from the fans.", keys: &[] },
    Group {
        name: "past-back",
        doc: "From a middle inlet along the back of the glass, past the rim.",
        keys: &[required("gap", GAP, "Between the back of the glass and the board."), RIM_GAP],
    },
    Group {
        name: "through-plate",
        doc: "Through a perforated plate at the back, past the rim.",
        keys: &[PLATE_KEY, RIM_GAP],
    },
];

const SIDE_FANS: Group = Group {
    name: "side-fans",
    doc: "Rows of fans beside the mirror blow across the front.",
    keys: &[
        default(
            "rows",
            Shape::Choice(&["one-side", "both-sides"]),
            "\"one-side\"",
            "On one side, or two rows that face each other and share the fans.",
        ),
        default(
            "angle",
            TURN,
            "\"0 deg\"",
            "Where the first row stands: 0 is the side that is up when the telescope points low, anticlockwise seen from the front.",
        ),
        optional("width", WIDE, "Of a row, end to end; left out, its fans stand side by side."),
        required("distance", DISTANCE, "From the blades to the edge of the glass."),
        optional(
            "height",
            ABOVE_EDGE,
            "Of the fans' axes above the edge of the front; left out, half a fan's diameter.",
        ),
        FAN,
        LAYERS,
        LEAK,
    ],
};

const CORNER_FANS: Group = Group {
    name: "corner-fans",
    doc: "Fans in the corners of the box blow across the front towards the middle.",
    keys: &[
        required("distance", DISTANCE, "From the blades to the edge of the glass."),
        optional(
            "height",
            ABOVE_EDGE,
            "Of the fans' axes above the edge of the front; left out, half a fan's diameter.",
        ),
        default(
            "angle",
            TURN,
            "\"45 deg\"",
            "Where the first stands; the others follow evenly around the mirror.",
        ),
        FAN,
        LAYERS,
        LEAK,
    ],
};

const FAN_ABOVE: Group = Group {
    name: "fan-above",
    doc: "A fan on the axis above the front blows down.",
    keys: &[required("distance", DISTANCE, "From the blades to the front."), FAN, LAYERS, LEAK],
};

const OPEN: Group = Group {
    name: "open",
    doc: "No fans: the wind reaches the front as far as the telescope lets it. Needs `wind` in [night].",
    keys: &[],
};

/// What may stand in `second`.
pub(crate) static SECONDS: &[Group] = &[SIDE_FANS, CORNER_FANS, FAN_ABOVE, OPEN];

pub(crate) static ARRANGEMENTS: &[Group] = &[
    Group {
        name: "fan-behind",
        doc: "One fan on the axis, or beside it, blows at the back.",
        keys: &[
            TO_BACK,
            CELL,
            CELL_GAP,
            default(
                "offset",
                quantity(Kind::LENGTH, range(0.0, 1.0, "0 mm to 1 m"), "30 mm"),
                "\"0 mm\"",
                "Of the fan's axis from the mirror's.",
            ),
            default("offset_angle", TURN, "\"0 deg\"", "Where the offset fan stands."),
            FAN,
            LAYERS,
            LEAK,
            SECOND,
        ],
    },
    Group {
        name: "fans-behind",
        doc: "Several fans on the back board, evenly spaced on a circle, blow at the back.",
        keys: &[
            required("circle_diameter", WIDE, "Of the circle their axes stand on."),
            default(
                "angle",
                TURN,
                "\"0 deg\"",
                "Where the first stands; the others follow evenly.",
            ),
            TO_BACK,
            CELL,
            CELL_GAP,
            FAN,
            LAYERS,
            LEAK,
            SECOND,
        ],
    },
    Group {
        name: "suction",
        doc: "Fans draw the air in past the rim, over the back to the middle and out.",
        keys: &[
            required("gap", GAP, "Between the back of the glass and the board with the fans."),
            RIM_GAP,
            optional(
                "baffle",
                WIDE,
                "Diameter of the opening of a ring that leads the air over the edge of the front; left out, there is none.",
            ),
            FAN,
            LAYERS,
            LEAK,
            SECOND,
        ],
    },
    Group {
        name: "plenum",
        doc: "A plenum behind the glass blows through a perforated plate at the back, and through a slot around the rim.",
        keys: &[
            PLATE_KEY,
            required("outlet", Shape::Table(&OUTLET), OUTLET.doc),
            FAN,
            LAYERS,
            LEAK,
            SECOND,
        ],
    },
    Group {
        name: "ring-nozzle",
        doc: "A ring nozzle around the rim sends the air inward over the front.",
        keys: RING_KEYS,
    },
    SIDE_FANS,
    CORNER_FANS,
    FAN_ABOVE,
    OPEN,
    Group { name: "sealed", doc: "No fans and no openings: the air stays in the box.", keys: &[] },
];

const RING_KEYS: &[Key] = &[
    required("slot", SLOT, "Width of the slot: its mean around the ring."),
    optional("slot_range", Shape::List(&SLOT), "Narrowest and widest place, if measured."),
    default("slot_angle", TURN, "\"0 deg\"", "Where the slot is widest."),
    default(
        "lip",
        quantity(Kind::LENGTH, range(0.0, 0.5, "0 mm to 500 mm"), "12 mm"),
        "\"0 mm\"",
        "Length of the parallel lips; 0 mm is a sharp edge.",
    ),
    required(
        "height",
        quantity(Kind::LENGTH, range(0.0, 1.0, "0 mm to 1 m"), "2 mm"),
        "Lower edge of the slot above the edge of the front; at most 10 slot widths.",
    ),
    default(
        "setback",
        quantity(Kind::LENGTH, range(-0.5, 1.0, "-500 mm to 1 m"), "2 mm"),
        "\"0 mm\"",
        "From the slot's mouth inward to the edge of the glass, at most 20 slot widths; negative where the lip covers part of the front.",
    ),
    default(
        "turbulence",
        Shape::Number(range(0.0, 0.5, "0 to 0.5"), "0.02"),
        "0.05",
        "Turbulence of the air in the nozzle: 0.02 behind foam and smooth walls, 0.1 straight from a fan.",
    ),
    optional(
        "ring_section",
        quantity(Kind::AREA, range(1e-5, 2.0, "0.1 cm2 to 2 m2"), "150 cm2"),
        "Cross-section of the channel in which the air runs around; left out, three times the area of the slot.",
    ),
    default(
        "feed",
        Shape::Choice(&["even", "one-point"]),
        "\"even\"",
        "Whether the ring is fed all around alike, or at one place.",
    ),
    optional("feed_angle", TURN, "Where the air enters a ring fed at one place; left out, 0 deg."),
    optional(
        "path",
        Shape::Kinds(PATHS),
        "Which way the air comes to the ring; left out, straight from the fans.",
    ),
    FAN,
    LAYERS,
    LEAK,
];
