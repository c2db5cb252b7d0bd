//! `fans` in `[ventilation]`.

use evenglass_units::Kind;

use super::{Group, Shape, TIMES, default, optional, quantity, range, required};

const FLOW: Shape = quantity(Kind::VOLUME_RATE, range(0.0, 5.0, "0 L/s to 5000 L/s"), "35 L/s");
const PRESSURE: Shape = quantity(Kind::PRESSURE, range(0.0, 5e3, "0 Pa to 5000 Pa"), "25 Pa");
const VOLTS: Shape = quantity(Kind::VOLTAGE, range(1.0, 500.0, "1 V to 500 V"), "12 V");
const SHARE: Shape = Shape::Number(range(0.0, 1.0, "0 to 1"), "0.3");

static VOLT_SERIES: Group = Group {
    name: "series",
    doc: "A voltage against time: linear between the points, held after the last.",
    keys: &[TIMES, required("value", Shape::List(&VOLTS), "One voltage for each time.")],
};

pub(crate) static FANS: Group = Group {
    name: "fans",
    doc: "The fans, all alike. What they do against a pressure is given by `free_flow` and `max_pressure`, as on the label, or better by points of the curve, `flow` and `pressure`; both at rated speed.",
    keys: &[
        required(
            "diameter",
            quantity(Kind::LENGTH, range(0.02, 1.0, "20 mm to 1 m"), "120 mm"),
            "Over the blade tips.",
        ),
        optional(
            "hub_diameter",
            quantity(Kind::LENGTH, range(0.0, 1.0, "0 mm to 1 m"), "40 mm"),
            "Of the closed middle; left out, 0.38 of `diameter`.",
        ),
        optional(
            "free_flow",
            quantity(Kind::VOLUME_RATE, range(1e-5, 5.0, "0.01 L/s to 5000 L/s"), "35 L/s"),
            "Flow of one fan against no pressure.",
        ),
        optional(
            "max_pressure",
            quantity(Kind::PRESSURE, range(0.1, 5e3, "0.1 Pa to 5000 Pa"), "25 Pa"),
            "Static pressure of one fan without flow; mmH2O and inH2O are read too.",
        ),
        optional("flow", Shape::List(&FLOW), "Flows of one fan at points of its curve, rising."),
        optional(
            "pressure",
            Shape::List(&PRESSURE),
            "Static pressure at each of them, not rising but for a small stall dip.",
        ),
        default(
            "count",
            Shape::Number(range(1.0, 64.0, "1 to 64"), "2"),
            "1",
            "How many stand side by side.",
        ),
        default(
            "in_series",
            Shape::Number(range(1.0, 4.0, "1 to 4"), "2"),
            "1",
            "How many stand one behind the other, each: for pressure, not for flow.",
        ),
        default(
            "failed",
            Shape::Number(range(0.0, 63.0, "0 to 63"), "1"),
            "0",
            "Of `count`, how many stand still, from the first on.",
        ),
        required(
            "power",
            quantity(Kind::POWER, range(0.0, 500.0, "0 W to 500 W"), "1.5 W"),
            "Electric power of one at full speed: volts times amperes of the label.",
        ),
        default(
            "motor",
            Shape::Choice(&["in-stream", "outside"]),
            "\"in-stream\"",
            "Where the motor leaves its heat.",
        ),
        default(
            "minimum_speed",
            SHARE,
            "0.2",
            "Fraction of full speed below which a fan stands still.",
        ),
        default(
            "start_speed",
            SHARE,
            "0.3",
            "Fraction of full speed a standing fan needs to start; never less than `minimum_speed`.",
        ),
        optional("rated_voltage", VOLTS, "Voltage at which the curve holds."),
        optional(
            "supply_voltage",
            Shape::OneOf(&[VOLTS, Shape::Table(&VOLT_SERIES)]),
            "Voltage of the supply, or a battery's against time; full speed falls in proportion. Left out, the rated one.",
        ),
        optional(
            "noise",
            quantity(Kind::SOUND_LEVEL, range(0.0, 120.0, "0 dB to 120 dB"), "24 dB"),
            "Sound level of one at full speed, at 1 m.",
        ),
    ],
};
