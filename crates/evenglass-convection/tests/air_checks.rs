//! Every film correlation in `tests/references/data/air_checks.csv`.

use evenglass_convection::jet::RoundJet;
use evenglass_convection::{duct, free, gap, mixed, plate, wall_jet};

#[path = "../../../tests/references/check_table.rs"]
mod check_table;

use check_table::{Check, compare, rows};

fn free_convection(row: &Check) -> Option<f64> {
    let rayleigh = || row.input("Ra");
    let prandtl = || row.input("Pr");
    let value = match row.quantity.as_str() {
        "Nu_up_McAdams" => free::unstable_horizontal_mcadams(rayleigh()).value,
        "Nu_down_McAdams" => free::stable_horizontal_mcadams(rayleigh()).value,
        "Nu_up_RaithbyHollands_nofloor" => free::unstable_horizontal(rayleigh(), prandtl()).value,
        "Nu_down_RaithbyHollands_nofloor" => free::stable_horizontal(rayleigh(), prandtl()).value,
        "Nu_up_disc_with_floor" => {
            free::with_disc_conduction(free::unstable_horizontal(rayleigh(), prandtl()).value)
        }
        "Nu_down_disc_with_floor" => {
            free::with_disc_conduction(free::stable_horizontal(rayleigh(), prandtl()).value)
        }
        "Nu_up_VDI_F2_corrected" => free::unstable_horizontal_vdi(rayleigh(), prandtl()).value,
        "Nu_vertical_ChurchillChu" => free::vertical_plate(rayleigh(), prandtl()).value,
        "Nu_gap_Hollands" => {
            gap::heated_from_below(rayleigh(), row.input("tilt").to_radians()).value
        }
        _ => return None,
    };
    Some(value)
}

#[test]
fn free_convection_gives_the_published_and_library_values() {
    assert_eq!(compare(free_convection), 32);
}

fn forced_convection(row: &Check) -> Option<f64> {
    let reynolds = || row.input("Re");
    let prandtl = || row.input("Pr");
    let jet = || RoundJet { reynolds: reynolds(), prandtl: prandtl(), distance: row.input("H/D") };
    let value = match row.quantity.as_str() {
        "Nu_Martin_SRN_avg" => jet().mean(row.input("r/D")).value,
        "Nu_Martin_SRN_local" => jet().local(row.input("r/D")).value,
        "U_ratio_wall_jet" => wall_jet::free_peak_speed(row.input("r/D")).value,
        "Um_Poreh" => {
            let (speed, diameter) = (row.input("U"), row.input("D"));
            wall_jet::free_peak_speed_poreh(speed, diameter, row.input("H"), row.input("r")).value
        }
        "Nu_plate_lam_ChurchillOzoe_mean" => plate::parallel_laminar(reynolds(), prandtl()).value,
        "Nu_plate_mean_Gnielinski" => plate::parallel(reynolds(), prandtl()).value,
        "Nu_inclined_plate_SparrowTien" => plate::oblique(reynolds(), prandtl()).value,
        "Nu_gap_flow" => {
            let diameter_over_length = row.input("Dh") / row.input("L");
            duct::gap_flow(reynolds(), prandtl(), diameter_over_length).value
        }
        "Nu_turb_Gnielinski" => duct::turbulent(reynolds(), prandtl(), row.input("fd")).value,
        _ => return None,
    };
    Some(value)
}

#[test]
fn forced_convection_gives_the_published_and_library_values() {
    assert_eq!(compare(forced_convection), 21);
}

fn combined(row: &Check) -> Option<f64> {
    let value = match row.quantity.as_str() {
        "churchill_mix" if row.input("mode") > 0.0 => {
            mixed::assisting(row.input("hF"), row.input("hN"))
        }
        "churchill_mix" => mixed::opposing(row.input("hF"), row.input("hN")),
        "rim_series_U" => mixed::behind_layer(row.input("h"), row.input("t"), row.input("k")),
        _ => return None,
    };
    Some(value)
}

#[test]
fn combined_mechanisms_give_the_published_values() {
    assert_eq!(compare(combined), 3);
}

#[test]
fn no_row_of_the_table_goes_untested() {
    // The first are compared in evenglass-materials, the last in evenglass-simulation.
    let elsewhere =
        ["moist_air_", "humidity_ratio", "psat_", "dew_point", "pressure_ISA", "h_nat_disc"];
    for row in rows() {
        let here = free_convection(&row).is_some()
            || forced_convection(&row).is_some()
            || combined(&row).is_some();
        let there = elsewhere.iter().any(|start| row.quantity.starts_with(start));
        assert!(here || there, "{} {}", row.quantity, row.inputs);
    }
}
