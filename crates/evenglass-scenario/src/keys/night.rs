//! `[night]` and `[[event]]`.

use evenglass_units::Kind;

use super::{Group, Key, Shape, TIMES, default, optional, quantity, range, required, temperature};

const WIND: Shape = quantity(Kind::SPEED, range(0.0, 60.0, "0 m/s to 60 m/s"), "1 m/s");
const PRESSURE: Shape =
    quantity(Kind::PRESSURE, range(4e4, 1.1e5, "400 hPa to 1100 hPa"), "1013 hPa");
const HUMIDITY: Shape =
    Shape::Number(range(f64::MIN_POSITIVE, 1.0, "a fraction: more than 0, at most 1"), "0.8");
const CLOUD: Shape = Shape::Number(range(0.0, 1.0, "0 (clear) to 1 (overcast)"), "0.2");
const FAN_SPEED: Shape = Shape::Number(range(0.0, 2.0, "0 to 2"), "0.5");
const COVER: Shape = Shape::Choice(&["off", "vented", "on"]);
const HEATER: Shape = Shape::Number(range(0.0, 1.0, "0 (off) to 1 (full power)"), "0.5");
const ALTITUDE: Shape =
    quantity(Kind::ANGLE, range(0.0, std::f64::consts::FRAC_PI_2, "0 deg to 90 deg"), "60 deg");

macro_rules! series {
    ($name:ident, $shape:expr) => {
        static $name: Group = Group {
            name: "series",
            doc: "A value against time: linear between the points, held after the last.",
            keys: &[TIMES, required("value", Shape::List(&$shape), "One value for each time.")],
        };
    };
}

series!(WIND_SERIES, WIND);
series!(PRESSURE_SERIES, PRESSURE);
series!(HUMIDITY_SERIES, HUMIDITY);
series!(CLOUD_SERIES, CLOUD);
series!(DEW_POINT_SERIES, temperature("6 degC"));

pub(crate) static NIGHT: Group = Group {
    name: "night",
    doc: "When the run starts, how long it lasts, and what the air does.",
    keys: &[
        required("start", Shape::Clock, "Local clock time at which the run starts."),
        required(
            "duration",
            quantity(Kind::DURATION, range(1.0, 259_200.0, "1 s to 72 h"), "8 h"),
            "From the start to the end of the run.",
        ),
        optional(
            "date",
            Shape::Date,
            "Local date of the start. Needed for clock times in runs over 24 h.",
        ),
        required(
            "glass_temperature",
            temperature("20 degC"),
            "Temperature of the glass at the start, the same everywhere.",
        ),
        optional(
            "stress_free_temperature",
            temperature("20 degC"),
            "Uniform temperature at which the glass has its polished figure; left out, `glass_temperature`.",
        ),
        required("air", Shape::Kinds(AIR_KINDS), "Temperature of the night air."),
        optional(
            "dew_point",
            Shape::OneOf(&[temperature("6 degC"), Shape::Table(&DEW_POINT_SERIES)]),
            "Dew point of the air. Instead of `relative_humidity`, not beside it.",
        ),
        optional(
            "relative_humidity",
            Shape::OneOf(&[HUMIDITY, Shape::Table(&HUMIDITY_SERIES)]),
            "Relative humidity over liquid water, as a fraction of 1, of the night air at that time.",
        ),
        optional(
            "wind",
            Shape::OneOf(&[WIND, Shape::Table(&WIND_SERIES)]),
            "Wind speed outside; left out, calm.",
        ),
        optional(
            "cloud",
            Shape::OneOf(&[CLOUD, Shape::Table(&CLOUD_SERIES)]),
            "Fraction of the sky under cloud; left out, clear.",
        ),
        optional(
            "pressure",
            Shape::OneOf(&[PRESSURE, Shape::Table(&PRESSURE_SERIES)]),
            "Air pressure at the site, not reduced to sea level; left out, that of the standard atmosphere at the elevation in [site], or 1013.25 hPa.",
        ),
        default(
            "fan_speed",
            FAN_SPEED,
            "1.0",
            "Fraction of the fans' full revolutions at the start, until an event changes it.",
        ),
        default("cover", COVER, "\"off\"", "The cover at the start, until an event changes it."),
        default(
            "altitude",
            ALTITUDE,
            "\"90 deg\"",
            "Where the telescope points, above the horizon, until an event changes it.",
        ),
        default(
            "secondary_heater",
            HEATER,
            "1.0",
            "Fraction of the power of the secondary's `heater` at the start, until an event changes it.",
        ),
    ],
};

pub(crate) static AIR_KINDS: &[Group] = &[
    Group {
        name: "steady",
        doc: "The same temperature all night.",
        keys: &[required("temperature", temperature("10 degC"), "Temperature of the air.")],
    },
    Group {
        name: "falling",
        doc: "Falling at a steady rate, down to a floor if one is given.",
        keys: &[
            required("from", temperature("18 degC"), "Temperature at the start."),
            required(
                "rate",
                quantity(
                    Kind::TEMPERATURE_RATE,
                    range(-20.0 / 3600.0, 0.0, "-20 K/h to 0 K/h"),
                    "-1.5 K/h",
                ),
                "Change per time, negative.",
            ),
            optional("floor", temperature("9 degC"), "Temperature at which the fall stops."),
        ],
    },
    Group {
        name: "table",
        doc: "Points in time: linear between them, held after the last.",
        keys: &[
            TIMES,
            required(
                "temperature",
                Shape::List(&temperature("9 degC")),
                "One temperature for each time.",
            ),
        ],
    },
    Group {
        name: "file",
        doc: "A weather file.",
        keys: &[required(
            "path",
            Shape::Text("weather/valley.csv"),
            "CSV file with the columns `time` and `air [degC]` and more if known; relative to the scenario file.",
        )],
    },
];

pub(crate) static EVENT: Group = Group {
    name: "event",
    doc: "Something changes during the run: sets the keys it names; they hold until the next event that names them.",
    keys: &[
        required("at", Shape::Moment, "When: a duration from the start, or a clock time."),
        SPEED_CHANGE,
        optional("cover", COVER, "The cover from then on."),
        optional("altitude", ALTITUDE, "Where the telescope points from then on."),
        optional(
            "secondary_heater",
            HEATER,
            "Fraction of the power of the secondary's `heater` from then on.",
        ),
    ],
};

const SPEED_CHANGE: Key =
    optional("fan_speed", FAN_SPEED, "Fraction of the fans' full revolutions from then on.");
