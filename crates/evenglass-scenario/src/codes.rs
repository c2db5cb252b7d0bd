//! What the codes of faults mean.

/// Code and explanation of every kind of fault that a scenario can have.
pub const CODES: &[(&str, &str)] = &[
    (
        "scenario::file",
        "The scenario file could not be read: it does not exist, is a folder, is larger than 4 MB, or is not UTF-8 text.",
    ),
    (
        "scenario::syntax",
        "The text is not TOML. A line is `key = value`, `[section]` or a `# comment`. Texts and quantities stand in quotes: diameter = \"406 mm\". A key may stand only once in its section.",
    ),
    (
        "scenario::unknown-key",
        "A key that this program does not know, at this place. Nothing is ignored silently: a misspelt key would otherwise leave a default in force.",
    ),
    ("scenario::missing-key", "A key without which the scenario has no meaning is not there."),
    (
        "scenario::type",
        "The value is of the wrong sort: a list where one value is wanted, a text where a bare number is wanted, and the like.",
    ),
    (
        "scenario::unit",
        "Every quantity is a text with a number and a unit: \"24 in\", \"60 cfm\", \"-1.5 K/h\". The unit is missing, unknown, or measures something else. There are no default units.",
    ),
    (
        "scenario::range",
        "The value is outside the limits within which this program's equations are meant to hold, or outside what the key can mean.",
    ),
    ("scenario::choice", "The value is not one of the words that the key can have."),
    (
        "scenario::time",
        "Times are durations from the start of the run (\"2 h\") or local clock times (\"22:30\"). A clock time before that of the start means the next day. Runs over 24 h need dates.",
    ),
    (
        "scenario::table",
        "The lists of a table do not fit together: they need the same number of entries, and positions that do not go back. A repeated position is a jump, and has two entries.",
    ),
    (
        "scenario::conflict",
        "Two entries of the scenario contradict each other, such as a hole wider than the mirror or a dew point beside a relative humidity.",
    ),
    (
        "scenario::build",
        "The parts cannot be put together as written: a fan wider than the board it stands in, holes that run into each other, a slot that lies beyond the wall. It is refused, because its numbers would be those of nothing.",
    ),
    (
        "scenario::later",
        "The file format has this, but this version of the program does not compute it. It is refused rather than ignored.",
    ),
    (
        "scenario::override",
        "A change typed on the command line cannot be read or cannot be applied: KEY=VALUE with the key's full path (mirror.diameter=24 in; an event is event.0.fan_speed, counted from 0).",
    ),
    (
        "scenario::axis",
        "The values to sweep over cannot be read: KEY=FROM .. TO : COUNT, evenly spaced, or KEY=A, B, C.",
    ),
];
