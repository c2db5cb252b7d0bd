//! The plate's balance against balances worked apart, its bound and its steps.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use evenglass_convection::mass;
use evenglass_materials::moist_air::{
    dew_point, frost_point, lewis_number, properties, vapour_density, vapour_pressure,
    wetting_point,
};
use evenglass_materials::sky;
use evenglass_units::{Pressure, Temperature};

use super::balance::{Balance, State};
use super::site::Surrounding;
use crate::dew::remedy::film_needed;

#[path = "../../../../tests/references/check_table.rs"]
#[allow(
    dead_code,
    clippy::duplicate_mod,
    reason = "one reader of tables for all tests, each of which uses a part of it"
)]
mod check_table;

use check_table::{Check, rows_of};

const TABLE: &str = include_str!("../../../../tests/references/data/dew_checks.csv");

fn air(row: &Check) -> Temperature {
    Temperature::from_celsius(row.input("Ta"))
}

fn dew(row: &Check) -> Temperature {
    dew_point(air(row), row.input("RH"))
}

/// Dry air of a temperature around a face with a film, under nothing.
fn around(kelvin: f64, forced: f64) -> Surrounding {
    Surrounding {
        air: kelvin,
        forced,
        face_radiant: kelvin.powi(4),
        back_radiant: kelvin.powi(4),
        vapour: f64::NAN,
        wetting: f64::NAN,
        pressure: 101_325.0,
        heater: 0.0,
    }
}

/// Steady dips below the air, worked apart with a root finder.
#[test]
fn radiation_to_the_sky_cools_a_plate_as_worked_apart() {
    let mut compared = 0;
    for row in rows_of(TABLE).iter().filter(|row| row.quantity == "radiative_dip") {
        let kelvin = air(row).kelvin();
        let clear = sky::clear_emissivity(dew(row), Pressure::from_pascals(1e5), 0.0);
        let share = row.input("F");
        let film = 0.5 * (row.input("hf") + row.input("hb"));
        let balance = Balance::thin([1.0; 2], [0.0, row.input("eps")], 1e4);
        let seen = (share * clear + 1.0 - share) * kelvin.powi(4);
        let there = Surrounding { back_radiant: seen, ..around(kelvin, film) };
        let dip = balance.settled(&there)[0] - kelvin;
        // The row's dew point stops within 1 mK of the root; so does its sky.
        assert_abs_diff_eq!(dip, row.value, epsilon = 2e-4 * row.value.abs());
        compared += 1;
    }
    assert_eq!(compared, 6);
}

/// Y. A. Çengel, *Heat Transfer*, exercise 11-60 as its published solution has it: water of
/// emissivity 0.95 just freezes, at 0 °C, in air of 4 °C with a film of 18 W/m²K under a sky of
/// 254.8 K.
#[test]
fn water_freezes_above_zero_as_a_textbook_has_it() {
    let balance = Balance::thin([1.0, 1.0], [0.0, 0.95], 1e4);
    let there = Surrounding { back_radiant: 254.8_f64.powi(4), ..around(277.0, 9.0) };
    // The book takes 273 K for 0 °C, and prints the sky to a tenth: 0.06 K of the surface.
    let found = Balance::settled(&balance, &there)[0];
    assert_abs_diff_eq!(found, 273.0, epsilon = 0.03);
}

#[test]
fn dew_forms_and_warms_as_worked_apart() {
    let mut compared = 0;
    for row in rows_of(TABLE) {
        if !["condensation_rate", "latent_flux"].contains(&row.quantity.as_str()) {
            continue;
        }
        let pressure = Pressure::from_pascals(101_325.0);
        let vapour = vapour_pressure(air(&row), row.input("RH"), pressure);
        let properties = properties(air(&row), pressure, vapour);
        let volume_heat = properties.density * properties.specific_heat;
        let carried =
            mass::coefficient(1.0, volume_heat, lewis_number(&properties, pressure)).value;
        let balance = Balance::thin([1.0; 2], [0.0; 2], 1e4).carrying(carried);
        let there = Surrounding {
            vapour: vapour_density(vapour, air(&row)),
            wetting: wetting_point(dew(&row)).kelvin(),
            ..around(air(&row).kelvin(), row.input("h"))
        };
        let surface = Temperature::from_celsius(row.input("Ts")).kelvin();
        let (growth, heat) = balance.condensing(surface, &there);
        // The rows leave out by how much air raises the pressure of vapour, 0.4 to 0.5 %, and
        // take the latent heat of 10 °C for the surface's, 0.3 % less.
        let (ours, apart) =
            if row.quantity == "latent_flux" { (heat, 8e-3) } else { (3.6e6 * growth, 5e-3) };
        assert_relative_eq!(ours, row.value, max_relative = row.tolerance + apart);
        compared += 1;
    }
    assert_eq!(compared, 6);
}

#[test]
fn the_film_that_keeps_a_face_dry_is_that_worked_apart() {
    let mut compared = 0;
    for row in rows_of(TABLE).iter().filter(|row| row.quantity == "needed_film") {
        let room = (air(row) - dew(row)).kelvins();
        let ours = film_needed(row.input("q"), room, 0.0).unwrap();
        assert_relative_eq!(ours, row.value, max_relative = row.tolerance);
        compared += 1;
    }
    assert_eq!(compared, 6);
}

/// Whatever cools the back, the plate never falls below the coldest of what it meets.
#[test]
fn the_plate_never_falls_below_what_it_radiates_to() {
    for (forced, sky) in [(0.0, 220.0_f64), (2.0, 255.0), (30.0, 240.0)] {
        let balance = Balance::thin([1.0, 0.8], [0.04, 0.9], 500.0);
        let there = Surrounding { back_radiant: sky.powi(4), ..around(283.0, forced) };
        let mut state = State { kelvin: [290.0; 2], film: [0.0; 2] };
        // Even with steps as long as its own time constant, of which a night takes five.
        for _ in 0..400 {
            let step = balance.time_constant(&state, &there);
            state = balance.step(&state, (&there, &there), step).0;
            assert!(state.kelvin.iter().all(|kelvin| *kelvin > sky), "{state:?} under {sky}");
        }
        let settled = balance.settled(&there);
        assert_abs_diff_eq!(state.kelvin[0], settled[0], epsilon = 1e-3);
    }
}

#[test]
fn halving_the_step_quarters_the_error() {
    let balance = Balance::thin([1.0, 0.8], [0.04, 0.9], 9e3);
    let start = around(288.0, 6.0);
    let end = Surrounding { air: 284.0, forced: 9.0, back_radiant: 250.0_f64.powi(4), ..start };
    let run = |steps: u32| {
        let mut state = State { kelvin: [288.0; 2], film: [0.0; 2] };
        let share = |step: u32| f64::from(step) / f64::from(steps);
        for step in 0..steps {
            let ends = [step, step + 1].map(|step| start.towards(&end, share(step)));
            state = balance.step(&state, (&ends[0], &ends[1]), 3600.0 / f64::from(steps)).0;
        }
        state.kelvin[0]
    };
    let exact = run(4096);
    let errors = [16, 32, 64].map(|steps| (run(steps) - exact).abs());
    for pair in errors.windows(2) {
        let order = (pair[0] / pair[1]).log2();
        assert!(order > 1.8, "order {order}, errors {errors:?}");
    }
}

/// Below 0 °C frost is told: it begins at the frost point, above the dew point.
#[test]
fn frost_forms_where_dew_would_not_yet() {
    let air = Temperature::from_celsius(-3.0);
    let (dew, frost) = (dew_point(air, 0.9), frost_point(air, 0.9));
    let between = 0.5 * (dew.kelvin() + frost.kelvin());
    let pressure = Pressure::from_pascals(101_325.0);
    let vapour = vapour_pressure(air, 0.9, pressure);
    let balance = Balance::thin([1.0; 2], [0.0; 2], 1e4).carrying(8e-4);
    let there = Surrounding {
        vapour: vapour_density(vapour, Temperature::from_kelvin(between)),
        wetting: wetting_point(dew).kelvin(),
        ..around(air.kelvin(), 5.0)
    };
    let (growth, heat) = balance.condensing(between, &there);
    assert!(growth > 0.0, "{growth}");
    // Sublimation, not condensation.
    assert_relative_eq!(heat / growth, 2.835e6, max_relative = 1e-3);
}
