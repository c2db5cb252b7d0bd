//! `[good]`, `[site]` and `[output]`.

use std::f64::consts::{FRAC_PI_2, PI};

use evenglass_units::Kind;

use super::{Group, Shape, default, optional, quantity, range};

/// Radians in a second of arc.
const ARCSEC: f64 = PI / 648_000.0;

pub(crate) static GOOD: Group = Group {
    name: "good",
    doc: "What counts as a good image.",
    keys: &[
        default(
            "figure_rms",
            quantity(Kind::LENGTH, range(1e-10, 1e-5, "0.1 nm to 10 um"), "20 nm"),
            "\"20 nm\"",
            "Largest error of the surface, RMS, after refocusing, lopsided terms included.",
        ),
        default(
            "shimmer",
            quantity(
                Kind::ANGLE,
                range(0.001 * ARCSEC, 60.0 * ARCSEC, "0.001 arcsec to 60 arcsec"),
                "0.5 arcsec",
            ),
            "\"0.5 arcsec\"",
            "Largest blur by the mirror's own warm air, full width at half maximum, the sky's left out.",
        ),
        default(
            "dew_margin",
            quantity(Kind::TEMPERATURE_DIFFERENCE, range(0.0, 20.0, "0 K to 20 K"), "0.5 K"),
            "\"0.5 K\"",
            "Smallest distance of the coldest point from the dew point.",
        ),
        optional(
            "front_minus_air",
            quantity(Kind::TEMPERATURE_DIFFERENCE, range(0.001, 20.0, "0.001 K to 20 K"), "0.5 K"),
            "Largest difference between front and air, of either sign, besides figure and shimmer; left out, any.",
        ),
        default(
            "held_for",
            quantity(Kind::DURATION, range(0.0, 259_200.0, "0 min to 72 h"), "30 min"),
            "\"30 min\"",
            "How long the state must last to count.",
        ),
    ],
};

pub(crate) static SITE: Group = Group {
    name: "site",
    doc: "Where the telescope stands.",
    keys: &[
        optional(
            "latitude",
            quantity(Kind::ANGLE, range(-FRAC_PI_2, FRAC_PI_2, "-90 deg to 90 deg"), "47.5 deg"),
            "Latitude, north positive.",
        ),
        optional(
            "longitude",
            quantity(Kind::ANGLE, range(-PI, PI, "-180 deg to 180 deg"), "8.5 deg"),
            "Longitude, east positive.",
        ),
        optional(
            "utc_offset",
            quantity(Kind::DURATION, range(-50_400.0, 50_400.0, "-14 h to 14 h"), "2 h"),
            "Local clock minus UTC, summer time included.",
        ),
        optional(
            "elevation",
            quantity(Kind::LENGTH, range(-500.0, 6000.0, "-500 m to 6000 m"), "450 m"),
            "Height above the sea.",
        ),
        optional(
            "seeing",
            quantity(
                Kind::ANGLE,
                range(0.1 * ARCSEC, 20.0 * ARCSEC, "0.1 arcsec to 20 arcsec"),
                "2 arcsec",
            ),
            "The sky's own seeing, full width at half maximum; the summary says what the mirror adds to it. Left out, 2 arcsec are taken.",
        ),
    ],
};

pub(crate) static OUTPUT: Group = Group {
    name: "output",
    doc: "What to write down.",
    keys: &[
        default(
            "interval",
            quantity(
                Kind::DURATION,
                range(1.0, 259_200.0, "1 s to the duration of the run"),
                "5 min",
            ),
            "\"5 min\"",
            "Time between rows of `history.csv`; at most 200000 rows.",
        ),
        optional(
            "fields_at",
            Shape::List(&Shape::Moment),
            "Times at which the whole temperature field is written.",
        ),
    ],
};
