//! Every property of moist air in `tests/references/data/air_checks.csv`.

use evenglass_materials::moist_air::{
    AirProperties, dew_point, humidity_ratio, pressure_at_altitude, properties,
    saturation_pressure_ice, saturation_pressure_water, vapour_pressure,
};
use evenglass_units::{Pressure, Temperature};

#[path = "../../../tests/references/check_table.rs"]
mod check_table;

use check_table::{Check, compare};

fn air(row: &Check) -> AirProperties {
    let temperature = Temperature::from_kelvin(row.input("T"));
    let pressure = Pressure::from_pascals(row.input("p"));
    properties(temperature, pressure, vapour_pressure(temperature, row.input("RH"), pressure))
}

#[test]
fn moist_air_is_that_of_the_property_library() {
    let compared = compare(|row| match row.quantity.as_str() {
        "moist_air_rho" => Some(air(row).density),
        "moist_air_mu" => Some(air(row).viscosity),
        "moist_air_k" => Some(air(row).conductivity),
        "moist_air_cp" => Some(air(row).specific_heat),
        "moist_air_Pr" => Some(air(row).prandtl()),
        _ => None,
    });
    assert_eq!(compared, 35);
}

#[test]
fn humidity_ratio_is_that_of_the_property_library() {
    let compared = compare(|row| {
        (row.quantity == "humidity_ratio").then(|| {
            let temperature = Temperature::from_kelvin(row.input("T"));
            let pressure = Pressure::from_pascals(row.input("p"));
            humidity_ratio(vapour_pressure(temperature, row.input("RH"), pressure), pressure)
        })
    });
    assert_eq!(compared, 6);
}

#[test]
fn saturation_pressures_are_those_of_two_libraries_and_the_paper() {
    let compared = compare(|row| {
        let celsius = |row: &Check| Temperature::from_celsius(row.input("t"));
        match row.quantity.as_str() {
            "psat_water" | "psat_supercooled_water" => {
                Some(saturation_pressure_water(celsius(row)).pascals())
            }
            "psat_ice" => Some(saturation_pressure_ice(celsius(row)).pascals()),
            _ => None,
        }
    });
    assert_eq!(compared, 11);
}

#[test]
fn dew_point_is_that_of_the_psychrometric_library_above_freezing() {
    let compared = compare(|row| {
        (row.quantity == "dew_point")
            .then(|| dew_point(Temperature::from_celsius(row.input("t")), row.input("RH")).kelvin())
    });
    assert_eq!(compared, 3);
}

#[test]
fn pressure_against_height_is_the_standard_atmosphere() {
    let compared = compare(|row| {
        (row.quantity == "pressure_ISA").then(|| pressure_at_altitude(row.input("z")).pascals())
    });
    assert_eq!(compared, 4);
}
