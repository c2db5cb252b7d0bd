//! Our answers to the film correlations of `data/air_checks.csv`.

use std::f64::consts::PI;

use evenglass_convection::array::{Crossflow, NozzleArray, Rows};
use evenglass_convection::jet::RoundJet;
use evenglass_convection::laminar_jet::{self, LaminarJet, plane_distance};
use evenglass_convection::sheet::{Nozzle, Sheet, SheetAir, SheetConstants};
use evenglass_convection::slot::SlotJet;
use evenglass_convection::{duct, facing, free, gap, mixed, plate, wall_jet};

use crate::check_table::Check;

/// Our answer to a row, if it is about a film.
pub(crate) fn film(row: &Check) -> Option<f64> {
    free_convection(row)
        .or_else(|| forced_convection(row))
        .or_else(|| jets(row))
        .or_else(|| laminar_layer(row))
        .or_else(|| sheet(row))
        .or_else(|| combined(row))
}

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

fn jets(row: &Check) -> Option<f64> {
    let reynolds = || row.input("Re");
    let prandtl = || row.input("Pr");
    let field = |rows| Crossflow {
        streamwise: row.input("xn"),
        spanwise: row.input("yn"),
        distance: row.input("z"),
        rows,
    };
    let across = |rows| field(rows).nusselt(reynolds(), prandtl(), row.input("ratio")).value;
    let value = match row.quantity.as_str() {
        "Nu_Martin_ARN" => {
            let (distance, open_share) = (row.input("H/D"), row.input("f"));
            let (reynolds, prandtl) = (reynolds(), prandtl());
            NozzleArray { reynolds, prandtl, distance, open_share }.mean().value
        }
        "Nu_Martin_SSN" => {
            let (reynolds, prandtl, distance) = (reynolds(), prandtl(), row.input("H/S"));
            SlotJet { reynolds, prandtl, distance }.mean(row.input("x/S")).value
        }
        "Nu_Florschuetz_inline" => across(Rows::Inline),
        "Nu_Florschuetz_staggered" => across(Rows::Staggered),
        "GcGj_Florschuetz" => {
            let (spanwise, distance) = (row.input("yn"), row.input("z"));
            let field = Crossflow { streamwise: 5.0, spanwise, distance, rows: Rows::Inline };
            field.mass_ratio_at(row.input("row"), row.input("Cd"))
        }
        "Nu_stag_Hoogendoorn" => {
            facing::jet_stagnation(reynolds(), prandtl(), row.input("Tu")).value
        }
        "Nu_disk_facing_SparrowGeiger" => facing::disc(reynolds(), prandtl()).value,
        _ => return None,
    };
    Some(value)
}

fn laminar_layer(row: &Check) -> Option<f64> {
    let value = match row.quantity.as_str() {
        "Glauert_fmax" => laminar_jet::PEAK,
        "SchwarzCaswell_B" => laminar_jet::beta_with_third(row.input("Pr")),
        "Glauert_um" => {
            let (speed, thickness) = (row.input("U"), row.input("s"));
            let jet = LaminarJet { speed, thickness, kinematic_viscosity: row.input("nu") };
            laminar_jet::far_peak_speed(&jet, row.input("x"))
        }
        "Nu_x_walljet_lam" => {
            let reynolds = row.input("um") * row.input("x") / row.input("nu");
            laminar_jet::far_nusselt(reynolds, row.input("Pr")).value
        }
        "Mangler_xbar" => plane_distance(row.input("R"), row.input("x")),
        "h_front_lam_core" => {
            let (radius, distance, air) = (row.input("R"), row.input("x"), air(row));
            // So thick a jet that its core never ends.
            let (speed, thickness) = (row.input("U"), 10.0);
            let kinematic_viscosity = air.kinematic_viscosity;
            let jet = LaminarJet { speed, thickness, kinematic_viscosity };
            let plane = plane_distance(radius, distance);
            (1.0 - distance / radius) * jet.film(plane, air.conductivity, air.prandtl())
        }
        _ => return None,
    };
    Some(value)
}

fn air(row: &Check) -> SheetAir {
    SheetAir {
        density: row.input("rho"),
        specific_heat: row.input("cp"),
        conductivity: row.input("k"),
        kinematic_viscosity: row.input("nu"),
    }
}

fn sheet(row: &Check) -> Option<f64> {
    if !row.quantity.starts_with("front_") {
        return None;
    }
    let (radius, flow) = (row.input("R"), row.input("Q"));
    let nozzle = Nozzle {
        radius,
        slot: flow / (2.0 * PI * radius * row.input("U")),
        flow,
        contraction: 1.0,
        turbulence: 0.02,
        lip_height: 0.0,
        glass_radius: radius,
        inner_radius: 0.0,
    };
    let constants = SheetConstants { lip_cut: Some(row.input("cut")), ..SheetConstants::default() };
    let sheet = Sheet::solve(&nozzle, &air(row), &constants);
    let value = match row.quantity.as_str() {
        "front_hmean" => {
            let rings = 4000;
            let film =
                |i: i32| sheet.film(radius * ((f64::from(i) + 0.5) / f64::from(rings)).sqrt());
            (0..rings).map(film).sum::<f64>() / f64::from(rings)
        }
        "front_h_0.5R" => sheet.film(0.5 * radius),
        "front_column_d" => 2.0 * sheet.column_radius,
        "front_u_c" => sheet.column_speed,
        "front_q_c" => sheet.column_flow,
        "front_x_tr" => radius - sheet.transition_radius?,
        _ => return None,
    };
    Some(value)
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
