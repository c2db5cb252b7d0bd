//! `[front]`, `[back]`, `[rim]` and `[hole]`.

use evenglass_units::Kind;

use super::{
    Group, Key, Need, Range, Shape, TIMES, default, optional, quantity, range, required,
    temperature,
};

const COEFFICIENT: Shape =
    quantity(Kind::FILM_COEFFICIENT, range(0.0, 1e3, "0 W/m2/K to 1000 W/m2/K"), "8 W/m2/K");
const FACTOR: Shape = Shape::Number(range(0.0, 1e6, "0 or more"), "0.33");
const FRACTION: Range = range(0.0, 1.0, "0 to 1");
const PLACE: Shape = quantity(Kind::LENGTH, range(0.0, 1.0, "0 mm to 1 m"), "124 mm");

const GIVEN_DOC: &str =
    "A film coefficient you know or assume. No radiation unless `radiation` is given.";
const STILL: Group = Group {
    name: "still",
    doc: "Still air: free convection, computed from the temperatures. Radiates.",
    keys: &[],
};
const VALUES: Key = required(
    "coefficient",
    Shape::OneOf(&[COEFFICIENT, Shape::List(&COEFFICIENT)]),
    "Film coefficient per true surface; one value, or one for each place. 0 W/m2/K is sealed.",
);
const TIME_FACTOR: Key = default(
    "factor",
    Shape::OneOf(&FACTOR_SHAPES),
    "1.0",
    "Multiplies the coefficient, before any insulation is added in series.",
);
const OFFSET: Key = default(
    "air_offset",
    quantity(Kind::TEMPERATURE_DIFFERENCE, range(-60.0, 60.0, "-60 K to 60 K"), "0.5 K"),
    "\"0 K\"",
    "Driving air minus night air.",
);

static FACTOR_SHAPES: [Shape; 2] = [FACTOR, Shape::Table(&FACTOR_SERIES)];
static FACTOR_SERIES: Group = Group {
    name: "series",
    doc: "A factor against time: linear between the points, held after the last.",
    keys: &[TIMES, required("value", Shape::List(&FACTOR), "One factor for each time.")],
};

const GIVEN_BY_RADIUS: Group = Group {
    name: "given",
    doc: GIVEN_DOC,
    keys: &[
        VALUES,
        optional(
            "radius",
            Shape::List(&PLACE),
            "Distances from the axis, not going back; a repeated one is a jump.",
        ),
        TIME_FACTOR,
        OFFSET,
    ],
};

const GIVEN_BY_HEIGHT: Group = Group {
    name: "given",
    doc: GIVEN_DOC,
    keys: &[
        VALUES,
        optional(
            "height",
            Shape::List(&PLACE),
            "Heights above the back, not going back; a repeated one is a jump.",
        ),
        TIME_FACTOR,
        OFFSET,
    ],
};

pub(crate) static FRONT_FILMS: &[Group] = &[
    GIVEN_BY_RADIUS,
    STILL,
    Group {
        name: "breeze",
        doc: "Wind over the open front, from `wind` in [night]. Radiates.",
        keys: &[required(
            "shelter",
            Shape::Number(FRACTION, "0.4"),
            "Fraction of the wind's speed that reaches the glass.",
        )],
    },
];

pub(crate) static BACK_FILMS: &[Group] = &[
    GIVEN_BY_RADIUS,
    STILL,
    Group {
        name: "fan-behind",
        doc: "An axial fan on the axis, blowing at the middle of the back. Radiates.",
        keys: &[
            required(
                "fan_diameter",
                quantity(Kind::LENGTH, range(0.02, 1.0, "20 mm to 1 m"), "120 mm"),
                "Diameter over the blade tips.",
            ),
            required(
                "hub_diameter",
                quantity(Kind::LENGTH, range(0.0, 1.0, "0 mm to 1 m"), "40 mm"),
                "Diameter of the hub, smaller than the fan.",
            ),
            required(
                "distance",
                quantity(Kind::LENGTH, range(1e-3, 2.0, "1 mm to 2 m"), "60 mm"),
                "From the blades to the glass.",
            ),
            required(
                "flow",
                quantity(Kind::VOLUME_RATE, range(0.0, 2.0, "0 L/s to 2000 L/s"), "20 L/s"),
                "Flow at full speed that reaches the glass; it goes with `fan_speed`.",
            ),
            default(
                "cell",
                Shape::Choice(&["open", "closed"]),
                "\"open\"",
                "Whether a board parallel to the back leads the air outward.",
            ),
            optional(
                "gap",
                quantity(Kind::LENGTH, range(1e-3, 1.0, "1 mm to 1 m"), "40 mm"),
                "Depth of the space between board and glass, of a closed cell.",
            ),
        ],
    },
];

static AXIAL_FILMS: &[Group] = &[GIVEN_BY_HEIGHT, STILL];

const FILM_DOC: &str = "The moving air; left out, still air.";
const FRONT_FILM: Key = optional("film", Shape::Kinds(FRONT_FILMS), FILM_DOC);
const BACK_FILM: Key = optional("film", Shape::Kinds(BACK_FILMS), FILM_DOC);
const AXIAL_FILM: Key = optional("film", Shape::Kinds(AXIAL_FILMS), FILM_DOC);

const RADIATION: Key = optional(
    "radiation",
    Shape::Table(&RADIATION_KEYS),
    "Heat radiated; left out, computed films radiate and a given film does not.",
);
const INSULATION: Key = optional(
    "insulation",
    Shape::Table(&INSULATION_KEYS),
    "A layer on the glass; film and radiation act on its outer surface.",
);
const UNEVEN: Key = optional(
    "uneven",
    Shape::List(&ONE_HARMONIC),
    "Variation of the film around the axis: film * (1 + sum of amplitude * cos(harmonic * (theta - angle))). The amplitudes sum to less than 1.",
);

static RADIATION_KEYS: Group = Group {
    name: "radiation",
    doc: "Thermal radiation of a face.",
    keys: &[
        Key {
            name: "emissivity",
            shape: Shape::Number(FRACTION, "0.84"),
            need: Need::Optional,
            doc: "Total hemispherical emissivity; left out, 0.04 on the front (aluminised) and that of the bare glass elsewhere.",
        },
        default(
            "surroundings",
            Shape::OneOf(&[
                Shape::Choice(&["air"]),
                temperature("5 degC"),
                Shape::Table(&SURROUNDINGS_SERIES),
            ]),
            "\"air\"",
            "What the face looks at: walls at the air's temperature, or a temperature.",
        ),
    ],
};

static SURROUNDINGS_SERIES: Group = Group {
    name: "series",
    doc: "A temperature against time: linear between the points, held after the last.",
    keys: &[
        TIMES,
        required(
            "temperature",
            Shape::List(&temperature("5 degC")),
            "One temperature for each time.",
        ),
    ],
};

static INSULATION_KEYS: Group = Group {
    name: "insulation",
    doc: "A plane layer without heat storage.",
    keys: &[
        required(
            "thickness",
            quantity(Kind::LENGTH, range(0.0, 0.2, "0 mm to 200 mm"), "6 mm"),
            "Thickness of the layer.",
        ),
        required(
            "conductivity",
            quantity(Kind::CONDUCTIVITY, range(5e-3, 5.0, "0.005 W/m/K to 5 W/m/K"), "0.035 W/m/K"),
            "Its thermal conductivity.",
        ),
    ],
};

static ONE_HARMONIC: Shape = Shape::Table(&HARMONIC);

pub(crate) static HARMONIC: Group = Group {
    name: "uneven",
    doc: "One harmonic of the film around the axis.",
    keys: &[
        required(
            "harmonic",
            Shape::Number(range(1.0, 4.0, "1, 2, 3 or 4"), "2"),
            "How often the film rises and falls around the axis.",
        ),
        required(
            "amplitude",
            Shape::Number(range(-1.0, 1.0, "-1 to 1, both excluded"), "0.3"),
            "Relative amplitude.",
        ),
        default(
            "angle",
            quantity(
                Kind::ANGLE,
                range(-std::f64::consts::TAU, std::f64::consts::TAU, "-360 deg to 360 deg"),
                "90 deg",
            ),
            "\"0 deg\"",
            "Where the film is strongest: 0 is the side that is up when the telescope points low, anticlockwise seen from the front.",
        ),
    ],
};

pub(crate) static FRONT: Group = Group {
    name: "front",
    doc: "The optical face, up. Left out: still air, radiating as aluminised.",
    keys: &[FRONT_FILM, RADIATION, INSULATION, UNEVEN],
};
pub(crate) static BACK: Group = Group {
    name: "back",
    doc: "The flat face opposite. Left out: still air, radiating as bare glass.",
    keys: &[BACK_FILM, RADIATION, INSULATION, UNEVEN],
};
pub(crate) static RIM: Group = Group {
    name: "rim",
    doc: "The cylindrical edge. Left out: still air, radiating as bare glass.",
    keys: &[AXIAL_FILM, RADIATION, INSULATION, UNEVEN],
};
pub(crate) static HOLE: Group = Group {
    name: "hole",
    doc: "The wall of the central hole; only with `hole_diameter` in [mirror]. Left out: still air, radiating as bare glass.",
    keys: &[AXIAL_FILM, RADIATION, INSULATION, UNEVEN],
};
