//! Air properties and film correlations beside `data/air_checks.csv`.

use evenglass_materials::moist_air::{
    AirProperties, dew_point, humidity_ratio, pressure_at_altitude, properties,
    saturation_pressure_ice, saturation_pressure_water, vapour_pressure,
};
use evenglass_units::{Pressure, Temperature};

use crate::check_table::{Check, rows};
use crate::film_checks::film;
use crate::page::Comparison;

/// Quantities of the table and what they are, in words, in the order of the page.
const QUANTITIES: [(&str, &str); 50] = [
    ("moist_air_rho", "density of moist air [kg m⁻³]"),
    ("moist_air_mu", "viscosity of moist air [Pa s]"),
    ("moist_air_k", "conductivity of moist air [W m⁻¹ K⁻¹]"),
    ("moist_air_cp", "specific heat of moist air [J kg⁻¹ K⁻¹]"),
    ("moist_air_Pr", "Prandtl number of moist air"),
    ("humidity_ratio", "vapour per dry air [kg/kg]"),
    ("psat_water", "saturation pressure over water [Pa]"),
    ("psat_supercooled_water", "saturation pressure over supercooled water [Pa]"),
    ("psat_ice", "saturation pressure over ice [Pa]"),
    ("dew_point", "dew point [K]"),
    ("pressure_ISA", "pressure of the standard atmosphere [Pa]"),
    ("Nu_up_RaithbyHollands_nofloor", "horizontal plate, unstable (C-1): Nu"),
    ("Nu_down_RaithbyHollands_nofloor", "horizontal plate, stable (C-2): Nu"),
    ("Nu_vertical_ChurchillChu", "vertical plate (C-3): Nu"),
    ("Nu_up_disc_with_floor", "disc, unstable, with conduction (C-4): Nu"),
    ("Nu_down_disc_with_floor", "disc, stable, with conduction (C-4): Nu"),
    ("Nu_up_McAdams", "horizontal plate, unstable (C-6): Nu"),
    ("Nu_down_McAdams", "horizontal plate, stable (C-7): Nu"),
    ("Nu_up_VDI_F2_corrected", "horizontal plate, unstable (C-8): Nu"),
    ("Nu_gap_Hollands", "closed gap heated from below (C-10): Nu"),
    ("Nu_Martin_SRN_avg", "round jet, mean over a disc (C-11): Nu"),
    ("Nu_Martin_SRN_local", "round jet, local (C-12): Nu"),
    ("U_ratio_wall_jet", "speed along the wall (C-13): u/U"),
    ("Um_Poreh", "speed along the wall (C-14) [m s⁻¹]"),
    ("Nu_gap_flow", "flow through a gap (C-18): Nu"),
    ("Nu_turb_Gnielinski", "turbulent duct flow (C-19): Nu"),
    ("Nu_inclined_plate_SparrowTien", "wind oblique to a plate (C-22): Nu"),
    ("Nu_plate_lam_ChurchillOzoe_mean", "laminar wind along a plate (C-23): Nu"),
    ("Nu_plate_mean_Gnielinski", "wind along a plate (C-24): Nu"),
    ("churchill_mix", "two mechanisms at one place (C-25, C-26) [W m⁻² K⁻¹]"),
    ("rim_series_U", "film behind a layer (C-28) [W m⁻² K⁻¹]"),
    ("Mangler_xbar", "converging layer, way along a plane (C-29) [m]"),
    ("h_front_lam_core", "sheet, laminar, its core (C-31) [W m⁻² K⁻¹]"),
    ("Glauert_fmax", "far laminar wall jet, peak of the profile (C-35)"),
    ("Glauert_um", "far laminar wall jet, peak speed (C-35) [m s⁻¹]"),
    ("SchwarzCaswell_B", "far laminar wall jet, B(1/3, Pr) (C-36)"),
    ("Nu_x_walljet_lam", "far laminar wall jet (C-36): Nu"),
    ("front_hmean", "sheet, mean film, two programs (C-38) [W m⁻² K⁻¹]"),
    ("front_h_0.5R", "sheet, film at half the radius, two programs (C-38) [W m⁻² K⁻¹]"),
    ("front_x_tr", "sheet, start of transition, two programs (C-39) [m]"),
    ("front_q_c", "sheet, flow of the column, two programs (C-41) [m³ s⁻¹]"),
    ("front_u_c", "sheet, speed where it turns up, two programs (C-42) [m s⁻¹]"),
    ("front_column_d", "sheet, diameter of the column, two programs (C-43) [m]"),
    ("Nu_Martin_ARN", "many round jets (C-48): Nu"),
    ("Nu_Florschuetz_inline", "jets across spent air, in line (C-49): Nu"),
    ("Nu_Florschuetz_staggered", "jets across spent air, staggered (C-49): Nu"),
    ("GcGj_Florschuetz", "spent air over jets in a row (C-51)"),
    ("Nu_Martin_SSN", "jet from a slot (C-54): Nu"),
    ("Nu_disk_facing_SparrowGeiger", "disc facing a stream (C-61): Nu"),
    ("Nu_stag_Hoogendoorn", "stagnation of a turbulent jet (C-62): Nu"),
];

fn air(row: &Check) -> AirProperties {
    let temperature = Temperature::from_kelvin(row.input("T"));
    let pressure = Pressure::from_pascals(row.input("p"));
    properties(temperature, pressure, vapour_pressure(temperature, row.input("RH"), pressure))
}

fn moist_air(row: &Check) -> Option<f64> {
    let celsius = || Temperature::from_celsius(row.input("t"));
    let value = match row.quantity.as_str() {
        "moist_air_rho" => air(row).density,
        "moist_air_mu" => air(row).viscosity,
        "moist_air_k" => air(row).conductivity,
        "moist_air_cp" => air(row).specific_heat,
        "moist_air_Pr" => air(row).prandtl(),
        "humidity_ratio" => {
            let temperature = Temperature::from_kelvin(row.input("T"));
            let pressure = Pressure::from_pascals(row.input("p"));
            humidity_ratio(vapour_pressure(temperature, row.input("RH"), pressure), pressure)
        }
        "psat_water" | "psat_supercooled_water" => saturation_pressure_water(celsius()).pascals(),
        "psat_ice" => saturation_pressure_ice(celsius()).pascals(),
        "dew_point" => dew_point(celsius(), row.input("RH")).kelvin(),
        "pressure_ISA" => pressure_at_altitude(row.input("z")).pascals(),
        _ => return None,
    };
    Some(value)
}

/// Six digits, as the table has them.
fn digits(value: f64) -> String {
    let exponent = value.abs().max(f64::MIN_POSITIVE).log10().floor();
    if !(-4.0..6.0).contains(&exponent) {
        return format!("{value:.5e}");
    }
    let places = (5.0 - exponent).clamp(0.0, 9.0);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 9")]
    let places = places as usize;
    format!("{value:.places$}")
}

fn comparison(row: Check, words: &str) -> Comparison {
    let ours = moist_air(&row)
        .or_else(|| film(&row))
        .unwrap_or_else(|| panic!("`{}` is not computed", row.quantity));
    Comparison {
        quantity: words.to_owned(),
        published: digits(row.value),
        ours: digits(ours),
        gap: 100.0 * (ours - row.value) / row.value,
        // Rows have six digits: half a unit of the last where the tolerance is tighter.
        allowed: 100.0 * row.tolerance.max(5e-6),
        fine: None,
        unit: "%",
        inputs: row.inputs.replace(' ', ", "),
        source: row.source,
    }
}

/// Every row of the table that has a public function.
pub(crate) fn compared() -> Vec<Comparison> {
    let mut compared = vec![];
    for (quantity, words) in QUANTITIES {
        let rows = rows().into_iter().filter(|row| row.quantity == quantity);
        compared.extend(rows.map(|row| comparison(row, words)));
    }
    compared
}

#[test]
fn every_row_of_the_table_is_on_the_page_but_still_air_on_a_disc() {
    let elsewhere = rows().iter().filter(|row| row.quantity == "h_nat_disc").count();
    assert_eq!(compared().len() + elsewhere, rows().len());
}
