//! What tubes and mirror boxes are made of.

/// A material of walls, as a maker buys it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WallMaterial {
    /// Name in scenario files.
    pub name: &'static str,
    /// Mass per volume [kg m⁻³].
    pub density: f64,
    /// Heat per mass and kelvin [J kg⁻¹ K⁻¹].
    pub specific_heat: f64,
    /// Conductivity through the wall [W m⁻¹ K⁻¹].
    pub conductivity: f64,
    /// Linear expansion along the wall [K⁻¹]: handbook values, from memory; those of wood and
    /// of laid fibres depend on how they lie, by a factor of two.
    pub expansion: f64,
    /// Where the values come from.
    pub source: &'static str,
}

/// Emissivity of the outside of a wall unless said otherwise [-]: paint, varnished wood,
/// cardboard and plastics lie between 0.85 and 0.95 (handbook value, from memory). Bare
/// sheet metal does not: about 0.1 for aluminium, 0.3 for galvanised steel.
pub const OUTSIDE_EMISSIVITY: f64 = 0.90;

/// Emissivity of the inside unless said otherwise [-]: matt black paint (handbook value,
/// from memory).
pub const INSIDE_EMISSIVITY: f64 = 0.95;

const STANDARD: &str = "EN ISO 10456 and its forerunner EN 12524, design values, from memory";
const HANDBOOK: &str = "handbook values, from memory";

const fn row(
    name: &'static str,
    [density, specific_heat, conductivity]: [f64; 3],
    expansion: f64,
    source: &'static str,
) -> WallMaterial {
    WallMaterial { name, density, specific_heat, conductivity, expansion, source }
}

/// The named materials.
///
/// Plywood is the standard's line between 500 and 700 kg/m³, taken at 600. The
/// conductivity of laid fibres is that across them, in resin.
pub const WALL_MATERIALS: &[WallMaterial] = &[
    row("plywood", [600.0, 1600.0, 0.15], 6e-6, STANDARD),
    row("aluminium", [2800.0, 880.0, 160.0], 23e-6, STANDARD),
    row("steel", [7800.0, 450.0, 50.0], 12e-6, STANDARD),
    row("cardboard", [700.0, 1400.0, 0.17], 10e-6, HANDBOOK),
    row("glass-fibre", [1900.0, 1000.0, 0.40], 18e-6, HANDBOOK),
    row("carbon-fibre", [1550.0, 900.0, 0.70], 1e-6, HANDBOOK),
    row("pvc", [1390.0, 900.0, 0.17], 70e-6, STANDARD),
    row("foam-board", [35.0, 1450.0, 0.034], 40e-6, STANDARD),
];

/// The material of a name.
#[must_use]
pub fn named(name: &str) -> Option<&'static WallMaterial> {
    WALL_MATERIALS.iter().find(|material| material.name == name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_material_is_found_by_its_name_and_by_no_other() {
        assert!(named("plywood").is_some());
        assert!(named("Plywood").is_none());
        assert!(named("oak").is_none());
    }

    /// Heat per volume and kelvin of solids lies between 1 and 4 MJ/m³K, an old rule that
    /// holds for everything but foams (Dulong and Petit's law, by volume).
    #[test]
    fn every_solid_stores_what_solids_store() {
        for material in WALL_MATERIALS.iter().filter(|material| material.name != "foam-board") {
            let stored = material.density * material.specific_heat;
            assert!((0.9e6..4e6).contains(&stored), "{}: {stored} J/m3K", material.name);
        }
    }

    #[test]
    fn metals_conduct_and_foams_insulate() {
        let of = |name: &str| named(name).unwrap().conductivity;
        assert!(of("aluminium") > of("steel") && of("steel") > 10.0);
        let least = WALL_MATERIALS.iter().map(|m| m.conductivity).fold(f64::INFINITY, f64::min);
        assert!((of("foam-board") - least).abs() < 1e-12, "something insulates better than foam");
    }
}
