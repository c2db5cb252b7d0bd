//! The glasses, as the materials crate holds them.

use evenglass_materials::glass::{Property, describe, names};

use super::unknown_name;
use crate::failure::Failure;

/// All glasses, with the properties that decide how they cool and bend.
pub(super) fn list() -> String {
    let names = names().join("\n  ");
    format!(
        "\
Glasses, by the name a scenario uses

  {names}

`evenglass explain glass NAME` gives the values and where they come from. A mirror can be
weighed to tell its glass by density; a scenario can give constants of its own instead:

  glass = {{ density = \"2500 kg/m3\", specific_heat = \"720 J/kg/K\", conductivity = \"1.0 W/m/K\",
            expansion = \"9.0e-6 /K\", youngs_modulus = \"70 GPa\", poisson_ratio = 0.22,
            emissivity = 0.84 }}
"
    )
}

/// One glass: each value with its spread and its source.
pub(super) fn one(name: &str) -> Result<String, Failure> {
    let properties = describe(name).ok_or_else(|| unknown_name("glass", name, names()))?;
    let told: Vec<String> = properties.iter().map(tell).collect();
    Ok(format!("{name}, near 10 °C\n\n{}", told.join("\n")))
}

fn tell(property: &Property) -> String {
    let Property { name, unit, source, .. } = property;
    let [value, low, high] = [property.value, property.low, property.high].map(plain);
    let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
    format!("  {name}: {value}{unit} ({low} to {high})\n    {source}\n")
}

/// Four significant digits, which is more than any of the sources carries.
fn plain(value: f64) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    let magnitude = value.abs().log10().floor();
    let decimals = (3.0 - magnitude).clamp(0.0, 12.0);
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "clamped to 0..12 in the line above"
    )]
    let text = format!("{value:.*}", decimals as usize);
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_are_shown_with_four_digits_and_no_idle_zeros() {
        assert_eq!(plain(2500.0), "2500");
        assert_eq!(plain(0.837), "0.837");
        assert_eq!(plain(1.0 / 3.0), "0.3333");
        assert_eq!(plain(0.0), "0");
        assert_eq!(plain(7.9e-6), "0.0000079");
    }

    #[test]
    fn every_glass_tells_of_every_source() {
        for name in names() {
            let text = one(name).unwrap();
            for property in describe(name).unwrap() {
                assert!(text.contains(property.source), "{name}: {}", property.name);
            }
        }
    }
}
