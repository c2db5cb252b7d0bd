//! Fans, filters and walls: what a maker buys and builds with.

use std::fmt::Write as _;

use evenglass_materials::wall::{INSIDE_EMISSIVITY, OUTSIDE_EMISSIVITY, WALL_MATERIALS};
use evenglass_scenario::words_of;
use evenglass_simulation::typical_drop;

use super::keys::{Table, tables};
use super::unknown_name;
use crate::failure::Failure;

const FAN: &str = "\
Fans of [ventilation], and what is reckoned with

All fans of an arrangement are alike. What one does against a pressure is a curve: points of the
data sheet (`flow` and `pressure`), or only its two ends from the label (`free_flow` and
`max_pressure`). With points the pressure at a flow is known to some 8 %, with two ends to 20 %:
between them a usual shape is taken (common practice, no source).

Flow goes with speed and pressure with its square; fans side by side add flows, fans one behind
the other add pressures. A failed fan is a hole through which the others blow back.

Left of four tenths of its free flow an axial fan stalls: less air than computed, and louder; the
program says so. Small fans stop between 20 and 40 % of full speed and need more to start
(common practice, no source): `minimum_speed` and `start_speed`.

Heat of motors in the stream warms the air they move; at low speed it falls with the cube of the
speed down to what the electronics take.

";

/// How a fan is reckoned with, and its keys.
pub(super) fn fan() -> String {
    let path = ["ventilation", "fan-behind", "fans"];
    FAN.to_owned() + &tables(&Table { title: "`fans` in [ventilation]", path: &path })
}

/// Speeds on the face of a filter that makers work with \[m/s\].
const FACE_SPEEDS: [f64; 3] = [0.1, 0.3, 0.6];

/// The classes of filters with their usual pressure drops.
pub(super) fn filters() -> String {
    let mut text = "\
Filters, by the `media` a scenario uses, and what a clean one usually costs

                pressure drop at a speed on its face of
"
    .to_owned();
    let speeds: Vec<String> =
        FACE_SPEEDS.iter().map(|speed| format!("{:>12}", format!("{speed} m/s"))).collect();
    let _ = writeln!(text, "  media     {}", speeds.concat());
    for media in media() {
        text += &row(media);
    }
    text + "
Typical values, from memory: take each as known to 40 % (one standard deviation). The speed on
the face is the flow over the area: 20 L/s through 400 cm² are 0.5 m/s, so that twice the area is
half the drop or less. `loading = 1` doubles the drop by dust. A filter of which one or two drops
were measured is written as a layer of kind \"porous\", and known to a tenth.
"
}

/// One filter.
pub(super) fn filter(name: &str) -> Result<String, Failure> {
    if !media().contains(&name) {
        return Err(unknown_name("filter", name, media()));
    }
    let speeds = FACE_SPEEDS.map(|speed| {
        format!("  {speed} m/s on its face: {} Pa\n", digits(typical_drop(name, speed)))
    });
    let path = ["ventilation", "fan-behind", "layers", "filter"];
    let keys = tables(&Table { title: "a layer with kind = \"filter\"", path: &path });
    Ok(format!(
        "{name}, clean: typical values, from memory, known to 40 %\n\n{}\n{keys}",
        speeds.concat()
    ))
}

fn media() -> &'static [&'static str] {
    words_of(&["ventilation", "fan-behind", "layers", "filter", "media"])
}

fn row(media: &str) -> String {
    let drops = FACE_SPEEDS.map(|speed| format!("{:>9} Pa", digits(typical_drop(media, speed))));
    format!("  {media:<10}{}\n", drops.concat())
}

/// Two significant digits; the values carry no third.
fn digits(value: f64) -> String {
    let rounded: f64 = format!("{value:.1e}").parse().unwrap_or(value);
    format!("{rounded}")
}

/// The materials of walls, with their sources.
pub(super) fn walls() -> String {
    let mut text = "\
Walls, by the `material` a scenario uses

                   density   specific heat   conductivity   expansion
"
    .to_owned();
    for material in WALL_MATERIALS {
        let _ = writeln!(
            text,
            "  {:<13}{:>5} kg/m³{:>8} J/kg/K{:>9} W/m/K{:>9}e-6 /K",
            material.name,
            material.density,
            material.specific_heat,
            material.conductivity,
            material.expansion * 1e6
        );
    }
    let _ = write!(
        text,
        "
`evenglass explain wall NAME` says where the values come from. The outside counts as painted or
of plastic, emissivity {OUTSIDE_EMISSIVITY:.2}, the inside as matt black, {INSIDE_EMISSIVITY:.2}; bare aluminium has about 0.1.
Left out, a wall is 12 mm of plywood, that of a tube 1 mm of steel (common practice, no source).
A material of your own has `density`, `specific_heat` and `conductivity`.
"
    );
    text
}

/// One material of walls, with its source and the keys of a wall.
pub(super) fn wall(name: &str) -> Result<String, Failure> {
    let Some(material) = evenglass_materials::wall::named(name) else {
        let names: Vec<_> = WALL_MATERIALS.iter().map(|material| material.name).collect();
        return Err(unknown_name("wall", name, &names));
    };
    let keys = tables(&Table { title: "`wall` in [telescope]", path: &["telescope", "wall"] });
    Ok(format!(
        "{name}\n\n  density: {} kg/m³\n  specific heat: {} J/kg/K\n  conductivity: {} W/m/K\n  \
         expansion: {}e-6 /K (handbook value, from memory)\n  {}\n\n{keys}",
        material.density,
        material.specific_heat,
        material.conductivity,
        material.expansion * 1e6,
        material.source
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 290 Pa s/m times 0.1 m/s; 8 · 0.6 + 5 · 0.36 = 6.6; both catalogue-type
    /// values from memory, as docs/physics/airflow.md has them.
    #[test]
    fn filters_are_listed_with_drops_of_two_digits_and_their_doubt() {
        let text = filters();
        assert!(text.contains("40 %") && text.contains("from memory"), "{text}");
        assert!(row("hepa-13").contains("29 Pa"), "{text}");
        assert!(row("coarse").trim_end().ends_with("6.6 Pa"), "{text}");
        assert_eq!(media().len(), 5);
        assert!(media().iter().all(|media| text.contains(media)), "{text}");
        assert!(filter("coarse").unwrap().contains("loading"), "with its keys");
        assert!(filter("felt").is_err());
    }

    #[test]
    fn every_wall_tells_its_source() {
        let text = walls();
        for material in WALL_MATERIALS {
            assert!(text.contains(material.name), "{}", material.name);
            assert!(wall(material.name).unwrap().contains(material.source), "{}", material.name);
        }
        assert!(wall("oak").is_err());
    }

    #[test]
    fn a_fan_is_explained_with_its_keys() {
        let text = fan();
        assert!(text.contains("free_flow") && text.contains("start_speed"), "{text}");
    }

    #[test]
    fn every_line_fits_a_terminal() {
        let all = [fan(), filters(), walls(), wall("pvc").unwrap(), filter("coarse").unwrap()];
        for line in all.iter().flat_map(|text| text.lines()) {
            assert!(line.chars().count() <= crate::wrapping::WIDTH, "{line}");
        }
    }
}
